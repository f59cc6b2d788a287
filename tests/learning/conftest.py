"""A home of the test's own, and a clock that the test moves by days."""

from __future__ import annotations

from datetime import datetime, timedelta, timezone

import pytest

from rigcalc.learning.log import Line, answer_line
from rigcalc.skills import load_skills

START = datetime(2031, 3, 3, 8, 0, tzinfo=timezone.utc)
SKILL = load_skills()["reads-the-count"]
ONE, OTHER = SKILL.families[:2]


def day(number: float) -> datetime:
    """The moment so many days after the start."""
    return START + timedelta(days=number)


def answer(at: float, right: bool = True, family: str = ONE, turn: int = 1, values: str | None = None, **more) -> Line:
    """An answer to the skill's question on that day; values of its own unless they are named."""
    return answer_line(family, SKILL.id, right, turn, values=values or f"v{at}", now=day(at), **more)


@pytest.fixture
def home(tmp_path, monkeypatch):
    """A home that the test throws away."""
    monkeypatch.setenv("RIGCALC_HOME", str(tmp_path / "home"))
    return tmp_path / "home"
