"""Layout held against sums done by hand and rules as they were read; nothing here is read from the package.

Lengths in mm. Sleeve, growth and loop of the examples are invented; the rules are not.
"""

import math

import pytest

from rigcalc.cutlist import Material, Piece, Stock, cut_list
from rigcalc.errors import Refusal
from rigcalc.layout import (EyeParts, clear_length_mm, cut_length_mm, lap_splice, least_tail_mm, ring_cut_mm, side_force_fraction,
                            soft_eye, strip_mm)

EIGHTH, THREE_32 = 3.175, 2.38125  # 25.4 / 8 and 3 x 25.4 / 32, exact


def test_a_pin_of_two_diameters_en_13414_1():
    # EN 13414-1:2003 Table 4 note 1: bearing of a soft eye at least 2 x the rope's diameter
    soft_eye(pin_mm=6.35, cable_mm=EIGHTH, sleeve_before_mm=15, tail_mm=7)
    with pytest.raises(Refusal, match="6.35 mm"):
        soft_eye(pin_mm=6.34, cable_mm=EIGHTH, sleeve_before_mm=15, tail_mm=7)


def test_an_eye_of_three_pin_diameters():
    # common practice: a soft eye for a 12 mm pin is 36 mm at least, from the sleeve to the pin's centre
    assert soft_eye(12, THREE_32, 11, 5).length_mm == 36
    with pytest.raises(Refusal, match="36 mm"):
        soft_eye(12, THREE_32, 11, 5, length_mm=35.5)


def test_loop_of_a_soft_eye():
    # by hand: radius (12 + 2.38125) / 2 = 7.190625; leg 1.190625 off the middle; reach 36.0197 and angle 0.033061 rad;
    # tangent sqrt(36.0197^2 - 7.190625^2) = 35.2946; arc pi - 0.033061 - arccos(7.190625 / 36.0197 = 0.199630) = 1.738720 rad;
    # 2 x 35.2946 + 2 x 7.190625 x 1.738720 = 70.5893 + 25.0050 = 95.594 (six figures carried: 0.001)
    eye = soft_eye(12, THREE_32, 11, 5)
    assert eye.loop_mm == pytest.approx(95.594, abs=0.001)
    assert eye.bearing_to_sleeve_mm == 42  # 36, and half the pin


def test_side_force_at_three_pin_diameters():
    # by hand: sin phi = 6 / 36 = 1/6, tan phi = 1 / sqrt(35), half of it 0.084515; one part in twelve of the load
    assert side_force_fraction(12, 36) == pytest.approx(1 / (2 * math.sqrt(35)), rel=1e-12)
    assert side_force_fraction(12, 36) == pytest.approx(0.084515, abs=1e-6)


def test_curtain_wire_with_two_soft_eyes():
    # by hand: 6000 between bearing points, eyes as above: 6000 - 2 x 42 + 2 (95.594 + 11 + 5) = 6139.188
    eye = soft_eye(12, THREE_32, 11, 5)
    assert cut_length_mm(6000, eye, eye, diameter_mm=THREE_32).total_mm == pytest.approx(6139.188, abs=0.002)


def test_trellis_wires():
    # by hand: 2400 - 60 + 2 (70 + 15 + 7) = 2524; eight of them 20 192, and nine with the trial piece 22 716;
    # from 30 m with 1 mm a cut: 30 000 - 22 716 - 9 = 7275
    eye = EyeParts(loop_mm=70, bearing_to_sleeve_mm=30, sleeve_before_mm=15, tail_mm=7)
    wire = Material("1/8", "7x19", "stainless")
    length = cut_length_mm(2400, eye, eye, diameter_mm=EIGHTH).total_mm
    assert length == 2524
    without = cut_list([Piece("trellis wire", length, 8, wire)], [Stock("R5", 30_000, wire)], 1, 500)
    assert (without.used_mm, [(cut.count, cut.length_mm) for cut in without.stock[0].cuts]) == (20_192, [(8, 2524)])
    found = cut_list([Piece("trellis wire", length, 8, wire, trial=1)], [Stock("R5", 30_000, wire)], 1, 500)
    assert (found.used_mm, found.kerf_mm, found.back_to_stock_mm, found.opened) == (22_716, 9, 7275, 1)


def test_closed_ring_of_nine_metres():
    # by hand: 3/32, invented sleeve 11 that grows 3, tail 5; gap from 3 + 2.38125 to 3 + 4.7625 (common practice: growth
    # and 1 to 2 d), the wider taken: lap 5 + 11 + 7.7625 + 11 + 5 = 39.7625; once round 9000; two sleeves (7-148d)
    lap = lap_splice(THREE_32, 11, 3, 5, counts=(2, 2), line="closed ring", use="nobody")
    assert lap.gap_band_mm == (5.38125, 7.7625)
    assert (lap.sleeves, lap.overlap_mm, ring_cut_mm(9000, lap).total_mm) == (2, 39.7625, 9039.7625)


def test_growth_of_every_size_leaves_a_tail_and_a_gap():
    # growths by an aircraft circular's sleeve lengths, from memory: 1.00 0.67 1.50 1.60 1.33 0.86 1.50 1.20 1.00 d. As written
    # down, from memory: kept from drifting, accepts nothing. All are below the 2 d of a tail, so that some tail is left.
    for growth in (1.00, 0.67, 1.50, 1.60, 1.33, 0.86, 1.50, 1.20, 1.00):
        assert least_tail_mm(1.0) - growth > 0
        assert lap_splice(1.0, 5, growth, 2, (2, 2), "static line", "nobody").gap_after_mm[0] == pytest.approx(2 - growth)


def test_suspension_ropes_take_no_lap_wac_296_874_30018():
    # WAC 296-874-30018(1): suspension ropes with eye splices, thimbles and shackles only
    with pytest.raises(Refusal, match=r"WAC 296-874-30018\(1\)"):
        lap_splice(THREE_32, 11, 3, 5, counts=(2, 2), line="suspension", use="nobody")


def test_ten_diameters_clear_wac_296_24_29425():
    # WAC 296-24-29425(2)(a): ten rope diameters between terminations: 31.75 for 1/8; eyes and sleeves take 2 x (30 + 15) = 90
    eye = EyeParts(70, 30, 15, 7)
    assert clear_length_mm(121.75, eye, eye, EIGHTH) == 31.75
    with pytest.raises(Refusal, match="at least 121.75 mm"):
        clear_length_mm(121.74, eye, eye, EIGHTH)


def test_bare_band_of_one_to_five():
    # common practice: 1 to 5 mm of bare cable between coat and sleeve; by hand 8 + 11 + 3 + band on each leg
    assert strip_mm(11, 3, 8, 90, bare_band_mm=1).each_leg_mm == 23
    assert strip_mm(11, 3, 8, 90, bare_band_mm=5).each_leg_mm == 27
    for band in (0.99, 5.01):
        with pytest.raises(Refusal, match="1 to 5 mm"):
            strip_mm(11, 3, 8, 90, bare_band_mm=band)


def test_the_tail_of_a_coated_eye_is_growth_and_band_at_least():
    # the live leg lies bare beside the tail for the tail's length: all 3 mm of growth that way leave 5 - 3 = 2 mm, the band; a tail of 4.9 would not
    assert strip_mm(11, 3, 5, 90, bare_band_mm=2).each_leg_mm == 21
    for tail, band in ((4.9, 2), (3.5, 1), (7.9, 5)):
        with pytest.raises(Refusal, match="growth and bare band"):
            strip_mm(11, 3, tail, 90, bare_band_mm=band)
