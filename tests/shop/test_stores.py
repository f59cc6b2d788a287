"""The blocks that a shop may leave out: read into records, checked against one another, told with their lines."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from math import degrees

import pytest

from rigcalc.errors import Refusal
from rigcalc.shop import check_shop, load_shop, sample_shop_path
from rigcalc.shop.commands import shop_notes
from rigcalc.shop.supply import lot_share, measured_for, prices_for, stock_to_cut

SAMPLE = sample_shop_path().read_text(encoding="utf-8")
SHOP = load_shop(sample_shop_path())
LATER = ("growth", "pulled_lot", "offcut", "fitting", "clip", "cutting", "prices", "proof")
LBF_N = 4.4482216152605  # exact by definition: 0.45359237 kg at 9.80665 m/s2


@pytest.fixture
def shop_with(tmp_path):
    """The sample with one text changed, as a path."""
    def write(old, new, count=1):
        assert old in SAMPLE
        path = tmp_path / "shop.toml"
        path.write_text(SAMPLE.replace(old, new, count), encoding="utf-8")
        return path
    return write


def without(*blocks):
    """The sample without these blocks."""
    parts = re.split(r"(?m)^(?=\[)", SAMPLE)
    return "".join(p for p in parts if not any(p.startswith((f"[{b}]", f"[[{b}]]")) for b in blocks))


# --- leaving out --------------------------------------------------------------------------------------

def test_a_shop_file_from_before_these_blocks_still_loads(tmp_path):
    path = tmp_path / "shop.toml"
    path.write_text(SAMPLE[:SAMPLE.index("# ====")], encoding="utf-8")
    assert check_shop(path) == []
    shop = load_shop(path)
    assert (shop.growths, shop.pulled_lots, shop.offcuts, shop.fittings, shop.clips) == ((),) * 5
    assert (shop.prices, shop.cutting, shop.proof) == (None, None, None)
    assert shop.reels == SHOP.reels and shop.charts == SHOP.charts
    assert prices_for(shop, "R4", "aluminium").sleeve is None and shop.clip_row("1/4") is None


@pytest.mark.parametrize("block", LATER)
def test_each_block_may_be_left_out_by_itself(tmp_path, block):
    path = tmp_path / "shop.toml"
    path.write_text(without(block), encoding="utf-8")
    assert check_shop(path) == []


@pytest.mark.parametrize("heading", [f"[{b}]" if b in ("cutting", "prices", "proof") else f"[[{b}]]" for b in LATER])
def test_each_block_is_explained_in_the_sample(heading):
    above = SAMPLE.splitlines()
    above = above[:above.index(heading)]
    while not above[-1].strip():
        above.pop()
    assert above[-1].startswith("#")


@pytest.mark.parametrize("heading, wrong, said", [
    ("[cutting]", "[[cutting]]", "a block [cutting] of fields"), ("[[growth]]", "[growth]", "in double brackets"),
    ("[proof]", "[prof]", "did you mean proof?")])
def test_a_heading_written_the_other_way_is_told(shop_with, heading, wrong, said):
    told = check_shop(shop_with(f"\n{heading}\n", f"\n{wrong}\n", SAMPLE.count(f"\n{heading}\n")))
    assert any(said in p.what for p in told)


# --- what the records say -------------------------------------------------------------------------------

def test_growth_is_the_mean_of_three_and_stands_while_its_chart_does(shop_with):
    growth = SHOP.growth("aluminium", "1/16", "LA")
    assert growth.mean_growth_mm == pytest.approx(2.5) and growth.mean_after_mm == pytest.approx(10.5)     # (2.5 + 2 + 3) / 3
    assert SHOP.growth("aluminium", "1/8", "LB") is None and SHOP.growth("aluminium", "1/16", "LB") is None
    changed = load_shop(shop_with('edition = "3"', 'edition = "4"'))
    assert changed.growth("aluminium", "1/16", "LA") is None
    assert any("edition 3" in note and "measure three again" in note for note in shop_notes(changed))
    assert not any("measure three again" in note for note in shop_notes(SHOP))


def test_a_lot_that_was_set_aside_stays_on_record_and_counts_for_nothing():
    kept, counts = SHOP.pulled_lots
    assert kept.set_aside and SHOP.lots("eye", "1/16", "7x7", "galvanised", "aluminium") == (counts,)
    assert [round(force / LBF_N) for force in kept.forces_n] == [470, 505, 512, 441, 498, 489]
    assert SHOP.lots("eye", "1/16", "7x7", "galvanised", "aluminium", "LB") == ()
    with pytest.raises(Refusal, match="set aside"):
        lot_share(kept, 480 * LBF_N, 0.9, 0.95)


def test_what_a_lot_shows_is_its_bound_over_the_breaking_force():
    share = lot_share(SHOP.pulled_lots[1], 480 * LBF_N, 0.9, 0.95)
    # by hand: mean 497.833, s 7.026 of 496, 503, 489, 508, 499, 492; k 3.006 (six pieces, 90 %, 95 %, ISO 16269-6 Table D)
    assert share.value == pytest.approx((497.833 - 3.006 * 7.026) / 480, abs=1e-3)
    assert (share.splice, share.sleeves, share.size, share.lot) == ("eye", 1, "1/16", "P2")


def test_no_lap_has_been_pulled_so_the_shop_rates_none():
    assert not any(lot.what == "lap" for lot in SHOP.pulled_lots)
    assert SHOP.lots("lap", "3/32", "7x7", "galvanised", "aluminium") == ()


def test_an_offcut_has_its_reel_s_certificate_or_none():
    known, unknown = SHOP.offcuts
    assert (known.size, known.construction, known.metal) == ("1/8", "7x19", "galvanised")
    assert known.certified and known.certificate == SHOP.reel("R4").certificate
    assert not unknown.certified and unknown.size == "unknown"
    assert any("O2" in note and "scrap" in note for note in shop_notes(SHOP))
    lone = replace(SHOP, charts=tuple(one for one in SHOP.charts if one.sleeve_metal == "aluminium"))
    assert any("may go on stainless cable" in note for note in shop_notes(lone)) and not any("may go on" in note for note in shop_notes(SHOP))


def test_the_stock_to_cut_from_leaves_out_what_nobody_knows():
    stock = {one.id: one for one in stock_to_cut(SHOP)}
    assert set(stock) == {"R1", "R2", "R3", "R4", "R5", "R6", "R7", "R8", "O1"}     # not R9 (metric), BIN, O2
    assert stock["R4"].length_mm == 150_000 and not stock["R4"].offcut and stock["R3"].material.coated_to == "3/16"
    assert stock["O1"].offcut and stock["O1"].length_mm == 1500 and stock["O1"].material == stock["R4"].material


def test_fittings_keep_the_mark_the_pin_and_their_own_maker_s_angles():
    bolt = next(f for f in SHOP.fittings if f.fitting.kind == "eyebolt")
    assert [(round(degrees(angle)), round(force / LBF_N)) for angle, force in bolt.fitting.angle_chart.rows] == [(15, 400), (45, 125)]
    assert bolt.fitting.limit_n == pytest.approx(500 * LBF_N) and bolt.pin_mm == 8
    assert "sheet 4" in bolt.fitting.angle_chart.given_by
    assert {f.fitting.name for f in SHOP.fittings_for("3/32")} == {"small snap hook", "wall eye"}


def test_the_clip_row_is_the_maker_s_and_says_invented():
    row = SHOP.clip_row("1/4")
    assert (row.number, row.turnback_mm, row.torque_nm, row.base_mm, row.invented) == (3, 130, 18, 26.9, True)


def test_a_torque_in_lbf_ft_is_read(shop_with):
    row = load_shop(shop_with('torque = "18 N m"', 'torque = "13 lbf ft"')).clip_row("1/4")
    assert row.torque_nm == pytest.approx(17.6256, abs=1e-4)     # 13 x 1.3558179 N m


def test_prices_and_times_are_given_for_one_end():
    prices, measured = prices_for(SHOP, "R5", "zinc-plated copper"), measured_for(SHOP, "1/8", "zinc-plated copper", "LB")
    assert (prices.sleeve, prices.clip, prices.thimble, prices.cable_per_m, prices.minute) == (0.60, 0.70, 0.90, 1.60, 0.50)
    assert (measured.sleeve_before_mm, measured.sleeve_minutes, measured.clip_minutes) == (15, 6, 9)
    assert prices_for(SHOP, "R8", "aluminium").sleeve is None


def test_cutting_and_proof():
    assert (SHOP.cutting.kerf_mm, SHOP.cutting.keep_mm, SHOP.cutting.trial_pieces) == (2, 300, 1)
    assert (SHOP.proof.rule, SHOP.proof.cap_share, SHOP.proof.hold_s) == ("twice the limit", 0.5, 10)
    assert SHOP.proof.instrument_due > date(2026, 11, 25)


# --- mistakes, each with its line -------------------------------------------------------------------------

@pytest.mark.parametrize("old, new, field, said", [
    ('after = ["10.5 mm", "10 mm", "11 mm"]', 'after = ["10.5 mm", "10 mm"]', "growth 1 after", "3 lengths in brackets"),
    ('after = ["10.5 mm", "10 mm", "11 mm"]', 'after = ["10.5 mm", "8 mm", "11 mm"]', "growth 1 after", "longer after pressing"),
    ('after = ["10.5 mm", "10 mm", "11 mm"]', 'after = ["11.1 mm", "11.1 mm", "11 mm"]', "growth 1 after", "sleeve_after of the chart's row (10.5 mm)"),
    ('before = ["8 mm", "8 mm", "8 mm"]', 'before = ["8.6 mm", "8.6 mm", "8.6 mm"]', "growth 1 before", "sleeve_before"),
    ('size = "3/16"\ntool = "LB"', 'size = "1/4"\ntool = "LB"', "growth 2 size", "tool LB has a cavity for"),
    ('measured_by = "Parvel Minch"', 'measured_by = ""', "growth 1 measured_by", "a person's name"),
    ('what = "eye"', 'what = "splice"', "pulled_lot 1 what", '"eye", "lap"'),
    ('"441 lbf", "498 lbf", "489 lbf"]', '"441 lbf", "498 lbf"]', "pulled_lot 1 endings", "5, one for each force"),
    ('"441 lbf", "498 lbf"', '"441", "498 lbf"', "pulled_lot 1 forces", "with its unit"),
    ('endings = ["broke at the sleeve\'s mouth", "broke at', 'endings = ["snapped", "broke at', "pulled_lot 2 endings", '"broke in the cable"'),
    ('reel = "R1"\nsize = "1/16"', 'reel = "R77"\nsize = "1/16"', "pulled_lot 1 reel", "the id of a [[reel]]"),
    ('reel = "R1"\nsize = "1/16"', 'reel = "R2"\nsize = "1/16"', "pulled_lot 1 size", '"3/32", what reel R2 is'),
    ('instrument_due = 2046-03-02\nset_aside', 'instrument_due = 2026-03-01\nset_aside', "pulled_lot 1 instrument_due", "the day of pulling"),
    ('id = "P2"', 'id = "P1"', "pulled_lot 2 id", "a second time"),
    ('reel = "R4"\nlength = "1500 mm"', 'reel = "R44"\nlength = "1500 mm"', "offcut 1 reel", "the id of a [[reel]]"),
    ('length = "1500 mm"', 'length = "150 mm"', "offcut 1 length", "keep_length"),
    ('kind = "snap hook"', 'kind = "carabiner"', "fitting 3 kind", '"snap hook"'),
    ('limit = "220 lbf"', 'limit = "220 lb"', "fitting 3 limit", "a force"),
    ('angles_source = ', '# angles_source = ', "fitting 5 angles_source", "the maker's sheet"),
    ('"45" = "125 lbf"', '"45" = "450 lbf"', "fitting 5 angles", "never pass the limit nor rise"),
    ('angles = { "15"', 'angles = { "0"', "fitting 5 angles", "angles above 0"),
    ('limit = "180 lbf"\n', 'limit = "180 lbf"\nangles = { "45" = "60 lbf" }\n', "fitting 4 angles_source", "the maker's sheet"),
    ('limit = "220 lbf"\n', 'limit = "220 lbf"\nangles = { "45" = "60 lbf" }\nangles_source = "x"\n', "fitting 3 angles", "pulled in line only"),
    ('number = 3\nturnback = "75 mm"', 'number = 2\nturnback = "75 mm"', "clip 1 number", "from 3 to 12"),
    ('torque = "18 N m"', 'torque = "18 Nm"', "clip 2 torque", "18 N m"),
    ('size = "1/4"\nnumber = 3', 'size = "1/8"\nnumber = 3', "clip 2 size", "a second time"),
    ('edition = "2"\ncopied_by = "Parvel Minch"\nchecked_by = "Ines Varrow"', 'edition = "2"\ncopied_by = "Parvel Minch"\nchecked_by = "parvel minch"',
     "clip 1 checked_by", "another person"),
    ("{ R1 = 0.40", "{ R11 = 0.40", "prices cable_metre", "ids of [[reel]] blocks"),
    ('{ "1/16 aluminium" = 0.08', '{ "1/16 brass" = 0.08', "prices sleeve", '"aluminium"'),
    ("minute = 0.50", "minute = -1", "prices minute", "a number above 0"),
    ("R3 = 0.75", "R3 = -0.9", "prices cable_metre", "correct R3 = -0.9 (a number above 0"),
    ("R3 = 0.75, R4 = 0.80", "R3 = -0.9, R4 = 0", "prices cable_metre", "R3 = -0.9 (a number above 0 and up to 1e+06, without quotes) and R4 = 0 ("),
    ('kerf = "2 mm"', 'kerf = "2 in"', "cutting kerf", "from 0 mm to 20 mm"),
    ('rule = "twice the limit"', 'rule = "three times the limit"', "proof rule", '"twice the limit"'),
    ("cap_share = 0.5", "cap_share = 50", "proof cap_share", "a number above 0 and up to 0.99"),
])
def test_each_mistake_is_told_at_its_field_and_line(shop_with, old, new, field, said):
    path = shop_with(old, new)
    told = [p for p in check_shop(path) if p.field == field]
    assert told, [str(p) for p in check_shop(path)]
    assert said in told[0].what
    line = path.read_text(encoding="utf-8").splitlines()[told[0].line - 1]
    name = field.split()[-1]
    assert line.startswith((name, "[[fitting]]") if name == "angles_source" else name), line


def test_a_growth_twice_is_told(shop_with):
    told = check_shop(shop_with('size = "3/16"\ntool = "LB"\nedition = "5"\nbefore = ["22 mm", "22 mm", "22 mm"]\nafter = ["29 mm", "28.5 mm", "29.5 mm"]',
                                'size = "1/16"\ntool = "LA"\nedition = "3"\nbefore = ["8 mm", "8 mm", "8 mm"]\nafter = ["10.5 mm", "10 mm", "11 mm"]'))
    assert [p.field for p in told] == ["growth 2 tool"] and "a second time" in told[0].what


def test_a_day_still_to_come_is_told_in_a_shop_of_one_s_own(tmp_path):
    path = tmp_path / "shop.toml"
    text = SAMPLE.replace("measured_on = 2026-02-20", "measured_on = 2999-02-20", 1)
    path.write_text(text, encoding="utf-8")
    assert "2999-02-20" in str(check_shop(path)[0])                # only the sample's very days are made up
    path.write_text(text.replace("invented = true", "invented = false"), encoding="utf-8")
    assert [p.given for p in check_shop(path) if "or earlier" in p.accepted] == ["2999-02-20"]


def test_a_tool_without_an_id_and_a_chart_without_a_tool_are_told_and_no_more(tmp_path):
    path = tmp_path / "shop.toml"
    path.write_text(SAMPLE.replace('id = "LA"', "id = 0", 1).replace('tool = "LC"', "tool = 0", 1), encoding="utf-8")
    told = {p.field for p in check_shop(path)}
    assert {"tool 1 id", "chart 3 tool"} <= told
