"""The invented class: made through the desk's acts, in a folder of its own, with the same entries as the pages make."""

import json
import shutil
import time
from dataclasses import replace

import pytest

from desk.served import through_the_pages
from rigcalc.cli import main
from rigcalc.demonstration.making import MARKER, make
from rigcalc.desk import work
from rigcalc.errors import Refusal
from rigcalc.register.certificate import check_certificate
from rigcalc.register.store import KINDS


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    told, began = [], time.monotonic()
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr("os.fsync", lambda handle: None)  # a class to be thrown away: don't wait for the disk
        outcome = make(tmp_path_factory.mktemp("demonstration") / "class", told.append)
    return outcome, told, time.monotonic() - began


def fields(body: dict) -> dict:
    """The names in an entry, inside its parts too; what may be absent (None) counts as present."""
    return {name: fields(value) if isinstance(value, dict) else None for name, value in body.items()}


def agree(one, other) -> bool:
    """Two field trees agree; a part that is None in one of them (nothing typed in, say) is not compared inside."""
    if one is None or other is None:
        return True
    return one.keys() == other.keys() and all(agree(one[name], other[name]) for name in one)


def test_twelve_people_come_out_as_written(made):
    outcome, told, seconds = made
    assert outcome.competent == ["Tomo Kessig", "Yara Quent", "Lio Harbend", "Gwil Santer", "Hana Obrey", "Ama Tollivar"]
    why = outcome.not_yet
    assert "critical point failed" in why["Dela Orrin"] and "Tail" in why["Dela Orrin"]
    assert "must-be-right" in why["Nessa Torvick"] and "is not passed" in why["Abdel Purrow"]
    assert "not been handed in and marked" in why["Mirko Eddage"] and "sealed set was passed" in why["Petro Lusk"]
    assert "was not seen" in why["Joss Renwith"]
    assert outcome.marked == 11 and len(outcome.problems) == 1 and "cut off" in outcome.problems[0]["what"]
    assert len(told) > 15 and seconds < 60


def test_the_register_is_whole_and_every_kind_is_in_it(made):
    desk = work.open_desk(made[0].home)
    assert desk.register.check() == []
    entries = desk.register.entries()
    assert {entry.kind for entry in entries} == set(KINDS) - {"shop file told"}  # the demonstration's shop file never changes
    assert all(entry.body["invented"] for entry in entries)


def test_every_certificate_is_a_demonstration(made):
    desk = work.open_desk(made[0].home)
    assert len(made[0].certificates) == 6
    for number in made[0].certificates:
        found = check_certificate(work.certificate(desk, number)[1])
        assert found.standing == "DEMONSTRATION" and not found.genuine and found.fingerprint.startswith("de")
        entry = desk.register.entries()[found.statement.register.entry - 1]
        assert entry.kind == "decision" and entry.hash == found.statement.register.hash


def test_the_pages_make_entries_of_the_same_kinds_and_fields(made, tmp_path, monkeypatch):
    monkeypatch.setattr("os.fsync", lambda handle: None)
    pages = work.open_desk(tmp_path / "home")
    through_the_pages(tmp_path / "home", pages)
    ours = work.open_desk(made[0].home)
    assert {entry.kind for entry in pages.register.entries()} == {entry.kind for entry in ours.register.entries()}
    for kind in KINDS:
        models = [fields(entry.body) for entry in pages.register.entries(kind)]
        for entry in ours.register.entries(kind):
            assert all(agree(model, fields(entry.body)) for model in models), (kind, entry.number)


def test_a_second_run_adds_a_class_and_a_foreign_folder_is_left_alone(made, tmp_path):
    for name, content in (("other", {"letter.txt": "mine"}), ("a file", None)):
        path = tmp_path / name
        if content is None:
            path.write_text("mine")
        else:
            path.mkdir()
            for file, text in content.items():
                (path / file).write_text(text)
        with pytest.raises(Refusal, match="name another folder"):
            make(path)
    assert (tmp_path / "other" / "letter.txt").read_text() == "mine" and not (tmp_path / "other" / MARKER).exists()


def test_a_desk_that_is_no_demonstration_is_refused_and_not_touched(tmp_path):
    desk = work.open_desk(tmp_path / "home")
    work.set_class(desk, "mine", "Tomo Kessig", "Ines Varrow")
    before = desk.register.path.read_bytes()
    with pytest.raises(Refusal, match="a desk of its own"):
        make(tmp_path / "home")
    assert desk.register.path.read_bytes() == before


def test_genuine_entries_are_refused_even_with_the_marker(tmp_path):
    desk = work.open_desk(tmp_path / "home")
    desk.register.append("class set", {"invented": False, "class": "real", "name": "real"})
    (tmp_path / "home" / MARKER).write_text("x")
    with pytest.raises(Refusal, match="genuine entries"):
        make(tmp_path / "home")
    assert len(desk.register.entries()) == 1


def test_the_command_says_where_to_look(made, capsys, tmp_path, monkeypatch):
    def again(home, tell):
        """The class that was made above, in the folder that the command names."""
        shutil.copytree(made[0].home, home)
        return replace(made[0], home=home)

    monkeypatch.setattr("rigcalc.demonstration.commands.make", again)
    monkeypatch.setenv("RIGCALC_HOME", str(tmp_path / "home"))
    monkeypatch.setattr("os.fsync", lambda handle: None)
    assert main(["demonstration"]) == 0
    told = capsys.readouterr().out
    folder = tmp_path / "home" / "demonstration"
    assert told.startswith("INVENTED") and str(folder) in told and "Where to look" in told
    certificate, key = folder / "to-look-at" / "certificate.json", folder / "to-look-at" / "issuer-key.json"
    assert main(["certificate", str(certificate), "--key", str(key)]) == 3
    assert main(["register", "--folder", str(folder)]) == 0
    assert json.loads(key.read_text())["standing"] == "DEMONSTRATION"
    assert not (tmp_path / "home" / "desk").exists()
