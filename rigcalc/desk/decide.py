"""Deciding: what stands in the way, in plain words; and the decision of a named person, with reasons."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from rigcalc.desk.classes import candidate_of, class_of
from rigcalc.desk.folder import Desk, sha256_of
from rigcalc.desk.hands import assessed
from rigcalc.desk.other_forms import other_forms_in_the_way
from rigcalc.desk.persons import also_did, no_candidate, roles_in_words
from rigcalc.desk.since import since_opened
from rigcalc.desk.written import marked, skill_sentences
from rigcalc.errors import Refusal

__all__ = ["Declared", "WAYS_OF_IDENTIFYING", "blockers", "decide", "decision_of", "declared_in", "facts_in_the_way", "ground", "put_forward"]

WAYS_OF_IDENTIFYING = ("photo card seen and compared", "known to the assessor for longer than this class",
                       "vouched for by a colleague, who is named")
NO_TRAINING = "{} did not train this candidate within the last two years"
NO_CONFLICT = "{} has no tie to the candidate that could sway the judgement"
TEXT_LIMIT, LINE_LIMIT = 400, 200  # letters: the certificate is one sheet


@dataclass(frozen=True)
class Declared:
    """What people state before a decision: identity, independence (or its exception with the reason), no conflict.

    `several` is the reason why whoever decides had another hand in it too; empty where nobody else did. `stands` is why the bench form
    stands although something has changed since it was opened; empty where nothing has.
    """

    identified: str = ""
    independent: bool = False
    exception: str = ""
    no_conflict: bool = False
    several: str = ""
    stands: str = ""

    def training(self, assessor: str) -> str:
        """The line that the certificate prints."""
        if self.independent:
            return NO_TRAINING.format(assessor)
        return f"EXCEPTION: {assessor} trained this candidate within the last two years: {self.exception.strip()}"

    def conflict(self, assessor: str) -> str:
        return NO_CONFLICT.format(assessor)

    def roles(self, told: str, decider: str) -> str:
        """The line about who did what, with the exception where the decider had another hand in it."""
        exception = f". EXCEPTION: {decider} decides on own work too: {self.several.strip()}" if self.several.strip() else ""
        return f"{told}; {decider} decided{exception}"


def declared_in(decision: dict) -> Declared:
    """What was declared before a decision that is entered."""
    return Declared(decision["identified"], decision["independent"], decision["exception"], decision["no_conflict"],
                    decision.get("several", ""), decision.get("stands", ""))


def put_forward(desk: Desk, class_id: str, candidate_id: str, like: str = "") -> dict:
    """All that a decider looks at: the marked paper and the assessed bench form, or None for each.

    `like` is a form: then the bench work of its scope is put forward, else what was entered last.
    """
    return {"person": candidate_of(desk, class_id, candidate_id), "written": marked(desk, class_id, candidate_id),
            "hands": assessed(desk, class_id, candidate_id, like)}


def ground(desk: Desk, class_id: str, candidate_id: str, found: dict | None = None) -> str:
    """A hash of all that a decider is shown: paper and bench work as they are entered, what changed since, the decision in force.

    A page keeps it, so that nothing is decided on a page that shows something else. `found` is what `put_forward` gave, where it is at hand.
    """
    found, last = found or put_forward(desk, class_id, candidate_id), decision_of(desk, class_id, candidate_id)
    return sha256_of([_rests_on(found), _since(desk, found), last and last["number"]])


def _since(desk: Desk, found: dict) -> list[str]:
    return since_opened(desk, found["hands"]["entry"].body["form_id"]) if found["hands"] else []


def facts_in_the_way(desk: Desk, class_id: str, candidate_id: str, found: dict | None = None) -> list[str]:
    """What stands in the way of a certificate, whatever anybody declares; empty when nothing does. `found` as in `ground`."""
    return _facts(desk, found or put_forward(desk, class_id, candidate_id))


def _facts(desk: Desk, found: dict) -> list[str]:
    return _about_the_shop(desk) + _about_mixing(desk, found) + _about_the_paper(found["written"]) + _about_the_hands(found["hands"]) + _about_other_forms(desk, found)


def _about_other_forms(desk: Desk, found: dict) -> list[str]:
    hands = found["hands"]
    return other_forms_in_the_way(desk, hands["opened"]["class"], found["person"]["id"], hands["entry"].body["form_id"]) if hands else []


def blockers(desk: Desk, class_id: str, candidate_id: str, declared: Declared, decider: str = "", like: str = "") -> list[str]:
    """Everything that stands in the way of `competent`, one plain sentence each; without a decider nothing is said of one. `like` as in `put_forward`."""
    found = put_forward(desk, class_id, candidate_id, like)
    wrong = _facts(desk, found)
    if not declared.identified.strip():
        wrong.append("How the person was identified is not recorded.")
    if not declared.independent and not declared.exception.strip():
        wrong.append("Independence is not declared: either the assessor did not train this candidate within two years, "
                     "or the exception is stated with its reason and is printed on the certificate.")
    if declared.independent and declared.exception.strip():
        wrong.append("Independence is declared and an exception is stated as well: one of the two must go.")
    if not declared.no_conflict:
        wrong.append("It is not declared that the assessor has no conflict of interest.")
    wrong += _about_what_changed(_since(desk, found), declared)
    return wrong + (_about_the_decider(desk, found, declared, decider) if decider else [])


def _about_what_changed(changed: list[str], declared: Declared) -> list[str]:
    """A form whose chart, tool or gauge the shop file no longer has as they were stands only with a stated reason."""
    said = declared.stands.strip()
    if changed and not said:
        return [f"Since the bench form was opened {'; '.join(changed)}: assess on another form, or say why this one stands; it is printed on the certificate."]
    return ["A reason is given why the bench form stands, and nothing has changed since it was opened: it must go."] if said and not changed else []


def _about_the_decider(desk: Desk, found: dict, declared: Declared, decider: str) -> list[str]:
    """Whoever decides had no other hand in it, or the exception is stated; the printed line says so either way."""
    did = also_did(desk, found, decider)
    if did and not declared.several.strip():
        return [f"{decider} decides and also {', '.join(did)}: somebody else decides, or the exception is stated with its reason "
                "and is printed on the certificate."]
    if declared.several.strip() and not did:
        return [f"An exception is stated for {decider} deciding on own work, and {decider} did nothing else here: it must go."]
    return []


def _about_the_shop(desk: Desk) -> list[str]:
    return [] if desk.shop.has_maker_chart else [
        "This is a practice shop: no maker's chart has been entered, so there are practice records and no certificate."]


def _about_mixing(desk: Desk, found: dict) -> list[str]:
    """What was made with the invented sample is no ground for a real shop's certificate, nor the other way round."""
    paper, hands, wrong = found["written"], found["hands"], []
    if paper and paper["result"]["invented"] and not desk.invented:
        wrong.append("The paper was set with the invented sample's shop or cut score: a workplace writes its own blueprint "
                     "and sets the paper with its own shop file.")
    if hands and bool(hands["form"]["shop"]["invented"]) != desk.invented:
        wrong.append("The bench form was opened with another kind of shop file: invented and real are never mixed.")
    return wrong


