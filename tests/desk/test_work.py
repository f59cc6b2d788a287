"""Each act of the desk, what it enters, and everything that stands in the way of a certificate."""

import json
import os
import stat
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from rigcalc.desk import work
from rigcalc.desk.certify import no_longer_stands
from rigcalc.errors import Refusal
from rigcalc.register.certificate import check_certificate
from rigcalc.register.page import certificate_page
from rigcalc.room.page import sitting_page
from rigcalc.room.sitting import Sitting

from .bench_of_two import DECLARED, all_shown, fill, set_up, sit, work_at_bench


def decide(desk, class_id, outcome="competent", declared=DECLARED, decider="Bettan Roole", reasons="All shown.", who="c01"):
    return work.decide(desk, class_id, who, outcome, decider, reasons, declared)


def test_from_class_list_to_certificate(desk):
    class_id = all_shown(desk)
    assert work.blockers(desk, class_id, "c01", DECLARED) == []
    made = decide(desk, class_id)
    certificate = work.certify(desk, class_id, "c01")
    found = check_certificate(work.certificate(desk, certificate["statement"]["number"])[1])
    assert found.standing == "DEMONSTRATION"
    assert found.statement.register.entry == made["number"] and found.statement.register.hash == made["hash"]
    assert found.statement.scope.sizes == ["1/8"] and found.statement.person.name == "Tomo Kessig"
    assert [entry.kind for entry in desk.register.entries()] == [
        "class set", "paper issued", "paper issued", "answers marked", "sealed set kept", "bench form opened", "bench assessed",
        "decision", "certificate signed"]
    assert desk.register.check() == []


def test_the_decision_binds_what_it_rests_on(desk):
    class_id = all_shown(desk)
    decide(desk, class_id)
    bound = desk.register.entries("decision")[-1].body
    paper, bench = bound["rests_on"]["paper"], bound["rests_on"]["bench"]
    assert paper["paper_sha256"] == desk.register.entries("paper issued")[0].body["paper_sha256"]
    assert paper["key_sha256"] == desk.register.entries("paper issued")[0].body["key_sha256"]
    assert bench["form_sha256"] == desk.register.entries("bench form opened")[0].body["form_sha256"]
    for name in ("answers_sha256", "result_sha256"):
        assert len(paper[name]) == 64
    for name in ("events_sha256", "outcome_sha256", "set_key_sha256"):
        assert len(bench[name]) == 64
    assert bound["shop"]["sha256"] == desk.shop.digest and bound["package"] and paper["blueprint"]["sha256"]


@pytest.mark.parametrize("name", ["p-222222222222", "..", "../keys/x", "x" * 5000, "p\0", ""])
def test_a_paper_that_was_never_set_is_asked_for_by_name(desk, name):
    with pytest.raises(Refusal, match="a paper set at this desk"):
        work.paper_record(desk, name)


@pytest.mark.parametrize("ending", ["json", "key"])
def test_a_paper_whose_record_was_changed_is_shown_to_nobody(desk, ending):
    paper_id = work.paper_of(desk, all_shown(desk), "c01")
    path = desk.folder / "keys" / f"{paper_id}.{ending}"
    path.write_bytes(path.read_bytes().replace(b"Short", b"Shirt") if b"Short" in path.read_bytes() else path.read_bytes()[:-1])
    with pytest.raises(Refusal, match="damaged key record"):
        work.question_paper(desk, paper_id)


def test_no_key_reaches_the_room(desk):
    class_id = all_shown(desk)
    keys = json.loads((desk.folder / "keys" / f"{work.paper_of(desk, class_id, 'c01')}.json").read_text())["keys"]
    feedback = [step["feedback"] for key in keys for step in key["missteps"]]
    room = b"".join(path.read_bytes() for path in desk.room.rglob("*") if path.is_file()).decode("utf-8", "replace")
    assert feedback and not [one for one in feedback if one in room]
    assert '"true_' not in room and desk.secret(class_id).hex() not in room


