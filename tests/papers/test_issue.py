from __future__ import annotations

import dataclasses
import json
import stat

import pytest

from papers import a_class
from rigcalc.errors import Refusal
from rigcalc.papers import issue
from rigcalc.papers.issue import make_paper, practice_paper
from rigcalc.papers.marking import mark_practice
from rigcalc.papers.records import canonical, sha256
from rigcalc.questions import Stream, compose
from rigcalc.room import access
from rigcalc.shop import load_shop, sample_shop_path

PERSON = {"id": "tk", "name": "Tomo Kessig", "extra_minutes": 0, "larger_print": False}


def made(secret=a_class.SECRET, class_id="spring", person=PERSON):
    return make_paper(class_id, person, a_class.short_blueprint(), a_class.three_families(), load_shop(sample_shop_path()),
                      secret, a_class.NOW)


def texts(paper):
    return sorted(question["text"] for question in paper["questions"])


def words_in(value):
    if isinstance(value, dict):
        for field, inner in value.items():
            yield field
            yield from words_in(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from words_in(inner)
    else:
        yield str(value)


def leaks(paper: dict, record: dict) -> list[str]:
    """What of the key stands in the paper: families, missteps, feedback, workings, secret."""
    private = {record["blueprint"]["sha256"], a_class.SECRET.hex()} - {""}
    for key in record["keys"]:
        private |= {key["family"], key["family_sha256"], key["skill"], key["working"], key["hint"], key["section"]}
        private |= {slip["id"] for slip in key["missteps"]} | {slip["feedback"] for slip in key["missteps"]}
        private |= {key["right"]["exact"]} if "exact" in key["right"] else set()
    text = "\n".join(words_in(paper))
    fields = set(words_in(paper)) & {"right", "key", "keys", "secret", "seed", "family", "misstep", "missteps", "skill",
                                     "must_be_right", "weight", "working", "hint", "level"}
    return sorted(str(word) for word in private if word and len(str(word)) > 3 and str(word) in text) + sorted(fields)


def test_a_paper_holds_nothing_of_its_key():
    paper, record = made()
    assert leaks(paper, record) == []


@pytest.mark.parametrize("leak", [
    lambda paper, record: paper["questions"][0].update(family="x"),
    lambda paper, record: paper["questions"][1].update(instruction=record["keys"][1]["missteps"][0]["id"]),
    lambda paper, record: paper["questions"][0].update(instruction=record["keys"][0]["family"]),
    lambda paper, record: paper.update(note=a_class.SECRET.hex()),
    lambda paper, record: paper["questions"][2].update(text=record["keys"][2]["working"]),
])
def test_a_planted_leak_is_caught(leak):
    paper, record = made()
    leak(paper, record)
    assert leaks(paper, record)


def test_swapping_the_right_option_or_the_key_changes_no_byte_of_the_paper(monkeypatch):
    plain, record = made()
    before = [dict(key["right"]) for key in record["keys"]]
    draw = issue.draw

    def swapped(family, stream, shop):
        instance = draw(family, stream, shop)
        other = {"one choice": lambda: (instance.right + 1) % max(1, len(instance.options)),
                 "number": lambda: instance.right * 2, "order": lambda: tuple(reversed(instance.right))}
        return dataclasses.replace(instance, right=other[family.kind](), slips=())

    monkeypatch.setattr(issue, "draw", swapped)
    other, other_record = made()
    assert canonical(other) == canonical(plain)
    changed = [was != key["right"] for was, key in zip(before, other_record["keys"])]
    assert all(changed)


def test_each_candidate_class_and_secret_has_other_papers():
    plain = texts(made()[0])
    assert texts(made()[0]) == plain
    others = [made(secret=bytes(32))[0], made(class_id="autumn")[0], made(person=PERSON | {"id": "do"})[0]]
    assert all(texts(other) != plain for other in others)
    assert len({made()[0]["paper_id"]} | {other["paper_id"] for other in others}) == 4


def test_another_class_secret_agrees_at_chance_level():
    """Choices: with four options another secret's right letter agrees about once in four (binomial, 5 sd)."""
    family, shop, same, tries = a_class.three_families()["what-the-gauge-misses"], load_shop(sample_shop_path()), 0, 400
    for number in range(tries):
        letters = [compose(issue.draw(family, Stream(secret, f"paper|c|{number}|1"), shop),
                           Stream(secret, f"paper|c|{number}|1"), 1)[1]["right"]["letter"]
                   for secret in (a_class.SECRET, bytes(32))]
        same += letters[0] == letters[1]
    assert abs(same / tries - 0.25) < 5 * (0.25 * 0.75 / tries) ** 0.5


def test_parallel_papers_ask_the_same_skills_and_levels_in_other_orders():
    records = [made(person=PERSON | {"id": f"c{number}"})[1] for number in range(12)]
    asked = [sorted((key["place"], key["skill"], key["level"], key["weight"]) for key in record["keys"])
             for record in records]
    assert all(one == asked[0] for one in asked)
    assert len({tuple(key["place"] for key in record["keys"]) for record in records}) > 1


def test_key_records_are_private_and_papers_are_elsewhere(held):
    for one in held.issued:
        assert all(stat.S_IMODE((held.keys / f"{one.paper_id}.{ending}").stat().st_mode) == 0o600 for ending in ("json", "key"))
        assert sha256((held.room / "papers" / f"{one.paper_id}.json").read_bytes()) == one.paper_sha256
    assert stat.S_IMODE(held.keys.stat().st_mode) == 0o700 and stat.S_IMODE(held.desk.stat().st_mode) == 0o700
    assert not held.keys.is_relative_to(held.room)
    kept = [path for path in held.room.rglob("*") if path.is_file()]
    record = a_class.key_of(held)
    held_words = b"\n".join(path.read_bytes() for path in kept)
    assert record["keys"][0]["family"].encode() not in held_words
    assert held.issued[0].token.encode() not in held_words


def test_extra_time_and_larger_print_stand_on_the_candidates_paper(held):
    assert [a_class.paper_of(held, number)["minutes"] for number in (0, 1)] == [30, 40]
    assert [a_class.paper_of(held, number)["larger_print"] for number in (0, 1)] == [False, True]


def test_issued_twice_the_paper_stands_and_the_address_is_new(tmp_path):
    first = a_class.set_class(tmp_path)
    second = a_class.set_class(tmp_path)
    for old, new in zip(first.issued, second.issued):
        assert (old.paper_id, old.paper_sha256, old.key_sha256) == (new.paper_id, new.paper_sha256, new.key_sha256)
        assert access.lookup(first.room, old.token) is None
        assert access.lookup(first.room, new.token) == {"kind": "sit", "id": new.paper_id}


def test_issued_again_from_another_blueprint_is_refused_and_nothing_changes(tmp_path):
    first = a_class.set_class(tmp_path)
    before = {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()}
    with pytest.raises(Refusal, match="new class"):
        a_class.set_class(tmp_path, blueprint=a_class.short_blueprint(minutes=20))
    assert {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()} == before
    assert access.lookup(first.room, first.issued[0].token)


@pytest.mark.parametrize("roster, says", [
    ([], "an empty roster"), ([{"id": "a|b", "name": "A"}], "letters, digits"), ([{"id": "../a", "name": "A"}], "letters"),
    ([{"id": "a", "name": ""}], "the name ''"), ([{"id": "a", "name": "A\n"}], "a name of 1 to 120"),
    ([{"id": "a", "name": "A"}, {"id": "A", "name": "B"}], "twice"),
    ([{"id": "a", "name": "A", "extra_minutes": 1.5}], "whole minutes"), ([{"name": "A"}], "the candidate id None"),
])
def test_a_bad_roster_is_refused_before_anything_is_written(tmp_path, roster, says):
    with pytest.raises(Refusal, match="Refused") as refused:
        a_class.issue_papers("c", roster, a_class.short_blueprint(), a_class.three_families(), load_shop(sample_shop_path()),
                             a_class.SECRET, tmp_path / "room", tmp_path / "desk")
    assert says in str(refused.value)
    assert not [path for path in tmp_path.rglob("*") if path.is_file()]


def test_a_phrase_is_no_secret(tmp_path):
    for secret in ("correct horse", b"short"):
        with pytest.raises(Refusal, match="32 random bytes"):
            a_class.set_class(tmp_path, secret=secret)


def test_a_practice_paper_is_headed_so_and_marked_at_once():
    made_paper = practice_paper(a_class.short_blueprint(), a_class.three_families(), load_shop(sample_shop_path()),
                                Stream(a_class.SECRET, "practice"))
    paper, keys = made_paper
    assert paper["title"].startswith("PRACTICE") and paper["practice"] is True
    typed = {key["slot"]: key["right"].get("letter") or key["right"].get("row") or key["right"]["shown"] for key in keys}
    assert [slot["right"] for slot in mark_practice(paper, keys, typed)] == [True, True, True]
    marked = mark_practice(paper, keys, {})
    assert [(slot["right"], slot["feedback"]) for slot in marked] == [(False, "Not answered.")] * 3


def test_no_random_module_is_used_where_papers_are_drawn():
    from rigcalc.home import installed_folder

    for folder in ("questions", "papers"):
        for path in (installed_folder() / "rigcalc" / folder).glob("*.py"):
            for line in path.read_text().splitlines():
                assert not line.strip().startswith(("import random", "from random", "import numpy.random")), path


def test_json_of_a_paper_is_one_exact_form(held):
    data = (held.room / "papers" / f"{held.issued[0].paper_id}.json").read_bytes()
    assert canonical(json.loads(data)) == data
