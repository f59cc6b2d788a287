"""Lesson 04: fitting clips, a month later, side by side, which end for which job, and where clips are forbidden."""

from __future__ import annotations

import re

import pytest
from boards import after, each_option_of, said, tones
from test_other_shops import shop_text, stranger  # noqa: F401 (shop_text is a fixture)

from rigcalc.notebook.course import clip_fitting as fitting
from rigcalc.notebook.course import clipping as clips
from rigcalc.notebook.course import clipping_sheets as sheets
from rigcalc.notebook.trainer_day import NUMBERS, day, day_of

BOARDS = (clips.fit_the_clips, clips.a_month_later, clips.side_by_side, clips.clips_or_sleeve)
GOOD = (40.0, 78.0, 117.0)  # the invented maker's row for 1/4: turnback 130, base 26.9 mm: first at 40.35, last at 116.55, 38.1 apart


def fitted(places=GOOD, saddles=("live",) * 8, torque=18.0, load=True, after=18.0):
    board = clips.fit_the_clips()
    for place, side in zip(places, saddles):
        board.act_of("at", place)
        board.act_of("saddle", side)
        board.act_of("fit")
    tighten(board, torque)
    if load:
        board.act_of("load")
        tighten(board, after)
    board.act_of("judge")
    return board


def tighten(board, torque):
    board.act_of("wrench", torque)
    if torque:
        board.act_of("tighten")


def test_the_worked_example_is_the_rows():
    text = str(clips.worked())
    # 29 CFR 1918 App. II: three, drop-forged, up to 1/2 in; six diameters of 1/4 in are 38.1 mm; TM 5-3810-305-10 Table 4: 80 %
    assert "drop-forged clips | 3" in text and "38.1 mm" in text and "80%" in text and "130 mm" in text


def test_six_diameters_is_one_figure_in_table_row_and_drawing():
    for size, six in (("1/8", "19.1 mm"), ("1/4", "38.1 mm")):
        found = clips.plan(size)
        assert f"{found.actual_spacing_mm:.1f} mm" == f"{found.spacing_mm:.1f} mm" == six
        assert not any("ask the clip maker" in note for note in found.notes)
    svg = clips.done_still().svg
    assert svg.count(">1 1/2 in<") == svg.count(">[38.1 mm]<") == 2 and ">base<" in svg and ">left free<" in svg and "1 1/16 in [26.9 mm] are free" in clips.done_still().alt


def test_a_turnback_grows_in_proportion_to_the_number():
    # by hand: 130 for three, so 130 / 3 x 4 = 173.3 for four; 139.7 (5 1/2 in) for two, so 209.55 for three
    text = str(clips.turnback_table())
    assert "5 1/8 in [130 mm] ÷ 3 × 4 | 6 7/8 in [174 mm]" in text and "5 1/2 in [140 mm] ÷ 2 × 3 | 8 1/4 in [210 mm]" in text


def test_the_answers_of_what_came_back_are_folded():
    assert clips.came_back_words().html.startswith("<details") and "open>" not in clips.came_back_words().html


def test_numbers_and_the_rule_of_thumb():
    assert "1/4 in | 3 | 4 | 1 1/2 in [38.1 mm]" in str(clips.number_table())
    assert str(clips.number_table()).count("refused | refused") == 3  # 1/16, 3/32 and 5/32 have no row
    assert "1/8 in | 2 | 3 | too few" in str(clips.thumb_table()) and "1/2 in | 3 | 3 | enough" in str(clips.thumb_table())


def test_a_good_end_has_nothing_to_mend():
    board = fitted()
    assert [one.tone for one in board.seen.said] == ["ok"] and "Nothing to mend" in said(board)


