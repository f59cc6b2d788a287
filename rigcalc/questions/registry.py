"""The calculations a family may name: one list, each a plain function of plain values.

Nothing else can be called from a family file. Units stand in the parameters' names (mm, N, kg).
"""

from __future__ import annotations

import inspect
from collections.abc import Callable
from fractions import Fraction
from functools import lru_cache
from typing import Any

from rigcalc.errors import Refusal

__all__ = ["CALCULATIONS", "WrongValues", "call", "signature_fault"]


class WrongValues(TypeError):
    """A calculation was given values that it cannot work with, such as a text for a figure."""


CALCULATIONS: dict[str, Callable[..., Any]] = {}


def _calculation(function: Callable[..., Any]) -> Callable[..., Any]:
    CALCULATIONS[function.__name__.lstrip("_")] = function
    return function


@_calculation
def working_load_limit_n(breaking_force_n: float, efficiency: float, factor: float) -> float:
    """Breaking force × efficiency ÷ factor, in N, not rounded."""
    from rigcalc.rating import working_load_limit_n as limit

    return limit(breaking_force_n, efficiency, factor)


@_calculation
def eye_efficiency() -> float:
    """The part of the cable's strength that a hand-pressed eye is taken to hold."""
    from rigcalc.reference import constant

    return float(constant("eye efficiency").value)


@_calculation
def table_force_n(size: str, construction: str, metal: str) -> float:
    """The named table's breaking force in N."""
    from rigcalc.cable import breaking_force

    return breaking_force(size, construction, metal).force_n


@_calculation
def breaking_force_n(size: str, construction: str, metal: str, certificate_n: float | None = None) -> float:
    """The lower of table and certificate, in N; refuses where there is neither."""
    from rigcalc.cable import breaking_force

    named = "the reel's certificate" if certificate_n is not None else None
    return breaking_force(size, construction, metal, certificate_n=certificate_n, certificate=named).force_n


@_calculation
def lower_or_refused(table_n: float | None, certificate_n: float | None) -> float | None:
    """The lower of the two forces known, in N; None (refuse) where neither is."""
    known = [force for force in (table_n, certificate_n) if force]
    return min(known) if known else None


@_calculation
def as_shown_n(force_n: float, system: str) -> float:
    """A force as a label shows it, in N: to a whole lbf, or to 0.01 kN."""
    from rigcalc.units import LBF_N

    step = Fraction(LBF_N) if system == "US" else Fraction(10)
    return float(round(Fraction(force_n) / step) * step)


@_calculation
def cut_length_mm(pin_to_pin_mm: float, loop_mm: float, bearing_to_sleeve_mm: float, sleeve_mm: float,
                  first_tail_mm: float, second_tail_mm: float, correction_mm: float = 0.0) -> float:
    """Cable to cut for an assembly with two thimble eyes alike, in mm."""
    from rigcalc.layout import EyeParts, cut_length_mm as cut

    first, second = (EyeParts(loop_mm, bearing_to_sleeve_mm, sleeve_mm, tail)
                     for tail in (first_tail_mm, second_tail_mm))
    return float(cut(pin_to_pin_mm, first, second, correction_mm).total_mm)


@_calculation
def cut_length_counted_mm(pin_to_pin_mm: float, loop_mm: float, bearing_to_sleeve_mm: float, sleeve_mm: float,
                          tail_mm: float, loops: int = 2, bearings: int = 2, sleeves: int = 2, tails: int = 2) -> float:
    """The cut length of somebody who counts so many loops, bearings, sleeves and tails, in mm."""
    return (pin_to_pin_mm - bearings * bearing_to_sleeve_mm + loops * loop_mm + sleeves * sleeve_mm + tails * tail_mm)


