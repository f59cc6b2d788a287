"""A family file that cannot be used is refused with file, line, field; a trainer can add one without Python."""

from __future__ import annotations

import re
import shutil

import pytest
from a_family import SECRET, shop

from rigcalc.errors import Refusal
from rigcalc.questions import FamilyError, Stream, compose, draw, families_folder, load_families, mark
from rigcalc.questions.check import DIRECTIONS
from rigcalc.questions.own import families_for_teaching, family_for_teaching, own_families_in_words, where_to_correct
from rigcalc.questions.scale import UNITS
from rigcalc.questions.template import fill

GOOD = (families_folder() / "limit-of-an-eye.toml").read_text(encoding="utf-8")


def _load(tmp_path, text: str):
    (tmp_path / "mine.toml").write_text(text, encoding="utf-8")
    return load_families(tmp_path)


def _line(text: str, words: str) -> int:
    return next(number for number, line in enumerate(text.splitlines(), 1) if words in line)


@pytest.mark.parametrize(("old", "new", "field", "at"), [
    ("minutes = 4", "minutes = 4\nminuets = 3", "minuets", "minuets"),
    ("level = 2", 'level = "two"', "level", 'level = "two"'),
    ("level = 2", "level = 9", "level", "level = 9"),
    ('kind = "number"', 'kind = "guess"', "kind", 'kind = "guess"'),
    ('section = "09#', 'section = "09#no-', "section", 'section = "09#no-'),
    ('skill = "works-the-limit"', 'skill = "works-the-limt"', "skill", 'skill = "works-the-limt"'),
    ('calculation = "eye_efficiency"', 'calculation = "os.system"', "draw.efficiency.calculation", "os.system"),
    ("efficiency = 1.0", "eficiency = 1.0", "misstep.1.with", "eficiency = 1.0"),
    ("{cable.size}", "{cabel.size}", "ask.en", "{cabel.size}"),
    ("{label_n:force}", "{label_n:forse}", "ask.en", "{label_n:forse}"),
    ('member_of = "cables"', 'member_of = "cabels"', "draw.cable.member_of", "cabels"),
    ('a = 1, b = "$factor.value"', 'a = 1, b = "$facter.value"', "draw.over.with.b", "$facter.value"),
    ('factor = "$over"', 'factor = "over"', "misstep.2.with.factor", 'factor = "over"'),
    ('with = { breaking_force_n = "$label_n", efficiency = "$efficiency"', 'with = { breaking_force_n = "label_n", efficiency = "$efficiency"', "answer.with.breaking_force_n", '= "label_n"'),
    ('accept = ["lbf", "N", "kN"]', 'accept = ["lbf", "mm"]', "answer.accept", 'accept = ["lbf", "mm"]'),
    (", N = 1, kN = 0.01 } }\n\n", " } }\n\n", "answer.round.step", "step = { lbf = 1 } }"),
])
def test_a_broken_field_names_file_line_and_field(tmp_path, old, new, field, at):
    text = GOOD.replace(old, new, 1)
    assert text != GOOD
    with pytest.raises(FamilyError) as told:
        _load(tmp_path, text)
    assert told.value.file == "mine.toml" and told.value.field == field
    assert told.value.line == _line(text, at)
    assert str(told.value).count("\n") == 0


@pytest.mark.parametrize(("old", "new", "told"), [
    ("minutes = 4", 'minutes = "four"', "field minutes: a text in quotes was given; accepted: a number"),
    ("level = 2", "level = 2.5", "accepted: a whole number"),
    ('skill = "works-the-limit"', "skill = 3", "a whole number was given; accepted: a text in quotes"),
    ('accept = ["lbf", "N", "kN"]', 'accept = "lbf"', "a text in quotes was given; accepted: a list in square brackets"),
])
def test_a_wrong_kind_of_value_is_said_in_plain_words(tmp_path, old, new, told):
    assert old in GOOD
    with pytest.raises(FamilyError) as found:
        _load(tmp_path, GOOD.replace(old, new, 1))
    assert told in str(found.value) and "`" not in str(found.value) and "Expected" not in str(found.value)


def test_a_mistyped_section_is_told_what_is_near(tmp_path):
    text = re.sub(r'section = "[^"]+"', 'section = "05#the-tial"', GOOD)
    with pytest.raises(FamilyError, match="'05#the-tial', which no lesson has or owes.*05#the-tail"):
        _load(tmp_path, text)


