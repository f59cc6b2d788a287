"""A cable across a gap: a load at one place, a load all along, the sag that checks a tension. mm and N; sag is always asked for.

Sag is measured plumb, down from the straight line between the two ends: at the load, or at mid-span for a load all along.
"""

from __future__ import annotations

import math

from rigcalc._given import of_kind
from rigcalc._records import record
from rigcalc._statics import finite, governing, positive
from rigcalc.errors import Refusal
from rigcalc.reference import constant

__all__ = ["GREATEST_RISE", "GREATEST_SAG", "LEAST_SAG", "ParabolaCatenary", "SagCheck", "Span", "catenary_span", "parabola_against_catenary",
           "point_load_span", "sag_at_tension_mm", "sag_check", "tension_at_sag_n", "uniform_load_span", "with_own_weight"]

GREATEST_SAG: float = float(constant("greatest parabola sag").value)  # share of the span
LEAST_SAG: float = float(constant("least sag").value)  # share of the span
GREATEST_RISE: float = float(constant("greatest parabola rise").value)  # share of the span


@record
class Span:
    """A loaded span. Each end carries `horizontal_n` inwards and its own vertical force, all in N.

    `left_n` and `right_n` are the tensions at the ends; a vertical force is positive where the end holds the cable up;
    the angles, in rad, are the cable's at the ends, from the horizontal, positive where it rises towards the end.
    `rise_mm` is how much higher the right end is; `at_mm` is where a single load hangs, from the left end, else None.
    `length_mm` is the cable between the ends, `governs` the end (or ends) with the greatest tension.
    """

    shape: str
    load_n: float
    span_mm: float
    sag_mm: float
    rise_mm: float
    at_mm: float | None
    horizontal_n: float
    left_vertical_n: float
    right_vertical_n: float
    length_mm: float

    @property
    def left_n(self) -> float:
        """Tension at the left end, N."""
        return math.hypot(self.horizontal_n, self.left_vertical_n)

    @property
    def right_n(self) -> float:
        """Tension at the right end, N."""
        return math.hypot(self.horizontal_n, self.right_vertical_n)

    @property
    def greatest_n(self) -> float:
        """The greatest tension in the cable, N: always at an end."""
        return max(self.left_n, self.right_n)

    @property
    def governs(self) -> tuple[str, ...]:
        """The end or ends with the greatest tension."""
        return governing(("left", "right"), (self.left_n, self.right_n))

    @property
    def left_angle_rad(self) -> float:
        """The cable's angle at the left end, rad from the horizontal."""
        return math.atan2(self.left_vertical_n, self.horizontal_n)

    @property
    def right_angle_rad(self) -> float:
        """The cable's angle at the right end, rad from the horizontal."""
        return math.atan2(self.right_vertical_n, self.horizontal_n)


@record
class ParabolaCatenary:
    """One cable under its own weight, as parabola and as catenary: by how much the parabola's horizontal force and greatest
    tension are the larger (as a share), by how many mm its length, and the same in words."""

    parabola: Span
    catenary: Span
    horizontal_share: float
    greatest_share: float
    length_mm: float
    said: str


@record
class SagCheck:
    """The sag in mm that shows a tension while a weight hangs at mid-span: its two parts, and how to use it."""

    sag_mm: float
    from_hung_mm: float
    from_own_mm: float
    said: str


def _given(span_mm: object, sag_mm: object, load_n: object, rise_mm: object) -> tuple[float, float, float, float]:
    if sag_mm is None:
        raise Refusal("a span without its sag", "the sag in mm", "ask how far it may sag: without it there is no tension to work out")
    span, sag = positive(span_mm, "the span in mm"), positive(sag_mm, "the sag in mm")
    if sag < LEAST_SAG * span * (1 - 1e-12):
        raise Refusal(f"a sag of {sag:g} mm on a span of {span:g} mm", f"at least {LEAST_SAG:g} of the span", "measure the sag again")
    return span, sag, positive(load_n, "the load in N"), finite(rise_mm, "the rise in mm")


# --- a load at one place --------------------------------------------------------------------------

