"""How a live figure says no to a learner: in plain sentences, not in the form that a calculation's refusal has."""

from __future__ import annotations

from rigcalc.errors import Refusal

__all__ = ["NotYet", "plainly"]


class NotYet(Refusal):
    """An act that cannot be done as things stand; it reads as the sentence that it was made with.

    >>> str(NotYet("Two readings are written here already. Rub them out, or go on to another place."))
    'Two readings are written here already. Rub them out, or go on to another place.'
    """

    def __init__(self, sentence: str) -> None:
        super().__init__(sentence, "another act", "read the sentence")
        self.sentence = sentence

    def __str__(self) -> str:
        return self.sentence


def plainly(refusal: Refusal) -> str:
    """A refusal of a calculation as learners read it: what it has no answer for, where it has one, what to do.

    >>> plainly(Refusal("the mass of 7x7 of size 3/8", "7x7 3/32", "take another system"))
    'Refused: no answer for the mass of 7x7 of size 3/8. There is one for 7x7 3/32. Take another system.'
    """
    return f"Refused: no answer for {refusal.given}. There is one for {refusal.accepted}. {refusal.do[:1].upper()}{refusal.do[1:]}."
