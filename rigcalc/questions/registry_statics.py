"""Calculations of legs, braces, stays and spans that families of lesson 10 name. Forces in N, lengths in mm, angles in degrees."""

from __future__ import annotations

import math
from typing import Any

from rigcalc.errors import Refusal
from rigcalc.questions.registry import _calculation
from rigcalc.units import LBF_N

__all__: list[str] = []

TINY, CLEAR = 1e-7, 0.06  # of a step: a whole figure; what a tenth of a step may not round to a whole one


# --- legs -----------------------------------------------------------------------------------------

@_calculation
def equal_leg_n(load_n: float, count: int, angle_deg: float, angle_from: str) -> float:
    """The tension in N for which to size each of two, three or four equal legs; refused below 30° from the horizontal."""
    from rigcalc.legs import symmetrical_legs

    return symmetrical_legs(load_n, count, math.radians(angle_deg), angle_from=angle_from).tension_n


@_calculation
def shared_leg_n(load_n: float, legs_on: int, angle_deg: float) -> float:
    """Load ÷ (legs counted on × sine of the angle from the horizontal), in N, for however many somebody counts on."""
    return load_n / (legs_on * math.sin(math.radians(angle_deg)))


@_calculation
def times_sine_n(load_n: float, legs_on: int, angle_deg: float) -> float:
    """Load ÷ legs × sine, in N: the sine on the wrong side."""
    return load_n / legs_on * math.sin(math.radians(angle_deg))


@_calculation
def angle_from_horizontal_deg(angle_deg: float, angle_from: str) -> float | None:
    """A leg's angle from the horizontal, in degrees; None (refuse) where nobody says which angle is meant."""
    from rigcalc.legs import symmetrical_legs

    try:
        found = symmetrical_legs(1.0, 2, math.radians(angle_deg), angle_from=angle_from if angle_from != "not said" else None)
    except Refusal:
        if angle_from == "not said":
            return None
        raise
    return round(math.degrees(found.from_horizontal_rad), 9)


@_calculation
def three_meanings_n(load_n: float, angle_deg: float, system: str, order: list[str]) -> list[str]:
    """The tension in each of two equal legs for one angle taken as each of these meanings, as the page shows it."""
    from rigcalc.units import show_force

    return [show_force(equal_leg_n(load_n, 2, angle_deg, one), system=system) for one in order]


@_calculation
def force_said(force_n: float, system: str) -> str:
    """A force as the page shows it."""
    from rigcalc.units import show_force

    return show_force(force_n, system=system)


@_calculation
def plumb_leg_n(load_n: float, apart_mm: float, at_mm: float, leg: str) -> float:
    """The tension in N of leg A (at 0) or B (`apart_mm` off) of two plumb legs, the centre of mass `at_mm` from A."""
    from rigcalc.legs import vertical_legs

    return vertical_legs([(0, 0), (apart_mm, 0)], (at_mm, 0), load_n)[leg].tension_n


@_calculation
def bridle_leg_n(load_n: float, height_mm: float, short_mm: float, long_mm: float, which: str = "governs") -> float:
    """The tension in N of a leg of a bridle from one point to two, `short_mm` and `long_mm` off the plumb line.

    `which` is 'short', 'long' or 'governs' (the greater); refused below 30° from the horizontal.
    """
    found = _bridle(load_n, height_mm, short_mm, long_mm)
    return found[found.governs[0] if which == "governs" else which].tension_n


def _bridle(load_n: float, height_mm: float, short_mm: float, long_mm: float) -> Any:
    from rigcalc.legs import legs

    return legs([(-short_mm, 0, 0), (long_mm, 0, 0)], (0, 0, -height_mm), load_n, names=("short", "long"))


@_calculation
def share_by_reach_n(load_n: float, short_mm: float, long_mm: float, nearer: bool = True) -> float:
    """The upright share of the leg whose point is nearer (or farther) to the plumb line, in N, as if legs hung plumb."""
    return load_n * (long_mm if nearer else short_mm) / (short_mm + long_mm)


@_calculation
def drop_angle_deg(drop_mm: float, reach_mm: float) -> float:
    """The angle from the horizontal of a leg that falls `drop_mm` over `reach_mm`, in degrees, to a tenth."""
    return round(math.degrees(math.atan2(drop_mm, reach_mm)), 1)


@_calculation
def sine_of(drop_mm: float, reach_mm: float) -> float:
    """The sine of the angle from the horizontal of a leg that falls `drop_mm` over `reach_mm`, to three places."""
    return round(drop_mm / math.hypot(drop_mm, reach_mm), 3)


