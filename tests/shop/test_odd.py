"""What can be so in a shop file and mostly is a slip is asked about; what cannot be is a mistake."""

import pytest

from rigcalc.cli import main
from rigcalc.shop import sample_shop_path

SAMPLE = sample_shop_path().read_text(encoding="utf-8")


@pytest.fixture
def looked_at(tmp_path, monkeypatch, capsys):
    monkeypatch.setenv("RIGCALC_HOME", str(tmp_path / "home"))

    def look(*changes: tuple[str, str]) -> tuple[int, str]:
        text = SAMPLE
        for old, new in changes:
            assert old in text
            text = text.replace(old, new, 1)
        (tmp_path / "shop.toml").write_text(text, encoding="utf-8")
        code = main(["shop", str(tmp_path / "shop.toml")])
        out = capsys.readouterr()
        return code, " ".join((out.out + out.err).split())

    return look


def test_the_sample_asks_for_none_of_it(looked_at):
    code, said = looked_at()
    assert code == 0 and not [words for words in ("does Ines Varrow mean it", "has a digit", "in one cavity", "over a crimp for") if words in said]


def test_two_rows_changed_over_are_a_mistake(looked_at):
    code, said = looked_at(('"8.4 mm"', '"x"'), ('"10.1 mm"', '"8.4 mm"'), ('"x"', '"10.1 mm"'))
    assert code == 2 and "8.4 mm for 5/32 and 10.1 mm for 1/8" in said and "no less than across that of a thinner one" in said


def test_one_greatest_size_for_two_cables_is_asked_about(looked_at):
    code, said = looked_at(('"10.1 mm"', '"8.4 mm"'))
    assert code == 0 and "Note: chart LB-AL has 8.4 mm over a crimp for 1/8 and for 5/32: by the maker's sheet?" in said


@pytest.mark.parametrize("value, asked", [("1.2", True), ("1.99", True), ("2", False), ("5", False)])
def test_a_factor_that_leaves_next_to_nothing_is_asked_about(looked_at, value, asked):
    code, said = looked_at(("value = 5", f"value = {value}"))
    assert code == 0 and (f"the design factor {value} loads a cable to" in said) == asked
    assert ("83 % of what its weakest part breaks at: does Ines Varrow mean it?" in said) == (value == "1.2")  # 1 / 1.2


@pytest.mark.parametrize("scope, refused", [("everything, lifting too", "lifting"), ("static work and slings", "slings"), ("work over people", "people"), ("static work with everyone in reach", "everyone"), ("garden work, also over heads", "over heads"), ("static work with nobody in reach and towing", "towing"), ("everything", "everything"), ("static work, never lifting", ""), ("trellis wires; no people, no lifting, nobody near", ""),
                                            ("static work with nobody in reach", "")])
def test_a_scope_of_refused_work_is_a_mistake(looked_at, scope, refused):
    code, said = looked_at(('scope = "static work with nobody in reach"', f'scope = "{scope}"'))
    assert (code, f"a scope that speaks of '{refused}'" in said) == ((2, True) if refused else (0, False))


def test_two_sizes_in_one_cavity_are_asked_about(looked_at):
    code, said = looked_at(('"3/32" = "1", "1/8" = "2"', '"3/32" = "2", "1/8" = "2"'), ('cavity = "1"', 'cavity = "2"'))
    assert code == 0 and "tool BB has 3/32 and 1/8 in one cavity, 2: by its maker?" in said


@pytest.mark.parametrize("limit, asked", [("300 kN", True), ("10000 lbf", True), ("2000 lbf", False)])
def test_a_fitting_marked_for_more_than_its_cables_is_asked_about(looked_at, limit, asked):
    code, said = looked_at(('limit = "1000 lbf"', f'limit = "{limit}"'))
    assert code == 0 and ("the shackle small bow shackle is marked" in said) == asked


def test_a_hold_that_cannot_be_is_told_in_the_shops_own_units(looked_at):
    code, said = looked_at(('system = "US"', 'system = "SI"'), ('hold = "432 lbf"', 'hold = "0.08 kN"'))
    assert code == 2 and "80 N [18 lbf]" in said
