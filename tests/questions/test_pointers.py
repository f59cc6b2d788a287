"""Where a wrong answer is sent to read again: the section that is about its own misstep."""

from __future__ import annotations

import pytest
from a_family import pairs

from rigcalc.questions import mark
from rigcalc.questions.family import FamilyError, families_folder, read_family
from rigcalc.questions.typed import misstep_typed, right_typed, slips_of


def _told(family: str, misstep: str) -> str:
    """The section told for a misstep, in the first draw in which it is told alone."""
    for question, key in pairs(family):
        for name, box, slip in slips_of(key):
            found = mark(key, question, misstep_typed(question, key, slip, box)) if name == misstep else {"missteps": []}
            if found["missteps"] == [misstep]:
                return found["section"]
    raise AssertionError(f"{family} never tells {misstep} alone")


@pytest.mark.parametrize(("family", "misstep", "section"), [
    ("limit-from-a-coated-reel", "bend-taken-off-the-eye", "09#pin-and-eye"),
    ("limit-from-a-coated-reel", "coat-taken-as-size", "08#core-and-coat"),
    ("limit-from-a-coated-reel", "factor-left-out", "09#from-breaking-force-to-limit"),
    ("tighten-load-tighten", "thimble-clip-first", "04#saddle-side"),
    ("tighten-load-tighten", "loaded-before-the-torque", "04#torque-and-where-not"),
    ("re-use", "files-to-pass", "07#what-is-done-with-a-reject"),
    ("re-use", "warms-it", "07#no-second-life"),
    ("out-or-stay", "short-tail-showing", "07#what-the-gauge-cannot-see")])
def test_a_misstep_is_sent_to_the_section_that_is_about_it(family, misstep, section):
    assert _told(family, misstep) == section


@pytest.mark.parametrize(("misstep", "section"), [
    ("breaking-force: higher-of-the-two", "02#table-and-certificate"),
    ("limit: efficiency-left-out", "09#from-breaking-force-to-limit"), ("limit: rounded-up", "09#rounding-a-limit-down")])
def test_a_box_of_a_sheet_has_a_section_for_its_missteps(misstep, section):
    assert _told("complete-the-limit-on-a-sheet", misstep) == section


def test_an_answer_that_no_misstep_gives_is_sent_to_the_familys_section():
    question, key = pairs("complete-the-limit-on-a-sheet")[0]
    assert mark(key, question, right_typed(question, key))["section"] == mark(key, question, "")["section"] == "12#sheet-and-tag"


@pytest.mark.parametrize(("family", "old", "new", "field"), [
    ("limit-of-an-eye", 'id = "rounded-up"\nsection = "09#rounding-a-limit-down"', 'id = "rounded-up"\nsection = "09#roundings"', r"misstep.\d.section"),
    ("re-use", 'section = "07#what-is-done-with-a-reject"', 'section = "07#rejects"', r"wrong.\d+.section"),
    ("out-or-stay", 'section = "07#what-the-gauge-cannot-see"', 'section = "07#tails"', r"pools.pieces.\d+.section"),
    ("sheet-of-a-brace", 'section = "09#weakest-link"', 'section = "09#weakest"', r"box.\d.section")])
def test_a_misstep_that_points_nowhere_is_refused(tmp_path, family, old, new, field):
    text = (families_folder() / f"{family}.toml").read_text(encoding="utf-8")
    assert old in text
    path = tmp_path / f"{family}.toml"
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(FamilyError, match=rf"line \d+, field ({field}): .*which no lesson has or owes"):
        read_family(path)
