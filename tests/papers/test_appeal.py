"""What counts as right, in words that can be checked by hand; where the figures come from."""

from __future__ import annotations

import msgspec
import pytest

from papers import a_class
from papers.test_partial_credit import a_class_of_kinds, answers, one_of_each_kind
from rigcalc.papers.appeal import accepted_in_words, appeal_body, marked_by, sources_of
from rigcalc.papers.answers import returned_record
from rigcalc.papers.blueprint import Blueprint, Cut, Place
from rigcalc.papers.correcting import family_correction
from rigcalc.papers.marking import mark_returned
from rigcalc.papers.records import canonical
from rigcalc.questions import families_folder
from rigcalc.questions.family import read_family
from rigcalc.questions.typed import right_typed
from rigcalc.shop import load_shop, sample_shop_path

PLAIN = {"accept": ["lbf"], "tolerance": "within 1 %", "options": []}


def number(exact, tolerance, turn=None, shown="as shown"):
    return {"kind": "number", "right": {"exact": exact, "shown": shown, "tolerance": tolerance, "round": turn, "unit": "lbf"}}


@pytest.mark.parametrize("question, key, told", [
    (PLAIN | {"accept": ["mm", "in"]}, number("254", {"relative": "0.01"}), ["Accepted: from 251.46 to 256.54 mm.",
                                                                             "Accepted: from 9.9 to 10.1 in."]),
    (PLAIN | {"accept": ["kg"]}, number("7", {}, {"direction": "down", "step": {"kg": "1"}}), ["Accepted: 7 kg exactly."]),
    (PLAIN | {"accept": ["N"]}, number("1234.5", {}, {"direction": "down", "step": {"N": "1"}}), ["Accepted: 1234 N exactly."]),
    (PLAIN | {"accept": [""]}, number("4", {}), ["Accepted: 4 exactly."]),
    (PLAIN | {"accept": ["mm"]}, number("50", {"mm": "2"}), ["Accepted: from 48 to 52 mm."]),
])
def test_the_accepted_range_of_a_figure_in_every_unit(question, key, told):
    lines = accepted_in_words(question, key)
    assert lines[0].startswith("Right: as shown") and lines[1:] == told


def test_a_refusal_is_the_word():
    assert accepted_in_words(PLAIN, number("refuse", {})) == ["Right: the word refuse, as no figure can be stated."]


def test_every_kind_says_what_counts(tmp_path):
    held = a_class_of_kinds(tmp_path, one_of_each_kind(), "none")
    questions = {question["slot"]: question for question in a_class.paper_of(held)["questions"]}
    for key in a_class.key_of(held)["keys"]:
        lines, question = accepted_in_words(questions[key["slot"]], key), questions[key["slot"]]
        right = answers(held)[key["kind"]][1]
        text = "\n".join(lines)
        if key["kind"] == "sheet":
            assert all(f"{box['label']}: " in text for box in question["boxes"])
        else:
            assert key["right"]["shown"] in text
        if key["kind"] in ("one choice", "several choices"):
            assert all(f"{option['letter']}: {option['text']}" in text for option in question["options"] if option["letter"] in right)


def test_sources_name_table_family_and_chart(held):
    record = a_class.key_of(held)
    key = next(one for one in record["keys"] if one["family"] == "limit-of-an-eye")
    told = sources_of(key, record["paper"])
    assert told[0].startswith(f"{key['values']['cable']['source']}, ") and key["family_sha256"] in told[-2]
    assert record["paper"]["chart_line"] in told[-1]
    order = next(one for one in record["keys"] if one["family"] == "order-of-crimps")
    assert sources_of(order, record["paper"])[0] == order["values"]["row"]["order_source"]


def test_the_tolerance_shown_is_the_one_marked_by(tmp_path):
    family = read_family(families_folder() / "mass-of-the-wires.toml")
    plan = Blueprint(form=1, id="one", version=1, title="One", minutes=10, book="closed", allowed="this page only.", calculator=True,
                     partial_credit="none", cut=Cut(60, "one named person", "A", "2026-01-01", "so"), question=[Place(family.skill, family.level, 100)])
    made = a_class.set_class(tmp_path, blueprint=plan, families={family.id: family}, roster=a_class.ROSTER[:1])
    record = a_class.key_of(made)
    question = record["paper"]["questions"][0]
    assert question["tolerance"] == "within 1 %" and marked_by(record, question, []) is question
    wider = msgspec.structs.replace(family, answer=msgspec.structs.replace(family.answer, tolerance={"relative": 0.03}), version=family.version + 1, sha256="0" * 64)
    correction = family_correction([record], "key again", family.id, "Ines Varrow", "Too narrow.", number=1, families={family.id: wider},
                                   shop=load_shop(sample_shop_path()), secret=a_class.SECRET)
    shown = marked_by(record, question, [correction])["tolerance"]
    assert shown == "within 3 %, as it was marked again (the paper said: within 1 %)"
    made.returned.mkdir()
    figure, unit = right_typed(question, record["keys"][0]).partition(" [")[0].split()
    row = {"slot": 1, "typed": f"{float(figure) * 1.02:.3f} {unit}", "revision": 1, "at": a_class.NOW}
    (made.returned / f"{record['paper_id']}.json").write_bytes(canonical(returned_record(record["paper"], [row], handed_in_at=a_class.NOW)))
    before, after = (mark_returned(made.returned, made.keys, corrections=some).results[0] for some in ([], [correction]))
    assert not before["slots"][0]["right"] and after["slots"][0]["right"]
    assert shown in appeal_body(record, after, 1, [correction]) and "as it was marked again" not in appeal_body(record, before, 1)
    struck = family_correction([record], "struck", family.id, "Ines Varrow", "Pale.", number=2)
    assert marked_by(record, question, [struck]) is question
