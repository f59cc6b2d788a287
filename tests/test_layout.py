"""Cut length, pin to pin."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigcalc.errors import Refusal
from rigcalc.layout import EyeParts, cut_length_mm, least_tail_mm

EYE = EyeParts(70, 30, 15, 7)


def test_every_step_is_labelled_and_they_add_up():
    cut = cut_length_mm(2400, EYE, EYE, correction_mm=-1.5)
    assert cut.total_mm == 2522.5
    assert math.fsum(part for _, part in cut.steps) == pytest.approx(cut.total_mm)
    labels = [label for label, _ in cut.steps]
    assert labels[0].startswith("pin to pin") and labels[-1] == "correction from the trial piece"
    assert len(labels) == len(set(labels)) == 10
    assert len(cut_length_mm(2400, EYE, EYE).steps) == 9


@given(st.integers(200, 9000), *[st.integers(1, 90)] * 8, st.integers(-5, 5))
def test_the_order_of_the_eyes_does_not_matter(span, a, b, c, d, e, f, g, h, correction):
    first, second = EyeParts(a, b, c, d), EyeParts(e, f, g, h)
    if span <= b + c + f + g:
        with pytest.raises(Refusal):
            cut_length_mm(span, first, second)
        return
    one, other = cut_length_mm(span, first, second, correction), cut_length_mm(span, second, first, correction)
    assert one.total_mm == other.total_mm == span - b - f + a + c + d + e + g + h + correction


def test_a_forgotten_tail_makes_it_short_by_one_tail():
    short = cut_length_mm(2400, EYE, EyeParts(70, 30, 15, 1)).total_mm
    assert cut_length_mm(2400, EYE, EYE).total_mm - short == 6


def test_decimals_add_without_dust():
    eye = EyeParts(70.1, 30.2, 15.3, 7.4)
    assert cut_length_mm(500.5, eye, eye, 0.1).total_mm == 625.8


def test_the_tail_before_pressing_is_two_diameters_at_least():
    assert least_tail_mm(3.175) == 6.35
    assert cut_length_mm(500, EyeParts(70, 30, 15, 6.35), EYE, diameter_mm=3.175).total_mm == 623.35
    with pytest.raises(Refusal, match="a tail of 6.3 mm before pressing at the second eye was given; accepted: at least two diameters, 6.35 mm"):
        cut_length_mm(500, EYE, EyeParts(70, 30, 15, 6.3), diameter_mm=3.175)
    with pytest.raises(Refusal):
        least_tail_mm(0)


@pytest.mark.parametrize("eye", [EyeParts(0, 30, 15, 7), EyeParts(70, -30, 15, 7), EyeParts(70, 30, 0, 7), EyeParts(70, 30, 15, 0),
                                 EyeParts(math.nan, 30, 15, 7), EyeParts(70, math.inf, 15, 7), EyeParts(70, 30, None, 7)])
def test_parts_must_be_lengths(eye):
    for pair in ((eye, EYE), (EYE, eye)):
        with pytest.raises(Refusal):
            cut_length_mm(500, *pair)


@pytest.mark.parametrize("span", [0, -500, 90, math.nan, "500", None])
def test_two_eyes_need_room(span):
    with pytest.raises(Refusal):
        cut_length_mm(span, EYE, EYE)
    assert cut_length_mm(90.5, EYE, EYE).total_mm == 214.5
