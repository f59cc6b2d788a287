"""Check values for the families of clips, tails, left-out parts and four legs: worked by hand, and what each misstep gives."""

from __future__ import annotations

import pytest
from a_family import composed, families, instance

from rigcalc.errors import Refusal
from rigcalc.questions import mark
from rigcalc.questions.registry import call

LBF = 4.4482216152605  # N, by definition


def _drawn(family: str, **wanted):
    """The first draw of a family with these values, its question and its key."""
    for number in range(4000):
        values = instance(family, number).values
        if all(values[name] == value or isinstance(value, dict) and all(values[name][one] == what for one, what in value.items())
               for name, value in wanted.items()):
            return composed(family, number)
    raise AssertionError(f"{family} never draws {wanted}")


def test_three_clips_at_least_where_the_rule_of_thumb_gives_two():
    """3 D + 1 at 1/8 in: 1.375, up to 2. Expected: 3 and 4 of 29 CFR 1918 App. II; no row at 3/32 and 5/32."""
    assert call("clips_by_thumb", {"size": "1/8"}) == 2
    assert call("clips_on_an_end", {"size": "1/8", "drop_forged": True, "none": "none"}) == 3
    assert call("clips_on_an_end", {"size": "1/8", "drop_forged": False, "none": "none"}) == 4
    for size in ("1/16", "3/32", "5/32"):
        assert call("clips_on_an_end", {"size": size, "drop_forged": True, "none": "none"}) == "none"


def test_the_cell_of_a_half_inch_on_an_eighth():
    """6 x 1/8 in is 0.75 in; the printed 3 in is 6 x 1/2 in."""
    question, key = _drawn("clip-spacing", made={"size": "1/8"})
    assert mark(key, question, "0.75 in")["right"] and mark(key, question, "19 mm")["right"]
    assert mark(key, question, "3 in")["missteps"] == ["cell-of-a-half-inch"]
    assert mark(key, question, "3/8 in")["missteps"] == ["radius-for-diameter"]


def test_a_turnback_grows_with_the_number():
    """4.75 in for two clips: 7.125 in for three, 9.5 in for four (TM 5-3810-305-10 p 4-38, in proportion)."""
    given = {"size": "1/4", "row_mm": 4.75 * 25.4, "row_number": 2}
    assert call("clip_turnback_mm", given | {"drop_forged": True}) == pytest.approx(7.125 * 25.4)
    assert call("clip_turnback_mm", given | {"drop_forged": False}) == pytest.approx(9.5 * 25.4)


def test_the_limit_of_a_clipped_eighth():
    """2000 x 0.80 / 5 = 320; with a sleeve's 0.90 it is 360; 0.72 gives 288, 0.64 gives 256."""
    question, key = _drawn("limit-with-clips", cable={"size": "1/8"}, job={"value": 5})
    assert mark(key, question, "320 lbf")["right"]
    for typed, misstep in (("360 lbf", "share-of-a-sleeve"), ("400 lbf", "share-left-out"), ("288 lbf", "both-shares"),
                           ("256 lbf", "share-squared"), ("8000 lbf", "multiplied-by-the-factor")):
        assert mark(key, question, typed)["missteps"] == [misstep], typed


def test_a_size_without_a_row_is_not_clipped():
    """3/32: 1000 x 0.80 / 5 = 160 is refused, because the clip tables have no such row."""
    question, key = _drawn("limit-with-clips", cable={"size": "3/32"}, job={"value": 5})
    assert mark(key, question, "refuse")["right"]
    assert mark(key, question, "160 lbf")["missteps"] == ["clipped-without-a-row"]


def test_which_places_forbid_clips_comes_from_the_table_of_rules():
    items = [{"en": "a sling", "rule": 1, "why": "x"}, {"en": "a fence", "rule": 0, "why": "y"}]
    sling, fence = call("places_for_clips", {"items": items})
    assert (sling["clips"], fence["clips"]) == ("forbidden", "not forbidden")
    assert "29 CFR 1926.251" in sling["feedback"] and fence["feedback"] == "y"


EIGHTH = {"loop_mm": 70, "bearing_to_sleeve_mm": 30, "sleeve_mm": 15, "after_mm": 20, "tail_mm": 7}


