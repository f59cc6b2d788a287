"""The bench at the desk: keep sealed sets, open a form for one or two candidates, draw the outcome into the register."""

from __future__ import annotations

import hashlib
import json
import re
import secrets
from datetime import datetime

import msgspec

from rigcalc.bench.choices import Choice, bench_choices, chosen_piece
from rigcalc.bench.form import open_form
from rigcalc.bench.outcome import outcome
from rigcalc.bench.tasks import load_tasks
from rigcalc.desk.charts import charts_now
from rigcalc.desk.classes import candidate_of, class_of
from rigcalc.desk.folder import Desk, exact_text, sha256_of, short_id, today
from rigcalc.desk.persons import no_candidate
from rigcalc.errors import Refusal
from rigcalc.papers.records import canonical, private_folder, write_synced
from rigcalc.room import access
from rigcalc.register.status import scope_of
from rigcalc.register.store import Entry
from rigcalc.room.journal import Journal

__all__ = ["as_entered", "assess", "assessed", "bench_events", "bench_form", "closed_as_it_stands", "closings_in_words", "forms", "keep_set", "look_at_form", "open_bench",
           "pieces_to_make", "read_set", "sealed_sets", "set_aside"]


def read_set(text: str) -> dict[str, str | None]:
    """A sealed set as typed: one piece a line, its number, a colon, and `good` or the cause of its fault.

    Example
    -------
    >>> read_set("3: good\\n7: crack")
    {'3': None, '7': 'crack'}
    """
    causes = {cause.id: cause.text for task in load_tasks().values() for cause in task.cause}
    by_text = {words.casefold(): name for name, words in causes.items()}
    found: dict[str, str | None] = {}
    for number, line in enumerate(text.splitlines(), 1):
        if not line.strip():
            continue
        piece, _, what = (part.strip() for part in line.partition(":"))
        what = by_text.get(what.casefold(), what)
        if not re.fullmatch(r"[A-Za-z0-9-]{1,8}", piece) or (what != "good" and what not in causes):
            raise Refusal(f"line {number}: {line.strip()[:60]!r}",
                          f"a piece's number, a colon, then good or one of: {', '.join(causes)}", "mend that line")
        if piece in found:
            raise Refusal(f"line {number}: piece {piece} a second time", "each piece once", "mend that line")
        found[piece] = None if what == "good" else what
    return found


def keep_set(desk: Desk, class_id: str, name: str, text: str, by: str, now: datetime | None = None) -> str:
    """Keep a sealed set's key in the desk's folder (never in the room) and return the set's id; entered as `sealed set kept`.

    `by` put the set together, and is no candidate of the class; the key itself is not in the register, only its hash.
    """
    by = no_candidate(class_of(desk, class_id)["candidates"], by, "person who put the set together")
    rule = next(task.set for task in load_tasks().values() if task.set)
    critical = {cause.id for task in load_tasks().values() for cause in task.cause if cause.critical}
    pieces, set_id = read_set(text), short_id(name, "the set's name", "set 4, as it stands on the box")
    good = sum(one is None for one in pieces.values())
    grave = sum(one in critical for one in pieces.values())
    if len(pieces) != rule.pieces or good < rule.good_at_least or grave < rule.critical_at_least:
        raise Refusal(f"a set of {len(pieces)} pieces, {good} good and {grave} with a critical fault",
                      f"{rule.pieces} pieces, at least {rule.good_at_least} good and {rule.critical_at_least} with a "
                      "critical fault", "put the set together again and type it anew")
    kept = desk.kept("sets", set_id)
    if kept and kept["pieces"] != pieces:
        raise Refusal(f"the set '{set_id}' with other pieces", "the pieces it was entered with",
                      "give the changed set a new name: forms already opened name the old one")
    digest = desk.keep("sets", set_id, {"id": set_id, "pieces": pieces})
    if kept is None:
        desk.note("sealed set kept", {"set": set_id, "set_key_sha256": digest, "by": by}, now)
    return set_id


