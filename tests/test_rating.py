"""Limits, classes of use, and who answers for a factor."""

import inspect
import math
from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigcalc import _efficiency, fittings, proof, rating, rating_arrays
from rigcalc.cable import breaking_force, en_breaking_force_n
from rigcalc.cautions import CAUTIONS
from rigcalc.errors import Refusal
from rigcalc.published import published_factors
from rigcalc.rating import (
    CLASSES,
    EFFICIENCY_CONDITIONS,
    Conditions,
    DesignFactor,
    class_of_use,
    efficiency,
    limit,
    load_from_mass_n,
    pulled_share,
    refuse_temperature,
    required_breaking_force_n,
    uses,
    working_load_limit_n,
)
from rigcalc.units import LBF_N, show_force

FORCE = breaking_force("1/8", "7x19", "galvanised")
SHOP = DesignFactor(5, "Ines Varrow", "2026-01-12", "static, nobody can be there")
DESIGNER = DesignFactor(8, "Q. Person", "2026-02-02", "the lantern over the lane, this order only")


def newtons(lbf: float) -> float:
    return lbf * float(LBF_N)


# --- the sum ------------------------------------------------------------------------------------

@given(st.integers(1, 20000), st.integers(2, 20))
def test_strength_times_efficiency_divided_by_factor_once(lbf, factor):
    assert working_load_limit_n(newtons(lbf), 0.9, factor) == pytest.approx(newtons(lbf) * 0.9 / factor, rel=1e-12)


@pytest.mark.parametrize("parts", [(0, 0.9, 5), (100, 0, 5), (100, 0.9, 0), (-1, 0.9, 5), (100, 0.9, math.nan), (math.inf, 0.9, 5), ("100", 0.9, 5)])
def test_the_sum_needs_figures_above_zero(parts):
    for work in (working_load_limit_n, required_breaking_force_n):
        with pytest.raises(Refusal):
            work(*parts)


@given(st.integers(1, 5000), st.sampled_from([2, 3, 5, 6, 7, 8, 9, 10, 12]))
def test_limit_down_and_required_strength_up_agree_with_exact_fractions(lbf, factor):
    down = Fraction(lbf * 9, 10 * factor)
    shown = show_force(working_load_limit_n(newtons(lbf), 0.9, factor), direction="down")
    assert int(shown.split(" lbf")[0]) == math.floor(down)
    newton = down * LBF_N
    metric = f"{math.floor(newton / 10) / 100:.2f} kN" if newton >= 1000 else f"{math.floor(newton)} N"
    assert shown.endswith(f"[{metric}]")
    up = show_force(required_breaking_force_n(newtons(lbf), 0.9, factor), direction="up")
    assert int(up.split(" lbf")[0]) == math.ceil(Fraction(lbf * factor * 10, 9))


def test_a_limit_names_who_answers_for_it_and_how_it_was_worked():
    found = limit(FORCE, SHOP, "nobody")
    assert (found.shown_us, found.shown_si) == ("360 lbf [1.60 kN]", "1.60 kN [359 lbf]")
    assert (found.owner, found.scope, found.set_on, found.factor, found.use) == ("Ines Varrow", SHOP.scope, "2026-01-12", 5, "nobody")
    assert found.cautions == CAUTIONS and found.conditions == EFFICIENCY_CONDITIONS
    assert found.working == (
        "breaking force 2000 lbf [8.90 kN], AC 43.13-1B, Table 7-3, p 7-28",
        "times 0.90 for the eyes, once: 1800 lbf [8.00 kN]",
        "divided by 5, set by Ines Varrow on 2026-01-12 for static, nobody can be there: 360 lbf [1.60 kN]")


