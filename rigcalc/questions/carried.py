"""A figure carried from one box of a sheet to the next: whoever works on with it as that box has it written is right too.

A box that asks for 54.18 kN, rounded down, may be followed by one that divides it: 54.18 kN / 8 is 6772 N, the exact sum 6773 N.
Both are right. An earlier box is carried where its answer is a drawn value by name, `value = "$held_n"`, and later boxes
are worked from that value.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import Any

from rigcalc._quantities import PER_BASE
from rigcalc.errors import Refusal
from rigcalc.questions.family import Answer, Family
from rigcalc.questions.numbering import REFUSE
from rigcalc.questions.scale import right_in, rounded, tolerances
from rigcalc.units import exact

__all__ = ["Carried", "drawn_value"]

WHOLE_MM = 0.5  # mm of tolerance with which a length may be written to a whole millimetre

Values = Mapping[str, Any]


def drawn_value(family: Family, box: Any) -> str | None:
    """The drawn value that is a box's answer by name, of a box of figures as an instance; None where there is none."""
    value = box.family.answer.value
    name = value[1:] if isinstance(value, str) and value[:1] == "$" else ""
    return name if box.family.kind == "number" and name in family.draw else None


class Carried:
    """What may be carried from the boxes above, as drawn values that somebody works on with.

    `read` are the values as drawn and as the page prints them; `again` works values anew from a changed one.
    """

    def __init__(self, family: Family, read: list[Values], again: Callable[[Values, Callable[[Any, str], Any]], dict[str, Any]]) -> None:
        self._family, self._read, self._again = family, read, again
        self._carried: dict[tuple[str, Fraction], Values] = {}

    def written(self, box: Any) -> None:
        """Take in a box that was filled in rightly, as an instance."""
        name = drawn_value(self._family, box)
        if name is None or box.right == REFUSE:
            return
        for values in [*self._read, *self._carried.values()]:
            for figure in _as_written(box.family.answer, exact(values[name])):
                self._carry(values, name, figure)
        for other in box.also:
            for figure in _as_written(box.family.answer, other):
                self._carry(self._read[0], name, figure)

    def _carry(self, values: Values, name: str, figure: Fraction) -> None:
        """Work on with a box's figure, once for each figure that may stand there."""
        if (name, figure) not in self._carried:
            try:
                self._carried[name, figure] = self._again(values, lambda value, of: figure if of == name else value)
            except Refusal:
                return

    def figures(self, answer: Answer, work: Callable[..., Any]) -> tuple[Fraction, ...]:
        """What follows for a box from the figures above as they were written: one for each set of figures that may stand there."""
        found: dict[tuple[Fraction, ...], Fraction] = {}
        for values in self._carried.values():
            try:
                worked = work(answer, values)
            except Refusal:
                continue
            if worked not in (None, REFUSE):
                found.setdefault(tuple(right_in(answer, exact(worked), unit) for unit in answer.accept), exact(worked))
        return tuple(found.values())


def _as_written(answer: Answer, right: Fraction) -> list[Fraction]:
    """A box's figure as it may be written in each accepted unit, in the base unit: by its steps, or a length to a whole millimetre."""
    if answer.round:
        return [right_in(answer, right, unit) * PER_BASE[unit] for unit in answer.accept if unit in answer.round.step and unit in PER_BASE]
    return [rounded(right, "1", "nearest")] if "mm" in answer.accept and tolerances(answer).get("mm", 0) >= WHOLE_MM else []
