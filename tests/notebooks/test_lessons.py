"""What every lesson must hold: its sections, its skills, its questions, live figures, trainer's notes, numbers and words.

    python -m pytest -q -n0 tests/notebooks/test_lessons.py tests/notebooks/test_pages.py -k 07

What holds for every stored notebook (counts, outputs, hidden code, words of pictures) is in test_pages.py. No kernel is started.
"""

from __future__ import annotations

import re

import pytest
from package_numbers import fractions_in, numbers_in, rated_fractions, where_from
from plain_words import reading_grade
from stored import LESSONS, Stored, stored

from rigcalc.cautions import CAUTIONS, INVENTED
from rigcalc.questions import load_families
from rigcalc.skills import load_skills

SECTIONS = ("the-scene", "explain-why", "on-your-own", "what-goes-wrong", "recap", "show-somebody", "practice-sheet", "sources")
WORDS_BEFORE_THE_FIRST_ANSWER = 240  # two minutes at 120 words a minute
NOTES, EXPLORERS, GRADE = 5, 2, 8.0
# Wording that is not ours: boxed lesson headers, the vocabulary of graders, and rewards.
NOT_OURS = (
    r"(?im)^#+\s*(?:questions|objectives|learning objectives|learning outcomes|key points|keypoints|overview|prerequisites)\s*$",
    r"(?i)\b(?:teaching|exercises)\s*:\s*\d+\s*min", r"(?i)\b(?:learning )?objectives\s*:", r"(?i)\bkey ?points\s*:",
    r"(?i)\b(?:begin|end)[ -]solution\b", r"(?i)\b(?:leader ?boards?|streaks?|badges?|flash ?cards?|join codes?|medals?|high scores?)\b",
    r"(?i)\b(?:level up|earn(?:ed)? \d+ points|points earned|traffic[- ]lights?)\b", r"(?i)\bseed document\b",
    r"(?i)\b(?:again|hard|good|easy)\s*/\s*(?:again|hard|good|easy)\b",
)


@pytest.fixture(params=LESSONS, ids=lambda path: path.stem)
def lesson(request) -> Stored:
    return stored(request.param)


def skills_of(lesson: Stored) -> list:
    return sorted((one for one in load_skills().values() if one.lesson == lesson.number), key=lambda one: one.number)


def test_there_is_a_lesson_and_no_number_twice():
    numbers = [path.name[:2] for path in LESSONS]
    assert numbers and len(set(numbers)) == len(numbers)


# --- Sections -------------------------------------------------------------------------------------

def test_every_section_stands_there(lesson):
    missing = [name for name in SECTIONS if name not in lesson.anchors]
    assert not missing, f'give each of these an <a id="..."></a>, an empty line and a heading: {missing}'
    assert any(name.endswith("with-gaps") for name in lesson.anchors), 'the worked example comes again with gaps: an id "with-gaps" or "...-with-gaps"'


def test_the_lesson_begins_with_its_name_and_its_scene_and_closes_with_its_sheets(lesson):
    heads = re.findall(r"(?m)^# (.+)$", lesson.markdown)
    assert len(heads) == 1 and lesson.cells[0].source.startswith("# "), "one heading of the first rank, the lesson's name, in the first cell"
    names = list(lesson.anchors)
    assert names[0] == "the-scene", "the scene comes first"
    order = [name for name in names if name in ("what-goes-wrong", "recap", "show-somebody", "practice-sheet", "sources")]
    assert order == ["what-goes-wrong", "recap", "show-somebody", "practice-sheet", "sources"], f"their order is {order}"


