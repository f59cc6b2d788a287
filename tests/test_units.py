"""Reading, rounding and showing quantities."""

import re
from decimal import Decimal
from fractions import Fraction

import numpy
import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigcalc.errors import Refusal
from rigcalc.units import (
    INCH_MM,
    LBF_N,
    AmbiguousInput,
    Size,
    UnitError,
    either_side,
    exact,
    in_unit,
    read_force_n,
    read_length_mm,
    read_mass_kg,
    read_size,
    round_to,
    show_force,
    show_length,
    show_mass,
    size_inches,
)

_UNITS = pint.UnitRegistry()
READERS = (read_size, read_length_mm, read_force_n, read_mass_kg)
quantities = st.fractions(min_value=0, max_value=10**6, max_denominator=10**6)
steps = st.sampled_from(["1", "0.1", "0.01", "5", "10", "0.5", "0.0625"])


# --- sizes ------------------------------------------------------------------------------------

@pytest.mark.parametrize("typed, name", [
    ("1/8", "1/8"), ("1/8 in", "1/8"), ('5/32"', "5/32"), (" 3/16 inch ", "3/16"), ("1/4”", "1/4"), ("5/16″", "5/16"),
    (".125", "1/8"), ("0.125 in", "1/8"), ("3.2 mm", "1/8"), ("3.175mm", "1/8"), ("3.18 mm", "1/8"),
    ("6.4 mm", "1/4"), ("6.35 mm", "1/4"), ("1.6 mm", "1/16"), ("7.9 mm", "5/16"), ("4/32", "1/8"), ("7/64", "7/64"),
    ("1/8 IN", "1/8"), ("1/8-inch", "1/8"), ("5/32-in.", "5/32"), ("1 in", "1"),
])
def test_a_size_is_read_as_the_trade_writes_it(typed, name):
    size = read_size(typed)
    assert size.name == name
    assert size.inches == Fraction(name)


@pytest.mark.parametrize("typed, other", [("3 mm", "1/8"), ("4 mm", "5/32"), ("5 mm", "3/16"), ("6 mm", "1/4"),
                                          ("8 mm", "5/16"), ("6.0mm", "1/4"), ("4.00 mm", "5/32")])
def test_a_nominal_metric_size_is_another_cable(typed, other):
    with pytest.raises(UnitError) as refused:
        read_size(typed)
    assert not isinstance(refused.value, AmbiguousInput)
    assert f"another cable and not {other}:" in str(refused.value)
    assert str(refused.value).startswith(f"Refused: the nominal metric size '{typed}' was given;")


@pytest.mark.parametrize("typed", ["2 mm", "10 mm", "7 mm"])
def test_other_metric_sizes_are_refused_too(typed):
    with pytest.raises(UnitError, match="it is another cable"):
        read_size(typed)


@pytest.mark.parametrize("typed", ["1/0", "0/8", "-1/8", "−1/8", "0", "2 in", "9/8", "1/10", "1/65", "1/128", "nan", "inf", "1e-1",
                                   "1½", "⅓ in", "１/８", "1/8 7x19", "#8", "", "   ", "3.17 mm", "5.0001 mm", "1//8", "1/8/2",
                                   "1/8 kg", "x" * 500, "1/8\n", "1\x008", "3/32-3/16", "3/32 – 3/16", "0.125 mm", "1 1/8", "0.01", "1.5 in"])
def test_what_is_no_size_is_refused_in_one_sentence(typed):
    try:
        size = read_size(typed)
    except UnitError as refused:
        assert _one_sentence(refused)
    else:
        assert typed == "1/8\n" and size.name == "1/8"  # a line end round the size is only space


@pytest.mark.parametrize("typed, choices", [
    (".13", ("1/8 in", "5/32 in")), ("0.19", ("3/16 in", "7/32 in")), ("3", ("3/32 in", "3/16 in", "3 mm")),
    ("8", ("1/8 in", "1/4 in", "1/2 in", "8 mm")), ("6.4", ("6.4 mm",)),
])
def test_a_doubtful_size_is_asked(typed, choices):
    with pytest.raises(AmbiguousInput) as asked:
        read_size(typed)
    assert asked.value.choices == choices


@pytest.mark.parametrize("typed", ["3/32-3/16", "3/32 – 3/16", "3/32 in - 3/16 in", "3/32x3/16"])
def test_a_coated_size_asks_for_the_bare_core(typed):
    with pytest.raises(UnitError, match="the bare core's size"):
        read_size(typed)


