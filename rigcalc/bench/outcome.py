"""What a filled bench form comes to for one candidate: a proposal with its reasons. A person decides."""

from __future__ import annotations

import hashlib
import json
from datetime import datetime
from typing import Any

from rigcalc.bench.changed import entered_again
from rigcalc.bench.lines import applies, chosen, had_occasion, line_state, method_of
from rigcalc.bench.measured import measured_values, within_limit
from rigcalc.bench.observe import live_events
from rigcalc.bench.pieces import crimp_presses, current_piece, ended_by_gauge, gauge_items
from rigcalc.bench.reasons import reasons_of
from rigcalc.bench.scope import not_shown, shown
from rigcalc.bench.sealed import judge_calls
from rigcalc.errors import Refusal

__all__ = ["outcome"]


def outcome(form: dict, events: list[dict], candidate_id: str, shop, set_key: dict | None, now: datetime) -> dict:
    """Judge one candidate's lines by the rules of the form; the result proposes and does not decide.

    Parameters
    ----------
    form : dict
        From ``open_form``; its limits were fixed when it was opened.
    events : list of dict
        All saved events of the form, both candidates'.
    candidate_id : str
    shop : Shop
        For what was not shown, and to say when its file changed since the form was opened.
    set_key : dict or None
        The sealed set's key, from the desk; see ``rigcalc.bench.sealed.check_set``. None: the calls stay unmarked.
    now : datetime
        When this was worked out, with time zone.

    Returns
    -------
    dict
        JSON data. ``passed`` is True only when nothing critical is wrong, unseen or missing and every required
        line is filled; ``reasons`` says why or why not, and ``to_weigh`` what the decider has to weigh.
    """
    person = next((c for c in form["candidates"] if c["id"] == candidate_id), None)
    if person is None:
        raise Refusal(f"the candidate {candidate_id}", "a candidate of this form", "open the form of that candidate")
    live = live_events(events)
    piece = current_piece(form, live, candidate_id)
    lines = _lines(form, live, candidate_id, piece)
    result: dict[str, Any] = {
        "form": 1, "form_id": form["form_id"], "candidate": person, "assessor": form["assessor"],
        "opened_at": form["opened_at"], "judged_at": now.isoformat(timespec="seconds"), "shop": form["shop"],
        "practice": form["practice"], "invented": form["shop"]["invented"], "chart": form["chart"], "gauge": form["gauge"],
        "identity": _identity(form, live, candidate_id), "tasks": [t["id"] for t in form["tasks"]], "left_out": form["left_out"],
        "events_sha256": _digest(events), "shop_changed": shop.digest != form["shop"]["digest"],
        "lines": lines,
        "criticals_failed": _criticals_failed(form, lines),
        "not_seen": [_brief(x) for x in lines if x["critical"] and x["state"] in ("not seen", "none")],
        "missing": [_brief(x) for x in lines if not x["critical"] and x["state"] == "none"],
        "required_wrong": [_brief(x) for x in lines if x["required"] and x["state"] == "wrong"],
        "seen_wrong": [_brief(x) for x in lines if not x["critical"] and not x["required"] and x["state"] == "wrong"],
        "measured": _measured(form, live, candidate_id, piece),
        "crimps": _crimps(form, live, candidate_id),
        "pieces_made": _pieces_made(form, live, candidate_id, piece),
        "containment": _containment(form, lines),
        "material": _material(form, live, candidate_id),
        "pieces": judge_calls(form, live, candidate_id, set_key),
        "destructive": _destructive(form, live, candidate_id, lines),
        "help": _help(form, live, candidate_id),
        "words": [e["words"] for e in live if e["kind"] == "wrote" and e["candidate"] == candidate_id and not e["item"] and not e["about"]],
        "changed": entered_again(form, events, candidate_id),
        "tool_stopped_by": _tool_stopped_by(form, live),
        "skills": _skills(form, lines), "shown": shown(form), "not_shown": not_shown(form, shop),
    }
    return result | reasons_of(form, result)


def _lines(form: dict, live: list[dict], candidate: str, piece: int) -> list[dict]:
    """Every line that counts, on the piece in hand, with its state and why."""
    lines = []
    for stage in form["stages"]:
        for item in stage["items"]:
            number = 0 if stage["per"] == "day" else piece
            if applies(form, live, candidate, number, item):
                lines.append({"item": item["id"], "key": item["key"], "number": item["number"], "text": item["see"], "task": stage["task"],
                              "critical": item["critical"], "required": item["required"], "skills": item["skills"],
                              "without_occasion": [] if had_occasion(form, live, candidate, number, item) else item.get("on_occasion", []), "eye": item["eye"],
                              "when": item["when"], "who": item["who"], **line_state(form, live, candidate, number, item)})
    return lines


def _criticals_failed(form: dict, lines: list[dict]) -> list[dict]:
    """Critical lines seen wrong; a second failure at the gauge is none where all that has to follow was done right."""
    containment = _containment(form, lines)
    gauged = {item["key"] for item in gauge_items(form)} if containment and containment["right"] else set()
    return [_brief(x) for x in lines if x["critical"] and x["state"] == "wrong" and x["key"] not in gauged]


