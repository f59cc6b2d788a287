"""A candidate's other bench forms: what was entered on them, what was only tapped, and what of it stands in the way."""

from __future__ import annotations

from rigcalc.desk.folder import Desk
from rigcalc.desk.hands import as_entered, bench_events, forms
from rigcalc.register.status import scope_of
from rigcalc.register.store import Entry

__all__ = ["other_forms_in_the_way", "other_forms_in_words", "set_aside_in_words", "unclosed_forms"]


def other_forms_in_the_way(desk: Desk, class_id: str, candidate_id: str, form_id: str) -> list[str]:
    """What takes the ground from the form that counts: work of its scope that was entered as not passed on a form opened after it, or tapped and never closed.

    Else whoever fails on a newer form would only need an older one closed again, or a form left open.
    """
    mine = [one for one in reversed(forms(desk, class_id)) if candidate_id in [person["id"] for person in one["candidates"]]]
    counts = next(one for one in mine if one["form_id"] == form_id)
    later = [one for one in mine if one["number"] > counts["number"] and scope_of(one["made"]) == scope_of(counts["made"])]
    last = [entered[-1] for one in later if (entered := desk.entries("bench assessed", form_id=one["form_id"], candidate=candidate_id))]
    return [f"On form {one.body['form_id']}, opened after form {form_id}, the bench work was entered as NOT PASSED (entry {one.number}, {one.at[:10]}): "
            "what comes after it counts. Assess on a new form." for one in last if not one.body["passed"]] + [
            f"Form {one} was tapped on and is not closed as it stands: close it for this candidate, or set it aside with the reason."
            for one in unclosed_forms(desk, class_id, candidate_id, counts["made"]) if one != form_id]


def unclosed_forms(desk: Desk, class_id: str, candidate_id: str, made: dict) -> list[str]:
    """The forms of a candidate for work of one scope on which more was tapped than was entered; oldest first.

    `made` is what the scope's form was opened for. Left out are forms that were set aside.
    """
    found = []
    for one in reversed(forms(desk, class_id)):
        if one["set_aside"] or candidate_id not in [person["id"] for person in one["candidates"]] or scope_of(one["made"]) != scope_of(made):
            continue
        entered = desk.entries("bench assessed", form_id=one["form_id"], candidate=candidate_id)
        if not as_entered(desk, entered[-1].body) if entered else any(e.get("candidate") == candidate_id for e in bench_events(desk, one["form_id"])[0]):
            found.append(one["form_id"])
    return found


def other_forms_in_words(desk: Desk, class_id: str, candidate_id: str) -> list[str]:
    """A sentence for each other form on which a candidate's bench work was entered, with what it was entered as.

    Example: `Another bench form, b-12ab34cd56 (3/16 7x19 galvanised, tool LB), was entered as not passed (entry 9).`
    """
    entries = desk.entries("bench assessed", **{"class": class_id, "candidate": candidate_id})
    others: dict[str, list[Entry]] = {}
    for entry in entries:
        if entry.body["form_id"] != entries[-1].body["form_id"]:
            others.setdefault(entry.body["form_id"], []).append(entry)
    made = {entry.body["form_id"]: entry.body["made"] for entry in desk.entries("bench form opened")} if others else {}
    return [f"Another bench form, {form_id} ({made[form_id]['size']} {made[form_id]['construction']} {made[form_id]['metal']}, tool {made[form_id]['tool']}), was entered as "
            + ", then ".join(f"{'passed' if one.body['passed'] else 'not passed'} (entry {one.number})" for one in found) + "." for form_id, found in others.items()]


def set_aside_in_words(desk: Desk, class_id: str, candidate_id: str) -> list[str]:
    """A sentence for each form of a candidate that was set aside, with how much stands on it.

    Example: `Form b-12ab34cd56 was set aside by Ines Varrow: wrong cable on it. 31 entries stand on it.`
    """
    aside = [one for one in forms(desk, class_id) if one["set_aside"] and candidate_id in [person["id"] for person in one["candidates"]]]
    return [f"Form {one['form_id']} was {one['set_aside'].rstrip('.')}. {len(bench_events(desk, one['form_id'])[0])} entries stand on it." for one in aside]
