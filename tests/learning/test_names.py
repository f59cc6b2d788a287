"""Names: cleaned, one file each inside their folder, and found again only by a key that this machine made."""

from __future__ import annotations

import os
import stat

import pytest
from hypothesis import given, strategies

from rigcalc.errors import Refusal
from rigcalc.learning.names import (
    LONGEST_NAME, NAME_VARIABLE, clean_name, find_learner, forget, known_learners, learner_here, name_key, names_folder, welcome,
)


@pytest.mark.parametrize("typed", ["", "  \t\n", "\u200b\u202e", "x" * (LONGEST_NAME + 1), "\ud800"])
def test_a_name_that_cannot_be_kept_is_refused_in_one_sentence(typed):
    with pytest.raises(Refusal, match="accepted: 1 to 60 characters"):
        clean_name(typed)


def test_names_that_differ_in_case_or_spaces_are_one_and_the_first_spelling_stays(home):
    first = welcome("Tomo Kessig")
    assert welcome(" tomo   KESSIG\u200b ") == first == welcome("Ｔomo Kessig")
    assert [one.name for one in known_learners()] == ["Tomo Kessig"]
    assert welcome("Dela Marrow").key != first.key


def test_names_alike_in_their_readable_part_are_two(home):
    assert welcome("Åsa").key != welcome("Ösa").key != welcome("sa").key
    assert len(known_learners()) == 3


@given(strategies.text(min_size=1, max_size=80))
def test_no_name_leaves_the_folder(typed):
    try:
        key = name_key(typed)
    except Refusal:
        return
    assert set(key) <= set("abcdefghijklmnopqrstuvwxyz0123456789-") and 16 <= len(key) <= 48 and not key.startswith("-")


@pytest.mark.parametrize("typed", ["../../desk/secret", "/etc/passwd", "con", "a\\b", "..", "<script>alert(1)</script>"])
def test_a_hostile_name_gets_a_file_in_the_folder(home, typed):
    learner = welcome(typed)
    assert learner.path.parent == names_folder() and learner.path.is_file() and learner.name == typed
    assert find_learner(learner.key) == learner


def test_only_a_key_of_a_name_that_is_there_finds_somebody(home):
    learner = welcome("Tomo Kessig")
    strange = learner.path.with_name("somebody-else-0123456789abcdef.jsonl")
    strange.write_bytes(learner.path.read_bytes())
    for key in ("", "../" + learner.key, learner.key + ".jsonl", learner.key.upper(), strange.stem, "x" * 20, "a" * 5_000):
        assert find_learner(key) is None
    assert known_learners() == [learner]


def test_a_name_is_taken_away_alone_and_with_all_that_was_kept(home):
    tomo, dela = welcome("Tomo Kessig"), welcome("Dela Marrow")
    assert forget(tomo.key) == "Tomo Kessig"
    assert known_learners() == [dela] and not tomo.path.exists()
    for key in (tomo.key, "", "../" + dela.key):
        with pytest.raises(Refusal, match="a name that is not on this machine"):
            forget(key)
    assert known_learners() == [dela]


@pytest.mark.skipif(os.name == "nt", reason="Windows has no such modes")
def test_folder_and_file_are_their_owners_alone(home):
    learner = welcome("Tomo Kessig")
    assert stat.S_IMODE(learner.path.stat().st_mode) == 0o600 and stat.S_IMODE(names_folder().stat().st_mode) == 0o700


def test_a_page_learns_the_name_from_its_servers_environment_only(home, monkeypatch):
    learner = welcome("Tomo Kessig")
    monkeypatch.delenv(NAME_VARIABLE, raising=False)
    assert learner_here() is None
    monkeypatch.setenv(NAME_VARIABLE, learner.key)
    assert learner_here() == learner
    monkeypatch.setenv(NAME_VARIABLE, "Tomo Kessig")
    assert learner_here() is None
