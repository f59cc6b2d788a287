"""The rules: nobody passes on what was not seen, the gauge twice and no more, and the set's false passes and rejects apart."""

from __future__ import annotations

import json
from fractions import Fraction

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from rigcalc.bench.lines import line_state
from rigcalc.bench.sealed import agreement, check_set
from rigcalc.errors import Refusal

from .filled import DELA, KEY, TOMO, Book, opened, opened_before

CRITICAL = sorted({i["key"] for s in opened()["stages"] for i in s["items"] if i["critical"] and i["when"] == "always" and i["kind"] != "calls"})


def full(**how) -> Book:
    return Book(opened()).fill(**how)


def test_a_whole_good_day_is_proposed_as_a_pass():
    result = full().outcome()
    assert result["passed"], result["reasons"]
    assert result["identity"] == "photo card seen"
    assert result["shown"] == {"sleeve_metal": "aluminium", "cable_metal": "galvanised", "construction": "7x19", "tool": "LB", "cavity": "P",
                               "sizes": ["1/8"]}
    assert "other sizes of tool LB: 5/32, 3/16" in result["not_shown"] and "lap splice" in result["not_shown"]
    assert result["skills"]["31"] == "shown"
    json.dumps(result)


def test_a_skill_without_an_occasion_is_not_shown():
    """No crimp failed, no sleeve tilted, no second failure: nobody saw what would have been done."""
    book = full(skip=("T1#re-centres@1", "T1#re-centres@2"))
    for eye in (1, 2):
        book.tap("seen", piece=1, item=f"T1#re-centres@{eye}", result="no occasion", how="live")
    result = book.outcome()
    assert result["passed"], result["reasons"]
    assert {number: result["skills"][number] for number in ("40", "43", "44", "45")} == {
        "40": "no occasion", "43": "shown", "44": "no occasion", "45": "no occasion"}
    book.tap("seen", piece=1, item="T1#re-centres@2", result="right", how="live")
    crimped = next(i["key"] for s in book.form["stages"] for i in s["items"] if i["kind"] == "gauge" and i["eye"] == 2)
    book.tap("gauged", piece=1, item=crimped, crimp=1, press=1, passed=False)
    book.tap("gauged", piece=1, item=crimped, crimp=1, press=2, passed=True)
    assert {number: book.outcome()["skills"][number] for number in ("40", "44")} == {"40": "shown", "44": "shown"}


def test_no_occasion_is_taken_only_where_a_line_offers_it():
    book = full()
    with pytest.raises(Refusal, match="right, wrong or not seen"):
        book.tap("seen", piece=0, item="T1#right-metal", result="no occasion", how="live")
    assert not any(item["on_occasion"] and item["critical"] and item["kind"] == "see" for s in book.form["stages"] for item in s["items"])


@pytest.mark.parametrize("key", CRITICAL)
def test_a_critical_line_left_out_is_no_pass(key):
    result = full(skip=(key,)).outcome()
    assert not result["passed"]
    assert [x["key"] for x in result["not_seen"]] == [key]
    assert any("nobody passes on what was not seen" in reason for reason in result["reasons"])


@pytest.mark.parametrize("key", [k for k in CRITICAL if k.rpartition("#")[2].partition("@")[0] not in
                                 ("diameter", "tail-before", "tail-after", "crimps-gauged")])
def test_a_critical_line_seen_wrong_or_not_seen_is_no_pass(key):
    wrong, unseen = full(wrong=(key,)).outcome(), full(unseen=(key,)).outcome()
    assert [x["key"] for x in wrong["criticals_failed"]] == [key] and not wrong["passed"]
    assert [x["key"] for x in unseen["not_seen"]] == [key] and not unseen["passed"]


def test_any_line_without_a_tap_is_named_and_blocks():
    result = full(skip=("T1#witness-mark@2",)).outcome()
    assert [x["key"] for x in result["missing"]] == ["T1#witness-mark@2"] and not result["passed"]


