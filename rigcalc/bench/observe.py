"""What an assessor taps: each tap is one event, checked here before it is written and confirmed."""

from __future__ import annotations

from typing import Annotated, Any, Literal, Union

import msgspec

from rigcalc.bench.form import items_of
from rigcalc.bench.lines import has_verdict, line_state
from rigcalc.bench.pieces import current_piece, ended_by_gauge
from rigcalc.errors import Refusal
from rigcalc.units import read_force_n, read_length_mm

__all__ = ["EVENT_BYTES", "MOST_EVENTS", "Moved", "accept", "live_events", "take"]

EVENT_BYTES = 4096
MOST_EVENTS = 4000
FORCE_UNITS = ("lbf", "N", "kN")

EventId = Annotated[str, msgspec.Meta(pattern=r"^[0-9a-f]{16,32}$")]
Name = Annotated[str, msgspec.Meta(min_length=1, max_length=80)]
How = Literal["live", "piece", "record"]
Small = Annotated[int, msgspec.Meta(ge=0, le=999)]


class Moved(Refusal):
    """Another page has saved on this form meanwhile; `events` are all that are on the disk."""

    def __init__(self, events: list[dict]) -> None:
        super().__init__("a tap numbered as one that is saved already", "the next number",
                         "the page takes in what the other page saved and sends your tap again")
        self.events = events


class _Event(msgspec.Struct, frozen=True, forbid_unknown_fields=True, tag_field="kind", kw_only=True):
    """What every tap carries: its own id, its rising number, whose line it is and when it was tapped."""

    id: EventId
    revision: Annotated[int, msgspec.Meta(ge=1, le=MOST_EVENTS)]
    candidate: Name
    item: Annotated[str, msgspec.Meta(max_length=80)] = ""
    piece: Annotated[int, msgspec.Meta(ge=0, le=9)] = 0
    at: Annotated[str, msgspec.Meta(max_length=40)] = ""
    paper: bool = False
    saved_at: Annotated[str, msgspec.Meta(max_length=40)] = ""


class Seen(_Event, tag="seen", kw_only=True):
    """One of the choices on a line, and how it was seen; `no occasion` only where a line offers it."""

    result: Literal["right", "wrong", "not seen", "no occasion"]
    how: How


class Measured(_Event, tag="measured", kw_only=True):
    """One value from the number pad, as typed, with its unit and instrument."""

    part: Small
    value: Annotated[str, msgspec.Meta(pattern=r"^[0-9][0-9 ./]{0,11}$")]
    unit: Literal["mm", "in", "lbf", "N", "kN"]
    instrument: Annotated[str, msgspec.Meta(min_length=1, max_length=80)]


class Gauged(_Event, tag="gauged", kw_only=True):
    """One crimp at the gauge: first press, or the one press again."""

    crimp: Annotated[int, msgspec.Meta(ge=1, le=20)]
    press: Literal[1, 2]
    passed: bool


class Chose(_Event, tag="chose", kw_only=True):
    """One of a line's own choices."""

    choice: Annotated[str, msgspec.Meta(min_length=1, max_length=200)]


class Counted(_Event, tag="counted", kw_only=True):
    """Material: handed out, in finished or rejected pieces, or back unused."""

    material: Name
    which: Literal["out", "in pieces", "unused"]
    number: Small


class Called(_Event, tag="called", kw_only=True):
    """The candidate's call on one numbered piece, with the cause of a reject."""

    number: Annotated[str, msgspec.Meta(max_length=8)]
    call: Literal["pass", "reject"]
    cause: Annotated[str, msgspec.Meta(max_length=40)] | None = None


class Rejected(_Event, tag="rejected", kw_only=True):
    """The candidate rejects an own piece, with the reason."""

    cause: Annotated[str, msgspec.Meta(max_length=40)]


class Helped(_Event, tag="helped", kw_only=True):
    """The assessor helped; the words come when the hands are done."""


class Wrote(_Event, tag="wrote", kw_only=True):
    """Words written when the hands are done: about a help, about a line, or about the day (about empty); with the mark of the device.

    Words are sent while they are typed too: all that is sent in one stay of the cursor in one box has the same `stay`, and is one writing.
    """

    about: Annotated[str, msgspec.Meta(max_length=80)] = ""
    words: Annotated[str, msgspec.Meta(max_length=600)]
    device: Annotated[str, msgspec.Meta(pattern=r"^[0-9a-f]{0,8}$")] = ""
    stay: Annotated[str, msgspec.Meta(pattern=r"^[0-9a-f]{0,16}$")] = ""


class Undone(_Event, tag="undone", kw_only=True):
    """The last tap is taken back; both stay on the record."""

    undoes: EventId


_EVENTS = Union[Seen, Measured, Gauged, Chose, Counted, Called, Rejected, Helped, Wrote, Undone]
_OF_KIND = {"see": Seen, "measure": Measured, "gauge": Gauged, "choose": Chose, "count": Counted, "calls": Called, "write": Wrote}


def live_events(events: list[dict]) -> list[dict]:
    """The events that still stand: neither an undo nor undone, in the order tapped."""
    undone = {e["undoes"] for e in events if e.get("kind") == "undone"}
    return [e for e in events if e.get("kind") != "undone" and e["id"] not in undone]


