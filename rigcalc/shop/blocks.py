"""Which blocks a shop file has, and which fields stand in each."""

from __future__ import annotations

from rigcalc.shop.fields import (Block, Field, boolean, cavities, day, force_n, inch_size, length_m, length_mm, name, number,
                                 one_of, press_order, reel_size, several_of, sizes, text, whole)

__all__ = ["CHART_ROW", "LISTS", "SINGLES", "TOP_FIELDS"]

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
    Field("use", one_of(("nobody",))), Field("value", number(1, 100)), Field("owner", text),
    Field("set_on", day), Field("scope", text)))

REEL = Block("reel", (
    Field("id", text), Field("label", text), Field("size", reel_size), Field("construction", one_of(CONSTRUCTIONS)),
    Field("metal", one_of((*CABLE_METALS, "unknown"))), Field("coating_to", inch_size, required=False),
    Field("certificate", text, required=False), Field("certificate_force", force_n, required=False),
    Field("lot", text), Field("length", length_m, required=False)))

TOOL = Block("tool", (Field("id", text), Field("name", text), Field("cavities", cavities)))

GAUGE = Block("gauge", (
    Field("id", text), Field("sizes", sizes), Field("sleeve_metals", several_of(SLEEVE_METALS)),
    Field("checked_on", day), Field("due_on", day)))

THIMBLE = Block("thimble", (
    Field("size", inch_size), Field("metal", one_of(("galvanised", "stainless"))),
    Field("loop", length_mm(5, 2000)), Field("bearing_to_sleeve", length_mm(2, 1000))))

CHART = Block("chart", (
    Field("id", text), Field("maker", text), Field("edition", text), Field("sleeve_metal", one_of(SLEEVE_METALS)),
    Field("tool", text), Field("copied_by", text), Field("copied_on", day), Field("checked_by", text),
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
    Field("set_by", text), Field("set_on", day)))

SINGLES = (SHOP, PEOPLE, BENCH)
LISTS = (FACTOR, REEL, TOOL, GAUGE, THIMBLE, CHART, PULL_TEST)
