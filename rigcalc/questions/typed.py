"""Answers as a person gives them: the right one, a misstep's, and one written on paper. Needs the key, but for the last."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from rigcalc.questions.scale import in_fraction, rounded

__all__ = ["dashed", "misstep_typed", "right_typed", "slips_of", "written"]

PLACES = {"lbf": 0, "N": 0, "kN": 2, "mm": 1, "m": 3, "in": 2, "ft": 2, "kg": 1, "lb": 1, "deg": 1, "°C": 0, "": 2}
EMPTY = ("-", "–", "—")


def right_typed(question: dict[str, Any], key: dict[str, Any]) -> Any:
    """The right answer in the form its kind takes."""
    right = key["right"]
    if key["kind"] == "sheet":
        return [right_typed(box, own) for box, own in zip(question["boxes"], key["boxes"], strict=True)]
    if key["kind"] == "number":
        return "refuse" if right["exact"] == "refuse" else right["shown"]
    return next(_own(right[name]) for name in ("letter", "letters", "row") if name in right)


def _own(value: Any) -> Any:
    return list(value) if isinstance(value, list) else value


def slips_of(key: dict[str, Any]) -> list[tuple[str, int | None, dict[str, Any]]]:
    """Every misstep of a key: its id as it is told, the box it belongs to (None: no sheet), and its record."""
    if key["kind"] != "sheet":
        return [(slip["id"], None, slip) for slip in key["missteps"] if not _hidden(slip, key["missteps"])]
    return [(f"{own['id']}: {slip['id']}", at, slip) for at, own in enumerate(key["boxes"]) for slip in own["missteps"]]


def _hidden(slip: dict[str, Any], others: list[dict[str, Any]]) -> bool:
    """One option too many or too few that leaves nothing chosen, or that is another misstep's whole choice."""
    return "letter" in slip and "letters" in slip and (
        not slip["letters"] or any("letter" not in one and one["letters"] == slip["letters"] for one in others))


def misstep_typed(question: dict[str, Any], key: dict[str, Any], slip: dict[str, Any], box: int | None = None) -> Any:
    """What somebody gives who commits one misstep and no other."""
    if box is not None:
        answer = right_typed(question, key)
        answer[box] = misstep_typed(question["boxes"][box], key["boxes"][box], slip)
        return answer
    if key["kind"] == "number":
        return _figure(key, slip)
    if "letters" in slip:
        return list(slip["letters"])
    return list(slip["row"]) if "row" in slip else slip["letter"]


def _figure(key: dict[str, Any], slip: dict[str, Any]) -> str:
    """The misstep's figure in the unit asked, rounded as the page says."""
    if slip["exact"] == "refuse":
        return "refuse"
    unit = key["right"]["unit"]
    value, turn = in_fraction(Fraction(slip["exact"]), unit), slip["round"] or key["right"]["round"]
    places = PLACES[unit]
    if turn and unit in turn["step"]:
        value = rounded(value, turn["step"][unit], turn["direction"])
        places = max(places, len(str(turn["step"][unit]).partition(".")[2].rstrip("0")))
    return f"{float(value):.{places}f}".removesuffix(".0").removesuffix(".00") + (f" {unit}" if unit else "")


def written(question: dict[str, Any], text: str) -> Any:
    """An answer from an answer sheet, typed in one line, in the form its kind takes.

    Letters are written one after the other; a line left empty in a match is a dash, and the boxes of a job sheet
    are parted by semicolons.
    """
    text, kind = text.strip(), question["kind"]
    if not text:
        return ""
    if kind == "sheet":
        entries = [entry.strip() for entry in text.split(";")]
        return ["" if entry in EMPTY else entry for entry in entries] + [""] * (len(question["boxes"]) - len(entries))
    letters = [letter.upper() for letter in text.replace(",", " ").replace(" ", "")]
    if kind == "match":
        return ["" if letter in EMPTY else letter for letter in letters]
    if kind in ("order", "several choices"):
        return letters
    return text.upper() if kind in ("one choice", "place") else text


def dashed(question: dict[str, Any], text: str) -> set[int]:
    """The boxes, or the lines of a match, that are empty by a dash on the answer sheet, counted from 1.

    >>> dashed({"kind": "sheet"}, "441 lbf; ; -"), dashed({"kind": "match"}, "A-B"), dashed({"kind": "number"}, "-")
    ({3}, {2}, set())
    """
    entries = {"sheet": text.split(";"), "match": text.replace(",", " ").replace(" ", "")}.get(question["kind"], "")
    return {at for at, entry in enumerate(entries, 1) if entry.strip() in EMPTY}