@pytest.mark.parametrize("how, words", [
    ({"saddles": ("live", "dead", "live")}, "bites into the part that carries the load"), ({"places": (40.0, 117.0)}, "3 are the least"),
    ({"places": (40.0, 70.0, 117.0)}, "less than six diameters"), ({"places": (40.0, 70.0, 117.0)}, "1 7/8 in [47 mm] apart, far over six diameters, 1 1/2 in [38.1 mm]"), ({"places": (60.0, 99.0)}, "one base of the clip from the dead end"),
    ({"places": (40.0, 78.0)}, "close to the thimble"), ({"torque": 0.0}, "were not tightened"), ({"torque": 0.0, "load": False}, "The nuts were not tightened."), ({"torque": 25.0}, "crushes the cable"),
    ({"after": 0.0}, "were not tightened after the load"), ({"after": 12.0}, "Loose: it slips"), ({"load": False}, "never loaded")])
def test_each_fault_of_a_fitted_end_is_named(how, words):
    board = fitted(**how)
    assert words in said(board), said(board)
    assert "ok" not in [one.tone for one in board.seen.said]


def test_pointing_at_a_clip_turns_it_and_two_cannot_share_a_place():
    board = fitted(saddles=("live", "dead", "live"), torque=0.0, load=False)
    assert "turn it before you tighten" in said(board) and "bites" not in said(board)
    board.act_of("clip", "B")
    assert all(side == "live" for _, side, *_ in board.state["clips"])
    after(board, ("at", 32.0), "fit")
    assert len(board.state["clips"]) == 3 and "Another clip takes this place" in said(board)
    after(board, ("wrench", 18.0), "tighten", "load", "tighten", "judge")
    assert tones(board) == ["ok"]  # turned while nothing was tight, it has bitten nothing


def test_a_live_part_that_was_bitten_stays_bitten_until_the_end_is_made_anew():
    turned = fitted(saddles=("live", "dead", "live"), load=False)
    after(turned, ("clip", "B"), "tighten", "load", "tighten", "judge")
    assert "Nothing to mend" not in said(turned) and "It was B at 3 1/16 in [78 mm]. Turning it mends nothing" in turned.seen.said[0].text
    assert "The live part is bitten 3 1/16 in [78 mm] from the dead end" in turned.seen.figures[0].alt
    hung = fitted(saddles=("live", "dead", "live"))
    after(hung, ("clip", "B"))
    assert "No clip of it is turned now" in said(hung) and hung.state["clips"][1][1] == "dead"
    taken_off = fitted(places=(40.0, 117.0, 78.0), saddles=("live", "live", "dead"), load=False)
    after(taken_off, "off", ("saddle", "live"), "fit", "tighten", "load", "tighten", "judge")
    assert "It was C at 3 1/16 in [78 mm]" in said(taken_off) and "fresh cable" in said(taken_off)
    after(taken_off, "anew")
    assert taken_off.state == fitting.FRESH


def test_too_much_torque_once_stays_whatever_the_wrench_says_afterwards():
    board = fitted(torque=40.0, load=False)
    after(board, ("wrench", 18.0), "tighten", "load", "tighten", "judge")
    assert tones(board) == ["no"] and "29.5 lbf ft [40 N m] at A, B and C" in said(board) and "Those clips and the cable there are out" in said(board)
    one = fitted(places=GOOD[:1], torque=40.0, load=False)  # the others come on after it, at the right torque
    for place in GOOD[1:]:
        after(one, ("at", place), "fit")
    after(one, ("wrench", 18.0), "tighten", "load", "tighten", "judge")
    assert tones(one) == ["no"] and "29.5 lbf ft [40 N m] at A;" in said(one) and "That clip and the cable there are out" in said(one)
    late = fitted(after=40.0)
    after(late, ("wrench", 18.0), "tighten", "judge")
    assert "the cable there are out" in said(late)


