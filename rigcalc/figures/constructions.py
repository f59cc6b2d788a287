"""Any construction in true section and from the side with its lay, and how far two jaws stand apart on it.

Outer strands (of one strand alone: its outer wires) wind round, so along a jaw each reaches as far as a circle round it.
Those circles are the outline that a caliper closes on.
"""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass
from functools import lru_cache
from math import atan2, cos, degrees, hypot, pi, radians, sin, tau

from rigcalc.cable import construction, section
from rigcalc.figures.drawing import DEEP, INK, STEEL, Drawing, Figure, number

__all__ = ["CORE", "FIBRE", "Jaws", "Pointed", "Warp", "draw_section", "draw_side", "jaws_on", "look_inside", "outline", "section_wires"]

Pointed = Callable[[str, str, str], str]  # shape, value, label -> the shape, pointable
CORE, MARKED, FIBRE = "#7d919e", "#f0d9a8", "#d8c9a6"
CLOCK = {0: "3", 1: "2", 2: "1", 3: "12", 4: "11", 5: "10", 6: "9", 7: "8", 8: "7", 9: "6", 10: "5", 11: "4"}


@lru_cache(maxsize=16)
def section_wires(designation: str):
    """The wires of a cable 1 across, as `rigcalc.cable.section` has them: strand 0 is the centre."""
    return section(designation, 1.0)


@lru_cache(maxsize=16)
def outline(designation: str) -> tuple[tuple[float, float, float], ...]:
    """The circles (x, y, radius) that a jaw can touch, in diameters of the cable; one of them has its crown at angle 0.

    >>> [round(part, 3) for part in outline("7x7")[0]], len(outline("1x19"))
    ([0.333, 0.0, 0.167], 12)
    """
    wires = section_wires(designation)
    if construction(designation).strands == 1:
        last = max(wire.layer for wire in wires)
        return tuple((wire.x_mm, wire.y_mm, wire.major_mm) for wire in wires if wire.layer == last)
    found = []
    for strand in sorted({wire.strand for wire in wires} - {0}):
        middle = next(wire for wire in wires if wire.strand == strand and wire.layer == 0)
        reach = max(hypot(wire.x_mm - middle.x_mm, wire.y_mm - middle.y_mm) + wire.major_mm for wire in wires if wire.strand == strand)
        found.append((middle.x_mm, middle.y_mm, reach))
    return tuple(found)


@dataclass(frozen=True)
class Jaws:
    """Two flat jaws closed on a cable 1 across: where each stands along the measured line, and how many crowns it touches."""

    low: float
    high: float
    touched: tuple[int, int]
    straight: bool

    @property
    def apart(self) -> float:
        """What the caliper reads, in diameters."""
        return self.high - self.low

    @property
    def stands(self) -> str:
        """Over what the jaws stand: "crowns", "flats" or "between"."""
        return "flats" if self.touched == (2, 2) else "crowns" if self.touched == (1, 1) and self.straight else "between"


@lru_cache(maxsize=8192)
def jaws_on(designation: str, turn_deg: float, squeeze: tuple[float, float] = (1.0, 1.0)) -> Jaws:
    """Flat jaws closed along a line at `turn_deg` from the first crown.

    Parameters
    ----------
    designation : str
        Any construction of the table.
    turn_deg : float
        By how much the caliper is turned round the cable, degrees.
    squeeze : tuple of float
        How far the cable is squeezed along its first crown and square to it; 1 is round.

    Example
    -------
    >>> jaws_on("7x19", 0).stands, round(jaws_on("7x19", 30).apart, 4), jaws_on("7x19", 30).stands
    ('crowns', 0.9107, 'flats')
    """
    along = (cos(radians(turn_deg)), sin(radians(turn_deg)))
    wide, high = squeeze
    reach = hypot(along[0] * wide, along[1] * high)
    ends, touched, straight = [], [], True
    for way in (1, -1):
        spots = [(way * (x * wide * along[0] + y * high * along[1]) + r * reach, x, y) for x, y, r in outline(designation)]
        far = max(spot[0] for spot in spots)
        near = [spot for spot in spots if far - spot[0] < 1e-4]
        ends.append(way * far)
        touched.append(len(near))
        straight = straight and abs(near[0][1] * along[1] - near[0][2] * along[0]) < 0.006
    return Jaws(ends[1], ends[0], (touched[0], touched[1]), straight)


