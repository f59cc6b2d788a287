"""Ratings from arrays: row by row the scalar answer; the scalar answer exact; the first bad row named."""

import math
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigcalc import _rating_blocks
from rigcalc.cable import breaking_force, sizes
from rigcalc.errors import Refusal
from rigcalc.rating import DesignFactor, limit
from rigcalc.rating_arrays import rate, rate_many

LBF_N = 4.4482216152605
LBF = Fraction("4.4482216152605")
BY, HERE = "Ines Varrow", "nobody"
CABLE = ("7x19", "galvanised")
LISTED = ("1/16", "3/32", "1/8", "5/32", "3/16", "1/4", "5/16", "3/8")  # sizes that sleeves are made for


def one(size="1/8", construction="7x19", metal="galvanised", efficiency=0.9, factor=5, set_by=BY, use=HERE, **more):
    return rate(size, construction, metal, efficiency, factor, set_by, use, **more)


def many(size=("1/8",), construction="7x19", metal="galvanised", efficiency=0.9, factor=5.0, set_by=BY, use=HERE, **more):
    return rate_many(size, construction, metal, efficiency, factor, set_by, use, **more)


# --- one line -----------------------------------------------------------------------------------------

@pytest.mark.parametrize("size, metal, factor, lbf", [
    # worked by hand from AC 43.13-1B Table 7-3: 0.90 x strength / factor, rounded down
    ("1/8", "galvanised", 5, 360), ("3/32", "stainless", 5, 165), ("3/16", "galvanised", 5, 756), ("1/8", "stainless", 8, 198),
    ("3/8", "galvanised", 10, 1296), ("1/16", "galvanised", 8, 54)])
def test_one_line_by_hand(size, metal, factor, lbf):
    found = one(size, metal=metal, factor=factor)
    assert (found.stated, found.unit, found.governs) == (lbf, "lbf", 0)
    assert type(found.stated) is float


@settings(max_examples=60, deadline=None)
@given(st.sampled_from(LISTED), st.sampled_from(["galvanised", "stainless"]), st.integers(2, 20), st.sampled_from(["US", "SI"]))
def test_one_line_states_what_a_tag_states(size, metal, factor, system):
    tag = limit(breaking_force(size, "7x19", metal), DesignFactor(factor, BY, "2026-01-12", "static"), "nobody", system=system)
    found = one(size, metal=metal, factor=factor, system=system)
    assert found.stated * (LBF_N if system == "US" else 1) == pytest.approx(tag.stated_n, rel=1e-12)
    assert found.limit_n == pytest.approx(tag.force_n, rel=1e-12)


@settings(max_examples=60, deadline=None)
@given(st.integers(1, 31000), st.sampled_from([0.9, 0.8, 0.85]), st.sampled_from([3, 5, 6, 7, 9]), st.sampled_from([1, 5, "0.1", "0.01", 0.25]))
def test_one_line_agrees_with_exact_fractions_and_never_rounds_up(lbf, share, factor, step):
    exactly = Fraction(lbf) * Fraction(str(share)) / factor / Fraction(str(step))
    if exactly < 1:
        return
    found = one("3/8", metal="bright", efficiency=share, factor=factor, certificate_n=float(lbf * LBF), step=step)
    assert found.stated == float(math.floor(exactly) * Fraction(str(step)))
    assert found.stated <= float(exactly * Fraction(str(step)))


@pytest.mark.parametrize("near, stated", [(756 - 0.99e-9, 756), (756 - 1.01e-9, 755), (756 + 1e-9, 756), (755.9999999999999, 756), (756.0, 756)])
def test_a_limit_within_the_dust_of_a_step_is_that_step(near, stated):
    # trade rule: 755.9999 from floating point is 756; a limit otherwise never rounds up
    assert one(fitting_limits_n=[near], system="SI", step=1).stated == stated
    assert many(fitting_limits_n=[[near]], system="SI", step=1).stated.tolist() == [stated]


@pytest.mark.parametrize("wrong", [1e-24, 3e-10, -3e-10])
def test_what_floating_point_leaves_uncertain_is_worked_in_fractions(wrong):
    # 4e6 steps of 0.0025 N: the dust of the sum is as large as the slack, so only fractions can tell
    at = 4_000_000 * 0.0025 - 0.0025e-9 + wrong
    expected = math.floor(Fraction(repr(at)) / Fraction("0.0025") + Fraction("1e-9"))
    found = one("3/8", fitting_limits_n=[at], factor=2, system="SI", step="0.0025")
    assert found.stated == float(expected * Fraction("0.0025"))
    assert many(["3/8"], fitting_limits_n=[[at]], factor=2.0, system="SI", step="0.0025").stated[0] == found.stated


