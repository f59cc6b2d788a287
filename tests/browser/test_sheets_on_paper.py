"""Practice sheets stay on one page of Letter in the shop that fills them most; `tests/lessons/sweep.py` prints them for every shop and paper."""

from __future__ import annotations

from lessons.sheets import SHOPS, longer_than_a_page, sheets_of

FULLEST = "own in US units"  # both units in each line, and a gauge out of date at the head


def test_each_practice_sheet_is_one_page_of_letter(visit, tmp_path):
    found = {name: html for name, html in sheets_of(SHOPS[FULLEST](), tmp_path).items() if name.endswith("practice_sheet 1")}
    assert len(found) == 13 and longer_than_a_page(visit(), found, "Letter") == []


def test_a_sheet_that_is_too_long_is_found(visit):
    long = "<section class='one-page practice'><h3>Long</h3>" + "<p>One more line.</p>" * 80 + "</section>"
    assert longer_than_a_page(visit(), {"short": "<section class='one-page'><h3>Short</h3></section>", "long": long}, "A4") == ["long"]
