"""Held against two texts on steel: an instructional memorandum (structural steel weight) and an open physics text.

Iowa Department of Transportation, instructional memorandum: 490 lb/ft3. University Physics, volume 2, Thermal
Expansion, table of coefficients: steel 12e-6 a degree Celsius. EN 13414-1 Table 4: ropes of 8 to 60 mm.
"""

import pytest

from rigcalc.reference import constant
from rigcalc.stretch import thermal_change_mm


def test_density():
    # structural steel weight: 490 lb/ft3 is 7849 kg/m3; the memorandum's 7850 is that, rounded (0.02 %)
    assert float(constant("steel density").value) == pytest.approx(490 * 0.45359237 / 0.3048**3, rel=0.0002)


def test_expansion():
    # table of coefficients: 12e-6 x 25 m x 40 degrees = 12 mm
    change = thermal_change_mm(25_000, 40, "carbon")
    assert (change.low, change.high) == pytest.approx((12.0, 12.0), rel=1e-12)
    assert not change.from_memory


def test_the_largest_rope_of_the_sling_table():
    # EN 13414-1 Table 4, last row
    assert constant("largest EN diameter").value == 60
