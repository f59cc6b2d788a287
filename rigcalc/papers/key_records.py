"""Key records, each in two files: what marking goes by (`.key`), and the whole of it with paper and working (`.json`).

The `.key` file is all that marking reads. It begins with the hash of the rest of its bytes, which is the key record's hash in
results and register, and it names the hash of the `.json` file: whatever is changed in either is found by its hash.
"""

from __future__ import annotations

import json
import math
import os
from fractions import Fraction
from functools import lru_cache
from pathlib import Path
from typing import Any, ClassVar

import msgspec

from rigcalc.papers.records import canonical, sha256, write_synced
from rigcalc.questions.marking import REFUSE, also_windows, windows

__all__ = ["Choice", "ChoiceBox", "DamagedKey", "Figure", "FigureBox", "KeyRecord", "Question", "Row", "Sheet", "keep_key_record", "key_record",
           "way_to_read", "whole_record"]

SLIP = ("letter", "letters", "row", "id", "feedback", "section", "each_line")
RIGHT = ("exact", "tolerance", "round", "also", "from")
LETTERED, ROWS = ("one choice", "place"), {"order": "row", "match": "row", "several choices": "letters"}
Pair = tuple[dict[str, Any], dict[str, Any]]
_SLIPS = msgspec.msgpack.Decoder(list[dict[str, Any]])
_BY_LETTER = msgspec.msgpack.Decoder(dict[str, msgspec.Raw])
_OPTION = msgspec.msgpack.Decoder(tuple[str, list[dict[str, Any]]])
_FIGURE = msgspec.msgpack.Decoder(tuple[str, dict[str, tuple[float, float]], dict[str, Any]])
_pack = msgspec.msgpack.encode


class _Lettered:
    """What one letter answers."""

    __slots__ = ()

    def other(self, letter: str) -> tuple[str, list[dict[str, Any]]] | None:
        """A wrong letter's text, and the missteps that lead to it; None of a letter that the question has not."""
        packed = _BY_LETTER.decode(self.options).get(letter)
        return packed and _OPTION.decode(packed)

    def pair(self) -> Pair:
        """Question and key, as far as a letter is read and marked by them."""
        options = {letter: _OPTION.decode(packed) for letter, packed in _BY_LETTER.decode(self.options).items()}
        return ({"options": [{"letter": letter, "text": text} for letter, (text, _) in options.items()]},
                {"right": {"letter": self.letter}, "missteps": [slip for _, slips in options.values() for slip in slips]})


class _Typed:
    """What a figure answers."""

    __slots__ = ()

    def figure(self, unit: str, figure: float) -> tuple[dict[str, Any], dict[str, Any]]:
        """Question and key as far as this figure is judged by them: without what the page prints, where that cannot make it right."""
        words, also, key = _FIGURE.decode(self.packed)
        if unit in also and (figure < also[unit][0] or figure > also[unit][1]):
            del key["right"]["also"]
        return {"tolerance": words}, key

    def pair(self) -> Pair:
        """Question and key, as far as a figure is read and marked by them."""
        (words, _, key), (accept, refusal, decimal, thousands) = _FIGURE.decode(self.packed), way_to_read(self.how)
        return {"options": [], "tolerance": words, "accept": list(accept), "refusal": refusal,
                "separators": {"decimal": decimal, "thousands": thousands}}, key


class ChoiceBox(msgspec.Struct, _Lettered, array_like=True, gc=False, tag="choice"):
    """An entry of a job sheet that is chosen."""

    id: str
    label: str
    letter: str  # the right one
    right: str  # its text
    options: bytes  # each letter's text and missteps
    kind: ClassVar[str] = "one choice"


class FigureBox(msgspec.Struct, _Typed, array_like=True, gc=False, tag="figure"):
    """An entry of a job sheet that is typed."""

    id: str
    label: str
    how: str  # it is read (`way_to_read`)
    windows: dict[str, tuple[float, float]]  # unit to the figures that are right beyond doubt
    packed: bytes
    kind: ClassVar[str] = "number"


class _Asked(msgspec.Struct, array_like=True, gc=False):
    """A question ready to be marked: what stands in every result, what tells a right answer, and all the rest still packed."""

    slot: int
    place: int
    skill: str
    section: str
    weight: int
    must_be_right: bool
    kind: str
    text: str

    def whole(self) -> Pair:
        """The question and its key as far as any answer is read and marked by them."""
        question, key = self.pair()
        return ({"slot": self.slot, "kind": self.kind, "text": self.text} | question,
                {"slot": self.slot, "place": self.place, "skill": self.skill, "section": self.section, "weight": self.weight,
                 "must_be_right": self.must_be_right, "kind": self.kind} | key)


class Choice(_Asked, _Lettered, array_like=True, gc=False, tag="choice"):
    """One choice, or a place in a picture."""

    letter: str  # the right one
    right: str  # its text
    options: bytes  # each letter's text and missteps


