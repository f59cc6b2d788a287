"""One reader for each sort of field in a shop file: the value, or what was wrong with it."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from difflib import get_close_matches

from rigcalc._order_person import is_stand_in
from rigcalc.errors import Refusal

__all__ = ["Block", "Field", "Finding", "block_values", "boolean", "cavities", "day", "force_by_angle", "force_n", "forces_n",
           "inch_size", "length_m", "length_mm", "lengths_mm", "mass_kg", "name", "number", "one_of", "press_order", "prices_by",
           "reel_size", "several_of", "sizes", "text", "torque_nm", "whole", "words_of"]

METRIC_SIZES = tuple(f"{n} mm" for n in (1, 2, 3, 4, 5, 6, 8, 10))
LONGEST_TEXT = 300
COMMA = re.compile(r"[0-9],[0-9]")
THOUSANDS = re.compile(r"[0-9],[0-9]{3}(?![0-9])")


class Wrong(Exception):
    """A value that a field does not take: what it takes, what to do, and which part of a list or block it is."""

    def __init__(self, accepted: str, do: str, given: str = "") -> None:
        super().__init__(accepted, do, given)
        self.accepted, self.do, self.given = accepted, do, given


@dataclass(frozen=True)
class Field:
    """One field of a block: its name, its reader, and whether it may be left out."""

    name: str
    read: Callable[[object], object]
    required: bool = True


@dataclass(frozen=True)
class Block:
    """One sort of block: its heading and its fields."""

    name: str
    fields: tuple[Field, ...]


@dataclass(frozen=True)
class Finding:
    """Something wrong at a path of the document, before its line is known."""

    path: tuple
    given: str
    accepted: str
    do: str


def shown(value: object) -> str:
    """A given value as one short piece of text."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f'"{value[:60]}"' if len(value) <= 60 else f'"{value[:57]}..."'
    if isinstance(value, (date, datetime)):
        return value.isoformat()
    if isinstance(value, dict):
        return "a block"
    if isinstance(value, list):
        return "[" + ", ".join(shown(v) for v in value[:8]) + (", ...]" if len(value) > 8 else "]")
    return str(value)[:60]


def block_values(block: Block, given: object, path: tuple, findings: list[Finding]) -> dict:
    """The read values of one block; whatever is wrong is added to `findings` and left out."""
    if not isinstance(given, dict):
        findings.append(Finding(path, shown(given), f"a block [{block.name}] of fields", "write it as in the sample"))
        return {}
    names = tuple(field.name for field in block.fields)
    for key in given:
        if key not in names:
            findings.append(unknown_key(key, names, (*path, key), f"[{block.name}]"))
    values = {}
    for field in block.fields:
        if field.name not in given:
            if field.required:
                findings.append(Finding((*path, field.name), "nothing", f"the field {field.name} in [{block.name}]",
                                        "add the line"))
            continue
        try:
            values[field.name] = field.read(given[field.name])
        except Wrong as wrong:
            findings.append(Finding((*path, field.name), wrong.given or shown(given[field.name]), wrong.accepted, wrong.do))
    return values


def unknown_key(key: str, names: tuple[str, ...], path: tuple, where: str) -> Finding:
    """What to say of a name that no field has, with the nearest one that exists."""
    near = get_close_matches(key, names, n=1, cutoff=0.72)
    if near:
        return Finding(path, f"the unknown name {key}", f"{near[0]}, or another name of {where}", f"did you mean {near[0]}?  Change the name or delete the line")
    return Finding(path, f"the unknown name {key}", f"in {where}: {', '.join(names)}", "delete the line or correct the name")


def text(value: object) -> str:
    """A text of at least one sign, on one line."""
    if isinstance(value, str) and not value.strip():
        raise Wrong(f"text in quotes, 1 to {LONGEST_TEXT} signs on one line", "write it between the quotes, or delete the line "
                    "where it may be left out")
    if not isinstance(value, str) or "\n" in value or len(value) > LONGEST_TEXT:
        raise Wrong(f"text in quotes, 1 to {LONGEST_TEXT} signs on one line", "write the text in quotes")
    return value.strip()


