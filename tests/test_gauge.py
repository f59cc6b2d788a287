"""Gauging: three zones, dates, risks, and that a pass never is enough."""

import math
from datetime import date, datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigcalc.cautions import INVENTED_GAUGE
from rigcalc.errors import Refusal
from rigcalc.gauge import (
    NEVER_SUFFICIENT,
    caliper_uncertainty,
    global_risk,
    global_risk_of,
    go_gauge,
    guard_factor,
    judge_reading,
    specific_risk,
    unseen,
)
from rigcalc.reference import table

SHEET = "a maker's sheet, edition 2"
BAD_NUMBERS = (0, -1, math.nan, math.inf, True, "6.3", None)
DAYS = (date(2026, 1, 5), date(2026, 7, 5), date(2026, 3, 2))


# --- uncertainty --------------------------------------------------------------------------------

def test_uncertainty_worked_by_hand():
    # deviations -0.01, 0.01, 0, 0: s^2 = 0.0002 / 3; of the mean 0.0002 / 12; step 0.01^2 / 12; certificate (0.02 / 2)^2
    found = caliper_uncertainty([6.31, 6.33, 6.32, 6.32], 0.01, 0.02, 2)
    assert found.mean_mm == pytest.approx(6.32)
    assert found.type_a_mm ** 2 == pytest.approx(0.0002 / 12)
    assert found.resolution_mm ** 2 == pytest.approx(0.0001 / 12)
    assert found.calibration_mm == pytest.approx(0.01)
    assert found.combined_mm ** 2 == pytest.approx(0.0003 / 12 + 0.0001)
    # 3 x (1.25e-4 / 1.6667e-5)^2 = 3 x 7.5^2
    assert found.effective_freedom == pytest.approx(168.75)
    assert "168 effective" in found.coverage_name and "95 %" in found.coverage_name
    assert found.expanded_mm == pytest.approx(found.coverage_factor * found.combined_mm)


def test_few_scattered_readings_need_a_wider_factor():
    # almost only scatter, three readings: two degrees of freedom, 4.30 in any table of t
    found = caliper_uncertainty([6.0, 6.4, 6.8], 0.001, 0.001, 2)
    assert found.coverage_factor == pytest.approx(4.303, abs=1e-3)
    assert caliper_uncertainty([6.0, 6.4, 6.8], 0.001, 0.001, 2, 0.99).coverage_factor == pytest.approx(9.925, abs=1e-3)


def test_readings_all_alike_rest_on_step_and_certificate():
    found = caliper_uncertainty([6.3] * 3, 0.01, 0.02, 2)
    assert found.type_a_mm == 0 and math.isinf(found.effective_freedom)
    assert found.coverage_factor == pytest.approx(1.96, abs=1e-3)
    assert found.combined_mm > 0.01


def test_a_slip_of_units_is_asked_about():
    inches = "look whether it was read in inches"
    for readings in ([6.3, 0.248, 6.3], [0.248, 0.249, 6.3], [6.3, 63.1, 6.3, 6.2]):
        with pytest.raises(Refusal, match=f"a reading of .* beside a middle reading of .*{inches}"):
            caliper_uncertainty(readings, 0.01, 0.02, 2)
    for limit, accept in ((0.25, 6.3), (6.35, 0.25), (6.35, 63.5)):
        with pytest.raises(Refusal, match=f"beside a usual size of 6.2 mm.*{inches}"):
            global_risk(limit, accept, 0.05, 6.2, 0.08)
    with pytest.raises(Refusal, match=f"an acceptance limit of 0.25 mm beside a limit of 6.9 mm.*{inches}"):
        global_risk_of(lambda mm: 1.0, 6, 7, 6.9, 0.25, 0.01)
    for reading, more in ((0.248, {}), (6.3, {"usual_mm": 0.25, "usual_spread_mm": 0.01})):
        with pytest.raises(Refusal, match=inches):
            specific_risk(reading, 6.35, 0.05, **more)


