"""Side views of an eye: rope, thimble and sleeve, to scale along the cable."""

from __future__ import annotations

from math import acos, atan2, cos, hypot, sin

from rigcalc.figures.drawing import (DEEP, GREEN, INK, PAPER, QUIET, RUST, STEEL, Drawing, Figure, millimetres, number)

__all__ = ["eye_to_scale", "crimp_places", "cut_layout", "draw_rope", "draw_sleeve_side", "draw_thimble"]

OPEN_HEIGHT, CLOSED_HEIGHT, BETWEEN_HEIGHT = 3.5, 2.5, 3.1  # side height of the sleeve in cable diameters


def draw_rope(sheet: Drawing, d: str, thick: float) -> None:
    """A cable along a path, `thick` px across, with marks that show its lay."""
    for colour, width, dash in ((INK, thick + 4, ""), (STEEL, thick, ""), ("#60737f", thick, "1.8 6.5")):
        extra = f' stroke-dasharray="{dash}"' if dash else ""
        sheet.add(f'<path d="{d}" fill="none" stroke="{colour}" stroke-width="{number(width)}"{extra}/>')


def draw_end(sheet: Drawing, x: float, y: float, thick: float) -> None:
    """The square-cut end of a cable that runs to the right."""
    sheet.line(x, y - thick / 2 - 1, x, y + thick / 2 + 1, width=4)


def draw_sleeve_side(sheet: Drawing, x: float, y: float, length: float, d: float, crimps=(), width: float = 0,
                     fill: str = "sleeve") -> None:
    """A sleeve from x to x + length; `crimps` are the centres of pressed places, `width` px wide."""
    high = OPEN_HEIGHT if not crimps else BETWEEN_HEIGHT
    top = [(x, y - high * d / 2 + 4), (x + 4, y - high * d / 2)]
    for at in sorted(crimps):
        a, b, low = at - width / 2, at + width / 2, y - CLOSED_HEIGHT * d / 2
        top += [(a, y - high * d / 2), (a + 3, low), (b - 3, low), (b, y - high * d / 2)]
    top += [(x + length - 4, y - high * d / 2), (x + length, y - high * d / 2 + 4)]
    sheet.shape(top + [(px, 2 * y - py) for px, py in reversed(top)], fill=fill, width=3)
    for at in sorted(crimps):
        low = CLOSED_HEIGHT * d / 2
        sheet.rect(at - width / 2 + 3, y - low, width - 6, 2 * low, fill="crimp", width=1.5)


def draw_loop(sheet: Drawing, bearing: float, mouth: float, y: float, d: float, radius: float, apart: float,
              thimble: bool = True) -> None:
    """The eye from its bearing point (left) to the sleeve's mouth (right); `radius` is the cable's axis, px."""
    gauge = d * 0.16  # thickness of the thimble's metal
    centre = bearing + radius - d / 2 - gauge
    draw_rope(sheet, _drop(centre, mouth, y, radius, apart), d)
    if thimble:
        inner = radius - d / 2 - gauge * 1.4
        tip = mouth - d * 0.9
        draw_thimble(sheet, centre, tip, y, inner, gauge)


def draw_thimble(sheet: Drawing, centre: float, tip: float, y: float, radius: float, thick: float) -> None:
    """A thimble seen from the side, its points at (tip, y)."""
    for colour, wide in ((INK, thick * 2 + 5), ("#d5dadd", thick * 2)):
        sheet.path(_drop(centre, tip, y, radius, thick * 0.75), stroke=colour, width=wide)


def _drop(centre: float, mouth: float, y: float, radius: float, apart: float) -> str:
    """A drop-shaped path: from (mouth, y - apart) round the circle and back to (mouth, y + apart)."""
    run, far = atan2(-apart, mouth - centre), hypot(mouth - centre, apart)
    angle = run - acos(min(radius / far, 0.999))
    tx, ty = centre + radius * cos(angle), radius * sin(angle)
    n = number
    return (f"M{n(mouth + 2)} {n(y - apart)}L{n(tx)} {n(y + ty)}A{n(radius)} {n(radius)} 0 1 0 {n(tx)} {n(y - ty)}"
            f"L{n(mouth + 2)} {n(y + apart)}")


def _centres(x: float, length: float, count: int) -> list[float]:
    """Even places for `count` crimps on a pressed sleeve that starts at x, px."""
    return [x + length * (2 * i + 1) / (2 * count) for i in range(count)]


