"""Marking put right: after a corrected family, or an appeal. Both results are kept, and the register says why they differ."""

from __future__ import annotations

from datetime import datetime

from rigcalc.desk.classes import class_of
from rigcalc.desk.folder import Desk, exact_text, sha256_of
from rigcalc.desk.persons import hands_on, markers, no_candidate, refuse_hands
from rigcalc.desk.written import corrections_of, enter_result, issued_keys, keep_families, marked, paper_record
from rigcalc.errors import Refusal
from rigcalc.papers.correcting import WAYS, appeal_correction, checked_why, family_correction, misstep_sentences, moves, takes_marks
from rigcalc.papers.marking import mark_returned
from rigcalc.papers.results import mark_in_words
from rigcalc.questions import load_families
from rigcalc.questions.own import where_to_correct
from rigcalc.register.status import status_of

__all__ = ["WAYS", "appeals", "asked_families", "asked_family", "certificates_in_words", "correct_marking", "decide_appeal", "look_at_correction", "marked_again_in_words",
           "re_markings", "with_certificates"]

OUTCOMES = ("the mark stands", "counted as right")


def _records(desk: Desk, class_id: str) -> list[dict]:
    class_of(desk, class_id)
    return [paper_record(desk, entry.body["paper_id"]) for entry in desk.entries("paper issued", **{"class": class_id})]


def asked_families(desk: Desk, class_id: str) -> dict[str, str]:
    """The families that a class's papers asked, each with its skill."""
    return dict(sorted((key["family"], key["skill"]) for record in _records(desk, class_id) for key in record["keys"]))


def asked_family(desk: Desk, class_id: str, family_id: str) -> dict:
    """One of them as the correction page shows it: {"missteps": id to sentence, "example": a question's text, "where": its file}.

    `where` says in a sentence which file to correct, or that no such family is in force any more.
    """
    records = _records(desk, class_id)
    texts = [question["text"] for record in records for question, key in zip(record["paper"]["questions"], record["keys"], strict=True)
             if key["family"] == family_id]
    if not texts:
        raise Refusal(f"the family '{family_id[:60]}'", "a family that this class's papers asked", "choose one of the list")
    family = load_families(home=desk.home).get(family_id)
    return {"missteps": misstep_sentences(records, family_id), "example": texts[0],
            "where": where_to_correct(family, desk.home) if family else "No family of that id is in force any more: its key cannot be "
            "worked out again."}


def _next_number(desk: Desk) -> int:
    return len(desk.register.entries("answers re-marked")) + 1


def look_at_correction(desk: Desk, class_id: str, way: str, family_id: str, by: str, why: str, misstep: str = "",
                       families=None, now: datetime | None = None, second: str = "", shown: str | None = None) -> dict:
    """What a correction would do, with nothing kept or entered: {"correction", "moves", "second_needed", "takes", "shown"}; in words: `changes_in_words`.

    `takes`: it takes marks or a pass from somebody; `second_needed`: and nobody who agrees is named yet. Given `shown`, that of the look
    the second person was shown, whoever agreed to another look is not named.
    """
    people = class_of(desk, class_id)["candidates"]
    by = no_candidate(people, by, "person correcting")
    records, needs = _records(desk, class_id), way == "key again"
    correction = family_correction(
        records, way, family_id, by, why, number=_next_number(desk), now=now, misstep=misstep,
        families=(families or load_families(home=desk.home)) if needs else None, shop=desk.shop_of(records[0]["shop_sha256"]) if records else desk.shop, secret=desk.secret(class_id), earlier=corrections_of(desk, class_id))
    before, after = _marked_now(desk, class_id), _would_be(desk, correction)
    moved = moves(before, after)
    takes = [row for row in moved if takes_marks(row)]
    look = _look_sha256(desk, class_id, correction, moved, before, after)
    if takes and shown not in (None, look):
        second = ""
    if second.strip():
        correction["second"] = _second(desk, no_candidate(people, second, "second person"), by, takes)
    return {"correction": correction, "moves": moved, "takes": bool(takes), "second_needed": bool(takes) and not second.strip(), "shown": look}


def _look_sha256(desk: Desk, class_id: str, correction: dict, moved: list[dict], before: list[dict], after: list[dict]) -> str:
    """A hash of all that a look shows: what is corrected and how, every paper's marks before and after, the appeals kept, the certificates named.

    Not who corrects, agrees and why, nor the correction's number: these are typed or given when it is entered.
    """
    ours = {result["paper_id"] for result in before}
    marks = [sorted([one["paper_id"], one["score"], one["passed"], [[slot["slot"], slot["marks"], slot["right"], slot.get("struck", False)] for slot in one["slots"]]]
                    for one in results if one["paper_id"] in ours) for results in (before, after)]
    return sha256_of(exact_text([[correction[name] for name in ("way", "family", "misstep", "family_before", "family_after", "papers", "appeals_kept")],
                                 marks, with_certificates(desk, class_id, moved)]))[:16]