def accept(form: dict, events: list[dict], event: Any) -> dict:
    """Check one tap against its form and all that was saved before.

    Parameters
    ----------
    form : dict
        From ``open_form``.
    events : list of dict
        What is saved, oldest first.
    event : dict
        What the page sent.

    Returns
    -------
    dict
        The event as it may be written. A tap that is saved already comes back as it was saved.

    Raises
    ------
    Moved
        Its number was taken by another page.
    Refusal
        Anything else, in one plain sentence.
    """
    try:
        tap = msgspec.convert(event, _EVENTS)
    except msgspec.ValidationError as error:
        raise Refusal(f"a tap that cannot be read ({str(error)[:120]})", "what the bench form itself sends",
                      "reload the page; what was saved is kept") from None
    saved = next((e for e in events if e["id"] == tap.id), None)
    if saved is not None:
        return saved
    last = events[-1]["revision"] if events else 0
    if tap.revision <= last:
        raise Moved(events)
    if tap.revision != last + 1:
        raise Refusal(f"tap number {tap.revision}", f"number {last + 1}", "send the taps in their order, none left out")
    if tap.candidate not in {c["id"] for c in form["candidates"]}:
        raise Refusal(f"the candidate {tap.candidate}", "a candidate of this form", "open the form of that candidate")
    live = live_events(events)
    if isinstance(tap, Undone):
        _undo(live, tap)
    else:
        _fits(form, live, tap)
    return msgspec.to_builtins(tap)


def take(form: dict, journal: Any, body: bytes, saved_at: str) -> tuple[int, dict]:
    """All that a save handler does: check one request's body, write it, and say so.

    Parameters
    ----------
    form : dict
    journal : object
        With ``entries() -> list[dict]`` and ``append(dict)``, which returns once the line is on the disk.
    body : bytes
        The body of the request: one event as JSON.
    saved_at : str
        The time of the saving computer, ISO 8601.

    Returns
    -------
    (int, dict)
        HTTP status and reply. 200 ``{"saved": True, "revision": n, "saved_at": ...}``; 409 with ``events``
        when another page saved meanwhile; 400 or 413 with one plain sentence in ``say``.
    """
    if len(body) > EVENT_BYTES:
        return 413, {"saved": False, "say": str(Refusal(f"a save of {len(body)} bytes", f"at most {EVENT_BYTES}",
                                                        "write fewer words"))}
    try:
        event = msgspec.json.decode(body)
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError):
        return 400, {"saved": False, "say": str(Refusal("a save that is no JSON", "what the bench form itself sends", "reload the page"))}
    events = journal.entries()
    try:
        checked = accept(form, events, event)
    except Moved as moved:
        return 409, {"saved": False, "say": str(moved), "events": moved.events}
    except Refusal as refusal:
        return 400, {"saved": False, "say": str(refusal)}
    if not any(e["id"] == checked["id"] for e in events):
        checked = {**checked, "saved_at": saved_at}
        journal.append(checked)
        events = [*events, checked]
    return 200, {"saved": True, "revision": checked["revision"], "id": checked["id"], "saved_at": checked["saved_at"],
                 **_line_now(form, events, checked)}


def _line_now(form: dict, events: list[dict], tap: dict) -> dict:
    """How the line of a tap, or of what it takes back, stands now, so that the page need not convert a unit or read a date by itself."""
    if tap["kind"] == "undone":
        tap = next(e for e in events if e["id"] == tap["undoes"])
    found = items_of(form).get(tap["item"])
    if found is None or not has_verdict(found[0]):
        return {}
    return {"line": line_state(form, live_events(events), tap["candidate"], tap["piece"], found[0])}


def _undo(live: list[dict], tap: Undone) -> None:
    if not live:
        raise Refusal("an undo with nothing left to take back", "an undo after a tap", "go on")
    if live[-1]["id"] != tap.undoes:
        raise Refusal("an undo of an older tap", "an undo of the last tap", "take the later taps back first, or tap the line again")


def _fits(form: dict, live: list[dict], tap: _Event) -> None:
    """Refuse a tap that its line, its piece or the taps before it do not allow."""
    if isinstance(tap, Helped):
        return
    if isinstance(tap, Rejected):
        return _fits_rejected(form, live, tap)
    if isinstance(tap, Wrote) and not tap.item:
        if tap.about and not any(e["id"] == tap.about and e["kind"] == "helped" for e in live):
            raise Refusal("words about a help that is not on the form", "words about a help that was tapped", "tap the help first")
        return None
    found = items_of(form).get(tap.item)
    if found is None:
        raise Refusal(f"the line '{tap.item}'", "a line of this form", "reload the page")
    item, stage = found
    if _OF_KIND[item["kind"]] is not type(tap):
        raise Refusal(f"a tap of another sort on line {item['number']}", "the buttons of that line", "reload the page")
    _fits_piece(form, live, tap, item, stage)
    _FITS.get(type(tap), lambda *_: None)(form, live, tap, item)


