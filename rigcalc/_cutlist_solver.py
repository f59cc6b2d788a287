"""The cutting problem of one material, in whole tenths of a millimetre, and how it is solved.

First-fit decreasing, and reels filled one after another, give a first answer to beat. Then two mixed-integer programs: the fewest reels, and
among those the least scrap. Every answer is counted again in whole numbers before it is believed.
"""

from __future__ import annotations

import time

from rigcalc._cutlist_filling import filled
from rigcalc._records import record

__all__ = ["Cuts", "Problem", "Solution"]

Cuts = tuple[tuple[int, ...], ...]  # for each stock, how many of each length


@record
class Problem:
    """Lengths longest first with their counts; stock with `reels[s]` false for an offcut; all in tenths of a mm."""

    lengths: tuple[int, ...]
    counts: tuple[int, ...]
    stock: tuple[int, ...]
    reels: tuple[bool, ...]
    kerf: int
    keep: int

    @property
    def used(self) -> int:
        """The length of all pieces together."""
        return sum(length * count for length, count in zip(self.lengths, self.counts))


@record
class Solution:
    """The cuts, or None with what found no place; the proven least of reels and, among so few, of scrap."""

    cuts: Cuts | None
    reels_least: int = 0
    scrap_least: int = 0
    unplaced: tuple[int, ...] = ()
    proven: bool = True
    lacking: int = 0  # how much longer one stock would have to be for what found no place


def remainder(problem: Problem, which: int, row: tuple[int, ...]) -> int:
    """What is left of one stock: a cut for each piece, except a last one that ends where the stock ends."""
    taken = sum((length + problem.kerf) * count for length, count in zip(problem.lengths, row))
    return max(0, problem.stock[which] - taken)


def worth(problem: Problem, cuts: Cuts) -> tuple[int, int]:
    """Reels opened, then scrap: the lower pair is the better cut list."""
    opened = sum(1 for is_reel, row in zip(problem.reels, cuts) if is_reel and any(row))
    left = [remainder(problem, which, row) for which, row in enumerate(cuts) if any(row)]
    return opened, sum(length for length in left if length < problem.keep)


def holds(problem: Problem, cuts: Cuts) -> bool:
    """Every piece cut once and no stock over-full, counted in whole numbers."""
    return fits(problem, cuts) and all(sum(row[i] for row in cuts) == count for i, count in enumerate(problem.counts))


def fits(problem: Problem, cuts: Cuts) -> bool:
    """No piece cut more than once and no stock over-full; some pieces may be left over."""
    if len(cuts) != len(problem.stock) or any(count < 0 for row in cuts for count in row):
        return False
    if any(sum(row[i] for row in cuts) > count for i, count in enumerate(problem.counts)):
        return False
    return all(sum(length * count for length, count in zip(problem.lengths, row)) + (sum(row) - 1) * problem.kerf <= whole
               for row, whole in zip(cuts, problem.stock) if any(row))


# --- first-fit decreasing -------------------------------------------------------------------------------

def first_fit(problem: Problem) -> Cuts | None:
    """The better of two first-fit decreasing lists, offcuts first: reels as they are listed, and longest first."""
    found = [cuts for order in _orders(problem) for cuts, left_over in [_filled_in(problem, order)] if not left_over]
    return min(found, key=lambda cuts: worth(problem, cuts), default=None)


def _orders(problem: Problem) -> tuple[list[int], list[int]]:
    """The stock in the two orders in which it is filled."""
    listed = sorted(range(len(problem.stock)), key=lambda which: problem.reels[which])
    return listed, sorted(listed, key=lambda which: (problem.reels[which], -problem.stock[which]))


