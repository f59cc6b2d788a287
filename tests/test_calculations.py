"""What holds for every calculation module: documented with examples that run, and standing on the standard library."""

import ast
import doctest
import importlib
import inspect
import re
import subprocess
import sys
from fractions import Fraction
from pathlib import Path

import pytest

import rigcalc
from rigcalc.reference import table, table_names
from rigcalc.reference.schema import SCHEMAS

PACKAGE = Path(rigcalc.__file__).parent
TOP = sorted(path.stem for path in PACKAGE.glob("*.py") if not path.stem.startswith("__"))
# What is no calculation: the words of errors and cautions, folders, commands, the skill map, orders and their sheets.
OTHERS = ("errors", "cautions", "home", "cli", "skills", "assembly")
CALCULATIONS = tuple(name for name in TOP if name not in OTHERS and not name.startswith(("_order", "_job", "__")))
UNIT_WORDS = {"_mm": r"\bmm\b", "_n": r"\bN\b", "_kg": r"\bkg\b", "_c": r"Celsius", "_rad": r"\brad", "_mm2": r"\bmm2\b",
              "_m_s2": r"m/s2", "_n_mm2": r"N/mm2", "_nm": r"N m", "_months": r"\bmonths\b"}


@pytest.mark.parametrize("name", [*TOP, "reference.loader", "reference.bibliography", "reference.schema"])
def test_examples_in_docstrings_run(name):
    outcome = doctest.testmod(importlib.import_module(f"rigcalc.{name}"))
    assert outcome.failed == 0


def public_functions(name: str) -> list:
    module = importlib.import_module(f"rigcalc.{name}")
    return [thing for thing in (getattr(module, word) for word in module.__all__) if inspect.isfunction(thing)]


WITH_FUNCTIONS = [name for name in CALCULATIONS if public_functions(name)]


def left_out(text: str, names) -> list[str]:
    """What a calculation's docstring lacks: example, source, a unit for every name that ends in one, whom it refuses."""
    lacks = [] if ">>>" in text else ["an example"]
    lacks += [] if re.search(r"\bSource: \S", text) else ["a source"]
    return lacks + [f"a unit for {name}" for name in names for ending, word in UNIT_WORDS.items()
                    if name.endswith(ending) and not re.search(word, text)]


def names_of(function) -> tuple[str, ...]:
    """Its parameters and itself: what it returns has its unit in the function's own name."""
    return (*inspect.signature(function).parameters, function.__name__)


@pytest.mark.parametrize("module", WITH_FUNCTIONS)
def test_every_calculation_is_documented_with_units_and_an_example(module):
    lacking = {one.__name__: left_out(inspect.getdoc(one) or "", names_of(one)) for one in public_functions(module)}
    assert {name: lacks for name, lacks in lacking.items() if lacks} == {}


@pytest.mark.parametrize("module", WITH_FUNCTIONS)
def test_the_check_fails_when_source_unit_or_example_is_taken_away(module):
    for function in public_functions(module):
        text, names = inspect.getdoc(function), names_of(function)
        assert left_out(re.sub(r">>>", "", text), names) == ["an example"], function
        assert left_out(re.sub(r"\bSource:", "", text), names) == ["a source"], function
        for name in names:
            for ending, word in UNIT_WORDS.items():
                if name.endswith(ending):
                    assert f"a unit for {name}" in left_out(re.sub(word, "", text), names), function


@pytest.mark.parametrize("module", WITH_FUNCTIONS)
def test_every_example_says_what_comes_out_and_another_answer_fails(module):
    """The example shows a result, and the run of it fails as soon as the result shown is another."""
    for function in public_functions(module):
        space = dict(vars(inspect.getmodule(function)))
        examples = doctest.DocTestParser().get_examples(inspect.getdoc(function))
        answers = [place for place, example in enumerate(examples) if example.want]
        assert answers or inspect.signature(function).return_annotation == "None", f"{function}: the example shows no result"
        assert _failures(examples, space) == 0, function
        place = answers[0] if answers else 0
        examples[place] = doctest.Example(examples[place].source, "another answer\n")
        assert _failures(examples, space) >= 1, function


