"""A figure printed in two units, `4200 lbf [18.68 kN]`: honest work from either is right, in every accepted unit.

The two figures of such a pair are rounded each for itself, so they are not quite one force. What follows from the
pair's first figures, and what follows from those in brackets, counts as right beside what follows from the exact value.
In an SI shop so does the figure as a job sheet states it, to 0.01 kN, whatever unit it is typed in.
So does, in a later box of a sheet, what follows from an earlier box's figure as that box has it written: `carried.py`.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache
from typing import Any, NamedTuple

from rigcalc._quantities import PER_BASE
from rigcalc.errors import Refusal
from rigcalc.questions import registry
from rigcalc.questions.carried import Carried, drawn_value
from rigcalc.questions.family import Family
from rigcalc.questions.instance import Slip
from rigcalc.questions.numbering import REFUSE, asked_unit, slip_in
from rigcalc.questions.scale import bounds, dimension, right_in
from rigcalc.questions.template import resolve
from rigcalc.questions.undrawn import Undrawn
from rigcalc.questions.worked_from import Line, lines
from rigcalc.units import exact, show_force

__all__ = ["with_either", "worked_again"]

Work = Callable[..., Any]
_FIGURE = r"([0-9]+(?:\.[0-9]+)?(?: [0-9]+/[0-9]+)?|[0-9]+/[0-9]+) (lbf|N|kN|mm|in|kg|lb)"
_KINDS = {"_n": "force", "_mm": "length", "_kg": "mass", "_deg": "angle"}  # by the end of a value's name
_PAIR = re.compile(rf"(?<![0-9./]){_FIGURE} \[{_FIGURE}\]")


class _Pair(NamedTuple):
    """Both figures of one pair in the base unit, the step that each is rounded to, and whether it is a force, a length or a mass."""

    figures: tuple[Fraction, Fraction]
    steps: tuple[Fraction, Fraction]
    kind: str

    def prints(self, value: Fraction, name: str) -> bool:
        kind = next((kind for end, kind in _KINDS.items() if name.endswith(end)), self.kind)
        if kind != self.kind or name and not name.endswith("_mm") and kind == "length" and value.denominator == 1:  # a count, no length
            return False
        return all(abs(value - figure) <= step for figure, step in zip(self.figures, self.steps, strict=True))


def _base(figure: str, unit: str) -> tuple[Fraction, Fraction]:
    """A printed figure in the base unit, and its last place."""
    whole = sum((Fraction(part) for part in figure.split()), Fraction(0))
    step = Fraction(1, 64) if "/" in figure else Fraction(1, 10 ** len(figure.partition(".")[2]))
    return whole * PER_BASE[unit], step * PER_BASE[unit]


def _pairs(text: str) -> list[_Pair]:
    found = [(_base(*pair[:2]), _base(*pair[2:]), dimension(pair[1])) for pair in dict.fromkeys(_PAIR.findall(text))]
    return [_Pair((first[0], second[0]), (first[1], second[1]), kind) for first, second, kind in found]


def _as_printed(value: Any, pairs: list[_Pair], side: int, name: str = "") -> Any:
    """A value, or all figures in a row or a list, as that side of its pair prints it."""
    if isinstance(value, Mapping):
        return {name: _as_printed(one, pairs, side, name) for name, one in value.items()}
    if isinstance(value, (list, tuple)):
        return [_as_printed(one, pairs, side, name) for one in value]
    if isinstance(value, (float, int, Fraction)) and not isinstance(value, bool):
        fitting = [pair for pair in pairs if pair.prints(exact(value), name)]
        if fitting:
            return min(fitting, key=lambda pair: abs(pair.figures[0] - exact(value))).figures[side]
    return value


def _names(with_: Any) -> set[str]:
    """The drawn values that a calculation takes."""
    if isinstance(with_, str):
        return {with_[1:].partition(".")[0]} if with_.startswith("$") else set()
    if isinstance(with_, (dict, list)):
        return {name for one in (with_.values() if isinstance(with_, dict) else with_) for name in _names(one)}
    return set()


def _stands(value: Any, name: str, page: str) -> bool:
    """Whether the page prints a force that is worked from others: then nobody works it again."""
    if not name.endswith("_n") or isinstance(value, bool) or not isinstance(value, (float, int, Fraction)):
        return False
    return _is_printed(float(value), page)


@lru_cache(4096)  # a sheet's values are worked again and again
def _is_printed(force_n: float, page: str) -> bool:
    printed = {show_force(force_n, system, way).partition(" [")[0] for system in ("US", "SI") for way in ("nearest", "down")}
    return any(re.search(rf"(?<![0-9.]){re.escape(one)}(?![a-zA-Z])", page) for one in printed)


def worked_again(family: Family, values: Mapping[str, Any], page: str, read: Callable[[Any, str], Any]) -> dict[str, Any]:
    """The drawn values of somebody who reads a value (given with its name) so, and works on with it."""
    again, changed = dict(values), set()
    for name, one in family.draw.items():
        new = read(values[name], name)
        if changed and new == values[name] and one.calculation and _names(one.with_) & changed and not _stands(new, name, page):
            new = registry.call(one.calculation, resolve(one.with_, again))
        if new != values[name]:
            again[name] = new
            changed.add(name)
    return again


def _others(family: Family, right: Fraction, pairs: list[_Pair], read: list[Mapping[str, Any]], work: Work, carried: tuple[Fraction, ...]) -> tuple[Fraction, ...]:
    """What else is right: all that follows from a side of the pairs or from a box above and is not right already, in some accepted unit."""
    found: list[Fraction] = []
    for side, values in enumerate(read):
        try:
            worked = work(family.answer, values)
        except Refusal:
            continue
        if worked in (None, REFUSE):
            continue
        worked = exact(worked)
        found += [worked if worked != right else exact(_as_printed(right, pairs, side))]
    return tuple(dict.fromkeys(other for other in (*found, *carried) if any(_apart(family, right, other, unit) for unit in family.answer.accept)))


def _apart(family: Family, right: Fraction, other: Fraction, unit: str) -> bool:
    """Whether what follows lies outside half the tolerance: the other half is for the rounding of what is typed."""
    low, high = bounds(family.answer, right, unit)
    return abs(right_in(family.answer, other, unit) - (low + high) / 2) > (high - low) / 4


def _stated(family: Family, system: str, found: tuple[Fraction, ...]) -> list[Fraction]:
    """What a job sheet of an SI shop states, from 1 kN to its hundredth: as right in N or lbf as it is in kN."""
    answer = family.answer
    if system != "SI" or "kN" not in answer.accept or not answer.round or answer.round.direction == "nearest" or "kN" not in answer.round.step:
        return []
    return [right_in(answer, one, "kN") * PER_BASE["kN"] for one in found if one >= PER_BASE["kN"]]


def _still_wrong(family: Family, system: str, slips: tuple[Slip, ...], also: tuple[Fraction, ...]) -> tuple[Slip, ...]:
    """The missteps without those that give what is right from a printed figure."""
    unit, kept = asked_unit(family, system), []
    where_it_shows = {slip.id for slip in family.misstep if slip.where_it_shows}
    for slip in slips:
        value = slip_in(slip, family, None, unit)
        if value == REFUSE or not any(low <= value <= high for low, high in (bounds(family.answer, one, unit) for one in also)):
            kept.append(slip)
        elif slip.id not in where_it_shows:
            raise Undrawn(f"misstep '{slip.id}' falls on what a printed figure gives")
    return tuple(kept)


def _with(family: Family, system: str, right: Any, slips: tuple[Slip, ...], pairs: list[_Pair], read: list, work: Work,
          carried: tuple[Fraction, ...] = ()) -> dict[str, Any]:
    if right == REFUSE:
        return {}
    also = _others(family, right, pairs, read, work, carried)
    also += tuple(one for one in dict.fromkeys(_stated(family, system, (right, *also))) if one not in (right, *also))
    return {"also": also, "slips": _still_wrong(family, system, slips, also)} if also else {}


def _worked_from(family: Family, values: Mapping[str, Any], above: list[tuple[str, str, Any]], one: Any, work: Work) -> dict[str, tuple[Line, ...]]:
    """How a box moves with the boxes above it, by their id; those it is not worked from are left out."""
    found = {}
    for name, _, earlier in above:
        drawn = drawn_value(family, earlier)
        if drawn is not None and REFUSE not in (earlier.right, one.right):
            moved = lines(earlier.right, lambda figure: worked_again(family, values, "", lambda value, of: figure if of == drawn else value),
                          lambda again: work(one.family.answer, again))
            found |= {name: moved} if moved else {}
    return found


def with_either(family: Family, values: Mapping[str, Any], system: str, page: str, parts: dict[str, Any], work: Work) -> dict[str, Any]:
    """The parts of a number or sheet question, with what else is right by the figures on its page.

    Raises Undrawn where a misstep that must be there gives such a figure.
    """
    if family.kind not in ("number", "sheet"):
        return parts
    pairs = _pairs(page)
    read: list[Mapping[str, Any]] = [worked_again(family, values, page, lambda value, name, side=side: _as_printed(value, pairs, side, name))
                                     for side in (0, 1)] if pairs else []
    if family.kind == "number":
        return parts | _with(family, system, parts["right"], parts["slips"], pairs, read, work)
    boxes, above = [], Carried(family, [values, *read], lambda values, read: worked_again(family, values, page, read))
    for name, label, one in parts["boxes"]:
        if one.family.kind == "number":
            one = replace(one, **_with(one.family, system, one.right, one.slips, pairs, read, work, above.figures(one.family.answer, work)))
            above.written(one)
            one = replace(one, worked_from=_worked_from(family, values, boxes, one, work))
        boxes.append((name, label, one))
    return parts | {"boxes": tuple(boxes)}
