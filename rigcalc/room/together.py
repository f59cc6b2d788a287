"""Saves of many at one moment, whose lines share one sync.

A save's line goes unsynced to its paper's journal, and to the room's log of saves: one thread writes there all that
wait, syncs once and tells. What a power cut takes from a journal's end is put back from the log when it is opened.
"""

from __future__ import annotations

import asyncio
import queue
import threading
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from rigcalc.errors import Refusal
from rigcalc.papers.records import private_folder
from rigcalc.room.journal import Journal, entries_in

__all__ = ["LOG", "SaveLog", "paper_journal"]

LOG = "saves.jsonl"

_Told = Callable[[Exception | None], None]


def paper_journal(room_dir, paper_id: str) -> Journal:
    """The journal of a paper's sitting, with what a power cut took from its end put back from the log.

    Raises
    ------
    Refusal
        Lines are missing that the log does not have: somebody changed a file, so nothing is guessed.
    """
    room = Path(room_dir)
    journal, log = Journal(private_folder(room / "answers") / f"{paper_id}.jsonl"), room / LOG
    for kept in entries_in(log, paper_id.encode("ascii")) if log.exists() else ():
        if kept["paper"] != paper_id:
            continue
        if kept["before"] > (size := journal.size()):
            journal.close()
            raise Refusal(f"{journal.path.name}, which ends at byte {size}, before an answer that {LOG} has at {kept['before']}",
                          "the files as the room wrote them", "call the assessor and change nothing in the files")
        if kept["before"] == size:
            journal.append(kept["entry"])
    return journal


class SaveLog:
    """The log of one room that is open. Once the disk refuses it, it is not written again until the room is opened anew."""

    def __init__(self, room_dir) -> None:
        self._log = _settled(private_folder(Path(room_dir)))
        self._thread = ThreadPoolExecutor(1, "log of saves")
        self._asked: list[tuple[Journal, int, dict, _Told]] = []
        self._waiting: queue.SimpleQueue[tuple[Journal, int, dict, _Told]] = queue.SimpleQueue()
        self._done: list[tuple[_Told, Exception | None]] = []
        self._lock = threading.Lock()  # around what is done, which thread and loop both change
        self._refused: OSError | None = None

    def keep(self, journal: Journal, before: int, entry: dict, told: _Told) -> None:
        """Put on the disk a line just written to a paper's journal; `before` as `Journal.write` gave it.

        Called in the event loop, where `told` is called with None or with the error; the journal has no such line then.
        """
        if not self._asked:
            self._loop = asyncio.get_running_loop()
            self._loop.call_soon(self._hand_over)
        self._asked.append((journal, before, entry, told))

    def _hand_over(self) -> None:
        for one in self._asked:
            self._waiting.put(one)
        self._asked.clear()
        self._thread.submit(self._work)

    def _work(self) -> None:
        batch = []
        while not self._waiting.empty():
            batch.append(self._waiting.get())
        if not batch:
            return
        try:
            if self._refused:
                raise self._refused
            self._log.append(*({"paper": journal.path.stem, "before": before, "entry": entry} for journal, before, entry, _ in batch))
            ended = [(told, None) for _, _, _, told in batch]
        except OSError as error:
            self._refused = error
            ended = [(told, _taken_back(journal, before, error)) for journal, before, _, told in batch]
        with self._lock:
            first = not self._done
            self._done += ended
        if first:
            self._loop.call_soon_threadsafe(self._tell)

    def _tell(self) -> None:
        with self._lock:
            done, self._done = self._done, []
        for told, error in done:
            self._loop.call_soon(told, error)  # each on its own: what goes wrong with one does not reach the next


def _taken_back(journal: Journal, before: int, error: OSError) -> OSError:
    try:
        journal.cut(before)
    except OSError as worse:
        return worse
    return error


def _settled(room: Path) -> Journal:
    """The log, emptied once all that it holds is on the disk in the papers' journals."""
    log = Journal(room / LOG)
    size, settled = log.size(), True
    for paper_id in {kept["paper"] for kept in log.entries()}:
        if (room / "answers" / f"{paper_id}.jsonl").exists():
            try:
                journal = paper_journal(room, paper_id)
                journal.sync(journal.size())
                journal.close()
            except (OSError, Refusal):  # said to whoever opens that paper; the others go on
                settled = False
    if settled and log.size() == size:
        log.cut(0)
    return log
