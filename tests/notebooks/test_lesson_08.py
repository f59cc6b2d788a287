"""Lesson 08: label, strip, groove, lap: worked figures, every state that matters, what is refused."""

from __future__ import annotations

import pytest
from boards import after, each_option_of, said, tones
from stored import stored

from rigcalc.errors import Refusal
from rigcalc.home import installed_folder
from rigcalc.layout import strip_mm
from rigcalc.notebook.course import laps_and_coats as laps
from rigcalc.notebook.course import laps_and_coats_sheets as sheets

LESSON = stored(installed_folder() / "lessons" / "08_lap_splice_and_coated_cable.ipynb")
BOARDS = (laps.read_the_label, laps.mark_and_press, laps.what_lies_in_it, laps.lay_out_a_lap, laps.may_it_be_a_lap)
GOOD = {"tail": 5.0, "first": 21.5, "second": 117.0, "third": 138.5}


def pressed(**marks):
    board = laps.mark_and_press()
    for name, value in (GOOD | marks).items():
        board.act_of(name, value)
    board.act_of("strip")
    board.act_of("press")
    return board


def test_the_wrong_figure_of_the_label_and_what_it_would_hang():
    # misstep 6 of the trade: 3/32 to 3/16, 7x7 920 lbf: 165; by the coat 756, 4.6 times as much
    assert "3/32–3/16 | 165 lbf [733 N] | 756 lbf" in str(laps.by_core_or_coat())


def test_the_strip_of_order_4_is_the_layouts():
    text = str(laps.strip_steps())
    # 6 tail (3.5 growth + 2 band, to the next whole mm) + 11 sleeve + 3.5 growth + 2 band = 22.5 mm on each leg (invented lengths)
    assert "bare on each leg | 22.5 mm" in text
    before, growth, tail, loop = laps._eye()
    assert all(f"{mark:.1f} mm" in text for mark in strip_mm(before, growth, tail, loop, 2.0).marks_mm)


def test_the_ring_of_order_7_has_a_length_and_no_limit():
    text = str(laps.ring_steps())
    # tails 4.76 up to 5, sleeves 11, gap 3.5 + 2 x 2.38 = 8.26 down to 8: 40 mm; once round 9000 mm
    assert "the lap, added before rounding | 40 mm" in text and "to cut | 9040 mm" in text and "no limit is known" in text
    assert "gap between the sleeves | 8 mm" in text and "a gap of 8 mm" in laps.lap_still().alt and tones(lap(gap=8.0))[0] == "ok"


@pytest.mark.parametrize("label, sleeve, coat, words, tone", [
    (1, "3/16", True, "the coat is on", "no"), (1, "3/16", False, "too large", "no"), (1, "3/32", False, "Right: bare", "ok"), (2, "3/32", False, "do not go in", "no"),
    (0, "1/16", False, "Right: bare", "ok"), (1, "3/32", True, "the coat is on", "no")])
def test_a_label_a_sleeve_and_the_coat(label, sleeve, coat, words, tone):
    board = laps.read_the_label()
    for name, value in (("label", label), ("sleeve", sleeve), ("coat", coat)):
        board.act_of(name, value)
    assert words in said(board) and tones(board) == [tone]


def test_a_right_strip_is_right_whichever_way_the_metal_went():
    board = pressed(first=24.5)  # 24.5 - (5 + 11 + 3.5) = 5 mm at the least: up to 8.5 mm bare in a picture is no fault
    assert tones(board)[0] == "ok" and "5 mm of the dead leg" in said(board), said(board)
    assert "Dead leg, loop side: 5.5 mm stay bare even when all the metal goes that way, more than 5 mm" in said(pressed(first=25.0))
    board = pressed(tail=12.0, first=28.5, second=124.0, third=152.6)  # beside a long tail both legs are stripped alike
    assert "The job sheet asks for 5.5 mm at least" in said(pressed(tail=5.0, first=21.5, second=117.0, third=139.0)) and "job sheet" not in said(board)
    assert tones(board)[0] == "ok" and "8.5 mm stay bare beside the tail, and no farther than it was long" in said(board), said(board)
    for way in (1.0, 0.5, 0.0):
        board.act_of("way", way)
        assert "of coat under the sleeve" not in board.seen.figures[0].alt and "stands out" in board.seen.figures[0].alt


