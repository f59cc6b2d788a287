"""Two metals that touch: a pair in its service with its year of looks, the wrong pair in stages, and the voltage rule as bars."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, pi, sin

from rigcalc.errors import Refusal
from rigcalc.figures.cables import draw_cable
from rigcalc.figures.drawing import DEEP, GREEN, INK, PAPER, QUIET, RUST, Drawing, Figure, number
from rigcalc.figures.eyes import draw_end, draw_loop, draw_rope, draw_sleeve_side
from rigcalc.figures.press import Press, rosette
from rigcalc.figures.silver_sleeves import METAL_FILL, PLATING

__all__ = ["STAGES", "Bar", "pair_in_service", "volts", "wrong_pair", "wrong_pair_stages"]

STAGES = ("new", "white bloom", "wall thinned", "let go")
SKY, WATER = "#eef4f8", "#cfe2ec"
PLACES = {"dry": "a dry room", "outdoor": "open air, rain", "marine": "salt spray", "immersed": "under water, or pool-hall air"}


# --- a pair in its service ------------------------------------------------------------------------

def _place(sheet: Drawing, service: str) -> None:
    """The air or water round the piece, in a box 690 by 215."""
    sheet.rect(4, 4, 682, 212, corner=8, fill=WATER if service == "immersed" else PAPER if service == "dry" else SKY, width=2)
    n = number
    if service == "dry":
        sheet.path("M20 60L345 14L670 60", width=5, stroke=QUIET)
        sheet.path("M60 56V206M630 56V206", width=5, stroke=QUIET)
    elif service == "immersed":
        sheet.path("M8 34" + "q14 -12 28 0t28 0" * 12, stroke=DEEP, width=3)
        for x, y, r in ((90, 66, 5), (110, 84, 4), (72, 100, 6), (96, 160, 5)):
            sheet.circle(x, y, r, fill=PAPER, stroke=DEEP, width=2)
    else:
        sheet.path("M500 46q4 -26 30 -22q14 -22 40 -8q30 -10 36 18q22 4 12 22h-112q-16 0 -6 -10z", fill=PAPER, stroke=QUIET, width=3)
        for x in range(516, 610, 22):
            sheet.path(f"M{n(x)} 66l-10 26", stroke=DEEP, width=3)
    if service == "marine":
        sheet.path("M8 204" + "q12 -20 34 -12q-14 8 -2 14t10 -2" * 12, stroke=DEEP, width=3)
        for x, y in ((60, 160), (82, 142), (104, 162), (560, 152), (582, 166), (640, 150)):
            sheet.path(f"M{x} {y}q6 10 0 14q-6 -4 0 -14z", fill=DEEP, stroke=DEEP, width=1)


def _piece(sheet: Drawing, sleeve_metal: str, y: float) -> None:
    draw_rope(sheet, f"M300 {number(y - 9)}H640", 17)
    draw_rope(sheet, f"M300 {number(y + 9)}H425", 17)
    draw_end(sheet, 425, y + 9, 17)
    draw_loop(sheet, 150, 282, y, 17, 42, 9)
    plated = "plated" in sleeve_metal
    fill = PLATING if plated else METAL_FILL[sleeve_metal]
    crimps = [282 + 120 * (2 * i + 1) / 6 for i in range(3)]
    draw_sleeve_side(sheet, 282, y, 120, 17, crimps, 32, fill=fill)
    for at in crimps:  # the crimps in the sleeve's own metal
        sheet.rect(at - 13, y - 21, 26, 42, fill=fill, width=1.5)
    if plated:
        sheet.rect(282 + 28, y - 13, 64, 26, corner=3, fill="copper", stroke=QUIET, width=2)


def pair_in_service(cable: str, sleeve_metal: str, service: str, months: Sequence[int] | None = None, words: str = "",
                    refused: bool = False) -> Figure:
    """A pair in its place, over a year of twelve months; `months` are those in which somebody looks, None while nothing is said.

    Parameters: cable metal, sleeve metal and service in the words of `pairing`; the months 1 to 12 with a look; words under the year;
    whether the pair is refused here.

    >>> pair_in_service("stainless", "zinc-plated copper", "marine", (3, 6, 9, 12), "look every 3 months").alt[-40:]
    ' Looked at in the months 3, 6, 9 and 12.'
    """
    if service not in PLACES:
        raise Refusal(f"the service {service}", ", ".join(PLACES), "take one of these")
    sheet, y = Drawing(690, 324), 116
    _place(sheet, service)
    _piece(sheet, sleeve_metal, y)
    sheet.text(*{"dry": (345, 52), "immersed": (452, 66)}.get(service, (345, 30)), PLACES[service], anchor="middle", weight=700, colour=DEEP, halo=True)
    sheet.text(342, y + 68, f"sleeve: {sleeve_metal}" + (" (a window in its plating)" if "plated" in sleeve_metal else ""), anchor="middle", weight=600, halo=True)
    sheet.text(535, y - 24, f"cable: {cable}", anchor="middle", weight=600, halo=True)
    for month in range(12):
        x, look = 12 + 55.5 * month, months is not None and month + 1 in months
        sheet.rect(x, 234, 52, 42, corner=4, fill=PAPER, stroke=DEEP if look else "#c9c2b4", width=4 if look else 1.5)
        sheet.text(x + 8, 253, str(month + 1), size=15, colour=INK if look else QUIET)
        if look:
            sheet.path(f"M{number(x + 22)} 262q12 -14 24 0q-12 14 -24 0z", fill=PAPER, stroke=DEEP, width=2.5)
            sheet.circle(x + 34, 262, 4, fill=DEEP, stroke=DEEP)
    sheet.text(345, 306, words or "a year: when is it looked at?", anchor="middle", weight=700 if words else 400, colour=INK if words else QUIET)
    if refused:
        for start, end in ((-1, 1), (1, -1)):
            sheet.line(342 + 74 * start, y - 40, 342 + 74 * end, y + 40, stroke=PAPER, width=13)
            sheet.line(342 + 74 * start, y - 40, 342 + 74 * end, y + 40, stroke=RUST, width=7)
        sheet.line(12, 255, 674, 255, stroke=RUST, width=4, dash="12 8")
    looked = " It is refused here, and struck out." if refused else ""
    if months and not refused:
        named = [str(month) for month in months]
        looked = f" Looked at in the months {', '.join(named[:-1])} and {named[-1]}." if len(named) > 1 else f" Looked at in month {named[0]}."
    return sheet.figure(f"An eye in {cable} cable with a {sleeve_metal} sleeve, in {PLACES[service]}; under it a year in twelve boxes.{looked}")


# --- the wrong pair in stages ---------------------------------------------------------------------

def _bloom(sheet: Drawing, x: float, y: float, high: float) -> None:
    """White bloom at a sleeve's mouth: a crust of small rounds, outlined."""
    for dx, dy, r in ((0, -0.9, 7), (4, -0.55, 9), (2, -0.2, 7), (5, 0.15, 9), (1, 0.5, 8), (4, 0.85, 7), (11, -0.35, 5), (12, 0.3, 5)):
        sheet.circle(x + dx, y + dy * high, r, fill=PAPER, stroke=INK, width=1.6)


