"""What is typed, and how it is read: fractions, counts, degrees, masses, separators of the shop's language."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from a_family import SECRET, composed, families, shop

from rigcalc.questions import Stream, compose, draw, mark, read_answer
from rigcalc.questions.separators import LANGUAGES, plain_figures, separators


def _asked(*accept: str, language: str = "en") -> dict:
    return {"kind": "number", "options": [], "accept": list(accept), "refusal": False, "separators": separators(language)}


def _value(question: dict, typed: str):
    reading = read_answer(question, typed)
    return Fraction(reading["value"]["base"]) if reading["ok"] else reading["ask"]


# Expected figures worked by hand: 1 in = 25.4 mm, 1 lb = 0.45359237 kg.
@pytest.mark.parametrize(("accept", "typed", "value"), [
    (("in", "mm"), "3 1/8 in", Fraction("79.375")), (("in", "mm"), '3-1/8"', Fraction("79.375")),
    (("in", "mm"), "3 1/8″", Fraction("79.375")), (("in", "mm"), "1/2 in", Fraction("12.7")),
    (("mm", "m"), "2.4 m", Fraction(2400)), (("kg", "lb"), "84 lb", Fraction("38.10175908")), (("kg", "lb"), "38 kg", Fraction(38)),
    (("",), "4", Fraction(4)), (("",), "2.5", Fraction("2.5")), (("",), "2 1/2", Fraction("2.5")), (("",), " 13 ", Fraction(13)),
    (("deg",), "30 deg", Fraction(30)), (("deg",), "30°", Fraction(30)), (("deg",), "22.5 degrees", Fraction("22.5")),
    (("lbf", "N"), "1,234,567.5 N", Fraction("1234567.5")),
])
def test_what_is_typed_is_read(accept, typed, value):
    assert _value(_asked(*accept), typed) == value


@pytest.mark.parametrize(("typed", "degrees"), [
    ("90 °C", 90), ("+90 °C", 90), ("90°C", 90), ("90 C", 90), ("90 c", 90),
    ("90 degrees C", 90), ("90 degrees Celsius", 90), ("-20 °C", -20), ("\u221220 °C", -20), ("90.5 °C", Fraction("90.5")), ("+ 90 celsius", 90),
])
def test_a_temperature_is_read_as_people_write_it(typed, degrees):
    reading = read_answer(_asked("°C"), typed)
    assert reading["ok"] and Fraction(reading["value"]["base"]) == degrees and reading["shown"].endswith(" °C (degrees Celsius)")


@pytest.mark.parametrize(("typed", "asked"), [("90", "90 °C"), ("+90", "90 °C"), ("90 degrees", "90 °C"), ("90°", "90 °C"), ("-20", "-20 °C")])
def test_degrees_of_no_scale_are_asked_back(typed, asked):
    reading = read_answer(_asked("°C"), typed)
    assert not reading["ok"] and reading["ask"] == [asked]


@pytest.mark.parametrize("typed", ["90 °F", "90 F", "90 K", "90 mm", "++90", "warm", "9" * 13, "90 °C 80", "1e2 °C"])
def test_no_temperature_in_degrees_celsius_is_asked_again(typed):
    reading = read_answer(_asked("°C"), typed)
    assert not reading["ok"] and "degrees Celsius, such as 90 °C" in reading["shown"]


def test_a_temperature_typed_as_the_page_prints_it_is_marked_right():
    question, key = composed("warmest-for-the-piece", 1)
    right = str(int(Fraction(key["right"]["exact"])))
    assert question["unit"] == "°C" and "no unit" not in question["instruction"]
    for typed in (f"{right} °C", f"+{right} °C", f"{right} degrees Celsius"):
        assert mark(key, question, typed)["right"], typed
    assert not mark(key, question, f"{int(right) + 5} °C")["right"] and not mark(key, question, right)["right"]


@pytest.mark.parametrize(("typed", "other"), [("672 lbf", "kN"), ("2.98 kN", "lbf"), ("38.1 mm", " in"), ("84 lb", "kg"), ('3 1/8 in', "mm")])
def test_what_is_said_back_names_no_other_unit(typed, other):
    """672 lbf was said back with 2.99 kN, rounded to the nearest, where the page asks for it rounded down."""
    accept = next(row for row in (("lbf", "N", "kN"), ("mm", "in"), ("kg", "lb")) if typed.split()[-1] in row)
    said = read_answer(_asked(*accept), typed)["shown"]
    assert said.startswith(f"{typed} (") and other not in said


@pytest.mark.parametrize(("accept", "typed", "choices"), [
    (("lbf", "N"), "360", ["360 lbf", "360 N"]), (("kg", "lb"), "12", ["12 kg", "12 lb"]),
    (("lbf", "N"), "1,250 lbf", ["1250 lbf", "1.250 lbf"]), (("mm", "m"), "2,4 m", ["2.4 m"]), (("",), "2,5", ["2.5"]),
])
def test_what_is_ambiguous_is_asked(accept, typed, choices):
    assert _value(_asked(*accept), typed) == choices
    for choice in choices:
        assert read_answer(_asked(*accept), choice)["ok"], choice


@pytest.mark.parametrize(("accept", "typed"), [
    (("",), "4 crimps"), (("",), "4 mm"), (("",), "four"), (("",), "-4"), (("",), "4/0"), (("",), "9" * 13), (("",), "٣"), (("",), "1e3"),
    (("deg",), "30 rad"), (("deg",), "°"), (("deg",), "30 mm"), (("kg", "lb"), "30 N"), (("mm",), "1,2,3 mm"), (("mm",), "0x10 mm"),
])
def test_what_cannot_be_read_says_so(accept, typed):
    reading = read_answer(_asked(*accept), typed)
    assert not reading["ok"] and not reading["ask"] and "accepted: " in reading["shown"]


@pytest.mark.parametrize(("language", "typed", "value"), [
    ("de", "2,4 m", Fraction(2400)), ("de", "1.250,5 mm", Fraction("1250.5")), ("de", "2.4 m", Fraction(2400)),
    ("de", "1.250 mm", ["1250 mm", "1,250 mm"]), ("fr", "1 250,5 mm", Fraction("1250.5")), ("fr", "1 250 mm", Fraction(1250)),
    ("sv", "3 1/8 in", Fraction("79.375")), ("de", "3-1/8\"", Fraction("79.375")), ("de", "1.250.000 mm", Fraction(1250000)),
    ("de", "12,500.5 mm", None), ("en", "12,500.5 mm", Fraction("12500.5")),
])
def test_separators_go_by_the_shops_language(language, typed, value):
    assert _value(_asked("mm", "m", "in", language=language), typed) == value


def test_a_reading_is_said_in_the_languages_own_signs():
    assert read_answer(_asked("m", "mm", language="de"), "2,4 m")["shown"] == "2,4 m (metres)"


def test_a_question_carries_its_shops_separators_and_is_marked_by_them():
    stream = Stream(SECRET, "language")
    question, key = compose(draw(families()["cut-length"], stream, replace(shop(), language="de")), stream, 1)
    assert question["separators"] == {"decimal": ",", "thousands": "."}
    metres = f"{float(Fraction(key['right']['exact'])) / 1000:.3f} m".replace(".", ",")
    assert mark(key, question, metres)["right"]


@pytest.mark.parametrize("language", sorted(LANGUAGES))
def test_a_choice_that_is_asked_can_be_typed(language):
    for typed in ("1,250 m", "1.250 m", "12,5 m"):
        plain, choices = plain_figures(typed, separators(language))
        assert plain or choices
        values = [_value(_asked("mm", "m", language=language), choice) for choice in choices]
        assert all(isinstance(value, Fraction) for value in values) and len(set(values)) == len(values)


def test_a_paper_from_before_separators_is_still_read():
    question, key = composed("limit-of-an-eye", 3)
    old = {name: value for name, value in question.items() if name not in ("separators", "left", "boxes")}
    assert mark(key, old, key["right"]["shown"])["right"]


@pytest.mark.parametrize("typed, mm", [("17 cm", 170), ("17.25 cm", Fraction("172.5")), ("6⅝ in", Fraction("168.275"))])
def test_centimetres_count_where_millimetres_are_asked_and_fractions_in_one_sign(typed, mm):
    read = read_answer({"kind": "number", "accept": ["mm", "m", "in"]}, typed)
    assert read["ok"] and Fraction(read["value"]["base"]) == mm and read["value"]["unit"] in ("mm", "in")
    assert not read_answer({"kind": "number", "accept": ["m", "in"]}, "17 cm")["ok"]


def test_one_comma_is_asked_about_with_the_one_reading_there_is():
    read = read_answer({"kind": "number", "accept": ["mm"]}, "170,0 mm")
    assert read["ask"] == ["170.0 mm"] and "more than one way" not in read["shown"]


def test_a_bare_angle_is_read_in_degrees_the_one_unit_there_is():
    assert _value(_asked("deg"), "52") == 52


@pytest.mark.parametrize("typed", ["230 kg", "12 kilos", "3 t"])
def test_a_mass_where_a_force_is_asked_is_told_without_help(typed):
    found = read_answer(_asked("lbf", "N"), typed)
    assert not found["ok"] and not found["ask"] and "a mass; accepted: a figure in lbf, N" in found["shown"]
    assert "turned" not in found["shown"]


@pytest.mark.parametrize("typed", ["507 lbf", "507 N", "2.1 kN"])
def test_a_force_is_not_taken_for_a_mass(typed):
    assert read_answer(_asked("lbf", "N", "kN"), typed)["ok"]


@pytest.mark.parametrize("typed", ["507 lb", "507lbs", "507 pounds", "507 lb."])
def test_pounds_where_a_force_is_asked_are_asked_back_as_pounds_force(typed):
    found = read_answer(_asked("lbf", "N"), typed)
    assert not found["ok"] and found["ask"] == ["507 lbf"] and found["shown"].endswith("a mass; accepted: a figure in lbf, N; press 507 lbf if that is meant.")
    assert not read_answer(_asked("N", "kN"), typed)["ask"]


@pytest.mark.parametrize(("accept", "typed", "value"), [
    (("mm", "m"), "1826mm.", 1826), (("mm", "m"), "1826 mm,", 1826), (("mm", "m"), "182.6 cm.", 1826), (("in",), "1/2 in.,", Fraction("12.7")), (("in",), '1/2",', Fraction("12.7")),
    (("N", "kN"), "360N.", 360), (("kg",), "38 kg.", 38), (("deg",), "30 deg,", 30), (("deg",), "30°.", 30), (("°C",), "90 °C.", 90), (("",), "4.", 4), (("",), "4,", 4)])
def test_a_stop_or_a_comma_behind_the_answer_is_no_part_of_it(accept, typed, value):
    read = read_answer(_asked(*accept), typed)
    assert read["ok"] and Fraction(read["value"]["base"]) == value and read["value"]["typed"] == typed


@pytest.mark.parametrize("typed", ["4 crimps", "4 Crimps.", "4 crimp", "4crimps"])
def test_a_count_with_the_noun_that_is_asked_for_is_read_and_with_another_is_not(typed):
    for asked in ({"text": "The sleeves lie there. How many crimps is that?"}, {"label": "Crimps on one sleeve"}):
        read = read_answer({**_asked(""), **asked}, typed)
        assert read["ok"] and read["shown"] == "4" and read["value"]["base"] == "4" and read["value"]["typed"] == typed
        assert not read_answer({**_asked(""), **asked}, typed.lower().replace("crimp", "sleeve"))["ok"]


def test_a_count_with_its_noun_is_marked_like_the_figure_alone():
    question, key = composed("crimps-in-all", 1)
    assert mark(key, question, f"{key['right']['shown']} crimps")["right"] and not mark(key, question, f"{key['right']['shown']} sleeves")["right"]


@pytest.mark.parametrize("accept", [("lbf", "N", "kN"), ("mm", "m", "in"), ("kg",), ("deg",), ("°C",), ("",)])
def test_where_one_may_refuse_an_unreadable_answer_is_told_the_word(accept):
    for typed in ("no", "none", "refuze", "1.2.3", "5 furlongs"):
        told = read_answer({**_asked(*accept), "refusal": True}, typed)
        assert not told["ok"] and ", or the word refuse; " in told["shown"], typed
        assert "refuse;" not in read_answer(_asked(*accept), typed)["shown"]
    for typed in ("REFUSE!", "refused!", "'refuse'", "I refuse, ", "refuse."):
        assert read_answer({**_asked(*accept), "refusal": True}, typed)["value"] == {"refuse": True}, typed
        assert not read_answer(_asked(*accept), typed)["ok"]


@pytest.mark.parametrize("typed", ["5 ft", "5 furlongs", "no", "1,8,2 mm", "1826"])
def test_no_unit_is_named_that_the_question_does_not_name(typed):
    assert "cm" not in read_answer(_asked("mm", "m", "in"), typed)["shown"]


@pytest.mark.parametrize(("accept", "typed", "meant"), [
    (("N", "kN"), "1/3 kN", "0.333333 kN"), (("mm",), "1826", "1826 mm"), (("N",), "1 250 N", "1250 N"), (("°C",), "90", "90 °C"), (("mm",), "2,5 mm", "2.5 mm")])
def test_of_one_reading_nobody_is_asked_which(accept, typed, meant):
    told = read_answer(_asked(*accept), typed)
    assert told["ask"] == [meant] and told["shown"].endswith(f"; press {meant} if that is meant.") and "inches" not in told["shown"]


def test_centimetres_that_are_offered_are_named_as_accepted():
    found = read_answer(_asked("mm", "m", "in"), "66,8 cm")
    assert found["ask"] == ["66.8 cm"] and "accepted: a figure in mm, m, in, cm, a point" in found["shown"]
    assert read_answer(_asked("mm", "m", "in"), found["ask"][0])["value"]["plain"] == "668 mm"
    assert "cm" not in read_answer(_asked("m", "in"), "66,8 m")["shown"]


@pytest.mark.parametrize("language", list(LANGUAGES))
@pytest.mark.parametrize("accept", [("lbf", "N", "kN"), ("mm", "in"), ("kg",), ("deg",), ("°C",), ("",)])
def test_a_reading_that_would_be_refused_is_not_offered(accept, language):
    question = _asked(*accept, language=language)
    for figure in ("5600", "5,600", "5.600", "4,2", "4.2", "5 600", "1/3"):
        for form in ("{} lbf", "about {} lbf", "{} lbs", "about {} lbs", "{} klbf", "{} kN", "{}", "about {}", "{} mm", "{} pieces", "{} kg or so"):
            offered = read_answer(question, form.format(figure))["ask"] or []
            led = [read_answer(question, one) for one in offered]
            assert all(one["ok"] or one["ask"] for one in led), (form.format(figure), offered)


@pytest.mark.parametrize("typed", ["about 5600 lbf", "about 5,600 lbf", "4,2 klbf", "~5600 lbf"])
def test_more_than_a_figure_and_its_unit_is_told_in_one_sentence(typed):
    found = read_answer(_asked("lbf", "N"), typed)
    assert not found["ok"] and found["ask"] is None
    assert typed in found["shown"] and found["shown"].endswith("the figure and its unit alone.")
    told = read_answer(_asked("lbf", "N"), "4.2 klbf")
    assert not told["ok"] and told["ask"] is None and "accepted: lbf, N;" in told["shown"]


@pytest.mark.parametrize("typed, inches", [("8.7681 ft", Fraction("105.2172")), ("8 1/2 feet", 102), ("8'", 96)])
def test_feet_alone_are_read_as_the_inches_that_they_are_and_said_back(typed, inches):
    found = read_answer({"kind": "number", "accept": ["mm", "in"]}, typed)
    assert found["ok"] and found["value"]["unit"] == "in" and Fraction(found["value"]["base"]) == inches * Fraction("25.4")
    assert "(feet), that is" in found["shown"] and found["shown"].endswith(f"{float(inches):.12g} in")
    assert not read_answer({"kind": "number", "accept": ["mm"]}, typed)["ok"]
