"""Legs that carry a load: tensions, angles, which leg governs and which goes slack. Plain points in mm, z upwards.

These are static hangings. Lifting and hoisting are refused by the class of use, whatever a sum here says.
Legs below 30 degrees from the horizontal are refused: a flat leg pulls far harder than what hangs from it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import combinations

from rigcalc._given import among, said
from rigcalc._hanging import Vector, hanging_point
from rigcalc._records import record
from rigcalc._statics import finite, governing, least_energy, named, point, positive, ways_to_balance
from rigcalc.errors import Refusal
from rigcalc.reference import constant

__all__ = ["LOWEST_ANGLE_RAD", "Combination", "Leg", "Legs", "SymmetricalLegs", "hanging_point", "legs", "symmetrical_legs",
           "vertical_legs"]

LOWEST_ANGLE_RAD: float = math.radians(constant("lowest leg angle").value)  # from the horizontal
MEANINGS = ("horizontal", "vertical", "included")
NEVER_SHARED = ("Four legs never share a load evenly: a few millimetres of length decide which carry. Size every leg for the most "
                "that it can get; the elastic answer holds only for cables of one kind, each just straight before the load comes.")


@record
class Leg:
    """One leg: its length in mm (None where legs hang plumb and none was given), its tension in N, the most it can
    get in N when lengths are not perfect, and its angles in rad from the horizontal and from the vertical (a slack leg's are
    those of the straight line to its anchor)."""

    name: str
    length_mm: float | None
    tension_n: float
    most_n: float
    from_horizontal_rad: float
    from_vertical_rad: float

    @property
    def slack(self) -> bool:
        """Does it carry nothing?"""
        return self.tension_n == 0


@record
class Combination:
    """Two or three legs that might carry all: the tensions in N of all legs where that is possible, else why not."""

    carrying: tuple[str, ...]
    tensions_n: tuple[float, ...] | None
    said: str

    @property
    def possible(self) -> bool:
        """Can these alone carry the load, all pulling?"""
        return self.tensions_n is not None


@record
class Legs:
    """A load on its legs. `governs` names the leg (or legs) with the most to carry, `slack` those that carry nothing.

    `included` holds the angle in rad between each two legs; `combinations` is filled where statics alone does not
    decide; `load_point_mm` is where the load hangs, `moved` whether that is elsewhere than where it was put.
    """

    legs: tuple[Leg, ...]
    load_n: float
    load_point_mm: Vector
    moved: bool
    governs: tuple[str, ...]
    slack: tuple[str, ...]
    included: tuple[tuple[str, str, float], ...]
    combinations: tuple[Combination, ...]
    notes: tuple[str, ...]

    def __getitem__(self, name: str) -> Leg:
        for leg in self.legs:
            if leg.name == name:
                return leg
        raise Refusal(f"the leg {said(name)}", ", ".join(leg.name for leg in self.legs), "take one of these")


@record
class SymmetricalLegs:
    """Equal legs under a central load: angles in rad, the tension in N to size each leg for, how many legs that counts
    on, and every way of counting as (legs counted on, tension in N, what it rests on)."""

    count: int
    from_horizontal_rad: float
    from_vertical_rad: float
    included_rad: float | None
    tension_n: float
    counted_on: int
    counted: tuple[tuple[int, float, str], ...]


# --- legs to one point ----------------------------------------------------------------------------

def legs(anchors_mm: Sequence[Vector], load_point_mm: Vector, load_n: float, names: Sequence[str] | None = None) -> Legs:
    """Two, three or four legs from anchors to one point, in three dimensions, under a load that hangs still.

    `anchors_mm`: two to four points (x, y, z) in mm, all above the load point; or all below it, for a bridle that
    carries its load at its feet, centre of mass plumb under the point. `load_point_mm`: (x, y, z) in mm.
    `load_n`: the weight in N, above zero. `names`: one for each leg, else A, B, C, D.
    A leg that would have to push goes slack: the load then hangs elsewhere, and the others are solved again there.
    Where statics does not decide (four legs), the tension is the elastic one and `most_n` the worst case.
    Errors: `Refusal` for a leg that carries below 30 degrees from the horizontal, for points where nothing can hang, for
    anchors on both sides. Range: static hangings only, never lifting. Source: statics: forces at a point add up to nothing.

    >>> bridle = legs([(-3, 0, -4), (5, 0, -4)], (0, 0, 0), 84, names=("short", "long"))
    >>> [round(leg.tension_n, 1) for leg in bridle.legs], bridle.governs
    ([65.6, 50.4], ('short',))
    """
    load = positive(load_n, "the load in N")
    anchors, at = _points(anchors_mm, load_point_mm)
    words = named(names, len(anchors), "legs")
    lengths, everybody = [math.dist(anchor, at) for anchor in anchors], tuple(range(len(anchors)))
    found = _balanced(anchors, at, load, everybody)
    moved = found is None
    if moved:
        at, tight = _elsewhere(anchors, at, lengths)
        found = _balanced(anchors, at, load, tight)
    if found is None:
        raise Refusal("legs whose load hangs nowhere in balance", "points measured to the millimetre", "measure the anchors again")
    ways, elastic = found
    _refuse_flat(anchors, at, words, ways)
    return _told(anchors, lengths, at, load, words, ways, elastic, moved)


def _points(anchors_mm: Sequence[Vector], load_point_mm: Vector) -> tuple[list[Vector], Vector]:
    if isinstance(anchors_mm, str) or not isinstance(anchors_mm, Sequence) or not 2 <= len(anchors_mm) <= 4:
        raise Refusal(f"{said(anchors_mm)} for the anchors", "two, three or four points", "give each anchor as x, y, z in mm")
    anchors = [point(anchor, 3, "an anchor") for anchor in anchors_mm]
    at = point(load_point_mm, 3, "the load point")
    if len(set(anchors)) < len(anchors):
        raise Refusal("one anchor twice", "anchors that lie apart", "measure them again")
    over = {anchor[2] > at[2] for anchor in anchors} | {anchor[2] >= at[2] for anchor in anchors}
    if len(over) > 1:
        raise Refusal("anchors level with the load point or on both sides of it", "all anchors above it, or all below it",
                      "a cable that holds a load down or sideways is no load-carrying leg: treat it as a brace")
    return anchors, at


def _unit(anchor: Vector, at: Vector) -> Vector:
    length = math.dist(anchor, at)
    return tuple((a - b) / length for a, b in zip(anchor, at))


def _balanced(anchors: list[Vector], at: Vector, load: float, tight: tuple[int, ...]) -> tuple[dict, Vector] | None:
    """All smallest groups of the tight legs that can carry the load, and the elastic tensions; None when it cannot hang there."""
    columns = [_unit(anchors[i], at) for i in tight]
    target = (0.0, 0.0, math.copysign(load, columns[0][2]))
    ways, elastic = ways_to_balance(columns, target), least_energy(columns, target, [math.dist(anchors[i], at) for i in tight])
    if not ways or elastic is None:
        return None

    def of_all(forces: Vector) -> Vector:
        return tuple(dict(zip(tight, forces)).get(i, 0.0) for i in range(len(anchors)))

    return {tuple(tight[i] for i in way): of_all(forces) for way, forces in ways.items()}, of_all(elastic)


def _elsewhere(anchors: list[Vector], at: Vector, lengths: list[float]) -> tuple[Vector, tuple[int, ...]]:
    """Where the load comes to hang on legs of these lengths, and the legs that are tight there; refused if all of them are."""
    if anchors[0][2] < at[2]:
        raise Refusal("a bridle whose load cannot hang so", "feet round the plumb line through the point",
                      "the thing hung would tilt: find its centre of mass and set the point plumb over it")
    there = hanging_point(anchors, lengths)
    tight = tuple(i for i, anchor in enumerate(anchors) if math.dist(anchor, there) >= lengths[i] * (1 - 1e-9))
    if len(tight) == len(anchors):
        where = ", ".join(f"{part:.1f}" for part in there)
        raise Refusal("a load point where these legs cannot hold the load", f"where it comes to hang on legs of these lengths: {where} mm",
                      "measure again, or work out the point from the leg lengths")
    return there, tight


def _refuse_flat(anchors: list[Vector], at: Vector, names: tuple[str, ...], ways: dict) -> None:
    for index in sorted({index for way in ways for index in way}):
        angle = _from_horizontal(anchors[index], at)
        if angle < LOWEST_ANGLE_RAD - 1e-9:
            degrees = math.degrees(angle)
            _too_flat(f"the leg {names[index]} at {degrees:.1f} degrees from the horizontal" if degrees < 29.95 else
                      f"the leg {names[index]} at {degrees:.5f} degrees from the horizontal, just too flat")


def _too_flat(given: str) -> None:
    raise Refusal(given, f"load-carrying legs of {math.degrees(LOWEST_ANGLE_RAD):g} degrees from the horizontal or more",
                  "make the legs longer or bring the anchors nearer together; a line stretched flat is a span")


def _from_horizontal(anchor: Vector, at: Vector) -> float:
    return math.atan2(abs(anchor[2] - at[2]), math.hypot(anchor[0] - at[0], anchor[1] - at[1]))


def _told(anchors: list[Vector], lengths: list[float], at: Vector, load: float, names: tuple[str, ...], ways: dict,
          elastic: Vector, moved: bool) -> Legs:
    most = [max(way[i] for way in ways.values()) for i in range(len(names))]
    parts = [Leg(name, length, tension, top, _from_horizontal(anchor, at), math.pi / 2 - _from_horizontal(anchor, at))
             for name, length, anchor, tension, top in zip(names, lengths, anchors, elastic, most)]
    included = tuple((names[i], names[j], _between(anchors[i], anchors[j], at)) for i, j in combinations(range(len(names)), 2))
    return _result(parts, load, at, moved, included, ways)


def _between(one: Vector, other: Vector, at: Vector) -> float:
    u, v = _unit(one, at), _unit(other, at)
    return 2 * math.atan2(math.dist(u, v), math.hypot(*(a + b for a, b in zip(u, v))))


def _result(parts: list[Leg], load: float, at: Vector, moved: bool, included: tuple, ways: dict) -> Legs:
    names = tuple(leg.name for leg in parts)
    slack = tuple(leg.name for leg in parts if leg.slack)
    notes = []
    if moved:
        notes.append(f"Slack: {', '.join(slack)}. The load does not stay where it was put: it comes to hang at "
                     f"{', '.join(f'{part:.1f}' for part in at)} mm, and the tensions are those there.")
    elif slack:
        notes.append(f"Slack: {', '.join(slack)}.")
    if len(ways) > 1:
        notes.append(NEVER_SHARED if len(names) == 4 else "Statics does not decide how these legs share. " + NEVER_SHARED.split(": ", 1)[1])
    told = _combinations(names, ways) if len(ways) > 1 else ()
    return Legs(tuple(parts), load, at, moved, governing(names, [leg.most_n for leg in parts]), slack, included, told, tuple(notes))


def _combinations(names: tuple[str, ...], ways: dict) -> tuple[Combination, ...]:
    """Every one, two or three of the legs that might carry all: possible with these tensions, or why not."""
    told = [Combination((names[way[0]],), forces, "possible") for way, forces in ways.items() if len(way) == 1]
    for count in (2, 3):
        for chosen in combinations(range(len(names)), count):
            words = tuple(names[i] for i in chosen)
            fewer = [way for way in ways if set(way) < set(chosen)]
            if chosen in ways:
                told.append(Combination(words, ways[chosen], "possible"))
            elif fewer:
                alone = " or ".join(" and ".join(names[i] for i in way) for way in fewer)
                told.append(Combination(words, None, f"no case of its own: {alone} can carry all"))
            else:
                told.append(Combination(words, None, "not in balance: one of these would have to push, or the load would swing away"))
    return tuple(told)


# --- plumb legs under something stiff -------------------------------------------------------------

def vertical_legs(feet_mm: Sequence[Vector], centre_mm: Vector, load_n: float, names: Sequence[str] | None = None) -> Legs:
    """Something stiff that hangs level from two, three or four plumb legs, its centre of mass anywhere between them.

    `feet_mm`: where the legs hold it, in plan, two to four points (x, y) in mm. `centre_mm`: its centre of mass (x, y)
    in mm, for two legs on the line between them. `load_n`: its weight in N. `names`: one for each leg, else A, B, C, D.
    Four legs: the tension is that of cables that stretch alike, `most_n` the worst case.
    Errors: `Refusal` where it would tip. Range: static hangings only, never lifting. Source: statics: forces and moments add up to nothing.

    >>> bar = vertical_legs([(0, 0), (8, 0)], (2, 0), 300)
    >>> [round(leg.tension_n, 9) for leg in bar.legs], bar.governs
    ([225.0, 75.0], ('A',))
    >>> frame = vertical_legs([(0, 0), (2, 0), (2, 1), (0, 1)], (1, 0.5), 400)
    >>> [round(leg.most_n, 9) for leg in frame.legs]
    [200.0, 200.0, 200.0, 200.0]
    """
    load = positive(load_n, "the load in N")
    if isinstance(feet_mm, str) or not isinstance(feet_mm, Sequence) or not 2 <= len(feet_mm) <= 4:
        raise Refusal(f"{said(feet_mm)} for the feet", "two, three or four points", "give each as x, y in mm")
    feet, centre = [point(foot, 2, "a leg's foot") for foot in feet_mm], point(centre_mm, 2, "the centre of mass")
    words = named(names, len(feet), "legs")
    reach = max(math.dist(foot, centre) for foot in feet)
    if len(set(feet)) < len(feet) or not reach:
        raise Refusal("one foot twice", "feet that lie apart", "measure them again")
    columns = [(1.0, (x - centre[0]) / reach, (y - centre[1]) / reach) for x, y in feet]
    ways, elastic = ways_to_balance(columns, (load, 0.0, 0.0)), least_energy(columns, (load, 0.0, 0.0), [1.0] * len(feet))
    if not ways or elastic is None:
        raise Refusal("a centre of mass that does not lie between the legs", "one within the legs' feet, or on the line of two",
                      "it would tip until it does: move the legs")
    most = [max(way[i] for way in ways.values()) for i in range(len(feet))]
    parts = [Leg(name, None, tension, top, math.pi / 2, 0.0) for name, tension, top in zip(words, elastic, most)]
    included = tuple((one, other, 0.0) for one, other in combinations(words, 2))
    return _result(parts, load, centre, False, included, ways)


# --- equal legs, one angle ------------------------------------------------------------------------

def symmetrical_legs(load_n: float, count: int, angle_rad: float, angle_from: str | None = None) -> SymmetricalLegs:
    """Equal legs under a central load, from one angle; which angle is meant is asked, never guessed.

    `load_n`: the weight in N. `count`: 2, 3 or 4 legs. `angle_rad`: the legs' angle in rad, measured `angle_from`
    "horizontal", "vertical" or "included" (the whole angle between two legs; two legs only).
    Of four legs two are counted on; three and four are listed beside it, with what they rest on.
    Errors: `Refusal` without `angle_from`, and for legs below 30 degrees from the horizontal.
    Range: static hangings only, never lifting. Source: statics: tension = load / (legs counted on x sine of the angle from horizontal).

    >>> round(symmetrical_legs(300, 2, math.radians(30), angle_from="horizontal").tension_n, 9)
    300.0
    >>> round(symmetrical_legs(300, 2, math.radians(90), angle_from="included").tension_n)
    212
    """
    load = positive(load_n, "the load in N")
    if not isinstance(count, int) or isinstance(count, bool) or count not in (2, 3, 4):
        raise Refusal(f"{said(count)} legs", "2, 3 or 4", "count the legs again")
    angle = _asked(finite(angle_rad, "the angle in rad"), angle_from, count)
    if angle < LOWEST_ANGLE_RAD - 1e-9:
        _too_flat(f"legs at {math.degrees(angle):.1f} degrees from the horizontal")
    on = {2: 2, 3: 3, 4: 2}[count]
    counted = tuple((legs_on, load / (legs_on * math.sin(angle)), said) for legs_on, said in _COUNTED[count])
    included = math.pi - 2 * angle if count == 2 else None
    return SymmetricalLegs(count, angle, math.pi / 2 - angle, included, load / (on * math.sin(angle)), on, counted)


_COUNTED = {
    2: ((2, "two equal legs share evenly"),),
    3: ((3, "three equal legs, evenly round, share evenly"),),
    4: ((2, "two opposite legs carry all: what legs of not quite equal length do"),
        (3, "three carry all: another rule in use; with a central load only two opposite legs can be in balance"),
        (4, "all four alike: only cables of one kind and exactly one length, never counted on")),
}


def _asked(angle: float, angle_from: str | None, count: int) -> float:
    """The angle from the horizontal, in rad."""
    if not among(angle_from, MEANINGS):
        raise Refusal("an angle without saying which" if angle_from is None else f"an angle from {said(angle_from)}",
                      ", ".join(MEANINGS), "say whether it is from the horizontal, from the vertical or between the legs")
    if angle_from == "included" and count != 2:
        raise Refusal(f"an included angle for {count} legs", "horizontal or vertical", "between which two is not known: measure one leg")
    low, high = {"horizontal": (0.0, math.pi / 2), "vertical": (0.0, math.pi / 2), "included": (0.0, math.pi)}[angle_from]
    if not low <= angle <= high:
        raise Refusal(f"{math.degrees(angle):.1f} degrees, {angle_from}", f"{low:g} to {math.degrees(high):g} degrees", "measure it again")
    return {"horizontal": angle, "vertical": math.pi / 2 - angle, "included": (math.pi - angle) / 2}[angle_from]
