"""Figures judged with floating point, where it leaves no doubt; None sends them to the exact fractions.

Whatever lies nearer to an edge than the dust of floating point is never judged here, so the outcome is that of the
exact way. Steps, tolerances and words are those of `rigcalc.questions.marking`.
"""

from __future__ import annotations

import re
from functools import lru_cache
from math import floor
from typing import Any

from rigcalc._quantities import PER_BASE

__all__ = ["PLAIN", "far_apart", "judge"]

REFUSE = "refuse"
DUST = 1e-12  # floats here are off by a thousandth of this at most
LARGEST = 200_000.0  # figures to the millionth part are told apart by DUST up to here
PLAIN = re.compile(  # the figure, and its decimals
    r"([0-9]{1,6}(?:\.([0-9]{1,6}))?) ?(?:[A-Za-z]*|°C)", re.ASCII)
_FACTOR = {"deg": 1.0, "°C": 1.0, "": 1.0} | {unit: float(value) for unit, value in PER_BASE.items()}
_FINE = tuple(10.0**-places for places in range(7))


class _Doubt(Exception):
    """Too near to an edge, or of a form that is not known here."""


def _sure(left: float, right: float, dust: float) -> bool:
    """Whether left is at most right, where that is sure."""
    if left <= right - dust or left == right == 0:
        return True
    if left > right + dust:
        return False
    raise _Doubt


@lru_cache(4096)
def _step(text: str) -> float:
    step = float(text)
    if not 1e-6 <= step <= 1e6 or step * 1e6 != round(step * 1e6):
        raise _Doubt
    return step


def _float(text: str) -> float:
    over, _, under = text.partition("/")
    return int(over) / int(under or 1)


def far_apart(one: str, other: str, step: str, unit: str) -> bool:
    """Whether two exact figures in base units are more than a step of the unit apart, beyond doubt."""
    return abs(_float(one) - _float(other)) > 1.001 * float(step) * _FACTOR[unit] + DUST * LARGEST


def _value(in_base: float, factor: float) -> float:
    value = in_base / factor
    if value and not 1e-6 < abs(value) < LARGEST:
        raise _Doubt
    return value


def _rounded(value: float, step: float, direction: str) -> float:
    steps = value / step
    whole, dust = round(steps), 1e-15 * abs(steps) + 1e-15  # five roundings of floats, each of 1.2e-16 at most
    if dust > 4e-10:
        raise _Doubt
    if not _sure(abs(steps - whole), 1e-9, dust):
        low = floor(steps)
        if direction == "nearest":
            whole = low + (0 if _sure(steps, low + 0.5, dust) else 1)
        else:
            whole = low if direction == "down" else low + 1
    return whole * step


def _wide(tolerance: dict[str, str], size: float, unit: str) -> float:
    """How far from a figure of this size still counts as that figure."""
    wide = size * 1e-9
    for name, text in tolerance.items():
        if name == "relative":
            wide = max(wide, size * float(text))
        elif name == unit or unit not in tolerance:
            wide = max(wide, float(text) * (_FACTOR[name] / _FACTOR[unit]))
    return wide


def _given_coarsely(figure: float, value: float, steps: list[float], dust: float) -> bool:
    """Whether the figure is the value rounded down or up to one of the steps."""
    for step in steps:
        low, whole = floor(value / step), round(value / step)
        if abs(value / step - whole) < 1e-7:  # then the nearest whole number may be the one above, the one below or neither
            if min(abs(figure - (whole + one) * step) for one in (-1, 0, 1)) <= dust:
                raise _Doubt
        elif min(abs(figure - low * step), abs(figure - (low + 1) * step)) <= dust:
            return True
    return False


def _gives(slip: dict[str, Any], value: float, figure: float, fine: float, meant: float | None, own: float,
           tolerance: dict[str, str], unit: str) -> bool:
    """Whether a misstep gives this figure, rounded as a person would round it."""
    size, away, dust = abs(value), abs(figure - value), DUST * (figure + abs(value))
    turn = slip["round"]
    if turn:
        return _sure(abs(figure - _rounded(value, _step(turn["step"].get(unit, "1")), turn["direction"])), size * 1e-9, dust)
    near = max(size * 0.015, own)
    counts = max(size * (1e-9 + max(float(tolerance.get("relative", 0)), 0.0)), _wide(tolerance, size, unit))
    if away > 1.001 * (near + counts):
        return False
    in_halves = _FACTOR[unit] == 1 and slip["exact"].partition("/")[2] in ("", "2") and (2 * figure).is_integer() and (2 * counts).is_integer()
    if _sure(away, counts, 0.0 if in_halves else dust):  # halves carry no dust
        return True
    if not _given_coarsely(figure, value, [fine, own] if own else [fine], dust) or not _sure(away, near, dust):
        return False
    return meant is None or not _sure(abs(figure - meant), away, dust)  # what was typed coarsely may have meant the right one


def _judge(key: dict[str, Any], plain: str, unit: str) -> tuple[bool, list[dict[str, Any]], bool] | None:
    found = PLAIN.fullmatch(plain)
    if not found:
        return None
    right, figure, factor, meant = key["right"], float(found[1]), _FACTOR[unit], None
    fine, tolerance, turn = _FINE[len(found[2] or "")], right["tolerance"], right["round"]
    own = _step(turn["step"][unit]) if turn and unit in turn["step"] else 0.0
    if figure > LARGEST or "absolute" in tolerance:
        return None
    if right["exact"] != REFUSE:
        meant = _value(_float(right["exact"]), factor)
        if own:
            meant = _rounded(meant, own, turn["direction"])
        away, dust = abs(figure - meant), DUST * (figure + abs(meant))
        if _sure(away, _wide(tolerance, abs(meant), unit), dust):
            return True, [], False
        if _sure(away, fine / 2, dust):
            return False, [], True
    fits, far = [], 0.02 + float(tolerance.get("relative", 0))
    reach = 1.01 * (own + _wide(tolerance, 0.0, unit)) + 1e-6  # beyond far and reach a misstep gives nothing that is typed
    for slip in key["missteps"]:
        if slip["exact"] != REFUSE:
            value = _value(slip["value"] if "value" in slip else _float(slip["exact"]), factor)
            if not slip["round"] and abs(figure - value) > far * abs(value) + reach:
                continue
            if _gives(slip, value, figure, fine, meant, own, tolerance, unit):
                fits.append((abs(value - figure), slip))
    if len(fits) > 1:
        fits.sort(key=lambda one: one[0])
        if any(after[0] - before[0] <= 1e-9 * (figure + after[0]) and after[1]["exact"] != before[1]["exact"] for before, after in zip(fits, fits[1:])):
            return None
    return False, [slip for _, slip in fits], False


def judge(key: dict[str, Any], plain: str, unit: str) -> tuple[bool, list[dict[str, Any]], bool] | None:
    """Whether a figure is right, the missteps that give it (nearest first), whether it is only too coarse; None: in doubt."""
    try:
        return _judge(key, plain, unit)
    except (_Doubt, KeyError):
        return None
