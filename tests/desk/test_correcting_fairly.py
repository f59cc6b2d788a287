"""A correction takes nothing back in silence: allowed appeals stand, and whoever gains or loses is named with the question."""

import dataclasses
import hashlib
import html

import pytest

from rigcalc.demonstration.answers import sit_paper
from rigcalc.desk import work
from rigcalc.desk.folder import exact_text
from rigcalc.desk.marking_commands import correct_class
from rigcalc.errors import Refusal
from rigcalc.papers import issue
from rigcalc.papers.correcting import changes_in_words
from rigcalc.questions import load_families
from rigcalc.questions.typed import right_typed
from rigcalc.register.keys import keep_private
from rigcalc.shop import sample_shop_path

from .served import Person, served
from .test_correcting import ME, SECOND, WRONG, changed, marked_class, plain_row, swapping

FIGURE = "limit-of-an-eye"


@pytest.fixture
def asked(desk, monkeypatch):
    """A class of three whose papers all ask one family of figures: c01 typed twice the right figure, c02 the right one, c03 nothing.

    Then the family is corrected: the right figure is twice what it was.
    """
    families = {name: one for name, one in load_families().items() if one.skill != WRONG or name == FIGURE or one.level != load_families()[FIGURE].level}
    class_id = work.set_class(desk, "Summer", "Tomo Kessig\nDela Orrin\nEdda Klee", "Ines Varrow")
    keep_private(desk.path("secrets", f"{class_id}.bin"), bytes(range(32)))
    work.set_papers(desk, class_id, "Ines Varrow", families)
    for who, times in (("c01", 2), ("c02", 1), ("c03", 0)):
        record = work.paper_record(desk, work.paper_of(desk, class_id, who))
        key = next(one for one in record["keys"] if one["family"] == FIGURE)
        question = next(one for one in record["paper"]["questions"] if one["slot"] == key["slot"])
        figure, unit = right_typed(question, key).partition(" [")[0].split()
        sit_paper(desk.room, record["paper_id"], {key["slot"]: f"{int(figure) * times} {unit}"} if times else {})
    work.mark_papers(desk, class_id, "Osk Tamberlin")
    other = changed(families[FIGURE], sha256="0" * 64)
    monkeypatch.setattr(issue, "draw", doubling(issue.draw, other))
    return class_id, families | {FIGURE: other}


def doubling(draw, corrected):
    """As the corrected family draws: twice the figure, cut to a whole one, so that what was typed as twice it is right."""
    def drawn(family, stream, shop):
        made = draw(family, stream, shop)
        if family is not corrected:
            return made
        from rigcalc.questions.scale import right_in
        figure = right_in(family.answer, made.right, made.unit)
        return dataclasses.replace(made, right=_in_newtons(figure * 2, made.unit), slips=())

    return drawn


def _in_newtons(figure, unit):
    from rigcalc.units import LBF_N
    return figure * (LBF_N if unit == "lbf" else 1)


def slot_of(desk, class_id, who):
    result = work.marked(desk, class_id, who)["result"]
    keys = {key["slot"]: key for key in work.paper_record(desk, result["paper_id"])["keys"]}
    return next(one for one in result["slots"] if keys[one["slot"]]["family"] == FIGURE)


def test_whoever_gains_and_whoever_was_right_and_loses_is_named_with_the_question(desk, asked, capsys, monkeypatch):
    class_id, families = asked
    looked = work.look_at_correction(desk, class_id, "key again", FIGURE, *ME, families=families)
    first, second = (slot_of(desk, class_id, who) for who in ("c01", "c02"))
    said = changes_in_words(looked["moves"], looked["correction"]["appeals_kept"])
    assert said == [
        f"Dela Orrin LOSES marks: question {second['slot']}, {second['weight']} to 0; the answer ({second['typed']}) was right by the key the paper was issued with.",
        f"Tomo Kessig gains marks: question {first['slot']}, 0 to {first['weight']}."]
    assert not desk.entries("answers re-marked")
    monkeypatch.setattr("rigcalc.desk.correcting.load_families", lambda home=None: families)
    words = [class_id, "--folder", str(desk.home), "--family", FIGURE, "--way", "key again", "--by", ME[0], "--why", ME[1]]
    for more in ([], ["--enter", "--second", SECOND]):
        assert correct_class([*words, *more]) == 0
        out = capsys.readouterr().out
        assert all(line in out for line in said)
    assert [one["questions"] for one in desk.entries("answers re-marked")[0].body["results"] if one["candidate"]["id"] == "c02"][0][0]["was"]


