"""Alpha, its interval, item-rest correlation and consistency: printed figures, sums by hand, and other paths."""

import numpy as np
import pytest

from rigcalc.errors import Refusal
from rigcalc.papers import statistics

# Transcripts of the two small public data sets `cronbach_alpha` (15 people, 10 questions) and `cronbach_wide_missing` (12 people,
# 11 questions, None where nothing was given) of the general statistics library pingouin 0.7; its documentation prints the figures.
TEN = (
    (3, 2, 4, 1, 4, 5, 1, 4, 3, 2), (5, 4, 6, 3, 5, 1, 2, 5, 5, 5), (7, 3, 5, 5, 6, 4, 3, 3, 6, 5), (2, 4, 3, 3, 2, 2,
    2, 6, 6, 3), (6, 5, 6, 5, 4, 4, 4, 6, 7, 5), (1, 2, 3, 4, 2, 5, 2, 3, 5, 2), (4, 3, 5, 3, 5, 2, 1, 2, 4, 3), (2,
    4, 4, 3, 7, 2, 2, 4, 6, 5), (6, 5, 5, 5, 1, 6, 5, 2, 3, 2), (5, 4, 6, 4, 3, 5, 3, 1, 7, 2), (4, 3, 5, 2, 5, 3, 2,
    3, 4, 1), (4, 2, 3, 2, 5, 3, 4, 2, 3, 4), (5, 5, 6, 2, 3, 3, 2, 4, 4, 5), (6, 5, 5, 4, 2, 2, 1, 4, 6, 5), (4, 3,
    5, 5, 3, 1, 3, 2, 3, 4),
)
N = None
ELEVEN = (
    (1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1), (1, 1, 1, 1, 1, 1, 1, 1, 0, 1, 0), (N, 0, 1, 1, N, 1, 1, 1, 1, 0, 0), (1,
    1, 1, 0, 1, 1, 0, 1, 1, 0, 0), (1, 1, 1, 1, 1, 0, 0, 0, 1, 0, 0), (0, 1, N, 0, 1, 1, 1, 1, 0, 0, 0), (1, 1, 1,
    1, 0, 0, 1, 0, 0, 0, 0), (1, 1, 1, 1, 1, 0, 0, 0, 0, 0, 0), (0, 1, 0, 1, 1, 0, 0, 0, 0, 1, 0), (1, 0, 0, 1, 0, 1,
    0, 0, N, 0, 0), (1, 1, 1, 0, 0, 0, 0, 0, 0, 0, 0), (1, 0, 0, 1, 0, 0, 0, 0, 0, 0, 0),
)


def test_a_printed_alpha_with_its_interval():
    # printed: 0.5917188485995826, 95 % interval 0.195 to 0.840
    found = statistics.alpha(TEN)
    assert (found.people, found.questions) == (15, 10)
    assert found.value == pytest.approx(0.5917188485995826, abs=1e-12)
    assert (found.low, found.high) == pytest.approx((0.195, 0.840), abs=5e-4)


def test_printed_alphas_of_a_table_with_gaps():
    # printed: pairwise 0.732660835214447 (0.435 to 0.909), listwise 0.8016949152542373 (0.581 to 0.933)
    gaps = np.array(ELEVEN, float)
    pairwise, listwise = statistics.alpha(gaps, "pairwise"), statistics.alpha(gaps, "listwise")
    assert gaps.shape == (12, 11) and listwise.people == 9
    assert pairwise.value == pytest.approx(0.732660835214447, abs=1e-12)
    assert listwise.value == pytest.approx(0.8016949152542373, abs=1e-12)
    assert (pairwise.low, pairwise.high) == pytest.approx((0.435, 0.909), abs=5e-4)
    # the printed listwise interval counts all 12 people; here the 9 who are left count
    assert statistics._feldt(listwise.value, 12, 11, 0.95) == pytest.approx((0.581, 0.933), abs=5e-4)
    assert listwise.low < 0.581 and listwise.high > 0.933
    with pytest.raises(Refusal, match="gaps"):
        statistics.alpha(gaps)


def test_kr_20_by_hand_and_what_two_divisors_would_make_of_it():
    # by hand: marks 1110, 1100, 1000, 0000: totals 3 2 1 0, sum of p(1-p) = 3/16 + 4/16 + 3/16 + 0; variance divided by n: 5/4
    # KR-20 = 4/3 (1 - (10/16) / (5/4)) = 2/3; with 5/3 (divided by n - 1) beside p(1-p) it would wrongly be 4/3 (1 - 3/8) = 5/6
    ladder = [[1, 1, 1, 0], [1, 1, 0, 0], [1, 0, 0, 0], [0, 0, 0, 0]]
    assert statistics.alpha(ladder).value == pytest.approx(2 / 3, abs=1e-15)
    assert abs(statistics.alpha(ladder).value - 5 / 6) > 0.1


