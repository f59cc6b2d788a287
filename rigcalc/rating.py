"""Rating: strength times efficiency divided by the design factor, once, for a class of use.

Nothing here takes a bend. In an eye each of the two legs carries half, so the crown of the eye does not govern,
even where a bend halves the cable's strength: 2 x 0.5 x the breaking force is more than 0.90 of it. The eye has
rules of its own instead (a pin of two diameters at least, a soft eye of three pin diameters).
"""

from __future__ import annotations

from datetime import date, datetime
from fractions import Fraction

from rigcalc._efficiency import (
    EFFICIENCY,
    EFFICIENCY_CONDITIONS,
    Conditions,
    Efficiency,
    PulledShare,
    efficiency,
    named,
    of_a_person,
    parts_above_zero,
    pulled_share,
)
from rigcalc._given import listed, of_kind, said, texts, yes_or_no
from rigcalc._records import record
from rigcalc.cable import BreakingForce, sleeve_construction
from rigcalc.cautions import CAUTIONS
from rigcalc.errors import Refusal
from rigcalc.pairing import refuse_never
from rigcalc.reference import table
from rigcalc.sleeve import refuse_size_without_sleeve
from rigcalc.temperature import refuse_temperature
from rigcalc.units import LBF_N, exact, in_unit, read_force_n, show_force

__all__ = ["CLASSES", "EFFICIENCY", "EFFICIENCY_CONDITIONS", "Conditions", "DesignFactor", "Efficiency", "Limit",
           "PulledShare", "UseClass", "class_of_use", "efficiency", "limit", "limit_in_words", "show_limit", "load_from_mass_n", "pulled_share",
           "refuse_temperature", "required_breaking_force_n", "uses", "working_load_limit_n"]

CLASSES = ("nobody", "people", "refused")


@record
class UseClass:
    """A class of use: its name, what it means, and whom to ask."""

    name: str
    meaning: str
    ask: str


@record
class DesignFactor:
    """A design factor with the named person who set it, when, and for what scope."""

    value: float
    owner: str
    set_on: str
    scope: str


@record
class Limit:
    """A working load limit, straight pull only, with whoever answers for its factor.

    `force_n` is the limit before rounding; `stated_n` is what is stated, rounded down in the shop's unit; `system` is
    the system that the breaking force was read in.
    """

    force_n: float
    stated_n: float
    shown_us: str
    shown_si: str
    owner: str
    scope: str
    set_on: str
    factor: float
    efficiency: float
    breaking_force_n: float
    use: str
    working: tuple[str, ...]
    conditions: tuple[str, ...]
    notes: tuple[str, ...] = ()
    cautions: tuple[str, ...] = CAUTIONS
    system: str = ""


def uses() -> dict[str, UseClass]:
    """Every word for a use that is known here, with its class.

    Source: judgement of this workbook, which refuses where a life hangs on it.

    >>> uses()["towing"].name
    'refused'
    """
    return {row.word: UseClass(row.class_of_use, row.meaning, row.ask) for row in table("uses")}


def class_of_use(word: str) -> UseClass:
    """The class a use belongs to: `nobody`, `people` or `refused`.

    Errors: `Refusal` for a word that is not known: an unknown use is asked about, never put in a class.
    Source: judgement of this workbook, row by row.

    >>> class_of_use("lifting").name, class_of_use("nobody").name
    ('refused', 'nobody')
    """
    known = uses()
    plain = " ".join(word.lower().split()) if isinstance(word, str) else ""
    if plain not in known:
        raise Refusal(f"the use {said(word)}", "nobody or people",
                      "ask first: if this lets go, who can be under it, beside it, in its fall or in the cable's whip, "
                      "and does it move")
    return known[plain]


def load_from_mass_n(mass_kg: float, g_m_s2: float) -> float:
    """The force in N by which a mass in kg hangs, where g is stated in m/s2: a mass is no force without it.

    Range: both above zero. Errors: `Refusal` for any other. Source: statics, force = mass x g.

    >>> load_from_mass_n(6.0, 9.80665)
    58.8399
    """
    mass, g = parts_above_zero(("mass", mass_kg), ("g", g_m_s2))
    return float(mass * g)


