"""Marking put right: both results kept, who changed what and why, whom it moves; and appeals decided by somebody else."""

import dataclasses
import html
import json

import msgspec
import pytest

from rigcalc.desk import work
from rigcalc.desk.correcting import marked_again_in_words
from rigcalc.desk.decide import put_forward
from rigcalc.desk.marking_commands import correct_class, look_at_papers
from rigcalc.desk.persons import also_did, markers, marking_in_words, roles_in_words
from rigcalc.errors import Refusal
from rigcalc.papers.commands import mark_folder
from rigcalc.papers.key_records import keep_key_record
from rigcalc.papers.appeal import accepted_in_words, appeal_body
from rigcalc.questions import load_families

from . import bench_of_two
from .bench_of_two import DECLARED, all_shown, begun, set_up, sit

ME = ("Ines Varrow", "The key was wrong.")
SECOND = "Mirel Tandoe"
WRONG = "works-the-limit"


@pytest.fixture(scope="module")
def families():
    return load_families()


def marked_class(desk, **how) -> str:
    return begun(desk, both_marked, *how.items())


def both_marked(desk, *how) -> str:
    class_id = set_up(desk)
    sit(desk, class_id, "c01", **dict(how))
    sit(desk, class_id, "c02")
    work.mark_papers(desk, class_id, "Osk Tamberlin")
    return class_id


def row_of(desk, class_id, skill, who="c01") -> tuple[dict, dict]:
    """The marked slot and the key of a skill on somebody's paper."""
    result = work.marked(desk, class_id, who)["result"]
    slot = next(one for one in result["slots"] if one["skill"] == skill)
    return slot, next(key for key in work.paper_record(desk, result["paper_id"])["keys"] if key["slot"] == slot["slot"])


SWAPS = {"one choice": lambda made: (made.right + 1) % len(made.options), "number": lambda made: made.right * 2}


def plain_row(desk, class_id) -> tuple[dict, dict]:
    """A slot of c01 that is no sheet, row or set, with its key: these are easily given another right answer."""
    result = work.marked(desk, class_id, "c01")["result"]
    keys = {key["slot"]: key for key in work.paper_record(desk, result["paper_id"])["keys"]}
    drawn = {name for name, family in load_families().items() if not family.right}  # statements are judged by their texts, not drawn again
    fit = [one for one in result["slots"] if keys[one["slot"]]["kind"] in SWAPS and keys[one["slot"]]["family"] in drawn and keys[one["slot"]]["right"].get("exact") != "refuse" and not one["must_be_right"]]
    slot = next((one for one in fit if keys[one["slot"]]["kind"] == "one choice"), fit[0])  # no other figure is right by its tolerance
    return slot, keys[slot["slot"]]


def swapping(draw, corrected):
    """A draw that gives one family another right answer and leaves the question as it is."""
    def draw_corrected(family, stream, shop):
        made = draw(family, stream, shop)
        if family is not corrected:
            return made
        right = SWAPS[family.kind](made)
        options = tuple(dataclasses.replace(one, misstep=None if at == right else one.misstep or "was-right", feedback=one.feedback or "No.")
                        for at, one in enumerate(made.options))
        return dataclasses.replace(made, right=right, slips=(), options=options)

    return draw_corrected


def turned(family, texts):
    """The family of statements in which those that were right are wrong and those that were wrong are right."""
    rights = [one for one in family.right if one.en in texts]
    wrongs = [one for one in family.wrong if one.en in texts]
    assert len(rights) == len(wrongs) == 1
    return changed(family, right=[*(one for one in family.right if one not in rights), *wrongs],
                   wrong=[*(one for one in family.wrong if one not in wrongs), changed(rights[0], id="was-right", feedback={"en": "No."})])


def changed(family, **fields):
    """The family with other fields; whatever else is changed, its version rises where its text is another."""
    change = msgspec.structs.replace if isinstance(family, msgspec.Struct) else dataclasses.replace
    raised = {"version": family.version + 1} if "sha256" in fields else {}
    return change(family, **raised | fields)


