"""The notebooks on the shelf."""

from __future__ import annotations

import pytest

from rigcalc.errors import Refusal
from rigcalc.opening.shelf import assessors_sheets, beside, find_sheet, lessons, references, sheets

from .conftest import write_notebook


def test_only_what_exists_is_listed(shelf):
    assert [sheet.key for sheet in lessons(shelf)] == ["lessons/05_forming_an_eye.ipynb"]
    assert [sheet.key for sheet in sheets("quizzes", shelf)] == ["quizzes/practice_paper.ipynb"]
    assert sheets("desk", shelf) == ()


def test_a_lesson_is_known_by_its_first_heading_without_the_number(shelf):
    (lesson,) = lessons(shelf)
    assert (lesson.number, lesson.title, lesson.address) == ("05", "Forming an eye", "/lessons/05_forming_an_eye")


def test_headings_can_be_linked(shelf):
    (lesson,) = lessons(shelf)
    assert lesson.anchor("practice sheet") == "/lessons/05_forming_an_eye#Bench-practice-sheet"
    assert lesson.anchor("nowhere") is None


@pytest.mark.parametrize("word", ["05", "5", "05_forming_an_eye", "lessons/05_forming_an_eye.ipynb",
                                  "lessons\\05_forming_an_eye"])
def test_a_lesson_is_found_by_number_or_name(shelf, word):
    assert find_sheet(word, shelf).name == "05_forming_an_eye"


@pytest.mark.parametrize("word", ["", "6", "../desk", "lessons/../../desk", "eye"])
def test_any_other_word_is_refused_with_what_there_is(shelf, word):
    with pytest.raises(Refusal) as said:
        find_sheet(word, shelf)
    assert "05" in said.value.accepted and "practice_paper" in said.value.accepted


def test_a_notebook_without_a_heading_goes_by_its_file(tmp_path):
    write_notebook(tmp_path / "lessons" / "07_gauge_check.ipynb", "no heading")
    assert lessons(tmp_path)[0].title == "07 gauge check"


def test_a_notebook_without_a_number_is_no_lesson_but_something_to_look_up(shelf):
    write_notebook(shelf / "lessons" / "tables.ipynb", "# Tables")
    assert [sheet.number for sheet in lessons(shelf)] == ["05"]
    assert [sheet.title for sheet in references(shelf)] == ["Tables"]
    assert find_sheet("tables", shelf).address == "/lessons/tables"


SIDE = '# {name}\n\n<aside class="bench-list"><div><p>reading 25 min<br>drill 20 min<br>at the bench 70 min</p></div></aside>\n\n<a id="recap"></a>\n\n## One page'


@pytest.fixture
def row_of_three(shelf):
    for number, name in (("04", "Sleeve or clips"), ("06", "Lesson 06: Crimps")):
        write_notebook(shelf / "lessons" / f"{number}_x.ipynb", SIDE.format(name=name))
    return shelf


def test_a_lesson_knows_its_neighbours_of_those_that_exist(row_of_three):
    first, middle, last = lessons(row_of_three)
    assert beside(first) == (None, middle) and beside(middle) == (first, last) and beside(last) == (middle, None)
    assert beside(sheets("quizzes", row_of_three)[0]) == (None, None)


def test_the_number_stands_with_the_title_and_is_not_said_twice(row_of_three):
    assert [sheet.full_title for sheet in lessons(row_of_three)] == ["04 Sleeve or clips", "05 Forming an eye", "06 Crimps"]
    assert [sheet.numbered_heading for sheet in lessons(row_of_three)] == [False, True, True]


def test_minutes_come_from_the_list_at_the_side(row_of_three):
    first, middle, _ = lessons(row_of_three)
    assert first.minutes == (("reading", 25), ("drill", 20), ("at the bench", 70)) and middle.minutes == ()


def test_a_place_is_found_by_its_id_whatever_its_heading_says(row_of_three):
    assert lessons(row_of_three)[0].anchor("recap") == "/lessons/04_x#recap"


def test_the_assessors_notebook_is_for_the_editor_alone(shelf):
    write_notebook(shelf / "quizzes" / "marking.ipynb", "# Marking")
    assert [sheet.name for sheet in assessors_sheets(shelf)] == ["marking"]
    assert [sheet.name for sheet in sheets("quizzes", shelf)] == ["practice_paper"]
    for word in ("marking", "quizzes/marking", "quizzes/marking.ipynb"):
        assert find_sheet(word, shelf, assessor=True).key == "quizzes/marking.ipynb"
        with pytest.raises(Refusal) as said:
            find_sheet(word, shelf)
        assert "marking" not in said.value.accepted
