"""The wall card: one page for one tool, drawn from the charts in force and void when they change."""

from __future__ import annotations

import hashlib
import json
import re
from dataclasses import asdict

from rigcalc.errors import Refusal
from rigcalc.shop.model import Shop

__all__ = ["card_code", "card_stands"]

CODE_SIGNS = 8


def card_code(shop: Shop, tool_id: str) -> str:
    """The code on a tool's wall card: the tool's id and the first signs of a digest of its charts and their rows.

    Errors: `Refusal` for an unknown tool, and for one without a maker's chart.
    """
    tool = shop.tool(tool_id)
    charts = sorted((asdict(chart) for chart in shop.charts if chart.tool == tool.id), key=lambda chart: chart["id"])
    if not charts:
        raise Refusal(f"a wall card for tool {tool.id}", "a tool with a [[chart]] of its maker in the shop file",
                      "enter the maker's chart, or ask the maker: common-practice counts are not hung on a wall")
    text = json.dumps([tool.id, charts], sort_keys=True, ensure_ascii=False)
    return f"{tool.id}-{hashlib.sha256(text.encode()).hexdigest()[:CODE_SIGNS]}"


def card_stands(shop: Shop, code: str) -> bool:
    """Whether the card with that code still stands: its tool's charts are those it was drawn from.

    Errors: `Refusal` for what is no card's code.
    """
    match = re.fullmatch(r"(.{1,300})-([0-9a-f]{%d})" % CODE_SIGNS, code.strip(), re.IGNORECASE)
    if not match:
        raise Refusal(f"the code {code!r:.60}", "a wall card's code, such as LB-1f2e3d4c", "read it from the foot of the card")
    now = card_code(shop, match[1])
    return now.rpartition("-")[2] == match[2].lower()
