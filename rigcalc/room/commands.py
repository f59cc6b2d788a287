"""`rigcalc room`: open the room for candidates and bench devices."""

from __future__ import annotations

import argparse
import asyncio
import errno
import os
import socket
import sys
import threading
from pathlib import Path

from rigcalc.errors import Refusal
from rigcalc.home import room_folder
from rigcalc.papers.records import private_folder

__all__ = ["open_room", "PORT", "room_address", "bind"]

PORT = 8793
_WARNING = (
    "WARNING: the room is open to everybody on this network. Whoever holds a candidate's or device's address can "
    "answer as that person, and what is typed crosses the network unencrypted. Use a network of your own, and close "
    "the room when the sitting is over."
)


def open_room(argv: list[str]) -> int:
    """Serve sitting pages and bench forms until stopped."""
    parser = argparse.ArgumentParser(prog="rigcalc room", description="Open the room: sitting pages and bench forms.")
    parser.add_argument("--address", default="127.0.0.1", metavar="ADDRESS",
                        help="'room' serves this machine's address on the network; without it, this machine only")
    parser.add_argument("--port", type=int, default=PORT, help=f"the port to try first (else {PORT})")
    parser.add_argument("--folder", type=Path, help="the room's folder (else the one in the workbook's folder)")
    parser.add_argument("--new-address", metavar="PAPER", help="close the addresses of a paper, print a new one, and stop")
    parser.add_argument("--with-input", action="store_true", help="close when the standard input ends: so a room ends with the desk that opened it")
    given = parser.parse_args(argv)
    folder = private_folder(given.folder or room_folder())
    if not 0 <= given.port <= 65535:
        raise Refusal(f"port {given.port}", "a number from 1 to 65535", "leave --port out")
    address = room_address(given.address)
    if given.new_address:
        print(_new_address(folder, given.new_address, address, given.port))
        return 0
    sockets, port = bind(address, given.port)
    print(f"The room is open at http://{address}:{port}/", flush=True)
    if port != given.port:
        print(f"Port {given.port} was taken, so it is port {port}: in every address given out before, write {port}.",
              flush=True)
    if address not in ("127.0.0.1", "::1"):
        print(_WARNING, flush=True)
    print("Everybody opens their own address, as the desk printed it. Stop with Ctrl+C; what was saved stays.", flush=True)
    asyncio.run(_serve(folder, sockets, given.with_input))
    return 0


async def _serve(folder: Path, sockets, with_input: bool) -> None:
    from tornado.httpserver import HTTPServer

    from rigcalc.room.app import BODY_LIMIT, make_app

    server = HTTPServer(make_app(folder), max_body_size=4 * BODY_LIMIT, max_header_size=16 * 1024,
                        body_timeout=20, idle_connection_timeout=120)
    server.add_sockets(sockets)
    over = asyncio.Event()
    if with_input:
        loop = asyncio.get_running_loop()
        threading.Thread(target=lambda: (sys.stdin.buffer.read(), loop.call_soon_threadsafe(over.set)), daemon=True).start()
    await over.wait()


def room_address(wanted: str) -> str:
    """The address to serve: as given, or for 'room' this machine's own on the network."""
    if wanted != "room":
        return wanted
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # an address for documentation (RFC 5737); connecting sends nothing
            found = probe.getsockname()[0]
        except OSError:
            found = "127.0.0.1"
    if found.startswith("127."):
        raise Refusal("--address room on a machine without a network", "a machine that is on a network",
                      "join the network, or name the address: --address 192.168.…")
    return found


def bind(address: str, port: int):
    """Listen at the port or the next free one of twenty; the sockets and the port."""
    for candidate in range(port, min(port + 20, 65536)) if port else [0]:
        listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        if os.name != "nt":  # there the option would let two programs share a port
            listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            listening.bind((address, candidate))
            listening.listen(128)
        except OSError as error:
            listening.close()
            if error.errno == errno.EADDRINUSE:
                continue
            raise Refusal(f"the address {address}, port {candidate} ({error.strerror or error})",
                          "an address of this machine and a free port", "leave --address and --port out") from None
        listening.setblocking(False)
        return [listening], listening.getsockname()[1]
    raise Refusal(f"ports {port} to {port + 19}, all taken", "one free port", "name another with --port")


def _new_address(folder: Path, paper_id: str, address: str, port: int) -> str:
    from rigcalc.room import access

    if not paper_id.replace("-", "").isalnum() or not (folder / "papers" / f"{paper_id}.json").is_file():
        raise Refusal(f"the paper '{paper_id}'", "the id of a paper that was issued", "read it from the desk's page")
    access.revoke(folder, "sit", paper_id)
    return f"http://{address}:{port}/sit/{access.grant(folder, 'sit', paper_id)}"
