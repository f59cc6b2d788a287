"""Sizes wanted: what they need, what the shop has, and each gap by name."""

from __future__ import annotations

import dataclasses
from datetime import date

import pytest

from rigcalc.cli import main
from rigcalc.errors import Refusal
from rigcalc.shop import load_shop, sample_shop_path
from rigcalc.shop.wanted import read_sizes, sizes_wanted, wanted_as_text

SHOP = load_shop(sample_shop_path())
DAY = date(2026, 11, 25)


@pytest.fixture(autouse=True)
def home(tmp_path, monkeypatch):
    monkeypatch.setenv("RIGCALC_HOME", str(tmp_path / "home"))


def one(size, metal="galvanised", service="outdoor", shop=SHOP, on=DAY):
    return sizes_wanted(shop, (size,), metal, service, on)[0]


def test_a_size_the_shop_is_ready_for_has_no_gap():
    found = one("1/8")
    assert found.gaps == () and found.reels == ("R4: 1/8 7x19 galvanised, invented certificate AQ-104",)
    assert [(w.sleeve_metal, w.tool, w.cavity, w.gauge, w.gauge_slot, w.gauge_in_date) for w in found.ways] == [
        ("aluminium", "LB", "P", "GB", "1/8", True), ("aluminium", "BB", "2", "GB", "1/8", True),
        ("zinc-plated copper", "LB", "P", "GB", "1/8", True)]
    assert found.thimble.startswith("galvanised")


def test_the_pairing_decides_the_sleeves():
    assert all(way.sleeve_metal != "aluminium" for way in one("1/8", "stainless").ways)
    assert [metal for metal, _ in one("1/8", "galvanised", "marine").sleeve_metals] == []
    assert one("1/8", "galvanised", "immersed").ways == ()
    assert any("no hand-pressed sleeve" in gap for gap in one("1/8", "galvanised", "immersed").gaps)


@pytest.mark.parametrize("size, metal, gaps", [
    ("1/4", "galvanised", ["gauge GC was due on 2026-03-02"]),
    ("3/8", "galvanised", ["no tool has a cavity for 3/8", "no chart lists 3/8", "no gauge has a slot for 3/8", "no reel of 3/8 galvanised", "no galvanised thimble for 3/8"]),
    ("3/16", "stainless", ["no chart lists 3/16 for zinc-plated copper or tin-plated copper sleeves: ask the maker of tool LB",
                           "no reel of 3/16 stainless", "no stainless thimble for 3/16"]),
    ("1/8", "stainless", ["chart LB-ZC gives no efficiency"]),
    ("5/32", "galvanised", ["no reel of 5/32 galvanised"])])
def test_each_gap_is_named_by_itself(size, metal, gaps):
    found = one(size, metal).gaps
    assert len(found) == len(gaps) and all(gap.startswith(begin) for gap, begin in zip(found, gaps)), found


def test_a_gauge_is_in_date_on_its_days_only():
    assert one("1/4", on=date(2026, 3, 2)).gaps == () and one("1/4", on=date(2025, 3, 2)).ways[0].gauge_in_date
    assert "gauge GC is said to have been checked on 2025-03-02, a day after 2025-03-01" in one("1/4", on=date(2025, 3, 1)).gaps[0]


def test_a_row_without_an_order_of_pressing_is_a_gap():
    charts = tuple(dataclasses.replace(c, rows=tuple(dataclasses.replace(r, order=None) for r in c.rows)) if c.id == "BB-AL" else c for c in SHOP.charts)
    assert one("1/8", shop=dataclasses.replace(SHOP, charts=charts)).gaps == (
        'chart BB-AL gives no order of pressing for 1/8 ("maker gives none"): ask the maker of tool BB before the first press',)


def test_a_size_that_no_gauge_has_a_slot_for_is_a_gap_even_without_a_chart():
    less = dataclasses.replace(SHOP, gauges=tuple(g for g in SHOP.gauges if "1/4" not in g.sizes), charts=tuple(c for c in SHOP.charts if c.id != "LC-AL"))
    assert any(gap.startswith("no gauge has a slot for 1/4 with aluminium") for gap in one("1/4", shop=less).gaps)


def test_a_reel_without_a_certificate_is_a_gap():
    reels = tuple(dataclasses.replace(r, certificate=None, certificate_n=None) if r.id == "R4" else r for r in SHOP.reels)
    assert "has a certificate" in one("1/8", shop=dataclasses.replace(SHOP, reels=reels)).gaps[0]


def test_a_chart_with_an_efficiency_or_a_pulled_lot_closes_that_gap():
    charts = tuple(dataclasses.replace(c, rows=tuple(dataclasses.replace(r, efficiency=0.88) for r in c.rows)) for c in SHOP.charts)
    assert one("1/8", "stainless", shop=dataclasses.replace(SHOP, charts=charts)).gaps == ()
    lot = dataclasses.replace(SHOP.pulled_lots[1], size="1/8", metal="stainless", construction="7x19", sleeve_metal="zinc-plated copper", tool="LB")
    assert one("1/8", "stainless", shop=dataclasses.replace(SHOP, pulled_lots=(lot,))).gaps == ()
    aside = dataclasses.replace(lot, set_aside="why")
    assert one("1/8", "stainless", shop=dataclasses.replace(SHOP, pulled_lots=(aside,))).gaps != ()


def test_a_coated_reel_is_named_with_its_coat():
    assert any("coated to 3/16" in reel for reel in one("3/32").reels) and len(one("3/32").reels) == 2


def test_sizes_are_read_once_each_in_their_order():
    assert read_sizes(" 3/16, 1/8 ,3/16,") == ("3/16", "1/8")
    for wrong, said in (("", "no sizes"), (",", "no sizes"), ("7/64", "3/32 or 1/8"), ("1/8;3/16", "1/8;3/16"), ("6 mm", "6 mm")):
        with pytest.raises(Refusal, match=said):
            read_sizes(wrong)


@pytest.mark.parametrize("metal, service, said", [("copper", "dry", "galvanised"), ("stainless", "wet", "outdoor")])
def test_unknown_words_are_refused(metal, service, said):
    with pytest.raises(Refusal, match=said):
        sizes_wanted(SHOP, ("1/8",), metal, service)


def test_the_command_says_what_is_missing_last(capsys):
    assert main(["shop", "--sizes", "1/8,1/4", "--service", "outdoor"]) == 0
    out = capsys.readouterr().out
    assert "INVENTED" in out and out.index("1/8 galvanised") < out.index("1/4 galvanised")
    assert "Missing  nothing" in out and "gauge GC was due" in out and "OUT OF DATE" in out
    assert all(len(line) <= 80 for line in out.splitlines())
    assert main(["shop", "--metal", "stainless"]) == 2 and "together with --sizes" in capsys.readouterr().err


def test_in_si_the_millimetres_come_first():
    assert "15 mm [" in wanted_as_text((one("1/8"),), "SI")
