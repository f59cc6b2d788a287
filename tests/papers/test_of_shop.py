"""A shop that has little: its own figures where it has any, the invented shop where it has none, said on the question."""

from __future__ import annotations

import dataclasses
import json
import re
from pathlib import Path

import msgspec
import pytest

from many import many
from papers import a_class
from rigcalc.errors import Refusal
from rigcalc.papers import issue
from rigcalc.papers.asked_again import key_again
from rigcalc.papers.askable import askable_text
from rigcalc.papers.blueprint import Place, load_blueprint
from rigcalc.papers.issue import STOOD_IN, issue_papers, practice_paper
from rigcalc.papers.of_shop import families_of_shop, gives_questions, stand_ins, unvaried
from rigcalc.questions import Stream, draw, families_folder, load_families
from rigcalc.questions.family import read_family
from rigcalc.questions.of_sample import sample_named
from rigcalc.shop import load_shop, sample_shop_path

LITTLE = load_shop(Path(__file__).parent.parent / "notebooks" / "strangers_shop.toml")
FAMILIES = load_families(families_folder())
FULL = load_blueprint("full")
SAMPLE = load_shop(sample_shop_path())
SCOPE = "static display wires with nobody under or beside them"
OTHER_SCOPE = dataclasses.replace(LITTLE, factors=[dataclasses.replace(LITTLE.factors[0], scope=SCOPE)])


@pytest.fixture(scope="module")
def held(tmp_path_factory):
    folder = tmp_path_factory.mktemp("little")
    issued = issue_papers("small", [{"id": "c1", "name": "Wen Ashdown"}], FULL, FAMILIES, LITTLE, a_class.SECRET,
                          folder / "room", folder / "desk", a_class.NOW)
    return json.loads((folder / "desk" / "keys" / f"{issued[0].paper_id}.json").read_bytes())


def test_the_whole_paper_can_be_set_and_each_question_of_the_invented_shop_says_so(held):
    asked = {question["slot"]: question["text"] for question in held["paper"]["questions"]}
    stood_in = {key["slot"]: key["family"] for key in held["keys"] if key.get("stood_in")}
    assert len(asked) == len(FULL.question) and stood_in
    assert {slot for slot, text in asked.items() if text.startswith(STOOD_IN)} == set(stood_in)
    assert not any(gives_questions(FAMILIES[family], LITTLE) for family in stood_in.values() if not sample_named(FAMILIES[family]))


@pytest.mark.parametrize("name", [name for name, family in FAMILIES.items() if sample_named(family)])
def test_a_question_that_names_the_invented_shop_s_tools_or_people_says_so_in_another_shop_s_paper(name):
    for number in range(many(3, 30)):
        stream = Stream(a_class.SECRET, f"named {number}")
        question, key = issue.one_question(FULL.question[0], 0, 1, FAMILIES[name], LITTLE, stream)
        named = sample_named(FAMILIES[name], question)
        assert question["text"].startswith(STOOD_IN) is key.get("stood_in", False) is named
        assert not issue.one_question(FULL.question[0], 0, 1, FAMILIES[name], SAMPLE, stream)[0]["text"].startswith(STOOD_IN)


@pytest.mark.parametrize("name", FAMILIES)
def test_what_a_real_shop_is_asked_names_nothing_of_the_invented_one_without_saying_so(name):
    if not gives_questions(FAMILIES[name], LITTLE):
        return
    for number in range(many(4, 60)):
        question, _ = issue.one_question(FULL.question[0], 0, 1, FAMILIES[name], LITTLE, Stream(a_class.SECRET, f"not named {number}"))
        shown = " ".join([question["text"], question["chart"] or "", *question["left"], *(one["text"] for one in question["options"])])
        if shown.startswith(STOOD_IN):
            continue
        assert not re.search(r"Varrow|AQ-P|[^a-z-]\b(?:LA|LB|LC|BB|GA|GB|GC)\b", shown), shown
        factor = re.search(r"factor(?: is|,)? ([0-9.]+),? set by ([^.;,]*?)(?: on [0-9-]+)?(?: for ([^.;]*))?[.;,]", shown)
        if factor and "of this invented " not in factor[0].lower():
            own = LITTLE.factors[0]
            assert (float(factor[1]), factor[2]) == (own.value, own.owner) and factor[3] in (None, own.scope), shown
        if (said := re.search(r"[Cc]harts? in force lists?.{40}", shown)):
            raise AssertionError(f"a chart in force that nobody entered: {said[0]}")
        assert not re.search(r"procedure [A-Z-]+[0-9]* of this shop|[Tt]he shop's procedure", shown), shown


