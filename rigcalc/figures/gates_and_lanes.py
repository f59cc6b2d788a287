"""A gate seen square on with its brace, and a lane seen along the ground with a wire across it: both to scale, pull as width."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from rigcalc.figures.drawing import COAT, DEEP, INK, PAPER, QUIET, RUST, STEEL, Drawing, Figure, number
from rigcalc.figures.pulls import anchored, cable, key, refused_cable

__all__ = ["gate_square_on", "lane_across"]

Flat = tuple[float, float]
GATE_SCALE, LANE_SCALE = 0.118, 0.0445


def gate_square_on(width_mm: float, height_mm: float, hold_mm: Flat, anchor_mm: Flat, weight_at_mm: Flat, weight: str,
                   pull_n: float | None, shown: str, full_n: float, full: str, length: Callable[[float], str], caption: str = "") -> Figure:
    """A gate on its post, its brace as thick as it pulls.

    Parameters
    ----------
    width_mm, height_mm : float
        The gate's.
    hold_mm, anchor_mm, weight_at_mm : tuple of float
        Where the brace holds the gate, where it is anchored, where the weight acts: (x, y) in mm from the lower hinge.
    weight : str
        The weight in words.
    pull_n, shown : float or None, str
        The brace's pull in N, None where it is refused, and in words.
    full_n, full : float, str
        The pull that is drawn 13 px thick, in N and in words; without words no key is drawn.
    length : callable
        Says a length in mm in words.
    """
    sheet, left, ground = Drawing(700, 430), 120.0, 356.0

    def at(point: Flat) -> Flat:
        return left + point[0] * GATE_SCALE, ground - 24 - point[1] * GATE_SCALE

    sheet.rect(left - 34, ground - 24 - 2450 * GATE_SCALE, 22, 2450 * GATE_SCALE + 24, fill="#d8cdb8", width=2.5)
    sheet.line(14, ground, 686, ground, stroke=QUIET, width=3)
    (x1, y1), (x2, y2) = at((0, 0)), at((width_mm, height_mm))
    for share in (0, 0.33, 0.66, 1):
        y = y1 + (y2 - y1) * share
        sheet.line(x1, y, x2, y, stroke="#8a7a5c", width=6)
    for x in (x1, x2):
        sheet.line(x, y1, x, y2, stroke="#8a7a5c", width=8)
    for corner in ((0, 0), (0, height_mm)):
        hx, hy = at(corner)
        sheet.circle(hx - 8, hy, 6, fill=PAPER, width=2.5)
    start, end = at(hold_mm), at(anchor_mm)
    end = (end[0] - 14, end[1])
    if pull_n is None:
        refused_cable(sheet, (start, end))
    else:
        cable(sheet, (start, end), pull_n, full_n)
    anchored(sheet, *start, size=13)
    anchored(sheet, *end, size=13)
    wx, wy = at(weight_at_mm)
    sheet.circle(wx, wy, 7, fill=PAPER, stroke=RUST, width=3)
    sheet.arrow(wx, wy + 7, wx, wy + 66, colour=RUST, width=4, head=13)
    sheet.text(wx + 12, wy + 58, weight, size=16, weight=600, colour=RUST, halo=True)
    sheet.text(686, 30, shown, size=17, anchor="end", weight=700, colour=RUST if pull_n is None else INK, halo=True)
    sheet.measure(x1, x2, ground + 24, length(width_mm), colour=QUIET, size=15, above=False)
    if full and pull_n is not None:
        key(sheet, 690, 418, full_n, full)
    return sheet.figure(f"A gate {length(width_mm)} wide and {length(height_mm)} high, seen square on, its weight {weight} at {length(weight_at_mm[0])} "
                        f"from the hinge. A brace runs from {length(hold_mm[0])} along and {length(hold_mm[1])} up on the gate to "
                        f"{length(anchor_mm[1])} up on the post. {shown}.", caption)


def lane_across(span_mm: float, sag_mm: float | None, rise_mm: float, load: str, at_mm: float | None, pulls_n: Flat | None,
                shown: Sequence[str], full_n: float, full: str, length: Callable[[float], str], people: bool = True, caption: str = "") -> Figure:
    """A wire between two houses over a lane, each part as thick as it pulls.

    Parameters
    ----------
    span_mm, rise_mm : float
        Between the walls, measured level, and how much higher the right end is.
    sag_mm : float or None
        Under the load; None where nobody has said.
    load : str
        The load in words.
    at_mm : float or None
        Where one load hangs, from the left; None for a load all along.
    pulls_n : tuple of float or None
        At the left and the right end; None where there is no figure.
    shown : sequence of str
        What stands at the left and the right end.
    full_n, full : float, str
        The pull that is drawn 13 px thick, in N and in words; without words no key is drawn.
    length : callable
        Says a length in mm in words.
    people : bool
        Whether people walk below.
    """
    sheet, ground, s = Drawing(700, 410), 352.0, LANE_SCALE
    x1, x2 = 350 - span_mm * s / 2, 350 + span_mm * s / 2
    y1, y2 = 152 + rise_mm * s / 2, 152 - rise_mm * s / 2
    for wall, far in ((x1, 12), (x2, 688)):
        _house(sheet, min(wall, far), abs(wall - far), ground)
    sheet.line(12, ground, 688, ground, stroke=QUIET, width=3)
    if people:
        for px in (x1 + (x2 - x1) * 0.28, x1 + (x2 - x1) * 0.7):
            _walker(sheet, px, ground)
    sheet.line(x1, y1, x2, y2, stroke=QUIET, width=1.3, dash="3 5")
    _wire(sheet, (x1, y1), (x2, y2), span_mm, sag_mm, at_mm, pulls_n, full_n, load, length)
    for (x, y), words, anchor in (((x1, y1), shown[0], "start"), ((x2, y2), shown[1], "end")):
        anchored(sheet, x, y, size=14)
        sheet.text(x + (6 if anchor == "start" else -6), y - 18, words, size=16, anchor=anchor, weight=700, halo=True)
    sheet.measure(x1, x2, 34, f"span {length(span_mm)}", colour=QUIET, size=15, above=False)
    if full and any(pull is not None for pull in pulls_n or ()):
        key(sheet, 690, 396, full_n, full)
    sagging = "the sag is not stated" if sag_mm is None else f"it sags {length(sag_mm)}"
    where = "spread all along it" if at_mm is None else f"hung {length(at_mm)} from the left wall"
    return sheet.figure(f"A wire across a lane from wall to wall, {length(span_mm)}; the right end is {length(rise_mm)} higher; {load} is {where}; "
                        f"{sagging}. Left: {shown[0]}. Right: {shown[1]}.", caption)


def _wire(sheet: Drawing, left: Flat, right: Flat, span: float, sag: float | None, at: float | None, pulls, full_n: float, load: str, length: Callable[[float], str]) -> None:
    (x1, y1), (x2, y2), s = left, right, LANE_SCALE
    drop = (0.05 * span if sag is None else sag) * s
    share = 0.5 if at is None else at / span
    x, y = x1 + (x2 - x1) * share, y1 + (y2 - y1) * share + drop
    if at is None:
        points = [(x1 + (x2 - x1) * k / 24, y1 + (y2 - y1) * k / 24 + 4 * drop * (k / 24) * (1 - k / 24)) for k in range(25)]
        parts = [points[:13], points[12:]]
    else:
        parts = [[left, (x, y)], [(x, y), right]]
    for points, pull in zip(parts, pulls or (None, None)):
        refused_cable(sheet, points) if pull is None else cable(sheet, points, pull, full_n)
    if at is None:
        for k in range(1, 12):
            px, py = parts[0][0][0] + (x2 - x1) * k / 12, y1 + (y2 - y1) * k / 12 + 4 * drop * (k / 12) * (1 - k / 12)
            sheet.line(px, py + 3, px, py + 34, stroke="#24618f", width=5)
    else:
        sheet.line(x, y, x, y + 14, width=3)
        sheet.shape(((x - 11, y + 14), (x + 11, y + 14), (x + 15, y + 40), (x - 15, y + 40)), fill=COAT, width=2.5)
    sheet.text(x, y + 64, load, size=16, anchor="middle", weight=600, halo=True)
    sheet.text(*((x, y + 86) if at is None else (x + 22, y + 34)), "sag ?" if sag is None else f"sag {length(sag)}", size=15, colour=RUST, weight=700, halo=True,
               anchor="middle" if at is None else "start")


def _house(sheet: Drawing, x: float, wide: float, ground: float) -> None:
    sheet.rect(x, 60, wide, ground - 60, fill="#efe9dc", width=2.5)
    if wide > 44:
        for y in (90, 190, 280):
            sheet.rect(x + wide / 2 - 12, y, 24, 34, fill=STEEL, width=1.5)


def _walker(sheet: Drawing, x: float, ground: float) -> None:
    """Somebody walking below, about 1.7 m tall in the lane's scale."""
    top = ground - 1700 * LANE_SCALE
    sheet.circle(x, top + 8, 8, fill=DEEP, stroke=DEEP)
    sheet.path(f"M{number(x)} {number(top + 16)}V{number(top + 46)}M{number(x)} {number(top + 24)}L{number(x - 11)} {number(top + 40)}"
               f"M{number(x)} {number(top + 24)}L{number(x + 11)} {number(top + 38)}M{number(x)} {number(top + 46)}L{number(x - 9)} {number(ground)}"
               f"M{number(x)} {number(top + 46)}L{number(x + 10)} {number(ground)}", stroke=DEEP, width=4)
