"""Marks of the parts that are right, where the blueprint says so; and untrusted answers of every kind in every output."""

from __future__ import annotations

import csv
import io

import pytest

from papers import a_class
from papers.test_marking import hand_in, marked
from rigcalc.papers.blueprint import Blueprint, Cut, Place
from rigcalc.papers.marking import marks_of
from rigcalc.papers.results import class_summary, result_html, results_csv, summary_html
from rigcalc.papers.printed import printed_paper
from rigcalc.questions import families_folder
from rigcalc.questions.family import read_family
from rigcalc.questions.typed import right_typed

KINDS = ("several choices", "match", "sheet", "number", "order", "place", "one choice")


@pytest.fixture(scope="module")
def families():
    return one_of_each_kind()


def one_of_each_kind() -> dict:
    """One family of each kind, by its kind, each read alone."""
    names = ("lap-or-not", "match-fault-and-cause", "limit-in-three-boxes", "limit-of-an-eye", "order-of-crimps",
             "mark-what-no-gauge-finds", "what-the-gauge-misses")
    found = {family.kind: family for family in (read_family(families_folder() / f"{name}.toml") for name in names)}
    assert tuple(found) == KINDS
    return found


def a_class_of_kinds(folder, families, credit: str, must: str = ""):
    marks = {kind: 14 for kind in KINDS} | {"sheet": 16}
    plan = Blueprint(form=1, id="kinds", version=1, title="Kinds", minutes=30, book="closed", allowed="this page only.",
                     calculator=True, partial_credit=credit, cut=Cut(60, "one named person", "A", "2026-01-01", "so"),
                     question=[Place(family.skill, family.level, marks[kind], kind == must) for kind, family in families.items()])
    chosen = {family.id: family for family in families.values()}
    return a_class.set_class(folder, blueprint=plan, families=chosen)


def answers(held) -> dict[str, tuple[int, object]]:
    """Kind to (question number, right answer)."""
    questions = {question["slot"]: question for question in a_class.paper_of(held)["questions"]}
    return {key["kind"]: (key["slot"], right_typed(questions[key["slot"]], key)) for key in a_class.key_of(held)["keys"]}


def half_right(held, kind: str):
    """The right answer with one part of it spoiled."""
    slot, right = answers(held)[kind]
    question = next(one for one in a_class.paper_of(held)["questions"] if one["slot"] == slot)
    if kind == "several choices":
        return right[:-1]
    if kind == "match":
        other = next(option["letter"] for option in question["options"] if option["letter"] != right[0])
        return [other, *right[1:]]
    return ["", *right[1:]]


def score_of(held, given: dict) -> dict:
    hand_in(held, given)
    return marked(held).results[0]


@pytest.mark.parametrize("kind", ["several choices", "match", "sheet"])
def test_parts_count_only_where_the_blueprint_says_so(tmp_path, families, kind):
    scores = {}
    for credit in ("none", "shares"):
        held = a_class_of_kinds(tmp_path / credit, families, credit)
        slot, right = answers(held)[kind]
        spoiled = half_right(held, kind)
        all_right = {number: typed for number, typed in answers(held).values()}
        result = score_of(held, all_right | {slot: spoiled})
        row = next(one for one in result["slots"] if one["slot"] == slot)
        assert not row["right"] and 0 < row["share"] < 1
        scores[credit] = result["score"], row
    (none, _), (shares, row) = scores["none"], scores["shares"]
    assert none == 100 - row["weight"] and row["marks"] == int(row["weight"] * row["share"] * 10 + 1e-6) / 10
    assert shares == pytest.approx(none + row["marks"]) and shares < 100


@pytest.mark.parametrize("more, has_part", [(1, False), (2, True), (-1, True)])
def test_a_limit_rounded_up_leaves_no_share_of_its_sheet(tmp_path, families, more, has_part):
    held = a_class_of_kinds(tmp_path, families, "shares")
    slot, right = answers(held)["sheet"]
    boxes = next(key["boxes"] for key in a_class.key_of(held)["keys"] if key["slot"] == slot)
    at = next(number for number, box in enumerate(boxes) if (box["right"].get("round") or {}).get("direction") == "down")
    figure, unit = right[at].partition(" [")[0].split()
    typed = [*right[:at], f"{int(figure) + more} {unit}", *right[at + 1:]]
    row = next(one for one in score_of(held, {slot: typed})["slots"] if one["slot"] == slot)
    assert not row["right"] and (row["marks"] > 0) == has_part == (row["share"] > 0)
    assert ("A limit was rounded up: no part of this sheet counts." in row["feedback"]) != has_part


def test_a_must_be_right_question_half_right_is_missed(tmp_path, families):
    held = a_class_of_kinds(tmp_path, families, "shares", must="several choices")
    slot, _ = answers(held)["several choices"]
    result = score_of(held, {number: typed for number, typed in answers(held).values()} | {slot: half_right(held, "several choices")})
    assert result["score"] > 60 and not result["passed"] and len(result["must_be_right_missed"]) == 1


def test_whole_marks_stay_whole_numbers():
    assert marks_of([{"marks": 3}, {"marks": 0.5}, {"marks": 1.5}]) == 5 and isinstance(marks_of([{"marks": 0.5}] * 2), int)
    assert marks_of([{"marks": 0.1}] * 3) == 0.3


def test_the_candidate_is_told_which_rule_holds(families, tmp_path):
    told = {}
    for credit in ("none", "shares"):
        held = a_class_of_kinds(tmp_path / credit, families, credit)
        told[credit] = " ".join(a_class.paper_of(held)["rules"])
    assert "none are given for half of one" in told["none"] and "get their share" in told["shares"]


EVIL = ("=HYPERLINK(1)", "+1+1", "-1", "@SUM(A1)", "\t=1", "<script>alert(1)</script>", "＝1", "%0A=1", "|calc", "\r=1")


@pytest.mark.parametrize("evil", EVIL)
def test_what_is_typed_into_any_kind_is_shown_as_text_only(tmp_path, families, evil):
    held = a_class_of_kinds(tmp_path, families, "shares")
    right = answers(held)
    given = {slot: typed for slot, typed in right.values()}
    for kind in ("number", "place", "one choice"):
        given[right[kind][0]] = evil
    slot, boxes = right["sheet"]
    given[slot] = [evil] * len(boxes)
    results = [score_of(held, given)]
    rows = list(csv.reader(io.StringIO(results_csv(results), newline="")))
    typed = rows[0].index("typed")
    assert sum(evil.strip() in row[typed] for row in rows[1:]) >= 4
    for row in rows[1:]:
        assert not [cell for cell in row if cell.lstrip()[:1] in tuple("=+-@|%＝＋－＠")], row
    pages = result_html(results[0]) + summary_html(class_summary(results))
    assert "<script>alert" not in pages


def test_a_name_with_tags_stays_text_in_print_of_every_kind(tmp_path, families):
    plan = Blueprint(form=1, id="kinds", version=1, title="<b>T</b>", minutes=30, book="closed", allowed="<i>no</i>", calculator=True,
                     partial_credit="none", cut=Cut(60, "one named person", "A", "2026-01-01", "so"),
                     question=[Place(family.skill, family.level, 1) for family in families.values()])
    held = a_class.set_class(tmp_path, roster=[{"id": "x", "name": "<u>X</u>"}], blueprint=plan,
                             families={family.id: family for family in families.values()})
    made = printed_paper(a_class.paper_of(held))
    assert not [tag for tag in ("<b>T", "<i>no", "<u>X") if tag in made] and "&lt;u&gt;X" in made
