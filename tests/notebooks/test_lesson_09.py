"""Lesson 09: its worked limits, its live figures in every state that matters, and what it must say."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from boards import after, said, tones
from stored import stored
from test_other_shops import shop_text, stranger  # noqa: F401 (shop_text is a fixture)

from rigcalc.cable import breaking_force, en_breaking_force_n
from rigcalc.errors import Refusal
from rigcalc.home import installed_folder
from rigcalc.notebook.board import Board
from rigcalc.notebook.course import carry_boards as carry
from rigcalc.notebook.course import eye_and_heat as eye
from rigcalc.notebook.course import limits as lim
from rigcalc.notebook.course import limits_sheets as sheets
from rigcalc.notebook.course import link_boards as link
from rigcalc.notebook.course import missteps as slip
from rigcalc.notebook.form import Exercise
from rigcalc.published import published_factors
from rigcalc.questions import load_families
from rigcalc.rating import EFFICIENCY_CONDITIONS, limit
from rigcalc.shop import sample_shop_path
from rigcalc.units import LBF_N

LESSON = stored(installed_folder() / "lessons" / "09_what_it_may_carry.ipynb")
LBF = float(LBF_N)
BOARDS = (carry.what_may_it_carry, link.find_the_weakest, eye.lay_it_over_the_pin, slip.what_would_have_hung)


def values(board: Board, name: str) -> list:
    return dict(next(one for one in board.seen.controls if one.name == name).more)["values"]


def _place(words: str) -> int:
    """Where on the page a cell says these words."""
    return next(at for at, cell in enumerate(LESSON.cells) if words in cell.source)


# --- Worked examples ------------------------------------------------------------------------------

@pytest.mark.parametrize("worked, lines", [
    (lim.worked_gate, ("4200 lbf [18.68 kN]: AC 43.13-1B, Table 7-3, p 7-28", "3780 lbf", "divided by 5, set by Ines Varrow", "on the tag | 756 lbf", "284.6 lbf", "300 lbf")),
    (lim.worked_curtain, ("920 lbf", "828 lbf", "on the tag | 165 lbf", "69.1 lbf")),
    (lim.worked_kayak, ("2000 lbf", "1800 lbf", "divided by 10, set by Maro Tellfer", "for this order only", "on the tag | 180 lbf", "65.6 lbf", "100 lbf")),
])
def test_three_sheets_step_by_step(worked, lines):
    # worked by hand: AC 43.13-1B Table 7-3 x 0.90 / the named person's factor, rounded down
    told = str(worked())
    assert all(line in told for line in lines) and told in LESSON.shown


def test_the_strength_to_ask_for_goes_up():
    told = str(lim.strength_up())  # by hand: 300 x 5 / 0.90 = 1666.67: each figure goes up
    assert "| 1666.7 lbf" in told and "1667 lbf" in told


def test_the_step_before_the_tag_is_not_rounded_yet():
    told = str(lim.worked_curtain())  # 920 x 0.90 / 5 = 165.6
    assert "| 165.6 lbf [736 N]" in told and "rounded down, as on the tag | 165 lbf [733 N]" in told


def test_the_least_pin_comes_from_what_is_printed():
    assert "the bare cable, 3/32 | 2.381 mm" in str(eye.worked_eye()) and "rounded up | 4.77 mm" in str(eye.worked_eye())  # 2 x 2.381 = 4.762


def test_the_conditions_are_told_before_they_are_asked():
    told = str(lim.share_conditions())
    assert all(one in told and one in str(sheets.recap()) for one in EFFICIENCY_CONDITIONS) and "90% (common practice)" in told
    asked, shown, drill = (_place(words) for words in ("Which are they? Say them before you look.", "lim.share_conditions()", 'Exercise("what-the-share-rests-on")'))
    assert asked < shown < drill and told in LESSON.shown


def test_each_figure_that_is_asked_to_be_rounded_is_told_before():
    topics = {"mark": "a shackle's mark in kN, read in lbf", "load": "the load on a leg", "wires": "broken wires allowed", "tail": "the tail", "heat": "the warmest place", "pin": "the pin of a soft eye",
              "eye": "the length of a soft eye"}
    ways = {name: {"may": "rounded down", "must": "rounded up"}[kind] for name, _, kind in lim.SAFE_SIDE}
    figures = load_families()["down-or-up"].pools["figures"]
    assert {one["topic"] for one in figures} == {*topics, "limit", "strength"}  # these two are worked above it
    assert all(ways[topics[one["topic"]]] == one["way"] for one in figures if one["topic"] in topics)
    assert max(_place(words) for words in ("**Down, always.**", "lim.strength_up()", "lim.safe_side()")) < _place('Exercise("down-or-up")')


def test_answers_are_folded_until_they_are_said():
    for make in (lim.whose_words, lim.three_limits, lim.safe_side, lim.share_conditions, link.links_worked, eye.eyes_told, eye.ask_the_makers, slip.missteps_table):
        assert '<details class="when-said">' in make().html
    letters = lim.whose_words().html.partition("<details")[0]
    assert "visitors walk below" in letters and "refused" not in letters and "Tellfer" not in letters
    assert slip.what_would_have_hung().state["misstep"] != slip.missteps()[0].key  # the still figure has told the first


def test_the_second_drill_asks_for_no_order_that_was_just_told():
    orders = repr(Exercise("inside-the-scope", stream=lim.scope_stream())).lower()
    assert not [words for words in ("engine", "sign over", "kayak", "gate", "curtain") if words in orders]


def test_the_drawn_cable_loses_what_the_steps_take():
    found = lim.rated(next(reel for reel in lim.reels() if reel.id == "R4"), lim.shop_factor())
    assert [round(cut.left_n / LBF) for cut in found.cuts] == [2000, 1800, 360] and [round(cut.lost_n / LBF) for cut in found.cuts] == [40, 200, 1440]
    for first, second in zip(found.cuts, found.cuts[1:]):
        assert second.left_n + second.lost_n == pytest.approx(first.left_n)
    assert "165.6 lbf is stated as 165 lbf" in str(lim.rounding_still())


def test_no_published_factor_is_a_factor():
    assert str(lim.published_table()).count("not for a hand-pressed assembly") == 6
    with pytest.raises(Refusal, match="shown for comparison and never taken"):
        limit(breaking_force("1/8", "7x19", "galvanised"), published_factors()[0], "nobody")


# --- From order to limit --------------------------------------------------------------------------

def test_no_reel_and_no_figure_before_class_and_owner():
    board = carry.what_may_it_carry()
    assert [one.name for one in board.seen.controls] == ["order", "class"] and not board.seen.figures
    after(board, ("class", "people"))
    assert tones(board) == ["no"] and [one.name for one in board.seen.controls] == ["order", "class"]
    after(board, ("class", "nobody"))
    assert [one.name for one in board.seen.controls] == ["order", "class", "owner"]


@pytest.mark.parametrize("order, kind, owner, ok", [(order, kind, owner, owner == good) for order, kind, good in (("gate", "nobody", "shop"), ("curtain", "nobody", "shop"), ("kayak", "people", "kayak"))
                                                    for owner in ("shop", "kayak", "lantern", "book", "none")])
def test_only_its_own_factor_goes_through(order, kind, owner, ok):
    board = after(carry.what_may_it_carry(), ("order", order), ("class", kind), ("owner", owner))
    assert ("reel" in [one.name for one in board.seen.controls]) is ok and ("Refused" in said(board)) is not ok
    assert board.seen.controls[2].value == values(board, "owner").index(owner)  # what was chosen stays chosen


def test_the_engine_is_refused_whoever_asks():
    board = after(carry.what_may_it_carry(), ("order", "engine"), ("class", "nobody"))
    assert tones(board) == ["no"]
    after(board, ("class", "refused"))
    assert "whatever the sum says" in said(board) and len(board.seen.controls) == 2 and not board.seen.figures


@pytest.mark.parametrize("order, kind, owner, reel, told", [
    ("gate", "nobody", "shop", "R6", "756 lbf stands on the tag"), ("gate", "nobody", "shop", "R4", "360 lbf stands on the tag"), ("gate", "nobody", "shop", "R1", "at most 86 lbf"),
    ("curtain", "nobody", "shop", "R3", "165 lbf stands on the tag"), ("kayak", "people", "kayak", "R4", "180 lbf stands on the tag"), ("kayak", "people", "kayak", "R5", "158 lbf stands on the tag"),
    ("kayak", "people", "kayak", "R2", "at most 82 lbf")])
def test_what_each_may_carry(order, kind, owner, reel, told):
    board = after(carry.what_may_it_carry(), ("order", order), ("class", kind), ("owner", owner), ("reel", reel))
    for place in range(4):
        assert "stands on the tag" not in said(board) and f"{place + 1}: " in board.seen.figures[0].alt
        board.act_of("on")
    assert told in said(board) and tones(board)[0] == ("no" if "at most" in told else "ok")
    assert ("coat counts for nothing" in said(board)) == (reel == "R3") and ("carried over" in said(board)) == (reel == "R5")


def test_every_reel_gives_steps_or_one_refusal():
    board = after(carry.what_may_it_carry(), ("class", "nobody"), ("owner", "shop"))
    for reel in values(board, "reel")[1:]:
        after(board, ("reel", ""), ("reel", reel))
        assert (not board.seen.figures) == ("Refused" in said(board)) == (reel in ("R9", "BIN"))


@pytest.mark.parametrize("refused", [("reel", "R9"), ("reel", "BIN"), ("owner", "book")])
def test_no_limit_stands_after_a_refusal(refused):
    board = after(carry.what_may_it_carry(), ("class", "nobody"), ("owner", "shop"), ("reel", "R4"), "on", "on", "on", "on")
    assert "360 lbf stands on the tag" in said(board)
    after(board, refused)
    assert "Refused" in said(board) and "lbf stands" not in said(board) and not board.seen.figures and "ok" not in tones(board)
    name, value = refused
    chosen = next(one for one in board.seen.controls if one.name == name)
    assert values(board, name)[chosen.value] == value and "on" not in [one.name for one in board.seen.controls]


# --- The weakest link -----------------------------------------------------------------------------

def test_the_limits_are_told_only_when_the_governing_link_is_pointed_at():
    board = after(link.find_the_weakest(), ("angle", 0))
    assert "may carry" not in board.seen.figures[0].alt
    for place in ("anchor", "shackle", "cable", "turnbuckle"):
        after(board, ("pointed", place))
        assert tones(board) == ["no"] and "may carry" not in board.seen.figures[0].alt and "220" not in said(board)
    after(board, ("pointed", "hook"))
    assert tones(board)[0] == "ok" and "small snap hook, WLL 220 lbf, may carry 220 lbf, and governs" in board.seen.figures[0].alt
    assert "into line" not in said(board) and "into line" in said(after(link.find_the_weakest(), ("pointed", "anchor")))
    assert "governs" in str(link.links_worked()).splitlines()[-1]


@pytest.mark.parametrize("angle, governs", [(0, "hook"), (15, "hook"), (20, "anchor"), (45, "anchor"), (50, None), (90, None)])
def test_an_angle_takes_the_next_row_of_the_eyebolts_own_chart(angle, governs):
    # the invented sheet 4: 400 lbf up to 15 degrees, 125 lbf up to 45
    board = after(link.find_the_weakest(), ("angle", angle))
    if governs is None:
        assert "the last row of its chart" in said(board) and tones(board)[0] == "no"
    else:
        assert tones(after(board, ("pointed", governs)))[0] == "ok"


def test_no_mark_no_limit_and_an_eye_screw_without_a_chart_stays_in_line():
    board = after(link.find_the_weakest(), ("worn", True))
    assert "none is guessed" in said(board)
    after(board, ("shackle", -1))
    assert "Refused" not in said(board) and "worn" not in [one.name for one in board.seen.controls]
    after(board, ("anchor", 0), ("angle", 10))
    assert "or the fitting's own chart of limits under an angle" in said(board)


def test_changing_what_governs_helps_and_nothing_else_does():
    board = after(link.find_the_weakest(), ("angle", 0), ("hook", -1))
    assert link.governing(board.state) == ("cable",) and board.state["pointed"] == ""
    assert link.weakest(board.state).limit_n == pytest.approx(360 * LBF)
    after(board, ("pointed", "hook"))
    assert "not in the line" in said(board)


def test_the_live_line_begins_with_another_answer_than_the_still_one():
    assert "0 degrees" not in link.line_still().alt and "20 degrees" in link.find_the_weakest().seen.figures[0].alt
    assert link.governing(link.start()) == ("hook",) and link.governing(link.find_the_weakest().state) == ("anchor",)


def test_every_option_of_the_line_gives_a_view():
    board = link.find_the_weakest()
    for control in board.seen.controls:
        for value in dict(control.more).get("values", ()):
            assert after(link.find_the_weakest(), (control.name, value)).seen.figures


# --- The missteps ---------------------------------------------------------------------------------

# by hand, lbf: wrong, right (None: refused)
BY_HAND = {"left-out": (400, 360), "squared": (324, 360), "multiplied": (9000, 360), "divided": (444, 360), "wrong-metal": (360, 316), "coat": (756, 165), "doubled": (630, 360),
           "between": (270, None), "metric": (1260, None), "up": (166, 165), "kilograms": (794, 360), "bend": (270, 360), "shackle": (200, 360), "scope": (360, 180)}


def test_each_misstep_lets_hang_what_was_worked_by_hand():
    found = {one.key: (round(one.wrong_n / LBF), None if one.right_n is None else round(one.right_n / LBF)) for one in slip.missteps()}
    assert found == BY_HAND
    assert round(en_breaking_force_n("7x19", 6.0, 1770).force_n / LBF) == 5186 and "5185 lbf" in next(one.why for one in slip.missteps() if one.key == "metric")
    assert next(one.right for one in slip.missteps() if one.key == "kilograms") == "360 lbf, a mass of 163 kg"


@pytest.mark.parametrize("key", BY_HAND)
def test_a_load_is_shown_after_a_word_and_judged_by_it(key):
    wrong, right = BY_HAND[key]
    board = after(slip.what_would_have_hung(), ("misstep", key))
    assert board.seen.figures[0].alt.endswith("not shown yet.")
    call = "refuse" if right is None else "more" if wrong > right else "less"
    for way in ("more", "less", "refuse"):
        told = after(slip.what_would_have_hung(), ("misstep", key), ("call", way))
        assert tones(told)[0] == ("ok" if way == call else "no") and "With the misstep:" in told.seen.figures[0].alt
    assert "" not in values(told, "call")  # a word is not taken back: the load is told


def test_the_blocks_are_to_scale():
    heights = []
    for one in (slip.missteps()[0], slip.missteps()[2]):
        tall = [float(h) for h in re.findall(r'M[\d. ]+h124a0[^v]*v([\d.]+)', slip._figure(one, True).svg)]
        heights.append(tall[0] / tall[1])
    assert heights == [pytest.approx(400 / 360, rel=1e-3), pytest.approx(25, rel=1e-3)]


# --- Pin and eye, cold and warm -------------------------------------------------------------------

@pytest.mark.parametrize("pin, length, verdict", [(12, 36, "both kept"), (12, 35, "eye too short"), (4, 14, "pin too thin"), (4, 11, "both broken"), (5, 15, "both kept")])
def test_a_soft_eye_is_judged_by_both_rules(pin, length, verdict):
    assert eye._judged(pin, 2.38125, length)[0] == verdict
    board = after(eye.lay_it_over_the_pin(), ("pin", pin), ("length", length))
    assert tones(after(board, ("call", verdict)))[0] == "ok"


def test_a_soft_eye_is_not_judged_before_the_reader_has():
    board = eye.lay_it_over_the_pin()
    assert "kept, or not?" in board.seen.figures[0].alt and not set("✓✗") & set(board.seen.figures[0].svg)
    assert not set("✓✗") & set(eye.eyes_still().svg)
    after(board, ("call", "both kept"))
    assert tones(board)[0] == "no" and "at least three pin diameters" in said(board) and "it rates nothing" in said(board)


def test_every_pin_and_eye_is_drawn():
    for size in eye.SIZES:
        for pin in (eye.LEAST_PIN, eye.MOST_PIN):
            for length in (eye.LEAST_EYE, eye.MOST_EYE):
                assert after(eye.lay_it_over_the_pin(), ("size", size), ("pin", pin), ("length", length)).seen.figures


def test_the_curtains_eye_and_its_glasshouse():
    assert "after pressing | 36 mm" in str(eye.worked_eye())  # order 4: hook of 12 mm
    assert "stands -30 to 60" in eye.heat_still().alt
    rows = [line.split(" | ")[1] for line in str(eye.ask_the_makers()).splitlines() if " | -" in line]
    assert rows == ["-30 to +60 °C", "-30 to +60 °C", "-40 to +95 °C", "-40 to +93 °C"]


# --- The page -------------------------------------------------------------------------------------

def test_boards_begin_alike_and_are_on_the_page():
    for make in BOARDS:
        assert repr(make()) == repr(make()) and make().title in LESSON.shown


def test_the_page_says_who_owns_the_factor_and_what_is_refused():
    told = LESSON.markdown
    for words in ("named designer's", "no menu", "never divided again", "No mark, no limit", "Silence is no yes", "no bend factor on an eye", "Down, always"):
        assert words.lower() in told.lower(), words
    assert "Maro Tellfer" in LESSON.shown and "whatever the sum says" in LESSON.shown


def test_sheets_fill_in_the_shops_figures():
    assert "2000 lbf x 0.90 ÷ 5 = 360 lbf" in str(sheets.practice_sheet()) and str(sheets.practice_sheet()).count("STOP") == 2
    assert 10 <= len(str(sheets.recap()).splitlines()) - 2 <= 16


@pytest.mark.parametrize("system", ["US", "SI"])
def test_another_shop_is_taught_with_its_own_and_says_what_stands_in(tmp_path, monkeypatch, system):
    text = sample_shop_path().read_text(encoding="utf-8").replace('system = "US"', f'system = "{system}"')
    cut = "".join(part for part in re.split(r"(?m)^(?=\[)", text) if not part.startswith(("[[factor]]", "[[fitting]]")))
    monkeypatch.setenv("RIGCALC_HOME", str(tmp_path))
    (tmp_path / "shop.toml").write_text(cut, encoding="utf-8")
    for make in (lim.steps_still, lim.rounding_still, lim.strength_up, lim.whose_words, lim.three_limits, link.line_still, link.links_worked, slip.missteps_still, slip.missteps_table,
                 eye.eyes_still, eye.heat_still, sheets.practice_sheet, sheets.sources, *BOARDS):
        assert repr(make())
    assert lim.STANDS_IN in str(lim.opening()) and "fewer than three fittings" in link.line_still().caption
    board = after(carry.what_may_it_carry(), ("class", "nobody"), ("owner", "shop"), ("reel", "R6"), "on", "on", "on", "on")
    assert ("756 lbf" if system == "US" else "3.36 kN") in said(board)
    for one in slip.missteps():
        assert after(slip.what_would_have_hung(), ("misstep", one.key), ("call", one.call)).seen.said[0].tone == "ok"


def test_in_a_shop_of_ones_own_the_orders_have_one_factor_and_one_rounding(shop_text):
    shop_text(stranger())
    told = [str(make()) for make in (lim.whose_words, lim.steps_still, lim.worked_gate, lim.worked_curtain, lim.three_limits, lim.strength_up)]
    assert all("Ines Varrow" in one and "Runa Askelin" not in one for one in told)
    for make in (lim.whose_words, lim.steps_still, lim.rounding_still, lim.worked_gate, lim.worked_kayak, lim.three_limits, lim.strength_up):
        assert "INVENTED shop, not yours" in make().html, make.__name__
    # by hand: 920 lbf = 4092.4 N, x 0.90 / 5 = 736.6 N, to a whole newton below 1 kN
    assert "736.6 N is stated as 736 N" in str(lim.rounding_still()) and "736 N [165 lbf]" in str(lim.worked_curtain()) and "736 N [165 lbf]" in str(lim.three_limits())
    assert "coated: its last two steps" in lim.rounding_still().html and "Runa Askelin" not in str(lim.rounding_still())
    assert "set by Ines Varrow. Your shop's factor stands" in str(lim.opening())


def test_what_answers_a_question_waits_with_it():
    for make in (lim.steps_still, lim.rounding_still, lim.worked_gate, lim.strength_up):
        assert make().html.startswith('<div class="answer">'), make.__name__
    assert "## Rounding a limit\n" in LESSON.markdown


def test_a_sum_for_a_reel_that_no_chart_presses_stands_on_no_tag(monkeypatch):
    def carried():
        return said(after(carry.what_may_it_carry(), ("class", "nobody"), ("owner", "shop"), ("reel", "R4"), "on", "on", "on", "on"))

    assert "stands on the tag" in carried()
    shop, note = carry.shop_for_teaching()
    monkeypatch.setattr(carry, "shop_for_teaching", lambda: (replace(shop, charts=tuple(one for one in shop.charts if one.sleeve_metal != "aluminium")), note))
    assert "it stands on no tag: no chart of the shop has 1/8 in aluminium sleeves" in carried()
