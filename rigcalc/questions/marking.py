"""Marking one answer from its key: right or not, which misstep, what is said, where to read. Nothing is executed."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

from rigcalc.questions.family import Answer, Round
from rigcalc.questions.reading import read_answer
from rigcalc.questions.scale import bounds, in_fraction, right_in, rounded
from rigcalc.units import exact

__all__ = ["mark"]

REFUSE = "refuse"
NEAR = Fraction(15, 1000)  # a person who rounds stays within this much of the figure


def _answer(key: dict[str, Any]) -> Answer:
    """The marking rule as it was kept with the key, whatever the family says today."""
    turn = key["right"]["round"]
    return Answer(tolerance={name: float(value) for name, value in key["right"]["tolerance"].items()},
                  round=Round(direction=turn["direction"], step={u: float(s) for u, s in turn["step"].items()})
                  if turn else None)


def _step_typed(typed: str) -> Fraction:
    """The last place that was typed: 0.01 for '1.60 kN', 1 for '360 lbf'."""
    digits = typed.strip().split(" ")[0]
    places = len(digits.partition(".")[2].rstrip("lbfkNmingt\"'")) if "." in digits else 0
    return Fraction(1, 10**min(places, 9))


def _fineness(typed: str) -> Fraction:
    """How finely it was typed: the step of its fraction (1/8 for '3 1/8 in'), or its last place."""
    over = re.search(r"\d\s*/\s*(\d{1,4})\b", typed)
    if over and int(over[1]):
        return Fraction(1, int(over[1]))
    numbers = re.findall(r"\d+(?:\.(\d*))?|\.(\d+)", typed)
    return Fraction(1, 10**min(len("".join(numbers[-1])), 9)) if numbers else Fraction(0)


def _gives(slip: dict[str, Any], figure: Fraction, unit: str, typed: str, answer: Answer,
           right: Fraction | None) -> bool:
    """Whether a misstep gives this figure, rounded as a person would round it."""
    value = in_fraction(Fraction(slip["exact"]), unit)
    if slip["round"]:
        return abs(figure - rounded(value, slip["round"]["step"].get(unit, "1"), slip["round"]["direction"])) <= abs(
            value) / 10**9
    steps = [_step_typed(typed)]
    if answer.round and unit in answer.round.step:
        steps.append(exact(answer.round.step[unit]))
    near = max(abs(value) * NEAR, *(steps[1:] or [Fraction(0)]))
    spread = max(float(answer.tolerance.get("relative", 0)), 0.0)
    if abs(figure - value) <= abs(value) * (Fraction(1, 10**9) + exact(spread)):
        return True
    low, high = bounds(Answer(tolerance=answer.tolerance), Fraction(slip["exact"]), unit)
    if low <= figure <= high:
        return True
    ways = {rounded(value, f"{float(step):.9f}", way) for step in steps for way in ("down", "nearest", "up")}
    nearer = right is None or abs(figure - value) < abs(figure - right)  # what was typed coarsely may have meant the right one
    return figure in ways and abs(figure - value) <= near and nearer


def _number(key: dict[str, Any], value: dict[str, Any]) -> tuple[bool, list[dict[str, Any]], bool]:
    """Whether it is right, the missteps that give it, and whether it is only too coarse."""
    right, answer = key["right"]["exact"], _answer(key)
    if value.get("refuse"):
        return right == REFUSE, [slip for slip in key["missteps"] if slip["exact"] == REFUSE], False
    unit, typed = value["unit"], value["typed"]
    figure = in_fraction(Fraction(value["base"]), unit)
    meant = None
    if right != REFUSE:
        meant = right_in(answer, Fraction(right), unit)
        low, high = bounds(answer, Fraction(right), unit)
        if low <= figure <= high:
            return True, [], False
        if abs(figure - meant) <= _fineness(typed) / 2:
            return False, [], True
    found = [slip for slip in key["missteps"]
             if slip["exact"] != REFUSE and _gives(slip, figure, unit, typed, answer, meant)]
    return False, sorted(found, key=lambda slip: abs(in_fraction(Fraction(slip["exact"]), unit) - figure)), False


def _feedback(right: bool, fits: list[dict[str, Any]]) -> str:
    if right:
        return "Right."
    if not fits:
        return "Not right. It is none of the usual missteps."
    if len(fits) == 1:
        return f"Not right. {fits[0]['feedback']}"
    return f"Not right. Two things fit. Either: {fits[0]['feedback']} Or: {fits[1]['feedback']}"


def mark(key: dict[str, Any], question: dict[str, Any], typed: Any) -> dict[str, Any]:
    """One answer marked: {"right", "missteps" (at most two ids), "feedback", "section"}.

    `typed` is what was handed in, as untrusted data: the letter, the raw text of a number, or a list of letters.
    """
    reading = read_answer(question, typed)
    if not reading["ok"]:
        said = "No answer was given." if typed in (None, "", []) else f"{reading['shown']}"
        return {"right": False, "missteps": [], "feedback": said, "section": key["section"]}
    value, coarse = reading["value"], False
    if key["kind"] == "number":
        right, fits, coarse = _number(key, value)
    elif key["kind"] == "one choice":
        right = value == key["right"]["letter"]
        fits = [slip for slip in key["missteps"] if slip["letter"] == value]
    else:
        right = value == key["right"]["row"]
        fits = [slip for slip in key["missteps"] if slip["row"] == value]
    fits = [] if right else fits[:2]
    said = _feedback(right, fits)
    if coarse:
        said = f"Not right. Your sum may be right, but that is too coarse: give it {question['tolerance']}."
    return {"right": right, "missteps": [slip["id"] for slip in fits], "feedback": said,
            "section": key["section"]}
