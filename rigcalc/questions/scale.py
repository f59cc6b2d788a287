"""Figures in the unit shown: rounding steps, tolerances and the words for them. Compared as exact fractions."""

from __future__ import annotations

import re
from fractions import Fraction
from functools import lru_cache

from rigcalc.questions.family import Answer
from rigcalc.units import exact, in_unit, round_to

__all__ = ["UNITS", "bounds", "dimension", "fineness", "in_fraction", "right_in", "rounded", "tolerance_words", "tolerances"]

UNITS = {"force": ("lbf", "N", "kN"), "length": ("mm", "m", "in", "ft"), "mass": ("kg", "lb"), "angle": ("deg",),
         "temperature": ("°C",),
         "count": ("",)}
DUST = Fraction(1, 10**9)  # floats on the way carry this much; it never moves a figure across a step


def dimension(unit: str) -> str | None:
    """'force', 'length', 'mass', 'angle', 'temperature' or 'count' (no unit); None for a unit that nothing reads."""
    return next((name for name, units in UNITS.items() if unit in units), None)


@lru_cache(maxsize=16384, typed=True)
def in_fraction(base: object, unit: str) -> Fraction:
    """A figure in N, mm, kg, degrees or plain, as a fraction of the unit."""
    if unit in ("deg", "°C", ""):
        return exact(base)
    return Fraction(in_unit(base, unit))


@lru_cache(maxsize=16384, typed=True)
def rounded(value: Fraction, step: object, direction: str) -> Fraction:
    """To a step of the unit shown; what lies within 1e-9 of a step counts as that step."""
    return Fraction(round_to(value, str(step), direction))


def fineness(typed: str) -> Fraction:
    """How finely a figure was typed: the step of its fraction (1/8 for '3 1/8 in'), or its last place."""
    over = re.search(r"\d\s*/\s*(\d{1,4})\b", typed)
    if over and int(over[1]):
        return Fraction(1, int(over[1]))
    numbers = re.findall(r"\d+(?:\.(\d*))?|\.(\d+)", typed)
    return Fraction(1, 10**min(len("".join(numbers[-1])), 9)) if numbers else Fraction(0)


def right_in(answer: Answer, base: Fraction, unit: str) -> Fraction:
    """The right figure in this unit, rounded as the family says."""
    value = in_fraction(base, unit)
    if answer.round and unit in answer.round.step:
        return rounded(value, answer.round.step[unit], answer.round.direction)
    return value


def tolerances(answer: Answer) -> dict[str, float]:
    """The tolerance by name: 'relative', or the unit it is in ('absolute' is in the unit asked)."""
    return {answer.unit if name == "absolute" else name: value for name, value in answer.tolerance.items()}


def bounds(answer: Answer, base: Fraction, unit: str) -> tuple[Fraction, Fraction]:
    """The least and the greatest figure in this unit that counts as right."""
    right = right_in(answer, base, unit)
    wide = abs(right) * DUST
    for name, value in tolerances(answer).items():
        if name == "relative":
            wide = max(wide, abs(right) * exact(value))
        elif name == unit or unit not in tolerances(answer):
            wide = max(wide, exact(value) * in_fraction(1, unit) / in_fraction(1, name))
    return right - wide, right + wide


def tolerance_words(answer: Answer) -> str:
    """The tolerance as it stands on the page."""
    if answer.round and not any(answer.tolerance.values()):
        steps = " or ".join(f"{answer.round.step[unit]:g} {unit}" for unit in answer.accept)
        way = {"down": "rounded down", "up": "rounded up", "nearest": "rounded to the nearest"}
        return f"{way[answer.round.direction]} to {steps}; exact, with no tolerance"
    if "relative" in answer.tolerance:
        return f"within {answer.tolerance['relative'] * 100:g} %"
    words = " or ".join(f"{value:g} {unit}".strip() for unit, value in tolerances(answer).items() if value)
    return f"within {words}" if words else "exact, with no tolerance"
