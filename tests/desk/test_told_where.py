"""What changed since a bench form was opened, and what a correction would shake, is told on every page where somebody acts on it."""

import html
from dataclasses import replace
from datetime import date

import pytest

from rigcalc.desk import bench_notes, correcting, work
from rigcalc.desk.bench_notes import BenchNotes, tell_bench
from rigcalc.desk.marking_commands import correct_class
from rigcalc.papers import issue
from rigcalc.questions import load_families

from . import bench_of_two
from .bench_of_two import DECLARED, all_shown, found_bad_text, set_up, work_at_bench
from .served import Person, served
from .test_correcting import changed as changed_family, row_of, swapping, turned

TOLD = "was found bad on 2026-04-02 by Ines Varrow"
WHY = "All crimps gauged again with GD by Ines Varrow, each passed."


def bad_gauge(desk):
    """The desk, with the gauge of the last form found bad."""
    name = desk.entries("bench form opened")[-1].body["gauge"]["id"]
    gauges = tuple(replace(one, found_bad=date(2026, 4, 2), found_bad_by="Ines Varrow", why="worn") if one.id == name else one for one in desk.shop.gauges)
    return replace(desk, shop=replace(desk.shop, gauges=gauges))


def bench(desk, class_id) -> str:
    with served(desk.home) as port:
        return html.unescape(Person(port).open(f"/class/{class_id}/bench"))


def notes(page: str) -> int:
    return page.count('<p class="card hold">Since form b-')


def test_bench_tells_it_until_a_certificate_is_signed_on_the_form(desk, monkeypatch):
    class_id = all_shown(desk)  # closed for its one candidate
    now = bad_gauge(desk)
    monkeypatch.setattr("rigcalc.desk.folder.load_shop", lambda path: now.shop)
    page = bench(desk, class_id)
    assert notes(page) == 1 and "GB, due" in page and "which " + TOLD in page and f"GB {TOLD}" in page and "GB due" not in page
    work.decide(now, class_id, "c01", "competent", "Bettan Roole", "All of it.", replace(DECLARED, stands=WHY))
    assert notes(bench(desk, class_id)) == 1
    work.certify(now, class_id, "c01")
    assert notes(bench(desk, class_id)) == 0


def test_a_form_that_a_later_one_took_the_place_of_is_told_no_more_and_one_still_open_for_somebody_is(desk, monkeypatch):
    class_id = set_up(desk)
    work_at_bench(desk, class_id, c01="right")
    work_at_bench(desk, class_id, set_id="set-1", c01="right")
    now = bad_gauge(desk)
    monkeypatch.setattr("rigcalc.desk.folder.load_shop", lambda path: now.shop)
    assert notes(bench(desk, class_id)) == 1
    monkeypatch.undo()
    work.open_bench(desk, class_id, ["c01", "c02"], "Osk Tamberlin", "LB", "set-1")
    monkeypatch.setattr("rigcalc.desk.folder.load_shop", lambda path: now.shop)
    assert notes(bench(desk, class_id)) == 2


def test_a_tap_after_the_close_is_told_beside_what_was_entered(desk):
    class_id = set_up(desk)
    form_id = work_at_bench(desk, class_id, c01="right", c02="right")
    assert "and something was changed or added since" not in bench(desk, class_id)
    with open(desk.room / "bench" / f"{form_id}.jsonl", "ab") as file:
        file.write(b'{"kind":"helped","id":"00ff00ff00ff00ff","candidate":"c02","piece":1,"item":"","at":"","saved_at":"2026-04-01T09:00:00+00:00"}\n')
    page = bench(desk, class_id)
    assert page.count("passed, and something was changed or added since: look, and close it again") == 1
    assert page.index("Look at Tomo Kessig") < page.index("Look at Dela Orrin") < page.index("passed, and something was changed")


def test_the_close_page_the_printed_form_and_the_tablets_note_tell_it(desk, monkeypatch):
    class_id = set_up(desk)
    form_id = work_at_bench(desk, class_id, c01="right", c02="right")
    note, now = desk.room / "bench" / f"{form_id}.since", bad_gauge(desk)
    tell_bench(desk)
    assert not note.exists()
    with served(desk.home) as port:
        me = Person(port)
        pages = (f"/class/{class_id}/bench/{form_id}/c01?close=1", f"/class/{class_id}/bench/{form_id}/print", f"/class/{class_id}/bench/{form_id}/print?who=c02")
        assert not [one for one in pages if TOLD in me.open(one)]
        monkeypatch.setattr("rigcalc.desk.folder.load_shop", lambda path: now.shop)
        for one in pages:
            assert TOLD in me.open(one), one
        me.open(f"/class/{class_id}/bench")
    assert TOLD in note.read_text("utf-8")


