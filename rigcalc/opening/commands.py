"""`rigcalc open` and `rigcalc edit`."""

from __future__ import annotations

import argparse
import os
import secrets
import signal
import subprocess
import time
from pathlib import Path

from rigcalc.errors import Refusal
from rigcalc.home import working_folder, workbook_home

__all__ = ["edit_lesson", "open_workbook"]

EDITOR_PORTS = range(8795, 8835)
EDITOR_SECONDS = 60.0
STOP_SECONDS = 10.0


class _Words(argparse.ArgumentParser):
    """A command's own words; a wrong one gets one sentence."""

    def error(self, message: str) -> None:
        words = message.removeprefix("unrecognized arguments: ")
        if words != message:
            given = f"the word '{words}' after {self.prog}"
        else:
            given = f"{self.prog} with {message.removeprefix('argument ').replace(': ', ', which ', 1)}"
        raise Refusal(given, f"the words that {self.prog} --help lists", "type one of those")


def open_workbook(argv: list[str]) -> int:
    """Open the workbook at its first page and serve it until Ctrl-C; 0 when it was opened."""
    wanted = _open_words(argv)
    home, kept = workbook_home(), True
    try:
        home.mkdir(parents=True, exist_ok=True)
    except OSError:
        kept = False
    if not kept or not os.access(home, os.W_OK):
        kept, wanted.desk = False, False
        _say(f"The lessons open, but nothing can be kept and the assessor's desk is not started, because the folder {home} "
             "cannot be written; set RIGCALC_HOME to a folder of yours to have both.")
    if _opened_before(home, wanted.browser):
        return 0
    if kept:
        _settle()
    return _serve(home, wanted)


def edit_lesson(argv: list[str]) -> int:
    """Make or find the working copy of a lesson and open it in JupyterLab; an existing copy is never overwritten."""
    from rigcalc.opening.shelf import assessors_sheets, find_sheet
    from rigcalc.opening.working import copy_of, make_copy

    words = _Words("rigcalc edit", description="Open a working copy of a lesson in JupyterLab.")
    words.add_argument("lesson", nargs="?", default="", help="the lesson's number, 05, or a notebook's name")
    words.add_argument("--no-browser", dest="browser", action="store_false", help="print the address only")
    wanted = words.parse_args(argv)
    if not wanted.lesson.strip():
        _list_lessons()
        raise Refusal("no lesson", "a number or a name from the list above", "type it after rigcalc edit")
    sheet, folder = find_sheet(wanted.lesson, assessor=True), working_folder()
    new = not copy_of(sheet).exists()
    try:
        _settle()
        copy = make_copy(sheet)
    except OSError as trouble:
        raise Refusal(f"the folder {folder} ({trouble.strerror})", "a folder that can be written",
                      "set RIGCALC_HOME to a folder of yours") from trouble
    _say(f"{'A working copy was made' if new else 'Your working copy'}: {copy}")
    return _edit(copy, folder, wanted.browser, "No learners' page shows this notebook." if sheet in assessors_sheets() else
                 "Pages on this machine show the copy once it is changed.")


def _list_lessons() -> None:
    from rigcalc.opening.shelf import assessors_sheets, lessons, references, sheets

    for sheet in (*lessons(), *references(), *sheets("quizzes"), *assessors_sheets()):
        _say(f"  {sheet.number or sheet.name:<16} {sheet.title}")


def _edit(copy: Path, folder: Path, browser: bool, shown: str) -> int:
    """Show the copy in this home's editor: the one that is open, else a new one, served until it is stopped."""
    from rigcalc.opening.running import EDITOR, browser_opened, forget, free_port, open_editor_address, remember

    home, page = workbook_home(), f"/lab/tree/{copy.relative_to(folder).as_posix()}"
    address = open_editor_address(home, page)
    if address is not None:
        _say(f"The editor is already open; this copy is at {address}")
        if browser:
            browser_opened(address)
        return 0
    port = free_port(EDITOR_PORTS)
    if port is None:
        raise Refusal("no free port for the editor", f"one of {EDITOR_PORTS[0]} to {EDITOR_PORTS[-1]}", "stop what uses them")
    token, process = secrets.token_hex(24), None
    before = _end_on_signals()
    try:
        process = _start_editor(copy, folder, port, token)
        _wait_for_editor(process, port, token, folder)
        address = f"http://127.0.0.1:{port}{page}?token={token}"
        remember(home, address, port, EDITOR)
        _say(f"Open this address: {address}")
        _say(f"{shown} Stop the editor with Ctrl-C.")
        if browser:
            browser_opened(address)
        return process.wait()
    except KeyboardInterrupt:
        return 0
    finally:
        for name in before:
            signal.signal(name, signal.SIG_IGN)  # the ending itself is not broken off
        forget(home, EDITOR)
        _end(process)
        for name, handler in before.items():
            signal.signal(name, handler)


