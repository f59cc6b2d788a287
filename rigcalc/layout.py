"""Layout: what is cut, marked, stripped and left clear. Eyes of either kind at either end, laps and rings."""

from __future__ import annotations

import math
from fractions import Fraction

from rigcalc._given import of_kind
from rigcalc._layout_lap import LAP_LINES, LapSplice, Strip, lap_splice, ring_cut_mm, spliced_mm, strip_mm
from rigcalc._layout_lengths import TAIL_DIAMETERS, CutLength, above_zero, added, below, check_correction, check_tail, least_tail_mm, not_negative, refuse_growth, tail_to_set_mm
from rigcalc._records import record
from rigcalc.errors import Refusal
from rigcalc.reference import constant
from rigcalc.units import exact, round_to

__all__ = ["CLEAR_DIAMETERS", "LAP_LINES", "TAIL_DIAMETERS", "CutLength", "EyeParts", "LapSplice", "SoftEye", "Strip", "TrialPiece",
           "bearing_to_bearing_mm", "clear_length_mm", "cut_length_mm", "lap_splice", "least_pin_mm", "least_tail_mm", "refuse_growth", "ring_cut_mm",
           "side_force_fraction", "soft_eye", "spliced_mm", "strip_mm", "tail_to_set_mm", "trial_piece"]

PIN_DIAMETERS: Fraction = constant("pin of a soft eye").value  # in cable diameters
EYE_PINS: Fraction = constant("length of a soft eye").value  # in pin diameters, sleeve to pin centre
CLEAR_DIAMETERS: Fraction = constant("clear length between terminations").value


@record
class EyeParts:
    """What one eye takes, in mm: cable round the loop, bearing point to the near edge of the sleeve,
    the sleeve before pressing, the tail before pressing."""

    loop_mm: float
    bearing_to_sleeve_mm: float
    sleeve_before_mm: float
    tail_mm: float

    @property
    def kind(self) -> str:
        """What the steps call it."""
        return "eye"


@record
class SoftEye(EyeParts):
    """An eye without a thimble, on a pin. Its length runs from the sleeve before pressing to the pin's centre; lengths
    in mm; `side_force_fraction` is the force across the sleeve's mouth for each unit of load."""

    pin_mm: float
    length_mm: float
    side_force_fraction: float
    steps: tuple[tuple[str, float], ...]

    @property
    def kind(self) -> str:
        """What the steps call it."""
        return "soft eye"


@record
class TrialPiece:
    """The trial piece against its order, in mm: measured less ordered, the correction to keep for the next cuts,
    and whether it lies within the tolerance."""

    difference_mm: float
    correction_mm: float
    within: bool


# --- eyes -------------------------------------------------------------------------------------

def soft_eye(pin_mm: float, cable_mm: float, sleeve_before_mm: float, tail_mm: float, length_mm: float | None = None,
             growth_mm: float = 0.0, outside_mm: float | None = None) -> SoftEye:
    """An eye without a thimble, round a pin: its parts, ready for `cut_length_mm`.

    Each leg runs straight from the sleeve's mouth, where the legs touch, to the pin, and round the pin on the radius
    of the cable's centre line. The bearing point is the far side of the pin: half a pin beyond its centre.

    Parameters: `pin_mm` pin diameter; `cable_mm` bare cable diameter; `sleeve_before_mm` and `tail_mm` before
    pressing; `length_mm` from the sleeve before pressing to the pin's centre, without it the least that is allowed;
    `growth_mm` what the sleeve grows, all of it counted towards the eye; `outside_mm` what lies on the pin where the
    cable is coated. All in mm.
    Range: pin at least two bare cable diameters; length, less the growth, at least three pin diameters.
    Errors: `Refusal` outside that range, and for a tail of less than two diameters.
    Source: EN 13414-1 Table 4 note 1 (pin at least 2 d); common practice (3 pin diameters, tail); geometry (loop).

    >>> eye = soft_eye(pin_mm=12, cable_mm=2.38125, sleeve_before_mm=11, tail_mm=5)
    >>> eye.length_mm, eye.bearing_to_sleeve_mm, round(eye.loop_mm, 1)
    (36.0, 42.0, 95.6)
    """
    pin, cable = above_zero(pin_mm, "the pin"), above_zero(cable_mm, "the cable's diameter")
    growth = not_negative(growth_mm, "the sleeve's growth")
    outside = cable if outside_mm is None else above_zero(outside_mm, "what lies on the pin")
    if outside < cable:
        raise Refusal(f"{float(outside):g} mm over the coating of a {float(cable):g} mm cable", "no less than the bare cable", "measure both again")
    length = EYE_PINS * pin + growth if length_mm is None else above_zero(length_mm, "the eye's length")
    _check_pin(pin, cable, length, growth)
    if (pin + outside) / 2 >= length:
        raise Refusal(f"{float(outside):g} mm on a pin of {float(pin):g} mm in an eye of {float(length):g} mm", "an eye longer than half of both together",
                      "measure the coat again, or make the eye longer")
    loop, parts = _loop_mm(float(pin), float(cable), float(outside), float(length))
    eye = SoftEye(loop, float(length + pin / 2), sleeve_before_mm, tail_mm, float(pin), float(length),
                  side_force_fraction(float(pin), float(length - growth)), parts)
    _check_eye("soft", eye, cable_mm)
    return eye


