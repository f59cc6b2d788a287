"""What changed since bench work was opened, entered or signed, and takes ground from what rests on it."""

from __future__ import annotations

from rigcalc.desk.charts import charts_now
from rigcalc.desk.folder import Desk
from rigcalc.desk.hands import as_entered
from rigcalc.desk.other_forms import left_open_and_wrong
from rigcalc.desk.written import marked
from rigcalc.errors import Refusal
from rigcalc.register.finds import Find, counted_against
from rigcalc.register.status import Status, concerns, form_of, status_of
from rigcalc.register.store import Entry
from rigcalc.shop.model import Shop

__all__ = ["advice", "advised", "certificates_on", "decision_on", "finds_since", "shaken", "since_opened", "status_and_doubt"]

# What the desk is told of a shaken certificate, in force or suspended.
TO_DO = "Look at what it rests on, then suspend or withdraw it, or decide again."
TO_DO_SUSPENDED = "Look at what it rests on before its suspension is lifted, or withdraw it, or decide again."
TO_DO_NOT_PASSED = "It stays suspended while that is so: withdraw it, or assess, decide and sign anew."


def since_opened(desk: Desk, form_id: str) -> list[str]:
    """What the shop file says now against what a bench form was opened by: a chart that says something else or is gone, and `finds_since` in words.

    Example: `tool LB was found bad on 2026-03-02 by Ines Varrow (does not close)`
    """
    opened = _opened(desk, form_id).body
    chart, found = opened["chart"], []
    now = {one.id: one.edition for one in desk.shop.charts}.get(chart["id"], "")
    if chart["kind"] == "maker" and now != chart["edition"]:
        found.append(f"chart {chart['id']}, edition {chart['edition']} on the form, has {f'edition {now}' if now else 'no place in the shop file'} now")
    elif (kept := opened.get("charts", {}).get(chart["id"])) and kept["sha256"] != charts_now(desk)[chart["id"]]["sha256"]:
        found.append(f"chart {chart['id']} says something else than on the form, and is still called edition {now}")
    return found + [one.words for one in finds_since(desk, form_id)]


def finds_since(desk: Desk, form_id: str) -> list[Find]:
    """The tool or gauge of a bench form that was found bad since it was opened, also where it was set right again, and a gauge that was due.

    What is bad is entered in the register when it is told first, so that it counts also where the shop file is set right before anything else is entered.
    """
    entry = _opened(desk, form_id)
    gauge = (entry.body["gauge"] or {}).get("id")
    found = list(dict.fromkeys(one for shop in _shops_since(desk, entry.number) for one in _out_of_use(shop, entry.body["made"]["tool"], gauge, entry.at[:10])))
    entered = {Find(**fields) for told in desk.entries("shop file told", form_id=form_id) for fields in told.body["told"]}
    if new := [one.entered() for one in found if one not in entered]:
        desk.note("shop file told", {"form_id": form_id, "told": new})
    return found


def _opened(desk: Desk, form_id: str) -> Entry:
    return next(entry for entry in desk.entries("bench form opened", form_id=form_id))


def _out_of_use(shop: Shop, tool: str, gauge: str | None, day: str) -> list[Find]:
    """What a shop file says against the tool and the gauge of a form that was opened on that day."""
    tools, gauges = [one for one in shop.tools if one.id == tool], [one for one in shop.gauges if one.id == gauge]
    return ([Find("tool", one.id, True, str(one.found_bad), f"tool {one.id} {one.out_of_use}") for one in tools if one.found_bad]
            + [Find("gauge", one.id, True, str(one.found_bad), f"gauge {one.id} {one.out_of_use}", str(one.checked_on)) for one in gauges if one.found_bad]
            + [Find("gauge", one.id, False, str(one.due_on), f"gauge {one.id} was due on {one.due_on} by the shop file, before that day")
               for one in gauges if str(one.due_on) < day])


