"""What a blueprint can ask: each skill with its lesson, and for each level the families that ask it and their minutes."""

from __future__ import annotations

import re
from collections.abc import Mapping
from difflib import get_close_matches

from rigcalc.errors import Refusal
from rigcalc.papers.of_shop import gives_questions
from rigcalc.questions.family import Family
from rigcalc.shop import Shop
from rigcalc.skills import Skill, load_skills

__all__ = ["askable", "askable_text", "skills_like"]

_NOT_YOURS = ", not of your shop"


def askable(families: Mapping[str, Family]) -> list[tuple[Skill, dict[int, list[Family]]]]:
    """Every skill that is asked in writing or that a family asks, in the order of lessons, with its families by level."""
    found: dict[str, dict[int, list[Family]]] = {}
    for _, family in sorted(families.items(), key=lambda one: (one[1].level, one[0])):
        found.setdefault(family.skill, {}).setdefault(family.level, []).append(family)
    kept = [one for one in load_skills().values() if one.written or one.id in found]
    return [(one, found.get(one.id, {})) for one in sorted(kept, key=lambda one: (one.lesson, one.number))]


def skills_like(words: list[str]) -> set[str]:
    """The ids of the skills that a list is asked for: of lessons (04, or 4-9), or whose id or sentence holds one of the words.

    Raises
    ------
    Refusal
        A word that is no lesson and that no skill holds.
    """
    skills, found = load_skills(), set()
    for word in words:
        span = re.fullmatch(r"(\d{1,2})(?:-(\d{1,2}))?", word)
        if span:
            first, last = int(span[1]), int(span[2] or span[1])
            here = {one.id for one in skills.values() if first <= int(one.lesson) <= last}
        else:
            here = {one.id for one in skills.values() if word.casefold() in f"{one.id} {one.sentence}".casefold()}
        if not here:
            near = get_close_matches(word.casefold(), skills, 3)
            raise Refusal(f"'{word[:60]}'", "a lesson such as 04, lessons such as 04-09, or a word of a skill"
                          + (f"; the nearest skills: {', '.join(near)}" if near else ""), "leave it out to see every skill")
        found |= here
    return found


def _line(level: int, families: list[Family], shop: Shop) -> str:
    few = f"{len(families)} {'family' if len(families) == 1 else 'families'}"
    told = [f"{one.id} ({one.minutes:g} min{'' if gives_questions(one, shop) else _NOT_YOURS})" for one in families]
    return f"    level {level}  {few}: {', '.join(told)}"


def askable_text(families: Mapping[str, Family], words: list[str], shop: Shop) -> str:
    """The list for whoever plans a paper: lesson, skill, level, families, minutes; and which of them a shop gives nothing to ask about."""
    wanted, lines, lesson = skills_like(words) if words else set(load_skills()), [], ""
    for one, levels in askable(families):
        if one.id not in wanted:
            continue
        if one.lesson != lesson:
            lesson = one.lesson
            lines += ["", f"Lesson {lesson}"]
        must = "  (must be right, says the skill map)" if one.must_be_right else ""
        lines += [f"  {one.id}{must}", f"    {one.number}  {one.sentence}", *(_line(*level, shop) for level in levels.items())]
    if any(_NOT_YOURS in line for line in lines):
        lines += ["", f"Where it says '{_NOT_YOURS.strip(', ')}', the shop file has nothing that such a question could ask about. Another family of "
                  "that skill and level is asked instead; where there is none, an INVENTED shop stands in and the question says so."]
    by_hand = [one for one in load_skills().values() if one.id in wanted and not one.written]
    if by_hand:
        lines += ["", f"Shown by hand and never asked in writing: {', '.join(one.id for one in by_hand)}."]
    return "\n".join([*lines[lines[:1] == [""]:], ""])
