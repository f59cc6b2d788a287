"""What a power cut takes from a journal is put back from the log of saves; what the disk refuses is confirmed to nobody."""

from __future__ import annotations

import errno
import json
import os

import pytest

from rigcalc.errors import Refusal
from rigcalc.room.sitting import Sitting, more_time
from rigcalc.room.together import LOG
from room.a_room import Room
from room.test_writers import save, slot_of


@pytest.fixture
def kept(held):
    """A room that was open: two candidates with five confirmed saves each, none of them synced in its journal."""
    with Room(held) as room:
        for number in (0, 1):
            assert room.post("start", {}, held.issued[number].token)[0] == 200
            for revision in range(1, 6):
                assert save(room, number, revision)[1]["saved"] == revision
    return held


def journal_of(held, number: int):
    return held.room / "answers" / f"{held.issued[number].paper_id}.jsonl"


def power_cut(path, rest: int) -> None:
    """Leave so many bytes of what was never synced: all after the line of the start."""
    data = path.read_bytes()
    start = data.index(b"\n") + 1
    path.write_bytes(data[:start + round(rest * (len(data) - start) / 100)])


@pytest.mark.parametrize("percent", [0, 1, 20, 37, 50, 99, 100])
def test_every_confirmed_answer_stands_after_a_power_cut(kept, percent):
    before = journal_of(kept, 0).read_bytes()
    power_cut(journal_of(kept, 0), percent)
    sitting = Sitting(kept.room, kept.issued[0].paper_id)
    assert sitting.latest[slot_of(kept, 0)]["typed"] == "5 lbf" and sitting.lines == 6
    sitting.close()
    assert journal_of(kept, 0).read_bytes() == before
    with Room(kept) as room:
        assert save(room, 0, 6)[1]["saved"] == 6
    assert journal_of(kept, 0).read_bytes().startswith(before)


def test_a_log_torn_by_the_cut_puts_back_its_whole_lines(kept):
    power_cut(journal_of(kept, 1), 0)
    log = kept.room / LOG
    log.write_bytes(log.read_bytes()[:-7])  # the last line, which nobody was told of then, is candidate 1's fifth
    sitting = Sitting(kept.room, kept.issued[1].paper_id)
    assert sitting.latest[slot_of(kept, 1)]["typed"] == "4 lbf"
    sitting.close()


def test_more_time_given_after_a_power_cut_comes_after_what_was_saved(kept):
    power_cut(journal_of(kept, 0), 0)
    more_time(kept.room, kept.issued[0].paper_id, 10, "Ines Varrow", "the power was cut")
    kinds = [json.loads(line)["kind"] for line in journal_of(kept, 0).read_text().splitlines()]
    assert kinds == ["start", *["save"] * 5, "more time"]


def test_a_room_opened_again_has_all_on_the_disk_before_it_empties_the_log(kept, monkeypatch):
    for number in (0, 1):
        power_cut(journal_of(kept, number), 30)
    log, fsync, seen = kept.room / LOG, os.fsync, []
    monkeypatch.setattr(os, "fsync", lambda handle: (seen.append((os.readlink(f"/proc/self/fd/{handle}"), log.stat().st_size)), fsync(handle)))
    with Room(kept):
        assert log.read_bytes() == b""
    synced = {name for name, size in seen if size}
    assert {str(journal_of(kept, number)) for number in (0, 1)} <= synced and (str(log), 0) in seen
    for number in (0, 1):
        assert journal_of(kept, number).read_text().count('"save"') == 5


def test_a_journal_that_somebody_cut_shorter_is_named_and_the_others_go_on(kept):
    whole = kept.room / LOG
    whole.write_bytes(b"".join(line for line in whole.read_bytes().splitlines(True)
                               if not (kept.issued[0].paper_id.encode() in line and b'"revision":1,' in line)))
    power_cut(journal_of(kept, 0), 0)
    with pytest.raises(Refusal, match="before an answer that saves.jsonl has"):
        Sitting(kept.room, kept.issued[0].paper_id)
    with Room(kept) as room:
        assert save(room, 1, 6)[1]["saved"] == 6
        status, said = room.post("state", {"window": "0" * 16}, kept.issued[0].token)
        assert status == 500 and "change nothing in the files" in said["said"]
        assert kept.issued[0].paper_id.encode() in whole.read_bytes()  # not emptied while it may be needed


@pytest.mark.parametrize("call", ["write", "fsync"])
def test_once_the_log_is_refused_saves_go_to_their_own_journal(kept, monkeypatch, call):
    real = getattr(os, call)

    def refused(handle, *values):
        if os.readlink(f"/proc/self/fd/{handle}").endswith(LOG):
            raise OSError(errno.EIO, "the disk is gone")
        return real(handle, *values)

    with Room(kept) as room:
        assert save(room, 0, 6)[0] == save(room, 1, 6)[0] == 200  # both sittings are at hand now
        monkeypatch.setattr(os, call, refused)
        assert save(room, 0, 7)[1]["saved"] == 7 and save(room, 1, 7)[1]["saved"] == 7
        monkeypatch.setattr(os, call, real)
        assert save(room, 0, 8)[1]["saved"] == 8
        assert (kept.room / LOG).read_bytes() == b""
    for number, last in ((0, 8), (1, 7)):
        revisions = [json.loads(line)["revision"] for line in journal_of(kept, number).read_text().splitlines() if '"save"' in line]
        assert revisions == list(range(1, last + 1))
