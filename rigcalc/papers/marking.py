"""Marking: returned files in, results out, from the kept key records. Damaged files are named, the rest marked."""

from __future__ import annotations

import gc
import json
import os
import re
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import NamedTuple

import msgspec

from rigcalc.papers.answers import DamagedAnswers, Returned, check_typed, read_returned
from rigcalc.papers.key_records import DamagedKey, KeyRecord, Question, key_record, whole_record
from rigcalc.papers.quick_rows import marks_for, quick_row, with_share
from rigcalc.papers.records import UNREAD, canonical, private_folder, sha256, stamp, write_synced
from rigcalc.papers.tolerances import with_tolerance_of
from rigcalc.questions import mark, read_answer

__all__ = ["MarkingRun", "mark_returned", "mark_practice", "marks_of"]


class MarkingRun(NamedTuple):
    """What a marking gave: results, files that could not be marked, and papers nobody has handed in."""

    results: list[dict]
    problems: list[dict]  # each {"file", "whose" (empty: nobody's here), "what"}
    not_returned: list[dict]
    new: int = 0  # of the results, those a register has not had before


_DAMAGED = "the key record of paper {} is damaged: fetch it from a copy of the desk's folder"
_SCREEN = re.compile(r"; (?:press|say|type|write) (?:[^.;]|\.(?=[0-9]))*\.")  # the last clause of what a screen says of an answer that cannot be read
TYPED_KINDS = ("number", "sheet")


def mark_returned(returned_dir, keys_dir, results_dir=None, now=None,
                  progress: Callable[[int, int, str], None] | None = None, corrections=(),
                  issued: Mapping[str, str] | None = None) -> MarkingRun:
    """Mark every returned file of a folder.

    Parameters
    ----------
    returned_dir, keys_dir : path
        The folder of returned files and the private folder of key records.
    results_dir : path, optional
        Where results are kept as PAPER_ID.json. A file marked before, from the same answers and key,
        keeps its result as it was; a result that differs is written beside the earlier one, which stays.
    progress : callable, optional
        Called with how many are done, how many there are, and the file's name.
    corrections : list of dict, optional
        What was put right since (`rigcalc.papers.correcting`), the oldest first; the key records stay as they are.
    issued : mapping, optional
        Paper id to the hash of its key record, as the register has it: a key record with another hash marks nothing.
    """
    keys, results, problems, seen, back = Path(keys_dir), [], [], {}, set()
    returned_at, marked_at = os.fspath(returned_dir), stamp(now)
    files = sorted(name for name in os.listdir(returned_at) if not name.startswith("."))
    with _nothing_collected():
        for number, name in enumerate(files, 1):
            stem = came = os.path.splitext(name)[0]
            try:
                returned = read_returned(os.path.join(returned_at, name))
                came = returned.paper_id
                key, key_hash = _key_record(keys, returned)
                if stem != came and (keys / f"{stem}.key").exists():
                    came = ""
                    raise DamagedAnswers(f"the file is named for one paper and holds the answers of another, {key.candidate['name']}'s: "
                                         "put the paper's own file back")
                if returned.paper_id in seen:
                    raise DamagedAnswers(f"this paper was handed in by {seen[returned.paper_id]} too: "
                                         "the assessor decides which counts")
                if issued is not None and issued.get(returned.paper_id) != key_hash:
                    raise DamagedAnswers(f"the key record of paper {returned.paper_id} is not the one that the register names: "
                                         "fetch it from a copy of the desk's folder")
                if results_dir is not None:
                    _check_whole(keys, key)
                results.append(_result(returned, key, key_hash, marked_at, corrections))
                seen[returned.paper_id] = name
            except DamagedAnswers as damage:
                problems.append({"file": name, "whose": _name_of(keys, stem), "what": str(damage)})
            back.add(came)
            if progress:
                progress(number, len(files), name)
    if results_dir is not None:
        results = [_kept(result, private_folder(Path(results_dir))) for result in results]
    return MarkingRun(results, problems, _not_returned(keys, back))


@contextmanager
def _nothing_collected() -> Iterator[None]:
    """Leave the garbage collector out: marking makes no cycles, and it would walk all results so far again and again."""
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if not gc.get_freeze_count():  # what was made counts as old now, else all of it would be walked at once
            gc.freeze()
            gc.unfreeze()
        if was:
            gc.enable()


