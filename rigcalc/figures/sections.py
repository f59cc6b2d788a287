"""The sleeve in section, in the jaws: open, half closed, closed; bare, over coating, over too small a cable."""

from __future__ import annotations

from dataclasses import replace
from math import cos, pi, sin, sqrt

from rigcalc.errors import Refusal
from rigcalc.figures.cables import draw_cable
from rigcalc.figures.drawing import DEEP, GREEN, INK, PAPER, QUIET, RUST, Drawing, Figure
from rigcalc.figures.press import CONTENTS, Press, open_outline

__all__ = ["ON_FLASH", "TOUCHED", "sleeve_stage", "sleeve_stages", "sleeve_in_jaws", "gauge_answer", "verdict"]

FLASH = 0.07  # half the thickness of the flash that holds the faces apart, in d
JAW_FACE = 0.56  # width of a jaw's face beside the cavity, in d
TOUCHED = 0.15  # up to here the jaws lie on the sleeve and no metal has moved
ON_FLASH = "it often jams on the flash, not always"  # the gauge on a sleeve pressed flat
WRONG = {"coated": ("the coat is still on, and no metal can reach a wire", "strip both legs"),
         "too small": ("the cable is too small for this sleeve, and the metal finds room beside it", "take the sleeve of the cable's own size")}
SAID = {"bare": "two bare legs of the right size", "coated": "two legs with their coating still on",
        "too small": "two legs of a cable too small for this sleeve"}


def _turned(points, upright: bool, x: float, y: float, scale: float):
    return [(x + (px if upright else py) * scale, y + (py if upright else px) * scale) for px, py in points]


def draw_jaws(sheet: Drawing, press: Press, x: float, y: float, scale: float, half_gap: float) -> None:
    r, deep, wide = press.closed_radius * scale, 0.42 * scale, JAW_FACE * scale
    for side in (-1, 1):
        face = y + side * half_gap * scale
        sheet.path(f"M{x - r - wide:.2f} {face:.2f}H{x - r:.2f}A{r:.2f} {r:.2f} 0 0 {1 if side < 0 else 0} "
                   f"{x + r:.2f} {face:.2f}H{x + r + wide:.2f}V{face + side * (r + deep):.2f}"
                   f"H{x - r - wide:.2f}Z", fill="jaw", width=2.5)


def _gap(press: Press, upright: bool, opened: float | None = None) -> float:
    """Half the gap of the jaws, opened again to that stage or not: a flat-wise sleeve sits on the edges of the cavity and holds them apart."""
    at = press if opened is None else replace(press, stage=opened)
    return at.half_gap if upright else 0.95 * (1 - at.stage) + FLASH * at.stage


def _flat_outline(press: Press, half_gap: float):
    """A flat-wise sleeve: what does not fit the cavity goes out between the faces as flash."""
    r, s = press.closed_radius, press.stage
    out, points = r + 0.5, []
    for step in range(360):
        angle = 2 * pi * step / 360
        c, n = abs(cos(angle)), abs(sin(angle))
        lain = open_outline(angle + pi / 2)
        room = _into_cavity(c, n, r, half_gap, out)
        final = _into_cavity(c, n, r, FLASH, out)
        reach = min(lain + (final - lain) * s, room)
        points.append((reach * cos(angle), reach * sin(angle)))
    return points


def _into_cavity(c: float, n: float, r: float, half_gap: float, out: float) -> float:
    """How far metal can go along a ray (c, n) in a cavity of radius r whose halves stand apart."""
    between = min(out, half_gap / n if n > 1e-9 else out)
    inside = half_gap * n + sqrt(max(r ** 2 - (half_gap * c) ** 2, 0))
    return max(between, inside if inside * n >= half_gap else 0)


def draw_sleeve(sheet: Drawing, x: float, y: float, scale: float, press: Press, upright: bool = True,
                designation: str = "7x19", jaws: bool = True, metal: str = "sleeve", opened: float | None = None) -> None:
    """The sleeve's section round two legs at (x, y), `scale` px for the sleeve's cable diameter; `opened`: the jaws were opened again to that stage."""
    half_gap = _gap(press, upright)
    if jaws:
        draw_jaws(sheet, press, x, y, scale, _gap(press, upright, opened))
    if upright:
        outside = _turned(press.outline(), True, x, y, scale)
    else:
        outside = [(x + px * scale, y + py * scale) for px, py in _flat_outline(press, half_gap)]
    sheet.shape(outside, fill=metal, width=3)
    _bores(sheet, x, y, scale, press, upright)
    legs = [-press.leg_centre, press.leg_centre]
    for at in legs:
        _leg(sheet, x, y, scale, press, upright, at, designation)


def _bores(sheet, x, y, scale, press: Press, upright: bool) -> None:
    fill = "void" if press.content == "too small" and press.stage > 0.75 else PAPER
    shapes = [_turned(points, upright, x, y, scale) for points in press.bores()]
    n = press.half_neck
    if n > 0.02:
        c = press.leg_centre
        shapes.append(_turned([(-n, -c), (n, -c), (n, c), (-n, c)], upright, x, y, scale))
    for stroke in (3.5, 0):
        for points in shapes:
            sheet.shape(points, fill=fill, stroke=INK if stroke else "none", width=stroke)


