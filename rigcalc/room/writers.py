"""Threads in which saves wait for the disk, so that nobody else waits with them; on one journal one after the other."""

from __future__ import annotations

import asyncio
import queue
import threading
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from typing import Any

from rigcalc.room.journal import Journal

__all__ = ["Writers", "WRITERS"]

WRITERS = 16  # so many saves can wait for the disk at one moment; the disk takes them together

_Told = Callable[[Exception | None], None]
_Asked = tuple[Journal, int, _Told]


class Writers:
    """What is asked of a journal runs whole, its sync with it, before the next is begun, in the order of asking.

    All methods are called in the event loop.
    """

    def __init__(self) -> None:
        self._threads = ThreadPoolExecutor(WRITERS, "saving")
        self._turns: dict[str, asyncio.Future] = {}
        self._syncs = _Syncs(self._threads)

    def free_turn(self, name: str) -> asyncio.Future | None:
        """A turn on a journal that nobody is using, None where somebody is; `over` ends it."""
        return None if name in self._turns else self._next(name)

    def over(self, name: str, turn: asyncio.Future) -> None:
        """End a turn: the next one begins."""
        if self._turns.get(name) is turn:
            del self._turns[name]
        turn.set_result(None)

    async def run(self, name: str, work: Callable[..., Any], *values: Any) -> Any:
        """What `work` gives or raises, done in a thread once it is this one's turn on the journal."""
        before, turn = self._turns.get(name), self._next(name)
        try:
            if before is not None:
                await asyncio.shield(before)
            return await asyncio.get_running_loop().run_in_executor(self._threads, work, *values)
        finally:
            self.over(name, turn)

    def sync(self, journal: Journal, before: int, told: _Told) -> None:
        """Sync a journal's last line in a thread; `told` is called in the event loop with None or the error."""
        self._syncs.ask(journal, before, told)

    def _next(self, name: str) -> asyncio.Future:
        turn = self._turns[name] = asyncio.get_running_loop().create_future()
        return turn


class _Syncs:
    """Syncs asked for in one turn of the loop are handed over together; those done before the loop looks are told together."""

    def __init__(self, threads: ThreadPoolExecutor) -> None:
        self._threads = threads
        self._asked: list[_Asked] = []
        self._waiting: queue.SimpleQueue[_Asked] = queue.SimpleQueue()
        self._done: list[tuple[_Told, Exception | None]] = []
        self._lock = threading.Lock()  # around what is done, which threads and loop both change

    def ask(self, journal: Journal, before: int, told: _Told) -> None:
        if not self._asked:
            self._loop = asyncio.get_running_loop()
            self._loop.call_soon(self._hand_over)
        self._asked.append((journal, before, told))

    def _hand_over(self) -> None:
        for one in self._asked:
            self._waiting.put(one)
        for _ in self._asked[:WRITERS]:
            self._threads.submit(self._work)
        self._asked.clear()

    def _work(self) -> None:
        while True:
            try:
                journal, before, told = self._waiting.get_nowait()
            except queue.Empty:
                return
            error = None
            try:
                journal.sync(before)
            except Exception as caught:
                error = caught
            with self._lock:
                first = not self._done
                self._done.append((told, error))
            if first:
                self._loop.call_soon_threadsafe(self._tell)

    def _tell(self) -> None:
        with self._lock:
            done, self._done = self._done, []
        for told, error in done:
            self._loop.call_soon(told, error)  # each on its own: what goes wrong with one does not reach the next
