"""Clips, the alternative to a sleeve: number, spacing, turnback, torque, and where clips are forbidden.

Rows that ship with the workbook teach. A sheet for real work takes the clip maker's row from the shop file.
"""

from __future__ import annotations

import math
from fractions import Fraction

from rigcalc._given import among, listed, of_kind, said, texts, yes_or_no
from rigcalc._records import record
from rigcalc.errors import Refusal
from rigcalc.reference import Row, table
from rigcalc.units import FOOT_MM, INCH_MM, LBF_N, either_side, exact, size_inches

__all__ = ["ClipPlan", "ClipRow", "Rule", "Saddle", "Thumb", "built_in_rows", "clip_efficiency", "clip_plan", "clip_row",
           "clips_needed", "published_rules", "rule_of_thumb", "saddle", "spacing_mm", "where_forbidden"]

MADE_BY_NOBODY = "built in"


@record
class ClipRow:
    """One size of a clip maker's table, as the shop copied it; lengths in mm, torque in N m, `base_mm` along the cable."""

    size: str
    turnback_mm: float
    torque_nm: float
    number: int
    maker: str
    edition: str
    copied_by: str = ""
    checked_by: str = ""
    base_mm: float | None = None
    invented: bool = False
    source: str = ""
    how_known: str = ""

    def __post_init__(self) -> None:
        size_inches(self.size)
        texts(self, "maker edition copied_by checked_by source how_known", "a clip maker's row")
        yes_or_no(self.invented, "whether the row is invented")
        if not isinstance(self.number, int) or isinstance(self.number, bool) or not 1 <= self.number <= 100:
            raise Refusal(f"the number {said(self.number)} of clips for size {self.size}", "a whole number from 1 to 100",
                          "copy it again from the maker's table")
        for word, value in (("turnback", self.turnback_mm), ("torque", self.torque_nm), ("base", self.base_mm)):
            if not (word == "base" and value is None) and exact(value) <= 0:
                raise Refusal(f"the {word} {said(value)} for clips of size {self.size}", "a figure above 0",
                              "copy it again from the maker's table")


@record
class Rule:
    """One published rule on clips: its words, its figure where it has one, how it binds, and where it stands."""

    says: str
    source: str
    how_known: str
    bound: str | None = None
    value: float | None = None


@record
class ClipPlan:
    """How to clip one end; lengths in mm, torque in N m, efficiency as a share of the breaking force.

    `turnback_mm` is from the thimble to the dead end. `places_mm` are the middles of the clips from the dead end and
    `actual_spacing_mm` their distance, where the base of the clip is known. `teaching_only`: no sheet for real work.
    """

    size: str
    drop_forged: bool
    number: int
    spacing_mm: float
    turnback_mm: float
    torque_nm: float
    efficiency: float
    places_mm: tuple[float, ...]
    actual_spacing_mm: float | None
    steps: tuple[str, ...]
    notes: tuple[str, ...]
    teaching_only: bool
    source: str
    how_known: str


@record
class Saddle:
    """Is the saddle on the right part, why, and where the rule stands."""

    right: bool
    says: str
    source: str


@record
class Thumb:
    """The rule of thumb for one size beside the number that is needed."""

    size: str
    gives: int
    needed: int
    enough: bool
    source: str


# --- what the rules say -----------------------------------------------------------------------

def clips_needed(size: str, drop_forged: bool) -> int:
    """The least number of clips on one end: three up to 1/2 in, four if the clips are not drop-forged, more above.

    Parameters: inch size by name; whether the clips are drop-forged.
    Range: sizes up to 1/2, and 5/8, 3/4, 7/8. Errors: `Refusal` for any other, with the neighbours, or a forging not told.
    Source: 29 CFR 1918 App. II, Table 1; three at least: WAC 296-874-30020, WAC 296-24-29401(5)(c).

    >>> clips_needed("1/8", True), clips_needed("1/8", False)
    (3, 4)
    """
    if not isinstance(drop_forged, bool):
        raise Refusal(f"drop-forged: {said(drop_forged)}", "yes or no", "read it from the clip maker's label, or count the clips as not forged")
    row = _number_row(size)
    return max(row.drop_forged if drop_forged else row.other_material, int(_figure("number")))


