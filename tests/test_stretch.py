"""Stretch under load and for good, warmth, and the bend that only illustrates."""

import ast
import math
from pathlib import Path

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import rigcalc
from rigcalc.cable import metallic_area_mm2
from rigcalc.errors import Refusal
from rigcalc.reference import table
from rigcalc.stretch import (
    BEND_CAUTION,
    METALS_THAT_STRETCH,
    bend_illustration,
    constructional_stretch_mm,
    elastic_stretch_mm,
    modulus_n_mm2,
    thermal_change_mm,
)

NO_NUMBER = [math.nan, math.inf, True, "3", None, 0, -1.0]
few = settings(max_examples=60, deadline=None)


# --- elastic ---------------------------------------------------------------------------------------------

def test_stretch_under_load_worked_by_hand_and_with_pint():
    # 1/8 7x19, 4.214 mm2 by EN factor, 10 m, 360 lbf: 1601.36 x 10000 / 4.2138 = 3.8003e6 N/mm; over 110 and 82.7 kN/mm2
    units = pint.UnitRegistry()
    area = metallic_area_mm2("7x19", 3.175, "EN")
    found = elastic_stretch_mm(1601.3597815, 10_000, area, "7x19", "carbon")
    give = (360 * units.lbf * 10 * units.m / (0.418 * (0.125 * units.inch) ** 2)).to("N/mm")
    assert found.low == pytest.approx((give / (110 * units.GPa)).to("mm").magnitude, rel=1e-6)
    assert found.high == pytest.approx((give / (82.7 * units.GPa)).to("mm").magnitude, rel=1e-6)
    assert (round(found.low, 1), round(found.high, 1)) == (34.5, 46.0)
    assert found.from_memory and "measure" in found.note
    assert "textbook 1983, Table 18.7: 6x19 rope 12 Mpsi, the nearest construction that is printed (read, second-hand)" in found.sources


@given(st.floats(1, 5000), st.floats(1, 100_000), st.floats(6, 60), st.floats(1.01, 3), st.sampled_from(["7x7", "7x19", "1x19", "6x7"]))
@few
def test_stretch_grows_with_force_and_length_and_falls_with_area(force, length, area, times, name):
    here = elastic_stretch_mm(force / times, length, area, name)
    assert 0 < here.low < here.high
    assert elastic_stretch_mm(force, length, area, name).low == pytest.approx(here.low * times)
    assert elastic_stretch_mm(force / times, length * times, area, name).high == pytest.approx(here.high * times)
    assert elastic_stretch_mm(force / times, length, area * times, name).high == pytest.approx(here.high / times)


def test_the_range_spans_every_source_and_both_metals_when_none_is_named():
    assert METALS_THAT_STRETCH == {"galvanised": "carbon", "bright": "carbon", "carbon": "carbon", "stainless": "stainless"}
    assert modulus_n_mm2("7x7", "galvanised") == modulus_n_mm2("7x7", "bright") == modulus_n_mm2("7x7", "carbon")
    both, carbon, stainless = (modulus_n_mm2("7x7", metal) for metal in (None, "carbon", "stainless"))
    assert (carbon.low, carbon.high, stainless.low, stainless.high) == (90_000, 110_000, 80_000, 100_000)
    assert (both.low, both.high) == (80_000, 110_000)
    assert all(modulus_n_mm2(name).from_memory for name in ("7x7", "7x19", "1x7", "1x19", "6x7", "6x19"))


@pytest.mark.parametrize("arguments, said", [
    ((1000, 1000, 4, "3x7"), "the modulus of 3x7"), ((1000, 1000, 4, "6x7", "stainless"), "the modulus of stainless 6x7"),
    ((1000, 1000, 4, "7x7", "zinc"), "galvanised, bright, carbon, stainless"), ((1000, 1000, 4, "9x9"), "the construction '9x9'"), ((3601, 1000, 4, "7x7"), "at most 900 N/mm2")])
def test_what_has_no_stretch_is_refused(arguments, said):
    with pytest.raises(Refusal, match=said):
        elastic_stretch_mm(*arguments)
    assert elastic_stretch_mm(3600, 1000, 4, "7x7").low > 0


