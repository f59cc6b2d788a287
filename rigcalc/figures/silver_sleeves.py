"""Silver sleeves: two in a bin, twelve on a bench, one on a balance; and a sleeve pressed on a cable, in section."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, pi, sin

from rigcalc.figures.drawing import DEEP, GREEN, INK, PAPER, QUIET, RUST, Drawing, Figure, number
from rigcalc.figures.press import APART, LOBE, Press, open_outline
from rigcalc.figures.sections import draw_sleeve

__all__ = ["PLATING", "Seen", "draw_plated", "in_section", "on_the_balance", "sleeves_on_bench", "two_in_a_bin"]

SILVER, SHADE, RED, PLATING, BAG = "#dfe3e6", "#c4cbd0", "#b4622d", "#dfe3e6", "#efe3c8"
HALF = APART / 2 + LOBE  # half the height of an open sleeve, in cable diameters
METAL_FILL = {"aluminium": "sleeve", "plain copper": "copper", "zinc-plated copper": "copper", "tin-plated copper": "copper", "stainless": "#d3dade"}
WIDE, HIGH = 172, 156  # px of one place on the bench


@dataclass(frozen=True)
class Seen:
    """What is known of one sleeve on the bench: what lies with it, what was found, where it was sorted, and the verdict.

    `lies` is "bag", "torn" (a bag whose label is torn) or "loose"; `label` and `scale` are words, None until read or weighed;
    `scratch` is None, "white" or "red"; `sort` a short word or ""; `right` None until told.
    """

    number: int
    lies: str
    label: str | None = None
    scale: str | None = None
    scratch: str | None = None
    sort: str = ""
    right: bool | None = None


def draw_silver(sheet: Drawing, x: float, y: float, scale: float, length: float, scratch: str | None = None) -> None:
    """A new silver sleeve seen a little from its end, front at (x, y): every metal looks like this."""
    sheet.rect(x, y - HALF * scale, length, 2 * HALF * scale, fill=SHADE, width=2)
    for at in (x + length, x):
        points = [(at + 0.8 * open_outline(a) * cos(a) * scale, y + open_outline(a) * sin(a) * scale) for a in (2 * pi * i / 60 for i in range(60))]
        sheet.shape(points, fill=SILVER if at == x else SHADE, width=2)
    sheet.rect(x + 2, y - HALF * scale, length - 2, 2 * HALF * scale, fill=SHADE, stroke="none", width=0)
    for edge in (-1, 1):
        sheet.line(x, y + edge * HALF * scale, x + length, y + edge * HALF * scale, width=2)
    points = [(x + 0.8 * open_outline(a) * cos(a) * scale, y + open_outline(a) * sin(a) * scale) for a in (2 * pi * i / 60 for i in range(60))]
    sheet.shape(points, fill=SILVER, width=2)
    for side in (-1, 1):
        sheet.ellipse(x, y + side * APART / 2 * scale, 0.44 * scale, 0.55 * scale, fill=INK)
    if scratch:
        for colour, wide in ((INK, 8), (RED if scratch == "red" else PAPER, 5)):
            sheet.line(x + length * 0.45, y + HALF * scale * 0.6, x + length * 0.85, y - HALF * scale * 0.6, stroke=colour, width=wide)


def two_in_a_bin() -> Figure:
    """Parvel's bin with two silver sleeves in it, lettered A and B; nothing tells them apart.

    >>> "look alike" in two_in_a_bin().alt
    True
    """
    sheet = Drawing(560, 236)
    sheet.shape([(40, 60), (520, 60), (488, 222), (72, 222)], fill=BAG, width=3)
    sheet.rect(28, 46, 504, 20, corner=4, fill="#dcc894", width=3)
    for x, letter in ((170, "A"), (340, "B")):
        draw_silver(sheet, x, 142, 30, 74)
        sheet.text(x + 36, 112 - 30, letter, size=20, weight=700, anchor="middle", colour=DEEP)
    sheet.text(280, 32, "bin 7: \"sleeves, silver\"", anchor="middle", weight=600)
    return sheet.figure("A bin marked sleeves, silver. Two new sleeves lie in it, A and B, of one size and one shape; both are silver and look alike.")


def on_the_balance(times: float, panels: Sequence[tuple[str, bool]] = (("aluminium", False), ("copper inside", True))) -> Figure:
    """A balance with a known aluminium sleeve on its left pan: level, or tipped by a sleeve that is `times` as heavy.

    >>> "3.3 times" in on_the_balance(8.8 / 2.7).alt
    True
    """
    sheet = Drawing(345 * len(panels), 272)
    said = []
    for place, (name, tips) in enumerate(panels):
        x, tilt = 172 + 345 * place, 22 if tips else 0
        sheet.line(x, 74, x, 208, stroke=QUIET, width=8)
        sheet.shape([(x - 52, 220), (x + 52, 220), (x + 30, 206), (x - 30, 206)], fill=QUIET, width=2.5)
        sheet.line(x - 104, 74 - tilt, x + 104, 74 + tilt, width=7)
        for side, shift in ((-1, -tilt), (1, tilt)):
            px, py = x + side * 104, 74 + shift
            sheet.line(px, py, px - 34, py + 78, width=2)
            sheet.line(px, py, px + 34, py + 78, width=2)
            sheet.shape([(px - 44, py + 78), (px + 44, py + 78), (px + 28, py + 92), (px - 28, py + 92)], fill=SILVER, width=2.5)
            draw_silver(sheet, px - 16, py + 56, 11, 34)
        words = f"{times:.1f} times as heavy:\n{name}" if tips else f"as heavy:\n{name}"
        sheet.text(x - 104, 24 - tilt + 22, "known", anchor="middle", size=15, colour=QUIET)
        sheet.text(x + 104, 24 + tilt + 22, "yours", anchor="middle", size=15, colour=QUIET)
        sheet.text(x, 243, words.split("\n")[0], anchor="middle", weight=700, colour=DEEP)
        sheet.text(x, 263, words.split("\n")[1], anchor="middle")
        said.append(f"yours is {f'{times:.1f} times as heavy' if tips else 'as heavy'}: {name}")
    return sheet.figure("A balance with a known aluminium sleeve on the left pan and yours, of the same size, on the right. " + "; ".join(said) + ".",
                        "The plating weighs next to nothing, so no scale tells zinc from tin.")


def _label(sheet: Drawing, x: float, y: float, one: Seen) -> None:
    """The bag behind a sleeve, with its label: face down until it is read."""
    sheet.path(f"M{number(x)} {number(y)}h92l8 10v84q0 8 -8 8h-92q-8 0 -8 -8v-84z", fill=BAG, width=2)
    if one.label is None:
        sheet.text(x + 45, y + 40, "label", anchor="middle", size=15, colour=QUIET)
        sheet.text(x + 45, y + 58, "not read", anchor="middle", size=15, colour=QUIET)
        return
    edge = "l-9 8l8 9l-8 9l8 9l-8 9l9 8h-94z" if one.lies == "torn" else "v52h-94z"
    sheet.path(f"M{number(x + 3)} {number(y + 22)}h94{edge}", fill=PAPER, width=2)
    for row, line in enumerate(one.label.split("\n")):
        sheet.text(x + (45 if one.lies == "torn" else 50), y + 43 + 19 * row, line, anchor="middle", size=15)


def _place(sheet: Drawing, x: float, y: float, one: Seen, at: bool) -> None:
    sheet.rect(x + 3, y + 3, WIDE - 6, HIGH - 6, corner=8, fill=PAPER, stroke=DEEP if at else "#c9c2b4", width=4 if at else 1.5)
    if one.lies != "loose":
        _label(sheet, x + 65, y + 8, one)
    draw_silver(sheet, x + 25, y + 72, 14, 30, one.scratch)
    sheet.text(x + 12, y + 26, str(one.number), size=18, weight=700, colour=DEEP)
    if one.lies == "loose":
        sheet.text(x + 112, y + 60, "loose,", anchor="middle", size=15, colour=QUIET)
        sheet.text(x + 112, y + 79, "no bag", anchor="middle", size=15, colour=QUIET)
    for up, words in ((32, one.scale or ""), (13, one.scratch or "")):
        if words:
            sheet.text(x + 10, y + HIGH - up, words, size=15)
    if one.sort:
        mark = {None: "", True: "✓ ", False: "✗ "}[one.right]
        colour = {None: DEEP, True: GREEN, False: RUST}[one.right]
        sheet.text(x + WIDE - 10, y + HIGH - 13, mark + one.sort, size=16, weight=700, anchor="end", colour=colour)


def sleeves_on_bench(sleeves: Sequence[Seen], at: int = 0) -> Figure:
    """Sleeves on a bench, each with what is known of it; each can be pointed at: the act is "at", its value the number.

    Source: common practice (bag, scale, scratch).

    >>> shown = sleeves_on_bench([Seen(1, "bag", label="aluminium"), Seen(2, "loose", scale="3.3 ×", scratch="red")], 1)
    >>> shown.alt.split(". ")[2]
    'Sleeve 2: loose, weighed 3.3 ×, scratched: red.'
    """
    rows = -(-len(sleeves) // 4)
    sheet, said = Drawing(4 * WIDE, rows * HIGH), []
    for place, one in enumerate(sleeves):
        began = len(sheet.parts)
        _place(sheet, WIDE * (place % 4), HIGH * (place // 4), one, one.number == at)
        drawn, sheet.parts[began:] = "".join(sheet.parts[began:]), []
        words = _in_words(one)
        mark = ' data-on="1"' if one.number == at else ""
        sheet.add(f'<g data-pick="at" data-value="{one.number}" data-label="{words}"{mark}>{drawn}</g>')
        said.append(words)
    return sheet.figure(f"{len(sleeves)} silver sleeves of one size on a bench. " + ". ".join(said) + ".")


def _in_words(one: Seen) -> str:
    label = (one.label or "not read").replace("-\n", "").replace("\n", " ")
    parts = {"bag": f"in a bag, label {label}", "torn": f"in a torn bag, label {label}", "loose": "loose"}[one.lies]
    parts += f", weighed {one.scale}" if one.scale else ""
    parts += f", scratched: {one.scratch}" if one.scratch else ""
    parts += f", sorted as {one.sort}" if one.sort else ""
    parts += {None: "", True: ", right", False: ", not so"}[one.right]
    return f"Sleeve {one.number}: {parts}"


def draw_plated(sheet: Drawing, x: float, y: float, scale: float, press: Press, designation: str, sleeve_metal: str) -> None:
    """A sleeve's section at (x, y) in its metal; a plating stands as a pale rim, drawn much too thick so that it can be seen."""
    if "plated" in sleeve_metal:
        outside = [(x + px * scale, y + py * scale) for px, py in press.outline()]
        sheet.shape(outside, fill=PLATING, stroke=INK, width=17)
        sheet.shape(outside, fill=PLATING, stroke=PLATING, width=12)
    draw_sleeve(sheet, x, y, scale, press, True, designation, jaws=False, metal=METAL_FILL[sleeve_metal])


