"""The bibliography: short keys on one side, the full entry on the other."""

from __future__ import annotations

import csv
from functools import lru_cache
from pathlib import Path

from rigcalc._records import record
from rigcalc.errors import Refusal

__all__ = ["Entry", "bibliography", "full_source"]

_FILE = Path(__file__).with_name("bibliography.csv")


@record
class Entry:
    """One source: its short key, its full title, its edition, and how it is known."""

    key: str
    title: str
    edition: str
    source: str
    how_known: str


@lru_cache(maxsize=1)
def bibliography() -> dict[str, Entry]:
    """Every source used, by its short key.

    >>> bibliography()["AC 43.13-1B"].edition
    '8 September 1998, with Change 1 of 27 September 2001'
    """
    with _FILE.open(encoding="utf-8", newline="") as lines:
        entries = [Entry(**row) for row in csv.DictReader(lines)]
    found: dict[str, Entry] = {}
    for entry in entries:
        if not all(vars(entry).values()):
            raise Refusal(f"the bibliography entry {entry.key!r} with an empty box",
                          "entries with key, title, edition, source and how_known", "fill every box")
        if entry.key in found:
            raise Refusal(f"the bibliography key {entry.key!r} twice", "one entry for each key", "remove one")
        found[entry.key] = entry
    return found


def full_source(key: str) -> str:
    """The full entry for a short key, as a lesson shows it.

    Raises `Refusal` for a key that is not in the bibliography.

    >>> full_source("common practice")
    'Common practice of the trade: what benches do, with no published text. Workbook, first edition.'
    """
    entries = bibliography()
    if key not in entries:
        raise Refusal(f"the source key {key!r}", ", ".join(sorted(entries)),
                      "add the source to the bibliography, or take a key that stands there")
    entry = entries[key]
    return f"{entry.title}. {entry.edition}."
