"""Threads for what waits for the disk, so that nobody else waits with it; on one journal one after the other."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from typing import Any

__all__ = ["Writers", "WRITERS"]

WRITERS = 16  # so many can wait for the disk at one moment


class Writers:
    """What is asked of a journal runs whole, its sync with it, before the next is begun, in the order of asking.

    All methods are called in the event loop.
    """

    def __init__(self) -> None:
        self._threads = ThreadPoolExecutor(WRITERS, "saving")
        self._turns: dict[str, asyncio.Future] = {}

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

    def _next(self, name: str) -> asyncio.Future:
        turn = self._turns[name] = asyncio.get_running_loop().create_future()
        return turn
