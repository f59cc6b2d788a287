"""The shape of an order: what its weight and its measurements make of the pull in each cable."""

from __future__ import annotations

import math
import re
from fractions import Fraction
from typing import TYPE_CHECKING

from rigcalc._order_figures import length_reading, mass_reading, force_reading, show_pull
from rigcalc._records import record
from rigcalc.errors import Refusal
from rigcalc.units import GRAVITY_M_S2, Reading, exact, read_force_n, read_length_mm, read_mass_kg, show_length

if TYPE_CHECKING:
    from rigcalc._order import Order
    from rigcalc.spans import Span

__all__ = ["ShapeFacts", "leg_words", "read_coordinates", "read_gravity", "read_shape", "read_weight"]


@record
class ShapeFacts:
    """What a shape makes of an order: the pull in N in each cable by name, and the working as label and value.

    `angles_rad` are those of the cables from the horizontal, where one angle says it. `parts_mm` are the lengths in mm of its
    straight parts by name, from bearing point to bearing point, before stretch; those of a span follow one another in one line,
    and `span` is the span itself; `own_weight_n` is the cable's own weight in N where `pulls_n` holds it.
    """

    kind: str
    pulls_n: tuple[tuple[str, Fraction], ...]
    called_as: str
    working: tuple[tuple[str, str], ...]
    angles_rad: tuple[float, ...] = ()
    parts_mm: tuple[tuple[str, float], ...] = ()
    span: Span | None = None
    sag_shown: str = ""
    own_weight_n: float = 0.0

    @property
    def greatest_n(self) -> Fraction:
        """The greatest pull in any of the cables, in N."""
        return max(force for _, force in self.pulls_n)

    @property
    def greatest_shown(self) -> str:
        """The greatest pull, shown."""
        return show_pull(self.greatest_n)

    @property
    def called(self) -> str:
        """What the greatest pull is called."""
        return f"{self.called_as} of {self.greatest_shown}"


def read_gravity(text: str | None) -> Fraction:
    """Gravity in m/s2, stated: "standard", or a figure with its unit."""
    if text is not None and text.casefold().startswith("standard"):
        return GRAVITY_M_S2
    found = re.fullmatch(r"(9\.[0-9]{1,5}) ?m/s2", text or "")
    if not found or not Fraction("9.76") <= Fraction(found[1]) <= Fraction("9.84"):
        raise Refusal(f"the gravity '{text}'", "standard, which is 9.80665 m/s2, or a figure from 9.76 to 9.84 with its unit, as 9.81 m/s2", "write it so")
    return Fraction(found[1])


def read_weight(text: str, gravity: str | None) -> tuple[Fraction, str]:
    """A weight in N and how it was read: a force, or a mass under the gravity that is stated."""
    try:
        force = read_force_n(text)
    except Refusal as refusal:
        try:
            mass = read_mass_kg(text)
        except Refusal:
            raise Refusal(refusal.given, "a weight with its unit: a mass such as 180 lb or 82 kg, or a force such as 180 lbf or 800 N",
                          "write the unit that it was weighed in; a mass also needs gravity") from None
        weight_n = mass.value * read_gravity(gravity)
        shown = f"{mass_reading(mass).shown} of mass, a weight of {show_pull(weight_n)} at gravity {float(read_gravity(gravity)):g} m/s2"
    else:
        weight_n, shown = force.value, force_reading(force).shown
    if not weight_n > 0:
        raise Refusal(f"the weight '{text}'", "a weight above nothing", "ask who gave it")
    return weight_n, shown


def _measure(name: str, text: str) -> Reading:
    """A length above nothing that a shape is measured by."""
    reading = read_length_mm(text)
    if not 0 < reading.value <= 100_000:
        raise Refusal(f"{name} '{text}'", "a length above nothing and up to 100 m", "measure it again")
    return length_reading(reading)


def read_coordinates(text: str) -> tuple[tuple[float, ...], ...]:
    """Points as "3 ft, 0 ft, 4 ft; -5 ft, 0 ft, 4 ft", with or without each leg's name and a colon before it: along, across and
    up from where the load hangs; in mm."""
    points = tuple(tuple(_coordinate(part) for part in point.rpartition(":")[2].split(",")) for point in text.split(";"))
    if not 2 <= len(points) <= 4 or any(len(point) != 3 for point in points):
        raise Refusal(f"the points '{text[:60]}'", 'two to four points of three lengths each, as "3 ft, 0 ft, 4 ft; -5 ft, 0 ft, 4 ft"',
                      "measure from where the load hangs: along, across and up")
    return points


def leg_words(text: str) -> tuple[str, ...]:
    """The names that stand before the points, '' where there is none."""
    return tuple(" ".join(point.rpartition(":")[0].split()) for point in text.split(";"))


def _coordinate(text: str) -> float:
    plain = text.strip().replace("\u2212", "-")
    return float((-1 if plain.startswith("-") else 1) * read_length_mm(plain.lstrip("+- ")).value)


def read_shape(order: Order) -> ShapeFacts | None:
    """What the order's shape makes of its weight; None for a straight pull and for a ring, which carries no stated load."""
    work = {"brace": _brace, "span": _span, "legs": _legs}.get(order.shape or "straight")
    if work is None:
        stray = next((name for name in ("weight", "brace_across", "brace_up", "span", "sag", "leg_points") if getattr(order, name)), None)
        if stray:
            raise Refusal(f"{stray.replace('_', '-')} without its shape", "shape brace, span or legs with its own measurements",
                          "say which shape it is, or take that line out")
        return None
    weight_n, shown = read_weight(order.weight, order.gravity)
    return work(order, float(weight_n), shown)


