"""Lesson 10, worked: printed examples and the invented orders, every step with its sum."""

from __future__ import annotations

import math
from html import escape

from rigcalc.braces import brace
from rigcalc.legs import hanging_point, legs, symmetrical_legs
from rigcalc.notebook import lesson
from rigcalc.notebook.course.hangings import INCH, degrees, gate, in_mm, kayak, kayak_points, lantern, length, pull, system, weight_n
from rigcalc.notebook.teaching import of_order
from rigcalc.spans import point_load_span, uniform_load_span
from rigcalc.units import LBF_N, read_length_mm

__all__ = ["printed_boom", "printed_legs", "printed_wire", "two_cables", "worked_curtain", "worked_gate", "worked_kayak", "worked_lantern", "worked_uneven"]

UNEVEN = ((-36.0, 0.0, 36.0), (60.0, 0.0, 72.0))  # inches: beam points over the kayak that do not lie level


def _steps(title: str, rows, given: str = "") -> lesson.Block:
    """The steps, covered; what is given stands open above them."""
    told = lesson.answer(lesson.table(("Step", "gives"), rows, title))
    return lesson.Block(f"<p>{escape(given)}</p>{told.html}", f"{given}\n{told.text}") if given else told


def _figure(value: float) -> str:
    """A figure of a sum: four digits, so that whoever works it again comes to what is printed beside it.

    >>> _figure(9.0), _figure(0.0665190), _figure(266.893), _figure(1219.2)
    ('9', '0.06652', '266.9', '1219')
    """
    return f"{value:.4g}"


def _long(length_mm: float) -> str:
    """A length in the shop's own unit, for a sum; mm have a digit more than inches."""
    return _figure(length_mm / INCH) if system() == "US" else f"{length_mm:.5g}"


def _force(force_n: float) -> str:
    """A force in lbf or N, for a sum."""
    return _figure(force_n / float(LBF_N) if system() == "US" else force_n)


def _unit() -> str:
    return "in" if system() == "US" else "mm"


def _along(across_mm: float, up_mm: float) -> tuple[float, str]:
    """The slant over two square sides, mm, and its sum in words."""
    slant = math.hypot(across_mm, up_mm)
    return slant, f"root of {_long(across_mm)} × {_long(across_mm)} + {_long(up_mm)} × {_long(up_mm)} = {_long(slant)} {_unit()}"


def _sine(up_mm: float, slant_mm: float) -> str:
    return f"{_long(up_mm)} ÷ {_long(slant_mm)} = {_figure(up_mm / slant_mm)}, that is {degrees(math.asin(up_mm / slant_mm))} from the horizontal"


# --- printed ----------------------------------------------------------------------------------------

def printed_legs() -> lesson.Block:
    """The printed example: NAVEDTRA 14080, p 3-23: 1000 lb on two legs, plumb and at 30 degrees from the horizontal."""
    load = 1000 * float(LBF_N)
    rows = [("load, as printed", "1000 lb, two legs"), ("half of it on each leg", "1000 ÷ 2 = 500 lbf")]
    for angle in (90, 30):
        found = symmetrical_legs(load, 2, math.radians(angle), angle_from="horizontal")
        rows.append((f"at {angle} degrees from the horizontal: over the sine", f"500 ÷ {math.sin(found.from_horizontal_rad):.2f} = {found.tension_n / float(LBF_N):.0f} lbf"))
    rows.append(("so each leg at 30 degrees pulls", "as much as the whole load"))
    return _steps("Printed: US Navy, NAVEDTRA 14080, p 3-23; it prints 500 lb and 1000 lb", rows, "Given: 1000 lb on two like legs, once plumb, once at 30 degrees from the horizontal.")


def printed_boom() -> lesson.Block:
    """The printed example: Engineering Statics (open text), ch. 3, Cargo Boom: 24 kN, boom 40 degrees off the post, lift at 1 up in 4 across."""
    load, across, up = 24_000.0, math.sin(math.radians(40)), math.cos(math.radians(40))
    found = brace((0, 0), (across, up), (across - 4, up + 1), load, (across, up))
    slant = math.hypot(4, 1)
    arm = (across + 4 * up) / slant
    level, upright = (abs(one) / 1000 for one in (found.hinge_right_n, found.hinge_up_n))
    rows = [("load at the boom's tip, as printed", "24 kN"), ("the boom leans from its post by 40°. Take it as 1 long: its tip lies across, up", f"sine of 40° = {across:.4f}, sine of the 50° that are left = {up:.4f}"),
            ("the cable to the post rises 1 in 4 across: along it", f"root of 4 × 4 + 1 × 1 = {slant:.3f}, and {degrees(found.angle_rad)} from the horizontal"),
            ("the cable's distance from the foot, square to it", f"({across:.4f} + 4 × {up:.4f}) ÷ {slant:.3f} = {arm:.4f}"),
            ("moments about the foot (force × its distance) give the cable", f"24 × {across:.4f} ÷ {arm:.4f} = {found.tension_n / 1000:.2f} kN"),
            ("the boom is pressed level by the cable's level part", f"{found.tension_n / 1000:.2f} × 4 ÷ {slant:.3f} = {level:.2f} kN"),
            ("and upright by the load, less what the cable lifts", f"24 − {found.tension_n / 1000:.2f} ÷ {slant:.3f} = {upright:.2f} kN"),
            ("both together", f"root of {level:.2f} × {level:.2f} + {upright:.2f} × {upright:.2f} = {math.hypot(level, upright):.1f} kN")]
    return _steps("Printed: Engineering Statics (open text), chapter 3, Cargo Boom; it prints 17.16 kN and 25.9 kN", rows,
                  "Given: the boom leans from its post by 40 degrees; 24 kN hang from its tip. From there the cable goes 4 across and 1 up to the post.")


