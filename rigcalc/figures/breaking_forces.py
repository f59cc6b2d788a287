"""Breaking forces drawn: systems side by side, a factor's steps, the rows of a table with their gaps."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rigcalc.figures.cables import draw_cable
from rigcalc.figures.drawing import DEEP, GREEN, INK, PAPER, QUIET, RUST, STEEL, Drawing, Figure, millimetres, number
from rigcalc.figures.eyes import draw_rope
from rigcalc.figures.pulls import Pointed

__all__ = ["Force", "Gap", "factor_steps", "table_ladder", "systems_beside"]

LEFT, RIGHT = 24.0, 640.0


@dataclass(frozen=True)
class Force:
    """One paper's breaking force: its name, the force in N or None, in words, and whether it is shown."""

    name: str
    force_n: float | None
    words: str
    shown: bool = True


def systems_beside(forces: Sequence[Force], construction: str, size: str, nominal_mm: float, most_mm: float, counts: str = "", caption: str = "") -> Figure:
    """Each system's figure as a cable as long as its force; beside them how thick the inch size may be.

    Parameters
    ----------
    forces : sequence of Force
        Two or three, in their order.
    construction, size : str
        The cable.
    nominal_mm, most_mm : float
        What its name says, and the thickest that its band lets it be, mm.
    counts : str
        The name of the force that counts, underlined once shown; "" for none.
    caption : str
        Under the drawing.
    """
    rows = 78.0 * len(forces)
    sheet = Drawing(700, rows + 204)
    most = max([one.force_n for one in forces if one.force_n and one.shown] or [1.0])
    for at, one in enumerate(forces):
        y = 24 + 78.0 * at
        sheet.text(LEFT, y, one.name, size=17, weight=700, colour=DEEP)
        if not one.shown or one.force_n is None:
            sheet.line(LEFT, y + 28, RIGHT, y + 28, stroke=QUIET, width=2, dash="4 8")
            sheet.text((LEFT + RIGHT) / 2, y + 34, one.words if one.shown else "?", size=17, anchor="middle", weight=700, colour=QUIET, halo=True)
            continue
        end = LEFT + (RIGHT - LEFT) * one.force_n / most
        draw_rope(sheet, f"M{number(LEFT)} {number(y + 28)}H{number(end)}", 14)
        sheet.text(RIGHT + 36, y, one.words, size=18, anchor="end", weight=700, colour=GREEN if one.name == counts else INK)
        if one.name == counts:
            sheet.line(LEFT, y + 48, end, y + 48, stroke=GREEN, width=3)
    y, scale = rows + 104, 150 / most_mm
    sheet.circle(120, y, most_mm * scale / 2, fill="void", stroke=RUST, width=2)
    sheet.circle(120, y, nominal_mm * scale / 2, fill=PAPER, stroke=PAPER, width=1)
    draw_cable(sheet, 120, y, nominal_mm * scale, construction)
    sheet.leader(236, y - 34, 120 + nominal_mm * scale * 0.42, y - 16, colour=INK)
    sheet.text(244, y - 28, f"its name: {millimetres(nominal_mm)}. The factor counts this.", weight=600)
    sheet.leader(236, y + 30, 120 + most_mm * scale / 2 - 2, y + 14, colour=RUST)
    sheet.text(244, y + 36, f"crossed: room up to {millimetres(most_mm)}. An inch {size} may\nbe as thick as that, never thinner than its name.", weight=600, colour=RUST)
    said = "; ".join(f"{one.name}: {one.words if one.shown else 'not shown yet'}" for one in forces)
    return sheet.figure(f"{size} {construction} in {len(forces)} systems, each a cable as long as its force. {said}. Its name says {millimetres(nominal_mm)}; "
                        f"it may measure up to {millimetres(most_mm)}.", caption)


