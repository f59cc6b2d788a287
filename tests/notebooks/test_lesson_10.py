"""Lesson 10: its printed and invented examples, its seven live figures in every state that matters, and what it must say."""

from __future__ import annotations

import math
import re
from html import escape

import pytest
from boards import after, said, tones
from stored import stored

from rigcalc.cautions import CAUTIONS, INVENTED
from rigcalc.errors import Refusal
from rigcalc.home import installed_folder
from rigcalc.notebook.course import frame_boards as frame
from rigcalc.notebook.course import hanging_boards as hung
from rigcalc.notebook.course import hangings as hang
from rigcalc.notebook.course import hangings_sheets as sheets
from rigcalc.notebook.course import hangings_worked as work
from rigcalc.notebook.course import held_boards as held
from rigcalc.notebook.trainer_day import NUMBERS, day, day_of
from rigcalc.shop import sample_shop_path

LESSON = stored(installed_folder() / "lessons" / "10_legs_braces_spans.ipynb")
BOARDS = (hung.which_pulls_hardest, hung.one_written_angle, hung.move_the_points, frame.four_legs, held.turn_the_wind, held.brace_the_gate,
          held.hang_it_over_the_lane)


# --- Worked examples ------------------------------------------------------------------------------

@pytest.mark.parametrize("block, figures", [
    # NAVEDTRA 14080, p 3-23: 1000 lb, two legs: 500 lb each plumb, 1000 lb each at 30 degrees
    (work.printed_legs, ("500 ÷ 1.00 = 500 lbf", "500 ÷ 0.50 = 1000 lbf")),
    # Engineering Statics, ch. 3, Cargo Boom: 17.16 kN and 25.9 kN
    (work.printed_boom, ("= 17.16 kN", "= 25.9 kN")),
    # University Physics 1, tightrope: 70.0 kg x 9.80 / (2 sin 5.0 degrees) = 3935.5 N, printed 3930 and 3.94e3
    (work.printed_wire, ("343 ÷ 0.08716 = 3935 N", "it prints 3930 N")),
    # order 5: H (4/3 + 4/5) = 84, so H = 39.375; 39.375 x 5/3 and x sqrt(41)/5
    (work.worked_kayak, ("84 × 60 ÷ (36 + 60) = 52.5 lbf", "48 ÷ 60 = 0.8, that is 53.1°", "52.5 ÷ 0.8 = 65.6 lbf", "31.5 ÷ 0.6247 = 50.4 lbf", "governs | leg A")),
    # the far point higher: slopes 1.0 and 1.2; 84 / 2.2 = 38.18; x sqrt(2) and x sqrt(1 + 1.44)
    (work.worked_uneven, ("= 1.00, so 45.0°", "= 1.20, so 50.2°", "84 ÷ (1.00 + 1.20) = 38.2 lbf", "38.18 × 50.91 ÷ 36 = 54.0 lbf", "38.18 × 93.72 ÷ 60 = 59.6 lbf",
                          "governs | leg B: the steeper one, and here that is the long one")),
    # 3-4-5: 36 and 48 give 60
    (work.two_cables, ("root of 36 × 36 + 48 × 48 = 60 in", "64 in [1626 mm] | longer than that: it hangs loose", "56 in [1422 mm] | shorter than that: it brings")),
    # order 4: 6 x 9.80665 = 58.84 N; x 6000 / (8 x 150) = 294.2; with 29.42 at right angles: 295.7
    (work.worked_curtain, ("58.84 × 6000 ÷ (8 × 150) = 294.2 N", "[29 N]", "= 295.7 N: 66.5 lbf [296 N]")),
    # order 1: 90 x sqrt(160) / 4; the hinge: 90 x 3
    (work.worked_gate, ("180 × 72 ÷ 144 = 90.0 lbf", "that is 18.4°", "90 ÷ 0.3162 = 284.6 lbf", "284.6 × 144 ÷ 151.8 = 270.0 lbf")),
    # order 3: 4.5 x sqrt(226)
    (work.worked_lantern, ("that is 3.8°", "4.5 ÷ 0.06652 = 67.6 lbf", "÷ 9 = 7.5")),
])
def test_worked_examples_give_the_printed_and_the_hand_worked_figures(block, figures):
    text = str(block())
    assert all(figure in text for figure in figures), text
    assert text in LESSON.shown