def printed_wire() -> lesson.Block:
    """The printed example: University Physics 1 (open text), Common Forces, tightrope: 70.0 kg, 5.0 degrees on each side, g 9.80."""
    weight, span = 70.0 * 9.80, 15_000.0
    found = point_load_span(span, span / 2 * math.tan(math.radians(5)), weight)
    rows = [("weight, as printed", f"70.0 kg × 9.80 m/s2 = {weight:.0f} N"), ("half of it on each side", f"{weight:.0f} ÷ 2 = {weight / 2:.0f} N"),
            (f"the wire stands at {degrees(found.left_angle_rad)}: over the sine", f"{weight / 2:.0f} ÷ {math.sin(found.left_angle_rad):.5f} = {found.left_n:.0f} N")]
    return _steps("Printed: University Physics 1 (open text), Common Forces, tightrope; it prints 3930 N, and 3.94 thousand where it is used again", rows,
                  "Given: 70.0 kg in the middle; on each side the wire stands at 5 degrees from the horizontal.")


# --- legs -------------------------------------------------------------------------------------------

def worked_kayak() -> lesson.Block:
    """Order 5's bridle, step by step: upright shares by the other leg's distance, then along the slant."""
    found, points = kayak(), kayak_points()
    (near, far), up = (abs(point[0]) for point in points), points[0][2]
    rows = [("weight", pull(found.load_n)), ("leg A: across, up", f"{length(near)}, {length(up)}"), ("leg B: across, up", f"{length(far)}, {length(up)}")]
    for leg, own, other in zip(found.legs, (near, far), (far, near)):
        slant, sum_of_it = _along(own, up)
        upright = leg.tension_n * math.sin(leg.from_horizontal_rad)
        rows += [(f"leg {leg.name}, upright: the weight × the other leg's distance ÷ both", f"{_force(found.load_n)} × {_long(other)} ÷ ({_long(near)} + {_long(far)}) = {pull(upright)}"),
                 (f"leg {leg.name}, its length", sum_of_it), ("its sine: up ÷ its length", _sine(up, slant)),
                 (f"along leg {leg.name}: the upright share ÷ the sine", f"{_force(upright)} ÷ {_figure(up / slant)} = {pull(leg.tension_n)}")]
    rows.append(("governs", f"leg {' and '.join(found.governs)}: the steeper one"))
    return _steps("The kayak's bridle (INVENTED order 5)", rows)


def worked_uneven() -> lesson.Block:
    """The kayak again, its far point higher: the long leg is the steeper one and governs; by slopes and the level pull, which is one for both legs."""
    points = in_mm(UNEVEN)
    found = legs(points, (0.0, 0.0, 0.0), kayak().load_n, names=("A", "B"))
    sides = [(abs(across), up) for across, _, up in points]
    level = found.legs[0].tension_n * math.cos(found.legs[0].from_horizontal_rad)
    rows = [("weight", pull(found.load_n))]
    rows += [(f"leg {leg.name}: across, up", f"{length(across)}, {length(up)}") for leg, (across, up) in zip(found.legs, sides)]
    rows += [(f"slope of leg {leg.name}: up ÷ across", f"{_long(up)} ÷ {_long(across)} = {up / across:.2f}, so {degrees(leg.from_horizontal_rad)} from the horizontal") for leg, (across, up) in zip(found.legs, sides)]
    rows.append(("level pull: the weight ÷ both slopes together", f"{_force(found.load_n)} ÷ ({' + '.join(f'{up / across:.2f}' for across, up in sides)}) = {pull(level)}"))
    for leg, (across, up) in zip(found.legs, sides):
        rows += [(f"leg {leg.name}, its length", _along(across, up)[1]), (f"leg {leg.name}: level pull × its length ÷ across", f"{_force(level)} × {_long(leg.length_mm)} ÷ {_long(across)} = {pull(leg.tension_n)}")]
    rows.append(("governs", f"leg {' and '.join(found.governs)}: the steeper one, and here that is the long one"))
    return _steps("The same kayak, the far beam point higher (INVENTED)", rows)


