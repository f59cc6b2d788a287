"""Reading what a person typed: a size, a length, a force, a mass. Refused or asked, never guessed."""

from __future__ import annotations

import re
from fractions import Fraction

from rigcalc._given import among, listed, said
from rigcalc._quantities import (
    FORCES,
    INCH_MM,
    LENGTHS,
    MASSES,
    PER_BASE,
    AmbiguousInput,
    Reading,
    Size,
    UnitError,
    fraction_words,
    show_force,
    show_length,
    show_mass,
)

__all__ = ["read_force_n", "read_length_mm", "read_mass_kg", "read_size"]

LONGEST_TYPED = 60  # signs; nobody writes a quantity longer than that
LONGEST_NUMBER = 12  # digits
FINEST_SIZE = 64  # cable sizes are written in fractions of an inch down to 64ths
NOMINAL_METRIC = {3: "1/8", 4: "5/32", 5: "3/16", 6: "1/4", 8: "5/16"}  # taken for inch sizes at many benches

_VULGAR = {"\u00bc": "1/4", "\u00bd": "1/2", "\u00be": "3/4", "\u215b": "1/8", "\u215c": "3/8", "\u215d": "5/8", "\u215e": "7/8"}
_PLAIN = str.maketrans({"\u00a0": " ", "\u202f": " ", "\u2033": '"', "\u201d": '"', "\u2032": "'",
                        "\u2019": "'", "\u2044": "/", "\u2013": "-", "\u2010": "-", "\u2011": "-", "\u2212": "-"})
_WORDS = {'"': "in", "''": "in", "in": "in", "in.": "in", "inch": "in", "inches": "in",
          "'": "ft", "ft": "ft", "ft.": "ft", "foot": "ft", "feet": "ft",
          "mm": "mm", "millimetre": "mm", "millimetres": "mm", "cm": "cm", "centimetre": "cm", "centimetres": "cm", "m": "m", "metre": "m", "metres": "m",
          "lbf": "lbf", "n": "N", "newton": "N", "newtons": "N", "kn": "kN", "kilonewton": "kN", "kilonewtons": "kN",
          "kg": "kg", "kilogram": "kg", "kilograms": "kg", "lb": "lb", "lb.": "lb", "lbs": "lb", "lbs.": "lb",
          "pound": "lb", "pounds": "lb"}
_OTHER_MASSES = {"g", "t", "ton", "tons", "tonne", "tonnes", "oz", "gram", "grams"}
_PARTS = re.compile(r"""(?P<number>[0-9][0-9.,/]*(?:[ -]+[0-9][0-9]*/[0-9]+)?|\.[0-9]+)(?:\s*|-(?=[iIfF]))(?P<unit>[A-Za-z"'.]*)""", re.X)
_EXAMPLES = {"length": {"in": "3 1/8 in", "mm": "500 mm", "m": "2.40 m", "ft": "30 ft"},
             "force": {"lbf": "360 lbf", "N": "1600 N", "kN": "1.60 kN"}, "mass": {"lb": "84 lb", "kg": "38 kg"}}
_SIZES = "an inch size such as 1/8, 5/32 in or 3.2 mm for 1/8"


def read_size(text: str) -> Size:
    """The inch size that was typed: `1/8`, `1/8 in`, `5/32"`, or 3.2 mm for 1/8.

    Range: fractions of an inch down to 64ths, up to 1 in. A nominal metric size (3, 4, 5, 6, 8 mm) is
    another cable and is refused. Whether a table holds the size is asked of the table.
    Errors: `UnitError`, `AmbiguousInput` for a decimal that is no size.
    Source: common practice (how sizes are written); the inch of the yard and pound agreement, 1959.

    >>> read_size('5/32"').name, read_size("3.2 mm").name
    ('5/32', '1/8')
    """
    plain = _clean(text, "size")
    if re.fullmatch(r"\s*[0-9]+\s*/\s*[0-9]+\s*(in\.?)?\s*[-x]+\s*[0-9]+\s*/\s*[0-9]+.*", plain):
        raise UnitError(f"the two sizes {_said(text)}", "the size of the bare cable alone",
                        "type the smaller, the bare core's size: the coat is not the cable")
    match = _PARTS.fullmatch(plain)
    if not match:
        raise _unreadable(text, "size")
    number, unit = _number(match["number"], text, "size"), _unit(match["unit"], text, "size", ("in", "mm"))
    if unit == "mm":
        return _metric_size(number, text)
    if "/" not in match["number"] and not unit and number >= 1:
        raise AmbiguousInput(f"the size {_said(text)} without a unit", _SIZES,
                             "write the inch size as a fraction", _size_choices(match["number"], number))
    return _inch_size(number, text, typed_as_fraction="/" in match["number"])


