"""Whatever was entered again as something else reaches whoever decides: any line, on every piece begun, and every cause."""

from __future__ import annotations

import pytest
from rigcalc.bench.changed import entered_again

from .filled import DELA, TOMO, Book, opened

LINE = "T1#witness-mark@1"


def told(book: Book, candidate: str = "c1") -> list[str]:
    return entered_again(book.form, book.events, candidate)


def see(book: Book, *results: str, item: str = LINE, piece: int = 1, candidate: str = "c1") -> None:
    for result in results:
        book.tap("seen", candidate, piece=piece, item=item, result=result, how="live")


def test_a_line_that_is_neither_critical_nor_required_is_told_too():
    book = Book(opened())
    line = book.line(LINE)
    assert not line["critical"] and not line["required"]
    see(book, "wrong", "right")
    assert told(book) == [f"{line['number']} was tapped wrong, then right"] == book.outcome()["changed"]


def test_what_was_entered_twice_alike_is_no_change():
    book = Book(opened()).fill().fill()
    assert told(book) == []


def test_a_change_on_a_rejected_piece_is_told_with_its_piece():
    book = Book(opened())
    see(book, "wrong", "right")
    book.tap("rejected", piece=1, cause="bent-sleeve")
    see(book, "right", piece=2)
    see(book, "right", "not seen", item="T1#full-strokes@1", piece=2)
    number, strokes = (book.line(key)["number"] for key in (LINE, "T1#full-strokes@1"))
    assert sorted(told(book)) == sorted([f"{number} on piece 1 was tapped wrong, then right", f"{strokes} on piece 2 was tapped right, then not seen"])
    weighed = " ".join(book.outcome()["to_weigh"])
    assert all(one in weighed for one in told(book))


def test_right_on_one_piece_and_wrong_on_the_next_is_no_change():
    book = Book(opened())
    see(book, "wrong")
    book.tap("rejected", piece=1, cause="crack")
    see(book, "right", piece=2)
    assert told(book) == []


def test_a_crimp_passed_that_was_not_is_told_and_the_second_gauging_is_no_change():
    book = Book(opened())
    gauge = book.line("T1#crimps-gauged@1")
    for crimp, press, passed in ((1, 1, False), (1, 2, True), (2, 1, False), (2, 1, True)):
        book.tap("gauged", piece=1, item=gauge["key"], crimp=crimp, press=press, passed=passed)
    assert told(book) == [f"{gauge['number']} was entered (crimp 2) as not passed, then passed"]


@pytest.mark.parametrize(("causes", "said"), [
    ((None, "crack"), ""), (("crack", "crack"), ""),
    (("crack", "twisted"), "reject (sleeve cracked), then reject (eyes out of plane, cable twisted)"),
    (("crack", None), "reject (sleeve cracked), then reject (no cause yet)"),
    (("crack", None, "twisted"), "reject (sleeve cracked), then reject (eyes out of plane, cable twisted)"),
])
def test_a_changed_cause_of_a_finished_piece_is_told(causes, said):
    book = Book(opened())
    for cause in causes:
        book.tap("called", item="T7#piece-calls", number="7", call="reject", cause=cause)
    assert told(book) == ([f"finished piece 7 was called {said}"] if said else [])


def test_a_tap_taken_back_and_entered_otherwise_is_told_and_one_entered_alike_is_not():
    book = Book(opened())
    book.tap("rejected", piece=1, cause="crack")
    book.undo()
    book.tap("rejected", piece=1, cause="bent-sleeve")
    assert told(book) == ["own piece 1 was rejected for sleeve cracked (taken back), then sleeve bent like a banana"]
    again = Book(opened())
    for _ in range(2):
        see(again, "wrong")
        again.undo()
    assert told(again) == []
    see(again, "right")
    assert told(again) == [f"{again.line(LINE)['number']} was tapped wrong (taken back), then right"]


def test_a_change_is_told_of_the_candidate_it_belongs_to_alone():
    book = Book(opened(TOMO, DELA))
    see(book, "wrong", "right", candidate="c2")
    assert told(book) == [] and len(told(book, "c2")) == 1
