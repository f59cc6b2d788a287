from __future__ import annotations

import json
import re

import pytest

from papers import a_class
from rigcalc.errors import Refusal
from rigcalc.papers.answers import returned_record, typed_in
from rigcalc.papers.commands import mark_folder
from rigcalc.papers.marking import mark_returned
from rigcalc.papers.records import canonical
from rigcalc.papers.results import class_summary, result_html, results_csv, summary_html, summary_text


def hand_in(held, answers: dict, number: int = 0, **changes):
    """Write a returned file as the room does; `changes` go in after its hashes were made."""
    held.returned.mkdir(exist_ok=True)
    rows = [{"slot": slot, "typed": typed, "revision": 1, "at": a_class.NOW} for slot, typed in answers.items()]
    record = returned_record(a_class.paper_of(held, number), rows, handed_in_at=a_class.NOW) | changes
    path = held.returned / f"{held.issued[number].paper_id}.json"
    path.write_bytes(canonical(record))
    return path


def marked(held, **more):
    return mark_returned(held.returned, held.keys, now=a_class.NOW, **more)


def test_right_answers_pass_and_the_result_carries_what_answers_for_it(held):
    hand_in(held, a_class.right_answers(held))
    result = marked(held).results[0]
    assert result["score"] == result["out_of"] == 100 and result["passed"] and result["must_be_right_missed"] == []
    assert result["paper_sha256"] == held.issued[0].paper_sha256 and result["key_sha256"] == held.issued[0].key_sha256
    assert result["cut"] == {"marks": 60, "method": "one named person", "set_by": "Ines Varrow", "set_on": "2026-03-02",
                             "how": "Judged by her alone."}
    for field in ("form", "paper_id", "candidate", "blueprint", "answers_sha256", "slots", "marked_at", "practice"):
        assert field in result
    for slot in result["slots"]:
        assert {"slot", "skill", "right", "typed", "read_as", "missteps", "feedback", "section", "weight"} <= set(slot)


def test_wrong_answers_are_counted_by_their_weight(held):
    wrong, right = a_class.wrong_answers(held), a_class.right_answers(held)
    keys = {key["slot"]: key for key in a_class.key_of(held)["keys"]}
    for slot in right:
        hand_in(held, right | {slot: wrong[slot]})
        result = marked(held).results[0]
        assert result["score"] == 100 - keys[slot]["weight"]
        assert result["must_be_right_missed"] == ([keys[slot]["skill"]] if keys[slot]["must_be_right"] else [])
        assert result["passed"] == (result["score"] >= 60 and not keys[slot]["must_be_right"])


def test_a_must_be_right_question_missed_fails_alone(held):
    keys = a_class.key_of(held)["keys"]
    must = next(key["slot"] for key in keys if key["must_be_right"])
    answers = a_class.right_answers(held)
    del answers[must]
    hand_in(held, answers)
    result = marked(held).results[0]
    assert result["score"] == 60 and not result["passed"]
    assert result["slots"][must - 1]["feedback"] == "Not answered."


def test_a_misstep_is_named_with_where_to_read(held):
    key = next(key for key in a_class.key_of(held)["keys"] if key["kind"] == "one choice")
    slip = key["missteps"][0]
    hand_in(held, a_class.right_answers(held) | {key["slot"]: slip["letter"]})
    slot = marked(held).results[0]["slots"][key["slot"] - 1]
    assert slot["missteps"] == [slip["id"]] and slot["feedback"] == f"Not right. {slip['feedback']}" and "#" in slot["section"]


