"""How papers, keys and answers are written down: one exact form of bytes, on the disk before anything is said."""

from __future__ import annotations

import hashlib
import json
import os
import re
from datetime import datetime, timezone
from pathlib import Path

from rigcalc.errors import Refusal
from rigcalc.home import private_folder, sync_folder

__all__ = ["canonical", "sha256", "stamp", "when", "write_synced", "sync_folder", "private_folder", "checked_id", "UNREAD"]

UNREAD = "could not be read"  # what a result says an answer was read as, where it could not be

_ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9 ._-]{0,79}")


def canonical(value: object) -> bytes:
    """The one exact form of a record's bytes: sorted fields, no spaces, UTF-8, a line end.

    >>> canonical({"b": 1, "a": "é"})
    b'{"a":"\\xc3\\xa9","b":1}\\n'
    """
    text = json.dumps(value, sort_keys=True, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
    return text.encode("utf-8") + b"\n"


def sha256(data: bytes) -> str:
    """The SHA-256 of some bytes, as 64 hexadecimal digits."""
    return hashlib.sha256(data).hexdigest()


def stamp(now: datetime | str | None = None) -> str:
    """A moment as text, to the second, with its offset from universal time; None is this moment."""
    if isinstance(now, str):
        return now
    moment = datetime.now(timezone.utc) if now is None else now
    return moment.isoformat(timespec="seconds")


def when(at: str) -> str:
    """A kept moment as people write it, by this computer's clock; one that cannot be read stands as it is.

    >>> when("no moment")
    'no moment'
    """
    try:
        return datetime.fromisoformat(at).astimezone().strftime("%H:%M on %Y-%m-%d")
    except ValueError:
        return at


def checked_id(text: str, what: str) -> str:
    """An id that can stand in a label and in a file's name, or a refusal.

    >>> checked_id("autumn-2", "the class")
    'autumn-2'
    """
    if not isinstance(text, str) or not _ID.fullmatch(text) or text.endswith((" ", ".")):
        raise Refusal(f"{what} id {text!r}", "1 to 80 letters, digits, spaces, dots, hyphens and underlines, "
                      "beginning with a letter or digit", "change that id")
    return text


def write_synced(path: Path, data: bytes, mode: int = 0o600) -> None:
    """Write a whole file so that after any crash it is either the old one or the new one."""
    beside = path.with_name(f".{path.name}.{os.getpid()}.part")
    handle = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, mode)
    try:
        with os.fdopen(handle, "wb") as out:
            out.write(data)
            out.flush()
            os.fsync(out.fileno())
        os.replace(beside, path)
    except BaseException:
        beside.unlink(missing_ok=True)
        raise
    sync_folder(path.parent)
