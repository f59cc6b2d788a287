"""An order becomes a job sheet, a list of questions, or one sentence that says no."""

from __future__ import annotations

import dataclasses
import json
import re
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigcalc.assembly import HOLD_POINTS, MissingFacts, Order, job_sheet, missing_facts
from rigcalc.cautions import CAUTIONS
from rigcalc.errors import Refusal
from rigcalc.shop import load_shop, sample_shop_path

DAY = date(2026, 11, 25)
SHOP = load_shop(sample_shop_path())
GATE = Order(number="1", what="brace for a 12 x 4 ft gate", where="hill farm", use="nobody", near="nobody: the gate only sags",
             load="284.6 lbf", load_from="the gate's sum, checked by the trainer", movement="none", held="no", lifts="no", service="outdoor",
             ends="two thimble eyes", length="500 mm", measured="pin to pin", quantity="1", tightened="turnbuckle",
             greatest_tension="300 lbf", tension_check="in-line force gauge", installer="the farmer", reel="R4", tool="LB")
CAFE = dataclasses.replace(GATE, number="2", what="trellis wires", where="courtyard", load="150 lbf", greatest_tension="150 lbf",
                           tension_check="2 kg mid-span sags 17.6 mm", gravity="standard", length="2.40 m", quantity="8", reel="R5", tool=None)
LANTERN = dataclasses.replace(GATE, number="3", what="lantern wire", where="over the lane", use="people", near="people below",
                              load="67.6 lbf", service="marine", length="4 m", tightened="no", greatest_tension=None,
                              tension_check=None, gravity=None, reel="R5", tool=None, designer="A. Named Engineer", designer_factor="8",
                              designer_load="90 lbf", designer_date="2026-10-01", seen_by="Parvel Minch")


def sheet(order, shop=SHOP, **changes):
    return job_sheet(dataclasses.replace(order, **changes), shop, DAY)


def says_no(order, shop=SHOP, **changes):
    with pytest.raises(Refusal) as refused:
        sheet(order, shop, **changes)
    text = str(refused.value)
    assert "\n" not in text and text.endswith(".") and text.count("Refused:") == 1
    return text


# --- check values ---------------------------------------------------------------------------------
def test_the_cafe_wires_are_cut_at_2524_mm_and_carry_316_lbf():
    made = sheet(CAFE)
    assert made.cut_mm == 2524                                   # 2400 - 60 + 2 (70 + 15 + 7), scenario order 2
    assert made.limit_shown == "316 lbf [1.40 kN]"               # 1760 x 0.90 / 5 = 316.8, down
    assert made.quantity == 8 and made.tail_mm == 7
    assert "99 3/8 in [2524 mm]" in made.cut_shown


@pytest.mark.parametrize("reel, tool, limit", [                  # 0.90 / 5, galvanised, rounded down
    ("R1", None, "86 lbf"), ("R2", "LA", "165 lbf"), ("R4", "LB", "360 lbf"), ("R6", None, "756 lbf"),
    ("R7", None, "1260 lbf"), ("R8", None, "1764 lbf")])
def test_limits_of_the_shop_s_reels(reel, tool, limit):
    made = sheet(GATE, reel=reel, tool=tool, load="40 lbf", greatest_tension="50 lbf")
    assert made.limit_shown.startswith(limit + " [")


@pytest.mark.parametrize("reel, tool, factor, limit", [          # the designer's own factor, for that order
    ("R5", None, "8", "198 lbf"), ("R4", "LB", "10", "180 lbf"), ("R4", "LB", "9", "200 lbf"), ("R6", None, "9", "420 lbf"),
    ("R6", None, "8", "472 lbf")])
def test_where_people_can_be_the_designer_s_factor_rates_it(reel, tool, factor, limit):
    made = sheet(LANTERN, reel=reel, tool=tool, designer_factor=factor, service="dry")
    assert made.limit_shown.startswith(limit + " [")
    assert any("A. Named Engineer" in line for line in made.limit_working)
    assert not any("Ines Varrow" in line for line in made.limit_working)


def test_the_unit_system_of_the_shop_comes_first_and_each_part_is_rounded_down():
    made = sheet(CAFE, dataclasses.replace(SHOP, system="SI"))
    assert made.limit_shown == "1.40 kN [314 lbf]"
    assert made.cut_shown.startswith("2524 mm [")


