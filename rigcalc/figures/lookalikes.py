"""Pieces that are mixed up with one another, side by side: the same view, dashes at the height of a closed crimp, a letter each and no verdict."""

from __future__ import annotations

from collections.abc import Sequence

from rigcalc.figures.drawing import DEEP, PAPER, QUIET, RUST, Drawing, Figure, number
from rigcalc.figures.eyes import CLOSED_HEIGHT
from rigcalc.figures.pressed_pieces import LIVE, MOUTH, ROOM, D, Looks, Y, draw_piece

__all__ = ["look_alikes"]

SCALE, WIDE, TALL = 0.71, 345, 164


def look_alikes(pieces: Sequence[Looks], caption: str = "") -> Figure:
    """Finished eyes two in a row, lettered from A.

    Parameters
    ----------
    pieces : sequence of Looks
        What is drawn, in the order of the letters.
    caption : str
        Plain text under the drawing.

    >>> " A: " in look_alikes([Looks(20, ((1, 5), (7, 12)), 3.0, 3.18, 3.18)]).alt
    True
    """
    sheet = Drawing(2 * WIDE, TALL * -(-len(pieces) // 2))
    for i, looks in enumerate(pieces):
        left, top = WIDE * (i % 2), TALL * (i // 2)
        one = Drawing(LIVE, 1)
        draw_piece(one, looks)
        for side in (-1, 1):
            one.line(MOUTH - 12, Y + side * CLOSED_HEIGHT * D / 2, MOUTH + ROOM + 12, Y + side * CLOSED_HEIGHT * D / 2, stroke=RUST, width=2, dash="7 6")
        sheet.rect(left + 3, top + 3, WIDE - 6, TALL - 8, corner=8, fill=PAPER, stroke=QUIET, width=1.4)
        sheet.add(f'<g transform="translate({number(left + 8)} {number(top + 8)}) scale({SCALE})">{"".join(one.parts)}</g>')
        sheet.text(left + 14, top + 26, chr(ord("A") + i), size=20, weight=700, colour=DEEP, halo=True)
    said = " ".join(f"{chr(ord('A') + i)}: {looks.said()}" for i, looks in enumerate(pieces))
    return sheet.figure(f"{len(pieces)} pressed eyes from their side, dashes at the height of a closed crimp. {said}", caption)
