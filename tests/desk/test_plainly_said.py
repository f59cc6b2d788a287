"""What a page says back fits what was left out, and offers what can be done and nothing else."""

import re
from html import unescape

import pytest

from rigcalc.desk import work
from rigcalc.desk.folder import one_person
from rigcalc.desk.shown import in_writing, marks_given
from rigcalc.errors import Refusal

from .bench_of_two import DECLARED, ROSTER, all_shown, set_up, sit
from .served import Person, served


@pytest.fixture
def me(desk):
    with served(desk.home) as port:
        yield Person(port)


@pytest.mark.parametrize("outcome", ["the mark stands", "counted as right"])
def test_an_appeal_without_reasons_asks_for_the_reasons_of_either_decision(desk, me, outcome):
    class_id = set_up(desk)
    sit(desk, class_id, "c01", blank=("works-the-limit",))
    work.mark_papers(desk, class_id, "Osk Tamberlin")
    slot = next(one["slot"] for one in work.marked(desk, class_id, "c01")["result"]["slots"] if not one["right"])
    me.open(f"/class/{class_id}/appeal/c01/{slot}")
    me.send(me.at, outcome=outcome, reasons=" ", decider="Parvel Minch", said="I wrote it.")
    assert me.status == 422 and "a reason of 0 letters" in me.told() and "why it is decided so" in me.told() and "wrong" not in me.told()
    assert not desk.entries("appeal decided")
    with pytest.raises(Refusal, match="write in a sentence or two what was wrong"):
        work.look_at_correction(desk, class_id, "struck", "any", "Ines Varrow", " ")


def test_a_set_without_a_name_is_asked_for_a_set_s_and_a_class_for_a_class_s(desk, me):
    from rigcalc.demonstration.cast import SEALED_SET
    class_id = set_up(desk)
    me.open(f"/class/{class_id}/sealed-set")
    me.send(me.at, name="", by="Ines Varrow", pieces=SEALED_SET)
    assert me.status == 422 and "write a name such as set 4, as it stands on the box." in me.told() and "as it stands on the box" in me.page
    with pytest.raises(Refusal, match="write a name such as autumn 2031"):
        work.set_class(desk, "!!", ROSTER, "Ines Varrow")


@pytest.mark.parametrize("minutes, by, why, told", [
    ("10", "Ines Varrow", " ", "10 minutes more without a reason was given; accepted: a name and a reason; write why they are given."),
    ("10", "", "The lamp failed.", "the person giving more time's name"), ("0", "Ines Varrow", "The lamp failed.", "0 minutes more was given; accepted: 1 to 240 minutes;"),
    ("241", "Ines Varrow", "", "241 minutes more was given")])
def test_more_time_says_what_is_missing(desk, me, minutes, by, why, told):
    class_id = set_up(desk)
    me.open(f"/class/{class_id}/watch?still=1")
    me.send(f"/class/{class_id}/watch", paper=work.paper_of(desk, class_id, "c01"), minutes=minutes, by=by, why=why)
    assert me.status == 422 and told in me.told() and "for ''" not in me.told() and not desk.entries("more time given")


@pytest.mark.parametrize("name", ["Osk T.", "Osk T", "Osk", "O. T."])
def test_an_initial_is_no_family_name_on_any_page(desk, me, name):
    me.open("/new-class")
    me.send("/new-class", name="one", roster=ROSTER, set_by=name)
    assert me.status == 422 and f"'{name}' as the person setting up the class's name" in me.told() and "the family name written out" in me.told()
    class_id = set_up(desk)
    for act in (lambda: work.mark_papers(desk, class_id, name), lambda: work.set_papers(desk, class_id, name), lambda: work.type_sheet(desk, work.paper_of(desk, class_id, "c01"), {}, name)):
        with pytest.raises(Refusal, match="the family name written out"):
            act()


@pytest.mark.parametrize("name", ["Osk Tamberlin", "O. Tamberlin", "Tamberlin, O.", "Osk T. Varrow", "Ana de la Cruz", "Li Wu"])
def test_a_family_name_written_out_is_one(name):
    assert one_person(name, "person marking") == name


def test_a_candidate_s_half_name_is_told_before_the_class_is_set_up(me):
    me.open("/new-class")
    me.send("/new-class", name="one", roster="Osk T.\nBram\nDela Orrin", set_by="Ines Varrow")
    held = [unescape(one) for one in re.findall(r'<p class="card hold">(.*?)</p>', me.page)]
    assert [one.partition(" is no first and family name")[0] for one in held] == ["Osk T.", "Bram"]


def test_every_wrong_line_of_a_list_stands_on_its_own_line(me):
    me.open("/new-class")
    me.send("/new-class", name="one", roster="Tomo Kessig, many\nDela Orrin\nDela Orrin", set_by="Ines Varrow")
    told = re.search(r'<p class="said no"[^>]*>(.*?)</p>', me.page)[1].split("<br>")
    assert [one[:7] for one in told] == ["Refused", "line 1:", "line 3:", "Accepte"] and told[-1].endswith("mend those 2 lines.")


def test_the_standing_page_offers_what_can_be_entered_and_nothing_else(desk, me):
    class_id = all_shown(desk)
    work.decide(desk, class_id, "c01", "competent", "Bettan Roole", "All shown.", DECLARED)
    number = work.certify(desk, class_id, "c01")["statement"]["number"]
    at = f"/certificate/{number}/standing"
    for act in ("suspended", "lifted", "suspended", "withdrawn"):
        offered = re.findall(r'name="act" value="([a-z]+)"', me.open(at))
        assert act in offered and len(offered) == 2 and ("lifted" in offered) != ("suspended" in offered)
        for other in {"suspended", "lifted", "withdrawn"} - set(offered):
            with pytest.raises(Refusal):
                work.change_standing(desk, number, other, "Bettan Roole", "So.")
        me.send(at, act=act, by="Bettan Roole", reason="The gauge was doubted.")
        assert f"the certificate {number} is" in me.told()
    page = me.open(at)
    assert 'name="act"' not in page and "Suspend it" not in page and "What is withdrawn stays withdrawn" in page and "The gauge was doubted." in page
    assert "Withdraw or suspend" not in me.open(f"/class/{class_id}/certificates") and "Why it is withdrawn" in me.page
    for act in ("suspended", "lifted", "withdrawn"):
        with pytest.raises(Refusal, match="which is withdrawn"):
            work.change_standing(desk, number, act, "Bettan Roole", "So.")


def test_a_question_struck_by_its_corrected_key_shows_no_skill():
    slots = [{"slot": 1, "skill": "a", "right": True, "marks": 8, "struck": True, "corrected": [1]}, {"slot": 2, "skill": "b", "right": True, "marks": 8, "corrected": [1]},
             {"slot": 3, "skill": "c", "right": False, "marks": 0}, {"slot": 4, "skill": "d", "right": True, "marks": 8, "struck": True, "corrected": [2]}]
    result = {"slots": slots, "corrections": [{"number": 1, "way": "key again"}, {"number": 2, "way": "struck"}]}
    assert in_writing(result) == {"a": "struck", "b": "right", "c": "not right", "d": "struck"}
    assert marks_given(result) == "16 of these marks were given for questions 1, 4, which were struck."
