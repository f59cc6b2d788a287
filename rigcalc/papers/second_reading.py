"""What was written on paper is typed twice; where the two typings differ, the sheet is looked at again."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from itertools import product

from rigcalc.errors import Refusal, Refusals
from rigcalc.papers.answers import check_typed
from rigcalc.papers.records import stamp
from rigcalc.papers.results import typed_in_words
from rigcalc.questions import read_answer
from rigcalc.questions.separators import plain_figures, separators

__all__ = ["differences", "doubts", "meant", "second_name", "settled", "to_settle", "typing"]

_POUNDS = re.compile(r"(?:lbs?|pounds?)\.?$", re.ASCII | re.IGNORECASE)


def typing(paper: dict, answers: dict[int, object], by: str, now=None) -> dict:
    """One typing of a whole sheet, as it is kept: {"by", "at", "answers": {slot: typed}}; empty answers are left out."""
    questions, wrong = {question["slot"]: question for question in paper["questions"]}, {}
    for slot, typed in answers.items():
        if slot not in questions:
            raise Refusal(f"an answer to question {slot}", f"questions 1 to {len(questions)}", "check the numbering")
        if fault := check_typed(questions[slot], typed) if _filled(typed) else None:
            wrong[slot] = fault
    if wrong:
        each = [f"question {slot}: '{typed_in_words(answers[slot], questions[slot])}' ({fault})" for slot, fault in sorted(wrong.items())]
        raise Refusals(each, "an answer of the form that its question takes", "type it as it stands on the sheet; where that cannot be, leave it empty: it cannot count")
    return {"by": by, "at": stamp(now), "answers": {str(slot): typed for slot, typed in sorted(answers.items()) if _filled(typed)}}


def doubts(paper: dict, answers: dict[int, object], dashes: Mapping[int, Collection[int]] | None = None) -> list[str]:
    """What the screen would have asked the candidate about, one sentence a question: no unit, a letter that is none of the question's, empty boxes.

    `dashes` names, for each question, the boxes and lines that are empty by a dash on the sheet: these are not asked about.
    """
    found = []
    for question in paper["questions"]:
        typed = answers.get(question["slot"])
        if not _filled(typed) or check_typed(question, typed):
            continue
        reading = read_answer(question, typed)
        if not reading["ok"]:
            found.append(f"question {question['slot']}: {_unread(reading)}")
        elif question["kind"] in ("sheet", "match"):
            empty = [str(at) for at, one in enumerate(typed, 1) if not one.strip() and at not in (dashes or {}).get(question["slot"], ())]
            what = "box" if question["kind"] == "sheet" else "line"
            found += [f"question {question['slot']}: {what} {', '.join(empty)} of {len(typed)} left empty"] if empty else []
    return found


def meant(question: dict, typed) -> list:
    """What may be meant by an answer whose signs in figures are not the paper's, `8,50 kN` where a point stands before
    decimals, or by a force in `lb`, for which the screen offers lbf.

    Each of these can be read and is handed in in place of what is written, once somebody has judged by the sheet; empty where the signs leave no doubt.

    >>> meant({"kind": "number", "accept": ["kN", "N"], "refusal": False}, "8,50 kN")
    ['8.50 kN']
    >>> meant({"kind": "number", "accept": ["lbf", "N", "kN"], "refusal": False}, "300 lb")
    ['300 lbf']
    """
    if question["kind"] == "number":
        return _figure_meant(question, typed) if isinstance(typed, str) else []
    if question["kind"] != "sheet" or not isinstance(typed, list) or len(typed) != len(question["boxes"]):
        return []
    boxes = [_figure_meant(box, one) if box["kind"] == "number" else [] for box, one in zip(question["boxes"], typed, strict=True)]
    choices = [found or [one] for found, one in zip(boxes, typed, strict=True)]
    return [list(one) for one in product(*choices)] if any(boxes) else []


def _figure_meant(question: dict, typed: str) -> list[str]:
    asked = read_answer(question, typed)["ask"] or []
    plain, _ = plain_figures(typed.strip(), question.get("separators") or separators("en"))
    in_doubt = plain is None or bool(_POUNDS.search(plain))
    return [one for one in asked if read_answer(question, one)["ok"]] if in_doubt else []


def _unread(reading: dict) -> str:
    """What cannot be read and what could be, without the advice to type it in another way: that is not the typist's to do."""
    given, _, accepted = reading["shown"].removeprefix("Cannot be read: ").partition("; accepted: ")
    choices = f"; it could be {' or '.join(reading['ask'])}" if reading.get("ask") else ""
    return f"{given.replace(' was given', '', 1)} (accepted: {accepted.rpartition(';')[0]}{choices})"


def _filled(typed) -> bool:
    return bool(typed) and any(typed)


def _plain(typed) -> object:
    """Blanks and small letters make no difference between two typings."""
    if isinstance(typed, list):
        return [_plain(one) for one in typed]
    return "".join((typed or "").split()).casefold()


def differences(first: dict, second: dict) -> list[dict]:
    """Every question in which the two typings differ, with what each has (None where it has nothing)."""
    rows = []
    for slot in sorted({*first["answers"], *second["answers"]}, key=int):
        one, other = first["answers"].get(slot), second["answers"].get(slot)
        if (one is None) != (other is None) or _plain(one) != _plain(other):
            rows.append({"slot": int(slot), "first": one, "second": other})
    return rows


def to_settle(paper: dict, first: dict, second: dict) -> list[dict]:
    """The questions in which two typings differ, and those whose signs in figures leave a doubt; `meant` are the readings to choose from."""
    questions, rows = {question["slot"]: question for question in paper["questions"]}, {row["slot"]: row for row in differences(first, second)}
    for slot in map(int, {*first["answers"], *second["answers"]}):
        one, other = first["answers"].get(str(slot)), second["answers"].get(str(slot))
        found = [reading for typed in (one, other) for reading in (meant(questions[slot], typed) if typed else [])]
        if found:
            rows[slot] = {"slot": slot, "first": one, "second": other, "meant": [one for at, one in enumerate(found) if one not in found[:at]]}
    return [rows[slot] for slot in sorted(rows)]


def second_name(first: dict, second: dict) -> str:
    """Who read a second time, as it stands in the handed-in file; the same person typing twice is said so."""
    same = "alone" in second or first["by"].casefold() == second["by"].casefold()
    return f"{second['by']} (typed a second time)" if same else second["by"]


def settled(first: dict, rows: list[dict], chosen: dict[int, object]) -> dict[int, object]:
    """The answers that are handed in: what both typings have, and of the rows to settle what was chosen after looking at the sheet.

    Parameters
    ----------
    first : dict
        The first typing.
    rows : list of dict
        What `to_settle` gives.
    chosen : dict
        Question to what stands on the sheet (None where nothing that counts stands there).

    Raises
    ------
    Refusal
        A difference that nobody has settled.
    """
    answers = {int(slot): typed for slot, typed in first["answers"].items()}
    left = [row for row in rows if row["slot"] not in chosen]
    if left:
        doubtful = "meant" in left[0]
        which = [str(row["slot"]) for row in left if ("meant" in row) == doubtful]
        what = f"question{'s' if len(which) > 1 else ''} {', '.join(which)}"
        if doubtful:
            raise Refusal(f"{what}, where the signs in a figure leave a doubt", "what is meant, or as written", "look at the sheet and judge what is meant by it")
        raise Refusal(f"{what}, typed in two ways", "a choice for each difference", "look at the sheet and choose what stands there")
    for row in rows:
        answers[row["slot"]] = chosen[row["slot"]]
    return {slot: typed for slot, typed in answers.items() if _filled(typed)}
