"""Spans: balance, mirrored ends, the catenary from outside, sag as a check of tension, and a cable that stretches."""

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq, fsolve

from rigcalc.errors import Refusal
from rigcalc.spans import catenary_span, parabola_against_catenary, point_load_span, sag_at_tension_mm, sag_check, tension_at_sag_n, uniform_load_span, with_own_weight
from rigcalc.stretched_span import sag_with_stretch

few = settings(max_examples=60, deadline=None)
spans, loads = st.floats(300, 30000), st.floats(1, 5000)
flat, deep = st.floats(0.001, 0.1), st.floats(0.001, 2)
shares, rises = st.floats(0.02, 0.98), st.floats(-0.25, 0.25)
bad_numbers = pytest.mark.parametrize("bad", [math.nan, math.inf, True, None, "300", 0, -1, 1e300, 10**400])
SHAPES = (uniform_load_span, catenary_span)


# --- balance and symmetry -------------------------------------------------------------------------

@few
@given(spans, deep, loads, shares, st.floats(-2, 2))
def test_a_point_load_is_in_balance(span, sag, load, share, rise):
    found = point_load_span(span, sag * span, load, share * span, rise * span)
    assert found.left_vertical_n + found.right_vertical_n == pytest.approx(load, rel=1e-9)
    # moments about the left end: load down at its place; right end up and pulled outwards at its height
    assert load * share * span + found.horizontal_n * rise * span == pytest.approx(found.right_vertical_n * span, rel=1e-9, abs=1e-9 * load * span)
    # no moment where the load hangs: the left part is straight
    depth = sag * span - rise * share * span
    assert found.left_vertical_n * share * span == pytest.approx(found.horizontal_n * depth, rel=1e-9, abs=1e-9 * load * span)
    assert found.left_n == pytest.approx(math.hypot(found.horizontal_n, found.left_vertical_n), rel=1e-12)
    assert math.tan(found.left_angle_rad) == pytest.approx(depth / (share * span), rel=1e-9, abs=1e-9)


@few
@given(spans, deep, loads, shares, st.floats(-2, 2), st.floats(0.01, 500))
def test_a_point_load_and_own_weight_are_in_balance(span, sag, load, share, rise, own):
    bare = point_load_span(span, sag * span, load, share * span, rise * span)
    found = with_own_weight(bare, own)
    assert found.left_vertical_n + found.right_vertical_n == pytest.approx(load + own, rel=1e-9)
    # each straight part turns about the load: its end's pull against its own weight at its middle
    depth, scale = sag * span - rise * share * span, 1e-9 * (load + own) * span * (1 + abs(rise)) / min(sag, 1)
    left = own * math.hypot(share * span, depth) / bare.length_mm
    assert found.left_vertical_n * share * span - left * share * span / 2 == pytest.approx(found.horizontal_n * depth, rel=1e-9, abs=scale)
    beyond, height = (1 - share) * span, depth + rise * span
    assert found.right_vertical_n * beyond - (own - left) * beyond / 2 == pytest.approx(found.horizontal_n * height, rel=1e-9, abs=scale)
    assert found.length_mm == bare.length_mm


@few
@given(spans, st.floats(0.001, 0.02), loads, shares, st.floats(0.01, 500))
def test_own_weight_against_the_moment_of_a_simple_beam(span, sag, load, share, own):
    # a beam with a load P at a and w all along: M = P a b / L + w a b / 2, and the level pull is M over the sag there
    found = with_own_weight(point_load_span(span, sag * span, load, share * span), own)
    assert found.horizontal_n == pytest.approx((load + own / 2) * share * (1 - share) / sag, rel=2e-3)
    middle = with_own_weight(point_load_span(span, sag * span, load), own)
    assert middle.greatest_n == pytest.approx(tension_at_sag_n(sag * span, span, load, own), rel=1e-9)
    along = with_own_weight(uniform_load_span(span, sag * span, load), own)
    assert along.greatest_n == pytest.approx(uniform_load_span(span, sag * span, load + own).greatest_n, rel=1e-12)


@few
@given(spans, flat, loads, rises, st.sampled_from(SHAPES))
def test_a_load_all_along_is_in_balance(span, sag, load, rise, shape):
    found = shape(span, sag * span, load, rise * span)
    assert found.left_vertical_n + found.right_vertical_n == pytest.approx(load, rel=1e-9)
    assert found.greatest_n == max(found.left_n, found.right_n)
    assert found.length_mm > math.hypot(span, rise * span)
    if shape is uniform_load_span:
        # moments about the left end, the load's middle at mid-span; no moment at mid-span
        assert load * span / 2 + found.horizontal_n * rise * span == pytest.approx(found.right_vertical_n * span, rel=1e-9)
        depth = sag * span - rise * span / 2
        assert found.left_vertical_n * span / 2 - load / 2 * span / 4 == pytest.approx(found.horizontal_n * depth, rel=1e-9, abs=1e-9 * load * span)


