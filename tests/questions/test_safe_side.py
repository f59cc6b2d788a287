"""A limit may not be marked right above what may be carried, nor a least below what must be there."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import msgspec
import pytest
from a_family import SECRET, families, shop
from many import many

from rigcalc.questions import Stream, compose, draw, mark
from rigcalc.questions.typed import right_typed

SOME = many(16, 80)
# Family, box of a sheet (or none), and the way that is unsafe.
ASKED = [
    ("weakest-of-the-line", None, "above"), ("load-on-four-legs", None, "above"), ("sheet-of-a-brace", "cable", "above"),
    ("sheet-of-a-brace", "line", "above"), ("proof-load-by-procedure", None, "above"), ("limit-in-kilograms", None, "above"),
    ("bound-of-a-lot", None, "above"), ("limit-of-an-eye", None, "above"), ("limit-with-clips", None, "above"),
    ("limit-in-three-boxes", "strength", "above"), ("limit-in-three-boxes", "limit", "above"),
    ("complete-the-limit-on-a-sheet", "breaking-force", "above"), ("lower-of-table-and-certificate", None, "above"),
    ("warmest-for-the-piece", None, "above"), ("write-the-limit", None, "above"), ("metric-by-the-factor", None, "above"),
    ("two-edges-of-a-limit", "passes-up-to", "above"),
    ("least-soft-eye", None, "below"), ("sheet-of-a-coated-wire", "eye", "below"),
    ("strength-to-ask-for", None, "below"), ("size-each-of-four", None, "below"),
]
STEPS = {"lbf": "1", "N": "10", "kN": "0.01", "mm": "0.002", "kg": "1", "°C": "1"}


def _parts(question, key, box):
    if not box:
        return question, key
    at = [own["id"] for own in key["boxes"]].index(box)
    return question["boxes"][at], key["boxes"][at] | {"section": key["section"]}


def unsafe(name: str, box: str | None, way: str, system: str) -> list[str]:
    """What was marked right on the unsafe side: within 2 % of the right figure, beyond all that the page prints."""
    found, tried = [], 0
    for number in range(SOME):
        stream = Stream(SECRET, f"{name} {system} {number}")
        drawn = draw(families()[name], stream, replace(shop(), system=system))
        question, own = _parts(*compose(drawn, stream, 1), box)
        if own["right"]["exact"] == "refuse":
            continue
        figure, _, unit = right_typed(question, own).partition(" ")
        step = Fraction(STEPS[unit]) * (1 if way == "above" else -1)
        for times in (2, 3, 4):
            typed = f"{float(Fraction(figure) + times * step):.10g} {unit}"
            tried += 1
            if abs(times * step) < Fraction(figure) / 50 and mark(own, question, typed)["right"]:
                found.append(f"{typed} for {figure} {unit}")
    assert tried
    return found


@pytest.mark.parametrize("system", ["US", "SI"])
@pytest.mark.parametrize(("name", "box", "way"), ASKED)
def test_nothing_on_the_unsafe_side_is_right(name, box, way, system):
    assert unsafe(name, box, way, system) == []


def test_a_tolerance_on_the_unsafe_side_is_found(monkeypatch):
    """Planted: one per cent about a limit."""
    family = families()["load-on-four-legs"]
    loose = msgspec.structs.replace(family, answer=msgspec.structs.replace(family.answer, tolerance={"relative": 0.01}, round=None))
    monkeypatch.setitem(families(), "load-on-four-legs", loose)
    assert unsafe("load-on-four-legs", None, "above", "US")


@pytest.mark.parametrize(("name", "pounds", "factor"), [("strength-to-ask-for", 335, 5)])
def test_a_strength_rounded_down_is_not_right_by_way_of_the_other_unit(name, pounds, factor):
    """335 lbf x 5 / 0.9 = 1861.1: 1862 lbf. 1.49 kN, as the other unit shows it, would give 1861."""
    for number in range(4000):
        stream = Stream(SECRET, f"{name} {number}")
        drawn = draw(families()[name], stream, shop())
        if (drawn.values["pounds"], drawn.values["job"]["value"]) == (pounds, factor):
            question, key = compose(drawn, stream, 1)
            break
    assert mark(key, question, "1862 lbf")["right"]
    told = mark(key, question, "1861 lbf")
    assert not told["right"] and told["missteps"] == ["rounded-down"] and "rounded up" in told["feedback"]
