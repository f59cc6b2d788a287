"""What counts as right, in words that can be checked by hand; where the figures come from."""

from __future__ import annotations

import pytest

from papers import a_class
from papers.test_partial_credit import a_class_of_kinds, answers, one_of_each_kind
from rigcalc.papers.appeal import accepted_in_words, sources_of

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
