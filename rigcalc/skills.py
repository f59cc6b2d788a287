"""The skill map: what a person must be able to do, where it is taught, asked and shown, and what is still owed.

One file, quizzes/skills.toml, holds the map. A skill is one observable sentence.
"""

from __future__ import annotations

import re
import tomllib
from difflib import get_close_matches
from functools import lru_cache
from pathlib import Path

from rigcalc._records import record
from rigcalc.errors import Refusal
from rigcalc.home import installed_folder

__all__ = ["Skill", "faults", "frame", "heading", "load_skills", "no_such_skill", "owed_sections", "skill", "skills_file",
           "where_words"]

_FIELDS = {"id", "number", "sentence", "flags", "lesson", "sections", "families", "checkpoints", "owed",
           "must_be_right", "weight"}


@record
class Skill:
    """One skill.

    `flags` holds C (critical: fails alone), H (shown by hand), W (asked in writing). `sections` are places in
    lessons ("05#the-tail"), `families` question families, `checkpoints` places in bench tasks ("T1#tail-before"),
    `owed` what is not built yet: sections, "a family" or "a checkpoint".
    """

    id: str
    number: int
    sentence: str
    flags: str
    lesson: str
    sections: tuple[str, ...] = ()
    families: tuple[str, ...] = ()
    checkpoints: tuple[str, ...] = ()
    owed: tuple[str, ...] = ()
    must_be_right: bool = False
    weight: float = 1.0

    @property
    def critical(self) -> bool:
        """Whether missing it fails alone."""
        return "C" in self.flags

    @property
    def by_hand(self) -> bool:
        """Whether it is shown at the bench."""
        return "H" in self.flags

    @property
    def written(self) -> bool:
        """Whether it is asked in writing."""
        return "W" in self.flags


def skills_file() -> Path:
    """The spine file that ships."""
    return installed_folder() / "quizzes" / "skills.toml"


def _skill(block: dict, number: int, name: str) -> Skill:
    strange = sorted(set(block) - _FIELDS)
    if strange:
        raise Refusal(f"{name}, skill block {number}: the field '{strange[0]}'", ", ".join(sorted(_FIELDS)),
                      "remove or rename it")
    missing = [field for field in ("id", "number", "sentence", "flags", "lesson") if not block.get(field)]
    if missing:
        raise Refusal(f"{name}, skill block {number}: no '{missing[0]}'", "id, number, sentence, flags and lesson",
                      "add it")
    lists = {field: tuple(block.get(field, ())) for field in ("sections", "families", "checkpoints", "owed")}
    return Skill(**{**block, **lists})


