"""What a wrong figure lacks where the sum may be right: the rounding that is asked, or its unit; of one question, or of a box of a sheet."""

from __future__ import annotations

import operator
from fractions import Fraction
from typing import Any

from rigcalc.questions.marking import REFUSE, mark
from rigcalc.questions.reading import read_answer
from rigcalc.questions.scale import in_fraction, rounded
from rigcalc.questions.worked_from import NO_SLIP

__all__ = ["nearly_right", "with_nearly"]

NEAR = Fraction(1, 100)  # so near a rounding on the way explains it
SAFER = {"down": operator.le, "up": operator.ge}
OTHER_WAYS = {"down": ("up",), "up": ("down",), "nearest": ("down", "up")}


def with_nearly(key: dict[str, Any], question: dict[str, Any], typed: Any, marked: dict[str, Any]) -> dict[str, Any]:
    """A marked answer, told what it lacks where the sum may be right; each box of a sheet that no slip explains likewise.

    `key` and `question` as `compose` gives them, `typed` what was handed in, `marked` what `mark` gives for it. Source: arithmetic.
    """
    if question["kind"] != "sheet" or marked["right"] or "boxes" not in marked:
        nearly = "" if marked["right"] or marked["missteps"] else nearly_right(key, question, typed)
        return marked | {"feedback": f"Not right. {nearly}"} if nearly else marked
    boxes, said = [], marked["feedback"]
    for own, box, text, told in zip(key["boxes"], question["boxes"], typed, marked["boxes"], strict=True):
        nearly = nearly_right(own, box, text) if told["feedback"] == f"Not right. {NO_SLIP}" else ""
        if nearly:
            told = told | {"feedback": f"Not right. {nearly}"}
            said = said.replace(f"{box['label']}: {NO_SLIP}", f"{box['label']}: {nearly}")
        boxes.append(told)
    return marked | {"feedback": said, "boxes": boxes}


def nearly_right(key: dict[str, Any], question: dict[str, Any], typed: Any) -> str:
    """One sentence where a wrong figure would be right if rounded as asked, or in another unit; else an empty text.

    `key` and `question` as `compose` gives them, or those of a box; `typed` what was handed in. Source: arithmetic.
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
        step = turn["step"][unit]
        asked = rounded(figure, step, turn["direction"])
        if asked != figure and _right(key, question, asked, unit):
            return f"Your sum may be right, but it is asked for {question['tolerance']}."
        right = in_fraction(Fraction(key["right"]["exact"]), unit)
        way = next((way for way in OTHER_WAYS[turn["direction"]] if figure == rounded(right, step, way)), "")
        if way:
            return f"Your sum may be right, but you rounded it {way}: it is asked for {question['tolerance']}."
        if right and turn["direction"] in SAFER and SAFER[turn["direction"]](figure, right) and abs(figure - right) <= NEAR * abs(right):
            return f"It is near, and on the safe side: rounded further than asked, or worked from a figure that was rounded already. It is asked for {question['tolerance']}."
    other = next((one for one in question["accept"] if one != unit and _right(key, question, figure, one)), None)
    return f"Look at the unit: this figure would fit in {other}, not in {unit}." if other else ""


def _right(key: dict[str, Any], question: dict[str, Any], figure: Fraction, unit: str) -> bool:
    if figure.denominator == 1 or 10**9 % figure.denominator == 0:
        return mark({"section": ""} | key, question, f"{float(figure):.12g} {unit}".strip())["right"]
    return False
