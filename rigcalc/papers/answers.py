"""Returned answers: data in a fixed form, size-limited, tied to their paper by hashes, never executed."""

from __future__ import annotations

import os
import stat
from operator import attrgetter
from pathlib import Path
from typing import Annotated, Any

import msgspec

from rigcalc.errors import Refusal
from rigcalc.papers.records import canonical, private_folder, sha256, stamp, write_synced

__all__ = ["Answer", "Returned", "TypedIn", "DamagedAnswers", "read_returned", "returned_record", "typed_in",
           "receipt", "answers_sha256", "check_typed", "FILE_LIMIT", "TEXT_LIMIT"]

FILE_LIMIT = 256 * 1024  # bytes; forty answers of the longest kind take less than a tenth of it
TEXT_LIMIT = 200  # letters in one typed answer
ENTRY_LIMIT = 60  # letters in one box of a job sheet

_Text = Annotated[str, msgspec.Meta(max_length=TEXT_LIMIT)]
_Entry = Annotated[str, msgspec.Meta(max_length=ENTRY_LIMIT)]
_Typed = _Text | Annotated[list[_Entry], msgspec.Meta(max_length=40)]
_Short = Annotated[str, msgspec.Meta(max_length=120)]
_Hash = Annotated[str, msgspec.Meta(pattern=r"^[0-9a-f]{64}$")]
_Slot = Annotated[int, msgspec.Meta(ge=1, le=400)]
_Revision = Annotated[int, msgspec.Meta(ge=0, le=1_000_000_000)]


class Answer(msgspec.Struct, forbid_unknown_fields=True):
    """One answer as typed: text, a list of letters, or a list with the text of each box of a job sheet."""

    slot: _Slot
    typed: _Typed
    revision: _Revision
    at: _Short = ""


class TypedIn(msgspec.Struct, forbid_unknown_fields=True):
    """Who typed in what was written on paper, who read it a second time, and when."""

    by: _Short
    second_reader: _Short
    at: _Short


class Returned(msgspec.Struct, forbid_unknown_fields=True):
    """A handed-in file. `answers` are the confirmed ones; `drafts` and `late` are kept and do not count."""

    form: int
    paper_id: _Short
    paper_sha256: _Hash
    candidate_id: _Short
    answers: Annotated[list[Answer], msgspec.Meta(max_length=400)]
    answers_sha256: _Hash
    receipt: _Short
    handed_in_at: _Short
    started_at: _Short = ""
    drafts: Annotated[list[Answer], msgspec.Meta(max_length=400)] = []
    late: Annotated[list[Answer], msgspec.Meta(max_length=2000)] = []
    typed_in: TypedIn | None = None


PUT_BACK = "Put the paper's own file back; each answer also stands in the room's answers folder, and the candidate's receipt tells which file was handed in"


class DamagedAnswers(Exception):
    """A file that cannot be marked; its text says what is wrong, in one plain sentence."""


_DECODER, _ENCODER = msgspec.json.Decoder(Returned), msgspec.json.Encoder()
_RECEIPT_LETTERS = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"  # no 0 and O, no 1 and I: it is read aloud
_RECEIPT_PAIRS = [one + other for one in _RECEIPT_LETTERS for other in _RECEIPT_LETTERS]


def answers_sha256(paper_id: str, paper_sha256: str, answers: list[dict]) -> str:
    """The hash that ties answers to the paper they answer."""
    return _hash_of_answers(paper_id, paper_sha256, [_Counted(answer["slot"], answer["typed"]) for answer in answers])


class _Counted(msgspec.Struct, gc=False):
    """What is hashed of an answer; the fields stand in the order of the exact form of bytes (`records.canonical`)."""

    slot: int
    typed: Any


class _Hashed(msgspec.Struct, gc=False):
    answers: list[_Counted]
    paper_id: str
    paper_sha256: str


def _hash_of_answers(paper_id: str, paper_sha256: str, counted: list[_Counted]) -> str:
    counted.sort(key=attrgetter("slot"))
    return sha256(_ENCODER.encode(_Hashed(counted, paper_id, paper_sha256)) + b"\n")


def receipt(digest: str) -> str:
    """The hash of handed-in answers, short enough to read aloud: its first 80 bits in four groups.

    >>> receipt("00" * 32)
    '2222-2222-2222-2222'
    """
    number = int(digest[:20], 16)
    four = [_RECEIPT_PAIRS[number >> at & 1023] + _RECEIPT_PAIRS[number >> at - 10 & 1023] for at in (70, 50, 30, 10)]
    return "-".join(four)


def check_typed(question: dict, typed) -> str | None:
    """What is wrong with the form of a typed answer (not with its content), or None.

    Text for one choice, a place and a number; a list of letters for an order, several choices and a match; for a
    job sheet a list with the text of each box. In a match and a sheet an empty text is a line left empty.
    """
    kind = question["kind"]
    if kind == "sheet":
        return _boxes_fault(question, typed)
    if kind in ("order", "several choices", "match"):
        return _letters_fault(question, typed)
    if not isinstance(typed, str) or len(typed) > TEXT_LIMIT:
        return f"text of up to {TEXT_LIMIT} letters is wanted"
    return None


def _boxes_fault(question: dict, typed) -> str | None:
    count = len(question["boxes"])
    if not isinstance(typed, list) or len(typed) not in (0, count) or not all(isinstance(one, str) for one in typed):
        return f"a list of {count} texts is wanted, one a box"
    return f"texts of up to {ENTRY_LIMIT} letters are wanted" if any(len(one) > ENTRY_LIMIT for one in typed) else None


