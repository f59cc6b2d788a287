"""Lesson 07: what the gauge tells and what it does not, its live figures in every state that matters, and what it must say."""

from __future__ import annotations

import re
from types import SimpleNamespace

import pytest
from boards import after, said
from stored import stored

from rigcalc.cautions import INVENTED, INVENTED_GAUGE
from rigcalc.figures.pressed_pieces import MARKS
from rigcalc.home import installed_folder
from rigcalc.notebook.board import Board
from rigcalc.notebook.course import inspect_tray, inspecting
from rigcalc.notebook.course import gauge_boards as gauges
from rigcalc.notebook.course import inspect_boards as pieces
from rigcalc.notebook.course import inspect_sheets as sheets
from rigcalc.notebook.trainer_day import day_of
from rigcalc.questions import load_families
from rigcalc.reference import table

LESSON = stored(installed_folder() / "lessons" / "07_gauge_and_inspect.ipynb")
BOARDS = (gauges.first_look, gauges.does_it_close, gauges.published_case, gauges.the_reading, gauges.which_go_back, pieces.what_it_sees, inspect_tray.twenty_pieces)
SECRETS = [f"{i:02x}" * 16 for i in range(16, 28)]


def tones(board: Board) -> list[str]:
    return [one.tone for one in board.seen.said if one.tone]


# --- The worked examples ----------------------------------------------------------------------------

def test_the_reading_by_hand():
    # mean 8.32; s = 0.008165, /2 = 0.0041; 0.01/sqrt(12) = 0.0029; 0.06/2 = 0.03; root of squares 0.0304; x 1.645 = 0.050
    text = str(gauges.worked())
    for words in ("8.320 mm", "0.0041 mm", "0.0029 mm", "0.0300 mm", "0.0304 mm", "0.050 mm", "0.0082 mm", "it says 0.0024 in [0.06 mm], with a factor of 2", "steps of 0.0004 in [0.01 mm]", "1.645", "8.350 mm", "8.450 mm", "11. So the reading is | 0.3276 in [8.320 mm] against 9 and 10 | pass", "INVENTED"):
        assert words in text, words
    assert text in LESSON.shown


def test_the_ball_bearings_as_printed():
    # JCGM 106:2012 9.5.4, read second-hand: 0.8 % and 1.7 % without, 0.1 % and 7.5 % with a guard band (7.6 % with the rounded limit)
    text = str(gauges.bearings())
    assert "2.00 | 0.8 % | 1.7 %" in text and "1.67 | 0.1 % | 7.5 %" in text and text in LESSON.shown
    assert gauges.published_case().seen.under is None
    board = after(gauges.published_case(), ("brings", "both"), "work")
    assert tones(board) == ["no"] and "0.8 % | 0.8 % | 1.7 % | 1.7 %" in board.seen.under.text and "0.1 % | 0.1 % | 7.5 % | 7.6 %" in board.seen.under.text
    assert tones(after(board, ("brings", "right"))) == ["ok"]


def test_the_page_says_what_is_known_and_how():
    text = str(sheets.sources())
    for words in ("common practice", "from memory", "read, second-hand", "INVENTED", "R 408.15226", "judgement"):
        assert words in text, words
    assert INVENTED in LESSON.shown and INVENTED_GAUGE in str(sheets.practice_sheet())


def test_recap_and_practice_sheet_are_filled_from_the_chart_in_force():
    assert 10 <= len(re.findall(r"(?m)^\d+\. ", str(sheets.recap()))) <= 16
    text = str(sheets.practice_sheet())
    assert text.count("STOP: ") >= 3 and "GB, slot 1/8" in text and "chart: at most 0.330 in [8.40 mm]" in text