def _about_the_paper(found: dict | None) -> list[str]:
    if found is None:
        return ["The written paper has not been handed in and marked."]
    result, wrong = found["result"], []
    if result["practice"]:
        wrong.append("The written paper is a practice paper.")
    if result["score"] < result["cut"]["marks"]:
        wrong.append(f"The written paper is not passed: {result['score']} of {result['out_of']} marks, "
                     f"the cut score is {result['cut']['marks']}.")
    sentences = skill_sentences() if result["must_be_right_missed"] else {}
    wrong += [f"A must-be-right question was missed: {sentences.get(skill, skill)}"
              for skill in result["must_be_right_missed"]]
    if not result["passed"] and not wrong:
        wrong.append("The written paper is not passed.")
    return wrong


def _about_the_hands(found: dict | None) -> list[str]:
    if found is None:
        return ["The bench work has not been assessed."]
    result, form = found["outcome"], found["form"]
    wrong = [f"At the bench a critical point failed: {_line(one)}" for one in result["criticals_failed"]]
    wrong += [f"At the bench a critical point was not seen: {_line(one)}" for one in result["not_seen"]]
    if not _gauge_in_date(form):
        wrong.append("The gauge was out of date on the day, or no gauge was named.")
    if not result["destructive"]["method"]:
        wrong.append("No piece was pulled or sectioned.")
    elif not result["destructive"]["passed"]:
        wrong.append(f"The piece that was tested ({result['destructive']['method']}) did not hold, or its test is not filled in.")
    wrong += _about_the_set(result["pieces"])
    if form["practice"]:
        wrong.append("The bench form is a practice form: no maker's chart stood behind it.")
    told = ("CRITICAL, ", "CRITICAL and not shown", "PRACTICE", "CRITICAL: piece")
    if not result["passed"]:
        wrong += [f"The bench: {reason}" for reason in result["reasons"] if not reason.startswith(told)]
    if not result["passed"] and not wrong:
        wrong.append("The bench work is not passed.")
    return list(dict.fromkeys(wrong))