def _start_editor(copy: Path, folder: Path, port: int, token: str) -> subprocess.Popen:
    """JupyterLab, which says what it has to say in a file that only this user may read."""
    from rigcalc.opening.editor import editor_command, editor_environment

    command = [word for word in editor_command(copy, folder, browser=False) if not word.startswith("--ServerApp.port=")]
    command += [f"--ServerApp.port={port}", "--ServerApp.port_retries=0"]
    environment = editor_environment(folder) | {"JUPYTER_TOKEN": token}
    handle = os.open(_editor_log(folder), os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
    with os.fdopen(handle, "wb") as log:
        return subprocess.Popen(command, cwd=folder, env=environment, stdin=subprocess.DEVNULL, stdout=log, stderr=log)


def _editor_log(folder: Path) -> Path:
    return folder / ".settings" / "editor.log"


def _wait_for_editor(process: subprocess.Popen, port: int, token: str, folder: Path) -> None:
    from rigcalc.opening.running import editor_answers

    until = time.monotonic() + EDITOR_SECONDS
    while not editor_answers(port, token):
        if process.poll() is not None or time.monotonic() > until:
            raise Refusal("an editor that did not start", "a JupyterLab that starts",
                          f"read what it said in {_editor_log(folder)} and try again")
        time.sleep(0.1)


def _end_on_signals() -> dict:
    """From now on a closed terminal and a request to end do what Ctrl-C does; the handlers in force before."""
    def stop(*_) -> None:
        raise KeyboardInterrupt

    names = [getattr(signal, name) for name in ("SIGTERM", "SIGHUP") if hasattr(signal, name)]
    # a signal that is ignored already (nohup) stays ignored
    return {name: signal.signal(name, stop) for name in names if signal.getsignal(name) is not signal.SIG_IGN}


def _end(process: subprocess.Popen | None) -> None:
    """Ask the editor to end, and end it when it does not."""
    if process is None or process.poll() is not None:
        return
    process.terminate()
    try:
        process.wait(STOP_SECONDS)
    except subprocess.TimeoutExpired:
        process.kill()
        process.wait()


def _open_words(argv: list[str]) -> argparse.Namespace:
    words = _Words("rigcalc open", description="Open the workbook at its first page.")
    words.add_argument("--port", default="8791", help="the first port to try (8791)")
    words.add_argument("--no-browser", dest="browser", action="store_false", help="print the address only")
    words.add_argument("--no-desk", dest="desk", action="store_false", help="without the assessor's desk")
    wanted = words.parse_args(argv)
    if not (wanted.port.isascii() and wanted.port.isdigit() and 1024 <= int(wanted.port) <= 65535):
        raise Refusal(f"the port '{wanted.port}'", "a whole number from 1024 to 65535", "type another")
    wanted.port = int(wanted.port)
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
    from rigcalc.opening.quick_import import jsonschema_without_grammars
    from rigcalc.opening.running import forget

    jsonschema_without_grammars()
    from rigcalc.opening.server import make_server

    desk = Desk(None, "")
    _end_on_signals()
    try:
        if wanted.desk:
            desk = start_desk()
        if desk.trouble:
            _say(f"The assessor's desk could not be started: {desk.trouble}. The lessons open without it.")
        server = make_server(wanted.port, desk.address, ready=lambda server: _announce(server, home, wanted))
        server.start()
    except OSError as trouble:
        raise Refusal(f"the port {wanted.port} ({trouble})", "a free port", "stop what uses it or give another one with --port") from trouble
    except KeyboardInterrupt:
        pass  # stopped before it served
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