def test_the_sheet_bears_its_guard_band_and_spares_the_sealed_set():
    text = str(sheets.practice_sheet())
    assert "pass to 0.328 in [8.35 mm], fail beyond 0.333 in [8.45 mm], between them not proven (chart: at most 0.330 in [8.40 mm]; INVENTED guard band 0.002 in [0.05 mm])" in text and "Its mean (in or mm)" in text and "4 times" in text
    assert all(line.startswith(("OWN EYE", "STOP: OWN EYE", "The fat crimp:")) or "never" in line for line in text.splitlines() if "pressed" in line.lower() or "cut through" in line)
    assert "never pressed, never cut" in text and not [line for line in text.splitlines() if "OWN EYE" in line and "till evening" in line]


def test_on_the_sheet_an_own_eye_is_pressed_before_it_is_measured():
    lines = str(sheets.practice_sheet()).splitlines()
    at = [next(i for i, line in enumerate(lines) if words in line) for words in ("OWN EYE pressed", "OWN EYE: across one crimp", "OWN EYE cut through")]
    assert at == sorted(at) and lines.index("At the caliper:") < at[1] < at[2] < lines.index("At the table:")


def test_the_sheet_of_every_other_size_lies_under_it_with_its_own_slot():
    shown = sheets.practice_sheet()
    folded = re.findall(r'<details class="other-size"><summary>The same sheet for ([^<]+)</summary>(.*?)</details>', shown.html, re.S)
    assert len(folded) >= 5 and all('class="one-page practice"' in sheet for _, sheet in folded)
    assert len({name for name, _ in folded}) == len(folded)
    for name, sheet in folded:
        size = name.split()[0]
        assert f"gauge and inspect, {size} " in sheet and f"slot {size}" in sheet
    assert "Other sizes: open the sheet of your size below" in shown.text


def test_a_real_chart_gets_no_guard_band_of_an_invented_caliper():
    own, sample = SimpleNamespace(system="SI", invented=False), SimpleNamespace(system="US", invented=True)
    (mean, unit, _), (word, asked, _) = sheets._mean_lines(8.4, own)
    assert (mean, unit, asked) == ("Its mean", "mm", "word") and "____ mm" in word and "INVENTED" not in word
    ((alone, unit, _),) = sheets._mean_lines(None, sample)  # nothing to judge it by: no word is asked for
    assert "nothing to judge it by" in alone and unit == "in or mm"


def test_a_reading_at_the_edge_is_the_same_on_page_and_sheet():
    # the page: 8.40 - 0.05 = 8.35 and 8.40 + 0.05 = 8.45; the sheet's mm are those, and so are the drawing's
    assert gauges.edges(8.4) == (0.05, 8.35, 8.45) and "8.350 mm" in str(gauges.worked()) and "Pass up to 0.3287 in [8.350 mm]" in gauges.reading_still().html
    (_, _, _), (word, _, _) = sheets._mean_lines(8.4, SimpleNamespace(system="SI", invented=True))
    assert "pass to 8.35 mm, fail beyond 8.45 mm" in word and "guard band 0.05 mm" in word


def test_the_sheet_asks_for_the_set_piece_by_piece_and_looks_before_it_gauges():
    text = str(sheets.practice_sheet())
    made = sum(many for name, many, _ in day_of("07").made if name.startswith("sealed set"))
    assert made == sheets.SET and f"SET, no. 1 to {made}, each: wiped, looked over, every crimp gauged" in text and "bad ones passed, good ones rejected" in text
    assert text.index("OWN EYE: wiped, looked over") < text.index("OWN EYE: every crimp gauged")
    assert "wiped, looked over, every crimp gauged" in day_of("07").stations[1] and "**wipe, look, gauge**, in that order" in LESSON.markdown


def test_fins_have_one_account_everywhere():
    causes = inspecting.fault_of("fins").cause
    assert all(word in causes for word in ("cavity was too small", "off centre", "flat", "worn or mis-set"))
    family = load_families()["match-fault-and-cause"]
    told = [row["cause"] for row in family.pools["faults"] if re.search("(?i)fins|flash", row["look"])]
    assert told and {one.lower() for one in told} == {causes.lower()}
    rows = dict(line.split(" | ") for line in str(sheets.causes()).splitlines()[2:])
    assert {step for step, seen in rows.items() if "fins on both sides" in seen} == {"before the first press: the tool on its paper, the gauge on its pins", "reading bag, cable and tool", "in the jaws"}
    assert "wrong cavity, or worn jaws" not in LESSON.markdown and "not always" in str(pieces.mixed_up_told())