def working_load_limit_n(breaking_force_n: float, efficiency: float, factor: float) -> float:
    """Breaking force times efficiency divided by the factor, in that order, once; in N, not rounded.

    Range: three numbers above zero. Errors: `Refusal` for any other. A breaking force in N.
    Source: arithmetic; the efficiency's and the factor's owners answer for those.

    >>> round(working_load_limit_n(2000 * float(LBF_N), 0.90, 5) / float(LBF_N), 6)
    360.0
    """
    force, share, divisor = parts_above_zero(("breaking force", breaking_force_n), ("efficiency", efficiency), ("factor", factor))
    return float(force * share / divisor)


def required_breaking_force_n(load_n: float, efficiency: float, factor: float) -> float:
    """The breaking force that a load asks for, in N, not rounded: load times factor divided by efficiency.

    Shown, it is rounded up. Range: three numbers above zero. Errors: `Refusal` for any other.
    Source: arithmetic, the limit turned round.

    >>> show_force(required_breaking_force_n(300 * float(LBF_N), 0.90, 5), direction="up")
    '1667 lbf [7.42 kN]'
    """
    load, share, multiplier = parts_above_zero(("load", load_n), ("efficiency", efficiency), ("factor", factor))
    return float(load * multiplier / share)


def limit(breaking_force: BreakingForce, factor: DesignFactor | None, use: str, designer: str | None = None,
          design_load_n: float | None = None, *, share: float | Efficiency | None = None, moves: bool = False,
          tightened: bool = False, greatest_tension_n: float | None = None, tension_check: str | None = None,
          system: str = "US", notes: tuple[str, ...] = (), order: str | None = None, on: date | None = None) -> Limit:
    """The working load limit of an assembly with two eyes, rounded down in the unit it is stated in; the figure in brackets is that one turned.

    Parameters: the breaking force; the factor in force; the use; for `people` the named designer, whose own
    factor it must be, for this order by its scope, and the design load in N; `share` is the efficiency (0.90 unless the
    chart gives less), a figure of at most 0.90 or an `Efficiency`: a lap's holds only for a static piece that nobody is near
    and that is not tightened; whether it moves; whether it is tightened, then its greatest tension in N and how that is
    checked; the shop's unit system, in which the limit is stated and loads are held against it; the order's name, and the
    day of the rating, where they are known.
    Errors: `Refusal` for a refused use, for a missing name, load, factor, tension or check, for a tension of a piece that is
    not tightened, for a pair, make or size that no sleeve of this trade is for, for a factor of another order or of a day to
    come, and for a load above the limit. Factors come from a named person only.
    Source: the breaking force and the efficiency name theirs; the factor's owner answers for it.

    >>> from rigcalc.cable import breaking_force
    >>> factor = DesignFactor(5, "Ines Varrow", "2026-01-12", "static, nobody can be there")
    >>> limit(breaking_force("1/8", "7x19", "galvanised"), factor, "nobody").shown_us
    '360 lbf [1.60 kN]'
    """
    kind = class_of_use(use)
    _check_strength(breaking_force)
    _check_use(kind, use, designer, design_load_n, yes_or_no(moves, "whether it moves"))
    _check_factor(factor, kind, designer)
    _check_scope(factor, kind.name == "people", order, on)
    part = share.value if isinstance(share, Efficiency) else float(EFFICIENCY) if share is None else share
    if isinstance(share, Efficiency):
        _check_splice(share, breaking_force, kind, moves or yes_or_no(tightened, "whether it is tightened"))
        notes = (*listed(notes, "the notes", str), *filter(None, (share.note,)))
    if not 0 < exact(part) <= EFFICIENCY:
        raise Refusal(f"the efficiency {said(part)}", f"above 0, at most {float(EFFICIENCY):g}, which is common practice and never exceeded",
                      "copy it again from the chart")
    part = float(part)
    force_n = working_load_limit_n(breaking_force.force_n, part, factor.value)
    stated_n = _stated_n(force_n, system)
    _check_tension(stated_n, tightened, greatest_tension_n, tension_check)
    _check_load(stated_n, design_load_n, "the design load")
    return Limit(force_n, stated_n, show_limit(force_n, "US"), show_limit(force_n, "SI"), factor.owner,
                 factor.scope, factor.set_on, factor.value, part, breaking_force.force_n, kind.name,
                 _working(breaking_force, part, factor, force_n), EFFICIENCY_CONDITIONS, listed(notes, "the notes", str), system=breaking_force.system)


