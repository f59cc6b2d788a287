"""Cut lists: against enumeration, against first-fit decreasing, and every refusal."""

import itertools
import math
import re
from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from many import many

import rigcalc._cutlist_filling as filling
import rigcalc._cutlist_solver as solver
from rigcalc.cutlist import Cut, Material, NotEnough, Piece, Stock, cut_list
from rigcalc.errors import Refusal

WIRE = Material("1/8", "7x19", "stainless")
OTHER = Material("1/8", "7x19", "galvanised")
COATED = Material("3/32", "7x7", "galvanised", "3/16")
BARE = Material("3/32", "7x7", "galvanised")


def pieces_of(lengths, material=WIRE):
    return [Piece(f"p{n}", length, 1, material) for n, length in enumerate(lengths)]


def stock_of(reels, offcuts=(), material=WIRE):
    return ([Stock(f"reel {n}", length, material) for n, length in enumerate(reels)]
            + [Stock(f"offcut {n}", length, material, True, "C-7") for n, length in enumerate(offcuts)])


def rest(whole, cut, kerf):
    """What is left of a stock of whole mm, or None when it is over-full: the saw stops where the stock ends."""
    for n, length in enumerate(cut):
        whole -= length + (kerf if n else 0)
        if whole < 0:
            return None
    return max(0, whole - kerf) if cut else whole


def worth(stock, cuts, kerf, keep):
    """Reels opened and scrap, or None where a stock is over-full."""
    left = [rest(each.length_mm, cut, kerf) for each, cut in zip(stock, cuts)]
    if None in left:
        return None
    return (sum(1 for each, cut in zip(stock, cuts) if cut and not each.offcut), sum(r for r, cut in zip(left, cuts) if cut and r < keep))


def enumerated(lengths, stock, kerf, keep):
    """The best (reels, scrap) over every way to give each piece a stock; None when there is no way."""
    found = []
    for places in itertools.product(range(len(stock)), repeat=len(lengths)):
        cuts = [[length for length, place in zip(lengths, places) if place == which] for which in range(len(stock))]
        found.append(worth(stock, cuts, kerf, keep))
    return min((value for value in found if value is not None), default=None)


def least_lacking(lengths, stock, kerf):
    """The least length, a kerf for each piece, that finds no place."""
    least = math.inf
    for places in itertools.product(range(-1, len(stock)), repeat=len(lengths)):
        cuts = [[length for length, place in zip(lengths, places) if place == which] for which in range(len(stock))]
        if worth(stock, cuts, kerf, 1) is not None:
            least = min(least, sum(length + kerf for length, place in zip(lengths, places) if place < 0))
    return least


def first_fit(lengths, stock, kerf, keep):
    """First-fit decreasing, offcuts first, reels as listed."""
    cuts = [[] for _ in stock]
    order = sorted(range(len(stock)), key=lambda which: not stock[which].offcut)
    for length in sorted(lengths, reverse=True):
        for which in order:
            if rest(stock[which].length_mm, [*cuts[which], length], kerf) is not None:
                cuts[which].append(length)
                break
        else:
            return None
    return worth(stock, cuts, kerf, keep)


def check(found, asked):
    """Every piece placed, no stock twice or over-full, and no length lost."""
    placed = Counter()
    for each in found.stock:
        for cut in each.cuts:
            placed[(cut.name, cut.length_mm, cut.trial)] += cut.count
        taken = sum(cut.length_mm * cut.count for cut in each.cuts)
        assert taken + each.kerf_mm + each.remainder_mm == pytest.approx(each.length_mm, abs=1e-6)
        assert taken <= each.length_mm and each.remainder_mm >= 0
    assert placed == asked
    assert len({each.stock.id for each in found.stock}) == len(found.stock)
    assert found.opened == sum(1 for each in found.stock if not each.stock.offcut)
    total = sum(each.length_mm for each in found.stock)
    assert found.used_mm + found.kerf_mm + found.scrap_mm + found.back_to_stock_mm == pytest.approx(total, abs=1e-6)


# --- enumeration ----------------------------------------------------------------------------------------

@settings(max_examples=60, deadline=None)
@given(st.lists(st.integers(3, 12), min_size=1, max_size=6), st.lists(st.integers(8, 26), min_size=1, max_size=3),
       st.lists(st.integers(4, 14), max_size=1), st.integers(0, 2), st.integers(1, 9))