def name(value: object) -> str:
    """A person's name."""
    if isinstance(value, str) and not value.strip():
        raise Wrong("a person's name in quotes", "write a name, or delete the line")
    if is_stand_in(text(value)):
        raise Wrong("the name of a person who did it", "write that person's name: a dash or a made-up name answers for nothing")
    return text(value)


def boolean(value: object) -> bool:
    """true or false."""
    if not isinstance(value, bool):
        raise Wrong("true or false, without quotes", "write one of the two")
    return value


def day(value: object) -> date:
    """A calendar day."""
    if isinstance(value, datetime) or not isinstance(value, date):
        raise Wrong("a date, year first and without quotes, as 2026-03-02", "write the date so")
    return value


def whole(least: int, most: int) -> Callable[[object], int]:
    """A reader for a whole number in a range."""
    def read(value: object) -> int:
        if isinstance(value, bool) or not isinstance(value, int) or not least <= value <= most:
            raise Wrong(f"a whole number from {least} to {most}, without quotes", "correct the number")
        return value
    return read


def number(above: float, most: float) -> Callable[[object], float]:
    """A reader for a number greater than `above` and at most `most`."""
    def read(value: object) -> float:
        if isinstance(value, bool) or not isinstance(value, (int, float)) or not above < value <= most:
            raise Wrong(f"a number above {above:g} and up to {most:g}, without quotes", "correct the number")
        return value
    return read


_SPELT = {"aluminum": "aluminium", "galvanized": "galvanised"}  # as the same word is spelt elsewhere


def one_of(words: tuple[str, ...]) -> Callable[[object], str]:
    """A reader for one word of a list."""
    def read(value: object) -> str:
        value = _SPELT.get(value, value) if isinstance(value, str) else value
        if value in words:
            return value
        several = [word for word in words if str(value) in word.split()] or [word for word in words if len(str(value)) > 3 and word.startswith(str(value))]
        near = several or get_close_matches(str(value), words, n=1)
        do = f"did you mean {' or '.join(shown(word) for word in near)}?" if near else "write one of these"
        raise Wrong(", ".join(f'"{word}"' for word in words), do + (" Read the label: they are not the same" if len(near) > 1 else ""))
    return read


def several_of(words: tuple[str, ...]) -> Callable[[object], tuple[str, ...]]:
    """A reader for a list of different words of a list."""
    single = one_of(words)

    def read(value: object) -> tuple[str, ...]:
        if not isinstance(value, list) or not value or len(set(map(str, value))) != len(value):
            raise Wrong("a list of different words out of " + ", ".join(f'"{word}"' for word in words),
                        f'write them in brackets, as ["{words[0]}"]')
        return tuple(single(item) for item in value)
    return read


def known_sizes() -> tuple[str, ...]:
    """The inch sizes of the strength table: a row added there is known here at once."""
    from rigcalc.cable import sizes as table_sizes

    return table_sizes()


def inch_size(value: object) -> str:
    """An inch size by name."""
    from rigcalc.units import read_size

    accepted = "an inch size in quotes: " + ", ".join(known_sizes())
    if _is_metric(value):
        raise Wrong(accepted, "a metric size is another cable and takes no sleeve of this trade")
    try:
        name = read_size(value).name if isinstance(value, str) else ""
    except Refusal:
        name = ""
    if name not in known_sizes():
        raise Wrong(accepted, "write one of these")
    return name


def _is_metric(value: object) -> bool:
    """Whether a size is written in millimetres."""
    return isinstance(value, str) and re.fullmatch(r"\s*[0-9]+(\.[0-9]+)?\s*mm\s*", value) is not None


def _part(read: Callable[[object], object], value: object, what: str) -> object:
    """One part of a list or block through its reader; what is wrong with it is told by its own name."""
    try:
        return read(value)
    except Wrong as wrong:
        raise Wrong(wrong.accepted, wrong.do, what) from None


