"""The standing of a certificate on its pages and in print: nothing entered on an old page, the doubt printed, and a broken shop file bars no suspension."""

import hashlib
import re
import subprocess
import sys
from html import unescape

import pytest
from on_paper import words

from rigcalc.desk import work
from rigcalc.desk.standing import standing_and_doubt
from rigcalc.errors import Refusal
from rigcalc.register.certificate import sign_certificate
from rigcalc.register.keys import Signer
from rigcalc.register.page import certificate_page

from register.test_page import CASES
from .bench_of_two import DECLARED, all_shown, found_bad_text, shop_text_with
from .served import Person, served

BY = {"by": "Bettan Roole"}
OLD = "a page that does not show how the certificate stands by now"


@pytest.fixture
def signed(desk):
    class_id = all_shown(desk)
    work.decide(desk, class_id, "c01", "competent", "Bettan Roole", "All shown.", DECLARED)
    return class_id, work.certify(desk, class_id, "c01")["statement"]["number"]


@pytest.fixture
def port(desk):
    with served(desk.home) as port:
        yield port


@pytest.fixture(scope="module")
def printer(chromium):
    return chromium.new_page()


def acts(desk) -> list[tuple[str, str]]:
    return [(entry.body["act"], entry.body["reason"]) for entry in desk.entries("certificate standing")]


def shake(desk, class_id) -> None:
    form_id = work.open_bench(desk, class_id, ["c01"], "Osk Tamberlin", "LB", "set-1")["form"]["form_id"]
    work.assess(desk, form_id, "c01")


# -- an act is an act on what was read ---------------------------------------------------------------------------------
def test_an_older_window_lifts_no_newer_suspension(desk, signed, port):
    _, number = signed
    at = f"/certificate/{number}/standing"
    work.change_standing(desk, number, "suspended", "Ines Varrow", "Reason one.")
    older = Person(port)
    older.open(at)
    work.change_standing(desk, number, "lifted", "Ines Varrow", "Looked at.")
    work.change_standing(desk, number, "suspended", "Ines Varrow", "Reason two.")
    older.send(at, act="lifted", reason="Reason one is settled.", **BY)
    assert older.status == 422 and OLD in older.told() and "Reason two." in older.page
    assert "Reason one is settled.</textarea>" in older.page and 'value="Bettan Roole"' in older.page and 'value="lifted" checked' in older.page
    assert [act for act, _ in acts(desk)] == ["suspended", "lifted", "suspended"]
    older.send(at, act="lifted", reason="Both are settled.", **BY)
    assert older.status == 200 and acts(desk)[-1] == ("lifted", "Both are settled.")


@pytest.mark.parametrize("act", ["suspended", "withdrawn"])
@pytest.mark.parametrize("moved", ["entered", "tapped"])
def test_no_act_is_entered_on_a_page_that_does_not_show_the_last_doubt(desk, signed, port, act, moved):
    class_id, number = signed
    at = f"/certificate/{number}/standing"
    me = Person(port)
    me.open(at)
    if moved == "entered":
        shake(desk, class_id)
    else:
        with open(desk.room / "bench" / f"{work.forms(desk, class_id)[0]['form_id']}.jsonl", "ab") as file:
            file.write(b'{"kind":"helped"}\n')
    me.send(at, act=act, reason="So.", **BY)
    assert me.status == 422 and OLD in me.told() and "in force, but shaken" in me.page and acts(desk) == []
    me.send(at, act=act, reason="So.", **BY)
    assert me.status == 200 and acts(desk) == [(act, "So.")]


def test_a_form_without_what_was_shown_enters_nothing_and_what_was_typed_is_kept_where_nothing_more_can_be(desk, signed, port):
    _, number = signed
    at = f"/certificate/{number}/standing"
    me = Person(port)
    me.open(at)
    me.send(at, act="suspended", reason="So.", shown="", **BY)
    assert me.status == 422 and acts(desk) == []
    work.change_standing(desk, number, "withdrawn", "Ines Varrow", "Signed in error.")
    me.send(at, act="suspended", reason="A gauge is in doubt.", **BY)
    assert me.status == 422 and "Signed in error." in me.page and "Not entered: A gauge is in doubt." in me.page and 'name="act"' not in me.page
    assert acts(desk) == [("withdrawn", "Signed in error.")]