def test_enumeration_agrees(lengths, reels, offcuts, kerf, keep):
    stock = stock_of(reels, offcuts)
    best = enumerated(lengths, stock, kerf, keep)
    if best is None:
        with pytest.raises(Refusal) as refused:
            cut_list(pieces_of(lengths), stock, kerf, keep, aim=0)
        if max(lengths) <= max(reels + offcuts):
            more = float(re.search(r"stock with ([0-9.]+) mm more", str(refused.value))[1])
            assert more <= least_lacking(lengths, stock, kerf)
            longer = [[replace(one, length_mm=one.length_mm + more) if one is each else one for one in stock] for each in stock]
            assert any(enumerated(lengths, held, kerf, keep) is not None for held in longer)  # what it asks for is enough
            assert "not proven" not in str(refused.value)
        return
    found = cut_list(pieces_of(lengths), stock, kerf, keep, aim=0)
    assert (found.opened, found.scrap_mm) == best
    assert found.best and found.gap == 0 and (found.opened_at_least, found.scrap_at_least_mm) == best
    check(found, Counter((f"p{n}", length, False) for n, length in enumerate(lengths)))


def test_what_is_lacking_is_worked_out_from_the_best_list_and_not_from_first_fit():
    # First-fit puts 6 on the 9 and 5 on the 8 and leaves two of 3. Better: 6 on the 8 and 5 + 3 on the 9; then the other 3 lacks 2 mm: 6 + 1 + 3 = 10.
    with pytest.raises(NotEnough) as refused:
        cut_list(pieces_of([3, 3, 5, 6]), stock_of([8], [9]), 1, 1, aim=0)
    assert refused.value.lacking_mm == 2 and [count for count, _, _ in refused.value.without] == [1]


# --- first-fit decreasing -------------------------------------------------------------------------------

@settings(max_examples=many(5, 15), deadline=None)
@given(st.lists(st.tuples(st.integers(300, 3000), st.integers(1, 9)), min_size=1, max_size=8, unique_by=lambda one: one[0]),
       st.lists(st.integers(4000, 20_000), min_size=2, max_size=6), st.lists(st.integers(300, 4000), max_size=2), st.integers(0, 4))
def test_never_worse_than_first_fit(asked, reels, offcuts, kerf):
    stock = stock_of(reels, offcuts)
    plain = first_fit([length for length, count in asked for _ in range(count)], stock, kerf, 1000)
    pieces = [Piece(f"p{n}", length, count, WIRE) for n, (length, count) in enumerate(asked)]
    try:
        found = cut_list(pieces, stock, kerf, 1000, seconds=0.5)
    except Refusal:
        assert plain is None
        return
    assert plain is None or (found.opened, found.scrap_mm) <= plain
    assert found.opened_at_least <= found.opened and found.scrap_at_least_mm <= found.scrap_mm
    assert found.gap == pytest.approx((found.scrap_mm - found.scrap_at_least_mm) / found.used_mm)
    check(found, Counter({(f"p{n}", length, False): count for n, (length, count) in enumerate(asked)}))


def test_where_first_fit_leaves_a_piece_out():
    lengths = [500, 400, 400, 300, 300, 300]
    assert first_fit(lengths, stock_of([1100, 1100]), 0, 100) is None
    found = cut_list(pieces_of(lengths), stock_of([1100, 1100]), 0, 100)
    assert (found.opened, found.scrap_mm) == (2, 0)
    assert sorted(sorted(cut.length_mm for cut in each.cuts for _ in range(cut.count)) for each in found.stock) == [[300, 300, 500], [300, 400, 400]]


def test_fewer_reels_come_before_less_scrap():
    # two reels would leave nothing at all; one reel leaves 90 mm of scrap, and is opened alone
    found = cut_list(pieces_of([500, 410]), stock_of([500, 410, 1000]), 0, 100)
    assert ([each.stock.id for each in found.stock], found.opened, found.scrap_mm) == (["reel 2"], 1, 90)


def test_among_as_few_reels_the_least_scrap():
    found = cut_list(pieces_of([400]), stock_of([450, 460, 400, 470]), 0, 100)
    assert ([each.stock.id for each in found.stock], found.scrap_mm) == (["reel 2"], 0)
    found = cut_list(pieces_of([400]), stock_of([450, 500, 470]), 0, 100)  # or one that leaves enough to keep
    assert ([each.stock.id for each in found.stock], found.back_to_stock_mm) == (["reel 1"], 100)


def test_an_offcut_opens_no_reel():
    found = cut_list(pieces_of([400, 300]), stock_of([5000], [720]), 5, 100)
    assert ([each.stock.id for each in found.stock], found.opened, found.scrap_mm) == (["offcut 0"], 0, 10)