@pytest.mark.parametrize("name", [name for name in work.__all__ if name not in ("printed_boom", "two_cables")])
@pytest.mark.parametrize("unit", ["US", "SI"])
def test_whoever_works_a_printed_sum_again_comes_to_what_is_printed_beside_it(name, unit, monkeypatch):
    for module in (hang, work):
        monkeypatch.setattr(module, "system", lambda: unit)
    sums = re.findall(r"\| ([\d.]+(?: [÷×+] \(?[\d.]+\)?)+(?: [÷×+] [\d.]+\)?)*) = ([\d.]+)( kN)?", str(getattr(work, name)()))
    assert sums, name
    for left, printed, kilo in sums:
        worked = eval(left.replace("÷", "/").replace("×", "*")) / (1000 if kilo else 1)
        assert worked == pytest.approx(float(printed), abs=1.02 * 0.5 * 10 ** -len(printed.partition(".")[2])), (left, printed)


def test_half_the_sag_is_twice_the_pull_in_the_table():
    times = [float(line.rpartition(" | ")[2]) for line in str(hang.sag_table()).splitlines()[2:]]
    assert times == pytest.approx([1, 2, 4, 8], rel=0.005)


def test_the_parabola_is_on_the_safe_side_and_a_deep_one_is_refused():
    text = str(hang.parabola_table())
    shares = [float(one) for one in re.findall(r"\+ (\d+\.\d+) %", text)]
    assert shares == sorted(shares) and 0 < shares[0] and shares[-1] == pytest.approx(1.11) and "up to 0.1 of the span" in text


def test_a_wire_cut_shorter_pulls_harder_as_a_range():
    rows = [[float(one) for one in re.findall(r"(\d+\.\d) lbf", line)] for line in str(hang.stretch_table()).splitlines()[2:]]
    assert all(low < high for low, high in rows) and rows[0][1] < rows[1][0] < rows[1][1] < rows[2][0]


def test_a_pull_is_told_from_the_limit_and_its_owner():
    text = str(hang.pulls_are_no_limits())
    for words in ("65.6 lbf", "design load of 100 lbf", "180 lbf", "Maro Tellfer", "284.6 lbf", "756 lbf", "Ines Varrow", "198 lbf", "Corla Venn"):
        assert words in text, words
    assert "65.6 lbf" in str(hang.refused_orders()) and "42 lbf" in str(hang.refused_orders())
    assert "--" not in str(hang.refused_orders()) and "qualified person" in str(hang.refused_orders())


def test_the_class_of_use_stands_before_any_sum():
    places = list(LESSON.anchors)
    assert places.index("who-is-under-it") < min(places.index(name) for name in ("which-angle", "legs", "four-legs", "the-brace", "spans"))
    text = str(hang.who_is_under())
    assert text.count("people can be there") == 2 and text.count("nobody can be there, as long as it stays shut and locked") == 1 and "INVENTED" in text
    told = " ".join(LESSON.markdown.split())
    for term in ("A gate **swings**, and whoever opens it stands **beside** the cable", "chained and locked while the brace is tight", "In doubt take the safer class"):
        assert term in told


# --- All boards -----------------------------------------------------------------------------------

@pytest.mark.parametrize("make", BOARDS)
def test_every_offer_of_every_control_gives_a_view_that_says_something(make):
    start = make()
    for control in start.seen.controls:
        more = dict(control.more)
        offers = more["values"] if control.kind == "choice" else (more["least"], more["most"]) if control.kind == "slider" else (None,)
        for offer in offers:
            one = after(make(), (control.name, offer))
            assert one.seen.said and one.seen.figures and one.seen.controls, (control.name, offer)


