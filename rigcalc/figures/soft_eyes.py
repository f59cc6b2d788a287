"""Soft eyes on pins, to scale: what the pin's thickness and the eye's length do at the sleeve's mouth."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from rigcalc.figures.drawing import DEEP, GREEN, JAW, QUIET, RUST, STEEL, Drawing, Figure, millimetres

__all__ = ["SoftEyeDrawn", "soft_eyes"]


@dataclass(frozen=True)
class SoftEyeDrawn:
    """A soft eye: pin, cable and eye length to the pin's centre in mm, the verdict in words, whether it is kept (None: not told), and the side push in words."""

    pin_mm: float
    cable_mm: float
    length_mm: float
    verdict: str
    kept: bool | None
    push: str


def soft_eyes(eyes: Sequence[SoftEyeDrawn], caption: str = "") -> Figure:
    """One to three soft eyes side by side, at one scale: pin on top, the legs, the sleeve at their foot."""
    scale = min(9.0, 225.0 / max(one.length_mm + one.pin_mm / 2 + one.cable_mm for one in eyes), 190.0 / max(one.pin_mm + 2 * one.cable_mm for one in eyes))
    wide = 700.0 / max(2, len(eyes))
    sheet = Drawing(wide * len(eyes), 440)
    base = 300.0
    for place, one in enumerate(eyes):
        _eye(sheet, wide * (place + 0.5), base, scale, one)
    told = " ".join(f"{number}: pin {millimetres(one.pin_mm)}, cable {millimetres(one.cable_mm)}, eye {millimetres(one.length_mm)}: {one.verdict}; {one.push}."
                    for number, one in enumerate(eyes, 1))
    return sheet.figure(f"Soft eyes on their pins, drawn to one scale. {told}", caption)


def _eye(sheet: Drawing, x: float, base: float, scale: float, one: SoftEyeDrawn) -> None:
    pin, cable, length = one.pin_mm / 2 * scale, max(3.0, one.cable_mm * scale), one.length_mm * scale
    radius, top = pin + cable / 2, base - length
    reach = math.hypot(length, cable / 2)
    if radius < reach:
        turn = math.acos(radius / reach) + math.atan2(cable / 2, length)
        px, py = radius * math.sin(turn), radius * math.cos(turn)
        legs = (f"M{x - cable / 2:.1f} {base}L{x - px:.1f} {top + py:.1f}A{radius:.1f} {radius:.1f} 0 1 1 {x + px:.1f} {top + py:.1f}"
                f"L{x + cable / 2:.1f} {base}")
        sheet.path(legs, stroke=JAW, width=cable)
        sheet.path(legs, stroke=STEEL, width=cable * 0.6, dash="5 3")
    sheet.circle(x, top, pin, fill="jaw", stroke=DEEP, width=2.5)
    sheet.rect(x - cable * 1.4, base, cable * 2.8, 34, corner=5, fill="sleeve", width=2)
    sheet.line(x, base + 34, x, base + 56, stroke=JAW, width=cable)
    sheet.line(x + radius + cable + 8, base, x + radius + cable + 8, top, stroke=QUIET, width=1.6)
    for y in (base, top):
        sheet.line(x + radius + cable + 2, y, x + radius + cable + 14, y, stroke=QUIET, width=1.6)
    sheet.text(x, base + 80, f"pin {millimetres(one.pin_mm)}, eye {millimetres(one.length_mm)}", size=16, anchor="middle", weight=600)
    sheet.text(x, base + 102, one.push, size=15, anchor="middle")
    sign, colour = {True: ("✓ ", GREEN), False: ("✗ ", RUST), None: ("", QUIET)}[one.kept]
    sheet.text(x, base + 124, f"{sign}{one.verdict}", size=15, anchor="middle", weight=700, colour=colour)