def test_the_certificate_counts_where_it_is_lower_and_speaks_where_the_table_is_silent():
    assert one(certificate_n=1900 * LBF_N).stated == 342
    assert one(certificate_n=2100 * LBF_N).stated == 360
    assert one("1/8", "7x7", certificate_n=1700 * LBF_N).stated == 306
    assert one("1/8", metal="bright", certificate_n=2000 * LBF_N).stated == 360
    with pytest.raises(Refusal, match="without a certificate"):
        one("1/8", "7x7")
    for answer in (lambda: one("1/8", "7x7", certificate_n=79000.0), lambda: many(["1/4", "1/8"], "7x7", certificate_n=[9000.0, 79000.0])):
        with pytest.raises(Refusal, match=r"a certificate of 17760 lbf .* for 1/8 cable .* at most 3488 lbf \[15.51 kN\]"):   # pi/4 x 3.175^2 x 1960
            answer()


def test_the_weakest_link_governs_and_is_never_divided_again():
    found = one(fitting_limits_n=[1000 * LBF_N, 355.7 * LBF_N, 800 * LBF_N])
    assert (found.stated, found.governs) == (355, 2)
    assert one(fitting_limits_n=[1000 * LBF_N]).governs == 0


@pytest.mark.parametrize("parts, governs", [(0, 0), (0.99e-12, 0), (1.01e-12, 1), (-1e-9, 0)])
def test_a_tie_with_the_cable_is_the_cables(parts, governs):
    fitting = one().limit_n * (1 - parts)
    assert one(fitting_limits_n=[fitting]).governs == governs
    assert many(fitting_limits_n=[[fitting]]).governs.tolist() == [governs]


def test_of_fittings_that_tie_the_first_governs():
    assert one(fitting_limits_n=[700.0, 700.0]).governs == 1
    assert many(fitting_limits_n=[[900.0, 700.0, 700.0]]).governs.tolist() == [2]


@pytest.mark.parametrize("changes, said", [
    ({"size": "7/64"}, "3/32 or 1/8"), ({"size": "6 mm"}, "6 mm"), ({"size": None}, "inch size"), ({"size": ["1/8"]}, "inch size"),
    ({"construction": "1x19"}, "7x7"), ({"metal": "copper"}, "galvanised"), ({"efficiency": 0}, "at most 0.9"), ({"efficiency": 1.2}, "at most 0.9"),
    ({"efficiency": 1.0}, "at most 0.9"), ({"efficiency": 0.9000001}, "at most 0.9"), ({"set_by": "-"}, "who set the factor"),
    ({"efficiency": math.nan}, "finite"), ({"efficiency": True}, "a number"), ({"efficiency": "0.9"}, "a number"), ({"factor": 1}, "above 1"),
    ({"factor": math.inf}, "finite"), ({"factor": None}, "a number"), ({"factor": -5.0}, "above 1"), ({"certificate_n": 0.0}, "above 0"),
    ({"certificate_n": math.nan}, "finite"), ({"certificate_n": math.inf}, "finite"), ({"certificate_n": "9 kN"}, "a number"),
    ({"fitting_limits_n": [0.0]}, "fitting 1"), ({"fitting_limits_n": [5.0, math.nan]}, "finite"), ({"fitting_limits_n": [None]}, "a number"),
    ({"fitting_limits_n": [math.inf]}, "finite"), ({"fitting_limits_n": [-4]}, "above zero"),
    ({"use": "people"}, "rate it alone, with its named designer"), ({"use": "lifting"}, "there is no way round this"),
    ({"use": ""}, "if this lets go"), ({"use": None}, "if this lets go"), ({"set_by": " "}, "who set the factor"), ({"set_by": ""}, "who set the factor"),
    ({"set_by": 5}, "who set the factor"), ({"system": "metric"}, "US or SI"), ({"step": 0}, "step"), ({"step": -1}, "step"), ({"step": "one"}, "step"),
    ({"step": True}, "step"), ({"step": 400}, "one step at least"), ({"fitting_limits_n": [1.0]}, "one step at least"),
])
def test_anything_outside_is_refused_by_one_and_by_many(changes, said):
    with pytest.raises(Refusal, match=said):
        one(**changes)
    wanted = {"size": ["1/8"], **changes}
    if "size" in changes:
        wanted["size"] = [changes["size"]]
    for name in ("certificate_n", "fitting_limits_n"):
        if name in changes:
            wanted[name] = [changes[name]]
    if changes.get("certificate_n") is math.nan:
        assert many(**wanted).stated.tolist() == [360]  # in an array NaN stands for a reel without a certificate
        return
    with pytest.raises(Refusal):
        many(**wanted)