def sealed_sets(desk: Desk) -> list[str]:
    """The ids of the sealed sets this desk knows."""
    return sorted(path.stem for path in (desk.folder / "sets").glob("*.json"))


def open_bench(desk: Desk, class_id: str, candidate_ids: list[str], assessor: str, tool: str | None = None,
               set_id: str | None = None, now: datetime | None = None, again: bool = False, choice: str = "") -> dict:
    """Open a form for one or two candidates; entered as `bench form opened`. Gives the form and its address.

    `choice` is the key of one of `pieces_to_make`; without it the task's own piece is made, with `tool`.
    A candidate with a form not yet closed gets a second one only with `again`.
    """
    group, now = class_of(desk, class_id), today(now)
    assessor = no_candidate(group["candidates"], assessor, "assessor")
    people = [candidate_of(desk, class_id, one) for one in candidate_ids]
    open_now = [] if again else [(one, person) for one in forms(desk, class_id) for person in one["candidates"] if not one["set_aside"]
                                 and person["id"] in candidate_ids and not desk.entries("bench assessed", form_id=one["form_id"], candidate=person["id"])]
    if open_now:
        one, person = open_now[0]
        raise Refusal(f"a second form for {person['name']}, whose form {one['form_id']} is open and not closed", "one open form a candidate",
                      "go on with that form, close it or set it aside, or tick 'open another form all the same'")
    key = desk.kept("sets", set_id) if set_id else None
    if set_id and key is None:
        raise Refusal(f"the sealed set '{set_id}'", f"one of: {', '.join(sealed_sets(desk)) or 'none entered yet'}",
                      "enter the set's key at the desk first")
    made = chosen_piece(pieces_to_make(desk, now), choice) if choice else None
    form_id = f"b-{secrets.token_hex(5)}"
    numbers = {"id": key["id"], "pieces": sorted(key["pieces"], key=_by_number)} if key else None
    form = open_form(load_tasks(), [{"id": p["id"], "name": p["name"]} for p in people], desk.shop, assessor, form_id,
                     now, numbers, piece=msgspec.to_builtins(made.piece) if made else None, tool=made.tool if made else tool)
    folder = private_folder(desk.room / "bench")
    write_synced(folder / f"{form_id}.json", canonical(form))
    token = access.grant(desk.room, "bench", form_id)
    desk.keep("links", form_id, {form_id: token})
    desk.note("bench form opened", {
        "class": group["class"], "form_id": form_id, "candidates": form["candidates"], "assessor": assessor,
        "tasks": [task["id"] for task in form["tasks"]], "made": form["made"], "chart": form["chart"],
        "charts": charts_now(desk),
        "gauge": form["gauge"], "form_sha256": _sha(canonical(form)), "set": key["id"] if key else None,
        "set_key_sha256": sha256_of(key) if key else None, "practice": form["practice"]}, now)
    return {"form": form, "address": f"/bench/{token}"}


def pieces_to_make(desk: Desk, now: datetime | None = None) -> list[Choice]:
    """What a form can be opened for in this shop, the task's own piece or the nearest to it first."""
    return bench_choices(next(task.piece for task in load_tasks().values() if task.piece), desk.shop, today(now).date())


def _by_number(text: str) -> tuple:
    return (0, int(text), "") if text.isdigit() else (1, 0, text)


