"""What the register says of a certificate since it was signed: in force, suspended, withdrawn, replaced, decided against."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from rigcalc.register.store import Entry

__all__ = ["ACTS", "STANDING", "Status", "status_of"]

STANDING = "certificate standing"
ACTS = ("withdrawn", "suspended", "lifted")
AGAIN = {"bench assessed": "The bench work was entered again", "answers marked": "The written paper was marked again"}


@dataclass(frozen=True)
class Status:
    """The state in a word, the lines that say why, each with its entry, and what was entered since and makes it doubtful."""

    state: str
    lines: tuple[str, ...] = ()
    since: tuple[str, ...] = ()

    @property
    def in_force(self) -> bool:
        return self.state == "in force"


def status_of(entries: Iterable[Entry], number: str) -> Status:
    """The status of one certificate by its number.

    Returns
    -------
    Status
        `not entered`, `withdrawn`, `replaced`, `suspended`, `decided again: not yet` or `in force`; the gravest first,
        and a line for each thing that bears on it.
    """
    signed: Entry | None = None
    acts: list[Entry] = []
    newer: list[Entry] = []
    decided: list[Entry] = []
    again: dict[str, Entry] = {}
    for entry in entries:
        if entry.kind == "certificate signed":
            if entry.body["certificate"] == number:
                signed = entry
            elif number in entry.body.get("replaces", []):
                newer.append(entry)
        elif entry.kind == STANDING and entry.body["certificate"] == number:
            acts.append(entry)
        elif entry.kind == "decision" and signed and _whose(entry) == _whose(signed):
            decided.append(entry)
        elif entry.kind in AGAIN and signed and _whose(entry) == _whose(signed):
            again[entry.kind] = entry
    if signed is None:
        return Status("not entered", (f"No certificate {number} is entered in this register.",))
    against = decided[-1:] if decided and decided[-1].body["decision"] == "not yet" else []
    lines = (*(_act_line(one) for one in acts), *(f"Replaced by certificate {one.body['certificate']} on {one.at[:10]}, entry {one.number}."
                                                 for one in newer),
             *(f"Decided again on {one.at[:10]}, entry {one.number}: not yet. {one.body['decider']}: {one.body['reasons']}" for one in against))
    last = acts[-1].body["act"] if acts else ""
    state = ("withdrawn" if last == "withdrawn" else "replaced" if newer else "suspended" if last == "suspended"
             else "decided again: not yet" if against else "in force")
    return Status(state, lines, tuple(f"{AGAIN[kind]} on {one.at[:10]}, entry {one.number}: NOT PASSED. Ask whoever signed." for kind, one in again.items() if not one.body["passed"]))


def _whose(entry: Entry) -> tuple[str, str]:
    return entry.body["class"], entry.body["candidate"]["id"]


def _act_line(entry: Entry) -> str:
    told = {"withdrawn": "Withdrawn", "suspended": "Suspended", "lifted": "Suspension lifted"}[entry.body["act"]]
    return f"{told} on {entry.at[:10]} by {entry.body['by']}, entry {entry.number}: {entry.body['reason']}"
