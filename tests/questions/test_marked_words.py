"""What is said of a marked answer: letters left out, lines of a match, and what may have been worked from a wrong box."""

from __future__ import annotations

import pytest

from rigcalc.questions import mark, read_answer
from rigcalc.questions.first_try import first_try
from rigcalc.questions.marking import NO_SLIP, mark_letters
from rigcalc.questions.typed import right_typed

from a_family import pairs

SLIPS = [{"id": one, "letter": one, "letters": sorted({"A", "E"} ^ {one}), "feedback": said} for one, said in (("E", "It holds."), ("F", "It slips."))]


@pytest.mark.parametrize("chosen, told", [
    (["A"], "You left out E: It holds."), (["A", "E", "F"], "F does not belong: It slips."),
    (["A", "F"], "F does not belong: It slips. You left out E: It holds."), (["E"], "You left out A."),
    (["A", "B", "C", "E"], "B, C do not belong.")])
def test_a_set_with_a_fault_names_its_letters_and_what_is_wrong_with_them(chosen, told):
    assert mark_letters("several choices", ["A", "E"], SLIPS, chosen)["feedback"] == f"Not right. {told}"


@pytest.mark.parametrize("row, told", [
    (["A", "C", "B", "D"], "2 of the 4 lines have the letters that belong to them; lines 2, 3 have not."),
    (["A", "A", "A", "A"], "1 of the 4 lines has the letter that belongs to it; lines 2, 3, 4 have not."),
    (["A", "B", "C", "A"], "3 of the 4 lines have the letters that belong to them; line 4 has not."),
    (["D", "A", "D", ""], "None of the 4 lines has the letter that belongs to it.")])
def test_a_match_names_the_lines_that_are_not_right(row, told):
    assert mark_letters("match", ["A", "B", "C", "D"], [], row)["feedback"] == f"Not right. {told}"


def test_an_exercise_tells_a_first_wrong_match_how_many_and_not_which():
    key = {"right": {"row": ["A", "B", "C"]}, "missteps": []}
    question = {"kind": "match", "left": ["one", "two", "three"], "options": [{"letter": one} for one in "ABC"]}
    assert first_try(key, question, ["A", "C", "B"], []) == (
        "Not right. 1 of the 3 lines has the letter that belongs to it. Try once more; after that you are told which lines are not right.")
    assert first_try(key, question, ["A", "C", "B"], ["a-whole-row"]) == first_try(key, question, ["B", "C", "A"], []) == ""


@pytest.fixture(scope="module")
def sheet():
    """A sheet of three boxes of figures with its key, and its right answer."""
    question, key = pairs("limit-in-three-boxes", 3)[0]
    assert all(box["kind"] == "number" for box in question["boxes"])
    return question, key, right_typed(question, key)


def test_a_later_wrong_box_that_follows_from_the_earlier_one_is_told_so(sheet):
    question, key, right = sheet
    told = mark(key, question, [" 770000 lbf", "693000 lbf", "999999 lbf"])
    said = [box["feedback"] for box in told["boxes"]]
    assert said == [f"Not right. {NO_SLIP}", "Not right. This follows from 770000 lbf above: put that right first, then this.", f"Not right. {NO_SLIP}"]
    assert told["feedback"].count("lbf above") == 1
    assert NO_SLIP in mark(key, question, ["777777 lbf", "888888 lbf", right[2]])["boxes"][1]["feedback"]
    assert NO_SLIP in mark(key, question, [right[0], "888888 lbf", right[2]])["boxes"][1]["feedback"]
    assert NO_SLIP in mark(key, question, ["", "888888 lbf", right[2]])["boxes"][1]["feedback"]


def test_a_named_slip_after_a_wrong_box_keeps_its_own_words(sheet):
    question, key, right = sheet
    slip = next(slip for slip in key["boxes"][2]["missteps"] if slip["exact"] != "refuse")
    told = mark(key, question, ["777777 lbf", right[1], _shown(key["boxes"][2], slip)])
    assert told["boxes"][2]["missteps"] and slip["feedback"] in told["feedback"]


def _shown(own, slip):
    from rigcalc.questions.typed import misstep_typed
    return misstep_typed({}, own | {"kind": "number"}, slip)


def test_a_box_that_cannot_be_read_is_not_said_to_be_empty(sheet):
    question, key, right = sheet
    told = mark(key, question, [right[0], "some", ""])
    assert "'some' was given" in told["boxes"][1]["feedback"] and told["boxes"][2]["feedback"] == "Nothing was filled in."


@pytest.mark.parametrize("typed, accept", [("5 kg", ["mm", "m", "in"]), ("5 mm", ["lbf", "N"]), ("5 yards", ["kg", "lb"])])
def test_what_cannot_be_read_names_the_units_that_the_question_names(typed, accept):
    told = read_answer({"kind": "number", "accept": accept, "refusal": False}, typed)
    assert not told["ok"] and f"accepted: {', '.join(accept)}; " in told["shown"]


@pytest.mark.parametrize("row, words", [
    ("DCBA", "read backwards"), ("ACBD", "changed round"), ("ABDC", "changed round"), ("DABC", "No usual slip"), ("ADBC", "No usual slip")])
def test_an_order_that_no_misstep_gives_is_told_what_is_amiss_and_no_place(row, words):
    told = mark_letters("order", list("ABCD"), [], list(row))
    assert not told["right"] and words in told["feedback"] and told["feedback"].startswith("Not right. ")


def test_a_row_that_begins_right_is_told_how_far():
    assert "The first 3 stand right" in mark_letters("order", list("ABCDEF"), [], list("ABCFDE"))["feedback"]
    assert "nothing was put in order" in mark_letters("order", list("DACB"), [], list("ABCD"))["feedback"]
    assert mark_letters("order", list("ABC"), [{"row": list("ACB"), "id": "other", "feedback": "Other."}], list("ACB"))["feedback"] == "Not right. Other."
