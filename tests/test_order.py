"""The facts of an order: how long one may be."""

import pytest

from rigcalc.assembly import Order
from rigcalc.errors import Refusal


def test_a_fact_is_one_line_of_at_most_300_signs():
    assert Order(what="x" * 300).what == "x" * 300
    with pytest.raises(Refusal, match="the fact what with 301 signs was given; accepted: one line of at most 300 signs"):
        Order(what="x" * 301)
    assert Order(what="a gate\nand a fence").what == "a gate and a fence"
