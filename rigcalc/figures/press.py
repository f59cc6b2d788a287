"""The shape of a sleeve between open and closed jaws, in units of the cable's diameter d.

A sketch that keeps the metal: the closed section holds as much sleeve metal as the open one, less what
went into the sleeve's growth. It illustrates; nothing is rated or gauged by it.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import acos, asin, cos, hypot, pi, sin, sqrt

__all__ = ["Press", "rosette", "rosette_area", "CONTENTS"]

CONTENTS = ("bare", "coated", "too small")
LOBE, APART, BORE, NECK = 1.15, 1.2, 0.55, 0.28  # outer radius, between centres, bore radius, half neck
STEPS = 120


def rosette(angle: float, diameter: float = 1.0) -> float:
    """How far from the cable's centre its outside lies at an angle: crowns at 0, valleys at 30 degrees."""
    around, strand = diameter / 3, diameter / 6
    turn = (angle + pi / 6) % (pi / 3) - pi / 6
    return around * cos(turn) + sqrt(max(strand ** 2 - (around * sin(turn)) ** 2, 0))


@lru_cache(maxsize=64)
def rosette_area(diameter: float = 1.0) -> float:
    """Area inside the outline of six strands round one, in d²."""
    return sum(rosette(2 * pi * i / 720, diameter) ** 2 for i in range(720)) * pi / 720


def _ray_to_circle(angle: float, centre_y: float, radius: float) -> float:
    """Distance from the origin to a circle about (0, centre_y) along a ray, from inside it."""
    return centre_y * sin(angle) + sqrt(max(radius ** 2 - (centre_y * cos(angle)) ** 2, 0))


def open_outline(angle: float) -> float:
    """The outside of the open hourglass, long axis upright."""
    return max(_ray_to_circle(angle, APART / 2, LOBE), _ray_to_circle(angle, -APART / 2, LOBE))


def open_metal() -> float:
    """Sleeve metal in the open section, in d²: outside less two bores and the neck between them."""
    lens = 2 * LOBE ** 2 * acos(APART / (2 * LOBE)) - APART / 2 * sqrt(4 * LOBE ** 2 - APART ** 2)
    half = BORE * cos(asin(NECK / BORE))
    neck = 2 * NECK * (APART - 2 * half) - (BORE ** 2 * (2 * asin(NECK / BORE)) - 2 * half * NECK)
    return 2 * pi * LOBE ** 2 - lens - 2 * pi * BORE ** 2 - neck


@dataclass(frozen=True)
class Press:
    """One sleeve at one stage of closing.

    Parameters
    ----------
    stage : float
        0 open, 1 jaws closed.
    content : str
        One of `CONTENTS`.
    growth : float
        Sleeve length after over length before, a ratio (the shop's own means).
    small : float
        Diameter of the cable that is too small over the right one, or of the core over the coat.
    """

    stage: float
    content: str = "bare"
    growth: float = 4 / 3
    small: float = 0.75

    @property
    def closed_radius(self) -> float:
        """Radius of the closed crimp, in d: the metal left after growth, round two right legs."""
        return sqrt((open_metal() / self.growth + 2 * rosette_area()) / pi)

    @property
    def leg_centre(self) -> float:
        """Distance of each leg's centre from the middle, in d."""
        return self._mix(APART / 2, 0.47)

    @property
    def squeeze(self) -> tuple[float, float]:
        """How the legs are pressed: across and along the closing, ratios."""
        return self._mix(1, 1.05), self._mix(1, 0.94)

    @property
    def half_gap(self) -> float:
        """Half the gap between the jaw faces, in d."""
        return (open_outline(pi / 2) - self.closed_radius) * (1 - self.stage)

    def outline(self) -> list[tuple[float, float]]:
        """The sleeve's outside."""
        return _round(lambda a: self._mix(open_outline(a), self.closed_radius))

    def bores(self) -> list[list[tuple[float, float]]]:
        """The two bores: what is not cable inside them is air."""
        (sx, sy), c = self.squeeze, self.leg_centre
        one = [(x * sx, y * sy) for x, y in _round(self._bore)]
        return [[(x, y - c) for x, y in one], [(x, y + c) for x, y in one]]

    @property
    def half_neck(self) -> float:
        """Half the width of the neck between the bores, in d; gone when closed."""
        return NECK * max(0.0, 1 - 1.25 * self.stage)

    @property
    def leg_diameter(self) -> float:
        """Diameter of the cable (or the core) in the sleeve, in d."""
        return 1.0 if self.content == "bare" else self.small

    def void_share(self) -> float:
        """Air left between sleeve and cable, as a share of the two right legs' area (0 when all is filled)."""
        bore = _area(_round(self._bore))
        held = pi / 4 if self.content == "coated" else rosette_area(self.leg_diameter)
        return max(0.0, (bore - held) / rosette_area())

    def _bore(self, angle: float) -> float:
        closed = {"bare": rosette(angle + pi / 6), "coated": 0.5,
                  "too small": sqrt(rosette_area() / pi)}[self.content]
        return self._mix(BORE, closed)

    def _mix(self, first: float, last: float) -> float:
        return first + (last - first) * self.stage


def _round(radius) -> list[tuple[float, float]]:
    angles = [2 * pi * i / STEPS for i in range(STEPS)]
    return [(radius(a) * cos(a), radius(a) * sin(a)) for a in angles]


def _area(points) -> float:
    return sum(hypot(x, y) ** 2 for x, y in points) * pi / len(points)