def test_reels_alike():
    found = cut_list([Piece("bar", 700, 9, WIRE)], stock_of([1500] * 8), 0, 200, aim=0)
    assert (found.opened, found.opened_at_least, found.scrap_mm) == (5, 5, 400)


# --- kerf, keep length and tenths -----------------------------------------------------------------------

@pytest.mark.parametrize("whole, cuts, kerf, left, goes", [
    (2002, 1, 2, 0, "nothing left"),       # the last piece ends with the reel: no cut for it
    (2003, 2, 3, 0, "nothing left"),       # less than a kerf is left: the last cut takes it
    (2004, 2, 4, 0, "nothing left"),
    (2005, 2, 4, 1, "scrap"),
    (2103, 2, 4, 99, "scrap"),
    (2104, 2, 4, 100, "back to stock"),    # the keep length itself is kept
])
def test_when_a_kerf_is_paid(whole, cuts, kerf, left, goes):
    found = cut_list([Piece("bar", 1000, 2, WIRE)], stock_of([whole]), 2, 100).stock[0]
    assert (found.cut_count, found.kerf_mm, found.remainder_mm, found.goes) == (cuts, kerf, left, goes)


def test_a_kerf_too_many():
    with pytest.raises(Refusal, match="no stock left for 1 of 'bar', 1000 mm was given; accepted: stock with 0.1 mm more in one length"):
        cut_list([Piece("bar", 1000, 2, WIRE)], stock_of([2001.9]), 2, 100)


def test_tenths_are_rounded_to_the_safe_side():
    found = cut_list([Piece("bar", 100.01, 3, WIRE)], stock_of([400.09]), 0.25, 50)
    assert found.stock[0].cuts == (Cut("bar", 100.1, 3),)
    assert (found.stock[0].length_mm, found.kerf_mm, found.back_to_stock_mm) == (400.0, 0.9, 98.8)
    exactly = cut_list([Piece("bar", 0.1, 3, WIRE)], stock_of([0.3]), 0, 1)  # 0.1 + 0.1 + 0.1 is 0.3
    assert (exactly.stock[0].cut_count, exactly.scrap_mm) == (2, 0)


# --- names, trials and materials ------------------------------------------------------------------------

def test_trial_pieces_are_cut_first():
    found = cut_list([Piece("brace", 2000, 2, WIRE), Piece("stay", 1000, 3, WIRE, trial=1)], stock_of([20_000]), 1, 500)
    assert found.stock[0].cuts == (Cut("stay", 1000, 1, trial=True), Cut("brace", 2000, 2), Cut("stay", 1000, 3))
    check(found, Counter({("brace", 2000, False): 2, ("stay", 1000, True): 1, ("stay", 1000, False): 3}))


def test_pieces_of_one_length_keep_their_names():
    found = cut_list([Piece("left", 800, 2, WIRE), Piece("right", 800, 3, WIRE)], stock_of([1700, 2500]), 1, 500)
    check(found, Counter({("left", 800, False): 2, ("right", 800, False): 3}))


@pytest.mark.parametrize("one, other", [(WIRE, OTHER), (BARE, COATED), (WIRE, Material("1/8", "7x7", "stainless")),
                                        (WIRE, Material("5/32", "7x19", "stainless"))])
def test_materials_are_never_mixed(one, other):
    asked = [Piece("a", 900, 2, one), Piece("b", 500, 2, other)]
    found = cut_list(asked, [Stock("A", 2000, one), Stock("B", 3000, other)], 1, 100)
    assert {each.stock.id: each.cuts[0].name for each in found.stock} == {"A": "a", "B": "b"}
    assert all(len(each.cuts) == 1 for each in found.stock)
    with pytest.raises(Refusal, match="a material that is in stock"):
        cut_list(asked, [Stock("A", 90_000, one)], 1, 100)


def test_two_materials_add_up():
    found = cut_list([Piece("a", 900, 2, WIRE), Piece("b", 500, 1, OTHER)], [Stock("A", 1850, WIRE), Stock("B", 560, OTHER)], 5, 100)
    assert (found.opened, found.scrap_mm, found.used_mm, found.kerf_mm) == (2, 95, 2300, 15)


# --- refusals -------------------------------------------------------------------------------------------

def test_an_offcut_without_a_certificate():
    for certificate in (None, "", "  ", 7):
        with pytest.raises(Refusal, match="the offcut 'bin' without a certificate"):
            cut_list(pieces_of([100]), [*stock_of([5000]), Stock("bin", 900, WIRE, True, certificate)], 1, 100)


