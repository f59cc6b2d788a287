"""The class list: typed or pasted, and one sentence for each wrong line."""

import pytest

from rigcalc.desk import work
from rigcalc.desk.pages_home import _register
from rigcalc.errors import Refusal


def names(text):
    return [(one["name"], one["extra_minutes"], one["larger_print"]) for one in work.read_roster(text)]


@pytest.mark.parametrize("text", ["Tomo Kessig, 15, large\nDela Orrin", "Tomo Kessig;15;large\r\nDela Orrin;;\r\n",
                                  "Tomo Kessig\t15\tlarge\n\nDela Orrin", "name,extra minutes,larger print\nTomo Kessig,15,yes\nDela Orrin,,no",
                                  "Larger print,Name\n".replace("Larger print,Name", "Name,larger print,extra minutes")
                                  + "Tomo Kessig,yes,15\nDela Orrin,,"])
def test_a_list_is_read_however_it_is_pasted(text):
    assert names(text) == [("Tomo Kessig", 15, True), ("Dela Orrin", 0, False)]


def test_ids_are_given_in_order():
    assert [one["id"] for one in work.read_roster("A\nB\nC")] == ["c01", "c02", "c03"]


@pytest.mark.parametrize("text, told", [
    ("", "0 names"), ("\n \n", "0 names"), ("Tomo\nTOMO", "line 2: TOMO a second time"), ("Tomo, many", "line 1: 'many' as extra minutes"),
    ("Tomo, -5", "line 1: '-5' as extra minutes"), ("Tomo, 241", "'241' as extra minutes"), ("Tomo, ١٥", "as extra minutes"),
    ("A\nTomo, 5, huge", "line 2: 'huge'"), (", 15", "line 1: ''"), ("To\u202emo", "line 1"), ("x" * 121, "line 1"),
    ("\n".join(f"N{n}" for n in range(61)), "61 names")])
def test_a_wrong_line_gets_one_sentence(text, told):
    with pytest.raises(Refusal) as refused:
        work.read_roster(text)
    assert told in str(refused.value) and "\n" not in str(refused.value)


def test_every_wrong_line_is_named_at_once():
    with pytest.raises(Refusal) as refused:
        work.read_roster("Tomo, many\nDela\nDELA\nHana, 5, huge\nPell, 999")
    said = str(refused.value)
    assert all(f"line {number}: " in said for number in (1, 3, 4, 5)) and "line 2:" not in said
    assert said.count("whole minutes from 0 to 240") == 1 and "mend those 4 lines" in said and "\n" not in said


def test_a_class_is_set_once_and_entered(desk):
    assert work.set_class(desk, " Spring  2031 ", "Tomo Kessig", "Ines Varrow") == "spring-2031"
    entry = desk.register.entries("class set")[0]
    assert entry.body["name"] == "Spring 2031" and entry.body["invented"] is True
    with pytest.raises(Refusal, match="which is there already"):
        work.set_class(desk, "spring 2031", "Dela Orrin", "Ines Varrow")
    for name, by in (("!!", "Ines"), ("other", " ")):
        with pytest.raises(Refusal):
            work.set_class(desk, name, "Dela Orrin", by)
    assert len(desk.register.entries()) == 1 and _register(desk)[2] == "1 entry; read and check it"
    work.set_class(desk, "autumn 2031", "Dela Orrin", "Ines Varrow")
    assert _register(desk)[2] == "2 entries; read and check them"


@pytest.mark.parametrize("line, minutes, large", [
    ("Edda Klee, large", 0, True), ("Edda Klee, 10, large", 10, True), ("Edda Klee, large, 10", 10, True), ("Edda Klee, 10", 10, False),
    ("Edda Klee", 0, False), ("Edda Klee,, large", 0, True), ("Edda Klee, Larger print", 0, True), ("Edda Klee, 10, yes", 10, True)])
def test_minutes_and_larger_print_stand_in_either_order_or_one_alone(line, minutes, large):
    (person,) = work.read_roster(line)
    assert (person["name"], person["extra_minutes"], person["larger_print"]) == ("Edda Klee", minutes, large)


@pytest.mark.parametrize("line, told", [("Edda Klee, large, large", "'large' as extra minutes"), ("Edda Klee, larg", "'larg' as extra minutes"), ("Edda Klee, 10, 20", "'20' in the column")])
def test_a_word_that_is_neither_is_refused(line, told):
    with pytest.raises(Refusal, match=told):
        work.read_roster(line)
