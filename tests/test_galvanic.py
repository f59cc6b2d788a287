"""Why a pair lasts: anode, load, areas, voltage, plating; and where the voltage rule parts from the verdict."""

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigcalc.cable import METALS
from rigcalc.errors import Refusal
from rigcalc.galvanic import area_ratio, pair_reasons, sea_potential, voltage_rule, where_the_rule_misleads
from rigcalc.pairing import SERVICES, pairing
from rigcalc.reference import bibliography
from rigcalc.sleeve import SLEEVE_METALS

EVERY = tuple(itertools.product(METALS, SLEEVE_METALS, SERVICES))
ORDER = ["anode", "load", "area", "voltage", "plating"]


@pytest.mark.parametrize("words", EVERY)
def test_every_pair_has_five_reasons_in_order_beside_its_verdict(words):
    found = pair_reasons(*words)
    assert [reason.about for reason in found.reasons] == ORDER
    assert all(reason.says.endswith(".") and reason.source.split(",")[0].split(";")[0] in bibliography() for reason in found.reasons)
    assert found.verdict == pairing(*words)
    assert found.rule == voltage_rule(*words)
    assert found.rule_agrees == (found.rule.passes == found.verdict.allowed)


# --- rule 11 of the trade: pairing by what is eaten, not by volts alone ----------------------------

def test_aluminium_on_stainless_is_a_small_anode_that_carries_the_load():
    for service in SERVICES:
        found = pair_reasons("stainless", "aluminium", service)
        assert (found.anode, found.anode_carries_load, found.verdict.verdict) == ("sleeve", True, "never")
        assert "is strength" in found.reasons[1].says and found.reasons[2].says.startswith("A small anode")


def test_galvanised_with_aluminium_eats_a_coating_on_a_large_cable():
    found = pair_reasons("galvanised", "aluminium", "outdoor")
    assert (found.anode, found.anode_carries_load) == ("cable", False)
    assert found.reasons[2].says.startswith("A large anode")
    assert (found.anode_when_bare, found.gap_bare_v) == ("sleeve", 0.05)
    assert "bare carbon steel on the cable, aluminium on the sleeve, 0.05 V" in found.reasons[4].says


def test_plated_copper_on_stainless_loses_a_plating_and_leaves_copper():
    found = pair_reasons("stainless", "zinc-plated copper", "outdoor")
    assert (found.anode, found.anode_carries_load, found.gap_v, found.anode_when_bare, found.gap_bare_v) == ("sleeve", False, 0.75, "cable", 0.15)
    assert "Without its zinc plating the sleeve shows copper" in found.reasons[4].says


def test_both_platings_are_told_where_both_parts_have_one():
    says = pair_reasons("galvanised", "zinc-plated copper", "outdoor").reasons[4].says
    assert "hot-dip zinc on the cable, copper on the sleeve, 0.85 V, the cable the anode" in says
    assert "bare carbon steel on the cable, zinc plating on the sleeve, 0.4 V, the sleeve the anode" in says
    assert pair_reasons("stainless", "plain copper", "dry").reasons[4].says.startswith("Neither part is plated")


def test_like_on_like_has_no_anode():
    found = pair_reasons("stainless", "stainless", "dry")
    assert (found.anode, found.anode_carries_load, found.gap_v) == ("neither", False, 0.0)


def test_a_coat_joins_the_verdict_and_changes_no_metal():
    bare, coated = pair_reasons("galvanised", "aluminium", "dry"), pair_reasons("galvanised", "aluminium", "dry", coated=True)
    assert coated.reasons == bare.reasons
    assert len(coated.verdict.reasons) == len(bare.verdict.reasons) + 1


# --- areas ----------------------------------------------------------------------------------------

def test_the_area_ratio_by_hand_for_one_cable():
    # 3 mm cable, 500 mm free: 3 pi x 500 = 4712.4 mm2; a belt round two 3 mm bars, 15 mm long: (3 pi + 6) x 15 = 231.4 mm2
    assert area_ratio(500, 15) == pytest.approx(4712.389 / 231.372, rel=1e-5)
    found = pair_reasons("stainless", "aluminium", "dry", 500, 15)
    assert found.area_ratio == area_ratio(500, 15) and "at most 20 times" in found.reasons[2].says


@settings(max_examples=40, deadline=None)
@given(cable=st.floats(1, 1e5), sleeve=st.floats(1, 200), times=st.floats(1.01, 50))
def test_the_area_ratio_grows_with_the_cable_and_falls_with_the_sleeve(cable, sleeve, times):
    assert area_ratio(cable * times, sleeve) == pytest.approx(times * area_ratio(cable, sleeve))
    assert area_ratio(cable, sleeve * times) < area_ratio(cable, sleeve) < cable / sleeve


