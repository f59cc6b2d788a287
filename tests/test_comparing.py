"""A sleeve against clips for one size: figures by hand, None where the shop gave none, fair to both."""

import math

import pytest

from rigcalc.clips import ClipRow
from rigcalc.comparing import Measured, Prices, sleeve_against_clips
from rigcalc.errors import Refusal
from rigcalc.reference import constant

ROW = ClipRow("1/4", 180.0, 20.0, 3, "a clip maker", "4", "Tomo", "Ines")
PRICES = Prices(sleeve=0.8, clip=1.5, thimble=1.2, cable_per_m=3.0, minute=0.5, currency="crowns")
MEASURED = Measured(sleeve_before_mm=30.0, sleeve_kg=0.02, clip_kg=0.05, cable_kg_per_m=0.16, sleeve_minutes=6, clip_minutes=10)


def lines(**more):
    found = sleeve_against_clips("1/4", "7x19", "galvanised", True, **{"row": ROW, "prices": PRICES, "measured": MEASURED, **more})
    return {row.about: row for row in found.rows}, found


def test_strength_is_ninety_against_eighty_of_the_same_breaking_force():
    # 7000 lbf: 6300 and 5600
    strength = lines()[0]["strength"]
    assert (strength.sleeve, strength.clips) == (pytest.approx(6300 * 4.4482216152605), pytest.approx(5600 * 4.4482216152605))
    assert strength.better == "sleeve" and "TM 5-3810-305-10" in strength.source and "Table 7-3" in strength.source
    certified = lines(certificate_n=20000.0, certificate="C7")[0]["strength"]
    assert (certified.sleeve, certified.clips) == (pytest.approx(18000), pytest.approx(16000))


def test_parts_cable_and_weight_by_hand():
    rows, _ = lines()
    assert (rows["parts"].sleeve, rows["parts"].clips) == (2, 4)
    assert (rows["cable used"].sleeve, rows["cable used"].clips) == (30 + 2 * 6.35, 180)
    assert rows["weight"].sleeve == pytest.approx(0.02 + 0.0427 * 0.16) and rows["weight"].clips == pytest.approx(3 * 0.05 + 0.18 * 0.16)
    assert {rows[about].better for about in ("parts", "cable used", "weight")} == {"sleeve"}


def test_cost_by_hand_at_the_shops_own_prices():
    cost = lines()[0]["cost"]
    assert cost.sleeve == pytest.approx(0.8 + 1.2 + 0.0427 * 3 + 6 * 0.5) and cost.clips == pytest.approx(3 * 1.5 + 1.2 + 0.18 * 3 + 10 * 0.5)
    assert (cost.unit, cost.better) == ("crowns", "sleeve")
    dear = lines(prices=Prices(20, 1.5, 1.2, 3.0, 0.5, "crowns"))[0]["cost"]
    assert dear.better == "clips"
    same = lines(prices=Prices(0, 0, 0, 0, 0, "crowns"))[0]["cost"]
    assert (same.sleeve, same.clips, same.better) == (0, 0, "neither")


@pytest.mark.parametrize("missing", ["sleeve", "clip", "thimble", "cable_per_m", "minute"])
def test_a_price_that_the_shop_did_not_give_is_never_guessed(missing):
    cost = lines(prices=Prices(**{name: value for name, value in vars(PRICES).items() if name != missing}))[0]["cost"]
    unknown = [side for side in ("sleeve", "clips") if getattr(cost, side) is None]
    assert unknown == (["sleeve"] if missing == "sleeve" else ["clips"] if missing == "clip" else ["sleeve", "clips"])
    assert cost.better == "not known"
    assert "no price for: " in (cost.sleeve_says if "sleeve" in unknown else cost.clips_says)


def test_without_the_shops_figures_the_lines_say_what_is_missing():
    rows, found = lines(prices=None, measured=None)
    assert (rows["cable used"].sleeve, rows["cable used"].clips) == (None, 180) and "maker's chart" in rows["cable used"].sleeve_says
    assert rows["weight"].sleeve is None and "weigh one" in rows["weight"].clips_says
    assert (rows["cost"].sleeve, rows["cost"].clips) == (None, None)
    only_prices = lines(measured=None)[0]["cost"]
    assert only_prices.sleeve is None and only_prices.sleeve_says == "the cable used is not known" and only_prices.clips is not None


def test_times_are_common_practice_unless_the_shops():
    # common practice: 35 minutes for two pressed eyes, 20 for one clipped end, every check included
    assert (constant("time for two pressed eyes").value, constant("time for one clipped end").value) == (35, 20)
    rows, _ = lines(measured=None)
    assert (rows["time"].sleeve, rows["time"].clips) == (17.5, 20.0) and rows["time"].source.startswith("common practice")
    own, _ = lines()
    assert (own["time"].sleeve, own["time"].clips, own["time"].source) == (6, 10, "the shop's own figures")
    assert lines(measured=Measured(sleeve_minutes=6))[0]["time"].source.startswith("common practice")


def test_the_comparison_is_fair_to_both():
    """Rule 25 of the trade: sleeves lose too, where things must be seen, undone or made without a tool."""
    rows, found = lines()
    for about in ("what can be seen later", "undoing and adjusting", "tools"):
        assert rows[about].better == "clips"
    assert "hidden" in rows["what can be seen later"].sleeve_says and "permanent" in rows["undoing and adjusting"].sleeve_says
    for about in ("bulk and snagging", "upkeep"):
        assert rows[about].better == "sleeve"
    assert rows["where forbidden"].better == "neither" and "slings" in rows["where forbidden"].clips_says
    assert found.case_for_sleeve and found.case_for_clips
    assert all(row.source and row.sleeve_says and row.clips_says for row in found.rows)


def test_every_line_that_was_asked_for_stands():
    assert {"strength", "parts", "cable used", "weight", "bulk and snagging", "time", "upkeep", "cost"} <= set(lines()[0])


def test_rows_that_teach_make_a_comparison_that_teaches():
    assert not lines()[1].teaching_only
    taught = lines(row=None)[1]
    assert taught.teaching_only and "clip maker's row" in taught.notes[0]
    assert any("carried over" in note for note in sleeve_against_clips("1/4", "7x19", "stainless", True, ROW).notes)


@pytest.mark.parametrize("size", ["1/16", "3/32", "5/32", "7/32", "9/32", "11/32", "6 mm"])
def test_a_size_without_a_clip_row_is_refused(size):
    with pytest.raises(Refusal):
        sleeve_against_clips(size, "7x19", "galvanised", True)


def test_a_cable_that_no_sleeve_fits_is_refused():
    for built in ("1x19", "3x7", "6x19"):
        with pytest.raises(Refusal):
            sleeve_against_clips("1/4", built, "galvanised", True, ROW)


@pytest.mark.parametrize("wrong", [-1, math.nan, math.inf, "1", True])
def test_prices_and_measures_that_are_none_are_refused(wrong):
    for make in (lambda: Prices(sleeve=wrong), lambda: Prices(minute=wrong), lambda: Measured(clip_kg=wrong), lambda: Measured(sleeve_before_mm=wrong)):
        with pytest.raises(Refusal):
            make()
