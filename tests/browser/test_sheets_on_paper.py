"""Practice sheets stay on one page of Letter in the shop that fills them most (`tests/lessons/sweep.py` prints them for every shop and paper); the day's table is cut between rows."""

from __future__ import annotations

import pytest
from lessons.sheets import SHOPS, longer_than_a_page, printed, sheets_of
from rigcalc.notebook.trainer_day import day, day_of

pytestmark = pytest.mark.paper
FULLEST = "own in US units"  # both units in each line, and a gauge out of date at the head


def test_each_practice_sheet_is_one_page_of_letter(visit, tmp_path):
    found = {name: html for name, html in sheets_of(SHOPS[FULLEST](), tmp_path).items() if name.endswith("practice_sheet 1")}
    assert len(found) == 13 and longer_than_a_page(visit(), found, "Letter") == []


def test_a_sheet_that_is_too_long_is_found(visit):
    long = "<section class='one-page practice'><h3>Long</h3>" + "<p>One more line.</p>" * 80 + "</section>"
    assert longer_than_a_page(visit(), {"short": "<section class='one-page'><h3>Short</h3></section>", "long": long}, "A4") == ["long"]


def test_the_table_of_the_day_is_cut_between_rows_and_its_head_comes_again(visit):
    before = "<p>Before it.</p>" * 14
    pages = printed(visit(), f'<div class="cell outputs"><div class="shown">{before}{day("07").html.replace("<details", "<details open", 1)}</div></div>', "Letter")
    assert all("Part reading drill shown by you bench where clock" in text for text in pages[:2]), "cut where it should be, and headed again"
    cut = [one.name for one in day_of("07").parts if not any(one.name in text for text in pages[:2])]
    assert not cut and all("All 27 80" not in text for text in pages[:1])


def test_a_long_table_leaves_no_half_page_empty_before_it_and_a_short_one_stays_whole(visit):
    def table(rows: int) -> str:
        return "<table><thead><tr><th>Step</th></tr></thead><tbody>" + "".join(f"<tr><td>row {at} of {rows}<br>and a line</td></tr>" for at in range(1, rows + 1)) + "</tbody></table>"

    before = "<p>Before it.</p>" * 23
    long, short = (printed(visit(), f'<div class="cell outputs"><div class="shown">{before}{table(rows)}</div></div>', "Letter") for rows in (16, 6))
    assert "row 1 of 16" in long[0] and "row 16 of 16" in long[1] and "Step" in long[1]
    assert "row 1 of 6" not in short[0] and "row 1 of 6" in short[1] and "row 6 of 6" in short[1]
