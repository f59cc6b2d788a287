"""Lesson 06, one stroke closely watched: a sleeve that leans, before and after its metal has moved."""

from __future__ import annotations

import pytest
from boards import after, said, verdicts
from stored import stored

from rigcalc.figures.sections import ON_FLASH
from rigcalc.home import installed_folder
from rigcalc.notebook.board import Board
from rigcalc.notebook.course import crimp_boards as press
from rigcalc.notebook.course import crimp_sheets as sheets

LESSON = stored(installed_folder() / "lessons" / "06_crimps.ipynb")


CLOSE = ["squeeze"] * 5
REJECT = "reject for good"


def tilts(at: int, *acts) -> Board:
    return after(Board("one", press._tilt_start(at), press.tilt_view, press.tilt_step), *acts)


@pytest.mark.parametrize("at, acts, tone, words", [
    (2, [*CLOSE, "done"], "no", REJECT),
    (2, [*CLOSE, "done"], "no", ON_FLASH),  # the same words as in lesson 05
    (2, ["squeeze", "squeeze", "open", "upright", *CLOSE, "done"], "ok", "opened, stood it upright and closed again fully"),
    (1, ["squeeze", "open", "upright", *CLOSE, "done"], "ok", "before metal had moved"),
    (2, ["squeeze", "squeeze", "open", "upright", "squeeze", "squeeze", "done"], "no", "have not met"),
    (2, ["squeeze", "squeeze", "done"], "no", "no metal has moved"),
    (2, ["squeeze", "squeeze", "off"], "no", "no metal has moved"),
    (2, ["squeeze", "squeeze", "open", *CLOSE, "done"], "no", REJECT),
    (2, [*CLOSE, "open", "upright", *CLOSE, "done"], "no", REJECT),  # squashed leaning, then stood up and closed: never a pass
    (2, ["squeeze"] * 3 + ["open", "upright", *CLOSE, "open", "done"], "no", "You stood it up afterwards: that mends nothing"),
    (2, ["squeeze"] * 3 + ["open", "upright", "off"], "ok", "new eye on fresh cable"),
    (3, ["squeeze"] * 3 + ["open", "upright", *CLOSE, "done"], "no", REJECT),  # it turned while metal moved
    (3, ["squeeze"] * 3 + ["off"], "ok", "fresh cable"),
    (0, [*CLOSE, "done"], "ok", "upright all the way"),
    (0, [*CLOSE, "open", "done"], "ok", "upright all the way"),
    (0, ["squeeze", "off"], "no", "nothing has gone wrong"),
])
def test_a_leaning_sleeve_is_stood_up_before_metal_moves_and_rejected_for_good_after(at, acts, tone, words):
    board = tilts(at, *acts)
    assert verdicts(board) == [tone] and words in said(board), said(board)


def test_no_hand_goes_between_closing_jaws_and_what_was_pressed_stays_pressed():
    assert "Open the jaws first" in said(after(press.tilting(), "squeeze", "upright"))
    board = tilts(2, *["squeeze"] * 4, "open")
    assert "stays as it was pressed" in said(board) and "pressed already" in board.seen.figures[0].alt and "reject" not in board.seen.figures[0].alt
    assert "stays as it was pressed" not in said(tilts(2, "squeeze", "squeeze", "open"))


def test_the_page_says_the_rule_that_its_board_acts_on():
    assert "for good" in LESSON.shown and "fresh cable" in LESSON.shown
    text = " ".join((str(sheets.recap()), str(sheets.practice_sheet()), str(sheets.sources())))
    assert text.count("metal") >= 3 and "fresh cable" in str(sheets.recap()) and "fresh cable" in str(sheets.practice_sheet())
