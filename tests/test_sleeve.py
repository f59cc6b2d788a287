"""The crimp chart in force, its order, and the fill of a sleeve."""

import math

import pytest

from rigcalc.errors import Refusal
from rigcalc.sleeve import (
    SLEEVE_METALS,
    ChartRow,
    CrimpChart,
    built_in_chart,
    chart_in_force,
    chart_line,
    fill,
    order_words,
)


def chart(chart_id="LB-al", metal="aluminium", tool="LB", rows=None, **more) -> CrimpChart:
    rows = rows or (ChartRow("1/8", "C", 3, (2, 1, 3)), ChartRow("3/16", "E", 4))
    return CrimpChart(chart_id, "2", "a maker", metal, tool, rows, "Tomo", "Ines", "2026-01-05", **more)


def test_without_a_maker_the_built_in_counts_serve_aluminium_only():
    found, row = chart_in_force((), "aluminium", "1/4", "any tool")
    assert (found.kind, row.count, row.order, row.gauge) == ("common practice", 4, None, None)
    for metal in SLEEVE_METALS[1:]:
        with pytest.raises(Refusal, match="no built-in count"):
            chart_in_force((), metal, "1/8")


def test_the_shops_maker_chart_governs():
    found, row = chart_in_force((chart(),), "aluminium", "1/8")
    assert (found.id, found.kind, row.order) == ("LB-al", "maker", (2, 1, 3))
    copper = chart("LB-cu", "zinc-plated copper")
    assert chart_in_force((chart(), copper), "zinc-plated copper", "1/8", "LB")[0] is copper


def test_a_size_without_a_row_is_refused_with_both_neighbours():
    with pytest.raises(Refusal, match="nearest sizes 1/8 or 3/16") as refused:
        chart_in_force((chart(),), "aluminium", "5/32", "LB")
    assert "chart LB-al" in str(refused.value)
    for size, near in (("3/64", "1/16"), ("7/32", "3/16 or 1/4"), ("9/32", "1/4 or 5/16"), ("11/32", "5/16 or 3/8"), ("7/16", "3/8")):
        with pytest.raises(Refusal, match=f"nearest sizes {near};"):
            chart_in_force((), "aluminium", size)


def test_a_tool_without_a_chart_is_taught_with_common_practice_only():
    assert chart_in_force((chart(),), "aluminium", "1/8", "LC")[0].kind == "common practice"
    with pytest.raises(Refusal, match="for the tool LC"):
        chart_in_force((chart("x", "plain copper"),), "plain copper", "1/8", "LC")


def test_two_charts_are_never_mixed():
    bench = chart("BB-al", tool="BB", rows=(ChartRow("1/8", "2", 2),))
    with pytest.raises(Refusal, match="tool LB cavity C; tool BB cavity 2"):
        chart_in_force((chart(), bench), "aluminium", "1/8")
    assert chart_in_force((chart(), bench), "aluminium", "1/8", "BB")[1].count == 2
    cavities = chart(rows=(ChartRow("1/8", "C", 3), ChartRow("1/8", "D", 2)))
    with pytest.raises(Refusal, match="cavity C; tool LB cavity D"):
        chart_in_force((cavities,), "aluminium", "1/8", "LB")
    assert chart_in_force((cavities,), "aluminium", "1/8", "LB", "D")[1].count == 2


@pytest.mark.parametrize("metal, size", [("copper", "1/8"), ("", "1/8"), (None, "1/8"), ("aluminium", "6 mm"), ("aluminium", "1/0"), ("aluminium", None)])
def test_unknown_words_are_refused(metal, size):
    with pytest.raises(Refusal):
        chart_in_force((), metal, size)


def test_a_row_holds_a_whole_count_and_each_place_once():
    for count in (0, -1, 2.5, True, "3"):
        with pytest.raises(Refusal, match="a whole number from 1"):
            ChartRow("1/8", "C", count)
    for order in ((1, 2), (1, 2, 4), (1, 1, 2), ()):
        with pytest.raises(Refusal, match="each place from 1 to 3 once"):
            ChartRow("1/8", "C", 3, order)


def test_lines_and_orders_in_words():
    assert order_words(ChartRow("1/8", "C", 3)).endswith("ask the tool maker")
    assert order_words(ChartRow("1/8", "C", 2, (2, 1))) == "press place 2, then 1 (place 1 is next to the thimble)"
    assert "practice only" in chart_line(built_in_chart())
    line = chart_line(chart(invented=True))
    for part in ("INVENTED", "LB-al", "edition 2", "a maker", "tool LB", "copied by Tomo", "checked by Ines"):
        assert part in line
    assert "checked by nobody named" in chart_line(CrimpChart("a", "1", "m", "aluminium", None, ()))


def test_fill_is_the_ratio_of_areas():
    assert fill("3/32", "1/8") == 0.5625
    assert fill("1/8", "1/8") == 1
    assert fill(6, "1/4") == pytest.approx(36 / 40.3225)
    for wrong in ("6 mm", 0, -1.0, math.nan, None):
        with pytest.raises(Refusal):
            fill(wrong, "1/4")