def test_a_good_eye_says_where_its_bands_lie():
    assert "between the raised collars" in pieces.good_piece().caption


def test_an_apprentice_tells_the_trainer_who_writes_it_in_the_file():
    told = said(after(gauges.which_go_back(), ("piece", "W1"), "done"))
    assert "tell your trainer" in told and "Gauge every piece on the list again" in told and not re.search("found_bad|block", told)


@pytest.mark.parametrize("system, words, band, other", [("US", "0.3291 in [8.36 mm]", "0.0032 in [0.082 mm]", ""), ("SI", "8.36 mm", "0.082 mm", " in [")])
def test_a_reading_stands_in_the_units_of_the_shop(system, words, band, other, monkeypatch):
    monkeypatch.setattr(gauges, "shop_for_teaching", lambda: (SimpleNamespace(system=system, invented=True), ""))
    board = gauges.the_reading()
    shown = said(board) + board.seen.figures[0].alt + str(board.seen.controls)
    assert f"The caliper reads {words}" in shown and f"The reading is {words}" in shown and f"'shown', '{words}'" in shown and not (other and other in shown)
    assert f"Guard band {band}: " in said(after(board, ("say", "pass")))


def test_in_service_the_house_rule_decides():
    text = str(sheets.in_service())
    assert "13 broken wires in 8 diameters, far from any sleeve | stay" in text and "14 broken wires in 8 diameters, far from any sleeve | out" in text
    assert "a kink, far from any sleeve | out" in text and "a flat place, far from any sleeve | out" in text and "a blue mark of heat | out" in text
    assert "fell with its load | out" in text and "moved by a hair | out" in text
    assert "tail no longer shows at a sleeve | out" in text and "thimble rattles | out" in text
    assert re.search(r"white bloom at the mouth, no red \| stay \| White bloom is .* look again sooner", text) and re.search(r"tag is gone \| out \| Take the load off; it goes back when a new tag", text)
    asked = str(sheets.findings())
    assert len(asked.splitlines()) - 1 == len(text.splitlines()) - 2 and not re.search(r"\| (?:out|stay)\b", asked)
    said_there = LESSON.markdown.split('<a id="end-of-life">')[1].split("<details")[0]
    for words in ("A tail that no longer shows: out", "A loose thimble: out", "White bloom", "It may stay", "A **tag** that is gone"):
        assert words in said_there, words


def test_every_fault_but_the_odd_ones_belongs_to_a_step():
    text = str(sheets.causes())
    assert not [one.name for one in inspecting.FAULTS if one.name not in text and one.key not in ("long tail", "worn")]


# --- Faults -----------------------------------------------------------------------------------------

def test_every_row_of_what_a_gauge_sees_is_on_the_bench():
    assert {one.row for one in inspecting.FAULTS} == {row.fault for row in table("gauge_sees")}


@pytest.mark.parametrize("fault", inspecting.FAULTS, ids=lambda one: one.key)
def test_the_drawn_gauge_agrees_with_the_table(fault):
    if fault.key == "worn":
        assert fault.gauge == "goes on" and fault.fat
    else:
        assert fault.gauge == {"yes": "stops", "sometimes": "jams", "no": "goes on"}[fault.seen]


@pytest.mark.parametrize("fault", inspecting.FAULTS, ids=lambda one: one.key)
def test_words_of_a_drawing_tell_what_is_drawn_and_not_what_is_wrong(fault):
    words = inspecting.looks_of(fault.key).said().lower()
    assert fault.name not in words and not re.search(r"reject|bad|wrong|fault|should|missing|too (?:small|fat|long|short)|buried", words)