def test_areas_out_of_range_are_refused():
    for wrong in (0, -1, math.nan, math.inf, None, "1", True):
        with pytest.raises(Refusal):
            area_ratio(wrong, 15)
        with pytest.raises(Refusal):
            area_ratio(500, wrong)
    with pytest.raises(Refusal, match="or neither"):
        pair_reasons("stainless", "aluminium", "dry", cable_length_mm=500)


# --- the simple rule ---------------------------------------------------------------------------------

def test_each_service_meets_the_limit_of_its_environment():
    assert [(voltage_rule("galvanised", "aluminium", service).environment, voltage_rule("galvanised", "aluminium", service).most_v)
            for service in SERVICES] == [("normal", 0.25), ("harsh", 0.15), ("harsh", 0.15), ("harsh", 0.15)]
    edge = voltage_rule("stainless", "plain copper", "outdoor")
    assert edge.passes and edge.at_the_limit and not voltage_rule("stainless", "plain copper", "dry").at_the_limit
    assert "0.15 V against 0.15 V" in edge.says and edge.how_known == "read, second-hand"


@pytest.mark.parametrize("words, said", [(("zinc", "aluminium", "dry"), "cable metal"), (("stainless", None, "dry"), "sleeve metal"),
                                         (("stainless", "aluminium", "wet"), "service"), (("stainless", "aluminium", "dry", "mild"), "environment")])
def test_unknown_words_are_refused(words, said):
    with pytest.raises(Refusal, match=said):
        voltage_rule(*words)
    with pytest.raises(Refusal):
        sea_potential("gold")


# worked by hand from the index, the limits and the verdict table: cable, sleeve, service, does the rule pass it
MISLED = {
    ("galvanised", "aluminium", "dry", False), ("galvanised", "aluminium", "outdoor", False), ("galvanised", "plain copper", "dry", False),
    ("galvanised", "zinc-plated copper", "marine", True), ("galvanised", "zinc-plated copper", "immersed", True),
    ("galvanised", "tin-plated copper", "dry", False), ("stainless", "plain copper", "dry", True), ("stainless", "plain copper", "outdoor", True),
    ("stainless", "plain copper", "marine", True), ("stainless", "plain copper", "immersed", True), ("stainless", "zinc-plated copper", "dry", False),
    ("stainless", "zinc-plated copper", "outdoor", False), ("stainless", "zinc-plated copper", "marine", False),
    ("stainless", "tin-plated copper", "immersed", True), ("bright", "aluminium", "outdoor", True), ("bright", "aluminium", "marine", True),
    ("bright", "aluminium", "immersed", True), ("bright", "plain copper", "dry", False), ("bright", "zinc-plated copper", "dry", False),
}


def test_where_the_rule_misleads():
    found = where_the_rule_misleads()
    assert {(row.cable, row.sleeve, row.service, row.rule_passes) for row in found} == MISLED
    assert len(found) == len(MISLED)
    assert all(row.rule_passes != row.allowed and f"{row.gap_v:g} V only" in row.why for row in found)


def test_the_rule_fails_the_standard_pair_and_passes_plain_copper_on_stainless():
    found = {(row.cable, row.sleeve, row.service): row for row in where_the_rule_misleads()}
    standard = found["galvanised", "aluminium", "outdoor"]
    assert (standard.rule_passes, standard.allowed, standard.gap_v) == (False, True, 0.3)
    copper = found["stainless", "plain copper", "outdoor"]
    assert (copper.rule_passes, copper.allowed, copper.gap_v) == (True, False, 0.15)


@pytest.mark.parametrize("service", SERVICES)
def test_of_copper_on_stainless_neither_is_called_the_one_that_is_eaten(service):
    as_new, worn = pair_reasons("stainless", "plain copper", service), pair_reasons("stainless", "zinc-plated copper", service)
    assert "passive" in as_new.reasons[0].says and "active" in as_new.reasons[0].says and "spared" not in as_new.reasons[0].says
    assert "hangs on the skin" in worn.reasons[-1].says and "the cable the anode" not in worn.reasons[-1].says
    assert [reason.about for reason in as_new.reasons] == ["anode", "load", "area", "voltage", "plating"]


def test_which_of_copper_and_stainless_is_nobler_hangs_on_its_skin():
    copper = sea_potential("copper")
    assert sea_potential("stainless 304, active").high_v < copper.low_v < copper.high_v < sea_potential("stainless 304, passive").low_v


def test_zinc_on_zinc_is_no_story_of_one_that_is_eaten_and_one_that_is_spared():
    said = pair_reasons("galvanised", "zinc-plated copper", "dry").reasons[0].says
    assert said.startswith("Zinc lies on both") and "0.05 V apart" in said and "spared" not in said
