"""Load against stretch as a band, a mass on a scale beside its force: drawn as own SVG."""

from __future__ import annotations

from dataclasses import dataclass

from rigcalc.figures.drawing import DEEP, INK, JAW, PAPER, QUIET, RUST, STEEL, Drawing, Figure, number
from rigcalc.figures.eyes import draw_rope

__all__ = ["Band", "mass_and_force", "stretch_band"]

LEFT, RIGHT, TOP, GROUND = 84.0, 676.0, 40.0, 300.0


@dataclass(frozen=True)
class Band:
    """What is known of a cable under load: settling and spring at the load, each least and most, in mm."""

    settle_mm: tuple[float, float]
    spring_mm: tuple[float, float]


def stretch_band(band: Band | None, bedded: bool, load_share: float, load: str, most_mm: float, cable: str, caption: str = "", refused: str = "no curve: refused") -> Figure:
    """Load up the side, stretch along the foot: first what stays for good, then what springs back, each as a range.

    Parameters
    ----------
    band : Band or None
        None where the craft refuses: axes alone.
    bedded : bool
        Whether the cable has been loaded before, so that what stays is there from the start.
    load_share : float
        Where the load stands on its axis, 0 to 1.
    load : str
        The load in words.
    most_mm : float
        The end of the foot's scale, mm.
    cable : str
        The cable in words.
    caption : str
        Under the drawing.
    refused : str
        What stands there instead of a curve.
    """
    sheet = Drawing(700, 388)
    sheet.text(350, 22, cable, size=16, anchor="middle", weight=600)
    sheet.arrow(LEFT, GROUND, LEFT, TOP, width=3)
    sheet.arrow(LEFT, GROUND, RIGHT + 14, GROUND, width=3)
    sheet.text(LEFT - 12, TOP + 12, "load", size=16, anchor="end", weight=600)
    sheet.text(RIGHT, GROUND + 50, "stretch, mm", size=16, anchor="end", weight=600)
    y = GROUND - (GROUND - TOP - 36) * load_share

    def at(mm: float) -> float:
        return LEFT + (RIGHT - LEFT) * mm / most_mm

    for part in range(5):
        mm = most_mm * part / 4
        sheet.line(at(mm), GROUND, at(mm), GROUND + 7, width=2)
        sheet.text(at(mm), GROUND + 26, f"{mm:g}", size=15, anchor="middle", colour=QUIET)
    sheet.line(LEFT, y, RIGHT, y, stroke=QUIET, width=1.6, dash="3 6")
    sheet.text(LEFT - 8, y + 6, load, size=15, anchor="end", weight=700, colour=RUST)
    if band is None:
        sheet.text((LEFT + RIGHT) / 2, GROUND - 24, refused, size=18, anchor="middle", weight=700, colour=RUST)
        return sheet.figure(f"Load against stretch of {cable}: axes, and {refused}.", caption)
    (s1, s2), (e1, e2) = band.settle_mm, band.spring_mm
    foot = (s1, s2)
    if bedded:
        sheet.line(at(s1), GROUND - 5, at(s2), GROUND - 5, stroke=DEEP, width=8)
    else:
        sheet.shape([(LEFT, GROUND), (at(s1), GROUND - 10), (at(s2), GROUND - 10), (LEFT + 2, GROUND)], fill="coat", stroke=DEEP, width=2)
    sheet.shape([(at(foot[0]), GROUND - 10), (at(foot[0] + e1), y), (at(foot[1] + e2), y), (at(foot[1]), GROUND - 10)], fill="crimp", stroke=INK, width=2.5)
    sheet.line(at(foot[0] + e1), y, at(foot[1] + e2), y, stroke=RUST, width=6)
    for mm, anchor in ((foot[0] + e1, "end"), (foot[1] + e2, "start")):
        sheet.text(at(mm) + (6 if anchor == "start" else -6), y - 10, f"{mm:.0f}", size=17, anchor=anchor, weight=700, colour=RUST, halo=True)
    kept = "blue bar: it has bedded in by" if bedded else "dotted: beds in, for good,"
    sheet.text(LEFT, GROUND + 52, f"{kept} {s1:.0f} to {s2:.0f} mm", size=16, weight=600, colour=DEEP)
    sheet.text(LEFT, GROUND + 76, f"lined: springs, and comes back, {e1:.0f} to {e2:.0f} mm", size=16, weight=600)
    how = "It has bedded in: it starts that much longer." if bedded else "New: what beds in comes first."
    return sheet.figure(f"Load against stretch of {cable}, as a band. {how} Bedding in {s1:.0f} to {s2:.0f} mm, for good; springing {e1:.0f} to {e2:.0f} mm; "
                        f"at {load} together {s1 + e1:.0f} to {s2 + e2:.0f} mm.", caption)


def mass_and_force(cable: str, mass: str, force: str, caption: str = "") -> Figure:
    """A coil on a balance, which tells its mass, and the same coil under a spring scale, which tells its pull."""
    sheet = Drawing(700, 300)
    for x, title, words, unit in ((180, "on the balance: a mass", mass, "mass"), (520, "on the hook: a force", force, "force")):
        sheet.text(x, 30, title, size=17, anchor="middle", weight=700, colour=DEEP)
        if unit == "mass":
            sheet.rect(x - 96, 216, 192, 20, corner=4, fill=JAW, width=2)
            _coil(sheet, x, 158)
        else:
            sheet.rect(x - 100, 44, 200, 12, fill=JAW, width=2)
            sheet.line(x, 56, x, 74, width=4)
            sheet.rect(x - 17, 74, 34, 62, corner=6, fill=PAPER, width=3)
            for mark in range(5):
                sheet.line(x - 10, 84 + mark * 11, x + 4, 84 + mark * 11, width=2)
            sheet.line(x, 136, x, 148, width=4)
            _coil(sheet, x, 196)
            sheet.arrow(x + 92, 170, x + 92, 232, colour=RUST, width=5, head=14)
        sheet.text(x, 282, words, size=18, anchor="middle", weight=700, colour=RUST if unit == "force" else INK)
    return sheet.figure(f"{cable}. On a balance it tells a mass: {mass}. On a hook it pulls with a force: {force}.", caption)


def _coil(sheet: Drawing, x: float, y: float) -> None:
    for rx, ry in ((70, 46), (58, 36), (46, 27)):
        draw_rope(sheet, f"M{number(x - rx)} {number(y)}A{rx} {ry} 0 1 1 {number(x + rx)} {number(y)}A{rx} {ry} 0 1 1 {number(x - rx)} {number(y)}", 7)
    for side in (-1, 1):
        sheet.line(x + side * 52, y - 30, x + side * 34, y - 20, stroke=STEEL, width=6)