def _second(desk: Desk, second: str, by: str, takes: list[dict]) -> str:
    """Who agrees that marks are taken: plainly not who corrects, and not who marked a paper that loses."""
    hands = {name: "marked a paper that loses marks" for row in takes for name, _ in markers(desk, row["paper_id"])}
    refuse_hands(hands | {by: "corrects"}, second, "agreeing to a correction that takes marks")
    return second


def _marked_now(desk: Desk, class_id: str) -> list[dict]:
    found = (marked(desk, class_id, person["id"]) for person in class_of(desk, class_id)["candidates"])
    return [one["result"] for one in found if one]


def _would_be(desk: Desk, correction: dict) -> list[dict]:
    return _marked(desk, None, [*corrections_of(desk), correction])


def _marked(desk: Desk, results_dir, corrections: list[dict], now: datetime | None = None) -> list[dict]:
    returned = desk.room / "returned"
    return mark_returned(returned, desk.folder / "keys", results_dir, now, None, corrections, issued_keys(desk)).results if returned.is_dir() else []


def correct_marking(desk: Desk, class_id: str, way: str, family_id: str, by: str, why: str, misstep: str = "",
                    families=None, now: datetime | None = None, second: str = "", shown: str | None = None) -> dict:
    """Correct a family's questions and mark the class again; entered as `answers re-marked`, then each new result.

    The earlier results stay beside the new ones, and the key records stay as they were issued.

    Parameters
    ----------
    second : str
        Who agrees, where it takes marks from anybody or moves anybody below the cut.
    shown : str, optional
        The `shown` of the look that is entered; where left out nothing is asked of it.

    Raises
    ------
    Refusal
        It would do something else by now than that look showed; nobody else is named for a correction that takes; or whoever corrects, or marked a paper that loses, is; either is a candidate of the class.
    """
    families = families or load_families(home=desk.home)
    found = look_at_correction(desk, class_id, way, family_id, by, why, misstep, families, now, second, shown)
    if found["takes"] and not second.strip():
        names = ", ".join(row["candidate"]["name"] for row in found["moves"] if takes_marks(row))
        raise Refusal(f"a correction that takes marks from {names}, by {found['correction']['by']} alone",
                      "a second person who agrees, neither who corrects nor who marked", "name that person; in a command with --second")
    if shown not in (None, found["shown"]):
        raise Refusal("a correction that does something else by now than what was looked at (the family, a mark, an appeal or a certificate was changed since)",
                      "a correction as it was looked at", "look at it as it is now, then enter it" + ("; the second person agrees anew" if found["takes"] else ""))
    return _enter_correction(desk, class_id, found["correction"], found["moves"], now, families)


def with_certificates(desk: Desk, class_id: str, moved: list[dict]) -> list[dict]:
    """The rows of `moves`, each with `certificate`: the numbers that rest on its paper and are neither withdrawn nor replaced, a comma between; or ''."""
    entries, standing = desk.register.entries(), {}
    papers = {entry.number: (entry.body["rests_on"]["paper"] or {}).get("paper_id") for entry in desk.entries("decision", **{"class": class_id})}
    for entry in desk.entries("certificate signed", **{"class": class_id}):
        if status_of(entries, number := entry.body["certificate"]).state not in ("withdrawn", "replaced"):
            standing.setdefault(papers.get(entry.body["decision_entry"]), []).append(number)
    return [row | {"certificate": ", ".join(standing.get(row["paper_id"], []))} for row in moved]


def certificates_in_words(row: dict) -> list[str]:
    """What becomes of each certificate that a row of `with_certificates` names, as in `spring-c01-9: decide again`."""
    then = "decide again" if row["crosses"] == "no longer passes" else "signed before this"
    return [f"{number}: {then}" for number in (row.get("certificate") or "").split(", ") if number]


def _enter_correction(desk: Desk, class_id: str, correction: dict, moved: list[dict], now: datetime | None, families=None) -> dict:
    corrections = corrections_of(desk)
    digest = desk.keep("corrections", f"{correction['number']:04d}", correction)
    moved[:] = with_certificates(desk, class_id, moved)
    desk.note("answers re-marked", {
        "class": class_id, "correction": correction["number"], "correction_sha256": digest,
        **{name: correction[name] for name in ("way", "family", "misstep", "by", "why", "family_before", "family_after")},
        "second": correction.get("second", ""),
        "papers": sorted(correction["papers"]), "results": moved, "appeals_kept": correction.get("appeals_kept", []),
        "across_the_cut": [row for row in moved if row["crosses"]]}, now)
    keep_families(desk, families or {}, {one["sha256"] for one in correction["family_after"]})
    changed = {row["paper_id"] for row in moved}
    for result in _marked(desk, desk.folder / "results", [*corrections, correction], now):
        if result["paper_id"] in changed:
            enter_result(desk, class_id, result, correction["by"], now)
    return {"correction": correction, "moves": moved}


