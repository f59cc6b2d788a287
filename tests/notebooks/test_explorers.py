"""The explorers without a browser: every value of every control gives a drawing with words, or the craft's refusal."""

from __future__ import annotations

from itertools import product

import pytest

from rigcalc.notebook import explorers
from rigcalc.notebook import forming_an_eye as eye

REELS = [reel.id for reel in eye.kit().shop.reels]


def test_controls_offer_the_shops_own_reels_and_nothing_else():
    control = explorers.press_the_eye().seen.controls[0]
    assert control.as_data()["values"] == REELS


@pytest.mark.parametrize("reel", REELS)
def test_each_reel_is_drawn_or_refused_with_its_reason(reel):
    figure, words, kind = explorers.tail_view(reel, 2.0, False)
    reasons = {"R3": "bare legs", "R5": "aluminium sleeve on stainless", "R9": "6 mm", "BIN": "scrap it"}
    if reel in reasons:
        assert figure is None and kind == "no" and words.startswith("Refused: ") and reasons[reel] in words
    else:
        assert figure is not None and kind == "ok"


@pytest.mark.parametrize("tail, pressed, kind, words", [
    (1.0, False, "no", "set a longer tail"), (2.0, False, "ok", "mark it with a pen"),
    (1.0, True, "no", "1.8 mm inside the sleeve. Reject"), (2.0, True, "ok", "1.4 mm of tail still shows: a pass so far, gauge every crimp next."),
    (3.0, True, "ok", "4.5 mm of tail still shows: a pass so far")])
def test_the_tail_is_judged_before_by_two_diameters_and_after_by_what_shows(tail, pressed, kind, words):
    figure, said, told = explorers.tail_view("R4", tail, pressed)
    assert words in said and told == kind and figure


def test_a_short_tail_that_survives_is_called_luck():
    shop = eye.kit().shop
    lucky = [(reel.id, tail) for reel in shop.reels if reel.id in ("R1", "R2", "R4", "R6", "R7", "R8") for tail in (1.5,)
             if "That it shows was luck" in explorers.tail_view(reel.id, tail, True)[1]]
    for reel, tail in lucky:
        _, words, tone = explorers.tail_view(reel, tail, True)
        assert tone == "no" and "reject the piece" in words
    assert lucky


@pytest.mark.parametrize("stage, content, upright", list(product(range(0, 101, 10), ("bare", "coated", "too small"), (True, False))))
def test_every_state_of_the_jaws_is_drawn_with_words(stage, content, upright):
    figure, words, kind = explorers.jaws_view(stage, content, upright)
    assert figure.alt and words
    assert (kind == "ok") == (stage == 100 and content == "bare" and upright)


def test_the_gauge_passes_what_it_cannot_see_and_the_words_say_so():
    for content in ("coated", "too small"):
        _, words, kind = explorers.jaws_view(100, content, True)
        assert kind == "no" and "the gauge goes on" in words and "cannot see this fault" in words


def test_moving_a_control_changes_drawing_and_words():
    board = explorers.close_the_jaws()
    seen = [board.view]
    for name, value in (("stage", 50), ("stage", 100), ("fresh", None), ("upright", False)):
        board.act_of(name, value)
        seen.append(board.view)
    assert seen[3]["figures"] == seen[0]["figures"] and seen[3]["said"] == seen[0]["said"]
    assert len({view["figures"][0]["svg"] for view in seen}) == len({view["said"][0]["text"] for view in seen}) == 4
    assert all(len(view["figures"][0]["alt"]) > 40 for view in seen)


def test_a_refusal_takes_the_drawing_away():
    board = explorers.press_the_eye()
    board.act_of("reel_id", "R5")
    assert not board.view["figures"] and "Refused" in board.view["said"][0]["text"]
    board.act_of("reel_id", "R4")
    assert board.view["figures"]
