"""The one figure helper, and what every drawing must keep to."""

from __future__ import annotations

import base64
import re
import xml.etree.ElementTree as ElementTree

import pytest

from rigcalc.errors import Refusal
from rigcalc.figures import FIGURES, Drawing, Figure
from rigcalc.figures import drawing as house
from rigcalc.figures.pulls import key, thickness

SVG = "{http://www.w3.org/2000/svg}"
PX_PER_POINT = 96 / 72


def made():
    """Every drawing a question may name, and the other states that lessons show."""
    for name, function in FIGURES.items():
        yield name, function()
    yield "cable_section 7x7", FIGURES["cable_section"]("7x7", 2.38125, "3/32")
    yield "caliper both", FIGURES["caliper_on_section"](4.7625, "7x19", "both")
    yield "eye short tail", FIGURES["eye_to_scale"](tail_mm=3.175)
    yield "cut layout with its total", FIGURES["cut_layout"](total_mm=2524)
    for count in range(1, 7):
        yield f"crimps {count}", FIGURES["crimp_places"](count, "FEDCBA"[-count:], "5/16", tuple(range(1, count + 1)), "chart")
    for content in ("bare", "coated", "too small"):
        yield f"stages {content}", FIGURES["sleeve_stages"](content)
        for upright in (True, False):
            for stage in (0.0, 0.3, 1.0):
                yield f"{content} {upright} {stage}", FIGURES["sleeve_stage"](stage, content, upright, gauge=True)


DRAWN = dict(made())


@pytest.fixture(params=DRAWN, ids=str)
def figure(request) -> Figure:
    return DRAWN[request.param]


@pytest.mark.parametrize("alt", ["", "   ", "a drawing"])
def test_a_figure_without_words_is_refused(alt):
    with pytest.raises(Refusal, match="words that say what the drawing shows"):
        Figure("<svg></svg>", alt)


def test_the_words_stand_in_both_forms_and_are_escaped():
    figure = Figure('<svg xmlns="http://www.w3.org/2000/svg"></svg>', 'a cable of 1/8 in & "more" <b>than</b> that', "a < b")
    shown, live = figure._repr_html_(), figure.inline()
    assert 'alt="a cable of 1/8 in &amp; &quot;more&quot; &lt;b&gt;than&lt;/b&gt; that"' in shown
    assert 'role="img" aria-label="a cable of 1/8 in &amp; &quot;more&quot; &lt;b&gt;than' in live
    assert "<figcaption>a &lt; b</figcaption>" in shown and "<b>" not in shown + live
    packed = re.search(r"base64,([^\"]+)", shown)[1]
    assert base64.b64decode(packed).decode() == figure.svg


def test_every_drawing_is_one_piece_of_xml_that_asks_nothing_outside(figure):
    tree = ElementTree.fromstring(figure.svg)
    assert tree.tag == SVG + "svg"
    ids = [one.get("id") for one in tree.iter() if one.get("id")]
    assert len(ids) == len(set(ids))
    used = re.findall(r"url\(#([^)]+)\)|href=\"#([^\"]+)\"", figure.svg)
    assert {name for pair in used for name in pair if name} <= set(ids)
    assert "http" not in figure.svg.replace("http://www.w3.org/2000/svg", "")


def test_words_in_every_drawing_are_at_least_11_points_on_paper(figure):
    tree = ElementTree.fromstring(figure.svg)
    width = float(tree.get("width"))
    on_paper = min(1.0, 680 / width)  # 180 mm between the margins of a page, in px
    for text in tree.iter(SVG + "text"):
        assert float(text.get("font-size")) * on_paper / PX_PER_POINT >= 11, text.text


def test_words_stay_on_the_sheet(figure):
    tree = ElementTree.fromstring(figure.svg)
    width, height = float(tree.get("width")), float(tree.get("height"))
    for text in tree.iter(SVG + "text"):
        size, bold = float(text.get("font-size")), int(text.get("font-weight")) > 500
        long = len(text.text or "") * size * (0.66 if bold else 0.6)
        x, anchor = float(text.get("x")), text.get("text-anchor")
        left = {"start": x, "middle": x - long / 2, "end": x - long}[anchor]
        assert left >= -6 and left + long <= width + 6, text.text
        assert 0 < float(text.get("y")) <= height, text.text


def test_two_drawings_of_the_same_values_are_the_same_bytes():
    for name, function in FIGURES.items():
        assert function().svg == function().svg, name


def test_names_inside_never_mix_on_one_page():
    first, second = FIGURES["sleeve_stage"](0.0), FIGURES["sleeve_stage"](1.0)
    names = [set(re.findall(r'id="([^"]+)"', one.svg)) for one in (first, second)]
    assert names[0] and not names[0] & names[1]


@pytest.mark.parametrize("colour", [house.INK, house.DEEP, house.RUST, house.GREEN, house.QUIET])
def test_colours_of_words_stand_out_from_white(colour):
    parts = [int(colour[i:i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    light = 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
    assert 1.05 / (light + 0.05) >= 4.5


def test_small_words_are_drawn_at_the_least_size():
    sheet = Drawing(100, 100)
    sheet.text(0, 20, "tiny", size=6)
    assert 'font-size="15"' in sheet.svg()


@pytest.mark.parametrize("words", ["60.0 lbf", "1334 N", "1000.0 lbf"])
def test_the_key_of_thickness_lies_inside_the_drawing_and_says_where_it_ends(words):
    sheet = Drawing(700, 400)
    key(sheet, 690, 380, 100.0, words)
    drawn = "".join(sheet.parts)
    assert f"as thick as this: {words}; none more than twice as thick" in drawn and 'x="690" y="386"' in drawn and 'text-anchor="end"' in drawn
    assert 150 < float(re.search(r'd="M([0-9.]+) ', drawn)[1]) < 260  # right of what stands at the left below
    assert thickness(200, 100) == thickness(900, 100) == 2 * thickness(100, 100)
