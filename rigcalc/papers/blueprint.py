"""The blueprint of a written paper: which skills, how hard, what each is worth, and what it takes to pass."""

from __future__ import annotations

import math
import tomllib
from pathlib import Path
from typing import Literal

import msgspec

from rigcalc.errors import Refusal
from rigcalc.home import installed_folder
from rigcalc.papers.records import sha256

__all__ = ["Blueprint", "Cut", "Judge", "Place", "load_blueprint", "judged_cut", "rules_in_words"]


class Place(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One place of the paper: a skill, its level (1 to 3) and what a right answer is worth, in points."""

    skill: str
    level: int
    points: int
    must_be_right: bool = False


class Judge(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A named judge and, place by place, the share of just good enough candidates expected to answer right."""

    name: str
    judged: list[float]


class Cut(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The cut score in points, who set it, when and how."""

    points: int
    method: Literal["one named person", "panel"]
    set_by: str
    set_on: str
    how: str
    judge: list[Judge] = []


class Blueprint(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A paper's plan. Points of all places add up to 100; a must-be-right place missed fails alone."""

    form: Literal[1]
    id: str
    version: int
    title: str
    minutes: int
    book: Literal["open", "closed"]
    allowed: str
    calculator: bool
    partial_credit: Literal["none"]
    cut: Cut
    question: list[Place]
    invented: bool = False
    sha256: str = ""


def load_blueprint(name: str | Path = "narrow") -> Blueprint:
    """Read and check a blueprint: a name of quizzes/blueprints/, or the path of a file.

    Raises
    ------
    Refusal
        Naming the file, the field and what is accepted there.
    """
    path = Path(name)
    if path.suffix != ".toml":
        path = installed_folder() / "quizzes" / "blueprints" / f"{name}.toml"
    try:
        data = path.read_bytes()
        plan = msgspec.convert(tomllib.loads(data.decode("utf-8")), Blueprint)
    except OSError:
        raise Refusal(f"the blueprint {path}", "a blueprint file that can be read",
                      "give its name in quizzes/blueprints/ or its path") from None
    except (tomllib.TOMLDecodeError, UnicodeDecodeError, msgspec.ValidationError) as error:
        raise Refusal(f"{path.name}: {error}", "the fields of quizzes/blueprints/narrow.toml",
                      "mend that line and try again") from None
    for given, accepted in _faults(plan):
        raise Refusal(f"{path.name}: {given}", accepted, "mend the blueprint and try again")
    return msgspec.structs.replace(plan, sha256=sha256(data))


def judged_cut(cut: Cut, places: list[Place]) -> int:
    """The cut the judges' expectations give: mean over judges of the expected points, rounded up.

    A method known by the name of Angoff; here each judge states a share for each place (assessment.md
    of the project's notes calls the method read, with no printed example found).

    >>> judged_cut(Cut(6, "one named person", "A", "", "", [Judge("A", [0.5, 0.7])]),
    ...            [Place("a", 1, 5), Place("b", 1, 5)])
    6
    """
    expected = [sum(place.points * share for place, share in zip(places, judge.judged)) for judge in cut.judge]
    return math.ceil(sum(expected) / len(expected) - 1e-9)


def _faults(plan: Blueprint):
    if not plan.question:
        yield "no [[question]]", "at least one question"
    total = sum(place.points for place in plan.question)
    if total != 100:
        yield f"points adding up to {total}", "points adding up to 100"
    for number, place in enumerate(plan.question, 1):
        if not 1 <= place.level <= 3:
            yield f"question {number}: level {place.level}", "level 1, 2 or 3"
        if place.points < 1:
            yield f"question {number}: {place.points} points", "1 point or more"
    if not 5 <= plan.minutes <= 240:
        yield f"minutes = {plan.minutes}", "5 to 240 minutes"
    if not 1 <= plan.cut.points <= 100:
        yield f"cut of {plan.cut.points} points", "1 to 100 points"
    for field in ("set_by", "set_on", "how"):
        if not getattr(plan.cut, field).strip():
            yield f"cut.{field} left empty", "who set the cut, when and how, in words"
    yield from _judging_faults(plan)


def _judging_faults(plan: Blueprint):
    judges = plan.cut.judge
    if plan.cut.method == "panel" and len(judges) < 2:
        yield f"a panel of {len(judges)}", "two judges or more, or the method 'one named person'"
    if plan.cut.method == "one named person" and len(judges) > 1:
        yield f"one named person with {len(judges)} judges", "the method 'panel'"
    for judge in judges:
        if len(judge.judged) != len(plan.question) or not all(0 <= share <= 1 for share in judge.judged):
            yield (f"{judge.name}: {len(judge.judged)} expectations",
                   f"{len(plan.question)} shares from 0 to 1, one a question, in their order")
            return
    if judges and judged_cut(plan.cut, plan.question) != plan.cut.points:
        yield (f"cut of {plan.cut.points} points",
               f"what the judges' expectations give, {judged_cut(plan.cut, plan.question)}")


def rules_in_words(plan: Blueprint) -> list[str]:
    """What a candidate is told before starting: time, aids, what it takes to pass and who said so."""
    must = sum(place.must_be_right for place in plan.question)
    said_by = "one named person" if plan.cut.method == "one named person" else "a panel of named judges"
    rules = [
        f"{len(plan.question)} questions, {plan.minutes} minutes. The time begins when you press Start.",
        f"{'Open' if plan.book == 'open' else 'Closed'} book: {plan.allowed}",
        "A calculator is allowed." if plan.calculator else "No calculator.",
        f"To pass: {plan.cut.points} of 100 points. Cut set by {said_by}: {plan.cut.set_by}, {plan.cut.set_on}.",
    ]
    if must:
        rules.append(f"{must} of the questions must be right, whatever the rest; they are not marked out here.")
    rules.append("No points are taken off for a wrong answer, and none are given for half of one.")
    return rules
