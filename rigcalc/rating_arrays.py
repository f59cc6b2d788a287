"""Many assemblies at once: lookup, checks, weakest link, which link governs, rounding; one of them, or arrays.

`rate` works one assembly, `rate_many` as many as the arrays hold, row by row the same answer. Both are for static
work with nobody there; every other use goes through `rating.limit`, one order at a time, with its named designer.
"""

from __future__ import annotations

import math
import string
from collections.abc import Sequence
from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from rigcalc._efficiency import EFFICIENCY, of_a_person
from rigcalc._given import among, listed, said
from rigcalc._quantities import LARGEST, STEP_SLACK
from rigcalc._records import record
from rigcalc.cable import METALS, breaking_force, sizes
from rigcalc.errors import Refusal
from rigcalc.rating import class_of_use
from rigcalc.reference import table
from rigcalc.sleeve import refuse_size_without_sleeve, sleeve_sizes
from rigcalc.units import LBF_N, exact, round_to

if TYPE_CHECKING:
    import numpy as np

__all__ = ["CONSTRUCTIONS", "Rated", "RatedMany", "rate", "rate_many"]

CONSTRUCTIONS = ("7x7", "7x19")
UNITS = {"US": ("lbf", LBF_N), "SI": ("N", Fraction(1))}
SLACK = float(STEP_SLACK)  # in steps, as in round_to: a limit this near below a step is that step
DUST = math.ldexp(1.0, -49)  # more than all the roundings of the sum in floating point, as a part of the result
TIE = 1 - 1e-12  # a fitting governs only where it is less than the cable by more than this, as a part of it
_POUND_N = float(LBF_N)
_MOST = float(EFFICIENCY)
NO_NAME = string.punctuation + string.digits + string.whitespace  # what alone names nobody
_known: tuple[object, object, dict] = (None, None, {})  # the tables of strengths and of sleeves, and what was read from them


class Rated(NamedTuple):
    """The least working limit of a line in N, as stated (rounded down, in `unit`), and which link governs: 0 is the cable,
    1 the first fitting."""

    limit_n: float
    stated: float
    unit: str
    governs: int


@record(eq=False)
class RatedMany:
    """What `rate_many` found, row by row: arrays of the same shape (assemblies,); `stated` is in `unit`, `governs` as in `Rated`."""

    limit_n: np.ndarray
    stated: np.ndarray
    unit: str
    governs: np.ndarray


# --- one ----------------------------------------------------------------------------------------

def rate(size: str, construction: str, metal: str, efficiency: float, factor: float, set_by: str, use: str = "",
         certificate_n: float | None = None, fitting_limits_n: Sequence[float] = (), system: str = "US",
         step: float | str | None = None) -> Rated:
    """The working limit of one line: cable at its eyes against its fittings, the least rounded down.

    Parameters: inch size by name, construction, cable metal; efficiency (above 0, at most 0.90) and design factor
    (above 1); who set the factor; the use, which must be static with nobody there; the reel certificate's breaking force
    in N, or None; the marked limits of the fittings in N, never divided again; "US" or "SI"; the step in lbf or N, without
    one what a tag shows: 1 lbf, or 10 N from 1 kN and 1 N below.
    Errors: `Refusal` for anything outside, and for a limit below one step. A limit never rounds up; what floating point
    leaves uncertain is worked again in exact fractions.
    Source: the breaking force names its own; the factor's owner answers for it.

    >>> rate("1/8", "7x19", "galvanised", 0.90, 5, "Ines Varrow", "nobody", fitting_limits_n=[1200.0], system="SI")
    Rated(limit_n=1200.0, stated=1200.0, unit='N', governs=1)
    """
    if use.__class__ is not str or use != "nobody" or set_by.__class__ is not str or not set_by.strip(NO_NAME):
        _check_words(use, set_by)
    try:
        force = strengths_n()[size, construction, metal]
    except (KeyError, TypeError):
        force = None
    if certificate_n.__class__ is float and force is not None and 0.0 < certificate_n < math.inf:
        force = min(force, certificate_n)
    elif force is None or certificate_n is not None:
        refuse_size_without_sleeve(size)
        force = breaking_force(size, construction, metal, certificate_n, "of the reel").force_n
    if (efficiency.__class__ is not float or factor.__class__ is not float and factor.__class__ is not int
            or not 0.0 < efficiency <= _MOST or not 1.0 < factor <= LARGEST):
        efficiency, factor = share_and_factor(efficiency, factor)
    least, governs = force * efficiency / factor, 0
    if fitting_limits_n.__class__ is not list and fitting_limits_n.__class__ is not tuple:
        fitting_limits_n = listed(fitting_limits_n, "the fittings' limits")
    if fitting_limits_n:
        least, governs = _weakest(least, fitting_limits_n)
    if system.__class__ is not str or system != "US" or step is not None:
        return _rounded(least, governs, system, step, (force, efficiency, factor, fitting_limits_n))
    steps = least / _POUND_N
    whole = math.floor(steps + SLACK)
    over, dust = steps + SLACK - whole, steps * DUST
    if whole < 1 or not dust < over < 1 - dust:
        return _rounded(least, governs, system, step, (force, efficiency, factor, fitting_limits_n))
    return Rated(least, float(whole), "lbf", governs)


def _weakest(cable_n: float, fitting_limits_n: Sequence[float]) -> tuple[float, int]:
    """The least of the cable's limit and the fittings' in N, and which governs; of equals, the first."""
    least, threshold, governs = cable_n, cable_n * TIE, 0
    for place, limit_n in enumerate(fitting_limits_n, start=1):
        if limit_n.__class__ is not float or not 0.0 < limit_n < math.inf:
            limit_n = _fitting(limit_n, place)
        if limit_n < least:
            least = limit_n
        if limit_n < threshold:
            threshold, governs = limit_n, place
    return least, governs


