"""Agreement: plain beside kappa, warnings, refusals."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
import scipy

from rigcalc.agreement import WEIGHTS, agreement, count_pairs, plain_agreement, several_assessors
from rigcalc.errors import Refusal

WORDS = ("pass", "reject")


def test_pairs_are_counted():
    pairs = [("pass", "pass")] * 4 + [("pass", "reject")] + [("reject", "reject")] * 7
    assert count_pairs(pairs, WORDS) == ((4, 1), (0, 7))
    for wrong in ([("pass", "good")], [("pass",)], [("pass", None)]):
        with pytest.raises(Refusal):
            count_pairs(wrong, WORDS)
    for words in ((), ("pass",), ("pass", "pass")):
        with pytest.raises(Refusal):
            count_pairs(pairs, words)


@pytest.mark.parametrize("table", [[[4, 1], [0, 7]], [[6, 0], [0, 6]], [[0, 6], [6, 0]], [[50, 3, 1], [2, 30, 4], [0, 1, 9]]])
def test_plain_agreement_has_its_exact_interval(table):
    found = plain_agreement(table)
    exact = scipy.stats.binomtest(found.agreed, found.pieces).proportion_ci(0.95, "exact")
    assert (found.low, found.high) == pytest.approx((exact.low, exact.high), abs=1e-9)


def test_all_alike_is_no_certainty():
    # by hand: all of 12 alike, lower bound 0.025 to the power 1/12
    found = agreement([[4, 0], [0, 8]])
    assert (found.kappa, found.low, found.high) == (1, None, None)
    assert found.plain.low == pytest.approx(0.025 ** (1 / 12))
    assert any("no interval" in words for words in found.warnings)


def test_few_pieces_are_warned_of_and_fewer_refused():
    assert any("Only 10 pieces" in words for words in agreement([[4, 1], [1, 4]]).warnings)
    assert any("Only 29 pieces" in words for words in agreement([[14, 1], [1, 13]]).warnings)
    assert agreement([[14, 1], [1, 14]]).warnings == ()
    with pytest.raises(Refusal, match="9 pieces, 7 called alike, was given; accepted: at least 10"):
        agreement([[4, 1], [1, 3]])


def test_one_word_only_is_refused_with_plain_agreement_said():
    with pytest.raises(Refusal, match="12 of 12 alike.*kappa would be 0/0"):
        agreement([[12, 0], [0, 0]])
    # one assessor with one word: kappa is 0 and not refused
    assert agreement([[6, 6], [0, 0]]).kappa == pytest.approx(0, abs=1e-12)


def test_prevalence_is_warned_of_from_four_fifths():
    assert any("One word makes up 80 %" in words for words in agreement([[30, 2], [2, 6]]).warnings)
    assert agreement([[29, 2], [2, 7]]).warnings == ()


def test_bias_is_told_for_two_words():
    # by hand: first assessor 35 of 40 pass, second 25 of 40
    assert agreement([[25, 10], [0, 5]]).bias == pytest.approx(0.25)
    assert agreement([[9, 4, 1], [0, 8, 0], [0, 1, 5]]).bias is None


@pytest.mark.parametrize("table", [[], [[1]], [[1, 2]], [[1, 2], [3]], [[0, 0], [0, 0]], "table", [["1", 2], [3, 4]], [[-1, 2], [3, 4]], [[1.5, 2], [3, 4]],
                                   [[math.nan, 2], [3, 4]], [[True, 2], [3, 4]], None, [1, 2]])
def test_tables_that_cannot_be_read_are_refused(table):
    for function in (plain_agreement, agreement):
        with pytest.raises(Refusal):
            function(table)


def test_confidence_and_weights_are_named():
    for wrong in (95, 0.5, 1, 0, math.nan, "0.95"):
        with pytest.raises(Refusal):
            agreement([[31, 12], [4, 58]], wrong)
    for wrong in ("square", "", None):
        with pytest.raises(Refusal, match=", ".join(WEIGHTS)):
            agreement([[31, 12], [4, 58]], weights=wrong)
    narrow, wide = agreement([[31, 12], [4, 58]], 0.80), agreement([[31, 12], [4, 58]], 0.99)
    assert wide.low < narrow.low < narrow.kappa < narrow.high < wide.high


def test_an_interval_never_leaves_minus_one_to_one():
    found = agreement([[9, 0], [1, 9]])
    assert found.high == 1 and found.low < found.kappa


tables = st.lists(st.lists(st.integers(0, 30), min_size=3, max_size=3), min_size=3, max_size=3).filter(
    lambda rows: sum(map(sum, rows)) >= 10 and sum(sum(row) > 0 for row in rows) > 1)


@settings(max_examples=60, deadline=None)
@given(tables, st.sampled_from(WEIGHTS))
def test_the_assessors_may_change_places(table, weights):
    here, there = agreement(table, weights=weights), agreement(list(zip(*table)), weights=weights)
    assert here.kappa == pytest.approx(there.kappa, abs=1e-12)
    assert here.standard_error == pytest.approx(there.standard_error, abs=1e-7)
    assert here.kappa <= 1 + 1e-12


def test_several_assessors():
    full = several_assessors([[3, 0]] * 6 + [[0, 3]] * 6)
    assert (full.plain, full.kappa, full.warnings) == (1, 1, ())
    assert several_assessors([[3, 0]] * 11 + [[2, 1]]).warnings
    with pytest.raises(Refusal, match="0/0"):
        several_assessors([[3, 0]] * 12)
    with pytest.raises(Refusal, match="at least 10"):
        several_assessors([[3, 0]] * 5 + [[0, 3]] * 4)
    assert several_assessors([[3, 0]] * 5 + [[0, 3]] * 5).pieces == 10
    for wrong in ([[3, 0]] * 9 + [[2, 0]], [[1, 0]] * 10, [[3]] * 10, [], [[3, 0, 0]] + [[3, 0]] * 9, [[1.5, 1.5]] * 10):
        with pytest.raises(Refusal):
            several_assessors(wrong)
