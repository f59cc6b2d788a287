"""How a live figure says that an act cannot be done yet: in one plain sentence."""

from __future__ import annotations

from rigcalc.errors import Refusal

__all__ = ["NotYet"]


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
