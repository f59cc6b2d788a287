"""Which skills somebody showed, in writing and by hand, and which not: what a certificate may list."""

from __future__ import annotations

from rigcalc.skills import load_skills

__all__ = ["by_hand", "in_writing", "marks_given", "skill_names", "skills_not_shown"]

LINE = 280  # letters of one line of the sheet


def skill_names(skills: list) -> list[str]:
    """`31 Sets the tail.` without the full stop for each skill, given by number or id, in the order of the map."""
    known = load_skills().values()
    wanted = [one for one in known if one.id in skills or one.number in skills]
    return [f"{one.number} {one.sentence.rstrip('.')}" for one in sorted(wanted, key=lambda one: one.number)]


def in_writing(result: dict) -> dict[str, str]:
    """Each skill that a paper asked: `right` (every answer that counts), `not right`, or `struck` where no question of it is left."""
    struck, states = _struck(result), {}
    for slot in result["slots"]:
        states.setdefault(slot["skill"], []).append("struck" if slot["slot"] in struck else "right" if slot["right"] else "not right")
    return {skill: "not right" if "not right" in found else "right" if "right" in found else "struck" for skill, found in states.items()}


def _struck(result: dict) -> dict[int, int | float]:
    """The struck questions of a paper, each with the marks that were given for it."""
    numbers = {one["number"] for one in result["corrections"] if one["way"] == "struck"}
    return {slot["slot"]: slot["marks"] for slot in result["slots"] if slot.get("struck") or numbers & set(slot.get("corrected", []))}


def marks_given(result: dict) -> str:
    """The sentence that says how many of the marks were given for struck questions; empty where none was struck."""
    struck = _struck(result)
    if not struck:
        return ""
    which = f"question {next(iter(struck))}, which was struck" if len(struck) == 1 else \
        f"questions {', '.join(map(str, struck))}, which were struck"
    return f"{sum(struck.values()):g} of these marks were given for {which}."


def by_hand(outcome: dict, state: str) -> list[int]:
    """The numbers of the skills in one state of a bench outcome: shown, shown wrong, not seen, no occasion."""
    return [int(number) for number, found in outcome["skills"].items() if found == state]


def skills_not_shown(found: dict) -> list[str]:
    """The lines for `Not shown`: skills asked and not answered right, struck, seen wrong, not seen, without an occasion."""
    written, outcome = in_writing(found["written"]["result"]), found["hands"]["outcome"]
    return [line for told, skills in (
        ("must be right by the skill map, and this paper did not ask it so", sorted(_must() - {slot["skill"] for slot in found["written"]["result"]["slots"] if slot["must_be_right"]})),
        ("asked in writing, not every answer right", [skill for skill, state in written.items() if state == "not right"]),
        ("asked in writing in a question that was struck", [skill for skill, state in written.items() if state == "struck"]),
        ("by hand, seen wrong", by_hand(outcome, "shown wrong")), ("by hand, not seen", by_hand(outcome, "not seen")),
        ("by hand, there was no occasion", by_hand(outcome, "no occasion"))) for line in _lines(told, skill_names(skills))]


def _must() -> set[str]:
    """The skills that the map says must be right in any paper."""
    return {one.id for one in load_skills().values() if one.must_be_right}


def _lines(told: str, names: list[str]) -> list[str]:
    """`told: 31 Sets the tail; ...`, in as many lines as the sheet's line allows."""
    lines: list[str] = []
    for name in names:
        if lines and len(lines[-1]) + len(name) < LINE:
            lines[-1] += f"; {name}"
        else:
            lines.append(f"{told}: {name}")
    return lines
