"""The live figure: states, acts, refusals, what a page may send it, and what stands there without a kernel."""

from __future__ import annotations

import pytest

from rigcalc.errors import Refusal
from rigcalc.figures import Figure
from rigcalc.notebook.board import Board, Control, Said, View, amount, button, choice, pick, slider, tick

ALT = "a square with a round spot that can be pointed at"


def shown(state: dict) -> View:
    if state["size"] == "7/64":
        raise Refusal("the size 7/64", "3/32 or 1/8", "choose one")
    spot = pick("<circle r='4'/>", "spot", "a <b>", 'the "round" spot', on=bool(state.get("spot")))
    return View((Figure(f"<svg xmlns='http://www.w3.org/2000/svg'>{spot}</svg>", ALT),),
                (choice("size", "Size", ("1/8", "7/64"), state["size"]), slider("tail", "Tail", 0, 3, 0.5, state["tail"], f"{state['tail']} d"),
                 amount("typed", "Typed", state.get("typed", ""), "a length"), button("go", "Go on"), tick("gloves", "Gloves", state.get("gloves", False))),
                (Said(f"{state['size']}, {state['tail']} d"),))


def board() -> Board:
    return Board("Try it", {"size": "1/8", "tail": 1.0}, shown)


def test_an_act_of_the_page_sets_the_state_and_shows_it():
    one = board()
    one.hear({"name": "tail", "value": 2.5})
    assert one.state["tail"] == 2.5 and one.view["said"] == [{"text": "1/8, 2.5 d", "tone": ""}] and one.view["turn"] == 1


def test_a_choice_is_sent_by_its_place_and_given_by_its_value():
    one = board()
    one.hear({"name": "size", "value": 1})
    assert one.state["size"] == "7/64"


@pytest.mark.parametrize("told", [
    {"name": "size", "value": 2}, {"name": "size", "value": "1/8"}, {"name": "nothing", "value": 1}, {"name": "spot", "value": "elsewhere", "picked": True},
    {"name": "spot", "value": "a <b>"},
    {"value": 1}, "tail", {"name": 3}])
def test_what_the_page_does_not_offer_changes_nothing(told):
    one = board()
    one.hear(told)
    assert one.state == {"size": "1/8", "tail": 1.0} and one.view["turn"] == 0


def test_a_part_of_the_drawing_is_pointed_at_by_its_value():
    one = board()
    assert "&lt;b&gt;" in one.view["figures"][0]["svg"] and "data-on" not in one.view["figures"][0]["svg"]
    one.hear({"name": "spot", "value": "a <b>", "picked": True})
    assert one.state["spot"] == "a <b>" and 'data-on="1"' in one.view["figures"][0]["svg"]


def test_a_part_may_share_its_name_with_a_choice():
    def show(state):
        spots = "".join(pick("<circle r='4'/>", "place", letter, f"place {letter}", on=state["place"] == letter) for letter in "AB")
        return View((Figure(f"<svg>{spots}</svg>", ALT),), (choice("place", "Place", ("A", "B"), state["place"]),))

    one = Board("Point", {"place": "A"}, show)
    one.hear({"name": "place", "value": "B", "picked": True})
    assert one.state["place"] == "B"
    one.hear({"name": "place", "value": 0})
    assert one.state["place"] == "A"


def test_a_view_that_refuses_keeps_its_controls_and_says_why():
    one = board()
    one.act_of("size", "7/64")
    assert not one.view["figures"] and one.view["said"][0]["tone"] == "no" and "3/32 or 1/8" in one.view["said"][0]["text"]
    assert [control["name"] for control in one.view["controls"]] == ["size", "tail", "typed", "go", "gloves"]
    one.act_of("size", "1/8")
    assert one.view["figures"]


def test_controls_of_a_view_that_refuses_stand_where_the_hand_put_them():
    def show(state):
        if state["size"] == "7/64" or state["tail"] > 3:
            raise Refusal("a size without a row", "a row's size", "choose another")
        return View((), (choice("size", "Size", ("1/8", "7/64"), state["size"]), slider("tail", "Tail", 0, 5, 0.5, state["tail"], "1 mm"),
                         tick("gloves", "Gloves", state["gloves"]), amount("typed", "Length", state["typed"])))

    one = Board("Refused", {"size": "1/8", "tail": 1.0, "gloves": False, "typed": ""}, show)
    one.act_of("size", "7/64")
    for name, value in (("tail", 4.5), ("gloves", True), ("typed", "3 in")):
        one.act_of(name, value)
    assert [control["value"] for control in one.view["controls"]] == [1, 4.5, True, "3 in"]


def test_many_options_stand_in_a_list_only_where_a_line_holds_each():
    short, long = [f"place {number}" for number in range(7)], ["a line that no list shows whole on a narrow screen, since it goes on and on", *"abcdef"]
    assert dict(choice("a", "A", short, short[0]).more)["listed"] and not dict(choice("a", "A", long, long[0]).more)["listed"]


def test_a_step_that_refuses_leaves_the_state_as_it_was():
    def step(state, name, value):
        raise Refusal("a fourth clip", "three", "take it off")

    one = Board("Fit the clips", {"size": "1/8", "tail": 1.0}, shown, step)
    one.act_of("go")
    assert one.state == {"size": "1/8", "tail": 1.0} and one.view["figures"]
    assert [said["tone"] for said in one.view["said"]] == ["no", ""]


def test_the_same_act_twice_reaches_the_page_twice():
    one = board()
    one.act_of("tail", 1.0)
    one.act_of("tail", 1.0)
    assert one.view["turn"] == 2


def test_words_stand_for_the_board_on_paper_and_without_a_kernel():
    one = board()
    lines = repr(one).splitlines()
    assert lines[0] == "Explorer: Try it." and f"Drawing: {ALT}" in lines and "Control: Tail: 1.0 d" in lines
    data, _ = one._repr_mimebundle_()
    assert data["text/plain"] == repr(one) and ALT in data["text/html"] and "<script" not in data["text/html"]


@pytest.mark.parametrize("make", [
    lambda: choice("a", "A", (), None), lambda: choice("a", "A", (("x", 1), ("y", 1)), 1), lambda: choice("a", "A", ("x",), "z"),
    lambda: slider("a", "A", 0, 1, 1, 2, "2"), lambda: View(controls=(button("a", "A"), button("a", "B"))),
    lambda: View(controls=(Control("dial", "a", "A"),)), lambda: View(said=(Said("x", "loud"),))])
def test_a_board_that_cannot_be_is_an_error(make):
    with pytest.raises(ValueError):
        make()
