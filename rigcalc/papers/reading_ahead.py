"""Key records hashed a few papers ahead, in a thread of their own: every byte is read, while answers are marked beside it."""

from __future__ import annotations

import os
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from typing import NamedTuple

from rigcalc.papers.records import sha256

__all__ = ["Hashed", "hashed", "hashed_ahead"]

CHUNK = 12  # papers hashed at a stretch; so many or fewer are not worth a thread
END = 100  # bytes at a key record's end, where the hash of its short form stands


class Hashed(NamedTuple):
    """A key record's paper, the hash of all its bytes, and its last bytes."""

    name: str
    digest: str
    end: bytes


def hashed(folder: str | os.PathLike, name: str) -> Hashed:
    """A key record read and hashed now; OSError where it cannot be read."""
    with open(os.path.join(folder, f"{name}.json"), "rb", buffering=0) as file:
        data = file.read()
    return Hashed(name, sha256(data), data[-END:])


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
