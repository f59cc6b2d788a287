"""Answers of an order that contradict each other or say too little: tightening, its check, the designer, the strip marks.

Expected figures are worked out by hand beside each; sags by T = W / (2 sin a), strip marks as in the layout of the eye.
"""

from __future__ import annotations

import dataclasses
import math

import pytest
from test_orders import DAY, SHOP, order, refusal, says, sheet

from rigcalc.assembly import MissingFacts, OrderPiece, job_sheet
from rigcalc.errors import Refusal

TIGHT = {"tightened": "turnbuckle", "greatest_tension": "2000 lbf", "tension_check": "in-line force gauge"}


def asked(name, **changes):
    with pytest.raises(MissingFacts) as missing:
        sheet(name, **changes)
    question, = missing.value.questions
    return question


# --- a lap splice is never tightened and never loaded ---------------------------------------------------

@pytest.mark.parametrize("changes, said", [
    (TIGHT, "never tightened"), ({"tightened": "by hand"}, "never tightened"), ({"greatest_tension": "20 lbf"}, "never tightened"),
    ({"fittings": "turnbuckle by others"}, "never tightened"), ({"what": "ring round a barrel, carries 80 lbf"}, "carries no load"),
    ({"what": "ring that a hay net hangs on"}, "carries no load"), ({"what": "ring to strap three posts"}, "carries no load"),
    ({"what": "ring round 40 kg of hay"}, "carries no load")])
def test_a_ring_that_is_tightened_or_loaded_is_refused(changes, said):
    assert said in refusal("07_bird_net_ring", seen_by="Parvel Minch", **changes)


# --- tightened: no --------------------------------------------------------------------------------------

@pytest.mark.parametrize("changes, named", [
    ({"greatest_tension": "5000 lbf"}, "5000 lbf"), ({"tension_check": "with a tension gauge"}, "tension gauge"),
    ({"fittings": "middle turnbuckle"}, "turnbuckle"), ({"fittings": "turnbuckle by others"}, "turnbuckle"), ({"fittings": "wire strainer by others"}, "strainer"),
    ({"fittings": "tensioner by others"}, "tensioner"), ({"fittings": "rigging screw by others"}, "rigging screw"), ({"fittings": "wire vice by others"}, "wire vice"),
    ({"fittings": "Bottle screw by others"}, "Bottle screw"), ({"what": "trellis wires, each with a turnbuckle"}, "turnbuckle")])
@pytest.mark.parametrize("no", ["no", "none", "not tightened", "No."])
def test_not_tightened_together_with_what_tightens_is_a_contradiction(changes, named, no):
    facts = {"tightened": no, "greatest_tension": None, "tension_check": None, "check_weight": None, "fittings": None, **changes}
    text = refusal("02_cafe_wires", **facts)
    assert "tightened no together with" in text and named in text


def test_a_strainer_post_tightens_nothing():
    made = sheet("02_cafe_wires", tightened="no", greatest_tension=None, tension_check=None, check_weight=None, fittings="eye screws by others",
                 what="trellis brace for a strainer post")
    assert made.limit_shown.startswith("316 lbf")


def test_a_greatest_tension_below_the_load_or_the_pull_is_refused():
    assert "below the load of 150 lbf" in refusal("02_cafe_wires", greatest_tension="149 lbf")
    assert "the pull in the brace of 284.6 lbf" in refusal("01_gate_brace", greatest_tension="283 lbf")     # 180 / (2 sin 18.43)
    assert sheet("01_gate_brace", greatest_tension="284.6 lbf").limit_n > 0


# --- the check of a tension ------------------------------------------------------------------------------

@pytest.mark.parametrize("check", ["none", "we pull till it sings", "by feel", "by eye", "no gauge, by feel", "go gauge", "crimp gauge", "later", "sag is not checked",
                                   "without a gauge", "hand tight", "torque on the nut", "we don't own a gauge"])
def test_a_check_that_is_neither_sag_nor_gauge_is_asked_for(check):
    assert "--tension-check" in asked("01_gate_brace", tension_check=check) and "gauge" in asked("01_gate_brace", tension_check=check)


