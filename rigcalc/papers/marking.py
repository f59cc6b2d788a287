"""Marking: returned files in, results out, from the kept key records. Damaged files are named, the rest marked."""

from __future__ import annotations

import gc
import json
import os
import re
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from math import floor
from operator import itemgetter
from pathlib import Path
from typing import NamedTuple

import msgspec

from rigcalc.papers.answers import DamagedAnswers, Returned, check_typed, read_returned
from rigcalc.papers.key_records import Box, DamagedKey, KeyRecord, Ready, key_record, whole_record
from rigcalc.papers.records import UNREAD, canonical, private_folder, sha256, stamp, write_synced
from rigcalc.papers.tolerances import with_tolerance_of
from rigcalc.questions import mark, read_answer
from rigcalc.questions.marking import LIMITS, mark_letters, rounded_up, told, told_of_sheet
from rigcalc.questions.quick_judging import PLAIN, judge
from rigcalc.questions.reading import LONGEST, read_figure

__all__ = ["MarkingRun", "mark_returned", "mark_practice", "marks_of"]


class MarkingRun(NamedTuple):
    """What a marking gave: results, files that could not be marked, and papers nobody has handed in."""

    results: list[dict]
    problems: list[dict]  # each {"file", "whose" (empty: nobody's here), "what"}
    not_returned: list[dict]
    new: int = 0  # of the results, those a register has not had before


_DAMAGED = "the key record of paper {} is damaged: fetch it from a copy of the desk's folder"
_SCREEN = re.compile(r"; (?:press|say|type|write) [^.;]*\.")  # the last clause of what a screen says of an answer that cannot be read
TEXT_KINDS = ("one choice", "place", "number")
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
    typed, partly = {answer.slot: answer.typed for answer in returned.answers}, record.partial_credit == "shares"
    questions, rows, whole = {one.slot: one for one in record.questions}, {}, {}
    for slot, given in typed.items():
        if slot not in questions:
            raise DamagedAnswers(f"the answer to question {slot}: the paper has no such question")
        rows[slot] = _quickly(questions[slot], given, partly)
        if rows[slot] or type(given) is str and questions[slot].kind in TEXT_KINDS:
            continue  # no more of its form was to be checked than was when the file was read
        whole[slot] = questions[slot].whole()
        wrong = check_typed(whole[slot][0], given)
        if wrong:
            raise DamagedAnswers(f"the answer to question {slot}: {wrong}")
    not_counted = {} if not returned.drafts and not returned.late else _not_counted(returned, questions)
    slots = [rows.get(one.slot) or _slot(*(whole.get(one.slot) or one.whole()), typed.get(one.slot), not_counted.get(one.slot, "Not answered."), partly)
             for one in record.questions]
    if returned.typed_in:
        slots = [_on_paper(slot) for slot in slots]
    used = [one for one in corrections if record.paper_id in one["papers"]]
    if used:
        slots = [_corrected(slot, questions[slot["slot"]].whole()[0], used, record.paper_id, partly) for slot in slots]
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


def _not_counted(returned: Returned, questions: dict[int, Ready]) -> dict[int, str]:
    """What is said of answers that were kept and do not count."""
    how = {answer.slot: "but not confirmed." for answer in returned.drafts} | {answer.slot: "after the time had run out." for answer in returned.late}
    return {slot: f"{'Typed' if questions[slot].kind in TYPED_KINDS else 'Chosen'} {said}" for slot, said in how.items() if slot in questions}


def _quickly(one: Ready, typed, partly: bool = False) -> dict | None:
    """The row of an answer that is read and judged beyond doubt; None for every other, which is marked whole."""
    found = _entry(one, typed) if type(typed) is str else _sheet(one, typed) if one.boxes else _letters(one, typed)
    if found is None:
        return None
    read_as, fits = found
    right, share, marks, missteps, feedback, section = True, 1.0, one.weight, [], "Right.", one.section
    if fits is not None:
        outcome = fits if type(fits) is dict else told(False, fits)
        right, missteps, feedback, share = False, outcome["missteps"], outcome["feedback"], round(outcome["share"], 4)
        section = outcome.get("section", section)
        if partly:
            feedback = _with_share(outcome)
        marks = _marks(one.weight, False, outcome["share"], partly)
    return {"slot": one.slot, "place": one.place, "skill": one.skill, "weight": one.weight, "must_be_right": one.must_be_right,
            "text": one.text, "right": right, "typed": typed, "read_as": read_as, "missteps": missteps, "feedback": feedback,
            "section": section, "share": share, "marks": marks}