def _letters_fault(question: dict, typed) -> str | None:
    kind, letters = question["kind"], {option["letter"] for option in question["options"]}
    said = {"order": "an order", "several choices": "a choice", "match": "a match"}[kind]
    most = len(question["left"]) if kind == "match" else len(letters)
    if not isinstance(typed, list) or len(typed) > most or (kind == "match" and len(typed) not in (0, most)):
        return f"{said} of {'' if kind == 'match' else 'up to '}{most} letters is wanted"
    allowed = letters | {""} if kind == "match" else letters
    if not all(isinstance(letter, str) and letter.strip().upper() in allowed for letter in typed):
        return f"{said} holds letters of the question only"
    twice = len({one.strip().upper() for one in typed}) != len(typed)
    return f"{said} names each letter once" if twice and kind != "match" else None


def read_returned(path: Path) -> Returned:
    """A returned file, checked against form and limits.

    Raises
    ------
    DamagedAnswers
        With what is wrong. The file's content is only ever read as data.
    """
    name = os.fspath(path)
    try:
        plain = stat.S_ISREG(os.lstat(name).st_mode)
    except (OSError, ValueError):
        plain = False
    if not plain:
        raise DamagedAnswers("this is no plain file")
    if not name.endswith(".json"):
        raise DamagedAnswers("this is no returned answer file: their names end in .json")
    try:
        with open(name, "rb", buffering=0) as file:
            data = file.read(FILE_LIMIT + 1)
    except OSError as error:
        raise DamagedAnswers(f"the file cannot be read ({error.strerror})") from None
    if len(data) > FILE_LIMIT:
        raise DamagedAnswers(f"the file is larger than {FILE_LIMIT // 1024} KB")
    return decode_returned(data)


def decode_returned(data: bytes) -> Returned:
    """Bytes as a returned record, or DamagedAnswers."""
    if not data.strip():
        raise DamagedAnswers(f"the file is empty. {PUT_BACK}")
    try:
        found = _DECODER.decode(data)
        if b"\\u" in data:
            canonical(msgspec.to_builtins(found))  # text that is no Unicode fails here, before anything is written of it
    except msgspec.ValidationError as error:
        raise DamagedAnswers(f"a field is not as it must be ({error}). {PUT_BACK}") from None
    except (msgspec.DecodeError, UnicodeError, RecursionError, ValueError):
        raise DamagedAnswers(f"the file is cut off, or is no JSON. {PUT_BACK}") from None
    if found.form != 1:
        raise DamagedAnswers(f"form {found.form} is not known: form 1 is")
    slots = [answer.slot for answer in found.answers]
    if len(set(slots)) != len(slots):
        raise DamagedAnswers(f"a question is answered twice. {PUT_BACK}")
    counted = [_Counted(answer.slot, answer.typed) for answer in found.answers]
    if _hash_of_answers(found.paper_id, found.paper_sha256, counted) != found.answers_sha256:
        raise DamagedAnswers(f"the answers have been changed since they were handed in: their hash does not fit. {PUT_BACK}")
    if receipt(found.answers_sha256) != found.receipt:
        raise DamagedAnswers(f"the receipt does not fit the answers. {PUT_BACK}")
    return found


def returned_record(paper: dict, answers: list[dict], *, handed_in_at: str, started_at: str = "",
                    drafts: list[dict] = (), late: list[dict] = (), typed_in: dict | None = None) -> dict:
    """The record that is handed in, with its receipt; the paper's hash is of its exact bytes."""
    paper_hash = sha256(canonical(paper))
    digest = answers_sha256(paper["paper_id"], paper_hash, answers)
    return {"form": 1, "paper_id": paper["paper_id"], "paper_sha256": paper_hash,
            "candidate_id": paper["candidate"]["id"], "answers": sorted(answers, key=lambda one: one["slot"]),
            "answers_sha256": digest, "receipt": receipt(digest), "handed_in_at": handed_in_at,
            "started_at": started_at, "drafts": list(drafts), "late": list(late), "typed_in": typed_in}


def typed_in(paper: dict, answers: dict, by: str, second_reader: str, returned_dir, now=None) -> dict:
    """File answers that were written on paper, marked as typed in by whom and read again by whom.

    Parameters
    ----------
    answers : dict
        Question number to what is written there; a question left empty is left out. What cannot be read
        as an answer is filed as written and will not be marked right.

    Raises
    ------
    Refusal
        No second reader, an answer of the wrong form, or a paper that has been handed in already.
    """
    by, second_reader = by.strip(), second_reader.strip()
    if not by or not second_reader or by.casefold() == second_reader.casefold():
        raise Refusal(f"'{by}' as typist and '{second_reader}' as second reader", "two different names",
                      "have somebody else compare what was typed with the sheet")
    questions = {question["slot"]: question for question in paper["questions"]}
    at, rows = stamp(now), []
    for slot, typed in answers.items():
        if slot not in questions:
            raise Refusal(f"an answer to question {slot}", f"questions 1 to {len(questions)}", "check the numbering")
        wrong = check_typed(questions[slot], typed)
        if wrong:
            raise Refusal(f"question {slot}: {typed!r}", wrong, "type it as it stands on the sheet")
        if typed and any(typed):
            rows.append({"slot": slot, "typed": typed, "revision": 0, "at": at})
    path = private_folder(Path(returned_dir)) / f"{paper['paper_id']}.json"
    if path.exists():
        raise Refusal(f"answers to paper {paper['paper_id']}, handed in before", "one set of answers a paper",
                      "keep the first, and write down why there are two")
    record = returned_record(paper, rows, handed_in_at=at,
                             typed_in={"by": by, "second_reader": second_reader, "at": at})
    write_synced(path, canonical(record))
    return record