@pytest.mark.parametrize("make", BOARDS)
def test_no_part_to_point_at_has_the_name_of_a_control(make):
    # a board takes a control's name for the control, and would not hear the pointing
    seen = make().seen
    picks = {name for figure in seen.figures for name in re.findall(r'data-pick="([^"]+)"', figure.svg)}
    assert not picks & {control.name for control in seen.controls}


def test_a_live_figure_is_drawn_as_thick_as_it_pulls():
    def widths(load):
        board = after(hung.move_the_points(), ("load", load), ("said", "A"))
        found = {float(one) for one in re.findall(r'stroke="#47525b" stroke-width="([\d.]+)"', board.seen.figures[0].svg)}
        return sorted(found - {13.0})  # 13 px is the key's line, 50 lbf

    # 65.625 and 50.42 lbf of 84; 13 px for 50 lbf
    assert widths(84) == pytest.approx([13.11, 17.06], abs=0.01) and widths(44) == pytest.approx([6.87, 8.94], abs=0.01)


# --- The first question ---------------------------------------------------------------------------

@pytest.mark.parametrize("kind, tone", [("kayak", "no"), ("gate", "no"), ("lantern", "ok")])
def test_the_light_one_pulls_hardest_and_the_others_say_so(kind, tone):
    board = after(hung.which_pulls_hardest(), ("pointed", kind))
    assert tones(board) == [tone]
    assert ("7.5 times" in said(board)) == (kind == "lantern")
    assert ("284.6" in board.seen.figures[0].svg) == (kind == "lantern"), "the pulls come when it is found"


def test_a_page_can_point_at_a_cable():
    board = hung.which_pulls_hardest()
    board.hear({"name": "pointed", "value": "gate", "picked": True})
    assert board.state["said"] == "gate" and "1.6 times the weight" in said(board)


# --- Which angle ----------------------------------------------------------------------------------

def test_one_figure_has_one_right_and_three_wrong_answers_once_asked():
    board = hung.one_written_angle()
    assert board.seen.under is None and "lbf" not in board.seen.figures[0].alt
    after(board, ("ask", None))
    table = board.seen.under.text
    # 84 lbf: 42 / sin 40, / sin 50, / sin 70, and 42
    assert [re.search(r"(\d+\.\d) lbf", line)[1] for line in table.splitlines()[2:]] == ["65.3", "54.8", "44.7", "42.0"]
    assert table.count("✗") == 3 and table.count("✓") == 1 and tones(board) == ["ok"]


def test_a_pull_that_is_asked_for_is_not_told_by_the_width_of_a_line():
    for drawing in (hang.three_readings(said=False), hung.one_written_angle().seen.figures[0], hung.bridle_still(said=False), held.lane_still()):
        assert len(set(re.findall(r'stroke="#47525b" stroke-width="([\d.]+)"', drawing.svg))) == 1
    assert len(set(re.findall(r'stroke="#47525b" stroke-width="([\d.]+)"', hang.three_readings().svg))) == 3


def test_a_still_whose_pull_is_asked_for_is_not_hidden_as_the_live_ones_twin_and_does_not_tell_it():
    for asked, told, board, figure in ((held.gate_still(said=False), held.gate_still(), held.brace_the_gate, "284.6"), (hung.bridle_still(said=False), hung.bridle_still(), hung.move_the_points, "65.6")):
        assert figure in told.svg and figure not in asked.svg + asked.alt + board().seen.figures[0].svg and asked.alt != board().seen.figures[0].alt
    assert "67.6" not in held.lane_still().svg + held.lane_still().alt


def test_who_takes_it_before_asking_was_wrong_even_when_right():
    for read in ("horizontal", "vertical", "included"):
        board = after(hung.one_written_angle(), ("read", read))
        assert tones(board) == ["no"] and "does not say" in said(board)
        after(board, ("ask", None))
        assert tones(board) == ["no"] and ("luck" in said(board)) == (read == "included")


