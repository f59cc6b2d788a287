"""The one way this package says no.

A refusal is one plain sentence: what was given, what is accepted, what to do.
"""

from __future__ import annotations

from collections.abc import Sequence

__all__ = ["BenchMatter", "Refusal", "Refusals", "together"]


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

    @property
    def lines(self) -> list[str]:
        """The refusal for a page, line by line."""
        return [str(self)]


class Refusals(Refusal):
    """Several things that one rule refuses; a page says each on a line of its own.

    Parameters: what was given, each by itself; what is accepted; what to do.

    >>> Refusals(["question 1: 'E'", "question 2: 'F'"], "A or B", "look at the sheet").lines
    ['Refused:', "question 1: 'E'", "question 2: 'F'", 'Accepted: A or B; look at the sheet.']
    """

    def __init__(self, each: Sequence[str], accepted: str, do: str) -> None:
        super().__init__("; ".join(each), accepted, do)
        self.each = tuple(map(_short, each))

    @property
    def lines(self) -> list[str]:
        return super().lines if len(self.each) == 1 else ["Refused:", *self.each, f"Accepted: {self.accepted}; {self.do}."]


def together(wrong: Sequence[Refusal], do: str = "") -> Refusal:
    """Several refusals at once, so that all is mended in one go; what is accepted, and what to do where it is not given, is said once."""
    if len(wrong) == 1:
        return wrong[0]
    return Refusals([one.given for one in wrong], "; ".join(dict.fromkeys(one.accepted for one in wrong)), do or "; ".join(dict.fromkeys(one.do for one in wrong)))


class BenchMatter(Refusal):
    """A refusal about the shop's own stock, tools, charts or files: for the bench to mend, and no answer to whoever asked."""


def _short(text: str, most: int = 900) -> str:
    """A part of the sentence, cut where somebody typed a whole page."""
    return text if len(text) <= most else f"{text[:most]} and {len(text) - most} more signs"
