"""What the tests of the rule book share: the invented shop, the scenario's orders, and how a refusal is looked at."""

from __future__ import annotations

import dataclasses
from datetime import date

import pytest

from rigcalc.assembly import job_sheet
from rigcalc.cable import breaking_force
from rigcalc.errors import Refusal
from rigcalc.home import installed_folder
from rigcalc.rating import DesignFactor
from rigcalc.shop import load_shop, sample_shop_path
from rigcalc.shop.order_file import read_order_file

LBF = 4.4482216152605  # N, exact by definition
DAY = date(2026, 11, 25)
SHOP = load_shop(sample_shop_path())
FACTOR = DesignFactor(5, "Ines Varrow", "2026-01-12", "static, nobody can be there")
EIGHTH = breaking_force("1/8", "7x19", "galvanised")  # 2000 lbf, AC 43.13-1B Table 7-3


def order(name: str, **changes):
    """One of the scenario's orders, as its file has it."""
    return dataclasses.replace(read_order_file(str(installed_folder() / "lessons" / "orders" / f"{name}.toml")), **changes)


def sheet(name: str, shop=SHOP, **changes):
    return job_sheet(order(name, **changes), shop, DAY)


def refused(do, *parts: str, kind: type = Refusal) -> str:
    """What is said when something is refused; every part must be in it."""
    with pytest.raises(kind) as said:
        do()
    text = str(said.value)
    for part in parts:
        assert part in text, text
    return text
