"""The sleeve between the jaws, seen from its end: upright, leaning, and pressed leaning. A sketch; nothing is gauged by it."""

from __future__ import annotations

from math import cos, pi, radians, sin

from rigcalc.figures.drawing import DEEP, GREEN, INK, QUIET, RUST, Drawing, Figure, number
from rigcalc.figures.press import Press
from rigcalc.figures.sections import draw_jaws, draw_sleeve

__all__ = ["in_the_jaws", "three_stages"]


def _draw(sheet: Drawing, x: float, y: float, scale: float, stage: float, lean: float, spoilt: bool) -> None:
    """Jaws and sleeve at (x, y): the sleeve turned by `lean` degrees; a spoilt one with fins at the parting line."""
    press = Press(stage)
    draw_jaws(sheet, press, x, y, scale, press.half_gap + (0.09 if spoilt and stage == 1 else 0))
    one = Drawing(1, 1)
    draw_sleeve(one, x, y, scale, press, jaws=False)
    sheet.symbols.update(one.symbols)
    sheet.add(f'<g transform="rotate({number(lean)} {number(x)} {number(y)})">{"".join(one.parts)}</g>')
    if spoilt:
        r = press.closed_radius * scale
        for way in (-1, 1):
            sheet.shape([(x + way * (r - 4), y - 6), (x + way * (r + 30), y - 3), (x + way * (r + 34), y + 3), (x + way * (r - 4), y + 6)], fill="crimp", width=2.5)
    a, long = radians(lean) - pi / 2, (1.95 - 0.4 * stage) * scale
    sheet.line(x - long * cos(a), y - long * sin(a), x + long * cos(a), y + long * sin(a), stroke=RUST if lean else GREEN, width=3, dash="10 6")
    sheet.line(x, y - 2.15 * scale, x, y + 2.15 * scale, stroke=QUIET, width=1.5, dash="3 5")


def in_the_jaws(stage: float, lean: float, spoilt: bool = False) -> Figure:
    """One sleeve between the jaws: `stage` 0 open to 1 closed, `lean` in degrees from upright."""
    sheet = Drawing(700, 444)
    _draw(sheet, 350, 204, 88, stage, lean, spoilt)
    sheet.text(24, 34, "jaws open" if stage == 0 else ("held apart" if spoilt else "jaws have met") if stage == 1 else "jaws closing", weight=700, colour=DEEP, size=18)
    sheet.text(24, 430, "thick dashes: the sleeve's long axis", colour=INK)
    sheet.text(676, 430, "dots: the way the jaws close", anchor="end", colour=QUIET)
    alt = f"A sleeve between two jaws, seen from its end; jaws closed by {stage:.0%}. Its long axis " + (f"leans by about {lean:g} degrees." if lean else "is in line with the jaws' closing.")
    return sheet.figure(alt + (" Metal stands out between the faces." if spoilt else ""))


def three_stages() -> Figure:
    """Upright; leaning as the jaws close; and a stroke that was finished leaning."""
    sheet = Drawing(700, 330)
    for i, (stage, lean, spoilt, words) in enumerate(((0.3, 0, False, "upright, centred"), (0.5, 16, False, "it leans: stop,\nopen, stand it up"), (1, 34, True, "✗ finished leaning:\nskew, with fins"))):
        x = 118 + i * 232
        _draw(sheet, x, 138, 52, stage, lean, spoilt)
        sheet.text(x, 292, words, anchor="middle", weight=700, colour=RUST if spoilt else DEEP)
    return sheet.figure("Three sleeves between the jaws, from the end. First: upright, its long axis in line with the closing. Second: it leans as the jaws close; open and stand it up. "
                        "Third: finished leaning, skew in the cavity with fins between the faces, a reject.", "A sketch. Open, re-centre, close again fully: AC 43.13-1B, 7-148b(2), read.")