def test_the_working_is_in_the_shop_s_units_too():
    us, si = sheet(GATE).limit_working, sheet(GATE, dataclasses.replace(SHOP, system="SI")).limit_working
    assert "2000 lbf [8.90 kN]" in us[0] and "1800 lbf [8.00 kN]" in us[1] and "360 lbf [1.60 kN]" in us[2]
    assert "8.90 kN [2000 lbf]" in si[0] and "8.00 kN [1800 lbf]" in si[1] and "1.60 kN [359 lbf]" in si[2]
    assert "Table 7-3" in us[0] and "common practice" in us[1]


def test_a_lower_certificate_counts():
    low = dataclasses.replace(SHOP.reel("R4"), certificate_n=1900 * 4.4482216152605)
    made = sheet(GATE, dataclasses.replace(SHOP, reels=(low,)))
    assert made.limit_shown.startswith("342 lbf")                # 1900 x 0.90 / 5


def test_a_chart_that_gives_less_than_0_90_counts():
    chart = next(c for c in SHOP.charts if c.id == "LB-AL")
    rows = tuple(dataclasses.replace(r, efficiency=0.85) for r in chart.rows)
    made = sheet(GATE, dataclasses.replace(SHOP, charts=(dataclasses.replace(chart, rows=rows),)))
    assert made.limit_shown.startswith("340 lbf")                # 2000 x 0.85 / 5


# --- what the sheet holds ---------------------------------------------------------------------------
def test_the_four_hold_points_come_in_time_order():
    made = sheet(GATE)
    assert tuple(step.hold for step in made.steps if step.hold) == HOLD_POINTS
    assert [step.number for step in made.steps] == list(range(1, len(made.steps) + 1))


def test_crimps_come_from_the_chart_of_the_tool_named():
    lever, press = sheet(GATE), sheet(GATE, tool="BB")
    assert (lever.crimp_count, lever.crimp_order) == (3, (2, 1, 3))
    assert (press.crimp_count, press.crimp_order) == (2, (1, 2))
    assert "LB-AL" in lever.chart_line and "BB-AL" in press.chart_line


def test_parts_are_counted_with_a_trial_piece_and_leave_room_for_lots():
    parts = {part.what.split()[0]: part for part in sheet(CAFE).parts}
    assert parts["Sleeves"].count == "16, and 2 for a trial piece" and "zinc-plated copper" in parts["Sleeves"].what
    assert parts["Cable"].lot == "L-2605" and parts["Sleeves"].lot == ""
    assert set(parts) == {"Cable", "Sleeves", "Thimbles", "Tool", "Gauge"}


def test_the_tag_says_what_a_tag_must_and_does_not_look_like_a_sling_s():
    tag = "\n".join(sheet(CAFE).tag)
    for words in ("1/8 7x19 stainless", "316 lbf [1.40 kN], straight pull only", "NOT FOR LIFTING / PEOPLE", "94 1/2 in [2400 mm]",
                  "Made by", "Inspect by", "INVENTED"):
        assert words in tag
    assert not re.search(r"sling|hitch|choker|basket|vertical", tag, re.IGNORECASE)


def test_the_gauge_is_named_with_its_days_and_the_invented_one_warns():
    gauge = " ".join(f"{item.label}: {item.value}" for item in sheet(GATE).gauge)
    assert "GB, slot 1/8 (checked 2026-03-02, due 2046-03-02, both days invented)" in gauge
    assert "INVENTED: DO NOT GAUGE REAL WORK WITH THIS" in gauge and "press again once" in gauge


def test_a_gauge_out_of_date_stops_the_work():
    assert any(line.startswith("STOP: gauge GC was due") for line in sheet(GATE, reel="R7", tool="LC").before_starting)
    assert sheet(GATE).before_starting == ()


def test_the_limit_says_what_it_covers_who_owns_the_factor_and_which_strength_counts():
    made = sheet(GATE)
    assert "Covers the load of 284.6 lbf [1.27 kN] and the greatest tension of 300 lbf [1.33 kN]." in made.limit_notes
    assert any("Ines Varrow" in line for line in made.limit_working)
    strength = next(item.value for item in made.decided if item.label == "Strength")
    assert strength.startswith("table 2000 lbf") and "2040 lbf" in strength and strength.endswith("the lower counts")


def test_inspection_follows_the_pairing_and_the_service():
    assert any("every 12 months" in line for line in sheet(CAFE).inspection)
    assert any("every 3 months" in line or "every 6 months" in line for line in sheet(LANTERN).inspection)


def test_every_sheet_shows_the_cautions_and_the_chart_in_force():
    for order in (GATE, CAFE, LANTERN):
        made = sheet(order)
        assert made.cautions == CAUTIONS and made.chart_line and made.invented and not made.practice


