"""Calculations of strength, mass, size and document that families of lessons 00, 01 and 02 name."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from typing import Any

from rigcalc.errors import Refusal
from rigcalc.questions.registry import _calculation

__all__: list[str] = []


def _neighbourhood(size: str) -> list[str]:
    """The size, where the table holds it, with its neighbours."""
    from rigcalc.cable import neighbours, sizes

    beside = neighbours(size)
    return [name for name in (beside[0], size if size in sizes() else None, beside[1]) if name]


@_calculation
def table_extract_said(size: str, system: str) -> str:
    """The strength table's rows of a size and its two neighbours, as they stand on the page."""
    near = _neighbourhood(size)
    return _rows_said(near[0], near[-1], system, _strengths())


@_calculation
def table_rows_said(first: str, second: str, system: str) -> str:
    """The strength table's rows from one size to another, in a shop's units, as they stand on the page."""
    return _rows_said(first, second, system, _strengths())


def _strengths() -> tuple:
    """What the rows on a page depend on, so that they are kept only as long as it stands."""
    from rigcalc.reference import table

    return tuple((row.size, row.construction, row.galvanised_lbf, row.stainless_lbf) for row in table("cable_strength"))


@lru_cache(maxsize=512)
def _rows_said(first: str, second: str, system: str, rows: tuple) -> str:
    low, high = sorted((Fraction(first), Fraction(second)))
    return "; ".join(_row_said(*row, system) for row in rows if low <= Fraction(row[0]) <= high)


def _row_said(size: str, construction: str, galvanised: Any, stainless: Any, system: str) -> str:
    from rigcalc.units import LBF_N, show_force

    def figure(pounds: Any) -> str:
        return "no figure" if pounds is None else show_force(Fraction(pounds) * LBF_N, system=system)

    return f"{size} {construction}: galvanised {figure(galvanised)}, stainless {figure(stainless)}"


@_calculation
def table_or_refused(size: str, construction: str, metal: str) -> float | None:
    """The named table's breaking force in N; None (refuse) where the table holds no such row."""
    from rigcalc.cable import breaking_force

    try:
        return breaking_force(size, construction, metal).force_n
    except Refusal:
        return None


@_calculation
def neighbour_force_n(size: str, metal: str, side: str) -> float:
    """The table's 7x19 breaking force, in N, of the next size below ('smaller') or above ('larger') a size."""
    from rigcalc.cable import breaking_force, neighbours

    name = neighbours(size)[0 if side == "smaller" else 1]
    if name is None:
        raise Refusal(f"a size {side} than {size}", "a size with a neighbour on that side", "take another size")
    return breaking_force(name, "7x19", metal).force_n


@_calculation
def strength_factor(construction: str) -> float:
    """The EN strength factor K of a construction."""
    from rigcalc._strength import en_factor

    return float(en_factor(construction).strength_k)


@_calculation
def force_by_factor_n(construction: str, diameter_mm: float, grade: float) -> float:
    """The least breaking force by the EN factors, K d² R, in N."""
    from rigcalc.cable import en_breaking_force_n

    return en_breaking_force_n(construction, diameter_mm, grade).force_n


@_calculation
def factor_times_diameter_n(construction: str, diameter_mm: float, grade: float) -> float:
    """K d R, in N: the sum of somebody who forgot to square the diameter."""
    return strength_factor(construction) * diameter_mm * grade


@_calculation
def mass_per_100m_kg(construction: str, size: str) -> float:
    """Mass of 100 m of bare cable by the EN mass factor, in kg, to three figures."""
    from rigcalc.cable import mass_kg

    return float(f"{mass_kg(construction, size, 100_000, 'EN'):.3g}")


@_calculation
def mass_of_lengths_kg(per_100m_kg: float, length_m: float, count: float = 1) -> float:
    """Mass of `count` lengths of cable, in kg, from the mass of 100 m."""
    return float(Fraction(str(per_100m_kg)) * Fraction(str(length_m)) * Fraction(str(count)) / 100)


@_calculation
def weight_n(mass_kg: float, g: float) -> float:
    """The weight of a mass in N: mass times g."""
    from rigcalc.cable import weight_n as weight

    return float(weight(mass_kg, g))


@_calculation
def mass_of_weight_kg(force_n: float, g: float) -> float:
    """The mass in kg whose weight is this force: force divided by g."""
    return float(Fraction(str(force_n)) / Fraction(str(g)))


@_calculation
def pounds_in(force_n: float) -> float:
    """The number of pounds-force in a force, without its unit."""
    from rigcalc.units import LBF_N

    return float(Fraction(force_n) / LBF_N)


@_calculation
def pounds_force_n(number: float) -> float:
    """So many pounds-force, in N."""
    from rigcalc.units import LBF_N

    return float(Fraction(str(number)) * LBF_N)


@_calculation
def wires_in(construction: str) -> int:
    """All wires of a construction, the core's strand counted, a fibre core not."""
    from rigcalc.cable import construction as named

    return named(construction).wires


@_calculation
def strands_in(construction: str) -> int:
    """The strands of a construction, a core strand of wire counted."""
    from rigcalc.cable import construction as named

    return named(construction).strands