def test_a_calculation_given_a_wrong_kind_is_told_in_a_sentence(tmp_path):
    text = GOOD.replace('a = 1, b = "$factor.value"', 'a = "one", b = "$factor.value"', 1)
    assert text != GOOD
    family = _load(tmp_path, text)["limit-of-an-eye"]
    with pytest.raises(Refusal, match="the calculation .* cannot work with a = 'one'"):
        draw(family, Stream(SECRET, "x"), shop())


# -- a workplace's own families ---------------------------------------------------------------------------------------------

def test_an_own_family_stands_in_place_of_the_installed_one_or_is_added(own):
    installed = load_families(families_folder())
    assert load_families() == installed and own_families_in_words() == ""
    (own / "limit-of-an-eye.toml").write_text(GOOD.replace("minutes = 4", "minutes = 5"), encoding="utf-8")
    (own / "ours.toml").write_text(GOOD.replace('id = "limit-of-an-eye"', 'id = "ours"'), encoding="utf-8")
    found = load_families()
    assert set(found) == {*installed, "ours"} and found["limit-of-an-eye"].minutes == 5
    assert {name for name in installed if found[name] != installed[name]} == {"limit-of-an-eye"}
    said = own_families_in_words()
    assert said.startswith("Own families in force: 2") and "in place of the installed limit-of-an-eye" in said and "added: ours" in said
    assert f"{own / 'ours.toml'}: correct it there" in where_to_correct(found["ours"])
    assert f"copy {families_folder() / 'cut-length.toml'} to {own / 'cut-length.toml'}" in where_to_correct(found["cut-length"])
    same = (families_folder() / "cut-length.toml").read_text(encoding="utf-8")
    for text, told in ((same, False), (same + "# another\n", True)):
        (own / "cut-length.toml").write_text(text, encoding="utf-8")
        assert ("cut-length" in own_families_in_words().partition("Raise the version of")[2]) == told


def test_one_family_alone_is_that_of_all(own):
    (own / "limit-of-an-eye.toml").write_text(GOOD.replace("minutes = 4", "minutes = 5"), encoding="utf-8")
    assert family_for_teaching("limit-of-an-eye").minutes == 5 and family_for_teaching("cut-length") == load_families()["cut-length"]
    shutil.rmtree(own)
    installed = load_families()
    assert {name: family_for_teaching(name) for name in installed} == installed
    with pytest.raises(KeyError):
        family_for_teaching("no-such-family")


def test_an_own_family_elsewhere_is_of_another_workbook(own, tmp_path):
    other = tmp_path / "other" / "working" / "quizzes" / "families"
    other.mkdir(parents=True)
    (other / "ours.toml").write_text(GOOD.replace('id = "limit-of-an-eye"', 'id = "ours"'), encoding="utf-8")
    assert "ours" in load_families(home=tmp_path / "other") and "ours" not in load_families()


@pytest.mark.parametrize(("name", "new_id", "told"), [
    ("mine.toml", "limit-of-an-eye", "which the installed limit-of-an-eye.toml has too"),
    ("limit-of-an-eye.toml", "ours", "named as the installed one of 'limit-of-an-eye'")])
def test_an_id_that_an_installed_family_has_by_mistake_is_refused(own, name, new_id, told):
    (own / name).write_text(GOOD.replace('id = "limit-of-an-eye"', f'id = "{new_id}"'), encoding="utf-8")
    with pytest.raises(FamilyError, match=told) as found:
        load_families()
    assert found.value.line == _line(GOOD, 'id = "limit-of-an-eye"')


def test_practice_asks_own_families_and_says_so_and_the_installed_ones_where_one_is_broken(own):
    from rigcalc.notebook.practice import PracticeSitting
    path = own / "limit-of-an-eye.toml"
    path.write_text(GOOD.replace("minutes = 4", "minutes = 5"), encoding="utf-8")
    assert families_for_teaching()[0]["limit-of-an-eye"].minutes == 5 and "Questions of this workplace are asked too: 1 of" in repr(PracticeSitting().heading())
    path.write_text(GOOD.replace("minutes = 4", "minutes = = 5"), encoding="utf-8")
    found, said = families_for_teaching()
    assert found["limit-of-an-eye"].minutes == 4 and "cannot be used just now" in said
    assert "Refused" not in said and ".toml" not in said and "the page Teach" in said
    assert "cannot be used" in repr(PracticeSitting().heading()) and "Refused" not in repr(PracticeSitting().heading())


def test_a_blueprint_counts_own_families(own):
    from rigcalc.papers.blueprint import families_at
    before = families_at()
    (own / "ours.toml").write_text(GOOD.replace('id = "limit-of-an-eye"', 'id = "ours"'), encoding="utf-8")
    (own / "limit-of-an-eye.toml").write_text(GOOD, encoding="utf-8")
    assert families_at() - before == {("works-the-limit", 2): 1}


