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
from rigcalc.questions.family import pointed_sections
from rigcalc.skills import faults, frame, load_skills, no_such_skill, owed_sections, skill, skills_file, where_words

QUIZZES = installed_folder() / "quizzes"
LESSONS = installed_folder() / "lessons"


def _headed() -> dict[str, str]:
    """The places lessons have: an anchor with a heading under it, and that heading."""
    found = {}
    for path in LESSONS.glob("*.ipynb"):
        cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
        text = "\n".join("".join(cell["source"]) for cell in cells if cell["cell_type"] == "markdown")
        number = path.name.partition("_")[0]
        found |= {f"{number}#{slug}": words.strip() for slug, words in re.findall(r'<a id="([a-z-]+)"></a>\s*\n\s*#+ (.+)', text)}
    return found


def _sections() -> set[str]:
    return set(_headed())


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


def test_a_pointer_says_the_heading_as_it_stands_on_the_page():
    """A renamed heading fails here: name it in [headings] of quizzes/skills.toml."""
    headed = _headed()
    assert {section: where_words(section) for section in headed} == {section: f"lesson {section[:2]}, {words}" for section, words in headed.items()}


def test_no_heading_is_kept_that_needs_none():
    kept = tomllib.loads(skills_file().read_text(encoding="utf-8"))["headings"]
    assert set(kept) <= set(_headed())
    assert not [section for section, words in kept.items() if section.partition("#")[2].replace("-", " ").capitalize() == words]


# A family asks a skill of one lesson and points to another: only that one holds the matter, or the question stands on the earlier page.
TAUGHT_ELSEWHERE = {"match-fault-and-cause": "07#faults-and-causes", "what-the-gauge-misses": "05#the-gauge"}
ONLY_ASK = ("scene", "explain-why", "on-your-own", "with-gaps", "recap", "show-somebody", "practice-sheet", "sources")


def test_a_family_points_to_a_section_of_the_lesson_that_teaches_its_skill():
    told = {name: family.section for name, family in load_families().items() if family.section[:2] != skill(family.skill).lesson}
    assert told == TAUGHT_ELSEWHERE


def test_no_pointer_leads_to_a_section_that_only_asks():
    pointers = {(name, section) for name, family in load_families().items()
                for section in [family.section, *pointed_sections(family).values(),
                                *(section for box in family.box for section in pointed_sections(family, box).values())]}
    assert len(pointers) > 250
    assert not [one for one in pointers if one[1].endswith(ONLY_ASK)]


@pytest.mark.parametrize(("given", "near"), [("picks-sleeve-metal", "picks-the-sleeve-metal"), ("never-reuses", "never-re-uses"),
                                             ("works-limit", "works-the-limit"), ("LOWER-STRENGTH", "takes-the-lower-strength")])
def test_a_misspelt_skill_is_told_the_nearest(given, near):
    said = " ".join(no_such_skill(given))
    assert f"'{given}'" in said and near in said
    with pytest.raises(Refusal, match=near):
        skill(given)


def test_a_skill_like_none_is_told_where_they_stand():
    assert no_such_skill("qqq")[1:] == ("an id of quizzes/skills.toml", "mend the name; rigcalc quiz --skills shows them all")


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
