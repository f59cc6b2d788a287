"""Sleeves: the crimp chart in force, its order, how far a cable fills a sleeve; where the crimps go stands in `_crimps`."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from rigcalc._crimps import (
    CopperCount,
    CrimpPlan,
    Fact,
    GrowthBound,
    MeanGrowth,
    OtherOrder,
    copper_counts_from_memory,
    crimp_plan,
    growth_bound_mm,
    mean_growth_mm,
    other_sleeves_order,
    oval_in_the_jaws,
)
from rigcalc._given import among, listed, of_kind, said, texts, yes_or_no
from rigcalc._records import record
from rigcalc.errors import BenchMatter, Refusal
from rigcalc.reference import constant, table
from rigcalc.units import INCH_MM, either_side, exact, size_inches

__all__ = ["ASK_THE_MAKER", "FILL_IS_NO_PASS", "SLEEVE_METALS", "ChartRow", "CopperCount", "CrimpChart", "CrimpPlan", "Fact", "GrowthBound",
           "MeanGrowth", "OtherOrder", "built_in_chart", "chart_in_force", "chart_line", "copper_counts_from_memory", "crimp_plan",
           "fill", "growth_bound_mm", "mean_growth_mm", "order_words", "other_sleeves_order", "oval_in_the_jaws",
           "refuse_size_without_sleeve", "sleeve_sizes", "times_as_heavy"]

FILL_IS_NO_PASS = ("A fill is a ratio of areas and no pass: it says only how little of the sleeve is cable. The size on the bag and the size "
                   "on the reel must be the same, whatever the fill.")
SLEEVE_METALS = ("aluminium", "plain copper", "zinc-plated copper", "tin-plated copper", "stainless")
ASK_THE_MAKER = "no order stands in the chart in force: ask the tool maker"


@record
class ChartRow:
    """One size of a crimp chart: count, order from the thimble, lengths and gauge where the maker gives them."""

    size: str
    cavity: str
    count: int
    order: tuple[int, ...] | None = None
    order_source: str = ""
    sleeve_before_mm: float | None = None
    sleeve_after_mm: float | None = None
    gauge: str | None = None
    gauge_slot: str | None = None
    gauge_max_mm: float | None = None
    minimum_gap_mm: float | None = None
    crimp_width_mm: float | None = None
    efficiency: float | None = None

    def __post_init__(self) -> None:
        if not isinstance(self.count, int) or isinstance(self.count, bool) or self.count < 1:
            raise Refusal(f"the count {said(self.count)} for size {said(self.size)}", "a whole number from 1", "copy it again from the chart")
        texts(self, "size cavity order_source", "a chart's row")
        order = None if self.order is None else listed(self.order, "the order of the crimps", int)
        if order is not None and (len(order) != self.count or sorted(order) != list(range(1, self.count + 1))):
            raise Refusal(f"the order {', '.join(map(said, self.order))} for {said(self.count)} crimps of size {self.size}",
                          f"each place from 1 to {said(self.count)} once", "copy the order again from the chart")


@record
class CrimpChart:
    """A chart for one sleeve metal and one tool, with who copied it and who checked it."""

    id: str
    edition: str
    maker: str
    sleeve_metal: str
    tool: str | None
    rows: tuple[ChartRow, ...]
    copied_by: str = ""
    checked_by: str = ""
    copied_on: str = ""
    invented: bool = False
    kind: str = "maker"

    def __post_init__(self) -> None:
        texts(self, "id edition maker sleeve_metal copied_by checked_by copied_on kind", "a chart")
        for row in listed(self.rows, "the rows of a chart", ChartRow):
            size_inches(row.size)
        if self.tool is not None:
            of_kind(self.tool, str, "the tool of a chart")
        yes_or_no(self.invented, "whether a chart is invented")

    @property
    def for_real_work(self) -> bool:
        """A maker's chart, and no invented one: what is only remembered is not made by it."""
        return self.kind == "maker" and not self.invented

    def makers_word(self, row: ChartRow) -> str:
        """The chart by name where its maker gives an efficiency in a row: that is the maker's word on this sleeve and this cable."""
        return f"chart {self.id}, edition {self.edition}" if row.efficiency is not None else ""


def built_in_chart() -> CrimpChart:
    """The common-practice counts for aluminium hourglass sleeves in a hand swager: for PRACTICE sheets only.

    It gives no order, no tool and no gauge. Range: 1/16 to 3/8 without 3/64, 7/32, 9/32 and 11/32. Errors: none.
    Source: common practice.

    >>> [row.count for row in built_in_chart().rows]
    [2, 2, 3, 3, 4, 4, 5, 5]
    """
    rows = tuple(ChartRow(row.size, "", row.count) for row in table("crimps_common_practice"))
    return CrimpChart("built-in", "common practice", "", "aluminium", None, rows, kind="common practice")


