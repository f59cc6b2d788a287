"""Calculations on laps, strips and coated cable that families of lesson 08 name."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from rigcalc.errors import Refusal
from rigcalc.questions.registry import _calculation

__all__: list[str] = []


def _size_mm(size: str) -> float:
    from rigcalc.units import INCH_MM

    return float(Fraction(size) * Fraction(INCH_MM))


# --- inches ---------------------------------------------------------------------------------------

@_calculation
def set_like_mm(length_mm: float, like_mm: float, thirty_seconds: int = 2, way: str = "up") -> float:
    """A length of an order in mm, as it is set beside another of the shop: 'up' or 'down' to so many whole 32nds of an
    inch where that one was set in inches, else as it is."""
    from rigcalc.units import INCH_MM, show_set_in_inches

    return _stepped(length_mm, Fraction(INCH_MM) * thirty_seconds / 32, way) if show_set_in_inches(like_mm) else length_mm


def _stepped(length_mm: float, step: Fraction, way: str) -> float:
    from rigcalc.units import exact

    length = Fraction(round(exact(length_mm) * 10**6), 10**6)
    return float((length // step if way == "down" else -(-length // step)) * step)


@_calculation
def lap_set_mm(size: str, diameters: float, growth_mm: float, like_mm: float, step_mm: float) -> float:
    """A gap or a tail that an order sets: a growth and so many cable diameters, in mm, up to a whole step, or up to 1/32 in
    where `like_mm` was set in inches."""
    from rigcalc.units import INCH_MM, show_set_in_inches

    step = Fraction(INCH_MM) / 32 if show_set_in_inches(like_mm) else Fraction(str(step_mm))
    return _stepped(growth_mm + diameters * _size_mm(size), step, "up")


@_calculation
def set_said(like_mm: float, inches: str, millimetres: str) -> str:
    """The words for a length that was set in inches, else those for any other."""
    from rigcalc.units import show_set_in_inches

    return inches if show_set_in_inches(like_mm) else millimetres


# --- laps -----------------------------------------------------------------------------------------

def _lap(size: str, before_mm: float, after_mm: float, tail_mm: float, gap_mm: float | None, line: str = "closed ring",
         use: str = "nobody") -> Any:
    from rigcalc.layout import lap_splice

    return lap_splice(_size_mm(size), before_mm, after_mm - before_mm, tail_mm, (1, 1), line, use, gap_mm)


@_calculation
def lap_gap_mm(size: str, before_mm: float, after_mm: float) -> float:
    """A gap that a lap splice may have before pressing, in mm: the widest that is allowed, down to 0.5 mm."""
    widest = _lap(size, before_mm, after_mm, 2 * _size_mm(size), None).gap_mm
    return float(Fraction(widest) * 2 // 1) / 2


@_calculation
def ring_with_lap_mm(round_mm: float, size: str, before_mm: float, after_mm: float, tail_mm: float, gap_mm: float) -> float:
    """The length to cut for a closed ring with one lap, in mm: once round and the lap."""
    from rigcalc.layout import ring_cut_mm

    return ring_cut_mm(round_mm, _lap(size, before_mm, after_mm, tail_mm, gap_mm)).total_mm


@_calculation
def ring_counted_mm(round_mm: float, sleeve_mm: float, tail_mm: float, gap_mm: float, sleeves: int = 2, tails: int = 2,
                    gaps: int = 1, laps: int = 1) -> float:
    """The ring's cut length of somebody who counts so many sleeves, tails and gaps in a lap, and so many laps, in mm."""
    return round_mm + laps * (sleeves * sleeve_mm + tails * tail_mm + gaps * gap_mm)


@_calculation
def laps_listed(rows: list[dict[str, Any]], diameters: list[float]) -> list[dict[str, Any]]:
    """Laps laid out by rows of a chart with tails of so many diameters, each with its words and whether its tails
    still show when all of each sleeve's growth has gone over them (`shows`); refuses one that is nearly level."""
    return [_laid_out(at, row, share) for at, (row, share) in enumerate(zip(rows, diameters, strict=True), 1)]


def _laid_out(at: int, row: dict[str, Any], share: float) -> dict[str, Any]:
    d = _size_mm(row["size"])
    tail, growth = round(share * d, 1), row["sleeve_after_mm"] - row["sleeve_before_mm"]
    left = round(tail - growth, 1)
    if abs(left) < 0.5:
        raise Refusal(f"{left} mm", "a tail well in sight or well inside", "draw again")
    lap = f"cable {row['size']}, tails {tail:g} mm, each sleeve {row['sleeve_before_mm']:g} mm and then {row['sleeve_after_mm']:g} mm"
    said = f"{left:g} mm still show" if left > 0 else f"the end lies {-left:g} mm inside"
    return {"en": f"lap {at}", "laid_out": lap, "shows": "yes" if left > 0 else "no", "long": "yes" if left >= 2 * d else "no",
            "id": "tail-that-stays" if left > 0 else "tail-that-goes-inside",
            "feedback": f"Lap {at}: the sleeve grows by {growth:g} mm; of a tail of {tail:g} mm {said}."}


