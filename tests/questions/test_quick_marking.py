"""The quick ways of reading and judging figures against the exact ones, over a great many figures."""

from __future__ import annotations

from fractions import Fraction

import pytest

from many import many

from rigcalc.questions import Stream, marking, reading
from rigcalc.questions.plain_reading import read_plainly
from rigcalc.questions.quick_judging import far_apart, judge
from rigcalc.questions.scale import in_fraction

ACCEPT = {"lbf": ("lbf", "N", "kN"), "N": ("lbf", "N", "kN"), "kN": ("lbf", "N", "kN"), "mm": ("mm", "m", "in"), "m": ("mm", "m", "in"),
          "kg": ("kg", "lb"), "lb": ("kg", "lb"), "deg": ("deg",), "": ("",)}
STREAM = Stream(bytes(32), "quick marking")


def figures(label: str, count: int = many(130, 400)):
    """Figures of all lengths, many of them at the edges of rounding."""
    own = STREAM.sub(label)
    for _ in range(count):
        places = own.below(4)
        whole = own.below(10 ** (1 + own.below(6)))
        yield f"{whole}" + (f".{own.below(10**places):0{places}d}" if places else "")
    yield from ("0", "0.5", "1", "25.4", "25.39", "12.7", "0.4", "999.9", "1000", "224.8", "0.05", "007", "1.250", "999999999")


@pytest.mark.parametrize("unit", list(ACCEPT))
def test_a_plain_figure_is_read_as_the_long_way_reads_it(unit):
    for number in figures(f"read {unit}"):
        for typed in (f"{number} {unit}".strip(), f"{number}{unit}"):
            value, found, shown = reading._quantity(ACCEPT[unit], typed)
            assert read_plainly(typed, ACCEPT[unit]) == (str(value), found, shown), typed


@pytest.mark.parametrize("typed", ["3 1/8 in", "5. N", ".5 kN", "1,250 lbf", "1 250 N", "360 lb", "-3 N", "1e3 N", "30", "3  N", "1.2345 m", "٣ N"])
def test_anything_else_is_left_to_the_long_way(typed):
    assert read_plainly(typed, ("lbf", "N", "kN")) is None


RULES = [({"relative": "0.005"}, None), ({"relative": "0.01"}, None), ({}, None), ({"mm": "0.5"}, None), ({"mm": "1"}, None),
         ({}, {"direction": "down", "step": {"lbf": "1", "N": "10", "kN": "0.01", "mm": "1"}}),
         ({"relative": "0.01"}, {"direction": "up", "step": {"lbf": "5", "N": "1", "kN": "0.1", "mm": "0.5"}}),
         ({}, {"direction": "nearest", "step": {"lbf": "1", "N": "1", "mm": "1"}}),
         ({}, {"direction": "down", "step": {"lbf": "0.01", "N": "0.01", "kN": "0.0001", "mm": "0.01"}})]
BASES = ["8896443230521/1000000000", "2682244438112969/20000000000000", "26", "381/10", "5039/2", "6044", "1000", "1/3", "0", "12345/7"]


def a_key(base: str, tolerance: dict, turn: dict | None, own: Stream) -> dict:
    about = [Fraction(base) * times for times in (Fraction(1, 2), Fraction(101, 100), Fraction(9, 10), Fraction(1007, 1000), 2)]
    slips = [{"id": f"s{at}", "feedback": "So.", "exact": str(value + own.below(3)), "round": turn if own.below(4) == 0 else None}
             for at, value in enumerate(about)]
    slips.append(slips[own.below(4)] | {"id": "the same figure by another way"})
    slips = [slip | ({"value": float(Fraction(slip["exact"]))} if own.below(2) else {}) for slip in slips]  # as a key record keeps it
    return {"right": {"exact": base, "tolerance": tolerance, "round": turn}, "missteps": [*slips, {"id": "r", "exact": "refuse", "round": None}]}


@pytest.mark.parametrize("rule", range(len(RULES)))
def test_a_figure_is_judged_as_the_exact_way_judges_it(rule):
    own, asked, quick = STREAM.sub(f"judge {rule}"), 0, 0
    units = ("mm", "m") if "mm" in RULES[rule][0] else ("lbf", "N", "kN", "mm", "°C")
    for base in BASES:
        for _ in range(many(2, 4)):
            key = a_key(base, *RULES[rule], own)
            around = [key["right"]["exact"], *(slip["exact"] for slip in key["missteps"][:-1])]
            for unit in units:
                for middle in around:
                    near = float(in_fraction(Fraction(middle), unit))
                    for shift in (0, 0, 1, -1, 0.5, 0.005 * near, -0.01 * near, 0.015 * near):
                        plain = f"{abs(near + shift):.{own.below(4)}f} {unit}"
                        value = reading.read_figure(plain, (unit,), False, ".", ",")["value"]
                        found = judge(key, plain, unit)
                        asked, quick = asked + 1, quick + (found is not None)
                        assert found in (None, marking._number_exactly(key, value)), (key, plain)
    assert quick > 0.7 * asked


@pytest.mark.parametrize("unit, step", [("lbf", "1"), ("N", "10"), ("kN", "0.01"), ("mm", "0.5")])
def test_far_apart_is_said_of_nothing_that_is_within_a_step(unit, step):
    said = []
    for base in BASES:
        one, of = Fraction(base), Fraction(step) / in_fraction(1, unit)
        for share in (0, Fraction(1, 2), Fraction(999, 1000), 1, Fraction(1001, 1000), Fraction(11, 10), 3):
            for other in (one + share * of, one - share * of):
                said.append(far_apart(str(other), base, step, unit))
                assert not (said[-1] and abs(other - one) <= of)
                assert said[-1] or share < 2
    assert 0 < sum(said) < len(said)