def _outside(sheet: Drawing, stage: int, y: float) -> None:
    gone = stage == 3
    shift = 152 if gone else 0  # the cable has drawn out of the sleeve
    if gone:
        draw_loop(sheet, 26, 128, y, 17, 38, 9)
        draw_rope(sheet, f"M128 {y - 9}H136", 17)
        draw_rope(sheet, f"M128 {y + 9}H254", 17)
        draw_end(sheet, 254, y + 9, 17)
        draw_rope(sheet, f"M{160 + shift} {y - 9}H372", 17)
        draw_end(sheet, 160 + shift, y - 9, 17)
    else:
        draw_rope(sheet, f"M128 {y - 9}H372", 17)
        draw_rope(sheet, f"M128 {y + 9}H244", 17)
        draw_end(sheet, 244, y + 9, 17)
        draw_loop(sheet, 26, 128, y, 17, 38, 9)
    crimps = [128 + 96 * (2 * i + 1) / 6 for i in range(3)]
    draw_sleeve_side(sheet, 128, y, 96, 17, crimps, 26)
    if stage:
        _bloom(sheet, 122, y, 22)
        _bloom(sheet, 222, y, 22)


def _inside(sheet: Drawing, stage: int, x: float, y: float, scale: float, designation: str, growth: float) -> None:
    """The closed crimp cut across: the wall between the strands and the outside grows thin from within."""
    press, eaten = Press(1.0, growth=growth), (0.0, 0.05, 0.2, 0.27)[stage]
    sheet.circle(x, y, press.closed_radius * scale, fill="sleeve", width=3)
    for side in (-1, 1):
        cy = y + side * press.leg_centre * scale
        if stage:
            points = [(x + (rosette(a + pi / 6) + eaten) * cos(a) * scale * 1.05, cy + (rosette(a + pi / 6) + eaten) * sin(a) * scale * 0.97)
                      for a in (2 * pi * i / 120 for i in range(120))]
            sheet.shape(points, fill=PAPER, width=2.5)
            for i in range(0, 120, 9):
                a = 2 * pi * i / 120
                reach = rosette(a + pi / 6) + eaten * 0.55
                sheet.circle(x + reach * cos(a) * scale, cy + reach * sin(a) * scale, max(2.0, eaten * scale * 0.22), fill=PAPER, stroke=INK, width=1)
    for side in (-1, 1):
        if stage == 3 and side < 0:
            continue  # this leg has drawn out
        draw_cable(sheet, x, y + side * press.leg_centre * scale, scale, designation, (1.05, 0.94))
    if stage == 3:
        sheet.text(x, y - press.leg_centre * scale + 6, "gone", anchor="middle", weight=700, colour=RUST)


