"""What was entered after a signature, as whoever checks a genuine certificate's file is told it: first words, lines, exit status."""

import pytest

from rigcalc.cli import main
from rigcalc.register.certificate import certificate_bytes, certificate_sha256, sign_certificate
from rigcalc.register.keys import Signer
from rigcalc.register.finds import Find, counted_against
from rigcalc.register.status import status_of

from .statements import statement

WHO = {"class": "a", "candidate": {"id": "c01"}}
MADE = {"size": "1/8", "construction": "7x19", "metal": "galvanised", "sleeve_metal": "aluminium", "tool": "LB", "cavity": "P"}
SCOPE = {"sleeve_metal": "aluminium", "construction": "7x19", "finish": "galvanised", "tool": "LB", "cavity": "P", "sizes": ["1/8"]}


@pytest.fixture
def checked(register, tmp_path, capsys):
    """A genuine certificate, signed and entered on bench form F; asks its register and gives exit status and what is told."""
    for form, change in (("F", {}), ("G", {}), ("H", {"size": "3/16", "cavity": None}), ("K", {"tool": "BB"})):
        register.append("bench form opened", {"class": "a", "form_id": form, "made": MADE | change})
    decision = register.append("decision", decides("competent", "F"))
    says = statement(invented=False, register={"entry": decision.number, "hash": decision.hash})
    made = sign_certificate(says, Signer.make("genuine"), "A")
    file = tmp_path / "made.json"
    file.write_bytes(certificate_bytes(made))
    register.append("certificate signed", WHO | {"certificate": "C-0001", "certificate_sha256": certificate_sha256(made), "scope": SCOPE,
                                                 "decision_entry": decision.number, "starts": says["validity"]["starts"], "ends": says["validity"]["ends"]})

    def ask(on="2031-04-01"):
        status = main(["certificate", str(file), "--on", on, "--register", str(tmp_path)])
        return status, capsys.readouterr().out.partition("By the register: ")[2]
    return ask


def tool_bad(tool, on="2031-03-09", why="does not close"):
    return Find("tool", tool, True, on, f"tool {tool} was found bad on {on} by Ines Varrow ({why})")


def gauge_due(on):
    return Find("gauge", "GB", False, on, f"gauge GB was due on {on} by the shop file, before that day")


def gauge_bad(last_check):
    return Find("gauge", "GB", True, "2031-05-01", "gauge GB was found bad on 2031-05-01 by Ines Varrow (worn)", last_check)


def decides(outcome, form):
    return WHO | {"decision": outcome, "decider": "Bettan Roole", "reasons": "So.", "rests_on": {"bench": form and {"form_id": form}}}


def bench(form, passed):
    return "bench assessed", WHO | {"form_id": form, "passed": passed}


def paper(passed):
    return "answers marked", WHO | {"paper_id": "P1", "passed": passed}


@pytest.mark.parametrize("entered, words", [
    (bench("F", False), "the bench work was entered again as NOT PASSED"), (bench("G", False), "the bench work was entered again as NOT PASSED"),
    (bench("unheard of", False), "the bench work was entered again as NOT PASSED"), (paper(False), "the written paper was marked again as NOT PASSED"),
    (("shop file told", {"form_id": "G", "told": [tool_bad("LB").entered()]}),
     "a shop file said: tool LB was found bad on 2031-03-09 by Ines Varrow (does not close)"),
    (("shop file told", {"form_id": "F", "told": [tool_bad("LB").entered()]}),
     "a shop file said: tool LB was found bad on 2031-03-09 by Ines Varrow (does not close)")])
def test_in_force_is_never_the_bare_first_word_beside_what_shakes_it(checked, register, entered, words):
    assert checked() == (0, "in force.\n")
    register.append(*entered)
    status, told = checked()
    assert status == 4 and told.startswith(f"in force, but shaken: since it was signed {words}") and "Ask whoever signed whether it stands." in told


@pytest.mark.parametrize("entered", [bench("H", False), bench("K", False), bench("F", True), paper(True),
                                     ("bench assessed", WHO | {"candidate": {"id": "c02"}, "form_id": "F", "passed": False}),
                                     ("shop file told", {"form_id": "K", "told": [tool_bad("BB").entered()]}),
                                     ("shop file told", {"form_id": "G", "told": [gauge_due("2031-03-09").entered()]})])
def test_another_size_another_tool_another_person_and_what_is_passed_shake_nothing(checked, register, entered):
    register.append(*entered)
    assert checked() == (0, "in force.\n")


def test_not_passed_and_then_passed_leaves_it_in_force_and_both_are_told(checked, register):
    first, second = register.append(*bench("G", False)), register.append(*bench("G", True))
    status, told = checked()
    assert status == 0 and told.splitlines() == ["in force.", f"Entry {first.number}, {first.at[:10]}, form G: the bench work was entered again: NOT PASSED.",
                                                 f"Entry {second.number}, {second.at[:10]}, form G: the bench work was entered again: passed."]


