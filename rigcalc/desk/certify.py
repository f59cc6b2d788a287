"""Certificates: drawn from a decision, signed, kept, entered; and read again for printing."""

from __future__ import annotations

from datetime import date, datetime, timedelta

from rigcalc.cautions import CAUTIONS, CERTIFICATE_CAUTION
from rigcalc.desk.classes import class_of
from rigcalc.desk.correcting import marked_again_in_words
from rigcalc.desk.decide import LINE_LIMIT, blockers, decision_of, declared_in, put_forward
from rigcalc.desk.folder import Desk, today
from rigcalc.desk.hands import closings_in_words
from rigcalc.desk.persons import roles_in_words
from rigcalc.desk.since import since_opened
from rigcalc.desk.shown import by_hand, in_writing, marks_given, skill_names, skills_not_shown
from rigcalc.errors import Refusal
from rigcalc.papers.cut import spread_in_words
from rigcalc.register.certificate import certificate_bytes, certificate_sha256, check_certificate, sign_certificate
from rigcalc.register.keys import write_whole

__all__ = ["SCHEME", "WHY_TWO_YEARS", "certificate", "certificates", "certify", "no_longer_stands"]

USUAL_YEARS, MOST_YEARS = 2, 5  # workbook judgement: no published figure
SCHEME = "narrow"  # what the bench tasks that ship can show: one size of one tool
WHY_TWO_YEARS = ("Two years, a house rule of this scheme and no published figure: hands lose practice, and tools and "
                 "charts change.")


def certify(desk: Desk, class_id: str, candidate_id: str, until: date | None = None, why: str = "",
            now: datetime | None = None) -> dict:
    """Sign the certificate that a decision `competent` allows; entered as `certificate signed`.

    Parameters
    ----------
    until : date, optional
        The last day; two years where left out.
    why : str
        Why it is valid so long; empty for two years, and for two years only.

    Errors
    ------
    Refusal : no decision, `not yet`, something now in the way, already signed, an end before the start or more than five years on
        (workbook judgement: no published figure), another end than two years without a reason of its own.
    """
    decision, now = decision_of(desk, class_id, candidate_id), today(now)
    if decision is None or decision["decision"] != "competent":
        raise Refusal("a certificate for somebody who was not decided to be competent", "a decision 'competent'",
                      "decide first")
    if any(one["decision_entry"] == decision["number"] for one in certificates(desk, class_id)):
        raise Refusal("a second certificate for one decision", "one certificate a decision", "use the one that is there")
    if wrong := no_longer_stands(desk, class_id, candidate_id, decision):
        raise Refusal(f"a decision that no longer stands ({wrong})", "a decision on what lies before the desk now", "decide again")
    until = until or _last_day(now.date(), USUAL_YEARS)
    if until <= now.date():
        raise Refusal(f"the end {until.isoformat()}, where the certificate starts on {now.date().isoformat()}",
                      "an end after the start", "put the date right, or leave it empty")
    if until > _last_day(now.date(), MOST_YEARS):
        raise Refusal(f"the end {until.isoformat()}, more than {MOST_YEARS} years on", f"an end by {_last_day(now.date(), MOST_YEARS).isoformat()}: hands lose practice, "
                      "and tools and charts change", "choose an earlier day, and assess again then")
    why = _why_until(until, _last_day(now.date(), USUAL_YEARS), " ".join(why.split()))
    statement = _statement(desk, class_id, candidate_id, decision, now, until, why)
    made = sign_certificate(statement, desk.issuer(), desk.shop.name)
    write_whole(desk.path("certificates", f"{statement['number']}.json"), certificate_bytes(made))
    desk.note("certificate signed", {
        "class": class_id, "candidate": decision["candidate"], "certificate": statement["number"],
        "certificate_sha256": certificate_sha256(made), "standing": made["standing"],
        "scope": _scope_compared(statement["scope"]), "replaces": statement["replaces"],
        "key_fingerprint": made["issuer"]["fingerprint"], "decision_entry": decision["number"],
        "decision_hash": decision["hash"], "starts": statement["validity"]["starts"],
        "ends": statement["validity"]["ends"]}, now)
    return made


