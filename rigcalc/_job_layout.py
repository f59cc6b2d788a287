"""The layout of an order's pieces: eyes or lap, coating to strip, and the length to cut of each kind."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rigcalc._order import MissingFacts, Order
from rigcalc._records import record
from rigcalc.errors import Refusal
from rigcalc.layout import (EyeParts, LapSplice, Strip, clear_length_mm, cut_length_mm, lap_splice, ring_cut_mm, soft_eye, strip_mm,
                            tail_to_set_mm)
from rigcalc.reference import constant
from rigcalc.units import read_size, show_length

if TYPE_CHECKING:
    from rigcalc._order_read import Facts, PieceFacts
    from rigcalc.shop import Reel, Shop, Thimble
    from rigcalc.sleeve import ChartRow

__all__ = ["CutPiece", "Layout", "SleeveLengths", "lay_out", "sleeve_lengths"]

RULE_MM = float(constant("reading of a rule").value)
BARE_BAND_MM = 2  # within the 1 to 5 mm that a bare band may show, and wide enough to be seen
TRIAL_MM = 500  # a trial piece need be no longer: what it shows comes from its two eyes
TRIAL_LAP_MM = 400  # two pieces of this length make a trial lap


@record
class SleeveLengths:
    """One sleeve before and after pressing, in mm, where the growth comes from, and the most that any one grew."""

    before_mm: float
    growth_mm: float
    growth_from: str
    most_growth_mm: float

    @property
    def after_mm(self) -> float:
        """The sleeve after pressing, in mm."""
        return self.before_mm + self.growth_mm


@record
class CutPiece:
    """One kind of piece: name, how many, and the length to cut in mm with its steps."""

    name: str
    quantity: int
    length_shown: str
    cut_mm: float
    steps: tuple[tuple[str, float], ...]


@record
class Layout:
    """How the pieces are made: tail in mm, the eyes or the lap, the coating to strip for each eye, and every kind of piece."""

    tail_mm: float
    sleeve: SleeveLengths
    eyes: tuple[EyeParts, ...]
    lap: LapSplice | None
    strips: tuple[Strip, ...]
    thimble: Thimble | None
    pieces: tuple[CutPiece, ...]
    trial: CutPiece


def sleeve_lengths(order: Order, facts: Facts, row: ChartRow, shop: Shop, sleeve_metal: str, tool: str | None) -> SleeveLengths:
    """The sleeve before pressing and its growth: three sleeves measured in the shop, else the chart, else the order."""
    for name, charted, given in (("before", row.sleeve_before_mm, facts.sleeve_before_mm), ("after", row.sleeve_after_mm, facts.sleeve_after_mm)):
        if None not in (charted, given) and abs(charted - given) > RULE_MM * (1 + 1e-9):
            raise Refusal(f"a sleeve of {given:g} mm {name} pressing (--sleeve-{name}) where the chart in force says {charted:g} mm",
                          f"the chart's own length, to {RULE_MM:g} mm, what a rule shows",
                          "leave that answer out, or have the chart's row put right")
    measured = shop.growth(sleeve_metal, row.size, tool) if tool else None
    if measured:
        return SleeveLengths(measured.mean_before_mm, measured.mean_growth_mm, f"mean of {len(measured.after_mm)} sleeves, measured by {measured.measured_by}",
                             measured.most_growth_mm)
    before = row.sleeve_before_mm if row.sleeve_before_mm is not None else facts.sleeve_before_mm
    if before is None:
        raise MissingFacts(("How long is one sleeve before pressing? The chart in force does not say: measure one "
                            "(--sleeve-before).",))
    after = row.sleeve_after_mm if row.sleeve_after_mm is not None else facts.sleeve_after_mm
    if after is None and (order.is_ring or order.has_soft_eye):
        raise MissingFacts(("How long is one sleeve after pressing? The chart in force does not say: press and measure three "
                            "(--sleeve-after).",))
    growth = (after or before) - before
    return SleeveLengths(before, growth, "chart in force" if row.sleeve_after_mm is not None else "measured at the bench", growth)


def lay_out(order: Order, facts: Facts, reel: Reel, row: ChartRow, sleeve: SleeveLengths, shop: Shop) -> Layout:
    """Tail in whole millimetres, rounded up, seen after the greatest growth too, and on coated cable no shorter than that and the bare band; eyes or lap; and every kind of piece."""
    diameter_mm = read_size(reel.size).diameter_mm
    least_mm = tail_to_set_mm(diameter_mm, sleeve.most_growth_mm)
    if reel.coating_to:  # beside the tail, too, the live leg stays bare
        least_mm = max(least_mm, sleeve.most_growth_mm + BARE_BAND_MM)
    tail_mm = float(math.ceil(round(least_mm, 6)))
    if order.is_ring:
        if reel.coating_to:
            raise Refusal(f"a ring with a lap splice of cable coated to {reel.coating_to}", "bare cable for a lap splice",
                          "take a bare reel: a coat under two sleeves, in their gap and under their growth is not laid out here")
        lap = lap_splice(diameter_mm, sleeve.before_mm, sleeve.growth_mm, tail_mm, (row.count, row.count), "closed ring", facts.use)
        pieces = tuple(_ring(piece, lap, facts) for piece in facts.pieces)
        return Layout(tail_mm, sleeve, (), lap, (), None, pieces, CutPiece("half of a trial lap", 2, "", TRIAL_LAP_MM, ()))
    thimble = None if order.ends == "two soft eyes" else _thimble(reel, shop)
    eyes = _eyes(order, facts, reel, sleeve, thimble, tail_mm, diameter_mm)
    strips = tuple(strip_mm(sleeve.before_mm, sleeve.growth_mm, tail_mm, eye.loop_mm, BARE_BAND_MM) for eye in eyes) if reel.coating_to else ()
    pieces = tuple(_with_eyes(piece, eyes, facts, sleeve, diameter_mm) for piece in facts.pieces)
    return Layout(tail_mm, sleeve, eyes, None, strips, thimble, pieces, _trial(facts, pieces))


def _trial(facts: Facts, pieces: tuple[CutPiece, ...]) -> CutPiece:
    """The trial piece: as the shortest piece, or 500 mm long where that is longer."""
    length, cut_mm = min((float(asked.length.value), piece.cut_mm) for asked, piece in zip(facts.pieces, pieces))
    short_mm = min(length, TRIAL_MM)
    return CutPiece("trial piece", 1, show_length(short_mm, "SI"), cut_mm - (length - short_mm), ())


def _thimble(reel: Reel, shop: Shop) -> Thimble:
    """The thimble for what lies in its groove: the coat, where there is one."""
    return shop.thimble(reel.coating_to or reel.size, "stainless" if reel.metal == "stainless" else "galvanised")


def _eyes(order: Order, facts: Facts, reel: Reel, sleeve: SleeveLengths, thimble: Thimble | None, tail_mm: float,
          diameter_mm: float) -> tuple[EyeParts, EyeParts]:
    """The two eyes, the thimble eye first where they differ."""
    made = []
    if thimble:
        made.append(EyeParts(thimble.loop_mm, thimble.bearing_to_sleeve_mm, sleeve.before_mm, tail_mm))
    if order.has_soft_eye:
        outside = read_size(reel.coating_to).diameter_mm if reel.coating_to else None
        made.append(soft_eye(float(facts.pin.value), diameter_mm, sleeve.before_mm, tail_mm,
                             float(facts.eye_length.value) if facts.eye_length else None, sleeve.growth_mm, outside))
    return made[0], made[-1]


def _with_eyes(piece: PieceFacts, eyes: tuple[EyeParts, ...], facts: Facts, sleeve: SleeveLengths, diameter_mm: float) -> CutPiece:
    """One kind of piece with an eye at each end."""
    cut = cut_length_mm(piece.length.value, *eyes, facts.correction_mm, diameter_mm)
    clear_length_mm(float(piece.length.value), *eyes, diameter_mm, sleeve.growth_mm)
    return CutPiece(piece.name, piece.quantity, piece.length.shown, cut.total_mm, cut.steps)


def _ring(piece: PieceFacts, lap: LapSplice, facts: Facts) -> CutPiece:
    """One kind of ring."""
    cut = ring_cut_mm(float(piece.length.value), lap, float(facts.correction_mm))
    return CutPiece(piece.name, piece.quantity, piece.length.shown, cut.total_mm, cut.steps)
