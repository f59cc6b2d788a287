"""A pulled lot on one axis of force: the pieces as they broke, mean, lowest and bound, the next ones; and six drawn again and again."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from rigcalc.figures.drawing import COAT, DEEP, GREEN, INK, PAPER, QUIET, RUST, STEEL, Drawing, Figure, number

__all__ = ["Axis", "Judged", "Pulled", "Sample", "lot_on_axis", "mark", "samples_on_axis"]

LEFT, RIGHT, WIDE = 40.0, 660.0, 700.0


@dataclass(frozen=True)
class Axis:
    """Forces from `low_n` to `high_n` along a line, with its ticks (N, words) and what it measures."""

    low_n: float
    high_n: float
    ticks: tuple[tuple[float, str], ...]
    words: str

    def at(self, force_n: float, left: float = LEFT, right: float = RIGHT) -> float:
        """The place in px; a force off the axis stands at its end."""
        share = (force_n - self.low_n) / (self.high_n - self.low_n)
        return left + (right - left) * min(1.0, max(0.0, share))


@dataclass(frozen=True)
class Pulled:
    """A piece that was pulled: its greatest force in N, in words, and whether it slipped."""

    force_n: float
    words: str
    slipped: bool = False


@dataclass(frozen=True)
class Judged:
    """What is shown once somebody has decided: mean, lowest and bound in N and in words; no bound where there is none."""

    mean_n: float
    mean: str
    lowest_n: float
    lowest: str
    bound_n: float | None
    bound: str


@dataclass(frozen=True)
class Sample:
    """One sample of a lot: mean, lowest and bound, in N, and whether one of its pieces slipped."""

    mean_n: float
    lowest_n: float
    bound_n: float
    slipped: bool = False


def mark(sheet: Drawing, kind: str, x: float, y: float) -> None:
    """The mark of "broke", "slipped", "mean", "lowest" or "bound": told apart by shape."""
    if kind == "broke":
        sheet.circle(x, y, 6.5, fill=DEEP, stroke=INK, width=1.5)
    elif kind == "slipped":
        sheet.circle(x, y, 6.5, fill=PAPER, stroke=RUST, width=3)
    elif kind == "mean":
        sheet.shape([(x, y - 8), (x + 8, y), (x, y + 8), (x - 8, y)], fill=COAT, width=2)
    elif kind == "lowest":
        sheet.shape([(x - 8, y - 7), (x + 8, y - 7), (x, y + 8)], fill=PAPER, width=2.5)
    else:
        sheet.rect(x - 3.5, y - 9, 7, 18, fill=RUST, stroke=INK, width=1.2)


def _needed(sheet: Drawing, axis: Axis, needed_n: float, words: str, top: float, foot: float) -> None:
    x = axis.at(needed_n)
    sheet.line(x, top, x, foot, stroke=GREEN, width=3, dash="9 5")
    sheet.text(x, top - 8, words, size=16, anchor="middle", weight=700, colour=GREEN, halo=True)


def _scale(sheet: Drawing, axis: Axis, y: float) -> None:
    sheet.line(LEFT, y, RIGHT, y, width=2.5)
    for force, words in axis.ticks:
        x = axis.at(force)
        sheet.line(x, y, x, y + 8, width=2)
        sheet.text(x, y + 26, words, size=15, anchor="middle")
    sheet.text(WIDE / 2, y + 48, axis.words, size=15, anchor="middle", colour=QUIET)


def _beside(sheet: Drawing, x: float, y: float, words: str, line: float, **how) -> None:
    """Words beside a mark, on the side that has room and does not cross the line."""
    right = x < 470 and not (160 < x < line < x + 180)
    sheet.text(x + (15 if right else -15), y + 5, words, size=15, anchor="start" if right else "end", halo=True, **how)


def _box_of_lanyards(sheet: Drawing, y: float, all_pieces: int, gone: int) -> None:
    step = (RIGHT - LEFT) / all_pieces
    for place in range(all_pieces):
        x, away = LEFT + step * (place + 0.5), place < gone
        colour = STEEL if away else INK
        sheet.circle(x, y, 3.4, stroke=colour, width=1.8)
        sheet.line(x, y + 3.4, x, y + 25, stroke=colour, width=1.8)
        sheet.circle(x, y + 28, 3.4, stroke=colour, width=1.8)
        if away:
            sheet.line(x - 5, y + 25, x + 5, y + 3, stroke=RUST, width=2.2)


def _forty(sheet: Drawing, axis: Axis, forces_n: Sequence[float], needed_n: float, foot: float) -> None:
    """The next pieces as a heap of marks: rings for those that hold, crosses for those that do not."""
    heaps: dict[int, int] = {}
    for force in sorted(forces_n):
        slot = round(axis.at(force) / 13)
        x, y = slot * 13.0, foot - 10 - 13 * heaps.get(slot, 0)
        heaps[slot] = heaps.get(slot, 0) + 1
        if force < needed_n:
            sheet.path(f"M{number(x - 5)} {number(y - 5)}l10 10m0 -10l-10 10", stroke=RUST, width=3)
        else:
            sheet.circle(x, y, 5, fill=PAPER, stroke=DEEP, width=2)


def lot_on_axis(axis: Axis, all_pieces: int, pulled: Sequence[Pulled], needed_n: float, needed: str, judged: Judged | None = None,
                next_n: Sequence[float] = (), caption: str = "") -> Figure:
    """The box of a lot, its pulled pieces one under the other, and after the decision mean, lowest, bound and the next pieces."""
    lines = max(6, len(pulled))
    extra = (3 * 26 + 12 if judged else 0) + (122 if next_n else 0)
    foot = 112.0 + 24 * lines + extra
    sheet = Drawing(WIDE, foot + 58)
    _box_of_lanyards(sheet, 12, all_pieces, len(pulled))
    _needed(sheet, axis, needed_n, needed, 86, foot)
    y = 108.0
    for place, one in enumerate(pulled, 1):
        x = axis.at(one.force_n)
        mark(sheet, "slipped" if one.slipped else "broke", x, y)
        _beside(sheet, x, y, f"{place}: {one.words}", axis.at(needed_n))
        y += 24
    y = 112.0 + 24 * lines
    told = []
    if judged:
        for kind, force, words in (("mean", judged.mean_n, judged.mean), ("lowest", judged.lowest_n, judged.lowest), ("bound", judged.bound_n, judged.bound)):
            if force is not None:
                mark(sheet, kind, axis.at(force), y)
                _beside(sheet, axis.at(force), y, words, axis.at(needed_n), weight=700)
            told.append(words)
            y += 26
    if next_n:
        _forty(sheet, axis, next_n, needed_n, foot)
        short = sum(force < needed_n for force in next_n)
        told.append(f"of the next {len(next_n)}, {short} below")
        sheet.text(LEFT, foot - 96, f"the next {len(next_n)}", size=15, weight=700)
    _scale(sheet, axis, foot)
    pieces = "; ".join(f"{place}: {one.words}" for place, one in enumerate(pulled, 1)) or "none pulled yet"
    return sheet.figure(f"A box of {all_pieces} lanyards and an axis of force with a line at {needed}. Pulled: {pieces}." + (f" {'; '.join(told)}." if told else ""), caption)


def samples_on_axis(axis: Axis, density: Callable[[float], float], samples: Sequence[Sample], needed_n: float, needed: str, hill: str,
                    rows: int = 10, caption: str = "") -> Figure:
    """All the pieces of a lot as a hill, what holds too little filled; under it the last samples, each with mean, lowest and bound."""
    top, high, step = 40.0, 96.0, 24
    sheet = Drawing(WIDE, top + high + 36 + step * rows + 100)
    points = [(axis.low_n + (axis.high_n - axis.low_n) * i / 155) for i in range(156)]
    tall = max(density(force) for force in points)
    ground = top + high
    curve = [(axis.at(force), ground - high * 0.92 * density(force) / tall) for force in points]
    low = [(x, y) for x, y in curve if x <= axis.at(needed_n)]
    sheet.shape([(LEFT, ground), *curve, (RIGHT, ground)], fill="#eef2f4", stroke=QUIET, width=1.5)
    if len(low) > 1:
        sheet.shape([(low[0][0], ground), *low, (low[-1][0], ground)], fill="void", stroke=RUST, width=1.5)
    sheet.text(LEFT, top + 8, hill, size=15, colour=INK)
    foot = ground + 24 + step * rows
    _needed(sheet, axis, needed_n, needed, top - 8, foot)
    for place, one in enumerate(samples[-rows:][::-1]):
        y = ground + 26 + step * place
        sheet.line(axis.at(one.bound_n), y, axis.at(one.mean_n), y, stroke=STEEL, width=3)
        for kind, force in (("mean", one.mean_n), ("lowest", one.lowest_n), ("bound", one.bound_n)):
            mark(sheet, kind, axis.at(force), y)
        if one.slipped:
            mark(sheet, "slipped", RIGHT + 18, y)
        if one.bound_n < axis.low_n:
            sheet.text(LEFT - 12, y + 6, "◂", size=18, anchor="end", colour=RUST)
    _scale(sheet, axis, foot)
    for x, kind, words in ((LEFT + 40, "mean", "mean"), (LEFT + 150, "lowest", "lowest"), (LEFT + 270, "bound", "bound"), (LEFT + 390, "slipped", "one of them slipped")):
        mark(sheet, kind, x, foot + 66)
        sheet.text(x + 16, foot + 71, words, size=15, weight=600)
    last = samples[-1]
    reach = ", ".join(f"{name} {'at or above' if force >= needed_n else 'below'}" for name, force in
                      (("mean", last.mean_n), ("lowest", last.lowest_n), ("bound", last.bound_n)))
    return sheet.figure(f"All the pieces of a lot drawn as a hill over an axis of force, with a line at {needed}; {' '.join(hill.split())}. "
                        f"Under it the last {min(rows, len(samples))} of {len(samples)} samples. The last one: {reach} the line; {'one' if last.slipped else 'none'} of its pieces slipped.", caption)