def test_a_struck_question_keeps_both_results_and_enters_whom_it_moves(desk):
    class_id = marked_class(desk, blank=("works-the-limit", "follows-the-order", "names-the-size", "stops-and-asks"))
    before = work.marked(desk, class_id, "c01")["result"]
    family = row_of(desk, class_id, WRONG)[1]["family"]
    looked = work.look_at_correction(desk, class_id, "struck", family, *ME)
    assert work.marked(desk, class_id, "c01")["result"] == before and not desk.entries("answers re-marked")
    done = work.correct_marking(desk, class_id, "struck", family, *ME)
    assert looked["moves"] == [{name: told for name, told in row.items() if name != "certificate"} for row in done["moves"]]
    after = work.marked(desk, class_id, "c01")["result"]
    assert after["score"] == before["score"] + row_of(desk, class_id, WRONG)[0]["weight"]
    kept = [json.loads(path.read_bytes()) for path in (desk.folder / "results").glob(f"{after['paper_id']}*.json")]
    assert before in kept and after in kept and len(kept) == 2
    entry = desk.entries("answers re-marked")[0].body
    assert (entry["by"], entry["why"], entry["way"], entry["family"]) == (*ME, "struck", family)
    row = next(one for one in entry["results"] if one["candidate"]["id"] == "c01")
    assert not row["passed_before"] and row["passed_after"] == (after["score"] >= after["cut"]["marks"])
    assert entry["across_the_cut"] == [one for one in entry["results"] if one["crosses"]]
    assert [one["crosses"] for one in entry["across_the_cut"]] == ["passes now"]
    assert after["corrections"][0]["why"] == ME[1] and desk.register.check() == []


def test_marking_again_after_a_correction_changes_nothing(desk):
    class_id = marked_class(desk, blank=(WRONG,))
    family = row_of(desk, class_id, WRONG)[1]["family"]
    work.correct_marking(desk, class_id, "struck", family, *ME)
    files = {path: path.read_bytes() for path in desk.folder.rglob("*.json")}
    entries = len(desk.register.entries())
    for _ in range(2):
        assert not work.mark_papers(desk, class_id, "Osk Tamberlin").problems
    assert len(desk.register.entries()) == entries
    assert {path: path.read_bytes() for path in desk.folder.rglob("*.json")} == files


def test_key_records_are_never_changed_by_a_correction(desk):
    class_id = marked_class(desk, blank=(WRONG,))
    keys = {path: path.read_bytes() for path in (desk.folder / "keys").iterdir()}
    work.correct_marking(desk, class_id, "struck", row_of(desk, class_id, WRONG)[1]["family"], *ME)
    assert {path: path.read_bytes() for path in (desk.folder / "keys").iterdir()} == keys


def test_a_misstep_is_counted_as_right(desk):
    class_id = marked_class(desk, misses=("picks-the-sleeve-metal",))
    slot, key = row_of(desk, class_id, "picks-the-sleeve-metal")
    assert not slot["right"] and slot["missteps"]
    done = work.correct_marking(desk, class_id, "misstep is right", key["family"], *ME, misstep=slot["missteps"][0])
    assert row_of(desk, class_id, "picks-the-sleeve-metal")[0]["right"]
    moved = {row["candidate"]["id"]: row["score_after"] - row["score_before"] for row in done["moves"]}
    assert moved == {"c01": slot["weight"], "c02": 0}


