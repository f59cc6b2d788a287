"""The short form of a key record: what marking needs of it, made ready when the paper is set, filed beside it.

The key record stays the record. It holds the hash of its short form, and the short form begins with the hash of the whole
key record: both are checked over every byte, and where either does not fit, marking goes by the key record alone.
"""

from __future__ import annotations

import json
import math
import os
from pathlib import Path
from typing import Any

import msgspec

from rigcalc.papers.reading_ahead import Hashed
from rigcalc.papers.records import canonical, sha256, write_synced
from rigcalc.questions.marking import REFUSE, windows

__all__ = ["Ready", "Short", "keep_key_record", "short_of", "with_short"]

QUESTION = ("options", "unit", "tolerance", "left", "boxes")  # what marking needs beside the fields of Ready
KEY = ("right", "missteps", "boxes")
SLIP = ("letter", "id", "feedback")
_FIELD = b',"short_sha256":"'  # the last field of a key record, in the order of its exact bytes


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
    slips: list[dict[str, str]]
    accept: tuple[str, ...]  # units, where a figure is wanted
    refusal: bool
    signs: tuple[str, str]
    windows: dict[str, tuple[float, float]]  # unit to the figures that are right beyond doubt
    rest: bytes

    def whole(self) -> tuple[dict[str, Any], dict[str, Any]]:
        """The question and its key as the key record has them, without drawing and working."""
        question, key = _PAIR.decode(self.rest) if self.rest else self._lettered()
        question |= {"slot": self.slot, "kind": self.kind, "text": self.text, "accept": list(self.accept), "refusal": self.refusal,
                     "separators": {"decimal": self.signs[0], "thousands": self.signs[1]}}
        key |= {"slot": self.slot, "place": self.place, "skill": self.skill, "section": self.section, "weight": self.weight,
                "must_be_right": self.must_be_right, "kind": self.kind}
        return question, key

    def key(self) -> dict[str, Any]:
        """The key alone, as far as a figure is judged by it."""
        return _PAIR.decode(self.rest)[1]

    def _lettered(self) -> tuple[dict[str, Any], dict[str, Any]]:
        options = [{"letter": letter, "text": text} for letter, text in self.options.items()]
        return {"options": options}, {"right": {"letter": self.letter}, "missteps": self.slips}


_PAIR = msgspec.json.Decoder(tuple[dict[str, Any], dict[str, Any]])


class Short(msgspec.Struct, array_like=True):
    """A key record for marking."""

    paper_id: str
    paper_sha256: str
    candidate: dict[str, Any]
    class_: str
    blueprint: dict[str, Any]
    cut: dict[str, Any]
    partial_credit: str
    practice: bool
    invented: bool
    questions: list[Ready]


_SHORT = msgspec.msgpack.Decoder(Short)


def _inside(low: Any, high: Any) -> tuple[float, float]:
    """The floats that lie within two fractions beyond doubt."""
    return math.nextafter(float(low), math.inf), math.nextafter(float(high), -math.inf)


def _ready(question: dict, key: dict) -> Ready:
    kind, signs, right = key["kind"], question.get("separators") or {"decimal": ".", "thousands": ","}, key["right"]
    figure, lettered = kind == "number" and right["exact"] != REFUSE, kind in ("one choice", "place")
    known = {unit: _inside(*edges) for unit, edges in windows(key, question["accept"]).items()} if figure else {}
    rest = [{name: question[name] for name in QUESTION if name in question}, {name: key[name] for name in KEY if name in key}]
    options = {one["letter"]: one["text"] for one in question["options"]} if lettered else {}
    slips = [{name: slip[name] for name in SLIP} for slip in key["missteps"]] if lettered else []
    return Ready(key["slot"], key["place"], key["skill"], key["section"], key["weight"], key["must_be_right"], kind, question["text"],
                 right["letter"] if lettered else "", options, slips, tuple(question["accept"]), bool(question.get("refusal")),
                 (signs["decimal"], signs["thousands"]), known, b"" if lettered else msgspec.json.encode(rest))


def _packed(record: dict) -> bytes:
    paper, keys = record["paper"], {key["slot"]: key for key in record["keys"]}
    ready = [_ready(question, keys[question["slot"]]) for question in sorted(paper["questions"], key=lambda one: one["slot"])]
    return msgspec.msgpack.encode(Short(record["paper_id"], record["paper_sha256"], record["candidate"], record["class"], record["blueprint"],
                                        record["cut"], record["partial_credit"], paper["practice"], paper["invented"], ready))


def with_short(record: dict) -> dict:
    """A new key record with the hash of its short form."""
    return record | {"short_sha256": sha256(_packed(json.loads(canonical(record))))}


def keep_key_record(folder: Path, record: dict) -> bytes:
    """File a key record, and beside it its short form where it names one; the key record's bytes."""
    data, name = canonical(record), record["paper_id"]
    if "short_sha256" in record:
        write_synced(folder / f"{name}.short", sha256(data).encode("ascii") + _packed(json.loads(data)))
    write_synced(folder / f"{name}.json", data)
    return data


def short_of(folder: str | os.PathLike, whole: Hashed) -> Short | None:
    """The short form of a key record; None where there is none that belongs to it."""
    if whole.end[-67 - len(_FIELD):-67] != _FIELD:
        return None
    try:
        with open(os.path.join(folder, f"{whole.name}.short"), "rb", buffering=0) as file:
            found = file.read()
        packed = memoryview(found)[64:]
        if found[:64] != whole.digest.encode("ascii") or sha256(packed) != whole.end[-67:-3].decode("ascii"):
            return None
        short = _SHORT.decode(packed)
    except (OSError, ValueError):
        return None
    return short if short.paper_id == whole.name else None
