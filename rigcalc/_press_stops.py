"""What stops the pressing before its first stroke: the same words on a job sheet and on a practice sheet."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rigcalc.shop.pressing import Gauge, Tool
    from rigcalc.sleeve import ChartRow

__all__ = ["press_stops"]


def press_stops(gauge: Gauge | None, tool: Tool | None, row: ChartRow, on: date) -> tuple[str, ...]:
    """A sentence for each thing that must be settled before anything is pressed by a row of the chart; () where there is none.

    Parameters: the gauge and the tool of the shop's file, None where there is none to ask about; the row; the day.
    Errors: none. Source: the trade: no press without an order from the maker, a gauge in date and a tool that closes.

    >>> from rigcalc.sleeve import ChartRow
    >>> press_stops(None, None, ChartRow("1/8", "C", 3, (2, 1, 3), gauge="GB"), date(2026, 3, 2))
    ()
    >>> press_stops(None, None, ChartRow("1/8", "C", 3, gauge="GB"), date(2026, 3, 2))
    ('STOP: the chart in force gives no order of pressing. Ask the tool maker before the first press.',)
    """
    stops = []
    if gauge is not None and not gauge.in_date(on):
        stops.append(f"STOP: gauge {gauge.id} {gauge.out_of_date(on)}. Press nothing until it has been checked.")
    if tool is not None and tool.found_bad:
        stops.append(f"STOP: tool {tool.id} {tool.out_of_use}. Press nothing with it until it has been set right and checked.")
    if row.order is None:
        stops.append("STOP: the chart in force gives no order of pressing. Ask the tool maker before the first press.")
    if row.gauge is None:
        stops.append("STOP: the chart in force names no gauge. Nothing made here can be passed.")
    return tuple(stops)
