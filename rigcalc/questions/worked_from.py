"""Whether a wrong later box of a sheet follows from a wrong figure in a box above.

When a sheet is drawn, every later box is worked again with other figures in each earlier one. Where its answer moves with
them in a straight line, the key keeps that line, and how far it reaches; where it does not move, the box is not worked from the earlier one and
nothing is kept. Marking then needs no more than the line. An earlier box takes part where its answer is a drawn value by
name, `value = "$held_n"`, as in `carried.py`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import Any

from rigcalc._quantities import PER_BASE
from rigcalc.errors import Refusal
from rigcalc.questions import registry
from rigcalc.questions.scale import fineness
from rigcalc.units import exact

__all__ = ["NO_SLIP", "Filled", "follows", "from_above", "lines"]

REFUSE = "refuse"
NO_SLIP = "No usual slip leads to this answer: go through it step by step."
FROM_ABOVE = "This follows from {} above: put that right first, then this."
TIMES = tuple(Fraction(2) ** power for power in range(-5, 5))  # of the right figure: what an earlier box is tried with
ALIKE = 1e-7  # slopes and starts nearer than this part of the figures are one line
COARSE = 0.01  # the part of an earlier figure that its rounding may be

Line = tuple[float, float, float, float | None]  # times, plus, from, to
Filled = tuple[dict[str, Any], dict[str, Any]]  # a box's key, and the figure in it as it was read


def lines(right: Fraction, again: Callable[[Fraction], Mapping[str, Any]], work: Callable[[Mapping[str, Any]], Any]) -> tuple[Line, ...]:
    """How a later box's figure moves with an earlier one: (times, plus, from, to) of each straight stretch, in base units (N, mm, kg, plain).

    `right` is the earlier box's figure, `again` gives all drawn values for another figure there and `work`
    the later box's figure. A stretch counts where three tried figures in a row lie on it; where nothing moves there is none.
    It reaches from and to the earlier figures where it meets the next stretch (of the lower of two figures each holds on one
    side alone); `to` is None where it goes on.
    """
    tried = [(float(right * times), _worked(again, work, right * times)) for times in TIMES if right]
    runs = _runs(tried)
    found: list[Line] = []
    for at, (first, last) in enumerate(runs):
        (a, at_a), (b, at_b), (slope, plus) = tried[first], tried[last], _line(tried, first, last)
        if ALIKE * max(abs(at_a), abs(at_b)) < abs(slope) * (b - a):
            low = 0.0 if first == 0 else _meeting(tried, runs[at - 1] if at else None, runs[at], first)
            high = None if last == len(tried) - 1 else _meeting(tried, runs[at], runs[at + 1] if at + 1 < len(runs) else None, last)
            found.append((slope, plus, low, high))
    return tuple(found)


def _runs(tried: list[tuple[float, float | None]]) -> list[tuple[int, int]]:
    """First and last place of each row of three or more tried figures on one line, level ones too."""
    found, first = [], 0
    while first < len(tried) - 2:
        last = first + 2
        while last < len(tried) and _on_one_line(*tried[first], *tried[first + 1], *tried[last]):
            last += 1
        if last > first + 2:
            found.append((first, last - 1))
        first = max(first + 1, last - 1) if last > first + 2 else first + 1
    return found


def _on_one_line(a: float, at_a: float | None, b: float, at_b: float | None, c: float, at_c: float | None) -> bool:
    if None in (at_a, at_b, at_c):
        return False
    return abs((at_b - at_a) / (b - a) - (at_c - at_b) / (c - b)) * (c - a) <= ALIKE * max(abs(at_a), abs(at_b), abs(at_c))


def _meeting(tried: list[tuple[float, float | None]], before: tuple[int, int] | None, after: tuple[int, int] | None, edge: int) -> float:
    """Where two neighbouring rows meet; the tried figure at the edge where there is no neighbour or they do not meet in between."""
    if before is None or after is None or after[0] - before[1] > 1:
        return tried[edge][0]
    (slope, plus), (other, more) = (_line(tried, *one) for one in (before, after))
    meets = (more - plus) / (slope - other) if slope != other else tried[edge][0]
    return meets if tried[before[1]][0] <= meets <= tried[after[0]][0] else tried[edge][0]


def _line(tried: list[tuple[float, float | None]], first: int, last: int) -> tuple[float, float]:
    (a, at_a), (b, at_b) = tried[first], tried[last]
    slope = (at_b - at_a) / (b - a)
    return slope, at_a - slope * a


def _worked(again: Callable[[Fraction], Mapping[str, Any]], work: Callable[[Mapping[str, Any]], Any], figure: Fraction) -> float | None:
    try:
        worked = work(again(figure))
    except (Refusal, registry.WrongValues, KeyError):
        return None
    return None if worked in (None, REFUSE) else float(exact(worked))


def follows(key: dict[str, Any], value: dict[str, Any], above: str, earlier: dict[str, Any]) -> bool:
    """Whether a figure, as it was read, is what follows from an earlier box's figure; each as it may have been rounded.

    `key` is the later box's, `value` and `earlier` are the readings of both boxes, `above` the id of the earlier one.
    """
    if "base" not in value or "base" not in earlier:
        return False
    per = float(PER_BASE.get(value["unit"], 1))
    figure, carried = float(Fraction(value["base"])), float(Fraction(earlier["base"]))
    loose = min(_last_place(earlier), COARSE * abs(carried)) if earlier["unit"] else 0.0
    wide = max(_last_place(value) / 2, *_steps(key, value["unit"], per), 1e-9 * abs(figure))
    edge = loose + 1e-9 * abs(carried)
    return any(abs(times * carried + plus - figure) <= wide + abs(times) * loose + _relative(key) * abs(figure) and _within(carried, edge, *reach)
               for times, plus, *reach in key["right"].get("from", {}).get(above, ()))


def _within(carried: float, edge: float, low: float = 0.0, high: float | None = None) -> bool:
    """Whether an earlier figure lies where a stretch holds; a key of an earlier version says nothing of that."""
    return low - edge <= carried and (high is None or carried <= high + edge)


def from_above(told: dict[str, Any], filled: Filled, above: list[tuple[str, dict[str, Any]]]) -> dict[str, Any]:
    """What a wrong box is told; where no slip explains it and it follows from a wrong box above, that.

    `above` are those boxes, the nearest first: id, and the figure as it was read.
    """
    if NO_SLIP not in told["feedback"]:
        return told
    typed = next((earlier["typed"].strip() for name, earlier in above if follows(*filled, name, earlier)), None)
    return told if typed is None else told | {"feedback": told["feedback"].replace(NO_SLIP, FROM_ABOVE.format(typed))}


def _last_place(value: dict[str, Any]) -> float:
    """The last place of what was typed, in the base unit; a count is exact."""
    return float(fineness(value.get("plain", value["typed"])) * PER_BASE.get(value["unit"], 1)) if value["unit"] else 0.0


def _relative(key: dict[str, Any]) -> float:
    return float(key["right"]["tolerance"].get("relative", 0))


def _steps(key: dict[str, Any], unit: str, per: float) -> list[float]:
    """The tolerances in a unit, and the step that the figure is rounded to there, in the base unit."""
    turn = key["right"]["round"]
    wide = [float(text) * float(PER_BASE.get(name, 1)) for name, text in key["right"]["tolerance"].items() if name != "relative"]
    return [*wide, float(turn["step"][unit]) * per] if turn and unit in turn["step"] else [*wide, 0.0]
