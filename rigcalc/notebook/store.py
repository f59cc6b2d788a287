"""Run a notebook from top to bottom and keep its outputs, so that a second run changes no byte.

    python -m rigcalc.notebook.store lessons/05_forming_an_eye.ipynb
    python -m rigcalc.notebook.store            every notebook in lessons/ and quizzes/

It runs with an empty home, as a new user has it: the invented sample shop and the fixed first instances.
"""

from __future__ import annotations

import json
import os
import re
import sys
import tempfile
from pathlib import Path

from rigcalc.home import installed_folder

__all__ = ["main", "renumber", "run_notebook", "store"]

SECONDS = 120
MODEL_ID = re.compile(r"(?<![0-9a-f])[0-9a-f]{32}(?![0-9a-f])")
NOISE = ("collapsed", "execution", "scrolled", "trusted")


def run_notebook(path: Path):
    """The notebook as a fresh kernel with an empty home leaves it (an nbformat notebook)."""
    import nbformat
    from nbclient import NotebookClient

    notebook = nbformat.read(path, as_version=4)
    with tempfile.TemporaryDirectory() as home:
        kept = os.environ.get("RIGCALC_HOME")
        os.environ["RIGCALC_HOME"] = home
        try:
            NotebookClient(notebook, timeout=SECONDS, kernel_name="python3", record_timing=False,
                           shutdown_kernel="immediate", store_widget_state=True,
                           resources={"metadata": {"path": str(path.parent)}}).execute()
        finally:
            os.environ.pop("RIGCALC_HOME") if kept is None else os.environ.update(RIGCALC_HOME=kept)
    return notebook


def renumber(text: str) -> str:
    """Widget ids, which are random, become 1, 2, 3 ... in the order in which the cells show them.

    >>> renumber('["ffffffffffffffffffffffffffffffff"]')
    '["00000000000000000000000000000001"]'
    """
    known: dict[str, str] = {}
    return MODEL_ID.sub(lambda found: known.setdefault(found[0], f"{len(known) + 1:032x}"), text)


def _ordered_state(data: dict) -> dict:
    """The widget state with its models in the order in which they are first met, so that it never jumps about."""
    state = data.get("metadata", {}).get("widgets", {}).get("application/vnd.jupyter.widget-state+json", {}).get("state", {})
    met: dict[str, dict] = {}

    def walk(text: str) -> None:
        for name in MODEL_ID.findall(text):
            if name in state and name not in met:
                met[name] = state[name]
                walk(json.dumps(state[name], sort_keys=True))

    walk(json.dumps(data["cells"], ensure_ascii=False))
    if state:
        data["metadata"]["widgets"]["application/vnd.jupyter.widget-state+json"]["state"] = met
    return data


def store(path: Path) -> bool:
    """Run the notebook at `path` and write its outputs into it; True where a byte changed."""
    import nbformat

    notebook = run_notebook(path)
    for cell in notebook.cells:
        for word in NOISE:
            cell.metadata.pop(word, None)
    notebook.metadata["language_info"] = {"name": "python"}
    data = _ordered_state(json.loads(nbformat.writes(notebook)))
    text = renumber(json.dumps(data, indent=1, ensure_ascii=False)) + "\n"
    changed = text != path.read_text(encoding="utf-8")
    if changed:
        path.write_text(text, encoding="utf-8")
    return changed


def main(argv: list[str] | None = None) -> int:
    """Store the outputs of the notebooks named, or of all."""
    words = sys.argv[1:] if argv is None else argv
    folder = installed_folder()
    paths = [Path(word) for word in words] or sorted([*folder.glob("lessons/*.ipynb"), *folder.glob("quizzes/*.ipynb")])
    for path in paths:
        if path.suffix != ".ipynb" or not path.is_file():
            print(f"'{path}' was given; accepted: a notebook (.ipynb) that is there; look at its name.", file=sys.stderr)
            return 2
        print(f"{path.name}: {'outputs stored anew' if store(path) else 'unchanged'}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