@few
@given(spans, flat, loads, shares, rises)
def test_a_mirrored_span_has_mirrored_reactions(span, sag, load, share, rise):
    pairs = [(shape(span, sag * span, load, rise * span), shape(span, sag * span, load, -rise * span)) for shape in SHAPES]
    pairs.append((point_load_span(span, sag * span, load, share * span, rise * span),
                  point_load_span(span, sag * span, load, span - share * span, -rise * span)))
    for one, other in pairs:
        assert other.horizontal_n == pytest.approx(one.horizontal_n, rel=1e-9)
        assert (other.left_n, other.right_n) == (pytest.approx(one.right_n, rel=1e-9), pytest.approx(one.left_n, rel=1e-9))
        assert other.left_angle_rad == pytest.approx(one.right_angle_rad, rel=1e-9, abs=1e-9)
        assert other.length_mm == pytest.approx(one.length_mm, rel=1e-9)


@few
@given(spans, st.floats(0.002, 0.1), loads, rises)
def test_halving_the_sag_doubles_the_pull(span, sag, load, rise):
    for shape in (point_load_span, uniform_load_span):
        one, half = (shape(span, part * span, load, rise_mm=rise * span) for part in (sag, sag / 2))
        assert half.horizontal_n == pytest.approx(2 * one.horizontal_n, rel=1e-9)
        assert half.greatest_n > one.greatest_n
    assert catenary_span(span, sag * span / 2, load).horizontal_n > 2 * catenary_span(span, sag * span, load).horizontal_n
    assert uniform_load_span(span, sag * span, 2 * load, rise * span).greatest_n == pytest.approx(2 * uniform_load_span(span, sag * span, load, rise * span).greatest_n)


def test_ends_are_named():
    found = point_load_span(10000, 500, 400, at_mm=2000)
    # by hand: H = 400 x 2000 x 8000 / (10000 x 500) = 1280; the near end holds 320, the far end 80
    assert (found.horizontal_n, found.left_vertical_n, found.right_vertical_n) == pytest.approx((1280, 320, 80))
    assert found.governs == ("left",)
    assert found.length_mm == pytest.approx(math.hypot(2000, 500) + math.hypot(8000, 500))
    assert point_load_span(10000, 500, 400).governs == ("left", "right")
    higher = point_load_span(10000, 500, 400, rise_mm=2000)
    # by hand: H = 2000; each holds 200, the higher right end 400 more, the left end pulls down by 200
    assert (higher.left_vertical_n, higher.right_vertical_n) == pytest.approx((-200, 600))
    assert higher.left_angle_rad < 0 < higher.right_angle_rad
    assert higher.governs == ("right",)


# --- shapes, from outside -------------------------------------------------------------------------

@few
@given(spans, flat, rises)
def test_the_parabolas_length_by_quadrature(span, sag, rise):
    # y = rise x / span - 4 sag x (span - x) / span^2
    length, _ = quad(lambda x: math.hypot(1, rise - 4 * sag * (1 - 2 * x)), 0, 1, epsrel=1e-12)
    assert uniform_load_span(span, sag * span, 100, rise * span).length_mm == pytest.approx(span * length, rel=1e-10)


@few
@given(spans, st.floats(0.001, 3), loads)
def test_the_level_catenary_by_root_finding(span, sag, load):
    # sag = a (cosh(L / 2a) - 1), solved for a by Brent's method; H = w a; length = 2 a sinh(L / 2a)
    a = brentq(lambda a: a * (math.cosh(span / 2 / a) - 1) - sag * span, span / 40, span * 1000, xtol=1e-9 * span, rtol=1e-14)
    length = 2 * a * math.sinh(span / 2 / a)
    found = catenary_span(span, sag * span, load)
    assert found.length_mm == pytest.approx(length, rel=1e-6)
    assert found.horizontal_n == pytest.approx(load * a / length, rel=1e-6)