@pytest.mark.parametrize(("key", "values", "within"), [
    ("T1#tail-before@1", ["6.4"], True), ("T1#tail-before@1", ["6.35"], True), ("T1#tail-before@1", ["6.3"], False),
    # far under 2 d = 6.35 mm and right after pressing: the sleeve has grown towards the tail
    ("T1#tail-after@2", ["0.5"], True), ("T1#tail-after@2", ["0"], False),
    ("T1#tail-before@1", ["900"], False), ("T1#tail-after@2", ["900"], False),
    ("T1#diameter", ["3.15", "3.20"], True), ("T1#diameter", ["3.14", "3.20"], False), ("T1#diameter", ["4.00", "4.01"], False),
    ("T1#pin-to-pin", ["503"], True), ("T1#pin-to-pin", ["503.5"], False), ("T1#pin-to-pin", ["496.5"], False),
    ("T1#gaps@1", ["1", "3"], True), ("T1#gaps@1", ["1", "3.5"], False), ("T1#gaps@1", ["0.4", "0.6"], False),
])
def test_measured_values_against_their_limits(key, values, within):
    result = full(typed={key: values}).outcome()
    line = next(x for x in result["lines"] if x["key"] == key)
    assert (line["state"] == "right") is within
    assert result["passed"] is (within or not line["critical"])
    measured = next(m for m in result["measured"] if m["number"] == line["number"])
    assert measured["source"] and [value["shown"] for value in measured["values"]] == [f"{value} mm" for value in values]


# AC 43.13-1B Table 7-3: how much a size may be over its name, in thousandths of an inch
PLUS = {"1/16": 10, "1/8": 14, "5/32": 16, "3/16": 18}
OF_SIZE = {size: opened(piece={"size": size}, tool="LA" if size == "1/16" else "LB") for size in PLUS}


@settings(max_examples=60, deadline=None)
@example("1/16", 153, 3)
@example("1/16", 154, 0)
@example("1/16", 189, 3)
@example("1/16", 190, 0)
@example("1/16", 401, -1)
@example("1/16", 16000, 0)
@given(st.sampled_from(sorted(PLUS)), st.integers(0, 600) | st.integers(0, 16000), st.integers(-7, 7))
def test_a_diameter_is_near_the_assessors_and_the_assessors_is_one_of_the_forms_cable(size, yours, apart):
    theirs = max(yours + apart, 0)
    state = _read(OF_SIZE[size], theirs, yours)
    name = Fraction(size)
    of_it = (name * 2540 - 5 <= yours <= (name + Fraction(PLUS[size], 1000)) * 2540 + 5)
    near = abs(theirs - yours) <= 5
    assert (state["state"] == "right") is (of_it and near)
    assert (f"is no {size} cable" in state["why"]) is not of_it and ("are not near each other" in state["why"]) is not near


def test_a_form_opened_before_is_read_as_before():
    book = Book(opened_before()).fill(method="pull", typed={"T1#diameter": ["4.00", "4.01"], "T1#force-gauge": "FG-7, due 2026-06-30"})
    assert book.outcome()["passed"] and book.outcome()["destructive"]["instrument"] == "FG-7, due 2026-06-30"


def _read(form: dict, theirs: int, yours: int) -> dict:
    """How the diameter stands, read in hundredths of a millimetre."""
    book = Book(form)
    for part, value in enumerate((theirs, yours)):
        book.tap("measured", item="T1#diameter", piece=1, part=part, value=f"{value / 100:.2f}", unit="mm", instrument="caliper 0.01 mm")
    return line_state(form, book.events, "c1", 1, book.line("T1#diameter"))


def test_pressed_again_once_and_passed():
    book = full(skip=("T1#crimps-gauged@1",))
    for crimp, press, passed in ((1, 1, True), (2, 1, False), (2, 2, True), (3, 1, True)):
        book.tap("gauged", item="T1#crimps-gauged@1", piece=1, crimp=crimp, press=press, passed=passed)
    result = book.outcome()
    assert result["passed"] and any("pressed again once" in said for said in result["to_weigh"])


