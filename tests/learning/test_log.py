"""The log: only grows, survives a crash in the middle of a line, and keeps what another version wrote."""

from __future__ import annotations

import json
import os
import threading

import pytest

from learning.conftest import SKILL, answer, day
from rigcalc.learning.log import FORM, append, bench_line, lines_of, moment
from rigcalc.learning.names import welcome
from rigcalc.learning.standing import answers_by_skill, standings
from rigcalc.skills import load_skills


def test_every_line_carries_its_form_and_all_that_an_answer_is_made_of(home):
    path = welcome("Tomo Kessig").path
    append(path, answer(1, False, turn=2, hint=True, missteps=["row-above"], said="Not right. That is the row above."))
    append(path, bench_line("T7", day(2)))
    named, marked, bench = (json.loads(text) for text in path.read_text(encoding="utf-8").splitlines())
    assert named.keys() == {"form", "at", "name"} and bench == {"form": FORM, "at": "2031-03-05T08:00:00+00:00", "bench": "T7"}
    assert marked == {"form": FORM, "at": "2031-03-04T08:00:00+00:00", "family": SKILL.families[0], "skill": SKILL.id, "values": "v1",
                      "right": False, "try": 2, "hint": True, "working": False, "missteps": ["row-above"],
                      "said": "Not right. That is the row above."}
    assert lines_of(path)[1] == answer(1, False, turn=2, hint=True, missteps=["row-above"], said="Not right. That is the row above.")
    assert moment(lines_of(path)[1]) == day(1)


def test_a_torn_last_line_is_passed_over_and_cut_at_the_next_writing(home):
    path = welcome("Tomo Kessig").path
    append(path, answer(1))
    whole = path.read_bytes()
    path.write_bytes(whole + b'{"form":1,"at":"2031-')
    assert len(lines_of(path)) == 2
    append(path, answer(2))
    assert path.read_bytes().startswith(whole) and lines_of(path)[1:] == [answer(1), answer(2)]


def test_what_another_version_wrote_is_kept_and_passed_over(home):
    path = welcome("Tomo Kessig").path
    strange = (b'{"form":9,"at":"2031-03-03T08:00:00+00:00","family":"f","skill":"gone","right":true,"try":1,"new":[1]}\n'
               b'{"form":9,"at":5}\nnot json\n\xff\xfe\n[]\n{"right":true,"skill":"reads-the-count"}\n')
    with path.open("ab") as out:
        out.write(strange)
    append(path, answer(1))
    assert strange in path.read_bytes()
    assert answers_by_skill(lines_of(path), load_skills()) == {SKILL.id: [answer(1)]}
    assert "gone" not in standings(lines_of(path), load_skills(), day(2))


def test_a_line_is_on_the_disk_before_anything_is_said(home, monkeypatch):
    path, synced, sync = welcome("Tomo Kessig").path, [], os.fsync

    def fsync(handle: int) -> None:
        sync(handle)
        synced.append(path.read_bytes())

    monkeypatch.setattr(os, "fsync", fsync)
    append(path, answer(1))
    assert synced and synced[-1] == path.read_bytes() and b'"v1"' in synced[-1]


def test_a_disk_that_fails_leaves_the_file_as_it_was(home, monkeypatch):
    path = welcome("Tomo Kessig").path
    before, sync = path.read_bytes(), os.fsync
    monkeypatch.setattr(os, "fsync", lambda handle: (_ for _ in ()).throw(OSError(28, "No space left on device")))
    with pytest.raises(OSError, match="No space"):
        append(path, answer(1))
    monkeypatch.setattr(os, "fsync", sync)
    assert path.read_bytes() == before


def test_two_pages_of_one_name_write_whole_lines(home):
    path = welcome("Tomo Kessig").path
    pages = [threading.Thread(target=lambda n=n: [append(path, answer(n * 10 + m)) for m in range(8)]) for n in range(3)]
    for one in pages:
        one.start()
    for one in pages:
        one.join()
    assert sorted(line.values for line in lines_of(path)[1:]) == sorted(f"v{n * 10 + m}" for n in range(3) for m in range(8))
