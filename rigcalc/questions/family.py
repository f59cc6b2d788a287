"""The form of a question family, as a trainer writes it in TOML, and how a file is read and refused.

A family names calculations from one registry and takes its values from tables, the shop and lists. No expressions
stand in the file and nothing is imported by name. A refused file names the file, the line and the field.
"""

from __future__ import annotations

import hashlib
import os
from fnmatch import fnmatch
from functools import lru_cache
from pathlib import Path
from typing import Any

import msgspec

from rigcalc.home import installed_folder, working_folder
from rigcalc.questions.toml_slips import FileFault, Steps, dotted, line_of, read_toml

__all__ = ["Family", "FamilyError", "Box", "Call", "Statement", "Misstep", "Answer", "families_folder",
           "families_and_faults", "installed_family", "load_families", "own_families_folder", "read_family", "read_folder", "read_own",
           "refuse_taken_id", "part_of", "pointed_sections", "Drawn", "Words"]

Words = dict[str, str]
KINDS = ("one choice", "several choices", "number", "order", "match", "place", "sheet")
BOX_KINDS = ("number", "one choice")


class FamilyError(FileFault):
    """A family file says something that cannot be used; the sentence names file, line and field."""


class _Strict(msgspec.Struct, forbid_unknown_fields=True, kw_only=True, frozen=True):
    pass


class Drawn(_Strict, kw_only=True):
    """How one value is drawn: exactly one of the ways, or a calculation on values drawn above it."""

    member_of: str | None = None
    where: dict[str, Any] = {}
    one_of: list[Any] | None = None
    range: list[float] | None = None
    step: float | None = None
    some_of: str | None = None
    count: int | None = None
    distinct: str | None = None
    shuffle: list[Any] | str | None = None
    calculation: str | None = None
    with_: dict[str, Any] = msgspec.field(name="with", default_factory=dict)


class Call(_Strict, kw_only=True):
    calculation: str
    with_: dict[str, Any] = msgspec.field(name="with", default_factory=dict)


class Round(_Strict, kw_only=True):
    """Steps by unit, and the way a figure is rounded to them."""

    direction: str = "nearest"
    step: dict[str, float]


class Statement(_Strict, kw_only=True):
    """One sentence offered as an option. `fits` names the topics for which it may be offered."""

    en: str
    fits: list[str] = []
    id: str | None = None
    feedback: Words | None = None
    section: str | None = None


class Answer(_Strict, kw_only=True):
    calculation: str | None = None
    with_: dict[str, Any] = msgspec.field(name="with", default_factory=dict)
    value: Any = None
    option: Words | None = None
    names: dict[str, str] = {}
    options: int | None = None
    right_options: list[int] | None = None
    items: Any = None
    right: Any = None
    true_if: dict[str, Any] = {}
    left: Any = None
    right_side: Any = None
    topic: str | None = None
    sort: Any = None
    unit: str | None = None
    unit_si: str | None = None
    accept: list[str] = []
    tolerance: dict[str, float] = {}
    round: Round | None = None
    refusal: bool = False
    letters: Any = None
    feedback: Words | None = None


class Misstep(_Strict, kw_only=True):
    """A recognised way of going wrong: the same question worked differently."""

    id: str
    feedback: Words
    calculation: str | None = None
    with_: dict[str, Any] = msgspec.field(name="with", default_factory=dict)
    value: Any = None
    option: Words | None = None
    sort: Any = None
    round: Round | None = None
    where_it_shows: bool = False
    yields: bool = False
    always: bool = False
    each_line: bool = False
    section: str | None = None


class Figure(_Strict, kw_only=True):
    name: str
    with_: dict[str, Any] = msgspec.field(name="with", default_factory=dict)


class Box(_Strict, kw_only=True):
    """One box of a job sheet to complete: a question of its own, marked alone. `section` is where its missteps point."""

    id: str
    label: Words | str
    kind: str
    answer: Answer
    misstep: list[Misstep] = []
    section: str | None = None


class Family(_Strict, kw_only=True):
    """One question with changing values. See quizzes/families/README.md for each field."""

    form: int
    id: str
    version: int
    kind: str
    skill: str
    level: int
    section: str
    minutes: float
    draw: dict[str, Drawn] = {}
    ask: Words
    answer: Answer = Answer()
    misstep: list[Misstep] = []
    box: list[Box] = []
    right: list[Statement] = []
    wrong: list[Statement] = []
    pools: dict[str, list[dict[str, Any]]] = {}
    chart: Words | None = None
    figure: Figure | None = None
    instruction: Words | None = None
    hint: Words
    working: Words
    few_texts: str | None = None
    sha256: str = ""
    file: str = ""
    folder: str = ""


def pointed_sections(family: Family, box: Box | None = None) -> dict[str, str]:
    """The section that each misstep points to by its id, where it names one of its own; the family's holds for the others.

    Of a box: its missteps'. Of a whole family: missteps, statements, and rows of pools that tell a misstep.
    """
    if box is not None:
        return {one.id: section for one in box.misstep if (section := one.section or box.section)}
    rows = [row for pool in family.pools.values() for row in pool if "id" in row and "section" in row]
    return ({str(row["id"]): str(row["section"]) for row in rows}
            | {one.id: one.section for one in [*family.misstep, *family.right, *family.wrong] if one.id and one.section})