def least_pin_mm(cable_mm: float) -> float:
    """The thinnest pin for a soft eye in mm, two diameters of the bare cable, rounded up to 0.01 mm: what must at least be is never rounded down.

    Errors: `Refusal` unless the cable's diameter in mm is above zero. Source: EN 13414-1 Table 4 note 1.

    >>> least_pin_mm(2.38125)
    4.77
    """
    return float(round_to(PIN_DIAMETERS * above_zero(cable_mm, "the cable's diameter"), "0.01", "up"))


def _check_pin(pin: Fraction, cable: Fraction, length: Fraction, growth: Fraction) -> None:
    if below(pin, PIN_DIAMETERS * cable):
        raise Refusal(f"a pin of {float(pin):g} mm in a soft eye of {float(round_to(cable, '0.01', 'nearest')):g} mm cable",
                      f"a pin of at least two cable diameters, {float(least_pin_mm(cable)):g} mm (EN 13414-1 Table 4 note 1)",
                      "take a larger pin, or a thimble")
    if below(length - growth, EYE_PINS * pin):
        grown = " and the sleeve's growth" if growth else ""
        raise Refusal(f"a soft eye of {float(length):g} mm, sleeve to pin centre, for a {float(pin):g} mm pin",
                      f"at least three pin diameters{grown}, {float(EYE_PINS * pin + growth):g} mm", "make the eye longer")


def _loop_mm(pin_mm: float, cable_mm: float, outside_mm: float, length_mm: float) -> tuple[float, tuple[tuple[str, float], ...]]:
    """Both tangents and the arc: from the legs' centre lines, half a cable either side, to the circle round the pin."""
    radius, offset = (pin_mm + outside_mm) / 2, cable_mm / 2
    reach = math.hypot(length_mm, offset)
    straight = math.sqrt(reach * reach - radius * radius)
    half_wrap = math.pi - math.atan2(offset, length_mm) - math.acos(radius / reach)
    parts = (("two straight legs, sleeve to pin", 2 * straight), ("round the pin, along the cable's centre line", 2 * radius * half_wrap))
    return math.fsum(part for _, part in parts), parts


def side_force_fraction(pin_mm: float, length_mm: float) -> float:
    """The force across the sleeve's mouth for each unit of load on a soft eye: tan(phi) / 2, sin(phi) = (D / 2) / E.

    `pin_mm` is the pin's diameter D and `length_mm` the eye's length E, from sleeve to pin centre, both in mm.
    Errors: `Refusal` unless both are above zero and the length exceeds half the pin.
    Source: statics: each leg carries half the load at phi from the pull's line.

    >>> round(side_force_fraction(12, 36), 4)
    0.0845
    """
    sine = above_zero(pin_mm, "the pin") / 2 / above_zero(length_mm, "the eye's length")
    if sine >= 1:
        raise Refusal(f"an eye of {length_mm} mm for a {pin_mm} mm pin", "more than half the pin's diameter", "make the eye longer")
    return math.tan(math.asin(float(sine))) / 2


# --- cut length -----------------------------------------------------------------------------------------

def bearing_to_bearing_mm(centres_mm: float, first_pin_mm: float, second_pin_mm: float) -> float:
    """The length between bearing points, in mm, where an order gives it between the pins' centres.

    The cable bears on the far side of each pin: half of each pin is added. `centres_mm` is between the centres,
    `first_pin_mm` and `second_pin_mm` are the pins' diameters, all in mm. Errors: `Refusal` unless all are above zero.
    Source: geometry.

    >>> bearing_to_bearing_mm(500, 12, 10)
    511.0
    """
    return float(above_zero(centres_mm, "the length between pin centres")
                 + (above_zero(first_pin_mm, "the first pin") + above_zero(second_pin_mm, "the second pin")) / 2)


def cut_length_mm(pin_to_pin_mm: float, first: EyeParts, second: EyeParts, correction_mm: float = 0,
                  diameter_mm: float | None = None, stretch_mm: float = 0) -> CutLength:
    """The length to cut, in mm, for an assembly with an eye at each end: thimble or soft, in any mix.

    L = pin to pin - (E1 + E2) + for each eye (loop + sleeve before pressing + tail before pressing), and the
    correction kept from the trial piece, less the stretch where the length is asked for under a stated tension.
    `pin_to_pin_mm` is between bearing points; `correction_mm` from `trial_piece`; `diameter_mm` the cable's: with it
    a tail of less than two diameters is refused; `stretch_mm` the elastic stretch at that tension. All in mm.
    Errors: `Refusal` for parts that are negative or, corrected or not, leave no cable between the sleeves; for a correction of more
    than a tenth of the length.
    Source: common practice, worked out from the parts.

    >>> eye = EyeParts(loop_mm=70, bearing_to_sleeve_mm=30, sleeve_before_mm=15, tail_mm=7)
    >>> cut_length_mm(2400, eye, eye).total_mm
    2524.0
    """
    pin_to_pin = above_zero(pin_to_pin_mm, "the length pin to pin")
    correction = check_correction(correction_mm, pin_to_pin)
    stretch = not_negative(stretch_mm, "the stretch")
    steps: list[tuple[str, Fraction]] = [("pin to pin, bearing point to bearing point", pin_to_pin)]
    for name, eye in (("first", first), ("second", second)):
        _check_eye(name, eye, diameter_mm)
        steps += _eye_steps(f"{name} {eye.kind}", eye)
    if stretch:
        steps.append(("less the elastic stretch at the stated tension", -stretch))
    if correction:
        steps.append(("correction from the trial piece", correction))
    _check_room(pin_to_pin - stretch, first, second)
    _check_room(pin_to_pin - stretch + correction, first, second, f", with a correction of {float(correction):g} mm")
    return added(steps)


