"""The log of one name: JSON lines that only grow, each on the disk before anything is said of it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime, timezone
from pathlib import Path

import msgspec

from rigcalc.papers.records import stamp
from rigcalc.room.journal import Journal

__all__ = ["FORM", "TAKEN_BACK", "Line", "append", "answer_line", "bench_line", "lines_of", "moment", "named_line"]

FORM = 1
TAKEN_BACK = "none"  # the bench task that stands for none


class Line(msgspec.Struct, frozen=True):
    """One line: a name taken, a bench task chosen, or an answer marked.

    `form` is the number of this way of writing; a reader passes over fields it does not know. `values` tells one set
    of drawn values from another, `turn` is the number of the try on them, `said` what a wrong answer was told.
    """

    form: int = 0
    at: str = ""
    name: str = ""
    bench: str = ""
    family: str = ""
    skill: str = ""
    values: str = ""
    right: bool | None = None
    turn: int = msgspec.field(default=1, name="try")
    hint: bool = False
    working: bool = False
    missteps: tuple[str, ...] = ()
    said: str = ""

    @property
    def answered(self) -> bool:
        """Whether the line is an answer."""
        return self.right is not None and bool(self.skill)


_READ = msgspec.json.Decoder(Line)
_OF_NO_ANSWER = ("form", "at", "name", "bench")


def _written(line: Line) -> dict:
    """The fields that stand in the file: an answer's own, or the few of another line."""
    fields = msgspec.to_builtins(line)
    if line.answered:
        return {name: value for name, value in fields.items() if name not in ("name", "bench")}
    return {name: fields[name] for name in _OF_NO_ANSWER if fields[name]}


def moment(line: Line) -> datetime | None:
    """When it was written, in universal time; None where that cannot be read."""
    try:
        at = datetime.fromisoformat(line.at)
    except ValueError:
        return None
    return at.astimezone(timezone.utc) if at.tzinfo else None


def named_line(name: str, now: datetime | None = None) -> Line:
    """The first line of a file: whose it is."""
    return Line(form=FORM, at=stamp(now), name=name)


def bench_line(task: str, now: datetime | None = None) -> Line:
    """Which bench task comes next; TAKEN_BACK where none is chosen any more."""
    return Line(form=FORM, at=stamp(now), bench=task)


def answer_line(family: str, skill: str, right: bool, turn: int, *, hint: bool = False, working: bool = False, missteps=(),
                values: str = "", said: str = "", now: datetime | None = None) -> Line:
    """One marked answer, and the help that was asked for since its values were drawn."""
    return Line(form=FORM, at=stamp(now), family=family, skill=skill, values=values, right=bool(right), turn=turn, hint=hint,
                working=working, missteps=tuple(missteps), said="" if right else said)


@contextmanager
def _alone(path: Path) -> Iterator[None]:
    """Keep other processes' writing out; two open pages of one name write to one file. Where the system has no such lock, nothing."""
    try:
        import fcntl
    except ImportError:
        yield
        return
    with path.with_suffix(".lock").open("a") as held:
        fcntl.flock(held, fcntl.LOCK_EX)
        yield


def append(path: Path, line: Line) -> None:
    """Write a line at the end and return only when the disk has it; what a crash left half written is cut first.

    Raises
    ------
    OSError
        The disk did not take it; the file is as it was.
    """
    with _alone(path):
        journal = Journal(path)
        try:
            journal.append(_written(line))
        finally:
            journal.close()


def lines_of(path: Path) -> list[Line]:
    """Every whole line that can be read, in the order written; what another version wrote and is not understood is passed over.

    Raises
    ------
    OSError
        The file is not there or cannot be read.
    """
    found = []
    for text in path.read_bytes().split(b"\n")[:-1]:
        try:
            line = _READ.decode(text)
        except (msgspec.DecodeError, UnicodeDecodeError):
            continue
        if line.form >= 1:
            found.append(line)
    return found
