"""A lot that must show its strength before it leaves: how many pieces are pulled, what they must show, and the verdict."""

from __future__ import annotations

import re
from datetime import date
from typing import TYPE_CHECKING

from rigcalc._order_read import read_share
from rigcalc._order_figures import alone, lower_first
from rigcalc._records import record
from rigcalc.cable import BreakingForce
from rigcalc.errors import Refusal
from rigcalc.pulltest import LEAST_SHARE, MODES, STOPPED, THIMBLE, LotVerdict, lot_verdict, show_held, tolerance_factor, zero_failure_size
from rigcalc.rating import EFFICIENCY
from rigcalc.reference import constant
from rigcalc.units import read_force_n, show_force

if TYPE_CHECKING:
    from rigcalc._order import Order
    from rigcalc.rating import Efficiency
    from rigcalc.shop import PulledLot, Shop

__all__ = ["Lot", "UnshownLot", "pulled_lot", "refuse_failed_lot", "why_unshown"]

LEAST_PULLED, MOST_PULLED = 3, 100
SHOP_COVERAGE, SHOP_CONFIDENCE = float(LEAST_SHARE), float(constant("confidence of a shop's own lot").value)


@record
class Lot:
    """The pull of an order: how many pieces, what is asked of them, and the verdict where they have been pulled.

    `pulled` says when, by whom and with which instrument; '' before they are pulled.
    """

    pieces: int
    coverage: float
    confidence: float
    lines: tuple[str, ...]
    verdict: LotVerdict | None
    pulled: str = ""


def pulled_lot(order: Order, strength: BreakingForce, share: Efficiency | None, system: str, on: date) -> Lot | None:
    """The lot that the order asks for; refuses to release one whose pulled pieces do not show the strength, or that no instrument in date read.

    `share` is what the limit takes an eye to hold, `on` the day of the sheet.
    """
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
    needed = (f"What {coverage:.0%} of such pieces hold, said with {confidence:.0%} confidence, must reach "
              f"{show_force(strength.force_n * float(EFFICIENCY), system, 'up')}: 90 % of the breaking force, rounded up.")
    by_bound = f"From {count} pieces that is their mean less {tolerance_factor(count, coverage=coverage, confidence=confidence):.3f} times their standard deviation."
    if not forces:
        return Lot(count, coverage, confidence, (
            f"Pull {count} pieces, picked blind from the lot, until they give way; the pulled ones are thrown away.", f"{needed} {by_bound}", *_makers_share(share),
            "Until they have been pulled and show it, nothing of this lot is released."), None)
    endings = _endings(order.pull_endings, count)
    pulled = _when_pulled(order, on)
    verdict = lot_verdict(forces, strength.force_n, coverage=coverage, confidence=confidence, modes=endings)
    _refuse_unshown(verdict, share)
    by_count = f"{zero_failure_size(reliability=coverage, confidence=confidence).pieces} pieces or more that all reach it show that by their count."
    lines = (f"{count} pieces, picked blind from the lot, were {pulled}; the pulled ones are thrown away.",
             f"{needed} {by_count if verdict.by_count_alone else by_bound}", *_makers_share(share), *_ended(forces, endings, system),
             f"{verdict.verdict.capitalize()}.", *verdict.reasons, f"What {count} pulled pieces cannot tell:", *verdict.cannot_tell)
    return Lot(count, coverage, confidence, lines, verdict, pulled)


def _makers_share(share: Efficiency | None) -> tuple[str, ...]:
    """Why a lot has to show more than the maker's own figure, where that is lower."""
    if share is None or share.value >= float(EFFICIENCY):
        return ()
    return (f"The chart in force gives {share.value:.2f} for these eyes, and the limit is worked with that. The lot has to show {float(EFFICIENCY):.2f} all the same, what an eye of this trade "
            "is taken to hold (common practice): pieces that hold less are held until the sleeve's maker has been asked why.",)


def _when_pulled(order: Order, on: date) -> str:
    """When a lot was pulled, by whom and with what; refused where that day has not come, or the instrument was out of date on it."""
    day, due = date.fromisoformat(order.pull_on), date.fromisoformat(order.pull_instrument_due)
    if day > on:
        raise Refusal(f"the day of pulling {day}, after {on}", "a day no later than this sheet's", "correct the day: what is still to come has not been done")
    if due < day:
        raise UnshownLot(f"the release of a lot pulled on {day} with the instrument {order.pull_instrument}, whose check was due on {due}", "an instrument in date on the day of pulling",
                         "hold the whole lot: its forces show nothing. Have the instrument checked, and pull a lot again")
    return f"pulled on {day} by {order.pull_by} with the instrument {order.pull_instrument}, due {due}"


