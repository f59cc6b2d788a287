"""The sleeve between the jaws, seen from its end: upright, leaning, and pressed leaning. A sketch; nothing is gauged by it."""

from __future__ import annotations

from math import cos, pi, radians, sin

from rigcalc.figures.drawing import DEEP, GREEN, INK, QUIET, RUST, Drawing, Figure, number
from rigcalc.figures.press import Press
from rigcalc.figures.sections import TOUCHED, draw_jaws, draw_sleeve

__all__ = ["in_the_jaws", "what_then"]


def _draw(sheet: Drawing, x: float, y: float, scale: float, stage: float, lean: float, crooked: float = 0.0, pressed: float = 0.0) -> None:
    """Jaws and sleeve at (x, y): the sleeve turned by `lean` degrees; `crooked`, the lean at which its metal moved, leaves fins where the faces were."""
    press, metal = Press(stage), Press(max(stage, pressed))
    draw_jaws(sheet, press, x, y, scale, press.half_gap + (0.09 if crooked and stage == 1 else 0))
    one = Drawing(1, 1)
    draw_sleeve(one, x, y, scale, metal, jaws=False)
    sheet.symbols.update(one.symbols)
    sheet.add(f'<g transform="rotate({number(lean)} {number(x)} {number(y)})">{"".join(one.parts)}</g>')
    if crooked:
        fins, r, out = Drawing(1, 1), metal.outline()[0][0] * scale, 4 + 30 * metal.stage
        for way in (-1, 1):
            fins.shape([(x + way * (r - 4), y - 6), (x + way * (r + out - 4), y - 3), (x + way * (r + out), y + 3), (x + way * (r - 4), y + 6)], fill="crimp", width=2.5)
        sheet.symbols.update(fins.symbols)
        sheet.add(f'<g transform="rotate({number(lean - crooked)} {number(x)} {number(y)})">{"".join(fins.parts)}</g>')
    a, long = radians(lean) - pi / 2, (1.95 - 0.4 * metal.stage) * scale
    sheet.line(x - long * cos(a), y - long * sin(a), x + long * cos(a), y + long * sin(a), stroke=RUST if lean else GREEN, width=3, dash="10 6")
    sheet.line(x, y - 2.15 * scale, x, y + 2.15 * scale, stroke=QUIET, width=1.5, dash="3 5")


def in_the_jaws(stage: float, lean: float, crooked: float = 0.0, pressed: float = 0.0) -> Figure:
    """One sleeve between the jaws.

    Parameters
    ----------
    stage : float
        The jaws now, 0 open to 1 closed.
    lean : float
        The sleeve's long axis, degrees from upright.
    crooked : float
        The lean in degrees at which its metal moved; 0 where it did not lean then.
    pressed : float
        How far the jaws have been closed on it: what was pressed stays pressed when they open.
    """
    sheet = Drawing(700, 444)
    _draw(sheet, 350, 204, 88, stage, lean, crooked, pressed)
    sheet.text(24, 34, "jaws open" if stage == 0 else ("held apart" if crooked else "jaws have met") if stage == 1 else "jaws closing", weight=700, colour=DEEP, size=18)
    sheet.text(24, 430, "thick dashes: the sleeve's long axis", colour=INK)
    sheet.text(676, 430, "dots: the way the jaws close", anchor="end", colour=QUIET)
    alt = f"A sleeve between two jaws, seen from its end; jaws closed by {stage:.0%}. Its long axis " + (f"leans by about {lean:g} degrees." if lean else "is in line with the jaws' closing.")
    alt += " Its metal is pressed already." if pressed > max(stage, TOUCHED) else ""
    return sheet.figure(alt + (" Metal stands out where the faces came together." if crooked else ""))


# jaws closed, lean in degrees, lean at which metal moved, words under it, and the same for who cannot see it
_ASKED = ((TOUCHED, 0, 0, "upright, centred", "upright, its long axis in line with the closing"),
          (TOUCHED, 16, 0, "it leans as the\njaws touch it", "it leans as the jaws touch it"))
_TOLD = ((TOUCHED, 16, 0, "no metal has moved:\nopen, stand it up", "it leans as the jaws touch it and no metal has moved; open and stand it up"),
         (1, 34, 34, "✗ moved as it leaned:\nreject, for good", "the metal moved while it leaned; it is skew in the cavity with fins between the faces, a reject for good"))


def what_then(told: bool) -> Figure:
    """Two sleeves: upright, and leaning as the jaws touch it; told, the leaning one with what is done, and one on which the stroke went on."""
    sheet, pictures = Drawing(480, 330), _TOLD if told else _ASKED
    for i, (stage, lean, crooked, words, _) in enumerate(pictures):
        x = 124 + i * 232
        _draw(sheet, x, 138, 52, stage, lean, crooked)
        sheet.text(x, 292, words, anchor="middle", weight=700, colour=RUST if crooked else DEEP)
    first, second = (spoken for *_, spoken in pictures)
    return sheet.figure(f"Two sleeves between the jaws, from the end. First: {first}. Second: {second}.",
                        "A sketch. Open, re-centre, close again fully: AC 43.13-1B, 7-148b(2), read. Reject once metal has moved: common practice." if told else "A sketch.")
