"""Check values for the families of lessons 09 and 10: right figures worked by hand, and what each misstep gives.

Base case: 1/8 7x19 galvanised, 2000 lbf (AC 43.13-1B Table 7-3), 0.90, factor 5, so 360 lbf.
"""

from __future__ import annotations

import math

import pytest
from a_family import composed, families, instance

from rigcalc.errors import Refusal
from rigcalc.figures import FIGURES
from rigcalc.questions import mark
from rigcalc.questions.registry import call

LBF = 4.4482216152605  # N, by definition
FOOT = 304.8


def _lbf(name: str, **given) -> float:
    return call(name, given) / LBF


@pytest.mark.parametrize(("name", "given", "pounds"), [
    # 300 lb on two legs at 30 degrees from the horizontal: 300; taken from the vertical 173 (150 / cos 30)
    ("equal_leg_n", {"load_n": 300 * LBF, "count": 2, "angle_deg": 30, "angle_from": "horizontal"}, 300),
    ("equal_leg_n", {"load_n": 300 * LBF, "count": 2, "angle_deg": 30, "angle_from": "vertical"}, 173.2),
    # 90 degrees between the legs: 212; taken as from the horizontal 150
    ("equal_leg_n", {"load_n": 300 * LBF, "count": 2, "angle_deg": 90, "angle_from": "included"}, 212.1),
    ("equal_leg_n", {"load_n": 300 * LBF, "count": 2, "angle_deg": 90, "angle_from": "horizontal"}, 150),
    # 400 lb on four plumb legs: 200 on two; 133 on three; 100 on four
    ("equal_leg_n", {"load_n": 400 * LBF, "count": 4, "angle_deg": 90, "angle_from": "horizontal"}, 200),
    ("shared_leg_n", {"load_n": 400 * LBF, "legs_on": 3, "angle_deg": 90}, 133.3),
    ("shared_leg_n", {"load_n": 400 * LBF, "legs_on": 4, "angle_deg": 90}, 100),
    # 300 lb, centre 2 ft of 8: 225 and 75
    ("plumb_leg_n", {"load_n": 300 * LBF, "apart_mm": 8 * FOOT, "at_mm": 2 * FOOT, "leg": "A"}, 225),
    ("plumb_leg_n", {"load_n": 300 * LBF, "apart_mm": 8 * FOOT, "at_mm": 2 * FOOT, "leg": "B"}, 75),
    # 84 lb, bridle 4 ft high, points 3 and 5 ft off: 84 x 5/8 x 5/4 = 65.6; 84 x 3/8 x sqrt(41)/4 = 50.4
    ("bridle_leg_n", {"load_n": 84 * LBF, "height_mm": 4, "short_mm": 3, "long_mm": 5}, 65.625),
    ("bridle_leg_n", {"load_n": 84 * LBF, "height_mm": 4, "short_mm": 3, "long_mm": 5, "which": "long"}, 50.42),
    # 20 lb at the middle of 30 ft, sag 1 ft: 10 x sqrt(226) = 150.3
    ("span_tension_n", {"span_mm": 30 * FOOT, "sag_mm": FOOT, "load_n": 20 * LBF}, 150.33),
    # a gate 12 x 4 ft of 180 lb: 90 x sqrt(10) = 284.6
    ("gate_brace_n", {"width_mm": 12 * FOOT, "height_mm": 4 * FOOT, "load_n": 180 * LBF}, 284.6),
    # 300 lbf x 5 / 0.9 = 1666.7
    ("required_breaking_force_n", {"load_n": 300 * LBF, "efficiency": 0.9, "factor": 5}, 1666.7),
])
def test_figures_worked_by_hand(name, given, pounds):
    assert _lbf(name, **given) == pytest.approx(pounds, rel=5e-4)


def test_a_shackles_mark_is_not_divided_again():
    shackle = call("link", {"kind": "shackle", "name": "", "limit_n": 1000 * LBF})
    line = {"cable_n": 360 * LBF, "links": [shackle]}
    assert _lbf("weakest_limit_n", **line) == pytest.approx(360)
    assert _lbf("weakest_limit_n", **line, divided_by=5, divided="all") == pytest.approx(200)
    assert call("weakest_part", line) == "the cable at its eyes"


def test_the_curtain_of_6_kg():
    """6 kg over 6 m, sag 150 mm: H = 58.84 x 6 / (8 x 0.15) = 294.2 N; with 29.4 N upright 295.7 N."""
    load = call("weight_n", {"mass_kg": 6, "g": call("standard_gravity", {})})
    assert call("spread_tension_n", {"span_mm": 6000, "sag_mm": 150, "load_n": load}) == pytest.approx(295.7, abs=0.05)


