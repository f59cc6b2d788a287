"""Working load limits worked by hand and typed in: strength of AC 43.13-1B Table 7-3 x 0.90 / factor, rounded down, lbf.

Galvanised and stainless 7x19; 1/16 the same as 7x7. Factors 5, 8 and 10 are examples of named persons' factors, no rule.
"""

import pytest

from rigcalc.cable import breaking_force
from rigcalc.rating import DesignFactor, limit, working_load_limit_n
from rigcalc.units import in_unit, round_to

# worked by hand: size, then (galvanised, stainless) for a factor of 5, of 8, of 10
LIMITS = (
    ("1/16", (86, 86), (54, 54), (43, 43)),
    ("3/32", (180, 165), (112, 103), (90, 82)),
    ("1/8", (360, 316), (225, 198), (180, 158)),
    ("5/32", (504, 432), (315, 270), (252, 216)),
    ("3/16", (756, 666), (472, 416), (378, 333)),
    ("1/4", (1260, 1152), (787, 720), (630, 576)),
    ("5/16", (1764, 1620), (1102, 1012), (882, 810)),
    ("3/8", (2592, 2160), (1620, 1350), (1296, 1080)),
)


@pytest.mark.parametrize("size, by_5, by_8, by_10", LIMITS)
def test_limits_rounded_down(size, by_5, by_8, by_10):
    # worked by hand from AC 43.13-1B Table 7-3, 0.90 common practice
    for value, expected in ((5, by_5), (8, by_8), (10, by_10)):
        factor = DesignFactor(value, "a named person", "2026-01-12", "static, nobody can be there")
        for metal, lbf in zip(("galvanised", "stainless"), expected):
            found = limit(breaking_force(size, "7x19", metal), factor, "nobody")
            assert found.shown_us.startswith(f"{lbf} lbf [")


# worked by hand: what goes wrong with 1/8 7x19 galvanised (2000 lbf, 0.90, 5 -> 360), and what it then gives, lbf
WRONG = (
    ("efficiency left out", 2000, 1.0, 5, 400),
    ("multiplied by the factor", 2000, 0.9, 0.2, 9000),
    ("efficiency twice", 2000, 0.81, 5, 324),
    ("divided by the efficiency", 2000, 1 / 0.9, 5, 444),
    ("galvanised strength for stainless", 1760, 0.9, 5, 316),
    ("coated outside as size, 3/16 for 3/32", 4200, 0.9, 5, 756),
    ("nothing wrong", 2000, 0.9, 5, 360),
    ("3/32 7x7 bare core", 920, 0.9, 5, 165),
)


@pytest.mark.parametrize("what, strength, share, factor, lbf", WRONG)
def test_what_goes_wrong_gives_what_was_worked_by_hand(what, strength, share, factor, lbf):
    # worked by hand, pound-force 4.4482216152605 N exact by definition
    force_n = working_load_limit_n(strength * 4.4482216152605, share, factor)
    assert round_to(in_unit(force_n, "lbf"), 1, "down") == lbf
