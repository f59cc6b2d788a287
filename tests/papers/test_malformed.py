"""Thousands of answer files that are not as they must be: each is marked or refused in a sentence, none crashes."""

from __future__ import annotations

import json
import time

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from many import many
from papers import a_class
from papers.test_partial_credit import a_class_of_kinds, one_of_each_kind
from rigcalc.papers.answers import FILE_LIMIT, answers_sha256, receipt, returned_record
from rigcalc.papers.marking import mark_returned
from rigcalc.papers.records import canonical

JSON = st.recursive(st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=30),
                    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=12), inner, max_size=4),
                    max_leaves=12)
LETTERS = st.lists(st.sampled_from("ABCDEFGabcd") | st.text(max_size=4), max_size=8)
FIGURE = st.builds("{}{}{}".format, st.sampled_from(["", "-", "+", "=", "1/", "3 1/8 ", "１"]),
                   st.integers(0, 10**9) | st.floats() | st.sampled_from(["1,250", "1.2.3", "1e999", "1/0", "0x10", "∞"]),
                   st.sampled_from(["", " lbf", " N", " kN", "lbf", " kg", " mm", "\"", " lbf; import os", "\x00"]))
TYPED = st.text(max_size=220) | FIGURE | LETTERS | JSON
MANY = settings(max_examples=many(130, 600), deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """A paper with a question of every kind, parts counting."""
    held = a_class_of_kinds(tmp_path_factory.mktemp("class"), one_of_each_kind(), "shares")
    held.returned.mkdir(exist_ok=True)
    rows = [{"slot": slot, "typed": typed, "revision": 1, "at": a_class.NOW}
            for slot, typed in a_class.right_answers(held).items()]
    held.record = returned_record(a_class.paper_of(held), rows, handed_in_at=a_class.NOW)
    return held


def one_file(held, data: bytes):
    """Mark one file; whatever it holds, it is either a result or a named problem, and soon."""
    path = held.returned / f"{held.issued[0].paper_id}.json"
    path.write_bytes(data)
    began = time.monotonic()
    run = mark_returned(held.returned, held.keys, now=a_class.NOW)
    assert time.monotonic() - began < 2
    assert len(run.results) + len(run.problems) == 1
    for problem in run.problems:
        assert problem["file"] == path.name and 10 < len(problem["what"]) < 600
    for result in run.results:
        canonical(result)
        assert 0 <= result["score"] <= 100
    return run


def sealed(record: dict) -> bytes:
    """The record with hashes that fit, so that the marking itself meets what is in it."""
    try:
        record = record | {"answers_sha256": answers_sha256(record["paper_id"], record["paper_sha256"], record["answers"])}
        record["receipt"] = receipt(record["answers_sha256"])
    except (KeyError, TypeError, ValueError, AttributeError):
        pass
    return json.dumps(record).encode()


@MANY
@given(st.binary(max_size=400))
def test_bytes_of_any_kind(made, data):
    one_file(made, data)


@MANY
@given(JSON)
def test_json_of_any_shape(made, value):
    assert one_file(made, json.dumps(value).encode()).problems


@MANY
@given(st.dictionaries(st.sampled_from(["form", "paper_id", "paper_sha256", "candidate_id", "answers", "answers_sha256", "receipt",
                                        "handed_in_at", "started_at", "drafts", "late", "typed_in", "key", "__class__"]), JSON,
                       min_size=1, max_size=3))
def test_fields_exchanged(made, changes):
    one_file(made, sealed(made.record | changes))


@MANY
@given(st.dictionaries(st.integers(1, 7), TYPED, max_size=4))
def test_answers_of_any_kind_under_a_fitting_hash(made, typed):
    right = {row["slot"]: row["typed"] for row in made.record["answers"]}
    rows = [{"slot": slot, "typed": value, "revision": 1, "at": ""} for slot, value in (right | typed).items()]
    for result in one_file(made, sealed(made.record | {"answers": rows})).results:
        weights = {slot["slot"]: slot["weight"] for slot in result["slots"]}
        untouched = [slot for slot in right if slot not in typed or typed[slot] == right[slot]]
        assert result["score"] >= sum(weights[slot] for slot in untouched)


@MANY
@given(st.lists(st.tuples(st.integers(0, 4000), st.sampled_from(["cut", "flip", "double", "drop"]), st.integers(0, 255)),
                min_size=1, max_size=6))
def test_a_good_file_damaged_by_bytes(made, hurts):
    data = bytearray(canonical(made.record))
    for place, how, byte in hurts:
        at = place % max(1, len(data))
        if how == "cut":
            del data[at:]
        elif how == "flip" and data:
            data[at] = byte
        elif how == "double":
            data[at:at] = data[at:at + 50]
        else:
            del data[at:at + 5]
    run = one_file(made, bytes(data))
    if run.results:  # what still marks must still be the answers that were handed in
        assert run.results[0]["answers_sha256"] == made.record["answers_sha256"]


@pytest.mark.parametrize("data", [
    b'{"a":' * 200_000, b"[" * 100_000 + b"]" * 100_000, b'{"form":' + b"9" * 100_000 + b"}", b'"' + b"\\u0000" * 30_000 + b'"',
    b" " * (FILE_LIMIT + 1), b'{"form":1,"paper_id":"\\ud800"}', b"\xef\xbb\xbf{}"])
def test_files_made_to_hurt(made, data):
    assert one_file(made, data).problems