def test_a_limit_is_rounded_down_and_loads_are_held_against_what_is_stated():
    weak = breaking_force("3/32", "7x19", "stainless")
    found = limit(weak, SHOP, "nobody")
    assert found.working[-1].endswith("165 lbf [733 N] (stated in lbf; that is 733.9 N, rounded down too)")  # and by the sum 736 N
    assert found.shown_us == "165 lbf [733 N]"  # 165 lbf are 733.96 N: the bracket is the stated figure turned, not the finer sum
    assert found.force_n == pytest.approx(newtons(165.6))
    assert found.stated_n == pytest.approx(newtons(165))
    assert limit(weak, SHOP, "nobody", system="SI").stated_n == 736
    assert limit(weak, SHOP, "nobody", design_load_n=newtons(165)).stated_n == pytest.approx(newtons(165))
    with pytest.raises(Refusal, match="the design load 166 lbf .* at most 165 lbf"):
        limit(weak, SHOP, "nobody", design_load_n=newtons(165.3))
    with pytest.raises(Refusal, match=r"the design load 300 lbf \[1.33 kN\]"):  # as everywhere else: a whole figure is not rounded up in its brackets
        limit(weak, SHOP, "nobody", design_load_n=newtons(300))


def test_the_charts_own_efficiency_can_stand_in():
    assert limit(FORCE, SHOP, "nobody", share=0.8).shown_us == "320 lbf [1.42 kN]"
    for share in (0, -0.9, 0.91, 1.0, 1.01, math.nan):
        with pytest.raises(Refusal):
            limit(FORCE, SHOP, "nobody", share=share)


# --- sizes --------------------------------------------------------------------------------------

@pytest.mark.parametrize("size, built, near", [("3/64", "7x7", "1/16"), ("7/32", "7x19", "3/16 or 1/4"), ("9/32", "7x19", "1/4 or 5/16"),
                                               ("11/32", "7x19", "5/16 or 3/8"), ("1/7", "7x19", "1/8 or 5/32")])
def test_a_size_that_no_sleeve_is_made_for_has_no_limit(size, built, near):
    for force in (breaking_force(size, built, "galvanised", 2000.0, "C 7"), replace(FORCE, size=size)):
        with pytest.raises(Refusal, match=f"the nearest sizes {near};"):
            limit(force, SHOP, "nobody")


def test_a_strength_without_its_size_or_construction_has_no_limit():
    for blank in ("size", "construction"):
        with pytest.raises(Refusal):
            limit(replace(FORCE, **{blank: ""}), SHOP, "nobody")


# --- efficiency ---------------------------------------------------------------------------------

def test_efficiency_is_tied_to_its_conditions():
    found = efficiency("aluminium", "galvanised", "7x7")
    assert (found.value, found.note, found.how_known) == (0.9, "", "common practice")
    assert found.conditions == ("bare 7x7 or 7x19 cable", "right sleeve metal and size", "full count of the chart in force",
                                "every crimp gauged", "tail showing")
    assert "carried over" in efficiency("zinc-plated copper", "stainless", "7x19").note


@pytest.mark.parametrize("words, said", [
    (("aluminium", "galvanised", "7x19", "lap"), "pulled lot"), (("stainless", "stainless", "7x19"), "ask the tool maker"),
    (("lead", "galvanised", "7x19"), "a lead sleeve"), (("aluminium", "galvanised", "1x19"), "7x7 and 7x19"),
    (("aluminium", "stainless", "7x19"), "on stainless cable .never. .* a pair that some service allows"),
    (("plain copper", "stainless", "7x7"), "take the plated one"), (("aluminium", "banana", "7x19"), "the cable metal 'banana'"),
    (("aluminium", None, "7x19"), "the cable metal None"), ((None, "galvanised", "7x19"), "a None sleeve"),
])
def test_no_efficiency_where_none_is_known(words, said):
    with pytest.raises(Refusal, match=said):
        efficiency(*words)


MADE = dict(bare=True, construction=True, metal_and_size=True, full_count=True, every_crimp_gauged=True, tail_showing=True)


