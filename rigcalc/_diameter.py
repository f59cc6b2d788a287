"""Sizes, what a caliper reads over crowns and flats, and which cables a reading could be."""

from __future__ import annotations

import math

from rigcalc._given import among, said
from rigcalc._records import record
from rigcalc._section import above_zero
from rigcalc.errors import Refusal
from rigcalc.reference import constant, table
from rigcalc.units import INCH_MM, either_side, exact, size_inches

__all__ = ["Possibility", "SizeReading", "band_mm", "flats_mistaken_for", "flats_reading_mm", "metric_band_mm",
           "metric_sizes_agreeing", "neighbours", "possible_sizes", "sizes", "sizes_agreeing"]

LEAST_LEFT = constant("least of a worn cable").value
ACROSS = ("crowns", "flats", "unknown")


@record
class Possibility:
    """One thing a reading can mean: its kind, the sizes by name (none where no name can be given), and why."""

    kind: str
    sizes: tuple[str, ...]
    why: str
    source: str
    how_known: str


@record
class SizeReading:
    """A caliper reading in mm, how it was taken, and everything it can mean. None is chosen: a label decides.

    `mistaken_for` are the sizes that the figure would be taken for by somebody who believes it stands over the crowns.
    """

    reading_mm: float
    across: str
    uncertainty_mm: float
    mistaken_for: tuple[str, ...]
    possibilities: tuple[Possibility, ...]
    do: str = "read the size from the reel's label or certificate; a caliper's reading is not a size"

    def named(self, kind: str) -> tuple[str, ...]:
        """The sizes named under one kind of possibility."""
        return tuple(name for one in self.possibilities if one.kind == kind for name in one.sizes)


def sizes() -> tuple[str, ...]:
    """The inch sizes of the strength table by name, smallest first.

    Source: AC 43.13-1B Table 7-3.

    >>> sizes()[:4]
    ('3/64', '1/16', '3/32', '1/8')
    """
    return tuple(sorted({row.size for row in table("cable_strength")}, key=size_inches))


def neighbours(size_name: str) -> tuple[str | None, str | None]:
    """The next smaller and the next larger size of the table; None where there is none.

    Errors: `UnitError` for what is no inch size. Source: AC 43.13-1B Table 7-3.

    >>> neighbours("7/64"), neighbours("1/8")
    (('3/32', '1/8'), ('3/32', '5/32'))
    """
    return either_side(size_name, sizes())


def band_mm(size_name: str) -> tuple[float, float]:
    """The least and the greatest diameter over the crowns that a size may measure, in mm.

    Aircraft cable is plus-only. Errors: `Refusal` off the table, with the neighbours named.
    Source: AC 43.13-1B Table 7-3, tolerance column.

    >>> [round(edge, 3) for edge in band_mm("1/8")]
    [3.175, 3.531]
    """
    plus = [row.tolerance_plus_in for row in table("cable_strength") if among(size_name, (row.size,))]
    if not plus:
        raise _off_table(size_name)
    least = size_inches(size_name)
    return float(least * INCH_MM), float((least + exact(max(plus))) * INCH_MM)


def sizes_agreeing(reading_mm: float) -> tuple[str, ...]:
    """The sizes whose band holds a reading over the crowns, in mm; empty when none fits (flats, metric, coated, worn).

    Errors: `Refusal` unless the reading is above zero. Source: AC 43.13-1B Table 7-3, tolerance column.

    >>> sizes_agreeing(3.30), sizes_agreeing(3.00)
    (('1/8',), ())
    """
    return _inch_sizes(*_interval(reading_mm, 0.0))


def flats_reading_mm(diameter_mm: float) -> float:
    """What a caliper reads, in mm, across the flats of a cable with six outer strands: (1 + sqrt 3) / 3 of the crowns.

    `diameter_mm` is over the crowns, in mm. Errors: `Refusal` unless it is above zero.
    Source: geometry, six equal strands round one (0.911 d).

    >>> round(flats_reading_mm(4.7625) / 25.4, 3)
    0.171
    """
    return above_zero(diameter_mm, "the diameter", "mm") * _flats_share()


def _flats_share() -> float:
    return (1 + math.sqrt(3)) / 3


def flats_mistaken_for(size_name: str) -> str | None:
    """The size that a nominal cable would be taken for when it is measured across its flats; None when none fits.

    Errors: `Refusal` off the table, with the neighbours named.
    Source: geometry (0.911 d) held against the bands of AC 43.13-1B Table 7-3.

    >>> flats_mistaken_for("3/16"), flats_mistaken_for("3/8")
    ('5/32', None)
    """
    found = sizes_agreeing(flats_reading_mm(band_mm(size_name)[0]))
    return found[0] if found else None


def metric_band_mm(nominal_mm: float) -> tuple[float, float]:
    """The least and the greatest diameter over the crowns of a metric size, in mm; plus only.

    `nominal_mm` in mm. Range: the sizes of the table (2, 3, 4, 5, 6, 8, 10). Errors: `Refusal` for any other.
    Source: ISO 10425 Table C.1 from 6 mm (6x7; taken for other constructions too); below that EN 12385-4, from memory.

    >>> [round(edge, 2) for edge in metric_band_mm(6)]
    [6.0, 6.36]
    """
    nominal = exact(nominal_mm)
    for row in table("metric_sizes"):
        if exact(row.nominal_mm) == nominal:
            return float(nominal), float(nominal * (1 + exact(row.plus_percent) / 100))
    raise Refusal(f"the metric size {float(nominal):g} mm", ", ".join(f"{row.nominal_mm:g}" for row in table("metric_sizes")) + " mm",
                  "read the size from the reel's label")


