"""Every family: drawn by the hundred, none degenerate, enough different papers, each misstep told."""

from __future__ import annotations

import re
from copy import deepcopy
from dataclasses import replace
from fractions import Fraction

import msgspec
import pytest
from a_family import SECRET, composed, families, ids, pairs, shop
from many import many

from rigcalc.questions import Stream, compose, draw, mark, read_answer
from rigcalc.questions.report import FEWEST, shown, twins
from rigcalc.questions.simulated import guesses_told, missteps_told
from rigcalc.questions.typed import misstep_typed, right_typed, slips_of

SOME = many(15, 25)  # draws in which every misstep is typed


@pytest.mark.parametrize("family", ids())
def test_enough_different_questions_or_the_trades_reason(family):
    texts = {shown(question) for question, _ in pairs(family)}
    if len(texts) < FEWEST:
        texts = {shown(question) for question, _ in pairs(family, 100)}
    if len(texts) < FEWEST:
        assert families()[family].few_texts, f"{len(texts)} texts and no reason given in few_texts"


@pytest.mark.parametrize("family", ids())
def test_the_right_answer_is_marked_right_and_no_gap_is_left(family):
    for question, key in pairs(family)[:30]:
        told = mark(key, question, right_typed(question, key))
        assert told["right"] and told["missteps"] == [] and told["share"] == 1, (question["text"], key["right"])
        for text in (question["text"], question["chart"] or "", key["hint"], key["working"]):
            assert "{" not in text and "$" not in text
            assert not re.search(r"[a-z:] None\b", text)  # a sentence may begin with None, a figure may not be it


@pytest.mark.parametrize("family", ids())
def test_no_draw_is_degenerate(family):
    """No two options, lines or boxes read alike, every letter is there once, every misstep says something of its own.

    Two missteps may give one figure: test_told_apart.py.
    """
    silent = 0
    for question, key in pairs(family):
        for asked in [question, *question["boxes"]]:
            texts = [one["text"].strip().lower() for one in asked["options"]]
            assert len(set(texts)) == len(texts) and all(texts)
            letters = [one["letter"] for one in asked["options"]]
            assert len(set(letters)) == len(letters)
        assert len(set(question["left"])) == len(question["left"])
        for own in [key, *key.get("boxes", [])]:
            silent += not own.get("boxes") and not own["missteps"]
            answers = [str([slip.get(name) for name in ("letter", "letters", "row")]) for slip in own["missteps"] if "exact" not in slip]
            assert len(set(answers)) == len(answers)
    assert silent <= len(pairs(family)) / 10, f"{silent} draws without any misstep"


def _shape(text: str) -> tuple[str, int | None]:
    """What stands round the first figure of an option, and how many decimals that figure has."""
    found = re.match(r"([0-9]+(?:\.([0-9]+))?)(?![0-9]*/)\s*([A-Za-z%°]*)", text)
    return (found[3], len(found[2] or "")) if found else ("", None)


@pytest.mark.parametrize("family", ids("one choice"))
def test_options_that_are_figures_share_unit_and_rounding(family):
    for question, _ in pairs(family):
        shapes = {shape for shape in (_shape(one["text"]) for one in question["options"]) if shape[1] is not None}
        assert len(shapes) <= 1, [one["text"] for one in question["options"]]


def test_options_of_two_roundings_are_found():
    assert _shape("3.5 mm") != _shape("3.50 mm") != _shape("3.50 in") and _shape("1/8 in")[1] is None


@pytest.mark.parametrize("family", [name for name in ids() if families()[name].kind not in ("number", "sheet")])
def test_each_wrong_option_or_row_tells_its_misstep(family):
    for question, key in pairs(family)[:30]:
        for name, box, slip in slips_of(key):
            told = mark(key, question, misstep_typed(question, key, slip, box))
            assert not told["right"] and told["share"] < 1
            assert name in told["missteps"] and slip["feedback"] in told["feedback"]
            assert told["section"] == slip.get("section", families()[family].section)


@pytest.mark.parametrize("family", ids("number") + ids("sheet"))
def test_a_misstep_typed_in_any_unit_is_told(family):
    """A simulated person makes each misstep, rounds, and types it in every accepted unit: 95 % are told that one."""
    found = missteps_told(pairs(family)[:SOME])
    assert found.tried >= SOME / 2 and found.share >= 0.95, f"{found.told} of {found.tried}"
    assert families()[family].kind == "sheet" or found.most <= 2