def _fits_piece(form: dict, live: list[dict], tap: _Event, item: dict, stage: dict) -> None:
    if stage["per"] == "day":
        if tap.piece:
            raise Refusal(f"piece {tap.piece} on line {item['number']}, which stands for the day", "no piece number", "reload the page")
        return
    now = current_piece(form, live, tap.candidate)
    if not 1 <= tap.piece <= now:
        raise Refusal(f"piece {tap.piece} on line {item['number']}", f"a piece from 1 to {now}, as far as they were begun",
                      "reject the piece before, or go on with it")


def _fits_rejected(form: dict, live: list[dict], tap: Rejected) -> None:
    now = current_piece(form, live, tap.candidate)
    rejected = sum(1 for e in live if e["kind"] == "rejected" and e["candidate"] == tap.candidate)
    if tap.piece != now or rejected >= now:
        raise Refusal(f"piece {tap.piece} to be rejected", f"the piece in hand, piece {now}", "reload the page")
    if ended_by_gauge(form, live, tap.candidate, now):
        raise Refusal(f"piece {now}, which failed at the gauge twice", "a piece that is still good or doubtful",
                      "it is scrap already: the tool goes out of use and what it pressed is gauged again")
    if tap.cause not in {c["id"] for c in form["causes"]} | {"other"}:
        raise Refusal(f"the reason '{tap.cause}'", "a cause from the form's list", "tap one of the list")


def _fits_seen(form: dict, live: list[dict], tap: Seen, item: dict) -> None:
    if tap.result == "no occasion" and not item.get("on_occasion"):
        raise Refusal(f"'no occasion' on line {item['number']}", "right, wrong or not seen", "tap one of these")


def _fits_measured(form: dict, live: list[dict], tap: Measured, item: dict) -> None:
    limit = item["limit"]
    if tap.part >= len(limit["parts"]):
        raise Refusal(f"value number {tap.part + 1} on line {item['number']}", f"{len(limit['parts'])} values", "reload the page")
    if tap.unit not in limit["units"]:
        raise Refusal(f"{tap.value} {tap.unit} on line {item['number']}", " or ".join(limit["units"]), "tap one of these units")
    if tap.instrument not in item["instruments"]:
        raise Refusal(f"the instrument '{tap.instrument}'", " or ".join(item["instruments"]), "tap one of these")
    if "/" in tap.value and limit["rule"] == "near the assessor's":
        raise Refusal(f"{tap.value} {tap.unit} on line {item['number']}", "what the caliper shows, as 0.095 in or 2.41 mm",
                      "read the caliper: a fraction is a size's name, and no reading")
    (read_force_n if tap.unit in FORCE_UNITS else read_length_mm)(f"{tap.value} {tap.unit}")


def _fits_gauged(form: dict, live: list[dict], tap: Gauged, item: dict) -> None:
    if tap.crimp > item["crimps"]:
        raise Refusal(f"crimp {tap.crimp}", f"crimps 1 to {item['crimps']} by the chart in force", "reload the page")
    before = {e["press"]: e["passed"] for e in live if e["kind"] == "gauged" and e["candidate"] == tap.candidate
              and (e["item"], e["piece"], e["crimp"]) == (tap.item, tap.piece, tap.crimp)}
    if tap.press == 2 and before.get(1) is not False:
        raise Refusal(f"a second gauging of crimp {tap.crimp}", "a second gauging after the first did not pass", "gauge it once first")
    if tap.press == 1 and 2 in before:
        raise Refusal(f"the first gauging of crimp {tap.crimp} after its second", "a change by undo", "take the second gauging back first")


def _fits_chose(form: dict, live: list[dict], tap: Chose, item: dict) -> None:
    if tap.choice not in item["choices"]:
        raise Refusal(f"'{tap.choice[:60]}' on line {item['number']}", "; ".join(item["choices"]), "tap one of these")


def _fits_counted(form: dict, live: list[dict], tap: Counted, item: dict) -> None:
    material = next((m for m in form["issue"]["material"] if m["id"] == tap.material), None)
    if material is None:
        raise Refusal(f"the material '{tap.material}'", ", ".join(m["text"] for m in form["issue"]["material"]), "tap one of these")
    if tap.number > 2 * material["issued"]:
        raise Refusal(f"{tap.number} {material['text']}", f"at most {2 * material['issued']}, twice what the task issues", "count again")


def _fits_called(form: dict, live: list[dict], tap: Called, item: dict) -> None:
    if form["set"] is None or tap.number not in form["set"]["pieces"]:
        raise Refusal(f"piece number {tap.number}", "a number of the set on this form", "reload the page")
    if tap.cause is not None and tap.cause not in {c["id"] for c in form["causes"]}:
        raise Refusal(f"the cause '{tap.cause}'", "a cause of the list", "tap one of the list")
    if tap.call == "pass" and tap.cause is not None:
        raise Refusal("a cause with a pass", "a cause with a reject only", "tap pass, or reject with its cause")


_FITS = {Seen: _fits_seen, Measured: _fits_measured, Gauged: _fits_gauged, Chose: _fits_chose, Counted: _fits_counted, Called: _fits_called}
