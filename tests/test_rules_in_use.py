"""The rule book, what it carries and how long: the rest of the rules that keep people safe, a test each (see `test_rules`)."""

from __future__ import annotations

import math
from datetime import date

import pytest
from rule_book import EIGHTH, FACTOR, LBF, SHOP, refused, sheet

from rigcalc.assembly import MissingFacts
from rigcalc.braces import gate_brace
from rigcalc.cable import band_mm, breaking_force, flats_mistaken_for, flats_reading_mm, metric_band_mm, sizes, sizes_agreeing
from rigcalc.clips import clip_plan, clips_needed, rule_of_thumb, saddle, spacing_mm
from rigcalc.comparing import sleeve_against_clips
from rigcalc.fittings import fitting_limit_n, marked_fitting, weakest_link
from rigcalc.legs import symmetrical_legs
from rigcalc.proof import cap_n, instrument_window_n, proof_load, proof_loads, refuse_reading
from rigcalc.rating import limit, required_breaking_force_n
from rigcalc.removal import LOOKS, Inspection, broken_wires_allowed, published_answers, removal, share_of_wires
from rigcalc.sleeve import chart_in_force
from rigcalc.spans import point_load_span, uniform_load_span
from rigcalc.temperature import published_temperatures, refuse_temperature
from rigcalc.units import round_to, show_force

FOOT = 304.8  # mm, exact by definition


# --- 15 -------------------------------------------------------------------------------------------

def test_legs_braces_and_spans_have_a_rule_each():
    refused(lambda: symmetrical_legs(300 * LBF, 2, math.radians(45)), "say whether it is from the horizontal")
    assert symmetrical_legs(300 * LBF, 2, math.radians(30), "horizontal").tension_n / LBF == pytest.approx(300)
    assert symmetrical_legs(300 * LBF, 2, math.radians(90), "included").tension_n / LBF == pytest.approx(212.13, abs=0.005)
    refused(lambda: symmetrical_legs(300 * LBF, 2, math.radians(29.9), "horizontal"), "30 degrees")
    gate = gate_brace(12 * FOOT, 4 * FOOT, 180 * LBF)
    assert gate.tension_n / LBF == pytest.approx(284.6, abs=0.05) and math.degrees(gate.angle_rad) == pytest.approx(18.4, abs=0.05)
    lantern = point_load_span(30 * FOOT, 1 * FOOT, 20 * LBF)                       # W / (2 sin a), tan a = 1 / 15
    assert math.hypot(lantern.horizontal_n, lantern.left_vertical_n) / LBF == pytest.approx(10 / math.sin(math.atan(1 / 15)))
    assert point_load_span(30 * FOOT, 0.5 * FOOT, 20 * LBF).horizontal_n == pytest.approx(2 * lantern.horizontal_n)
    assert uniform_load_span(6000, 150, 6 * 9.80665).horizontal_n == pytest.approx(294.2, abs=0.05)  # w L^2 / 8 s
    with pytest.raises(MissingFacts) as asked:
        sheet("03_lantern", sag=None)
    assert any("sag" in question for question in asked.value.questions)


# --- 16 -------------------------------------------------------------------------------------------

def test_the_weakest_link_compares_working_limits_and_divides_nothing_twice():
    cable = limit(EIGHTH, FACTOR, "nobody").force_n
    weakest = weakest_link(cable, [marked_fitting("shackle", "bow", "WLL 1000 lbf")])
    assert weakest.governs == "cable at its eyes" and weakest.limit_n / LBF == pytest.approx(360)  # not 1000 / 5 = 200
    small = weakest_link(cable, [marked_fitting("turnbuckle", "M6", "WLL 300 lbf")])
    assert small.governs == "turnbuckle M6" and small.limit_n / LBF == pytest.approx(300)
    eyebolt = marked_fitting("eyebolt", "M8", "WLL 1000 lbf")
    assert fitting_limit_n(eyebolt) / LBF == pytest.approx(1000)
    refused(lambda: fitting_limit_n(eyebolt, math.radians(45)), "own chart")
    refused(lambda: weakest_link(cable, [eyebolt]), "eyebolt")                     # its angle is asked
    assert any("not divided again" in item.value for item in sheet("05_kayak_bridle").links)


# --- 17 -------------------------------------------------------------------------------------------

