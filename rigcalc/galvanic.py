"""Why a pair of metals lasts or not: the anode, the load, the areas, the voltage, and what a lost plating leaves.

The simple voltage rule stands beside the verdict of `pairing`, never instead of it.
"""

from __future__ import annotations

import math
from fractions import Fraction

from rigcalc._given import among, said
from rigcalc._records import record
from rigcalc.cable import METALS
from rigcalc.errors import Refusal
from rigcalc.pairing import SERVICES, Verdict, pairing
from rigcalc.reference import Row, table
from rigcalc.sleeve import SLEEVE_METALS
from rigcalc.units import exact

__all__ = ["Misled", "PairReasons", "Reason", "SeaPotential", "VoltageRule", "area_ratio", "pair_reasons", "sea_potential",
           "voltage_rule", "where_the_rule_misleads"]

CABLE_SURFACE = {"galvanised": "hot-dip zinc", "stainless": "stainless steel", "bright": "bare carbon steel"}
SLEEVE_SURFACE = {"aluminium": "aluminium", "plain copper": "copper", "zinc-plated copper": "zinc plating",
                  "tin-plated copper": "tin plating", "stainless": "stainless steel"}
UNDER = {"hot-dip zinc": "bare carbon steel", "zinc plating": "copper", "tin plating": "copper"}  # what lies under a coating
EITHER_WAY = {"stainless steel", "copper"}  # surfaces of which the sea-water row does not say which is eaten
# The guideline's environment for each service: no room here is controlled; none is given for water, so its hardest one.
ENVIRONMENT = {"dry": "normal", "outdoor": "harsh", "marine": "harsh", "immersed": "harsh"}


@record
class VoltageRule:
    """The simple rule for one pair and service: the gap in V, the most it allows in V, and whether it passes."""

    cable_surface: str
    sleeve_surface: str
    anode: str
    gap_v: float
    environment: str
    most_v: float
    passes: bool
    at_the_limit: bool
    says: str
    source: str
    how_known: str


@record
class Reason:
    """One reason: what it is about (anode, load, area, voltage, plating), its words, and where it stands."""

    about: str
    says: str
    source: str


@record
class PairReasons:
    """The verdict on a pair in a service, the reasons in order, and the voltage rule beside it.

    `anode` is cable, sleeve or neither, of the surfaces as new; `anode_when_bare` when every coating is gone, `gap_bare_v` in V.
    """

    verdict: Verdict
    anode: str
    anode_carries_load: bool
    gap_v: float
    anode_when_bare: str
    gap_bare_v: float
    area_ratio: float | None
    reasons: tuple[Reason, ...]
    rule: VoltageRule
    rule_agrees: bool


@record
class Misled:
    """One pair and service where the voltage rule and the verdict part ways."""

    cable: str
    sleeve: str
    service: str
    gap_v: float
    most_v: float
    rule_passes: bool
    verdict: str
    allowed: bool
    why: str


@record
class SeaPotential:
    """The range of potentials of a surface in flowing seawater, in V against the saturated calomel electrode."""

    surface: str
    low_v: float
    high_v: float
    source: str
    how_known: str


# --- the rule -----------------------------------------------------------------------------------

def voltage_rule(cable_metal: str, sleeve_metal: str, service: str, environment: str | None = None) -> VoltageRule:
    """The simple voltage rule for a pair, as new: the difference of the two anodic indices, in V, against the service's limit.

    Parameters: cable metal, sleeve metal and service, in the words of `pairing`. Only the surfaces that touch count.
    The guideline has no limit for immersion, so its hardest stands there; a dry room is not a controlled one: `environment`
    (harsh, normal, controlled) shows another limit. Errors: `Refusal` for an unknown word.
    Source: anodic index and its guideline, read second-hand; MIL-DTL-14072F 3.13.1 (higher index is the anode, surfaces count).

    >>> rule = voltage_rule("galvanised", "aluminium", "outdoor")
    >>> rule.gap_v, rule.most_v, rule.passes, rule.anode
    (0.3, 0.15, False, 'cable')
    """
    _refuse_unknown(cable_metal, sleeve_metal, service)
    cable, sleeve = CABLE_SURFACE[cable_metal], SLEEVE_SURFACE[sleeve_metal]
    gap, limit = abs(_index(cable) - _index(sleeve)), _limit(ENVIRONMENT[service] if environment is None else environment)
    passes, words = gap <= limit.most_v, f"{float(gap):g} V against {float(limit.most_v):g} V ({limit.environment}: {limit.described})"
    return VoltageRule(cable, sleeve, _anode(cable, sleeve), float(gap), limit.environment, float(limit.most_v), passes,
                       gap == limit.most_v, f"The voltage rule {'passes' if passes else 'fails'} this pair: {words}.",
                       f"{_row(cable).source}; {limit.cited}", limit.how_known)