def mark_practice(paper: dict, keys: list[dict], typed: dict) -> list[dict]:
    """Mark a practice paper's answers (question number to typed) at once, for the learner alone."""
    by_slot = {key["slot"]: key for key in keys}
    return [_slot(question, by_slot[question["slot"]], typed.get(question["slot"]), "Not answered.")
            for question in paper["questions"]]


def _key_record(keys: Path, returned: Returned) -> tuple[KeyRecord, str]:
    name = returned.paper_id
    if not name.replace("-", "").isalnum() or not name.isascii():
        raise DamagedAnswers("the paper's id is not one that is given out here")
    try:
        record, digest = key_record(keys, name)
    except FileNotFoundError:
        raise DamagedAnswers(f"there is no key record for paper {name}: it was not issued from this desk") from None
    except (DamagedKey, OSError):
        raise DamagedAnswers(_DAMAGED.format(name)) from None
    if returned.paper_sha256 != record.paper_sha256:
        raise DamagedAnswers("the paper that was answered is not the paper that was issued: their hashes differ")
    if returned.candidate_id != record.candidate["id"]:
        raise DamagedAnswers(f"the paper is {record.candidate['name']}'s, the answers say they are another's")
    return record, digest


def _name_of(keys: Path, paper_id: str) -> str:
    """Whose paper it is by its key record; empty where there is none that can be read."""
    try:
        return key_record(keys, paper_id)[0].candidate["name"]
    except (DamagedKey, OSError, ValueError):
        return ""


def _check_whole(keys: Path, record: KeyRecord) -> None:
    """A result is not filed where the paper and working that it rests on are not as they were."""
    try:
        whole_record(keys, record.paper_id, record.whole_sha256)
    except (DamagedKey, OSError):
        raise DamagedAnswers(_DAMAGED.format(record.paper_id)) from None


def _result(returned: Returned, record: KeyRecord, key_hash: str, marked_at: str, corrections=()) -> dict:
    typed, partly, slots = {answer.slot: answer.typed for answer in returned.answers}, record.partial_credit == "shares", []
    not_counted = {} if not returned.drafts and not returned.late else _not_counted(returned, record)
    for one in record.questions:
        given = typed.pop(one.slot, None)
        slots.append(given is not None and quick_row(one, given, partly) or _marked_whole(one, given, not_counted.get(one.slot, "Not answered."), partly))
    if typed:
        raise DamagedAnswers(f"the answer to question {min(typed)}: the paper has no such question")
    if returned.typed_in:
        slots = [_on_paper(slot) for slot in slots]
    used = [one for one in corrections if record.paper_id in one["papers"]]
    if used:
        slots = [_corrected(slot, one.whole()[0], used, record.paper_id, partly) for slot, one in zip(slots, record.questions, strict=True)]
    score = marks_of(slots)
    missed = [slot["skill"] for slot in slots if slot["must_be_right"] and not slot["right"]]
    cut = record.cut
    return {
        "form": 1, "paper_id": record.paper_id, "candidate": record.candidate, "class": record.class_,
        "blueprint": record.blueprint, "answers_sha256": returned.answers_sha256, "receipt": returned.receipt,
        "paper_sha256": record.paper_sha256, "key_sha256": key_hash, "slots": slots, "score": score,
        "out_of": sum(slot["weight"] for slot in slots), "must_be_right_missed": missed, "cut": cut,
        "passed": score >= cut["marks"] and not missed, "marked_at": marked_at, "practice": record.practice,
        "invented": record.invented, "handed_in_at": returned.handed_in_at,
        "typed_in": msgspec.to_builtins(returned.typed_in), "partial_credit": "shares" if partly else "none",
        "corrections": [{name: one[name] for name in ("number", "way", "family", "by", "why", "at", "second") if name in one} for one in used],
    }


def _on_paper(slot: dict) -> dict:
    """A row of a sheet written by hand: what could not be read is told without what a screen asks to press or to type."""
    return slot | {"feedback": _SCREEN.sub(".", slot["feedback"])} if "Cannot be read" in slot["feedback"] else slot