@pytest.mark.parametrize("second, told", [
    ("", "takes marks from Dela Orrin, by Ines Varrow alone"), ("Osk Tamberlin", "Osk Tamberlin, who marked a paper"), ("O. Tamberlin", "may be Osk Tamberlin"),
    ("Ines Varrow", "Ines Varrow, who corrects"), ("I. Varrow", "may be Ines Varrow"), ("Edda Klee", "a candidate of this class"), ("Mirel", "second person's name")])
def test_a_correction_that_takes_marks_needs_a_second_person(desk, asked, second, told):
    class_id, families = asked
    with pytest.raises(Refusal, match=told):
        work.correct_marking(desk, class_id, "key again", FIGURE, *ME, families=families, second=second)
    assert not desk.entries("answers re-marked") and not list((desk.folder / "corrections").iterdir())


def test_who_marked_enters_nothing_that_takes_alone_and_the_second_person_stands_in_the_record(desk, asked, monkeypatch, capsys):
    class_id, families = asked
    monkeypatch.setattr("rigcalc.desk.correcting.load_families", lambda home=None: families)
    words = [class_id, "--folder", str(desk.home), "--family", FIGURE, "--way", "key again", "--by", "Osk Tamberlin", "--why", ME[1]]
    assert correct_class(words) == 0 and "name with --second a person who agrees" in capsys.readouterr().out
    with pytest.raises(Refusal, match="with --second"):
        correct_class([*words, "--enter"])
    with served(desk.home) as port:
        person, here = Person(port), f"/class/{class_id}/correct"
        person.open(f"{here}?family={FIGURE}")
        form = {"family": FIGURE, "way": "key again", "misstep": "", "by": "Osk Tamberlin", "why": ME[1], "second": ""}
        looked = html.unescape(person.send(here, **form))
        assert "a second person must agree" in looked and "Enter this correction" not in looked
        assert "alone" in person.send(here, **form, act="enter") and not desk.entries("answers re-marked")
        assert "Enter this correction" in person.send(here, **form | {"second": SECOND})
        assert f"agreed to by {SECOND}" in person.send(here, **form | {"second": SECOND, "act": "enter"})
    entry = desk.entries("answers re-marked")[0].body
    assert (entry["by"], entry["second"]) == ("Osk Tamberlin", SECOND) and work.corrections_of(desk)[0]["second"] == SECOND
    assert work.marked(desk, class_id, "c02")["result"]["corrections"][0]["second"] == SECOND
    with pytest.raises(Refusal, match="who agreed that it was marked again"):
        work.decide_appeal(desk, class_id, "c02", slot_of(desk, class_id, "c02")["slot"], "the mark stands", SECOND, "So.", "I wrote it.")


def test_the_result_says_what_it_was_before_and_that_the_answer_was_right_by_the_issued_key(desk, asked):
    class_id, families = asked
    was = {who: work.marked(desk, class_id, who)["result"]["score"] for who in ("c01", "c02")}
    work.correct_marking(desk, class_id, "key again", FIGURE, *ME, families=families, second=SECOND)
    with served(desk.home) as port:
        lost, gained = (html.unescape(Person(port).open(f"/class/{class_id}/result/{who}")) for who in ("c02", "c01"))
    first, second = (slot_of(desk, class_id, who) for who in ("c01", "c02"))
    assert f"agreed to by {SECOND}: {ME[1]} Before this: {was['c02']} marks, not passed; after it: {was['c02'] - second['weight']} marks, not passed." in lost
    assert (f"Marked again by correction 1: see above. Before correction 1: {second['weight']} marks; "
            "the answer was right by the key the paper was issued with.") in lost
    assert f"Before this: {was['c01']} marks" in gained and "Before correction 1: 0 marks.<" in gained and "was right by the key" not in gained
    assert first["right"]


def test_an_allowed_appeal_stands_and_is_named_when_the_key_is_worked_out_again(desk, asked):
    class_id, families = asked
    for who in ("c02", "c03"):
        if not slot_of(desk, class_id, who)["right"]:
            work.decide_appeal(desk, class_id, who, slot_of(desk, class_id, who)["slot"], "counted as right", "Bettan Roole", "It was on the sheet.", "I wrote it.")
    before = work.marked(desk, class_id, "c03")
    looked = work.look_at_correction(desk, class_id, "key again", FIGURE, *ME, families=families)
    assert [one["candidate"]["name"] for one in looked["correction"]["appeals_kept"]] == ["Edda Klee"]
    line = changes_in_words(looked["moves"], looked["correction"]["appeals_kept"])[-1]
    number = desk.entries("appeal decided")[0].number
    assert f"Edda Klee keeps question {slot_of(desk, class_id, 'c03')['slot']}" in line and f"register entry {number}: It was on the sheet." in line and "Bettan Roole" in line
    work.correct_marking(desk, class_id, "key again", FIGURE, *ME, families=families, second=SECOND)
    assert work.marked(desk, class_id, "c03")["result"] == before["result"] and slot_of(desk, class_id, "c03")["right"]
    assert work.mark_papers(desk, class_id, "Osk Tamberlin") and work.marked(desk, class_id, "c03")["result"] == before["result"]
    assert not slot_of(desk, class_id, "c02")["right"] and slot_of(desk, class_id, "c01")["right"]
    entry = desk.entries("answers re-marked")[-1].body
    assert [one["candidate"]["name"] for one in entry["appeals_kept"]] == ["Edda Klee"] and before["result"]["paper_id"] not in entry["papers"]
    with served(desk.home) as port:
        page = html.unescape(Person(port).open(f"/class/{class_id}/correct"))
    assert line in page and "Dela Orrin LOSES marks" in page


