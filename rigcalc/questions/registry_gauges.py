"""Calculations on gauges, readings, pieces checked back and removal that families of lesson 07 name."""

from __future__ import annotations

from datetime import date, datetime, time
from typing import Any

from rigcalc.questions.registry import _calculation

__all__: list[str] = []

Record = dict[str, Any]


# --- gauges and readings -----------------------------------------------------------------------------

@_calculation
def fill_percent(cable: str, sleeve: str) -> float:
    """How much of a sleeve a cable fills, as a percentage of the cable it is made for; sizes by name, '6 mm' too."""
    from rigcalc.sleeve import fill

    return 100 * fill(_diameter(cable), sleeve)


@_calculation
def fill_said(cable: str, sleeve: str) -> str:
    """The sums of `fill_percent` in figures: the cable's diameter over the sleeve's size, and that times itself."""
    from rigcalc.questions.template import half_up_to_hundredths
    from rigcalc.units import read_size

    over = f"{cable} ÷ {sleeve}" if "/" in cable else f"{cable} ÷ {half_up_to_hundredths(float(read_size(sleeve).diameter_mm)):.2f} mm"
    share = f"{diameters_percent(cable, sleeve) / 100:.3f}".rstrip("0")
    return f"{over} = {share}; {share} × {share} = {fill_percent(cable, sleeve) / 100:.2f}"


@_calculation
def diameters_percent(cable: str, sleeve: str) -> float:
    """The cable's diameter as a percentage of the sleeve's size: not yet squared."""
    return 100 * (fill_percent(cable, sleeve) / 100) ** 0.5


def _diameter(cable: str) -> str | float:
    return float(cable.removesuffix(" mm")) if cable.endswith(" mm") else cable


@_calculation
def reading_near_mm(limit_mm: float, guard_mm: float, steps: float) -> float:
    """A caliper reading so many guard bands above (or below) a limit, in mm, to 0.01 mm."""
    return round(limit_mm + steps * guard_mm, 2)


@_calculation
def two_places_said(length_mm: float, system: str = "SI") -> str:
    """A length as a caliper shows it, to 0.01 mm; in a US shop to 0.0001 in first."""
    from rigcalc.units import show_measured

    return show_measured(length_mm, system)


@_calculation
def size_sheet_said(known: bool, limit_mm: float, system: str = "SI") -> str:
    """What the drawn maker's sheet says of the size across a crimp, in the shop's units; invented, and it says so."""
    from rigcalc.cautions import INVENTED_GAUGE

    said = (f"across a crimp at most {two_places_said(limit_mm, system)}." if known
            else "count, cavity and gauge slot are given; of the size across a crimp it says nothing.")
    return f"{INVENTED_GAUGE}. The maker's sheet for this sleeve: {said}"


@_calculation
def judged(reading_mm: float, limit_mm: float | None, guard_mm: float) -> str:
    """What a caliper reading says of a greatest size: pass, fail or not proven; where no size is published, that."""
    from rigcalc.gauge import judge_reading

    if not limit_mm:
        return "no size is published"
    return judge_reading(reading_mm, limit_mm, guard_mm, 1, "the drawn sheet").outcome


@_calculation
def judged_where_known(known: bool, reading_mm: float, limit_mm: float, guard_mm: float) -> str:
    """What a reading says of a drawn limit: pass, fail or not proven; without a limit, that no size is published."""
    return judged(reading_mm, limit_mm if known else None, guard_mm)


@_calculation
def guarded_mm(limit_mm: float, guard_mm: float, steps: float) -> float:
    """The limit with so many guard bands added, in mm, to 0.01 mm."""
    return round(limit_mm + steps * guard_mm, 2)


@_calculation
def edges_said(known: bool, low: str, high: str) -> str:
    """The two guarded edges in words, or that there are none."""
    return (f"Up to {low} is a pass, above {high} a fail, between them not proven." if known
            else "The maker publishes no size, so a caliper judges nothing.")


# --- which pieces go back ----------------------------------------------------------------------------

@_calculation
def pieces_listed(pieces: list[Record], kind: str, bad: str, checked_at: str, found_at: str) -> list[Record]:
    """The pieces in order of time, each with its words, whether it goes back to the gauge (`back`), and why."""
    rows = sorted(pieces, key=lambda one: one["at"] or "99")
    back = {one.id: one.why for one in _contained(rows, kind, bad, checked_at, found_at).back}
    return [{"en": _piece_said(at, row), "back": "yes" if f"{at}" in back else "no", "id": f"{_why(row, kind, bad, checked_at)}",
             "feedback": _back_said(at, row, kind, bad, checked_at)} for at, row in enumerate(rows, 1)]


def _contained(rows: list[Record], kind: str, bad: str, checked_at: str, found_at: str) -> Any:
    from rigcalc.tools import Bad, GoodCheck, Piece, containment

    listed = [Piece(f"{at}", row["tool"], row["gauge"], _moment(row["at"])) for at, row in enumerate(rows, 1)]
    return containment(listed, Bad(kind, bad), _moment(found_at), [GoodCheck(kind, bad, _moment(checked_at))])


