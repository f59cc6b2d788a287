"""Papers of an order: a letter, a job sheet that fills line by line, a tag, a reel with its cuts, a finished piece beside its record."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from rigcalc.figures.drawing import DEEP, INK, PAPER, QUIET, RUST, STEEL, Drawing, Figure
from rigcalc.figures.eyes import draw_end, draw_loop, draw_rope, draw_sleeve_side

__all__ = ["Finished", "Recorded", "finished_piece", "letter", "reel_with_cuts", "sheet_so_far", "tag"]

Mark = Callable[..., str]  # (shape, name, value, label, on) -> the shape, made so that it can be pointed at
CARD = "#f6f1e4"


def unmarked(shape: str, *_: object) -> str:
    """The shape as it is: for a drawing on paper."""
    return shape


def letter(who: str, number: str, words: str) -> Figure:
    """A customer's letter: who writes, which letter it is, and its words."""
    lines = textwrap.wrap(words, 58)
    d = Drawing(700, 82 + 22 * len(lines))
    d.rect(60, 8, 580, 66 + 22 * len(lines), 3, fill=PAPER, stroke=INK, width=2)
    d.text(84, 36, who, size=17, weight=700, colour=DEEP)
    d.text(616, 36, number, size=16, anchor="end", colour=QUIET)
    d.line(80, 46, 620, 46, stroke=QUIET, width=1.5)
    for at, line in enumerate(lines):
        d.text(84, 72 + 22 * at, line, size=17)
    return d.figure(f"{who}, {number}: {words}", "INVENTED: no such customer exists.")


def sheet_so_far(title: str, rows: Sequence[tuple[str, str]], now: str = "") -> Figure:
    """A job sheet as far as it is filled.

    Parameters
    ----------
    title : str
        Stands at its head.
    rows : sequence of (label, value)
        An empty value is a line that is still blank.
    now : str
        The label of the line that was filled last.
    """
    texts = [(label, textwrap.wrap(value, 58) or [""]) for label, value in rows]
    high = 58 + sum(10 + 20 * len(lines) for _, lines in texts)
    d, y = Drawing(700, high + 14), 64
    d.rect(10, 8, 680, high, 3, fill=PAPER, stroke=INK, width=2)
    d.text(28, 36, title, size=18, weight=700, colour=DEEP)
    for label, lines in texts:
        if label == now:
            d.rect(16, y - 20, 668, 20 * len(lines) + 8, 3, fill=CARD, stroke=DEEP, width=2)
        d.text(28, y, label, size=16, weight=700)
        if lines == [""]:
            d.line(196, y + 2, 668, y + 2, stroke=QUIET, width=1.5, dash="3 5")
        for at, line in enumerate(lines):
            d.text(196, y + 20 * at, line, size=16)
        y += 10 + 20 * len(lines)
    said = "; ".join(f"{label}: {value or 'blank'}" for label, value in rows)
    return d.figure(f"{title}. {said}.")


def tag(lines: Sequence[tuple[str, str]], mark: Mark = unmarked, on: Sequence[str] = (), caption: str = "", struck: Mapping[str, str] = MappingProxyType({})) -> Figure:
    """A tag on its wire.

    Parameters
    ----------
    lines : sequence of (id, words)
        From top to bottom.
    mark : callable
        Makes a line one that can be pointed at.
    on : sequence of str
        The ids of the lines that are marked.
    struck : mapping of id to words
        What stands struck out under a line.
    """
    texts = [(name, textwrap.wrap(words, 56), textwrap.wrap(struck.get(name, ""), 56)) for name, words in lines]
    high = 26 + sum(14 + 22 * len(rows + out) for _, rows, out in texts)
    d, y = Drawing(700, high + 24), 28
    d.path(f"M108 12H664a12 12 0 0 1 12 12V{high}a12 12 0 0 1 -12 12H108L62 {high // 2 + 40}V{high // 2 - 20}Z", fill=CARD, width=3)
    d.circle(92, high / 2 + 10, 11, fill=PAPER, stroke=INK, width=3)
    draw_rope(d, f"M4 {high / 2 - 26:.0f}Q60 {high / 2 - 30:.0f} 92 {high / 2 + 10:.0f}", 5)
    for name, rows, out in texts:
        own, tall = Drawing(700, 1), 22 * len(rows + out) + 10
        own.rect(120, y - 4, 540, tall, 4, fill=PAPER if name in on else CARD, stroke=RUST if name in on else CARD, width=4 if name in on else 1)
        for at, row in enumerate(rows + out):
            own.text(132, y + 16 + 22 * at, row, size=17, weight=700 if name in ("limit", "caution") else 400, struck=at >= len(rows))
        d.add(mark("".join(own.parts), "line", name, " ".join(rows) + _out(out), name in on))
        y += 14 + 22 * len(rows + out)
    said = " / ".join(words + _out(textwrap.wrap(struck.get(name, ""))) for name, words in lines)
    return d.figure(f"A tag on its wire. Its lines from top to bottom: {said}", caption)


