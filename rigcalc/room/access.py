"""Who may open what in the room: one token for each candidate's paper or assessor's form, filed only as its hash."""

from __future__ import annotations

import hashlib
import json
import os
import re
import secrets
from pathlib import Path

from rigcalc.papers.records import canonical, private_folder, write_synced

__all__ = ["grant", "lookup", "revoke", "KINDS"]

KINDS = ("sit", "bench")
# Letters and digits that are not taken for one another on a printed slip; 20 of them hold 99 random bits.
_LETTERS = "23456789abcdefghjkmnpqrstuvwxyz"
_TOKEN = re.compile(rf"[{_LETTERS}]{{4}}(-[{_LETTERS}]{{4}}){{4}}")
_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,79}")


def grant(room_dir, kind: str, id: str) -> str:
    """Make a token that opens one paper or form: five groups of four random letters and digits, to be typed from a slip.

    It is told once and kept only as SHA-256.
    """
    if kind not in KINDS or not _NAME.fullmatch(id):
        raise ValueError(f"kind {kind!r}, id {id!r}: accepted are {KINDS} and a plain file name")
    token = "-".join("".join(secrets.choice(_LETTERS) for _ in range(4)) for _ in range(5))
    folder = private_folder(private_folder(Path(room_dir)) / "access")
    write_synced(folder / f"{_hash(token)}.json", canonical({"kind": kind, "id": id}))
    return token


def lookup(room_dir, token: str) -> dict | None:
    """What a token opens, as {"kind", "id"}; None for any other text."""
    if not isinstance(token, str) or not _TOKEN.fullmatch(token := token.lower()):
        return None
    path = os.path.join(room_dir, "access", f"{_hash(token)}.json")
    try:
        now = os.stat(path)
        known = _KNOWN.get(path)
        if known is None or known[0] != (now.st_mtime_ns, now.st_size, now.st_ino):
            known = ((now.st_mtime_ns, now.st_size, now.st_ino), _entry(path))
            if len(_KNOWN) >= 4096:
                _KNOWN.clear()
            _KNOWN[path] = known
    except (OSError, ValueError):
        return None
    return known[1] and dict(known[1])


_KNOWN: dict[str, tuple[tuple[int, int, int], dict | None]] = {}  # files read before; each is looked at again at every request


def _entry(path: str) -> dict | None:
    with open(path, "rb") as file:
        entry = json.load(file)
    good = (isinstance(entry, dict) and entry.get("kind") in KINDS
            and isinstance(entry.get("id"), str) and _NAME.fullmatch(entry["id"]))
    return entry if good else None


def revoke(room_dir, kind: str, id: str) -> int:
    """Close every address that opens this paper or form; how many there were."""
    closed = 0
    for path in sorted((Path(room_dir) / "access").glob("*.json")):
        try:
            entry = json.loads(path.read_bytes())
        except (OSError, ValueError):
            continue
        if entry == {"kind": kind, "id": id}:
            path.unlink(missing_ok=True)
            closed += 1
    return closed


def _hash(token: str) -> str:
    return hashlib.sha256(token.encode("ascii")).hexdigest()