def _failures(examples, space) -> int:
    test = doctest.DocTest(examples, dict(space), "example", None, 0, None)
    return doctest.DocTestRunner(verbose=False).run(test, out=lambda words: None).failed


@pytest.mark.parametrize("module", [name for name in WITH_FUNCTIONS if not name.startswith("_")])
def test_every_public_calculation_that_is_given_something_says_what_it_refuses(module):
    assert [one.__name__ for one in public_functions(module) if inspect.signature(one).parameters
            and not re.search(r"\b[Ee]rrors?\b", inspect.getdoc(one))] == [], "says nothing of errors"


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


# --- numbers typed in the code ---------------------------------------------------------------------

# A figure from the world stands in constants.csv, with its source. What else a module may name, and why.
NO_FIGURE_OF_THE_WORLD = {
    "_crimps.LEAST_MEASURED": "a house rule's count: three sleeves before a mean counts",
    "_job_cuts.TRIAL_PIECES": "a count of pieces, where the shop file states none",
    "_job_layout.BARE_BAND_MM": "a choice within the band that stands in constants.csv",
    "_job_layout.TRIAL_MM": "how much cable is drawn for a trial: a choice of this workbook",
    "_job_layout.TRIAL_LAP_MM": "how much cable is drawn for a trial lap: a choice of this workbook",
    "_job_lot.(LEAST_PULLED, MOST_PULLED)": "bounds of what is typed on an order",
    "_job_papers.MOST_LINES": "lines on a page",
    "_job_papers.BATCH": "lines on a page",
    "_order.LONGEST_FACT": "signs in a fact",
    "_order.LONGEST_PULLS": "signs in a fact",
    "_order.MOST_KINDS": "kinds of pieces on one order",
    "_order._ALWAYS": "lengths of text that is shown",
    "_order_read.MOST_PIECES": "bound of what is typed on an order", "_order_read.LONGEST_TAKE_UP_MM": "range of a form",
    "_order_read.(LONGEST_MM, SHORTEST_MM)": "bounds of what is typed on an order",
    "_order_read.PIN_MM": "bounds of what is typed on an order",
    "_quantities.PER_BASE": "prefixes of the metric system; the rest of it comes from constants.csv",
    "_quantities._DIGITS": "digits that a sum is carried to",
    "_quantities.(LARGEST, SMALLEST)": "bounds of any number that is given, so that sums do not run out of numbers",
    "_quantities.STEP_SLACK": "dust of floating point",
    "_rating_blocks._MOST_FITTINGS": "bound of what is given at once",
    "_typed.LONGEST_TYPED": "signs", "_typed.LONGEST_NUMBER": "digits",
    "_typed.FINEST_SIZE": "how sizes are written", "_typed.NOMINAL_METRIC": "names of sizes",
    "agreement.LEAST_PIECES": "a threshold for a word of caution", "agreement.FEW_PIECES": "a threshold for a word of caution",
    "agreement.HIGH_SHARE": "a threshold for a word of caution",
    "cutlist.TENTHS": "tenths in a millimetre", "cutlist.MOST_PIECES": "bound of what is given at once",
    "fittings._SAME": "dust of floating point", "fittings._IN_LINE": "dust of floating point",
    "gauge.LEAST_READINGS": "a spread needs three readings: a bound of the sum",
    "legs._COUNTED": "how many legs a rule counts on, by the number of legs",
    "pulltest.LEAST_PIECES": "a spread needs three pieces: a bound of the sum", "pulltest.MOST_PIECES": "bound of what is given at once",
    "pulltest.HIGHEST_RELIABILITY": "beyond it the sum asks for more pieces than anybody pulls",
    "rating_arrays.UNITS": "newtons in a newton", "rating_arrays.DUST": "dust of floating point", "rating_arrays.TIE": "dust of floating point",
}
NOT_WORKED_OUT = ("cli", "home", "errors", "cautions", "skills")


