"""Lesson 10, what is held and spanned: stays, the gate, the lane."""

from __future__ import annotations

import math

from boards import after, said, tones

from rigcalc.notebook.course import held_boards as held


# --- Stays ----------------------------------------------------------------------------------------

def test_the_stay_on_the_lee_side_goes_slack():
    board = after(held.turn_the_wind(), ("pointed", "B"))
    assert tones(board) == ["ok"] and "Stay A governs" in said(board)
    assert tones(after(held.turn_the_wind(), ("named", "A"))) == ["no"]
    after(board, ("wind", 90))
    assert board.state["named"] == "" and "Slack" not in said(board)
    assert "Slack: B and C" in said(after(board, ("named", "C")))


# --- The gate -------------------------------------------------------------------------------------

def test_a_flat_brace_is_worked_and_one_that_would_push_is_refused():
    board = held.brace_the_gate()
    assert tones(board) == [""] and board.seen.under is None and "284.6" not in said(board)
    after(board, ("show", None))
    assert "284.6 lbf" in said(board) and "18.4°" in said(board) and "not refused" in said(board)
    assert "would have to push" in said(after(board, ("post", -6))) and board.seen.figures
    assert "runs through the hinge" in said(after(held.brace_the_gate(), ("up", 48), ("post", 0)))
    assert "284.6 lbf" in said(after(board, ("back", None)))


def test_a_brace_near_the_hinge_pulls_harder_and_lifts_the_hinge():
    board = after(held.brace_the_gate(), ("along", 24))
    # moments: 180 x 72 = upright part x 24, so 540, which is 360 more than the gate weighs; it rises 48 in over 24, so sine 2 / sqrt(5)
    assert "hold the gate down with | 360.0 lbf" in board.seen.under.text and f"{540 * math.sqrt(5) / 2:.1f} lbf" in said(board)


def test_a_gate_that_children_swing_on_is_refused_by_its_class():
    board = after(held.brace_the_gate(), ("swung", "swung on"))
    assert tones(board)[0] == "no" and "swing" in said(board) and "284.6" not in board.seen.figures[0].svg


# --- The lane -------------------------------------------------------------------------------------

def test_a_span_without_its_sag_opens_on_what_is_missing_and_is_refused_when_tried():
    board = held.hang_it_over_the_lane()
    assert tones(board) == [""] and "does not say how far the wire may sag" in said(board) and "Refused" not in said(board)
    after(board, ("load", 20))
    assert tones(board) == ["no"] and "without its sag" in said(board) and "the sag in inches" in said(board) and "sag ?" in board.seen.figures[0].svg


def test_halving_the_sag_doubles_the_pull_and_it_is_said():
    board = after(held.hang_it_over_the_lane(), ("stated", True))
    assert "67.6 lbf" in said(board)
    after(board, ("half", None))
    assert "now it is 2.00 times that" in said(board) and "135.1 lbf" in said(board)
    assert "0.50 times" in said(after(board, ("twice", None)))


def test_the_nearer_and_the_higher_end_govern():
    board = after(held.hang_it_over_the_lane(), ("stated", True), ("at", 20))
    assert "The left end governs" in said(board)
    assert "The right end governs" in said(after(board, ("half", None), ("rise", 48))) and "up on the wall" in board.seen.under.text


def test_a_spread_load_states_parabola_against_catenary_and_its_range():
    board = after(held.hang_it_over_the_lane(), ("stated", True), ("kind", "even"))
    assert "more greatest tension than the catenary" in said(board) and "catenary | " in board.seen.under.text
    assert "up to 0.1 of the span" in said(after(board, ("sag", 60))) and board.seen.figures


def test_the_sag_can_be_halved_only_as_far_as_the_slider_goes():
    board = after(held.hang_it_over_the_lane(), ("stated", True))
    for _ in range(4):
        after(board, ("half", None))
    half = next(control for control in board.seen.controls if control.name == "half")
    assert board.state["sag"] == 0.75 and not dict(half.more)["enabled"]
