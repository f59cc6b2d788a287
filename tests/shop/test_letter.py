"""A refusal in writing: for a customer, from the shop, with nothing that only a bench needs."""

from __future__ import annotations

import dataclasses
from datetime import date
from pathlib import Path

import pytest

from rigcalc.assembly import MissingFacts, Order, job_sheet
from rigcalc.cautions import CAUTIONS, WORK_CAUTIONS
from rigcalc.errors import Refusal
from rigcalc.shop import load_shop, sample_shop_path
from rigcalc.shop.letter import letter_html, letter_text
from rigcalc.shop.order_file import read_order_file

SHOP = load_shop(sample_shop_path())
DAY = date(2026, 11, 25)
FOLDER = Path(__file__).resolve().parents[2] / "lessons" / "orders"
BAR = Order(number="12", what="pull-up bar stay", where="garden", use="nobody", near="nobody", movement="none")


def refusal(order, shop=SHOP):
    with pytest.raises(Refusal) as refused:
        job_sheet(order, shop, DAY)
    return refused.value


@pytest.mark.parametrize("form", [letter_text, letter_html])
def test_a_letter_is_the_shop_s_own_and_says_what_a_customer_needs(form):
    text = " ".join(form(BAR, refusal(BAR), SHOP, DAY).replace("&#x27;", "'").split()).rpartition("<body>")[2]
    assert "The order speaks of 'pull-up', and that is work we refuse." in text and "What was given" not in text
    assert "To ____" in text and "Ambrel Quay Cable Bench, 2026-11-25" in text and "order 12" in text
    assert "Cable assembly workbook" not in text and "chart" not in text.replace(WORK_CAUTIONS[0], "").casefold()
    assert all(caution in text for caution in WORK_CAUTIONS)
    assert not any(caution in text for caution in CAUTIONS if "certificate" in caution)


def test_a_letter_has_a_title_of_its_own():
    assert "<title>Answer to order 12 · Ambrel Quay Cable Bench</title>" in letter_html(BAR, refusal(BAR), SHOP, DAY)
    unnumbered = dataclasses.replace(BAR, number=None)
    assert "Answer to your order" in letter_html(unnumbered, refusal(unnumbered), SHOP, DAY)


def test_another_refusal_says_what_stands_in_the_order():
    text = letter_text(BAR, Refusal("the use 'lifting'", "static work", "ask a rigger"), SHOP, DAY)
    assert "In the order stands: the use 'lifting'." in " ".join(text.split())


def test_missing_facts_are_asked_for_politely():
    order = Order(number="3", use="nobody")
    with pytest.raises(MissingFacts) as asked:
        job_sheet(order, SHOP, DAY)
    text = " ".join(letter_text(order, asked.value, SHOP, DAY).split())
    assert "Who says so?" not in text and "Who states the load, or the weight and the measurements?" in text and "--" not in text


def test_a_reel_with_a_certificate_and_no_size_is_not_said_to_be_unknown():
    order = read_order_file(str(FOLDER / "08a_lanyards_to_make.toml"))
    reels = tuple(dataclasses.replace(reel, size="unknown", certificate="certificate S-25", certificate_n=2000.0) if reel.id == order.reel else reel for reel in SHOP.reels)
    text = " ".join(letter_text(order, refusal(order, dataclasses.replace(SHOP, reels=reels)), SHOP, DAY).split())
    assert "the size of this one is not known" in text and "which size certificate S-25 is for" in text and "scrap" not in text and "nothing is known" not in text
