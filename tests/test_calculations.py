"""What holds for every calculation module: documented with examples that run, and standing on the standard library."""

import ast
import doctest
import importlib
import inspect
import re
import subprocess
import sys
from pathlib import Path

import pytest

import rigcalc

PACKAGE = Path(rigcalc.__file__).parent
TOP = sorted(path.stem for path in PACKAGE.glob("*.py") if not path.stem.startswith("__"))
# What is no calculation: the words of errors and cautions, folders, commands, the skill map, orders and their sheets.
OTHERS = ("errors", "cautions", "home", "cli", "skills", "units", "assembly")
CALCULATIONS = tuple(name for name in TOP if name not in OTHERS and not name.startswith(("_order", "_job", "__")))
UNIT_WORDS = {"_mm": r"\bmm\b", "_n": r"\bN\b", "_kg": r"\bkg\b", "_c": r"Celsius", "_rad": r"\brad", "_mm2": r"\bmm2\b",
              "_m_s2": r"m/s2", "_n_mm2": r"N/mm2", "_nm": r"N m", "_months": r"\bmonths\b"}


@pytest.mark.parametrize("name", [*TOP, "reference.loader", "reference.bibliography", "reference.schema"])
def test_examples_in_docstrings_run(name):
    outcome = doctest.testmod(importlib.import_module(f"rigcalc.{name}"))
    assert outcome.failed == 0


def public_functions():
    for name in CALCULATIONS:
        module = importlib.import_module(f"rigcalc.{name}")
        for word in module.__all__:
            thing = getattr(module, word)
            if inspect.isfunction(thing):
                yield pytest.param(thing, id=f"{name}.{word}")


@pytest.mark.parametrize("function", list(public_functions()))
def test_every_calculation_is_documented_with_units_and_an_example(function):
    text = inspect.getdoc(function)
    assert text
    assert ">>>" in text, f"{function.__name__}: no example"
    assert re.search(r"\bSource: \S", text), f"{function.__name__}: no source"
    for parameter in inspect.signature(function).parameters:
        for ending, word in UNIT_WORDS.items():
            if parameter.endswith(ending):
                assert re.search(word, text), f"{function.__name__}: no unit for {parameter}"


@pytest.mark.parametrize("name", [name for name in TOP if name != "cli"])
def test_calculations_import_the_standard_library_and_each_other_only(name):
    for module in _imported(PACKAGE / f"{name}.py"):
        first, _, rest = module.partition(".")
        if first == "rigcalc":
            assert not rest or rest.split(".")[0] in (*TOP, "reference"), f"{name} imports {module}"
        else:
            assert first in sys.stdlib_module_names, f"{name} imports {module}"


def _imported(path: Path):
    """What the module imports when it is imported: function bodies and imports for type checkers do not count."""
    waiting = list(ast.parse(path.read_text(encoding="utf-8")).body)
    while waiting:
        node = waiting.pop()
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield node.module or "rigcalc"
        elif isinstance(node, ast.If) and ast.unparse(node.test).endswith("TYPE_CHECKING"):
            waiting.extend(node.orelse)
        elif not isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)):
            waiting.extend(child for child in ast.iter_child_nodes(node) if isinstance(child, ast.stmt))


def test_the_calculations_load_without_any_other_package():
    """In a fresh interpreter that sees no installed package, the calculations still work."""
    code = ("import sys; sys.path.insert(0, sys.argv[1]); from rigcalc.units import read_size; import rigcalc.rating, "
            "rigcalc.layout, rigcalc.pairing; print(read_size('1/8').name)")
    done = subprocess.run([sys.executable, "-I", "-S", "-c", code, str(PACKAGE.parent)], capture_output=True, text=True, timeout=60)
    assert (done.stdout.strip(), done.stderr) == ("1/8", "")


@pytest.mark.parametrize("name", TOP)
def test_modules_stay_short_enough_to_be_read(name):
    assert len((PACKAGE / f"{name}.py").read_text(encoding="utf-8").splitlines()) <= 400
