"""What changed since bench work was opened, entered or signed, and takes ground from what rests on it."""

from __future__ import annotations

from rigcalc.desk.folder import Desk
from rigcalc.desk.hands import bench_events
from rigcalc.desk.written import marked
from rigcalc.errors import Refusal
from rigcalc.register.status import status_of

__all__ = ["advice", "certificates_on", "shaken", "since_opened"]


def since_opened(desk: Desk, form_id: str) -> list[str]:
    """What the shop file says now against what a bench form was opened by: a chart with another edition or gone, a tool or gauge found bad.

    Example: `tool LB was found bad on 2026-03-02 by Ines Varrow`
    """
    opened = next(entry.body for entry in desk.entries("bench form opened", form_id=form_id))
    chart, found = opened["chart"], []
    now = {one.id: one.edition for one in desk.shop.charts}.get(chart["id"], "")
    if chart["kind"] == "maker" and now != chart["edition"]:
        found.append(f"chart {chart['id']}, edition {chart['edition']} on the form, has {f'edition {now}' if now else 'no place in the shop file'} now")
    used = (("tool", desk.shop.tools, opened["made"]["tool"]), ("gauge", desk.shop.gauges, (opened["gauge"] or {}).get("id")))
    return found + [f"{kind} {one.id} was found bad on {one.found_bad} by {one.found_bad_by}" for kind, ones, name in used for one in ones if one.id == name and one.found_bad]


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
    """What was entered or tapped after a certificate was signed and takes its ground away, in a sentence; else nothing.

    `signed` is the body of its entry `certificate signed`.
    """
    class_id, person = signed["class"], signed["candidate"]["id"]
    bound = next(entry.body["rests_on"] for entry in desk.entries("decision", **{"class": class_id, "candidate": person})
                 if entry.number == signed["decision_entry"])
    last = desk.entries("bench assessed", **{"class": class_id, "candidate": person})[-1]
    said = []
    if last.number > bound["bench"]["entry"] and not last.body["passed"]:
        said.append(f"the bench work was entered again as NOT PASSED (entry {last.number})")
    elif bench_events(desk, last.body["form_id"])[1] != last.body["events_sha256"]:
        said.append("something was tapped on the bench form after it was entered")
    try:
        paper = marked(desk, class_id, person)
    except Refusal as refusal:
        said.append(f"the marked paper is not as it was entered ({refusal})")
    else:
        if paper is None or not paper["result"]["passed"]:
            said.append("the written paper is marked as not passed now")
    return f"Since it was signed {' and '.join(said)}: look at what it rests on, then suspend or withdraw it, or decide again." if said else ""


def certificates_on(desk: Desk, class_id: str, candidate_id: str) -> list[str]:
    """The numbers of a candidate's certificates that are in force by the register."""
    entries = desk.register.entries()
    return [entry.body["certificate"] for entry in desk.entries("certificate signed", **{"class": class_id, "candidate": candidate_id})
            if status_of(entries, entry.body["certificate"]).in_force]
