"""What a value can be a member of: rows of the sourced tables and what the shop has, as plain records."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from typing import Any

__all__ = ["MEMBERS", "members"]

Record = dict[str, Any]


def _record(thing: Any, names: tuple[str, ...]) -> Record:
    found = {name: getattr(thing, name, None) for name in names}
    return {name: list(value) if isinstance(value, tuple) else value for name, value in found.items()}


def _cables(shop: Any) -> list[Record]:
    """Every cable of the strength table, once for each metal that has a figure."""
    from rigcalc.reference import table

    return _cable_records(tuple((row.size, row.construction, row.galvanised_lbf, row.stainless_lbf, row.source,
                                 row.locator) for row in table("cable_strength")))


@lru_cache(maxsize=4)
def _cable_records(rows: tuple) -> list[Record]:
    from rigcalc.units import LBF_N

    return [{"size": size, "construction": construction, "metal": metal,
             "breaking_force_n": float(Fraction(pounds) * LBF_N), "source": source, "locator": locator}
            for size, construction, galvanised, stainless, source, locator in rows
            for metal, pounds in (("galvanised", galvanised), ("stainless", stainless)) if pounds]


def _inch(size: str) -> Fraction | None:
    try:
        return Fraction(size)
    except ValueError:
        return None


def _reels(shop: Any) -> list[Record]:
    """The shop's reels of an inch size; `bare` is yes where there is no coating."""
    names = ("id", "label", "size", "construction", "metal", "coating_to", "certificate_n", "certificate", "lot")
    found = [_record(reel, names) for reel in shop.reels if _inch(reel.size)]
    for reel in found:
        reel["bare"] = not reel["coating_to"]
        reel["certified"] = reel["certificate_n"] is not None
    return found


def _chart_rows(shop: Any) -> list[Record]:
    """Every row of every chart of the shop, with the chart it stands in."""
    found = []
    for chart in shop.charts:
        for row in chart.rows:
            record = _record(row, ("size", "cavity", "count", "order", "order_source", "sleeve_before_mm",
                                   "sleeve_after_mm", "gauge", "gauge_slot", "minimum_gap_mm", "crimp_width_mm"))
            record.update(_record(chart, ("edition", "maker", "sleeve_metal", "tool", "kind", "invented")))
            record.update(chart=chart.id, ordered=bool(row.order), mark="INVENTED. " if chart.invented else "")
            found.append(record)
    return found


def _charts(shop: Any) -> list[Record]:
    """Every chart of the shop whole: its head, and its rows as a list."""
    rows = _chart_rows(shop)
    head = ("chart", "maker", "edition", "sleeve_metal", "tool", "mark")
    return [{name: own[0][name] for name in head} | {"rows": own} for chart in shop.charts
            if (own := [row for row in rows if row["chart"] == chart.id])]


def _tools(shop: Any) -> list[Record]:
    """The shop's tools; `cavities` is a list of sizes, each with the mark on the jaw."""
    return [{"tool": tool.id, "name": tool.name,
             "cavities": [{"size": size, "cavity": mark} for size, mark in tool.cavities]} for tool in shop.tools]


def _thimbles(shop: Any) -> list[Record]:
    return [_record(one, ("size", "metal", "loop_mm", "bearing_to_sleeve_mm")) for one in shop.thimbles]


def _factors(shop: Any) -> list[Record]:
    """The shop's own design factors, each with its owner, day and scope."""
    found = [_record(one, ("value", "owner", "scope")) for one in shop.factors]
    for record, one in zip(found, shop.factors, strict=True):
        record["set_on"] = str(one.set_on)
    return found


def _sizes(shop: Any) -> list[Record]:
    from rigcalc.cable import sizes

    return [{"size": name, "inches": float(Fraction(name))} for name in sizes()]


MEMBERS = {"cables": _cables, "reels": _reels, "chart rows": _chart_rows, "charts": _charts, "tools": _tools, "thimbles": _thimbles,
           "factors": _factors, "sizes": _sizes}


def members(name: str, shop: Any, pools: dict[str, list[Record]]) -> list[Record]:
    """The members called `name`: one of the family's own pools, else a table or what the shop has."""
    return pools[name] if name in pools else _of_shop(name, shop)


_KEPT: dict[tuple[str, int], tuple[Any, list[Record]]] = {}  # a shop never changes, and its members are drawn from thousands of times


def _of_shop(name: str, shop: Any) -> list[Record]:
    kept = _KEPT.get((name, id(shop)))
    if kept is None or kept[0] is not shop:
        if len(_KEPT) > 64:
            _KEPT.clear()
        kept = _KEPT[name, id(shop)] = shop, MEMBERS[name](shop)
    return list(kept[1])
