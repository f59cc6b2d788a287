"""Held against the definitions of the units.

International yard and pound agreement of 1959: yard 0.9144 m, pound 0.45359237 kg, both exact.
Third General Conference on Weights and Measures, 1901: standard acceleration of free fall 9.80665 m/s2, exact.
"""

from fractions import Fraction

from rigcalc.units import (
    FOOT_MM,
    GRAVITY_M_S2,
    INCH_MM,
    LBF_N,
    POUND_KG,
    in_unit,
    read_force_n,
    read_length_mm,
    read_mass_kg,
)

YARD_M = Fraction(9144, 10000)
POUND = Fraction(45359237, 10**8)
FREE_FALL = Fraction(980665, 10**5)


def test_lengths():
    # yard and pound agreement, 1959
    assert INCH_MM == YARD_M * 1000 / 36
    assert FOOT_MM == YARD_M * 1000 / 3
    assert read_length_mm("1 in").value == Fraction(254, 10)
    assert read_length_mm("1 ft").value == Fraction(3048, 10)
    assert read_length_mm("1 m").value == 1000


def test_masses():
    # yard and pound agreement, 1959
    assert POUND_KG == POUND
    assert read_mass_kg("1 lb").value == POUND


def test_forces():
    # third General Conference on Weights and Measures, 1901, with the pound of 1959
    assert GRAVITY_M_S2 == FREE_FALL
    assert LBF_N == POUND * FREE_FALL
    assert read_force_n("1 lbf").value == POUND * FREE_FALL
    assert read_force_n("1 kN").value == 1000
    # worked by hand: 23.07 kN is 5186 lbf; a mass of 100 kg weighs 981 N
    assert round(in_unit(23070, "lbf")) == 5186
    assert round(100 * GRAVITY_M_S2) == 981
