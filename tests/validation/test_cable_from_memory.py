"""As shipped, from memory: kept from drifting, accepts nothing.

No source was read for these figures. The transcript only notices when one of them changes by mistake. (Where a
row rests on judgement, it says so.) What a calculation says about them is tested beside it.
"""

import pytest

from rigcalc.cable import construction
from rigcalc.reference import constant, table

# MIL-DTL-83420 Table I: size, construction, pounds for 100 feet
MASSES = (("3/64", "7x7", 0.42), ("1/16", "7x7", 0.75), ("1/16", "7x19", 0.75), ("3/32", "7x7", 1.6), ("3/32", "7x19", 1.74),
          ("1/8", "7x19", 2.9), ("5/32", "7x19", 4.5), ("3/16", "7x19", 6.5), ("7/32", "7x19", 8.6), ("1/4", "7x19", 11.0),
          ("9/32", "7x19", 13.9), ("5/16", "7x19", 17.3), ("11/32", "7x19", 20.7), ("3/8", "7x19", 24.3))
# a users manual's bending curve: bend over cable diameter, per cent of the straight strength
BEND = {1: 50, 2: 65, 4: 75, 6: 79, 8: 83, 10: 86, 15: 89, 20: 91, 30: 93, 40: 95}
# EN 1993-1-11 Table 3.1 and a users manual (13.5, 15.0, 10.8 and 12.0 Mpsi): GPa
MODULI = {("7x7", "carbon", "EN 1993-1-11"): (90, 110), ("7x7", "stainless", "EN 1993-1-11"): (80, 100),
          ("7x19", "carbon", "wire rope users manual"): (93.1, 103.4), ("7x19", "carbon", "EN 1993-1-11"): (90, 110),
          ("7x19", "stainless", "EN 1993-1-11"): (80, 100), ("1x7", "carbon", "EN 1993-1-11"): (140, 160),
          ("1x7", "stainless", "EN 1993-1-11"): (120, 140), ("1x19", "carbon", "EN 1993-1-11"): (140, 160),
          ("1x19", "stainless", "EN 1993-1-11"): (120, 140), ("6x7", "carbon", "EN 1993-1-11"): (70, 90),
          ("6x19", "carbon", "wire rope users manual"): (74.5, 82.7), ("6x19", "carbon", "EN 1993-1-11"): (70, 90)}


def test_masses():
    assert tuple((row.size, row.construction, row.lb_per_100ft) for row in table("cable_mass")) == MASSES
    assert {row.how_known for row in table("cable_mass")} == {"from memory"}


def test_the_bend_curve():
    assert {row.bend_ratio: row.share_percent for row in table("bend_curve")} == BEND
    assert {row.how_known for row in table("bend_curve")} == {"from memory"}


def test_moduli():
    remembered = [row for row in table("elastic_moduli") if row.how_known == "from memory"]
    assert {(row.construction, row.metal, row.source): (row.low_gpa, row.high_gpa) for row in remembered} == MODULI


def test_stretch_tolerances_and_stainless_warmth():
    assert {row.core: (row.low_percent, row.high_percent, row.how_known) for row in table("constructional_stretch")} == {
        "strand": (0.25, 0.5, "from memory"), "fibre": (0.5, 0.75, "from memory")}
    assert [(row.nominal_mm, row.plus_percent) for row in table("metric_sizes") if row.how_known == "from memory"] == [
        (2, 8), (3, 8), (4, 7), (5, 7)]
    stainless = next(row for row in table("thermal_expansion") if row.metal == "stainless")
    assert (stainless.low_per_million_c, stainless.high_per_million_c, stainless.how_known) == (16, 18, "from memory")


@pytest.mark.parametrize("name", ["1x7", "1x19", "6x7", "6x19"])
def test_lays_taken_for_drawing(name):
    built = construction(name)  # judgement: as for the strands of 7x7
    assert (built.least_lay, built.most_lay, built.how_known, built.lay_known) == (6, 8, "judgement", "judgement")


def test_the_bounds_that_are_judgement():
    assert (constant("smallest EN diameter").value, constant("highest elastic stress").value) == (1, 900)