def test_the_key_is_worked_out_again_from_the_corrected_family(desk, families, monkeypatch):
    """The family's figure was wrong when the papers were set: 'corrected', the same question has another right answer."""
    from rigcalc.papers import issue
    class_id = marked_class(desk)
    slot, key = plain_row(desk, class_id)
    other = changed(families[key["family"]], sha256="0" * 64)
    monkeypatch.setattr(issue, "draw", swapping(issue.draw, other))
    assert slot["right"]
    done = work.correct_marking(desk, class_id, "key again", key["family"], *ME, families=families | {key["family"]: other}, second=SECOND)
    after = next(one for one in work.marked(desk, class_id, "c01")["result"]["slots"] if one["slot"] == slot["slot"])
    assert not after["right"] and {row["score_after"] - row["score_before"] for row in done["moves"]} == {-slot["weight"]}
    assert f"{SECOND} agreed that it was marked again" in roles_in_words(desk, put_forward(desk, class_id, "c01"))
    entry = desk.entries("answers re-marked")[0].body
    new = work.corrections_of(desk)[0]["papers"][work.paper_of(desk, class_id, "c01")][str(slot["slot"])]["key"]
    record = work.paper_record(desk, work.paper_of(desk, class_id, "c01"))
    shown = html.unescape(appeal_body(record, work.marked(desk, class_id, "c01")["result"], slot["slot"], work.corrections_of(desk)))
    assert new["right"] != key["right"] and new["family_sha256"] in shown and key["family_sha256"] not in shown and ME[1] in shown
    assert all(line in shown for line in accepted_in_words(next(one for one in record["paper"]["questions"] if one["slot"] == slot["slot"]), new))
    assert entry["family_after"] == [{"version": key["version"] + 1, "sha256": "0" * 64}] and entry["family_before"][0]["sha256"] == key["family_sha256"]


def test_a_family_that_would_ask_something_else_cannot_give_the_key(desk, families, monkeypatch):
    from rigcalc.papers import issue
    class_id = marked_class(desk)
    key = plain_row(desk, class_id)[1]
    draw, other = issue.draw, changed(families[key["family"]], sha256="0" * 64)
    monkeypatch.setattr(issue, "draw", lambda family, stream, shop: dataclasses.replace(
        draw(family, stream, shop), text="Another question?") if family is other else draw(family, stream, shop))
    with pytest.raises(Refusal, match="another question"):
        work.look_at_correction(desk, class_id, "key again", key["family"], *ME, families=families | {key["family"]: other})
    with pytest.raises(Refusal, match="as it was when"):
        work.look_at_correction(desk, class_id, "key again", key["family"], *ME, families=families)
    same = changed(families[key["family"]], sha256="0" * 64, version=key["version"])
    with pytest.raises(Refusal, match=f"a version above {key['version']}"):
        work.look_at_correction(desk, class_id, "key again", key["family"], *ME, families=families | {key["family"]: same})


@pytest.mark.parametrize("way, skill, more, told", [
    ("struck", "never-re-uses", {}, "must be right"), ("struck", WRONG, {"why": " "}, "a reason of 0 letters"),
    ("struck", WRONG, {"by": ""}, "person correcting"), ("forget it", WRONG, {}, "the way 'forget it'"),
    ("misstep is right", WRONG, {"misstep": "no-such"}, "the misstep 'no-such'")])
def test_a_correction_that_cannot_be_is_refused_and_nothing_is_entered(desk, way, skill, more, told):
    class_id = marked_class(desk)
    given = {"by": ME[0], "why": ME[1]} | more
    with pytest.raises(Refusal, match=told):
        work.correct_marking(desk, class_id, way, row_of(desk, class_id, skill)[1]["family"], **given)
    with pytest.raises(Refusal, match="a family that this class"):
        work.correct_marking(desk, class_id, "struck", "no-such-family", *ME)
    assert not desk.entries("answers re-marked") and not list((desk.folder / "corrections").iterdir())


@pytest.mark.parametrize("by", ["Mirel", "the trainer", "John Doe", "Ines Varrow and Osk Tamberlin", "Ines Varrow; Osk Tamberlin"])
def test_who_corrects_is_one_person_with_first_and_family_name(desk, by):
    class_id = marked_class(desk)
    asked = [class_id, "--folder", str(desk.home), "--family", row_of(desk, class_id, WRONG)[1]["family"], "--way", "struck", "--why", ME[1], "--enter"]
    for act in (lambda: work.look_at_correction(desk, class_id, "struck", asked[4], by, ME[1]), lambda: correct_class([*asked, "--by", by])):
        with pytest.raises(Refusal) as refused:
            act()
        assert str(refused.value) == (f"Refused: '{by}' as the person correcting's name was given; accepted: the first and family name of one person, the family name written out; "
                                      'type both names (in a command, between quotes).')
    for words, told in ((["--by", "Ines", "Varrow"], 'as in --by "Ines Varrow"'), (["--by", "Ines Varrow", "--by", "Osk Tamberlin"], "--by 2 times")):
        with pytest.raises(Refusal, match=told):
            correct_class([*asked, *words])
    assert not desk.entries("answers re-marked")
    assert correct_class([*asked, "--by", "Mirel Tandoe"]) == 0 and desk.entries("answers re-marked")[0].body["by"] == "Mirel Tandoe"


