"""Where a load comes to rest on legs of given lengths: the lowest point that every leg lets it reach."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import combinations

from rigcalc._given import said
from rigcalc._statics import Vector, point, positive
from rigcalc.errors import Refusal

__all__ = ["hanging_point"]


def hanging_point(anchors_mm: Sequence[Vector], lengths_mm: Sequence[float]) -> Vector:
    """Where a load hangs at rest on two to four legs of given lengths, (x, y, z) in mm.

    `anchors_mm`: two to four points (x, y, z) in mm, z upwards. `lengths_mm`: each leg's length in mm, in the same order.
    A leg that is longer than its distance to that point is slack. Errors: `Refusal` for legs too short to meet.
    Source: geometry: the lowest point of the balls round the anchors, on one, two or three of them.

    >>> hanging_point([(0, 0, 0), (1600, 0, 0)], [1000, 1000])
    (800.0, 0.0, -600.0)
    """
    if isinstance(anchors_mm, str) or not isinstance(anchors_mm, Sequence) or not 2 <= len(anchors_mm) <= 4:
        raise Refusal(f"{said(anchors_mm)} for the anchors", "two, three or four points", "give each anchor as x, y, z in mm")
    if isinstance(lengths_mm, str) or not isinstance(lengths_mm, Sequence) or len(lengths_mm) != len(anchors_mm):
        raise Refusal(f"{said(lengths_mm)} for the legs", f"{len(anchors_mm)} lengths in mm", "give one length for each anchor")
    anchors = [point(anchor, 3, "an anchor") for anchor in anchors_mm]
    lengths = [positive(length, "a leg's length in mm") for length in lengths_mm]
    reached = [there for there in _candidates(anchors, lengths)
               if all(math.dist(there, anchor) <= length * (1 + 1e-9) for anchor, length in zip(anchors, lengths))]
    if not reached:
        raise Refusal("legs too short to meet", "legs that reach one point", "measure the legs or the anchors again")
    return min(reached, key=lambda there: there[2])


def _candidates(anchors: list[Vector], lengths: list[float]) -> Iterator[Vector]:
    for (x, y, z), length in zip(anchors, lengths):
        yield (x, y, z - length)
    together = list(zip(anchors, lengths))
    for two in combinations(together, 2):
        yield from _lowest_of_circle(*two)
    for three in combinations(together, 3):
        yield from _meeting(*three)


def _minus(one: Vector, other: Vector) -> Vector:
    return tuple(a - b for a, b in zip(one, other))


def _along(start: Vector, *steps: tuple[float, Vector]) -> Vector:
    return tuple(part + math.fsum(step * way[i] for step, way in steps) for i, part in enumerate(start))


def _dot(one: Vector, other: Vector) -> float:
    return math.fsum(a * b for a, b in zip(one, other))


def _scaled(way: Vector, factor: float) -> Vector:
    return tuple(part * factor for part in way)


def _lowest_of_circle(one: tuple[Vector, float], other: tuple[Vector, float]) -> Iterator[Vector]:
    """The lowest point of the circle on which two legs, both straight, can hold the load."""
    (p, a), (q, b) = one, other
    apart = math.dist(p, q)
    if not apart:
        return
    line = _scaled(_minus(q, p), 1 / apart)
    along = (a * a - b * b + apart * apart) / (2 * apart)
    down = _along((0.0, 0.0, -1.0), (line[2], line))
    size = math.hypot(*down)
    if a * a >= along * along and size > 1e-9:
        yield _along(p, (along, line), (math.sqrt(a * a - along * along) / size, down))


def _meeting(one: tuple[Vector, float], other: tuple[Vector, float], third: tuple[Vector, float]) -> Iterator[Vector]:
    """The two points that three straight legs can reach."""
    (p, a), (q, b), (r, c) = one, other, third
    apart = math.dist(p, q)
    if not apart:
        return
    x = _scaled(_minus(q, p), 1 / apart)
    i = _dot(x, _minus(r, p))
    sideways = _along(_minus(r, p), (-i, x))
    j = math.hypot(*sideways)
    if j <= 1e-9 * max(a, b, c):
        return
    y = _scaled(sideways, 1 / j)
    u = (a * a - b * b + apart * apart) / (2 * apart)
    v = (a * a - c * c + i * i + j * j - 2 * i * u) / (2 * j)
    square = a * a - u * u - v * v
    if square >= 0:
        z = (x[1] * y[2] - x[2] * y[1], x[2] * y[0] - x[0] * y[2], x[0] * y[1] - x[1] * y[0])
        for side in (math.sqrt(square), -math.sqrt(square)):
            yield _along(p, (u, x), (v, y), (side, z))
