"""Held against printed worked examples of statics, and against the trade's own check sums.

Printed: NAVEDTRA 14080 (p 3-23); OpenStax University Physics volume 1; Engineering Statics (open text).
Each answer is this file's own transcript, never read from the package. A printed answer agrees when it is the computed one
rounded to the digits printed; where that is widened, the reason stands beside it.
"""

import math

import pytest

from rigcalc.braces import brace, gate_brace
from rigcalc.errors import Refusal
from rigcalc.legs import LOWEST_ANGLE_RAD, legs, symmetrical_legs, vertical_legs
from rigcalc.reference import constant
from rigcalc.spans import (
    GREATEST_RISE,
    GREATEST_SAG,
    LEAST_SAG,
    catenary_span,
    point_load_span,
    sag_at_tension_mm,
    tension_at_sag_n,
    uniform_load_span,
)
from rigcalc.stretched_span import GREATEST_STRAIN

POUND_FORCE_N = 4.4482216152605  # 0.45359237 kg x 9.80665 m/s2, both exact by definition
FOOT = 304.8
EXACT = 1e-9


# --- printed worked examples ----------------------------------------------------------------------

@pytest.mark.parametrize("degrees, pounds", [(90, 500), (30, 1000)])
def test_navedtra_two_legs(degrees, pounds):
    # NAVEDTRA 14080, p 3-23: 1000 lb, two legs, angle from the horizontal; printed to the pound and exact
    found = symmetrical_legs(1000 * POUND_FORCE_N, 2, math.radians(degrees), angle_from="horizontal")
    assert found.tension_n / POUND_FORCE_N == pytest.approx(pounds, rel=EXACT)


def test_openstax_weight_on_a_sagging_wire():
    # OpenStax University Physics 1, tightrope example: 70.0 kg, 5.0 degrees each side, g 9.80: printed 3930 N, and 3.94e3 N
    # where it is used later. The two printings differ; the tolerance takes in both (0.15 %)
    span = 15000.0
    found = point_load_span(span, span / 2 * math.tan(math.radians(5)), 70.0 * 9.80)
    assert found.left_n == pytest.approx(3935, rel=0.0015)
    assert found.left_n == pytest.approx(found.right_n, rel=EXACT)


@pytest.mark.parametrize("degrees, newtons, half_a_digit", [(5, 1.5, 0.05), (0.5, 15, 0.5)])
def test_openstax_shallow_angles(degrees, newtons, half_a_digit):
    # OpenStax University Physics 1, Common Forces exercise: 26 g at mid-span; ten times flatter, ten times the tension
    span = 1000.0
    found = point_load_span(span, span / 2 * math.tan(math.radians(degrees)), 0.026 * 9.80)
    assert found.greatest_n == pytest.approx(newtons, abs=half_a_digit)


def test_openstax_two_supports():
    # OpenStax University Physics 1, Center of Gravity of a Car: 52 % on the front, wheels 2.5 m apart: 1.3 m from the rear
    found = vertical_legs([(0, 0), (2500, 0)], (1300, 0), 100, names=("rear", "front"))
    assert found["front"].tension_n == pytest.approx(52, rel=EXACT)


def test_engineering_statics_cargo_boom():
    # Engineering Statics, ch. 3, Cargo Boom: 24 kN; boom 40 degrees from the king post; lift at 1 up in 4 across:
    # printed 17.16 kN in the lift and 25.9 kN in the boom
    tip = (math.sin(math.radians(40)), math.cos(math.radians(40)))
    found = brace((0, 0), tip, (tip[0] - 4, tip[1] + 1), 24, tip)
    assert found.tension_n == pytest.approx(17.16, abs=0.005)
    assert math.hypot(found.hinge_right_n, found.hinge_up_n) == pytest.approx(25.9, abs=0.05)


# --- the trade's check sums: worked by hand, no published text -------------------------------------

def test_rule_15_angles_and_three_shapes_legs():
    # rule 15: load-carrying legs. 300 lb on two legs: 300 each at 30 from the horizontal; 212 at 90 included
    two = lambda degrees, meaning: symmetrical_legs(300, 2, math.radians(degrees), angle_from=meaning).tension_n  # noqa: E731
    assert two(30, "horizontal") == pytest.approx(300, rel=EXACT)
    assert two(30, "vertical") == pytest.approx(173.2, abs=0.05)  # the same figure from the other axis is another load
    assert two(90, "included") == pytest.approx(212.1, abs=0.05)
    with pytest.raises(Refusal, match="30 degrees from the horizontal or more"):
        two(29.9, "horizontal")
    assert math.degrees(LOWEST_ANGLE_RAD) == pytest.approx(30, rel=EXACT)
    assert constant("lowest leg angle").unit == "degrees from horizontal"


