"""Key records, each in two files: what marking goes by (`.key`), and the whole of it with paper and working (`.json`).

The `.key` file is all that marking reads. It begins with the hash of the rest of its bytes, which is the key record's hash in
results and register, and it names the hash of the `.json` file: whatever is changed in either is found by its hash.
"""

from __future__ import annotations

import json
import math
import os
from pathlib import Path
from typing import Any

import msgspec

from rigcalc.papers.records import canonical, sha256, write_synced
from rigcalc.questions.marking import REFUSE, also_windows, windows

__all__ = ["Box", "DamagedKey", "KeyRecord", "Ready", "keep_key_record", "key_record", "whole_record"]

QUESTION = ("options", "unit", "tolerance", "left", "boxes")  # what marking needs beside the fields of Ready
KEY = ("right", "missteps")
SLIP = ("letter", "letters", "row", "id", "feedback", "section", "each_line")
LETTERED, ROWS = ("one choice", "place"), {"order": "row", "match": "row", "several choices": "letters"}


class Box(msgspec.Struct, array_like=True, gc=False):
    """An entry of a job sheet: what tells a right one, as in a question."""

    id: str
    label: str
    kind: str
    letter: str
    options: dict[str, str]
    accept: tuple[str, ...]
    refusal: bool
    signs: tuple[str, str]
    windows: dict[str, tuple[float, float]]
    also: dict[str, tuple[float, float]]
    packed_key: bytes

    def key(self) -> dict[str, Any]:
        """The key as far as an entry is judged by it."""
        return _KEY.decode(self.packed_key)

    @property
    def slips(self) -> list[dict[str, Any]]:
        """Its missteps."""
        return self.key()["missteps"]


class Ready(msgspec.Struct, array_like=True, gc=False):
    """A question ready to be marked: what stands in every result, what tells a right answer, and all the rest still packed."""

    slot: int
    place: int
    skill: str
    section: str
    weight: int
    must_be_right: bool
    kind: str
    text: str
    letter: str  # the right letter, where one letter is wanted
    options: dict[str, str]
    packed_slips: bytes  # where letters are wanted
    accept: tuple[str, ...]  # units, where a figure is wanted
    refusal: bool
    signs: tuple[str, str]
    windows: dict[str, tuple[float, float]]  # unit to the figures that are right beyond doubt
    also: dict[str, tuple[float, float]]  # unit to the span outside which no figure as the page prints it makes an answer right
    row: list[str]  # the right letters, where a row or a set of them is wanted
    count: int  # letters that a row has
    boxes: list[Box]  # of a job sheet
    rest: bytes

    def whole(self) -> tuple[dict[str, Any], dict[str, Any]]:
        """The question and its key as the key record has them, without drawing and working."""
        question, key = _PAIR.decode(self.rest) if self.rest else self._lettered()
        if self.boxes:
            key["boxes"] = [{"id": box.id, "kind": box.kind} | box.key() for box in self.boxes]
        if self.packed_slips:
            key["missteps"] = self.slips
        question |= {"slot": self.slot, "kind": self.kind, "text": self.text, "accept": list(self.accept), "refusal": self.refusal,
                     "separators": {"decimal": self.signs[0], "thousands": self.signs[1]}}
        key |= {"slot": self.slot, "place": self.place, "skill": self.skill, "section": self.section, "weight": self.weight,
                "must_be_right": self.must_be_right, "kind": self.kind}
        return question, key

    @property
    def slips(self) -> list[dict[str, Any]]:
        """The missteps, where letters are wanted."""
        return _SLIPS.decode(self.packed_slips)

    def key(self) -> dict[str, Any]:
        """The key alone, as far as a figure is judged by it."""
        return _OF_PAIR.decode(self.rest)[1]

    def _lettered(self) -> tuple[dict[str, Any], dict[str, Any]]:
        options = [{"letter": letter, "text": text} for letter, text in self.options.items()]
        return {"options": options}, {"right": {"letter": self.letter}}


_PAIR = msgspec.msgpack.Decoder(tuple[dict[str, Any], dict[str, Any]])
_OF_PAIR = msgspec.msgpack.Decoder(tuple[msgspec.Raw, dict[str, Any]])  # the question left packed
_SLIPS, _KEY = msgspec.msgpack.Decoder(list[dict[str, Any]]), msgspec.msgpack.Decoder(dict[str, Any])


class KeyRecord(msgspec.Struct, array_like=True):
    """A key record as marking goes by it."""

    whole_sha256: str

    paper_id: str
    paper_sha256: str
    candidate: dict[str, Any]
    class_: str
    blueprint: dict[str, Any]
    cut: dict[str, Any]
    partial_credit: str
    practice: bool
    invented: bool | str  # yes of a whole shop; else what of the paper is invented
    questions: list[Ready]


_RECORD = msgspec.msgpack.Decoder(KeyRecord)


class DamagedKey(Exception):
    """A key record that is not as it was filed."""


