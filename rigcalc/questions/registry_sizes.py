"""Calculations of sizes and of caliper readings that families of lesson 01 name."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from typing import Any

from rigcalc.errors import Refusal
from rigcalc.questions.registry import _calculation, _strength_rows, size_beside
from rigcalc.questions.template import half_up_to_hundredths

__all__: list[str] = []


@_calculation
def size_mm(size: str) -> float:
    """The nominal diameter of an inch size, in mm, to 0.01 mm."""
    from rigcalc.units import INCH_MM

    return half_up_to_hundredths(float(Fraction(size) * INCH_MM))


@_calculation
def size_said(size: str) -> str:
    """The nominal diameter of an inch size in mm, to 0.01 mm, as an option shows it."""
    return f"{size_mm(size):.2f}"


@_calculation
def size_read_as_figures_said(size: str) -> str:
    """An inch size whose figures are read as a decimal number of mm, 3/16 as 3.16, as an option shows it."""
    return f"{float(size.replace('/', '.')):.2f}"


@_calculation
def flats_said(size: str) -> str:
    """What a caliper reads across the flats of an inch size in mm, to 0.01 mm, as an option shows it."""
    from rigcalc.cable import band_mm, flats_reading_mm

    return f"{float(flats_reading_mm(band_mm(size)[0])):.2f}"


@_calculation
def size_beside_said(size: str, steps: int) -> str:
    """The nominal diameter in mm of the size so many steps up (or down) the table, as an option shows it."""
    return size_said(size_beside(size, steps))


@_calculation
def size_with_inch_of_said(size: str, inch_mm: float) -> str:
    """The diameter of an inch size of somebody who takes an inch for so many mm, as an option shows it."""
    return f"{half_up_to_hundredths(float(Fraction(size)) * inch_mm):.2f}"


@_calculation
def inches_mm(inches: float) -> float:
    """A length in inches, in mm."""
    from rigcalc.units import INCH_MM

    return float(Fraction(str(inches)) * INCH_MM)


CLEAR_MM = 0.035  # a reading nearer than this to a band's edge is not asked about


@_calculation
def reading_meanings(reading_mm: float, core: str) -> list[dict[str, str]]:
    """What a reading of unknown place may be said to mean: two sizes over crowns, two over flats, a metric one, a coat.

    The coat's core is 'thinner' than the reading (the largest size that leaves room for a coat) or 'thicker'. Refuses a reading that lies within 0.035 mm of the edge of any of their bands.
    """
    found = _meanings(reading_mm, core, _strength_rows())
    if found is None:
        raise Refusal(f"the reading {reading_mm:g} mm", "a reading well inside or outside a band", "take another")
    return [dict(one) for one in found]


@lru_cache(maxsize=2048)
def _meanings(reading_mm: float, core: str, rows: tuple) -> tuple[dict[str, str], ...] | None:
    """The meanings, kept as long as the table's rows stand; None where the reading is not clear of a band's edge."""
    try:
        return tuple(_worked_meanings(reading_mm, core))
    except Refusal:
        return None


def _worked_meanings(reading_mm: float, core: str) -> list[dict[str, str]]:
    from rigcalc.cable import band_mm, flats_reading_mm, metric_band_mm

    share = float(flats_reading_mm(1.0))
    found = [_meaning(size, "crowns", f"the crowns of {size}", band_mm(size), reading_mm) for size in _nearest(reading_mm)]
    found += [_meaning(size, "flats", f"both flats of {size}", [share * edge for edge in band_mm(size)], reading_mm)
              for size in _nearest(reading_mm / share)]
    metric = 6 if reading_mm < 7 else 8
    found.append(_meaning(f"{metric} mm", "metric", f"the crowns of {metric} mm", metric_band_mm(metric), reading_mm))
    size = _core(reading_mm, core)
    found.append(_meaning(size, "coated", f"a coat around {size}", (band_mm(size)[1], 99.0), reading_mm))
    return found


def _core(reading_mm: float, core: str) -> str:
    """The largest size that is thinner than a reading by a coat of 0.4 mm or more, or the smallest that is thicker."""
    from rigcalc.cable import band_mm, sizes

    if core == "thinner":
        return [size for size in sizes() if band_mm(size)[1] + 0.8 < reading_mm][-1]
    return next(size for size in sizes() if band_mm(size)[0] > reading_mm)


def _nearest(diameter_mm: float) -> list[str]:
    """The two sizes whose bands lie nearest, smaller first."""
    from rigcalc.cable import band_mm, sizes

    return sorted(sorted(sizes(), key=lambda size: abs(sum(band_mm(size)) / 2 - diameter_mm))[:2], key=Fraction)


def _meaning(size: str, kind: str, said: str, band: Any, reading_mm: float) -> dict[str, str]:
    if any(abs(reading_mm - edge) < CLEAR_MM for edge in band):
        raise Refusal(f"the reading {reading_mm:g} mm", "a reading well inside or outside a band", "take another")
    inside = band[0] < reading_mm < band[1]
    told = {"crowns": "compare the reading with the band of that size", "flats": "multiply that size's band by 0.911 first",
            "metric": "compare it with the metric band", "coated": "a coat can only make a cable thicker than its core"}
    feedback = f"{said[:1].upper()}{said[1:]}: {'possible' if inside else 'not possible'}; {told[kind]}."
    return {"en": said, "kind": kind, "size": size, "id": f"meaning-{kind}", "there": "yes" if inside else "no",
            "feedback": feedback}


@_calculation
def inch_bands_said(system: str) -> str:
    """The bands over the crowns of every inch size, in a shop's units, as they stand on the page."""
    from rigcalc.cable import band_mm, sizes
    from rigcalc.units import INCH_MM

    by, places, unit = (float(INCH_MM), 3, "in") if system == "US" else (1.0, 2, "mm")
    bands = {size: [edge / by for edge in band_mm(size)] for size in sizes()}
    return "; ".join(f"{size}: {low:.{places}f} to {high:.{places}f} {unit}" for size, (low, high) in bands.items())


@_calculation
def bands_said(meanings: list[dict[str, str]], system: str) -> str:
    """The bands over the crowns of the inch and metric sizes among the meanings, as they stand on the page."""
    from rigcalc.cable import band_mm, metric_band_mm
    from rigcalc.units import INCH_MM

    names = sorted({one["size"] for one in meanings if one["kind"] != "metric"}, key=Fraction)
    said = []
    for name in names:
        low, high = band_mm(name)
        inch = f"{low / float(INCH_MM):.3f} to {high / float(INCH_MM):.3f} in"
        said.append(f"{name} {inch if system == 'US' else f'{low:.2f} to {high:.2f} mm'}")
    metric = next(one["size"] for one in meanings if one["kind"] == "metric")
    low, high = metric_band_mm(int(metric.split()[0]))
    inch = f"{low / float(INCH_MM):.3f} to {high / float(INCH_MM):.3f} in, "
    return "; ".join([*said, f"{metric} {inch if system == 'US' else ''}{low:.2f} to {high:.2f} mm"])


@_calculation
def believed_over_crowns(meanings: list[dict[str, str]]) -> list[str]:
    """Of the meanings, the inch size over its crowns alone; refuses where there is none, or only one other meaning."""
    there = [one for one in meanings if one["there"] == "yes"]
    found = [one["en"] for one in there if one["kind"] == "crowns"]
    if not found or len(there) < 3:
        raise Refusal(f"a reading with {len(there)} meanings", "a size over its crowns and two others", "take another")
    return found
