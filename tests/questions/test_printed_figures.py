"""Honest work from whichever of two printed figures is marked right, in every accepted unit, in both systems."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache

import pytest
from a_family import SECRET, families, ids, shop
from many import many

from rigcalc.errors import Refusal
from rigcalc.papers.appeal import accepted_in_words
from rigcalc.rating import show_limit
from rigcalc.reference import table
from rigcalc.questions import Stream, compose, draw, mark, registry
from rigcalc.questions.scale import right_in
from rigcalc.questions.simulated import USUAL, as_typed
from rigcalc.questions.template import resolve
from rigcalc.questions.typed import right_typed
from rigcalc.units import LBF_N, read_force_n, read_mass_kg, show_force, show_mass

FIGURES = ids("number") + ids("sheet")
PRINTED = re.compile(r"([0-9.]+ (?:lbf|N|kN|kg|lb)) \[([0-9.]+ (?:lbf|N|kN|kg|lb))\]")
SOME = many(8, 20)
SAID_NOWHERE = {"bound-of-a-lot", "limit-in-kilograms", "lots-by-what-they-show", "what-a-lot-shows", "write-the-limit"}  # they only work with it
TABLE_FAMILIES = [name for name in ids() if name not in SAID_NOWHERE and any(call in str(families()[name].draw)
                  for call in ("table_force_n", "breaking_force_n", "table_rows_said"))]


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


def stands(value, name: str, page: str) -> bool:
    """A limit that the question states is worked with as it stands."""
    return name == "limit_n" and any(show_force(value, system, "down").partition(" [")[0] in page for system in ("US", "SI"))


def answers_from(family, answers, values: dict, page: str, side: int) -> list:
    """What somebody gets who works from that side of every printed pair; None where it cannot be worked."""
    pairs = PRINTED.findall(page)
    again = dict(values)
    for name, one in family.draw.items():
        before = replaced(values[name], pairs, side, name)
        if before == values[name] and one.calculation and not stands(before, name, page):
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
    within = float((answer.tolerance or {}).get("mm", 1)) / (25.4 if unit == "in" else 1)  # the page says within how much it is asked for
    return as_typed(figure, unit, asked=max(0, math.ceil(-math.log10(2 * within))) if unit in ("in", "mm") else 0)[0]


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
        if "4200 lbf [18.68 kN]" in drawn.text and drawn.values["job"]["value"] == 5:
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
    assert "Accepted: 2989 N exactly; by the figures as the page, a job sheet or the box above has them, 2988 N exactly." in words
    assert "Accepted: 2.98 kN exactly." in words


def published_lbf() -> set[int]:
    return {int(pounds) for row in table("cable_strength") for pounds in (row.galvanised_lbf, row.stainless_lbf) if pounds}


@pytest.mark.parametrize("name", TABLE_FAMILIES)
def test_a_published_figure_is_quoted_exactly_beside_an_si_shop_s_unit(name):
    """Never 12.46 kN [2801 lbf] for the table's 2800: what a calculation looked up in the table stands on the page as it was published."""
    family, sold, seen = families()[name], of_system("SI"), 0
    for number in range(SOME):
        stream = Stream(SECRET, f"published {name}/{number}")
        drawn = draw(family, stream, sold)
        question, _ = compose(drawn, stream, 1)
        page = f"{question['text']} {question['chart'] or ''}"
        for value in [*drawn.values.values(), drawn.values.get("cable", {}).get("breaking_force_n")]:
            pounds = round(Fraction(value) / LBF_N, 6) if isinstance(value, float) and value > 1 else None
            if pounds in published_lbf():
                seen += f"[{pounds} lbf]" in page
                assert not any(f"[{pounds + apart} lbf]" in page and f"[{pounds} lbf]" not in page for apart in (-1, 1)), page
    assert seen


def draw_of(name: str, fits, system: str = "SI"):
    for number in range(4000):
        stream = Stream(SECRET, f"one {name} {number}")
        drawn = draw(families()[name], stream, of_system(system))
        if fits(drawn):
            return compose(drawn, stream, 1)
    raise AssertionError("never drawn")


def test_who_knows_the_table_and_who_reads_the_kilonewtons_are_both_right():
    """AC 43.13-1B, Table 7-3: 1/16 7x19 galvanised, 480 lbf = 2.1351 kN, shown as 2.14 kN [480 lbf]; down to a step 2.13 kN."""
    question, key = draw_of("force-from-the-table", lambda one: one.values["cable"]["size"] == "1/16"
                            and one.values["cable"]["metal"] == "galvanised" and one.values["cable"]["construction"] == "7x19")
    assert "2.14 kN [480 lbf]" in question["chart"]
    for typed in ("480 lbf", "2.13 kN", "2.14 kN", "2135 N", "2140 N"):
        assert mark(key, question, typed)["right"], typed
    for typed in ("2.15 kN", "482 lbf", "2136 N", "479 lbf"):
        assert not mark(key, question, typed)["right"], typed


def test_an_si_shop_s_limit_is_right_as_its_job_sheet_states_it():
    """4200 lbf x 0.90 / 5 = 756 lbf = 3362.9 N, and 18.68 kN x 0.90 / 5 = 3362.4 N: the sheet says 3.36 kN [755 lbf]. Worked by hand."""
    question, key = draw_of("limit-from-a-coated-reel", lambda one: "18.68 kN [4200 lbf]" in one.text
                            and one.values["reel"]["size"] == "3/16" and one.values["metal"] == "galvanised" and one.values["factor"]["value"] == 5)
    assert key["right"]["shown"] == "3.36 kN"
    for typed in ("3.36 kN", "3360 N", "3362 N", "756 lbf", "755 lbf"):
        assert mark(key, question, typed)["right"], typed
    for typed in ("3.37 kN", "3363 N", "3370 N", "3361 N", "757 lbf", "3.35 kN"):
        assert not mark(key, question, typed)["right"], typed


@pytest.mark.parametrize(("limit_n", "system"), [(384.3, "SI"), (3362.9, "SI"), (384.3, "US"), (3362.9, "US"), (999.9, "SI"), (1000.0, "SI")])
def test_a_limit_stated_in_a_question_is_the_job_sheet_s(limit_n, system):
    stated = registry.call("limit_as_stated_n", {"breaking_force_n": limit_n, "efficiency": 1.0, "factor": 1, "system": system})
    assert show_force(stated, system, "down") == show_limit(limit_n, system)


def test_a_limit_in_kilograms_starts_from_one_figure_and_the_printed_pound_gives_the_same():
    for system in ("US", "SI"):
        for number in range(many(40, 120)):
            stream = Stream(SECRET, f"limit-in-kilograms {system} {number}")
            question, key = compose(draw(families()["limit-in-kilograms"], stream, replace(shop(), system=system)), stream, 1)
            assert not PRINTED.search(question["text"]) and "also" not in key["right"] and "One pound-force is 4.448 N" in question["chart"]
            limit = re.search(r"limit is ([0-9.]+) (lbf|N|kN)\.", question["text"])
            newtons = float(limit[1]) * {"lbf": 4.448, "N": 1, "kN": 1000}[limit[2]]  # as the page prints the pound
            by_hand = int(newtons / 9.81)
            assert mark(key, question, f"{by_hand} kg")["right"]
            assert not mark(key, question, f"{by_hand - 1} kg")["right"] and not mark(key, question, f"{by_hand + 1} kg")["right"]
    assert float(LBF_N) == pytest.approx(4.448, abs=0.0005)
