"""What is asked about a shop file without mistakes: figures that can be so, and mostly are a slip."""

from __future__ import annotations

from rigcalc.errors import Refusal
from rigcalc.shop.check import MOST_OF_TABLE, diameter_mm, slot_size

__all__ = ["low_factors", "odd_certificates", "odd_fittings", "other_slots", "same_gauge_max", "shared_cavities"]

OFF_THE_FACTORS = 0.25  # so far below or above the two grades of the EN factors a certificate is asked about: the workbook's judgement
LOW_FACTOR = 2  # below it a cable is loaded to more than half of what it breaks at: the workbook's judgement
FITTING_SHARE = 0.8  # of what the strongest cable of its sizes breaks at; no fitting beside it needs a working limit so near: the workbook's judgement


def low_factors(factors: tuple) -> list[str]:
    """What is asked about a design factor that leaves next to nothing."""
    return [f"the design factor {one.value:g} loads a cable to {100 / one.value:.0f} % of what its weakest part breaks at: does {one.owner} mean it? A slipped digit stands on every limit."
            for one in factors if one.value < LOW_FACTOR]


def odd_fittings(fittings: tuple, system: str) -> list[str]:
    """What is asked about a fitting marked for more than the cables that it is for can use."""
    from rigcalc.reference import table
    from rigcalc.units import LBF_N, show_force

    strength, asked = table("cable_strength"), []
    for one in fittings:
        breaks_at = max((max(row.galvanised_lbf or 0, row.stainless_lbf or 0) for row in strength if row.size in one.sizes), default=0) * float(LBF_N)
        if breaks_at and one.fitting.limit_n > FITTING_SHARE * breaks_at:
            asked.append(f"the {one.fitting.kind} {one.fitting.name} is marked {show_force(one.fitting.limit_n, system, 'down')}, and the strongest cable of its sizes breaks at {show_force(breaks_at, system)}: "
                         "has a digit or a unit slipped? Read the mark again.")
    return asked


def shared_cavities(tools: tuple) -> list[str]:
    """What is asked about a tool that presses two sizes in one cavity."""
    return [f"tool {tool.id} has {' and '.join(sizes)} in one cavity, {mark}: by its maker? Look at the jaw again."
            for tool in tools for mark in dict.fromkeys(dict(tool.cavities).values())
            if mark and len(sizes := [size for size, other in dict(tool.cavities).items() if other == mark]) > 1]


def same_gauge_max(charts: tuple) -> list[str]:
    """What is asked about two sizes with one greatest size over a crimp."""
    asked = []
    for chart in charts:
        for n, row in enumerate(chart.rows):
            same = [other.size for other in chart.rows[:n] if row.gauge_max_mm and other.gauge_max_mm == row.gauge_max_mm]
            if same:
                asked.append(f"chart {chart.id} has {row.gauge_max_mm:g} mm over a crimp for {same[0]} and for {row.size}: by the maker's sheet? Read both rows again.")
    return asked


def other_slots(charts: tuple) -> list[str]:
    """What is asked about a row that is gauged in a slot of another size than its own: some makers' charts have it so."""
    return [f"chart {chart.id} has {row.size} gauged in slot {row.gauge_slot} of gauge {row.gauge}: by the chart? Read the maker's sheet again."
            for chart in charts for row in chart.rows if slot_size(row.gauge_slot or "") not in ("", row.size)]


def odd_certificates(reels: tuple, system: str) -> list[str]:
    """What is asked about a certificate far from the table's figure for that size, else from the EN factors': a digit may have slipped."""
    from rigcalc.units import show_force

    asked = []
    for reel in reels:
        low_n, high_n, beside = _likely(reel, system)
        if reel.certificate_n is not None and not low_n <= reel.certificate_n <= high_n:
            asked.append(f"the certificate of reel {reel.id} says {show_force(reel.certificate_n, system, 'down')}, {beside} "
                         f"for {reel.size} {reel.construction} {reel.metal}: has a digit or a unit slipped? Read it again.")
    return asked


def _likely(reel, system: str) -> tuple[float, float, str]:
    """From and to which force in N a certificate needs no question, and what it stands beside; no bounds where no source speaks."""
    from rigcalc._strength import en_breaking_force_n, read_grades
    from rigcalc.cable import breaking_force
    from rigcalc.units import show_force

    certificate_n = reel.certificate_n or 0.0
    if reel.is_inch:
        try:
            table_n = breaking_force(reel.size, reel.construction, reel.metal).force_n
            return table_n / MOST_OF_TABLE, table_n * MOST_OF_TABLE, f"{certificate_n / table_n:.2g} times the table's {show_force(table_n, system, 'down')}"
        except Refusal:
            pass
    try:
        least, most = (en_breaking_force_n(reel.construction, diameter_mm(reel.size), grade) for grade in (read_grades()[0], read_grades()[-1]))
    except (Refusal, ValueError):
        return 0.0, float("inf"), ""
    return (least.force_n * (1 - OFF_THE_FACTORS), most.force_n * (1 + OFF_THE_FACTORS),
            f"while the table has none and the EN factor ({most.how_known}) gives {show_force(least.force_n, system)} to {show_force(most.force_n, system)}")
