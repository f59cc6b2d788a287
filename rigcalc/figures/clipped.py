"""Side views of an end held by clips, to scale along the cable, alone and beside a sleeve on the same cable."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from rigcalc.figures.drawing import DEEP, QUIET, RUST, Drawing, Figure, millimetres
from rigcalc.figures.eyes import draw_end, draw_loop, draw_rope, draw_sleeve_side

__all__ = ["Clip", "clipped_end", "two_ends"]

LOOP_PX = 150  # the loop is drawn the same for every size: it is no part of what is compared


@dataclass(frozen=True)
class Clip:
    """A clip on an end: its middle from the dead end in mm, the part its saddle lies on, and how far its nuts stand off, 0 to 1."""

    at_mm: float
    saddle: str = "live"
    slack: float = 0.0


Mark = Callable[[str, str, str, str], str]


def _in_mm(length_mm: float) -> str:
    return millimetres(length_mm, 1)


def _scale(length_mm: float) -> float:
    return (690 - LOOP_PX - 106) / max(length_mm, 1)  # room for the words at the right, beside a clip close to the dead end


def _legs(d: Drawing, y: float, thick: float, live_to: float, dead_to: float | None) -> None:
    """The loop at the left, the live part above, the dead end below."""
    draw_loop(d, 34, LOOP_PX, y, thick, 46, thick / 2 + 1)
    draw_rope(d, f"M{LOOP_PX} {y - thick / 2 - 1}H{live_to}", thick)
    if dead_to is not None:
        draw_rope(d, f"M{LOOP_PX} {y + thick / 2 + 1}H{dead_to}", thick)
        draw_end(d, dead_to, y + thick / 2 + 1, thick)


def _clip(x: float, y: float, thick: float, base: float, clip: Clip) -> str:
    """One clip seen from the side: the saddle with its two nuts on one part, the bow of the U-bolt round the other."""
    d, way, half = Drawing(700, 1), 1 if clip.saddle == "live" else -1, base / 2
    reach, block = thick + 3, max(thick * 0.9, 13)
    top = y - way * (reach + block)
    d.rect(x - half, y - reach - block - 30, base, 2 * (reach + block + 30), fill="#ffffff00", stroke="none")  # all of it can be pointed at
    for leg in (-half * 0.55, half * 0.55):
        d.line(x + leg, y + way * (reach + 4), x + leg, top - way * 17, width=max(base * 0.13, 3.5), stroke=QUIET)
    d.rect(x - half * 0.72, min(y + way * reach, y + way * (reach + 8)), half * 1.44, 8, 4, fill=QUIET, width=1.5)
    d.rect(x - half, min(top, top + way * block), base, block, 3, fill="jaw", width=2.5)
    off = 3 + 11 * clip.slack
    for leg in (-half * 0.55, half * 0.55):
        nut = top - way * off
        d.rect(x + leg - 7, min(nut, nut - way * 9), 14, 9, 1, fill="#d5dadd", width=2)
    return "".join(d.parts)


def clipped_end(size: str, diameter_mm: float, turnback_mm: float, base_mm: float, clips: Sequence[Clip], mark: Mark | None = None,
                letters: bool = True, spacing: bool = False, ghost_mm: float | None = None, base: bool = False, source: str = "",
                hurt: Sequence[tuple[float, str]] = (), shown: Callable[[float], str] = _in_mm) -> Figure:
    """An end with its thimble and clips, to scale along the cable.

    Parameters
    ----------
    size, diameter_mm : str, float
        The cable.
    turnback_mm : float
        From the thimble to the dead end.
    base_mm : float
        Length of a clip along the cable.
    clips : sequence of Clip
        In the order in which they were fitted; lettered in that order.
    mark : callable, optional
        Makes a clip one that can be pointed at.
    spacing : bool
        Whether the distances from middle to middle are written.
    ghost_mm : float, optional
        Where the next clip is held, from the dead end.
    base : bool
        Whether the base of the clip next to the dead end is marked, and how much is left free beyond it.
    source : str
        Whose figures these are, for the caption.
    hurt : sequence of (float, str)
        Where the live part is hurt, in mm from the dead end, and how: "bitten" or "crushed".
    shown : callable
        Puts a length in mm into words.
    """
    scale, thick, y = _scale(turnback_mm), max(14.0, min(26.0, diameter_mm * 3.2)), 132
    d = Drawing(700, (316 if base else 270) + 18 * (spacing and "[" in shown(turnback_mm)))
    dead = LOOP_PX + turnback_mm * scale
    _legs(d, y, thick, 690, dead)
    d.text(697, y - thick - 10, "live part", anchor="end", colour=DEEP, weight=600)
    d.text(dead + 8, y + thick + 8, "dead end", colour=DEEP, weight=600)
    if ghost_mm is not None:
        x = dead - ghost_mm * scale
        d.rect(x - base_mm * scale / 2, y - 66, base_mm * scale, 132, 4, stroke=RUST, width=2)
    placed = sorted(enumerate(clips), key=lambda one: one[1].at_mm)
    for at, clip in enumerate(clips):
        x, letter = dead - clip.at_mm * scale, "ABCDEFGH"[at]
        shape = _clip(x, y, thick, max(base_mm * scale, 22), clip)
        d.add(mark(shape, "clip", letter, f"clip {letter}, {shown(clip.at_mm)} from the dead end") if mark else shape)
        if letters:
            d.text(x, 40, letter, size=18, anchor="middle", weight=700)
    done: dict[float, list[str]] = {}
    for at, how in hurt:
        done.setdefault(at, []).append(how)
    for at, ways in done.items():
        x = dead - at * scale
        d.path(f"M{x - 12:.1f} {y - thick - 5:.1f}l6 10 6 -8 6 8 6 -10", stroke=RUST, width=4)
        d.text(x, 17, ", ".join(ways), size=15, anchor="middle", weight=700, colour=RUST)
    if spacing and len(placed) > 1:
        for (_, one), (_, other) in zip(placed, placed[1:]):
            low, (first, beside, second) = 278 if base else 232, shown(other.at_mm - one.at_mm).partition("[")
            d.measure(dead - one.at_mm * scale, dead - other.at_mm * scale, low, first.strip(), above=False)
            if beside:  # the other system's figure has a line of its own: the gaps are narrow
                d.text(dead - (one.at_mm + other.at_mm) / 2 * scale, low + 40, beside + second, size=15, anchor="middle", weight=600)
    free = ""
    if base and placed:
        near, far = (placed[0][1].at_mm + way * base_mm / 2 for way in (-1, 1))
        d.measure(dead - far * scale, dead - near * scale, 206, "base", above=False, drop=-34)
        d.measure(dead - near * scale, dead, 206, "left free", above=False, drop=-34)
        free = f" The base of a clip, its length along the cable, is {shown(base_mm)}; from the dead end to the clip {'ABCDEFGH'[placed[0][0]]} {shown(near)} are free."
    said = "; ".join(f"{'ABCDEFGH'[at]}: {shown(clip.at_mm)} from the dead end, nuts and saddle on the {'upper' if clip.saddle == 'live' else 'lower'} part"
                     + (f", nuts standing {'a little' if clip.slack < 0.6 else 'well'} off the saddle" if clip.slack else "") for at, clip in enumerate(clips))
    words = f"{len(clips)} clip{'s' if len(clips) != 1 else ''}: {said}." if clips else "No clip is on it yet."
    harm = "".join(f" The live part is {' and '.join(ways)} {shown(at)} from the dead end." for at, ways in sorted(done.items()))
    held = f" The next one is held {shown(ghost_mm)} from the dead end." if ghost_mm is not None else ""
    return d.figure(f"Side view of an end in {size} in cable with a thimble. The live part runs on above; the dead end lies below, {shown(turnback_mm)} from the thimble. {words}{harm}{held}{free}",
                    f"To scale along the cable. {source}".strip())


def two_ends(size: str, diameter_mm: float, sleeve_mm: float | None, tail_mm: float, turnback_mm: float, base_mm: float | None, places_mm: Sequence[float], crimps: int = 0,
             source: str = "", shown: Callable[[float], str] = _in_mm) -> Figure:
    """A pressed sleeve and a set of clips on the same cable, under one another, at one scale.

    `sleeve_mm` after pressing (None: the shop has not measured it); `places_mm` from the dead end; `shown` puts a length in mm into words.
    """
    scale, thick = _scale(max(turnback_mm, (sleeve_mm or 0) + tail_mm)), max(14.0, min(26.0, diameter_mm * 3.2))
    d = Drawing(700, 252)
    d.text(684, 28, "a pressed sleeve", size=17, anchor="end", weight=700, colour=DEEP)
    y = 62
    if sleeve_mm is None:
        _legs(d, y, thick, 690, None)
        d.text(LOOP_PX + 20, y + 50, "length of the sleeve not measured here", colour=RUST)
    else:
        long = sleeve_mm * scale
        _legs(d, y, thick, 690, LOOP_PX + long + tail_mm * scale)
        step = long / max(crimps, 1)
        draw_sleeve_side(d, LOOP_PX, y, long, thick, [LOOP_PX + step * (n + 0.5) for n in range(crimps)], min(step * 0.62, 30))
    d.text(684, 154, f"{len(places_mm)} clips", size=17, anchor="end", weight=700, colour=DEEP)
    y, dead = 188, LOOP_PX + turnback_mm * scale
    _legs(d, y, thick, 690, dead)
    for at in places_mm:
        d.add(_clip(dead - at * scale, y, thick, max((base_mm or 0) * scale, 22), Clip(at)))
    taken = f"a sleeve of {shown(sleeve_mm)} with a tail of {shown(tail_mm)}" if sleeve_mm is not None else "a sleeve whose length is not known here"
    return d.figure(f"Two ends in {size} in cable at one scale: {taken}; and {len(places_mm)} clips on a turnback of {shown(turnback_mm)}, nuts standing out.",
                    f"To scale along the cable; the loop is the same for both. {source}".strip())