def _leg(sheet, x, y, scale, press: Press, upright: bool, at: float, designation: str) -> None:
    sx, sy = press.squeeze
    if press.content == "too small":
        side = 1 if at < 0 else -1  # a thin leg lies where the pressed metal pushed it: towards the other one
        at += side * (0.5 * sy - press.leg_diameter / 2 * sy) * press.stage * 0.75
    px, py = (x, y + at * scale) if upright else (x + at * scale, y)
    pressed = (sx, sy) if upright else (sy, sx)
    if press.content == "coated":
        sheet.ellipse(px, py, 0.5 * pressed[0] * scale, 0.5 * pressed[1] * scale, fill="coat", width=2)
        pressed = (1.0, 1.0)
    elif press.content == "too small":
        pressed = (1.0, 1.0)
    draw_cable(sheet, px, py, press.leg_diameter * scale, designation, pressed, pi / 2 if upright else 0)


def _where(stage: float) -> str:
    return "before pressing" if stage < 0.05 else "jaws closed" if stage > 0.95 else f"jaws {stage:.0%} closed"


def gauge_answer(stage: float, upright: bool = True) -> tuple[bool, str]:
    """What the go/no-go gauge says of a crimp at a stage: (goes on, words)."""
    if stage > 0.95 and upright:
        return True, "the gauge goes on"
    return False, "the gauge does not go on: not fully closed" if upright else ON_FLASH


def verdict(stage: float, content: str, upright: bool) -> tuple[bool, str]:
    """Whether the crimp holds, and what to do: (good, words). What is wrong is said before a stroke that makes it scrap."""
    moved = stage > TOUCHED
    if content in WRONG and stage <= 0.95 and (upright or not moved):
        why, do = WRONG[content]
        return False, f"Stop: {why}. " + ("It is a reject now: closing further mends nothing." if moved else f"Take the legs out; {do}.")
    if not upright:
        return False, ("Pressed flat: metal went out as flash between the jaws, the wires were shifted. A reject for good, however it is turned now." if moved
                       else "Stop: the sleeve lies flat. No metal has moved yet: open the jaws and set it upright.")
    if stage < 0.05:
        return False, "Nothing is pressed yet: the legs lie loose in the bores."
    if stage <= 0.95:
        return False, "Not fully closed: the valleys are not filled yet. Finish the stroke."
    return {"bare": (True, "Closed: soft metal fills the valleys of both legs. That is what holds."),
            "coated": (False, "Closed on plastic: no metal reaches a wire. The legs pull out of their coat. Reject it."),
            "too small": (False, "Closed, but there is air round both legs. They pull out. Reject it.")}[content]


def sleeve_stage(stage: float = 1.0, content: str = "bare", upright: bool = True, designation: str = "7x19",
                 growth: float = 4 / 3, gauge: bool = False, asked: bool = False, small: float | None = None, opened: float | None = None) -> Figure:
    """One sleeve in the jaws, in section, with names beside it.

    Parameters
    ----------
    stage : float
        0 open to 1 closed: how far the metal is pressed.
    content : str
        "bare", "coated" or "too small".
    upright : bool
        True: the oval's long axis in line with the closing. False: laid flat.
    gauge : bool
        Whether to show what the gauge says of it.
    asked : bool
        Whether the drawing is asked about: then neither words nor alt text judge it.
    small : float or None
        Diameter of the thin cable over the right one, or of the core over its coat.
    opened : float or None
        The stage to which the jaws were opened again; None where they are where they pressed.
    """
    if content not in CONTENTS or not 0 <= stage <= 1:
        raise Refusal(f"the content '{content}' at stage {stage:g}", f"{', '.join(CONTENTS)} at a stage from 0 to 1",
                      "take one of these")
    press = _press(stage, content, growth, small)
    sheet, x, y, scale = Drawing(680, 410), 190, 205, 76
    draw_sleeve(sheet, x, y, scale, press, upright, designation, opened=opened)
    if stage < 0.95 and opened is None:
        _closing_arrows(sheet, x, y, scale, press, upright)
    _names(sheet, x, y, scale, press, upright, asked, opened)
    good, words = verdict(stage, content, upright)
    if gauge:
        goes, answer = gauge_answer(stage, upright)
        sheet.text(395, 330, "Gauge: " + ("goes on" if goes else "does not go on" if upright else "often jams"),
                   weight=700, colour=DEEP)
    alt = _alt(stage, content, upright, designation, asked, words) + ("" if opened is None else " The jaws are open again.")
    if gauge and not asked:
        alt += f" At the gauge: {gauge_answer(stage, upright)[1]}."
    return sheet.figure(alt, "" if asked else words)


def _press(stage, content, growth, small) -> Press:
    share = small if small is not None else 0.5 if content == "coated" else 0.75
    return Press(stage, content, growth, share)


