"""What each table's columns hold, what tells two rows apart, and the ways a figure can be known."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["HOW_KNOWN", "SCHEMAS", "Schema"]

HOW_KNOWN = ("read", "read, second-hand", "read, in excerpt", "computed", "common practice", "judgement",
             "from memory", "defined")


@dataclass(frozen=True)
class Schema:
    """Columns with their kind (`text`, `size`, `number`, `whole`, `exact`; `?` allows an empty box), and the key."""

    columns: dict[str, str]
    key: tuple[str, ...]


SCHEMAS = {
    "cable_strength": Schema(
        {"size": "size", "construction": "text", "galvanised_lbf": "number", "stainless_lbf": "number?",
         "tolerance_plus_in": "number"}, ("size", "construction")),
    "constructions": Schema(
        {"designation": "text", "strands": "whole", "wires_per_strand": "whole", "wires_across": "whole",
         "lay_diameters": "number"}, ("designation",)),
    "crimps_common_practice": Schema(
        {"sleeve_metal": "text", "size": "size", "count": "whole"}, ("sleeve_metal", "size")),
    "pairing": Schema(
        {"cable": "text", "sleeve": "text", "service": "text", "verdict": "text", "allowed": "text",
         "inspect_months": "whole?", "reasons": "text"}, ("cable", "sleeve", "service")),
    "uses": Schema(
        {"word": "text", "class_of_use": "text", "meaning": "text", "ask": "text"}, ("word",)),
    "constants": Schema({"name": "text", "value": "exact", "unit": "text"}, ("name",)),
}
