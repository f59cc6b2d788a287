"""A US shop whose file is in inches: lengths stand in inches first, the sum is made with what is shown, inches are taken in every box."""

from __future__ import annotations

import dataclasses
import re

import pytest

from many import many
from rigcalc.pairing import pairing
from rigcalc.questions import Stream, compose, draw, load_families, mark, read_answer
from rigcalc.questions.template import fill
from rigcalc.shop import load_shop, sample_shop_path

FAMILIES = load_families()
SECRET = bytes(range(32))
LENGTHS = ("cut-length", "complete-the-cut-on-a-sheet", "sheet-of-a-row-of-wires", "between-the-sleeves", "ring-with-a-lap",
           "lap-on-the-sheet", "what-one-eye-takes", "what-was-left-out", "end-in-the-sleeve", "coated-eye-on-the-sheet")
INCH = 25.4


def in_inches():
    """The sample shop with its thimbles and sleeves as if they had been set in sixteenths of an inch."""
    def sixteenths(thing):
        fields = [name for name in thing.__dataclass_fields__ if name in ("loop_mm", "bearing_to_sleeve_mm", "sleeve_before_mm", "sleeve_after_mm")]
        return dataclasses.replace(thing, **{name: round(getattr(thing, name) / INCH * 16) * INCH / 16 for name in fields})

    shop = load_shop(sample_shop_path())
    charts = tuple(dataclasses.replace(chart, rows=tuple(sixteenths(row) for row in chart.rows)) for chart in shop.charts)
    return dataclasses.replace(shop, charts=charts, thimbles=tuple(sixteenths(one) for one in shop.thimbles))


SHOP = in_inches()


@pytest.mark.parametrize("name", LENGTHS)
def test_lengths_are_in_inches_first_and_in_mm_to_a_tenth(name):
    for number in range(many(4, 60)):
        made = draw(FAMILIES[name], Stream(SECRET, f"{name} {number}"), SHOP)
        page = f"{made.text} {made.chart or ''}"
        assert " in [" in page
        assert not re.search(r"\.[0-9]{2,} mm(?!\] thick)", page), page


def test_a_cut_is_right_by_the_inches_shown_and_by_the_millimetres_in_brackets():
    """In inches: pin to pin, less twice the bearing, plus twice loop, sleeve before pressing and tail; worked from the page alone."""
    def length(shown: str) -> float:
        return sum(eval_part(part) for part in shown.split())

    def eval_part(part: str) -> float:
        top, _, under = part.partition("/")
        return float(top) / float(under or 1)

    for number in range(many(10, 200)):
        stream = Stream(SECRET, f"by hand {number}")
        made = draw(FAMILIES["cut-length"], stream, SHOP)
        question, key = compose(made, stream, 1)
        pairs = re.findall(r"([0-9][0-9 /]*) in \[([0-9.]+) mm\]", made.text)
        pin, loop, bearing, before, _, tail = (length(inches) for inches, _ in pairs)
        assert mark(key, question, f"{pin - 2 * bearing + 2 * (loop + before + tail):.3f} in")["right"]
        pin, loop, bearing, before, _, tail = (float(mm) for _, mm in pairs)
        assert mark(key, question, f"{pin - 2 * bearing + 2 * (loop + before + tail):.1f} mm")["right"]


def test_every_length_box_of_a_lap_takes_inches():
    made = draw(FAMILIES["lap-on-the-sheet"], Stream(SECRET, "lap"), SHOP)
    question, key = compose(made, Stream(SECRET, "lap"), 1)
    right = [made.values["tail"], made.values["gap"], made.values["overlap"]]
    typed = [*(f"{round(mm / INCH * 32)}/32 in" for mm in right), str(made.values["crimps"])]
    assert all(read_answer(box, one)["ok"] for box, one in zip(question["boxes"], typed, strict=True))
    assert mark(key, question, typed)["right"], (typed, right)
    assert mark(key, question, [f"{made.values['tail_worked'] / INCH:.3f} in", *typed[1:]])["boxes"][0]["missteps"] == ["tail-not-rounded-up"]


def test_one_row_of_a_shop_still_gives_laps_of_many_figures():
    shop = dataclasses.replace(SHOP, charts=(dataclasses.replace(SHOP.charts[0], rows=SHOP.charts[0].rows[:1]),))
    right = {draw(FAMILIES["lap-on-the-sheet"], Stream(SECRET, f"one row {number}"), shop).values["right"] for number in range(12)}
    assert len(right) > 6


def test_an_eighth_is_one_figure_in_every_question():
    assert fill("{d:reading}", {"d": 3.175}, "US") == "0.125 in [3.18 mm]"
    assert {draw(FAMILIES["size-in-millimetres"], Stream(SECRET, f"eighth {number}"), SHOP).values["right"]
            for number in range(60)} >= {"3.18 mm"}


@pytest.mark.parametrize("name", ["cut-length", "complete-the-cut-on-a-sheet", "sheet-of-a-row-of-wires"])
def test_every_pair_asked_about_is_allowed_out_of_doors(name):
    pairs = [(kind["metal"], sleeve) for kind in FAMILIES[name].pools["kinds"] for sleeve in kind["sleeve"]]
    assert ("stainless", "tin-plated copper") in pairs and all(pairing(metal, sleeve, "outdoor").allowed for metal, sleeve in pairs)


@pytest.mark.parametrize("number", range(many(6, 60)))
def test_a_guard_band_is_worked_in_either_unit(number):
    made = draw(FAMILIES["two-edges-of-a-limit"], Stream(SECRET, f"edges {number}"), SHOP)
    question, key = compose(made, Stream(SECRET, f"edges {number}"), 1)
    page = f"{question['chart']} {question['text']}"
    limit, guard, _ = (float(one) for one in re.findall(r"([0-9.]+) in \[", page))
    judged = key["boxes"][2]["right"]["letter"]
    assert mark(key, question, [f"{limit - guard:.4f} in", f"{limit + guard:.4f} in", judged])["right"]
    limit, guard, _ = (float(one) for one in re.findall(r"\[([0-9.]+) mm\]", page))
    assert mark(key, question, [f"{limit - guard:.2f} mm", f"{limit + guard:.2f} mm", judged])["right"]
    assert not mark(key, question, [f"{limit - guard + 0.005:.3f} mm", f"{limit + guard:.2f} mm", judged])["right"]


@pytest.mark.parametrize("name", ["readings-that-pass", "two-edges-of-a-limit", "pass-fail-or-not-proven"])
def test_sizes_across_a_crimp_stand_in_inches_first_in_a_us_shop_and_alone_in_an_si_shop(name):
    for system, mark_of in (("US", r"[0-9.]+ in \[[0-9.]+ mm\]"), ("SI", r"(?<!\[)\b[0-9.]+ mm")):
        made = draw(FAMILIES[name], Stream(SECRET, name), dataclasses.replace(SHOP, system=system))
        page = str(compose(made, Stream(SECRET, name), 1)[0])
        assert re.search(mark_of, page) and (system == "US") == (" in [" in page)
