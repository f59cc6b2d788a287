from __future__ import annotations

import pytest

from rigcalc.errors import Refusal
from rigcalc.home import installed_folder
from rigcalc.papers.blueprint import judged_cut, load_blueprint, rules_in_words
from rigcalc.questions import load_families
from rigcalc.skills import load_skills

NARROW = installed_folder() / "quizzes" / "blueprints" / "narrow.toml"
MUST_BE_RIGHT = {1, 19, 46, 50, 59}  # the craft's notes, skills and missteps: the five that must be right in writing
ALWAYS_ASKED = {4, 9, 13, 18, 58, 74}  # the same: on every narrow paper, with heavy weight


def test_the_narrow_paper_asks_what_the_craft_demands():
    plan, skills = load_blueprint("narrow"), load_skills()
    numbers = [skills[place.skill].number for place in plan.question]
    assert len(numbers) == 12 and set(numbers) == MUST_BE_RIGHT | ALWAYS_ASKED | {39}
    assert {skills[place.skill].number for place in plan.question if place.must_be_right} == MUST_BE_RIGHT
    heavy = [place.marks for place in plan.question if skills[place.skill].number in ALWAYS_ASKED]
    assert min(heavy) > max(place.marks for place in plan.question if skills[place.skill].number not in ALWAYS_ASKED)


def test_every_place_of_the_narrow_paper_has_a_family():
    has = {(family.skill, family.level) for family in load_families().values()}
    assert [place for place in load_blueprint("narrow").question if (place.skill, place.level) not in has] == []


def test_the_cut_is_what_the_named_person_expects():
    plan = load_blueprint("narrow")
    # by hand: 8(.85+.85+.80+.90+.85) + 9(.80+.60+.70+.80+.60+.70) + 6(.60) = 34 + 37.8 + 3.6 = 75.4, rounded up
    assert judged_cut(plan.cut, plan.question) == plan.cut.marks == 76
    assert any("one named person: Ines Varrow" in rule for rule in rules_in_words(plan))


@pytest.mark.parametrize("old, new, says", [
    ("marks = 6\n", "marks = 7\n", "marks adding up to 101"),
    ("level = 1", "level = 4", "field question.1.level: level 4"),
    ('method = "one named person"', 'method = "panel"', "a panel of 1"),
    ("marks = 76", "marks = 70", "a cut of 70 marks"),
    ('minutes = 30', 'minutes = "30"', "field minutes: Expected `int`, got `str`"),
    ('minutes = 30', 'minute = 30', "unknown field `minute`"),
    ("0.60]", "1.60]", "expectations of Ines Varrow"),
    ('how = "', 'how = "" # ', "field cut.how: nothing"),
    ("form = 1", "form = ", "line 5"),
])
def test_a_broken_blueprint_is_named_with_file_line_and_field(tmp_path, old, new, says):
    text = NARROW.read_text()
    assert old in text
    broken = tmp_path / "own.toml"
    broken.write_text(text.replace(old, new, 1))
    with pytest.raises(Refusal) as refused:
        load_blueprint(broken)
    assert says in str(refused.value) and "own.toml" in str(refused.value)


def test_a_broken_field_is_found_at_its_line(tmp_path):
    broken = tmp_path / "own.toml"
    broken.write_text(NARROW.read_text().replace("minutes = 30", "minutes = 3"))
    with pytest.raises(Refusal, match="own.toml, line 9, field minutes: 3 minutes"):
        load_blueprint(broken)


def test_an_absent_blueprint_is_refused():
    with pytest.raises(Refusal, match="that can be read"):
        load_blueprint("no-such-plan")
