"""The skill map: every skill has each of its places or owes it, and nothing hangs on nothing."""

from __future__ import annotations

import json
import re
import tomllib
from dataclasses import replace

import pytest

from rigcalc.errors import Refusal
from rigcalc.home import installed_folder
from rigcalc.papers.blueprint import load_blueprint
from rigcalc.questions import load_families
from rigcalc.skills import faults, frame, load_skills, owed_sections, skill

QUIZZES = installed_folder() / "quizzes"
LESSONS = installed_folder() / "lessons"


def _sections() -> set[str]:
    """The places lessons have: an anchor with a heading under it."""
    found = set()
    for path in LESSONS.glob("*.ipynb"):
        cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
        text = "\n".join("".join(cell["source"]) for cell in cells if cell["cell_type"] == "markdown")
        number = path.name.partition("_")[0]
        found |= {f"{number}#{slug}" for slug in re.findall(r'<a id="([a-z-]+)"></a>\s*\n\s*#', text)}
    return found


def _checkpoints() -> dict[str, tuple[int, ...]]:
    found = {}
    for path in (QUIZZES / "bench").glob("*.toml"):
        task = tomllib.loads(path.read_text(encoding="utf-8"))
        for stage in task["stage"]:
            for checkpoint in stage.get("checkpoint", []):
                found[f"{task['id']}#{checkpoint['id']}"] = tuple(checkpoint.get("skills", ()))
    return found


def _families() -> dict[str, str]:
    return {name: family.skill for name, family in load_families().items()}


def test_no_skill_lacks_a_place_and_nothing_hangs_on_nothing():
    sections, families, checkpoints = _sections(), _families(), _checkpoints()
    assert len(sections) > 15 and len(families) >= 15 and len(checkpoints) > 30
    assert faults(load_skills(), sections, families, checkpoints, frame()) == []


def test_every_family_points_to_a_section_that_exists_or_is_owed():
    sections = _sections() | set(owed_sections(load_skills()))
    for name, family in load_families().items():
        assert family.section in sections, name


def test_the_narrow_paper_asks_skills_of_the_map_with_the_same_must_be_right():
    for place in load_blueprint("narrow").question:
        assert skill(place.skill).written and skill(place.skill).must_be_right == place.must_be_right


def _one(**changed):
    skills = load_skills()
    name = "sets-and-marks-the-tail"
    return skills | {name: replace(skills[name], **changed)}


@pytest.mark.parametrize(("changed", "said"), [
    ({"sections": ("05#no-such-place",)}, "no section '05#no-such-place' exists"),
    ({"sections": ()}, "owes '05: a section' and does not say so"),
    ({"families": ("no-such-family",)}, "no family 'no-such-family' exists"),
    ({"families": ("why-the-tail",)}, "why-the-tail names another skill"),
    ({"checkpoints": ()}, "owes 'a checkpoint' and does not say so"),
    ({"checkpoints": ("T1#cut-square",)}, "does not name skill 31"),
    ({"owed": ("a checkpoint",)}, "which it has or never needs"),
    ({"flags": "CHW"}, "owes 'a family' and does not say so"),
])
def test_a_planted_fault_in_a_skill_is_found(changed, said):
    told = faults(_one(**changed), _sections(), _families(), _checkpoints(), frame())
    assert any(said in fault for fault in told), told


@pytest.mark.parametrize(("part", "said"), [
    ("sections", "section 05#planted hangs on no skill"), ("families", "family planted hangs on no skill"),
    ("unknown", "family planted hangs on no skill"), ("checkpoints", "checkpoint T1#planted hangs on no skill"),
    ("numbers", "checkpoint T1#planted names skill 99"), ("frame", "the frame names '05#planted'")])
def test_a_planted_place_that_hangs_on_nothing_is_found(part, said):
    sections, families, checkpoints, around = _sections(), _families(), _checkpoints(), frame()
    if part == "sections":
        sections = sections | {"05#planted"}
    elif part == "checkpoints" or part == "numbers":
        checkpoints = checkpoints | {"T1#planted": (99,) if part == "numbers" else ()}
    elif part == "frame":
        around = (*around, "05#planted")
    else:
        families = families | {"planted": "why" if part == "unknown" else "says-why-the-tail"}
    assert any(said in fault for fault in faults(load_skills(), sections, families, checkpoints, around))


def test_skills_are_sentences_with_a_number_of_their_own():
    skills = load_skills()
    assert len({one.number for one in skills.values()}) == len(skills) >= 30
    for one in skills.values():
        assert one.sentence.endswith(".") and set(one.flags) <= set("CHW") and re.fullmatch(r"\d\d", one.lesson)
    assert len(skills) == 78 and sum(one.written for one in skills.values()) == 52 and sum(one.by_hand for one in skills.values()) == 41
    # Five must be right; nine weigh heavily: all of them on a full paper, six (not 54, 55, 64) on a narrow one.
    assert {one.number for one in skills.values() if one.must_be_right} == {1, 19, 46, 50, 59}
    assert {one.number for one in skills.values() if one.weight > 1} == {4, 9, 13, 18, 54, 55, 58, 64, 74}


@pytest.mark.parametrize(("text", "said"), [
    ('[[skill]]\nid = "a"\n', "no 'number'"), ("[[skill]\n", "no TOML"),
    ('[[skill]]\nid = "a"\nnumber = 1\nsentence = "A."\nflags = "C"\nlesson = "05"\nplace = 3\n', "the field 'place'")])
def test_a_broken_map_is_refused(tmp_path, text, said):
    path = tmp_path / "skills.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(Refusal, match=said):
        load_skills(path)


def test_an_unknown_skill_is_refused():
    with pytest.raises(Refusal, match="no-such"):
        skill("no-such")
