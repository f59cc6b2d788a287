"""What to look at again first: what the next bench task looks at, then what has waited longest."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from rigcalc.bench.tasks import Task
from rigcalc.learning.log import Line
from rigcalc.learning.standing import LOOK_AGAIN, Standing
from rigcalc.skills import Skill

__all__ = ["MOST_SHOWN", "first_again", "looked_at", "next_task"]

MOST_SHOWN = 3


def next_task(lines: Iterable[Line], tasks: Mapping[str, Task]) -> Task:
    """The bench task chosen last, or the first one where none was chosen or it is gone."""
    chosen = [line.bench for line in lines if line.bench in tasks]
    return tasks[chosen[-1]] if chosen else next(iter(tasks.values()))


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
