"""Lesson 07, twenty pieces on a tray: what is drawn, grease that hides, and every count."""

from __future__ import annotations

import re

import pytest
from boards import after, said, verdicts

from rigcalc.figures.pressed_pieces import MARKS
from rigcalc.notebook.board import Board
from rigcalc.notebook.course import inspect_tray, inspecting
from rigcalc.notebook.course.inspecting import CAUSES, HARMLESS, START, STEPS, fault_of, looks_of, steps_of, tray_of

SECRETS = [f"{i:02x}" * 16 for i in range(16, 28)]
TRAY = tray_of(START)
BAD = [i + 1 for i, one in enumerate(TRAY) if one.fault]
GOOD = [i + 1 for i, one in enumerate(TRAY) if not one.fault]


def listed(numbers) -> str:
    return ", ".join(map(str, numbers))


def judged(word, step=lambda one: None, acts=("wipe", "gauge")) -> Board:
    board = inspect_tray.twenty_pieces()
    for i, one in enumerate(TRAY):
        after(board, ("tile", str(i)), *acts, ("word", word(one)))
        if step(one):
            after(board, ("step", step(one)))
    after(board, "done")
    return board if board.state["done"] else after(board, "done")  # asked twice where a reject has no step


# --- What lies on it --------------------------------------------------------------------------------

@pytest.mark.parametrize("secret", [START, *SECRETS])
def test_a_tray_has_twenty_pieces_no_fault_twice_and_grease_on_a_good_one(secret):
    tray = tray_of(secret)
    faults = [one.fault for one in tray if one.fault]
    assert len(tray) == 20 and 9 <= len(faults) <= 12 and len(set(faults)) == len(faults) - max(0, faults.count("fat") - 1)
    assert any(not one.fault and one.mark == "smear" for one in tray) and any(not one.fault and not one.mark for one in tray)
    assert not any(one.mark == "short tail" and one.fault for one in tray)


def test_every_tray_has_two_to_four_pieces_that_the_gauge_stops_at_and_more_that_it_cannot_see():
    stopped = [[fault_of(one.fault).gauge for one in tray_of(f"{i:02x}" * 16) if one.fault] for i in range(60)]
    assert {sum(word != "goes on" for word in words) for words in stopped} == {2, 3, 4}
    assert all(sum(word == "goes on" for word in words) >= 5 for words in stopped)


def test_no_gauge_card_counts_the_bands():
    for key in ("", "missing", "smaller", "small cable"):
        assert re.search(r"on every band\.$", inspecting.gauge_says(key, looks_of(key))) and not re.search(r"\d", inspecting.gauge_says(key, looks_of(key)))


def test_trays_vary_place_side_amount_and_marks():
    pieces = [one for i in range(60) for one in tray_of(f"{i:02x}" * 16)]
    for fault in ("crack", "fat", "missing", "fins", "overlap", "nicks"):
        assert len({one.looks(wiped=True) for one in pieces if one.fault == fault}) >= 4, fault
    assert {one.mark for one in pieces} == {"", *HARMLESS} and {one.band for one in pieces if one.fault == "fat"} == {0, 1, 2}


def test_every_bad_piece_differs_from_every_good_one_once_it_is_wiped():
    every = [(band, amount, turned) for band in range(3) for amount in (0.85, 1.0, 1.15) for turned in (False, True)]
    good = {looks_of("", mark, wiped=True, mark_band=band, amount=amount).said() for mark in ("", *HARMLESS) for band, amount, _ in every}
    seen = {}
    for one in CAUSES:
        for band, amount, turned in every:
            words = looks_of(one.key, band=band, amount=amount, turned=turned).said()
            assert words not in good and seen.setdefault(words, one.key) == one.key, one.key


@pytest.mark.parametrize("fault", CAUSES, ids=lambda one: one.key)
def test_each_fault_can_be_drawn_anywhere_and_its_words_do_not_name_it(fault):
    for band in range(3):
        for turned in (False, True):
            looks = looks_of(fault.key, "scratch", band, (band + 1) % 3, 1.15, turned)
            words = looks.said()
            assert fault.name not in words.lower() and "{" not in words and "scratch on band" in words
            assert (inspecting.gauge_says(fault.key, looks).count("all the way on and turned") == 1) == (fault.gauge != "jams")


