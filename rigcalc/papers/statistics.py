"""Figures about a quiz from a table of marks: difficulty, item-rest correlation, alpha, standard error, consistency.

A table has a row for each person and a column for each question. What cannot be worked out is NaN or None, never 0:
a question that everybody gets right has no correlation. NumPy is loaded when a function is first used.
"""

from __future__ import annotations

from math import ceil, sqrt
from typing import TYPE_CHECKING, NamedTuple

from rigcalc.errors import Refusal

if TYPE_CHECKING:
    import numpy as np

__all__ = ["Alpha", "Consistency", "Items", "alpha", "consistency", "correlation_interval", "effective_length", "item_statistics",
           "share_interval", "standard_error"]

BLOCK = 2048  # rows worked at a time, so that a block stays in the processor's own memory
PARTS = 4000  # evenly likely people that stand for a whole distribution
NO_VARIANCE = 1e-12  # of the total's variance; below this nothing varies


class Items(NamedTuple):
    """What a whole table of marks says: one figure a question in `mean` and `item_rest`, NaN where there is none."""

    mean: np.ndarray
    item_rest: np.ndarray
    alpha: float | None
    people: int
    deviation: float | None  # of the total, divided by one less than the people


class Alpha(NamedTuple):
    """Cronbach's alpha with its interval; for marks of 0 and 1 it is KR-20."""

    value: float | None
    low: float | None
    high: float | None
    people: int
    questions: int


class Consistency(NamedTuple):
    """Of people sitting two such papers, the share decided alike; `by_chance` for people drawn anew, and kappa."""

    share: float
    by_chance: float
    kappa: float | None
    questions: int  # the effective length: questions of one mark that would measure as well


def item_statistics(scores) -> Items:
    """Difficulty (mean mark), corrected item-rest correlation and alpha of a table without gaps.

    The total is summed once; the correlation with the rest follows from the correlation with the total,
    cov(item, rest) = cov(item, total) - var(item). Source: definitions, worked in the tests by another path.

    Example
    -------
    >>> found = item_statistics([[1, 1, 0, 1], [1, 0, 0, 1], [0, 0, 1, 1], [1, 1, 0, 1]])
    >>> found.mean.tolist(), [round(one, 4) for one in found.item_rest.tolist()]
    ([0.75, 0.5, 0.25, 1.0], [-0.3333, nan, -0.8704, nan])
    """
    import numpy as np

    table = _table(scores)
    people, questions = table.shape
    if table.dtype.kind == "f" and not np.isfinite(table.sum()):
        raise Refusal("a table with gaps or with marks that are no numbers", "a mark in every place", "use alpha with missing='pairwise'")
    first = table[0].astype(float)
    sums, squares, cross, total_sum, total_squares = np.zeros(questions), np.zeros(questions), np.zeros(questions), 0.0, 0.0
    for start in range(0, people, BLOCK):  # as differences from the first row: a question without variance gives 0 exactly
        block = table[start:start + BLOCK] - first
        total = block.sum(axis=1)
        sums += block.sum(axis=0)
        squares += np.einsum("ij,ij->j", block, block)
        cross += total @ block
        total_sum += total.sum()
        total_squares += total @ total
    mean = first + sums / people
    nothing = np.full(questions, np.nan)
    if people < 2:
        return Items(mean, nothing, None, people, None)
    own = (squares - sums**2 / people) / (people - 1)
    whole = (total_squares - total_sum**2 / people) / (people - 1)
    with_total = (cross - sums * total_sum / people) / (people - 1)
    return Items(mean, _item_rest(own, whole, with_total), _alpha(questions, own.sum(), whole), people, sqrt(max(whole, 0.0)))


def _table(scores):
    import numpy as np

    table = np.asarray(scores)
    if table.dtype.kind not in "biuf":
        table = np.asarray(scores, float)
    if table.ndim != 2 or 0 in table.shape:
        raise Refusal(f"marks of the shape {table.shape}", "a row for each person and a column for each question", "give such a table")
    return table.view(np.int8) if table.dtype.kind == "b" else table


def _item_rest(own, whole: float, with_total):
    import numpy as np

    rest = whole + own - 2 * with_total
    there = (own > NO_VARIANCE * whole) & (rest > NO_VARIANCE * whole)
    return np.divide(with_total - own, np.sqrt(np.where(there, own * rest, 1.0)), where=there, out=np.full(len(own), np.nan))


def _alpha(questions: int, own: float, whole: float) -> float | None:
    return float(questions / (questions - 1) * (1 - own / whole)) if questions > 1 and whole > 0 else None


def alpha(scores, missing: str = "none", confidence: float = 0.95) -> Alpha:
    """Cronbach's alpha with Feldt's interval.

    Parameters
    ----------
    missing : str
        "none": a gap (NaN) is refused. "listwise": whoever has one is left out. "pairwise": each covariance from the
        people who have both; the interval then is rough, as it counts everybody.

    Variances and covariances are all divided by one less than the people; mixing two divisors would raise the figure.
    Source: Feldt, Woodruff and Salih 1987 (interval, by the F distribution); figures printed with a public data set.

    Example
    -------
    >>> found = alpha([[1, 1, 1], [1, 1, 0], [0, 1, 0], [0, 0, 0]])
    >>> round(found.value, 4), found.people
    (0.75, 4)
    """
    import numpy as np

    table = _table(scores).astype(float)
    if missing == "listwise":
        table = table[np.isfinite(table).all(axis=1)]
    if missing == "pairwise" and not np.isfinite(table).all():
        covariances = _pairwise(table)
        value = _alpha(table.shape[1], np.trace(covariances), covariances.sum())
    elif missing not in ("none", "listwise", "pairwise"):
        raise Refusal(f"missing = {missing!r}", "none, listwise or pairwise", "choose one of these")
    else:
        value = item_statistics(table).alpha if len(table) else None
    low, high = (None, None) if value is None else _feldt(value, len(table), table.shape[1], confidence)
    return Alpha(value, low, high, *table.shape)


