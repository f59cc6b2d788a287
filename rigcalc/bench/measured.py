"""Measured values against their limits: lengths compared in mm, forces in N, each shown as it was typed."""

from __future__ import annotations

from fractions import Fraction

from rigcalc.errors import Refusal
from rigcalc.units import read_force_n, read_length_mm

__all__ = ["measured_values", "within_limit", "wrong_because"]

FORCE_UNITS = ("lbf", "N", "kN")


def measured_values(live: list[dict], candidate: str, piece: int, item: dict) -> list[dict | None]:
    """The last value of each part of one line, or None where none was typed.

    Each is ``{"part", "typed", "unit", "instrument", "shown", "base"}``: `shown` as it was typed, for another unit's rounding
    could contradict the limit's; `base` exact, in mm or N.
    """
    values: list[dict | None] = [None] * len(item["limit"]["parts"])
    for event in live:
        if event["kind"] != "measured" or (event["candidate"], event["piece"], event["item"]) != (candidate, piece, item["key"]):
            continue
        read = read_force_n if event["unit"] in FORCE_UNITS else read_length_mm
        try:
            reading = read(f"{event['value']} {event['unit']}")
        except Refusal:
            continue
        values[event["part"]] = {"part": item["limit"]["parts"][event["part"]], "typed": event["value"], "unit": event["unit"],
                                 "instrument": event["instrument"], "shown": f"{event['value'].strip()} {event['unit']}", "base": Fraction(reading.value)}
    return values


def within_limit(limit: dict, values: list[dict | None]) -> bool | None:
    """Whether every value keeps its limit; None while one is missing.

    Example
    -------
    >>> within_limit({"rule": "tail before", "least_mm": 6.35}, [{"base": Fraction("6.4")}])
    True
    >>> within_limit({"rule": "tail after", "above_mm": 0.0}, [{"base": Fraction(0)}])
    False
    """
    if any(value is None for value in values):
        return None
    bases = [value["base"] for value in values]
    return _RULES[limit["rule"]](limit, bases)


def wrong_because(limit: dict, values: list[dict]) -> list[str]:
    """What is wrong with a diameter or a tail of which every value was typed, in words; nothing where the limit alone says it.

    Example
    -------
    >>> read = [{"base": Fraction(4), "shown": "4.00 mm"}, {"base": Fraction("4.01"), "shown": "4.01 mm"}]
    >>> wrong_because({"rule": "near the assessor's", "within_mm": 0.05, "size": "1/16", "band_mm": [1.5375, 1.8915]}, read)
    ['4.01 mm is no 1/16 cable']
    >>> wrong_because({"rule": "tail after", "above_mm": 0.0, "most_mm": 500.0}, [{"base": Fraction(900), "shown": "900 mm"}])
    ['900 mm is no tail of a piece of 500 mm']
    """
    if "most_mm" in limit:
        return [f"{value['shown']} is no tail of a piece of {limit['most_mm']:g} mm" for value in values if not _below(limit, value["base"])]
    if "band_mm" not in limit:
        return []
    bases, (theirs, yours) = [value["base"] for value in values], [value["shown"] for value in values]
    apart = [] if _agree(limit, bases) else [f"{theirs} and {yours} are not near each other"]
    return apart + ([] if _in_band(limit, bases) else [f"{yours} is no {limit['size']} cable"])


def _exact(number: float) -> Fraction:
    """A limit as it is written: 0.05 is five hundredths, not the nearest binary number."""
    return Fraction(str(number))


def _near(limit: dict, bases: list[Fraction]) -> bool:
    return _agree(limit, bases) and _in_band(limit, bases)


def _agree(limit: dict, bases: list[Fraction]) -> bool:
    return abs(bases[0] - bases[1]) <= _exact(limit["within_mm"])


def _in_band(limit: dict, bases: list[Fraction]) -> bool:
    """Whether the assessor's reading is one of the form's cable; forms opened before this was asked hold no band."""
    return "band_mm" not in limit or _exact(limit["band_mm"][0]) <= bases[1] <= _exact(limit["band_mm"][1])


def _below(limit: dict, base: Fraction) -> bool:
    """Whether a tail is shorter than its whole piece; forms opened before this was asked hold no such length."""
    return "most_mm" not in limit or base < _exact(limit["most_mm"])


def _gaps(limit: dict, bases: list[Fraction]) -> bool:
    mean = sum(bases) / len(bases)
    even = all(abs(base - mean) <= _exact(limit["within_mm"]) for base in bases)
    return even and (not limit["least_mm"] or min(bases) >= _exact(limit["least_mm"]))


def _pull(limit: dict, bases: list[Fraction]) -> bool:
    # The load asked for may carry a binary tail from pounds to newtons: a thousandth of a newton is no load.
    return bases[0] >= _exact(limit["least_n"]) - Fraction(1, 1000)


def _about(limit: dict, bases: list[Fraction]) -> bool:
    return abs(bases[0] - _exact(limit["target_mm"])) <= _exact(limit["within_mm"])


_RULES = {"near the assessor's": _near, "tail before": lambda limit, bases: all(base >= _exact(limit["least_mm"]) and _below(limit, base) for base in bases),
          "tail after": lambda limit, bases: all(base > _exact(limit["above_mm"]) and _below(limit, base) for base in bases),
          "gaps": _gaps, "pin to pin": _about, "pull load": _pull}