def test_what_the_crimps_show_by_themselves_is_said_too():
    assert "At its live end" in looks_of("split").said() and "At its thimble end" in looks_of("split", turned=True).said()
    assert "Bands 2 and 3 share" in looks_of("overlap", band=1).said() and "share" not in looks_of().said()


def test_grease_hides_a_crack_until_it_is_wiped():
    hidden = [one for i in range(60) for one in tray_of(f"{i:02x}" * 16) if one.fault == "crack" and one.mark == "smear"]
    assert hidden
    for one in hidden:
        assert "crack" not in one.looks().marks and "jagged" not in one.looks().said() and "is not seen" in one.looks().said()
        assert "crack" in one.looks(wiped=True).marks and "grease" not in one.looks(wiped=True).said()
    assert "smear" in MARKS


# --- Counting ---------------------------------------------------------------------------------------

def test_all_right_is_said_without_a_mark_or_a_percent():
    board = judged(lambda one: one.fault or "pass", lambda one: steps_of(one.fault)[0] if one.fault else None)
    assert verdicts(board) == ["ok", "ok"] and f"Of {len(BAD)} bad ones you passed none." in said(board) and f"Of {len(GOOD)} good ones you rejected none." in said(board)
    assert f"Of {len(BAD)} bad ones that you rejected, you named the fault of {len(BAD)} and the step of {len(BAD)}" in said(board) and "%" not in said(board) and "point" not in said(board).replace("point at", "")
    assert "✗" not in board.seen.under.text and board.seen.under.text.count("✓") == 2 * len(BAD)


def test_false_passes_and_false_rejects_are_counted_apart():
    lax = judged(lambda one: "pass")
    assert f"Of {len(BAD)} bad ones you passed {len(BAD)} (no. {listed(BAD)})." in said(lax) and verdicts(lax) == ["no", "ok"] and "you named the fault" not in said(lax)
    strict = judged(lambda one: "split")
    assert f"Of {len(GOOD)} good ones you rejected {len(GOOD)} (no. {listed(GOOD)})." in said(strict)
    assert verdicts(strict) == ["no"] and "that shows nothing" in said(strict) and "named the fault of 1 and the step of 0" in said(strict)


def test_the_table_says_which_faults_and_steps_were_not_named():
    wrong = next(i for i, one in enumerate(TRAY) if one.fault and one.fault != "fins")
    board = judged(lambda one: "fins" if one is TRAY[wrong] else one.fault or "pass", lambda one: steps_of(one.fault)[0] if one.fault else None)
    rows = dict(line.split(" | ", 1) for line in board.seen.under.text.splitlines()[2:])
    assert rows[str(wrong + 1)].startswith(f"✗ fins on both sides | {fault_of(TRAY[wrong].fault).name} | ✓ ") and list(rows) == [str(i) for i in BAD]
    assert f"named the fault of {len(BAD) - 1} and the step of {len(BAD)}" in said(board)
    unsaid = judged(lambda one: one.fault or "pass")
    assert f"named the fault of {len(BAD)} and the step of 0" in said(unsaid) and "✗ not said" in unsaid.seen.under.text


def test_a_pass_with_grease_on_counts_as_not_looked():
    greasy = [i + 1 for i, one in enumerate(TRAY) if not one.fault and one.mark == "smear"]
    board = judged(lambda one: one.fault or "pass", acts=("gauge",))
    assert greasy and f"You passed {len(greasy)} with grease on (no. {listed(greasy)}). That is not looked" in said(board)
    assert verdicts(board) == ["ok", "ok", "no"] and board.seen.figures[0].alt.count("not looked at") == len(greasy)


def test_passing_without_the_gauge_is_told():
    board = judged(lambda one: "pass", acts=("wipe",))
    assert "You passed 20 without the gauge" in said(board) and verdicts(board) == ["no", "ok", "no"]