@pytest.mark.parametrize("contained", [True, False])
def test_second_failure_scraps_the_piece_and_asks_for_the_rest(contained):
    book = full(skip=("T1#crimps-gauged@1",))
    for press in (1, 2):
        book.tap("gauged", item="T1#crimps-gauged@1", piece=1, crimp=2, press=press, passed=False)
    for name in ("scraps-piece", "quarantines-tool", "checks-back"):
        result = "right" if contained or name != "checks-back" else "wrong"
        book.tap("seen", item=f"T1#{name}@1", piece=1, result=result, how="live")
    result = book.outcome()
    assert not result["passed"] and result["pieces_made"]["scrapped_at_gauge"] and not result["pieces_made"]["finished"]
    assert result["containment"]["right"] is contained and result["skills"]["45"] == ("shown" if contained else "shown wrong")
    assert [x["item"] for x in result["criticals_failed"]] == ([] if contained else ["T1#crimps-gauged", "T1#checks-back"])
    assert result["tool_stopped_by"] == "Tomo Kessig"


def test_containment_not_tapped_is_missing():
    book = full(skip=("T1#crimps-gauged@1",))
    for press in (1, 2):
        book.tap("gauged", item="T1#crimps-gauged@1", piece=1, crimp=1, press=press, passed=False)
    assert {x["item"] for x in book.outcome()["not_seen"]} == {"T1#scraps-piece", "T1#quarantines-tool", "T1#checks-back"}


def test_own_reject_is_judgement_and_the_next_piece_counts():
    form = opened()
    book = Book(form)
    book.tap("seen", item="T1#sleeve-threaded@1", piece=1, result="wrong", how="live")
    book.tap("rejected", piece=1, cause="crossed-legs")
    result = book.fill(piece=2).outcome()
    assert result["passed"], result["reasons"]
    assert result["pieces_made"]["rejected_by_candidate"][0]["text"] == "legs crossed or wire caught"
    assert any("judgement, not failure" in said for said in result["to_weigh"])


def test_forcing_the_gauge_counts_on_a_rejected_piece_too():
    book = Book(opened())
    book.tap("seen", item="T1#nothing-forced@1", piece=1, result="wrong", how="live")
    book.tap("rejected", piece=1, cause="other")
    result = book.fill(piece=2).outcome()
    assert [x["item"] for x in result["criticals_failed"]] == ["T1#nothing-forced"]


def test_eye_protection_seen_wrong_once_stays():
    book = full()
    book.tap("seen", item="T1#ppe-throughout", result="wrong", how="live")
    book.tap("seen", item="T1#ppe-throughout", result="right", how="live")
    assert [x["item"] for x in book.outcome()["criticals_failed"]] == ["T1#ppe-throughout"]


def test_every_issued_piece_rejected_leaves_nothing_to_judge():
    book = full()
    book.tap("rejected", piece=1, cause="crack")
    book.tap("rejected", piece=2, cause="crack")
    assert any("no finished piece" in reason for reason in book.outcome()["reasons"])


def call(book: Book, number: str, made: str, cause: str | None = None) -> None:
    book.tap("called", item="T7#piece-calls", number=number, call=made, cause=cause)


def test_passing_a_critical_fault_fails_alone_and_a_wrong_reject_does_not():
    book = full()
    call(book, "3", "reject", "crack")
    result = book.outcome()
    assert result["passed"] and result["pieces"]["false_rejects"] == ["3"] and result["pieces"]["right"] == 5
    assert any("does not fail alone" in said for said in result["to_weigh"])
    call(book, "8", "reject", "crack")
    assert not book.outcome()["passed"]
    book = full()
    call(book, "7", "pass")
    result = book.outcome()
    assert not result["passed"] and result["pieces"]["critical_passed"] == ["7"]
    book = full()
    call(book, "14", "pass")
    result = book.outcome()
    # a missing crimp passed: one false pass, not critical, five of six right
    assert result["pieces"]["false_passes"] == ["14"] and result["pieces"]["critical_passed"] == [] and result["passed"]


def test_right_for_wrong_reasons_is_no_pass():
    book = full()
    for number in ("7", "11"):
        call(book, number, "reject", "twisted")
    result = book.outcome()
    assert result["pieces"]["right"] == 6 and result["pieces"]["causes_right"] == 2 and not result["passed"]