def _refuse_unknown(cable_metal: str, sleeve_metal: str, service: str) -> None:
    for word, known, what in ((cable_metal, METALS, "cable metal"), (sleeve_metal, SLEEVE_METALS, "sleeve metal"),
                              (service, SERVICES, "service")):
        if not among(word, known):
            raise Refusal(f"the {what} {said(word)}", ", ".join(known), "take the word from the label or the order")


def _row(surface: str) -> Row:
    return next(row for row in table("anodic_index") if row.surface == surface)


def _index(surface: str) -> Fraction:
    return _row(surface).index_v


def _limit(environment: str) -> Row:
    rows = {row.environment: row for row in table("anodic_limits")}
    if not among(environment, rows):
        raise Refusal(f"the environment {said(environment)}", ", ".join(rows), "take one of these")
    return rows[environment]


def _anode(cable_surface: str, sleeve_surface: str) -> str:
    cable, sleeve = _index(cable_surface), _index(sleeve_surface)
    return "neither" if cable == sleeve else "cable" if cable > sleeve else "sleeve"


# --- the reasons --------------------------------------------------------------------------------

def area_ratio(cable_length_mm: float, sleeve_length_mm: float) -> float:
    """How many times larger the free surface of the cable is than the sleeve's: an upper bound, whatever the diameter.

    Parameters: free cable between the sleeves that one sleeve faces, and the sleeve's length, both in mm. The cable counts as
    a round bar, the sleeve as a belt round two of them without its wall: d x pi x L against (pi + 2) x d x l.
    Errors: `Refusal` unless both are above zero. Source: geometry.

    >>> round(area_ratio(1000, 20), 1)
    30.6
    """
    cable, sleeve = exact(cable_length_mm), exact(sleeve_length_mm)
    for value, what in ((cable, "free cable"), (sleeve, "sleeve")):
        if value <= 0:
            raise Refusal(f"{float(value):g} mm of {what}", "a length above 0 mm", "measure it again")
    return math.pi / (math.pi + 2) * float(cable / sleeve)


def pair_reasons(cable_metal: str, sleeve_metal: str, service: str, cable_length_mm: float | None = None,
                 sleeve_length_mm: float | None = None, coated: bool = False) -> PairReasons:
    """The verdict on a pair with its reasons in order: the anode, the load, the areas, the voltage, and a lost plating.

    Parameters: words as in `pairing`; the free cable and the sleeve's length in mm where the areas are to be a figure.
    Errors: `Refusal` for an unknown word, or one length without the other.
    Source: anodic index (read second-hand); MIL-DTL-14072F 3.13.1 b, c; the verdict's own source.

    >>> found = pair_reasons("stainless", "aluminium", "outdoor")
    >>> found.anode, found.anode_carries_load, found.verdict.verdict
    ('sleeve', True, 'never')
    >>> [reason.about for reason in found.reasons]
    ['anode', 'load', 'area', 'voltage', 'plating']
    """
    rule, verdict = voltage_rule(cable_metal, sleeve_metal, service), pairing(cable_metal, sleeve_metal, service, coated)
    cable, sleeve = rule.cable_surface, rule.sleeve_surface
    if (cable_length_mm is None) != (sleeve_length_mm is None):
        raise Refusal("one length for the two areas", "the free cable and the sleeve's length, or neither", "measure both")
    ratio = None if cable_length_mm is None else area_ratio(cable_length_mm, sleeve_length_mm)
    surface = {"cable": cable, "sleeve": sleeve, "neither": ""}[rule.anode]
    loaded = rule.anode != "neither" and surface not in UNDER
    bare = UNDER.get(cable, cable), UNDER.get(sleeve, sleeve)
    of_metals = _either_way() if {cable, sleeve} == EITHER_WAY else (_anode_reason(rule), _load_reason(rule.anode, surface, loaded), _area_reason(rule.anode, ratio))
    reasons = (*of_metals, Reason("voltage", rule.says, rule.source), _plating_reason(cable, sleeve))
    return PairReasons(verdict, rule.anode, loaded, rule.gap_v, _anode(*bare), float(abs(_index(bare[0]) - _index(bare[1]))),
                       ratio, reasons, rule, rule.passes == verdict.allowed)


def _either_way() -> tuple[Reason, ...]:
    """Stainless steel and copper: the index has one figure for stainless, the sea-water row two, and copper lies between them."""
    sea = sea_potential("copper").source
    return (Reason("anode", "Which one is eaten hangs on the skin of the stainless. With its skin whole (passive) the copper of the sleeve is eaten; where the skin is gone "
                            "(active), the stainless of the cable. The index has one figure for stainless, and takes the cable.", sea),
            Reason("load", "Sleeve or cable, either carries the load: what is eaten is strength.", "workbook judgement"),
            Reason("area", "If it is the sleeve, a small part faces a long cable, out of sight.", "MIL-DTL-14072F, 3.13.1 b"))