@pytest.mark.skipif(os.name != "posix", reason="file modes are a POSIX matter")
def test_the_desk_is_private(desk):
    all_shown(desk)
    for path in [desk.folder, *desk.folder.rglob("*")]:
        wanted = 0o700 if path.is_dir() else 0o600
        assert stat.S_IMODE(path.stat().st_mode) == wanted, path


# -- what stands in the way -----------------------------------------------------------------------------------------

def test_nothing_written_and_nothing_made_is_in_the_way(desk):
    class_id = set_up(desk)
    wrong = work.blockers(desk, class_id, "c01", work.Declared())
    assert any("has not been handed in" in one for one in wrong) and any("bench work has not been assessed" in one for one in wrong)


@pytest.mark.parametrize("declared, told", [
    (replace(DECLARED, identified=" "), "identified is not recorded"),
    (replace(DECLARED, independent=False), "Independence is not declared"),
    (replace(DECLARED, exception="she taught him"), "one of the two must go"),
    (replace(DECLARED, no_conflict=False), "no conflict of interest")])
def test_what_has_to_be_declared(desk, declared, told):
    class_id = all_shown(desk)
    wrong = work.blockers(desk, class_id, "c01", declared)
    assert len(wrong) == 1 and told in wrong[0]
    with pytest.raises(Refusal, match="something in the way"):
        decide(desk, class_id, declared=declared)


def test_an_exception_with_its_reason_is_printed(desk):
    class_id = all_shown(desk)
    decide(desk, class_id, declared=replace(DECLARED, independent=False, exception="nobody else in the town may assess"))
    printed = work.certify(desk, class_id, "c01")["statement"]["declarations"]["training"]
    assert printed.startswith("EXCEPTION") and "nobody else in the town may assess" in printed


@pytest.mark.parametrize("misses, blank, told", [
    (("refuses-aluminium-on-stainless",), (), ["A must-be-right question was missed"]),
    ((), ("works-the-limit", "follows-the-order", "names-the-size", "stops-and-asks"), ["The written paper is not passed"])])
def test_what_the_paper_puts_in_the_way(desk, misses, blank, told):
    class_id = set_up(desk)
    sit(desk, class_id, misses=misses, blank=blank)
    work.mark_papers(desk, class_id, "Osk Tamberlin")
    work_at_bench(desk, class_id, c01="right")
    wrong = work.blockers(desk, class_id, "c01", DECLARED)
    assert len(wrong) == 1 and told[0] in wrong[0]
    assert decide(desk, class_id, "not yet")["in_the_way"] == wrong
    with pytest.raises(Refusal):
        work.certify(desk, class_id, "c01")


@pytest.mark.parametrize("happens, told", [("buried tail", "a critical point failed"), ("not seen", "a critical point was not seen"),
                                           ("passes a bad piece", "it has a critical fault")])
def test_what_the_bench_puts_in_the_way(desk, happens, told):
    class_id = set_up(desk)
    sit(desk, class_id)
    work.mark_papers(desk, class_id, "Osk Tamberlin")
    work_at_bench(desk, class_id, c01=happens, c02="right")
    wrong = work.blockers(desk, class_id, "c01", DECLARED)
    assert any(told in one for one in wrong), wrong


def bench_with(desk, class_id, monkeypatch, change):
    """The kept assessment, with one fact of form or outcome changed for the reading of it."""
    from rigcalc.desk import decide as module
    found = json.loads(json.dumps({name: value for name, value in work.assessed(desk, class_id, "c01").items() if name != "entry"}))
    change(found)
    found["entry"] = work.assessed(desk, class_id, "c01")["entry"]
    monkeypatch.setattr(module, "assessed", lambda *_: found)
    return work.blockers(desk, class_id, "c01", DECLARED)


