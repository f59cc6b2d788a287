"""Sleeves and what goes into them: both legs tried for size, constructions without valleys, crimps cut open."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import cos, degrees, pi, sin

from rigcalc.figures.drawing import DEEP, GREEN, INK, PAPER, QUIET, RUST, STEEL, Drawing, Figure, millimetres, number
from rigcalc.figures.eyes import draw_end, draw_loop, draw_rope, draw_sleeve_side
from rigcalc.figures.press import APART, BORE, NECK, Press, open_outline
from rigcalc.figures.sections import draw_sleeve

__all__ = ["CUT", "cut_open", "Job", "job_cards", "legs_tried", "sleeve_fits", "without_valleys"]

# what was done: (content and stage of the crimp, what is to be seen when it is cut, whether it holds)
CUT = {
    "good": (("bare", 1.0), "metal in every valley", True),
    "coat": (("coated", 1.0), "a coat under the metal", False),
    "small": (("too small", 1.0), "air round both legs", False),
    "half": (("bare", 0.62), "valleys still empty", False),
}


# --- both legs tried ------------------------------------------------------------------------------

def sleeve_fits(leg_mm: float, sleeve_mm: float) -> bool:
    """Whether a leg of this outside diameter goes into the bore of a sleeve for cables of `sleeve_mm`, as drawn: bores a tenth wider than the cable.

    >>> sleeve_fits(3.175, 3.175), sleeve_fits(4.7625, 3.175)
    (True, False)
    """
    return leg_mm <= 2 * BORE * sleeve_mm


def legs_tried(cable_mm: float, sleeve_mm: float, designation: str, outside_mm: float | None = None, names: tuple[str, str] = ("", "")) -> Figure:
    """A new sleeve in section with both legs in it, or beside it where they do not go in; to one scale.

    Parameters: diameters of the bare cable and of the cable that the sleeve is made for, mm; construction; outside of the coat
    in mm where it is on; the words for cable and sleeve.

    >>> "do not go in" in legs_tried(3.175, 2.38125, "7x19").alt
    True
    """
    leg = outside_mm or cable_mm
    unit = 250 / (2 * 1.75 * max(sleeve_mm, leg * 0.9))
    sheet, left = Drawing(690, 300), 400
    goes = _tried(sheet, 150, 150, unit, cable_mm, sleeve_mm, designation, outside_mm)
    for row, (words, colour) in enumerate(((f"cable: {names[0]}", INK), (f"sleeve: {names[1]}", INK), (f"over each leg {millimetres(leg)}", INK),
                                           ("both legs go in" if goes else "the legs do not go in", GREEN if goes else RUST))):
        sheet.text(left, 84 + 40 * row, words, weight=600, colour=colour)
    share = "" if not goes else f" Each leg is {leg / sleeve_mm:.0%} as thick as the cable the sleeve is made for."
    coat = f" with its coat on, {millimetres(outside_mm)} over it" if outside_mm else ""
    return sheet.figure(f"A new {names[1]} sleeve in section with two legs of {names[0]} cable{coat}: they {'go in' if goes else 'do not go in'}.{share}",
                        "Cable and sleeve to one scale. Going in is no proof of the right size.")


def _tried(sheet: Drawing, x: float, y: float, unit: float, cable_mm: float, sleeve_mm: float, designation: str, outside_mm: float | None,
           metal: str = "sleeve") -> bool:
    """A new sleeve with both legs in it, or beside it, `unit` px for a mm; whether they go in."""
    leg, s = outside_mm or cable_mm, sleeve_mm * unit
    goes = sleeve_fits(leg, sleeve_mm)
    outline = [(x + open_outline(a) * cos(a) * s, y + open_outline(a) * sin(a) * s) for a in (2 * pi * i / 120 for i in range(120))]
    sheet.shape(outline, fill=metal, width=3)
    for edge in (3.5, 0):
        for side in (-1, 1):
            sheet.circle(x, y + side * APART / 2 * s, BORE * s, fill=PAPER, stroke=INK if edge else "none", width=edge)
        sheet.rect(x - NECK * s, y - APART / 2 * s, 2 * NECK * s, APART * s, fill=PAPER, stroke="none", width=0)
    for side in (-1, 1):
        px, py = (x, y + side * APART / 2 * s) if goes else (x + 1.15 * s + leg * unit / 2 + 14, y + side * (leg * unit / 2 + 3))
        if outside_mm:
            sheet.circle(px, py, outside_mm * unit / 2, fill="coat", width=2)
        _draw_any(sheet, px, py, cable_mm * unit, designation)
    return goes


# --- constructions without valleys ----------------------------------------------------------------

@lru_cache(maxsize=8)
def _wires(designation: str):
    from rigcalc.cable import section

    return section(designation, 1.0)


def _draw_any(sheet: Drawing, x: float, y: float, scale: float, designation: str) -> None:
    """Any construction in section, a fibre core as a loose tuft."""
    if designation.startswith("6x"):
        sheet.circle(x, y, scale / 6, fill="#e9dfb8", stroke=QUIET, width=1.5)
        for i in range(7):
            a = 2 * pi * i / 7
            sheet.path(f"M{number(x)} {number(y)}q{number(6 * cos(a + 1))} {number(6 * sin(a + 1))} {number(scale / 7 * cos(a))} {number(scale / 7 * sin(a))}", stroke=RUST, width=1.5)
    for wire in _wires(designation):
        sheet.ellipse(x + wire.x_mm * scale, y + wire.y_mm * scale, wire.major_mm * scale, wire.minor_mm * scale, degrees(wire.angle_rad), fill=STEEL, width=max(0.4, min(1.0, scale / 110)))


def without_valleys(designations: Sequence[tuple[str, str]] = (("7x19", "listed: deep valleys,\nstrands of wire all through"), ("1x19", "not listed: one strand,\nnearly smooth outside"),
                                                            ("6x19", "not listed: a fibre core\ngives way when pressed")),
                    judged: bool = True) -> Figure:
    """Constructions in section with what a sleeve would find on each: (designation, words). Judged ones bear a mark.

    >>> "1x19" in without_valleys().alt
    True
    """
    sheet = Drawing(234 * len(designations), 258)
    for place, (designation, words) in enumerate(designations):
        x = 117 + 234 * place
        _draw_any(sheet, x, 106, 150, designation)
        good = words.startswith("listed")
        mark, colour = ("✓ " if good else "✗ ", GREEN if good else RUST) if judged else ("", DEEP)
        sheet.text(x, 22, mark + designation, anchor="middle", size=18, weight=700, colour=colour)
        sheet.text(x, 212, words, anchor="middle", size=15)
    said = "; ".join(f"{name}, {words}".replace("\n", " ") for name, words in designations)
    return sheet.figure(f"{'Cables' if len(designations) > 1 else 'A cable'} cut across: {said}.")


# --- crimps cut open ------------------------------------------------------------------------------

def cut_open(pieces: Sequence[str], cut: Sequence[str] = (), told: Sequence[str] = (), at: str = "", designation: str = "7x19", growth: float = 4 / 3) -> Figure:
    """Up to four eyes, lettered; those in `cut` are shown cut across, those in `told` with what was found. The act is "at", its value the letter.

    `pieces` are names of `CUT`, one a letter.

    >>> cut_open(("good", "coat"), cut="B").alt.split(". ")[1]
    'A: from outside a pressed sleeve, its crimps alike'
    """
    sheet, said = Drawing(690, 214 * ((len(pieces) + 1) // 2)), []
    for place, name in enumerate(pieces):
        letter, began = "ABCD"[place], len(sheet.parts)
        left, top = 345 * (place % 2), 214 * (place // 2)
        (content, stage), seen, holds = CUT[name]
        sheet.rect(left + 4, top + 4, 337, 206, corner=8, fill=PAPER, stroke=DEEP if letter == at else "#c9c2b4", width=4 if letter == at else 1.5)
        sheet.text(left + 18, top + 30, letter, size=19, weight=700, colour=DEEP)
        if letter in cut:
            draw_sleeve(sheet, left + 172, top + 92, 56, Press(stage, content, growth, 0.5 if content == "coated" else 0.75), True, designation, jaws=False)
            said.append(f"{letter}: cut across, {seen}")
        else:
            _from_outside(sheet, left, top + 98, 16 + 2 * (stage < 0.95))
            said.append(f"{letter}: from outside a pressed sleeve, its crimps {'alike' if stage > 0.95 else 'a little fat'}")
        if letter in told:
            sheet.text(left + 172, top + 200, ("✓ " if holds else "✗ ") + seen, size=15, anchor="middle", weight=700, colour=GREEN if holds else RUST)
        drawn, sheet.parts[began:] = "".join(sheet.parts[began:]), []
        mark = ' data-on="1"' if letter == at else ""
        sheet.add(f'<g data-pick="at" data-value="{letter}" data-label="piece {letter}, {"cut across" if letter in cut else "from outside"}"{mark}>{drawn}</g>')
    return sheet.figure(f"{len(pieces)} pressed eyes on a bench. " + ". ".join(said) + ".")


# --- jobs ready to press --------------------------------------------------------------------------

@dataclass(frozen=True)
class Job:
    """A job ready to press: three lines for reel, sleeve and place, and what the drawing needs (mm)."""

    reel: str
    sleeve: str
    place: str
    cable_mm: float
    sleeve_mm: float
    designation: str
    outside_mm: float | None = None


def job_cards(jobs: Sequence[Job], told: dict[str, tuple[bool, str]] | None = None, at: str = "") -> Figure:
    """Jobs with the legs already in their sleeves, lettered; told ones bear a verdict: letter -> (may be pressed, words). The act is "at".

    The sleeves are silver: no drawing tells their metal.

    >>> one = Job("1/8 7x19 galvanised", "bag: aluminium, 1/8", "open air", 3.175, 3.175, "7x19")
    >>> "A: reel 1/8 7x19 galvanised; bag: aluminium, 1/8; open air" in job_cards([one, one]).alt
    True
    """
    told, said = told or {}, []
    sheet = Drawing(690, 196 * ((len(jobs) + 1) // 2))
    for place, job in enumerate(jobs):
        letter, began, left, top = "ABCDEF"[place], len(sheet.parts), 345 * (place % 2), 196 * (place // 2)
        sheet.rect(left + 4, top + 4, 337, 188, corner=8, fill=PAPER, stroke=DEEP if letter == at else "#c9c2b4", width=4 if letter == at else 1.5)
        sheet.text(left + 18, top + 30, letter, size=19, weight=700, colour=DEEP)
        _tried(sheet, left + 62, top + 102, 122 / (3.5 * job.sleeve_mm), job.cable_mm, job.sleeve_mm, job.designation, job.outside_mm, "#dfe3e6")
        for row, words in enumerate((job.reel, job.sleeve, job.place)):
            sheet.text(left + 118, top + 52 + 30 * row, words, size=15, weight=600 if row < 2 else 400)
        if letter in told:
            good, words = told[letter]
            sheet.text(left + 118, top + 158, ("✓ " if good else "✗ ") + words, size=15, weight=700, colour=GREEN if good else RUST)
        drawn, sheet.parts[began:] = "".join(sheet.parts[began:]), []
        mark = ' data-on="1"' if letter == at else ""
        sheet.add(f'<g data-pick="at" data-value="{letter}" data-label="job {letter}"{mark}>{drawn}</g>')
        said.append(f"{letter}: reel {job.reel}; {job.sleeve}; {job.place}" + (f"; {told[letter][1]}" if letter in told else ""))
    return sheet.figure(f"{len(jobs)} jobs ready to press, the legs in their silver sleeves. " + ". ".join(said) + ".")


def _from_outside(sheet: Drawing, left: float, y: float, crimp: float) -> None:
    draw_rope(sheet, f"M{left + 120} {y - 9}H{left + 330}", 17)
    draw_rope(sheet, f"M{left + 120} {y + 9}H{left + 252}", 17)
    draw_end(sheet, left + 252, y + 9, 17)
    draw_loop(sheet, left + 38, left + 128, y, 17, 34, 9)
    crimps = [left + 128 + 108 * (2 * i + 1) / 6 for i in range(3)]
    draw_sleeve_side(sheet, left + 128, y, 108, crimp, crimps, 29)
