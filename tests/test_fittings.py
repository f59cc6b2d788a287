"""Fittings carry their own marks; the weakest link is found among working limits, never divided again."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigcalc.errors import Refusal
from rigcalc.fittings import KINDS, AngleChart, Fitting, fitting_limit_n, marked_fitting, weakest_link

LBF_N = 4.4482216152605
CHART = AngleChart(((math.radians(45), 500.0), (math.radians(90), 250.0)), "the maker's sheet, edition 2")
BOLT = Fitting("eyebolt", "M10", 2000.0, CHART)


def shackle(limit_n):
    return Fitting("shackle", "bow", limit_n)


# --- rule 16: weakest link among working limits -----------------------------------------------------

def test_a_shackles_limit_is_never_divided_by_the_factor_again():
    # misstep of the trade: a 1000 lbf shackle divided by 5 "governs with 200"; the cable's 360 governs
    found = weakest_link(360 * LBF_N, [shackle(1000 * LBF_N)])
    assert (found.governs, found.ties, found.limit_n) == ("cable at its eyes", (), pytest.approx(360 * LBF_N))
    assert found.links == (("cable at its eyes", pytest.approx(360 * LBF_N)), ("shackle bow", pytest.approx(1000 * LBF_N)))


def test_the_weakest_fitting_governs_and_ties_are_named():
    found = weakest_link(1600.0, [shackle(4000.0), Fitting("turnbuckle", "M8", 900.0), Fitting("wall anchor", "by others", 900.0)])
    assert (found.limit_n, found.governs, found.ties) == (900.0, "turnbuckle M8", ("wall anchor by others",))
    assert weakest_link(900.0, [shackle(900.0)]).ties == ("shackle bow",)


@pytest.mark.parametrize("parts, tied", [(0.99e-12, True), (1.01e-12, False), (-0.99e-12, True), (-1.01e-12, False)])
def test_limits_tie_within_the_dust_of_floating_point(parts, tied):
    found = weakest_link(1000.0, [shackle(1000.0 * (1 + parts))])
    assert bool(found.ties) is tied
    if not tied:
        assert found.governs == ("cable at its eyes" if parts > 0 else "shackle bow")


@settings(max_examples=60, deadline=None)
@given(st.floats(1, 1e6), st.lists(st.floats(1, 1e6), max_size=5))
def test_the_limit_is_the_least_and_no_link_is_forgotten(cable_n, limits_n):
    found = weakest_link(cable_n, [Fitting("shackle", str(place), limit_n) for place, limit_n in enumerate(limits_n)])
    assert found.limit_n == min([cable_n, *limits_n])
    assert len(found.links) == 1 + len(limits_n)
    assert all(dict(found.links)[name] <= found.limit_n * (1 + 1e-11) for name in (found.governs, *found.ties))


# --- marks ------------------------------------------------------------------------------------------

@pytest.mark.parametrize("mark, limit_n", [("WLL 5 kN", 5000), ("5 kN", 5000), ("SWL: 500 lbf", 500 * LBF_N), ("working load limit 800 N", 800)])
def test_a_mark_is_read_with_its_unit(mark, limit_n):
    found = marked_fitting("shackle", "bow", mark)
    assert (found.limit_n, found.marked) == (pytest.approx(limit_n), mark)


@pytest.mark.parametrize("mark", ["", "   ", None, "1000", "WLL 1000", "1000 lb", "1/2 t", "500 kg", "strong", "0 N", "-5 kN"])
def test_no_mark_no_unit_or_a_mass_is_refused(mark):
    with pytest.raises(Refusal):
        marked_fitting("shackle", "bow", mark)


@pytest.mark.parametrize("limit_n", [None, 0, -1.0, math.nan, math.inf, True, "900"])
def test_a_fitting_without_a_limit_above_zero_is_refused(limit_n):
    with pytest.raises(Refusal):
        weakest_link(100.0, [shackle(limit_n)])


@pytest.mark.parametrize("cable_n", [0, -5.0, math.nan, True, None])
def test_the_cables_limit_must_be_above_zero(cable_n):
    with pytest.raises(Refusal):
        weakest_link(cable_n, [])


def test_a_hitch_is_no_fitting():
    assert KINDS == ("shackle", "turnbuckle", "snap hook", "eyebolt", "eye screw", "wall anchor")
    for kind in ("choker", "basket", "lap splice", "hook and chain"):
        with pytest.raises(Refusal, match="shackle, turnbuckle"):
            fitting_limit_n(Fitting(kind, "x", 100.0))


# --- under an angle ---------------------------------------------------------------------------------

@pytest.mark.parametrize("degrees, limit_n", [(0, 2000), (1, 500), (45, 500), (46, 250), (90, 250)])
def test_an_eyebolt_under_an_angle_takes_its_own_charts_next_row(degrees, limit_n):
    assert fitting_limit_n(BOLT, math.radians(degrees)) == limit_n


def test_no_chart_no_angle():
    for kind in KINDS:
        with pytest.raises(Refusal, match="20 degrees off the line .* its own chart|own chart of limits"):
            fitting_limit_n(Fitting(kind, "x", 2000.0), math.radians(20))


def test_in_line_means_in_line():
    plain = Fitting("shackle", "bow", 2000.0)
    assert fitting_limit_n(plain, 0.99e-9) == 2000.0
    with pytest.raises(Refusal, match="off the line"):
        fitting_limit_n(plain, 1.01e-9)


@pytest.mark.parametrize("angle_rad", [-0.1, 1.6, math.nan, "0.5", True])
def test_angles_outside_a_right_angle_are_refused(angle_rad):
    with pytest.raises(Refusal):
        fitting_limit_n(BOLT, angle_rad)


def test_beyond_the_last_row_the_maker_is_asked():
    short = Fitting("eyebolt", "M10", 2000.0, AngleChart(((math.radians(45), 500.0),), "the maker"))
    with pytest.raises(Refusal, match="at most 45 degrees, the last row of its chart"):
        fitting_limit_n(short, math.radians(50))


@pytest.mark.parametrize("rows, given_by", [
    ((), "m"), (((0.8, 500.0), (0.4, 250.0)), "m"), (((0.4, 250.0), (0.8, 500.0)), "m"), (((0.4, 2500.0),), "m"), (((0.4, 0.0),), "m"),
    (((0.4, 500.0),), " ")])
def test_a_chart_out_of_order_or_unsigned_is_refused(rows, given_by):
    with pytest.raises(Refusal, match="rising angles"):
        fitting_limit_n(Fitting("eyebolt", "M10", 2000.0, AngleChart(rows, given_by)), 0.3)


def test_an_eyebolt_in_a_line_must_say_its_angle():
    for kind in ("eyebolt", "eye screw"):
        with pytest.raises(Refusal, match="without the angle of its pull"):
            weakest_link(1000.0, [Fitting(kind, "M10", 2000.0)])
    found = weakest_link(1000.0, [(BOLT, math.radians(30))])
    assert (found.limit_n, found.governs) == (500.0, "eyebolt M10")
    assert weakest_link(1000.0, [(BOLT, 0.0)]).governs == "cable at its eyes"


@settings(max_examples=60, deadline=None)
@given(*[st.one_of(st.just(0.0), st.floats(1e-12, math.pi / 2))] * 2)
def test_a_larger_angle_never_carries_more(one, other):
    less, more = sorted((one, other))
    assert fitting_limit_n(BOLT, less) >= fitting_limit_n(BOLT, more)