def test_what_is_mixed_up_is_told_apart_by_its_words():
    words = pieces.mixed_up().alt
    assert re.search(r" A: .*?2\.5, 2\.5, 2\.5 cable diameters high", words) and re.search(r" B: .*?2\.1, 2\.1, 2\.1 cable diameters high", words)
    assert not [name for _, name, _ in pieces.MIXED_UP if name in words or name in pieces.mixed_up().svg], "the table says it, under its cover"
    assert 'class="answer"' in pieces.mixed_up_told().html and "A | fins on both sides | Fins" in pieces.mixed_up_told().text
    assert "share a strip of metal" in words and "along the whole sleeve" in words and "red-brown metal under the silver" in words and "red-brown powder" in words
    assert "loosely" in inspecting.gauge_says("smaller", inspecting.looks_of("smaller")) and "loosely" not in inspecting.gauge_says("", inspecting.looks_of())


def test_marks_judge_nothing():
    assert not re.search(r"(?i)reject|bad|wrong|fault|harmless|good", " ".join(MARKS.values()))


def test_only_what_can_be_mended_has_a_second_chance():
    assert inspecting.fault_of("overlap").do == "scrap; no crimp is added" and "add it" not in str(sheets.rejects()).split("all others")[1]
    chances = {one.key for one in inspecting.FAULTS if one.do != "scrap" and one.name in str(sheets.rejects())}
    assert chances == {"fat", "larger", "missing", "long tail", "overlap"}  # the last stands among those that are scrap
    assert all(inspecting.fault_of(key).do.startswith("scrap") for key in ("bent", "bare end", "overlap"))
    assert "add" not in said(after(pieces.what_it_sees(), ("fault", "overlap"), ("think", "stops"), "put")).replace("no crimp is added", "")


# --- What the gauge sees ----------------------------------------------------------------------------

@pytest.mark.parametrize("fault", inspecting.FAULTS, ids=lambda one: one.key)
def test_each_fault_can_be_gauged(fault):
    board = after(pieces.what_it_sees(), ("fault", fault.key), ("think", "stops"), "put")
    assert tones(board) == (["ok"] if fault.gauge == "stops" else ["no"]) and fault.cause in said(board)
    assert "not put on yet" not in board.seen.figures[0].alt


def test_the_gauge_is_not_put_on_before_a_word_and_the_count_runs():
    board = after(pieces.what_it_sees(), "put")
    assert not board.state["on"] and "Say first" in said(board)
    for one in inspecting.FAULTS:
        after(board, ("fault", one.key), ("think", "goes on"), "put")
    rows = table("gauge_sees")
    missed = sum(row.seen == "no" for row in rows)
    assert f"{len(rows)} of {len(rows)}. The gauge stopped or jammed at {len(rows) - missed}." in said(board)
    assert f"The list has {len(inspecting.FAULTS)} faults, of {len(rows)} kinds: three kinds are drawn in two ways." in LESSON.text
    assert len(inspecting.FAULTS) == len(rows) + 3 and f"{len(inspecting.FAULTS)} faults, of {len(rows)} kinds" in str(sheets.causes())
    assert all(one.name in str(sheets.causes()) for one in inspecting.FAULTS)
    assert f"{len(rows)} kinds of fault (" in str(pieces.seen_table()) and f"misses {missed} " in str(pieces.seen_table())
    assert f"Of {len(rows)} kinds of fault the gauge misses {missed}." in str(sheets.recap())


# --- Tool, gauge, reading, list ---------------------------------------------------------------------

@pytest.mark.parametrize("word, tone", [("good", "no"), ("scrap", "no"), ("again", "ok")])
def test_a_gauge_out_of_date_tells_nothing(word, tone):
    board = after(gauges.first_look(), word)
    assert tones(board) == [tone] and "valid to 2026-03-02" in said(board) and "Refused" not in said(board)


