"""Gives the reference notebook one cell for each question family, in chapters by lesson, and stores it.

    python -m rigcalc.notebook.cover

A chapter holds the families that point to a lesson, in the order of their skills. A cell that is there stays; a family
that is gone loses its cell.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

from rigcalc.home import installed_folder
from rigcalc.notebook.store import store
from rigcalc.opening.shelf import lessons
from rigcalc.questions import load_families
from rigcalc.questions.family import Family
from rigcalc.skills import heading, skill

__all__ = ["cell", "chapter", "cover", "main", "ordered"]

START, CHAPTER = "family-", "chapter-"


def ordered(families: dict[str, Family]) -> dict[str, list[str]]:
    """The families of each lesson, lesson by lesson, in the order of their skills, levels and names."""
    row = sorted(families, key=lambda name: (families[name].section[:2], skill(families[name].skill).number,
                                             families[name].level, name))
    found: dict[str, list[str]] = {}
    for name in row:
        found.setdefault(families[name].section[:2], []).append(name)
    return found


def chapter(lesson: str, families: list[Family]) -> dict[str, Any]:
    """The heading of a lesson's families, and which of its sections they point to."""
    titles = {one.number: one.title for one in lessons()}
    sections = dict.fromkeys(heading(one.section) for one in families)
    title = f"## Lesson {lesson}" + (f": {titles[lesson]}" if lesson in titles else "")
    said = f"{len(families)} {'families' if len(families) > 1 else 'family'}, on: {'; '.join(sections)}."
    return {"cell_type": "markdown", "id": f"{CHAPTER}{lesson}", "metadata": {}, "source": [f"{title}\n", "\n", said]}


def cell(family_id: str) -> dict[str, Any]:
    """The cell that works one family."""
    title = family_id.replace("-", " ").capitalize()
    return {"cell_type": "code", "execution_count": None, "id": f"{START}{family_id}"[:64],
            "metadata": {"jupyter": {"source_hidden": True}, "tags": ["hide"]}, "outputs": [],
            "source": [f"# {title}\n", f'worked("{family_id}")']}


def _ours(one: dict[str, Any]) -> bool:
    return one["id"].startswith((START, CHAPTER))


def cover(path: Path) -> bool:
    """Put chapters and cells of the installed families where such cells stand; True where one came, went or moved."""
    notebook, families = json.loads(path.read_text(encoding="utf-8")), load_families()
    cells = notebook["cells"]
    kept = {one["id"]: one for one in cells if one["id"].startswith(START)}
    wanted = []
    for lesson, names in ordered(families).items():
        wanted += [chapter(lesson, [families[name] for name in names]), *map(cell, names)]
    first = next((at for at, one in enumerate(cells) if _ours(one)), len(cells))
    rest = [one for one in cells[first:] if not _ours(one)]
    notebook["cells"] = cells[:first] + [kept.get(one["id"], one) for one in wanted] + rest
    changed = notebook["cells"] != cells
    if changed:
        path.write_text(json.dumps(notebook, indent=1, ensure_ascii=False) + "\n", encoding="utf-8")
    return changed


def main() -> int:
    """Cover the installed families and store the outputs."""
    path = installed_folder() / "quizzes" / "reference_worked_examples.ipynb"
    came = cover(path)
    print(f"{path.name}: {'cells changed, ' if came else ''}{'outputs stored anew' if store(path) else 'unchanged'}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