def test_outside_minus_30_to_plus_60_degrees_the_makers_are_asked():
    refuse_temperature(-30, 60)
    for low, high in ((-31, 20), (0, 61), (0, 150)):                               # 150 is from memory: it accepts nothing
        refused(lambda low=low, high=high: refuse_temperature(low, high), "-30 to 60 degrees Celsius", "ask the makers")
    rows = {row.part: row for row in published_temperatures()}
    assert rows["wire rope sling, steel core"].highest_c == 204 and "another piece of equipment" in rows["wire rope sling, steel core"].stands_for
    assert rows["turn-back eye with an aluminium ferrule, steel core"].how_known == "from memory"
    assert rows["coat, MIL-DTL-83420 type II"].highest_c == 93
    refused(lambda: sheet("01_gate_brace", temperature="-40 to 40 C"), "ask the makers")


# --- 18 -------------------------------------------------------------------------------------------

def test_proof_loads_conflict_so_both_are_shown_and_the_shops_procedure_and_cap_decide():
    shown = {round(row.load_n / LBF) for row in proof_loads(360 * LBF, 2000 * LBF) if row.kind == "load"}
    assert {720, 1200} <= shown                                                    # 2 x limit; 60 % of the breaking force
    half = cap_n(2000 * LBF, 0.5)
    chosen = proof_load("twice the limit", 360 * LBF, 2000 * LBF, half, "procedure 3", "Ines Varrow")
    assert chosen.load_n / LBF == pytest.approx(720)
    refused(lambda: proof_load("60 percent of the breaking force, swaged terminal", 360 * LBF, 2000 * LBF, half, "procedure 3", "Ines Varrow"),
            "nothing is pulled above the cap")
    refused(lambda: proof_load("twice the limit", 360 * LBF, 2000 * LBF, None, "procedure 3", "Ines Varrow"), "without a cap")
    assert instrument_window_n(1000.0) == pytest.approx((950.0, 1000.0))           # -5 / +0 %, DOE-STD-1090-96 15.4.7.2
    refused(lambda: refuse_reading(1000.0, 1000.1), "more than its proof load")


# --- 19 -------------------------------------------------------------------------------------------

def test_a_limit_is_rounded_down_and_a_required_strength_up():
    assert 4200 * 0.90 / 5 == pytest.approx(756) and round_to(755.9999999999999, 1, "down") == 756
    three_sixteenths = breaking_force("3/16", "7x19", "galvanised")
    assert limit(three_sixteenths, FACTOR, "nobody").shown_us.startswith("756 lbf")
    thin = breaking_force("3/32", "7x19", "stainless")
    assert limit(thin, FACTOR, "nobody").shown_us.startswith("165 lbf")            # 165.6
    needed = required_breaking_force_n(100.1 * LBF, 0.90, 5)
    assert show_force(needed, "US", "up").startswith("557 lbf")                    # 556.1


# --- 20 -------------------------------------------------------------------------------------------

SOUND = {"construction": "7x7", "broken_at_sleeve": 0, "broken_in_8d": 0, "coat": "none", **dict.fromkeys(LOOKS, False)}


def test_out_of_service_at_any_broken_wire_at_a_sleeve_and_beyond_4_or_13_wires_elsewhere():
    assert (broken_wires_allowed("7x7"), broken_wires_allowed("7x19")) == (4, 13)  # 10 % of 49 and of 133, rounded down
    assert removal(Inspection(**SOUND)).verdict == "stay"
    for seen in ({"broken_at_sleeve": 1}, {"moved_mark": True}, {"crack": True}, {"red_rust": True}, {"broken_in_8d": 5}):
        assert removal(Inspection(**(SOUND | seen))).verdict == "out", seen
    assert removal(Inspection(**(SOUND | {"broken_in_8d": 4}))).verdict == "stay"
    assert removal(Inspection(**(SOUND | {"construction": "7x19", "broken_in_8d": 13}))).verdict == "stay"
    assert removal(Inspection(**(SOUND | {"construction": "7x19", "broken_in_8d": 14}))).verdict == "out"
    nine = Inspection(**(SOUND | {"broken_in_8d": 9, "broken_in_lay": 9}))
    answers = {answer.rule: answer.answer for answer in published_answers(nine)}
    assert answers["slings: lay"] == "stay" and answers["general rope: 8 d"] == "out"  # they disagree
    assert removal(nine).verdict == "out" and share_of_wires(10, "7x7") == pytest.approx(10 / 49)  # a fifth of the cable


# --- 21 -------------------------------------------------------------------------------------------

