"""A length of cable drawn off its reel: sound, or with a fault that is found before the cutter closes."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from math import exp

from rigcalc.figures.constructions import CORE, Warp, draw_side
from rigcalc.figures.drawing import DEEP, INK, PAPER, RUST, Drawing, Figure, number

__all__ = ["FAULTS", "HIDDEN", "SOUND", "faults_below", "length_off_the_reel"]

# name: how it came, what it does. Causes and effects: common practice.
FAULTS = {
    "kink": ("a loop was pulled tight", "some strands carry, others do not"),
    "flat spot": ("squeezed: a vice, a wheel, a foot", "its wires are thinned and crossed"),
    "birdcage": ("pushed together, or untwisted", "the strands no longer share the load"),
    "rust": ("stored wet; the zinc is gone", "pits start cracks, inside too"),
    "broken wire": ("nicked, or bent too often", "the others carry more, and it stabs"),
}
SOUND = {
    "as made": "round, every strand in its place",
    "bent by the reel": "an even, wide curve from end to end, every strand in its place",
}
SEEN = {
    "kink": "at one place the cable steps aside and back again, sharply, and its strands stand open",
    "flat spot": "over a short length the cable is lower and shines",
    "birdcage": "over a short length the strands stand off like the bars of a cage, and the core shows between them",
    "rust": "red-brown patches lie in the valleys of a short length",
    "broken wire": "two thin ends stand up from a crown, hooked, with a gap between them",
    **SOUND,
}
HIDDEN = ("rust", "broken wire")  # what grease can hide
GREASE = "#5d564a"


def _bump(width: float, middle: float, at: float) -> float:
    return exp(-(((at - middle) / width) ** 2))


@lru_cache(maxsize=32)
def _warp(kind: str, middle: float, long: float, d: float) -> Warp:
    if kind == "kink":
        reach = 0.55 * d
        return Warp(lambda at: reach * (_bump(0.45 * d, middle + 0.5 * d, at) - _bump(0.45 * d, middle - 0.5 * d, at)),
                    lambda at: 1 + 0.28 * _bump(0.7 * d, middle, at), closely=2)
    if kind == "flat spot":
        return Warp(flat=lambda at: 1 - 0.4 / (1 + ((at - middle) / (1.15 * d)) ** 8))
    if kind == "birdcage":
        return Warp(spread=lambda at: 1 + 1.15 * _bump(1.6 * d, middle, at))
    if kind == "bent by the reel":
        return Warp(lambda at: 0.5 * d * (1 - ((at - long / 2) / (long / 2)) ** 2) - 0.25 * d)
    return Warp()


def _draw(sheet: Drawing, x: float, y: float, long: float, d: float, kind: str, middle: float, greasy: bool, designation: str) -> None:
    if kind == "birdcage":
        sheet.rect(x, y - d / 6, long, d / 3, fill=CORE, width=1.4)
    draw_side(sheet, x, y, long, d, designation, warp=_warp(kind, middle, long, d))
    at = x + middle
    if kind == "flat spot":
        for part in (-0.14, 0.0, 0.14):
            sheet.line(at - 0.9 * d, y + part * d, at + 0.9 * d, y + part * d, stroke=PAPER, width=2.5)
    elif kind == "rust":
        for along, up, wide in ((-1.3, -0.1, 0.5), (-0.8, 0.2, 0.6), (-0.2, -0.1, 0.65), (0.4, 0.24, 0.5), (0.8, -0.22, 0.45), (1.3, 0.05, 0.5)):
            sheet.add(f'<ellipse cx="{number(at + along * d)}" cy="{number(y + up * d)}" rx="{number(wide * d * 0.7)}" ry="{number(0.16 * d)}" fill="{RUST}" '
                      f'opacity="0.75" transform="rotate(14 {number(at + along * d)} {number(y + up * d)})"/>')
            for spot in range(4):
                sheet.circle(at + (along - 0.25 + 0.16 * spot) * d, y + (up + 0.05 * (spot % 2)) * d, 0.035 * d, fill="#3f1605", stroke="#3f1605", width=0.5)
    elif kind == "broken wire":
        top = y - d / 2
        sheet.rect(at - 0.16 * d, top + 1, 0.32 * d, 0.09 * d, fill=INK, stroke=INK, width=1)
        sheet.path(f"M{number(at - 0.16 * d)} {number(top + 2)}q{number(0.04 * d)} {number(-0.4 * d)} {number(-0.3 * d)} {number(-0.42 * d)}", width=3)
        sheet.path(f"M{number(at + 0.16 * d)} {number(top + 2)}q{number(0.02 * d)} {number(-0.3 * d)} {number(0.26 * d)} {number(-0.26 * d)}", width=3)
    if greasy:
        for along, up, wide, high in ((-1.7, 0, 0.8, 0.5), (-0.8, -0.12, 0.9, 0.5), (0.1, -0.1, 0.8, 0.6), (0.9, 0, 0.9, 0.54), (1.7, 0.04, 0.75, 0.5)):
            sheet.ellipse(at + along * d, y + up * d, wide * d, high * d, fill=GREASE, stroke="#2e2a23", width=1.2)
        sheet.ellipse(at, y - 0.55 * d, 0.8 * d, 0.52 * d, fill=GREASE, stroke=GREASE, width=1)


def length_off_the_reel(kind: str, middle: float, greasy: bool = False, name: str = "", designation: str = "7x19") -> Figure:
    """A length of cable as it comes off the reel, seen from the side. No word on it names what is wrong.

    Parameters
    ----------
    kind : str
        Of `FAULTS` or `SOUND`.
    middle : float
        Where the fault lies, as a share of the length, 0 to 1.
    greasy : bool
        Whether grease lies over that place; it hides what is in `HIDDEN`.
    name : str
        What the length is called.
    """
    sheet, d = Drawing(700, 196), 52
    _draw(sheet, 20, 108, 660, d, kind, 660 * middle, greasy, designation)
    sheet.text(20, 24, name, weight=700, colour=DEEP)
    seen = "as made" if greasy and kind in HIDDEN else kind
    hidden = " Grease covers a part of it." if greasy else ""
    return sheet.figure(f"{name or 'A length of cable'}, from the side: {SEEN[seen]}.{hidden}")


def faults_below(names: Sequence[str] = tuple(FAULTS), designation: str = "7x7") -> Figure:
    """Lengths of cable below one another, a letter each; no word names what is wrong.

    Parameters
    ----------
    names : sequence of str
        Of `FAULTS`, in the order of the letters.
    designation : str
        Any construction of the table.
    """
    sheet, d = Drawing(700, 104 * len(names)), 38
    for row, name in enumerate(names):
        y = 56 + 104 * row
        sheet.text(14, y + 7, "ABCDEFG"[row], size=20, weight=700, colour=DEEP)
        _draw(sheet, 50, y, 636, d, name, 300, False, designation)
    said = "; ".join(f"{letter}: {SEEN[name]}" for letter, name in zip("ABCDEFG", names))
    return sheet.figure(f"{len(names)} lengths of cable from the side, a letter each. {said}.")