def test_a_correction_changed_by_hand_is_refused(desk):
    class_id = marked_class(desk, blank=(WRONG,))
    work.correct_marking(desk, class_id, "struck", row_of(desk, class_id, WRONG)[1]["family"], *ME)
    path = next((desk.folder / "corrections").iterdir())
    path.write_text(path.read_text().replace("Ines Varrow", "Dela Orrin"))
    with pytest.raises(Refusal, match="changed since it was entered"):
        work.mark_papers(desk, class_id, "Osk Tamberlin")


def test_the_command_counts_the_corrections_that_the_register_names_and_no_other(desk, capsys):
    class_id = marked_class(desk, blank=(WRONG,))
    slot, key = row_of(desk, class_id, WRONG)
    name, before = work.class_of(desk, class_id)["candidates"][0]["name"], work.marked(desk, class_id, "c01")["result"]["score"]
    words = [str(desk.room / "returned"), "--keys", str(desk.folder / "keys")]
    assert mark_folder(words) == 0 and f"{name}: {before} of" in capsys.readouterr().out
    done = work.correct_marking(desk, class_id, "struck", key["family"], *ME)
    after = next(row["score_after"] for row in done["moves"] if row["candidate"]["id"] == "c01")
    assert mark_folder(words) == 0 and after > before and f"{name}: {after} of" in capsys.readouterr().out
    kept = next((desk.folder / "corrections").iterdir())
    forged = json.loads(kept.read_bytes()) | {"number": 2, "papers": {one: {"1": {"right": True}} for one in done["correction"]["papers"]}}
    (desk.folder / "corrections" / "0002.json").write_text(json.dumps(forged))
    assert mark_folder(words) == 0
    said = capsys.readouterr().out
    assert f"{name}: {after} of" in said and "NOT COUNTED: the correction 0002.json: no entry of the register names it." in said
    kept.write_bytes(kept.read_bytes().replace(b"Ines Varrow", b"Dela Orrin"))
    with pytest.raises(Refusal, match="correction 1, which was changed since it was entered"):
        mark_folder(words)
    kept.unlink()
    with pytest.raises(Refusal, match="put it back"):
        mark_folder(words)


def test_a_key_record_changed_whole_marks_nothing_at_the_desk(desk):
    """Even where both its files were made anew to fit each other."""
    class_id = marked_class(desk)
    paper_id = work.paper_of(desk, class_id, "c01")
    record = work.paper_record(desk, paper_id)
    record["cut"]["marks"] = 1
    keep_key_record(desk.folder / "keys", record)
    run = work.mark_papers(desk, class_id, "Osk Tamberlin")
    assert [one["candidate"]["id"] for one in run.results] == ["c02"]
    assert [(one["file"], "the register names" in one["what"]) for one in run.problems] == [(f"{paper_id}.json", True)]


def test_a_certificate_that_rests_on_the_earlier_result_is_named(desk, families, monkeypatch):
    monkeypatch.setattr(bench_of_two, "ROSTER", "Tomo Kessig")  # nobody else's paper shows other statements of the family
    class_id = all_shown(desk)
    work.decide(desk, class_id, "c01", "competent", "Bettan Roole", "All shown.", DECLARED)
    statement = work.certify(desk, class_id, "c01")["statement"]
    number = statement["number"]
    assert "how far a second judge would lie from it is not known" in statement["written"]["cut_how"]
    slot, key = row_of(desk, class_id, "never-re-uses")
    from rigcalc.papers import issue
    other = changed(families[key["family"]], sha256="1" * 64)
    if other.right:
        other = turned(other, {one["shown"] for one in (key["right"], key["missteps"][0])})
    monkeypatch.setattr(issue, "draw", swapping(issue.draw, other))
    done = work.correct_marking(desk, class_id, "key again", key["family"], *ME, families=families | {key["family"]: other}, second=SECOND)
    assert [(row["crosses"], row["certificate"]) for row in done["moves"]] == [("no longer passes", number)]