def _brief(line: dict) -> dict:
    return {name: line[name] for name in ("item", "key", "number", "text", "why", "eye")}


def _identity(form: dict, live: list[dict], candidate: str) -> str | None:
    key = next((i["key"] for s in form["stages"] for i in s["items"] if i["id"].endswith("#identity")), None)
    return chosen(live, candidate, 0, key) if key else None


def _measured(form: dict, live: list[dict], candidate: str, piece: int) -> list[dict]:
    found = []
    for stage in form["stages"]:
        for item in stage["items"]:
            number = 0 if stage["per"] == "day" else piece
            if item["kind"] != "measure" or not applies(form, live, candidate, number, item):
                continue
            values = measured_values(live, candidate, number, item)
            found.append({"item": item["id"], "number": item["number"], "text": item["see"], "eye": item["eye"], "critical": item["critical"],
                          "values": [{k: v[k] for k in ("part", "typed", "unit", "instrument", "shown")} for v in values if v],
                          "limit": item["limit"]["said"], "source": item["limit"]["source"], "within": within_limit(item["limit"], values)})
    return found


def _crimps(form: dict, live: list[dict], candidate: str) -> list[dict]:
    return [{"piece": piece, "eye": item["eye"], "crimp": crimp, "passed": made}
            for piece in range(1, current_piece(form, live, candidate) + 1) for item in gauge_items(form)
            for crimp, made in crimp_presses(live, candidate, piece, item["key"]).items()]


def _pieces_made(form: dict, live: list[dict], candidate: str, piece: int) -> dict:
    texts = {c["id"]: c["text"] for c in form["causes"]} | {"other": "another reason, in the words at the end"}
    rejected = [{"piece": e["piece"], "cause": e["cause"], "text": texts[e["cause"]], "at": e["at"]}
                for e in live if e["kind"] == "rejected" and e["candidate"] == candidate]
    scrapped = ended_by_gauge(form, live, candidate, piece)
    return {"begun": piece, "rejected_by_candidate": rejected, "scrapped_at_gauge": scrapped,
            "finished": not scrapped and not any(r["piece"] == piece for r in rejected)}


def _containment(form: dict, lines: list[dict]) -> dict | None:
    """The three taps after a second failure, or None where there was none."""
    taps = [x for x in lines if x["when"] == "second failure"]
    return {"right": all(x["state"] == "right" for x in taps), "lines": [_brief(x) for x in taps]} if taps else None


def _material(form: dict, live: list[dict], candidate: str) -> list[dict]:
    counted = {(e["material"], e["which"]): e["number"] for e in live if e["kind"] == "counted" and e["candidate"] == candidate}
    lines = []
    for material in form["issue"]["material"] if form["issue"] else []:
        out, used, unused = (counted.get((material["id"], which)) for which in ("out", "in pieces", "unused"))
        whole = None not in (out, used, unused)
        lines.append({"id": material["id"], "text": material["text"], "out": out, "in_pieces": used, "unused": unused,
                      "issued_by_task": material["issued"], "balanced": out == used + unused if whole else None})
    return lines


def _destructive(form: dict, live: list[dict], candidate: str, lines: list[dict]) -> dict:
    method = method_of(form, live, candidate)
    used = [x for x in lines if method and x["when"] == method]
    words = next((x["why"] for x in used if x["item"].endswith("#force-gauge") and x["state"] == "right"), None)
    return {"method": method, "passed": bool(used) and all(x["state"] == "right" for x in used), "lines": [_brief(x) | {"state": x["state"]} for x in used],
            "instrument": words, "mode": next((x["why"] for x in used if x["item"].endswith("#pull-mode")), None)}


def _help(form: dict, live: list[dict], candidate: str) -> list[dict]:
    titles = {s["id"]: s["title"] for s in form["stages"]}
    words = {e["about"]: e["words"].strip() for e in live if e["kind"] == "wrote" and e["about"]}
    return [{"at": e["at"], "stage": titles.get(e["item"], e["item"]), "words": words.get(e["id"], "")}
            for e in live if e["kind"] == "helped" and e["candidate"] == candidate]


def _tool_stopped_by(form: dict, live: list[dict]) -> str | None:
    """Who met the second failure that took the form's tool out of use, or None."""
    return next((c["name"] for c in form["candidates"] for piece in range(1, current_piece(form, live, c["id"]) + 1)
                 if ended_by_gauge(form, live, c["id"], piece)), None)


def _skills(form: dict, lines: list[dict]) -> dict[str, str]:
    """For each skill number: "shown", "shown wrong", "not seen" or "no occasion", the worst of its lines counting."""
    states: dict[int, set[str]] = {skill: set() for stage in form["stages"] for item in stage["items"] for skill in item["skills"]}
    for line in lines:
        for skill in set(line["skills"]) - set(line["without_occasion"]):
            states[skill].add(line["state"])
    return {str(skill): "shown wrong" if "wrong" in found else "shown" if found == {"right"} else "not seen" if found else "no occasion"
            for skill, found in sorted(states.items())}


def _digest(events: list[dict]) -> str:
    return hashlib.sha256(json.dumps(events, sort_keys=True, separators=(",", ":")).encode()).hexdigest()
