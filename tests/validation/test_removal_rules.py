"""Removal from service: the table held against a transcript, and the counts worked by hand."""

from fractions import Fraction

import pytest

from rigcalc.reference import table
from rigcalc.removal import LOOKS, Inspection, broken_wires_allowed, published_answers, removal, share_of_wires

THIRD = Fraction(100, 3)
# rule, measure, construction, limit, unit, when; source and place as typed in from the texts (how known stands in the table)
RULES = (
    ("house: at a sleeve", "broken_at_sleeve", None, 1, "wires", "reached"),  # judgement
    ("house: elsewhere", "broken_in_8d", None, 10, "percent of all wires", "exceeded"),  # Michigan R 408.15226(3), read
    ("house: wear", "outer_wire_worn_percent", None, THIRD, "percent", "reached"),  # 29 CFR 1910.184(f)(5)(ii), read
    ("house: diameter", "below_nominal_percent", None, 5, "percent", "exceeded"),  # California T8 s.5036(a)(2)(B), read
    ("general rope: 8 d", "broken_in_8d", None, 10, "percent of all wires", "exceeded"),  # Michigan R 408.15226(3), read
    ("slings: lay", "broken_in_lay", None, 10, "wires", "reached"),  # 29 CFR 1910.184(f)(5)(i), read
    ("slings: strand", "broken_in_strand_lay", None, 5, "wires", "reached"),  # the same
    ("slings: wear", "outer_wire_worn_percent", None, THIRD, "percent", "reached"),  # 29 CFR 1910.184(f)(5)(ii), read
    ("slings: end fitting", "broken_at_sleeve", None, 1, "wires", "reached"),  # Queensland guide p 30-31, read
    ("energy department's slings: lay", "broken_in_lay", None, 10, "wires", "reached"),  # DOE-STD-1090-96 11.3.2.1e(1), read
    ("energy department's slings: strand", "broken_in_strand_lay", None, 5, "wires", "reached"),  # the same
    ("running rope: lay", "broken_in_lay", None, 6, "wires", "reached"),  # 29 CFR 1926.1413(a)(2)(ii)(A)(1), read second-hand
    ("running rope: strand", "broken_in_strand_lay", None, 3, "wires", "reached"),  # the same
    ("rotation-resistant: 6 d", "broken_in_6d", None, 2, "wires", "reached"),  # 29 CFR 1926.1413(a)(2)(ii)(A)(2), read second-hand
    ("rotation-resistant: 30 d", "broken_in_30d", None, 4, "wires", "reached"),  # the same
    ("standing rope: lay", "broken_in_lay", None, 2, "wires", "exceeded"),  # 29 CFR 1926.1413(a)(2)(ii)(A)(3), read second-hand
    ("standing rope: end", "broken_at_sleeve", None, 1, "wires", "exceeded"),  # the same
    ("state standing rope: lay", "broken_in_lay", None, 2, "wires", "exceeded"),  # WAC 296-155-77105(u)(v), read
    ("state standing rope: end", "broken_at_sleeve", None, 1, "wires", "exceeded"),  # the same
    ("cranes: diameter", "below_nominal_percent", None, 5, "percent", "exceeded"),  # California T8 s.5036(a)(2)(B), read
    ("suspended platform: lay", "broken_in_lay", None, 6, "wires", "reached"),  # WAC 296-874-30016(2)(3), read
    ("suspended platform: strand", "broken_in_strand_lay", None, 3, "wires", "reached"),  # the same
    ("suspended platform: wear", "outer_wire_worn_percent", None, THIRD, "percent", "exceeded"),  # the same
    ("mine hoist: lay", "broken_in_lay", None, 5, "percent of all wires", "exceeded"),  # 30 CFR 56.19024, read
    ("mine hoist: strand", "broken_in_strand_lay", None, 15, "percent of a strand's wires", "exceeded"),  # the same
    ("mine hoist: wear", "outer_wire_worn_percent", None, THIRD, "percent", "exceeded"),  # the same
    ("mine hoist: attachment", "broken_at_sleeve", None, 1, "wires", "exceeded"),  # 30 CFR 77.1437, read
    ("aircraft control: fitting", "broken_at_sleeve", None, 1, "wires", "reached"),  # AC 43.13-1B 7-149a to c, read
    ("aircraft control: wear", "outer_wire_worn_percent", None, 40, "percent", "reached"),  # AC 43.13-1B 7-149g (40 to 50), read
    # as shipped, from memory: kept from drifting, accepts nothing
    ("aircraft control (older): 7x7", "broken_in_1in", "7x7", 3, "wires", "reached"),
    ("aircraft control (older): 7x19", "broken_in_1in", "7x19", 6, "wires", "reached"),
    # ISO 4309:2010 table on a trade page, regular lay, read second-hand
    ("crane rope 6 d: 7x7", "broken_in_6d", "7x7", 2, "wires", "reached"),
    ("crane rope 30 d: 7x7", "broken_in_30d", "7x7", 4, "wires", "reached"),
    ("crane rope 6 d: 7x19", "broken_in_6d", "7x19", 5, "wires", "reached"),
    ("crane rope 30 d: 7x19", "broken_in_30d", "7x19", 10, "wires", "reached"),
)
MEMORY = {"aircraft control (older): 7x7", "aircraft control (older): 7x19"}


