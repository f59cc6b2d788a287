"""A correction and a closing are entered as they were looked at: where they differ by now, the page is shown anew and nothing is entered."""

import html
import re
from dataclasses import replace
from datetime import date

import pytest

from rigcalc.demonstration.cast import SEALED_SET
from rigcalc.desk import correcting, work
from rigcalc.desk.correcting import certificates_in_words
from rigcalc.desk.marking_commands import correct_class
from rigcalc.errors import Refusal
from rigcalc.papers import issue
from rigcalc.questions import load_families

from .bench_of_two import DECLARED, all_shown, fill
from .served import Person, served
from .test_correcting import ME, SECOND, changed, marked_class, row_of
from .test_correcting_fairly import FIGURE, asked, doubling, slot_of  # noqa: F401

DIFFERS = "a correction that does something else by now than what was looked at"


@pytest.fixture
def in_force(asked, monkeypatch):  # noqa: F811
    """The class of three, and the families in force, which a test may change."""
    class_id, families = asked
    now = dict(families)
    monkeypatch.setattr(correcting, "load_families", lambda home=None: now)
    return class_id, now


def given(way: str, second: str = "", family: str = FIGURE) -> dict:
    return {"family": family, "way": way, "misstep": "", "by": ME[0], "why": ME[1], "second": second}


def looked_at(me: Person, class_id: str, form: dict) -> str:
    me.open(f"/class/{class_id}/correct?family={form['family']}")
    return html.unescape(me.send(f"/class/{class_id}/correct", **form))


def entered(desk) -> int:
    return len(desk.entries("answers re-marked"))


def test_a_family_changed_after_the_look_is_not_entered_and_the_second_person_agrees_to_the_new_look(desk, in_force):
    class_id, now = in_force
    doubled = now[FIGURE]
    now[FIGURE] = changed(load_families()[FIGURE], sha256="5" * 64)  # draws as it did: nobody's marks move
    was = {who: work.marked(desk, class_id, who)["result"]["score"] for who in ("c01", "c02")}
    with served(desk.home) as port:
        me, here = Person(port), f"/class/{class_id}/correct"
        assert "LOSES marks" not in looked_at(me, class_id, given("key again", SECOND)) and "Enter this correction" in me.page
        now[FIGURE] = doubled
        page = html.unescape(me.send(here, **given("key again", SECOND), act="enter"))
        assert me.status == 422 and DIFFERS in me.told() and "the second person agrees anew" in me.told() and not entered(desk)
        assert was == {who: work.marked(desk, class_id, who)["result"]["score"] for who in ("c01", "c02")}
        assert "Dela Orrin LOSES marks" in page and "a second person must agree" in page and "Enter this correction" not in page
        assert "another look than the one before" in page and ME[1] in page and f'value="{ME[0]}"' in page  # what was typed stays
        assert f'value="{SECOND}"' not in page  # but nobody has agreed to this look
        assert "Enter this correction" in me.send(here, **given("key again", SECOND))
        assert f"agreed to by {SECOND}" in me.send(here, **given("key again", SECOND), act="enter") and entered(desk) == 1


def test_a_second_person_who_was_shown_another_look_does_not_agree_to_this_one(desk, in_force, monkeypatch):
    class_id, now = in_force

    def corrected_again(mark):
        """Another text, and twice the figure as before."""
        now[FIGURE] = changed(load_families()[FIGURE], sha256=mark * 64)
        monkeypatch.setattr(issue, "draw", doubling(issue.draw, now[FIGURE]))

    with served(desk.home) as port:
        me, here = Person(port), f"/class/{class_id}/correct"
        assert "a second person must agree" in looked_at(me, class_id, given("key again"))
        corrected_again("7")
        me.send(here, **given("key again", SECOND))
        assert me.status == 422 and "who agrees, on a page that shows another look" in me.told() and "Enter this correction" not in me.page
        me.send(here, **given("key again", SECOND))
        assert "Enter this correction" in me.page
        address = me.at
        corrected_again("8")
        page = me.open(address)  # the page is only loaded again
        assert "a second person must agree" in page and "Enter this correction" not in page and f'value="{SECOND}"' not in page


@pytest.mark.parametrize("shown", ["", "0123456789abcdef"])
def test_an_entering_that_names_no_look_or_another_is_refused(desk, in_force, shown):
    class_id, _ = in_force
    with served(desk.home) as port:
        me = Person(port)
        looked_at(me, class_id, given("struck"))
        me.send(f"/class/{class_id}/correct", **given("struck"), act="enter", shown=shown)
        assert me.status == 422 and DIFFERS in me.told() and not entered(desk)


def test_an_appeal_decided_after_the_look_is_shown_before_anything_is_entered(desk, in_force):
    class_id, _ = in_force
    with served(desk.home) as port:
        me, here = Person(port), f"/class/{class_id}/correct"
        assert "Edda Klee gains marks" in looked_at(me, class_id, given("struck"))
        work.decide_appeal(desk, class_id, "c03", slot_of(desk, class_id, "c03")["slot"], "counted as right", "Bettan Roole", "So.", "I wrote it.")
        page = html.unescape(me.send(here, **given("struck"), act="enter")).partition("Put right so far")[0]
        assert me.status == 422 and DIFFERS in me.told() and entered(desk) == 1  # the appeal's own
        assert "Edda Klee keeps question" in page and "Edda Klee gains marks" not in page
        me.send(here, **given("struck"), act="enter")
        assert "is entered" in me.told() and entered(desk) == 2


