"""Answers marked by the key record alone against the same answers marked whole: every row must be the same."""

from __future__ import annotations

import json
import random
from fractions import Fraction

import pytest

from rigcalc.papers.answers import check_typed
from rigcalc.papers.blueprint import load_blueprint
from rigcalc.papers.issue import make_paper
from rigcalc.papers.key_records import keep_key_record, key_record, whole_record
from rigcalc.papers.marking import _slot
from rigcalc.papers.quick_rows import quick_row
from rigcalc.questions import load_families
from rigcalc.questions.scale import in_fraction
from rigcalc.questions.typed import misstep_typed, right_typed, slips_of
from rigcalc.shop import load_shop, sample_shop_path

ODD = ["refuse", "REFUSE.", "", "  ", "12", "3 1/8 in", "0 lbf", "A", "Z", "1,000 lbf", "70 °C", "-20 °C", "70 C"]


@pytest.fixture(scope="module")
def papers(tmp_path_factory):
    """Full papers of three candidates with their key records."""
    folder, families, shop = tmp_path_factory.mktemp("keys"), load_families(), load_shop(sample_shop_path())
    made = []
    for number in range(3):
        person = {"id": f"c{number}", "name": f"Candidate {number}", "extra_minutes": 0, "larger_print": False}
        paper, record = make_paper("bench", person, load_blueprint("full", families), families, shop, bytes(32), "2031-05-04T09:00:00+00:00")
        keep_key_record(folder, record)
        kept, _ = key_record(folder, paper["paper_id"])
        made.append((whole_record(folder, paper["paper_id"], kept.whole_sha256), kept))
    return made


def typed_for(question: dict, key: dict, draw: random.Random) -> list:
    """The right answer, every misstep, and what people type beside them."""
    found = [right_typed(question, key), *(misstep_typed(question, key, slip, box) for _, box, slip in slips_of(key))]
    for one in list(found):
        if isinstance(one, str):
            found += [*ODD, f"{one} ", one.lower(), one.replace(" ", "")]
        else:
            found += [draw.sample(one, len(one)), one[:-1], one + one[:1], [text.lower() for text in one], [""] * len(one), [],
                      [one[0]] + [""] * (len(one) - 1), [draw.choice(one) for _ in one]]
    return found + (in_boxes(question, found[0]) + carried_on(key, found[0]) if question["kind"] == "sheet" else [])


def carried_on(key: dict, right: list[str]) -> list[list[str]]:
    """Sheets with one wrong figure and a later one worked from it."""
    found, boxes = [], {own["id"]: (at, own) for at, own in enumerate(key["boxes"])}
    for late, own in enumerate(key["boxes"]):
        for above, lines in own["right"].get("from", {}).items():
            early, other = boxes[above]
            wrong = Fraction(other["right"]["exact"]) * Fraction(83, 100)
            for times, plus, *_ in lines:
                typed = {early: _figure(other, wrong), late: _figure(own, Fraction(times) * wrong + Fraction(plus))}
                found.append([typed.get(at, one) for at, one in enumerate(right)])
    return found


def _figure(own: dict, base: Fraction) -> str:
    unit = own["right"]["unit"]
    return f"{float(in_fraction(base, unit)):.4f} {unit}".strip()


def in_boxes(question: dict, right: list[str]) -> list[list[str]]:
    """Sheets with one figure and all later ones off by one or two in their last place, as one slip carried on and a limit rounded up give."""
    found = []
    for at, (box, text) in enumerate(zip(question["boxes"], right, strict=True)):
        for off in (1, 2, 137):
            changed = [_more(one, off) if one_box["kind"] == "number" else one for one, one_box in zip(right, question["boxes"], strict=True)]
            found += [[*right[:at], changed[at], *right[at + 1:]], [*right[:at], *changed[at:]]]
    return found


def _more(text: str, off: int) -> str:
    """A figure as it is shown first, so much more in its last place."""
    figure, _, unit = text.partition(" [")[0].partition(" ")
    places = len(figure.partition(".")[2])
    return f"{float(figure) + off / 10**places:.{places}f} {unit}".strip() if figure.replace(".", "").isdigit() else text


@pytest.mark.parametrize("partly", [False, True])
def test_every_row_is_that_of_the_whole_marking(papers, partly):
    draw, quick, told = random.Random(20310504), {}, set()
    for record, kept in papers:
        questions, keys = ({one["slot"]: one for one in rows} for rows in (record["paper"]["questions"], record["keys"]))
        for one in kept.questions:
            question, key = questions[one.slot], keys[one.slot]
            for typed in typed_for(question, key, draw):
                row = quick_row(one, typed, partly)
                if row is None:
                    if check_typed(question, typed) is None:
                        assert _slot(*one.whole(), typed, "", partly) == _slot(question, key, typed, "", partly)
                    continue
                assert check_typed(question, typed) is None, typed
                assert json.dumps(row, sort_keys=True) == json.dumps(_slot(question, key, typed, "", partly), sort_keys=True)
                quick[one.kind] = quick.get(one.kind, 0) + 1
                told |= {words for words in ("This follows from", "A limit was rounded up", "does not belong", "You left out", "of the") if words in row["feedback"]}
    assert set(quick) == {"one choice", "place", "number", "order", "match", "several choices", "sheet"} and min(quick.values()) > 10
    assert told == {"This follows from", "does not belong", "You left out", "of the"} | ({"A limit was rounded up"} if partly else set())


def test_right_answers_and_missteps_seldom_need_the_whole_marking(papers):
    asked = whole = 0
    for record, kept in papers:
        keys = {one["slot"]: one for one in record["keys"]}
        questions = {one["slot"]: one for one in record["paper"]["questions"]}
        for one in kept.questions:
            question, key = questions[one.slot], keys[one.slot]
            for typed in [right_typed(question, key), *(misstep_typed(question, key, slip, box) for _, box, slip in slips_of(key))]:
                asked, whole = asked + 1, whole + (quick_row(one, typed) is None)
    assert whole < 0.15 * asked, f"{whole} of {asked}"
