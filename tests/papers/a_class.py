"""A small class for tests: two candidates, a short blueprint, the right and a wrong answer to each question."""

from __future__ import annotations

import json
from pathlib import Path
from types import SimpleNamespace

from rigcalc.papers.blueprint import Blueprint, Cut, Place
from rigcalc.papers.issue import issue_papers
from rigcalc.questions import families_folder
from rigcalc.questions.family import read_family
from rigcalc.questions.typed import right_typed
from rigcalc.shop import load_shop, sample_shop_path

SECRET = bytes(range(32))
ROSTER = [{"id": "tk", "name": "Tomo Kessig"}, {"id": "do", "name": "Dela Orrin", "extra_minutes": 10,
                                                 "larger_print": True}]
NOW = "2026-05-04T09:00:00+00:00"


def short_blueprint(minutes: int = 30) -> Blueprint:
    return Blueprint(
        form=1, id="short", version=1, title="Short paper", minutes=minutes, book="closed", allowed="this page only.",
        calculator=True, partial_credit="none",
        cut=Cut(60, "one named person", "Ines Varrow", "2026-03-02", "Judged by her alone."),
        question=[Place("works-the-limit", 2, 40), Place("says-what-the-gauge-misses", 2, 40, must_be_right=True),
                  Place("follows-the-order", 2, 20)])


def three_families() -> dict:
    """The families of the short blueprint, read alone."""
    names = ("limit-of-an-eye", "what-the-gauge-misses", "order-of-crimps")
    return {name: read_family(families_folder() / f"{name}.toml") for name in names}


def set_class(folder: Path, class_id: str = "spring", secret: bytes = SECRET, roster=None, blueprint=None, families=None,
              known=None):
    """Issue papers into folder/room and folder/desk."""
    room, desk = folder / "room", folder / "desk"
    issued = issue_papers(class_id, roster or ROSTER, blueprint or short_blueprint(), families or three_families(),
                          load_shop(sample_shop_path()), secret, room, desk, NOW, known)
    return SimpleNamespace(room=room, desk=desk, keys=desk / "keys", returned=room / "returned", issued=issued)


def paper_of(held, number: int = 0) -> dict:
    return json.loads((held.room / "papers" / f"{held.issued[number].paper_id}.json").read_bytes())


def key_of(held, number: int = 0) -> dict:
    return json.loads((held.keys / f"{held.issued[number].paper_id}.json").read_bytes())


def right_answers(held, number: int = 0) -> dict:
    """Each question's right answer as a candidate would type it."""
    questions = {question["slot"]: question for question in paper_of(held, number)["questions"]}
    return {key["slot"]: right_typed(questions[key["slot"]], key) for key in key_of(held, number)["keys"]}


def wrong_answers(held, number: int = 0) -> dict:
    """Answers that are surely wrong: another letter, the order turned round, a figure far off."""
    answers = {}
    questions = {question["slot"]: question for question in paper_of(held, number)["questions"]}
    for slot, right in right_answers(held, number).items():
        letters = [option["letter"] for option in questions[slot]["options"]]
        kind = questions[slot]["kind"]
        answers[slot] = (next(letter for letter in letters if letter != right) if kind == "one choice"
                         else list(reversed(right)) if kind == "order" else "3 lbf")
    return answers
