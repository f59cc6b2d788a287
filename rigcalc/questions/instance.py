"""One question with its values drawn: what is shown, what is right, and what each misstep would give."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

from rigcalc.questions.family import Family

__all__ = ["Instance", "Option", "Slip"]


@dataclass(frozen=True)
class Option:
    """One option of a choice as shown; a wrong one carries its misstep."""

    text: str
    misstep: str | None = None
    feedback: str | None = None


@dataclass(frozen=True)
class Slip:
    """What a misstep gives: a figure in the base unit (N, mm, kg), 'refuse', or a row of letters or texts."""

    id: str
    feedback: str
    exact: Fraction | str | None = None
    row: tuple[str, ...] | None = None
    direction: str | None = None
    step: dict[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Instance:
    """Drawn values with everything the question and its key are composed from.

    `right` is the index of the right option (one choice), the indexes of the right ones (several choices), the exact
    figure in the base unit or 'refuse' (number; `also` is what else is right by a figure as printed, `worked_from` how a box
    moves with boxes above: their id, and (times, plus) of each straight stretch), the row of letters
    or of texts (order, match: of `items`), or the letter (place). `boxes` are a sheet's boxes: id,
    label and the box as an instance of its own.
    Swapping what is right changes the key, never the question.
    """

    family: Family
    system: str
    values: dict[str, Any]
    text: str
    chart: str | None
    figure: dict[str, str] | None
    instruction: str
    hint: str
    working: str
    right: Any
    options: tuple[Option, ...] = ()
    slips: tuple[Slip, ...] = ()
    letters: tuple[str, ...] = ()
    items: tuple[str, ...] = ()
    left: tuple[str, ...] = ()
    boxes: tuple[tuple[str, str, Instance], ...] = ()
    also: tuple[Fraction, ...] = ()
    worked_from: dict[str, tuple[tuple[float, float], ...]] = field(default_factory=dict)
    language: str = "en"

    @property
    def unit(self) -> str | None:
        """The unit asked, by the shop's system."""
        answer = self.family.answer
        return answer.unit_si if self.system == "SI" and answer.unit_si else answer.unit
