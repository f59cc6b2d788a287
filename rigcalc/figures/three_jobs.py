"""Small drawings of a lesson's three jobs, bridle, gate brace and lantern wire: side by side, and wrong ones beside what is right."""

from __future__ import annotations

from collections.abc import Sequence

from rigcalc.figures.drawing import COAT, DEEP, INK, JAW, PAPER, QUIET, RUST, Drawing, Figure
from rigcalc.figures.pulls import Pointed, anchored, as_part, cable

__all__ = ["three_jobs", "wrong_hangings"]

JOBS = (("kayak", "kayak bridle"), ("gate", "gate brace"), ("lantern", "lantern span"))
WIDE = 233.0


def three_jobs(weights: Sequence[str], pulls_n: Sequence[float] | None = None, shown: Sequence[str] = ("", "", ""), full_n: float = 1.0,
               pointed: Pointed | None = None, chosen: str = "", caption: str = "") -> Figure:
    """Kayak bridle, gate brace and lantern span side by side with their weights; with `pulls_n` each cable as thick as it pulls most.

    `weights`, `shown`: in words, in that order; `pulls_n` and `full_n` (drawn 13 px thick) in N.
    """
    sheet = Drawing(WIDE * 3, 270)
    for place, (kind, title) in enumerate(JOBS):
        left = WIDE * place
        sheet.rect(left + 4, 4, WIDE - 8, 262, corner=8, stroke=DEEP if kind == chosen else QUIET, width=4 if kind == chosen else 1.2)
        sheet.text(left + WIDE / 2, 30, title, size=17, anchor="middle", weight=700, colour=DEEP)

        def job(kind=kind, left=left, place=place) -> None:
            sheet.rect(left + 8, 40, WIDE - 16, 150, fill=PAPER, stroke=PAPER, width=0)
            DRAWN[kind](sheet, left + WIDE / 2, 52, pulls_n and pulls_n[place], full_n)

        as_part(sheet, pointed, kind, f"The cable of the {title}", job)
        sheet.text(left + WIDE / 2, 214, f"weighs {weights[place]}", size=16, anchor="middle", weight=600)
        sheet.text(left + WIDE / 2, 242, shown[place], size=16, anchor="middle", weight=700, colour=RUST)
    told = " ".join(f"The {title} weighs {weight}{': ' + words if words else ''}." for (_, title), weight, words in zip(JOBS, weights, shown))
    return sheet.figure(f"Three jobs side by side. A kayak hangs from two legs of unlike length. A gate is held by a cable from its free lower "
                        f"corner up to its post. A lantern hangs in the middle of a nearly level wire. {told}", caption)


def _line(sheet: Drawing, points, pull: float | None, full_n: float) -> None:
    if pull:
        cable(sheet, points, pull, full_n)
    else:
        sheet.path("M" + "L".join(f"{x:g} {y:g}" for x, y in points), stroke=JAW, width=4)


def _kayak(sheet: Drawing, x: float, y: float, pull: float | None = None, full_n: float = 1.0) -> None:
    sheet.rect(x - 96, y, 192, 7, fill=PAPER, width=2)
    for at in (-51, 85):
        _line(sheet, ((x + at, y + 12), (x, y + 80)), pull, full_n)
        anchored(sheet, x + at, y + 12, 12)
    sheet.path(f"M{x - 100:g} {y + 92:g}Q{x:g} {y + 104:g} {x + 100:g} {y + 92:g}Q{x + 80:g} {y + 122:g} {x:g} {y + 122:g}Q{x - 80:g} {y + 122:g} "
               f"{x - 100:g} {y + 92:g}Z", fill=COAT, width=2.5)
    sheet.circle(x, y + 82, 5, fill=PAPER, stroke=INK, width=3)


def _gate(sheet: Drawing, x: float, y: float, pull: float | None = None, full_n: float = 1.0, wrong_way: bool = False) -> None:
    left, right, top, low = x - 80, x + 88, y + 46, y + 102
    sheet.rect(left - 16, y + 20, 12, 112, fill="#d8cdb8", width=2)
    for high in (top, (top + low) / 2, low):
        sheet.line(left, high, right, high, stroke="#8a7a5c", width=5)
    for at in (left, right):
        sheet.line(at, top, at, low, stroke="#8a7a5c", width=6)
    first, last = (top, low) if wrong_way else (low, top)
    _line(sheet, ((right, first), (left - 8, last + (14 if wrong_way else 0))), pull, full_n)
    anchored(sheet, left - 8, last + (14 if wrong_way else 0), 11)
    sheet.line(x - 104, y + 132, x + 104, y + 132, stroke=QUIET, width=2.5)


def _lantern(sheet: Drawing, x: float, y: float, pull: float | None = None, full_n: float = 1.0, sag: float = 16.0) -> None:
    for at in (-104, 94):
        sheet.rect(x + at, y, 12, 130, fill="#efe9dc", width=2)
    for at in (-92, 94):
        _line(sheet, ((x + at, y + 34), (x, y + 34 + sag)), pull, full_n)
        anchored(sheet, x + at, y + 34, 11)
    sheet.line(x, y + 34 + sag, x, y + 46 + sag, width=3)
    sheet.shape(((x - 9, y + 46 + sag), (x + 9, y + 46 + sag), (x + 13, y + 68 + sag), (x - 13, y + 68 + sag)), fill=COAT, width=2.5)
    sheet.line(x - 104, y + 130, x + 106, y + 130, stroke=QUIET, width=2.5)


def _frame(sheet: Drawing, x: float, y: float, pull: float | None = None, full_n: float = 1.0) -> None:
    corners = [(x - 80, y + 116), (x + 50, y + 116), (x + 88, y + 88), (x - 42, y + 88)]
    sheet.rect(x - 100, y, 200, 7, fill=PAPER, width=2)
    sheet.shape(corners, fill=COAT, width=2.5)
    for cx, cy in corners:
        _line(sheet, ((cx, y + 10), (cx, cy)), pull, full_n)
        anchored(sheet, cx, y + 10, 11)


DRAWN = {"kayak": _kayak, "gate": _gate, "lantern": _lantern, "frame": _frame}


def wrong_hangings(cases: Sequence[tuple[str, str]], caption: str = "") -> Figure:
    """Wrong answers, two in a row, each with its drawing and what somebody said (marked ✗): (kind, said).

    Kinds are "kayak", "gate", "gate wrong way", "lantern", "flat wire" and "frame".
    """
    wide, high = 350.0, 224.0
    sheet = Drawing(2 * wide, high * ((len(cases) + 1) // 2))
    for place, (kind, said) in enumerate(cases):
        left, top = wide * (place % 2), high * (place // 2)
        sheet.rect(left + 4, top + 4, wide - 8, high - 8, corner=8, stroke=QUIET, width=1.2)
        sheet.text(left + 20, top + 32, str(place + 1), size=20, weight=700, colour=DEEP)
        x, y = left + wide / 2, top + 24
        if kind == "gate wrong way":
            _gate(sheet, x, y, wrong_way=True)
        elif kind == "flat wire":
            _lantern(sheet, x, y, sag=5)
        else:
            DRAWN[kind](sheet, x, y)
        sheet.text(x, top + 184, f"✗ {said}", size=16, anchor="middle", weight=600, colour=RUST)
    told = " ".join(f"{place}: somebody says, {said}." for place, (_, said) in enumerate(cases, 1))
    return sheet.figure(f"{len(cases)} wrong answers with their drawings. {told}", caption)