def test_four_legs_and_an_off_centre_load():
    # 400 lb on four plumb legs: 200 on two, 133 on three by the other rule, 100 never; 300 lb with its centre 2 ft of 8: 225 and 75
    four = symmetrical_legs(400, 4, math.radians(90), angle_from="horizontal")
    assert (four.tension_n, four.counted_on) == (pytest.approx(200), 2)
    assert [(on, round(force, 1)) for on, force, _ in four.counted] == [(2, 200), (3, 133.3), (4, 100)]
    bar = vertical_legs([(0, 0), (8 * FOOT, 0)], (2 * FOOT, 0), 300)
    assert [leg.tension_n for leg in bar.legs] == pytest.approx([225, 75], rel=EXACT)


def test_kayak_bridle():
    # 84 lb, bridle 4 ft high, legs to points 3 and 5 ft off: H (4/3 + 4/5) = 84, H = 39.375; 65.6 and 50.4: the short one governs
    bridle = legs([(-3 * FOOT, 0, 0), (5 * FOOT, 0, 0)], (0, 0, 4 * FOOT), 84, names=("short", "long"))
    assert [leg.tension_n for leg in bridle.legs] == pytest.approx([39.375 * 5 / 3, 39.375 * math.sqrt(41) / 5], rel=EXACT)
    assert [round(leg.tension_n, 1) for leg in bridle.legs] == [65.6, 50.4]
    assert bridle.governs == ("short",)


def test_rule_15_angles_and_three_shapes_braces():
    # rule 15: braces have no 30 degree rule. Gate 12 x 4 ft, 180 lb: 18.4 degrees, 90 / sin = 284.6
    found = gate_brace(12 * FOOT, 4 * FOOT, 180)
    assert round(math.degrees(found.angle_rad), 1) == 18.4
    assert found.tension_n == pytest.approx(90 * math.sqrt(160) / 4, rel=EXACT)
    assert round(found.tension_n, 1) == 284.6


def test_rule_15_angles_and_three_shapes_spans():
    # rule 15: spans. Lantern 9 lb, 30 ft, sag 1 ft: 4.5 x sqrt(226) = 67.6 each; 20 lb: 150 each, not ten
    lantern = point_load_span(30 * FOOT, FOOT, 9)
    assert [lantern.left_n, lantern.right_n] == pytest.approx([4.5 * math.sqrt(226)] * 2, rel=EXACT)
    assert round(lantern.left_n, 1) == 67.6
    assert round(point_load_span(30 * FOOT, FOOT, 20).left_n) == 150
    # curtain 6 kg over 6 m, sag 150 mm: H = W L / 8 s = 58.84 x 5 = 294.2; T = sqrt(294.2^2 + 29.42^2) = 295.7
    curtain = uniform_load_span(6000, 150, 6 * 9.80665)
    assert curtain.horizontal_n == pytest.approx(294.1995, rel=EXACT)
    assert curtain.greatest_n == pytest.approx(295.667, abs=0.001)
    assert round(curtain.greatest_n / POUND_FORCE_N, 1) == 66.5
    # halving the sag doubles the tension
    assert uniform_load_span(6000, 75, 6 * 9.80665).horizontal_n == pytest.approx(2 * 294.1995, rel=EXACT)


def test_rule_1_a_tightened_wire_is_checked_by_its_sag():
    # rule 1: 150 lbf, 2 kg at the middle of 2400 mm: sin a = 19.6133 / (2 x 667.233), 1200 tan a = 17.6 mm
    sag = sag_at_tension_mm(150 * POUND_FORCE_N, 2400, 2 * 9.80665)
    assert sag == pytest.approx(1200 * math.tan(math.asin(19.6133 / (2 * 667.23324228907))), rel=EXACT)
    assert round(sag, 1) == 17.6
    assert tension_at_sag_n(sag, 2400, 2 * 9.80665) == pytest.approx(150 * POUND_FORCE_N, rel=EXACT)


# --- limits, judgement of this workbook ------------------------------------------------------------

def test_limits_of_the_parabola_and_of_elastic_sums():
    assert (GREATEST_SAG, GREATEST_RISE, LEAST_SAG, GREATEST_STRAIN) == (0.1, 0.25, 1e-6, 0.01)


@pytest.mark.parametrize("rise", [-0.25, -0.1, 0, 0.1, 0.25])
@pytest.mark.parametrize("sag", [0.001, 0.02, 0.05, 0.1])
def test_the_parabola_is_on_the_safe_side_by_at_most_1_4_per_cent(sag, rise):
    # what the note beside the limit says of the constant
    parabola, catenary = (shape(1000, 1000 * sag, 50, 1000 * rise) for shape in (uniform_load_span, catenary_span))
    assert 1 <= parabola.greatest_n / catenary.greatest_n <= 1.014
    for one, other in ((parabola.left_n, catenary.left_n), (parabola.right_n, catenary.right_n), (parabola.horizontal_n, catenary.horizontal_n)):
        assert 1 <= one / other <= 1.014