def _eye_steps(name: str, eye: EyeParts) -> list[tuple[str, Fraction]]:
    return [(f"{name}: less bearing point to sleeve", -exact(eye.bearing_to_sleeve_mm)),
            (f"{name}: cable round the loop", exact(eye.loop_mm)),
            (f"{name}: sleeve before pressing", exact(eye.sleeve_before_mm)),
            (f"{name}: tail before pressing", exact(eye.tail_mm))]


def trial_piece(ordered_mm: float, measured_mm: float, tolerance_mm: float) -> TrialPiece:
    """The trial piece, pressed and measured pin to pin, against its order: within tolerance, and the correction to keep.

    A piece that came out long makes the next cut shorter by as much. `ordered_mm` and `measured_mm` are pin to pin and
    `tolerance_mm` is either way, all in mm. The tolerance itself still passes.
    Errors: `Refusal` unless the lengths are above zero and the tolerance not below it.
    Source: common practice; the arithmetic is a difference.

    >>> trial_piece(500, 502.5, 3)
    TrialPiece(difference_mm=2.5, correction_mm=-2.5, within=True)
    """
    difference = above_zero(measured_mm, "the measured length") - above_zero(ordered_mm, "the ordered length")
    return TrialPiece(float(difference), float(-difference), abs(difference) <= not_negative(tolerance_mm, "the tolerance"))


def clear_length_mm(pin_to_pin_mm: float, first: EyeParts, second: EyeParts, diameter_mm: float, growth_mm: float = 0) -> float:
    """The clear cable between the two sleeves after pressing, in mm: at least ten diameters, or refused.

    `pin_to_pin_mm` between bearing points, `diameter_mm` the cable's, `growth_mm` what each sleeve grows, all of it
    counted towards the clear cable; all in mm. Not for the two sleeves inside a lap splice.
    Errors: `Refusal` for less than ten diameters, with the least length named.
    Source: WAC 296-24-29425(2)(a), written for slings and kept here for every assembly.

    >>> eye = EyeParts(loop_mm=70, bearing_to_sleeve_mm=30, sleeve_before_mm=15, tail_mm=7)
    >>> clear_length_mm(500, eye, eye, diameter_mm=3.175, growth_mm=5)
    400.0
    """
    for name, eye in (("first", first), ("second", second)):
        _check_eye(name, eye, None)
    taken = _taken(first, second) + 2 * not_negative(growth_mm, "the sleeve's growth")
    clear = above_zero(pin_to_pin_mm, "the length pin to pin") - taken
    least = CLEAR_DIAMETERS * above_zero(diameter_mm, "the cable's diameter")
    if below(clear, least):
        raise Refusal(f"a length of {float(pin_to_pin_mm):g} mm pin to pin", f"at least {float(taken + least):g} mm, which leaves "
                      f"{int(CLEAR_DIAMETERS)} diameters of cable between the sleeves (WAC 296-24-29425(2)(a))", "ask for a longer assembly")
    return float(clear)


# --- checks ---------------------------------------------------------------------------------------------

def _check_eye(name: str, eye: EyeParts, diameter_mm: float | None) -> None:
    of_kind(eye, EyeParts, f"the {name} eye's parts")
    for part, words in (("loop_mm", "cable round the loop"), ("bearing_to_sleeve_mm", "bearing point to sleeve"),
                        ("sleeve_before_mm", "sleeve before pressing"), ("tail_mm", "tail before pressing")):
        above_zero(getattr(eye, part), f"the {name} eye's {words}")
    check_tail(eye.tail_mm, diameter_mm, f"the {name} eye")


def _taken(first: EyeParts, second: EyeParts) -> Fraction:
    return sum((exact(eye.bearing_to_sleeve_mm) + exact(eye.sleeve_before_mm) for eye in (first, second)), Fraction(0))


def _check_room(pin_to_pin: Fraction, first: EyeParts, second: EyeParts, corrected: str = "") -> None:
    taken = _taken(first, second)
    if pin_to_pin <= taken:
        raise Refusal(f"{float(pin_to_pin):g} mm pin to pin{corrected}", f"more than {float(taken):g} mm, what the two eyes and sleeves take",
                      "measure again, or ask for a longer assembly")