def test_a_flat_meaning_is_refused_in_words_and_in_the_drawing():
    board = after(hung.one_written_angle(), ("degrees", 66), ("read", "vertical"))
    assert "30 degrees from the horizontal or more" in said(board) and "refused: too flat" in board.seen.figures[0].svg
    after(board, ("degrees", 40))
    assert "30 degrees" not in said(board) and not board.state["asked"]


def test_a_fresh_letter_keeps_what_it_was_drawn_from():
    one, other = (after(hung.one_written_angle(), ("fresh", None)).state for _ in range(2))
    assert len(bytes.fromhex(one["fresh"])) == 16 and one["fresh"] != other["fresh"]
    assert 30 <= one["degrees"] <= 60 and one["meant"] in hung.TAKEN and not one["asked"]


def test_the_same_angle_by_chance_is_said():
    board = after(hung.one_written_angle(), ("degrees", 60), ("ask", None))
    assert "by chance" in board.seen.under.text  # 60 between the legs is 60 from the horizontal


# --- A bridle's points ----------------------------------------------------------------------------

def test_the_bridle_begins_as_the_order_and_its_pulls_wait_until_it_is_said_which_governs():
    board = hung.move_the_points()
    assert "governs:" not in said(board) and board.seen.under is None and "65.6" not in board.seen.figures[0].svg + board.seen.figures[0].alt
    assert len(set(re.findall(r'stroke="#47525b" stroke-width="([\d.]+)"', board.seen.figures[0].svg))) == 1
    assert tones(after(board, ("said", "B")))[0] == "no" and tones(after(board, ("said", "A")))[0] == "ok"
    assert "Leg A governs: 65.6 lbf" in said(board) and "50.4 lbf" in board.seen.under.text
    assert after(board, ("load", 44)).state["said"] == "A", "the same hanging, lighter"


def test_what_hangs_in_another_way_is_asked_anew():
    board = after(hung.move_the_points(), ("said", "A"), ("up", 36), ("chosen", "B"), ("up", 72))
    assert board.state["said"] == "" and "hangs in another way" in said(board) and "59.6" not in said(board)
    assert after(board, ("said", "B"), ("count", 4)).state["said"] == ""


def test_a_leg_below_30_degrees_is_refused_and_still_drawn():
    board = after(hung.move_the_points(), ("along", 84))
    assert tones(board)[0] == "no" and "30 degrees from the horizontal" in said(board) and board.seen.figures
    assert "none given" in board.seen.under.text and "29.7°" in board.seen.under.text


def test_legs_too_short_are_refused_and_still_drawn():
    board = after(hung.move_the_points(), ("cut", "kept"), ("along", 84))
    assert "too short to meet" in said(board) and board.seen.figures


def test_two_legs_swing_under_the_line_between_their_points():
    board = after(hung.move_the_points(), ("across", 10), ("said", "A"))
    assert "does not stay where it was measured" in said(board)


def test_three_legs_have_one_answer_and_it_holds_the_load():
    board = after(hung.move_the_points(), ("count", 3), ("across", 10))
    found = hung.hang(hang.in_mm(board.state["points"]), hung._lengths(board.state), 84.0)
    upright = sum(leg.pull_n * (leg.anchor_mm[2] - found.at_mm[2]) / math.dist(leg.anchor_mm, found.at_mm) for leg in found.legs)
    assert upright == pytest.approx(84) and not found.solved.combinations


