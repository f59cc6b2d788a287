"""The right load and the one that a misstep would have let hang, side by side, to one scale."""

from __future__ import annotations

from rigcalc.figures.drawing import GREEN, INK, JAW, QUIET, RUST, Drawing, Figure
from rigcalc.figures.eyes import draw_rope

__all__ = ["hung_loads"]

FULL, TOP, WIDE = 250.0, 118.0, 124.0
RIGHT_AT, WRONG_AT = 190.0, 500.0


def hung_loads(right_n: float | None, right: str, wrong_n: float, wrong: str, cable: str, told: bool = True, caption: str = "") -> Figure:
    """Two loads under one beam, blocks of one width, as high as the load is great.

    Parameters
    ----------
    right_n, right : float or None, str
        What may hang, in N and in words; None where nothing may.
    wrong_n, wrong : float, str
        What the misstep lets hang.
    cable : str
        What both hang on, in words.
    told : bool
        Whether the loads are shown; else two question marks.
    caption : str
        Under the drawing.
    """
    sheet = Drawing(700, 440)
    sheet.rect(40, 34, 620, 20, fill=JAW, width=2)
    most = max(right_n or 0, wrong_n)
    for x, title, colour in ((RIGHT_AT, "right", GREEN), (WRONG_AT, "with the misstep", RUST)):
        draw_rope(sheet, f"M{x} 54V{TOP}", 8)
        sheet.text(x + 14, 84, title, size=17, weight=700, colour=colour)
    sheet.text(350, 24, cable, size=16, anchor="middle", weight=600)
    if not told:
        for x in (RIGHT_AT, WRONG_AT):
            sheet.rect(x - WIDE / 2, TOP, WIDE, 90, stroke=QUIET, width=2.5)
            sheet.text(x, TOP + 56, "?", size=30, anchor="middle", weight=700, colour=QUIET)
        return sheet.figure(f"Two loads under one beam on {cable}, the right one and the one that the misstep lets hang: not shown yet.", caption)
    _block(sheet, WRONG_AT, FULL * wrong_n / most, wrong, "void", RUST)
    if right_n is None:
        sheet.circle(RIGHT_AT, TOP + 12, 12, stroke=INK, width=5)
        sheet.text(RIGHT_AT, TOP + 56, "nothing hangs:\nrefused", size=17, anchor="middle", weight=700, colour=GREEN)
    else:
        _block(sheet, RIGHT_AT, FULL * right_n / most, right, "crimp", GREEN)
        level = TOP + FULL * right_n / most
        sheet.line(RIGHT_AT + WIDE / 2, level, WRONG_AT + WIDE / 2 + 16, level, stroke=GREEN, width=2.5, dash="8 6")
    return sheet.figure(f"Two loads under one beam, as high as they are heavy, on {cable}. Right: {right}. With the misstep: {wrong}.", caption)


def _block(sheet: Drawing, x: float, high: float, words: str, fill: str, colour: str) -> None:
    sheet.rect(x - WIDE / 2, TOP, WIDE, high, fill=fill, stroke=colour, width=3.5)
    sheet.text(x, TOP + high + 26, words, size=18, anchor="middle", weight=700, colour=colour, halo=True)