def test_ninety_percent_holds_only_where_every_condition_was_met():
    # rule 4: bare 7x7 or 7x19, right metal and size, full count, every crimp gauged, tail showing
    assert efficiency("aluminium", "galvanised", "7x19", done=Conditions(**MADE)).value == 0.9
    for name in MADE:
        for answer in (False, None, "yes", 1):
            with pytest.raises(Refusal, match="a piece without "):
                efficiency("aluminium", "galvanised", "7x19", done=Conditions(**{**MADE, name: answer}))
    with pytest.raises(Refusal, match="without every crimp gauged, without tail showing was given"):
        efficiency("aluminium", "galvanised", "7x19", done=Conditions(**{**MADE, "every_crimp_gauged": False, "tail_showing": False}))
    assert len(Conditions().missing) == len(MADE) == 6


def test_a_bend_is_never_multiplied_in():
    # rule 14: an eye's legs carry half each, so the crown does not govern; nothing here takes a bend
    for module in (rating, _efficiency, rating_arrays, fittings, proof):
        for name in module.__all__:
            thing = getattr(module, name)
            words = inspect.signature(thing).parameters if inspect.isfunction(thing) else getattr(thing, "__annotations__", {})
            assert not [word for word in words if "bend" in word or "pin" in word], name
    assert "each of the two legs carries half" in rating.__doc__
    with pytest.raises(TypeError):
        limit(FORCE, SHOP, "nobody", bend=0.5)


def lot(share=0.8, splice="lap", **changes):
    made = dict(sleeve_metal="aluminium", cable_metal="galvanised", construction_name="7x19", size="1/8", lot="lot 4",
                sleeves={"lap": 2, "eye": 1}[splice])
    return pulled_share(share * FORCE.force_n, FORCE.force_n, splice, **{**made, **changes})


def test_a_lap_has_a_limit_only_from_the_shops_own_pulled_lot():
    # rules 4 and 13
    found = efficiency("aluminium", "galvanised", "7x19", "lap", pulled=lot())
    assert (found.value, found.splice, found.size) == (pytest.approx(0.8), "lap", "1/8")
    assert "lot 4" in found.source and "lot 4" in found.note
    assert limit(FORCE, SHOP, "nobody", share=found).shown_us == "320 lbf [1.42 kN]"
    for changes in ({"use": "people", "designer": "Q. Person", "design_load_n": 10.0, "factor": DESIGNER},
                    {"moves": True, "designer": "Q. Person", "factor": DESIGNER},
                    {"tightened": True, "greatest_tension_n": 10.0, "tension_check": "sag"}):
        with pytest.raises(Refusal, match="a lap splice where people can be"):
            limit(FORCE, changes.pop("factor", SHOP), changes.pop("use", "nobody"), share=found, **changes)


@pytest.mark.parametrize("changes, said", [
    ({"sleeves": 1}, "a lap with two"), ({"sleeves": 3}, "a lap with two"), ({"splice": "eye", "sleeves": 2}, "an eye with one"),
    ({"splice": "loop", "sleeves": 1}, "an eye with one"), ({"lot": " "}, "the lot's name"), ({"construction_name": "1x19"}, "7x7 and 7x19"),
    ({"bound_n": 0}, "above zero"), ({"bound_n": math.nan}, "finite"), ({"breaking_force_n": -1.0}, "above zero"),
])
def test_what_is_no_pulled_lot_of_this_trade_is_refused(changes, said):
    made = dict(bound_n=1.0, breaking_force_n=2.0, splice="lap", sleeves=2, sleeve_metal="aluminium", cable_metal="galvanised",
                construction_name="7x19", size="1/8", lot="lot 4")
    with pytest.raises(Refusal, match=said):
        pulled_share(**{**made, **changes})