def _closing_arrows(sheet, x, y, scale, press, upright) -> None:
    reach = (press.closed_radius + _gap(press, upright) + 0.42) * scale
    for side in (-1, 1):
        tip = y + side * (reach - 30)
        sheet.arrow(x, y + side * (reach - 2), x, tip, colour=PAPER, width=5, head=14)


def _names(sheet, x, y, scale, press: Press, upright: bool, asked: bool, opened: float | None) -> None:
    gap, r, left = _gap(press, upright, opened), press.closed_radius, 395
    wide = press.outline()[0][0]
    leg = (0.1, -press.leg_centre) if upright else (press.leg_centre, -0.1)
    spots = {"jaw of the tool": (r + 0.4, -gap - r - 0.1), "sleeve": (wide * 0.7, -0.72 if upright else -0.6),
             "one leg of the eye": leg}
    for row, (words, (px, py)) in enumerate(spots.items()):
        sheet.leader(left - 6, 55 + 55 * row, x + px * scale, y + py * scale)
        sheet.text(left, 60 + 55 * row, words, weight=600)
    if asked:
        return
    shut = press.stage > 0.95
    words, at, colour = _point_of_interest(press, upright, shut)
    if words:
        sheet.leader(left - 6, 230, x + at[0] * scale, y + at[1] * scale, colour=colour)
        sheet.text(left, 235, words, weight=700, colour=colour)


def _point_of_interest(press: Press, upright: bool, shut: bool):
    if not upright and press.stage > 0.3:
        return "flash: metal squeezed\nout between the faces", (press.closed_radius + 0.25, 0.02), RUST
    if press.content == "coated":
        return "coat: metal stops here", (0.42, press.leg_centre + 0.1), RUST
    if press.content == "too small":
        return "air round the leg" if press.stage else "much air round the leg", (0.43, press.leg_centre + 0.05), RUST
    if shut:
        return "metal in the valleys", (0.47, press.leg_centre), GREEN
    return ("air in the valleys", (0.475, press.leg_centre), RUST) if press.stage else ("", (0, 0), INK)


def _alt(stage, content, upright, designation, asked, words) -> str:
    lie = "upright, its long axis in line with the closing" if upright else "flat, its long axis along the jaw faces"
    alt = f"Section of a sleeve in the jaws, {_where(stage)}, lying {lie}; in it {SAID[content]}, {designation}."
    if asked:
        return f"Section of a sleeve with two cable legs between the jaws of a tool, {_where(stage)}."
    return f"{alt} {words}"


def sleeve_stages(content: str = "bare", designation: str = "7x19", growth: float = 4 / 3,
                  small: float | None = None) -> Figure:
    """Three stages side by side: before, half closed, closed."""
    sheet, scale = Drawing(690, 330), 60
    for column, stage in enumerate((0.0, 0.5, 1.0)):
        press = _press(stage, content, growth, small)
        x = 112 + 230 * column
        draw_sleeve(sheet, x, 148, scale, press, True, designation)
        title = ("before", "half closed", "closed")[column]
        sheet.text(x, 314, title, anchor="middle", weight=700, colour=DEEP)
        if column < 2:
            sheet.arrow(x + 100, 309, x + 130, 309, colour=QUIET, width=3)
    good, words = verdict(1.0, content, True)
    alt = (f"Three sections of one sleeve in the jaws, before, half closed and closed, round {SAID[content]}, "
           f"{designation}. {words}")
    return sheet.figure(alt, words)


def sleeve_in_jaws(right: bool | None = None, designation: str = "7x19", growth: float = 4 / 3,
                   asked: bool = False) -> Figure:
    """The sleeve as laid in the jaws and as it comes out: upright (right), laid flat (wrong); None shows both."""
    rows = (True, False) if right is None else (right,)
    sheet = Drawing(690, 330 * len(rows))
    for row, upright in enumerate(rows):
        top, scale = 330 * row, 55
        for column, stage in enumerate((0.0, 1.0)):
            x, y = 295 + 260 * column, top + 180
            draw_sleeve(sheet, x, y, scale, Press(stage, growth=growth), upright, designation)
            sheet.text(x, top + 28, ("laid in the jaws", "jaws closed")[column], anchor="middle", weight=600, colour=DEEP)
        if not asked:
            _row_words(sheet, top, upright)
    lies = {True: "upright: the oval's long axis in line with the closing", False: "flat: the long axis along the faces"}
    ends = {True: "it closes round and full", False: "metal squeezes out on both sides as flash, and wires shift"}
    said = "; ".join(f"laid {lies[u]}" + ("" if asked else f", {ends[u]}") for u in rows)
    return sheet.figure(f"A sleeve in the jaws of the tool before and after closing, in section, {said}.",
                        "" if asked else "Upright is about the oval and the jaws, however you hold the tool.")


def _row_words(sheet, top, upright) -> None:
    sheet.text(14, top + 130, "✓ Upright" if upright else "✗ Flat", size=20, weight=700,
               colour=GREEN if upright else RUST)
    words = "long axis in line\nwith the closing" if upright else "long axis along\nthe jaw faces:\nflash, reject"
    sheet.text(14, top + 156, words)