@lru_cache(maxsize=8)
def _parsed(path: Path, changed: int) -> dict:
    try:
        return tomllib.loads(path.read_text(encoding="utf-8"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as wrong:
        raise Refusal(f"{path.name}: text that is no TOML ({wrong})", "a TOML file", "mend that line") from None


def _file(path: str | Path | None) -> tuple[Path, int]:
    """A map's file, the one that ships where none is named, and when it was changed."""
    path = Path(path) if path else skills_file()
    return path, path.stat().st_mtime_ns


@lru_cache(maxsize=8)
def _read(path: Path, changed: int) -> dict[str, Skill]:
    found: dict[str, Skill] = {}
    for number, block in enumerate(_parsed(path, changed).get("skill", []), start=1):
        one = _skill(block, number, path.name)
        if one.id in found or one.number in [other.number for other in found.values()]:
            raise Refusal(f"{path.name}: the skill '{one.id}' twice", "each skill once", "remove one of the two")
        found[one.id] = one
    return found


def load_skills(path: Path | None = None) -> dict[str, Skill]:
    """Every skill of the map by its id, in the file's order."""
    return dict(_read(*_file(path)))


def frame(path: Path | None = None) -> tuple[str, ...]:
    """Sections and checkpoints that belong to no single skill, such as a lesson's sources."""
    return tuple(_parsed(*_file(path)).get("frame", ()))


def heading(section: str) -> str:
    """A section's heading as it stands on the page: the anchor's words, or what `headings` of the map says.

    >>> heading("05#the-tail"), heading("04#sleeve-or-clips")
    ('The tail', 'Side by side')
    """
    words = section.partition("#")[2].replace("-", " ")
    return _parsed(*_file(None)).get("headings", {}).get(section, words[:1].upper() + words[1:])


def where_words(section: str) -> str:
    """A section as a person reads it: its lesson's number, and its heading as it stands on the page.

    >>> where_words("07#containment"), where_words("05")
    ('lesson 07, Containment: what goes back', 'lesson 05')
    """
    words = heading(section)
    return f"lesson {section.partition('#')[0]}" + (f", {words}" if words else "")


def owed_sections(skills: dict[str, Skill]) -> tuple[str, ...]:
    """The places that lessons still owe, "09: weakest link" as "09#weakest-link", in order.

    >>> "10#which-angle" in owed_sections(load_skills()) or "10#which-angle" in skill("asks-which-angle").sections
    True
    """
    owed = (re.fullmatch(r"(\d\d): (.+)", words) for one in skills.values() for words in one.owed)
    return tuple(sorted({f"{place[1]}#{re.sub(r'[^a-z0-9]+', '-', place[2].lower())}" for place in owed if place}))


def _owes(one: Skill, sections: set[str]) -> list[str]:
    """What a skill must owe: the section of its own lesson, a family, a checkpoint, as far as they are not there."""
    own = [place for place in one.sections if place in sections and place.startswith(f"{one.lesson}#")]
    owes = [] if own else [f"{one.lesson}: a section"]
    owes += ["a family"] if one.written and not one.families else []
    return owes + (["a checkpoint"] if one.by_hand and not one.checkpoints else [])


def _kind(owed: str, one: Skill) -> str:
    return f"{one.lesson}: a section" if owed.startswith(f"{one.lesson}: ") else owed


def faults(skills: dict[str, Skill], sections: set[str], families: dict[str, str],
           checkpoints: dict[str, tuple[int, ...]], frame: tuple[str, ...] = ()) -> list[str]:
    """Everything in the map that has no place, and every place that hangs on no skill; none when all is well.

    Parameters
    ----------
    skills : dict
        The map, as `load_skills` gives it.
    sections : set of str
        The places that lessons have, such as "05#the-tail".
    families : dict
        For each question family the skill it names.
    checkpoints : dict
        For each place of a bench task, such as "T1#tail-marked", the numbers of the skills it names.
    frame : tuple of str
        Sections and checkpoints that belong to no single skill.
    """
    found, by_number = [], {one.number: one.id for one in skills.values()}
    for one in skills.values():
        for what, named, there in (("section", one.sections, sections), ("family", one.families, families),
                                   ("checkpoint", one.checkpoints, checkpoints)):
            found += [f"{one.id}: no {what} '{place}' exists" for place in named if place not in there]
        found += [f"{one.id}: {place} names another skill" for place in one.families
                  if families.get(place, one.id) != one.id]
        found += [f"{one.id}: {place} does not name skill {one.number}" for place in one.checkpoints
                  if one.number not in checkpoints.get(place, (one.number,))]
        said, owes = {_kind(owed, one) for owed in one.owed}, set(_owes(one, sections))
        found += [f"{one.id}: owes '{place}' and does not say so" for place in sorted(owes - said)]
        found += [f"{one.id}: says that it owes '{place}', which it has or never needs" for place in sorted(said - owes)]
    taught = {place for one in skills.values() for place in one.sections} | set(frame)
    found += [f"section {place} hangs on no skill" for place in sorted(sections - taught)]
    found += [f"family {name} hangs on no skill of the map" for name, named in sorted(families.items())
              if name not in getattr(skills.get(named), "families", ())]
    for place, numbers in sorted(checkpoints.items()):
        if not numbers and place not in frame:
            found.append(f"checkpoint {place} hangs on no skill")
        found += [f"checkpoint {place} names skill {number}, whose entry does not name it" for number in numbers
                  if place not in getattr(skills.get(by_number.get(number, "")), "checkpoints", ())]
    return found + [f"the frame names '{place}', which does not exist" for place in frame
                    if place not in sections and place not in checkpoints]


def no_such_skill(given: str) -> tuple[str, str, str]:
    """What is said of a skill id that is not in the map: what was given, what is accepted (the ids nearest to it), what to do.

    >>> no_such_skill("picks-sleeve-metal")[1]
    'an id of quizzes/skills.toml; the nearest: picks-the-sleeve-metal, picks-the-sleeve-size'
    """
    known = load_skills()
    words = set(re.findall("[a-z0-9]+", given.casefold()))
    alike = sorted(known, key=lambda name: -len(words & set(name.split("-"))))
    near = get_close_matches(given.casefold(), known, 3) or [name for name in alike[:3] if words & set(name.split("-"))]
    accepted = "an id of quizzes/skills.toml" + (f"; the nearest: {', '.join(near)}" if near else "")
    return f"the skill '{given[:60]}', which the skill map does not have,", accepted, "mend the name; rigcalc quiz --skills shows them all"


def skill(skill_id: str) -> Skill:
    """The skill with that id; refuses an unknown one."""
    path = skills_file()
    found = _read(path, path.stat().st_mtime_ns)
    if skill_id not in found:
        raise Refusal(*no_such_skill(skill_id))
    return found[skill_id]
