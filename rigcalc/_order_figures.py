"""The one place that shows the figures of an order and its sheet: each rounded once, with one direction, the shop's own unit first.

Everything is put into words with US units first. `own_unit_first` then turns a whole sheet round for an SI shop, so that a
figure reads alike in both: limits and strengths are rounded down, requirements up, in each unit by itself; what was stated,
worked out or measured is rounded to the nearest.
"""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction

from rigcalc._quantities import fraction_words
from rigcalc.units import INCH_MM, LBF_N, POUND_KG, Reading, in_unit, round_to, show_force, show_length

__all__ = ["alone", "caliper", "exact_length", "force_reading", "length_reading", "lower_first", "mass_reading", "own_unit_first", "sheet_length", "show_pull",
           "show_sag"]

_NUMBER = r"-?[0-9]+(?:\.[0-9]+)?(?:/[0-9]+)?(?: [0-9]+/[0-9]+)?"
_US, _SI = r"(?:in|ft|lbf|lb)", r"(?:mm|m|N|kN|kg)"
_US_FIRST = re.compile(rf"(?<![\w.,/-])({_NUMBER} {_US}) \[({_NUMBER} {_SI})\]")
_SI_FIRST = re.compile(rf"(?<![\w.,/-])({_NUMBER} {_SI}) \[({_NUMBER} {_US})\]")


def own_unit_first(said: object, system: str) -> object:
    """A text, a record or a tuple of them, with every figure that is shown in both systems turned to the shop's own first."""
    from dataclasses import fields, is_dataclass, replace

    if isinstance(said, str):
        return (_US_FIRST if system == "SI" else _SI_FIRST).sub(r"\2 [\1]", said)
    if isinstance(said, tuple):
        return tuple(own_unit_first(one, system) for one in said)
    if is_dataclass(said):
        return replace(said, **{field.name: own_unit_first(getattr(said, field.name), system) for field in fields(said)})
    return said


def alone(shown: str) -> str:
    """A figure without the other system's in brackets."""
    return shown.partition(" [")[0]


def _shown(reading: Reading, shown: str) -> Reading:
    """The same reading, shown otherwise."""
    from dataclasses import replace

    return replace(reading, shown=shown)


# --- forces -----------------------------------------------------------------------------------------

def show_pull(force_n: float | Fraction) -> str:
    """A pull worked out, to a tenth of a pound-force; the newtons beside it are rounded by themselves."""
    return show_force(force_n, "US", "nearest", Decimal("0.1"))


def force_reading(reading: Reading) -> Reading:
    """A force that somebody stated, as load to carry and as tension not to pass: as written, and to the nearest in the other unit."""
    whole = (reading.value / LBF_N).denominator == 1
    shown = show_force(reading.value, "US", "nearest", 1 if whole else Decimal("0.1"))
    return _shown(reading, shown.replace(".0 lbf", " lbf"))


# --- masses -----------------------------------------------------------------------------------------

def mass_reading(reading: Reading) -> Reading:
    """A mass that somebody stated, fine enough to be weighed out: below ten to a hundredth, above that to a tenth."""
    return _shown(reading, f"{_fine(reading.value / POUND_KG)} lb [{_fine(reading.value)} kg]")


def _fine(value: Fraction) -> str:
    return f"{round_to(value, '0.01' if value < 10 else '0.1', 'nearest'):f}".rstrip("0").rstrip(".")


# --- lengths ----------------------------------------------------------------------------------------

def length_reading(reading: Reading) -> Reading:
    """A length that somebody stated; feet stay feet."""
    if reading.unit == "ft":
        return reading
    return _shown(reading, show_length(reading.value))


def sheet_length(length_mm: float, system: str = "US", direction: str = "nearest") -> str:
    """A length on a sheet: below 2 mm in decimals of an inch, where a fraction would be too coarse."""
    if not 0 < abs(length_mm) < 2:
        return show_length(length_mm, system, direction)
    inches = f"{round_to(in_unit(length_mm, 'in'), Decimal('0.001'), direction)} in"
    metric = f"{round_to(in_unit(length_mm, 'mm'), Decimal('0.1'), direction)} mm".replace(".0 mm", " mm")
    return f"{inches} [{metric}]" if system == "US" else f"{metric} [{inches}]"


def exact_length(length_mm: float, system: str, direction: str) -> str:
    """A limit that somebody set, in the unit it was set in as it stands, beside it the other: rounded `direction` where it is not exact.

    In an SI shop a length set in mm stands alone.
    """
    length = Fraction(str(length_mm))
    inches, metric = length / INCH_MM, f"{length_mm:g} mm"
    if (length * 100).denominator != 1:
        metric = f"{round_to(length, Decimal('0.01' if 2 * length < 1 else '0.1'), 'nearest' if system == 'US' else direction)} mm".replace(".0 mm", " mm")
    elif system == "SI":
        return metric
    if (inches * 64).denominator == 1 or (inches * 1000).denominator != 1 and length >= 2:
        shown = f"{fraction_words(Fraction(round_to(inches, Decimal(1) / 64, direction)))} in"
    else:
        shown = f"{round_to(inches, Decimal('0.001'), direction)} in"
    return f"{shown} [{metric}]" if system == "US" else f"{metric} [{shown}]"


def show_sag(length_mm: float, direction: str = "nearest") -> str:
    """A sag to a tenth of a millimetre, whatever its size."""
    return f"{round_to(in_unit(length_mm, 'in'), '0.01', direction)} in [{round_to(length_mm, '0.1', direction)} mm]"


def caliper(length_mm: float, system: str, direction: str) -> str:
    """A caliper or gauge figure: thousandths of an inch and hundredths of a millimetre, rounded each in its own unit."""
    inches = f"{round_to(in_unit(length_mm, 'in'), Decimal('0.001'), direction)} in"
    metric = f"{round_to(in_unit(length_mm, 'mm'), Decimal('0.01'), direction)} mm"
    return f"{inches} [{metric}]" if system == "US" else f"{metric} [{inches}]"


def lower_first(text: str) -> str:
    """A sentence as it goes on after a colon."""
    return text[:1].lower() + text[1:]
