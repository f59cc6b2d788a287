"""The run that alters every shipped number reads its list from the tree, and each alteration changes that number alone."""

import ast
import csv

import pytest
from mutate import ROOT, alterations, altered, stepped


@pytest.fixture
def tree(tmp_path):
    (tmp_path / "rigcalc" / "room").mkdir(parents=True)
    (tmp_path / "rigcalc" / "room" / "b.csv").write_text(
        'size,count,edition,words,source\n1/8,3,2001,"a, 5",p 7\n3/32,0.5,2001,12 mm,p 8\n', encoding="utf-8")
    (tmp_path / "rigcalc" / "a.py").write_text(
        'from x import F\n\nTAIL = 2\nSHARE: float = 0.9\nPAIR = {3: "1/8", "é": Fraction("0.45")}\n'
        'NOTHING = True\nOTHER = call(prec=60)\nWORD = "5"\nNEGATIVE = -30\n\n\ndef f():\n    x = 7\n', encoding="utf-8")
    return tmp_path


def test_the_list_is_read_from_the_tree(tree):
    assert [str(change) for change in alterations(tree)] == [
        "rigcalc/room/b.csv line 2 size: 1/8 -> 3/8", "rigcalc/room/b.csv line 2 count: 3 -> 3.06", "rigcalc/room/b.csv line 2 count: 3 -> 4",
        "rigcalc/room/b.csv line 3 size: 3/32 -> 5/32", "rigcalc/room/b.csv line 3 count: 0.5 -> 0.51",
        "rigcalc/a.py line 3 TAIL: 2 -> 3", "rigcalc/a.py line 4 SHARE: 0.9 -> 0.918", "rigcalc/a.py line 5 PAIR: 3 -> 4",
        'rigcalc/a.py line 5 PAIR: "0.45" -> "0.459"', "rigcalc/a.py line 9 NEGATIVE: 30 -> 31"]


def test_each_alteration_changes_one_place_and_stays_readable(tree):
    for change in alterations(tree):
        before = (tree / change.path).read_text(encoding="utf-8")
        if change.path.endswith(".py"):
            ast.parse(change.text)
            assert sum(one != other for one, other in zip(before.splitlines(), change.text.splitlines(), strict=True)) == 1
        else:
            cells = [list(csv.reader(text.splitlines())) for text in (before, change.text)]
            assert sum(one != other for old, new in zip(*cells, strict=True) for one, other in zip(old, new, strict=True)) == 1


def test_two_per_cent():
    assert (altered("25.4"), altered("2000"), altered("-30"), altered("0"), altered("3/32")) == ("25.908", "2040", "-30.6", "0.02", "5/32")
    assert (stepped("3"), stepped("-30"), stepped("100000"), stepped("0")) == ("4", "-31", "102000", "1")


def test_the_real_list_holds_the_tables_and_the_constants():
    names = {change.path for change in alterations()}
    assert {"rigcalc/reference/cable_strength.csv", "rigcalc/reference/constants.csv", "rigcalc/_quantities.py"} <= names
    assert names >= {path.relative_to(ROOT).as_posix() for path in (ROOT / "rigcalc" / "reference").glob("c*.csv")}