DAMAGE = {
    "empty": (lambda data: b"", "the file is empty"),
    "cut off": (lambda data: data[:len(data) // 2], "cut off, or is no JSON"),
    "no JSON": (lambda data: b"\xff\xfe\x00", "cut off, or is no JSON"),
    "deep": (lambda data: b"[" * 100_000, "cut off, or is no JSON|not as it must be"),
    "huge": (lambda data: data + b" " * 300_000, "larger than 256 KB"),
    "a list": (lambda data: b"[]", "not as it must be"),
    "more fields": (lambda data: data.replace(b"{", b'{"run":"import os",', 1), "unknown field `run`"),
    "an answer changed": (lambda data: data.replace(b'"typed":"', b'"typed":"x', 1), "changed since they were handed in"),
    "another form": (lambda data: data.replace(b'"form":1', b'"form":2'), "form 2 is not known"),
}


@pytest.mark.parametrize("name", list(DAMAGE))
def test_a_damaged_file_is_named_and_the_rest_is_marked(held, name):
    hand_in(held, a_class.right_answers(held, 1), 1)
    path = hand_in(held, a_class.right_answers(held))
    path.write_bytes(DAMAGE[name][0](path.read_bytes()))
    run = marked(held)
    assert [result["candidate"]["id"] for result in run.results] == ["do"]
    assert [problem["file"] for problem in run.problems] == [path.name]
    assert re.search(DAMAGE[name][1], run.problems[0]["what"])


@pytest.mark.parametrize("changes, says", [
    ({"paper_id": "p-nobody", "answers_sha256": None}, "no key record"),
    ({"paper_id": "../keys/x", "answers_sha256": None}, "not one that is given out"),
    ({"candidate_id": "do"}, "another's"),
    ({"receipt": "2222-2222-2222-2222"}, "receipt does not fit"),
    ({"paper_sha256": "0" * 64, "answers_sha256": None}, "not the paper that was issued"),
    ({"answers": [{"slot": 9, "typed": "B", "revision": 1, "at": ""}], "answers_sha256": None}, "no such question"),
    ({"answers": [{"slot": 1, "typed": "B", "revision": 1, "at": ""}] * 2, "answers_sha256": None}, "answered twice"),
])
def test_answers_that_belong_elsewhere_are_named(held, changes, says):
    from rigcalc.papers.answers import answers_sha256, receipt

    path = hand_in(held, a_class.right_answers(held))
    record = json.loads(path.read_bytes()) | changes
    if record["answers_sha256"] is None:
        record["answers_sha256"] = answers_sha256(record["paper_id"], record["paper_sha256"], record["answers"])
        record["receipt"] = receipt(record["answers_sha256"])
    path.write_bytes(canonical(record))
    run = marked(held)
    assert run.results == [] and says in run.problems[0]["what"]


@pytest.mark.parametrize("own, foreign", [(0, 1), (1, 0)])
def test_a_file_replaced_by_another_s_names_whose_it_is_and_leaves_the_other_s_own_file(held, own, foreign, capsys):
    """Whichever name comes first in the folder, the file under its own name counts."""
    path = hand_in(held, a_class.right_answers(held, own), own)
    (held.returned / f"{held.issued[foreign].paper_id}.json").write_bytes(path.read_bytes())
    run, names = marked(held), [one.candidate["name"] for one in held.issued]
    assert [result["candidate"]["name"] for result in run.results] == [names[own]]
    (problem,) = run.problems
    assert problem["whose"] == names[foreign] and f"holds the answers of another, {names[own]}'s" in problem["what"]
    assert [one["candidate"]["name"] for one in run.not_returned] == [names[foreign]]
    assert mark_folder([str(held.returned), "--keys", str(held.keys)]) == 1
    out = capsys.readouterr().out
    assert f"NOT MARKED: {problem['file']} ({names[foreign]}'s paper): " in out and f"Not handed in: {names[foreign]} (" in out


def test_a_cut_off_file_names_whose_paper_it_is_and_a_file_under_any_name_is_no_missing_one(held):
    path, other = hand_in(held, a_class.right_answers(held)), hand_in(held, a_class.right_answers(held, 1), 1)
    path.write_bytes(path.read_bytes()[:-50])
    other.rename(other.with_name("from-the-stick.json"))
    run = marked(held)
    assert [(one["file"], one["whose"]) for one in run.problems] == [(path.name, held.issued[0].candidate["name"])]
    assert len(run.results) == 1 and run.not_returned == []


def test_a_link_and_a_stray_file_are_named(held, tmp_path):
    path = hand_in(held, a_class.right_answers(held))
    (held.returned / "linked.json").symlink_to(path)
    (held.returned / "notes.txt").write_text("hello")
    run = marked(held)
    assert len(run.results) == 1
    assert {problem["file"]: problem["what"] for problem in run.problems} == {
        "linked.json": "this is no plain file", "notes.txt": "this is no returned answer file: their names end in .json"}


def test_a_paper_returned_twice_is_marked_once_and_named(held):
    path = hand_in(held, a_class.right_answers(held))
    (held.returned / "z-copy.json").write_bytes(path.read_bytes())
    run = marked(held)
    assert len(run.results) == 1 and "handed in by" in run.problems[0]["what"]


@pytest.mark.parametrize("damage", [lambda data: data[:-30], lambda data: data.replace(b"Tomo", b"Toma"), lambda data: b"[]", lambda data: b""])
def test_a_damaged_key_record_is_named(held, damage):
    hand_in(held, a_class.right_answers(held))
    key = held.keys / f"{held.issued[0].paper_id}.key"
    key.write_bytes(damage(key.read_bytes()))
    run = marked(held)
    assert run.results == [] and "key record" in run.problems[0]["what"]


def test_marking_again_changes_nothing_and_a_differing_result_stays_beside(held, tmp_path):
    path, results = hand_in(held, a_class.right_answers(held)), tmp_path / "results"
    first = marked(held, results_dir=results).results
    assert mark_returned(held.returned, held.keys, results, "2026-06-01T00:00:00+00:00").results == first
    path.unlink()
    hand_in(held, a_class.wrong_answers(held))
    assert marked(held, results_dir=results).results[0]["score"] == 0
    kept = sorted(json.loads(file.read_bytes())["score"] for file in results.iterdir())
    assert kept == [0, 100]


def test_drafts_are_kept_and_do_not_count(held):
    slot = 1
    hand_in(held, {}, drafts=[{"slot": slot, "typed": "B", "revision": 3, "at": ""}])
    row = marked(held).results[0]["slots"][0]
    chosen = "Typed" if a_class.key_of(held)["keys"][0]["kind"] == "number" else "Chosen"
    assert row["right"] is False and row["feedback"] == f"{chosen} but not confirmed."


def test_what_a_candidate_typed_stands_escaped_everywhere(held):
    number = next(key["slot"] for key in a_class.key_of(held)["keys"] if key["kind"] == "number")
    for evil in ("=HYPERLINK(1)", "+1+1", "-1", "@SUM(A1)", "\t=1", "<script>alert(1)</script>", "__import__('os')"):
        hand_in(held, a_class.right_answers(held) | {number: evil})
        run = marked(held)
        result = run.results[0]
        assert result["slots"][number - 1]["right"] is False
        for line in results_csv(run.results).splitlines()[1:]:
            assert not any(cell.startswith(tuple("=+-@\t")) for cell in line.replace('"', "").split(","))
        assert "<script>alert" not in summary_html(class_summary(run.results)) + result_html(result)


def test_the_summary_says_who_needs_help_where(held):
    hand_in(held, a_class.right_answers(held))
    hand_in(held, a_class.wrong_answers(held, 1), 1)
    run = marked(held)
    summary = class_summary(run.results, {"works-the-limit": "Works the limit."})
    assert (summary["marked"], summary["passed"]) == (2, 1)
    assert [(row["asked"], row["right"]) for row in summary["questions"]] == [(2, 1)] * 3
    text = summary_text(summary)
    assert "1 of 2 right: Works the limit." in text and "Dela Orrin" in text and "one named person, Ines Varrow" in text
    page = summary_html(summary)
    assert "Who needs help where" in page and "INVENTED" in page
    assert "Dela Orrin" in page and page.count("<h3>1 of 2 right") == 3


@pytest.mark.parametrize("typed", ["300 lb", "208", "about 423 lbf"])
def test_what_could_not_be_read_is_counted_apart_and_teaches_how_to_write_an_answer(held, typed):
    figure = next(key["slot"] for key in a_class.key_of(held)["keys"] if key["kind"] == "number")
    hand_in(held, a_class.right_answers(held) | {figure: typed})
    other = next(key["slot"] for key in a_class.key_of(held, 1)["keys"] if key["kind"] == "number")
    hand_in(held, a_class.right_answers(held, 1) | {other: "3 lbf"}, 1)
    results = sorted(marked(held).results, key=lambda one: one["candidate"]["name"] == "Dela Orrin")
    assert next(slot for slot in results[0]["slots"] if slot["slot"] == figure)["read_as"] == "could not be read"
    summary = class_summary(results)
    text, page = summary_text(summary), summary_html(summary)
    for said in (text, page):
        assert "Tomo Kessig: not read: unit or form missing (1). To teach: how to write an answer (the figure and its unit), not the skill." in said
        assert "Dela Orrin: wrong in a way that was not recognised." in said and "Tomo Kessig: wrong" not in said
    alone = class_summary(results[:1])
    assert "To read again" not in summary_text(alone) and "how to write an answer (the figure and its unit) <span" in summary_html(alone)
    assert "To read again" in summary_text(class_summary(results[1:]))


def test_a_skill_that_is_taught_again_stands_before_one_whose_answers_were_only_not_read(held):
    for number in (0, 1):
        figure = next(key["slot"] for key in a_class.key_of(held, number)["keys"] if key["kind"] == "number")
        right = a_class.right_answers(held, number)
        hand_in(held, right | {figure: "208"} | ({} if number else {slot: one for slot, one in a_class.wrong_answers(held).items() if isinstance(one, list)}), number)
    text = summary_text(class_summary(marked(held).results))
    assert text.index("1 of 2 right: follows-the-order") < text.index("0 of 2 right: works-the-limit")


@pytest.mark.parametrize("count, told", [(1, "Right on the one paper; one says little."), (3, "Right on all 3 papers; so few say little."),
                                         (29, "Right on all 29 papers; so few say little."), (30, "Nothing to teach again here.")])
def test_few_papers_that_are_all_right_say_so_and_no_more(held, count, told):
    hand_in(held, a_class.right_answers(held))
    summary = class_summary(marked(held).results * count)
    for said in (summary_text(summary), summary_html(summary)):
        assert said.count(told) == 3 and ("Nothing to teach" in said) is (count >= 30)


def test_an_empty_folder_gives_an_empty_summary(held):
    held.returned.mkdir(exist_ok=True)
    assert "No paper could be marked." in summary_text(class_summary(marked(held).results))


def test_the_command_marks_and_names(held, tmp_path, capsys):
    hand_in(held, a_class.right_answers(held))
    (held.returned / "broken.json").write_text("{")
    out = tmp_path / "out"
    assert mark_folder([str(held.returned), "--keys", str(held.keys), "--out", str(out)]) == 1
    said = capsys.readouterr().out
    assert "Tomo Kessig: 100 of 100, passed" in said
    assert "NOT MARKED: broken.json: the file is cut off, or is no JSON. Put the paper's own file back; " in said
    assert "Not handed in: Dela Orrin" in said
    assert (out / "results.csv").read_text().count("\n") == 4 and "Not marked: broken.json: the file is cut off" in (out / "summary.html").read_text()
    (held.returned / "broken.json").unlink()
    assert mark_folder([str(held.returned), "--keys", str(held.keys)]) == 0


def test_the_command_refuses_corrections_that_no_register_names(held):
    hand_in(held, a_class.right_answers(held))
    (held.desk / "corrections").mkdir()
    words = [str(held.returned), "--keys", str(held.keys)]
    assert mark_folder(words) == 0
    (held.desk / "corrections" / "0001.json").write_text("{}")
    with pytest.raises(Refusal, match="no register beside it"):
        mark_folder(words)


def test_a_key_record_that_the_register_does_not_name_marks_nothing(held):
    hand_in(held, a_class.right_answers(held))
    issued = {one.paper_id: one.key_sha256 for one in held.issued}
    assert len(marked(held, issued=issued).results) == 1
    run = marked(held, issued=issued | {held.issued[0].paper_id: "0" * 64})
    assert run.results == [] and "is not the one that the register names" in run.problems[0]["what"]
    assert marked(held, issued={}).results == []


def test_the_command_refuses_a_folder_that_is_not_there(held, tmp_path):
    with pytest.raises(Refusal, match="nowhere"):
        mark_folder([str(tmp_path / "nowhere"), "--keys", str(held.keys)])


def test_paper_answers_are_typed_in_by_two_people(held):
    paper, answers = a_class.paper_of(held), a_class.right_answers(held)
    with pytest.raises(Refusal, match="two different names"):
        typed_in(paper, answers, "Osk Tamberlin", "osk tamberlin", held.returned)
    with pytest.raises(Refusal, match="questions 1 to 3"):
        typed_in(paper, {8: "B"}, "Osk Tamberlin", "Bettan Roole", held.returned)
    typed_in(paper, answers, "Osk Tamberlin", "Bettan Roole", held.returned, a_class.NOW)
    result = marked(held).results[0]
    assert result["score"] == 100
    assert result["typed_in"] == {"by": "Osk Tamberlin", "second_reader": "Bettan Roole", "at": a_class.NOW}
    with pytest.raises(Refusal, match="handed in before"):
        typed_in(paper, answers, "Osk Tamberlin", "Bettan Roole", held.returned)


def test_each_is_told_the_words_of_their_own_paper(held):
    for number in (0, 1):
        hand_in(held, a_class.wrong_answers(held, number), number)
    results = marked(held).results
    told = {name: kept for row in class_summary(results)["questions"] for name, kept in row["missteps"].items()}
    for result in results:
        for slot in result["slots"]:
            if slot["missteps"]:
                assert result["candidate"]["name"] in told[slot["feedback"]]["names"]
