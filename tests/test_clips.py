"""Clips: number, spacing, turnback, torque, places, saddle, and the sizes that have no row."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigcalc.clips import (
    ClipRow,
    built_in_rows,
    clip_plan,
    clip_row,
    clips_needed,
    published_rules,
    rule_of_thumb,
    saddle,
    spacing_mm,
    where_forbidden,
)
from rigcalc.errors import Refusal

TAUGHT = ("1/8", "3/16", "1/4", "5/16", "3/8", "7/16", "1/2")


def maker(size="1/4", turnback=200.0, torque=20.0, number=3, **more) -> ClipRow:
    return ClipRow(size, turnback, torque, number, "a clip maker", "4", "Tomo", "Ines", **more)


# --- number and spacing -------------------------------------------------------------------------

@pytest.mark.parametrize("size", ["1/16", "3/32", *TAUGHT])
def test_three_at_least_and_four_when_not_forged(size):
    assert (clips_needed(size, True), clips_needed(size, False)) == (3, 4)


def test_a_forging_not_told_and_sizes_off_the_table_are_refused():
    for answer in (None, "yes", 1):
        with pytest.raises(Refusal, match="yes or no"):
            clips_needed("1/4", answer)
    with pytest.raises(Refusal, match="nearest sizes 5/8 or 3/4"):
        clips_needed("11/16", True)
    for wrong in ("6 mm", None, math.nan, "1/0", 0.25):
        with pytest.raises(Refusal):
            clips_needed(wrong, True)
        with pytest.raises(Refusal):
            spacing_mm(wrong)


def test_the_three_inches_of_the_table_are_not_for_small_cable():
    assert spacing_mm("1/8") == 19.05
    assert spacing_mm("1/2") == 4 * spacing_mm("1/8") == 76.2


def test_the_rule_of_thumb_fails_below_three_eighths():
    for size, gives in (("1/8", 2), ("3/16", 2), ("1/4", 2), ("5/16", 2)):
        thumb = rule_of_thumb(size)
        assert (thumb.gives, thumb.needed, thumb.enough) == (gives, 3, False)
    assert rule_of_thumb("3/8").enough and rule_of_thumb("1/2").enough


# --- the saddle and where not ---------------------------------------------------------------------

def test_the_saddle_lies_on_the_live_part():
    assert saddle("live").right and not saddle("dead").right
    assert "Take the end apart" in saddle("dead").says and saddle("live").source.startswith("WAC 296-874-30020")
    for wrong in ("", "left", None, True):
        with pytest.raises(Refusal, match="live or dead"):
            saddle(wrong)


def test_where_clips_are_forbidden_names_the_rule_each_time():
    assert len(where_forbidden()) == 5
    assert all(rule.source and rule.says.endswith(".") and ":" in rule.says for rule in where_forbidden())
    with pytest.raises(Refusal, match="forbidden"):
        published_rules("colour")


# --- rows ------------------------------------------------------------------------------------------

@pytest.mark.parametrize("size, near", [("1/16", "are 1/8"), ("3/32", "are 1/8"), ("5/32", "are 1/8 or 3/16"), ("7/32", "are 3/16 or 1/4"),
                                        ("9/32", "are 1/4 or 5/16"), ("11/32", "are 5/16 or 3/8")])
def test_sizes_without_a_row_are_refused_with_both_neighbours(size, near):
    for call in (built_in_rows, clip_row, lambda one: clip_plan(one, True)):
        with pytest.raises(Refusal, match=f"{near};"):
            call(size)


def test_the_clip_makers_row_governs_and_serves_a_size_that_has_none_built_in():
    own, other = maker(), maker("5/32", 120.0, 9.0)
    assert clip_row("1/4", (other, own)) is own
    assert clip_row("1/4", (other,)).maker == "built in"
    assert clip_plan("5/32", True, other).torque_nm == 9.0
    with pytest.raises(Refusal, match="2 clip makers' rows"):
        clip_row("1/4", (own, own))
    with pytest.raises(Refusal, match="a clip row for 1/4 on 5/16"):
        clip_plan("5/16", True, own)


@pytest.mark.parametrize("field, value", [("number", 0), ("number", True), ("number", 3.0), ("turnback", 0), ("turnback", -1.0), ("turnback", math.nan),
                                          ("torque", math.inf), ("torque", None), ("torque", "20"), ("base_mm", 0), ("size", "6 mm")])
def test_a_row_that_was_copied_wrong_is_refused(field, value):
    with pytest.raises(Refusal):
        maker(**{field: value})


# --- the plan --------------------------------------------------------------------------------------

def test_a_row_from_memory_teaches_and_says_so():
    plan = clip_plan("1/4", True)
    assert (plan.teaching_only, plan.how_known) == (True, "from memory")
    assert "only teaches" in " ".join(plan.steps) and "clip maker's row" in plan.notes[0]
    read = clip_plan("5/16", True)
    assert (read.teaching_only, read.how_known) == (True, "read")
    assert "only teaches" not in " ".join(read.steps)


def test_a_turnback_for_two_clips_grows_in_proportion():
    # 4.75 in for two clips: 7.125 in for three, 9.5 in for four
    assert clip_plan("1/4", True).turnback_mm == pytest.approx(7.125 * 25.4)
    assert clip_plan("1/4", False).turnback_mm == pytest.approx(9.5 * 25.4)
    assert "in proportion" in " ".join(clip_plan("1/4", True).notes)


def test_the_makers_row_is_taken_as_it_stands():
    plan = clip_plan("1/4", True, maker(base_mm=30.0))
    assert (plan.number, plan.turnback_mm, plan.torque_nm, plan.spacing_mm, plan.efficiency) == (3, 200.0, 20.0, 38.1, 0.8)
    assert plan.notes[1:] == () and not plan.teaching_only
    assert plan.source == "table of a clip maker, edition 4; copied by Tomo, checked by Ines"
    assert plan.places_mm == (45.0, 115.0, 185.0)  # 30 free, 15 to the middle; the last ends at the thimble
    assert plan.actual_spacing_mm == 70.0
    assert "ask the clip maker" in plan.notes[0]  # 70 mm is more than seven diameters, 44.45 mm


def test_a_makers_five_stay_five_and_two_become_three():
    assert clip_plan("1/4", True, maker(number=5)).number == 5
    assert clip_plan("1/4", True, maker(number=2)).turnback_mm == 300.0


def test_a_turnback_without_room_is_made_longer():
    plan = clip_plan("1/4", True, maker(turnback=100.0, base_mm=30.0))
    assert plan.turnback_mm == pytest.approx(2 * 38.1 + 2 * 30)
    assert plan.actual_spacing_mm == pytest.approx(38.1)
    assert any("made longer" in note for note in plan.notes)


def test_an_invented_row_never_serves_real_work():
    plan = clip_plan("1/4", True, maker(invented=True))
    assert plan.teaching_only and plan.source.startswith("INVENTED") and any("INVENTED" in note for note in plan.notes)


def test_steps_stand_in_the_order_of_the_trade():
    steps = clip_plan("1/4", True, maker()).steps
    for step, words in zip(steps, ("thimble", "one base of the clip from the dead end, saddle on the live part", "as near the thimble", "38.1 mm",
                                   "20 N m", "take the load off, tighten all nuts", "tighten again")):
        assert words in step
    assert "The others, 2, between" in clip_plan("1/4", False).steps[3]


@settings(max_examples=60, deadline=None)
@given(size=st.sampled_from(TAUGHT), forged=st.booleans(), number=st.integers(1, 9), turnback=st.floats(1, 900), base=st.floats(1, 60))
def test_every_plan_leaves_six_diameters_and_ends_at_the_thimble(size, forged, number, turnback, base):
    plan = clip_plan(size, forged, maker(size, turnback, 10.0, number, base_mm=base))
    assert plan.number == len(plan.places_mm) >= (3 if forged else 4) and plan.number >= number
    assert plan.turnback_mm >= turnback - 1e-9
    gaps = [after - before for before, after in zip(plan.places_mm, plan.places_mm[1:])]
    assert max(gaps) - min(gaps) < 1e-9 and min(gaps) >= plan.spacing_mm - 1e-9
    assert plan.places_mm[0] - base / 2 == pytest.approx(base) and plan.places_mm[-1] + base / 2 == pytest.approx(plan.turnback_mm)