def test_four_legs_show_their_worst_cases_and_a_few_millimetres_decide():
    board = after(hung.move_the_points(), ("count", 4))
    assert board.seen.under is None and "31.5" not in board.seen.figures[0].svg
    assert tones(after(board, ("said", hung.SEVERAL)))[0] == "ok"
    # even: 84 / (4 sin 41.8); at worst two carry: twice that
    assert "31.5 lbf" in board.seen.under.text and "63.0 lbf" in board.seen.under.text and "Four legs never share" in said(board)
    assert "A and C | A 63.0 lbf, C 63.0 lbf" in board.seen.under.text
    after(board, ("trim", 5), ("said", hung.SEVERAL))
    assert "Slack: A. Straight, and pulling nothing: C." in said(board) and "Legs B and D govern: 63.0 lbf" in said(board)
    most = {row.split(" | ")[0]: row.split(" | ")[-1] for row in board.seen.under.text.splitlines()[1:5]}
    assert all(most[name].startswith("63.0 lbf") and most[name].endswith("once the slack is out") for name in "AC"), most
    assert not any("slack" in most[name] for name in "BD")
    after(board, ("back", None), ("said", "A"))
    assert "31.5 lbf" in board.seen.under.text


def test_a_long_leg_hangs_loose_and_the_other_has_the_whole_load():
    board = after(hung.move_the_points(), ("cut", "kept"), ("chosen", "B"), ("trim", 60), ("along", 0), ("said", "A"))
    assert "Slack: B" in said(board) and "Leg A governs: 84.0 lbf" in said(board)


def test_fewer_legs_leave_a_point_that_is_there():
    board = after(hung.move_the_points(), ("count", 4), ("pointed", "D"))
    assert board.state["chosen"] == "D"
    assert after(board, ("count", 2)).state["chosen"] == "A"


def test_the_long_leg_can_be_the_steeper_one():
    board = after(hung.move_the_points(), ("up", 36), ("chosen", "B"), ("up", 72), ("said", "B"))
    assert "Leg B governs: 59.6 lbf" in said(board)
    assert "short, steep" not in str(sheets.recap()) and "the steeper one pulls harder" in str(sheets.recap())


@pytest.mark.parametrize("told", ["how far the leg goes **up**, divided by the leg's own length", "Force times that distance is its moment", "a stiff bar, which can push",
                                  "Let the load hang plumb from the **shorter** cable alone", "the steeper leg pulls harder. Work out both", "No count is a rule here"])
def test_words_of_the_books_and_ways_of_working_are_told_before_they_are_asked(told):
    assert told in " ".join(LESSON.markdown.split())


def test_no_field_name_of_a_file_stands_among_the_words():
    assert not re.search(r"\([a-z]+(_[a-z]+)?\)\?|designer_|--", str(hang.refused_orders()))


# --- What the page must say -----------------------------------------------------------------------

def test_six_wrong_answers_are_drawn_and_what_is_right_waits_one_by_one():
    words = hang.wrong_answers().alt + str(hang.right_answers())
    assert hang.right_answers().html.count("<details class=\"when-said\">") == 6 and hang.refused_orders().html.count("<details class=\"when-said\">") == 2
    for figure in ("42.0 lbf", "65.6 lbf", "18.4°", "284.6 lbf", "4.5 lbf", "67.6 lbf", "135.1 lbf", "100.0 lbf", "200.0 lbf", "cannot push"):
        assert figure in words, figure


def test_the_letter_says_the_least_load_once():
    assert str(hang.refused_orders()).count("65.6 lbf") == 1 and "at least 65.6 lbf [292 N], the pull in short leg;" in str(hang.refused_orders())


def test_lengths_stand_in_the_shops_own_unit_first():
    stills = (hung.bridle_still(), frame.four_still(), held.gate_still(), held.lane_still())
    live = [after(hung.move_the_points(), ("trim", 5)), after(frame.four_legs(), ("long", "A"))]
    shown = [still.svg + still.alt for still in stills] + [" ".join(map(str, one.seen.controls)) + said(one) for one in live] + [str(hang.stretch_table()), str(work.two_cables())]
    for words in shown:
        assert " in [" in words and not re.findall(r"(?<!\[)\b\d+ mm\b", words), words


def test_the_three_rules_stand_side_by_side_with_one_least_angle():
    text = str(hang.three_rules())
    assert text.count("30 degrees") == 1 and text.count("| none |") == 2


