"""The paper as it comes out of the printer: every sheet finds its way home, and larger print is larger in all its parts."""

from __future__ import annotations

import pytest
from on_paper import sizes, words

from papers import a_class
from rigcalc.papers.printed import printed_paper

ACROSS = 680  # px between the margins of an upright page, for measuring on the screen
TEXT = {False: 11, True: 16}  # points

pytestmark = pytest.mark.paper


@pytest.fixture(scope="module")
def papers(tmp_path_factory):
    odd = "Pell \"Wren\" O'Dare \\ & <b>Co"
    held = a_class.set_class(tmp_path_factory.mktemp("papers"), roster=[*a_class.ROSTER, {"id": "po", "name": odd}])
    return [a_class.paper_of(held, number) for number in range(3)]


@pytest.fixture(scope="module")
def page(chromium):
    return chromium.new_page(viewport={"width": ACROSS, "height": 1000})


def pdf_of(page, paper: dict, format: str) -> bytes:
    page.set_content(printed_paper(paper))
    return page.pdf(format=format)


@pytest.mark.parametrize("format", ["A4", "Letter"])
@pytest.mark.parametrize("number", range(3), ids=["usual", "larger", "odd name"])
def test_every_sheet_says_whose_it_is_and_which_of_how_many(page, papers, number, format):
    paper = papers[number]
    sheets = words(pdf_of(page, paper, format))
    assert len(sheets) >= 3 and "Answer sheet" in " ".join(sheets[1:])
    for at, sheet in enumerate(sheets, 1):
        assert f"INVENTED · {paper['candidate']['name']} · paper {paper['paper_id']}" in sheet, at
        assert f"page {at} of {len(sheets)}" in sheet, at


def test_a_practice_paper_of_a_real_shop_says_so_on_every_sheet(page, papers):
    sheets = words(pdf_of(page, papers[0] | {"invented": False, "practice": True}, "A4"))
    assert all("PRACTICE · Tomo Kessig" in sheet and "INVENTED ·" not in sheet for sheet in sheets[1:])


@pytest.mark.parametrize("format", ["A4", "Letter"])
@pytest.mark.parametrize("larger", [False, True])
def test_the_words_of_a_drawing_are_as_large_as_the_text(page, papers, larger, format):
    runs = sizes(pdf_of(page, papers[0] | {"larger_print": larger}, format))
    of_drawing = [size for text, size in runs if text in ("thimble side", "tail side")]
    of_text = [size for text, size in runs if "pressed in tool" in text]
    assert of_drawing and of_text and min(of_text) == pytest.approx(TEXT[larger], rel=0.01)
    assert min(of_drawing) >= 0.93 * TEXT[larger]


@pytest.mark.parametrize("format", ["A4", "Letter"])
def test_a_drawing_in_larger_print_lies_on_one_sheet_with_its_question(page, papers, format):
    sheets = words(pdf_of(page, papers[1], format))
    (drawn,) = [sheet for sheet in sheets if "thimble side" in sheet]
    assert "are they pressed?" in drawn and "Put the letters in order" in drawn


def test_lines_to_sign_on_grow_with_the_text(page, papers):
    page.emulate_media(media="print")
    lines = {}
    for larger in (False, True):
        page.set_content(printed_paper(papers[0] | {"larger_print": larger}))
        lines[larger] = page.locator(".signs .hand").evaluate_all("all => all.map(one => one.getBoundingClientRect().width)")
        lines[larger, "high"] = page.locator(".signs .pair").evaluate_all("all => all.map(one => one.getBoundingClientRect().height)")
    page.emulate_media(media="screen")
    assert len(lines[True]) == 6 and min(lines[False]) > 100
    for usual, large in [*zip(lines[False], lines[True], strict=True), *zip(lines[False, "high"], lines[True, "high"], strict=True)]:
        assert large >= 1.45 * usual