def no_longer_stands(desk: Desk, class_id: str, candidate_id: str, decision: dict) -> str:
    """Why a decision would not be made again on what lies before the desk now; empty where it stands as it was bound."""
    bound = decision["rests_on"]
    like = (bound["bench"] or {}).get("form_id", "")
    wrong = blockers(desk, class_id, candidate_id, declared_in(decision), decision["decider"], like)
    found = put_forward(desk, class_id, candidate_id, like)
    if not wrong and (bound["paper"]["result_sha256"] != found["written"]["entry"].body["result_sha256"]
                      or bound["bench"]["outcome_sha256"] != found["hands"]["entry"].body["outcome_sha256"]):
        wrong = ["The paper or the bench work was marked or assessed again after the decision."]
    if not wrong and since_opened(desk, bound["bench"]["form_id"]) != decision.get("since", []):
        wrong = ["The shop file says something else of chart, tool or gauge than when it was decided."]
    if not wrong and any(entry.number > decision["number"] and candidate_id in [person["id"] for person in entry.body["candidates"]]
                         for entry in desk.entries("bench form set aside", **{"class": class_id})):
        wrong = ["A bench form of this candidate was set aside after the decision."]
    return wrong[0].rstrip(".") if wrong else ""


def _why_until(until: date, usual: date, why: str) -> str:
    """The sentence the sheet prints beside the last day: the house rule, or what was chosen instead and why."""
    if len(why) > LINE_LIMIT:
        raise Refusal(f"{len(why)} letters for why it is valid so long", f"up to {LINE_LIMIT} letters", "write it in a sentence")
    if until == usual:
        if why not in ("", WHY_TWO_YEARS):
            raise Refusal("a reason of its own for the usual two years", "no reason, for two years: the sheet prints the house rule", "leave it empty, or type another last day")
        return WHY_TWO_YEARS
    if not why or why == WHY_TWO_YEARS:
        raise Refusal(f"the end {until.isoformat()} without a reason of its own",
                      f"the usual end {usual.isoformat()}, or another one with its reason",
                      "write why it is valid until that day, or leave the date empty")
    return f"Chosen in place of the two years of the house rule: {why}"


def _last_day(day: date, years: int) -> date:
    """The last day of some years from that day."""
    later = day.replace(year=day.year + years, month=3, day=1) if (day.month, day.day) == (2, 29) \
        else day.replace(year=day.year + years)
    return later - timedelta(days=1)


def _statement(desk: Desk, class_id: str, candidate_id: str, decision: dict, now: datetime, until: date,
               why: str) -> dict:
    found = put_forward(desk, class_id, candidate_id, decision["rests_on"]["bench"]["form_id"])
    hands, assessor = found["hands"], found["hands"]["entry"].body["assessor"]
    declared = declared_in(decision)
    return {
        "number": f"{class_id}-{candidate_id}-{decision['number']}", "invented": desk.invented,
        "person": {"name": found["person"]["name"], "candidate": candidate_id, "identified": decision["identified"]},
        "scope": _scope(hands), "not_shown": [*(str(line) for line in hands["outcome"]["not_shown"]), *skills_not_shown(found)],
        "written": _written(found["written"], marked_again_in_words(desk, class_id, found["written"]["result"]["paper_id"])), "bench": _bench(hands) | {"again": _again(desk, class_id, candidate_id, decision)},
        "chart": {"line": hands["form"]["chart"]["line"], "kind": hands["form"]["chart"]["kind"]},
        "assessor": assessor,
        "declarations": {"training": declared.training(assessor), "conflict": declared.conflict(assessor),
                         "roles": declared.roles(roles_in_words(desk, found), decision["decider"])},
        "decision": {"decider": decision["decider"], "on": _day(decision["at"]), "reasons": decision["reasons"]},
        "validity": {"starts": now.date().isoformat(), "ends": until.isoformat(), "why": why},
        "register": {"entry": decision["number"], "hash": decision["hash"]},
        "cautions": [CERTIFICATE_CAUTION, *CAUTIONS[:3]], "replaces": _replaced(desk, class_id, candidate_id, _scope(hands)),
    }


def _again(desk: Desk, class_id: str, candidate_id: str, decision: dict) -> str:
    """How often the bench work was entered, and why its form stands where something has changed since it was opened."""
    stands = f"Since it was opened: {'; '.join(decision['since'])}. It stands all the same: {decision['stands']}" if decision.get("stands") else ""
    closings = closings_in_words(desk, class_id, candidate_id, decision["rests_on"]["bench"]["form_id"])
    return f"{closings} {stands}".strip()


def _scope_compared(scope: dict) -> dict:
    return {name: value for name, value in scope.items() if name != "limits"}


