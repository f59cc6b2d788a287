"""Held against the texts on proof loads and on the instrument; the transcript is this file's own.

NAVEDTRA 14080 p 3-30, MIL-DTL-781J 4.6.1 and DOE-STD-1090-96 15.4.7.2 were read. What is headed "from memory" stands as
shipped, kept from drifting: a proof load by such a rule says so, and the cap from memory is no default.
"""

import pytest

from rigcalc.proof import instrument_window_n, proof_loads
from rigcalc.reference import constant, table

LIMIT_N, BREAKING_N = 1000.0, 10_000.0
EXACT = 1e-12

# rule's source, load of a piece with a limit of 1000 N and a breaking force of 10 000 N, hold in s
READ = (
    ("NAVEDTRA 14080, p 3-30: twice the vertical rated capacity", 2000.0, None),  # 2 x rated capacity
    ("MIL-DTL-781J, 4.6.1", 6000.0, 5),  # 60 % of the minimum breaking strength, 5 s, cable up to 3/8 in
    ("control cable engineering note, note on British against American practice", 5000.0, None),  # 50 %, second-hand
)
# from memory, as shipped: kept from drifting. The hold of 3 minutes (180 s) was read on p 7-30
REMEMBERED = (
    ("AC 43.13-1B, para 7-146, p 7-29 not read; the hold of 3 minutes read on p 7-30", 6000.0, 180),
    ("ASME B30.9, 9-2.6", 5000.0, None),  # the cap: at most 50 % of nominal strength
)


def test_proof_rules():
    rows = proof_loads(LIMIT_N, BREAKING_N)
    for known, expected in ((False, READ), (True, REMEMBERED)):
        found = [(row.source, row.load_n, row.hold_s) for row in rows if (row.how_known == "from memory") is known]
        assert [(source, pytest.approx(load_n, rel=EXACT), hold) for source, load_n, hold in expected] == found
    assert [row.kind for row in rows if row.source.startswith("ASME")] == ["cap"]
    assert len(table("proof_rules")) == len(READ) + len(REMEMBERED)


def test_instrument():
    # DOE-STD-1090-96 15.4.7.2: -5 % / +0 % of the stipulated load
    assert instrument_window_n(LIMIT_N) == (pytest.approx(950.0, rel=EXACT), pytest.approx(1000.0, rel=EXACT))
    assert (constant("proof load, instrument below").value, constant("proof load, instrument above").value) == (5, 0)
