"""Keeps what an exercise marked, and says what it changed; a disk that fails breaks no page."""

from __future__ import annotations

import hashlib
import json
from datetime import datetime, timezone
from typing import Any

from rigcalc.errors import Refusal
from rigcalc.learning.log import answer_line, append, lines_of
from rigcalc.learning.names import Learner
from rigcalc.learning.standing import SURE, answers_by_skill, on_day, standing
from rigcalc.skills import load_skills

__all__ = ["NOT_KEPT", "keep_answer", "values_id"]

NOT_KEPT = "It is marked, but it could not be kept: the disk did not take it. Tell the trainer."


def values_id(key: dict[str, Any]) -> str:
    """A short name for one family's drawn values, the same wherever the same values are drawn."""
    text = json.dumps([key["family"], key["values"]], sort_keys=True, default=str)
    return hashlib.sha256(text.encode("utf-8")).hexdigest()[:12]


def keep_answer(learner: Learner | None, key: dict[str, Any], marked: dict[str, Any], turn: int, *, hint: bool = False,
                working: bool = False, now: datetime | None = None) -> str:
    """Append one marked answer to the learner's log and say, in one sentence, whether a skill became sure by it or is so no more.

    Parameters
    ----------
    learner : Learner or None
        None keeps nothing and says nothing.
    key, marked : dict
        The question's key, and what marking gave.
    turn : int
        The number of the try on these values.
    hint, working : bool
        What was asked for since these values were drawn.

    Returns
    -------
    str
        Empty where there is nothing to say; NOT_KEPT where the disk did not take it.
    """
    if learner is None:
        return ""
    now = now or datetime.now(timezone.utc)
    line = answer_line(key["family"], key["skill"], marked["right"], turn, hint=hint, working=working, missteps=marked["missteps"],
                       values=values_id(key), said=marked["feedback"], now=now)
    try:
        one = load_skills().get(key["skill"])
        before = [] if one is None else answers_by_skill(lines_of(learner.path), {one.id: one}).get(one.id, [])
        append(learner.path, line)
    except (OSError, Refusal):
        return NOT_KEPT
    if one is None or not one.written:
        return ""
    was, is_now = standing(before, one, now), standing([*before, line], one, now)
    told = f"Kept: {one.sentence[:1].lower()}{one.sentence[1:].rstrip('.')}"
    if is_now.lost is line:
        return f"{told} was sure{on_day(is_now.was_sure)}. Look again before you press."
    if is_now.words != SURE or was.words == SURE:
        return ""
    return f"{told} is {'sure again' if was.since else 'now sure'}."
