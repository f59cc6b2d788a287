"""Rows: put in order, match, and mark the place. What is right, and what each misstep gives."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from rigcalc.errors import Refusal
from rigcalc.questions import template
from rigcalc.questions.choosing_several import item_text
from rigcalc.questions.family import Family
from rigcalc.questions.instance import Slip
from rigcalc.questions.undrawn import Undrawn

__all__ = ["match_parts", "order_parts", "place_parts"]

MOST = 8  # rows, pairs or places on one page


def _slips(family: Family, values: Mapping[str, Any], system: str, work: Callable[..., Any], right: tuple,
           fits: Callable[[tuple], bool]) -> tuple[Slip, ...]:
    """The missteps' rows; Undrawn when one is no row of this question or stands already."""
    seen, kept = {right}, []
    for misstep in family.misstep:
        try:
            row = _texts(work(misstep, values))
        except Refusal:
            if misstep.where_it_shows:
                continue
            raise
        if row in seen or not fits(row):
            if misstep.where_it_shows:
                continue
            raise Undrawn(f"misstep '{misstep.id}' gives {'the right row itself' if row == right else 'a row that stands already, or none of this question'}",
                          "a misstep with a row of its own, of what stands on the page", "mend its value, or write where_it_shows = true", misstep)
        seen.add(row)
        kept.append(Slip(misstep.id, template.fill(misstep.feedback["en"], values, system), row=row))
    return tuple(kept)


def _texts(row: Any) -> tuple[str, ...]:
    return tuple(item_text(one) for one in (row if isinstance(row, (list, tuple)) else [row]))


def _different(texts: tuple[str, ...], what: str) -> tuple[str, ...]:
    if len(set(texts)) != len(texts) or not 2 <= len(texts) <= MOST:
        raise Undrawn(f"{what} of {len(texts)} hold the same text twice, or are fewer than 2 or more than {MOST}")
    return texts


def order_parts(family: Family, values: Mapping[str, Any], system: str, work: Callable[..., Any]) -> dict[str, Any]:
    """The letters or rows on the page, the right row and the missteps' rows."""
    right = _texts(work(family.answer, values))
    if family.answer.items is None and list(right) == sorted(right):
        raise Undrawn("the right order is that in which the letters stand on the page")
    items = ()
    if family.answer.items is not None:
        items = _different(_texts(template.resolve(family.answer.items, values)), "the rows")
        if sorted(items) != sorted(right):
            raise Undrawn("the right order does not hold each row once")
    slips = _slips(family, values, system, work, right, lambda row: sorted(row) == sorted(right))
    return {"right": right, "slips": slips, "letters": () if items else tuple(sorted(right)),
            "items": tuple(sorted(items)), "shown_right": (", then " if items else ", ").join(right)}


def match_parts(family: Family, values: Mapping[str, Any], system: str, work: Callable[..., Any]) -> dict[str, Any]:
    """Both sides, the right side's texts in the order of the left, and the missteps' rows."""
    answer = family.answer
    left = _different(_texts(template.resolve(answer.left, values)), "the left side")
    offered = _different(_texts(template.resolve(answer.right_side, values)), "the right side")
    right = _texts(work(answer, values))

    def fits(row: tuple) -> bool:
        return len(row) == len(left) and set(row) <= set(offered)

    if not fits(right):
        raise Undrawn("the right row does not fit both sides")
    return {"right": right, "slips": _slips(family, values, system, work, right, fits), "left": left,
            "items": tuple(sorted(offered)),
            "shown_right": "; ".join(f"{one}: {other}" for one, other in zip(left, right, strict=True))}


def place_parts(family: Family, values: Mapping[str, Any], system: str, work: Callable[..., Any]) -> dict[str, Any]:
    """The letters on the drawing, the right one, and the missteps' letters."""
    letters = _different(tuple(sorted(_texts(template.resolve(family.answer.letters, values)))), "the letters")
    right = _texts(work(family.answer, values))
    if len(right) != 1 or right[0] not in letters:
        raise Undrawn("the right place is not lettered")
    slips = _slips(family, values, system, work, right, lambda row: len(row) == 1 and row[0] in letters)
    return {"right": right[0], "slips": slips, "letters": letters, "shown_right": right[0]}
