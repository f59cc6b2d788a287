"""A finished eye as it lies on the bench: from the side, and a look into the sleeve's mouth; what is drawn is said with its measures, not judged."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from rigcalc.figures.crimped_sleeve import draw_crimped
from rigcalc.figures.drawing import COAT, DEEP, GREEN, INK, PAPER, QUIET, STEEL, Drawing, Figure, millimetres, number
from rigcalc.figures.eyes import BETWEEN_HEIGHT, CLOSED_HEIGHT, draw_end, draw_loop, draw_rope, draw_thimble

__all__ = ["FAT", "MARKS", "THIN", "Looks", "draw_piece", "pressed_piece", "tray"]

MOUTH, Y, D, ROOM, LIVE = 196, 118, 26, 172, 464  # where the sleeve begins, its axis, the cable's thickness, room for the sleeve, where the live cable is cut off: px
FAT, THIN = 2.95, 2.1  # height of a crimp not closed, and of one closed too far, in cable diameters: a sketch
COPPER, TAPE, LAY = "#9a5325", "#e9dfb8", "#60737f"  # the last: the marks of the lay as `draw_rope` draws them
# What is to be seen of each mark. No verdict: a scratch and a crack are told apart by what they look like.
MARKS = {
    "crack": "a thin jagged line runs across band {band}, open at its {edge} edge", "scratch": "a short straight bright scratch on band {mark}, shallow and closed at both ends",
    "smear": "a dark smear of grease lies over band {mark}; what is under it is not seen", "pen": "a pen line across both legs at the sleeve's edge",
    "rubbed": "two fine bright lines run round band {mark}", "paint": "a line of paint runs from the sleeve onto the live cable, in one piece",
    "dent": "a small round dent in the thimble's side",
    "flat": "a thin rim of metal stands out above and below, along the whole sleeve", "fins": "a thin fin stands out above and below at {bands}",
    "copper": "a scratch at the sleeve's {end} end shows red-brown metal under the silver", "rust": "a red-brown powder lies at the sleeve's mouth and on the wires there",
    "coat": "a blue coat runs over both legs into the sleeve",
    "crossed": "the two legs lie over each other at the sleeve's mouth, one in front of the other", "caught": "one wire sticks out at the mouth beside the thimble and is bent back",
    "loose": "the thimble fills a part of the loop; daylight all round it", "twisted": "the eye is seen on its edge, while the sleeve is seen on its broad side",
    "birdcage": "the strands stand apart and bulge out where the cable leaves the sleeve", "nicks": "{cuts} cuts run across the outer wires close to the sleeve",
    "tape": "the edge of a strip of tape looks out of the sleeve's mouth", "used": "paler bands lie between the bands and beside them, and a chisel line runs along the sleeve",
    "small": "white gaps show round both legs in the mouth",
}
Pick = Callable[[str, str, str], str]


@dataclass(frozen=True)
class Looks:
    """A finished eye in mm: sleeve, crimps from edge to edge, tail that stands out (0 or less: none), cable over its crowns; bend in px.

    `fat`: the places of crimps that are higher than a closed one; `thin`: whether all are lower; `marks`: names of `MARKS`.
    `spot`, `mark_spot`: the crimps (from 0) that bear a fault and an innocent mark, -1 for the middle one; `spots`: those with
    fins, () for all; `amount`: how large what is drawn is, 1 as a rule; `turned`: on the other side or end.
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
    spot: int = -1
    mark_spot: int = -1
    spots: tuple[int, ...] = ()
    amount: float = 1.0
    turned: bool = False

    @property
    def fat_height(self) -> float:
        """Height of a crimp not closed, in cable diameters."""
        return FAT + 0.8 * (self.amount - 1)

    @property
    def cuts(self) -> int:
        """How many cuts a nicked cable shows."""
        return 2 if self.amount < 1 else 4 if self.amount > 1 else 3

    def band(self, spot: int) -> int:
        """The number, from 0, of the crimp at that spot; -1 is the middle one."""
        return len(self.crimps) // 2 if spot < 0 else spot % len(self.crimps)

    def _sides(self) -> str:
        """Fins and cracks that the drawing of the crimps itself shows: crimps that share metal, one that runs over an end."""
        shared = [f"{i} and {i + 1}" for i, ((_, end), (start, _)) in enumerate(zip(sorted(self.crimps), sorted(self.crimps)[1:], strict=False), 1) if end - start > 1e-6]
        over = [end for end, is_over in (("thimble", any(a < -1e-6 for a, _ in self.crimps)), ("live", any(b > self.length_mm + 1e-6 for _, b in self.crimps))) if is_over]
        return ("".join(f" Bands {pair} share a strip of metal, and a fin stands out above and below there." for pair in shared)
                + "".join(f" At its {end} end a band runs out over the sleeve, and that end shows short jagged lines." for end in over))

    def said(self) -> str:
        """What is to be seen, with measures, in the same order for every piece."""
        bands = "; ".join(f"{a:.1f} to {b:.1f}" for a, b in self.crimps)
        highs = ", ".join(f"{round(self.fat_height, 2) if i in self.fat else THIN if self.thin else CLOSED_HEIGHT:g}" for i in range(len(self.crimps)))
        tail = f"the cut end stands out {millimetres(self.tail_mm, 1)}" if self.tail_mm > 0 else "no cut end to be seen"
        line = "its axis bows out of line" if self.bend else "its axis is straight"
        bands_with = "each band" if not self.spots else "band " + " and ".join(str(i + 1) for i in self.spots)
        told = {"band": self.band(self.spot) + 1, "mark": self.band(self.mark_spot) + 1, "bands": bands_with, "edge": "lower" if self.turned else "upper",
                "end": "thimble" if self.turned else "live", "cuts": ("two", "three", "four")[self.cuts - 2]}
        marks = (MARKS[one].format(**told) for one in sorted(self.marks))
        seen = self._sides() + "".join(f" {one[0].upper()}{one[1:]}." for one in marks)
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
        draw_thimble(sheet, 92, MOUTH - 44, Y + (-4 if looks.turned else 3), 25 * min(looks.amount, 1.05), 4)
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
        sheet.rect(MOUTH + a * scale, Y - looks.fat_height * D / 2, (b - a) * scale, looks.fat_height * D, fill="crimp", width=1.8)
    for one in sorted(looks.marks, key=lambda one: (one == "smear", one)):  # grease lies over all else
        _mark(sheet, one, looks, scale, end)