def test_an_end_that_was_loaded_with_loose_nuts_is_made_anew_and_says_so():
    board = fitted(torque=10.0, load=False)
    after(board, "load")
    assert "7.4 lbf ft [10 N m]; the row says 13.3" in said(board) and "The cable slips in the clips" in said(board) and "press Anew" in said(board)
    after(board, ("wrench", 18.0), "tighten", "judge")
    assert tones(board) == ["no"] and "It was loaded while the nuts stood at" in said(board)
    assert "slips out of the clips" in said(after(fitted(torque=0.0, load=False), "load"))
    assert "ruined before it" in said(after(fitted(torque=40.0, load=False), "load"))


def test_a_wrench_that_was_set_and_not_used_tightens_nothing():
    board = after(clips.fit_the_clips(), ("at", 40.0), "fit", "tighten")
    assert "stands at 0 lbf ft [0 N m]" in said(board)
    after(board, ("wrench", 40.0), ("wrench", 18.0), "tighten", "judge")
    assert "crush" not in said(board) and board.state["clips"][0][2] == 18.0
    after(board, ("at", 78.0), "fit", "judge")
    assert "The nuts of B were not tightened" in said(board)


def test_a_month_later_is_judged_by_what_the_wrench_finds():
    board = clips.a_month_later()
    assert "A: " not in said(board)
    board.act_of("tighten")
    assert board.state["act"] == "" and "No nut was tried yet" in said(board)
    board.act_of("clip", "A")
    board.act_of("tighten")
    assert "only 1 of 3" in said(board)
    found = clips.month(board.state["seed"])
    assert "turned" not in found and "loose" in found
    board = clips.a_month_later()
    for letter in "ABC":
        board.act_of("clip", letter)
    board.act_of("tighten")
    assert board.seen.said[0].tone == "ok"


# (what the wrench would find, tried, act) and what must be said of it, the gravest first
@pytest.mark.parametrize("found, act, words, never", [
    ("tight turned loose", "leave", "the nuts of B. Wrong way round", "tight today"), ("loose turned tight", "tighten", "the nuts of B. Wrong way round", "Right"),
    ("tight tight turned", "hard", "the nuts of C. Wrong way round", "one tight clip"), ("loose loose tight", "leave", "The nuts of A and B are loose, and a loose clip slips", "tight today"),
    ("tight tight tight", "out", "No nut is loose", "first month does"),
    ("loose tight tight", "out", "that is what a first month does", "No nut is loose"), ("tight tight tight", "hard", "No nut is loose", "every nut in turn"), ("loose tight loose", "hard", "Load off, and every nut in turn", "No nut"), ("tight loose tight", "hard", "no longer share the load", "one tight clip")])
def test_a_month_later_answers_what_is_drawn(found, act, words, never):
    told = clips.month_said(found.split(), [0, 1, 2], act)
    assert told.tone == "no" and words in told.text and never not in told.text
    assert "You tried only 1 of 3" in clips.month_said(found.split(), [0], act).text or "turned" in found


def test_the_still_end_of_a_month_later_is_the_boards_own_and_no_nut_shows_its_finding():
    board = clips.a_month_later()
    assert clips.month_still().alt == board.seen.figures[0].alt and "off the saddle" not in clips.month_still().alt
    board.act_of("clip", "A")
    board.act_of("clip", "B")
    board.act_of("clip", "C")
    assert clips.month_still().alt != board.seen.figures[0].alt


def test_a_clipped_ends_limit_is_worked_step_by_step():
    # AC 43.13-1B, Table 7-3: 7000 lbf; TM 5-3810-305-10, Table 4: 80 %; the invented shop's factor is 5: 5600 and 1120 lbf
    text = str(clips.limit_worked())
    assert all(words in text for words in ("7000 lbf", "times 0.8", "5600 lbf", "divided by 5", "1120 lbf", "AC 43.13-1B, Table 7-3", "TM 5-3810-305-10, Table 4", "INVENTED"))


def test_where_a_clip_is_held_counts_to_its_middle_in_the_shops_own_unit_first():
    board = clips.fit_the_clips()
    assert "Dead end to clip's middle: 2 3/8 in [60 mm]" in str(board) and "base of a clip 1 1/16 in [26.9 mm]" in said(board)


