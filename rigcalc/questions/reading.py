"""How a typed answer is read, said back before it counts. Needs the question alone, no key."""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction
from functools import lru_cache
from typing import Any

from rigcalc.errors import Refusal
from rigcalc.questions.plain_reading import read_plainly, with_unit_in_words
from rigcalc.questions.scale import dimension
from rigcalc.questions.separators import plain_figures, separators, shown_with
from rigcalc.units import INCH_MM

__all__ = ["read_answer", "read_figure", "LONGEST"]

LONGEST = 60
LONGEST_NUMBER = 12  # digits of a plain figure
REFUSALS = ("refuse", "refused", "i refuse", "refuse it", "i refuse it")
PRESS = "press {} if that is meant"
DEGREES = ("deg", "deg.", "degree", "degrees", "\u00b0", "\u00ba")

_MASS = re.compile(r"[0-9] ?(kg|kgs|kilograms?|kilos?|lbs?|pounds?|g|grams?|t)\.?$", re.ASCII | re.IGNORECASE)
_POUNDS = re.compile(r"(.*[0-9]) ?(?:lbs?|pounds?)\.?", re.ASCII | re.IGNORECASE)
_END = re.compile(r"""(?<=[A-Za-z\u00b0\u00ba"'\u2032\u2033]) ?[.,]+$""")  # a stop or comma behind a unit
_COUNTED = re.compile(r"([0-9][0-9./ ]*?)[ -]*([a-z]+)\.?", re.ASCII | re.IGNORECASE)
_SHORT_NOUNS = {"pc": "piece"}
_FEET = re.compile(r"[0-9 ./]+(?:ft\.?|foot|feet|')", re.IGNORECASE)
_CELSIUS = re.compile(r"([+-]|\u2212|\u2013)? ?([0-9]+(?:\.[0-9]+)?) ?(?:(?:°|º|deg\.?|degrees?)? ?(c|celsius|centigrade)?)?", re.ASCII | re.IGNORECASE)


def _unread(sentence: str, ask: list[str] | None = None) -> dict[str, Any]:
    told = sentence.removeprefix("Refused: ")
    return {"ok": False, "shown": f"Cannot be read: {told[:1].lower()}{told[1:]}", "ask": ask, "value": None}


def _read(shown: str, value: Any) -> dict[str, Any]:
    return {"ok": True, "shown": shown, "ask": None, "value": value}


def _letters(question: dict[str, Any]) -> list[str]:
    return [option["letter"] for option in question["options"]]


def _letter(one: Any) -> Any:
    return one.strip().upper() if isinstance(one, str) else one


def _choice(question: dict[str, Any], typed: Any) -> dict[str, Any]:
    for option in question["options"]:
        if option["letter"] == typed:
            return _read(f"{typed}: {option['text']}" if question["kind"] != "place" else option["text"], typed)
    letters = _letters(question)
    if not isinstance(typed, str) or typed.strip().upper() not in letters:
        return _unread(f"{_short(typed)} was given; accepted: one of {', '.join(letters)}; choose one of these.")
    letter = typed.strip().upper()
    text = next(option["text"] for option in question["options"] if option["letter"] == letter)
    return _read(f"{letter}: {text}" if question["kind"] != "place" else text, letter)


def _several(question: dict[str, Any], typed: Any) -> dict[str, Any]:
    letters = _letters(question)
    row = [_letter(one) for one in typed] if isinstance(typed, list) else typed
    known = isinstance(row, list) and row and all(isinstance(one, str) and one in letters for one in row)
    if not known or len(set(row)) != len(row):
        return _unread(f"{_short(typed)} was given; accepted: one or more of {', '.join(letters)}, each once; "
                       "choose all that fit.")
    return _read(", ".join(sorted(row)), sorted(row))


def _order(question: dict[str, Any], typed: Any) -> dict[str, Any]:
    letters = _letters(question)
    row = [_letter(one) for one in typed] if isinstance(typed, list) else typed
    if not isinstance(row, list) or len(row) != len(letters) or sorted(map(str, row)) != sorted(letters):
        return _unread(f"{_short(typed)} was given; accepted: each of {', '.join(letters)} once; put them in order.")
    return _read(", then ".join(row), row)


