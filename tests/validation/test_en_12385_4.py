"""Held against the factor table of EN 12385-4 as a technical note quotes it (read, second-hand).

This file's own transcript: K (strength), C (metallic area) and W (mass, kg per 100 m and mm2).
"""

import math

import pytest

from rigcalc.cable import en_breaking_force_n, fill_factor, mass_kg, metallic_area_mm2, two_systems
from rigcalc.reference import table

FACTORS = {"7x7": ("6x7-WSC", 0.388, 0.432, 0.384), "7x19": ("6x19M-WSC", 0.362, 0.418, 0.381),
           "6x7": ("6x7-FC", 0.332, 0.369, 0.345), "6x19": ("6x19M-FC", 0.307, None, None)}
SAME = 1e-12  # the same figures, only multiplied


def test_the_shipped_factors():
    # factor table
    assert {row.construction: (row.named, row.strength_k, row.area_c, row.mass_w) for row in table("en_factors")} == FACTORS
    assert {row.how_known for row in table("en_factors")} == {"read, second-hand"}


@pytest.mark.parametrize("built", FACTORS)
def test_strength_area_and_mass(built):
    # definitions: Fmin = K d^2 R / 1000 kN; metallic area = C d^2; mass = W d^2 kg per 100 m
    _, k, c, w = FACTORS[built]
    for diameter, grade in ((6, 1770), (9.525, 1960), (3.175, 1570)):
        assert en_breaking_force_n(built, diameter, grade).force_n == pytest.approx(k * diameter**2 * grade, rel=SAME)
        if c:
            assert metallic_area_mm2(built, diameter, "EN") == pytest.approx(c * diameter**2, rel=SAME)
            assert mass_kg(built, diameter, 250_000, "EN") == pytest.approx(w * diameter**2 * 2.5, rel=SAME)


def test_fill_factors_worked_from_the_table():
    # f = 4 C / pi, worked by hand: 0.550 and 0.532
    assert fill_factor("7x7", "EN") == pytest.approx(0.550, abs=0.0005)
    assert fill_factor("7x19", "EN") == pytest.approx(0.532, abs=0.0005)
    assert fill_factor("7x7", "EN") == pytest.approx(4 * 0.432 / math.pi, rel=SAME)


def test_six_millimetre_7x19_of_grade_1770():
    # worked by hand: 0.362 x 36 x 1770 = 23.07 kN = 5186 lbf, far from 7000 lbf of 1/4
    force = en_breaking_force_n("7x19", 6.0, 1770)
    assert force.force_n == pytest.approx(23066.64, rel=SAME)
    assert round(force.force_n / 4.4482216152605) == 5186
    assert force.system == "EN factors, grade 1770"


# AC 43.13-1B Table 7-3 against K d^2 R, per cent, worked apart with a calculator:
# 3/8 stainless, 1960: 12000 x 4.44822 / (0.362 x 9.525^2 x 1960) = 0.829; 1/8 galvanised, 1570: 8896.4 / 5729.2 = 1.553
@pytest.mark.parametrize("size, metal, grade, percent", [
    ("3/8", "stainless", 1960, -17), ("1/8", "galvanised", 1570, 55), ("3/8", "stainless", 1770, -8),
    ("5/16", "galvanised", 1770, 8), ("1/8", "galvanised", 1770, 38)])
def test_how_far_the_two_systems_stand_apart(size, metal, grade, percent):
    assert 100 * (two_systems(size, "7x19", metal, grade).ratio - 1) == pytest.approx(percent, abs=0.5)


def test_no_pair_stands_further_apart_than_minus_17_and_plus_55_per_cent():
    ratios = [two_systems(row.size, row.construction, metal, grade).ratio for row in table("cable_strength")
              for metal in ("galvanised", "stainless") for grade in (1570, 1770, 1960)
              if metal == "galvanised" or row.stainless_lbf]
    assert 100 * (min(ratios) - 1) == pytest.approx(-17, abs=0.5)
    assert 100 * (max(ratios) - 1) == pytest.approx(55, abs=0.5)
