"""JCGM 106:2012 clause 9.5.4, the ball bearings, as a public worked example quotes it (read, second-hand); and other paths.

Sizes of bearings: gamma, shape 4, scale 1/4 micrometre; limit 2 micrometres; standard uncertainty 0.25 micrometre.
"""

import math

import numpy as np
import pytest
import scipy

from rigcalc.gauge import global_risk, global_risk_of, guard_factor, judge_reading, specific_risk

LIMIT, U = 2.0, 0.25
# acceptance limit, share bad and passed, share good and rejected; as printed
PRINTED = ((2.00, 0.0080, 0.017), (1.67, 0.001, 0.075))
BAD = 0.0424  # with no inspection, as printed


def bearings(size: float) -> float:
    """The gamma density written out: x cubed e to the -4x times 4 to the fourth over 3 factorial."""
    return 256 * size ** 3 * math.exp(-4 * size) / 6 if size > 0 else 0.0


@pytest.mark.parametrize("accept, bad_passed, good_rejected", PRINTED)
def test_ball_bearings(accept, bad_passed, good_rejected):
    # JCGM 106:2012 9.5.4; printed to two digits: 0.00005 for the false passes; 0.0012 for the false rejects,
    # because the quoted 7.5 % is 7.6 % when worked with the quoted limit, itself rounded to 1.67
    found = global_risk_of(bearings, 0.0, 20.0, LIMIT, accept, U)
    assert found.bad == pytest.approx(BAD, abs=5e-5)
    assert found.bad_and_passed == pytest.approx(bad_passed, abs=5e-5)
    assert found.good_and_rejected == pytest.approx(good_rejected, abs=1.2e-3)


def test_guard_factors():
    # one-sided multipliers printed as 1.64 (5 %) and 2.33 (1 %)
    assert guard_factor(0.05) == pytest.approx(1.64, abs=5.1e-3)
    assert guard_factor(0.01) == pytest.approx(2.33, abs=5e-3)


CASES = ((6.35, 6.27, 0.05, 6.20, 0.08), (6.35, 6.35, 0.02, 6.30, 0.04), (6.35, 6.40, 0.10, 6.33, 0.03), (6.35, 6.30, 0.001, 6.32, 0.05))


@pytest.mark.parametrize("limit, accept, u, usual, spread", CASES)
def test_normal_work_against_the_joint_normal_distribution(limit, accept, u, usual, spread):
    # independent path: true and measured size are jointly normal, covariance spread squared; SciPy's bivariate integral, 1e-6
    joint = scipy.stats.multivariate_normal([usual, usual], [[spread ** 2, spread ** 2], [spread ** 2, spread ** 2 + u ** 2]])
    passed = scipy.stats.norm.cdf(accept, usual, math.hypot(spread, u))
    good_and_passed = joint.cdf([limit, accept])
    found = global_risk(limit, accept, u, usual, spread)
    assert found.bad == pytest.approx(scipy.stats.norm.sf(limit, usual, spread), abs=1e-9)
    assert found.passed == pytest.approx(passed, abs=1e-6)
    assert found.bad_and_passed == pytest.approx(passed - good_and_passed, abs=1e-6)
    assert found.good_and_rejected == pytest.approx(1 - found.bad - good_and_passed, abs=1e-6)


def test_a_measured_piece_against_a_grid():
    # independent path: density of the work times density of the reading on a fine grid, normalised; 1e-6
    sizes = np.linspace(5.8, 6.8, 200001)
    weight = scipy.stats.norm.pdf(sizes, 6.20, 0.08) * scipy.stats.norm.pdf(6.33, sizes, 0.05)
    weight /= weight.sum()
    found = specific_risk(6.33, 6.35, 0.05, usual_mm=6.20, usual_spread_mm=0.08)
    assert found.bad == pytest.approx(weight[sizes > 6.35].sum(), abs=1e-5)
    assert found.estimate_mm == pytest.approx((weight * sizes).sum(), abs=1e-6)
    assert found.good + found.bad == pytest.approx(1, abs=1e-12)


def test_the_edge_of_the_guard_band_passes_a_bad_piece_as_often_as_said():
    # by construction of the one-sided guard band: at its edge the chance of a bad piece is the risk named
    for risk in (0.05, 0.01, 0.001):
        edge = judge_reading(6.0, 6.35, 0.05, guard_factor(risk), "a maker's sheet").pass_to_mm
        assert specific_risk(edge, 6.35, 0.05).bad == pytest.approx(risk, abs=1e-9)
