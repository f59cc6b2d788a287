"""Sizes wanted: which tools, cavities, gauges, sleeves, thimbles and reels they need, and what is missing."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from rigcalc.cable import METALS
from rigcalc.cable import sizes as known_sizes
from rigcalc.errors import Refusal
from rigcalc.pairing import SERVICES, pairing
from rigcalc.rating import efficiency
from rigcalc.shop.model import Reel, Shop
from rigcalc.sleeve import SLEEVE_METALS, ChartRow, CrimpChart
from rigcalc.units import either_side, read_size, show_length

__all__ = ["Way", "Wanted", "read_sizes", "sizes_wanted", "wanted_as_text"]


@dataclass(frozen=True)
class Way:
    """One way to press a size: sleeve metal and its verdict, tool, cavity, chart, gauge and slot, and whether it can be gauged.

    `gauge_in_date` holds on the day that was asked about.
    """

    size: str
    sleeve_metal: str
    verdict: str
    tool: str
    cavity: str
    chart: str
    gauge: str
    gauge_slot: str
    gauge_in_date: bool
    sleeve_before_mm: float | None
    order_known: bool
    gauge_mark: str = ""


@dataclass(frozen=True)
class Wanted:
    """What one size needs and has in this shop, and each gap in words; no gap means work can begin."""

    size: str
    metal: str
    service: str
    sleeve_metals: tuple[tuple[str, str], ...]
    ways: tuple[Way, ...]
    reels: tuple[str, ...]
    thimble: str | None
    gaps: tuple[str, ...]


def read_sizes(text: str) -> tuple[str, ...]:
    """The inch sizes of a list such as "1/8,3/16", each once, in the order given.

    Errors: `Refusal` for what is no size of the strength table, with the nearest ones.
    """
    names = tuple(dict.fromkeys(_size(part) for part in text.split(",") if part.strip()))
    if not names:
        raise Refusal("no sizes", 'inch sizes with commas between, as "1/8,3/16"', "name those that are wanted")
    return names


def _size(text: str) -> str:
    size, known = read_size(text.strip()).name, known_sizes()
    if size not in known:
        nearest = " or ".join(name for name in either_side(size, known) if name)
        raise Refusal(f"the size {size}", f"the sizes of the strength table, the nearest {nearest}", "take one of them")
    return size


def sizes_wanted(shop: Shop, sizes: Sequence[str], metal: str = "galvanised", service: str = "dry",
                 on: date | None = None) -> tuple[Wanted, ...]:
    """For each inch size of one cable metal in one service: what is needed, what is there on that day, what is missing.

    Errors: `Refusal` for an unknown size, metal or service.
    """
    for word, accepted, what in ((metal, METALS, "cable metal"), (service, SERVICES, "service")):
        if word not in accepted:
            raise Refusal(f"the {what} {word!r:.40}", ", ".join(accepted), "take one of these")
    return tuple(_wanted(shop, _size(size), metal, service, on or date.today()) for size in sizes)


def _wanted(shop: Shop, size: str, metal: str, service: str, on: date) -> Wanted:
    """One size."""
    verdicts = {sleeve: pairing(metal, sleeve, service) for sleeve in SLEEVE_METALS}
    allowed = tuple((sleeve, found.verdict + (", from memory: ask its maker" if found.how_known == "from memory" else "")) for sleeve, found in verdicts.items() if found.allowed)
    ways = tuple(_way(shop, chart, row, dict(allowed)[chart.sleeve_metal], on) for chart in shop.charts for row in chart.rows
                 if row.size == size and chart.sleeve_metal in dict(allowed))
    reels = tuple(_reel(reel) for reel in shop.reels if (reel.size, reel.metal) == (size, metal))
    thimble = next((f"{t.metal}, loop {show_length(t.loop_mm, shop.system)}" for t in shop.thimbles
                    if (t.size, t.metal) == (size, _thimble_metal(metal))), None)
    gaps = (*_press_gaps(shop, size, metal, service, allowed, ways), *_order_gaps(ways), *_tool_gaps(shop, ways), *_gauge_gaps(shop, size, allowed, ways, on), *_share_gaps(shop, metal, ways),
            *_stock_gaps(shop, size, metal, reels, thimble))
    return Wanted(size, metal, service, allowed, ways, reels, thimble, gaps)


def _thimble_metal(metal: str) -> str:
    return "stainless" if metal == "stainless" else "galvanised"


def _way(shop: Shop, chart: CrimpChart, row: ChartRow, verdict: str, on: date) -> Way:
    """One row of a chart whose sleeve metal may go on this cable."""
    gauge = next((g for g in shop.gauges if g.id == row.gauge), None)
    return Way(row.size, chart.sleeve_metal, verdict, chart.tool or "", row.cavity, chart.id, row.gauge or "", row.gauge_slot or "",
               gauge is not None and gauge.in_date(on), row.sleeve_before_mm, row.order is not None,
               gauge.mark(on) if gauge is not None else "OUT OF DATE")


def _reel(reel: Reel) -> str:
    coat = f", coated to {reel.coating_to}" if reel.coating_to else ""
    paper = reel.certificate or "no certificate"
    return f"{reel.id}: {reel.size} {reel.construction} {reel.metal}{coat}, {paper}"


# --- what is missing ----------------------------------------------------------------------------------

def _press_gaps(shop: Shop, size: str, metal: str, service: str, allowed: tuple, ways: tuple[Way, ...]) -> list[str]:
    """No sleeve may go on, no tool has the cavity, or no chart lists a sleeve that may."""
    if not allowed:
        return [f"no hand-pressed sleeve may go on {metal} cable, {service}: ask for another kind of end"]
    if ways:
        return []
    tools = [tool.id for tool in shop.tools if size in tool.sizes]
    sleeves = " or ".join(sleeve for sleeve, _ in allowed)
    if not tools:
        return [f"no tool has a cavity for {size}", f"no chart lists {size} for {sleeves} sleeves"]
    return [f"no chart lists {size} for {sleeves} sleeves: ask the maker of tool {' or '.join(tools)} whether it may press them"]


def _order_gaps(ways: tuple[Way, ...]) -> list[str]:
    """Ways whose chart gives no order of pressing."""
    return [f'chart {way.chart} gives no order of pressing for {way.size} ("maker gives none"): ask the maker of tool {way.tool} before the first press'
            for way in ways if not way.order_known]


def _tool_gaps(shop: Shop, ways: tuple[Way, ...]) -> list[str]:
    """Every tool of a way that was found bad, once."""
    return [f"tool {tool.id} {tool.out_of_use}: have it set right and checked before anything is pressed"
            for tool in shop.tools if tool.found_bad and any(way.tool == tool.id for way in ways)]


def _gauge_gaps(shop: Shop, size: str, allowed: tuple, ways: tuple[Way, ...], on: date) -> list[str]:
    """Every gauge of a way that judges nothing on that day, once; and a size that no gauge of the shop has a slot for."""
    fits = any(size in gauge.sizes and sleeve in gauge.sleeve_metals for gauge in shop.gauges for sleeve, _ in allowed)
    found = [] if fits or not allowed else [f"no gauge has a slot for {size} with {' or '.join(sleeve for sleeve, _ in allowed)} sleeves"]
    for name in dict.fromkeys(way.gauge for way in ways if not way.gauge_in_date):
        gauge = next((g for g in shop.gauges if g.id == name), None)
        found.append(f"no gauge is named for {'/'.join(w.chart for w in ways if w.gauge == name)}" if gauge is None else
                     f"gauge {name} {gauge.out_of_date(on)}: have it checked before anything is pressed")
    return found


def _share_gaps(shop: Shop, metal: str, ways: tuple[Way, ...]) -> list[str]:
    """Ways whose sleeve has no figure of its own for what it holds: neither in the chart nor from a pulled lot."""
    found = []
    for way in ways:
        row = next(row for chart, row in shop.rows_for(way.tool) if chart.id == way.chart and row.size == way.size)
        pulled = any(lot.what == "eye" and lot.set_aside is None and (lot.size, lot.metal, lot.sleeve_metal, lot.tool)
                     == (way.size, metal, way.sleeve_metal, way.tool) for lot in shop.pulled_lots)
        if row.efficiency is None and not pulled and _carried_over(way.sleeve_metal, metal):
            found.append(f"chart {way.chart} gives no efficiency for {way.sleeve_metal} on {metal}, and no lot was pulled: "
                         "for real work ask the sleeve maker")
    return found


def _carried_over(sleeve_metal: str, metal: str) -> bool:
    """Whether the common figure for what an eye holds does not speak of this pair."""
    try:
        return bool(efficiency(sleeve_metal, metal, "7x19").note)
    except Refusal:
        return True


def _stock_gaps(shop: Shop, size: str, metal: str, reels: tuple[str, ...], thimble: str | None) -> list[str]:
    """No reel, none with a certificate, or no thimble."""
    found = []
    if not reels:
        found.append(f"no reel of {size} {metal} is on the rack")
    elif not any(r.certificate for r in shop.reels if (r.size, r.metal) == (size, metal)):
        found.append(f"no reel of {size} {metal} has a certificate: ask its supplier")
    if thimble is None:
        found.append(f"no {_thimble_metal(metal)} thimble for {size} stands in the shop file: measure one")
    return found


# --- text -------------------------------------------------------------------------------------------

def wanted_as_text(wanted: Sequence[Wanted], system: str = "US") -> str:
    """The sizes wanted as plain text, 80 columns wide, what is missing last."""
    lines = []
    for one in wanted:
        head = f"{one.size} {one.metal}, {one.service}"
        lines += [head, "-" * len(head)]
        sleeves = "; ".join(f"{sleeve} ({verdict})" for sleeve, verdict in one.sleeve_metals) or "none may go on"
        for name, values in (("Sleeves", (sleeves,)), ("Press", tuple(_way_words(way, system) for way in one.ways) or ("no way",)),
                             ("Reels", one.reels or ("none",)), ("Thimble", (one.thimble or "none",)),
                             ("Missing", one.gaps or ("nothing",))):
            for n, value in enumerate(values):
                lines += textwrap.wrap(value, 80, initial_indent=f"  {name if not n else '':<9}", subsequent_indent=" " * 13,
                                       break_on_hyphens=False)
        lines.append("")
    return "\n".join(lines).rstrip()


def _way_words(way: Way, system: str) -> str:
    sleeve = f" {show_length(way.sleeve_before_mm, system)} long" if way.sleeve_before_mm else ""
    state = f", {way.gauge_mark}" if way.gauge_mark else ""
    return (f"{way.sleeve_metal} sleeve{sleeve}: tool {way.tool}, cavity {way.cavity} (chart {way.chart}); "
            f"gauge {way.gauge or 'none'}, slot {way.gauge_slot or 'none'}{state}")