def _inch_size(inches: Fraction, text: str, typed_as_fraction: bool) -> Size:
    if 0 < inches <= 1 and FINEST_SIZE % inches.denominator == 0:
        return Size(str(inches), inches)
    below, above = _neighbours(inches)
    between = below > 0 and inches < 1
    do = f"take {below} or {above}, whichever the label says" if between else "read the label again"
    if not typed_as_fraction and between:
        raise AmbiguousInput(f"the size {_said(text)}, which is no inch size exactly,", _SIZES, do,
                             (f"{below} in", f"{above} in"))
    raise UnitError(f"the size {_said(text)}", _SIZES, do)


def _metric_size(diameter_mm: Fraction, text: str) -> Size:
    if diameter_mm.denominator == 1:
        other = NOMINAL_METRIC.get(int(diameter_mm))
        reason = f"{int(diameter_mm)} mm is another cable and not {other}" if other else "it is another cable"
        raise UnitError(f"the nominal metric size {_said(text)}", _SIZES,
                        f"{reason}: take the size from the reel's label, or ask whoever sold it")
    for parts in range(1, FINEST_SIZE + 1):
        inches = Fraction(parts, FINEST_SIZE)
        exact_mm = inches * INCH_MM
        if inches.denominator <= 32 and diameter_mm in (exact_mm, _half_up(exact_mm, 10), _half_up(exact_mm, 100)):
            return Size(str(inches), inches)
    raise UnitError(f"the diameter {_said(text)}, which is no inch size,", _SIZES,
                    "take the size from the reel's label; a reading from a caliper is not a size")


def _half_up(value: Fraction, parts: int) -> Fraction:
    return Fraction((value * parts + Fraction(1, 2)).__floor__(), parts)


def _neighbours(inches: Fraction) -> tuple[Fraction, Fraction]:
    below = Fraction((inches * 32).__floor__(), 32)
    return below, below + Fraction(1, 32)


def _size_choices(typed: str, number: Fraction) -> tuple[str, ...]:
    """A bare 3 may be short for 3/32 or 3/16, a bare 8 for 1/8, or either may be millimetres."""
    sixteenths = [Fraction(number, parts) for parts in (32, 16) if number.denominator == 1]
    turned = [1 / number] if number.denominator == 1 and number > 1 else []
    inches = sorted({size for size in sixteenths + turned if size < 1 and 32 % size.denominator == 0})
    return (*(f"{size} in" for size in inches), f"{typed} mm")


def read_length_mm(text: str, default_unit: str | None = None, accept: tuple[str, ...] = LENGTHS) -> Reading:
    """A length in mm as typed: `3 1/8 in`, `3-1/8"`, `500 mm`, `17 cm`, `2.40 m`, `30 ft`, `5 ft 3 in`.

    `default_unit` counts only when the page shows it beside the box. `accept` are the units that may be typed; where mm
    may be, cm may be too. Range: zero and above.
    Errors: `UnitError`; `AmbiguousInput` for a bare number or a doubtful comma.
    Source: the inch and foot of the yard and pound agreement, 1959.

    >>> read_length_mm('3-1/8"').value
    Fraction(635, 8)
    """
    accept = _with_cm(listed(accept, "the units accepted", str))
    plain = _clean(text, "length", accept)
    feet = re.fullmatch(r"""(.+?(?:ft\.?|foot|feet|'(?!')))[ -]*([0-9.][^'a-z]*(?:in\.?|inch|inches|"|''))""", plain, re.I)
    if feet and "in" in accept:  # feet and inches together are inches
        first, second = (_quantity(part, "length", (*accept, "ft"), None, text) for part in feet.groups())
        value, unit = first[0] * PER_BASE["ft"] + second[0] * INCH_MM, "in"
        if second[0] >= 12 or first[0].denominator != 1:
            raise _unreadable(text, "length")
    else:
        number, unit = _quantity(plain, "length", accept, default_unit, text)
        value = number * PER_BASE[unit]
    return Reading(value, unit, text, _as_read(plain, value, unit, show_length, ("in", "ft")))


def _with_cm(accept: tuple[str, ...]) -> tuple[str, ...]:
    at = accept.index("mm") + 1 if "mm" in accept else 0
    return (*accept[:at], "cm", *accept[at:]) if at else tuple(accept)


