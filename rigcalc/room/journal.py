"""The journal: one line a save, on the disk before anybody is told that it is saved."""

from __future__ import annotations

import json
import os
from pathlib import Path

from rigcalc.errors import Refusal
from rigcalc.papers.records import sync_folder

__all__ = ["Journal", "entries_in"]

_LINE = json.JSONEncoder(ensure_ascii=True, allow_nan=False, separators=(",", ":"))


class Journal:
    """A file of JSON lines that only grows.

    A line counts once it ends in a line end; what a crash left after the last line end was never
    confirmed to anybody and is cut when the journal is opened.
    """

    def __init__(self, path) -> None:
        self.path = Path(path)
        new = not self.path.exists()
        self._handle = os.open(self.path, os.O_RDWR | os.O_CREAT | os.O_APPEND, 0o600)
        if new:
            os.fsync(self._handle)
            sync_folder(self.path.parent)
        self._heal()

    def append(self, *entries: dict) -> None:
        """Write entries, a line each, and return only when the disk has them.

        Raises
        ------
        OSError
            The disk is full or gone; what was half written is cut again, so that the next save is whole.
        """
        self.sync(self.write(*entries))

    def write(self, *entries: dict) -> int:
        """Write entries, a line each, that do not count before `sync`; the bytes that the journal had before them.

        Quick, as the lines go to the operating system only. The `sync` comes before the next `write`.

        Raises
        ------
        OSError
            The lines could not be taken whole; what was half written is cut again.
        """
        lines = b"".join(_LINE.encode(entry).encode("ascii") + b"\n" for entry in entries)
        before = self.size()
        try:
            if os.write(self._handle, lines) != len(lines):
                raise OSError(f"only part of a line could be written to {self.path.name}")
        except OSError:
            os.ftruncate(self._handle, before)
            raise
        return before

    def sync(self, before: int) -> None:
        """Wait until the disk has the lines just written; `before` as `write` gave it.

        Raises
        ------
        OSError
            The disk is full or gone; the lines are cut again, so that the next save is whole.
        """
        try:
            os.fsync(self._handle)
        except OSError:
            os.ftruncate(self._handle, before)
            raise

    def entries(self) -> list[dict]:
        """All whole entries, in the order written.

        Raises
        ------
        Refusal
            A line inside the journal cannot be read: somebody changed it, so nothing is guessed.
        """
        self._heal()
        return entries_in(self.path)

    def cut(self, size: int) -> None:
        """Take away all after so many bytes, and wait until the disk has it so."""
        os.ftruncate(self._handle, size)
        os.fsync(self._handle)

    def size(self) -> int:
        """How many bytes the journal has now, whoever wrote them."""
        return os.fstat(self._handle).st_size

    def close(self) -> None:
        """Let go of the file."""
        if self._handle >= 0:
            os.close(self._handle)
            self._handle = -1

    def _bytes(self) -> bytes:
        return self.path.read_bytes()

    def _heal(self) -> None:
        data = self._bytes()
        whole = data.rfind(b"\n") + 1
        if whole != len(data):
            self.cut(whole)


def entries_in(path: Path, holding: bytes = b"") -> list[dict]:
    """The entries of a journal's whole lines that hold some bytes, in the order written; the file is left as it is.

    Raises
    ------
    Refusal
        A whole line cannot be read: somebody changed it, so nothing is guessed.
    """
    entries = []
    for number, line in enumerate(path.read_bytes().split(b"\n")[:-1], 1):
        if holding not in line:
            continue
        try:
            entry = json.loads(line)
        except ValueError:
            entry = None
        if not isinstance(entry, dict):
            raise Refusal(f"{path.name}, line {number}, which cannot be read", "the lines as the room wrote them",
                          "call the assessor and change nothing in the file")
        entries.append(entry)
    return entries
