"""The desk's pages as they come out of the printer: numbered, no heading alone at a page's end, no way back. And on a tablet: nothing scrolls sideways."""

import re

import pytest
from on_paper import words

from rigcalc.desk import work
from rigcalc.papers.results import summary_html

from .bench_of_two import begun, set_up, sit, work_at_bench
from .served import TOKEN, served

TABLET = {"width": 820, "height": 1180}
SIDEWAYS = "document.documentElement.scrollWidth - document.documentElement.clientWidth"

pytestmark = pytest.mark.paper


@pytest.fixture(scope="module")
def page(chromium):
    return chromium.new_page()


@pytest.fixture
def tablet(chromium):
    return chromium.new_context(viewport=TABLET).new_page()


def of_many(count: int) -> dict:
    """A class of so many, every second of whom needs help, and twelve questions."""
    sentences = [f"Knows what place {place} asks and says why it is so." for place in range(1, 13)]
    needs = [{"skill": sentences[0], "section": "00#stop-and-ask", "must_be_right": False, "not_read": False}]
    people = [{"name": f"Candidate {number}", "paper_id": f"p-{number}", "score": 92, "out_of": 100, "passed": True, "must_be_right_missed": [],
               "needs": needs * (number % 2)} for number in range(1, count + 1)]
    asked = [{"place": place, "skill": said, "sections": [], "must_be_right": False, "asked": count, "right": count, "not_answered": [],
              "not_read": [], "other_wrong": [], "missteps": {}} for place, said in enumerate(sentences, 1)]
    return {"candidates": people, "questions": asked, "marked": count, "passed": count, "invented": True, "practice": False,
            "cut": {"marks": 76, "method": "one named person", "set_by": "Ines Varrow", "set_on": "2026-03-02", "how": "Judged."}}


def numbered(sheets: list[str], foot: str) -> bool:
    return all(foot in sheet and f"page {at} of {len(sheets)}" in sheet for at, sheet in enumerate(sheets, 1))


@pytest.mark.parametrize("format", ["A4", "Letter"])
def test_no_heading_of_a_class_summary_stands_alone_at_the_end_of_a_page(page, format):
    """Lengthened name by name, so that a heading comes by the end of a page: without the rule one of these stands alone there."""
    for count in range(8, 12):
        made = summary_html(of_many(count), group="Spring class")
        headings = [re.sub("<[^>]+>", "", one) for one in re.findall(r"<h[23]>(.*?)</h[23]>", made)]
        page.set_content(made)
        sheets = words(page.pdf(format=format))
        assert len(headings) == 14 and all(any(one in sheet for sheet in sheets) for one in headings)
        assert numbered(sheets, "Class summary of the written paper · Spring class")
        for sheet in sheets:
            assert not sheet.endswith(tuple(headings)), (count, sheet[-80:])


def test_printed_pages_of_the_desk_are_numbered_and_leave_the_way_back_out(desk, page):
    class_id = set_up(desk)
    sit(desk, class_id)
    work.mark_papers(desk, class_id, "Osk Tamberlin")
    at = f"/class/{class_id}"
    with served(desk.home) as port:
        page.goto(f"http://127.0.0.1:{port}/sign-in?token={TOKEN}")
        for where, foot in (("/register", "Register · 20"), (f"{at}/summary", "Class summary of the written paper · Spring class"),
                            (f"{at}/result/c01", "Result of Tomo Kessig · paper p-"), (f"{at}/mark", "Mark · 20"), (f"{at}/quiz", "How good is the quiz?"),
                            ("/blueprint/full", "Written paper: the whole craft · 20"), (f"{at}/certificates", "Certificates · 20")):
            page.goto(f"http://127.0.0.1:{port}{where}")
            sheets = words(page.pdf(format="A4"))
            assert numbered(sheets, foot) and "Back to" not in " ".join(sheets), where


def rejected_and_helped(desk) -> tuple[str, str]:
    class_id = set_up(desk)
    return class_id, work_at_bench(desk, class_id, c01="rejects own piece", c02="helped")


@pytest.mark.parametrize("format", ["A4", "Letter"])
def test_the_filled_bench_form_shows_the_rejected_piece_and_each_page_names_its_candidate(desk, page, format):
    class_id, form_id = begun(desk, rejected_and_helped)
    with served(desk.home) as port:
        page.goto(f"http://127.0.0.1:{port}/sign-in?token={TOKEN}")
        page.goto(f"http://127.0.0.1:{port}/class/{class_id}/bench/{form_id}/print")
        sheets = words(page.pdf(format=format))
    his, hers = ([sheet for sheet in sheets if f"{name} · bench form {form_id}" in sheet] for name in ("Tomo Kessig", "Dela Orrin"))
    assert his + hers == sheets and numbered(sheets, f"bench form {form_id}")
    said = " ".join(his)
    first = said.partition("Piece 1: rejected by the candidate, ")[2].partition(" Piece 2 ")[0]
    assert ": sleeve bent like a banana" in first and "3.4 CRITICAL Diameter across crowns" in first and "Nothing was entered on piece 1 at 6.1, " in first
    assert "Piece 1 rejected by the candidate, " in his[-1] and "Help given, " not in his[-1].replace("Help given, and", "")
    assert "The thimbles are in the second drawer." in hers[-1] and "Piece 1: " not in " ".join(hers)


def test_a_long_table_begins_under_its_heading(page):
    page.set_content(summary_html(of_many(39)))
    sheets = words(page.pdf(format="A4"))
    first = next(sheet for sheet in sheets if "Who needs help where" in sheet)
    assert "Candidate 1 92" in first and "Candidate 39 92" not in first
    assert all("Candidate Marks Result" in sheet for sheet in sheets if "nothing on this paper" in sheet)


# -- on a tablet, where the words of a table have room ------------------------------------------------------------------

def test_no_page_about_a_paper_scrolls_sideways_on_a_tablet(desk, tablet):
    class_id = work.set_class(desk, "Full class", "Tomo Kessig", "Ines Varrow")
    work.set_papers(desk, class_id, "Ines Varrow", blueprint="full")
    sit(desk, class_id, "c01", blank=("works-the-limit",))
    work.mark_papers(desk, class_id, "Osk Tamberlin")
    result = work.marked(desk, class_id, "c01")["result"]
    slot = next(one["slot"] for one in result["slots"] if not one["right"])
    family = work.paper_record(desk, result["paper_id"])["keys"][0]["family"]
    at = f"/class/{class_id}"
    with served(desk.home) as port:
        tablet.goto(f"http://127.0.0.1:{port}/sign-in?token={TOKEN}")
        for where in (f"{at}/appeal/c01/{slot}", f"{at}/result/c01", f"{at}/correct", f"{at}/correct?family={family}", "/blueprint/full", "/quiz"):
            tablet.goto(f"http://127.0.0.1:{port}{where}")
            assert tablet.evaluate(SIDEWAYS) == 0, where
        tablet.goto(f"http://127.0.0.1:{port}/blueprint/full")
        table = tablet.locator("table.places")
        assert table.evaluate("one => one.parentElement.scrollWidth - one.parentElement.clientWidth") == 0
        assert table.locator("tbody td:nth-child(2)").first.bounding_box()["width"] >= 280
        assert table.locator("tbody tr").count() == 43 and "Must be right." in table.inner_text()