@few
@given(st.floats(0.02, 1), st.floats(-1, 1))
def test_the_sloping_catenary_by_three_equations(sag, rise):
    """Through both ends and the sag at mid-span, SciPy finds the parameter, its middle and its depth; unit span and weight."""
    found = catenary_span(1000, 1000 * sag, 1, 1000 * rise)
    a = found.horizontal_n / (1 / found.length_mm) / 1000  # only where the search begins

    def off(unknown):
        size, middle, depth = unknown
        y = [size * math.cosh((x - middle) / size) + depth for x in (0, 0.5, 1)]
        return [y[0], y[2] - rise, rise / 2 - y[1] - sag]

    start = [a * 1.05, 0.5 - a * math.asinh(rise) * 0.9, -a]
    (size, middle, depth), _, good, _ = fsolve(off, start, full_output=True, xtol=1e-13)
    assume(good == 1)
    length, _ = quad(lambda x: math.cosh((x - middle) / size), 0, 1, epsrel=1e-12)
    assert found.length_mm == pytest.approx(1000 * length, rel=1e-6)
    assert found.horizontal_n == pytest.approx(size / length, rel=1e-6)
    assert found.right_vertical_n == pytest.approx(size / length * math.sinh((1 - middle) / size), rel=1e-6, abs=1e-6)


def test_the_difference_between_parabola_and_catenary_is_stated():
    near, wide = parabola_against_catenary(10000, 100, 50), parabola_against_catenary(10000, 1000, 50)
    assert near.horizontal_share < 0.0002 and 0.012 < wide.horizontal_share < 0.014
    assert wide.greatest_share == pytest.approx(wide.parabola.greatest_n / wide.catenary.greatest_n - 1)
    assert "1.30 % more horizontal force and 1.11 % more greatest tension" in wide.said
    assert wide.length_mm == pytest.approx(wide.parabola.length_mm - wide.catenary.length_mm)
    with pytest.raises(Refusal):
        parabola_against_catenary(10000, 1001, 50)


# --- ranges ---------------------------------------------------------------------------------------

def test_the_parabolas_range_is_refused_outside_and_points_to_the_catenary():
    assert uniform_load_span(1000, 100, 5, 250).shape == "parabola"
    with pytest.raises(Refusal, match="a sag of 0.101 of the span was given; accepted: up to 0.1 of the span for a parabola; take the catenary"):
        uniform_load_span(1000, 101, 5)
    for rise in (251, -251):
        with pytest.raises(Refusal, match="a rise of 0.251 of the span"):
            uniform_load_span(1000, 50, 5, rise)
    assert catenary_span(1000, 101, 5).shape == "catenary"
    with pytest.raises(Refusal, match="up to ten spans"):
        catenary_span(1000, 10001, 5)


def test_sag_is_asked_for():
    for shape in (point_load_span, *SHAPES):
        with pytest.raises(Refusal, match="a span without its sag was given; accepted: the sag in mm; ask how far it may sag"):
            shape(9144, None, 40)
        with pytest.raises(Refusal, match="measure the sag again"):
            shape(9144, 9144e-7, 40)
        assert shape(9144, 9144e-6, 40).horizontal_n > 1e6


@pytest.mark.parametrize("at", [0, -5, 9144, 10000, math.nan, "middle"])
def test_a_load_hangs_between_the_ends(at):
    with pytest.raises(Refusal):
        point_load_span(9144, 300, 40, at_mm=at)


@bad_numbers
def test_numbers_that_are_none(bad):
    for shape in (point_load_span, *SHAPES):
        for place in range(3):
            values = [9144, 300, 40]
            values[place] = bad
            with pytest.raises(Refusal):
                shape(*values)
        if bad not in (0, -1) or isinstance(bad, bool):
            with pytest.raises(Refusal):
                shape(9144, 300, 40, rise_mm=bad)
    for place in range(3):
        values, back = [667, 2400, 20], [18, 2400, 20]
        values[place] = back[place] = bad
        for call in (lambda: sag_at_tension_mm(*values), lambda: tension_at_sag_n(*back)):
            with pytest.raises(Refusal):
                call()


# --- the check of a tightened cable ---------------------------------------------------------------

@few
@given(st.floats(100, 9000), st.floats(500, 20000), st.floats(5, 30), st.floats(0, 5))
def test_sag_and_tension_there_and_back(tension, span, hung, own):
    sag = sag_at_tension_mm(tension, span, hung, own)
    assert tension_at_sag_n(sag, span, hung, own) == pytest.approx(tension, rel=1e-9)
    assert sag_at_tension_mm(tension * 1.1, span, hung, own) < sag
    bare = point_load_span(span, sag_at_tension_mm(tension, span, hung), hung)
    assert bare.greatest_n == pytest.approx(tension, rel=1e-9)


