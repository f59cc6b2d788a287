"""Legs: balance in three dimensions, who governs, who goes slack, four legs honestly, and what is refused."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog, minimize, nnls

from rigcalc._hanging import hanging_point
from rigcalc.errors import Refusal
from rigcalc.legs import LOWEST_ANGLE_RAD, legs, symmetrical_legs, vertical_legs

few = settings(max_examples=60, deadline=None)
LOAD = 500.0
bad_numbers = pytest.mark.parametrize("bad", [math.nan, math.inf, True, None, "300", 0, -1, 1e300, 10**400])


def directions(found, anchors):
    return np.array([(np.array(anchor) - found.load_point_mm) / np.linalg.norm(np.array(anchor) - found.load_point_mm) for anchor in anchors])


def unbalanced(found, anchors):
    """What is left over of all forces, as a share of the load."""
    pulls = directions(found, anchors) * np.array([[leg.tension_n] for leg in found.legs])
    return np.abs(pulls.sum(axis=0) - [0, 0, found.load_n]).max() / found.load_n


def round_the_load(bearings, steep, length):
    """Anchors at these bearings from a load at the origin, this steep and this far."""
    return [(n * math.cos(s) * math.cos(b), n * math.cos(s) * math.sin(b), n * math.sin(s)) for b, s, n in zip(bearings, steep, length)]


steepness, far = st.floats(math.radians(31), math.radians(85)), st.floats(200, 9000)
three_around = st.tuples(st.tuples(st.floats(0, 1), st.floats(2.1, 3.1), st.floats(4.2, 5.2)), st.tuples(*[steepness] * 3), st.tuples(*[far] * 3))
four_around = st.tuples(st.tuples(st.floats(0, 1), st.floats(1.6, 2.6), st.floats(3.2, 4.2), st.floats(4.8, 5.8)),
                        st.tuples(*[steepness] * 4), st.tuples(*[far] * 4))


# --- two and three legs ---------------------------------------------------------------------------

@few
@given(st.floats(0, 6.28), steepness, steepness, far, far)
def test_two_legs_balance_in_any_upright_plane_and_the_steeper_governs(bearing, one, other, short, long):
    anchors = round_the_load((bearing, bearing + math.pi), (one, other), (short, long))
    found = legs(anchors, (0, 0, 0), LOAD)
    assert unbalanced(found, anchors) < 1e-9
    # by hand: the sines of the other leg's angle from the vertical, over the sine of the angle between
    whole = math.sin(math.pi - one - other)
    assert found["A"].tension_n == pytest.approx(LOAD * math.cos(other) / whole, rel=1e-9)
    assert found["B"].tension_n == pytest.approx(LOAD * math.cos(one) / whole, rel=1e-9)
    if abs(one - other) > 1e-3:
        assert found.governs == (("A",) if one > other else ("B",))
    assert found.included[0][2] == pytest.approx(math.pi - one - other, rel=1e-9)
    assert (found.moved, found.slack, found.combinations) == (False, (), ())


@few
@given(three_around)
def test_three_legs_are_what_linear_algebra_says(around):
    anchors = round_the_load(*around)
    found = legs(anchors, (0, 0, 0), LOAD)
    assert unbalanced(found, anchors) < 1e-9
    expected = np.linalg.solve(directions(found, anchors).T, [0, 0, LOAD])
    assert [leg.tension_n for leg in found.legs] == pytest.approx(list(expected), rel=1e-9)
    assert [leg.most_n for leg in found.legs] == pytest.approx(list(expected), rel=1e-9)
    for leg, steep, length in zip(found.legs, around[1], around[2]):
        assert (leg.from_horizontal_rad, leg.length_mm) == (pytest.approx(steep, rel=1e-9), pytest.approx(length, rel=1e-9))
        assert leg.from_vertical_rad == pytest.approx(math.pi / 2 - steep, rel=1e-9)


@few
@given(three_around, st.floats(0, 6.28), st.floats(0.5, 20))
def test_turning_moving_and_scaling_change_nothing_that_should_stay(around, turn, times):
    anchors = round_the_load(*around)
    first = [leg.tension_n for leg in legs(anchors, (0, 0, 0), LOAD).legs]
    turned = round_the_load([bearing + turn for bearing in around[0]], *around[1:])
    assert [leg.tension_n for leg in legs(turned, (0, 0, 0), LOAD).legs] == pytest.approx(first, rel=1e-9)
    shifted = [(x * times + 70, y * times - 30, z * times + 11) for x, y, z in anchors]
    assert [leg.tension_n for leg in legs(shifted, (70, -30, 11), LOAD * times).legs] == pytest.approx([part * times for part in first], rel=1e-8)
    other_way = [(x, y, -z) for x, y, z in anchors]
    assert [leg.tension_n for leg in legs(other_way, (0, 0, 0), LOAD).legs] == pytest.approx(first, rel=1e-9)
    assert [leg.tension_n for leg in legs(anchors[::-1], (0, 0, 0), LOAD).legs] == pytest.approx(first[::-1], rel=1e-9)


def test_flatter_pulls_harder():
    pulls = [legs([(-half, 0, 600), (half, 0, 600)], (0, 0, 0), LOAD)["A"].tension_n for half in (0.001, 200, 500, 800, 1000)]
    assert pulls == sorted(pulls) and pulls[0] == pytest.approx(LOAD / 2)


@pytest.mark.parametrize("degrees", [29, 29.999])
def test_flat_legs_are_refused_and_thirty_degrees_stands(degrees):
    half = 1000.0
    with pytest.raises(Refusal, match="30 degrees from the horizontal or more; make the legs longer"):
        legs([(-half, 0, half * math.tan(math.radians(degrees))), (half, 0, half * math.tan(math.radians(degrees)))], (0, 0, 0), LOAD)
    level = legs([(-half, 0, half * math.tan(math.radians(30))), (half, 0, half * math.tan(math.radians(30)))], (0, 0, 0), LOAD)
    assert level["A"].tension_n == pytest.approx(LOAD)
    assert math.degrees(LOWEST_ANGLE_RAD) == pytest.approx(30)


# --- slack ----------------------------------------------------------------------------------------

def test_a_leg_that_would_have_to_push_goes_slack_and_the_load_hangs_elsewhere():
    anchors = [(-800, 0, 1000), (800, 0, 1000), (0, -900, 1000)]
    found = legs(anchors, (0, 300, 0), LOAD, names=("left", "right", "back"))
    # by hand: the load swings under the line of the two, at sqrt(1000^2 + 300^2) below it; the back leg is then longer than it needs to be
    assert (found.moved, found.slack) == (True, ("back",))
    assert found.load_point_mm == pytest.approx((0, 0, 1000 - math.hypot(1000, 300)))
    assert found["left"].tension_n == pytest.approx(LOAD / 2 * math.hypot(800, 1000, 300) / math.hypot(1000, 300))
    assert found["back"].tension_n == 0 and found["back"].slack and not found["left"].slack
    assert "Slack: back. The load does not stay where it was put" in found.notes[0]
    assert found.governs == ("left", "right")


def test_two_legs_to_one_side_hang_from_one():
    found = legs([(100, 0, 1000), (400, 0, 1000)], (0, 0, 0), LOAD)
    assert (found.slack, found.moved) == (("B",), True)
    assert found["A"].tension_n == pytest.approx(LOAD)
    assert found.load_point_mm == pytest.approx((100, 0, 1000 - math.hypot(100, 1000)))


def test_a_leg_with_nothing_to_do_is_named_where_the_load_stays():
    found = legs([(-800, 0, 1000), (800, 0, 1000), (0, -900, 1000)], (0, 0, 0), LOAD)
    assert (found.moved, found.slack) == (False, ("C",))
    assert found.notes == ("Slack: C.",)


def test_a_slack_leg_may_be_flat():
    found = legs([(-800, 0, 1000), (800, 0, 1000), (0, -9000, 10)], (0, 0, 0), LOAD)
    assert found.slack == ("C",)


def test_a_load_beside_the_plane_of_two_legs_is_refused_with_the_place_where_it_hangs():
    with pytest.raises(Refusal, match=r"where it comes to hang on legs of these lengths: 0.0, 0.0, -19.8 mm"):
        legs([(-800, 0, 1000), (800, 0, 1000)], (0, 200, 0), LOAD)


def test_a_bridle_that_would_tilt_is_refused():
    with pytest.raises(Refusal, match="would tilt"):
        legs([(100, 0, -1000), (400, 0, -1000)], (0, 0, 0), LOAD)


@few
@given(st.lists(st.tuples(st.floats(-900, 900), st.floats(-900, 900), st.floats(900, 1500)), min_size=2, max_size=4, unique=True),
       st.lists(st.floats(2800, 4000), min_size=4, max_size=4))
def test_the_hanging_point_is_the_lowest_that_an_optimiser_finds(anchors, lengths):
    there = hanging_point(anchors, lengths[:len(anchors)])
    for anchor, length in zip(anchors, lengths):
        assert math.dist(anchor, there) <= length * (1 + 1e-8)
    rules = [{"type": "ineq", "fun": lambda p, a=np.array(anchor), n=length: (n * n - ((p - a) ** 2).sum()) / n}
             for anchor, length in zip(anchors, lengths)]
    best = minimize(lambda p: p[2], np.array([0.0, 0.0, 0.0]), jac=lambda p: np.array([0.0, 0.0, 1.0]), constraints=rules, method="SLSQP",
                    options={"maxiter": 300, "ftol": 1e-10})
    if best.success:
        assert there[2] == pytest.approx(best.x[2], abs=0.05)
        assert there[2] <= best.x[2] + 1e-3


hundreds = st.integers(-6, 6).map(lambda number: 100.0 * number)


@settings(max_examples=150, deadline=None)
@given(st.lists(st.tuples(hundreds, hundreds, st.sampled_from((700.0, 800.0, 1000.0, 1200.0))), min_size=3, max_size=4, unique=True), hundreds, hundreds)
def test_wherever_the_load_is_put_it_hangs_in_balance_and_loose_legs_carry_nothing(anchors, x, y):
    try:
        found = legs(anchors, (x, y, 0), LOAD)
    except Refusal:
        return
    assert unbalanced(found, anchors) < 1e-9
    assert found.load_point_mm[2] <= 1e-6
    for leg, anchor in zip(found.legs, anchors):
        apart = math.dist(anchor, found.load_point_mm)
        assert leg.length_mm == pytest.approx(math.dist(anchor, (x, y, 0)), rel=1e-12)
        assert apart <= leg.length_mm * (1 + 1e-8)
        if apart < leg.length_mm * (1 - 1e-7):
            assert leg.slack and leg.most_n == 0
    assert found.slack == tuple(leg.name for leg in found.legs if leg.slack)


def test_a_leg_that_is_loose_where_the_load_comes_to_hang_does_not_carry():
    # both anchors in one plumb line: the load hangs from the leg that ends higher up, the other is too long to do anything
    found = legs([(200, 0, 1100), (200, 0, 900)], (-400, 0, 0), LOAD)
    assert (found.slack, found["A"].most_n, found["B"].most_n) == (("B",), pytest.approx(LOAD), 0)
    assert found.combinations == ()


def test_legs_too_short_to_meet():
    with pytest.raises(Refusal, match="legs too short to meet"):
        hanging_point([(0, 0, 0), (3000, 0, 0)], [1000, 1000])


# --- four legs ------------------------------------------------------------------------------------

def test_four_equal_legs_two_opposite_ones_may_carry_all():
    anchors = [(600, 600, 900), (-600, 600, 900), (-600, -600, 900), (600, -600, 900)]
    found = legs(anchors, (0, 0, 0), 400)
    sine = 900 / math.hypot(600, 600, 900)
    assert [leg.tension_n for leg in found.legs] == pytest.approx([100 / sine] * 4)  # elastic
    assert [leg.most_n for leg in found.legs] == pytest.approx([200 / sine] * 4)
    assert {way.carrying: way.possible for way in found.combinations} == {
        ("A", "B"): False, ("A", "C"): True, ("A", "D"): False, ("B", "C"): False, ("B", "D"): True, ("C", "D"): False,
        ("A", "B", "C"): False, ("A", "B", "D"): False, ("A", "C", "D"): False, ("B", "C", "D"): False}
    said = {way.carrying: way.said for way in found.combinations}
    assert said["A", "B", "C"] == "no case of its own: A and C can carry all"
    assert said["A", "B"].startswith("not in balance")
    assert found.governs == ("A", "B", "C", "D")
    assert "never share a load evenly" in found.notes[-1]


@few
@given(four_around)
def test_four_legs_against_independent_solvers(around):
    """Elastic: least energy by non-negative least squares. Worst case: a linear programme for each leg."""
    anchors = round_the_load(*around)
    found = legs(anchors, (0, 0, 0), LOAD)
    assert unbalanced(found, anchors) < 1e-9
    ways, lengths = directions(found, anchors), np.array(around[2])
    for index, leg in enumerate(found.legs):
        most = linprog(-np.eye(4)[index], A_eq=ways.T, b_eq=[0, 0, LOAD], bounds=(0, None))
        assert leg.most_n == pytest.approx(-most.fun, rel=1e-6, abs=1e-6 * LOAD)
        assert leg.tension_n <= leg.most_n * (1 + 1e-9)
    roots = np.sqrt(lengths / lengths.max())
    heavy = 1e5
    stacked = np.vstack([heavy * ways.T / roots, np.eye(4)])
    expected = nnls(stacked, np.concatenate([heavy * np.array([0, 0, LOAD]), np.zeros(4)]))[0] / roots
    assert [leg.tension_n for leg in found.legs] == pytest.approx(list(expected), rel=1e-4, abs=1e-4 * LOAD)
    for way in found.combinations:
        if way.possible:
            assert np.abs(np.array(way.tensions_n) @ ways - [0, 0, LOAD]).max() < 1e-9 * LOAD
            assert min(way.tensions_n) >= 0


def test_three_legs_in_one_plane_are_not_decided_by_statics():
    found = legs([(-800, 0, 1000), (0, 0, 1000), (800, 0, 1000)], (0, 0, 0), LOAD)
    assert [(way.carrying, way.possible) for way in found.combinations][0] == (("B",), True)
    assert found["B"].most_n == pytest.approx(LOAD)
    assert found["A"].most_n == pytest.approx(LOAD / 2 * math.hypot(800, 1000) / 1000)
    assert "Statics does not decide" in found.notes[-1]


# --- plumb legs -----------------------------------------------------------------------------------

@few
@given(st.floats(1, 999), st.floats(10, 9000))
def test_two_plumb_legs_are_a_lever(at, load):
    found = vertical_legs([(0, 0), (1000, 0)], (at, 0), load)
    assert found["A"].tension_n == pytest.approx(load * (1000 - at) / 1000, rel=1e-9)
    assert found["B"].tension_n == pytest.approx(load * at / 1000, rel=1e-9)


def test_three_and_four_plumb_legs():
    three = vertical_legs([(0, 0), (3000, 0), (0, 3000)], (1000, 1000), 300)
    assert [leg.tension_n for leg in three.legs] == pytest.approx([100] * 3)
    corners = [(0, 0), (8, 0), (8, 4), (0, 4)]
    middle = vertical_legs(corners, (4, 2), 400)
    assert [leg.tension_n for leg in middle.legs] == pytest.approx([100] * 4)
    assert [leg.most_n for leg in middle.legs] == pytest.approx([200] * 4)
    off = vertical_legs(corners, (2, 1), 400)
    # by hand: springs alike under a tilted plate: 100 (1 +- 1/2 +- 1/2); the most at A: opposite pair A, C, centre on their line, 3/4
    assert [leg.tension_n for leg in off.legs] == pytest.approx([200, 100, 0, 100], abs=1e-9)
    assert off["A"].most_n == pytest.approx(300)
    assert off.governs == ("A",)


@pytest.mark.parametrize("feet, centre", [([(0, 0), (8, 0)], (9, 0)), ([(0, 0), (8, 0)], (4, 1)), ([(0, 0), (8, 0), (0, 8)], (5, 5))])
def test_what_would_tip_is_refused(feet, centre):
    with pytest.raises(Refusal, match="does not lie between the legs"):
        vertical_legs(feet, centre, 300)


def test_a_leg_plumb_over_the_centre_carries_all():
    found = vertical_legs([(0, 0), (8, 0)], (0, 0), 300)
    assert (found["A"].tension_n, found.slack) == (pytest.approx(300), ("B",))


# --- equal legs -----------------------------------------------------------------------------------

def test_which_angle_is_asked():
    with pytest.raises(Refusal, match="an angle without saying which was given; accepted: horizontal, vertical, included"):
        symmetrical_legs(300, 2, math.radians(45))
    with pytest.raises(Refusal, match="'sideways'"):
        symmetrical_legs(300, 2, math.radians(45), angle_from="sideways")


@few
@given(st.floats(math.radians(30.01), math.radians(89)), st.integers(2, 4))
def test_three_words_for_one_angle_agree(angle, count):
    level = symmetrical_legs(LOAD, count, angle, angle_from="horizontal")
    plumb = symmetrical_legs(LOAD, count, math.pi / 2 - angle, angle_from="vertical")
    assert plumb.tension_n == pytest.approx(level.tension_n, rel=1e-9)
    assert level.tension_n == pytest.approx(LOAD / ({2: 2, 3: 3, 4: 2}[count] * math.sin(angle)), rel=1e-12)
    if count == 2:
        between = symmetrical_legs(LOAD, 2, math.pi - 2 * angle, angle_from="included")
        assert between.tension_n == pytest.approx(level.tension_n, rel=1e-9)
        assert level.included_rad == pytest.approx(math.pi - 2 * angle, rel=1e-9)
        half = 700
        found = legs([(-half, 0, half * math.tan(angle)), (half, 0, half * math.tan(angle))], (0, 0, 0), LOAD)
        assert found["A"].tension_n == pytest.approx(level.tension_n, rel=1e-9)


def test_what_is_counted_on_is_listed():
    counted = {count: [(on, round(force, 6)) for on, force, _ in symmetrical_legs(300, count, math.radians(90), angle_from="horizontal").counted]
               for count in (2, 3, 4)}
    assert counted == {2: [(2, 150)], 3: [(3, 100)], 4: [(2, 150), (3, 100), (4, 75)]}
    four = symmetrical_legs(300, 4, math.radians(90), angle_from="horizontal")
    assert (four.tension_n, four.counted_on, four.included_rad) == (pytest.approx(150), 2, None)
    assert "never counted on" in four.counted[2][2]


@pytest.mark.parametrize("count, degrees, meaning", [(4, 60, "included"), (3, 60, "included"), (2, 91, "horizontal"), (2, -1, "vertical"),
                                                    (2, 121, "included"), (2, 61, "vertical"), (2, 181, "included"), (5, 60, "horizontal"),
                                                    (1, 60, "horizontal"), (True, 60, "horizontal"), (2, math.nan, "horizontal")])
def test_refused_equal_legs(count, degrees, meaning):
    with pytest.raises(Refusal):
        symmetrical_legs(300, count, math.radians(degrees), angle_from=meaning)


# --- refusals -------------------------------------------------------------------------------------

@bad_numbers
def test_numbers_that_are_none(bad):
    good = [(-800, 0, 1000), (800, 0, 1000)]
    for call in (lambda: legs(good, (0, 0, 0), bad), lambda: vertical_legs([(0, 0), (8, 0)], (2, 0), bad),
                 lambda: symmetrical_legs(bad, 2, 1.0, angle_from="horizontal"), lambda: hanging_point(good, [1000, bad])):
        with pytest.raises(Refusal):
            call()
    if bad not in (0, -1) or isinstance(bad, bool):
        with pytest.raises(Refusal):
            legs([(-800, 0, 1000), (800, bad, 1000)], (0, 0, 0), 300)
        with pytest.raises(Refusal):
            symmetrical_legs(300, 2, bad, angle_from="horizontal")


@pytest.mark.parametrize("anchors, at", [
    ([(0, 0, 1000)], (0, 0, 0)), ([(0, 0, 1000)] * 2, (0, 0, 0)), ([(i, i * i, 1000) for i in range(5)], (0, 0, 0)), ("ab", (0, 0, 0)),
    ([(0, 0, 1000), (5, 0)], (0, 0, 0)), ([(0, 0, 1000), "abc"], (0, 0, 0)), ([(-800, 0, 1000), (800, 0, -1000)], (0, 0, 0)),
    ([(-800, 0, 1000), (800, 0, 0)], (0, 0, 0)), ([(-800, 0, 0), (800, 0, 0)], (0, 0, 0)), (None, (0, 0, 0))])
def test_points_that_are_no_legs(anchors, at):
    with pytest.raises(Refusal):
        legs(anchors, at, 300)


@pytest.mark.parametrize("names", [("A",), ("A", "A"), ("A", ""), "AB", ("A", 5)])
def test_names_are_one_each(names):
    with pytest.raises(Refusal, match="one name each"):
        legs([(-800, 0, 1000), (800, 0, 1000)], (0, 0, 0), 300, names=names)


def test_an_unknown_leg_is_refused_by_name():
    with pytest.raises(Refusal, match="accepted: A, B"):
        legs([(-800, 0, 1000), (800, 0, 1000)], (0, 0, 0), 300)["C"]
