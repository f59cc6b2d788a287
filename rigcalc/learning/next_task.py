"""What comes next: at the bench, and what to look at again first: what the bench task looks at, then what has waited longest."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from rigcalc.bench.tasks import Task
from rigcalc.learning.log import TAKEN_BACK, Line
from rigcalc.learning.standing import LOOK_AGAIN, NOT_SURE, NOT_TRIED, Standing
from rigcalc.skills import Skill

__all__ = ["MOST_SHOWN", "first_again", "kept_task", "looked_at", "next_skill", "next_task"]

MOST_SHOWN = 3


def kept_task(lines: Iterable[Line], tasks: Mapping[str, Task]) -> Task | None:
    """The bench task kept last; None where none was, or it was taken back."""
    chosen = [line.bench for line in lines if line.bench in tasks or line.bench == TAKEN_BACK]
    return tasks.get(chosen[-1]) if chosen else None


def next_task(lines: Iterable[Line], tasks: Mapping[str, Task]) -> Task:
    """The bench task kept last, or the first one where none is kept."""
    return kept_task(lines, tasks) or next(iter(tasks.values()))


def looked_at(task: Task, skills: Mapping[str, Skill]) -> set[str]:
    """The ids of the skills that a bench task looks at."""
    numbers = {number for point in task.checkpoints for number in point.skills}
    return {name for name, one in skills.items() if one.number in numbers}


def first_again(stand: Mapping[str, Standing], skills: Mapping[str, Skill], task: Task) -> list[Skill]:
    """At most three skills to look at again: those of the task first, in each part the one that has waited longest first."""
    first = looked_at(task, skills)
    again = [name for name, one in stand.items() if one.words == LOOK_AGAIN and one.since]
    again.sort(key=lambda name: (name not in first, stand[name].since, skills[name].number))
    return [skills[name] for name in again[:MOST_SHOWN]]


def next_skill(stand: Mapping[str, Standing], skills: Mapping[str, Skill], task: Task) -> Skill | None:
    """The skill to go on with: what wants looking at again, then what is not sure yet, then what was not met; None where all is sure."""
    again = first_again(stand, skills, task)
    row = sorted((one for one in skills.values() if one.id in stand), key=lambda one: (one.lesson, one.number))
    left = (one for words in (NOT_SURE, NOT_TRIED) for one in row if stand[one.id].words == words)
    return again[0] if again else next(left, None)