def _match(question: dict[str, Any], typed: Any) -> dict[str, Any]:
    letters, count = _letters(question), len(question["left"])
    row = [_letter(one) for one in typed] if isinstance(typed, list) else typed
    fits = isinstance(row, list) and len(row) == count and all(
        isinstance(one, str) and (not one or one in letters) for one in row)
    if not fits or not any(row):
        return _unread(f"{_short(typed)} was given; accepted: for each of the {count} lines one of "
                       f"{', '.join(letters)}; give each line its letter.")
    return _read(", ".join(f"{at} {letter or 'left empty'}" for at, letter in enumerate(row, 1)), row)


def _sheet(question: dict[str, Any], typed: Any) -> dict[str, Any]:
    """Each box read alone; `boxes` holds the readings, None for a box left empty."""
    boxes = question["boxes"]
    fits = isinstance(typed, list) and len(typed) == len(boxes) and all(isinstance(one, str) for one in typed)
    if not fits or not any(one.strip() for one in typed):
        return _unread(f"{_short(typed)} was given; accepted: an entry for each of the {len(boxes)} boxes; "
                       "fill in the sheet.") | {"boxes": [None] * len(boxes)}
    found = [read_answer(box, one) if one.strip() else None for box, one in zip(boxes, typed, strict=True)]
    wrong = [number for number, one in enumerate(found, 1) if one and not one["ok"]]
    if wrong:
        told = found[wrong[0] - 1]["shown"].removeprefix("Cannot be read: ")
        return _unread(f"Box {wrong[0]}: {told}") | {"boxes": found}
    shown = "; ".join(f"{box['label']}: {one['shown'] if one else 'left empty'}"
                      for box, one in zip(boxes, found, strict=True))
    return _read(shown, [one["value"] if one else None for one in found]) | {"boxes": found}


def _short(typed: Any) -> str:
    if typed in (None, "", []):
        return "Nothing"
    if isinstance(typed, list):
        return f"A row of {len(typed)} letters" if len(typed) > 8 else "'" + ", ".join(str(t)[:8] for t in typed) + "'"
    return repr(typed[:LONGEST]) if isinstance(typed, str) else "Something that is no text"


def _wanted(accept: tuple[str, ...]) -> str:
    return "a plain figure" if accept == ("",) else f"a figure in {', '.join(accept)}"


def _wanted_with(accept: tuple[str, ...], choices: list[str]) -> str:
    """What is accepted; centimetres too where they are offered, as they are read wherever millimetres are."""
    return _wanted((*accept, "cm") if "mm" in accept and any(_unit_of(one) == "cm" for one in choices) else accept)


def _number(question: dict[str, Any], typed: Any) -> dict[str, Any]:
    accept = tuple(question["accept"])
    if not isinstance(typed, str) or not typed.strip():
        return _unread(f"{_short(typed)} was given; accepted: {_wanted(accept)}; type it.")
    signs = question.get("separators") or separators("en")
    if accept == ("",) and (alone := _without_what_is_counted(question, typed)):
        found = read_answer(question, alone)
        return {**found, "value": found["value"] and {**found["value"], "typed": typed.strip()}}
    found = read_figure(typed, accept, bool(question.get("refusal")), signs["decimal"], signs["thousands"])
    return {**found, "value": found["value"] and dict(found["value"])}


def _without_what_is_counted(question: dict[str, Any], typed: str) -> str:
    """The figure alone of `4 crimps`, where the question asks how many crimps; else an empty text."""
    found = _COUNTED.fullmatch(typed.strip())
    asked = [*re.findall(r"how many ([a-z]+)", question.get("text", "").casefold()), *question.get("label", "").casefold().split()[:1]]
    noun = found[2].casefold().removesuffix("s") if found else ""
    return found[1] if _SHORT_NOUNS.get(noun, noun) in [one.removesuffix("s") for one in asked] and found else ""


