"""What every stored page must be: run from top to bottom, with its outputs, readable without a kernel and without code."""

from __future__ import annotations

import re

import pytest
from stored import PAGES, WIDGET, Stored, Tags, stored

AGAIN = "store it again: python -m rigcalc.notebook.store"
ALT_LEAST = 20  # characters: shorter words name a picture and say nothing of it


@pytest.fixture(params=PAGES, ids=lambda path: path.name)
def page(request) -> Stored:
    return stored(request.param)


def test_counts_run_from_one_to_the_last(page):
    counts = [cell.data["execution_count"] for cell in page.code]
    assert counts == list(range(1, len(counts) + 1)), f"{AGAIN} {page.path}"


def test_every_code_cell_left_something_to_see_and_no_accident(page):
    for cell in page.code:
        assert cell.outputs, f"cell {cell.id} shows nothing: give it a last line that shows something, or put it into the cell above; {AGAIN}"
        for output in cell.outputs:
            assert output["output_type"] != "error" or "raises-exception" in cell.tags, f"cell {cell.id} broke: {output.get('evalue')}"
            assert output.get("name") != "stderr", f"cell {cell.id} wrote a warning: {output.get('text')}"


def test_code_is_short_hidden_and_begins_with_words(page):
    for cell in page.code:
        assert re.match(r"# [A-Z][^\n]{5,}", cell.source), f"cell {cell.id}: its first line is a remark that a reader understands, '# The chart in force'"
        lines = cell.source.count("\n") + 1
        assert lines <= 5, f"cell {cell.id} has {lines} lines; put the work into a module of rigcalc/notebook and leave 5"
        hidden = cell.data["metadata"].get("jupyter", {}).get("source_hidden") and "hide" in cell.tags
        assert hidden, f'cell {cell.id}: its metadata is {{"jupyter": {{"source_hidden": true}}, "tags": ["hide"]}}'


def test_every_picture_has_words_that_say_what_it_shows(page):
    for where, html in [(cell.id, cell.html) for cell in page.code] + [("the text", page.markdown)]:
        for tag, attributes in Tags(html).found if "<img" in html or "<svg" in html else ():
            words = attributes.get({"img": "alt", "svg": "aria-label"}.get(tag, ""), "")
            assert tag not in ("img", "svg") or len(words or "") >= ALT_LEAST, f"{where}: a picture with the words {words!r}; say what it shows"
    for output in page.outputs:
        assert not {"image/png", "image/jpeg", "image/svg+xml"} & set(output.get("data", {})), "a picture without words: show it through rigcalc.figures"


def test_live_parts_keep_their_state_and_their_words(page):
    for output in page.outputs:
        data = output.get("data", {})
        if WIDGET in data:
            assert data[WIDGET]["model_id"] in page.widgets, AGAIN
            assert "".join(data["text/plain"]).strip(), "a live part says in plain text what it is: give it a __repr__"
    for model in page.widgets.values():
        for words in _words_of_drawings(model["state"]):
            assert len(words) >= ALT_LEAST, f"a live drawing with the words {words!r}"


def _words_of_drawings(state: dict) -> list[str]:
    """What the live drawings of one widget are called: of an explorer's HTML, or of a board's view."""
    value, view = state.get("value"), state.get("view")
    found = [one["alt"] for one in view.get("figures", [])] if isinstance(view, dict) else []
    if isinstance(value, str) and "<svg" in value:
        found += [attributes.get("aria-label", "") for tag, attributes in Tags(value).found if tag == "svg"]
    return found


def test_widget_ids_are_numbered_so_that_a_new_run_is_no_change(page):
    ids = re.findall(r"(?<![0-9a-f])[0-9a-f]{32}(?![0-9a-f])", page.text)
    first_met = list(dict.fromkeys(ids))
    assert first_met == [f"{number:032x}" for number in range(1, len(first_met) + 1)], AGAIN


def test_cells_are_named_and_no_name_twice(page):
    names = [cell.id for cell in page.cells]
    assert len(names) == len(set(names)), f"twice: {sorted({one for one in names if names.count(one) > 1})}"


def test_links_lead_to_something_that_is_there(page):
    places = set(re.findall(r'<a id="([a-z0-9-]+)"></a>', page.markdown))
    links = re.findall(r'href="([^"]+)"', page.markdown) + re.findall(r"\]\(([^)]+)\)", page.markdown)
    for link in links:
        if link.startswith("#"):
            assert link[1:] in places, f"{link} leads nowhere on this page"
        else:
            assert not link.startswith("http") and (page.path.parent / link.split("#")[0]).exists(), f"{link} leads nowhere"
