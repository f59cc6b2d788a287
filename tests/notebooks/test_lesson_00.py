"""Lesson 00: the letters decided by their own order files, who can be there, which paper governs, the bench, the force."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from boards import each_option_of, said, tones

from rigcalc.notebook.course import first_morning as first
from rigcalc.notebook.course import first_morning_sheets as sheets
from rigcalc.notebook.teaching import sample_shop

BOARDS = (lambda: first.read_the_letters(only=True), first.read_the_letters, first.who_can_be_there, first.which_paper, first.find_the_dangers, first.one_force)


@pytest.mark.parametrize("name, comes_to, why", [
    ("09_engine_hoist", "refuse", "no lifting sling"), ("01_gate_brace", "make", "3/16"), ("03a_lantern_no_designer", "ask", "Which qualified person"),
    ("10_zip_line", "refuse", "people's lives"), ("02a_cafe_wires_hand_tight", "ask", "no load"), ("07_bird_net_ring", "make", "lap splice"),
    ("11_pool_panels", "refuse", "no rust to be seen"), ("13_new_sleeves_on_old_stays", "refuse", "never pressed again"), ("05_kayak_bridle", "make", "1/8"),
    ("12_gym_cable", "refuse", "people's lives")])
def test_each_letter_is_decided_by_its_order_file(name, comes_to, why):
    call, words = first.answer_to(name)
    assert (call, why in words) == (comes_to, True), words
    assert "--" not in words


def test_every_letter_can_be_answered_and_wrong_ones_are_listed():
    board = first.read_the_letters()
    for at, (name, who, _) in enumerate(first.LETTERS):
        assert who in said(board) and board.state["at"] == at
        board.act_of("make")
        assert ("ok" in tones(board)) == (first.answer_to(name)[0] == "make")
        board.act_of("next")
    wrong = [who for name, who, _ in first.LETTERS if first.answer_to(name)[0] != "make"]
    assert board.seen.under.text.splitlines()[1:] == wrong and "answered 10 of 10" in said(board)


def test_order_9_worked_says_what_its_letter_says():
    letter, table = first.LETTERS[0][2], str(first.worked())
    for words, row in (("Nobody will be near", "nobody, says the boatyard"), ("nobody holds it", "no, says the boatyard"), ("it will not swing", "no, says the boatyard"), ("hoist", "yes: it hoists")):
        assert words in letter and row in table


def test_nobody_is_under_it_has_an_answer_that_waits():
    assert first.what_is_wrong_with_it().html.startswith("<details") and "in the whip" in str(first.what_is_wrong_with_it())


def test_an_answer_is_given_once_before_it_is_told():
    board = first.read_the_letters(only=True)
    assert "sling" not in said(board)
    board.act_of("refuse")
    board.act_of("make")
    assert board.state["call"] == "refuse" and "no lifting sling" in said(board)


@pytest.mark.parametrize("spot, moves, words, tone", [
    ("nobody", "none", "the shop's own factor", "shop"), ("under", "none", "in the fall", "designer"), ("whip", "none", "the far end comes this way", "designer"),
    ("beside", "none", "in the whip", "designer"), ("path", "none", "a hedge stops nobody", "ask"), ("nobody", "moves", "without a named designer", "designer"),
    ("nobody", "swung on", "people swing on", "refuse")])
def test_the_class_of_use_follows_from_who_can_be_there(spot, moves, words, tone):
    board = first.who_can_be_there()
    board.act_of("spot", spot)
    board.act_of("moves", moves)
    assert words not in said(board) and tones(board) == [""]  # nothing is told before the reader's word
    for _, call in first.WHOSE:
        board.act_of(call)
        assert words in said(board) and tones(board) == ["ok" if call == tone else "no"]
    board.act_of("zones", True)
    assert words in said(board)
    assert "whip goes on past both posts" in board.seen.figures[0].alt


def test_past_the_right_post_is_past_the_whip_as_drawn():
    from rigcalc.figures import first_morning as drawn

    svg = first.wire_and_people("path", True).svg
    reach = max(float(x) for x in re.findall(r"A[0-9.]+ [0-9.]+ 0 0 1 ([0-9.]+) 300", svg))
    assert drawn._SPOT_X["path"] - 18 > reach > drawn._SPOT_X["beside"] + 18


@pytest.mark.parametrize("family", ["refused-uses", "orders-to-refuse"])
def test_no_letter_is_told_to_be_safe_by_what_it_does_not_say(family):
    from rigcalc.questions import load_families

    shut = re.compile(r"fenced|locked|shut|nobody")
    for line in load_families()[family].wrong:
        told, letter = line.feedback["en"], line.en
        assert shut.search(letter) or re.search(r"First ask|carries nothing|holds nobody", told), (letter, told)
        assert not re.search(r"nobody (is )?(under|beneath)|fall on nobody", told), told


def test_the_makers_chart_governs_and_without_it_one_asks():
    board = first.which_paper()
    for paper in ("heard", "book", "shop", "other"):
        board.act_of("paper", paper)
        assert tones(board)[0] == "no", paper
    board.act_of("none")
    assert tones(board)[0] == "no"
    board.act_of("paper", "maker")
    assert tones(board)[0] == "ok"
    board.act_of("hangs_maker", False)
    assert "Chart of tool LB" not in board.seen.figures[0].alt and board.state["picked"] == ""
    board.act_of("paper", "other")
    assert "the right chart does not hang here" in said(board)
    board.act_of("none")
    assert tones(board)[0] == "ok"


def test_dangers_are_found_and_what_is_right_is_not_counted():
    board = first.find_the_dangers()
    assert "danger" not in board.seen.figures[0].alt and "Nothing wrong" not in board.seen.figures[0].svg
    board.act_of("part", "reel")
    assert tones(board)[0] == "no" and "0 found" in said(board)
    for name in first.DANGERS:
        board.act_of("part", name)
        assert tones(board)[0] == "ok"
    assert "All found" in said(board)
    board.act_of("again")
    assert board.state == {"seen": [], "last": ""}


def test_one_pull_is_said_in_both_units_and_as_what_weighs_so():
    board = first.one_force()
    board.act_of("pounds", 100)
    # 100 lbf = 444.82 N (yard and pound agreement, 1959: 0.45359237 kg x 9.80665 m/s2); what weighs so has 100 lb, 45.4 kg
    assert "100 lb [45.4 kg]" in said(board) and "100 lbf [445 N]" in said(board) and "445 N" in board.seen.figures[0].alt


def test_every_option_of_every_control_gives_a_view():
    for board in each_option_of(BOARDS):
        assert board.seen.said and all(len(one.alt) >= 20 for one in board.seen.figures)


def test_sheets_hold_what_they_must():
    sheet = str(sheets.practice_sheet())
    assert sheet.count("STOP") == 3 and "edition read aloud (edition)" in sheet and "1/8 in aluminium (count)" in sheet  # what is read off the wall does not stand on it
    assert 10 <= len(str(sheets.recap()).splitlines()) <= 16
    assert "7-148c" in str(sheets.sources()) and "6 mm" in str(first.what_the_shop_lacks())


def test_a_reel_without_a_certificate_is_told_by_whether_its_table_row_speaks():
    """As lesson 02 marks it: neither table nor certificate is refused, the table's row alone counts."""
    reels = {one.size: one for one in sample_shop().reels}
    said = {size: first._without_certificate(replace(reels[size], certificate=None, certificate_n=None)) for size in ("1/8", "6 mm", "unknown")}
    assert "the table's row alone" in said["1/8"] and "no figure" not in said["1/8"]
    assert "no table of this workbook has a row" in said["6 mm"] and "nobody can say what it is" in said["unknown"]