def test_readings_are_refused():
    for readings in ([6.3], [6.3, 6.3], [], "6.3", 6.3, [6.3, 6.3, math.nan], [6.3, 6.3, -1], [6.3, 6.3, True]):
        with pytest.raises(Refusal):
            caliper_uncertainty(readings, 0.01, 0.02, 2)
    assert caliper_uncertainty([6.3, 6.31, 6.3], 0.01, 0.02, 2).readings == 3
    for place in range(3):
        for wrong in BAD_NUMBERS:
            given_ = [0.01, 0.02, 2]
            given_[place] = wrong
            with pytest.raises(Refusal):
                caliper_uncertainty([6.3, 6.31, 6.3], *given_)
    for wrong in (0.5, 1, 95, math.nan, "0.95"):
        with pytest.raises(Refusal):
            caliper_uncertainty([6.3, 6.31, 6.3], 0.01, 0.02, 2, wrong)


# --- three zones --------------------------------------------------------------------------------

@pytest.mark.parametrize("reading, outcome", [(6.20, "pass"), (6.25, "pass"), (6.2501, "not proven"), (6.35, "not proven"), (6.45, "not proven"), (6.4501, "fail")])
def test_three_zones_at_most(reading, outcome):
    found = judge_reading(reading, 6.35, 0.05, 2, SHEET)
    assert found.outcome == outcome
    assert (found.pass_to_mm, found.fail_from_mm) == pytest.approx((6.25, 6.45))


@pytest.mark.parametrize("reading, outcome", [(6.50, "pass"), (6.45, "pass"), (6.449, "not proven"), (6.25, "not proven"), (6.249, "fail")])
def test_three_zones_at_least(reading, outcome):
    assert judge_reading(reading, 6.35, 0.05, 2, SHEET, "at least").outcome == outcome


def test_rule_10_a_pass_is_necessary_and_never_sufficient():
    for found in (judge_reading(6.2, 6.35, 0.05, 2, SHEET), judge_reading(6.5, 6.35, 0.05, 2, SHEET), go_gauge(True, "GA", "1/8", "1/8", *DAYS)):
        assert found.never_sufficient == NEVER_SUFFICIENT
        assert "necessary and never sufficient" in NEVER_SUFFICIENT
        assert found.unseen == unseen()


def test_rule_10_what_a_gauge_cannot_see():
    listed = unseen()
    assert listed[:2] == ("3/32 cable in a 1/8 sleeve: fill 56 %", "6 mm cable in a 1/4 sleeve: fill 89 %")
    text = "; ".join(listed)
    for part in ("wrong metal", "coat left inside", "crossed legs", "buried tail", "missing crimp", "a crack", "smaller cavity", "worn slot"):
        assert part in text
    assert "under-closed jaws" not in text


def test_the_gauge_sees_two_of_twenty_two_for_certain():
    # common practice, counted by hand in the table of faults
    seen = [row.seen for row in table("gauge_sees")]
    assert (len(seen), seen.count("yes"), seen.count("sometimes"), seen.count("no")) == (22, 2, 2, 18)


def test_what_to_do_and_what_not():
    assert "never squeeze" in judge_reading(6.35, 6.35, 0.05, 2, SHEET).do
    assert "press again once" in judge_reading(6.5, 6.35, 0.05, 2, SHEET).do
    assert "cannot see" in judge_reading(6.2, 6.35, 0.05, 2, SHEET).do


def test_without_a_published_size_nothing_is_judged():
    for limit, source in ((None, SHEET), (6.35, ""), (6.35, "  "), (6.35, None)):
        with pytest.raises(Refusal, match="record the reading and do not judge it"):
            judge_reading(6.3, limit, 0.05, 2, source)


def test_invented_limits_say_so():
    assert judge_reading(6.3, 6.35, 0.05, 2, SHEET, invented=True).cautions == (INVENTED_GAUGE,)
    assert judge_reading(6.3, 6.35, 0.05, 2, SHEET).cautions == ()


