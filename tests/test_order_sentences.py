"""What customers write, held against the class nobody: honest orders pass, all others are refused or sent to another class.

Each line is a whole order's `what` and `where` as a customer would put it, with use nobody, near nobody, movement none, outdoors.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from rigcalc._order_words import refuse_words, says_nobody
from rigcalc.assembly import MissingFacts, Order, job_sheet
from rigcalc.errors import Refusal
from rigcalc.shop import load_shop, sample_shop_path
from rigcalc.shop.order_file import read_order_file

FOLDER = Path(__file__).resolve().parents[1] / "lessons" / "orders"
SENTENCES = Path(__file__).parent / "sentences"
SHOP = load_shop(sample_shop_path())


def order(sentence, **facts):
    what, where = sentence.split(" | ")
    plain = {"use": "nobody", "near": "nobody", "movement": "none", "held": "no", "lifts": "no", "load": "60 lbf", "load_from": "the customer", "service": "outdoor",
             "ends": "two thimble eyes", "length": "2 m", "measured": "pin to pin", "quantity": "1", "tightened": "no", "installer": "the customer",
             "reel": "R4", "tool": "LB"}
    return Order(what=what, where=where, **{**plain, **facts})


# One order a line: what | where.
HONEST = (SENTENCES / "honest.txt").read_text(encoding="utf-8")
SPOKEN_OF = (SENTENCES / "not_for_nobody.txt").read_text(encoding="utf-8")


def lines(text):
    return [line for line in text.splitlines() if line]


def outcome(sentence) -> str:
    """The limit of the sheet that is made, or the refusal; a question asked back is neither."""
    try:
        return job_sheet(order(sentence), SHOP).limit_shown
    except MissingFacts as asked:
        return f"Asked: {asked}"
    except Refusal as refused:
        return str(refused)


def test_an_honest_order_is_made():
    found = {sentence: outcome(sentence) for sentence in lines(HONEST)}
    assert {sentence: said for sentence, said in found.items() if not said.startswith("360 lbf")} == {}


def test_what_people_are_under_on_or_beside_is_never_made_for_nobody():
    found = {sentence: outcome(sentence) for sentence in lines(SPOKEN_OF)}
    words = ("for that kind of work", "enter --use people", "enter --movement moves", "enter --service immersed", "new cable with new sleeves")
    assert {sentence: said for sentence, said in found.items()
            if not said.startswith("Refused: ") or not any(one in said for one in words)} == {}


# Written after the lists of words were closed: what no list knows is never made unasked.
@pytest.mark.parametrize("sentence", lines((SENTENCES / "answered_for_or_refused.txt").read_text(encoding="utf-8")))
def test_what_no_list_knows_is_answered_for_by_a_named_person_or_refused(sentence):
    with pytest.raises(Refusal) as refused:
        job_sheet(order(sentence), SHOP)
    if isinstance(refused.value, MissingFacts):
        question, = refused.value.questions
        assert "(--seen-by)?" in question


def test_the_person_who_answers_for_unknown_work_stands_on_the_sheet():
    made = job_sheet(order("wall tie | barn", seen_by="Parvel Minch"), SHOP)
    assert {item.label: item.value for item in made.order}["Gone through with whoever asked by"] == "Parvel Minch"


# --- unknown work where people can be, with a designer -----------------------------------------------------

DESIGNED = {"use": "people", "near": "people walk past", "designer": "Corla Venn", "designer_factor": "8", "designer_load": "70 lbf", "designer_date": "2026-03-11"}
MOVES = DESIGNED | {"use": "nobody", "near": "nobody", "movement": "moves"}


@pytest.mark.parametrize("facts", [DESIGNED, MOVES])
def test_beside_a_designer_unknown_work_is_asked_who_says_that_it_holds_and_lifts_nobody(facts):
    with pytest.raises(MissingFacts) as asked:
        job_sheet(order("plank for the twins | apple tree", **facts), SHOP)
    question, = asked.value.questions
    assert "(--seen-by)?" in question and "nobody hangs, sits or stands on it or is held or caught by it, and that nothing is lifted or lowered" in question
    assert "has nobody near" not in question and "moves nothing" not in question


@pytest.mark.parametrize("facts", [{}, DESIGNED | {"use": "nobody", "near": "nobody"}])
def test_with_nobody_near_and_still_the_question_is_that_of_nobody(facts):
    with pytest.raises(MissingFacts) as asked:
        job_sheet(order("plank for the twins | apple tree", **facts), SHOP)
    assert "it holds nobody, moves nothing and has nobody near: first name" in asked.value.questions[0]


@pytest.mark.parametrize("facts", [DESIGNED, MOVES])
def test_what_that_person_says_stands_on_the_sheet(facts):
    made = job_sheet(order("wall tie | barn", seen_by="Parvel Minch", **facts), SHOP)
    said = {item.label: item.value for item in made.order}["Gone through with whoever asked by"]
    assert said == "Parvel Minch, who says: nobody hangs, sits or stands on it or is held or caught by it, and nothing is lifted or lowered"


@pytest.mark.parametrize("sentence", ["brace for a gate | farm", "wires for climbing roses | house wall", "trellis wire | garden wall"])
def test_plain_work_is_made_for_a_designer_without_that_question(sentence):
    made = job_sheet(order(sentence, **DESIGNED), SHOP)
    assert "Gone through with whoever asked by" not in {item.label for item in made.order}
    # a name that nobody asked for stands there, and no statement is put in that mouth
    named = job_sheet(order(sentence, seen_by="Parvel Minch", **DESIGNED), SHOP)
    assert {item.label: item.value for item in named.order}["Gone through with whoever asked by"] == "Parvel Minch"


@pytest.mark.parametrize("sentence", ["plank to hoist the twins | apple tree", "wire to lift a crate | barn", "swing for the twins | apple tree", "plank that is lowered to the twins | apple tree", "harness wire | barn"])
def test_words_for_lifting_and_for_people_held_stay_refused_whoever_went_through_it(sentence):
    with pytest.raises(Refusal, match="for that kind of work"):
        job_sheet(order(sentence, seen_by="Parvel Minch", **DESIGNED), SHOP)


@pytest.mark.parametrize("sentence", lines((SENTENCES / "answered_for_or_refused.txt").read_text(encoding="utf-8")))
def test_what_no_list_knows_is_never_made_unasked_beside_a_designer(sentence):
    with pytest.raises(Refusal) as refused:
        job_sheet(order(sentence, **DESIGNED), SHOP)
    if isinstance(refused.value, MissingFacts):
        question, = refused.value.questions
        assert "(--seen-by)?" in question


@pytest.mark.parametrize("name", ["me", "the shop", "-", "John Doe", "Jane Roe", "A. N. Other", "test test", "xxx yyy", "Parvel", "Name Surname", "aaaa bbbb"])
def test_a_stand_in_answers_for_nothing(name):
    for facts in ({}, DESIGNED):
        with pytest.raises(Refusal, match="seen by"):
            job_sheet(order("wall tie | barn", seen_by=name, **facts), SHOP)


@pytest.mark.parametrize("fact, said", [("held", "climbs on"), ("lifts", "lifts, lowers or pulls")])
@pytest.mark.parametrize("use", ["nobody", "people"])
def test_who_holds_it_and_what_it_lifts_are_answered_apart_and_yes_is_refused_for_every_use(fact, said, use):
    with pytest.raises(Refusal, match=said):
        job_sheet(order("trellis wire | garden wall", use=use, **{fact: "yes"}), SHOP)
    with pytest.raises(MissingFacts) as asked:
        job_sheet(order("trellis wire | garden wall", **{fact: None}), SHOP)
    assert f"--{fact} yes or no" in asked.value.questions[0]
    with pytest.raises(Refusal, match="accepted: yes, no"):
        job_sheet(order("trellis wire | garden wall", **{fact: "not really"}), SHOP)


# --- clauses that say who is on it, or caught by it ------------------------------------------------------------

ON_IT, ONLY_THINGS = (lines((SENTENCES / f"{name}.txt").read_text(encoding="utf-8")) for name in ("somebody_on_it", "things_on_it"))


@pytest.mark.parametrize("facts", [{}, DESIGNED, MOVES | {"seen_by": "Parvel Minch"}])
def test_a_clause_by_which_somebody_is_on_it_or_caught_by_it_is_refused_for_every_use(facts):
    found = {}
    for sentence in ON_IT:
        with pytest.raises(Refusal) as refused:
            job_sheet(order(sentence, **facts), SHOP)
        found[sentence] = str(refused.value)
    assert len(found) >= 90 and {sentence: said for sentence, said in found.items() if "for that kind of work" not in said} == {}


@pytest.mark.parametrize("facts", [{}, DESIGNED])
def test_things_plants_and_birds_on_it_and_people_beside_it_are_nobody_held(facts):
    found = {}
    for sentence in ONLY_THINGS:
        try:
            job_sheet(order(sentence, **facts), SHOP)
        except Refusal as refused:
            found[sentence] = str(refused)
    assert len(ONLY_THINGS) >= 110 and {sentence: said for sentence, said in found.items() if "for that kind of work" in said} == {}


@pytest.mark.parametrize("sentence", ["trellis wire beside the bench that we sit on | garden", "trellis wire beside the path she walks along | garden", "name board that people walk past | edge of a field"])
def test_people_beside_it_are_somebody(sentence):
    with pytest.raises(Refusal, match="enter --use people"):
        job_sheet(order(sentence), SHOP)
    assert job_sheet(order(sentence, **DESIGNED, seen_by="Parvel Minch"), SHOP).limit_shown


@pytest.mark.parametrize("sentence", ["wire | orchard, it catches whoever slips", "wire | steep bank, so that nobody falls"])
def test_where_it_is_can_say_it_too(sentence):
    with pytest.raises(Refusal, match="for that kind of work"):
        job_sheet(order(sentence, **DESIGNED), SHOP)


def test_whoever_is_near_can_be_caught_by_it_too():
    with pytest.raises(Refusal, match="she slips"):
        job_sheet(order("trellis wire | garden wall", use="people", near="the gardener, it is there if she slips"), SHOP)


@pytest.mark.parametrize("name", ["near", "installer", "load_from"])
@pytest.mark.parametrize("told", ["visitors walk on it", "the gardener, hung on it for a trial", "kids scramble up it", "the fitter, who is locked on to it", "workers, who are lowered by it", "measured with Tilly on it",
                                  "a man of 80 kg", "two people, weighed", "the crate we raise with it"])
def test_a_sentence_beside_it_that_puts_a_body_on_it_is_refused(name, told):
    with pytest.raises(Refusal, match="for that kind of work"):
        job_sheet(order("trellis wire | garden wall", **DESIGNED | {name: told}), SHOP)


@pytest.mark.parametrize("told", ["guests sit on the benches under it", "people go by it to the shop", "the customer, who carried the curtain on a scale", "two people weighed the gate", "the fitter, with his hand on it while it is tightened",
                                  "people walk below; a lamp hangs from it", "pupils walk under it at noon", "a keeper walks along the lane below"])
def test_a_sentence_of_people_who_are_only_beside_it_is_not(told):
    try:
        job_sheet(order("trellis wire | garden wall", **DESIGNED | {"near": told}), SHOP)
    except Refusal as refused:
        assert "for that kind of work" not in str(refused)


@pytest.mark.parametrize("facts", [{"near": "nobody: in case of a fall it lands on the plants"}, {"use": "people", "near": "if it sags somebody trips over it"},
                                   {"installer": "the customer, my son holds it while I turn the nut"}, {"measured": "pin to pin, as she holds the tape"}])
def test_whoever_can_trip_over_it_or_holds_the_tape_is_not_held_by_it(facts):
    try:
        job_sheet(order("trellis wire | garden wall", **facts), SHOP)
    except Refusal as refused:
        assert "for that kind of work" not in str(refused)


def test_the_table_is_long_enough_to_tell_something():
    assert len(lines(HONEST)) >= 60 and len(lines(SPOKEN_OF)) + len(list(FOLDER.glob("*.toml"))) >= 120


@pytest.mark.parametrize("sentence, movement", [
    ("counterbalance of a hatch | cellar", "moves"), ("lamp over a kitchen island | house", "none"), ("stay | a radio tower on the hill", "none")])
def test_the_class_that_was_asked_for_is_then_taken(sentence, movement):
    with pytest.raises(MissingFacts) as asked:
        job_sheet(order(sentence, use="people", near="people", movement=movement), SHOP)
    first, *designed = asked.value.questions
    assert "(--seen-by)?" in first and len(designed) == 4                   # the designer's name, factor, load and day


@pytest.mark.parametrize("sentence", ["deck rails, cable infill | garden deck", "jack stay for painters to clip on to | facade",
                                      "tie-down for a load on a truck | yard", "support for a rope bed | shed"])
def test_guarding_an_edge_holding_a_person_and_loads_on_vehicles_are_refused_for_people_too(sentence):
    with pytest.raises(Refusal, match="for that kind of work"):
        job_sheet(order(sentence, use="people", near="people"), SHOP)


def test_a_piece_s_own_name_is_read_too():
    from rigcalc.assembly import OrderPiece

    with pytest.raises(Refusal, match="for that kind of work"):
        job_sheet(order("wires | garden", length=None, quantity=None, pieces=(OrderPiece("left side of the swing", "2 m", "1"),)), SHOP)


# --- pool air -------------------------------------------------------------------------------------------

@pytest.mark.parametrize("where", ["natatorium", "spa, next to the plunge bath", "swimming bath changing room", "hammam", "water park", "thermal baths", "hotel sauna",
                                   "lido", "leisure centre", "jacuzzi", "indoor pool", "poolside", "hydrotherapy room", "Turkish bath", "steam room", "aquatic centre"])
@pytest.mark.parametrize("service", ["dry", "outdoor", "marine"])
def test_the_air_of_a_bath_is_the_service_immersed(where, service):
    for use in ("nobody", "people"):
        with pytest.raises(Refusal, match="enter --service immersed"):
            job_sheet(order(f"trellis wire | {where}", reel="R5", tool=None, service=service, use=use, near=use), SHOP)


@pytest.mark.parametrize("where", ["beside the fish pool", "beside the bird bath", "garden, by the koi pool"])
def test_a_fish_pool_is_no_bath(where):
    assert job_sheet(order(f"trellis wire | {where}"), SHOP).limit_shown.startswith("360 lbf")


# --- nobody, and nothing but nobody -------------------------------------------------------------------------

@pytest.mark.parametrize("near", [
    "nobody", "Nobody", "nobody.", "no one", "no-one", "nobody: if it lets go, the gate only sags", "nobody: plants only, against the wall",
    "nobody: it can only drop on the plant benches", "no one: fenced off", "nobody: a pin hangs beside its hole", "nobody: it lies round a net",
    "nobody : locked and bricked up"])
def test_nobody_is_taken(near):
    assert says_nobody(near)


@pytest.mark.parametrize("near", [
    "nobody most days", "nobody, only at weekends the family", "nobody: only at weekends the family", "nobody, fenced off", "nobody really", "none", "none but the crew",
    "nobody except the audience", "no one, usually", "the gardener", "hardly anybody", "nobody: closed at night", "nobody: not when it is windy", "nobody: I keep the key",
    "nobody: the cleaner goes round it", "nobody: except me", "nobody: in winter", "nobody: it is empty now", "nobody: people never go there", "nobody: so far",
    "nobody: the yard is closed on Sundays", "nobody knows", "nobody (children play elsewhere)", "not nobody", "nobody; sometimes a walker", "nobody: mostly plants",
    "nobody:: we checked", "nobody: once a year a fitter", "nobody: staff keep away", "nobody but plants", "0", "no", "n/a"])
def test_nobody_with_a_but_a_person_or_a_time_is_somebody(near):
    assert not says_nobody(near)
    with pytest.raises(Refusal, match="say who can be there"):
        job_sheet(order("trellis wire | garden wall", near=near), SHOP)


@pytest.mark.parametrize("name", sorted(path.stem for path in FOLDER.glob("*.toml")))
def test_of_the_shop_s_own_orders_none_for_people_or_worse_is_made_for_nobody(name):
    made = read_order_file(str(FOLDER / f"{name}.toml"))
    if made.use == "nobody" and not name.startswith("13"):
        assert says_nobody(made.near)
        return
    from dataclasses import replace

    with pytest.raises(Refusal):
        job_sheet(replace(made, use="nobody", near="nobody", movement="none"), SHOP)


@pytest.mark.parametrize("what", ["fence wire, the post is craned by it", "gate wire for the gate that is craned in", "fence wire that heaves the post", "fence wire slung from the loader", "fence wire to draw the post up"])
def test_lifting_by_another_word_is_refused_too(what):
    with pytest.raises(Refusal, match="speaks of"):
        refuse_words(what, "field")


@pytest.mark.parametrize("what, where, reason", [
    ("lantern wire", "terrace where guests sit", "the use nobody together with 'guests'"), ("lantern wire", "over the patio, tables at which guests eat", "the use nobody together with 'guests'"),
    ("lantern wire", "terrace where guests sit on it", "speaks of 'guests sit'"), ("plank where guests sit", "terrace", "speaks of 'guests sit'")])
def test_a_place_where_people_sit_is_people_near_and_a_seat_is_a_seat(what, where, reason):
    with pytest.raises(Refusal, match=reason):
        job_sheet(order(f"{what} | {where}"), SHOP)
