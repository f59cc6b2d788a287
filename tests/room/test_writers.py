"""Saves wait for the disk apart from one another, in order on each sitting, and nobody is told before the disk has it."""

from __future__ import annotations

import json
import os
import socket
import threading

from papers import a_class
from room.a_room import Room


def slot_of(held, number: int) -> int:
    return next(question["slot"] for question in a_class.paper_of(held, number)["questions"] if question["kind"] == "number")


class Disk:
    """A disk that takes nothing of one journal while it is held."""

    def __init__(self, monkeypatch, paper_id: str) -> None:
        self.free, self.asked, self.synced, sync = threading.Event(), threading.Semaphore(0), [], os.fsync

        def fsync(handle: int) -> None:
            name = os.readlink(f"/proc/self/fd/{handle}")
            if name.endswith(f"{paper_id}.jsonl"):
                self.asked.release()
                assert self.free.wait(20)
            sync(handle)
            self.synced.append(name)

        monkeypatch.setattr(os, "fsync", fsync)


def save(room, number: int, revision: int) -> tuple[int, dict]:
    return room.post("save", {"slot": slot_of(room.held, number), "revision": revision, "typed": f"{revision} lbf", "confirmed": True},
                     room.held.issued[number].token)


def test_a_slow_disk_keeps_only_its_own_candidate_waiting(held, monkeypatch):
    with Room(held) as room:
        for issued in held.issued:
            assert room.post("start", {}, issued.token)[0] == 200
        disk, told = Disk(monkeypatch, held.issued[0].paper_id), []
        waiting = threading.Thread(target=lambda: told.append(save(room, 0, 1)))
        waiting.start()
        assert disk.asked.acquire(timeout=10)
        assert save(room, 1, 1)[1]["saved"] == 1 and told == []
        disk.free.set()
        waiting.join(10)
        assert told[0][0] == 200 and told[0][1]["saved"] == 1


def test_saves_of_one_sitting_stay_in_order_and_none_is_told_before_its_sync(held, monkeypatch):
    with Room(held) as room:
        assert room.post("start", {})[0] == 200
        disk, told = Disk(monkeypatch, held.issued[0].paper_id), []
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
        disk = Disk(monkeypatch, held.issued[0].paper_id)
        sent = json.dumps({"slot": slot_of(held, 0), "revision": 1, "typed": "1 lbf", "confirmed": True}).encode()
        with socket.create_connection(("127.0.0.1", room.port)) as line:
            line.sendall(f"POST /sit/{room.token}/save HTTP/1.1\r\nHost: 127.0.0.1:{room.port}\r\n"
                         f"Content-Type: application/json\r\nContent-Length: {len(sent)}\r\n\r\n".encode() + sent)
            assert disk.asked.acquire(timeout=10)
        disk.free.set()
        assert save(room, 0, 2)[1]["saved"] == 2 and caplog.text == ""
        journal = held.room / "answers" / f"{held.issued[0].paper_id}.jsonl"
        assert journal.read_text().count('"save"') == 2
