"""People who answer: one who commits a misstep and types it in an accepted unit, and one who types any wrong figure.

Draws come from a `Stream`, so that a finding can be looked at again.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import floor, log10
from typing import Any, NamedTuple

from rigcalc.questions.draws import Stream
from rigcalc.questions.marking import mark
from rigcalc.questions.scale import in_fraction, rounded
from rigcalc.questions.typed import misstep_typed, right_typed, slips_of

__all__ = ["Told", "as_typed", "guesses_told", "missteps_told"]

USUAL = {"lbf": 0, "N": 0, "kN": 2, "mm": 0, "m": 3, "in": 2, "ft": 2, "kg": 1, "lb": 1, "deg": 1, "°C": 0, "": 2}
GUESSES = 10  # wrong figures a draw
COUNTS = 31  # a small count has few wrong figures: guesses go from 0 to 30


class Told(NamedTuple):
    """How many wrong answers were tried, how many told the misstep, and the most that were named at once."""

    tried: int
    told: int
    most: int

    @property
    def share(self) -> float:
        """The part that was told; 1 where nothing was tried."""
        return self.told / self.tried if self.tried else 1.0


def as_typed(value: Fraction, unit: str, slip: dict[str, Any] | None = None, asked: int = 0) -> list[str]:
    """A figure as people type it: to the unit's usual places, three figures at least; inches in sixteenths too.

    Where the page asks for more decimals than usual, or a misstep rounds to more, they are written out, noughts and all.
    """
    turn = (slip or {}).get("round")
    if turn:
        step = turn["step"].get(unit, "1")
        value, asked = rounded(value, step, turn["direction"]), max(asked, len(step.partition(".")[2].rstrip("0")))
    places = USUAL[unit]
    if 0 < abs(value) < 100:
        places = max(places, 2 - floor(log10(abs(float(value)))))
    text = f"{float(value):.{min(max(places, asked), 6)}f}"
    if "." in text and asked <= USUAL[unit]:
        text = text.rstrip("0").rstrip(".")
    found = [f"{text} {unit}".strip()]
    if unit == "in" and value > 3 and not turn and not asked > USUAL[unit]:
        found.append(_sixteenths(value))
    return found


def _sixteenths(value: Fraction) -> str:
    parts = floor(value * 16 + Fraction(1, 2))
    whole, rest = divmod(parts, 16)
    return f"{whole} {Fraction(rest, 16)} in" if rest else f"{whole} in"


def _answers(question: dict[str, Any], key: dict[str, Any], slip: dict[str, Any], box: int | None) -> Iterator[Any]:
    asked, own = (question["boxes"][box], key["boxes"][box]) if box is not None else (question, key)
    if asked["kind"] != "number" or slip.get("exact") == "refuse":
        yield misstep_typed(question, key, slip, box)
        return
    for unit in asked["accept"]:
        for typed in as_typed(in_fraction(Fraction(slip["exact"]), unit), unit, slip, _decimals(own, unit)):
            yield typed if box is None else _in_box(question, key, box, typed)


def _decimals(own: dict[str, Any], unit: str) -> int:
    """The decimals that the tolerance in this unit asks for."""
    wide = float(own["right"]["tolerance"].get(unit, 0))
    return max(0, floor(-log10(wide))) if wide else 0


def _in_box(question: dict[str, Any], key: dict[str, Any], box: int, typed: str) -> list[str]:
    answer = right_typed(question, key)
    answer[box] = typed
    return answer


def missteps_told(pairs: list[tuple[dict, dict]]) -> Told:
    """Every misstep of every draw, typed in every accepted unit; what rounds on to the right figure is left out."""
    tried = told = most = 0
    for question, key in pairs:
        for name, box, slip in slips_of(key):
            for typed in _answers(question, key, slip, box):
                found = mark(key, question, typed)
                if found["right"]:
                    continue
                tried += 1
                told += name in found["missteps"]
                most = max(most, len(found["missteps"]))
    return Told(tried, told, most)


def _figures(asked: dict[str, Any], own: dict[str, Any]) -> list[tuple[dict[str, Any], dict[str, Any], int | None]]:
    """The figures to be typed: (question, key, box)."""
    if asked["kind"] == "number":
        return [(asked, own, None)]
    return [(box, key, at) for at, (box, key) in enumerate(zip(asked["boxes"], own.get("boxes", []), strict=True))
            if box["kind"] == "number"]


def guesses_told(pairs: list[tuple[dict, dict]], stream: Stream) -> Told:
    """Wrong answers at random: figures from 0.3 to 2 times the right one, or letters; how many are told a misstep."""
    tried = told = most = 0
    for question, key in pairs:
        for typed in _guesses(question, key, stream):
            found = mark(key, question, typed)
            if found["right"]:
                continue
            tried += 1
            told += any(not name.startswith("line ") for name in found["missteps"])  # what is told of a line is true of any guess
            most = max(most, len(found["missteps"]))
    return Told(tried, told, most)


def _guesses(question: dict[str, Any], key: dict[str, Any], stream: Stream) -> Iterator[Any]:
    if question["kind"] == "match":
        letters = [one["letter"] for one in question["options"]]
        for _ in range(GUESSES):
            yield [stream.pick(letters) for _ in question["left"]]
    for asked, own, box in _figures(question, key):
        if own["right"]["exact"] == "refuse":
            continue
        for _ in range(GUESSES):
            typed = _guess(asked, own, stream)
            yield typed if box is None else _in_box(question, key, box, typed)


def _guess(asked: dict[str, Any], own: dict[str, Any], stream: Stream) -> str:
    unit = own["right"]["unit"]
    right = in_fraction(Fraction(own["right"]["exact"]), unit)
    if unit == "" and right < COUNTS:
        return str(stream.below(COUNTS))
    return as_typed(right * (300 + stream.below(1700)) / 1000, unit)[0]
