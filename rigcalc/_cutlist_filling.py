"""Reels filled one after another to the last tenth, by subset sums: a good first cut list where the pieces are many.

Nothing is proven here. What comes out is one more list for the solver to beat.
"""

from __future__ import annotations

import math
import time
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rigcalc._cutlist_solver import Cuts, Problem

__all__ = []


def filled(problem: Problem, fewest: int, ends: float) -> list[Cuts]:
    """Cut lists from a few orders of the stock and of the pieces: offcuts, then `fewest` reels, then the others.

    It begins no other order once the clock (`time.perf_counter`) is at `ends`.
    """
    offcuts = [which for which, is_reel in enumerate(problem.reels) if not is_reel]
    reels = sorted((which for which, is_reel in enumerate(problem.reels) if is_reel), key=lambda which: -problem.stock[which])
    needed, others = reels[:fewest], reels[fewest:]
    kinds = list(range(len(problem.lengths)))
    found = []
    for stock in (offcuts + needed + others, offcuts + needed[::-1] + others, needed + others + offcuts):
        for order in (kinds, kinds[::-1], kinds[::2] + kinds[1::2]):
            cuts = _fill_in_turn(problem, stock, order) if time.perf_counter() < ends else None
            if cuts is not None:
                found.append(cuts)
    return found


def _fill_in_turn(problem: Problem, stock: list[int], order: list[int]) -> Cuts | None:
    """Each stock as full as can be; None when a piece is left over. `order` says which lengths are used up first."""
    left = list(problem.counts)
    sizes = [length + problem.kerf for length in problem.lengths]
    step = math.gcd(*sizes)
    rows = {}
    for which in stock:
        rows[which] = _fullest([size // step for size in sizes], left, (problem.stock[which] + problem.kerf) // step, order)
        left = [count - taken for count, taken in zip(left, rows[which])]
    return None if any(left) else tuple(rows[which] for which in range(len(problem.stock)))


def _fullest(sizes: list[int], left: list[int], room: int, order: list[int]) -> tuple[int, ...]:
    """How many of each to take so that the room is filled best. Bit n of a number says that the sum n can be reached."""
    room = min(room, sum(size * count for size, count in zip(sizes, left)))
    within = (1 << (room + 1)) - 1
    bundles = [(i, many) for i in reversed(order) for many in _doubling(min(left[i], room // sizes[i]))]
    reached = [1]
    for i, many in bundles:
        reached.append((reached[-1] | reached[-1] << (many * sizes[i])) & within)
    here, taken = reached[-1].bit_length() - 1, [0] * len(sizes)
    for (i, many), before in zip(reversed(bundles), reversed(reached[:-1])):
        lower = here - many * sizes[i]
        if lower >= 0 and before >> lower & 1:
            here, taken[i] = lower, taken[i] + many
    return tuple(taken)


def _doubling(count: int) -> list[int]:
    """Bundles of 1, 2, 4 ... and a rest, whose sums are every number up to the count."""
    bundles, many = [], 1
    while count > 0:
        bundles.append(min(many, count))
        count -= bundles[-1]
        many *= 2
    return bundles
