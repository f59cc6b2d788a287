"""A delivery's papers, and what the figure that somebody signed for asks of the wire."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rigcalc.figures.cables import draw_cable
from rigcalc.figures.drawing import DEEP, INK, PAPER, QUIET, RUST, STEEL, Drawing, Figure, number
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
    """Two wires, each pulled as hard as a figure says; a line shows the pull at which its papers let the wire part.

    No wire is drawn as holding a breaking force: at the line its strands open, beyond it they have parted, and nothing hangs.

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
    sheet, top, full = Drawing(700, 410), 150.0, 190.0
    sheet.rect(30, 34, 640, 18, fill="jaw", width=2)
    sheet.text(350, 22, cable, size=16, anchor="middle", weight=600)
    most = max(signed_n or 0.0, true_n or 0.0) or 1.0
    beyond = signed_n is not None and (true_n is None or signed_n > true_n + 0.5)
    short = signed_n is not None and true_n is not None and signed_n < true_n - 0.5
    state = "sent back" if signed_n is None else "parted" if beyond else "short of it" if short else "opening"
    for x, title, force, words, fate in ((170.0, "what the papers stand for", true_n, true, "opening"), (460.0, "what you signed for", signed_n, signed, state)):
        sheet.text(x + 18, 82, title, size=16, weight=700, colour=RUST if fate == "parted" else DEEP)
        if force is None:
            draw_rope(sheet, f"M{number(x)} 52V{number(top - 30)}", 8)
            sheet.text(x, top + 34, words, size=17, anchor="middle", weight=700, colour=DEEP)
            continue
        _wire(sheet, x, top, fate)
        end = top + 8 + full * force / most
        sheet.arrow(x, top + 8, x, end, colour=RUST if fate == "parted" else INK, width=6, head=18)
        sheet.text(x + 22, end - 10, words, size=18, weight=700, colour=RUST if fate == "parted" else INK, halo=True)
    if true_n is not None:
        level = top + 8 + full * true_n / most
        sheet.line(40, level, 660, level, stroke=RUST, width=2.5, dash="8 6")
        sheet.text(40, level + 24, "pulled as far as this line,\nit may part: no load hangs there", size=16, weight=600, colour=RUST, halo=True)
    fates = {"sent back": "Nothing is pulled there: it was sent back", "parted": "The wire is drawn parted: more was signed for than its papers stand for",
             "short of it": "The pull ends short of the line; that makes it no load to hang", "opening": "The wire is drawn opening, at the line where it may part"}
    line = "" if true_n is None else " At the line that the papers draw, the wire may part: no load hangs there."
    return sheet.figure(f"Two wires under one beam, {cable}, each pulled by an arrow as long as the force is great. What the papers stand for: {_flat(true)}.{line} "
                        f"What you signed for: {_flat(signed)}. {fates[state]}.", caption)


def _flat(words: str) -> str:
    return " ".join(words.split())


def _wire(sheet: Drawing, x: float, top: float, fate: str) -> None:
    """A wire from the beam down to `top`: whole, opening (some of its wires have gone) or parted."""
    middle = (52 + top) / 2 + 12
    gap = {"parted": 18, "opening": 9}.get(fate, 0)
    if not gap:
        draw_rope(sheet, f"M{number(x)} 52V{number(top)}", 8)
        return
    draw_rope(sheet, f"M{number(x)} 52V{number(middle - gap)}", 8)
    draw_rope(sheet, f"M{number(x)} {number(middle + gap)}V{number(top)}", 8)
    if fate == "opening":
        for side in (-2.5, 0.5, 3):
            sheet.line(x + side, middle - gap, x + side, middle + gap, stroke=INK, width=2)
    for side in (-11, 11) if fate == "opening" else (-9, -3, 4, 10):
        sheet.line(x + side / 3, middle - gap, x + side, middle - gap + 14, stroke=INK, width=2)
        sheet.line(x + side / 3, middle + gap, x + side * 1.2, middle + gap - 14, stroke=INK, width=2)


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
