"""A delivery's papers, and what hangs on the figure that somebody signed for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rigcalc.figures.cables import draw_cable
from rigcalc.figures.drawing import DEEP, GREEN, INK, PAPER, QUIET, RUST, STEEL, Drawing, Figure, number
from rigcalc.figures.eyes import draw_rope
from rigcalc.figures.pulls import Pointed

__all__ = ["Paper", "ScaledCable", "cables_to_scale", "papers_of_a_delivery", "signed_against_true"]

WIDE, HIGH = 220.0, 196.0


@dataclass(frozen=True)
class Paper:
    """One paper: its id, its heading, its lines, and whether it has been read."""

    name: str
    heading: str
    lines: tuple[str, ...]
    read: bool


def papers_of_a_delivery(title: str, papers: Sequence[Paper], mark: Pointed | None = None, on: str = "", caption: str = "") -> Figure:
    """Three papers side by side; one that is not read yet lies face down.

    Parameters
    ----------
    title : str
        Which delivery.
    papers : sequence of Paper
        Three of them, up to eight lines each.
    mark : callable or None
        Makes a paper one that can be pointed at.
    on : str
        The paper pointed at last.
    caption : str
        Under the drawing.
    """
    sheet = Drawing(700, HIGH + 56)
    sheet.text(12, 26, title, size=18, weight=700, colour=DEEP)
    said = []
    for at, paper in enumerate(papers):
        x, y, one = 10 + (WIDE + 10) * at, 42.0, Drawing(700, 1)
        one.rect(x, y, WIDE, HIGH, 3, fill=PAPER if paper.read else "#e9e4d8", stroke=INK, width=5 if paper.name == on else 2)
        one.line(x + 12, y + 40, x + WIDE - 12, y + 40, stroke=QUIET, width=1.5)
        one.text(x + 14, y + 30, paper.heading, size=17, weight=700, colour=DEEP)
        if paper.read:
            one.text(x + 14, y + 64, "\n".join(paper.lines), size=16)
        else:
            one.text(x + WIDE / 2, y + 116, "not read yet", size=16, anchor="middle", colour=QUIET)
        shape = "".join(one.parts)
        words = f"{paper.heading}: {'; '.join(paper.lines)}" if paper.read else f"{paper.heading}: not read yet"
        said.append(words)
        sheet.add(mark(shape, paper.name, words) if mark else shape)
    return sheet.figure(f"{title}. Three papers. {'. '.join(said)}.", caption)


def signed_against_true(signed_n: float | None, signed: str, true_n: float | None, true: str, cable: str, caption: str = "") -> Figure:
    """What was signed for hangs as a block on a wire; a line shows what the papers let it bear. Refusals hang nothing.

    Parameters
    ----------
    signed_n, signed : float or None, str
        The figure signed for, in N and in words; None for sent back.
    true_n, true : float or None, str
        The figure that counts; None where there is none.
    cable : str
        The cable in words.
    caption : str
        Under the drawing.
    """
    sheet, top, full = Drawing(700, 410), 128.0, 216.0
    sheet.rect(30, 34, 640, 18, fill="jaw", width=2)
    sheet.text(350, 22, cable, size=16, anchor="middle", weight=600)
    most = max(signed_n or 0.0, true_n or 0.0) or 1.0
    too_much = signed_n is not None and (true_n is None or signed_n > true_n + 0.5)
    for x, title, force, words, colour, fill in ((180.0, "what the papers stand for", true_n, true, GREEN, "crimp"),
                                                 (500.0, "what you signed for", signed_n, signed, RUST if too_much else DEEP, "void" if too_much else "crimp")):
        sheet.text(x + 18, 82, title, size=16, weight=700, colour=colour)
        if force is None:
            draw_rope(sheet, f"M{number(x)} 52V{number(top - 8)}", 8)
            sheet.text(x, top + 34, words, size=17, anchor="middle", weight=700, colour=colour)
            continue
        if too_much and x > 300:
            _parted(sheet, x, top)
        else:
            draw_rope(sheet, f"M{number(x)} 52V{number(top)}", 8)
        drop = 18 if too_much and x > 300 else 0
        sheet.rect(x - 64, top + drop, 128, full * force / most, fill=fill, stroke=colour, width=3.5)
        sheet.text(x, top + drop + full * force / most + 26, words, size=18, anchor="middle", weight=700, colour=colour, halo=True)
    if true_n is not None and signed_n is not None:
        level = top + full * true_n / most
        sheet.line(116, level, 590, level, stroke=GREEN, width=2.5, dash="8 6")
    fate = ("Nothing hangs there: it was sent back" if signed_n is None else
            "The wire is drawn parting: more was signed for than its papers stand for" if too_much else "The wire is drawn whole")
    return sheet.figure(f"Two wires under one beam, {cable}; blocks as high as the forces are great. What the papers stand for: {_flat(true)}. "
                        f"What you signed for: {_flat(signed)}. {fate}.", caption)


def _flat(words: str) -> str:
    return " ".join(words.split())


def _parted(sheet: Drawing, x: float, top: float) -> None:
    """A wire whose strands have let go half way, the ends splayed."""
    middle = (52 + top) / 2 + 12
    draw_rope(sheet, f"M{number(x)} 52V{number(middle - 14)}", 8)
    draw_rope(sheet, f"M{number(x)} {number(middle + 28)}V{number(top + 18)}", 8)
    for side in (-9, -3, 4, 10):
        sheet.line(x + side / 3, middle - 14, x + side, middle + 2, stroke=INK, width=2)
        sheet.line(x + side / 3, middle + 28, x + side * 1.2, middle + 13, stroke=INK, width=2)


@dataclass(frozen=True)
class ScaledCable:
    """A cable to draw: its name, construction, diameter in mm, and lines of words."""

    name: str
    construction: str
    diameter_mm: float
    lines: tuple[str, ...]


def cables_to_scale(cables: Sequence[ScaledCable], caption: str = "") -> Figure:
    """Up to three cables in section side by side, to one scale, each with its figures under it."""
    sheet = Drawing(700, 316)
    scale, step = 190 / max(one.diameter_mm for one in cables), 700 / len(cables)
    for at, one in enumerate(cables):
        x = step * (at + 0.5)
        sheet.circle(x, 112, one.diameter_mm * scale / 2, stroke=STEEL, width=1.2)
        draw_cable(sheet, x, 112, one.diameter_mm * scale, one.construction)
        sheet.text(x, 240, one.name, size=18, anchor="middle", weight=700, colour=DEEP)
        sheet.text(x, 266, "\n".join(one.lines), size=16, anchor="middle")
    return sheet.figure(f"{len(cables)} cables in section, to one scale. " + ". ".join(f"{one.name}: {'; '.join(one.lines)}" for one in cables) + ".", caption)
