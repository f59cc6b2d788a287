"""The tables in the clean view: whole on a desk's screen, on a tablet and on paper, with the links of the contents."""

from __future__ import annotations

import pytest

from rigcalc.opening.shelf import find_sheet

PAGE = find_sheet("tables_and_their_sources")
CUT_OFF = """[...document.querySelectorAll('.sourced .held')].filter(one => one.scrollWidth > one.clientWidth + 1
    || one.querySelector('table').getBoundingClientRect().right > document.documentElement.clientWidth + 1)
    .map(one => one.parentElement.id)"""


@pytest.fixture(scope="module")
def tables(workbook, visit_all_along):
    """The page at a desk or, by touch, at a tablet; each is opened once."""
    opened = {}

    def open_at(touch: bool):
        if touch not in opened:
            page = opened[touch] = visit_all_along(touch=touch)
            page.goto(workbook.address)
            page.goto(workbook.base + PAGE.address)
            page.wait_for_selector("html[data-live=alive]", timeout=40_000)
        return opened[touch]
    return open_at


def test_the_contents_lead_to_a_table_with_its_source_beside_it(tables):
    page = tables(False)
    page.get_by_role("link", name="Breaking force of inch cable, and how much thicker it may be").click()
    table = page.locator("#table-cable_strength")
    assert -1 < table.bounding_box()["y"] < 300  # less than a pixel may be rounded away
    assert table.locator("td.source").inner_text().startswith("AC 43.13-1B, Table 7-3, p 7-28")
    row = table.locator("tr", has_text="1/8").first.locator("td.number").all_inner_texts()
    assert row == ["2000", "1760", "0.014"]  # AC 43.13-1B Table 7-3


@pytest.mark.parametrize("touch", [False, True])
def test_no_table_is_cut_off_on_screen_or_on_paper(tables, picture, touch):
    page = tables(touch)
    assert page.locator(".sourced table").count() > 20 and page.evaluate(CUT_OFF) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= page.viewport_size["width"]
    picture(page, "tables")
    page.emulate_media(media="print")
    page.set_viewport_size({"width": 680, "height": 1000})  # an A4 page between its margins, in px
    assert page.evaluate(CUT_OFF) == []