def chart_in_force(charts: Iterable[CrimpChart], sleeve_metal: str, size: str, tool: str | None = None,
                   cavity: str | None = None) -> tuple[CrimpChart, ChartRow]:
    """The chart that governs a sleeve, and its row: the shop's maker chart, else common practice for aluminium.

    Parameters: the shop's charts; sleeve metal; inch size; tool id and cavity where they are known.
    Errors: `Refusal` for an unknown metal; copper or stainless without the shop's own chart; a size without
    a row, with both neighbours named; two charts or cavities that differ while none is named.
    Source: the tool maker's chart in the shop file; without one, common practice, which only teaches.

    >>> chart, row = chart_in_force((), "aluminium", "1/8")
    >>> chart.kind, row.count, row.order
    ('common practice', 3, None)
    """
    if not among(sleeve_metal, SLEEVE_METALS):
        raise Refusal(f"the sleeve metal {said(sleeve_metal)}", ", ".join(SLEEVE_METALS), "read the metal from the bag's label")
    size_inches(size)
    for word, what in ((tool, "the tool"), (cavity, "the cavity")):
        if word is not None:
            of_kind(word, str, what)
    charts = listed(charts, "the charts", CrimpChart)
    usable = [chart for chart in charts if chart.sleeve_metal == sleeve_metal and tool in (None, chart.tool)]
    if not usable:
        usable = [_without_maker(sleeve_metal, tool, size, charts)]
    found = [(chart, row) for chart in usable for row in chart.rows
             if row.size == size and cavity in (None, row.cavity)]
    if not found:
        raise _no_row(usable, sleeve_metal, size, tool, charts)
    if any(row != found[0][1] for _, row in found):
        raise _several(found, sleeve_metal, size)
    return found[0]


def _without_maker(sleeve_metal: str, tool: str | None, size: str, charts: tuple[CrimpChart, ...]) -> CrimpChart:
    chart = built_in_chart()
    if chart.sleeve_metal != sleeve_metal:
        which = f"the tool {tool}" if tool else "any tool"
        raise BenchMatter(f"a {sleeve_metal} sleeve with no chart in the shop file for {which}",
                          "a tool maker's chart for that metal, entered in the shop file" + _elsewhere(size, charts),
                          "enter the maker's chart or ask the maker: there is no built-in count for it")
    return chart


def _elsewhere(size: str, charts: tuple[CrimpChart, ...]) -> str:
    """The sleeve metals and tools of the shop that have a row for a size; '' where none has."""
    have = [f"{chart.sleeve_metal} on tool {chart.tool}" for chart in charts if any(row.size == size for row in chart.rows)]
    return f"; for {size} cable this shop has charts for {' and '.join(have)}" if have else ""


def _no_row(charts: list[CrimpChart], sleeve_metal: str, size: str, tool: str | None, all_charts: tuple[CrimpChart, ...]) -> Refusal:
    below, above = either_side(size, {row.size for chart in charts for row in chart.rows})
    nearest = " or ".join(name for name in (below, above) if name) or "no size at all"
    which = f" on tool {tool}" if tool else ""
    return BenchMatter(f"{sleeve_metal} sleeve size {size}{which}", f"the chart's nearest sizes {nearest}, for cable of that size{_elsewhere(size, all_charts)}",
                   f"take a cable and sleeve that {_short(charts)} lists, or ask the maker")


def _short(charts: list[CrimpChart]) -> str:
    return " or ".join(f"chart {chart.id}" if chart.kind == "maker" else "the built-in chart" for chart in charts)


def _several(found: list[tuple[CrimpChart, ChartRow]], sleeve_metal: str, size: str) -> Refusal:
    places = "; ".join(f"tool {chart.tool}" + (f" cavity {row.cavity}" if row.cavity else "") for chart, row in found)
    return Refusal(f"a {size} {sleeve_metal} sleeve without the tool", places,
                   "name the tool: two charts must not be mixed")


