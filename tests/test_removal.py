"""Removal from service: what takes a piece out, what is refused, and what stands beside it."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigcalc.errors import Refusal
from rigcalc.removal import COATS, LOOKS, MEASURES, Inspection, broken_wires_allowed, published_answers, removal, share_of_wires


def seen(construction="7x7", **more) -> Inspection:
    usual = dict(broken_at_sleeve=0, broken_in_8d=0, coat="none", **dict.fromkeys(LOOKS, False))
    return Inspection(construction=construction, **usual | more)


def test_nothing_found_stays_and_is_recorded():
    found = removal(seen("7x19"))
    assert (found.verdict, found.reasons) == ("stay", ())
    assert "record" in found.do


@pytest.mark.parametrize("what, words", [("moved_mark", "witness mark"), ("crack", "a crack"), ("red_rust", "red rust"), ("overloaded_or_fell", "an overload"),
                                         ("kinked", "a kink"), ("flattened", "flattened"), ("heat_or_arc", "heat"), ("tail_gone", "short tail no longer shows"), ("loose_thimble", "a loose thimble")])
def test_rule_20_one_of_these_is_enough(what, words):
    found = removal(seen(**{what: True}))
    assert found.verdict == "out"
    assert len(found.reasons) == 1 and words in found.reasons[0]
    assert "cut it through the sleeve" in found.do and "no lower limit" in found.do


def test_a_tag_that_cannot_be_read_is_out_until_a_new_one_is_on():
    found = removal(seen(tag_unread=True))
    assert found.verdict == "out" and "a tag that is gone or cannot be read" in found.reasons[0]
    assert "a new tag, written from its record" in found.do and "no record names is cut" in found.do
    both = removal(seen(tag_unread=True, crack=True))
    assert len(both.reasons) == 2 and both.do.startswith("take it out of service, mark it unfit")


def test_white_bloom_stays_and_says_what_to_do():
    found = removal(seen(white_bloom=True))
    assert (found.verdict, found.reasons) == ("stay", ())
    assert any("wipe it off and look below for red rust" in note and "common practice" in note for note in found.notes)
    assert not any("bloom" in note for note in removal(seen()).notes)
    assert removal(seen(white_bloom=True, red_rust=True)).verdict == "out"


def test_everything_that_is_looked_at_has_its_conclusion():
    for name in LOOKS:
        found = removal(seen(**{name: True}))
        assert found.verdict == "out" or len(found.notes) > len(removal(seen()).notes), name
        with pytest.raises(Refusal, match="a blank is no answer"):
            seen(**{name: None})


def test_rule_20_any_broken_wire_at_a_sleeve():
    found = removal(seen("7x19", broken_at_sleeve=1))
    assert found.verdict == "out"
    assert found.reasons == ("1 broken wire at or within a sleeve's reach: none may stay (1 or more is out)",)


def test_every_reason_is_named():
    found = removal(seen(crack=True, broken_at_sleeve=2, broken_in_8d=9, outer_wire_worn_percent=50, below_nominal_percent=8, coat="damaged"))
    assert len(found.reasons) == 6
    assert any("its diameter: 50" in reason and "a third or more is out" in reason for reason in found.reasons)


def test_a_coat_hides_what_it_covers():
    sound = removal(seen(coat="sound", broken_in_8d=None))
    assert sound.verdict == "stay" and any("under a coat" in note for note in sound.notes)
    assert removal(seen(coat="damaged", broken_in_8d=None)).verdict == "out"
    assert not any("under a coat" in note for note in removal(seen()).notes)
    assert COATS == ("none", "sound", "damaged")


def test_published_rules_stand_beside_it_and_disagree():
    found = removal(seen("7x7", broken_in_8d=4, broken_in_lay=4, broken_in_strand_lay=2, broken_in_6d=2, broken_in_30d=4))
    assert found.verdict == "stay"
    answers = {answer.rule: answer.answer for answer in found.published}
    assert {answers[rule] for rule in ("standing rope: lay", "mine hoist: lay", "crane rope 6 d: 7x7")} == {"out"}
    assert {answers[rule] for rule in ("slings: lay", "running rope: lay", "general rope: 8 d")} == {"stay"}
    assert answers["slings: wear"] == "not counted"
    assert any("its own equipment" in note for note in found.notes)
    assert all(answer.equipment and answer.cited for answer in found.published)
    assert not any("house" in answer.equipment for answer in found.published)


def test_the_house_rule_takes_out_what_a_published_one_would_keep():
    found = removal(seen("7x7", broken_in_8d=9, broken_in_lay=9))
    assert found.verdict == "out"
    assert {answer.rule: answer.answer for answer in found.published}["slings: lay"] == "stay"


def test_rows_of_the_other_construction_are_left_out_and_memory_says_so():
    answers = published_answers(seen("7x7", broken_in_1in=3))
    assert "aircraft control (older): 7x19" not in {answer.rule for answer in answers}
    older = next(answer for answer in answers if answer.rule == "aircraft control (older): 7x7")
    assert (older.answer, older.how_known) == ("out", "from memory")
    assert "decides nothing" in older.asks
    assert removal(seen("7x7", broken_in_1in=3)).verdict == "stay"


@pytest.mark.parametrize("more", [
    dict(construction="1x19"), dict(construction="3x7"), dict(construction=None), dict(moved_mark=None), dict(crack=1), dict(red_rust="no"), dict(coat="plastic"),
    dict(coat=True), dict(broken_at_sleeve=None), dict(broken_at_sleeve=-1), dict(broken_at_sleeve=1.5), dict(broken_at_sleeve=True), dict(broken_in_8d=None),
    dict(broken_in_8d=50), dict(broken_in_8d=math.nan), dict(broken_in_lay="3"), dict(broken_in_8d=9, broken_in_lay=9, broken_in_strand_lay=8),
    dict(outer_wire_worn_percent=-1), dict(outer_wire_worn_percent=100), dict(below_nominal_percent=math.inf)])
def test_blanks_and_nonsense_are_refused(more):
    with pytest.raises(Refusal):
        seen(**more)


@pytest.mark.parametrize("more", [dict(broken_in_lay=1), dict(broken_in_8d=2, broken_in_lay=1, broken_in_strand_lay=2), dict(broken_in_6d=1),
                                  dict(broken_in_8d=3, broken_in_6d=2, broken_in_lay=1), dict(broken_in_8d=3, broken_in_30d=2)])
def test_counts_that_contradict_each_other_are_refused(more):
    with pytest.raises(Refusal, match="no more in the shorter length"):
        seen(**more)


@settings(max_examples=60, deadline=None)
@given(st.sampled_from(["7x7", "7x19"]), st.integers(0, 20), st.integers(0, 20))
def test_more_broken_wires_never_bring_a_piece_back(construction, some, more):
    order = ("stay", "out")
    few, many = removal(seen(construction, broken_in_8d=some)), removal(seen(construction, broken_in_8d=some + more))
    assert order.index(few.verdict) <= order.index(many.verdict)
    for left, right in zip(few.published, many.published):
        assert left.answer == "not counted" or order.index(left.answer) <= order.index(right.answer)


def test_only_cable_that_takes_sleeves():
    for wrong in ("1x19", "6x19", "", None):
        with pytest.raises(Refusal):
            broken_wires_allowed(wrong)
        with pytest.raises(Refusal):
            share_of_wires(1, wrong)
    for wrong in (-1, 50, 0.5, math.nan, True):
        with pytest.raises(Refusal):
            share_of_wires(wrong, "7x7")
    assert all(name in Inspection.__dataclass_fields__ for name in MEASURES)
