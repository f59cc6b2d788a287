"""Put in order: the right row of letters, and the rows that missteps give."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from rigcalc.questions import template
from rigcalc.questions.choosing import Undrawn
from rigcalc.questions.family import Family
from rigcalc.questions.instance import Slip

__all__ = ["order_parts"]


def order_parts(family: Family, values: Mapping[str, Any], system: str, work: Callable[..., Any]) -> dict[str, Any]:
    """The letters on the page, the right row and the missteps' rows."""
    right = tuple(work(family.answer, values))
    seen, kept = {right}, []
    for misstep in family.misstep:
        row = tuple(work(misstep, values))
        if row in seen:
            if misstep.where_it_shows:
                continue
            raise Undrawn(f"misstep '{misstep.id}' gives a row that stands already")
        seen.add(row)
        kept.append(Slip(misstep.id, template.fill(misstep.feedback["en"], values, system), row=row))
    return {"right": right, "slips": tuple(kept), "letters": tuple(sorted(right)),
            "shown_right": ", ".join(right)}