@given(st.integers(1, 64))
def test_every_64th_of_an_inch_comes_back(parts):
    size = Size(str(Fraction(parts, 64)), Fraction(parts, 64))
    assert read_size(f"{size.name} in") == size
    assert read_size(f"{parts}/64") == size


def test_plain_sizes_and_their_neighbours():
    assert size_inches("11/32") == Fraction(11, 32)
    assert either_side("1/64", ("1/8", "1/16")) == (None, "1/16")
    assert either_side("1/2", ("1/8", "1/16")) == ("1/8", None)
    for wrong in ("1/0", "0/8", "6 mm", "1/8 in", "1e9/3", "", None, 0.125, "1000/8"):
        with pytest.raises(UnitError):
            size_inches(wrong)


# --- lengths, forces, masses --------------------------------------------------------------------

@pytest.mark.parametrize("typed, mm, unit", [
    ("3 1/8 in", "79.375", "in"), ('3-1/8"', "79.375", "in"), ("3 - 1/8 in", "79.375", "in"), ("500 mm", "500", "mm"), ("2.40 m", "2400", "m"),
    ("30 ft", "9144", "ft"), ("5 ft 3 in", "1600.2", "in"), ("5' 3 1/2\"", "1612.9", "in"), ("5'3\"", "1600.2", "in"),
    ("0 mm", "0", "mm"), (".5 in", "12.7", "in"), ("7/8''", "22.225", "in"), ("12 inches", "304.8", "in"), ("6’", "1828.8", "ft"),
    ("2 1/2 ft", "762", "ft"), ("1.5 ft", "457.2", "ft"),
])
def test_lengths(typed, mm, unit):
    reading = read_length_mm(typed)
    assert (reading.value, reading.unit, reading.typed) == (Fraction(mm), unit, typed)


@pytest.mark.parametrize("typed, shown", [
    ("3-1/8\"", "3 1/8 in [79.4 mm]"), ("500 mm", "500 mm [19 11/16 in]"), ("2.40 m", "2.40 m [94 1/2 in]"),
    ("30 ft", "30 ft [9144 mm]"), ("5 ft 3 in", "63 in [1600 mm]"), ("0.3 in", "0.3 in [7.6 mm]"), ("12 3/64 in", "12 3/64 in [306 mm]"),
])
def test_a_length_is_shown_as_it_was_read(typed, shown):
    assert read_length_mm(typed).shown == shown


def test_a_default_unit_counts_only_where_none_is_typed():
    assert read_length_mm("7", default_unit="mm").value == 7
    assert read_length_mm("7 in", default_unit="mm").value == Fraction("177.8")
    assert read_force_n("360", default_unit="lbf").value == 360 * LBF_N
    assert read_mass_kg("5", default_unit="kg").value == 5
    with pytest.raises(AmbiguousInput) as asked:
        read_length_mm("7 1/2", default_unit="mm")
    assert asked.value.choices == ("7 1/2 in", "7.5 mm")


@pytest.mark.parametrize("typed, newtons, shown", [
    ("360 lbf", 360 * LBF_N, "360 lbf [1.60 kN]"), ("1.60 kN", 1600, "1.60 kN [360 lbf]"), ("1600 N", 1600, "1600 N [360 lbf]"),
    ("1600 n", 1600, "1600 n".replace("n", "N") + " [360 lbf]"), ("22.5lbf", Fraction("22.5") * LBF_N, "22.5 lbf [100 N]"), ("1/2 lbf", LBF_N / 2, "1/2 lbf [2 N]"),
    ("1.250 kN", 1250, "1.250 kN [281 lbf]"), ("18.68 kilonewton", 18680, "18.68 kN [4199 lbf]"), ("2 kilonewtons", 2000, "2 kN [450 lbf]"),
])
def test_forces(typed, newtons, shown):
    reading = read_force_n(typed)
    assert (reading.value, reading.shown) == (newtons, shown)


@pytest.mark.parametrize("typed, mm", [("17 cm", 170), ("17.25cm", Fraction("172.5")), ("6⅝ in", Fraction(53, 8) * Fraction("25.4")),
                                       ("6 ⅝ in", Fraction(53, 8) * Fraction("25.4")), ('⅛"', Fraction("3.175")), ("6-⅝ in", Fraction(53, 8) * Fraction("25.4"))])
def test_centimetres_and_fractions_in_one_sign_are_read(typed, mm):
    assert read_length_mm(typed).value == mm
    assert read_length_mm(typed, accept=("mm", "in")).value == mm


def test_a_size_with_its_fraction_in_one_sign():
    assert read_size("⅛ in").name == "1/8" and read_size("½").name == "1/2"


