"""The rule book, what may be built and how: the rules that keep people safe, a test each, through what anybody can call.

Numbers are typed from the trade's own tables and sums, named beside them; the heavy tests of each module stand elsewhere.
"""

from __future__ import annotations

import dataclasses
import math
from datetime import date, datetime

import pytest
from rule_book import DAY, EIGHTH, FACTOR, LBF, SHOP, refused, sheet

from rigcalc.cable import breaking_force, en_breaking_force_n, sleeve_construction
from rigcalc.gauge import go_gauge, unseen
from rigcalc.layout import (
    EyeParts,
    clear_length_mm,
    cut_length_mm,
    lap_splice,
    least_tail_mm,
    side_force_fraction,
    soft_eye,
    strip_mm,
)
from rigcalc.pairing import pairing
from rigcalc.published import published_factors
from rigcalc.rating import Conditions, DesignFactor, efficiency, limit, pulled_share, uses
from rigcalc.sleeve import (
    built_in_chart,
    chart_in_force,
    copper_counts_from_memory,
    fill,
    growth_bound_mm,
    mean_growth_mm,
    order_words,
    other_sleeves_order,
)
from rigcalc.tools import Bad, GoodCheck, Piece, containment
from rigcalc.units import UnitError, read_size

EYE = EyeParts(loop_mm=70, bearing_to_sleeve_mm=30, sleeve_before_mm=15, tail_mm=7)
NO_CHARTS = dataclasses.replace(SHOP, charts=(), invented=False)


# --- 1 --------------------------------------------------------------------------------------------

def test_three_classes_of_use_and_lifting_people_aircraft_and_vehicles_refused_without_override():
    assert limit(EIGHTH, FACTOR, "nobody").shown_us == "360 lbf [1.60 kN]"          # 2000 x 0.90 / 5
    refused(lambda: limit(EIGHTH, None, "nobody"), "no design factor", "none is built in")
    refused(lambda: limit(EIGHTH, FACTOR, "people"), "named designer")
    refused(lambda: limit(EIGHTH, FACTOR, "people", designer="A. Engineer", design_load_n=100.0), "the shop's does not reach here")
    theirs = DesignFactor(10, "A. Engineer", "2026-02-01", "this order only")
    assert limit(EIGHTH, theirs, "people", designer="A. Engineer", design_load_n=100.0).shown_us.startswith("180 lbf")
    refused(lambda: limit(EIGHTH, FACTOR, "nobody", moves=True), "named designer")
    refused(lambda: limit(EIGHTH, FACTOR, "nobody", tightened=True), "greatest tension", "sag or gauge")
    never = [word for word, kind in uses().items() if kind.name == "refused"]
    assert {"lifting", "fall arrest", "guardrail", "climbing", "gym equipment", "aircraft", "lifts", "towing"} <= set(never)
    for word in never:
        refused(lambda word=word: limit(EIGHTH, theirs, word, designer="A. Engineer", design_load_n=1.0), "no way round this", "ask")
    for name in ("09_engine_hoist", "10_zip_line", "10a_hand_line", "12_gym_cable"):
        refused(lambda name=name: sheet(name), "static work: never lifting")


def test_published_factors_are_for_comparison_and_never_a_menu():
    assert {row.said for row in published_factors()} == {"not for a hand-pressed assembly"}
    assert all(not hasattr(row, "owner") for row in published_factors())
    refused(lambda: limit(EIGHTH, published_factors()[0], "nobody"))


# --- 2 --------------------------------------------------------------------------------------------

def test_the_lower_of_table_and_certificate_counts_and_with_neither_nothing():
    def with_certificate(lbf):
        return breaking_force("1/8", "7x19", "galvanised", certificate_n=lbf * LBF, certificate="certificate 7").force_n / LBF

    assert with_certificate(1900) == pytest.approx(1900) and with_certificate(2500) == pytest.approx(2000)
    refused(lambda: breaking_force("1/8", "7x7", "galvanised"), "without a certificate")   # the table's 7x7 ends at 3/32
    assert breaking_force("1/8", "7x7", "galvanised", 1700 * LBF, "certificate 8").force_n == pytest.approx(1700 * LBF)
    refused(lambda: breaking_force("1/8", "7x7", "galvanised", 1700 * LBF), "certificate's name")


