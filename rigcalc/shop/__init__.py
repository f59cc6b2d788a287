"""The shop: a workplace's own reels, tools, charts, gauges and factors, kept in one text file."""

from rigcalc.shop.load import Problem, check_shop, load_shop, sample_shop_path
from rigcalc.shop.model import (Bench, ChartCheck, Cutting, Gauge, Growth, Offcut, PriceList, ProofProcedure, PulledLot, PullTest,
                                Reel, Shop, ShopFitting, Thimble, Tool)

__all__ = ["Bench", "ChartCheck", "Cutting", "Gauge", "Growth", "Offcut", "PriceList", "Problem", "ProofProcedure", "PullTest",
           "PulledLot", "Reel", "Shop", "ShopFitting", "Thimble", "Tool", "check_shop", "load_shop", "sample_shop_path"]