def point_load_span(span_mm: float, sag_mm: float, load_n: float, at_mm: float | None = None, rise_mm: float = 0.0) -> Span:
    """One load hung anywhere on a span; the cable's own weight is left out.

    `span_mm`: level distance between the ends in mm. `sag_mm`: under the load, below the straight line between the ends,
    in mm. `load_n`: the load in N. `at_mm`: where it hangs, in mm from the left end, mid-span when not given.
    `rise_mm`: how much higher the right end is, in mm (below zero: lower).
    Range: a sag of `LEAST_SAG` of the span or more; the load between the ends. Errors: `Refusal` for anything else.
    Source: statics: two straight parts; at mid-span of a level span T = W / (2 sin a).

    >>> lantern = point_load_span(30 * 304.8, 304.8, 9)
    >>> round(lantern.left_n, 1), round(lantern.right_n, 1), lantern.governs
    (67.6, 67.6, ('left', 'right'))
    """
    span, sag, load, rise = _given(span_mm, sag_mm, load_n, rise_mm)
    at = span / 2 if at_mm is None else positive(at_mm, "the load's place in mm from the left end")
    beyond = span - at
    if beyond <= 0:
        raise Refusal(f"a load at {at:g} mm on a span of {span:g} mm", "a place between the ends", "measure from the left end again")
    horizontal = load * at * beyond / (span * sag)
    tilt = horizontal * rise / span
    length = math.hypot(at, sag - rise * at / span) + math.hypot(beyond, sag + rise * beyond / span)
    return Span("point load", load, span, sag, rise, at, horizontal, load * beyond / span - tilt, load * at / span + tilt, length)


# --- a load all along -----------------------------------------------------------------------------

def uniform_load_span(span_mm: float, sag_mm: float, load_n: float, rise_mm: float = 0.0) -> Span:
    """A load spread evenly along the span (a curtain, or the cable's own weight while it sags little): a parabola.

    `span_mm`: level distance between the ends in mm. `sag_mm`: at mid-span, below the straight line between the ends, in mm.
    `load_n`: the whole load in N, never per metre. `rise_mm`: how much higher the right end is, in mm (below zero: lower).
    Range: sag from `LEAST_SAG` up to `GREATEST_SAG` and rise up to `GREATEST_RISE` of the span. Errors: `Refusal` outside.
    Source: statics: H = w L^2 / 8 s, with w the load per length.

    >>> curtain = uniform_load_span(6000, 150, 6 * 9.80665)
    >>> round(curtain.horizontal_n), round(curtain.greatest_n)
    (294, 296)
    """
    span, sag, load, rise = _given(span_mm, sag_mm, load_n, rise_mm)
    for share, most, word in ((sag / span, GREATEST_SAG, "sag"), (abs(rise) / span, GREATEST_RISE, "rise")):
        if share > most * (1 + 1e-12):
            raise Refusal(f"a {word} of {share:.3g} of the span", f"up to {most:g} of the span for a parabola",
                          "take the catenary for a cable's own weight, and an engineer for anything else")
    horizontal = load * span / (8 * sag)
    tilt = horizontal * rise / span
    return Span("parabola", load, span, sag, rise, None, horizontal, load / 2 - tilt, load / 2 + tilt, _arc_mm(span, sag, rise))


def _arc_mm(span: float, sag: float, rise: float) -> float:
    """The parabola's length: the slope runs from first to last at an even rate."""
    bend = 4 * sag / span
    first, last = rise / span - bend, rise / span + bend
    return span * (_bent(last) - _bent(first)) / (last - first)


def _bent(slope: float) -> float:
    return (slope * math.hypot(1, slope) + math.asinh(slope)) / 2


