"""A match that is wrong in more ways than one: each wrong line gets its reason, where a misstep holds for a line."""

from __future__ import annotations

import pytest
from a_family import families, pairs

from rigcalc.questions import mark
from rigcalc.questions.family import FamilyError, families_folder, read_family
from rigcalc.questions.first_try import first_try

BY_LINE = sorted(name for name, one in families().items() if any(slip.each_line for slip in one.misstep))


def _two_slips(key):
    """A row with two wrong lines from two missteps that are told by the line, and those; None where this draw has none."""
    wanted = key["right"]["row"]
    slips = [slip for slip in key["missteps"] if slip.get("each_line")]
    for one in slips:
        for other in slips:
            first = next((at for at, letter in enumerate(one["row"]) if letter != wanted[at]), None)
            second = next((at for at, letter in enumerate(other["row"]) if letter != wanted[at] and at != first), None)
            if other is not one and second is not None:
                row = list(wanted)
                row[first], row[second] = one["row"][first], other["row"][second]
                if row not in [slip["row"] for slip in key["missteps"]]:
                    return row, {first + 1: one, second + 1: other}
    return None


@pytest.mark.parametrize("family", BY_LINE)
def test_two_wrong_lines_get_their_own_reasons(family):
    tried = 0
    for question, key in pairs(family)[:60]:
        made = _two_slips(key)
        if made is None:
            continue
        row, wrong = made
        told = mark(key, question, row)
        tried += 1
        assert not told["right"] and len(told["missteps"]) == 2
        for at, slip in wrong.items():
            line = next(name for name in told["missteps"] if name.startswith(f"line {at}: "))
            said = next(one for one in key["missteps"] if one["id"] == line.partition(": ")[2])
            assert said["row"][at - 1] == slip["row"][at - 1] and f"Line {at}: {said['feedback']}" in told["feedback"]
        assert told["share"] == pytest.approx(1 - 2 / len(row))
        first = first_try(key, question, row, told["missteps"])
        assert "Try once more; after that you are told which lines are not right." in first and "Line" not in first
    assert tried


def test_the_families_that_are_told_by_the_line():
    assert {"whose-factor", "take-ask-or-refuse", "whom-to-ask", "who-can-say", "what-becomes-of-it"} <= set(BY_LINE)


def test_every_wrong_answer_on_whose_factor_has_a_reason_for_each_line():
    """The four letters on four lines are 255 wrong answers: none is told how many lines are right and no more."""
    for question, key in pairs("whose-factor")[:5]:
        letters = [one["letter"] for one in question["options"]]
        for at in range(4):
            for letter in set(letters) - {key["right"]["row"][at]}:
                row = list(key["right"]["row"])
                row[at] = letter
                assert mark(key, question, row)["missteps"]


def test_a_line_that_no_misstep_gives_is_told_as_wrong_beside_the_others():
    question, key = next((question, key) for question, key in pairs("who-can-say") if _two_slips(key))
    row, wrong = _two_slips(key)
    stray = next(one["letter"] for one in question["options"] if one["text"] == "whoever stands nearest at the bench")
    other = next(at for at in range(len(row)) if at + 1 not in wrong)
    row[other] = stray
    assert mark(key, question, row)["feedback"].endswith(f"Line {other + 1} has another letter.")


def test_a_misstep_told_by_the_line_stands_in_a_match_alone(tmp_path):
    path = tmp_path / "re-use.toml"
    text = (families_folder() / "limit-of-an-eye.toml").read_text(encoding="utf-8")
    path.write_text(text.replace('id = "factor-left-out"', 'id = "factor-left-out"\neach_line = true', 1), encoding="utf-8")
    with pytest.raises(FamilyError, match="each_line in a match alone"):
        read_family(path)


def test_each_pair_says_why_it_may_or_may_not_hang():
    for question, key in pairs("pairs-that-may-hang")[:40]:
        told = {slip["letter"]: slip["feedback"] for slip in key["missteps"] if "letter" in slip}
        assert set(told) == {one["letter"] for one in question["options"]}
        assert {letter for letter, said in told.items() if said.startswith("It may be made.")} == set(key["right"]["letters"])