def test_calls_without_the_key_stay_unmarked():
    result = full().outcome(key=None)
    assert not result["passed"] and result["pieces"]["marked"] is False and "right" not in result["pieces"]


def test_a_set_that_shows_nothing_and_a_wrong_key_are_refused():
    form = opened()
    with pytest.raises(Refusal, match="other pieces"):
        check_set(form["set_rule"], form["causes"], form["set"]["pieces"], {"id": "S1", "pieces": dict.fromkeys(form["set"]["pieces"])})
    with pytest.raises(Refusal, match="without piece 20"):
        full().outcome(key={"id": "S1", "pieces": {k: v for k, v in KEY["pieces"].items() if k != "20"}})
    with pytest.raises(Refusal, match="key of set S1"):
        full().outcome(key=KEY | {"id": "S2"})


def test_kappa_of_a_printed_table():
    # two-by-two table 20, 5, 10, 15: agreement 0.70, chance 0.50, kappa 0.40 (worked by hand)
    pairs = [("pass", "pass")] * 20 + [("pass", "reject")] * 5 + [("reject", "pass")] * 10 + [("reject", "reject")] * 15
    assert agreement(pairs) == (0.7, 0.4)


@pytest.mark.parametrize(("method", "wrong", "typed", "good"), [
    ("section", (), {}, True), ("section", ("T1#section-valleys",), {}, False), ("section", ("T1#section-no-void",), {}, False),
    ("pull", (), {}, True), ("pull", (), {"T1#pull-load": ["1799"]}, False), ("pull", (), {"T1#pull-load": ["1800"]}, True),
])
def test_one_piece_pulled_or_sectioned(method, wrong, typed, good):
    result = full(method=method, wrong=wrong, typed=typed).outcome()
    assert result["destructive"]["method"] == method and result["destructive"]["passed"] is good and result["passed"] is good
    pulled = [value["shown"] for one in result["measured"] if one["item"] == "T1#pull-load" for value in one["values"]]
    assert pulled == ([f"{typed.get('T1#pull-load', ['1850'])[0]} lbf"] if method == "pull" else [])


@pytest.mark.parametrize(("words", "state", "why"), [
    ("FG-7, due 2026-11-20", "right", "FG-7, due 2026-11-20"), ("due 2031-05-04: no 12", "right", "due 2031-05-04: no 12"),
    ("FG-7, due 2026-11-19", "wrong", "due 2026-11-19, before the day of the test"), ("FG-7, due 2026-06-30", "wrong", "due 2026-06-30, before the day of the test"),
    *((words, "none", "no date such as 2031-05-04 in it") for words in
      ("FG-7", "FG-7, due soon", "FG-7, due 2031-02-30", "FG-7, due 30.06.2031", "FG-7, due 06/30/2031", "FG-2031-05-04", "FG-7, due 2031-05", "12031-05-04")),
    ("2031-05-04", "none", "a date alone: write the number of what was used too"),
    *((words, "none", "more than one date in it: write one alone, the date it is due") for words in
      ("FG-7, checked 2026-01-05, due 2031-05-04", "FG-7, due 2026-06-30, checked 2031-05-04", "FG-7, checked 2031-05-04, due 30.06.2026")),
    (" ", "none", "nothing written"),
])
def test_the_force_gauge_must_be_in_date_on_the_forms_day(words, state, why):
    result = full(method="pull", typed={"T1#force-gauge": words}).outcome()
    line = next(one for one in result["lines"] if one["item"] == "T1#force-gauge")
    assert (line["state"], line["why"]) == (state, why)
    good = state == "right"
    assert result["passed"] is result["destructive"]["passed"] is good and result["destructive"]["instrument"] == (words if good else None)
    said = {"wrong": f"{line['number']} {line['text']}: {why}.", "none": f"Not filled in, {line['number']} {line['text']}: {why}."}.get(state)
    assert result["reasons"] == [said] if said else "every line is filled" in result["reasons"][0]


