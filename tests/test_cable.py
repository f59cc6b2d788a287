"""Constructions, the section, measuring bands and breaking forces."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.special import ellipe

from rigcalc.cable import (
    AREA_SYSTEMS, construction, en_breaking_force_n, fill_factor, flats_reading_mm, mass_kg,
    metallic_area_mm2, section, sleeve_construction, wire_length_ratio)
from rigcalc.errors import Refusal

ALL = ("7x7", "7x19", "3x7", "1x7", "1x19", "6x7", "6x19")
NO_NUMBER = [math.nan, math.inf, -math.inf, True, "3", None, 0, -1.0]
few = settings(max_examples=60, deadline=None)


def test_constructions():
    assert (construction("7x7").wires, construction("7x7").layers) == (49, (1, 6))
    assert (construction("7x19").wires, construction("7x19").strands) == (133, 7)
    wires = {name: construction(name).wires for name in ALL}
    assert wires == {"7x7": 49, "7x19": 133, "3x7": 21, "1x7": 7, "1x19": 19, "6x7": 42, "6x19": 114}
    cores = {name: construction(name).core for name in ALL}
    assert cores == {"7x7": "strand", "7x19": "strand", "3x7": "none", "1x7": "wire", "1x19": "wire", "6x7": "fibre", "6x19": "fibre"}
    for other in ("8x19", "", None, 7, "7X19", ["7x7"]):
        with pytest.raises(Refusal, match="7x7, 7x19, 3x7, 1x7, 1x19, 6x7 and 6x19"):
            construction(other)


def test_a_sleeve_fits_7x7_and_7x19_only():
    """Rule 3: 1x19, 3x7 and fibre cores are refused at the sleeve, though they can be drawn and reckoned with."""
    assert [sleeve_construction(name).designation for name in ("7x7", "7x19")] == ["7x7", "7x19"]
    for other in ("1x19", "3x7", "1x7", "6x7", "6x19", "", None, 7, "7X19"):
        with pytest.raises(Refusal, match="accepted: 7x7 and 7x19; take one of these: hand-pressed sleeves fit no other cable"):
            sleeve_construction(other)


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


@pytest.mark.parametrize("diameter", NO_NUMBER)
def test_a_section_needs_a_diameter(diameter):
    with pytest.raises(Refusal, match="above 0 mm"):
        section("7x7", diameter)


# --- the section, held against other ways of finding it ----------------------------------------------

def by_hand(name: str, diameter: float):
    """Wire count, wire diameter and strand circle of the ideal section, from three and six circles in a ring."""
    per_strand = {"7": 3, "19": 5}[name.partition("x")[2]]
    strands = {"7": 3.0, "6": 3.0, "3": 1 + 2 / 3**0.5, "1": 1.0}[name.partition("x")[0]]
    wire = diameter / strands / per_strand
    ring = {"7": wire * per_strand, "6": wire * per_strand, "3": wire * per_strand / 3**0.5, "1": 0.0}[name.partition("x")[0]]
    return wire, ring


def outline(wire, steps=72):
    turn = np.linspace(0, 2 * np.pi, steps, endpoint=False)
    along, aside = wire.major_mm * np.cos(turn), wire.minor_mm * np.sin(turn)
    c, s = math.cos(wire.angle_rad), math.sin(wire.angle_rad)
    return wire.x_mm + along * c - aside * s, wire.y_mm + along * s + aside * c


def deepest(x, y, wire) -> float:
    """The least value of the ellipse's equation over some points: 1 on its edge, below 1 inside."""
    c, s = math.cos(wire.angle_rad), math.sin(wire.angle_rad)
    dx, dy = x - wire.x_mm, y - wire.y_mm
    return float((((dx * c + dy * s) / wire.major_mm) ** 2 + ((dy * c - dx * s) / wire.minor_mm) ** 2).min())


@given(st.sampled_from(ALL), st.floats(1.0, 60.0))
@few
def test_no_two_wires_overlap(name, diameter):
    cut = section(name, diameter)
    assert len(cut) == construction(name).wires
    edges = [outline(wire) for wire in cut]
    for one, (x, y) in zip(cut, edges):
        for other in cut:
            if other is not one and math.hypot(one.x_mm - other.x_mm, one.y_mm - other.y_mm) < 1.5 * (one.major_mm + other.major_mm):
                assert deepest(x, y, other) >= 1 - 1e-7


@pytest.mark.parametrize("name", ALL)
def test_the_section_is_as_wide_as_its_crowns_and_wires_stand_on_their_rings(name):
    cut, (wire_mm, ring_mm) = section(name, 6.0), by_hand(name, 6.0)
    assert max(math.hypot(wire.x_mm, wire.y_mm) + wire.major_mm for wire in cut) == pytest.approx(3.0)
    assert {round(2 * wire.major_mm, 9) for wire in cut} == {round(wire_mm, 9)}
    kings = [wire for wire in cut if wire.layer == 0]
    outer = [wire for wire in kings if wire.strand]
    assert [math.hypot(wire.x_mm, wire.y_mm) for wire in outer] == pytest.approx([ring_mm] * len(outer))
    assert len(kings) == construction(name).strands
    assert (len(outer) == len(kings)) == (construction(name).core in ("fibre", "none"))


def place(name: str, strand: int, layer: int, turn: float, turn_strand: float, z: float, diameter: float = 6.0) -> np.ndarray:
    """Where a wire stands at height z: its strand on a helix round the cable, the wire on one round its strand."""
    wire, ring = by_hand(name, diameter)
    lay = sum(({"3": 5}.get(name[0], 6), 8)) / 2
    width = wire * {"7": 3, "19": 5}[name.partition("x")[2]]
    hand = -1 if strand else 1
    around, within = turn_strand + 2 * math.pi * z / (lay * diameter), turn + hand * 2 * math.pi * z / (lay * width)
    reach = ring if strand else 0.0
    return np.array([reach * math.cos(around) + layer * wire * math.cos(within),
                     reach * math.sin(around) + layer * wire * math.sin(within), z])


