"""Proof load: the published rules that conflict, side by side; the shop's own procedure chooses."""

from __future__ import annotations

from fractions import Fraction

from rigcalc._given import among, said
from rigcalc._records import record
from rigcalc.errors import Refusal
from rigcalc.reference import constant, table
from rigcalc.units import exact, show_force

__all__ = ["PROVES_NOT", "ProofLoad", "ProofRow", "cap_n", "instrument_window_n", "proof_load", "proof_loads", "proof_rules",
           "refuse_reading"]

BELOW_PERCENT: Fraction = constant("proof load, instrument below").value
ABOVE_PERCENT: Fraction = constant("proof load, instrument above").value
PROVES_NOT = ("It does not show the breaking force, nor what a second pull would do.",
              "It does not show another piece: each piece is pulled, or a lot is judged by its bound.",
              "It does not replace the gauge, the count and the look: a piece that held may still be wrong.",
              "It says nothing about corrosion, wear or fatigue.")


@record
class ProofRow:
    """One published rule for one assembly: the load in N, what part of the breaking force that is, and its source.

    `kind` is "load" or "cap"; `above_caps` names the caps that the load would pass; `hold_s` is the hold in s.
    """

    rule: str
    kind: str
    load_n: float
    share_of_breaking_force: float
    above_caps: tuple[str, ...]
    hold_s: int | None
    equipment: str
    source: str
    how_known: str


@record
class ProofLoad:
    """The load to pull in N, between which readings it must lie (N), the cap in N, and who chose the rule."""

    load_n: float
    lowest_n: float
    highest_n: float
    cap_n: float
    rule: str
    source: str
    how_known: str
    procedure: str
    shown_us: str
    shown_si: str
    proves_not: tuple[str, ...] = PROVES_NOT


def proof_rules() -> tuple[str, ...]:
    """The names of the published rules that a shop's procedure may choose from.

    Source: each rule's row names its own.

    >>> "twice the limit" in proof_rules()
    True
    """
    return tuple(row.rule for row in table("proof_rules") if row.kind == "load")


def proof_loads(limit_n: float, breaking_force_n: float) -> tuple[ProofRow, ...]:
    """Every published rule side by side for one assembly; they conflict, and none is chosen here.

    Parameters: the working limit and the breaking force of the cable, in N.
    Errors: `Refusal` unless both are above zero and the limit is below the breaking force.
    Source: each row names its own; a row from memory chooses nothing by itself.

    >>> [(row.rule, round(row.load_n)) for row in proof_loads(360.0, 2000.0)][:2]
    [('twice the limit', 720), ('60 percent of the breaking force, control cable', 1200)]
    """
    limit, breaking = _pair(limit_n, breaking_force_n)
    rows = [(row, _load(row, limit, breaking)) for row in table("proof_rules")]
    caps = [(row.rule, load) for row, load in rows if row.kind == "cap"]
    return tuple(ProofRow(row.rule, row.kind, float(load), float(load / breaking),
                          tuple(name for name, cap in caps if row.kind == "load" and load > cap), row.hold_s, row.equipment,
                          row.cited, row.how_known) for row, load in rows)


def _load(row, limit: Fraction, breaking: Fraction) -> Fraction:
    return row.share * (limit if row.part_of == "limit" else breaking)


def _pair(limit_n: float, breaking_force_n: float) -> tuple[Fraction, Fraction]:
    limit, breaking = exact(limit_n), exact(breaking_force_n)
    if not 0 < limit < breaking:
        raise Refusal(f"a limit of {float(limit):g} N with a breaking force of {float(breaking):g} N",
                      "a limit above zero and below the breaking force", "work the limit again")
    return limit, breaking


def cap_n(breaking_force_n: float, cap_share: float) -> float:
    """The shop's cap in N: the part of the breaking force, in N, that no proof load may pass.

    Range: a share above 0 and below 1. Errors: `Refusal` for any other.
    Source: the shop's procedure; the 50 % of the sling standard is from memory and is no default.

    >>> cap_n(2000.0, 0.5)
    1000.0
    """
    share, breaking = exact(cap_share), exact(breaking_force_n)
    if not 0 < share < 1 or breaking <= 0:
        raise Refusal(f"a cap of {float(share):g} of {float(breaking):g} N", "a share above 0 and below 1 of a breaking force above zero",
                      "ask whoever wrote the shop's procedure")
    return float(share * breaking)


