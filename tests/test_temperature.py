"""Temperature: the least of cable, sleeve and coat; else the makers are asked (rule 17)."""

import math

import pytest

from rigcalc.errors import Refusal
from rigcalc.temperature import Stands, published_temperatures, refuse_temperature, temperature_range

WIDE = Stands(-60, 200, "the maker's letter of 2026")


def test_without_the_makers_common_practice_binds():
    found = temperature_range()
    assert (found.lowest_c, found.highest_c, found.lowest_from, found.highest_from) == (-30, 60, "common practice", "common practice")
    assert "only its maker knows" in found.notes[0]


def test_one_silent_maker_keeps_common_practice():
    assert temperature_range(cable=WIDE).highest_c == temperature_range(sleeve=WIDE).highest_c == 60
    assert temperature_range(WIDE, WIDE, "other").lowest_c == -30


def test_where_every_maker_has_answered_the_least_stands():
    found = temperature_range(WIDE, Stands(-40, 120, "sleeve maker"))
    assert (found.lowest_c, found.highest_c, found.highest_from) == (-40, 120, "sleeve, sleeve maker")
    coated = temperature_range(WIDE, WIDE, "plain vinyl", Stands(-20, 70, "coat maker"))
    assert (coated.lowest_c, coated.highest_c) == (-20, 70) and len(coated.notes) == 1
    assert temperature_range(coat="other", coat_stands=Stands(0, 40, "coat maker")).highest_c == 40


def test_the_military_coat_binds_even_where_makers_give_more():
    # MIL-DTL-83420 type II: +93 degrees Celsius
    found = temperature_range(WIDE, WIDE, "MIL-DTL-83420 type II", WIDE)
    assert (found.highest_c, "MIL-DTL-83420P, 1.1" in found.highest_from) == (93, True)


def test_plain_vinyl_says_that_it_stands_less():
    notes = temperature_range(coat="plain vinyl").notes
    assert any("less than the +93" in note and "ask" in note for note in notes)


@pytest.mark.parametrize("parts", [
    {"coat": "rubber"}, {"coat": None}, {"coat_stands": WIDE}, {"cable": Stands(50, -50, "x")}, {"cable": Stands(-50, 50, " ")},
    {"cable": Stands(math.nan, 50, "x")}, {"cable": Stands(70, 90, "x")}, {"sleeve": Stands(-50, "hot", "x")},
])
def test_what_is_unknown_upside_down_or_unsigned_is_refused(parts):
    with pytest.raises(Refusal):
        temperature_range(**parts)


def test_a_place_is_held_against_the_pieces_own_range():
    refuse_temperature(-30, 60)
    refuse_temperature(-40, 80, temperature_range(WIDE, WIDE))
    for low, high, allowed in ((-31, 20, None), (0, 61, None), (20, 10, None), (0, 60, temperature_range(coat="other", coat_stands=Stands(0, 40, "m")))):
        with pytest.raises(Refusal, match="ask the makers"):
            refuse_temperature(low, high, allowed)
    with pytest.raises(Refusal):
        refuse_temperature(math.nan, 20)


def test_no_published_row_for_a_sleeve_is_more_than_memory():
    rows = [row for row in published_temperatures() if "ferrule" in row.part or "sleeve" in row.part]
    assert rows and {row.how_known for row in rows} == {"from memory"}
