"""What is seen of a skill is seen on its own lines: another line seen wrong says nothing of it."""

from __future__ import annotations

import pytest
from rigcalc.bench.tasks import read_task
from rigcalc.errors import Refusal
from rigcalc.home import installed_folder

from .filled import Book, opened


def test_a_paint_line_seen_wrong_counts_as_a_point_and_says_nothing_of_a_skill():
    right, wrong = Book(opened()).fill().outcome(), Book(opened()).fill(wrong=("T1#witness-mark@1",)).outcome()
    assert wrong["skills"] == right["skills"] and "51" not in wrong["skills"]
    assert wrong["skills"]["76"] == "shown" and "shown wrong" not in wrong["skills"].values()
    assert [one["key"] for one in wrong["seen_wrong"]] == ["T1#witness-mark@1"] and "Paint line" in " ".join(wrong["to_weigh"])


def test_a_skills_own_line_seen_wrong_is_told_of_that_skill():
    assert Book(opened()).fill(wrong=("T1#checks-before-release",)).outcome()["skills"]["76"] == "shown wrong"


@pytest.mark.parametrize(("new", "told"), [("", "witness-mark without skills"), ("no_skill = true\nskills = [51]", "with no_skill and with skills")])
def test_a_line_names_its_skills_or_says_that_it_shows_none(new, told):
    text = (installed_folder() / "quizzes" / "bench" / "T1.toml").read_text(encoding="utf-8")
    with pytest.raises(Refusal, match=told):
        read_task(text.replace("\nno_skill = true\n", f"\n{new}\n"), "T1.toml")