def _number_row(size: str) -> Row:
    inches, rows = size_inches(size), table("clip_numbers")
    if inches <= rows[0].diameter_in:
        return rows[0]
    for row in rows:
        if row.diameter_in == inches:
            return row
    known = [row.rope for row in rows[1:] if "/" in row.rope and " " not in row.rope]
    near = " or ".join(name for name in either_side(size, ("1/2", *known)) if name)
    raise Refusal(f"clips for the size {size}", f"the table's nearest sizes {near}", "ask the clip maker")


def spacing_mm(size: str) -> float:
    """The spacing of the clips, in mm: six diameters of the size in hand.

    Parameters: inch size by name. The 3 in that a table prints for "1/2 or less" is six diameters at 1/2 only.
    Errors: `Refusal` for an unreadable size.
    Source: WAC 296-874-30020 (at least), NAVEDTRA 14026 p 1-8 (about), Quebec B-1.1 r.2 (at most): only 6 agrees with all.

    >>> spacing_mm("1/4"), spacing_mm("1/2")
    (38.1, 76.2)
    """
    return float(_figure("spacing") * size_inches(size) * INCH_MM)


def clip_efficiency() -> float:
    """The share of the breaking force that a clipped end keeps: the lowest figure that was read.

    Errors: none. Source: TM 5-3810-305-10 Table 4, p 4-36, and Alberta OHS guide 2009 s 300 (0.80); one sheet says up to 0.85.

    >>> clip_efficiency()
    0.8
    """
    return float(_figure("efficiency"))


def _figure(topic: str) -> Fraction:
    """The figure on the safe side of every published one: the greatest of the least, the lowest of the rest."""
    rows = [row for row in table("clip_rules") if row.topic == topic]
    least = [row.value for row in rows if row.bound == "at least"]
    return max(least) if least else min(row.value for row in rows)


def rule_of_thumb(size: str) -> Thumb:
    """The rule of thumb (three diameters in inches, plus one, rounded up) beside the number that is needed.

    Parameters: inch size by name. It is shown because it fails: below 3/8 it gives two. It never sets a number here.
    Errors: `Refusal` for an unreadable size. Source: NAVEDTRA 14026 p 1-8; the need: 29 CFR 1918 App. II.

    >>> thumb = rule_of_thumb("1/8")
    >>> thumb.gives, thumb.needed, thumb.enough
    (2, 3, False)
    """
    gives, needed = math.ceil(_figure("thumb") * size_inches(size) + 1), clips_needed(size, True)
    return Thumb(size, gives, needed, gives >= needed, published_rules("thumb")[0].source)


def where_forbidden() -> tuple[Rule, ...]:
    """Where clips are forbidden, each with the rule that forbids it.

    Errors: none. Source: 29 CFR 1926.251(c)(4)(iii), DOE-STD-1090-96, EN 13411-5, WAC 296-96-24163, WAC 296-874-30020.

    >>> where_forbidden()[1].says
    'Slings for critical lifts: no clips.'
    """
    return published_rules("forbidden")


def published_rules(topic: str) -> tuple[Rule, ...]:
    """The published rules on clips, by what they are about, each with its source; they do not all agree.

    Parameters: number, spacing, efficiency, thumb, saddle, retorque, turnback, new bolts, coated or forbidden.
    Errors: `Refusal` for another word. Source: named in each rule.

    >>> [(rule.bound, rule.value) for rule in published_rules("spacing")][-2:]
    [('at most', 6.0), ('at most', 7.0)]
    """
    topics = tuple(dict.fromkeys(row.topic for row in table("clip_rules")))
    if not among(topic, topics):
        raise Refusal(f"rules on {said(topic)}", ", ".join(topics), "take one of these")
    return tuple(Rule(row.says, row.cited, row.how_known, row.bound, None if row.value is None else float(row.value))
                 for row in table("clip_rules") if row.topic == topic)


