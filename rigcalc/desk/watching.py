"""Who has begun, saved and handed in: read from the room's folder, changing nothing in it."""

from __future__ import annotations

import json

from rigcalc.desk.classes import class_of
from rigcalc.desk.folder import Desk
from rigcalc.desk.written import links, marked
from rigcalc.errors import Refusal
from rigcalc.papers.answers import DamagedAnswers, read_returned

__all__ = ["time_given_in_words", "who_has_handed_in"]


def who_has_handed_in(desk: Desk, class_id: str) -> list[dict]:
    """One row a candidate: paper, what it has come to (`not begun`, `answering`, `handed in`, `handed in,
    damaged`), saved answers, time given, marked."""
    class_of(desk, class_id)
    return [_row(desk, class_id, link) for link in links(desk, class_id)]


def time_given_in_words(desk: Desk, paper_id: str) -> list[str]:
    """A sentence for each time that a sitting was given more minutes.

    Example: `10 minutes more were given while the paper was sat, by Ines Varrow: the lamp failed.`
    """
    return [f"{entry.body['minutes']} minutes more were given while the paper was sat, by {entry.body['by']}: {entry.body['why']}"
            for entry in desk.entries("more time given", paper_id=paper_id)]


def _row(desk: Desk, class_id: str, link: dict) -> dict:
    paper_id = link["paper_id"]
    returned = desk.room / "returned" / f"{paper_id}.json"
    saved, begun = _saved(desk, paper_id)
    state, receipt = ("answering" if begun else "not begun"), ""
    if returned.exists():
        state, receipt, saved = _handed_in(returned, saved)
    more = [f"{entry.body['minutes']} minutes more by {entry.body['by']}" for entry in desk.entries("more time given", paper_id=paper_id)]
    return {"paper_id": paper_id, "candidate": link["candidate"], "state": state, "saved": saved, "receipt": receipt, "more": ", ".join(more),
            "marked": _marked(desk, class_id, link)}


def _saved(desk: Desk, paper_id: str) -> tuple[int, bool]:
    """How many questions have a confirmed answer on the disk, and whether the sitting was begun."""
    try:
        lines = (desk.room / "answers" / f"{paper_id}.jsonl").read_bytes().split(b"\n")[:-1]
    except OSError:
        return 0, False
    slots, begun = set(), False
    for line in lines:
        try:
            entry = json.loads(line)
            begun = begun or entry["kind"] == "start"
            if entry["kind"] == "save" and entry["confirmed"]:
                slots.add(entry["slot"])
        except (ValueError, KeyError, TypeError):
            continue
    return len(slots), begun


def _handed_in(path, saved: int) -> tuple[str, str, int]:
    """State, receipt and how many answers count, as the returned file says."""
    try:
        found = read_returned(path)
    except DamagedAnswers as damage:
        return "handed in, damaged", str(damage), saved
    return "handed in", found.receipt, len(found.answers)


def _marked(desk: Desk, class_id: str, link: dict) -> bool:
    try:
        return marked(desk, class_id, link["candidate"]["id"]) is not None
    except Refusal:
        return False