def test_flat_legs_are_refused_and_braces_and_spans_are_not():
    assert call("hung_leg_n", {"load_n": 1000, "reach_mm": 1000, "drop_mm": 570}) is None  # 29.7 degrees
    assert call("hung_leg_n", {"load_n": 1000, "reach_mm": 1000, "drop_mm": 580}) == pytest.approx(996.6, abs=0.1)  # 30.1 degrees
    with pytest.raises(Refusal, match="30 degrees"):
        call("equal_leg_n", {"load_n": 1000, "count": 2, "angle_deg": 125, "angle_from": "included"})
    assert call("gate_brace_n", {"width_mm": 3600, "height_mm": 1000, "load_n": 1000}) > 1000  # 15.5 degrees


@pytest.mark.parametrize(("left", "right", "slack"), [(1000, 2000, "right"), (2000, 1000, "left"), (1000, 1200, "neither")])
def test_which_of_two_legs_is_loose(left, right, slack):
    """Anchors 1000 mm apart: plumb under a 1000 mm leg the other anchor is 1414 mm away."""
    assert call("slack_leg_of_two", {"apart_mm": 1000, "left_mm": left, "right_mm": right}) == slack


def test_a_leg_just_long_enough_is_not_asked_about():
    with pytest.raises(Refusal, match="well past being straight"):
        call("slack_leg_of_two", {"apart_mm": 1200, "left_mm": 500, "right_mm": 1300})  # 5, 12, 13


def test_the_stay_downwind_is_slack():
    """Stays at 0, 120 and 240 degrees; the wind comes from 40: 40 - 180 lies nearest to 240."""
    given = {"letters": ["A", "B", "C"], "turn_deg": 0, "wind_from_deg": 40}
    assert [call("stay_in_wind", given | {"which": which}) for which in ("most", "less", "slack")] == ["A", "B", "C"]
    with pytest.raises(Refusal):
        call("stay_in_wind", given | {"wind_from_deg": 60, "which": "most"})


def test_the_soft_eye_on_a_12_mm_hook():
    """3 x 12 = 36 mm after pressing (coated 3/32 cable); 5 mm of growth come on top."""
    assert call("least_soft_eye_mm", {"pin_mm": 12, "cable_mm": 2.38125}) == 36
    assert call("least_soft_eye_mm", {"pin_mm": 12, "cable_mm": 2.38125, "growth_mm": 5}) == 41
    cable = call("bare_mm", {"size": "1/8"})  # 3.175 mm: pin of 6.35 mm at least
    assert call("soft_eye_verdict", {"pin_mm": 6, "cable_mm": cable, "length_mm": 18}) == "pin too thin"
    assert call("soft_eye_verdict", {"pin_mm": 7, "cable_mm": cable, "length_mm": 20}) == "eye too short"
    assert call("times_as_large", {"a": 0.5, "b": 0.125}) == "4.0" and call("times_as_large", {"a": 0.5, "b": 0.125, "by": 0.5}) == "2.0"


@pytest.mark.parametrize(("sleeve", "coat", "coat_c", "highest"), [(110, "none", False, 110), (False, "none", False, 60),
                                                                   (110, "plain vinyl", 70, 70), (150, "MIL-DTL-83420 type II", 120, 93)])
def test_the_least_temperature_of_the_parts(sleeve, coat, coat_c, highest):
    assert call("piece_highest_c", {"cable_c": 120, "sleeve_c": sleeve, "coat": coat, "coat_c": coat_c}) == highest


def test_a_coat_taken_as_size_and_a_bend_taken_off():
    """3/32 7x7 coated to 3/16, factor 5: 920 x 0.9 / 5 = 165; by the coat 4200 x 0.9 / 5 = 756; with a bend of 0.75 124."""
    for number in range(3000):
        drawn = instance("limit-from-a-coated-reel", number).values
        if (drawn["reel"]["size"], drawn["reel"]["outside"], drawn["metal"], drawn["factor"]["value"], drawn["bend"]) == (
                "3/32", "3/16", "galvanised", 5, 0.75):
            break
    question, key = composed("limit-from-a-coated-reel", number)
    assert mark(key, question, "165 lbf")["right"]
    for typed, slip in (("756 lbf", "coat-taken-as-size"), ("124 lbf", "bend-taken-off-the-eye"), ("184 lbf", "efficiency-left-out"),
                        ("166 lbf", "rounded-up")):
        assert mark(key, question, typed)["missteps"] == [slip]