def test_a_tool_that_the_page_itself_enters_as_found_bad_asks_for_no_second_reading(desk, signed, port):
    _, number = signed
    broken(desk, found_bad=True)
    me = Person(port)
    me.open(f"/certificate/{number}/standing")
    assert "was found bad on 2026-04-02" in me.page and len(desk.entries("shop file told")) == 1
    me.send(me.at, act="suspended", reason="A cracked jaw.", **BY)
    assert me.status == 200 and acts(desk) == [("suspended", "A cracked jaw.")]


def test_what_is_entered_at_the_first_look_is_told_at_that_look(desk, signed):
    broken(desk, found_bad=True)
    found, doubt = standing_and_doubt(work.open_desk(desk.home), work.certificates(desk)[0])
    assert found.shaken and "tool LB was found bad on 2026-04-02" in found.since_signed and found.since_signed in doubt[:1].lower() + doubt[1:]


def test_the_standing_page_says_who_is_told_of_what(signed, port):
    page = unescape(Person(port).open(f"/certificate/{signed[1]}/standing"))
    assert "is told of what is entered, and of nothing else" in page and "only tapped on a bench form" in page


# -- print -----------------------------------------------------------------------------------------------------------------
@pytest.mark.paper
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_doubt_is_printed_on_both_sheets_and_only_while_it_is_in_force(desk, signed, port, printer, paper):
    class_id, number = signed
    me = Person(port)
    assert "SHAKEN" not in me.open(f"/certificate/{number}")
    shake(desk, class_id)
    me.open(f"/certificate/{number}")
    printer.set_content(me.page)
    first, second = words(printer.pdf(format=paper))
    told = re.search(r"IN FORCE, BUT SHAKEN: since it was signed the bench work was entered again as NOT PASSED \(entry \d+, [^)]+\)\. "
                     r"Ask whoever signed whether it stands\.", first)
    assert told and "Look at what it rests on" not in first and f"certificate {number} · IN FORCE, BUT SHAKEN" in second
    work.change_standing(desk, number, "suspended", "Ines Varrow", "To be looked at.")
    me.open(f"/certificate/{number}")
    printer.set_content(me.page)
    first, second = words(printer.pdf(format=paper))
    assert "It stays suspended while that is so" in me.page
    assert "NOT IN FORCE: suspended. " in first and "SHAKEN" not in first + second and "NOT IN FORCE" in second
    assert re.search(r"Besides, since it was signed the bench work was entered again as NOT PASSED \(entry \d+, [^)]+\)\.", first)


def test_a_long_doubt_on_the_sheet_names_every_cause():
    causes = ("the bench work was entered again as NOT PASSED (entry 23, 2026-11-30, form F1)", "a shop file said: tool LB was found bad on 2026-11-28 by Ines Varrow (the jaws do not close at the far end)",
              "a shop file said: gauge GB was found bad on 2026-11-29 by Ines Varrow (slot 1/8 worn); last good check written down: 2026-11-01")
    page = certificate_page(sign_certificate(CASES["usual"](), Signer.make("demonstration"), "Ambrel Quay Cable Bench"), doubt="since it was signed " + ", and ".join(causes))
    assert ("since it was signed the bench work was entered again as NOT PASSED, and a shop file said: tool LB was found bad on 2026-11-28 by Ines Varrow, "
            "and a shop file said: gauge GB was found bad on 2026-11-29 by Ines Varrow (whoever signed can tell more). Ask whoever signed whether it stands.") in page


