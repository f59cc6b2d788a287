"""A job sheet as text, page and JSON."""

from __future__ import annotations

import dataclasses
from datetime import date
from html.parser import HTMLParser
from pathlib import Path

import pytest
from on_paper import printed

from rigcalc.assembly import Order, job_sheet
from rigcalc.cautions import CAUTIONS, INVENTED, INVENTED_GAUGE, PRACTICE
from rigcalc.errors import Refusal
from rigcalc.shop import load_shop, sample_shop_path
from rigcalc.shop.order_file import read_order_file
from rigcalc.shop.sheet import as_html, as_json, as_text, from_json

FOLDER = Path(__file__).resolve().parents[2] / "lessons" / "orders"
SHOP = load_shop(sample_shop_path())
ORDER = Order(number="7", what="trellis wires", where="courtyard", use="nobody", near="nobody", load="150 lbf",
              load_from="the gardener", movement="none", held="no", lifts="no", service="outdoor", ends="two thimble eyes", length="2.40 m",
              measured="pin to pin", quantity="8", tightened="turnbuckle", greatest_tension="150 lbf",
              tension_check="2 kg mid-span", gravity="standard", installer="the cafe", reel="R5")
SHEET = job_sheet(ORDER, SHOP, date(2026, 11, 25))
PRACTICE_SHEET = job_sheet(dataclasses.replace(ORDER, reel="R4", sleeve_before="15 mm"),
                           dataclasses.replace(SHOP, charts=()), date(2026, 11, 25))
HOLDS = ("cut end", "threaded and tail marked", "first stroke in the jaws", "first gauge")


class Text(HTMLParser):
    """The readable text of a page and how its elements nest."""

    def __init__(self):
        super().__init__()
        self.text, self.open, self.wrong = [], [], []

    def handle_starttag(self, tag, attrs):
        if tag not in ("meta", "br", "input"):
            self.open.append(tag)

    def handle_endtag(self, tag):
        if not self.open or self.open.pop() != tag:
            self.wrong.append(tag)

    def handle_data(self, data):
        if self.open and self.open[-1] != "style":
            self.text.append(data)


def read(html):
    page = Text()
    page.feed(html)
    assert not page.wrong and not page.open
    return " ".join("".join(page.text).split())


def test_json_reads_back_as_the_same_sheet_and_writes_the_same_text():
    for sheet in (SHEET, PRACTICE_SHEET):
        text = as_json(sheet)
        assert from_json(text) == sheet and as_json(from_json(text)) == text


@pytest.mark.parametrize("text", ["", "{}", "[]", "null", '{"title": 1}', "x" * 600_000, "\ud800"])
def test_a_text_that_is_no_sheet_is_refused(text):
    with pytest.raises(Refusal, match="rigcalc"):
        from_json(text)


def test_the_text_fits_80_columns():
    for sheet in (SHEET, PRACTICE_SHEET):
        assert max(map(len, as_text(sheet).splitlines())) <= 80


def test_a_very_long_word_in_an_order_still_fits_80_columns_and_is_escaped_on_the_page():
    sheet = job_sheet(dataclasses.replace(ORDER, what="trellis <script>" + "x" * 200), SHOP, date(2026, 11, 25))
    assert max(map(len, as_text(sheet).splitlines())) <= 80
    assert "<script>" not in as_html(sheet) and "&lt;script&gt;" in as_html(sheet)


@pytest.mark.parametrize("shown", [lambda s: " ".join(as_text(s).split()), lambda s: read(as_html(s))])
def test_text_and_page_say_the_same_that_matters(shown):
    text = shown(SHEET)
    for words in (*CAUTIONS, *HOLDS, INVENTED, INVENTED_GAUGE, "316 lbf [1.40 kN], straight pull only", "2524 mm",
                  "NOT FOR LIFTING / PEOPLE", "LB-ZC", "Ines Varrow", "zinc-plated copper", "order 7"):
        assert words in text, words
    assert PRACTICE not in text


@pytest.mark.parametrize("shown", [lambda s: " ".join(as_text(s).split()), lambda s: read(as_html(s))])
def test_a_practice_sheet_says_so_and_carries_no_tag(shown):
    text = shown(PRACTICE_SHEET)
    assert PRACTICE in text and "carry no tag" in text
    assert "NOT FOR LIFTING" not in text and "Record of the piece" not in text


