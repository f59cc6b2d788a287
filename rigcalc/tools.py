"""Tools and gauges: does the tool close, and which pieces go back to the gauge when a tool or a gauge is found bad."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from datetime import date, datetime, time

from rigcalc._given import among, listed, of_kind, said
from rigcalc._records import record
from rigcalc.errors import Refusal

__all__ = ["Bad", "Closure", "Containment", "GoodCheck", "Piece", "Traced", "closure_check", "containment"]

KINDS = ("tool", "gauge")


@record
class Closure:
    """Does the tool close: the verdict, every fault found, and what to do."""

    closes: bool
    faults: tuple[str, ...]
    do: str


@record
class Piece:
    """A pressed piece: its tool, its gauge, and when it was pressed and gauged (the later of the two); None where unknown.

    A time is a datetime, or a date where only the day is known.
    """

    id: str
    tool: str | None
    gauge: str | None
    at: datetime | date | None


@record
class GoodCheck:
    """A check that a tool or a gauge passed, and when."""

    kind: str
    id: str
    at: datetime | date | None


@record
class Bad:
    """The tool or gauge that was found bad."""

    kind: str
    id: str


@record
class Traced:
    """One piece and why it goes back, or why it need not."""

    id: str
    why: str


@record
class Containment:
    """The pieces that go back to the gauge, those that need not, the good check that divides them, and what to do."""

    bad: Bad
    back: tuple[Traced, ...]
    clear: tuple[Traced, ...]
    last_good: GoodCheck | None
    do: str


def closure_check(near_end_holds: bool, far_end_holds: bool, faces_meet_before_the_stop: bool) -> Closure:
    """Does an empty tool close? A strip of thin paper in the empty cavity is held at both ends, and the faces meet, with
    pre-load, before the handles reach their stop.

    Parameters: each yes or no, as seen; fingers stay outside the jaws. Errors: `Refusal` for anything but yes or no.
    Source: common practice.

    >>> closure_check(True, False, True).faults
    ('the paper slips at the far end: the jaws stand open there',)
    """
    seen = ((near_end_holds, "the paper slips at the near end: the jaws stand open there"),
            (far_end_holds, "the paper slips at the far end: the jaws stand open there"),
            (faces_meet_before_the_stop, "the handles reach their stop before the faces meet: no pre-load"))
    for answer, _ in seen:
        if not isinstance(answer, bool):
            raise Refusal(f"{said(answer)} for what was seen", "yes or no", "close the empty tool on the paper again")
    faults = tuple(fault for answer, fault in seen if not answer)
    if faults:
        return Closure(False, faults, "Out of use: adjust by the maker's instructions, check again, gauge a first piece, write it down. "
                                      "Every piece since the last good check goes back to the gauge.")
    return Closure(True, (), "Press a first piece and gauge it; keep it on the bench till evening.")


# --- which pieces go back -------------------------------------------------------------------------

def containment(pieces: Iterable[Piece], bad: Bad, found_on: datetime | date, checks: Iterable[GoodCheck] = ()) -> Containment:
    """Which pieces go back to the gauge when a tool or a gauge is found bad.

    Parameters: the pieces; what was found bad; when; the checks it had passed. A piece is clear only if it certainly came before
    a good check that certainly came before the finding, or certainly through another tool or gauge. A tool or gauge that is not
    known counts as the bad one, a time that is not known as after the check, and so does the same minute or day as the check.
    Names are compared without case and blanks; where nothing bears the name of what is bad, or that name says nothing, every piece goes back.
    Errors: `Refusal` for an unknown kind, a time that is none, times with and without a time zone, or two pieces of one name.
    Source: common practice (every piece since the last good check); the strictness about what is not known is this workbook's judgement.

    >>> pieces = [Piece("P1", "LA", "GA", datetime(2026, 1, 5, 9, 0)), Piece("P2", "LA", "GA", datetime(2026, 1, 5, 11, 0)),
    ...           Piece("P3", "LB", "GB", datetime(2026, 1, 5, 11, 0)), Piece("P4", "LA", "GA", None)]
    >>> checks = [GoodCheck("tool", "LA", datetime(2026, 1, 5, 10, 0))]
    >>> [piece.id for piece in containment(pieces, Bad("tool", "LA"), datetime(2026, 1, 5, 12, 0), checks).back]
    ['P2', 'P4']
    """
    pieces, checks = listed(pieces, "the pieces", Piece), listed(checks, "the good checks", GoodCheck)
    for kind in (of_kind(bad, Bad, "what was found bad").kind, *(check.kind for check in checks)):
        if not among(kind, KINDS):
            raise Refusal(f"{said(kind)} found bad or checked", "tool or gauge", "name one of the two")
    _refuse_two_of_one_name(pieces)
    found = _span(found_on, "when it was found")
    if found is None:
        raise Refusal("no time for the finding", "the day, or the day and time, when it was found bad", "write when it was found")
    last = _last_good(checks, bad, found)
    met = {_name(one) for one in (*(_used(piece, bad) for piece in pieces), *(check.id for check in checks if check.kind == bad.kind))}
    told = tuple((piece, *_goes_back(piece, bad, last, _name(bad.id) in met)) for piece in pieces)
    return Containment(bad, tuple(Traced(piece.id, why) for piece, back, why in told if back),
                       tuple(Traced(piece.id, why) for piece, back, why in told if not back), last, _do(bad))


def _refuse_two_of_one_name(pieces: tuple[Piece, ...]) -> None:
    names = [_name(of_kind(piece.id, str, "a piece's name")) for piece in pieces]
    for name, times in Counter(names).items():
        if times > 1 or not name:
            raise Refusal(f"{times} piece{'s' if times > 1 else ''} named '{name}'", "one name for each piece", "look at the tags again")


def _last_good(checks: tuple[GoodCheck, ...], bad: Bad, found: tuple[datetime, datetime]) -> GoodCheck | None:
    """The latest good check of the bad one that certainly came before the finding; one of unknown time counts for nothing."""
    spans = [(span, check) for check in checks if check.kind == bad.kind and _name(bad.id) and _name(check.id) == _name(bad.id)
             if (span := _span(check.at, "a good check")) is not None and _before(span, found)]
    return max(spans, key=lambda pair: pair[0][0])[1] if spans else None


def _name(of: str | None) -> str:
    """A name as it is compared: without case and blanks; nothing where it holds no letter and no figure."""
    plain = "".join(of_kind(of, str, "a tool's or a gauge's name").split()).casefold() if of is not None else ""
    return plain if any(map(str.isalnum, plain)) else ""


def _used(piece: Piece, bad: Bad) -> str | None:
    return piece.tool if bad.kind == "tool" else piece.gauge


def _goes_back(piece: Piece, bad: Bad, last: GoodCheck | None, met: bool) -> tuple[bool, str]:
    used = _used(piece, bad)
    if not met:
        return True, f"no piece and no check bears the name {bad.id}: which {bad.kind} that is is not known"
    if _name(used) and _name(used) != _name(bad.id):
        return False, f"made with another {bad.kind}, {used}"
    span, whose = _span(piece.at, f"the piece {piece.id}"), "" if _name(used) else f"its {bad.kind} is not known and counts as {bad.id}; "
    if last is None:
        return True, f"{whose}no good check of {bad.kind} {bad.id} stands before the finding"
    if span is None:
        return True, f"{whose}when it was made is not known"
    checked = _span(last.at, "a good check")
    if _before(span, checked):
        return False, f"{whose}certainly before the good check of {last.at}"
    return True, f"{whose}{'after' if _before(checked, span) else 'not certainly before'} the last good check, {last.at}"


def _span(at: datetime | date | None, what: str) -> tuple[datetime, datetime] | None:
    """The earliest and the latest moment a time can mean: a day is anything from its first to its last instant."""
    if at is None:
        return None
    if isinstance(at, datetime):
        return at, at
    if isinstance(at, date):
        return datetime.combine(at, time.min), datetime.combine(at, time.max)
    raise Refusal(f"{said(at)} for {what}", "a date, a date and time, or nothing", "write the time as a date and time")


def _before(one: tuple[datetime, datetime], other: tuple[datetime, datetime]) -> bool:
    if (one[1].tzinfo is None) != (other[0].tzinfo is None):
        raise Refusal("times with and without a time zone", "all with one or all without", "write all times the same way")
    return one[1] < other[0]


def _do(bad: Bad) -> str:
    again = "another gauge that is in date" if bad.kind == "gauge" else "a gauge that is in date"
    return (f"Put the {bad.kind} {bad.id} out of use with a tag, and write the day, who found it and why into its block of its shop's file (found_bad). Gauge every piece on the list again, with {again}; recall those that have left. "
            "A piece that fails and has carried load is scrap: it is not pressed again.")
