"""Held against the anodic index, its guideline of three limits, and the seawater potentials, all read second-hand.

The figures are this file's own transcript and never read from the package. The pairs were worked by hand: the difference of
the two indices against each limit.
"""

import pytest

from rigcalc.galvanic import CABLE_SURFACE, SLEEVE_SURFACE, sea_potential, voltage_rule
from rigcalc.reference import table

# anodic index in the lineage of MIL-STD-889 and MIL-F-14072: surface, volts below gold
INDEX = {"copper": 0.35, "stainless steel": 0.50, "tin plating": 0.60, "tin plate": 0.65, "bare carbon steel": 0.85, "aluminium": 0.90,
         "hot-dip zinc": 1.20, "zinc plating": 1.25}
# its guideline: environment, greatest difference in volts
LIMITS = {"harsh": 0.15, "normal": 0.25, "controlled": 0.50}
# flowing seawater, volts against the saturated calomel electrode: low, high
SEA = {"zinc": (-1.03, -0.98), "aluminium alloys": (-1.0, -0.76), "bare carbon steel": (-0.72, -0.6), "stainless 304, active": (-0.58, -0.44),
       "stainless 316, active": (-0.46, -0.33), "tin": (-0.33, -0.3), "copper": (-0.37, -0.3), "stainless 304, passive": (-0.1, -0.04),
       "stainless 316, passive": (-0.1, 0.0)}
# worked by hand: cable, sleeve, difference, anode, passes in (harsh, normal, controlled)
PAIRS = (
    ("galvanised", "aluminium", 0.30, "cable", (False, False, True)), ("galvanised", "plain copper", 0.85, "cable", (False, False, False)),
    ("galvanised", "zinc-plated copper", 0.05, "sleeve", (True, True, True)), ("galvanised", "tin-plated copper", 0.60, "cable", (False, False, False)),
    ("galvanised", "stainless", 0.70, "cable", (False, False, False)), ("stainless", "aluminium", 0.40, "sleeve", (False, False, True)),
    ("stainless", "plain copper", 0.15, "cable", (True, True, True)), ("stainless", "zinc-plated copper", 0.75, "sleeve", (False, False, False)),
    ("stainless", "tin-plated copper", 0.10, "sleeve", (True, True, True)), ("stainless", "stainless", 0.0, "neither", (True, True, True)),
    ("bright", "aluminium", 0.05, "sleeve", (True, True, True)), ("bright", "plain copper", 0.50, "cable", (False, False, True)),
    ("bright", "zinc-plated copper", 0.40, "sleeve", (False, False, True)), ("bright", "tin-plated copper", 0.25, "cable", (False, True, True)),
    ("bright", "stainless", 0.35, "cable", (False, False, True)),
)


def test_the_index():
    assert {row.surface: float(row.index_v) for row in table("anodic_index")} == INDEX
    assert {row.how_known for row in table("anodic_index")} == {"read, second-hand"}
    assert {*CABLE_SURFACE.values(), *SLEEVE_SURFACE.values()} <= set(INDEX)


def test_the_limits():
    assert {row.environment: float(row.most_v) for row in table("anodic_limits")} == LIMITS


def test_the_seawater_series():
    assert {row.surface: (float(row.low_v), float(row.high_v)) for row in table("galvanic_series")} == SEA
    for surface, pair in SEA.items():
        assert (sea_potential(surface).low_v, sea_potential(surface).high_v) == pair


@pytest.mark.parametrize("cable, sleeve, gap, anode, passes", PAIRS)
def test_each_pair_against_each_limit(cable, sleeve, gap, anode, passes):
    for (environment, most), expected in zip(LIMITS.items(), passes):
        rule = voltage_rule(cable, sleeve, "dry", environment)
        assert (rule.gap_v, rule.most_v, rule.anode, rule.passes) == (gap, most, anode, expected)


def test_every_pair_was_worked():
    assert {pair[:2] for pair in PAIRS} == {(cable, sleeve) for cable in CABLE_SURFACE for sleeve in SLEEVE_SURFACE}


def test_the_two_scales_agree_on_the_anode_except_where_stainless_is_passive():
    """The index puts stainless a little below copper; the sea puts passive stainless above it and active stainless below."""
    middle = {surface: sum(pair) / 2 for surface, pair in SEA.items()}
    named = {"copper": "copper", "bare carbon steel": "bare carbon steel", "aluminium": "aluminium alloys", "hot-dip zinc": "zinc"}
    order = sorted(named, key=lambda surface: INDEX[surface])
    assert order == sorted(named, key=lambda surface: -middle[named[surface]])
    assert INDEX["stainless steel"] > INDEX["copper"]
    assert middle["stainless 304, active"] < middle["copper"] < middle["stainless 304, passive"]