def test_each_drawing_of_the_invented_row_carries_its_mark(shop_text):
    made = (clips.done_still, clips.month_still, clips.two_still, *(lambda which=which: clips.came_back(which) for which in range(3)))
    assert all("INVENTED" in make().caption for make in made)
    shop_text(stranger())
    assert all("INVENTED shop, not yours" in make().caption for make in made if make != clips.two_still)
    assert " in [" not in str(clips.fit_the_clips()) and "lbf ft" not in str(clips.fit_the_clips())  # the stranger's shop is an SI one


def test_fresh_ends_hold_every_finding_and_a_turned_saddle_goes_out_of_use():
    ends = [clips.month(f"{at:064x}") for at in range(60)]
    assert {one for end in ends for one in end} == {"tight", "loose", "turned"}
    right = {act: [clips.month_said(end, [0, 1, 2], act).tone == "ok" for end in ends] for _, act in clips.ACTS}
    assert right["out"] == ["turned" in end for end in ends] and right["tighten"] == ["turned" not in end for end in ends] and not any(right["hard"])
    assert right["leave"] == [set(end) == {"tight"} for end in ends] and "guessed" in clips.month_said(["tight"] * 3, [0], "leave").text
    board = clips.a_month_later()
    board.act_of("leave")
    for _ in range(20):
        before = clips.month(board.state["seed"])
        board.act_of("fresh")
        assert clips.month(board.state["seed"]) != before
    assert board.state["tried"] == [] and len(board.state["seed"]) == 64
    board = clips.a_month_later()
    board.state["seed"] = next(f"{at:064x}" for at, end in enumerate(ends) if end[0] == "turned")
    assert "Wrong way round" not in said(after(board, ("clip", "A"))) and "A: Tight" in said(board)  # the eye finds it, not the wrench


@pytest.mark.parametrize("size", clips.SIZES)
def test_every_size_is_laid_side_by_side_or_refused_with_its_reason(size):
    board = clips.side_by_side()
    board.act_of("size", size)
    if board.seen.figures:
        assert "strength" in board.seen.under.text and board.seen.figures[0].alt.startswith(f"Two ends in {size} in cable")
    else:
        assert size in ("1/16", "3/32", "5/32", "3/8") and "Refused: " in said(board)
        assert ("No clip goes on this one" in said(board)) == (size != "3/8")  # 3/8 has a clip row; the shop has no such reel


def test_side_by_side_uses_ninety_and_eighty_percent_of_the_same_cable():
    board = clips.side_by_side()
    row = next(line for line in board.seen.under.text.splitlines() if line.startswith("strength"))
    assert "6300 lbf" in row and "5600 lbf" in row  # 1/4 7x19 galvanised 7000 lbf, AC 43.13-1B Table 7-3: x 0.90, x 0.80
    board.act_of("forged", False)
    assert "5 pieces: 4 clips and a thimble" in board.seen.under.text and "6 7/8 in [174 mm]: the turnback" in board.seen.under.text  # 130 / 3 x 4 = 173.3, up
    assert "from another table" in said(after(board, ("size", "3/16"))) and "another table" not in said(after(board, ("size", "1/4")))


def test_each_line_of_the_table_can_be_read_out_beside_the_question():
    board = clips.side_by_side()
    assert "Who is better off" in said(board)
    lines = [line.split(" | ") for line in board.seen.under.text.splitlines()[1:]]
    assert [line[0] for line in lines if line[3] != "say it first"] == ["a case for it"]
    told = [line.split(" | ") for line in after(clips.side_by_side(), "all").seen.under.text.splitlines()[1:]]
    for at, (about, sleeve, clipped, better) in enumerate(told):
        board.act_of("line", about)
        assert said(board).startswith(about.capitalize()) and sleeve.rstrip(".") in said(board) and clipped.rstrip(".") in said(board)
        assert ("Better off" in said(board)) == bool(better.strip()) and better.strip() in said(board)
        assert board.seen.under.text.count("say it first") == len(told) - at - 1
    assert about == "cost"
    after(board, ("forged", False))
    assert board.seen.under.text.count("say it first") == len(told) - 1  # other clips, other answers


