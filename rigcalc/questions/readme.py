"""Writes the table of calculations into quizzes/families/README.md: `python -m rigcalc.questions.readme`."""

from __future__ import annotations

import inspect
from pathlib import Path

from rigcalc.questions.family import families_folder
from rigcalc.questions.naming import said_of
from rigcalc.questions.registry import CALCULATIONS

__all__ = ["calculations_table", "write"]

HEAD = "| Name | Takes | Gives |\n|---|---|---|\n"


def _row(name: str) -> str:
    function = CALCULATIONS[name]
    taken = ", ".join(f"`{one}`" for one in inspect.signature(function).parameters) or "nothing"
    return f"| `{name}` | {taken} | {said_of(name)} |"


def calculations_table() -> str:
    """One row a calculation, by name: what it takes and the first sentence of what it says of itself."""
    return HEAD + "\n".join(_row(name) for name in sorted(CALCULATIONS)) + "\n"


def write(path: Path | None = None) -> Path:
    """Put the table at the end of the page, in place of the one that stands there."""
    path = path or families_folder() / "README.md"
    kept = path.read_text(encoding="utf-8").partition(HEAD)[0]
    path.write_text(kept + calculations_table(), encoding="utf-8")
    return path


if __name__ == "__main__":
    print(f"Written: {write()}")