@pytest.mark.parametrize("change, told", [
    (lambda f: f["form"]["gauge"].update(due_on="2020-01-01"), "gauge was out of date"),
    (lambda f: f["form"].update(gauge=None), "no gauge was named"),
    (lambda f: f["outcome"]["destructive"].update(method=None), "No piece was pulled or sectioned"),
    (lambda f: f["outcome"]["destructive"].update(passed=False), "did not hold"),
    (lambda f: f["outcome"].update(pieces=None), "sealed set of finished pieces was not"),
    (lambda f: f["outcome"]["pieces"].update(marked=False), "are not marked"),
    (lambda f: f["outcome"]["pieces"].update(critical_passed=["5"]), "Piece 5 of the sealed set"),
    (lambda f: f["form"].update(practice=True), "practice form"),
    (lambda f: f["form"]["shop"].update(invented=False), "never mixed"),
    (lambda f: f["outcome"].update(passed=False, reasons=["Help was given and its words are not written."]), "Help was given"),
    (lambda f: f["outcome"].update(passed=False, reasons=[]), "not passed")])
def test_every_fact_of_the_bench_can_stand_in_the_way(desk, monkeypatch, change, told):
    class_id = all_shown(desk)
    wrong = bench_with(desk, class_id, monkeypatch, change)
    assert len(wrong) == 1 and told in wrong[0], wrong


def test_without_the_sealed_set_there_is_no_certificate(desk):
    class_id = set_up(desk)
    form_id = work.open_bench(desk, class_id, ["c01"], "Osk Tamberlin", "LB")["form"]["form_id"]
    fill(desk, form_id, c01="right")
    work.assess(desk, form_id, "c01")
    assert any("sealed set" in one for one in work.facts_in_the_way(desk, class_id, "c01"))


# -- deciding and signing -------------------------------------------------------------------------------------------

@pytest.mark.parametrize("more, told", [
    ({"outcome": "maybe"}, "competent, or not yet"), ({"reasons": " "}, "write why"), ({"reasons": "x" * 401}, "1 to 400"),
    ({"decider": ""}, "the decider's name"), ({"decider": "tomo kessig"}, "a candidate of this class, as the decider"),
    ({"declared": replace(DECLARED, identified="x" * 201)}, "up to 200"), ({"who": "c09"}, "somebody on the class list")])
def test_a_decision_typed_wrong_is_not_entered(desk, more, told):
    class_id = all_shown(desk)
    with pytest.raises(Refusal, match=told):
        decide(desk, class_id, **more)
    assert not desk.register.entries("decision")


def test_one_decision_one_certificate_and_a_sound_validity(desk):
    class_id = all_shown(desk)
    with pytest.raises(Refusal, match="decide first"):
        work.certify(desk, class_id, "c01")
    decide(desk, class_id)
    with pytest.raises(Refusal, match="an end after the start"):
        work.certify(desk, class_id, "c01", date(2020, 1, 1))
    work.certify(desk, class_id, "c01", why=" ")
    with pytest.raises(Refusal, match="second certificate"):
        work.certify(desk, class_id, "c01")
    assert len(work.certificates(desk, class_id)) == 1


def test_a_certificate_lists_only_what_was_shown(desk):
    class_id = set_up(desk)
    sit(desk, class_id, misses=("works-the-limit",))
    work.mark_papers(desk, class_id, "Osk Tamberlin")
    rows = work.marked(desk, class_id, "c01")["result"]["slots"]
    struck = next(row for row in rows if not row["must_be_right"] and row["right"])
    key = next(one for one in work.paper_record(desk, work.paper_of(desk, class_id, "c01"))["keys"] if one["slot"] == struck["slot"])
    work.correct_marking(desk, class_id, "struck", key["family"], "Ines Varrow", "The drawing was pale.")
    work_at_bench(desk, class_id, c01="right")
    decide(desk, class_id)
    says = work.certify(desk, class_id, "c01")["statement"]
    from rigcalc.desk.shown import skill_names
    wrong, taken = skill_names(["works-the-limit"])[0], skill_names([struck["skill"]])[0]
    assert says["written"]["skills"] and not {wrong, taken} & set(says["written"]["skills"])
    told = "\n".join(says["not_shown"])
    assert f"not every answer right: {wrong}" in told and f"question that was struck: {taken}" in told
    assert says["written"]["given"] == f"{struck['weight']} of these marks were given for question {struck['slot']}, which was struck."
    again, centres = skill_names([44])[0], skill_names([40])[0]
    assert not {again, centres} & set(says["bench"]["skills"])
    line = next(line for line in says["not_shown"] if line.startswith("by hand, there was no occasion"))
    assert again in line and centres in line


