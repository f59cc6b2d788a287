"""Work on another form of the same scope is not gone round: neither by closing an older form again, nor by leaving a form open."""

import json
import secrets

import pytest

from rigcalc.bench.form import items_of
from rigcalc.bench.observe import accept
from rigcalc.desk import work
from rigcalc.desk.since import shaken
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
    said = f"On form {newer} the bench work was entered as NOT PASSED (entry {failed},"
    assert any(one.startswith(said) for one in work.facts_in_the_way(desk, class_id, "c01"))
    with pytest.raises(Refusal, match=f"On form {newer}"):
        decide(desk, class_id)
    with served(desk.home) as port:
        assert said in Person(port).open(f"/class/{class_id}/decide/c01") and "assess on a new form." in Person(port).open(f"/class/{class_id}/decide")
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


def test_a_failure_on_a_form_opened_first_is_answered_only_by_a_form_opened_after_it(desk):
    """The order of entries counts: the older form was failed last, and the newer one closed again with a word more."""
    class_id = all_shown(desk)
    first = work.forms(desk, class_id)[0]["form_id"]
    from_second = work_at_bench(desk, class_id, set_id="set-1", c01="right")
    seen_wrong(desk, first)
    assert not work.assess(desk, first, "c01")["passed"]
    failed = desk.entries("bench assessed")[-1].number
    words(desk, from_second)
    assert work.assess(desk, from_second, "c01")["passed"]
    assert [one[:len(f"On form {first}")] for one in work.facts_in_the_way(desk, class_id, "c01")] == [f"On form {first}"]
    with pytest.raises(Refusal, match=rf"NOT PASSED \(entry {failed},"):
        decide(desk, class_id)
    work_at_bench(desk, class_id, set_id="set-1", c01="right")
    assert decide(desk, class_id)["decision"] == "competent"


def test_a_suspension_is_not_lifted_where_another_form_was_failed_and_an_old_one_closed_again(desk):
    class_id = all_shown(desk)
    decide(desk, class_id)
    number = work.certify(desk, class_id, "c01")["statement"]["number"]
    other = work_at_bench(desk, class_id, set_id="set-1", c01="right")
    work.change_standing(desk, number, "suspended", "Ines Varrow", "To be looked at.")
    failed = another(desk, class_id)
    work.assess(desk, failed, "c01")
    words(desk, other)
    work.assess(desk, other, "c01")
    assert work.standing_of(desk, number).not_passed == ()
    with pytest.raises(Refusal, match=f"'lifted' while another form stands against it .On form {failed}"):
        work.change_standing(desk, number, "lifted", "Ines Varrow", "Looked at.")


def test_each_sort_of_bench_work_is_decided_on_by_itself(desk):
    class_id = all_shown(desk)
    own = work.forms(desk, class_id)[0]["form_id"]
    decide(desk, class_id)
    number = work.certify(desk, class_id, "c01")["statement"]["number"]
    failed = another(desk, class_id, "5/32")
    work.assess(desk, failed, "c01")
    with served(desk.home) as port:
        me = Person(port)
        page = me.open(f"/class/{class_id}/decide/c01")
        assert f'href="/class/{class_id}/decide/c01?like={own}">Decide on 1/8 7x19 galvanised, aluminium sleeves, tool LB</a>' in page and "This page: <strong>5/32" in page
        assert "Bench work of another sort is decided on by itself." in me.open(f"/class/{class_id}/decide") and "On 5/32 7x19" in me.page
        page = me.open(f"/class/{class_id}/decide/c01?like={own}")
        assert "This page: <strong>1/8" in page and "Nothing is in the way but what has to be declared below." in page
        me.send(f"/class/{class_id}/decide/c01", outcome="competent", reasons="Shown on 1/8.", decider="Bettan Roole", identified="photo card seen and compared", independent="yes", no_conflict="yes")
        assert "The decision is entered" in me.told(), me.told()
    assert work.decision_of(desk, class_id, "c01")["rests_on"]["bench"]["form_id"] == own
    new = work.certify(desk, class_id, "c01")["statement"]
    assert new["scope"]["sizes"] == ["1/8"] and work.standing_of(desk, new["number"]).in_force and work.standing_of(desk, number).state == "replaced"
    assert work.decide(desk, class_id, "c01", "not yet", "Bettan Roole", "5/32 was not shown.", DECLARED)["rests_on"]["bench"]["form_id"] == failed
    assert work.standing_of(desk, new["number"]).in_force


def test_taps_that_were_all_taken_back_stand_in_nobodys_way(desk):
    class_id = all_shown(desk)
    left = another(desk, class_id)
    seen_wrong(desk, left)
    last = work.bench_events(desk, left)[0][-1]
    tap(desk, left, "undone", undoes=last["id"])
    assert work.facts_in_the_way(desk, class_id, "c01") == []


def test_a_decision_does_not_come_alive_again_where_a_form_is_set_aside_after_it(desk):
    class_id = all_shown(desk)
    decide(desk, class_id)
    left = another(desk, class_id)
    seen_wrong(desk, left)
    with pytest.raises(Refusal, match="no longer stands"):
        work.certify(desk, class_id, "c01")
    work.set_aside(desk, left, "Ines Varrow", "The fire bell rang.")
    with pytest.raises(Refusal, match="A bench form of this candidate was set aside after the decision"):
        work.certify(desk, class_id, "c01")
    with served(desk.home) as port:
        page = Person(port).open(f"/class/{class_id}/decide/c01")
    assert "1 tap stands on it; seen wrong, and critical: " in page
    decide(desk, class_id)
    assert work.certify(desk, class_id, "c01")["statement"]["number"]


def test_a_certificate_in_force_is_shaken_by_what_was_seen_wrong_on_a_form_left_open(desk):
    class_id = all_shown(desk)
    decide(desk, class_id)
    work.certify(desk, class_id, "c01")
    left, body = another(desk, class_id), work.certificates(desk, class_id)[0]
    words(desk, left)
    assert shaken(desk, body) == ""  # another assessment has begun, and nothing is wrong
    seen_wrong(desk, left)
    assert f"on bench form {left}, which is not closed, a critical point was seen wrong" in shaken(desk, body)


def test_the_page_of_a_decision_to_sign_shows_the_sort_that_was_decided_on(desk):
    class_id = all_shown(desk)
    decide(desk, class_id)
    work.assess(desk, another(desk, class_id, "5/32"), "c01")
    with served(desk.home) as port:
        page = Person(port).open(f"/class/{class_id}/decide/c01")
    assert "This page: <strong>1/8" in page and "Sign the DEMONSTRATION certificate" in page and "Nothing is in the way" in page


def test_on_the_page_of_another_sort_a_decision_says_on_what_it_rests_and_is_not_signed(desk):
    class_id = all_shown(desk)
    own = work.forms(desk, class_id)[0]["form_id"]
    decide(desk, class_id)
    other = another(desk, class_id, "5/32")
    work.assess(desk, other, "c01")
    with served(desk.home) as port:
        me = Person(port)
        page = me.open(f"/class/{class_id}/decide/c01?like={other}")
        assert "This page: <strong>5/32" in page and "Decided: competent</strong>, on 1/8 7x19" in page and "Sign the DEMONSTRATION certificate" not in page
        assert f'?like={own}">sign it beside the bench work that it rests on</a>' in page
        page = me.open(f"/class/{class_id}/decide/c01?like={own}")
        assert "Decided: competent</strong>, on 1/8 7x19" in page and "Sign the DEMONSTRATION certificate" in page
        work.certify(desk, class_id, "c01")
        assert "<br>1/8, tool LB" in me.open(f"/class/{class_id}/certificates")
