"""Families of lessons 03, 11 and 12 against figures worked by hand or printed elsewhere."""

from __future__ import annotations

import pytest
from a_family import SECRET, families, shop

from rigcalc.errors import Refusal
from rigcalc.questions import Stream, compose, draw, mark
from rigcalc.questions.registry import call
from rigcalc.units import LBF_N

LBF = float(LBF_N)


def _drawn(family: str, wanted, first: int = 0, tries: int = 6000):
    """(question, key) of the first draw, from a number on, whose values are wanted."""
    for number in range(first, first + tries):
        stream = Stream(SECRET, f"{family} wanted {number}")
        drawn = draw(families()[family], stream, shop())
        if wanted(drawn.values):
            return compose(drawn, stream, 1)
    raise AssertionError(f"no such draw of {family}")


def _base(values) -> bool:
    cable = values["cable"]
    return (cable["size"], cable["metal"], values["job"]["value"]) == ("1/8", "galvanised", 5)


# --- proof load -------------------------------------------------------------------------------

def test_the_proof_load_of_the_base_case_and_its_missteps():
    """2000 lbf, 0.90, factor 5: limit 360, twice is 720, cap 50 % is 1000, 60 % is 1200 lbf. Worked by hand."""
    question, key = _drawn("proof-load-by-procedure", _base)
    assert mark(key, question, "720 lbf")["right"]
    for typed, misstep in (("1200 lbf", "sixty-percent-of-breaking"), ("1000 lbf", "cap-taken-as-the-load"),
                           ("360 lbf", "pulled-to-the-limit"), ("refuse", "refused-what-may-be-pulled")):
        assert mark(key, question, typed)["missteps"] == [misstep], typed


def test_above_the_cap_nothing_is_pulled():
    """2000 lbf, 0.90, factor 3: limit 600, twice is 1200, above the cap of 1000 lbf. Worked by hand."""
    question, key = _drawn("proof-load-by-procedure", lambda values: (
        values["cable"]["size"], values["cable"]["metal"], values["job"]["value"]) == ("1/8", "galvanised", 3))
    assert mark(key, question, "refuse")["right"]
    assert mark(key, question, "1200 lbf")["missteps"] == ["pulled-above-the-cap", "sixty-percent-of-breaking"]  # 60 % of 2000 lbf is 1200 lbf too: both are told
    assert mark(key, question, "1000 lbf")["missteps"] == ["cap-taken-as-the-load"]


def test_the_ends_of_the_instrument_window_count():
    """DOE-STD-1090-96 15.4.7.2: -5 % to +0 % of the load, so 950 and 1000 of 1000 count, 940 and 1010 do not."""
    with_ = {"load_n": 1000 * LBF, "parts": [-6, -5, 0, 1], "system": "US"}
    assert call("readings_that_count", with_) == ["Piece 2: 950 lbf", "Piece 3: 1000 lbf"]
    assert call("readings_between", with_ | {"below": 5, "above": 5}) == [
        "Piece 2: 950 lbf", "Piece 3: 1000 lbf", "Piece 4: 1010 lbf"]


# --- lots -------------------------------------------------------------------------------------

LOT = [force * LBF for force in (470, 505, 512, 441, 498, 489)]


def test_the_lot_of_the_lanyards():
    """Mean 485.8, standard deviation 26.3, k 3.006: bound 406.6 lbf, 432 needed, all six above it: not shown."""
    assert call("lot_factor", {"pieces": 6, "coverage": 0.90, "confidence": 0.95}) == 3.006
    assert call("mean_less_n", {"forces_n": LOT, "times": 3.006}) / LBF == pytest.approx(406.6, abs=0.1)
    assert call("needed_n", {"breaking_force_n": 480 * LBF}) / LBF == pytest.approx(432)
    says = {"forces_n": LOT, "breaking_force_n": 480 * LBF, "coverage": 0.90, "confidence": 0.95, "mode": "broke in the cable"}
    assert call("lot_says", says | {"slipped": 0}) == "bound below"
    low = [force - 20 * LBF for force in LOT]  # 421 lies below 432
    assert call("lot_says", says | {"forces_n": low, "slipped": 0}) == "one below"
    assert call("lot_says", says | {"forces_n": low, "slipped": 1}) == "rejected"


