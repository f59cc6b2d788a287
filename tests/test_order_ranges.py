"""How far the facts of an order may go, and what is made beside the pieces ordered."""

from __future__ import annotations

import dataclasses

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from test_orders import MADE, SHOP, refusal, sheet

from rigcalc.assembly import MissingFacts, Order, OrderPiece
from rigcalc.errors import Refusal
from rigcalc.shop.sheet import as_text


@pytest.mark.parametrize("name, inside, outside", [
    ("02_cafe_wires", {"length": "100 m"}, {"length": "100.1 m"}), ("02_cafe_wires", {"length": "150 mm"}, {"length": "49.9 mm"}),
    ("02_cafe_wires", {"quantity": "1000"}, {"quantity": "1001"}), ("04_glasshouse_curtain", {"pin": "100 mm"}, {"pin": "100.1 mm"}),
    ("08a_lanyards_to_make", {"pull_pieces": "3"}, {"pull_pieces": "2"}), ("08a_lanyards_to_make", {"pull_pieces": "100"}, {"pull_pieces": "101"})])
def test_the_ranges_of_an_order(name, inside, outside):
    assert sheet(name, **inside).cut_mm > 0
    assert "Refused" in refusal(name, **outside)


def test_the_thinnest_pin_and_the_shortest_length_are_told_as_such():
    assert "2 mm to 100 mm" in refusal("08a_lanyards_to_make", pin="1.9 mm") and "cable diameters" in refusal("08a_lanyards_to_make", pin="2 mm")
    assert "50 mm to 100 m" in refusal("02_cafe_wires", length="49.9 mm") and "50 mm to 100 m" not in refusal("02_cafe_wires", length="50 mm")


def test_no_more_than_a_thousand_pieces_and_twelve_kinds():
    kinds = tuple(OrderPiece(f"wire {n}", "1 m", "83") for n in range(12))
    assert sheet("02_cafe_wires", length=None, quantity=None, pieces=kinds).quantity == 996
    assert "at most 1000" in refusal("02_cafe_wires", length=None, quantity=None, pieces=(*kinds[:11], OrderPiece("last", "1 m", "88")))
    with pytest.raises(Refusal, match="1 to 12 blocks"):
        Order(pieces=(*kinds, OrderPiece("more", "1 m", "1")))
    assert "a name of its own" in refusal("02_cafe_wires", length=None, quantity=None, pieces=kinds[:1] * 2)


def test_a_trial_piece_is_no_longer_than_half_a_metre():
    assert any("1 x 24 9/16 in [624 mm] trial piece" in line for line in sheet("02_cafe_wires").cut_list)       # 500 + 124
    assert any("1 x 15 3/4 in [400 mm] trial piece" in line for line in sheet("08_lanyards").cut_list)          # as the lanyards
    assert any("2 x 15 3/4 in [400 mm] half of a trial lap" in line for line in sheet("07_bird_net_ring").cut_list)
    bare = sheet("02_cafe_wires", dataclasses.replace(SHOP, cutting=None))
    assert "1 x 24 9/16 in [624 mm] for a trial piece" in bare.parts[0].count


def test_the_record_of_a_large_order_is_kept_by_tens():
    assert len(sheet("08_lanyards", quantity="60").record_pieces) == 60
    assert sheet("08_lanyards", quantity="61").record_pieces[:2] == ("piece 1 to piece 10", "piece 11 to piece 20")
    assert sheet("08_lanyards", quantity="61").record_pieces[-1] == "piece 61 to piece 61"


def test_long_names_still_fit_80_columns():
    kinds = (OrderPiece("w" * 100, "1 m", "1"), OrderPiece("a wire with a very long name " * 4, "2 m", "1"))
    made = sheet("02_cafe_wires", length=None, quantity=None, pieces=kinds, number="9" * 90, fittings=None)
    assert max(map(len, as_text(made).splitlines())) <= 80


TYPED = st.one_of(st.none(), st.text(max_size=20), st.sampled_from(
    ["0 mm", "1 mm", "-1 ft", "5 ft", "100 m", "1 lb", "500 N", "middle", "even", "standard", "9.81 m/s2", "1 ft; 2 ft", "brace", "span", "legs", "ring",
     "two soft eyes", "thimble eye and soft eye", "90 %", "6 x broke in the cable", "1, 2, 3 lbf", "R3", "BIN", "yes", "wall eye at 0 degrees"]))
FACTS = [field.name for field in dataclasses.fields(Order) if field.name != "pieces"]


@settings(max_examples=60, deadline=None)
@given(name=st.sampled_from(sorted(MADE)), changes=st.dictionaries(st.sampled_from(FACTS), TYPED, max_size=3))
def test_whatever_is_typed_gives_a_sheet_or_one_sentence(name, changes):
    try:
        made = sheet(name, **changes)
    except Refusal as refusal:
        assert "\n" not in str(refusal) and str(refusal).count("Refused:") == 1
    else:
        assert max(map(len, as_text(made).splitlines())) <= 80


def test_a_thimble_eye_and_a_soft_eye_on_one_cable():
    made = sheet("08a_lanyards_to_make", ends="thimble eye and soft eye", quantity="1", pull_pieces=None, pull_coverage=None, pull_confidence=None)
    counts = {part.what.split()[0]: part.count for part in made.parts}
    assert counts["Sleeves"].startswith("2,") and counts["Thimbles"].startswith("1,")
    labels = [item.label.split(":")[0] for item in made.cut_steps]
    assert "first eye" in labels and "second soft eye" in labels
    assert any("a soft eye. Set the eye on a pin" in step.text for step in made.steps)


def test_coated_cable_in_a_thimble_takes_the_thimble_of_its_coat():
    made = sheet("04_glasshouse_curtain", ends="two thimble eyes", pin=None)
    assert made.cut_mm == 6010 + 2 * (98 + 11 + 6 - 42)          # the 3/16 thimble, the sleeve of the 3/32 core, and its tail: growth 3.5 and band 2, rounded up
    thimble = next(item.value for item in made.decided if item.label == "Thimble")
    assert thimble.startswith("galvanised, for 3/16 cable") and "groove" in thimble


def test_growth_measured_in_the_shop_goes_before_the_chart_s():
    row = next(item.value for item in sheet("08_lanyards").crimps if item.label == "Sleeve before and after")
    assert "mean of 3 sleeves, measured by Parvel Minch" in row


def test_a_practice_sheet_has_no_papers():
    bare = dataclasses.replace(SHOP, charts=())
    made = sheet("04_glasshouse_curtain", bare, tool=None, sleeve_before="11 mm", sleeve_after="14.5 mm")
    assert made.practice and (made.tag, made.record, made.record_columns, made.record_pieces, made.customer) == ((), (), (), (), ())
    assert not any("Hand over" in step.text or "Tag it" in step.text for step in made.steps)
    with pytest.raises(MissingFacts, match="1 fact is missing") as asked:
        sheet("04_glasshouse_curtain", bare, tool=None, sleeve_before="11 mm")
    assert "--sleeve-after" in asked.value.questions[0]
