"""A stiff frame on four plumb legs, seen from above at a slant; and a mast with its stays seen from above, pull as width."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from rigcalc.figures.drawing import COAT, DEEP, INK, PAPER, QUIET, RUST, Drawing, Figure
from rigcalc.figures.pulls import Pointed, anchored, as_part, cable, key, lettered, slack_cable

__all__ = ["hung_frame", "stays_in_the_wind"]

X, Y = (0.145, -0.012), (0.105, -0.062)  # px for a mm along and a mm across


def hung_frame(feet_mm: Sequence[tuple[float, float]], names: Sequence[str], pulls_n: Sequence[float | None], most_n: Sequence[float],
               shown: Sequence[str], centre_mm: tuple[float, float], load: str, full_n: float, full: str, length: Callable[[float], str],
               pointed: Pointed | None = None, chosen: str = "", caption: str = "") -> Figure:
    """A stiff frame on plumb legs at its corners, each as thick as it pulls, pale the most that it may get.

    `feet_mm` and `centre_mm`: corners, in their order round, and centre of mass, (x, y) in mm. `pulls_n`: None draws a plain thin leg
    (no figure yet); 0 with a most of 0 is slack. `shown`: a leg's figure in words. `length` says a length in mm in words. `pointed` makes legs pointable.
    """
    sheet = Drawing(700, 400)

    def at(point: tuple[float, float], up: float = 0.0) -> tuple[float, float]:
        return 150 + point[0] * X[0] + point[1] * Y[0], 316 + point[0] * X[1] + point[1] * Y[1] - up

    corners = [at(foot) for foot in feet_mm]
    sheet.shape(corners, fill=COAT, width=3)
    cx, cy = at(centre_mm)
    sheet.circle(cx, cy, 7, fill=PAPER, stroke=RUST, width=3.5)
    sheet.arrow(cx, cy + 8, cx, cy + 62, colour=RUST, width=4, head=12)
    sheet.text(cx + 12, cy + 58, load, size=16, weight=600, colour=RUST, halo=True)
    order = sorted(range(len(names)), key=lambda i: corners[i][1])
    for i in order:
        (x, y), (tx, ty) = corners[i], at(feet_mm[i], 178.0)

        def leg(i=i, x=x, y=y, tx=tx, ty=ty) -> None:
            if pulls_n[i] is None:
                sheet.line(x, y, tx, ty, stroke=QUIET, width=4)
            elif not most_n[i]:
                slack_cable(sheet, tx, ty, x, y)
            else:
                cable(sheet, ((tx, ty), (x, y)), pulls_n[i], full_n, most_n[i])
            anchored(sheet, tx, ty)
            lettered(sheet, tx, ty - 26, names[i], names[i] == chosen)

        as_part(sheet, pointed, names[i], f"Leg {names[i]}", leg)
        right = i > 1  # beside the two at the back, where nothing stands
        sheet.text(x + (22 if right else -22), ty + (100 if i == 1 else 40), shown[i], size=15, weight=600, anchor="start" if right else "end", halo=True)
    if any(pull is not None for pull in pulls_n):
        key(sheet, 690, 386, full_n, full)
    told = " ".join(f"Leg {name}: {words.replace(chr(10), ', ')}." for name, words in zip(names, shown) if words)
    return sheet.figure(f"A stiff frame, {load}, on {len(names)} plumb legs at its corners, seen at a slant; its centre of mass is "
                        f"{length(centre_mm[0])} along and {length(centre_mm[1])} across from corner {names[0]}. {told}", caption)


def stays_in_the_wind(names: Sequence[str], towards_rad: Sequence[float], pulls_n: Sequence[float | None], shown: Sequence[str], wind_from_rad: float,
                      full_n: float, full: str, pointed: Pointed | None = None, chosen: str = "", caption: str = "") -> Figure:
    """A mast seen from above, the wind as an arrow, each stay as thick as it pulls; a pull of None draws it plain (not said yet)."""
    sheet, x, y, far = Drawing(700, 462), 350.0, 205.0, 140.0

    def polar(out: float, turn: float) -> tuple[float, float]:
        return x + out * math.cos(turn), y - out * math.sin(turn)

    for name, turn, pull, words in zip(names, towards_rad, pulls_n, shown):
        px, py = polar(far, turn)

        def stay(name=name, turn=turn, pull=pull, px=px, py=py) -> None:
            if pull is None:
                sheet.line(x, y, px, py, stroke=QUIET, width=5)
            elif pull == 0:
                slack_cable(sheet, x, y, px, py)
            else:
                cable(sheet, ((x, y), (px, py)), pull, full_n)
            anchored(sheet, px, py)
            lettered(sheet, *polar(far + 30, turn), name, name == chosen)

        as_part(sheet, pointed, name, f"Stay {name}", stay)
        tx, ty = polar(far + 30, turn)
        right = math.cos(turn) > 0.2 or (abs(math.cos(turn)) <= 0.2 and math.cos(wind_from_rad) <= 0)
        sheet.text(tx + (24 if right else -24), ty + 5, words, size=16, weight=600, anchor="start" if right else "end", halo=True)
    sheet.circle(x, y, 14, fill=PAPER, stroke=INK, width=4)
    sheet.arrow(*polar(196, wind_from_rad), *polar(40, wind_from_rad), colour=DEEP, width=6, head=20)
    wx, wy = polar(204, wind_from_rad + 0.16)
    sheet.text(wx, wy, "wind", size=18, anchor="middle", weight=700, colour=DEEP, halo=True)
    if any(pull is not None for pull in pulls_n):
        key(sheet, 690, 448, full_n, full)
    told = " ".join(f"Stay {name}: {words}." for name, words in zip(names, shown) if words)
    return sheet.figure(f"A mast seen from above with {len(names)} stays; the wind comes from {math.degrees(wind_from_rad):.0f} degrees, counted against "
                        f"the clock from the right. {told}", caption)