@pytest.mark.parametrize("name", ALL)
def test_every_ellipse_is_the_square_cut_of_a_round_wire_along_its_helix(name):
    """The direction from a finite difference of the helix, the cut from the eigenvalues of the cylinder's equation."""
    for wire in section(name, 6.0):
        king = next(one for one in section(name, 6.0) if one.strand == wire.strand and one.layer == 0)
        turn = math.atan2(wire.y_mm - king.y_mm, wire.x_mm - king.x_mm)
        ring = math.atan2(king.y_mm, king.x_mm)
        assert place(name, wire.strand, wire.layer, turn, ring, 0.0)[:2] == pytest.approx([wire.x_mm, wire.y_mm], abs=1e-9)
        step = 1e-5
        along = place(name, wire.strand, wire.layer, turn, ring, step) - place(name, wire.strand, wire.layer, turn, ring, -step)
        along /= np.linalg.norm(along)
        squared, axes = np.linalg.eigh(np.eye(2) - np.outer(along[:2], along[:2]))  # r^2 / half-axis^2, smallest first
        thickness = wire.minor_mm
        assert thickness / np.sqrt(squared) == pytest.approx([wire.major_mm, wire.minor_mm], rel=1e-7)
        if wire.major_mm > wire.minor_mm * 1.0001:
            assert abs(axes[:, 0] @ [math.cos(wire.angle_rad), math.sin(wire.angle_rad)]) == pytest.approx(1, abs=1e-6)
        # so the ellipse's area times the cosine of the slant is the area of the round wire
        assert math.pi * wire.major_mm * wire.minor_mm * abs(along[2]) == pytest.approx(math.pi * thickness**2, rel=1e-7)


@pytest.mark.parametrize("name", ALL)
def test_wire_lengths_against_integrals(name):
    built, rows = construction(name), wire_length_ratio(name)
    lay, ring, wire = built.lay_diameters * 6.0, by_hand(name, 6.0)[1], by_hand(name, 6.0)[0]
    own_lay = built.lay_diameters * wire * (3 if built.wires_per_strand == 7 else 5)
    assert sum(row.wires for row in rows.layers) == built.wires
    for row in rows.layers:
        a = 2 * math.pi * (ring if row.strand == "outer" else 0.0) / lay
        b = 2 * math.pi * row.layer * wire / own_lay
        turn = 4 * a * b / (1 + (a + b) ** 2)
        assert row.ratio == pytest.approx(2 / math.pi * math.sqrt(1 + (a + b) ** 2) * ellipe(turn), rel=1e-12)
        slant = quad(lambda t, a=a, b=b: math.sqrt(1 + a * a + b * b + 2 * a * b * math.cos(t)), 0, 2 * math.pi)[0]
        assert row.ratio == pytest.approx(slant / 2 / math.pi, rel=1e-9)
    assert rows.mean == pytest.approx(sum(row.wires * row.ratio for row in rows.layers) / built.wires)
    assert 1 < rows.mean < 1.1


@pytest.mark.parametrize("name, fill", [("1x7", 7 / 9), ("1x19", 19 / 25), ("7x7", 49 / 81), ("7x19", 133 / 225), ("3x7", 0.5026),
                                        ("6x7", 42 / 81), ("6x19", 114 / 225)])
def test_fill_and_area_by_geometry(name, fill):
    """Fill is the wires' number over the square of wires across; the area is that of the wires as touching circles."""
    assert fill_factor(name) == pytest.approx(fill, abs=5e-5)
    assert metallic_area_mm2(name, 6.0) == pytest.approx(sum(math.pi * wire.major_mm**2 for wire in section(name, 6.0)))


@given(st.sampled_from(ALL), st.floats(1, 30), st.floats(1.01, 2))
@few
def test_area_and_mass_grow_with_the_square_of_the_diameter(name, diameter, times):
    assert metallic_area_mm2(name, diameter * times) == pytest.approx(metallic_area_mm2(name, diameter) * times**2)
    if name in ("7x7", "7x19"):
        for system in ("EN", "geometry"):
            assert mass_kg(name, diameter * times, 1000, system) == pytest.approx(mass_kg(name, diameter, 1000, system) * times**2)


def test_absurd_figures_are_refused_with_their_bound():
    with pytest.raises(Refusal, match="at most 1e\\+09 mm"):
        flats_reading_mm(1e12)


@pytest.mark.parametrize("name, system, said", [
    ("3x7", "EN", "EN factors for 3x7"), ("1x19", "EN", "EN factors for 1x19"), ("6x19", "EN", "area of 6x19 by EN factor"),
    ("7x7", "metric", "the system 'metric'"), ("7x7", None, "geometry; EN")])
def test_an_area_needs_a_system_that_holds_it(name, system, said):
    assert AREA_SYSTEMS == ("geometry", "EN")
    with pytest.raises(Refusal, match=said):
        metallic_area_mm2(name, 6.0, system)


@pytest.mark.parametrize("diameter", [*NO_NUMBER, 0.99, 60.01])
def test_area_strength_and_mass_only_within_the_range(diameter):
    for ask in (lambda: metallic_area_mm2("7x7", diameter), lambda: en_breaking_force_n("7x7", diameter, 1770),
                lambda: mass_kg("7x7", diameter, 1000, "EN")):
        with pytest.raises(Refusal):
            ask()
    assert metallic_area_mm2("7x7", 60.0) > metallic_area_mm2("7x7", 1.0) > 0
