"""Putting a marking right: what was wrong with a question, in which papers, and whom it moves across the cut.

Key records are never changed. A correction stands beside them and says, paper by paper and question by question,
what counts instead; marking applies it whenever it marks.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from pathlib import Path

from rigcalc.errors import Refusal
from rigcalc.papers.blueprint import Place
from rigcalc.papers.issue import one_question
from rigcalc.papers.records import sha256, stamp
from rigcalc.papers.results import typed_in_words
from rigcalc.questions import Stream
from rigcalc.questions.typed import misstep_typed, slips_of

__all__ = ["WAYS", "appeal_correction", "entered_corrections", "family_correction", "misstep_ids", "misstep_sentences", "moves"]

WAYS = {
    "key again": "work the right answers out again from the corrected family",
    "misstep is right": "count a misstep's answer as right too",
    "struck": "strike the question: everybody who had it gets its marks",
}
WHY_LIMIT = 400  # letters


def family_correction(records: Iterable[dict], way: str, family_id: str, by: str, why: str, *, number: int, now=None,
                      misstep: str = "", families: Mapping | None = None, shop=None, secret: bytes = b"") -> dict:
    """A correction of every paper that asked a family, as marking applies it.

    Parameters
    ----------
    records : iterable of dict
        The key records of the class.
    way : str
        One of `WAYS`. A must-be-right question is never struck.
    families, shop, secret
        For "key again": the families as they are now, the shop the papers were set with, and the class secret.

    Raises
    ------
    Refusal
        No paper asked it, nothing was changed, or the corrected family would have asked another question.
    """
    why = checked_why(why)
    asked = [(record, key) for record in records for key in record["keys"] if key["family"] == family_id]
    if not asked:
        raise Refusal(f"the family '{family_id[:60]}'", "a family that this class's papers asked", "choose one of the list")
    if way not in WAYS:
        raise Refusal(f"the way '{way[:40]}'", ", ".join(WAYS), "choose one of these")
    changes = {"key again": lambda record, key: {"key": _key_again(record, key, families, shop, secret)},
               "misstep is right": lambda record, key: _as_right(asked, misstep),
               "struck": lambda record, key: _struck(key)}[way]
    papers: dict[str, dict] = {}
    for record, key in asked:
        papers.setdefault(record["paper_id"], {})[str(key["slot"])] = changes(record, key)
    return {"form": 1, "number": number, "way": way, "family": family_id, "misstep": misstep if way == "misstep is right" else "",
            "by": by, "why": why, "at": stamp(now), "family_before": _versions(key for _, key in asked),
            "family_after": _versions(change["key"] for slots in papers.values() for change in slots.values() if "key" in change),
            "papers": papers}


def appeal_correction(record: dict, slot: int, by: str, why: str, *, number: int, now=None) -> dict:
    """The correction that an allowed appeal makes: one answer of one paper counts as right."""
    key = next((key for key in record["keys"] if key["slot"] == slot), None)
    if key is None:
        raise Refusal(f"question {slot}", f"questions 1 to {len(record['keys'])}", "choose one of the paper's questions")
    return {"form": 1, "number": number, "way": "appeal allowed", "family": key["family"], "misstep": "", "by": by,
            "why": checked_why(why), "at": stamp(now), "family_before": _versions([key]), "family_after": [],
            "papers": {record["paper_id"]: {str(slot): {"right": True}}}}


def checked_why(why: str) -> str:
    """A reason in one line; refuses none and an endless one."""
    why = " ".join((why or "").split())
    if not why or len(why) > WHY_LIMIT:
        raise Refusal(f"a reason of {len(why)} letters", f"1 to {WHY_LIMIT} letters", "write in a sentence or two what was wrong")
    return why


def misstep_ids(records: Iterable[dict], family_id: str) -> list[str]:
    """The missteps that a class's papers know of a family."""
    return sorted({name for record in records for key in record["keys"] if key["family"] == family_id
                   for name, _, _ in slips_of(key)})


def misstep_sentences(records: Iterable[dict], family_id: str) -> dict[str, str]:
    """The missteps of a family that can be counted as right, each with its answers and what they tell (in the first such paper's values).

    Several options of one question may stand for one misstep: whoever counts it as right counts each of them.
    """
    found: dict[str, str] = {}
    for record in records:
        here: dict[str, list[str]] = {}
        for question, key in zip(record["paper"]["questions"], record["keys"], strict=True):
            if key["family"] == family_id and key["kind"] != "sheet":
                for name, _, slip in slips_of(key):
                    here.setdefault(name, []).append(f"{_answer_seen(question, key, slip)}: {slip.get('feedback') or 'nothing is told'}")
        for name, answers in here.items():
            found.setdefault(name, f"; or {name}: ".join(dict.fromkeys(answers)))
    return dict(sorted(found.items()))


