"""How a cable grows: under load, by settling in, by warmth; and what a bend is said to cost (illustrates only).

Nothing here rates anything. Most figures are ranges, because moduli and stretch scatter from cable to cable.
"""

from __future__ import annotations

from fractions import Fraction

from rigcalc._given import said
from rigcalc._records import record
from rigcalc._section import above_zero, construction
from rigcalc.errors import Refusal
from rigcalc.reference import Row, constant, table
from rigcalc.units import exact

__all__ = ["BEND_CAUTION", "METALS_THAT_STRETCH", "Range", "bend_illustration", "constructional_stretch_mm",
           "elastic_stretch_mm", "modulus_n_mm2", "thermal_change_mm"]

METALS_THAT_STRETCH = {"galvanised": "carbon", "bright": "carbon", "carbon": "carbon", "stainless": "stainless"}
BEND_CAUTION = ("It illustrates and never rates: the curve is from memory, it belongs to the body of a cable loaded through "
                "a bend, and in an eye each leg carries half.")


@record
class Range:
    """A lowest and a highest figure, with the sources, whether any is from memory, and what it must not be used for."""

    low: float
    high: float
    unit: str
    sources: tuple[str, ...]
    from_memory: bool
    note: str = ""


def modulus_n_mm2(construction_name: str, metal: str | None = None) -> Range:
    """The elastic modulus of a cable on its metallic area, in N/mm2, as a range over all sources.

    `metal`: "galvanised", "bright" or "carbon", which are one here, "stainless", or None for all. Range: constructions with a row; no
    row stands for 3x7, nor for stainless cable with a fibre core. Errors: `Refusal` for any other.
    Source: textbook 1983, Table 18.7 (read, second-hand); EN 1993-1-11 Table 3.1 and a users manual, from memory.

    >>> found = modulus_n_mm2("7x19", "carbon")
    >>> found.low, found.high, found.from_memory
    (82700.0, 110000.0, True)
    """
    kind = None if metal is None else _kind(metal)
    built = construction(construction_name).designation
    rows = [row for row in table("elastic_moduli") if row.construction == built and kind in (None, row.metal)]
    if not rows:
        held = sorted({f"{row.construction} {row.metal}" for row in table("elastic_moduli")})
        raise Refusal(f"the modulus of {metal or ''} {built}".replace("  ", " "), ", ".join(held),
                      "ask the maker, or measure a length")
    return _range(min(row.low_gpa for row in rows) * 1000, max(row.high_gpa for row in rows) * 1000, "N/mm2", rows)


def elastic_stretch_mm(force_n: float, length_mm: float, area_mm2: float, construction_name: str,
                       metal: str | None = None) -> Range:
    """How much a cable lengthens under load and comes back, in mm, as a range: F L / (E A).

    `force_n`: force in N. `length_mm`: length in mm. `area_mm2`: metallic area in mm2 (`metallic_area_mm2`).
    `metal` as for `modulus_n_mm2`. Range: up to 900 N/mm2 on the metal; beyond, a cable does not
    come back. Errors: `Refusal` outside, and for a construction without a modulus.
    Source: Hooke's law (statics); moduli as in `modulus_n_mm2`.

    >>> stretch = elastic_stretch_mm(1600, 10_000, 4.2, "7x19", "carbon")
    >>> round(stretch.low, 1), round(stretch.high, 1)
    (34.6, 46.1)
    """
    force, length = above_zero(force_n, "the force", "N"), above_zero(length_mm, "the length", "mm")
    area, modulus = above_zero(area_mm2, "the metallic area", "mm2"), modulus_n_mm2(construction_name, metal)
    most = float(constant("highest elastic stress").value)
    if force / area > most:
        raise Refusal(f"{force / area:.0f} N on every mm2 of metal", f"at most {most:g} N/mm2",
                      "take a lower force or a larger cable: beyond this nothing springs back")
    give = force * length / area
    return Range(give / modulus.high, give / modulus.low, "mm", modulus.sources, modulus.from_memory,
                 "the modulus scatters: allow for the whole range, and measure where it matters")


