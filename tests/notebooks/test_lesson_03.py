"""Lesson 03: what it alone must show, say and refuse; what every lesson must hold is in test_lessons.py."""

from __future__ import annotations

import re
from itertools import product

import pytest
from boards import after, said, tones
from stored import stored

from rigcalc.cable import METALS
from rigcalc.errors import Refusal
from rigcalc.figures.pairs import STAGES, Bar, pair_in_service, volts, wrong_pair
from rigcalc.galvanic import voltage_rule, where_the_rule_misleads
from rigcalc.home import installed_folder
from rigcalc.notebook.course import fitting_sleeves as fit
from rigcalc.notebook.course import metal_pairs as pairs
from rigcalc.notebook.course import silver
from rigcalc.notebook.course import sleeve_sheets as sheets
from rigcalc.notebook.teaching import shop_for_teaching
from rigcalc.pairing import SERVICES, pairing, refuse_from_memory
from rigcalc.sleeve import SLEEVE_METALS, fill, sleeve_sizes

LESSON = stored(installed_folder() / "lessons" / "03_which_sleeve_on_which_cable.ipynb")


# --- how a sleeve holds ---------------------------------------------------------------------------

def test_an_eye_is_judged_only_when_it_is_sawn_through():
    board = fit.saw_through()
    board.act_of("say coat")
    assert "from outside they are alike" in said(board)
    for letter, true in zip("ABCD", board.state["pieces"], strict=True):
        board.act_of("at", letter)
        board.act_of("saw")
        assert not board.state["told"].get(letter)
        board.act_of(f"say {true}")
        assert board.state["told"][letter] and "Right" in said(board)
    assert "The gauge would have stopped C alone" in said(board)


def test_a_wrong_cause_is_put_right_with_what_is_seen():
    board = fit.saw_through()
    board.act_of("saw")
    board.act_of("say half")
    assert "Not so. A: coat left on" in said(board)
    board.act_of("fresh")
    assert board.state["told"] == {} and sorted(board.state["pieces"]) == ["coat", "good", "half", "small"]


def test_from_outside_the_coated_and_the_thin_one_look_like_the_good_one():
    alt = fit.cut_still().alt
    assert alt.count("its crimps alike") == 3 and alt.count("a little fat") == 1


# --- which size -----------------------------------------------------------------------------------

@pytest.mark.parametrize("reel", [one.id for one in shop_for_teaching()[0].reels if one.is_inch])
def test_only_the_bare_size_with_the_coat_off_is_the_one(reel):
    board = fit.try_both_legs()
    board.act_of("reel", reel)
    one = shop_for_teaching()[0].reel(reel)
    for sleeve, bare in product(sleeve_sizes(), (False, True) if one.coating_to else (True,)):
        if one.coating_to:
            board.act_of("bare", bare)
        board.act_of("sleeve", sleeve)
        assert board.seen.figures[0].alt
        board.act_of("this")
        assert (board.seen.said[0].tone == "ok") == (sleeve == one.size and bare), (sleeve, bare, said(board))


def test_a_sleeve_one_size_too_large_goes_on_and_says_how_little_it_holds():
    # trade: 3/32 in a 1/8 sleeve fills 56 %
    table = str(fit.fill_table())
    assert "3/32 | 1/8 | 56% | goes on" in table and f"{fill('1/8', '5/32'):.0%}" in table


def test_controls_of_the_fit_are_the_shops_reels_and_the_trades_sleeves():
    controls = {one.name: one.as_data() for one in fit.try_both_legs().seen.controls}
    assert controls["reel"]["values"] == [one.id for one in shop_for_teaching()[0].reels if one.is_inch]
    assert controls["sleeve"]["values"] == list(sleeve_sizes())


# --- what no chart lists --------------------------------------------------------------------------

@pytest.mark.parametrize("made, size, metal, listed, words", [
    ("7x19", "1/8", "zinc-plated copper", True, "4 crimps"), ("7x7", "3/32", "aluminium", True, "crimps"), ("1x19", "1/8", "aluminium", False, "7x7 and 7x19"),
    ("6x19", "1/4", "aluminium", False, "7x7 and 7x19"), ("7x19", "7/32", "aluminium", False, "3/16 or 1/4"), ("7x19", "1/8", "stainless", False, "no chart"),
    ("7x19", "1/8", "tin-plated copper", False, "no chart")])
