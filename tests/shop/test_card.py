"""The wall card: what stands on it, what is drawn, and when it is void."""

from __future__ import annotations

import dataclasses
import re
from datetime import date

import pytest
from on_paper import printed

from rigcalc.cautions import CAUTIONS, INVENTED, INVENTED_GAUGE
from rigcalc.cli import main
from rigcalc.errors import Refusal
from rigcalc.notebook.bench_units import by_caliper, by_rule
from rigcalc.shop import load_shop, sample_shop_path
from rigcalc.shop.card import card_as_html, card_as_text, card_code, card_stands, crimp_drawing, wall_card
from rigcalc.sleeve import ASK_THE_MAKER

SAMPLE = sample_shop_path().read_text(encoding="utf-8")
SHOP = load_shop(sample_shop_path())


@pytest.fixture(autouse=True)
def home(tmp_path, monkeypatch):
    monkeypatch.setenv("RIGCALC_HOME", str(tmp_path / "home"))
    return tmp_path


def changed(tmp_path, old, new):
    """The sample shop with one text changed."""
    assert old in SAMPLE
    path = tmp_path / "changed.toml"
    path.write_text(SAMPLE.replace(old, new, 1), encoding="utf-8")
    return load_shop(path)


def words(html):
    return " ".join(re.sub(r"<[^>]+>", " ", html).split())


# --- what stands on it ----------------------------------------------------------------------------------

def test_each_size_of_the_tool_s_charts_stands_on_its_card():
    rows = wall_card(SHOP, "LB").rows
    assert [(r.size, r.sleeve_metal, r.count, r.cavity) for r in rows] == [
        ("1/8", "aluminium", 3, "P"), ("5/32", "aluminium", 3, "Q"), ("3/16", "aluminium", 4, "R"),
        ("1/8", "zinc-plated copper", 4, "P"), ("5/32", "zinc-plated copper", 4, "Q")]
    assert [r.tail for r in rows[:3]] == ["at least 1/4 in [6.4 mm]", "at least 5/16 in [8 mm]", "at least 3/8 in [9.6 mm]"]  # 2 d, up
    assert rows[0].gauge == "GB, slot 1/8, across a crimp at most 0.330 in [8.40 mm]"     # 8.4 / 25.4 = 0.3307, down


@pytest.mark.parametrize("write, length, system, direction, shown", [
    (by_caliper, 8.509, "SI", "down", "8.5 mm"), (by_caliper, 8.509, "SI", "up", "8.51 mm"), (by_caliper, 8.509, "US", "down", "0.335 in [8.50 mm]"),     # 0.335 in
    (by_rule, 6.35, "SI", "up", "6.4 mm"), (by_rule, 6.35, "SI", "down", "6.3 mm"), (by_rule, 1234.56, "SI", "nearest", "1234.6 mm"), (by_rule, 600.0, "SI", "up", "600 mm")])
def test_a_most_and_a_least_are_rounded_to_the_safe_side_on_every_paper(write, length, system, direction, shown):
    assert write(length, dataclasses.replace(SHOP, system=system), direction) == shown


@pytest.mark.parametrize("form", [card_as_text, lambda card: words(card_as_html((card,)))])
def test_the_card_carries_the_chart_its_people_the_warnings_and_its_code(form):
    text = " ".join(form(wall_card(SHOP, "LB")).replace("\n", " ").split()).replace("&#x27;", "'")
    for said in ("long lever", INVENTED, INVENTED_GAUGE, "LB-AL", "LB-ZC", "edition 5", "copied by Parvel Minch", "checked by Ines Varrow",
                 f"Card {card_code(SHOP, 'LB')}", "Void when the chart changes", "in line with the jaws", "never sufficient", "still be seen",
                 *CAUTIONS[:3]):
        assert said in text, said
    assert CAUTIONS[3] not in text and "competence" not in text


@pytest.mark.parametrize("form", [card_as_text, lambda card: words(card_as_html((card,)))])
def test_the_command_on_the_card_is_never_broken_in_two_lines(form):
    card = wall_card(SHOP, "LB")
    assert f'<span class="typed">rigcalc shop --card-check {card.code}</span></p>' in card_as_html((card,)) and card.void in " ".join(form(card).split())


