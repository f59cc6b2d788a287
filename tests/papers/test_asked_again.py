"""A statement that turned out wrong is put right in the key of the very question that was shown."""

from __future__ import annotations

import msgspec
import pytest

from papers import a_class
from rigcalc.errors import Refusal
from rigcalc.papers.asked_again import key_again
from rigcalc.papers.blueprint import Blueprint, Cut, Place
from rigcalc.papers.correcting import family_correction
from rigcalc.questions import families_folder, mark
from rigcalc.questions.family import read_family
from rigcalc.shop import load_shop, sample_shop_path

SHOP = load_shop(sample_shop_path())


@pytest.fixture(scope="module", params=["told-at-hand-over", "what-after-the-gauge"])
def held(request, tmp_path_factory):
    """A paper that asks one family of statements, of several choices or of one, with that family."""
    family = read_family(families_folder() / f"{request.param}.toml")
    plan = Blueprint(form=1, id="one", version=1, title="One", minutes=10, book="closed", allowed="this page only.", calculator=True,
                     partial_credit="none", cut=Cut(60, "one named person", "A", "2026-01-01", "so"),
                     question=[Place(family.skill, family.level, 100)])
    made = a_class.set_class(tmp_path_factory.mktemp("asked"), blueprint=plan, families={family.id: family})
    record = a_class.key_of(made)
    return record, record["paper"]["questions"][0], record["keys"][0], family


def corrected(family, right=(), wrong=()):
    """The family with statements moved: those of `right` now stand as right, those of `wrong` as wrong."""
    rights = [one for one in family.right if one.en not in wrong] + [one for one in family.wrong if one.en in right]
    wrongs = [one for one in family.wrong if one.en not in right] + [
        msgspec.structs.replace(one, id=f"turned-{at}", feedback=one.feedback or {"en": "This turned out wrong."})
        for at, one in enumerate(family.right) if one.en in wrong]
    return msgspec.structs.replace(family, right=rights, wrong=wrongs, version=family.version + 1, sha256="0" * 64)


def again(record, key, family):
    return key_again(record, key, {family.id: family}, SHOP, a_class.SECRET)


def shown(question, key):
    """The texts shown, right ones first and wrong ones after."""
    letters = key["right"].get("letters") or [key["right"]["letter"]]
    return ([one for one in question["options"] if one["letter"] in letters], [one for one in question["options"] if one["letter"] not in letters])


def test_a_family_changed_only_elsewhere_gives_the_same_right_letters(held):
    record, question, key, family = held
    new = again(record, key, corrected(family))
    assert new["right"] == key["right"] and new["version"] == key["version"] + 1 and {one["id"] for one in new["missteps"]} == {one["id"] for one in key["missteps"]}
    assert {name: new[name] for name in ("place", "weight", "must_be_right", "working", "hint")} == {
        name: key[name] for name in ("place", "weight", "must_be_right", "working", "hint")}


def test_a_statement_that_turned_out_wrong_is_wrong_where_it_was_shown(held):
    """As one right option turned wrong, another shown one turned right."""
    record, question, key, family = held
    rights, wrongs = shown(question, key)
    turned, risen = rights[0], wrongs[0]
    new = again(record, key, corrected(family, right=[risen["text"]], wrong=[turned["text"]]))
    if key["kind"] == "one choice":
        assert new["right"]["letter"] == risen["letter"]
        told = mark(new, question, turned["letter"])
        assert not told["right"] and "This turned out wrong." in told["feedback"] and mark(new, question, risen["letter"])["right"]
    else:
        assert set(new["right"]["letters"]) == {one["letter"] for one in rights[1:]} | {risen["letter"]}
        assert f"{turned['letter']} does not belong" in mark(new, question, key["right"]["letters"])["feedback"]


def test_where_no_option_is_right_any_more_the_question_is_struck_there(held):
    record, question, key, family = held
    changed = corrected(family, wrong=[one["text"] for one in shown(question, key)[0]])
    assert again(record, key, changed) is None
    made = family_correction([record], "key again", family.id, "A", "It was wrong.", number=1, families={family.id: changed}, shop=SHOP,
                             secret=a_class.SECRET)
    assert made["papers"] == {record["paper_id"]: {"1": {"right": True, "struck": True}}}
    must = record | {"keys": [key | {"must_be_right": True}]}
    with pytest.raises(Refusal, match="must be right"):
        family_correction([must], "key again", family.id, "A", "It was wrong.", number=1, families={family.id: changed}, shop=SHOP, secret=a_class.SECRET)


def test_a_statement_with_other_words_is_another_question(held):
    record, question, key, family = held
    gone = shown(question, key)[0][0]["text"]
    changed = corrected(family)
    changed = msgspec.structs.replace(changed, right=[msgspec.structs.replace(one, en=one.en + " at once") if one.en == gone else one for one in changed.right])
    with pytest.raises(Refusal, match="another question|gave no question"):
        again(record, key, changed)
    with pytest.raises(Refusal, match="another question"):
        again(record, key, msgspec.structs.replace(corrected(family), ask={"en": "What now?"}))


def test_a_statement_that_stands_twice_and_two_right_ones_of_one_choice_are_refused(held):
    record, question, key, family = held
    rights, wrongs = shown(question, key)
    twice = msgspec.structs.replace(corrected(family, right=[wrongs[0]["text"]]), wrong=family.wrong)
    with pytest.raises(Refusal, match="stands as right and as wrong"):
        again(record, key, twice)
    if key["kind"] == "one choice":
        with pytest.raises(Refusal, match="2 options that are right"):
            again(record, key, corrected(family, right=[wrongs[0]["text"]]))