def _leading_on(accept: tuple[str, ...], refusal: bool, decimal: str, thousands: str) -> Callable[[str], bool]:
    """Whether an offered reading, once pressed, is read or asked back: one that would be refused is not offered."""
    def leads_on(one: str) -> bool:
        found = read_figure(one, accept, refusal, decimal, thousands)
        return bool(found["ok"] or found["ask"])
    return leads_on


@lru_cache(maxsize=16384)  # a class types the same figures again and again; what is read depends on nothing else
def read_figure(typed: str, accept: tuple[str, ...], refusal: bool, decimal: str, thousands: str) -> dict[str, Any]:
    """How a figure is read, not empty and of no more than LONGEST signs; what is given back is not to be changed."""
    if refusal and " ".join(typed.casefold().strip(" .,!'\"").split()) in REFUSALS:
        return _read("refuse: no figure can be stated", {"refuse": True})
    if decimal == "." and (quick := read_plainly(typed.strip(), accept)):
        return _read(quick[2], {"base": quick[0], "unit": quick[1], "typed": typed.strip(), "plain": typed.strip()})
    signs, wanted = {"decimal": decimal, "thousands": thousands}, _wanted(accept)
    refuse = ", or the word refuse" if refusal else ""
    ended = typed.strip().rstrip(" .,") if accept == ("",) else _END.sub("", typed.strip())
    leads_on = _leading_on(accept, refusal, decimal, thousands)
    plain, offered = plain_figures(ended, signs)
    choices = [one for one in offered if leads_on(one)]
    if plain is None:
        if len(choices) == 1:
            return _unread(f"{_short(typed)} was given; accepted: {_wanted_with(accept, choices)}, a point before decimals; {PRESS.format(choices[0])}.", choices)
        if choices:
            return _unread(f"The signs in {_short(typed)} can be read in more than one way; accepted: {_wanted_with(accept, choices)}; say which is meant.", choices)
        do = "type it again" if not offered else "type the figure alone" if accept == ("",) else "type the figure and its unit alone"
        return _unread(f"{_short(typed)} was given; accepted: {wanted}{refuse}; {do}.")
    if dimension(accept[0]) == "force" and _MASS.search(plain):  # no more help: whether it is a mass may be what is asked
        pounds = _POUNDS.fullmatch(plain)
        meant = shown_with(f"{pounds[1]} lbf", signs) if pounds and "lbf" in accept else ""
        if meant and leads_on(meant):
            return _unread(f"{_short(typed)} was given, a mass; accepted: {wanted}; {PRESS.format(meant)}.", [meant])
        return _unread(f"{_short(typed)} was given, a mass; accepted: {wanted}{refuse}; type it in one of these units.")
    try:
        value, unit, shown = _quantity(accept, plain)
    except Refusal as wrong:
        ask = [shown_with(one, signs) for one in getattr(wrong, "choices", None) or () if _unit_of(one) in (None, *accept)]
        ask = [one for one in ask if leads_on(one)]
        do = PRESS.format(ask[0]) if len(ask) == 1 else wrong.do
        return _unread(f"{wrong.given} was given; accepted: {_accepted(wrong, accept)}{'' if ask else refuse}; {do}.", ask or None)
    if unit == "cm" and "mm" in accept:  # marked as the millimetres that it is
        unit, plain = "mm", f"{float(value):.12g} mm"
        shown = f"{shown}, that is {plain}"
    if unit == "ft" and "ft" not in accept and "in" in accept:  # marked as the inches that it is
        unit, plain = "in", f"{float(value / INCH_MM):.12g} in"
        shown = f"{shown}, that is {plain}"
    if unit not in accept:
        return _unread(f"An answer in {unit} was given; accepted: {', '.join(accept)}{refuse}; type it in one of these units.")
    return _read(shown_with(shown, signs), {"base": str(value), "unit": unit, "typed": typed.strip(), "plain": plain})


def _accepted(wrong: Refusal, accept: tuple[str, ...]) -> str:
    """What is accepted, in the units that the question names: centimetres are read beside millimetres, and fractions belong to inches."""
    told = wrong.accepted if "cm" in accept else wrong.accepted.replace("mm, cm", "mm")
    return told if "in" in accept else told.removesuffix(", fractions in inches")


