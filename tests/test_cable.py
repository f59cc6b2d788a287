"""Constructions, the section, measuring bands and breaking forces."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.special import ellipe

from rigcalc.cable import (
    AREA_SYSTEMS,
    MASS_SYSTEMS,
    band_mm,
    breaking_force,
    cable_mass,
    construction,
    en_breaking_force_n,
    fill_factor,
    flats_mistaken_for,
    flats_reading_mm,
    mass_kg,
    metallic_area_mm2,
    metric_band_mm,
    metric_sizes_agreeing,
    neighbours,
    possible_sizes,
    section,
    sizes,
    sizes_agreeing,
    sleeve_construction,
    two_systems,
    weight_n,
    wire_grades,
    wire_length_ratio,
)
from rigcalc.errors import Refusal
from rigcalc.units import LBF_N

ALL = ("7x7", "7x19", "3x7", "1x7", "1x19", "6x7", "6x19")
NO_NUMBER = [math.nan, math.inf, -math.inf, True, "3", None, 0, -1.0]
few = settings(max_examples=60, deadline=None)


def lbf(force) -> float:
    return force.force_n / float(LBF_N)


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


# --- mass and weight -----------------------------------------------------------------------------------

def test_masses_carry_their_system_and_what_is_from_memory_says_so():
    assert MASS_SYSTEMS == ("EN", "geometry", "inch table, from memory")
    found = {system: cable_mass("7x19", "1/8", 30_480, system) for system in MASS_SYSTEMS}
    assert found["inch table, from memory"].mass_kg == pytest.approx(2.9 * 0.45359237)  # 100 ft
    assert {system: mass.how_known for system, mass in found.items()} == {
        "EN": "read, second-hand", "geometry": "computed", "inch table, from memory": "from memory"}
    assert [mass.system for mass in found.values()] == list(MASS_SYSTEMS)


def test_the_two_mass_systems_differ_by_5_to_12_per_cent_from_1_8_up():
    """The inch table, from memory, over the EN factor: inch cable may be thicker than its name, and carries zinc."""
    share = {(size, built): mass_kg(built, size, 1000, "inch table, from memory") / mass_kg(built, size, 1000, "EN")
             for size, built in (("1/8", "7x19"), ("5/32", "7x19"), ("3/16", "7x19"), ("7/32", "7x19"), ("1/4", "7x19"),
                                 ("9/32", "7x19"), ("5/16", "7x19"), ("11/32", "7x19"), ("3/8", "7x19"))}
    assert min(share.values()) == pytest.approx(1.05, abs=0.02)
    assert max(share.values()) == pytest.approx(1.12, abs=0.01)


def test_mass_by_geometry_worked_by_hand():
    # 1x7 of 3 mm: 7 wires of 1 mm, 5.498 mm2; six of them at slope 2 pi / (7 x 3): 1.0438 long; 7850 kg/m3
    mean = (1 + 6 * math.sqrt(1 + (2 * math.pi / 21) ** 2)) / 7
    assert mass_kg("1x7", 3.0, 1_000_000, "geometry") == pytest.approx(7 * math.pi / 4 * mean * 7.850, rel=1e-12)


@pytest.mark.parametrize("arguments, said", [
    (("7x7", "1/8", 1000, "inch table, from memory"), "the mass of 7x7 of size 1/8"), (("7x19", "7/64", 1000, "inch table, from memory"), "7x19 3/32 or 7x19 1/8"),
    (("3x7", "1/8", 1000, "EN"), "EN factors for 3x7"), (("6x19", 6, 1000, "EN"), "mass of 6x19"), (("6x7", 6, 1000, "geometry"), "fibre core"),
    (("7x7", "1/8", 0, "EN"), "the length 0 mm"), (("7x7", "1/8", 1000, "usual"), "the system 'usual'"), (("7x7", "6 mm", 1000, "EN"), "an inch size"),
    (("7x7", "1/8", math.nan, "EN"), "finite"), (("7x19", 3.175, 1000, "inch table, from memory"), "an inch size")])
def test_a_mass_nobody_wrote_down_is_refused(arguments, said):
    with pytest.raises(Refusal, match=said):
        mass_kg(*arguments)


def test_weight_needs_its_free_fall_stated():
    assert weight_n(38.1, 9.80665) == pytest.approx(38.1 * 9.80665)
    with pytest.raises(TypeError):
        weight_n(38.1)
    for wrong in (*NO_NUMBER, 9.6, 10, 32.2):
        with pytest.raises(Refusal):
            weight_n(38.1, wrong)
    for wrong in NO_NUMBER:
        with pytest.raises(Refusal):
            weight_n(wrong, 9.81)


# --- sizes and measuring -------------------------------------------------------------------------------

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


def test_the_flats_reading_is_the_least_width_of_six_round_one():
    """Found by turning the caliper: the width of the hull of the strands' circles, over a thousand directions."""
    kings = [(wire.x_mm, wire.y_mm) for wire in section("7x7", 9.0) if wire.layer == 0]
    turn = np.linspace(0, np.pi, 6001)
    reach = np.array([x * np.cos(turn) + y * np.sin(turn) for x, y in kings])
    widths = reach.max(axis=0) - reach.min(axis=0) + 3.0
    assert widths.max() == pytest.approx(9.0)
    assert widths.min() == pytest.approx(flats_reading_mm(9.0), rel=1e-6)
    assert flats_reading_mm(1.0) == pytest.approx(0.9107, abs=5e-5)