def at_the_clock(x: float, y: float) -> str:
    """Where a thing lies in a section, by the clock to half an hour; y runs down.

    >>> at_the_clock(1, 0), at_the_clock(1, -0.268), at_the_clock(0, 0)
    ("at 3 o'clock", 'at half past 2', 'in the middle')
    """
    if hypot(x, y) < 1e-6:
        return "in the middle"
    half = round(atan2(-y, x) / (pi / 12)) % 24
    return f"at half past {CLOCK[(half + 1) // 2 % 12]}" if half % 2 else f"at {CLOCK[half // 2]} o'clock"


def _piece_said(layer: int, beside: tuple[float, float], bundle: str) -> str:
    """A wire as a screen reader has it: its ring and where it lies in its bundle; no number, for the number would be the count."""
    ring = ("", "first ring, ", "second ring, ")[layer]
    return f"one round piece, {ring}{at_the_clock(*beside)}{bundle}"


def draw_section(sheet: Drawing, x: float, y: float, scale: float, designation: str, turn_deg: float = 0, *,
                 strands: Collection[int] = (), wires: Collection[int] = (), pointed: Pointed | None = None, level: str = "strand",
                 only: int | None = None, fibre: Pointed | None = None, fibre_on: bool = False) -> None:
    """The section at (x, y), `scale` px across, turned by `turn_deg`; `strands` and `wires` (by number) are marked.

    `pointed` makes each strand or each wire pointable, as `level` says; `only` draws one strand alone.
    `fibre` makes a fibre core pointable, and `fibre_on` marks it.
    """
    built, c, s = construction(designation), cos(radians(turn_deg)), sin(radians(turn_deg))
    if built.core == "fibre" and only is None:
        middle = Drawing(700, 1)
        middle.circle(x, y, scale / 6, fill=MARKED if fibre_on else FIBRE, stroke=INK if fibre_on else "#8a7440", width=3 if fibre_on else 1.5)
        for row in range(-2, 3):
            middle.path(f"M{number(x - scale / 9)} {number(y + row * scale / 20)}q{number(scale / 18)} -8 {number(scale / 9)} 0t{number(scale / 9)} 0",
                       stroke="#8a7440", width=1.3)
        shape = "".join(middle.parts)
        sheet.add(fibre(shape, "fibre", "what lies in the middle") if fibre else shape)
    groups: dict[int, list[str]] = {}
    middles: dict[int, tuple[float, float]] = {}
    for at, wire in enumerate(section_wires(designation)):
        if only is not None and wire.strand != only:
            continue
        px, py = wire.x_mm * c - wire.y_mm * s, wire.x_mm * s + wire.y_mm * c
        middles.setdefault(wire.strand, (px, py))
        marked = at in wires or wire.strand in strands
        fill = MARKED if marked else CORE if wire.strand == 0 and built.strands > 1 else STEEL
        shape = (f'<ellipse cx="{number(x + px * scale)}" cy="{number(y + py * scale)}" rx="{number(wire.major_mm * scale)}" ry="{number(wire.minor_mm * scale)}" '
                 f'transform="rotate({number(degrees(wire.angle_rad) + turn_deg)} {number(x + px * scale)} {number(y + py * scale)})" fill="{fill}"/>')
        if at in wires:
            shape += f'<circle cx="{number(x + px * scale)}" cy="{number(y + py * scale)}" r="{number(max(2.5, wire.minor_mm * scale * 0.36))}" fill="{INK}"/>'
        if pointed and level == "wire":
            mx, my = middles[wire.strand]
            bundle = "" if built.strands == 1 or only is not None else f" of the bundle {at_the_clock(mx, my)}"
            shape = pointed(shape, str(at), _piece_said(wire.layer, (px - mx, py - my), bundle))
        groups.setdefault(wire.strand, []).append(shape)
    for strand, shapes in groups.items():
        body = f'<g stroke="{INK}" stroke-width="{number(min(1.0, scale / 150))}">{"".join(shapes)}</g>'
        mx, my = (base + part * scale for base, part in zip((x, y), middles[strand]))
        if strand in strands:
            body += f'<circle cx="{number(mx)}" cy="{number(my)}" r="{number(strand_radius(designation) * scale)}" fill="none" stroke="{INK}" stroke-width="3"/>'
        if pointed and level == "strand":
            body = pointed(body, str(strand), f"a bundle {at_the_clock(*middles[strand])}")
        sheet.add(body)


