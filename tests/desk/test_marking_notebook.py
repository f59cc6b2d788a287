"""The assessor's marking notebook: the invented class, and a class of one's own at the button."""

from __future__ import annotations

from copy import copy

import pytest

from rigcalc.desk import work
from rigcalc.desk.marking_notebook import NO_CLASS, InventedMarking, OwnClass, classes_here

from .bench_of_two import set_up, sit


@pytest.fixture
def own(desk, monkeypatch):
    """A desk as the notebook finds it, with a class of two of whom one has handed in, and the button."""
    monkeypatch.setenv("RIGCALC_HOME", str(desk.home))
    class_id = set_up(desk)
    sit(desk, class_id, "c01")
    (desk.room / "returned" / "holiday.json").write_text("{")
    made = OwnClass()
    made.choice.value, made.by.value = class_id, "Osk Tamberlin"
    return desk, class_id, made


@pytest.fixture(scope="module")
def invented():
    return InventedMarking()


def test_the_invented_class_names_each_bad_file_marks_the_rest_and_is_the_same_again(invented):
    shown = invented
    bad = str(shown.not_marked())
    assert "p-fromanotherdesk.json | not on this class's list | there is no key record" in bad
    assert "Mirko Eddage | the file is cut off" in bad and "Gwil Santer | not handed in yet." in bad and bad.count("\n") == 4
    assert str(shown.progress()).splitlines()[-1].startswith("12 of 12: ")
    assert len(shown.run.results) == 10 and "Nessa Torvick | 92 of 100 | not passed | Must be right" in str(shown.results())
    assert shown.first == shown.second and len(shown.first[0]) == 10 and "Nothing was changed" in str(shown.again())
    assert InventedMarking().first == shown.first, "it is the same class every time"


def test_a_changed_second_run_would_be_said(invented):
    shown = copy(invented)
    name = next(iter(shown.second[0]))
    shown.second = ({**shown.second[0], name: b"other"}, shown.second[1])
    assert "The second run CHANGED something." in str(shown.again()) and "in every byte as after the first | 9" in str(shown.again())


def test_without_a_desk_there_is_no_class_and_no_folder_is_made(tmp_path, monkeypatch):
    monkeypatch.setenv("RIGCALC_HOME", str(tmp_path))
    made = OwnClass()
    assert str(classes_here()) == NO_CLASS and NO_CLASS in made.told.value and made.button.disabled
    assert list(tmp_path.iterdir()) == []


def test_a_class_of_ones_own_is_marked_at_the_button_and_entered_once(own):
    desk, class_id, made = own
    name = work.class_of(desk, class_id)["name"]
    assert f"{name} | 2 | 1 | 0" in str(classes_here())
    for told in ("newly entered in the register: 1, entered before: 0.", "newly entered in the register: 0, entered before: 1."):
        made.button.click()
        assert f"Papers marked: 1; of them {told} Files that could not be marked: 1." in made.told.value and "not handed in yet" in made.told.value
        assert "holiday.json" in made.told.value and (made.bar.value, made.bar.max) == (2, 2)
    assert [entry.body["marked_by"] for entry in desk.entries("answers marked")] == ["Osk Tamberlin"]
    assert f"{name} | 2 | 1 | 1" in str(classes_here()) and not made.button.disabled


@pytest.mark.parametrize("part, typed, told", [("by", " ", "person marking"), ("choice", "", "a class of the list")])
def test_what_is_missing_is_said_and_nothing_is_entered(own, part, typed, told):
    desk, _, made = own
    getattr(made, part).value = typed
    made.button.click()
    assert told in made.told.value and "Refused" in made.told.value
    assert not desk.entries("answers marked") and not made.button.disabled


def test_names_are_shown_as_text(own):
    desk, _, made = own
    (desk.room / "returned" / "<b>x.json").write_text("{")
    made.button.click()
    assert "<b>x" not in made.told.value and "&lt;b&gt;x.json" in made.told.value
