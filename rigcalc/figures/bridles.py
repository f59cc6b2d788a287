"""A kayak on legs: seen from the side and from above, and seen from its end where one figure may mean three angles."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from rigcalc.figures.drawing import COAT, DEEP, INK, PAPER, QUIET, RUST, Drawing, Figure, number
from rigcalc.figures.pulls import Pointed, anchored, as_part, cable, key, lettered, refused_cable, slack_cable

__all__ = ["HungLeg", "Meaning", "bridle_views", "three_meanings"]

Point = tuple[float, float, float]
SCALE, MIDDLE, SIDE_RING, PLAN_RING = 0.115, 350.0, 262.0, 508.0
KAYAK_MM = 4300.0


@dataclass(frozen=True)
class HungLeg:
    """One leg as it is drawn: its beam point (along, across, up) in mm; its pull in N, None where it is refused;
    the most that it may get in N; `shown` is its pull in words; `straight`: its length is all used, though it may pull nothing."""

    name: str
    anchor_mm: Point
    pull_n: float | None
    most_n: float
    shown: str
    straight: bool = True


def bridle_views(legs: Sequence[HungLeg], ring_mm: Point, load: str, full_n: float, full: str, length: Callable[[float], str],
                 chosen: str = "", pointed: Pointed | None = None, caption: str = "") -> Figure:
    """A kayak under its beam points, from the side and from above, each leg as thick as it pulls.

    Parameters
    ----------
    legs : sequence of HungLeg
        Two to four.
    ring_mm : tuple of float
        Where the ring hangs (along, across, up), in mm; (0, 0, 0) is where it was measured.
    load : str
        The weight in words.
    full_n, full : float, str
        The pull that is drawn 13 px thick, in N and in words; without words no key is drawn.
    length : callable
        Says a length in mm in words.
    chosen : str
        The name of the leg whose point is being moved.
    pointed : callable, optional
        Makes a beam point pointable.
    """
    sheet = Drawing(700, 700)
    sheet.text(14, 26, "from the side", size=16, weight=700, colour=DEEP)
    sheet.text(14, 656, "from above", size=16, weight=700, colour=DEEP)
    sheet.line(14, 372, 686, 372, stroke=QUIET, width=1.2, dash="3 5")
    _side(sheet, legs, ring_mm, load, full_n, chosen, pointed)
    _plan(sheet, legs, ring_mm, full_n, chosen)
    if full and any(leg.pull_n is not None for leg in legs):
        key(sheet, 690, 684, full_n, full)
    return sheet.figure(f"A kayak of {load} under {len(legs)} beam points, from the side and from above. "
                        + " ".join(_said(leg, ring_mm, length) for leg in legs), caption)


def _said(leg: HungLeg, ring: Point, length: Callable[[float], str]) -> str:
    along, across, up = (a - b for a, b in zip(leg.anchor_mm, ring))
    way = f"{length(abs(along))} {'right' if along > 0 else 'left'}, {length(abs(across))} {'back' if across > 0 else 'front'}, {length(up)} up"
    return f"Leg {leg.name}: its point is {way} of the ring; {leg.shown.replace(chr(10), ', ')}."


def _seen(at: Point, up: bool) -> tuple[float, float]:
    return (MIDDLE + at[0] * SCALE, SIDE_RING - at[2] * SCALE) if up else (MIDDLE + at[0] * SCALE, PLAN_RING - at[1] * SCALE)


def _leg(sheet: Drawing, leg: HungLeg, start: tuple[float, float], end: tuple[float, float], full_n: float) -> None:
    if leg.pull_n is None:
        refused_cable(sheet, (start, end))
    elif not leg.straight:
        slack_cable(sheet, *start, *end)
    else:
        cable(sheet, (start, end), leg.pull_n, full_n, leg.most_n)


def _side(sheet: Drawing, legs, ring: Point, load: str, full_n: float, chosen: str, pointed: Pointed | None) -> None:
    rx, ry = _seen(ring, True)
    for leg in sorted(legs, key=lambda one: -one.anchor_mm[1]):
        ax, ay = _seen(leg.anchor_mm, True)
        sheet.line(ax, 36, ax, ay, stroke=QUIET, width=1.5, dash="2 4")
        _leg(sheet, leg, (ax, ay), (rx, ry), full_n)
    sheet.rect(30, 34, 640, 9, fill=PAPER, width=2)
    taken: list[tuple[float, float]] = []
    for leg in legs:
        ax, ay = _seen(leg.anchor_mm, True)
        lx, ly = ax + (24 if ax >= rx else -24), ay - 4
        while any(abs(lx - x) < 30 and abs(ly - y) < 28 for x, y in taken):
            lx += 32 if ax >= rx else -32
        taken.append((lx, ly))

        def point(leg=leg, ax=ax, ay=ay, lx=lx, ly=ly) -> None:
            anchored(sheet, ax, ay)
            lettered(sheet, lx, ly, leg.name, leg.name == chosen)

        as_part(sheet, pointed, leg.name, f"Beam point {leg.name}", point)
        if len(legs) == 2:
            sheet.text((ax + rx) / 2 + (34 if ax >= rx else -34), (ay + ry) / 2 + 4, leg.shown, size=16, weight=600,
                       anchor="start" if ax >= rx else "end", halo=True)
    _hull_from_the_side(sheet, rx, ry, load)


def _hull_from_the_side(sheet: Drawing, x: float, y: float, load: str) -> None:
    half = KAYAK_MM * SCALE / 2
    sheet.path(f"M{number(x - half)} {number(y + 20)}Q{number(x)} {number(y + 36)} {number(x + half)} {number(y + 20)}"
               f"Q{number(x + half * .8)} {number(y + 62)} {number(x)} {number(y + 62)}Q{number(x - half * .8)} {number(y + 62)} "
               f"{number(x - half)} {number(y + 20)}Z", fill=COAT, width=2.5)
    sheet.line(x, y, x, y + 30, stroke=INK, width=4)
    sheet.circle(x, y, 8, fill=PAPER, stroke=INK, width=4)
    sheet.text(x, y + 53, f"kayak, {load}", size=16, anchor="middle", weight=600)


def _plan(sheet: Drawing, legs, ring: Point, full_n: float, chosen: str) -> None:
    rx, ry = _seen(ring, False)
    half = KAYAK_MM * SCALE / 2
    sheet.path(f"M{number(rx - half)} {number(ry)}Q{number(rx)} {number(ry - 52)} {number(rx + half)} {number(ry)}"
               f"Q{number(rx)} {number(ry + 52)} {number(rx - half)} {number(ry)}Z", fill="#dcebf6", stroke=QUIET, width=2)
    for leg in legs:
        _leg(sheet, leg, _seen(leg.anchor_mm, False), (rx, ry), full_n)
    sheet.circle(rx, ry, 8, fill=PAPER, stroke=INK, width=4)
    for leg in legs:
        ax, ay = _seen(leg.anchor_mm, False)
        back = leg.anchor_mm[1] >= 0
        anchored(sheet, ax, ay)
        lettered(sheet, ax, ay + (-24 if back else 24), leg.name, leg.name == chosen)
        outwards = (ax >= rx) == (140 <= ax <= 560)
        sheet.text(ax + (22 if outwards else -22), ay + (-20 if back else 28), leg.shown, size=15, weight=600,
                   anchor="start" if outwards else "end", halo=True)


# --- one figure, three angles ---------------------------------------------------------------------

@dataclass(frozen=True)
class Meaning:
    """One way of taking a figure: `measured` "horizontal", "vertical" or "included", the legs' angle from the horizontal in rad,
    their pull in N (None where it is refused or not said yet), what stands under it, and whether it is the one meant."""

    measured: str
    from_horizontal_rad: float
    pull_n: float | None
    shown: str
    meant: bool = False


TITLES = {"horizontal": "from the horizontal", "vertical": "from the plumb line", "included": "between the legs"}
PANEL, LEG = 232.0, 106.0


def three_meanings(figure_words: str, meanings: Sequence[Meaning], full_n: float, caption: str = "") -> Figure:
    """One written figure as it may have been measured: a kayak seen from its end under two beam points, once for each meaning.

    `figure_words` is the angle as written; `full_n` the pull in N that is drawn 13 px thick.
    """
    sheet = Drawing(PANEL * len(meanings), 326)
    for place, one in enumerate(meanings):
        _hung_from_the_end(sheet, PANEL * place, one, figure_words, full_n)
    told = " ".join(f"{figure_words} {TITLES[one.measured]}: {one.shown.replace(chr(10), ', ')}." for one in meanings)
    return sheet.figure(f"A kayak seen from its end on two like legs, drawn {len(meanings)} times for one written figure. {told}", caption)


def _hung_from_the_end(sheet: Drawing, left: float, one: Meaning, words: str, full_n: float) -> None:
    x, top, angle = left + PANEL / 2, 74.0, one.from_horizontal_rad
    wide, deep = LEG * math.cos(angle), LEG * math.sin(angle)
    low = top + deep
    if one.meant:
        sheet.rect(left + 4, 4, PANEL - 8, 318, corner=8, stroke=DEEP, width=4)
    sheet.text(x, 28, TITLES[one.measured], size=16, anchor="middle", weight=700, colour=DEEP)
    sheet.rect(left + 14, top - 22, PANEL - 28, 9, fill=PAPER, width=2)
    for side in (-1, 1):
        ends = ((x + side * wide, top), (x, low))
        refused_cable(sheet, ends) if one.pull_n is None else cable(sheet, ends, one.pull_n, full_n)
        anchored(sheet, x + side * wide, top)
    _arc(sheet, x, low, angle, one.measured, words)
    sheet.circle(x, low, 6, fill=PAPER, stroke=INK, width=3)
    sheet.path(f"M{number(x - 44)} {number(low + 12)}Q{number(x)} {number(low + 2)} {number(x + 44)} {number(low + 12)}"
               f"Q{number(x + 34)} {number(low + 46)} {number(x)} {number(low + 50)}Q{number(x - 34)} {number(low + 46)} "
               f"{number(x - 44)} {number(low + 12)}Z", fill=COAT, width=2.5)
    sheet.text(x, 282, one.shown, size=16, anchor="middle", weight=600, colour=RUST if one.pull_n is None else INK)


def _arc(sheet: Drawing, x: float, y: float, angle: float, measured: str, words: str) -> None:
    """The arc where the angle was measured, at the ring, from its line to the leg, with the figure beside it."""
    leg = angle
    radius = 60.0 if measured == "horizontal" else min(60.0, LEG * math.sin(leg) * 0.8)
    first, last = {"horizontal": (0.0, leg), "vertical": (leg, math.pi / 2), "included": (leg, math.pi - leg)}[measured]
    if measured == "horizontal":
        sheet.line(x, y, x + 92, y, stroke=RUST, width=1.8, dash="6 4")
    if measured == "vertical":
        sheet.line(x, y, x, y - LEG * math.sin(leg) - 8, stroke=RUST, width=1.8, dash="6 4")
    (x1, y1), (x2, y2) = ((x + radius * math.cos(at), y - radius * math.sin(at)) for at in (first, last))
    sheet.path(f"M{number(x1)} {number(y1)}A{radius:g} {radius:g} 0 0 0 {number(x2)} {number(y2)}", stroke=RUST, width=3)
    if measured == "vertical":
        sheet.text(x - 6, y - radius - 4, words, size=16, weight=700, colour=RUST, halo=True, anchor="end")
        return
    middle, far = (first + last) / 2, radius + (14 if measured == "included" else 20)
    sheet.text(x + far * math.cos(middle), y - far * math.sin(middle) + 5, words, size=16, weight=700, colour=RUST, halo=True,
               anchor="middle" if measured == "included" else "start")