def test_a_piece_longer_than_every_reel():
    with pytest.raises(Refusal, match="'p1' of 5200 mm in 1/8 7x19 stainless was given; accepted: no piece longer than the longest stock "
                                      "of it, 5000 mm; 200 mm are lacking"):
        cut_list(pieces_of([100, 5200]), stock_of([5000, 3000]), 1, 100)


def test_cable_is_lacking():
    with pytest.raises(Refusal, match="2 of 'brace', 600 mm was given; accepted: stock with 802 mm more in one length, kerf included"):
        cut_list([Piece("brace", 600, 4, WIRE)], stock_of([1000, 1000]), 1, 100)


def test_time_given_that_finds_nothing_says_so(monkeypatch):
    monkeypatch.setattr(solver, "filled", lambda *_: [])
    monkeypatch.setattr(solver, "_program", lambda *_: (None, 0, False))
    with pytest.raises(Refusal, match="that there is none is not proven"):
        cut_list(pieces_of([500, 400, 400, 300, 300, 300]), stock_of([1100, 1100]), 0, 100)


@pytest.mark.parametrize("change", [dict(length_mm=0), dict(length_mm=-5), dict(length_mm=math.nan), dict(length_mm="9"), dict(count=0),
                                    dict(count=True), dict(count=2.0), dict(trial=-1), dict(material="1/8"), dict(name=" "),
                                    dict(material=Material("", "7x19", "stainless"))])
def test_pieces_must_make_sense(change):
    asked = dict(name="a", length_mm=100, count=1, material=WIRE) | change
    with pytest.raises(Refusal):
        cut_list([Piece(**asked)], [Stock("A", 5000, WIRE), Stock("B", 5000, asked["material"])], 1, 100)


@pytest.mark.parametrize("change", [dict(length_mm=0), dict(length_mm=math.inf), dict(length_mm=None), dict(offcut=1), dict(id="")])
def test_stock_must_make_sense(change):
    with pytest.raises(Refusal):
        cut_list(pieces_of([100]), [Stock(**(dict(id="A", length_mm=5000, material=WIRE) | change))], 1, 100)


@pytest.mark.parametrize("change", [dict(kerf_mm=-1), dict(kerf_mm=math.nan), dict(keep_mm=0), dict(keep_mm="1"), dict(seconds=0),
                                    dict(seconds=math.inf), dict(aim=-0.1)])
def test_settings_must_make_sense(change):
    with pytest.raises(Refusal):
        cut_list(pieces_of([100]), stock_of([5000]), **(dict(kerf_mm=1, keep_mm=100) | change))


def test_names_are_given_once():
    with pytest.raises(Refusal, match="the piece name 'a', 2 times"):
        cut_list([Piece("a", 100, 1, WIRE), Piece("a", 200, 1, WIRE)], stock_of([5000]), 1, 100)
    with pytest.raises(Refusal, match="the stock name 'A', 2 times"):
        cut_list(pieces_of([100]), [Stock("A", 900, WIRE), Stock("A", 800, WIRE)], 1, 100)
    with pytest.raises(Refusal, match="at least one piece"):
        cut_list([], stock_of([5000]), 1, 100)
    with pytest.raises(Refusal, match="a material that is in stock"):
        cut_list(pieces_of([100]), [], 1, 100)


# --- what the solver says is counted again --------------------------------------------------------------

HARD = [Piece("a", 700, 5, WIRE), Piece("b", 450, 4, WIRE), Piece("c", 310, 6, WIRE)]
HARD_LENGTHS = [700] * 5 + [450] * 4 + [310] * 6
HARD_ASKED = Counter({("a", 700, False): 5, ("b", 450, False): 4, ("c", 310, False): 6})


def best_first_fit():
    return min(first_fit(HARD_LENGTHS, stock_of(reels), 2, 300) for reels in ([2500, 2600, 2700], [2700, 2600, 2500]))


@pytest.mark.parametrize("wrong", [((9, 9, 9),) * 3, ((0, 0, 0),) * 3, ((5, 4, 6), (0, 0, 0), (0, 0, 0)), ((-1, 4, 6), (6, 0, 0), (0, 0, 0)), ((5, 4, 6),)])
def test_a_wrong_answer_of_the_solver_is_dropped(monkeypatch, wrong):
    asked = []
    monkeypatch.setattr(solver, "filled", lambda *_: [wrong])
    monkeypatch.setattr(solver, "_program", lambda *_: (asked.append(1) or wrong, 0, False))
    found = cut_list(HARD, stock_of([2500, 2600, 2700]), 2, 300)
    assert asked and (found.opened, found.scrap_mm) == best_first_fit()
    check(found, HARD_ASKED)


