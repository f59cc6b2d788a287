"""One-sided tolerance factors and sizes without a failure: printed tables, and the same by another path."""

import math

import pytest
import scipy

from rigcalc.pulltest import demonstrated_reliability, lot_verdict, tolerance_bound_n, tolerance_factor, zero_failure_size
from rigcalc.units import LBF_N

# Composite materials handbook CMH-17, B-basis factors (coverage 0.90, confidence 0.95), as the tests of a public
# statistics package transcribe them (read, second-hand). Agreement within 0.002: the handbook's own are approximate.
B_BASIS = ((2, 20.581), (3, 6.157), (4, 4.163), (5, 3.408), (6, 3.007), (7, 2.756), (8, 2.583), (9, 2.454), (10, 2.355), (12, 2.211),
           (15, 2.069), (20, 1.927), (25, 1.839), (30, 1.778), (40, 1.698), (50, 1.646), (70, 1.582), (95, 1.534), (120, 1.504))
# The same handbook, A-basis (coverage 0.99, confidence 0.95), read second-hand.
A_BASIS = ((3, 10.553), (5, 5.741), (10, 3.981), (20, 3.295))


@pytest.mark.parametrize("pieces, printed", B_BASIS)
def test_b_basis(pieces, printed):
    assert tolerance_factor(pieces, coverage=0.90, confidence=0.95) == pytest.approx(printed, abs=2e-3)


@pytest.mark.parametrize("pieces, printed", A_BASIS)
def test_a_basis(pieces, printed):
    assert tolerance_factor(pieces, coverage=0.99, confidence=0.95) == pytest.approx(printed, abs=2e-3)


def test_a_printed_factor_of_eight():
    # printed for 8 logarithms, coverage 0.95, confidence 0.95 (read, second-hand): 3.187294
    assert tolerance_factor(8, coverage=0.95, confidence=0.95) == pytest.approx(3.187294, abs=1e-6)


def test_the_closed_approximation_of_the_handbook():
    # NIST/SEMATECH e-Handbook 7.2.6.3 as a sheet prints it (read, second-hand): n 43, coverage 0.90, confidence 0.99, closed formula
    # k1 1.8751896 with a 0.9355727 and b 1.5165164. The exact factor lies within 0.1 % of it at n = 43.
    z_p, z_g = 1.2815516, 2.3263479
    a, b = 1 - z_g ** 2 / (2 * 42), z_p ** 2 - z_g ** 2 / 43
    assert (a, b) == pytest.approx((0.9355727, 1.5165164), abs=1e-6)
    assert (z_p + math.sqrt(z_p ** 2 - a * b)) / a == pytest.approx(1.8751896, abs=1e-6)
    assert tolerance_factor(43, coverage=0.90, confidence=0.99) == pytest.approx(1.8751896, rel=1e-3)


def reached_confidence(pieces: int, coverage: float, factor: float) -> float:
    """How often mean - k s lies below the quantile: over the chi distribution of s, with no noncentral t anywhere."""
    z, root = scipy.stats.norm.ppf(coverage), math.sqrt(pieces)
    chance = lambda s: scipy.stats.chi.pdf(s, pieces - 1) * scipy.stats.norm.cdf(root * (factor * s / math.sqrt(pieces - 1) - z))  # noqa: E731
    middle = math.sqrt(pieces - 1)
    return scipy.integrate.quad(chance, max(0, middle - 12), middle + 12, points=[middle], epsabs=1e-12, limit=400)[0]


@pytest.mark.parametrize("pieces", [2, 3, 6, 20, 100, 500])
@pytest.mark.parametrize("coverage, confidence", [(0.90, 0.95), (0.95, 0.90), (0.99, 0.99), (0.6, 0.6)])
def test_by_another_path(pieces, coverage, confidence):
    # integral over the sample standard deviation; 1e-6 of confidence
    factor = tolerance_factor(pieces, coverage=coverage, confidence=confidence)
    assert reached_confidence(pieces, coverage, factor) == pytest.approx(confidence, abs=1e-6)


def test_the_lanyard_lot():
    # worked by hand: 470, 505, 512, 441, 498, 489 lbf against 0.90 x 480 = 432: mean 485.8, s 26.3, k 3.006, bound 406.6, not shown
    forces = [lbf * float(LBF_N) for lbf in (470, 505, 512, 441, 498, 489)]
    found = lot_verdict(forces, 480 * float(LBF_N), coverage=0.90, confidence=0.95, modes=["broke in the cable"] * 6)
    lbf = float(LBF_N)
    assert found.needed_n / lbf == pytest.approx(432, abs=1e-9)
    assert found.bound.mean_n / lbf == pytest.approx(485.8, abs=0.05)
    assert found.bound.spread_n / lbf == pytest.approx(26.3, abs=0.06)  # 26.347 by hand: sum of squares 3470.83, / 5
    assert found.bound.factor == pytest.approx(3.006, abs=5e-4)
    assert found.bound.bound_n / lbf == pytest.approx(406.6, abs=0.05)
    assert found.verdict == "not shown"
    # the words turned round give another number: 3.092
    assert tolerance_bound_n(forces, coverage=0.95, confidence=0.90).factor == pytest.approx(3.092, abs=5e-4)


# A printed success-run table with the n + 1 convention: pieces, confidence, lower bound; beside it the binomial one by logarithms.
SUCCESS_RUN = ((10, 0.90, 0.811131, 0.794328), (29, 0.95, 0.904966, 0.901855), (59, 0.95, 0.951297, 0.950492), (99, 0.99, 0.954993, 0.954548))


@pytest.mark.parametrize("pieces, confidence, printed, binomial", SUCCESS_RUN)
def test_success_run_table(pieces, confidence, printed, binomial):
    # printed to six digits (81.1131 %, 90.4966 %, 95.1297 %, 95.4993 %; page read); the other column by 10 to the power log10(1 - C) / n
    found = demonstrated_reliability(pieces, confidence=confidence)
    assert found.by_n_plus_1 == pytest.approx(printed, abs=6e-7)
    assert found.reliability == pytest.approx(binomial, abs=6e-7)


def test_sizes_without_a_failure():
    # rank tables (read, second-hand): 29 for 0.90 / 0.95, 299 for 0.99 / 0.95; a reliability handbook page (read): 2995 for 0.999 / 0.95
    for reliability, pieces in ((0.90, 29), (0.99, 299), (0.999, 2995)):
        found = zero_failure_size(reliability=reliability, confidence=0.95)
        assert (found.pieces, found.by_n_plus_1) == (pieces, pieces - 1)
        # the exact binomial with no failure: enough with n, not with n - 1
        assert scipy.stats.binom.pmf(0, pieces, 1 - reliability) <= 0.05 < scipy.stats.binom.pmf(0, pieces - 1, 1 - reliability)