def _ended(forces: tuple[float, ...], endings: tuple[str, ...], system: str) -> tuple[str, ...]:
    """Each force with how its piece ended, a line for each way; what the ways that tried no sleeve to its end say."""
    say = {THIMBLE: ": the eye held at least this, and how much more is not known", STOPPED: ": each held at least this, and its strength is not known"}
    return tuple(f"{ending[:1].upper()}{ending[1:]}{say.get(ending, '')}: "
                 + "; ".join(f"no. {n} {_read(force, system)}" for n, (force, ended) in enumerate(zip(forces, endings), 1) if ended == ending) + "."
                 for ending in dict.fromkeys(endings))


def _read(force_n: float, system: str) -> str:
    """A force as the instrument read it, in the shop's unit alone: rounded down, to 0.1 lbf or 0.001 kN."""
    fine = "0.1" if system == "US" else "0.001" if force_n >= 1000 else None
    return alone(show_force(force_n, system, "down", fine))


class UnshownLot(Refusal):
    """A lot that is held: a matter of the bench, not of whoever asked."""


def _refuse_unshown(verdict: LotVerdict, share: Efficiency | None) -> None:
    """Refuses the release of a lot that does not show its strength, in one sentence with every reason that counts."""
    if verdict.verdict == "shown":
        return
    bound = f" and whose bound is {show_held(verdict.bound.bound_n)}" if verdict.bound else ""
    makers = f"; the {share.value:.2f} of the chart in force is the limit's, not the lot's" if _makers_share(share) else ""
    raise UnshownLot(f"the release of a lot of {verdict.pieces} pulled pieces whose lowest is {show_held(verdict.lowest_n)}{bound} ({verdict.verdict})",
                  f"a bound of at least {show_force(verdict.needed_n, direction='up')} ({verdict.coverage:.0%} of pieces, {verdict.confidence:.0%} "
                  f"confidence), no piece below it, and all of them broken in one way{makers}",
                  f"hold the whole lot: {'; '.join(verdict.against)}. Then find the cause (tool closing, cavity, gauge, sleeves, or a pull that was stopped), set it right, "
                  "and pull again")


def refuse_failed_lot(shop: Shop, make: tuple[str, str, str, str], tool: str | None, breaking_force_n: float) -> None:
    """Refuses 90 % for a make (size, construction, metal, sleeve metal) of which a pulled lot of this shop does not show it and is not set aside.

    A younger lot that shows it answers for nothing while nobody has said why the older one failed.
    """
    lots = shop.lots("eye", *make, tool=tool)
    for lot in lots:
        why = why_unshown(lot, breaking_force_n)
        if why:
            newest = "newest " if lot.pulled_on == lots[0].pulled_on else ""
            younger = "" if newest else f", and nobody has said why, whatever the younger lot {lots[0].id} shows"
            raise UnshownLot(f"a sheet for {make[0]} eyes pressed in {lot.tool}, of which the shop's own {newest}pulled lot, {lot.id}, does not show the strength{younger}",
                             f"a newest lot that shows {show_force(breaking_force_n * float(EFFICIENCY), direction='up')} for {SHOP_COVERAGE:.0%} of pieces with {SHOP_CONFIDENCE:.0%} confidence, "
                             "and every older one that does not set aside with its reason",
                             f"press none of these: {lower_first(why)}. Find the cause, set it right, {'pull a new lot to the end, ' if newest else ''}"
                             f"and set {'the old one' if newest else lot.id} aside in the shop file with the reason")


def why_unshown(lot: PulledLot, breaking_force_n: float) -> str:
    """Why a lot of the shop's own does not show 90 % of a breaking force in N, every reason that counts; '' where it shows it."""
    try:
        found = lot_verdict(lot.forces_n, breaking_force_n, coverage=SHOP_COVERAGE, confidence=SHOP_CONFIDENCE, modes=lot.endings)
    except Refusal as refusal:
        return f"the lot cannot be judged ({refusal.given})"
    return "; ".join(found.against)


def _count(text: str) -> int:
    if not re.fullmatch(r"[0-9]{1,3}", text) or not LEAST_PULLED <= int(text) <= MOST_PULLED:
        raise Refusal(f"'{text}' pieces to pull", f"a whole number from {LEAST_PULLED} to {MOST_PULLED}", "write how many pieces are pulled")
    return int(text)


def _forces(text: str) -> tuple[float, ...]:
    """Forces as "470, 505, 512 lbf" or each with its unit; in N."""
    if re.search(r"[0-9],[0-9]", text):
        raise Refusal(f"the forces '{text[:60]}', whose commas can be read in more than one way,", "a point before decimals, and a comma with a blank between forces, as 2.21 kN, 2.24 kN",
                      "say which is meant: write a point where decimals follow, and a blank after each comma that stands between two forces")
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
