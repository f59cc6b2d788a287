"""Cut ends of cable: five offcuts of a bin, strands and wires marked as they are counted, crowns that are rubbed away."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from math import acos, pi, sqrt

from rigcalc.cable import construction
from rigcalc.figures.constructions import Pointed, draw_section, draw_side, section_wires, strand_radius
from rigcalc.figures.drawing import DEEP, INK, PAPER, QUIET, RUST, Drawing, Figure, millimetres, number

__all__ = ["Offcut", "Worn", "cut_end", "offcuts", "rubbed", "rubbed_crowns"]


@dataclass(frozen=True)
class Offcut:
    """One offcut as it is drawn: letter, construction, diameter of the steel in mm, outside of a coat in mm or None."""

    letter: str
    designation: str
    steel_mm: float
    coat_mm: float | None = None


def offcuts(pieces: Sequence[Offcut], px_per_mm: float = 11.0) -> Figure:
    """Offcuts side by side in a bin, all to one scale, without a label: from the side and on their cut ends."""
    sheet = Drawing(700, 84 * len(pieces) + 24)
    for row, one in enumerate(pieces):
        y, d = 62 + 84 * row, one.steel_mm * px_per_mm
        sheet.text(16, y + 7, one.letter, size=20, weight=700, colour=DEEP)
        if one.coat_mm:
            wide = one.coat_mm * px_per_mm
            sheet.rect(60, y - wide / 2, 420, wide, corner=4, fill="coat", width=2)
            sheet.circle(560, y, wide / 2, fill="coat", width=2)
            sheet.circle(560, y, d / 2, fill=PAPER, stroke=INK, width=1)
        else:
            draw_side(sheet, 60, y, 420, d, one.designation, fine=False, shift=row / 7)
        draw_section(sheet, 560, y, d, one.designation, -90 + 17 * row)
    sheet.text(540, 18, "cut end", size=15, colour=QUIET)
    said = "; ".join(f"{one.letter}: {'coated' if one.coat_mm else 'bare'}" for one in pieces)
    return sheet.figure(f"{len(pieces)} offcuts from a bin, from the side and on their cut ends, all to one scale, without a label. {said}.",
                        "Five offcuts, INVENTED. None has a label.")


def cut_end(designation: str, strands: Collection[int] = (), wires: Collection[int] = (), opened: int | None = None, pointed: Pointed | None = None,
            level: str = "strand") -> Figure:
    """A cut end, with what has been counted marked; at its right one strand opened, large enough to count its wires.

    Parameters
    ----------
    designation : str
        Any construction of the table. No word on the drawing names it.
    strands, wires : collection of int
        What has been counted.
    opened : int, optional
        The strand that is opened; one strand alone is drawn large by itself.
    level : str
        "strand": the bundles at the left can be pointed at; "wire": the round pieces at the right.
    """
    sheet = Drawing(700, 372)
    draw_section(sheet, 176, 182, 300, designation, -90, strands=strands, pointed=pointed if level == "strand" else None)
    sheet.text(176, 364, "the cut end", anchor="middle", colour=QUIET)
    if opened is not None:
        strand = [wire for wire in section_wires(designation) if wire.strand == opened]
        scale = 300 / (2 * strand_radius(designation))
        x, y = 524 + strand[0].y_mm * -scale, 182 + strand[0].x_mm * scale
        draw_section(sheet, x, y, scale, designation, -90, wires=wires, pointed=pointed if level == "wire" else None, level="wire", only=opened)
        sheet.text(524, 364, "one bundle, opened", anchor="middle", colour=QUIET)
    said = f" One bundle is drawn large; {len(wires)} of its round pieces are marked." if opened is not None else ""
    return sheet.figure(f"The cut end of a cable; {len(strands)} of its bundles are marked as counted.{said}")


# --- rubbing ---------------------------------------------------------------------------------------

@dataclass(frozen=True)
class Worn:
    """What a flat place rubbed into a section leaves: wires cut through, wires touched, and steel lost, a share."""

    through: int
    touched: int
    lost: float


def rubbed(designation: str, depth: float) -> Worn:
    """A flat rubbed into a crown, `depth` in diameters of the cable: each wire as a circle, cut by a straight line.

    >>> rubbed("7x7", 0.05).through, rubbed("7x19", 0.1).through
    (0, 3)
    """
    line, through, touched, lost, whole = 0.5 - depth, 0, 0, 0.0, 0.0
    for wire in section_wires(designation):
        r, over = wire.major_mm, wire.x_mm + wire.major_mm - line
        whole += pi * r * r
        if over > 1e-9:
            over = min(over, 2 * r)
            touched += 1
            through += over >= 2 * r - 1e-9
            lost += r * r * acos((r - over) / r) - (r - over) * sqrt(max(0.0, 2 * r * over - over * over))
    return Worn(through, touched, lost / whole)


def rubbed_crowns(designations: Sequence[str], depth: float, diameter_mm: float, name: str) -> Figure:
    """The same cable in several constructions, a flat of the same depth rubbed into a crown of each.

    Parameters
    ----------
    designations : sequence of str
        Two, side by side.
    depth : float
        In diameters of the cable.
    diameter_mm : float
        Diameter, mm; `name` is its size.
    """
    sheet, scale, said = Drawing(340 * len(designations) + 10, 372), 290, []
    for at, designation in enumerate(designations):
        x, y, worn = 172 + 340 * at, 186, rubbed(designation, depth)
        draw_section(sheet, x, y, scale, designation, -90)
        line = y - scale * (0.5 - depth)
        sheet.rect(x - 112, y - scale / 2 - 12, 224, max(0.0, line - y + scale / 2 + 12), fill="#ffffff", stroke="#ffffff", width=0)
        sheet.path(f"M{number(x - 128)} {number(line)}H{number(x + 128)}", stroke=RUST, width=3, dash="9 5")
        wire = diameter_mm / construction(designation).wires_across
        sheet.text(x, 358, f"{designation}: wire {millimetres(wire)} thick", anchor="middle", weight=600)
        said.append(f"{designation}: {worn.through} wires cut through, {worn.touched} touched, {worn.lost:.1%} of the steel gone at this cut")
    return sheet.figure(f"A flat of {millimetres(depth * diameter_mm)} rubbed into a crown of {name} in cable. {'; '.join(said)}.",
                        "Above the dashed line the steel is gone. One cut is drawn; along the cable every strand comes to the rubbed side in turn.")