@pytest.mark.parametrize("form", [card_as_text, lambda card: words(card_as_html((card,)))])
def test_a_gauge_that_is_overdue_is_marked_on_the_card(form):
    text = " ".join(form(wall_card(SHOP, "LC", date(2026, 11, 25))).split())
    assert text.count("STOP: gauge GC was due on") == 1 and text.count("STOP: OUT OF DATE.") == 2 and "STOP" not in form(wall_card(SHOP, "LC", date(2026, 3, 1)))
    assert "STOP" not in form(wall_card(SHOP, "LB", date(2026, 11, 25)))


def test_an_si_shop_s_card_has_its_own_unit_first():
    row = wall_card(dataclasses.replace(SHOP, system="SI"), "LB").rows[0]
    assert row.gauge.endswith("at most 8.40 mm [0.330 in]") and row.tail == "at least 6.4 mm [1/4 in]"


def test_a_real_shop_s_card_says_nothing_of_invented():
    card = wall_card(dataclasses.replace(SHOP, invented=False, charts=tuple(dataclasses.replace(c, invented=False, maker="its maker")
                                                                           for c in SHOP.charts)), "LA")
    assert "INVENTED" not in card_as_text(card) and "INVENTED" not in card_as_html((card,))


def test_names_from_the_shop_file_are_shown_as_text():
    shop = dataclasses.replace(SHOP, name="<script>x</script>")
    assert "<script>" not in card_as_html((wall_card(shop, "LA"),)).partition("<main>")[2]


# --- what is drawn ----------------------------------------------------------------------------------------

def drawn(row):
    """The marks on the crimps from the thimble's side to the tail's."""
    marks = re.findall(r'<text x="([0-9.]+)" [^>]*text-anchor="middle"[^>]*>([^<]+)</text>', crimp_drawing(row).svg)
    return [mark for _, mark in sorted(marks, key=lambda pair: float(pair[0]))]


def test_the_order_is_drawn_on_the_crimps_from_the_thimble():
    rows = {(c.id, r.size): r for c in SHOP.charts for r in c.rows}
    assert drawn(rows["LB-AL", "1/8"]) == ["2nd", "1st", "3rd"]                # order 2, 1, 3
    assert drawn(rows["LB-AL", "3/16"]) == ["3rd", "1st", "2nd", "4th"]        # order 2, 3, 1, 4
    assert drawn(rows["LC-AL", "5/16"]) == ["4th", "2nd", "1st", "3rd", "5th"]  # order 3, 2, 4, 1, 5
    assert drawn(rows["BB-AL", "3/32"]) == ["1st"]
    assert "place 2, place 1, place 3, counted from the thimble" in crimp_drawing(rows["LB-AL", "1/8"]).alt


def test_without_an_order_nothing_is_numbered_and_the_maker_is_asked(home):
    shop = changed(home, "order = [2, 1, 3]", 'order = "maker gives none"')
    row = wall_card(shop, "LB").rows[0]
    assert drawn(row.row) == [] and "ask the tool maker" in crimp_drawing(row.row).alt
    assert ASK_THE_MAKER in card_as_html((wall_card(shop, "LB"),)) and ASK_THE_MAKER in " ".join(card_as_text(wall_card(shop, "LB")).split())


def test_a_row_without_widths_is_drawn_all_the_same():
    row = dataclasses.replace(SHOP.charts[0].rows[0], crimp_width_mm=None, sleeve_after_mm=None)
    assert drawn(row) == ["1st", "2nd"]


# --- the code -----------------------------------------------------------------------------------------------

@pytest.mark.parametrize("old, new", [
    ('edition = "5"', 'edition = "6"'), ('checked_by = "Ines Varrow"\nchecked_on = 2026-02-18\n\n[[chart.row]]\nsize = "1/8"\ncavity = "P"',
                                         'checked_by = "Osk Tamberlin"\nchecked_on = 2026-02-18\n\n[[chart.row]]\nsize = "1/8"\ncavity = "P"'),
    ("order = [2, 1, 3]", "order = [1, 2, 3]"), ('gauge_max = "8.4 mm"', 'gauge_max = "8.5 mm"'),
    ('sleeve_after = "20 mm"', 'sleeve_after = "20.5 mm"')])
def test_any_change_in_the_chart_voids_the_card_of_its_tool_alone(home, old, new):
    shop = changed(home, old, new)
    assert not card_stands(shop, card_code(SHOP, "LB")) and card_stands(shop, card_code(shop, "LB"))
    assert all(card_stands(shop, card_code(SHOP, tool)) for tool in ("LA", "LC", "BB"))


@pytest.mark.parametrize("old, new", [('system = "US"', 'system = "SI"'), ("due_on = 2046-03-02", "due_on = 2047-03-02"),
                                      ('lot = "L-2604"', 'lot = "L-2704"')])
