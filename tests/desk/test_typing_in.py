"""Sheets written on paper are typed twice; differences are shown and settled, and both typings are kept."""

import re

import pytest

from rigcalc.desk import work
from rigcalc.desk.folder import exact_text, sha256_of
from rigcalc.desk.persons import hands_on, roles_in_words
from rigcalc.errors import Refusal
from rigcalc.papers.second_reading import doubts, meant
from rigcalc.questions.separators import separators
from rigcalc.questions.typed import written

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
    with pytest.raises(Refusal, match=f"questions {min(choice, number)}, {max(choice, number)}, typed in two ways"):
        work.hand_in_typed(desk, paper_id, {}, "Osk Tamberlin", alone="Bettan was ill")
    with pytest.raises(Refusal, match=f"question {number}, typed in two ways"):
        work.hand_in_typed(desk, paper_id, {choice: None}, "Osk Tamberlin")
    assert not returned(desk, paper_id).exists()
    for by, why in (("Osk Tamberlin", ""), ("B. Roole", " "), ("Bettan Roole", "x" * 201)):
        with pytest.raises(Refusal, match="who typed it, settling where the typings differ was given; accepted: somebody else, or a reason"):
            work.hand_in_typed(desk, paper_id, {choice: None, number: "17 lbf"}, by, alone=why)
    assert not returned(desk, paper_id).exists()
    record = work.hand_in_typed(desk, paper_id, {choice: None, number: "17 lbf"}, "Osk Tamberlin", alone="Bettan was ill")
    assert [(row["slot"], row["typed"]) for row in record["answers"]] == [(number, "17 lbf")]
    kept = work.typings(desk, paper_id)
    assert kept["first"]["answers"][str(number)] == "12 lbf" and kept["second"]["answers"] == {str(number): "72 lbf"}
    assert {row["slot"]: row["chosen"] for row in kept["settled"]["differences"]} == {choice: None, number: "17 lbf"}
    work.mark_papers(desk, sheet[0], "Parvel Minch")
    assert "settled where the typings differ, because nobody else could (Bettan was ill)" in roles_in_words(desk, work.put_forward(desk, sheet[0], "c01"))
    assert desk.entries("answers marked")[0].body["typings_sha256"] == sha256_of(exact_text(kept))
    assert hands_on(desk, work.put_forward(desk, sheet[0], "c01")["written"]["result"]) == {
        "Osk Tamberlin": "settled what was typed in two ways", "Bettan Roole": "typed the paper in", "Parvel Minch": "marked the paper"}
    with pytest.raises(Refusal, match="third typing"):
        work.type_sheet(desk, paper_id, {}, "Parvel Minch")


def test_one_person_typing_twice_is_refused_or_said_so_with_the_reason(desk, sheet):
    _, paper_id, choice, _ = sheet
    work.type_sheet(desk, paper_id, {choice: "A"}, "Osk Tamberlin")
    for by, why in (("Osk Tamberlin", ""), ("O. Tamberlin", " "), ("Osk Tamberlin", "x" * 201)):
        with pytest.raises(Refusal, match="Osk Tamberlin, who typed it first"):
            work.type_sheet(desk, paper_id, {choice: "A"}, by, alone=why)
    assert "second" not in work.typings(desk, paper_id)
    work.type_sheet(desk, paper_id, {choice: "A"}, "Osk Tamberlin", alone="nobody else was in the building")
    assert work.typings(desk, paper_id)["second"]["alone"] == "nobody else was in the building"
    assert work.hand_in_typed(desk, paper_id, {})["typed_in"]["second_reader"] == "Osk Tamberlin (typed a second time)"


@pytest.mark.parametrize("which", ["first", "second"])
def test_what_the_screen_would_ask_is_asked_at_both_typings_and_filed_as_written_when_it_stands_so(desk, sheet, which):
    _, paper_id, choice, number = sheet
    odd = {choice: "E", number: "16.25"}
    if which == "second":
        work.type_sheet(desk, paper_id, {choice: "A", number: "12 lbf"}, "Osk Tamberlin")
    with pytest.raises(Refusal) as told:
        work.type_sheet(desk, paper_id, odd, "Bettan Roole")
    said = str(told.value)
    assert f"question {choice}: 'E' (accepted: one of A, B" in said and f"question {number}: " in said and "without a unit" in said
    assert "it could be 16.25 lbf or 16.25 N" in said and "you cannot" in said and which not in work.typings(desk, paper_id)
    assert work.type_sheet(desk, paper_id, odd, "Bettan Roole", as_written=True) == which
    assert work.typings(desk, paper_id)[which]["answers"] == {str(choice): "E", str(number): "16.25"}


def test_a_sheet_with_fewer_entries_than_boxes_is_asked_about():
    boxes = [{"kind": "number", "accept": ["mm"], "label": f"Box {at}", "options": []} for at in (1, 2, 3)]
    question = {"slot": 4, "kind": "sheet", "boxes": boxes}
    assert doubts({"questions": [question]}, {4: written(question, "12 mm; 14 mm")}) == ["question 4: box 3 of 3 left empty"]
    assert doubts({"questions": [question]}, {4: written(question, "12 mm; 14 mm; 3 mm")}) == doubts({"questions": [question]}, {}) == []


