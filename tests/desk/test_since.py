"""What changed since a bench form was opened, or since a certificate was signed, is told, and nothing is signed on it in silence."""

import json
from dataclasses import replace
from datetime import date, timedelta

import pytest

from rigcalc.bench.observe import accept
from rigcalc.desk import work
from rigcalc.desk.hands import as_entered
from rigcalc.desk.since import advice, certificates_on, shaken, since_opened
from rigcalc.errors import Refusal
from rigcalc.register.commands import check_certificate
from rigcalc.shop.load import load_shop

from .bench_of_two import DECLARED, all_shown, found_bad_text, set_up, work_at_bench
from .served import Person, served

ASKED = dict(identified="photo card seen", independent="yes", no_conflict="yes", outcome="competent", reasons="All.", decider="Bettan Roole")
WHY = "All crimps gauged again with GB by Ines Varrow, each passed."


def changed(desk, what: str):
    """The desk with a shop file that says something else now."""
    shop, bad = desk.shop, {"found_bad": date(2026, 4, 2), "found_bad_by": "Ines Varrow", "why": "does not close"}
    opened = desk.entries("bench form opened")[-1].body
    one = {"tool": opened["made"]["tool"], "gauge": opened["gauge"]["id"], "chart": opened["chart"]["id"]}
    mend = {"tool": lambda: {"tools": tuple(replace(t, **bad) if t.id == one["tool"] else t for t in shop.tools)},
            "gauge": lambda: {"gauges": tuple(replace(g, **bad) if g.id == one["gauge"] else g for g in shop.gauges)},
            "chart": lambda: {"charts": tuple(replace(c, edition="99") if c.id == one["chart"] else c for c in shop.charts)},
            "chart gone": lambda: {"charts": tuple(c for c in shop.charts if c.id != one["chart"])},
            "another tool": lambda: {"tools": tuple(t if t.id == one["tool"] else replace(t, **bad) for t in shop.tools)}}[what]()
    return replace(desk, shop=replace(shop, **mend))


def decide(desk, class_id, stands="", outcome="competent"):
    return work.decide(desk, class_id, "c01", outcome, "Bettan Roole", "All of it.", replace(DECLARED, stands=stands))


@pytest.mark.parametrize("what, told", [("tool", "tool LB was found bad on 2026-04-02 by Ines Varrow"), ("gauge", "was found bad on 2026-04-02"),
                                        ("chart", "edition 5 on the form, has edition 99 now"), ("chart gone", "has no place in the shop file now")])
def test_what_has_changed_since_the_form_was_opened_is_told_and_needs_a_printed_reason(desk, what, told):
    class_id = all_shown(desk)
    form_id = work.forms(desk, class_id)[0]["form_id"]
    assert since_opened(desk, form_id) == [] and advice(desk, form_id) == ""
    now = changed(desk, what)
    assert [told in one for one in since_opened(now, form_id)] == [True] and told in advice(now, form_id)
    assert ("goes back to a gauge that is in date" in advice(now, form_id)) == (what in ("tool", "gauge"))
    with pytest.raises(Refusal, match="Since the bench form was opened .*" + told):
        decide(now, class_id)
    assert decide(now, class_id, outcome="not yet")["decision"] == "not yet"
    decide(now, class_id, WHY)
    again = work.certify(now, class_id, "c01")["statement"]["bench"]["again"]
    assert again == f"Since it was opened: {since_opened(now, form_id)[0]}. It stands all the same: {WHY}"


def test_a_reason_that_nobody_needs_is_refused_and_another_tool_changes_nothing(desk):
    class_id = all_shown(desk)
    with pytest.raises(Refusal, match="nothing has changed since it was opened: it must go"):
        decide(desk, class_id, WHY)
    assert since_opened(changed(desk, "another tool"), work.forms(desk, class_id)[0]["form_id"]) == []
    decide(changed(desk, "another tool"), class_id)


@pytest.mark.parametrize("first, then", [("", "gauge"), ("chart", "gauge"), ("chart", "")])
def test_what_changes_between_decision_and_signature_is_decided_again(desk, first, then):
    class_id = all_shown(desk)
    decided, signing = (changed(desk, what) if what else desk for what in (first, then))
    decide(decided, class_id, WHY if first else "")
    with pytest.raises(Refusal, match="a decision that no longer stands"):
        work.certify(signing, class_id, "c01")
    assert not work.certificates(desk, class_id)