# --- 3 --------------------------------------------------------------------------------------------

def test_six_millimetre_is_not_a_quarter_inch_and_sleeves_fit_7x7_and_7x19_only():
    for metric, inch in (("3 mm", "1/8"), ("4 mm", "5/32"), ("5 mm", "3/16"), ("6 mm", "1/4"), ("8 mm", "5/16")):
        refused(lambda metric=metric: read_size(metric), f"{metric} is another cable and not {inch}", kind=UnitError)
    assert read_size("3.2 mm").name == "1/8"
    six = en_breaking_force_n("7x19", 6.0, 1770)
    assert six.force_n / LBF == pytest.approx(5186, abs=0.5)                       # 0.362 x 36 x 1770 N
    assert breaking_force("1/4", "7x19", "galvanised").force_n / LBF == pytest.approx(7000)
    refused(lambda: limit(six, FACTOR, "nobody"), "no inch sleeve fits a metric cable")
    for name in ("1x19", "3x7", "6x7", "6x19"):
        refused(lambda name=name: sleeve_construction(name), "7x7 and 7x19")
    for size, near in (("3/64", "1/16"), ("7/32", "3/16 or 1/4"), ("9/32", "1/4 or 5/16"), ("11/32", "5/16 or 3/8")):
        refused(lambda size=size: chart_in_force((), "aluminium", size), size, near)
    refused(lambda: sheet("03b_lantern_six_millimetre"), "6 mm is a metric size", "no certificate")


# --- 4 --------------------------------------------------------------------------------------------

def test_ninety_hundredths_holds_only_under_its_conditions_and_a_lap_only_by_its_own_pulled_lot():
    done = {"bare": True, "construction": True, "metal_and_size": True, "full_count": True, "every_crimp_gauged": True, "tail_showing": True}
    made = efficiency("aluminium", "galvanised", "7x19", done=Conditions(**done))
    assert (float(made.value), made.how_known) == (0.90, "common practice")
    for left_out in done:
        refused(lambda left_out=left_out: efficiency("aluminium", "galvanised", "7x19", done=Conditions(**(done | {left_out: False}))),
                "give it no limit")
    assert "carried over" in efficiency("zinc-plated copper", "stainless", "7x19").note
    assert any("carried over" in note for note in sheet("02_cafe_wires").limit_notes)
    refused(lambda: efficiency("aluminium", "galvanised", "7x19", splice="lap"), "pulled lot")
    refused(lambda: pulled_share(900 * LBF, 2000 * LBF, "lap", 1, "aluminium", "galvanised", "7x19", "1/8", "lot 1"))
    ring = sheet("07_bird_net_ring")
    assert ring.limit_n is None and any("NO LOAD" in line for line in ring.tag)


# --- 5 --------------------------------------------------------------------------------------------

def test_without_the_makers_chart_a_sheet_is_practice_and_copper_is_not_pressed():
    counts = {row.size: row.count for row in built_in_chart().rows}
    assert counts == {"1/16": 2, "3/32": 2, "1/8": 3, "5/32": 3, "3/16": 4, "1/4": 4, "5/16": 5, "3/8": 5}  # common practice
    practice = sheet("01_gate_brace", NO_CHARTS, sleeve_before="20 mm", sleeve_after="27 mm")
    assert practice.practice and practice.tag == () and practice.record == ()
    refused(lambda: chart_in_force((), "zinc-plated copper", "1/8"), "no built-in count")
    refused(lambda: sheet("02_cafe_wires", NO_CHARTS), "copper", "no built-in count")
    remembered = {row.size: row.presses for row in copper_counts_from_memory()}
    assert [remembered[size] for size in ("1/16", "3/32", "1/8", "5/32", "3/16", "1/4", "5/16")] == [1, 1, 3, 3, 4, 3, 3]
    assert all(row.label.startswith("FROM MEMORY") for row in copper_counts_from_memory())


# --- 6 --------------------------------------------------------------------------------------------

