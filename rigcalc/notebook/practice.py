"""The practice paper in a learner's page: the questions of a blueprint, each marked at once, with no result.

Beside it a part to choose: the full paper, the written skills of one lesson, or the one skill that a link asks for.
"""

from __future__ import annotations

import os
import secrets
from html import escape
from typing import Any
from urllib.parse import parse_qs

import ipywidgets

from rigcalc.notebook.form import Exercise
from rigcalc.errors import Refusal
from rigcalc.notebook.lesson import Block, opening_lines
from rigcalc.notebook.teaching import shop_for_teaching
from rigcalc.opening.shelf import lessons
from rigcalc.papers.blueprint import Blueprint, installed_blueprint, load_blueprint
from rigcalc.papers.issue import PracticePaper, practice_paper
from rigcalc.questions import Stream
from rigcalc.questions.own import families_for_teaching
from rigcalc.skills import load_skills

__all__ = ["MorePractice", "PracticeSitting", "parts"]

_FIRST = b"the practice paper that every page opens on"
NO_RESULT = ("It is marked at once, question by question. It gives no result, enters no register and counts for "
             "nothing: it shows you what to read again.")
FIRST_COUNTS = " A paper counts the first: nobody tells you there what is right before you hand it in."


def _named(slots: list[int]) -> str:
    """'question 2', 'questions 2 and 4', 'questions 2, 4 and 7'."""
    *first, last = map(str, slots)
    return f"questions {', '.join(first)} and {last}" if first else f"question {last}"


def _blueprint(name: str, families: dict) -> tuple[Blueprint, str]:
    """The blueprint in force; where the workplace's own cannot be used the installed one, with a calm sentence."""
    try:
        return load_blueprint(name, families), ""
    except Refusal:
        return load_blueprint(installed_blueprint(name), families), ("The workplace's own plan of the paper cannot be used just now, so the one that "
                                                                     "came with the workbook stands here. Whoever teaches sees why on the page Teach.")


def _made(blueprint: str, families: dict) -> tuple[PracticePaper, Any, str]:
    """The first paper, the shop it asks about, and the note on that."""
    (shop, note), (plan, other) = shop_for_teaching(), _blueprint(blueprint, families)
    return practice_paper(plan, families, shop, Stream(_FIRST, blueprint)), shop, " ".join(filter(None, (note, other)))


class _Sitting:
    """Exercises under one another, with a tally of what has been answered."""

    def __init__(self, exercises: list[Exercise], must: set[int], weights: dict[int, int] | None = None) -> None:
        self.exercises, self._must, self._weights = exercises, must, weights or {}  # a whole paper's marks, by question
        self._first: dict[int, bool] = {}  # what a paper would count
        self._last: dict[int, bool] = {}
        self._right: set[int] = set()  # at one try or another: other values do not take it away
        self._said = ipywidgets.HTML(value=self._tally())
        for slot, exercise in enumerate(exercises, 1):
            exercise.observe(lambda change, slot=slot: self._marked(slot, change["new"]), "feedback")

    def questions(self) -> None:
        """Show every question, one under another."""
        from IPython.display import display

        for exercise in self.exercises:
            display(exercise)

    def so_far(self) -> Any:
        """What has been answered so far, kept up while answers come in."""
        return self._said

    def _marked(self, slot: int, feedback: dict | None) -> None:
        if feedback:
            self._first.setdefault(slot, feedback["right"])
            self._last[slot] = feedback["right"]
            self._right |= {slot} if feedback["right"] else set()
            self._said.value = self._tally()

    def _tally(self) -> str:
        if not self._last:
            return '<p role="status">Nothing answered yet.</p>'
        at_once = sum(self._first.values())
        later = len(self._right) - at_once
        said = [f"{len(self._last)} of {len(self.exercises)} answered: {at_once} right at the first answer"
                f"{f', {later} after another try' if later else ''}.{FIRST_COUNTS if at_once < len(self._first) else ''}"]
        if self._weights:
            worth = sum(self._weights[slot] for slot, right in self._first.items() if right)
            said.append(f"The first answers that are right are worth {worth} of {sum(self._weights.values())} marks; parts of the others are not counted here.")
        again = sorted(slot for slot, right in self._last.items() if not right)
        if again:
            said.append(f"To look at again: {_named(again)}.")
        missed = sorted(slot for slot, right in self._first.items() if not right)
        if missed and missed != again:
            said.append(f"Not right at the first answer: {_named(missed)}.")
        must = [slot for slot in sorted({*again, *missed}) if slot in self._must]
        if must:
            said.append(f"In an assessment, {_named(must)} must be right, whatever the rest. "
                        "The assessment paper does not say which.")
        return f'<p role="status">{escape(" ".join(said))}</p>'


