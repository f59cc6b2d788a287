"""Lesson 05: what it alone must show, say and refuse; what every lesson must hold is in test_lessons.py."""

from __future__ import annotations

import re

import pytest
from boards import said
from stored import stored

from rigcalc.cautions import INVENTED, INVENTED_GAUGE
from rigcalc.home import installed_folder
from rigcalc.figures.faults import FAULTS
from rigcalc.figures.sections import ON_FLASH
from rigcalc.notebook import explorers
from rigcalc.notebook import forming_an_eye as eye
from rigcalc.notebook import sheets
from rigcalc.shop import load_shop, sample_shop_path
from rigcalc.sleeve import fill

LESSON = stored(installed_folder() / "lessons" / "05_forming_an_eye.ipynb")


def test_nobody_gauges_by_the_practice_sheet_of_an_invented_shop():
    assert INVENTED_GAUGE in LESSON.shown


def test_the_worked_example_is_the_published_one():
    # trade's cut list: 2400 - 60 + 2 (70 + 15 + 7) = 2524 mm
    assert str(eye.worked()).splitlines()[-1] == "cut length | 2524" and "Step | mm" in str(eye.worked())
    assert "cut length | 2524" in LESSON.shown and "Cut length 2524 mm." in LESSON.shown


def test_the_tail_table_is_the_misstep_of_the_trade():
    # 1/8 in, sleeve 15 to 20 mm: 3.175 - 5 and 6.35 - 5
    text = str(eye.tail_table())
    assert "none: the end is 1.8 mm inside" in text and "1.4 mm shows" in text


def test_the_limit_is_the_base_case_of_the_trade_with_its_owner():
    text = str(eye.limit_lines())
    assert "360 lbf [1.60 kN]" in text and "Ines Varrow" in text and "static work with nobody in reach" in text


def test_a_thin_cable_fills_just_over_half_of_the_sleeve():
    assert f"3/32 in | 1/8 in | {fill('3/32', '1/8'):.0%}" in str(eye.too_small()) and "56%" in str(eye.too_small())


def test_every_explorer_stands_after_a_still_drawing_of_the_same():
    order = [cell.source for cell in LESSON.code]
    place = {name: next(i for i, source in enumerate(order) if name in source) for name in
             ("eye.tails(1)", "eye.tails(2)", "press_the_eye", "eye.stages(\"bare\")", "eye.jaws()", "close_the_jaws", "eye.good()", "six_pieces")}
    assert place["eye.good()"] < place["six_pieces"]
    assert max(place["eye.tails(1)"], place["eye.tails(2)"]) < place["press_the_eye"]
    assert max(place['eye.stages("bare")'], place["eye.jaws()"]) < place["close_the_jaws"]


def test_the_trainer_is_told_the_ten_minute_demonstration():
    told = " ".join(note for _, note in LESSON.notes)
    # tail, small cable, scale, flat, coat; behind a guard, in a tagged tool
    for part in ("tail of one diameter", "3/32 cable in a 1/8 sleeve", "scale", "pressed flat", "coat slides", "behind the guard",
                 "NOT FOR WORK"):
        assert part in told, part


def test_the_abilities_are_the_skills_of_this_lesson():
    text = str(sheets.abilities())
    assert [int(number) for number in re.findall(r"^(\d+) \|", text, re.M)] == list(range(27, 37))


def test_the_practice_sheet_takes_its_limits_from_the_chart_and_lets_nobody_press_alone():
    text = str(sheets.practice_sheet())
    for words in ("at least 9/32 in [7 mm], marked", "Cut to 28 1/2 in [724 mm] for 23 5/8 in [600 mm] pin to pin", "others here came to 25/32 in [20 mm]", "Tool LB, cavity P", "Crimps counted aloud: 3", "Gauge GB, slot 1/8", "within 7/64 in [3 mm]", "(in or mm)",
                  "First press: only with somebody beside you", "gaps at least 0.020 in [0.5 mm]", INVENTED_GAUGE):
        assert words in text, words
    assert text.count("STOP:") == 4 and text.count("seen by: ____") == 4
    assert [line for line in text.splitlines() if "because" in line] == [f"Eye {n}: pass / reject (ring one), because ____" for n in (1, 2)]