def test_the_order_of_crimps_comes_from_the_chart_in_force_or_the_maker_is_asked():
    assert all(row.order is None for row in built_in_chart().rows)
    assert "ask the tool maker" in order_words(built_in_chart().rows[2])
    _, row = chart_in_force(SHOP.charts, "aluminium", "1/8", "LB")
    assert row.order == (2, 1, 3) and "press place 2, then 1, then 3" in order_words(row)  # the invented shop's own chart
    other = other_sleeves_order()
    assert other.order == (2, 1, 3) and "copper" in other.sleeve and "7-148c" in other.source  # centre, thimble side, far end
    assert order_words(dataclasses.replace(row, order=None)).endswith("ask the tool maker")


# --- 7 --------------------------------------------------------------------------------------------

def test_the_tail_is_two_diameters_before_pressing_and_after_pressing_only_seen():
    assert least_tail_mm(3.175) == pytest.approx(6.35)                             # 2 x 3.175
    short = dataclasses.replace(EYE, tail_mm=6.0)
    refused(lambda: cut_length_mm(500, short, EYE, diameter_mm=3.175), "before pressing", "first eye", "6.35 mm")
    refused(lambda: cut_length_mm(500, EYE, short, diameter_mm=3.175), "second eye")
    refused(lambda: lap_splice(2.38125, 12, 4, 4, (2, 2), "closed ring", "nobody"), "before pressing")
    steps = " ".join(step.text for step in sheet("01_gate_brace").steps)
    assert "tail still showing" in steps                                           # after pressing: seen, never measured again


# --- 8 --------------------------------------------------------------------------------------------

def test_growth_by_constant_volume_is_an_upper_bound_and_the_shop_enters_the_mean_of_three():
    bound = growth_bound_mm(15, thinning=0.25)
    assert "upper bound" in bound.says.lower() and "three measured sleeves" in bound.says
    refused(lambda: mean_growth_mm([(15, 20), (15, 19.5)]), "3 or more")
    measured = mean_growth_mm([(15, 20), (15, 19.5), (15, 20.5)])
    assert measured.mean_mm == pytest.approx(5.0) and measured.measured == 3


# --- 9 --------------------------------------------------------------------------------------------

def test_press_again_once_then_scrap_and_everything_since_the_last_good_gauging_goes_back():
    failed = go_gauge(False, "GB", "1/8", "1/8", date(2026, 1, 1), date(2026, 12, 31), DAY)
    assert failed.outcome == "fail" and "press again once" in failed.do and "if nothing has loaded it" in failed.do
    pieces = [Piece(f"P{hour}", "LB", "GB", datetime(2026, 11, 25, hour)) for hour in (8, 9, 11)]
    found = containment(pieces, Bad("tool", "LB"), datetime(2026, 11, 25, 12), [GoodCheck("tool", "LB", datetime(2026, 11, 25, 10))])
    assert [piece.id for piece in found.back] == ["P11"] and [piece.id for piece in found.clear] == ["P8", "P9"]
    assert "not pressed again" in found.do
    assert len(containment(pieces, Bad("tool", "LB"), datetime(2026, 11, 25, 12)).back) == 3      # no good check: all of them
    refused(lambda: sheet("13_new_sleeves_on_old_stays"), "never pressed again")


# --- 10 -------------------------------------------------------------------------------------------

def test_a_pass_at_the_gauge_is_necessary_and_never_sufficient():
    assert fill("3/32", "1/8") == pytest.approx(0.5625)                            # (3/32 / 1/8) squared
    assert fill(6.0, "1/4") == pytest.approx((6 / 6.35) ** 2)                      # 89 %
    passed = go_gauge(True, "GB", "1/8", "1/8", date(2026, 1, 1), date(2026, 12, 31), DAY)
    assert passed.outcome == "pass" and "never sufficient" in passed.never_sufficient and passed.unseen == unseen()
    hidden = " ".join(unseen())
    for fault in ("fill 56 %", "fill 89 %", "wrong metal", "coat left inside", "crossed legs", "buried tail", "missing crimp", "crack",
                  "smaller cavity", "worn slot"):
        assert fault in hidden
    refused(lambda: go_gauge(True, "GC", "1/4", "1/4", date(2026, 1, 1), date(2026, 11, 18), DAY), "in date")
    refused(lambda: go_gauge(True, "GB", "5/32", "1/8", date(2026, 1, 1), date(2026, 12, 31), DAY), "next larger one passes")


