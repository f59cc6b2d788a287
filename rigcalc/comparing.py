"""A sleeve against clips for one size, fair to both: strength, parts, cable, weight, bulk, time, upkeep, cost, and what each cannot do."""

from __future__ import annotations

from fractions import Fraction

from rigcalc._given import of_kind, said
from rigcalc._records import record
from rigcalc.cable import breaking_force, sleeve_construction
from rigcalc.clips import ClipPlan, ClipRow, clip_plan, where_forbidden
from rigcalc.errors import Refusal
from rigcalc.layout import least_tail_mm
from rigcalc.reference import constant
from rigcalc.units import INCH_MM, exact, size_inches

__all__ = ["Compared", "Comparison", "Measured", "Prices", "sleeve_against_clips"]

COMMON = "common practice"
THE_SHOPS = "the shop's own figures"


@record
class Prices:
    """The shop's own prices for one size, each None where the shop gave none: a piece, a metre of cable, a minute."""

    sleeve: float | None = None
    clip: float | None = None
    thimble: float | None = None
    cable_per_m: float | None = None
    minute: float | None = None
    currency: str = ""

    def __post_init__(self) -> None:
        _refuse_negative(self)


@record
class Measured:
    """What the shop measured for one size, each None where it did not: lengths in mm, masses in kg, times in minutes."""

    sleeve_before_mm: float | None = None
    sleeve_kg: float | None = None
    clip_kg: float | None = None
    cable_kg_per_m: float | None = None
    sleeve_minutes: float | None = None
    clip_minutes: float | None = None

    def __post_init__(self) -> None:
        _refuse_negative(self)


@record
class Compared:
    """One line: figures where there are any (None where the shop gave none), words, and which is better off."""

    about: str
    sleeve: float | None
    clips: float | None
    unit: str
    sleeve_says: str
    clips_says: str
    better: str
    source: str


@record
class Comparison:
    """A sleeve against clips for one size, line by line, a case for each, and notes. Nothing is summed up."""

    size: str
    rows: tuple[Compared, ...]
    case_for_sleeve: str
    case_for_clips: str
    notes: tuple[str, ...]
    teaching_only: bool


def _refuse_negative(record: object) -> None:
    from dataclasses import fields

    for field in fields(record):
        value = getattr(record, field.name)
        if field.name != "currency" and value is not None and exact(value) < 0:
            raise Refusal(f"{said(value)} for {field.name}", "0 or more", "leave it out where it is not known")


def sleeve_against_clips(size: str, construction: str, metal: str, drop_forged: bool, row: ClipRow | None = None,
                         prices: Prices | None = None, measured: Measured | None = None, certificate_n: float | None = None,
                         certificate: str | None = None) -> Comparison:
    """One sleeve and a set of clips side by side, for one end with a thimble on one cable.

    Parameters: inch size, construction and metal of the cable; whether the clips are drop-forged; the clip maker's row; the
    shop's prices and measured figures; the reel's breaking force in N with the certificate's name.
    A figure that rests on something the shop did not give is None, and the line says what is missing.
    Errors: `Refusal` for a size without a clip row, or a cable that no sleeve fits or no table knows.
    Source: strength: the cable's table or certificate, 0.90 common practice, 0.80 TM 5-3810-305-10; clips: `clip_plan`;
    times: common practice unless the shop's; the rest common practice and geometry.

    >>> found = sleeve_against_clips("1/8", "7x19", "galvanised", drop_forged=True)
    >>> [(row.about, row.better) for row in found.rows][:3]
    [('strength', 'sleeve'), ('parts', 'sleeve'), ('cable used', 'not known')]
    """
    sleeve_construction(construction)
    prices = Prices() if prices is None else of_kind(prices, Prices, "the shop's prices")
    measured = Measured() if measured is None else of_kind(measured, Measured, "what the shop measured")
    plan = clip_plan(size, drop_forged, row)
    force = breaking_force(size, construction, metal, certificate_n, certificate)
    used = _used_mm(size, measured), plan.turnback_mm
    minutes = _minutes(measured)
    rows = (_strength(force.force_n, force.source, plan), _parts(plan), _cable(used, plan), _weight(used, plan, measured),
            *_words(plan), _time(minutes), _cost(used, minutes, plan, prices))
    return Comparison(size, rows, "Many equal pieces made at a bench, with smooth ends near hands, cloth or plants.",
                      "One length set on site, adjusted or taken apart later, or a size that no tool in the shop closes.",
                      _notes(metal, plan), plan.teaching_only)


def _compared(about: str, pair: tuple, unit: str, says: tuple[str, str], source: str, more_is_better: bool = False) -> Compared:
    sleeve, clips = pair
    if sleeve is None or clips is None:
        better = "not known"
    elif sleeve == clips:
        better = "neither"
    else:
        better = "sleeve" if (sleeve > clips) == more_is_better else "clips"
    return Compared(about, sleeve, clips, unit, *says, better, source)


# --- lines with figures -----------------------------------------------------------------------

def _strength(force_n: float, source: str, plan: ClipPlan) -> Compared:
    eye = constant("eye efficiency")
    pair = float(exact(force_n) * eye.value), float(exact(force_n) * exact(plan.efficiency))
    return _compared("strength", pair, "N", (f"{float(eye.value):g} of the breaking force, every crimp gauged",
                                             f"{plan.efficiency:g} of the breaking force, every nut at its torque"),
                     f"{source}; {eye.source}; TM 5-3810-305-10, Table 4, p 4-36", more_is_better=True)


