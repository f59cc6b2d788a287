"""One person's printed sheets count their own pages; where two are printed in one go, each page says that both are counted."""

from __future__ import annotations

import pytest
from on_paper import words
from rigcalc.bench.page import bench_page
from rigcalc.bench.printed import printed_form

from .filled import DELA, TOMO, opened

SINCE = "Since form F1 was opened: gauge GB was found bad on 2026-11-20 by Ines Varrow (worn)."

pytestmark = pytest.mark.paper


@pytest.fixture(scope="module")
def page(chromium):
    return chromium.new_page()


def sheets(page, made: str) -> list[str]:
    page.set_content(made)
    return words(page.pdf(format="A4", prefer_css_page_size=True))


def test_the_sheets_of_one_of_two_count_from_one_to_their_last(page):
    found = sheets(page, printed_form(opened(TOMO, DELA), (), SINCE, "c2"))
    assert all(f"page {at} of {len(found)}" in sheet and "both people" not in sheet and "Tomo Kessig" not in sheet for at, sheet in enumerate(found, 1))
    assert SINCE in found[0] and found[0].count("Dela Orrin") == 2  # in the heading and at the foot


@pytest.mark.parametrize("made", [printed_form, bench_page], ids=["desk", "tablet"])
def test_the_sheets_of_both_say_that_they_are_counted_through(page, made):
    found = sheets(page, made(opened(TOMO, DELA), [], SINCE))
    assert all(f"page {at} of {len(found)} of the form, both people" in sheet for at, sheet in enumerate(found, 1))
    assert [SINCE in sheet for sheet in found].count(True) == 2
