"""How a live figure says no: that an act cannot be done yet, in one plain sentence; and a calculation's refusal, as a teacher says it."""

from __future__ import annotations

import re

from rigcalc.errors import Refusal

__all__ = ["NotYet", "in_plain_words"]

FIELD = re.compile(r'write [a-z0-9_]+ = "[^"]*" into the block of')  # what only whoever keeps the shop file has to know


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


def in_plain_words(refusal: Refusal) -> str:
    """A refusal as a teacher says it to a learner: the same three facts, a sentence each.

    >>> in_plain_words(Refusal("a cable that people swing on", "static work that carries nobody", "ask a qualified engineer"))
    'Refused: a cable that people swing on. Accepted here: static work that carries nobody. Ask a qualified engineer.'
    >>> in_plain_words(Refusal("no design factor", "a factor with its owner's name", "enter it"))
    "No design factor was given. Accepted here: a factor with its owner's name. Enter it."
    >>> in_plain_words(Refusal("a reel nobody weighed", "one with its mass", 'weigh it and write mass_of_100m = "... kg" into the block of reel R6'))
    'Refused: a reel nobody weighed. Accepted here: one with its mass. Weigh it and have that written down in the shop file for reel R6.'
    """
    if isinstance(refusal, NotYet):
        return str(refusal)
    missing = refusal.given.startswith(("no ", "nothing"))
    said = refusal.given.rstrip(",")
    given = f"{_upper(said)} was given" if missing else f"Refused: {said}"
    return f"{given}. Accepted here: {refusal.accepted}. {_upper(FIELD.sub('have that written down in the shop file for', refusal.do))}."


def _upper(text: str) -> str:
    return text[:1].upper() + text[1:]
