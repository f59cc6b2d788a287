"""How a greatest tension is checked: by sag under a weight, or by a gauge, read from the order's own sentence."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rigcalc._order import Order

__all__ = ["check_question", "hung_weight", "is_mass", "stated_lengths", "weights_said"]

_SAG = re.compile(r"\b(?:sags?|sagging|mid-?span|hang(?:s|ing)?|hung)\b", re.IGNORECASE)
_GAUGE = re.compile(r"\b(?:(?<!go )(?<!go-)(?<!crimp )(?<!sleeve )(?<!pressure )(?<!feeler )gauges?|(?:tension|force)[ -]?(?:o)?meters?|tensiometers?|dynamometers?|load cells?"
                    r"|spring balances?)\b", re.IGNORECASE)
_NOT_CHECKED = re.compile(r"\b(?:none|never|nothing|later|without|not (?:checked|measured|gauged|known|yet)|no (?:\w+ ){0,2}?(?:gauge|check|sag|meter|weight)s?|if (?:needed|we|asked))\b|n't\b",
                          re.IGNORECASE)
_WEIGHT = re.compile(r"(?<![\w.,])[0-9]+(?:\.[0-9]+)? ?(?:kgf|kg|lbf|lbs|lb|kN|N)\b")
_LENGTH = re.compile(r"(?<![\w.,/])[0-9]+(?:\.[0-9]+)? ?(?:mm|cm|m|in|ft)\b")


def check_question(order: Order) -> tuple[str, ...]:
    """The question that a tension check leaves open: how it is checked, or which weight is hung."""
    text = order.tension_check
    if text is None or order.is_ring or order.greatest_tension is None:
        return ()
    if _NOT_CHECKED.search(text) or not (_SAG.search(text) or _GAUGE.search(text)):
        return (f"How is the tension checked? '{text}' names neither sag with a weight hung at mid-span nor a tension gauge, tension meter or "
                "in-line force gauge (--tension-check).",)
    if not _GAUGE.search(text) and hung_weight(order) is None:
        return ("Which weight is hung at mid-span for the check by sag, with its unit (--check-weight)?",)
    return ()


def hung_weight(order: Order) -> str | None:
    """The weight hung for the check: as given by itself, or as the check's own sentence says it."""
    if order.check_weight is not None:
        return order.check_weight
    text = order.tension_check or ""
    found = _WEIGHT.search(text) if _SAG.search(text) else None
    return found.group() if found else None


def is_mass(text: str | None) -> bool:
    """Whether a weight is written as a mass, which weighs nothing until gravity is stated."""
    return text is not None and text.rstrip(". ").lower().endswith(("kg", "lb", "lbs"))


def weights_said(text: str | None) -> list[str]:
    """Every weight that the check's sentence names."""
    return _WEIGHT.findall(text or "")


def stated_lengths(text: str | None) -> list[str]:
    """Every length that the check's sentence names, the sag it asks for among them."""
    return _LENGTH.findall(text or "")
