"""Setting papers: each candidate's own questions, and beside them, for the assessor alone, the key records.

Every draw comes from the class secret through a label "paper|class|candidate|slot". The public paper holds
no key, secret, seed, family or misstep id; the key record is kept, not worked out again years later.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import NamedTuple

from rigcalc.cautions import INVENTED_PLAN
from rigcalc.errors import Refusal
from rigcalc.papers.balance import choose_families, fitting_families
from rigcalc.papers.blueprint import Blueprint, Place, rules_in_words
from rigcalc.papers.cut import cut_as_kept
from rigcalc.papers.key_records import keep_key_record
from rigcalc.papers.of_shop import families_of_shop
from rigcalc.papers.records import canonical, checked_id, private_folder, sha256, stamp, write_synced
from rigcalc.questions import Stream, compose, draw
from rigcalc.questions.instance import Instance
from rigcalc.questions.of_sample import sample_named
from rigcalc.room import access
from rigcalc.shop import load_shop, sample_shop_path

__all__ = ["Issued", "PracticePaper", "issue_papers", "practice_paper", "make_paper", "one_question", "paper_id_of", "posed", "STOOD_IN"]

STOOD_IN = "Of an INVENTED shop, whose tools, charts, factor and people are not this workplace's:"
_ID_LETTERS = "23456789abcdefghjkmnpqrstuvwxyz"


class Issued(NamedTuple):
    """One paper issued: the token opens it in the room; the hashes go into the register."""

    paper_id: str
    candidate: dict
    token: str
    paper_sha256: str
    key_sha256: str


class PracticePaper(NamedTuple):
    """A paper for learning and its keys, for a learner's own page only."""

    paper: dict
    keys: list[dict]


def issue_papers(class_id, roster, blueprint: Blueprint, families, shop, secret: bytes,
                 room_dir, desk_dir, now=None, known=None) -> list[Issued]:
    """Make, file and open a paper for everybody on the roster.

    Parameters
    ----------
    class_id : str
        Names the class; another sitting of the same people is another class.
    roster : list of dict
        {"id", "name"} and, where wanted, "extra_minutes" (whole minutes) and "larger_print" (true).
    secret : bytes
        The class secret, 32 random bytes.
    room_dir, desk_dir : path
        Papers go to room_dir/papers, key records to desk_dir/keys (0600 in a 0700 folder).
    known : mapping, optional
        What earlier results say of the families (`rigcalc.papers.balance.family_results`), so that papers are evenly hard.

    Returns
    -------
    list of Issued
        In the roster's order. Issued again, the same papers stand and each gets a new address.

    Raises
    ------
    Refusal
        A bad roster or secret, a place no family fits, or a paper already issued from other questions.
        Nothing is filed then.
    """
    checked_id(class_id, "the class")
    people = _checked_roster(roster)
    if not isinstance(secret, bytes) or len(secret) < 32:
        raise Refusal("a class secret of fewer than 32 bytes", "32 random bytes, never a phrase",
                      "let the desk make the secret")
    room, desk = Path(room_dir), Path(desk_dir)
    papers, keys = private_folder(room / "papers"), private_folder(private_folder(desk) / "keys")
    asked = families_of_shop(blueprint, families, shop)
    made = [make_paper(class_id, person, blueprint, families, shop, secret, stamp(now),
                       _chosen_before(class_id, person, secret, keys, families)
                       or choose_families(blueprint, asked, class_id, person["id"], secret, known)) for person in people]
    made = [_as_filed(paper, record, papers, keys) for paper, record in made]
    issued = []
    for paper, record in made:
        paper_bytes, key_sha256 = canonical(paper), keep_key_record(keys, record)
        write_synced(papers / f"{paper['paper_id']}.json", paper_bytes)
        access.revoke(room, "sit", paper["paper_id"])
        token = access.grant(room, "sit", paper["paper_id"])
        issued.append(Issued(paper["paper_id"], paper["candidate"], token, sha256(paper_bytes), key_sha256))
    return issued


def make_paper(class_id, person: dict, blueprint: Blueprint, families, shop, secret: bytes,
               issued_at: str, chosen: list[str] | None = None) -> tuple[dict, dict]:
    """One candidate's public paper and private key record, written nowhere yet; `chosen` is the family of each place."""
    label, paper_id = f"paper|{class_id}|{person['id']}", paper_id_of(class_id, person["id"], secret)
    chosen = chosen or choose_families(blueprint, families, class_id, person["id"], secret)
    places = list(enumerate(blueprint.question))
    order = Stream(secret, f"{label}|order").shuffled(places)
    questions, kept = [], []
    for slot, (index, place) in enumerate(order, 1):
        question, key = one_question(place, index, slot, families[chosen[index]], shop, Stream(secret, f"{label}|{index + 1}"))
        questions.append(question)
        kept.append(key)
    paper = _front(blueprint, shop) | {
        "paper_id": paper_id, "class": class_id, "candidate": {"id": person["id"], "name": person["name"]},
        "minutes": blueprint.minutes + person["extra_minutes"], "extra_minutes": person["extra_minutes"],
        "larger_print": person["larger_print"], "issued_at": issued_at, "questions": questions,
    }
    return paper, _key_record(paper, kept, blueprint, shop)


def paper_id_of(class_id: str, candidate_id: str, secret: bytes) -> str:
    """The id of a candidate's paper in a class."""
    ids = Stream(secret, f"paper|{class_id}|{candidate_id}|id")
    return "p-" + "".join(_ID_LETTERS[ids.below(len(_ID_LETTERS))] for _ in range(12))