def test_an_id_stands_once_and_the_side_list_leads_to_the_parts(lesson):
    names = re.findall(r'<a id="([^"]+)"></a>', lesson.markdown)
    assert len(set(names)) == len(names), "an id stands twice"
    for words in ("On your bench", "Time", "You need first", "Parts of this page"):
        assert f"<b>{words}</b>" in lesson.aside, f'the aside of class "bench-list" says <b>{words}</b>'
    assert re.search(r"reading \d+ min<br>drill \d+ min", lesson.aside), "the aside says: reading 25 min<br>drill 20 min<br>at the bench 70 min"
    assert {"the-scene", "what-goes-wrong", "recap", "practice-sheet"} <= set(re.findall(r'href="#([^"]+)"', lesson.aside))


def test_the_first_answer_is_asked_within_two_minutes(lesson):
    first = next((i for i, cell in enumerate(lesson.cells) if cell.families or cell.is_explorer), None)
    assert first is not None, "nothing is asked"
    said = " ".join(re.sub(r"<aside.*?</aside>|<details.*?</details>|<[^>]+>", " ", cell.source, flags=re.S)
                    for cell in lesson.cells[:first] if cell.kind == "markdown")
    words = len(said.split())
    assert words <= WORDS_BEFORE_THE_FIRST_ANSWER, f"{words} words stand before the first question; leave {WORDS_BEFORE_THE_FIRST_ANSWER}"


def test_no_lesson_speaks_of_another_that_is_absent(lesson):
    absent = set(re.findall(r"[Ll]esson (\d\d)", lesson.markdown)) - {path.name[:2] for path in LESSONS}
    assert not absent, f"these lessons are not there: {sorted(absent)}"


def test_cautions_chart_and_invented_stand_on_the_page(lesson):
    assert all(caution in lesson.shown for caution in CAUTIONS), "show the cautions: lesson.cautions()"
    assert INVENTED in lesson.shown, "the first code cell says INVENTED: lesson.opening_lines(...)"
    assert "Chart in force: " in lesson.shown, "the first code cell names the chart in force: lesson.opening_lines(...)"
    assert "common practice" in lesson.said_under("sources") or "from memory" in lesson.said_under("sources"), "the sources say how each thing is known"


# --- Skills ---------------------------------------------------------------------------------------

def test_every_skill_of_the_lesson_has_its_sections_here(lesson):
    for skill in skills_of(lesson):
        here = [section.partition("#")[2] for section in skill.sections if section.startswith(f"{lesson.number}#")]
        owed = [one for one in skill.owed if one.startswith(f"{lesson.number}:")]
        assert here, f"skill {skill.number}, {skill.id}: name its section of this lesson in quizzes/skills.toml, sections = [\"{lesson.number}#...\"]"
        assert not owed, f"skill {skill.number}, {skill.id}: take {owed} out of quizzes/skills.toml, it is there now"


def test_every_section_that_the_skill_map_or_a_family_names_is_on_the_page(lesson):
    named = [section for skill in load_skills().values() for section in skill.sections] + [one.section for one in load_families().values()]
    wanted = {section.partition("#")[2] for section in named if section.startswith(f"{lesson.number}#")}
    missing = sorted(wanted - set(lesson.anchors))
    assert not missing, f"quizzes/skills.toml or a family names these ids, give them a heading here or change them there: {missing}"


def test_every_written_skill_of_the_lesson_is_asked_here(lesson):
    families = load_families()
    unknown = [name for name in lesson.families if name not in families]
    assert not unknown, f"no such family: {unknown}"
    asked = {families[name].skill for name in lesson.families}
    for skill in skills_of(lesson):
        if skill.written:
            assert skill.id in asked, f"skill {skill.number}, {skill.id} is asked by no exercise here; its families: {', '.join(skill.families)}"


def test_every_skill_of_the_hand_stands_in_the_abilities(lesson):
    listed = {int(number) for number in re.findall(r"(?m)^(\d+) \|", lesson.said_under("show-somebody"))}
    own = {skill.number for skill in skills_of(lesson)}
    missing = sorted({skill.number for skill in skills_of(lesson) if skill.by_hand} - listed)
    assert listed, "under #show-somebody stands a table of abilities, number first"
    assert not missing, f"the abilities leave out the skills {missing}"
    assert listed <= own, f"skills {sorted(listed - own)} belong to another lesson"