def test_a_correction_from_a_trial_piece_changes_the_cut():
    assert sheet(CAFE, correction="-2 mm").cut_mm == 2522 and sheet(CAFE, correction="+2 mm").cut_mm == 2526


def test_copper_on_stainless_says_that_0_90_is_carried_over():
    assert any("carried over" in note for note in sheet(CAFE).limit_notes)


def test_a_shop_that_is_not_invented_needs_the_maker_s_figure_for_copper_on_stainless():
    charts = tuple(dataclasses.replace(c, invented=False) for c in SHOP.charts)
    real = dataclasses.replace(SHOP, invented=False, charts=charts)
    assert "no efficiency in the chart in force" in says_no(CAFE, real)
    zinc = next(c for c in charts if c.id == "LB-ZC")
    rows = tuple(dataclasses.replace(r, efficiency=0.9) for r in zinc.rows)
    made = sheet(CAFE, dataclasses.replace(real, charts=(dataclasses.replace(zinc, rows=rows),)))
    assert made.limit_shown.startswith("316 lbf") and not made.invented
    assert "INVENTED" not in json.dumps(dataclasses.asdict(made))

def test_real_work_on_a_pair_known_from_memory_needs_the_maker_s_word():
    tin = [dataclasses.replace(c, sleeve_metal="tin-plated copper", invented=False) for c in SHOP.charts if c.id == "LB-ZC"]
    real = dataclasses.replace(SHOP, invented=False, charts=tuple(tin))
    order = dataclasses.replace(CAFE, sleeve_metal="tin-plated copper")
    assert "from memory" in says_no(order, real) and "ask the maker" in says_no(order, real)
    told = tuple(dataclasses.replace(c, rows=tuple(dataclasses.replace(r, efficiency=0.85) for r in c.rows)) for c in tin)
    assert sheet(order, dataclasses.replace(real, charts=told)).limit_shown.startswith("299 lbf")   # 1760 x 0.85 / 5 = 299.2, down


def test_a_sheet_can_be_put_into_json():
    assert json.loads(json.dumps(dataclasses.asdict(sheet(CAFE))))["cut_mm"] == 2524


# --- practice -----------------------------------------------------------------------------------------
BARE = dataclasses.replace(SHOP, charts=())


def test_without_a_maker_s_chart_the_sheet_is_for_practice_without_tag_or_record():
    made = sheet(GATE, BARE, sleeve_before="15 mm")
    assert made.practice and made.tag == () and made.record == ()
    assert made.crimp_count == 3 and made.crimp_order == ()
    assert any("no order of pressing" in line for line in made.before_starting)
    assert "common practice" in made.chart_line
    assert not any("Tag it" in step.text for step in made.steps)


def test_without_a_maker_s_chart_the_sleeve_s_length_is_asked_for():
    with pytest.raises(MissingFacts, match="1 fact is missing") as asked:
        sheet(GATE, BARE)
    assert "--sleeve-before" in asked.value.questions[0]


def test_a_practice_sheet_with_a_tool_named_does_not_invent_its_cavity():
    parts = {part.what.split()[0]: part.what for part in sheet(GATE, BARE, sleeve_before="15 mm").parts}
    assert parts["Tool"] == "Tool LB, long lever, no cavity stands in the chart in force"


def test_copper_without_a_chart_is_refused():
    assert "no chart in the shop file" in says_no(CAFE, BARE)


# --- what is missing ------------------------------------------------------------------------------------

NEEDED = ("use", "near", "movement", "held", "lifts", "what", "where", "load", "load_from", "service", "ends", "length", "measured",
          "quantity", "tightened", "installer", "reel", "greatest_tension", "tension_check")


@pytest.mark.parametrize("name", NEEDED)
def test_each_missing_fact_is_asked_for_and_never_assumed(name):
    with pytest.raises(MissingFacts, match="1 fact is missing") as asked:
        sheet(GATE, **{name: None})
    question, = asked.value.questions
    assert f"--{name.replace('_', '-')}" in question and question.count("?") == 1


@pytest.mark.parametrize("name", ["designer", "designer_factor", "designer_load", "designer_date"])
def test_where_people_can_be_the_designer_is_asked_for(name):
    with pytest.raises(MissingFacts) as asked:
        sheet(LANTERN, **{name: None})
    assert len(asked.value.questions) == 1


