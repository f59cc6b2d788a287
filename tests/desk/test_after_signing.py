"""After a signature: what shakes a certificate is told on every page and by the register, and what is of another scope leaves it alone."""

import re
from dataclasses import replace
from datetime import date, timedelta

import pytest

from rigcalc.desk import work
from rigcalc.desk.hands import closings_in_words
from rigcalc.desk.since import certificates_on, shaken
from rigcalc.register.commands import check_certificate

from .bench_of_two import DECLARED, all_shown, fill, work_at_bench
from .served import Person, served

TODAY = date.today()
WHY = "All crimps gauged again with another gauge by Ines Varrow, each passed."


@pytest.fixture
def signed(desk):
    class_id = all_shown(desk)
    return class_id, again(desk, class_id)


def again(desk, class_id, stands="") -> dict:
    decided(desk, class_id, "competent", stands)
    work.certify(desk, class_id, "c01")
    return work.certificates(desk, class_id)[0]


def decided(desk, class_id, outcome, stands="") -> dict:
    return work.decide(desk, class_id, "c01", outcome, "Bettan Roole", f"Because {outcome}.", replace(DECLARED, stands=stands))


def told_by(desk, kind, name, **lines):
    """The desk with a shop file that says this of one tool or gauge."""
    return replace(desk, shop=replace(desk.shop, **{kind: tuple(replace(one, **lines) if one.id == name else one for one in getattr(desk.shop, kind))}))


def bad(day=TODAY + timedelta(days=60)) -> dict:
    return {"found_bad": day, "found_bad_by": "Ines Varrow", "why": "does not close"}


def untouched(desk, class_id, size) -> str:
    """A form of that size, opened and closed with nothing tapped."""
    choice = next(one.key for one in work.pieces_to_make(desk) if one.piece.size == size and one.tool == "LB")
    form_id = work.open_bench(desk, class_id, ["c01"], "Osk Tamberlin", choice=choice)["form"]["form_id"]
    work.assess(desk, form_id, "c01")
    return form_id


def asked(desk, capsys, number) -> str:
    check_certificate([str(desk.path("certificates", f"{number}.json")), "--register", str(desk.folder)])
    return capsys.readouterr().out.partition("By the register: ")[2]


@pytest.mark.parametrize("kind, name, lines, words", [
    ("tools", "LB", bad(), "tool LB was found bad on"), ("gauges", "GB", bad(), "gauge GB was found bad on"),
    ("gauges", "GB", {"due_on": date(2026, 3, 3)}, "gauge GB was due on 2026-03-03")])
def test_a_tool_or_gauge_that_judges_nothing_is_told_on_every_page_of_the_certificate(desk, signed, monkeypatch, kind, name, lines, words):
    class_id, body = signed
    assert shaken(desk, body) == ""
    shop = told_by(desk, kind, name, **lines).shop
    monkeypatch.setattr("rigcalc.desk.folder.load_shop", lambda path: shop)
    with served(desk.home) as port:
        me = Person(port)
        for page in (f"/class/{class_id}/certificates", f"/certificate/{body['certificate']}/standing"):
            assert f"<strong>in force, but shaken</strong><br><strong>Since it was signed a shop file said: {words}" in re.sub("</?span[^>]*>", "", me.open(page)), page
        assert f"Since it was signed a shop file said: {words}" in me.open(f"/certificate/{body['certificate']}")


def test_what_was_found_bad_stays_told_where_the_lines_are_deleted_and_the_register_tells_it_too(desk, signed, capsys):
    _, body = signed
    now = told_by(desk, "tools", "LB", **bad())
    now = replace(now, shop=replace(now.shop, digest="f" * 64))
    told = shaken(now, body)
    assert "tool LB was found bad on" in told and shaken(desk, body) == told
    assert "in force, but shaken: since it was signed a shop file said: tool LB was found bad on" in asked(desk, capsys, body["certificate"])


@pytest.mark.parametrize("checked, found, silent", [(1, 60, True), (0, 60, False), (-30, 60, False), (60, 60, False), (90, 60, False)])
def test_only_a_good_check_after_the_first_day_and_before_it_was_found_bad_clears_a_gauge(desk, signed, checked, found, silent):
    _, body = signed
    day = date.fromisoformat(body["starts"])
    now = told_by(desk, "gauges", "GB", checked_on=day + timedelta(days=checked), **bad(day + timedelta(days=found)))
    assert (shaken(now, body) == "") == silent
    assert "tool LB was found bad" in shaken(told_by(now, "tools", "LB", **bad()), body)


