"""No misstep is told as another, and no box of a sheet is said to follow from one that it is not worked from."""

from __future__ import annotations

from copy import deepcopy
from dataclasses import replace
from fractions import Fraction

import msgspec
import pytest
from a_family import SECRET, composed, families, ids, pairs, shop
from many import many
from told_apart import told_as_another

from rigcalc.questions import mark
from rigcalc.questions.marking import NO_SLIP, SEVERAL
from rigcalc.questions.scale import in_fraction
from rigcalc.questions.typed import right_typed

DRAWS = many(12, 60)
FOLLOWS = "This follows from"
# Which figure is worked from which above it, by what the sheet's boxes ask: worked out by hand.
WORKED_FROM = {
    "booking-in-a-reel": {("table-force", "force-that-counts")},  # the lower of the two
    "coated-eye-on-the-sheet": {("strip", "bare-in-all")},  # twice the strip; not from the sleeve's letter
    "complete-the-cut-on-a-sheet": {("one-eye", "cut"), ("one-eye", "whole-order"), ("cut", "whole-order")},
    "complete-the-limit-on-a-sheet": {("breaking-force", "limit")},  # not from the crimps
    "end-with-clips": {("number", "turnback")},  # not from the spacing
    "lap-on-the-sheet": {("tail", "overlap"), ("gap", "overlap")},
    "limit-in-three-boxes": {("strength", "held-by-the-eyes"), ("strength", "limit"), ("held-by-the-eyes", "limit")},
    "line-of-the-job-sheet": set(),  # read from a chart, each for itself
    "sheet-of-a-brace": {("cable", "line")},
    "sheet-of-a-coated-wire": set(),  # limit, eye and sleeves are each worked from the page
    "sheet-of-a-row-of-wires": {("cut", "cable")},
    "two-edges-of-a-limit": set(),
}


def number(own, share, unit: str | None = None) -> str:
    """A figure at that share of the right one, typed to many places."""
    unit = own["right"]["unit"] if unit is None else unit
    return f"{float(in_fraction(Fraction(own['right']['exact']), unit) * Fraction(share)):.5f} {unit}".strip()


def test_every_sheet_is_listed():
    assert set(WORKED_FROM) == set(ids("sheet"))


@pytest.mark.parametrize("family", ids("sheet"))
def test_a_box_knows_the_boxes_that_it_is_worked_from(family):
    found = {(above, own["id"]) for _, key in pairs(family, DRAWS) for own in key["boxes"] for above in own["right"].get("from", {})}
    assert found == WORKED_FROM[family]


@pytest.mark.parametrize("family", ids("sheet"))
def test_a_wrong_box_is_said_to_follow_where_it_does_and_nowhere_else(family):
    """Each earlier figure wrong in turn; the later box once worked from it, and once wrong in a way of its own."""
    told_to_follow = set()
    for question, key in pairs(family, DRAWS):
        boxes = key["boxes"]
        for late in range(1, len(boxes)):
            for early in range(late):
                if {boxes[early]["kind"], boxes[late]["kind"]} != {"number"}:
                    continue
                typed = right_typed(question, key)
                typed[early], typed[late] = number(boxes[early], "0.83" if boxes[early]["right"]["unit"] else 7), number(boxes[late], "0.577")
                told = mark(key, question, typed)["boxes"]
                assert FOLLOWS not in told[late]["feedback"], (family, typed)
                for times, plus, low, high in boxes[late]["right"].get("from", {}).get(boxes[early]["id"], ()):
                    unit = boxes[late]["right"]["unit"]
                    wrong = Fraction(boxes[early]["right"]["exact"]) * (Fraction(83, 100) if boxes[early]["right"]["unit"] else 7)
                    if not low <= wrong <= (high or wrong):
                        continue
                    typed[late] = f"{float(in_fraction(Fraction(times) * wrong + Fraction(plus), unit)):.4f} {unit}"
                    one = mark(key, question, typed)["boxes"][late]
                    if not one["right"] and not one["missteps"] and SEVERAL not in one["feedback"] and "too coarse" not in one["feedback"]:
                        assert f"{FOLLOWS} {typed[early]} above" in one["feedback"], (family, typed, one)
                        told_to_follow.add((boxes[early]["id"], boxes[late]["id"]))
    assert told_to_follow == WORKED_FROM[family]


def test_nothing_is_said_to_follow_beyond_the_figures_where_it_does():
    """The lower of two follows from the one above only while that is the lower: beyond, who carries it on took the higher."""
    tried = 0
    for family in ("booking-in-a-reel", "sheet-of-a-brace"):
        for question, key in pairs(family, DRAWS):
            boxes = {own["id"]: at for at, own in enumerate(key["boxes"])}
            for late, own in enumerate(key["boxes"]):
                for above, stretches in own["right"].get("from", {}).items():
                    early = boxes[above]
                    units = [key["boxes"][at]["right"]["unit"] for at in (early, late)]
                    for times, plus, _, high in stretches:
                        for share, follows in ((Fraction(99, 100), True), (Fraction(103, 100), False)) if high else ():
                            wrong = Fraction(high) * share
                            typed = right_typed(question, key)
                            typed[early], typed[late] = (f"{float(in_fraction(figure, unit)):.4f} {unit}" for figure, unit in zip((wrong, Fraction(times) * wrong + Fraction(plus)), units))
                            told = mark(key, question, typed)["boxes"]
                            if told[early]["right"] or told[late]["right"] or told[late]["missteps"]:
                                continue
                            assert (FOLLOWS in told[late]["feedback"]) == follows, (family, typed, stretches)
                            tried += not follows
    assert tried > 5


