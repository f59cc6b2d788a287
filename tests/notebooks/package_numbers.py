"""Finds a number with a unit in the package's own data: reference tables, shop file, orders. A number from nowhere is not found."""

from __future__ import annotations

import csv
import re
from decimal import Decimal
from functools import lru_cache

import rigcalc.reference
from rigcalc.home import installed_folder
from rigcalc.shop import sample_shop_path

__all__ = ["fractions_in", "numbers_in", "rated_fractions", "where_from"]

UNITS = {"mm": "mm", "in": "in", "lbf": "lbf", "kN": "kN", "N": "N", "kg": "kg", "d": "d", "%": "%", "percent": "%", "°": "°",
         "degrees": "°", "°C": "°C", "degC": "°C", "lb": "lb", "ft": "ft", "m": "m", "cm": "cm"}
NUMBER = r"\d[\d,]*(?:\.\d+)?"
IN = r"in(?! (?:the|a|an|this|that|these|your|his|her|its|our|their|each|every|all|any|one|two|both|which|it|here|place|order|force|turn)\b)"
AMOUNT = re.compile(rf"(?<![\d/.\w])({NUMBER})(?:\s*(?:to|or|and|–|-)\s*({NUMBER}))?\s*"
                    rf"(mm|cm|m|{IN}|ft|lbf|lb|kN|N|kg|d|%|percent|°C|degC|°|degrees)(?![\w/])")
COLUMNS = {"mm": "mm", "in": "in", "lbf": "lbf", "kg": "kg", "percent": "%", "c": "°C"}
CONSTANT_UNITS = {"x diameter": "d", "x cable diameter": "d", "degrees from horizontal": "°", "percent of the load": "%"}
SHARES = ("of breaking force", "share", "x span", "x length")


def _plain(number: str) -> Decimal:
    return Decimal(number.replace(",", "")).normalize()


def numbers_in(text: str) -> list[tuple[Decimal, str, str]]:
    """Every (number, unit, as written) of a text.

    >>> [(int(n), u) for n, u, _ in numbers_in("a tail of 2 d, a cut of 2,524 mm, 30 to 60 degrees; step 3 in the list")]
    [(2, 'd'), (2524, 'mm'), (30, '°'), (60, '°')]
    """
    return [(_plain(number), UNITS[found[3]], found[0]) for found in AMOUNT.finditer(text) for number in (found[1], found[2]) if number]


def fractions_in(text: str) -> set[str]:
    """Every fraction of a text, '3/32'."""
    return set(re.findall(r"(?<![\d/])\d{1,2}/\d{1,2}(?![\d/])", text))


def _tables():
    """(file, where in it, row) of every reference table."""
    from importlib.resources import files

    for path in sorted(files(rigcalc.reference).iterdir(), key=lambda one: one.name):
        if path.name.endswith(".csv") and path.name != "bibliography.csv":
            for at, row in enumerate(csv.DictReader(path.read_text(encoding="utf-8").splitlines()), 2):
                yield path.name, f"{path.name}, line {at}", row


def _of_a_row(name: str, row: dict[str, str]):
    """(number, unit) of the row's own columns, the unit taken from the column's name or the table's unit column."""
    figures = {column: abs(Decimal(value)) for column, value in row.items() if re.fullmatch(r"-?\d+(\.\d+)?", value or "")}
    for column, value in figures.items():
        unit = COLUMNS.get(column.rpartition("_")[2])
        if unit and "_per_" not in column and (unit != "°C" or name == "temperatures.csv"):
            yield value, unit
    if name == "constants.csv":
        unit = row["unit"]
        yield figures["value"], CONSTANT_UNITS.get(unit, UNITS.get(unit, unit))
        if unit in SHARES:
            yield figures["value"] * 100, "%"
    if name == "proof_rules.csv" and "share" in figures:
        yield figures["share"] * 100, "%"
    if name == "removal_rules.csv" and "limit" in figures and row["unit"].startswith("percent"):
        yield figures["limit"], "%"


@lru_cache(maxsize=1)
def _known() -> dict[tuple[Decimal, str], str]:
    known: dict[tuple[Decimal, str], str] = {}
    for name, where, row in _tables():
        for number, unit in _of_a_row(name, row):
            known.setdefault((number.normalize(), unit), where)
        for number, unit, _ in numbers_in(" ; ".join(value for value in row.values() if value)):
            known.setdefault((number, unit), where)
    for path in [sample_shop_path(), *sorted((installed_folder() / "lessons" / "orders").glob("*.toml"))]:
        for at, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
            if not line.lstrip().startswith("#"):
                for number, unit, _ in numbers_in(line.replace('"', " ")):
                    known.setdefault((number, unit), f"{path.name}, line {at}")
    return known


def where_from(number: Decimal, unit: str) -> str | None:
    """The file and line that hold this number in this unit; None where no data of the package does."""
    return _known().get((number, unit))


@lru_cache(maxsize=1)
def rated_fractions() -> frozenset[str]:
    """The sizes that a table or the shop's data rates, as fractions of an inch."""
    columns = {"size", "rope"}
    rated = {row[column] for _, _, row in _tables() for column in columns & set(row)}
    shop = re.findall(r'"(\d+/\d+)"', sample_shop_path().read_text(encoding="utf-8"))
    return frozenset({one for text in [*rated, *shop] for one in fractions_in(text)})
