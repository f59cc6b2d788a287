"""Lesson 12: the questions of the first letter, both refusals, each line decided, tags, the release, the cut list."""

from __future__ import annotations

from dataclasses import replace

import pytest
from boards import said
from stored import stored
from test_other_shops import own_text

from rigcalc.assembly import job_sheet, missing_facts
from rigcalc.errors import Refusal
from rigcalc.home import installed_folder
from rigcalc.notebook.course import order_checks as checks
from rigcalc.notebook.course.plainly import in_plain_words
from rigcalc.notebook.course import order_desk as desk
from rigcalc.notebook.course import order_sheets as sheets
from rigcalc.notebook.teaching import of_order, sample_shop

BOARDS = (desk.from_letter_to_tag, checks.refuse_in_writing, checks.tags_to_check, checks.before_release)


def labels(board) -> list[str]:
    return [one.label for one in board.seen.controls]


def names(board) -> list[str]:
    return [one.name for one in board.seen.controls]


def at(stage: str):
    """The order's board, brought to a stage by right answers."""
    board = desk.from_letter_to_tag()
    while board.state["stage"] == "ask":
        board.act_of(next(name for name in names(board) if name.removeprefix("ask ") not in desk.NEEDLESS and (name != "ask designer" or len(board.state["settled"]) == len(desk.ANSWERS))))
    for stop, acts in (("nobody", ("wait", "go on")), ("second", ("refuse", "go on")), ("pair", (("reel", "R5"), ("sleeve", "zinc-plated copper"), "put")),
                       ("load", ("both",)), ("limit", ("right",)), ("link", ("least",)), ("cut", ("right",)), ("tag", ("right",))):
        if stage == stop:
            break
        for act in acts:
            board.act_of(*((act,) if isinstance(act, str) else act))
    assert board.state["stage"] == stage
    return board


# --- asking -----------------------------------------------------------------------------------------------

def test_only_what_the_package_leaves_open_is_asked_beside_the_needless():
    board = desk.from_letter_to_tag()
    open_words = {desk.asked(one) for one in missing_facts(desk._so_far(()))} | {words for words, _ in desk.NEEDLESS.values()}
    assert set(labels(board)) <= open_words and not any("--" in one or "[[" in one for one in labels(board))
    assert len(labels(board)) == desk.FEW_OPEN + desk.FEW_NEEDLESS


def test_every_answer_settles_its_questions_and_the_designer_is_asked_once_people_are_known():
    board = desk.from_letter_to_tag()
    assert "designer" not in dict(desk._open(()))
    for facts, _ in desk.ANSWERS:
        before = dict(desk._open(board.state["settled"]))
        board.act_of(f"ask {facts[0]}")
        assert facts[0] in before and facts[0] not in dict(desk._open(board.state["settled"]))
    assert [topic for topic, _ in desk._open(board.state["settled"])] == ["designer"]


def test_a_needless_question_is_answered_and_fills_nothing():
    board = desk.from_letter_to_tag()
    for name in desk.NEEDLESS:
        before = board.seen.figures[0].alt
        board.act_of(f"ask {name}")
        assert board.seen.figures[0].alt == before and desk.NEEDLESS[name][1] in said(board)


def test_who_asks_for_the_span_first_is_reminded_of_who_can_be_below():
    board = desk.from_letter_to_tag()
    board.act_of("ask span")
    assert "30 ft" in said(board) and "may end the order" in said(board)


# --- refused twice ----------------------------------------------------------------------------------------

def test_first_refusal_names_the_designer_and_no_command():
    board = at("nobody")
    for name in ("own", "sign"):
        board.act_of(name)
        assert board.state["stage"] == "nobody" and board.state["tone"] == "no"
    board.act_of("wait")
    letter = board.seen.under.text
    assert "Which qualified person stands for this design" in letter and "--" not in letter and "Which reel" not in letter


def test_who_went_through_the_lantern_with_the_council_is_told_and_no_letter_asks_the_council_for_it():
    told = desk.from_letter_to_tag()
    told.act_of("ask movement")
    assert "Ines Varrow goes through it with them" in said(told) and "nobody hangs, sits or stands on it" in said(told)
    early = desk.from_letter_to_tag()
    for act in ("ask use", "ask designer", "wait"):
        early.act_of(act)
    letter = early.seen.under.text
    assert "Does it move" in letter and "went through it" not in letter
    assert "Gone through with whoever asked by" in desk.whole_sheet().text