def eye_to_scale(diameter_mm: float = 3.175, bearing_to_sleeve_mm: float = 30, sleeve_before_mm: float = 15,
                 sleeve_after_mm: float = 20, tail_mm: float = 7, count: int = 3, name: str = "1/8",
                 pressed: bool | None = None, source: str = "", asked: bool = False) -> Figure:
    """An eye with its thimble, sleeve and tail, to scale; None shows it before and after pressing.

    The worst case is drawn: the whole growth of the sleeve goes towards the tail. The metal keeps its volume, so
    the sleeve cannot take more of the tail than it grows.

    Parameters
    ----------
    diameter_mm, bearing_to_sleeve_mm, sleeve_before_mm, sleeve_after_mm, tail_mm : float
        Lengths in mm, above 0 (the tail may be 0); the tail is that before pressing.
    count : int
        Crimps, from the chart in force.
    name : str
        The cable's size as the trade says it.
    source : str
        Chart in force or other source, for the caption.
    asked : bool
        Whether the drawing is asked about: then nothing in it or under it judges the tail.
    """
    states = (False, True) if pressed is None else (pressed,)
    total = bearing_to_sleeve_mm + max(sleeve_after_mm, sleeve_before_mm) + max(tail_mm, 2 * diameter_mm) + 5 * diameter_mm
    scale = 630 / (total + 1.2 * diameter_mm)
    d, row = diameter_mm * scale, max(190.0, 2 * 2.35 * diameter_mm * scale + 2 * diameter_mm * scale + 56)
    sheet = Drawing(690, row * len(states) + 8)
    for index, state in enumerate(states):
        _eye_row(sheet, index * row + row / 2 + 14, d, scale, state, bearing_to_sleeve_mm, sleeve_before_mm,
                 sleeve_after_mm, tail_mm, count, asked)
    left = tail_mm - (sleeve_after_mm - sleeve_before_mm)
    return sheet.figure(_eye_alt(states, name, tail_mm, diameter_mm, sleeve_before_mm, sleeve_after_mm, left),
                        "Drawn to scale along the cable" + ("." if asked else ", worst case: all growth goes to the tail.")
                        + (f" {source}" if source else ""))


def _eye_row(sheet, y, d, scale, pressed, bearing, before, after, tail, count, asked) -> None:
    x0, sleeve = 1.2 * d + 8, (after if pressed else before) * scale
    mouth = x0 + bearing * scale
    end_of_sleeve, tail_end = mouth + sleeve, mouth + (before + tail) * scale
    apart = d * (0.47 if pressed else 0.6)
    draw_rope(sheet, f"M{number(mouth)} {number(y - apart)}H680", d)
    draw_rope(sheet, f"M{number(mouth)} {number(y + apart)}H{number(tail_end)}", d)
    draw_end(sheet, tail_end, y + apart, d)
    draw_loop(sheet, x0, mouth, y, d, 2.35 * d, apart)
    draw_sleeve_side(sheet, mouth, y, sleeve, d, _centres(mouth, sleeve, count) if pressed else (),
                     sleeve / count * 0.84)
    high = (OPEN_HEIGHT if not pressed else BETWEEN_HEIGHT) * d / 2
    sheet.text(10, y - max(2.35 * d + d, high) + 2, "after pressing" if pressed else "before pressing", weight=700,
               colour=DEEP, size=17)
    sheet.measure(mouth, end_of_sleeve, y - high - 12, f"sleeve {millimetres(sleeve / scale, 1)}", drop=12)
    showing = (tail_end - end_of_sleeve) / scale
    below = y + high + 16
    if showing > 0.05:
        sheet.measure(end_of_sleeve, tail_end, below, f"tail {millimetres(showing, 1)}", above=False, drop=-30,
                      colour=INK if asked else GREEN if pressed or tail * scale >= 2 * d - 0.01 else RUST, anchor="start")
        return
    sheet.line(tail_end, y + apart - d / 2, tail_end, y + apart + d / 2, stroke=RUST, width=3.5, dash="5 4")
    sheet.leader(end_of_sleeve - 34, below + 8, tail_end, y + apart, colour=RUST)
    sheet.text(680, below + 24, f"no tail: the end lies {millimetres(-showing, 1)} inside", weight=700, colour=RUST, anchor="end")


