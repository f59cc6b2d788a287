"""The list for whoever plans a paper: each skill with its lesson, levels, families and minutes."""

from __future__ import annotations

import re

import pytest

from rigcalc.cli import main
from rigcalc.errors import Refusal
from rigcalc.papers.askable import askable, askable_text, skills_like
from rigcalc.questions import load_families
from rigcalc.shop import load_shop, sample_shop_path
from rigcalc.skills import load_skills

SAMPLE = load_shop(sample_shop_path())


def test_every_family_stands_once_under_its_skill_level_and_lesson():
    families, lesson, skill, seen = load_families(), "", "", {}
    for line in askable_text(families, [], SAMPLE).splitlines():
        lesson = line.removeprefix("Lesson ") if line.startswith("Lesson ") else lesson
        skill = line.split()[0] if re.match(r"  [a-z]", line) else skill
        level = re.match(r"    level (\d)  (\d+) famil(?:y|ies): (.+)$", line)
        named = re.findall(r"([a-z0-9-]+) \(([\d.]+) min\)", level[3]) if level else []
        assert not level or len(named) == int(level[2])
        for name, minutes in named:
            assert name not in seen
            seen[name] = (skill, int(level[1]), float(minutes), lesson)
    assert seen == {name: (one.skill, one.level, one.minutes, load_skills()[one.skill].lesson) for name, one in families.items()}


def test_skills_that_are_only_shown_by_hand_are_named_apart():
    *_, last = askable_text(load_families(), [], SAMPLE).splitlines()
    assert last.startswith("Shown by hand and never asked in writing: ") and "measures-across-crowns" in last
    assert "measures-across-crowns" not in {one.id for one, _ in askable(load_families())}


def test_a_list_of_some_lessons_or_of_a_word_holds_those_alone():
    said = askable_text(load_families(), ["4-05", "08"], SAMPLE)
    assert re.findall(r"(?m)^Lesson (\d\d)$", said) == ["04", "05", "08"]
    assert skills_like(["lap"]) == {"lays-out-a-lap", "makes-a-lap", "says-where-no-lap"}


def test_a_word_of_no_skill_is_refused_with_the_nearest():
    with pytest.raises(Refusal, match="the nearest skills: picks-the-sleeve-metal"):
        skills_like(["picks-sleeve-metal"])


def test_the_command_prints_it(capsys, tmp_path, monkeypatch):
    monkeypatch.setenv("RIGCALC_HOME", str(tmp_path))
    assert main(["quiz", "--skills", "09"]) == 0
    shown = capsys.readouterr()
    assert shown.out == askable_text(load_families(), ["09"], SAMPLE) and shown.out.startswith("Lesson 09\n") and not shown.err


def test_a_broken_own_family_is_named_beside_the_list(capsys, tmp_path, monkeypatch):
    monkeypatch.setenv("RIGCALC_HOME", str(tmp_path))
    own = tmp_path / "working" / "quizzes" / "families"
    own.mkdir(parents=True)
    (own / "mine.toml").write_text("form = 2\n", encoding="utf-8")
    assert main(["quiz", "--skills", "09"]) == 0
    shown = capsys.readouterr()
    assert "Lesson 09" in shown.out and "mine.toml" in shown.err