@pytest.mark.parametrize("name", FAMILIES)
def test_a_shop_s_own_factor_is_asked_about_and_never_printed_for_a_job(name):
    if not gives_questions(FAMILIES[name], OTHER_SCOPE):
        return
    for number in range(many(3, 60)):
        text = draw(FAMILIES[name], Stream(a_class.SECRET, f"own {number}"), OTHER_SCOPE).text
        assert OTHER_SCOPE.factors[0].owner not in text or name == "scope-of-a-factor", text


@pytest.mark.parametrize("name", ["inside-the-scope", "whose-factor"])
def test_orders_sorted_by_one_scope_are_not_sorted_by_another(name):
    assert gives_questions(FAMILIES[name], LITTLE) and not gives_questions(FAMILIES[name], OTHER_SCOPE)


@pytest.mark.parametrize(("places", "stays"), [(1, False), (2, True)])
def test_what_this_shop_cannot_be_asked_is_asked_only_where_no_other_family_is_left(places, stays):
    other = msgspec.structs.replace(FAMILIES["re-use"], id="other-one", skill="keeps-charts-apart", level=2)
    plan = msgspec.structs.replace(FULL, question=[Place("keeps-charts-apart", 2, 100 // places)] * places)
    here = families_of_shop(plan, FAMILIES | {"other-one": other}, LITTLE)
    assert "other-one" in here and ("in-the-other-tool" in here) is stays
    assert bool(stand_ins(plan, FAMILIES | {"other-one": other}, LITTLE)) is stays


def test_whoever_sets_the_paper_is_told_first_and_the_sample_shop_needs_no_stand_in():
    told = stand_ins(FULL, FAMILIES, LITTLE)
    assert any("'keeps-charts-apart'" in one and "INVENTED shop stands in" in one for one in told)
    assert stand_ins(FULL, FAMILIES, load_shop(sample_shop_path())) == []


def test_whoever_sets_the_paper_is_told_where_the_shop_gives_one_set_of_figures_only():
    family = FAMILIES["what-one-eye-takes"]
    chart = next(one for one in SAMPLE.charts if one.sleeve_metal == "aluminium")
    one_row = dataclasses.replace(SAMPLE, invented=False, charts=[dataclasses.replace(chart, rows=chart.rows[:1])])
    plan = msgspec.structs.replace(FULL, question=[Place(family.skill, family.level, 100, ("what-one-eye-takes",))])
    fixed = msgspec.structs.replace(family, draw=family.draw | {"more": msgspec.structs.replace(family.draw["more"], one_of=[1])})
    assert unvaried(plan, FAMILIES, one_row) == []
    assert ["what-one-eye-takes" in one for one in unvaried(plan, FAMILIES | {family.id: fixed}, one_row)] == [True]
    assert unvaried(FULL, FAMILIES, SAMPLE) == []


def test_the_list_of_skills_says_which_families_are_not_of_this_shop():
    text = askable_text(FAMILIES, ["keeps-charts-apart"], LITTLE)
    assert "in-the-other-tool (3 min, not of your shop)" in text and "the question says so" in text
    assert "not of your shop" not in askable_text(FAMILIES, [], load_shop(sample_shop_path()))


def test_practice_on_the_paper_keeps_to_the_shop_and_says_where_it_cannot():
    made = practice_paper(FULL, FAMILIES, LITTLE, Stream(a_class.SECRET, "practice"))
    marked = [question["text"].startswith(STOOD_IN) for question in made.paper["questions"]]
    assert any(marked) and not all(marked) and made.paper["shop"] == LITTLE.name


def test_a_family_that_no_shop_can_be_asked_is_refused_by_what_is_wrong_with_it(tmp_path):
    name = "in-the-other-tool.toml"
    text = (families_folder() / name).read_text("utf-8").replace('size = ["1/8", "5/32"]', 'size = ["9/16"]')
    (tmp_path / name).write_text(text, "utf-8")
    with pytest.raises(Refusal, match="in-the-other-tool"):
        issue.one_question(FULL.question[0], 0, 1, read_family(tmp_path / name), LITTLE, Stream(a_class.SECRET, "one"))


def test_the_key_of_a_question_that_stood_in_is_worked_out_again(held):
    key = next(key for key in held["keys"] if key.get("stood_in"))
    family = msgspec.structs.replace(FAMILIES[key["family"]], version=key["version"] + 1, sha256="0" * 64)
    again = key_again(held, key, {family.id: family}, LITTLE, a_class.SECRET)
    assert again["right"] == key["right"] and again["stood_in"] is True
