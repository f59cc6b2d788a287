"""Gauge, paper and caliper: a slot over a crimp in section, a gauge with its label, paper in closed jaws, a reading against its limit, a day's list."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import exp

from rigcalc.figures.drawing import DEEP, GREEN, INK, PAPER, QUIET, RUST, Drawing, Figure, millimetres, number
from rigcalc.figures.press import Press
from rigcalc.figures.pressed_pieces import Looks, draw_piece
from rigcalc.figures.sections import draw_sleeve

__all__ = ["day_list", "gauge_and_label", "gauge_on_piece", "paper_in_jaws", "reading_band"]

PLATE = "#cdd6db"
Pick = Callable[[str, str, str], str]


# --- the slot over a crimp --------------------------------------------------------------------------

def gauge_on_piece(looks: Looks, name: str, content: str = "bare", answer: str = "", worn: bool = False) -> Figure:
    """A piece from its side, and one crimp in section with the gauge beside it or put on.

    Parameters
    ----------
    looks : Looks
        The piece.
    name : str
        What is on the bench, in words.
    content : str
        What lies in the sleeve: "bare", "coated" or "too small".
    answer : str
        "" before the gauge is put on; else "goes on", "stops" or "jams".
    worn : bool
        Whether the slot is worn wide.

    >>> "goes all the way on" in gauge_on_piece(Looks(20, ((1, 5), (7, 12)), 3, 3.18, 3.18), "a piece", answer="goes on").alt
    True
    """
    sheet, x, y, scale = Drawing(690, 300), 538, 132, 40.0
    draw_piece(sheet, looks)
    flat, fat = "flat" in looks.marks, bool(looks.fat)
    press = Press(0.4 if fat else 1.0, content)
    size = 0.86 if looks.thin else 1.0
    half = press.closed_radius * scale * (1.22 if worn else 1.0) + 3
    if "fins" in looks.marks:
        reach = press.closed_radius * scale * size
        for side in (-1, 1):
            sheet.shape([(x + side * (reach - 3), y - 5), (x + side * (reach + (9 if looks.thin else 19)), y), (x + side * (reach - 3), y + 5)], fill="crimp", width=2)
    draw_sleeve(sheet, x, y, scale * size, press, not flat, jaws=False, metal="copper" if "copper" in looks.marks else "sleeve")
    _plate(sheet, x, y, half, {"": 58, "goes on": 0, "stops": 46, "jams": 24}[answer], press.closed_radius * scale)
    sheet.text(680, 24, "one crimp in section, and the slot", size=15, anchor="end", weight=600, colour=QUIET)
    words = {"": "not put on yet", "goes on": "goes all the way on and turns", "stops": "stops: the crimp is too fat", "jams": "jams: metal stands in its way"}[answer]
    sheet.text(12, 24, "from the side", size=15, weight=600, colour=QUIET)
    sheet.text(345, 262, name, size=16, anchor="middle", weight=600)
    sheet.text(345, 288, f"The gauge: {words}", size=17, anchor="middle", weight=700, colour=DEEP)
    return sheet.figure(f"{name[0].upper()}{name[1:]}. {looks.said()} Beside it one crimp in section with the gauge's slot. The gauge: {words}.")


def _plate(sheet: Drawing, x: float, y: float, half: float, off: float, reach: float) -> None:
    """The fork comes from the right: `off` px short of all the way on."""
    left, back, thick = x - reach * 0.4 + off, x + reach + 8 + off, 20
    n = number
    sheet.path(f"M{n(left)} {n(y - half)}H{n(back)}V{n(y + half)}H{n(left)}V{n(y + half + thick)}H{n(min(back + 30, 686))}V{n(y - half - thick)}H{n(left)}Z", fill=PLATE, width=2.6, opacity=0.92)


# --- the gauge and its label ------------------------------------------------------------------------

def gauge_and_label(name: str, sizes: Sequence[str], checked: str, due: str, today: str) -> Figure:
    """A gauge with a slot for each size, its label, and the day on the wall; dates as they are written.

    >>> "due 2026-03-02" in gauge_and_label("GC", ("1/4", "5/16"), "2025-03-02", "2026-03-02", "2026-03-09").alt
    True
    """
    sheet = Drawing(690, 210)
    sheet.rect(20, 34, 390, 112, corner=14, fill=PLATE, width=3)
    for i, size in enumerate(sizes):
        x = 48 + 88 * i
        sheet.rect(x, 26, 30 + 9 * i, 66, corner=4, fill=PAPER, stroke=PAPER, width=1)
        sheet.path(f"M{x} 34V92H{x + 30 + 9 * i}V34", width=3)
        sheet.text(x + 15 + 4.5 * i, 120, size, anchor="middle", weight=700)
    sheet.text(390, 82, name, size=26, anchor="end", weight=700, colour=DEEP)
    sheet.rect(440, 22, 236, 84, corner=6, fill=PAPER, width=2)
    sheet.text(454, 50, f"checked  {checked}", size=17)
    sheet.text(454, 84, f"due          {due}", size=17, weight=700)
    sheet.line(410, 90, 440, 64, width=2)
    sheet.rect(440, 126, 236, 62, corner=6, fill="#f2ede1", width=2)
    sheet.text(454, 164, f"today       {today}", size=17, weight=700)
    return sheet.figure(f"Gauge {name} with slots for {' and '.join(sizes)}. On its label: checked {checked}, due {due}. The calendar on the wall says {today}.")


# --- paper in the closed jaws -----------------------------------------------------------------------

def paper_in_jaws(near: str = "", far: str = "", handles: str = "") -> Figure:
    """An empty tool closed on a strip of thin paper, seen from the front: what was found at its ends and at the handles; "" where not tried yet.

    >>> "near end: slips" in paper_in_jaws("slips").alt
    True
    """
    sheet = Drawing(690, 250)
    for top in (40, 102):
        sheet.rect(190, top, 310, 58, corner=6, fill="jaw", width=3)
    sheet.line(190, 100, 500, 100, width=2)
    for x, wide, name, found in ((78, 120, "near end", near), (492, 120, "far end", far)):
        sheet.rect(x, 95, wide, 10, fill="#f6efd9", width=2)
        left = x < 300
        sheet.arrow(76 if left else 614, 100, 30 if left else 660, 100, colour=DEEP, width=3)
        sheet.text(12 if left else 678, 78, name, anchor="start" if left else "end", weight=600)
        sheet.text(12 if left else 678, 134, found or "not pulled", anchor="start" if left else "end", weight=700, colour=DEEP if found else QUIET)
    sheet.text(345, 30, "jaws, closed and empty, on a strip of thin paper", anchor="middle", size=15, weight=600, colour=QUIET)
    sheet.text(345, 196, "handles against their stop:", anchor="middle", weight=600)
    sheet.text(345, 222, handles or "not felt", anchor="middle", weight=700, colour=DEEP if handles else QUIET)
    return sheet.figure(f"An empty tool closed on a strip of thin paper that looks out at both ends. Paper at the near end: {near or 'not pulled yet'}; "
                        f"at the far end: {far or 'not pulled yet'}. Handles against their stop: {handles or 'not felt yet'}.")


# --- a reading against its limit --------------------------------------------------------------------

def reading_band(reading_mm: float, limit_mm: float, uncertainty_mm: float, edges: tuple[float, float] | None = None, span_mm: float = 0.4, caption: str = "", inch: float | None = None) -> Figure:
    """A reading and what the true size may be, on a line with the limit; with `edges` the three zones are drawn.

    Parameters
    ----------
    reading_mm, limit_mm, uncertainty_mm, span_mm : float
        In mm; the standard uncertainty; the line runs `span_mm` to either side of the limit.
    edges : tuple of float or None
        Where pass ends and where fail begins, in mm; None while it is asked.
    inch : float or None
        What one millimetre is in inches, where inches stand first; None for mm alone.

    >>> "not proven" in reading_band(8.3, 8.4, 0.05, (8.32, 8.48)).alt
    True
    """
    sheet, base, left, wide = Drawing(690, 304 if inch else 284), 178, 24, 642

    def said(mm: float, places: int = 2) -> str:
        return f"{mm * inch:.4f} in [{mm:.{places}f} mm]" if inch else millimetres(mm, places)

    def at(mm: float) -> float:
        return left + wide * min(max((mm - limit_mm) / (2 * span_mm) + 0.5, 0), 1)

    if edges:
        for a, b, fill, word, colour in ((limit_mm - span_mm, edges[0], "#d9ece7", "pass", GREEN), (*edges, "crimp", "not proven", INK), (edges[1], limit_mm + span_mm, "void", "fail", RUST)):
            if at(b) - at(a) > 1:
                sheet.rect(at(a), base + 6, at(b) - at(a), 34, fill=fill, width=1.5)
            if at(b) - at(a) > 92 or (word != "not proven" and at(b) - at(a) > 44):
                sheet.text((at(a) + at(b)) / 2, base + 29, word, size=16, anchor="middle", weight=700, colour=colour, halo=True)
            elif word == "not proven":
                sheet.text((at(a) + at(b)) / 2, base + 59, word, size=16, anchor="middle", weight=700, colour=colour)
    high = 110 * min(1, 0.05 / uncertainty_mm)
    steps = [reading_mm + uncertainty_mm * (i / 12) for i in range(-48, 49)]
    curve = [(at(mm), base - high * exp(-((mm - reading_mm) / uncertainty_mm) ** 2 / 2)) for mm in steps if abs(mm - limit_mm) <= span_mm]
    beyond = [(px, py) for px, py in curve if px >= at(limit_mm)]
    if curve:
        sheet.shape([(curve[0][0], base), *curve, (curve[-1][0], base)], fill="#e3edf3", width=2.5)
    if len(beyond) > 1:
        sheet.shape([(beyond[0][0], base), *beyond, (beyond[-1][0], base)], fill="void", width=2)
    sheet.line(left, base, left + wide, base, width=3)
    sheet.line(at(limit_mm), 40, at(limit_mm), base + 44, stroke=RUST, width=4)
    sheet.text(at(limit_mm) + 8, 52, f"limit {said(limit_mm)}", weight=700, colour=RUST, halo=True)
    sheet.line(at(reading_mm), base - high - 8, at(reading_mm), base, stroke=DEEP, width=3, dash="6 5")
    near = at(reading_mm)
    sheet.text(min(max(near, 150), 540) if inch else min(max(near, 90), 600), 26, f"reading {said(reading_mm)}", anchor="middle", weight=700, colour=DEEP, halo=True)
    for step in (-1, -0.5, 0, 0.5, 1):
        mm = limit_mm + step * span_mm
        for row, words in enumerate([f"{mm * inch:.3f}", f"[{mm:.1f}]"] if inch else [f"{mm:.1f}"]):
            sheet.text(at(mm), base + 80 + 20 * row, words, size=15, anchor="start" if step == -1 else "end" if step == 1 else "middle")
    sheet.text(345, base + (120 if inch else 100), f"size across the crimp, {'in [mm]' if inch else 'mm'}", size=15, anchor="middle", colour=QUIET)
    zones = f" Pass up to {said(edges[0], 3)}, not proven from there to {said(edges[1], 3)}, fail beyond." if edges else ""
    return sheet.figure(f"A line of sizes with the limit, at most {said(limit_mm)}. The reading is {said(reading_mm)}, its standard uncertainty "
                        f"{said(uncertainty_mm, 3)}; a bell curve round it shows where the true size may lie.{zones}", caption)


# --- the day's list ---------------------------------------------------------------------------------

def day_list(rows: Sequence[tuple[str, str, str, str]], head: str, marked: Sequence[str] = (), told: Sequence[str] | None = None, pick: Pick | None = None) -> Figure:
    """Pieces of a day, a row each: name, tool, gauge, time as written; those pointed at are marked.

    Parameters
    ----------
    rows : sequence of tuple
        (name, tool, gauge, time), "" where nothing is written.
    head : str
        What was found, and the last good check.
    marked, told : sequence of str
        The names pointed at; and, once it is told, those that go back.

    >>> "P1: tool LA" in day_list([("P1", "LA", "GA", "10:00")], "LA does not close").alt
    True
    """
    lines = head.split("\n")
    top = 34 + 22 * len(lines)
    sheet = Drawing(690, top + 34 * len(rows) + 8)
    sheet.text(12, 24, head, size=17, weight=600)
    for x, words in ((58, "piece"), (190, "tool"), (300, "gauge"), (400, "pressed and gauged"), (590, "" if told is None else "goes back")):
        sheet.text(x, top - 8, words, size=15, weight=700, colour=QUIET)
    for i, (name, tool, gauge, at) in enumerate(rows):
        y, began = top + 34 * i, len(sheet.parts)
        sheet.rect(8, y, 674, 31, corner=5, fill="#e8f0f5" if name in marked else PAPER, stroke=DEEP if name in marked else "#b9c1c6", width=2.6 if name in marked else 1.3)
        sheet.rect(18, y + 6, 19, 19, fill=PAPER, width=1.8)
        if name in marked:
            sheet.path(f"M21 {y + 15}l5 6l9 -13", width=3.2, stroke=DEEP)
        for x, words in ((58, name), (190, tool or "not written"), (300, gauge or "not written"), (400, at or "not written")):
            sheet.text(x, y + 22, words, size=16, weight=600 if x == 58 else 400)
        if told is not None:
            sheet.text(590, y + 22, "yes" if name in told else "no", size=16, weight=700, colour=RUST if name in told else GREEN)
        if pick:
            drawn, sheet.parts[began:] = "".join(sheet.parts[began:]), []
            sheet.add(pick(drawn, name, f"{name}: tool {tool or 'not written'}, gauge {gauge or 'not written'}, {at or 'time not written'}"))
    said = "; ".join(f"{name}: tool {tool or 'not written'}, gauge {gauge or 'not written'}, {at or 'time not written'}" + (", pointed at" if name in marked else "")
                     + ("" if told is None else ", goes back" if name in told else ", need not go back") for name, tool, gauge, at in rows)
    return sheet.figure(f"A list of {len(rows)} pieces. {' '.join(lines)} {said}.")