def test_measured_across_the_flats_a_cable_reads_a_size_too_small():
    bands = [band_mm(size) for size in sizes()]
    assert len(bands) == 12 and all(low[1] < high[0] for low, high in zip(bands, bands[1:], strict=False))
    assert flats_reading_mm(4.7625) / 25.4 == pytest.approx(0.171, abs=0.0005)     # 3/16 reads like 5/32
    told = {size: flats_mistaken_for(size) for size in sizes()}
    assert told["3/16"] == "5/32" and told["11/32"] == "5/16" and told["3/8"] is None and told["5/32"] is None
    assert sum(other is not None for other in told.values()) == 6                  # from 3/16 to 11/32
    low, high = metric_band_mm(6.0)
    assert sizes_agreeing(low + 0.01) == ("7/32",) and sizes_agreeing(high) == ("1/4",)


# --- 22 -------------------------------------------------------------------------------------------

def test_three_clips_at_least_six_diameters_apart_with_the_saddle_on_the_live_part():
    for size in ("1/8", "3/16", "1/4", "5/16", "3/8", "1/2"):
        assert (clips_needed(size, True), clips_needed(size, False)) == (3, 4)
    assert spacing_mm("1/4") == pytest.approx(6 * 6.35) and spacing_mm("1/2") == pytest.approx(76.2)  # the printed 3 in is 6 d of 1/2
    thumb = rule_of_thumb("1/4")
    assert thumb.gives == 2 and not thumb.enough                                   # ceil(3 x 0.25 + 1)
    plan = clip_plan("1/4", True)
    assert plan.number == 3 and plan.teaching_only and plan.efficiency == 0.80
    assert any("turnback grows in proportion" in note for note in plan.notes)      # the printed row goes with two clips
    for size in ("1/16", "3/32", "5/32"):
        refused(lambda size=size: clip_plan(size, True), "a size without a row was given")
    assert saddle("live").right and not saddle("dead").right


# --- 23 -------------------------------------------------------------------------------------------

def test_the_makers_chart_goes_before_published_practice():
    assert chart_in_force((), "aluminium", "1/8")[1].count == 3                    # common practice
    chart, row = chart_in_force(SHOP.charts, "aluminium", "1/8", "BB")
    assert (chart.kind, row.count) == ("maker", 2)                                 # the invented maker's press
    assert sheet("01_gate_brace", reel="R4", tool="BB", greatest_tension="300 lbf", size_reason=None).crimp_count == 2
    made = sheet("01_gate_brace")
    assert any("maker's chart governs" in line for line in made.cautions) and any("aircraft" in line for line in made.cautions)


# --- 24 -------------------------------------------------------------------------------------------

def test_a_certificate_names_only_what_was_shown():
    from bench.filled import Book, opened
    from register.statements import statement

    from rigcalc.register.certificate import certificate_bytes, check_certificate, sign_certificate
    from rigcalc.register.keys import Signer

    bench = Book(opened()).fill().outcome()                                        # one whole day at the bench: 1/8 in tool LB
    assert bench["shown"] == {"sleeve_metal": "aluminium", "cable_metal": "galvanised", "construction": "7x19", "tool": "LB", "cavity": "P",
                              "sizes": ["1/8"]}
    for line in ("other sizes of tool LB: 5/32, 3/16", "other sleeve metals: zinc-plated copper"):
        assert line in bench["not_shown"]
    key = Signer.make("demonstration")
    signed = check_certificate(certificate_bytes(sign_certificate(statement(), key, "A bench")), None, date(2031, 4, 1))
    assert signed.statement.scope.sizes == ["1/8"] and "no evidence for any other size" in signed.statement.scope.limits
    refused(lambda: sign_certificate(statement(not_shown=[]), key, "A bench"))     # it never leaves out what was not shown


# --- 25 -------------------------------------------------------------------------------------------

def test_sleeves_and_clips_both_lose_something():
    side_by_side = sleeve_against_clips("1/4", "7x19", "galvanised", True)
    better = {row.about: row.better for row in side_by_side.rows}
    assert better["strength"] == "sleeve" and better["bulk and snagging"] == "sleeve"
    assert better["what can be seen later"] == "clips" and better["undoing and adjusting"] == "clips" and better["tools"] == "clips"
    strength = next(row for row in side_by_side.rows if row.about == "strength")
    assert strength.sleeve / strength.clips == pytest.approx(0.90 / 0.80)
    hidden = next(row for row in side_by_side.rows if row.about == "what can be seen later")
    assert "hidden" in hidden.sleeve_says
    fixed = next(row for row in side_by_side.rows if row.about == "undoing and adjusting")
    assert "permanent" in fixed.sleeve_says and "undone" in fixed.clips_says
