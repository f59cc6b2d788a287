"""A candidate's other bench forms: what was entered on them, what was only tapped, and what of it stands in the way."""

from __future__ import annotations

from rigcalc.bench.observe import live_events
from rigcalc.desk.folder import Desk
from rigcalc.desk.forms import counted
from rigcalc.desk.hands import as_entered, bench_events, forms, look_at_form
from rigcalc.errors import Refusal
from rigcalc.register.status import scope_of
from rigcalc.register.store import Entry

__all__ = ["failed_on_others", "forms_of_its_sort", "left_open_and_wrong", "other_forms_in_the_way", "other_forms_in_words", "other_sorts", "set_aside_in_words", "unclosed_forms"]


def other_forms_in_the_way(desk: Desk, class_id: str, candidate_id: str, form_id: str) -> list[str]:
    """What takes the ground from the form that counts: what `failed_on_others` finds, and work of its scope that was tapped and never closed.

    Else whoever fails on one form would only need another closed again, or the form left open.
    """
    return failed_on_others(desk, class_id, candidate_id, form_id) + [
        f"Form {one} was tapped on and is not closed as it stands: {_close_or_set_aside(desk, one)}."
        for one in unclosed_forms(desk, class_id, candidate_id, form_id) if one != form_id]


def failed_on_others(desk: Desk, class_id: str, candidate_id: str, form_id: str) -> list[str]:
    """A sentence for each other form of a form's scope that was entered last as not passed, unless a form opened after that entry is passed."""
    mine = _of_scope(desk, class_id, candidate_id, form_id)
    last = {one.body["form_id"]: entered[-1] for one in mine if (entered := _entered(desk, one.body["form_id"], candidate_id))}
    answered = max((one.number for one in mine if one.body["form_id"] in last and last[one.body["form_id"]].body["passed"]), default=0)
    failed = [one for name, one in last.items() if name != form_id and not one.body["passed"] and answered < one.number]
    return [f"On form {one.body['form_id']} the bench work was entered as NOT PASSED (entry {one.number}, {one.at[:10]}), and no form opened since is passed: "
            "assess on a new form." for one in failed]


def _close_or_set_aside(desk: Desk, form_id: str) -> str:
    """What can be done with an open form: one on which somebody was assessed is not set aside."""
    return "close it for this candidate" + ("" if desk.entries("bench assessed", form_id=form_id) else ", or set it aside with the reason")


def unclosed_forms(desk: Desk, class_id: str, candidate_id: str, form_id: str) -> list[str]:
    """The forms of a candidate for work as one form was opened for, on which more was tapped than was entered; oldest first.

    Left out are forms that were set aside, and those on which each tap was taken back before anything was entered.
    """
    found = []
    for name in forms_of_its_sort(desk, class_id, candidate_id, form_id):
        if desk.entries("bench form set aside", form_id=name):
            continue
        entered = _entered(desk, name, candidate_id)
        if not as_entered(desk, entered[-1].body) if entered else any(e.get("candidate") == candidate_id for e in live_events(bench_events(desk, name)[0])):
            found.append(name)
    return found


def left_open_and_wrong(desk: Desk, class_id: str, candidate_id: str, form_id: str) -> list[str]:
    """Other forms of a form's scope that are not closed as they stand, and on which a critical point was seen wrong."""
    return [one for one in unclosed_forms(desk, class_id, candidate_id, form_id) if one != form_id and _critical(desk, one, candidate_id)]


def other_sorts(desk: Desk, class_id: str, candidate_id: str, form_id: str) -> dict[str, str]:
    """The last form of each other scope on which a candidate was assessed, with what was made: each is decided on by itself."""
    opened = {one.body["form_id"]: one.body["made"] for one in _opened(desk, class_id, candidate_id)}
    last = {}
    for entry in desk.entries("bench assessed", **{"class": class_id, "candidate": candidate_id}):
        scope = scope_of(opened[entry.body["form_id"]])
        if scope != scope_of(opened[form_id]):
            last[str(scope)] = entry.body["form_id"]
    return {name: _made_in_words(opened[name]) for name in last.values()}


def forms_of_its_sort(desk: Desk, class_id: str, candidate_id: str, form_id: str) -> list[str]:
    """A candidate's forms for work as one form was opened for, that one too; oldest first."""
    return [one.body["form_id"] for one in _of_scope(desk, class_id, candidate_id, form_id)]


def _of_scope(desk: Desk, class_id: str, candidate_id: str, form_id: str) -> list[Entry]:
    """The entries by which a candidate's forms for work as one form was opened for were opened, that one too; oldest first."""
    mine = _opened(desk, class_id, candidate_id)
    scope = next(scope_of(one.body["made"]) for one in mine if one.body["form_id"] == form_id)
    return [one for one in mine if scope_of(one.body["made"]) == scope]


def _opened(desk: Desk, class_id: str, candidate_id: str) -> list[Entry]:
    return [one for one in desk.entries("bench form opened", **{"class": class_id}) if candidate_id in [person["id"] for person in one.body["candidates"]]]


def _entered(desk: Desk, form_id: str, candidate_id: str) -> list[Entry]:
    return desk.entries("bench assessed", form_id=form_id, candidate=candidate_id)


def _critical(desk: Desk, form_id: str, candidate_id: str) -> list[str]:
    """The critical points seen wrong on a form as it stands."""
    try:
        return [f"{one['number']} {one['text']}" for one in look_at_form(desk, form_id, candidate_id)["criticals_failed"]]
    except Refusal:
        return []


def _made_in_words(made: dict) -> str:
    return f"{made['size']} {made['construction']} {made['metal']}, {made['sleeve_metal']} sleeves, tool {made['tool']}"


def other_forms_in_words(desk: Desk, class_id: str, candidate_id: str, form_id: str) -> list[str]:
    """A sentence for each form but this one on which a candidate's bench work was entered, with what it was entered as.

    Example: `Another bench form, b-12ab34cd56 (3/16 7x19 galvanised, aluminium sleeves, tool LB), was entered as not passed (entry 9).`
    """
    others: dict[str, list[Entry]] = {}
    for entry in desk.entries("bench assessed", **{"class": class_id, "candidate": candidate_id}):
        if entry.body["form_id"] != form_id:
            others.setdefault(entry.body["form_id"], []).append(entry)
    made = {entry.body["form_id"]: entry.body["made"] for entry in desk.entries("bench form opened")} if others else {}
    return [f"Another bench form, {name} ({_made_in_words(made[name])}), was entered as "
            + ", then ".join(f"{'passed' if one.body['passed'] else 'not passed'} (entry {one.number})" for one in found) + "." for name, found in others.items()]


def set_aside_in_words(desk: Desk, class_id: str, candidate_id: str) -> list[str]:
    """A sentence for each form of a candidate that was set aside, with how much stands on it and what was seen wrong of what is critical.

    Example: `Form b-12ab34cd56 was set aside by Ines Varrow: wrong cable on it. 31 taps stand on it.`
    """
    aside = [one for one in forms(desk, class_id) if one["set_aside"] and candidate_id in [person["id"] for person in one["candidates"]]]
    said = []
    for one in aside:
        wrong, taps = _critical(desk, one["form_id"], candidate_id), len(bench_events(desk, one["form_id"])[0])
        said.append(f"Form {one['form_id']} was {one['set_aside'].rstrip('.')}. {counted(taps, 'tap')} {'stands' if taps == 1 else 'stand'} on it"
                    + (f"; seen wrong, and critical: {'; '.join(wrong)}" if wrong else "") + ".")
    return said