def test_the_desks_pages_tell_of_a_gauge_found_bad(desk, monkeypatch):
    class_id = all_shown(desk)
    form_id = work.forms(desk, class_id)[0]["form_id"]
    shop = changed(desk, "gauge").shop
    monkeypatch.setattr("rigcalc.desk.folder.load_shop", lambda path: shop)
    with served(desk.home) as port:
        me = Person(port)
        told = "was found bad on 2026-04-02 by Ines Varrow"
        for page in ("/shop", f"/class/{class_id}/bench/{form_id}/c01", f"/class/{class_id}/decide/c01"):
            assert told in me.open(page), page
        me.send(me.at, **ASKED)
        assert me.status == 422 and "say why this one stands" in me.told()
        me.send(me.at, **ASKED, stands=WHY)
        me.send(me.at, act="sign", until="", why="")
        number = work.certificates(desk, class_id)[0]["certificate"]
        assert WHY.rstrip(".") in me.open(f"/certificate/{number}")


def test_a_gauge_that_was_set_right_again_was_bad_all_the_same(desk, tmp_path):
    class_id = all_shown(desk)
    form_id = work.forms(desk, class_id)[0]["form_id"]
    own = tmp_path / "shop.toml"
    own.write_text(found_bad_text("GB", "a slot worn open"), "utf-8")
    bad = replace(desk, shop=load_shop(own))
    decide(bad, class_id, outcome="not yet")  # an entry made while the gauge was bad
    mended, checked = replace(desk, shop=desk.shop), next(one.checked_on for one in desk.shop.gauges if one.id == "GB")
    assert since_opened(mended, form_id) == since_opened(bad, form_id) == [
        f"gauge GB was found bad on 2026-04-02 by Ines Varrow (a slot worn open); last good check written down: {checked}"]
    with pytest.raises(Refusal, match="a slot worn open"):
        decide(mended, class_id)
    decide(mended, class_id, WHY)
    work.certify(mended, class_id, "c01")


def test_a_chart_changed_under_its_edition_and_a_gauge_that_was_due_count_too(desk):
    class_id = all_shown(desk)
    form_id = work.forms(desk, class_id)[0]["form_id"]
    name = desk.entries("bench form opened")[-1].body["chart"]["id"]
    fewer = tuple(replace(c, rows=c.rows[:-1]) if c.id == name else c for c in desk.shop.charts)
    assert "says something else than on the form, and is still called edition 5" in since_opened(replace(desk, shop=replace(desk.shop, charts=fewer)), form_id)[0]
    late = tuple(replace(g, due_on=date(2026, 3, 3)) if g.id == "GB" else g for g in desk.shop.gauges)
    assert since_opened(replace(desk, shop=replace(desk.shop, gauges=late)), form_id) == ["gauge GB was due on 2026-03-03 by the shop file, before that day"]


def test_a_page_that_does_not_show_the_last_change_decides_nothing(desk, monkeypatch):
    class_id = all_shown(desk)
    with served(desk.home) as port:
        me = Person(port)
        me.open(f"/class/{class_id}/decide/c01")
        monkeypatch.setattr("rigcalc.desk.folder.load_shop", lambda path: changed(desk, "tool").shop)
        me.send(me.at, **ASKED, stands=WHY)
        assert me.status == 422 and "does not show all that is entered by now" in me.told() and "tool LB was found bad" in me.page
        me.send(me.at, **ASKED, stands=WHY)
        assert me.status == 200 and "competent" in me.told()


