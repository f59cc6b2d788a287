"""Which question families a workplace's own shop file gives something to ask about."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping

from rigcalc.errors import Refusal
from rigcalc.papers.balance import fitting_families
from rigcalc.papers.blueprint import Blueprint
from rigcalc.questions import Stream, draw

__all__ = ["families_of_shop", "gives_questions", "stand_ins", "unvaried"]

_TRIED = bytes(range(32))  # nobody's secret: what is drawn here is shown to nobody
_KNOWN: dict[tuple[int, int], tuple] = {}


def gives_questions(family, shop) -> bool:
    """Whether a question of the family can be drawn from a shop; drawn once as long as both stay the same."""
    at = (id(family), id(shop))
    if at not in _KNOWN:
        if len(_KNOWN) >= 1024:
            _KNOWN.clear()
        _KNOWN[at] = (_drawn(family, shop), family, shop)  # both are kept, so that no other takes their ids
    return _KNOWN[at][0]


def _drawn(family, shop) -> bool:
    try:
        draw(family, Stream(_TRIED, family.id), shop)
    except Refusal:
        return False
    return True


def families_of_shop(plan: Blueprint, families: Mapping, shop) -> dict:
    """The families without those that a shop gives nothing to ask about, where the plan's places have enough others.

    Where there are not enough, all stay: the invented sample shop stands in for those, and its questions say so.
    """
    left_out: set[str] = set()
    for fitting, wanted in _fittings(plan, families):
        here = [name for name in fitting if gives_questions(families[name], shop)]
        if len(here) >= wanted:
            left_out |= set(fitting) - set(here)
    return {name: family for name, family in families.items() if name not in left_out}


def stand_ins(plan: Blueprint, families: Mapping, shop) -> list[str]:
    """A sentence for each skill of a plan for which the invented sample shop stands in, with the numbers of its places."""
    if shop.invented:
        return []
    said = []
    for fitting, wanted in _fittings(plan, families):
        dumb = [name for name in fitting if not gives_questions(families[name], shop)]
        if len(fitting) - len(dumb) < wanted:
            skill, level = families[dumb[0]].skill, families[dumb[0]].level
            said.append(f"The skill '{skill}' at level {level}: your shop file gives {', '.join(dumb)} nothing to ask about, so that an "
                        "INVENTED shop stands in, and the question says so. To ask of your own shop alone, leave that place out of a "
                        "blueprint of your own, and have its cut judged.")
    return said


def unvaried(plan: Blueprint, families: Mapping, shop) -> list[str]:
    """A sentence with the families of a plan that a shop's file gives one set of figures only, so that candidates get the same."""
    if shop.invented:
        return []
    fitting = {name for names, _ in _fittings(plan, families) for name in names}
    few = sorted(name for name in fitting if _alike(families[name], shop))
    return [f"Your shop file has so few rows for {', '.join(few)} that candidates get the same figures there: seat them apart."] if few else []


def _alike(family, shop) -> bool:
    """Whether eight draws are one question over and over, by their figures and by what is right."""
    seen: set = set()
    for number in range(8):
        try:
            made = draw(family, Stream(_TRIED, f"{family.id} {number}"), shop)
        except Refusal:
            return False
        seen.add((tuple(re.findall(r"[0-9][0-9./]*", f"{made.text} {made.chart or ''}")), str(made.values["right"])))
        if len(seen) > 1:
            return False
    return True


def _fittings(plan: Blueprint, families: Mapping) -> list[tuple[list[str], int]]:
    """For the places of one skill, level and choice of families: those families, and how many questions are wanted."""
    wanted = Counter((place.skill, place.level) for place in plan.question)
    alike = {(place.skill, place.level, place.families): (index, place) for index, place in enumerate(plan.question)}
    return [(fitting_families(place, families, index), min(wanted[place.skill, place.level], len(fitting_families(place, families, index))))
            for index, place in alike.values()]