def test_across_the_flats_a_cable_is_taken_for_the_next_smaller_from_3_16_to_11_32():
    """Rule 21."""
    taken = {size: flats_mistaken_for(size) for size in sizes()}
    assert taken == {"3/64": None, "1/16": None, "3/32": None, "1/8": None, "5/32": None, "3/16": "5/32", "7/32": "3/16",
                     "1/4": "7/32", "9/32": "1/4", "5/16": "9/32", "11/32": "5/16", "3/8": None}
    with pytest.raises(Refusal, match="3/32 or 1/8"):
        flats_mistaken_for("7/64")


def test_metric_sizes_stand_beside_inch_bands():
    low, high = metric_band_mm(6)
    assert low < band_mm("7/32")[1] and high > band_mm("1/4")[0]  # 6 mm overlaps 7/32 and 1/4
    assert metric_sizes_agreeing(6.0) == metric_sizes_agreeing(6.36) == ("6 mm",)
    assert metric_sizes_agreeing(6.37) == () and metric_sizes_agreeing(6.37, 0.02) == ("6 mm",)
    for wrong in (7, 6.5, math.nan, True, "6"):
        with pytest.raises(Refusal):
            metric_band_mm(wrong)


def kinds(found) -> dict:
    return {one.kind: found.named(one.kind) for one in found.possibilities}


def test_what_a_reading_may_mean_is_named_and_nothing_is_chosen():
    found = possible_sizes(4.34)
    assert kinds(found) == {"inch size over its crowns": ("5/32",), "inch size across its flats": ("3/16",),
                            "outside of a coating": ("3/64", "1/16", "3/32", "1/8", "5/32"), "worn or stretched": ("3/16",)}
    assert not any(hasattr(found, word) for word in ("size", "chosen", "best"))
    assert "label" in found.do
    six = kinds(possible_sizes(6.01, "crowns"))
    assert (six["inch size over its crowns"], six["metric size over its crowns"]) == (("7/32",), ("6 mm",))
    assert "inch size across its flats" not in six
    assert kinds(possible_sizes(6.355, "crowns"))["metric size over its crowns"] == ("6 mm",)
    assert kinds(possible_sizes(6.355, "crowns"))["inch size over its crowns"] == ("1/4",)


def test_what_is_from_memory_in_a_reading_says_so():
    known = {one.sizes: one.how_known for one in (*possible_sizes(3.05, "crowns").possibilities, *possible_sizes(6.1, "crowns").possibilities)
             if one.kind.startswith("metric")}
    assert known == {("3 mm",): "from memory", ("6 mm",): "read"}


def test_a_reading_said_to_be_across_flats():
    found = possible_sizes(flats_reading_mm(4.7625), "flats")
    assert (found.named("inch size across its flats"), found.mistaken_for, found.named("inch size over its crowns")) == (("3/16",), ("5/32",), ())
    assert found.named("worn or stretched") == ("7/32",)
    metric = possible_sizes(flats_reading_mm(6.1), "flats")
    assert metric.named("metric size across its flats") == ("6 mm",)


@given(st.sampled_from(["3/64", "1/16", "3/32", "1/8", "5/32", "3/16", "7/32", "1/4", "9/32", "5/16", "11/32", "3/8"]), st.floats(0, 1),
       st.floats(0, 0.05))
