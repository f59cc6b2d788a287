"""What every layout needs: a length with its steps, the least tail, and the checks that refuse."""

from __future__ import annotations

from fractions import Fraction

from rigcalc._records import record
from rigcalc.errors import Refusal
from rigcalc.reference import constant
from rigcalc.units import exact

__all__ = ["TAIL_DIAMETERS", "CutLength", "least_tail_mm", "refuse_growth", "tail_to_set_mm"]

TAIL_DIAMETERS: Fraction = constant("tail before pressing").value  # before pressing, never after
SEEN_MM: Fraction = constant("tail to be seen after pressing").value
GROWTH_DIAMETERS: Fraction = constant("greatest growth of a sleeve").value
GREATEST_CORRECTION: Fraction = constant("greatest correction").value  # share of the length


@record
class CutLength:
    """The length to cut, in mm, and each step with its label and its part (minus where it is taken off)."""

    total_mm: float
    steps: tuple[tuple[str, float], ...]


def least_tail_mm(diameter_mm: float) -> float:
    """The least tail before pressing, in mm: two cable diameters. After pressing it need only be seen.

    `diameter_mm` is the cable's nominal diameter in mm. Errors: `Refusal` unless it is above zero.
    Source: common practice; AC 43.13-1B 7-148c says only that it must protrude.

    >>> least_tail_mm(3.175)
    6.35
    """
    return float(TAIL_DIAMETERS * above_zero(diameter_mm, "the cable's diameter"))


def tail_to_set_mm(diameter_mm: float, growth_mm: float = 0) -> float:
    """The least tail to set before pressing, in mm: two diameters, and what still shows when the sleeve grows over it.

    `diameter_mm` is the cable's, `growth_mm` the most that one sleeve grew, all of it counted towards the tail; both in mm.
    Errors: `Refusal` for a diameter not above zero, a growth below zero or beyond what any sleeve of that size grows.
    Source: common practice (two diameters); geometry (the growth).

    >>> tail_to_set_mm(2.38125, 3.5), tail_to_set_mm(2.38125, 4.5)
    (4.7625, 5.5)
    """
    refuse_growth(diameter_mm, growth_mm)
    return float(max(exact(least_tail_mm(diameter_mm)), exact(growth_mm) + SEEN_MM))


def refuse_growth(diameter_mm: float, growth_mm: float) -> None:
    """Refuses a sleeve's growth beyond what any sleeve of that size grows: a digit has slipped.

    `diameter_mm` is the cable's, `growth_mm` what one sleeve grew, both in mm.
    Errors: `Refusal` for a growth below zero or above two diameters.
    Source: workbook judgement: two diameters of tail are common practice and must still show.

    >>> refuse_growth(2.38125, 3.5)
    """
    growth, most = not_negative(growth_mm, "the sleeve's growth"), GROWTH_DIAMETERS * above_zero(diameter_mm, "the cable's diameter")
    if below(most, growth):
        raise Refusal(f"a sleeve that grows {float(growth):.3g} mm on a cable of {float(diameter_mm):.3g} mm",
                      f"at most two diameters, {float(most):.3g} mm: the greatest growth that is remembered is 1.6 diameters",
                      "look whether a digit has slipped, and measure three pressed sleeves again")


def added(steps: list[tuple[str, Fraction]]) -> CutLength:
    return CutLength(float(sum(part for _, part in steps)), tuple((label, float(part)) for label, part in steps))


def above_zero(value: float, words: str) -> Fraction:
    number = exact(value)
    if number <= 0:
        raise Refusal(f"{value} mm for {words}", "a length above 0 mm", "measure it again")
    return number


def not_negative(value: float, words: str) -> Fraction:
    number = exact(value)
    if number < 0:
        raise Refusal(f"{value} mm for {words}", "0 mm or more", "measure it again")
    return number


def below(value: Fraction, least: Fraction) -> bool:
    """Whether a length in mm is below the least: floats carry dust, and a millionth of a micrometre is none."""
    return value < least - Fraction(1, 10**9)


def check_tail(tail_mm: float, diameter_mm: float | None, where: str) -> None:
    """Refuse a tail of less than two diameters before pressing."""
    if diameter_mm is not None and below(exact(tail_mm), exact(least_tail_mm(diameter_mm))):
        raise Refusal(f"a tail of {tail_mm} mm before pressing at {where}",
                      f"at least two diameters, {least_tail_mm(diameter_mm):g} mm", "set a longer tail")


def check_correction(correction_mm: float, length: Fraction) -> Fraction:
    """The correction, refused where it is more of the length than any trial piece is out."""
    correction = exact(correction_mm)
    if abs(correction) > GREATEST_CORRECTION * length:
        raise Refusal(f"a correction of {float(correction):g} mm on a length of {float(length):g} mm",
                      f"at most {float(GREATEST_CORRECTION * length):g} mm, a tenth of the length", "measure the trial piece again, or make another")
    return correction
