"""A sleeve on an eye while it is pressed: to scale along the cable, it grows with each stroke; strips to point at, jaws to slide."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from rigcalc.figures.drawing import DEEP, PAPER, QUIET, RUST, Drawing, Figure, millimetres, number
from rigcalc.figures.eyes import BETWEEN_HEIGHT, CLOSED_HEIGHT, OPEN_HEIGHT, draw_end, draw_loop, draw_rope

__all__ = ["crimped_sleeve", "lettered_pieces", "planned_sleeve"]

MOUTH, D, ROOM = 188, 34, 420  # where the sleeve begins, the cable's thickness, room for the longest sleeve, all px
Pick = Callable[[str, str, str], str]


def draw_crimped(sheet: Drawing, mouth: float, y: float, scale: float, length_mm: float, crimps: Sequence[tuple[float, float]], d: float = D,
                 bend: float = 0.0) -> None:
    """A sleeve with crimps (from, to) in mm from its thimble end, pressed into it; `bend` px is how far its middle is lifted.

    Crimps that lie on each other show thin metal and fins; one that runs over an end shows the split.
    """
    def lift(x_mm: float) -> float:
        half = length_mm / 2 or 1
        return bend * (((x_mm - half) / half) ** 2 - 0.5)

    def high(x_mm: float) -> float:
        if not crimps:
            return OPEN_HEIGHT * d / 2
        inside = sum(a < x_mm < b for a, b in crimps)
        return (CLOSED_HEIGHT if inside else BETWEEN_HEIGHT) * d / 2 - 6 * max(0, inside - 1)

    def strip(a: float, b: float) -> list[tuple[float, float]]:
        steps = max(1, round((b - a) * scale / 8))
        return [a + (b - a) * i / steps for i in range(steps + 1)]

    edges = sorted({0.0, length_mm, *(min(max(e, 0), length_mm) for pair in crimps for e in pair)})
    xs = [x for a, b in zip(edges, edges[1:], strict=False) for x in (a + 1e-3, *strip(a, b)[1:-1], b - 1e-3)] or [0.0, length_mm]
    top = [(mouth + x * scale, y + lift(x) - high(x)) for x in xs]
    bottom = [(mouth + x * scale, y + lift(x) + high(x)) for x in reversed(xs)]
    sheet.shape(top + bottom, fill="sleeve", width=3)
    for a, b in crimps:
        a, b = max(a, 0), min(b, length_mm)
        line = strip(a, b)
        side = CLOSED_HEIGHT * d / 2
        sheet.shape([(mouth + x * scale, y + lift(x) - side) for x in line] + [(mouth + x * scale, y + lift(x) + side) for x in reversed(line)],
                    fill="crimp", width=1.8)
    _faults(sheet, mouth, y, scale, length_mm, crimps, lift, d)


def _faults(sheet, mouth, y, scale, length_mm, crimps, lift, d) -> None:
    """Fins where crimps lie on each other, cracks where one runs over an end: seen, not named."""
    side = CLOSED_HEIGHT * d / 2
    inside = sorted(crimps)
    for (_, end), (start, _) in zip(inside, inside[1:], strict=False):
        if end - start > 1e-6:
            x = mouth + (start + end) / 2 * scale
            for way in (-1, 1):
                base = y + lift((start + end) / 2) + way * (side - 4)
                sheet.shape([(x - 9, base), (x, base + way * 19), (x + 9, base)], fill="crimp", width=2)
    for at, way, over in ((0.0, 1, any(a < -1e-6 for a, _ in crimps)), (length_mm, -1, any(b > length_mm + 1e-6 for _, b in crimps))):
        if over:
            x, up = mouth + at * scale, y + lift(at)
            for dy in (-0.6, 0.55):
                sheet.path(f"M{number(x)} {number(up + dy * side)}l{way * 12} 4l{-way * 7} 5l{way * 15} 6", width=3.5)


def _eye(sheet: Drawing, y: float, end_px: float, d: float = D) -> None:
    draw_rope(sheet, f"M{MOUTH} {number(y - 0.5 * d)}H{number(sheet.width - 6)}", d)
    draw_rope(sheet, f"M{MOUTH} {number(y + 0.5 * d)}H{number(end_px)}", d)
    draw_end(sheet, end_px, y + 0.5 * d, d)
    draw_loop(sheet, 48, MOUTH, y, d, 60, 0.5 * d)
    sheet.text(86, y + 106, "thimble side", anchor="middle", weight=600, colour=QUIET)


def crimped_sleeve(length_mm: float, crimps: Sequence[tuple[float, int]], jaw_mm: float, longest_mm: float, tail_mm: float = 0.0, jaws_mm: float | None = None,
                   aiming: bool = True, bend: float = 0.0, spots: Sequence[float] = (), pick: Pick | None = None, size: str = "1/8", marks: Sequence[tuple[float, int]] = ()) -> Figure:
    """One sleeve on its eye, to scale along the cable.

    Parameters
    ----------
    length_mm, jaw_mm, longest_mm, tail_mm : float
        Sleeve now, width of a crimp, the longest this sleeve may come to (the scale), the tail that stands out now; in mm.
    crimps : sequence of (float, int)
        Middle of each crimp in mm from the thimble end, and which stroke it was.
    jaws_mm : float or None
        Where the jaws stand, their middle; None where they are away.
    aiming : bool
        Whether the bare metal beside the jaws is measured: not over the crimp that they have just made.
    spots, pick
        Places in mm that can be pointed at, and what makes a piece of SVG pointable: (shape, value, words).
    marks : sequence of (float, int)
        Pen marks still to be seen: mm from the thimble end, and the place each stands for.
    """
    scale, y = ROOM / longest_mm, 190
    sheet = Drawing(700, 374)
    _eye(sheet, y, MOUTH + (length_mm + max(tail_mm, 0)) * scale)
    spans = [(at - jaw_mm / 2, at + jaw_mm / 2) for at, _ in crimps]
    draw_crimped(sheet, MOUTH, y, scale, length_mm, spans, bend=bend)
    for at, turn in crimps:
        x = MOUTH + at * scale
        sheet.circle(x, y, 15, fill=PAPER, stroke=DEEP, width=2.5)
        sheet.text(x, y + 6, str(turn), size=18, anchor="middle", weight=700, colour=DEEP)
    for at, place in marks:
        x = MOUTH + at * scale
        sheet.line(x, y - OPEN_HEIGHT * D / 2 - 5, x, y + 104, stroke=RUST, width=3, dash="7 5")
        sheet.text(x, y + 123, str(place), size=20, anchor="middle", weight=700, colour=RUST)
    sheet.measure(MOUTH, MOUTH + length_mm * scale, 360, f"sleeve now {millimetres(length_mm, 1)}", drop=-96)
    if jaws_mm is not None:
        _jaws(sheet, scale, y, jaws_mm, jaw_mm, length_mm, spans, aiming)
    if pick:
        step = spots[1] - spots[0] if len(spots) > 1 else length_mm
        for at in spots:
            left = MOUTH + (at - step / 2) * scale
            sheet.add(pick(f'<rect x="{number(left)}" y="{y - 66}" width="{number(step * scale)}" height="132" fill="#fff" fill-opacity="0.01"/>',
                           f"{at:g}", f"{millimetres(at, 2)} from the thimble end"))
        for at, place in marks:
            sheet.add(pick(f'<rect x="{number(MOUTH + at * scale - 26)}" y="{y + 102}" width="52" height="26" fill="#fff" fill-opacity="0.01"/>',
                           f"{at:.4f}", f"pen mark of place {place}, {millimetres(at, 2)} from the thimble end"))
    words = "To scale along the cable. Growth is shared evenly over the strokes (a sketch)." + (" Dashes: pen marks with the numbers of their places; they move with the metal." if marks else "")
    return sheet.figure(_alt(length_mm, crimps, jaw_mm, jaws_mm, bend, size, marks), words + (" In the circles: the strokes as they came." if crimps else ""))


def _jaws(sheet, scale, y, at, jaw, length, spans, aiming) -> None:
    """The jaws over and under the sleeve, and the bare metal on either side of them."""
    x, half = MOUTH + at * scale, jaw * scale / 2
    for way in (-1, 1):
        base = y + way * 74
        sheet.rect(x - half, min(base, base + way * 26), 2 * half, 26, corner=4, fill="jaw", width=2.5)
    if not aiming:
        return
    before = max([0.0] + [b for _, b in spans if (b + (b - jaw)) / 2 <= at])
    after = min([length] + [a for a, _ in spans if (a + (a + jaw)) / 2 > at])
    for a, b, words, where in ((before, at - jaw / 2, "left", "end"), (at + jaw / 2, after, "right", "start")):
        gap = b - a
        said = f"{millimetres(gap, 2)} bare" if gap > 1e-6 else "no bare metal" if gap > -1e-6 else f"{millimetres(-gap, 2)} over"
        edge = x - half - 8 if words == "left" else x + half + 8
        sheet.text(edge, 108, said, anchor=where, weight=600, colour=DEEP, halo=True)
        sheet.line(MOUTH + a * scale, 118, MOUTH + b * scale, 118, stroke=DEEP, width=5)


def _alt(length, crimps, jaw, jaws, bend, size, marks) -> str:
    said = "; ".join(f"stroke {turn} at {millimetres(at, 1)}" for at, turn in sorted(crimps)) or "none"
    words = f"Side view of a sleeve on a {size} in eye, {millimetres(length, 1)} long. Crimps, {millimetres(jaw, 1)} wide, middles from the thimble end: {said}."
    words += " It is curved like a banana." if bend else ""
    words += f" Pen marks: {'; '.join(f'place {place} at {millimetres(at, 1)}' for at, place in marks)}." if marks else ""
    return words + (f" The jaws stand at {millimetres(jaws, 2)}." if jaws is not None else "")


def planned_sleeve(length_mm: float, jaw_mm: float, places_mm: Sequence[float], order: Sequence[int] | None = None, longest_mm: float | None = None, size: str = "1/8",
                   caption: str = "") -> Figure:
    """Where the crimps come to lie on the finished sleeve, gaps and ends measured; with `order`, the turn of each place."""
    scale, y = ROOM / (longest_mm or length_mm), 180
    sheet = Drawing(700, 316)
    _eye(sheet, y, MOUTH + length_mm * scale + 30)
    spans = [(at - jaw_mm / 2, at + jaw_mm / 2) for at in places_mm]
    draw_crimped(sheet, MOUTH, y, scale, length_mm, spans)
    edges = [0.0, *(e for span in spans for e in span), length_mm]
    for a, b in zip(edges[::2], edges[1::2], strict=True):
        if b <= a:
            continue
        sheet.measure(MOUTH + a * scale, MOUTH + b * scale, 94, millimetres(b - a, 1 if b - a >= 1 else 2), drop=30, size=15)
    for place, at in enumerate(places_mm, 1):
        x = MOUTH + at * scale
        sheet.circle(x, y, 15, fill=PAPER, stroke=DEEP, width=2.5)
        sheet.text(x, y + 6, str(place), size=18, anchor="middle", weight=700, colour=DEEP)
        if order:
            sheet.text(x, 260, ("first", "second", "third", "fourth", "fifth", "sixth")[list(order).index(place)], anchor="middle", weight=700, colour=RUST)
    sheet.measure(MOUTH, MOUTH + length_mm * scale, 40, f"pressed sleeve {millimetres(length_mm, 1)}", drop=0)
    if order:
        sheet.text(MOUTH + length_mm * scale / 2, 284, "order of pressing", anchor="middle", colour=QUIET)
    told = ", ".join(millimetres(at, 1) for at in places_mm)
    alt = f"A pressed sleeve on a {size} in eye, {millimetres(length_mm, 1)} long; places from the thimble: middles at {told}; crimps {millimetres(jaw_mm, 1)} wide, shares of bare metal between."
    alt += " Pressed in the order of places " + ", ".join(map(str, order)) + "." if order else ""
    return sheet.figure(alt, caption)


def lettered_pieces(pieces: Sequence[tuple[float, Sequence[tuple[float, float]], float]], longest_mm: float, told: dict[str, tuple[bool, str]] | None = None, at: str = "",
                    pick: Pick | None = None, seen: Sequence[str] = ()) -> Figure:
    """Pressed pieces, two in a row, a letter each: (length in mm, crimps (from, to), bend); a verdict under those that are told."""
    told, d, wide, tall = told or {}, 17, 344, 152
    rows = -(-len(pieces) // 2)
    sheet, scale = Drawing(700, rows * tall), 186 / longest_mm
    for i, (length, spans, bend) in enumerate(pieces):
        letter, left, top = "ABCDEF"[i], 4 + (i % 2) * 350, (i // 2) * tall
        one, y, mouth = Drawing(700, 1), top + 74, left + 106
        one.rect(left, top + 4, wide - 2, tall - 10, corner=8, fill=PAPER, stroke=DEEP if letter == at else QUIET, width=4 if letter == at else 1.5)
        draw_rope(one, f"M{mouth} {number(y - d / 2)}H{left + wide - 8}", d)
        draw_rope(one, f"M{mouth} {number(y + d / 2)}H{number(mouth + length * scale + 22)}", d)
        draw_end(one, mouth + length * scale + 22, y + d / 2, d)
        draw_loop(one, left + 36, mouth, y, d, 30, d / 2)
        draw_crimped(one, mouth, y, scale, length, spans, d, bend)
        one.text(left + 12, top + 28, letter, size=20, weight=700, colour=DEEP)
        if letter in told:
            good, words = told[letter]
            one.text(left + wide / 2, top + 136, f"{'✓' if good else '✗'} {words}", anchor="middle", weight=700, colour=DEEP if good else RUST)
        shape = "".join(one.parts)
        sheet.add(pick(shape, letter, f"Piece {letter}") if pick else shape)
    said = " ".join(f"{letter}: {words}." for letter, words in zip("ABCDEF", seen, strict=False))
    verdicts = " ".join(f"{letter} {'good' if good else words}." for letter, (good, words) in told.items())
    return sheet.figure(f"Side views of {len(pieces)} pressed sleeves, a letter each; thimble at the left. {said} {verdicts}".strip())