def test_a_missing_field_is_named(tmp_path):
    with pytest.raises(FamilyError, match="field skill: nothing was given"):
        _load(tmp_path, GOOD.replace('skill = "works-the-limit"\n', ""))


def test_what_is_no_toml_is_named_with_its_line(tmp_path):
    with pytest.raises(FamilyError) as told:
        _load(tmp_path, GOOD.replace("level = 2", "level = = 2"))
    assert told.value.line == _line(GOOD, "level = 2")


def test_two_families_of_one_id_are_refused(tmp_path):
    (tmp_path / "other.toml").write_text(GOOD, encoding="utf-8")
    with pytest.raises(FamilyError, match="which mine.toml has too"):
        _load(tmp_path, GOOD)


def test_a_text_is_filled_by_name_and_never_run():
    values = {"a": {"size": "1/8"}, "b": 2.0}
    assert fill("{a.size} {b} {b!r} {0} {a[size]}", values, "US") == "1/8 2 {b!r} {0} {a[size]}"
    for name in ("{a.keys}", "{a.__class__}", "{a.size.upper}"):
        with pytest.raises(KeyError):
            fill(name, values, "US")


def test_a_trainer_adds_a_family_without_python(tmp_path):
    text = """
form = 1
id = "count-of-crimps-and-one"
version = 1
kind = "one choice"
skill = "reads-the-count"
level = 1
section = "05#count-and-order"
minutes = 1
[draw]
row = { member_of = "chart rows" }
more = { calculation = "sum", with = { a = "$row.count", b = 1 } }
two = { calculation = "sum", with = { a = "$row.count", b = 2 } }
less = { calculation = "difference", with = { a = "$row.count", b = 1 } }
none = { calculation = "difference", with = { a = "$row.count", b = 2 } }
[ask]
en = "How many crimps for {row.size} in tool {row.tool}?"
[chart]
en = "{row.mark}{row.chart}: {row.size} takes {row.count}."
[answer]
value = "$row.count"
options = 3
[[misstep]]
id = "one-more"
value = "$more"
feedback = { en = "One too many." }
[[misstep]]
id = "two-more"
value = "$two"
feedback = { en = "Two too many." }
[[misstep]]
id = "one-less"
value = "$less"
feedback = { en = "One too few." }
[[misstep]]
id = "two-less"
value = "$none"
feedback = { en = "Two too few." }
[hint]
en = "Read the chart."
[working]
en = "The chart says {right}."
"""
    family = _load(tmp_path, text)["count-of-crimps-and-one"]
    stream = Stream(SECRET, "mine")
    question, key = compose(draw(family, stream, shop()), stream, 1)
    assert [one["letter"] for one in question["options"]] == ["A", "B", "C"]
    assert mark(key, question, key["right"]["letter"])["right"]


def test_a_family_that_no_row_fits_is_refused_in_one_sentence(tmp_path):
    text = GOOD.replace('size = ["1/16", "3/32", "1/8", "5/32", "3/16", "1/4", "5/16", "3/8"]', 'size = ["7/8"]')
    family = _load(tmp_path, text)["limit-of-an-eye"]
    with pytest.raises(Refusal, match="no member of 'cables' that fits"):
        draw(family, Stream(SECRET, "x"), shop())


def test_the_trainers_page_lists_every_field_calculation_member_and_form():
    import inspect

    from rigcalc.questions import family as form
    from rigcalc.questions.members import MEMBERS
    from rigcalc.questions.registry import CALCULATIONS
    from rigcalc.questions.template import FORMATS

    page = (families_folder() / "README.md").read_text(encoding="utf-8")
    kinds = (form.Family, form.Drawn, form.Answer, form.Misstep, form.Statement, form.Round, form.Figure,
             form.Box)
    fields = {name.rstrip("_") for kind in kinds for name in kind.__struct_fields__} - {"sha256", "file", "draw"}
    for word in (fields - {"ask", "answer", "misstep", "right", "wrong", "pools", "figure", "hint", "working", "chart",
                           "instruction", "box", "label"}) | set(MEMBERS) | set(FORMATS):
        assert re.search(rf"`(\[*)?{word}|[`, {{]{word}[`,\" =]", page), word
    for name, function in CALCULATIONS.items():
        taken = ", ".join(f"`{one}`" for one in inspect.signature(function).parameters) or "nothing"
        assert f"| `{name}` | {taken} |" in page, name
    assert all(f'"{kind}"' in page for kind in (*form.KINDS, *form.BOX_KINDS))
    assert all(unit in page for units in UNITS.values() for unit in units) and all(direction in page for direction in DIRECTIONS)