STAGE_WORDS = (("bright and whole", "metal in the valleys"), ("white bloom at the mouths", "white dust begins inside"),
               ("white bloom: as before", "little wall is left"), ("a leg drew out", "no metal in the valleys"))


def wrong_pair(stage: int, opened: bool, designation: str = "7x19", growth: float = 4 / 3, told: bool = True) -> Figure:
    """Aluminium on stainless at a stage (0 to 3): from outside, and, if it is cut open, in section. How long a stage takes is not known.

    `told` False leaves out the words, for a drawing that is asked about.

    >>> "bloom" in wrong_pair(1, False).alt, "wall" in wrong_pair(2, True).alt
    (True, True)
    """
    if stage not in range(4):
        raise Refusal(f"the stage {stage}", "0 to 3", "take one of these")
    sheet = Drawing(690, 270)
    sheet.text(186, 24, "from outside", anchor="middle", weight=700, colour=DEEP)
    sheet.text(540, 24, "cut open at a crimp", anchor="middle", weight=700, colour=DEEP)
    sheet.line(386, 14, 386, 256, stroke=QUIET, width=1.5, dash="4 5")
    _outside(sheet, stage, 128)
    outside, inside = STAGE_WORDS[stage]
    if told:
        sheet.text(186, 226, outside, anchor="middle", weight=600, colour=GREEN if not stage else RUST)
    if opened:
        _inside(sheet, stage, 540, 132, 76, designation, growth)
        if told:
            sheet.text(540, 262, inside, anchor="middle", weight=600, colour=GREEN if not stage else RUST)
    else:
        sheet.circle(540, 132, 86, fill=PAPER, stroke=QUIET, width=2.5)
        sheet.text(540, 130, "not to be seen", anchor="middle", colour=QUIET)
        sheet.text(540, 150, "without a saw", anchor="middle", colour=QUIET)
    alt = f"An aluminium sleeve on stainless cable, from outside: {outside}." + (f" Cut open at a crimp: {inside}." if opened else " Its inside is not to be seen.")
    return sheet.figure(alt, "Stages, not a calendar: nobody knows how long each takes." if told else "")