@pytest.mark.parametrize("typed", ["0.558 ft", "17", "17 kg", "abc", "1/0 mm", "5 ft 3 in x"])
def test_a_refusal_of_a_length_names_no_unit_that_would_be_refused(typed):
    with pytest.raises(UnitError) as refused:
        read_length_mm(typed, accept=("mm", "m"))
    accepted = str(refused.value).partition("accepted: ")[2].partition(";")[0]
    assert " mm" in f" {accepted}" and not re.search(r"\b(ft|in)\b", accepted)


def test_masses():
    assert read_mass_kg("84 lb").value == Fraction("38.10175908")
    assert read_mass_kg("100 lbs").unit == "lb"
    assert read_mass_kg("6 kg").shown == "6 kg [13 lb]"


@pytest.mark.parametrize("read, typed, choices", [
    (read_force_n, "1,250 kN", ("1250 kN", "1.250 kN")), (read_force_n, "1,250 lbf", ("1250 lbf", "1.250 lbf")),
    (read_force_n, "1,25 kN", ("1.25 kN",)), (read_force_n, "1,250,000 N", ("1250000 N",)), (read_force_n, "1,250.5 N", ("1250.5 N",)),
    (read_force_n, "1 250 kN", ("1250 kN",)), (read_force_n, "360", ("360 lbf", "360 N", "360 kN")), (read_force_n, "360 lb", ("360 lbf",)),
    (read_force_n, "360lbs", ("360 lbf",)), (read_length_mm, "12", ("12 mm", "12 m", "12 in", "12 ft")), (read_length_mm, "3 1/8", ("3 1/8 in", "3 1/8 ft")),
    (read_length_mm, "3 1/8 mm", ("3 1/8 in", "3.125 mm")), (read_length_mm, "2,4 m", ("2.4 m",)), (read_length_mm, "2,524 mm", ("2524 mm", "2.524 mm")),
    (read_mass_kg, "9", ("9 kg", "9 lb")), (read_mass_kg, "1/2 kg", ("0.5 kg",)),
])
def test_what_can_be_read_in_more_than_one_way_is_asked(read, typed, choices):
    with pytest.raises(AmbiguousInput) as asked:
        read(typed)
    assert asked.value.choices == choices
    assert _one_sentence(asked.value)
    for choice in choices:
        read(choice)  # what is offered can be taken


@pytest.mark.parametrize("read, typed, said", [
    (read_force_n, "163 kg", "the mass '163 kg' where a force is asked"), (read_force_n, "2 t", "the mass '2 t' where a force is asked"),
    (read_force_n, "5 ton", "the mass"), (read_mass_kg, "100 N", "the force '100 N' where a mass is asked"), (read_mass_kg, "360 lbf", "the force"),
    (read_force_n, "5 mm", "in 'mm'"), (read_length_mm, "5 dm", "in 'dm'"), (read_length_mm, "5 kg", "in 'kg'"), (read_force_n, "5 mN", "in 'mN'"),
    (read_force_n, "5 MN", "in 'MN'"), (read_force_n, "5 kgf", "in 'kgf'"), (read_force_n, "5 kip", "in 'kip'"), (read_force_n, "-5 N", "the negative force"),
    (read_length_mm, "−5 mm", "the negative length"), (read_force_n, "1e3 N", "an exponent"), (read_force_n, "1/0 lbf", "divides by zero"),
    (read_length_mm, "3 9/8 in", "the length"), (read_length_mm, "5 ft 13 in", "the length"), (read_length_mm, "5.5 ft 3 in", "the length"),
    (read_length_mm, "⅓ in", "no plain figures"), (read_length_mm, "6.5⅝ in", "the length"), (read_length_mm, "1/⅛ in", "the length"), (read_force_n, "٣ N", "no plain figures"), (read_force_n, "²3 N", "no plain figures"), (read_force_n, "inf N", "the force"),
    (read_force_n, "NaN kN", "the force"), (read_force_n, "1,2,3 N", "the force"), (read_force_n, "1.2.3 N", "the force"), (read_force_n, "1'250 N", "the force"),
    (read_force_n, "1_000 N", "the force"), (read_force_n, "0x10 N", "the force"), (read_force_n, "about 5 N", "the force"), (read_force_n, "+5 N", "the force"),
    (read_force_n, "5 N; drop", "the force"), (read_force_n, "1234567890123 N", "more than 12 figures"), (read_force_n, "", "an empty box"), (read_force_n, None, "the force None"),
    (read_mass_kg, "9" * 61, "more signs"), (read_mass_kg, 5, "the mass 5"),
])
def test_what_cannot_be_read_is_refused_in_one_sentence(read, typed, said):
    with pytest.raises(UnitError) as refused:
        read(typed)
    assert not isinstance(refused.value, AmbiguousInput)
    assert said in str(refused.value)
    assert _one_sentence(refused.value)


