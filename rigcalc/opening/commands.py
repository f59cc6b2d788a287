"""`rigcalc open` and `rigcalc edit`."""

from __future__ import annotations

import argparse
import os
from pathlib import Path

from rigcalc.errors import Refusal
from rigcalc.home import working_folder, workbook_home

__all__ = ["edit_lesson", "open_workbook"]


class _Words(argparse.ArgumentParser):
    """A command's own words; a wrong one gets one sentence."""

    def error(self, message: str) -> None:
        raise Refusal(f"{self.prog} with other words ({message})", "the words that --help lists", f"type {self.prog} --help")


def open_workbook(argv: list[str]) -> int:
    """Open the workbook at its first page and serve it until Ctrl-C; 0 when it was opened."""
    wanted = _open_words(argv)
    home, kept = workbook_home(), True
    try:
        home.mkdir(parents=True, exist_ok=True)
    except OSError:
        kept = False
    if not kept or not os.access(home, os.W_OK):
        _say(f"The folder {home} cannot be written: the workbook opens, but nothing can be kept; "
             "set RIGCALC_HOME to a folder of yours to keep things.")
    if _opened_before(home, wanted.browser):
        return 0
    _settle()
    return _serve(home, wanted)


def edit_lesson(argv: list[str]) -> int:
    """Make or find the working copy of a lesson and open it in JupyterLab; an existing copy is never overwritten."""
    from rigcalc.opening.editor import open_editor
    from rigcalc.opening.shelf import find_sheet
    from rigcalc.opening.working import copy_of, make_copy

    words = _Words("rigcalc edit", description="Open a working copy of a lesson in JupyterLab.")
    words.add_argument("lesson", nargs="?", default="", help="the lesson's number, 05, or a notebook's name")
    words.add_argument("--no-browser", dest="browser", action="store_false", help="print the address only")
    wanted = words.parse_args(argv)
    sheet, folder = find_sheet(wanted.lesson), working_folder()
    new = not copy_of(sheet).exists()
    try:
        _settle()
        copy = make_copy(sheet)
    except OSError as trouble:
        raise Refusal(f"the folder {folder} ({trouble.strerror})", "a folder that can be written",
                      "set RIGCALC_HOME to a folder of yours") from trouble
    _say(f"{'A working copy was made' if new else 'Your working copy'}: {copy}")
    _say("Pages on this machine show it once it is changed. Stop the editor with Ctrl-C.")
    return open_editor(copy, folder, wanted.browser)


def _open_words(argv: list[str]) -> argparse.Namespace:
    words = _Words("rigcalc open", description="Open the workbook at its first page.")
    words.add_argument("--port", type=int, default=8791, help="the first port to try (8791)")
    words.add_argument("--no-browser", dest="browser", action="store_false", help="print the address only")
    words.add_argument("--no-desk", dest="desk", action="store_false", help="without the assessor's desk")
    wanted = words.parse_args(argv)
    if not 1024 <= wanted.port <= 65000:
        raise Refusal(f"the port {wanted.port}", "1024 to 65000", "leave it out to take 8791")
    return wanted


def _opened_before(home: Path, browser: bool) -> bool:
    from rigcalc.opening.running import already_open, browser_opened

    address = already_open(home)
    if address is None:
        return False
    _say(f"The workbook is already open at {address}")
    if browser:
        browser_opened(address)
    return True


def _settle() -> None:
    from rigcalc.opening.working import settle_copies

    try:
        for sentence in settle_copies().sentences():
            _say(sentence)
    except OSError as trouble:
        _say(f"The working copies in {working_folder()} could not be looked through ({trouble.strerror}); they are as they were.")


def _serve(home: Path, wanted: argparse.Namespace) -> int:
    from rigcalc.opening.assessor import Desk, start_desk
    from rigcalc.opening.running import forget
    from rigcalc.opening.server import make_server

    desk = Desk(None, "")
    try:
        if wanted.desk:
            desk = start_desk()
        if desk.trouble:
            _say(f"The assessor's desk could not be started: {desk.trouble}. The lessons open without it.")
        server = make_server(wanted.port, desk.address, ready=lambda server: _announce(server, home, wanted))
        server.start()
    except OSError as trouble:
        raise Refusal(f"the port {wanted.port} ({trouble})", "a free port", "stop what uses it or give another one with --port") from trouble
    finally:
        forget(home)
        desk.stop()
    _say("The workbook is closed.")
    return 0


def _announce(server, home: Path, wanted: argparse.Namespace) -> None:
    """Say where the workbook is, keep it for a second start, and open the browser where there is one."""
    from rigcalc.opening.running import browser_opened, remember

    address = f"http://127.0.0.1:{server.port}/?token={server.identity_provider.token}"
    if server.port != wanted.port:
        _say(f"Port {wanted.port} is in use, so the workbook took port {server.port}.")
    remember(home, address, server.port)
    _say(f"Cable assembly workbook, for learners and the projector: {address}")
    opened = wanted.browser and browser_opened(address)
    _say("It is open in your browser. Stop it here with Ctrl-C." if opened else
         "Open this address in a browser on this machine. Stop it here with Ctrl-C.")


def _say(sentence: str) -> None:
    print(sentence, flush=True)