def test_the_foot_of_every_printed_page_says_invented_order_and_code():
    html = as_html(SHEET)
    assert f"· order 7 · sheet {SHEET.version} · 2026-11-25" in html
    assert '@bottom-left { content:"INVENTED · Job sheet' in html
    assert '@bottom-left { content:"STOP: see page 1 · INVENTED · PRACTICE ·' in as_html(PRACTICE_SHEET)


def test_the_page_asks_nothing_of_the_outside():
    html = as_html(SHEET).replace('xmlns="http://www.w3.org/2000/svg"', "").replace("url(#", "")  # the drawing's own name and its own parts
    assert not any(word in html for word in ("http:", "https:", "src=", "<script", "@import", "url("))


def test_the_cut_sum_adds_up_in_millimetres():
    shown = [item.value for item in SHEET.cut_steps]
    millimetres = [float(text[text.index("[") + 1: text.index(" mm]")]) for text in shown]
    assert sum(millimetres) == SHEET.cut_mm == 2524


# --- the bench's page ---------------------------------------------------------------------------------------

@pytest.mark.parametrize("shown", [as_text, as_html])
def test_limit_tag_crimps_and_gauge_stand_before_the_order_and_the_steps(shown):
    text = shown(SHEET)
    places = [text.index(words) for words in ("Working load limit", "NOT FOR LIFTING", "Crimps, from the chart in force", "Gauging", "Parts", "Steps", "Record of the piece")]
    assert places == sorted(places)


def test_the_order_of_the_crimps_is_drawn_on_the_sheet():
    # LB-ZC, 1/8: order 2, 3, 1, 4, so the first place is pressed third.
    assert "thimble =( [3] [1] [2] [4] )= tail" in as_text(SHEET)
    html = as_html(SHEET)
    assert "<svg" in html and "pressed in the order place 2, place 3, place 1, place 4, counted from the thimble" in html


def test_few_pieces_have_a_tick_each_and_many_a_count_for_each_batch():
    def ticks(quantity):
        text = as_text(job_sheet(dataclasses.replace(ORDER, quantity=quantity), SHOP, date(2026, 11, 25)))
        assert not any(line.rstrip().endswith("[") for line in text.splitlines())       # no box falls apart at a line's end
        return " ".join(text.split())

    assert ticks("1").count("[ ] seen") == 4 and ticks("1").count("[ ] second eye") == 3
    assert "seen: [ ] 1 [ ] 2 [ ] 3 [ ] 4 [ ] 5 [ ] 6 [ ] 7 [ ] 8" in ticks("8") and ticks("8").count("second eye: [ ] 1") == 3
    assert "seen, of 9 pieces, batch by batch: [ ] ____" in ticks("9") and "seen, both ends, of 9 pieces" in ticks("9")
    assert as_html(SHEET).count('<span class="tick">☐ 8</span>') == 7


def test_rejects_get_a_full_line():
    assert any(line.startswith("Rejects, cause, destroyed by ____") and len(line) > 70 for line in as_text(SHEET).splitlines())
    assert '<p class="whole"><span>Rejects, cause, destroyed by</span><span class="rule">' in as_html(SHEET)


def test_the_customer_gets_the_check_and_its_figures():
    text = " ".join(SHEET.customer)
    # 2 kg x 9.80665 x 2400 / (4 x 667.23) = 17.6 mm, and 0.4 mm for the cable itself.
    assert "Whoever tightens it: hang 4.41 lb [2 kg] of mass" in text and "at least 0.72 in [18.1 mm]: that is 150 lbf [667 N]" in text
    assert "Less sag is too tight" in text


@pytest.mark.parametrize("order", ["01_gate_brace", "02_cafe_wires", "06_mast_stays"])
def test_order_and_decisions_share_the_width_of_the_second_page(order):
    """Found amiss: the order filled the left half of page 2, and nothing stood beside its upper part."""
    made = job_sheet(read_order_file(str(FOLDER / f"{order}.toml")), SHOP, date(2026, 11, 25))
    grid = as_html(made).split('<div class="two">')[1].split("<h2>Parts</h2>")[0]
    assert grid.index("<h2>Order</h2>") < grid.index("</div><div>") < grid.index("<h2>Decided</h2>")


@pytest.mark.paper
@pytest.mark.parametrize("order, pages", [("02_cafe_wires", 5), ("04_glasshouse_curtain", 5), ("05_kayak_bridle", 5), ("08_lanyards", 6)])
def test_a_sheet_is_no_longer_than_it_has_to_be(order, pages, chromium):
    made = job_sheet(read_order_file(str(FOLDER / f"{order}.toml")), SHOP, date(2026, 11, 25))
    assert len(printed(chromium, as_html(made))) <= pages