def wrong_pair_stages(designation: str = "7x19", growth: float = 4 / 3) -> Figure:
    """The four stages in section, side by side.

    >>> wrong_pair_stages().alt.count(";")
    3
    """
    sheet = Drawing(700, 232)
    for stage, name in enumerate(STAGES):
        x = 88 + 174 * stage
        _inside(sheet, stage, x, 96, 66, designation, growth)
        sheet.text(x, 196, f"{stage + 1}: {name}", anchor="middle", weight=700, colour=DEEP if not stage else RUST)
        if stage < 3:
            sheet.arrow(x + 76, 222, x + 100, 222, colour=QUIET, width=3)
    words = "; ".join(f"{stage + 1}, {name}: {STAGE_WORDS[stage][1]}" for stage, name in enumerate(STAGES))
    return sheet.figure(f"A crimp of aluminium on stainless cable cut across, in four stages: {words}.",
                        "Drawn to show the idea; the order is known, the time is not.")


# --- the voltage rule as bars ---------------------------------------------------------------------

@dataclass(frozen=True)
class Bar:
    """One pair under the voltage rule: its name, its gap in V, and what the craft says of it ("" until it is told), and whether that allows it; None where nobody has read that it does."""

    name: str
    gap_v: float
    says: str = ""
    allowed: bool | None = None


def volts(bars: Sequence[Bar], most_v: float, at: int = -1) -> Figure:
    """Bars of the pairs' gaps with the rule's limit as a line; each can be pointed at: the act is "at", its value the row.

    >>> shown = volts([Bar("stainless, aluminium", 0.4, "never", False), Bar("galvanised, zinc-plated", 0.05)], 0.15)
    >>> "stainless, aluminium: 0.4 V, the rule fails it, the craft says never" in shown.alt
    True
    """
    left, wide, row, top = 300, 280, 34, 58
    scale = wide / 1.0
    sheet, said = Drawing(700, top + row * len(bars) + 12), []
    limit = left + most_v * scale
    sheet.text(limit - 6, 22, "fine", anchor="end", weight=700, colour=DEEP)
    sheet.text(limit + 6, 22, "too far apart", weight=700, colour=DEEP)
    sheet.text(limit, 44, f"limit {most_v:g} V", anchor="middle", size=15, colour=QUIET)
    for place, bar in enumerate(bars):
        y, began, passes = top + row * place, len(sheet.parts), bar.gap_v <= most_v
        sheet.rect(4, y + 1, 692, row - 3, corner=5, fill=PAPER, stroke=DEEP if place == at else "#d9d3c6", width=3.5 if place == at else 1)
        sheet.text(12, y + 22, bar.name, size=15, weight=600)
        sheet.rect(left, y + 8, max(3, bar.gap_v * scale), 16, fill="crimp" if passes else "jaw", width=2)
        if bar.says:
            words = bar.says if bar.allowed is None else ("✓ made" if bar.allowed else "✗ refused") + (" · misled" if passes != bar.allowed else "")
            sheet.text(max(left + bar.gap_v * scale, limit) + 10, y + 22, words, size=15, weight=700, colour=GREEN if bar.allowed else RUST)
        drawn, sheet.parts[began:] = "".join(sheet.parts[began:]), []
        words = f"{bar.name}: {bar.gap_v:g} V"
        mark = ' data-on="1"' if place == at else ""
        sheet.add(f'<g data-pick="at" data-value="{place}" data-label="{words}"{mark}>{drawn}</g>')
        said.append(f"{words}, the rule {'passes' if passes else 'fails'} it" + (f", the craft says {bar.says}" if bar.says else ""))
    sheet.line(limit, 50, limit, top + row * len(bars) + 6, stroke=DEEP, width=3, dash="7 5")
    return sheet.figure(f"Bars: how far apart two metals stand in V, for {len(bars)} pairs of cable and sleeve; the rule's limit is {most_v:g} V. " + "; ".join(said) + ".")