@few
def test_the_right_size_is_always_among_the_possibilities(size, share, doubt):
    low, high = band_mm(size)
    reading = low + share * (high - low)
    assert possible_sizes(reading, "crowns").named("inch size over its crowns") == (size,)
    assert size in possible_sizes(flats_reading_mm(reading), "flats").named("inch size across its flats")
    wide, narrow = (possible_sizes(reading, "unknown", part) for part in (doubt, 0.0))
    for kind in ("inch size over its crowns", "inch size across its flats"):
        assert set(narrow.named(kind)) <= set(wide.named(kind))


@pytest.mark.parametrize("arguments, said", [
    ((3.0, "the middle"), "crowns, flats, unknown"), ((0,), "above 0"), ((-1.0,), "above 0"), ((math.nan,), "finite"), (("3",), "a number"), ((True,), "a number"),
    ((3.0, "crowns", -0.01), "the uncertainty"), ((3.0, "crowns", 3.0), "the uncertainty"), ((3.0, "crowns", math.inf), "finite")])
def test_a_reading_that_is_none_is_refused(arguments, said):
    with pytest.raises(Refusal, match=said):
        possible_sizes(*arguments)


# --- strength ------------------------------------------------------------------------------------------

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


# --- EN factors, and two systems side by side -----------------------------------------------------------

def test_an_en_strength_names_its_system_its_grade_and_what_is_from_memory():
    force = en_breaking_force_n("7x19", 6, 1770)
    assert (force.size, force.construction, force.system, force.from_certificate_n) == ("6 mm", "7x19", "EN factors, grade 1770", None)
    assert force.source == "EN 12385-4, factor table, K3, C3, W3, quoted in a technical note; grade: ISO 10425, Table C.1"
    assert [en_breaking_force_n("7x19", 6, grade).how_known for grade in wire_grades()] == [
        "from memory", "read, second-hand", "read, second-hand"]


@pytest.mark.parametrize("grade", [*NO_NUMBER, 1770.5, 1800, 2160])
def test_a_grade_that_is_not_offered_is_refused(grade):
    with pytest.raises(Refusal):
        en_breaking_force_n("7x19", 6, grade)


def test_no_factor_no_strength():
    for name in ("3x7", "1x7", "1x19"):
        with pytest.raises(Refusal, match=f"EN factors for {name}"):
            en_breaking_force_n(name, 6, 1770)


@given(st.floats(1, 59), st.floats(1.001, 1.01), st.sampled_from(["7x7", "7x19", "6x7", "6x19"]))
@few
def test_en_strength_grows_with_size_and_grade(diameter, times, name):
    forces = [en_breaking_force_n(name, diameter, grade).force_n for grade in wire_grades()]
    assert forces == sorted(forces) and len(set(forces)) == 3
    assert en_breaking_force_n(name, diameter * times, 1770).force_n == pytest.approx(forces[1] * times**2)


def test_two_systems_stand_side_by_side_with_their_reasons():
    pair = two_systems("1/4", "7x19", "stainless", 1770)
    assert (pair.inch.system, pair.en.system) == ("inch aircraft pattern", "EN factors, grade 1770")
    assert pair.ratio == pytest.approx(6400 * 4.4482216152605 / (0.362 * 6.35**2 * 1770))
    said = [reason.text.partition(":")[0] for reason in pair.reasons]
    assert said == ["Nominal diameter", "Wire", "Laying loss", "Metal", "Kind of figure", "Scope"]
    assert all(reason.source and reason.how_known for reason in pair.reasons)
    assert [reason.how_known for reason in pair.reasons if reason.text.startswith(("Metal", "Kind"))] == ["judgement", "judgement"]
    assert "up to 15 % more area" in pair.reasons[0].text  # (0.268 / 0.250)^2 = 1.149
    assert "at 1950 N/mm2 against the 1770 chosen: harder" in pair.reasons[1].text
    assert "87 %" in pair.reasons[2].text and "91 % of galvanised" in pair.reasons[3].text
    assert "carbon steel" in two_systems("1/16", "7x7", "galvanised", 1960).reasons[3].text
    assert "softer" in two_systems("3/8", "7x19", "stainless", 1770).reasons[1].text


def test_two_systems_only_where_the_inch_table_speaks():
    for arguments in (("1/8", "7x7", "galvanised", 1770), ("11/32", "7x19", "stainless", 1770), ("6 mm", "7x19", "galvanised", 1770),
                      ("1/8", "1x19", "galvanised", 1770), ("1/8", "7x19", "bright", 1770), ("1/8", "7x19", "galvanised", 1800)):
        with pytest.raises(Refusal):
            two_systems(*arguments)
