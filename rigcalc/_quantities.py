"""Quantities inside the workbook: mm, N and kg, exact numbers, rounding in the unit shown, and showing."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from decimal import Context, Decimal
from fractions import Fraction
from functools import lru_cache
from numbers import Integral

from rigcalc._given import among, listed, said
from rigcalc._records import record
from rigcalc.errors import Refusal
from rigcalc.reference import constant

__all__ = ["AmbiguousInput", "FOOT_MM", "GRAVITY_M_S2", "INCH_MM", "LBF_N", "POUND_KG", "Reading", "Size",
           "UnitError", "either_side", "exact", "in_unit", "round_to", "show_force", "show_length", "show_mass",
           "size_inches"]

# All five stand with their source in reference/constants.csv.
INCH_MM: Fraction = constant("inch").value
FOOT_MM: Fraction = constant("foot").value
LBF_N: Fraction = constant("pound-force").value
POUND_KG: Fraction = constant("pound").value
GRAVITY_M_S2: Fraction = constant("standard gravity").value


class UnitError(Refusal):
    """What was typed cannot be read as the quantity asked for."""


class AmbiguousInput(UnitError):
    """What was typed can be read in more than one way; `choices` are the readings to choose from."""

    def __init__(self, given: str, accepted: str, do: str, choices: tuple[str, ...]) -> None:
        super().__init__(given, accepted, do)
        self.choices = choices


@record
class Size:
    """An inch cable or sleeve size by its trade name.

    >>> Size("1/8", Fraction(1, 8)).diameter_mm
    3.175
    """

    name: str
    inches: Fraction

    @property
    def diameter_mm(self) -> float:
        """The nominal diameter in mm."""
        return float(self.inches * INCH_MM)


@record
class Reading:
    """A quantity as it was read: `value` in the base unit (mm, N or kg), and how to show that reading."""

    value: Fraction
    unit: str
    typed: str
    shown: str


def size_inches(name: str) -> Fraction:
    """The inches of a size written as a plain fraction, the way tables, charts and shop files name it.

    Errors: `UnitError` for anything else. Source: common practice (sizes are named in fractions of an inch).

    >>> size_inches("3/32")
    Fraction(3, 32)
    """
    inches = _inches(name) if isinstance(name, str) else None
    if inches is None:
        raise UnitError(f"the size {said(name)}", "an inch size such as 1/8", "read the size from the label")
    return inches


@lru_cache(maxsize=1024)
def _inches(name: str) -> Fraction | None:
    match = re.fullmatch(r"([0-9]{1,3})/([1-9][0-9]{0,2})", name)
    return Fraction(int(match[1]), int(match[2])) if match and int(match[1]) else None


def either_side(size_name: str, names: Iterable[str]) -> tuple[str | None, str | None]:
    """The nearest smaller and nearest larger of some sizes; None where there is none.

    `size_name` and `names`: inch sizes as fractions. Errors: `UnitError` for a name that is none.
    Source: arithmetic.

    >>> either_side("7/64", ("1/16", "3/32", "1/8"))
    ('3/32', '1/8')
    """
    inches, known = size_inches(size_name), sorted(set(listed(names, "the sizes", str)), key=size_inches)
    below = [name for name in known if size_inches(name) < inches]
    above = [name for name in known if size_inches(name) > inches]
    return (below[-1] if below else None, above[0] if above else None)


# --- exact numbers and rounding ---------------------------------------------------------------

PER_BASE = {"mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000), "in": INCH_MM, "ft": FOOT_MM,
             "N": Fraction(1), "kN": Fraction(1000), "lbf": LBF_N,
             "kg": Fraction(1), "lb": POUND_KG}
LENGTHS, FORCES, MASSES = ("mm", "m", "in", "ft"), ("lbf", "N", "kN"), ("kg", "lb")
_DIGITS = Context(prec=60)
LARGEST, SMALLEST = 1e15, 1e-30  # whatever is measured here lies far within, so that products and ratios are numbers too
_MOST, (_LEAST, _PARTS) = int(LARGEST), SMALLEST.as_integer_ratio()
STEP_SLACK = Fraction("1e-9")  # a value this near to a step (in steps) is that step: floats carry dust
_SLACK_PARTS = STEP_SLACK.denominator  # whole numbers compare quicker than fractions


def exact(value: object) -> Fraction:
    """A number as an exact fraction; a float counts as the decimal that it prints as.

    Range: nought, and up to 1e15 and no less than 1e-30 either way: beyond that sums run out of numbers.
    Errors: `UnitError` outside it, for text, truth values, nothing, NaN and infinity. Source: arithmetic.

    >>> exact(0.9)
    Fraction(9, 10)
    """
    if type(value) is Fraction and _within(value) or type(value) is float and (not value or SMALLEST <= abs(value) <= LARGEST):  # nearly always
        return value if type(value) is Fraction else _printed(value)
    if isinstance(value, bool) or not isinstance(value, (Integral, float, Decimal, Fraction)):
        raise UnitError(said(value), "a number", "give a number")
    if isinstance(value, (float, Decimal)) and not Decimal(value).is_finite():
        raise UnitError(f"the number {value}", "a finite number", "give a finite number")
    if value and not SMALLEST <= abs(value) <= LARGEST:
        raise UnitError(f"the number {said(value)}", f"nought, or a number from {SMALLEST:g} to {LARGEST:g} either way", "look at it and its unit again")
    if isinstance(value, float):
        return _printed(value)
    return Fraction(value) if isinstance(value, (Decimal, Fraction)) else Fraction(int(value))


def _within(value: Fraction) -> bool:
    """Whether it is nought or lies in the range, asked of whole numbers, which is quick."""
    size, parts = abs(value.numerator), value.denominator
    return not size or size <= _MOST * parts and size * _PARTS >= _LEAST * parts


@lru_cache(maxsize=16384)
def _printed(value: float) -> Fraction:
    return Fraction(float.__repr__(value))


def in_unit(value_base: Fraction | float, unit: str) -> Decimal:
    """A value in mm, N or kg as a decimal in another unit, to 60 digits.

    Errors: `UnitError` for a value that is no number and for an unknown unit.
    Source: the definitions in the table of constants (yard and pound agreement, 1959; CGPM 1901).

    >>> in_unit(LBF_N * 360, "lbf")
    Decimal('360')
    """
    return _decimal(exact(value_base) / _factor(unit))


def _decimal(value: Fraction) -> Decimal:
    return _DIGITS.divide(Decimal(value.numerator), Decimal(value.denominator))


def _factor(unit: str) -> Fraction:
    if not among(unit, PER_BASE):
        raise UnitError(f"the unit {said(unit)}", ", ".join(PER_BASE), "take one of these units")
    return PER_BASE[unit]


def round_to(value: Decimal | Fraction | float, step: Decimal | str | int, direction: str) -> Decimal:
    """A value rounded to a step, in the unit it is shown in.

    `direction` is "down" (a limit), "up" (a required strength) or "nearest". A value within 1e-9 of a
    step counts as that step, so that the dust of floating point never costs a whole step.
    Errors: `UnitError` for a step not above zero or another direction. Source: arithmetic.

    >>> round_to(755.9999999999999, "1", "down")
    Decimal('756')
    >>> round_to(Fraction(1656, 10), "1", "down"), round_to(Fraction(1656, 10), "1", "up")
    (Decimal('165'), Decimal('166'))
    """
    step, fraction = _step_read(step) if type(step) is str else _as_fraction_too(_step(step))
    if not among(direction, _ROUNDINGS):
        raise UnitError(f"the direction {said(direction)}", "down, up or nearest", "name one of these")
    steps = exact(value) / fraction
    whole = round(steps)
    if abs(steps.numerator - whole * steps.denominator) * _SLACK_PARTS > steps.denominator:
        whole = _ROUNDINGS[direction](steps)
    return _DIGITS.multiply(Decimal(whole), step)


def _step(step: Decimal | str | int) -> Decimal:
    try:
        size = Decimal(str(step)) if isinstance(step, (str, Integral, float, Decimal)) and not isinstance(step, bool) else Decimal(0)
    except (ArithmeticError, ValueError):
        size = Decimal(0)
    if not size.is_finite() or size <= 0 or not SMALLEST <= size <= LARGEST:
        raise UnitError(f"the rounding step {said(step)}", "a step greater than zero", "give a step such as 1 or 0.01")
    return size


def _as_fraction_too(step: Decimal) -> tuple[Decimal, Fraction]:
    return step, Fraction(step)


@lru_cache(maxsize=256)
def _step_read(step: str) -> tuple[Decimal, Fraction]:
    return _as_fraction_too(_step(step))


def _half_up(steps: Fraction) -> int:
    return math.floor(steps + Fraction(1, 2)) if steps >= 0 else -math.floor(-steps + Fraction(1, 2))


_ROUNDINGS = {"down": math.floor, "up": math.ceil, "nearest": _half_up}


# --- showing ----------------------------------------------------------------------------------

def show_force(force_n: Fraction | float, system: str = "US", direction: str = "nearest",
               step: Decimal | str | int | None = None) -> str:
    """A force in the shop's unit system, the other in brackets, each rounded in its own unit.

    `force_n` in N. US: whole lbf, or `step` lbf. SI: 0.01 kN from 1 kN, below that whole N; `step` then counts in that unit.
    Errors: `UnitError` for what is no number and another system. Source: the definitions in the table of constants.

    >>> show_force(LBF_N * 360, direction="down")
    '360 lbf [1.60 kN]'
    >>> show_force(LBF_N * 198, "SI", "down")
    '880 N [198 lbf]'
    """
    force = exact(force_n)
    _check_system(system)
    us = _shown(force, "lbf", step if system == "US" and step is not None else 1, direction)
    unit, usual = ("kN", "0.01") if abs(force) >= 1000 else ("N", 1)
    return _both(us, _shown(force, unit, step if system == "SI" and step is not None else usual, direction), system)


def show_length(length_mm: Fraction | float, system: str = "US", direction: str = "nearest") -> str:
    """A length in the shop's unit system, the other in brackets.

    `length_mm` in mm. US: to 1/64 in below 1 in, above that to 1/16 in, as fractions. SI: to 0.1 mm below 100 mm,
    above that whole mm. Errors: `UnitError` for what is no number and another system.
    Source: the definitions in the table of constants (yard and pound agreement, 1959).

    >>> show_length(2524, "SI")
    '2524 mm [99 3/8 in]'
    >>> show_length(3.175, "US")
    '1/8 in [3.2 mm]'
    """
    length = exact(length_mm)
    step = Decimal(1) / (64 if abs(length) < INCH_MM else 16)
    us = f"{fraction_words(Fraction(round_to(length / INCH_MM, step, direction)))} in"
    si = _shown(length, "mm", 1 if abs(length) >= 100 else "0.1", direction).replace(".0 mm", " mm")
    return _both(us, si, system)


def show_set_in_inches(length_mm: Fraction | float) -> str | None:
    """A length that was set in inches, to a whole 64th or to 0.001: inches first, mm to 0.1 in brackets; None for one that was not.

    `length_mm` in mm. Whole twentieths of a millimetre count as set in mm, unless they are whole 64ths of an inch.
    Errors: `UnitError` for what is no number. Source: the yard and pound agreement, 1959, for the inch.

    >>> show_set_in_inches(53.975), show_set_in_inches(11.43), show_set_in_inches(42)
    ('2 1/8 in [54.0 mm]', '0.450 in [11.4 mm]', None)
    """
    length = Fraction(round(exact(length_mm) * 10**6), 10**6)  # a 64th of an inch is 0.396875 mm
    inches = length / INCH_MM
    if not length:
        return None
    if (inches * 64).denominator == 1:
        said = fraction_words(inches)
    elif (inches * 1000).denominator == 1 and (length * 20).denominator != 1:
        said = f"{float(inches):.3f}"
    else:
        return None
    return f"{said} in [{_shown(length, 'mm', '0.1', 'nearest')}]"


def show_mass(mass_kg: Fraction | float, system: str = "US", direction: str = "nearest") -> str:
    """A mass in the shop's unit system, the other in brackets: whole lb, 0.1 kg.

    `mass_kg` in kg. Errors: `UnitError` for what is no number and another system.
    Source: the definitions in the table of constants (yard and pound agreement, 1959).

    >>> show_mass(POUND_KG * 84)
    '84 lb [38.1 kg]'
    """
    mass = exact(mass_kg)
    return _both(_shown(mass, "lb", 1, direction), _shown(mass, "kg", "0.1", direction), system)


def _both(us: str, si: str, system: str) -> str:
    _check_system(system)
    return f"{us} [{si}]" if system == "US" else f"{si} [{us}]"


def _check_system(system: str) -> None:
    if not among(system, ("US", "SI")):
        raise UnitError(f"the unit system {said(system)}", "US or SI", "name one of the two")


def _shown(value: Fraction, unit: str, step: object, direction: str) -> str:
    return f"{round_to(value / PER_BASE[unit], step, direction):f} {unit}"


def fraction_words(inches: Fraction) -> str:
    sign, inches = ("-" if inches < 0 else ""), abs(inches)
    whole, rest = divmod(inches, 1)
    return sign + (f"{whole}" if not rest else f"{whole} {rest}" if whole else f"{rest}")


def show_measured(length_mm: float, system: str, places: int = 2) -> str:
    """A size that a sum is worked with, in mm to so many places; in a US shop in inches first, to 0.0001 in or finer, so that either can be worked with.

    `places` is a whole number from 0 to 6. Errors: `UnitError` for what is no number, another system, and other places.
    Source: the definition of the inch.

    >>> show_measured(8.4, "SI"), show_measured(8.4, "US"), show_measured(0.0304, "US", 4)
    ('8.40 mm', '0.3307 in [8.40 mm]', '0.00120 in [0.0304 mm]')
    """
    _check_system(system)
    if not isinstance(places, Integral) or isinstance(places, bool) or not 0 <= places <= 6:
        raise UnitError(f"{said(places)} places after the point", "a whole number from 0 to 6", "say how many")
    metric = f"{in_unit(length_mm, 'mm'):.{places}f} mm"
    return f"{in_unit(length_mm, 'in'):.{max(4, places + 1)}f} in [{metric}]" if system == "US" else metric