def two_cables() -> lesson.Block:
    """Two cables of unlike length that meet at a load: does the longer one hang loose? Two longer cables against one shorter."""
    apart, shorter, *longer_ones = (part * (INCH if system() == "US" else 25.0) for part in (36, 48, 64, 56))
    rows = [("anchors level, apart", length(apart)), ("the shorter cable", length(shorter)),
            ("the load hangs plumb from the shorter one: from there to the other anchor", _along(apart, shorter)[1])]
    for longer in longer_ones:
        across, _, _ = hanging_point([(0.0, 0.0, 0.0), (apart, 0.0, 0.0)], [shorter, longer])
        rows.append((f"the other cable is {length(longer)}", "longer than that: it hangs loose, the shorter one has all" if across < 1e-6 else "shorter than that: it brings the load aside, and both pull"))
    return _steps("Two cables that meet at one load (INVENTED measures)", rows)


# --- brace ------------------------------------------------------------------------------------------

def worked_gate() -> lesson.Block:
    """Order 1's brace, step by step, by moments about the lower hinge."""
    wide, high, weight, found = gate()
    slant, sum_of_it = _along(wide, high)
    rows = [("weight, in the middle of the gate", pull(weight)), ("the brace: across, up", f"{length(wide)}, {length(high)}"),
            ("upright at the free end: the weight's moment (weight × half the width) ÷ the whole width", f"{_force(weight)} × {_long(wide / 2)} ÷ {_long(wide)} = {pull(weight / 2)}"),
            ("the brace, its length", sum_of_it), ("its sine: up ÷ its length", _sine(high, slant)),
            ("along the brace: the upright half ÷ the sine", f"{_force(weight / 2)} ÷ {_figure(high / slant)} = {pull(found.tension_n)}"),
            ("the lower hinge is pressed sideways by the brace's level part", f"{_force(found.tension_n)} × {_long(wide)} ÷ {_long(slant)} = {pull(abs(found.hinge_right_n))}")]
    return _steps("The gate's brace (INVENTED order 1)", rows)


# --- spans ------------------------------------------------------------------------------------------

def worked_lantern() -> lesson.Block:
    """Order 3's wire, step by step."""
    found = lantern()
    half, sag = found.span_mm / 2, found.sag_mm
    slant, sum_of_it = _along(half, sag)
    rows = [("weight at mid-span", pull(found.load_n)), ("span, sag", f"{length(found.span_mm)}, {length(sag)}"), ("half of the weight on each side", f"{_force(found.load_n)} ÷ 2 = {pull(found.load_n / 2)}"),
            ("one side: half of the span across, the sag down; its length", sum_of_it), ("its sine: the sag ÷ its length", _sine(sag, slant)),
            ("along the wire: the half ÷ the sine", f"{_force(found.load_n / 2)} ÷ {_figure(sag / slant)} = {pull(found.left_n)}"),
            ("how many times the weight", f"{_force(found.left_n)} ÷ {_force(found.load_n)} = {found.left_n / found.load_n:.1f}")]
    return _steps("The lantern's wire (INVENTED order 3; its own weight left out)", rows)


def worked_curtain() -> lesson.Block:
    """Order 4's curtain wire, step by step in N and mm, as its letter measures: level pull, the upright half of the weight, and both together."""
    order = of_order("04_glasshouse_curtain")
    found = uniform_load_span(float(read_length_mm(order.span).value), float(read_length_mm(order.sag).value), weight_n(order))
    level, upright, end = (_figure(force) for force in (found.horizontal_n, found.left_vertical_n, found.greatest_n))
    rows = [("mass × 9.80665 m/s2 (g) is the weight", f"{order.weight.partition(' ')[0]} × 9.80665 = {_figure(found.load_n)} N: {pull(found.load_n)}"), ("span, sag", f"{length(found.span_mm)}, {length(found.sag_mm)}"),
            ("level pull: the weight × the span ÷ eight times the sag", f"{_figure(found.load_n)} × {_figure(found.span_mm)} ÷ (8 × {_figure(found.sag_mm)}) = {level} N: {pull(found.horizontal_n)}"),
            ("upright at each end: half of the weight", f"{_figure(found.load_n)} ÷ 2 = {upright} N: {pull(found.left_vertical_n)}"),
            ("along the wire at the end: square both, add, take the root", f"root of {level} × {level} + {upright} × {upright} = {end} N: {pull(found.greatest_n)}")]
    return _steps("The curtain's wire (INVENTED order 4; its own weight left out)", rows)
