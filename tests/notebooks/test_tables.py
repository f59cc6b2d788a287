"""The tables and their sources: every row of every shipped file is printed, as the file has it, with where it stands."""

from __future__ import annotations

import csv
import json
import re
import shutil
from fractions import Fraction
from html import unescape
from pathlib import Path
from types import SimpleNamespace

import pytest
from stored import stored

import rigcalc
from rigcalc.cautions import CAUTIONS
from rigcalc.home import installed_folder
from rigcalc.notebook import tables
from rigcalc.notebook.table_words import CHAPTERS, heading
from rigcalc.opening import pages
from rigcalc.opening.shelf import find_sheet
from rigcalc.reference import bibliography, loader, table_names
from rigcalc.reference.schema import SCHEMAS, Schema
from rigcalc.removal import HOUSE

FOLDER = Path(rigcalc.__file__).parent / "reference"
PAGE = installed_folder() / "lessons" / "tables_and_their_sources.ipynb"
SHIPPED = sorted(path.stem for path in FOLDER.glob("*.csv") if path.stem != "bibliography")
# Pure numbers and counts: nothing to put behind their names.
NO_UNIT = {"strands", "wires_per_strand", "strength_k", "area_c", "count", "presses", "number", "drop_forged", "other_material",
           "factor", "share", "bend_ratio"}


def rows_of(name: str) -> list[dict]:
    with (FOLDER / f"{name}.csv").open(encoding="utf-8", newline="") as lines:
        return [{column: text.strip() for column, text in row.items()} for row in csv.DictReader(lines)]


def said() -> str:
    """All that the stored page says in text."""
    return "\n".join("".join(output["data"]["text/plain"]) for output in stored(PAGE).outputs)


def lines_with(row: dict) -> list[str]:
    """The stored lines that end in a row's source, locator and how it is known."""
    return [line for line in said().splitlines() if line.endswith(f" | {row['source']}, {row['locator']} | {row['how_known']}")]


def figure(shown: str) -> Fraction | None:
    """A printed figure read back, by hand: 33 1/3, −0.5, 2000; None where it is words."""
    found = re.fullmatch(r"(−?)(?:(\d+) )?(\d+)/(\d+)|(−?)(\d+(?:\.\d+)?)", shown)
    if not found:
        return None
    if found[3]:
        value = Fraction(int(found[2] or 0)) + Fraction(int(found[3]), int(found[4]))
        return -value if found[1] else value
    return -Fraction(found[6]) if found[5] else Fraction(found[6])


def as_written(text: str) -> Fraction | None:
    return Fraction(text) if re.fullmatch(r"-?\d+(\.\d+)?(/\d+)?", text) else None


def test_every_file_of_the_package_is_a_table_on_the_page():
    assert SHIPPED == sorted(table_names()) == sorted({sheet.name for sheet in tables.sheets()})
    assert {sheet.about.chapter for sheet in tables.sheets()} == set(CHAPTERS)
    source = json.dumps(json.loads(PAGE.read_text(encoding="utf-8"))["cells"])
    assert re.findall(r'chapter\(\\"([a-z ]+)\\"\)', source) == list(CHAPTERS)


@pytest.mark.parametrize("name", SHIPPED)
def test_every_row_is_printed_once_and_as_the_file_has_it(name):
    columns, text = SCHEMAS[name].columns, said()
    assert sum(len(sheet.rows) for sheet in tables.sheets() if sheet.name == name) == len(rows_of(name))
    for row in rows_of(name):
        numbers = [as_written(row[c]) for c, kind in columns.items() if kind.rstrip("?") in ("number", "whole", "exact") and row[c]]
        words = [row[c] for c, kind in columns.items() if kind.rstrip("?") == "size" and row[c]]
        assert None not in numbers
        for line in lines_with(row):
            cells = line.split(" | ")
            printed = [value for value in map(figure, cells) if value is not None]
            if all(value in printed for value in numbers) and all(word in cells for word in words):
                break
        else:
            raise AssertionError(f"{name}: not on the stored page: {row}")
        for column in SCHEMAS[name].key:
            if columns.get(column) == "text":
                assert row[column].lower() in text.lower(), row


