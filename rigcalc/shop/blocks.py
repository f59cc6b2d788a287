"""Which blocks a shop file has, and which fields stand in each."""

from __future__ import annotations

from rigcalc.shop.fields import (Block, Field, boolean, cavities, day, force_by_angle, force_n, forces_n, inch_size, length_m, mass_kg,
                                 length_mm, lengths_mm, name, number, one_of, press_order, prices_by, reel_size, several_of, sizes,
                                 text, torque_nm, whole, words_of)

__all__ = ["CHART_ROW", "LISTS", "OPTIONAL_SINGLES", "SINGLES", "TOP_FIELDS"]

CABLE_METALS = ("galvanised", "stainless", "bright")
SLEEVE_METALS = ("aluminium", "plain copper", "zinc-plated copper", "tin-plated copper", "stainless")
CONSTRUCTIONS = ("7x7", "7x19", "1x19", "3x7", "fibre core", "unknown")
ROLES = ("trainer", "assessor", "registrar", "storekeeper")

TOP_FIELDS = (Field("form", whole(1, 1)),)

SHOP = Block("shop", (
    Field("name", text), Field("invented", boolean), Field("system", one_of(("US", "SI"))),
    Field("language", one_of(("en",)))))

PEOPLE = Block("people", tuple(Field(role, name, required=False) for role in ROLES))

BENCH = Block("bench", (
    Field("pin_to_pin_tolerance", length_mm(0.1, 50)), Field("gap_tolerance", length_mm(0.1, 10)),
    Field("diameter_tolerance", length_mm(0.01, 1))))

FACTOR = Block("factor", (
    Field("use", one_of(("nobody",))), Field("value", number(1, 100)), Field("owner", name),
    Field("set_on", day), Field("scope", text)))

REEL = Block("reel", (
    Field("id", text), Field("label", text), Field("size", reel_size), Field("construction", one_of(CONSTRUCTIONS)),
    Field("metal", one_of((*CABLE_METALS, "unknown"))), Field("coating_to", inch_size, required=False),
    Field("certificate", text, required=False), Field("certificate_force", force_n, required=False),
    Field("lot", text), Field("length", length_m, required=False), Field("mass_of_100m", mass_kg, required=False)))

# What was found bad is out of use: the day, who found it and why, all three or none.
FOUND_BAD = (Field("found_bad", day, required=False), Field("found_bad_by", name, required=False), Field("why", text, required=False))

TOOL = Block("tool", (Field("id", text), Field("name", text), Field("cavities", cavities), *FOUND_BAD))

GAUGE = Block("gauge", (
    Field("id", text), Field("sizes", sizes), Field("sleeve_metals", several_of(SLEEVE_METALS)),
    Field("checked_on", day), Field("due_on", day), *FOUND_BAD))

THIMBLE = Block("thimble", (
    Field("size", inch_size), Field("metal", one_of(("galvanised", "stainless"))),
    Field("loop", length_mm(5, 2000)), Field("bearing_to_sleeve", length_mm(2, 1000))))

CHART = Block("chart", (
    Field("id", text), Field("maker", text), Field("edition", text), Field("sleeve_metal", one_of(SLEEVE_METALS)),
    Field("tool", text), Field("copied_by", name), Field("copied_on", day), Field("checked_by", name),
    Field("checked_on", day), Field("row", lambda rows: rows)))

CHART_ROW = Block("chart.row", (
    Field("size", inch_size), Field("cavity", text), Field("count", whole(1, 12)), Field("order", press_order),
    Field("order_source", text, required=False),
    Field("sleeve_before", length_mm(1, 300)), Field("sleeve_after", length_mm(1, 500)),
    Field("gauge", text), Field("gauge_slot", text), Field("gauge_max", length_mm(0.5, 100), required=False),
    Field("minimum_gap", length_mm(0, 50), required=False), Field("crimp_width", length_mm(0.5, 100), required=False),
    Field("efficiency", number(0, 1), required=False)))

PULL_TEST = Block("pull_test", (
    Field("size", inch_size), Field("metal", one_of(CABLE_METALS)), Field("hold", force_n), Field("procedure", text),
    Field("set_by", name), Field("set_on", day)))