def test_the_chart_answers_or_refuses(made, size, metal, listed, words):
    told, found = fit.chart_says(made, size, metal)
    assert found == listed and words in told
    board = fit.ask_the_chart()
    for name, value in (("made", made), ("size", size), ("metal", metal)):
        board.act_of(name, value)
    assert told not in said(board)
    board.act_of("press")
    assert (board.seen.said[0].tone == "ok") == listed


def test_every_cable_that_the_board_offers_is_drawn():
    board = fit.ask_the_chart()
    for made in dict(board.seen.controls[0].more)["values"]:
        board.act_of("made", made)
        assert made in board.seen.figures[0].alt


# --- pairs ----------------------------------------------------------------------------------------

@pytest.mark.parametrize("cable, sleeve, service", list(product(METALS, SLEEVE_METALS, SERVICES)))
def test_every_pair_waits_for_the_call_and_then_gives_verdict_reasons_and_year(cable, sleeve, service):
    state = {"cable": cable, "sleeve": sleeve, "service": service, "coated": False, "called": ""}
    verdict = pairing(cable, sleeve, service)
    assert pairs.pair_view(state).under is None
    for called in ("use", "look", "stop"):
        seen = pairs.pair_view(state | {"called": called})
        assert (seen.said[0].tone == "ok") == (called == pairs.call_of(verdict)) and verdict.verdict in seen.said[0].text
        assert seen.under and verdict.reasons[0] in seen.under.text and verdict.how_known in seen.under.text
        assert ("struck out" in seen.figures[0].alt) == (pairs.call_of(verdict) == "stop")


def test_calls_follow_the_trades_table():
    calls = {(c, s): "".join(pairs.call_of(pairing(c, s, service))[0] for service in SERVICES) for c, s in product(METALS, SLEEVE_METALS)}
    assert calls["galvanised", "aluminium"] == "ulss" and calls["stainless", "aluminium"] == "ssss"
    assert calls["galvanised", "zinc-plated copper"] == "ulss" and calls["stainless", "zinc-plated copper"] == "ulls"
    assert calls["galvanised", "plain copper"] == "lsss"


def test_a_pair_from_memory_is_used_by_no_board_as_no_job_sheet_uses_it():
    memory = [where for where in product(METALS, SLEEVE_METALS, SERVICES) if pairs.from_memory(pairing(*where))]
    assert memory and str(pairs.pairing_table()).count("from memory: ask the maker") == len(memory)
    for cable, sleeve, service in memory:
        with pytest.raises(Refusal, match="is from memory"):
            refuse_from_memory(pairing(cable, sleeve, service), real=True)
        for call, tone in (("use", "no"), ("look", "no"), ("stop", "ok")):
            board = after(pairs.your_pair(), ("cable", cable), ("sleeve", sleeve), ("service", service), call)
            assert tones(board) == [tone] and "from memory" in said(board) and "until the sleeve maker's chart lists the pair" in said(board)
        for call, tone in (("may", "no"), ("not", "ok")):
            rule = after(pairs.the_rule_or_the_craft(), ("service", service))
            place = next(at for at, one in enumerate(pairs._pairs(service)) if one[:2] == (cable, sleeve))
            after(rule, ("at", str(place)), call)
            assert rule.seen.said[0].tone == tone and "is from memory" in said(rule) and "from memory: ask the maker" in rule.seen.figures[0].alt


def test_a_coated_cable_keeps_its_pair_and_adds_a_reason():
    board = pairs.your_pair()
    board.act_of("coated", True)
    board.act_of("look")
    assert "A coat does not change the pair" in board.seen.under.text


def test_the_year_marks_the_shortest_interval():
    assert pairs.months_of(pairing("stainless", "zinc-plated copper", "marine")) == (3, 6, 9, 12)
    assert pairs.months_of(pairing("galvanised", "aluminium", "outdoor")) == (12,)
    assert "every 3 to 6 months, the first time after 3" in str(pairs.interval_table())


def test_intervals_are_said_as_the_exercises_say_them():
    from rigcalc.questions.registry_sleeves import interval_words

    said_here = {cell for line in str(pairs.interval_table()).splitlines()[2:] for cell in line.split(" | ")[1:]}
    assert said_here == set(interval_words())
    salt = {"cable": "galvanised", "sleeve": "aluminium", "service": "marine", "coated": False, "called": "stop"}
    assert "every 3" not in pairs.pair_view(salt).figures[0].alt  # not made: no interval is offered


