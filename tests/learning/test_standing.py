"""What the answers amount to, with a clock that the tests move by days."""

from __future__ import annotations

import random

import pytest

from learning.conftest import ONE, OTHER, SKILL, answer, day
from rigcalc.learning.log import answer_line
from rigcalc.learning.standing import LOOK_AGAIN, NOT_SURE, NOT_TRIED, SURE, standing, standings, why_again
from rigcalc.skills import Skill, load_skills

CLEAN = [answer(0), answer(0.01, family=OTHER)]


def words(answers, at: float, one: Skill = SKILL) -> str:
    return standing(answers, one, day(at)).words


def back_after(answers, at: float, most: int = 400) -> int:
    """After how many days it is time to look again."""
    return next(days for days in range(most) if words(answers, at + days) == LOOK_AGAIN)


def test_nothing_answered_is_not_tried_and_one_right_answer_is_not_sure():
    assert words([], 0) == NOT_TRIED
    assert words([answer(0)], 0) == NOT_SURE == words([answer(0, False)], 0)


def test_two_right_at_once_on_two_families_are_sure():
    assert words(CLEAN, 0.02) == SURE
    assert words([answer(-1, False), *CLEAN], 0.02) == SURE


def test_one_family_alone_is_enough_only_where_the_skill_has_no_other():
    same = [answer(0), answer(0.01), answer(0.02)]
    assert words(same, 0.03) == NOT_SURE
    alone = Skill(id=SKILL.id, number=1, sentence="S.", flags="W", lesson="05", families=(ONE,))
    assert words(same[:2], 0.03, alone) == SURE


@pytest.mark.parametrize("spoiled", [{"hint": True}, {"working": True}, {"turn": 2}, {"values": "v0"}, {"right": False}])
def test_help_a_later_try_or_values_met_before_do_not_count(spoiled):
    first = answer(0)
    family = ONE if spoiled.get("values") else OTHER
    assert words([first, answer(0.01, family=family, **spoiled)], 0.02) == NOT_SURE


def test_the_same_page_opened_again_and_again_never_makes_sure():
    alone = Skill(id=SKILL.id, number=1, sentence="S.", flags="W", lesson="05", families=(ONE,))
    assert words([answer(number, values="first") for number in range(9)], 9, alone) == NOT_SURE


@pytest.mark.parametrize("spoiled", [{"right": False}, {"hint": True}, {"working": True}])
def test_a_wrong_answer_or_help_ends_it_and_two_more_right_ones_bring_it_back(spoiled):
    broken = [*CLEAN, answer(0.03, **spoiled)]
    assert words(broken, 0.04) == LOOK_AGAIN
    assert words([*broken, answer(0.05)], 0.06) == LOOK_AGAIN
    assert words([*broken, answer(0.05), answer(0.06, family=OTHER)], 0.07) == SURE


def test_right_later_on_known_values_neither_makes_nor_ends_it():
    assert words([*CLEAN, answer(0.03, values="v0")], 0.04) == SURE


def test_what_was_sure_comes_back_after_days_and_later_each_time_it_is_right():
    first = back_after(CLEAN, 0.02)
    assert 1 <= first <= 30 and words(CLEAN, 0.02 + first - 1) == SURE
    at = 0.02 + first
    again = [*CLEAN, answer(at)]
    assert words(again, at) == SURE
    assert back_after(again, at) > first


def test_what_went_wrong_between_comes_back_sooner():
    stumbled = [*CLEAN, answer(3, False), answer(3.01), answer(3.02, family=OTHER)]
    assert words(stumbled, 3.03) == SURE
    assert back_after(stumbled, 3.03) < back_after([*CLEAN, answer(3.01), answer(3.02, family=OTHER)], 3.03)


def test_what_was_sure_says_when_and_which_answer_ended_it():
    wrong = answer(3, False, said="Not right. That is the row above.")
    lost = standing([*CLEAN, wrong, answer(4, False, said="Not right. Another.")], SKILL, day(5))
    assert (lost.words, lost.since, lost.was_sure, lost.lost) == (LOOK_AGAIN, day(3), day(0.01), wrong)
    assert why_again(lost) == f"was sure on 2031-03-03; a wrong answer since, on 2031-03-06, to “{ONE.replace('-', ' ')}”: That is the row above"
    helped = standing([*CLEAN, answer(3, hint=True)], SKILL, day(5))
    assert why_again(helped).startswith("was sure on 2031-03-03; an answer with help since, on 2031-03-06, to “")
    at = 0.02 + back_after(CLEAN, 0.02)
    assert standing([*CLEAN, answer(at, False)], SKILL, day(at)).lost.at == answer(at).at
    assert why_again(standing(CLEAN, SKILL, day(at))).startswith("was sure; days have passed: look again since 2031-03-")
    assert why_again(standing(CLEAN, SKILL, day(0.02))) == ""


def test_what_is_sure_again_or_never_was_has_lost_nothing():
    again = standing([*CLEAN, answer(1, False), answer(2), answer(2.01, family=OTHER)], SKILL, day(2.02))
    never = standing([answer(0), answer(1, False)], SKILL, day(2))
    assert (again.words, again.lost) == (SURE, None) and (never.words, never.lost) == (NOT_SURE, None)
    unread = standing([*CLEAN, answer_line(ONE, SKILL.id, False, 1, values="v", now="sometime")], SKILL, day(2))
    assert unread.since == day(2) and "a wrong answer since, to “" in why_again(unread)


def test_a_clock_put_back_or_a_time_nobody_can_read_does_no_harm():
    ahead = [answer(400), answer(0.01, family=OTHER)]
    assert words(ahead, 0.02) == SURE and words(ahead, 200) == LOOK_AGAIN
    unread = [answer_line(family, SKILL.id, True, 1, values=family, now="sometime") for family in (ONE, OTHER)]
    assert words(unread, 1) == SURE


def test_the_same_log_says_the_same_every_time():
    made = random.Random(5)
    log = [answer(n / 3, made.random() < 0.7, made.choice((ONE, OTHER)), made.choice((1, 1, 2)), hint=made.random() < 0.2)
           for n in range(60)]
    assert standing(log, SKILL, day(21)) == standing(log, SKILL, day(21))


def test_every_written_skill_stands_somewhere_and_those_shown_by_hand_alone_do_not():
    skills = load_skills()
    found = standings(CLEAN, skills, day(0.02))
    assert set(found) == {name for name, one in skills.items() if one.written}
    assert found.pop(SKILL.id).words == SURE and {one.words for one in found.values()} == {NOT_TRIED}
    by_hand = next(one for one in skills.values() if not one.written)
    assert by_hand.id not in standings([answer_line("f", by_hand.id, True, 1)], skills, day(1))
