"""The paper form filled in: every piece begun with its end, the box with what was told, and each page tied to form and candidate."""

from __future__ import annotations

import html
import re

import pytest
from on_paper import words
from rigcalc.bench.page import bench_page
from rigcalc.bench.printed import printed_form

from .filled import DELA, TOMO, Book, opened

FORM = "b-0123456789"
EMPTY_BOX = '<div class="lines-by-hand"></div>'


def text_of(book: Book) -> str:
    return html.unescape(re.sub(r"<[^>]+>", " ", printed_form(book.form, book.events).partition("<body>")[2]))


def two_pieces(*people) -> Book:
    """Piece 1 measured, seen, gauged and rejected, with help given; piece 2 made whole."""
    book = Book(opened(*people) | {"form_id": FORM})
    given = book.tap("helped", item="thread@1")
    book.tap("measured", piece=1, item="T1#tail-before@1", part=0, value="9.87", unit="mm", instrument=book.line("T1#tail-before@1")["instruments"][0])
    for result in ("right", "wrong"):
        book.tap("seen", piece=1, item="T1#full-strokes@1", result=result, how="piece")
    for press, passed in ((1, False), (2, True)):
        book.tap("gauged", piece=1, item="T1#crimps-gauged@1", crimp=1, press=press, passed=passed)
    book.tap("rejected", piece=1, cause="bent-sleeve")
    book.fill(piece=2)
    book.tap("wrote", about=given["id"], words="Look at the tail <again>.")
    book.tap("wrote", words="Steady, and slow at the first stroke.")
    return book


def pieces(page: str) -> tuple[str, str]:
    first, second = page.index('<p class="piece-line">Piece 1: '), page.index('<p class="piece-line">Piece 2')
    return page[first:second], page[second:]


def test_a_rejected_piece_is_printed_with_its_lines_readings_crimps_and_end():
    book = two_pieces()
    first, second = pieces(printed_form(book.form, book.events))
    assert re.search(r"Piece 1: rejected by the candidate, \d\d:\d\d on \d{4}-\d\d-\d\d: sleeve bent like a banana<", first)
    assert "9.87 mm" in first and "9.87 mm" not in second
    assert "crimp 1: " in first and "☐ passed</span> <span class=\"box\">☒ not</span> again: <span class=\"box\">☒ passed" in first
    row = next(one for one in first.split("<tr>") if f'>{book.line("T1#full-strokes@1")["number"]}<' in one)
    assert "☒ wrong" in row and "☐ right" in row and "☒ P" in row
    entered = {"T1#tail-before@1", "T1#full-strokes@1", "T1#crimps-gauged@1"}
    for item in (i for s in book.form["stages"] if s["per"] != "day" for i in s["items"]):
        cell, left = f'<td class="number">{item["number"]}</td>', first.partition("Nothing was entered on piece 1 at ")[2].partition(".</p>")[0].split(", ")
        assert (cell in first) is (item["key"] in entered) is (item["number"] not in left) and cell in second


def test_a_line_wrong_on_a_rejected_piece_alone_is_marked_there_alone():
    book = Book(opened())
    book.tap("seen", item="T1#nothing-forced@1", piece=1, result="wrong", how="live")
    book.tap("rejected", piece=1, cause="other")
    book.fill(piece=2)
    rows = [next(one for one in part.split("<tr>") if f'>{book.line("T1#nothing-forced@1")["number"]}<' in one)
            for part in pieces(printed_form(book.form, book.events))]
    assert "☒ wrong" in rows[0] and "☒ right" in rows[1] and "☒ wrong" not in rows[1]
    assert "another reason, in the words at the end" in text_of(book)


def test_a_piece_scrapped_at_the_gauge_says_so():
    book = Book(opened()).fill(skip=("T1#crimps-gauged@2",))
    for press in (1, 2):
        book.tap("gauged", item="T1#crimps-gauged@2", piece=1, crimp=2, press=press, passed=False)
    said = text_of(book)
    assert said.count("crimp 2 of eye 2 did not pass at the gauge a second time; the tool is out of use") == 2  # at the piece, and in the box
    assert "Piece 1: scrap, " in said and EMPTY_BOX not in printed_form(book.form, book.events)


def test_help_words_rejects_and_changed_taps_fill_the_box():
    book = two_pieces()
    page = printed_form(book.form, book.events)
    box = page[page.index('<div class="lines-by-hand">'):page.index('<p class="signed">')]
    for told in ("at 4 Threading and setting the tail, eye 1: &quot;Look at the tail &lt;again&gt;.&quot;", "Piece 1 rejected by the candidate, ",
                 "The assessor wrote: &quot;Steady, and slow at the first stroke.&quot;",
                 f"Changed after the first tap: {book.line('T1#full-strokes@1')['number']} on piece 1 was tapped right, then wrong."):
        assert told.replace("&quot;", '"') in box.replace("&quot;", '"').replace("&#34;", '"'), told
    book.tap("helped", item="cut")
    assert "its words are not written down yet" in text_of(book)


def test_an_unfilled_form_and_one_with_nothing_to_tell_keep_the_empty_box():
    book = Book(opened(TOMO, DELA))
    assert printed_form(book.form).count(EMPTY_BOX) == 2 and "piece-line\">" not in printed_form(book.form)
    book.fill("c1").tap("helped", "c2", item="cut")
    assert printed_form(book.form, book.events).count(EMPTY_BOX) == 1


@pytest.fixture(scope="module")
def paper(chromium):
    return chromium.new_page()


@pytest.mark.paper
@pytest.mark.parametrize("made, format", [(made, format) for made in ("empty", "filled", "filled, from the tablet")
                                          for format in ("A4", "Letter")])
def test_each_page_names_its_candidate_its_form_and_its_number(paper, format, made):
    book = two_pieces(TOMO, DELA).fill("c2")
    paper.set_content(bench_page(book.form, book.events) if "tablet" in made else printed_form(book.form, book.events if made == "filled" else []))
    sheets = words(paper.pdf(format=format))
    second = next(at for at, sheet in enumerate(sheets) if "Bench form: Dela Orrin" in sheet)
    for at, sheet in enumerate(sheets):
        own, other = (TOMO, DELA) if at < second else (DELA, TOMO)
        assert f"INVENTED · {own['name']} · bench form {FORM}" in sheet and f"page {at + 1} of {len(sheets)}" in sheet and other["name"] not in sheet
    # six pages for one candidate before; a second piece takes one more
    assert len(sheets) == (8 if made == "empty" else 9)
    signed = [sheet for sheet in sheets if "Assessor, date:" in sheet]
    assert len(signed) == 2 and all("Help given, and its words" in sheet and "16.1" in sheet for sheet in signed)


@pytest.mark.paper
def test_a_name_cannot_leave_the_foot(paper):
    book = Book(opened({"id": "c1", "name": '" onload="alert(1)'}))
    paper.set_content(printed_form(book.form))
    assert paper.evaluate("document.documentElement.getAttribute('onload')") is None
    assert '" onload="alert(1) · bench form F1' in words(paper.pdf(format="A4"))[1]