def test_the_sheets_say_what_is_owed():
    lines = str(sheets.recap()).splitlines()
    assert 10 <= len(lines) <= 16 and sum(-(-len(line) // 80) for line in lines) <= 40
    practice = str(sheets.practice_sheet())
    assert practice.count("STOP:") == 3 and "Brace, at the bench: pass / reject" in practice
    assert "HV-AL" not in sheets.practice_sheet().html and escape(CAUTIONS[0]) in sheets.practice_sheet().html, "no sleeve is on this sheet; the cautions stay"
    assert "360 lbf" not in practice and "Ines Varrow" not in practice, "the sheet tells what it asks"
    assert "360 lbf [1.60 kN]" in str(sheets.last_stop()) and "Ines Varrow" in str(sheets.last_stop())
    assert "Tool no." not in sheets.practice_sheet().html and sheets.practice_sheet().html.count("seen by:") == 5, "of three columns the legs' line is signed once"
    rows = [line.split(" | ") for line in str(sheets.sources()).splitlines()[1:]]
    assert all(len(row) == 3 and row[2] for row in rows) and {"read", "common practice", "computed", "INVENTED"} <= {row[2] for row in rows}
    assert INVENTED in str(hang.opening())


def test_the_trainer_has_parts_for_each_shape():
    told = " ".join(note for _, note in LESSON.notes)
    for part in ("cord", "spring scale", "strip of wood", "broomstick", "folding rule", "tray"):
        assert part in told, part


def test_a_load_that_no_leg_can_reach_is_refused():
    with pytest.raises(Refusal, match="too short to meet"):
        hung.hang([(-1000.0, 0.0, 500.0), (1000.0, 0.0, 500.0)], [900.0, 900.0], 84.0)


# --- Another shop ---------------------------------------------------------------------------------

@pytest.mark.parametrize("change, note", [
    (('system = "US"', 'system = "SI"'), ""),
    (('"aluminium"', '"tin-plated copper"'), "no aluminium chart row"),
])
def test_another_shop_is_shown_in_its_own_units_or_the_sample_stands_in(tmp_path, monkeypatch, change, note):
    text = sample_shop_path().read_text(encoding="utf-8")
    assert change[0] in text
    (tmp_path / "shop.toml").write_text(text.replace(*change), encoding="utf-8")
    monkeypatch.setenv("RIGCALC_HOME", str(tmp_path))
    assert note in str(hang.opening())
    for make in BOARDS:
        assert make().seen.said and make().seen.figures
    first = after(hung.move_the_points(), ("count", 4), ("trim", 5), ("said", "A"))
    assert ("280 N [63 lbf]" in said(first)) == (not note)
    for block in (work.worked_kayak, hang.sag_table, hang.pulls_are_no_limits, sheets.practice_sheet, sheets.recap, sheets.sources):
        assert str(block())
    assert ("(N)" in str(sheets.practice_sheet())) == (not note)


def test_a_shop_without_a_factor_gets_a_refusal_on_the_sheet(tmp_path, monkeypatch):
    text = re.sub(r"(?ms)^\[\[factor\]\].*?(?=^\[)", "", sample_shop_path().read_text(encoding="utf-8"))
    (tmp_path / "shop.toml").write_text(text, encoding="utf-8")
    monkeypatch.setenv("RIGCALC_HOME", str(tmp_path))
    assert "no design factor" in str(sheets.last_stop())


@pytest.mark.parametrize("group", [4, 8])
def test_four_and_eight_have_rounds_of_their_own_and_no_place_has_two_pairs(group):
    told = day_of("10")
    other = next(one for one in told.others if one["group"] == group)
    assert len(other["rota"][0]) * 2 == group and all(row.count(place) <= 1 for row in other["rota"] for place in range(len(told.stations)))
    for pair in zip(*other["rota"], strict=True):
        assert sorted(one for one in pair if one < len(told.stations)) == list(range(len(told.stations)))
    assert f"{len(other['rota']) * told.round_min} min at the bench" in next(line for line in str(day("10")).splitlines() if line.startswith(f"With {NUMBERS[group]} people: "))