def _chosen_before(class_id, person: dict, secret: bytes, keys: Path, families) -> list[str] | None:
    """The families of a paper issued before, whatever results have come in since; None for a new one."""
    try:
        kept = json.loads((keys / f"{paper_id_of(class_id, person['id'], secret)}.json").read_bytes())["keys"]
        chosen = [key["family"] for key in sorted(kept, key=lambda key: key["place"])]
    except (OSError, ValueError, KeyError, TypeError):
        return None
    return chosen if all(name in families for name in chosen) else None


def practice_paper(blueprint: Blueprint, families, shop, stream) -> PracticePaper:
    """A paper to learn from, headed PRACTICE, marked at once: it gives no result and enters no register."""
    order, asked = stream.shuffled(list(enumerate(blueprint.question))), families_of_shop(blueprint, families, shop)
    questions, kept = [], []
    for slot, (index, place) in enumerate(order, 1):
        own = stream.sub(f"question {index + 1}")
        fitting = fitting_families(place, asked, index)
        family = families[fitting[0] if len(fitting) == 1 else own.pick(fitting)]
        question, key = one_question(place, index, slot, family, shop, own)
        questions.append(question)
        kept.append(key)
    paper = _front(blueprint, shop) | {
        "title": f"PRACTICE: {blueprint.title}", "practice": True, "paper_id": "practice", "class": "",
        "candidate": {"id": "", "name": ""}, "extra_minutes": 0, "larger_print": False, "issued_at": "",
        "questions": questions,
    }
    return PracticePaper(paper, kept)


def _front(blueprint: Blueprint, shop) -> dict:
    return {
        "form": 1, "title": blueprint.title, "rules": rules_in_words(blueprint), "minutes": blueprint.minutes,
        "blueprint": {"id": blueprint.id, "version": blueprint.version}, "book": blueprint.book,
        "calculator": blueprint.calculator, "practice": not shop.has_maker_chart, "shop": shop.name,
        "chart_line": shop.chart_line(), "invented": True if shop.invented else INVENTED_PLAN if blueprint.invented else False,
    }


def one_question(place: Place, index: int, slot: int, family, shop, stream) -> tuple[dict, dict]:
    """One question of a family, for a place of the blueprint, and its key.

    Where the shop gives the family nothing to ask about, the invented sample shop stands in, and the question says so;
    so it does where the family's own words name that shop's tools, papers or people.
    """
    try:
        question, key = posed(draw(family, stream, shop), stream, slot)
        if not shop.invented and sample_named(family, question):
            question, key = _said_so(question, key)
    except Refusal as refusal:
        if shop.invented:
            raise
        try:
            question, key = posed(draw(family, stream.sub("stand-in"), load_shop(sample_shop_path())), stream, slot, stood_in=True)
        except Refusal:
            raise refusal from None
    return question, key | {"place": index + 1, "weight": place.marks, "must_be_right": place.must_be_right}


def posed(instance: Instance, stream: Stream, slot: int, stood_in: bool = False) -> tuple[dict, dict]:
    """A drawn question and its key, both saying so where the invented sample shop stood in for the workplace's own."""
    question, key = compose(instance, stream, slot)
    return _said_so(question, key) if stood_in else (question, key)


def _said_so(question: dict, key: dict) -> tuple[dict, dict]:
    return question | {"text": f"{STOOD_IN} {question['text']}"}, key | {"stood_in": True}


def _key_record(paper: dict, kept: list[dict], blueprint: Blueprint, shop) -> dict:
    return {
        "form": 1, "paper_id": paper["paper_id"], "class": paper["class"], "candidate": paper["candidate"],
        "paper_sha256": sha256(canonical(paper)), "paper": paper, "keys": kept,
        "blueprint": {"id": blueprint.id, "version": blueprint.version, "sha256": blueprint.sha256},
        "cut": cut_as_kept(blueprint.cut, blueprint.question), "partial_credit": blueprint.partial_credit,
        "shop_sha256": shop.digest, "issued_at": paper["issued_at"],
    }


def _as_filed(paper: dict, record: dict, papers: Path, keys: Path) -> tuple[dict, dict]:
    """The paper as it was first issued, where it was; a refusal where the questions have changed since."""
    try:
        old = json.loads((keys / f"{paper['paper_id']}.json").read_bytes())
    except OSError:
        return paper, record
    except ValueError:
        old = {}
    unlike = {"issued_at": "", "paper_sha256": ""}  # they go with the moment
    same = {**record, **unlike, "paper": {**record["paper"], "issued_at": ""}}
    filed = {**old, **unlike, "paper": {**old.get("paper", {}), "issued_at": ""}}
    if canonical(same) != canonical(filed):
        raise Refusal(f"{paper['candidate']['name']}'s paper, issued before from other questions, shop or blueprint",
                      "the same paper again, or a new class", "give the class a new id to set new papers")
    return old["paper"], old


def _checked_roster(roster) -> list[dict]:
    people, seen = [], set()
    for person in roster:
        who = checked_id(person.get("id"), "the candidate")
        name = person.get("name")
        if not isinstance(name, str) or not name.strip() or len(name) > 120 or not name.isprintable():
            raise Refusal(f"the name {name!r} of candidate {who}", "a name of 1 to 120 printed letters",
                          "write the name as it shall stand on the paper")
        extra = person.get("extra_minutes") or 0
        if not isinstance(extra, int) or isinstance(extra, bool) or not 0 <= extra <= 240:
            raise Refusal(f"{extra!r} extra minutes for {name}", "whole minutes from 0 to 240", "change the roster")
        if who.lower() in seen:
            raise Refusal(f"the candidate id '{who}' twice", "each candidate once", "change the roster")
        seen.add(who.lower())
        people.append({"id": who, "name": name.strip(), "extra_minutes": extra,
                       "larger_print": bool(person.get("larger_print"))})
    if not people:
        raise Refusal("an empty roster", "one candidate or more", "enter the candidates first")
    return people
