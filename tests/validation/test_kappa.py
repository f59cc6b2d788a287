"""Kappa: printed examples, sums by hand, and the standard error by another path."""

import numpy as np
import pytest

from rigcalc.agreement import agreement, several_assessors

PAIRED = [[31, 12], [4, 58]]


def test_a_printed_kappa_with_its_interval():
    # printed in the manual of a public statistics package for 31, 12, 4, 58 (read): 0.6756757, error 0.07344761, 0.5317210 to 0.8196303
    found = agreement(PAIRED)
    assert found.kappa == pytest.approx(0.6756757, abs=1e-7)
    assert found.standard_error == pytest.approx(0.07344761, abs=1e-7)
    assert (found.low, found.high) == pytest.approx((0.5317210, 0.8196303), abs=1e-7)


def test_a_printed_kappa_of_chest_pictures():
    # a textbook of epidemiology, example 10.1 (read): 1467 and 16232 alike of 19790, margins 2249 / 2776: 0.8943, by chance 0.7780, kappa 0.524
    found = agreement([[1467, 2249 - 1467], [2776 - 1467, 16232]])
    assert (found.plain.share, found.chance) == pytest.approx((0.8943, 0.7780), abs=5e-5)
    assert found.kappa == pytest.approx(0.524, abs=5e-4)


def test_the_printed_paradox():
    # the same textbook, table 10.6 after Feinstein and Cicchetti 1990 (read): plain agreement 0.85 twice, kappa 0.70 and 0.32
    balanced, lopsided = agreement([[40, 9], [6, 45]]), agreement([[80, 10], [5, 5]])
    assert balanced.plain.share == lopsided.plain.share == pytest.approx(0.85)
    assert (balanced.kappa, lopsided.kappa) == pytest.approx((0.70, 0.32), abs=5e-3)
    assert not any("One word" in words for words in balanced.warnings)
    assert any("One word makes up 88 %" in words for words in lopsided.warnings)


def test_three_words_by_hand():
    # by hand: n 19; 13 alike; chance 140/361; (13 x 19 - 140) / (361 - 140) = 107/221
    # linear weights: seen 15.5, by chance 235.5/361; (15.5 x 19 - 235.5) / (361 - 235.5) = 59/125.5
    # quadratic, a step of one counts 3/4: seen 16.75, by chance (140 + 0.75 x 191)/361 = 283.25/361; (318.25 - 283.25) / 77.75 = 35/77.75
    table = [[0, 4, 1], [0, 8, 0], [0, 1, 5]]
    assert agreement(table).kappa == pytest.approx(107 / 221, abs=1e-12)
    assert agreement(table, weights="linear").kappa == pytest.approx(59 / 125.5, abs=1e-12)
    assert agreement(table, weights="quadratic").kappa == pytest.approx(35 / 77.75, abs=1e-12)


def test_kappa_below_zero_at_nearly_full_agreement():
    # by hand: 598 alike, one otherwise each way, of 600: chance (599/600) squared + (1/600) squared: kappa -1/599
    found = agreement([[598, 1], [1, 0]])
    assert found.plain.share == pytest.approx(0.99667, abs=5e-6)
    assert found.kappa == pytest.approx(-1 / 599, abs=1e-12)
    assert any("below zero" in words for words in found.warnings)


def weighted(shares: np.ndarray, power: float) -> float:
    steps = np.abs(np.subtract.outer(np.arange(len(shares)), np.arange(len(shares)))) / (len(shares) - 1)
    near = np.eye(len(shares)) if power == 0 else 1 - steps ** power
    chance = (near * np.outer(shares.sum(1), shares.sum(0))).sum()
    return ((near * shares).sum() - chance) / (1 - chance)


@pytest.mark.parametrize("table", [PAIRED, [[10, 4, 1], [2, 18, 3], [0, 1, 15]]])
@pytest.mark.parametrize("weights, power", [("none", 0), ("linear", 1), ("quadratic", 2)])
def test_standard_error_by_the_delta_method(table, weights, power):
    # independent path: gradient of kappa by central differences over the cells, multinomial covariance; 1e-6
    counts = np.array(table, float)
    n, shares, step = counts.sum(), counts / counts.sum(), 1e-6
    gradient = np.zeros_like(shares)
    for place in np.ndindex(*shares.shape):
        up, down = shares.copy(), shares.copy()
        up[place] += step
        down[place] -= step
        gradient[place] = (weighted(up, power) - weighted(down, power)) / (2 * step)
    variance = ((gradient ** 2 * shares).sum() - (gradient * shares).sum() ** 2) / n
    found = agreement(table, weights=weights)
    assert found.kappa == pytest.approx(weighted(shares, power), abs=1e-12)
    assert found.standard_error == pytest.approx(variance ** 0.5, abs=1e-6)


# Fleiss 1971 and a second table, as a public program's tests print them with their results 0.43 and 0.21 (read)
FLEISS = ((0, 0, 0, 6, 0), (0, 3, 0, 0, 3), (0, 1, 4, 0, 1), (0, 0, 0, 0, 6), (0, 3, 0, 3, 0), (2, 0, 4, 0, 0), (0, 0, 4, 0, 2), (2, 0, 3, 1, 0),
          (2, 0, 0, 4, 0), (0, 0, 0, 0, 6), (1, 0, 0, 5, 0), (1, 1, 0, 4, 0), (0, 3, 3, 0, 0), (1, 0, 0, 5, 0), (0, 2, 0, 3, 1), (0, 0, 5, 0, 1),
          (3, 0, 0, 1, 2), (5, 1, 0, 0, 0), (0, 2, 0, 4, 0), (1, 0, 2, 0, 3), (0, 0, 0, 0, 6), (0, 1, 0, 5, 0), (0, 2, 0, 1, 3), (2, 0, 0, 4, 0),
          (1, 0, 0, 4, 1), (0, 5, 0, 1, 0), (4, 0, 0, 0, 2), (0, 2, 0, 4, 0), (1, 0, 5, 0, 0), (0, 0, 0, 0, 6))
FOURTEEN = ((0, 0, 0, 0, 14), (0, 2, 6, 4, 2), (0, 0, 3, 5, 6), (0, 3, 9, 2, 0), (2, 2, 8, 1, 1), (7, 7, 0, 0, 0), (3, 2, 6, 3, 0),
            (2, 5, 3, 2, 2), (6, 5, 2, 1, 0), (0, 2, 2, 3, 7))


def test_printed_examples_of_several_assessors():
    # printed to two digits: 0.005
    first, second = several_assessors(FLEISS), several_assessors(FOURTEEN)
    assert (first.pieces, first.assessors, second.assessors) == (30, 6, 14)
    assert (first.kappa, second.kappa) == pytest.approx((0.43, 0.21), abs=5e-3)


def test_two_assessors_pairwise():
    # by hand: 12 pieces, 10 alike (6 + 4), words used 14 and 10 times of 24: (10/12 - 74/144) / (1 - 74/144) = 46/70
    table = [(2, 0)] * 6 + [(0, 2)] * 4 + [(1, 1)] * 2
    assert several_assessors(table).kappa == pytest.approx(46 / 70, abs=1e-12)