def test_la_slips_at_the_far_end_and_nothing_is_told_before_it_is_tried():
    for word in ("closes", "open"):
        board = after(gauges.does_it_close(), word)
        assert not tones(board) and "You tried 0 of 3" in said(board) and "slips" not in said(board)
    board = after(gauges.does_it_close(), "near", "open")
    assert not tones(board) and "Nothing that you tried has shown it" in said(board)
    board = after(board, "far", "closes")
    assert not tones(board) and "You tried 2 of 3" in said(board)
    board = after(board, "stop", "closes", "open")  # the first word counts
    assert tones(board) == ["no"] and "slips at the far end" in said(board)
    assert tones(after(gauges.does_it_close(), "far", "open")) == ["ok"]
    assert "slips" in after(gauges.does_it_close(), "far").seen.figures[0].alt and "slips" not in gauges.does_it_close().seen.figures[0].alt


def test_what_goes_back_is_not_told_before_it_is_asked():
    told = [said(after(gauges.first_look(), word)) for word in ("good", "scrap", "again")]
    told += [said(after(gauges.does_it_close(), "near", "far", "stop", word)) for word in ("closes", "open")]
    assert not [words for words in told if "last good check" in words or "goes back" in words] and all("What of all the others" in words for words in told[:3])


def test_some_fresh_tools_close_and_some_do_not():
    assert {all(gauges.any_tool(f"{i:02x}" * 16)) for i in range(40)} == {True, False}


@pytest.mark.parametrize("reading, u, answer", [(8.20, 0.05, "pass"), (8.31, 0.05, "pass"), (8.32, 0.05, "not proven"), (8.48, 0.05, "not proven"), (8.49, 0.05, "fail"), (8.36, 0.02, "pass")])
def test_three_answers(reading, u, answer):
    board = after(gauges.the_reading(), ("reading", reading), ("u", u))
    assert not tones(board) and "Pass up to" not in board.seen.figures[0].alt
    for one in ("pass", "not proven", "fail"):
        assert tones(after(board, ("say", one))) == ["ok" if one == answer else "no"]
    assert "Pass up to" in board.seen.figures[0].alt


def test_without_a_published_size_nothing_is_judged_and_the_way_back_is_open():
    board = after(gauges.the_reading(), ("published", "no"), ("say", "pass"))
    assert tones(board) == ["no"] and "Write the reading down and do not judge it" in said(board) and "Refused" not in said(board) and not board.seen.figures
    assert tones(after(board, ("say", "none"))) == ["ok"]
    assert after(board, ("published", "yes")).seen.figures


def test_a_guard_band_passes_fewer_bad_ones_and_holds_back_more_good_ones():
    rows = [line.split(" | ") for line in str(gauges.risks(0.05, 0.05)).splitlines()[2:]]
    assert float(rows[0][2]) > float(rows[1][2]) and float(rows[0][3]) < float(rows[1][3])


@pytest.mark.parametrize("secret", [inspecting.START, *SECRETS])
def test_a_list_has_pieces_that_go_back_and_pieces_that_need_not(secret):
    one = inspecting.traced(secret)
    assert len(one.pieces) == 12 and one.result.back and one.result.clear and one.result.last_good


def test_the_list_says_what_is_forgotten_and_what_was_needless():
    back = [piece.id for piece in inspecting.traced(inspecting.START).result.back]
    assert back == ["W2", "W5", "W8", "W9", "W10", "W11", "W12"]
    board = after(gauges.which_go_back(), *[("piece", name) for name in back], "done")
    assert tones(board) == ["ok", "ok"]
    board = after(gauges.which_go_back(), ("piece", "W1"), ("piece", "W9"), ("piece", "W9"), "done")
    assert "Forgotten: W2 (when it was made is not known); W5, W9, W10, W12 (after the last good check, Mon 9 Mar, 10:15); W8 (it" in said(board) and "W8 (its tool is not known and counts as LA; " in said(board) and "Sent back without need: W1 (certainly before the good check of Mon 9 Mar, 10:15)." in said(board) and "W11 (not certainly before the last good check, Mon 9 Mar, 10:15)." in said(board) and "made with another tool, BB" in board.seen.under.text
    assert gauges.list_step(board.state, "piece", "W1") == board.state and "data-pick" not in board.seen.figures[0].svg