@pytest.mark.parametrize(("slip", "said"), [
    ("one tail", "7 mm too short"), ("both tails", "14 mm too short"), ("one sleeve", "15 mm too short"),
    ("one loop", "70 mm too short"), ("one bearing", "30 mm too long"), ("both bearings", "60 mm too long"),
    ("pressed sleeves", "10 mm too long"),  # 2 x (20 - 15)
])
def test_a_part_left_out_of_the_cafes_cut(slip, said):
    if slip in ("both tails", "one sleeve"):  # 14 and 15 mm: too near to tell them apart
        with pytest.raises(Refusal, match="only one slip"):
            call("cut_off_said", EIGHTH | {"slip": slip})
        return
    assert call("cut_off_said", EIGHTH | {"slip": slip}) == said


def test_an_end_a_sixteenth_inside():
    """Tail 1 d of 1/8 in, 0.125 in; growth 0.1875 in, all towards the tail: the end lies 1/16 in inside. 2 d would show 1/16."""
    assert call("one_leg_only_mm", {"growth_mm": 0.1875 * 25.4, "tail_mm": 0.125 * 25.4}) == pytest.approx(25.4 / 16)
    assert call("tail_of_mm", {"size": "1/8", "diameters": 2}) == 6.4
    with pytest.raises(Refusal):
        call("one_leg_only_mm", {"growth_mm": 0.1875 * 25.4, "tail_mm": 0.25 * 25.4})


def test_what_four_legs_of_a_known_limit_hold():
    """Two of four at 90 degrees, 200 lbf each: 400. At 30 degrees: 200. Below 30 refused."""
    found = [call("load_of_legs_n", {"limit_n": 200 * LBF, "count": 4, "angle_deg": angle}) for angle in (90, 30, 29)]
    assert found[0] / LBF == pytest.approx(400) and found[1] / LBF == pytest.approx(200) and found[2] is None


def test_what_they_hold_is_shown_rounded_down():
    """2 x 180 x sin 50 = 275.8: 275. In newtons 2 x 801 x 0.766 = 1227.2, shown as 1.22 kN."""
    given = {"limit_n": 180 * LBF, "count": 4, "angle_deg": 50}
    assert call("load_of_legs_down_n", given | {"system": "US"}) / LBF == pytest.approx(275)
    assert call("load_of_legs_down_n", given | {"system": "SI", "limit_n": 801}) == pytest.approx(1220)
    assert call("load_of_legs_down_n", given | {"system": "US", "angle_deg": 25}) is None


def test_a_lap_of_an_eighth():
    """Growth 5 and one diameter 3.175: 8.175, up to 8.5. Two tails of 7, two sleeves of 15, the gap: 52.5."""
    lap = {"size": "1/8", "before_mm": 15, "after_mm": 20}
    set_in_mm = {"size": "1/8", "like_mm": 15, "step_mm": 0.5}
    assert call("lap_set_mm", set_in_mm | {"diameters": 1, "growth_mm": 5}) == 8.5
    assert call("lap_overlap_mm", lap | {"tail_mm": 7, "gap_mm": 8.5}) == pytest.approx(52.5)


def test_a_lap_of_an_eighth_set_in_inches():
    """Sleeve 9/16 and then 3/4 in: growth 3/16 and 1.25 diameters of 1/8 make 11/32; a tail of 2.5 diameters is 10/32."""
    set_in_inches = {"size": "1/8", "like_mm": 14.2875, "step_mm": 0.5}
    assert call("lap_set_mm", set_in_inches | {"diameters": 1.25, "growth_mm": 4.7625}) / 25.4 == pytest.approx(11 / 32)
    assert call("lap_set_mm", set_in_inches | {"diameters": 2.5, "growth_mm": 0}) / 25.4 == pytest.approx(5 / 16)


def test_readings_pass_below_the_limit_less_the_guard_band():
    """Greatest size 10.60, guard 0.10: up to 10.50 passes, above 10.70 fails, between them nothing is proven."""
    items = call("readings_judged", {"limit_mm": 10.6, "guard_mm": 0.1, "steps": [-2, -0.5, 0.5, 2]})
    assert [item["verdict"] for item in items] == ["pass", "not proven", "not proven", "fail"]
    assert call("readings_up_to", {"items": items, "limit_mm": 10.6}) == ["crimp 1: 10.40 mm", "crimp 2: 10.55 mm"]


def test_the_families_of_lesson_04_cover_three_levels():
    for skill in ("compares-sleeve-and-clips", "gives-clip-number-and-spacing", "torques-and-retorques"):
        own = [family for family in families().values() if family.skill == skill]
        assert {family.level for family in own} == {1, 2, 3} and len({family.kind for family in own}) >= 2
