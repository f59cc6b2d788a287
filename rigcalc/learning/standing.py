"""What the answers amount to: for each written skill not met, not yet, sure, or look again. Pure functions of log and clock."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime, timezone
from functools import cache
from typing import NamedTuple

from rigcalc.learning.log import Line, moment
from rigcalc.skills import Skill

__all__ = ["LOOK_AGAIN", "NOT_SURE", "NOT_TRIED", "SURE", "Standing", "answers_by_skill", "on_day", "standing", "standings", "why_again"]

NOT_TRIED, NOT_SURE, SURE, LOOK_AGAIN = "not met", "not yet", "sure", "look again"
# Values met among a family's last few are not fresh: every page opens on the same first ones.
LATELY = 3


class Standing(NamedTuple):
    """Where a skill stands, in words, and since when it has been time to look again (None: it is not).

    Where an answer ended what was sure, `lost` is that answer and `was_sure` the day on which the skill became sure.
    """

    words: str
    since: datetime | None = None
    was_sure: datetime | None = None
    lost: Line | None = None


def answers_by_skill(lines: Iterable[Line], skills: Mapping[str, Skill]) -> dict[str, list[Line]]:
    """The answers of each written skill of this version's map, in the order given; others are passed over."""
    found: dict[str, list[Line]] = {}
    for line in lines:
        if line.answered and line.skill in skills and skills[line.skill].written:
            found.setdefault(line.skill, []).append(line)
    return found


def _with_fresh(answers: Iterable[Line]) -> Iterator[tuple[Line, bool]]:
    """Each answer with whether it is the first one to values not met lately."""
    met: dict[str, list[str]] = {}
    for line in answers:
        lately = met.setdefault(line.family, [])
        known = bool(line.values) and line.values in lately
        if known:
            lately.remove(line.values)
        lately.append(line.values)
        del lately[:-LATELY]
        yield line, not known and line.turn == 1


def _unaided(line: Line) -> bool:
    return bool(line.right) and not line.hint and not line.working


class _Run(NamedTuple):
    """Whether a skill is sure by its answers; which answer made it so last, and which one ended that (None: nothing has)."""

    sure: bool
    made: Line | None
    lost: Line | None


def _run(answers: list[Line], one: Skill) -> _Run:
    """Sure: the last two answers to fresh values were right at once and unaided, from two families where there are two."""
    run: list[str] = []
    sure, made, lost = False, None, None
    for line, fresh in _with_fresh(answers):
        if fresh and _unaided(line):
            run.append(line.family)
        elif not line.right or line.hint or line.working:
            lost = line if sure else lost
            run.clear()
        before, sure = sure, len(run) >= 2 and (len(one.families) < 2 or len(set(run)) >= 2)
        if sure and not before:
            made, lost = line, None
    return _Run(sure, made, lost)


@cache
def _keeper():
    """The scheduling library's own parts; days only, and nothing left to chance."""
    from fsrs import Card, Rating, Scheduler

    return Scheduler(learning_steps=(), relearning_steps=(), enable_fuzzing=False), Card, Rating


def _comes_back(answers: list[Line], now: datetime) -> datetime:
    """When a skill with these answers wants to be looked at again."""
    keeper, kept, told = _keeper()
    state = kept(card_id=1, due=now)
    for (line, fresh), at in zip(_with_fresh(answers), _moments(answers, now), strict=True):
        how = (told.Again if not line.right or line.working else told.Good if fresh and not line.hint else told.Hard)
        state, _ = keeper.review_card(state, how, at)
    return state.due


def _moments(answers: list[Line], now: datetime) -> list[datetime]:
    """When each answer was given; where a clock was wrong, no later than the answer after it: too early errs to looking again."""
    found: list[datetime] = []
    for line in reversed(answers):
        now = min(moment(line) or now, now)
        found.append(now)
    return found[::-1]


def standing(answers: list[Line], one: Skill, now: datetime) -> Standing:
    """Where one written skill stands.

    Parameters
    ----------
    answers : list of Line
        The answers of that skill alone, oldest first.
    now : datetime
        The moment to judge it for, with its zone.
    """
    if not answers:
        return Standing(NOT_TRIED)
    now, run = now.astimezone(timezone.utc), _run(answers, one)
    if run.lost:
        return Standing(LOOK_AGAIN, min(moment(run.lost) or now, now), moment(run.made), run.lost)
    if not run.sure:
        return Standing(NOT_SURE)
    back = _comes_back(answers, now)
    return Standing(LOOK_AGAIN, back) if back <= now else Standing(SURE)


def standings(lines: Iterable[Line], skills: Mapping[str, Skill], now: datetime) -> dict[str, Standing]:
    """Where every written skill of the map stands, by its id."""
    answers = answers_by_skill(lines, skills)
    return {name: standing(answers.get(name, []), one, now) for name, one in skills.items() if one.written}


def on_day(at: datetime | None) -> str:
    """' on ' and the day, as this machine's clock has it; nothing where no day is known."""
    return f" on {at.astimezone().date().isoformat()}" if at else ""


def why_again(found: Standing) -> str:
    """Why it is time to look again, in words: which answer ended what was sure, or how long it has been; "" where it is not."""
    if found.words != LOOK_AGAIN:
        return ""
    if not found.lost:
        return f"was sure; days have passed: look again since{on_day(found.since).removeprefix(' on')}"
    line, asked = found.lost, found.lost.family.replace("-", " ")
    what = "an answer with help" if line.right else "a wrong answer"
    told, when = line.said.removeprefix("Not right. ").rstrip("."), on_day(moment(line))
    return f"was sure{on_day(found.was_sure)}; {what} since{when and ',' + when}, to “{asked}”" + (f": {told}" if told else "")
