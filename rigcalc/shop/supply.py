"""What the shop file gives to the calculations: stock to cut from, prices and times of one size, what a pulled lot shows."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rigcalc.errors import Refusal
from rigcalc.shop.model import PulledLot, Shop

if TYPE_CHECKING:
    from rigcalc._efficiency import PulledShare
    from rigcalc.comparing import Measured, Prices
    from rigcalc.cutlist import Stock

__all__ = ["lot_share", "measured_for", "prices_for", "stock_to_cut"]


def stock_to_cut(shop: Shop) -> tuple[Stock, ...]:
    """Every reel of an inch size with a length, and every offcut with a certificate, as stock for a cut list in mm."""
    from rigcalc.cutlist import Material, Stock

    reels = [Stock(r.id, r.length_m * 1000, Material(r.size, r.construction, r.metal, r.coating_to), False, r.certificate)
             for r in shop.reels if r.is_inch and r.length_m]
    offcuts = [Stock(o.id, o.length_mm, Material(o.size, o.construction, o.metal, shop.reel(o.reel).coating_to), True, o.certificate)
               for o in shop.offcuts if o.certified and shop.reel(o.reel).is_inch]
    return (*reels, *offcuts)


def prices_for(shop: Shop, reel_id: str, sleeve_metal: str) -> Prices:
    """The shop's prices for one end on that reel's cable, each None where the shop gave none."""
    from rigcalc.comparing import Prices

    reel, listed = shop.reel(reel_id), shop.prices
    if listed is None:
        return Prices()
    thimble = "stainless" if reel.metal == "stainless" else "galvanised"
    return Prices(sleeve=dict(listed.sleeve).get(f"{reel.size} {sleeve_metal}"), clip=dict(listed.clip).get(reel.size),
                  thimble=dict(listed.thimble).get(f"{reel.size} {thimble}"), cable_per_m=dict(listed.cable_metre).get(reel.id),
                  minute=listed.minute, currency=listed.currency)


def measured_for(shop: Shop, size: str, sleeve_metal: str, tool_id: str) -> Measured:
    """What the shop measured for one end of that size: the sleeve before pressing in mm, minutes with a sleeve and with clips."""
    from rigcalc.comparing import Measured

    before = next((row.sleeve_before_mm for chart, row in shop.rows_for(shop.tool(tool_id).id)
                   if (chart.sleeve_metal, row.size) == (sleeve_metal, size)), None)
    listed = shop.prices
    return Measured(sleeve_before_mm=before, sleeve_minutes=listed.sleeve_minutes if listed else None,
                    clip_minutes=listed.clip_minutes if listed else None)


def lot_share(lot: PulledLot, breaking_force_n: float, coverage: float, confidence: float) -> PulledShare:
    """What a pulled lot shows as a part of the breaking force in N: its bound at that coverage and confidence.

    Errors: `Refusal` for a lot that was set aside, was rejected, or gives no bound.
    """
    from rigcalc.pulltest import lot_verdict
    from rigcalc.rating import pulled_share

    if lot.set_aside:
        raise Refusal(f"the pulled lot {lot.id}, set aside ({lot.set_aside})", "a lot that counts", "take a later lot, or pull one")
    found = lot_verdict(lot.forces_n, breaking_force_n, coverage=coverage, confidence=confidence, modes=lot.endings)
    if found.verdict == "rejected" or found.bound is None:
        raise Refusal(f"the pulled lot {lot.id} ({found.verdict})", "a lot that was not rejected and has a bound",
                      "find the cause, make the lot again and pull it again")
    return pulled_share(found.bound.bound_n, breaking_force_n, lot.what, 2 if lot.what == "lap" else 1, lot.sleeve_metal,
                        lot.metal, lot.construction, lot.size, lot.id)
