"""Calculations for questions that mark a place on a drawing."""

from __future__ import annotations

from rigcalc.errors import Refusal
from rigcalc.questions.registry import _calculation

__all__: list[str] = []


@_calculation
def places_of_an_eye() -> list[str]:
    """The eight places of the drawing `lettered_eye`, in the order of its letters."""
    from rigcalc.figures.lettered import PLACES

    return list(PLACES)


@_calculation
def fault_at(mark: str) -> str:
    """The place at which the drawing `lettered_eye` shows a mark."""
    from rigcalc.figures.lettered import MARKS

    return MARKS[mark][0]


@_calculation
def lettered_at(letters: list[str], mark: str) -> str:
    """The letter that stands where the drawing `lettered_eye` shows a mark."""
    return letters[places_of_an_eye().index(fault_at(mark))]


@_calculation
def apart_from(mark: str, other: str) -> str:
    """The mark, if it stands at another place of `lettered_eye` than the other mark; refused else."""
    if fault_at(mark) == fault_at(other):
        raise Refusal(f"{mark} and {other}", "marks at two places", "draw another")
    return mark