def part_of(family: Family, box: Box) -> Family:
    """A box of a job sheet as a family of its own, with the sheet's drawn values."""
    return msgspec.structs.replace(family, kind=box.kind, answer=box.answer, misstep=box.misstep, box=[], right=[],
                                   wrong=[], figure=None, chart=None)


def families_folder() -> Path:
    """Where the installed families stand."""
    return installed_folder() / "quizzes" / "families"


def own_families_folder(home: Path | None = None) -> Path:
    """Where a workplace keeps families of its own, beside its blueprints (made by the trainer, or not there)."""
    return working_folder(home) / "quizzes" / "families"


def refuse(name: str, text: str, steps: Steps, given: str, accepted: str, do: str) -> FamilyError:
    """The refusal of one field of one family file, with its line."""
    return FamilyError(name, line_of(text, steps), dotted(steps), given, accepted, do)


def read_family(path: Path) -> Family:
    """One family from its file, checked; raises FamilyError naming file, line and field."""
    from rigcalc.questions.check import check_family

    try:
        raw = path.read_bytes()
    except OSError as wrong:
        raise FamilyError(path.name, None, "", f"a file that cannot be read ({wrong.strerror})", "a TOML text file in UTF-8",
                          "look at the file") from None
    text, family = read_toml(path.name, raw, Family, FamilyError)
    family = msgspec.structs.replace(family, sha256=hashlib.sha256(raw).hexdigest(), file=path.name, folder=str(path.parent))
    check_family(family, text)
    return family


@lru_cache(maxsize=1024)
def _kept(path: Path, changed: int, size: int) -> Family:
    """A family as long as its file stays as it is."""
    return read_family(path)


def load_families(folder: str | Path | None = None, home: Path | None = None) -> dict[str, Family]:
    """Every family by its id, in order of id: those of a folder, else those in force.

    In force are the installed ones and, from `working/quizzes/families` of the workbook's folder, the workplace's own:
    one with the file name and id of an installed family stands in its place, any other is added.
    """
    found, faults = read_folder(Path(folder)) if folder else families_and_faults(home)
    if faults:
        raise faults[0]
    return found


def families_and_faults(home: Path | None = None) -> tuple[dict[str, Family], list[FamilyError]]:
    """The families in force that can be used, and what is wrong with each own one that cannot.

    An installed family in whose place a broken own one stands is left out: the workplace has put it out of force.
    """
    installed, own = load_families(families_folder()), own_families_folder(home)
    mine, faults = read_own(own, installed) if own.is_dir() else ({}, [])
    broken = {fault.file for fault in faults}
    kept = {name: family for name, family in installed.items() if family.file not in broken}
    return dict(sorted((kept | mine).items())), faults


def installed_family(name: str) -> Family | None:
    """The installed family of an id, read alone; None where no file is named by it."""
    path = families_folder() / f"{name}.toml"
    try:
        now = path.stat()
    except OSError:
        return None
    family = _kept(path, now.st_mtime_ns, now.st_size)
    return family if family.id == name else None


def _files(folder: str) -> list[tuple[Path, int, int]]:
    """Each family file of a folder by name, when it was changed and how large it is; asked in every load, so without a Path for each."""
    try:
        with os.scandir(folder) as found:
            entries = sorted((one for one in found if fnmatch(one.name, "*.toml")), key=lambda one: one.name)
    except OSError:
        return []
    return [(_path(folder, one.name), (now := os.stat(one.path)).st_mtime_ns, now.st_size) for one in entries]


@lru_cache(maxsize=1024)
def _path(folder: str, name: str) -> Path:
    return Path(folder, name)


def read_folder(folder: Path) -> tuple[dict[str, Family], list[FamilyError]]:
    """The families of a folder by id, in order of id, and what is wrong with each file that cannot be used."""
    found: dict[str, Family] = {}
    faults: list[FamilyError] = []
    for path, changed, size in _files(str(folder)):
        try:
            family = _kept(path, changed, size)
            if family.id in found:
                raise FamilyError(path.name, _id_line(path), "id", f"'{family.id}', which {found[family.id].file} has too",
                                  "an id of its own", "rename one of the two")
        except FamilyError as fault:
            faults.append(fault)
        else:
            found[family.id] = family
    return dict(sorted(found.items())), faults


def read_own(folder: Path, installed: dict[str, Family]) -> tuple[dict[str, Family], list[FamilyError]]:
    """A folder's families as `read_folder` has them, and with what is wrong those whose id an installed family has."""
    found, faults = read_folder(folder)
    for name, family in list(found.items()):
        try:
            refuse_taken_id(family, installed, folder)
        except FamilyError as fault:
            faults.append(fault)
            del found[name]
    return found, faults


def _id_line(path: Path) -> int | None:
    return line_of(path.read_text(encoding="utf-8"), ["id"])


def refuse_taken_id(family: Family, installed: dict[str, Family], folder: Path) -> None:
    """Refuse a family of a workplace's folder that has an installed family's id by mistake: in a file of another name."""
    other = installed.get(family.id)
    if other is not None and other.file != family.file:
        raise FamilyError(family.file, _id_line(folder / family.file), "id", f"'{family.id}', which the installed {other.file} has too",
                          f"an id of its own, or the file name {other.file} to stand in its place", "rename it, or its file")
    replaced = next((one for one in installed.values() if one.file == family.file), None)
    if replaced is not None and replaced.id != family.id:
        raise FamilyError(family.file, _id_line(folder / family.file), "id", f"'{family.id}' in a file named as the installed one of "
                          f"'{replaced.id}'", "that id, or a file name of its own", "rename it, or its file")
