"""The cut score: how it was set, by whom, and how far the judges lay apart."""

from __future__ import annotations

import math
import re
import statistics
from datetime import date
from typing import Literal

import msgspec

from rigcalc._order_person import is_person

__all__ = ["Cut", "Judge", "cut_as_kept", "judged_cut", "judges_cuts", "judging_faults", "rounded_in_words", "spread_in_words"]


class Judge(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A named judge and, place by place, the share of just good enough candidates expected to answer right."""

    name: str
    judged: list[float]


class Cut(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The cut score in marks, who set it, when and how."""

    marks: int
    method: Literal["one named person", "panel"]
    set_by: str
    set_on: str
    how: str
    judge: list[Judge] = []


def judges_cuts(cut: Cut, places: list) -> list[tuple[str, float]]:
    """Each judge's own cut: the marks that a just good enough candidate is expected to get, by that judge."""
    return [(judge.name, sum(place.marks * getattr(place, "number", 1) * share
                             for place, share in zip(places, judge.judged, strict=True))) for judge in cut.judge]


def judged_cut(cut: Cut, places: list) -> int:
    """The cut the judges' expectations give: mean over judges of the expected marks, rounded up.

    The method is known by the name of Angoff: each judge states, for each place, the share of just good enough
    candidates who will answer it right (from memory; no printed example with figures was found to check against).

    >>> from rigcalc.papers.blueprint import Place
    >>> judged_cut(Cut(6, "one named person", "A", "", "", [Judge("A", [0.5, 0.7])]),
    ...            [Place("a", 1, 5), Place("b", 1, 5)])
    6
    """
    own = [marks for _, marks in judges_cuts(cut, places)]
    return math.ceil(sum(own) / len(own) - 1e-9)


def judging_faults(cut: Cut, places: list):
    """Each fault of a cut as (steps to the field, what is given, what is accepted); none where it may stand."""
    if not 1 <= cut.marks <= 100:
        yield ["cut", "marks"], f"a cut of {cut.marks} marks", "1 to 100 marks"
    if not cut.how.strip():
        yield ["cut", "how"], "nothing", "how the cut was set, in words"
    yield from _day_faults(cut.set_on)
    yield from _name_faults(cut)
    judges = cut.judge
    if cut.method == "panel" and len(judges) < 2:
        yield ["cut", "method"], f"a panel of {len(judges)}", "two judges or more, or the method 'one named person'"
    if cut.method == "one named person" and len(judges) > 1:
        yield ["cut", "method"], f"one named person with {len(judges)} judges", "the method 'panel'"
    expected = list(_expectation_faults(judges, places))
    yield from expected
    if judges and not expected and judged_cut(cut, places) != cut.marks:
        yield ["cut", "marks"], f"a cut of {cut.marks} marks", f"what the judges' expectations give, {judged_cut(cut, places)}"


def _day_faults(set_on: str):
    accepted = "the day the cut was set, year first, in quotes, as \"2026-03-02\", today or earlier"
    try:
        day = date.fromisoformat(set_on) if re.fullmatch(r"\d{4}-\d\d-\d\d", set_on) else None
    except ValueError:
        day = None
    if day is None:
        yield ["cut", "set_on"], f"'{set_on}'" if set_on.strip() else "nothing", accepted
    elif day > date.today():
        yield ["cut", "set_on"], f"'{set_on}', a day to come", accepted


def _name_faults(cut: Cut):
    named = [name.strip() for name in re.split(r",|;|&|\band\b", cut.set_by) if name.strip()]
    person = "the first and family name of each who set the cut, with commas or 'and' between them"
    for name in named:
        if not is_person(name):
            yield ["cut", "set_by"], f"'{name}', which is no person's first and family name,", person
    if not named:
        yield ["cut", "set_by"], "nothing", person
    seen: list[str] = []
    for index, judge in enumerate(cut.judge):
        plain = " ".join(judge.name.split()).casefold()
        if not is_person(judge.name):
            yield (["cut", "judge", index, "name"], f"'{judge.name}', which is no person's first and family name,", "a judge's own first and family name")
        if plain in seen:
            yield ["cut", "judge", index, "name"], f"'{judge.name}', a judge named twice,", "each judge once"
        seen.append(plain)
    if cut.judge and sorted(" ".join(name.split()).casefold() for name in named) != sorted(seen):
        yield (["cut", "set_by"], f"'{cut.set_by}', while the expectations are those of {' and '.join(judge.name for judge in cut.judge)},",
               "the names of the judges, all of them and nobody else, with commas between them")


def _expectation_faults(judges: list[Judge], places: list):
    """Expectations that are no shares, or not as many as there are questions."""
    for index, judge in enumerate(judges):
        steps = ["cut", "judge", index, "judged"]
        for number, share in enumerate(judge.judged, 1):
            if not 0 <= share <= 1:
                meant = f"; {share:g} in 100 are written {share / 100:g}" if 1 < share <= 100 and share == int(share) else ""
                asked = f", for '{places[number - 1].skill}'," if number <= len(places) else ""
                yield [*steps, number - 1], f"{share:g} as expectation number {number} of {judge.name}{asked}", f"a share from 0 to 1{meant}"
        if len(judge.judged) != len(places):
            yield (steps, f"{len(judge.judged)} expectations of {judge.name} for {len(places)} [[question]]",
                   f"{len(places)} shares from 0 to 1, one a [[question]], in their order")


def rounded_in_words(cut: Cut, places: list) -> str:
    """How the cut comes from the judges' expectation, and what that means for somebody exactly there.

    >>> from rigcalc.papers.blueprint import Place
    >>> rounded_in_words(Cut(79, "one named person", "A", "", "", [Judge("A", [0.783])]), [Place("a", 1, 100)])[:66]
    'The cut is the judged expectation, 78.3 marks, rounded up to 79: s'
    """
    own = [marks for _, marks in judges_cuts(cut, places)]
    mean = sum(own) / len(own)
    less = f"expects {cut.marks - mean:.1f} marks less than the cut" if cut.marks - mean >= 0.05 else "expects the cut itself"
    return (f"The cut is the judged expectation, {mean:.1f} marks, rounded up to {cut.marks}: somebody who is exactly just good enough {less}, "
            "and by marks alone would pass about every second such paper, rather fewer than more.")


def cut_as_kept(cut: Cut, places: list) -> dict:
    """The cut as key records, results and the register keep it; of a panel with each judge's own cut."""
    kept = {"marks": cut.marks, "method": cut.method, "set_by": cut.set_by, "set_on": cut.set_on, "how": cut.how}
    if cut.method != "panel":
        return kept
    own = judges_cuts(cut, places)
    marks = [value for _, value in own]
    return kept | {"judges": [{"name": name, "marks": f"{value:.1f}"} for name, value in own],
                   "lowest": f"{min(marks):.1f}", "highest": f"{max(marks):.1f}",
                   "standard_deviation": f"{statistics.stdev(marks):.1f}"}


def spread_in_words(cut: dict) -> str:
    """How far the judges lay apart, from the cut as kept."""
    if "judges" not in cut:
        return "One person's judgement: how far a second judge would lie from it is not known."
    return (f"The {len(cut['judges'])} judges' own cuts lie from {cut['lowest']} to {cut['highest']} marks, standard "
            f"deviation {cut['standard_deviation']}.")
