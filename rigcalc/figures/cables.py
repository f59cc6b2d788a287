"""The cable in true section, and a caliper on it."""

from __future__ import annotations

from functools import lru_cache
from math import atan2, cos, degrees, pi, sin

from rigcalc.figures.drawing import DEEP, GREEN, INK, QUIET, RUST, STEEL, Drawing, Figure, millimetres, number

__all__ = ["cable_section", "caliper_on_section", "wires_at_crown", "draw_cable"]


@lru_cache(maxsize=32)
def wires_at_crown(designation: str, crown_angle: float = pi / 2):
    """The wires of a cable of diameter 1 as (x, y, half long, half short, angle in degrees, strand, core?).

    The section is turned so that a crown lies at `crown_angle` (rad).
    """
    from rigcalc.cable import section, sleeve_construction

    wires = section(sleeve_construction(designation).designation, 1.0)
    centres: dict[int, list[float]] = {}
    for wire in wires:
        spot = centres.setdefault(wire.strand, [0.0, 0.0, 0])
        spot[0], spot[1], spot[2] = spot[0] + wire.x_mm, spot[1] + wire.y_mm, spot[2] + 1
    middles = {name: (x / n, y / n) for name, (x, y, n) in centres.items()}
    core = min(middles, key=lambda name: middles[name][0] ** 2 + middles[name][1] ** 2)
    first = next(m for name, m in sorted(middles.items()) if name != core)
    turn = crown_angle - atan2(first[1], first[0])
    c, s = cos(turn), sin(turn)
    return [(w.x_mm * c - w.y_mm * s, w.x_mm * s + w.y_mm * c, w.major_mm, w.minor_mm,
             degrees(w.angle_rad + turn), w.strand, w.strand == core) for w in wires]


def draw_cable(sheet: Drawing, x: float, y: float, scale: float, designation: str, squeeze=(1.0, 1.0),
               crown_angle: float = pi / 2) -> None:
    """A cable's section at (x, y), `scale` px for its diameter; `squeeze` presses it across and along."""
    sx, sy = (part * scale / 100 for part in squeeze)
    mark = sheet.symbol(f"cable-{designation}-{round(degrees(crown_angle))}", lambda: _wires_svg(designation, crown_angle))
    sheet.add(f'<use href="#{mark}" transform="translate({number(x)} {number(y)}) scale({sx:.4f} {sy:.4f})"/>')


@lru_cache(maxsize=32)
def _wires_svg(designation: str, crown_angle: float) -> str:
    """The wires of a cable 100 px across, drawn once a sheet and used as often as needed."""
    groups = {True: [], False: []}
    for wx, wy, major, minor, angle, _, core in wires_at_crown(designation, crown_angle):
        place = f"{number(wx * 100)} {number(wy * 100)}"
        groups[core].append(f'<ellipse vector-effect="non-scaling-stroke" rx="{number(major * 100)}" ry="{number(minor * 100)}" '
                            f'transform="translate({place}) rotate({number(angle)})"/>')
    return "".join(f'<g fill="{"#7d919e" if core else STEEL}" stroke="{INK}" stroke-width="1">{"".join(wires)}</g>'
                   for core, wires in groups.items())


def cable_section(designation: str = "7x19", diameter_mm: float = 3.175, name: str = "") -> Figure:
    """The true section of a cable: every wire an ellipse, as a square cut shows it.

    Parameters
    ----------
    designation : str
        Construction, "7x7" or "7x19".
    diameter_mm : float
        Diameter across the crowns, mm, above 0.
    name : str
        The size as the trade says it, such as "1/8".
    """
    from rigcalc.cable import sleeve_construction

    made = sleeve_construction(designation)
    sheet, x, y, scale = Drawing(690, 372), 192, 160, 290
    sheet.circle(x, y, scale / 2, stroke=QUIET, width=1.5)
    draw_cable(sheet, x, y, scale, designation)
    across = scale / 3
    spot = (x + across * cos(pi / 6), y - across * sin(pi / 6))
    sheet.circle(*spot, scale / 6, stroke=DEEP, width=4)
    sheet.circle(x, y, scale / 6, stroke=RUST, width=4)
    valley = (x + 0.40 * scale, y)
    for height, words, at, colour in (
            (50, f"one strand of {made.wires_per_strand} wires", spot, DEEP),
            (160, "a valley between two strands", valley, INK),
            (228, "the core strand", (x + scale / 9, y + scale / 9), RUST),
            (285, "one wire", (x + 0.30 * scale, y + 0.245 * scale), INK)):
        sheet.leader(383, height - 5, *at, colour=colour)
        sheet.text(390, height, words, weight=600, colour=colour)
    sheet.text(390, 72, f"{made.strands} strands × {made.wires_per_strand} = {made.wires} wires", colour=QUIET)
    sheet.text(390, 182, "(soft sleeve metal goes in here)", size=15, colour=QUIET)
    size = f"{name} in = " if name else ""
    sheet.measure(x - scale / 2, x + scale / 2, 332, f"across the crowns: {size}{millimetres(diameter_mm)}", above=False, drop=-170)
    alt = (f"Section of a {name + ' in ' if name else ''}{designation} cable, {millimetres(diameter_mm)} across its crowns: "
           f"{made.strands - 1} strands round one core strand, {made.wires_per_strand} wires in each, {made.wires} wires "
           "in all. Between every two outer strands lies a valley.")
    return sheet.figure(alt, f"A {designation} cable cut square. Count the strands, then the wires in one.")


def caliper_on_section(diameter_mm: float = 4.7625, designation: str = "7x19", on: str = "crowns") -> Figure:
    """A caliper on the cable: over two crowns it reads the diameter, over two flats it reads less.

    Parameters
    ----------
    diameter_mm : float
        Diameter across the crowns, mm.
    on : str
        "crowns", "flats", or "both" side by side.
    """
    from rigcalc.cable import flats_reading_mm

    places = ("crowns", "flats") if on == "both" else (on,)
    sheet = Drawing(340 * len(places), 300)
    said = []
    for column, place in enumerate(places):
        reading = diameter_mm if place == "crowns" else flats_reading_mm(diameter_mm)
        _caliper(sheet, 340 * column + 170, 150, 150 / diameter_mm, diameter_mm, reading, place, designation)
        said.append(f"over the {place} it reads {millimetres(reading)}")
    alt = (f"A caliper on a {designation} cable of {millimetres(diameter_mm)}: " + "; ".join(said) + ".")
    return sheet.figure(alt, "Turn the cable until the caliper reads most: then the jaws stand on two crowns.")


def _caliper(sheet, x, y, scale, diameter, reading, place, designation) -> None:
    half = reading * scale / 2
    for side in (-1, 1):
        edge = x + side * half
        sheet.shape([(edge, 40), (edge + side * 34, 40), (edge + side * 34, 218), (edge + side * 10, 250), (edge, 250)],
                    fill="jaw", width=2.5)
    sheet.rect(x - half - 34, 28, 2 * half + 68, 26, fill="jaw", width=2.5)
    draw_cable(sheet, x, y, diameter * scale, designation, crown_angle=0 if place == "crowns" else pi / 6)
    good = place == "crowns"
    sheet.text(x, 22, f"reads {millimetres(reading)}", anchor="middle", weight=700, colour=GREEN if good else RUST)
    sheet.text(x, 278, "✓ over two crowns" if good else "✗ over two flats: too little", anchor="middle",
               weight=600, colour=GREEN if good else RUST)


