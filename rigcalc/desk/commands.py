"""`rigcalc desk`: open the assessor's desk, a process of its own with a token of its own."""

from __future__ import annotations

import argparse
import asyncio
import contextlib
import os
import signal
import socket
import webbrowser
from pathlib import Path

from rigcalc.desk.bench_notes import EVERY_SECONDS, BenchNotes
from rigcalc.desk.server import BODY_LIMIT, make_app, new_token
from rigcalc.desk.work import RoomProcess, open_desk as open_folder
from rigcalc.errors import Refusal
from rigcalc.home import workbook_home

__all__ = ["PORT", "open_desk"]

PORT = 8792
ROOM_PORT = 8793  # left free for the room


def open_desk(argv: list[str]) -> int:
    """Serve the desk on this machine until stopped."""
    words = argparse.ArgumentParser(prog="rigcalc desk", description="Open the assessor's desk: set, mark, decide, sign.")
    words.add_argument("--folder", type=Path, help="the workbook folder (else RIGCALC_HOME, else cable-workbook at home)")
    words.add_argument("--port", type=int, default=PORT, help=f"the port to try first (else {PORT})")
    words.add_argument("--no-browser", action="store_true", help="print the address, open no browser")
    asked = words.parse_args(argv)
    if not 1 <= asked.port <= 65535:
        raise Refusal(f"port {asked.port}", "a number from 1 to 65535", "leave --port out")
    home = asked.folder or workbook_home()
    desk = open_folder(home, earlier=True)
    wrong = desk.register.check()
    sockets, port = _bind(asked.port)
    token = new_token()
    address = f"http://127.0.0.1:{port}/sign-in?token={token}"
    if port != asked.port:
        print(f"Port {asked.port} is taken, so the desk is at port {port}.", flush=True)
    print(f"The desk of {desk.shop.name} is open, on this machine only:\n  {address}", flush=True)
    print(f"Token, if it is asked for: {token}", flush=True)
    if desk.unread:
        print(f"SHOP FILE: it cannot be read ({desk.unread}). Certificates can be suspended and withdrawn; all else waits for it.", flush=True)
    for sentence in wrong:
        print(f"REGISTER: {sentence}", flush=True)
    print("Stop with Ctrl+C; everything entered stays.", flush=True)
    if not asked.no_browser:
        _show(address)
    room = RoomProcess(desk.room, desk.folder / "room.log")
    try:
        asyncio.run(_serve(make_app(home, token, room), sockets, BenchNotes(home)))
    finally:
        room.stop()
    return 0


async def _serve(app, sockets, notes: BenchNotes) -> None:
    from tornado.httpserver import HTTPServer
    from tornado.ioloop import PeriodicCallback

    stopped = asyncio.Event()
    with contextlib.suppress(NotImplementedError):  # Windows has no such handlers; Ctrl+C works there as well
        asyncio.get_running_loop().add_signal_handler(signal.SIGTERM, stopped.set)
    server = HTTPServer(app, max_body_size=BODY_LIMIT, max_header_size=16 * 1024, idle_connection_timeout=120)
    server.add_sockets(sockets)
    notes.look()
    looking = PeriodicCallback(notes.look, EVERY_SECONDS * 1000)
    looking.start()
    await stopped.wait()
    looking.stop()
    server.stop()


def _bind(port: int):
    """Listen on this machine at the port or the next free one of twenty, the room's left out."""
    for candidate in range(port, min(port + 20, 65536)):
        if candidate == ROOM_PORT and port != ROOM_PORT:
            continue
        listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        if os.name == "posix":  # elsewhere this would let two desks share one port
            listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            listening.bind(("127.0.0.1", candidate))
            listening.listen(128)
        except OSError:
            listening.close()
            continue
        listening.setblocking(False)
        return [listening], candidate
    raise Refusal(f"ports {port} to {port + 19}, all taken", "one free port", "name another with --port")


def _show(address: str) -> None:
    """Open a browser where there is one; the address stands in the terminal anyway."""
    if os.name == "posix" and not any(os.environ.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY")) and os.uname().sysname != "Darwin":
        return
    with contextlib.suppress(webbrowser.Error):
        webbrowser.open(address)
