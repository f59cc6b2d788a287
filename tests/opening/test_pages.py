"""What the pages before the lessons say of the shop: no maker's chart, a mistake, and what a sound file still lacks."""

from __future__ import annotations

import re
from html import unescape
from types import SimpleNamespace

import pytest

from rigcalc.cautions import INVENTED_PAGE, PRACTICE
from rigcalc.home import installed_folder
from rigcalc.opening import pages
from rigcalc.shop import check_shop, load_shop, sample_shop_path
from rigcalc.shop.commands import check_shop_file

SERVER = SimpleNamespace(desk_address="")
DOORS = (pages.first_page, pages.learn_page, pages.teach_page, pages.assess_page)
OWN = (("invented = true", "invented = false"), ("invented chart", "our chart"), ("invented maker", "maker"),
       ("invented cert", "cert"), ("invented pull", "pull"), ("Ambrel Quay Cable Bench", "Long Pier Wire"),
       ("Ines Varrow", "A. Trainer"), ("Osk Tamberlin", "B. Assessor"),
       ("Bettan Roole", "C. Registrar"), ("Parvel Minch", "D. Keeper"))


def own_text(*without: str) -> str:
    """The sample's figures under names of one's own, without some blocks."""
    text = sample_shop_path().read_text(encoding="utf-8")
    for old, new in OWN:
        text = text.replace(old, new)
    parts = re.split(r"(?m)^(?=\[)", text)
    return "".join(p for p in parts if not any(p.startswith((f"[[{b}]]", f"[[{b}.")) for b in without))


def bars(html: str) -> list[str]:
    return [unescape(one) for one in re.findall(r'<p class="invented">(.*?)</p>', html)]


@pytest.mark.parametrize("door", DOORS)
def test_without_a_makers_chart_a_bold_bar_says_practice(home, door):
    (home / "shop.toml").write_text(own_text("chart"), encoding="utf-8")
    assert check_shop(home / "shop.toml") == []
    assert bars(door(SERVER)) == [PRACTICE]


@pytest.mark.parametrize("door", DOORS)
def test_with_a_makers_chart_no_bar_says_practice(home, door):
    assert bars(door(SERVER)) == [INVENTED_PAGE]


def test_teach_shows_the_notes_that_the_command_prints(home, capsys):
    own = home / "shop.toml"
    text = re.sub(r"due_on = \d{4}", "due_on = 2019", own_text("chart", "factor"))
    text = re.sub(r"checked_on = \d{4}", "checked_on = 2018", text)
    own.write_text(text, encoding="utf-8")
    assert check_shop_file([str(own)]) == 0
    printed = [line.strip() for line in capsys.readouterr().out.splitlines() if line.strip().startswith("Note: ")]
    assert any("gauge" in line for line in printed) and any("maker's chart" in line for line in printed) and len(printed) >= 3
    said = unescape(pages.teach_page(SERVER))
    for line in printed:
        assert f'role="status">{line}</p>' in said


def facts_of(number: str) -> dict:
    from rigcalc.opening.shelf import find_sheet

    return pages.page_facts({}, notebook_path=find_sheet(number).address.lstrip("/") + ".ipynb")["workbook"]


def test_a_lesson_says_practice_and_invented_where_the_sample_stands_in(home):
    (home / "shop.toml").write_text(own_text("chart"), encoding="utf-8")
    assert not load_shop().invented
    facts = facts_of("05")
    assert facts["note"].startswith(PRACTICE) and facts["invented"].startswith("INVENTED")


def test_a_lesson_says_in_one_short_line_which_shop_file_is_to_be_checked_and_how(home):
    (home / "shop.toml").write_text(own_text().replace('system = "US"', 'system = "furlongs"', 1), encoding="utf-8")
    facts = facts_of("05")
    assert check_shop(home / "shop.toml") and "furlongs" not in facts["note"] and len(facts["note"].replace(str(home), "")) < 160
    assert str(home / "shop.toml") in facts["note"] and "type: rigcalc shop" in facts["note"]
    assert facts["invented"].startswith("INVENTED")


def test_teach_leads_to_a_sheet_that_prints_alone(home):
    said = pages.teach_page(SERVER)
    assert "?print=practice-sheet" in said and "?print=recap" in said


def test_teach_leads_to_a_wall_card_for_each_tool(home):
    assert 'href="/wall-cards"' in pages.teach_page(SERVER)
    said = pages.wall_cards_page(SERVER)
    assert said.count("<h1") == 4 and all(f" {tool}" in said for tool in ("LA", "LB", "LC", "BB")) and "INVENTED" in said
    (home / "shop.toml").write_text(own_text("chart"), encoding="utf-8")
    assert "without a maker&#x27;s chart" in pages.wall_cards_page(SERVER)


def test_teach_says_which_question_families_of_ones_own_are_in_force(home):
    own = home / "working" / "quizzes" / "families"
    installed = installed_folder() / "quizzes" / "families"
    said = unescape(pages.teach_page(SERVER))
    assert "The installed question families are in force." in said and str(own) in said and str(installed) in said
    own.mkdir(parents=True)
    (own / "cut-length.toml").write_bytes((installed / "cut-length.toml").read_bytes())
    assert "Own families in force: 1 (in place of the installed cut-length)" in unescape(pages.teach_page(SERVER))
    (own / "cut-length.toml").write_text("form = = 1", encoding="utf-8")
    assert "Refused: cut-length.toml, line 1" in unescape(pages.teach_page(SERVER))


def test_a_lesson_page_says_its_number_and_leads_to_the_lessons_before_and_after(home):
    from rigcalc.opening.shelf import lessons

    row = lessons()
    facts = facts_of("05")
    assert facts["title"] == "05 Forming an eye" and facts["head"] == "05"
    at = [sheet.number for sheet in row].index("05")
    wanted = [(word, row[there].full_title) for word, there in (("Before", at - 1), ("Next", at + 1)) if 0 <= there < len(row)]
    assert [(one["word"], one["name"]) for one in facts["beside"]] == wanted


def test_learn_lists_every_lesson_with_its_minutes_and_teach_every_way_to_open_it(home):
    from rigcalc.opening.shelf import lessons

    learn, teach = unescape(pages.learn_page(SERVER)), unescape(pages.teach_page(SERVER))
    for sheet in lessons():
        assert sheet.minutes, f"{sheet.key}: the list at the side says reading, drill and bench minutes"
        assert f'{sheet.title}</a> <span class="takes">{", ".join(f"{what} {minutes} min" for what, minutes in sheet.minutes)}</span>' in learn
        row = teach[teach.index(f'<th scope="row"><a href="{sheet.address}">'):]
        row = row[:row.index("</tr>")]
        for end in ("?projector=1", "#practice-sheet", "?print=practice-sheet", "?print=recap", "?notes=1", "?notes=alone"):
            assert f'href="{sheet.address}{end}"' in row, end
