"""Saves of many share one sync, stay in order on each sitting, and nobody is told before the disk has it."""

from __future__ import annotations

import json
import os
import socket
import threading
import time

from papers import a_class
from rigcalc.room.together import LOG
from room.a_room import Room


def slot_of(held, number: int) -> int:
    return next(question["slot"] for question in a_class.paper_of(held, number)["questions"] if question["kind"] == "number")


class Disk:
    """A disk that takes nothing of the log of saves while it is held."""

    def __init__(self, monkeypatch) -> None:
        self.free, self.asked, self.synced, sync = threading.Event(), threading.Semaphore(0), [], os.fsync

        def fsync(handle: int) -> None:
            name = os.readlink(f"/proc/self/fd/{handle}")
            if name.endswith(f"/{LOG}"):
                self.asked.release()
                assert self.free.wait(20)
            sync(handle)
            self.synced.append(name)

        monkeypatch.setattr(os, "fsync", fsync)


def save(room, number: int, revision: int) -> tuple[int, dict]:
    return room.post("save", {"slot": slot_of(room.held, number), "revision": revision, "typed": f"{revision} lbf", "confirmed": True},
                     room.held.issued[number].token)


def wait_for(held, number: int, words: str) -> None:
    journal, until = held.room / "answers" / f"{held.issued[number].paper_id}.jsonl", time.monotonic() + 20
    while words not in journal.read_text():
        assert time.monotonic() < until
        time.sleep(0.01)


def test_while_the_disk_is_slow_the_room_answers_and_what_comes_meanwhile_shares_one_sync(tmp_path, monkeypatch):
    held = a_class.set_class(tmp_path, roster=[{"id": f"c{number}", "name": f"Candidate {number}"} for number in range(5)])
    with Room(held) as room:
        for issued in held.issued:
            assert room.post("start", {}, issued.token)[0] == 200
        disk, told = Disk(monkeypatch), []
        waiting = [threading.Thread(target=lambda at=at: told.append(save(room, at, 1))) for at in range(4)]
        waiting[0].start()
        assert disk.asked.acquire(timeout=10)
        for one in waiting[1:]:
            one.start()
        for at in range(1, len(waiting)):
            wait_for(held, at, '"save"')
        assert room.post("state", {"window": "0" * 16}, held.issued[-1].token)[0] == 200 and told == []
        disk.free.set()
        for one in waiting:
            one.join(10)
        assert [(status, said["saved"]) for status, said in told] == [(200, 1)] * 4
        assert sum(name.endswith(LOG) for name in disk.synced) == 2  # the first's, and one of all the others


def test_saves_of_one_sitting_stay_in_order_and_none_is_told_before_its_sync(held, monkeypatch):
    with Room(held) as room:
        assert room.post("start", {})[0] == 200
        disk, told = Disk(monkeypatch), []
        threads = [threading.Thread(target=lambda at=at: told.append(save(room, 0, at))) for at in (1, 2, 3)]
        for at, one in enumerate(threads):
            one.start()
            if at == 0:
                assert disk.asked.acquire(timeout=10)
        journal = held.room / "answers" / f"{held.issued[0].paper_id}.jsonl"
        assert journal.read_text().count('"save"') == 1 and told == []  # the second is not even written before the first is synced
        disk.free.set()
        for one in threads:
            one.join(10)
        lines = [line for line in journal.read_text().splitlines() if '"save"' in line]
        confirmed = [said["saved"] for status, said in told if status == 200]
        assert len(told) == 3 and 1 in confirmed and len(lines) == len(confirmed)


def test_a_window_that_goes_away_before_the_sync_leaves_its_answer_and_the_room_in_order(held, monkeypatch, caplog):
    with Room(held) as room:
        assert room.post("start", {})[0] == 200
        disk = Disk(monkeypatch)
        sent = json.dumps({"slot": slot_of(held, 0), "revision": 1, "typed": "1 lbf", "confirmed": True}).encode()
        with socket.create_connection(("127.0.0.1", room.port)) as line:
            line.sendall(f"POST /sit/{room.token}/save HTTP/1.1\r\nHost: 127.0.0.1:{room.port}\r\n"
                         f"Content-Type: application/json\r\nContent-Length: {len(sent)}\r\n\r\n".encode() + sent)
            assert disk.asked.acquire(timeout=10)
        disk.free.set()
        assert save(room, 0, 2)[1]["saved"] == 2 and caplog.text == ""
        journal = held.room / "answers" / f"{held.issued[0].paper_id}.jsonl"
        assert journal.read_text().count('"save"') == 2
