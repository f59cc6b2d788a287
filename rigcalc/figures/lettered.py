"""One pressed eye with letters at its places, for asking where something is wrong.

What is drawn wrong bears no colour, arrow or word of its own. The alt text says what is drawn; the spoken description
says of every place what is to be seen there, in the same words whether it is right or wrong.
"""

from __future__ import annotations

from rigcalc.errors import Refusal
from rigcalc.figures.drawing import DEEP, INK, PAPER, QUIET, STEEL, Drawing, Figure, number
from rigcalc.figures.eyes import (BETWEEN_HEIGHT, CLOSED_HEIGHT, draw_end, draw_loop, draw_rope, draw_sleeve_side,
                                  draw_thimble)

__all__ = ["MARKS", "PLACES", "lettered_eye"]

# place: (its name, what is to be seen where nothing is wrong), from the loop outwards
PLACES = {
    "loop": ("the loop", "the cable lies in the thimble's groove all round, without a gap"),
    "mouth": ("the sleeve's mouth beside the thimble", "both legs run in straight, every wire lies in its strand"),
    "first crimp": ("the crimp next to the thimble", "a flat band across the sleeve, as deep as a finished crimp is"),
    "middle crimp": ("the middle crimp", "a flat band across the sleeve, as deep as a finished crimp is"),
    "last crimp": ("the crimp next to the tail", "a flat band across the sleeve, as deep as a finished crimp is"),
    "tail": ("the tail", "the cut end stands out of the sleeve by about one cable's thickness"),
    "far mouth": ("the sleeve's mouth where the live cable comes out",
                  "the cable runs out straight, and the paint line crosses from sleeve to cable in one stroke"),
    "cable": ("the live cable, well away from the sleeve", "bright cable, every wire lies in its strand"),
}
# mark: (its place, what is to be seen there). Looks: common practice.
MARKS = {
    "loose thimble": ("loop", "the cable stands off the thimble, with daylight between the two at the sides"),
    "smear on the loop": ("loop", "a dark smear of grease lies on the cable"),
    "caught wire": ("mouth", "one wire sticks out of its strand at the sleeve's edge and is bent back"),
    "broken wire at the mouth": ("mouth", "one wire is broken at the sleeve's edge, its end stands up"),
    "rust at the mouth": ("mouth", "a stain spreads from the sleeve's edge over the cable, red-brown and rough"),
    "crack in the first crimp": ("first crimp", "a thin jagged line runs along the crimp from its edge"),
    "crack in the middle crimp": ("middle crimp", "a thin jagged line runs along the crimp from its edge"),
    "crack in the last crimp": ("last crimp", "a thin jagged line runs along the crimp from its edge"),
    "first crimp not closed": ("first crimp", "a band across the sleeve that is higher than the other two"),
    "middle crimp not closed": ("middle crimp", "a band across the sleeve that is higher than the other two"),
    "last crimp not closed": ("last crimp", "a band across the sleeve that is higher than the other two"),
    "crimp over the end": ("last crimp", "the band runs over the sleeve's edge, and the edge has opened"),
    "scratch on the first crimp": ("first crimp", "a short straight scratch with a shallow bright groove"),
    "scratch on the middle crimp": ("middle crimp", "a short straight scratch with a shallow bright groove"),
    "buried tail": ("tail", "no cut end is to be seen; the sleeve's edge is closed round one leg only"),
    "tail drawn in": ("tail", "the cut end lies level with the sleeve's edge; no tail stands out"),
    "birdcage": ("far mouth", "the strands stand apart and bulge out just beside the sleeve"),
    "paint line parted": ("far mouth", "the paint line on the cable lies away from the paint line on the sleeve"),
    "broken wire at the far mouth": ("far mouth", "one wire is broken beside the sleeve's edge, its end stands up"),
    "rust at the far mouth": ("far mouth", "a stain spreads from the sleeve's edge over the cable, red-brown and rough"),
    "one broken wire far off": ("cable", "one single wire is broken, its end stands up; the others are whole"),
    "smear on the cable": ("cable", "a dark smear of grease lies on the cable"),
}
D, Y, MOUTH, LENGTH = 30, 176, 232, 214
END = MOUTH + LENGTH
AT = {"loop": (74, "above"), "mouth": (MOUTH - 14, "above"), "first crimp": (MOUTH + LENGTH / 6, "above"),
      "middle crimp": (MOUTH + LENGTH / 2, "above"), "last crimp": (MOUTH + 5 * LENGTH / 6, "above"),
      "tail": (END + 18, "below"), "far mouth": (END + 26, "above"), "cable": (628, "above")}


