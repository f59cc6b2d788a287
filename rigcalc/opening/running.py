"""Whether this home's workbook is open already: a small file with its address, believed only when the address answers."""

from __future__ import annotations

import json
import os
import socket
import urllib.error
import urllib.request
import webbrowser
from pathlib import Path

__all__ = ["EDITOR", "HERE", "already_open", "browser_opened", "editor_answers", "forget", "free_port",
           "open_editor_address", "remember"]

HERE = "Cable assembly workbook, process "
RECORD = "open.json"
EDITOR = "editor.json"  # the same for `rigcalc edit`
ANSWER_SECONDS = 3


def remember(home: Path, address: str, port: int, name: str = RECORD) -> bool:
    """Keep the address, with its token, for a second start; only this user may read it. False where it cannot be kept."""
    try:
        handle = os.open(home / name, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
    except OSError:
        return False
    with os.fdopen(handle, "w", encoding="utf-8") as file:
        json.dump({"pid": os.getpid(), "port": port, "address": address}, file)
    return True


def forget(home: Path, name: str = RECORD) -> None:
    """Take the file away at the end, when it is still this process's own."""
    if _record(home, name).get("pid") == os.getpid():
        try:
            (home / name).unlink(missing_ok=True)
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


def editor_answers(port: int, token: str) -> bool:
    """Whether an editor that knows this token answers on the port now."""
    direct = urllib.request.build_opener(urllib.request.ProxyHandler({}))
    asked = urllib.request.Request(f"http://127.0.0.1:{port}/api/status", headers={"Authorization": f"token {token}"})
    try:
        with direct.open(asked, timeout=ANSWER_SECONDS) as answer:
            return "kernels" in json.loads(answer.read(2000))
    except urllib.error.HTTPError as answer:
        answer.close()
        return False
    except (OSError, ValueError, TypeError):
        return False


def open_editor_address(home: Path, page: str) -> str | None:
    """The address of `page` in this home's editor, when one answers now; None when there is none."""
    record = _record(home, EDITOR)
    try:
        port, token = int(record["port"]), str(record["address"]).split("token=")[1]
    except (KeyError, IndexError, TypeError, ValueError):
        return None
    return f"http://127.0.0.1:{port}{page}?token={token}" if editor_answers(port, token) else None


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


def _record(home: Path, name: str = RECORD) -> dict:
    try:
        read = json.loads((home / name).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return read if isinstance(read, dict) else {}


def _answer(port: int) -> str:
    direct = urllib.request.build_opener(urllib.request.ProxyHandler({}))
    try:
        with direct.open(f"http://127.0.0.1:{port}/here", timeout=ANSWER_SECONDS) as answer:
            return answer.read(200).decode("utf-8", "replace")
    except urllib.error.HTTPError as answer:
        answer.close()
        return ""
    except (OSError, ValueError):
        return ""