@pytest.mark.parametrize("name, words", [("make", "6 mm is a metric size"), ("copper", "no inch sleeve fits it"), ("aluminium", "small anode")])
def test_the_wish_of_the_second_letter_is_refused_however_it_is_bent(name, words):
    board = at("second")
    board.act_of(name)
    assert words in said(board) and board.state["stage"] == "second"
    board.act_of("refuse")
    assert "We do not make this." in board.seen.under.text and "metric size" in board.seen.under.text


def test_of_the_whole_rack_only_the_stainless_reel_with_plated_copper_goes_on():
    for reel in sample_shop().reels:
        for sleeve in desk.SLEEVES:
            board = at("pair")
            board.act_of("reel", reel.id)
            board.act_of("sleeve", sleeve)
            board.act_of("put")
            assert (board.state["stage"] == "load") == ((reel.id, sleeve) == ("R5", "zinc-plated copper"))
            if board.state["stage"] == "pair":
                with pytest.raises(Refusal) as refused:
                    job_sheet(replace(of_order(desk.LANTERN), reel=reel.id, sleeve_metal=sleeve), sample_shop(), desk.SHEET_DAY)
                assert in_plain_words(refused.value) in said(board)


# --- the sheet --------------------------------------------------------------------------------------------

def test_the_worked_limit_is_the_tables_strength_for_the_designers_factor():
    # AC 43.13-1B, Table 7-3, p 7-28: 1/8 7x19 stainless 1760 lbf; 1760 x 0.90 / 8 = 198 (trade.md 6)
    shown = str(desk.worked_limit())
    assert all(words in shown for words in ("1760 lbf", "Table 7-3", "0.90", "divided by 8, set by Corla Venn", "198 lbf [880 N], straight pull only", "120 lbf [534 N]", "70.9 lbf"))


@pytest.mark.parametrize("stage, right", [("load", "both"), ("limit", "right"), ("link", "least"), ("cut", "right"), ("tag", "right")])
def test_each_line_of_the_sheet_is_blank_until_it_is_rightly_decided(stage, right):
    board = at(stage)
    line = desk._tests()[stage][0]
    assert f"{line}: blank" in board.seen.figures[0].alt
    for name in names(board):
        if name != right:
            board.act_of(name)
            assert board.state["stage"] == stage and board.seen.said[0].tone == "no" and f"{line}: blank" in board.seen.figures[0].alt
    board.act_of(right)
    assert board.state["stage"] != stage and f"{line}: blank" not in board.seen.figures[0].alt


def test_the_wrong_limits_are_those_of_the_known_missteps():
    # 1760 lbf: x 0.90 / 5 = 316.8; / 8 = 220; x 0.81 / 8 = 178.2; rounded down
    figures = {name: figure.split()[0] for name, figure, _, _ in desk._limits()}
    assert figures == {"shop": "316", "right": "198", "whole": "220", "twice": "178"}


def test_the_order_ends_with_its_tag_and_begins_again():
    board = at("done")
    assert "blank" not in board.seen.figures[0].alt and "NOT FOR LIFTING / PEOPLE" in board.seen.figures[1].alt
    board.act_of("again")
    assert board.state == desk._start()


def test_what_hangs_on_the_reel_waits_for_it_and_a_cut_can_be_worked_from_the_board():
    board = at("pair")
    assert "70.9" not in board.seen.figures[0].alt and "sag 1 ft" in board.seen.figures[0].alt and "no reel yet, no sleeves yet" in said(board)
    board.act_of("put")
    assert board.state["stage"] == "pair"
    for act in (("reel", "R6"), ("sleeve", "zinc-plated copper"), ("put",)):
        board.act_of(*act)
    assert "mass_of_100m" not in said(board)
    # 4500 - 2 x 30 + 2 x (70 + 15 + 7) = 4624 mm
    board = at("cut")
    assert "70.9" in board.seen.figures[0].alt and all(mm in said(board) for mm in ("[4500 mm]", "[30 mm]", "[70 mm]", "[15 mm]", "[7 mm]"))


# --- in writing -------------------------------------------------------------------------------------------