def _out(rows: Sequence[str]) -> str:
    return f" (struck out: {' '.join(rows)})" if rows else ""


def reel_with_cuts(reel: str, pieces: Sequence[tuple[str, str]], kerf: str, left: str) -> Figure:
    """What comes off a reel in order, each piece with its length, parted by strokes of the cutter; then what stays (not to scale)."""
    d, y = Drawing(700, 40 + 40 * (len(pieces) + 1)), 40
    for at, (name, length) in enumerate((*pieces, ("stays on the reel", left))):
        last = at == len(pieces)
        draw_rope(d, f"M30 {y}H{214 if last else 178}", 9)
        draw_end(d, 30, y, 12)
        if last:
            d.circle(240, y, 18, fill=STEEL, width=3)
            d.circle(240, y, 6, fill=PAPER, width=2)
        else:
            d.line(190, y - 14, 184, y + 14, stroke=RUST, width=3)
        d.text(276, y + 5, name, size=16, weight=700 if last else 400)
        d.text(676, y + 5, length, size=16, anchor="end", weight=700 if last else 400)
        y += 40
    said = "; ".join(f"{name}, {length}" for name, length in pieces)
    return d.figure(f"{reel}. Cut from it, in this order: {said}. Each cut takes {kerf}. On the reel stays {left}.",
                    f"{reel}. A slanted stroke is a cut; each takes {kerf}. Not to scale.")


@dataclass(frozen=True)
class Finished:
    """A finished piece as it lies there: for each of its two eyes the bands on the sleeve, whether the tail shows and whether it is
    painted from sleeve to cable; and whether a tag hangs on it."""

    bands: tuple[int, int]
    tails: tuple[bool, bool] = (True, True)
    painted: tuple[bool, bool] = (True, True)
    tagged: bool = True


@dataclass(frozen=True)
class Recorded:
    """A line that was written down beside the piece: its id, what it is, what is written."""

    id: str
    label: str
    value: str


