"""What cannot be worked out is nothing, never 0; a table that is none is refused."""

import math

import numpy as np
import pytest

from rigcalc.errors import Refusal
from rigcalc.papers import statistics

TABLE = [[1, 1, 0, 1], [1, 0, 0, 1], [0, 0, 1, 1], [1, 1, 0, 1], [0, 0, 0, 1]]


def test_a_question_that_all_get_right_or_wrong_has_no_correlation():
    table = np.column_stack([TABLE, np.zeros(5), np.full(5, 0.1)])
    found = statistics.item_statistics(table)
    assert all(math.isnan(found.item_rest[at]) for at in (3, 4, 5))
    assert not any(math.isnan(found.item_rest[at]) for at in (0, 1, 2))
    assert found.mean[3:] == pytest.approx([1, 0, 0.1])


def test_a_question_whose_rest_does_not_vary_has_none_either():
    assert all(math.isnan(one) for one in statistics.item_statistics([[1, 1, 1], [0, 1, 1], [1, 1, 1]]).item_rest)
    opposite = statistics.item_statistics([[1, 0], [0, 1], [1, 0]])
    assert opposite.item_rest == pytest.approx([-1, -1]) and opposite.alpha is None and opposite.deviation == 0


@pytest.mark.parametrize("table", [[[1, 0, 1]], [[1], [0], [1]], [[1, 1], [1, 1]]])
def test_no_alpha_from_one_person_one_question_or_no_variance(table):
    found = statistics.alpha(table)
    assert found.value is None and found.low is None and found.high is None


@pytest.mark.parametrize("table", [[], [1, 0], [[]], [[1, float("nan")], [1, 0]], [[float("inf"), 1], [0, 1]]])
def test_what_is_no_whole_table_is_refused(table):
    with pytest.raises(Refusal):
        statistics.item_statistics(table)


def test_two_questions_nobody_had_together_are_refused():
    gap = float("nan")
    with pytest.raises(Refusal, match="had both"):
        statistics.alpha([[1, gap], [0, gap], [gap, 1], [gap, 0]], "pairwise")
    assert statistics.alpha([[1, gap], [0, gap]], "listwise").value is None


@pytest.mark.parametrize("mean, variance, reliability", [(0, 1, 0.5), (10, 1, 0.5), (5, 0, 0.5), (5, 1, 1), (5, 1, -0.1)])
def test_no_consistency_where_nothing_varies(mean, variance, reliability):
    with pytest.raises(Refusal):
        statistics.effective_length(mean, variance, reliability, 10)


def test_a_cut_that_all_or_none_reach():
    marks = [40, 55, 60, 71, 80, 90]
    sure = statistics.consistency(marks, 0, 100, 0.8)
    assert (sure.share, sure.by_chance, sure.kappa) == (1, 1, None)
    assert statistics.consistency(marks, 99.9, 100, 0.8).share > 0.95


def test_intervals_hold_what_they_say():
    # independent path: the ends of Wilson's interval solve (x/n - p)^2 = z^2 p(1-p)/n
    for right, of in ((0, 30), (3, 17), (29, 30), (30, 30)):
        for end in statistics.share_interval(right, of):
            if 0 < end < 1:
                assert (right / of - end)**2 == pytest.approx(1.959963984540054**2 * end * (1 - end) / of, rel=1e-9)
    assert statistics.share_interval(0, 30)[0] == pytest.approx(0, abs=1e-12)
    low, high = statistics.correlation_interval(-0.3, 60)
    assert low < -0.3 < high < 0 and statistics.correlation_interval(0.9, 3) == (-1, 1)
