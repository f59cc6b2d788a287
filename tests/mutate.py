"""Does a test notice when a number goes wrong? Every shipped number is altered by 2 %, one at a time.

    python tests/mutate.py            alter each number, run the tests, print the survivors
    python tests/mutate.py --list     only list the numbers
    python tests/mutate.py cable      only numbers of files whose path holds "cable"

The list is read from the tree: every number in a CSV under rigcalc/ (a whole one also by one whole step), and every numeric constant at the top of a module
rigcalc/*.py. It works on copies in a temporary folder. Survivors give a non-zero exit.
"""

from __future__ import annotations

import ast
import csv
import io
import os
import re
import shutil
import subprocess
import sys
import tempfile
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from queue import Queue

ROOT = Path(__file__).resolve().parent.parent
AT_ONCE = 2
WHOLE = re.compile(r"-?[0-9]+")
LABELS = ("key", "title", "edition", "source", "locator", "how_known")  # columns whose figures are names, not numbers
NUMBER = re.compile(r"-?[0-9]+(\.[0-9]+)?(/[0-9]+)?")
NOT_HERE = {"test_project.py", "test_wheel.py", "test_mutate.py", "test_calculations.py"}  # slow, or about other things
SLOW = {"test_order_sentences.py", "test_refusals.py", "test_skills.py", "test_orders.py", "test_order_answers.py"}


@dataclass(frozen=True)
class Alteration:
    """One number of one file, the altered text of the file, and how to name it."""

    path: str
    where: str
    old: str
    new: str
    text: str

    def __str__(self) -> str:
        return f"{self.path} {self.where}: {self.old} -> {self.new}"


def altered(number: str) -> str:
    """The number two per cent larger; a size by two steps of its own denominator, because it must stay a size."""
    if "/" in number:
        over, under = number.split("/")
        return f"{int(over) + 2}/{under}"
    value = Fraction(number) * Fraction(102, 100)
    return f"{float(value):.12g}" if value else "0.02"


def stepped(number: str) -> str:
    """A whole number further from zero by two per cent, by one at least: 3.06 crimps would be too easily noticed."""
    value = int(number)
    step = max(1, round(abs(value) * 0.02))
    return str(value + step if value >= 0 else value - step)


def in_table(path: Path, root: Path) -> list[Alteration]:
    """Every number of a CSV, outside the columns that only name things."""
    text = path.read_text(encoding="utf-8")
    rows = list(csv.reader(io.StringIO(text)))
    found = []
    for line, row in enumerate(rows[1:], start=1):
        for place, cell in enumerate(row):
            if rows[0][place] in LABELS or not NUMBER.fullmatch(cell.strip()):
                continue
            for new in _values(cell.strip()):
                found.append(Alteration(path.relative_to(root).as_posix(), f"line {line + 1} {rows[0][place]}", cell, new,
                                        _with_cell(rows, line, place, new)))
    return found


def _values(number: str) -> tuple[str, ...]:
    if not WHOLE.fullmatch(number) or stepped(number) == altered(number):
        return (altered(number),)
    return (altered(number), stepped(number))


def _with_cell(rows: list[list[str]], line: int, place: int, new: str) -> str:
    out = io.StringIO()
    changed = [list(row) for row in rows]
    changed[line][place] = new
    csv.writer(out, lineterminator="\n").writerows(changed)
    return out.getvalue()


def in_module(path: Path, root: Path) -> list[Alteration]:
    """Every numeric constant assigned at the top of a module, also inside tuples, dictionaries and Fraction("...")."""
    text = path.read_text(encoding="utf-8")
    found = []
    for node in ast.parse(text).body:
        if not isinstance(node, (ast.Assign, ast.AnnAssign)) or node.value is None:
            continue
        name = ast.unparse(node.targets[0] if isinstance(node, ast.Assign) else node.target)
        for literal in _literals(node.value):
            old = ast.get_source_segment(text, literal)
            new = f'"{altered_text(literal.value)}"' if isinstance(literal.value, str) else altered_text(repr(literal.value))
            found.append(Alteration(path.relative_to(root).as_posix(), f"line {literal.lineno} {name}", old, new,
                                    _replaced(text, literal, new)))
    return found


def altered_text(number: str) -> str:
    """A number of a module, altered: whole ones stay whole."""
    if WHOLE.fullmatch(number):
        return stepped(number)
    if NUMBER.fullmatch(number):
        return altered(number)
    return f"{float(number) * 1.02:.12g}"


def _literals(value: ast.expr):
    """Numbers that are the constant itself; numbers given to other calls are settings of those calls."""
    if isinstance(value, ast.Constant):
        if isinstance(value.value, (int, float)) and not isinstance(value.value, bool):
            yield value
    elif isinstance(value, ast.Call):
        if ast.unparse(value.func) in ("Fraction", "Decimal"):
            for argument in value.args:
                if isinstance(argument, ast.Constant) and isinstance(argument.value, str):
                    yield argument
                else:
                    yield from _literals(argument)
    elif isinstance(value, (ast.Tuple, ast.List, ast.Set, ast.Dict, ast.UnaryOp, ast.BinOp)):
        for child in ast.iter_child_nodes(value):
            if isinstance(child, ast.expr):
                yield from _literals(child)