@pytest.mark.parametrize("marks, words", [
    ({"first": 15.0}, "Dead leg, loop side: the sleeve sits on the coat"), ({"first": 18.0}, "Dead leg, loop side: the sleeve grew over the coat"), ({"first": 30.0}, "10.5 mm stay bare even when all the metal goes that way, more than 5 mm"),
    ({"second": 125.0}, "Live leg, loop side: the sleeve sits on the coat"), ({"second": 121.0}, "Live leg, loop side: the sleeve grew over"), ({"third": 136.0}, "outer side: the sleeve grew over the coat"), ({"third": 105.0}, "outer side: the sleeve sits on the coat before it is pressed"),
    ({"third": 160.0}, "bare farther than the tail is long"), ({"third": 137.5}, "outer side: only 0.4 mm stay bare"), ({"first": 20.0}, "Dead leg, loop side: only 0.5 mm stay bare"), ({"tail": 3.0, "first": 19.5, "second": 115.0, "third": 136.5}, "less than two diameters")])
def test_each_wrong_mark_is_named_and_costs_cable(marks, words):
    board = pressed(**marks)
    assert words in said(board), said(board)
    assert tones(board)[0] == "no" and board.state["left"] < laps.REEL_MM
    board.act_of("again")
    assert board.state["stage"] == "mark"


def test_marks_out_of_order_are_refused_and_the_reel_runs_out():
    board = laps.mark_and_press()
    board.act_of("second", 130.0)
    board.act_of("third", 120.0)
    board.act_of("strip")
    assert "Refused: marks at" in said(board) and board.state["stage"] == "mark"
    # each takes 138.5 + 60 = 198.5 mm: seven out of 1500, one of them spoiled, and 110.5 mm is no eighth
    board = after(pressed(first=15.0), "again", ("first", 21.5), *("strip", "press", "again") * 6)
    assert "From this length: 6 good eyes, 1 spoiled." in said(board) and "takes 198.5 mm of cable, and 110.5 mm is left. Take a new length." in said(board)
    assert after(board, "strip").state["stage"] == "mark"
    assert after(board, "new", "strip", "again").state["left"] == laps.REEL_MM - 158.5 and "no good eyes, 1 spoiled" in said(board)


def test_the_groove_goes_by_what_lies_in_it():
    board = laps.what_lies_in_it()
    for letter in "ABCD":
        board.act_of(f"fits_{letter}")
        assert tones(board) == ["ok" if letter in laps.GROOVE_RIGHT else "no"]
    assert "fit" not in laps.groove_still().alt.replace("fitting", "")


def lap(**parts):
    board = laps.lay_out_a_lap()
    for name, value in ({"sleeves": 2, "gap": 7.0, "left": 5.0, "right": 5.0} | parts).items():
        board.act_of(name, value)
    return board


@pytest.mark.parametrize("parts, words, tone", [
    ({}, "It can be made: 2 crimps on each sleeve", "ok"), ({"sleeves": 1}, "Nothing is known", "no"), ({"gap": 3.0}, "The gap is 3 mm. Set it from 5.9 mm to 8.2 mm", "no"), ({"gap": 0.0, "right": 0.0}, "The right tail is 0 mm. Before pressing it is at least two diameters, 4.8 mm here", "no"),
    ({"line": "stay"}, "a lap splice in work that is named 'stay'", "no"), ({"line": "hoisting"}, "no way round", "no"), ({"near": "people"}, "where nobody can be", "no"), ({"line": "suspension"}, "WAC 296-874-30018(1), is about ropes that hang a work platform", "no"), ({"left": 25.0}, "The left tail is 25 mm: longer than needed", "ok")])
def test_a_lap_is_laid_out_or_refused_with_its_reason(parts, words, tone):
    board = lap(**parts)
    assert words in said(board) and tones(board)[0] == tone, said(board)
    for way in ("outwards", "inwards"):
        board.act_of("pressed", way)
        assert "after pressing" in board.seen.figures[0].alt


def test_two_sleeves_that_both_grow_inwards_may_close_the_gap():
    # 3/32: gap band 5.9 to 8.3 mm, each sleeve grows 3.5 (invented): 6 - 7 meets, 8 - 7 leaves 1 mm
    for gap, meet in ((6.0, True), (8.0, False)):
        board = lap(gap=gap)
        assert ("they meet" in said(board)) is meet and tones(board)[0] == "ok"
        board.act_of("pressed", "inwards")
        assert ("the sleeves meet" in board.seen.figures[0].alt) is meet and ("with a gap of 1 mm" in board.seen.figures[0].alt) is not meet
    assert "with a gap of 1 mm" in laps.lap_still(True, inwards=True).alt  # 8 - 2 x 3.5
    assert "the sleeves meet; at the outer ends 4.5 mm of tail shows" in after(lap(gap=6.0), ("pressed", "inwards")).seen.figures[0].alt  # 3 of 3.5 mm go inwards


