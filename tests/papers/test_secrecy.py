"""Each bar of what a paper can promise, with a planted leak that its check must catch."""

from __future__ import annotations

import base64
import copy
import os
import shutil
from collections import Counter

import pytest

from many import many
from papers import a_class
from papers.secrecy import disk_leaks, paper_leaks, served_leaks
from rigcalc.papers.blueprint import load_blueprint
from rigcalc.papers.issue import make_paper
from rigcalc.questions import Stream, compose, draw, load_families
from rigcalc.shop import load_shop, sample_shop_path

PERSON = {"id": "tk", "name": "Tomo Kessig", "extra_minutes": 0, "larger_print": False}


@pytest.fixture(scope="module")
def families():
    return load_families()


@pytest.fixture(scope="module")
def shop():
    return load_shop(sample_shop_path())


@pytest.fixture(scope="module")
def full(families, shop):
    """Ten full papers with their keys."""
    plan = load_blueprint("full", families)
    return [make_paper("spring", PERSON | {"id": f"c{number}"}, plan, families, shop, a_class.SECRET, a_class.NOW)
            for number in range(10)]


# -- a paper holds no key, secret, seed, family or misstep id ---------------------------------------------------------------

def test_no_full_paper_holds_anything_of_its_key(full):
    assert [paper_leaks(paper, record, a_class.SECRET) for paper, record in full] == [[]] * len(full)


def test_every_family_that_ships_keeps_its_key_to_itself(families, shop):
    found = {}
    for name, family in families.items():
        stream = Stream(a_class.SECRET, f"secrecy|{name}")
        question, key = compose(draw(family, stream, shop), stream, 1)
        record = {"keys": [key], "blueprint": {"sha256": "b" * 64}, "shop_sha256": shop.digest}
        leaks = paper_leaks({"questions": [question]}, record, a_class.SECRET)
        if leaks:
            found[name] = leaks
    assert found == {}


def plant_in(question: dict, words: str) -> None:
    """Hide words where a question is shown: in a drawing, an option, a box, or else in its instruction."""
    if question["figure"]:
        question["figure"] = question["figure"] | {"svg": question["figure"]["svg"] + f"<!-- {words} -->"}
    elif question["options"]:
        question["options"][0] = question["options"][0] | {"title": words}
    elif question["boxes"]:
        question["boxes"][0] = question["boxes"][0] | {"note": words}
    else:
        question["instruction"] = f"{question['instruction']} {words}"


PLANTED = {
    "working": lambda key: key["working"], "hint": lambda key: key["hint"], "hash of the family": lambda key: key["family_sha256"],
    "feedback": lambda key: next(slip["feedback"] for slip in [*key["missteps"], *(s for b in key.get("boxes") or [] for s in b["missteps"])]),
}


@pytest.mark.parametrize("what", PLANTED)
def test_words_of_a_key_planted_in_any_question_of_any_kind_are_caught(full, what):
    missed = []
    for paper, record in full[:3]:
        for key in record["keys"]:
            try:
                words = PLANTED[what](key)
            except StopIteration:
                continue
            leaky = paper | {"questions": [copy.deepcopy(one) if one["slot"] == key["slot"] else one for one in paper["questions"]]}
            plant_in(next(one for one in leaky["questions"] if one["slot"] == key["slot"]), words)
            if words and not paper_leaks(leaky, record, a_class.SECRET):
                missed.append((key["family"], what))
    assert missed == []


@pytest.mark.parametrize("plant", [
    lambda paper, record: paper["questions"][0].update(family=record["keys"][0]["family"]),
    lambda paper, record: paper["questions"][3].update(note=record["keys"][3]["family"]),
    lambda paper, record: paper["questions"][5].update(id=record["keys"][5]["skill"]),
    lambda paper, record: paper["questions"][7].update(weight=3),
    lambda paper, record: paper.update(seed="1"),
    lambda paper, record: paper.update(note=a_class.SECRET.hex()),
    lambda paper, record: paper["blueprint"].update(sha256=record["blueprint"]["sha256"]),
    lambda paper, record: paper["questions"][1].update(must_be_right=True),
    lambda paper, record: paper["questions"][2].update(kind=next(s["id"] for k in record["keys"] for s in k["missteps"])),
])
def test_a_planted_field_or_id_is_caught(full, plant):
    paper, record = full[0]
    leaky = copy.deepcopy(paper)
    plant(leaky, record)
    assert paper_leaks(leaky, record, a_class.SECRET)


# -- without the class secret nobody can make or foresee another's paper ------------------------------------------------------

def agreement(families, shop, one: bytes, other: bytes, tries: int = many(12, 24)) -> tuple[int, float, float]:
    """(how often two secrets give the same right letter, how often by chance, its variance) over all questions with one letter."""
    same, chance, spread = 0, 0.0, 0.0
    for name, family in families.items():
        if family.kind not in ("one choice", "place"):
            continue
        pairs = [[_kept_letter(family, one, f"paper|c|{number}|{name}", shop), _letter(family, Stream(other, f"paper|c|{number}|{name}"), shop)]
                 for number in range(tries)]
        first, second = (Counter(pair[at] for pair in pairs) for at in (0, 1))
        p = sum(first[letter] * second[letter] for letter in first) / tries**2  # what two unrelated rows would share
        same += sum(a == b for a, b in pairs)
        chance, spread = chance + tries * p, spread + tries * p * (1 - p)
    return same, chance, spread


def _letter(family, stream, shop) -> str:
    return compose(draw(family, stream, shop), stream, 1)[1]["right"]["letter"]


KEPT: dict[tuple, str] = {}


