"""Number questions: the right figure, and what each misstep gives in every unit that may be typed."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import Any

from rigcalc._quantities import PER_BASE
from rigcalc.errors import Refusal
from rigcalc.questions import template
from rigcalc.questions.family import Family
from rigcalc.questions.instance import Slip
from rigcalc.questions.scale import bounds, in_fraction, right_in, rounded
from rigcalc.questions.undrawn import Undrawn
from rigcalc.units import exact

__all__ = ["asked_unit", "misstep_figure", "number_parts", "slip_in"]

REFUSE = "refuse"


def asked_unit(family: Family, system: str) -> str:
    """The unit the page asks for."""
    return family.answer.unit_si if system == "SI" and family.answer.unit_si else family.answer.unit


def slip_in(slip: Slip, family: Family, right: Fraction | str, unit: str) -> Fraction | str:
    """A misstep's figure in a unit, rounded as the misstep or the family rounds."""
    if slip.exact == REFUSE:
        return REFUSE
    value = in_fraction(slip.exact, unit)
    if slip.direction:
        return rounded(value, slip.step.get(unit, 1), slip.direction)
    if family.answer.round and unit in family.answer.round.step:
        return rounded(value, family.answer.round.step[unit], family.answer.round.direction)
    return value


def misstep_figure(misstep: Any, values: Mapping[str, Any], system: str, work: Callable[..., Any]) -> Slip:
    """What somebody gets who commits a misstep on the drawn values; a Refusal where it gives nothing."""
    worked = work(misstep, values)
    figure = REFUSE if worked in (None, REFUSE) else exact(worked)
    turn = misstep.round
    return Slip(misstep.id, template.fill(misstep.feedback["en"], values, system), exact=figure,
                direction=turn.direction if turn else None,
                step={unit: f"{step:.12g}" for unit, step in turn.step.items()} if turn else {})


class _Figure:
    """A figure that the page can give, in the unit asked, and what counts as the same."""

    def __init__(self, family: Family, value: Fraction | str, base: Any, unit: str) -> None:
        self.value, self._asked, self._wide = value, (family.answer, base, unit), None

    def clashes(self, other: Fraction | str) -> bool:
        """Whether another figure is this one within the tolerance round it."""
        if REFUSE in (other, self.value):
            return other == self.value
        if self._wide is None:  # worked once, however many missteps are held against it
            low, high = bounds(*self._asked)
            self._wide = (high - low) / 2
        return abs(other - self.value) <= self._wide


def number_parts(family: Family, values: Mapping[str, Any], system: str, work: Callable[..., Any]) -> dict[str, Any]:
    """The right figure and the missteps; Undrawn when a misstep falls on the right answer or on another.

    One that is told `where_it_shows` is left out where it falls on the right answer. On another misstep it may fall: both are
    kept, and marking names the one that is nearer to what was typed. One that `yields` is left out there too.
    """
    worked = work(family.answer, values)
    right = REFUSE if worked in (None, REFUSE) else exact(worked)
    unit = asked_unit(family, system)
    figure = right if right == REFUSE else right_in(family.answer, right, unit)
    kept: list[Slip] = []
    figures = [_Figure(family, figure, right, unit)]
    for misstep in family.misstep:
        try:
            slip = misstep_figure(misstep, values, system, work)
        except Refusal:
            if misstep.where_it_shows:
                continue
            raise
        value = slip_in(slip, family, right, unit)
        clash = next((at for at, other in enumerate(figures) if other.clashes(value)), None)
        if misstep.where_it_shows and (clash == 0 or clash is not None and misstep.yields):
            continue
        if clash is not None and not misstep.where_it_shows:
            raise Undrawn(f"misstep '{misstep.id}' gives {'the right answer itself' if clash == 0 else 'the figure of another misstep'}, within the tolerance",
                          "a misstep that gives a figure of its own in some draws at least", "work it another way, or write where_it_shows = true", misstep)
        kept.append(slip)
        figures.append(_Figure(family, value, slip.exact, unit))
    return {"right": right, "slips": tuple(kept), "shown_right": show_figure(family, right, unit)}


def show_figure(family: Family, right: Fraction | str, unit: str) -> str:
    """The right answer in words, in the unit asked; what an SI shop asks for in N, and rounds, as its job sheet states it."""
    if right == REFUSE:
        return "refuse: no figure can be stated"
    turn = family.answer.round
    if unit == "N" and family.answer.unit == "lbf" and right >= PER_BASE["kN"] and turn and turn.direction != "nearest" and "kN" in turn.step:
        unit = "kN"
    value = right_in(family.answer, right, unit)
    low, high = bounds(family.answer, right, unit)
    least = {"lbf": 0, "N": 0, "kN": 2, "m": 3, "": 0}.get(unit, 1)
    for places in range(least, 10):
        text = _decimal(value, places)
        if low <= Fraction(text) <= high:
            break
    return f"{text} {unit}".strip()


def _decimal(value: Fraction, places: int) -> str:
    if places == 1:
        return f"{float(value):.1f}".removesuffix(".0")
    return f"{float(value):.{places}f}"