def _parts(plan: ClipPlan) -> Compared:
    return _compared("parts", (2, plan.number + 1), "pieces", ("a sleeve and a thimble", f"{plan.number} clips and a thimble"), plan.source)


def _used_mm(size: str, measured: Measured) -> float | None:
    if measured.sleeve_before_mm is None:
        return None
    return float(exact(measured.sleeve_before_mm) + exact(least_tail_mm(float(size_inches(size) * INCH_MM))))


def _cable(used: tuple, plan: ClipPlan) -> Compared:
    says = ("the sleeve before pressing and a tail of two diameters; the loop is the same" if used[0] is not None
            else "not known: the sleeve's length stands in its maker's chart")
    return _compared("cable used", used, "mm", (says, "the turnback"), f"{COMMON}; {plan.source}")


def _weight(used: tuple, plan: ClipPlan, measured: Measured) -> Compared:
    metre = measured.cable_kg_per_m
    pair = tuple(_sum(((count, kg), (None if length is None else exact(length) / 1000, metre)))
                 for count, kg, length in ((1, measured.sleeve_kg, used[0]), (plan.number, measured.clip_kg, used[1])))
    says = tuple("end fitting and the cable it takes, thimble left out" if kg is not None else "not known: weigh one"
                 for kg in pair)
    return _compared("weight", pair, "kg", says, THE_SHOPS)


def _sum(parts: tuple) -> float | None:
    """Quantity times figure, added up; None as soon as one of them is not known."""
    if any(quantity is None or figure is None for quantity, figure in parts):
        return None
    return float(sum((exact(quantity) * exact(figure) for quantity, figure in parts), Fraction(0)))


def _minutes(measured: Measured) -> tuple[float, float, bool]:
    """Minutes for one sleeve and one set of clips, and whether both are the shop's."""
    sleeve = measured.sleeve_minutes if measured.sleeve_minutes is not None else float(constant("time for two pressed eyes").value / 2)
    clips = measured.clip_minutes if measured.clip_minutes is not None else float(constant("time for one clipped end").value)
    return sleeve, clips, None not in (measured.sleeve_minutes, measured.clip_minutes)


def _time(minutes: tuple[float, float, bool]) -> Compared:
    own = THE_SHOPS if minutes[2] else f"{COMMON}, an allowance with every check; the shop's own times are better"
    return _compared("time", minutes[:2], "min", ("cut, press and gauge one end", "cut, fit, tighten, load and tighten again"), own)


def _cost(used: tuple, minutes: tuple[float, float, bool], plan: ClipPlan, prices: Prices) -> Compared:
    pair, says = [], []
    for count, what, price, length, time in ((1, "sleeve", prices.sleeve, used[0], minutes[0]),
                                             (plan.number, "clip", prices.clip, used[1], minutes[1])):
        needed = {what: (count, price), "thimble": (1, prices.thimble), "minute": (time, prices.minute),
                  "metre of cable": (None if length is None else exact(length) / 1000, prices.cable_per_m)}
        missing = [name for name, (_, figure) in needed.items() if figure is None]
        pair.append(_sum(tuple(needed.values())))
        says.append(f"no price for: {', '.join(missing)}" if missing else
                    "the cable used is not known" if length is None else "parts, cable and time at the shop's prices")
    return _compared("cost", tuple(pair), prices.currency, tuple(says), f"the shop's own prices; times: {THE_SHOPS if minutes[2] else COMMON}")


# --- lines in words ---------------------------------------------------------------------------

def _words(plan: ClipPlan) -> tuple[Compared, ...]:
    lines = (
        ("bulk and snagging", "short and smooth; the tail's wires can prick", "bolts, nuts and a dead end stand out and catch", "sleeve", COMMON),
        ("upkeep", "look at both mouths and the witness mark", "look, and tighten again after the first load and at every interval",
         "sleeve", "common practice; WAC 296-155-33915"),
        ("what can be seen later", "the inside is hidden: corrosion and a wrong metal do not show", "everything can be seen and checked with a wrench",
         "clips", COMMON),
        ("undoing and adjusting", "permanent: cut off and thrown away, the length fixed", "undone, moved, used to take up slack", "clips", COMMON),
        ("tools", "the tool, cavity and gauge for this size and metal", "a torque wrench", "clips", COMMON),
        ("where forbidden", "lifting, people, aircraft, vehicles: hand-pressed work is refused",
         " ".join(rule.says for rule in where_forbidden()) + " Lifting and people are refused here with clips too.", "neither",
         "workbook judgement; " + "; ".join(rule.source for rule in where_forbidden())),
    )
    return tuple(Compared(about, None, None, "", sleeve, clips, better, source) for about, sleeve, clips, better, source in lines)


def _notes(metal: str, plan: ClipPlan) -> tuple[str, ...]:
    notes = list(plan.notes)
    if metal == "stainless":
        notes.append("The sleeve for stainless is plated copper: 0.90 is carried over to it, so a real sheet names the maker's figure or the shop's pulled lot.")
    return tuple(notes)