@pytest.mark.parametrize("why", ["", " ", work.WHY_TWO_YEARS])
def test_another_end_than_two_years_needs_a_reason_of_its_own_and_prints_it(desk, why):
    class_id = all_shown(desk)
    decide(desk, class_id)
    longer = date.today() + timedelta(days=4 * 365)
    for until in (longer, date.today() + timedelta(days=30)):
        with pytest.raises(Refusal, match=f"the end {until} without a reason"):
            work.certify(desk, class_id, "c01", until, why)
    assert not work.certificates(desk, class_id)
    with pytest.raises(Refusal, match="the end 2056-01-01, more than 5 years on"):
        work.certify(desk, class_id, "c01", date(2056, 1, 1), "The scheme's owner set thirty years.")
    made = work.certify(desk, class_id, "c01", longer, "The scheme's owner set four years.")
    told = made["statement"]["validity"]["why"]
    assert "four years" in told and told.startswith("Chosen in place of the two years") and work.WHY_TWO_YEARS not in told


def test_what_was_assessed_again_after_the_decision_is_not_signed(desk):
    class_id = all_shown(desk)
    decide(desk, class_id)
    entered = desk.entries("bench assessed")[-1]
    for later in (1, 2):  # closed again with nothing tapped since: all stays as it was
        work.assess(desk, entered.body["form_id"], "c01", datetime.now(UTC) + timedelta(days=later))
    assert desk.entries("bench assessed") == [entered] and work.put_forward(desk, class_id, "c01")["hands"]["entry"] == entered
    work_at_bench(desk, class_id, set_id="set-1", c01="right")
    with pytest.raises(Refusal, match="no longer stands"):
        work.certify(desk, class_id, "c01")
    assert no_longer_stands(desk, class_id, "c01", work.decision_of(desk, class_id, "c01"))
    assert no_longer_stands(desk, class_id, "c01", decide(desk, class_id)) == ""
    assert work.certify(desk, class_id, "c01")["statement"]["bench"]["again"] == ""  # the other form's entry is not counted to this one


@pytest.mark.parametrize("decider, did", [("Osk Tamberlin", "marked it, assessed the bench work"), ("O. Tamberlin", "marked it"),
                                          ("Ines Varrow", "set the paper")])
def test_whoever_had_another_hand_in_it_decides_only_by_a_printed_exception(desk, decider, did):
    class_id = all_shown(desk)
    with pytest.raises(Refusal, match=f"{decider} decides and also .*{did}"):
        decide(desk, class_id, decider=decider)
    assert not desk.register.entries("decision")
    assert decide(desk, class_id, "not yet", decider=decider)["decision"] == "not yet"
    made = decide(desk, class_id, decider=decider, declared=replace(DECLARED, several="a shop of one person"))
    told = work.certify(desk, class_id, "c01")["statement"]["declarations"]["roles"]
    assert told == made["roles"] and f"EXCEPTION: {decider} decides on own work too: a shop of one person" in told
    assert "Ines Varrow set the paper" in told and "Osk Tamberlin marked it, assessed the bench work" in told


def test_who_did_what_is_printed_and_an_exception_nobody_needs_is_refused(desk):
    class_id = all_shown(desk)
    with pytest.raises(Refusal, match="it must go"):
        decide(desk, class_id, declared=replace(DECLARED, several="a shop of one person"))
    decide(desk, class_id)
    made = work.certify(desk, class_id, "c01")
    told = made["statement"]["declarations"]["roles"]
    assert told.endswith("Bettan Roole decided") and "EXCEPTION" not in told
    assert told in certificate_page(made)


# -- records changed behind the desk's back ---------------------------------------------------------------------------

def alter(path):
    path.write_bytes(path.read_bytes().replace(b"Tomo Kessig", b"Tomo Kessix", 1))


@pytest.mark.parametrize("which, told", [("results", "changed since it was entered"), ("bench", "changed since it was opened"),
                                         ("events", "changed or added since"), ("outcomes", "changed or added since"),
                                         ("sets", "changed since the form was opened"), ("certificates", "altered")])
