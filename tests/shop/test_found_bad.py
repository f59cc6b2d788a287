"""A tool or a gauge that was found bad: the sheet, the shop, the wall card and the sizes wanted all say STOP until its lines are taken out."""

from __future__ import annotations

import dataclasses
from datetime import date
from pathlib import Path

import pytest

from rigcalc.assembly import job_sheet
from rigcalc.cli import main
from rigcalc.shop import check_shop, load_shop, sample_shop_path
from rigcalc.shop.card import card_as_html, card_as_text, card_code, wall_card
from rigcalc.shop.order_file import read_order_file
from rigcalc.shop.wanted import sizes_wanted

FOLDER = Path(__file__).resolve().parents[2] / "lessons" / "orders"
DAY = date(2026, 11, 25)
SAMPLE = sample_shop_path().read_text(encoding="utf-8")
LINES = 'found_bad = 2026-11-20\nfound_bad_by = "Parvel Minch"\nwhy = "{why}"\n'
GAUGE, TOOL = 'id = "GB"\n', 'id = "LB"\nname = "long lever"\n'
WORN, OPEN = LINES.format(why="slot 3/16 is worn"), LINES.format(why="jaws stand open at the far end")
OF_GAUGE = "gauge GB was found bad on 2026-11-20 by Parvel Minch (slot 3/16 is worn)"
OF_TOOL = "tool LB was found bad on 2026-11-20 by Parvel Minch (jaws stand open at the far end)"


def written(tmp_path, *changes):
    """The sample shop's file with lines put in after others."""
    text = SAMPLE
    for after, lines in changes:
        assert text.count(after) == 1
        text = text.replace(after, after + lines)
    file = tmp_path / "shop.toml"
    file.write_text(text, encoding="utf-8")
    return file


@pytest.fixture(params=[(GAUGE, WORN, OF_GAUGE), (TOOL, OPEN, OF_TOOL)], ids=["gauge", "tool"])
def bad(request, tmp_path):
    after, lines, said = request.param
    return written(tmp_path, (after, lines)), said


def test_the_sheet_says_stop_and_the_command_ends_with_3(bad, capsys):
    file, said = bad
    made = job_sheet(read_order_file(str(FOLDER / "01_gate_brace.toml")), load_shop(file), DAY)
    assert any(line.startswith(f"STOP: {said}. Press nothing") for line in made.before_starting)
    assert main(["job", str(FOLDER / "01_gate_brace.toml"), "--shop", str(file)]) == 3
    capsys.readouterr()
    assert main(["job", str(FOLDER / "08_lanyards.toml"), "--shop", str(file)]) == 0  # pressed in LA, gauged with GA


def test_the_shop_says_it_and_which_pieces_go_back(bad, capsys):
    file, said = bad
    assert main(["shop", str(file)]) == 0
    out = capsys.readouterr().out
    assert f"Note: {said}: tag it out of use. Every piece" in out and "since its last good check" in out and "recalled" in out
    assert "A piece stays out only where it is written down that it was" in out and "rigcalc." not in out
    lesson = (Path(__file__).parents[2] / "lessons" / "07_gauge_and_inspect.ipynb").read_text(encoding="utf-8")
    assert "Lesson 07, 'Containment: what goes back', shows how the list is made." in out and "## Containment: what goes back" in lesson
    assert ("on 2026-03-02 where none came later, goes back to another gauge" if "gauge GB" in said else "goes back to the gauge") in out
    assert main(["shop", str(sample_shop_path())]) == 0 and "found bad" not in capsys.readouterr().out


def test_the_wall_card_says_stop_and_its_check_ends_with_3(bad, capsys):
    file, said = bad
    shop = load_shop(file)
    card = wall_card(shop, "LB", DAY)
    assert f"STOP: {said}" in " ".join(card_as_text(card).split()) and f"STOP: {said}" in card_as_html((card,))
    assert "STOP" not in card_as_text(wall_card(shop, "LA", DAY))
    code = card_code(shop, "LB")
    assert code == card_code(load_shop(sample_shop_path()), "LB")  # the chart is the same: the card is not void
    assert main(["shop", str(file), "--card-check", code]) == 3
    out = capsys.readouterr().out
    assert "stands" in out and f"STOP: {said}" in out
    assert main(["shop", str(file), "--card-check", card_code(shop, "LA")]) == 0


def test_a_card_whose_gauge_is_out_of_date_ends_with_3(capsys):
    code = card_code(load_shop(sample_shop_path()), "LC")  # its gauge GC was due on 2026-03-02
    assert main(["shop", str(sample_shop_path()), "--card-check", code]) == 3
    assert "STOP: gauge GC was due on 2026-03-02" in capsys.readouterr().out


def test_the_sizes_wanted_name_it(bad):
    file, said = bad
    wanted, = sizes_wanted(load_shop(file), ("3/16",), on=DAY)
    assert any(gap.startswith(said) for gap in wanted.gaps)
    assert {way.gauge_mark for way in wanted.ways} == ({"FOUND BAD"} if "gauge GB" in said else {""})


def test_what_was_found_bad_judges_on_no_day_and_is_marked_so():
    shop = load_shop(sample_shop_path())
    gauge = dataclasses.replace(shop.gauge("GB"), found_bad=date(2026, 11, 20), found_bad_by="Parvel Minch", why="worn")
    for day in (date(2026, 11, 19), DAY):
        assert not gauge.in_date(day) and gauge.mark(day) == "FOUND BAD"
    assert [shop.gauge("GC").mark(day) for day in (date(2026, 3, 2), date(2026, 3, 3))] == ["", "OUT OF DATE"]


@pytest.mark.parametrize("after, lines, field, said", [
    (GAUGE, "found_bad = 2026-11-20\n", "gauge 2 found_bad", "found_bad without found_bad_by and why"),
    (TOOL, 'found_bad_by = "Parvel Minch"\nwhy = "bent"\n', "tool 2 found_bad_by", "found_bad_by without found_bad"),
    (TOOL, OPEN.replace("Parvel Minch", "-"), "tool 2 found_bad_by", "the name of a person"),
    (GAUGE, WORN.replace("2026-11-20", "2026-03-01"), "gauge 2 found_bad", "delete found_bad, found_bad_by and why"),
    (GAUGE, WORN.replace("2026-11-20", "2096-03-01"), "gauge 2 found_bad", "what is still to come has not been done"),
    (TOOL, OPEN.replace("2026-11-20", '"yesterday"'), "tool 2 found_bad", "a date, year first")])
def test_lines_that_say_too_little_or_cannot_be_are_told(tmp_path, after, lines, field, said):
    problems = check_shop(written(tmp_path, (after, lines)))
    assert any(problem.field == field and said in str(problem) for problem in problems), problems


def test_the_sample_says_how_to_write_it():
    assert all(f"{word}" in SAMPLE for word in ("found_bad = ", "found_bad_by = ", "why = "))
