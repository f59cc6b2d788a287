"""How cold and how warm: a bar a part on one scale of degrees, and the place where the piece is to hang."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rigcalc.figures.drawing import DEEP, GREEN, INK, PAPER, QUIET, STEEL, Drawing, Figure

__all__ = ["Stretch", "warmth"]

COLDEST, WARMEST = -60.0, 220.0


@dataclass(frozen=True)
class Stretch:
    """A part or a place: its name, coldest and warmest in degrees Celsius (None: no figure), whether it binds, whether it is the place."""

    name: str
    low_c: float | None
    high_c: float | None
    binds: bool = False
    place: bool = False


def warmth(rows: Sequence[Stretch], low_c: float, high_c: float, caption: str = "") -> Figure:
    """A bar a row; the range that the whole piece stands is the band between the two lines."""
    sheet = Drawing(700, 62 * len(rows) + 84)

    def at(degrees: float) -> float:
        return 30 + 640 * (min(WARMEST, max(COLDEST, degrees)) - COLDEST) / (WARMEST - COLDEST)

    foot = 62 * len(rows) + 34
    sheet.rect(at(low_c), 8, at(high_c) - at(low_c), foot - 8, fill="#e7f1ea", stroke=PAPER, width=0)
    for degrees, words in ((low_c, f"{low_c:g} °C"), (high_c, f"+{high_c:g} °C")):
        sheet.line(at(degrees), 10, at(degrees), foot, stroke=GREEN, width=3, dash="9 5")
        sheet.text(at(degrees), foot + 24, words, size=17, anchor="middle", weight=700, colour=GREEN)
    told = []
    for row, one in enumerate(rows):
        y = 62 * row + 36
        figures = _words(one)
        sheet.text(34, y, f"{one.name}: {figures}", size=15, weight=700 if one.binds or one.place else 400, halo=True)
        left, right = at(COLDEST if one.low_c is None else one.low_c), at(WARMEST if one.high_c is None else one.high_c)
        if one.low_c is not None or one.high_c is not None:
            sheet.rect(left, y + 10, right - left, 16, fill="coat" if one.place else STEEL if one.binds else PAPER, stroke=DEEP if one.place else INK if one.binds else QUIET, width=3 if one.binds else 1.8)
        told.append(f"{one.name}: {figures}")
    sheet.line(30, foot, 670, foot, width=2)
    sheet.text(670, foot + 24, "warmer →", size=15, anchor="end", colour=QUIET)
    return sheet.figure(f"Temperatures in degrees Celsius, a bar a row. The whole piece stands {low_c:g} to {high_c:g}. {'; '.join(told)}.", caption)


def _words(one: Stretch) -> str:
    if one.low_c is None and one.high_c is None:
        return "no figure: ask its maker"
    if one.low_c is None:
        return f"to +{one.high_c:g} °C"
    return f"{one.low_c:g} °C and up" if one.high_c is None else f"{one.low_c:g} to +{one.high_c:g} °C"
