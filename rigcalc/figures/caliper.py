"""A caliper turned round a cable in section: its jaws close on the true outline, on a coat, or on a squeezed place."""

from __future__ import annotations

from collections.abc import Sequence

from rigcalc.figures.cut_ends import Offcut
from rigcalc.figures.constructions import Jaws, draw_section, draw_side, jaws_on, outline
from rigcalc.figures.drawing import DEEP, INK, PAPER, QUIET, RUST, Drawing, Figure, number

__all__ = ["caliper_closed", "draw_caliper", "places_on_offcut", "wrong_readings"]


def _jaw(sheet: Drawing, x: float, y: float, edge: float, side: int) -> None:
    sheet.shape([(x + edge, y - 118), (x + edge + side * 36, y - 118), (x + edge + side * 36, y + 70), (x + edge + side * 10, y + 104), (x + edge, y + 104)],
                fill="jaw", width=2.5)


def draw_caliper(sheet: Drawing, x: float, y: float, scale: float, one: Offcut, turn_deg: float, squeeze: tuple[float, float] = (1.0, 1.0),
                 reading: str = "", coated: bool = False) -> None:
    """A caliper round an offcut at (x, y), `scale` px for 1 diameter of its steel; the cable is turned under level jaws."""
    if coated:
        half = one.coat_mm / one.steel_mm * scale / 2
        low, high = -half, half
    else:
        jaws = jaws_on(one.designation, turn_deg, squeeze)
        low, high = jaws.low * scale, jaws.high * scale
    for side, edge in ((-1, low), (1, high)):
        _jaw(sheet, x, y, edge, side)
    sheet.rect(x + low - 36, y - 132, high - low + 72, 28, fill="jaw", width=2.5)
    if coated:
        sheet.circle(x, y, half, fill="coat", width=2)
        sheet.circle(x, y, scale / 2, fill=PAPER, stroke=INK, width=1)
        draw_section(sheet, x, y, scale, one.designation, -turn_deg)
    else:
        sheet.add(f'<g transform="translate({number(x)} {number(y)}) rotate({number(-turn_deg)}) scale({squeeze[0]:.4f} {squeeze[1]:.4f})">')
        draw_section(sheet, 0, 0, scale, one.designation)
        for cx, cy, r in outline(one.designation):
            sheet.add(f'<circle cx="{number(cx * scale)}" cy="{number(cy * scale)}" r="{number(r * scale)}" fill="none" stroke="{DEEP}" stroke-width="1.4" stroke-dasharray="4 3"/>')
        sheet.add("</g>")
    if reading:
        sheet.text(x, y - 142, f"reads {reading}", anchor="middle", weight=700)


def caliper_closed(one: Offcut, turn_deg: float, reading: str, stands: str = "", squeeze: tuple[float, float] = (1.0, 1.0), coated: bool = False) -> Figure:
    """One caliper closed on an offcut.

    Parameters
    ----------
    one : Offcut
        What is measured.
    turn_deg : float
        By how much the caliper is turned, degrees from a crown.
    reading : str
        What it reads, in words with the unit.
    stands : str
        Where the jaws stand, in words; empty where that is for the reader to see.
    """
    sheet = Drawing(480, 316)
    draw_caliper(sheet, 240, 176, 176 if not coated else 176 * one.steel_mm / one.coat_mm, one, turn_deg, squeeze, reading, coated)
    if stands:
        sheet.text(240, 304, stands, anchor="middle", weight=600, colour=DEEP)
    where = f" The jaws stand {stands}." if stands else ""
    on = "the coat of a cable" if coated else f"a cable with {len(outline(one.designation))} ridges round it; its jaws touch {_touched(jaws_on(one.designation, turn_deg, squeeze))}"
    return sheet.figure(f"A caliper closed on {on}. It reads {reading}.{where}",
                        "" if coated else "The dashed circles: how far each strand or outer wire reaches as it winds round. On those the jaws close.")


def _touched(jaws: Jaws) -> str:
    left, right = jaws.touched
    return f"{left} of them on one side and {right} on the other" + (", at their highest" if jaws.stands == "crowns" else "")


def places_on_offcut(one: Offcut, at: int, coated: bool = False) -> Figure:
    """An offcut from the side with three places to measure; `at` is the place that the caliper is at, from 1."""
    sheet, d = Drawing(700, 104), 44
    if coated:
        sheet.rect(20, 62 - d / 2, 660, d, corner=4, fill="coat", width=2)
    else:
        draw_side(sheet, 20, 62, 660, d, one.designation, fine=False)
    for place, x in enumerate((130, 350, 570), 1):
        here = place == at
        sheet.path(f"M{x} {62 - d / 2 - 8}V{62 + d / 2 + 8}", stroke=RUST if here else QUIET, width=4 if here else 2, dash="" if here else "5 4")
        sheet.text(x, 24, f"place {place}" + (", the caliper is here" if here else ""), anchor="middle", weight=700 if here else 400)
    return sheet.figure(f"The offcut from the side, with three places marked along it. The caliper is at place {at}.")


def wrong_readings(cases: Sequence[tuple[Offcut, float, tuple[float, float], bool, str]]) -> Figure:
    """Calipers that mislead, two in a row, a letter each and no word of what is wrong: (offcut, turn, squeeze, coated, reading)."""
    rows = (len(cases) + 1) // 2
    sheet, said = Drawing(700, 312 * rows), []
    for at, (one, turn, squeeze, coated, reading) in enumerate(cases):
        x, y, letter = 175 + 350 * (at % 2), 176 + 312 * (at // 2), "PQRS"[at]
        draw_caliper(sheet, x, y, 150 if not coated else 150 * one.steel_mm / one.coat_mm, one, turn, squeeze, reading, coated)
        sheet.text(x - 152, y - 142, letter, size=20, weight=700, colour=DEEP)
        on = "a smooth coat" if coated else f"a cable whose ridges it touches: {_touched(jaws_on(one.designation, turn, squeeze))}"
        said.append(f"{letter} is closed on {on}{'; the cable is flatter that way than the other' if squeeze != (1.0, 1.0) else ''}; it reads {reading}")
    return sheet.figure(f"{len(cases)} calipers, a letter each. {'. '.join(said)}.")