def _pairwise(table):
    """The covariance of each two questions, from the people who have both."""
    import numpy as np

    there = np.isfinite(table)
    held, seen = np.where(there, table, 0.0), there.astype(float)
    both = seen.T @ seen
    if both.min() < 2:
        raise Refusal("two questions that fewer than two people had both", "questions that people had together", "leave one out")
    return (held.T @ held - (held.T @ seen) * (seen.T @ held) / both) / (both - 1)


def _feldt(value: float, people: int, questions: int, confidence: float) -> tuple[float, float]:
    from scipy.special import fdtri

    tail, first = (1 - confidence) / 2, people - 1
    second = first * (questions - 1)
    return (float(1 - (1 - value) * fdtri(first, second, 1 - tail)), float(1 - (1 - value) * fdtri(first, second, tail)))


def standard_error(deviation: float, reliability: float) -> float:
    """The standard error of measurement: deviation times the root of one less the reliability.

    >>> round(standard_error(15, 0.92), 2), round(standard_error(12, 0.96), 2)
    (4.24, 2.4)
    """
    if not 0 <= reliability <= 1 or deviation < 0:
        raise Refusal(f"a deviation of {deviation} with a reliability of {reliability}", "a deviation from 0 and a reliability from 0 to 1",
                      "where alpha is below 0 the questions don't measure one thing: there is no standard error")
    return deviation * sqrt(1 - reliability)


def effective_length(mean: float, variance: float, reliability: float, most: float) -> float:
    """How many equally hard questions of one mark would measure as well as marks from 0 to `most`.

    Source: Livingston and Lewis 1995, formula from memory; with KR-21 as the reliability it must give the true number
    of questions back, which the tests check.
    """
    if not (0 < mean < most and variance > 0 and 0 <= reliability < 1):
        raise Refusal(f"a mean of {mean} of {most} with a reliability of {reliability}", "marks that differ, and a reliability from 0, below 1",
                      "with fewer differences nothing can be said about consistency")
    return (mean * (most - mean) - reliability * variance) / (variance * (1 - reliability))


def consistency(scores, cut: float, most: float, reliability: float) -> Consistency:
    """How many would be decided alike by two such papers, worked out from one sitting.

    People's own shares are taken as beta distributed, with the mean of the marks and their variance times the
    reliability; each paper is a binomial draw of the effective length. Sources: Huynh 1976 (beta-binomial),
    Livingston and Lewis 1995 (length), both from memory; no printed example was found: the tests have sums by hand
    and two simulated sittings.

    Example
    -------
    >>> found = consistency([0, 1, 1, 2], cut=1, most=2, reliability=0.5)  # by hand: 11/15, 5/9, 2/5
    >>> round(found.share, 4), round(found.by_chance, 4), round(found.kappa, 3), found.questions
    (0.7333, 0.5556, 0.4, 2)
    """
    import numpy as np
    from scipy.special import bdtrc

    marks = np.asarray(scores, float) / most
    mean, variance = float(marks.mean()), float(marks.var(ddof=1))
    questions = max(1, round(effective_length(mean, variance, reliability, 1)))
    own = _own_shares(mean, reliability * variance)
    needed = ceil(questions * cut / most - 1e-9)
    passing = np.ones_like(own) if needed < 1 else bdtrc(needed - 1, questions, own) if needed <= questions else np.zeros_like(own)
    share, passed = float((passing**2 + (1 - passing)**2).mean()), float(passing.mean())
    chance = passed**2 + (1 - passed)**2
    return Consistency(share, chance, (share - chance) / (1 - chance) if chance < 1 - NO_VARIANCE else None, questions)


def _own_shares(mean: float, variance: float):
    """Evenly likely values of the beta distribution with this mean and variance."""
    import numpy as np
    from scipy.special import betaincinv

    if variance <= NO_VARIANCE:
        return np.array([mean])
    size = mean * (1 - mean) / variance - 1
    return betaincinv(mean * size, (1 - mean) * size, (np.arange(PARTS) + 0.5) / PARTS)


def share_interval(right: float, of: int) -> tuple[float, float]:
    """The 95 % interval of a share. Source: Wilson 1927 (from memory; read in many places).

    >>> [round(end, 4) for end in share_interval(30, 30)]
    [0.8865, 1.0]
    """
    z = 1.959963984540054
    share, spread = right / of, z * z / of
    half = z * sqrt(share * (1 - share) / of + spread / (4 * of))
    return (share + spread / 2 - half) / (1 + spread), min(1.0, (share + spread / 2 + half) / (1 + spread))


def correlation_interval(correlation: float, people: int) -> tuple[float, float]:
    """The rough 95 % interval of a correlation, by Fisher's z; rough as marks are not normally spread.

    >>> [round(end, 3) for end in correlation_interval(0.5, 28)]
    [0.156, 0.736]
    """
    from math import atanh, tanh

    if people < 4 or not -1 < correlation < 1:
        return (-1.0, 1.0) if people < 4 else (correlation, correlation)
    half = 1.959963984540054 / sqrt(people - 3)
    return tanh(atanh(correlation) - half), tanh(atanh(correlation) + half)