def test_readings_and_limits_are_refused():
    for wrong in BAD_NUMBERS:
        with pytest.raises(Refusal):
            judge_reading(wrong, 6.35, 0.05, 2, SHEET)
        with pytest.raises(Refusal):
            judge_reading(6.3, wrong, 0.05, 2, SHEET)
        with pytest.raises(Refusal):
            judge_reading(6.3, 6.35, wrong, 2, SHEET)
        with pytest.raises(Refusal):
            specific_risk(wrong, 6.35, 0.05)
    for wrong in (-1, 0, 0.0, math.nan, None):
        with pytest.raises(Refusal):
            judge_reading(6.3, 6.35, 0.05, wrong, SHEET)
    for wrong in (None, 1, "yes"):
        with pytest.raises(Refusal, match="True or False"):
            judge_reading(6.3, 6.35, 0.05, 2, SHEET, invented=wrong)
    for size in ("banana", "6 mm", "7/32", None, ""):
        with pytest.raises(Refusal):
            go_gauge(True, "GA", size, size, *DAYS)
    for gauge in ("", "-", None, 5):
        with pytest.raises(Refusal, match="the gauge's number"):
            go_gauge(True, gauge, "1/8", "1/8", *DAYS)
    for wrong in ("below", None, ""):
        with pytest.raises(Refusal):
            judge_reading(6.3, 6.35, 0.05, 2, SHEET, wrong)
    for wrong in (0, 0.5, 5, -0.1, math.nan, "5 %"):
        with pytest.raises(Refusal):
            guard_factor(wrong)


@settings(max_examples=60, deadline=None)
@given(st.floats(5, 8), st.floats(0.001, 0.3), st.floats(0.01, 3))
def test_a_larger_piece_is_never_judged_better(reading, u, guard):
    order = ("pass", "not proven", "fail")
    here, larger = judge_reading(reading, 6.35, u, guard, SHEET), judge_reading(reading + 0.05, 6.35, u, guard, SHEET)
    assert order.index(here.outcome) <= order.index(larger.outcome)
    assert here.chance_good >= larger.chance_good


# --- the go gauge -------------------------------------------------------------------------------

def test_a_gauge_in_date_tells_pass_or_fail():
    assert go_gauge(True, "GA", "1/8", "1/8", *DAYS).outcome == "pass"
    failed = go_gauge(False, "GA", "1/8", "1/8", *DAYS)
    assert failed.outcome == "fail" and "press again once" in failed.do
    for day in (DAYS[0], DAYS[1]):
        assert go_gauge(True, "GA", "1/8", "1/8", DAYS[0], DAYS[1], day).outcome == "pass"


def test_a_gauge_out_of_date_is_refused():
    with pytest.raises(Refusal, match="gauge again what it gauged after 2026-07-05, and if it fails on its pins every piece since its last good check"):
        go_gauge(True, "GC", "1/4", "1/4", DAYS[0], DAYS[1], date(2026, 7, 6))


def test_days_that_cannot_be_are_named_as_what_they_are():
    with pytest.raises(Refusal, match="used on 2026-01-04, before its check on 2026-01-05 was given.*find the check that held on that day") as early:
        go_gauge(True, "GC", "1/4", "1/4", DAYS[0], DAYS[1], date(2026, 1, 4))
    with pytest.raises(Refusal, match="checked on 2026-07-05 and valid to the earlier 2026-01-05 was given.*the wrong way round") as swapped:
        go_gauge(True, "GC", "1/4", "1/4", DAYS[1], DAYS[0], DAYS[2])
    assert not any("since that day" in str(refused.value) for refused in (early, swapped))
    with pytest.raises(Refusal, match="the day 2026-03-02 00:00:00 for gauge GA"):
        go_gauge(True, "GA", "1/8", "1/8", DAYS[0], DAYS[1], datetime(2026, 3, 2))
    for wrong in ("2026-03-02", None, 20260302):
        with pytest.raises(Refusal, match="a date"):
            go_gauge(True, "GA", "1/8", "1/8", DAYS[0], DAYS[1], wrong)