@pytest.mark.parametrize("name", SHIPPED)
def test_every_column_of_figures_has_its_unit_in_the_heading(name):
    columns = SCHEMAS[name].columns
    for column, kind in columns.items():
        if kind.rstrip("?") in ("number", "whole", "exact", "size") and column not in NO_UNIT and not {"unit", "topic"} & set(columns):
            assert re.search(r", \S", heading(column)), f"{name}: {column} is headed '{heading(column)}'"


def test_what_is_from_memory_or_common_practice_is_marked_in_words():
    for place in CHAPTERS:
        html = tables.chapter(place).html
        for known in ("from memory", "common practice"):
            rows = [row for sheet in tables.sheets() if sheet.about.chapter == place for row in sheet.rows if row.how_known == known]
            assert (f"<strong>{known}</strong></td>" in html) == bool(rows), (place, known)


def test_each_table_says_what_it_may_do_and_the_strong_words_are_few():
    said = tables.what_may_rate().text
    for sheet in tables.sheets():
        assert sheet.about.may in ("May rate.", "May decide.", "Plans only.", "Shown beside.", "Only teaches.")
        assert f"{sheet.title} | {sheet.about.may} | {len(sheet.rows)} | " in said
        if sheet.about.may == "May rate.":
            assert all(row.how_known != "from memory" for row in sheet.rows), sheet.title
    assert {sheet.name for sheet in tables.sheets() if sheet.about.may == "May rate."} == {"cable_strength", "constants"}
    teaches = {sheet.name for sheet in tables.sheets() if sheet.about.may == "Only teaches."}
    assert {"crimps_common_practice", "copper_counts_circular", "bend_curve", "design_factors", "clip_rows"} <= teaches


def test_nothing_that_rates_or_decides_rests_on_memory():
    """What the page's head promises, row by row and down to the texts that the rows name."""
    assert "No strength, count, constant or limit rests on one" in stored(PAGE).markdown
    known, accepts_nothing = bibliography(), []
    for sheet in tables.sheets():
        if sheet.about.may not in ("May rate.", "May decide."):
            continue
        for row in sheet.rows:
            if row.how_known != "from memory":
                assert known[row.source].how_known != "from memory", row
            elif sheet.name == "pairing":
                assert "from memory" in row.reasons  # worked only once the maker has said so
            else:
                accepts_nothing.append(sheet.name)
                assert getattr(row, "stands_for", None) == "another piece of equipment: accepts nothing here" or row.equipment.endswith("an earlier edition"), row
    assert set(accepts_nothing) == {"temperatures", "removal_rules"}
    # of these two tables only the coat's row and the house rule are worked by, and both were read or are judgement
    assert [row.how_known for row in loader.table("temperatures") if row.part.startswith("coat")] == ["read"]
    assert not [row for row in loader.table("removal_rules") if row.equipment == HOUSE and row.how_known == "from memory"]


@pytest.mark.parametrize("name", SHIPPED)
def test_a_row_and_the_list_of_sources_say_the_same_of_what_was_read(name):
    for row in loader.table(name):
        entry = bibliography()[row.source].how_known
        if row.how_known.startswith("read"):
            assert row.how_known == entry, row
        elif row.how_known == "defined":
            assert entry.startswith("read"), row


def test_the_units_are_all_defined_and_no_bound_stands_among_them():
    parts = {sheet.about.chapter: sheet for sheet in tables.sheets() if sheet.name == "constants"}
    assert [row.name for row in parts["units"].rows] == ["inch", "foot", "pound", "pound-force", "standard gravity"]
    for chapter, sheet in parts.items():
        assert all((row.how_known == "defined") == (chapter == "units") for row in sheet.rows), sheet.title


def test_a_unit_that_multiplies_has_its_sign():
    assert [line for line in said().splitlines() if " | x " in line] == [] and " | × its lap | " in said()