@pytest.mark.parametrize("wrong", NO_NUMBER)
@pytest.mark.parametrize("where", [0, 1, 2])
def test_no_number_no_stretch(wrong, where):
    given_ = [1000, 1000, 4]
    given_[where] = wrong
    with pytest.raises(Refusal):
        elastic_stretch_mm(*given_, "7x7")
    with pytest.raises(Refusal):
        constructional_stretch_mm(wrong, "7x7")


# --- for good, and by warmth ------------------------------------------------------------------------------

def test_constructional_stretch_is_a_range_from_memory():
    steel, fibre = constructional_stretch_mm(2400, "7x19"), constructional_stretch_mm(2400, "6x19")
    assert (steel.low, steel.high) == pytest.approx((6.0, 12.0))
    assert (fibre.low, fibre.high) == pytest.approx((12.0, 18.0))
    for found in (steel, fibre):
        assert found.from_memory and found.sources[0].endswith("(from memory)") and found.note.startswith("from memory")
    for name in ("1x7", "1x19", "3x7"):
        with pytest.raises(Refusal, match=f"the constructional stretch of {name}"):
            constructional_stretch_mm(2400, name)


def test_warmth_lengthens_and_cold_shortens_by_as_much():
    warm, cold = thermal_change_mm(10_000, 30, "stainless"), thermal_change_mm(10_000, -30, "stainless")
    assert (warm.low, warm.high) == pytest.approx((4.8, 5.4))
    assert (cold.low, cold.high) == pytest.approx((-5.4, -4.8))
    assert warm.from_memory and not thermal_change_mm(10_000, 30, "carbon").from_memory
    units = pint.UnitRegistry()
    change = 12e-6 / units.delta_degC * 10 * units.m * (30 * units.delta_degC)
    assert thermal_change_mm(10_000, 30, "carbon").low == pytest.approx(change.to("mm").magnitude)
    assert thermal_change_mm(10_000, 0, "carbon").high == 0


@pytest.mark.parametrize("arguments", [(1000, 201, "carbon"), (1000, -201, "carbon"), (1000, math.nan, "carbon"), (1000, True, "carbon"),
                                       (1000, "30", "carbon"), (0, 30, "carbon"), (1000, 30, "copper"), (1000, 30, None)])
def test_warmth_outside_its_range_is_refused(arguments):
    with pytest.raises(Refusal):
        thermal_change_mm(*arguments)


# --- the bend ----------------------------------------------------------------------------------------------

def test_a_bend_shows_rows_and_never_reads_in_between():
    """Rule 14: the curve is from memory; it may illustrate."""
    assert (bend_illustration(4).low, bend_illustration(4).high) == (0.75, 0.75)
    assert (bend_illustration(4.01).low, bend_illustration(4.01).high) == (0.75, 0.79)
    assert (bend_illustration(40).low, bend_illustration(1).high) == (0.95, 0.5)
    found = bend_illustration(12)
    assert found.from_memory and found.note == BEND_CAUTION and "never rates" in BEND_CAUTION
    shares = [row.share_percent / 100 for row in table("bend_curve")]
    assert shares == sorted(shares)


@pytest.mark.parametrize("ratio", [*NO_NUMBER, 0.99, 40.01])
def test_a_bend_off_the_curve_is_refused(ratio):
    with pytest.raises(Refusal):
        bend_illustration(ratio)


def test_a_crown_at_half_its_strength_still_does_not_govern():
    """Rule 14: each leg of an eye carries half, so twice 0.5 of the strength is more than 0.90 of it."""
    assert 2 * bend_illustration(1).low > 0.9


def test_nothing_that_rates_knows_the_bend_curve():
    """Rule 14: bend is never multiplied in. Of all that reckons only `stretch` reads the curve (a notebook may print it)."""
    for path in Path(rigcalc.__file__).parent.rglob("*.py"):
        text = path.read_text(encoding="utf-8")
        if path.name in ("stretch.py", "schema.py") or "notebook" in path.parts:
            continue
        names = {alias.name for node in ast.walk(ast.parse(text)) if isinstance(node, ast.ImportFrom) for alias in node.names}
        assert "bend_curve" not in text, path
        if path.name in ("rating.py", "_efficiency.py", "assembly.py", "rating_arrays.py", "fittings.py", "proof.py"):
            assert "bend_illustration" not in names and "stretch" not in names, path
