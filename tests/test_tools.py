"""Tools: the closure check, and which pieces go back when a tool or a gauge is found bad."""

from datetime import date, datetime, timedelta, timezone

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigcalc.errors import Refusal
from rigcalc.tools import Bad, GoodCheck, Piece, closure_check, containment

NINE, TEN, ELEVEN, NOON = (datetime(2026, 1, 5, hour) for hour in (9, 10, 11, 12))
LA = Bad("tool", "LA")


def back(pieces, bad=LA, found=NOON, checks=(GoodCheck("tool", "LA", TEN),)):
    return [piece.id for piece in containment(pieces, bad, found, checks).back]


# --- closing ------------------------------------------------------------------------------------

def test_a_tool_that_holds_at_both_ends_with_preload_closes():
    good = closure_check(True, True, True)
    assert good.closes and good.faults == () and "first piece" in good.do


@pytest.mark.parametrize("answers, words", [((False, True, True), "near end"), ((True, False, True), "far end"), ((True, True, False), "no pre-load")])
def test_each_fault_alone_puts_the_tool_out_of_use(answers, words):
    found = closure_check(*answers)
    assert not found.closes and len(found.faults) == 1 and words in found.faults[0] and found.do.startswith("Out of use")
    assert len(closure_check(False, False, False).faults) == 3


@pytest.mark.parametrize("wrong", [None, 1, "yes"])
def test_what_was_not_seen_is_not_a_pass(wrong):
    for place in range(3):
        with pytest.raises(Refusal, match="yes or no"):
            closure_check(*(wrong if n == place else True for n in range(3)))


# --- rule 9 of the trade: everything since the last good gauging is gauged again -------------------

def test_pieces_since_the_last_good_check_go_back_and_earlier_ones_do_not():
    pieces = [Piece("P1", "LA", "GA", NINE), Piece("P2", "LA", "GA", ELEVEN), Piece("P3", "LA", "GB", ELEVEN), Piece("P4", "LB", "GA", ELEVEN)]
    found = containment(pieces, LA, NOON, [GoodCheck("tool", "LA", NINE - timedelta(hours=1)), GoodCheck("tool", "LA", TEN)])
    assert [piece.id for piece in found.back] == ["P2", "P3"]
    assert [piece.id for piece in found.clear] == ["P1", "P4"]
    assert found.last_good.at == TEN and "another tool, LB" in found.clear[1].why
    assert "with a tag" in found.do and "block of its shop's file (found_bad)" in found.do and "not pressed again" in found.do


def test_a_gauge_sends_back_what_was_judged_with_it_and_another_gauge_judges():
    pieces = [Piece("P1", "LA", "GC", ELEVEN), Piece("P2", "LB", "GC", ELEVEN), Piece("P3", "LA", "GA", ELEVEN)]
    found = containment(pieces, Bad("gauge", "GC"), NOON, [GoodCheck("gauge", "GC", TEN), GoodCheck("tool", "GC", ELEVEN + timedelta(minutes=30))])
    assert [piece.id for piece in found.back] == ["P1", "P2"]
    assert "another gauge that is in date" in found.do


def test_what_is_not_known_goes_back():
    pieces = [Piece("no time", "LA", "GA", None), Piece("no tool", None, "GA", ELEVEN), Piece("neither", None, None, None), Piece("no tool, before the check", None, "GA", NINE)]
    assert back(pieces) == ["no time", "no tool", "neither"]
    assert back(pieces, checks=()) == [one.id for one in pieces]  # without a good check nothing is sure
    assert back([Piece("other", "LB", None, None)]) == []


def test_without_a_good_check_before_the_finding_everything_of_that_tool_goes_back():
    pieces = [Piece("P1", "LA", "GA", NINE), Piece("P2", "LB", "GA", NINE)]
    for checks in ((), (GoodCheck("tool", "LB", TEN),), (GoodCheck("tool", "LA", None),), (GoodCheck("tool", "LA", NOON),),
                   (GoodCheck("tool", "LA", NOON + timedelta(hours=1)),), (GoodCheck("tool", "LA", date(2026, 1, 5)),)):
        found = containment(pieces, LA, NOON, checks)
        assert [piece.id for piece in found.back] == ["P1"] and found.last_good is None
        assert "no good check" in found.back[0].why