def _sha(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def forms(desk: Desk, class_id: str) -> list[dict]:
    """The bench forms of a class, newest first, with their addresses."""
    found = []
    for entry in reversed(desk.entries("bench form opened", **{"class": class_id})):
        tokens = desk.kept("links", entry.body["form_id"]) or {}
        token = tokens.get(entry.body["form_id"], "")
        aside = desk.entries("bench form set aside", form_id=entry.body["form_id"])
        found.append(entry.body | {"at": entry.at, "number": entry.number, "address": f"/bench/{token}" if token and not aside else "",
                                   "set_aside": f"set aside by {aside[-1].body['by']}: {aside[-1].body['why']}" if aside else ""})
    return found


def set_aside(desk: Desk, form_id: str, by: str, why: str, now: datetime | None = None) -> None:
    """Set aside a form that was opened by mistake: nothing is assessed on it, and its address closes. What was tapped stays.

    Errors
    ------
    Refusal : no such form; one on which somebody was assessed, or set aside already; a candidate's name or none; no reason.
    """
    _, opened = bench_form(desk, form_id)
    by, why = no_candidate(class_of(desk, opened["class"])["candidates"], by, "person setting it aside"), " ".join(why.split())
    if desk.entries("bench assessed", form_id=form_id) or desk.entries("bench form set aside", form_id=form_id):
        raise Refusal(f"the bench form {form_id}, on which somebody was assessed or which is set aside already", "an open form without an assessment",
                      "assess on another form: the last one counts")
    if not 1 <= len(why) <= 400:
        raise Refusal(f"a reason of {len(why)} letters", "1 to 400 letters", "write why in a sentence")
    access.revoke(desk.room, "bench", form_id)
    desk.note("bench form set aside", {"class": opened["class"], "form_id": form_id, "candidates": opened["candidates"], "by": by, "why": why}, now)


def bench_form(desk: Desk, form_id: str) -> tuple[dict, dict]:
    """A form as it was opened, and its register entry's body; refuses one changed since."""
    entries = desk.entries("bench form opened", form_id=form_id)
    if not entries:
        raise Refusal(f"the bench form '{form_id[:40]}'", "a form opened at this desk", "choose it from the class's list")
    try:
        data = (desk.room / "bench" / f"{form_id}.json").read_bytes()
    except OSError:
        data = b""
    if _sha(data) != entries[-1].body["form_sha256"]:
        raise Refusal(f"the bench form {form_id}, which was changed since it was opened",
                      f"the form that register entry {entries[-1].number} names", "open a new form and begin again")
    return json.loads(data), entries[-1].body


def bench_events(desk: Desk, form_id: str) -> tuple[list[dict], str]:
    """What was tapped on a form so far, and the hash of it as it stands on the disk."""
    path = desk.room / "bench" / f"{form_id}.jsonl"
    if not path.exists():
        return [], _sha(b"")
    journal = Journal(path)
    try:
        return journal.entries(), _sha(path.read_bytes())
    finally:
        journal.close()


def look_at_form(desk: Desk, form_id: str, candidate_id: str, now: datetime | None = None) -> dict:
    """The outcome as it stands now, entered nowhere."""
    form, opened = bench_form(desk, form_id)
    if candidate_id not in [person["id"] for person in form["candidates"]]:
        raise Refusal(f"the candidate '{candidate_id}'", "a candidate of this form", "choose the form of that candidate")
    events, _ = bench_events(desk, form_id)
    key = desk.kept("sets", opened["set"]) if opened["set"] else None
    if key is not None and sha256_of(key) != opened["set_key_sha256"]:
        raise Refusal(f"the key of the sealed set '{opened['set']}', which was changed since the form was opened",
                      "the key as it was entered", "put it back from a copy of the desk's folder")
    return outcome(form, events, candidate_id, desk.shop, key, today(now))


def assess(desk: Desk, form_id: str, candidate_id: str, now: datetime | None = None) -> dict:
    """Close the assessment of one candidate: the outcome is kept and entered as `bench assessed`.

    Closed again with nothing tapped since, the outcome stays as it was entered.
    """
    found = exact_text(look_at_form(desk, form_id, candidate_id, now))
    form, opened = bench_form(desk, form_id)
    if desk.entries("bench form set aside", form_id=form_id):
        raise Refusal(f"the bench form {form_id}, which is set aside", "a form that is not", "open a new form")
    _, events_sha = bench_events(desk, form_id)
    entered = closed_as_it_stands(desk, form_id, candidate_id)
    if entered is not None:
        return _kept_outcome(desk, entered.body)
    who = next(person for person in form["candidates"] if person["id"] == candidate_id)
    digest = desk.keep("outcomes", f"{form_id}-{candidate_id}-{events_sha[:12]}", found)
    body = {"class": opened["class"], "form_id": form_id, "candidate": who, "assessor": opened["assessor"],
            "form_sha256": opened["form_sha256"], "events_sha256": events_sha, "outcome_sha256": digest,
            "set_key_sha256": opened["set_key_sha256"], "passed": found["passed"], "reasons": found["reasons"],
            "criticals_failed": found["criticals_failed"], "not_seen": found["not_seen"], "gauge": found["gauge"],
            "chart": opened["chart"], "practice": opened["practice"]}
    desk.note("bench assessed", body, now)
    return found


def closed_as_it_stands(desk: Desk, form_id: str, candidate_id: str) -> Entry | None:
    """The entry of an assessment that was closed with all that is tapped by now; None where it is to be closed, or closed again."""
    last = desk.entries("bench assessed", form_id=form_id, candidate=candidate_id)
    same = last and as_entered(desk, last[-1].body) and _kept_outcome(desk, last[-1].body) is not None
    return last[-1] if same else None


def as_entered(desk: Desk, body: dict) -> bool:
    """Whether a form still holds what an assessment was entered with, and since then at most taps for the other candidate.

    `body` is that of the entry `bench assessed`.
    """
    path = desk.room / "bench" / f"{body['form_id']}.jsonl"
    read, lines = hashlib.sha256(), path.read_bytes().splitlines(keepends=True) if path.exists() else []
    for at in range(len(lines) + 1):
        if read.hexdigest() == body["events_sha256"]:
            try:
                return all(json.loads(line).get("candidate") not in (None, "", body["candidate"]["id"]) for line in lines[at:])
            except (ValueError, AttributeError):
                return False
        if at < len(lines):
            read.update(lines[at])
    return False


def _kept_outcome(desk: Desk, body: dict) -> dict | None:
    """The outcome that an entry names, or None where it was changed since."""
    found = desk.kept("outcomes", f"{body['form_id']}-{body['candidate']['id']}-{body['events_sha256'][:12]}")
    return found if found is not None and sha256_of(found) == body["outcome_sha256"] else None


def closings_in_words(desk: Desk, class_id: str, candidate_id: str, form_id: str) -> str:
    """How often a candidate's bench work was entered on a form, and as what each time; empty where once or not at all.

    Other forms, of other sizes too, count for nothing here.

    Example: `Entered 3 times: not passed, not passed, passed.`
    """
    entries = desk.entries("bench assessed", **{"class": class_id, "candidate": candidate_id})
    entries = [entry for entry in entries if entry.body["form_id"] == form_id]
    told = ", ".join("passed" if entry.body["passed"] else "not passed" for entry in entries)
    return f"Entered {len(entries)} times: {told}." if len(entries) > 1 else ""


def assessed(desk: Desk, class_id: str, candidate_id: str, like: str = "") -> dict | None:
    """A candidate's last assessment with its register entry and form; refuses one changed since it was entered.

    `like` is a form: then the last assessment of work as it was opened for, of other sizes and tools none.
    """
    entries = desk.entries("bench assessed", **{"class": class_id, "candidate": candidate_id})
    if like and entries:
        made = {entry.body["form_id"]: scope_of(entry.body["made"]) for entry in desk.entries("bench form opened")}
        entries = [entry for entry in entries if made[entry.body["form_id"]] == made.get(like)]
    if not entries:
        return None
    entry = entries[-1]
    body = entry.body
    found = _kept_outcome(desk, body)
    if found is None or not as_entered(desk, body):
        raise Refusal(f"the bench form {body['form_id']} with something changed or added since {body['candidate']['name']}'s assessment was entered (entry {entry.number}),",
                      "an assessment that was closed with all that stands on the form",
                      f"on the Bench page look at {body['candidate']['name']}, and close the assessment again")
    form, opened = bench_form(desk, body["form_id"])
    return {"outcome": found, "entry": entry, "form": form, "opened": opened}