def saddle(on: str) -> Saddle:
    """Is a clip the right way round? The saddle lies on the live part, the U-bolt on the dead end.

    Parameters: the part the saddle lies on, "live" or "dead". Errors: `Refusal` for any other word.
    Source: WAC 296-874-30020(1) to (5).

    >>> saddle("dead").right
    False
    """
    if not among(on, ("live", "dead")):
        raise Refusal(f"the saddle on {said(on)}", "live or dead", "say which part of the cable the saddle lies on")
    source = published_rules("saddle")[0].source
    if on == "live":
        return Saddle(True, "Right: the saddle bears on the part that carries the load, the U-bolt on the dead end.", source)
    return Saddle(False, "Wrong way round: the U-bolt bites into the part that carries the load. Take the end apart; "
                         "cable that was bitten is cut off.", source)


# --- the plan for one end ---------------------------------------------------------------------

def built_in_rows(size: str) -> tuple[ClipRow, ...]:
    """The rows of turnback and torque that ship, for U-bolt clips of one size, those that were read first. They teach.

    Parameters: inch size by name. Errors: `Refusal` for a size with no row, with both neighbours named.
    Source: California Title 8 s.8497 and the New Brunswick clip sheet (read); the common clip table (from memory).

    >>> [(round(row.turnback_mm, 2), row.how_known) for row in built_in_rows("5/16")]
    [(139.7, 'read'), (133.35, 'from memory')]
    """
    size_inches(size)
    rows = [row for row in table("clip_rows") if row.clip == "U-bolt"]
    found = [row for row in rows if row.rope == size]
    if not found:
        known = {row.rope for row in rows if "/" in row.rope and " " not in row.rope}
        near = " or ".join(name for name in either_side(size, known) if name)
        raise Refusal(f"clips for {size}, a size without a row", f"a row for that size; the nearest that have one are {near}",
                      "enter the clip maker's row in the shop file, or take a sleeve")
    found.sort(key=lambda row: row.how_known == "from memory")
    return tuple(ClipRow(size, float(exact(row.turnback_in) * INCH_MM), float(exact(row.torque_lbf_ft) * LBF_N * FOOT_MM / 1000),
                         row.number, MADE_BY_NOBODY, "", source=row.cited, how_known=row.how_known) for row in found)


def clip_row(size: str, maker_rows: tuple[ClipRow, ...] = ()) -> ClipRow:
    """The row that governs a size: the clip maker's as the shop copied it, else one that ships and only teaches.

    Parameters: inch size by name; the shop's rows of the one maker in use.
    Errors: `Refusal` for two rows of one size, or no row at all, with both neighbours named (1/16, 3/32, 5/32 have none).
    Source: the clip maker's table; else the rows of `built_in_rows`.

    >>> clip_row("1/4").how_known
    'from memory'
    """
    size_inches(size)
    found = [row for row in listed(maker_rows, "the shop's rows of clips", ClipRow) if row.size == size]
    if len(found) > 1:
        raise Refusal(f"{len(found)} clip makers' rows for {size}", "one row", "name the maker of the clips in hand: tables are not mixed")
    return found[0] if found else built_in_rows(size)[0]


