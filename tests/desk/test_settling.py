"""What the page for a sheet written on paper asks about, shows and refuses: nothing that was typed is thrown away unsaid."""

import re
from html import unescape

import pytest

from rigcalc.desk import work
from rigcalc.papers.results import typed_in_words
from rigcalc.questions.typed import right_typed

from .bench_of_two import set_up
from .served import Person, served


@pytest.fixture
def sheet(desk):
    """A class, a paper, the numbers of a choice, an order and a job sheet, and the right entries of the job sheet."""
    class_id = set_up(desk, "one choice", "order", "sheet")
    paper_id = work.paper_of(desk, class_id, "c01")
    record = work.paper_record(desk, paper_id)
    slots = {one["kind"]: one["slot"] for one in record["paper"]["questions"] if one["kind"] != "one choice" or len(one["options"]) > 2}
    boxes = next(right_typed(question, key) for question, key in zip(record["paper"]["questions"], record["keys"], strict=True) if question["kind"] == "sheet")
    return class_id, paper_id, slots["one choice"], slots["order"], slots["sheet"], boxes


@pytest.fixture
def me(desk):
    with served(desk.home) as port:
        yield Person(port)


def apart(me, sheet, first: dict, second: dict) -> str:
    """Two typings that differ, each question's entry by its number; the page on which they are settled is open."""
    at = f"/class/{sheet[0]}/type-in/{sheet[1]}"
    me.open(at)
    for by, typed in (("Osk Tamberlin", first), ("Maud Tressel", second)):
        me.send(at, by=by, **{f"q{slot}": text for slot, text in typed.items()})
        assert me.status == 200, me.told()
    return at


def lines(me) -> list[str]:
    """What the page says back, line by line."""
    return [unescape(one) for one in re.search(r'<p class="said no"[^>]*>(.*?)</p>', me.page)[1].split("<br>")]


def labels(me, slot: int) -> list[str]:
    return [unescape(one) for one in re.findall(rf'<label for="q{slot}-[a-z0-9-]+">(.*?)</label>', me.page)]


@pytest.mark.parametrize("pick, ticked", [("first", "'A (Osk Tamberlin)' ticked"), ("second", "'B (Maud Tressel, second typing)' ticked"),
                                          ("nothing", "'nothing that counts stands there' ticked"), (None, "no choice ticked"), ("meant-9", "no choice ticked")])
def test_what_is_typed_beside_another_choice_is_refused_and_kept(desk, me, sheet, pick, ticked):
    _, paper_id, choice, *_ = sheet
    at = apart(me, sheet, {choice: "A"}, {choice: "B"})
    picked = {f"q{choice}": pick} if pick else {}
    me.send(at, by="Parvel Minch", **picked, **{f"other-q{choice}": "C"})
    assert me.status == 422 and "settled" not in work.typings(desk, paper_id) and not (desk.room / "returned" / f"{paper_id}.json").exists()
    assert f"question {choice}: 'C' typed under 'What stands on the sheet', and {ticked} was given; accepted: 'what I type here' ticked, or that field emptied;" in me.told()
    assert re.search(rf'name="other-q{choice}" value="C"', me.page)
    assert pick not in ("first", "second", "nothing") or f'value="{pick}" checked' in me.page
    me.send(at, by="Parvel Minch", **{f"q{choice}": "other", f"other-q{choice}": "C"})
    assert me.status == 200 and work.typings(desk, paper_id)["settled"]["differences"][0]["chosen"] == "C"


def test_several_such_questions_are_named_at_once_each_on_its_line(desk, me, sheet):
    _, paper_id, choice, order, *_ = sheet
    row = "".join(one["letter"] for one in work.question_paper(desk, paper_id)["questions"][order - 1]["options"])
    at = apart(me, sheet, {choice: "A", order: row}, {choice: "B", order: row[::-1]})
    me.send(at, by="Parvel Minch", **{f"q{choice}": "first", f"other-q{choice}": "C", f"q{order}": "other"})
    told = lines(me)
    assert len(told) == 4 and told[0] == "Refused:" and told[-1].startswith("Accepted: ")
    assert {one.partition(":")[0] for one in told[1:3]} == {f"question {choice}", f"question {order}"} and any("with nothing typed" in one for one in told)


def test_the_field_stands_under_its_own_choice(me, sheet):
    choice = sheet[2]
    apart(me, sheet, {choice: "A"}, {choice: "B"})
    assert re.search(rf'<label for="q{choice}-other">what I type here:</label></div><div class="under"><label for="other-q{choice}">', me.page)