def test_what_moves_needs_a_named_designer_even_with_nobody_near():
    assert len(missing_facts(dataclasses.replace(GATE, movement="moves"))) == 4
    made = sheet(GATE, movement="shock", designer="A. Named Engineer", designer_factor="10", designer_load="150 lbf",
                 designer_date="2026-10-01", load="100 lbf", greatest_tension="120 lbf")
    assert made.limit_shown.startswith("180 lbf")


def test_an_empty_order_is_asked_about_whole_and_class_comes_first():
    questions = missing_facts(Order())
    assert len(questions) == 17 and "--use" in questions[0]


def test_a_blank_answer_is_a_missing_one():
    with pytest.raises(MissingFacts):
        sheet(GATE, installer="   ")


def test_the_tool_is_asked_for_where_two_charts_differ():
    with pytest.raises(MissingFacts) as asked:
        sheet(GATE, tool=None)
    assert "LB or BB" in asked.value.questions[0]
    untold = dataclasses.replace(GATE, tool=None)
    assert missing_facts(untold) == () and missing_facts(untold, SHOP) == asked.value.questions


def test_hand_tight_is_no_load():
    with pytest.raises(MissingFacts) as asked:
        sheet(GATE, tightened="hand tight", greatest_tension=None)
    assert "no load" in asked.value.questions[0]


# --- what is refused --------------------------------------------------------------------------------------
@pytest.mark.parametrize("use, ask", [("lifting", "rigger"), ("people carried", "engineer"), ("aircraft", "aircraft"),
                                      ("lifts", "lift"), ("vehicles", "vehicle"), ("towing", "vehicle")])
def test_refused_classes_have_no_way_round_and_say_whom_to_ask(use, ask):
    for order in (Order(use=use), dataclasses.replace(LANTERN, use=use), dataclasses.replace(GATE, use=use)):
        text = says_no(order)
        assert "no way round" in text and ask in text


@pytest.mark.parametrize("changes, said", [
    ({"use": "somebody"}, "ask first"),
    ({"movement": "swung on"}, "swing on"),
    ({"movement": "a bit"}, "none, moves, shock, swung on"),
    ({"what": "bridle to hoist an engine"}, "hoist"),
    ({"what": "Zip line"}, "Zip line"),
    ({"near": "children play there"}, "together with"),
    ({"service": "immersed"}, "immersed"),
    ({"service": "marine"}, "take stainless cable"),
    ({"service": "wet"}, "dry, outdoor, marine, immersed"),
    ({"reel": "R5", "sleeve_metal": "aluminium"}, "zinc-plated copper"),
    ({"sleeve_metal": "brass"}, "aluminium"),
    ({"reel": "R9"}, "metric size, another cable"),
    ({"reel": "BIN"}, "scrap for this work"),
    ({"reel": "R3", "tool": "LA"}, "at most 165 lbf"),
    ({"reel": "R99"}, "R4"),
    ({"tool": "LX"}, "LA, LB, LC, BB"),
    ({"tool": "LA"}, "3/32"),
    ({"ends": "one soft eye"}, "two thimble eyes"),
    ({"measured": "overall"}, "pin to pin"),
    ({"length": "500"}, "write the unit"),
    ({"length": "120 mm"}, "10 diameters"),
    ({"length": "0 mm"}, "50 mm to 100 m"),
    ({"length": "1/0 in"}, "length"),
    ({"quantity": "0"}, "1 to 1000"),
    ({"quantity": "two"}, "1 to 1000"),
    ({"load": "100 kg"}, "a mass"),
    ({"load": "0 lbf"}, "above nothing"),
    ({"load": "1,250 kN"}, "1,250 kN"),
    ({"temperature": "-40 to 20 C"}, "-30"),
    ({"temperature": "hot"}, "coldest"),
    ({"correction": "9 in"}, "50 mm"),
])
def test_what_cannot_be_built_is_refused_in_one_sentence(changes, said):
    assert said in says_no(GATE, **changes)


@pytest.mark.parametrize("changes, said", [
    ({"designer_factor": "0"}, "above 1"), ({"designer_factor": "1"}, "above 1"), ({"designer_factor": "8 or 10"}, "above 1"),
    ({"designer_date": "yesterday"}, "2026-03-02"), ({"designer_load": "90"}, "unit"), ({"designer_load": "250 lbf"}, "at most 198 lbf")])
def test_a_designer_s_figures_are_read_or_refused(changes, said):
    assert said in says_no(LANTERN, **changes)