def test_beside_the_tail_the_worst_is_the_other_way():
    assert "live leg, outer side: 2.5 mm bare" in str(laps.eye_still(True, 0.0)) and "dead leg, loop side: 2 mm bare" in str(laps.eye_still(True))


def test_what_the_worked_strip_comes_to_waits_on_the_wall_as_its_steps_do():
    for told in (laps.strip_steps(), laps.straight_still(), laps.eye_still(False), laps.eye_still(True), laps.eye_still(True, 0.0), laps.ring_steps()):
        assert told.html.startswith('<div class="answer">') and told.text in LESSON.shown
    assert str(laps.strip_steps()).splitlines()[1].startswith("Step | ")


def test_every_size_of_the_shop_can_be_laid_out():
    board = laps.lay_out_a_lap()
    for size in dict(board.seen.controls[0].more)["values"]:
        board.act_of("size", size)
        assert f"two {size} in cable ends" in board.seen.figures[0].alt


def test_each_job_is_decided_by_the_laps_own_refusals():
    assert [laps.decide(at)[0] for at in range(len(laps.ASKED))] == [True, False, False, True, False, False, False]
    board = laps.may_it_be_a_lap()
    for at in range(len(laps.ASKED)):
        board.act_of("yes")
        assert tones(board)[0] == ("ok" if laps.decide(at)[0] else "no")
        board.act_of("next")


def test_wrong_ends_are_drawn_and_told_apart():
    assert len({laps.wrong_ends(which).alt for which in range(4)}) == 4
    assert "19.5 mm of coat under the sleeve" in laps.wrong_ends(0).alt and "1 sleeve" in laps.wrong_ends(2).alt and "no tail shows" in laps.wrong_ends(3).alt
    assert str(laps.wrong_ends_words()).count("\n") == 4 and "fresh cable" in str(laps.wrong_ends_words())
    for which in (2, 3):
        assert ">no tail shows<" not in laps.wrong_ends(which).svg and ">tail " not in laps.wrong_ends(which).svg


def test_how_many_times_too_much_the_coat_would_hang_is_told_with_the_limits():
    rows = [line.split(" | ") for line in str(laps.by_core_or_coat()).splitlines()[2:]]
    assert len(rows) == len(laps.LABELS)
    for _, right, wrong, times in rows:
        right, wrong = (float(one.split()[0]) for one in (right, wrong))
        assert times == f"{wrong / right:.1f} times"


def test_every_option_of_every_control_gives_a_view():
    for board in each_option_of(BOARDS):
        assert board.seen.said


def test_sheets_hold_what_they_must():
    text = str(sheets.practice_sheet())
    assert text.split("Other sizes")[0].count("STOP:") == 6 and "Bare on each leg: 57/64 in [22.5 mm]" in text and "gap 15/64 in [5.9 mm] to 5/16 in [8.2 mm]" in text
    for words in ("outer tails at least 3/16 in [4.8 mm]", "tail at least 1/4 in [6 mm] (growth and bare band)", "press place 1, then 2", "STOP: first stroke", "STOP: first crimp gauged", "STOP: the lap's gap looked at before its second sleeve"):
        assert words in text.split("Other sizes")[0], words
    assert 10 <= len(str(sheets.recap()).splitlines()) <= 16 and "7-148d" in str(sheets.sources())


def test_the_gap_that_a_refusal_accepts_holds_the_worked_rings_own_as_it_is_printed():
    one, _ = laps.kit()
    growth = one.row.sleeve_after_mm - one.row.sleeve_before_mm
    with pytest.raises(Refusal, match=r"5\.89 to 8\.26 mm"):
        laps.lap_splice(one.diameter_mm, one.row.sleeve_before_mm, growth, 5, (2, 2), "closed ring", "nobody", 30)
    laps.lap_splice(one.diameter_mm, one.row.sleeve_before_mm, growth, 5, (2, 2), "closed ring", "nobody", 8.26)


@pytest.mark.parametrize("make", [laps.read_the_label, laps.lay_out_a_lap])
def test_a_figure_opens_on_its_question_and_judges_what_was_changed(make):
    board = make()
    assert set(tones(board)) == {""} and "?" in said(board)
    board.act_of("size" if make is laps.lay_out_a_lap else "label", board.state["size"] if make is laps.lay_out_a_lap else 1)
    assert tones(board)[0] == "no"