def clip_plan(size: str, drop_forged: bool, row: ClipRow | None = None) -> ClipPlan:
    """Number, spacing, turnback, torque and steps for one clipped end with a thimble.

    Parameters: inch size by name; whether the clips are drop-forged; the clip maker's row (without it a built-in row
    teaches). A row for fewer clips than the rules ask is raised to that number and its turnback made longer in proportion;
    a turnback too short for the clips at six diameters is made longer.
    Errors: `Refusal` for a size with no row, with both neighbours; a row of another size.
    Source: 29 CFR 1918 App. II (number); WAC 296-874-30020 (spacing); TM 5-3810-305-10 p 4-38 (turnback in proportion);
    common practice (first clip one base from the dead end, the next at the thimble, the rest between).

    >>> plan = clip_plan("1/4", drop_forged=True)
    >>> plan.number, plan.spacing_mm, round(plan.turnback_mm), plan.efficiency, plan.teaching_only
    (3, 38.1, 181, 0.8, True)
    """
    size_inches(size)
    row = clip_row(size) if row is None else of_kind(row, ClipRow, "a clip maker's row")
    if row.size != size:
        raise Refusal(f"a clip row for {row.size} on {size} cable", f"a row for {size}", "copy the maker's row for that size")
    number = max(clips_needed(size, drop_forged), row.number)
    turnback = exact(row.turnback_mm) * number / row.number
    turnback = max(turnback, _room(size, number, row.base_mm))
    places = _places(turnback, number, row.base_mm)
    actual = float(places[1] - places[0]) if places else None
    return ClipPlan(size, drop_forged, number, spacing_mm(size), float(turnback), row.torque_nm, clip_efficiency(),
                    tuple(map(float, places)), actual, _steps(number, size, row), _notes(row, number, float(turnback), actual, size),
                    row.maker == MADE_BY_NOBODY or row.invented, _source(row), row.how_known or ("invented" if row.invented else "clip maker's row"))


def _room(size: str, number: int, base_mm: float | None) -> Fraction:
    """The least turnback for that many clips: gaps of six diameters, one base left free, and the bases themselves."""
    return (number - 1) * exact(spacing_mm(size)) + 2 * (exact(base_mm) if base_mm is not None else 0)


def _places(turnback: Fraction, number: int, base_mm: float | None) -> tuple[Fraction, ...]:
    if base_mm is None:
        return ()
    first, last = exact(base_mm) * 3 / 2, turnback - exact(base_mm) / 2
    return tuple(first + (last - first) * step / (number - 1) for step in range(number))


def _steps(number: int, size: str, row: ClipRow) -> tuple[str, ...]:
    return ("Lay the thimble in the loop, live part and dead end side by side.",
            "First clip one base of the clip from the dead end, saddle on the live part; nuts even, not yet to the torque.",
            "Next clip as near the thimble as it goes, saddle on the live part; nuts finger tight.",
            f"The other{f's, {number - 2},' if number > 3 else ''} between, at even gaps of at least {spacing_mm(size):g} mm; take up the slack.",
            f"Tighten all nuts in turn to {float(row.torque_nm):.3g} N m{' (from memory: this figure only teaches)' if row.how_known == 'from memory' else ''}.",
            "Load the end to at least its working load, take the load off, tighten all nuts to the torque again.",
            "Look and tighten again after the first days of service, then at the interval on the sheet.")


def _notes(row: ClipRow, number: int, turnback_mm: float, actual_mm: float | None, size: str) -> tuple[str, ...]:
    notes = []
    if row.maker == MADE_BY_NOBODY:
        notes.append(f"This row teaches ({row.how_known}): a sheet for real work takes the clip maker's row from the shop file.")
    if row.invented:
        notes.append("INVENTED: do not clip real work with this row.")
    if row.number < number:
        notes.append(f"The row counts {row.number}; {number} are needed, so its turnback grows in proportion "
                     f"({published_rules('turnback')[0].source}).")
    if turnback_mm > float(exact(row.turnback_mm) * number / row.number):
        notes.append(f"The row's turnback leaves no room for {number} clips at six diameters: made longer.")
    widest = max(rule.value for rule in published_rules("spacing") if rule.bound == "at most")
    if actual_mm is not None and actual_mm > widest * float(size_inches(size) * INCH_MM):
        notes.append(f"Spread evenly the clips stand {actual_mm:.3g} mm apart, more than the {widest:g} diameters of some rules: ask the clip maker.")
    return tuple(notes)


def _source(row: ClipRow) -> str:
    if row.maker == MADE_BY_NOBODY:
        return row.source
    who = f"copied by {row.copied_by or 'nobody named'}, checked by {row.checked_by or 'nobody named'}"
    return f"{'INVENTED ' if row.invented else ''}table of {row.maker}, edition {row.edition}; {who}"