def _eye_alt(states, name, tail, diameter, before, after, left) -> str:
    share = f"{tail / diameter:.1f}".rstrip("0").rstrip(".")
    words = f"Side view of an eye in {name} in cable with a thimble and one sleeve."
    if False in states:
        words += (f" Before pressing the sleeve is {millimetres(before, 1)} long and the tail stands out "
                  f"{millimetres(tail, 1)}, {share} times the cable's diameter.")
    if True in states:
        end = (f"{millimetres(left, 1)} of tail still shows." if left > 0.05 else
               f"the cut end lies {millimetres(abs(left), 1)} inside the sleeve: no tail shows.")
        words += f" After pressing the sleeve is {millimetres(after, 1)} long and, if all growth goes to the tail, {end}"
    return words


def crimp_places(count: int = 3, letters=("C", "A", "B"), size: str = "1/8", order=None, source: str = "", pressed=None) -> Figure:
    """A sleeve with a letter over the place of each crimp, the thimble's side named; for asking or showing an order.

    Parameters
    ----------
    count : int
        Crimps, 1 to 6.
    letters : sequence of str
        One letter a place, from the thimble's side; drawn by lot where the order is asked.
    order : sequence of int or None
        Places in pressing order, numbered from the thimble; then the order is written under them.
    pressed : sequence of str or None
        The letters of the places that are pressed by now; the others bear a pen mark. None: all are pressed.
    """
    letters = list(letters)[:count]
    sheet, d, y, mouth, length = Drawing(690, 258 if order else 250), 34, 138, 232, 64.0 * count + 40
    length = min(length, 372)
    draw_rope(sheet, f"M{mouth} {number(y - 0.47 * d)}H684", d)
    draw_rope(sheet, f"M{mouth} {number(y + 0.47 * d)}H{number(mouth + length + 30)}", d)
    draw_end(sheet, mouth + length + 30, y + 0.47 * d, d)
    draw_loop(sheet, 48, mouth, y, d, 66, 0.47 * d)
    places = _centres(mouth, length, count)
    done = letters if pressed is None else list(pressed)
    draw_sleeve_side(sheet, mouth, y, length, d, [at for at, letter in zip(places, letters) if letter in done], length / count * 0.8)
    for place, (at, letter) in enumerate(zip(places, letters), 1):
        sheet.line(at, 58, at, y - CLOSED_HEIGHT * d / 2, stroke=INK, width=1.5, dash="3 4")
        if letter not in done:
            sheet.line(at, y - CLOSED_HEIGHT * d / 2, at, y + CLOSED_HEIGHT * d / 2, stroke=INK, width=3)
        sheet.circle(at, 38, 19, fill=PAPER, stroke=DEEP, width=3)
        sheet.text(at, 45, letter, size=20, anchor="middle", weight=700, colour=DEEP)
        if order:
            sheet.text(at, 224, _nth(list(order).index(place) + 1), anchor="middle", weight=600)
    if order:
        sheet.text(mouth + length / 2, 248, "order of pressing", anchor="middle", size=15, colour=QUIET)
    sheet.text(100, 24, "thimble side", anchor="middle", weight=600, colour=QUIET)
    sheet.text(684, 186, "tail side", anchor="end", weight=600, colour=QUIET)
    listed = ", ".join(letters)
    alt = f"A sleeve on a {size} in eye with {f'{count} crimps' if pressed is None else f'places for {count} crimps, pen-marked where nothing is pressed'}; from the thimble's side to the tail's side they are {'numbered' if letters[0].isdigit() else 'lettered'} {listed}."
    if pressed is not None:
        alt += f" Pressed: {', '.join(done) or 'nothing yet'}."
    if order:
        alt += " Pressing order from the chart: " + ", ".join(letters[place - 1] for place in order) + "."
    return sheet.figure(alt, source)


def _nth(number_: int) -> str:
    return ("first", "second", "third", "fourth", "fifth", "sixth")[number_ - 1]


