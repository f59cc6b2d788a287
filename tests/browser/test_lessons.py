"""Lessons in the quick suite: no serious finding of axe-core, and a live figure moved by keyboard. All of it: tests/lessons/sweep.py."""

from __future__ import annotations

import pytest
from lessons.hands import boards_of, drive
from lessons.sweep import axe_faults, wake
from many import many

from rigcalc.opening.shelf import find_sheet, lessons

TWO = list({sheet.key: sheet for sheet in (find_sheet("05"), lessons()[-1])}.values())


@pytest.mark.parametrize("sheet", TWO[:many(1, 2)], ids=lambda sheet: sheet.name)
def test_a_lesson_has_no_serious_finding_and_a_figure_answers_the_keyboard(sheet, workbook, page):
    wake(page, workbook.address, sheet)
    if sheet == TWO[0]:
        done = drive(boards_of(page)[0], parts=3)
        assert done.acts and done.faults == []
    assert axe_faults(page) == []
    page.evaluate("document.querySelector('main').insertAdjacentHTML('beforeend', '<p id=\"planted\"><img src=\"data:,\"></p>')")
    assert len(axe_faults(page, [["#planted"]])) == 1, "a picture without words is found"