def test_own_weight_is_added_and_said():
    # by hand: V = (20 + 4) / 2 = 12, H = sqrt(37^2 - 12^2) = 35; sag = (20 x 700 / 4 + 4 x 700 / 8) / 35 = 100 + 10
    found = sag_check(37, 700, 20, 0)
    assert found.from_own_mm == 0 and "Own weight is left out, so at this sag the cable is tighter" in found.said
    # what is left out makes it tighter: by half of 1 N over 20 N, 2.5 %, on a nearly level cable
    assert tension_at_sag_n(sag_at_tension_mm(5000, 700, 20), 700, 20, 1) / 5000 == pytest.approx(1 + 0.5 / 20, rel=1e-4)
    with pytest.raises(Refusal, match="a sag of 0.157 of the span with own weight"):
        sag_check(37, 700, 20, 4)
    # V = 12, H = sqrt(1225^2 + ...): 12, 35, 37 again, ten times tighter: H = 350, T = sqrt(350^2 + 12^2)
    found = sag_check(math.hypot(350, 12), 700, 20, 4)
    assert (found.from_hung_mm, found.from_own_mm, found.sag_mm) == pytest.approx((10, 1, 11))
    assert found.said.endswith("Less sag: too tight. Own weight is added.")
    with pytest.raises(Refusal, match="0.157 of the span with own weight"):
        tension_at_sag_n(110, 700, 20, 4)
    with pytest.raises(Refusal, match="-1 N for the cable's own weight"):
        sag_check(37, 700, 20, -1)


@pytest.mark.parametrize("tension", [10, 9])
def test_a_tension_that_cannot_hold_the_weight_is_refused(tension):
    with pytest.raises(Refusal, match="more than half of what hangs, 10 N"):
        sag_at_tension_mm(tension, 2400, 20)


# --- a cable that stretches -----------------------------------------------------------------------

@few
@given(st.floats(1000, 20000), st.floats(-0.0005, 0.01), st.floats(1, 500), st.floats(2e5, 2e6), st.floats(1, 1.6))
def test_a_stretched_span_keeps_its_length(span, extra, load, low, times):
    cable = span * (1 + extra)
    found = sag_with_stretch(span, cable, load, low, low * times)
    for hung, stiffness in ((found.softest, low), (found.stiffest, low * times)):
        assert hung.length_mm == pytest.approx(cable * (1 + hung.left_n / stiffness), rel=1e-9)
    assert found.softest.sag_mm >= found.stiffest.sag_mm
    assert found.softest.greatest_n <= found.stiffest.greatest_n
    if cable <= span:
        assert (found.unstretched_sag_mm, found.sag_change_mm) == (None, None)
    elif extra > 1e-4:
        bare = math.sqrt(cable**2 - span**2) / 2
        assert found.unstretched_sag_mm == pytest.approx(bare, rel=1e-6)
        assert found.sag_change_mm == pytest.approx((found.stiffest.sag_mm - bare, found.softest.sag_mm - bare), abs=1e-3)


@few
@given(st.floats(0.0, 0.01), st.floats(1, 500), st.floats(2e5, 2e6))
def test_a_stretched_parabola_by_quadrature(extra, load, stiffness):
    span = 6000.0
    found = sag_with_stretch(span, span * (1 + extra), load, stiffness, stiffness, "uniform").softest

    def slope(x):
        return 4 * found.sag_mm / span * (1 - 2 * x / span)

    length, _ = quad(lambda x: math.hypot(1, slope(x)), 0, span, epsrel=1e-12)
    along, _ = quad(lambda x: found.horizontal_n * (1 + slope(x) ** 2), 0, span, epsrel=1e-12)
    assert length == pytest.approx(span * (1 + extra) * (1 + along / length / stiffness), rel=1e-9)


@pytest.mark.parametrize("values", [(6000, 6010, 40, 3e5, 2e5), (6000, 5900, 40, 2e5, 3e5), (6000, 6010, 40, 0, 3e5), (6000, 6010, -40, 2e5, 3e5),
                                    (6000, 9000, 40, 2e5, 3e5, "uniform"), (6000, 6010, 40, 2e5, 3e5, "lumpy"), (6000, 6010, math.nan, 2e5, 3e5)])
def test_refused_stretching(values):
    with pytest.raises(Refusal):
        sag_with_stretch(*values)


def test_a_stretch_beyond_a_hundredth_is_refused():
    # by hand: cable as long as the span, strain e: W = 2 T sin a, T = EA e, cos a = 1 / (1 + e); e = 0.01 at W = 0.002807 EA
    edge = sag_with_stretch(6000, 6000, 0.0028 * 2e5, 2e5, 2e5).softest
    assert edge.greatest_n == pytest.approx(0.01 * 2e5, rel=0.003)
    with pytest.raises(Refusal, match="up to 1 %"):
        sag_with_stretch(6000, 6000, 0.00282 * 2e5, 2e5, 2e5)
