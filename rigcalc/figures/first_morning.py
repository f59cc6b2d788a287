"""Drawings of the first lesson: who can be near a wire, the papers on a wall, a bench with dangers on it, one force on two scales."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Sequence

from rigcalc.figures.drawing import DEEP, INK, PAPER, QUIET, RUST, STEEL, Drawing, Figure

__all__ = ["DANGERS", "SAFE", "SPOTS", "bench_scene", "letters_on_a_desk", "papers_on_a_wall", "two_scales", "wire_and_people"]

Mark = Callable[[str, str, str, str], str]  # shape, name, value, label -> the shape, made so that it can be pointed at

SPOTS = {"nobody": "a locked fence stands all round, far out of reach", "under": "under the lamp", "beside": "beside the wire, an arm's length off",
         "whip": "past the left post, within the wire's length", "path": "on a path behind a low hedge, well past the right post"}
_SPOT_X = {"under": 315, "beside": 372, "whip": 122, "path": 660}


def _person(d: Drawing, x: float, ground: float) -> None:
    d.circle(x, ground - 88, 13, fill=PAPER, stroke=INK, width=3)
    for x1, y1, x2, y2 in ((0, -75, 0, -36), (0, -36, -13, 0), (0, -36, 13, 0), (0, -64, -18, -46), (0, -64, 18, -46)):
        d.line(x + x1, ground + y1, x + x2, ground + y2, width=3.5)


def wire_and_people(spot: str, zones: bool = False) -> Figure:
    """A wire between two posts with a lamp in its middle, and where a person can be; with `zones`, fall and whip.

    Parameters
    ----------
    spot : str
        One of `SPOTS`.
    zones : bool
        Whether the reach of the fall and of the whip is drawn. It shows the idea: real reach is for who is on the place to judge.
    """
    d, ground, left, right, high = Drawing(700, 340), 300, 230, 400, 96
    middle, long = (left + right) / 2, right - left  # past each post the whip reaches as far as the wire is long
    if zones:
        d.path(f"M{left - long} {ground}A{long} {ground - high} 0 0 1 {left} {high}L{right} {high}A{long} {ground - high} 0 0 1 {right + long} {ground}Z", fill="#f3e3da", stroke=RUST, width=2, dash="7 5")
        d.path(f"M{left} {high}L{right} {high}L{right} {ground}L{left} {ground}Z", fill="void", stroke=RUST, width=2)
        d.text(left - 80, ground - 126, "whip", size=17, colour=RUST, weight=700, anchor="middle", halo=True)
        d.text(right + 80, ground - 126, "whip", size=17, colour=RUST, weight=700, anchor="middle", halo=True)
        d.text(left + 40, ground - 22, "fall", size=17, colour=RUST, weight=700, anchor="middle", halo=True)
    d.line(8, ground, 692, ground, width=4)
    for x in (left, right):
        d.line(x, ground, x, high - 14, width=9, stroke=QUIET)
    d.path(f"M{left} {high}Q{middle:g} {high + 44} {right} {high}", width=4, stroke=DEEP)
    d.line(middle, high + 22, middle, high + 46)
    d.shape([(middle - 20, high + 76), (middle - 10, high + 46), (middle + 10, high + 46), (middle + 20, high + 76)], fill=STEEL)
    d.text(middle, 62, "a lamp on a wire", anchor="middle", weight=700)
    if spot == "nobody":
        for x in (16, 684):
            d.line(x, ground, x, ground - 84, width=5)
        for base in (16, 640):
            for y in (18, 42, 66):
                d.line(base, ground - y, base + 44, ground - y, width=2.5)
        d.text(20, ground + 26, "locked fence")
        d.text(680, ground + 26, "locked fence", anchor="end")
    else:
        _person(d, _SPOT_X[spot], ground)
        if spot == "path":
            d.path(f"M588 {ground}q8 -44 16 0q8 -44 16 0q8 -44 16 0", width=3)
            d.text(612, ground + 26, "hedge", anchor="middle")
            d.text(674, ground + 26, "path", anchor="middle")
    drawn = " The reach of the fall is hatched below the wire; the reach of the whip goes on past both posts, as far as the wire is long." if zones else ""
    return d.figure(f"A lamp hangs from a wire between two posts. Who can be there: {SPOTS[spot]}.{drawn}", "Not to scale: it shows what is asked, not how far a real wire reaches.")


def letters_on_a_desk(letters: Sequence[tuple[str, str]]) -> Figure:
    """Letters side by side on a desk: who writes, and what; three at most, each of up to 180 signs."""
    wide = 224 if len(letters) > 1 else 460
    lines = [textwrap.wrap(words, 21 if len(letters) > 1 else 46) for _, words in letters]
    high = 74 + 20 * max(map(len, lines))
    d = Drawing(700, high + 24)
    for at, ((who, _), rows) in enumerate(zip(letters, lines, strict=True)):
        x = (8 if len(letters) > 1 else 120) + (wide + 6) * at
        d.rect(x, 10, wide, high, 3, fill=PAPER, stroke=INK, width=2)
        d.line(x + 12, 48, x + wide - 12, 48, stroke=QUIET, width=1.5)
        d.text(x + 14, 38, who, size=17, weight=700, colour=DEEP)
        d.text(x + 14, 74, "\n".join(rows), size=16)
    return d.figure(" ".join(f"A letter from the {who[:1].lower()}{who[1:]}: {words}" for who, words in letters), "On the desk this morning. INVENTED.")


def papers_on_a_wall(papers: Sequence[tuple[str, str, str]], mark: Mark, on: str | None = None) -> Figure:
    """Sheets pinned to a wall, each with a heading and two lines of words.

    Parameters
    ----------
    papers : sequence of (id, heading, words)
        Words may hold newlines.
    mark : callable
        Makes a sheet one that can be pointed at.
    on : str or None
        The sheet that was pointed at last.
    """
    d = Drawing(700, 40 + 118 * ((len(papers) + 1) // 2))
    for at, (name, heading, words) in enumerate(papers):
        x, y = 14 + 346 * (at % 2), 16 + 118 * (at // 2)
        sheet = Drawing(700, 1)
        sheet.rect(x, y, 326, 102, 3, fill=PAPER, stroke=INK, width=5 if on == name else 2)
        sheet.circle(x + 163, y + 10, 5, fill=RUST, stroke=INK, width=1.5)
        sheet.text(x + 14, y + 34, heading, size=17, weight=700, colour=DEEP)
        sheet.text(x + 14, y + 58, words, size=16)
        d.add(mark("".join(sheet.parts), "paper", name, f"{heading}: {' '.join(words.split())}"))
    said = "; ".join(f"{heading}: {' '.join(words.split())}" for _, heading, words in papers)
    return d.figure(f"{len(papers)} papers pinned to a wall. {said}." if papers else "A wall with no paper on it: nothing is pinned up here.")


DANGERS = {
    "eyes": ("a person at the bench, bare face, no goggles", "No eye protection. It is worn from the first cut to the last pull."),
    "whip": ("a cut cable end, loose, standing up from the bench", "A loose end whips. Hold it or aim it down while you cut, then tape it."),
    "fingers": ("a second person's hand at the sleeve, between the handles of the tool", "Fingers stay out of the jaws, and nobody steadies the sleeve while another closes."),
    "pipe": ("a length of pipe pushed over one handle of the tool", "No pipe on the handles: it springs the tool and throws whoever leans on it. Both feet set, no bouncing."),
    "coil": ("a coil of cable thrown open on the floor across the way", "A coil is unwound, never thrown off. It springs open, kinks, and trips people."),
    "blanks": ("short cut wires on the floor", "Cut wires go through boots and tyres. Sweep them up at once."),
}
SAFE = {
    "reel": ("a reel on its stand, a brake shoe against its rim", "A braked reel. Nothing wrong here."),
    "tape": ("a cable end on the rack with tape wound round it", "A taped end. Nothing wrong here."),
    "bolts": ("the foot of the bench tool, four bolts through it", "A tool bolted down. Nothing wrong here."),
}


def _scene() -> dict[str, Drawing]:
    """Every part of the bench scene, drawn by itself."""
    made = {name: Drawing(700, 400) for name in (*DANGERS, *SAFE)}
    d = made["eyes"]
    d.circle(206, 96, 26, fill=PAPER, width=3)
    d.circle(215, 92, 3, fill=INK)
    d.path("M206 122V214M206 146L268 178", width=5)
    d = made["whip"]
    d.path("M92 226C100 190 74 176 92 146S112 118 98 98", width=5, stroke=DEEP)
    d.path("M98 98l-10 -6M98 98l8 -8", width=2.5)
    d = made["bolts"]
    d.rect(286, 214, 118, 16, 3, fill=QUIET)
    for x in (298, 326, 364, 392):
        d.circle(x, 214, 6, fill=PAPER, width=2)
    d = made["fingers"]
    d.rect(330, 148, 26, 44, 4, fill="sleeve")
    d.path("M470 148C430 140 396 150 362 160M470 160C430 156 400 164 362 170M470 172C432 172 400 176 362 182", width=6, stroke="#8a6a52")
    d = made["pipe"]
    d.path("M344 132L300 58", width=9, stroke=QUIET)
    d.path("M312 78L278 18", width=17, stroke=STEEL)
    d.path("M305 82l15 -8", width=3)
    d = made["coil"]
    for at in range(4):
        d.ellipse(560 + 9 * at, 342 + 4 * at, 58 - 5 * at, 24, 8 * at, stroke=DEEP, width=4)
    d = made["blanks"]
    for x, y in ((150, 360), (172, 350), (190, 366), (210, 352), (232, 362), (176, 372)):
        d.line(x, y, x + 13, y - 6, width=3)
    d = made["reel"]
    d.circle(612, 170, 46, fill=STEEL, width=3)
    d.circle(612, 170, 15, fill=PAPER, width=3)
    d.path("M612 170L584 248M612 170L640 248", width=5, stroke=QUIET)
    d.shape([(560, 196), (572, 190), (580, 206), (568, 214)], fill=RUST)
    d = made["tape"]
    d.path("M500 60H590", width=6, stroke=DEEP)
    d.rect(572, 51, 26, 18, 2, fill=PAPER, width=2.5)
    d.line(585, 51, 585, 69, width=2)
    return made


def bench_scene(mark: Mark, found: Sequence[str] = ()) -> Figure:
    """A bench at work with six dangers and three things that are right; what has been named is ringed.

    Parameters
    ----------
    mark : callable
        Makes a part one that can be pointed at.
    found : sequence of str
        Ids of `DANGERS` that were named.
    """
    d, parts = Drawing(700, 400), _scene()
    d.line(10, 384, 690, 384, width=3)
    d.rect(40, 230, 500, 14, 2, fill=QUIET)
    for x in (70, 500):
        d.line(x, 244, x, 384, width=8, stroke=QUIET)
    d.path("M344 214V192M344 148V132", width=11, stroke=QUIET)
    d.path("M490 60V40M598 40V60M480 40H610", width=3, stroke=QUIET)
    boxes = {"eyes": (176, 64, 98, 152), "whip": (66, 86, 52, 142), "fingers": (324, 134, 150, 64), "pipe": (256, 8, 92, 126), "coil": (494, 308, 156, 66),
             "blanks": (138, 336, 122, 44), "reel": (550, 118, 116, 134), "tape": (488, 44, 120, 34), "bolts": (280, 204, 130, 28)}
    for name, part in parts.items():
        x, y, wide, high = boxes[name]
        ring = Drawing(700, 400)
        ring.rect(x, y, wide, high, 12, fill="#ffffff00", stroke=RUST if name in found else "none", width=4)
        words = (DANGERS | SAFE)[name][0]
        d.add(mark("".join(ring.parts) + "".join(part.parts), "part", name, words))
    seen = "; ".join(words for words, _ in (DANGERS | SAFE).values())
    named = f" Named so far: {len(found)}." if found else ""
    return d.figure(f"A bench at work. To be seen: {seen}.{named}", "Not to scale.")


def two_scales(newtons: float, most: float, left: tuple[str, float, str], right: tuple[str, float, str], per_left: float, per_right: float) -> Figure:
    """One force shown by one pointer on two scales.

    Parameters
    ----------
    newtons, most : float
        The force and the end of the scales, in N.
    left, right : (unit, step, words)
        The scale's unit, the step of its marks in that unit, and how the force is said in it.
    per_left, per_right : float
        Newtons in one of each unit.
    """
    d, x0, wide, y = Drawing(700, 190), 40, 620, 96
    d.line(x0, y, x0 + wide, y, width=3)
    for (unit, step, words), per, down in ((left, per_left, -1), (right, per_right, 1)):
        at = 0
        while at * step * per <= most * 1.0001:
            x = x0 + wide * at * step * per / most
            d.line(x, y, x, y + 14 * down, width=2)
            d.text(x, y - 20 if down < 0 else y + 34, f"{at * step:g}", anchor="middle")
            at += 1
        d.text(x0 + wide, y - 46 if down < 0 else y + 60, unit, anchor="end", weight=700)
        d.text(x0, y - 46 if down < 0 else y + 60, words, weight=700, colour=DEEP)
    x = x0 + wide * newtons / most
    d.line(x, y - 16, x, y + 16, width=7, stroke=RUST)
    return d.figure(f"One force on two scales, one pointer: {left[2]}; that is {right[2]}.")