def test_the_bands_tell_which_size_a_reading_is():
    text = str(eye.flats_table())  # AC 43.13-1B Table 7-3: 3/16 +0.018 in, 5/32 +0.016 in
    assert "3/16 in: 4.76 mm to 5.22 mm | 3/16 in: right" in text and "5/32 in: 3.97 mm to 4.38 mm | 5/32 in: wrong" in text


# --- Live figures ---------------------------------------------------------------------------------

@pytest.mark.parametrize("content", ["coated", "too small"])
def test_the_jaws_say_stop_from_the_start(content):
    for stage, words in ((0, "Take the legs out"), (10, "Take the legs out"), (50, "reject"), (90, "reject"), (100, "Reject it")):
        _, said, tone = explorers.jaws_view(stage, content, True)
        assert words in said and "Finish the stroke" not in said and tone == "no", (stage, said)
        assert stage == 100 or said.startswith("Stop: ")


def test_a_flat_sleeve_is_set_upright_before_its_metal_moves_and_rejected_after():
    for stage in range(0, 101, 10):
        _, said, tone = explorers.jaws_view(stage, "bare", False)
        assert tone == "no" and ("set it upright" in said) == (stage <= 10) and ("A reject for good" in said) == (stage > 10), (stage, said)
        assert "not fully closed" not in said and (ON_FLASH in said) == (stage > 10)


@pytest.mark.parametrize("content, upright, words", [("bare", False, "A reject for good"), ("coated", True, "It is a reject now"), ("too small", True, "It is a reject now"), ("bare", True, "Finish the stroke")])
def test_metal_that_moved_stays_moved_until_a_fresh_sleeve_is_taken(content, upright, words):
    board = explorers.close_the_jaws()
    for name, value in (("content", content), ("upright", upright), ("stage", 10)):
        board.act_of(name, value)
    assert not dict(next(one for one in board.seen.controls if one.name == "fresh").more)["enabled"]
    for stage in (50, 0):
        board.act_of("stage", stage)
        assert words in said(board) and "No metal has moved" not in said(board), (stage, said(board))
    assert "opened again: the metal stays as it was pressed" in said(board) and "The jaws are open again." in board.seen.figures[0].alt
    for name, value in (("upright", not upright), ("content", "coated" if content == "bare" else "bare")):
        held = dict(board.state)
        board.act_of(name, value)
        assert "a fresh sleeve" in said(board) and board.state == held
    board.act_of("fresh")
    assert board.state["pressed"] == 0 and words not in said(board)
    board.act_of("upright", True)
    board.act_of("content", "bare")
    assert "Nothing is pressed yet" in said(board)


def test_a_right_sleeve_wants_its_stroke_finished():
    assert explorers.jaws_view(0, "bare", True)[2] == "" and "Finish the stroke" in explorers.jaws_view(90, "bare", True)[1]
    assert explorers.jaws_view(100, "bare", True)[2] == "ok"


def test_a_tail_that_shows_is_a_pass_so_far():
    reel = next(one.id for one in eye.kit().shop.reels if one.size == "1/8" and one.metal == "galvanised" and not one.coating_to)
    assert "1.4 mm of tail still shows: a pass so far, gauge every crimp next." in explorers.tail_view(reel, 2.0, True)[1]


