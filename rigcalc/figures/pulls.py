"""What drawings of hung and held things share: a cable as thick as it pulls, a slack one, anchors, letters, a key."""

from __future__ import annotations

from collections.abc import Callable

from rigcalc.figures.drawing import DEEP, INK, JAW, PAPER, QUIET, RUST, STEEL, Drawing, number

__all__ = ["Pointed", "anchored", "as_part", "cable", "key", "lettered", "refused_cable", "slack_cable", "thickness"]

Pointed = Callable[[str, str, str], str]  # (piece of SVG, its value, its words) -> the piece, made to be pointed at
LEAST, MOST, FULL = 2.0, 26.0, 13.0  # px
LETTER = 7.6  # px, about, of the key's words


def thickness(pull_n: float, full_n: float) -> float:
    """The width in px of a cable that pulls so many N, where `full_n` is drawn 13 px wide; never hair-thin, never a bar.

    >>> thickness(50, 100), thickness(1, 1000), thickness(900, 100)
    (6.5, 2.0, 26.0)
    """
    return max(LEAST, min(MOST, FULL * pull_n / full_n))


def cable(sheet: Drawing, points, pull_n: float, full_n: float, most_n: float | None = None) -> None:
    """A cable through points, as wide as it pulls; under it, pale and edged, the most that it may get."""
    d = "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points)
    if most_n is not None and most_n > pull_n * (1 + 1e-9):
        sheet.path(d, stroke=QUIET, width=thickness(most_n, full_n) + 3)
        sheet.path(d, stroke=STEEL, width=thickness(most_n, full_n))
    sheet.path(d, stroke=JAW, width=thickness(pull_n, full_n))


def slack_cable(sheet: Drawing, x1: float, y1: float, x2: float, y2: float) -> None:
    """A cable that carries nothing: thin, dashed, sagging."""
    droop = 14 + abs(x2 - x1) * 0.06
    sheet.path(f"M{number(x1)} {number(y1)}Q{number((x1 + x2) / 2)} {number((y1 + y2) / 2 + 2 * droop)} {number(x2)} {number(y2)}",
               stroke=QUIET, width=2.5, dash="7 6")


def refused_cable(sheet: Drawing, points) -> None:
    """A cable for which no figure is given: a thin rust-coloured line of dashes and dots."""
    sheet.path("M" + "L".join(f"{number(x)} {number(y)}" for x, y in points), stroke=RUST, width=3, dash="12 5 2 5")


def anchored(sheet: Drawing, x: float, y: float, size: float = 16) -> None:
    """A fixed point."""
    sheet.rect(x - size / 2, y - size / 2, size, size, fill=STEEL, width=2)


def lettered(sheet: Drawing, x: float, y: float, letter: str, chosen: bool = False) -> None:
    """A letter in a ring; the chosen one is filled."""
    sheet.circle(x, y, 15, fill=DEEP if chosen else PAPER, stroke=DEEP, width=2.5)
    sheet.text(x, y + 6, letter, size=17, anchor="middle", weight=700, colour=PAPER if chosen else DEEP)


def key(sheet: Drawing, right: float, y: float, full_n: float, words: str) -> None:
    """How thick a known pull is drawn, ending at the right; `words` say that pull, which is `full_n`."""
    said = f"as thick as this: {words}; none more than twice as thick"
    x = right - LETTER * len(said) - 60
    sheet.line(x, y, x + 46, y, stroke=JAW, width=thickness(full_n, full_n))
    sheet.text(right, y + 6, said, size=15, colour=INK, anchor="end")


def as_part(sheet: Drawing, pointed: Pointed | None, value: str, words: str, draw: Callable[[], None]) -> None:
    """Draw something that can be pointed at; without `pointed` it is drawn plain."""
    start = len(sheet.parts)
    draw()
    if pointed:
        shape = "".join(sheet.parts[start:])
        del sheet.parts[start:]
        sheet.add(pointed(shape, value, words))