def _entry(one: Ready | Box, typed: str) -> tuple[str, list[dict] | None] | None:
    """How a letter or a figure is read, and None where it is right, else the missteps that give it; None in any doubt."""
    if one.kind == "number":
        return _figure(one, typed)
    if typed not in one.options or not one.letter:
        return None
    read_as = one.options[typed] if one.kind == "place" else f"{typed}: {one.options[typed]}"
    return read_as, None if typed == one.letter else [slip for slip in one.slips if slip["letter"] == typed]


def _letters(one: Ready, typed: list[str]) -> tuple[str, dict] | None:
    """How a row or a set of letters is read, and what it is told."""
    if not one.row or not typed or any([letter not in one.options for letter in typed]):
        return None
    if one.kind == "match":
        value, read_as = typed, ", ".join([f"{at} {letter}" for at, letter in enumerate(typed, 1)])
    elif len(set(typed)) != len(typed):
        return None
    else:
        value = sorted(typed) if one.kind == "several choices" else typed
        read_as = (", then " if one.kind == "order" else ", ").join(value)
    if one.kind != "several choices" and len(typed) != one.count:
        return None
    return read_as, None if value == one.row else mark_letters(one.kind, one.row, one.slips, value)


def _sheet(one: Ready, typed: list[str]) -> tuple[str, dict | None] | None:
    """How a sheet is read, each box beyond doubt, and what it is told."""
    if len(typed) != len(one.boxes):
        return None
    said, found, right = [], [], True
    for box, text in zip(one.boxes, typed):
        entry = _entry(box, text)
        if entry is None:
            return None
        said.append(f"{box.label}: {entry[0]}")
        found.append(entry[1])
        right = right and entry[1] is None
    return "; ".join(said), None if right else told_of_sheet(
        [(box.id, box.label, *_box(box, text, fits)) for box, text, fits in zip(one.boxes, typed, found)])


def _box(box: Box, text: str, fits: list[dict] | None) -> tuple[dict, tuple[dict, dict] | None]:
    """What one box is told, and a wrong figure in it; as `rigcalc.questions.marking` has it."""
    outcome, filled = told(fits is None, fits or []), None
    if box.kind == "number" and fits is not None:
        value = read_figure(text, box.accept, box.refusal, *box.signs)["value"]
        unit, filled = value["unit"], (box.key(), value)
        if unit in LIMITS and float(PLAIN.fullmatch(value["plain"])[1]) > box.windows[unit][1] and rounded_up(filled[0], value):
            outcome["rounded_up"] = True
    return outcome, filled


def _figure(one: Ready | Box, typed: str) -> tuple[str, list[dict] | None] | None:
    """How a figure is read, and None where it is right beyond doubt, else the missteps that give it; None in any doubt."""
    if not 0 < len(typed) <= LONGEST or not typed.strip():
        return None
    reading = read_figure(typed, one.accept, one.refusal, *one.signs)
    value = reading["value"] or {}
    if not one.windows:  # the right answer is to refuse
        return (reading["shown"], None) if value.get("refuse") else None
    plain = PLAIN.fullmatch(value.get("plain", ""))
    if not plain:
        return None
    unit, figure = value["unit"], float(plain[1])
    low, high = one.windows[unit]
    if low <= figure <= high:
        return reading["shown"], None
    low, high = one.also.get(unit, (0.0, -1.0))
    if low <= figure <= high:  # it may be right by a figure as the page prints it
        return None
    found = judge(one.key(), value["plain"], unit, itemgetter("missteps"))
    if found and (one.refusal and not found[1] or len(found[1]) > 1):  # it is told that refusing is possible; or which misstep is nearest
        return None
    return (reading["shown"], found[1]) if found and not found[0] and not found[2] else None


def marks_of(slots: list[dict]) -> int | float:
    """The marks of some slots together, in tenths where parts count."""
    tenths = sum([round(slot["marks"] * 10) for slot in slots])
    return tenths / 10 if tenths % 10 else tenths // 10


def _marks(weight: int, right: bool, share: float, partly: bool) -> int | float:
    """What an answer is worth: all, nothing, or its share, rounded down to a tenth of a mark."""
    if right or not partly:
        return weight if right else 0
    tenths = floor(weight * share * 10 + 1e-9)
    return tenths / 10 if tenths % 10 else tenths // 10


def _with_share(outcome: dict) -> str:
    """What is told where parts count: also why a sheet with right boxes has none."""
    return f"{outcome['feedback']} A limit was rounded up: no part of this sheet counts." if outcome.get("rounded_up") else outcome["feedback"]


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
        right, missteps, feedback, share = outcome["right"], outcome["missteps"], _with_share(outcome) if partly else outcome["feedback"], outcome["share"]
        section = outcome["section"]
        read_as, marks = reading["shown"] if reading["ok"] else UNREAD, _marks(key["weight"], right, share, partly)
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