# -- appeals --------------------------------------------------------------------------------------------------------------

def test_an_allowed_appeal_marks_one_answer_of_one_paper_again(desk):
    class_id = marked_class(desk, blank=(WRONG,))
    slot, other = row_of(desk, class_id, WRONG)[0], work.marked(desk, class_id, "c02")["result"]
    done = work.decide_appeal(desk, class_id, "c01", slot["slot"], "counted as right", "Bettan Roole", "It was on the sheet.", "I wrote it.")
    found = put_forward(desk, class_id, "c01")
    assert roles_in_words(desk, found).endswith("Bettan Roole decided on an appeal") and also_did(desk, found, "Bettan Roole") == ["decided on an appeal"]
    assert marked_again_in_words(desk, class_id, found["written"]["result"]["paper_id"]) == (
        f"First marked {100 - slot['weight']} marks, passed; after an appeal: 100 marks, passed.")
    after = row_of(desk, class_id, WRONG)[0]
    assert after["right"] and after["feedback"] == "Counted as right after an appeal."
    assert work.marked(desk, class_id, "c02")["result"] == other
    assert [entry.kind for entry in desk.register.entries()][-3:] == ["appeal decided", "answers re-marked", "answers marked"]
    assert done["moves"][0]["score_after"] - done["moves"][0]["score_before"] == slot["weight"]
    with pytest.raises(Refusal, match="was not right"):
        work.decide_appeal(desk, class_id, "c01", slot["slot"], "counted as right", "Bettan Roole", "Again.", "I wrote it.")


def test_a_mark_that_stands_changes_no_result(desk):
    class_id = marked_class(desk, blank=(WRONG,))
    before = work.marked(desk, class_id, "c01")["result"]
    with pytest.raises(Refusal, match="without a word of the candidate"):
        work.decide_appeal(desk, class_id, "c01", row_of(desk, class_id, WRONG)[0]["slot"], "counted as right", "Ines Varrow", "So.", " . ")
    work.decide_appeal(desk, class_id, "c01", row_of(desk, class_id, WRONG)[0]["slot"], "the mark stands", "Bettan Roole", "Blank.", "I wrote it.")
    assert work.marked(desk, class_id, "c01")["result"] == before and not desk.entries("answers re-marked")
    assert work.appeals(desk, class_id, "c01")[0]["decider"] == "Bettan Roole" and work.appeals(desk, class_id, "c02") == []
    slot = row_of(desk, class_id, WRONG)[0]["slot"]
    with pytest.raises(Refusal, match="decided by Bettan Roole .the mark stands., with nothing new"):
        work.decide_appeal(desk, class_id, "c01", slot, "counted as right", "Ines Varrow", "So.", " i  wrote it!")
    assert work.decide_appeal(desk, class_id, "c01", slot, "counted as right", "Ines Varrow", "So.", "The sheet was lost.")["moves"]


@pytest.mark.parametrize("decider, told", [("osk tamberlin", "who marked the paper"), ("", "decider")])
def test_whoever_marked_the_paper_does_not_decide(desk, decider, told):
    class_id = marked_class(desk, blank=(WRONG,))
    with pytest.raises(Refusal, match=told):
        work.decide_appeal(desk, class_id, "c01", row_of(desk, class_id, WRONG)[0]["slot"], "the mark stands", decider, "So.", "I wrote it.")
    assert not desk.entries("appeal decided")


