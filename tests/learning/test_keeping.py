"""The exercise keeps each marked answer with the help used, says when a skill becomes sure, and outlives a failing disk."""

from __future__ import annotations

import os

import pytest

from learning.conftest import ONE, OTHER, SKILL, day
from rigcalc.learning.keeping import NOT_KEPT, keep_answer
from rigcalc.learning.log import lines_of
from rigcalc.learning.names import NAME_VARIABLE, names_folder, welcome
from rigcalc.notebook.form import Exercise
from rigcalc.notebook.practice import MorePractice
from rigcalc.questions import Stream

NOW_SURE = f"Kept: {SKILL.sentence[0].lower()}{SKILL.sentence[1:-1]} is now sure."


@pytest.fixture
def tomo(home, monkeypatch):
    """A learner for whom this process was started."""
    learner = welcome("Tomo Kessig")
    monkeypatch.setenv(NAME_VARIABLE, learner.key)
    return learner


def press(one: Exercise, typed) -> None:
    """Confirm an answer as the form does: both traits in one message."""
    one.confirmed = False
    one.set_state({"typed": typed, "confirmed": True, "tries": one.tries + 1})


def right_of(one: Exercise):
    right = one._key["right"]
    return right.get("letter") or right.get("letters") or right.get("row") or right["shown"]


def wrong_of(one: Exercise):
    return next(option["letter"] for option in one.question["options"] if option["letter"] != right_of(one))


def one_choice(seed: str = "fixed") -> Exercise:
    exercise = Exercise(ONE, stream=Stream(b"a test's own", seed))
    assert exercise.question["kind"] == "one choice"
    return exercise


def test_each_press_is_one_line_with_the_help_used_since_the_values_were_drawn(tomo):
    one = one_choice()
    press(one, wrong_of(one))
    one.act = {"what": "hint", "turn": 1}
    press(one, right_of(one))
    one.act = {"what": "work", "turn": 2}
    one.act = {"what": "fresh", "turn": 3}
    press(one, right_of(one))
    first, second, third = lines_of(tomo.path)[1:]
    assert [(line.right, line.turn, line.hint, line.working) for line in (first, second, third)] == [
        (False, 1, False, False), (True, 2, True, False), (True, 1, False, False)]
    assert first.family == ONE and first.skill == SKILL.id and first.said and first.values == second.values != third.values
    assert second.said == third.said == "" and one.saved == ""


def test_working_shown_is_kept_too(tomo):
    one = one_choice()
    press(one, wrong_of(one))
    one.act = {"what": "work", "turn": 1}
    press(one, right_of(one))
    assert lines_of(tomo.path)[-1].working


def test_the_page_says_when_a_skill_becomes_sure_and_only_then(tomo):
    one, other = one_choice(), Exercise(OTHER)
    press(one, right_of(one))
    assert one.saved == "" and one.feedback["right"]
    press(other, right_of(other))
    assert other.saved == NOW_SURE
    other.fresh()
    assert other.saved == ""
    press(other, right_of(other))
    assert other.saved == "" and other.feedback["right"]


def test_what_came_back_is_said_to_be_sure_again(tomo):
    keys = [Exercise(family)._key for family in (ONE, OTHER)]
    right = {"right": True, "missteps": [], "feedback": "Right."}
    said = [keep_answer(tomo, key, right, 1, now=day(0)) for key in keys]
    assert said == ["", NOW_SURE]
    fresh = {**keys[0], "values": "others"}
    assert keep_answer(tomo, fresh, right, 1, now=day(200)) == NOW_SURE.replace("now sure", "sure again")


def test_the_page_says_once_that_a_skill_is_sure_no_more(tomo):
    keys = [Exercise(family)._key for family in (ONE, OTHER)]
    right, wrong = ({"right": so, "missteps": [], "feedback": "Told."} for so in (True, False))
    for key in keys:
        keep_answer(tomo, key, right, 1, now=day(0))
    said = [keep_answer(tomo, {**keys[0], "values": values}, wrong, 1, now=day(1)) for values in ("others", "more")]
    assert said == [NOW_SURE.replace("is now sure.", "was sure on 2031-03-03. Look again before you press."), ""]


@pytest.mark.parametrize("nobody", ["", "Tomo Kessig", "../../desk"])
def test_without_a_name_nothing_is_kept(home, monkeypatch, nobody):
    monkeypatch.setenv(NAME_VARIABLE, nobody)
    one = one_choice()
    press(one, right_of(one))
    assert one.feedback["right"] and one.saved == "" and not names_folder().exists()


def test_a_failing_disk_is_said_and_breaks_nothing(tomo, monkeypatch):
    one = one_choice()
    with monkeypatch.context() as failing:
        failing.setattr(os, "fsync", lambda handle: (_ for _ in ()).throw(OSError(28, "No space left on device")))
        press(one, right_of(one))
    assert one.saved == NOT_KEPT and one.feedback["right"] and len(lines_of(tomo.path)) == 1
    tomo.path.unlink()
    one.fresh()
    press(one, right_of(one))
    assert one.saved == NOT_KEPT and one.feedback["right"]


def test_a_family_of_no_skill_in_the_map_is_kept_in_silence(tomo):
    key = {"family": "own", "skill": "a-later-skill", "values": {}}
    assert keep_answer(tomo, key, {"right": True, "missteps": [], "feedback": "Right."}, 1) == ""
    assert lines_of(tomo.path)[-1].skill == "a-later-skill"


def test_a_link_to_practise_one_skill_opens_its_questions_on_fresh_values(home, monkeypatch):
    monkeypatch.setenv("QUERY_STRING", f"skill={SKILL.id}")
    asked, again = MorePractice().sitting.exercises, MorePractice().sitting.exercises
    assert {one._family.skill for one in asked} == {SKILL.id} and {ONE, OTHER} <= {one._family.id for one in asked}
    assert [one._key["values"] for one in asked] != [one._key["values"] for one in again]
    for strange in ("skill=nothing", "skill=closes-fully", "skill=", "other=1", "skill=%00"):
        monkeypatch.setenv("QUERY_STRING", strange)
        assert MorePractice().sitting is None
