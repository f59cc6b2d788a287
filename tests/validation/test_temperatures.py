"""Held against the texts on temperature; the transcript is this file's own.

WAC 296-24-29425(3) and MIL-DTL-83420 type II were read. What is headed "from memory" stands as shipped, kept from drifting.
"""

from fractions import Fraction

import pytest

from rigcalc.reference import table
from rigcalc.temperature import temperature_range

READ = (
    ("wire rope sling, fibre core", None, 93),  # 200 F
    ("wire rope sling, steel core", -51, 204),  # -60 F and 400 F
    ("coat, MIL-DTL-83420 type II", None, 93),  # +93 C
)
# from memory, as shipped: kept from drifting, accepts nothing
REMEMBERED = (("turn-back eye with an aluminium ferrule, steel core", None, 150), ("sling, fibre core, European", None, 100),
              ("sling, European, lower limit", -40, None))


def test_published_temperatures():
    rows = table("temperatures")
    assert [(row.part, row.lowest_c, row.highest_c) for row in rows if row.how_known == "read"] == list(READ)
    assert [(row.part, row.lowest_c, row.highest_c) for row in rows if row.how_known == "from memory"] == list(REMEMBERED)
    assert len(rows) == 6


@pytest.mark.parametrize("fahrenheit, celsius", [(200, 93), (400, 204), (-60, -51)])
def test_fahrenheit_of_the_code_in_whole_degrees_celsius(fahrenheit, celsius):
    # WAC 296-24-29425(3) prints Fahrenheit; nearest whole degree, as the code's own brackets give it
    assert round(Fraction(fahrenheit - 32) * 5 / 9) == celsius


def test_nothing_from_memory_widens_a_range():
    # common practice: -30 to +60 degrees Celsius until every maker has answered
    assert (temperature_range().lowest_c, temperature_range().highest_c) == (-30, 60)
