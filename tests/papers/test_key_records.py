"""Key records: what marking goes by and the whole of it, each found out by its hash where it is not as it was filed."""

from __future__ import annotations

import json

import msgspec
import pytest

from papers import a_class
from papers.test_marking import hand_in, marked
from rigcalc.papers.key_records import DamagedKey, keep_key_record, key_record, whole_record
from rigcalc.papers.records import canonical, sha256


def file_of(held, ending: str):
    return held.keys / f"{held.issued[0].paper_id}.{ending}"


def change(path, at: int) -> None:
    data = bytearray(path.read_bytes())
    data[at] ^= 1
    path.write_bytes(data)


def test_the_hash_of_results_and_register_is_that_of_what_marking_goes_by_which_names_the_whole(held):
    record, digest = key_record(held.keys, held.issued[0].paper_id)
    assert digest == held.issued[0].key_sha256 == sha256(file_of(held, "key").read_bytes()[64:])
    assert record.whole_sha256 == sha256(file_of(held, "json").read_bytes())
    assert whole_record(held.keys, held.issued[0].paper_id, record.whole_sha256) == a_class.key_of(held)


@pytest.mark.parametrize("at", [3, 63, 64, 80, 200, 400, 2000, -1])
def test_what_marking_goes_by_marks_nothing_once_changed(held, at):
    hand_in(held, a_class.right_answers(held))
    change(file_of(held, "key"), at)
    run = marked(held)
    assert run.results == [] and "is damaged" in run.problems[0]["what"]


def test_the_record_of_another_paper_marks_nothing(held):
    hand_in(held, a_class.right_answers(held))
    file_of(held, "key").write_bytes((held.keys / f"{held.issued[1].paper_id}.key").read_bytes())
    assert "is damaged" in marked(held).problems[0]["what"]


@pytest.mark.parametrize("at", [3, 400, 3000, -2])
def test_no_result_is_filed_where_the_paper_or_the_working_was_changed(held, tmp_path, at):
    hand_in(held, a_class.right_answers(held))
    change(file_of(held, "json"), at)
    run = marked(held, results_dir=tmp_path / "results")
    assert run.results == [] and "is damaged" in run.problems[0]["what"]
    assert marked(held).results[0]["score"] == 100  # what it is marked by is whole


def test_no_result_is_filed_where_the_paper_and_the_working_are_gone(held, tmp_path):
    hand_in(held, a_class.right_answers(held))
    file_of(held, "json").unlink()
    assert "is damaged" in marked(held, results_dir=tmp_path / "results").problems[0]["what"]


def test_a_record_without_what_marking_goes_by_marks_nothing(held):
    hand_in(held, a_class.right_answers(held))
    file_of(held, "key").unlink()
    assert "there is no key record" in marked(held).problems[0]["what"]


def test_other_weights_are_another_record(held, tmp_path):
    record = a_class.key_of(held)
    changed = json.loads(json.dumps(record))
    changed["keys"][0]["weight"] += 1
    assert keep_key_record(tmp_path, record) == held.issued[0].key_sha256
    assert keep_key_record(tmp_path, changed) != held.issued[0].key_sha256


def test_both_files_are_private(held):
    assert [file_of(held, ending).stat().st_mode & 0o777 for ending in ("key", "json")] == [0o600, 0o600]


def earlier_shape(held) -> None:
    """The record of an earlier version: fewer fields of each question, and its hash over them."""
    *front, questions = msgspec.msgpack.decode(file_of(held, "key").read_bytes()[64:])
    packed = msgspec.msgpack.encode([*front, [one[:-5] for one in questions]])
    file_of(held, "key").write_bytes(sha256(packed).encode() + packed)


def test_a_record_of_an_earlier_shape_is_made_again_from_the_whole(held):
    """Years later a paper can still be marked again, under the hash that its register names."""
    hand_in(held, a_class.right_answers(held))
    earlier_shape(held)
    digest = sha256(file_of(held, "key").read_bytes()[64:])
    result = marked(held).results[0]
    assert (result["score"], result["key_sha256"]) == (100, digest)


def test_a_record_of_an_earlier_shape_whose_whole_was_changed_marks_nothing(held):
    hand_in(held, a_class.right_answers(held))
    earlier_shape(held)
    whole = json.loads(file_of(held, "json").read_bytes())
    file_of(held, "json").write_bytes(canonical(whole | {"cut": whole["cut"] | {"marks": 1}}))
    with pytest.raises(DamagedKey):
        key_record(held.keys, held.issued[0].paper_id)
    assert "is damaged" in marked(held).problems[0]["what"]