@pytest.mark.parametrize("place", range(len(checks.REFUSED)))
def test_reason_and_whom_to_ask_are_the_packages(place):
    name, *_, reason, ask = checks.REFUSED[place]
    board = checks.refuse_in_writing()
    board.state |= {"at": place}
    for why, _, _ in checks.REASONS:
        for where, _, _ in checks.HELP:
            board.act_of("reason", why)
            board.act_of("ask", where)
            board.act_of("sign")
            assert [one.tone for one in board.seen.said] == ["ok" if why == reason else "no", "ok" if where == ask else "no"]
            assert "We do not make this." in board.seen.under.text
            board.act_of("again")
    with pytest.raises(Refusal) as refused:
        job_sheet(of_order(name), sample_shop(), desk.SHEET_DAY)
    assert {"lift": "no lifting sling", "lives": "people's lives hang on it"}[reason] in refused.value.do


# --- tags -------------------------------------------------------------------------------------------------

def test_on_each_tag_only_what_differs_from_the_sheet_is_wrong():
    right = dict(desk.tag_lines())
    board = checks.tags_to_check()
    for name, other, wrong in checks._tags():
        assert board.state["order"][board.state["at"]] == name and set(other) == set(wrong)
        for key in right:
            if key not in wrong:
                board.act_of("line", key)
                assert board.seen.said[0].tone == "no"
        for key in wrong:
            board.act_of("missing" if other[key] is None else "line", key)
            assert wrong[key] in said(board)
        if not wrong:
            board.act_of("out")
            assert board.seen.said[0].tone == "ok"
        board.act_of("next")
    assert board.state["seed"] and sorted(board.state["order"]) == sorted(checks.TAGS)


def test_a_tag_with_a_blank_is_not_ready():
    blanks = [name for name, other, _ in checks._tags() if checks.BLANK in " ".join(other.get(key, words) or "" for key, words in checks.filled_tag()[0])]
    assert blanks == ["blank"] and set(next(wrong for name, _, wrong in checks._tags() if name == "blank")) == {"made", "length"}
    good = checks.right_tag()
    assert "___" not in good.alt and "struck out: wire to the right wall" in good.alt and "line-through" in good.svg
    # made on the day after the sheet, 2026-04-02; stainless with plated copper at the sea: every 3 months
    assert "on 2026-04-02" in good.alt and "Inspect by 2026-07-02" in good.alt


def test_the_samples_far_days_are_explained_where_they_are_shown():
    shown = desk.whole_sheet()
    assert "2046" in shown.text and shown.html.index("never runs out") < shown.html.index("2046")


def test_the_trial_piece_is_cut_first_in_picture_and_sum():
    rows = str(checks.cut_table()).splitlines()
    assert "trial piece" in rows[2] and checks.cut_figure().alt.index("trial piece") < checks.cut_figure().alt.index("left wall")
    assert "keep length" in rows[-1] and "[300 mm]" in rows[-1]


def test_how_often_a_pair_is_looked_at_stands_on_the_page():
    # pairing table of lesson 03: galvanised with plated copper outdoors every 6 months, stainless at the sea every 3
    assert "galvanised, zinc-plated copper" in str(checks.looks_again()) and "6 months" in str(checks.looks_again())


def test_open_questions_are_counted_in_plain_words():
    board = desk.from_letter_to_tag()
    first = len(desk._open(()))
    assert f"{first} questions are still open" in said(board)
    board.act_of("ask use")
    assert len(desk._open(("use",))) == first and "opens a new question" in said(board)
    for facts, _ in desk.ANSWERS[1:-1]:
        board.act_of(f"ask {facts[0]}")
    assert "1 questions" not in said(board)


def test_a_wrong_tag_that_goes_out_is_stopped_with_its_reason():
    board = checks.tags_to_check()
    board.act_of("out")
    assert board.seen.said[0].tone == "no" and "people walk below" in said(board) and "316 lbf" in board.seen.figures[0].alt


# --- release ----------------------------------------------------------------------------------------------

@pytest.mark.parametrize("slip", sorted(checks.SLIPS))
def test_every_slip_is_seen_and_stops_the_release(slip):
    place, why = checks.SLIPS[slip]
    board = checks.before_release()
    board.state |= {"slips": (slip,)}
    board.act_of("part", next(one for one in checks.FINE if one != place))
    assert board.seen.said[0].tone == ""  # a good thing gets no cross
    assert checks.finished_piece(*checks._lies_there((slip,))).alt != checks.finished_still().alt
    board.act_of("keep")
    assert not board.state["done"]
    assert "nothing is marked yet" in said(board)
    board.act_of("part", place)
    assert why in said(board)
    board.act_of("keep")
    assert board.state["done"] and board.seen.said[0].tone == "ok"


