"""What stops the pressing on a practice sheet, as a line of it: the words of the job sheet."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from rigcalc._press_stops import press_stops as stops

if TYPE_CHECKING:
    from rigcalc.shop import Shop
    from rigcalc.sleeve import ChartRow, CrimpChart

__all__ = ["press_stops"]


def press_stops(shop: Shop, chart: CrimpChart, row: ChartRow, on: date | None = None) -> tuple[tuple[str, str, bool], ...]:
    """A line of the sheet for each thing that must be settled before anything is pressed by that row; () where there is none.

    The invented shop's gauges and tools are pictures: their days stop nobody. `on`: the day, today where none is given.
    Errors: none. Source: the shop's file.

    >>> from rigcalc.notebook.teaching import sample_shop
    >>> [press_stops(sample_shop(), chart, row) for chart in sample_shop().charts[:1] for row in chart.rows[:1]]
    [()]
    """
    gauge = next((one for one in shop.gauges if one.id == row.gauge and not shop.invented), None)
    tool = next((one for one in shop.tools if one.id == chart.tool and not shop.invented), None)
    return tuple((words.removesuffix("."), "", True) for words in stops(gauge, tool, row, on or date.today()))