def strand_radius(designation: str) -> float:
    """Half the thickness of one strand, in diameters of the cable."""
    built = construction(designation)
    return (2 * len(built.layers) - 1) / built.wires_across / 2


@dataclass(frozen=True)
class Warp:
    """What is wrong with a cable seen from the side: each a function of the place along it, px.

    `aside`: how far its middle lies off, px. `spread`: how far its strands stand out, 1 as made. `flat`: its height, 1 as made.
    `closely`: how many times as finely it has to be drawn.
    """

    aside: Callable[[float], float] = lambda at: 0.0
    spread: Callable[[float], float] = lambda at: 1.0
    flat: Callable[[float], float] = lambda at: 1.0
    closely: int = 1


def _bands(designation: str) -> tuple[int, float, float, int, float]:
    """Of what winds round outside: how many, how far out, half as thick, wires to be seen on each, lay of those; in diameters."""
    built, circles = construction(designation), outline(designation)
    x, y, thick = circles[0]
    seen = 0 if built.strands == 1 else built.layers[-1]
    return len(circles), hypot(x, y), thick, seen, built.lay_diameters * 2 * strand_radius(designation)


def draw_side(sheet: Drawing, x: float, y: float, long: float, d: float, designation: str, *, chosen: int | None = None, warp: Warp | None = None,
              fine: bool = True, shift: float = 0.0) -> None:
    """A cable from the side, its axis at y, from x to x + long; `d` px across. Right lay; the wires run against the strands.

    `chosen` is the number of the outer strand that is marked; `fine` draws the single wires; `shift` turns the cable, in lays.
    """
    sheet.add(f'<svg x="{number(x)}" y="{number(y - 3 * d)}" width="{number(long)}" height="{number(6 * d)}" '
              f'viewBox="0 {number(-3 * d)} {number(long)} {number(6 * d)}">{_side(long, d, designation, chosen, warp or Warp(), fine, shift)}</svg>')


@lru_cache(maxsize=64)
def _side(long: float, d: float, designation: str, chosen: int | None, warp: Warp, fine: bool, shift: float) -> str:
    """The paths of `draw_side`, its axis from (0, 0): the hindmost first."""
    count, reach, thick, seen, short_lay = _bands(designation)
    lay = construction(designation).lay_diameters * d
    steps = max(2, round(long / (lay / (24 if d > 40 else 14)))) * warp.closely
    spots = [long * step / steps for step in range(steps + 1)]
    bins: dict[int, dict[str, list[str]]] = {}
    hidden = -0.75 if count > 3 else -1  # behind so many strands nothing of the far side is seen
    r, leans, here = thick * d, [], []
    for at in spots:
        lean = atan2(warp.aside(at + 1) - warp.aside(at - 1), 2)
        leans.append((warp.flat(at) * sin(lean), warp.flat(at) * cos(lean)))
        here.append((at, warp.aside(at), warp.spread(at) * reach * d))

    def place(spot: int, off: float) -> str:
        (along, up), (at, aside, _) = leans[spot], here[spot]
        return f"{at - off * along:.1f} {aside + off * up:.1f}"

    for strand in range(count):
        turns = [tau * (at / lay + strand / count + shift) for at in spots]
        offs = [one[2] * sin(turn) for one, turn in zip(here, turns)]
        rolls = [[-tau * at / (short_lay * d) + tau * (wire + 0.5) / seen - strand * tau / 2 for at in spots] for wire in range(seen if fine else 0)]
        for a in range(steps):
            depth, b = cos((turns[a] + turns[a + 1]) / 2), a + 1
            if depth < hidden:
                continue
            put = bins.setdefault(int((depth + 1) * 6), {"fill": [], "mark": [], "edge": [], "wire": []})
            top, bottom = (f"M{place(a, offs[a] + side)}L{place(b, offs[b] + side)}" for side in (-r, r))
            put["mark" if strand + 1 == chosen else "fill"].append(f"{top}L{place(b, offs[b] + r)}L{place(a, offs[a] + r)}Z")
            put["edge"].append(top + bottom)
            for roll in rolls:
                if cos(roll[a]) > 0.1 and cos(roll[b]) > 0.1:
                    put["wire"].append(f"M{place(a, offs[a] + 0.96 * r * sin(roll[a]))}L{place(b, offs[b] + 0.96 * r * sin(roll[b]))}")
    drawn = []
    for level in sorted(bins):
        for kind, fill, stroke, width in (("fill", STEEL, STEEL, 0.8), ("mark", MARKED, MARKED, 0.8), ("wire", "none", "#5d6f7b", 0.9), ("edge", "none", INK, 1.4)):
            if bins[level][kind]:
                drawn.append(f'<path d="{"".join(bins[level][kind])}" fill="{fill}" stroke="{stroke}" stroke-width="{width}" stroke-linecap="round"/>')
    return "".join(drawn)


