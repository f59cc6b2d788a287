"""From breaking force to limit: a cable a row, as long as its force, that loses a piece at each step; and the last step under a glass."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rigcalc.figures.drawing import DEEP, GREEN, INK, PAPER, QUIET, RUST, Drawing, Figure
from rigcalc.figures.eyes import draw_rope

__all__ = ["Cut", "Glass", "limit_steps"]

LEFT, RIGHT, HIGH = 24.0, 676.0, 92.0


@dataclass(frozen=True)
class Cut:
    """One step: its name, what is left in N, what it took in N, both in words, and who says so."""

    name: str
    left_n: float
    lost_n: float
    left: str
    lost: str
    says: str


@dataclass(frozen=True)
class Glass:
    """The rounding under a glass: marks of the scale in words, and where the figure and what is stated stand (0 is the first mark, 1 the next)."""

    marks: tuple[str, ...]
    figure_at: float
    stated_at: float
    figure: str
    stated: str


def limit_steps(cuts: Sequence[Cut], reached: int, glass: Glass | None = None, caption: str = "") -> Figure:
    """A cable for each step, to one scale; the piece that a step takes is crossed.

    Parameters
    ----------
    cuts : sequence of Cut
        In their order.
    reached : int
        How many are shown; the next ones have their name alone.
    glass : Glass or None
        The rounding, shown once all cuts are.
    caption : str
        Under the drawing.
    """
    with_glass = glass is not None and reached > len(cuts)
    sheet = Drawing(700, HIGH * len(cuts) + (128 if glass is not None else 12))
    full = max(cut.left_n + cut.lost_n for cut in cuts)
    said = []
    for row, cut in enumerate(cuts):
        top = HIGH * row
        sheet.text(LEFT, top + 26, f"{row + 1}  {cut.name}", size=17, weight=700, colour=DEEP)
        if row >= reached:
            sheet.line(LEFT, top + 56, RIGHT, top + 56, stroke=QUIET, width=2, dash="4 8")
            sheet.text((LEFT + RIGHT) / 2, top + 62, "?", size=22, anchor="middle", weight=700, colour=QUIET, halo=True)
            said.append(f"{row + 1}: {cut.name}, not worked yet")
            continue
        end, was = (LEFT + (RIGHT - LEFT) * force / full for force in (cut.left_n, cut.left_n + cut.lost_n))
        if was - end > 1.5:
            sheet.rect(end, top + 44, was - end, 22, fill="void", stroke=RUST, width=2)
        draw_rope(sheet, f"M{LEFT} {top + 55}H{end:.1f}", 18)
        sheet.text(LEFT, top + 86, f"{cut.left} left", size=16, weight=700, colour=INK, halo=True)
        if cut.lost:
            sheet.text(RIGHT, top + 86, f"{cut.lost} gone", size=16, anchor="end", weight=700, colour=RUST, halo=True)
        sheet.text(RIGHT, top + 26, cut.says, size=15, anchor="end", colour=QUIET)
        said.append(f"{row + 1}: {cut.name}, {cut.says}: {cut.left} left" + (f", {cut.lost} gone" if cut.lost else ", nothing gone"))
    if glass is not None:
        said.append(_glass(sheet, HIGH * len(cuts), glass, with_glass, len(cuts) + 1))
    return sheet.figure(f"A cable a row, as long as its force; each step takes a piece. {'; '.join(said)}.", caption)


def _glass(sheet: Drawing, top: float, glass: Glass, shown: bool, number: int) -> str:
    name = "rounding, under a glass"
    sheet.text(LEFT, top + 26, f"{number}  {name}", size=17, weight=700, colour=DEEP)
    if not shown:
        sheet.text((LEFT + RIGHT) / 2, top + 78, "?", size=22, anchor="middle", weight=700, colour=QUIET)
        return f"{number}: {name}, not done yet"
    first, step = 80.0, 540.0 / (len(glass.marks) - 1)
    y = top + 84
    sheet.rect(LEFT, top + 38, RIGHT - LEFT, 82, corner=12, fill=PAPER, stroke=QUIET, width=2)
    sheet.line(first - 30, y, first + 540 + 30, y, width=2.5)
    for place, words in enumerate(glass.marks):
        sheet.line(first + step * place, y - 8, first + step * place, y + 8, width=2)
        sheet.text(first + step * place, y + 28, words, size=15, anchor="middle")
    at, to = (first + step * place for place in (glass.figure_at, glass.stated_at))
    if at - to > 12:
        sheet.arrow(at, y - 14, to, y - 14, colour=GREEN, width=3)
    sheet.circle(at, y, 6, fill=RUST, stroke=PAPER, width=1.5)
    sheet.text(at, y - 26, glass.figure, size=15, anchor="start" if at - to > 12 else "middle", weight=700, colour=RUST, halo=True)
    return f"{number}: {name}: {glass.figure} is stated as {glass.stated}, the mark below"
