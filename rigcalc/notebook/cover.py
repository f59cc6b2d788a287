"""Gives the reference notebook one cell for each question family, in the order of their names, and stores it.

    python -m rigcalc.notebook.cover

A cell that is there stays; a family that is gone loses its cell.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

from rigcalc.home import installed_folder
from rigcalc.notebook.store import store
from rigcalc.questions import load_families

__all__ = ["cell", "cover", "main"]

START = "family-"


def cell(family_id: str) -> dict[str, Any]:
    """The cell that works one family."""
    title = family_id.replace("-", " ").capitalize()
    return {"cell_type": "code", "execution_count": None, "id": f"{START}{family_id}"[:64],
            "metadata": {"jupyter": {"source_hidden": True}, "tags": ["hide"]}, "outputs": [],
            "source": [f"# {title}\n", f'worked("{family_id}")']}


def cover(path: Path) -> bool:
    """Put the cells of the installed families where such cells stand; True where one came or went."""
    notebook = json.loads(path.read_text(encoding="utf-8"))
    cells = notebook["cells"]
    kept = {one["id"]: one for one in cells if one["id"].startswith(START)}
    wanted = [cell(name) for name in load_families()]
    first = next((at for at, one in enumerate(cells) if one["id"] in kept), len(cells))
    rest = [one for one in cells[first:] if one["id"] not in kept]
    notebook["cells"] = cells[:first] + [kept.get(one["id"], one) for one in wanted] + rest
    changed = [one["id"] for one in notebook["cells"]] != [one["id"] for one in cells]
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