@pytest.mark.paper
@pytest.mark.parametrize("case", list(CASES))
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_however_long_the_doubt_is_the_certificate_stays_one_sheet_and_its_skills_another(printer, paper, case):
    made = sign_certificate(CASES[case](), Signer.make("demonstration"), "Ambrel Quay Cable Bench")
    suspended = "suspended. Suspended on 2026-11-29 by Ines Varrow, entry 104: the gauge was found bad after it."
    printer.set_content(certificate_page(made, no_longer=suspended, doubt="since it was signed " + "something was told of it, and " * 60))
    first, second = words(printer.pdf(format=paper))
    assert f"NOT IN FORCE: {suspended} Besides, since it was signed something was told of it" in first and "page 2 of 2" in second
    printer.set_content(certificate_page(made, doubt="since it was signed " + "something was told of it, and " * 60))
    first, second = words(printer.pdf(format=paper))
    assert "something was told of it" in first and "... and more, which whoever signed can tell. Ask whoever signed whether it stands." in first
    assert "page 2 of 2" in second and "Skill by skill" in second and "IN FORCE, BUT SHAKEN" in second


# -- a shop file that cannot be read ------------------------------------------------------------------------------------
def broken(desk, found_bad: bool = False) -> None:
    """A shop file of one's own with one broken line, or with a tool found bad."""
    text = found_bad_text("LB", "a cracked jaw") if found_bad else shop_text_with("this line is broken\n", "LB")
    (desk.home / "shop.toml").write_text(text, "utf-8")


def held(page: str) -> str:
    return " ".join(unescape(one) for one in re.findall(r'<p class="card hold">(.*?)</p>', page))


def test_with_a_broken_shop_file_certificates_are_read_suspended_and_withdrawn_all_the_same(desk, signed, port):
    class_id, number = signed
    last, earlier = desk.register.entries()[-1], desk.shop.digest
    broken(desk)
    me = Person(port)
    at = f"/certificate/{number}/standing"
    for page in (f"/class/{class_id}/certificates", at, "/register"):
        told = held(me.open(page))
        assert me.status == 200 and "The shop file cannot be read (line " in told and f"goes by the shop file as it was at entry {last.number}." in told, page
    assert "The shop file cannot be read (line " in me.open(f"/certificate/{number}") and me.status == 200
    me.ask("GET", f"/certificate/{number}.json")
    assert me.status == 200 and number in me.page
    for act in ("suspended", "withdrawn"):
        me.open(at)
        me.send(at, act=act, reason="The gauge was doubted.", **BY)
        assert me.status == 200 and f"is {act} now" in me.told() and "The shop file cannot be read" in held(me.page)
        entry = desk.entries("certificate standing")[-1]
        assert (entry.body["act"], entry.body["shop"]["sha256"]) == (act, earlier)
    assert desk.register.check() == []


def test_a_suspension_is_lifted_only_by_a_shop_file_that_can_be_read(desk, signed, port):
    _, number = signed
    at = f"/certificate/{number}/standing"
    work.change_standing(desk, number, "suspended", "Ines Varrow", "To be looked at.")
    me = Person(port)
    me.open(at)
    broken(desk)
    me.send(at, act="lifted", reason="Looked at.", **BY)
    assert me.status == 422 and "'lifted' while the shop file cannot be read" in me.told() and len(acts(desk)) == 1
    assert 'value="lifted"' not in me.page and 'value="withdrawn"' in me.page and "The suspension cannot be lifted now" in me.page and "mend the shop file first" in me.page
    (desk.home / "shop.toml").unlink()
    me.open(at)
    me.send(at, act="lifted", reason="Looked at.", **BY)
    assert me.status == 200 and "cannot be read" not in me.page and len(acts(desk)) == 2


def test_the_earlier_shop_file_is_the_one_of_the_last_entry(desk, signed, port):
    _, number = signed
    broken(desk, found_bad=True)
    Person(port).open(f"/certificate/{number}/standing")
    digest = hashlib.sha256((desk.home / "shop.toml").read_bytes()).hexdigest()
    assert desk.register.entries()[-1].body["shop"]["sha256"] == digest
    broken(desk)
    me = Person(port)
    me.open(f"/certificate/{number}/standing")
    assert "was found bad on 2026-04-02" in me.page
    me.send(me.at, act="suspended", reason="A cracked jaw.", **BY)
    assert desk.entries("certificate standing")[-1].body["shop"]["sha256"] == digest