def _marked_whole(one: Question, given, nothing: str, partly: bool) -> dict:
    """The row of a question without an answer, or of an answer whose form has to be checked first."""
    question, key = one.whole()
    wrong = given is not None and check_typed(question, given)
    if wrong:
        raise DamagedAnswers(f"the answer to question {one.slot}: {wrong}")
    return _slot(question, key, given, nothing, partly)


def _not_counted(returned: Returned, record: KeyRecord) -> dict[int, str]:
    """What is said of answers that were kept and do not count."""
    how = {answer.slot: "but not confirmed." for answer in returned.drafts} | {answer.slot: "after the time had run out." for answer in returned.late}
    return {one.slot: f"{'Typed' if one.kind in TYPED_KINDS else 'Chosen'} {how[one.slot]}" for one in record.questions if one.slot in how}


def marks_of(slots: list[dict]) -> int | float:
    """The marks of some slots together, in tenths where parts count."""
    tenths = sum([round(slot["marks"] * 10) for slot in slots])
    return tenths / 10 if tenths % 10 else tenths // 10


def _corrected(row: dict, question: dict, corrections: list[dict], paper_id: str, partly: bool) -> dict:
    """A marked slot with every correction of it applied, the oldest first."""
    for one in corrections:
        change = one["papers"][paper_id].get(str(row["slot"]))
        if change is None:
            continue
        if change.get("key"):
            row = _slot(with_tolerance_of(question, change["key"]), change["key"], row["typed"], row["feedback"], partly)
        elif change.get("right") or change.get("misstep") in row["missteps"]:
            said = {"struck": "This question was struck: everybody who had it gets its marks.",
                    "key again": "None of the options shown is right by the corrected key: the question was struck here, and whoever had it gets its marks.",
                    "misstep is right": "Right: this answer was first counted as wrong, and was put right.",
                    "appeal allowed": "Counted as right after an appeal."}[one["way"]]
            row = row | {"right": True, "marks": row["weight"], "share": 1.0, "missteps": [], "feedback": said}
            row |= {"struck": True} if change.get("struck") else {}
        row = row | {"corrected": [*row.get("corrected", []), one["number"]]}
    return row


def _slot(question: dict, key: dict, typed, nothing: str, partly: bool = False) -> dict:
    right, read_as, missteps, feedback, share, marks, section = False, "", [], nothing, 0.0, 0, key["section"]
    if typed is not None:
        reading = read_answer(question, typed)
        outcome = mark(key, question, typed, reading)
        right, missteps, feedback, share = outcome["right"], outcome["missteps"], with_share(outcome) if partly else outcome["feedback"], outcome["share"]
        section = outcome["section"]
        read_as, marks = reading["shown"] if reading["ok"] else UNREAD, marks_for(key["weight"], right, share, partly)
        share = round(share, 4)
    return {"slot": question["slot"], "place": key["place"], "skill": key["skill"], "weight": key["weight"],
            "must_be_right": key["must_be_right"], "text": question["text"], "right": right, "typed": typed,
            "read_as": read_as, "missteps": missteps, "feedback": feedback, "section": section, "share": share, "marks": marks}


def _kept(result: dict, folder: Path) -> dict:
    path = folder / f"{result['paper_id']}.json"
    try:
        old = json.loads(path.read_bytes())
        same = ("answers_sha256", "key_sha256", "slots", "passed")
        if all(old[field] == result[field] for field in same) and old.get("corrections", []) == result["corrections"]:
            return old
        write_synced(folder / f"{result['paper_id']}.earlier-{sha256(canonical(old))[:12]}.json", canonical(old))
    except (OSError, ValueError, KeyError, TypeError):
        pass
    write_synced(path, canonical(result))
    return result


def _not_returned(keys: Path, returned: set[str]) -> list[dict]:
    missing = []
    for name in sorted(os.listdir(keys)) if keys.is_dir() else ():
        paper_id, ending = os.path.splitext(name)
        if ending != ".key" or paper_id in returned:
            continue
        try:
            record, _ = key_record(keys, paper_id)
            candidate, group = record.candidate, record.class_
        except (DamagedKey, OSError):
            candidate, group = {"id": "", "name": "key record damaged"}, ""
        missing.append({"paper_id": paper_id, "candidate": candidate, "class": group})
    return missing