def test_a_list_that_does_not_add_up_is_refused(monkeypatch):
    import rigcalc.cutlist as cutlist

    for wrong in (((5, 4, 6), (0, 0, 0), (0, 0, 0)), ((2, 1, 1), (2, 1, 2), (1, 1, 3))):  # over-full; a piece left out
        monkeypatch.setattr(cutlist, "solve", lambda *_: solver.Solution(wrong))
        with pytest.raises(Refusal, match="a cut list that does not add up"):
            cut_list(HARD, stock_of([2500, 2600, 2700]), 2, 300)


def test_without_time_the_first_answer_stands_and_says_its_gap(monkeypatch):
    monkeypatch.setattr(solver, "filled", lambda *_: [])
    found = cut_list(HARD, stock_of([2500, 2600, 2700]), 2, 300, seconds=1e-9)
    assert (found.opened, found.scrap_mm) == best_first_fit()
    assert found.scrap_mm > 0 and found.scrap_at_least_mm == 0 and not found.best
    assert found.gap == pytest.approx(found.scrap_mm / found.used_mm)
    assert found.notes == (f"gap {100 * found.gap:.3f} % of the length used",)
    check(found, HARD_ASKED)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.integers(3, 40), st.integers(1, 4)), min_size=1, max_size=5, unique_by=lambda one: one[0]), st.integers(0, 90), st.integers(0, 3))
def test_one_stock_is_filled_as_full_as_can_be(asked, room, order):
    """Every choice of counts, one by one, reaches no sum that is nearer to the room."""
    sizes, left = [size for size, _ in asked], [count for _, count in asked]
    kinds = list(range(len(sizes)))
    taken = filling._fullest(sizes, left, room, kinds[order:] + kinds[:order])
    sums = [sum(size * n for size, n in zip(sizes, counts)) for counts in itertools.product(*(range(count + 1) for count in left))]
    assert sum(size * n for size, n in zip(sizes, taken)) == max(total for total in sums if total <= room)
    assert all(0 <= n <= count for n, count in zip(taken, left))


def test_filled_reels_leave_nothing_where_first_fit_leaves_a_piece_out():
    # ten of 700 and ten of 300 are 10 000: five of each fill either reel
    problem = solver.Problem((700, 300), (10, 10), (5000, 5000), (True, True), 0, 100)
    lists = filling.filled(problem, 2, math.inf)
    assert lists and all(cuts == ((5, 5), (5, 5)) for cuts in lists)
    assert solver.first_fit(problem) is None
    assert filling.filled(problem, 2, ends=0) == []


def test_one_order_of_the_benchmark():
    import importlib.util
    from pathlib import Path

    spec = importlib.util.spec_from_file_location("measure_cut_list", Path(__file__).parent / "benchmarks" / "measure_cut_list.py")
    benchmark = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(benchmark)
    asked, reels = benchmark.order(6)
    total = sum(length * count for length, count in asked)
    assert (sum(count for _, count in asked), len(asked), len(reels)) == (200, 12, 10)
    assert 1.02 <= sum(reels) / total <= 1.1001
    found = cut_list([Piece(f"p{n}", length, count, WIRE) for n, (length, count) in enumerate(asked)], stock_of(reels), 2, 1000, seconds=3)
    assert found.gap <= 0.01 and (False, found.opened, found.scrap_mm) <= benchmark.first_fit_decreasing(asked, reels)


def test_so_many_pieces_of_one_kind_are_a_slip():
    for change in (dict(count=100_001), dict(count=10 ** 400), dict(trial=100_001)):
        with pytest.raises(Refusal, match="to 100000"):
            cut_list([Piece("a", 100, **{"count": 1, "material": WIRE} | change)], [Stock("R", 1000, WIRE)], 1, 100)
    with pytest.raises(Refusal, match="no stock left|lacking"):
        cut_list([Piece("a", 100, 100_000, WIRE)], [Stock("R", 1000, WIRE)], 1, 100)


@pytest.mark.parametrize("wrong", [dict(metal="x"), dict(metal=None), dict(size="6 mm", metal="x"), dict(size="banana"), dict(size="9 miles"),
                                   dict(construction="x"), dict(coated_to=5), dict(coated_to=" ")])
def test_a_material_is_read_from_a_label(wrong):
    from dataclasses import replace

    with pytest.raises(Refusal):
        cut_list([Piece("a", 100, 1, replace(WIRE, **wrong))], [Stock("R", 1000, replace(WIRE, **wrong))], 1, 100)
    metric = replace(WIRE, size="6 mm", metal="carbon steel")
    assert cut_list([Piece("a", 100, 1, metric)], [Stock("R", 1000, metric)], 1, 100).opened == 1
