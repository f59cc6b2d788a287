"""Slips that learners made and that were told by nothing, or by the wrong thing: each is told for what it is. Figures worked by hand."""

from __future__ import annotations

from fractions import Fraction

import pytest
from a_family import SECRET, composed, families, instance, shop

from rigcalc.questions import Stream, compose, draw, mark


def found(family: str, wanted):
    """(values, question, key) of the first draw that is wanted."""
    for number in range(3000):
        stream = Stream(SECRET, f"usual slips {family} {number}")
        made = draw(families()[family], stream, shop())
        if wanted(made.values):
            return made.values, *compose(made, stream, 1)
    raise AssertionError(f"{family}: not drawn")


@pytest.mark.parametrize("family, wanted, typed, misstep, says", [
    ("wires-in-all", lambda v: v["name"] == "3x7", "28", "middle-strand-added", "counts every strand there is: 3"),
    ("metric-by-the-factor", lambda v: (v["pair"]["mm"], v["grade"]) == (6, 1960), "25543 N", "rounded-up", "A strength is rounded down"),  # 0.362 × 36 × 1960 = 25542.72
    ("limit-with-clips", lambda v: (v["made"]["size"], v["job"]["value"]) == ("3/32", 5), "180 lbf", "share-of-a-sleeve-without-a-row", "no row of clips for 3/32"),
    ("limit-with-clips", lambda v: (v["made"]["size"], v["job"]["value"]) == ("3/32", 5), "200 lbf", "no-share-and-no-row", "no row of clips for 3/32"),
    ("clip-spacing", lambda v: v["made"]["size"] == "3/16", "57.2 mm", "spacing-of-three-eighths", "the spacing for 3/8"),
    ("clip-spacing", lambda v: v["made"]["size"] == "3/16", "19.1 mm", "spacing-of-an-eighth", "the first row of the table"),
    ("pulls-without-a-failure", lambda v: (v["row"]["r"], v["row"]["c"], v["held"]) == (0.95, 0.90, 8), "59", "row-beside-and-nothing-taken-off", "95 % / 95 %"),
    ("pulls-without-a-failure", lambda v: (v["row"]["r"], v["row"]["c"], v["held"]) == (0.95, 0.90, 8), "51", "row-beside", "95 % / 95 %"),
    ("half-or-twice-as-thick", lambda v: not v["page"]["whole"] and (v["pair"]["wanted"], v["metal"]) == ("1/8", "stainless"), "1760 lbf", "stated-without-a-row",
     "in this question does not reach 1/8"),
])
def test_a_usual_slip_is_told(family, wanted, typed, misstep, says):
    _, question, key = found(family, wanted)
    told = mark(key, question, typed)
    assert told["missteps"] == [misstep] and says in told["feedback"]


def test_slips_of_sums_on_drawn_figures_are_told():
    values, question, key = found("mass-of-the-wires", lambda v: True)
    told = mark(key, question, f"{values['count'] * values['metres'] * values['per_100m']:.0f} kg")
    assert told["missteps"] == ["not-divided-by-100-m"]
    values, question, key = found("left-on-the-reel", lambda v: True)
    assert mark(key, question, f"{values['left'] + values['trial'] * values['kerf']} mm")["missteps"] == ["cut-of-the-trial-forgotten"]
    _, question, key = found("warmest-for-the-piece", lambda v: True)
    assert mark(key, question, "-30 °C")["missteps"] == ["cold-end-of-the-range"]
    values, question, key = found("cut-length", lambda v: "bird net" in v["job"])
    added = Fraction(key["right"]["exact"]) + 4 * Fraction(values["thimble"]["bearing_to_sleeve_mm"])
    assert "bearing-added" in mark(key, question, f"{float(added)} mm")["missteps"]
    values, question, key = found("load-at-mid-span", lambda v: True)
    assert mark(key, question, f"{2 * values['tension_n']:.0f} N")["missteps"] == ["whole-load-over-the-sine"]


def test_what_is_read_again_of_lesson_02_is_in_lesson_02():
    for family in ("limit-in-kilograms", "metric-by-the-factor", "mass-of-the-wires"):
        question, key = composed(family, 0)
        assert {slip.get("section", key["section"])[:2] for slip in key["missteps"]} == {"02"}


def test_worked_answers_print_their_sums():
    proof = found("proof-load-by-procedure", lambda v: v["limit_said"] == "1920 lbf")[2]["working"]
    assert "Twice 1920 lbf is 3840 lbf" in proof
    values, _, key = found("lots-by-what-they-show", lambda v: True)
    assert key["working"].count(" is about ") == 4 and values["bounds"] in key["working"]
    values, _, key = found("leg-that-hangs-loose", lambda v: (v["apart_mm"], v["shorter"]) == (1500, 1200))
    assert "1500 × 1500 + 1200 × 1200 is 1921 mm" in key["working"]  # the root of 3 690 000
    key = found("angle-from-the-horizontal", lambda v: v["angle"] == 80)[2]
    assert "90 − 80 = 10" in key["working"] and "half of 80 is 40, and 90 − 40 = 50" in key["working"]
    key = found("lower-of-table-and-certificate", lambda v: v["case"]["certificate"] == 0 and v["case"]["table"] == 1)[2]
    assert "One speaks, the table, and its figure counts. So: " in key["working"] and "refuse" not in key["working"]


@pytest.mark.parametrize("typed", ["{} pcs", "{} pc", "{} pcs.", "{} pieces"])
def test_pieces_are_read_however_they_are_shortened(typed):
    question, key = composed("pieces-to-press", 0)
    assert mark(key, question, typed.format(key["right"]["shown"]))["right"]
    assert not mark(key, question, f"{key['right']['shown']} kg")["right"]


def test_one_line_of_a_tag_stands_once_and_metres_are_shown_in_metres():
    for number in range(6):
        options = [one.text for one in instance("lines-of-a-tag", number).options]
        assert sum("imit" in one and "straight pull only" in one for one in options) < 2
    _, key = composed("complete-the-cut-on-a-sheet", 0)
    whole = key["boxes"][2]["right"]["shown"]
    assert whole.endswith(" m") and whole in key["working"]


def test_an_angle_without_its_unit_is_read_and_the_page_says_so():
    made = instance("angle-from-the-horizontal", 0)
    assert "here the unit may be left out" in made.instruction