def test_slip_in_the_sleeve_fails_the_pull():
    book = full(method="pull")
    book.tap("chose", item="T1#pull-mode", choice="cable slipped in the sleeve")
    result = book.outcome()
    assert not result["passed"] and result["destructive"]["mode"] == "cable slipped in the sleeve"


def test_neither_pulled_nor_sectioned_is_no_pass():
    form = opened()
    assert not Book(form).fill(method="none", skip=("T1#method",)).outcome()["passed"]


def test_material_is_counted_out_and_back():
    book = full()
    book.tap("counted", item="T1#returned", material="sleeves", which="unused", number=1)
    result = book.outcome()
    assert not result["passed"] and any("hidden spare" in reason for reason in result["reasons"])


def test_help_needs_its_words():
    book = full()
    given = book.tap("helped", item="thread@1")
    assert not book.outcome()["passed"]
    book.tap("wrote", about=given["id"], words="Look at the tail again.")
    result = book.outcome()
    assert result["passed"] and result["help"][0]["words"] == "Look at the tail again."
    assert any("Look at the tail again." in said for said in result["to_weigh"])


def test_points_that_are_not_critical_add_up():
    three = ("T1#witness-mark@1", "T1#witness-mark@2", "T1#tail-marked@1")
    assert full(wrong=three).outcome()["passed"]
    assert not full(wrong=(*three, "T1#labels-read")).outcome()["passed"]


def test_another_gauge_in_hand_stops_the_day():
    book = full()
    book.tap("chose", item="T1#gauge-in-hand", choice="it is another gauge, or the date differs")
    result = book.outcome()
    assert not result["passed"] and [x["item"] for x in result["required_wrong"]] == ["T1#gauge-in-hand"]


def test_two_candidates_are_judged_apart():
    book = Book(opened(TOMO, DELA)).fill("c1").fill("c2", wrong=("T1#full-strokes@2",))
    assert book.outcome("c1")["passed"] and not book.outcome("c2")["passed"]
    with pytest.raises(Refusal, match="candidate of this form"):
        book.outcome("c3")


def test_a_changed_critical_tap_is_said():
    book = full()
    book.tap("seen", item="T1#full-strokes@1", piece=1, result="wrong", how="live")
    book.tap("seen", item="T1#full-strokes@1", piece=1, result="right", how="live")
    result = book.outcome()
    assert result["passed"] and any("right, then wrong, then right" in said for said in result["to_weigh"])


def test_what_was_entered_again_as_something_else_is_told_to_whoever_decides():
    """A gauge's day, a reading, a count or a choice put right after closing is never silent."""
    book = full(method="pull", typed={"T1#force-gauge": "FG-7, due 2026-06-30"})
    for item, kind, again in (("T1#force-gauge", "wrote", {"words": "FG-7, due 2031-05-04"}), ("T1#diameter", "measured", {"part": 0, "value": "3.20", "piece": 1}),
                              ("T1#returned", "counted", {"number": 0})):
        last = next(e for e in reversed(book.events) if e.get("item") == item and e["kind"] == kind)
        book.tap(kind, **{name: value for name, value in last.items() if name not in ("kind", "id", "revision", "candidate", "at", "saved_at")} | again)
    call = next(e for e in book.events if e["kind"] == "called" and e["call"] == "reject")
    book.tap("called", item=call["item"], number=call["number"], call="pass")
    book.tap("called", **{name: call[name] for name in ("item", "number", "call", "cause")})
    for words in ("Slow.", "Steady, and slow at the first stroke."):
        book.tap("wrote", about="", words=words)
    told = " ".join(book.outcome()["to_weigh"])
    assert f"finished piece {call['number']} was called reject (sleeve cracked), then pass, then reject (sleeve cracked)." in told
    assert 'The assessor wrote: "Steady, and slow at the first stroke."' in told and told.count("Slow.") == 1
    assert "the assessor's words were \"Slow.\" (" in told
    assert "was entered as 'FG-7, due 2026-06-30', then 'FG-7, due 2031-05-04'." in told and "was entered (value 1) as" in told and "then 3.20 mm." in told
    assert f"was entered ({last['material']}, {last['which']}) as {last['number']}, then 0." in told
