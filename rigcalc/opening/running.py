"""Whether this home's workbook is open already: a small file with its address, believed only when the address answers."""

from __future__ import annotations

import json
import os
import socket
import urllib.error
import urllib.request
import webbrowser
from pathlib import Path

__all__ = ["HERE", "already_open", "browser_opened", "forget", "free_port", "remember"]

HERE = "Cable assembly workbook, process "
RECORD = "open.json"
ANSWER_SECONDS = 3


def remember(home: Path, address: str, port: int) -> bool:
    """Keep the address, with its token, for a second start; only this user may read it. False where it cannot be kept."""
    try:
        handle = os.open(home / RECORD, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
    except OSError:
        return False
    with os.fdopen(handle, "w", encoding="utf-8") as file:
        json.dump({"pid": os.getpid(), "port": port, "address": address}, file)
    return True


def forget(home: Path) -> None:
    """Take the file away at the end, when it is still this process's own."""
    if _record(home).get("pid") == os.getpid():
        try:
            (home / RECORD).unlink(missing_ok=True)
        except OSError:
            pass  # a file left behind is found stale at the next start


def already_open(home: Path) -> str | None:
    """The address of a workbook of this home that answers now; None when there is none or the file is stale."""
    record = _record(home)
    try:
        pid, port, address = int(record["pid"]), int(record["port"]), str(record["address"])
    except (KeyError, TypeError, ValueError):
        return None
    return address if _answer(port) == f"{HERE}{pid}" else None


def browser_opened(address: str) -> bool:
    """Open the address in the person's browser; False where this machine has no window to open one in."""
    windowless = os.name == "posix" and os.uname().sysname not in ("Darwin",) and not (
        os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY") or os.environ.get("BROWSER"))
    if windowless:
        return False  # else a text browser might take over the terminal
    try:
        return webbrowser.open(address)
    except webbrowser.Error:
        return False


def free_port(candidates) -> int | None:
    """The first of the candidate ports on which nothing listens on this machine."""
    for port in candidates:
        with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as probe:
            if os.name == "posix":
                # as the servers do, so that a port just left by an earlier start counts as free
                probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            try:
                probe.bind(("127.0.0.1", port))
            except OSError:
                continue
            return port
    return None


def _record(home: Path) -> dict:
    try:
        read = json.loads((home / RECORD).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return read if isinstance(read, dict) else {}


def _answer(port: int) -> str:
    direct = urllib.request.build_opener(urllib.request.ProxyHandler({}))
    try:
        with direct.open(f"http://127.0.0.1:{port}/here", timeout=ANSWER_SECONDS) as answer:
            return answer.read(200).decode("utf-8", "replace")
    except (OSError, ValueError, urllib.error.URLError):
        return ""
