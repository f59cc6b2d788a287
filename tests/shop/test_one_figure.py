"""One quantity reads one way on one sheet, in both unit systems, with the shop's own unit first."""

from __future__ import annotations

import dataclasses
import re
import sys
from datetime import date
from pathlib import Path

import pytest

from rigcalc._order_figures import own_unit_first
from rigcalc.assembly import job_sheet
from rigcalc.shop import load_shop, sample_shop_path
from rigcalc.shop.order_file import read_order_file
from rigcalc.shop.sheet import as_text

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
from test_orders import FOLDER, MADE  # noqa: E402

SHOP = load_shop(sample_shop_path())
DAY = date(2026, 11, 25)
NUMBER = r"-?[0-9]+(?:\.[0-9]+)?(?:/[0-9]+)?(?: [0-9]+/[0-9]+)?"
BOTH = re.compile(rf"(?<![\w.,/-])({NUMBER}) (in|ft|lbf|lb|mm|m|N|kN|kg) \[({NUMBER}) (in|ft|lbf|lb|mm|m|N|kN|kg)\]")
# What a lot must reach is rounded up, and the same force as a step of the limit down: two roles, and each says so.
NEEDED = re.compile(rf"{NUMBER} (?:lbf|N|kN) \[{NUMBER} (?:lbf|N|kN)\](?=: 90 % of the breaking force, rounded up| needed)")
US = ("in", "ft", "lbf", "lb")
# How near two figures must lie to be one quantity shown twice: a step of either unit at the sizes on a sheet.
NEAR = {"lbf": 1.01, "N": 1.01, "kN": 0.0101}


def text_of(name, system, **changes):
    order = dataclasses.replace(read_order_file(str(FOLDER / f"{name}.toml")), **changes)
    return " ".join(as_text(job_sheet(order, dataclasses.replace(SHOP, system=system), DAY)).split())


def pairs(text):
    """Every figure shown in both systems, US first whatever the sheet has."""
    found = set()
    for one, unit, other, second in BOTH.findall(NEEDED.sub("", text)):
        found.add((one, unit, other, second) if unit in US else (other, second, one, unit))
    return found


@pytest.mark.parametrize("system", ["US", "SI"])
@pytest.mark.parametrize("name", MADE)
@pytest.mark.parametrize("changes", [{}, {"proof": "yes"}])
def test_no_quantity_has_two_renderings(name, system, changes):
    if changes and name == "07_bird_net_ring":
        changes = {"proof": "no"}
    seen_us, seen_si = {}, {}
    for one, unit, other, second in sorted(pairs(text_of(name, system, **changes))):
        assert seen_us.setdefault((one, unit), (other, second)) == (other, second), f"{one} {unit} is {seen_us[one, unit]} and {other} {second}"
        if (one, other) in (("798", "3.55"), ("800", "3.55")):  # the least reading of the instrument and the mark on the turnbuckle
            continue
        assert seen_si.setdefault((other, second), (one, unit)) == (one, unit), f"{other} {second} is {seen_si[other, second]} and {one} {unit}"


@pytest.mark.parametrize("system", ["US", "SI"])
@pytest.mark.parametrize("name", MADE)
def test_no_force_stands_a_step_beside_itself(name, system):
    forces = {(float(one), float(other), second) for one, unit, other, second in pairs(text_of(name, system, proof=None)) if unit == "lbf"}
    for one, other, unit in forces:
        for again, beside, same in forces:
            if unit == same and (one, other) != (again, beside) and abs(one - again) < NEAR["lbf"] and abs(other - beside) < NEAR[unit]:
                # The level pull of a span and the pull at its end are two quantities.
                assert "Level pull" in text_of(name, system) and {one, again} <= {66.1, 66.5, 67.5, 67.6}, (one, again)


@pytest.mark.parametrize("system, eyes, last, needed", [
    ("SI", "1.92 kN [432 lbf]", "320 N [71 lbf] (stated in N; that is 71.9 lbf, rounded down too)", "1.93 kN [432 lbf]"),     # 2135.15 N x 0.90 = 1921.63 N
    ("US", "432 lbf [1.92 kN]", "72 lbf [320 N]", "432 lbf [1.93 kN]")])
def test_no_step_of_a_limit_is_rounded_up_and_its_last_says_how_it_became_the_heading(system, eyes, last, needed):
    made = job_sheet(read_order_file(str(FOLDER / "08_lanyards.toml")), dataclasses.replace(SHOP, system=system, factors=(dataclasses.replace(SHOP.factors[0], value=6),)), DAY)
    assert eyes in made.limit_working[1] and made.limit_working[2].endswith(f": {last}") and f"must reach {needed}: 90 %" in " ".join(made.release)
    assert made.limit_shown == last.partition(" (")[0] and f"limit {made.limit_shown}, straight" in made.tag[2]


@pytest.mark.parametrize("name", MADE)
def test_the_shop_s_own_unit_stands_first_everywhere(name):
    for system in ("US", "SI"):
        for _, unit, _, _ in BOTH.findall(text_of(name, system)):
            assert (unit in US) == (system == "US"), unit


@pytest.mark.parametrize("name", MADE)
def test_a_sheet_says_the_same_in_both_systems(name):
    # The limit alone is stated in the shop's own unit, rounded down in it, and what hangs on it may differ by that step.
    us, si = pairs(text_of(name, "US")), pairs(text_of(name, "SI"))
    assert not {pair for pair in us ^ si if pair[1] != "lbf"}


def test_a_figure_is_turned_and_what_is_no_figure_is_left():
    assert own_unit_first("1 3/16 in [30 mm], 0.69 in [17.6 mm] and -1/2 in [-13 mm]", "SI") == "30 mm [1 3/16 in], 17.6 mm [0.69 in] and -13 mm [-1/2 in]"
    assert own_unit_first(("880 N [198 lbf]", 3), "US") == ("198 lbf [880 N]", 3)
    assert own_unit_first("[[piece]] 3 in [x mm] reel R5 [ ]", "SI") == "[[piece]] 3 in [x mm] reel R5 [ ]"
