"""Bench forms at the desk: sealed sets, who may assess, a form set aside, what a shop can have made, a chart that changed."""

from dataclasses import replace

import pytest

from rigcalc.desk import work
from rigcalc.desk.charts import other_charts
from rigcalc.errors import Refusal

from .bench_of_two import set_up, work_at_bench


@pytest.mark.parametrize("text, told", [("3 good", "line 1"), ("3: fine", "line 1"), ("3: good\n3: crack", "a second time"),
                                        ("3: good", "a set of 1 pieces"), ("", "a set of 0 pieces"),
                                        ("\n".join(f"{n}: good" for n in range(6)), "0 with a critical fault"),
                                        ("<b>: good", "line 1")])
def test_a_set_typed_wrong_gets_one_sentence(desk, text, told):
    with pytest.raises(Refusal, match=told):
        work.keep_set(desk, work.set_class(desk, "Spring", "Tomo Kessig", "Ines Varrow"), "box", text, "Ines Varrow")


def test_a_form_is_for_one_or_two_who_are_not_the_assessor(desk):
    class_id = set_up(desk)
    for people, assessor, set_id in ((["c01", "c02", "c03"], "Osk", None), ([], "Osk", None), (["c01"], "tomo kessig", None),
                                     (["c01"], "Osk", "no-such-set"), (["c01", "c01"], "Osk", None)):
        with pytest.raises(Refusal):
            work.open_bench(desk, class_id, people, assessor, "LB", set_id)
    assert not desk.register.entries("bench form opened")


def test_a_form_opened_by_mistake_is_set_aside_with_the_reason_and_nobody_is_assessed_on_it(desk):
    class_id = set_up(desk)
    form_id = work.open_bench(desk, class_id, ["c01"], "Bettan Roole", "LB")["form"]["form_id"]
    for by, why, told in (("Tomo Kessig", "So.", "a candidate of this class"), ("Ines Varrow", " ", "a reason of 0 letters")):
        with pytest.raises(Refusal, match=told):
            work.set_aside(desk, form_id, by, why)
    work.set_aside(desk, form_id, "Ines Varrow", "The wrong assessor.")
    only, = work.forms(desk, class_id)
    assert only["set_aside"] == "set aside by Ines Varrow: The wrong assessor." and not only["address"]
    with pytest.raises(Refusal, match="set aside"):
        work.assess(desk, form_id, "c01")
    work_at_bench(desk, class_id, c01="right")  # another is opened without a word
    with pytest.raises(Refusal, match="on which somebody was assessed"):
        work.set_aside(desk, work.forms(desk, class_id)[0]["form_id"], "Ines Varrow", "So.")
    assert [entry.body["by"] for entry in desk.entries("bench form set aside")] == ["Ines Varrow"] == [entry.body["by"] for entry in desk.entries("sealed set kept")]


def test_a_shop_that_cannot_do_the_bench_task_is_told_before_papers_are_set(tmp_path, sample_shop):
    plan = work.blueprint_in_force(work.open_desk(tmp_path / "all", sample_shop))
    for sizes, told in (({"1/8", "3/32"}, ""), ({"3/32", "3/16"}, "Bench task T1 (Two thimble eyes) is written for 1/8 cable; in this shop it is opened for 3/32 7x7"),
                        (set(), "cannot be assessed in this shop with any size it has")):
        shop = replace(sample_shop, reels=tuple(one for one in sample_shop.reels if one.size in sizes))
        notes = [one for one in work.notes_before_setting(work.open_desk(tmp_path / f"desk{len(sizes)}{'1/8' in sizes}", shop), plan) if "ench task" in one]
        assert len(notes) == bool(told) and all(told in one for one in notes)


def test_a_chart_changed_without_a_new_edition_is_told(desk, sample_shop):
    def with_chart(**changes):
        return replace(sample_shop, charts=tuple(replace(one, **changes) if one.id == "LB-AL" else one for one in sample_shop.charts))

    class_id = set_up(desk)
    chart = next(one for one in sample_shop.charts if one.id == "LB-AL")
    fewer = chart.rows[:-1]
    for changes, told in (({}, 0), ({"checked_by": "Bettan Roole"}, 0), ({"rows": fewer, "edition": "6"}, 0), ({"rows": fewer}, 1)):
        said = work.quietly_changed(replace(desk, shop=with_chart(**changes)), class_id)
        assert len(said) == told
    newer, paper = replace(desk, shop=with_chart(edition="6")), work.paper_of(desk, class_id, "c01")
    same, other = (work.open_bench(one, class_id, ["c01"], "Osk Tamberlin", "LB", again=True)["form"]["form_id"] for one in (desk, newer))
    assert other_charts(desk, paper, same) == "" and "LB-AL edition 5" in other_charts(desk, paper, other).partition(") than the bench form")[0]
    assert "LB-AL edition 6" in other_charts(desk, paper, other).partition(") than the bench form")[2]
    assert said == [f"Chart LB-AL has changed since {desk.entries('paper issued')[0].at[:10]} without a new edition: it is still called edition {chart.edition}. "
                    "Have its owner check it, and give it an edition."]
