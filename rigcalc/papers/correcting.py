"""Putting a marking right: what was wrong with a question, in which papers, and whom it moves across the cut.

Key records are never changed. A correction stands beside them and says, paper by paper and question by question,
what counts instead; marking applies it whenever it marks.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from pathlib import Path

from rigcalc.errors import Refusal
from rigcalc.papers.asked_again import key_again
from rigcalc.papers.records import sha256, stamp
from rigcalc.papers.results import typed_in_words
from rigcalc.questions.typed import misstep_typed, slips_of

__all__ = ["WAYS", "appeal_correction", "changes_in_words", "entered_corrections", "family_correction", "misstep_ids", "misstep_sentences", "moves", "takes_marks"]

WAYS = {
    "key again": "work the right answers out again from the corrected family",
    "misstep is right": "count a misstep's answer as right too",
    "struck": "strike the question: everybody who had it gets its marks",
}
WHY_LIMIT = 400  # letters


def family_correction(records: Iterable[dict], way: str, family_id: str, by: str, why: str, *, number: int, now=None,
                      misstep: str = "", families: Mapping | None = None, shop=None, secret: bytes = b"", earlier: Iterable[dict] = ()) -> dict:
    """A correction of every paper that asked a family, as marking applies it; an answer that an appeal was allowed on is left as it is.

    Parameters
    ----------
    records : iterable of dict
        The key records of the class.
    way : str
        One of `WAYS`. A must-be-right question is never struck.
    families, shop, secret
        For "key again": the families as they are now, the shop the papers were set with, and the class secret.
    earlier : iterable of dict
        The corrections entered so far; the appeals allowed among them stand, and `appeals_kept` names those it meets.

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
    kept = _appeals_met(asked, earlier)
    stand = {(one["paper_id"], one["question"]) for one in kept}
    changes = {"key again": lambda record, key: _again(record, key, families, shop, secret),
               "misstep is right": lambda record, key: _as_right(asked, misstep),
               "struck": lambda record, key: _struck(key)}[way]
    papers: dict[str, dict] = {}
    for record, key in asked:
        if (record["paper_id"], key["slot"]) not in stand:
            papers.setdefault(record["paper_id"], {})[str(key["slot"])] = changes(record, key)
    if not papers:
        raise Refusal(f"a correction of '{family_id}', where every answer counts as right after an appeal", "answers that no appeal was allowed on",
                      "leave it: the appeals stand")
    return {"form": 1, "number": number, "way": way, "family": family_id, "misstep": misstep if way == "misstep is right" else "",
            "by": by, "why": why, "at": stamp(now), "family_before": _versions(key for _, key in asked),
            "family_after": _versions(change["key"] for slots in papers.values() for change in slots.values() if "key" in change),
            "papers": papers, "appeals_kept": kept}


def _appeals_met(asked: list[tuple[dict, dict]], earlier: Iterable[dict]) -> list[dict]:
    """The allowed appeals on those very questions, whose answers stay as they are."""
    allowed = {(paper_id, int(slot)): one for one in earlier if one["way"] == "appeal allowed"
               for paper_id, slots in one["papers"].items() for slot in slots}
    return [{"paper_id": record["paper_id"], "candidate": record["candidate"], "question": key["slot"], "by": one["by"], "why": one["why"]}
            for record, key in asked for one in [allowed.get((record["paper_id"], key["slot"]))] if one]


def appeal_correction(record: dict, slot: int, by: str, why: str, *, number: int, now=None) -> dict:
    """The correction that an allowed appeal makes: one answer of one paper counts as right."""
    key = next((key for key in record["keys"] if key["slot"] == slot), None)
    if key is None:
        raise Refusal(f"question {slot}", f"questions 1 to {len(record['keys'])}", "choose one of the paper's questions")
    return {"form": 1, "number": number, "way": "appeal allowed", "family": key["family"], "misstep": "", "by": by,
            "why": checked_why(why), "at": stamp(now), "family_before": _versions([key]), "family_after": [],
            "papers": {record["paper_id"]: {str(slot): {"right": True}}}}


def checked_why(why: str, of: str = "what was wrong") -> str:
    """A reason in one line; refuses none and an endless one, and says `of` what it is one."""
    why = " ".join((why or "").split())
    if not why or len(why) > WHY_LIMIT:
        raise Refusal(f"a reason of {len(why)} letters", f"1 to {WHY_LIMIT} letters", f"write in a sentence or two {of}")
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


def _struck(key: dict, what: str = "striking") -> dict:
    if key["must_be_right"]:
        raise Refusal(f"{what} a question that must be right", "another way, or a new paper for the class",
                      "nobody can pass on a must-be-right question that was never asked soundly: set a new paper")
    return {"right": True, "struck": True}


def _again(record: dict, key: dict, families: Mapping, shop, secret: bytes) -> dict:
    """The key worked out again; where no option shown is right any more, everybody who had that very question gets its marks."""
    new = key_again(record, key, families, shop, secret)
    return {"key": new} if new else _struck(key, "a file by which no option shown is right any more, for")


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
                     "crosses": crosses, "questions": _changed(was["slots"], result["slots"])})
    return rows


def _changed(before: list[dict], after: list[dict]) -> list[dict]:
    """The questions that are worth something else now, or that are struck now."""
    rows = []
    for old, new in zip(before, after, strict=True):
        if (old["marks"], old["right"], old.get("struck", False)) == (new["marks"], new["right"], new.get("struck", False)):
            continue
        corrected = old.get("corrected") or []
        was = "" if not old["right"] else f"put right by correction {corrected[-1]}" if corrected else "right by the key the paper was issued with"
        rows.append({"question": new["slot"], "marks_before": old["marks"], "marks_after": new["marks"], "was": was,
                     "answer": "" if new["typed"] is None else typed_in_words(new["typed"]), "struck": bool(new.get("struck"))})
    return rows


def takes_marks(row: dict) -> bool:
    """Whether a row of `moves` costs somebody marks on a question or the pass."""
    return row["crosses"] == "no longer passes" or any(float(one["marks_after"]) < float(one["marks_before"]) for one in row["questions"])


def changes_in_words(rows: list[dict], kept: list[dict] = ()) -> list[str]:
    """Who loses and who gains marks, by name and question; where a question is struck; and every allowed appeal that stands.

    `rows` as `moves` gives them, or as a register's entry keeps them, where part marks stand as text; `kept` the correction's `appeals_kept`.
    """
    found = [(row["candidate"]["name"], one) for row in rows for one in row.get("questions", [])]
    lost = [f"{name} LOSES marks: question {one['question']}, {one['marks_before']} to {one['marks_after']}"
            + (f"; the answer ({one['answer']}) was {one['was']}." if one["was"] else ".")
            for name, one in found if float(one["marks_after"]) < float(one["marks_before"])]
    gained = [f"{name} gains marks: question {one['question']}, {one['marks_before']} to {one['marks_after']}."
              for name, one in found if float(one["marks_after"]) > float(one["marks_before"])]
    struck = [f"{name}, question {one['question']}: struck. The answer was {one['answer'] or 'nothing'}" + (f", {one['was']}." if one["was"] else ".")
              for name, one in found if one["struck"]]
    stand = [f"{one['candidate']['name']} keeps question {one['question']}, which counts as right after an appeal ({one['why']} Decided by {one['by']}.): "
             "this correction leaves it as it is." for one in kept]
    return [*lost, *gained, *struck, *stand]


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
