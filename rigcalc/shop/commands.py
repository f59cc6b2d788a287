"""The commands `rigcalc shop` and `rigcalc job`, by one name each."""

from __future__ import annotations

from rigcalc.shop.job_command import print_job_sheet
from rigcalc.shop.shop_command import check_shop_file, shop_notes

__all__ = ["check_shop_file", "print_job_sheet", "shop_notes"]
