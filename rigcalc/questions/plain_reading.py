"""The common way to type a figure, `165 lbf` or `38.1 mm`, read with whole numbers alone.

Gives exactly what `rigcalc.units` gives, many times quicker; anything typed in another way is left to it.
"""

from __future__ import annotations

import re
from math import gcd

from rigcalc.units import LBF_N, POUND_KG

__all__ = ["read_plainly", "with_unit_in_words"]

_TYPED = re.compile(r"([0-9]{1,9})(?:\.([0-9]{1,3}))?(?: ?(lbf|N|kN|mm|m|kg|lb|deg))?", re.ASCII)
_FACTORS = {"lbf": (LBF_N.numerator, LBF_N.denominator), "N": (1, 1), "kN": (1000, 1), "mm": (1, 1), "m": (1000, 1),
            "kg": (1, 1), "lb": (POUND_KG.numerator, POUND_KG.denominator), "deg": (1, 1), "": (1, 1)}


_WORDS = {"lbf": "pounds-force", "N": "newtons", "kN": "kilonewtons", "mm": "millimetres", "cm": "centimetres", "m": "metres", "in": "inches", "ft": "feet",
          "kg": "kilograms", "lb": "pounds of mass", "deg": "degrees", "°C": "degrees Celsius"}


def with_unit_in_words(figure: str, unit: str) -> str:
    """A typed figure said back: its unit in words, and no other unit, whose rounding could lead astray.

    >>> with_unit_in_words("672 lbf", "lbf"), with_unit_in_words("4", "")
    ('672 lbf (pounds-force)', '4')
    """
    return f"{figure} ({_WORDS[unit]})" if unit in _WORDS else figure


def read_plainly(plain: str, accept: tuple[str, ...]) -> tuple[str, str, str] | None:
    """(value in the base unit, unit, how it was read); None where it was typed in another way.

    >>> read_plainly("360 lbf", ("lbf", "N"))
    ('80067989074689/50000000000', 'lbf', '360 lbf (pounds-force)')
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
    return f"{over}/{under}" if under != 1 else f"{over}", unit, with_unit_in_words(f"{number} {unit}".strip(), unit)
