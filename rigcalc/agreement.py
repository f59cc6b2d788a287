"""Agreement of two assessors, or of several, on the same pieces: plain agreement beside kappa, never kappa alone."""

from __future__ import annotations

import math
from collections.abc import Sequence
from statistics import NormalDist

from rigcalc._given import among, listed, said
from rigcalc._records import record
from rigcalc.errors import Refusal
from rigcalc.units import exact

__all__ = ["WEIGHTS", "Agreement", "Plain", "SeveralAssessors", "agreement", "count_pairs", "plain_agreement", "several_assessors"]

WEIGHTS = ("none", "linear", "quadratic")
LEAST_PIECES = 10
FEW_PIECES = 30
HIGH_SHARE = 0.8


@record
class Plain:
    """How many pieces two assessors called alike, the share, and its exact interval."""

    agreed: int
    pieces: int
    share: float
    low: float
    high: float
    confidence: float


@record
class Agreement:
    """Plain agreement beside kappa.

    `chance`: agreement expected by chance, weighted as kappa is. `low` and `high`: kappa's interval, None where its
    formula fails. `commonest_share`: the share of the word used most, mean of both assessors. `bias`: for two words, how much more
    often one assessor uses the first word, as a share of the pieces; else None.
    """

    plain: Plain
    chance: float
    kappa: float
    standard_error: float
    low: float | None
    high: float | None
    commonest_share: float
    bias: float | None
    weights: str
    warnings: tuple[str, ...]


@record
class SeveralAssessors:
    """Agreement of several assessors on the same pieces: mean share of agreeing pairs, by chance, and Fleiss' kappa."""

    pieces: int
    assessors: int
    plain: float
    chance: float
    kappa: float
    commonest_share: float
    warnings: tuple[str, ...]


def count_pairs(pairs: Sequence[tuple[str, str]], words: Sequence[str]) -> tuple[tuple[int, ...], ...]:
    """The square table of counts from calls in pairs: rows the first assessor, columns the second.

    Parameters: one pair of words for each piece; all words that may be used, in order.
    Errors: `Refusal` for a word that is not among them, or fewer than two words.
    Source: counting.

    >>> count_pairs([("pass", "pass"), ("pass", "reject")], ("pass", "reject"))
    ((1, 1), (0, 0))
    """
    names = list(listed(words, "the words", str))
    if len(names) < 2 or len(set(names)) != len(names):
        raise Refusal(f"the words {', '.join(map(str, names)) or 'none'}", "two or more different words", "list each word once")
    table = [[0] * len(names) for _ in names]
    for pair in (listed(pair, "a pair of calls") for pair in listed(pairs, "the calls")):
        if len(pair) != 2 or not all(among(word, names) for word in pair):
            raise Refusal(f"the calls {said(pair)}", f"two words of {', '.join(names)}", "leave out a piece that one assessor did not call")
        table[names.index(pair[0])][names.index(pair[1])] += 1
    return tuple(map(tuple, table))


def plain_agreement(table: Sequence[Sequence[int]], confidence: float = 0.95) -> Plain:
    """How many pieces were called alike, with the exact two-sided interval of the share.

    Parameters: square table of counts, shape (words, words), row the first assessor, column the second; confidence, above
    0.5 and below 1. Errors: `Refusal` for a table that is not square, or holds other than whole counts, or no piece.
    Source: exact binomial interval (Clopper and Pearson, 1934; title from memory, the interval is mathematics). Uses SciPy.

    >>> found = plain_agreement([[4, 1], [0, 7]])
    >>> found.agreed, found.pieces, round(found.low, 3), round(found.high, 3)
    (11, 12, 0.615, 0.998)
    """
    counts, level = _counts(table), _confidence(confidence)
    pieces = sum(map(sum, counts))
    agreed = sum(counts[i][i] for i in range(len(counts)))
    from scipy.stats import beta

    tail = (1 - level) / 2
    low = 0.0 if agreed == 0 else float(beta.ppf(tail, agreed, pieces - agreed + 1))
    high = 1.0 if agreed == pieces else float(beta.ppf(1 - tail, agreed + 1, pieces - agreed))
    return Plain(agreed, pieces, agreed / pieces, low, high, level)