def test_times_are_taken_strictly():
    assert back([Piece("same moment", "LA", "GA", TEN)]) == ["same moment"]
    assert back([Piece("same day", "LA", "GA", date(2026, 1, 5))]) == ["same day"]
    assert back([Piece("day before", "LA", "GA", date(2026, 1, 4))]) == []
    day = (GoodCheck("tool", "LA", date(2026, 1, 4)),)
    assert back([Piece("that day", "LA", "GA", datetime(2026, 1, 4, 7)), Piece("before", "LA", "GA", date(2026, 1, 3))], checks=day) == ["that day"]
    assert back([Piece("P", "LA", "GA", datetime(2026, 1, 4, 7))], found=date(2026, 1, 4), checks=day) == ["P"]
    assert back([Piece("later", "LA", "GA", NOON + timedelta(hours=2))]) == ["later"]


def test_the_latest_of_the_good_checks_divides():
    day_and_hour = (GoodCheck("tool", "LA", date(2026, 1, 4)), GoodCheck("tool", "LA", TEN))
    for checks in (day_and_hour, day_and_hour[::-1]):
        assert back([Piece("P", "LA", "GA", NINE)], checks=checks) == []


@pytest.mark.parametrize("call", [
    lambda: containment([], Bad("jaw", "LA"), NOON), lambda: containment([], LA, NOON, [GoodCheck("jaw", "LA", TEN)]),
    lambda: containment([], LA, None), lambda: containment([], LA, "2026-01-05"), lambda: back([Piece("P", "LA", "GA", "nine")]),
    lambda: back([Piece("P", "LA", "GA", NINE), Piece("P", "LA", "GA", TEN)]),
    lambda: back([Piece("P", "LA", "GA", NINE.replace(tzinfo=timezone.utc))]),
])
def test_what_cannot_be_told_apart_is_refused(call):
    with pytest.raises(Refusal):
        call()


@settings(max_examples=60, deadline=None)
@given(hours=st.lists(st.one_of(st.none(), st.integers(0, 40)), max_size=8), check=st.one_of(st.none(), st.integers(0, 30)), later=st.integers(0, 10))
def test_every_piece_is_told_once_and_an_earlier_check_never_clears_more(hours, check, later):
    start = datetime(2026, 1, 1)
    pieces = [Piece(str(n), "LA", "GA", None if hour is None else start + timedelta(hours=hour)) for n, hour in enumerate(hours)]

    def told(at):
        checks = () if at is None else (GoodCheck("tool", "LA", start + timedelta(hours=at)),)
        return containment(pieces, LA, start + timedelta(hours=41), checks)

    found = told(check)
    assert sorted(piece.id for piece in (*found.back, *found.clear)) == sorted(piece.id for piece in pieces)
    expected = {str(n) for n, hour in enumerate(hours) if check is not None and hour is not None and hour < check}
    assert {piece.id for piece in found.clear} == expected
    if check is not None:
        assert {piece.id for piece in told(check).clear} <= {piece.id for piece in told(check + later).clear}


# --- names --------------------------------------------------------------------------------------

@pytest.mark.parametrize("name", ["LA", "la", " LA", "L A", "la "])
def test_names_are_compared_without_case_and_blanks(name):
    pieces = [Piece("P1", name, "GA", ELEVEN), Piece("P2", "LB", "GA", ELEVEN), Piece("P3", name, "GA", NINE)]
    assert back(pieces) == ["P1"]
    assert back(pieces, Bad("tool", name)) == ["P1"]
    assert back(pieces, checks=[GoodCheck("tool", name, TEN)]) == ["P1"]


def test_a_name_that_nothing_bears_clears_nothing():
    pieces = [Piece("P1", "LA", "GA", ELEVEN), Piece("P2", "LB", "GA", NINE)]
    for bad in (Bad("tool", "LC"), Bad("tool", "?"), Bad("tool", " "), Bad("gauge", "LA")):
        assert back(pieces, bad, checks=[GoodCheck("tool", "LA", TEN)]) == ["P1", "P2"]
    found = containment(pieces, Bad("tool", "LC"), NOON)
    assert "no piece and no check bears the name LC" in found.back[0].why
    assert back(pieces, Bad("tool", "LC"), checks=[GoodCheck("tool", "LC", TEN)]) == []  # a tool that was checked is known


@pytest.mark.parametrize("unknown", [None, "", "  ", "?", "-"])
def test_a_piece_whose_tool_says_nothing_goes_back(unknown):
    assert back([Piece("P1", unknown, "GA", ELEVEN), Piece("P2", "LA", "GA", ELEVEN)]) == ["P1", "P2"]


def test_two_pieces_of_one_name_but_for_case_are_refused():
    with pytest.raises(Refusal, match="2 pieces named 'p1'"):
        back([Piece("P1", "LA", "GA", NINE), Piece("p1", "LA", "GA", NINE)])
