"""Held against an open physics text: College Physics, Table 11.1, densities in thousands of kg/m3: aluminium 2.7, copper 8.8."""

import pytest

from rigcalc.errors import Refusal
from rigcalc.reference import constant
from rigcalc.sleeve import times_as_heavy


def test_the_two_densities():
    # Table 11.1: aluminium 2.7, copper 8.8
    assert (constant("aluminium density").value, constant("copper density").value) == (2700, 8800)


def test_copper_is_more_than_three_times_as_heavy():
    # 8.8 / 2.7 = 3.26; the trade says about 3.3
    for metal in ("plain copper", "zinc-plated copper", "tin-plated copper"):
        assert times_as_heavy(metal) == pytest.approx(8.8 / 2.7, rel=1e-12)
        assert round(times_as_heavy(metal), 1) == 3.3
    assert times_as_heavy("aluminium") == 1


@pytest.mark.parametrize("metal", ["stainless", "silver", None, 3])
def test_a_metal_that_was_not_weighed_is_refused(metal):
    with pytest.raises(Refusal):
        times_as_heavy(metal)
