"""Cut list: which reel or offcut each piece comes from, with the fewest reels opened and then the least scrap.

Lengths are counted in whole tenths of a millimetre: pieces, kerf and keep length are rounded up to one, stock down.
"""

from __future__ import annotations

import re
import time
from collections import Counter
from collections.abc import Sequence
from fractions import Fraction

from rigcalc._cutlist_solver import Problem, Solution, holds, remainder, solve
from rigcalc._given import among, listed, of_kind, said, words
from rigcalc._records import record
from rigcalc.cable import METALS, construction
from rigcalc.errors import Refusal
from rigcalc.units import exact

__all__ = ["Cut", "CutList", "Material", "NotEnough", "Piece", "Stock", "StockCuts", "cut_list"]

TENTHS = 10  # in a millimetre
MOST_PIECES = 100_000  # of one kind


@record
class Material:
    """What is never mixed: inch size, construction, metal, and the size it is coated to (None when bare)."""

    size: str
    construction: str
    metal: str
    coated_to: str | None = None

    def __str__(self) -> str:
        bare = f"{self.size} {self.construction} {self.metal}"
        return f"{bare} coated to {self.coated_to}" if self.coated_to else bare


@record
class Piece:
    """`count` pieces of one cut length in mm, and how many trial pieces of the same length are cut before them."""

    name: str
    length_mm: float
    count: int
    material: Material
    trial: int = 0


@record
class Stock:
    """A reel, or an offcut, with its length in mm, measured from a square, sound end. An offcut needs its certificate."""

    id: str
    length_mm: float
    material: Material
    offcut: bool = False
    certificate: str | None = None


@record
class Cut:
    """`count` pieces alike from one stock; length of each in mm."""

    name: str
    length_mm: float
    count: int
    trial: bool = False


@record
class StockCuts:
    """What is cut from one reel or offcut, in order, and what becomes of the rest. Lengths in mm.

    `goes` is "back to stock", "scrap" or "nothing left". Pieces, kerf and remainder add up to the stock's length.
    """

    stock: Stock
    length_mm: float
    cuts: tuple[Cut, ...]
    cut_count: int
    kerf_mm: float
    remainder_mm: float
    goes: str


@record
class CutList:
    """The cut list of an order. Lengths in mm.

    `opened` reels, and the least that is proven; `scrap_mm`, and the least that is proven for so few reels;
    `gap` is the difference of the two scraps in parts of the length used; `best` when nothing better can exist.
    """

    stock: tuple[StockCuts, ...]
    opened: int
    opened_at_least: int
    scrap_mm: float
    scrap_at_least_mm: float
    gap: float
    best: bool
    used_mm: float
    kerf_mm: float
    back_to_stock_mm: float
    seconds: float
    notes: tuple[str, ...]


class NotEnough(Refusal):
    """The stock cannot give the order.

    `without` are the pieces that find no place, each as (how many, name, length in mm); `lacking_mm` in one length, kerf
    included, would do; `proven` is False where no list was found in the time given.

    >>> steel = Material("1/8", "7x19", "galvanised")
    >>> try:
    ...     cut_list([Piece("stay", 800.0, 3, steel)], [Stock("reel", 2000.0, steel)], 2, 100)
    ... except NotEnough as refusal:
    ...     refusal.without, refusal.lacking_mm
    (((1, "'stay'", 800.0),), 404.0)
    """

    def __init__(self, given: str, accepted: str, do: str, without: tuple[tuple[int, str, float], ...], lacking_mm: float, proven: bool = True) -> None:
        super().__init__(given, accepted, do)
        self.without, self.lacking_mm, self.proven = without, lacking_mm, proven