@pytest.mark.parametrize("changes, bigger", [
    ({"load": "361 lbf", "greatest_tension": "361 lbf"}, "5/32 7x19 galvanised, 504 lbf"),
    ({"load": "100 lbf", "greatest_tension": "505 lbf"}, "3/16 7x19 galvanised, 756 lbf"),
    ({"load": "90000 lbf", "greatest_tension": "90000 lbf"}, "no size of the strength table")])
def test_a_load_above_the_limit_is_refused_with_the_nearest_bigger_size(changes, bigger):
    assert bigger in says_no(GATE, **changes)


def test_a_load_of_exactly_the_limit_is_covered():
    assert sheet(GATE, load="360 lbf", greatest_tension="360 lbf").limit_shown.startswith("360 lbf")


def test_the_mast_of_210_lbf_at_factor_9_needs_the_next_size_that_holds_it():
    text = says_no(LANTERN, reel="R4", tool="LB", service="dry", designer_factor="9", designer_load="210 lbf")
    assert "at most 200 lbf" in text and "5/32" in text          # 2800 x 0.90 / 9 = 280


def test_a_shop_without_a_factor_gives_no_limit():
    assert "without a design factor" in says_no(GATE, dataclasses.replace(SHOP, factors=()))


def test_a_reel_with_neither_table_nor_certificate_is_refused():
    reel = dataclasses.replace(SHOP.reel("R4"), construction="7x7", certificate=None, certificate_n=None)
    assert "certificate" in says_no(GATE, dataclasses.replace(SHOP, reels=(reel,)))
    listed = dataclasses.replace(reel, construction="1x19")
    assert "7x7 and 7x19" in says_no(GATE, dataclasses.replace(SHOP, reels=(listed,)))


def test_ten_diameters_of_cable_stay_between_the_sleeves():
    # Two eyes of 30 mm and two pressed sleeves of 20 mm take 100 mm; ten diameters of 1/8 are 31.75 mm.
    assert sheet(GATE, length="131.8 mm").cut_mm == pytest.approx(255.8)
    says_no(GATE, length="131.7 mm")


# --- whatever is typed ----------------------------------------------------------------------------------

typed = st.one_of(st.none(), st.text(max_size=30), st.sampled_from(
    ["nobody", "people", "lifting", "none", "moves", "500 mm", "180 lbf", "-1 mm", "R4", "R5", "R9", "BIN", "aluminium",
     "stainless", "marine", "LB", "turnbuckle", "no", "1/8", "1e5 kN", "\u0661 lbf", "9" * 50]))


@settings(max_examples=200, deadline=None)
@given(changes=st.dictionaries(st.sampled_from([f.name for f in dataclasses.fields(Order)]), typed, max_size=5))
def test_unseen_orders_give_a_sheet_or_a_refusal_and_never_anything_else(changes):
    try:
        made = job_sheet(dataclasses.replace(GATE, **changes), SHOP, DAY)
    except Refusal as refusal:
        assert "\n" not in str(refusal)
    else:
        assert made.limit_n > 0 and made.cautions == CAUTIONS


@settings(max_examples=100, deadline=None)
@given(load=st.integers(1, 3000), tension=st.integers(1, 3000), reel=st.sampled_from(["R1", "R4", "R5", "R6", "R7", "R8"]))
def test_no_sheet_is_ever_made_for_more_than_its_limit(load, tension, reel):
    order = dataclasses.replace(GATE, load=f"{load} lbf", greatest_tension=f"{tension} lbf", reel=reel,
                                tool="LB" if reel == "R4" else None)
    try:
        made = job_sheet(order, SHOP, DAY)
    except Refusal as refusal:
        assert ("below the load" if tension < load else "at most") in str(refusal)
    else:
        assert load <= tension <= int(made.limit_shown.split()[0])


@pytest.mark.parametrize("near", ["nobody except the audience", "no one, usually", "none but the crew", "the gardener"])
def test_nobody_with_a_but_is_somebody(near):
    with pytest.raises(Refusal, match="say who can be there"):
        job_sheet(dataclasses.replace(GATE, near=near), SHOP)


@pytest.mark.parametrize("near, word", [("nobody: the gardener passes at noon", "'gardener'"), ("nobody: visitors stay away", "'visitors'")])
def test_the_word_that_names_somebody_near_it_is_named(near, word):
    assert f"the class nobody together with {word} near it ('{near}')" in says_no(GATE, near=near)


def test_in_an_si_shop_refusals_and_questions_speak_its_units_first():
    text = says_no(GATE, dataclasses.replace(SHOP, system="SI"), load="361 lbf", greatest_tension="361 lbf")
    assert "at most 1.60 kN [359 lbf]" in text and "2.24 kN [503 lbf]" in text
