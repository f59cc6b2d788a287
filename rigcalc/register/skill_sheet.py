"""The certificate's second sheet: each skill in its sentence, and beside it what was seen of it in writing and by hand."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, field

from rigcalc.pages import escape

__all__ = ["Skills", "skills_of", "skill_sheet"]

WRITTEN, HANDS = "in writing", "by hand"
# How a line of `not_shown` begins that lists skills, and what it says of each.
_LISTED = re.compile(r"(asked in writing,? |by hand, |must be right by the skill map, and )([^:]+): (?=\d+ )")
# What is said in writing of a skill that no question counted for: right in neither way.
_UNCOUNTED = ("in a question that was struck", "not asked")
_MUST = "must be right by the skill map, and "
_WHERE = {"asked in writing, ": WRITTEN, "asked in writing ": WRITTEN, "by hand, ": HANDS}
_MANY, _LINE = 64, 60  # lines in 10 points that one sheet of Letter holds, and letters of a line, found by printing


@dataclass
class Skills:
    """What a statement says of single skills: for each its state in writing and by hand; the lines that list none; groups as (words, numbers)."""

    states: dict[str, dict[str, str]] = field(default_factory=dict)
    others: list[str] = field(default_factory=list)
    groups: dict[str, list[str]] = field(default_factory=dict)

    def add(self, name: str, where: str, state: str) -> None:
        self.states.setdefault(name, {})[where] = state

    @property
    def rows(self) -> list[tuple[str, str, dict[str, str]]]:
        """Number, sentence and states of each skill, in the order of the map."""
        split = [(*re.fullmatch(r"(?:(\d+) )?(.*)", name, re.S).groups(""), states) for name, states in self.states.items()]
        return sorted(split, key=lambda row: (not row[0], int(row[0] or 0)))


def skills_of(says: dict) -> Skills:
    """The skills of a statement, from its own signed words alone."""
    found = Skills()
    for part, where, state in (("written", WRITTEN, "right"), ("bench", HANDS, "shown")):
        for name in says[part]["skills"]:
            found.add(name, where, state)
    for line in says["not_shown"]:
        listed = _LISTED.match(line)
        if listed is None:
            found.others.append(line)
            continue
        names = re.split(r"; (?=\d+ )", line[listed.end():])
        for name in names:
            if listed[1] != _MUST:
                found.add(name, _WHERE[listed[1]], listed[2])
            elif WRITTEN not in found.states.get(name, {}):  # asked, though not as one that must be right: what was answered says more
                found.add(name, WRITTEN, "not asked")
        found.groups.setdefault(line[:listed.end() - 2], []).extend(name.partition(" ")[0] for name in names)
    return found


def skill_sheet(says: dict, found: Skills, state: str = "") -> str:
    """The second sheet as HTML; empty where the statement names no skill. `state` is what its heading says of a certificate that is not in force, or shaken."""
    rows = "".join(f"<tr><td>{number}</td><td>{escape(words)}</td><td>{escape(states.get(WRITTEN, 'not asked'))}</td>"
                   f"<td>{escape(states.get(HANDS, 'not watched'))}</td></tr>" for number, words, states in found.rows)
    if not rows:
        return ""
    both = [number for number, _, states in found.rows if number and {states.get(WRITTEN) == "right", states.get(HANDS) == "shown"} == {True, False}
            and len(states) == 2 and states[WRITTEN] not in _UNCOUNTED]
    told = ("A skill can be asked in writing and watched by hand; each is judged by itself. By hand, shown means that the lines of the bench form under "
            "a skill were seen right, that day and on that piece: a sentence can say more than they do.")
    if both:
        told += f" Right in one way and not in the other: skill{'s' if len(both) > 1 else ''} {', '.join(both)}."
    lines = sum(math.ceil(len(words) / _LINE) for _, words, _ in found.rows)
    small = " many" if lines > _MANY else ""
    return (f'<section class="skills{small}"><h2>Skill by skill: {escape(says["person"]["name"])}, certificate {escape(says["number"])}{escape(f" · {state}") if state else ""}</h2>'
            f"<p>{told}</p><table><thead><tr><th>No.</th><th>Skill</th><th>In writing</th><th>By hand</th></tr></thead>"
            f"<tbody>{rows}</tbody></table></section>")