class Figure(_Asked, _Typed, array_like=True, gc=False, tag="figure"):
    """A number with its unit."""

    how: str  # it is read (`way_to_read`)
    windows: dict[str, tuple[float, float]]  # unit to the figures that are right beyond doubt
    packed: bytes


class Row(_Asked, array_like=True, gc=False, tag="row"):
    """Letters in order, a letter for each line, or a set of letters."""

    row: list[str]  # the right ones
    letters: tuple[str, ...]
    lines: int  # of a match
    slips: bytes

    def missteps(self) -> list[dict[str, Any]]:
        """The missteps."""
        return _SLIPS.decode(self.slips)

    def pair(self) -> Pair:
        """Question and key, as far as letters are read and marked by them."""
        return ({"options": [{"letter": letter, "text": ""} for letter in self.letters], "left": [""] * self.lines},
                {"right": {ROWS[self.kind]: self.row}, "missteps": self.missteps()})


class Sheet(_Asked, array_like=True, gc=False, tag="sheet"):
    """A job sheet."""

    boxes: list[ChoiceBox | FigureBox]

    def pair(self) -> Pair:
        """Question and key with their boxes."""
        pairs = [box.pair() for box in self.boxes]
        return ({"options": [], "boxes": [{"kind": box.kind, "label": box.label} | question for box, (question, _) in zip(self.boxes, pairs)]},
                {"right": {}, "missteps": [], "boxes": [{"id": box.id, "kind": box.kind} | key for box, (_, key) in zip(self.boxes, pairs)]})


Question = Choice | Figure | Row | Sheet


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
    questions: list[Question]


_RECORD = msgspec.msgpack.Decoder(KeyRecord)


class DamagedKey(Exception):
    """A key record that is not as it was filed."""


def _inside(low: Any, high: Any) -> tuple[float, float]:
    """The floats that lie within two fractions beyond doubt."""
    return math.nextafter(float(low), math.inf), math.nextafter(float(high), -math.inf)


def _how(question: dict) -> str:
    signs = question.get("separators") or {"decimal": ".", "thousands": ","}
    return "\t".join([signs["decimal"], signs["thousands"], "refuse" if question.get("refusal") else "", *question["accept"]])


@lru_cache(256)
def way_to_read(how: str) -> tuple[tuple[str, ...], bool, str, str]:
    """The units accepted, whether refusing is, and the decimal and thousands signs: as `read_figure` takes them."""
    decimal, thousands, refusal, *accept = how.split("\t")
    return tuple(accept), refusal == "refuse", decimal, thousands


def _slips(key: dict) -> list[dict]:
    return [{name: slip[name] for name in SLIP if name in slip} for slip in key["missteps"]]


def _lettered(question: dict, key: dict) -> tuple[str, str, bytes]:
    right, slips = key["right"]["letter"], _slips(key)
    options = {one["letter"]: (one["text"], [slip for slip in slips if slip["letter"] == one["letter"]]) for one in question["options"]}
    return right, options[right][0], _pack(options)


def _figured(question: dict, key: dict) -> tuple[str, dict[str, tuple[float, float]], bytes]:
    known = {} if key["right"]["exact"] == REFUSE else windows(key, question["accept"])
    also = {unit: (float(low), float(high)) for unit, (low, high) in also_windows(key, question["accept"]).items()}
    slips = [slip if slip["exact"] == REFUSE else slip | {"value": float(Fraction(slip["exact"]))} for slip in key["missteps"]]
    kept = {"right": {name: key["right"][name] for name in RIGHT if name in key["right"]}, "missteps": slips}
    return _how(question), {unit: _inside(*edges) for unit, edges in known.items()}, _pack((question["tolerance"], also, kept))


def _box(box: dict, own: dict) -> ChoiceBox | FigureBox:
    made, parts = (FigureBox, _figured) if own["kind"] == "number" else (ChoiceBox, _lettered)
    return made(own["id"], box["label"], *parts(box, own))


def _ready(question: dict, key: dict) -> Question:
    kind = key["kind"]
    asked = (key["slot"], key["place"], key["skill"], key["section"], key["weight"], key["must_be_right"], kind, question["text"])
    if kind in LETTERED:
        return Choice(*asked, *_lettered(question, key))
    if kind == "number":
        return Figure(*asked, *_figured(question, key))
    if kind == "sheet":
        return Sheet(*asked, [_box(*one) for one in zip(question["boxes"], key["boxes"], strict=True)])
    row = key["right"][ROWS[kind]]
    return Row(*asked, sorted(row) if kind == "several choices" else row, tuple(one["letter"] for one in question["options"]),
               len(question["left"]), _pack(_slips(key)))


def _packed(record: dict, whole_sha256: str) -> bytes:
    paper, keys = record["paper"], {key["slot"]: key for key in record["keys"]}
    ready = [_ready(question, keys[question["slot"]]) for question in sorted(paper["questions"], key=lambda one: one["slot"])]
    return _pack(KeyRecord(
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