def cut_list(pieces: Sequence[Piece], stock: Sequence[Stock], kerf_mm: float, keep_mm: float, seconds: float = 10,
             aim: float = 0.0001) -> CutList:
    """Which reel or offcut each piece is cut from: the fewest reels opened, then the least scrap.

    When a kerf is paid: each piece is parted from the stock by one cut, which takes one kerf. Only a last piece that ends
    exactly where the stock ends needs no cut; and where less than a kerf is left behind the last piece, the cut takes
    that. Offcuts may be used and open no reel. A remainder of `keep_mm` or more goes back to stock and is no scrap.
    First-fit decreasing is the first answer, so the list is never worse; reels filled by subset sums and SciPy's
    mixed-integer solver look for better ones, and what they find is counted again in whole numbers.

    Parameters: `kerf_mm` per cut (0 or more) and `keep_mm` the shop's keep length (above 0), in mm; `seconds` the time
    limit; `aim` the gap, in parts of the length used, at which it stops looking (0: only when nothing better exists).
    Errors: `Refusal` for an offcut without a certificate, a name or id given twice, lengths or counts out of range, and
    an order that the stock cannot give: the pieces that lack cable are named, with how much.
    Source: common practice (keep length, offcuts by certificate); the arithmetic is one-dimensional cutting stock.

    >>> wire = Material("1/8", "7x19", "stainless")
    >>> found = cut_list([Piece("trellis wire", 2524, 8, wire, trial=1)], [Stock("R5", 30_000, wire)], kerf_mm=1, keep_mm=500)
    >>> found.opened, found.stock[0].cut_count, found.stock[0].remainder_mm, found.stock[0].goes
    (1, 9, 7275.0, 'back to stock')
    """
    began = time.perf_counter()
    kerf, keep = _tenths(kerf_mm, "the kerf", up=True, zero=True), _tenths(keep_mm, "the keep length", up=True)
    limit, gap = exact(seconds), exact(aim)
    if limit <= 0 or gap < 0:
        raise Refusal(f"{seconds} seconds and a gap of {aim}", "a time above 0 and a gap of 0 or more", "give both again")
    pieces, stock = listed(pieces, "the pieces", Piece), listed(stock, "the stock", Stock)
    _check(pieces, stock)
    materials = list(dict.fromkeys(piece.material for piece in pieces))
    lists, solutions = [], []
    for left, material in zip(range(len(materials), 0, -1), materials):
        job = _Job([piece for piece in pieces if piece.material == material], [each for each in stock if each.material == material], kerf, keep)
        share = (float(limit) - (time.perf_counter() - began)) / left
        found = job.solve(share, float(gap))
        lists += job.cuts(found)
        solutions.append(found)
    return _summary(lists, solutions, time.perf_counter() - began)


def _summary(lists: list[StockCuts], solutions: list[Solution], seconds: float) -> CutList:
    opened, least = sum(1 for each in lists if not each.stock.offcut), sum(found.reels_least for found in solutions)
    scrap = sum(exact(each.remainder_mm) for each in lists if each.goes == "scrap")
    scrap_least = Fraction(sum(found.scrap_least for found in solutions), TENTHS)
    used = sum(exact(cut.length_mm) * cut.count for each in lists for cut in each.cuts)
    gap = float((scrap - scrap_least) / used)
    notes = [f"gap {100 * gap:.3f} % of the length used"] if gap else []
    if opened > least:
        notes.append(f"{opened} reels opened; fewer than {least} is impossible, and {least} was not ruled out in the time given")
    return CutList(tuple(lists), opened, least, float(scrap), float(scrap_least), gap, opened == least and scrap == scrap_least, float(used),
                   float(sum(exact(each.kerf_mm) for each in lists)),
                   float(sum(exact(each.remainder_mm) for each in lists if each.goes == "back to stock")), seconds, tuple(notes))


class _Job:
    """The pieces and stock of one material, as a problem in whole tenths, and back again into names."""

    def __init__(self, pieces: list[Piece], stock: list[Stock], kerf: int, keep: int) -> None:
        self.pieces, self.stock = pieces, stock
        self.asked: Counter[int] = Counter()
        for piece in pieces:
            self.asked[_tenths(piece.length_mm, piece.name, up=True)] += piece.count + piece.trial
        lengths = sorted(self.asked, reverse=True)
        self.problem = Problem(tuple(lengths), tuple(self.asked[length] for length in lengths),
                               tuple(_tenths(each.length_mm, each.id, up=False) for each in stock),
                               tuple(not each.offcut for each in stock), kerf, keep)

    def solve(self, seconds: float, aim: float) -> Solution:
        """The best cuts; refused where a piece is longer than any stock, or finds no place."""
        most, longest = max(self.problem.lengths), max(self.problem.stock, default=0)
        if most > longest:
            raise NotEnough(f"{self._named(most)} of {most / TENTHS:g} mm in {self.pieces[0].material}",
                            f"no piece longer than the longest stock of it, {longest / TENTHS:g} mm" if longest else "a material that is in stock",
                            f"{(most - longest) / TENTHS:g} mm are lacking in one length: get a longer reel",
                            ((self.asked[most], self._named(most), most / TENTHS),), (most - longest) / TENTHS)
        found = solve(self.problem, seconds, aim)
        if found.cuts is None:
            raise self._lacking(found)
        return found

    def cuts(self, found: Solution) -> list[StockCuts]:
        """The solution under the pieces' own names, trial pieces first; refused where it does not hold."""
        if not holds(self.problem, found.cuts):
            raise Refusal("a cut list that does not add up", "every piece once and no stock over-full", "report this: nothing is cut from it")
        waiting = {length: [[piece, trial, count] for trial in (True, False) for piece in self.pieces
                            if _tenths(piece.length_mm, piece.name, up=True) == length and (count := piece.trial if trial else piece.count)]
                   for length in self.asked}
        return [self._from(which, row, waiting) for which, row in enumerate(found.cuts) if any(row)]

    def _from(self, which: int, row: tuple[int, ...], waiting: dict) -> StockCuts:
        cuts = []
        for length, count in zip(self.problem.lengths, row):
            while count:
                piece, trial, there = waiting[length][0]
                taken = min(count, there)
                cuts.append(Cut(piece.name, length / TENTHS, taken, trial))
                count -= taken
                waiting[length][0][2] -= taken
                if taken == there:
                    waiting[length].pop(0)
        left, whole = remainder(self.problem, which, row), self.problem.stock[which]
        pieces = sum(length * count for length, count in zip(self.problem.lengths, row))
        exactly = pieces + (sum(row) - 1) * self.problem.kerf == whole
        goes = "nothing left" if not left else "scrap" if left < self.problem.keep else "back to stock"
        return StockCuts(self.stock[which], whole / TENTHS, tuple(sorted(cuts, key=lambda cut: not cut.trial)), sum(row) - exactly,
                         (whole - pieces - left) / TENTHS, left / TENTHS, goes)

    def _lacking(self, found: Solution) -> NotEnough:
        """Which pieces find no place, and how much cable is lacking."""
        without = [(length, count) for length, count in zip(self.problem.lengths, found.unplaced) if count]
        named = " and ".join(f"{count} of {self._named(length)}, {length / TENTHS:g} mm" for length, count in without)
        sure = "" if found.proven else " (no list was found in the time given; that there is none is not proven)"
        return NotEnough(f"an order of {self.pieces[0].material} with no stock left for {named}{sure}",
                         f"stock with {found.lacking / TENTHS:g} mm more in one length, kerf included", "get another reel, or cut fewer pieces",
                         tuple((count, self._named(length), length / TENTHS) for length, count in without), found.lacking / TENTHS, found.proven)

    def _named(self, length: int) -> str:
        return " or ".join(f"'{piece.name}'" for piece in self.pieces if _tenths(piece.length_mm, piece.name, up=True) == length)


