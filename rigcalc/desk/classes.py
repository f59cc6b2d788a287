"""The class list: who sits, typed one per line or pasted from a spreadsheet."""

from __future__ import annotations

import csv
import io
from datetime import datetime

from rigcalc.desk.folder import Desk, named_person, one_person, plain_name, short_id
from rigcalc.desk.persons import no_candidate
from rigcalc.errors import Refusal, together

__all__ = ["candidate_of", "class_of", "classes", "look_at_class", "read_roster", "set_class"]

MOST = 60
LARGE = ("large", "larger", "larger print")
_HEADINGS = {"name": "name", "candidate": "name", "extra minutes": "extra_minutes", "extra_minutes": "extra_minutes",
             "minutes": "extra_minutes", "larger print": "larger_print", "larger_print": "larger_print"}


def read_roster(text: str) -> list[dict]:
    """Names, one a line; after a comma, semicolon or tab: extra minutes, and `large` for larger print, in either order or one alone.

    A first line of headings (name, extra minutes, larger print) is understood and left out.

    Example
    -------
    >>> read_roster("Tomo Kessig\\nDela Orrin, 15, large")[1]
    {'id': 'c02', 'name': 'Dela Orrin', 'extra_minutes': 15, 'larger_print': True}
    """
    rows = [(number, row) for number, row in _rows(text) if any(cell.strip() for cell in row)]
    columns = ["name", "extra_minutes", "larger_print"]
    if rows and rows[0][1][0].strip().lower() in _HEADINGS:
        columns = [_HEADINGS.get(cell.strip().lower(), "") for cell in rows.pop(0)[1]]
    people: list[dict] = []
    wrong: list[Refusal] = []
    for number, row in rows:
        try:
            people.append(_candidate(dict(zip(columns, (cell.strip() for cell in row), strict=False)), number, people))
        except Refusal as refusal:
            wrong.append(refusal)
    if wrong:
        raise together(wrong, f"mend those {len(wrong)} lines")
    if not people or len(people) > MOST:
        raise Refusal(f"a list of {len(people)} name{'s' * (len(people) != 1)}", f"1 to {MOST} names, one a line", "type the class list again")
    return people


def _candidate(given: dict[str, str], number: int, people: list[dict]) -> dict:
    name = _person(given.get("name", ""), number)
    if name.casefold() in (person["name"].casefold() for person in people):
        raise Refusal(f"line {number}: {name} a second time", "each name once",
                      "add a letter that tells the two apart, or take one line out")
    minutes, large = given.get("extra_minutes", ""), given.get("larger_print", "")
    if minutes.lower() in LARGE and large.lower() not in LARGE:
        minutes, large = large, minutes
    return {"id": f"c{len(people) + 1:02d}", "name": name, "extra_minutes": _minutes(minutes, number), "larger_print": _large(large, number)}


def _rows(text: str) -> list[tuple[int, list[str]]]:
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    mark = next((sign for sign in ("\t", ";", ",") if any(sign in line for line in lines)), ",")
    return [(number, next(csv.reader(io.StringIO(line), delimiter=mark), []))
            for number, line in enumerate(lines, 1) if line.strip()]


def _person(text: str, line: int) -> str:
    try:
        return named_person(text, "candidate")
    except Refusal as refusal:
        raise Refusal(f"line {line}: {refusal.given}", refusal.accepted, "mend that line") from None


def _minutes(text: str, line: int) -> int:
    if not text:
        return 0
    if not (text.isascii() and text.isdigit()) or int(text) > 240:
        raise Refusal(f"line {line}: {text!r} as extra minutes", "whole minutes from 0 to 240, or the word large", "mend that line")
    return int(text)


def _large(text: str, line: int) -> bool:
    if text.lower() in ("", "no", "0", "false"):
        return False
    if text.lower() in (*LARGE, "yes", "1", "true"):
        return True
    raise Refusal(f"line {line}: {text!r} in the column for larger print", "large, or nothing", "mend that line")


def look_at_class(desk: Desk, name: str, roster: str, set_by: str) -> list[dict]:
    """The candidates of a class that may be set up like this, as they are read; nothing is entered."""
    class_id = short_id(name, "the class name")
    people = read_roster(roster)
    no_candidate(people, set_by, "person setting up the class")
    plain_name(name, "the class's name")
    if class_of(desk, class_id, missing=None):
        raise Refusal(f"the class '{name.strip()}', which is there already", "a new name for a new class",
                      "choose another name; a class list is not changed once it is set")
    return people


def set_class(desk: Desk, name: str, roster_text: str, set_by: str, now: datetime | None = None) -> str:
    """Set up a class and return its id; entered as `class set`."""
    people = look_at_class(desk, name, roster_text, set_by)
    class_id, set_by = short_id(name, "the class name"), one_person(set_by, "person setting up the class")
    desk.note("class set", {"class": class_id, "name": " ".join(name.split()), "candidates": people, "set_by": set_by}, now)
    return class_id


def classes(desk: Desk) -> list[dict]:
    """All classes, newest first."""
    return [entry.body | {"at": entry.at} for entry in reversed(desk.register.entries("class set"))]


def class_of(desk: Desk, class_id: str, missing: object = Refusal) -> dict | None:
    """One class by its id; refuses an unknown one unless `missing` says what to give back."""
    found = next((one for one in classes(desk) if one["class"] == class_id), None)
    if found is None and missing is Refusal:
        raise Refusal(f"the class '{class_id}'", "a class that was set up at this desk", "set it up, or choose another")
    return found


def candidate_of(desk: Desk, class_id: str, candidate_id: str) -> dict:
    """One candidate of a class; refuses an unknown one."""
    for person in class_of(desk, class_id)["candidates"]:
        if person["id"] == candidate_id:
            return person
    raise Refusal(f"the candidate '{candidate_id}'", "somebody on the class list", "choose a name of the list")
