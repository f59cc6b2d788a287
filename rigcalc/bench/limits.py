"""What a bench form measures against: limits from the cable's size, the shop file and its chart, each with its source.

No limit stands in Python: another size is another row of data.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from rigcalc._order_figures import caliper, exact_length, sheet_length
from rigcalc.bench.tasks import Checkpoint, Piece
from rigcalc.cable import band_mm
from rigcalc.errors import Refusal
from rigcalc.layout import least_tail_mm
from rigcalc.sleeve import chart_in_force, chart_line
from rigcalc.units import exact, read_size, round_to, show_force, show_length

__all__ = ["Facts", "facts_of", "limit_of"]


@dataclass(frozen=True)
class Facts:
    """One piece as the shop makes it: the chart row in force, tool, gauge and what the texts name."""

    piece: Piece
    diameter_mm: float
    chart: Any
    row: Any
    tool: str
    gauge: Any | None
    words: dict[str, str]

    @property
    def practice(self) -> bool:
        """Whether no maker's chart stands behind the count: then the form is a PRACTICE form."""
        return self.chart.kind != "maker"

    @property
    def chart_line(self) -> str:
        """The line that names the chart in force."""
        return chart_line(self.chart)


def facts_of(piece: Piece, shop, tool: str | None = None) -> Facts:
    """Look up one piece in the shop: chart in force, cavity, count, order, gauge.

    Parameters
    ----------
    piece : Piece
        Size by name, construction, cable metal, sleeve metal, pin to pin in mm, eyes.
    shop : Shop
    tool : str, optional
        The id of the tool on the bench; None takes the first tool that has a chart for the sleeve.

    Raises
    ------
    Refusal
        When no chart row covers the sleeve, or the row names no gauge of the shop.
    """
    chart, row = chart_in_force(shop.charts, piece.sleeve_metal, piece.size, tool)
    gauge = next((g for g in shop.gauges if g.id == row.gauge), None)
    if gauge is None and chart.kind == "maker":
        raise Refusal(f"the chart {chart.id}, whose row {row.size} names no gauge of the shop", "a row with a gauge in the shop file",
                      "add the gauge; nobody is assessed by eye alone")
    diameter_mm = float(read_size(piece.size).diameter_mm)
    # With the common practice chart no tool is named: the form then has to be a practice form anyway.
    named = chart.tool if chart.kind == "maker" else tool or next((t.id for t in shop.tools if piece.size in t.sizes), "of the bench")
    words = {"size": piece.size, "construction": piece.construction, "metal": piece.metal, "sleeve_metal": piece.sleeve_metal,
             "crimps": str(row.count), "order": _order(row), "tool": str(named), "cavity": str(row.cavity or "as marked"),
             "gauge": f"{gauge.id}, slot {row.gauge_slot or piece.size}, due {gauge.due_on.isoformat()}" if gauge else "of the tool",
             "pin_to_pin": show_length(piece.pin_to_pin_mm, shop.system) + " pin to pin",
             "least_tail": _least_tail(diameter_mm, shop.system)}
    return Facts(piece, diameter_mm, chart, row, str(named), gauge, words)


def _order(row) -> str:
    if not row.order:
        return "the chart gives none: ask the maker"
    return ", ".join(str(place) for place in row.order) + " (numbered from the thimble)"


def _least_tail(diameter_mm: float, system: str) -> str:
    if system == "US":
        return sheet_length(least_tail_mm(diameter_mm), "US", "up")
    least = round_to(Decimal(str(least_tail_mm(diameter_mm))), Decimal("0.1"), "up")
    return f"{least} mm"


def limit_of(point: Checkpoint, facts: Facts, shop) -> dict | None:
    """The limit of one measured checkpoint as plain data, or None where the shop gives no ground for it.

    Lengths in mm, forces in N; `said` is the limit in words, `source` where it comes from.
    """
    return _LIMITS[point.limit](facts, shop)