def with_own_weight(span: Span, own_weight_n: float) -> Span:
    """The same span with the cable's own weight added, at the same sag: the pulls that an end and a limit really get.

    `span` from `point_load_span` or `uniform_load_span`; `own_weight_n`: the weight of the cable between the ends in N, above 0.
    Under a load all along it is more of that load; beside a single load each straight part's weight acts at its middle, and the
    parts' own small sag is left out. `load_n` stays what hangs at one place, or becomes the whole load all along.
    Errors: `Refusal` for what is no span and for a weight of nothing. Source: statics: moments about the load, and about the other end.

    >>> lantern = point_load_span(30 * 304.8, 304.8, 9)
    >>> round(with_own_weight(lantern, 0.9).greatest_n, 1)
    71.0
    """
    own = positive(own_weight_n, "the cable's own weight in N")
    given = of_kind(span, Span, "a span")
    if given.at_mm is None:
        load = uniform_load_span(given.span_mm, given.sag_mm, given.load_n, given.rise_mm).load_n
        return uniform_load_span(given.span_mm, given.sag_mm, load + own, given.rise_mm)
    bare = point_load_span(given.span_mm, given.sag_mm, given.load_n, given.at_mm, given.rise_mm)
    at, beyond = bare.at_mm, bare.span_mm - bare.at_mm
    left_own = own * math.hypot(at, bare.sag_mm - bare.rise_mm * at / bare.span_mm) / bare.length_mm
    level_end_n = (bare.load_n * beyond + left_own * (bare.span_mm - at / 2) + (own - left_own) * beyond / 2) / bare.span_mm
    horizontal = (level_end_n - left_own / 2) * at / bare.sag_mm
    tilt = horizontal * bare.rise_mm / bare.span_mm
    return Span("point load and own weight", bare.load_n, bare.span_mm, bare.sag_mm, bare.rise_mm, at, horizontal, level_end_n - tilt,
                bare.load_n + own - level_end_n + tilt, bare.length_mm)


def catenary_span(span_mm: float, sag_mm: float, load_n: float, rise_mm: float = 0.0) -> Span:
    """A cable that hangs under its own weight alone: the true catenary.

    `span_mm`: level distance between the ends in mm. `sag_mm`: at mid-span, below the straight line between the ends, in mm.
    `load_n`: the cable's whole weight in N. `rise_mm`: how much higher the right end is, in mm (below zero: lower).
    Range: sag and rise up to ten spans. Errors: `Refusal` outside. Source: geometry of the catenary y = a cosh(x / a), its
    parameter found by bisection.

    >>> round(catenary_span(6000, 150, 6 * 9.80665).horizontal_n)
    294
    """
    span, sag, load, rise = _given(span_mm, sag_mm, load_n, rise_mm)
    if max(sag, abs(rise)) > 10 * span:
        raise Refusal(f"a sag of {sag:g} mm and a rise of {rise:g} mm on a span of {span:g} mm", "up to ten spans", "measure again")
    u = _half_width(sag / span, rise / span)
    a = span / (2 * u)
    middle = math.asinh(rise / (2 * a * math.sinh(u)))  # where mid-span stands from the lowest point, in a
    length = math.hypot(rise, 2 * a * math.sinh(u))
    horizontal = load / length * a
    return Span("catenary", load, span, sag, rise, None, horizontal, horizontal * math.sinh(u - middle),
                horizontal * math.sinh(u + middle), length)


def _half_width(sag: float, rise: float) -> float:
    """Half the span in units of the catenary's parameter, for sag and rise as shares of the span: the sag grows with it."""
    low, high = 0.0, 1.0

    def sagged(u: float) -> float:
        return math.hypot(math.sinh(u / 2) ** 2 / u, rise / 2 * math.tanh(u / 2))

    while sagged(high) < sag:
        high *= 2
    while low < (middle := (low + high) / 2) < high:
        low, high = (middle, high) if sagged(middle) < sag else (low, middle)
    return high


def parabola_against_catenary(span_mm: float, sag_mm: float, load_n: float, rise_mm: float = 0.0) -> ParabolaCatenary:
    """One cable under its own weight worked both ways, with the difference stated.

    Parameters as for `uniform_load_span`: `span_mm`, `sag_mm`, `rise_mm` in mm, `load_n` (the whole weight) in N.
    Range: where the parabola may be used. Errors: `Refusal` outside. Source: statics; the catenary is the exact one.

    >>> parabola_against_catenary(6000, 600, 60).said
    'At a sag of 0.1 of the span the parabola gives 1.30 % more horizontal force and 1.11 % more greatest tension than the catenary.'
    """
    parabola, catenary = (shape(span_mm, sag_mm, load_n, rise_mm) for shape in (uniform_load_span, catenary_span))
    horizontal = parabola.horizontal_n / catenary.horizontal_n - 1
    greatest = parabola.greatest_n / catenary.greatest_n - 1
    said = (f"At a sag of {parabola.sag_mm / parabola.span_mm:.3g} of the span the parabola gives {_more(horizontal)} horizontal force "
            f"and {_more(greatest)} greatest tension than the catenary.")
    return ParabolaCatenary(parabola, catenary, horizontal, greatest, parabola.length_mm - catenary.length_mm, said)


