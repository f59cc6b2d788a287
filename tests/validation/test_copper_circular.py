"""As shipped, from memory: kept from drifting, accepts nothing.

Presses and lengths of aircraft copper sleeves as this workbook's authors remember AC 43.13-1B Table 7-6; the page was not read.
The order of presses, para 7-148c, and the stand of the oval, para 7-148b(2), were read.
"""

import pytest

from rigcalc.reference import table
from rigcalc.sleeve import copper_counts_from_memory, other_sleeves_order, oval_in_the_jaws

# from memory: size, presses, sleeve before in, after in
REMEMBERED = (
    ("3/64", 1, 3 / 8, 7 / 16), ("1/16", 1, 3 / 8, 7 / 16), ("3/32", 1, 7 / 16, 1 / 2), ("1/8", 3, 9 / 16, 3 / 4), ("5/32", 3, 5 / 8, 7 / 8),
    ("3/16", 4, 1, 1 + 1 / 4), ("7/32", 4, 7 / 8, 1 + 1 / 16), ("1/4", 3, 1 + 1 / 8, 1 + 1 / 2), ("5/16", 3, 1 + 1 / 4, 1 + 5 / 8), ("3/8", 1, 1 + 1 / 2, 1 + 7 / 8),
)
# worked by hand from those lengths: growth in cable diameters, to two places, from 1/16
GROWTH = ("1.00", "0.67", "1.50", "1.60", "1.33", "0.86", "1.50", "1.20", "1.00")


def test_remembered_counts_and_lengths():
    rows = table("copper_counts_circular")
    assert [(row.size, row.presses, row.before_in, row.after_in) for row in rows] == list(REMEMBERED)
    assert {row.how_known for row in rows} == {"from memory"}
    assert [(row.size, row.presses) for row in copper_counts_from_memory()] == [row[:2] for row in REMEMBERED]


def test_remembered_growth_stays_below_the_two_diameters_of_the_tail():
    growths = [row.growth_diameters for row in copper_counts_from_memory()]
    assert tuple(f"{growth:.2f}" for growth in growths[1:]) == GROWTH
    assert max(growths) == pytest.approx(1.60) and max(growths) < 2


def test_every_remembered_row_labels_itself():
    for row in copper_counts_from_memory():
        assert row.label.startswith("FROM MEMORY, another sleeve's") and "the page was not read" in row.label


def test_the_circulars_order_is_read_and_another_sleeves():
    # AC 43.13-1B 7-148c: centre, next to the thimble, farthest from the thimble; place 1 is next to the thimble
    order = other_sleeves_order()
    assert (order.order, order.source) == ((2, 1, 3), "AC 43.13-1B, para 7-148c")
    assert "copper" in order.sleeve and "Another sleeve's" in order.says
    assert oval_in_the_jaws().source == "AC 43.13-1B, para 7-148b(2); reject: common practice"