def _lengths(shop) -> list[str]:
    """The units a length may be typed in, the shop's own first."""
    return ["in", "mm"] if shop.system == "US" else ["mm", "in"]


def _target(target_mm: float, system: str) -> str:
    return show_length(target_mm, "US") if system == "US" else f"{target_mm:g} mm"


def _near(facts: Facts, shop) -> dict:
    within, size = shop.bench.diameter_tolerance_mm, facts.piece.size
    least, most = band_mm(size)
    # A caliper may be off by the shop's own tolerance, below the least and above the greatest.
    low, high = float(exact(least) - exact(within)), float(exact(most) + exact(within))
    said = (f"within {exact_length(within, shop.system, 'down')} of your own reading, and yours from {caliper(low, shop.system, 'up')} "
            f"to {caliper(high, shop.system, 'down')}, as {size} cable reads over its crowns")
    return {"rule": "near the assessor's", "within_mm": within, "size": size, "band_mm": [low, high], "said": said,
            "parts": ["candidate's reading", "your reading"], "units": _lengths(shop),
            "source": f"{_shop_source(shop, 'diameter_tolerance')}; {size} over its crowns: AC 43.13-1B, Table 7-3, tolerance column, "
                      "widened by it on both sides"}


def _tail_before(facts: Facts, shop) -> dict:
    return {"rule": "tail before", "least_mm": float(least_tail_mm(facts.diameter_mm)), "most_mm": facts.piece.pin_to_pin_mm,
            "said": f"at least 2 d = {facts.words['least_tail']}", "parts": ["tail"], "units": _lengths(shop),
            "source": f"2 d of {facts.piece.size} cable, common practice; AC 43.13-1B 7-148c says that it must protrude"}


def _tail_after(facts: Facts, shop) -> dict:
    return {"rule": "tail after", "above_mm": 0.0, "most_mm": facts.piece.pin_to_pin_mm, "said": "more than nothing: visibly there", "parts": ["tail"],
            "units": _lengths(shop), "source": "common practice: the sleeve grew towards the tail; 2 d is not asked after pressing"}


def _gaps(facts: Facts, shop) -> dict | None:
    count = facts.row.count
    if count < 2:
        return None
    within, least = shop.bench.gap_tolerance_mm, facts.row.minimum_gap_mm
    said = f"each within {exact_length(within, shop.system, 'down')} of their mean" + (f", none under {exact_length(least, shop.system, 'up')}" if least else "")
    return {"rule": "gaps", "within_mm": within, "least_mm": least, "said": said, "units": _lengths(shop),
            "parts": [f"between {n} and {n + 1}" for n in range(1, count)],
            "source": _shop_source(shop, "gap_tolerance") + (f"; least gap: {facts.chart_line}" if least else "")}


def _pin_to_pin(facts: Facts, shop) -> dict:
    target, within = facts.piece.pin_to_pin_mm, shop.bench.pin_to_pin_tolerance_mm
    return {"rule": "pin to pin", "target_mm": target, "within_mm": within, "said": f"{_target(target, shop.system)}, give or take {exact_length(within, shop.system, 'down')}",
            "parts": ["pin to pin"], "units": _lengths(shop), "source": _shop_source(shop, "pin_to_pin_tolerance")}


def _pull_load(facts: Facts, shop) -> dict | None:
    test = shop.pull_test(facts.piece.size, facts.piece.metal)
    if test is None:
        return None
    return {"rule": "pull load", "least_n": float(test.hold_n), "parts": ["load held"], "units": ["lbf", "N", "kN"],
            "said": f"at least {show_force(test.hold_n, shop.system, 'up')}, held without slip",
            "source": f"{test.procedure}, set by {test.set_by} on {test.set_on.isoformat()}"}


def _shop_source(shop, field: str) -> str:
    return f"shop file of {shop.name}, [bench] {field}"


_LIMITS = {"near the assessor's": _near, "tail before": _tail_before, "tail after": _tail_after, "gaps": _gaps,
           "pin to pin": _pin_to_pin, "pull load": _pull_load}