@pytest.mark.parametrize("service", SERVICES)
def test_copper_on_stainless_is_told_either_way_as_the_sea_row_has_it(service):
    text = pairs.pair_view({"cable": "stainless", "sleeve": "plain copper", "service": service, "coated": False, "called": "stop"}).under.text
    assert "passive" in text and "active" in text and "copper is spared" not in text
    sea = [line.split(" | ")[0] for line in str(pairs.sea_table()).splitlines()[2:]]
    assert sea.index("stainless 304, active") < sea.index("copper") < sea.index("stainless 304, passive")


def test_bag_against_scale_is_one_rule_in_drill_and_recap():
    assert "counts as a sleeve without a bag" in str(sheets.recap())
    assert "counts as none" in silver.WRONG_BAG and "counts as none" in silver.SWAPPED.why
    loose = {sleeve.metal: sleeve.known for sleeve in (*silver.CAN, *silver.CANNOT) if sleeve.lies == "loose"}
    wrong = [silver.SWAPPED, *(sleeve for sleeve in silver.CANNOT if sleeve.lies == "bag")]
    assert wrong and all(sleeve.known == loose[sleeve.metal] for sleeve in wrong)
    assert "cannot be known" not in said(silver.sort_twelve()) and "Two of the twelve" not in LESSON.shown


def test_the_table_holds_every_pair():
    lines = str(pairs.pairing_table()).splitlines()
    assert len(lines) == 2 + len(METALS) * len(SLEEVE_METALS)
    assert "stainless cable, aluminium sleeve | never | never | never | never" in lines


# --- the wrong pair in stages ---------------------------------------------------------------------

@pytest.mark.parametrize("stage", range(4))
def test_at_every_look_it_comes_down(stage):
    board = pairs.hang_it_and_look()
    board.act_of("stage", stage)
    assert "not to be seen" in board.seen.figures[0].alt
    board.act_of("down")
    assert board.seen.said[0].tone == "ok" and "Cut open" in board.seen.figures[0].alt
    board.act_of("leave")
    assert board.seen.said[0].tone == "no"


def test_the_thinned_wall_looks_from_outside_like_the_bloom():
    def outside(stage: int) -> str:
        svg = wrong_pair(stage, False, told=False).svg
        return re.sub(r"f[0-9a-f]{8}-", "", svg)
    assert outside(1) == outside(2) != outside(0)
    assert len({re.sub(r"f[0-9a-f]{8}-", "", wrong_pair(stage, True, told=False).svg) for stage in range(4)}) == len(STAGES)


def test_no_years_are_named_for_the_wrong_pair():
    shown = " ".join([str(pairs.reasons_table()), pairs.stages_still().alt, pairs.stages_still().caption, *(words for pair in pairs.LOOKS for words in pair)])
    assert not re.search(r"\d+\s*(years?|months?)|\byears?\b", shown)
    with pytest.raises(Refusal):
        wrong_pair(4, True)


# --- where the voltage rule misleads --------------------------------------------------------------

@pytest.mark.parametrize("service", SERVICES)
def test_the_bars_mark_just_the_pairs_where_rule_and_craft_part(service):
    board = pairs.the_rule_or_the_craft()
    board.act_of("service", service)
    assert "misled" not in board.seen.figures[0].svg
    board.act_of("all")
    misled = sum(one.service == service for one in where_the_rule_misleads())
    assert board.seen.figures[0].svg.count("misled") == misled
    assert f"misleads for {misled} of 12 pairs" in said(board)


def test_both_ways_of_misleading_are_told_with_their_reason():
    board = pairs.the_rule_or_the_craft()
    row = {(cable, sleeve): place for place, (cable, sleeve, _) in enumerate(pairs._pairs("outdoor"))}
    board.act_of("at", str(row["galvanised", "aluminium"]))
    assert "The simple rule fails it" in said(board)
    board.act_of("may")
    assert board.seen.said[0].tone == "ok" and "The rule misleads" in said(board) and "carries no load" in said(board)
    board.act_of("at", str(row["bright", "aluminium"]))
    assert "The simple rule passes it" in said(board)
    board.act_of("may")
    assert board.seen.said[0].tone == "no" and "The rule misleads" in said(board)