@pytest.mark.parametrize("entered, shakes", [
    ([("F", False, ""), ("G", True, "")], "as NOT PASSED (entry 12"), ([("F", False, ""), ("F", True, "")], ""), ([("F", True, "other")], "as passed, with other lines or words than it was decided on (entry 12"),
    ([("F", True, "other"), ("F", True, "")], ""), ([("G", True, "other")], ""), ([("G", False, ""), ("F", True, "")], "as NOT PASSED (entry 12")])
def test_a_form_shakes_its_certificate_until_it_is_entered_as_it_was_decided_on(checked, register, entered, shakes):
    for form, passed, outcome in entered:
        kind, body = bench(form, passed)
        register.append(kind, body | ({"outcome_sha256": outcome} if outcome else {}))
    status, told = checked()
    assert status == (4 if shakes else 0) and shakes in told.splitlines()[0] and ("shaken" in told) == bool(shakes)


def test_a_paper_marked_again_is_told_where_it_no_longer_stands_as_before_and_all_stands_in_the_order_of_entering(checked, register):
    for entry in (paper(True), paper(True), paper(False), paper(False), bench("F", False), paper(True), paper(True), bench("F", True)):
        register.append(*entry)
    numbers = [int(line.split()[1].strip(",:")) for line in checked()[1].splitlines() if line.startswith("Entry ")]
    assert numbers == [14, 16, 17, 19]


@pytest.mark.parametrize("form", ["F", "G", None, "unheard of"])
def test_a_not_yet_of_the_same_scope_or_of_no_bench_work_unseats_it_for_good(checked, register, form):
    register.append("decision", decides("not yet", form))
    status, told = checked()
    assert status == 1 and told.startswith("DECIDED AGAIN: NOT YET.\n") and "sign a new certificate" in told.splitlines()[-1]
    later = register.append("decision", decides("competent", "F"))
    status, told = checked()
    assert status == 1 and told.startswith("DECIDED AGAIN: NOT YET, THEN COMPETENT AND NOT SIGNED.\n") and f"for entry {later.number}" in told.splitlines()[-1]
    register.append("decision", decides("competent", "H"))
    assert checked()[0] == 1


@pytest.mark.parametrize("form, words", [("H", "3/16 7x19 galvanised cable, aluminium sleeves, tool LB, cavity as marked"), ("K", "tool BB, cavity P")])
def test_a_not_yet_on_other_bench_work_is_told_and_leaves_it_in_force(checked, register, form, words):
    entry = register.append("decision", decides("not yet", form))
    status, told = checked()
    assert status == 0 and told.startswith("in force.\n") and f"Entry {entry.number}, " in told and f"{words}). Bettan Roole: So. Not about this certificate's bench work" in told


def test_a_certificate_without_its_scope_is_taken_to_be_shaken_by_any_bench_work(register):
    register.append("bench form opened", {"class": "a", "form_id": "H", "made": MADE | {"size": "3/16"}})
    register.append("certificate signed", WHO | {"certificate": "C-1"})
    register.append(*bench("H", False))
    assert status_of(register.entries(), "C-1").shaken


@pytest.mark.parametrize("on, first", [("2033-03-02", "EXPIRED.\nIt ended on 2033-03-01."), ("2031-02-27", "NOT YET VALID.\nIt starts on ")])
def test_outside_its_days_the_register_does_not_say_in_force(checked, register, on, first):
    status, told = checked(on)
    assert status == 1 and told.startswith(first) and "in force" not in told
    register.append(*bench("F", False))
    status, told = checked(on)
    assert status == 1 and told.startswith(first) and "Since it was signed the bench work was entered again as NOT PASSED" in told
    register.append("certificate standing", {"certificate": "C-0001", "act": "withdrawn", "by": "Bettan Roole", "reason": "So."})
    assert checked(on)[1].startswith("WITHDRAWN.\n")


def test_what_a_shop_file_said_counts_where_it_was_not_told_at_the_decision():
    bad, due = tool_bad("LB"), gauge_due("2031-01-05")
    assert counted_against([bad, bad, due], [due.words], "2031-03-02") == [f"a shop file said: {bad.words}"]
    checks = {day: gauge_bad(day) for day in ("2031-03-02", "2031-04-01", "2031-05-01")}
    assert checks["2031-04-01"].words.endswith("(worn); last good check written down: 2031-04-01")
    assert counted_against(checks.values(), [], "2031-03-02") == [f"a shop file said: {checks[day].words}" for day in ("2031-03-02", "2031-05-01")]
    for told in (checks["2031-03-02"].said, checks["2031-04-01"].words):  # the same find, whatever check the file wrote beside it
        assert counted_against(checks.values(), [told], "2031-03-02") == []
