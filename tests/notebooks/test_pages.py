"""What every stored page must be: run from top to bottom, with its outputs, readable without a kernel and without code."""

from __future__ import annotations

import json
import re
from html.parser import HTMLParser

import pytest

from rigcalc.home import installed_folder

ROOT = installed_folder()
PAGES = sorted([*ROOT.glob("lessons/*.ipynb"), *ROOT.glob("quizzes/*.ipynb")])
LESSONS = [path for path in PAGES if path.parent.name == "lessons" and path.name[0].isdigit()]
WIDGET = "application/vnd.jupyter.widget-view+json"
STATE = "application/vnd.jupyter.widget-state+json"


def cells(path, kind: str):
    return [cell for cell in json.loads(path.read_text(encoding="utf-8"))["cells"] if cell["cell_type"] == kind]


def outputs(path):
    return [output for cell in cells(path, "code") for output in cell["outputs"]]


def text_of(path) -> str:
    return "".join("".join(cell["source"]) for cell in cells(path, "markdown"))


class Tags(HTMLParser):
    """Every tag of some HTML with its attributes."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.found: list[tuple[str, dict]] = []
        self.feed(html)

    def handle_starttag(self, tag, attrs) -> None:
        self.found.append((tag, dict(attrs)))


@pytest.fixture(params=PAGES, ids=lambda path: path.name)
def page(request):
    return request.param


@pytest.fixture(params=LESSONS, ids=lambda path: path.name)
def lesson(request):
    return request.param


def test_there_is_a_lesson():
    assert LESSONS


def test_counts_run_from_one_to_the_last(page):
    counts = [cell["execution_count"] for cell in cells(page, "code")]
    assert counts == list(range(1, len(counts) + 1))


def test_every_code_cell_left_something_to_see_and_no_accident(page):
    for cell in cells(page, "code"):
        assert cell["outputs"], cell["id"]
        for output in cell["outputs"]:
            assert output["output_type"] != "error" or "raises-exception" in cell["metadata"].get("tags", []), cell["id"]
            assert output.get("name") != "stderr", cell["id"]


def test_code_is_short_hidden_and_begins_with_words(page):
    for cell in cells(page, "code"):
        source = "".join(cell["source"])
        assert re.match(r"# [A-Z][^\n]{5,}", source), source
        assert source.count("\n") + 1 <= 5, source
        assert cell["metadata"]["jupyter"]["source_hidden"] and "hide" in cell["metadata"]["tags"], cell["id"]


def test_every_picture_has_words_that_say_what_it_shows(page):
    html = [output["data"]["text/html"] for output in outputs(page) if "text/html" in output.get("data", {})]
    for piece in ["".join(one) for one in html] + [text_of(page)]:
        for tag, attributes in Tags(piece).found:
            if tag == "img":
                assert len(attributes.get("alt", "")) >= 20, attributes
    for output in outputs(page):
        assert not {"image/png", "image/jpeg", "image/svg+xml"} & set(output.get("data", {})), "a picture without words"


def test_live_parts_keep_their_state_and_their_words(page):
    kept = json.loads(page.read_text(encoding="utf-8"))["metadata"].get("widgets", {}).get(STATE, {}).get("state", {})
    for output in outputs(page):
        data = output.get("data", {})
        if WIDGET in data:
            assert data[WIDGET]["model_id"] in kept
            assert "".join(data["text/plain"]).strip()
    for model in kept.values():
        value = model["state"].get("value")
        if isinstance(value, str) and "<svg" in value:
            assert 'role="img" aria-label="' in value


def test_widget_ids_are_numbered_so_that_a_new_run_is_no_change(page):
    ids = re.findall(r"(?<![0-9a-f])[0-9a-f]{32}(?![0-9a-f])", page.read_text(encoding="utf-8"))
    first_met = list(dict.fromkeys(ids))
    assert first_met == [f"{number:032x}" for number in range(1, len(first_met) + 1)]


def test_cells_are_named_and_no_name_twice(page):
    names = [cell["id"] for cell in json.loads(page.read_text(encoding="utf-8"))["cells"]]
    assert len(names) == len(set(names))


def test_links_lead_to_something_that_is_there(page):
    text = text_of(page)
    places = set(re.findall(r'<a id="([a-z0-9-]+)"></a>', text))
    links = re.findall(r'href="([^"]+)"', text) + re.findall(r"\]\(([^)]+)\)", text)
    for link in links:
        if link.startswith("#"):
            assert link[1:] in places, link
        else:
            assert not link.startswith("http") and (page.parent / link.split("#")[0]).exists(), link


def test_no_page_speaks_of_another_lesson_that_is_absent(lesson):
    there = {path.name[:2] for path in LESSONS}
    assert set(re.findall(r"[Ll]esson (\d\d)", text_of(lesson))) <= there


def test_every_section_named_by_the_skill_map_and_the_families_is_on_the_page(lesson):
    from rigcalc.questions import load_families
    from rigcalc.skills import load_skills

    number = lesson.name[:2]
    known = load_skills()
    skills = known.values() if isinstance(known, dict) else known
    named = [section for skill in skills for section in skill.sections] + [f.section for f in load_families().values()]
    wanted = {section.partition("#")[2] for section in named if section.startswith(f"{number}#")}
    assert wanted and wanted <= set(re.findall(r'<a id="([a-z0-9-]+)"></a>', text_of(lesson)))
