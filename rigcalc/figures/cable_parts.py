"""A cable cut square with five of its parts lettered, to point at one.

The letters are drawn by lot apart from the part that is asked for, and no colour or word tells it.
"""

from __future__ import annotations

from math import cos, hypot, pi, sin

from rigcalc.figures.cables import draw_cable, wires_at_crown
from rigcalc.figures.drawing import DEEP, INK, PAPER, Drawing, Figure

__all__ = ["cable_parts"]

SCALE = 300  # px for the cable's diameter
MIDDLE = (345, 206)


def _at(part: float, angle: float) -> tuple[float, float]:
    """A place in px, `part` diameters from the middle."""
    return MIDDLE[0] + SCALE * part * cos(angle), MIDDLE[1] + SCALE * part * sin(angle)


def _wire(designation: str, angle: float) -> tuple[float, float, float]:
    """The wire in the middle of the strand at this angle: x, y, radius, in px."""
    aim = (cos(angle) / 3, sin(angle) / 3)
    x, y, major, minor, *_ = min(wires_at_crown(designation), key=lambda wire: hypot(wire[0] - aim[0], wire[1] - aim[1]))
    return MIDDLE[0] + SCALE * x, MIDDLE[1] + SCALE * y, SCALE * max(major, minor)


def _crown(designation: str, angle: float) -> tuple[float, float]:
    """The outer edge of the outermost wire of the strand at this angle, in px."""
    aim = (cos(angle) / 2, sin(angle) / 2)
    x, y, major, *_ = min(wires_at_crown(designation), key=lambda wire: hypot(wire[0] - aim[0], wire[1] - aim[1]))
    return MIDDLE[0] + SCALE * (x + major * cos(angle)), MIDDLE[1] + SCALE * (y + major * sin(angle))


def cable_parts(designation: str = "7x19", letters=("A", "B", "C", "D", "E"), turn: int = 0) -> Figure:
    """The section of a cable with a letter at an outer strand, the core, a wire, a valley and a crown, in this order.

    Parameters
    ----------
    designation : str
        "7x7" or "7x19".
    letters : sequence of str
        Five letters, drawn by lot.
    turn : int
        By how many strands the places are moved round the cable, 0 to 5.
    """
    sheet = Drawing(690, 412)
    draw_cable(sheet, *MIDDLE, SCALE, designation)
    # Strands lie at whole steps, valleys at halves; the core's line leaves the cable through a valley.
    strand, crown, wire, core, valley = (pi / 2 + pi / 3 * (turn + place) for place in (0, 1, 2, 3.5, 4.5))
    spots = [(*_at(1 / 3, strand), SCALE / 6), (*MIDDLE, SCALE / 6), _wire(designation, wire), (*_at(0.40, valley), 0),
             (*_crown(designation, crown), 0)]
    outs = [strand, core, wire, valley, crown]
    for (x, y, ring), out, letter in zip(spots, outs, letters, strict=True):
        _mark(sheet, x, y, ring, out, letter)
    return sheet.figure(f"The section of a {designation} cable, cut square. Five of its places are lettered {', '.join(sorted(letters))}.",
                        spoken=_spoken(designation, letters))


def _mark(sheet: Drawing, x: float, y: float, ring: float, out: float, letter: str) -> None:
    """A ring or a dot, a line out of the cable, and the letter at its end."""
    end = _at(0.605, out)
    far = max(hypot(end[0] - x, end[1] - y), 1)
    start = (x + ring * (end[0] - x) / far, y + ring * (end[1] - y) / far)
    sheet.line(*start, *end, stroke=PAPER, width=6)
    sheet.line(*start, *end, stroke=INK, width=2.5)
    if ring:
        sheet.circle(x, y, ring, stroke=PAPER, width=7)
        sheet.circle(x, y, ring, stroke=INK, width=3.5)
    else:
        sheet.circle(x, y, 7, fill=INK, stroke=PAPER, width=2)
    sheet.circle(*end, 18, fill=PAPER, stroke=DEEP, width=3)
    sheet.text(end[0], end[1] + 7, letter, size=20, anchor="middle", weight=700, colour=DEEP)


def _spoken(designation: str, letters) -> str:
    """What each letter stands at, in everyday words, by the alphabet: the same evidence as the drawing."""
    from rigcalc.cable import construction

    each = construction(designation).wires_per_strand
    said = [f"is a ring round a bundle of {each} round pieces of metal, one of six at the outside",
            f"is a ring round the bundle of {each} round pieces of metal in the middle",
            "is a ring round one single round piece of metal",
            "is a dot in the hollow between two neighbouring bundles, at the outside",
            "is a dot on the outermost place of one bundle"]
    return " ".join(f"{letter} {words}." for letter, words in sorted(zip(letters, said, strict=True)))
