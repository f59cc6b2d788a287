"""What an eye of lesson 05 can be made of in a shop: its sizes, with chart row, thimble and lengths."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rigcalc.errors import Refusal
from rigcalc.layout import EyeParts, tail_to_set_mm
from rigcalc.sleeve import ChartRow, CrimpChart
from rigcalc.units import read_size

if TYPE_CHECKING:
    from rigcalc.shop import Shop

__all__ = ["CABLE_METAL", "SLEEVE_METAL", "Kit", "kits"]

SLEEVE_METAL, CABLE_METAL = "aluminium", "galvanised"


@dataclass(frozen=True)
class Kit:
    """What the lesson's eye is made of: shop, chart in force, size and lengths in mm."""

    shop: Shop
    chart: CrimpChart
    row: ChartRow
    size: str
    construction: str
    diameter_mm: float
    loop_mm: float
    bearing_to_sleeve_mm: float
    tail_mm: float
    note: str = ""

    @property
    def parts(self) -> EyeParts:
        """One eye for the cut length."""
        return EyeParts(self.loop_mm, self.bearing_to_sleeve_mm, self.row.sleeve_before_mm, self.tail_mm)

    @property
    def growth(self) -> float:
        """Sleeve after over before, a ratio from the shop's own three pressed sleeves."""
        return self.row.sleeve_after_mm / self.row.sleeve_before_mm


def kits(shop: Shop) -> list[Kit]:
    """Every eye the shop can make in bare galvanised cable with aluminium sleeves: a size a kit, in order."""
    found: dict[str, Kit] = {}
    for reel in shop.reels:
        if reel.metal != CABLE_METAL or reel.coating_to or not reel.is_inch or reel.size in found:
            continue
        for chart in shop.charts:
            made = _kit(shop, chart, reel) if chart.sleeve_metal == SLEEVE_METAL else None
            if made and reel.size not in found:
                found[reel.size] = made
    return sorted(found.values(), key=lambda one: one.diameter_mm)


def _kit(shop, chart, reel) -> Kit | None:
    row = next((r for r in chart.rows if r.size == reel.size), None)
    if row is None or not row.sleeve_before_mm or not row.sleeve_after_mm:
        return None
    try:
        thimble = shop.thimble(reel.size, CABLE_METAL)
    except Refusal:
        return None
    diameter = read_size(reel.size).diameter_mm
    least = tail_to_set_mm(diameter, row.sleeve_after_mm - row.sleeve_before_mm)
    return Kit(shop, chart, row, reel.size, reel.construction, float(diameter), thimble.loop_mm,
               thimble.bearing_to_sleeve_mm, float(-(-least // 1)))