def _inside(low: Any, high: Any) -> tuple[float, float]:
    """The floats that lie within two fractions beyond doubt."""
    return math.nextafter(float(low), math.inf), math.nextafter(float(high), -math.inf)


def _told_by(question: dict, key: dict) -> dict[str, Any]:
    """What tells a right letter or figure, of a question or of a box of a sheet."""
    signs, lettered, accept = question.get("separators") or {"decimal": ".", "thousands": ","}, key["kind"] in LETTERED, question["accept"]
    figure = key["kind"] == "number" and key["right"]["exact"] != REFUSE
    known = {unit: _inside(*edges) for unit, edges in windows(key, accept).items()} if figure else {}
    also = {unit: (float(low), float(high)) for unit, (low, high) in also_windows(key, accept).items()} if figure else {}
    return {"letter": key["right"]["letter"] if lettered else "", "accept": tuple(accept), "refusal": bool(question.get("refusal")),
            "options": {one["letter"]: one["text"] if lettered else "" for one in question["options"]},
            "signs": (signs["decimal"], signs["thousands"]), "windows": known, "also": also}


def _box(box: dict, own: dict) -> Box:
    return Box(own["id"], box["label"], own["kind"], **_told_by(box, own),
               packed_key=msgspec.msgpack.encode({"right": own["right"], "missteps": own["missteps"]}))


def _ready(question: dict, key: dict) -> Ready:
    kind, letters = key["kind"], key["kind"] in LETTERED or key["kind"] in ROWS
    rest = [{name: question[name] for name in QUESTION if name in question},
            {name: key[name] for name in KEY if name in key and not (letters and name == "missteps")}]
    slips = [{name: slip[name] for name in SLIP if name in slip} for slip in key["missteps"]] if letters else None
    row = key["right"][ROWS[kind]] if kind in ROWS else []
    return Ready(key["slot"], key["place"], key["skill"], key["section"], key["weight"], key["must_be_right"], kind, question["text"],
                 packed_slips=b"" if slips is None else msgspec.msgpack.encode(slips), row=sorted(row) if kind == "several choices" else row,
                 count=len(question["left"] if kind == "match" else question["options"]),
                 boxes=[_box(*one) for one in zip(question["boxes"], key["boxes"], strict=True)] if kind == "sheet" else [],
                 rest=b"" if kind in LETTERED else msgspec.msgpack.encode(rest), **_told_by(question, key))


def _packed(record: dict, whole_sha256: str) -> bytes:
    paper, keys = record["paper"], {key["slot"]: key for key in record["keys"]}
    ready = [_ready(question, keys[question["slot"]]) for question in sorted(paper["questions"], key=lambda one: one["slot"])]
    return msgspec.msgpack.encode(KeyRecord(
        whole_sha256, record["paper_id"], record["paper_sha256"], record["candidate"], record["class"], record["blueprint"],
        record["cut"], record["partial_credit"], paper["practice"], paper["invented"], ready))


def keep_key_record(folder: Path, record: dict) -> str:
    """File a key record in its two files; its hash, which stands in results and in the register."""
    whole, name = canonical(record), record["paper_id"]
    packed = _packed(json.loads(whole), sha256(whole))
    digest = sha256(packed)
    write_synced(folder / f"{name}.json", whole)
    write_synced(folder / f"{name}.key", digest.encode("ascii") + packed)
    return digest


def key_record(folder: str | os.PathLike, name: str) -> tuple[KeyRecord, str]:
    """A paper's key record as marking goes by it, and its hash, worked out over every byte now.

    Raises
    ------
    FileNotFoundError
        Nothing was filed under this name.
    DamagedKey
        It is not as it was filed.
    """
    with open(os.path.join(folder, f"{name}.key"), "rb", buffering=0) as file:
        data = file.read()
    packed = memoryview(data)[64:]
    digest = sha256(packed)
    if data[:64] != digest.encode("ascii"):
        raise DamagedKey(name)
    try:
        record = _RECORD.decode(packed)
    except msgspec.DecodeError:  # filed in an earlier shape: it is made again from the whole, which it names
        record = _made_again(folder, name, packed)
    if record.paper_id != name:
        raise DamagedKey(name)
    return record, digest


def _made_again(folder: str | os.PathLike, name: str, packed: memoryview) -> KeyRecord:
    try:
        named = msgspec.msgpack.decode(packed)[0]
        return _RECORD.decode(_packed(whole_record(folder, name, named), named))
    except (OSError, ValueError, KeyError, TypeError, IndexError):
        raise DamagedKey(name) from None


def whole_record(folder: str | os.PathLike, name: str, whole_sha256: str) -> dict[str, Any]:
    """A key record with its paper and working; DamagedKey where it is not the one of this hash."""
    try:
        data = Path(folder, f"{name}.json").read_bytes()
    except FileNotFoundError:
        data = b""
    if sha256(data) != whole_sha256:
        raise DamagedKey(name)
    return json.loads(data)
