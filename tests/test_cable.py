"""Constructions, the section, measuring bands and breaking forces."""

import math

import pytest

from rigcalc.cable import (
    band_mm,
    breaking_force,
    construction,
    flats_reading_mm,
    neighbours,
    section,
    sizes,
    sizes_agreeing,
)
from rigcalc.errors import Refusal
from rigcalc.units import LBF_N


def lbf(force) -> float:
    return force.force_n / float(LBF_N)


def test_constructions():
    assert (construction("7x7").wires, construction("7x7").layers) == (49, (1, 6))
    assert (construction("7x19").wires, construction("7x19").strands) == (133, 7)
    for other in ("1x19", "3x7", "6x19", "", None, 7, "7X19"):
        with pytest.raises(Refusal, match="7x7 and 7x19"):
            construction(other)


@pytest.mark.parametrize("designation, wires, across", [("7x7", 49, 9), ("7x19", 133, 15)])
@pytest.mark.parametrize("diameter", [1.5875, 3.175, 9.525])
def test_the_section_fills_the_crowns_circle_without_overlap(designation, wires, across, diameter):
    cut = section(designation, diameter)
    assert len(cut) == wires
    reach = max(math.hypot(wire.x_mm, wire.y_mm) + wire.major_mm for wire in cut)
    assert reach == pytest.approx(diameter / 2)
    for index, one in enumerate(cut):
        assert one.major_mm == pytest.approx(diameter / across / 2)
        assert 0.8 * one.major_mm < one.minor_mm <= one.major_mm
        for other in cut[:index]:
            apart = math.hypot(one.x_mm - other.x_mm, one.y_mm - other.y_mm)
            assert apart >= one.major_mm + other.major_mm - 1e-9


def test_only_the_middle_wire_is_cut_round():
    cut = section("7x19", 15.0)
    assert [wire for wire in cut if wire.minor_mm == wire.major_mm] == [cut[0]]
    assert {wire.strand for wire in cut} == set(range(7))
    assert [sum(wire.layer == layer for wire in cut) for layer in range(3)] == [7, 42, 84]


def test_an_outer_strand_leans_along_the_lay_and_its_wires_against_it():
    kings = [wire for wire in section("7x19", 15.0) if wire.layer == 0 and wire.strand]
    for king in kings:
        across = king.x_mm * math.cos(king.angle_rad) + king.y_mm * math.sin(king.angle_rad)
        assert across == pytest.approx(0, abs=1e-9)  # square to the spoke
    outside = max((wire for wire in section("7x19", 15.0) if wire.layer == 2), key=lambda wire: wire.x_mm)
    king = next(king for king in kings if king.x_mm == max(other.x_mm for other in kings))
    assert outside.minor_mm > king.minor_mm  # regular lay: on the crown the wires run along the cable


@pytest.mark.parametrize("diameter", [0, -1, math.nan, math.inf, "3", None])
def test_a_section_needs_a_diameter(diameter):
    with pytest.raises(Refusal, match="above 0 mm"):
        section("7x7", diameter)


def test_sizes_and_neighbours():
    assert sizes() == ("3/64", "1/16", "3/32", "1/8", "5/32", "3/16", "7/32", "1/4", "9/32", "5/16", "11/32", "3/8")
    assert neighbours("3/64") == (None, "1/16")
    assert neighbours("3/8") == ("11/32", None)
    assert neighbours("13/64") == ("3/16", "7/32")
    with pytest.raises(Refusal):
        neighbours("1/0")


def test_bands_over_the_crowns_never_overlap():
    edges = [band_mm(size) for size in sizes()]
    for (_, top), (bottom, _) in zip(edges, edges[1:]):
        assert top < bottom


def test_a_reading_is_named_or_fits_none():
    assert sizes_agreeing(3.175) == ("1/8",)
    assert sizes_agreeing(band_mm("1/8")[1]) == ("1/8",)
    assert sizes_agreeing(3.17) == ()
    assert sizes_agreeing(flats_reading_mm(4.7625)) == ("5/32",)  # 3/16 across its flats
    assert sizes_agreeing(flats_reading_mm(9.525)) == ()  # 3/8 across its flats fits none
    for wrong in (0, -3.0, math.nan):
        with pytest.raises(Refusal):
            sizes_agreeing(wrong)
    with pytest.raises(Refusal, match="3/32 or 1/8"):
        band_mm("7/64")


def test_the_lower_of_table_and_certificate():
    alone = breaking_force("1/8", "7x19", "galvanised")
    assert (lbf(alone), alone.from_certificate_n) == (pytest.approx(2000), None)
    assert alone.source == "AC 43.13-1B, Table 7-3, p 7-28"
    low = breaking_force("1/8", "7x19", "galvanised", 8000.0, "C-1")
    assert (low.force_n, low.source, low.system) == (8000.0, "certificate C-1", "reel certificate")
    assert low.from_table_n == alone.force_n
    high = breaking_force("1/8", "7x19", "galvanised", 9000.0, "C-1")
    assert (high.force_n, high.system, high.from_certificate_n) == (alone.force_n, "inch aircraft pattern", 9000.0)


def test_larger_7x7_and_bright_cable_only_with_a_certificate():
    with pytest.raises(Refusal, match="galvanised 7x7 3/32, or a reel"):
        breaking_force("1/8", "7x7", "galvanised")
    assert breaking_force("1/8", "7x7", "galvanised", 7500, "C-2").force_n == 7500
    with pytest.raises(Refusal, match="no bright 7x19 in the table"):
        breaking_force("1/8", "7x19", "bright")
    assert breaking_force("1/8", "7x19", "bright", 7500, "C-3").source == "certificate C-3"


def test_between_sizes_is_refused_with_both_neighbours():
    with pytest.raises(Refusal, match="galvanised 7x19 3/32 or 1/8, or a reel"):
        breaking_force("7/64", "7x19", "galvanised")
    with pytest.raises(Refusal, match="stainless 7x19 5/16 or 3/8"):
        breaking_force("11/32", "7x19", "stainless")  # the table leaves that box empty
    with pytest.raises(Refusal, match="galvanised 7x19 3/8, or a reel"):
        breaking_force("7/16", "7x19", "galvanised")


@pytest.mark.parametrize("arguments, said", [
    (("6 mm", "7x19", "galvanised"), "6 mm is another cable and not 1/4"), (("6 mm", "7x19", "galvanised", 23070.0, "C"), "another cable"),
    (("3.2 mm", "7x19", "galvanised"), "an inch size such as 1/8"), ((None, "7x19", "galvanised"), "an inch size"), (("1/8", "1x19", "galvanised"), "'1x19'"), (("1/8", "7x19", "zinc"), "'zinc'"),
    (("1/8", "7x19", "galvanised", 9000.0), "certificate's name"), (("1/8", "7x19", "galvanised", 9000.0, " "), "certificate's name"),
    (("1/8", "7x19", "galvanised", 0, "C"), "above 0 N"), (("1/8", "7x19", "galvanised", -1.0, "C"), "above 0 N"),
    (("1/8", "7x19", "galvanised", math.nan, "C"), "finite"), (("1/8", "7x19", "galvanised", "9000", "C"), "a number"),
])
def test_what_has_no_strength_is_refused(arguments, said):
    with pytest.raises(Refusal, match=said):
        breaking_force(*arguments)