# --- The board --------------------------------------------------------------------------------------

def test_nothing_is_told_before_done_and_an_early_done_is_asked_twice():
    board = after(inspect_tray.twenty_pieces(), ("word", "tape"), "done")
    assert "19 pieces have no word yet" in said(board) and "press Done once more" in said(board) and "Refused" not in said(board) and not board.state["done"] and board.seen.under is None
    assert "It is" not in board.seen.figures[1].alt and "tape in the sleeve" not in board.seen.figures[1].alt
    assert "Gauge: not put on yet" in board.seen.figures[1].alt
    after(board, "next")
    assert board.state["at"] == 1 and not board.state["sure"] and "Piece 1: rejected, and you named no step" in said(board)
    after(board, "fresh", "wipe", "fresh")
    assert board.state["words"] and "the 1 word that you said is gone" in said(board) and board.state["secret"] == START
    assert not after(board, "fresh").state["words"] and board.state["secret"] != START
    assert "No piece has a word" in said(after(inspect_tray.twenty_pieces(), "done", "done"))


def test_an_early_tray_counts_those_with_a_word_alone():
    bad, good = BAD[0] - 1, GOOD[0] - 1
    board = inspect_tray.twenty_pieces()
    for at, word in ((bad, "pass"), (good, "pass")):
        after(board, ("tile", str(at)), "wipe", "gauge", ("word", word))
    after(board, "done", "done")
    assert board.state["done"] and f"Of 1 bad one you passed 1 (no. {bad + 1})." in said(board) and "Of 1 good one you rejected none." in said(board)
    assert "Not counted: 18 pieces without a word." in said(board) and len(board.seen.under.text.splitlines()) == 3
    assert after(board, ("word", "crack")).state["words"] == {str(bad): "pass", str(good): "pass"}
    alone = after(inspect_tray.twenty_pieces(), ("tile", str(bad)), ("word", "crack"), "done", "done")
    assert "good one" not in said(alone) and "Not counted: 19 pieces" in said(alone)


def test_the_step_is_asked_of_a_reject_alone_and_goes_with_its_word():
    board = after(inspect_tray.twenty_pieces(), ("word", "pass"))
    assert "step" not in [one.name for one in board.seen.controls]
    after(board, ("word", "tape"), ("step", STEPS[1][0]))
    assert board.state["steps"] == {"0": STEPS[1][0]}
    assert after(board, ("word", "crack")).state["steps"] == {} and after(board, ("word", "choose")).state["words"] == {}


def test_a_counted_tray_takes_no_word_and_every_card_tells():
    board = judged(lambda one: "pass")
    assert inspect_tray.tray_step(board.state, "word", "tape") == board.state
    for i, one in enumerate(TRAY):
        alt = after(board, ("tile", str(i))).seen.figures[1].alt
        assert ("It is bad: " + fault_of(one.fault).name if one.fault else "It is good.") in alt
        assert not one.fault or f"What is done: {fault_of(one.fault).do}." in alt


def test_every_fault_comes_from_a_step():
    assert all(steps_of(one.key) and set(steps_of(one.key)) <= {step for step, _ in STEPS} for one in CAUSES)
    assert re.search("not as it lies", said(inspect_tray.twenty_pieces()))


def test_a_card_tells_why_a_good_piece_bears_its_mark_and_no_bad_one_hides_a_fault_under_grease_that_hid_none():
    told = {mark: inspect_tray._told(inspecting.TrayPiece("", mark))[0] for mark in HARMLESS}
    assert "has not moved" in told["paint"] and "before pressing" in told["pen"] and len(set(told.values())) == len(HARMLESS)
    assert inspect_tray._told(inspecting.TrayPiece())[0] == "It is good."
    loose = inspect_tray._told(inspecting.TrayPiece("loose", "smear"))[0]
    assert loose == "It is bad: thimble loose. The grease hid nothing more." and inspect_tray._told(inspecting.TrayPiece("crack", "smear"))[0].endswith("It lay under the grease.")