class PracticeSitting(_Sitting):
    """A practice paper on a page.

    Parameters
    ----------
    blueprint : str
        The blueprint's name.

    The page opens on a fixed first paper; *Another like this* under a question draws it anew.
    """

    def __init__(self, blueprint: str = "narrow") -> None:
        families, self._own = families_for_teaching()
        made, shop, self.note = _made(blueprint, families)
        self.paper = made.paper
        self._invented = shop.invented
        exercises = [
            Exercise(families[key["family"]], title=f"Question {slot} of {len(made.keys)}", shop=shop, slot=slot,
                     made=(question, key))
            for slot, (question, key) in enumerate(zip(made.paper["questions"], made.keys, strict=True), 1)]
        super().__init__(exercises, {slot for slot, key in enumerate(made.keys, 1) if key["must_be_right"]},
                         {slot: key["weight"] for slot, key in enumerate(made.keys, 1)})

    def heading(self) -> Block:
        """The paper's heading, rules, and the chart in force."""
        said = [self.paper["title"], f"{self._own} {NO_RESULT}".strip(), "In an assessment the same kinds of question stand under these rules:"]
        rules, chart = self.paper["rules"], self.paper["chart_line"]
        standing = opening_lines(chart, self._invented, self.note)
        html = (f"{standing.html}<p><strong>{escape(said[0])}</strong></p>"
                f"<p>{escape(said[1])}</p><p>{escape(said[2])}</p><ul>"
                + "".join(f"<li>{escape(rule)}</li>" for rule in rules) + "</ul>")
        return Block(html, "\n".join([standing.text, *said, *(f"- {rule}" for rule in rules)]))


def parts() -> dict[str, str]:
    """What can be practised beside the narrow paper: what the list shows, and what it stands for."""
    found = {f"The full paper: {len(_blueprint('full', families_for_teaching()[0])[0].question)} questions": "full"}
    titles = {sheet.number: f"{sheet.number}, {sheet.title}" for sheet in lessons()}
    for lesson in sorted({one.lesson for one in load_skills().values() if one.written}):
        found[f"Lesson {titles.get(lesson, lesson)}: {len(_asked(lesson))} questions"] = lesson
    return found


def _asked(lesson: str) -> list[str]:
    """The families of a lesson's part: for each skill that is asked in writing two of its families, in a drawn order."""
    families, found = families_for_teaching()[0], []
    for one in sorted(load_skills().values(), key=lambda one: one.number):
        if one.written and one.lesson == lesson:
            own = sorted(name for name, family in families.items() if family.skill == one.id)
            found += Stream(_FIRST, f"lesson {lesson}, skill {one.number}").shuffled(own)[:2]
    return found


def _of_lesson(lesson: str) -> _Sitting:
    (shop, _), asked = shop_for_teaching(), _asked(lesson)
    made = [Exercise(name, title=f"Question {slot} of {len(asked)}", shop=shop, slot=slot,
                     stream=Stream(_FIRST, f"lesson {lesson}, {name}")) for slot, name in enumerate(asked, 1)]
    skills, families = load_skills(), families_for_teaching()[0]
    return _Sitting(made, {slot for slot, name in enumerate(asked, 1) if skills[families[name].skill].must_be_right})


def _of_skill(name: str) -> _Sitting:
    """Every family of one skill, on values nobody has seen."""
    asked = sorted(family.id for family in families_for_teaching()[0].values() if family.skill == name)
    drawn = secrets.token_bytes(32)
    made = [Exercise(family, title=f"Question {slot} of {len(asked)}", slot=slot, stream=Stream(drawn, family))
            for slot, family in enumerate(asked, 1)]
    return _Sitting(made, set(range(1, len(asked) + 1)) if load_skills()[name].must_be_right else set())


def _asked_for() -> dict[str, str]:
    """The written skill that the page's address asks for with skill=..., as the list shows it; none for anything else."""
    asked = parse_qs(os.environ.get("QUERY_STRING", "")).get("skill", [""])[0]
    one = load_skills().get(asked)
    return {one.sentence: one.id} if one and one.written else {}


class MorePractice(ipywidgets.VBox):
    """A list to choose from: the full paper, or the written skills of one lesson; its questions come under it.

    Where the page's address asks for one skill, that stands in the list too and is chosen.
    """

    def __init__(self) -> None:
        self.sitting: _Sitting | None = None
        self._skill = _asked_for()
        self._choice = ipywidgets.Dropdown(options=[("nothing yet", ""), *self._skill.items(), *parts().items()], value="",
                                           description="Practise",
                                           style={"description_width": "6rem"}, layout={"width": "34rem", "max_width": "100%"})
        self._choice.add_class("control-practice")
        self._under = ipywidgets.VBox([])
        self._choice.observe(self._chosen, names="value")
        super().__init__([self._choice, self._under])
        for name in self._skill.values():
            self.choose(name)

    def choose(self, part: str) -> None:
        """Choose as a person does; '' takes the questions away."""
        self._choice.value = part

    def _chosen(self, change: Any) -> None:
        part = change["new"]
        self.sitting = (None if not part else PracticeSitting(part) if part == "full" else
                        _of_skill(part) if part in self._skill.values() else _of_lesson(part))
        head = [ipywidgets.HTML(self.sitting.heading()._repr_html_())] if part == "full" else []
        shown = [] if self.sitting is None else [*head, *self.sitting.exercises, self.sitting.so_far()]
        gone, self._under.children = self._under.children, shown
        for one in gone:
            one.close()

    def __repr__(self) -> str:
        return "To choose from: " + "; ".join(parts()) + "."