def test_every_other_page_is_refused_and_says_what_can_be_done_all_the_same(desk, signed, port):
    class_id, _ = signed
    other = work.set_class(desk, "Nothing signed", "Tomo Kessig\nDela Orrin", "Ines Varrow")
    broken(desk)
    me = Person(port)
    for page in ("/", f"/class/{class_id}", f"/class/{class_id}/decide/c01", "/shop", "/issuer-key.json"):
        me.open(page)
        assert me.status == 422 and "of the shop file" in me.told() and "Certificates can be suspended or withdrawn all the same" in me.page, page
        assert 'href="/"' not in me.page and other not in me.page
        assert re.findall(r'href="([^"]+)"', me.page.partition("all the same")[2].partition("</ul>")[0]) == [f"/class/{class_id}/certificates"]
    me.open(f"/class/{class_id}/certificates")
    assert me.status == 200 and "/issuer-key.json" not in me.page
    (desk.home / "shop.toml").unlink()
    me.open("/certificate/none/standing")
    assert me.status == 422 and 'href="/"' in me.page and "all the same" not in me.page


@pytest.mark.parametrize("copy", ["gone", "changed", "broken"])
def test_without_a_whole_copy_of_the_earlier_shop_file_all_is_refused_as_before(desk, signed, port, copy):
    class_id, number = signed
    file = desk.folder / "texts" / f"{desk.shop.digest}.toml"
    text = file.read_text("utf-8")
    file.unlink()
    if copy != "gone":
        file.write_text(text + "\n# changed\n" if copy == "changed" else text + "\nbroken\n", "utf-8")
    broken(desk)
    me = Person(port)
    for page in (f"/class/{class_id}/certificates", f"/certificate/{number}/standing", f"/certificate/{number}", "/register", "/"):
        me.open(page)
        assert me.status == 422 and f"of the shop file {desk.home / 'shop.toml'}" in me.told() and "all the same" not in me.page and 'href="/"' not in me.page


def test_whoever_opens_a_desk_without_asking_for_an_earlier_shop_file_is_refused(desk, signed):
    broken(desk)
    with pytest.raises(Refusal, match="of the shop file"):
        work.open_desk(desk.home)
    assert work.open_desk(desk.home, earlier=True).shop.digest == desk.shop.digest


def test_a_stopped_desk_opens_with_a_broken_shop_file_too_and_says_so(desk, signed):
    broken(desk)
    with subprocess.Popen([sys.executable, "-m", "rigcalc", "desk", "--folder", str(desk.home), "--no-browser"], stdout=subprocess.PIPE, text=True) as process:
        told = next((line for line in process.stdout if line.startswith(("SHOP FILE", "Stop with"))), "")
        process.kill()
    assert told.startswith("SHOP FILE: it cannot be read (") and "Certificates can be suspended and withdrawn" in told


def test_of_a_long_story_the_list_shows_the_last_lines_and_folds_the_rest(desk, signed, port):
    class_id, number = signed
    for act in ("suspended", "lifted", "suspended", "lifted"):
        work.change_standing(desk, number, act, "Ines Varrow", f"Number {len(acts(desk)) + 1}.")
    page = Person(port).open(f"/class/{class_id}/certificates")
    shown, folded = re.search(r"in force(.*?)<details><summary>2 entries before</summary>(.*?)</details>", page, re.S).groups()
    assert all(f"Number {n}." in shown and f"Number {n}." not in folded for n in (3, 4)) and all(f"Number {n}." in folded for n in (1, 2))
    assert "<details" not in (whole := Person(port).open(f"/certificate/{number}/standing")) and all(f"Number {n}." in whole for n in (1, 2, 3, 4))