@pytest.mark.parametrize("changes, said", [
    ({"bound_n": 1e6}, "look at the units"), ({"bound_n": 3001.0}, "look at the units"), ({"sleeves": True, "splice": "eye"}, "an eye with one"),
    ({"cable_metal": "banana"}, "banana"), ({"sleeve_metal": "banana"}, "banana"), ({"cable_metal": "stainless"}, "never"),
    ({"size": "9 miles"}, "9 miles"), ({"size": "7/32"}, "3/16 or 1/4"), ({"lot": "-"}, "the lot's name")])
def test_a_lot_that_cannot_be_is_refused(changes, said):
    made = dict(bound_n=1750.0, breaking_force_n=2000.0, splice="lap", sleeves=2, sleeve_metal="aluminium", cable_metal="galvanised",
                construction_name="7x19", size="1/8", lot="lot 4")
    assert pulled_share(**{**made, "bound_n": 3000.0}).value == 1.5
    with pytest.raises(Refusal, match=said):
        pulled_share(**{**made, **changes})


def test_an_efficiency_holds_for_its_own_make_only():
    lap = efficiency("aluminium", "galvanised", "7x7", "lap", pulled=lot(construction_name="7x7"))
    with pytest.raises(Refusal, match="of 7x7 cable for 7x19 cable"):
        limit(FORCE, SHOP, "nobody", share=lap)
    with pytest.raises(Refusal, match="of galvanised cable for stainless cable"):
        limit(breaking_force("1/8", "7x19", "stainless"), SHOP, "nobody", share=efficiency("aluminium", "galvanised", "7x19", "lap", pulled=lot()))
    with pytest.raises(Refusal, match="a pair that some service allows"):
        never = replace(efficiency("aluminium", "galvanised", "7x19"), cable_metal="stainless")
        limit(breaking_force("1/8", "7x19", "stainless"), SHOP, "nobody", share=never)


@pytest.mark.parametrize("asked", [
    ("zinc-plated copper", "galvanised", "7x19", "lap"), ("aluminium", "bright", "7x19", "lap"), ("aluminium", "galvanised", "7x7", "lap"),
    ("aluminium", "galvanised", "7x19", "eye")])
def test_a_lot_says_nothing_about_another_make(asked):
    with pytest.raises(Refusal, match="a lot of the same make"):
        efficiency(*asked, pulled=lot())


def test_a_lot_says_nothing_about_another_size():
    share = efficiency("aluminium", "galvanised", "7x19", "lap", pulled=lot(size="3/16"))
    with pytest.raises(Refusal, match="a pulled lot of 3/16 for 1/8 cable"):
        limit(FORCE, SHOP, "nobody", share=share)


def test_no_lot_lifts_an_eye_above_ninety_percent():
    found = efficiency("aluminium", "galvanised", "7x19", pulled=lot(0.97, "eye"))
    assert found.value == 0.9 and "0.90 stands" in found.note
    assert efficiency("aluminium", "galvanised", "7x19", pulled=lot(0.85, "eye")).value == pytest.approx(0.85)


def test_a_limit_from_copper_on_stainless_says_that_it_is_carried_over():
    share = efficiency("zinc-plated copper", "stainless", "7x19")
    found = limit(breaking_force("1/8", "7x19", "stainless"), SHOP, "nobody", share=share, notes=("first",))
    assert found.shown_us == "316 lbf [1.40 kN]" and found.notes[0] == "first" and "carried over" in found.notes[1]


def test_a_strength_from_memory_or_of_another_cable_rates_nothing():
    for force, said in ((replace(FORCE, how_known="from memory"), "from memory"), (replace(FORCE, construction="6x19"), "7x7"),
                        (en_breaking_force_n("7x19", 6.0, 1770), "6 mm"), (en_breaking_force_n("7x19", 6.0, 1570), "from memory")):
        with pytest.raises(Refusal, match=said):
            limit(force, SHOP, "nobody")
    assert limit(FORCE, SHOP, "nobody").system == "inch aircraft pattern"


