"""Braces and stays: cables that hold something in its plane. Plane statics; no least angle, because nothing hangs from them.

A cable only pulls. Where it would have to push, the answer is a refusal in words. Points are (x, y) in mm, y upwards.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import combinations

from rigcalc._given import said
from rigcalc._records import record
from rigcalc._statics import Vector, finite, governing, named, point, positive
from rigcalc.errors import Refusal

__all__ = ["Brace", "MastStays", "Stay", "brace", "gate_brace", "mast_stays"]


@record
class Brace:
    """A cable that keeps something from turning on its hinge: its tension in N, its angle in rad from the horizontal (between
    0 and a right angle), its lever arm and length in mm, and what the hinge gives to the thing, in N to the right and upwards."""

    tension_n: float
    angle_rad: float
    lever_mm: float
    length_mm: float
    hinge_right_n: float
    hinge_up_n: float


@record
class Stay:
    """One stay of a mast: tension in N, angle in rad from the horizontal, length in mm."""

    name: str
    tension_n: float
    angle_rad: float
    length_mm: float

    @property
    def slack(self) -> bool:
        """Does it carry nothing?"""
        return self.tension_n == 0


@record
class MastStays:
    """The stays of a mast: who governs, who goes slack, how hard the mast is pressed down by them, in N, and a note."""

    stays: tuple[Stay, ...]
    governs: tuple[str, ...]
    slack: tuple[str, ...]
    pressed_n: float
    note: str


def brace(hinge_mm: Vector, from_mm: Vector, to_mm: Vector, load_n: float, load_at_mm: Vector,
          load_towards: Vector = (0.0, -1.0)) -> Brace:
    """The tension in a cable that holds something on a hinge against one force, all in one plane.

    `hinge_mm`: the hinge. `from_mm`: where the cable holds the thing. `to_mm`: where it is anchored. `load_at_mm`: where the
    force acts. All are (x, y) in mm, y upwards. `load_n`: the force in N. `load_towards`: its direction (x, y), down unless given.
    Range: any angle of the cable. Errors: `Refusal` where the cable would have to push, passes through the hinge, or has no length.
    Source: statics: moments about the hinge; then forces.

    >>> gate = brace((0, 0), (12, 0), (0, 4), 180, (6, 2))
    >>> round(gate.tension_n, 1), round(math.degrees(gate.angle_rad), 1)
    (284.6, 18.4)
    """
    hinge, start, end, at = (point(value, 2, what) for value, what in (
        (hinge_mm, "the hinge"), (from_mm, "where the cable holds"), (to_mm, "the anchor"), (load_at_mm, "where the force acts")))
    load, way = positive(load_n, "the force in N"), _direction(point(load_towards, 2, "the force's direction"))
    length = math.dist(start, end)
    if not length:
        raise Refusal("a cable from a point to itself", "two points that lie apart", "measure them again")
    along = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
    turning = load * _cross(at, hinge, way)
    lever = _cross(start, hinge, along)
    if abs(lever) <= 1e-9 * max(length, math.dist(start, hinge)):
        raise Refusal("a cable that runs through the hinge", "one that passes the hinge at a distance", "it holds nothing: move its anchor")
    tension = -turning / lever
    if tension <= 0:
        _would_push(turning)
    return Brace(tension, math.atan2(abs(along[1]), abs(along[0])), abs(lever), length,
                 -load * way[0] - tension * along[0], -load * way[1] - tension * along[1])


def _would_push(turning: float) -> None:
    if turning == 0:
        raise Refusal("a force that passes through the hinge", "a force that turns the thing on its hinge", "no cable is needed against it")
    raise Refusal("a brace that would have to push", "a cable, which can only pull", "run the cable along the other diagonal, or set a strut")


def _direction(way: Vector) -> Vector:
    size = math.hypot(*way)
    if size < 1e-9:
        raise Refusal("a force without a direction", "a direction such as (0, -1) for down", "say which way it pulls")
    return way[0] / size, way[1] / size


def _cross(at: Vector, about: Vector, way: Vector) -> float:
    """How a force of one in that direction at that place turns round the other: against the clock is positive."""
    return (at[0] - about[0]) * way[1] - (at[1] - about[1]) * way[0]


def gate_brace(width_mm: float, height_mm: float, load_n: float) -> Brace:
    """The cable that keeps a gate from sagging: from its free lower corner up to the post, the gate's weight in its middle.

    `width_mm` and `height_mm`: the gate's, in mm. `load_n`: its weight in N. Nobody swings on it: that is another question.
    Range: any shape; no least angle. Errors: `Refusal` for numbers that are not above zero.
    Source: statics: moments about the lower hinge: T = W / (2 sin a).

    >>> round(gate_brace(12 * 304.8, 4 * 304.8, 180).tension_n, 1)
    284.6
    """
    width, height = positive(width_mm, "the width in mm"), positive(height_mm, "the height in mm")
    return brace((0.0, 0.0), (width, 0.0), (0.0, height), load_n, (width / 2, height / 2))


def mast_stays(force_n: float, towards_rad: float, force_height_mm: float, stay_height_mm: float, anchors_mm: Sequence[Vector],
               names: Sequence[str] | None = None) -> MastStays:
    """The stays of a mast on a hinged foot against one level force: those on the side it comes from carry, the others go slack.

    `force_n`: the force in N. `towards_rad`: the way it pushes, in rad in plan, from the x axis towards the y axis.
    `force_height_mm`, `stay_height_mm`: heights above the foot, in mm, where it acts and where the stays hold.
    `anchors_mm`: two to four anchors (x, y) in mm in plan from the foot, level with it. `names`: one for each, else A, B, C.
    Only the nearest stay on either side is counted on. Tightness before the force is left out and has to be added.
    Range: static. Errors: `Refusal` where no stay can pull that way, and for two stays in one direction.
    Source: statics: moments about the foot; then the level force is shared between the two stays on either side of it.

    >>> around = [(1000, 0), (-500, 866.0254), (-500, -866.0254)]
    >>> mast = mast_stays(100, math.pi, 3000, 3000, around)
    >>> round(mast.stays[0].tension_n, 1), mast.slack
    (316.2, ('B', 'C'))
    """
    force, way = positive(force_n, "the force in N"), finite(towards_rad, "the force's direction in rad")
    low, high = positive(force_height_mm, "the force's height in mm"), positive(stay_height_mm, "the stays' height in mm")
    anchors, words = _anchors(anchors_mm, names)
    wanted = (-force * low / high * math.cos(way), -force * low / high * math.sin(way))
    shares = _shared(anchors, wanted)
    stays = tuple(Stay(name, share * math.hypot(*anchor, high) / math.hypot(*anchor), math.atan2(high, math.hypot(*anchor)),
                       math.hypot(*anchor, high)) for name, anchor, share in zip(words, anchors, shares))
    return MastStays(stays, governing(words, [stay.tension_n for stay in stays]), tuple(stay.name for stay in stays if stay.slack),
                     math.fsum(stay.tension_n * math.sin(stay.angle_rad) for stay in stays),
                     "Tightness before the force comes is left out: it adds to these tensions and to the press on the mast.")


def _anchors(anchors_mm: Sequence[Vector], names: Sequence[str] | None) -> tuple[list[Vector], tuple[str, ...]]:
    if isinstance(anchors_mm, str) or not isinstance(anchors_mm, Sequence) or not 2 <= len(anchors_mm) <= 4:
        raise Refusal(f"{said(anchors_mm)} for the anchors", "two to four points", "give each as x, y in mm from the foot")
    anchors = [point(anchor, 2, "an anchor") for anchor in anchors_mm]
    if any(math.hypot(*anchor) < 1e-6 for anchor in anchors) or len(set(anchors)) < len(anchors):
        raise Refusal("an anchor at the foot, or one twice", "anchors that lie apart", "measure them again")
    return anchors, named(names, len(anchors), "stays")


def _shared(anchors: list[Vector], wanted: Vector) -> list[float]:
    """How much each stay pulls level: the nearest stay on either side of the wanted pull carries, the others nothing."""
    turns = [math.remainder(math.atan2(y, x) - math.atan2(wanted[1], wanted[0]), 2 * math.pi) for x, y in anchors]
    if any(abs(math.remainder(a - b, 2 * math.pi)) < 1e-6 for a, b in combinations(turns, 2)):
        raise Refusal("two stays in one direction", "stays in different directions", "nobody knows how those two share: work with one of them")
    size, pulls = math.hypot(*wanted), [0.0] * len(anchors)
    straight = [i for i, turn in enumerate(turns) if abs(turn) < 1e-12]
    if straight:
        pulls[straight[0]] = size
        return pulls
    left = min((i for i, turn in enumerate(turns) if turn > 0), key=lambda i: turns[i], default=None)
    right = max((i for i, turn in enumerate(turns) if turn < 0), key=lambda i: turns[i], default=None)
    if left is None or right is None or turns[left] - turns[right] >= math.pi - 1e-9:
        raise Refusal("a force that these stays cannot hold", "stays on both sides of the way it comes from, less than half a circle apart",
                      "set another stay: a cable cannot push")
    whole = math.sin(turns[left] - turns[right])
    pulls[left], pulls[right] = -size * math.sin(turns[right]) / whole, size * math.sin(turns[left]) / whole
    return pulls
