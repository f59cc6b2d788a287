"""Who is stuck on what, for the trainer: three wrong tries in a row, or the same misstep twice, and not right since."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from typing import NamedTuple

from rigcalc.learning.log import Line
from rigcalc.learning.standing import answers_by_skill
from rigcalc.skills import Skill

__all__ = ["Stuck", "stuck_on"]

IN_A_ROW, SAME_MISSTEP = 3, 2


class Stuck(NamedTuple):
    """A skill's id, and what went wrong in words."""

    skill: str
    what: str


def stuck_on(lines: Iterable[Line], skills: Mapping[str, Skill]) -> list[Stuck]:
    """The skills that somebody with this log is stuck on now, in the map's order.

    An answer that was right at first try and unaided ends it.
    """
    answers, found = answers_by_skill(lines, skills), []
    for name in skills:
        if words := _stuck(answers.get(name, [])):
            found.append(Stuck(name, words))
    return found


def _stuck(answers: list[Line]) -> str:
    since: list[Line] = []
    for line in answers:
        since = [] if line.right and line.turn == 1 and not line.hint and not line.working else [*since, line]
    same = Counter((line.family, slip) for line in since for slip in set(line.missteps))
    twice = {key for key, times in same.items() if times >= SAME_MISSTEP}
    for line in reversed(since):
        if twice & {(line.family, slip) for slip in line.missteps}:
            return _words(line, "The same misstep twice: ")
    for end in range(len(since), IN_A_ROW - 1, -1):  # a right answer that was helped, or came late, ends nothing
        last = since[end - IN_A_ROW:end]
        if not any(line.right for line in last):
            return _words(last[-1], "Three wrong tries in a row. The last: ")
    return ""


def _words(line: Line, before: str) -> str:
    slips = ", ".join(slip.replace("-", " ") for slip in line.missteps)
    return before + (line.said.removeprefix("Not right. ") or f"{slips or 'wrong'}.")