def _replaced(text: str, literal: ast.Constant, new: str) -> str:
    lines = text.splitlines(keepends=True)
    line = lines[literal.lineno - 1].encode()
    lines[literal.lineno - 1] = (line[:literal.col_offset] + new.encode() + line[literal.end_col_offset:]).decode()
    return "".join(lines)


def alterations(root: Path = ROOT) -> list[Alteration]:
    """Every alteration to try, read from the tree."""
    package = root / "rigcalc"
    tables = sorted(path for path in package.rglob("*.csv") if "_workbook" not in path.parts)
    modules = sorted(package.glob("*.py"))
    return ([found for path in tables for found in in_table(path, root)]
            + [found for path in modules for found in in_module(path, root)])


# --- running ------------------------------------------------------------------------------------

def _copy(root: Path, to: Path) -> Path:
    for name in ("rigcalc", "tests", "quizzes", "lessons"):
        if (root / name).is_dir():
            shutil.copytree(root / name, to / name, ignore=shutil.ignore_patterns("__pycache__", ".hypothesis"))
    for name in ("pyproject.toml", "README.md"):
        if (root / name).is_file():
            shutil.copy(root / name, to / name)
    return to


def _stages(copy: Path, about: str = "") -> tuple[list[str], ...]:
    """The validation transcripts first: they notice nearly all. Then the tests of the modules, those that name the altered
    file first and the slow ones last, then of the shop's sheets."""
    files = sorted(path for path in (copy / "tests").glob("test_*.py") if path.name not in NOT_HERE)
    stem = Path(about).stem.strip("_")
    files.sort(key=lambda path: (path.name in SLOW, not stem or stem not in path.read_text(encoding="utf-8")))
    modules = [f"tests/{path.name}" for path in files]
    rooms = ["tests/shop"] if (copy / "tests" / "shop").is_dir() else []
    return tuple(stage for stage in (["tests/validation"], modules, rooms) if stage)


def passes(copy: Path, stage: list[str]) -> bool:
    """Do these tests pass in that copy? The copy's own package is imported, never the installed one."""
    done = subprocess.run([sys.executable, "-B", "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider", "-p", "no:nbval",
                           "-p", "no:xdist", *stage], cwd=copy, capture_output=True, text=True, timeout=600,
                          env={**os.environ, "PYTHONPATH": str(copy), "HYPOTHESIS_STORAGE_DIRECTORY": str(copy / ".hypothesis")})
    if done.returncode not in (0, 1, 2, 4):
        raise SystemExit(f"The tests could not be run: {done.stdout[-2000:]}{done.stderr[-2000:]}")
    return done.returncode == 0


def survives(copy: Path, change: Alteration) -> bool:
    """Is this alteration noticed by no test at all?"""
    path = copy / change.path
    kept = path.read_text(encoding="utf-8")
    path.write_text(change.text, encoding="utf-8")
    try:
        return all(passes(copy, stage) for stage in _stages(copy, change.path))
    finally:
        path.write_text(kept, encoding="utf-8")


def usable(copy: Path) -> bool:
    """Unaltered, everything that will judge must pass, and it must be this copy that is tested."""
    seen = subprocess.run([sys.executable, "-c", "import rigcalc; print(rigcalc.__file__)"], cwd=copy, capture_output=True,
                          text=True, env={**os.environ, "PYTHONPATH": str(copy)}, timeout=60).stdout.strip()
    if Path(seen).resolve().parent.parent != copy.resolve():
        print(f"The copy is not what would be tested: {seen}.")
        return False
    failing = [" ".join(stage) for stage in _stages(copy) if not passes(copy, stage)]
    for stage in failing:
        print(f"These fail before anything is altered, so they can judge nothing: {stage}.")
    return not failing


def main(arguments: list[str]) -> int:
    only = [word for word in arguments if not word.startswith("-")]
    changes = [change for change in alterations() if not only or any(word in change.path for word in only)]
    if "--list" in arguments:
        print("\n".join(map(str, changes)))
        print(f"{len(changes)} numbers.")
        return 0
    with tempfile.TemporaryDirectory(prefix="altered-") as folder:
        copies: Queue[Path] = Queue()
        for place in range(AT_ONCE):
            copies.put(_copy(ROOT, Path(folder) / str(place)))
        if not usable(copies.queue[0]):
            return 2
        return _report(changes, copies)


def _report(changes: list[Alteration], copies: Queue[Path]) -> int:
    def one(change: Alteration) -> tuple[Alteration, bool]:
        copy = copies.get()
        try:
            return change, survives(copy, change)
        finally:
            copies.put(copy)

    survivors = []
    with ThreadPoolExecutor(AT_ONCE) as workers:
        for number, (change, alive) in enumerate(workers.map(one, changes), start=1):
            if number % 50 == 0:
                print(f"{number} of {len(changes)} tried, {len(survivors)} survived", file=sys.stderr, flush=True)
            if alive:
                survivors.append(change)
                print(f"survived: {change}", flush=True)
    print(f"{len(changes)} numbers altered by 2 %, one at a time: {len(changes) - len(survivors)} noticed, "
          f"{len(survivors)} survived.")
    return 1 if survivors else 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
