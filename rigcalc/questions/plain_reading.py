"""The common way to type a figure, `165 lbf` or `38.1 mm`, read with whole numbers alone.

Gives exactly what `rigcalc.units` gives, many times quicker; anything typed in another way is left to it.
"""

from __future__ import annotations

import re
from math import gcd

from rigcalc.units import INCH_MM, LBF_N, POUND_KG

__all__ = ["read_plainly"]

_TYPED = re.compile(r"([0-9]{1,9})(?:\.([0-9]{1,3}))?(?: ?(lbf|N|kN|mm|m|kg|lb|deg))?", re.ASCII)
_FACTORS = {"lbf": (LBF_N.numerator, LBF_N.denominator), "N": (1, 1), "kN": (1000, 1), "mm": (1, 1), "m": (1000, 1),
            "kg": (1, 1), "lb": (POUND_KG.numerator, POUND_KG.denominator), "deg": (1, 1), "": (1, 1)}


def _nearest(over: int, under: int) -> int:
    return (2 * over + under) // (2 * under)


def _newtons(over: int, under: int) -> str:
    if over < 1000 * under:
        return f"{_nearest(over, under)} N"
    whole, hundredths = divmod(_nearest(over, 10 * under), 100)
    return f"{whole}.{hundredths:02d} kN"


def _pounds_force(over: int, under: int) -> str:
    return f"{_nearest(over * LBF_N.denominator, under * LBF_N.numerator)} lbf"


def _inches(over: int, under: int) -> str:
    over, under = over * INCH_MM.denominator, under * INCH_MM.numerator
    parts = 64 if over < under else 16
    whole, rest = divmod(_nearest(over * parts, under), parts)
    common = gcd(rest, parts)
    part = f"{rest // common}/{parts // common}"
    return f"{whole} in" if not rest else f"{whole} {part} in" if whole else f"{part} in"


def _pounds(over: int, under: int) -> str:
    return f"{_nearest(over * POUND_KG.denominator, under * POUND_KG.numerator)} lb"


def _kilograms(over: int, under: int) -> str:
    whole, tenths = divmod(_nearest(10 * over, under), 10)
    return f"{whole}.{tenths} kg"


_OTHER = {"lbf": _newtons, "N": _pounds_force, "kN": _pounds_force, "mm": _inches, "m": _inches, "kg": _pounds, "lb": _kilograms}


def read_plainly(plain: str, accept: tuple[str, ...]) -> tuple[str, str, str] | None:
    """(value in the base unit, unit, how it was read); None where it was typed in another way.

    >>> read_plainly("360 lbf", ("lbf", "N"))
    ('80067989074689/50000000000', 'lbf', '360 lbf [1.60 kN]')
    >>> read_plainly("3 1/8 in", ("in",)), read_plainly("360 lb", ("lbf",))
    (None, None)
    """
    found = _TYPED.fullmatch(plain)
    if not found:
        return None
    whole, part, unit = found[1], found[2] or "", found[3] or ""
    if unit not in accept:
        return None
    times, by = _FACTORS[unit]
    over, under = int(whole + part) * times, 10**len(part) * by
    common = gcd(over, under)
    over, under = over // common, under // common
    number = f"{whole}.{part}" if part else whole
    shown = f"{number} {unit} [{_OTHER[unit](over, under)}]" if unit in _OTHER else f"{number} {unit}" if unit else number
    return f"{over}/{under}" if under != 1 else f"{over}", unit, shown
