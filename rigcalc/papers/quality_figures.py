"""Drawings of how good the quiz is: marks and cut, families by share right, and how many pass at other cuts."""

from __future__ import annotations

from collections import Counter

from rigcalc.figures.drawing import DEEP, INK, QUIET, RUST, STEEL, WIDEST, Figure
from rigcalc.pages import escape
from rigcalc.papers.balance import ENOUGH
from rigcalc.papers.quality import Quality

__all__ = ["cut_figure", "families_figure", "marks_figure"]

LEFT, RIGHT, SIZE = 40, WIDEST - 30, 15


def _svg(height: int, inside: str) -> str:
    return (f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDEST} {height}" width="{WIDEST}" height="{height}" '
            f'font-family="DejaVu Sans, sans-serif" font-size="{SIZE}" fill="{INK}">{inside}</svg>')


def _text(x: float, y: float, words: str, anchor: str = "middle", colour: str = INK) -> str:
    return f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}" fill="{colour}">{escape(words)}</text>'


def _line(x1: float, y1: float, x2: float, y2: float, colour: str = INK, wide: float = 1.5, dashed: bool = False) -> str:
    dash = ' stroke-dasharray="6 4"' if dashed else ""
    return f'<line x1="{x1:.1f}" y1="{y1:.1f}" x2="{x2:.1f}" y2="{y2:.1f}" stroke="{colour}" stroke-width="{wide}"{dash}/>'


def marks_figure(found: Quality) -> Figure:
    """Everybody's marks as strokes on one line, like marks on a rule; the cut, and one standard error either side."""
    counts = Counter(round(score) for score in found.scores)
    most, base = max(counts.values()), 190
    at = (lambda mark: LEFT + (RIGHT - LEFT) * mark / found.out_of)
    band, error = "", found.error if found.papers >= ENOUGH else None
    if error is not None:
        low, high = max(0, found.cut - error), min(found.out_of, found.cut + error)
        band = f'<rect x="{at(low):.1f}" y="50" width="{at(high) - at(low):.1f}" height="{base - 50}" fill="{STEEL}" opacity="0.35"/>'
    strokes = "".join(_line(at(mark), base, at(mark), base - 120 * count / most, DEEP, 4) for mark, count in sorted(counts.items()))
    scale = "".join(_line(at(mark), base, at(mark), base + 6) + _text(at(mark), base + 24, str(mark))
                    for mark in range(0, found.out_of + 1, max(1, found.out_of // 5)))
    cut = _line(at(found.cut), 44, at(found.cut), base, RUST, 2.5, True) + _text(at(found.cut), 34, f"cut {found.cut}", colour=RUST)
    alt = (f"Marks of {found.papers} papers on a line from 0 to {found.out_of}, from {min(found.scores):g} to {max(found.scores):g}. "
           f"The cut is at {found.cut}; {sum(score >= found.cut for score in found.scores)} papers reach it"
           + ("." if error is None else f"; the band of one standard error reaches {error:.1f} marks to either side."))
    return Figure(_svg(225, band + _line(LEFT, base, RIGHT, base) + strokes + scale + cut), alt,
                  f"A stroke is as high as papers have those marks (the highest: {most}). Dashed: the cut."
                  + ("" if error is None else " Grey: one standard error either side."))


def families_figure(found: Quality) -> Figure | None:
    """Each family with enough results: its share right with the 95 % interval, the easiest first; None where there is none."""
    shown = sorted((one for one in found.families if one.asked >= ENOUGH), key=lambda one: (-one.right / one.asked, one.family))
    if not shown:
        return None
    left, step = 300, 26
    at = (lambda share: left + (RIGHT - left) * share)
    rows = ""
    for number, one in enumerate(shown):
        y = 50 + step * number
        rows += (_text(left - 14, y + 5, _short(one.family), "end") + _line(at(one.interval[0]), y, at(one.interval[1]), y, QUIET, 3)
                 + f'<path d="M{at(one.right / one.asked):.1f} {y - 7} v14" stroke="{DEEP}" stroke-width="4"/>')
    bottom = 50 + step * len(shown)
    scale = "".join(_line(at(tenth / 10), 28, at(tenth / 10), bottom - 8, STEEL, 1) + _text(at(tenth / 10), 20, f"{tenth * 10} %")
                    for tenth in (0, 5, 10))
    easy, hard = shown[0], shown[-1]
    alt = (f"Share right of {len(shown)} families with {ENOUGH} or more results, from {easy.family}, {easy.right} of {easy.asked}, to "
           f"{hard.family}, {hard.right} of {hard.asked}.")
    return Figure(_svg(bottom + 6, scale + rows), alt, "Upright stroke: the share right. Lying line: its 95 % interval (Wilson).")


def _short(name: str) -> str:
    return name if len(name) <= 30 else f"{name[:29]}…"


def cut_figure(found: Quality) -> Figure:
    """How many would pass at each cut within ten marks of the one in force, as a stair."""
    cuts, most = [cut for cut, _ in found.moves], max(1, found.papers)
    base, half = 190, 0.5
    x = (lambda cut: LEFT + (RIGHT - LEFT) * (cut - cuts[0] + half) / len(cuts))
    y = (lambda passing: base - 140 * passing / most)
    points = "".join(f"{x(cut - half):.1f},{y(passing):.1f} {x(cut + half):.1f},{y(passing):.1f} " for cut, passing in found.moves)
    labels = "".join(_text(x(cut), base + 24, str(cut)) for cut in cuts if (cut - found.cut) % 5 == 0)
    ends = (_text(LEFT, y(found.moves[0][1]) - 8, f"{found.moves[0][1]} pass", "start")
            + _text(RIGHT, y(found.moves[-1][1]) - 8, f"{found.moves[-1][1]} pass", "end"))
    now = _line(x(found.cut), 30, x(found.cut), base, RUST, 2.5, True)
    alt = (f"How many of {found.papers} papers would pass at another cut: {found.moves[0][1]} at {cuts[0]}, {dict(found.moves)[found.cut]} "
           f"at {found.cut}, {found.moves[-1][1]} at {cuts[-1]}.")
    stair = f'<polyline points="{points.strip()}" fill="none" stroke="{DEEP}" stroke-width="3"/>'
    return Figure(_svg(225, _line(LEFT, base, RIGHT, base) + stair + labels + ends + now), alt,
                  "Papers that would pass, by the cut. Dashed: the cut in force. A must-be-right question missed fails at every cut.")