def seen(construction="7x7", **more) -> Inspection:
    usual = dict(broken_at_sleeve=0, broken_in_8d=0, coat="none", **dict.fromkeys(LOOKS, False))
    return Inspection(construction=construction, **usual | more)


def test_the_table_is_the_transcript():
    rows = table("removal_rules")
    assert tuple((row.rule, row.measure, row.construction, row.limit, row.unit, row.when) for row in rows) == RULES
    assert {row.rule for row in rows if row.how_known == "from memory"} == MEMORY


def test_ten_per_cent_rounded_down():
    # worked by hand: 7 x 7 = 49, 4.9, so 4; 7 x 19 = 133, 13.3, so 13 (Michigan R 408.15226(3), read)
    assert (broken_wires_allowed("7x7"), broken_wires_allowed("7x19")) == (4, 13)
    for construction, most in (("7x7", 4), ("7x19", 13)):
        assert removal(seen(construction, broken_in_8d=most)).verdict == "stay"
        assert removal(seen(construction, broken_in_8d=most + 1)).verdict == "out"


def test_a_printed_count_rounded_down():
    # Queensland guide for doggers p 30 (read): 6 x 24 rope, 144 wires, 10 % in 8 d: 14.4, printed 14
    house = next(row for row in table("removal_rules") if row.rule == "house: elsewhere")
    assert int(144 * house.limit / 100) == 14 and house.limit * 144 / 100 == Fraction("14.4")


def test_ten_in_a_lay_is_a_fifth_of_7x7():
    # by hand: 10 of 49 is 20.4 %, 10 of 133 is 7.5 %
    assert share_of_wires(10, "7x7") == pytest.approx(0.204, abs=5e-4)
    assert share_of_wires(10, "7x19") == pytest.approx(0.0752, abs=5e-5)
    notes = removal(seen()).notes
    assert "20 % of the cable" in notes[0]


# worked by hand from the words of each rule: what the worst count is with which it still says stay, 7x7 and 7x19
LAST_THAT_STAYS = (
    ("general rope: 8 d", "broken_in_8d", 4, 13), ("slings: lay", "broken_in_lay", 9, 9), ("slings: strand", "broken_in_strand_lay", 4, 4),
    ("running rope: lay", "broken_in_lay", 5, 5), ("running rope: strand", "broken_in_strand_lay", 2, 2),
    ("rotation-resistant: 6 d", "broken_in_6d", 1, 1), ("rotation-resistant: 30 d", "broken_in_30d", 3, 3),
    ("standing rope: lay", "broken_in_lay", 2, 2), ("standing rope: end", "broken_at_sleeve", 1, 1), ("slings: end fitting", "broken_at_sleeve", 0, 0),
    ("aircraft control: fitting", "broken_at_sleeve", 0, 0), ("mine hoist: attachment", "broken_at_sleeve", 1, 1),
    ("mine hoist: lay", "broken_in_lay", 2, 6),  # 5 % of 49 is 2.45, of 133 is 6.65
    ("mine hoist: strand", "broken_in_strand_lay", 1, 2),  # 15 % of 7 is 1.05, of 19 is 2.85
    ("suspended platform: lay", "broken_in_lay", 5, 5), ("suspended platform: strand", "broken_in_strand_lay", 2, 2),
    ("energy department's slings: lay", "broken_in_lay", 9, 9), ("energy department's slings: strand", "broken_in_strand_lay", 4, 4),
)


@pytest.mark.parametrize("rule, measure, in_7x7, in_7x19", LAST_THAT_STAYS)
def test_what_each_published_rule_says(rule, measure, in_7x7, in_7x19):
    for construction, most in (("7x7", in_7x7), ("7x19", in_7x19)):
        for count, expected in ((most, "stay"), (most + 1, "out")):
            # the longer lengths hold at least what the shorter ones hold
            inspection = seen(construction, **{"broken_in_8d": count if measure == "broken_in_8d" else 20, measure: count}
                              if "sleeve" not in measure and measure != "broken_in_30d" else {measure: count})
            answers = {answer.rule: answer for answer in published_answers(inspection)}
            assert answers[rule].answer == expected


@pytest.mark.parametrize("measure, rule, stays, goes", [
    ("outer_wire_worn_percent", "slings: wear", 33.3, 33.4), ("outer_wire_worn_percent", "aircraft control: wear", 39.9, 40),
    ("below_nominal_percent", "cranes: diameter", 5, 5.1)])
def test_wear_and_diameter(measure, rule, stays, goes):
    for value, expected in ((stays, "stay"), (goes, "out")):
        answers = {answer.rule: answer.answer for answer in published_answers(seen(**{measure: value}))}
        assert answers[rule] == expected
    assert removal(seen(outer_wire_worn_percent=33.3)).verdict == "stay"
    assert removal(seen(outer_wire_worn_percent=33.4)).verdict == "out"
    assert (removal(seen(below_nominal_percent=5)).verdict, removal(seen(below_nominal_percent=5.1)).verdict) == ("stay", "out")
