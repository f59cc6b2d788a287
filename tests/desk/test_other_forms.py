"""Work on another form of the same scope is not gone round: neither by closing an older form again, nor by leaving a form open."""

import json
import secrets

import pytest

from rigcalc.bench.form import items_of
from rigcalc.bench.observe import accept
from rigcalc.desk import work
from rigcalc.errors import Refusal

from .bench_of_two import DECLARED, all_shown, work_at_bench
from .served import Person, served


def tap(desk, form_id, kind, **fields) -> None:
    """One tap for c01, as the form's page sends it."""
    (form, _), (events, _) = work.bench_form(desk, form_id), work.bench_events(desk, form_id)
    event = accept(form, events, {"kind": kind, "id": secrets.token_hex(8), "revision": len(events) + 1, "candidate": "c01", "at": "2026-04-01T09:00:00Z", **fields})
    with open(desk.room / "bench" / f"{form_id}.jsonl", "a", encoding="utf-8") as file:
        file.write(json.dumps(event) + "\n")


def words(desk, form_id) -> None:
    tap(desk, form_id, "wrote", words="Told the order of the crimps.")


def seen_wrong(desk, form_id) -> None:
    form, _ = work.bench_form(desk, form_id)
    item = next(item for item, stage in items_of(form).values() if item["critical"] and item["kind"] == "see" and stage["per"] == "day")
    tap(desk, form_id, "seen", item=item["key"], piece=0, result="wrong", how="live")


def another(desk, class_id, size="1/8") -> str:
    choice = next(one.key for one in work.pieces_to_make(desk) if one.piece.size == size and one.tool == "LB")
    return work.open_bench(desk, class_id, ["c01"], "Osk Tamberlin", choice=choice)["form"]["form_id"]


def decide(desk, class_id, outcome="competent") -> dict:
    return work.decide(desk, class_id, "c01", outcome, "Bettan Roole", "All shown.", DECLARED)


def test_an_older_form_closed_again_does_not_cover_a_newer_one_that_was_not_passed(desk):
    class_id = all_shown(desk)
    older = work.forms(desk, class_id)[0]["form_id"]
    newer = another(desk, class_id)
    work.assess(desk, newer, "c01")
    failed = desk.entries("bench assessed")[-1].number
    words(desk, older)
    assert work.assess(desk, older, "c01")["passed"]
    said = f"On form {newer}, opened after form {older}, the bench work was entered as NOT PASSED (entry {failed},"
    assert any(one.startswith(said) for one in work.facts_in_the_way(desk, class_id, "c01"))
    with pytest.raises(Refusal, match=f"On form {newer}"):
        decide(desk, class_id)
    with served(desk.home) as port:
        assert said in Person(port).open(f"/class/{class_id}/decide/c01") and "Assess on a new form." in Person(port).open(f"/class/{class_id}/decide")
    assert decide(desk, class_id, "not yet")["decision"] == "not yet"


def test_a_newer_form_that_is_passed_answers_for_the_one_before(desk):
    class_id = all_shown(desk)
    failed = another(desk, class_id)
    work.assess(desk, failed, "c01")
    work_at_bench(desk, class_id, set_id="set-1", c01="right")
    assert decide(desk, class_id)["decision"] == "competent"


def test_another_size_stands_in_the_way_of_nothing(desk):
    class_id = all_shown(desk)
    older = work.forms(desk, class_id)[0]["form_id"]
    work.assess(desk, another(desk, class_id, "5/32"), "c01")
    words(desk, older)
    work.assess(desk, older, "c01")
    assert decide(desk, class_id)["decision"] == "competent"


def test_a_form_that_was_tapped_on_and_never_closed_is_named_and_stands_in_the_way(desk):
    class_id = all_shown(desk)
    left = another(desk, class_id)
    assert work.facts_in_the_way(desk, class_id, "c01") == []  # opened, and nothing tapped
    seen_wrong(desk, left)
    assert work.facts_in_the_way(desk, class_id, "c01") == [f"Form {left} was tapped on and is not closed as it stands: close it for this candidate, or set it aside with the reason."]
    with pytest.raises(Refusal, match=f"Form {left} was tapped on"):
        decide(desk, class_id)
    work.set_aside(desk, left, "Ines Varrow", "The fire bell rang: begun anew on another day.")
    assert decide(desk, class_id)["decision"] == "competent"


def test_a_suspension_is_not_lifted_beside_taps_that_are_not_entered(desk):
    class_id = all_shown(desk)
    decide(desk, class_id)
    number = work.certify(desk, class_id, "c01")["statement"]["number"]
    own = work.forms(desk, class_id)[0]["form_id"]
    work.change_standing(desk, number, "suspended", "Ines Varrow", "To be looked at.")
    words(desk, own)
    with pytest.raises(Refusal, match=f"'lifted' beside bench form {own}, tapped on and not closed as it stands"):
        work.change_standing(desk, number, "lifted", "Ines Varrow", "Looked at.")
    work.assess(desk, own, "c01")
    left = another(desk, class_id)
    seen_wrong(desk, left)
    with served(desk.home) as port:
        page = Person(port).open(f"/certificate/{number}/standing")
    assert 'value="lifted"' not in page and f"The suspension cannot be lifted now. Refused: 'lifted' beside bench form {left}" in page.replace("&#x27;", "'")
    work.set_aside(desk, left, "Ines Varrow", "Opened by mistake.")
    assert work.change_standing(desk, number, "lifted", "Ines Varrow", "Looked at.").in_force
