"""The cut score: how it was set, by whom, and how far the judges lay apart."""

from __future__ import annotations

import math
import statistics
from typing import Literal

import msgspec

__all__ = ["Cut", "Judge", "cut_as_kept", "judged_cut", "judges_cuts", "rounded_in_words", "spread_in_words"]


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