def test_six_pieces_say_nothing_before_they_are_asked_and_judge_both_answers():
    board = explorers.six_pieces()
    assert "✗" not in board.seen.figures[0].svg and not board.seen.controls[-1].more[0][1]
    for letter, name in zip("ABCDEF", explorers.PIECES):
        board.act_of("piece", letter)
        board.act_of("fault", name)
        board.act_of("gauge", FAULTS[name][1].partition(":")[0])
        board.act_of("say")
        assert [one.tone for one in board.seen.said][:2] == ["ok", "ok"], name
    assert board.seen.figures[0].svg.count("✗") == 6 and "All six are told" in board.seen.said[-1].text
    board = explorers.six_pieces()
    board.act_of("fault", "nothing")
    board.act_of("gauge", "yes")
    board.act_of("say")
    assert [one.tone for one in board.seen.said] == ["no", "no"] and "Lost count" in board.seen.said[0].text
    board.hear({"name": "point", "value": "B", "picked": True})  # pointed at on the drawing
    assert board.state["piece"] == "B"
    assert board.state["fault"] == "" and board.state["told"] == ["crimp missing"]


def test_every_option_of_the_six_pieces_gives_a_view():
    for fault in ("", *explorers.ANSWERS):
        for gauge in ("", "no", "yes", "sometimes"):
            assert explorers.pieces_view({"piece": "C", "fault": fault, "gauge": gauge, "told": [], "said": ()}).figures


def test_the_recap_fits_one_page():
    lines = str(sheets.recap()).splitlines()
    assert 10 <= len(lines) <= 16 and sum(-(-len(line) // 80) for line in lines) <= 40


def test_sources_say_how_they_are_known():
    rows = [line.split(" | ") for line in str(sheets.sources()).splitlines()[1:]]
    assert len(rows) >= 10 and all(len(row) == 3 and row[2] for row in rows)
    assert any("Table 7-3" in row[1] and row[2] == "read" for row in rows)
    assert {"common practice", "computed"} <= {row[2] for row in rows}


# --- Another shop ---------------------------------------------------------------------------------

@pytest.fixture
def another_shop(tmp_path, monkeypatch):
    """A home with a shop file made from the sample by replacing words."""
    def write(*changes: tuple[str, str]) -> None:
        text = sample_shop_path().read_text(encoding="utf-8")
        for old, new in changes:
            assert old in text
            text = text.replace(old, new)
        (tmp_path / "shop.toml").write_text(text, encoding="utf-8")
        monkeypatch.setenv("RIGCALC_HOME", str(tmp_path))
        eye.kit.cache_clear()

    yield write
    eye.kit.cache_clear()


OWN = (("invented = true", "invented = false"), ("invented chart", "our chart"), ("invented maker", "maker"), ("invented cert", "cert"), ("invented pull", "pull"), ("Ambrel Quay Cable Bench", "Long Pier Wire"),
       ("Ines Varrow", "A. Trainer"), ("Osk Tamberlin", "B. Assessor"), ("Bettan Roole", "C. Registrar"), ("Parvel Minch", "D. Keeper"))


def test_the_lesson_speaks_of_the_shop_in_force(another_shop):
    another_shop(*OWN, ('sleeve_after = "20 mm"', 'sleeve_after = "21.2 mm"'))
    assert "6.2 mm" in str(eye.tail_table())
    assert INVENTED not in str(eye.opening()) and INVENTED_GAUGE not in str(sheets.practice_sheet())
    assert "INVENTED" not in eye.tails(2).caption and "D. Keeper" in str(eye.opening())


def test_without_an_aluminium_chart_the_invented_sample_stands_and_says_so(another_shop):
    another_shop(*OWN, ('"aluminium"', '"tin-plated copper"'))
    assert not eye.kits(load_shop())
    assert INVENTED in str(eye.opening()) and "no aluminium chart row" in str(eye.opening())


def test_without_a_factor_the_limit_is_refused_in_one_sentence(another_shop):
    text = sample_shop_path().read_text(encoding="utf-8")
    start = text.index("[[factor]]")
    block = text[start:text.index("# --- Reels")]
    another_shop((block, "\n"))
    assert str(eye.limit_lines()).startswith("Refused: no design factor was given")
