"""The command `rigcalc job`."""

from __future__ import annotations

import sys
import tomllib
from dataclasses import fields
from pathlib import Path

from rigcalc.assembly import MissingFacts, Order, job_sheet
from rigcalc.errors import Refusal
from rigcalc.shop.load import load_shop
from rigcalc.shop.shop_command import Words as _Words
from rigcalc.shop.shop_command import check_shop_file, shop_notes

__all__ = ["Words", "check_shop_file", "shop_notes"]
