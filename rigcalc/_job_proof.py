"""The proof load of an order that asks for one: by the rule that the shop's procedure chooses, beside those that conflict with it."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from rigcalc._records import record
from rigcalc.cable import BreakingForce
from rigcalc.errors import BenchMatter, Refusal
from rigcalc.proof import ProofRow, cap_n, proof_load, proof_loads
from rigcalc.units import show_force

if TYPE_CHECKING:
    from rigcalc._order import Order
    from rigcalc.rating import Limit
    from rigcalc.shop import ProofProcedure, Shop

__all__ = ["JobProof", "proof_of"]


@record
class JobProof:
    """What each piece is pulled to before it leaves, and the line that stops the work where the instrument proves nothing ('' else)."""

    lines: tuple[str, ...]
    stop: str


def proof_of(order: Order, rated: Limit | None, strength: BreakingForce, shop: Shop, on: date) -> JobProof | None:
    """The proof on a day, where the order asks for one; refused without a procedure, and by a rule from memory in a shop that is real."""
    if order.proof in (None, "no"):
        return None
    if rated is None:
        raise Refusal("a proof load on a ring with a lap splice", "a piece with a working load limit", "leave the proof out: a ring carries nothing")
    chosen = shop.proof
    if chosen is None:
        raise Refusal("a proof load in a shop without a procedure for it", "a [proof] block in the shop file, with its rule and cap",
                      "have the person who answers for it choose one")
    rows = proof_loads(rated.stated_n, strength.force_n)
    row = next(row for row in rows if row.rule == chosen.rule)
    if row.how_known == "from memory" and not shop.invented:
        raise BenchMatter(f"the proof rule '{row.rule}' of {chosen.procedure}, which is from memory ({row.source})",
                          f"a rule that was read: {'; '.join(other.rule for other in rows if other.kind == 'load' and other.how_known != 'from memory')}",
                          f"have {chosen.set_by} choose one of these: what is from memory accepts nothing")
    found = proof_load(chosen.rule, rated.stated_n, strength.force_n, cap_n(strength.force_n, chosen.cap_share), chosen.procedure, chosen.set_by)
    overdue = chosen.out_of_date(on)
    others = [f"{other.rule} {show_force(other.load_n, shop.system, 'down')} ({other.equipment}; {_known(other)})" for other in rows if other is not row]
    lines = (f"Proof: pull each piece to {show_force(found.load_n, shop.system, 'down')}, {found.rule} ({_known(row)}), by {found.procedure}. The instrument "
             f"reads {show_force(found.lowest_n, shop.system, 'up')} to {show_force(found.highest_n, shop.system, 'down')} ({chosen.instrument}, "
             f"due {chosen.instrument_due}{': OUT OF DATE, prove nothing with it' if overdue else ''}); {_hold(chosen, row)}. "
             f"Nothing above {show_force(found.cap_n, shop.system, 'down')}.",
             f"Published rules conflict; the shop's procedure chose. The others here: {'; '.join(others)}.", *found.proves_not)
    return JobProof(lines, f"STOP: the proof instrument {chosen.instrument} {overdue}. Pull nothing to proof, and let nothing leave, until it has been checked."
                    if overdue else "")


def _known(row: ProofRow) -> str:
    """Where a rule stands and how it is known; one from memory is marked."""
    return f"{row.source}; {row.how_known}{': for teaching, it accepts no real piece' if row.how_known == 'from memory' else ''}"


def _hold(chosen: ProofProcedure, row: ProofRow) -> str:
    """The procedure's hold, beside the rule's own where that is another."""
    own = f", by the procedure; the rule's own hold is {row.hold_s} s" if row.hold_s not in (None, chosen.hold_s) else ""
    return f"hold {chosen.hold_s} s{own}"