@pytest.mark.parametrize("answers, by, told", [({99: "A"}, "Osk Tamberlin", "questions 1 to"), ({}, " ", "person typing"), ({}, "Osk", "first and family name"),
                                               ({1: ["A"] * 90}, "Osk Tamberlin", "wanted|holds")])
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
        assert me.status == 422 and f"question {number}: " in me.told() and "tick that it is written so" in me.told()
        me.send(at, by="Osk Tamberlin", as_written="yes", **{f"q{choice}": "b", f"q{number}": evil})
        assert "Second typing. Osk Tamberlin typed" in me.page and "script&gt;" not in me.page
        assert re.search("typed this sheet at [0-9]{2}:[0-9]{2} on 20[0-9]{2}-[0-9]{2}-[0-9]{2}; what", me.page)
        me.send(at, by="Bettan Roole", **{f"q{choice}": "b", f"q{number}": "71 lbf"})
        assert "1 question differs" in me.page and "71 lbf" in me.page and evil not in me.page and "&lt;script&gt;77" in me.page
        me.send(at, by="Bettan Roole")
        assert me.status == 422 and "typed in two ways" in me.told()
        me.send(at, by="Parvel Minch", **{f"q{number}": "other", f"other-q{number}": " "})
        assert me.status == 422 and "'what I type here', with nothing typed" in me.told() and "nothing that counts stands there" in me.page
        me.send(at, by="Parvel Minch", **{f"q{number}": "other", f"other-q{number}": "17"})
        assert me.status == 422 and "without a unit" in me.told()
        me.send(at, by="Bettan Roole", **{f"q{number}": "other", f"other-q{number}": "17 lbf"})
        assert me.status == 422 and "who typed it, settling" in me.told()
        me.send(at, by="Parvel Minch", **{f"q{number}": "other", f"other-q{number}": "17 lbf"})
        assert "Handed in for Tomo Kessig" in me.told()
        me.open(at)
        assert "17 lbf" in me.page and "71 lbf" in me.page and evil not in me.page


@pytest.fixture
def foreign(desk, sheet):
    """The sheet with its figure asked for in kN, and written with a comma by the candidate: `8,50 kN`."""
    _, paper_id, choice, number = sheet
    paper = work.question_paper(desk, paper_id)
    asked = next(one for one in paper["questions"] if one["slot"] == number)
    assert asked["separators"]["decimal"] == "." and "kN" in asked["accept"]
    for who in ("Osk Tamberlin", "Bettan Roole"):
        work.type_sheet(desk, paper_id, {choice: "B", number: "8,50 kN"}, who)
    return paper_id, number


def test_a_comma_for_a_point_is_judged_at_settling_and_never_counted_wrong_unasked(desk, sheet, foreign):
    paper_id, number = foreign
    assert work.to_settle(desk, paper_id) == [{"slot": number, "first": "8,50 kN", "second": "8,50 kN", "meant": ["8.50 kN"]}]
    with pytest.raises(Refusal, match="the signs in a figure leave a doubt"):
        work.hand_in_typed(desk, paper_id, {}, "Parvel Minch")
    with pytest.raises(Refusal, match="who typed it, settling"):
        work.hand_in_typed(desk, paper_id, {number: "8.50 kN"}, "Osk Tamberlin")
    record = work.hand_in_typed(desk, paper_id, {number: "8.50 kN"}, "Parvel Minch")
    assert [row["typed"] for row in record["answers"] if row["slot"] == number] == ["8.50 kN"]
    kept = work.typings(desk, paper_id)
    assert kept["first"]["answers"][str(number)] == kept["second"]["answers"][str(number)] == "8,50 kN"
    assert kept["settled"]["by"] == "Parvel Minch" and kept["settled"]["differences"][0]["chosen"] == "8.50 kN"


def test_as_written_it_is_told_without_the_words_of_a_screen(desk, sheet, foreign):
    paper_id, number = foreign
    work.hand_in_typed(desk, paper_id, {number: "8,50 kN"}, "Parvel Minch")
    result = work.mark_papers(desk, sheet[0], "Parvel Minch").results[0]
    told = next(slot for slot in result["slots"] if slot["slot"] == number)
    assert not told["right"] and "Cannot be read" in told["feedback"]
    assert "press " not in told["feedback"] and told["feedback"].endswith("before decimals.")


def test_the_page_asks_which_is_meant(desk, sheet, foreign):
    paper_id, number = foreign
    with served(desk.home) as port:
        me, at = Person(port), f"/class/{sheet[0]}/type-in/{paper_id}"
        me.open(at)
        assert "In 1 question the signs in a figure are not those that the paper asks for" in me.page and "meant is 8.50 kN" in me.page
        assert "0 questions differ" in me.page
        me.send(at, by="Parvel Minch", **{f"q{number}": "meant-7"})
        assert me.status == 422
        me.send(at, by="Parvel Minch", **{f"q{number}": "meant-0"})
    assert work.typings(desk, paper_id)["settled"]["differences"][0]["chosen"] == "8.50 kN"


@pytest.mark.parametrize("typed, language, found", [
    ("8,50 kN", "en", ["8.50 kN"]), ("1,250 lbf", "en", ["1250 lbf", "1.250 lbf"]), ("1.250 kN", "de", ["1250 kN", "1,250 kN"]),
    ("8.50 kN", "en", []), ("8,50 kN", "de", []), ("12", "en", []), ("12 lb", "en", ["12 lbf"]), ("8,50 ells", "en", [])])
def test_only_signs_that_leave_a_doubt_are_judged(typed, language, found):
    box = {"kind": "number", "accept": ["lbf", "N", "kN"], "refusal": False, "separators": separators(language), "options": []}
    assert meant(box, typed) == found
    assert meant({"kind": "sheet", "boxes": [box, box]}, [typed, "3 kN"]) == [[one, "3 kN"] for one in found]