def test_a_page_that_does_not_show_the_bench_work_or_the_decision_in_force_decides_and_signs_nothing(desk):
    class_id = all_shown(desk)
    at, first = f"/class/{class_id}/decide/c01", work.forms(desk, class_id)[0]["form_id"]
    with served(desk.home) as port:
        me, other = Person(port), Person(port)
        assert f"1/8 7x19 galvanised, aluminium sleeves, tool LB, form {first}" in me.open(at)
        second = work_at_bench(desk, class_id, set_id="set-1", c01="right")
        me.send(at, **ASKED)
        assert me.status == 422 and "does not show all that is entered by now" in me.told() and f"form {second}" in me.page and not desk.entries("decision")
        entered = desk.entries("bench assessed", form_id=first, candidate="c01")[0].number
        assert f"Another bench form, {first} (1/8 7x19 galvanised, aluminium sleeves, tool LB), was entered as passed (entry {entered})." in me.page
        other.open(at)
        other.send(at, **ASKED | {"outcome": "not yet", "reasons": "A sleeve was hammered.", "decider": "Tove Asker"})
        assert "not yet" in other.told()
        me.send(at, **ASKED)
        assert me.status == 422 and "Tove Asker" in me.page and len(desk.entries("decision")) == 1
        me.send(at, **ASKED)
        assert "competent" in me.told()
        other.open(at)
        other.send(at, **ASKED | {"decider": "Tove Asker", "reasons": "Seen again."})
        me.send(at, act="sign", until="", why="")
        assert me.status == 422 and "does not show the decision in force (entry" in me.told() and not work.certificates(desk, class_id)
        me.send(at, act="sign", until="", why="")
        assert "is signed and entered" in me.told()


def test_a_tool_found_bad_that_was_only_told_counts_when_the_shop_file_is_set_right(desk, tmp_path):
    class_id = all_shown(desk)
    form_id = work.forms(desk, class_id)[0]["form_id"]
    own = tmp_path / "shop.toml"
    own.write_text(found_bad_text("LB", "a cracked jaw"), "utf-8")
    told, before = ["tool LB was found bad on 2026-04-02 by Ines Varrow (a cracked jaw)"], len(desk.register.entries())
    for _ in range(2):
        assert since_opened(replace(desk, shop=load_shop(own)), form_id) == told
    assert [entry.kind for entry in desk.register.entries()[before:]] == ["shop file told"]
    assert since_opened(desk, form_id) == told
    with pytest.raises(Refusal, match="a cracked jaw"):
        decide(desk, class_id)


def test_a_tap_for_the_other_candidate_leaves_what_was_entered(desk):
    class_id = set_up(desk)
    form_id = work_at_bench(desk, class_id, c01="right", c02="right")
    entered = desk.entries("bench assessed", candidate="c01")[-1]
    file = desk.room / "bench" / f"{form_id}.jsonl"
    before = file.read_bytes()
    file.write_bytes(before + b'{"kind":"helped","id":"00ff00ff00ff00ff","candidate":"c02","piece":1,"item":"","at":"","saved_at":"2026-04-01T09:00:00+00:00"}\n')
    assert as_entered(desk, entered.body) and not as_entered(desk, desk.entries("bench assessed", candidate="c02")[-1].body)
    assert work.put_forward(desk, class_id, "c01")["hands"]["entry"] == entered
    for line in (b'{"kind":"helped"}\n', b'{"candidate":"c01"}\n', b"[1]\n", b"torn"):
        file.write_bytes(before + line)
        assert not as_entered(desk, entered.body)
    file.write_bytes(before[:-2])
    assert not as_entered(desk, entered.body)


def signed(desk):
    class_id = all_shown(desk)
    decide(desk, class_id)
    work.certify(desk, class_id, "c01")
    return class_id, work.certificates(desk, class_id)[0]


def test_a_form_entered_again_as_not_passed_shakes_its_certificate(desk):
    class_id, body = signed(desk)
    assert shaken(desk, body) == "" and certificates_on(desk, class_id, "c01", work.forms(desk, class_id)[0]["form_id"]) == [body["certificate"]]
    own = work.forms(desk, class_id)[0]["form_id"]
    work_at_bench(desk, class_id, set_id="set-1", c01="right")
    assert shaken(desk, body) == "" and certificates_on(desk, class_id, "c01", own, passed=True) == [body["certificate"]]
    assert certificates_on(desk, class_id, "c01", work.forms(desk, class_id)[0]["form_id"], passed=True) == []
    form_id = work.open_bench(desk, class_id, ["c01"], "Osk Tamberlin", "LB", "set-1")["form"]["form_id"]
    with served(desk.home) as port:
        me = Person(port)
        me.open(f"/certificate/{body['certificate']}/standing")
        me.send(me.at, act="", by="Ines Varrow", reason="So.")
        assert me.status == 422 and "nothing chosen under 'What is entered'" in me.told()
        page = me.open(f"/class/{class_id}/bench/{form_id}/c01?close=1")
        assert "NOT PASSED" in page and f"Certificate {body['certificate']} rests on this candidate" in page and "suspend or withdraw it" in page
        work.assess(desk, form_id, "c01")
        assert "entered again as NOT PASSED" in shaken(desk, body)
        for page in (f"/class/{class_id}/certificates", f"/certificate/{body['certificate']}/standing", f"/class/{class_id}/decide/c01"):
            assert "Since it was signed the bench work was entered again as NOT PASSED" in me.open(page), page
        work.change_standing(desk, body["certificate"], "suspended", "Ines Varrow", "To be looked at.")
        assert "Since it was signed the bench work was entered again as NOT PASSED" in me.open(f"/certificate/{body['certificate']}/standing")
        work.change_standing(desk, body["certificate"], "withdrawn", "Ines Varrow", "The bench work was not shown.")
        assert "Since it was signed" not in me.open(f"/class/{class_id}/certificates") and certificates_on(desk, class_id, "c01", form_id) == []


