"""What goes wrong, drawn from the side: one small picture a fault, with what the gauge says of it."""

from __future__ import annotations

from collections.abc import Sequence

from rigcalc.figures.drawing import DEEP, INK, PAPER, RUST, Drawing, Figure, number
from rigcalc.figures.eyes import BETWEEN_HEIGHT, CLOSED_HEIGHT, draw_end, draw_loop, draw_rope, draw_sleeve_side, draw_thimble
from rigcalc.figures.sections import ON_FLASH

__all__ = ["faults", "FAULTS"]

# name: (words under it, does the gauge see it); causes and verdicts: common practice
FAULTS = {
    "buried tail": ("Tail set too short:\nthe sleeve grew over it", "no"),
    "crimp missing": ("Lost count: two crimps\nwhere the chart says three", "no"),
    "crimp over the end": ("Crimp over the sleeve's end:\nthe end has split", "no"),
    "pressed flat": ("Laid flat in the jaws:\nflash on both sides", f"sometimes: {ON_FLASH}"),
    "not closed": ("Stroke not finished:\nthe middle crimp is fat", "yes"),
    "loose thimble": ("Loop not drawn up:\nthe thimble rattles", "no"),
}


# What is to be seen of each, without a verdict.
SEEN = {
    "buried tail": "no cut end to be seen beyond the sleeve", "crimp missing": "two crimps, and room where a third would be",
    "crimp over the end": "three crimps, the last one at the sleeve's very end, with cracks in that end",
    "pressed flat": "metal stands out above and below, along the whole sleeve", "not closed": "three crimps, the middle one thicker than the others",
    "loose thimble": "a thimble that fills only a part of the loop",
}


def faults(names=tuple(FAULTS), told: Sequence[str] | None = None, at: str = "") -> Figure:
    """Six faults side by side, each with its cause and with what the gauge says of it.

    Parameters
    ----------
    names : sequence of str
        Of `FAULTS`, in the order of the drawings.
    told : sequence of str or None
        Those that are named and judged; None tells all. The others bear a letter alone, and can be pointed at: the
        name of the act is "point", its value the letter.
    at : str
        The letter of the piece that is looked at now, framed.

    Source of causes and gauge answers: common practice.
    """
    rows = (len(names) + 1) // 2
    sheet = Drawing(690, 232 * rows)
    for index, name in enumerate(names):
        spot = (345 * (index % 2), 232 * (index // 2))
        if told is None:
            _one(sheet, *spot, name)
            continue
        letter, began = "ABCDEF"[index], len(sheet.parts)
        sheet.rect(spot[0] + 4, spot[1] + 2, 337, 224, corner=8, fill=PAPER, stroke=DEEP if letter == at else "#c9c2b4", width=4 if letter == at else 1.5)
        _one(sheet, *spot, name, letter, name in told)
        drawn, sheet.parts[began:] = "".join(sheet.parts[began:]), []
        mark = ' data-on="1"' if letter == at else ""
        sheet.add(f'<g data-pick="point" data-value="{letter}" data-label="piece {letter}"{mark}>{drawn}</g>')
    if told is not None:
        seen = "; ".join(f"{letter}: {SEEN[name]}" + (f" ({name})" if name in told else "") for letter, name in zip("ABCDEF", names))
        return sheet.figure(f"Side views of {len(names)} eyes after pressing, a letter each. {seen}. The chart says three crimps.")
    said = "; ".join(f"{name}: {' '.join(FAULTS[name][0].split())}, seen by the gauge: {FAULTS[name][1]}" for name in names)
    return sheet.figure(f"Side views of {len(names)} faulty eyes. {said}.",
                        "A fat crimp may be pressed again, once. A missing one may be added while the sleeve has carried no load "
                        "and the gap allows. All others are rejects. (Common practice.)")


def _one(sheet: Drawing, left: float, top: float, name: str, letter: str = "", told: bool = True) -> None:
    d, y, mouth, length = 19, top + 92, left + 128, 112
    loose, count = name == "loose thimble", 3
    tail = mouth + length + (-16 if name == "buried tail" else 16)
    draw_rope(sheet, f"M{mouth} {number(y - 9)}H{left + 325}", d)
    draw_rope(sheet, f"M{mouth} {number(y + 9)}H{number(tail)}", d)
    draw_end(sheet, tail, y + 9, d)
    _loop(sheet, left, mouth, y, d, loose)
    places = [mouth + length * (2 * i + 1) / 6 for i in range(count)]
    if name == "crimp missing":
        places = places[:2]
    if name == "crimp over the end":
        places[2] = mouth + length - 9
    draw_sleeve_side(sheet, mouth, y, length, d, places, 30)
    _mark(sheet, name, mouth, length, y, d, tail, told)
    sheet.text(left + 12, top + 22, f"{letter}  ✗ {name}".strip() if told else letter, size=17, weight=700, colour=RUST if told else DEEP)
    if not told:
        return
    sheet.text(left + 12, top + 168, FAULTS[name][0], size=15)
    sheet.text(left + 12, top + 208, f"Gauge sees it: {FAULTS[name][1].partition(':')[0]}", size=15, weight=700, colour=DEEP)


def _loop(sheet, left, mouth, y, d, loose) -> None:
    if loose:
        draw_loop(sheet, left + 32, mouth, y, d, 42, 9, thimble=False)
        draw_thimble(sheet, left + 66, mouth - 18, y + 3, 19, 3)
        return
    draw_loop(sheet, left + 32, mouth, y, d, 40, 9)


def _mark(sheet, name, mouth, length, y, d, tail, told) -> None:
    low, end, line = CLOSED_HEIGHT * d / 2, mouth + length, RUST if told else INK
    if not told and name in ("buried tail", "crimp missing", "loose thimble"):
        return  # what is to be found is drawn already; the rest would say it
    if name == "buried tail":
        sheet.line(tail, y, tail, y + d, stroke=RUST, width=3.5, dash="5 4")
        sheet.leader(tail + 16, y + 42, tail, y + 9, colour=RUST)
        sheet.text(tail + 18, y + 48, "end inside", size=15, weight=600, colour=RUST)
    elif name == "crimp missing":
        sheet.ellipse(end - 19, y, 17, BETWEEN_HEIGHT * d / 2 + 9, stroke=RUST, width=3)
    elif name == "crimp over the end":
        sheet.path(f"M{end - 2} {number(y - 15)}l-12 4l8 5l-14 5", stroke=line, width=3.5)
        sheet.path(f"M{end - 2} {number(y + 12)}l-10 4l5 4l-12 3", stroke=line, width=3.5)
    elif name == "pressed flat":
        for side in (-1, 1):
            edge = y + side * (low + 2)
            sheet.shape([(mouth + 6, edge), (end - 6, edge), (end - 12, edge + side * 9), (mouth + 40, edge + side * 6),
                         (mouth + 12, edge + side * 10)], fill="crimp", stroke=line, width=2.5)
    elif name == "not closed":
        middle = mouth + length / 2
        high = BETWEEN_HEIGHT * d / 2 + 3
        sheet.rect(middle - 18, y - high, 36, 2 * high, corner=6, fill="crimp", stroke=line, width=3)
    elif name == "loose thimble":
        sheet.leader(mouth + 40, y + 52, mouth - 76, y + 18, colour=RUST)
        sheet.text(mouth + 44, y + 58, "gap: it rattles", size=15, weight=600, colour=RUST)
