"""Design factors that regulations give to other equipment: for comparison only, never a menu."""

from __future__ import annotations


from rigcalc._records import record
from rigcalc.reference import table

__all__ = ["NOT_FOR_THIS", "PublishedFactor", "published_factors"]

NOT_FOR_THIS = "not for a hand-pressed assembly"


@record
class PublishedFactor:
    """A factor of other equipment, what it is for, and that it is not for this trade's work.

    It is no `DesignFactor`: it has no owner, no day and no scope, and no rating takes it.
    """

    equipment: str
    factor: float
    note: str
    said: str
    source: str
    how_known: str


def published_factors() -> tuple[PublishedFactor, ...]:
    """What other equipment is held to, row by row, each marked as not for a hand-pressed assembly.

    No published factor was found for static hanging, bracing or trellis work with hand-pressed sleeves: the factor
    comes from a named person. Rows from memory say so and accept nothing.
    Source: each row names its own.

    >>> found = published_factors()[0]
    >>> found.equipment, found.factor, found.said
    ('wire rope sling, general lifting', 5.0, 'not for a hand-pressed assembly')
    """
    return tuple(PublishedFactor(row.equipment, row.factor, row.note, NOT_FOR_THIS, row.cited, row.how_known)
                 for row in table("design_factors"))