def agreement(table: Sequence[Sequence[int]], confidence: float = 0.95, weights: str = "none") -> Agreement:
    """Cohen's kappa with its interval, beside plain agreement.

    Parameters: square table of counts, shape (words, words), row the first assessor, column the second; confidence, above
    0.5 and below 1; weights "none" (words without an order), "linear" or "quadratic" (words in order, a near miss counts in part).
    The interval is the large-sample one and is cut at -1 and 1; with few pieces it is rough, and a warning says so.
    Errors: `Refusal` for fewer than 10 pieces (judgement), and where both assessors used one word only: kappa is then 0/0.
    Source: Cohen 1960; standard error of Fleiss, Cohen and Everitt 1969 (titles from memory; checked on printed examples).

    >>> found = agreement([[58, 4], [12, 31]])
    >>> round(found.plain.share, 3), round(found.kappa, 4), round(found.low, 3), round(found.high, 3)
    (0.848, 0.6757, 0.532, 0.82)
    """
    plain, counts = plain_agreement(table, confidence), _counts(table)
    if plain.pieces < LEAST_PIECES:
        raise Refusal(f"{plain.pieces} pieces, {plain.agreed} called alike,", f"at least {LEAST_PIECES} pieces for kappa",
                      "show plain agreement alone, or judge more pieces")
    shares = [[count / plain.pieces for count in row] for row in counts]
    rows, columns = [sum(row) for row in shares], [sum(column) for column in zip(*shares)]
    if max(a + b for a, b in zip(rows, columns)) >= 2 - 1e-12:
        raise Refusal(f"calls of one word only ({plain.agreed} of {plain.pieces} alike)", "pieces of which some are called otherwise",
                      "take a set with good and bad pieces: kappa would be 0/0")
    near = _nearness(len(counts), weights)
    chance, kappa, error = _kappa(shares, rows, columns, near, plain.pieces)
    low, high = _interval(kappa, error, plain.confidence)
    commonest = max((a + b) / 2 for a, b in zip(rows, columns))
    bias = abs(rows[0] - columns[0]) if len(counts) == 2 else None
    return Agreement(plain, chance, kappa, error, low, high, commonest, bias, weights, _warnings(plain, commonest, low))


def _kappa(shares: list, rows: list, columns: list, near: list, pieces: int) -> tuple[float, float, float]:
    size = range(len(shares))
    seen = sum(near[i][j] * shares[i][j] for i in size for j in size)
    chance = sum(near[i][j] * rows[i] * columns[j] for i in size for j in size)
    kappa = (seen - chance) / (1 - chance)
    by_row = [sum(near[i][j] * columns[j] for j in size) for i in size]
    by_column = [sum(near[i][j] * rows[i] for i in size) for j in size]
    spread = sum(shares[i][j] * (near[i][j] - (by_row[i] + by_column[j]) * (1 - kappa)) ** 2 for i in size for j in size)
    variance = max(0.0, spread - (kappa - chance * (1 - kappa)) ** 2) / pieces
    return chance, kappa, math.sqrt(variance) / (1 - chance)


def _nearness(words: int, weights: str) -> list[list[float]]:
    """How much of an agreement each pair of words is: 1 on the diagonal."""
    if not among(weights, WEIGHTS):
        raise Refusal(f"the weights {said(weights)}", ", ".join(WEIGHTS), "name one of these")
    if weights == "none":
        return [[float(i == j) for j in range(words)] for i in range(words)]
    power = 1 if weights == "linear" else 2
    return [[1 - (abs(i - j) / (words - 1)) ** power for j in range(words)] for i in range(words)]


