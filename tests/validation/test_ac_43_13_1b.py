"""Held against FAA Advisory Circular 43.13-1B, 8 September 1998 with Change 1 of 27 September 2001, chapter 7 section 8.

The figures below are this file's own transcript of the circular; they are never read from the package.
"""

import math

import pytest

from rigcalc.cable import band_mm, breaking_force, construction, section, sizes
from rigcalc.errors import Refusal
from rigcalc.reference import table

# Table 7-3, p 7-28: size, construction, carbon steel lbf, corrosion-resistant steel lbf, diameter tolerance in (plus only)
TABLE_7_3 = (
    ("3/64", "7x7", 270, 270, 0.008),
    ("1/16", "7x7", 480, 480, 0.010),
    ("1/16", "7x19", 480, 480, 0.010),
    ("3/32", "7x7", 920, 920, 0.012),
    ("3/32", "7x19", 1000, 920, 0.012),
    ("1/8", "7x19", 2000, 1760, 0.014),
    ("5/32", "7x19", 2800, 2400, 0.016),
    ("3/16", "7x19", 4200, 3700, 0.018),
    ("7/32", "7x19", 5600, 5000, 0.018),
    ("1/4", "7x19", 7000, 6400, 0.018),
    ("9/32", "7x19", 8000, 7800, 0.020),
    ("5/16", "7x19", 9800, 9000, 0.022),
    ("11/32", "7x19", 12500, None, 0.024),
    ("3/8", "7x19", 14400, 12000, 0.026),
)
POUND_FORCE_N = 4.4482216152605  # 0.45359237 kg x 9.80665 m/s2, both exact by definition
EXACT = 1e-12  # the same figures, only converted


@pytest.mark.parametrize("size, built, carbon, stainless, tolerance", TABLE_7_3)
def test_table_7_3_strengths(size, built, carbon, stainless, tolerance):
    # Table 7-3, strength columns
    found = breaking_force(size, built, "galvanised")
    assert found.force_n == pytest.approx(carbon * POUND_FORCE_N, rel=EXACT)
    assert found.source == "AC 43.13-1B, Table 7-3, p 7-28"
    if stainless is None:
        with pytest.raises(Refusal):
            breaking_force(size, built, "stainless")
    else:
        assert breaking_force(size, built, "stainless").force_n == pytest.approx(stainless * POUND_FORCE_N, rel=EXACT)


@pytest.mark.parametrize("size, built, carbon, stainless, tolerance", TABLE_7_3)
def test_table_7_3_tolerances(size, built, carbon, stainless, tolerance):
    # Table 7-3, tolerance column, plus only
    over, under = (int(part) for part in size.split("/"))
    assert band_mm(size) == pytest.approx((over / under * 25.4, (over / under + tolerance) * 25.4), rel=EXACT)
    row = next(row for row in table("cable_strength") if (row.size, row.construction) == (size, built))
    assert row.tolerance_plus_in == tolerance


def test_nothing_else_stands_in_the_shipped_table():
    # Table 7-3, rows of 7x7 and 7x19
    assert [(row.size, row.construction) for row in table("cable_strength")] == [row[:2] for row in TABLE_7_3]
    assert sizes() == ("3/64", "1/16", "3/32", "1/8", "5/32", "3/16", "7/32", "1/4", "9/32", "5/16", "11/32", "3/8")


def test_paragraph_7_142_constructions():
    # para 7-142: six strands of seven wires round a seven-wire centre strand, 49 wires
    assert (construction("7x7").strands, construction("7x7").wires_per_strand, construction("7x7").wires) == (7, 7, 49)
    # para 7-142: six strands round a centre strand, every strand 1 + 6 + 12 wires in two layers, 133 wires
    assert (construction("7x19").strands, construction("7x19").layers, construction("7x19").wires) == (7, (1, 6, 12), 133)


@pytest.mark.parametrize("designation, strands, each, lay, known", [
    ("3x7", 3, 7, (5, 8), "read"), ("7x7", 7, 7, (6, 8), "read"), ("7x19", 7, 19, (6, 8), "from memory")])
def test_paragraph_7_142_strands_and_lay_lengths(designation, strands, each, lay, known):
    # para 7-142: 3x7 three strands of seven wires, no core, lay 5 to 8 diameters; 7x7 6 to 8 (7x19's lay is from memory)
    built = construction(designation)
    assert (built.strands, built.wires_per_strand, (built.least_lay, built.most_lay), built.lay_known) == (strands, each, lay, known)
    assert built.how_known == "read" and built.source.startswith("AC 43.13-1B, para 7-142") and built.lay_source.startswith("AC 43.13-1B, para 7-142")


@pytest.mark.parametrize("designation", ["7x7", "7x19"])
def test_paragraph_7_142_lay(designation):
    # para 7-142: 7x7 lay 6 to 8 diameters (7x19 the same, from memory); the drawing takes 7, the strands stand at d / 3
    king = next(wire for wire in section(designation, 9.0) if wire.strand and wire.layer == 0)
    assert math.hypot(king.x_mm, king.y_mm) == pytest.approx(3.0)
    assert king.minor_mm / king.major_mm == pytest.approx(math.cos(math.atan(2 * math.pi * 3.0 / (7 * 9.0))), rel=1e-9)


@pytest.mark.parametrize("designation, across", [("7x7", 9), ("7x19", 15)])
def test_ideal_wire_diameter(designation, across):
    # geometry: equal circles that touch, 3 strands across of 3 wires (d/9) or 5 wires (d/15)
    assert 2 * section(designation, 9.0)[0].major_mm == pytest.approx(9.0 / across, rel=EXACT)