@_calculation
def sine_of_deg(angle_deg: float) -> float:
    """The sine of an angle in degrees, to three places."""
    return round(math.sin(math.radians(angle_deg)), 3)


@_calculation
def hung_leg_n(load_n: float, reach_mm: float, drop_mm: float) -> float | None:
    """The tension in N of each of two like legs, `reach_mm` off the plumb line and `drop_mm` high; None (refuse) below 30°."""
    from rigcalc.legs import legs

    try:
        return legs([(-reach_mm, 0, drop_mm), (reach_mm, 0, drop_mm)], (0, 0, 0), load_n).legs[0].tension_n
    except Refusal:
        return None


@_calculation
def worked_leg_n(load_n: float, reach_mm: float, drop_mm: float) -> float:
    """The same tension worked out whatever the angle, in N: a figure that nobody may use below 30°."""
    return load_n / 2 * math.hypot(reach_mm, drop_mm) / drop_mm


@_calculation
def worked_beside_n(load_n: float, reach_mm: float, drop_mm: float) -> float:
    """Sine and cosine changed for each other, in N."""
    return load_n / 2 * math.hypot(reach_mm, drop_mm) / reach_mm


@_calculation
def legs_in_place(shapes: list[dict[str, Any]], letters: list[str], which: str) -> str:
    """The letter of the hanging that pulls 'hardest' or 'least', hangs 'lowest', or has its anchors 'widest' apart."""
    found = {"hardest": lambda one: -worked_leg_n(1.0, one["reach"], one["drop"]),
             "least": lambda one: worked_leg_n(1.0, one["reach"], one["drop"]),
             "lowest": lambda one: -one["drop"], "widest": lambda one: -one["reach"]}[which]
    return letters[min(range(len(shapes)), key=lambda at: found(shapes[at]))]


@_calculation
def letter_of_kind(shapes: list[dict[str, Any]], letters: list[str], mark: str) -> str:
    """The letter of the one drawing marked so."""
    return next(letter for one, letter in zip(shapes, letters, strict=True) if one["mark"] == mark)


@_calculation
def refused_letter(shapes: list[dict[str, Any]], letters: list[str]) -> str:
    """The letter of the one drawing whose load-carrying legs are refused as too flat."""
    found = [letter for one, letter in zip(shapes, letters, strict=True)
             if one["kind"] == "legs" and hung_leg_n(1.0, one["reach"], one["drop"]) is None]
    if len(found) != 1:
        raise Refusal(f"{len(found)} drawings with legs too flat", "exactly one", "draw others")
    return found[0]


@_calculation
def diagonal_mm(across_mm: float, down_mm: float) -> int:
    """The straight way from a point to another so far across and so far down, in mm, to a whole one."""
    return round(math.hypot(across_mm, down_mm))


@_calculation
def slack_leg_of_two(apart_mm: float, left_mm: float, right_mm: float) -> str:
    """Which of two legs of given lengths carries nothing, once the load hangs at rest: 'left', 'right' or 'neither'.

    Refused where legs that pull stand below 30° from the horizontal, or where a leg is slack or tight by less than a twentieth.
    """
    from rigcalc.legs import hanging_point, legs

    anchors, lengths = [(0.0, 0.0, 0.0), (apart_mm, 0.0, 0.0)], (left_mm, right_mm)
    if abs(max(lengths) / math.hypot(apart_mm, min(lengths)) - 1) < 0.05:
        raise Refusal(f"legs of {left_mm} and {right_mm} mm", "legs well past being straight, or well short of it", "take others")
    there = hanging_point(anchors, lengths)
    loose = [math.dist(anchor, there) < length * (1 - 1e-6) for anchor, length in zip(anchors, lengths, strict=True)]
    if not any(loose):
        legs(anchors, there, 1.0)
    return "left" if loose[0] else "right" if loose[1] else "neither"


# --- stays and braces -----------------------------------------------------------------------------

