"""A live figure's slider in a hand: values that come back late do not move the handle that the hand holds."""

from __future__ import annotations

import json
from importlib.resources import files

import pytest

SCRIPT = files("rigcalc.notebook").joinpath("board.js").read_text(encoding="utf-8")

# The other side answers every move with what `answer` makes of it, `late` milliseconds after it was sent.
PAGE = """<!doctype html><html lang="en"><head><meta charset="utf-8"><title>board</title></head><body><div id="here"></div><script type="module">
import board from "/board.js";
const view = (value, turn) => ({ turn, said: [], figures: [], under: "", controls: [{ kind: "slider", name: "tail", label: "Tail", least: 0, most: 40, step: 1,
  value, shown: `${value} d` }, { kind: "button", name: "fresh", label: "Begin again", enabled: true }] });
const fields = { title: "Try it", view: view(5, 0) }, heard = {}, seen = [], acts = [];
const model = { get: (name) => fields[name], on: (name, tell) => (heard[name] ||= []).push(tell),
  send({ name, value: sent }) { const value = name === "fresh" ? 0 : sent, turn = acts.push(name); setTimeout(() => { fields.view = view((%(answer)s)(value), turn); heard["change:view"].forEach((tell) => tell()); }, %(late)d); } };
window.seen = seen; window.acts = acts;
board.render({ model, el: document.getElementById("here") });
const range = document.querySelector("input[type=range]");
const look = () => { if (seen[seen.length - 1] !== Number(range.value)) seen.push(Number(range.value)); requestAnimationFrame(look); };
look();
window.put = (value) => { fields.view = view(value, 99); heard["change:view"].forEach((tell) => tell()); };
</script></body></html>"""


@pytest.fixture
def slider(visit):
    def open_one(late: int, answer: str = "(value) => value"):
        page = visit()
        page.route("http://127.0.0.1:9/*", lambda route: route.fulfill(
            content_type="text/javascript" if route.request.url.endswith(".js") else "text/html",
            body=SCRIPT if route.request.url.endswith(".js") else PAGE % {"late": late, "answer": answer}))
        page.goto("http://127.0.0.1:9/")
        handle = page.get_by_role("slider")
        handle.focus()
        return page, handle

    return open_one


@pytest.mark.parametrize("late", [30, 900])
def test_a_key_that_is_held_moves_the_handle_one_way_only(slider, late):
    page, handle = slider(late)
    for _ in range(20):
        page.keyboard.down("ArrowRight")
        page.wait_for_timeout(35)
    page.keyboard.up("ArrowRight")
    page.wait_for_timeout(late + 600)
    seen = page.evaluate("seen")
    # two presses within the 25 ms of one message are told as one, as a busy machine makes of them
    assert seen == sorted(set(seen)) and seen[0] in (5, 6) and seen[-1] == 25 and len(seen) > 10, json.dumps(seen)
    assert page.locator(".rcb-now").inner_text() == "25 d"


def test_single_presses_quicker_than_the_answers_are_not_undone(slider):
    page, handle = slider(250)
    for _ in range(8):
        page.keyboard.press("ArrowRight")
        page.wait_for_timeout(120)
    page.wait_for_timeout(900)
    assert page.evaluate("seen.every((one, at) => !at || one > seen[at - 1])") and handle.input_value() == "13"


def test_what_the_other_side_refuses_is_put_back_once_the_hand_is_away(slider):
    page, handle = slider(20, "(value) => Math.min(value, 7)")
    for _ in range(6):
        page.keyboard.down("ArrowRight")
        page.wait_for_timeout(30)
    assert handle.input_value() == "11"
    page.wait_for_timeout(700)
    assert handle.input_value() == "11"  # the key is still down
    page.keyboard.up("ArrowRight")
    page.wait_for_function("document.querySelector('input[type=range]').value === '7'")


def test_a_handle_nobody_holds_goes_where_it_is_put_at_once(slider):
    page, handle = slider(20)
    page.evaluate("put(30)")
    assert handle.input_value() == "30"
    page.keyboard.press("ArrowRight")
    page.wait_for_timeout(700)
    page.evaluate("put(12)")
    assert handle.input_value() == "12"


def test_a_drag_by_the_mouse_is_not_drawn_back(slider):
    page, handle = slider(150)
    box = handle.bounding_box()
    across = lambda part: (box["x"] + box["width"] * part, box["y"] + box["height"] / 2)  # noqa: E731
    page.mouse.move(*across(0.2))
    page.mouse.down()
    for part in range(3, 9):
        page.mouse.move(*across(part / 10), steps=4)
        page.wait_for_timeout(60)
    page.mouse.up()
    page.wait_for_timeout(800)
    seen = page.evaluate("seen")
    dragged = seen[seen.index(min(seen[1:])):] if len(seen) > 1 else seen
    assert dragged == sorted(dragged) and len(dragged) > 3 and int(handle.input_value()) == dragged[-1] > 28
    page.evaluate("put(3)")
    assert handle.input_value() == "3"


def test_what_another_control_does_moves_the_handle_at_once(slider):
    """A fresh start right after a move left the handle at its end, where the next press of End was no move."""
    page, handle = slider(20)
    page.keyboard.press("End")
    page.wait_for_timeout(60)
    page.get_by_role("button", name="Begin again").click()
    page.wait_for_timeout(100)
    assert handle.input_value() == "0"
    handle.press("End")
    page.wait_for_function("document.querySelector('.rcb-now').textContent === '40 d'")


def test_every_act_is_told_by_itself_however_quick_the_next_one_comes(slider):
    page, handle = slider(400)
    page.evaluate("""() => { const fresh = document.querySelector("button");
        for (let at = 0; at < 5; at += 1) fresh.click(); }""")
    assert page.evaluate("acts") == ["fresh"] * 5
