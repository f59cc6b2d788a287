"""Calculations on clips, tails and cut lengths that families of lessons 04 and 05 name, and a few of 06 to 10."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from rigcalc.errors import Refusal
from rigcalc.questions.registry import _calculation

__all__: list[str] = []

MOST = Fraction(1, 2)  # inch: the largest size that these questions ask about


def _has_row(size: str) -> bool:
    from rigcalc.clips import built_in_rows

    try:
        built_in_rows(size)
    except Refusal:
        return False
    return True


# --- number and spacing ---------------------------------------------------------------------------

@_calculation
def clip_sizes_said() -> str:
    """The sizes up to 1/2 that the clip tables have rows for, as they stand in a sentence."""
    from rigcalc.reference import table

    listed = {row.rope for row in table("clip_rows") if " " not in row.rope and Fraction(row.rope) <= MOST}
    known = [size for size in sorted(listed, key=Fraction) if _has_row(size)]
    return f"{', '.join(known[:-1])} and {known[-1]}"


@_calculation
def clips_on_an_end(size: str, drop_forged: bool, none: str) -> int | str:
    """The least number of clips on one end, or the words for none where the tables have no row for the size."""
    from rigcalc.clips import clips_needed

    return clips_needed(size, drop_forged) if _has_row(size) else none


@_calculation
def clips_by_thumb(size: str) -> int:
    """The number of clips on one end that a rule of thumb gives; it never sets a number here."""
    from rigcalc.clips import rule_of_thumb

    return rule_of_thumb(size).gives


@_calculation
def clip_spacing_mm(size: str) -> float:
    """The spacing of the clips on a cable of this size, in mm: six of its diameters, up to the next 0.1 mm, as the lesson's tables have it."""
    from rigcalc.clips import spacing_mm
    from rigcalc.units import round_to

    return float(round_to(spacing_mm(size), "0.1", "up"))


@_calculation
def clip_cell_mm() -> float:
    """The spacing that a published table prints in its line for '1/2 or less', in mm."""
    from rigcalc.reference import table
    from rigcalc.units import INCH_MM

    return float(Fraction(str(table("clip_numbers")[0].spacing_in)) * INCH_MM)


@_calculation
def clip_turnback_mm(size: str, drop_forged: bool, row_mm: float, row_number: int) -> float:
    """The turnback of a clipped end, in mm, by a drawn row of a clip maker's table: longer in proportion for more clips."""
    from rigcalc.clips import ClipRow, clip_plan

    row = ClipRow(size, row_mm, 1.0, row_number, "a drawn row", "1", invented=True)
    return clip_plan(size, drop_forged, row).turnback_mm


# --- how strong -----------------------------------------------------------------------------------

@_calculation
def clip_share() -> float:
    """The part of the cable's strength that a clipped end keeps: the lowest figure read."""
    from rigcalc.clips import clip_efficiency

    return clip_efficiency()


@_calculation
def clipped_limit_or_refused_n(size: str, breaking_force_n: float, factor: float) -> float | None:
    """The limit in N of a cable with clipped ends; None (refuse) where the clip tables have no row for the size."""
    from rigcalc.rating import working_load_limit_n

    return working_load_limit_n(breaking_force_n, clip_share(), factor) if _has_row(size) else None


@_calculation
def clipped_limit_taken_for_n(size: str, share: float, breaking_force_n: float, factor: float) -> float:
    """The limit in N of somebody who takes another share for a clipped end; refuses where there is no row for the size."""
    if not _has_row(size):
        raise Refusal(f"clips for {size}", "a size with a row", "leave this out")
    return breaking_force_n * share / factor


@_calculation
def unrowed_limit_n(size: str, breaking_force_n: float, factor: float) -> float:
    """The limit in N of somebody who clips a size without a row all the same; refuses where there is a row."""
    if _has_row(size):
        raise Refusal(f"clips for {size}", "a size without a row", "leave this out")
    return breaking_force_n * clip_share() / factor


