"""The options of one choice: which wrong ones stand beside the right one.

Whoever looks for the longest, the largest or the middle option must gain nothing. So the place that the right option
takes among the options, ranked by size (or by length, for sentences), is drawn first and the wrong ones picked to fit.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from rigcalc.errors import Refusal
from rigcalc.questions import template
from rigcalc.questions.draws import Stream
from rigcalc.questions.family import Family, Misstep, Statement
from rigcalc.questions.instance import Option
from rigcalc.questions.lengths import one_fault, rank
from rigcalc.questions.undrawn import Undrawn

__all__ = ["choose", "offered"]


def _shown(words: dict[str, str] | None, value: Any, values: Mapping[str, Any], system: str,
           names: Mapping[str, str]) -> str:
    if isinstance(value, str) and value in names:
        return names[value]
    if words:
        return template.fill(words["en"], {**values, "value": value}, system)
    return template.plain(value)


def _candidates(family: Family, values: Mapping[str, Any], system: str, stream: Stream,
                work: Callable[..., Any]) -> tuple[tuple, list[tuple]]:
    """The right candidate and the wrong ones, each (rank, Option, always)."""
    if family.right:
        return _statements(family, values, system, stream)
    answer = family.answer
    value = work(answer, values)
    text = _shown(answer.option, value, values, system, answer.names)
    right = (rank(value if answer.sort is None else template.at_path(values, answer.sort[1:]), text),
             Option(text), True)
    wrong = []
    for misstep in family.misstep:
        try:
            value = work(misstep, values)
        except Refusal:
            if misstep.where_it_shows:
                continue
            raise
        text = _shown(misstep.option or answer.option, value, values, system, answer.names)
        if text == right[1].text or text in [one[1].text for one in wrong]:
            if misstep.where_it_shows:
                continue
            raise _alike(misstep, text == right[1].text)
        size = rank(value if misstep.sort is None else template.at_path(values, misstep.sort[1:]), text)
        feedback = template.fill(misstep.feedback["en"], {**values, "value": text}, system)
        wrong.append((size, Option(text, misstep.id, feedback), misstep.always))
    return right, wrong


def _alike(misstep: Misstep, right: bool) -> Undrawn:
    """A misstep that gives the right answer, or another misstep's."""
    return Undrawn(f"misstep '{misstep.id}' gives {'the right answer itself' if right else 'the answer of another misstep'}",
                   "a misstep that gives an answer of its own in some draws at least", "work it another way, or write where_it_shows = true", misstep)


def offered(family: Family, values: Mapping[str, Any], pool: list[Statement]) -> list[Statement]:
    """The statements of a pool that fit the drawn topic."""
    topic = template.at_path(values, family.answer.topic[1:]) if family.answer.topic else None
    return [one for one in pool if not one.fits or topic in one.fits]


def _statements(family: Family, values: Mapping[str, Any], system: str, stream: Stream) -> tuple[tuple, list[tuple]]:
    def candidate(one: Statement, misstep: str | None, feedback: str | None) -> tuple:
        text = template.fill(one.en, values, system)
        said = template.fill(feedback, values, system) if feedback else None
        return (rank(text, text), Option(text, misstep, said), False)

    rights = offered(family, values, family.right)
    if not rights:
        raise Undrawn("no right statement fits the drawn topic")
    right = candidate(stream.pick(rights), None, None)
    wrong, seen = [], {template.fill(one.en, values, system) for one in rights}
    for one in stream.shuffled(offered(family, values, family.wrong)):
        found = candidate(one, one.id, one.feedback["en"])
        if found[1].text not in seen:
            seen.add(found[1].text)
            wrong.append(found)
    return right, wrong


def _no_place(family: Family, values: Mapping[str, Any], system: str, right: tuple, wrong: list[tuple], place: int) -> Undrawn:
    """Why the right option cannot stand at the drawn place: lengths of statements, or answers of missteps."""
    count, text = family.answer.options, right[1].text
    if family.right:
        fault = one_fault([text], [one[1].text for one in wrong], place, count)
        part = next((one for one in family.right if template.fill(one.en, values, system) == text), None)
        return Undrawn(*fault[1:], part)
    smaller, larger = (sum(one[0] < right[0] for one in wrong), sum(one[0] > right[0] for one in wrong))
    return Undrawn(f"of {count} options, from the smallest answer to the largest (words: from the shortest), the right one is to be number {place + 1} "
                   f"in turn, and {smaller} missteps give a smaller and {larger} a larger answer than the right one", f"missteps of which {place} give a smaller and {count - 1 - place} a larger answer",
                   "add a [[misstep]] on the side that lacks one, or take fewer options", family.answer)


def choose(family: Family, values: Mapping[str, Any], system: str, stream: Stream, target: int,
           work: Callable[..., Any]) -> dict[str, Any]:
    """The options, and which is right, for a drawn rank; Undrawn when these values cannot give that rank."""
    right, wrong = _candidates(family, values, system, stream, work)
    count = family.answer.options
    if right[0] in [one[0] for one in wrong if one[0] == right[0]]:
        raise Undrawn("two options rank alike")
    must = [one for one in wrong if one[2]]
    free = stream.shuffled([one for one in wrong if not one[2]])
    below, above = target - sum(one[0] < right[0] for one in must), count - 1 - target
    above -= sum(one[0] > right[0] for one in must)
    lower, upper = ([one for one in free if one[0] < right[0]], [one for one in free if one[0] > right[0]])
    if below < 0 or above < 0 or len(lower) < below or len(upper) < above:
        raise Undrawn(lambda: _no_place(family, values, system, right, wrong, target))
    chosen = sorted([right, *must, *lower[:below], *upper[:above]], key=lambda one: one[1].text)
    options = tuple(one[1] for one in chosen)
    return {"options": options, "right": options.index(right[1]), "shown_right": right[1].text}
