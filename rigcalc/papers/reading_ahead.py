"""Key records and their short forms hashed a few papers ahead, in a thread of their own: every byte is read, while answers are marked beside it."""

from __future__ import annotations

import os
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from typing import NamedTuple

from rigcalc.papers.records import sha256

__all__ = ["Hashed", "hashed", "hashed_ahead"]

CHUNK = 12  # papers hashed at a stretch; so many or fewer are not worth a thread
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


def _try_each(folder: str | os.PathLike, files: list[str]) -> list[Hashed | None]:
    found: list[Hashed | None] = []
    for file in files:
        try:
            found.append(hashed(folder, os.path.splitext(file)[0]))
        except (OSError, ValueError):
            found.append(None)
    return found


def hashed_ahead(folder: str | os.PathLike, files: list[str]) -> Iterator[tuple[str, Hashed | None]]:
    """Each returned file with the hashed key record of its name; None where there is none, or none was read ahead."""
    if len(files) <= CHUNK:
        yield from ((file, None) for file in files)
        return
    chunks = [files[at:at + CHUNK] for at in range(0, len(files), CHUNK)]
    with ThreadPoolExecutor(1, "hashing") as thread:
        coming = thread.submit(_try_each, folder, chunks[0])
        for chunk, after in zip(chunks, [*chunks[1:], []], strict=True):
            found, coming = coming.result(), thread.submit(_try_each, folder, after)
            yield from zip(chunk, found, strict=True)