def test_a_wrong_letter_above_is_no_figure_to_work_from():
    """The coated eye: another sleeve changes nothing of the strip, and the bare cable is twice the strip."""
    question, key = composed("coated-eye-on-the-sheet", 0)
    typed = right_typed(question, key)
    typed[0] = key["boxes"][0]["missteps"][0]["letter"]
    typed[2] = number(key["boxes"][2], "0.577")
    assert mark(key, question, typed)["boxes"][2]["feedback"] == f"Not right. {NO_SLIP}"


def test_growth_or_band_left_out_of_a_strip_is_told_for_what_it_is():
    """Sleeve 8, growth 2.5, tail 7, band 2: 17.0 mm without the growth, 17.5 mm without the band, half a millimetre of tolerance."""
    question, key = composed("coated-eye-on-the-sheet", 0)
    key = deepcopy(key)
    own = key["boxes"][1]
    own["right"] |= {"exact": "39/2", "also": []}
    slips = {slip["id"]: slip for slip in own["missteps"]}
    slips["growth-forgotten"]["exact"], slips["band-forgotten"]["exact"] = "17", "35/2"
    own["missteps"] = [slips["growth-forgotten"], slips["band-forgotten"]]

    def told(typed: str) -> list[str]:
        answer = right_typed(question, key)
        answer[1] = typed
        return mark(key, question, answer)["boxes"][1]["missteps"]

    assert told("17.5 mm") == ["band-forgotten"] and told("17.0 mm") == ["growth-forgotten"]
    assert sorted(told("17.25 mm")) == ["band-forgotten", "growth-forgotten"]  # level: both are told
    own["missteps"].append(dict(slips["band-forgotten"], id="a-third"))
    own["missteps"].append(dict(slips["band-forgotten"], id="a-fourth"))
    assert told("17.5 mm") == []  # of more than two none


def test_growth_and_band_of_a_drawn_strip_lie_apart():
    for _, key in pairs("coated-eye-on-the-sheet", DRAWS):
        figures = [Fraction(slip["exact"]) for slip in key["boxes"][1]["missteps"] if slip["id"] in ("growth-forgotten", "band-forgotten")]
        assert len(figures) == 2 and abs(figures[0] - figures[1]) > Fraction(1, 2)


@pytest.mark.parametrize("family", ids("number") + ids("sheet"))
def test_no_misstep_is_told_as_another(family):
    assert not told_as_another(families()[family], shop(), DRAWS, SECRET)


def test_a_misstep_that_is_told_as_another_is_found(monkeypatch):
    """Planted: marking knows the first of two missteps of one figure alone."""
    family = families()["weakest-of-the-line"]
    assert not told_as_another(family, shop(), 40, SECRET)
    kept = msgspec.structs.replace(family, misstep=[one for one in family.misstep if one.id != "only-the-other"])
    import told_apart

    def half(family, stream, shop, draw=told_apart.draw):
        return replace(draw(kept, stream, shop), family=family)

    monkeypatch.setattr(told_apart, "draw", half)
    assert told_as_another(family, shop(), 40, SECRET)


def test_a_misstep_that_yields_is_told_only_where_its_figure_is_its_own():
    """No inch label is told that metric cable is another cable; a figure that both metals have is not the other metal's."""
    seen = set()
    for _, key in pairs("lower-of-table-and-certificate", many(120, 300)):
        slips = {slip["id"]: slip["exact"] for slip in key["missteps"]}
        if "metric-taken-as-inch" in slips:
            assert key["values"]["case"]["table"] == 0
        seen |= set(slips)
        figures = [slip for name, slip in slips.items() if name in ("higher-of-the-two", "metric-taken-as-inch", "other-metal")]
        assert len(set(figures)) == len(figures)
    assert {"higher-of-the-two", "metric-taken-as-inch", "other-metal"} <= seen


def test_two_missteps_that_say_the_same_are_told_once():
    slips = [{"id": one, "exact": "12", "feedback": "You left the growth out.", "round": None} for one in ("a", "b")]
    key = {"kind": "number", "section": "08#lap-splice", "right": {"exact": "20", "unit": "mm", "tolerance": {"mm": "0.5"}, "round": None}, "missteps": slips}
    question = {"kind": "number", "accept": ["mm"], "refusal": False, "tolerance": "within 0.5 mm"}
    told = mark(key, question, "12 mm")
    assert told["missteps"] == ["a", "b"] and told["feedback"] == "Not right. You left the growth out."