def test_what_was_told_at_the_decision_and_another_tool_and_a_new_chart_shake_nothing(desk):
    class_id = all_shown(desk)
    known = told_by(desk, "tools", "LB", **bad(date(2026, 4, 2)))
    body = again(known, class_id, WHY)
    assert shaken(known, body) == "" and shaken(told_by(known, "tools", "BB", **bad()), body) == ""
    used = desk.entries("bench form opened")[-1].body["chart"]["id"]
    charts = tuple(replace(one, edition="99") if one.id == used else one for one in known.shop.charts)
    assert shaken(replace(known, shop=replace(known.shop, charts=charts)), body) == ""
    assert "gauge GB was found bad" in (told := shaken(told_by(known, "gauges", "GB", **bad()), body)) and "tool LB" not in told
    assert shaken(known, body) == told  # what was told once counts for good


def test_a_certificate_counts_the_entries_of_its_own_form_only(desk):
    class_id = all_shown(desk)
    untouched(desk, class_id, "3/16")
    form_id = work.open_bench(desk, class_id, ["c01"], "Osk Tamberlin", "LB", "set-1", again=True)["form"]["form_id"]
    work.assess(desk, form_id, "c01")
    assert closings_in_words(desk, class_id, "c01", form_id) == ""
    fill(desk, form_id, c01="right")
    work.assess(desk, form_id, "c01")
    decided(desk, class_id, "competent")
    bench = work.certify(desk, class_id, "c01")["statement"]["bench"]
    with served(desk.home) as port:
        assert "Entered 2 times: not passed, passed. <a" in Person(port).open(f"/class/{class_id}/decide/c01")
    assert (bench["form"], bench["again"]) == (form_id, "Entered 2 times: not passed, passed.")


def test_a_try_at_another_size_neither_shakes_nor_unseats(desk, signed, capsys):
    class_id, body = signed
    number = body["certificate"]
    form_id = untouched(desk, class_id, "3/16")
    assert shaken(desk, body) == "" and asked(desk, capsys, number) == "in force.\n" and certificates_on(desk, class_id, "c01", form_id) == []
    not_yet = decided(desk, class_id, "not yet")
    assert asked(desk, capsys, number) == (
        f"in force.\nEntry {not_yet['number']}, {not_yet['at'][:10]}: not yet, on other bench work (3/16 7x19 galvanised cable, aluminium sleeves, tool LB, cavity R). "
        "Bettan Roole: Because not yet. Not about this certificate's bench work: whoever signed says whether the reason reaches it.\n")
    with served(desk.home) as port:
        me = Person(port)
        closing = me.open(f"/class/{class_id}/bench/{form_id}/c01?close=1")
        page = me.open(f"/class/{class_id}/certificates")
        assert number not in closing and "whoever signed says whether the reason reaches it." in page and "shaken" not in page and "NOT PASSED" not in page


def test_a_form_of_the_same_scope_shakes_and_a_not_yet_on_it_unseats(desk, signed, capsys):
    class_id, body = signed
    form_id = untouched(desk, class_id, "1/8")
    assert "entered again as NOT PASSED" in shaken(desk, body) and certificates_on(desk, class_id, "c01", form_id) == [body["certificate"]]
    untouched(desk, class_id, "3/16")
    assert "entered again as NOT PASSED" in shaken(desk, body)
    decided(desk, class_id, "not yet")  # rests on the 3/16 work that was entered last
    assert asked(desk, capsys, body["certificate"]).startswith("in force, but shaken: since it was signed the bench work was entered again as NOT PASSED")
    work_at_bench(desk, class_id, set_id="set-1", c01="right")
    decided(desk, class_id, "not yet")
    assert asked(desk, capsys, body["certificate"]).startswith("DECIDED AGAIN: NOT YET.\n")