def test_a_form_entered_again_as_passed_with_other_words_shakes_its_certificate_and_the_closing_says_so(desk):
    class_id, body = signed(desk)
    form_id = work.forms(desk, class_id)[0]["form_id"]
    (form, _), (events, _) = work.bench_form(desk, form_id), work.bench_events(desk, form_id)
    wrote = accept(form, events, {"kind": "wrote", "id": "00ff00ff00ff00aa", "revision": len(events) + 1, "candidate": "c01", "words": "Told the order of the crimps.",
                                  "at": "2026-04-01T09:00:00Z"})
    with open(desk.room / "bench" / f"{form_id}.jsonl", "a", encoding="utf-8") as file:
        file.write(json.dumps(wrote) + "\n")
    with served(desk.home) as port:
        page = Person(port).open(f"/class/{class_id}/bench/{form_id}/c01?close=1")
    assert "Closing enters <strong>PASSED</strong>" in page and f"Certificate {body['certificate']} rests on this form as it was entered before" in page
    work.assess(desk, form_id, "c01")
    last = desk.entries("bench assessed", candidate="c01")[-1]
    assert last.body["passed"] and f"as passed, with other lines or words than it was decided on (entry {last.number}, " in shaken(desk, body)


def test_what_is_tapped_or_marked_after_the_signature_is_told(desk):
    class_id, body = signed(desk)
    form_id = work.forms(desk, class_id)[0]["form_id"]
    with open(desk.room / "bench" / f"{form_id}.jsonl", "ab") as file:
        file.write(b'{"kind":"helped"}\n')
    assert "something was tapped on the bench form after it was entered" in shaken(desk, body)
    file = desk.path("results", f"{work.paper_of(desk, class_id, 'c01')}.json")
    file.write_bytes(file.read_bytes().replace(b'"score"', b'"scorE"'))
    assert "the marked paper is not as it was entered" in shaken(desk, body)


@pytest.mark.parametrize("until, why, told", [(0, "", "an end after the start"), (None, "because", "leave it empty, or type another last day")])
def test_an_end_on_the_first_day_and_a_reason_for_the_usual_end_are_refused(desk, until, why, told):
    class_id = all_shown(desk)
    decide(desk, class_id)
    with pytest.raises(Refusal, match=told):
        work.certify(desk, class_id, "c01", None if until is None else date.today() + timedelta(days=until), why)
    assert not work.certificates(desk, class_id)


def test_whoever_asks_the_register_is_told_too(desk, capsys):
    class_id, body = signed(desk)
    raw = desk.path("certificates", f"{body['certificate']}.json")
    asked = [str(raw), "--register", str(desk.folder)]
    check_certificate(asked)
    assert "By the register: in force.\n" in capsys.readouterr().out
    form_id = work.open_bench(desk, class_id, ["c01"], "Osk Tamberlin", "LB", "set-1")["form"]["form_id"]
    work.assess(desk, form_id, "c01")
    entry = desk.entries("bench assessed")[-1]
    check_certificate(asked)
    told = capsys.readouterr().out
    assert f"By the register: in force, but shaken: since it was signed the bench work was entered again as NOT PASSED (entry {entry.number}, {entry.at[:10]}, form {entry.body['form_id']}).\n" in told
    work_at_bench(desk, class_id, set_id="set-1", c01="right")
    check_certificate(asked)
    told = capsys.readouterr().out
    assert "By the register: in force.\n" in told and f"Entry {entry.number}, {entry.at[:10]}, form {entry.body['form_id']}: the bench work was entered again: NOT PASSED.\nEntry " in told
