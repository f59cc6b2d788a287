"""Held against the regulations and standards that give design factors to other equipment.

The transcript is this file's own, typed from the texts named beside each row; it is never read from the package. Rows headed
"from memory" stand as shipped, kept from drifting: they accept nothing. No row here rates a hand-pressed assembly.
"""

import inspect

import pytest

from rigcalc import published, rating, rating_arrays
from rigcalc.published import published_factors
from rigcalc.reference import table

READ = (
    (5, "DOE-STD-1090-96, 11.3.1.3"),  # general lifting sling, wire rope
    (5, "Michigan R 408.15226, (1)"),  # wire rope and slings
    (5, "WAC 296-24-29401, (1)"),  # load at most 1/5 of the breaking load
    (5, "Alberta Reg. 191/2021, s.292(1)(b),(c)"),  # 20 % of breaking strength, no workers
    (10, "Alberta Reg. 191/2021, s.292(1)(a)"),  # 10 %, raising or lowering a worker
    (3.5, "Alberta Reg. 191/2021, s.292.1(1)"),  # running lines
    (3, "Alberta Reg. 191/2021, s.292.1(1)"),  # pendant and guy lines
    (2, "Alberta Reg. 191/2021, s.292.1(1)"),  # winch lines
    (5, "29 CFR 1926.1431, (g)(3)"),  # crane-hung personnel platform
    (10, "29 CFR 1926.1431, (g)(3),(4)"),  # the same, rotation-resistant slings
    (3.5, "29 CFR 1926.1414, (e)(2)(i),(ii)"),  # rotation-resistant rope, never less
    (6, "29 CFR 1926.451, (a)(3); OSHA letter of 15 May 2015"),  # scaffold suspension rope
    (10, "WAC 296-870-70085, (3)-(5)"),  # powered platform
    (2, "29 CFR 1926.502, (d)(8), quoted in a letter"),  # horizontal lifeline system
    (7, "California Title 8 s.1605.12, (a)"),  # material hoist
    (8, "WAC 296-96-24163, (3),(4), 2020"),  # inclined lift
    (7, "34 Pa. Code 7.155, (d)"),  # low-rise elevator
    (8, "ILO code of practice (lifts), B5.2"),  # builders' hoist
    (8, "Michigan R 408.12013, (1)"),  # hot-metal crane
    (5, "29 CFR 1919.33, rope in certificated gear"),
    (5, "30 CFR 75.1429, guide ropes"),
    (5, "TB 55-1900-232-10, Table 5-4"),  # towing hawser on a brake
)
# from memory, as shipped: kept from drifting, accepts nothing
REMEMBERED = ((5, "EN 13414-1, 5.2.4"), (5, "ASME B30.9, 9-2.2.1"), (10, "ANSI E1.43, section 4"), (8, "ANSI E1.4-1, lift lines"))


def test_the_published_factors_of_other_equipment():
    rows = published_factors()
    assert [(row.factor, row.source) for row in rows if row.how_known != "from memory"] == list(READ)
    assert [(row.factor, row.source) for row in rows if row.how_known == "from memory"] == list(REMEMBERED)
    assert len(table("design_factors")) == len(READ) + len(REMEMBERED)


@pytest.mark.parametrize("row", published_factors(), ids=lambda row: row.equipment[:30])
def test_every_row_names_its_equipment_and_says_that_it_is_not_for_this(row):
    assert row.equipment and row.said == "not for a hand-pressed assembly"


def test_they_are_no_menu():
    """Rating reads no table of factors, and a row can be looked up by nothing."""
    for module in (rating, rating_arrays):
        text = inspect.getsource(module)
        assert "design_factors" not in text and "published" not in text
    assert not inspect.signature(published_factors).parameters
    assert published.__all__ == ["NOT_FOR_THIS", "PublishedFactor", "published_factors"]