def reel_size(value: object) -> str:
    """An inch size, a nominal metric size, or "unknown"."""
    if value == "unknown" or value in METRIC_SIZES:
        return value
    try:
        return inch_size(value)
    except Wrong:
        do = ("a metric reel stands here to be known and told apart only, since no sleeve of this trade's inch charts is pressed on it: leave a reel of another metric size out of the file"
              if _is_metric(value) else "write what the label says")
        raise Wrong(f'an inch size in quotes ({", ".join(known_sizes())}), a metric one ({", ".join(METRIC_SIZES)}) or "unknown"', do) from None


def sizes(value: object) -> tuple[str, ...]:
    """A list of different inch sizes."""
    if not isinstance(value, list) or not value or len(set(map(str, value))) != len(value):
        raise Wrong('a list of different inch sizes, as ["1/8", "5/32"]', "write them in brackets")
    return tuple(_part(inch_size, item, f"the size {shown(item)}") for item in value)


def cavities(value: object) -> tuple[tuple[str, str], ...]:
    """The mark of a tool's cavity for each size."""
    example = '{ "1/8" = "P", "5/32" = "Q" }'
    if not isinstance(value, dict) or not value:
        raise Wrong(f"the size and the mark on the jaw for each cavity, as {example}", "write them so, on one line")
    for size, mark in value.items():
        if not isinstance(mark, str) or not mark.strip():
            raise Wrong(f"a mark in quotes for each size, as {example}", "write the mark that stands on the jaw", f"the mark {shown(mark)} for {size}")
    return tuple((_part(inch_size, size, f"a cavity for {shown(size)}"), mark.strip()) for size, mark in value.items())


def press_order(value: object) -> tuple[int, ...] | None:
    """The order of pressing as crimp numbers from the thimble, or None for "maker gives none"."""
    if value == "maker gives none":
        return None
    good = isinstance(value, list) and value and all(type(item) is int for item in value)
    if not good or sorted(value) != list(range(1, len(value) + 1)):
        raise Wrong('each crimp number once, as [2, 1, 3], or "maker gives none"', "copy the order from the maker's chart")
    return tuple(value)


def length_mm(least: float, most: float) -> Callable[[object], float]:
    """A reader for a length with its unit, in mm."""
    def read(value: object) -> float:
        from rigcalc.units import read_length_mm

        found = _with_unit(value, read_length_mm, 'a length in quotes with its unit, as "15 mm" or "5/8 in"')
        if not least <= found <= most:
            raise Wrong(f"a length from {least:g} mm to {most:g} mm", "correct the length")
        return found
    return read


def length_m(value: object) -> float:
    """A length of cable on a reel in metres, written in m, ft or mm."""
    from rigcalc.units import read_length_mm

    found = _with_unit(value, read_length_mm, 'a length in quotes with its unit, as "76 m" or "250 ft"')
    if not 0 < found <= 1e7:
        raise Wrong("a length above nothing and up to 10000 m", "correct the length")
    return found / 1000


def mass_kg(value: object) -> float:
    """A mass with its unit, in kg."""
    from rigcalc.units import read_mass_kg

    found = _with_unit(value, read_mass_kg, 'a mass in quotes with its unit, as "3.8 kg" or "8.5 lb"')
    if not 0 < found <= 1000:
        raise Wrong("a mass above nothing and up to 1000 kg", "correct the mass")
    return found


def force_n(value: object) -> float:
    """A force with its unit, in newtons."""
    from rigcalc.units import read_force_n

    found = _with_unit(value, read_force_n, 'a force in quotes with its unit, as "2000 lbf" or "8.9 kN"')
    if not 0 < found <= 1e6:
        raise Wrong("a force above nothing and up to 1000 kN", "correct the force")
    return found


