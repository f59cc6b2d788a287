"""The short form of a key record: used only where every byte of both fits, and marking as the key record does."""

from __future__ import annotations

import json

import msgspec
import pytest

from papers import a_class
from papers.test_marking import hand_in, marked
from rigcalc.papers import marking
from rigcalc.papers.hashed_records import hashed
from rigcalc.papers.records import canonical, sha256
from rigcalc.papers.short_records import keep_key_record, short_of, with_short


def name_of(held, number: int = 0) -> str:
    return held.issued[number].paper_id


def short_found(held):
    return short_of(hashed(held.keys, name_of(held)))


def without_short(held) -> None:
    (held.keys / f"{name_of(held)}.short").unlink()


def test_both_forms_give_the_same_result(held):
    right, wrong = a_class.right_answers(held), a_class.wrong_answers(held)
    odd = {slot: f" {typed.lower()} " if isinstance(typed, str) else typed for slot, typed in right.items()}
    for answers in (right, wrong, odd, {}):
        (held.returned / f"{name_of(held)}.json").unlink(missing_ok=True)
        hand_in(held, answers)
        assert short_found(held)
        by_short = marked(held).results
        kept = (held.keys / f"{name_of(held)}.short").read_bytes()
        without_short(held)
        assert short_found(held) is None and marked(held).results == by_short and len(by_short) == 1
        (held.keys / f"{name_of(held)}.short").write_bytes(kept)


def test_marking_goes_by_the_short_form_where_it_may(held, monkeypatch):
    hand_in(held, a_class.right_answers(held))
    asked = []
    whole = marking._whole_record
    monkeypatch.setattr(marking, "_whole_record", lambda *given: asked.append(given) or whole(*given))
    assert marked(held).results and asked == []
    without_short(held)
    assert marked(held).results and len(asked) == 1


@pytest.mark.parametrize("at", [3, 80, 400, -1])
def test_a_changed_short_form_is_passed_over(held, at):
    hand_in(held, a_class.right_answers(held))
    path = held.keys / f"{name_of(held)}.short"
    data = bytearray(path.read_bytes())
    data[at] ^= 1
    path.write_bytes(data)
    assert short_found(held) is None and marked(held).results[0]["score"] == 100


def test_a_changed_key_record_is_never_hidden_by_its_short_form(held):
    hand_in(held, a_class.right_answers(held))
    path = held.keys / f"{name_of(held)}.json"
    path.write_bytes(path.read_bytes().replace(b'"title":"Short', b'"title":"Shirt'))
    assert short_found(held) is None and "key record" in marked(held).problems[0]["what"]


def test_a_short_form_of_other_answers_does_not_fit_the_key_record(held):
    record = a_class.key_of(held)
    changed = json.loads(json.dumps(record))
    changed["keys"][0]["weight"] += 1
    keep_key_record(held.keys, with_short(changed))
    (held.keys / f"{name_of(held)}.json").write_bytes(canonical(record))
    assert short_found(held) is None


def test_an_older_key_record_is_marked_and_stays_as_it_was(tmp_path):
    held = a_class.set_class(tmp_path)
    path = held.keys / f"{name_of(held)}.json"
    older = {field: value for field, value in json.loads(path.read_bytes()).items() if field != "short_sha256"}
    path.write_bytes(canonical(older))
    without_short(held)
    hand_in(held, a_class.right_answers(held))
    assert marked(held).results[0]["score"] == 100
    again = a_class.set_class(tmp_path)
    assert path.read_bytes() == canonical(older) and again.issued[0].key_sha256 == sha256(canonical(older))
    assert not (held.keys / f"{name_of(held)}.short").exists()


def test_the_short_form_is_private(held):
    assert (held.keys / f"{name_of(held)}.short").stat().st_mode & 0o777 == 0o600



def test_a_short_form_of_an_earlier_shape_is_passed_over_and_the_record_marked(held):
    """Key records given out with it are bound to it by hash, so both stay as they are."""
    hand_in(held, a_class.right_answers(held))
    record, path = a_class.key_of(held), held.keys / f"{name_of(held)}.short"
    *front, questions = msgspec.msgpack.decode(path.read_bytes()[64:])
    earlier = msgspec.msgpack.encode([*front, [one[:-5] for one in questions]])
    data = canonical(record | {"short_sha256": sha256(earlier)})
    (held.keys / f"{name_of(held)}.json").write_bytes(data)
    path.write_bytes(sha256(data).encode() + earlier)
    found = hashed(held.keys, name_of(held))
    assert found.named == found.short_digest and short_of(found) is None
    assert marked(held).results[0]["score"] == 100
