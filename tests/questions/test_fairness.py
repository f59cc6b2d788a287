"""Nothing but knowing the answer gives it away: place, rank, middle, length, drawing, wording, bytes."""

from __future__ import annotations

import json
from copy import deepcopy
from dataclasses import replace
from fractions import Fraction

import pytest
from a_family import DRAWS, SECRET, families, ids, instance, pairs

from rigcalc.questions import Stream, compose
from rigcalc.questions.giveaways import MARGIN, cautious_share, found_in, gains, wording_share

LOOKS = (DRAWS, 100, 350)  # what all of these find is looked at in SURE draws, before a family is said to give its answer away
SURE = 1000
CHOICES = ids("one choice") + ids("several choices")
ASKED = [name for name in ids() if families()[name].kind != "number"]


@pytest.mark.parametrize("family", ASKED)
def test_no_place_rank_or_length_gives_the_answer_away(family):
    """A look at few draws finds what may be; what it finds is looked at again in many."""
    if all(found_in(pairs(family, draws)) for draws in LOOKS):
        found = found_in(pairs(family, SURE))
        assert not found, "; ".join(f"'{name}' brings {share:.2f}, chance {chance:.2f}" for name, share, chance in found[:4])


def _planted(family, change):
    made = deepcopy(pairs(family, 120))
    for question, key in made:
        change(question, key)
    return {name for name, _, _ in found_in(made)}


def test_the_search_finds_the_longest_when_it_is_planted():
    def longer(question, key):
        for option in question["options"]:
            if option["letter"] == key["right"]["letter"]:
                option["text"] += ", and that is the whole reason for it, as everybody at this bench knows"

    assert "longest" in _planted("why-the-tail", longer)


def test_the_search_finds_a_planted_place_in_every_kind():
    def first(question, key):
        letters = [option["letter"] for option in question["options"]]
        key["right"] = {"letter": letters[0], "letters": letters[:2], "row": letters[:len(question["left"]) or None]}

    for family, name in (("why-the-tail", "place 1"), ("which-pass-the-gauge", "place, first 2"),
                         ("match-fault-and-cause", "line 1 place 1"), ("mark-what-no-gauge-finds", "place 1"),
                         ("order-of-crimps", "place")):
        assert name in _planted(family, first), family


def test_the_search_finds_a_planted_place_in_the_drawings_file():
    def last(question, key):
        svg = question["figure"]["svg"].replace(f">{key['right']['letter']}</text>", ">?</text>")
        question["figure"]["svg"] = svg + f"<text>{key['right']['letter']}</text>"

    assert "drawing rank 8" in _planted("mark-what-no-gauge-finds", last)


def test_the_search_finds_planted_words_in_a_match():
    def alike(question, key):
        texts = {option["letter"]: option for option in question["options"]}
        for at, letter in enumerate(key["right"]["row"]):
            texts[letter]["text"] += f" {question['left'][at]}"

    assert "the same words" in _planted("match-fault-and-cause", alike)


def test_counting_words_gains_little_over_all_families():
    """Trained on every other family's options; pooled, because one family's dozen statements are too few to judge by."""
    found = wording_share({name: pairs(name) for name in CHOICES})
    gained = sum(share - chance for share, chance in found.values()) / len(found)
    assert len(found) > 20 and gained <= MARGIN, f"{gained:.3f}"


def test_counting_words_finds_a_planted_word():
    made = {name: deepcopy(pairs(name)) for name in CHOICES}
    for name in made:
        for question, key in made[name]:
            rights = key["right"].get("letters") or [key["right"]["letter"]]
            for option in question["options"]:
                option["text"] += " properly" if option["letter"] in rights else ""
    found = wording_share(made)
    assert sum(share - chance for share, chance in found.values()) / len(found) > 0.3


def test_taking_the_cautious_option_gains_little_over_all_families():
    found = [cautious_share(pairs(name)) for name in CHOICES]
    gained = sum(share - chance for share, chance in found) / len(found)
    assert gained <= MARGIN, f"{gained:.3f}"


