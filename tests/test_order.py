"""The facts of an order: how long one may be."""

import pytest

from rigcalc._order import refuse_class
from rigcalc.assembly import Order
from rigcalc.errors import Refusal


def test_a_fact_is_one_line_of_at_most_300_signs():
    assert Order(what="x" * 300).what == "x" * 300
    with pytest.raises(Refusal, match="the fact what with 301 signs was given; accepted: one line of at most 300 signs"):
        Order(what="x" * 301)
    assert Order(what="a gate\nand a fence").what == "a gate and a fence"


# --- what the words of an order say, whatever its answers --------------------------------------------

STATIC = {"use": "nobody", "near": "nobody", "movement": "none"}


def said(**facts):
    with pytest.raises(Refusal) as refused:
        refuse_class(Order(**{**STATIC, **facts}))
    return str(refused.value)


@pytest.mark.parametrize("what", [
    "swing for the children", "hammock", "climbing net", "trapeze", "playground rope", "hanging chair", "a garden seat", "harness",
    "safety line", "an acrobat's wire", "zip line", "engine pulled up out of the car", "to pull a boat up", "raise the flag",
    "haul up a log", "hang up an engine", "lifts a hatch", "Trapezes", "tow rope", "pull-up bar", "guardrail", "handrail", "sling"])
@pytest.mark.parametrize("use", ["nobody", "people"])
def test_words_for_people_held_or_things_lifted_are_refused(what, use):
    assert "ask a qualified rigger or engineer" in said(what=what, where="garden", use=use)


@pytest.mark.parametrize("where", ["lift shaft", "on the hoist", "climbing wall", "playground", "at the sling"])
def test_a_place_with_strong_words_is_refused(where):
    assert "ask a qualified rigger or engineer" in said(what="a wire", where=where)


@pytest.mark.parametrize("what", ["dog run", "tether for a goat", "wire over a pulley"])
def test_what_moves_is_not_static(what):
    assert "enter --movement moves" in said(what=what, where="yard")
    assert refuse_class(Order(**{**STATIC, "what": what, "where": "yard", "movement": "moves"})) == "nobody"


@pytest.mark.parametrize("what, where", [
    ("stage lights above the audience", "theatre"), ("chandelier over a dining table", "house"), ("chandelier", "over the seats"),
    ("sign", "above the street"), ("lantern", "overhead, in the lane"), ("banner", "over the walkway"), ("lamp", "above visitors"),
    ("wire for the children", "garden"), ("disco ball", "ballroom"), ("shelf", "children under it"), ("sign", "over the door"), ("lamp over the chairs", "house")])
def test_words_that_put_people_there_contradict_nobody(what, where):
    assert "people can be there: enter --use people with the named designer's factor and load" in said(what=what, where=where)
    assert refuse_class(Order(**{**STATIC, "what": what, "where": where, "use": "people"})) == "people"


@pytest.mark.parametrize("what, where", [
    ("curtain over plant benches", "glasshouse"), ("trellis wire", "courtyard"), ("gate brace", "farm"), ("trellis", "raised beds"),
    ("shade cloth over a compost heap", "garden"), ("bird net line", "allotment"), ("trellis wire", "behind the sling store"),
    ("brace for a swing gate", "farm"), ("wire to hold up beans", "garden"), ("hanging basket", "wall"), ("swing-gate brace", "farm"), ("wire for climbing roses", "wall"), ("stay", "under the table"), ("stay", "lower rail")])
def test_plain_static_work_is_not_refused(what, where):
    assert refuse_class(Order(**{**STATIC, "what": what, "where": where})) == "nobody"


def test_several_wrong_answers_are_named_together():
    text = said(what="a wire", where="garden", movement="bit", load="12", length="long", quantity="few")
    assert text.startswith("Refused: 4 wrong answers at once (") and text.count("Refused:") == 1 and "\n" not in text
    for words in ("the movement 'bit'", "'12'", "'long'", "the quantity 'few'", "none, moves, shock, swung on"):
        assert words in text, words


def test_one_wrong_answer_is_refused_by_itself():
    assert said(what="a wire", where="garden", movement="bit").startswith("Refused: the movement 'bit' was given")


def test_a_use_for_people_with_nobody_near_is_asked_about():
    from rigcalc.assembly import missing_facts

    for near, asked in (("nobody", True), ("no one: fenced off", True), ("people walk below", False)):
        found = [question for question in missing_facts(Order(use="people", near=near)) if "(--near)" in question]
        assert bool(found) is asked
        assert not asked or f"near says '{near}'" in found[0] and found[0].count("?") == 1


def test_a_wrong_use_names_the_two_answers():
    assert "accepted: nobody or people;" in said(what="a wire", where="garden", use="people below")


@pytest.mark.parametrize("what, where, word", [
    ("banner", "atrium of a bank", "'atrium'"), ("shelf", "children under it", "'children'"), ("lamp over the chairs", "house", "'over' and 'chairs'"),
    ("flagpole stay", "field", "'flagpole'"), ("wire", "hung from the ceiling", "'ceiling'"), ("sign", "above the street", "'street'"),
    ("disco ball", "ballroom", "'disco ball'"), ("lamp", "above visitors", "'visitors'")])
def test_a_contradiction_names_the_very_word_that_made_it(what, where, word):
    text = said(what=what, where=where)
    assert f"the use nobody together with {word} was given" in text
