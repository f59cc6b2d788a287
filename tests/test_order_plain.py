"""The words known to speak of things alone say nothing that the long lists refuse or ask about."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from many import many

from rigcalc import _order_bodies as bodies
from rigcalc import _order_plain as plain
from rigcalc import _order_words as words
from rigcalc.errors import Refusal

ORDERS = Path(__file__).resolve().parent.parent / "lessons" / "orders"
_THINGS = sorted(plain._ONLY_THINGS - {""})
_JOINED = st.sampled_from([" ", ", ", "; ", ": "])


def _some(words: list[str]) -> st.SearchStrategy[list[str]]:
    return st.lists(st.sampled_from(words), min_size=1, max_size=14)


@pytest.fixture
def by_the_lists(monkeypatch):
    """From here on every text is read by the long lists."""
    for module in (words, bodies):
        for name in ("only_things", "known_sentence", "says_nothing_refused"):
            monkeypatch.setattr(module, name, lambda *texts: False, raising=False)


def _said(text: str) -> str:
    """What the long lists say of an order in these words, or of its place."""
    return _refused(text) or words._refused("brace", text) or bodies.somebody_named(text) or bodies.somebody_named("brace", text) or words.beside_it(text)


def _refused(what: str, where: str = "") -> str:
    try:
        words.refuse_words(what, where)
    except Refusal as refused:
        return str(refused)
    return ""


def _told(text: str) -> str:
    try:
        words.refuse_beside(text)
    except Refusal as refused:
        return str(refused)
    return ""


_EACH = settings(max_examples=many(150, 2000), deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.filter_too_much])


@_EACH
@given(_some(_THINGS), _JOINED)
def test_words_of_things_say_nothing_the_lists_refuse(by_the_lists, what, between):
    text = between.join(what)
    if plain.only_things(text):
        assert _said(text) == ""
        assert plain.says_nothing_refused(text, f"{text} over visitors") and _refused(text, f"{text} over visitors") == ""


@pytest.mark.parametrize("text", sorted(plain._TOLD))
def test_the_known_sentences_say_nothing_the_lists_refuse(by_the_lists, text):
    assert plain.known_sentence(text.capitalize()) and _told(text.capitalize()) == ""


def test_the_known_sentences_stand_in_the_invented_orders():
    """One that stands there no more would only be a text that nobody reads by the lists."""
    stand = {value.lower() for path in ORDERS.glob("*.toml") for value in tomllib.loads(path.read_text(encoding="utf-8")).values() if isinstance(value, str)}
    assert plain._TOLD <= stand


def test_any_two_of_the_words_beside_each_other_say_nothing_either(by_the_lists):
    """Each word before twenty others, another twenty for each."""
    for number, first in enumerate(_THINGS[::many(2, 1)]):
        pairs = [pair for second in _THINGS[number * 7 % 20::9] if plain.only_things(pair := f"{first} {second}")]
        assert len(pairs) > 12 and _said(", ".join(pairs)) == ""


@pytest.mark.parametrize("said", ["plank the twins sit on", "brace for my weight", "line that nobody leans on", "gate for pickers", "lane visitors walk along", "wire vines", "bench", "cable machine", "cover for a 4x4", "line for getting big stone over a garden gate", "wire for getting across to the apple trees"])
def test_the_lists_know_what_a_body_does(by_the_lists, said):
    assert _said(said)
    assert not plain.only_things(said)


@pytest.mark.parametrize("said", ["it catches visitors", "she hangs on it", "my weight", "visitors walk on it", "the gardener lets go", "the fitter, locked on to it", "walkers hung on it", "kids scramble up it", "visitors hold it as a handrail", "a man of 80 kg", "two people, weighed", "measured with Tilly on it"])
def test_the_lists_know_who_hangs_on_it(by_the_lists, said):
    assert _told(said)
    assert not plain.known_sentence(said)


@pytest.mark.parametrize("what", ["brace for a sagging gate of 12 x 4 ft", "shade curtain over plant benches", "Trellis wires, south wall; roses"])
def test_plain_orders_are_known_by_their_words(what):
    assert plain.only_things(what)


@pytest.mark.parametrize("what", ["brace my weight", "gate's brace", "wire for Max", "seat", "gate\u017f", "a child", "wire; I sit", "line/ride", "trellis that swings", "wire the twins walk along"])
def test_any_other_word_or_sign_is_read(what):
    assert not plain.only_things(what)


def test_a_plain_order_and_one_more_word_are_read_as_ever():
    words.refuse_words("brace for a sagging gate", "field gate of a hill farm")
    with pytest.raises(Refusal, match="hoist"):
        words.refuse_words("brace for a sagging gate, to hoist", "field gate of a hill farm")
    with pytest.raises(Refusal, match="hoist"):
        words.refuse_words("brace for a sagging gate", "field gate of a hill farm, beside the hoist")
    with pytest.raises(Refusal):
        words.refuse_beside("the farmer", "the farmer, who hangs on it")