@pytest.mark.parametrize("check", ["gauge", "the shop's in-line force gauge", "tension meter", "with a tension gauge", "tensiometer", "load cell"])
def test_a_gauge_is_a_check(check):
    assert check in says(sheet("01_gate_brace", tension_check=check).order)["Tightened"]


@pytest.mark.parametrize("check", ["by sag", "sag at mid-span", "we hang something mid-span"])
def test_a_check_by_sag_asks_for_the_weight(check):
    assert "--check-weight" in asked("02_cafe_wires", tension_check=check, check_weight=None)


@pytest.mark.parametrize("check", ["by hanging 2 kg mid-span", "2 kg mid-span sags 17.6 mm", "sag under 2 kg"])
def test_the_weight_is_read_from_the_sentence(check):
    made = sheet("02_cafe_wires", tension_check=check, check_weight=None)
    assert "[17.6 mm]" in says(made.shape)["Check of the tension"]
    assert "--gravity" in asked("02_cafe_wires", tension_check=check, check_weight=None, gravity=None)


def test_two_weights_or_a_sag_that_is_too_tight_are_refused():
    assert "one weight" in refusal("02_cafe_wires", check_weight="3 kg")
    assert "tighter than 150 lbf" in refusal("02_cafe_wires", tension_check="2 kg mid-span sags 10 mm")


def test_the_sag_shown_adds_the_cable_s_own_weight_and_is_never_tighter():
    made = says(sheet("02_cafe_wires").shape)["Check of the tension"]
    # By hand: 0.381 x 3.175^2 = 3.841 kg per 100 m (EN 12385-4), 2.4 m weigh 0.904 N; H = 667.15 N; 19.613 x 2400 / 4 H + 0.904 x 2400 / 8 H = 17.64 + 0.41.
    own = 0.381 * 3.175**2 / 100 * 2.4 * 9.80665
    level = math.sqrt(667.2332**2 - ((19.6133 + own) / 2) ** 2)
    assert 18.0 < 19.6133 * 2400 / 4 / level + own * 2400 / 8 / level < 18.1
    assert "sags 0.69 in [17.6 mm] under that weight alone" in made and "own weight 0.72 in [18.1 mm]: set it by this" in made     # up: 18.05
    assert "EN 12385-4" in made and "Less sag: too tight" in made


def test_every_kind_of_piece_has_its_own_sag():
    made = sheet("02_cafe_wires", length=None, quantity=None, pieces=(OrderPiece("upper", "2.40 m", "1"), OrderPiece("lower", "4.80 m", "1")))
    checks = [item.value for item in made.shape if item.label == "Check of the tension"]
    assert "upper" in checks[0] and "[17.6 mm]" in checks[0] and "lower" in checks[1] and "[35.3 mm]" in checks[1]          # twice as long sags twice as far


def test_a_cable_without_a_sourced_mass_says_that_its_weight_is_left_out(monkeypatch):
    def unknown(*given):
        raise Refusal("a cable", "another", "weigh it")

    monkeypatch.setattr("rigcalc._job_own.cable_mass", unknown)
    made = says(sheet("02_cafe_wires").shape)["Check of the tension"]
    assert "Own weight is left out" in made and "No sourced mass" in made and "set it by this" not in made


# --- the designer -----------------------------------------------------------------------------------------

@pytest.mark.parametrize("name", ["the shop", "us", "-", "ours", "Ambrel Quay", "Venn", "an engineer", "our engineer", "C. V.", "chief engineer", "some person", "5", "1 2", "the town council",
                                  "qualified person", "Venn Ltd", "John Doe", "jane doe", "Joe Bloggs", "Test Person", "A N Other", "First Name Last Name", "Ambrel Quay Cable Bench"])
def test_a_designer_is_a_person_with_first_and_family_name(name):
    assert "first name and family name" in refusal("03_lantern", designer=name)


