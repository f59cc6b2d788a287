"""Layout of a lap splice with two sleeves, of a closed ring, and of the coating to strip."""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction

from rigcalc._given import of_kind, said
from rigcalc._layout_lengths import CutLength, above_zero, added, below, check_correction, check_tail, not_negative
from rigcalc._records import record
from rigcalc.errors import Refusal
from rigcalc.rating import class_of_use
from rigcalc.reference import constant

__all__ = ["LAP_LINES", "LapSplice", "Strip", "lap_splice", "ring_cut_mm", "spliced_mm", "strip_mm"]

GAP_LEAST: Fraction = constant("gap of a lap splice, least").value  # cable diameters beyond one sleeve's growth
GAP_MOST: Fraction = constant("gap of a lap splice, most").value
BAND_LEAST_MM: Fraction = constant("bare band, least").value
BAND_MOST_MM: Fraction = constant("bare band, most").value
LEAST_RING: Fraction = constant("least ring").value  # of its lap
LAP_LINES = ("closed ring", "static line")
_NO_LIMIT = "no limit is known for it: only pieces of the shop's own, pulled as a lot, can give one"
_WHERE = {"hoisting": "ask for a sling or hoist rope made and tested for it", "sling": "ask for a made and tested sling",
          "suspension": "what hangs can fall, and no limit is known for a lap. A rule that forbids it too, WAC 296-874-30018(1), is about ropes that "
                        "hang a work platform, which is no work for this bench: eye splices with thimbles and shackles only",
          "stay": "cut it in one piece"}


@record
class LapSplice:
    """Two cables, or two ends of one, side by side through two sleeves. Lengths in mm, before pressing.

    `count` is the crimps on each of the two sleeves; `gap_after_mm` the least and the most that can be left between
    the sleeves when pressed: all of both growths into the gap, and none. `limit` says that there is none.
    """

    overlap_mm: float
    gap_mm: float
    gap_band_mm: tuple[float, float]
    gap_after_mm: tuple[float, float]
    sleeves: int
    count: int
    sleeve_before_mm: float
    tail_mm: float
    steps: tuple[tuple[str, float], ...]
    limit: str = _NO_LIMIT


@record
class Strip:
    """Coating to strip, in mm: the same length on each leg; `marks_mm` are measured from the cut end: the dead leg is
    bare up to the first, the loop keeps its coat up to the second, the live leg is bare up to the third."""

    each_leg_mm: float
    marks_mm: tuple[float, float, float]
    steps: tuple[tuple[str, float], ...]


def lap_splice(diameter_mm: float, sleeve_before_mm: float, growth_mm: float, tail_mm: float, counts: Sequence[int],
               line: str, use: str, gap_mm: float | None = None) -> LapSplice:
    """A lap splice: two sleeves with a gap between, the same count on each, a tail out of both outer ends.

    Parameters: `diameter_mm` of the cable; `sleeve_before_mm` and `growth_mm` of one sleeve; `tail_mm` before pressing,
    at both outer ends, all in mm; `counts` the crimps planned on each sleeve, one number per sleeve; `line` one of
    `LAP_LINES`; `use` the answer to the first question, which must be that nobody can be there; `gap_mm` in mm,
    without it the widest that is allowed, which leaves most after pressing.
    Range: gap from the growth plus one diameter to the growth plus two; tail at least two diameters.
    Errors: `Refusal` outside that range; for one sleeve or more than two; counts that differ; hoisting, slings,
    suspension, stays, and wherever people can be.
    Source: AC 43.13-1B 7-148d (two sleeves); common practice (gap, tails, same count); WAC 296-874-30018(1)
    (eye splices only on suspension ropes). No source gives it a limit.

    >>> lap = lap_splice(2.38125, 11, 3, 5, counts=(2, 2), line="closed ring", use="nobody")
    >>> lap.gap_mm, lap.overlap_mm
    (7.7625, 39.7625)
    """
    _check_line(line, use)
    count = _same_count(counts)
    diameter, sleeve = above_zero(diameter_mm, "the cable's diameter"), above_zero(sleeve_before_mm, "the sleeve before pressing")
    growth, tail = not_negative(growth_mm, "the sleeve's growth"), above_zero(tail_mm, "the tail before pressing")
    check_tail(tail_mm, diameter_mm, "the lap splice")
    low, high = growth + GAP_LEAST * diameter, growth + GAP_MOST * diameter
    gap = high if gap_mm is None else above_zero(gap_mm, "the gap")
    if below(gap, low) or below(high, gap):
        raise Refusal(f"a gap of {gap_mm} mm between the sleeves of a lap splice",
                      f"{math.ceil(low * 100) / 100:g} to {math.floor(high * 100) / 100:g} mm: one sleeve's growth and one to two diameters", "set the sleeves again")
    cut = added([("first outer tail", tail), ("first sleeve before pressing", sleeve), ("gap between the sleeves", gap),
                 ("second sleeve before pressing", sleeve), ("second outer tail", tail)])
    return LapSplice(cut.total_mm, float(gap), (float(low), float(high)), (float(gap - 2 * growth), float(gap)), len(counts), count,
                     float(sleeve), float(tail), cut.steps)