def _shops_since(desk: Desk, number: int) -> list[Shop]:
    """Every shop file that an entry of the register names after that number, in their order, and the one in force: what was set right since was bad all the same."""
    then = dict.fromkeys(entry.body["shop"]["sha256"] for entry in desk.register.entries() if entry.number > number and "shop" in entry.body)
    return [*(desk.shop_of(digest) for digest in then if digest != desk.shop.digest), desk.shop]


def advice(desk: Desk, form_id: str) -> str:
    """A sentence on what changed since a form was opened, and what is done then; empty where nothing did."""
    found = since_opened(desk, form_id)
    if not found:
        return ""
    bad = any("was found bad" in one for one in found)
    return (f"Since form {form_id} was opened: {'; '.join(found)}. "
            + ("Every piece pressed or gauged with it since its last good check goes back to a gauge that is in date. " if bad else "")
            + "What stands on the form may no longer hold: assess on another form, or say in the decision why this one stands.")


def shaken(desk: Desk, signed: dict) -> str:
    """What `status_and_doubt` finds of a certificate as a sentence, with what is done about it; else nothing."""
    return advised(*status_and_doubt(desk, signed))


def decision_on(desk: Desk, signed: dict) -> dict:
    """The decision that a certificate rests on; `signed` is the body of its entry `certificate signed`."""
    return next(entry.body for entry in desk.entries("decision", **{"class": signed["class"], "candidate": signed["candidate"]["id"]})
                if entry.number == signed["decision_entry"])


def advised(status: Status, doubt: str) -> str:
    """A doubt as a sentence, and what the desk does about it."""
    to_do = TO_DO if status.state != "suspended" else TO_DO_NOT_PASSED if status.not_passed else TO_DO_SUSPENDED
    return f"{doubt[:1].upper()}{doubt[1:]}. {to_do}" if doubt else ""


def status_and_doubt(desk: Desk, signed: dict) -> tuple[Status, str]:
    """What the register says of a certificate, and what was entered, tapped or told after it was signed and takes its ground away, as a clause
    that begins `since it was signed`; else nothing.

    `signed` is the body of its entry `certificate signed`. Bench work of another scope bears on nothing here.
    """
    class_id, person = signed["class"], signed["candidate"]["id"]
    decision = decision_on(desk, signed)
    form_id = decision["rests_on"]["bench"]["form_id"]
    told = counted_against(finds_since(desk, form_id), decision.get("since", []), signed["starts"])  # before the register is read: what is new is entered
    entries = desk.register.entries()
    status = status_of(entries, signed["certificate"])
    said = list(status.since)
    assessed = desk.entries("bench assessed", **{"class": class_id, "candidate": person})
    own = [one for one in assessed if one.body["form_id"] == form_id]
    last = [one for one in assessed if concerns(entries, signed, one.body["form_id"])]
    if not all(as_entered(desk, one.body) for one in (own[-1], last[-1]) if one.body["passed"]):
        said.append("something was tapped on the bench form after it was entered")
    said += [f"on bench form {one}, which is not closed, a critical point was seen wrong" for one in left_open_and_wrong(desk, class_id, person, form_id)]
    try:
        marked(desk, class_id, person)
    except Refusal as refusal:
        said.append(f"the marked paper is not as it was entered ({refusal})")
    said += [one for one in told if one not in said]
    return status, f"since it was signed {', and '.join(said)}" if said else ""


def certificates_on(desk: Desk, class_id: str, candidate_id: str, form_id: str, passed: bool = False) -> list[str]:
    """The numbers of a candidate's certificates in force by the register that closing a bench form bears on.

    Closed as not passed, all of its scope; closed as passed, those alone that were decided on this form as it was entered before.
    """
    own = {entry.number for entry in desk.entries("decision", **{"class": class_id, "candidate": candidate_id})
           if form_of(entry) == form_id}
    entries = desk.register.entries()
    return [entry.body["certificate"] for entry in desk.entries("certificate signed", **{"class": class_id, "candidate": candidate_id})
            if (entry.body["decision_entry"] in own if passed else concerns(entries, entry.body, form_id)) and status_of(entries, entry.body["certificate"]).in_force]