def _moment(clock: str) -> datetime | None:
    """A time of day on one and the same day; nothing where none was written down."""
    return datetime.combine(date(2026, 3, 9), time.fromisoformat(clock)) if clock else None


def _piece_said(at: int, row: Record) -> str:
    when = f"at {row['at']}" if row["at"] else "time not written down"
    return f"Piece {at}: pressed in {row['tool']}, gauged with {row['gauge']}, {when}"


def _why(row: Record, kind: str, bad: str, checked_at: str) -> str:
    if row[kind] != bad:
        return f"another-{kind}"
    if not row["at"]:
        return "time-not-known"
    return "before-the-check" if row["at"] < checked_at else "since-the-check"


def _back_said(at: int, row: Record, kind: str, bad: str, checked_at: str) -> str:
    done = f"{'pressed in' if kind == 'tool' else 'gauged with'} {bad}"
    said = {f"another-{kind}": f"was not {done}, so it need not go back.",
            "time-not-known": f"was {done} and has no time: nobody can say that it came before the check, so it goes back.",
            "before-the-check": f"was {done}, but before the good check at {checked_at}, so it need not go back.",
            "since-the-check": f"was {done} after the good check at {checked_at}, so it goes back."}
    return f"Piece {at} {said[_why(row, kind, bad, checked_at)]}"


@_calculation
def back_by(listed: list[Record], pieces: list[Record], how: str, kind: str, bad: str, checked_at: str) -> list[str]:
    """The pieces sent back by somebody who takes 'every tool and gauge', 'the whole day', or 'the other side' of the check.

    None at all where that differs from the right list by one piece only: then that piece tells it.
    """
    rows = sorted(pieces, key=lambda one: one["at"] or "99")
    why = [_why(row, kind, bad, checked_at) for row in rows]
    taken = {"every tool and gauge": lambda row, said: not row["at"] or row["at"] >= checked_at,
             "the whole day": lambda row, said: row[kind] == bad,
             "the other side": lambda row, said: said == "before-the-check"}[how]
    chosen = [one["en"] for one, row, said in zip(listed, rows, why, strict=True) if taken(row, said)]
    right = {one["en"] for one in listed if one["back"] == "yes"}
    return chosen if len(right ^ set(chosen)) > 1 else []


# --- removal from service ----------------------------------------------------------------------------

@_calculation
def wires_that_may_stay(construction: str) -> int:
    """The most broken wires in 8 diameters, away from sleeves, with which the house rule lets a cable stay."""
    from rigcalc.removal import broken_wires_allowed

    return broken_wires_allowed(construction)


@_calculation
def tenth_rounded_up(wires: int) -> int:
    """A tenth of a number of wires, rounded up."""
    return -(-wires // 10)


@_calculation
def tenth_of_outer(construction: str) -> int:
    """A tenth, rounded down, of the wires of the outer strands alone."""
    from rigcalc.cable import construction as named

    built = named(construction)
    return (built.strands - 1) * built.wires_per_strand // 10


@_calculation
def fifth_of(wires: int) -> int:
    """A fifth of a number of wires, rounded down."""
    return wires // 5


@_calculation
def sling_rule_wires() -> int:
    """The broken wires in one lay at which a rule for wire rope slings takes one out."""
    from rigcalc.reference import table

    return int(next(row.limit for row in table("removal_rules") if row.rule == "slings: lay"))


@_calculation
def looked_over(items: list[Record]) -> list[Record]:
    """Pieces inspected, each with its verdict (`goes`: out or stay) and why, by the house rule."""
    return [item | {"goes": _removal(item).verdict, "id": item["id"], "feedback": _removal_said(item)} for item in items]


def _removal(item: Record) -> Any:
    from rigcalc.removal import LOOKS, Inspection, removal

    clear = dict(broken_at_sleeve=0, broken_in_8d=0, coat="none", **dict.fromkeys(LOOKS, False))
    return removal(Inspection(**clear | {"construction": item["construction"]} | item["found"]))


def _removal_said(item: Record) -> str:
    told = _removal(item)
    if told.verdict == "stay":
        return f"'{item['en']}' may stay until the next inspection."
    return f"'{item['en']}' goes out: {'; '.join(told.reasons)}."


@_calculation
def those_by_sling_rule(items: list[Record]) -> list[str]:
    """The pieces taken out by somebody who counts ten wires as the limit and sees everything else rightly.

    None at all where that differs from the right list by one piece only: then that piece tells it.
    """
    most = sling_rule_wires()
    chosen = [item["en"] for item in items
              if _removal(item | {"found": item["found"] | {"broken_in_8d": 0}}).verdict == "out"
              or item["found"].get("broken_in_8d", 0) >= most]
    right = {item["en"] for item in items if _removal(item).verdict == "out"}
    return chosen if len(right ^ set(chosen)) > 1 else []
