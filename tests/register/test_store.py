"""The register: whole when left alone, found out when touched, safe when killed or used by two at once."""

import json
import os
import signal
import sqlite3
import stat
import subprocess
import sys
import time
from contextlib import closing

import pytest

from rigcalc.errors import Refusal
from rigcalc.register.keys import PublicKey, Signer, kept_key
from rigcalc.register.store import Register, entry_hash


def test_an_untouched_register_is_whole_and_reads_back(register):
    assert register.check() == []
    assert [entry.number for entry in register.entries()] == [1, 2, 3, 4, 5]
    assert register.entries()[2].body == {"paper": "P3", "n": 3}


def test_entries_are_those_of_the_file_whoever_changed_it(register, edit):
    other = Register(register.path, register.signer)
    assert len(register.entries()) == len(other.entries()) == 5
    assert other.append("decision", {"n": 6}) == register.entries()[-1]
    was = os.stat(register.path)
    edit(("UPDATE entries SET body=? WHERE number=3", ('{"n":9,"paper":"P3"}',)))
    os.utime(register.path, ns=(was.st_atime_ns, was.st_mtime_ns))  # the same time and size
    assert os.stat(register.path).st_size == was.st_size and register.entries()[2].body["n"] == 9
    register.entries()[2].body["n"] = 1
    assert other.entries()[2].body["n"] == 9
    register.path.unlink()
    assert register.entries() == []


def test_a_register_opened_with_the_public_key_checks_and_refuses_to_add(register):
    reader = Register(register.path, PublicKey("register", register.signer.key))
    assert reader.check() == []
    with pytest.raises(Refusal, match="opened for reading"):
        reader.append("decision", {})


@pytest.mark.parametrize("statement", ["UPDATE entries SET body='{}' WHERE number=2", "DELETE FROM entries WHERE number=2"])
def test_the_database_itself_refuses_to_change_or_delete(register, statement):
    with closing(sqlite3.connect(register.path)) as raw, pytest.raises(sqlite3.IntegrityError, match="append-only"):
        raw.execute(statement)


@pytest.mark.parametrize("column, value", [("body", '{"n":9,"paper":"P3"}'), ("at", "2020-01-01T00:00:00Z"),
                                           ("kind", "decision"), ("previous", "0" * 64)])
def test_a_changed_entry_is_named(register, edit, column, value):
    edit((f"UPDATE entries SET {column}=? WHERE number=3", (value,)))
    said = register.check()
    assert len(said) == 1 and said[0].startswith("Entry 3 ") and "was changed after it was signed" in said[0]


def test_a_changed_entry_with_its_hash_worked_out_anew_is_named(register, edit):
    entry = register.entries()[2]
    body = '{"n":9,"paper":"P3"}'
    edit(("UPDATE entries SET body=?, hash=? WHERE number=3",
          (body, entry_hash(3, entry.at, entry.kind, body, entry.previous))))
    said = register.check()
    assert "Entry 3 " in said[0] and "not signed by this register's key" in said[0]
    assert any("Entry 4 " in sentence and "does not follow" in sentence for sentence in said)


def test_an_entry_removed_in_the_middle_is_named(register, edit):
    edit("DELETE FROM entries WHERE number=3")
    assert register.check() == ["Entry 3 is missing: it was removed."]


def test_an_entry_removed_at_the_start_is_named(register, edit):
    edit("DELETE FROM entries WHERE number=1")
    assert register.check() == ["Entry 1 is missing: it was removed."]


def test_entries_removed_at_the_end_are_named_and_nothing_is_added_over_the_gap(register, edit):
    edit("DELETE FROM entries WHERE number>3")
    said = register.check()
    assert [sentence[:18] for sentence in said] == ["Entry 4 is missing", "Entry 5 is missing"]
    assert all("removed at the end" in sentence for sentence in said)
    with pytest.raises(Refusal, match="does not end where its kept head says"):
        register.append("decision", {"n": 1})


def test_removed_and_closed_up_is_found(register, edit):
    edit("DELETE FROM entries WHERE number=3", "UPDATE entries SET number=number-1 WHERE number>3")
    said = " ".join(register.check())
    assert "Entry 3 " in said and "was signed as entry 4" in said and "Entry 5 is missing" in said


def test_a_forged_entry_at_the_end_is_named(register, edit):
    last = register.entries()[-1]
    forged = entry_hash(6, last.at, "decision", "{}", last.hash)
    signature = Signer.make("register").sign("register entry", forged.encode())
    edit(("INSERT INTO entries VALUES (6,?,'decision','{}',?,?,?)", (last.at, last.hash, forged, signature)))
    said = register.check()
    assert len(said) == 1 and said[0].startswith("Entry 6 ") and "it was inserted" in said[0]


