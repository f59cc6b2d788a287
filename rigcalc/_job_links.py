"""The fittings of an order, taken from the shop or left to others, and the weakest link among working limits."""

from __future__ import annotations

import math
import re
from typing import TYPE_CHECKING

from rigcalc.errors import BenchMatter, Refusal
from rigcalc.fittings import Fitting, Weakest, weakest_link
from rigcalc.units import show_force

if TYPE_CHECKING:
    from rigcalc._order import Order
    from rigcalc._order_read import Facts
    from rigcalc.rating import Limit
    from rigcalc.shop import Shop

__all__ = ["BY_OTHERS", "chosen_fittings", "held_by_fittings"]

BY_OTHERS = "by others"


def chosen_fittings(order: Order, shop: Shop) -> list[Fitting | tuple[Fitting, float]]:
    """The shop's fittings that the order names, "small bow shackle, wall eye at 0 degrees"; none for those by others."""
    chosen = []
    for part in (order.fittings or "").split(","):
        plain = " ".join(part.split())
        if not plain or plain.casefold().endswith(BY_OTHERS) or plain.casefold().startswith(BY_OTHERS):
            continue
        found = re.fullmatch(r"(.+?)(?: at ([0-9]{1,2}(?:\.[0-9])?) ?deg(?:rees)?)?", plain)
        fitting = _of_shop(found[1], shop)
        chosen.append((fitting, math.radians(float(found[2]))) if found[2] else fitting)
    return chosen


def _of_shop(name: str, shop: Shop) -> Fitting:
    """The shop's fitting of that name, or of that kind and name."""
    for kept in shop.fittings:
        if name.casefold() in (kept.fitting.name.casefold(), f"{kept.fitting.kind} {kept.fitting.name}".casefold()):
            return kept.fitting
    known = ", ".join(kept.fitting.name for kept in shop.fittings) or "none so far"
    raise BenchMatter(f"the fitting '{name}'", f"a fitting of the shop file ({known}), or {BY_OTHERS}",
                  "take one of these, or add a [[fitting]] block with the limit that is marked on it")


def held_by_fittings(fittings: list[Fitting | tuple[Fitting, float]], rated: Limit, facts: Facts) -> Weakest | None:
    """The weakest link of cable and fittings; refused where a fitting does not reach the greatest force of the order."""
    if not fittings:
        return None
    weakest = weakest_link(rated.stated_n, fittings)
    needed, called = facts.required
    if needed > weakest.limit_n * (1 + 1e-9):
        raise Refusal(f"{called} on the {weakest.governs}", f"at most {show_force(weakest.limit_n, direction='down')}, as marked on it",
                      "take a fitting whose own marked limit reaches: a stronger cable does not help")
    return weakest