@_calculation
def wires_per_strand(construction: str) -> int:
    """The wires in one strand of a construction."""
    from rigcalc.cable import construction as named

    return named(construction).wires_per_strand


@_calculation
def whom_to_ask(use: str) -> str:
    """Whom a customer is sent to with a use that is refused here."""
    from rigcalc.reference import table

    found = [row.ask for row in table("uses") if row.word == use and row.class_of_use == "refused"]
    if not found:
        raise Refusal(f"the use '{use}'", "a refused use of the table", "take its word from the table of uses")
    return found[0].partition(":")[0].removeprefix("ask ")


@_calculation
def each_of(items: list[dict[str, Any]], field: str) -> list[Any]:
    """One field of every drawn row, in their order."""
    return [item[field] for item in items]


@_calculation
def changed_places(items: list[Any], first: int, second: int) -> list[Any]:
    """The items with two of them, counted from 1, changed for each other."""
    row = list(items)
    row[first - 1], row[second - 1] = row[second - 1], row[first - 1]
    return row


@_calculation
def those_marked(items: list[dict[str, Any]], field: str, mark: str) -> list[str]:
    """The words (`en`) of the drawn rows whose field says `mark`."""
    return [item["en"] for item in items if str(item[field]) == mark]


@_calculation
def item_at(items: list[Any], place: int) -> Any:
    """The item at a place, counted from 1."""
    return items[place - 1]


@_calculation
def whom_each(items: list[dict[str, Any]], instead_of: str = "", take: str = "") -> list[str]:
    """Whom each refused order is sent to by its `use`; orders of one use sent wrongly to another's, where named."""
    return [whom_to_ask(take if item["use"] == instead_of else item["use"]) for item in items]


@_calculation
def each_with(items: list[dict[str, Any]], field: str, old: Any, new: Any) -> list[Any]:
    """One field of every drawn row, with one value put in place of another."""
    return [new if item[field] == old else item[field] for item in items]


@_calculation
def each_swapped(items: list[Any], first: Any, second: Any) -> list[Any]:
    """The items with two of them, named themselves, changed for each other."""
    other = {first: second, second: first}
    return [other.get(item, item) for item in items]


@_calculation
def those_not_marked(items: list[dict[str, Any]], field: str, mark: str) -> list[str]:
    """The words (`en`) of the drawn rows whose field says anything but `mark`."""
    return [item["en"] for item in items if str(item[field]) != mark]


@_calculation
def wires_without_middle(construction: str) -> int:
    """The wires of somebody who leaves out the middle strand; refuses a construction that has none."""
    from rigcalc.cable import construction as named

    built = named(construction)
    if built.core != "strand":
        raise Refusal(f"the middle strand of {construction}", "7x7 or 7x19", "take one of these")
    return built.wires - built.wires_per_strand


@_calculation
def force_by_factor_pounds_n(construction: str, diameter_mm: float, grade: float) -> float:
    """The force in N of somebody who writes the newtons of K d² R as pounds-force."""
    return pounds_force_n(force_by_factor_n(construction, diameter_mm, grade))


@_calculation
def pounds_called_newtons(mass_kg: float) -> float:
    """The number of pounds in a mass, written as newtons."""
    from rigcalc.units import POUND_KG

    return float(Fraction(str(mass_kg)) / POUND_KG)


@_calculation
def mass_times_g(per_100m_kg: float, length_m: float, count: float) -> float:
    """The weight in newtons of lengths of cable, as a bare number: 9.81 times their mass in kg."""
    return 9.81 * mass_of_lengths_kg(per_100m_kg, length_m, count)


@_calculation
def mass_as_feet_kg(per_100m_kg: float, length_m: float, count: float) -> float:
    """The mass in kg of somebody who takes the metres of each length as feet."""
    from rigcalc.units import FOOT_MM

    return mass_of_lengths_kg(per_100m_kg, length_m, count) * float(FOOT_MM) / 1000


@_calculation
def as_shown_down_n(force_n: float, system: str) -> float:
    """A limit as a tag shows it, rounded down, in N: to a whole lbf; in SI to 0.01 kN, below 1 kN to a whole N."""
    from rigcalc.units import LBF_N, in_unit, round_to

    if system == "US":
        return float(Fraction(round_to(in_unit(force_n, "lbf"), 1, "down")) * LBF_N)
    return float(round_to(in_unit(force_n, "N"), 10 if force_n >= 1000 else 1, "down"))


@_calculation
def certificate_n(table_n: float, part: float, system: str) -> float:
    """The force on an invented certificate, in N: a part of the table's, to a whole lbf or 0.01 kN; at 1 the table's own, not rounded."""
    from rigcalc.questions.registry import as_shown_n

    return table_n if part == 1 else as_shown_n(table_n * part, system)


@_calculation
def sizes_by_construction_said() -> str:
    """Which sizes the strength table holds, by construction, as it stands on the page."""
    from rigcalc.reference import table

    rows = table("cable_strength")
    found = [f"{built}: {', '.join(row.size for row in rows if row.construction == built)}." for built in ("7x7", "7x19")]
    return " ".join(found)


@_calculation
def source_that_counts(table_n: float, certificate_n: float, table: str, certificate: str) -> str:
    """Which of two papers, by the names given, holds the lower force."""
    return table if table_n < certificate_n else certificate
