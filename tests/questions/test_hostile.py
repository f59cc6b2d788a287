"""Answers are untrusted: whatever is handed in is marked or refused in one sentence, never run, never a crash."""

from __future__ import annotations

import json
from functools import lru_cache

import pytest
from a_family import composed, ids
from hypothesis import given, settings
from hypothesis import strategies as st

from rigcalc.questions import mark, read_answer

ANYTHING = st.one_of(
    st.text(max_size=300), st.integers(), st.floats(), st.none(), st.booleans(), st.binary(max_size=20),
    st.lists(st.one_of(st.text(max_size=5), st.integers(), st.none()), max_size=60),
    st.dictionaries(st.text(max_size=4), st.integers(), max_size=4),
    st.from_regex(r"[0-9.,/ \-]{0,12}(lbf|kN|N|mm|in|kg|\"|')?", fullmatch=True))


@lru_cache(maxsize=None)
def one_of_each():
    return [composed(family, 5) for family in ids()]


@settings(max_examples=400, deadline=None)
@given(typed=ANYTHING, at=st.integers(0, len(ids()) - 1))
def test_anything_is_marked_or_refused(typed, at):
    question, key = one_of_each()[at]
    told = mark(key, question, typed)
    assert set(told) - {"boxes"} == {"right", "missteps", "feedback", "section", "share"}
    sheet = question["kind"] == "sheet"
    assert isinstance(told["right"], bool) and 0 <= told["share"] <= 1 and (told["share"] == 1) == told["right"]
    assert sheet or (len(told["missteps"]) <= 2 and len(told["feedback"]) < 700)
    json.dumps(told)
    reading = read_answer(question, typed)
    assert set(reading) - {"boxes"} == {"ok", "shown", "ask", "value"} and isinstance(reading["shown"], str)
    json.dumps(reading)


@pytest.mark.parametrize("typed", ["9" * 10_000, "1/0 in", "1,250 kN", "-5 lbf", "__import__('os')", "=1+1", "1e999 N",
                                   ["A"] * 100_000, "1" * 59 + " N", "\u0000", "٣٦٠ lbf", [["A"]], [{}]])
def test_known_bad_entries_never_count(typed):
    for question, key in one_of_each():
        told = mark(key, question, typed)
        assert not told["right"] and told["missteps"] == []


@pytest.mark.parametrize("typed", [None, "", []])
def test_no_answer_says_so(typed):
    for question, key in one_of_each():
        assert mark(key, question, typed)["feedback"] == "No answer was given."