def test_an_empty_list_tells_nothing():
    board = after(gauges.which_go_back(), "done")
    assert not board.state["done"] and not tones(board) and board.seen.under is None and "no piece yet" in said(board)


def test_before_done_the_list_tells_nothing():
    assert "goes back" not in gauges.which_go_back().seen.figures[0].alt and gauges.which_go_back().seen.under is None


# --- All boards -------------------------------------------------------------------------------------

@pytest.mark.parametrize("make", BOARDS)
def test_every_offer_of_every_control_gives_a_view_that_says_something(make):
    for control in make().seen.controls:
        more = dict(control.more)
        offers = more["values"] if control.kind == "choice" else (more["least"], more["most"]) if control.kind == "slider" else (None,)
        for offer in offers:
            one = after(make(), (control.name, offer))
            assert one.seen.said and one.seen.controls, (control.name, offer)
            assert "Refused:" not in said(one), (control.name, offer)


@pytest.mark.parametrize("make", BOARDS)
def test_no_part_to_point_at_has_the_name_of_a_control(make):
    seen = make().seen
    picks = {name for figure in seen.figures for name in re.findall(r'data-pick="([^"]+)"', figure.svg)}
    assert not picks & {control.name for control in seen.controls}


@pytest.mark.parametrize("make, name, value", [(gauges.which_go_back, "piece", "W3"), (inspect_tray.twenty_pieces, "tile", "6")])
def test_a_page_can_point_at_the_parts(make, name, value):
    board = make()
    before = dict(board.state)
    board.hear({"name": name, "value": value, "picked": True})
    assert board.state != before


@pytest.mark.parametrize("make", [gauges.does_it_close, gauges.the_reading, gauges.which_go_back, inspect_tray.twenty_pieces])
def test_fresh_ones_keep_their_secret_as_hex(make):
    board = after(make(), "fresh")
    assert re.fullmatch(r"[0-9a-f]{32}", board.state["secret"]) and board.seen.said and board.state["secret"] != inspecting.START


def test_what_stands_over_or_under_a_question_does_not_answer_it():
    assert LESSON.anchors["press-again"] == "The gauge stops" and LESSON.anchors["no-second-life"] == "An old stay on the counter"
    assert "lower both" not in LESSON.markdown and "lower both" not in said(gauges.published_case())
    assert "lower both" in said(after(gauges.published_case(), ("brings", "both")))
    assert "no copper" not in LESSON.markdown and "no copper" in str(pieces.mixed_up_told())
    assert "8.31, 8.33, 8.32, 8.32 mm]" in str(gauges.given()) and 'class="answer"' not in gauges.given().html


def test_every_answer_that_waits_has_been_asked_for():
    asks, waits = False, []
    for cell in LESSON.cells:
        if cell.kind == "markdown":
            prose = [part for part in re.sub(r"<details.*?</details>", "", cell.source, flags=re.S).split("\n\n") if part.strip()]
            asks = any("?" in part or re.search(r"\b(?:[Ss]ay|[Nn]ame) ", part) for part in prose[-2:]) if prose else asks
        elif cell.is_figure and 'class="answer"' not in cell.html:
            continue  # a drawing that the question is about
        elif 'class="answer"' in cell.html or "when-said" in cell.html:
            waits += [] if asks else [cell.id]
            asks = False
        elif cell.is_live:
            asks = False
    assert not waits


def test_the_reason_for_the_line_is_asked_where_the_line_is_drawn():
    names = list(LESSON.anchors)
    assert names.index("containment") < names.index("explain-why") < names.index("what-the-gauge-cannot-see")