def test_nothing_changed_means_the_same_look_whoever_is_named(desk, in_force):
    class_id, _ = in_force
    looks = {work.look_at_correction(desk, class_id, "key again", FIGURE, by, why, second=second)["shown"]
             for by, why, second in ((*ME, ""), (*ME, SECOND), ("Bettan Roole", "Another reason.", SECOND))}
    assert len(looks) == 1


def test_the_command_prints_the_mark_of_its_look_and_refuses_another(desk, in_force, capsys):
    class_id, now = in_force
    words = [class_id, "--folder", str(desk.home), "--family", FIGURE, "--way", "key again", "--by", ME[0], "--why", ME[1], "--second", SECOND]
    assert correct_class(words) == 0
    mark = re.search(r"--shown (\w{16}) ", capsys.readouterr().out)[1]
    before, now[FIGURE] = now[FIGURE], changed(now[FIGURE], sha256="7" * 64)
    with pytest.raises(Refusal, match=DIFFERS.replace("(", r"\(")):
        correct_class([*words, "--enter", "--shown", mark])
    with pytest.raises(Refusal, match="--shown without --enter"):
        correct_class([*words, "--shown", mark])
    assert not entered(desk)
    now[FIGURE] = before
    assert correct_class([*words, "--enter", "--shown", mark]) == 0 and entered(desk) == 1


def certified(desk, class_id, tool) -> str:
    """A certificate for c01 on bench work with that tool."""
    choice = next(one.key for one in work.pieces_to_make(desk) if one.tool == tool)
    form_id = work.open_bench(desk, class_id, ["c01"], "Osk Tamberlin", set_id="set-1", choice=choice)["form"]["form_id"]
    fill(desk, form_id, c01="right")
    work.assess(desk, form_id, "c01")
    return signed(desk, class_id)


def signed(desk, class_id) -> str:
    work.decide(desk, class_id, "c01", "competent", "Bettan Roole", "All shown.", DECLARED)
    return work.certify(desk, class_id, "c01")["statement"]["number"]


def test_every_certificate_that_rests_on_the_paper_is_named_and_none_that_is_withdrawn_or_replaced(desk):
    class_id = all_shown(desk)
    first, second = signed(desk, class_id), certified(desk, class_id, "BB")
    family = row_of(desk, class_id, "works-the-limit")[1]["family"]

    def named() -> tuple[str, str]:
        looked = work.look_at_correction(desk, class_id, "struck", family, *ME)
        return correcting.with_certificates(desk, class_id, [{"paper_id": work.paper_of(desk, class_id, "c01")}])[0]["certificate"], looked["shown"]

    numbers, look = named()
    assert numbers == f"{first}, {second}"
    work.change_standing(desk, first, "suspended", "Bettan Roole", "So.")
    assert named() == (numbers, look)
    work.change_standing(desk, first, "withdrawn", "Bettan Roole", "So.")
    assert named()[0] == second
    newer = signed(desk, class_id)
    assert named()[0] == newer  # of the same scope: it replaces the second
    assert correcting.with_certificates(desk, class_id, [{"paper_id": "another"}])[0]["certificate"] == ""


@pytest.mark.parametrize("crosses, then", [("no longer passes", "decide again"), ("passes now", "signed before this"), ("", "signed before this")])
def test_each_certificate_stands_with_what_becomes_of_it(crosses, then):
    assert certificates_in_words({"crosses": crosses, "certificate": "s-1, s-2"}) == [f"s-1: {then}", f"s-2: {then}"]
    assert certificates_in_words({"crosses": crosses, "certificate": ""}) == []


def bad_gauge(desk):
    """The shop with the gauge of the last form found bad."""
    name = desk.entries("bench form opened")[-1].body["gauge"]["id"]
    return replace(desk.shop, gauges=tuple(replace(one, found_bad=date(2026, 4, 2), found_bad_by="Ines Varrow", why="worn") if one.id == name else one for one in desk.shop.gauges))


def test_a_closing_on_a_page_older_than_a_find_is_refused_and_shown_anew(desk, monkeypatch):
    class_id = marked_class(desk)
    set_id = work.keep_set(desk, class_id, "set 1", SEALED_SET, "Ines Varrow")
    form_id = work.open_bench(desk, class_id, ["c01"], "Osk Tamberlin", "LB", set_id)["form"]["form_id"]
    fill(desk, form_id, c01="right")
    shop = bad_gauge(desk)
    with served(desk.home) as port:
        me, here = Person(port), f"/class/{class_id}/bench/{form_id}/c01"
        assert "was found bad" not in me.open(f"{here}?close=1") and "Closing enters" in me.page
        monkeypatch.setattr("rigcalc.desk.folder.load_shop", lambda path: shop)
        me.send(here, act="close it")
        assert me.status == 422 and "a closing on a page that does not show all that stands by now" in me.told()
        assert not desk.entries("bench assessed", form_id=form_id)
        assert "was found bad on 2026-04-02" in me.page and "Closing enters" in me.page
        me.send(here, act="close it")
        assert "is entered" in me.told() and len(desk.entries("bench assessed", form_id=form_id)) == 1