@pytest.mark.parametrize("number", range(40))
def test_what_is_written_under_a_lot_goes_by_its_bound(number):
    stream = Stream(SECRET, f"under a lot {number}")
    drawn = draw(families()["what-a-lot-shows"], stream, shop())
    values, right = drawn.values, drawn.options[drawn.right].text
    if values["case"]["slipped"]:
        assert values["lowest_n"] < values["needed"] and right.startswith("Rejected")
    else:
        reaches = values["bound_n"] >= values["needed"]
        assert values["lowest_n"] > values["needed"]
        assert right.startswith("Shown" if reaches else "Not shown")


def test_lots_by_their_bounds_and_by_their_means():
    """Two lots: 100 ± 10 and 95 ± 1 (at k 3: 70 and 92), so the mean and the bound put them in opposite orders."""
    one, other = [90 * LBF, 100 * LBF, 110 * LBF], [94 * LBF, 95 * LBF, 96 * LBF]
    with_ = {"lots": [one, other], "times": 3, "system": "US"}
    first = "mean 100 lbf, standard deviation 10 lbf, lowest 90 lbf"
    second = "mean 95 lbf, standard deviation 1 lbf, lowest 94 lbf"
    assert call("lots_by", with_ | {"what": "bound"}) == [second, first]
    assert call("lots_by", with_ | {"what": "mean"}) == [first, second]
    with pytest.raises(Refusal):
        call("lots_by", with_ | {"lots": [one, one], "what": "mean"})


def test_pieces_without_a_failure():
    """Success-run table: 0.90 with 0.95 needs 29, 0.99 with 0.95 needs 299."""
    assert call("pieces_without_failure", {"reliability": 0.90, "confidence": 0.95}) == 29
    assert call("pieces_without_failure", {"reliability": 0.99, "confidence": 0.95}) == 299


# --- job sheets -------------------------------------------------------------------------------

def test_the_sheet_of_a_coated_wire_goes_by_the_core():
    """3/32-3/16 7x7: 920 lbf x 0.90 / 5 = 165.6, so 165; by the coat (3/16 7x19, 4200 lbf) 756.

    Three pins of 12 mm and 5 mm of growth: 41 mm; with two pins 29. Worked by hand."""
    question, key = _drawn("sheet-of-a-coated-wire", lambda values: (
        values["reel"]["core"], values["reel"]["metal"], values["pin"], values["count"], values["growth"], values["job"]["value"]) == ("3/32", "galvanised", 12, 4, 5, 5), first=1800)
    sleeves = {one["text"]: one["letter"] for one in question["boxes"][1]["options"]}
    right = ["165 lbf", sleeves["aluminium, for 3/32 cable"], "41 mm", "10"]
    assert mark(key, question, right)["right"]
    told = mark(key, question, ["756 lbf", sleeves["aluminium, for 3/16 cable"], "29 mm", "8"])
    assert told["missteps"] == ["limit: coat-taken-as-the-size", "sleeve: sleeve-by-the-coat", "eye: two-pin-diameters",
                                "sleeves: trial-piece-forgotten"]


def test_a_marked_fitting_is_not_divided_again():
    """Cable 360 lbf; shackle marked 1000: divided by 5 it would seem to govern with 200. Worked by hand."""
    question, key = _drawn("sheet-of-a-brace", lambda values: _base(values) and values["shackle_mark"] == 1000
                           and values["turnbuckle_mark"] == 800)
    governs = {one["text"]: one["letter"] for one in question["boxes"][2]["options"]}
    assert mark(key, question, ["360 lbf", "360 lbf", governs["the cable at its eyes"]])["right"]
    told = mark(key, question, ["360 lbf", "200 lbf", governs["the shackle"]])
    assert told["boxes"][1]["missteps"] == ["shackle-divided-again"] and not told["boxes"][2]["right"]


