"""Charts as they are pinned to a wall, and tools as they hang on a board, their cavities to point at."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from rigcalc.figures.drawing import DEEP, GREEN, INK, PAPER, QUIET, RUST, Drawing, Figure

__all__ = ["Pinned", "pinned_charts", "tool_board"]

Pick = Callable[[str, str, str], str]
COLUMNS = (("size", 14), ("cavity", 86), ("crimps", 158), ("order", 232))
ROW, HEAD = 30, 88


@dataclass(frozen=True)
class Pinned:
    """One chart: its name, edition, the lines under it, and its rows (size, cavity, crimps, order) as texts."""

    name: str
    lines: tuple[str, str]
    rows: tuple[tuple[str, str, str, str], ...]


def pinned_charts(charts: Sequence[Pinned], lit: tuple[str, str] | None = None, pointed: tuple[str, str] | None = None, pick: Pick | None = None) -> Figure:
    """Charts side by side, two in a row.

    Parameters
    ----------
    charts : sequence of Pinned
        Those of one sleeve metal, or any two.
    lit, pointed : (chart, size) or None
        The row in force, once it is told; the row that was pointed at.
    pick : callable or None
        Makes a row pointable: (shape, value, words).
    """
    if not charts:
        sheet = Drawing(700, 120)
        sheet.rect(10, 10, 680, 96, corner=6, fill=PAPER, stroke=QUIET, dash="8 6")
        sheet.text(350, 64, "No chart for this sleeve metal is pinned here.", anchor="middle", size=18, weight=600, colour=QUIET)
        return sheet.figure("An empty place on the wall: no chart for this sleeve metal is pinned here.")
    heights = [HEAD + ROW * (len(one.rows) + 1) + 14 for one in charts]
    tops, total = [], 6.0
    for i in range(0, len(charts), 2):
        tops += [total, total]
        total += max(heights[i:i + 2]) + 14
    sheet = Drawing(700, total)
    for i, one in enumerate(charts):
        _card(sheet, 6 + (i % 2) * 350, tops[i], heights[i], one, lit, pointed, pick)
    said = " ".join(f"Chart {one.name}, {', '.join(one.lines)}: " + "; ".join(f"{size} in cavity {cavity}, crimps {count}, order {order}" for size, cavity, count, order in one.rows) + "." for one in charts)
    return sheet.figure(said + (f" Marked: {lit[0]}, {lit[1]}." if lit else ""))


def _card(sheet: Drawing, left, top, high, one: Pinned, lit, pointed, pick) -> None:
    sheet.rect(left, top, 338, high, corner=4, fill="#fffdf6", width=2)
    sheet.circle(left + 169, top + 12, 6, fill=RUST, width=1.5)
    sheet.text(left + 14, top + 34, one.name, size=20, weight=700, colour=DEEP)
    for row, words in enumerate(one.lines):
        sheet.text(left + 14, top + 56 + 20 * row, words, size=15, colour=QUIET)
    y = top + HEAD + 22
    for words, x in COLUMNS:
        sheet.text(left + x, y, words, weight=700, size=15)
    sheet.line(left + 10, y + 8, left + 328, y + 8, width=2)
    for size, *rest in one.rows:
        y += ROW
        line = Drawing(1, 1)
        marked = lit == (one.name, size)
        line.rect(left + 8, y - 20, 322, ROW - 3, corner=5, fill="#dcebe4" if marked else "#fffdf6",
                  stroke=GREEN if marked else DEEP if pointed == (one.name, size) else "none", width=3)
        for words, (_, x) in zip((size, *rest), COLUMNS, strict=True):
            line.text(left + x, y, words, size=16, weight=700 if marked else 400)
        shape = "".join(line.parts)
        sheet.add(pick(shape, f"{one.name} {size}", f"Chart {one.name}, {size} in") if pick else shape)


def tool_board(tools: Sequence[tuple[str, str, Sequence[tuple[str, str, float]]]], lit: Sequence[tuple[str, str]] = (), pointed: tuple[str, str] | None = None,
               pick: Pick | None = None) -> Figure:
    """Tools on a board: (id, name, cavities), a cavity (mark, size, diameter in mm); those in `lit` are marked once told."""
    tall = 112
    sheet = Drawing(700, tall * len(tools) + 12)
    for i, (name, words, cavities) in enumerate(tools):
        top = 8 + i * tall
        sheet.rect(196, top + 8, 494, tall - 18, corner=10, fill="#eef0f1", width=2.5)
        sheet.line(120, top + 48, 196, top + 48, stroke=INK, width=11)
        sheet.text(14, top + 34, name, size=22, weight=700, colour=DEEP)
        sheet.text(14, top + 82, words, size=15, colour=QUIET)
        for at, (mark, size, diameter) in enumerate(cavities):
            x, y, r = 244 + at * 92, top + 40, 7 + 2.1 * diameter
            one, shown = Drawing(1, 1), (name, mark) in lit
            one.rect(x - 42, top + 12, 84, tall - 26, corner=8, fill="#dcebe4" if shown else "#eef0f1", stroke=GREEN if shown else DEEP if pointed == (name, mark) else "none", width=3)
            one.ellipse(x, y, r * 0.8, r, fill=PAPER, width=3)
            one.line(x - 34, y, x - r * 0.8, y, width=1.5)
            one.line(x + r * 0.8, y, x + 34, y, width=1.5)
            one.text(x, top + 88, f"{mark}: {size}", anchor="middle", weight=700, size=16)
            shape = "".join(one.parts)
            sheet.add(pick(shape, f"{name} {mark}", f"Tool {name}, cavity {mark}") if pick else shape)
    said = " ".join(f"{name}, {words}: " + ", ".join(f"cavity {mark} for {size} in" for mark, size, _ in cavities) + "." for name, words, cavities in tools)
    return sheet.figure(f"Tools on a board. {said}" + (" Marked: " + ", ".join(f"{a} {b}" for a, b in lit) + "." if lit else ""))
