"""The blueprint of a written paper: which skills, how hard, what each is worth, and what it takes to pass."""

from __future__ import annotations

import math
import re
import tomllib
from pathlib import Path
from typing import Literal

import msgspec

from rigcalc.errors import Refusal
from rigcalc.home import installed_folder
from rigcalc.papers.records import sha256
from rigcalc.questions.family import line_of

__all__ = ["Blueprint", "Cut", "Judge", "Place", "load_blueprint", "judged_cut", "rules_in_words"]


class Place(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One place of the paper: a skill, its level (1 to 3) and what a right answer is worth, in marks."""

    skill: str
    level: int
    marks: int
    must_be_right: bool = False


class Judge(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A named judge and, place by place, the share of just good enough candidates expected to answer right."""

    name: str
    judged: list[float]


class Cut(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The cut score in marks, who set it, when and how."""

    marks: int
    method: Literal["one named person", "panel"]
    set_by: str
    set_on: str
    how: str
    judge: list[Judge] = []


class Blueprint(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A paper's plan. Marks of all places add up to 100; a must-be-right place missed fails alone."""

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
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise Refusal(f"{path.name}: {error}", "a TOML file in UTF-8", "mend that line and try again") from None
    except msgspec.ValidationError as error:
        what, _, field = str(error).partition(" - at `$.")
        raise Refusal(f"{_where(path, data, _steps(field))}: {what}", "the fields and kinds of values of "
                      "quizzes/blueprints/narrow.toml", "mend that line and try again") from None
    for steps, given, accepted in _faults(plan):
        raise Refusal(f"{_where(path, data, steps)}: {given}", accepted, "mend the blueprint and try again")
    return msgspec.structs.replace(plan, sha256=sha256(data))


def judged_cut(cut: Cut, places: list[Place]) -> int:
    """The cut the judges' expectations give: mean over judges of the expected marks, rounded up.

    The method is known by the name of Angoff: each judge states, for each place, the share of just good enough
    candidates who will answer it right (from memory; no printed example with figures was found to check against).

    >>> judged_cut(Cut(6, "one named person", "A", "", "", [Judge("A", [0.5, 0.7])]),
    ...            [Place("a", 1, 5), Place("b", 1, 5)])
    6
    """
    expected = [sum(place.marks * share for place, share in zip(places, judge.judged)) for judge in cut.judge]
    return math.ceil(sum(expected) / len(expected) - 1e-9)


def _steps(field: str) -> list[str | int]:
    return [int(index) if index else word for word, index in re.findall(r"(\w+)|\[(\d+)\]", field)
            if word or index]


def _where(path: Path, data: bytes, steps: list[str | int]) -> str:
    line = line_of(data.decode("utf-8"), steps) if steps else None
    named = ".".join(str(step + 1) if isinstance(step, int) else step for step in steps)
    return ", ".join([path.name] + ([f"line {line}"] if line else []) + ([f"field {named}"] if named else []))


def _faults(plan: Blueprint):
    """Each fault as (steps to the field, what is given, what is accepted)."""
    if not plan.question:
        yield [], "no [[question]]", "at least one question"
    for index, place in enumerate(plan.question):
        if not 1 <= place.level <= 3:
            yield ["question", index, "level"], f"level {place.level}", "level 1, 2 or 3"
        if place.marks < 1:
            yield ["question", index, "marks"], f"{place.marks} marks", "1 mark or more"
    total = sum(place.marks for place in plan.question)
    if total != 100:
        yield ["question"], f"marks adding up to {total}", "marks adding up to 100"
    if not 5 <= plan.minutes <= 240:
        yield ["minutes"], f"{plan.minutes} minutes", "5 to 240 minutes"
    if not 1 <= plan.cut.marks <= 100:
        yield ["cut", "marks"], f"a cut of {plan.cut.marks} marks", "1 to 100 marks"
    for field in ("set_by", "set_on", "how"):
        if not getattr(plan.cut, field).strip():
            yield ["cut", field], "nothing", "who set the cut, when and how, in words"
    yield from _judging_faults(plan)


def _judging_faults(plan: Blueprint):
    judges = plan.cut.judge
    if plan.cut.method == "panel" and len(judges) < 2:
        yield ["cut", "method"], f"a panel of {len(judges)}", "two judges or more, or the method 'one named person'"
    if plan.cut.method == "one named person" and len(judges) > 1:
        yield ["cut", "method"], f"one named person with {len(judges)} judges", "the method 'panel'"
    for index, judge in enumerate(judges):
        if len(judge.judged) != len(plan.question) or not all(0 <= share <= 1 for share in judge.judged):
            yield (["cut", "judge", index, "judged"], f"{len(judge.judged)} expectations of {judge.name}",
                   f"{len(plan.question)} shares from 0 to 1, one a question, in their order")
            return
    if judges and judged_cut(plan.cut, plan.question) != plan.cut.marks:
        yield (["cut", "marks"], f"a cut of {plan.cut.marks} marks",
               f"what the judges' expectations give, {judged_cut(plan.cut, plan.question)}")


def rules_in_words(plan: Blueprint) -> list[str]:
    """What a candidate is told before starting: time, aids, what it takes to pass and who said so."""
    must = sum(place.must_be_right for place in plan.question)
    said_by = "one named person" if plan.cut.method == "one named person" else "a panel of named judges"
    rules = [
        f"{len(plan.question)} questions, {plan.minutes} minutes.",
        f"{'Open' if plan.book == 'open' else 'Closed'} book: {plan.allowed}",
        "A calculator is allowed." if plan.calculator else "No calculator.",
        f"To pass: {plan.cut.marks} of 100 marks. Cut set by {said_by}: {plan.cut.set_by}, {plan.cut.set_on}.",
    ]
    if must:
        some = "1 question" if must == 1 else f"{must} of the questions"
        rules.append(f"{some} must be right, whatever the rest. The assessment paper does not say which.")
    rules.append("No marks are taken off for a wrong answer, and none are given for half of one.")
    return rules
