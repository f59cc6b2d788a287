"""Who is stuck, and what is to be looked at again before the next bench task."""

from __future__ import annotations

from learning.conftest import OTHER, SKILL, answer, day
from rigcalc.bench.tasks import load_tasks
from rigcalc.learning.log import TAKEN_BACK, bench_line
from rigcalc.learning.next_task import MOST_SHOWN, first_again, kept_task, looked_at, next_skill, next_task
from rigcalc.learning.standing import LOOK_AGAIN, NOT_SURE, NOT_TRIED, SURE, Standing
from rigcalc.learning.stuck import Stuck, stuck_on
from rigcalc.skills import load_skills

SKILLS = load_skills()
SAID = "Not right. That is the row above."


def wrong(at: float, *slips: str, **more):
    return answer(at, False, missteps=slips, said=SAID, **more)


def test_three_wrong_tries_in_a_row_are_stuck_and_two_are_not():
    assert stuck_on([wrong(0, "a"), wrong(1, "b")], SKILLS) == []
    assert stuck_on([wrong(0, "a"), wrong(1, "b"), wrong(2)], SKILLS) == [
        Stuck(SKILL.id, "Three wrong tries in a row. The last: That is the row above.")]
    assert stuck_on([wrong(0), wrong(1), answer(2, turn=2), wrong(3)], SKILLS) == []
    three = [wrong(0, "a"), wrong(1, "b"), wrong(2)]
    for late in (answer(3, turn=4), answer(3, hint=True), answer(3, turn=2), wrong(3)):  # nothing but an answer right at once ends it
        assert stuck_on([*three, late], SKILLS)[0].what.startswith("Three wrong tries in a row.")
    assert stuck_on([*three, answer(3)], SKILLS) == []


def test_the_same_misstep_twice_is_stuck_until_an_answer_is_right_at_once():
    twice = [wrong(0, "a"), answer(1, turn=2), wrong(2, "a")]
    assert stuck_on(twice, SKILLS) == [Stuck(SKILL.id, "The same misstep twice: That is the row above.")]
    assert stuck_on([wrong(0, "a"), wrong(1, "a", family=OTHER)], SKILLS) == []  # other family, other misstep
    assert stuck_on([*twice, answer(3, hint=True)], SKILLS) and stuck_on([*twice, answer(3, turn=2)], SKILLS)
    assert stuck_on([*twice, answer(3)], SKILLS) == []


def test_a_log_without_the_words_still_says_the_misstep():
    assert stuck_on([answer(0, False, missteps=["row-above"])] * 2, SKILLS)[0].what == "The same misstep twice: row above."


def test_the_next_task_is_the_first_until_one_is_chosen():
    tasks = load_tasks()
    assert next_task([], tasks).id == "T1"
    assert next_task([bench_line("T7"), answer(1)], tasks).id == "T7"
    assert next_task([bench_line("T7"), bench_line("T99")], tasks).id == "T7"
    taken = [bench_line("T7"), bench_line(TAKEN_BACK)]
    assert kept_task(taken[:1], tasks).id == "T7" and kept_task(taken, tasks) is None and next_task(taken, tasks).id == "T1"
    assert kept_task([*taken, bench_line("T7")], tasks).id == "T7" and TAKEN_BACK not in tasks


def test_one_goes_on_with_what_wants_looking_at_again_then_what_is_not_sure_then_what_was_not_met():
    task, row = load_tasks()["T7"], sorted((one for one in SKILLS.values() if one.written), key=lambda one: (one.lesson, one.number))
    stand = {one.id: Standing(SURE) for one in row}
    assert next_skill(stand, SKILLS, task) is None
    for at, found in ((-1, Standing(NOT_TRIED)), (-2, Standing(NOT_TRIED)), (-1, Standing(NOT_SURE)), (-3, Standing(LOOK_AGAIN, day(0)))):
        stand[row[at].id] = found
        assert next_skill(stand, SKILLS, task) == row[at]


def test_what_the_next_task_looks_at_comes_first_then_what_waited_longest_and_three_at_most():
    task = load_tasks()["T1"]
    looked = [name for name, one in SKILLS.items() if one.written and name in looked_at(task, SKILLS)]
    beside = [name for name, one in SKILLS.items() if one.written and name not in looked]
    stand = {beside[0]: Standing(LOOK_AGAIN, day(0)), looked[0]: Standing(LOOK_AGAIN, day(5)), looked[1]: Standing(LOOK_AGAIN, day(4)),
             beside[1]: Standing(LOOK_AGAIN, day(-3)), looked[2]: Standing(SURE)}
    assert [one.id for one in first_again(stand, SKILLS, task)] == [looked[1], looked[0], beside[1]] and MOST_SHOWN == 3
    assert first_again({looked[2]: Standing(SURE)}, SKILLS, task) == []
