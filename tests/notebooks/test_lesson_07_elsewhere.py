"""Lesson 07 in another shop and on the wall: its own chart, what stands in, and no drawing that names its fault."""

from __future__ import annotations

import re

import pytest
from boards import after, said
from test_lesson_07 import BOARDS
from test_other_shops import own_text

from rigcalc.notebook.course import crimping, inspecting
from rigcalc.notebook.course import gauge_boards as gauges
from rigcalc.notebook.course import inspect_sheets as sheets
from rigcalc.notebook.form import Exercise
from rigcalc.shop import check_shop

# --- Another shop -----------------------------------------------------------------------------------

@pytest.mark.parametrize("without, stands", [((), False), (("LB-AL", "LC-AL", "LB-ZC"), True)])
def test_another_shop_is_taught_with_its_own_chart_and_what_stands_in_is_said(tmp_path, monkeypatch, without, stands):
    monkeypatch.setenv("RIGCALC_HOME", str(tmp_path))
    kept, left = [], False
    for part in re.split(r"(?m)^(?=\[\[)", own_text()):
        left = part.startswith("[[chart") and (any(f'id = "{one}"' in part for one in without) if part.startswith("[[chart]]") else left)
        kept += [] if left else [part]
    (tmp_path / "shop.toml").write_text("".join(kept), encoding="utf-8")
    assert not check_shop(tmp_path / "shop.toml")
    try:
        crimping.jobs.cache_clear(), crimping.disagreeing.cache_clear()
        text = str(inspecting.opening())
        assert inspecting.SCENE_INVENTED in text and (inspecting.EYES_INVENTED in text) == stands and "charts that disagree" not in text
        assert ("Chart of this page: INVENTED" in text) == stands == ("Chart of this page: INVENTED" in str(sheets.recap()))
        assert all(make().seen.said for make in BOARDS)
        assert "STOP" in str(sheets.practice_sheet()) and str(sheets.recap()) and str(sheets.sources())
    finally:
        crimping.jobs.cache_clear(), crimping.disagreeing.cache_clear()


# --- On the wall, and beside another shop ------------------------------------------------------------

def test_no_drawing_of_faults_names_its_fault():
    assert 'class="answer"' in sheets.faults_told().html
    for line in str(sheets.faults_told()).splitlines()[2:]:
        name = line.split(" | ")[1]
        assert name not in sheets.drawn_faults().alt and f"✗ {name}" not in sheets.drawn_faults().svg
    assert "Gauge sees it" not in sheets.drawn_faults().svg


def test_beside_a_shop_of_ones_own_the_scene_says_that_it_is_not_yours(tmp_path, monkeypatch):
    assert "not yours" not in gauges.first_look().title and "not yours" not in str(gauges.worked())
    monkeypatch.setenv("RIGCALC_HOME", str(tmp_path))
    (tmp_path / "shop.toml").write_text(own_text(), encoding="utf-8")
    try:
        crimping.jobs.cache_clear(), crimping.disagreeing.cache_clear()
        assert "LA is of the invented shop, not of yours" in said(after(gauges.which_go_back(), ("piece", "W1"), "done"))
        assert all(make().title.endswith("(INVENTED shop, not yours)") for make in (gauges.first_look, gauges.does_it_close, gauges.the_reading, gauges.which_go_back))
        assert re.search(r"at most .*8\.40 mm\]? \(INVENTED shop, not yours\)", str(gauges.worked())) and "(INVENTED shop, not yours)" in gauges.reading_still().html
        for name in ("after-the-second-failure", "pieces-back-to-the-gauge", "why-all-go-back"):
            assert Exercise(name).title == "Exercise (INVENTED shop, not yours)", name
        assert Exercise("re-use").title == "Exercise" and not re.search(r"reject box at ", str(Exercise("match-fault-and-cause")))
        shown = inspecting.opening().html
        assert inspecting.SCENE_INVENTED in shown.split("</div>")[-1], "outside what the page's head has said"
    finally:
        crimping.jobs.cache_clear(), crimping.disagreeing.cache_clear()
