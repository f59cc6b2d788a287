"""Filling the gaps of a question's text: `{cable.size}` and `{force:force}`, by name alone, never as code."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from typing import Any

__all__ = ["GAP", "FORMATS", "fill", "gaps", "no_gap", "at_path", "half_up_to_hundredths", "plain", "resolve"]

GAP = re.compile(r"\{([a-z_][a-z0-9_]*(?:\.[a-z0-9_]+)*)(?::([a-z ]+))?\}")


def at_path(values: Mapping[str, Any], path: str) -> Any:
    """The value at a dotted path in plain records and lists; KeyError when there is none."""
    found: Any = values
    for step in path.split("."):
        if (type(found) is dict or isinstance(found, Mapping)) and step in found:
            found = found[step]
        elif isinstance(found, (list, tuple)) and step.isdigit() and int(step) < len(found):
            found = found[int(step)]
        else:
            raise KeyError(path)
    return found


def resolve(value: Any, values: Mapping[str, Any]) -> Any:
    """A field's value: text that begins with $ is the drawn value of that name, all else stands as written."""
    if isinstance(value, str) and value.startswith("$"):
        return at_path(values, value[1:])
    if isinstance(value, list):
        return [resolve(one, values) for one in value]
    if isinstance(value, dict):
        return {name: resolve(one, values) for name, one in value.items()}
    return value


def plain(value: Any) -> str:
    """A value as it stands in a sentence: whole numbers without a point, lists with commas."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (list, tuple)):
        return ", ".join(plain(item) for item in value)
    if isinstance(value, Fraction):
        value = float(value)
    if isinstance(value, float):
        return f"{value:.6f}".rstrip("0").rstrip(".")
    return str(value)


def half_up_to_hundredths(length_mm: float) -> float:
    """A length in mm to 0.01 mm, a half up, as every question shows one: 1/8 in is 3.18 mm.

    >>> half_up_to_hundredths(3.175)
    3.18
    """
    return int(length_mm * 100 + 0.5 + 1e-9) / 100


def _force(value: Any, system: str) -> str:
    from rigcalc.units import show_force

    return show_force(value, system=system)


def _force_down(value: Any, system: str) -> str:
    from rigcalc.units import show_force

    return show_force(value, system=system, direction="down")


def _mm(value: Any, system: str) -> str:
    """A length as it was set: in a US shop one that was set in inches has them first and mm to 0.1 in brackets, all else in mm."""
    from rigcalc.units import show_set_in_inches

    return (system == "US" and show_set_in_inches(value)) or f"{plain(float(value))} mm"


def _metres(value: Any, system: str) -> str:
    return f"{float(value) / 1000:.3f} m"


def _in(value: Any, system: str) -> str:
    from rigcalc.units import in_unit

    return f"{float(in_unit(value, 'in')):.3f} in"


def _both(value: Any, system: str) -> str:
    inch, millimetre = _in(value, system), f"{half_up_to_hundredths(float(value)):.2f} mm"
    return f"{inch} [{millimetre}]" if system == "US" else f"{millimetre} [{inch}]"


def _percent(value: Any, system: str) -> str:
    return f"{plain(float(value) * 100)} %"


def _then(value: Any, system: str) -> str:
    return ", then ".join(plain(item) for item in value)


def _number(value: Any, system: str) -> str:
    return plain(value)


FORMATS = {"force": _force, "force down": _force_down, "mm": _mm, "m": _metres, "inch": _in, "reading": _both,
           "percent": _percent, "then": _then, "number": _number}


def gaps(text: str) -> list[tuple[str, str | None]]:
    """The names and formats asked for in a text, in order."""
    return [(found[1], found[2]) for found in GAP.finditer(text)]


def no_gap(text: str) -> str | None:
    """What stands at the first brace that is no part of a gap; None where every brace is.

    >>> no_gap("Cut {cut_mm mm long."), no_gap("Cut {cut_mm} mm.")
    ('{cut_mm mm long.', None)
    """
    held = {at for found in GAP.finditer(text) for at in range(*found.span())}
    loose = next((at for at, sign in enumerate(text) if sign in "{}" and at not in held), None)
    return None if loose is None else text[max(0, loose - 12) if text[loose] == "}" else loose:][:30]


def fill(text: str, values: Mapping[str, Any], system: str) -> str:
    """The text with every gap filled from the values; forces in the shop's system with the other in brackets."""
    def one(found: re.Match[str]) -> str:
        value = at_path(values, found[1])
        return FORMATS[found[2]](value, system) if found[2] else plain(value)

    return GAP.sub(one, text)