@pytest.mark.parametrize("name", ["Corla Venn", "A. Bee", "Maro van der Tell", "Zo\u00eb O'Dell-Quist", "Dr. Ilse Harkon", "\u0141ucja \u017bak"])
def test_a_person_s_name_is_taken(name):
    assert name in says(sheet("03_lantern", designer=name).order)["Designer"]


def test_a_designer_s_day_has_come():
    assert "after 2026-11-25" in refusal("03_lantern", designer_date="2026-11-26") and "after 2026-11-25" in refusal("03_lantern", designer_date="2099-03-01")
    assert sheet("03_lantern", designer_date=DAY.isoformat()).limit_n > 0


@pytest.mark.parametrize("name, changes, said", [
    ("03_lantern", {"designer_load": "1 lbf"}, "67.6 lbf"), ("03_lantern", {"load": "100 lbf", "designer_load": "99 lbf"}, "the load of 100 lbf"),
    ("06_mast_stays", {"designer_load": "209 lbf"}, "the load of 210 lbf"),
    ("06_mast_stays", {"greatest_tension": "220 lbf"}, "the greatest tension of 220 lbf"), ("05_kayak_bridle", {"designer_load": "65 lbf"}, "65.6 lbf")])
def test_a_design_load_covers_what_the_order_says(name, changes, said):
    text = refusal(name, **changes)
    assert "the design load" in text and said in text and "ask that designer again" in text


def test_a_designer_s_factor_is_no_lower_than_the_shop_s_own():
    assert "lower than the shop's own 5" in refusal("03_lantern", designer_factor="1.01") and "lower than" in refusal("03_lantern", designer_factor="4.9")
    assert sheet("03_lantern", designer_factor="5").limit_shown.startswith("316 lbf")
    none = dataclasses.replace(SHOP, factors=())
    assert job_sheet(order("03_lantern", designer_factor="3"), none, DAY).limit_n > 0


# --- strip marks --------------------------------------------------------------------------------------------

def test_strip_marks_are_rounded_outward():
    # A thimble eye on the 3/16 coat: 11 + 3.5 + 6 + 2 = 22.5 mm bare, coat to 109.5, bare to 132: never to 110, which leaves coat in the sleeve.
    first, second, _ = sheet("04_glasshouse_curtain", ends="two thimble eyes", pin=None).strip
    for line in (first, second):
        assert "bare to 57/64 in [22.5 mm]" in line and "coat stays to 4 1/4 in [109 mm]" in line and "bare to 5 1/4 in [132 mm]" in line
    marks = _marks("04_glasshouse_curtain", ends="two thimble eyes", pin=None)
    assert marks == pytest.approx((22.5, 109.5, 132.0))


def _marks(name, **changes):
    from rigcalc._job_plan import make_plan
    from rigcalc._order_read import read_facts

    asked_for = order(name, **changes)
    return make_plan(asked_for, read_facts(asked_for, "nobody", DAY), SHOP, DAY).layout.strips[0].marks_mm


@pytest.mark.parametrize("growth", [3.5, 3.7, 4.2])
@pytest.mark.parametrize("system", ["US", "SI"])
def test_no_rounding_shortens_the_bare_length(growth, system):
    import re
    from types import SimpleNamespace

    from rigcalc._job_steps import strip_lines
    from rigcalc.layout import strip_mm

    strip = strip_mm(11, growth, 7, 87, 2)
    line = strip_lines(SimpleNamespace(layout=SimpleNamespace(strips=(strip,)), system=system))[0]
    dead, coat, live = (float(text) for text in re.findall(r"([0-9.]+) mm", line))
    assert dead >= strip.marks_mm[0] and coat <= strip.marks_mm[1] and live >= strip.marks_mm[2] and live - coat < strip.marks_mm[2] - strip.marks_mm[1] + 2


# --- what a message says -----------------------------------------------------------------------------------

@pytest.mark.parametrize("weight", ["22", "22 st", "heavy"])
def test_a_weight_that_cannot_be_read_is_told_both_kinds_of_unit(weight):
    text = refusal("01_gate_brace", weight=weight)
    assert f"'{weight}'" in text and "a mass such as 180 lb or 82 kg, or a force such as 180 lbf or 800 N" in text


