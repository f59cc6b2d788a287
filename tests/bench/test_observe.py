"""Each tap is checked, numbered, written once and confirmed only then."""

from __future__ import annotations

import json

import pytest
from rigcalc.bench.observe import EVENT_BYTES, Moved, accept, live_events, take
from rigcalc.errors import Refusal
from rigcalc.room.journal import Journal

from .filled import DELA, TOMO, Book, opened


@pytest.fixture
def book():
    return Book(opened(TOMO, DELA))


SEEN = {"kind": "seen", "id": "a" * 16, "revision": 1, "candidate": "c1", "item": "T1#labels-read", "piece": 0, "result": "right", "how": "live"}


@pytest.mark.parametrize("change", [
    {"result": "fine"}, {"how": "guess"}, {"id": "x"}, {"revision": 0}, {"revision": 2}, {"candidate": "c9"}, {"item": "T1#nothing"},
    {"piece": 1}, {"kind": "opinion"}, {"item": "T1#tail-before@1"}, {"extra": 1}, {"item": "T1#cut-square", "piece": 2}, {"item": "T1#cut-square"},
])
def test_a_bad_tap_is_one_sentence(book, change):
    with pytest.raises(Refusal) as refused:
        accept(book.form, [], SEEN | change)
    assert str(refused.value).startswith("Refused: ") and str(refused.value).count("\n") == 0


def test_measured_values_say_unit_and_instrument(book):
    good = {"item": "T1#diameter", "piece": 1, "part": 0, "value": "3.18", "unit": "mm", "instrument": "caliper 0.01 mm"}
    assert book.tap("measured", **good)["value"] == "3.18"
    for change in ({"unit": "lbf"}, {"instrument": "by eye"}, {"part": 2}, {"value": "3,18"}, {"value": "-3"}, {"value": "1/0", "unit": "in"},
                   {"value": "1/8", "unit": "in"}, {"value": "3.1.8"}, {"value": ""}):
        with pytest.raises(Refusal):
            book.tap("measured", **good | change)


def test_gauge_once_again_and_never_a_third_time(book):
    crimp = {"item": "T1#crimps-gauged@1", "piece": 1, "crimp": 2}
    with pytest.raises(Refusal, match="gauge it once first"):
        book.tap("gauged", press=2, passed=True, **crimp)
    book.tap("gauged", press=1, passed=False, **crimp)
    book.tap("gauged", press=2, passed=False, **crimp)
    with pytest.raises(Refusal, match="undo"):
        book.tap("gauged", press=1, passed=True, **crimp)
    with pytest.raises(Refusal):
        book.tap("gauged", press=3, passed=True, **crimp)
    with pytest.raises(Refusal, match="chart in force"):
        book.tap("gauged", press=1, passed=True, item="T1#crimps-gauged@1", piece=1, crimp=4)


def test_undo_steps_back_the_last_tap_and_keeps_both(book):
    book.tap("seen", item="T1#labels-read", result="wrong", how="live")
    second = book.tap("seen", item="T1#labels-read", result="right", how="live")
    with pytest.raises(Refusal, match="last tap"):
        book.tap("undone", undoes=book.events[0]["id"])
    book.undo()
    assert [e["result"] for e in live_events(book.events)] == ["wrong"] and second in book.events
    book.undo()
    assert live_events(book.events) == [] and len(book.events) == 4
    with pytest.raises(Refusal, match="nothing left"):
        book.tap("undone", undoes=second["id"])


def test_own_piece_rejected_and_begun_again(book):
    book.tap("rejected", piece=1, cause="crossed-legs")
    book.tap("seen", item="T1#cut-square", piece=2, result="right", how="live")
    with pytest.raises(Refusal):
        book.tap("seen", "c2", item="T1#cut-square", piece=2, result="right", how="live")
    book.tap("rejected", piece=2, cause="other")
    with pytest.raises(Refusal):
        book.tap("rejected", piece=2, cause="other")


def test_what_failed_twice_cannot_be_called_an_own_reject(book):
    for press in (1, 2):
        book.tap("gauged", item="T1#crimps-gauged@1", piece=1, crimp=1, press=press, passed=False)
    with pytest.raises(Refusal, match="scrap already"):
        book.tap("rejected", piece=1, cause="not-closed")


def test_saving_writes_once_and_survives_a_second_sending(tmp_path, book):
    journal = Journal(tmp_path / "F1.jsonl")
    body = json.dumps(SEEN).encode()
    for _ in range(2):
        status, reply = take(book.form, journal, body, "2026-11-20T09:00:00Z")
        assert (status, reply["saved"], reply["revision"]) == (200, True, 1)
    assert len(journal.entries()) == 1
    status, reply = take(book.form, journal, json.dumps(SEEN | {"id": "b" * 16}).encode(), "now")
    assert status == 409 and [e["id"] for e in reply["events"]] == ["a" * 16]
    measured = {"kind": "measured", "id": "c" * 16, "revision": 2, "candidate": "c1", "item": "T1#tail-before@1", "piece": 1, "part": 0,
                "value": "1/4", "unit": "in", "instrument": "steel rule 0.5 mm"}
    status, reply = take(book.form, journal, json.dumps(measured).encode(), "now")
    # a quarter of an inch is 6.35 mm, exactly 2 d of 1/8
    assert (status, reply["line"]["state"]) == (200, "right")
    for number, (sent, state) in enumerate((({"kind": "wrote", "item": "T1#force-gauge", "words": "FG-7, due 2031-05-04"}, "right"),
                                            ({"kind": "wrote", "item": "T1#force-gauge", "words": "FG-7, due 2026-06-30"}, "wrong"),
                                            ({"kind": "undone", "undoes": f"{4:016x}"}, "right"), ({"kind": "wrote", "words": "Calm hands."}, None),
                                            ({"kind": "undone", "undoes": f"{6:016x}"}, None)), 3):
        status, reply = take(book.form, journal, json.dumps({"id": f"{number:016x}", "revision": number, "candidate": "c1"} | sent).encode(), "now")
        assert (status, reply.get("line", {}).get("state")) == (200, state)
    journal.close()


@pytest.mark.parametrize(("body", "status"), [(b"{", 400), (b"[]", 400), (b"\xff\xfe", 400), (b"null", 400), (b"[" * 3000, 400),
                                              (b'"' + b"x" * EVENT_BYTES + b'"', 413)])
def test_bytes_that_are_no_tap(tmp_path, book, body, status):
    journal = Journal(tmp_path / "F1.jsonl")
    said, reply = take(book.form, journal, body, "now")
    assert said == status and reply["saved"] is False and reply["say"].startswith("Refused: ") and journal.entries() == []
    journal.close()


def test_a_number_taken_by_another_page_brings_its_events(book):
    book.tap("seen", item="T1#labels-read", result="right", how="live")
    with pytest.raises(Moved) as moved:
        accept(book.form, book.events, SEEN)
    assert moved.value.events == book.events


def test_a_count_beyond_twice_the_issue_is_refused():
    book = Book(opened())
    material = book.form["issue"]["material"][0]
    with pytest.raises(Refusal, match="twice what the task issues"):
        book.tap("counted", item="T1#returned", material=material["id"], which="unused", number=2 * material["issued"] + 1)
    book.tap("counted", item="T1#returned", material=material["id"], which="unused", number=2 * material["issued"])