def lettered_eye(fault: str = "buried tail", also: str = "", letters=("A", "B", "C", "D", "E", "F", "G", "H"),
                 size: str = "1/8") -> Figure:
    """A pressed eye, seen from the side, with a letter at each of its eight places.

    Parameters
    ----------
    fault, also : str
        What is drawn at two of the places: names of `MARKS`, at different places; `also` may be empty.
    letters : sequence of str
        One letter a place, in the order of `PLACES`; drawn by lot.
    """
    marks = [name for name in (fault, also) if name]
    for name in marks:
        if name not in MARKS:
            raise Refusal(f"the mark '{name}'", ", ".join(MARKS), "take one of these")
    if len({MARKS[name][0] for name in marks}) != len(marks) or len(set(letters)) != len(PLACES):
        raise Refusal(f"the marks {marks} with {len(set(letters))} letters", f"marks at two places and {len(PLACES)} letters",
                      "draw again")
    sheet = Drawing(690, 330)
    for place, letter in zip(PLACES, letters, strict=True):
        _letter(sheet, place, letter)
    _eye(sheet, {MARKS[name][0]: name for name in marks})  # over the letters' lines, so that each line ends at what it points at
    sheet.text(20, 318, "thimble side", weight=600, colour=QUIET)
    sheet.text(676, 318, "live cable runs on", anchor="end", weight=600, colour=QUIET)
    alt = (f"A pressed eye on {size} in cable, seen from the side: loop with thimble at the left, a sleeve with three crimps, "
           f"tail and live cable at the right. Eight places are lettered; from left to right {_row(letters)}.")
    return sheet.figure(alt, spoken=_spoken(marks, letters))


def _row(letters) -> str:
    """The letters as they stand from left to right on the drawing."""
    return ", ".join(letter for _, letter in sorted(zip([AT[place][0] for place in PLACES], letters, strict=True)))


def _spoken(marks: list[str], letters) -> str:
    seen = {MARKS[name][0]: MARKS[name][1] for name in marks}
    said = [f"{letter}, {PLACES[place][0]}: {seen.get(place, PLACES[place][1])}."
            for place, letter in zip(PLACES, letters, strict=True)]
    return " ".join(sorted(said))


def _letter(sheet: Drawing, place: str, letter: str) -> None:
    x, side = AT[place]
    y, to = (38, Y - (72 if place == "loop" else 20)) if side == "above" else (286, Y + 22)
    sheet.line(x, y + (20 if side == "above" else -20), x, to, stroke=INK, width=1.5, dash="3 4")
    sheet.circle(x, y, 19, fill=PAPER, stroke=DEEP, width=3)
    sheet.text(x, y + 7, letter, size=20, anchor="middle", weight=700, colour=DEEP)


def _eye(sheet: Drawing, marks: dict[str, str]) -> None:
    """The eye from left to right, each place as its mark says."""
    apart, high = 0.47 * D, Y - 0.47 * D
    draw_rope(sheet, f"M{MOUTH} {number(high)}H684", D)
    tail = {"buried tail": END - 12, "tail drawn in": END}.get(marks.get("tail", ""), END + 30)
    draw_rope(sheet, f"M{MOUTH} {number(Y + apart)}H{number(tail)}", D)
    draw_end(sheet, tail, Y + apart, D)
    if marks.get("loop") == "loose thimble":
        draw_loop(sheet, 40, MOUTH, Y, D, 72, apart, thimble=False)
        draw_thimble(sheet, 108, MOUTH - 46, Y, 34, 4.8)
    else:
        draw_loop(sheet, 48, MOUTH, Y, D, 66, apart)
    _sleeve(sheet, marks)
    _paint(sheet, marks.get("far mouth") == "paint line parted")
    for place in PLACES:
        if place in marks:
            _mark(sheet, marks[place], place)