def test_the_line_is_the_guidelines_limit_and_a_bar_its_gap():
    figure = volts([Bar("a + b", 0.3), Bar("c + d", 0.05)], voltage_rule("galvanised", "aluminium", "outdoor").most_v)
    assert "limit is 0.15 V" in figure.alt and "a + b: 0.3 V, the rule fails it" in figure.alt and "c + d: 0.05 V, the rule passes it" in figure.alt
    lines = str(pairs.misled_table()).splitlines()[2:]
    assert len(lines) == len({(one.cable, one.sleeve, one.rule_passes) for one in where_the_rule_misleads()})
    assert "galvanised + aluminium, 0.3 V | too far apart | makes it | dry, indoors; outdoors" in lines
    assert sum(line.count(";") + 1 for line in lines) == len(where_the_rule_misleads())


def test_an_unknown_service_is_not_drawn():
    with pytest.raises(Refusal):
        pair_in_service("stainless", "aluminium", "space")


# --- six jobs -------------------------------------------------------------------------------------

def test_each_way_of_going_wrong_stands_once_among_the_six_jobs():
    assert sorted(fit.job_fault(letter) for letter in "ABCDEF") == sorted(fit.FAULTS)


def test_a_job_is_told_and_the_first_word_counts():
    board = fit.six_jobs()
    board.act_of("fault", "none")
    board.act_of("say")
    assert "Not so. Job A: the wrong metal" in said(board)
    board.act_of("fault", "pair")
    board.act_of("say")
    assert board.state["told"] == {"A": False}
    for letter in "BCDEF":
        board.act_of("at", letter)
        board.act_of("fault", fit.job_fault(letter))
        board.act_of("say")
        assert board.seen.said[0].tone == "ok"
    assert "5 of 6 at the first word" in said(board)


def test_what_can_be_pointed_at_is_no_control_of_the_same_name():
    for make in (silver.sort_twelve, fit.saw_through, pairs.the_rule_or_the_craft, fit.six_jobs):
        board = make()
        picked = {name for one in board.seen.figures for name in re.findall(r'data-pick="([^"]+)"', one.svg)}
        assert picked and not picked & {one.name for one in board.seen.controls}


# --- the worked example and the sheets ------------------------------------------------------------

def test_the_worked_example_is_order_2():
    # trade 5.1, order 2: stainless 1/8, zinc-plated copper, outdoors, yearly; aluminium never
    text = str(sheets.worked_order())
    for part in ("R5: 1/8 7x19 stainless", "service: outdoor", "aluminium: never", "zinc-plated copper: use, inspect yearly", "so sleeve 1/8", "4 crimps, tool LB, cavity P",
                 "INVENTED"):
        assert part in text, part
        assert part in LESSON.shown, part


def test_the_saving_is_worked_from_the_shops_prices():
    # 16 sleeves at 0.14 and 0.60: 2.24, 9.60, and 7.36 between them
    lines = str(sheets.cheaper()).splitlines()
    assert [line.rpartition(" | ")[2] for line in lines[2:]] == ["2.24", "9.60", "7.36"]


def test_copper_is_told_by_its_weight():
    # 8.8 / 2.7 = 3.26
    assert "copper is 3.3 times as heavy as aluminium" in str(silver.three_ways()) and "3.3 times as heavy" in silver.balance().alt


def test_the_recap_fits_one_page():
    lines = str(sheets.recap()).splitlines()
    assert 12 <= len(lines) <= 18 and sum(-(-len(line) // 80) for line in lines) <= 40


def test_the_practice_sheet_has_the_charts_counts_and_its_hold_points():
    text = str(sheets.practice_sheet())
    assert text.count("STOP:") == 2 and "aluminium 3 (tool LB), 2 (tool BB); zinc-plated copper 4 (tool LB)" in text
    assert "Nothing is pressed in this task" in text


def test_the_abilities_are_the_skills_of_this_lesson():
    assert [int(number) for number in re.findall(r"^(\d+) \|", str(sheets.abilities()), re.M)] == [17, 18, 19, 20, 21, 22, 77]


def test_sources_say_how_they_are_known():
    rows = [line.split(" | ") for line in str(sheets.sources()).splitlines()[1:]]
    assert len(rows) >= 12 and all(len(row) == 3 and row[2] for row in rows)
    assert {"common practice", "from memory", "INVENTED", "read"} <= {row[2] for row in rows}


def test_the_trainer_is_told_the_scale_and_what_to_watch():
    told = " ".join(note for _, note in LESSON.notes)
    for part in ("on a scale", "more than three times as heavy", "behind the guard", "Watch at the bench", "3/32 cable in a 1/8 sleeve"):
        assert part in told, part