def _fitting(limit_n: object, place: int) -> float:
    limit = exact(limit_n)
    if limit <= 0:
        raise Refusal(f"{float(limit):g} N for fitting {place}", "its marked limit, above zero", "read the mark again")
    return float(limit)


def _rounded(least: float, governs: int, system: str, step: object, parts: tuple) -> Rated:
    """Rounded down with any step: by floating point where that is certain, else from exact fractions."""
    unit, newtons = _unit(system)
    size = _step(step) if step is not None else Fraction(10 if system == "SI" and least >= 1000 else 1)
    steps = least / float(newtons * size)
    whole, dust = math.floor(steps + SLACK), steps * DUST
    if not dust < steps + SLACK - whole < 1 - dust:
        whole = _exactly(parts, newtons * size)
    if whole < 1:
        raise Refusal(f"a limit of {steps * float(size):.3g} {unit} with a step of {float(size):g} {unit}", "a limit of one step at least",
                      "take a finer step")
    return Rated(least, whole * size.numerator / size.denominator, unit, governs)


def _exactly(parts: tuple, step_n: Fraction) -> int:
    force, efficiency, factor, fittings = parts
    least = min([exact(force) * exact(efficiency) / exact(factor), *map(exact, fittings)])
    return int(round_to(least / step_n, 1, "down"))


def strengths_n() -> dict[tuple[str, str, str], float | None]:
    """The breaking force in N of every size that has a sleeve, construction and metal, None where only a certificate speaks."""
    global _known
    rows, sleeves = table("cable_strength"), table("crimps_common_practice")
    if _known[0] is not rows or _known[1] is not sleeves:
        _known = (rows, sleeves, {(size, built, metal): _strength(size, built, metal) for built in CONSTRUCTIONS
                                  for metal in METALS for size in sizes() if size in sleeve_sizes()})
    return _known[2]


def _strength(size: str, built: str, metal: str) -> float | None:
    try:
        return breaking_force(size, built, metal).force_n
    except Refusal:
        return None


def _check_words(use: str, set_by: str) -> None:
    kind = class_of_use(use)
    if kind.name != "nobody":
        raise Refusal(f"the use {said(use)}", "static work with nobody there",
                      f"rate it alone, with its named designer; {kind.ask}" if kind.name == "people"
                      else f"there is no way round this; {kind.ask}")
    if not of_a_person(set_by):
        raise Refusal("a factor without whoever set it", "the name of who set the factor", "ask: no factor is built in")


def share_and_factor(efficiency: object, factor: object) -> tuple[float, float]:
    """Both as plain floats, refused outside their range."""
    share, divisor = exact(efficiency), exact(factor)
    if not 0 < share <= EFFICIENCY:
        raise Refusal(f"the efficiency {float(share):g}", f"above 0, at most {_MOST:g}, which is common practice and never exceeded",
                      "copy it again from the chart")
    if divisor <= 1:
        raise Refusal(f"the factor {float(divisor):g}", "a factor above 1", "ask its owner")
    return float(share), float(divisor)


def _unit(system: str) -> tuple[str, Fraction]:
    if not among(system, UNITS):
        raise Refusal(f"the unit system {said(system)}", "US or SI", "name one of the two")
    return UNITS[system]


def _step(step: object) -> Fraction:
    try:
        return _step_of(step)
    except TypeError:  # what cannot be kept in mind is no step
        raise Refusal(f"the rounding step {said(step)}", "a step greater than zero", "give a step such as 1 or 0.01") from None


@lru_cache(maxsize=64, typed=True)
def _step_of(step: object) -> Fraction:
    round_to(0, step, "down")  # refuses what is no step
    return Fraction(str(step))


# --- many ---------------------------------------------------------------------------------------

def rate_many(size: Sequence[str] | np.ndarray, construction: str | Sequence[str], metal: str | Sequence[str],
              efficiency: float | np.ndarray, factor: float | np.ndarray, set_by: str, use: str = "",
              certificate_n: np.ndarray | None = None, fitting_limits_n: np.ndarray | None = None,
              fitted: np.ndarray | None = None, system: str = "US", step: float | str | None = None) -> RatedMany:
    """The working limits of many lines at once, row by row what `rate` says of each.

    Parameters: `size`: shape (assemblies,), names, or whole numbers that count in `cable.sizes()`; `construction` and
    `metal`: one for all, or shape (assemblies,), names; `efficiency` and `factor`: one for all, or shape (assemblies,);
    who set the factors; the use, static with nobody there; `certificate_n`: shape (assemblies,), the reels' certificates
    in N, NaN where there is none; `fitting_limits_n`: shape (assemblies, fittings), marked limits in N; `fitted`: the same
    shape, True where there is a fitting (without it, everywhere); system and step as in `rate`.
    Errors: `Refusal` for shapes that do not fit, and for the first row that `rate` would refuse, named by its number from 0.
    Source: as `rate`.

    >>> found = rate_many(["1/8", "3/32"], "7x19", "stainless", 0.90, 5, "Ines Varrow", "nobody")
    >>> found.stated.tolist(), found.governs.tolist()
    ([316.0, 165.0], [0, 0])
    """
    from rigcalc._rating_blocks import Batch, work

    _check_words(use, set_by)
    unit, newtons = _unit(system)
    batch = Batch.of(size, construction, metal, efficiency, factor, certificate_n, fitting_limits_n, fitted)
    usual = None if system == "SI" else Fraction(1)
    limits, stated, governs = work(batch, newtons, usual if step is None else _step(step),
                                   lambda *parts: rate(*parts[:5], set_by, use, *parts[5:], system, step))
    return RatedMany(limits, stated, unit, governs)