def test_item_rest_against_a_correlation_of_each_question_with_the_others():
    # independent path: numpy's corrcoef of a column with the sum of the others; the raw correlation flatters and must differ
    table = np.array(TEN, float)
    rest = [np.corrcoef(table[:, at], np.delete(table, at, 1).sum(1))[0, 1] for at in range(10)]
    raw = [np.corrcoef(table[:, at], table.sum(1))[0, 1] for at in range(10)]
    found = statistics.item_statistics(table)
    assert found.item_rest == pytest.approx(rest, abs=1e-12)
    assert all(one > other for one, other in zip(raw, found.item_rest))
    assert found.mean == pytest.approx(table.mean(0), abs=1e-12) and found.deviation == pytest.approx(table.sum(1).std(ddof=1), abs=1e-12)


@pytest.mark.parametrize("kind", [bool, np.int8, np.uint8, np.int64, np.float32, float])
def test_every_kind_of_number_gives_the_same(kind):
    table = np.array([[1, 1, 0], [1, 0, 1], [0, 1, 0], [0, 0, 0], [1, 1, 1]])
    found, plain = statistics.item_statistics(table.astype(kind)), statistics.item_statistics(table)
    assert found.alpha == pytest.approx(plain.alpha, abs=1e-12) and found.item_rest == pytest.approx(plain.item_rest, abs=1e-12)
    assert found.alpha == pytest.approx(statistics.alpha(table).value, abs=1e-12)


def test_marks_far_from_zero_and_many_blocks_lose_nothing():
    # independent path: numpy's covariance matrix of the same 5,000 rows; a block has 2,048
    rng = np.random.default_rng(20310412)
    table = rng.normal(size=(5000, 1)) + rng.normal(size=(5000, 7)) + 1e6
    covariances = np.cov(table, rowvar=False)
    wanted = 7 / 6 * (1 - np.trace(covariances) / covariances.sum())
    assert statistics.item_statistics(table).alpha == pytest.approx(wanted, abs=1e-9)


def test_standard_error_as_printed():
    # printed examples (read): SD 15, r 0.92: 4.24; SD 12, r 0.96: 2.4
    assert statistics.standard_error(15, 0.92) == pytest.approx(4.24, abs=5e-3)
    assert statistics.standard_error(12, 0.96) == pytest.approx(2.4, abs=1e-12)
    with pytest.raises(Refusal, match="no standard error"):
        statistics.standard_error(10, -0.2)


@pytest.mark.parametrize("questions, mean, variance", [(40, 28.0, 30.0), (12, 8.5, 6.0), (100, 71.3, 150.0)])
def test_the_effective_length_of_equal_questions_is_their_number(questions, mean, variance):
    # algebra: with KR-21 = n/(n-1) (1 - M(n-M) / (n s2)) as the reliability the formula gives n back
    kr_21 = questions / (questions - 1) * (1 - mean * (questions - mean) / (questions * variance))
    assert statistics.effective_length(mean, variance, kr_21, questions) == pytest.approx(questions, rel=1e-12)


def test_consistency_by_hand():
    # by hand: marks 0 1 1 2 of 2: mean 1, variance 2/3; reliability 1/2 leaves 1/12 of a share squared: every own share p from 0 to 1
    # is equally likely; length (1 - 1/3) / (2/3 x 1/2) = 2. At a cut of 1 mark P = 1 - q2: mean of 1 - 2 q2 + 2 q4 = 1 - 2/3 + 2/5
    # = 11/15; mean P 2/3, by chance 4/9 + 1/9; kappa (11/15 - 5/9) / (4/9) = 2/5. At 2 marks P = p2, the same by symmetry
    for cut in (1, 2):
        found = statistics.consistency([0, 1, 1, 2], cut, 2, 0.5)
        assert found == (pytest.approx(11 / 15, abs=1e-6), pytest.approx(5 / 9, abs=1e-6), pytest.approx(2 / 5, abs=1e-6), 2)


def test_consistency_of_marks_without_reliability_by_hand():
    # by hand: mean 1/2 of 4 marks, variance 4/3, reliability 0: length 4 / (4/3) = 3 alike questions, everybody's own share 1/2;
    # at a cut of 2 marks 2 of 3 are needed: P = 1/2, alike 1/2, which is chance: kappa 0
    found = statistics.consistency([1, 1, 2, 2, 3, 3, 4, 0, 2], 2, 4, 0.0)
    assert found.share == pytest.approx(found.by_chance) and found.kappa == pytest.approx(0, abs=1e-12)


@pytest.mark.parametrize("weights, cut", [([1.0] * 40, 28), ([4.0] * 10 + [2.0] * 20 + [1.0] * 20, 62), ([10.0] * 4 + [7.5] * 8, 70)])
def test_consistency_against_two_simulated_sittings(weights, cut):
    # independent path: 20,000 people answer two parallel papers; alike at the cut, against what one sitting foretells: 0.03
    rng = np.random.default_rng(20320218)
    worth, hard = np.array(weights), rng.uniform(-1.5, 0.5, len(weights))
    chance = 1 / (1 + np.exp(-(rng.normal(0.3, 1.0, (20_000, 1)) - hard)))
    first, second = ((rng.random(chance.shape) < chance) * worth for _ in range(2))
    alike = np.mean((first.sum(1) >= cut) == (second.sum(1) >= cut))
    found = statistics.consistency(first.sum(1), cut, worth.sum(), statistics.item_statistics(first).alpha)
    assert found.share == pytest.approx(alike, abs=0.03) and found.by_chance < found.share