def proof_load(rule: str, limit_n: float, breaking_force_n: float, cap_n: float | None, procedure: str,
               set_by: str) -> ProofLoad:
    """The proof load in N by the rule that the shop's procedure chooses, refused above the shop's cap.

    Parameters: one of `proof_rules()`; the working limit, the breaking force and the shop's cap, in N; the name of
    the procedure and who set it. Errors: `Refusal` without a procedure, a setter or a cap, for a cap that is not
    below the breaking force, a load above the cap, a load that is not above the limit.
    Source: the rule's row; instrument: DOE-STD-1090-96 15.4.7.2.

    >>> found = proof_load("twice the limit", 1600.0, 8896.0, 4448.0, "P1", "Ines Varrow")
    >>> found.load_n, found.lowest_n, found.highest_n
    (3200.0, 3040.0, 3200.0)
    """
    limit, breaking = _pair(limit_n, breaking_force_n)
    cap = _cap(cap_n, breaking, procedure, set_by)
    row = next((row for row in table("proof_rules") if among(rule, (row.rule,)) and row.kind == "load"), None)
    if row is None:
        raise Refusal(f"the proof rule {said(rule)}", "; ".join(proof_rules()), "take the rule that the shop's procedure names")
    load = _load(row, limit, breaking)
    if load > cap:
        raise Refusal(f"a proof load of {show_force(load, direction='up')} by the rule {rule}",
                      f"at most {show_force(cap, direction='down')}, the cap of {procedure}, set by {set_by}",
                      "have the shop's procedure choose another rule: nothing is pulled above the cap")
    if load <= limit:
        raise Refusal(f"a proof load of {show_force(load)} at a limit of {show_force(limit)}", "a proof load above the limit",
                      "have the shop's procedure choose another rule: this pull proves nothing")
    lowest, highest = instrument_window_n(float(load))
    return ProofLoad(float(load), lowest, highest, float(cap), rule, row.cited, row.how_known, f"{procedure}, set by {set_by}",
                     show_force(load, "US"), show_force(load, "SI"))


def _cap(cap_n: float | None, breaking: Fraction, procedure: str, set_by: str) -> Fraction:
    if not all(isinstance(text, str) and text.strip() for text in (procedure, set_by)):
        raise Refusal("a proof load without the shop's procedure and who set it", "the shop's own procedure",
                      "ask the person who answers for the shop: the published rules conflict, and none is chosen here")
    if cap_n is None:
        raise Refusal(f"the procedure {procedure} without a cap", "a cap on the proof load",
                      "ask whoever set it: the cap of the sling standard is from memory and is no default")
    cap = exact(cap_n)
    if not 0 < cap < breaking:
        raise Refusal(f"a cap of {float(cap):g} N at a breaking force of {float(breaking):g} N",
                      "a cap above zero and below the breaking force", f"ask {set_by}")
    return cap


def instrument_window_n(load_n: float) -> tuple[float, float]:
    """The least and the greatest reading, in N, that count as a pull at a proof load in N: -5 % to +0 %.

    Range: a load above zero. Errors: `Refusal` for any other.
    Source: DOE-STD-1090-96 15.4.7.2.

    >>> instrument_window_n(1000.0)
    (950.0, 1000.0)
    """
    load = exact(load_n)
    if load <= 0:
        raise Refusal(f"a proof load of {float(load):g} N", "a load above zero", "work the proof load again")
    return float(load * (100 - BELOW_PERCENT) / 100), float(load * (100 + ABOVE_PERCENT) / 100)


def refuse_reading(load_n: float, reading_n: float) -> None:
    """Refuses a reading that is no pull at the proof load: both in N, -5 % to +0 %.

    Errors: `Refusal` below (pull again, slowly) and above (the piece has carried more than its proof load: set it
    aside). Source: DOE-STD-1090-96 15.4.7.2.

    >>> refuse_reading(1000.0, 970.0)
    """
    lowest_n, highest_n = instrument_window_n(load_n)
    reading = exact(reading_n)
    if exact(lowest_n) <= reading <= exact(highest_n):
        return
    beyond = lowest_n if reading < exact(lowest_n) else highest_n
    digits = next((digits for digits in range(6, 18) if f"{float(reading):.{digits}g}" != f"{beyond:.{digits}g}"), 17)  # never two alike
    raise Refusal(f"a reading of {float(reading):.{digits}g} N", f"{lowest_n:.{digits}g} to {highest_n:.{digits}g} N",
                  "this was no proof: pull again, slowly" if beyond == lowest_n
                  else "set the piece aside: it has carried more than its proof load; ask whoever set the procedure")
