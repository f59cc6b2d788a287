"""The sag that shows the greatest tension of a tightened piece, under a weight hung at mid-span and the cable's own weight."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rigcalc._job_own import own_weight
from rigcalc._order_check import stated_lengths
from rigcalc._order_figures import show_pull
from rigcalc._records import record
from rigcalc.errors import Refusal
from rigcalc.spans import SagCheck, sag_check
from rigcalc.units import read_length_mm, show_length

if TYPE_CHECKING:
    from rigcalc._job_fit import Fits
    from rigcalc._order import Order
    from rigcalc._order_read import Facts, PieceFacts
    from rigcalc.shop import Reel

__all__ = ["PieceSag", "piece_sags"]


@record
class PieceSag:
    """One kind of piece: its sag under the hung weight alone, and with its own weight, None where no sourced mass is known;
    `own_from` says where the own weight comes from, or that it is left out."""

    name: str
    length_shown: str
    alone: SagCheck
    whole: SagCheck | None
    own_from: str


def piece_sags(order: Order, facts: Facts, reel: Reel, fits: Fits) -> tuple[PieceSag, ...]:
    """The sag of each kind of piece; none where no weight is hung. A smaller sag in the order's own sentence is refused."""
    if facts.check_weight is None or facts.greatest_tension is None:
        return ()
    sags = tuple(_sag(piece, order, facts, reel, fits) for piece in facts.pieces)
    least = min(sag.alone.sag_mm for sag in sags)
    for text in stated_lengths(order.tension_check):
        if float(read_length_mm(text).value) < least * 0.99:  # what is stated is rounded, as is what is shown
            raise Refusal(f"a check by a sag of {text}, tighter than {facts.greatest_tension.shown}", f"at least {show_length(least, 'SI')} under that weight",
                          "leave the figure out: the sheet works the sag out")
    return sags


def _sag(piece: PieceFacts, order: Order, facts: Facts, reel: Reel, fits: Fits) -> PieceSag:
    """The sag of one kind of piece, without and with its own weight."""
    between_mm = _between_mm(piece, facts, fits)
    given = float(facts.greatest_tension.value), between_mm, float(facts.check_weight[0])
    alone, own = sag_check(*given), own_weight(reel, float(piece.length.value), order)
    if own is None:
        return PieceSag(piece.name, show_length(between_mm), alone, None, "No sourced mass is known for this cable.")
    coat = "; the coat's weight is left out, so keep the sag no smaller" if reel.coating_to and not own.weighed else ""
    return PieceSag(piece.name, show_length(between_mm), alone, sag_check(*given, own.weight_n), f"It is {show_pull(own.weight_n)} ({own.source}){coat}.")


def _between_mm(piece: PieceFacts, facts: Facts, fits: Fits) -> float:
    """From end to end of the line that sags: of the shape where there is one, else the piece with what its fittings take up."""
    if facts.shape is not None and facts.shape.span is not None:
        return facts.shape.span.span_mm
    told = [fit.needed_mm for fit in fits.parts if fit.piece == piece.name]
    return told[0] if told else float(piece.length.value + (piece.take_up.value if piece.take_up else 0))
