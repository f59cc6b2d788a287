"""A line of links from wall to post: eyebolt with its angle, shackle, cable, turnbuckle, snap hook, each with its own mark."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from rigcalc.figures.drawing import DEEP, GREEN, INK, JAW, PAPER, QUIET, RUST, STEEL, Drawing, Figure
from rigcalc.figures.eyes import draw_rope

__all__ = ["PLACES", "DrawnLink", "line_of_links"]

PLACES = {"anchor": 118.0, "shackle": 200.0, "cable": 342.0, "turnbuckle": 508.0, "hook": 602.0}
SPANS = {"anchor": (100.0, 136.0), "shackle": (174.0, 222.0), "cable": (232.0, 452.0), "turnbuckle": (452.0, 564.0), "hook": (576.0, 652.0)}
LINE, MIDDLE = 120.0, {"anchor": 74.0, "shackle": 212.0, "cable": 350.0, "turnbuckle": 488.0, "hook": 626.0}


@dataclass(frozen=True)
class DrawnLink:
    """A link in the line: its place (a key of `PLACES`), name and mark in words; its limit in N and in words once that is told."""

    place: str
    name: str
    mark: str
    limit_n: float | None = None
    limit: str = ""
    governs: bool = False


def line_of_links(links: Sequence[DrawnLink], angle_deg: float | None = None, pointed: str = "",
                  point: Callable[[str, str, str], str] | None = None, caption: str = "") -> Figure:
    """The line, its links and their marks; once limits are told, a column a link as high as its limit.

    Parameters
    ----------
    links : sequence of DrawnLink
        Those in the line; a place that is left out is bridged by a plain line.
    angle_deg : float or None
        How far the pull stands off the line of the anchor's shank; None where the anchor is not an eye on a shank.
    pointed : str
        The place that is marked.
    point : callable or None
        (shape, place, words) -> shape that can be pointed at.
    """
    told = [link for link in links if link.limit_n is not None]
    sheet = Drawing(700, 458 if told else 308)
    sheet.rect(664, 40, 18, 142, fill="#d8cdb8", width=2.5)
    if not links or links[0].place != "anchor":
        sheet.rect(22, 40, 18, 142, fill="#d8cdb8", width=2.5)  # the anchor is left out: the line goes to the wall itself
    ends = [SPANS[link.place] for link in links]
    for (_, left), (right, _) in zip([(0.0, 40.0), *ends], [*ends, (664.0, 0.0)]):
        if right - left > 1 and not (left == 40.0 and links[0].place == "anchor"):
            sheet.line(left, LINE, right, LINE, stroke=JAW, width=4)
    for link in links:
        own = Drawing(sheet.width, sheet.height)
        x = MIDDLE[link.place]
        own.add(f'<rect x="{x - 66:g}" y="40" width="132" height="262" fill="#fff" fill-opacity="0"/>')  # the whole strip can be pointed at
        DRAWN[link.place](own, angle_deg)
        own.rect(x - 66, 196, 132, 106, corner=8, fill=PAPER, stroke=DEEP if link.place == pointed else QUIET, width=4 if link.place == pointed else 1.5)
        own.line(PLACES[link.place], 152, x, 196, stroke=QUIET, width=1.5)
        lines = [*textwrap.wrap(link.name, 14)[:3], *link.mark.split("\n")]
        own.text(x, 254 - 9.2 * (len(lines) - 1), "\n".join(lines), size=15, anchor="middle", weight=600)
        shape = "".join(own.parts)
        sheet.add(point(shape, link.place, f"{link.name}: {' '.join(link.mark.split())}") if point else shape)
    if told:
        _columns(sheet, told)
    words = "; ".join(f"{link.name}, {' '.join(link.mark.split())}" + (f", may carry {link.limit}{', and governs' if link.governs else ''}" if link.limit else "") for link in links)
    slanted = "" if not angle_deg else f" The pull stands {angle_deg:g} degrees off the line of the anchor's shank."
    return sheet.figure(f"A line from wall to post with its links: {words}.{slanted}", caption)


def _columns(sheet: Drawing, told: Sequence[DrawnLink]) -> None:
    foot, most = 434.0, max(link.limit_n for link in told)
    least = min(link.limit_n for link in told)
    sheet.line(14, foot, 686, foot, width=2.5)
    for link in told:
        x, high = MIDDLE[link.place], 84 * link.limit_n / most
        sheet.rect(x - 34, foot - high, 68, high, fill="crimp" if link.governs else STEEL, stroke=RUST if link.governs else INK, width=4 if link.governs else 1.5)
        sheet.text(x, foot - high - 8, link.limit, size=16, anchor="middle", weight=700, colour=RUST if link.governs else INK, halo=True)
    level = foot - 84 * least / most
    sheet.line(14, level, 686, level, stroke=GREEN, width=2, dash="8 6")
    sheet.text(14, 454, "columns: what each may carry; dashed: what the line may carry", size=15, colour=QUIET)


def _anchor(sheet: Drawing, angle_deg: float | None) -> None:
    x, turn = PLACES["anchor"], math.radians(angle_deg or 0)
    back = (x - 62 * math.cos(turn), LINE - 62 * math.sin(turn))
    across = (-math.sin(turn), math.cos(turn))
    sheet.line(x, LINE, *back, stroke=INK, width=13)
    sheet.line(x, LINE, *back, stroke=STEEL, width=8)
    for end in (1, -1):
        sheet.line(*back, back[0] + end * 42 * across[0], back[1] + end * 42 * across[1], stroke="#b5a888", width=14)
    sheet.circle(x, LINE, 15, fill=PAPER, stroke=INK, width=8)
    sheet.circle(x, LINE, 15, stroke=STEEL, width=3.5)
    if angle_deg:
        sheet.line(x, LINE, x + 60 * math.cos(turn), LINE + 60 * math.sin(turn), stroke=RUST, width=2, dash="6 5")
        sheet.text(x + 26, LINE - 26, f"{angle_deg:g}°", size=17, weight=700, colour=RUST, halo=True)


def _shackle(sheet: Drawing, _angle: float | None) -> None:
    x = PLACES["shackle"]
    for colour, width in ((INK, 13), (STEEL, 8)):
        sheet.path(f"M{x + 26} {LINE - 20}H{x - 6}a20 20 0 0 0 0 40H{x + 26}", stroke=colour, width=width)
    sheet.line(x + 22, LINE - 32, x + 22, LINE + 32, stroke=INK, width=9)
    sheet.circle(x + 22, LINE - 32, 7, fill=STEEL, width=2.5)


def _cable(sheet: Drawing, _angle: float | None) -> None:
    x = PLACES["cable"]
    for side in (1, -1):
        end = x + side * 112
        sheet.path(f"M{x + side * 62} {LINE}L{end - side * 8} {LINE - 15}A15 15 0 0 {1 if side > 0 else 0} {end - side * 8} {LINE + 15}Z", fill=PAPER, stroke=JAW, width=7)
        sheet.rect(x + (38 if side > 0 else -68), LINE - 11, 30, 22, corner=5, fill="sleeve", width=2)
    draw_rope(sheet, f"M{x - 38} {LINE}H{x + 38}", 9)


def _turnbuckle(sheet: Drawing, _angle: float | None) -> None:
    x = PLACES["turnbuckle"]
    sheet.line(x - 44, LINE, x + 44, LINE, stroke=INK, width=8)
    sheet.line(x - 44, LINE, x + 44, LINE, stroke=STEEL, width=4)
    sheet.rect(x - 30, LINE - 16, 60, 32, corner=8, width=8, stroke=INK)
    sheet.rect(x - 30, LINE - 16, 60, 32, corner=8, width=3.5, stroke=STEEL)
    for side in (1, -1):
        sheet.circle(x + side * 46, LINE, 9, fill=PAPER, stroke=INK, width=5)


def _hook(sheet: Drawing, _angle: float | None) -> None:
    x = PLACES["hook"]
    for colour, width in ((INK, 12), (STEEL, 7)):
        sheet.path(f"M{x - 26} {LINE}h16c14 -30 58 -26 58 0c0 26 -34 30 -50 12", stroke=colour, width=width)
    sheet.line(x - 4, LINE + 12, x - 8, LINE - 4, stroke=INK, width=4)


DRAWN = {"anchor": _anchor, "shackle": _shackle, "cable": _cable, "turnbuckle": _turnbuckle, "hook": _hook}
