"""A result's row of an answer, from what a key record has ready; None where the answer has to be checked and marked whole.

Whatever is marked here is marked as `rigcalc.questions.marking` does it: right letters and right figures are told by what
was worked out when the paper was set, wrong ones by the same functions.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from math import floor, nan

from rigcalc.papers.key_records import Choice, ChoiceBox, Figure, FigureBox, Question, Row, Sheet, way_to_read
from rigcalc.questions.marking import mark_box, mark_letters, mark_number, told, told_of_sheet
from rigcalc.questions.quick_judging import PLAIN
from rigcalc.questions.reading import LONGEST, read_figure

__all__ = ["marks_for", "quick_row", "with_share"]

RIGHT = None  # what is told of a right answer


def quick_row(one: Question, typed: str | list[str], partly: bool = False) -> dict | None:
    """The row of an answer that can be read; `partly`: a share of it counts."""
    found = READY[type(one)](one, typed)
    if found is None:
        return None
    read_as, outcome = found
    right, share, marks, missteps, feedback, section = True, 1.0, one.weight, [], "Right.", one.section
    if outcome is not RIGHT:
        right, missteps, feedback, section = outcome["right"], outcome["missteps"], outcome["feedback"], outcome.get("section", section)
        share, marks = round(outcome["share"], 4), marks if right else 0
        if partly:
            feedback, marks = with_share(outcome), marks_for(one.weight, right, outcome["share"], partly)
    return {"slot": one.slot, "place": one.place, "skill": one.skill, "weight": one.weight, "must_be_right": one.must_be_right,
            "text": one.text, "right": right, "typed": typed, "read_as": read_as, "missteps": missteps, "feedback": feedback,
            "section": section, "share": share, "marks": marks}


def _choice(one: Choice | ChoiceBox, typed: str | list[str]) -> tuple[str, dict | None] | None:
    if typed == one.letter:
        text, outcome = one.right, RIGHT
    else:
        other = one.other(typed) if type(typed) is str else None
        if other is None:
            return None
        text, outcome = other[0], told(False, other[1])
    return text if one.kind == "place" else f"{typed}: {text}", outcome


def _row(one: Row, typed: str | list[str]) -> tuple[str, dict | None] | None:
    letters, kind = one.letters, one.kind
    if type(typed) is str or not typed or any([letter not in letters for letter in typed]):
        return None
    if kind != "several choices" and len(typed) != len(one.row) or kind != "match" and len(set(typed)) != len(typed):
        return None
    if kind == "match":
        read_as = ", ".join([f"{at} {letter}" for at, letter in enumerate(typed, 1)])
    else:
        typed = sorted(typed) if kind == "several choices" else typed
        read_as = (", then " if kind == "order" else ", ").join(typed)
    return read_as, RIGHT if typed == one.row else mark_letters(kind, one.row, one.missteps(), typed)


@lru_cache(16384)  # a class types the same figures again and again
def _read(typed: str, how: str) -> tuple[str, str, float, dict] | None:
    """How a figure was read: in words, its unit, the plain figure where there is one (else no number), and all of the reading."""
    if not typed.strip() or len(typed) > LONGEST:
        return None
    reading = read_figure(typed, *way_to_read(how))
    value = reading["value"]
    plain = PLAIN.fullmatch(value["plain"]) if value and "plain" in value else None
    return value and (reading["shown"], value.get("unit", ""), float(plain[1]) if plain else nan, value)


def _is_right(one: Figure | FigureBox, unit: str, figure: float) -> bool:
    """Whether a figure is right beyond doubt."""
    if unit not in one.windows:
        return False
    low, high = one.windows[unit]
    return low <= figure <= high


def _typed(one: Figure | FigureBox, typed: str, marked: Callable) -> tuple | None:
    """How a figure was read, and what `marked` gives for it where it is not right beyond doubt."""
    read = _read(typed, one.how)
    if read is None:
        return None
    shown, unit, figure, value = read
    if _is_right(one, unit, figure):
        return shown, RIGHT
    question, key = one.figure(unit, figure)
    return shown, marked({"kind": one.kind} | key, question, value)


def _figure(one: Figure, typed: str | list[str]) -> tuple[str, dict | None] | None:
    return _typed(one, typed, mark_number) if type(typed) is str else None


def _sheet(one: Sheet, typed: str | list[str]) -> tuple[str, dict | None] | None:
    if type(typed) is str or len(typed) != len(one.boxes):
        return None
    said, found, right = [], [], True
    for box, text in zip(one.boxes, typed):
        entry = _chosen_in(box, text) if type(box) is ChoiceBox else _typed(box, text, mark_box)
        if entry is None:
            return None
        said.append(f"{box.label}: {entry[0]}")
        found.append(entry[1])
        right = right and entry[1] is RIGHT
    return "; ".join(said), RIGHT if right else told_of_sheet([(box.id, box.label, *(marked or (told(True, []), None)))
                                                               for box, marked in zip(one.boxes, found)])


def _chosen_in(box: ChoiceBox, text: str) -> tuple[str, tuple | None] | None:
    entry = _choice(box, text)
    return entry and (entry[0], entry[1] and (entry[1], None))


def marks_for(weight: int, right: bool, share: float, partly: bool) -> int | float:
    """What an answer is worth: all, nothing, or its share, rounded down to a tenth of a mark."""
    if right or not partly:
        return weight if right else 0
    tenths = floor(weight * share * 10 + 1e-9)
    return tenths / 10 if tenths % 10 else tenths // 10


def with_share(outcome: dict) -> str:
    """What is told where parts count: also why a sheet with right boxes has none."""
    return f"{outcome['feedback']} A limit was rounded up: no part of this sheet counts." if outcome.get("rounded_up") else outcome["feedback"]


READY = {Choice: _choice, Figure: _figure, Row: _row, Sheet: _sheet}
