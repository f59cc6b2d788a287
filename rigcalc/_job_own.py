"""The cable's own weight: in the check by a sag, and in the pull of a span, which the limit has to cover."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rigcalc._order_figures import show_pull
from rigcalc._order_read import refuse_uncovered
from rigcalc._order_shapes import read_gravity
from rigcalc._records import record
from rigcalc.cable import Mass, cable_mass
from rigcalc.errors import BenchMatter, Refusal
from rigcalc.reference import constant
from rigcalc.spans import with_own_weight
from rigcalc.units import exact, show_mass

if TYPE_CHECKING:
    from rigcalc._order import Order
    from rigcalc._order_read import Facts
    from rigcalc.shop import Reel

__all__ = ["OwnWeight", "facts_with_own_weight", "own_weight", "refuse_slipped"]

LARGE_SHARE: float = float(constant("greatest share of own weight").value)
LIGHTEST: float = float(constant("lightest of a cable").value)
HEAVIEST: float = float(constant("heaviest of a cable").value)
HEAVIEST_COATED: float = float(constant("heaviest of a coated cable").value)


@record
class OwnWeight:
    """The weight of a length of cable in N, where its mass comes from, and whether this very cable was weighed."""

    weight_n: float
    source: str
    weighed: bool


def own_weight(reel: Reel, length_mm: float, order: Order, heaviest: bool = False) -> OwnWeight | None:
    """What so much of a reel weighs: by the shop file's mass of it, else of the bare cable by the European factor, or by the
    heavier of the tables where too heavy is the safe side; None where neither stands."""
    gravity = float(read_gravity(order.gravity or "standard"))
    if reel.mass_100m_kg is not None:
        return OwnWeight(reel.mass_100m_kg * length_mm / 100_000 * gravity, f"100 m of reel {reel.id} weigh {show_mass(reel.mass_100m_kg)}: shop file", True)
    known = _by_the_tables(reel, length_mm)[:None if heaviest else 1]
    if not known:
        return None
    mass = max(known, key=lambda one: one.mass_kg)
    beside = "the heavier of two tables: " if len(known) > 1 else ""
    return OwnWeight(mass.mass_kg * gravity, f"{beside}{mass.source}; {mass.how_known}", False)


def _by_the_tables(reel: Reel, length_mm: float) -> list[Mass]:
    """What so much bare cable weighs by each table that holds it; too heavy errs on the safe side, so one from memory may count."""
    found = []
    for system in ("EN", "inch table, from memory"):
        try:
            found.append(cable_mass(reel.construction, reel.size, length_mm, system))
        except Refusal:
            continue
    return found


def refuse_slipped(reel: Reel) -> None:
    """Refuses a mass of 100 m that no such cable has, by what the tables say of the bare one: a digit or a unit has slipped."""
    known = _by_the_tables(reel, 100_000)
    if reel.mass_100m_kg is None or not known:
        return
    low, high = (LIGHTEST * min(one.mass_kg for one in known), (HEAVIEST_COATED if reel.coating_to else HEAVIEST) * max(one.mass_kg for one in known))
    if not low <= reel.mass_100m_kg <= high:
        raise BenchMatter(f"a mass_of_100m of {reel.mass_100m_kg:g} kg for reel {reel.id}", f"{low:.2f} to {high:.2f} kg, by the tables of such cable",
                          "weigh it again: a digit or a unit has slipped, or the reel's label is wrong")


def facts_with_own_weight(order: Order, facts: Facts, reel: Reel) -> Facts:
    """The facts with the cable's own weight in a span's pull; without a span the same.

    Refused where what the order states does not cover that pull, and where it counts and nobody weighed this cable.
    """
    from dataclasses import replace

    shape = facts.shape
    if shape is None or shape.span is None:
        return facts
    refuse_slipped(reel)
    own = own_weight(reel, shape.span.length_mm, order, heaviest=True)
    if own is None or (reel.coating_to and not own.weighed):
        raise BenchMatter(f"a span of the {'coated ' if reel.coating_to else ''}cable of reel {reel.id}, whose own weight is not known",
                      "a reel whose mass stands in the shop file, which is added to what hangs",
                      f'weigh a measured length of it and write mass_of_100m = "... kg" into the block of reel {reel.id}')
    whole = with_own_weight(shape.span, own.weight_n)
    added = whole.greatest_n / shape.span.greatest_n - 1
    if added > LARGE_SHARE and not own.weighed:
        raise BenchMatter(f"a span in which the cable's own weight, {show_pull(own.weight_n)} by the table, adds {added:.0%} to the pull",
                      f"at most {LARGE_SHARE:.0%} by the table, or a reel that was weighed: makers' cables differ from the table",
                      f'weigh a measured length of it and write mass_of_100m = "... kg" into the block of reel {reel.id}')
    working = (*shape.working, ("Own weight of the cable", f"{show_pull(own.weight_n)} ({own.source}), spread along it"),
               ("Pull with own weight", f"{show_pull(whole.left_n)} at the left end, {show_pull(whole.right_n)} at the right end: what the limit covers"))
    heavier = replace(facts, shape=replace(shape, pulls_n=(("", exact(whole.greatest_n)),), called_as=f"{shape.called_as} with the cable's own weight",
                                           working=working, own_weight_n=own.weight_n))
    refuse_uncovered(heavier)
    return heavier
