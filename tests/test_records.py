"""Records are frozen dataclasses in everything but the hour of their building."""

import ast
import copy
import dataclasses
import inspect
import pickle
import subprocess
import sys
import threading
from concurrent.futures import ThreadPoolExecutor

from pathlib import Path

import pytest

import rigcalc
from rigcalc._records import record

PACKAGE = Path(rigcalc.__file__).parent


@record
class Point:
    x_mm: float
    y_mm: float = 2.0
    names: tuple = dataclasses.field(default=(), repr=False)

    def __post_init__(self):
        if self.x_mm < 0:
            raise ValueError("below zero")


@record(kw_only=True)
class Spot(Point):
    mark: str


def test_a_record_is_a_frozen_dataclass():
    point = Point(1.0)
    assert (point, hash(point), repr(point)) == (Point(1.0, 2.0), hash(Point(1.0)), "Point(x_mm=1.0, y_mm=2.0)")
    assert dataclasses.replace(point, y_mm=3.0) == Point(1.0, 3.0) != point
    assert dataclasses.asdict(point) == {"x_mm": 1.0, "y_mm": 2.0, "names": ()}
    for change in (lambda: setattr(point, "x_mm", 2.0), lambda: delattr(point, "x_mm"), lambda: setattr(point, "z_mm", 2.0)):
        with pytest.raises(dataclasses.FrozenInstanceError):
            change()
    with pytest.raises(ValueError, match="below zero"):
        Point(-1.0)
    with pytest.raises(TypeError, match="x_mm"):
        Point()


def test_options_and_inheritance_hold():
    spot = Spot(1.0, mark="a")
    assert (spot.x_mm, spot.y_mm, spot.mark) == (1.0, 2.0, "a")
    with pytest.raises(TypeError):
        Spot(1.0, 2.0, (), "a")


def test_a_field_made_anew_for_each_record_is_no_value_of_the_class():
    @record
    class Lot:
        pieces: list = dataclasses.field(default_factory=list)

    one, other = Lot(), Lot()
    one.pieces.append("A")
    assert (one.pieces, other.pieces, hasattr(Lot, "pieces")) == (["A"], [], False)


@pytest.mark.parametrize("use", [
    "print([f.name for f in dataclasses.fields(Fitting)][:2])", "print(dataclasses.is_dataclass(Fitting) and ['kind', 'name'])",
    "print([f.name for f in dataclasses.fields(Fitting('shackle', 'a', 1.0))][:2])",
])
def test_the_first_use_may_be_of_the_class_alone(use):
    done = subprocess.run([sys.executable, "-c", f"import dataclasses; from rigcalc.fittings import Fitting; {use}"],
                          capture_output=True, text=True, timeout=60)
    assert (done.stdout.strip(), done.stderr) == ("['kind', 'name']", "")


def test_help_and_signature_show_the_fields_of_a_class_that_nobody_has_used_yet():
    assert str(inspect.signature(Spot)) == "(x_mm: float, y_mm: float = 2.0, names: tuple = (), *, mark: str)"
    looks = ("print(inspect.signature(Inspection))", "help(Inspection)", "Inspection.__doc__; inspect.signature(Inspection); Inspection(moved_mark=1, wrong=2)")
    shown = [subprocess.run([sys.executable, "-c", f"import inspect; from rigcalc.removal import Inspection; {use}"],
                            capture_output=True, text=True, timeout=60) for use in looks]
    for done in shown[:2]:
        assert "moved_mark: 'bool | None' = None" in done.stdout and "*values" not in done.stdout, done.stdout[:300]
    assert "unexpected keyword argument 'wrong'" in shown[2].stderr


def test_the_docstring_of_an_inspection_names_each_of_its_fields():
    from rigcalc.removal import Inspection

    assert [field.name for field in dataclasses.fields(Inspection) if f"`{field.name}`" not in Inspection.__doc__] == []


def test_a_record_comes_whole_out_of_a_pickle_in_a_fresh_interpreter():
    from rigcalc.fittings import Fitting

    made = Fitting("shackle", "bow", 1000.0)
    assert pickle.loads(pickle.dumps(made)) == copy.deepcopy(made) == made
    done = subprocess.run([sys.executable, "-c", f"import pickle; a = pickle.loads({pickle.dumps(made)!r}); print(a)"],
                          capture_output=True, text=True, timeout=60)
    assert (done.stdout.strip(), done.stderr) == (repr(made), "")


def test_many_threads_may_make_the_first_record_at_once():
    for _ in range(20):
        @record
        class Fresh:
            number: int
            word: str = "a"

        start = threading.Barrier(8)
        with ThreadPoolExecutor(8) as threads:
            made = list(threads.map(lambda number: (start.wait(), Fresh(number))[1], range(8)))
        assert [(each.number, each.word) for each in made] == [(number, "a") for number in range(8)]


def test_importing_builds_no_record():
    """What the records are for: a module full of them imports with none of them built."""
    done = subprocess.run([sys.executable, "-c", "import rigcalc.fittings as f; print(type(f.Fitting.__dict__['__dataclass_fields__']).__name__)"],
                          capture_output=True, text=True, timeout=60)
    assert done.stdout.strip() == "_Later"


@pytest.mark.parametrize("path", [*sorted(PACKAGE.glob("*.py")), *sorted((PACKAGE / "reference").glob("*.py"))], ids=lambda path: path.stem)
def test_no_module_brings_in_dataclasses_when_it_is_imported(path):
    """Importing the package costs less than importing numpy (tests/benchmarks/measure_import.py) only while this holds."""
    for node in ast.parse(path.read_text(encoding="utf-8")).body:
        names = [node.module] if isinstance(node, ast.ImportFrom) else [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
        assert "dataclasses" not in names, f"{path.name} line {node.lineno}: use rigcalc._records.record"
