"""How lengths stand on what is printed for the bench: in a US shop inches first and millimetres in brackets, in an SI shop millimetres."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from rigcalc._order_figures import caliper, sheet_length
from rigcalc.units import INCH_MM, in_unit, round_to

if TYPE_CHECKING:
    from rigcalc.shop import Shop

__all__ = ["by_caliper", "by_rule", "laid_out", "to_write"]

CUT = re.compile(r"\b(\d+) mm\b")
HALF_INCH_MM = float(INCH_MM) / 2


def by_rule(length_mm: float, shop: Shop, direction: str = "nearest") -> str:
    """A length that is read off a rule, in mm; `direction` "up" for what is at least, "down" for what is at most.

    SI: to 0.1 mm, as the charts have it. Errors: `UnitError` for what is no number. Source: `units.show_length`.

    >>> from rigcalc.notebook.teaching import sample_shop
    >>> by_rule(6.4, sample_shop()), by_rule(0.5, sample_shop(), "up")
    ('1/4 in [6.4 mm]', '0.020 in [0.5 mm]')
    """
    return sheet_length(length_mm, "US", direction) if shop.system == "US" else _millimetres(length_mm, "0.1", direction)


def by_caliper(length_mm: float, shop: Shop, direction: str = "nearest") -> str:
    """A length that is read off a caliper, in mm: to 0.001 in and 0.01 mm, each rounded in its own unit; `direction` as for `by_rule`.

    Errors: `UnitError` for what is no number. Source: the steps that calipers show.

    >>> from rigcalc.notebook.teaching import sample_shop
    >>> by_caliper(8.4, sample_shop(), "down")
    '0.330 in [8.40 mm]'
    """
    return caliper(length_mm, "US", direction) if shop.system == "US" else _millimetres(length_mm, "0.01", direction)


def _millimetres(length_mm: float, step: str, direction: str) -> str:
    """Millimetres alone, rounded that way to the step; what ends in noughts is shown without them."""
    text = f"{round_to(in_unit(length_mm, 'mm'), step, direction):f}"
    return f"{text.rstrip('0').rstrip('.') if '.' in text else text} mm"


def to_write(shop: Shop) -> str:
    """The unit beside a blank for a length: in a US shop either of two, and the writer says which.

    >>> from rigcalc.notebook.teaching import sample_shop
    >>> to_write(sample_shop())
    'in or mm'
    """
    return "in or mm" if shop.system == "US" else "mm"


def laid_out(words: str, shop: Shop) -> str:
    """Words on what is cut and laid out before a class, their millimetres in a US shop as the next half inch up.

    >>> from rigcalc.notebook.teaching import sample_shop
    >>> laid_out("lengths of 300 mm", sample_shop())
    'lengths of 12 in [305 mm]'
    """
    if shop.system != "US":
        return words
    return CUT.sub(lambda found: by_rule(-(-int(found[1]) // HALF_INCH_MM) * HALF_INCH_MM, shop), words)
