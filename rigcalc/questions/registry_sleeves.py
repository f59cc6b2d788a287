"""Calculations for lesson 03: pairs of metals, services, intervals, and what no chart lists."""

from __future__ import annotations


from rigcalc.errors import Refusal
from rigcalc.questions.registry import _calculation

__all__: list[str] = []

ON_DEMAND = "with inspection; whoever answers for it sets the months"
NO_MONTHS = "use; the table sets no months"
NEVER = "not specified here at all"
SALT = "every 3 to 6 months, the first time after 3"


@_calculation
def pairs_said(pairs: list[dict[str, str]]) -> list[str]:
    """Each pair in words: cable metal, sleeve metal and the place."""
    return [_pair(one) for one in pairs]


def _pair(one: dict[str, str]) -> str:
    return f"{one['sleeve']} sleeve on {one['cable']} cable, {one['place']}"


@_calculation
def pairs_judged(pairs: list[dict[str, str]]) -> list[dict[str, str]]:
    """Each pair in words (`en`), with its `id` and why the table allows or refuses it in its service (`feedback`)."""
    from rigcalc.pairing import pairing

    found = [(one, pairing(one["cable"], one["sleeve"], one["service"])) for one in pairs]
    return [{"en": _pair(one), "id": one["id"], "feedback": " ".join([*["It may be made."] * told.allowed, *told.reasons[:-1]])} for one, told in found]


@_calculation
def pairs_that_may(pairs: list[dict[str, str]], as_if: str = "") -> list[str]:
    """The pairs that the table allows in their service, in words; with `as_if`, as if they all hung in that service."""
    from rigcalc.pairing import pairing

    return [_pair(one) for one in pairs if pairing(one["cable"], one["sleeve"], as_if or one["service"]).allowed]


@_calculation
def pairs_alike(pairs: list[dict[str, str]]) -> list[str]:
    """The pairs that somebody takes who goes by looks: silver sleeves on any cable, in words."""
    return [_pair(one) for one in pairs if one["sleeve"] != "plain copper"]


@_calculation
def places_with_no_pair(places: list[dict[str, str]], pairs: list[list[str]]) -> list[str]:
    """The places in whose service the table allows none of these pairs (cable, sleeve)."""
    from rigcalc.pairing import pairing

    return [one["en"] for one in places
            if not any(pairing(cable, sleeve, one["service"]).allowed for cable, sleeve in pairs)]


@_calculation
def interval_said(cable: str, sleeve: str, service: str) -> str:
    """How often a pair is looked at in a service, in words, by the pairing table; or that it is not specified there."""
    from rigcalc.pairing import pairing

    found = pairing(cable, sleeve, service)
    if not found.allowed:
        return NEVER
    if found.inspect_months is None:
        return NO_MONTHS if found.verdict == "use" else ON_DEMAND
    return SALT if " to " in found.verdict else f"every {found.inspect_months} months"


@_calculation
def intervals_said(pairs: list[dict[str, str]]) -> list[str]:
    """For each pair, how often it is looked at."""
    return [interval_said(one["cable"], one["sleeve"], one["service"]) for one in pairs]


@_calculation
def intervals_as_if(pairs: list[dict[str, str]], service: str, instead_of: str) -> list[str]:
    """For each pair, how often it is looked at, those of one service taken as if they hung in another."""
    return [interval_said(one["cable"], one["sleeve"], service if one["service"] == instead_of else one["service"])
            for one in pairs]


@_calculation
def interval_words() -> list[str]:
    """All the words for an interval that a match can offer."""
    return [NO_MONTHS, SALT, "every 6 months", "every 12 months", NEVER]


@_calculation
def not_sleeved(cables: list[dict[str, str]]) -> list[str]:
    """The cables whose size or construction the sleeve chart does not list."""
    return [one["en"] for one in cables if not _listed(one["size"], one["construction"])]


def _listed(size: str, construction: str) -> bool:
    from rigcalc.cable import sleeve_construction
    from rigcalc.sleeve import chart_in_force

    try:
        sleeve_construction(construction)
        chart_in_force((), "aluminium", size)
    except Refusal:
        return False
    return True


@_calculation
def chart_sizes_said() -> str:
    """The sizes of the built-in chart, in a row."""
    from rigcalc.sleeve import built_in_chart

    return ", ".join(row.size for row in built_in_chart().rows)


@_calculation
def size_of_chart_beside(size: str, side: str) -> str:
    """For a size without a row: the chart's next smaller ('smaller') or next larger ('larger') one."""
    from rigcalc.sleeve import built_in_chart
    from rigcalc.units import either_side

    names = {row.size for row in built_in_chart().rows}
    found = either_side(size, names)[0 if side == "smaller" else 1]
    if size in names or found is None:
        raise Refusal(f"the size {size}", "a size between two rows of the chart", "take another size")
    return found