def test_where_every_answer_counts_by_appeal_there_is_nothing_to_correct(desk, asked):
    class_id, families = asked
    work.correct_marking(desk, class_id, "key again", FIGURE, *ME, families=families, second=SECOND)
    for who in ("c02", "c03"):
        work.decide_appeal(desk, class_id, who, slot_of(desk, class_id, who)["slot"], "counted as right", "Bettan Roole", "So.", "I wrote it.")
    looked = work.look_at_correction(desk, class_id, "struck", FIGURE, *ME)
    assert len(looked["correction"]["appeals_kept"]) == 2 and len(looked["correction"]["papers"]) == 1
    earlier = [one | {"papers": {work.paper_of(desk, class_id, who): {str(slot_of(desk, class_id, who)["slot"]): {"right": True}}}}
               for who in ("c01",) for one in work.corrections_of(desk)[-1:]]
    from rigcalc.papers.correcting import family_correction
    records = [work.paper_record(desk, work.paper_of(desk, class_id, who)) for who in ("c01", "c02", "c03")]
    with pytest.raises(Refusal, match="the appeals stand"):
        family_correction(records, "struck", FIGURE, *ME, number=9, earlier=[*work.corrections_of(desk), *earlier])


def test_a_way_that_is_none_is_answered_in_a_sentence(desk, asked):
    with pytest.raises(Refusal, match="the way 'strike' was given; accepted: key again, misstep is right, struck; choose one of these"):
        correct_class([asked[0], "--folder", str(desk.home), "--family", FIGURE, "--way", "strike", "--by", ME[0], "--why", ME[1]])


def test_part_marks_are_told_alike_before_and_after_they_stand_in_the_register():
    rows = [{"candidate": {"id": f"c0{at}", "name": name}, "score_before": before, "score_after": after, "passed_before": True, "passed_after": True, "crosses": "",
             "questions": [{"question": 4, "marks_before": before, "marks_after": after, "was": "", "answer": "a", "struck": False}]}
            for at, (name, before, after) in enumerate((("Tomo Kessig", 6.6, 10), ("Dela Orrin", 10, 6.6), ("Edda Klee", 9.5, 10)), 1)]
    told = changes_in_words(rows)
    assert told[0].startswith("Dela Orrin LOSES marks") and len(told) == 3
    assert changes_in_words(exact_text(rows)) == told      # 9.5 and 10 as texts would stand the other way round


def test_the_shop_file_and_the_families_of_that_day_are_kept_and_used(home_shop_desk, monkeypatch):
    """Years later the shop file is another: a key is still worked out by the one that the papers were set with."""
    home, class_id, key = home_shop_desk
    texts = home / "desk" / "texts"
    record = work.paper_record(work.open_desk(home), work.paper_of(work.open_desk(home), class_id, "c01"))
    assert {path.stem for path in texts.iterdir()} >= {record["shop_sha256"], *(one["family_sha256"] for one in record["keys"])}
    assert all(hashlib.sha256(path.read_bytes()).hexdigest() == path.stem for path in texts.iterdir())
    shop = home / "shop.toml"
    shop.write_text(shop.read_text("utf-8") + "\n# a new gauge is on order\n", "utf-8")
    desk = work.open_desk(home)
    assert desk.shop.digest != record["shop_sha256"] and desk.shop_of(record["shop_sha256"]).digest == record["shop_sha256"]
    other = changed(load_families()[key["family"]], sha256="2" * 64)
    monkeypatch.setattr(issue, "draw", swapping(issue.draw, other))
    looked = work.look_at_correction(desk, class_id, "key again", key["family"], *ME, families=load_families() | {key["family"]: other})
    assert looked["moves"]


@pytest.fixture
def home_shop_desk(tmp_path):
    home = tmp_path / "home"
    home.mkdir()
    (home / "shop.toml").write_bytes(sample_shop_path().read_bytes())
    desk = work.open_desk(home)
    class_id = marked_class(desk)
    return home, class_id, plain_row(desk, class_id)[1]