@_calculation
def laps_said(laps: list[dict[str, Any]]) -> str:
    """The laps laid out, as they stand on the page."""
    return "; ".join(f"{lap['en']}: {lap['laid_out']}" for lap in laps) + "."


@_calculation
def still_two_diameters(items: list[dict[str, Any]]) -> list[str]:
    """The laps whose tails are two diameters even after pressing, taken by somebody who asks that of them.

    None at all where that differs from the right list by one lap only: then that lap tells it.
    """
    chosen = {item["en"] for item in items if item["long"] == "yes"}
    right = {item["en"] for item in items if item["shows"] == "yes"}
    return sorted(chosen) if len(right ^ chosen) > 1 else []


def lap_is_allowed(line: str, use: str) -> str:
    """'yes' where a lap splice may join this line, else 'no'."""
    try:
        _lap("1/8", 15, 20, 7, None, line, use)
    except Refusal:
        return "no"
    return "yes"


@_calculation
def lines_judged(items: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Drawn lines, each with whether a lap may join it (`lap`: yes or no) by its `line` and `use`."""
    return [item | {"lap": lap_is_allowed(item["line"], item["use"])} for item in items]


@_calculation
def end_limit_n(end: str, breaking_force_n: float, factor: float) -> float | None:
    """The limit in N of an assembly by its end: an 'eye' by its efficiency; None (refuse) for any lap without a pulled lot."""
    from rigcalc.questions.registry import eye_efficiency
    from rigcalc.rating import working_load_limit_n

    return working_load_limit_n(breaking_force_n, eye_efficiency(), factor) if end == "eye" else None


@_calculation
def lap_taken_for_n(end: str, share: float, breaking_force_n: float, factor: float) -> float:
    """The limit in N of somebody who rates a lap with a share of the cable's strength; refuses where there is no lap."""
    if end == "eye":
        raise Refusal("an eye", "a lap", "leave this out")
    return breaking_force_n * share / factor


# --- coated cable ---------------------------------------------------------------------------------

@_calculation
def strip_each_leg_mm(sleeve_mm: float, growth_mm: float, tail_mm: float, loop_mm: float, band_mm: float) -> float:
    """The coating to strip on each leg of an eye, in mm: sleeve, its growth, tail and bare band."""
    from rigcalc.layout import strip_mm

    return strip_mm(sleeve_mm, growth_mm, tail_mm, loop_mm, band_mm).each_leg_mm


@_calculation
def total_of(parts: list[float]) -> float:
    """All parts added up."""
    return float(sum(Fraction(str(part)) for part in parts))


@_calculation
def size_half_way(first: str, second: str) -> str:
    """The size half-way between two inch sizes, as a fraction."""
    middle = (Fraction(first) + Fraction(second)) / 2
    return f"{middle.numerator}/{middle.denominator}"


@_calculation
def coat_thickness_said(core: str, coat: str) -> str:
    """The thickness of a coat on one side, as an inch fraction."""
    thick = (Fraction(coat) - Fraction(core)) / 2
    return f"{thick.numerator}/{thick.denominator}"


# --- missteps that need a word --------------------------------------------------------------------

@_calculation
def refused_unless(word: str, unless: str) -> str:
    """'refuse', as a misstep; refuses itself where the word is the one that makes refusing right."""
    if word == unless:
        raise Refusal(f"'{word}'", "another word", "leave this out")
    return "refuse"


@_calculation
def limit_by_share_unless_n(word: str, unless: str, share: float, breaking_force_n: float, factor: float) -> float:
    """A limit in N by a share of the breaking force; refuses where the word is the one that allows no limit."""
    refused_unless(word, unless)
    return breaking_force_n * share / factor


@_calculation
def first_apart(items: list[float], other: float, by: float) -> float:
    """The first of some figures that lies at least so far from another; refuses where none does."""
    found = [one for one in items if abs(one - other) >= by]
    if not found:
        raise Refusal(f"figures within {by:g} of {other:g}", "one that lies apart", "take others")
    return found[0]


@_calculation
def still_lines(items: list[dict[str, Any]]) -> list[str]:
    """The drawn lines that do not move (`still`), taken by somebody who allows a lap in all of them.

    None at all where that differs from the right list by one line only: then that line tells it.
    """
    chosen = {item["en"] for item in items if item["still"] == "yes"}
    right = {item["en"] for item in items if item["lap"] == "yes"}
    return sorted(chosen) if len(right ^ chosen) > 1 else []


@_calculation
def limit_by_share_n(share: float, breaking_force_n: float, factor: float) -> float:
    """A limit in N: the share that an end holds of the breaking force, divided by the factor."""
    from rigcalc.rating import working_load_limit_n

    return working_load_limit_n(breaking_force_n, share, factor)
