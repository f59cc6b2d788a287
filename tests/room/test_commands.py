from __future__ import annotations

import re
import signal
import socket
import subprocess
import sys
import urllib.request

import pytest

from house import heed_signals
from papers import a_class
from rigcalc.errors import Refusal
from rigcalc.room import access
from rigcalc.room.commands import bind, open_room, room_address


def start(*words):
    return subprocess.Popen([sys.executable, "-m", "rigcalc", "room", *words], stdout=subprocess.PIPE,
                            stderr=subprocess.PIPE, text=True, preexec_fn=heed_signals)


def test_the_room_says_its_address_the_next_port_and_stops_quietly(held):
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        room = start("--folder", str(held.room), "--port", str(port))
        first, second = room.stdout.readline(), room.stdout.readline()
        address = re.search(r"http://127\.0\.0\.1:(\d+)/", first)
        assert address and int(address[1]) > port
        assert f"Port {port} was taken" in second
        page = urllib.request.urlopen(f"{address[0]}sit/{held.issued[0].token}", timeout=10).read()
        assert b"Tomo Kessig" in page
        room.send_signal(signal.SIGINT)
        out, err = room.communicate(timeout=10)
    assert room.returncode == 130 and "WARNING" not in out and err.strip() == "Stopped."


def test_a_room_address_warns(held, monkeypatch, capsys):
    import rigcalc.room.commands as commands

    async def no_serving(folder, sockets, with_input):
        for one in sockets:
            one.close()

    monkeypatch.setattr(commands, "room_address", lambda wanted: "127.0.0.2")
    monkeypatch.setattr(commands, "_serve", no_serving)
    assert open_room(["--folder", str(held.room), "--address", "room", "--port", "0"]) == 0
    assert "WARNING: the room is open to everybody on this network" in capsys.readouterr().out


def test_loopback_is_what_is_served_unless_told_otherwise():
    assert room_address("127.0.0.1") == "127.0.0.1"


def test_a_machine_without_a_network_is_told_so(monkeypatch):
    class NoNetwork(socket.socket):
        def connect(self, address):
            raise OSError("Network is unreachable")

    monkeypatch.setattr(socket, "socket", NoNetwork)
    with pytest.raises(Refusal, match="without a network"):
        room_address("room")


@pytest.mark.parametrize("words, says", [(["--port", "99999"], "1 to 65535"), (["--address", "203.0.113.9"], "address of this machine")])
def test_what_cannot_be_served_is_one_sentence(held, words, says):
    with pytest.raises(Refusal, match=says):
        open_room(["--folder", str(held.room), *words])


def test_a_lost_address_is_replaced(held, capsys):
    issued = held.issued[0]
    assert open_room(["--folder", str(held.room), "--new-address", issued.paper_id]) == 0
    token = capsys.readouterr().out.strip().rpartition("/")[2]
    assert access.lookup(held.room, issued.token) is None
    assert access.lookup(held.room, token) == {"kind": "sit", "id": issued.paper_id}
    with pytest.raises(Refusal, match="the paper '../x'"):
        open_room(["--folder", str(held.room), "--new-address", "../x"])


def test_bind_takes_the_port_that_is_free():
    sockets, port = bind("127.0.0.1", 0)
    try:
        others, next_port = bind("127.0.0.1", port)
        assert next_port > port
        for one in others:
            one.close()
    finally:
        for one in sockets:
            one.close()
