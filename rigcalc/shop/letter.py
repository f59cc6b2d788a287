"""A refusal in writing: what was asked, why it is not made, and whom to ask instead."""

from __future__ import annotations

import re
import textwrap
from datetime import date

from rigcalc.assembly import MissingFacts, Order
from rigcalc.cautions import INVENTED, WORK_CAUTIONS
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
    lines = [f"{shop.name}, {on.isoformat()}", "To ________________________________", f"About {number}: {asked}."]
    if isinstance(refusal, MissingFacts):
        # The options are for the bench, not for whoever asked.
        return [*lines, "Not yet: nothing is made with facts missing. Please answer:",
                *(f"- {re.sub(r' [(]--[^)]*[)]', '', question)}" for question in refusal.questions), _SIGNED]
    return [*lines, "We do not make this.", _found(refusal.given), f"What we can accept: {by_field(refusal.accepted)}.",
            f"What to do now: {by_field(refusal.do)}.", "This is no judgement of the person who asked. A cable made against this answer, here or elsewhere, "
            "is not covered by anything that we have said.", _SIGNED]


def _found(given: str) -> str:
    """What stands in the way, said to a customer."""
    spoken = re.fullmatch(r"an order that speaks of ('.+')", given)
    return f"The order speaks of {spoken[1]}, and that is work we refuse." if spoken else f"In the order stands: {by_field(given)}."


def letter_text(order: Order, refusal: Refusal, shop: Shop, on: date) -> str:
    """The letter as plain text, 80 columns wide."""
    texts = ([INVENTED] if shop.invented else []) + _paragraphs(order, refusal, shop, on)
    return "\n\n".join(textwrap.fill(text, WIDTH) for text in (*texts, *WORK_CAUTIONS))


def letter_html(order: Order, refusal: Refusal, shop: Shop, on: date) -> str:
    """The letter as a page that prints."""
    body = "".join(f"<p>{escape(text)}</p>" for text in _paragraphs(order, refusal, shop, on))
    cautions = "".join(f"<li>{escape(text)}</li>" for text in WORK_CAUTIONS)
    title = f"Answer to order {order.number}" if order.number else "Answer to your order"
    return page(title, f'{body}<section class="cautions" aria-label="Cautions"><ul>{cautions}</ul></section>', invented=shop.invented, cautions=False, brand=shop.name)
