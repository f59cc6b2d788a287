"""Lesson 04, whose end is fitted and laid beside a sleeve: the shop's own where it has cable and a clip maker's row, else the invented sample's."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from rigcalc.clips import ClipPlan, ClipRow, clip_plan, clip_row
from rigcalc.errors import Refusal
from rigcalc.notebook import lesson
from rigcalc.notebook.bench_units import by_rule
from rigcalc.notebook.kits import CABLE_METAL, Kit
from rigcalc.notebook.teaching import eye_for_teaching, sample_shop, scene_mark, shop_for_teaching
from rigcalc.sleeve import chart_line
from rigcalc.units import FOOT_MM, LBF_N

if TYPE_CHECKING:
    from rigcalc.shop import Shop

__all__ = ["SIZES", "bare_sizes", "base_mm", "beside_shop", "beside_size", "end", "end_size", "kit", "opening", "plan", "row_mark", "row_of", "shown_mm", "shown_nm", "stands_in", "torque_unit"]

LIKED = "1/4"  # the size of the bench practice where the shop has it
BASE_OF_ROW_MM = 20.0  # drawn where the row in force names no base
SIZES = ("1/16", "3/32", "1/8", "5/32", "3/16", "1/4", "5/16", "3/8")


def kit() -> tuple[Kit, str]:
    """An eye of the shop that the lessons are worked with, and what has to be said of that shop."""
    return eye_for_teaching(LIKED)


def opening() -> lesson.Block:
    """The chart in force, whether the shop is invented, and where the invented sample stands in."""
    one, note = kit()
    return lesson.opening_lines(chart_line(one.chart), one.shop.invented, note, tuple(filter(None, (stands_in(),))))


def bare_sizes(shop: Shop) -> list[str]:
    """The sizes of a shop's bare galvanised reels, the thinnest first."""
    found = {reel.size for reel in shop.reels if reel.metal == CABLE_METAL and not reel.coating_to}
    return [size for size in SIZES if size in found]


def end() -> tuple[ClipRow, Shop, bool]:
    """The end that this lesson fits: its clip maker's row, the shop whose row that is, and whether the shop in force has the cable.

    The shop's own row for a bare galvanised reel; else the invented sample's row for such a reel; else the sample's row and reel.
    """
    return _end(shop_for_teaching()[0].digest)


@lru_cache(maxsize=4)
def _end(digest: str) -> tuple[ClipRow, Shop, bool]:
    on_the_rack = sorted(bare_sizes(shop_for_teaching()[0]), key=lambda size: size != LIKED)
    for shop in (shop_for_teaching()[0], sample_shop()):
        rows = {row.size: row for row in shop.clips}
        for size in on_the_rack:
            if size in rows:
                return rows[size], shop, True
    return next(row for row in sample_shop().clips if row.size == LIKED), sample_shop(), False


def end_size() -> str:
    """The size of that end."""
    return end()[0].size


def stands_in() -> str:
    """What is said where the invented sample's row stands in for the end; nothing where it does not."""
    row, shop, on_the_rack = end()
    if shop.name == shop_for_teaching()[0].name:
        return ""
    cable = "" if on_the_rack else f", and the {row.size} in cable that it is fitted on is not on your rack"
    return f"Your shop file has no clip maker's row for a bare galvanised reel, so the invented sample's row for {row.size} in stands here{cable}. Clip nothing real by it: the practice sheet leaves turnback and torque blank, to be read from the clip maker's own table."


def row_mark() -> str:
    """What stands under a drawing of the lesson's end where its row is the invented shop's; nothing where it is the shop's own."""
    return f"The clips' row: {scene_mark()}." if end()[1].invented else ""


def shown_mm(length_mm: float, direction: str = "nearest") -> str:
    """A length in the units of the shop in force, inches first in a US shop; `direction` "up" for what is at least.

    Errors: `UnitError` for what is no number. Source: `bench_units.by_rule`.

    >>> shown_mm(38.1)
    '1 1/2 in [38.1 mm]'
    """
    return by_rule(length_mm, kit()[0].shop, direction)


def shown_nm(torque_nm: float) -> str:
    """A torque given in N m, in the units of the shop in force: lbf ft first in a US shop, each rounded by itself.

    Errors: none. Source: a pound-force and a foot as `rigcalc.units` has them.

    >>> shown_nm(18.0)
    '13.3 lbf ft [18 N m]'
    """
    metric = f"{torque_nm:.3g} N m"
    pounds = f"{torque_nm * 1000 / float(LBF_N * FOOT_MM):.1f}".removesuffix(".0")
    return f"{pounds} lbf ft [{metric}]" if kit()[0].shop.system == "US" else metric


def torque_unit() -> str:
    """The unit beside a blank for a torque: in a US shop either of two, and the writer says which.

    >>> torque_unit()
    'lbf ft or N m'
    """
    return "lbf ft or N m" if kit()[0].shop.system == "US" else "N m"


def row_of(size: str) -> ClipRow:
    """The row that a size is told with here: that of the lesson's end, the shop's clip maker's, else one that only teaches."""
    row = end()[0]
    return row if size == row.size else clip_row(size, shop_for_teaching()[0].clips)


def plan(size: str = "", drop_forged: bool = True) -> ClipPlan:
    """How one end is clipped, the lesson's own where no size is named."""
    return clip_plan(size or end_size(), drop_forged, row_of(size or end_size()))


def base_mm(size: str = "") -> float:
    """The length of a clip along the cable, the lesson's own where no size is named."""
    return row_of(size or end_size()).base_mm or BASE_OF_ROW_MM


def beside_shop() -> Shop:
    """Whose cable a sleeve and clips are laid side by side on: the shop's where clips have a row for one of its bare galvanised reels, else the invented sample's."""
    shop = shop_for_teaching()[0]
    return shop if any(map(_has_row, bare_sizes(shop))) else sample_shop()


def beside_size() -> str:
    """The size that they are first laid side by side in: the end's where that shop has its cable."""
    sizes = bare_sizes(beside_shop())
    return end_size() if end_size() in sizes else next(filter(_has_row, sizes))


def _has_row(size: str) -> bool:
    try:
        row_of(size)
    except Refusal:
        return False
    return True
