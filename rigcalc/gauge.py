"""Gauging: a caliper reading with its uncertainty, a go gauge with its dates, and the risk of judging wrongly.

A pass at the gauge is necessary and never sufficient: every judgement here says so and lists what a gauge cannot see.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from datetime import date
from fractions import Fraction
from statistics import NormalDist, fmean, median, stdev

from rigcalc._given import among, listed, said, words, yes_or_no
from rigcalc._records import record
from rigcalc.cautions import INVENTED_GAUGE
from rigcalc.errors import Refusal
from rigcalc.reference import constant, table
from rigcalc.sleeve import fill, refuse_size_without_sleeve
from rigcalc.units import exact

__all__ = ["NEVER_SUFFICIENT", "SIDES", "GlobalRisk", "Judgement", "SpecificRisk", "Uncertainty", "caliper_uncertainty",
           "global_risk", "global_risk_of", "go_gauge", "guard_factor", "judge_reading", "specific_risk", "unseen"]

NEVER_SUFFICIENT = ("A pass at the gauge is necessary and never sufficient: a gauge checks one outside dimension and "
                    "knows nothing of what lies inside.")
SIDES = ("at most", "at least")
LEAST_READINGS = 3
LEAST_READING: Fraction = constant("least reading of a crimp").value  # of what it lies beside; twice that is the most
_STANDARD = NormalDist()


@record
class Uncertainty:
    """A mean of repeated readings, its standard uncertainties in mm, and the coverage factor with its name."""

    mean_mm: float
    readings: int
    type_a_mm: float
    resolution_mm: float
    calibration_mm: float
    combined_mm: float
    effective_freedom: float
    coverage_factor: float
    coverage_name: str
    expanded_mm: float


@record
class Judgement:
    """Pass, fail or not proven, and what the judgement does not say.

    `pass_to_mm` and `fail_from_mm`: the edges of the zones, guard band included. `chance_good`: the chance that the size
    meets the limit, from this reading alone. All three are None for a go gauge, which measures nothing.
    """

    outcome: str
    why: str
    do: str
    reading_mm: float | None
    limit_mm: float | None
    pass_to_mm: float | None
    fail_from_mm: float | None
    chance_good: float | None
    limit_source: str
    cautions: tuple[str, ...]
    never_sufficient: str
    unseen: tuple[str, ...]


@record
class SpecificRisk:
    """For one piece that was measured: the chance that it is good, and that it is bad; the best estimate in mm."""

    good: float
    bad: float
    estimate_mm: float
    estimate_uncertainty_mm: float


@record
class GlobalRisk:
    """For pieces to come, as shares of all pieces: bad, bad and passed, good and rejected, passed."""

    bad: float
    bad_and_passed: float
    good_and_rejected: float
    passed: float


# --- uncertainty ------------------------------------------------------------------------------

def caliper_uncertainty(readings_mm: Sequence[float], resolution_mm: float, calibration_mm: float, calibration_factor: float,
                        confidence: float = 0.95) -> Uncertainty:
    """Uncertainty of the mean of repeated caliper readings, in mm.

    Parameters: at least three readings of the same place, in mm; the caliper's step in mm; from its calibration
    certificate the expanded uncertainty in mm and the coverage factor that goes with it; the two-sided
    confidence of the result, above 0.5 and below 1.
    Type A: s / sqrt(n). Type B: step / sqrt(12), and certificate / factor. Combined: root of the sum of squares.
    The coverage factor comes from the t distribution with the effective degrees of freedom, rounded down.
    It holds for these readings only: pressure, angle and the place chosen can add more.
    Errors: `Refusal` for fewer than three readings, a figure that is not above zero, or a reading of less than half or
    more than twice the middle one (a slip of units).
    Source: JCGM 100:2008 4.2, 4.3.7, F.2.2.1, G.4.1 and G.6.4 (clause numbers from memory; the arithmetic is checked by hand).

    >>> found = caliper_uncertainty([6.31, 6.33, 6.32, 6.32], 0.01, 0.02, 2)
    >>> round(found.combined_mm, 4), found.coverage_name
    (0.0112, 'k = 1.97, two-sided 95 % of a t distribution with 168 effective degrees of freedom')
    """
    readings = [_above_zero(reading, "the reading") for reading in _listed(readings_mm)]
    if len(readings) < LEAST_READINGS:
        raise Refusal(f"{len(readings)} reading(s)", f"at least {LEAST_READINGS} readings of the same place",
                      "measure again, lifting the caliper off each time")
    for reading in readings:
        _refuse_slip(reading, "a reading", median(readings), "the middle reading")
    step, expanded = _above_zero(resolution_mm, "the caliper's step"), _above_zero(calibration_mm, "the certificate's uncertainty")
    factor = _above_zero(calibration_factor, "the certificate's coverage factor")
    _chance(confidence, "the confidence")
    type_a = stdev(readings) / math.sqrt(len(readings))
    parts = (type_a, step / math.sqrt(12), expanded / factor)
    combined = math.hypot(*parts)
    freedom = math.inf if type_a == 0 else (len(readings) - 1) * (combined / type_a) ** 4
    k, name = _coverage(freedom, confidence)
    return Uncertainty(fmean(readings), len(readings), *parts, combined, freedom, k, name, k * combined)


def _coverage(freedom: float, confidence: float) -> tuple[float, str]:
    """Degrees of freedom are rounded down: the factor is then never too small."""
    upper = (1 + confidence) / 2
    if math.isinf(freedom):
        k, kind = _STANDARD.inv_cdf(upper), "a normal distribution (all readings alike)"
    else:
        from scipy.special import stdtrit

        whole = math.floor(min(freedom, 1e9) + 1e-9)
        k, kind = float(stdtrit(whole, upper)), f"a t distribution with {whole} effective degrees of freedom"
    return k, f"k = {k:.2f}, two-sided {confidence * 100:g} % of {kind}"


# --- judging ----------------------------------------------------------------------------------

def guard_factor(risk: float) -> float:
    """How many standard uncertainties a guard band is wide, so that at its edge a bad piece passes with this chance.

    `risk`: above 0 and below 0.5, such as 0.05. Errors: `Refusal` outside.
    Source: JCGM 106:2012 8.3 (one-sided, normal; clause from memory); the quantile is mathematics.

    >>> round(guard_factor(0.05), 3), round(guard_factor(0.01), 3)
    (1.645, 2.326)
    """
    value = exact(risk)
    if not 0 < value < exact(0.5):
        raise Refusal(f"the risk {said(risk)}", "a share above 0 and below 0.5, such as 0.05", "give the greatest chance of passing a bad piece")
    return -_STANDARD.inv_cdf(float(value))


def judge_reading(reading_mm: float, limit_mm: float | None, uncertainty_mm: float, guard: float, limit_source: str = "",
                  side: str = "at most", invented: bool = False) -> Judgement:
    """Whether a caliper reading shows that a maker's size is met: pass, fail or not proven.

    Parameters: reading in mm; the maker's limit in mm, or None where the maker publishes none; combined standard
    uncertainty in mm (not expanded); the guard band in standard uncertainties (`guard_factor(0.05)`);
    where the maker publishes the limit; whether the size must be "at most" or "at least" the limit;
    whether the limit is invented for teaching.
    Between the two guarded edges nothing is proven either way, and the piece is not released.
    Errors: `Refusal` where the maker publishes no size (record the reading, judge nothing), for a reading of less than half or more
    than twice the limit (a slip of units), and for an uncertainty or a guard that is not above zero: without a guard band a pass would only mean more likely than not.
    Source: JCGM 106:2012 clause 8 (guarded acceptance and guarded rejection; clause from memory).

    >>> judge_reading(6.20, 6.35, 0.05, guard_factor(0.05), "maker's sheet 4, edition 2").outcome
    'pass'
    >>> judge_reading(6.30, 6.35, 0.05, guard_factor(0.05), "maker's sheet 4, edition 2").outcome
    'not proven'
    """
    reading = _above_zero(reading_mm, "the reading")
    if limit_mm is None or not isinstance(limit_source, str) or not limit_source.strip():
        raise Refusal(f"a reading of {reading:g} mm without a size that the maker publishes", "a limit of the maker's sheet, with its name and edition",
                      "record the reading and do not judge it; use the maker's gauge, or ask the maker")
    limit, spread = _above_zero(limit_mm, "the maker's limit"), _above_zero(uncertainty_mm, "the standard uncertainty")
    _refuse_slip(reading, "a reading", limit, "the limit")
    band = _above_zero(guard, "the guard band, in standard uncertainties,") * spread
    sign = _sign(side)
    room = sign * (limit - reading)
    outcome = "pass" if room >= band - 1e-9 else "fail" if room < -band - 1e-9 else "not proven"
    why, do = _words(outcome, side, reading, limit, band)
    return Judgement(outcome, why, do, reading, limit, limit - sign * band, limit + sign * band,
                     _STANDARD.cdf(room / spread), limit_source, (INVENTED_GAUGE,) if yes_or_no(invented, "whether the limit is invented") else (), NEVER_SUFFICIENT, unseen())


def _words(outcome: str, side: str, reading: float, limit: float, band: float) -> tuple[str, str]:
    asked = f"reads {reading:.3f} mm; the maker asks for {side} {limit:.3f} mm; guard band {band:.3f} mm"
    ends = {"pass": ("shown to be within the limit", "look for everything on the list that a gauge cannot see"),
            "fail": ("shown to be beyond the limit", "press again once in the same place if nothing has loaded it, then gauge again; else scrap"),
            "not proven": ("too near the limit to tell good from bad", "do not release it; measure better or gauge it, and never squeeze it to fit")}
    return f"{asked}: {ends[outcome][0]}.", ends[outcome][1]


def go_gauge(passes: bool, gauge: str, slot: str, size: str, checked_on: date, valid_to: date, used_on: date) -> Judgement:
    """What a go gauge tells of one crimp: pass or fail, if the gauge may be used that day.

    Parameters: whether the slot went all the way on and turned; the gauge's number; the slot's size and the sleeve's
    size as marked; the day of its last check, the last day it is valid, and the day of use (dates).
    Errors: `Refusal` for a gauge without a number, used before its check or after its last day, or with its two days
    the wrong way round; a slot of another size, a size that no sleeve is made for, or an answer that is not yes or no.
    Source: common practice (a gauge has a number, a check on a date and a slot for each size; none in date, no assessment).

    >>> go_gauge(True, "GA", "1/8", "1/8", date(2026, 1, 5), date(2026, 7, 5), date(2026, 3, 2)).outcome
    'pass'
    """
    if not isinstance(passes, bool):
        raise Refusal(f"the answer {said(passes)}", "True (all the way on and turned) or False", "try the slot again")
    words(gauge, "the gauge's number")
    refuse_size_without_sleeve(size)
    _in_date(gauge, checked_on, valid_to, used_on)
    if not among(slot, (size,)):
        raise Refusal(f"slot {said(slot)} of gauge {gauge} on a sleeve of size {size}", f"the slot marked {size}",
                      "use the right slot: the next larger one passes an under-pressed crimp")
    why = f"slot {slot} of gauge {gauge} {'went on and turned' if passes else 'did not go on'}."
    do = ("look for everything on the list that a gauge cannot see" if passes
          else "press again once in the same place if nothing has loaded it, then gauge again; else scrap")
    return Judgement("pass" if passes else "fail", why, do, None, None, None, None, None, f"gauge {gauge}", (), NEVER_SUFFICIENT, unseen())


def _in_date(gauge: str, checked_on: date, valid_to: date, used_on: date) -> None:
    for day in (checked_on, valid_to, used_on):
        if type(day) is not date:
            raise Refusal(f"the day {said(day)} for gauge {gauge}", "a date, without a time", "read the gauge's label and give its dates")
    if valid_to < checked_on:
        raise Refusal(f"gauge {gauge} checked on {checked_on} and valid to the earlier {valid_to}", "a last day after the check",
                      "read the gauge's label again: the two days may be the wrong way round")
    if used_on < checked_on:
        raise Refusal(f"gauge {gauge} used on {used_on}, before its check on {checked_on}", "a check that came before the use",
                      "find the check that held on that day; if there was none, gauge again with a gauge in date what it gauged that day")
    if used_on > valid_to:
        raise Refusal(f"gauge {gauge} used on {used_on}, checked on {checked_on}, valid to {valid_to}", "a gauge in date",
                      f"put it aside and take one in date; gauge again what it gauged after {valid_to}, and if it fails on its pins every piece since its last good check")


def unseen() -> tuple[str, ...]:
    """What passes a go gauge and is bad all the same, with how much of the sleeve a smaller cable fills.

    Source: common practice (table of what a gauge sees); the fills are geometry.

    >>> unseen()[0]
    '3/32 cable in a 1/8 sleeve: fill 56 %'
    """
    fills = tuple(f"{name} cable in a {sleeve} sleeve: fill {100 * fill(cable, sleeve):.0f} %"
                  for name, cable, sleeve in (("3/32", "3/32", "1/8"), ("6 mm", 6, "1/4")))
    return fills + tuple(row.fault for row in table("gauge_sees") if row.seen == "no")


# --- misclassification ------------------------------------------------------------------------

def specific_risk(reading_mm: float, limit_mm: float, uncertainty_mm: float, side: str = "at most",
                  usual_mm: float | None = None, usual_spread_mm: float | None = None) -> SpecificRisk:
    """The chance that one measured piece is good or bad.

    Parameters: reading, limit and standard uncertainty in mm; "at most" or "at least"; if known from earlier pieces
    of the same work, their usual size and spread (standard deviation) in mm, both or neither.
    With them the estimate is the mean of both, each weighed by one over its variance; everything normal.
    Errors: `Refusal` for figures that are not above zero, for one of the last two without the other, and for a reading or a
    usual size of less than half or more than twice the limit (a slip of units).
    Source: JCGM 106:2012 7.2 and 7.3 (normal prior and measurement; clauses from memory), derived by hand.

    >>> round(specific_risk(6.30, 6.35, 0.05).bad, 4)
    0.1587
    """
    reading, limit, spread = (_above_zero(value, what) for value, what in
                              ((reading_mm, "the reading"), (limit_mm, "the limit"), (uncertainty_mm, "the standard uncertainty")))
    _refuse_slip(reading, "a reading", limit, "the limit")
    if (usual_mm is None) != (usual_spread_mm is None):
        raise Refusal("the usual size without its spread, or the spread without the size", "both or neither", "give both from the shop's own record")
    if usual_mm is not None:
        usual, usual_spread = _above_zero(usual_mm, "the usual size"), _above_zero(usual_spread_mm, "the usual spread")
        _refuse_slip(usual, "a usual size", limit, "the limit")
        weight = usual_spread ** 2 / (usual_spread ** 2 + spread ** 2)
        reading, spread = usual + weight * (reading - usual), spread * math.sqrt(weight)
    beyond = _sign(side) * (reading - limit) / spread
    return SpecificRisk(_STANDARD.cdf(-beyond), _STANDARD.cdf(beyond), reading, spread)


def global_risk(limit_mm: float, accept_mm: float, uncertainty_mm: float, usual_mm: float, usual_spread_mm: float,
                side: str = "at most") -> GlobalRisk:
    """How often pieces to come will be passed though bad, or rejected though good; shares of all pieces.

    Parameters: limit and acceptance limit in mm (the limit less the guard band), standard uncertainty in mm, the usual
    size and spread (standard deviation) of the work in mm; "at most" or "at least". Everything normal.
    Errors: `Refusal` for a figure that is not above zero, and for a limit or an acceptance limit of less than half or more
    than twice the usual size (a slip of units). Uses SciPy.
    Source: JCGM 106:2012 9.5 (joint probability of true and measured value).

    >>> risk = global_risk(6.35, 6.27, 0.05, 6.20, 0.08)
    >>> round(risk.bad, 4), round(risk.bad_and_passed, 4), round(risk.good_and_rejected, 4)
    (0.0304, 0.0007, 0.1993)
    """
    usual, spread = _above_zero(usual_mm, "the usual size"), _above_zero(usual_spread_mm, "the usual spread")
    for value, what in ((limit_mm, "the limit"), (accept_mm, "the acceptance limit")):
        _refuse_slip(_above_zero(value, what), what, usual, "the usual size")
    return global_risk_of(NormalDist(usual, spread).pdf, usual - 12 * spread, usual + 12 * spread, limit_mm, accept_mm, uncertainty_mm, side)


def global_risk_of(density: Callable[[float], float], low_mm: float, high_mm: float, limit_mm: float, accept_mm: float,
                   uncertainty_mm: float, side: str = "at most") -> GlobalRisk:
    """`global_risk` for work whose sizes follow any given density.

    Parameters: the density of true sizes, per mm, as a function of a size in mm; the ends in mm between which all of it
    lies; limit, acceptance limit and standard uncertainty in mm; "at most" or "at least". Measuring is normal.
    The shares are of the density's whole area. Errors: `Refusal` for ends out of order, a density that is no number or
    below zero anywhere, or whose area between the ends is not 1 within 0.001, and for an acceptance limit of less than
    half or more than twice the limit (a slip of units).
    Source: JCGM 106:2012 9.5.

    >>> round(global_risk_of(lambda mm: 1.0, 6.0, 7.0, 6.9, 6.9, 0.01).bad, 6)
    0.1
    """
    limit, accept, spread = (_above_zero(value, what) for value, what in
                             ((limit_mm, "the limit"), (accept_mm, "the acceptance limit"), (uncertainty_mm, "the standard uncertainty")))
    low, high, sign = float(exact(low_mm)), float(exact(high_mm)), _sign(side)
    _refuse_slip(accept, "an acceptance limit", limit, "the limit")
    if not callable(density):
        raise Refusal(f"{said(density)} for a density", "a function that gives a number for a size in mm", "give one")
    if low >= high:
        raise Refusal(f"sizes from {low:g} to {high:g} mm", "a lower end below the upper one", "give the ends again")
    edges = sorted({low, high, *(edge for edge in (limit, accept, accept - 8 * spread, accept + 8 * spread) if low < edge < high)})

    def passes(size: float) -> float:
        return _STANDARD.cdf(sign * (accept - size) / spread)

    def share(chance: Callable[[float], float], bad: bool) -> float:
        return sum(_area(lambda size: _density_at(density, size) * chance(size), start, end) for start, end in zip(edges, edges[1:])
                   if (sign * ((start + end) / 2 - limit) > 0) == bad)

    bad, good = share(lambda size: 1.0, True), share(lambda size: 1.0, False)
    if abs(bad + good - 1) > 1e-3:
        raise Refusal(f"a density with the area {bad + good:.4f} between {low:g} and {high:g} mm", "an area of 1", "widen the ends or scale the density")
    bad_passed, good_passed = share(passes, True), share(passes, False)
    return GlobalRisk(*(part / (bad + good) for part in (bad, bad_passed, max(0.0, good - good_passed), bad_passed + good_passed)))


def _density_at(density: Callable[[float], float], size_mm: float) -> float:
    try:
        value = float(density(size_mm) + 0.0)
        if not math.isfinite(value):
            raise ValueError(value)
    except Exception:  # a function from outside may fail in any way
        raise Refusal(f"a density that gives no number at {size_mm:.6g} mm", "a function that gives a number for every size between the ends",
                      "mend the function or draw the ends in") from None
    if value < 0:
        raise Refusal(f"a density of {value:.3g} per mm at {size_mm:.6g} mm", "a density that is never below zero",
                      "look at the function and its ends again")
    return value


def _area(function: Callable[[float], float], start: float, end: float) -> float:
    import warnings

    from scipy.integrate import IntegrationWarning, quad

    with warnings.catch_warnings():
        warnings.simplefilter("error", IntegrationWarning)
        try:
            return quad(function, start, end, epsabs=1e-12, epsrel=1e-9, limit=200)[0]
        except (IntegrationWarning, ArithmeticError):
            raise Refusal(f"sizes from {start:g} to {end:g} mm whose shares cannot be added up", "a density without such narrow peaks",
                          "look at the figures and their units again") from None


# --- checks of what was given -------------------------------------------------------------------

def _sign(side: str) -> int:
    if not among(side, SIDES):
        raise Refusal(f"the side {said(side)}", " or ".join(SIDES), "say on which side of the limit good pieces lie")
    return 1 if side == "at most" else -1


def _refuse_slip(value: float, what: str, beside: float, beside_what: str) -> None:
    """Half or twice is no spread of work: a unit or a digit has slipped."""
    if not float(LEAST_READING) * beside < value < beside / float(LEAST_READING):
        named = beside_what.removeprefix("the ")
        raise Refusal(f"{what} of {value:g} mm beside a {named} of {beside:g} mm", f"{what} between half of the {named} and twice the {named}",
                      "look whether it was read in inches, or a digit has slipped, and measure again")


def _listed(values: Sequence[float]) -> list[float]:
    return list(listed(values, "the readings in mm"))


def _chance(value: float, what: str) -> None:
    if not exact(0.5) < exact(value) < 1:
        raise Refusal(f"{what} {said(value)}", "a share above 0.5 and below 1, such as 0.95", "give it as a share, not in per cent")


def _above_zero(value: float, what: str) -> float:
    number = exact(value)
    if number <= 0:
        raise Refusal(f"{what} {value}", "a figure above 0", "measure or read it again")
    return float(number)
