"""Somebody named beside a harmless thing is asked about; a body's weight, fall, grip or balance on the cable is refused, whoever answers for it."""

from __future__ import annotations

import pytest
from test_order_sentences import DESIGNED, MOVES, SENTENCES, SHOP, lines, order

from rigcalc.assembly import MissingFacts, job_sheet
from rigcalc.errors import Refusal

SEEN = {"seen_by": "Parvel Minch"}
ON_IT, BESIDE = (lines((SENTENCES / f"{name}.txt").read_text(encoding="utf-8")) for name in ("body_on_it", "somebody_beside"))


def outcome(sentence, facts):
    try:
        job_sheet(order(sentence, **facts), SHOP)
        return "a sheet"
    except MissingFacts as asked:
        return " ".join(("Asked:", *asked.questions))
    except Refusal as refused:
        return str(refused)


@pytest.mark.parametrize("facts", [{}, SEEN, DESIGNED, DESIGNED | SEEN, MOVES | SEEN])
def test_a_body_on_it_is_refused_whoever_vouches_and_nobody_is_sent_on_to_another_use(facts):
    found = {sentence: outcome(sentence, facts) for sentence in ON_IT}
    assert len(found) >= 170 and {sentence: said for sentence, said in found.items() if "for that kind of work" not in said or "enter --use" in said} == {}


@pytest.mark.parametrize("facts", [{}, DESIGNED])
def test_somebody_beside_a_harmless_thing_is_never_made_unasked_and_not_taken_for_somebody_held(facts):
    found = {sentence: outcome(sentence, facts) for sentence in BESIDE}
    assert len(found) >= 110 and {sentence: said for sentence, said in found.items() if said == "a sheet" or "for that kind of work" in said} == {}
    if facts:
        assert {sentence: said for sentence, said in found.items() if "(--seen-by)?" not in said} == {}


def test_beside_a_designer_the_answer_to_that_question_is_enough():
    found = {sentence: outcome(sentence, DESIGNED | SEEN) for sentence in BESIDE}
    assert {sentence: said for sentence, said in found.items() if said != "a sheet"} == {}


@pytest.mark.parametrize("sentence, word", [("trellis for the tenants | garden wall", "tenants"), ("trellis wires for plants with a good grip | garden wall", "grip"),
                                            ("shelf brace, I made the shelf | cellar", "I")])
def test_the_question_says_which_word_it_is_about(sentence, word):
    for facts in ({}, DESIGNED):
        with pytest.raises(MissingFacts) as asked:
            job_sheet(order(sentence, **facts), SHOP)
        question, = asked.value.questions
        assert f"These words say '{word}' beside work that is harmless by itself. Who of the shop" in question


@pytest.mark.parametrize("sentence", ["wire | courtyard, grandma leans there", "trellis wires for plants | steep bank, the old folk use it as a grip", "trellis wires | gable, the boys go up it"])
def test_where_it_is_can_say_so(sentence):
    assert "for that kind of work" in outcome(sentence, DESIGNED | SEEN)


@pytest.mark.parametrize("facts", [{"use": "people", "near": "the gardener, it bears her full weight"}, {"load_from": "my weight with the boots on"}, {"near": "nobody: strong enough for my weight"}])
def test_another_answer_can_say_so(facts):
    assert "for that kind of work" in outcome("trellis wire | garden wall", facts)


@pytest.mark.parametrize("told", ["the customer's weight list", "the gardener, who hung his weight of the old scale on it", "his estimate of the weight of the roses"])
def test_whose_list_or_scale_a_weight_comes_from_is_no_body_on_it(told):
    assert "for that kind of work" not in outcome("trellis wire | garden wall", {"load_from": told})


@pytest.mark.parametrize("sentence", ["wire that birds sit on | field", "lanyard so the pin does not fall | gate", "wires the espalier pears lean on | garden wall", "wire that the vines sit on | vineyard"])
def test_what_a_thing_a_plant_or_a_bird_does_is_not_asked_about(sentence):
    assert outcome(sentence, {}) == "a sheet"
    assert outcome(sentence.replace("birds", "birds and the twins").replace("pears", "pears and my aunt").replace("vines", "vines and the boys").replace("pin does", "painter does"), {}) != "a sheet"
