"""Lesson 03, its silver sleeves: the first look, twelve to sort, and the one that is pressed."""

from __future__ import annotations

import re

import pytest
from boards import said

from rigcalc.notebook.course import silver

DRAWS = (silver.FIRST, "00" * 16, "ab" * 16, "0123456789abcdef", "ff" * 12)


# --- the first look -------------------------------------------------------------------------------

def test_no_silver_sleeve_is_the_right_one_by_its_looks():
    for name, (words, tone) in silver.LOOKS.items():
        board = silver.first_look()
        board.act_of(name)
        assert said(board) == words and (tone == "ok") == (name == "none")


# --- twelve silver sleeves ------------------------------------------------------------------------

@pytest.mark.parametrize("fresh", DRAWS)
def test_two_of_twelve_cannot_be_known_and_one_lies_in_a_wrong_bag(fresh):
    sleeves = silver.twelve(fresh)
    unknown = [one for one in sleeves if one.known == silver.UNKNOWN]
    assert len(sleeves) == 12 and len(unknown) == 2 and unknown[0].why != unknown[1].why
    for one in unknown:  # heavy, and no honest bag that names the plating
        assert one.heavy > 3 and one.label != one.metal
    assert any(one.label == "zinc-plated copper" and one.metal == "aluminium" for one in sleeves)
    for one in sleeves:  # what the bag and the scale show is enough for what can be known, and no more
        if one.known != silver.UNKNOWN:
            assert one.known == one.metal and (one.heavy == 1) == (one.metal == "aluminium")
            assert one.metal == "aluminium" or one.label == one.metal


def test_each_look_costs_its_minutes_and_says_what_was_found():
    board = silver.sort_twelve()
    loose = next(i for i, one in enumerate(silver.twelve(), 1) if one.lies == "loose")
    assert "Spent: 0 min" in said(board)
    board.act_of("at", "1")
    board.act_of("weigh")
    board.act_of("scratch")
    assert f"Spent: {silver.MINUTES['weigh'] + silver.MINUTES['scratch']} min" in said(board) and "spent: into the scrap" in said(board)
    board.act_of("scratch")  # a second scratch finds nothing new and costs nothing
    assert "Spent: 3 min" in said(board)
    board.act_of("at", str(loose))
    before = board.state
    board.act_of("read")
    assert "has no bag" in said(board) and board.state == before
    assert dict((one.name, one) for one in board.seen.controls)["read"].label == f"Sleeve {loose} has no bag"


def sorted_board(choose):
    board = silver.sort_twelve()
    board.act_of("read_all")
    board.act_of("weigh_all")
    for number, one in enumerate(silver.twelve(), 1):
        board.act_of("at", str(number))
        board.act_of(f"sort {choose(one)}")
    board.act_of("tell")
    return board


def test_all_sorted_rightly_is_said_with_its_minutes():
    board = sorted_board(lambda one: one.known)
    bags = sum(one.lies != "loose" for one in silver.twelve())
    assert f"12 of 12 in the right place, in {bags + 12} min" in said(board)
    assert board.seen.said[0].tone == "ok" and "out of use, and into no bin" in said(board)


def test_wrong_sorting_is_told_by_cause():
    guessed = said(sorted_board(lambda one: one.metal))
    assert guessed.count("Guessed where nobody can know") == 1 and "10 of 12" in guessed
    believed = said(sorted_board(lambda one: one.label if one.label in silver.SHORT else one.known))
    assert "Believed a wrong bag" in believed
    given_up = said(sorted_board(lambda one: silver.UNKNOWN))
    assert "Given up though it can be known" in given_up and "2 of 12" in given_up


def test_nothing_is_told_before_all_twelve_are_sorted():
    board = silver.sort_twelve()
    board.act_of("tell")
    assert "Refused" in said(board) and not board.state["told"]
    for one in ("✓", "✗"):
        assert one not in board.seen.figures[0].svg


def test_twelve_others_begin_anew_and_differ():
    board = sorted_board(lambda one: one.known)
    board.act_of("fresh")
    assert board.state["sorts"] == {} and not board.state["told"] and board.state["fresh"] != silver.FIRST
    assert re.fullmatch(r"[0-9a-f]{32}", board.state["fresh"])


def test_the_pick_is_shown_in_section_on_the_reel_with_its_verdict():
    board, sleeves = sorted_board(lambda one: one.known), silver.twelve()
    words = {}
    for number, one in enumerate(sleeves, 1):
        board.act_of("at", str(number))
        figure, last = board.seen.figures[0], board.seen.said[-1]
        assert one.metal in figure.alt and "1/8 7x19 stainless" in figure.alt
        words[number] = last
        right = one.metal == one.label == "zinc-plated copper"
        assert (last.tone == "ok") == right, (number, last.text)
    text = " ".join(one.text for one in words.values())
    for part in ("use, inspect yearly. 4 crimps, cavity P", "nobody can know the plating", "Aluminium on stainless: never", "no chart in the shop file"):
        assert part in text, part
    board.act_of("reel", "R4")
    fits = next(i for i, one in enumerate(sleeves, 1) if one.metal == one.label == "aluminium")
    loose = next(i for i, one in enumerate(sleeves, 1) if one.metal == "aluminium" and one.lies == "loose")
    board.act_of("at", str(fits))
    assert board.seen.said[-1].tone == "ok" and "aluminium on galvanised" in said(board)
    board.act_of("at", str(loose))
    assert board.seen.said[-1].tone == "no" and "no bag of its own" in said(board)


def test_a_scratched_sleeve_is_not_pressed():
    board = silver.sort_twelve()
    good = next(i for i, one in enumerate(silver.twelve(), 1) if one.metal == one.label == "zinc-plated copper")
    board.act_of("at", str(good))
    board.act_of("scratch")
    for number, one in enumerate(silver.twelve(), 1):
        board.act_of("at", str(number))
        board.act_of(f"sort {one.known}")
    board.act_of("tell")
    board.act_of("at", str(good))
    assert "was scratched: it is spent" in said(board)