def _brace(order: Order, weight_n: float, shown: str) -> ShapeFacts:
    """The pull in a cable from the free lower corner up to the post, the weight in the middle."""
    from rigcalc.braces import gate_brace

    across, up = _measure("the brace's reach across", order.brace_across), _measure("the brace's reach up", order.brace_up)
    found = gate_brace(float(across.value), float(up.value), weight_n)
    working = (("Weight", f"{shown}, in the middle of what is braced"), ("Reach", f"{across.shown} across, {up.shown} up"),
               ("Angle", f"{math.degrees(found.angle_rad):.1f} degrees from the horizontal: a brace holds something in its plane and carries "
                "nothing that hangs, so no least angle is asked"),
               ("Pull in the brace", f"{show_pull(found.tension_n)}: weight / (2 x sine of the angle), by moments about the lower hinge"),
               ("On the hinge", f"{show_pull(abs(found.hinge_right_n))} sideways"))
    return ShapeFacts("brace", (("", exact(found.tension_n)),), "the pull in the brace", working, (found.angle_rad,),
                      (("the brace", math.hypot(float(across.value), float(up.value))),))


def _span(order: Order, weight_n: float, shown: str) -> ShapeFacts:
    """The pull at both ends of a span, under one load or a load all along."""
    from rigcalc.spans import point_load_span, uniform_load_span

    span, sag = _measure("the span", order.span), _measure("the sag", order.sag)
    rise_mm = _coordinate(order.rise) if order.rise else 0.0
    if order.load_spread == "even":
        found, where = uniform_load_span(float(span.value), float(sag.value), weight_n, rise_mm), "spread evenly along the span"
    else:
        at_mm = None if order.load_at == "middle" else float(_measure("the load's place", order.load_at).value)
        found, where = point_load_span(float(span.value), float(sag.value), weight_n, at_mm, rise_mm), f"at one point: {order.load_at}"
    working = (("Weight", f"{shown}, {where}"), ("Span and sag", f"{span.shown} level, sag {sag.shown} below the straight line between the ends"),
               ("Level pull", show_pull(found.horizontal_n)),
               ("Pull at the left end", f"{show_pull(found.left_n)}, the cable {math.degrees(found.left_angle_rad):.1f} degrees from the horizontal"),
               ("Pull at the right end", f"{show_pull(found.right_n)}, the cable {math.degrees(found.right_angle_rad):.1f} degrees from the horizontal"),
               ("Governs", f"{' and '.join(found.governs)} end; half the sag would double the pull"))
    return ShapeFacts("span", (("", exact(found.greatest_n)),), "the pull at the end of the span", working, parts_mm=_span_parts(found), span=found,
                      sag_shown=sag.shown)


def _span_parts(found: Span) -> tuple[tuple[str, float], ...]:
    """The line of a span: one part, or the two on either side of a single load."""
    if found.at_mm is None:
        return (("the span", found.length_mm),)
    left = math.hypot(found.at_mm, found.sag_mm - found.rise_mm * found.at_mm / found.span_mm)
    return (("the left part", left), ("the right part", found.length_mm - left))


def _legs(order: Order, weight_n: float, shown: str) -> ShapeFacts:
    """Each leg's pull, sized for the most it can get."""
    from rigcalc.legs import legs

    points = read_coordinates(order.leg_points)
    names = _leg_names(order, len(points))
    found = legs(points, (0, 0, 0), weight_n, names)
    working = [("Weight", shown)]
    for leg in found.legs:
        slack = "slack" if leg.slack else show_pull(leg.tension_n)
        most = "" if leg.most_n <= leg.tension_n * (1 + 1e-9) else f"; at most {show_pull(leg.most_n)}, which is what counts"
        working.append((leg.name if "leg" in leg.name else f"Leg {leg.name}", f"{show_length(leg.length_mm)} from load to anchor, {math.degrees(leg.from_horizontal_rad):.1f} degrees "
                        f"from the horizontal: {slack}{most}"))
    working.append(("Governs", " and ".join(found.governs) + ": the legs do not share evenly unless they stand alike"))
    working += [("Note", note) for note in found.notes]
    return ShapeFacts("legs", tuple((leg.name, exact(leg.most_n)) for leg in found.legs), f"the pull in {found.governs[0] if 'leg' in found.governs[0] else 'leg ' + found.governs[0]}",
                      tuple(working), tuple(leg.from_horizontal_rad for leg in found.legs), tuple((leg.name, leg.length_mm) for leg in found.legs))


def _leg_names(order: Order, count: int) -> tuple[str, ...] | None:
    """The names that stand before the points; without them those of the pieces in their order, where there is one for each leg."""
    named, pieces = leg_words(order.leg_points), order.pieces or ()
    if any(named):
        if not all(named) or len(set(named)) < count:
            raise Refusal(f"the points '{order.leg_points[:80]}'", "a name of its own before each point, or before none", "name every leg, as its piece is named")
        return named
    return tuple(piece.name for piece in pieces) if len(pieces) == count else None