def cut_layout(pin_to_pin_mm: float = 2400, bearing_to_sleeve_mm: float = 30, loop_mm: float = 70,
               sleeve_before_mm: float = 15, tail_mm: float = 7, total_mm: float | None = None, name: str = "1/8",
               finished: bool = False) -> Figure:
    """The cable laid straight before it is bent: what each end needs, marked along it (not to scale).

    Lengths in mm. `total_mm` is the cut length worked by the layout, shown under the whole. `finished` draws the piece
    on its pins above it.
    """
    top = 205 if finished else 0
    sheet, y, d = Drawing(690, 300 + top), 140 + top, 20
    if finished:
        _finished(sheet, 112, pin_to_pin_mm, bearing_to_sleeve_mm)
    straight = pin_to_pin_mm - 2 * bearing_to_sleeve_mm
    draw_rope(sheet, f"M24 {y}H318", d)
    draw_rope(sheet, f"M372 {y}H666", d)
    for x in (24, 666):
        draw_end(sheet, x, y, d)
    for x in (318, 372):
        sheet.path(f"M{x} {y - 22}q8 11 0 22t0 22", width=3)
    stops = (24, 88, 172, 268)
    for side in (0, 1):
        at = [690 - x if side else x for x in stops]
        for x in at[1:]:
            sheet.line(x, y - 20, x, y + 20, stroke=RUST, width=4)
        for (a, b), words in zip(zip(at, at[1:]), (f"tail\n{millimetres(tail_mm, 1)}", f"sleeve\n{millimetres(sleeve_before_mm, 1)}",
                                                   f"loop\n{millimetres(loop_mm, 1)}")):
            low, high = sorted((a, b))
            sheet.measure(low, high, y - 42, "", drop=20)
            for row, line in enumerate(words.split("\n")):
                sheet.text((a + b) / 2, y - 80 + 20 * row, line, anchor="middle", weight=600)
    sheet.measure(268, 422, y + 46, f"between the sleeves {millimetres(straight, 1)}", above=False, drop=-24, colour=DEEP)
    whole = f"cut length {millimetres(total_mm, 1)}" if total_mm else "cut length"
    sheet.measure(24, 666, y + 112, whole, above=False, drop=-100, colour=DEEP, size=18)
    sheet.text(345, 26 + top, "pen marks on the straight cable (not to scale)", anchor="middle", colour=QUIET)
    alt = (f"A {name} in cable laid straight with pen marks. From each end: tail {millimetres(tail_mm, 1)}, sleeve "
           f"{millimetres(sleeve_before_mm, 1)}, loop {millimetres(loop_mm, 1)}; between the two sleeves "
           f"{millimetres(straight, 1)}." + (f" Cut length {millimetres(total_mm, 1)}." if total_mm else ""))
    if finished:
        alt = (f"Above, the finished piece on its two pins: pin to pin {millimetres(pin_to_pin_mm, 1)}, and at each end "
               f"{millimetres(bearing_to_sleeve_mm, 1)} from where the pin bears to the sleeve. Below: {alt}")
    return sheet.figure(alt)


def _finished(sheet: Drawing, y: float, pin_to_pin_mm: float, bearing_to_sleeve_mm: float) -> None:
    """The piece on its pins, drawn once and mirrored; where a pin bears is the inside of the thimble's round end."""
    bearing, mouth, length, d = 44, 150, 84, 15
    half = Drawing(690, 1)
    draw_rope(half, f"M{mouth} {number(y - 7.5)}H318", d)
    draw_rope(half, f"M{mouth} {number(y + 7.5)}H{mouth + length + 8}", d)
    draw_end(half, mouth + length + 8, y + 7.5, d)
    draw_loop(half, bearing, mouth, y, d, 33, 7.5)
    draw_sleeve_side(half, mouth, y, length, d, _centres(mouth, length, 3), 22)
    half.circle(bearing + 13, y, 13, fill="jaw", width=2.5)
    half.path(f"M318 {y - 20}q8 11 0 20t0 20", width=3)
    shapes = "".join(half.parts)
    sheet.add(f'<g>{shapes}</g><g transform="translate(690 0) scale(-1 1)">{shapes}</g>')
    sheet.text(345, 20, "the finished piece on its pins", anchor="middle", colour=QUIET)
    sheet.measure(bearing, 690 - bearing, y - 56, f"pin to pin {millimetres(pin_to_pin_mm, 1)}", colour=DEEP, drop=50, size=18)
    for a, b in ((bearing, mouth), (690 - mouth, 690 - bearing)):
        sheet.measure(a, b, y + 54, f"bearing to sleeve {millimetres(bearing_to_sleeve_mm, 1)}", above=False, drop=-50,
                      anchor="start" if a == bearing else "end")
