"""A key record and its short form, read and hashed whole."""

from __future__ import annotations

import os
from typing import NamedTuple

from rigcalc.papers.records import sha256

__all__ = ["Hashed", "hashed"]

_FIELD = b',"short_sha256":"'  # the last field of a key record, in the order of its exact bytes


class Hashed(NamedTuple):
    """A key record's paper and the hash of all its bytes; its short form, the hash of that, and the one that the record names."""

    name: str
    digest: str
    short: bytes
    short_digest: str
    named: str


def hashed(folder: str | os.PathLike, name: str) -> Hashed:
    """A key record read and hashed now; OSError where it cannot be read."""
    with open(os.path.join(folder, f"{name}.json"), "rb", buffering=0) as file:
        data = file.read()
    if data[-67 - len(_FIELD):-67] != _FIELD:
        return Hashed(name, sha256(data), b"", "", "")
    try:
        with open(os.path.join(folder, f"{name}.short"), "rb", buffering=0) as file:
            short = file.read()
    except OSError:
        short = b""
    return Hashed(name, sha256(data), short, sha256(memoryview(short)[64:]), data[-67:-3].decode("latin-1"))