def _mark(sheet: Drawing, name: str, looks: Looks, scale: float, end: float) -> None:
    low, high = (THIN if looks.thin else CLOSED_HEIGHT) * D / 2, BETWEEN_HEIGHT * D / 2
    way, much = -1 if looks.turned else 1, looks.amount
    middle, marked = (MOUTH + sum(looks.crimps[looks.band(spot)]) / 2 * scale for spot in (looks.spot, looks.mark_spot))
    if name == "crack":
        steps = (-10 * way, -low * way), (-3, -low * way + 12 * way), (-9, -low * way + 21 * way), (0, -low * way + 32 * way), (-5, -low * way + 41 * way * much)
        sheet.path("M" + "L".join(f"{number(middle + x)} {number(Y + y)}" for x, y in steps), width=2.6)
    elif name == "scratch":
        sheet.line(marked - 9 * much, Y - 12 * way, marked + 10 * much, Y + 3 * way, stroke=PAPER, width=4)
        sheet.line(marked - 9 * much, Y - 10 * way, marked + 10 * much, Y + 5 * way, stroke=QUIET, width=1.3)
    elif name == "smear":
        for x, y, wide, tall in ((0, 0, 22, 33), (-15, 9, 14, 15), (14, -10, 15, 13), (20, 17, 11, 7), (-22, -13, 9, 6)):
            sheet.ellipse(marked + x * much, Y + y * way, wide * much, tall, 12 * way, fill="#3b3630", stroke="none")
    elif name == "rubbed":
        for x in (-7, 7):
            sheet.line(marked + x, Y - low + 2, marked + x, Y + low - 2, stroke=PAPER, width=3)
            sheet.line(marked + x + 2, Y - low + 2, marked + x + 2, Y + low - 2, stroke=QUIET, width=1)
    elif name == "paint":
        sheet.line(end - 16, Y - 0.47 * D, end + 22, Y - 0.47 * D, stroke=GREEN, width=6)
    elif name == "rust":
        for x, y, r in ((2, -15, 8), (10, -8, 6), (15, -19, 5), (4, -3, 6), (22, -11, 4), (-4, -10, 6)):
            sheet.circle(end + x, Y + y, r * much, fill=COPPER, stroke="none")
    elif name == "pen":
        sheet.line(end + 5 * much, Y - 27, end + 5 * much, Y + 27, stroke=DEEP, width=3.5)
    elif name == "flat":
        for side in (-1, 1):
            edge = Y + side * (high - 3)
            sheet.shape([(MOUTH + 5, edge), (end - 5, edge), (end - 12, edge + side * 11), (MOUTH + 84, edge + side * 7), (MOUTH + 12, edge + side * 12)], fill="crimp", width=2.2)
    elif name == "fins":
        for a, b in (looks.crimps[i] for i in looks.spots or range(len(looks.crimps))):
            for side in (-1, 1):
                edge = Y + side * (low - 2)
                sheet.shape([(MOUTH + a * scale + 4, edge), (MOUTH + b * scale - 4, edge), (MOUTH + (a + b) / 2 * scale, edge + side * (9 if looks.thin else 15) * much)], fill="crimp", width=2.2)
    elif name == "copper":
        x = MOUTH + 11 if looks.turned else end - 8
        sheet.line(x - 4, Y - 25 * much, x + 5, Y + 19 * much, stroke=COPPER, width=9)
    elif name == "caught":
        sheet.path(f"M{MOUTH + 2} {Y - 26 * way}q-16 {-10 * way} -26 {-26 * way}q-3 {-8 * way} 6 {-7 * way}", width=3)
    elif name == "birdcage":
        for bulge in (number(one * much) for one in (-26, -15, 13, 24)):
            sheet.path(f"M{number(end)} {number(Y - 12)}q30 {bulge} 62 0", stroke=INK, width=6)
            sheet.path(f"M{number(end)} {number(Y - 12)}q30 {bulge} 62 0", stroke=STEEL, width=3)
    elif name == "nicks":
        for step in (26 + 14 * i + (20 if looks.turned else 0) for i in range(looks.cuts)):
            sheet.line(end + step, Y - 0.47 * D - D / 2, end + step + 4, Y - 0.47 * D + 2, stroke=PAPER, width=4.5)
            sheet.line(end + step + 2, Y - 0.47 * D - D / 2, end + step + 6, Y - 0.47 * D + 2, width=2)
    elif name == "tape":
        sheet.rect(MOUTH - 15, Y - 0.47 * D * way - D / 2 - 1, 17, D + 2, fill=TAPE, width=2)
    elif name == "used":
        sheet.path(f"M{MOUTH + 6} {number(Y + 4 * way * much)}l{number(end - MOUTH - 14)} {-3 * way}", stroke=INK, width=2.4)
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
        spots = spots[::-1] if looks.turned else spots
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