def _quantity(accept: tuple[str, ...], plain: str) -> tuple[Fraction, str, str]:
    """Value in the base unit, unit, and how it was read; a Refusal where there is no one reading."""
    from rigcalc import units

    kind = dimension(accept[0])
    if kind == "count":
        return _count(plain), "", plain
    if kind == "angle":
        return _angle(plain)
    if kind == "temperature":
        return _temperature(plain)
    readers = {"force": lambda: units.read_force_n(plain, accept=accept),
               "length": lambda: units.read_length_mm(plain, accept=(*accept, "ft") if "in" in accept and _FEET.fullmatch(plain) else accept), "mass": lambda: units.read_mass_kg(plain)}
    reading = readers[kind]()
    return reading.value, reading.unit, with_unit_in_words(reading.shown.partition(" [")[0], reading.unit)


def _count(plain: str) -> Fraction:
    found = re.fullmatch(r"([0-9]+)(?:\.([0-9]+))?|\.([0-9]+)|(?:([0-9]+)[ -]+)?([0-9]+)/([0-9]+)", plain, re.ASCII)
    if not found or sum(map(str.isdigit, plain)) > LONGEST_NUMBER or (found[6] and not int(found[6])):
        raise Refusal(f"the figure {plain[:LONGEST]!r}", "a plain figure without a unit, such as 4 or 2.5",
                      "type the figure alone")
    if found[6]:
        return int(found[4] or 0) + Fraction(int(found[5]), int(found[6]))
    return Fraction(plain)


def _angle(plain: str) -> tuple[Fraction, str, str]:
    figure = re.match(r"[0-9.]+(?:[ -]+[0-9]+)?(?:/[0-9]+)?", plain)
    unit = plain[figure.end():].strip().casefold() if figure else ""
    if not figure or unit not in ("", *DEGREES):
        raise Refusal(f"the angle {plain[:LONGEST]!r}", "an angle in degrees, such as 30 deg or 30\u00b0", "type it so")
    value = _count(figure[0].strip())
    return value, "deg", with_unit_in_words(f"{figure[0].strip()} deg", "deg")


def _temperature(plain: str) -> tuple[Fraction, str, str]:
    """Degrees Celsius, with a sign or none; degrees of no scale are asked back, never taken for Celsius."""
    from rigcalc.units import AmbiguousInput

    found = _CELSIUS.fullmatch(plain)
    if not found or sum(map(str.isdigit, plain)) > LONGEST_NUMBER:
        raise Refusal(f"the temperature {plain[:LONGEST]!r}", "a temperature in degrees Celsius, such as 90 °C or -20 °C", "type it so")
    sign = "-" if found[1] in ("-", "\u2212", "\u2013") and Fraction(found[2]) else ""
    if not found[3]:
        raise AmbiguousInput(f"the temperature {plain!r} without its scale", "a temperature in degrees Celsius, such as 90 °C",
                             "write the unit", (f"{sign}{found[2]} °C",))
    return Fraction(sign + found[2]), "°C", with_unit_in_words(f"{sign}{found[2]} °C", "°C")


def _unit_of(choice: str) -> str | None:
    last = choice.split()[-1] if " " in choice else None
    return last if last and last.isalpha() else None


READERS = {"one choice": _choice, "several choices": _several, "number": _number, "order": _order, "match": _match,
           "place": _choice, "sheet": _sheet}


def read_answer(question: dict[str, Any], typed: Any) -> dict[str, Any]:
    """How an answer is read: {"ok", "shown", "ask", "value"}, and for a sheet "boxes".

    `shown` is the reading, or one plain sentence saying why there is none; `ask` are the readings to choose from
    when what was typed is ambiguous. `typed` is untrusted: anything at all may be given, nothing is executed.
    """
    if isinstance(typed, str) and len(typed) > LONGEST:
        return _unread(f"{len(typed)} signs were given; accepted: at most {LONGEST}; type a shorter answer.")
    if isinstance(typed, list) and len(typed) > 26:
        return _unread(f"A row of {len(typed)} was given; accepted: at most 26; give one entry a line.")
    return READERS[question["kind"]](question, typed)