def test_every_job_is_answered_after_the_call():
    board = clips.clips_or_sleeve()
    for words, right, why in clips.JOBS:
        assert words in said(board) and why not in said(board)
        board.act_of(right)
        assert board.seen.said[0].tone == "ok" and why in said(board)
        board.act_of("next")
    assert {right for _, right, _ in clips.JOBS} == {"sleeve", "clips", "neither"}


def test_what_came_back_is_drawn_without_its_verdict():
    for which, (words, _) in enumerate(clips.BACK):
        alt = clips.came_back(which).alt
        assert "wrong" not in alt and "live part runs on above" in alt and words in str(clips.came_back_words())
    assert "lower part" in clips.came_back(0).alt and "2 clips" in clips.came_back(1).alt and "off the saddle" in clips.came_back(2).alt


def test_every_option_of_every_control_gives_a_view():
    for board in each_option_of(BOARDS):
        assert board.seen.said


def test_sheets_hold_what_they_must():
    assert str(sheets.practice_sheet()).count("STOP") == 3 and "1 1/2 in [38.1 mm] at least" in str(sheets.practice_sheet())
    assert 10 <= len(str(sheets.recap()).splitlines()) <= 16 and "29 CFR 1918" in str(sheets.sources())
    assert "critical lifts" in str(clips.forbidden())


@pytest.mark.parametrize("thinner, size, beside", [("1/8", "1/8", "1/8"), ("3/16", "1/4", "3/16")])
def test_a_shop_without_the_size_or_a_clip_row_opens_on_no_refusal(shop_text, thinner, size, beside):
    shop_text(stranger().replace('"1/8"', f'"{thinner}"'))
    board = clips.side_by_side()
    assert board.state["size"] == beside and board.seen.figures and "Refused" not in said(board) and clips.two_still().alt.startswith(f"Two ends in {beside} in")
    assert clips.fit_the_clips().title == "Fit the clips (INVENTED shop, not yours)" and f"invented sample's row for {size} in" in str(clips.opening())
    assert f"{size} in" in said(clips.fit_the_clips()) and ("not on your rack" in str(clips.opening())) == (size == "1/4")
    assert f"clipped end, {beside} in" in str(sheets.practice_sheet())
    board.act_of("size", "5/16")
    assert "Refused: 5/16 in cable, of which the shop has no bare galvanised reel. Accepted here" in said(board)


def test_without_a_clip_makers_row_the_sheet_leaves_turnback_and_torque_blank_and_stops(shop_text):
    shop_text(stranger())
    text = str(sheets.practice_sheet())
    assert "STOP: torque by the clip maker's table, read by ____________. No table, no torque: tighten nothing (seen by: ____)" in text and "All nuts in turn to that torque (N m)" in text
    assert "Turnback by the clip maker's table, thimble to dead end (mm)" in text and "never under 3 (count)" in text and text.count("STOP") == 4
    line = next(row for row in sheets.practice_sheet().html.split("<tr>") if "STOP: torque" in row)
    assert line.count('class="write"') == 2, "a blank for the figure on each end, beside who has seen it"
    # neither the invented row (75 mm, 5 N m) nor the row from memory (4.5 lbf ft, 3.25 in for two) stands there: the only length is six diameters
    assert re.findall(r"[\d.]+ (?:mm|N m|lbf ft)", text) == ["19.1 mm"]
    assert "left blank: your shop file has no clip maker's row" in str(sheets.sources()) and "leaves turnback and torque blank" in str(clips.opening())


