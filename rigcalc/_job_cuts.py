"""The cut list of an order: which reel or offcut each piece comes from, trial and pulled pieces with it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rigcalc._records import record
from rigcalc.cable import BreakingForce
from rigcalc.units import show_length

if TYPE_CHECKING:
    from rigcalc._job_layout import Layout
    from rigcalc._job_lot import Lot
    from rigcalc.cutlist import CutList, Material, NotEnough, Piece, Stock
    from rigcalc.shop import Reel, Shop

__all__ = ["JobCuts", "plan_cuts"]

TRIAL_PIECES = 1  # where the shop file states none


@record
class JobCuts:
    """The cut list, or why there is none; `stop` where the reel cannot give the order. `trial` and `pulled` count the
    pieces that are made beside those ordered."""

    found: CutList | None
    why_not: str
    stop: str
    trial: int
    pulled: int


def plan_cuts(layout: Layout, reel: Reel, strength: BreakingForce, shop: Shop, lot: Lot | None) -> JobCuts:
    """The cut list from the order's reel and from offcuts of the same cable whose reel's certificate is no lower."""
    trial = shop.cutting.trial_pieces if shop.cutting else TRIAL_PIECES
    pulled = lot.pieces if lot else 0
    if shop.cutting is None or reel.length_m is None:
        lacks = "no kerf and no keep length: add a [cutting] block" if shop.cutting is None else f"no length of cable on reel {reel.id}"
        return JobCuts(None, f"No cut list: the shop file states {lacks}.", "", trial, pulled)
    from rigcalc.cutlist import Material, NotEnough, Stock, cut_list

    material = Material(reel.size, reel.construction, reel.metal, reel.coating_to)
    stock = [Stock(reel.id, reel.length_m * 1000, material), *_offcuts(reel, strength, shop, material, Stock)]
    try:
        found = cut_list(_pieces(layout, material, trial, pulled), stock, shop.cutting.kerf_mm, shop.cutting.keep_mm, seconds=2)
    except NotEnough as short:
        return JobCuts(None, "No cut list: the stock cannot give the order.", _stop(short, stock, shop.system), trial, pulled)
    return JobCuts(found, "", "", trial, pulled)


def _stop(short: NotEnough, stock: list[Stock], system: str) -> str:
    """What is lacking, in the shop's units."""
    pieces = " and ".join(f"{count} x {name} of {show_length(length_mm, system, 'up')}" for count, name, length_mm in short.without)
    there = " and ".join(f"{each.id} ({show_length(each.length_mm, system, 'down')})" for each in stock)
    sure = "" if short.proven else " (as far as the time for the sum allowed)"
    lacking = show_length(short.lacking_mm, system, "up")
    longer = (f"{lacking} more in one length are lacking for the first of them" if max(each.length_mm for each in stock) < short.without[0][2] else
              f"{lacking} more in one length would do, what the cuts take included")
    return f"STOP: not enough cable. No place for {pieces} on {there}{sure}: {longer}. Get another reel, or cut fewer pieces."


def _offcuts(reel: Reel, strength: BreakingForce, shop: Shop, material: Material, stock: type) -> list:
    """Offcuts of the same cable, by the certificate of the reel that each was cut from."""
    fits = []
    for offcut in shop.offcuts:
        source = next((one for one in shop.reels if one.id == offcut.reel), None)
        if source is None or not offcut.certified or source.certificate_n is None or source.certificate_n < strength.force_n:
            continue
        if _same_cable(source) == _same_cable(reel):
            fits.append(stock(offcut.id, offcut.length_mm, material, True, offcut.certificate))
    return fits


def _same_cable(reel: Reel) -> tuple:
    """What must agree before cable of two reels may go into one order."""
    return reel.size, reel.construction, reel.metal, reel.coating_to


def _pieces(layout: Layout, material: Material, trial: int, pulled: int) -> list[Piece]:
    """Every piece to cut: those ordered, the trial pieces, and those made to be pulled."""
    from rigcalc.cutlist import Piece

    pieces = [Piece(layout.trial.name, layout.trial.cut_mm, layout.trial.quantity * trial, material)] if trial else []
    pieces += [Piece(piece.name or "piece", piece.cut_mm, piece.quantity, material) for piece in layout.pieces]
    if pulled:
        pieces.append(Piece("piece to be pulled", min(piece.cut_mm for piece in layout.pieces), pulled, material))
    return pieces
