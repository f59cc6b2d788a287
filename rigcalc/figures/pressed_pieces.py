"""A finished eye as it lies on the bench: from the side, and a look into the sleeve's mouth; what is drawn is said with its measures, not judged."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from rigcalc.figures.crimped_sleeve import draw_crimped
from rigcalc.figures.drawing import COAT, DEEP, INK, PAPER, QUIET, STEEL, Drawing, Figure, millimetres, number
from rigcalc.figures.eyes import BETWEEN_HEIGHT, CLOSED_HEIGHT, draw_end, draw_loop, draw_rope, draw_thimble

__all__ = ["FAT", "MARKS", "THIN", "Looks", "draw_piece", "pressed_piece", "tray"]

MOUTH, Y, D, ROOM, LIVE = 196, 118, 26, 172, 464  # where the sleeve begins, its axis, the cable's thickness, room for the sleeve, where the live cable is cut off: px
FAT, THIN = 2.95, 2.1  # height of a crimp not closed, and of one closed too far, in cable diameters: a sketch
COPPER, TAPE, LAY = "#9a5325", "#e9dfb8", "#60737f"  # the last: the marks of the lay as `draw_rope` draws them
# What is to be seen of each mark. No verdict: a scratch and a crack are told apart by what they look like.
MARKS = {
    "crack": "a thin jagged line runs across the middle band, open at one end", "scratch": "a short straight bright scratch on the middle band, shallow and closed at both ends",
    "smear": "a dark smear of grease on the outside of the sleeve", "pen": "a pen line across both legs at the sleeve's edge", "dent": "a small round dent in the thimble's side",
    "flat": "a thin rim of metal stands out above and below, along the whole sleeve", "fins": "a thin fin stands out above and below at each band",
    "copper": "a scratch at the sleeve's end shows red-brown metal under the silver", "coat": "a blue coat runs over both legs into the sleeve",
    "crossed": "the two legs lie over each other at the sleeve's mouth, one in front of the other", "caught": "one wire sticks out at the mouth beside the thimble and is bent back",
    "loose": "the thimble fills a part of the loop; daylight all round it", "twisted": "the eye is seen on its edge, while the sleeve is seen on its broad side",
    "birdcage": "the strands stand apart and bulge out where the cable leaves the sleeve", "nicks": "three cuts run across the outer wires close to the sleeve",
    "tape": "the edge of a strip of tape looks out of the sleeve's mouth", "used": "paler bands lie between the bands and beside them, and a chisel line runs along the sleeve",
    "small": "white gaps show round both legs in the mouth",
}
Pick = Callable[[str, str, str], str]


@dataclass(frozen=True)
class Looks:
    """A finished eye in mm: sleeve, crimps from edge to edge, tail that stands out (0 or less: none), cable over its crowns; bend in px.

    `fat`: the places of crimps that are higher than a closed one; `thin`: whether all are lower; `marks`: names of `MARKS`.
    """

    length_mm: float
    crimps: tuple[tuple[float, float], ...]
    tail_mm: float
    cable_mm: float
    sleeve_cable_mm: float
    bend: float = 0.0
    fat: tuple[int, ...] = ()
    thin: bool = False
    marks: frozenset[str] = frozenset()

    def said(self) -> str:
        """What is to be seen, with measures, in the same order for every piece."""
        bands = "; ".join(f"{a:.1f} to {b:.1f}" for a, b in self.crimps)
        highs = ", ".join(f"{FAT if i in self.fat else THIN if self.thin else CLOSED_HEIGHT:g}" for i in range(len(self.crimps)))
        tail = f"the cut end stands out {millimetres(self.tail_mm, 1)}" if self.tail_mm > 0 else "no cut end to be seen"
        line = "its axis bows out of line" if self.bend else "its axis is straight"
        seen = "".join(f" {MARKS[one][0].upper()}{MARKS[one][1:]}." for one in sorted(self.marks))
        return (f"Sleeve {millimetres(self.length_mm, 1)} long, {line}. {len(self.crimps)} bands, at {bands} mm from the thimble's side, {highs} cable diameters high. "
                f"Beyond the sleeve {tail}. Cable over its crowns {millimetres(self.cable_mm, 2)}.{seen}")


def _coat(sheet: Drawing, began: int) -> None:
    """Give the cables drawn since then a coat: one colour, no marks of a lay."""
    sheet.parts[began:] = [part.replace(STEEL, COAT).replace(LAY, COAT) for part in sheet.parts[began:]]


def _loop(sheet: Drawing, looks: Looks, d: float, apart: float) -> None:
    if "twisted" in looks.marks:
        draw_rope(sheet, f"M56 {Y - 5}H{MOUTH}", d)
        draw_rope(sheet, f"M56 {Y + 5}H{MOUTH}", d)
        sheet.rect(48, Y - 9, 100, 18, corner=9, fill="#d5dadd", width=2.5)
        return
    loose = "loose" in looks.marks
    draw_loop(sheet, 40, MOUTH, Y, d, 56, apart, thimble=not loose)
    if loose:
        draw_thimble(sheet, 92, MOUTH - 44, Y + 3, 25, 4)
    if "crossed" in looks.marks:
        draw_rope(sheet, f"M{MOUTH - 44} {Y - 24}L{MOUTH + 2} {number(Y + apart)}", d)
        draw_rope(sheet, f"M{MOUTH - 44} {Y + 24}L{MOUTH + 2} {number(Y - apart)}", d)
    if "dent" in looks.marks:
        sheet.circle(62, Y + 30, 5, fill="#8d979e", width=1.5)


def draw_piece(sheet: Drawing, looks: Looks) -> None:
    """The piece from its side on the left 464 px of a sheet 240 px high."""
    scale, coated, began = ROOM / looks.length_mm, "coat" in looks.marks, len(sheet.parts)
    d = D * 1.15 if coated else D * looks.cable_mm / looks.sleeve_cable_mm
    apart, end = 0.47 * D, MOUTH + looks.length_mm * scale
    tail = end + (looks.tail_mm * scale if looks.tail_mm > 0 else -10)
    draw_rope(sheet, f"M{MOUTH} {number(Y - apart)}H{LIVE}", d)
    draw_rope(sheet, f"M{MOUTH} {number(Y + apart)}H{number(tail)}", d)
    draw_end(sheet, tail, Y + apart, d)
    _loop(sheet, looks, d, apart)
    if coated:
        _coat(sheet, began)
    tall = [one for i, one in enumerate(looks.crimps) if i in looks.fat]
    if len(tall) == len(looks.crimps):
        sheet.rect(MOUTH, Y - BETWEEN_HEIGHT * D / 2, end - MOUTH, BETWEEN_HEIGHT * D, corner=5, fill="sleeve", width=3)
    else:
        draw_crimped(sheet, MOUTH, Y, scale, looks.length_mm, [one for one in looks.crimps if one not in tall], D * (THIN / CLOSED_HEIGHT if looks.thin else 1), looks.bend)
    for a, b in tall:
        sheet.rect(MOUTH + a * scale, Y - FAT * D / 2, (b - a) * scale, FAT * D, fill="crimp", width=1.8)
    for one in sorted(looks.marks):
        _mark(sheet, one, looks, scale, end)


def _mark(sheet: Drawing, name: str, looks: Looks, scale: float, end: float) -> None:
    low, high = (THIN if looks.thin else CLOSED_HEIGHT) * D / 2, BETWEEN_HEIGHT * D / 2
    middle = MOUTH + sum(looks.crimps[len(looks.crimps) // 2]) / 2 * scale
    if name == "crack":
        sheet.path(f"M{number(middle - 12)} {number(Y - low)}l7 12l-6 9l9 11l-5 9l7 8", width=2.6)
    elif name == "scratch":
        sheet.line(middle - 8, Y - 12, middle + 10, Y + 3, stroke=PAPER, width=4)
        sheet.line(middle - 8, Y - 10, middle + 10, Y + 5, stroke=QUIET, width=1.3)
    elif name == "smear":
        sheet.ellipse(middle + 30, Y + 8, 22, 11, 20, fill="#3b3630", stroke="none")
    elif name == "pen":
        sheet.line(end + 5, Y - 27, end + 5, Y + 27, stroke=DEEP, width=3.5)
    elif name == "flat":
        for side in (-1, 1):
            edge = Y + side * (high - 3)
            sheet.shape([(MOUTH + 5, edge), (end - 5, edge), (end - 12, edge + side * 11), (MOUTH + 84, edge + side * 7), (MOUTH + 12, edge + side * 12)], fill="crimp", width=2.2)
    elif name == "fins":
        for a, b in looks.crimps:
            for side in (-1, 1):
                edge = Y + side * (low - 2)
                sheet.shape([(MOUTH + a * scale + 4, edge), (MOUTH + b * scale - 4, edge), (MOUTH + (a + b) / 2 * scale, edge + side * 15)], fill="crimp", width=2.2)
    elif name == "copper":
        sheet.line(end - 11, Y - 20, end - 3, Y + 12, stroke=COPPER, width=6)
    elif name == "caught":
        sheet.path(f"M{MOUTH + 2} {Y - 26}q-16 -10 -26 -26q-3 -8 6 -7", width=3)
    elif name == "birdcage":
        for bulge in (-26, -15, 13, 24):
            sheet.path(f"M{number(end)} {number(Y - 12)}q30 {bulge} 62 0", stroke=INK, width=6)
            sheet.path(f"M{number(end)} {number(Y - 12)}q30 {bulge} 62 0", stroke=STEEL, width=3)
    elif name == "nicks":
        for step in (26, 40, 54):
            sheet.line(end + step, Y - 0.47 * D - D / 2, end + step + 4, Y - 0.47 * D + 2, stroke=PAPER, width=4.5)
            sheet.line(end + step + 2, Y - 0.47 * D - D / 2, end + step + 6, Y - 0.47 * D + 2, width=2)
    elif name == "tape":
        sheet.rect(MOUTH - 15, Y - 0.47 * D - D / 2 - 1, 17, D + 2, fill=TAPE, width=2)
    elif name == "used":
        sheet.path(f"M{MOUTH + 6} {Y + 4}l{number(end - MOUTH - 14)} -3", stroke=INK, width=2.4)
        for (_, a), (b, _) in zip(looks.crimps, looks.crimps[1:], strict=False):
            sheet.rect(MOUTH + a * scale - 9, Y - low - 4, (b - a) * scale + 5, 2 * low + 8, fill=PAPER, width=1.2, opacity=0.75)


def _mouth(sheet: Drawing, looks: Looks, x: float, y: float) -> None:
    """A look into the mouth beside the thimble, twice as large."""
    wide, tall, leg = 34.0, 64.0, 25.0
    if "flat" in looks.marks:
        wide, tall = 64.0, 36.0
    sheet.ellipse(x, y, wide, tall, fill="sleeve", width=3)
    spots = [(x - 26, y), (x + 26, y)] if "flat" in looks.marks else [(x, y - 27), (x, y + 27)]
    if "crossed" in looks.marks:
        spots = [(x - 7, y - 20), (x + 8, y + 13)]
    for px, py in spots:
        sheet.circle(px, py, leg, fill=PAPER, width=2)
    for px, py in spots:
        _leg(sheet, looks, px, py, leg)
    if "tape" in looks.marks:
        sheet.path(f"M{spots[0][0] - 22} {spots[0][1] - 10}a24 24 0 0 1 44 0", stroke=INK, width=8)
        sheet.path(f"M{spots[0][0] - 22} {spots[0][1] - 10}a24 24 0 0 1 44 0", stroke=TAPE, width=5)


def _leg(sheet: Drawing, looks: Looks, x: float, y: float, leg: float) -> None:
    r = (leg - 2) * min(1.0, looks.cable_mm / looks.sleeve_cable_mm)
    if "coat" in looks.marks:
        sheet.circle(x, y, leg - 2, fill="coat", width=2)
        r = 13
    for px, py in ((0, 0), *((0.64 * r * c, 0.64 * r * s) for c, s in ((1, 0), (0.5, 0.87), (-0.5, 0.87), (-1, 0), (-0.5, -0.87), (0.5, -0.87)))):
        sheet.circle(x + px, y + py, 0.34 * r, fill=STEEL, width=1.5)


def pressed_piece(looks: Looks, title: str, lines: tuple[str, ...] = (), caption: str = "") -> Figure:
    """One finished eye: side view, the mouth, and what stands on its card.

    Parameters
    ----------
    looks : Looks
        What is drawn.
    title : str
        Its name: "Piece 7".
    lines : tuple of str
        What stands on the card under it, short lines.

    >>> "3 bands" in pressed_piece(Looks(20, ((1, 5), (7, 12), (14, 18)), 3.0, 3.18, 3.18), "Piece 1").alt
    True
    """
    sheet = Drawing(690, 232 + 23 * len(lines))
    draw_piece(sheet, looks)
    sheet.text(12, 24, title, size=18, weight=700, colour=DEEP)
    _mouth(sheet, looks, 586, Y)
    sheet.text(586, 24, "into the sleeve's mouth", size=15, anchor="middle", weight=600, colour=QUIET)
    sheet.text(12, 218, "thimble side", size=15, colour=QUIET)
    sheet.text(464, 218, "live cable", size=15, anchor="end", colour=QUIET)
    for row, words in enumerate(lines):
        sheet.text(12, 246 + 23 * row, words, size=16, weight=600)
    card = f" On its card: {' '.join(lines)}" if lines else ""
    return sheet.figure(f"{title}: a pressed eye from its side, with a look into the sleeve's mouth. {looks.said()}{card}", caption)


def tray(words: tuple[str, ...], at: int, pick: Pick | None = None, wrong: frozenset[int] = frozenset()) -> Figure:
    """The numbered pieces of a tray, two rows of ten, each with the word said of it; `at`: which one lies on the bench; `wrong`: those whose word was wrong, once it is told.

    >>> "Piece 2: pass" in tray(("", "pass"), 0).alt
    True
    """
    sheet = Drawing(690, 12 + 62 * -(-len(words) // 10))
    for i, word in enumerate(words):
        x, y, began = 6 + 68 * (i % 10), 6 + 62 * (i // 10), len(sheet.parts)
        here = i == at
        sheet.rect(x, y, 62, 54, corner=7, fill="#e8f0f5" if here else PAPER, stroke=DEEP if here else "#8d979e", width=4 if here else 1.5)
        sheet.text(x + 31, y + 23, f"{i + 1} ✗" if i in wrong else str(i + 1), size=18, anchor="middle", weight=700, colour=DEEP)
        sheet.text(x + 31, y + 45, word or "–", size=15, anchor="middle", weight=600)
        if pick:
            drawn, sheet.parts[began:] = "".join(sheet.parts[began:]), []
            sheet.add(pick(drawn, str(i), f"piece {i + 1}"))
    listed = "; ".join(f"Piece {i}: {word or 'nothing said yet'}{', wrong' if i - 1 in wrong else ''}" for i, word in enumerate(words, 1))
    return sheet.figure(f"A tray of {len(words)} numbered pieces; number {at + 1} lies on the bench. {listed}.")
