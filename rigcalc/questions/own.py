"""A workplace's own question families: where they stand, what they do to the installed ones, and how that is said."""

from __future__ import annotations

from pathlib import Path

from rigcalc.questions.family import Family, FamilyError, families_folder, installed_family, load_families, own_families_folder

__all__ = ["families_for_teaching", "family_for_teaching", "family_file", "own_families", "own_families_in_words", "where_to_correct"]


def own_families(home: Path | None = None) -> dict[str, Family]:
    """The families of the workplace's own folder by id; none where there is no folder."""
    folder = own_families_folder(home)
    return load_families(folder) if folder.is_dir() else {}


def own_families_in_words(home: Path | None = None) -> str:
    """One sentence for a page: which own families are in force; empty where there are none."""
    own = own_families(home)
    if not own:
        return ""
    instead = [name for name, family in own.items() if (families_folder() / family.file).exists()]
    added = [name for name in own if name not in instead]
    parts = [f"in place of the installed {', '.join(instead)}"] if instead else []
    parts += [f"added: {', '.join(added)}"] if added else []
    same = [name for name in instead if (came := installed_family(name)) and own[name].version == came.version
            and _text(own_families_folder(home), own[name]) != _text(families_folder(), came)]
    raised = f" Raise the version of {', '.join(same)}: it says something else than the installed one of the same version." if same else ""
    return f"Own families in force: {len(own)} ({'; '.join(parts)}), from {own_families_folder(home)}.{raised}"


def _text(folder: Path, family: Family) -> str:
    return (folder / family.file).read_text(encoding="utf-8")


def families_for_teaching() -> tuple[dict[str, Family], str]:
    """The families that lessons and practice ask, and a sentence on them; where an own one cannot be used the installed ones stand in."""
    try:
        own = own_families()
        return load_families(), f"Questions of this workplace are asked too: {len(own)} of their kinds." if own else ""
    except FamilyError:
        return load_families(families_folder()), ("The questions that came with the workbook stand here, as one of this workplace's own cannot be used "
                                                  "just now. Whoever teaches sees why on the page Teach.")


def family_for_teaching(name: str) -> Family:
    """The family of an id, as `families_for_teaching` has it; where the workplace has none of its own, that one file is read."""
    alone = None if own_families_folder().is_dir() else installed_family(name)
    return alone or families_for_teaching()[0][name]


def family_file(family: Family, home: Path | None = None) -> Path:
    """The file that a family in force was read from."""
    own = own_families_folder(home) / family.file
    return own if own.exists() else families_folder() / family.file


def where_to_correct(family: Family, home: Path | None = None) -> str:
    """Which file to correct, in a sentence: an own one as it stands, an installed one as a copy."""
    path, own = family_file(family, home), own_families_folder(home)
    if path.parent == own:
        return f"Its file is {path}: correct it there, and raise its version."
    return (f"Its file came with the workbook: copy {path} to {own / family.file}, correct the copy, and raise its version. "
            "A file of the same name stands in place of the installed one.")