# --- Questions and live figures -------------------------------------------------------------------

def test_sections_that_ask_have_an_exercise_and_what_goes_wrong_is_drawn(lesson):
    for name in ("explain-why", "on-your-own", next((one for one in lesson.anchors if one.endswith("with-gaps")), "with-gaps")):
        assert any(cell.families for cell in lesson.under(name)), f"#{name} has no exercise under it"
    assert any(cell.is_figure or cell.is_explorer for cell in lesson.under("what-goes-wrong")), "what goes wrong is drawn: a figure or an explorer under #what-goes-wrong"


def test_there_are_live_figures(lesson):
    live = [cell for cell in lesson.code if cell.is_explorer]
    assert len(live) >= EXPLORERS, f"{len(live)} live figures; {EXPLORERS} at least (a Board, or an Explorer), stored with their text form"


def test_a_still_figure_stands_before_the_first_explorer_of_each_section(lesson):
    figure, fresh = False, True
    for cell in lesson.cells:
        if cell.kind == "markdown":
            fresh = fresh or bool(re.search(r"(?m)^## ", cell.source))
        elif cell.is_explorer:
            assert figure or not fresh, f"cell {cell.id}: show the thing as a still figure before it moves (for paper, and to know where to look)"
            figure, fresh = False, False
        elif cell.is_figure:
            figure = True


# --- Trainer's notes ------------------------------------------------------------------------------

def test_trainers_notes_stand_in_place_and_folded(lesson):
    assert len(lesson.notes) >= NOTES, f'{len(lesson.notes)} notes; {NOTES} at least: <details class="trainer"><summary>Trainer: ...</summary> ... </details>'
    for title, note in lesson.notes:
        assert title.startswith("Trainer: "), f"'{title}': the summary begins with 'Trainer: '"
        assert "*Point:*" in note and "*Timing:*" in note, f"'{title}' says *Point:* and *Timing:*"
        assert re.search(r'"[^"]*\?[^"]*"|“[^”]*\?[^”]*”', note), f"'{title}' gives one question to ask, in quotation marks"


def test_no_trainers_note_stands_outside_its_fold(lesson):
    rest = re.sub(r"<details class=\"trainer\">.*?</details>", "", lesson.markdown, flags=re.S)
    assert not re.findall(r"Trainer: |\*Point:\*|\*Timing:\*|class=\"trainer\"", rest)


# --- Numbers and words ----------------------------------------------------------------------------

def test_numbers_in_the_prose_are_the_packages(lesson):
    lost = [written for number, unit, written in numbers_in(lesson.prose) if where_from(number, unit) is None]
    assert not lost, f"no table, constant, shop or order of the package holds these; show them through a calculation instead: {lost}"
    strange = fractions_in(re.sub(r'href="[^"]*"', "", lesson.prose)) - rated_fractions()
    assert not strange, f"these are no rated sizes: {sorted(strange)}"


def test_a_number_from_nowhere_is_told_from_the_packages():
    text = "a tail of 2 d, 0.05 mm, 30 degrees and 90 %; but 7.77 mm, 31 to 33 kN and 3/7 in"
    lost = [written for number, unit, written in numbers_in(text) if where_from(number, unit) is None]
    assert lost == ["7.77 mm", "31 to 33 kN", "31 to 33 kN"] and fractions_in(text) - rated_fractions() == {"3/7"}


def test_the_words_are_short_enough_for_a_bench(lesson):
    grade = reading_grade(lesson.prose)
    print(f"reading grade of {lesson.path.name}: {grade:.1f}")
    assert grade <= GRADE, f"reading grade {grade:.1f}: shorter sentences, shorter words"


def test_wording_is_our_own(lesson):
    found = [match[0].strip() for pattern in NOT_OURS for match in re.finditer(pattern, f"{lesson.markdown}\n{lesson.shown}")]
    assert not found, f"not our words: {found}"
