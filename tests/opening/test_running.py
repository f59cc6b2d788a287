"""The file that a second start reads, and the choice of a port."""

from __future__ import annotations

import os
import socket
import stat
import threading
from http.server import BaseHTTPRequestHandler, HTTPServer

import pytest

from rigcalc.opening import running


@pytest.fixture
def answering():
    """A loopback server that answers like an open workbook; its text can be set."""
    class Answer(BaseHTTPRequestHandler):
        text = f"{running.HERE}{os.getpid()}"

        def do_GET(self):
            self.send_response(200)
            self.end_headers()
            self.wfile.write(self.text.encode())

        def log_message(self, *_):
            pass

    server = HTTPServer(("127.0.0.1", 0), Answer)
    thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.02})
    thread.start()
    yield server
    server.shutdown()
    thread.join()
    server.server_close()


def test_an_open_workbook_is_found_by_its_file(home, answering):
    assert running.remember(home, "http://127.0.0.1:1/?token=t", answering.server_port)
    assert running.already_open(home) == "http://127.0.0.1:1/?token=t"


@pytest.mark.skipif(os.name != "posix", reason="file modes are a POSIX matter")
def test_the_file_with_the_token_is_for_its_owner_only(home):
    running.remember(home, "address", 1)
    assert stat.S_IMODE((home / "open.json").stat().st_mode) == 0o600


@pytest.mark.parametrize("text", ["", "{", "[]", '{"pid": 1}', '{"pid": "x", "port": 1, "address": "a"}'])
def test_a_stale_or_damaged_file_is_no_open_workbook(home, text):
    (home / "open.json").write_text(text)
    assert running.already_open(home) is None


def test_another_program_on_the_port_is_no_open_workbook(home, answering):
    running.remember(home, "address", answering.server_port)
    answering.RequestHandlerClass.text = "something else"
    assert running.already_open(home) is None


def test_another_homes_workbook_is_not_this_one(home, answering):
    running.remember(home, "address", answering.server_port)
    answering.RequestHandlerClass.text = f"{running.HERE}{os.getpid() + 1}"
    assert running.already_open(home) is None


def test_only_its_own_file_is_taken_away(home):
    running.remember(home, "address", 1)
    running.forget(home)
    assert not (home / "open.json").exists()
    (home / "open.json").write_text('{"pid": 1, "port": 1, "address": "a"}')
    running.forget(home)
    assert (home / "open.json").exists()


def test_a_port_in_use_is_passed_over():
    with socket.socket() as used:
        used.bind(("127.0.0.1", 0))
        used.listen()
        port = used.getsockname()[1]
        assert running.free_port([port]) is None
        assert running.free_port([port, port + 1, port + 2]) in (port + 1, port + 2)


def test_a_machine_without_windows_opens_no_browser(monkeypatch):
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "BROWSER"):
        monkeypatch.delenv(name, raising=False)
    if os.name == "posix" and os.uname().sysname == "Linux":
        assert running.browser_opened("http://127.0.0.1/") is False