@pytest.mark.parametrize("size, near", [("3/64", "1/16"), ("7/32", "3/16 or 1/4"), ("9/32", "1/4 or 5/16"), ("11/32", "5/16 or 3/8"),
                                        ("1/7", "1/8 or 5/32"), ("2/16", "3/32 or 5/32"), ("7/16", "3/8")])
@pytest.mark.parametrize("certificate_n", [None, 8000.0, 8000])
def test_a_size_without_a_sleeve_has_no_limit_and_no_certificate_gives_it_one(size, near, certificate_n):
    with pytest.raises(Refusal, match=f"no sleeve of this trade is made for was given; accepted: the nearest sizes {near};"):
        one(size, certificate_n=certificate_n)
    with pytest.raises(Refusal, match="no sleeve of this trade" if size in sizes() else "the size"):
        many([size], certificate_n=None if certificate_n is None else [certificate_n])
    if size in sizes():
        for built, metals in ((["7x7"], "galvanised"), ("7x19", ["bright"])):
            with pytest.raises(Refusal, match="row 0: .*no sleeve of this trade"):
                many([sizes().index(size)], built, metals, certificate_n=[1e308])


# --- many lines ---------------------------------------------------------------------------------------

def batches():
    line = st.tuples(st.sampled_from(LISTED), st.floats(0.5, 0.9), st.floats(1.01, 12.0),
                     st.one_of(st.just(math.nan), st.floats(900.0, 90000.0)), st.tuples(*[st.floats(50.0, 30000.0)] * 3))
    return st.lists(line, min_size=1, max_size=30)


@settings(max_examples=60, deadline=None)
@given(batches(), st.sampled_from(["US", "SI"]), st.sampled_from([None, 1, "0.1", 5]))
def test_the_array_answer_equals_the_scalar_one(lines, system, step):
    names, shares, factors, certificates, fittings = map(list, zip(*lines))
    found = many(names, efficiency=np.array(shares), factor=np.array(factors), certificate_n=np.array(certificates),
                 fitting_limits_n=np.array(fittings), system=system, step=step)
    for row, (name, share, factor, certificate, limits) in enumerate(lines):
        alone = one(name, efficiency=share, factor=factor, certificate_n=None if math.isnan(certificate) else certificate,
                    fitting_limits_n=limits, system=system, step=step)
        assert (found.limit_n[row], found.stated[row], found.governs[row], found.unit) == (alone.limit_n, alone.stated, alone.governs, alone.unit)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.sampled_from(LISTED), st.sampled_from(["galvanised", "stainless"]),
                          st.lists(st.tuples(st.booleans(), st.floats(50.0, 9000.0)), min_size=2, max_size=2)), min_size=1, max_size=20))
def test_places_without_a_fitting_govern_nothing(lines):
    there = np.array([[place[0] for place in fittings] for _, _, fittings in lines])
    limits = np.array([[place[1] if place[0] else math.nan for place in fittings] for _, _, fittings in lines])
    found = many([line[0] for line in lines], metal=[line[1] for line in lines], fitting_limits_n=limits, fitted=there)
    for row, (size, metal, fittings) in enumerate(lines):
        alone = one(size, metal=metal, fitting_limits_n=[limit_n for fitted, limit_n in fittings if fitted])
        assert found.stated[row] == alone.stated
        places = [place + 1 for place, (fitted, _) in enumerate(fittings) if fitted]
        assert found.governs[row] == (places[alone.governs - 1] if alone.governs else 0)


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(st.sampled_from(LISTED), st.sampled_from(["7x7", "7x19"]), st.sampled_from(["galvanised", "stainless", "bright"])),
                min_size=1, max_size=20))
def test_mixed_constructions_and_metals_with_certificates(lines):
    names, built, metals = map(list, zip(*lines))
    found = many(names, built, metals, certificate_n=np.full(len(lines), 3000.0))
    assert found.stated.tolist() == [one(*line, certificate_n=3000.0).stated for line in lines]


def test_every_step_that_is_exact_in_decimals_is_met():
    # limits that are whole steps by hand: 0.90 x strength / 5 of every listed size, galvanised and stainless
    for metal, column in (("galvanised", (86, 180, 360, 504, 756, 1260, 1764, 2592)),
                          ("stainless", (86, 165, 316, 432, 666, 1152, 1620, 2160))):
        assert many(LISTED, metal=metal).stated.tolist() == list(column)


