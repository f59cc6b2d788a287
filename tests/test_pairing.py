"""Verdicts on sleeve metal and cable metal in a service."""

import itertools

import pytest

from rigcalc.cable import METALS
from rigcalc.errors import Refusal
from rigcalc.pairing import COATED_NOTE, SERVICES, pairing, refuse_from_memory, refuse_never
from rigcalc.reference import table
from rigcalc.sleeve import SLEEVE_METALS

EVERY = tuple(itertools.product(METALS, SLEEVE_METALS, SERVICES))


@pytest.mark.parametrize("words", EVERY)
def test_every_pair_has_one_verdict_with_reasons_and_source(words):
    verdict = pairing(*words)
    assert isinstance(verdict.allowed, bool)
    assert verdict.reasons and all(reason.endswith(".") for reason in verdict.reasons)
    assert verdict.source and verdict.how_known
    assert verdict.reasons[-1] == "The maker's chart governs where it differs."


def test_the_table_holds_each_pair_once_and_nothing_else():
    assert [(row.cable, row.sleeve, row.service) for row in table("pairing")].__len__() == len(EVERY)
    assert {(row.cable, row.sleeve, row.service) for row in table("pairing")} == set(EVERY)
    assert {row.allowed for row in table("pairing")} == {"yes", "no"}


def test_never_is_never_allowed():
    for words in EVERY:
        verdict = pairing(*words)
        if verdict.verdict.split(",")[0] in ("never", "take the plated one") or words[2] == "immersed":
            assert not verdict.allowed
        if verdict.verdict.startswith(("use", "with inspection")):
            assert verdict.allowed


def test_aluminium_on_stainless_says_why_first():
    for service in SERVICES:
        verdict = pairing("stainless", "aluminium", service)
        assert (verdict.allowed, verdict.verdict) == (False, "never")
        assert "small anode" in verdict.reasons[0] and "carries the load" in verdict.reasons[0]
        assert "inside the sleeve" in verdict.reasons[1]


def test_pool_hall_air_names_the_hidden_cracking_of_stainless():
    for sleeve in SLEEVE_METALS:
        assert any("pool-hall" in reason and "crack" in reason for reason in pairing("stainless", sleeve, "immersed").reasons)


def test_a_coat_does_not_change_the_pair():
    bare, coated = pairing("galvanised", "aluminium", "outdoor"), pairing("galvanised", "aluminium", "outdoor", coated=True)
    assert (coated.allowed, coated.verdict, coated.inspect_months) == (bare.allowed, bare.verdict, bare.inspect_months)
    assert coated.reasons == (*bare.reasons, COATED_NOTE)


@pytest.mark.parametrize("words, said", [
    (("zinc", "aluminium", "dry"), "galvanised, stainless, bright"), (("galvanised", "copper", "dry"), "plain copper"),
    (("galvanised", "aluminium", "indoors"), "dry, outdoor, marine, immersed"), ((None, "aluminium", "dry"), "cable metal None"),
    (("galvanised", "aluminium", ""), "service ''"),
])
def test_an_unknown_word_is_refused_with_the_known_ones(words, said):
    with pytest.raises(Refusal, match=said):
        pairing(*words)


def test_a_verdict_from_memory_teaches_and_allows_no_real_work():
    remembered = [words for words in EVERY if pairing(*words).how_known == "from memory"]
    assert remembered == [("stainless", "tin-plated copper", service) for service in ("dry", "outdoor", "marine")]
    for words in EVERY:
        verdict = pairing(*words)
        refuse_from_memory(verdict, real=False)
        refuse_from_memory(verdict, real=True, makers_word="sheet 4, edition 2")
        if words in remembered:
            assert verdict.allowed
            for none in ("", " ", "-", None):
                with pytest.raises(Refusal, match="is from memory .* ask the maker"):
                    refuse_from_memory(verdict, True, none)
        else:
            refuse_from_memory(verdict, real=True)
    for wrong in (None, "yes", 1):
        with pytest.raises(Refusal, match="True or False"):
            refuse_from_memory(pairing(*remembered[0]), wrong)


def test_a_pair_that_no_service_allows_is_named():
    never = {words[:2] for words in EVERY} - {words[:2] for words in EVERY if pairing(*words).allowed}
    assert never == {("stainless", "aluminium"), ("stainless", "plain copper"), ("galvanised", "stainless"), ("stainless", "stainless"),
                     ("bright", "stainless")}
    for cable, sleeve in {words[:2] for words in EVERY}:
        if (cable, sleeve) in never:
            with pytest.raises(Refusal, match="a pair that some service allows"):
                refuse_never(cable, sleeve)
        else:
            refuse_never(cable, sleeve)


@pytest.mark.parametrize("coated", ["no", "yes", None, 1])
def test_coated_is_a_plain_answer(coated):
    with pytest.raises(Refusal, match="True or False"):
        pairing("galvanised", "aluminium", "dry", coated)
