"""What a wrong figure lacks where the sum may be right: the rounding that is asked, or its unit."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from rigcalc.questions.marking import REFUSE, mark
from rigcalc.questions.reading import read_answer
from rigcalc.questions.scale import in_fraction, rounded

__all__ = ["nearly_right"]


def nearly_right(key: dict[str, Any], question: dict[str, Any], typed: Any) -> str:
    """One sentence where a wrong figure would be right if rounded as asked, or in another unit; else an empty text.

    `key` and `question` as `compose` gives them, `typed` what was handed in. Source: arithmetic.
    """
    if question["kind"] != "number" or key["right"]["exact"] == REFUSE:
        return ""
    value = read_answer(question, typed)["value"]
    if not value or value.get("refuse"):
        return ""
    unit = value["unit"]
    figure = in_fraction(Fraction(value["base"]), unit)
    turn = key["right"]["round"]
    if turn and unit in turn["step"]:
        asked = rounded(figure, turn["step"][unit], turn["direction"])
        if asked != figure and _right(key, question, asked, unit):
            return f"Your sum may be right, but it is asked for {question['tolerance']}."
    other = next((one for one in question["accept"] if one != unit and _right(key, question, figure, one)), None)
    return f"Look at the unit: this figure would fit in {other}, not in {unit}." if other else ""


def _right(key: dict[str, Any], question: dict[str, Any], figure: Fraction, unit: str) -> bool:
    if figure.denominator == 1 or 10**9 % figure.denominator == 0:
        return mark(key, question, f"{float(figure):.12g} {unit}".strip())["right"]
    return False
