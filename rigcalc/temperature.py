"""Temperature: the least that cable, sleeve and coat stand; outside common practice the makers answer."""

from __future__ import annotations

from fractions import Fraction

from rigcalc._given import among, of_kind, said
from rigcalc._records import record
from rigcalc.errors import Refusal
from rigcalc.reference import Row, constant, table
from rigcalc.units import exact

__all__ = ["COATS", "HIGHEST_C", "LOWEST_C", "Stands", "TemperatureRange", "published_temperatures", "refuse_temperature",
           "temperature_range"]

LOWEST_C: Fraction = constant("lowest temperature").value
HIGHEST_C: Fraction = constant("highest temperature").value
COATS = ("none", "MIL-DTL-83420 type II", "plain vinyl", "other")


@record
class Stands:
    """What a maker says that a part stands: lowest and highest in degrees Celsius, and who says so."""

    lowest_c: float
    highest_c: float
    said_by: str


@record
class TemperatureRange:
    """Lowest and highest in degrees Celsius for the whole piece, what sets each, and what is not known."""

    lowest_c: float
    highest_c: float
    lowest_from: str
    highest_from: str
    notes: tuple[str, ...]


def published_temperatures() -> tuple[Row, ...]:
    """Published limits of other equipment and of coats, in degrees Celsius, for comparison.

    No row speaks for an aluminium or copper sleeve, except one from memory, which accepts nothing.
    Source: each row names its own.

    >>> [row.highest_c for row in published_temperatures() if row.part == "coat, MIL-DTL-83420 type II"]
    [Fraction(93, 1)]
    """
    return table("temperatures")


def temperature_range(cable: Stands | None = None, sleeve: Stands | None = None, coat: str = "none",
                      coat_stands: Stands | None = None) -> TemperatureRange:
    """The range that a piece may hang in, in degrees Celsius: the least of cable, sleeve and coat.

    Parameters: what the makers of cable, sleeve and coat say, each or none; the coat, one of `COATS`. While one
    maker is silent -30 to +60 degrees Celsius (common practice) binds as well; where every maker has answered,
    the least of their answers stands. The +93 of the military coat binds always.
    Errors: `Refusal` for an unknown coat, for a range upside down or unsigned, for parts that share no temperature.
    Source: common practice; MIL-DTL-83420 for the coat of type II.

    >>> found = temperature_range()
    >>> found.lowest_c, found.highest_c, found.highest_from
    (-30.0, 60.0, 'common practice')
    """
    if not among(coat, COATS):
        raise Refusal(f"the coat {said(coat)}", ", ".join(COATS), "read it from the reel's label")
    if coat == "none" and coat_stands is not None:
        raise Refusal("a coat's temperatures for bare cable", "a coat's name with them", "say which coat it is")
    answered = {"cable": cable, "sleeve": sleeve} | ({} if coat == "none" else {"coat": coat_stands})
    lows, highs = _bounds(answered)
    if coat == "MIL-DTL-83420 type II":
        row = next(row for row in published_temperatures() if row.part == f"coat, {coat}")
        highs.append((row.highest_c, row.cited))
    low, high = max(lows), min(highs)
    if low[0] > high[0]:
        raise Refusal(f"parts that share no temperature ({low[1]} from {float(low[0]):g}, {high[1]} to {float(high[0]):g})",
                      "parts that stand the same place", "ask the makers again, or take other parts")
    return TemperatureRange(float(low[0]), float(high[0]), low[1], high[1], _notes(coat, coat_stands))


def _bounds(answered: dict[str, Stands | None]) -> tuple[list, list]:
    lows, highs = [], []
    for part, stands in answered.items():
        if stands is None:
            continue
        of_kind(stands, Stands, f"what the {part} stands")
        low, high = exact(stands.lowest_c), exact(stands.highest_c)
        if low > high or not isinstance(stands.said_by, str) or not stands.said_by.strip():
            raise Refusal(f"{float(low):g} to {float(high):g} degrees Celsius for the {part}, said by {said(stands.said_by)}",
                          "the lower first, and who says so", f"ask the maker of the {part}")
        lows.append((low, f"{part}, {stands.said_by}"))
        highs.append((high, f"{part}, {stands.said_by}"))
    if None in answered.values():
        lows.append((LOWEST_C, constant("lowest temperature").source))
        highs.append((HIGHEST_C, constant("highest temperature").source))
    return lows, highs


def _notes(coat: str, coat_stands: Stands | None) -> tuple[str, ...]:
    notes = ["No published limit for an aluminium or copper sleeve was read: only its maker knows."]
    if coat in ("plain vinyl", "other") and coat_stands is None:
        notes.append(f"The coat ({coat}) stands less than the +93 degrees Celsius of the military coat; how much less only its "
                     "maker knows: ask before it hangs in a warm place.")
    return tuple(notes)


def refuse_temperature(lowest_c: float, highest_c: float, allowed: TemperatureRange | None = None) -> None:
    """Refuses a place colder or warmer than the piece may hang in, in degrees Celsius: ask the makers.

    `lowest_c` and `highest_c` are the coldest and the warmest of the place, in degrees Celsius; `allowed` is the
    piece's own range, -30 to +60 without one. Errors: `Refusal` outside it, or with the two upside down.
    Source: common practice.

    >>> refuse_temperature(-10, 45)
    """
    allowed = temperature_range() if allowed is None else of_kind(allowed, TemperatureRange, "the range that the piece stands")
    low, high = exact(lowest_c), exact(highest_c)
    if low < exact(allowed.lowest_c) or high > exact(allowed.highest_c) or low > high:
        raise Refusal(f"{float(low):g} to {float(high):g} degrees Celsius",
                      f"{float(allowed.lowest_c):g} to {float(allowed.highest_c):g} degrees Celsius",
                      "ask the makers of cable, coat and sleeve")