def test_the_longest_that_is_read():
    assert read_mass_kg(" " * 56 + "5 kg").value == 5  # 60 signs
    with pytest.raises(UnitError, match="1 more signs|41 more signs"):
        read_mass_kg(" " * 57 + "5 kg")
    assert read_mass_kg("123456789012 kg").value == 123456789012
    with pytest.raises(UnitError, match="more than 12 figures"):
        read_mass_kg("1234567890123 kg")


def test_a_force_asked_in_one_unit_only():
    assert read_force_n("5 lbf", accept=("lbf",)).unit == "lbf"
    with pytest.raises(UnitError, match="accepted: lbf;"):
        read_force_n("5 kN", accept=("lbf",))
    with pytest.raises(UnitError, match="the mass '5 lb' where a force is asked"):
        read_force_n("5 lb", accept=("N",))


@given(st.text(max_size=80))
@settings(max_examples=300, deadline=None)
def test_any_text_is_read_or_refused_and_never_breaks(text):
    for read in READERS:
        try:
            read(text)
        except UnitError as refused:
            assert str(refused).startswith("Refused: ")


@given(st.text(alphabet="0123456789 ./,-'\"inftmlbkgNe", max_size=16))
@settings(max_examples=400, deadline=None)
def test_near_misses_are_read_or_refused_and_never_break(text):
    for read in READERS:
        try:
            read(text)
        except UnitError as refused:
            assert _one_sentence(refused)


@given(st.decimals(min_value=0, max_value=99999, places=3), st.sampled_from(["mm", "m", "in", "ft"]))
@settings(deadline=None)
def test_a_length_comes_back_exactly(number, unit):
    reading = read_length_mm(f"{number} {unit}")
    assert Fraction(in_unit(reading.value, unit)) == Fraction(number)
    assert reading.unit == unit


@given(st.decimals(min_value=0, max_value=99999, places=2), st.sampled_from(["lbf", "N", "kN"]))
@settings(deadline=None)
def test_a_force_comes_back_exactly(number, unit):
    assert Fraction(in_unit(read_force_n(f"{number} {unit}").value, unit)) == Fraction(number)


@given(st.integers(0, 5000), st.integers(0, 63))
@settings(deadline=None)
def test_inches_in_fractions_come_back_exactly(whole, parts):
    rest = Fraction(parts, 64)
    typed = f"{whole} {rest} in" if rest and whole else f"{whole + rest} in"
    reading = read_length_mm(typed)
    assert reading.value == (whole + rest) * INCH_MM
    assert reading.shown.startswith(f"{typed} [")


# --- rounding and showing -----------------------------------------------------------------------

@given(quantities, steps, st.sampled_from(["down", "up", "nearest"]))
def test_rounding_agrees_with_exact_fractions(value, step, direction):
    rounded, size = Fraction(round_to(value, Decimal(step), direction)), Fraction(step)
    off = (rounded - value) / size
    slack = Fraction(1, 10**9)
    assert (rounded / size).denominator == 1
    if direction == "down":
        assert -1 + slack < off + slack * 2 and off <= slack
    elif direction == "up":
        assert off < 1 and off >= -slack
    else:
        assert abs(off) <= Fraction(1, 2)


@given(st.integers(1, 30000), st.sampled_from([2, 3, 4, 5, 6, 7, 8, 9, 10, 12]))
def test_a_limit_through_newtons_never_loses_a_step(lbf, factor):
    through_floats = lbf * float(LBF_N) * 0.9 / factor
    assert round_to(in_unit(through_floats, "lbf"), 1, "down") == Fraction(lbf * 9, 10 * factor).__floor__()


def test_the_slack_is_a_thousand_millionth_of_a_step():
    near, off = Fraction("1e-9") * Fraction(99, 100), Fraction("1e-9") * Fraction(101, 100)
    assert round_to(756 - near, 1, "down") == 756
    assert round_to(756 - off, 1, "down") == 755
    assert round_to(756 + near, 1, "up") == 756
    assert round_to(756 + off, 1, "up") == 757
    assert round_to(5 - near / 2, Decimal("0.5"), "down") == 5
    assert round_to(5 - off / 2, Decimal("0.5"), "down") == Decimal("4.5")


