"""A refusal in writing: what was asked, why it is not made, and whom to ask instead."""

from __future__ import annotations

import re
import textwrap
from datetime import date

from rigcalc.assembly import MissingFacts, Order
from rigcalc.cautions import INVENTED
from rigcalc.errors import Refusal
from rigcalc.pages import escape, page
from rigcalc.shop.model import Shop
from rigcalc.shop.order_file import by_field

__all__ = ["letter_html", "letter_text"]

WIDTH = 80
_SIGNED = "Signed ____________   for the shop"


def _paragraphs(order: Order, refusal: Refusal, shop: Shop, on: date) -> list[str]:
    """The letter, a paragraph each."""
    number = f"order {order.number}" if order.number else "your order"
    asked = ", ".join(fact for fact in (order.what, order.where) if fact) or "what was asked for"
    lines = [f"{shop.name}, {on.isoformat()}", f"About {number}: {asked}."]
    if isinstance(refusal, MissingFacts):
        # The options are for the bench, not for whoever asked.
        return [*lines, "Not yet: nothing is made with facts missing. Please answer:",
                *(f"- {re.sub(r' [(]--[^)]*[)]', '', question)}" for question in refusal.questions), _SIGNED]
    return [*lines, "We do not make this.", f"What was given: {refusal.given}.", f"What we can accept: {by_field(refusal.accepted)}.",
            f"What to do now: {by_field(refusal.do)}.", "This is no judgement of the person who asked. A cable made against this answer, here or elsewhere, "
            "is not covered by anything that we have said.", _SIGNED]


def letter_text(order: Order, refusal: Refusal, shop: Shop, on: date) -> str:
    """The letter as plain text, 80 columns wide."""
    texts = ([INVENTED] if shop.invented else []) + _paragraphs(order, refusal, shop, on)
    return "\n\n".join(textwrap.fill(text, WIDTH) for text in texts)


def letter_html(order: Order, refusal: Refusal, shop: Shop, on: date) -> str:
    """The letter as a page that prints."""
    body = "".join(f"<p>{escape(text)}</p>" for text in _paragraphs(order, refusal, shop, on))
    return page("An order answered in writing", body, chart_line=shop.chart_line(), invented=shop.invented)