def lengths_mm(count: int, least: float, most: float) -> Callable[[object], tuple[float, ...]]:
    """A reader for so many lengths with their units, in mm."""
    single = length_mm(least, most)

    def read(value: object) -> tuple[float, ...]:
        if not isinstance(value, list) or len(value) != count:
            raise Wrong(f'{count} lengths in brackets, as ["15 mm", "15 mm", "14.5 mm"]', f"write all {count}, each as measured")
        return tuple(single(item) for item in value)
    return read


def forces_n(value: object) -> tuple[float, ...]:
    """Two forces or more, in newtons, in the order of pulling."""
    if not isinstance(value, list) or not 2 <= len(value) <= 200:
        raise Wrong('2 to 200 forces in brackets, as ["470 lbf", "505 lbf"]', "write every piece that was pulled")
    return tuple(force_n(item) for item in value)


def words_of(words: tuple[str, ...]) -> Callable[[object], tuple[str, ...]]:
    """A reader for a list of words, of which one may stand more than once."""
    single = one_of(words)

    def read(value: object) -> tuple[str, ...]:
        if not isinstance(value, list) or not value:
            raise Wrong("a list of: " + ", ".join(f'"{word}"' for word in words), f'write them in brackets, as ["{words[0]}"]')
        return tuple(single(item) for item in value)
    return read


def torque_nm(value: object) -> float:
    """A torque with its unit, in newton metres."""
    from rigcalc.units import FOOT_MM, LBF_N

    accepted = 'a torque in quotes with its unit, as "18 N m" or "13 lbf ft"'
    found = re.fullmatch(r"\s*([0-9]+(?:\.[0-9]+)?)\s*(N m|lbf ft)\s*", value) if isinstance(value, str) else None
    if not found:
        raise Wrong(accepted, "write the number with its unit, in quotes")
    metres = float(found[1]) * (1.0 if found[2] == "N m" else float(LBF_N * FOOT_MM) / 1000)
    if not 0.1 <= metres <= 1000:
        raise Wrong("a torque from 0.1 N m to 1000 N m", "correct the torque")
    return metres


def force_by_angle(value: object) -> tuple[tuple[float, float], ...]:
    """What a maker marks for each angle off the straight pull: ((degrees, newtons), ...), the straight pull first."""
    example = '{ "0" = "500 lbf", "45" = "150 lbf" }, degrees off the straight pull'
    if not isinstance(value, dict) or not value:
        raise Wrong(f"a force for each angle, as {example}", "copy the maker's rows so, on one line")
    if not all(re.fullmatch(r"[0-9]{1,2}(\.[0-9]+)?", key) and float(key) <= 90 for key in value):
        raise Wrong(f"angles in quotes from 0 to 90, as {example}", "correct the angle")
    return tuple(sorted((float(key), force_n(force)) for key, force in value.items()))


def prices_by(key: Callable[[object], object]) -> Callable[[object], tuple[tuple[object, float], ...]]:
    """A reader for a price for each of several things; `key` reads what a price is for."""
    def all_of(value: object) -> tuple[tuple[object, float], ...]:
        if not isinstance(value, dict) or not value:
            raise Wrong('a price for each, as { "1/8" = 1.40 }', "write them so, on one line")
        read, wrong = [], []
        for name, price in value.items():
            try:
                read.append((key(name), number(0, 1e6)(price)))
            except Wrong as no:
                wrong.append(f"{name} = {shown(price)} ({no.accepted})")
        if wrong:
            raise Wrong('a price for each, as { "1/8" = 1.40 }', f"correct {' and '.join(wrong)}")
        return tuple(read)
    return all_of


def _with_unit(value: object, reader: Callable, accepted: str) -> float:
    """A typed quantity through the one module that reads units."""
    if not isinstance(value, str):
        raise Wrong(accepted, "write the number with its unit, in quotes")
    try:
        return float(reader(value).value)
    except Refusal as refusal:
        do = ("it has a comma: leave it out between thousands, write a point before decimals" if THOUSANDS.search(value)
              else "it has a comma: write a point" if COMMA.search(value) else refusal.do)
        raise Wrong(accepted, do) from None
