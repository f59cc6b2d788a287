"""The practice paper in a learner's page: the questions of a blueprint, each marked at once, with no result."""

from __future__ import annotations

from html import escape
from typing import Any

import ipywidgets

from rigcalc.notebook.form import Exercise
from rigcalc.notebook.lesson import Block, lesson_style
from rigcalc.papers.blueprint import load_blueprint
from rigcalc.papers.issue import practice_paper
from rigcalc.questions import Stream, load_families
from rigcalc.shop import load_shop

__all__ = ["PracticeSitting"]

_FIRST = b"the practice paper that every page opens on"
NO_RESULT = ("It is marked at once, question by question. It gives no result, enters no register and counts for "
             "nothing: it shows you what to read again.")


class PracticeSitting:
    """A practice paper on a page.

    Parameters
    ----------
    blueprint : str
        The blueprint's name.

    The page opens on a fixed first paper; *Fresh numbers* under a question draws that one anew.
    """

    def __init__(self, blueprint: str = "narrow") -> None:
        shop, families = load_shop(), load_families()
        made = practice_paper(load_blueprint(blueprint), families, shop, Stream(_FIRST, blueprint))
        self.paper = made.paper
        self.exercises = [
            Exercise(families[key["family"]], title=f"Question {slot} of {len(made.keys)}", shop=shop, slot=slot,
                     made=(question, key))
            for slot, (question, key) in enumerate(zip(made.paper["questions"], made.keys, strict=True), 1)]
        self._must = {slot for slot, key in enumerate(made.keys, 1) if key["must_be_right"]}
        self._last: dict[int, bool] = {}
        self._said = ipywidgets.HTML(value=self._tally())
        for slot, exercise in enumerate(self.exercises, 1):
            exercise.observe(lambda change, slot=slot: self._marked(slot, change["new"]), "feedback")

    def heading(self) -> Block:
        """The paper's heading, rules, and the chart in force."""
        said = [self.paper["title"], NO_RESULT, "In an assessment the same kinds of question stand under these rules:"]
        rules, chart = self.paper["rules"], self.paper["chart_line"]
        html = (f'{lesson_style()}<p class="chart-line">{escape(chart)}</p><p><strong>{escape(said[0])}</strong></p>'
                f"<p>{escape(said[1])}</p><p>{escape(said[2])}</p><ul>"
                + "".join(f"<li>{escape(rule)}</li>" for rule in rules) + "</ul>")
        return Block(html, "\n".join([chart, *said, *(f"- {rule}" for rule in rules)]))

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
            self._last[slot] = feedback["right"]
            self._said.value = self._tally()

    def _tally(self) -> str:
        if not self._last:
            return '<p role="status">Nothing answered yet.</p>'
        said = [f"{len(self._last)} of {len(self.exercises)} answered, {sum(self._last.values())} right at the last try."]
        again = sorted(slot for slot, right in self._last.items() if not right)
        if again:
            said.append(f"To look at again: question {', '.join(map(str, again))}.")
        must = [slot for slot in again if slot in self._must]
        if must:
            said.append(f"In an assessment question {', '.join(map(str, must))} must be right, whatever the rest.")
        return f'<p role="status">{escape(" ".join(said))}</p>'
