"""A trainer sees a family's draws before anybody else does, and finds a calculation by what it is called."""

from __future__ import annotations

import re

import pytest

from rigcalc.cli import main
from rigcalc.notebook.worked_examples import drawn
from rigcalc.questions import load_families
from rigcalc.questions.family import FamilyError, families_folder, load_families as load_from
from rigcalc.questions.naming import calculations_like
from rigcalc.questions.registry import CALCULATIONS
from rigcalc.shop import load_shop, sample_shop_path

GOOD = (families_folder() / "limit-of-an-eye.toml").read_text(encoding="utf-8")
VERSION = load_families()["limit-of-an-eye"].version
SHOP = load_shop(sample_shop_path())


def test_three_draws_of_an_own_family_are_shown_with_all_that_belongs_to_them(own, capsys):
    (own / "ours.toml").write_text(GOOD.replace('id = "limit-of-an-eye"', 'id = "ours"'), encoding="utf-8")
    assert main(["quiz", "--family", "ours"]) == 0
    out = capsys.readouterr().out
    assert [f"ours, version {VERSION}, draw {n} of 3" in out for n in (1, 2, 3)] == [True] * 3
    draws = out.split("ours, version")[1:]
    assert len({draw.split("Hint:")[0].split("-----")[-1] for draw in draws}) == 3                  # three different ones
    for draw in draws:
        assert all(word in draw for word in ("Hint: ", "Working: ", "Right: ", "right: Right.", "efficiency-left-out", "Answer in lbf"))


def test_the_options_of_a_choice_are_shown(own, capsys):
    name = next(name for name, family in load_families().items() if family.kind == "one choice")
    assert main(["quiz", "--family", name]) == 0
    out = capsys.readouterr().out
    assert "A" in out and "B" in out and out.count("What each answer receives:") == 3 and out.count("right: Right") == 3


def test_a_working_that_does_not_state_the_right_answer_is_pointed_at(tmp_path):
    family = load_families()["limit-of-an-eye"]
    assert "LOOK:" not in drawn(family, SHOP)
    start = GOOD.index("[working]")
    line = GOOD.index("en = ", start)
    (tmp_path / "limit-of-an-eye.toml").write_text(GOOD[:line] + 'en = "It gives 3 lbf."' + GOOD[GOOD.index("\n", line):], encoding="utf-8")
    wrong = load_from(tmp_path)["limit-of-an-eye"]
    assert drawn(wrong, SHOP).count("LOOK: the working does not state the right answer") == 3


def test_too_few_different_questions_are_told_with_the_field_that_says_why(own, capsys):
    few = GOOD.replace('id = "limit-of-an-eye"', 'id = "ours"').replace('"1/16", "3/32", "1/8", "5/32", "3/16", "1/4", "5/16", "3/8"', '"1/8"')
    (own / "ours.toml").write_text(few.replace("one_of = [0.93, 0.95, 0.97, 0.98, 1]", "one_of = [1]"), encoding="utf-8")
    assert main(["quiz", "--family", "ours"]) == 0
    assert re.search(r"LOOK: 200 draws gave \d+ different questions, fewer than 30. .*few_texts = ", capsys.readouterr().out)
    assert main(["quiz", "--family", "limit-of-an-eye"]) == 0
    assert "LOOK:" not in capsys.readouterr().out


def test_a_family_that_is_not_there_is_told_with_the_nearest(own, capsys):
    assert main(["quiz", "--family", "limit-of-an-eey"]) == 2
    assert "limit-of-an-eye" in capsys.readouterr().err


@pytest.mark.parametrize("word, name", [("times", "product"), ("multiply_by", "product"), ("divide", "quotient"), ("plus", "sum"), ("averge", "mean"), ("maximum", "larger"),
                                        ("working_load", "working_load_limit_n"), ("cut_lenght", "cut_length_mm"), ("minus", "difference")])
def test_a_calculation_is_found_by_what_it_is_called(word, name):
    assert name in calculations_like(word)[:2]


def test_every_calculation_is_listed_and_a_wrong_one_in_a_family_is_told_where(own, capsys):
    assert main(["quiz", "--calculations"]) == 0
    out = capsys.readouterr().out
    assert all(f"{name}(" in out for name in CALCULATIONS)
    assert main(["quiz", "--calculations", "zzzz"]) == 2
    capsys.readouterr()
    (own / "ours.toml").write_text(GOOD.replace('id = "limit-of-an-eye"', 'id = "ours"').replace('calculation = "limit_as_stated_n"', 'calculation = "times"')
                                   .replace('calculation = "working_load_limit_n"', 'calculation = "times"'), encoding="utf-8")
    with pytest.raises(FamilyError, match="'times' .*rigcalc quiz --calculations   shows, perhaps product"):
        load_families()