def test_sizes_may_be_numbers_and_blocks_do_not_show():
    place = np.array([sizes().index("1/8"), sizes().index("3/32")] * 12000, dtype=np.int32)
    found = many(place)
    assert found.stated.shape == found.limit_n.shape == found.governs.shape == (24000,)
    assert (found.stated[::2] == 360).all() and (found.stated[1::2] == 180).all() and not found.governs.any()
    assert many([]).stated.shape == (0,)


@pytest.mark.parametrize("row", [0, 8191, 8192, 19999])
@pytest.mark.parametrize("column, bad, said", [
    ("size", 99, "the size number 99"), ("size", -1, "the size number -1"), ("size", 0, "no sleeve of this trade"),
    ("efficiency", 1.1, "at most 0.9"), ("efficiency", math.nan, "finite"), ("efficiency", -0.9, "at most 0.9"), ("factor", 1.0, "above 1"),
    ("factor", math.inf, "finite"), ("certificate_n", -5.0, "above 0"), ("certificate_n", math.inf, "finite"), ("certificate_n", 0.0, "above 0"),
    ("fitting_limits_n", math.nan, "finite"), ("fitting_limits_n", 0.0, "fitting 2"), ("fitting_limits_n", math.inf, "finite"),
    ("fitting_limits_n", 2.0, "one step at least")])
def test_the_first_bad_row_is_named(row, column, bad, said):
    given_n = {"size": np.full(20000, 3), "efficiency": np.full(20000, 0.9), "factor": np.full(20000, 5.0),
               "certificate_n": np.full(20000, math.nan), "fitting_limits_n": np.full((20000, 2), 5000.0)}
    for place in {row, 19999}:
        given_n[column][(place, 1) if column == "fitting_limits_n" else place] = bad
    with pytest.raises(Refusal, match=f"^Refused: row {row}: .*{said}"):
        many(**given_n)


@pytest.mark.parametrize("changes", [
    {"size": "1/8"}, {"size": [["1/8"]]}, {"size": [1.5]}, {"size": [True]}, {"size": ["1/8", 3]}, {"construction": ["7x19", "7x19"]},
    {"construction": ["1x19"]}, {"metal": ["lead"]}, {"metal": "lead"}, {"efficiency": np.array([0.9, 0.9])}, {"efficiency": "0.9"},
    {"efficiency": np.array([True])}, {"factor": [[5.0]]}, {"factor": ["5"]}, {"certificate_n": 8000.0}, {"certificate_n": [None]},
    {"certificate_n": [1.0, 2.0]}, {"fitting_limits_n": [900.0]}, {"fitting_limits_n": [[900.0], [900.0]]}, {"fitting_limits_n": [["x"]]},
    {"fitted": [[True]]}, {"fitting_limits_n": [[900.0]], "fitted": [[1]]}, {"fitting_limits_n": [[900.0]], "fitted": [[True, False]]},
    {"fitting_limits_n": [[math.inf]], "fitted": [[True]]}, {"fitting_limits_n": [[math.nan]], "fitted": [[True]]},
    {"fitting_limits_n": np.full((1, 101), 900.0)},
])
def test_shapes_and_kinds_that_do_not_fit_are_refused(changes):
    with pytest.raises(Refusal):
        many(**changes)


def test_a_hundred_fittings_are_not_too_many():
    limits = np.full((1, 100), 900.0)
    limits[0, 99] = 800.0
    assert many(fitting_limits_n=limits).governs.tolist() == [100]
    assert _rating_blocks._MOST_FITTINGS == 100


def test_what_was_given_is_not_changed():
    limits, shares = np.array([[900.0, 700.0]]), np.array([0.9])
    many(fitting_limits_n=limits, efficiency=shares, certificate_n=np.array([math.nan]))
    assert limits.tolist() == [[900.0, 700.0]] and shares.tolist() == [0.9]


def test_a_size_added_to_the_table_is_rated_too(tmp_path):
    from rigcalc.reference import added_from

    (tmp_path / "cable_strength.csv").write_text(
        "size,construction,galvanised_lbf,stainless_lbf,tolerance_plus_in,source,locator,how_known\n"
        "7/16,7x19,17600,,0.03,common practice,x,common practice\n", encoding="utf-8")
    with added_from(tmp_path), pytest.raises(Refusal, match="no sleeve of this trade"):
        one("7/16")
    (tmp_path / "crimps_common_practice.csv").write_text(
        "sleeve_metal,size,count,source,locator,how_known\naluminium,7/16,6,common practice,x,common practice\n", encoding="utf-8")
    with added_from(tmp_path):
        assert one("7/16").stated == 3168 and many(["7/16", "1/8"]).stated.tolist() == [3168, 360]
    with pytest.raises(Refusal):
        one("7/16")