def test_taking_the_cautious_option_is_found_when_planted():
    made = deepcopy(pairs("why-the-tail"))
    for question, key in made:
        for option in question["options"]:
            option["text"] += ": stop and ask" if option["letter"] == key["right"]["letter"] else ""
    share, chance = cautious_share(made)
    assert share > chance + 0.5


def test_every_kind_with_options_is_searched():
    for kind in ("one choice", "several choices", "order", "match", "place"):
        assert len(gains(pairs(ids(kind)[0], 20))) >= 4, kind


# --- bytes --------------------------------------------------------------------------------------

def _others(drawn):
    """The same instance with other right answers and no missteps, as far as they change nothing that is shown."""
    kind, bare = drawn.family.kind, {"slips": (), "hint": "x", "working": "y"}
    if kind == "one choice":
        return [replace(drawn, right=at, **bare) for at in range(len(drawn.options))]
    if kind == "several choices":
        return [replace(drawn, right=tuple(range(count)), **bare) for count in range(1, len(drawn.options))]
    if kind == "number":
        return [replace(drawn, right=Fraction(12345), **bare)]
    if kind == "place":
        return [replace(drawn, right=letter, **bare) for letter in drawn.letters]
    if kind == "sheet":
        return [replace(drawn, boxes=tuple((name, label, _others(part)[0]) for name, label, part in drawn.boxes), **bare)]
    return [replace(drawn, right=tuple(reversed(drawn.right)), **bare)]


@pytest.mark.parametrize("family", ids())
def test_a_questions_bytes_do_not_depend_on_the_key(family):
    for number in range(8):
        drawn, stream = instance(family, number), Stream(SECRET, f"{family}/{number}")
        first = json.dumps(compose(drawn, stream, 3)[0])
        for other in _others(drawn):
            assert json.dumps(compose(other, stream, 3)[0]) == first


def test_a_choices_key_names_the_option_that_was_right():
    drawn, stream = instance("why-the-tail", 1), Stream(SECRET, "why-the-tail/1")
    for other in range(len(drawn.options)):
        assert compose(replace(drawn, right=other), stream, 3)[1]["right"]["shown"] == drawn.options[other].text


PRIVATE = ("misstep", "feedback", "family", "sha256", "section", "working", "hint", "seed", "secret", "right", "key", "id")


def _names(data) -> set[str]:
    if isinstance(data, dict):
        return set(data) | {name for one in data.values() for name in _names(one)}
    return {name for one in data for name in _names(one)} if isinstance(data, list) else set()


@pytest.mark.parametrize("family", ids())
def test_a_question_holds_nothing_of_its_key(family):
    question, key = pairs(family)[7]
    assert not _names(question) & set(PRIVATE)
    whole = json.dumps(question)
    words = [key["family"], key["family_sha256"], key["skill"], key["section"]]
    words += [slip["id"] for own in [key, *key.get("boxes", [])] for slip in own["missteps"] if "-" in slip["id"]]
    assert not [word for word in words if word in whole]


@pytest.mark.parametrize("family", ids("place"))
def test_a_drawing_that_is_asked_about_has_neutral_words(family):
    """The alt text, its letters taken out, is as it is for other right places; the spoken words tell more than it does."""
    import re

    places: dict[str, set] = {}
    for question, key in pairs(family):
        bare = re.sub(r"\b[A-H]\b", "?", question["figure"]["alt"])
        spoken = question["figure"].get("spoken", "")
        places.setdefault(bare, set()).add(key["right"]["letter"])
        assert "?" not in spoken and not re.search(r"\b(wrong|fault|reject|right answer)\b", spoken)
    told = [alt for alt, letters in places.items() if len(letters) == 1]
    assert len(told) < len(pairs(family)) / 3, told[:2]


def test_another_secret_draws_other_questions():
    for family in ids():
        one = [pairs(family)[number][0] for number in range(3)]
        two = [compose(instance(family, number, SECRET[::-1]), Stream(SECRET[::-1], f"{family}/{number}"), 1)[0]
               for number in range(3)]
        assert one != two, family