def chart_line(chart: CrimpChart) -> str:
    """One line that names the chart in force, for a page or a sheet.

    Parameters: a chart. Errors: `Refusal` for what is no chart. Source: the chart's own fields.

    >>> chart_line(built_in_chart())
    'built-in counts for aluminium sleeves (common practice, no maker: for practice only)'
    """
    if of_kind(chart, CrimpChart, "a chart").kind != "maker":
        return f"built-in counts for {chart.sleeve_metal} sleeves (common practice, no maker: for practice only)"
    who = f"copied by {chart.copied_by or 'nobody named'}, checked by {chart.checked_by or 'nobody named'}"
    tool = f", tool {chart.tool}" if chart.tool else ""
    invented = "INVENTED " if chart.invented else ""
    return f"{invented}chart {chart.id} of {chart.maker}, edition {chart.edition}, {chart.sleeve_metal} sleeves{tool}; {who}"


def order_words(row: ChartRow) -> str:
    """The order of the crimps in words, places counted from the thimble, or whom to ask.

    Parameters: a row of the chart in force. Errors: `Refusal` for what is no row. Source: the tool maker's chart; there is no order of the trade's own.

    >>> order_words(ChartRow("1/8", "C", 3, (2, 1, 3)))
    'press place 2, then 1, then 3 (place 1 is next to the thimble)'
    >>> order_words(ChartRow("1/8", "C", 3))
    'no order stands in the chart in force: ask the tool maker'
    """
    if of_kind(row, ChartRow, "a row of a chart").order is None:
        return ASK_THE_MAKER
    return f"press place {', then '.join(map(str, row.order))} (place 1 is next to the thimble)"


def sleeve_sizes() -> tuple[str, ...]:
    """The inch sizes that sleeves of this trade are made for, by name, smallest first.

    Errors: none. Source: common practice (the sizes of the hand swager's counts); 3/64, 7/32, 9/32 and 11/32 are none of them.

    >>> sleeve_sizes()
    ('1/16', '3/32', '1/8', '5/32', '3/16', '1/4', '5/16', '3/8')
    """
    return tuple(sorted({row.size for row in table("crimps_common_practice")}, key=size_inches))


def refuse_size_without_sleeve(size: str) -> None:
    """Refuses a size that no sleeve of this trade is made for, whatever its strength; the nearest that have one are named.

    Parameters: inch size by name. Errors: `Refusal` for any size but `sleeve_sizes()`. Source: common practice.

    >>> refuse_size_without_sleeve("1/8")
    """
    known = sleeve_sizes()
    if among(size, known):
        return
    near = " or ".join(name for name in either_side(size, known) if name)
    raise Refusal(f"cable of size {size}, which no sleeve of this trade is made for", f"the nearest sizes {near}",
                  "take a size with its own sleeve: a certificate does not make one")


def times_as_heavy(sleeve_metal: str) -> float:
    """How many times as heavy a sleeve is as an aluminium one of the same size: a ratio, the plating left out.

    Parameters: sleeve metal. The scale tells copper from aluminium, and never one plating from another.
    Errors: `Refusal` for an unknown metal, and for stainless, whose density was not read.
    Source: the two densities of reference/constants.csv.

    >>> round(times_as_heavy("zinc-plated copper"), 1), times_as_heavy("aluminium")
    (3.3, 1.0)
    """
    weighed = tuple(metal for metal in SLEEVE_METALS if metal != "stainless")
    if not among(sleeve_metal, weighed):
        raise Refusal(f"the sleeve metal {said(sleeve_metal)} on a scale", ", ".join(weighed), "read the metal from the bag's label")
    name = "aluminium density" if sleeve_metal == "aluminium" else "copper density"
    return float(constant(name).value / constant("aluminium density").value)


def fill(cable: str | float, sleeve: str | float) -> float:
    """How much of a sleeve a cable fills, as the ratio of areas against the cable the sleeve is meant for. A fill is no pass.

    Both as an inch size by name or a diameter in mm. The reason why a gauge passes a small cable in a large sleeve: the gauge
    sees the outside only. Errors: `Refusal` unless both are above zero, and for a cable larger than the sleeve is meant for.
    Source: geometry, (d / D) squared; `FILL_IS_NO_PASS`.

    >>> round(fill("3/32", "1/8"), 4), round(fill(6.0, "1/4"), 2)
    (0.5625, 0.89)
    """
    inside, meant_for = _diameter(cable), _diameter(sleeve)
    if inside > meant_for:
        raise Refusal(f"a cable of {float(inside):g} mm in a sleeve for {float(meant_for):g} mm", "a cable no larger than the sleeve is meant for",
                      "it cannot go in: take the sleeve of the cable's own size")
    return float((inside / meant_for) ** 2)


def _diameter(size: str | float) -> Fraction:
    diameter = size_inches(size) * INCH_MM if isinstance(size, str) else exact(size)
    if diameter <= 0:
        raise Refusal(f"the size {said(size)}", "an inch size such as 1/8 or a diameter in mm above 0", "read the label again")
    return diameter
