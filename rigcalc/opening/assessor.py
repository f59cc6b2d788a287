"""Starts the assessor's desk beside the workbook: a process of its own, whose token never passes through this one."""

from __future__ import annotations

import subprocess
import sys
import time
import urllib.error
import urllib.request
from itertools import chain

from rigcalc.opening.running import free_port

__all__ = ["DESK_PORTS", "Desk", "start_desk"]

# 8793 is the room's.
DESK_PORTS = tuple(chain([8792], range(8794, 8820)))
PATIENCE_SECONDS = 20.0
STOP_SECONDS = 5.0


class Desk:
    """The desk's process and its address, which is empty when the desk could not be started."""

    def __init__(self, process: subprocess.Popen | None, address: str, trouble: str = "") -> None:
        self.process, self.address, self.trouble = process, address, trouble

    def stop(self) -> None:
        """Ask the desk to stop, and end it when it does not."""
        if self.process is None or self.process.poll() is not None:
            return
        self.process.terminate()
        try:
            self.process.wait(STOP_SECONDS)
        except subprocess.TimeoutExpired:
            self.process.kill()
            self.process.wait()


def start_desk() -> Desk:
    """Start the desk on a free port and wait until it answers.

    The desk prints its own address and token straight to the terminal. This process picks the port and so knows the
    address, and never reads the token or anything in the desk's folder.
    """
    port = free_port(DESK_PORTS)
    if port is None:
        return Desk(None, "", "no port is free for it")
    command = [sys.executable, "-m", "rigcalc", "desk", "--port", str(port), "--no-browser"]
    try:
        process = subprocess.Popen(command, stdin=subprocess.DEVNULL)
    except OSError as trouble:
        return Desk(None, "", str(trouble))
    if not _answers(port, process):
        Desk(process, "").stop()
        return Desk(None, "", "what it said stands above" if process.returncode else "it did not answer")
    return Desk(process, f"http://127.0.0.1:{port}/")


def _answers(port: int, process: subprocess.Popen) -> bool:
    direct = urllib.request.build_opener(urllib.request.ProxyHandler({}))
    until = time.monotonic() + PATIENCE_SECONDS
    while time.monotonic() < until and process.poll() is None:
        try:
            direct.open(f"http://127.0.0.1:{port}/", timeout=2).close()
            return True
        except urllib.error.HTTPError:
            return True  # it asks for its token: it is there
        except OSError:
            time.sleep(0.1)
    return False