def read_force_n(text: str, accept: tuple[str, ...] = FORCES, default_unit: str | None = None) -> Reading:
    """A force in N as typed in lbf, N or kN; a mass is refused, and `lb` is asked back.

    Errors: `UnitError`; `AmbiguousInput` for a bare number, `lb`, or a doubtful comma.
    Source: the pound of the yard and pound agreement, 1959, and the free fall of CGPM 1901.

    >>> read_force_n("360 lbf").shown
    '360 lbf [1.60 kN]'
    """
    accept = listed(accept, "the units accepted", str)
    plain = _clean(text, "force", accept)
    number, unit = _quantity(plain, "force", accept, default_unit, text)
    value = number * PER_BASE[unit]
    return Reading(value, unit, text, _as_read(plain, value, unit, show_force, ("lbf",)))


def read_mass_kg(text: str, default_unit: str | None = None) -> Reading:
    """A mass in kg as typed in kg or lb; a force is refused.

    Errors: `UnitError`; `AmbiguousInput` for a bare number or a doubtful comma.
    Source: the pound of the yard and pound agreement, 1959.

    >>> read_mass_kg("84 lb").shown
    '84 lb [38.1 kg]'
    """
    plain = _clean(text, "mass")
    number, unit = _quantity(plain, "mass", MASSES, default_unit, text)
    value = number * PER_BASE[unit]
    return Reading(value, unit, text, _as_read(plain, value, unit, show_mass, ("lb",)))


def _as_read(text: str, value: Fraction, unit: str, show, us_units: tuple[str, ...]) -> str:
    """The number as typed with the unit's short name, and the other system in brackets."""
    other = show(value, "US").partition("[")[2] if unit in us_units else show(value, "SI").partition("[")[2]
    number = re.match(r"[0-9./ -]*", text.strip())[0].strip(" -")
    if unit == "in":
        inches = value / INCH_MM
        number = f"{float(inches):.10g}" if FINEST_SIZE % inches.denominator else fraction_words(inches)
    return f"{number} {unit} [{other}"


# --- the parts of a typed quantity --------------------------------------------------------------

def _quantity(plain: str, kind: str, accept: tuple[str, ...], default_unit: str | None, text: str):
    match = _PARTS.fullmatch(plain.strip())
    if not match:
        raise _gap(text, kind) or _unreadable(text, kind, accept)
    number, unit = _number(match["number"], text, kind, accept), _unit(match["unit"], text, kind, accept)
    if default_unit is not None and not among(default_unit, PER_BASE):
        raise UnitError(f"the unit {said(default_unit)}", ", ".join(accept), "take one of these units")
    unit = unit or default_unit
    if unit is None:
        raise AmbiguousInput(f"the {kind} {_said(text)} without a unit", _examples(kind, accept), "write the unit",
                             tuple(f"{match['number']} {unit}" for unit in accept if unit != "cm" and _written_in(match["number"], unit)))
    if not _written_in(match["number"], unit):
        raise AmbiguousInput(f"the fraction {_said(text)} in {unit}", "decimals in that unit, fractions in inches",
                             "say which is meant", (f"{match['number']} in", f"{float(number):g} {unit}")
                             if kind == "length" else (f"{float(number):g} {unit}",))
    return number, unit


def _written_in(number: str, unit: str) -> bool:
    """Fractions belong to inches, feet and pounds; metric units are written in decimals."""
    return "/" not in number or unit in ("in", "ft", "lb", "lbf")


def _clean(text: str, kind: str, accept: tuple[str, ...] = ()) -> str:
    if not isinstance(text, str):
        raise UnitError(f"the {kind} {said(text)}", _examples(kind, accept), "write it with its unit")
    if len(text) > LONGEST_TYPED:
        raise UnitError(f"the {kind} {text[:20]!r} and {len(text) - 20} more signs", _examples(kind, accept), "write it shorter")
    plain = re.sub("([0-9]?)([" + "".join(_VULGAR) + "])", lambda found: f"{found[1]} {_VULGAR[found[2]]}".strip(), text)
    plain = plain.translate(_PLAIN).strip()
    if not plain:
        raise UnitError(f"an empty box for the {kind}", _examples(kind, accept), "write it with its unit")
    if not plain.isascii() or not plain.isprintable():
        raise UnitError(f"the {kind} {_said(text)} with signs that are no plain figures", _examples(kind, accept),
                        "write plain figures, and a fraction as 1/2")
    if plain.startswith("-"):
        raise UnitError(f"the negative {kind} {_said(text)}", _examples(kind, accept), "write it without the minus")
    if re.match(r"[0-9.]+e[-+]?[0-9]", plain, re.I):
        raise UnitError(f"the {kind} {_said(text)} with an exponent", _examples(kind, accept), "write the number out")
    return plain


