from __future__ import annotations

import json
from datetime import datetime, timedelta, timezone

import pytest

from papers import a_class
from rigcalc.errors import Refusal
from rigcalc.papers.answers import answers_sha256, read_returned, receipt
from rigcalc.papers.marking import mark_returned
from rigcalc.room.sitting import Closed, Conflict, Sitting, more_time

AT = datetime(2026, 5, 4, 9, 0, tzinfo=timezone.utc)


@pytest.fixture
def sitting(held):
    made = Sitting(held.room, held.issued[0].paper_id)
    made.start(AT)
    yield made
    made.close()


def slots(sitting):
    return {question["kind"]: question["slot"] for question in sitting.questions.values()}


def seen(sitting):
    return {slot: entry["revision"] for slot, entry in sitting.latest.items()}


def again(sitting):
    return Sitting(sitting.room, sitting.paper_id)


def test_what_was_saved_stands_after_reopening(sitting):
    number, choice = slots(sitting)["number"], slots(sitting)["one choice"]
    sitting.save(number, 1, "360 lb", False, AT)
    sitting.save(number, 2, "360 lbf", True, AT)
    sitting.save(choice, 1, "B", True, AT)
    state = again(sitting).state(AT)
    assert state["answers"][str(number)] == {"revision": 2, "typed": "360 lbf", "confirmed": True, "counts": "360 lbf"}
    assert state["answers"][str(choice)]["counts"] == "B"
    assert state["started"] and state["seconds_left"] == 30 * 60


@pytest.mark.parametrize("typed", ["", "abc", "360", "1,250 kN", "360 kg", "=1+1 lbf", "1" * 61 + " lbf"])
def test_what_cannot_be_read_or_is_ambiguous_can_be_saved_but_not_confirmed(sitting, typed):
    number = slots(sitting)["number"]
    assert sitting.read(number, typed)["ok"] is False
    sitting.save(number, 1, typed, False, AT)
    with pytest.raises(Refusal, match="cannot be read|more than one way"):
        sitting.save(number, 2, typed, True, AT)
    assert sitting.latest[number]["typed"] == typed and number not in sitting.counted


@pytest.mark.parametrize(("typed", "said"), [
    ("1/3 N", "'1/3 N', which cannot be read as it stands was given; accepted: 0.333333 N; type it so if this is meant."),
    ("360 pounds", "'360 pounds', which cannot be read as it stands was given; accepted: 360 lbf; type it so if this is meant."),
    ("1,250 lbf", "'1,250 lbf', which can be read in more than one way was given; accepted: 1250 lbf or 1.250 lbf; type the one you mean.")])
def test_a_confirmation_of_what_is_asked_back_names_what_may_be_meant(sitting, typed, said):
    with pytest.raises(Refusal) as refused:
        sitting.save(slots(sitting)["number"], 1, typed, True, AT)
    assert str(refused.value) == f"Refused: {said}"


def test_an_ambiguous_figure_is_asked(sitting):
    reading = sitting.read(slots(sitting)["number"], "1,250 lbf")
    assert reading["ok"] is False and len(reading["ask"]) == 2


def test_a_reading_is_said_without_any_key(sitting):
    assert sitting.read(slots(sitting)["number"], "360 lbf") == {
        "ok": True, "shown": "360 lbf (pounds-force)", "ask": None, "value": {"typed": "360 lbf"}}


def test_a_confirmed_answer_counts_until_another_is_confirmed(sitting):
    choice = slots(sitting)["one choice"]
    sitting.save(choice, 1, "B", True, AT)
    sitting.save(choice, 2, "C", False, AT)
    done = sitting.hand_in(seen(sitting), AT)
    returned = read_returned(sitting.room / "returned" / f"{sitting.paper_id}.json")
    assert [(answer.slot, answer.typed) for answer in returned.answers] == [(choice, "B")]
    assert [(draft.slot, draft.typed) for draft in returned.drafts] == [(choice, "C")]
    assert done["receipt"] == receipt(returned.answers_sha256)


def test_the_same_save_twice_is_confirmed_twice_and_written_once(sitting):
    choice = slots(sitting)["one choice"]
    first = sitting.save(choice, 1, "B", True, AT)
    size = sitting.journal.size()
    assert sitting.save(choice, 1, "B", True, AT) == first and sitting.journal.size() == size


@pytest.mark.parametrize("revision", [1, 2])
def test_an_older_window_is_told_and_its_text_is_kept(sitting, revision):
    choice = slots(sitting)["one choice"]
    sitting.save(choice, 2, "B", True, AT)
    with pytest.raises(Conflict, match="another window"):
        sitting.save(choice, revision, "C", True, AT)
    assert sitting.counted[choice]["typed"] == "B"
    kept = [entry for entry in sitting.journal.entries() if entry["kind"] == "set aside"]
    assert [entry["typed"] for entry in kept] == ["C"]


@pytest.mark.parametrize("revision", [0, -1, 10**7])
def test_a_revision_out_of_range_is_refused(sitting, revision):
    with pytest.raises(Refusal):
        sitting.save(slots(sitting)["one choice"], revision, "B", True, AT)


@pytest.mark.parametrize("kind, typed", [
    ("order", "A"), ("order", ["A", "A"]), ("order", ["Z"]), ("order", [1]), ("number", ["A"]), ("number", None),
    ("number", 5), ("number", {"a": 1}), ("one choice", ["A"]), ("one choice", "x" * 201)])