def _answer_seen(question: dict, key: dict, slip: dict) -> str:
    """A misstep's answer as a candidate gives it: a figure with its unit, or letters with the texts behind them."""
    typed = misstep_typed(question, key, slip)
    letters = [typed] if isinstance(typed, str) else typed
    texts = [f"{option['letter']} {option['text']}".strip() for letter in letters for option in question.get("options") or []
             if option["letter"] == letter]
    return f"the answer '{'; '.join(texts) or typed_in_words(typed)}'"


def _versions(keys: Iterable[dict]) -> list[dict]:
    found = {(key["version"], key["family_sha256"]) for key in keys}
    return [{"version": version, "sha256": digest} for version, digest in sorted(found)]


def _as_right(asked: list[tuple[dict, dict]], misstep: str) -> dict:
    known = misstep_ids((record for record, _ in asked), asked[0][1]["family"])
    if misstep not in known:
        raise Refusal(f"the misstep '{misstep[:60]}'", ", ".join(known) or "none, as this family has no missteps",
                      "choose one of these")
    if asked[0][1]["kind"] == "sheet":
        raise Refusal("a misstep of one box of a job sheet", "the other ways for a job sheet", "strike it, or correct the family")
    return {"misstep": misstep}


def _struck(key: dict) -> dict:
    if key["must_be_right"]:
        raise Refusal("striking a question that must be right", "another way, or a new paper for the class",
                      "nobody can pass on a must-be-right question that was never asked soundly: set a new paper")
    return {"right": True}


def _key_again(record: dict, key: dict, families: Mapping, shop, secret: bytes) -> dict:
    """The key as the corrected family gives it for the very question that was asked."""
    family = families.get(key["family"])
    who = record["candidate"]["name"]
    if family is None or family.sha256 == key["family_sha256"]:
        raise Refusal(f"the family '{key['family']}', which is as it was when {who}'s paper was set",
                      "a family that was corrected since", "correct its file first, and raise its version")
    if shop.digest != record["shop_sha256"]:
        raise Refusal("a shop file changed since the papers were set", "the shop file of that day",
                      "put that shop file back for this, or use another way")
    place = Place(key["skill"], key["level"], key["weight"], key["must_be_right"])
    label = f"paper|{record['class']}|{record['candidate']['id']}|{key['place']}"
    question, new = one_question(place, key["place"] - 1, key["slot"], family, shop, Stream(secret, label))
    asked = next(one for one in record["paper"]["questions"] if one["slot"] == key["slot"])
    if not _same_question(asked, question, key, new):
        raise Refusal(f"the corrected family '{family.id}', which would have asked {who} another question",
                      "a correction of right answers, missteps or a wider tolerance that leaves the question as it was asked",
                      "count a misstep as right too, or strike the question")
    return new


def _same_question(asked: dict, question: dict, key: dict, new: dict) -> bool:
    """Whether the candidate would have seen the same; a tolerance may have become wider, never narrower."""
    if {**asked, "tolerance": ""} != {**question, "tolerance": ""}:
        return False
    if asked["tolerance"] == question["tolerance"]:
        return True
    before, after = key["right"]["tolerance"], new["right"]["tolerance"]
    return before.keys() <= after.keys() and all(float(after[name]) >= float(before[name]) for name in before)


def moves(before: list[dict], after: list[dict]) -> list[dict]:
    """Everybody whose result a correction changes, with both results; `crosses` says who moves across the cut."""
    old = {result["paper_id"]: result for result in before}
    rows = []
    for result in after:
        was = old.get(result["paper_id"])
        if was is None or (was["score"], was["passed"], was["slots"]) == (result["score"], result["passed"], result["slots"]):
            continue
        crosses = "" if was["passed"] == result["passed"] else "passes now" if result["passed"] else "no longer passes"
        rows.append({"paper_id": result["paper_id"], "candidate": result["candidate"], "score_before": was["score"],
                     "score_after": result["score"], "passed_before": was["passed"], "passed_after": result["passed"],
                     "crosses": crosses})
    return rows


def entered_corrections(entries: Iterable, folder: Path) -> list[dict]:
    """The corrections that a register's entries `answers re-marked` name, in their order.

    Parameters
    ----------
    entries : iterable
        The entries, each with its `body` and `number`.
    folder : path
        Where the corrections are kept.

    Raises
    ------
    Refusal
        A correction that is not there, or not byte for byte the one that was entered.
    """
    found = []
    for entry in entries:
        number = entry.body["correction"]
        try:
            data = (Path(folder) / f"{number:04d}.json").read_bytes()
        except FileNotFoundError:
            data = b""
        if sha256(data) != entry.body["correction_sha256"]:
            raise Refusal(f"correction {number}, which was changed since it was entered",
                          f"the correction that register entry {entry.number} names", "put it back from a copy of the desk's folder")
        found.append(json.loads(data))
    return found
