"""Honest work from whichever of two printed figures is marked right, in every accepted unit, in both systems."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache

import pytest
from a_family import SECRET, families, ids, shop
from many import many

from rigcalc.errors import Refusal
from rigcalc.papers.appeal import accepted_in_words
from rigcalc.questions import Stream, compose, draw, mark, registry
from rigcalc.questions.scale import right_in
from rigcalc.questions.simulated import USUAL, as_typed
from rigcalc.questions.template import resolve
from rigcalc.questions.typed import right_typed
from rigcalc.units import read_force_n, read_mass_kg, show_force, show_mass

FIGURES = ids("number") + ids("sheet")
PRINTED = re.compile(r"([0-9.]+ (?:lbf|N|kN|kg|lb)) \[([0-9.]+ (?:lbf|N|kN|kg|lb))\]")
SOME = many(8, 20)


@lru_cache(4096)
def in_base(text: str) -> float:
    return float((read_mass_kg if text.endswith(("kg", "lb")) else read_force_n)(text).value)


def prints(value, pair: tuple[str, str]) -> bool:
    return f"{pair[0]} [{pair[1]}]" in {show(value, system, way) for show in (show_force, show_mass) for system in ("US", "SI")
                                       for way in ("nearest", "down", "up")}


def replaced(value, pairs: list[tuple[str, str]], side: int, name: str = ""):
    """A drawn value as one side of the page prints it; what the page prints in no such way, by the nearest within its last place."""
    if isinstance(value, dict):
        return {name: replaced(one, pairs, side, name) for name, one in value.items()}
    if isinstance(value, (list, tuple)):
        return [replaced(one, pairs, side, name) for one in value]
    if isinstance(value, (float, int, Fraction)) and not isinstance(value, bool) and not name.endswith(("_mm", "_deg")):
        near = [pair for pair in pairs if all(abs(in_base(one) - float(value)) < 10.1 for one in pair)]
        near = [pair for pair in near if prints(value, pair)] or near
        return in_base(min(near, key=lambda pair: abs(in_base(pair[0]) - float(value)))[side]) if near else value
    return value


def answers_from(family, answers, values: dict, page: str, side: int) -> list:
    """What somebody gets who works from that side of every printed pair; None where it cannot be worked."""
    pairs = PRINTED.findall(page)
    again = dict(values)
    for name, one in family.draw.items():
        before = replaced(values[name], pairs, side, name)
        if before == values[name] and one.calculation:
            again[name] = registry.call(one.calculation, resolve(one.with_, again))
        else:
            again[name] = before
    found = []
    for answer in answers:
        try:
            given = registry.call(answer.calculation, resolve(answer.with_, again)) if answer.calculation else resolve(answer.value, again)
        except Refusal:
            given = None
        found.append(Fraction(given) if isinstance(given, (float, int, Fraction)) and not isinstance(given, bool) else None)
    return found


def typed_in(answer, value: Fraction, unit: str) -> str:
    """The figure as the page asks for it."""
    figure = right_in(answer, value, unit)
    if answer.round:
        return f"{float(figure):.{USUAL[unit]}f} {unit}"
    return as_typed(figure, unit)[0]


def of_system(system: str):
    return replace(shop(), system=system)


def refused_honest_work(name: str, system: str, draws: int = SOME) -> list[str]:
    """All honest answers of a family's draws that are not marked right."""
    family, found, sold = families()[name], [], of_system(system)
    for number in range(draws):
        stream = Stream(SECRET, f"printed {name}/{system}/{number}")
        drawn = draw(family, stream, sold)
        question, key = compose(drawn, stream, 1)
        page = f"{question['text']} {question['chart'] or ''}"
        boxes = [at for at, box in enumerate(family.box) if box.kind == "number"] if family.box else [None]
        answers = [family.answer if at is None else family.box[at].answer for at in boxes]
        for side in (0, 1):
            for at, answer, value in zip(boxes, answers, answers_from(family, answers, drawn.values, page, side), strict=True):
                own = key if at is None else key["boxes"][at]
                if value is None or own["right"]["exact"] == "refuse":
                    continue
                for unit in answer.accept:
                    typed = typed_in(answer, value, unit)
                    given = right_typed(question, key)
                    given = typed if at is None else [*given[:at], typed, *given[at + 1:]]
                    if not mark(key, question, given)["right"]:
                        found.append(f"{page}: {typed} from {'first' if not side else 'bracket'}, key {own['right']}")
    return found


@pytest.mark.parametrize("system", ["US", "SI"])
@pytest.mark.parametrize("name", FIGURES)
def test_honest_work_from_either_printed_figure_is_right_in_every_unit(name, system):
    assert refused_honest_work(name, system) == []


def the_clipped_quarter(number_of_tries: int = 4000):
    """The draw 'breaking force 4200 lbf [18.68 kN], factor 5'."""
    for number in range(number_of_tries):
        stream = Stream(SECRET, f"clipped {number}")
        drawn = draw(families()["limit-with-clips"], stream, shop())
        if "4200 lbf [18.68 kN]" in drawn.text and drawn.values["factor"]["value"] == 5:
            return compose(drawn, stream, 1)
    raise AssertionError("never drawn")


def test_newtons_from_either_figure_and_nothing_beside():
    """4200 lbf x 0.80 / 5 = 672 lbf = 2989.2 N; 18.68 kN x 0.80 / 5 = 2988.8 N = 671.9 lbf. Worked by hand."""
    question, key = the_clipped_quarter()
    for typed in ("672 lbf", "671 lbf", "2989 N", "2988 N"):
        assert mark(key, question, typed)["right"], typed
    for typed in ("673 lbf", "670 lbf", "2990 N", "2987 N"):
        assert not mark(key, question, typed)["right"], typed


def test_a_key_of_before_is_marked_as_before():
    """Keys kept without the figures beside the right one: only the right one counts."""
    question, key = the_clipped_quarter()
    key = {**key, "right": {name: value for name, value in key["right"].items() if name != "also"}}
    assert mark(key, question, "2989 N")["right"] and not mark(key, question, "2988 N")["right"]


def test_what_is_refused_is_found(monkeypatch):
    """Planted: nothing is right beside the one figure."""
    monkeypatch.setattr("rigcalc.questions.drawing.with_either", lambda family, values, system, page, parts, work: parts)
    assert refused_honest_work("limit-with-clips", "US", 10) and refused_honest_work("limit-in-three-boxes", "SI", 10)


def test_an_appeal_says_what_is_accepted_by_the_printed_figures():
    words = accepted_in_words(*the_clipped_quarter())
    assert "Accepted: 2989 N exactly; by the figures as the page prints them, 2988 N exactly." in words
    assert not any("kN" in line for line in words)
