"""Draws: repeatable from secret and label alone, even, and never Python's own `random`."""

from __future__ import annotations

import ast
import hashlib
import hmac
from collections import Counter
from pathlib import Path

import pytest

import rigcalc.papers
import rigcalc.questions
from rigcalc.questions import Stream

SECRET = bytes(range(32))


def test_the_same_secret_and_label_draw_the_same():
    one, two = Stream(SECRET, "paper 1"), Stream(SECRET, "paper 1")
    assert [one.below(1000) for _ in range(50)] == [two.below(1000) for _ in range(50)]


@pytest.mark.parametrize("other", [Stream(SECRET, "paper 2"), Stream(SECRET[::-1], "paper 1"),
                                   Stream(SECRET, "paper 1").sub("x")])
def test_another_secret_label_or_part_draws_otherwise(other):
    one = Stream(SECRET, "paper 1")
    assert [one.below(10**9) for _ in range(4)] != [other.below(10**9) for _ in range(4)]


def test_the_key_is_hkdf_by_its_published_definition():
    # RFC 5869 2.2 and 2.3: PRK = HMAC(salt, IKM); OKM = HMAC(PRK, info | 0x01). Worked here a second time, by hmac.new.
    prk = hmac.new(b"rigcalc draws, form 1", SECRET, hashlib.sha256).digest()
    key = hmac.new(prk, b"label\x01", hashlib.sha256).digest()
    block = hmac.new(key, (0).to_bytes(8, "big"), hashlib.sha256).digest()
    assert Stream(SECRET, "label").below(256) == block[0]


def test_a_part_does_not_depend_on_what_was_drawn_before():
    fresh, used = Stream(SECRET, "a"), Stream(SECRET, "a")
    [used.below(7) for _ in range(100)]
    assert fresh.sub("b").below(10**12) == used.sub("b").below(10**12)


@pytest.mark.parametrize("sides", [2, 3, 6, 7, 10])
def test_every_number_is_as_likely_as_the_next(sides):
    stream, thrown = Stream(SECRET, f"die {sides}"), 6000
    counts = Counter(stream.below(sides) for _ in range(thrown))
    expected = thrown / sides
    squares = sum((counts[face] - expected) ** 2 / expected for face in range(sides))
    assert set(counts) == set(range(sides))
    assert squares < 27.9  # chi-squared with 9 degrees of freedom passes 27.9 once in 1,000 (standard table)


def test_every_order_of_three_comes_up_alike():
    stream = Stream(SECRET, "orders")
    counts = Counter(tuple(stream.shuffled("abc")) for _ in range(6000))
    assert len(counts) == 6 and all(850 < count < 1150 for count in counts.values())


def test_some_takes_different_items_and_not_more_than_there_are():
    assert len(set(Stream(SECRET, "some").some(range(9), 5))) == 5
    with pytest.raises(ValueError, match="cannot be taken"):
        Stream(SECRET, "some").some([1], 2)


@pytest.mark.parametrize("secret", [b"short", "a text that is long enough", None])
def test_a_weak_secret_is_refused(secret):
    with pytest.raises(ValueError, match="at least 8 bytes"):
        Stream(secret, "x")


FIGURES_ONLY = {"statistics.py", "simulation.py"}  # they draw nothing: they work figures out of what was answered


def _imports(path: Path) -> set[str]:
    """The modules that a file imports, whole: `numpy` and `numpy.random` are two."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {name.name for name in node.names}
        elif isinstance(node, ast.ImportFrom):
            found |= {node.module or "", *(f"{node.module}.{name.name}" for name in node.names)}
    return found


def _draws_by_chance(path: Path) -> list[str]:
    """What stands in a file that draws by itself: `random` anywhere, `numpy` where it is not needed for figures."""
    tops = {name.split(".")[0] for name in _imports(path)}
    found = sorted(tops & ({"random"} if path.name in FIGURES_ONLY else {"random", "numpy", "secrets"}))
    named = [node for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))) if isinstance(node, ast.Attribute)]
    return found + [node.attr for node in named if node.attr in ("random", "default_rng", "RandomState")] + [
        name for name in _imports(path) if name.startswith("numpy.random")]


@pytest.mark.parametrize(("name", "text"), [
    ("planted.py", "from random import choice\n"), ("planted.py", "import random as r\n"),
    ("planted.py", "import numpy\n"), ("planted.py", "def f():\n    import numpy as np\n"),
    ("statistics.py", "import numpy as np\n\nx = np.random.rand(3)\n"), ("statistics.py", "from numpy import random\n"),
    ("simulation.py", "from numpy.random import default_rng\n"), ("simulation.py", "import random\n")])
def test_the_search_for_random_finds_a_planted_one(tmp_path, name, text):
    planted = tmp_path / name
    planted.write_text(text, encoding="utf-8")
    assert _draws_by_chance(planted)


@pytest.mark.parametrize("package", [rigcalc.questions, rigcalc.papers])
def test_nothing_draws_but_by_a_stream(package):
    modules = list(Path(package.__file__).parent.glob("*.py"))
    assert len(modules) > 3
    for module in modules:
        assert not _draws_by_chance(module), module.name


def test_what_may_use_arrays_draws_no_question():
    """Statistics and simulation import nothing that draws a question, a paper or a secret."""
    folder = Path(rigcalc.papers.__file__).parent
    for name in FIGURES_ONLY:
        drawing = {"rigcalc.questions.draws", "rigcalc.questions.drawing", "rigcalc.questions.composing", "rigcalc.papers.issue", "secrets"}
        assert not _imports(folder / name) & drawing, name