def test_a_published_factor_is_no_factor_of_this_trade():
    # rule 1: factors of other equipment are shown, never offered
    for row in published_factors():
        with pytest.raises(Refusal, match="shown for comparison and never taken"):
            limit(FORCE, row, "nobody")
        with pytest.raises(Refusal):
            working_load_limit_n(FORCE.force_n, 0.9, row.equipment)
        with pytest.raises(Refusal):
            rating_arrays.rate("1/8", "7x19", "galvanised", 0.9, row.equipment, "Ines Varrow", "nobody")
        with pytest.raises(Refusal):
            rating_arrays.rate("1/8", "7x19", "galvanised", 0.9, row, "Ines Varrow", "nobody")


@given(st.floats(0.001, 1e5), st.floats(9.7, 9.9))
def test_a_mass_is_a_force_only_with_g_stated(mass, g):
    assert load_from_mass_n(mass, g) == pytest.approx(mass * g, rel=1e-12)
    for wrong in ((mass,), (0, g), (mass, 0), (mass, None), (math.nan, g), (True, g)):
        with pytest.raises((Refusal, TypeError)):
            load_from_mass_n(*wrong)


# --- classes of use -----------------------------------------------------------------------------

def test_known_uses_fall_in_one_of_three_classes():
    assert {use.name for use in uses().values()} == set(CLASSES)
    for word in ("lifting", "Hoisting ", "aircraft", "vehicles", "towing", "lifts", "fall arrest", "climbing", "rides", "guardrail",
                 "flying people", "zip line", "play equipment", "gym equipment", "refused"):
        assert class_of_use(word).name == "refused"
        assert class_of_use(word).ask.startswith("ask ")
    assert class_of_use("static, nobody can be there").name == "nobody"
    assert class_of_use("static, people can be there").name == "people"


@pytest.mark.parametrize("word", ["trellis", "", None, 3, "no body", "people!", "x" * 500])
def test_an_unknown_use_is_asked_about(word):
    with pytest.raises(Refusal, match="if this lets go, who can be under it"):
        class_of_use(word)


@pytest.mark.parametrize("use", sorted(word for word, use in uses().items() if use.name == "refused"))
def test_a_refused_use_has_no_way_round(use):
    with pytest.raises(Refusal, match="there is no way round this; ask "):
        limit(FORCE, DESIGNER, use, designer="Q. Person", design_load_n=1.0)


def test_where_people_can_be_a_designer_answers_with_factor_and_load():
    found = limit(FORCE, DESIGNER, "people", designer="Q. Person", design_load_n=newtons(67.6))
    assert (found.shown_us, found.owner) == ("225 lbf [1.00 kN]", "Q. Person")
    for missing in ({}, {"designer": "Q. Person"}, {"design_load_n": 5.0}, {"designer": "  ", "design_load_n": 5.0}):
        with pytest.raises(Refusal, match="without a named designer, factor and design load"):
            limit(FORCE, DESIGNER, "people", **missing)
    with pytest.raises(Refusal, match="the factor of Ines Varrow was given; accepted: the factor of Q. Person"):
        limit(FORCE, SHOP, "people", designer="Q. Person", design_load_n=5.0)
    with pytest.raises(Refusal, match="at most 225 lbf"):
        limit(FORCE, DESIGNER, "people", designer="Q. Person", design_load_n=newtons(226))


@pytest.mark.parametrize("factor, said", [
    (None, "none is built in"), (DesignFactor(5, "-", "2026-01-12", "static"), "without owner"), (DesignFactor(5, "", "2026-01-12", "static"), "without owner"), (DesignFactor(5, "Ines", " ", "static"), "without owner"),
    (DesignFactor(5, "Ines", "2026-01-12", ""), "without owner"), (DesignFactor(5, None, None, None), "without owner"), (DesignFactor(1, "I", "d", "s"), "a factor above 1"),
    (DesignFactor(-5, "I", "d", "s"), "a factor above 1"), (DesignFactor(math.nan, "I", "d", "s"), "finite"), (DesignFactor("5", "I", "d", "s"), "a number"),
])
def test_a_factor_needs_an_owner_a_date_and_a_scope(factor, said):
    with pytest.raises(Refusal, match=said):
        limit(FORCE, factor, "nobody")


