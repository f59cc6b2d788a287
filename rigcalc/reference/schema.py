"""What each table's columns hold, what tells two rows apart, and the ways a figure can be known."""

from __future__ import annotations

from typing import NamedTuple

__all__ = ["HOW_KNOWN", "SCHEMAS", "Schema"]

HOW_KNOWN = ("read", "read, second-hand", "read, in excerpt", "computed", "common practice", "judgement",
             "from memory", "defined")


class Schema(NamedTuple):
    """Columns with their kind (`text`, `size`, `number`, `whole`, `exact`; `?` allows an empty box), and the key."""

    columns: dict[str, str]
    key: tuple[str, ...]


SCHEMAS = {
    "cable_strength": Schema(
        {"size": "size", "construction": "text", "galvanised_lbf": "number", "stainless_lbf": "number?",
         "tolerance_plus_in": "number"}, ("size", "construction")),
    "constructions": Schema(
        {"designation": "text", "strands": "whole", "wires_per_strand": "whole", "core": "text",
         "sleeves": "text"}, ("designation",)),
    "lays": Schema({"construction": "text", "least_lay": "number", "most_lay": "number"}, ("construction",)),
    "en_factors": Schema(
        {"construction": "text", "named": "text", "strength_k": "number", "area_c": "number?", "mass_w": "number?"},
        ("construction",)),
    "wire_grades": Schema({"grade_n_mm2": "whole"}, ("grade_n_mm2",)),
    "cable_mass": Schema({"size": "size", "construction": "text", "lb_per_100ft": "number"}, ("size", "construction")),
    "elastic_moduli": Schema(
        {"construction": "text", "metal": "text", "low_gpa": "number", "high_gpa": "number"},
        ("construction", "metal", "source")),
    "constructional_stretch": Schema({"core": "text", "low_percent": "number", "high_percent": "number"}, ("core",)),
    "thermal_expansion": Schema(
        {"metal": "text", "low_per_million_c": "number", "high_per_million_c": "number"}, ("metal",)),
    "bend_curve": Schema({"bend_ratio": "number", "share_percent": "number"}, ("bend_ratio",)),
    "metric_sizes": Schema({"nominal_mm": "number", "plus_percent": "number"}, ("nominal_mm",)),
    "crimps_common_practice": Schema(
        {"sleeve_metal": "text", "size": "size", "count": "whole"}, ("sleeve_metal", "size")),
    "pairing": Schema(
        {"cable": "text", "sleeve": "text", "service": "text", "verdict": "text", "allowed": "text",
         "inspect_months": "whole?", "reasons": "text"}, ("cable", "sleeve", "service")),
    "uses": Schema(
        {"word": "text", "class_of_use": "text", "meaning": "text", "ask": "text"}, ("word",)),
    "clip_numbers": Schema(
        {"rope": "text", "diameter_in": "exact", "drop_forged": "whole", "other_material": "whole", "spacing_in": "number"},
        ("rope",)),
    "clip_rows": Schema(
        {"clip": "text", "rope": "text", "number": "whole", "turnback_in": "number", "torque_lbf_ft": "number"},
        ("clip", "rope", "source")),
    "clip_rules": Schema({"topic": "text", "bound": "text?", "value": "exact?", "says": "text"}, ("topic", "says", "source")),
    "anodic_index": Schema({"surface": "text", "index_v": "exact"}, ("surface",)),
    "anodic_limits": Schema({"environment": "text", "most_v": "exact", "described": "text"}, ("environment",)),
    "galvanic_series": Schema({"surface": "text", "low_v": "exact", "high_v": "exact"}, ("surface",)),
    "copper_counts_circular": Schema(
        {"size": "size", "presses": "whole", "before_in": "number", "after_in": "number"}, ("size",)),
    "removal_rules": Schema(
        {"rule": "text", "equipment": "text", "measure": "text", "construction": "text?", "limit": "exact", "unit": "text",
         "when": "text"}, ("rule",)),
    "gauge_sees": Schema({"fault": "text", "seen": "text", "do": "text"}, ("fault",)),
    "temperatures": Schema({"part": "text", "lowest_c": "exact?", "highest_c": "exact?", "stands_for": "text"}, ("part",)),
    "proof_rules": Schema(
        {"rule": "text", "kind": "text", "share": "exact", "part_of": "text", "hold_s": "whole?", "equipment": "text"},
        ("rule",)),
    "design_factors": Schema({"equipment": "text", "factor": "number", "note": "text"}, ("equipment",)),
    "constants": Schema({"name": "text", "value": "exact", "unit": "text"}, ("name",)),
}
