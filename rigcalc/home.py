"""Where a workbook keeps what people make: one folder, with a private room for the assessor."""

from __future__ import annotations

import os
from functools import lru_cache
from pathlib import Path

__all__ = ["workbook_home", "desk_folder", "room_folder", "learner_folder", "working_folder",
           "shop_file", "installed_folder", "private_folder", "sync_folder"]


def workbook_home() -> Path:
    """The folder that holds everything people make: RIGCALC_HOME, else `cable-workbook` in the home folder."""
    return Path(os.environ.get("RIGCALC_HOME") or Path.home() / "cable-workbook")


def desk_folder(home: Path | None = None) -> Path:
    """The assessor's private folder (made 0700 by the desk): secret, key records, register, signing keys."""
    return (home or workbook_home()) / "desk"


def room_folder(home: Path | None = None) -> Path:
    """What the room process may touch: papers without keys, saved answers, bench forms."""
    return (home or workbook_home()) / "room"


def learner_folder(home: Path | None = None) -> Path:
    """A learner's own progress."""
    return (home or workbook_home()) / "learner"


def working_folder(home: Path | None = None) -> Path:
    """The trainer's edited copies of lessons and quizzes."""
    return (home or workbook_home()) / "working"


def shop_file(home: Path | None = None) -> Path:
    """The shop file a trainer edits; where it is absent, the invented sample shop is in force."""
    return (home or workbook_home()) / "shop.toml"


@lru_cache(maxsize=1)
def installed_folder() -> Path:
    """The folder holding lessons/ and quizzes/: inside the wheel, else the checkout."""
    package = Path(__file__).resolve().parent
    inside = package / "_workbook"
    return inside if (inside / "lessons").is_dir() else package.parent


def sync_folder(folder: Path) -> None:
    """Have the folder's list of names on the disk (a new file's name is not there before that)."""
    if os.name == "nt":  # Windows offers no such call for folders
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def private_folder(folder: Path) -> Path:
    """Make the folder, open to its owner alone (0700), with its name on the disk."""
    made = not folder.is_dir()
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    folder.chmod(0o700)
    if made:
        sync_folder(folder.parent)
    return folder
