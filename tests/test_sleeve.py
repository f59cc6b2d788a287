"""The crimp chart in force, its order, the fill of a sleeve, where the crimps go and how much the sleeve grows."""

import math
import statistics

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from rigcalc.errors import Refusal
from rigcalc.sleeve import (
    FILL_IS_NO_PASS,
    SLEEVE_METALS,
    ChartRow,
    CrimpChart,
    built_in_chart,
    chart_in_force,
    chart_line,
    copper_counts_from_memory,
    crimp_plan,
    fill,
    growth_bound_mm,
    mean_growth_mm,
    order_words,
    other_sleeves_order,
    oval_in_the_jaws,
    refuse_size_without_sleeve,
    sleeve_sizes,
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
        with pytest.raises(Refusal, match=f"nearest sizes {near}, for cable of that size;"):
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


def test_a_cable_larger_than_the_sleeve_is_meant_for_cannot_go_in():
    for cable, sleeve in (("1/4", "1/8"), ("1/8", "3/32"), (3.176, "1/8"), (6.4, 6.35)):
        with pytest.raises(Refusal, match="it cannot go in"):
            fill(cable, sleeve)
    assert "no pass" in FILL_IS_NO_PASS and "no pass" in fill.__doc__


def test_the_sizes_that_sleeves_are_made_for():
    # common practice: no sleeve for 3/64, 7/32, 9/32 and 11/32
    assert sleeve_sizes() == ("1/16", "3/32", "1/8", "5/32", "3/16", "1/4", "5/16", "3/8")
    for size, near in (("3/64", "1/16"), ("7/32", "3/16 or 1/4"), ("9/32", "1/4 or 5/16"), ("11/32", "5/16 or 3/8")):
        with pytest.raises(Refusal, match=f"the nearest sizes {near};"):
            refuse_size_without_sleeve(size)


def test_why_a_gauge_passes_a_small_cable_in_a_large_sleeve():
    """Rule 10 of the trade: a pass at the gauge is necessary, never sufficient; 3/32 fills 56 % of a 1/8 sleeve, 6 mm 89 % of a 1/4 one."""
    assert (round(fill("3/32", "1/8"), 2), round(fill(6.0, "1/4"), 2)) == (0.56, 0.89)


# --- rule 5 and 6 of the trade: counts that teach, an order only from the chart in force -----------

def test_copper_has_no_built_in_count_although_some_are_remembered():
    assert [(row.size, row.presses) for row in copper_counts_from_memory() if row.size in ("1/16", "3/32", "1/8", "5/32", "3/16", "1/4", "5/16")] == [
        ("1/16", 1), ("3/32", 1), ("1/8", 3), ("5/32", 3), ("3/16", 4), ("1/4", 3), ("5/16", 3)]
    for row in copper_counts_from_memory():
        assert "FROM MEMORY" in row.label
        with pytest.raises(Refusal, match="no built-in count"):
            chart_in_force((), "plain copper", row.size)


def test_the_circulars_order_never_reaches_a_chart():
    assert all(row.order is None for row in built_in_chart().rows)
    order = other_sleeves_order()
    assert sorted(order.order) == [1, 2, 3] and "the maker is asked" in order.says
    assert "in line with the jaws' closing" in oval_in_the_jaws().says


# --- where the crimps go ---------------------------------------------------------------------------

LENGTHS = st.integers(1, 20000).map(lambda hundredths: hundredths / 100)
LEASTS = st.integers(0, 500).map(lambda hundredths: hundredths / 100)


def test_a_plan_by_hand():
    # 20 mm sleeve, 4 crimps of 3 mm: 8 mm bare over 3 gaps and 2 ends, 1.6 each
    plan = crimp_plan(20, 3, 4, 1, 1)
    assert (plan.gaps_mm, plan.end_mm) == ((1.6, 1.6, 1.6), 1.6)
    assert plan.places_mm == (3.1, 7.7, 12.3, 16.9)
    # 2.5 mm bare at each end are asked: 3 mm are left for 3 gaps
    assert crimp_plan(20, 3, 4, 1, 2.5).gaps_mm == (1.0, 1.0, 1.0)
    # gaps of 2.5 mm are asked: 0.5 mm is left for 2 ends
    assert crimp_plan(20, 3, 4, 2.5, 0).end_mm == 0.25
    one = crimp_plan(10, 4, 1, 1, 1)
    assert (one.places_mm, one.gaps_mm, one.end_mm) == ((5.0,), (), 3.0)


def test_a_plan_that_does_not_fit_says_so_and_places_nothing():
    plan = crimp_plan(17.9, 3, 4, 1, 1.5)
    assert (plan.fits, plan.places_mm, plan.gaps_mm, plan.least_sleeve_mm) == (False, (), (), 18.0)
    assert "need a sleeve of 18 mm; this one has 17.9 mm" in plan.why
    assert crimp_plan(18, 3, 4, 1, 1.5).fits


@settings(max_examples=60, deadline=None)
@given(sleeve=LENGTHS, jaw=LENGTHS, count=st.integers(1, 6), gap=LEASTS, end=LEASTS)
def test_a_plan_fills_the_sleeve_evenly_and_never_leaves_it(sleeve, jaw, count, gap, end):
    plan = crimp_plan(sleeve, jaw, count, gap, end)
    assert plan.fits == (round(100 * sleeve) >= count * round(100 * jaw) + (count - 1) * round(100 * gap) + 2 * round(100 * end))
    if not plan.fits:
        return
    assert len(plan.places_mm) == count and len(set(plan.gaps_mm)) <= 1
    assert 2 * plan.end_mm + count * jaw + sum(plan.gaps_mm) == pytest.approx(sleeve)
    assert plan.places_mm[0] - jaw / 2 == pytest.approx(plan.end_mm) and plan.places_mm[-1] + jaw / 2 == pytest.approx(sleeve - plan.end_mm)
    assert plan.end_mm >= end - 1e-9 and all(one >= gap - 1e-9 for one in plan.gaps_mm)
    middles = [(after + before) / 2 for before, after in zip(plan.places_mm, plan.places_mm[::-1])]
    assert middles == pytest.approx([sleeve / 2] * count)  # the same from either end


@settings(max_examples=60, deadline=None)
@given(sleeve=LENGTHS, longer=LENGTHS, jaw=st.integers(1, 600).map(lambda hundredths: hundredths / 100), count=st.integers(1, 6), gap=LEASTS, end=LEASTS)
def test_a_longer_sleeve_never_fits_worse(sleeve, longer, jaw, count, gap, end):
    short, long = crimp_plan(sleeve, jaw, count, gap, end), crimp_plan(sleeve + longer, jaw, count, gap, end)
    assume(short.fits)
    assert long.fits and long.end_mm >= short.end_mm - 1e-9
    assert all(after >= before - 1e-9 for before, after in zip(short.gaps_mm + short.places_mm, long.gaps_mm + long.places_mm))


@pytest.mark.parametrize("place", range(5))
@pytest.mark.parametrize("wrong", [math.nan, math.inf, -1, True, "3", None])
def test_plans_from_what_is_no_length_are_refused(place, wrong):
    with pytest.raises(Refusal):
        crimp_plan(*(wrong if n == place else good for n, good in enumerate((20, 3, 4, 1, 1))))


def test_zero_serves_for_a_least_only():
    assert crimp_plan(12, 3, 4, 0, 0).gaps_mm == (0.0, 0.0, 0.0)
    for given_ in ((0, 3, 4, 1, 1), (20, 0, 4, 1, 1), (20, 3, 0, 1, 1), (20, 3, 2.0, 1, 1)):
        with pytest.raises(Refusal):
            crimp_plan(*given_)


# --- rule 8 of the trade: growth -------------------------------------------------------------------

def test_constant_volume_is_an_upper_bound_and_says_so():
    bound = growth_bound_mm(12, 50, 40)
    assert bound.most_mm == 3.0  # 12 x 50 = 15 x 40
    assert bound.says.startswith("An upper bound") and "three measured sleeves" in bound.says
    assert growth_bound_mm(12, 50, 50).most_mm == 0


@settings(max_examples=60, deadline=None)
@given(pressed=st.floats(0.1, 200), before=st.floats(1, 500), thinning=st.floats(0.2, 1))
def test_the_volume_stays(pressed, before, thinning):
    after = before * thinning
    assume(after <= before)
    grown = growth_bound_mm(pressed, before, after).most_mm
    assert (pressed + grown) * after == pytest.approx(pressed * before)
    assert grown == pytest.approx(growth_bound_mm(pressed, thinning=thinning).most_mm, abs=1e-9)
    assert growth_bound_mm(2 * pressed, before, after).most_mm == pytest.approx(2 * grown)


@pytest.mark.parametrize("words", [dict(), dict(section_before_mm2=50), dict(section_after_mm2=50), dict(section_before_mm2=50, thinning=0.8),
                                   dict(section_before_mm2=50, section_after_mm2=40, thinning=0.8), dict(section_before_mm2=40, section_after_mm2=50),
                                   dict(section_before_mm2=0, section_after_mm2=40), dict(thinning=1.2), dict(thinning=0), dict(thinning=math.nan),
                                   dict(thinning=True), dict(section_before_mm2=50, section_after_mm2="40")])
def test_growth_from_the_wrong_figures_is_refused(words):
    with pytest.raises(Refusal):
        growth_bound_mm(12, **words)


def test_growth_of_a_length_that_is_none_is_refused():
    for wrong in (0, -3, math.inf, None, "12"):
        with pytest.raises(Refusal):
            growth_bound_mm(wrong, 50, 40)


def test_the_mean_of_three_with_its_spread():
    growth = mean_growth_mm([(15, 20), (15.1, 19.9), (14.9, 20.2)])
    lengths = [5.0, 4.8, 5.3]
    assert growth.mean_mm == pytest.approx(statistics.fmean(lengths)) and growth.deviation_mm == pytest.approx(statistics.stdev(lengths))
    assert (growth.least_mm, growth.most_mm, growth.measured) == (4.8, 5.3, 3)
    assert growth.says == "mean of 3 sleeves 5.03 mm, from 4.8 to 5.3 mm"


@pytest.mark.parametrize("pairs", [[], [(15, 20)], [(15, 20), (15, 20)], [(15, 20), (15, 20), (15,)], [(15, 20), (15, 20), (15, 14)],
                                   [(15, 20), (15, 20), (0, 14)], [(15, 20), (15, 20), (math.nan, 14)], [(15, 20), (15, 20), ("15", 20)]])
def test_fewer_than_three_or_odd_sleeves_are_refused(pairs):
    with pytest.raises(Refusal):
        mean_growth_mm(pairs)
