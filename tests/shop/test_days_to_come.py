"""Days that are still to come: a mistake named in the file, and never a gauge that "was due" on a day ahead."""

from __future__ import annotations

import dataclasses
from datetime import date, timedelta
from pathlib import Path

import pytest

from rigcalc.assembly import job_sheet
from rigcalc.shop import check_shop, load_shop, sample_shop_path
from rigcalc.shop.card import wall_card
from rigcalc.shop.check_stores import days_of, to_come
from rigcalc.shop.order_file import read_order_file

FOLDER = Path(__file__).resolve().parents[2] / "lessons" / "orders"
SAMPLE = sample_shop_path().read_text(encoding="utf-8")
SHOP = load_shop(sample_shop_path())
AHEAD = date.today() + timedelta(days=60)


@pytest.mark.parametrize("old, field", [
    ("set_on = 2026-02-16\nscope", "factor 1 set_on"), ("checked_on = 2026-02-18", "chart 1 checked_on"), ("copied_on = 2026-02-17", "chart 1 copied_on"),
    ("checked_on = 2026-03-02", "gauge 1 checked_on"), ('set_by = "Ines Varrow"\nset_on = 2026-02-16', "pull_test 1 set_on"),
    ("measured_on = 2026-02-20", "growth 1 measured_on"), ("pulled_on = 2026-03-05", "pulled_lot 1 pulled_on"), ("kept_on = 2026-03-06", "offcut 1 kept_on")])
def test_a_day_after_today_is_a_mistake_and_named_whether_the_shop_is_invented_or_not(tmp_path, old, field):
    text = SAMPLE.replace(old, old.rsplit(" = ", 1)[0] + f" = {AHEAD}" if "scope" not in old else f"set_on = {AHEAD}\nscope", 1)
    assert text != SAMPLE
    path = tmp_path / "shop.toml"
    path.write_text(text, encoding="utf-8")
    told = [str(problem) for problem in check_shop(path) if problem.field == field]
    assert any(str(AHEAD) in line and f"today ({date.today()}) or earlier" in line for line in told), check_shop(path)


def test_the_sample_s_own_days_are_no_mistake_where_the_clock_stands_earlier():
    values = {"form": {}, "gauge": [{"checked_on": AHEAD, "due_on": AHEAD + timedelta(days=9)}]}
    assert [finding.path for finding in to_come(values)] == [("gauge", 0, "checked_on")]
    assert to_come(values, days_of(values)) == []


@pytest.mark.parametrize("today, said", [(date(2026, 3, 1), "is said to have been checked on 2026-03-02, a day after 2026-03-01"), (date(2046, 3, 3), "was due on 2046-03-02"),
                                         (date(2046, 3, 2), ""), (date(2026, 3, 2), "")])
def test_what_is_said_of_a_gauge_is_true_on_that_day(today, said):
    made = job_sheet(dataclasses.replace(read_order_file(str(FOLDER / "02_cafe_wires.toml"))), SHOP, today)
    stops = " ".join(made.before_starting)
    assert f"STOP: gauge GB {said}." in stops if said else "gauge" not in stops
    card = wall_card(SHOP, "LB", today)
    assert (f"STOP: gauge GB {said}." in " ".join(card.stops) and card.rows[0].overdue == "STOP: OUT OF DATE.") if said else (card.stops, card.rows[0].overdue) == ((), "")


@pytest.mark.parametrize("old, new, field", [('copied_by = "Parvel Minch"', 'copied_by = "-"', "chart 1 copied_by"), ('checked_by = "Ines Varrow"', 'checked_by = "John Doe"', "chart 1 checked_by"),
                                             ('owner = "Ines Varrow"', 'owner = "n/a"', "factor 1 owner"), ('measured_by = "Parvel Minch"', 'measured_by = "xxx"', "growth 1 measured_by")])
def test_a_dash_or_a_stand_in_answers_for_nothing(tmp_path, old, new, field):
    path = tmp_path / "shop.toml"
    path.write_text(SAMPLE.replace(old, new, 1), encoding="utf-8")
    assert [problem.field for problem in check_shop(path) if "answers for nothing" in str(problem)] == [field]
