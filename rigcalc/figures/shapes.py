"""What hangs and what is held: legs, a gate's brace and a span, each to its own scale, lettered; and stays seen from above.

Nothing that is asked about bears a colour or a word of its own: what is drawn stands in the spoken description, with the
same measures as on the drawing.
"""

from __future__ import annotations

import math

from rigcalc.errors import Refusal
from rigcalc.figures.drawing import DEEP, JAW, PAPER, QUIET, STEEL, Drawing, Figure, number

__all__ = ["hangings", "stays_from_above"]

WIDE, HIGH = 345, 262
CABLE = 5.0


A_FEW = ({"kind": "legs", "reach": 900.0, "drop": 1200.0}, {"kind": "brace", "width": 3600.0, "height": 1200.0},
         {"kind": "span", "span": 6000.0, "sag": 300.0})


def hangings(shapes=A_FEW, letters=("A", "B", "C", "D")) -> Figure:
    """Two to four hangings side by side, each with its letter and its measures.

    Parameters
    ----------
    shapes : sequence of mapping
        `kind` "legs" with `reach` (anchor to plumb line) and `drop`, "brace" with `width` and `height` of a gate, or
        "span" with `span` and `sag`; lengths in mm.
    letters : sequence of str
        One for each, in the order of the drawings.
    """
    if not 2 <= len(shapes) <= 4 or len(set(letters)) < len(shapes):
        raise Refusal(f"{len(shapes)} drawings with {len(set(letters))} letters", "two to four, a letter each", "draw again")
    sheet = Drawing(2 * WIDE, HIGH * ((len(shapes) + 1) // 2))
    said = []
    for place, (shape, letter) in enumerate(zip(shapes, letters, strict=False)):
        left, top = WIDE * (place % 2), HIGH * (place // 2)
        said.append(f"{letter}: {DRAWN[shape['kind']](sheet, left, top, shape)}")
        _letter(sheet, left + 30, top + 34, letter)
    names = ", ".join(letters[:len(shapes)])
    return sheet.figure(f"{len(shapes)} drawings seen from the side, lettered {names}, each with its measures in millimetres.",
                        spoken=" ".join(said))


def stays_from_above(letters=("A", "B", "C"), turn_deg: float = 0.0, wind_from_deg: float = 60.0) -> Figure:
    """A mast seen from above, three stays 120° apart, and an arrow for the wind that blows on it.

    `letters`: one a stay, against the clock; the first stay stands at `turn_deg`, the wind comes from `wind_from_deg`,
    in degrees against the clock from the right.
    """
    sheet, x, y, far = Drawing(460, 430), 230.0, 215.0, 140.0
    for at, letter in enumerate(letters):
        px, py = _polar(x, y, far, turn_deg + 120 * at)
        sheet.line(x, y, px, py, stroke=JAW, width=CABLE)
        sheet.rect(px - 9, py - 9, 18, 18, fill=STEEL, width=2)
        _letter(sheet, *_polar(x, y, far + 38, turn_deg + 120 * at), letter)
    sheet.circle(x, y, 15, fill=PAPER, width=4)
    sheet.text(x + 22, y + 6, "mast", size=16, colour=QUIET, halo=True)
    sheet.arrow(*_polar(x, y, 190, wind_from_deg), *_polar(x, y, 58, wind_from_deg), colour=DEEP, width=5, head=20)
    sheet.text(*_polar(x, y + 6, 112, wind_from_deg + 12), "wind", size=18, anchor="middle", weight=600, colour=DEEP, halo=True)
    said = " ".join(f"{letter} runs from the mast towards {_clock(turn_deg + 120 * at)}." for at, letter in enumerate(letters))
    return sheet.figure(f"A mast seen from above with three stays, lettered {', '.join(sorted(letters))}, and an arrow for the wind.",
                        spoken=f"Directions as on the face of a clock. {said} The wind comes from {_clock(wind_from_deg)} and "
                               "pushes the mast away from there.")


def _clock(angle_deg: float) -> str:
    """A direction as a time on a clock's face, to ten minutes of the hour hand (5 degrees)."""
    minutes = round((90 - angle_deg) % 360 * 2 / 10) * 10 % 720
    return f"{minutes // 60 or 12}:{minutes % 60:02d}"


def _polar(x: float, y: float, far: float, angle_deg: float) -> tuple[float, float]:
    turn = math.radians(angle_deg)
    return x + far * math.cos(turn), y - far * math.sin(turn)


def _letter(sheet: Drawing, x: float, y: float, letter: str) -> None:
    sheet.circle(x, y, 18, fill=PAPER, stroke=DEEP, width=3)
    sheet.text(x, y + 7, letter, size=20, anchor="middle", weight=700, colour=DEEP)


def _fixed(sheet: Drawing, x: float, y: float) -> None:
    sheet.rect(x - 8, y - 8, 16, 16, fill=STEEL, width=2)


def _block(sheet: Drawing, x: float, y: float) -> None:
    """The load: a plain block on a short line."""
    sheet.line(x, y, x, y + 12, stroke=JAW, width=CABLE)
    sheet.rect(x - 26, y + 12, 52, 26, fill=PAPER, width=2.5)
    sheet.text(x, y + 31, "load", size=15, anchor="middle")


def _down(sheet: Drawing, x: float, y1: float, y2: float, words: str) -> None:
    """A plumb measure with its words at the right."""
    for y in (y1, y2):
        sheet.line(x - 6, y, x + 6, y, stroke=QUIET, width=2)
    sheet.line(x, y1, x, y2, stroke=QUIET, width=1.8)
    sheet.text(x + 10, (y1 + y2) / 2 + 5, words, size=15, colour=QUIET, halo=True)


def _legs(sheet: Drawing, left: float, top: float, shape) -> str:
    reach, drop = shape["reach"], shape["drop"]
    scale = min(105 / reach, 135 / drop)
    x, y, low = left + 160, top + 64, top + 64 + drop * scale
    sheet.rect(left + 52, y - 22, 248, 12, fill="none", width=2)
    for side in (-1, 1):
        sheet.line(x + side * reach * scale, y, x, low, stroke=JAW, width=CABLE)
        _fixed(sheet, x + side * reach * scale, y)
    _block(sheet, x, low)
    sheet.measure(x - reach * scale, x + reach * scale, y - 30, f"{number(2 * reach)} mm", colour=QUIET, size=15)
    _down(sheet, left + 282, y, low, f"{number(drop)}")
    return (f"a load hangs in the middle from two like legs; their anchors are {number(2 * reach)} mm apart and "
            f"{number(drop)} mm above the point where the legs meet.")


def _brace(sheet: Drawing, left: float, top: float, shape) -> str:
    width, height = shape["width"], shape["height"]
    scale = min(200 / width, 105 / height)
    x, low = left + 70, top + 196
    wide, high = width * scale, height * scale
    sheet.rect(x - 22, low - high - 18, 14, high + 40, fill="none", width=2.5)
    sheet.rect(x, low - high, wide, high, width=3)
    sheet.line(x - 8, low - high, x + wide, low, stroke=JAW, width=CABLE)
    for y in (low, low - high):
        sheet.circle(x - 4, y, 5, fill=PAPER, width=2)
    sheet.measure(x, x + wide, low + 22, f"{number(width)} mm", colour=QUIET, size=15, above=False)
    _down(sheet, x + wide + 16, low - high, low, f"{number(height)}")
    return (f"a gate {number(width)} mm wide and {number(height)} mm high hangs on a post at its left side; a cable runs from "
            "the gate's free lower corner up to the post.")


def _span(sheet: Drawing, left: float, top: float, shape) -> str:
    span, sag = shape["span"], shape["sag"]
    scale = 230 / span
    x, y, low = left + 45, top + 96, top + 96 + sag * scale
    for at in (x, x + 230):
        sheet.rect(at - (20 if at == x else -8), y - 40, 12, 120, fill="none", width=2.5)
    sheet.path(f"M{number(x)} {number(y)}L{number(x + 115)} {number(low)}L{number(x + 230)} {number(y)}", stroke=JAW, width=CABLE)
    for at in (x, x + 230):
        _fixed(sheet, at, y)
    _block(sheet, x + 115, low)
    sheet.measure(x, x + 230, y - 34, f"{number(span)} mm", colour=QUIET, size=15)
    sheet.text(x + 115, low + 62, f"sag {number(sag)} mm", size=15, anchor="middle", colour=QUIET)
    return f"a line is stretched between two walls {number(span)} mm apart; a load hangs from its middle, where it sags {number(sag)} mm."


DRAWN = {"legs": _legs, "brace": _brace, "span": _span}