def test_one_tail_forgotten_on_the_sheet_of_the_trellis_wires():
    """1/8: 2400 - 60 + 2 (70 + 15 + 7) = 2524 mm; 9 pieces with a cut of 2 mm 22734 mm; 18 sleeves. Worked by hand."""
    question, key = _drawn("sheet-of-a-row-of-wires", lambda values: (
        values["thimble"]["size"], values["pin_to_pin"], values["tail"], values["kerf"], values["count"]) == (
            "1/8", 2400, 7, 2, 8), tries=60000)
    assert mark(key, question, ["2524 mm", "22734 mm", "18"])["right"]
    told = mark(key, question, ["2517 mm", "22734 mm", "16"])
    assert told["missteps"] == ["cut: one-tail-forgotten", "sleeves: trial-piece-forgotten"]


def test_what_is_left_on_a_reel():
    """36 m less 9 pieces of 2524 + 2 mm is 13266 mm; without the trial piece 15792. Worked by hand."""
    with_ = {"length_mm": 2524, "count": 8, "trial": 1, "reel_mm": 36000, "kerf_mm": 2}
    assert call("left_on_the_reel_mm", with_) == 13266
    assert call("left_on_the_reel_mm", with_ | {"trial": 0}) == 15792


# --- sleeves ----------------------------------------------------------------------------------

def test_intervals_by_the_pairing_table():
    for cable, sleeve, service, said in (
            ("galvanised", "aluminium", "outdoor", "every 12 months"),
            ("galvanised", "zinc-plated copper", "outdoor", "every 6 months"),
            ("stainless", "zinc-plated copper", "marine", "every 3 to 6 months, the first time after 3"),
            ("stainless", "aluminium", "dry", "not specified here at all"),
            ("galvanised", "aluminium", "marine", "not specified here at all"),
            ("stainless", "zinc-plated copper", "immersed", "not specified here at all"),
            ("galvanised", "aluminium", "dry", "use; the table sets no months")):
        assert call("interval_said", {"cable": cable, "sleeve": sleeve, "service": service}) == said


def test_what_the_sleeve_chart_does_not_list():
    cables = [{"en": f"{size} {make}", "size": size, "construction": make} for size, make in (
        ("1/8", "7x19"), ("7/32", "7x19"), ("1/8", "1x19"), ("3/16", "6x19"), ("3/32", "7x7"), ("3/64", "7x7"))]
    assert call("not_sleeved", {"cables": cables}) == ["7/32 7x19", "1/8 1x19", "3/16 6x19", "3/64 7x7"]
    assert call("size_of_chart_beside", {"size": "7/32", "side": "larger"}) == "1/4"
    with pytest.raises(Refusal):
        call("size_of_chart_beside", {"size": "1/4", "side": "larger"})


def test_aluminium_on_stainless_is_never_a_right_pair_anywhere():
    seen = 0
    for number in range(120):
        stream = Stream(SECRET, f"pairs {number}")
        drawn = draw(families()["pairs-that-may-hang"], stream, shop())
        right = {drawn.options[place].text for place in drawn.right}
        bad = [one.text for one in drawn.options if "aluminium sleeve on stainless" in one.text]
        seen += len(bad)
        assert not right & set(bad)
    assert seen > 20


@pytest.mark.parametrize(("cable_limit_n", "governs"), [(1000.0, "cable"), (3000.0, "shackle")])
def test_the_link_with_the_least_limit_governs_a_fitting_named_by_its_kind_too(cable_limit_n, governs):
    links = [{"kind": "shackle", "name": "shackle", "limit_n": 1200.0}, {"kind": "turnbuckle", "name": "turnbuckle S4", "limit_n": 1500.0}]
    assert call("weakest_named", {"cable_limit_n": cable_limit_n, "fittings": links}) == governs
    assert call("weakest_named", {"cable_limit_n": cable_limit_n, "fittings": [one | {"name": "S7"} for one in links]}) == governs