def test_after_a_not_yet_only_a_new_signature_puts_a_certificate_in_force(desk, signed, capsys):
    class_id, body = signed
    number = body["certificate"]
    untouched(desk, class_id, "1/8")
    failed = desk.entries("bench assessed")[-1].number
    not_yet = decided(desk, class_id, "not yet")["number"]
    work_at_bench(desk, class_id, set_id="set-1", c01="right")
    passed = desk.entries("bench assessed")[-1].number
    competent = decided(desk, class_id, "competent")["number"]
    told = asked(desk, capsys, number)
    assert told.startswith("DECIDED AGAIN: NOT YET, THEN COMPETENT AND NOT SIGNED.\n")
    lines = {one: next(line for line in told.splitlines() if line.startswith(f"Entry {one}, ")) for one in (failed, not_yet, passed, competent)}
    assert [lines[one].partition(": ")[2] for one in (failed, not_yet, passed, competent)] == [
        "the bench work was entered again: NOT PASSED.", "decided again: not yet. Bettan Roole: Because not yet.", "the bench work was entered again: passed.",
        "decided again: competent. Bettan Roole: Because competent. No certificate is signed for it."]
    assert told.splitlines()[-1] == (f"A decision without a signature puts nothing in force: sign a new certificate for entry {competent}, or decide anew. "
                                     "Until then do not rely on this one.")
    with served(desk.home) as port:
        me = Person(port)
        assert "<strong>decided again: not yet, then competent and not signed</strong>" in me.open(f"/class/{class_id}/certificates")
        assert "NOT IN FORCE: decided again: not yet, then competent and not signed." in me.open(f"/certificate/{number}")
    new = work.certify(desk, class_id, "c01")["statement"]["number"]
    assert asked(desk, capsys, number).startswith("REPLACED.\n") and asked(desk, capsys, new) == "in force.\n"


def test_a_suspension_is_not_lifted_while_the_bench_work_stands_as_not_passed(desk, signed, capsys):
    class_id, body = signed
    number = body["certificate"]
    untouched(desk, class_id, "1/8")
    failed = desk.entries("bench assessed")[-1].number
    with served(desk.home) as port:
        me = Person(port)
        me.open(f"/certificate/{number}/standing")
        me.send(me.at, act="suspended", by="Bettan Roole", reason="So.")
        assert f"the certificate {number} is suspended now." in me.told() and "It stays suspended while that is so: withdraw it" in me.page
        me.open(f"/certificate/{number}/standing")
        assert 'value="lifted"' not in me.page and 'value="withdrawn"' in me.page
        assert "The suspension cannot be lifted now" in me.page and "once the work is passed, decide and sign anew" in me.page
        me.send(me.at, act="lifted", by="Bettan Roole", reason="Looked at.", shown=re.search(r'name="shown" value="([^"]+)"', me.page)[1])
        assert me.status == 422 and f"'lifted' while the bench work was entered again as NOT PASSED (entry {failed}," in me.told() and "Looked at." in me.page
        assert asked(desk, capsys, number).startswith("SUSPENDED")
        work_at_bench(desk, class_id, set_id="set-1", c01="right")
        me.open(f"/certificate/{number}/standing")
        me.send(me.at, act="lifted", by="Bettan Roole", reason="Passed again.")
        assert f"the certificate {number} is in force now" in me.told()


def test_suspending_and_lifting_revive_nothing_that_was_decided_again(desk, signed):
    class_id, body = signed
    number = body["certificate"]
    decided(desk, class_id, "not yet")
    with served(desk.home) as port:
        me = Person(port)
        for act, told in (("suspended", "is suspended now."), ("lifted", "is not in force now (decided again: not yet).")):
            me.open(f"/certificate/{number}/standing")
            me.send(me.at, act=act, by="Bettan Roole", reason="So.")
            assert f"the certificate {number} {told}" in me.told()
    untouched(desk, class_id, "1/8")
    work_at_bench(desk, class_id, set_id="set-1", c01="right")
    assert work.change_standing(desk, number, "suspended", "Bettan Roole", "So.").state == "suspended"
    assert work.change_standing(desk, number, "lifted", "Bettan Roole", "So.").state == "decided again: not yet"
    new = again(desk, class_id)["certificate"]
    assert (work.standing_of(desk, number).state, work.standing_of(desk, new).state) == ("replaced", "in force")
    assert work.change_standing(desk, new, "withdrawn", "Bettan Roole", "So.").state == "withdrawn"
    assert work.standing_of(desk, number).state == "replaced"