def test_a_dash_says_that_a_box_is_empty_and_a_missing_entry_is_asked_about(desk, me, sheet):
    class_id, paper_id, _, _, slot, boxes = sheet
    at, many = f"/class/{class_id}/type-in/{paper_id}", len(boxes)
    me.open(at)
    for text, which in (("; ".join(boxes[:-1]), f"{many}"), ("; ".join([*boxes[:-1], ""]), f"{many}"), ("; ".join(["-", *boxes[1:-1]]), f"{many}")):
        me.send(at, by="Osk Tamberlin", **{f"q{slot}": text})
        assert me.status == 422 and f"question {slot}: box {which} of {many} left empty" in me.told(), text
    for by, dash in (("Osk Tamberlin", "-"), ("Maud Tressel", "\u2013")):
        me.send(at, by=by, **{f"q{slot}": "; ".join([*boxes[:-1], dash])})
        assert me.status == 200, me.told()
    assert "The two typings agree" in me.told()
    assert work.typings(desk, paper_id)["first"]["answers"] == {str(slot): [*boxes[:-1], ""]}


def test_a_dash_typed_while_settling_is_not_asked_about_either(desk, me, sheet):
    _, paper_id, _, _, slot, boxes = sheet
    at = apart(me, sheet, {slot: "; ".join(boxes)}, {})
    me.send(at, by="Parvel Minch", **{f"q{slot}": "other", f"other-q{slot}": "; ".join(boxes[:-1])})
    assert me.status == 422 and f"box {len(boxes)} of {len(boxes)} left empty" in me.told()
    me.send(at, by="Parvel Minch", **{f"q{slot}": "other", f"other-q{slot}": "; ".join([*boxes[:-1], "-"])})
    assert me.status == 200 and work.typings(desk, paper_id)["settled"]["differences"][0]["chosen"] == [*boxes[:-1], ""]


def test_an_empty_box_is_shown_as_a_dash_and_an_empty_typing_is_said_so(desk, me, sheet):
    _, paper_id, choice, _, slot, boxes = sheet
    short = "; ".join([*boxes[:-1], "-"])
    at = apart(me, sheet, {slot: "; ".join(boxes), choice: "A"}, {slot: short})
    assert labels(me, slot)[:2] == [f"{'; '.join(boxes)} (Osk Tamberlin)", f"{short} (Maud Tressel, second typing)"]
    assert labels(me, choice) == ["A (Osk Tamberlin)", "left empty (Maud Tressel, second typing)", "nothing that counts stands there", "what I type here:"]
    me.send(at, by="Parvel Minch", **{f"q{slot}": "second", f"q{choice}": "nothing"})
    page = unescape(me.open(at))
    assert f"Question {slot}: {'; '.join(boxes)} or {short}; taken: {short}" in page and f"Question {choice}: A or left empty; taken: nothing" in page
    work.mark_papers(desk, sheet[0], "Parvel Minch")
    assert short in unescape(me.open(f"/class/{sheet[0]}/appeal/c01/{slot}"))


@pytest.mark.parametrize("typed, kind, words", [(["1 mm", "", "2 mm"], "sheet", "1 mm; -; 2 mm"), (["A", "", "B"], "match", "A, -, B"), (["", ""], "sheet", "nothing"),
                                                (None, "sheet", "nothing"), ("A", "one choice", "A")])
def test_an_answer_in_words(typed, kind, words):
    assert typed_in_words(typed, {"kind": kind}) == words


def test_what_is_asked_about_stands_a_line_a_question(me, sheet):
    class_id, paper_id, choice, order, slot, _ = sheet
    at = f"/class/{class_id}/type-in/{paper_id}"
    me.open(at)
    me.send(at, by="Osk Tamberlin", **{f"q{choice}": "Z", f"q{slot}": "1 ell"})
    told = lines(me)
    assert [one.split(":")[0] for one in told] == ["Refused", *(f"question {one}" for one in sorted((choice, slot))), "Accepted"]
    assert "tick that it is written so" in told[-1]
    me.send(at, by="Osk Tamberlin", **{f"q{order}": "AA", f"q{slot}": ";".join("1234567")})
    told = lines(me)
    assert [one.split(":")[0] for one in told] == ["Refused", *(f"question {one}" for one in sorted((order, slot))), "Accepted"]
    assert any("'A, A' (an order names each letter once)" in one for one in told)