def _kept_letter(family, secret, label, shop) -> str:
    """What a secret gives, drawn once for every secret it is compared with."""
    asked = (Stream, secret, label)
    if asked not in KEPT:
        KEPT[asked] = _letter(family, Stream(secret, label), shop)
    return KEPT[asked]


def foresees(found: tuple[int, float, float]) -> bool:
    """Whether the agreement lies more than 5 standard deviations above chance."""
    same, chance, spread = found
    return same > chance + 5 * spread**0.5


def test_another_secret_agrees_at_chance_level_and_the_same_secret_would_not(families, shop):
    assert not foresees(agreement(families, shop, a_class.SECRET, bytes(32)))
    assert foresees(agreement(families, shop, a_class.SECRET, a_class.SECRET))


def test_a_draw_that_forgets_the_secret_would_be_caught(families, shop, monkeypatch):
    monkeypatch.setattr("papers.test_secrecy.Stream", lambda secret, label, real=Stream: real(b"the same for all", label))
    assert foresees(agreement(families, shop, a_class.SECRET, bytes(32)))


def test_another_secret_gives_every_candidate_another_paper(families, shop):
    plan = load_blueprint("full", families)
    texts = [[question["text"] for question in make_paper("spring", PERSON, plan, families, shop, secret, a_class.NOW)[0]["questions"]]
             for secret in (a_class.SECRET, bytes(32))]
    assert sum(a == b for a, b in zip(*texts)) < len(plan.question) / 4


# -- keys are kept outside every served root, 0600 -----------------------------------------------------------------------------

def test_key_records_lie_where_nothing_is_served(held):
    assert disk_leaks(held.room, held.desk, a_class.SECRET) == []


@pytest.mark.skipif(os.name != "posix", reason="file modes are a POSIX matter")
@pytest.mark.parametrize("plant", [
    lambda held: (held.keys / f"{held.issued[0].paper_id}.json").chmod(0o644),
    lambda held: (held.keys / f"{held.issued[0].paper_id}.key").chmod(0o644),
    lambda held: held.keys.chmod(0o755),
    lambda held: shutil.copy(held.keys / f"{held.issued[0].paper_id}.json", held.room / "papers" / "x.json"),
    lambda held: shutil.copy(held.keys / f"{held.issued[0].paper_id}.key", held.room / "papers" / "x"),
    lambda held: (held.room / "log.bin").write_bytes(b"..." + (held.keys / f"{held.issued[0].paper_id}.key").read_bytes()[3000:6000]),
    lambda held: (held.room / "papers" / "keys").symlink_to(held.keys),
    lambda held: (held.room / "note.txt").write_text(a_class.SECRET.hex()),
    lambda held: (held.room / "log.bin").write_bytes(b"\x00" + a_class.SECRET),
    lambda held: (held.room / "note.txt").write_text(a_class.key_of(held)["keys"][0]["working"]),
])
def test_a_key_made_readable_is_caught(held, plant):
    plant(held)
    assert disk_leaks(held.room, held.desk, a_class.SECRET)


def test_a_desk_inside_the_room_is_caught(held):
    held.desk.rename(held.room / "desk")
    assert disk_leaks(held.room, held.room / "desk", a_class.SECRET)


# -- a request for a key by a sitting's token, by real path and by traversal is refused ----------------------------------------------

def test_no_request_of_a_candidate_reaches_a_key_record(held):
    from room.a_room import Room

    with Room(held) as room:
        room.post("start", {})
        for ending in ("json", "key"):
            assert served_leaks(room, held.keys / f"{held.issued[0].paper_id}.{ending}", room.token, held.issued[0].paper_id) == []


@pytest.mark.parametrize("ending", ["json", "key"])
@pytest.mark.parametrize("root, route", [("", r"/(.*)"), ("desk/keys", r"/keys/(.*)"), ("", r"/files(/.*)"),
                                         ("desk", r"/sit/[A-Za-z0-9_-]+/(?:\.\.|%2e%2e)/desk/(.*)")])
def test_a_room_that_serves_files_would_be_caught(held, root, route, ending):
    import tornado.web
    from room.a_room import Room

    class Files(tornado.web.RequestHandler):
        def get(self, path):
            wanted = (held.desk.parent / root / path.lstrip("/")) if "/files" not in route else held.desk.parent.__class__(path)
            self.finish(wanted.read_bytes() if wanted.is_file() else b"")

    with Room(held) as room:
        room.app.wildcard_router.rules.insert(0, tornado.web.url(route, Files))
        key = held.keys / f"{held.issued[0].paper_id}.{ending}"
        assert served_leaks(room, key, room.token, held.issued[0].paper_id)


def test_a_sitting_that_sends_its_key_with_the_state_would_be_caught(held, monkeypatch):
    from rigcalc.room.sitting import Sitting
    from room.a_room import Room

    monkeypatch.setattr(Sitting, "state", lambda self, now=None: {"started": True, "seconds_left": 9, "minutes": 30, "handed_in": None,
                                                                  "answers": {}, "oh": a_class.key_of(held)["keys"]})
    with Room(held) as room:
        key = held.keys / f"{held.issued[0].paper_id}.json"
        assert served_leaks(room, key, room.token, held.issued[0].paper_id)


# -- the pages of a paper: no drawing names what is right -----------------------------------------------------------------------

def test_printed_and_drawn_papers_hold_nothing_of_the_key(full):
    from rigcalc.papers.printed import printed_paper

    for paper, record in full:
        made = printed_paper(paper)
        svgs = b"".join(base64.b64decode(part.split('"')[0]) for part in made.split("base64,")[1:]).decode()
        for key in record["keys"]:
            assert key["family_sha256"] not in made + svgs and key["working"] not in made + svgs