@pytest.mark.parametrize("family", ids("number") + ids("sheet") + ids("match"))
def test_of_random_wrong_answers_few_are_told_a_misstep(family):
    found = guesses_told(pairs(family)[:SOME], Stream(SECRET, "guesses"))
    assert not found.tried or found.share <= 0.10, f"{found.told} of {found.tried}"


def test_a_misstep_that_is_not_told_is_found():
    """Planted: the key forgets its missteps' figures."""
    made = deepcopy(pairs("limit-of-an-eye")[:SOME])
    for _, key in made:
        for slip in key["missteps"][1:]:
            slip["exact"] = str(Fraction(slip["exact"]) * Fraction(11, 10))
    typed = [(question, dict(key, missteps=old["missteps"])) for (question, key), (_, old) in
             zip(made, pairs("limit-of-an-eye"), strict=False)]
    assert missteps_told(typed).share >= 0.95
    told = sum(slip["id"] in mark(new, question, misstep_typed(question, old, slip))["missteps"]
               for (question, new), (_, old) in zip(made, typed, strict=True) for slip in old["missteps"])
    assert told < 0.95 * sum(len(key["missteps"]) for _, key in made)


def test_no_two_families_share_calculation_drawn_fields_and_missteps():
    assert twins(families().values()) == []
    one = families()["cut-length"]
    assert twins([one, msgspec.structs.replace(one, id="another", hint={"en": "x"})]) == [("cut-length", "another")]


def test_the_known_missteps_of_the_base_case():
    """1/8 7x19 galvanised, 2000 lbf, 0.90, factor 5. Expected: AC 43.13-1B Table 7-3 (2000 lbf), and worked by hand."""
    family = families()["limit-of-an-eye"]
    for number in range(1000, 4000):  # such a one came at 1100; from 0 it takes eleven times as long to come by it
        stream = Stream(SECRET, f"base {number}")
        drawn = draw(family, stream, shop())
        cable = drawn.values["cable"]
        if (cable["size"], cable["metal"], drawn.values["factor"]["value"], drawn.values["part"]) == ("1/8", "galvanised", 5, 1):
            break
    question, key = compose(drawn, stream, 1)
    assert mark(key, question, "360 lbf")["right"]
    for typed, misstep in (("400 lbf", "efficiency-left-out"), ("9000 lbf", "multiplied-by-the-factor"),
                           ("324 lbf", "efficiency-squared"), ("444 lbf", "divided-by-efficiency"),
                           ("316 lbf", "other-metal")):
        told = mark(key, question, typed)
        assert not told["right"] and told["missteps"] == [misstep], typed
    assert mark(key, question, "361 lbf")["missteps"] == []


def test_a_limit_rounded_up_is_wrong_and_told():
    """3/32 stainless: 920 lbf x 0.90 / 5 = 165.6, so 165 is right, 166 and 170 are rounded up. Worked by hand."""
    for number in range(4000):
        stream = Stream(SECRET, f"rounding {number}")
        drawn = draw(families()["limit-of-an-eye"], stream, shop())
        cable = drawn.values["cable"]
        if (cable["size"], cable["metal"], drawn.values["factor"]["value"], drawn.values["part"]) == ("3/32", "stainless", 5, 1):
            break
    assert drawn.text.count("920 lbf") == 1
    question, key = compose(drawn, stream, 1)
    assert mark(key, question, "165 lbf")["right"] and "rounded down" in question["tolerance"]
    assert mark(key, question, "166 lbf")["missteps"] == ["rounded-up"]
    assert mark(key, question, "170 lbf")["missteps"] == ["rounded-up-to-a-round-figure"]
    assert not mark(key, question, "165.6 lbf")["right"]


def test_the_cut_list_of_the_cafe():
    """2400 - 60 + 2 (70 + 15 + 7) = 2524 mm, worked by hand; one tail forgotten is 7 mm short."""
    family = families()["cut-length"]
    for number in range(20000):
        stream = Stream(SECRET, f"cafe {number}")
        drawn = draw(family, stream, shop())
        if (drawn.values["thimble"]["size"], drawn.values["pin_to_pin"], drawn.values["tail"]) == ("1/8", 2400, 7):
            break
    question, key = compose(drawn, stream, 1)
    assert mark(key, question, "2524 mm")["right"] and mark(key, question, "2.524 m")["right"]
    assert mark(key, question, "99 3/8 in")["right"]
    told = mark(key, question, "2517 mm")
    assert told["missteps"] == ["one-tail-forgotten"] and "one tail" in told["feedback"]
    assert mark(key, question, "2510 mm")["missteps"] == ["both-tails-forgotten"]


