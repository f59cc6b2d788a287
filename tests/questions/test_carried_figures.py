"""A candidate who carries on with the figure that the box above asked for, rounded, is right in the box below."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from math import floor
from pathlib import Path

import pytest
from a_family import SECRET, families, shop
from many import many

from rigcalc.questions import Stream, compose, draw, mark
from rigcalc.shop import load_shop

STRANGERS = Path(__file__).parents[1] / "notebooks" / "strangers_shop.toml"
DRAWS = many(25, 300)


@lru_cache
def strangers():
    return load_shop(STRANGERS)


def asked(name: str, number: int, of):
    stream = Stream(SECRET, f"carried {name} {number}")
    made = draw(families()[name], stream, of)
    return made, *compose(made, stream, 1)


def kilonewtons(force_n) -> tuple[Fraction, str]:
    """A force as somebody writes it who works in kN: cut to 0.01 kN, and what is carried on with, in N."""
    written = floor(Fraction(force_n) / 10 + Fraction(1, 10**6))
    return Fraction(written * 10), f"{written / 100:.2f} kN"


def three_boxes(number: int, of) -> tuple[list[str], dict]:
    made, question, key = asked("limit-in-three-boxes", number, of)
    force, first = kilonewtons(made.values["lower_n"])
    held, second = kilonewtons(force * 9 / 10)
    typed = [first, second, f"{floor(held / Fraction(str(made.values['factor']['value'])))} N"]
    return typed, mark(key, question, typed)


@pytest.mark.parametrize("of", [strangers, shop], ids=["SI", "US"])
def test_three_boxes_worked_one_from_the_other_are_right(of):
    told = [three_boxes(number, of()) for number in range(DRAWS)]
    assert not [(typed, found["feedback"]) for typed, found in told if not found["right"]]


def test_the_sheet_that_an_assessor_found_marked_wrong():
    found = next((found for typed, found in (three_boxes(number, strangers()) for number in range(1500)) if typed[1:] == ["54.18 kN", "6772 N"]), None)
    assert found and found["right"]


def test_a_limit_from_the_force_as_the_box_above_has_it():
    for number in range(DRAWS):
        made, question, key = asked("complete-the-limit-on-a-sheet", number, strangers())
        force, written = kilonewtons(made.values["lower_n"])
        limit = floor(force * 9 / 10 / Fraction(str(made.values["job"]["value"])))
        assert mark(key, question, [str(made.values["row"]["count"]), written, f"{limit} N"])["right"]


def test_a_limit_above_the_right_one_stays_wrong():
    """Carrying on with what was rounded down never makes room above."""
    for number in range(DRAWS):
        _, question, key = asked("limit-in-three-boxes", number, strangers())
        exact = Fraction(key["boxes"][2]["right"]["exact"])
        printed = max(exact, *map(Fraction, key["boxes"][2]["right"].get("also", [0])))
        assert not mark(key, question, ["1 N", "1 N", f"{floor(printed) + 2} N"])["boxes"][2]["right"]


def test_what_the_eye_strips_on_a_leg_doubled_as_it_was_written():
    for number in range(DRAWS):
        made, question, key = asked("coated-eye-on-the-sheet", number, shop())
        leg = floor(Fraction(made.values["each"]) + Fraction(1, 2))
        sleeve = key["boxes"][0]["right"]["letter"]
        assert mark(key, question, [sleeve, f"{leg} mm", f"{2 * leg} mm"])["right"]