@pytest.mark.parametrize("name, changes, for_what", [
    ("02_cafe_wires", {}, "for the 2 kg hung for the check of the tension, for a mass"), ("01_gate_brace", {}, "for the weight of 180 lb, for a mass"),
    ("04_glasshouse_curtain", {"tightened": "turnbuckle", "greatest_tension": "100 lbf", "tension_check": "by sag", "check_weight": "1 kg"},
     "for the weight of 6 kg and the 1 kg hung for the check of the tension")])
def test_the_question_on_gravity_names_the_mass_it_is_for(name, changes, for_what):
    assert for_what in asked(name, gravity=None, **changes)


def test_a_certificate_is_printed_as_its_label_says_it():
    def line(certificate):
        reels = tuple(dataclasses.replace(reel, certificate=certificate) if reel.id == "R6" else reel for reel in SHOP.reels)
        return next(text for text in job_sheet(order("01_gate_brace"), dataclasses.replace(SHOP, reels=reels), DAY).record if text.startswith("Reel R6"))

    assert "; made-up certificate H-2 (" in line("made-up certificate H-2") and "; certificate H-2 (" in line("H-2")


# --- overhead, on the sheet, from nobody -------------------------------------------------------------------

@pytest.mark.parametrize("where, told", [
    ("overhead", "overhead"), ("above head height", "above head"), ("over heads", "over heads"), ("shed, above my head", "above my head"), ("over the heads of the choir", "over the heads"),
    ("above the receptionist", "above the receptionist"), ("over the ticket booth", "ticket booth"), ("over the archway", "archway"), ("garden wall, the track runs beneath it", "beneath it"), ("garden wall, the lane is underneath", "underneath"), ("arbour, with a seat in it", "with a seat in it")])
def test_over_heads_is_no_place_where_nobody_can_be(where, told):
    text = refusal("02_cafe_wires", where=where)
    assert "the use nobody together with" in text and told in text


@pytest.mark.parametrize("where", ["field at the head of the valley", "behind the bakery", "garden, above the lintel"])
def test_a_head_that_is_nobodys_is_no_matter(where):
    assert sheet("02_cafe_wires", where=where).limit_shown


@pytest.mark.parametrize("name, note", [("size_reason", "children climb on it"), ("size_reason", "wear, since a bucket is hoisted with it"), ("number", "trellis, children hang on it"), ("life", "till the swing is gone"), ("size_reason", "our boy scrambles up there"), ("size_reason", "so that I can get over the wall"), ("size_reason", "it also takes the bucket down the well"), ("life", "until the piano is in")])
def test_what_stands_on_the_sheet_and_the_tag_is_read_too(name, note):
    text = refusal("02_cafe_wires", **{name: note})
    assert "static work" in text or "speak of things alone" in text


@pytest.mark.parametrize("reason", ["wear and livestock", "the customer wants it heavier", "the farmer asked for one size for all", "our own stock of 1/8", "sea air", "wind and snow", "less sag"])
def test_a_reason_for_a_size_may_name_whoever_wished_for_it(reason):
    assert sheet("02_cafe_wires", size_reason=reason).limit_shown


@pytest.mark.parametrize("said", ["?", "-", "I do not know", "nobody", "somebody", "guessed", "my own estimate", "the gardener, by eye", "the gardener, who has not weighed it: unknown", "I reckon", "Osk Tamberlin, off the top of his head", "about what the old one took", "presumably the maker", "the farmer, \u00b150 %", "the internet", "it looks light"])
def test_a_load_from_nobody_or_guessed_is_asked_about(said):
    assert asked("02_cafe_wires", load_from=said).startswith(f"'{said}' states no load: who weighed, measured or worked it out")


@pytest.mark.parametrize("said", ["the plates", "the mast maker's sheet", "the gardener", "Osk Tamberlin, on the yard's scale", "my neighbour, on his scale", "weighed by us", "the lamp's label", "a spring balance, read by the gardener"])
def test_whoever_or_whatever_says_the_load_is_taken(said):
    assert sheet("02_cafe_wires", load_from=said).limit_shown
