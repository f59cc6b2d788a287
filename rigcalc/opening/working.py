"""Working copies: what a trainer edited stays the trainer's; what nobody touched follows the installed lessons."""

from __future__ import annotations

import hashlib
import json
import os
from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path

from rigcalc.home import working_folder
from rigcalc.opening.quick_import import jsonschema_without_grammars
from rigcalc.opening.shelf import Sheet, assessors_sheets, sheets

__all__ = ["Settled", "content_digest", "copy_of", "edited_copy", "make_copy", "settle_copies"]

RECORD = "copies.json"


@dataclass(frozen=True)
class Settled:
    """What an upgrade did to the working copies: names replaced, and new ones laid beside an edited copy."""

    replaced: tuple[str, ...] = ()
    beside: tuple[str, ...] = ()

    def sentences(self) -> tuple[str, ...]:
        """One plain sentence for each copy that changed."""
        done = [f"{key} was not edited, so it now follows the installed lesson." for key in self.replaced]
        laid = [f"{name} is the newly installed version; your edited copy beside it was left alone." for name in self.beside]
        return tuple(done + laid)


def content_digest(path: Path) -> str:
    """A digest of what a person writes in a notebook: the cells' kinds, text and tags, without outputs or counts."""
    cells = json.loads(path.read_text(encoding="utf-8")).get("cells", [])
    written = [[cell["cell_type"], "".join(cell["source"]), cell.get("metadata", {}).get("tags", [])] for cell in cells]
    return hashlib.sha256(json.dumps(written).encode()).hexdigest()


def copy_of(sheet: Sheet, folder: Path | None = None) -> Path:
    """Where the working copy of a notebook lies, whether or not it exists."""
    return (folder or working_folder()) / sheet.room / f"{sheet.name}.ipynb"


def edited_copy(sheet: Sheet, folder: Path | None = None) -> Path | None:
    """The working copy that learners' pages show: one that exists and was edited; else None.

    A copy that cannot be read is not shown, so a half-written file never stands before a class.
    """
    copy = copy_of(sheet, folder)
    try:
        digest = content_digest(copy)
    except (OSError, ValueError, KeyError):
        return None
    made_from = _record(folder).get(sheet.key, {}).get("digest")
    return copy if digest not in (made_from, content_digest(sheet.path)) else None


def make_copy(sheet: Sheet, folder: Path | None = None) -> Path:
    """The working copy of a notebook, made and signed when there is none; an existing one is never overwritten."""
    copy = copy_of(sheet, folder)
    if not copy.exists():
        copy.parent.mkdir(parents=True, exist_ok=True)
        _place(sheet, copy)
        _note(sheet, folder)
    return copy


def settle_copies(folder: Path | None = None, installed: Path | None = None) -> Settled:
    """After an upgrade: copies nobody touched are replaced; beside an edited one the new version is laid.

    Parameters
    ----------
    folder : Path, optional
        The working folder; the one in the workbook's home when left out.
    installed : Path, optional
        The folder holding the installed lessons/ and quizzes/.
    """
    replaced, beside = [], []
    record = _record(folder)
    for sheet in sheets("lessons", installed) + sheets("quizzes", installed) + assessors_sheets(installed):
        copy, made_from = copy_of(sheet, folder), record.get(sheet.key, {}).get("digest")
        if not copy.exists() or made_from is None or content_digest(sheet.path) == made_from:
            continue
        if _same(copy, made_from):
            _place(sheet, copy)
            replaced.append(sheet.key)
        else:
            new = copy.with_name(f"{sheet.name}_as_installed_{version('rigcalc')}.ipynb")
            _place(sheet, new)
            beside.append(new.name)
        _note(sheet, folder)
    return Settled(tuple(replaced), tuple(beside))


def _same(copy: Path, digest: str) -> bool:
    try:
        return content_digest(copy) == digest
    except (OSError, ValueError, KeyError):
        return False


def _place(sheet: Sheet, copy: Path) -> None:
    """Write a signed copy in one step, so that a killed machine leaves the old file or the new one."""
    unfinished = copy.with_name(copy.name + ".unfinished")
    unfinished.write_bytes(sheet.path.read_bytes())
    os.replace(unfinished, copy)
    _sign(copy)


def _sign(copy: Path) -> None:
    """Sign the copy for the editor, which else shows figures and forms as plain text."""
    jsonschema_without_grammars()
    import nbformat
    from nbformat.sign import NotebookNotary

    settings = copy.parent.parent / ".settings" / "data"
    settings.mkdir(parents=True, exist_ok=True)
    notary = NotebookNotary(data_dir=str(settings))
    try:
        notary.sign(nbformat.read(copy, as_version=4))
    finally:
        notary.store.close()


def _record(folder: Path | None) -> dict:
    try:
        return json.loads(((folder or working_folder()) / RECORD).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}


def _note(sheet: Sheet, folder: Path | None) -> None:
    """Keep which installed text a copy stands on; the file is small and written in one step."""
    path = (folder or working_folder()) / RECORD
    kept = _record(folder) | {sheet.key: {"digest": content_digest(sheet.path), "version": version("rigcalc")}}
    unfinished = path.with_suffix(".unfinished")
    unfinished.write_text(json.dumps(kept, indent=1) + "\n", encoding="utf-8")
    os.replace(unfinished, path)