def test_what_is_not_the_chart_voids_no_card(home, old, new):
    assert card_stands(changed(home, old, new), card_code(SHOP, "LB"))


def test_a_field_that_nobody_filled_voids_no_card():
    code = card_code(SHOP, "LB")
    opened = tuple(dataclasses.replace(c, rows=tuple(dataclasses.replace(r, efficiency=None) for r in c.rows)) for c in SHOP.charts)
    assert card_code(dataclasses.replace(SHOP, charts=opened), "LB") == code
    filled = tuple(dataclasses.replace(c, rows=tuple(dataclasses.replace(r, efficiency=0.9) for r in c.rows)) for c in SHOP.charts)
    assert card_code(dataclasses.replace(SHOP, charts=filled), "LB") != code


def test_a_tool_without_a_chart_has_no_card_and_an_old_one_is_void():
    bare = dataclasses.replace(SHOP, charts=())
    with pytest.raises(Refusal, match="not hung on a wall"):
        wall_card(bare, "LB")
    assert not card_stands(bare, card_code(SHOP, "LB"))
    with pytest.raises(Refusal, match="LA, LB"):
        wall_card(SHOP, "LX")


@pytest.mark.parametrize("code", ["", "LB", "LB-", "LB-12", "LB-zzzzzzzz", "-12345678"])
def test_what_is_no_code_is_refused(code):
    with pytest.raises(Refusal, match="such as LB-"):
        card_stands(SHOP, code)


# --- the command ----------------------------------------------------------------------------------------------

def test_the_command_prints_writes_and_checks(capsys, home):
    assert main(["shop", "--card", "LB"]) == 0
    code = re.search(r"--card-check (LB-[0-9a-f]{8})", capsys.readouterr().out.replace("\n ", ""))[1]
    assert main(["shop", "--card-check", code]) == 0 and "stands" in capsys.readouterr().out
    assert main(["shop", "--card-check", f" {code.lower()} "]) == 0
    capsys.readouterr()
    assert main(["shop", "--card-check", code[:-1] + ("0" if code[-1] != "0" else "1")]) == 2
    assert "VOID" in capsys.readouterr().out
    page = home / "cards.html"
    assert main(["shop", "--card", "--html", str(page)]) == 0
    assert page.read_text(encoding="utf-8").count('<section class="wall') == 4 and str(page) in capsys.readouterr().out


@pytest.mark.parametrize("given, said", [
    (["--card", "LX"], "LA, LB, LC, BB"), (["--card", "LB", "--sizes", "1/8"], "one of them at a time"), (["--html", "x.html"], "together with --card"),
    (["--card", "LB", "--html", "x.txt"], "ends in .html"), (["--card", "LB", "--html", "/no/such/folder/x.html"], "No such file"),
    (["--card", "--new"], "one of them")])
def test_a_refusal_is_one_sentence(capsys, given, said):
    assert main(["shop", *given]) == 2
    out, err = capsys.readouterr()
    assert out == "" and err.startswith("Refused:") and err.count("\n") == 1 and said in err


# --- on paper ---------------------------------------------------------------------------------------------------

def _found_bad(blocks):
    return tuple(dataclasses.replace(one, found_bad=date(2026, 11, 20), found_bad_by="Parvel Minch", why="stands open at the far end") for one in blocks)


STOPPED = dataclasses.replace(SHOP, tools=_found_bad(SHOP.tools), gauges=_found_bad(SHOP.gauges))


@pytest.mark.paper
@pytest.mark.parametrize("shop", [SHOP, STOPPED], ids=["in use", "out of use"])
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_each_tool_prints_on_one_sheet(chromium, paper, shop):
    page = card_as_html(tuple(wall_card(shop, tool.id) for tool in shop.tools)).replace("@page {", f"@page {{ size:{paper};")
    assert len(printed(chromium, page)) == 4


def test_a_card_of_a_tool_that_is_gone_is_void(home, capsys):
    code = card_code(SHOP, "LB")
    shop = dataclasses.replace(SHOP, tools=tuple(t for t in SHOP.tools if t.id != "LB"), charts=tuple(c for c in SHOP.charts if c.tool != "LB"))
    assert not card_stands(shop, code)
    assert main(["shop", "--card-check", "LX-12345678"]) == 2
    told = capsys.readouterr()
    assert told.err == "" and "VOID" in told.out and "Take the card down" in told.out and "LA, LB" in told.out
