"""A lot that must show its strength before it leaves: how many pieces are pulled, what they must show, and the verdict."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from rigcalc._order_read import read_share
from rigcalc._order_figures import alone, lower_first, own_unit_first, show_pull
from rigcalc._records import record
from rigcalc.cable import BreakingForce
from rigcalc.errors import Refusal
from rigcalc.pulltest import LEAST_SHARE, MODES, LotVerdict, lot_verdict, tolerance_factor
from rigcalc.rating import EFFICIENCY
from rigcalc.reference import constant
from rigcalc.units import read_force_n, show_force

if TYPE_CHECKING:
    from rigcalc._order import Order
    from rigcalc.shop import PulledLot, Shop

__all__ = ["Lot", "UnshownLot", "pulled_lot", "refuse_failed_lot", "why_unshown"]

LEAST_PULLED, MOST_PULLED = 3, 100
SHOP_COVERAGE, SHOP_CONFIDENCE = float(LEAST_SHARE), float(constant("confidence of a shop's own lot").value)


@record
class Lot:
    """The pull of an order: how many pieces, what is asked of them, and the verdict where they have been pulled."""

    pieces: int
    coverage: float
    confidence: float
    lines: tuple[str, ...]
    verdict: LotVerdict | None


def pulled_lot(order: Order, strength: BreakingForce, system: str) -> Lot | None:
    """The lot that the order asks for; refuses to release one whose pulled pieces do not show the strength."""
    if not order.pull_pieces and not order.pull_forces:
        return None
    if order.is_ring:
        raise Refusal("a pull of pieces from an order of a ring with a lap splice, which has no limit to show", "a lot of laps of the shop's own, in its shop file",
                      "leave the pull out of this order; laps of this make are pulled as a lot of the shop, and a ring keeps no limit all the same")
    coverage, confidence = read_share(order.pull_coverage), read_share(order.pull_confidence)
    forces = _forces(order.pull_forces) if order.pull_forces else None
    count = _count(order.pull_pieces) if order.pull_pieces else len(forces)
    if forces and len(forces) != count:
        raise Refusal(f"{len(forces)} forces of {count} pulled pieces", "one force for each pulled piece", "write down every one, the low ones too")
    needed_n = strength.force_n * float(EFFICIENCY)
    factor = tolerance_factor(count, coverage=coverage, confidence=confidence)
    lines = [f"Pull {count} pieces, picked blind from the lot, until they give way; the pulled ones are thrown away.",
             f"What {coverage:.0%} of such pieces hold, said with {confidence:.0%} confidence, must reach "
             f"{show_force(needed_n, system, 'up')}: 90 % of the breaking force. From {count} pieces that is their mean less {factor:.3f} "
             "times their standard deviation."]
    verdict = None
    if forces:
        verdict = lot_verdict(forces, strength.force_n, coverage=coverage, confidence=confidence, modes=_endings(order.pull_endings, count))
        _refuse_unshown(verdict)
        lines += [f"Pulled: {', '.join(alone(own_unit_first(show_pull(force), system)) for force in forces)}. {verdict.verdict.capitalize()}.", *verdict.reasons,
                  f"What {count} pulled pieces cannot tell:", *verdict.cannot_tell]
    else:
        lines.append("Until they have been pulled and show it, nothing of this lot is released.")
    return Lot(count, coverage, confidence, tuple(lines), verdict)


class UnshownLot(Refusal):
    """A lot that is held: a matter of the bench, not of whoever asked."""


def _refuse_unshown(verdict: LotVerdict) -> None:
    """Refuses the release of a lot that does not show its strength, in one sentence."""
    if verdict.verdict == "shown":
        return
    bound = (f"whose lowest is {show_pull(verdict.lowest_n)} and whose bound is {show_pull(verdict.bound.bound_n)}" if verdict.bound
             else f"whose lowest is {show_pull(verdict.lowest_n)}")
    raise UnshownLot(f"the release of a lot of {verdict.pieces} pulled pieces {bound} ({verdict.verdict})",
                  f"a bound of at least {show_force(verdict.needed_n, direction='up')} ({verdict.coverage:.0%} of pieces, {verdict.confidence:.0%} "
                  "confidence), no piece below it, and all of them broken in one way",
                  f"hold the whole lot: {lower_first(verdict.reasons[0]).rstrip('.')}. Then find the cause (tool closing, cavity, gauge, sleeves, or a pull that was stopped), set it right, "
                  "and pull again")


def refuse_failed_lot(shop: Shop, make: tuple[str, str, str, str], tool: str | None, breaking_force_n: float) -> None:
    """Refuses 90 % for a make (size, construction, metal, sleeve metal) whose newest pulled lots of this shop do not show it."""
    lots = shop.lots("eye", *make, tool=tool)
    for lot in lots:
        why = why_unshown(lot, breaking_force_n) if lot.pulled_on == lots[0].pulled_on else ""
        if why:
            raise UnshownLot(f"a sheet for {make[0]} eyes pressed in {lot.tool}, of which the shop's own newest pulled lot, {lot.id}, does not show the strength",
                             f"a newest lot that shows {show_force(breaking_force_n * float(EFFICIENCY), direction='up')} for {SHOP_COVERAGE:.0%} of pieces with {SHOP_CONFIDENCE:.0%} confidence",
                             f"press none of these: {lower_first(why).rstrip('.')}. Find the cause, set it right, pull a new lot to the end, "
                             "and set the old one aside in the shop file with the reason")


def why_unshown(lot: PulledLot, breaking_force_n: float) -> str:
    """Why a lot of the shop's own does not show 90 % of a breaking force in N; '' where it shows it."""
    try:
        found = lot_verdict(lot.forces_n, breaking_force_n, coverage=SHOP_COVERAGE, confidence=SHOP_CONFIDENCE, modes=lot.endings)
    except Refusal as refusal:
        return f"the lot cannot be judged ({refusal.given})."
    return "" if found.verdict == "shown" else found.reasons[0]


def _count(text: str) -> int:
    if not re.fullmatch(r"[0-9]{1,3}", text) or not LEAST_PULLED <= int(text) <= MOST_PULLED:
        raise Refusal(f"'{text}' pieces to pull", f"a whole number from {LEAST_PULLED} to {MOST_PULLED}", "write how many pieces are pulled")
    return int(text)


def _forces(text: str) -> tuple[float, ...]:
    """Forces as "470, 505, 512 lbf" or each with its unit; in N."""
    parts = [part.strip() for part in text.split(",")]
    unit = re.search(r"[A-Za-z]+$", parts[-1])
    if not unit:
        raise Refusal(f"the forces '{text[:60]}'", "forces with their unit, as 470 lbf, 505 lbf", "write the unit")
    return tuple(float(read_force_n(part if part[-1:].isalpha() else f"{part} {unit.group()}").value) for part in parts)


def _endings(text: str, count: int) -> tuple[str, ...]:
    """How each piece ended, in the order of the forces: "6 x broke in the cable", parts divided by semicolons."""
    ended = []
    for part in text.split(";"):
        found = re.fullmatch(r"(?:([0-9]{1,3}) ?x )?(.+)", part.strip())
        ended += [found[2]] * int(found[1] or 1) if found else []
    if len(ended) != count or not set(ended) <= set(MODES):
        raise Refusal(f"the endings '{text[:80]}' of {count} pieces", f"one for each piece, in the order of the forces: {'; '.join(MODES)}",
                      f"write them so, as   {count} x {MODES[0]}")
    return tuple(ended)
