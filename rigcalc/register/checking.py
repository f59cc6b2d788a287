"""Checking the register: which entry is wrong, and in what way."""

from __future__ import annotations

from typing import TYPE_CHECKING

import sqlalchemy as sa

from rigcalc.errors import Refusal
from rigcalc.register.keys import signed_by
from rigcalc.register.store import GUARDS, Entry, entry_hash, first_previous

if TYPE_CHECKING:
    from rigcalc.register.store import Register

__all__ = ["findings"]


def findings(register: Register) -> list[str]:
    """One sentence for each thing that is wrong; an empty list when the register is whole."""
    try:
        entries = register.read()
        guards = register.guards()
    except (sa.exc.DatabaseError, ValueError) as problem:
        return [f"The file {register.path} cannot be read as a register: {problem.__class__.__name__}."]
    wrong = []
    if entries and set(GUARDS) - set(guards):
        wrong.append("The guards that refuse a change were taken off the register file: somebody edited it.")
    wrong += _missing(entries)
    known = {entry.number: entry for entry in entries}
    for place, entry in enumerate(entries):
        sentence = _wrong_with(register.signer.key, entry, known, entries[place - 1] if place else None)
        if sentence:
            wrong.append(sentence)
    return wrong + _against_head(register, known)


def _name(entry: Entry) -> str:
    return f"Entry {entry.number} ({entry.kind}, {entry.at})"


def _missing(entries: list[Entry]) -> list[str]:
    numbers = {entry.number for entry in entries}
    last = max(numbers, default=0)
    wrong = [f"Entry {number} is missing: it was removed." for number in range(1, last + 1) if number not in numbers]
    return wrong + [f"Entry {number} has a number no register gives: it was inserted."
                    for number in sorted(numbers) if number < 1]


def _wrong_with(key: str, entry: Entry, known: dict[int, Entry], before: Entry | None) -> str | None:
    signed = signed_by(key, "register entry", entry.hash.encode(), entry.signature)
    fits = _hash_as(entry, entry.number) == entry.hash
    if signed and not fits:
        for number in range(1, max(known) + 2):
            if _hash_as(entry, number) == entry.hash:
                return f"{_name(entry)} was signed as entry {number}: it was moved here, so entries were put in another order."
        return f"{_name(entry)} was changed after it was signed: what it says does not match its hash."
    if not signed:
        return (f"{_name(entry)} is not signed by this register's key: it was inserted, or changed by somebody "
                "who worked its hash out anew.")
    if before is None:
        expected = first_previous()
    elif before.number == entry.number - 1:
        expected = before.hash
    else:
        return None  # the gap before it is named already
    if entry.previous != expected and not (before is None and entry.number != 1):
        return f"{_name(entry)} does not follow on the entry that stands before it: that one was changed, inserted or moved."
    return None


def _hash_as(entry: Entry, number: int) -> str:
    return entry_hash(number, entry.at, entry.kind, entry.text, entry.previous)


def _against_head(register: Register, known: dict[int, Entry]) -> list[str]:
    try:
        head = register._read_head()
    except Refusal as refusal:
        return [str(refusal)]
    last = max(known, default=0)
    if head is None:
        return [f"The kept head {register.head_path.name} is missing: whether entries were removed at the end "
                "cannot be said."] if last else []
    wrong = [f"Entry {number} is missing: it was removed at the end (the kept head says {head['count']} entries)."
             for number in range(last + 1, head["count"] + 1)]
    kept = known.get(head["count"])
    if kept is not None and kept.hash != head["hash"]:
        wrong.append(f"{_name(kept)} is not the entry that the kept head names: it was changed or put in its place.")
    return wrong
