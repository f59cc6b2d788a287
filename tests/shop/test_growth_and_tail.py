"""The tail outlasts the sleeve's growth, and what a sleeve measured in the shop is printed as measured.

By hand: two diameters of 3/32 are 4.7625 mm. A sleeve of 12 mm that comes out 16.5 mm has grown 4.5 mm: with 1 mm still to be seen
that asks for 5.5 mm; one that comes out 16 mm has grown 4 mm and asks for 5 mm. The curtain is of coated cable, whose live leg is bare
beside the tail for growth and a band of 2 mm: 6.5 mm and 6 mm, so 7 mm and 6 mm are set.
"""

from __future__ import annotations

import dataclasses
from datetime import date
from pathlib import Path

import pytest

from rigcalc.assembly import job_sheet
from rigcalc.errors import Refusal
from rigcalc.layout import tail_to_set_mm
from rigcalc.shop import check_shop, load_shop, sample_shop_path
from rigcalc.shop.card import wall_card
from rigcalc.shop.model import Growth
from rigcalc.shop.order_file import read_order_file

FOLDER = Path(__file__).resolve().parents[2] / "lessons" / "orders"
DAY = date(2026, 11, 25)
SAMPLE = sample_shop_path().read_text(encoding="utf-8")
SHOP = load_shop(sample_shop_path())


def shop_of(tmp_path, after):
    path = tmp_path / "shop.toml"
    path.write_text(SAMPLE.replace('sleeve_before = "11 mm"\nsleeve_after = "14.5 mm"', f'sleeve_before = "12 mm"\nsleeve_after = "{after}"'), encoding="utf-8")
    return path


def curtain(shop):
    return job_sheet(read_order_file(str(FOLDER / "04_glasshouse_curtain.toml")), shop, DAY)


@pytest.mark.parametrize("after, tail, on_card", [("16 mm", "6 mm", "5 mm"), ("16.5 mm", "7 mm", "5.5 mm"), ("13 mm", "5 mm", "4.8 mm")])
def test_the_tail_set_outlasts_the_growth_and_the_sheet_says_so(tmp_path, after, tail, on_card):
    shop = load_shop(shop_of(tmp_path, after))
    made = curtain(shop)
    step, = (step.text for step in made.steps if "Set the tail" in step.text)
    assert f"[{tail}], two diameters or more and longer than the sleeve grows" in step
    grown = float(after.split()[0]) - 12
    assert made.tail_mm == float(tail.split()[0]) >= grown + 1
    assert f"[{on_card}]" in next(row.tail for row in wall_card(shop, "LA", DAY).rows if row.size == "3/32")


@pytest.mark.parametrize("after", ["17.5 mm", "30 mm", "160 mm"])
def test_a_growth_beyond_any_is_asked_back_as_a_slip(tmp_path, after):
    problem = next(str(one) for one in check_shop(shop_of(tmp_path, after)) if "digit" in str(one))
    assert "sleeve_after" in problem and "at most two diameters, 4.76 mm" in problem and "1.6 diameters" in problem


def test_a_growth_given_on_the_order_is_held_to_the_same():
    order = read_order_file(str(FOLDER / "04_glasshouse_curtain.toml"))
    bare = dataclasses.replace(SHOP, charts=())
    with pytest.raises(Refusal, match="at most two diameters"):
        job_sheet(dataclasses.replace(order, sleeve_before="12 mm", sleeve_after="17.5 mm"), bare, DAY)
    assert job_sheet(dataclasses.replace(order, sleeve_before="12 mm", sleeve_after="16.5 mm"), bare, DAY).tail_mm == 7


def test_two_diameters_are_the_least_and_the_greatest_growth_still_passes():
    assert tail_to_set_mm(3.175, 0) == 6.35 and tail_to_set_mm(3.175, 6.35) == 7.35
    with pytest.raises(Refusal, match="digit"):
        tail_to_set_mm(3.175, 6.36)


def grown(before, after):
    return dataclasses.replace(SHOP, growths=(Growth("aluminium", "3/16", "LB", "5", before, after, "Sim Pardow", DAY),))


def test_the_length_after_pressing_is_the_mean_of_the_three_as_they_were_measured():
    # Before 22.4, 22.3, 22.5: mean 22.4; after 29.3, 29.4, 29.5: mean 29.4. The chart's row says 22 and 29.
    made = job_sheet(read_order_file(str(FOLDER / "01_gate_brace.toml")), grown((22.4, 22.3, 22.5), (29.3, 29.4, 29.5)), DAY)
    text = {item.label: item.value for item in made.crimps}["Sleeve before and after"]
    assert "22.4 mm" in text and "29.4 mm" in text and "measured by Sim Pardow" in text


def test_of_three_sleeves_the_one_that_grew_most_sets_the_tail():
    # Growths 7, 7 and 9.2 mm on 3/16: 9.2 + 1 = 10.2 mm, above 2 d = 9.525 mm; 11 mm are set.
    made = job_sheet(read_order_file(str(FOLDER / "01_gate_brace.toml")), grown((22, 22, 22), (29, 29, 31.2)), DAY)
    assert made.tail_mm == 11


def test_three_sleeves_of_which_one_grew_too_much_are_asked_back(tmp_path):
    path = tmp_path / "shop.toml"
    path.write_text(SAMPLE.replace('after = ["29 mm", "28.5 mm", "29.5 mm"]', 'after = ["29 mm", "28.5 mm", "39.5 mm"]'), encoding="utf-8")
    problem, = check_shop(path)
    assert problem.field == "growth 2 after" and "at most two diameters" in str(problem)
