"""Where the crimps go on a sleeve, and how much longer the sleeve grows. Everybody takes these from `sleeve`."""

from __future__ import annotations

import math
from collections.abc import Iterable
from fractions import Fraction

from rigcalc._given import listed, said
from rigcalc._records import record
from rigcalc.errors import Refusal
from rigcalc.reference import table
from rigcalc.units import exact, size_inches

__all__ = ["CopperCount", "CrimpPlan", "Fact", "GrowthBound", "MeanGrowth", "OtherOrder", "copper_counts_from_memory",
           "crimp_plan", "growth_bound_mm", "mean_growth_mm", "other_sleeves_order", "oval_in_the_jaws"]

LEAST_MEASURED = 3  # the house asks for three measured sleeves before a mean counts
CIRCULAR = "AC 43.13-1B"


@record
class CrimpPlan:
    """Crimps on a sleeve before pressing, in mm from its thimble end: the middle of each, the gaps between, the bare ends.

    `fits` says whether they go on; when not, `why` says it, `least_sleeve_mm` what would do, and there are no places.
    """

    sleeve_mm: float
    jaw_mm: float
    count: int
    places_mm: tuple[float, ...]
    gaps_mm: tuple[float, ...]
    end_mm: float
    fits: bool
    why: str
    least_sleeve_mm: float


@record
class GrowthBound:
    """The most that a sleeve can grow, in mm, and what that figure is worth."""

    most_mm: float
    says: str


@record
class MeanGrowth:
    """The mean growth of measured sleeves, in mm, with the least, the most, and their standard deviation."""

    mean_mm: float
    least_mm: float
    most_mm: float
    deviation_mm: float
    measured: int
    says: str


@record
class OtherOrder:
    """An order of presses that belongs to another sleeve; places count from the thimble."""

    sleeve: str
    order: tuple[int, ...]
    says: str
    source: str


@record
class CopperCount:
    """One remembered row of the circular's copper sleeves: presses, and growth in cable diameters. It accepts nothing."""

    size: str
    presses: int
    growth_diameters: float
    label: str


@record
class Fact:
    """One fact of the trade, and where it stands."""

    says: str
    source: str


# --- where the crimps go ------------------------------------------------------------------------

def crimp_plan(sleeve_mm: float, jaw_mm: float, count: int, minimum_gap_mm: float, end_clear_mm: float) -> CrimpPlan:
    """Where each crimp goes on a sleeve that is not yet pressed, counted from its thimble end.

    Parameters: length of the sleeve before pressing, width of the jaws along it, least gap between crimps and least bare
    end, all in mm; the chart's count. The bare length is shared evenly over gaps and ends, none below its least.
    Range: lengths above 0, gap and bare end from 0. Errors: `Refusal` outside it. A plan that does not fit says so in
    `fits` and `why`: crimps are then never squeezed together, nor is one left out.
    Source: geometry; even gaps and no crimp over the end are common practice.

    >>> plan = crimp_plan(15, 3, 3, 1, 1)
    >>> plan.places_mm, plan.gaps_mm, plan.end_mm, plan.fits
    ((3.0, 7.5, 12.0), (1.5, 1.5), 1.5, True)
    >>> crimp_plan(10, 3, 3, 1, 1).why
    '3 crimps of 3 mm with gaps of 1 mm and bare ends of 1 mm need a sleeve of 13 mm; this one has 10 mm'
    """
    sleeve, jaw = _above_zero(sleeve_mm, "the sleeve's length"), _above_zero(jaw_mm, "the width of the jaws")
    gap, end = _from_zero(minimum_gap_mm, "the least gap"), _from_zero(end_clear_mm, "the least bare end")
    if not isinstance(count, int) or isinstance(count, bool) or exact(count) < 1:
        raise Refusal(f"the count {said(count)}", "a whole number from 1", "copy it again from the chart")
    least = count * jaw + (count - 1) * gap + 2 * end
    if sleeve < least:
        why = (f"{count} crimp{'s' if count > 1 else ''} of {float(jaw):g} mm with gaps of {float(gap):g} mm and bare ends of "
               f"{float(end):g} mm need a sleeve of {float(least):g} mm; this one has {float(sleeve):g} mm")
        return CrimpPlan(float(sleeve), float(jaw), count, (), (), 0.0, False, why, float(least))
    gap, end = _shared(sleeve - count * jaw, count, gap, end)
    places = tuple(float(end + jaw / 2 + step * (jaw + gap)) for step in range(count))
    return CrimpPlan(float(sleeve), float(jaw), count, places, (float(gap),) * (count - 1), float(end), True, "", float(least))


def _shared(bare: Fraction, count: int, least_gap: Fraction, least_end: Fraction) -> tuple[Fraction, Fraction]:
    """Gap and end from the bare length: equal where both leasts allow it, else the short one at its least."""
    share = bare / (count + 1)
    if count == 1 or share < least_gap:
        return least_gap, (bare - (count - 1) * least_gap) / 2
    if share < least_end:
        return (bare - 2 * least_end) / (count - 1), least_end
    return share, share


def _above_zero(value: float, what: str) -> Fraction:
    number = exact(value)
    if number <= 0:
        raise Refusal(f"{what} {value:g}", "a figure above 0", "measure it again")
    return number


def _from_zero(value: float, what: str) -> Fraction:
    number = exact(value)
    if number < 0:
        raise Refusal(f"{what} {value:g} mm", "0 mm or more", "measure it again")
    return number


# --- growth -------------------------------------------------------------------------------------

