"""What the drawings say: their words are made from the same values as their lines."""

from __future__ import annotations

import re

import pytest

from rigcalc import figures
from rigcalc.errors import Refusal
from rigcalc.figures.faults import FAULTS
from rigcalc.figures.sections import gauge_answer, verdict


@pytest.mark.parametrize("designation, wires", [("7x7", 49), ("7x19", 133)])
def test_the_section_shows_every_wire_as_an_ellipse(designation, wires):
    figure = figures.cable_section(designation, 3.175, "1/8")
    kept = re.search(r'<g id="[^"]*cable-[^"]*">(.*?)</g></g>', figure.svg)[1]
    assert kept.count("<ellipse") == wires
    assert f"{wires} wires in all" in figure.alt and "3.18 mm" in figure.alt


def test_the_caliper_reads_the_diameter_on_crowns_and_less_on_flats():
    # 3/16 in = 4.7625 mm; six equal strands round one: 0.9107 of it across the flats (computed).
    figure = figures.caliper_on_section(4.7625, "7x19", "both")
    assert "over the crowns it reads 4.76 mm" in figure.alt and "over the flats it reads 4.34 mm" in figure.alt
    assert "reads 4.76 mm" in figure.svg and "reads 4.34 mm" in figure.svg


# 1/8 in, sleeve 15 to 20 mm: growth 5 mm. 1 d = 3.175, 2 d = 6.35.
@pytest.mark.parametrize("tail, words", [(3.175, "1.8 mm inside the sleeve: no tail shows"), (6.35, "1.4 mm of tail still shows"),
                                         (7.0, "2 mm of tail still shows")])
def test_the_eye_says_what_is_left_of_its_tail(tail, words):
    figure = figures.eye_to_scale(tail_mm=tail)
    assert words in figure.alt
    assert ("no tail: the end lies" in figure.svg) == ("no tail" in words)


def test_the_eye_is_to_scale_along_the_cable():
    before = figures.eye_to_scale(pressed=False, tail_mm=7)
    level = re.findall(r'<path d="M([\d.]+) ([\d.]+)L\1 ([\d.]+)"[^>]*stroke-dasharray="3 4"', before.svg)
    x = sorted({float(one[0]) for one in level})
    sleeve, tail = x[1] - x[0], x[2] - x[1]
    assert sleeve / tail == pytest.approx(15 / 7, rel=0.01)


def test_an_eye_that_is_asked_about_judges_nothing():
    figure = figures.eye_to_scale(tail_mm=3.175, pressed=False, asked=True)
    assert "growth" not in figure.alt + figure.caption and "#9a3b12" not in figure.svg


def test_a_tail_that_only_just_ends_with_the_sleeve_is_no_tail():
    assert "no tail shows" in figures.eye_to_scale(tail_mm=5.0).alt


def test_crimps_carry_their_letters_from_the_thimble_outwards():
    figure = figures.crimp_places(4, "DBAC", "3/16")
    placed = re.findall(r'<text x="([\d.]+)"[^>]*font-size="20"[^>]*>([A-F])<', figure.svg)
    assert [letter for _, letter in sorted(placed, key=lambda one: float(one[0]))] == list("DBAC")
    assert "lettered D, B, A, C" in figure.alt and "order" not in figure.alt


def test_the_order_under_the_crimps_is_the_charts():
    figure = figures.crimp_places(3, "ABC", "1/8", (2, 1, 3))
    placed = re.findall(r'<text x="([\d.]+)"[^>]*>(first|second|third)<', figure.svg)
    assert [words for _, words in sorted(placed, key=lambda one: float(one[0]))] == ["second", "first", "third"]
    assert "order from the chart: B, A, C" in figure.alt


def test_the_cut_layout_shows_the_finished_piece_above_when_asked():
    figure = figures.cut_layout(2400, 30, 70, 15, 7, 2524, finished=True)
    assert "pin to pin 2400 mm" in figure.svg and figure.svg.count("bearing to sleeve 30 mm") == 2
    assert "on its two pins: pin to pin 2400 mm" in figure.alt and "Cut length 2524 mm" in figure.alt
    assert "on its two pins" not in figures.cut_layout().alt


def test_crimps_can_be_numbered_as_the_chart_numbers_them():
    assert "numbered 1, 2, 3." in figures.crimp_places(3, "123", "1/8", (2, 1, 3)).alt


def test_six_faults_without_their_names_say_only_what_is_seen():
    figure = figures.faults(told=("buried tail",))
    assert figure.svg.count("✗") == 1 and "gauge" not in figures.faults(told=()).alt + figures.faults(told=()).caption
    assert "A: no cut end to be seen" in figures.faults(told=()).alt and "end inside" not in figures.faults(told=()).svg


def test_the_cut_layout_marks_what_each_end_takes():
    figure = figures.cut_layout(2400, 30, 70, 15, 7, 2524)
    for words in ("between the two sleeves 2340 mm", "tail 7 mm", "sleeve 15 mm", "loop 70 mm", "Cut length 2524 mm"):
        assert words in figure.alt


@pytest.mark.parametrize("content", ["bare", "coated", "too small"])
@pytest.mark.parametrize("upright", [True, False])
def test_only_bare_right_legs_upright_and_fully_closed_are_good(content, upright):
    for stage in (0.0, 0.5, 0.9, 1.0):
        good, _ = verdict(stage, content, upright)
        assert good == (content == "bare" and upright and stage == 1.0)


def test_the_gauge_sees_the_closing_and_not_what_is_inside():
    assert gauge_answer(1.0)[0] and not gauge_answer(0.9)[0]
    closed = [figures.sleeve_stage(1.0, content, gauge=True) for content in ("bare", "coated", "too small")]
    assert all("At the gauge: the gauge goes on." in one.alt for one in closed)
    assert len({one.alt for one in closed}) == 3


def test_a_section_that_is_asked_about_has_neutral_words_and_no_verdict():
    shown = [figures.sleeve_stage(1.0, content, upright, asked=True) for content in ("bare", "coated", "too small")
             for upright in (True, False)]
    assert len({one.alt for one in shown}) == 1 and not any(one.caption for one in shown)
    assert len({one.svg for one in shown}) == 6
    assert not any(word in one.svg for one in shown for word in ("flash", "air", "coat:", "valleys"))


def test_flat_leaves_flash_and_upright_does_not():
    assert "flash" in figures.sleeve_in_jaws(False).alt and "flash" not in figures.sleeve_in_jaws(True).alt


@pytest.mark.parametrize("stage, content", [(1.2, "bare"), (-0.1, "bare"), (0.5, "grease")])
def test_what_does_not_exist_is_refused(stage, content):
    with pytest.raises(Refusal, match="bare, coated, too small"):
        figures.sleeve_stage(stage, content)


def test_one_fault_of_six_is_surely_seen_by_the_gauge():
    assert [name for name, (_, seen) in FAULTS.items() if seen == "yes"] == ["not closed"]
    figure = figures.faults()
    assert all(name in figure.alt and f"✗ {name}" in figure.svg for name in FAULTS)


def test_places_that_are_not_pressed_yet_are_drawn_and_told_as_such():
    whole, half, none = (figures.crimp_places(4, "DBAC", "3/16", pressed=letters) for letters in (None, ["B", "C"], []))
    assert whole.alt.startswith("A sleeve on a 3/16 in eye with 4 crimps;") and "Pressed" not in whole.alt
    assert half.alt.endswith("Pressed: B, C.") and none.alt.endswith("Pressed: nothing yet.")
    assert [whole.svg.count('stroke-width="3"') - one.svg.count('stroke-width="3"') for one in (half, none)] == [-2, -4]