@_calculation
def least_tail_mm(size: str) -> float:
    """2 d before pressing, in mm, up to a whole millimetre."""
    from rigcalc.layout import least_tail_mm as tail
    from rigcalc.units import INCH_MM

    least = tail(float(Fraction(size) * Fraction(INCH_MM)))
    return float(-(-least // 1))


@_calculation
def caliper_reading_mm(size: str, case: str, part: float, system: str) -> float:
    """A caliper reading as shown (to 0.001 in or 0.01 mm), in mm.

    `case` is 'crowns' (nominal plus a part, 0 to 1, of the size's tolerance), 'between' (a part of the way from the top
    of this size's band to the next size) or 'flats'.
    """
    return _reading(size, case, part, system, _strength_rows())


def _strength_rows() -> tuple:
    """What the sizes and their bands depend on, so that a worked reading is kept only as long as they stand."""
    from rigcalc.reference import table

    return tuple((row.size, row.tolerance_plus_in) for row in table("cable_strength"))


@lru_cache(maxsize=4096)
def _reading(size: str, case: str, part: float, system: str, rows: tuple) -> float:
    from rigcalc.cable import band_mm, flats_reading_mm, neighbours

    least, most = band_mm(size)
    if case == "flats":
        return _shown_reading(float(flats_reading_mm(least)), system)
    if case == "crowns":
        return _shown_reading(least + part * (most - least), system)
    larger = neighbours(size)[1]
    if larger is None:
        raise Refusal(f"the size {size}", "a size with a larger one beside it", "take a smaller one")
    return _shown_reading(most + part * (band_mm(larger)[0] - most), system)


def _shown_reading(reading_mm: float, system: str) -> float:
    """Rounded as shown; refused where rounding in the two units tells two stories."""
    from rigcalc.cable import sizes_agreeing
    from rigcalc.units import INCH_MM

    inch = float(INCH_MM)
    in_mm, in_inches = round(reading_mm, 2), round(reading_mm / inch, 3) * inch
    if sizes_agreeing(in_mm) != sizes_agreeing(in_inches):
        raise Refusal(f"the reading {reading_mm} mm", "a reading well inside or outside a band", "take another")
    return in_inches if system == "US" else in_mm


@_calculation
def size_named_by(reading_mm: float, how: str) -> str:
    """The one size whose band holds a reading taken across the crowns, else 'none'."""
    return _named(reading_mm, _strength_rows()) if how == "across the crowns" else "none"


@lru_cache(maxsize=4096)
def _named(reading_mm: float, rows: tuple) -> str:
    from rigcalc.cable import sizes_agreeing

    found = sizes_agreeing(reading_mm)
    return found[0] if len(found) == 1 else "none"


@_calculation
def size_beside(size: str, steps: int) -> str:
    """The size so many steps up (or, negative, down) the table; refuses off its end."""
    from rigcalc.cable import sizes

    return _beside(list(sizes()), size, steps)


@_calculation
def sleeve_size_beside(size: str, steps: int) -> str:
    """The sleeve size so many steps up or down among those that the trade makes; refuses off the end."""
    from rigcalc.sleeve import built_in_chart

    return _beside([row.size for row in built_in_chart().rows], size, steps)


def _beside(names: list[str], size: str, steps: int) -> str:
    place = names.index(size) + steps if size in names else -1
    if not 0 <= place < len(names):
        raise Refusal(f"{steps} steps from {size}", "a size of the list", "take another size")
    return names[place]


@_calculation
def either_said(force_n: float | None, words: str, system: str) -> str:
    """A force as the page shows it; the words where there is none."""
    from rigcalc.units import show_force

    return show_force(force_n, system=system) if force_n else words


@_calculation
def label_of(label: str, size: str, construction: str, metal: str) -> str:
    """A reel's label: the start that is given, else size and construction; then the metal."""
    return f"{label or f'{size} {construction}'} {metal}"


@_calculation
def coat_said(coated: bool, outside: str) -> str:
    """How a label says whether a cable is coated."""
    return f"coated to {outside}" if coated else "bare"


@_calculation
def sleeve_metal_for(cable_metal: str, service: str, offered: list[str]) -> str:
    """The one metal offered whose verdict is plain 'use' or use with inspection; refuses if not exactly one."""
    from rigcalc.pairing import pairing

    good = [metal for metal in offered if pairing(cable_metal, metal, service).allowed]
    if len(good) != 1:
        raise Refusal(f"{cable_metal} cable, {service}, {offered}", "exactly one metal that pairs", "offer others")
    return good[0]


@_calculation
def other_of(items: list[Any], one: Any) -> Any:
    """The item of a pair that is not `one`."""
    return next(item for item in items if item != one)


@_calculation
def at_places(letters: list[str], places: list[int]) -> list[str]:
    """The letters standing at these places, counted from 1."""
    return [letters[place - 1] for place in places]


@_calculation
def at_places_from_the_end(letters: list[str], places: list[int]) -> list[str]:
    """The letters at these places, wrongly counted from the far end."""
    return [letters[len(letters) - place] for place in places]


@_calculation
def in_a_row(letters: list[str], count: int) -> list[str]:
    """The letters of the first `count` places, one after the other."""
    return list(letters[:count])


@_calculation
def reversed_row(items: list[Any]) -> list[Any]:
    """The items from the last to the first."""
    return list(items)[::-1]


@_calculation
def first_of(items: list[Any], count: int) -> list[Any]:
    """The first `count` items."""
    return list(items[:count])


@_calculation
def product(a: float, b: float) -> float:
    """a × b."""
    return a * b


@_calculation
def quotient(a: float, b: float) -> float:
    """a ÷ b."""
    return a / b


@_calculation
def sum(a: float, b: float) -> float:  # noqa: A001 - the word a trainer would write
    """a + b."""
    return a + b


@_calculation
def difference(a: float, b: float) -> float:
    """a − b."""
    return a - b


@_calculation
def mean(a: float, b: float) -> float:
    """Halfway between a and b; refused where one of them is missing (0)."""
    if not a or not b:
        raise Refusal(f"{a} and {b}", "two figures above zero", "take the one that is there")
    return (a + b) / 2


@_calculation
def larger(a: float, b: float) -> float:
    """The larger of a and b."""
    return max(a, b)


def signature_fault(name: str, arguments: dict[str, Any]) -> str | None:
    """What is wrong with calling `name` with these arguments, or None."""
    parameters = inspect.signature(CALCULATIONS[name]).parameters
    unknown = [argument for argument in arguments if argument not in parameters]
    if unknown:
        return f"'{unknown[0]}', which {name} does not take (it takes {', '.join(parameters)})"
    missing = [key for key, one in parameters.items() if one.default is one.empty and key not in arguments]
    return f"nothing for '{missing[0]}', which {name} needs" if missing else None


def call(name: str, arguments: dict[str, Any]) -> Any:
    """The calculation's result on these plain values; WrongValues where they are of a kind it cannot work with."""
    try:
        return CALCULATIONS[name](**arguments)
    except Refusal:
        raise
    except (TypeError, ValueError, ArithmeticError, LookupError, AttributeError, StopIteration) as wrong:
        given = ", ".join(f"{key} = {value!r:.60}" for key, value in arguments.items())
        raise WrongValues(f"the calculation {name} cannot work with {given}") from wrong


def _load_groups() -> None:
    """The other files of calculations, each a group of lessons; every registry_*.py beside this one."""
    from importlib import import_module
    from pathlib import Path

    for path in sorted(Path(__file__).parent.glob("registry_*.py")):
        import_module(f"rigcalc.questions.{path.stem}")


_load_groups()