@_calculation
def refused_with_a_row(size: str) -> str:
    """'refuse', as a misstep, for a size that has a row in the clip tables; refuses itself where there is none."""
    if not _has_row(size):
        raise Refusal(f"clips for {size}", "a size with a row", "leave this out")
    return "refuse"


# --- where no clips -------------------------------------------------------------------------------

@_calculation
def places_for_clips(items: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Drawn places, each with whether a published rule forbids clips there (`clips`: forbidden or not) by its `rule`,
    counted from 1 in the table of rules; 0 is a place that no rule forbids."""
    from rigcalc.clips import where_forbidden

    return [item | _judged_place(item, where_forbidden()) for item in items]


def _judged_place(item: dict[str, Any], rules: tuple) -> dict[str, str]:
    if not item["rule"]:
        return {"clips": "not forbidden", "feedback": item["why"]}
    rule = rules[item["rule"] - 1]
    return {"clips": "forbidden", "feedback": f"{item['why']} {rule.says} ({rule.source})"}


# --- what was left out of a cut length ------------------------------------------------------------

_COUNTS = {"one tail": {"tails": 1}, "both tails": {"tails": 0}, "one sleeve": {"sleeves": 1}, "both sleeves": {"sleeves": 0},
           "one loop": {"loops": 1}, "one bearing": {"bearings": 1}, "both bearings": {"bearings": 0}, "pressed sleeves": {}}


def _off_by_mm(slip: str, parts: dict[str, float]) -> Fraction:
    """How much too long (or, negative, too short) a slip makes the cut, in mm."""
    from rigcalc.questions.registry import cut_length_counted_mm

    given = {name: parts[name] for name in ("loop_mm", "bearing_to_sleeve_mm", "sleeve_mm", "tail_mm")}
    taken = given | ({"sleeve_mm": parts["after_mm"]} if slip == "pressed sleeves" else {})
    return Fraction(cut_length_counted_mm(1000, **taken, **_COUNTS[slip])) - Fraction(cut_length_counted_mm(1000, **given))


@_calculation
def cut_off_said(slip: str, loop_mm: float, bearing_to_sleeve_mm: float, sleeve_mm: float, after_mm: float, tail_mm: float) -> str:
    """How much too long or too short one slip in the sum makes a cut with two eyes alike, in words; refuses where
    another slip would give the same to 1.5 mm, so that the figure could not tell which it was."""
    parts = {"loop_mm": loop_mm, "bearing_to_sleeve_mm": bearing_to_sleeve_mm, "sleeve_mm": sleeve_mm,
             "after_mm": after_mm, "tail_mm": tail_mm}
    off = _off_by_mm(slip, parts)
    if any(other != slip and abs(_off_by_mm(other, parts) - off) < 1.5 for other in _COUNTS):
        raise Refusal(f"{float(off):g} mm", "a figure that only one slip gives", "draw again")
    from rigcalc.units import show_set_in_inches

    return f"{show_set_in_inches(abs(off)) or f'{abs(float(off)):g} mm'} too {'long' if off > 0 else 'short'}"


# --- where the end lies ---------------------------------------------------------------------------

@_calculation
def tail_of_mm(size: str, diameters: float) -> float:
    """A tail of so many cable diameters, in mm, to 0.1 mm, a half up."""
    from rigcalc.units import INCH_MM

    return float((Fraction(size) * Fraction(INCH_MM) * Fraction(diameters) * 10 + Fraction(1, 2)) // 1 / 10)


@_calculation
def one_leg_only_mm(growth_mm: float, tail_mm: float) -> float:
    """How far inside the sleeve the end lies when all of the growth has gone over the tail, in mm; refuses less than 1 mm."""
    inside = Fraction(f"{float(growth_mm):.6f}") - Fraction(f"{float(tail_mm):.6f}")
    if inside < 1:
        raise Refusal(f"a tail of {tail_mm:g} mm and a growth of {growth_mm:g} mm", "an end well inside", "draw a shorter tail")
    return float(inside)


# --- legs -----------------------------------------------------------------------------------------

@_calculation
def load_of_legs_n(limit_n: float, count: int, angle_deg: float) -> float | None:
    """The heaviest load in N for so many equal legs of this limit; None (refuse) below 30° from the horizontal."""
    from rigcalc.questions.registry_statics import equal_leg_n

    try:
        return limit_n / equal_leg_n(1.0, count, angle_deg, "horizontal")
    except Refusal:
        return None


@_calculation
def load_of_legs_down_n(limit_n: float, count: int, angle_deg: float, system: str) -> float | None:
    """The same load as a sheet shows it, rounded down, in N; None (refuse) below 30° from the horizontal."""
    from rigcalc.questions.registry import call

    load = load_of_legs_n(limit_n, count, angle_deg)
    return None if load is None else call("as_shown_down_n", {"force_n": load, "system": system})


@_calculation
def load_by_legs_on_n(limit_n: float, legs_on: float, angle_deg: float) -> float:
    """The load in N of somebody who counts on so many legs, whatever their angle."""
    from rigcalc.questions.registry_statics import shared_leg_n

    return limit_n / shared_leg_n(1.0, legs_on, angle_deg)


@_calculation
def load_over_sine_n(limit_n: float, legs_on: int, angle_deg: float) -> float:
    """Limit × legs ÷ sine, in N: the sine on the wrong side."""
    from rigcalc.questions.registry_statics import times_sine_n

    return limit_n / times_sine_n(1.0, legs_on, angle_deg)


# --- laps -----------------------------------------------------------------------------------------

@_calculation
def lap_overlap_mm(size: str, before_mm: float, after_mm: float, tail_mm: float, gap_mm: float) -> float:
    """How long two ends lie side by side in a lap splice before pressing, in mm, from cut end to cut end."""
    from rigcalc.layout import lap_splice
    from rigcalc.units import INCH_MM

    diameter = float(Fraction(size) * Fraction(INCH_MM))
    return lap_splice(diameter, before_mm, after_mm - before_mm, tail_mm, (1, 1), "closed ring", "nobody", gap_mm).overlap_mm


# --- caliper --------------------------------------------------------------------------------------

@_calculation
def readings_judged(limit_mm: float, guard_mm: float, steps: list[float], system: str = "SI") -> list[dict[str, Any]]:
    """Caliper readings so many guard bands from a limit, each with its words in the shop's units and its `verdict`."""
    return [_judged_reading(at, limit_mm, guard_mm, one, system) for at, one in enumerate(steps, 1)]


def _judged_reading(at: int, limit_mm: float, guard_mm: float, steps: float, system: str) -> dict[str, Any]:
    from rigcalc.questions.registry_gauges import guarded_mm, judged, two_places_said

    reading = guarded_mm(limit_mm, guard_mm, steps)
    return {"en": f"crimp {at}: {two_places_said(reading, system)}", "reading": reading, "verdict": judged(reading, limit_mm, guard_mm)}


@_calculation
def readings_up_to(items: list[dict[str, Any]], limit_mm: float) -> list[str]:
    """The readings not above a limit, whatever the guard band says."""
    return [item["en"] for item in items if item["reading"] <= limit_mm]


@_calculation
def whole_mm(length_mm: float) -> float:
    """A length to a whole millimetre."""
    return float(round(length_mm))


@_calculation
def flat_legs_n(limit_n: float, legs_on: int, angle_deg: float) -> float:
    """The load in N of somebody who works out legs that are refused as too flat; refuses where they are steep enough."""
    if load_of_legs_n(limit_n, 4, angle_deg) is not None:
        raise Refusal(f"legs at {angle_deg} degrees", "legs below 30 degrees", "leave this out")
    return load_by_legs_on_n(limit_n, legs_on, angle_deg)


@_calculation
def refused_steep(angle_deg: float) -> str:
    """'refuse', as a misstep, for legs that are steep enough; refuses itself where they are too flat."""
    if load_of_legs_n(1.0, 4, angle_deg) is None:
        raise Refusal(f"legs at {angle_deg} degrees", "legs at 30 degrees or more", "leave this out")
    return "refuse"