def _stated_n(force_n: float, system: str) -> float:
    """The limit as it stands on a tag: whole lbf, or 10 N from 1 kN and whole N below."""
    stated = show_force(force_n, system, "down").split(" [")[0]
    return float(read_force_n(stated).value)


def show_limit(force_n: float, system: str = "US") -> str:
    """A limit in N as it is stated, rounded down; in brackets the stated figure in the other unit, so that the two never promise more than one another.

    Errors: `UnitError` for what is no number and another system. Source: the definitions in the table of constants.

    >>> show_limit(384.3)
    '86 lbf [382 N]'
    """
    return show_force(_stated_n(force_n, system), system, "down")


def limit_in_words(force_n: float, system: str = "US") -> str:
    """A limit in N as `show_limit` has it; where its bracket lies below the sum's own figure in that unit, why.

    Errors: `UnitError` as there. Source: as there.

    >>> limit_in_words(320.3, "SI")
    '320 N [71 lbf] (stated in N; that is 71.9 lbf, rounded down too)'
    """
    shown = show_limit(force_n, system)
    if shown == show_force(force_n, system, "down"):
        return shown
    other, fine = ("SI", "0.001" if _stated_n(force_n, system) >= 1000 else "0.1") if system == "US" else ("US", "0.1")
    turned = show_force(_stated_n(force_n, system), other, "down", fine).split(" [")[0]
    return f"{shown} (stated in {shown.split(' [')[0].split()[1]}; that is {turned}, rounded down too)"


def _working(breaking_force: BreakingForce, part: float, factor: DesignFactor, force_n: float) -> tuple[str, ...]:
    at_the_eye = float(exact(breaking_force.force_n) * exact(part))
    return (f"breaking force {show_force(breaking_force.force_n)}, {breaking_force.source}",
            f"times {part:.2f} for the eyes, once: {show_force(at_the_eye, direction='down')}",
            f"divided by {factor.value:g}, set by {factor.owner} on {factor.set_on} for {factor.scope}: "
            f"{limit_in_words(force_n, 'US')}")


def _check_splice(share: Efficiency, breaking_force: BreakingForce, kind: UseClass, more: bool) -> None:
    texts(share, "note source how_known splice sleeve_metal cable_metal construction", "an efficiency")
    if share.size is not None:
        of_kind(share.size, str, "the size of an efficiency")
    if share.splice == "lap" and (kind.name != "nobody" or more):
        raise Refusal("a lap splice where people can be, or in a piece that moves or is tightened",
                      "static lines of little consequence with nobody there", "make it one single piece with eyes")
    lot = "" if share.size is None else f"from a pulled lot of {share.size} "
    if share.size is not None and breaking_force.size and share.size != breaking_force.size:
        raise Refusal(f"an efficiency {lot}for {breaking_force.size} cable", "a lot of the same size", "pull a lot of this size")
    if share.cable_metal or share.sleeve_metal:
        refuse_never(share.cable_metal, share.sleeve_metal)
    for ours, theirs in ((share.construction, breaking_force.construction), (share.cable_metal, breaking_force.metal)):
        if ours and theirs and ours != theirs:
            raise Refusal(f"an efficiency {lot}of {ours} cable for {theirs} cable", "an efficiency of the same make",
                          "work it for this cable: one make says nothing about another")


def _check_strength(breaking_force: BreakingForce) -> None:
    """A strength that rests on memory, or of a cable that no sleeve of this trade fits, rates nothing."""
    texts(of_kind(breaking_force, BreakingForce, "a breaking force"), "system source size construction metal how_known", "a breaking force")
    if breaking_force.how_known == "from memory":
        raise Refusal(f"a breaking force from memory ({breaking_force.source})", "a figure read in a table or on the reel's certificate",
                      "find the certificate")
    if "mm" in breaking_force.size:
        raise Refusal(f"cable of {breaking_force.size}", "an inch size: no inch sleeve fits a metric cable", "take an inch cable")
    refuse_size_without_sleeve(breaking_force.size)
    sleeve_construction(breaking_force.construction)