def in_section(sleeve_metal: str, cable: str, designation: str, growth: float = 4 / 3) -> Figure:
    """A sleeve of a metal pressed on a cable, cut across at a middle crimp; `cable` is its name in words.

    >>> "metal in the valleys" in in_section("aluminium", "1/8 7x19 stainless", "7x19").alt
    True
    """
    sheet, x, y, scale = Drawing(680, 320), 176, 160, 92
    press = Press(1.0, growth=growth)
    draw_plated(sheet, x, y, scale, press, designation, sleeve_metal)
    spots = [(f"cable: {cable}", (0.1, -press.leg_centre - 0.2), INK), ("sleeve: " + sleeve_metal, (press.closed_radius * 0.86, -0.25), INK),
             ("metal in the valleys", (0.47, press.leg_centre), GREEN)]
    if "plated" in sleeve_metal:
        spots.append(("its plating (drawn too thick)", (press.closed_radius * 0.78, press.closed_radius * 0.74), QUIET))
    for row, (words, (px, py), colour) in enumerate(spots):
        sheet.leader(350, 62 + 58 * row, x + px * scale, y + py * scale, colour=colour)
        sheet.text(357, 67 + 58 * row, words, weight=600, colour=colour)
    return sheet.figure(f"Section of a {sleeve_metal} sleeve pressed on {cable}, at a middle crimp: two bare legs, metal in the valleys of both. "
                        "From the shape nobody can tell whether the two metals suit each other.",
                        "In shape every metal looks right on the day it is pressed.")
