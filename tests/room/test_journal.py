from __future__ import annotations

import errno
import os

import pytest

from rigcalc.errors import Refusal
from rigcalc.room.journal import Journal


def test_entries_come_back_in_order_after_reopening(tmp_path):
    journal = Journal(tmp_path / "a.jsonl")
    for number in range(5):
        journal.append({"n": number, "text": "é\n<b>"})
    journal.close()
    assert [entry["n"] for entry in Journal(tmp_path / "a.jsonl").entries()] == list(range(5))


@pytest.mark.parametrize("torn", [b'{"n": 9', b'{"n": 9}', b"\xff\xfe", b"{"])
def test_a_torn_last_line_is_cut_and_the_next_one_is_whole(tmp_path, torn):
    path = tmp_path / "a.jsonl"
    Journal(path).append({"n": 1})
    with path.open("ab") as file:
        file.write(torn)
    journal = Journal(path)
    assert path.read_bytes() == b'{"n":1}\n'
    journal.append({"n": 2})
    assert journal.entries() == [{"n": 1}, {"n": 2}]


def test_a_changed_line_inside_is_named_and_nothing_is_guessed(tmp_path):
    path = tmp_path / "a.jsonl"
    path.write_bytes(b'{"n":1}\nrubbish\n{"n":3}\n')
    with pytest.raises(Refusal, match="a.jsonl, line 2"):
        Journal(path).entries()


def test_every_append_is_synced_and_so_is_the_folder_of_a_new_file(tmp_path, monkeypatch):
    synced, fsync = [], os.fsync
    monkeypatch.setattr(os, "fsync", lambda handle: (synced.append(os.readlink(f"/proc/self/fd/{handle}")), fsync(handle)))
    journal = Journal(tmp_path / "a.jsonl")
    assert synced == [str(tmp_path / "a.jsonl"), str(tmp_path)]
    journal.append({"n": 1})
    assert synced[2:] == [str(tmp_path / "a.jsonl")]


def test_a_full_disk_is_said_and_leaves_no_half_line(tmp_path, monkeypatch):
    journal = Journal(tmp_path / "a.jsonl")
    journal.append({"n": 1})
    write = os.write

    def half(handle, data):
        write(handle, data[:3])
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "write", half)
    with pytest.raises(OSError):
        journal.append({"n": 2})
    monkeypatch.setattr(os, "write", write)
    journal.append({"n": 3})
    assert journal.entries() == [{"n": 1}, {"n": 3}]


def test_a_journal_is_private(tmp_path):
    Journal(tmp_path / "a.jsonl")
    assert (tmp_path / "a.jsonl").stat().st_mode & 0o777 == 0o600