def test_neither_table_nor_certificate_means_refuse():
    seen = set()
    for number in range(150):
        question, key = composed("lower-of-table-and-certificate", number)
        if key["right"]["exact"] == "refuse":
            seen.add("refuse")
            assert "refuse" not in mark(key, question, "3 lbf")["feedback"]  # the page says it before the answer; after one it would give it away
            assert mark(key, question, "Refuse")["right"]
            force = key["values"]["cable"]["breaking_force_n"]
            assert mark(key, question, f"{force:.0f} N")["missteps"] == ["metric-taken-as-inch"]
        else:
            seen.add("figure")
            assert mark(key, question, "refuse")["missteps"] == ["refused-what-can-be-stated"]
        assert question["refusal"]
    assert seen == {"refuse", "figure"}


def test_a_reading_over_flats_or_coat_names_no_size():
    seen = set()
    for number in range(200):
        _, key = composed("size-from-a-reading", number)
        how = key["values"]["case"]["how"]
        if how != "across the crowns":
            assert key["right"]["shown"] == "none can be named from this reading"
        seen.add((how, key["right"]["shown"].startswith("none")))
    assert ("across the crowns", True) in seen and ("across the crowns", False) in seen and len(seen) >= 4


@pytest.mark.parametrize("family", ids())
def test_a_shop_in_si_asks_and_marks_in_its_own_units(family):
    si = replace(shop(), system="SI")
    for number in range(many(6, 15)):
        stream = Stream(SECRET, f"SI {family} {number}")
        question, key = compose(draw(families()[family], stream, si), stream, 1)
        assert mark(key, question, right_typed(question, key))["right"]
        assert question["unit"] in (None, "mm", "m", "N", "kN", "kg", "deg", "°C", "")
        assert not re.search(r"lbf \[", question["text"])


@pytest.mark.parametrize("typed", ["117 in", "9' 9\"", "9 ft 9 in", "2.97 m"])
def test_what_is_only_too_coarse_is_no_misstep(typed):
    """2974 mm is 117.09 in: 117 in is the right figure typed coarsely, and nobody is told of a tail forgotten."""
    family = families()["cut-length"]
    stream = Stream(SECRET, "coarse")
    question, key = compose(draw(family, stream, shop()), stream, 1)
    key["right"] |= {"exact": "2974", "shown": "2974 mm"}
    near = Fraction("2971.7")  # a misstep that 117 in fits does not beat the right figure
    key["missteps"] = [dict(slip, exact=str(near)) for slip in key["missteps"][:1]]
    told = mark(key, question, typed)
    assert not told["right"] and told["missteps"] == []
    assert told["feedback"] == "Not right. Your sum may be right, but that is too coarse: give it within 1 mm."
    assert mark(key, question, "117.1 in")["right"] and mark(key, question, "2971.7 mm")["missteps"]
    for beyond in ("116 in", "117 1/4 in"):
        assert "too coarse" not in mark(key, question, beyond)["feedback"]


@pytest.mark.parametrize("typed", ["refuse", "Refuse it", "I refuse it.", "i  refuse", "refused"])
def test_refusing_is_read_in_its_usual_words(typed):
    question, _ = composed("limit-of-an-eye", 3)
    assert read_answer({**question, "refusal": True}, typed)["value"] == {"refuse": True}


def test_what_cannot_be_read_says_so_and_keeps_what_is_accepted():
    for family in ids():
        question, _ = composed(family, 3)
        for typed in ("plenty", "", None, "9" * 99, ["A"] * 40):
            said = read_answer(question, typed)["shown"]
            assert said.startswith("Cannot be read: ") and "accepted: " in said and "Refused" not in said


def test_reading_is_shown_before_it_counts():
    question, _ = composed("limit-of-an-eye", 3)
    assert read_answer(question, "360 lbf")["shown"] == "360 lbf (pounds-force)"
    asked = read_answer(question, "360")
    assert not asked["ok"] and "360 lbf" in asked["ask"]
    assert not read_answer(question, "163 kg")["ok"]