def re_markings(desk: Desk, class_id: str) -> list[dict]:
    """What was put right in a class, newest first."""
    entries = desk.entries("answers re-marked", **{"class": class_id})
    return [entry.body | {"at": entry.at, "number": entry.number} for entry in reversed(entries)]


def marked_again_in_words(desk: Desk, class_id: str, paper_id: str) -> str:
    """What a paper was first marked and each mark since; empty where no correction or appeal moved it.

    Example: `First marked 75 marks, not passed; after correction 1: 83 marks, passed; after an appeal: 91 marks, passed.`
    """
    moved = [(entry, row) for entry in reversed(re_markings(desk, class_id)) for row in entry["results"]
             if row["paper_id"] == paper_id and mark_in_words(row, "before") != mark_in_words(row, "after")]
    if not moved:
        return ""
    steps = "".join(f"; after {'an appeal' if entry['way'] == 'appeal allowed' else 'correction ' + str(entry['correction'])}: {mark_in_words(row, 'after')}"
                    for entry, row in moved)
    return f"First marked {mark_in_words(moved[0][1], 'before')}{steps}."


def decide_appeal(desk: Desk, class_id: str, candidate_id: str, slot: int, outcome: str, decider: str, reasons: str,
                  said: str, now: datetime | None = None) -> dict:
    """Enter the decision on an appeal; an allowed one is marked again at once.

    Parameters
    ----------
    outcome : str
        `the mark stands` or `counted as right`.
    said : str
        What the candidate brings forward, in the own words.

    Raises
    ------
    Refusal
        Nothing is marked, an answer that is right already, nothing that the candidate brings forward, a decider who marked or typed the paper or sits one of the class,
        or a question that was decided on already with nothing new brought forward.
    """
    found, decider, reasons = marked(desk, class_id, candidate_id), no_candidate(class_of(desk, class_id)["candidates"], decider, "decider"), checked_why(reasons, "why it is decided so")
    if outcome not in OUTCOMES:
        raise Refusal(f"the outcome '{outcome[:40]}'", " or ".join(OUTCOMES), "choose one of the two")
    row = next((one for one in found["result"]["slots"] if one["slot"] == slot), None) if found else None
    if row is None or row["right"]:
        raise Refusal(f"an appeal on question {slot}", "a marked answer that was not right", "choose one of those")
    _refuse_own(desk, found, decider)
    _refuse_nothing_new(desk, class_id, candidate_id, slot, said)
    record = paper_record(desk, found["result"]["paper_id"])
    entry = desk.note("appeal decided", {
        "class": class_id, "candidate": {name: record["candidate"][name] for name in ("id", "name")},
        "paper_id": record["paper_id"], "question": slot, "outcome": outcome, "decider": decider, "reasons": reasons,
        "said": " ".join(said.split())[:1000], "typed": row["typed"], "marked_by": markers(desk, record["paper_id"])[0][0],
        "result_sha256": found["entry"].body["result_sha256"], "result_entry": found["entry"].number}, now)
    moved = []
    if outcome == "counted as right":
        correction = appeal_correction(record, slot, decider, f"Appeal, register entry {entry.number}: {reasons}"[:400],
                                       number=_next_number(desk), now=now)
        moved = moves(_marked_now(desk, class_id), _would_be(desk, correction))
        _enter_correction(desk, class_id, correction, moved, now)
    return entry.body | {"number": entry.number, "at": entry.at, "moves": moved}


def _refuse_nothing_new(desk: Desk, class_id: str, candidate_id: str, slot: int, said: str) -> None:
    """An appeal brings something forward; a question decided on once is opened again only for something that was not brought forward before."""
    before = [one for one in appeals(desk, class_id, candidate_id) if one["question"] == slot]
    words = _bare(said)
    if not before and not words:
        raise Refusal(f"an appeal on question {slot} without a word of the candidate", "what the candidate brings forward", "write it in the candidate's own words")
    if before and words in ("", *(_bare(one["said"]) for one in before)):
        raise Refusal(f"a second appeal on question {slot}, decided by {before[0]['decider']} ({before[0]['outcome']}), with nothing new",
                      "what the candidate brings forward now and did not then", "write it at what the candidate says; else the decision stands")


def _bare(said: str) -> str:
    """The letters and figures alone: capitals, signs and spaces make nothing new."""
    return "".join(sign for sign in said.casefold() if sign.isalnum())


def _refuse_own(desk: Desk, found: dict, decider: str) -> None:
    """Whoever marked or typed the paper does not decide about it; whoever decided on an earlier appeal may."""
    refuse_hands(hands_on(desk, found["result"]), decider, "deciding on its appeal")


def appeals(desk: Desk, class_id: str, candidate_id: str | None = None) -> list[dict]:
    """Appeals decided in a class, newest first."""
    entries = desk.entries("appeal decided", **{"class": class_id})
    return [entry.body | {"at": entry.at, "number": entry.number} for entry in reversed(entries)
            if candidate_id in (None, entry.body["candidate"]["id"])]