@pytest.mark.parametrize("decider, told", [
    ("O. Tamberlin", "who may be Osk Tamberlin, who marked"), ("Tamberlin, Osk", "may be Osk Tamberlin"), ("tamberlin, o", "may be Osk"),
    ("Osk M. Tamberlin", "may be Osk"), ("T. Kessig", "may be Tomo Kessig, a candidate"), ("Ösk Tamberlin", "may be Osk")])
def test_a_name_that_may_be_the_markers_or_the_candidates_is_refused(desk, decider, told):
    class_id = marked_class(desk, blank=(WRONG,))
    with pytest.raises(Refusal, match=told):
        work.decide_appeal(desk, class_id, "c01", row_of(desk, class_id, WRONG)[0]["slot"], "the mark stands", decider, "So.", "I wrote it.")
    assert not desk.entries("appeal decided")


def test_another_person_of_the_same_family_name_decides(desk):
    class_id = marked_class(desk, blank=(WRONG,))
    slot = row_of(desk, class_id, WRONG)[0]["slot"]
    assert work.decide_appeal(desk, class_id, "c01", slot, "the mark stands", "Una Tamberlin", "Blank.", "I wrote it.")["decider"] == "Una Tamberlin"


def test_deciding_on_an_appeal_is_no_marking(desk):
    """Ines allows one appeal and may decide on the next of the same paper; the first marker still may not."""
    class_id = marked_class(desk, blank=(WRONG, "follows-the-order"))
    first, second = (row_of(desk, class_id, skill)[0]["slot"] for skill in (WRONG, "follows-the-order"))
    work.decide_appeal(desk, class_id, "c01", first, "counted as right", "Ines Varrow", "It was on the sheet.", "I wrote it.")
    paper_id = work.paper_of(desk, class_id, "c01")
    assert markers(desk, paper_id) == [("Osk Tamberlin", False)] and marking_in_words(desk, paper_id) == "Marked by Osk Tamberlin."
    with pytest.raises(Refusal, match="who marked the paper"):
        work.decide_appeal(desk, class_id, "c01", second, "counted as right", "Osk Tamberlin", "So.", "I wrote it.")
    done = work.decide_appeal(desk, class_id, "c01", second, "the mark stands", "Ines Varrow", "Blank.", "I wrote it.")
    assert done["marked_by"] == "Osk Tamberlin"


def test_who_puts_a_question_right_has_marked_again(desk):
    class_id = marked_class(desk, blank=(WRONG, "follows-the-order"))
    work.correct_marking(desk, class_id, "struck", row_of(desk, class_id, WRONG)[1]["family"], *ME)
    paper_id = work.paper_of(desk, class_id, "c01")
    assert marking_in_words(desk, paper_id) == "Marked by Osk Tamberlin; marked again by Ines Varrow."
    with pytest.raises(Refusal, match="Ines Varrow, who marked the paper again"):
        work.decide_appeal(desk, class_id, "c01", row_of(desk, class_id, "follows-the-order")[0]["slot"], "the mark stands", ME[0], "So.", "I wrote it.")


# -- the commands ---------------------------------------------------------------------------------------------------------

def test_the_commands_tell_first_and_enter_only_when_asked(desk, capsys):
    class_id = marked_class(desk, blank=(WRONG,))
    family = row_of(desk, class_id, WRONG)[1]["family"]
    words = [class_id, "--folder", str(desk.home), "--family", family, "--way", "struck", "--by", ME[0], "--why", ME[1]]
    assert correct_class(words) == 0 and not desk.entries("answers re-marked")
    assert "Nothing is changed" in capsys.readouterr().out
    assert correct_class([*words, "--enter"]) == 0 and len(desk.entries("answers re-marked")) == 1
    assert "Tomo Kessig: " in capsys.readouterr().out
    assert look_at_papers([class_id, "--folder", str(desk.home)]) == 0
    out = capsys.readouterr().out
    assert "standard deviation" in out and "One person's judgement" in out and "set already" in out
    assert out.startswith("No --blueprint was given, so this is narrow.\n")
    assert look_at_papers([class_id, "--folder", str(desk.home), "--blueprint", "narrow"]) == 0
    assert "No --blueprint" not in capsys.readouterr().out