def test_a_forged_entry_in_the_middle_is_named(register, edit):
    second = register.entries()[1]
    forged = entry_hash(3, second.at, "decision", "{}", second.hash)
    edit("UPDATE entries SET number=-number WHERE number>=3", "UPDATE entries SET number=1-number WHERE number<0",
         ("INSERT INTO entries VALUES (3,?,'decision','{}',?,?,?)", (second.at, second.hash, forged, "0" * 128)))
    said = register.check()
    assert any(s.startswith("Entry 3 ") and "it was inserted" in s for s in said)
    assert any(s.startswith("Entry 4 ") and "was signed as entry 3" in s for s in said)


def test_reordered_entries_are_named(register, edit):
    edit("UPDATE entries SET number=-2 WHERE number=2", "UPDATE entries SET number=2 WHERE number=4",
         "UPDATE entries SET number=4 WHERE number=-2")
    said = " ".join(register.check())
    assert "Entry 2 " in said and "was signed as entry 4" in said and "was signed as entry 2" in said
    assert "another order" in said


def test_guards_taken_off_are_noticed_and_not_put_back_quietly(register):
    with closing(sqlite3.connect(register.path)) as raw:
        raw.execute("DROP TRIGGER no_delete")
    register.append("decision", {"n": 6})
    assert any("guards" in sentence for sentence in register.check())


def test_a_head_set_back_by_hand_a_head_lost_and_a_register_lost_are_noticed(register, tmp_path):
    head = json.loads(register.head_path.read_text())
    whole = register.head_path.read_bytes()
    register.head_path.write_text(json.dumps(head | {"count": 3, "hash": register.entries()[2].hash}))
    assert any("changed or damaged" in sentence for sentence in register.check())
    register.head_path.unlink()
    assert any("is missing: whether entries were removed" in sentence for sentence in register.check())
    with pytest.raises(Refusal):
        register.append("decision", {})
    register.head_path.write_bytes(whole)
    register.path.unlink()
    assert len(register.check()) == 5
    with pytest.raises(Refusal):
        register.append("decision", {})


def test_an_unknown_kind_and_a_float_are_refused(register):
    with pytest.raises(Refusal, match="entry kind 'gossip'"):
        register.append("gossip", {})
    with pytest.raises(Refusal, match="as text with its unit"):
        register.append("decision", {"load": 1.5})


@pytest.mark.skipif(os.name != "posix", reason="file modes are a POSIX matter")
def test_register_and_keys_are_private(register, tmp_path):
    for path in (register.path, register.head_path, tmp_path / "signing" / "register.pem"):
        assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert stat.S_IMODE((tmp_path / "signing").stat().st_mode) == 0o700


ADDING = """
import sys
from pathlib import Path
from rigcalc.register.keys import kept_key
from rigcalc.register.store import Register
folder = Path(sys.argv[1])
register = Register(folder / "register.sqlite", kept_key(folder / "signing", "register"))
for n in range(int(sys.argv[2])):
    print(register.append("decision", {"who": sys.argv[3], "n": n}).number, flush=True)
"""


def adding(folder, count, who):
    return subprocess.Popen([sys.executable, "-c", ADDING, str(folder), str(count), who], stdout=subprocess.PIPE,
                            text=True)


def test_two_processes_adding_at_once_leave_one_whole_chain(tmp_path):
    both = [adding(tmp_path, 25, who) for who in ("a", "b")]
    for process in both:
        process.communicate(timeout=60)
        assert process.returncode == 0
    register = Register(tmp_path / "register.sqlite", kept_key(tmp_path / "signing", "register"))
    assert register.check() == []
    told = [(entry.body["who"], entry.body["n"]) for entry in register.entries()]
    assert len(told) == 50 and sorted(told) == sorted((who, n) for who in "ab" for n in range(25))
    assert json.loads(register.head_path.read_text())["count"] == 50


@pytest.mark.parametrize("seconds", [0.0, 0.004, 0.011, 0.023, 0.05])
def test_a_process_killed_while_adding_leaves_the_register_whole(tmp_path, seconds):
    process = adding(tmp_path, 100000, "a")
    first = process.stdout.readline()
    time.sleep(seconds)
    process.send_signal(signal.SIGKILL)
    rest = [int(line) for line in process.communicate()[0].split()]
    told = max([int(first)] + rest)
    register = Register(tmp_path / "register.sqlite", kept_key(tmp_path / "signing", "register"))
    assert register.check() == []
    assert len(register.entries()) >= told, "an entry that was said to be added is lost"
    register.append("decision", {"n": -1})
    assert register.check() == []


def test_a_kill_between_the_entry_and_its_head_leaves_the_register_whole(tmp_path, monkeypatch):
    register = Register(tmp_path / "register.sqlite", kept_key(tmp_path / "signing", "register"))
    monkeypatch.setattr(register, "_keep_head", lambda: None)
    register.append("decision", {"n": 1})
    register.append("decision", {"n": 2})
    assert register.check() == []
    monkeypatch.undo()
    register.append("decision", {"n": 3})
    assert register.check() == []
