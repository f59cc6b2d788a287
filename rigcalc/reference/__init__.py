"""Sourced tables: every figure from the world, with where it stands and how it is known.

One CSV per table. A row without `source` or without `how_known` is refused when it is read.
"""

from __future__ import annotations

from rigcalc.reference.bibliography import Entry, bibliography, full_source
from rigcalc.reference.loader import (
    HOW_KNOWN,
    ReferenceError,
    Row,
    added_from,
    constant,
    read_table,
    table,
    table_names,
)

__all__ = ["Entry", "HOW_KNOWN", "ReferenceError", "Row", "added_from", "bibliography", "constant",
           "full_source", "read_table", "table", "table_names"]