def test_the_wrong_slot_and_vague_answers_are_refused():
    with pytest.raises(Refusal, match="passes an under-pressed crimp"):
        go_gauge(True, "GA", "5/32", "1/8", *DAYS)
    for wrong in (None, 1, "yes"):
        with pytest.raises(Refusal, match="True"):
            go_gauge(wrong, "GA", "1/8", "1/8", *DAYS)


# --- risk ---------------------------------------------------------------------------------------

def test_both_of_the_usual_work_or_neither():
    for more in ({"usual_mm": 6.2}, {"usual_spread_mm": 0.1}):
        with pytest.raises(Refusal, match="both or neither"):
            specific_risk(6.3, 6.35, 0.05, **more)


def test_a_reading_at_the_limit_is_a_coin_toss():
    assert specific_risk(6.35, 6.35, 0.05).bad == pytest.approx(0.5)
    assert specific_risk(6.30, 6.35, 0.05, "at least").bad == pytest.approx(0.8413, abs=5e-5)


def test_mirror_images_have_the_same_risk():
    low = global_risk(6.35, 6.27, 0.05, 6.20, 0.08)
    high = global_risk(6.35, 6.43, 0.05, 6.50, 0.08, "at least")
    for field in ("bad", "bad_and_passed", "good_and_rejected", "passed"):
        assert getattr(low, field) == pytest.approx(getattr(high, field), abs=1e-9)


def test_a_wider_guard_trades_one_mistake_for_the_other():
    found = [global_risk(6.35, accept, 0.05, 6.25, 0.08) for accept in (6.40, 6.35, 6.30, 6.25)]
    assert [risk.bad_and_passed for risk in found] == sorted((risk.bad_and_passed for risk in found), reverse=True)
    assert [risk.good_and_rejected for risk in found] == sorted(risk.good_and_rejected for risk in found)
    for risk in found:
        assert risk.bad == pytest.approx(found[0].bad, abs=1e-9)
        assert risk.passed == pytest.approx(risk.bad_and_passed + 1 - risk.bad - risk.good_and_rejected, abs=1e-9)


def test_a_density_must_be_one():
    with pytest.raises(Refusal, match="an area of 1"):
        global_risk_of(lambda mm: 2.0, 6, 7, 6.9, 6.9, 0.01)
    # an area within a thousandth of 1 is near enough; the shares are of that area, so none is above 1
    assert global_risk_of(lambda mm: 1.0009, 6, 7, 6.9, 6.9, 0.01).bad == pytest.approx(0.1)
    all_bad = global_risk_of(lambda mm: 1.0009, 6, 7, 5.5, 7.5, 0.01)
    assert (all_bad.bad, all_bad.bad_and_passed, all_bad.good_and_rejected) == (1, 1, 0)
    with pytest.raises(Refusal, match="lower end"):
        global_risk_of(lambda mm: 1.0, 7, 6, 6.9, 6.9, 0.01)
    with pytest.raises(Refusal, match=r"a density of -\S+ per mm at \S+ mm was given; accepted: a density that is never below zero"):
        global_risk_of(lambda mm: 3 - 4 * (mm - 6), 6, 7, 6.9, 6.9, 0.01)  # area 1, below zero at the end
    for wrong in (lambda mm: None, lambda mm: 1 / 0, lambda mm: {}["a"], lambda mm: math.nan, lambda mm: "1", lambda: 1.0):
        with pytest.raises(Refusal, match=r"a density that gives no number at \S+ mm"):
            global_risk_of(wrong, 6, 7, 6.9, 6.9, 0.01)
    for wrong in (None, 1.0, "1"):
        with pytest.raises(Refusal, match="for a density was given"):
            global_risk_of(wrong, 6, 7, 6.9, 6.9, 0.01)
    for wrong in BAD_NUMBERS:
        with pytest.raises(Refusal):
            global_risk(6.35, 6.3, 0.05, 6.2, wrong)
        with pytest.raises(Refusal):
            global_risk(6.35, 6.3, wrong, 6.2, 0.05)
