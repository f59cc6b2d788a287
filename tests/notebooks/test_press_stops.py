"""Every practice sheet that presses stops where the job sheet stops: no order in the chart, a gauge out of date, a tool found bad."""

from __future__ import annotations

import re

import pytest
from test_other_shops import own_text

from rigcalc.notebook import forming_an_eye
from rigcalc.notebook import press_stops as stops
from rigcalc.notebook import sheets as forming
from rigcalc.notebook.course import crimp_sheets, crimping, inspect_sheets, laps_and_coats, laps_and_coats_sheets
from rigcalc.notebook.teaching import sample_shop
from rigcalc.shop import check_shop

PRESSING = {"05": forming, "06": crimp_sheets, "07": inspect_sheets, "08": laps_and_coats_sheets}
FIRST = {"05": "STOP: first stroke", "06": "STOP: first stroke", "07": "STOP: OWN EYE pressed", "08": "crimps on each sleeve"}
ASK = "STOP: the chart in force gives no order of pressing. Ask the tool maker before the first press"
NO_ORDER = (r"order = \[[^\]]*\]", 'order = "maker gives none"'), (r"(?m)^order_source.*\n", "")
OLD_GAUGE = ((r"(?m)^checked_on = 2026-03-02\ndue_on = 2046-03-02", "checked_on = 2020-03-02\ndue_on = 2021-03-02"),)
BAD_TOOL = ((r"(?m)^(\[\[tool\]\]\n)", r'\1found_bad = 2021-05-05\nfound_bad_by = "the trainer"\nwhy = "paper slipped at one end"\n'),)


@pytest.fixture
def in_force(tmp_path, monkeypatch):
    """A shop of one's own, changed."""
    monkeypatch.setenv("RIGCALC_HOME", str(tmp_path))

    def clear() -> None:
        for one in (one for module in (crimping, forming_an_eye, laps_and_coats) for one in vars(module).values()):
            getattr(one, "cache_clear", bool)()

    def write(*changes) -> None:
        text = own_text()
        for old, new in changes:
            assert re.search(old, text), old
            text = re.sub(old, new, text)
        (tmp_path / "shop.toml").write_text(text, encoding="utf-8")
        assert not check_shop(tmp_path / "shop.toml")
        clear()

    yield write
    clear()


@pytest.mark.parametrize("number", PRESSING)
def test_a_chart_without_an_order_stops_the_sheet_before_its_first_stroke(number, in_force):
    in_force(*NO_ORDER)
    text = str(PRESSING[number].practice_sheet())
    assert text.count(ASK) == 1 and text.index(ASK) < text.index(FIRST[number]) and "press place" not in text


@pytest.mark.parametrize("number", PRESSING)
def test_a_gauge_out_of_date_and_a_tool_found_bad_stop_it_too(number, in_force):
    in_force(*OLD_GAUGE, *BAD_TOOL)
    text = str(PRESSING[number].practice_sheet())
    for words in (r"STOP: gauge \w+ .*Press nothing until it has been checked", r"STOP: tool \w+ was found bad on 2021-05-05 .*Press nothing with it until"):
        assert len(found := re.findall(words, text)) == 1, words
        assert text.index(found[0]) < text.index(FIRST[number])


@pytest.mark.parametrize("number", PRESSING)
def test_the_invented_shop_is_stopped_by_no_day(number, tmp_path, monkeypatch):
    monkeypatch.setenv("RIGCALC_HOME", str(tmp_path))
    assert "Press nothing" not in str(PRESSING[number].practice_sheet()) and ASK not in str(PRESSING[number].practice_sheet())
    assert not [one for chart in sample_shop().charts for row in chart.rows for one in stops.press_stops(sample_shop(), chart, row)]


def test_lesson_07_begins_with_a_size_that_may_be_pressed(in_force):
    first = crimping.lesson_job().row.size
    in_force((r'(?s)(size = "1/8".*?)order = \[[^\]]*\]\norder_source[^\n]*', r'\1order = "maker gives none"'))
    job = inspect_sheets._rows()[0]
    shown = inspect_sheets.practice_sheet().text
    assert first == crimping.lesson_job().row.size == "1/8" and job.key != crimping.lesson_job().key and ASK not in shown
    assert f"slot {job.row.gauge_slot or job.row.size}" in str(inspect_sheets.recap()) and job.row.order