def finished_piece(piece: Finished, record: Sequence[Recorded], mark: Mark = unmarked, on: Sequence[str] = (), caption: str = "") -> Figure:
    """The piece with both eyes, and under it what was written down.

    Each part and each line can be pointed at; a label says what is to be seen, never whether it is right.
    """
    texts = [(one, textwrap.wrap(one.value, 52) or ["____________"]) for one in record]
    d, y, thick = Drawing(700, 236 + sum(14 + 20 * len(lines) for _, lines in texts)), 96, 14
    draw_rope(d, f"M228 {y}H472", thick)
    said = []
    for side, name in enumerate(("first", "second")):
        d.add(_loop(side, y, thick))
        for part, shape, words in _eye(piece, side, name, y, thick):
            chosen = part in on
            _frame(shape, *_around(part, side, y), chosen)
            d.add(mark("".join(shape.parts), "part", part, words, chosen))
            said.append(words)
    own = Drawing(700, 1)
    if piece.tagged:
        own.path(f"M350 {y + 8}q-8 18 0 34", width=2.5)
        own.rect(306, y + 42, 92, 36, 5, fill=CARD, width=2.5)
        own.text(352, y + 66, "tag", size=16, anchor="middle")
    _frame(own, 298, y + 12, 108, 72, "tag" in on)
    words = "a tag hangs on the cable" if piece.tagged else "the middle of the cable, nothing hangs on it"
    d.add(mark("".join(own.parts), "part", "tag", words, "tag" in on))
    said.append(words)
    d.text(28, 28, "the piece as it lies there", size=16, colour=QUIET)
    d.text(28, 216, "what was written down", size=16, colour=QUIET)
    top = 244
    for one, lines in texts:
        row = Drawing(700, 1)
        row.rect(20, top - 18, 660, 20 * len(lines) + 9, 4, fill=CARD, stroke=RUST if one.id in on else QUIET, width=4 if one.id in on else 1)
        row.text(32, top, one.label, size=16, weight=700)
        for at, line in enumerate(lines):
            row.text(262, top + 20 * at, line, size=16)
        d.add(mark("".join(row.parts), "part", one.id, f"{one.label}: {one.value or 'blank'}", one.id in on))
        top += 14 + 20 * len(lines)
    wrote = "; ".join(f"{one.label}: {one.value or 'blank'}" for one in record)
    return d.figure(f"A finished piece with an eye at each end: {', '.join(said)}. Written down: {wrote}.", caption)


def _loop(side: int, y: float, thick: float) -> str:
    """The loop of one eye; nothing on it can be pointed at."""
    loop = Drawing(700, 1)
    draw_loop(loop, 24, 112, y, thick, 26, thick / 2)
    return f'<g transform="translate({0 if side == 0 else 700} 0) scale({1 if side == 0 else -1} 1)">' + "".join(loop.parts) + "</g>"


def _frame(sheet: Drawing, x: float, y: float, wide: float, high: float, chosen: bool) -> None:
    """Where a part can be pointed at, unseen; and its frame once it is marked."""
    sheet.rect(x, y, wide, high, 6, fill=PAPER, stroke=PAPER, opacity=0)
    if chosen:
        sheet.rect(x, y, wide, high, 6, stroke=RUST, width=4)


def _eye(piece: Finished, side: int, name: str, y: float, thick: float) -> list[tuple[str, Drawing, str]]:
    """The sleeve, the tail and the paint of one eye, each on a sheet of its own."""
    sign, at = (1, 0) if side == 0 else (-1, 700)
    sleeve, tail, paint = Drawing(700, 1), Drawing(700, 1), Drawing(700, 1)
    left = 112 if side == 0 else 700 - 226
    count = piece.bands[side]
    draw_sleeve_side(sleeve, left, y, 114, thick, [left + 114 * (n + 0.5) / count for n in range(count)], 19)
    end = at + sign * 250
    if piece.tails[side]:
        draw_rope(tail, f"M{at + sign * 226} {y + thick}H{end}", thick)
        draw_end(tail, end, y + thick, thick)
    if piece.painted[side]:
        paint.path(f"M{at + sign * 214} {y - 12}L{at + sign * 258} {y - 3}", stroke=RUST, width=6)
    shown = "a short cut end shows under the cable" if piece.tails[side] else "the sleeve's edge alone, no cut end below the cable"
    line = "a line of paint runs from sleeve to cable" if piece.painted[side] else "bare metal where sleeve and cable meet"
    return [(f"{name} sleeve", sleeve, f"{name} sleeve: {count} bands across it"), (f"{name} tail", tail, f"{name} tail: {shown}"),
            (f"{name} paint", paint, f"{name} sleeve's mouth, above: {line}")]


def _around(part: str, side: int, y: float) -> tuple[float, float, float, float]:
    """The frame of a part: left, top, width, height."""
    left, top, wide, high = {"sleeve": (108, y - 28, 110, 56), "tail": (221, y + 6, 40, 34), "paint": (221, y - 34, 44, 36)}[part.split()[1]]
    return (left, top, wide, high) if side == 0 else (700 - left - wide, top, wide, high)
