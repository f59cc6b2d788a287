"""The pressed sleeve keeps its metal, and air stands only where it stands in the craft."""

from __future__ import annotations

from math import pi

import pytest

from rigcalc.figures import press
from rigcalc.figures.press import Press


def area(points) -> float:
    """Area of a shape by the surveyor's rule, independent of how it was made."""
    pairs = zip(points, points[1:] + points[:1])
    return abs(sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in pairs)) / 2


def test_rosette_has_crowns_at_the_diameter_and_valleys_where_two_strands_touch():
    assert press.rosette(0) == pytest.approx(1 / 2)
    assert press.rosette(pi / 6) == pytest.approx(3 ** 0.5 / 6)
    assert press.rosette(0, 4.0) == pytest.approx(2.0)


def test_rosette_area_is_six_strands_the_hexagon_between_them_and_nothing_else():
    # Hexagon through the six strands' centres, plus two thirds of each strand outside it.
    side, strand = 1 / 3, 1 / 6
    expected = 1.5 * 3 ** 0.5 * side ** 2 + 6 * (2 / 3) * pi * strand ** 2
    assert press.rosette_area() == pytest.approx(expected, rel=1e-3)


@pytest.mark.parametrize("growth", [1.2, 4 / 3, 1.5])
def test_metal_of_the_closed_crimp_is_that_of_the_open_one_less_the_growth(growth):
    opened, closed = Press(0.0, growth=growth), Press(1.0, growth=growth)
    neck = 2 * opened.half_neck * (2 * opened.leg_centre - 2 * (press.BORE ** 2 - opened.half_neck ** 2) ** 0.5)
    metal = area(opened.outline()) - sum(map(area, opened.bores())) - neck
    legs = 2 * press.rosette_area()
    assert (area(closed.outline()) - legs) * growth == pytest.approx(metal, rel=0.02)


def test_air_is_gone_round_right_legs_and_stays_round_thin_ones():
    assert Press(1.0).void_share() == pytest.approx(0, abs=0.01)
    assert Press(0.0).void_share() > 0.3
    assert Press(1.0, "too small").void_share() == pytest.approx(2 * (1 - 0.75 ** 2) / 2, abs=0.02)


def test_closing_is_steady_and_the_outside_says_nothing_of_the_inside():
    gaps = [Press(s / 10).half_gap for s in range(11)]
    assert gaps == sorted(gaps, reverse=True) and gaps[-1] == 0
    assert Press(1.0, "bare").outline() == Press(1.0, "coated").outline() == Press(1.0, "too small").outline()


def test_closed_legs_touch_and_lie_inside_the_crimp():
    closed = Press(1.0)
    assert closed.leg_centre == pytest.approx(0.5 * closed.squeeze[1])
    assert 2 * closed.leg_centre < closed.closed_radius