def test_no_line_says_twice_how_it_is_known():
    assert [line for line in said().splitlines() if re.search(r"from memory \| from memory|common practice, common practice", line)] == []


def test_the_links_of_the_contents_lead_to_the_tables():
    html = tables.what_may_rate().html
    everything = "".join(tables.chapter(place).html for place in CHAPTERS)
    links = re.findall(r'href="#([^"]+)"', html)
    assert len(links) == len(set(links)) == len(tables.sheets())
    assert all(f'id="{link}"' in everything for link in links)


def test_a_new_table_appears_by_itself_in_the_last_chapter(tmp_path, monkeypatch):
    shutil.copytree(FOLDER, tmp_path / "reference")
    (tmp_path / "reference" / "wind_on_wires.csv").write_text(
        "place,speed_mm,source,locator,how_known\nquay,12.5,common practice,a test,from memory\n", encoding="utf-8")
    monkeypatch.setattr(loader, "_FOLDER", tmp_path / "reference")
    monkeypatch.setitem(SCHEMAS, "wind_on_wires", Schema({"place": "text", "speed_mm": "number"}, ("place",)))
    loader._shipped.cache_clear()
    try:
        shown = tables.chapter(CHAPTERS[-1])
    finally:
        loader._shipped.cache_clear()
    assert "Wind on wires\nOnly teaches." in shown.text
    assert "place | speed, mm | source | how it is known\nquay | 12.5 | common practice, a test | from memory" in shown.text
    assert '<td class="number">12.5</td>' in shown.html


def test_the_whole_bibliography_stands_at_the_end():
    text = "".join(stored(PAGE).outputs[-1]["data"]["text/plain"])
    for entry in bibliography().values():
        line = next(line for line in text.splitlines() if line.startswith(f"{entry.key} | "))
        assert entry.title in line and entry.edition[1:] in line and entry.source in line and f" | {entry.how_known} | " in line


def test_the_rows_of_one_source_share_one_cell_and_no_cell_reaches_too_far():
    html = tables.chapter("cable").html
    first = html[:html.index("</table>")]
    assert first.count('<td class="source"') == 1 and 'rowspan="14"' in first  # Table 7-3: fourteen rows
    for place in CHAPTERS:
        for body in re.findall(r"<tbody>(.*?)</tbody>", tables.chapter(place).html):
            rows = [row for row in body.split("<tr")[1:] if 'class="group"' not in row]
            spans = [int(span or 1) for span in re.findall(r'<td class="source"(?: rowspan="(\d+)")?>', body)]
            assert sum(spans) == len(rows) and max(spans) <= 15


@pytest.mark.parametrize("value, shown", [
    (2000.0, "2000"), (0.008, "0.008"), (Fraction("4.4482216152605"), "4.4482216152605"), (Fraction(1, 10**6), "0.000001"),
    (Fraction(100, 3), "33 1/3"), (Fraction(2, 3), "2/3"), (Fraction(-1, 3), "−1/3"), (-0.44, "−0.44"), (0, "0"), (None, "–"), ("1/8", "1/8")])
def test_figures_stand_as_in_a_book(value, shown):
    assert tables.plain(value) == shown


def test_an_unknown_chapter_names_the_known_ones():
    with pytest.raises(ValueError, match="cable, sleeves, pairing"):
        tables.chapter("weather")


def test_the_page_shows_the_cautions_and_how_to_read_a_row():
    assert all(caution in said() for caution in CAUTIONS)
    assert all(words in stored(PAGE).markdown for words in ("from memory", "common practice", "Take the book and hold it against the row"))


@pytest.mark.parametrize("door", [pages.learn_page, pages.teach_page])
def test_it_stands_on_both_pages_as_something_to_look_up_and_not_as_a_lesson(door):
    sheet = find_sheet("tables_and_their_sources")
    html = unescape(door(SimpleNamespace(desk_address="")))
    lessons, _, rest = html.partition("To look things up")
    link = f'<a href="{sheet.address}">The tables and their sources</a>'
    assert link in rest and sheet.address not in lessons and sheet.number == ""