def _about_the_set(pieces: dict | None) -> list[str]:
    """A critical piece passed in the sealed set; a set that was not shown or not marked."""
    if pieces is None:
        return ["The sealed set of finished pieces was not on the bench form."]
    if not pieces["marked"]:
        return ["The calls on the sealed set of finished pieces are not marked."]
    return [f"Piece {number} of the sealed set was passed, and it has a critical fault."
            for number in pieces["critical_passed"]]


def _gauge_in_date(form: dict) -> bool:
    gauge = form["gauge"]
    return bool(gauge) and gauge["checked_on"] <= form["opened_at"][:10] <= gauge["due_on"]


def _line(brief: dict) -> str:
    return f"{brief['number']} {brief['text']}: {brief['why']}."


def decide(desk: Desk, class_id: str, candidate_id: str, outcome: str, decider: str, reasons: str, declared: Declared,
           now: datetime | None = None, like: str = "") -> dict:
    """Enter one person's decision: `competent` only when nothing stands in the way, `not yet` always.

    The entry binds, by their hashes, all that the decision rests on. `like` as in `put_forward`.
    """
    group = class_of(desk, class_id)
    decider = no_candidate(group["candidates"], decider, "decider")
    reasons = " ".join((reasons or "").split())
    found = put_forward(desk, class_id, candidate_id, like)
    if outcome not in ("competent", "not yet"):
        raise Refusal(f"the decision '{outcome}'", "competent, or not yet", "choose one of the two")
    if not reasons or len(reasons) > TEXT_LIMIT:
        raise Refusal(f"reasons of {len(reasons)} letters", f"1 to {TEXT_LIMIT} letters", "write why in a sentence or two")
    for text, what in ((declared.identified, "how the person was identified"), (declared.exception, "the exception"),
                       (declared.several, "the exception for deciding on own work"), (declared.stands, "why the bench form stands")):
        if len(text) > LINE_LIMIT:
            raise Refusal(f"{len(text)} letters for {what}", f"up to {LINE_LIMIT} letters", "write it shorter")
    in_the_way = blockers(desk, class_id, candidate_id, declared, decider, like)
    if outcome == "competent" and in_the_way:
        raise Refusal(f"'competent' with something in the way ({' '.join(in_the_way).rstrip('.')})",
                      "competent when nothing is in the way, or not yet", "decide not yet, or put right what is missing")
    body = {"class": group["class"], "candidate": {"id": candidate_id, "name": found["person"]["name"]},
            "decision": outcome, "decider": decider, "reasons": reasons, "in_the_way": in_the_way,
            "identified": " ".join(declared.identified.split()), "independent": declared.independent,
            "exception": " ".join(declared.exception.split()), "no_conflict": declared.no_conflict,
            "several": " ".join(declared.several.split()), "stands": " ".join(declared.stands.split()),
            "since": _since(desk, found), "roles": declared.roles(roles_in_words(desk, found), decider),
            "rests_on": _rests_on(found), "chart": desk.shop.chart_line()}
    entry = desk.note("decision", body, now)
    return body | {"number": entry.number, "hash": entry.hash, "at": entry.at}


def _rests_on(found: dict) -> dict:
    """The hashes of paper, answers, key record, result, bench form, taps and outcome."""
    paper, hands = found["written"], found["hands"]
    return {
        "paper": None if paper is None else {
            "entry": paper["entry"].number, "paper_id": paper["result"]["paper_id"],
            **{name: paper["entry"].body[name] for name in ("paper_sha256", "answers_sha256", "key_sha256",
                                                            "result_sha256", "blueprint")}},
        "bench": None if hands is None else {
            "entry": hands["entry"].number, "form_id": hands["entry"].body["form_id"],
            **{name: hands["entry"].body[name] for name in ("form_sha256", "events_sha256", "outcome_sha256",
                                                            "set_key_sha256", "chart", "gauge")}},
    }


def decision_of(desk: Desk, class_id: str, candidate_id: str) -> dict | None:
    """A candidate's last decision, or None."""
    found = desk.entries("decision", **{"class": class_id, "candidate": candidate_id})
    return found[-1].body | {"number": found[-1].number, "hash": found[-1].hash, "at": found[-1].at} if found else None
