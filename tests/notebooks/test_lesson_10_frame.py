"""Lesson 10, four plumb legs: what each is sized for, off the middle, and with one leg too long."""

from __future__ import annotations

import pytest
from boards import after, said, tones

from rigcalc.notebook.course import frame_boards as frame


@pytest.mark.parametrize("sized, tone", [(4, "no"), (3, "no"), (2, "ok")])
def test_only_counting_on_two_is_enough_with_the_weight_in_the_middle(sized, tone):
    board = frame.four_legs()
    assert "up to" not in board.seen.figures[0].svg, "nothing is shown before it is said"
    assert tones(after(board, ("sized", sized)))[0] == tone


def test_off_the_middle_two_may_not_be_enough():
    board = after(frame.four_legs(), ("sized", 2), ("along", 20), ("across", 20))
    assert tones(board)[0] == "no" and "too little" in said(board)


def test_off_the_middle_the_worst_case_is_the_rule():
    board = after(frame.four_legs(), ("sized", frame.WORKED), ("along", 20), ("across", 20))
    # A and C alone: the centre lies a fifth of the way from A to C, so A has four fifths of 400
    assert tones(board)[0] == "ok" and "Leg A governs, with up to 320.0 lbf" in said(board) and "no count of legs is a rule" in said(board)
    assert "A and C | A 320.0 lbf, C 80.0 lbf" in board.seen.under.text


def test_a_leg_too_long_leaves_two_opposite_ones():
    board = after(frame.four_legs(), ("sized", 2), ("long", "A"))
    assert board.seen.figures[0].svg.count(">slack<") == 2 and "200.0 lbf" in board.seen.figures[0].svg
    assert "Leg C, across from it, has nothing" in said(board) and "Legs B and D carry all" in said(board) and "Slack:" not in said(board)


@pytest.mark.parametrize("long, facing", ["AC", "BD", "CA", "DB"])
def test_a_leg_too_long_under_the_weight_comes_tight_when_the_frame_tips(long, facing):
    along, across = {"A": (20, 20), "B": (80, 20), "C": (80, 80), "D": (20, 80)}[long]
    board = after(frame.four_legs(), ("sized", 2), ("long", long), ("along", along), ("across", across))
    assert f"tips a little until {long} is tight" in said(board) and f"leg {facing} hangs loose" in said(board) and "reach" not in said(board)
    # 400 x (1 - 0.2 - 0.2) on it, 400 x 0.2 on each neighbour, nothing on the one across from it
    shown = board.seen.figures[0].alt
    assert f"Leg {long}: 240.0 lbf." in shown and f"Leg {facing}: slack." in shown and shown.count(": 80.0 lbf.") == 2
    after(board, ("along", 100 - along), ("across", 100 - across))
    assert f"Leg {long} is too long and hangs loose. The other three carry all." in said(board) and f"Leg {long}: slack." in board.seen.figures[0].alt


def test_every_place_of_the_weight_and_every_long_leg_has_its_words():
    for along in range(10, 91, 20):
        for across in range(10, 91, 20):
            for long in ("", *"ABCD"):
                view = frame.four_view({"sized": 2, "along": along, "across": across, "long": long})
                assert view.under and "elastic" not in " ".join(one.text for one in view.said)
