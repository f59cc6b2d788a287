"""Lesson 12, the letters of an order: what the council writes, and what the workbook writes back."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from html import escape

from rigcalc.assembly import Order, job_sheet
from rigcalc.errors import Refusal
from rigcalc.figures import Figure
from rigcalc.figures.order_papers import letter
from rigcalc.notebook import lesson
from rigcalc.notebook.teaching import of_order, sample_shop
from rigcalc.shop.letter import letter_text

__all__ = ["FIRST", "FIRST_REPLY", "LANTERN", "SECOND", "SHEET_DAY", "both_refused", "first_letter", "letter_block", "letter_to", "second_letter"]

SHEET_DAY = date(2026, 4, 1)  # a day on which the invented shop's gauges are in date
FIRST_REPLY, SECOND_REPLY = date(2026, 3, 9), date(2026, 3, 16)  # before and after the designer's paper, which the first reply asks for
LANTERN, FIRST, SECOND = "03_lantern", "03a_lantern_no_designer", "03b_lantern_six_millimetre"
COUNCIL = "Town council"


def first_letter() -> Figure:
    """The council's first letter."""
    order = of_order(FIRST)
    return letter(COUNCIL, "first letter", f"A lantern is to hang {order.where}, from a wire between two walls, in the middle. It weighs {order.weight}. Please make us the wire by the end of the month.")


def second_letter() -> Figure:
    """The council's second letter, with the facts of the file of that name."""
    order = of_order(SECOND)
    return letter(COUNCIL, "second letter", f"All is answered now. {order.designer} stands for the design, and her paper is enclosed, with the wind in it. And do use that 6 mm reel of yours, "
                  f"with {order.sleeve_metal} sleeves. It is thicker, and we should like to save the money.")


def letter_to(order: Order, day: date = SHEET_DAY) -> str:
    """What the package writes back on that day; empty where it makes the order."""
    try:
        job_sheet(order, sample_shop(), day)
    except Refusal as refusal:
        return letter_text(order, refusal, sample_shop(), day)
    return ""


def letter_block(text: str, caption: str = "What the workbook writes") -> lesson.Block:
    """A letter in a frame, without the cautions that stand under each of them."""
    parts = [" ".join(part.split()) for part in text.split("\n\n") if part.strip()]
    parts = parts[:next((at + 1 for at, part in enumerate(parts) if part.startswith("Signed")), len(parts))]
    body = "".join(f"<p>{escape(part)}</p>" for part in parts)
    return lesson.Block(f'<figure class="paper" style="border:2px solid currentColor;padding:.4rem 1rem;margin:.6rem 0;max-width:44rem"><figcaption><strong>{escape(caption)}</strong></figcaption>{body}</figure>',
                        "\n".join([caption, *parts]))


def both_refused() -> lesson.Block:
    """What goes back to the second letter: the reel, and the sleeves that a right reel would still be refused with."""
    reel = letter_block(letter_to(of_order(SECOND), SECOND_REPLY), "Refused in writing: the reel")
    sleeves = letter_block(letter_to(replace(of_order(SECOND), reel=of_order(LANTERN).reel), SECOND_REPLY), "In the same envelope: the sleeves, on the reel that fits")
    return lesson.Block(reel.html + sleeves.html, f"{reel.text}\n{sleeves.text}")
