"""The desk's pages on a tablet: nothing scrolls sideways, and the words of a table have room."""

import pytest
from chromium import chromium_started

from rigcalc.desk import work

from .bench_of_two import sit
from .served import TOKEN, served

TABLET = {"width": 820, "height": 1180}
SIDEWAYS = "document.documentElement.scrollWidth - document.documentElement.clientWidth"


@pytest.fixture
def page():
    with chromium_started() as chromium:
        yield chromium.new_context(viewport=TABLET).new_page()


def test_no_page_about_a_paper_scrolls_sideways_on_a_tablet(desk, page):
    class_id = work.set_class(desk, "Full class", "Tomo Kessig", "Ines Varrow")
    work.set_papers(desk, class_id, "Ines Varrow", blueprint="full")
    sit(desk, class_id, "c01", blank=("works-the-limit",))
    work.mark_papers(desk, class_id, "Osk Tamberlin")
    result = work.marked(desk, class_id, "c01")["result"]
    slot = next(one["slot"] for one in result["slots"] if not one["right"])
    family = work.paper_record(desk, result["paper_id"])["keys"][0]["family"]
    at = f"/class/{class_id}"
    with served(desk.home) as port:
        page.goto(f"http://127.0.0.1:{port}/sign-in?token={TOKEN}")
        for where in (f"{at}/appeal/c01/{slot}", f"{at}/result/c01", f"{at}/correct", f"{at}/correct?family={family}", "/blueprint/full", "/quiz"):
            page.goto(f"http://127.0.0.1:{port}{where}")
            assert page.evaluate(SIDEWAYS) == 0, where
        page.goto(f"http://127.0.0.1:{port}/blueprint/full")
        table = page.locator("table.places")
        assert table.evaluate("one => one.parentElement.scrollWidth - one.parentElement.clientWidth") == 0
        assert table.locator("tbody td:nth-child(2)").first.bounding_box()["width"] >= 280
        assert table.locator("tbody tr").count() == 43 and "Must be right." in table.inner_text()
