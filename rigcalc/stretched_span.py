"""A span whose cable stretches: from the cable's own length to its sag and tension under load, as a range."""

from __future__ import annotations

import math
from collections.abc import Callable

from rigcalc._given import among, said
from rigcalc._records import record
from rigcalc._statics import positive
from rigcalc.errors import Refusal
from rigcalc.reference import constant
from rigcalc.spans import Span, point_load_span, uniform_load_span

__all__ = ["GREATEST_STRAIN", "StretchedSpan", "sag_with_stretch"]

GREATEST_STRAIN: float = float(constant("greatest elastic strain").value)


@record
class StretchedSpan:
    """The span with the stiffest and with the softest cable of the range; the sag change in mm against a cable that does not
    stretch (None where such a cable would not reach), from the stiffest to the softest."""

    stiffest: Span
    softest: Span
    unstretched_sag_mm: float | None
    sag_change_mm: tuple[float, float] | None


def sag_with_stretch(span_mm: float, cable_mm: float, load_n: float, stiffness_low_n: float, stiffness_high_n: float,
                     load: str = "point") -> StretchedSpan:
    """Sag and tension of a level span from the length of its cable, which stretches elastically under its load.

    Elastic stretch only: what a new cable gives once and for all (constructional stretch) belongs in `cable_mm`.

    `span_mm`: between the ends in mm. `cable_mm`: the cable between them without load, in mm; less than the span if it is put
    in tight. `load_n`: the load in N. `stiffness_low_n`, `stiffness_high_n`: metallic area in mm2 times the modulus in
    N/mm2, so in N, the lowest and the highest that this cable can have. `load`: "point" (at mid-span) or "uniform".
    Range: a stretch up to `GREATEST_STRAIN`, a sag within the range of the span. Errors: `Refusal` outside.
    Source: statics and Hooke's law: cable length + stretch = length of the hanging shape, solved by bisection.

    >>> found = sag_with_stretch(9144, 9164, 40, 200000, 250000)
    >>> round(found.stiffest.sag_mm, 1), round(found.softest.sag_mm, 1), round(found.unstretched_sag_mm, 1)
    (365.6, 377.6, 302.6)
    """
    span, cable, weight = (positive(value, what) for value, what in (
        (span_mm, "the span in mm"), (cable_mm, "the cable in mm"), (load_n, "the load in N")))
    low, high = positive(stiffness_low_n, "the lowest stiffness in N"), positive(stiffness_high_n, "the highest stiffness in N")
    if low > high:
        raise Refusal(f"a stiffness from {low:g} to {high:g} N", "the lower one first", "change them round")
    if not among(load, _SHAPES):
        raise Refusal(f"the load {said(load)}", " or ".join(_SHAPES), "say how the load lies")
    stiffest, softest = (_solved(span, cable, weight, stiffness, load) for stiffness in (high, low))
    bare = _sag_of_length(span, cable, load) if cable > span else None
    change = None if bare is None else (stiffest.sag_mm - bare, softest.sag_mm - bare)
    return StretchedSpan(stiffest, softest, bare, change)


def _point(span: float, sag: float, load: float) -> tuple[float, float]:
    """Length of the shape and tension along it, for a load at mid-span."""
    length = 2 * math.hypot(span / 2, sag)
    return length, load / (4 * sag) * length


def _uniform(span: float, sag: float, load: float) -> tuple[float, float]:
    """Length of the parabola, and the mean tension along it."""
    slope = 4 * sag / span
    length = span / 2 * (math.hypot(1, slope) + math.asinh(slope) / slope)
    return length, load * span / (8 * sag) * span * (1 + slope * slope / 3) / length


_SHAPES = {"point": _point, "uniform": _uniform}


def _solved(span: float, cable: float, load: float, stiffness: float, name: str) -> Span:
    def too_long(sag: float) -> bool:
        length, tension = _SHAPES[name](span, sag, load)
        return length > cable * (1 + tension / stiffness)

    sag = _crossing(too_long, span + cable)
    strain = _SHAPES[name](span, sag, load)[1] / stiffness
    if strain > GREATEST_STRAIN:
        raise Refusal(f"a cable that would stretch by {strain * 100:.3g} %", f"up to {GREATEST_STRAIN * 100:g} %",
                      "let it sag more, or take a heavier cable")
    return point_load_span(span, sag, load) if name == "point" else uniform_load_span(span, sag, load)


def _sag_of_length(span: float, cable: float, name: str) -> float:
    return _crossing(lambda sag: _SHAPES[name](span, sag, 1.0)[0] > cable, span + cable)


def _crossing(beyond: Callable[[float], bool], start: float) -> float:
    """The sag at which the shape becomes longer than the cable: the one grows with sag, the other's stretch shrinks."""
    low, high = 0.0, start
    while not beyond(high):
        high *= 2
    while low < (middle := (low + high) / 2) < high and high > 1e-12 * start:
        low, high = (low, middle) if beyond(middle) else (middle, high)
    return high
