"""Wrong verdicts at the pull bench: each a short axis of force with its marks, what somebody said, and what is right."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rigcalc.figures.drawing import DEEP, GREEN, INK, QUIET, RUST, Drawing, Figure
from rigcalc.figures.lots import mark

__all__ = ["WrongPull", "wrong_pulls"]


@dataclass(frozen=True)
class WrongPull:
    """One wrong verdict: what was said, what is right, the line (N) with its words, and marks (kind, N, words or "")."""

    said: str
    right: str
    line_n: float
    line: str
    marks: tuple[tuple[str, float, str], ...]
    low_n: float
    high_n: float


def wrong_pulls(cases: Sequence[WrongPull], caption: str = "") -> Figure:
    """Wrong verdicts, two in a row, each with its axis, what somebody said (marked ✗) and what is right (marked ✓)."""
    wide, high = 350.0, 190.0
    sheet = Drawing(2 * wide, high * ((len(cases) + 1) // 2))
    for place, case in enumerate(cases):
        left, top = wide * (place % 2), high * (place // 2)
        sheet.rect(left + 4, top + 4, wide - 8, high - 8, corner=8, stroke=QUIET, width=1.2)
        sheet.text(left + 18, top + 30, str(place + 1), size=20, weight=700, colour=DEEP)

        def at(force: float, left=left, case=case) -> float:
            return left + 34 + (wide - 68) * min(1.0, max(0.0, (force - case.low_n) / (case.high_n - case.low_n)))

        axis = top + 98
        sheet.line(left + 24, axis, left + wide - 24, axis, stroke=INK, width=2)
        sheet.line(at(case.line_n), top + 40, at(case.line_n), axis, stroke=GREEN, width=3, dash="8 5")
        sheet.text(min(max(at(case.line_n), left + 110), left + wide - 80), top + 32, case.line, size=15, anchor="middle", weight=700, colour=GREEN)
        taken: list[float] = []
        for kind, force, words in case.marks:
            raised = kind == "bound" and any(abs(at(force) - x) < 14 for x in taken)
            mark(sheet, kind, at(force), axis - (34 if raised else 12))
            taken.append(at(force))
            if words:
                sheet.text(min(max(at(force), left + 62), left + wide - 62), axis + 22, words, size=15, anchor="middle")
        for row, (sign, words, colour) in enumerate((("✗", case.said, RUST), ("✓", case.right, GREEN))):
            first, *more = words.split("\n")
            sheet.text(left + 18, top + 150 + 22 * row, "\n".join([f"{sign} {first}", *(f"    {line}" for line in more)]), size=15, weight=600, colour=colour)
    told = " ".join(f"{place}: somebody says, {case.said}; right is: {' '.join(case.right.split())}." for place, case in enumerate(cases, 1))
    return sheet.figure(f"{len(cases)} wrong verdicts, each with an axis of force. {told}", caption)