def growth_bound_mm(pressed_mm: float, section_before_mm2: float | None = None, section_after_mm2: float | None = None,
                    thinning: float | None = None) -> GrowthBound:
    """The most a sleeve can grow when it is pressed, from constant volume: an upper bound, never the growth itself.

    Parameters: length of sleeve that comes under the jaws, in mm, measured before pressing; the metal's section before and
    after, in mm2; or, instead of both, the thinning as the ratio of section after to section before, as the shop states it.
    Range: after no larger than before. Errors: `Refusal` outside it, or when neither or both are given.
    Source: geometry, constant volume: growth = pressed x (before / after - 1).

    >>> growth_bound_mm(9, section_before_mm2=40, section_after_mm2=30).most_mm
    3.0
    >>> growth_bound_mm(9, thinning=0.75).most_mm
    3.0
    """
    pressed = _above_zero(pressed_mm, "the pressed length")
    sections = [section for section in (section_before_mm2, section_after_mm2) if section is not None]
    if len(sections) + (2 if thinning is not None else 0) != 2:
        raise Refusal(f"{len(sections)} sections and {'a' if thinning is not None else 'no'} thinning",
                      "the section before and the one after, or the thinning alone", "measure one of the two ways")
    ratio = exact(thinning) if thinning is not None else (_above_zero(sections[1], "the section after")
                                                          / _above_zero(sections[0], "the section before"))
    if not 0 < ratio <= 1:
        raise Refusal(f"a section that is {float(ratio):g} times as large after pressing", "above 0 and at most 1",
                      "look which is before and which is after")
    return GrowthBound(float(pressed * (1 / ratio - 1)), "An upper bound from constant volume: metal also fills the valleys and leaves as "
                       "flash, and gaps stay unpressed. Enter the mean of three measured sleeves.")


def mean_growth_mm(measured: Iterable[tuple[float, float]]) -> MeanGrowth:
    """The mean growth of sleeves that were measured before and after pressing, in mm, with its spread.

    Parameters: pairs (before, after) in mm, of one sleeve size, metal, tool and cavity; shape (n, 2), n from 3.
    Errors: `Refusal` for fewer than three, a length not above 0, or a sleeve shorter after than before.
    Source: common practice (three measured sleeves); the deviation divides by n - 1.

    >>> growth = mean_growth_mm([(15, 20), (15, 20.3), (15.1, 19.8)])
    >>> round(growth.mean_mm, 3), round(growth.least_mm, 3), round(growth.most_mm, 3)
    (5.0, 4.7, 5.3)
    """
    pairs = [listed(pair, "a sleeve before and after pressing") for pair in listed(measured, "the measured sleeves")]
    if len(pairs) < LEAST_MEASURED or any(len(pair) != 2 for pair in pairs):
        raise Refusal(f"{len(pairs)} measured sleeves", f"{LEAST_MEASURED} or more, each before and after pressing", "press and measure more sleeves")
    growths = [_above_zero(after, "a sleeve after pressing of") - _above_zero(before, "a sleeve before pressing of") for before, after in pairs]
    if min(growths) < 0:
        raise Refusal("a sleeve that is shorter after pressing", "after at least as long as before", "look which length is which")
    mean = sum(growths) / len(growths)
    deviation = math.sqrt(sum((growth - mean) ** 2 for growth in growths) / (len(growths) - 1))
    least, most = float(min(growths)), float(max(growths))
    return MeanGrowth(float(mean), least, most, deviation, len(growths),
                      f"mean of {len(growths)} sleeves {float(mean):.3g} mm, from {least:.3g} to {most:.3g} mm")


# --- another sleeve's order and counts -----------------------------------------------------------

def other_sleeves_order() -> OtherOrder:
    """The order of an aircraft copper sleeve with three presses: shown as another sleeve's, never applied here.

    Errors: none. Source: AC 43.13-1B para 7-148c (read): the centre, then next to the thimble, then farthest from it.

    >>> other_sleeves_order().order
    (2, 1, 3)
    """
    return OtherOrder("aircraft copper sleeve of three presses", (2, 1, 3),
                      "Another sleeve's order: the aircraft circular presses the centre, then next to the thimble, then the far end. "
                      "The order for the sleeve in hand stands in its maker's chart, or the maker is asked.", f"{CIRCULAR}, para 7-148c")


def copper_counts_from_memory() -> tuple[CopperCount, ...]:
    """The aircraft circular's presses and growth of copper sleeves, as remembered: they label themselves and accept nothing.

    Growth is in cable diameters. Errors: none. Source: AC 43.13-1B Table 7-6, from memory: the page was not read.

    >>> [(row.size, row.presses) for row in copper_counts_from_memory()][3:5]
    [('1/8', 3), ('5/32', 3)]
    """
    return tuple(CopperCount(row.size, row.presses, float((exact(row.after_in) - exact(row.before_in)) / size_inches(row.size)),
                             f"FROM MEMORY, another sleeve's, presses nothing here: aircraft copper, {row.cited}")
                 for row in table("copper_counts_circular"))


def oval_in_the_jaws() -> Fact:
    """How the sleeve stands in the jaws: upright, its long axis in line with the way the jaws close.

    Errors: none. Source: AC 43.13-1B para 7-148b(2) (read): long axis at right angles to the tool, sleeve centred,
    opened and centred again when it tilts.

    >>> oval_in_the_jaws().says
    "The oval stands upright: its long axis in line with the jaws' closing, centred and square. It tilts before metal moves: open, centre, close again; after: reject."
    """
    return Fact("The oval stands upright: its long axis in line with the jaws' closing, centred and square. "
                "It tilts before metal moves: open, centre, close again; after: reject.",
                f"{CIRCULAR}, para 7-148b(2); reject: common practice")