def test_a_good_piece_is_released_and_a_bad_one_is_not():
    board = checks.before_release()
    board.act_of("release")
    assert board.seen.said[0].tone == "no" and all(checks.SLIPS[one][1] in said(board) for one in checks.AT_FIRST)
    board.act_of("fresh")
    assert board.state["seed"] and set(board.state["slips"]) <= set(checks.SLIPS)
    board.state |= {"slips": (), "found": (), "done": False}
    board.act_of("release")
    assert board.seen.said[0].tone == "ok"


def test_every_place_can_be_pointed_at_and_no_label_judges():
    svg = checks.before_release().seen.figures[0].svg
    assert all(f'data-value="{place}"' in svg for place in checks.FINE) and "wrong" not in svg


# --- cut list, hand-over, sheets --------------------------------------------------------------------------

def test_the_cut_list_is_that_of_the_sheet():
    # 76000 - 2 x 4624 - 624 - 3 x 2 = 66122 mm
    left = "2603 3/16 in [66122 mm]"
    assert left in desk.lantern().cut_list[0] and left in str(checks.cut_table()) and left in checks.cut_figure().alt and "3 cuts take" in str(checks.cut_table())


def test_the_customer_is_told_of_the_first_look_and_the_months():
    assert "after the first full load or the first week, whichever is sooner, then at least every 3 months" in str(checks.hand_over())


def test_a_slack_cable_is_looked_at_before_it_is_tightened_on_the_page_and_for_the_customer():
    page = stored(installed_folder() / "lessons" / "12_from_order_to_job_sheet.ipynb").markdown
    for order, words in (("the page", page), ("the gate's", " ".join(job_sheet(of_order("01_gate_brace"), sample_shop(), desk.SHEET_DAY).customer))):
        looked, _, tightened = words.partition("as moved" if order == "the page" else "Has one moved, tighten nothing")
        assert "the paint line" in looked and "turnbuckle" in words and ("tighten it there, to no more than 300 lbf" in tightened or "Tighten only at a turnbuckle" in tightened), order


def test_one_pull_of_the_lantern_stands_on_sheet_and_board():
    assert "70.9 lbf" in desk._must_cover() and "67.6" not in str(desk._tests()["load"]) and "70.9 lbf [316 N]" in str(desk._tests()["load"])


@pytest.mark.parametrize("make", BOARDS)
def test_every_option_of_every_control_gives_a_view(make):
    for control in make().seen.controls:
        for value in dict(control.more).get("values", [None]):
            board = make()
            board.act_of(control.name, value)
            assert board.seen.said and all(len(one.alt) >= 20 for one in board.seen.figures)


def test_beside_a_shop_of_ones_own_the_page_says_whose_order_it_works(tmp_path, monkeypatch):
    monkeypatch.setenv("RIGCALC_HOME", str(tmp_path))
    (tmp_path / "shop.toml").write_text(own_text(), encoding="utf-8")
    assert "worked with the invented sample shop" in desk.opening().html.split("</div>")[-1], "outside what the page's head has said, or the clean view hides it"


def test_sheets_hold_what_they_must():
    assert str(sheets.practice_sheet()).count("STOP") == 3 and 10 <= len(str(sheets.recap()).splitlines()) - 2 <= 16
    assert "1926.251(c)(16)" in str(sheets.sources()) and "INVENTED" in str(desk.opening())
    assert len(str(checks.gone_out_told()).splitlines()) == 1 + len(checks.GONE_OUT)


def test_the_second_letter_refuses_reel_and_sleeves_and_names_only_sleeves_that_a_chart_here_lists():
    text = desk.both_refused().text
    assert "the reel R9" in text and "aluminium sleeves on stainless cable" in text
    assert "What we can accept: zinc-plated copper sleeves." in text and "tin-plated" not in text


def test_the_place_is_asked_and_written_in_the_words_of_lesson_03():
    asked = [words for topic, words in desk._open(()) if topic == "service"]
    assert asked == ["Which place is it: dry, indoors; outdoors; salt spray; under water, pool-hall air?"]
    assert dict(desk._filled(desk._start() | {"settled": ("service",)}))["Place"] == "salt spray" and "You write: salt spray." in desk._answer("service")


def test_the_reject_box_of_this_lesson_holds_other_pieces_than_that_of_lesson_07():
    from rigcalc.notebook.form import Exercise

    assert Exercise("match-fault-and-cause", stream=checks.own_stream()).question != Exercise("match-fault-and-cause").question