def _replaced(desk: Desk, class_id: str, candidate_id: str, scope: dict) -> list[str]:
    """The certificates of the same candidate and scope that a new one takes the place of; one replaced already is left out."""
    earlier = [one for one in certificates(desk, class_id) if one["candidate"]["id"] == candidate_id
               and one.get("scope", _scope_compared(scope)) == _scope_compared(scope)]
    gone = {number for one in earlier for number in one.get("replaces", [])}
    return [one["certificate"] for one in earlier if one["certificate"] not in gone]


def _day(stamp: str) -> str:
    return datetime.fromisoformat(stamp).astimezone().date().isoformat()


def _scope(hands: dict) -> dict:
    shown = hands["outcome"]["shown"]
    sizes = [str(size) for size in shown["sizes"]]
    return {"scheme": SCHEME, "sleeve_metal": shown["sleeve_metal"], "construction": shown["construction"],
            "finish": shown["cable_metal"], "tool": shown["tool"], "cavity": str(shown["cavity"]),
            "sizes": sizes, "limits": f"Narrow: one size, {sizes[0]}, of one tool. It is no evidence for any other size, "
                                      "metal, construction or tool."}


def _written(found: dict, again: str) -> dict:
    result = found["result"]
    cut, slots = result["cut"], result["slots"]
    return {"paper": result["paper_id"], "blueprint": f"{result['blueprint']['id']} {result['blueprint']['version']}",
            "score": str(result["score"]), "out_of": str(result["out_of"]), "cut": str(cut["marks"]),
            "cut_how": f"{cut['how']} {spread_in_words(cut)}", "cut_by": f"{cut['set_by']} ({cut['method']}), {cut['set_on']}",
            "must_be_right": skill_names([slot["skill"] for slot in slots if slot["must_be_right"]]),
            "answers_sha256": result["answers_sha256"], "given": f"{marks_given(result)} {again}".strip(),
            "skills": skill_names([skill for skill, state in in_writing(result).items() if state == "right"])}


def _bench(hands: dict) -> dict:
    form, outcome = hands["form"], hands["outcome"]
    return {"form": form["form_id"], "tasks": [f"{task['id']} {task['title']}" for task in form["tasks"]],
            "done_on": _day(form["opened_at"]), "piece": _piece_words(outcome["destructive"]),
            "piece_set": _set_words(outcome["pieces"]), "gauge": f"{form['gauge']['id']}, slot {form['gauge']['slot']}",
            "gauge_checked_on": form["gauge"]["checked_on"], "gauge_due_on": form["gauge"]["due_on"],
            "events_sha256": hands["entry"].body["events_sha256"], "skills": skill_names(by_hand(outcome, "shown"))}


def _piece_words(test: dict) -> str:
    """What was done to the one piece, and with what."""
    if test["method"] == "section":
        return "sectioned at a middle crimp: legs bare and parallel, metal in the valleys, no cut wire, no void"
    load = next((line["why"] for line in test["lines"] if line["item"].endswith("#pull-load")), "")
    named = test["instrument"] or ""
    return f"pulled: {load}; {test['mode']}; {'' if 'gauge' in named.casefold() else 'force gauge '}{named}"


def _set_words(pieces: dict) -> str:
    return (f"set {pieces['set']}: {pieces['right']} of {pieces['of']} calls right, {pieces['causes_right']} causes right, "
            "no critical fault passed")


def certificates(desk: Desk, class_id: str | None = None) -> list[dict]:
    """Every certificate signed (of one class), newest first."""
    entries = desk.register.entries("certificate signed")
    return [entry.body | {"at": entry.at, "number": entry.number} for entry in reversed(entries)
            if class_id is None or entry.body["class"] == class_id]


def certificate(desk: Desk, number: str) -> tuple[dict, bytes]:
    """A kept certificate, checked again, as data and as the file to hand over."""
    from rigcalc.register.certificate import read_certificate
    entry = next((one for one in certificates(desk) if one["certificate"] == number), None)
    if entry is None:
        raise Refusal(f"the certificate '{number[:60]}'", "a certificate signed at this desk", "choose it from the list")
    class_of(desk, entry["class"])
    try:
        raw = desk.path("certificates", f"{number}.json").read_bytes()
    except OSError:
        raise Refusal(f"the certificate {number}, whose file is missing", "the file in the desk's certificates folder",
                      "put it back from a copy of the desk's folder") from None
    check_certificate(raw)
    made = read_certificate(raw)
    if certificate_sha256(made) != entry["certificate_sha256"]:
        raise Refusal(f"the certificate {number}, which is not the one entered", "the file as it was signed",
                      "put it back from a copy of the desk's folder")
    return made, raw
