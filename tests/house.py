"""Starts the workbook's own commands as processes of their own, in a home that the test throws away."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
import threading
import time
from pathlib import Path

__all__ = ["Process", "heed_signals", "rigcalc", "start"]

PATIENCE_SECONDS = 60.0


def heed_signals() -> None:
    """A test run that was started in the background ignores Ctrl-C and hang-up; what it starts must not inherit that."""
    signal.signal(signal.SIGINT, signal.default_int_handler)
    signal.signal(signal.SIGHUP, signal.SIG_DFL)


class Process:
    """A running command: what it printed so far, and a way to wait for a line."""

    def __init__(self, words: list[str], environment: dict[str, str]) -> None:
        own_group = {"start_new_session": True, "preexec_fn": heed_signals} if os.name == "posix" else {}
        self.popen = subprocess.Popen(words, env=environment, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE,
                                      stderr=subprocess.STDOUT, text=True, encoding="utf-8", errors="replace", **own_group)
        self.lines: list[str] = []
        self._reader = threading.Thread(target=self._read, daemon=True)
        self._reader.start()

    def _read(self) -> None:
        for line in self.popen.stdout:
            self.lines.append(line.rstrip("\n"))

    @property
    def text(self) -> str:
        return "\n".join(self.lines)

    def wait_for(self, pattern: str, seconds: float = PATIENCE_SECONDS) -> re.Match:
        """The first match of a pattern in what was printed; a process that ends without it fails the test."""
        until = time.monotonic() + seconds
        while time.monotonic() < until:
            found = re.search(pattern, self.text)
            if found:
                return found
            if self.popen.poll() is not None:
                self._reader.join(2)
                found = re.search(pattern, self.text)
                assert found, f"ended with {self.popen.returncode} before {pattern!r} was printed:\n{self.text}"
                return found
            time.sleep(0.05)
        raise AssertionError(f"{pattern!r} was not printed in {seconds} s:\n{self.text}")

    def interrupt(self) -> int:
        """What Ctrl-C does: the signal reaches the whole group. The exit status."""
        if self.popen.poll() is None:
            os.killpg(self.popen.pid, signal.SIGINT)
        return self.popen.wait(20)

    def stop(self) -> None:
        """End it, whatever it does."""
        if self.popen.poll() is None:
            self.popen.terminate()
            try:
                self.popen.wait(10)
            except subprocess.TimeoutExpired:
                os.killpg(self.popen.pid, signal.SIGKILL)
                self.popen.wait(10)
        self._reader.join(2)
        self.popen.stdout.close()


def environment(home: Path, **more: str) -> dict[str, str]:
    """This environment with the workbook's home in a folder of the test's own, and no browser window."""
    kept = {name: value for name, value in os.environ.items() if name not in ("DISPLAY", "WAYLAND_DISPLAY", "BROWSER")}
    return kept | {"RIGCALC_HOME": str(home), "PYTHONUNBUFFERED": "1", **more}


def start(home: Path, *words: str, **more: str) -> Process:
    """Start one `rigcalc` command and return at once."""
    return Process([sys.executable, "-m", "rigcalc", *words], environment(home, **more))


def rigcalc(home: Path, *words: str, seconds: float = PATIENCE_SECONDS, **more: str) -> subprocess.CompletedProcess:
    """Run one `rigcalc` command to its end."""
    return subprocess.run([sys.executable, "-m", "rigcalc", *words], env=environment(home, **more), timeout=seconds,
                          stdin=subprocess.DEVNULL, capture_output=True, text=True, encoding="utf-8")