def _interval(kappa: float, error: float, confidence: float) -> tuple[float | None, float | None]:
    """With no spread the formula would claim certainty: no interval then."""
    if error < 1e-9:
        return None, None
    reach = NormalDist().inv_cdf((1 + confidence) / 2) * error
    return max(-1.0, kappa - reach), min(1.0, kappa + reach)


def _warnings(plain: Plain, commonest: float, low: float | None) -> tuple[str, ...]:
    found = []
    if commonest >= HIGH_SHARE:
        found.append(f"One word makes up {100 * commonest:.0f} % of the calls: kappa can be low, or below zero, though plain agreement "
                     f"is {100 * plain.share:.0f} %. Read the two together, or take a set with as many bad pieces as good ones.")
    if plain.pieces < FEW_PIECES:
        found.append(f"Only {plain.pieces} pieces: kappa's interval is rough. The exact interval of plain agreement is "
                     f"{100 * plain.low:.0f} to {100 * plain.high:.0f} %.")
    if low is None:
        found.append("Kappa has no interval here: calls without any spread would claim certainty.")
    return tuple(found)


def several_assessors(table: Sequence[Sequence[int]]) -> SeveralAssessors:
    """Fleiss' kappa of several assessors who each called every piece, beside the share of pairs that agree.

    Parameters: shape (pieces, words): how many assessors used each word on that piece; every row the same sum, 2 or more.
    Errors: `Refusal` for rows of different sums, fewer than 10 pieces (judgement), or one word only: kappa is then 0/0.
    Source: Fleiss 1971 (title from memory; checked on two printed examples).

    >>> found = several_assessors([[3, 0]] * 6 + [[0, 3]] * 5 + [[1, 2]])
    >>> found.assessors, round(found.plain, 4), round(found.kappa, 4)
    (3, 0.9444, 0.8885)
    """
    rows = [tuple(_whole(count) for count in listed(row, "a row of counts")) for row in listed(table, "the table of counts")]
    sums = {sum(row) for row in rows}
    if len(sums) != 1 or len({len(row) for row in rows}) != 1 or min(sums) < 2 or len(rows[0]) < 2:
        raise Refusal("a table whose rows do not fit together", "one row for each piece, each with the same number of assessors, 2 or more, and 2 or more words",
                      "leave out a piece that one assessor did not call")
    if len(rows) < LEAST_PIECES:
        raise Refusal(f"{len(rows)} pieces", f"at least {LEAST_PIECES} pieces for kappa", "judge more pieces")
    assessors = sums.pop()
    shares = [sum(column) / (len(rows) * assessors) for column in zip(*rows)]
    if max(shares) >= 1 - 1e-12:
        raise Refusal("calls of one word only", "pieces of which some are called otherwise", "take a set with good and bad pieces: kappa would be 0/0")
    plain = sum(count * (count - 1) for row in rows for count in row) / (len(rows) * assessors * (assessors - 1))
    chance = sum(share ** 2 for share in shares)
    warned = ("One word makes up most of the calls: kappa can be low though the assessors agree. Read the two together.",)
    return SeveralAssessors(len(rows), assessors, plain, chance, (plain - chance) / (1 - chance), max(shares),
                            warned if max(shares) >= HIGH_SHARE else ())


def _counts(table: Sequence[Sequence[int]]) -> list[list[int]]:
    counts = [[_whole(count) for count in listed(row, "a row of counts")] for row in listed(table, "the table of counts")]
    if len(counts) < 2 or any(len(row) != len(counts) for row in counts) or not any(map(sum, counts)):
        raise Refusal("a table that is not square or holds no piece", "a square table of counts, two words or more, with pieces in it",
                      "count the calls with count_pairs")
    return counts


def _whole(count: int) -> int:
    number = exact(count)
    if number < 0 or number.denominator != 1:
        raise Refusal(f"the count {count}", "a whole number from 0", "count again")
    return int(number)


def _confidence(value: float) -> float:
    if not exact(0.5) < exact(value) < 1:
        raise Refusal(f"the confidence {said(value)}", "a share above 0.5 and below 1, such as 0.95", "give it as a share, not in per cent")
    return float(value)