def _filled_in(problem: Problem, order: list[int]) -> tuple[Cuts, int]:
    """The stock filled in an order, the longest pieces first, and how many pieces find no place."""
    left, left_over = [length + problem.kerf for length in problem.stock], 0
    cuts = [[0] * len(problem.lengths) for _ in problem.stock]
    for i, length in enumerate(problem.lengths):
        still = problem.counts[i]
        for which in order:
            fits = min(still, left[which] // (length + problem.kerf))
            cuts[which][i] += fits
            left[which] -= fits * (length + problem.kerf)
            still -= fits
        left_over += still
    return tuple(map(tuple, cuts)), left_over


def fewest_reels_bound(problem: Problem) -> int:
    """No fewer reels than this can do: all offcuts and the longest reels, filled to the last tenth."""
    asked = sum((length + problem.kerf) * count for length, count in zip(problem.lengths, problem.counts))
    room = sum(length + problem.kerf for length, is_reel in zip(problem.stock, problem.reels) if not is_reel)
    longest = sorted((length + problem.kerf for length, is_reel in zip(problem.stock, problem.reels) if is_reel), reverse=True)
    for opened, more in enumerate([0, *longest]):
        room += more
        if room >= asked:
            return opened
    return len(longest) + 1


# --- mixed-integer programs -----------------------------------------------------------------------------

def solve(problem: Problem, seconds: float, aim: float) -> Solution:
    """The best cut list found within the seconds, with what is proven; `aim` is the gap at which it stops looking."""
    seconds = 0.85 * seconds  # HiGHS looks at the clock between its steps, not within them
    ends = time.perf_counter() + seconds
    least = fewest_reels_bound(problem)
    if least > sum(problem.reels):
        unplaced, _, lacking = _unplaced(problem, ends)
        return Solution(None, least, unplaced=unplaced, lacking=lacking)
    best = _best(problem, [first_fit(problem), *filled(problem, least, ends - seconds / 2)])
    if best is None or worth(problem, best)[0] > least:
        cuts, bound, impossible = _program(problem, ends - seconds / 2, 0.0, "reels")
        least = max(least, bound)
        best = _best(problem, [best, cuts])
        if best is None:
            unplaced, proven, lacking = _unplaced(problem, ends)
            return Solution(None, least, unplaced=unplaced, proven=impossible or proven, lacking=lacking)
    scrap_least = 0
    if worth(problem, best)[1] > 0:
        cuts, scrap_least, _ = _program(problem, ends, aim, "scrap", worth(problem, best))
        best = _best(problem, [best, cuts])
    return Solution(best, min(least, worth(problem, best)[0]), min(scrap_least, worth(problem, best)[1]))


def _best(problem: Problem, lists: list[Cuts | None]) -> Cuts | None:
    """The best of some lists, the earlier of equals; one that does not hold when counted is no list."""
    found = [cuts for cuts in lists if cuts is not None and holds(problem, cuts)]
    return min(found, key=lambda cuts: worth(problem, cuts), default=None)


def _unplaced(problem: Problem, ends: float) -> tuple[tuple[int, ...], bool, int]:
    """How many of each length find no place at best, whether it is proven that some do not, and how much longer a stock would hold them."""
    def without(cuts: Cuts) -> tuple[int, ...]:
        return tuple(count - sum(row[i] for row in cuts) for i, count in enumerate(problem.counts))

    def cable(cuts: Cuts) -> int:
        return sum((length + problem.kerf) * count for length, count in zip(problem.lengths, without(cuts)))

    solved, bound, _ = _program(problem, max(ends, time.perf_counter() + 1), 0.0, "unplaced")
    tried = [_filled_in(problem, order)[0] for order in _orders(problem)] + [solved] * (solved is not None and fits(problem, solved))
    best = min(tried, key=cable)
    room = max((length + problem.kerf - sum((one + problem.kerf) * count for one, count in zip(problem.lengths, row))
                for length, row in zip(problem.stock, best)), default=0)
    return without(best), bound > 0, max(1, cable(best) - room)


def _program(problem: Problem, ends: float, aim: float, goal: str,
             known: tuple[int, int] | None = None) -> tuple[Cuts | None, int, bool]:
    """One mixed-integer program: its cuts, the proven bound on its goal, and whether it is proven impossible.

    For stock s and length i: x[s, i] pieces; open[s] and kept[s] are 0 or 1; scrap[s] at least what is left of an open
    stock that is not kept. The last variable is 1: it adds the length used to the scrap, so that HiGHS's relative gap
    is the gap in parts of the length used.
    """
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp

    rows = _Rows(problem)
    rows.fill(goal, known)
    cost = np.zeros(rows.width)
    cost[rows.goal(goal)] = 1 if goal != "unplaced" else [length + problem.kerf for length in problem.lengths]
    base = problem.used if goal == "scrap" else 0
    cost[-1] = base
    seconds = ends - time.perf_counter()
    if seconds <= 0:
        return None, 0, False
    answer = milp(cost, constraints=LinearConstraint(rows.matrix(), rows.low, rows.high), bounds=Bounds(*rows.bounds(goal)),
                  integrality=rows.whole(), options={"time_limit": seconds, "mip_rel_gap": aim})
    proven = answer.mip_dual_bound if answer.mip_dual_bound is not None and np.isfinite(answer.mip_dual_bound) else base
    cuts = None if answer.x is None else tuple(tuple(int(round(n)) for n in answer.x[part]) for part in rows.pieces)
    dust = 0.01  # goals are whole numbers: this is what floats may leave on one
    return cuts, max(0, int(np.ceil(proven - base - dust))), answer.status == 2


class _Rows:
    """The constraints, row by row, and where each variable stands."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        kinds, stocks = len(problem.lengths), len(problem.stock)
        self.pieces = [slice(which * kinds, (which + 1) * kinds) for which in range(stocks)]
        self.open, self.kept, self.scrap = (kinds * stocks + part * stocks for part in range(3))
        self.unplaced = kinds * stocks + 3 * stocks
        self.width = self.unplaced + kinds + 1
        self.low: list[float] = []
        self.high: list[float] = []
        self._entries: list[tuple[int, int, float]] = []

    def add(self, entries: list[tuple[int, float]], low: float = float("-inf"), high: float = float("inf")) -> None:
        """One constraint: the sum of variables times numbers, from low to high."""
        self._entries += [(len(self.low), column, number) for column, number in entries]
        self.low.append(low)
        self.high.append(high)

    def fill(self, goal: str, known: tuple[int, int] | None) -> None:
        """Every piece once, no stock over-full, what counts as scrap, and never worse than what is known."""
        problem, kerf = self.problem, self.problem.kerf
        for i, count in enumerate(problem.counts):
            self.add([(part.start + i, 1) for part in self.pieces] + [(self.unplaced + i, 1)], count, count)
        for which, whole in enumerate(problem.stock):
            load = self._load(which)
            self.add([*load, (self.open + which, -(whole + kerf)), (self.kept + which, problem.keep + kerf)], high=0)
            self.add([*load, (self.scrap + which, 1), (self.open + which, -whole), (self.kept + which, whole)], low=0)
            self._after_its_twin(which)
        if known is not None:
            self.add([(self.open + which, 1) for which, is_reel in enumerate(problem.reels) if is_reel], high=known[0])
            self.add([(self.scrap + which, 1) for which in range(len(problem.stock))], high=known[1])

    def _load(self, which: int, sign: int = 1) -> list[tuple[int, float]]:
        return [(self.pieces[which].start + i, sign * (length + self.problem.kerf)) for i, length in enumerate(self.problem.lengths)]

    def _after_its_twin(self, which: int) -> None:
        """Two stocks alike could change places for nothing: the earlier one carries no less."""
        problem = self.problem
        alike = [other for other in range(which)
                 if (problem.stock[other], problem.reels[other]) == (problem.stock[which], problem.reels[which])]
        if alike:
            self.add([*self._load(alike[-1]), *self._load(which, -1)], low=0)

    def goal(self, goal: str) -> list[int]:
        """The variables whose sum is made least."""
        stocks = range(len(self.problem.stock))
        return {"reels": [self.open + which for which in stocks if self.problem.reels[which]],
                "scrap": [self.scrap + which for which in stocks],
                "unplaced": [self.unplaced + i for i in range(len(self.problem.lengths))]}[goal]

    def bounds(self, goal: str):
        """The least and the most of each variable."""
        import numpy as np

        problem, low, high = self.problem, np.zeros(self.width), np.ones(self.width)
        for part, whole in zip(self.pieces, problem.stock):
            high[part] = [min(count, (whole + problem.kerf) // (length + problem.kerf))
                          for length, count in zip(problem.lengths, problem.counts)]
        high[self.scrap:self.unplaced] = [min(whole, problem.keep) for whole in problem.stock]
        high[self.unplaced:-1] = problem.counts if goal == "unplaced" else 0
        low[-1] = 1
        return low, high

    def whole(self):
        """Which variables are whole numbers: all but the scrap and the last."""
        import numpy as np

        kinds = np.ones(self.width)
        kinds[self.scrap:self.unplaced] = kinds[-1] = 0
        return kinds

    def matrix(self):
        """The constraints as a sparse matrix."""
        from scipy.sparse import csr_array

        row, column, number = zip(*self._entries)
        return csr_array((number, (row, column)), shape=(len(self.low), self.width))
