"""The one way this package says no.

A refusal is one plain sentence: what was given, what is accepted, what to do.
"""

from __future__ import annotations

__all__ = ["BenchMatter", "Refusal"]


class Refusal(ValueError):
    """A calculation or a form says no, and says why.

    Parameters
    ----------
    given : str
        What was given, as the person wrote it.
    accepted : str
        What is accepted here.
    do : str
        What to do now, or whom to ask.

    Example
    -------
    >>> str(Refusal("the size '7/64'", "3/32 or 1/8", "take one of the two"))
    "Refused: the size '7/64' was given; accepted: 3/32 or 1/8; take one of the two."
    """

    def __init__(self, given: str, accepted: str, do: str) -> None:
        self.given, self.accepted, self.do = (_short(part.rstrip(".")) for part in (given, accepted, do))
        super().__init__(self.given, self.accepted, self.do)

    def __str__(self) -> str:
        return f"Refused: {self.given} was given; accepted: {self.accepted}; {self.do}{'' if self.do.endswith('?') else '.'}"


class BenchMatter(Refusal):
    """A refusal about the shop's own stock, tools, charts or files: for the bench to mend, and no answer to whoever asked."""


def _short(text: str, most: int = 900) -> str:
    """A part of the sentence, cut where somebody typed a whole page."""
    return text if len(text) <= most else f"{text[:most]} and {len(text) - most} more signs"
