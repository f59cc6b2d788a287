"""Nothing but knowing the answer gives it away: place, rank, middle, length, bytes."""

from __future__ import annotations

import json
from collections import Counter
from dataclasses import replace
from fractions import Fraction

import pytest
from a_family import SECRET, composed, families, ids, instance

from rigcalc.questions import Stream, compose

DRAWS = 1200
MARGIN = 0.10  # what a strategy may gain over chance


def _size(text: str):
    first = text.split()[0]
    try:
        return (0, Fraction(first), len(text))
    except (ValueError, ZeroDivisionError):
        return (1, Fraction(len(text)), 0)


def _strategies(question):
    """What somebody who knows nothing may try: each names a letter, or several alike."""
    options = question["options"]
    by_length = sorted(options, key=lambda one: len(one["text"]))
    by_size = sorted(options, key=lambda one: _size(one["text"]))
    lengths = [len(one["text"]) for one in options]
    tried = {f"place {at}": [one] for at, one in enumerate(options)}
    tried |= {f"size rank {at}": [one] for at, one in enumerate(by_size)}
    tried |= {f"length rank {at}": [one] for at, one in enumerate(by_length)}
    tried["longest"] = [one for one in options if len(one["text"]) == max(lengths)]
    tried["shortest"] = [one for one in options if len(one["text"]) == min(lengths)]
    tried["middle"] = by_size[1:-1]
    return {name: [one["letter"] for one in letters] for name, letters in tried.items()}


def _gains(made) -> dict[str, float]:
    found: Counter[str] = Counter()
    for question, key in made:
        for name, letters in _strategies(question).items():
            found[name] += (key["right"]["letter"] in letters) / len(letters)
    return {name: total / len(made) for name, total in found.items()}


@pytest.mark.parametrize("family", ids("one choice"))
def test_no_place_rank_or_length_gives_the_answer_away(family):
    made = [composed(family, number) for number in range(DRAWS)]
    chance = 1 / families()[family].answer.options
    for name, share in _gains(made).items():
        assert share <= chance + MARGIN, f"{name} succeeds in {share:.2f} of draws"


def test_the_search_finds_a_planted_giveaway():
    made = []
    for number in range(200):
        question, key = composed("why-the-tail", number)
        for option in question["options"]:
            if option["letter"] == key["right"]["letter"]:
                option["text"] += ", and that is the whole reason for it, as everybody at this bench knows"
        made.append((question, key))
    assert _gains(made)["longest"] > 0.9


@pytest.mark.parametrize("family", ids("one choice"))
def test_a_questions_bytes_do_not_depend_on_which_option_is_right(family):
    for number in range(25):
        drawn, stream = instance(family, number), Stream(SECRET, f"{family}/{number}")
        first = json.dumps(compose(drawn, stream, 3)[0])
        for other in range(len(drawn.options)):
            swapped, key = compose(replace(drawn, right=other, hint="x", working="y"), stream, 3)
            assert json.dumps(swapped) == first
            assert key["right"]["shown"] == drawn.options[other].text


@pytest.mark.parametrize("family", ids("number") + ids("order"))
def test_a_questions_bytes_do_not_depend_on_the_key(family):
    for number in range(15):
        drawn, stream = instance(family, number), Stream(SECRET, f"{family}/{number}")
        first = json.dumps(compose(drawn, stream, 3)[0])
        other = tuple(reversed(drawn.right)) if drawn.family.kind == "order" else Fraction(12345)
        swapped, _ = compose(replace(drawn, right=other, slips=(), working="", hint=""), stream, 3)
        assert json.dumps(swapped) == first


PRIVATE = ("misstep", "feedback", "family", "sha256", "section", "working", "hint", "seed", "secret", "right", "key")


def _names(data) -> set[str]:
    if isinstance(data, dict):
        return set(data) | {name for one in data.values() for name in _names(one)}
    return {name for one in data for name in _names(one)} if isinstance(data, list) else set()


@pytest.mark.parametrize("family", ids())
def test_a_question_holds_nothing_of_its_key(family):
    question, key = composed(family, 7)
    assert not _names(question) & set(PRIVATE)
    whole = json.dumps(question)
    words = [key["family"], key["family_sha256"], key["skill"], key["section"]]
    words += [slip["id"] for slip in key["missteps"] if "-" in slip["id"]]
    assert not [word for word in words if word in whole]


def test_a_drawing_is_the_same_whatever_the_order_is():
    drawn = instance("order-of-crimps", 1)
    assert drawn.figure["alt"].count("lettered") == 1
    assert ", ".join(drawn.right) not in drawn.figure["alt"] or list(drawn.right) == drawn.values["letters"]


def test_another_secret_draws_other_questions():
    for family in ids():
        one = [composed(family, number)[0]["text"] for number in range(12)]
        two = [composed(family, number, SECRET[::-1])[0]["text"] for number in range(12)]
        assert one != two, family
