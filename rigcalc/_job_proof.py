"""The proof load of an order that asks for one: by the rule that the shop's procedure chooses, beside those that conflict with it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rigcalc.cable import BreakingForce
from rigcalc.errors import Refusal
from rigcalc.proof import cap_n, proof_load, proof_loads
from rigcalc.units import show_force

if TYPE_CHECKING:
    from rigcalc._order import Order
    from rigcalc.rating import Limit
    from rigcalc.shop import Shop

__all__ = ["proof_lines"]


def proof_lines(order: Order, rated: Limit | None, strength: BreakingForce, shop: Shop) -> tuple[str, ...]:
    """What each piece is pulled to before it leaves, where the order asks for a proof; an empty tuple where not."""
    if order.proof in (None, "no"):
        return ()
    if rated is None:
        raise Refusal("a proof load on a ring with a lap splice", "a piece with a working load limit", "leave the proof out: a ring carries nothing")
    chosen = shop.proof
    if chosen is None:
        raise Refusal("a proof load in a shop without a procedure for it", "a [proof] block in the shop file, with its rule and cap",
                      "have the person who answers for it choose one")
    cap = cap_n(strength.force_n, chosen.cap_share)
    found = proof_load(chosen.rule, rated.stated_n, strength.force_n, cap, chosen.procedure, chosen.set_by)
    others = [f"{row.rule} {show_force(row.load_n, shop.system, 'down')} ({row.equipment}; {row.how_known})"
              for row in proof_loads(rated.stated_n, strength.force_n) if row.rule != chosen.rule]
    return (f"Proof: pull each piece to {show_force(found.load_n, shop.system, 'down')}, {found.rule}, by {found.procedure}. The instrument "
            f"reads {show_force(found.lowest_n, shop.system, 'up')} to {show_force(found.highest_n, shop.system, 'down')} ({chosen.instrument}, "
            f"due {chosen.instrument_due}); hold {chosen.hold_s} s. Nothing above {show_force(found.cap_n, shop.system, 'down')}.",
            f"Published rules conflict; the shop's procedure chose. The others here: {'; '.join(others)}.", *found.proves_not)