def _anode_reason(rule: VoltageRule) -> Reason:
    source = "MIL-DTL-14072F, 3.13.1 b"
    if rule.anode == "neither":
        return Reason("anode", f"Both parts show {rule.cable_surface}: neither is the anode.", source)
    eaten, spared = ((rule.cable_surface, rule.sleeve_surface) if rule.anode == "cable"
                     else (rule.sleeve_surface, rule.cable_surface))
    if "zinc" in eaten and "zinc" in spared:
        return Reason("anode", f"Zinc lies on both: {rule.gap_v:g} V apart, as good as level. Of the two the {rule.anode}'s goes first, hardly faster than it would alone.", source)
    return Reason("anode", f"The {rule.anode} is the anode: its {eaten} is eaten, the other's {spared} is spared.", source)


def _load_reason(anode: str, surface: str, loaded: bool) -> Reason:
    source = "workbook judgement"
    if anode == "neither":
        return Reason("load", "No part that carries load is eaten by the other.", source)
    if loaded:
        return Reason("load", f"The {surface} of the {anode} carries the load itself: what is eaten is strength.", source)
    return Reason("load", f"The {surface} is a coating and carries no load: the {anode} holds while {UNDER[surface]} lies under it.", source)


def _area_reason(anode: str, ratio: float | None) -> Reason:
    source = "MIL-DTL-14072F, 3.13.1 b"
    size = "many times" if ratio is None else f"at most {ratio:.2g} times"
    if anode == "neither":
        return Reason("area", "With no gap the areas do not matter.", source)
    if anode == "sleeve":
        return Reason("area", f"A small anode: the cable's surface is {size} the sleeve's, and the attack falls on the small part, out of sight.", source)
    return Reason("area", f"A large anode: the cable's surface is {size} the sleeve's, so the attack spreads, hardest next to the sleeve.", source)


def _plating_reason(cable: str, sleeve: str) -> Reason:
    source, parts = _row(cable).source, (("cable", cable), ("sleeve", sleeve))
    coated = [(part, surface) for part, surface in parts if surface in UNDER]
    if not coated:
        return Reason("plating", "Neither part is plated: the pair stays what it is.", source)
    says = []
    for part, surface in coated:
        left = (UNDER[surface], sleeve) if part == "cable" else (cable, UNDER[surface])
        gap, anode = abs(_index(left[0]) - _index(left[1])), _anode(*left)
        which = "and which one is eaten hangs on the skin of the stainless" if set(left) == EITHER_WAY else f"{'neither' if anode == 'neither' else 'the ' + anode} the anode"
        says.append(f"Without its {surface} the {part} shows {UNDER[surface]}: {left[0]} on the cable, {left[1]} on the sleeve, {float(gap):g} V, {which}.")
    return Reason("plating", " ".join(says), source)


# --- where the rule misleads ---------------------------------------------------------------------

def where_the_rule_misleads() -> tuple[Misled, ...]:
    """Every pair and service where the voltage rule says other than the verdict, found by trying them all.

    Stainless sleeves are left out: the tool's chart decides there, not the metals. Errors: none.
    Source: computed from the anodic index, its guideline and the verdicts of `pairing`.

    >>> [(row.service, row.rule_passes, row.verdict) for row in where_the_rule_misleads()
    ...  if (row.cable, row.sleeve) == ("galvanised", "aluminium")]
    [('dry', False, 'use'), ('outdoor', False, 'use, inspect yearly')]
    """
    found = []
    for cable in METALS:
        for sleeve in (metal for metal in SLEEVE_METALS if metal != "stainless"):
            for service in SERVICES:
                pair = pair_reasons(cable, sleeve, service)
                if not pair.rule_agrees:
                    found.append(Misled(cable, sleeve, service, pair.gap_v, pair.rule.most_v, pair.rule.passes,
                                        pair.verdict.verdict, pair.verdict.allowed, _why_misled(pair)))
    return tuple(found)


def _why_misled(pair: PairReasons) -> str:
    if pair.rule.passes:
        return f"The rule sees {pair.gap_v:g} V only; the verdict also sees: {pair.verdict.reasons[0]}"
    if not pair.anode_carries_load:
        return f"The rule sees {pair.gap_v:g} V only, not that a coating which carries no load is the part that is eaten. {pair.verdict.reasons[0]}"
    return f"The rule sees {pair.gap_v:g} V only. {pair.verdict.reasons[0]}"


def sea_potential(surface: str) -> SeaPotential:
    """The potential of a surface in flowing seawater, in V against the saturated calomel electrode: the lower is the anode.

    Parameters: the surface by its name in the series; stainless stands there twice, active and passive, and only passive is it
    nobler than copper: one index figure cannot say that. Errors: `Refusal` for a surface that is not in the series.
    Source: seawater potentials, read second-hand.

    >>> sea_potential("copper").high_v < sea_potential("stainless 304, passive").low_v
    True
    """
    for row in table("galvanic_series"):
        if among(surface, (row.surface,)):
            return SeaPotential(surface, float(row.low_v), float(row.high_v), row.cited, row.how_known)
    raise Refusal(f"the surface {said(surface)}", "; ".join(row.surface for row in table("galvanic_series")), "take one of these")