def _check_line(line: str, use: str) -> None:
    plain = " ".join(line.lower().split()) if isinstance(line, str) else ""
    for word, do in _WHERE.items():
        if plain.removesuffix("s") == word or plain == word:
            raise Refusal(f"a lap splice in work that is named '{plain}'", "a closed ring or a static line", f"there is no way round this; {do}")
    if plain not in LAP_LINES:
        raise Refusal(f"a lap splice for {said(line)}", " or ".join(LAP_LINES),
                      "say what line it is; never in hoisting, slings, suspension or stays")
    kind = class_of_use(use)
    if kind.name != "nobody":
        raise Refusal("a lap splice where people can be" if kind.name == "people" else f"a lap splice, with the use {said(use)}", "static lines where nobody can be",
                      f"close no ring with a lap there; {kind.ask}" if plain == "closed ring" else f"cut it in one piece, or {kind.ask}")


def _same_count(counts: Sequence[int]) -> int:
    whole = isinstance(counts, (tuple, list)) and all(isinstance(n, int) and not isinstance(n, bool) and n > 0 for n in counts)
    if not whole or len(counts) != 2:
        raise Refusal(f"crimps {said(counts)} for a lap splice", "two sleeves, a whole number of crimps on each",
                      "take two sleeves: nothing is known of a lap with any other number")
    if counts[0] != counts[1]:
        raise Refusal(f"{said(counts[0])} and {said(counts[1])} crimps on the sleeves of a lap splice", "the same count on both", "take the chart's count on each")
    return counts[0]


def ring_cut_mm(round_mm: float, lap: LapSplice, correction_mm: float = 0) -> CutLength:
    """The length to cut, in mm, for a closed ring with one lap.

    `round_mm` is the finished length round the ring, along the cable; `correction_mm` from the trial piece; both in mm.
    Errors: `Refusal` unless the ring, corrected or not, is three times as long as its lap or longer, and for a correction of more
    than a tenth of it. Source: geometry: once round, and the lap lies double; the least ring is a workbook judgement.

    >>> lap = lap_splice(2.38125, 11, 3, 5, counts=(2, 2), line="closed ring", use="nobody")
    >>> ring_cut_mm(9000, lap).total_mm
    9039.7625
    """
    once = above_zero(round_mm, "the length round the ring")
    correction = check_correction(correction_mm, once)
    overlap = above_zero(of_kind(lap, LapSplice, "the lap").overlap_mm, "the lap")
    if min(once, once + correction) < LEAST_RING * overlap:
        corrected = f", with a correction of {float(correction):g} mm," if correction else ""
        raise Refusal(f"a ring of {round_mm} mm{corrected}", f"at least {float(LEAST_RING):g} times its own lap, {math.ceil(LEAST_RING * overlap * 10) / 10:g} mm",
                      "make the ring larger: the rest of so small a ring is bent sharply at the sleeves' mouths")
    steps = [("once round the ring", once), ("the lap, lying double: two tails, two sleeves and the gap", overlap)]
    if correction:
        steps.append(("correction from the trial piece", correction))
    return added(steps)