def _sleeve(sheet: Drawing, marks: dict[str, str]) -> None:
    names = ("first crimp", "middle crimp", "last crimp")
    over = marks.get("last crimp") == "crimp over the end"
    places = [AT[name][0] + (22 if over and name == "last crimp" else 0) for name in names]
    fat = [at for name, at in zip(names, places, strict=True) if marks.get(name, "").endswith("not closed")]
    draw_sleeve_side(sheet, MOUTH, Y, LENGTH, D, [at for at in places if at not in fat], 52)
    for at in fat:
        tall = (CLOSED_HEIGHT + 0.72 * (BETWEEN_HEIGHT - CLOSED_HEIGHT)) * D / 2
        sheet.rect(at - 23, Y - tall, 46, 2 * tall, fill="crimp", width=1.5)


def _paint(sheet: Drawing, parted: bool) -> None:
    """The witness mark: one stroke from the sleeve on to the live cable."""
    y = Y - 0.47 * D
    sheet.rect(END - 20, y - 5, 20, 10, fill=PAPER, stroke=INK, width=1.5)
    sheet.rect(END + (13 if parted else 0), y - 5, 18, 10, fill=PAPER, stroke=INK, width=1.5)


def _mark(sheet: Drawing, name: str, place: str) -> None:
    x, y = AT[place][0], Y - 0.47 * D
    if "wire" in name:
        _wire(sheet, {"mouth": MOUTH - 13, "far mouth": END + 28, "cable": x}[place], y - D / 2, "caught" in name)
    elif name.startswith("rust"):
        _spots(sheet, MOUTH - 30 if place == "mouth" else END + 2, y - D / 2, 28)
    elif name.startswith("crack"):
        low = Y - CLOSED_HEIGHT * D / 2
        sheet.path(f"M{number(x - 18)} {number(low + 2)}l10 14l-5 12l11 13l-4 10", stroke=INK, width=2.6)
    elif name.startswith("scratch"):
        sheet.line(x - 12, Y - 8, x + 12, Y + 4, stroke="#8d8776", width=3)
    elif name.startswith("smear"):
        sheet.ellipse(x + (-22 if place == "loop" else 0), y if place == "cable" else Y, 11, 17, fill="#3a3f44", stroke=STEEL)
    elif name == "birdcage":
        for rise in (-1, 1):
            sheet.path(f"M{END + 2} {number(y + rise * 8)}q22 {rise * 30} 46 0", stroke=INK, width=4)
            sheet.path(f"M{END + 6} {number(y + rise * 4)}q18 {rise * 19} 38 0", stroke="#60737f", width=3)
    elif name == "crimp over the end":
        for rise in (-1, 1):
            sheet.path(f"M{END} {number(Y + rise * 30)}l-13 {rise * -6}l8 {rise * -7}l-14 {rise * -5}", stroke=INK, width=3)


def _wire(sheet: Drawing, x: float, top: float, bent_back: bool) -> None:
    """A single wire that stands up; a caught one is bent back towards the thimble."""
    turn = "q-4 -22 -28 -16" if bent_back else "l-8 -24"
    sheet.path(f"M{number(x)} {number(top + 5)}{turn}", stroke=INK, width=3.4)


def _spots(sheet: Drawing, x: float, top: float, wide: float) -> None:
    """Rough red-brown spots, told apart from grease by their grain as well as by their hue."""
    for step in range(14):
        sheet.circle(x + (step * 11 % wide), top + 3 + (step * 7 % (D - 5)), 2.6 + step % 3, fill="#8a3d1d", stroke=INK, width=0.8)