def factor_steps(construction: str, diameter: str, square: str, share: float, counted: str, grade: str, force: str, reached: int, caption: str = "") -> Figure:
    """From wire grade to breaking force in three pictures: d times d, the share that counts, what each square millimetre holds.

    Parameters
    ----------
    construction, diameter : str
        The cable, and its diameter in words.
    square, counted, grade, force : str
        d times d; the factor times that; the grade; the breaking force; all in words.
    share : float
        The factor, 0 to 1.
    reached : int
        How many steps are shown, 0 to 3.
    caption : str
        Under the drawing.
    """
    sheet, side, y = Drawing(700, 330), 170.0, 62.0
    xs = (34.0, 264.0, 494.0)
    for at, (x, title) in enumerate(zip(xs, ("1  d × d", "2  the factor", "3  times the grade"))):
        sheet.text(x, 36, title, size=18, weight=700, colour=DEEP)
        if at >= reached:
            sheet.rect(x, y, side, side, stroke=QUIET, width=2)
            sheet.text(x + side / 2, y + side / 2 + 10, "?", size=30, anchor="middle", weight=700, colour=QUIET)
    said = []
    if reached > 0:
        sheet.rect(xs[0], y, side, side, fill="void", stroke=RUST, width=2)
        sheet.circle(xs[0] + side / 2, y + side / 2, side / 2, fill=PAPER, stroke=PAPER)
        draw_cable(sheet, xs[0] + side / 2, y + side / 2, side, construction)
        sheet.text(xs[0], y + side + 28, f"{diameter} × {diameter}\n= {square}", weight=600)
        said.append(f"A square round the cable: {diameter} by {diameter}, {square}")
    if reached > 1:
        small = side * share ** 0.5
        sheet.rect(xs[1], y, side, side, stroke=QUIET, width=2)
        sheet.rect(xs[1], y + side - small, small, small, fill=STEEL, width=2.5)
        sheet.text(xs[1], y + side + 28, f"{share:g} of it counts\n= {counted}", weight=600)
        said.append(f"{share:g} of the square counts: {counted}")
    if reached > 2:
        small = side * share ** 0.5
        sheet.rect(xs[2], y + side - small - 46, small, small, fill=STEEL, width=2.5)
        for part in (0.12, 0.37, 0.62, 0.87):
            sheet.arrow(xs[2] + small * part, y + side - 46, xs[2] + small * part, y + side - 6, colour=RUST, width=4, head=12)
        sheet.text(xs[2], y + side + 28, f"{grade} on each mm²\n= {force}", weight=600)
        said.append(f"Each square millimetre holds {grade}: {force}")
    return sheet.figure(f"From wire grade to breaking force, {construction}, {diameter}: {'. '.join(said) if said else 'no step is shown yet'}.", caption)


@dataclass(frozen=True)
class Gap:
    """A place on the ladder: its name, its diameter in mm, its force in N or None where the table has no row, and words."""

    name: str
    diameter_mm: float
    force_n: float | None
    words: str


def table_ladder(places: Sequence[Gap], mark: Pointed | None = None, on: str = "", caption: str = "") -> Figure:
    """The rows of a table as steps, the sizes between them as open places: no line joins two rows.

    Parameters
    ----------
    places : sequence of Gap
        Rows and gaps, thinnest first.
    mark : callable or None
        Makes a place one that can be pointed at.
    on : str
        The place pointed at last.
    caption : str
        Under the drawing.
    """
    sheet, ground, tall = Drawing(700, 380), 292.0, 236.0
    most = max(one.force_n or 0.0 for one in places)
    step = 664 / len(places)
    for at, one in enumerate(places):
        x, part = 18 + step * (at + 0.5), Drawing(700, 1)
        part.rect(x - step / 2, 46, step, ground + 10, fill=PAPER, stroke="none")
        wide = min(step * 0.72, 46.0)
        edge = 5 if one.name == on else 2
        if one.force_n is None:
            part.rect(x - wide / 2, ground - 34, wide, 34, fill=PAPER, stroke=RUST if one.name == on else QUIET, width=edge)
            part.text(x, ground - 10, "?", size=20, anchor="middle", weight=700, colour=RUST)
        else:
            high = max(8.0, tall * one.force_n / most)
            part.rect(x - wide / 2, ground - high, wide, high, fill="crimp", stroke=INK, width=edge)
        lift = 24 if at % 2 == 0 else 48
        part.text(x, ground + lift, one.name, size=15, anchor="middle", weight=700 if one.name == on else 400)
        shape = "".join(part.parts)
        sheet.add(mark(shape, one.name, f"size {one.name}") if mark else shape)
    sheet.line(14, ground, 686, ground, width=3)
    chosen = next((one for one in places if one.name == on), None)
    if chosen:
        sheet.text(24, 34, f"{chosen.name}: {chosen.words}", size=17, weight=700, colour=INK if chosen.force_n is not None else RUST)
    rows = ", ".join(one.name for one in places if one.force_n is not None)
    gaps = ", ".join(one.name for one in places if one.force_n is None)
    return sheet.figure(f"The table's rows as columns as high as their force: {rows}. Open places without a row: {gaps}."
                        + (f" Pointed at {chosen.name}: {chosen.words}." if chosen else ""), caption)
