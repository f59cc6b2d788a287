"""Held against common practice of the trade, as this workbook's first edition wrote it down before any code.

No published text stands behind these; the transcripts are this file's own and are never read from the package.
"""

import pytest

from rigcalc.cable import flats_reading_mm, sizes_agreeing
from rigcalc.layout import EyeParts, cut_length_mm, least_tail_mm
from rigcalc.pairing import pairing
from rigcalc.rating import efficiency, refuse_temperature
from rigcalc.errors import Refusal
from rigcalc.reference import constant, table
from rigcalc.sleeve import built_in_chart, fill

# common practice: crimps on aluminium hourglass sleeves in a hand swager
CRIMPS = (("1/16", 2), ("3/32", 2), ("1/8", 3), ("5/32", 3), ("3/16", 4), ("1/4", 4), ("5/16", 5), ("3/8", 5))

# verdict table, common practice and judgement: cable, sleeve, then dry, outdoor, marine, immersed; the number is months
NEVER = ("never", None)
ONLY = ("only if the tool's chart lists it", None)
VERDICTS = (
    ("galvanised", "aluminium", ("use", None), ("use, inspect yearly", 12), ("do not specify; existing: inspect 3-monthly", 3), NEVER),
    ("galvanised", "plain copper", ("with inspection", None), NEVER, NEVER, NEVER),
    ("galvanised", "zinc-plated copper", ("use", None), ("with inspection, 6-monthly", 6), NEVER, NEVER),
    ("galvanised", "tin-plated copper", ("with inspection", None), NEVER, NEVER, NEVER),
    ("stainless", "aluminium", NEVER, NEVER, NEVER, NEVER),
    ("stainless", "plain copper", ("take the plated one", None), ("take the plated one", None), NEVER, NEVER),
    ("stainless", "zinc-plated copper", ("use", None), ("use, inspect yearly", 12), ("with inspection, 3 to 6-monthly", 3), NEVER),
    ("stainless", "tin-plated copper", ("use", None), ("use", None), ("with inspection", None), NEVER),
    ("galvanised", "stainless", ONLY, ONLY, ONLY, NEVER),
    ("stainless", "stainless", ONLY, ONLY, ONLY, NEVER),
    ("bright", "stainless", ONLY, NEVER, NEVER, NEVER),
    *(("bright", sleeve, ("with inspection", None), NEVER, NEVER, NEVER)
      for sleeve in ("aluminium", "plain copper", "zinc-plated copper", "tin-plated copper")),
)
REFUSED_VERDICTS = ("never", "take the plated one", "do not specify; existing: inspect 3-monthly", "only if the tool's chart lists it")


def test_crimp_counts():
    # common practice, hand swager, aluminium
    chart = built_in_chart()
    assert chart.sleeve_metal == "aluminium"
    assert tuple((row.size, row.count) for row in chart.rows) == CRIMPS
    assert all(row.order is None for row in chart.rows)  # no order was read for these sleeves


@pytest.mark.parametrize("cable, sleeve, dry, outdoor, marine, immersed", VERDICTS)
def test_pairing_verdicts(cable, sleeve, dry, outdoor, marine, immersed):
    # verdict table, common practice and judgement
    for service, (words, months) in zip(("dry", "outdoor", "marine", "immersed"), (dry, outdoor, marine, immersed)):
        verdict = pairing(cable, sleeve, service)
        assert (verdict.verdict, verdict.inspect_months) == (words, months)
        assert verdict.allowed == (words not in REFUSED_VERDICTS)


def test_the_verdict_table_is_whole():
    assert len(table("pairing")) == 4 * len(VERDICTS) == 60


def test_two_diameters_of_tail_before_pressing():
    # common practice: at least 2 d before pressing; bench task limit for 1/8: 6.4 mm by the rule
    assert least_tail_mm(3.175) == pytest.approx(6.35)
    assert round(least_tail_mm(3.175), 1) in (6.3, 6.4)


def test_a_tail_that_is_seen_and_a_growth_that_can_be():
    # judgement: 1 mm is two divisions of a steel rule; no sleeve grows by the two diameters of tail that are common practice.
    assert (constant("tail to be seen after pressing").value, constant("greatest growth of a sleeve").value) == (1, 2)
    assert constant("greatest growth of a sleeve").unit == "x diameter"


def test_efficiency_of_a_hand_pressed_eye():
    # common practice: 0.90
    assert efficiency("aluminium", "galvanised", "7x19").value == 0.90


def test_temperatures():
    # common practice: -30 to +60 degrees Celsius
    refuse_temperature(-30, 60)
    for low, high in ((-30.5, 0), (0, 60.5)):
        with pytest.raises(Refusal):
            refuse_temperature(low, high)
    assert (constant("lowest temperature").value, constant("highest temperature").value) == (-30, 60)


def test_cut_length_of_the_trellis_wire():
    # worked by hand: 2400 - 60 + 2 (70 + 15 + 7) = 2524 mm, invented sleeve 15 mm, loop 70, bearing to sleeve 30, tail 7
    eye = EyeParts(loop_mm=70, bearing_to_sleeve_mm=30, sleeve_before_mm=15, tail_mm=7)
    assert cut_length_mm(2400, eye, eye).total_mm == 2524


def test_a_reading_across_the_flats():
    # geometry, six equal strands round one: 0.9107 of the crowns; 3/16 reads 0.171 in, in the band of 5/32
    assert flats_reading_mm(1.0) == pytest.approx(0.9107, abs=5e-5)
    assert flats_reading_mm(0.1875 * 25.4) / 25.4 == pytest.approx(0.171, abs=5e-4)
    assert sizes_agreeing(flats_reading_mm(0.1875 * 25.4)) == ("5/32",)
    # geometry: from 3/16 to 11/32 the flats of a size at its nominal read as the next smaller size; 3/8 (0.3415 in) fits none
    for size, smaller in (("7/32", "3/16"), ("1/4", "7/32"), ("9/32", "1/4"), ("5/16", "9/32"), ("11/32", "5/16")):
        over, under = map(int, size.split("/"))
        assert sizes_agreeing(flats_reading_mm(over / under * 25.4)) == (smaller,)
    assert sizes_agreeing(0.3415 * 25.4) == ()


def test_six_millimetre_cable_reads_like_its_inch_neighbours():
    # computed: 6 mm cable (6.00 to 6.36 mm, ISO 10425 Table C.1) touches the bands of 7/32 and 1/4 and lies between them
    assert [sizes_agreeing(reading) for reading in (6.00, 6.20, 6.36)] == [("7/32",), (), ("1/4",)]


def test_fill_of_a_sleeve():
    # geometry: 3/32 in a 1/8 sleeve fills 56 %, 6 mm in a 1/4 sleeve 89 %
    assert fill("3/32", "1/8") == pytest.approx(0.56, abs=0.005)
    assert fill(6, "1/4") == pytest.approx(0.89, abs=0.005)
