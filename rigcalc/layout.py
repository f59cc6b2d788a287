"""Layout: the cut length of an assembly with an eye at each end, pin to pin."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from rigcalc.errors import Refusal
from rigcalc.reference import constant
from rigcalc.units import exact

__all__ = ["TAIL_DIAMETERS", "CutLength", "EyeParts", "cut_length_mm", "least_tail_mm"]

TAIL_DIAMETERS: Fraction = constant("tail before pressing").value  # before pressing, never after


@dataclass(frozen=True)
class EyeParts:
    """What one thimble eye takes, in mm: cable round the loop, bearing point to the near edge of the sleeve,
    the sleeve before pressing, the tail before pressing."""

    loop_mm: float
    bearing_to_sleeve_mm: float
    sleeve_before_mm: float
    tail_mm: float


@dataclass(frozen=True)
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
    diameter = exact(diameter_mm)
    if diameter <= 0:
        raise Refusal(f"the diameter {diameter_mm} mm", "a diameter above 0 mm", "measure over the crowns")
    return float(TAIL_DIAMETERS * diameter)


def cut_length_mm(pin_to_pin_mm: float, first: EyeParts, second: EyeParts, correction_mm: float = 0,
                  diameter_mm: float | None = None) -> CutLength:
    """The length to cut, in mm, for an assembly with two thimble eyes.

    L = pin to pin - (E1 + E2) + for each eye (loop + sleeve before pressing + tail before pressing), and the
    correction kept from the trial piece. `pin_to_pin_mm` is between bearing points.
    With `diameter_mm` a tail of less than two diameters is refused.
    Errors: `Refusal` for parts that are negative or leave no cable between the sleeves.
    Source: common practice, worked out from the parts.

    >>> eye = EyeParts(loop_mm=70, bearing_to_sleeve_mm=30, sleeve_before_mm=15, tail_mm=7)
    >>> cut_length_mm(2400, eye, eye).total_mm
    2524.0
    """
    pin_to_pin, correction = exact(pin_to_pin_mm), exact(correction_mm)
    steps: list[tuple[str, Fraction]] = [("pin to pin, bearing point to bearing point", pin_to_pin)]
    for name, eye in (("first", first), ("second", second)):
        _check_eye(name, eye, diameter_mm)
        steps += [(f"{name} eye: less bearing point to sleeve", -exact(eye.bearing_to_sleeve_mm)),
                  (f"{name} eye: cable round the loop", exact(eye.loop_mm)),
                  (f"{name} eye: sleeve before pressing", exact(eye.sleeve_before_mm)),
                  (f"{name} eye: tail before pressing", exact(eye.tail_mm))]
    if correction:
        steps.append(("correction from the trial piece", correction))
    _check_room(pin_to_pin, first, second)
    return CutLength(float(sum(part for _, part in steps)), tuple((label, float(part)) for label, part in steps))


def _check_eye(name: str, eye: EyeParts, diameter_mm: float | None) -> None:
    for part, words in (("loop_mm", "cable round the loop"), ("bearing_to_sleeve_mm", "bearing point to sleeve"),
                        ("sleeve_before_mm", "sleeve before pressing"), ("tail_mm", "tail before pressing")):
        if exact(getattr(eye, part)) <= 0:
            raise Refusal(f"{getattr(eye, part)} mm for the {name} eye's {words}", "a length above 0 mm", "measure it again")
    if diameter_mm is not None and exact(eye.tail_mm) < exact(least_tail_mm(diameter_mm)):
        raise Refusal(f"a tail of {eye.tail_mm} mm before pressing at the {name} eye",
                      f"at least two diameters, {least_tail_mm(diameter_mm):g} mm", "set a longer tail")


def _check_room(pin_to_pin: Fraction, first: EyeParts, second: EyeParts) -> None:
    taken = sum(exact(eye.bearing_to_sleeve_mm) + exact(eye.sleeve_before_mm) for eye in (first, second))
    if pin_to_pin <= taken:
        raise Refusal(f"{float(pin_to_pin):g} mm pin to pin", f"more than {float(taken):g} mm, what the two eyes and sleeves take",
                      "measure again, or ask for a longer assembly")
