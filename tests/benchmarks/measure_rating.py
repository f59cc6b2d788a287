"""Rating a million lines from arrays, against the bare NumPy expression, the scalar call and the plain Python expression.

    python tests/benchmarks/measure_rating.py

All four do the same: look up the strength, take the lower of it and the certificate, strength x efficiency / factor, the
least of it and two fittings, round down. The bare expressions check nothing, name no governing link and trust floating
point; they are written the quickest way known here (columns by themselves: along the rows numpy takes four times as long).
Ratios in one run, least of several turns. Limits: arrays at most 5 times the bare expression and at least 50 times faster
than the scalar call in a loop; the scalar call at most 15 times the plain expression.
"""

from __future__ import annotations

import math
import sys
import time

import numpy as np

from rigcalc.cable import breaking_force, sizes
from rigcalc.errors import Refusal
from rigcalc.rating_arrays import rate, rate_many
from rigcalc.sleeve import sleeve_sizes
from rigcalc.units import LBF_N

MANY, FEW, TURNS = 1_000_000, 20_000, 7
ARRAYS_MOST, FASTER_LEAST, SCALAR_MOST = 5, 50, 15
CABLE, NAMED, POUND_N = ("7x19", "galvanised"), ("Ines Varrow", "nobody"), float(LBF_N)


def strength(size: str) -> float:
    """The table's breaking force in N, NaN where it has none."""
    try:
        return breaking_force(size, *CABLE).force_n
    except Refusal:
        return math.nan


def least_seconds(*works) -> list[float]:
    """The least time of each, taken in turn."""
    found = [math.inf] * len(works)
    for _ in range(TURNS):
        for place, work in enumerate(works):
            began = time.perf_counter()
            work()
            found[place] = min(found[place], time.perf_counter() - began)
    return found


def main() -> int:
    """Print one table; 0 when every ratio keeps within its limit."""
    rng = np.random.default_rng(20260112)
    table = np.array([strength(size) for size in sizes()])
    index = rng.choice(np.flatnonzero([size in sleeve_sizes() for size in sizes()]), MANY)
    share, factor = rng.uniform(0.8, 0.9, MANY), rng.uniform(3.0, 10.0, MANY)
    certificate = np.where(rng.random(MANY) < 0.5, np.nan, rng.uniform(5e3, 7e4, MANY))
    fittings = rng.uniform(500.0, 9000.0, (MANY, 2))

    def arrays():
        return rate_many(index, *CABLE, share, factor, *NAMED, certificate, fittings)

    def bare():
        cable = np.fmin(table[index], certificate) * share / factor
        return np.floor(np.minimum(np.minimum(cable, fittings[:, 0]), fittings[:, 1]) / POUND_N)

    def along_rows():
        return np.floor(np.minimum(np.fmin(table[index], certificate) * share / factor, fittings.min(axis=1)) / POUND_N)

    known = {(size, *CABLE): float(force) for size, force in zip(sizes(), table)}
    rows = [(sizes()[place], *CABLE, s, f, None if math.isnan(c) else c, both) for place, s, f, c, both in
            zip(index[:FEW].tolist(), share[:FEW].tolist(), factor[:FEW].tolist(), certificate[:FEW].tolist(), fittings[:FEW].tolist())]

    def scalar():
        return [rate(size, built, metal, s, f, *NAMED, c, both) for size, built, metal, s, f, c, both in rows]

    def plain():
        return [math.floor(min((known[size, built, metal] if c is None else min(known[size, built, metal], c)) * s / f, *both) / POUND_N)
                for size, built, metal, s, f, c, both in rows]

    assert np.array_equal(arrays().stated, bare())
    assert [found.stated for found in scalar()] == plain() == arrays().stated[:FEW].tolist()
    return report(least_seconds(arrays, bare, along_rows, scalar, plain))


def report(seconds: list[float]) -> int:
    """The table, in nanoseconds a line, and the ratios."""
    each = [time * 1e9 / count for time, count in zip(seconds, (MANY, MANY, MANY, FEW, FEW))]
    for name, time in zip(("rate_many, a million lines", "bare NumPy expression, by columns", "bare NumPy expression, along rows",
                           "rate, one line at a time", "plain Python expression"), each):
        print(f"  {name:36} {time:8.1f} ns a line")
    arrays, bare, _, scalar, plain = each
    print(f"arrays / bare NumPy expression: {arrays / bare:.2f} (at most {ARRAYS_MOST})")
    print(f"scalar / arrays: {scalar / arrays:.0f} (at least {FASTER_LEAST})")
    print(f"scalar / plain expression: {scalar / plain:.1f} (at most {SCALAR_MOST})")
    return 0 if arrays <= ARRAYS_MOST * bare and scalar >= FASTER_LEAST * arrays and scalar <= SCALAR_MOST * plain else 1


if __name__ == "__main__":
    sys.exit(main())