# --- checks ---------------------------------------------------------------------------------------------

def _tenths(length_mm: float, what: str, up: bool, zero: bool = False) -> int:
    """A length in whole tenths of a mm: rounded up for what is cut, down for what there is."""
    length = exact(length_mm) * TENTHS
    whole = -(-length // 1) if up else length // 1
    if whole < 0 or (not whole and not zero):
        raise Refusal(f"{length_mm} mm for {what}", "0 mm or more" if zero else "a length above 0 mm", "measure it again")
    return int(whole)


def _check(pieces: Sequence[Piece], stock: Sequence[Stock]) -> None:
    if not pieces:
        raise Refusal("an order without a piece", "at least one piece", "name the pieces")
    for kind, names in (("piece", [piece.name for piece in pieces]), ("stock", [each.id for each in stock])):
        for name, times in Counter(words(name, f"the name of a {kind}") for name in names).items():
            if times > 1:
                raise Refusal(f"the {kind} name {said(name)}, {times} times", "a name for each, once", "name each of them its own way")
    for piece in pieces:
        _check_material(piece.name, piece.material)
        for what, count, least in (("pieces", piece.count, 1), ("trial pieces", piece.trial, 0)):
            if isinstance(count, bool) or not isinstance(count, int) or not least <= count <= MOST_PIECES:
                raise Refusal(f"{said(count)} {what} of {said(piece.name)}", f"a whole number from {least} to {MOST_PIECES}", "count them again")
    for each in stock:
        _check_stock(each)


def _check_stock(stock: Stock) -> None:
    _check_material(stock.id, stock.material)
    if not isinstance(stock.offcut, bool):
        raise Refusal(f"{said(stock.offcut)} for offcut or not, of {said(stock.id)}", "True or False", "say which it is")
    if stock.offcut and not (isinstance(stock.certificate, str) and stock.certificate.strip()):
        raise Refusal(f"the offcut {said(stock.id)} without a certificate", "offcuts whose certificate is at hand",
                      "leave it out: cable of unknown history is scrap for this work")


def _check_material(name: str, material: Material) -> None:
    of_kind(material, Material, f"the material of {name}")
    inch = isinstance(material.size, str) and re.fullmatch(r"[0-9]+/[0-9]+", material.size)
    metric = isinstance(material.size, str) and re.fullmatch(r"[0-9]+(\.[0-9]+)? mm", material.size)
    if not (inch or metric) or not among(material.metal, METALS if inch else (*METALS, "carbon steel")) or not (
            material.coated_to is None or isinstance(material.coated_to, str) and material.coated_to.strip()):
        raise Refusal(f"the material {said(material)} of {said(name)}", "size, construction, metal, and what it is coated to", "read them from the label")
    construction(material.construction)
