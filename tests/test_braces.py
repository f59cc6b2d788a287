"""Braces and stays: moments, no least angle, and a refusal where a cable would have to push."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigcalc.braces import brace, gate_brace, mast_stays
from rigcalc.errors import Refusal

few = settings(max_examples=60, deadline=None)
THREE = [(1000 * math.cos(turn), 1000 * math.sin(turn)) for turn in (0, 2 * math.pi / 3, 4 * math.pi / 3)]
bad_numbers = pytest.mark.parametrize("bad", [math.nan, math.inf, True, None, "300", 0, -1, 1e300])


@few
@given(st.floats(100, 6000), st.floats(20, 6000), st.floats(1, 5000))
def test_a_gate_needs_half_its_weight_over_the_sine_at_any_angle(width, height, load):
    found = gate_brace(width, height, load)
    assert found.tension_n == pytest.approx(load / 2 * math.hypot(width, height) / height, rel=1e-9)
    assert found.angle_rad == pytest.approx(math.atan2(height, width), rel=1e-9)
    # forces add up to nothing
    assert found.hinge_up_n == pytest.approx(load / 2, rel=1e-9)
    assert found.hinge_right_n == pytest.approx(load / 2 * width / height, rel=1e-9)


def test_a_flat_brace_is_no_leg_and_stands():
    found = gate_brace(12000, 1200, 180)
    assert math.degrees(found.angle_rad) < 6
    assert found.tension_n == pytest.approx(90 * math.hypot(12000, 1200) / 1200)


coordinates = st.tuples(*[st.integers(-300_000, 300_000).map(lambda parts: parts / 100)] * 2)


@few
@given(coordinates, coordinates, coordinates, coordinates, st.floats(1, 900), st.floats(0, 6.28))
def test_a_brace_is_what_three_equations_say(hinge, start, end, at, load, way):
    """Forces right, forces up, moments about the origin, for tension and the hinge's two forces: by linear algebra."""
    towards = (math.cos(way), math.sin(way))
    length = math.dist(start, end)
    if length < 10:
        return
    along = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
    rows = np.array([[along[0], 1, 0], [along[1], 0, 1], [start[0] * along[1] - start[1] * along[0], -hinge[1], hinge[0]]])
    if abs(np.linalg.det(rows)) < 1:
        return
    expected = np.linalg.solve(rows, [-load * towards[0], -load * towards[1], -load * (at[0] * towards[1] - at[1] * towards[0])])
    if expected[0] > 1e-6:
        found = brace(hinge, start, end, load, at, towards)
        assert [found.tension_n, found.hinge_right_n, found.hinge_up_n] == pytest.approx(list(expected), rel=1e-6, abs=1e-6 * load)
        assert found.lever_mm == pytest.approx(abs(np.linalg.det(rows)), rel=1e-6)
        mirrored = brace(*[(-x, y) for x, y in (hinge, start, end)], load, (-at[0], at[1]), (-towards[0], towards[1]))
        assert (mirrored.tension_n, mirrored.hinge_right_n) == (pytest.approx(found.tension_n), pytest.approx(-found.hinge_right_n))
    elif expected[0] < -1e-6:
        with pytest.raises(Refusal, match="would have to push"):
            brace(hinge, start, end, load, at, towards)


def test_refusals_in_words():
    with pytest.raises(Refusal, match="a brace that would have to push was given; accepted: a cable, which can only pull; run the cable along the other diagonal"):
        brace((0, 0), (12, 4), (0, -4), 180, (6, 2))
    with pytest.raises(Refusal, match="runs through the hinge"):
        brace((0, 0), (12, 4), (24, 8), 180, (6, 2))
    with pytest.raises(Refusal, match="passes through the hinge was given"):
        brace((0, 0), (12, 0), (0, 4), 180, (0, 2))
    with pytest.raises(Refusal, match="from a point to itself"):
        brace((0, 0), (12, 0), (12, 0), 180, (6, 2))
    with pytest.raises(Refusal, match="without a direction"):
        brace((0, 0), (12, 0), (0, 4), 180, (6, 2), (0, 0))
    with pytest.raises(Refusal, match="2 numbers in mm"):
        brace((0, 0, 0), (12, 0), (0, 4), 180, (6, 2))


@bad_numbers
def test_numbers_that_are_none(bad):
    for call in (lambda: gate_brace(bad, 4, 180), lambda: gate_brace(12, bad, 180), lambda: gate_brace(12, 4, bad),
                 lambda: brace((0, 0), (12, 0), (0, 4), bad, (6, 2)), lambda: mast_stays(bad, 0.0, 3000, 3000, THREE),
                 lambda: mast_stays(100, 0.0, bad, 3000, THREE), lambda: mast_stays(100, 0.0, 3000, bad, THREE)):
        with pytest.raises(Refusal):
            call()


# --- stays ----------------------------------------------------------------------------------------

@few
@given(st.floats(0, 6.28), st.floats(1, 900), st.floats(500, 9000), st.floats(500, 9000))
def test_stays_hold_the_mast_upright(towards, force, low, high):
    found = mast_stays(force, towards, low, high, THREE)
    level = sum(stay.tension_n * math.cos(stay.angle_rad) * np.array(anchor) / 1000 for stay, anchor in zip(found.stays, THREE))
    # moments about the foot in both upright planes
    assert level * high == pytest.approx(-force * low * np.array([math.cos(towards), math.sin(towards)]), rel=1e-9, abs=1e-9 * force * low)
    assert len(found.slack) >= 1
    assert found.pressed_n == pytest.approx(sum(stay.tension_n * high / stay.length_mm for stay in found.stays), rel=1e-9)
    assert all(stay.tension_n >= 0 for stay in found.stays)


def test_a_stay_in_line_and_two_on_either_side():
    straight = mast_stays(100, math.pi, 3000, 3000, THREE, names=("west", "north", "south"))
    assert straight.slack == ("north", "south") and straight.governs == ("west",)
    assert straight.stays[0].tension_n == pytest.approx(100 * math.hypot(1000, 3000) / 1000)
    # by hand: against the one stay, the other two stand 60 degrees to either side, so each pulls 100 / (2 cos 60) = 100
    both = mast_stays(100, 0.0, 3000, 3000, THREE, names=("west", "north", "south"))
    assert both.slack == ("west",) and both.governs == ("north", "south")
    assert both.stays[1].tension_n == pytest.approx(100 * math.hypot(1000, 3000) / 1000)
    assert "left out" in both.note
    half = mast_stays(100, 0.0, 1500, 3000, THREE)
    assert half.stays[1].tension_n == pytest.approx(both.stays[1].tension_n / 2)


@pytest.mark.parametrize("anchors, towards", [([(1000, 0), (-1000, 0)], math.pi / 2), ([(1000, 0), (0, 1000)], 0.1), ([(1000, 0)], math.pi),
                                              ([(1000, 0), (2000, 0)], math.pi), ([(0, 0), (1000, 0)], math.pi), ([(1000, 0), (1000, 0)], math.pi),
                                              ("ab", math.pi), ([(1000, 0), (0, 1000), (-1000, 0), (0, -1000), (700, 700)], 0.3), (THREE, math.nan)])
def test_stays_that_cannot_hold_it(anchors, towards):
    with pytest.raises(Refusal):
        mast_stays(100, towards, 3000, 3000, anchors)
