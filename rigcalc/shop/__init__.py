"""The shop: a workplace's own reels, tools, charts, gauges and factors, kept in one text file."""

from rigcalc.shop.load import Problem, check_shop, load_shop, sample_shop_path
from rigcalc.shop.model import Bench, ChartCheck, Gauge, PullTest, Reel, Shop, Thimble, Tool

__all__ = ["Bench", "ChartCheck", "Gauge", "Problem", "PullTest", "Reel", "Shop", "Thimble", "Tool", "check_shop",
           "load_shop", "sample_shop_path"]