def test_a_mark_divided_again_is_named_whichever_it_was():
    """Marks of 850 and 600 lbf, factor 6: 850 / 6 = 141, 600 / 6 = 100; both are limits already."""
    for number in range(6000):
        drawn = instance("weakest-of-the-line", number).values
        if drawn["job"]["value"] == 6 and (drawn["shackle_lbf"], drawn["other_lbf"]) in ((850, 400), (600, 300)):
            break
    question, key = composed("weakest-of-the-line", number)
    low, high = sorted((drawn["shackle_lbf"], drawn["other_lbf"]))
    assert mark(key, question, f"{min(low, drawn['limit_n'] / LBF):.0f} lbf")["right"]
    assert mark(key, question, f"{high / 6:.1f} lbf")["missteps"] == ["stronger-mark-divided-again"] == mark(key, question, f"{high // 6} lbf")["missteps"]
    assert mark(key, question, f"{low / 6:.1f} lbf")["missteps"] == ["mark-divided-again"]


def test_drawings_say_the_measures_and_no_verdict():
    shapes = [{"kind": "legs", "reach": 1000, "drop": 450}, {"kind": "span", "span": 6000, "sag": 240},
              {"kind": "brace", "width": 3000, "height": 1100}]
    drawn = FIGURES["hangings"](shapes, ["C", "A", "B"])
    assert "2000 mm apart and 450 mm" in drawn.spoken and "sags 240 mm" in drawn.spoken and "C: a load" in drawn.spoken
    assert all(f">{text}<" in drawn.svg for text in ("2000 mm", "450", "6000 mm", "sag 240 mm", "3000 mm", "1100"))
    assert not any(word in drawn.alt + drawn.spoken for word in ("flat", "refuse", "degrees", "slack"))
    with pytest.raises(Refusal):
        FIGURES["hangings"](shapes, ["A", "A", "B"])
    above = FIGURES["stays_from_above"](["B", "A", "C"], 20, 50)
    assert "B runs from the mast towards 2:20" in above.spoken and "The wind comes from 1:20" in above.spoken


def test_each_skill_of_the_two_lessons_has_two_families_of_two_kinds():
    from rigcalc.skills import load_skills

    for skill in load_skills().values():
        if 58 <= skill.number <= 69:
            own = [families()[name] for name in skill.families]
            assert len(own) >= 2 and len({one.kind for one in own}) >= 2, skill.id


def test_a_limit_cut_down_twice():
    """167.2 lbf is 743.7 N; cut to 167 lbf, 742.8 N, and cut again: 742 N."""
    assert call("cut_twice_n", {"force_n": 167.2 * LBF}) == 742


def test_an_angle_from_the_horizontal_taken_from_the_plumb_line():
    """160 lb on two of four at 60 degrees: 80 / cos 60 = 160 in place of 80 / sin 60 = 92.4; a plumb leg has no such slip."""
    given = {"load_n": 160 * LBF, "legs_on": 2, "angle_deg": 60}
    assert _lbf("leg_from_the_plumb_n", **given) == pytest.approx(160)
    with pytest.raises(Refusal, match="less than 90 degrees"):
        call("leg_from_the_plumb_n", given | {"angle_deg": 90})


def test_a_draw_whose_rounding_hangs_on_the_last_digit_of_a_sine_is_thrown_away():
    """1008 lbf × sin 40° is 647.9, and 648.1 with 0.643; 330 × sin 40° is 212.1 and 212.2; plumb legs and whole figures are well."""
    given = {"angle_deg": 40, "way": "times", "system": "US"}
    with pytest.raises(Refusal, match="last digit"):
        call("rounds_alike", given | {"plumb_n": 1008 * LBF})
    assert call("rounds_alike", given | {"plumb_n": 330 * LBF})
    assert call("rounds_alike", {"plumb_n": 100 * LBF, "angle_deg": 90, "way": "over", "system": "US"})


def test_the_whole_angle_between_two_legs_taken_from_the_plumb_line_is_told():
    question, key = next(one for one in (composed("two-equal-legs", number) for number in range(60)) if "between the two legs" in one[0]["text"])
    assert "whole-angle-from-the-plumb-line" in [one["id"] for one in key["missteps"]]


def test_an_angle_from_the_horizontal_taken_between_the_legs_is_told():
    """W / (2 cos(a/2)) in each leg, by resolving a like pair of legs that stand a apart."""
    found = [one for one in (composed("two-equal-legs", number) for number in range(120)) if "from the horizontal" in one[0]["text"] and one[0]["unit"] == "lbf"]
    said = [(key["values"], mark(key, question, f"{key['values']['load_n'] / LBF / 2 / math.cos(math.radians(key['values']['angle'] / 2)):.1f} lbf")["missteps"]) for question, key in found]
    assert sum("angle-taken-between-the-legs" in told for _, told in said) >= 0.9 * len(said) > 10