@_calculation
def stay_in_wind(letters: list[str], turn_deg: float, wind_from_deg: float, which: str) -> str:
    """The letter of the stay of three, 120° apart, that pulls 'most', 'less' or is 'slack' in a wind from this direction.

    Directions in plan, against the clock from the right; the first stay stands at `turn_deg`.
    """
    from rigcalc.braces import mast_stays

    anchors = [(1000 * math.cos(math.radians(turn_deg + 120 * at)), 1000 * math.sin(math.radians(turn_deg + 120 * at)))
               for at in range(3)]
    found = mast_stays(100, math.radians(wind_from_deg + 180), 3000, 2000, anchors, names=letters)
    ranked = [stay.name for stay in sorted(found.stays, key=lambda stay: -stay.tension_n)]
    if len(found.slack) != 1 or len(found.governs) != 1:
        raise Refusal("a wind in line with a stay or halfway between two", "one stay slack and one governing", "turn the wind")
    return ranked[("most", "less", "slack").index(which)]


@_calculation
def gate_brace_n(width_mm: float, height_mm: float, load_n: float) -> float:
    """The tension in N of the cable that keeps a gate from sagging, from its free lower corner up to the post."""
    from rigcalc.braces import gate_brace

    return gate_brace(width_mm, height_mm, load_n).tension_n


# --- spans ----------------------------------------------------------------------------------------

@_calculation
def span_tension_n(span_mm: float, sag_mm: float, load_n: float) -> float:
    """The tension in N at each end of a level span with one load hung at mid-span."""
    from rigcalc.spans import point_load_span

    return point_load_span(span_mm, sag_mm, load_n).greatest_n


@_calculation
def span_by_whole_length_n(span_mm: float, sag_mm: float, load_n: float) -> float:
    """The same sum with the angle taken over the whole span instead of half of it, in N."""
    return load_n / 2 * math.hypot(span_mm, sag_mm) / sag_mm


@_calculation
def spread_tension_n(span_mm: float, sag_mm: float, load_n: float) -> float:
    """The greatest tension in N of a level span with its load spread evenly along it."""
    from rigcalc.spans import uniform_load_span

    return uniform_load_span(span_mm, sag_mm, load_n).greatest_n


@_calculation
def sag_changed_times(times: float) -> float:
    """How many times the tension becomes when the sag of a lightly sagging span becomes so many times what it was, to 0.01."""
    from rigcalc.spans import point_load_span

    before, after = (point_load_span(10_000, 200 * one, 100).greatest_n for one in (1.0, times))
    return round(after / before, 2)


_TIMES = {16.0: "sixteen times what it was", 4.0: "four times what it was", 2.0: "twice what it was", 1.0: "the same as it was",
          0.5: "half of what it was", 0.25: "a quarter of what it was", 0.06: "a sixteenth of what it was"}


@_calculation
def times_in_words(number: float, power: float = 1) -> str:
    """A multiple raised to a power, in words; refused where there is no plain word for it."""
    found = round(number**power, 2)
    if found not in _TIMES:
        raise Refusal(f"{found} times", ", ".join(str(one) for one in _TIMES), "take another")
    return _TIMES[found]


@_calculation
def standard_gravity() -> float:
    """Standard gravity, in m/s²."""
    from rigcalc.reference import constant

    return float(constant("standard gravity").value)


@_calculation
def leg_from_the_plumb_n(load_n: float, legs_on: int, angle_deg: float) -> float:
    """The tension in N of somebody who takes an angle from the horizontal as from the plumb line; refuses legs that hang plumb."""
    if angle_deg >= 90:
        raise Refusal(f"{angle_deg} degrees", "less than 90 degrees from the horizontal", "take slanted legs")
    return load_n / (legs_on * math.cos(math.radians(angle_deg)))


# --- what a draw must be ----------------------------------------------------------------------------

@_calculation
def rounds_alike(plumb_n: float, angle_deg: float, way: str, system: str) -> bool:
    """Yes where a force 'times' or 'over' the sine rounds alike with the sine to three places, and is whole or clearly not; refuses else.

    `plumb_n`: the force in N without the slant. Whole: to 1 lbf in a US shop, 0.01 kN in an SI one, and clearly so to 1 N in both.
    """
    sine, short = math.sin(math.radians(angle_deg)), sine_of_deg(angle_deg)
    force, by_hand = (plumb_n * sine, plumb_n * short) if way == "times" else (plumb_n / sine, plumb_n / short)
    own_n = float(LBF_N) if system == "US" else 10.0
    alike = math.floor(force / own_n + TINY) == math.floor(by_hand / own_n + TINY)
    if not alike or any(TINY < abs(force / step - round(force / step)) < CLEAR for step in (own_n, 1.0)):
        raise Refusal(f"{force} N at {angle_deg} degrees", "a force whose rounding does not hang on the last digit of a sine", "draw again")
    return True