def _check_use(kind: UseClass, use: str, designer: str | None, design_load_n: float | None, moves: bool) -> None:
    if kind.name == "refused":
        raise Refusal(f"the use {said(use)}", "static work only", f"there is no way round this; {kind.ask}")
    if designer is not None:
        of_kind(designer, str, "the designer")
    if moves and not of_a_person(designer):
        raise Refusal("a piece that moves, swings or takes shocks, without a named designer", "static work, or a named designer",
                      "name the qualified person who designed it")
    if kind.name == "people" and (not of_a_person(designer) or design_load_n is None):
        raise Refusal("a place where people can be, without a named designer, factor and design load", kind.meaning, kind.ask)


def _check_factor(factor: DesignFactor | None, kind: UseClass, designer: str | None) -> None:
    if factor is None:
        raise Refusal("no design factor", "a factor that a named person set, with date and scope",
                      "ask the person who answers for the shop to enter one: none is built in")
    if not isinstance(factor, DesignFactor):
        raise Refusal(f"{said(factor)} as a design factor", "a factor that a named person set, with date and scope",
                      "ask its owner: a figure of other equipment is shown for comparison and never taken")
    value = float(exact(factor.value))
    if not all(map(named, (factor.set_on, factor.scope))) or not of_a_person(factor.owner):
        raise Refusal(f"a factor {value:g} without owner, date or scope", "a factor with all three", "complete it where it was entered")
    if value <= 1:
        raise Refusal(f"the factor {value:g}", "a factor above 1", "ask its owner")
    if (kind.name == "people" or of_a_person(designer)) and factor.owner.strip() != designer.strip():
        raise Refusal(f"the factor of {factor.owner}", f"the factor of {designer}, the named designer, for this order",
                      "enter the designer's own factor: the shop's does not reach here")


def _check_scope(factor: DesignFactor, people: bool, order: str | None, on: date | None) -> None:
    """Near people a factor is for this order alone; and nobody has set one on a day that has not come."""
    names = () if order is None else (" ".join(of_kind(order, str, "the order's name").casefold().split()),)
    scope = " ".join(factor.scope.casefold().split())
    if people and not any(name and name in scope for name in ("this order", *names)):
        raise Refusal(f"the factor of {factor.owner} for {factor.scope}", f"a factor for this order{f', {order},' if order else ''} by its scope",
                      "ask that designer for a factor set for this order")
    if on is None:
        return
    try:
        day = date.fromisoformat(factor.set_on.strip())
    except ValueError:
        raise Refusal(f"the day {said(factor.set_on)} of the factor", "a day, year first, as 2026-03-02", "write it so") from None
    if day > (on.date() if isinstance(on, datetime) else of_kind(on, date, "the day of the rating")):
        raise Refusal(f"a factor set on {day}, after {on}", "a day that has come", "ask its owner on which day it was set")


def _check_tension(force_n: float, tightened: bool, greatest_n: float | None, check: str | None) -> None:
    if not yes_or_no(tightened, "whether it is tightened"):
        if greatest_n is not None:
            raise Refusal("a greatest tension for a piece that is not tightened", "a tension with tightened, or neither",
                          "ask whether it is tightened: what is tightened is rated as such")
        return
    if greatest_n is None or not named(check):
        raise Refusal("a tightened piece without its greatest tension and its check", "the greatest tension, and sag or gauge as its check",
                      "ask how tight it may become and how that is checked")
    _check_load(force_n, greatest_n, "the greatest tension")


def _check_load(force_n: float, load_n: float | None, what: str) -> None:
    if load_n is None:
        return
    if exact(load_n) <= 0:
        raise Refusal(f"{what} {float(load_n):g} N", "a force above zero", "ask for the load and who says so")
    if exact(load_n) > exact(force_n) * (1 + Fraction(1, 10**12)):
        whole = abs(in_unit(load_n, "lbf") - round(in_unit(load_n, "lbf"))) < 1e-6  # a part of a lbf too much is seen: it is rounded up
        raise Refusal(f"{what} {show_force(load_n, direction='nearest' if whole else 'up')}", f"at most {show_force(force_n, direction='down')}",
                      "take a stronger cable, or ask whoever set the load")