# --- blocks a shop may leave out --------------------------------------------------------------------

def _fitting_kind(value: object) -> str:
    """A kind of fitting that has a working limit of its own."""
    from rigcalc.fittings import KINDS

    return one_of(KINDS)(value)


def _proof_rule(value: object) -> str:
    """A published proof rule by its name."""
    from rigcalc.proof import proof_rules

    return one_of(proof_rules())(value)


def _endings(value: object) -> tuple[str, ...]:
    """How each pulled piece ended, a word for each."""
    from rigcalc.pulltest import MODES

    return words_of(MODES)(value)


def _thimble_name(value: object) -> str:
    """A thimble by size and metal: "1/8 galvanised"."""
    size, _, metal = str(value).partition(" ")
    return f"{inch_size(size)} {one_of(('galvanised', 'stainless'))(metal)}"


def _sleeve_name(value: object) -> str:
    """A sleeve by size and metal: "1/8 aluminium"."""
    size, _, metal = str(value).partition(" ")
    return f"{inch_size(size)} {one_of(SLEEVE_METALS)(metal)}"


GROWTH = Block("growth", (
    Field("sleeve_metal", one_of(SLEEVE_METALS)), Field("size", inch_size), Field("tool", text), Field("edition", text),
    Field("before", lengths_mm(3, 1, 300)), Field("after", lengths_mm(3, 1, 500)), Field("measured_by", name),
    Field("measured_on", day)))

PULLED_LOT = Block("pulled_lot", (
    Field("id", text), Field("what", one_of(("eye", "lap"))), Field("reel", text, required=False), Field("size", inch_size),
    Field("construction", one_of(("7x7", "7x19"))), Field("metal", one_of(CABLE_METALS)),
    Field("sleeve_metal", one_of(SLEEVE_METALS)), Field("tool", text), Field("forces", forces_n),
    Field("endings", _endings), Field("pulled_by", name), Field("pulled_on", day), Field("instrument", text),
    Field("instrument_due", day), Field("set_aside", text, required=False)))

OFFCUT = Block("offcut", (
    Field("id", text), Field("length", length_mm(1, 1e6)), Field("reel", text, required=False), Field("kept_by", name),
    Field("kept_on", day)))

FITTING = Block("fitting", (
    Field("kind", _fitting_kind), Field("name", text), Field("maker", text), Field("limit", force_n), Field("sizes", sizes),
    Field("pin", length_mm(1, 200), required=False), Field("angles", force_by_angle, required=False),
    Field("angles_source", text, required=False)))

CLIP = Block("clip", (
    Field("size", inch_size), Field("number", whole(3, 12)), Field("turnback", length_mm(10, 2000)), Field("torque", torque_nm),
    Field("base", length_mm(1, 200), required=False), Field("maker", text), Field("edition", text), Field("copied_by", name),
    Field("checked_by", name)))

PRICES = Block("prices", (
    Field("currency", text), Field("cable_metre", prices_by(text)), Field("sleeve", prices_by(_sleeve_name)),
    Field("thimble", prices_by(_thimble_name)), Field("clip", prices_by(inch_size)), Field("minute", number(0, 1e6)),
    Field("sleeve_minutes", number(0, 1000), required=False), Field("clip_minutes", number(0, 1000), required=False),
    Field("set_by", name), Field("set_on", day)))

CUTTING = Block("cutting", (
    Field("kerf", length_mm(0, 20)), Field("keep_length", length_mm(1, 1e5)), Field("trial_pieces", whole(0, 20))))

PROOF = Block("proof", (
    Field("procedure", text), Field("rule", _proof_rule), Field("cap_share", number(0, 0.99)), Field("instrument", text),
    Field("instrument_due", day), Field("hold_seconds", whole(1, 3600)), Field("set_by", name), Field("set_on", day)))

SINGLES = (SHOP, PEOPLE, BENCH, PRICES, CUTTING, PROOF)
OPTIONAL_SINGLES = ("people", "prices", "cutting", "proof")
LISTS = (FACTOR, REEL, TOOL, GAUGE, THIMBLE, CHART, PULL_TEST, GROWTH, PULLED_LOT, OFFCUT, FITTING, CLIP)