def test_rounding_names_what_it_needs():
    for step in (0, -1, "nan", "many"):
        with pytest.raises(UnitError, match="rounding step"):
            round_to(1, step, "down")
    with pytest.raises(UnitError, match="down, up or nearest"):
        round_to(1, 1, "sideways")
    for value in (float("nan"), float("inf"), Decimal("sNaN"), "5", True, None):
        with pytest.raises(UnitError):
            exact(value)
    assert exact(numpy.float64(0.9)) == Fraction(9, 10)
    assert exact(numpy.int64(9)) == 9
    assert round_to(Fraction(5, 2), 1, "nearest") == 3
    assert round_to(Fraction(-5, 2), 1, "nearest") == -3


def test_forces_shown():
    assert show_force(360 * LBF_N, direction="down") == "360 lbf [1.60 kN]"
    assert show_force(Fraction("165.6") * LBF_N, direction="down") == "165 lbf [736 N]"
    assert show_force(Fraction("165.6") * LBF_N, direction="up") == "166 lbf [737 N]"
    assert show_force(Fraction("165.6") * LBF_N, direction="nearest") == "166 lbf [737 N]"
    assert show_force(1609.9, "SI", "down") == "1.60 kN [361 lbf]"
    assert show_force(1609.9, "SI", "up") == "1.61 kN [362 lbf]"
    assert show_force(999.9, "SI", "down") == "999 N [224 lbf]"
    assert show_force(1000, "SI") == "1.00 kN [225 lbf]"
    assert show_force(Fraction("67.6") * LBF_N, step="0.1") == "67.6 lbf [301 N]"
    assert show_force(1609.9, "SI", "down", step="0.1") == "1.6 kN [361 lbf]"
    with pytest.raises(UnitError, match="US or SI"):
        show_force(1, "metric")


def test_lengths_and_masses_shown():
    assert show_length(2524, "SI") == "2524 mm [99 3/8 in]"
    assert show_length(Fraction(5, 32) * INCH_MM, "US") == "5/32 in [4 mm]"
    assert show_length(15, "SI") == "15 mm [19/32 in]"
    assert show_length(6.35, "SI", "up") == "6.4 mm [1/4 in]"
    assert show_length(100, "SI") == "100 mm [3 15/16 in]"
    assert show_length(99.96, "SI", "down") == "99.9 mm [3 7/8 in]"
    assert show_length(0) == "0 in [0 mm]"
    assert show_length(-3.175) == "-1/8 in [-3.2 mm]"
    assert show_mass(38.1) == "84 lb [38.1 kg]"
    assert show_mass(38.1, "SI", "down") == "38.1 kg [83 lb]"


def test_numbers_beyond_all_measure_are_refused():
    for far in (1e15, -1e15, 1e-30, -1e-30, 10**15, Fraction(10**15), Decimal("1e-29"), 0, 0.0):
        assert exact(far) == Fraction(str(far))
    for far in (1.001e15, -1.001e15, 0.999e-30, -0.999e-30, 1e308, 5e-324, 10**400, Fraction(1, 10**31), Decimal("1e999999"), Decimal("1e-999999")):
        with pytest.raises(UnitError, match="nought, or a number from 1e-30 to 1e.15"):
            exact(far)
    with pytest.raises(UnitError, match="something .int. that cannot be written"):
        exact(10**5000)


def test_an_unknown_unit_is_refused():
    with pytest.raises(UnitError, match="the unit 'stone'"):
        in_unit(1, "stone")


# --- an independent check of the conversions ----------------------------------------------------

@given(st.integers(1, 10**6))
@settings(deadline=None)
def test_conversions_agree_with_pint(number):
    for unit, other, read in (("in", "inch", read_length_mm), ("ft", "foot", read_length_mm), ("m", "metre", read_length_mm)):
        assert float(read(f"{number} {unit}").value) == pytest.approx(_UNITS.Quantity(number, other).to("mm").magnitude, rel=1e-12)
    for unit, other in (("lbf", "force_pound"), ("kN", "kilonewton"), ("N", "newton")):
        assert float(read_force_n(f"{number} {unit}").value) == pytest.approx(_UNITS.Quantity(number, other).to("N").magnitude, rel=1e-12)
    assert float(read_mass_kg(f"{number} lb").value) == pytest.approx(_UNITS.Quantity(number, "pound").to("kg").magnitude, rel=1e-12)


def _one_sentence(refused: Refusal) -> bool:
    text = str(refused)
    return text.startswith("Refused: ") and text.endswith(".") and "\n" not in text and "Traceback" not in text