def look_inside(designation: str, strand: int | None = None, wire: int | None = None, level: str = "strand", pointed: Pointed | None = None,
                fibre: bool = False) -> Figure:
    """A construction cut square, and from the side over one lay; what is pointed at is marked in both.

    Parameters
    ----------
    designation : str
        Any construction of the table.
    strand, wire : int, optional
        What is marked, by its number in `rigcalc.cable.section`.
    level : str
        "strand" or "wire": what can be pointed at; a fibre core always can.
    fibre : bool
        Whether the fibre core is marked.
    """
    built, scale, d = construction(designation), 270, 78
    sheet = Drawing(700, 524)
    draw_section(sheet, 170, 158, scale, designation, -90, strands=() if strand is None else (strand,), wires=() if wire is None else (wire,),
                 pointed=pointed, level=level, fibre=pointed, fibre_on=fibre)
    sheet.text(350, 40, "cut square, seen on its end", size=16, weight=700, colour=DEEP)
    kinds = {"strand": "a strand as core, in the middle", "fibre": "a fibre core, in the middle", "none": "nothing in the middle", "wire": "a wire in the middle"}
    for row, words in enumerate((f"{len(outline(designation))} {'strands' if built.strands > 1 else 'wires'} outside", kinds[built.core],
                                 f"wires in a strand: {' + '.join(map(str, built.layers))}")):
        sheet.text(350, 72 + 26 * row, words)
    lay, start = built.lay_diameters * d, 30
    sheet.text(14, 352, "from the side", size=16, weight=700, colour=DEEP)
    winds = strand if strand else wire_outside(designation, wire)
    crest = 47  # px from the start: there the strand that is measured stands highest
    draw_side(sheet, start, 420, 640, d, designation, chosen=winds, shift=-0.25 - crest / lay - ((winds or 1) - 1) / len(outline(designation)))
    sheet.measure(start + crest, start + crest + lay, 496, "one lay: once round", above=False, drop=-38)
    marked = " Marked: the fibre in the middle." if fibre else f" Marked: strand {strand}." if strand is not None else f" Marked: wire {wire + 1}." if wire is not None else ""
    alt = (f"A {designation} cable cut square and from the side. {built.strands} {'strands' if built.strands > 1 else 'strand'} of {built.wires_per_strand} wires, core: {built.core}."
           f" One lay is drawn as {built.lay_diameters:g} diameters.{marked}")
    return sheet.figure(alt, "True section: every wire as a square cut shows it. The side view winds as the section does.")


def wire_outside(designation: str, wire: int | None) -> int | None:
    """The number of the outer band that a wire belongs to, as `draw_side` counts; None for the core's wires."""
    if wire is None:
        return None
    found = section_wires(designation)[wire]
    if construction(designation).strands > 1:
        return found.strand or None
    outer = [at for at, one in enumerate(section_wires(designation)) if one.layer == max(w.layer for w in section_wires(designation))]
    return outer.index(wire) + 1 if wire in outer else None