def metric_sizes_agreeing(reading_mm: float, uncertainty_mm: float = 0.0) -> tuple[str, ...]:
    """The metric sizes whose band holds a reading over the crowns, as names such as "6 mm".

    `reading_mm` and `uncertainty_mm` in mm. Errors: `Refusal` unless the reading is above zero.
    Source: the tolerances of `metric_band_mm` (ISO 10425 Table C.1; smaller ones from memory).

    >>> metric_sizes_agreeing(6.01)
    ('6 mm',)
    """
    low, high = _interval(reading_mm, uncertainty_mm)
    return tuple(f"{row.nominal_mm:g} mm" for row in table("metric_sizes") if _meet(metric_band_mm(row.nominal_mm), low, high))


def possible_sizes(reading_mm: float, across: str = "unknown", uncertainty_mm: float = 0.0) -> SizeReading:
    """Everything a caliper reading can mean, named and never chosen: inch, flats, metric, coated, worn.

    `reading_mm`: the reading in mm. `across`: "crowns", "flats" or "unknown". `uncertainty_mm`: by how much the
    caliper may be wrong either way, in mm; sizes whose band the interval touches are named.
    Worn is named only where half of a size or more is left. Errors: `Refusal` for another word, a reading not above zero, an
    uncertainty below zero or above the reading.
    Source: AC 43.13-1B Table 7-3 (inch bands); geometry (flats); ISO 10425 Table C.1 and, below 6 mm, from memory
    (metric); common practice (coated, worn).

    >>> found = possible_sizes(flats_reading_mm(4.7625))
    >>> found.mistaken_for, found.named("inch size across its flats")
    (('5/32',), ('3/16',))
    """
    if not among(across, ACROSS):
        raise Refusal(f"a reading across {said(across)}", ", ".join(ACROSS), "say over what the jaws stood")
    low, high = _interval(reading_mm, uncertainty_mm)
    share = _flats_share()
    over = [] if across == "flats" else [_over_crowns(low, high)]
    flat = [] if across == "crowns" else [_over_flats(low, high)]
    taken = (low / share, high / share) if across == "flats" else (low, high)
    metric = _metric(low, high, across)
    found = tuple(one for one in (*over, *flat, *metric) if one.sizes) + (_coated(low), *_worn(taken[0]))
    return SizeReading(float(exact(reading_mm)), across, float(exact(uncertainty_mm)), _inch_sizes(low, high), found)


def _over_crowns(low: float, high: float) -> Possibility:
    return Possibility("inch size over its crowns", _inch_sizes(low, high), "the reading lies in the size's band",
                       "AC 43.13-1B, Table 7-3, tolerance column", "read")


def _over_flats(low: float, high: float) -> Possibility:
    return Possibility("inch size across its flats", _inch_sizes(low / _flats_share(), high / _flats_share()),
                       "a cable with six outer strands reads 0.911 of its diameter across the flats: "
                       "turn it until the caliper reads most", "geometry, six equal strands round one", "computed")


def _metric(low: float, high: float, across: str) -> list[Possibility]:
    """Each metric size apart, because the smaller ones' tolerance is from memory."""
    spans = {"crowns": [(low, high, "over its crowns")], "flats": [(low / _flats_share(), high / _flats_share(), "across its flats")]}
    taken = spans.get(across, spans["crowns"] + spans["flats"])
    return [Possibility(f"metric size {how}", (f"{row.nominal_mm:g} mm",), "metric cable is another cable: no inch sleeve is charted for it",
                        row.cited, row.how_known)
            for least, most, how in taken for row in table("metric_sizes") if _meet(metric_band_mm(row.nominal_mm), least, most)]


def _coated(low: float) -> Possibility:
    smaller = tuple(name for name in sizes() if band_mm(name)[0] < low)
    return Possibility("outside of a coating", smaller, "a coat hides a smaller core: strip a piece and measure the bare cable",
                       "common practice, coated cable", "common practice")


def _worn(low: float) -> tuple[Possibility, ...]:
    above = [name for name in sizes() if band_mm(name)[0] > low + 1e-9][:1]
    above = [name for name in above if low > float(LEAST_LEFT) * band_mm(name)[0]]
    why = "wear, stretch or a squeezed place makes a cable thinner: measure a new, unloaded part of it"
    return tuple(Possibility("worn or stretched", (name,), why, "common practice, measuring", "common practice") for name in above)


def _interval(reading_mm: float, uncertainty_mm: float) -> tuple[float, float]:
    reading, doubt = above_zero(reading_mm, "the reading", "mm"), float(exact(uncertainty_mm))
    if not 0 <= doubt < reading:
        raise Refusal(f"the uncertainty {doubt:g} mm", "0 mm or more, less than the reading", "take it from the caliper's certificate")
    return reading - doubt, reading + doubt


def _inch_sizes(low: float, high: float) -> tuple[str, ...]:
    return tuple(name for name in sizes() if _meet(band_mm(name), low, high))


def _meet(band: tuple[float, float], low: float, high: float) -> bool:
    dust = 1e-9  # of floating point, at a band's edge
    return band[0] - dust <= high and low <= band[1] + dust


def _off_table(size_name: str) -> Refusal:
    names = [name for name in neighbours(size_name) if name]
    return Refusal(f"the size {size_name}", " or ".join(names), "take a size that the table holds")