def spliced_mm(first_mm: float, second_mm: float, lap: LapSplice) -> CutLength:
    """How long two pieces are when joined by a lap, in mm, from end to end before pressing.

    `first_mm` and `second_mm` are the two pieces, in mm. Errors: `Refusal` unless each is longer than the lap.
    Source: geometry: the lap counts once.

    >>> lap = lap_splice(2.38125, 11, 3, 5, counts=(2, 2), line="static line", use="nobody")
    >>> spliced_mm(400, 400, lap).total_mm
    760.2375
    """
    first, second, overlap = above_zero(first_mm, "the first piece"), above_zero(second_mm, "the second piece"), above_zero(of_kind(lap, LapSplice, "the lap").overlap_mm, "the lap")
    if min(first, second) <= overlap:
        raise Refusal(f"pieces of {first_mm} and {second_mm} mm", f"each longer than the lap, {lap.overlap_mm:g} mm", "take one longer piece")
    return added([("first piece", first), ("second piece", second), ("less the lap, which lies double", -overlap)])


def strip_mm(sleeve_before_mm: float, growth_mm: float, tail_mm: float, loop_mm: float, bare_band_mm: float = 1) -> Strip:
    """The coating to strip for one eye, in mm: on both legs, for the sleeve, its growth, the tail and a bare band.

    The sleeve has coat at three of its mouths: both legs at the loop, the live leg beside the tail. At each the band
    is still bare when all of the growth has gone that way. Beside the tail the live leg is bare for the tail's length,
    so the tail is at least growth and band: one length then does for both legs.
    Parameters: `sleeve_before_mm`, `growth_mm` of the sleeve, `tail_mm` before pressing, `loop_mm` the cable round the
    loop, `bare_band_mm` what stays bare between coat and sleeve when all has grown that way, all in mm.
    Range: bare band 1 to 5 mm; tail at least growth and band. Errors: `Refusal` outside them, and where no coat would
    be left in the loop. Source: common practice (both legs; band); geometry (the tail).

    >>> strip_mm(sleeve_before_mm=11, growth_mm=3, tail_mm=5, loop_mm=90, bare_band_mm=2)  # doctest: +ELLIPSIS
    Strip(each_leg_mm=21.0, marks_mm=(21.0, 101.0, 122.0), steps=...)
    """
    sleeve, growth = above_zero(sleeve_before_mm, "the sleeve before pressing"), not_negative(growth_mm, "the sleeve's growth")
    tail, loop, band = above_zero(tail_mm, "the tail"), above_zero(loop_mm, "the cable round the loop"), above_zero(bare_band_mm, "the bare band")
    if not BAND_LEAST_MM <= band <= BAND_MOST_MM:
        raise Refusal(f"a bare band of {bare_band_mm} mm", f"{int(BAND_LEAST_MM)} to {int(BAND_MOST_MM)} mm", "strip to that")
    if below(tail, growth + band):
        raise Refusal(f"a tail of {tail_mm} mm on coated cable, with a sleeve that grows by {growth_mm} mm", f"at least {float(growth + band):g} mm, growth and bare band",
                      "set the tail longer: else coat can come into the sleeve on the live leg, beside the tail")
    coat = loop - 2 * (growth + band)
    if coat <= 0:
        raise Refusal(f"a loop of {loop_mm} mm to keep its coat", f"more than {float(2 * (growth + band)):g} mm, what is stripped at its two ends",
                      "make the eye longer, or strip it whole and size it as bare cable")
    leg = added([("tail before pressing", tail), ("sleeve before pressing", sleeve), ("the sleeve's growth", growth), ("bare band", band)])
    each = sleeve + growth + tail + band
    return Strip(leg.total_mm, (float(each), float(each + coat), float(2 * each + coat)), leg.steps)
