"""The room as a process of its own, started and stopped from the desk; only the process started here is ever stopped.

The room reads from this process: where the desk is killed, its input ends and the room closes, so that no room runs on
that no desk can close. What was saved stays, and the pages go on trying until a room is open again.
"""

from __future__ import annotations

import re
import subprocess
import sys
import time
from pathlib import Path

from rigcalc.errors import Refusal

__all__ = ["STOPPED", "RoomProcess"]

STOPPED = "The room stopped by itself. Nothing saved is lost: open it again."

_OPEN_AT = re.compile(r"The room is open at (http://\S+?)/?\s*$", re.MULTILINE)
WAIT_SECONDS = 20


class RoomProcess:
    """At most one room, over one folder."""

    def __init__(self, room_folder: Path, log: Path) -> None:
        self.folder, self.log = room_folder, log
        self._process: subprocess.Popen | None = None
        self.address = ""

    @property
    def running(self) -> bool:
        return self._process is not None and self._process.poll() is None

    @property
    def died(self) -> bool:
        """It was opened, nobody closed it, and it runs no more."""
        return self._process is not None and self._process.poll() is not None

    def start(self, where: str = "127.0.0.1", port: int | None = None) -> str:
        """Start the room and return its address; `where` is 127.0.0.1, or `room` for this machine's address."""
        if self.running:
            return self.address
        if where not in ("127.0.0.1", "room"):
            raise Refusal(f"the address '{where[:60]}'", "this machine only, or the room's network", "choose one of the two")
        self.stop()  # one that died
        words = [sys.executable, "-m", "rigcalc", "room", "--folder", str(self.folder), "--address", where, "--with-input"]
        words += ["--port", str(port)] if port is not None else []
        with open(self.log, "wb") as log:
            self._process = subprocess.Popen(words, stdout=log, stderr=subprocess.STDOUT, stdin=subprocess.PIPE)
        return self._wait()

    def _wait(self) -> str:
        until = time.monotonic() + WAIT_SECONDS
        while time.monotonic() < until:
            said = self.log.read_text(encoding="utf-8", errors="replace")
            found = _OPEN_AT.search(said)
            if found:
                self.address = found[1]
                return self.address
            if not self.running:
                break
            time.sleep(0.05)
        self.stop()
        lines = [line for line in said.splitlines() if line.strip()]
        raise Refusal("a room that did not open", "a free port and an address of this machine",
                      f"it said: {lines[-1][:200] if lines else 'nothing'}")

    def stop(self) -> None:
        """Stop the room that was started here; what was saved stays."""
        if self._process is None:
            return
        if self.running:
            self._process.terminate()
            try:
                self._process.wait(5)
            except subprocess.TimeoutExpired:
                self._process.kill()
                self._process.wait(5)
        if self._process.stdin:
            self._process.stdin.close()
        self._process, self.address = None, ""