def test_a_changed_record_is_refused_by_name(desk, which, told):
    class_id = all_shown(desk)
    decide(desk, class_id)
    number = work.certify(desk, class_id, "c01")["statement"]["number"]
    form_id = work.forms(desk, class_id)[0]["form_id"]
    if which == "events":
        with open(desk.room / "bench" / f"{form_id}.jsonl", "ab") as file:
            file.write(b'{"kind":"helped"}\n')
    elif which == "sets":
        path = desk.folder / "sets" / "set-1.json"
        path.write_bytes(path.read_bytes().replace(b"small-cable", b"crack"))
    else:
        folder = desk.room / "bench" if which == "bench" else desk.folder / which
        alter(next(folder.glob("*.json")))
    with pytest.raises(Refusal, match=told):
        if which == "certificates":
            work.certificate(desk, number)
        elif which == "sets":
            work.look_at_form(desk, form_id, "c01")
        else:
            work.blockers(desk, class_id, "c01", DECLARED)


# -- papers -----------------------------------------------------------------------------------------------------------

def test_papers_are_set_once_and_marking_again_enters_nothing_new(desk):
    class_id = set_up(desk)
    with pytest.raises(Refusal, match="set already"):
        work.set_papers(desk, class_id, "Ines Varrow")
    sit(desk, class_id)
    for _ in range(2):
        run = work.mark_papers(desk, class_id, "Osk Tamberlin")
        assert len(run.results) == 1 and len(run.not_returned) == 1
    assert len(desk.register.entries("answers marked")) == 1
    assert work.summary(desk, class_id)["marked"] == 1


def test_answers_written_on_paper_are_typed_in_and_a_damaged_file_is_named(desk):
    class_id = set_up(desk)
    first, second = (work.paper_of(desk, class_id, one) for one in ("c01", "c02"))
    slot = next(one["slot"] for one in work.question_paper(desk, first)["questions"] if one["kind"] == "one choice")
    work.type_in(desk, first, {slot: "A"}, "Osk Tamberlin", "Bettan Roole")
    sit(desk, class_id, "c02")
    path = desk.room / "returned" / f"{second}.json"
    path.write_bytes(path.read_bytes()[:-50])
    rows = {row["paper_id"]: row for row in work.who_has_handed_in(desk, class_id)}
    assert rows[first]["state"] == "handed in" and rows[first]["saved"] == 1 and rows[second]["state"] == "handed in, damaged"
    run = work.mark_papers(desk, class_id, "Osk Tamberlin")
    assert [one["file"] for one in run.problems] == [f"{second}.json"] and len(run.results) == 1
    entry = desk.register.entries("answers marked")[0].body
    assert entry["typed_in"]["second_reader"] == "Bettan Roole" and entry["passed"] is False


def test_another_class_s_files_are_left_alone(desk):
    first = set_up(desk)
    other = work.set_class(desk, "other", "Hana Obrey", "Ines Varrow")
    work.set_papers(desk, other, "Ines Varrow")
    sit(desk, first)
    run = work.mark_papers(desk, other, "Osk Tamberlin")
    assert run.results == [] and run.problems == [] and not desk.register.entries("answers marked")


def test_more_time_is_written_down(desk):
    class_id = set_up(desk)
    paper_id = work.paper_of(desk, class_id, "c02")
    work.give_more_time(desk, class_id, paper_id, 10, "Ines Varrow", "power cut")
    assert "power cut" in (desk.room / "answers" / f"{paper_id}.jsonl").read_text()
    assert {row["state"] for row in work.who_has_handed_in(desk, class_id)} == {"not begun"}
    sitting = Sitting(desk.room, paper_id)
    state = sitting.state()
    assert f"You have {state['minutes']} minutes: 10 of them are extra time." in sitting_page(sitting.paper, state, "w")
    sitting.close()
    with pytest.raises(Refusal):
        work.give_more_time(desk, class_id, "p-nobody", 10, "Ines Varrow", "power cut")