def test_what_is_tightened_states_its_greatest_tension_and_its_check():
    tight = dict(tightened=True, greatest_tension_n=newtons(300), tension_check="in-line force gauge")
    assert limit(FORCE, SHOP, "nobody", **tight).shown_us.startswith("360 lbf")
    for missing in ({"greatest_tension_n": None}, {"tension_check": None}, {"tension_check": " "}):
        with pytest.raises(Refusal, match="a tightened piece without its greatest tension"):
            limit(FORCE, SHOP, "nobody", **{**tight, **missing})
    with pytest.raises(Refusal, match="the greatest tension 361 lbf"):
        limit(FORCE, SHOP, "nobody", **{**tight, "greatest_tension_n": newtons(361)})
    with pytest.raises(Refusal, match="a force above zero"):
        limit(FORCE, SHOP, "nobody", **{**tight, "greatest_tension_n": 0})


def test_a_tension_of_what_is_not_tightened_is_asked_about():
    for tension in (10.0, 1e6):
        with pytest.raises(Refusal, match="a greatest tension for a piece that is not tightened"):
            limit(FORCE, SHOP, "nobody", greatest_tension_n=tension)


@pytest.mark.parametrize("blank", [{"moves": None}, {"tightened": None}, {"moves": "no"}, {"tightened": 0}, {"designer": 5}])
def test_a_blank_is_no_answer(blank):
    with pytest.raises(Refusal):
        limit(FORCE, SHOP, "nobody", **blank)


def test_near_people_a_factor_is_for_this_order_and_no_other():
    near = dict(use="people", designer="Q. Person", design_load_n=5.0)
    for scope in ("other order", "static, people can be there", "order 12"):
        with pytest.raises(Refusal, match="a factor for this order"):
            limit(FORCE, replace(DESIGNER, scope=scope), **near)
    assert limit(FORCE, replace(DESIGNER, scope="Order 12,  the lantern"), order="order 12", **near).factor == 8
    with pytest.raises(Refusal, match="a factor for this order, order 13,"):
        limit(FORCE, replace(DESIGNER, scope="order 12"), order="order 13", **near)


def test_a_factor_of_a_day_to_come_is_refused_where_the_day_is_known():
    for use, factor, more in (("nobody", SHOP, {}), ("people", DESIGNER, dict(designer="Q. Person", design_load_n=5.0))):
        assert limit(FORCE, factor, use, on=date.fromisoformat(factor.set_on), **more).factor == factor.value
        with pytest.raises(Refusal, match="a factor set on 2099-01-01, after 2026-03-02"):
            limit(FORCE, replace(factor, set_on="2099-01-01"), use, on=date(2026, 3, 2), **more)
        with pytest.raises(Refusal, match="year first"):
            limit(FORCE, replace(factor, set_on="Monday"), use, on=date(2026, 3, 2), **more)


def test_what_moves_needs_a_named_designer():
    with pytest.raises(Refusal, match="moves, swings or takes shocks"):
        limit(FORCE, SHOP, "nobody", moves=True)
    assert limit(FORCE, DESIGNER, "nobody", designer="Q. Person", moves=True).owner == "Q. Person"
    with pytest.raises(Refusal, match="the factor of Ines Varrow"):
        limit(FORCE, SHOP, "nobody", designer="Q. Person", moves=True)


def test_temperatures_outside_common_practice_go_to_the_maker():
    refuse_temperature(-30, 60)
    for low, high in ((-30.1, 20), (0, 60.1), (30, 20)):
        with pytest.raises(Refusal, match="-30 to 60 degrees Celsius; ask the makers"):
            refuse_temperature(low, high)
