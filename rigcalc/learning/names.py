"""The names chosen at the door: how they are cleaned, and the one file that each of them has."""

from __future__ import annotations

import hashlib
import os
import re
import unicodedata
from dataclasses import dataclass
from pathlib import Path

from rigcalc.errors import Refusal
from rigcalc.home import learner_folder, private_folder, sync_folder
from rigcalc.learning.log import append, lines_of, named_line

__all__ = ["LONGEST_NAME", "NAME_HEADER", "NAME_VARIABLE", "Learner", "clean_name", "find_learner", "known_learners",
           "forget", "learner_here", "name_key", "names_folder", "welcome"]

LONGEST_NAME = 60
# A page's kernel learns the name from its server under this variable; the page itself cannot set it.
NAME_HEADER = "X-Workbook-Name"
NAME_VARIABLE = "HTTP_X_WORKBOOK_NAME"
_KEY = re.compile(r"[a-z0-9-]{16,48}")


@dataclass(frozen=True)
class Learner:
    """A name and the file that keeps its answers."""

    key: str
    name: str
    path: Path


def clean_name(typed: str) -> str:
    """The name as it is shown: one line, single spaces, no signs that cannot be seen.

    Raises
    ------
    Refusal
        Nothing is left of it, or more than 60 characters.

    >>> clean_name("  Tomo \\t Kessig ")
    'Tomo Kessig'
    """
    plain = unicodedata.normalize("NFKC", str(typed)[:10_000])
    seen = "".join(sign if not unicodedata.category(sign).startswith("C") else " " if sign in "\t\r\n" else "" for sign in plain)
    name = " ".join(seen.split())
    if not 1 <= len(name) <= LONGEST_NAME:
        given = "an empty name" if not name else f"a name of {len(name)} characters"
        raise Refusal(given, f"1 to {LONGEST_NAME} characters", "type the name that you are called by")
    return name


def name_key(name: str) -> str:
    """What a name's file is called, without its ending: letters, figures and hyphens, the same for any case and spaces.

    >>> name_key("Tomo Kessig") == name_key(" tomo  KESSIG")
    True
    """
    same = unicodedata.normalize("NFKC", clean_name(name).casefold())
    readable = re.sub(r"[^a-z0-9]+", "-", same)[:24].strip("-")
    return f"{readable}-{hashlib.sha256(same.encode('utf-8')).hexdigest()[:16]}".lstrip("-")


def names_folder(home: Path | None = None) -> Path:
    """Where the files of all names lie."""
    return learner_folder(home) / "names"


def find_learner(key: str, home: Path | None = None) -> Learner | None:
    """The learner of a key, as a cookie brings it; None for anything that is not the key of a file that is there."""
    if not _KEY.fullmatch(key or ""):
        return None
    path = names_folder(home) / f"{key}.jsonl"
    try:
        name = next((line.name for line in lines_of(path) if line.name), "")
        return Learner(key, name, path) if name and name_key(name) == key else None
    except (OSError, Refusal):
        return None


def known_learners(home: Path | None = None) -> list[Learner]:
    """Every name known on this machine, in the order of the names."""
    found = (find_learner(path.stem, home) for path in names_folder(home).glob("*.jsonl"))
    return sorted((one for one in found if one), key=lambda one: (one.name.casefold(), one.key))


def welcome(typed: str, home: Path | None = None) -> Learner:
    """The learner of a typed name; a name not met before gets its file.

    Raises
    ------
    Refusal
        As `clean_name`.
    OSError
        The disk does not take the file.
    """
    name, key = clean_name(typed), name_key(typed)
    known = find_learner(key, home)
    if known is None:
        folder = private_folder(names_folder(home))
        append(folder / f"{key}.jsonl", named_line(name))
        known = find_learner(key, home)
    if known is None:
        raise OSError(f"the file {key}.jsonl cannot be read back")
    return known


def forget(key: str, home: Path | None = None) -> str:
    """Take a name away with all that is kept for it; the name.

    Raises
    ------
    Refusal
        No such name on this machine.
    OSError
        The disk does not let the file go.
    """
    known = find_learner(key, home)
    if known is None:
        raise Refusal("a name that is not on this machine", "one of the names in the list", "look at the list again")
    known.path.unlink()
    sync_folder(known.path.parent)
    return known.name


def learner_here() -> Learner | None:
    """The learner for whom this page's kernel was started; None where nobody chose a name."""
    return find_learner(os.environ.get(NAME_VARIABLE, ""))
