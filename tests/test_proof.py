"""Proof loads: the rules that conflict side by side, the shop's procedure chooses, nothing above its cap (rule 18)."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigcalc.errors import Refusal
from rigcalc.proof import PROVES_NOT, cap_n, instrument_window_n, proof_load, proof_loads, proof_rules, refuse_reading

LBF_N = 4.4482216152605
LIMIT, BREAKING = 360 * LBF_N, 2000 * LBF_N
TWICE, SIXTY = "twice the limit", "60 percent of the breaking force, control cable"


def chosen(rule=TWICE, limit_n=LIMIT, breaking_n=BREAKING, cap=0.5 * BREAKING, procedure="P1", set_by="Ines Varrow"):
    return proof_load(rule, limit_n, breaking_n, cap, procedure, set_by)


def test_the_rules_stand_side_by_side_and_conflict():
    rows = {row.rule: row for row in proof_loads(LIMIT, BREAKING)}
    lbf = {name: round(row.load_n / LBF_N) for name, row in rows.items()}
    # by hand for 1/8 7x19 galvanised: 2 x 360, 0.60 x 2000, 0.50 x 2000
    assert lbf == {TWICE: 720, SIXTY: 1200, "60 percent of the breaking force, swaged terminal": 1200,
                   "50 percent of the breaking force, British aircraft practice": 1000, "at most half of the breaking force": 1000}
    assert rows[SIXTY].above_caps == ("at most half of the breaking force",)
    assert rows[TWICE].above_caps == rows["at most half of the breaking force"].above_caps == ()
    assert (rows[SIXTY].how_known, rows["at most half of the breaking force"].how_known) == ("from memory", "from memory")
    assert rows[TWICE].share_of_breaking_force == pytest.approx(0.36)
    assert "NAVEDTRA 14080" in rows[TWICE].source and rows[TWICE].hold_s is None and rows[SIXTY].hold_s == 180


def test_the_shops_procedure_chooses():
    found = chosen()
    assert (found.load_n, found.lowest_n, found.highest_n) == tuple(pytest.approx(lbf * LBF_N) for lbf in (720, 684, 720))
    assert (found.shown_us, found.procedure, found.how_known) == ("720 lbf [3.20 kN]", "P1, set by Ines Varrow", "read")
    assert found.proves_not == PROVES_NOT and len(PROVES_NOT) >= 4
    assert chosen(SIXTY, cap=0.7 * BREAKING).how_known == "from memory"


def test_nothing_is_pulled_above_the_shops_cap():
    with pytest.raises(Refusal, match="1200 lbf .* at most 1000 lbf .*the cap of P1, set by Ines Varrow"):
        chosen(SIXTY)
    assert chosen("50 percent of the breaking force, British aircraft practice").load_n == pytest.approx(1000 * LBF_N)


@pytest.mark.parametrize("changes, said", [
    ({"procedure": " "}, "none is chosen here"), ({"set_by": ""}, "none is chosen here"), ({"procedure": None}, "none is chosen here"),
    ({"cap": None}, "from memory and is no default"), ({"cap": BREAKING}, "below the breaking force"), ({"cap": 0}, "above zero"),
    ({"cap": math.nan}, "finite"), ({"rule": "125 percent"}, "twice the limit"), ({"rule": "at most half of the breaking force"}, "twice"),
    ({"limit_n": 0}, "above zero"), ({"limit_n": BREAKING}, "below the breaking force"), ({"limit_n": True}, "a number"),
    ({"rule": "50 percent of the breaking force, British aircraft practice", "limit_n": 0.5 * BREAKING}, "proves nothing"),
])
def test_what_is_missing_or_out_of_range_is_refused(changes, said):
    with pytest.raises(Refusal, match=said):
        chosen(**changes)


def test_a_cap_is_not_a_rule_to_pull_by():
    assert proof_rules() == (TWICE, SIXTY, "60 percent of the breaking force, swaged terminal",
                             "50 percent of the breaking force, British aircraft practice")


def test_the_shops_cap_as_a_share():
    assert cap_n(2000.0, 0.5) == 1000.0
    for share in (0, 1, -0.5, 50, math.nan, "half"):
        with pytest.raises(Refusal):
            cap_n(2000.0, share)
    with pytest.raises(Refusal):
        cap_n(0, 0.5)


@settings(max_examples=60, deadline=None)
@given(st.floats(0.01, 0.99), st.floats(1.0, 1e6))
def test_no_answer_is_above_the_cap_or_at_the_limit(share, limit_n):
    cap = cap_n(6 * limit_n, share)
    for rule in proof_rules():
        try:
            found = proof_load(rule, limit_n, 6 * limit_n, cap, "P1", "Ines Varrow")
        except Refusal:
            continue
        assert limit_n < found.load_n <= cap * (1 + 1e-12) and found.lowest_n < found.highest_n


# --- the instrument -----------------------------------------------------------------------------------

@pytest.mark.parametrize("reading, good", [(950, True), (1000, True), (949.99, False), (1000.01, False), (980, True)])
def test_a_pull_counts_between_five_percent_below_and_nothing_above(reading, good):
    # DOE-STD-1090-96 15.4.7.2: -5 % / +0 %
    if good:
        refuse_reading(1000.0, reading)
    else:
        with pytest.raises(Refusal, match="950 to 1000 N"):
            refuse_reading(1000.0, reading)


@pytest.mark.parametrize("load, reading, said", [
    (1000, 1000.001, "a reading of 1000.001 N was given; accepted: 950 to 1000 N; set the piece aside"),
    (1000, 949.9999, "a reading of 949.9999 N was given; accepted: 950 to 1000 N; this was no proof"),
    (3202.719563, 3202.7196, "a reading of 3202.7196 N was given; accepted: 3042.58358 to 3202.71956 N; set")])
def test_what_is_given_and_what_is_accepted_never_look_alike(load, reading, said):
    with pytest.raises(Refusal) as refused:
        refuse_reading(load, reading)
    given, accepted = refused.value.given.split()[-2], refused.value.accepted.split()
    assert given not in accepted and str(refused.value).startswith(f"Refused: {said}")


def test_an_overpull_sets_the_piece_aside():
    with pytest.raises(Refusal, match="set the piece aside"):
        refuse_reading(1000.0, 1001)
    with pytest.raises(Refusal, match="no proof"):
        refuse_reading(1000.0, 900)
    for load in (0, -1, math.inf, None):
        with pytest.raises(Refusal):
            instrument_window_n(load)