def test_the_wrong_form_is_refused(sitting, kind, typed):
    before = sitting.journal.size()
    with pytest.raises(Refusal):
        sitting.save(slots(sitting)[kind], 1, typed, False, AT)
    assert sitting.journal.size() == before


def test_an_unknown_question_is_refused(sitting):
    with pytest.raises(Refusal, match="questions 1 to 3"):
        sitting.save(99, 1, "B", True, AT)


def test_nothing_can_be_answered_before_the_start_and_a_second_start_changes_nothing(held):
    sitting = Sitting(held.room, held.issued[0].paper_id)
    assert sitting.state(AT)["seconds_left"] is None
    with pytest.raises(Closed, match="Start"):
        sitting.save(slots(sitting)["one choice"], 1, "B", False, AT)
    with pytest.raises(Closed, match="Start"):
        sitting.hand_in({}, AT)
    sitting.start(AT)
    sitting.start(AT + timedelta(minutes=5))
    assert sitting.seconds_left(AT + timedelta(minutes=5)) == 25 * 60
    sitting.close()


def test_extra_time_counts_from_the_start(held):
    sitting = Sitting(held.room, held.issued[1].paper_id)
    sitting.start(AT)
    assert sitting.seconds_left(AT) == 40 * 60
    sitting.close()


def test_after_the_time_a_save_is_kept_for_the_assessor_and_does_not_count(sitting):
    choice = slots(sitting)["one choice"]
    sitting.save(choice, 1, "B", True, AT)
    late = AT + timedelta(minutes=30, seconds=11)
    with pytest.raises(Closed, match="does not count"):
        sitting.save(choice, 2, "C", True, late)
    assert sitting.state(late)["seconds_left"] == 0
    sitting.hand_in(seen(sitting), late)
    returned = read_returned(sitting.room / "returned" / f"{sitting.paper_id}.json")
    assert [one.typed for one in returned.answers] == ["B"] and [one.typed for one in returned.late] == ["C"]


def test_a_save_under_way_when_the_time_ends_counts(sitting):
    sitting.save(slots(sitting)["one choice"], 1, "B", True, AT + timedelta(minutes=30, seconds=9))
    assert sitting.counted


def test_more_time_is_given_by_name_and_reason_while_the_sitting_is_open(sitting):
    more_time(sitting.room, sitting.paper_id, 12, "Osk Tamberlin", "power cut", AT)
    assert sitting.state(AT)["seconds_left"] == 42 * 60
    assert again(sitting).state(AT)["minutes"] == 42
    with pytest.raises(Refusal):
        more_time(sitting.room, sitting.paper_id, 12, "", "power cut", AT)


def test_handing_in_twice_gives_the_same_receipt_and_nothing_can_be_changed(sitting):
    choice = slots(sitting)["one choice"]
    sitting.save(choice, 1, "B", True, AT)
    first = sitting.hand_in(seen(sitting), AT)
    before = (sitting.room / "returned" / f"{sitting.paper_id}.json").read_bytes()
    assert sitting.hand_in({}, AT + timedelta(minutes=1)) == first
    reopened = again(sitting)
    assert reopened.hand_in({}, AT)["receipt"] == first["receipt"]
    for one in (sitting, reopened):
        with pytest.raises(Closed, match="handing in"):
            one.save(choice, 2, "C", True, AT)
    assert (sitting.room / "returned" / f"{sitting.paper_id}.json").read_bytes() == before


def test_the_receipt_stands_when_the_returned_file_was_fetched_away(sitting):
    sitting.save(slots(sitting)["one choice"], 1, "B", True, AT)
    first = sitting.hand_in(seen(sitting), AT)
    (sitting.room / "returned" / f"{sitting.paper_id}.json").unlink()
    reopened = again(sitting)
    assert reopened.state(AT)["handed_in"]["receipt"] == first["receipt"]
    with pytest.raises(Closed):
        reopened.save(slots(sitting)["one choice"], 2, "C", True, AT)


def test_nothing_unseen_is_handed_in(sitting):
    choice = slots(sitting)["one choice"]
    sitting.save(choice, 1, "B", True, AT)
    with pytest.raises(Conflict, match="as they are saved now"):
        sitting.hand_in({}, AT)
    assert sitting.state(AT)["handed_in"] is None


def test_the_receipt_ties_the_answers_to_the_paper(held, sitting):
    sitting.save(slots(sitting)["one choice"], 1, "B", True, AT)
    sitting.hand_in(seen(sitting), AT)
    record = json.loads((held.returned / f"{sitting.paper_id}.json").read_bytes())
    assert record["paper_sha256"] == held.issued[0].paper_sha256
    assert record["answers_sha256"] == answers_sha256(sitting.paper_id, held.issued[0].paper_sha256, record["answers"])
    assert answers_sha256(sitting.paper_id, held.issued[1].paper_sha256, record["answers"]) != record["answers_sha256"]


def test_a_whole_sitting_is_marked(held, sitting):
    for slot, typed in a_class.right_answers(held).items():
        sitting.save(slot, 1, typed, True, AT)
    sitting.hand_in(seen(sitting), AT)
    run = mark_returned(held.returned, held.keys, now=a_class.NOW)
    assert run.problems == [] and run.results[0]["score"] == 100 and run.results[0]["passed"]
    assert [one["candidate"]["name"] for one in run.not_returned] == ["Dela Orrin"]
