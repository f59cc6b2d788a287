"""Sizes wanted: which tools, cavities, gauges, sleeves, thimbles and reels they need, and what is missing."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["Way", "Wanted"]


@dataclass(frozen=True)
class Way:
    """One way to press a size: sleeve metal, tool, cavity, chart, gauge and slot, and whether the gauge is in date."""

    sleeve_metal: str
    verdict: str
    tool: str
    cavity: str
    chart: str
    gauge: str
    gauge_slot: str
    gauge_in_date: bool


@dataclass(frozen=True)
class Wanted:
    """What one size needs and has in this shop, and each gap in words; no gap means work can begin."""

    size: str
    metal: str
    service: str
    ways: tuple[Way, ...]
    reels: tuple[str, ...]
    thimbles: tuple[str, ...]
    gaps: tuple[str, ...]