def test_the_sheet_goes_by_the_row_of_the_page_and_names_it(shop_text):
    text, row = str(sheets.practice_sheet()), clips.plan().source
    assert row in text and row in str(clips.worked()) and str(sheets.sources()).count(row) == 2 and "from memory" not in text
    assert "All nuts in turn to 13.3 lbf ft [18 N m], INVENTED" in text and "torque on each nut | 13.3 lbf ft [18 N m]" in str(clips.worked())  # 18 / 1.3558
    assert "5 1/8 in [130 mm]" in text and "5 1/8 in [130 mm]" in str(clips.worked()) and sheets.INVENTED_ROW in text
    own = '[[clip]]\nsize = "1/8"\nnumber = 3\nturnback = "90 mm"\ntorque = "6.5 N m"\nmaker = "Own Clips"\nedition = "7"\ncopied_by = "A. One"\nchecked_by = "B. Two"\n\n'
    shop_text(stranger() + "\n" + own)
    text = str(sheets.practice_sheet())
    assert "Row of this sheet: table of Own Clips, edition 7; copied by A. One, checked by B. Two" in text and "All nuts in turn to 6.5 N m (N m)" in text and "90 mm at least" in text and "INVENTED" not in text


def test_the_table_of_number_and_spacing_waits_on_the_wall_as_its_questions_do():
    assert clips.number_table().html.startswith('<div class="answer">')


@pytest.mark.parametrize("group, clips_laid", [(4, "Sixteen"), (8, "Twenty-two")])
def test_for_four_and_for_eight_there_is_one_pair_at_the_wrench_and_clips_for_every_end(group, clips_laid):
    told = day_of("04")
    other = next(one for one in told.others if one["group"] == group)
    pairs = list(zip(*other["rota"], strict=True))
    assert len(pairs) * 2 == group and all(sorted(place for place in pair if place < 2) == [0, 1] for pair in pairs)
    assert all(row.count(0) == row.count(1) == 1 for row in other["rota"])
    made = sum(name != "bolt that was drawn out long" and "pressed" not in name for name, _, _ in told.made)
    assert made == 3 and {"Sixteen": 16, "Twenty-two": 22}[clips_laid] == 3 * (len(pairs) + made) + 1 and other["words"].startswith(clips_laid)
    assert f"With {NUMBERS[group]} people: {NUMBERS[len(pairs)]} pairs, {NUMBERS[len(other['rota'])]} rounds" in str(day("04"))


def test_an_end_of_the_invented_row_fitted_on_the_strangers_cable_has_nothing_to_mend(shop_text):
    shop_text(stranger())
    board = fitted(places=(28.0, 47.0, 66.0), torque=5.0, after=5.0)  # the invented row for 1/8: turnback 75 mm, base 18.4 mm: 27.6, 46.7, 65.8
    assert [one.tone for one in board.seen.said] == ["ok"]


def test_as_many_clips_are_laid_out_as_the_ends_take():
    laid = [one for one in day_of("04").lay_out if "clips" in one]
    # three on an end: for the scale, clipped by hand, a week old, and an own end for each of two threes; and one for the bite, made in class
    assert any("sixteen clips" in one for one in laid) and clips.plan().number == 3


def test_a_row_whose_even_spread_is_wide_can_be_fitted_as_its_page_draws_it(shop_text):
    row = '[[clip]]\nsize = "1/8"\nnumber = 3\nturnback = "85 mm"\nbase = "18 mm"\ntorque = "4.8 N m"\nmaker = "Own Clips"\nedition = "7"\ncopied_by = "A. One"\nchecked_by = "B. Two"\n\n'
    shop_text(stranger() + "\n" + row)
    board = fitted(places=(27.0, 51.0, 76.0), torque=4.8, after=4.8)  # 24.5 mm apart: 7.7 diameters
    assert tones(board) == ["ok"] and "24.5 mm" in clips.done_still().svg