# --- 11 -------------------------------------------------------------------------------------------

def test_pairing_follows_the_verdicts_and_pool_air_takes_no_stainless():
    for service in ("dry", "outdoor", "marine", "immersed"):
        assert not pairing("stainless", "aluminium", service).allowed
    assert not pairing("galvanised", "plain copper", "outdoor").allowed
    assert pairing("galvanised", "aluminium", "outdoor").inspect_months == 12
    pool = pairing("stainless", "zinc-plated copper", "immersed")
    assert not pool.allowed and "crack" in pool.reasons[0]
    refused(lambda: sheet("11_pool_panels"), "crack under stress")
    refused(lambda: sheet("11a_pool_panels_called_dry"), "swimming pool", "immersed")
    refused(lambda: sheet("02b_cafe_wires_aluminium"), "leave that pair")


# --- 12 -------------------------------------------------------------------------------------------

def test_coated_cable_goes_by_its_bare_core_and_both_legs_are_stripped():
    curtain = sheet("04_glasshouse_curtain")                                       # 3/32 7x7 coated to 3/16
    assert curtain.limit_shown.startswith("165 lbf")                               # 920 x 0.90 / 5 = 165.6, down; not 756 of 3/16
    assert any("Both legs are bare" in line for line in curtain.strip) and any("No wire nicked" in line for line in curtain.strip)
    bare = strip_mm(12, 4, 5, 60)
    refused(lambda: strip_mm(12, 4, 4.9, 60), "growth and bare band")             # the live leg beside the tail
    assert bare.each_leg_mm == pytest.approx(12 + 4 + 5 + 1)                       # sleeve, growth, tail, a bare band
    refused(lambda: strip_mm(12, 4, 5, 60, bare_band_mm=6), "1 to 5 mm")
    assert "strip both legs" in " ".join(pairing("galvanised", "aluminium", "dry", coated=True).reasons)


# --- 13 -------------------------------------------------------------------------------------------

def test_a_lap_splice_takes_two_sleeves_with_a_gap_and_only_light_static_lines():
    lap = lap_splice(2.38125, 12, 4, 5, (2, 2), "closed ring", "nobody")
    assert lap.sleeves == 2 and lap.gap_band_mm == pytest.approx((4 + 2.38125, 4 + 2 * 2.38125))  # growth and 1 to 2 d
    assert [label for label, _ in lap.steps if "tail" in label] == ["first outer tail", "second outer tail"]
    assert "no limit" in lap.limit
    refused(lambda: lap_splice(2.38125, 12, 4, 5, (2,), "closed ring", "nobody"), "two sleeves")
    refused(lambda: lap_splice(2.38125, 12, 4, 5, (2, 3), "closed ring", "nobody"), "the same count on both")
    for line in ("hoisting", "sling", "suspension", "stay"):
        refused(lambda line=line: lap_splice(2.38125, 12, 4, 5, (2, 2), line, "nobody"), "no way round this")
    refused(lambda: lap_splice(2.38125, 12, 4, 5, (2, 2), "static line", "people"))
    refused(lambda: sheet("06c_mast_stays_joined"), "lap splice")
    # 10 d between terminations, WAC 296-24-29425(2)(a): 2 x (30 + 15) + 10 x 3.175 = 121.75
    assert clear_length_mm(121.75, EYE, EYE, 3.175) == pytest.approx(31.75)
    refused(lambda: clear_length_mm(121.7, EYE, EYE, 3.175), "10 diameters")


# --- 14 -------------------------------------------------------------------------------------------

def test_an_eye_is_long_enough_for_its_pin_and_no_bend_factor_enters_the_limit():
    refused(lambda: soft_eye(6, 4.7625, 12, 10), "two cable diameters", "EN 13414-1")
    refused(lambda: soft_eye(12, 2.38125, 12, 5, length_mm=35), "three pin diameters", "36 mm")
    assert soft_eye(12, 2.38125, 12, 5).length_mm == pytest.approx(36)
    assert side_force_fraction(12, 36) == pytest.approx(math.tan(math.asin(6 / 36)) / 2)
    assert float(limit(EIGHTH, FACTOR, "nobody").force_n) == pytest.approx(2000 * 0.90 / 5 * LBF)  # not 0.75 of it
