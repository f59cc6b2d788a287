"""How cold and how warm: a bar a part on one scale of degrees, and the place where the piece is to hang."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from rigcalc.figures.drawing import DEEP, GREEN, INK, PAPER, QUIET, STEEL, Drawing, Figure

__all__ = ["Stretch", "warmth"]

COLDEST, WARMEST = -60.0, 220.0


LEFT, RIGHT, TALL = 262, 676, 66  # px: the scale's ends beside the names, a row


@dataclass(frozen=True)
class Stretch:
    """A part or a place: its name, coldest and warmest in degrees Celsius (None: no figure), whether it binds, whether it is the place."""

    name: str
    low_c: float | None
    high_c: float | None
    binds: bool = False
    place: bool = False


def warmth(rows: Sequence[Stretch], low_c: float, high_c: float, caption: str = "") -> Figure:
    """A bar a row, its name beside it; the range that the whole piece stands is the band between the two lines.

    What is not known is a dashed bar with a question mark: an end without a figure promises nothing.
    """
    sheet = Drawing(700, TALL * len(rows) + 84)

    def at(degrees: float) -> float:
        return LEFT + (RIGHT - LEFT) * (min(WARMEST, max(COLDEST, degrees)) - COLDEST) / (WARMEST - COLDEST)

    foot = TALL * len(rows) + 34
    sheet.rect(at(low_c), 8, at(high_c) - at(low_c), foot - 8, fill="#e7f1ea", stroke=PAPER, width=0)
    for degrees, words in ((low_c, f"{low_c:g} °C"), (high_c, f"+{high_c:g} °C")):
        sheet.line(at(degrees), 10, at(degrees), foot, stroke=GREEN, width=3, dash="9 5")
        sheet.text(at(degrees), foot + 24, words, size=17, anchor="middle", weight=700, colour=GREEN)
    told = []
    for row, one in enumerate(rows):
        y, figures = TALL * row + 22, _words(one)
        sheet.text(14, y, "\n".join([*textwrap.wrap(one.name, 30)[:2], figures]), size=15, weight=700 if one.binds or one.place else 400)
        _bar(sheet, one, at, y + 4)
        told.append(f"{one.name}: {figures}")
    sheet.line(LEFT, foot, RIGHT, foot, width=2)
    sheet.text(RIGHT, foot + 24, "warmer →", size=15, anchor="end", colour=QUIET)
    return sheet.figure(f"Temperatures in degrees Celsius, a bar a row. The whole piece stands {low_c:g} to {high_c:g}. {'; '.join(told)}.", caption)


def _bar(sheet: Drawing, one: Stretch, at: Callable[[float], float], y: float) -> None:
    left, right = at(COLDEST if one.low_c is None else one.low_c), at(WARMEST if one.high_c is None else one.high_c)
    if one.low_c is not None and one.high_c is not None:
        sheet.rect(left, y, right - left, 18, fill="coat" if one.place else STEEL if one.binds else PAPER, stroke=DEEP if one.place else INK if one.binds else QUIET, width=3 if one.binds else 1.8)
        return
    for edge in (y, y + 18):
        sheet.line(left, edge, right, edge, stroke=QUIET, width=2, dash="5 5")
    for known, x in ((one.low_c, left), (one.high_c, right)):
        if known is None:
            sheet.text(x + (12 if x == left else -12), y + 15, "?", size=18, anchor="middle", weight=700, colour=QUIET, halo=True)
        else:
            sheet.line(x, y - 2, x, y + 20, stroke=INK, width=4)


def _words(one: Stretch) -> str:
    if one.low_c is None and one.high_c is None:
        return "no figure: ask its maker"
    if one.low_c is None:
        return f"to +{one.high_c:g} °C"
    return f"{one.low_c:g} °C and up" if one.high_c is None else f"{one.low_c:g} to +{one.high_c:g} °C"
