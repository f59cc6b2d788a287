"""Cable: mass and weight, sizes and measuring, and the breaking force in two systems."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigcalc.cable import (
    MASS_SYSTEMS, band_mm, breaking_force, cable_mass, en_breaking_force_n, flats_mistaken_for,
    flats_reading_mm, mass_kg, metric_band_mm, metric_sizes_agreeing, neighbours, possible_sizes, section,
    sizes, sizes_agreeing, two_systems, weight_n, wire_grades)
from rigcalc.errors import Refusal
from rigcalc.units import LBF_N

NO_NUMBER = [math.nan, math.inf, -math.inf, True, "3", None, 0, -1.0]
few = settings(max_examples=60, deadline=None)


def lbf(force) -> float:
    return force.force_n / float(LBF_N)


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
       st.integers(0, 50).map(lambda parts: parts / 1000))
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
    assert "at 1950 N/mm² against the 1770 chosen: harder" in pair.reasons[1].text
    assert "87 %" in pair.reasons[2].text and "91 % of galvanised" in pair.reasons[3].text
    assert "carbon steel" in two_systems("1/16", "7x7", "galvanised", 1960).reasons[3].text
    assert "softer" in two_systems("3/8", "7x19", "stainless", 1770).reasons[1].text


def test_two_systems_only_where_the_inch_table_speaks():
    for arguments in (("1/8", "7x7", "galvanised", 1770), ("11/32", "7x19", "stainless", 1770), ("6 mm", "7x19", "galvanised", 1770),
                      ("1/8", "1x19", "galvanised", 1770), ("1/8", "7x19", "bright", 1770), ("1/8", "7x19", "galvanised", 1800)):
        with pytest.raises(Refusal):
            two_systems(*arguments)
