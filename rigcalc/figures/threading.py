"""Before the first stroke: the cable's end, cut well and badly, and the legs in the sleeve, seen as if it were glass."""

from __future__ import annotations

from rigcalc.figures.drawing import DEEP, GREEN, INK, PAPER, QUIET, RUST, STEEL, Drawing, Figure, number
from rigcalc.figures.eyes import OPEN_HEIGHT, draw_end, draw_loop, draw_rope, draw_thimble

__all__ = ["cable_ends", "threaded"]

TAPE = "#e9dfb8"


def cable_ends() -> Figure:
    """Four ends: the cut through the tape at the mark, a good end, a splayed one, one with its tape still on.

    Source: common practice (tape); TM 5-3810-305-10, p 4-34 (both sides of a cut are bound).

    >>> "splayed" in cable_ends().alt
    True
    """
    sheet, d = Drawing(690, 330), 34.0
    for place, (title, words, draw) in enumerate((
            ("Cut at the mark", "one turn of tape, the cut\ngoes through its middle", _taped), ("✓ Good end", "square, round, no hooked\nwire, tape off", _good),
            ("✗ Splayed end", "strands stand out: it will\nnot go in. Cut again.", _splayed), ("✗ Tape left on", "it ends up in the sleeve,\nand that is a reject", _left_on))):
        left, top = 345 * (place % 2), 165 * (place // 2)
        colour = GREEN if title[0] == "✓" else RUST if title[0] == "✗" else DEEP
        sheet.text(left + 12, top + 24, title, size=17, weight=700, colour=colour)
        draw(sheet, left + 16, top + 66, d)
        sheet.text(left + 12, top + 120, words)
    return sheet.figure("Four cable ends. First: one turn of tape at the mark, cut through its middle. Second, good: square and round, the tape off. "
                        "Third, bad: splayed strands. Fourth, bad: the tape still on as the sleeve is slid on.")


def _tape(sheet: Drawing, x: float, wide: float, y: float, d: float) -> None:
    sheet.rect(x, y - d / 2 - 4, wide, d + 8, corner=3, fill=TAPE, width=2)


def _taped(sheet: Drawing, x: float, y: float, d: float) -> None:
    draw_rope(sheet, f"M{number(x)} {number(y)}H{number(x + 300)}", d)
    _tape(sheet, x + 118, 64, y, d)
    sheet.line(x + 150, y - 38, x + 150, y + 36, stroke=RUST, width=4, dash="9 6")
    sheet.text(x + 160, y - 30, "cut", weight=700, colour=RUST, halo=True)


def _good(sheet: Drawing, x: float, y: float, d: float) -> None:
    draw_rope(sheet, f"M{number(x)} {number(y)}H{number(x + 190)}", d)
    draw_end(sheet, x + 190, y, d)


def _splayed(sheet: Drawing, x: float, y: float, d: float) -> None:
    for out in (-1.0, -0.45, 0.0, 0.5, 1.05):
        path = f"M{number(x + 140)} {number(y + out * d * 0.3)}q34 {number(out * 3)} 62 {number(out * d * 0.62)}"
        for colour, width in ((INK, 9.5), (STEEL, 6)):
            sheet.path(path, stroke=colour, width=width)
    draw_rope(sheet, f"M{number(x)} {number(y)}H{number(x + 150)}", d)


def _left_on(sheet: Drawing, x: float, y: float, d: float) -> None:
    draw_rope(sheet, f"M{number(x)} {number(y)}H{number(x + 190)}", d)
    _tape(sheet, x + 132, 58, y, d)
    draw_end(sheet, x + 190, y, d)
    _glass(sheet, x + 165, x + 310, y, 2 * d)


def _glass(sheet: Drawing, left: float, right: float, y: float, high: float) -> None:
    """A sleeve's outline over what lies in it."""
    sheet.rect(left, y - high / 2, right - left, high, corner=6, fill="none", stroke=DEEP, width=4)


def threaded() -> Figure:
    """The eye before pressing with its sleeve as if of glass: right, legs crossed, and the sleeve too far from the thimble.

    Source: common practice.

    >>> "crossed" in threaded().alt
    True
    """
    sheet, d, rows = Drawing(690, 510), 19.0, (
        ("✓ Side by side", "each leg in its own\nlobe, thimble's points\nup to the sleeve", False, 12.0),
        ("✗ Crossed", "one leg lies over\nthe other: draw it\nout and thread again", True, 12.0),
        ("✗ Too far away", "a gap before the\nsleeve: loop not snug,\nthe thimble rattles", False, 62.0))
    for place, (title, words, crossed, gap) in enumerate(rows):
        y = 90 + 170 * place
        good = title[0] == "✓"
        sheet.text(12, y - 30, title, size=17, weight=700, colour=GREEN if good else RUST)
        sheet.text(12, y - 6, words)
        _eye(sheet, 222, y, d, crossed, gap)
    return sheet.figure("Three eyes before pressing, the sleeve drawn as if of glass. Right: both legs side by side, each in its own lobe, the "
                        "thimble's points up to the sleeve. Wrong: the legs crossed inside. Wrong: a gap between the thimble and the sleeve.",
                        "Look in at both ends of the sleeve: two round holes, a leg in each.")


def _eye(sheet: Drawing, left: float, y: float, d: float, crossed: bool, gap: float) -> None:
    mouth, apart, n = left + 128.0 + gap, 0.62 * d, number
    end = mouth + 130
    draw_loop(sheet, left, mouth, y, d, 42, apart, thimble=gap < 20)
    if gap > 20:  # the thimble's points stay behind
        draw_thimble(sheet, left + 31, mouth - gap - 12, y, 26, 3)
        sheet.measure(mouth - gap + 2, mouth - 4, y + 52, "gap", colour=RUST, above=False, drop=-26)
    sheet.rect(mouth, y - OPEN_HEIGHT * d / 2, end - mouth, OPEN_HEIGHT * d, corner=6, fill=PAPER, stroke="none", width=0)
    across = f"C{n(mouth + 50)} {{0}} {n(end - 50)} {{1}} {n(end)} {{1}}"
    for side in (1, -1):
        start, stop = y + side * apart, y - side * apart if crossed else y + side * apart
        path = f"M{n(mouth)} {n(start)}" + across.format(n(start), n(stop))
        far = 675 if (side == -1) != crossed else end + 2.3 * d
        draw_rope(sheet, path + f"H{n(far)}", d)
        if far != 675:
            draw_end(sheet, far, stop, d)
    _glass(sheet, mouth, end, y, OPEN_HEIGHT * d)
    sheet.text((mouth + end) / 2, y - OPEN_HEIGHT * d / 2 - 8, "sleeve", anchor="middle", size=15, colour=QUIET)