def constructional_stretch_mm(length_mm: float, construction_name: str) -> Range:
    """How much a new cable lengthens for good while its strands bed in, in mm, as a range.

    `length_mm`: length in mm. Range: strands round a strand or a fibre core. Errors: `Refusal` for 1x7, 1x19, 3x7.
    Source: wire rope users manual, stretch table, from memory: allow for it, retension, accept nothing by it.

    >>> settling = constructional_stretch_mm(10_000, "7x19")
    >>> settling.low, settling.high, settling.from_memory
    (25.0, 50.0, True)
    """
    length, built = exact(above_zero(length_mm, "the length", "mm")), construction(construction_name)
    for row in table("constructional_stretch"):
        if row.core == built.core:
            low, high = (float(length * exact(part) / 100) for part in (row.low_percent, row.high_percent))
            return _range(low, high, "mm", [row], "from memory: look again after the first full load or the first week")
    raise Refusal(f"the constructional stretch of {built.designation}", "7x7, 7x19, 6x7, 6x19", "ask the maker, or measure after the first load")


def thermal_change_mm(length_mm: float, change_c: float, metal: str) -> Range:
    """How much a free cable lengthens (or, below zero, shortens) when its temperature changes, in mm.

    `length_mm`: length in mm. `change_c`: change in degrees Celsius, -200 to 200. `metal`: galvanised, bright,
    carbon or stainless.
    Errors: `Refusal` outside. `low` is never above `high`.
    Source: University Physics 2, table of coefficients (steel, read); stainless from memory.

    >>> thermal_change_mm(10_000, 30, "carbon").high
    3.6
    """
    length, change = exact(above_zero(length_mm, "the length", "mm")), exact(change_c)
    if not -200 <= change <= 200:
        raise Refusal(f"a change of {float(change):g} degrees Celsius", "-200 to 200", "give the change, not the temperature")
    rows = [row for row in table("thermal_expansion") if row.metal == _kind(metal)]
    ends = [length * change * exact(part) / 10**6 for part in (rows[0].low_per_million_c, rows[0].high_per_million_c)]
    return _range(float(min(ends)), float(max(ends)), "mm", rows)


def bend_illustration(bend_ratio: float) -> Range:
    """The share of its straight strength that a cable is said to keep over a bend: to look at, never to rate with.

    `bend_ratio`: bend diameter over cable diameter, a pure number, 1 to 40. On a row of the curve both ends are that
    row; between two rows they are the two rows: nothing is read in between. Errors: `Refusal` outside.
    Source: wire rope users manual, bending curve, from memory.

    >>> bend_illustration(2).low, (bend_illustration(5).low, bend_illustration(5).high)
    (0.65, (0.75, 0.79))
    """
    ratio, rows = exact(bend_ratio), table("bend_curve")
    least, most = rows[0].bend_ratio, rows[-1].bend_ratio
    if not least <= ratio <= most:
        raise Refusal(f"a bend of {float(ratio):g} diameters", f"{least:g} to {most:g}", "look at a bend that the curve holds")
    below = max((row for row in rows if row.bend_ratio <= ratio), key=lambda row: row.bend_ratio)
    above = min((row for row in rows if row.bend_ratio >= ratio), key=lambda row: row.bend_ratio)
    return _range(_share(below), _share(above), "of the straight strength", [below, above], BEND_CAUTION)


def _kind(metal: str) -> str:
    if not isinstance(metal, str) or metal not in METALS_THAT_STRETCH:
        raise Refusal(f"the metal {said(metal)}", ", ".join(METALS_THAT_STRETCH), "read the metal from the reel's label")
    return METALS_THAT_STRETCH[metal]


def _share(row: Row) -> float:
    return float(exact(row.share_percent) / Fraction(100))


def _range(low: float, high: float, unit: str, rows: list[Row], note: str = "") -> Range:
    sources = tuple(dict.fromkeys(f"{row.cited} ({row.how_known})" for row in rows))
    return Range(low, high, unit, sources, any(row.how_known == "from memory" for row in rows), note)
