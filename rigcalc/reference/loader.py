"""Reading the sourced tables, and refusing a row that does not say where it comes from."""

from __future__ import annotations

import csv
import math
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from fractions import Fraction
from functools import lru_cache
from pathlib import Path
from types import SimpleNamespace

from rigcalc.errors import Refusal
from rigcalc.reference.schema import HOW_KNOWN, SCHEMAS, Schema

__all__ = ["HOW_KNOWN", "ReferenceError", "Row", "added_from", "constant", "read_table", "table", "table_names"]

_FOLDER = Path(__file__).parent
_ADDED: ContextVar[Path | None] = ContextVar("added reference folder", default=None)


class ReferenceError(Refusal):  # noqa: A001 - the trade's word for what is wrong: a reference
    """A table or a row of it cannot be used."""


class Row(SimpleNamespace):
    """One row: a column is an attribute; `source`, `locator` and `how_known` always stand."""

    source: str
    locator: str
    how_known: str

    @property
    def cited(self) -> str:
        """Source and place, as it is printed beside a figure."""
        return f"{self.source}, {self.locator}" if self.locator else self.source


def table_names() -> tuple[str, ...]:
    """The names of the tables that ship."""
    return tuple(sorted(SCHEMAS))


def table(name: str) -> tuple[Row, ...]:
    """All rows of a table, in the file's order.

    Parameters
    ----------
    name : str
        One of `table_names()`.

    Errors: `ReferenceError` for an unknown table, an unsourced row, a bad number or a doubled row.

    >>> [row.galvanised_lbf for row in table("cable_strength") if row.size == "1/8"]
    [2000.0]
    """
    if name not in SCHEMAS:
        raise ReferenceError(f"the table {name!r}", ", ".join(table_names()), "take one of these")
    rows = _shipped(name)
    added = _ADDED.get()
    if added is not None and (added / f"{name}.csv").is_file():
        rows = rows + read_table(added / f"{name}.csv", name)
        _refuse_doubles(rows, SCHEMAS[name], name)
    return rows


def constant(name: str) -> Row:
    """One row of the table of constants, with its value as an exact fraction.

    >>> constant("inch").value
    Fraction(127, 5)
    """
    for row in table("constants"):
        if row.name == name:
            return row
    raise ReferenceError(f"the constant {name!r}", ", ".join(row.name for row in table("constants")),
                         "take one of these")


@contextmanager
def added_from(folder: Path | str) -> Iterator[None]:
    """Rows of the tables in another folder count as well while this is open: a new size is a row."""
    token = _ADDED.set(Path(folder))
    try:
        yield
    finally:
        _ADDED.reset(token)


@lru_cache(maxsize=None)
def _shipped(name: str) -> tuple[Row, ...]:
    return read_table(_FOLDER / f"{name}.csv", name)


def read_table(path: Path, name: str) -> tuple[Row, ...]:
    """Read and check one file against the schema of the table called `name`."""
    schema = SCHEMAS[name]
    with Path(path).open(encoding="utf-8", newline="") as lines:
        reader = csv.DictReader(lines)
        wanted = (*schema.columns, "source", "locator", "how_known")
        if tuple(reader.fieldnames or ()) != wanted:
            raise ReferenceError(f"{Path(path).name} with the columns {', '.join(reader.fieldnames or ())}",
                                 ", ".join(wanted), "give the file these columns in this order")
        rows = tuple(_row(cells, schema, f"{Path(path).name} line {reader.line_num}") for cells in reader)
    _refuse_doubles(rows, schema, name)
    return rows


def _row(cells: dict, schema: Schema, where: str) -> Row:
    if None in cells or None in cells.values():
        raise ReferenceError(f"{where} with too many or too few boxes", "one box for each column", "mend that line")
    cells = {column: text.strip() for column, text in cells.items()}
    if not cells["source"]:
        raise ReferenceError(f"{where} without a source", "rows that name their source", "write where the figure stands")
    if cells["how_known"] not in HOW_KNOWN:
        raise ReferenceError(f"{where} with how_known {cells['how_known']!r}", "; ".join(HOW_KNOWN),
                             "write how the figure is known")
    read = {column: _cell(cells[column], kind, f"{where}, column {column}")
            for column, kind in schema.columns.items()}
    return Row(**read, source=cells["source"], locator=cells["locator"], how_known=cells["how_known"])


def _cell(text: str, kind: str, where: str) -> object:
    optional = kind.endswith("?")
    if not text and optional:
        return None
    try:
        return _READERS[kind.rstrip("?")](text)
    except (ValueError, ZeroDivisionError, OverflowError):
        raise ReferenceError(f"{where}: {text!r}", _WANTED[kind.rstrip("?")], "mend that box") from None


def _text(text: str) -> str:
    if not text:
        raise ValueError(text)
    return text


def _size(text: str) -> str:
    value = Fraction(text)
    if "/" not in text or str(value) != text or value <= 0:
        raise ValueError(text)
    return text


def _number(text: str) -> float:
    value = float(text)
    if not math.isfinite(value) or value < 0:
        raise ValueError(text)
    return value


def _whole(text: str) -> int:
    value = int(text)
    if value < 0:
        raise ValueError(text)
    return value


_READERS = {"text": _text, "size": _size, "number": _number, "whole": _whole, "exact": Fraction}
_WANTED = {"text": "some text", "size": "an inch size in lowest terms such as 3/32",
           "number": "a number, not negative", "whole": "a whole number, not negative",
           "exact": "a decimal number"}


def _refuse_doubles(rows: tuple[Row, ...], schema: Schema, name: str) -> None:
    seen = set()
    for row in rows:
        key = tuple(getattr(row, column) for column in schema.key)
        if key in seen:
            raise ReferenceError(f"the table {name} with two rows for {', '.join(map(str, key))}",
                                 "one row each", "remove one of them")
        seen.add(key)
