"""What a family's own words say of the invented sample shop: its tools, gauges, papers, and whoever set its factor.

Such a question is about that shop, whatever shop it is drawn for. Where another is in force, that has to be said.
"""

from __future__ import annotations

import re
from functools import cache
from typing import Any

from msgspec import to_builtins

from rigcalc.questions.family import Family

__all__ = ["sample_named"]


@cache
def _names() -> re.Pattern[str]:
    """Ids of tools and gauges, numbers of certificates and procedures, owners of factors."""
    from rigcalc.shop import load_shop, sample_shop_path

    shop = load_shop(sample_shop_path())
    papers = [reel.certificate for reel in shop.reels if reel.certificate] + [test.procedure for test in shop.pull_tests] + [shop.proof.procedure]
    named = [one.id for one in (*shop.tools, *shop.gauges)] + [paper.split()[-1] for paper in papers] + [one.owner for one in shop.factors]
    return re.compile(rf"\b(?:{'|'.join(map(re.escape, dict.fromkeys(named)))})\b")


def sample_named(family: Family, shown: Any = None) -> bool:
    """Whether a family's own words name something of the sample shop; with `shown` (plain data), only what stands there counts.

    >>> from rigcalc.questions import load_families
    >>> [sample_named(load_families()[one]) for one in ("pieces-back-to-the-gauge", "who-can-say", "re-use")]
    [True, True, False]
    """
    own = set(_names().findall(str(to_builtins([family.ask, family.chart, family.draw, family.pools, family.answer, family.box, family.right, family.wrong]))))
    return bool(own if shown is None else own & set(_names().findall(str(shown))))