def _more(share: float) -> str:
    return f"{abs(share) * 100:.2f} % {'less' if share < 0 else 'more'}"


# --- the sag that checks a tension ----------------------------------------------------------------

def sag_check(tension_n: float, span_mm: float, hung_n: float, own_weight_n: float = 0.0) -> SagCheck:
    """How far a level cable sags under a weight at mid-span when its tension is just so: the check of a tightened cable.

    `tension_n`: the tension at the ends in N, with the weight hanging. `span_mm`: between the ends in mm. `hung_n`: the weight hung
    at mid-span, in N. `own_weight_n`: the cable's own weight in N, added when given (it sags as a parabola).
    Range: level ends; a tension above half of all that hangs; with own weight the sag up to `GREATEST_SAG` of the span.
    Errors: `Refusal` outside. Source: statics: T = W / (2 sin a); with own weight H s = W L / 4 + w L^2 / 8.

    >>> sag_check(667.2332, 2400, 19.6133).said
    'Measure down from the straight line between the ends while the weight hangs. Less sag: too tight. Own weight is left out, so at this sag the cable is tighter than asked by half of its own weight over the weight hung.'
    """
    tension, span, hung, own = _hung(tension_n, "the tension in N", span_mm, hung_n, own_weight_n)
    half = (hung + own) / 2
    if tension <= half:
        raise Refusal(f"a tension of {tension:g} N", f"more than half of what hangs, {half:g} N", "give the tension of the cable at its ends")
    horizontal = math.sqrt((tension - half) * (tension + half))
    parts = hung * span / 4 / horizontal, own * span / 8 / horizontal
    _refuse_deep(sum(parts), span, own)
    left_out = "Own weight is added." if own else ("Own weight is left out, so at this sag the cable is tighter than asked by half of "
                                                   "its own weight over the weight hung.")
    return SagCheck(sum(parts), *parts, "Measure down from the straight line between the ends while the weight hangs. "
                                        f"Less sag: too tight. {left_out}")


def sag_at_tension_mm(tension_n: float, span_mm: float, hung_n: float, own_weight_n: float = 0.0) -> float:
    """The sag in mm at mid-span under a weight hung there, when the cable has just that tension; less sag is too tight.

    Without `own_weight_n` the cable at this sag is tighter than asked, by half of its own weight over the weight hung.
    `tension_n` in N with the weight hanging, `span_mm` in mm, `hung_n` and `own_weight_n` in N: as in `sag_check`, with its range.
    Errors: `Refusal` outside. Source: statics: T = W / (2 sin a).

    >>> round(sag_at_tension_mm(150 * 4.4482216, 2400, 2 * 9.80665), 1)
    17.6
    """
    return sag_check(tension_n, span_mm, hung_n, own_weight_n).sag_mm


def tension_at_sag_n(sag_mm: float, span_mm: float, hung_n: float, own_weight_n: float = 0.0) -> float:
    """The tension in N at the ends that a measured sag shows, a weight hanging at mid-span: the inverse of `sag_at_tension_mm`.

    `sag_mm` and `span_mm` in mm, `hung_n` and `own_weight_n` in N, as in `sag_check`, with its range.
    Errors: `Refusal` outside. Source: statics: T = W / (2 sin a).

    >>> round(tension_at_sag_n(17.64, 2400, 2 * 9.80665))
    667
    """
    sag, span, hung, own = _hung(sag_mm, "the sag in mm", span_mm, hung_n, own_weight_n)
    _refuse_deep(sag, span, own)
    return math.hypot((hung * span / 4 + own * span / 8) / sag, (hung + own) / 2)


def _hung(first: object, what: str, span_mm: object, hung_n: object, own_weight_n: object) -> tuple[float, float, float, float]:
    own = finite(own_weight_n, "the cable's own weight in N")
    if own < 0:
        raise Refusal(f"{own:g} N for the cable's own weight", "nought or more", "weigh it again")
    return positive(first, what), positive(span_mm, "the span in mm"), positive(hung_n, "the weight hung in N"), own


def _refuse_deep(sag: float, span: float, own: float) -> None:
    if own and sag > GREATEST_SAG * span * (1 + 1e-12):
        raise Refusal(f"a sag of {sag / span:.3g} of the span with own weight", f"up to {GREATEST_SAG:g} of the span", "hang less, or tighten")