def _number(number: str, text: str, kind: str, accept: tuple[str, ...] = ()) -> Fraction:
    if sum(sign.isdigit() for sign in number) > LONGEST_NUMBER:
        raise UnitError(f"the {kind} {_said(text)} with more than {LONGEST_NUMBER} figures", _examples(kind, accept),
                        "write it shorter")
    if "," in number:
        raise _comma(number, text, kind)
    match = re.fullmatch(r"(?:([0-9]+)[ -]+)?([0-9]+)/([0-9]+)|([0-9]+\.?[0-9]*|\.[0-9]+)", number)
    if not match:
        raise _unreadable(text, kind, accept)
    whole, over, under, decimal = match.groups()
    if decimal:
        return Fraction(decimal)
    if int(under) == 0:
        raise UnitError(f"the {kind} {_said(text)}, which divides by zero,", _examples(kind, accept), "write the fraction again")
    if whole and int(over) >= int(under):
        raise _unreadable(text, kind, accept)
    return int(whole or 0) + Fraction(int(over), int(under))


def _comma(number: str, text: str, kind: str) -> UnitError:
    if not re.fullmatch(r"[0-9]+(,[0-9]+)*(\.[0-9]+)?", number):
        return _unreadable(text, kind)
    rest = text.partition(number)[2].strip()
    readings = [number.replace(",", "")] if re.fullmatch(r"[0-9]{1,3}(,[0-9]{3})+(\.[0-9]+)?", number) else []
    if number.count(",") == 1 and "." not in number:
        readings.append(number.replace(",", "."))
    if not readings:
        return _unreadable(text, kind)
    doubt, do = ((", whose comma can be read in more than one way,", "say which is meant") if len(readings) > 1
                 else (" with a comma", "say whether a point is meant"))
    return AmbiguousInput(f"the {kind} {_said(text)}{doubt}", "figures without a comma, a point before decimals", do,
                          tuple(f"{reading} {rest}".strip() for reading in readings))


def _gap(text: str, kind: str) -> UnitError | None:
    """`1 250 kN`: a gap may part thousands, or a figure may be missing."""
    match = re.fullmatch(r"([0-9]{1,3})((?: [0-9]{3})+(?:[.][0-9]+)?)\s*([A-Za-z\"']*)", text.strip())
    if not match:
        return None
    joined = match[1] + match[2].replace(" ", "")
    return AmbiguousInput(f"the {kind} {_said(text)} with a gap between figures", "figures without a gap", "say what is meant",
                          (f"{joined} {match[3]}".strip(),))


def _unit(unit: str, text: str, kind: str, accept: tuple[str, ...]) -> str | None:
    if not unit:
        return None
    word = unit.lower()
    name = _WORDS.get(word)
    if name in accept:
        return name
    if kind == "force" and (name in MASSES or word in _OTHER_MASSES):
        raise _mass_for_force(name, text, accept)
    if kind == "mass" and name in FORCES:
        raise UnitError(f"the force {_said(text)} where a mass is asked", _examples("mass", accept), "write the mass in kg or lb")
    raise UnitError(f"the {kind} {_said(text)} in {unit!r:.20}", ", ".join(accept), "write it in one of these units")


def _mass_for_force(name: str | None, text: str, accept: tuple[str, ...]) -> UnitError:
    accepted = f"a force in {', '.join(accept)}"
    if name == "lb" and "lbf" in accept:
        number = re.sub(r"\s*[A-Za-z.]+\s*$", "", text.strip())
        return AmbiguousInput(f"{_said(text)} where a force is asked (lb is a mass, lbf a force)", accepted,
                              "say that pounds-force are meant, or ask for the force", (f"{number} lbf",))
    return UnitError(f"the mass {_said(text)} where a force is asked", accepted,
                     "write the force; a mass has to be turned into a force first")


def _unreadable(text: str, kind: str, accept: tuple[str, ...] = ()) -> UnitError:
    worded = kind != "size" and re.match(r"\s*(?:[A-Za-z.]+|[~<>=+]+)\s*[0-9]", text)
    return UnitError(f"the {kind} {_said(text)}", _examples(kind, accept), "write the figure and its unit alone" if worded else "write it like one of these")


def _examples(kind: str, accept: tuple[str, ...]) -> str:
    """What may be typed, in none but the accepted units."""
    if kind == "size":
        return _SIZES
    known = _EXAMPLES[kind]
    *first, last = [known[unit] for unit in known if unit in accept] or known.values()
    return f"a {kind} such as {' or '.join(filter(None, (', '.join(first), last)))}"


def _said(text: str) -> str:
    return repr(text.strip()[:LONGEST_TYPED])