def tray(words: tuple[str, ...], at: int, pick: Pick | None = None, wrong: frozenset[int] = frozenset(), unlooked: frozenset[int] = frozenset()) -> Figure:
    """The numbered pieces of a tray, two rows of ten, each with the word said of it; `at`: which one lies on the bench.

    Once it is told, `wrong`: those whose word was wrong; `unlooked`: those that were passed and not looked at as they must be.

    >>> "Piece 2: pass" in tray(("", "pass"), 0).alt
    True
    """
    sheet = Drawing(690, 12 + 62 * -(-len(words) // 10))
    for i, word in enumerate(words):
        x, y, began = 6 + 68 * (i % 10), 6 + 62 * (i // 10), len(sheet.parts)
        here = i == at
        sheet.rect(x, y, 62, 54, corner=7, fill="#e8f0f5" if here else PAPER, stroke=DEEP if here else "#8d979e", width=4 if here else 1.5)
        sheet.text(x + 31, y + 23, f"{i + 1} ✗" if i in wrong else f"{i + 1} ?" if i in unlooked else str(i + 1), size=18, anchor="middle", weight=700, colour=DEEP)
        sheet.text(x + 31, y + 45, word or "–", size=15, anchor="middle", weight=600)
        if pick:
            drawn, sheet.parts[began:] = "".join(sheet.parts[began:]), []
            sheet.add(pick(drawn, str(i), f"piece {i + 1}"))
    listed = "; ".join(f"Piece {i}: {word or 'nothing said yet'}{', wrong' if i - 1 in wrong else ', not looked at' if i - 1 in unlooked else ''}" for i, word in enumerate(words, 1))
    return sheet.figure(f"A tray of {len(words)} numbered pieces; number {at + 1} lies on the bench. {listed}.")
