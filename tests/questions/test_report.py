"""The report on families, the page of calculations, and the cells of the reference notebook."""

from __future__ import annotations

import json
import shutil

import msgspec
import pytest
from a_family import families, pairs, shop

from rigcalc.notebook.cover import cell, cover
from rigcalc.questions import families_folder
from rigcalc.questions.readme import calculations_table, write
from rigcalc.questions.registry import CALCULATIONS
from rigcalc.questions.report import Look, answer_of, drawn_pairs, look, main, reminders, shown
from rigcalc.questions.simulated import Told


def test_a_report_counts_texts_and_answers_and_gives_the_trades_reason(tmp_path, capsys):
    shutil.copy(families_folder() / "order-of-crimps.toml", tmp_path)
    shutil.copy(families_folder() / "cut-length.toml", tmp_path)
    assert main(["--folder", str(tmp_path), "--draws", "40"]) == 0
    said = capsys.readouterr().out
    assert "cut-length" in said and "order-of-crimps" in said and "CANNOT" not in said


def test_a_family_that_cannot_be_drawn_is_said_and_the_rest_goes_on(tmp_path, capsys):
    text = (families_folder() / "cut-length.toml").read_text(encoding="utf-8")
    (tmp_path / "a.toml").write_text(text.replace('id = "cut-length"', 'id = "never"').replace('metal = "stainless"', 'metal = "tin"')
                                     .replace('metal = "galvanised"', 'metal = "tin"'), encoding="utf-8")
    shutil.copy(families_folder() / "why-the-tail.toml", tmp_path)
    assert main(["--folder", str(tmp_path), "--draws", "40"]) == 1
    said = capsys.readouterr().out
    assert "CANNOT BE DRAWN: Refused" in said and "why-the-tail" in said


@pytest.mark.parametrize(("old", "new", "told"), [
    ("form = 1", "form = = 1", "a value that is no text, number, date or list ('form = = 1')"), ('id = "cut-length"', 'id = "why-the-tail"', "which the installed why-the-tail.toml has too"),
    ("level = ", "level = true #", "true or false was given")])
def test_a_broken_family_is_one_sentence_and_no_traceback(tmp_path, capsys, old, new, told):
    text = (families_folder() / "cut-length.toml").read_text(encoding="utf-8")
    assert old in text
    (tmp_path / "mine.toml").write_text(text.replace('id = "cut-length"', 'id = "mine"' if old != 'id = "cut-length"' else new)
                                        .replace(old, new, 1), encoding="utf-8")
    assert main(["--folder", str(tmp_path), "--draws", "5"]) == 2
    said = capsys.readouterr()
    assert said.out == "" and said.err.count("\n") == 1 and said.err.startswith("Refused: mine.toml, line ") and told in said.err


def test_one_broken_family_of_a_folder_is_named_and_the_rest_goes_on(tmp_path, capsys):
    for name in ("cut-length", "why-the-tail"):
        shutil.copy(families_folder() / f"{name}.toml", tmp_path)
    (tmp_path / "broken.toml").write_text("form = ", encoding="utf-8")
    assert main(["--folder", str(tmp_path), "--draws", "40"]) == 2
    said = capsys.readouterr()
    assert "cut-length" in said.out and "why-the-tail" in said.out and said.err.count("\n") == 1 and said.err.startswith("Refused: broken.toml, line 1")


def test_a_folder_that_is_not_there_or_empty_and_an_unknown_family_are_said(tmp_path, capsys):
    assert main(["--folder", str(tmp_path / "no")]) == 2 and main(["--folder", str(tmp_path)]) == 2
    assert "in which no .toml file lies" in capsys.readouterr().err
    assert main(["no-such-family", "--draws", "5"]) == 1 and "the family 'no-such-family'" in capsys.readouterr().out


def _look(**changed) -> Look:
    made = Look(families()["cut-length"], 200, 200, 90, [], Told(100, 99, 1), Told(100, 3, 1))
    return Look(**{**made.__dict__, **changed})


def test_what_is_wrong_is_said_in_a_sentence_each():
    bare = msgspec.structs.replace(families()["cut-length"], few_texts=None)
    told = msgspec.structs.replace(bare, few_texts="only so many sleeve sizes")
    assert reminders(_look()) == []
    assert "NO REASON" in reminders(_look(family=bare, texts=12))[0]
    assert "only so many sleeve sizes" in reminders(_look(family=told, texts=12))[0]
    assert "'longest' brings 0.90" in reminders(_look(giveaways=[("longest", 0.9, 0.25)]))[0]
    assert "0.50 of missteps" in reminders(_look(told=Told(10, 5, 1)))[0]
    assert "0.20 of wrong guesses" in reminders(_look(guessed=Told(10, 2, 1)))[0]
    assert "same answer" in reminders(_look(answers=1))[0]


def test_a_look_agrees_with_counting_by_hand():
    found = look(families()["why-the-tail"], shop(), 40)
    made = drawn_pairs(families()["why-the-tail"], shop(), 40)
    assert found.texts == len({shown(question) for question, _ in made}) and found.told.share >= 0.95
    assert found.answers == len({key["right"]["shown"] for _, key in made})


def test_shuffled_options_are_the_same_question_and_the_same_answer():
    question, key = pairs("which-pass-the-gauge")[0]
    turned = {**question, "options": question["options"][::-1]}
    assert shown(turned) == shown(question) and answer_of(turned, key) == answer_of(question, key)
    other = {**question, "options": question["options"][1:]}
    assert shown(other) != shown(question)


def test_the_page_of_calculations_is_written_once_and_stays(tmp_path):
    page = tmp_path / "README.md"
    shutil.copy(families_folder() / "README.md", page)
    first = write(page).read_text(encoding="utf-8")
    assert write(page).read_text(encoding="utf-8") == first and first.endswith(calculations_table())
    assert all(f"| `{name}` |" in first for name in CALCULATIONS)


def test_every_calculation_says_what_it_gives():
    silent = [name for name, function in CALCULATIONS.items() if not (function.__doc__ or "").strip()]
    assert not silent


def test_the_reference_notebook_gets_a_cell_for_each_family(tmp_path):
    path = tmp_path / "some.ipynb"
    others = [{"cell_type": "markdown", "id": "top", "metadata": {}, "source": []}, cell("a-family-that-went"),
              {"cell_type": "markdown", "id": "end", "metadata": {}, "source": []}]
    path.write_text(json.dumps({"cells": others, "metadata": {}, "nbformat": 4, "nbformat_minor": 5}), encoding="utf-8")
    assert cover(path) and not cover(path)
    names = [one["id"] for one in json.loads(path.read_text(encoding="utf-8"))["cells"]]
    inside = names[1:-1]
    assert (names[0], names[-1]) == ("top", "end") and len(set(names)) == len(names)
    assert {name for name in inside if name.startswith("family-")} == {cell(name)["id"] for name in families()}
    lesson = ""
    for name in inside:  # every family stands in the chapter of the lesson that it points to
        lesson = name[-2:] if name.startswith("chapter-") else lesson
        family = families().get(name.removeprefix("family-"))
        assert family is None or family.section.startswith(lesson) and lesson