def test_each_persons_sheets_are_printed_by_themselves(desk):
    class_id = set_up(desk)
    form_id = work_at_bench(desk, class_id, c01="right", c02="right")
    with served(desk.home) as port:
        me = Person(port)
        page, at = me.open(f"/class/{class_id}/bench"), f"/class/{class_id}/bench/{form_id}/print"
        assert all(f'{at}?who={who}">Print the form of {name}<' in page for who, name in (("c01", "Tomo Kessig"), ("c02", "Dela Orrin")))
        both, own = me.open(at), me.open(f"{at}?who=c02")
        assert 'data-bench-of=" of the form, both people"' in both and 'data-bench-of=""' in own
        assert "Tomo Kessig" in both and "Tomo Kessig" not in own and "Bench form: Dela Orrin" in own
        me.open(f"{at}?who=c09")
        assert me.status == 422 and "the candidate 'c09' was given" in html.unescape(me.page)


def test_a_shop_file_that_is_changed_while_nobody_looks_reaches_the_tablet(desk, monkeypatch):
    class_id = all_shown(desk)
    closed = work.forms(desk, class_id)[0]["form_id"]
    form_id = work.open_bench(desk, class_id, ["c01"], "Osk Tamberlin", "LB", "set-1")["form"]["form_id"]
    note, looked = desk.room / "bench" / f"{form_id}.since", BenchNotes(desk.home)
    seen, told = [], bench_notes.tell_bench
    monkeypatch.setattr(bench_notes, "tell_bench", lambda desk: (seen.append(desk.shop.digest), told(desk)))
    looked.look()
    looked.look()
    assert len(seen) == 1 and not note.exists()
    own = desk.home / "shop.toml"
    own.write_text(found_bad_text("GB", "worn"), "utf-8")
    looked.look()
    assert all(TOLD in (desk.room / "bench" / f"{one}.since").read_text("utf-8") for one in (form_id, closed))
    own.write_text("no = shop\n", "utf-8")  # a file that cannot be read takes nothing back
    looked.look()
    assert TOLD in note.read_text("utf-8") and len(seen) == 2


def test_the_look_before_a_correction_names_the_certificate_it_would_shake(desk, monkeypatch, capsys):
    monkeypatch.setattr(bench_of_two, "ROSTER", "Tomo Kessig")
    class_id, families = all_shown(desk), load_families()
    work.decide(desk, class_id, "c01", "competent", "Bettan Roole", "All shown.", DECLARED)
    number = work.certify(desk, class_id, "c01")["statement"]["number"]
    slot, key = row_of(desk, class_id, "never-re-uses")
    other = changed_family(families[key["family"]], sha256="1" * 64)
    if other.right:
        other = turned(other, {one["shown"] for one in (key["right"], key["missteps"][0])})
    monkeypatch.setattr(issue, "draw", swapping(issue.draw, other))
    monkeypatch.setattr(correcting, "load_families", lambda home=None: families | {key["family"]: other})
    asked = {"family": key["family"], "way": "key again", "misstep": "", "by": "Ines Varrow", "why": "The key was wrong.", "second": "Mirel Tandoe"}
    with served(desk.home) as port:
        me = Person(port)
        me.open(f"/class/{class_id}/correct?family={key['family']}")
        me.send(f"/class/{class_id}/correct", **asked)
        looked = html.unescape(me.page)
        assert "What this would change" in looked and "<strong>no longer passes</strong>" in looked
        assert f"<td>{number}: decide again</td>" in looked and not desk.entries("answers re-marked")
    given = [part for name, value in asked.items() if value for part in (f"--{name}", value)]
    assert correct_class([class_id, *given, "--folder", str(desk.home)]) == 0
    told = capsys.readouterr().out
    assert f"NO LONGER PASSES  (certificate {number}: decide again)" in told and "Nothing is changed" in told


@pytest.mark.parametrize("crosses, told", [("no longer passes", "decide again"), ("", "signed before this")])
def test_a_certificate_beside_marks_that_move(crosses, told):
    from rigcalc.desk.pages_correct import _moves
    row = {"candidate": {"id": "c01", "name": "Tomo Kessig"}, "score_before": 90, "score_after": 80, "passed_before": True, "passed_after": not crosses,
           "crosses": crosses, "certificate": "spring-c01-9", "questions": []}
    assert f"<td>spring-c01-9: {told}</td>" in _moves([row], [])
    assert "spring" not in _moves([row | {"certificate": ""}], [])
