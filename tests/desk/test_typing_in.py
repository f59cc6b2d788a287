"""Sheets written on paper are typed twice; differences are shown and settled, and both typings are kept."""

import pytest

from rigcalc.desk import work
from rigcalc.desk.folder import exact_text, sha256_of
from rigcalc.errors import Refusal

from .bench_of_two import set_up
from .served import Person, served


@pytest.fixture
def sheet(desk):
    """A class, a paper, and the numbers of its first choice and its first figure."""
    class_id = set_up(desk, "one choice", "number")
    paper_id = work.paper_of(desk, class_id, "c01")
    questions = work.question_paper(desk, paper_id)["questions"]
    slots = [next(one["slot"] for one in questions if one["kind"] == kind) for kind in ("one choice", "number")]
    return class_id, paper_id, *slots


def returned(desk, paper_id):
    return desk.room / "returned" / f"{paper_id}.json"


def test_two_typings_that_agree_are_handed_in(desk, sheet):
    _, paper_id, choice, number = sheet
    assert work.type_sheet(desk, paper_id, {choice: "B", number: "12 lbf"}, "Osk Tamberlin") == "first"
    assert not returned(desk, paper_id).exists()
    with pytest.raises(Refusal, match="not typed twice"):
        work.hand_in_typed(desk, paper_id, {})
    assert work.type_sheet(desk, paper_id, {choice: "b ", number: "12  LBF"}, "Bettan Roole") == "second"
    assert work.to_settle(desk, paper_id) == []
    record = work.hand_in_typed(desk, paper_id, {})
    assert record["typed_in"]["by"] == "Osk Tamberlin" and record["typed_in"]["second_reader"] == "Bettan Roole"
    assert returned(desk, paper_id).exists()


def test_a_difference_must_be_settled_and_both_typings_are_kept(desk, sheet):
    _, paper_id, choice, number = sheet
    work.type_sheet(desk, paper_id, {choice: "B", number: "12 lbf"}, "Osk Tamberlin")
    work.type_sheet(desk, paper_id, {number: "72 lbf"}, "Bettan Roole")
    rows = work.to_settle(desk, paper_id)
    assert {row["slot"]: (row["first"], row["second"]) for row in rows} == {choice: ("B", None), number: ("12 lbf", "72 lbf")}
    with pytest.raises(Refusal, match="typed in two ways"):
        work.hand_in_typed(desk, paper_id, {choice: None}, "Osk Tamberlin")
    assert not returned(desk, paper_id).exists()
    record = work.hand_in_typed(desk, paper_id, {choice: None, number: "17 lbf"}, "Osk Tamberlin")
    assert [(row["slot"], row["typed"]) for row in record["answers"]] == [(number, "17 lbf")]
    kept = work.typings(desk, paper_id)
    assert kept["first"]["answers"][str(number)] == "12 lbf" and kept["second"]["answers"] == {str(number): "72 lbf"}
    assert {row["slot"]: row["chosen"] for row in kept["settled"]["differences"]} == {choice: None, number: "17 lbf"}
    work.mark_papers(desk, sheet[0], "Parvel Minch")
    assert desk.entries("answers marked")[0].body["typings_sha256"] == sha256_of(exact_text(kept))
    with pytest.raises(Refusal, match="third typing"):
        work.type_sheet(desk, paper_id, {}, "Parvel Minch")


def test_one_person_typing_twice_is_refused_or_said_so_with_the_reason(desk, sheet):
    _, paper_id, choice, _ = sheet
    work.type_sheet(desk, paper_id, {choice: "A"}, "Osk Tamberlin")
    for by, why in (("Osk Tamberlin", ""), ("O. Tamberlin", " "), ("Osk Tamberlin", "x" * 201)):
        with pytest.raises(Refusal, match="who may be Osk Tamberlin"):
            work.type_sheet(desk, paper_id, {choice: "A"}, by, alone=why)
    assert "second" not in work.typings(desk, paper_id)
    work.type_sheet(desk, paper_id, {choice: "A"}, "Osk Tamberlin", alone="nobody else was in the building")
    assert work.typings(desk, paper_id)["second"]["alone"] == "nobody else was in the building"
    assert work.hand_in_typed(desk, paper_id, {})["typed_in"]["second_reader"] == "Osk Tamberlin (typed a second time)"


@pytest.mark.parametrize("answers, by, told", [({99: "A"}, "Osk", "questions 1 to"), ({}, " ", "person typing"),
                                               ({1: ["A"] * 90}, "Osk", "wanted|holds")])
def test_a_typing_that_cannot_be_is_refused(desk, sheet, answers, by, told):
    with pytest.raises(Refusal, match=told):
        work.type_sheet(desk, sheet[1], answers, by)
    assert work.typings(desk, sheet[1]) == {}


def test_the_page_shows_the_first_typing_to_nobody_before_the_second(desk, sheet):
    class_id, paper_id, choice, number = sheet
    evil = "<script>77</script>"
    with served(desk.home) as port:
        me, at = Person(port), f"/class/{class_id}/type-in/{paper_id}"
        me.open(at)
        me.send(at, by="Osk Tamberlin", **{f"q{choice}": "b", f"q{number}": evil})
        assert "Second typing. Osk Tamberlin typed" in me.page and "script&gt;" not in me.page
        me.send(at, by="Bettan Roole", **{f"q{choice}": "b", f"q{number}": "71 lbf"})
        assert "1 question differ" in me.page and "71 lbf" in me.page and evil not in me.page and "&lt;script&gt;77" in me.page
        me.send(at, by="Bettan Roole")
        assert me.status == 422 and "typed in two ways" in me.told()
        me.send(at, by="Bettan Roole", **{f"q{number}": "other", f"other-q{number}": "17 lbf"})
        assert "Handed in for Tomo Kessig" in me.told()
        me.open(at)
        assert "17 lbf" in me.page and "71 lbf" in me.page and evil not in me.page