def numbers_at_the_top(source: str) -> set[str]:
    """The names at the top of a module that are given a number in the text, not through `constant(...)` or a table."""
    found = set()
    for node in ast.parse(source).body:
        if isinstance(node, (ast.Assign, ast.AnnAssign)) and node.value is not None:
            name = ast.unparse(node.targets[0] if isinstance(node, ast.Assign) else node.target)
            if _numbers(node.value):
                found.add(name)
    return found


def _numbers(tree: ast.AST) -> list[float]:
    """Numbers in the text; also those that hide in Fraction("25.4")."""
    spelt = [one.args[0] for one in ast.walk(tree) if isinstance(one, ast.Call) and ast.unparse(one.func) in ("Fraction", "Decimal", "float")
             and one.args and isinstance(one.args[0], ast.Constant) and re.fullmatch(r"-?[0-9./e-]+", str(one.args[0].value))]
    return [float(one.value) for one in ast.walk(tree) if isinstance(one, ast.Constant) and type(one.value) in (int, float)] + [
        float(Fraction(one.value)) for one in spelt if isinstance(one.value, str)]


@pytest.mark.parametrize("name", [name for name in TOP if name not in NOT_WORKED_OUT])
def test_a_number_at_the_top_of_a_module_is_no_figure_of_the_world(name):
    found = numbers_at_the_top((PACKAGE / f"{name}.py").read_text(encoding="utf-8"))
    allowed = {entry.partition(".")[2] for entry in NO_FIGURE_OF_THE_WORLD if entry.partition(".")[0] == name}
    assert found - allowed == set(), "put the figure, with its source, into constants.csv"
    assert allowed - found == set(), "take these off the list: they stand here no more"


def test_a_figure_put_at_the_top_of_a_module_is_found():
    for line in ("DENSITY = 7850", "SHARE: float = 0.9", 'INCH_MM = Fraction("25.4")', "SIZES = {'1/8': 3.175}", "TAIL = (2, 'd')", "COLD = -30"):
        source = (PACKAGE / "units.py").read_text(encoding="utf-8")
        assert numbers_at_the_top(source + "\n" + line + "\n") - numbers_at_the_top(source) == {re.split("[ :]", line)[0]}
    assert numbers_at_the_top("EFFICIENCY: Fraction = constant('eye efficiency').value\n") == set()


# A figure of three digits or more that stands in a table is not typed again in the code, where it would be altered in one place only.
NOT_THE_FIGURE = {"_section._mean_length": {360.0}, "_order_read._load": {995.0}}


def figures_of_the_tables() -> set[float]:
    """Every figure of the tables with three digits that count, or more: such a number is seldom the same by chance."""
    values = [getattr(row, column) for name in table_names() for column, kind in SCHEMAS[name].columns.items()
              if kind.rstrip("?") in ("number", "whole", "exact") for row in table(name)]
    return {float(value) for value in values if value is not None and len(f"{abs(float(value)):.14e}".partition("e")[0].replace(".", "").rstrip("0")) >= 3}


def typed_again(source: str, module: str, figures: set[float]) -> list[str]:
    found = []
    for node in ast.parse(source).body:
        where = f"{module}.{getattr(node, 'name', '')}"
        found += [f"{where}: {number:g}" for number in _numbers(node)
                  if number in figures and number not in NOT_THE_FIGURE.get(where, ())]
    return found


@pytest.mark.parametrize("name", [name for name in TOP if name not in NOT_WORKED_OUT])
def test_no_figure_of_a_table_is_typed_again_in_the_code(name):
    assert typed_again((PACKAGE / f"{name}.py").read_text(encoding="utf-8"), name, figures_of_the_tables()) == []


def test_a_figure_typed_again_is_found():
    figures = figures_of_the_tables()
    assert {25.4, 304.8, 4.4482216152605, 9.80665, 14400.0, 0.388} <= figures
    for number in ("25.4", "9.80665", "0.388", "14400"):
        assert typed_again(f"def pull(x_mm):\n    return x_mm * {number}\n", "_made_up", figures) == [f"_made_up.pull: {float(number):g}"]
