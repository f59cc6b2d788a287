"""Breaking force: the inch table and the reel's certificate, the EN factors, and the two systems side by side."""

from __future__ import annotations

import math

from rigcalc._diameter import band_mm
from rigcalc._given import among, said
from rigcalc._records import record
from rigcalc._section import above_zero, construction, sleeve_construction
from rigcalc.errors import Refusal
from rigcalc.reference import Row, constant, table
from rigcalc.units import INCH_MM, LBF_N, UnitError, either_side, exact, read_size, show_force, size_inches

__all__ = ["METALS", "BreakingForce", "Reason", "SideBySide", "breaking_force", "en_breaking_force_n", "most_of_a_circle_n",
           "read_grades", "refuse_impossible", "two_systems", "wire_grades"]

METALS = ("galvanised", "stainless", "bright")


@record
class BreakingForce:
    """The breaking force that counts, in N, and the one or two figures that it was taken from."""

    force_n: float
    system: str
    source: str
    from_table_n: float | None
    from_certificate_n: float | None
    size: str = ""
    construction: str = ""
    metal: str = ""
    how_known: str = ""


@record
class Reason:
    """One reason why two systems differ, with its source and how it is known."""

    text: str
    source: str
    how_known: str


@record
class SideBySide:
    """The inch aircraft figure beside the EN factor's for the same diameter; `ratio` is the first over the second."""

    inch: BreakingForce
    en: BreakingForce
    ratio: float
    reasons: tuple[Reason, ...]


def breaking_force(size_name: str, construction_name: str, metal: str, certificate_n: float | None = None,
                   certificate: str | None = None) -> BreakingForce:
    """The breaking force in N of a cable to be pressed: the lower of the table and the reel's certificate.

    Parameters: inch size by name, construction, metal (galvanised, stainless, bright), the certificate's
    breaking force in N and its name. Range: the rows of the table, or any size with a certificate; 7x7 and 7x19.
    Errors: `Refusal` when neither speaks, off or between the table's sizes, with the neighbours named, and for a certificate
    above what any steel of that size could hold.
    Source: AC 43.13-1B Table 7-3, p 7-28 (7x7 only to 3/32); the reel's own certificate.

    >>> breaking_force("1/8", "7x19", "galvanised").force_n / float(LBF_N)
    2000.0
    """
    built = sleeve_construction(construction_name).designation
    if not among(metal, METALS):
        raise Refusal(f"the cable metal {said(metal)}", ", ".join(METALS), "read the metal from the reel's label")
    _refuse_other_sizes(size_name)
    from_certificate = _certified(certificate_n, certificate)
    if from_certificate is not None:
        refuse_impossible(from_certificate, float(size_inches(size_name) * INCH_MM), size_name)
    row = _table_row(size_name, built)
    from_table = _strength_n(row, metal)
    if from_table is None and from_certificate is None:
        raise _no_strength(size_name, built, metal)
    if from_certificate is not None and (from_table is None or from_certificate < from_table):
        force, system, source, known = from_certificate, "reel certificate", certificate if "certificate" in certificate.casefold() else f"certificate {certificate}", "read"
    else:
        force, system, source, known = from_table, "inch aircraft pattern", row.cited, row.how_known
    return BreakingForce(force, system, source, from_table, from_certificate, size_name, built, metal, known)


def wire_grades() -> tuple[int, ...]:
    """The wire grades offered for the EN factors, in N/mm2, smallest first.

    Source: ISO 10425 Table C.1 (1770 and 1960); 1570 from memory.

    >>> wire_grades()
    (1570, 1770, 1960)
    """
    return tuple(sorted(row.grade_n_mm2 for row in table("wire_grades")))


def read_grades() -> tuple[int, ...]:
    """The wire grades that were read, in N/mm2, smallest first: those from memory bound nothing.

    Source: ISO 10425 Table C.1.

    >>> read_grades()
    (1770, 1960)
    """
    return tuple(sorted(row.grade_n_mm2 for row in table("wire_grades") if row.how_known != "from memory"))


def most_of_a_circle_n(diameter_mm: float) -> float:
    """What no steel cable of that diameter in mm can hold, in N: its whole circle, solid, at the highest wire grade that was read.

    Of a cable's circle three quarters are steel at most (1x19, by geometry): harder wire, and a cable at the top of its band, stay below it too.
    Range: above zero. Errors: `Refusal` for any other. Source: geometry; ISO 10425 Table C.1.

    >>> round(most_of_a_circle_n(3.175))
    15518
    """
    return math.pi / 4 * float(above_zero(diameter_mm, "the diameter", "mm")) ** 2 * read_grades()[-1]


def refuse_impossible(certificate_n: float, diameter_mm: float, size_name: str) -> None:
    """Refuses a certificate's force in N that no steel of that diameter in mm could hold: a digit or a unit has slipped.

    Errors: `Refusal` above `most_of_a_circle_n`. Source: as there.

    >>> refuse_impossible(7900.0, 3.175, "1/8")
    """
    most_n = most_of_a_circle_n(diameter_mm)
    if certificate_n > most_n:
        raise Refusal(f"a certificate of {show_force(certificate_n)} for {size_name} cable",
                      f"at most {show_force(most_n, direction='down')}, a solid bar of that size at {read_grades()[-1]} N/mm², the highest wire grade read (ISO 10425, Table C.1): "
                      "a cable holds far less", "read the certificate and the label again: a digit or a unit has slipped, or the size is another")


def en_breaking_force_n(construction_name: str, diameter_mm: float, grade_n_mm2: float) -> BreakingForce:
    """The minimum breaking force of round carbon-steel rope by the EN factors: K d^2 R, in N.

    `diameter_mm`: nominal diameter in mm, 1 to 60. `grade_n_mm2`: rope grade in N/mm2, one of `wire_grades()`.
    Range: 7x7, 7x19 and, with a fibre core, 6x7 and 6x19. Errors: `Refusal` for any other. It says nothing of
    stainless cable, and a result with grade 1570 says that the grade is from memory.
    Source: EN 12385-4 factors, quoted in a technical note (read, second-hand).

    >>> en_breaking_force_n("7x19", 6.0, 1770).force_n
    23066.64
    """
    factor, diameter, grade = en_factor(construction_name), en_diameter(diameter_mm), _grade(grade_n_mm2)
    force = float(exact(factor.strength_k) * diameter * diameter * grade.grade_n_mm2)
    known = grade.how_known if grade.how_known == "from memory" else factor.how_known
    return BreakingForce(force, f"EN factors, grade {grade.grade_n_mm2}", f"{factor.cited}; grade: {grade.cited}", force, None,
                         f"{float(diameter):g} mm", factor.construction, "carbon steel", known)


def en_factor(construction_name: str) -> Row:
    built = construction(construction_name).designation
    for row in table("en_factors"):
        if row.construction == built:
            return row
    raise Refusal(f"EN factors for {built}", ", ".join(row.construction for row in table("en_factors")),
                  "take the strength from the reel's certificate")


def en_diameter(diameter_mm: float):
    """The diameter as an exact number, within the range of the EN factors here."""
    diameter = exact(diameter_mm)
    least, most = constant("smallest EN diameter").value, constant("largest EN diameter").value
    if not least <= diameter <= most:
        raise Refusal(f"the diameter {float(diameter):g} mm", f"{float(least):g} to {float(most):g} mm",
                      "take the figure from the reel's certificate")
    return diameter


def _grade(grade_n_mm2: float) -> Row:
    grade = exact(grade_n_mm2)
    for row in table("wire_grades"):
        if row.grade_n_mm2 == grade:
            return row
    raise Refusal(f"the wire grade {float(grade):g} N/mm²", ", ".join(map(str, wire_grades())),
                  "read the grade from the reel's certificate; nothing is read in between")


def two_systems(size_name: str, construction_name: str, metal: str, grade_n_mm2: float) -> SideBySide:
    """The inch table's breaking force beside the EN factor's for the same diameter, in N, and why they differ.

    Parameters: inch size by name, construction, metal (galvanised, stainless), wire grade in N/mm2 for the EN side.
    Range: the rows of the inch table. Errors: `Refusal` off them and for a grade that is not offered.
    Source: AC 43.13-1B Table 7-3; EN 12385-4 factors (read, second-hand); each reason has its own.

    >>> pair = two_systems("1/4", "7x19", "galvanised", 1770)
    >>> round(pair.ratio, 3), len(pair.reasons)
    (1.205, 6)
    """
    inch = breaking_force(size_name, construction_name, metal)
    diameter = exact(size_inches(size_name) * INCH_MM)
    en = en_breaking_force_n(construction_name, float(diameter), grade_n_mm2)
    return SideBySide(inch, en, inch.force_n / en.force_n, _reasons(inch, en, int(grade_n_mm2)))


def _reasons(inch: BreakingForce, en: BreakingForce, grade: int) -> tuple[Reason, ...]:
    factor = en_factor(inch.construction)
    least, most = band_mm(inch.size)
    thicker = (most / least) ** 2 - 1
    as_grade = inch.force_n / en.force_n * grade
    rows = [
        (f"Nominal diameter: inch aircraft cable is plus only, and {inch.size} may hold up to {100 * thicker:.0f} % more "
         "area than its name says; the factor counts the nominal diameter.", "AC 43.13-1B, Table 7-3, tolerance column", "computed"),
        (f"Wire: the inch table names no wire grade. Its figure is what the factor would give at {as_grade:.0f} N/mm² "
         f"against the {grade} chosen: {'harder wire, or more' if as_grade > grade else 'softer wire, or less'} of it.",
         "AC 43.13-1B, Table 7-3; EN 12385-4, factor table", "computed"),
        _loss(factor),
        ("Metal: " + _metal_words(inch), "AC 43.13-1B, Table 7-3; EN 12385-4, factor table", "judgement"),
        ("Kind of figure: the inch table holds least strengths of one specification, stepped size by size; the factor "
         "draws one smooth curve for all sizes. Neither is what a piece will break at.", "workbook judgement, two systems", "judgement"),
        ("Scope: ropes for aircraft control stand outside the general rope standard, so neither system was made to agree "
         "with the other.", "ISO 2408, scope", "read, in excerpt")]
    return tuple(Reason(*row) for row in rows)


def _loss(factor: Row) -> tuple[str, str, str]:
    if factor.area_c is None:
        return ("Laying loss: wires laid into a rope hold less than the same wires straight, and the two systems need not count it alike.",
                "Machinery's Handbook, 31st edition, p 2719: 80 to 95 %", "read")
    return (f"Laying loss: laid wires hold less than straight ones. The factor takes {100 * factor.strength_k / factor.area_c:.0f} % of the summed strength of the wires; "
            "a handbook gives 80 to 95 %. What the inch table takes is not said.",
            "EN 12385-4, factor table, K (for strength) divided by C (for metal); Machinery's Handbook, 31st edition, p 2719", "read, second-hand")


def _metal_words(inch: BreakingForce) -> str:
    if inch.metal == "stainless":
        carbon = _strength_n(_table_row(inch.size, inch.construction), "galvanised")
        return (f"the inch table gives stainless {100 * inch.force_n / carbon:.0f} % of galvanised in this size, while the grade on "
                "the other side is carbon steel's.")
    return "both sides speak of carbon steel; zinc adds diameter but no strength, and how much zinc differs."


def _refuse_other_sizes(size_name: str) -> None:
    """A metric or unreadable size is refused with the reason that reading it gives."""
    try:
        size_inches(size_name)
    except UnitError:
        read_size(size_name)
        raise


def _certified(certificate_n: float | None, certificate: str | None) -> float | None:
    if certificate_n is None:
        return None
    if not isinstance(certificate, str) or not any(map(str.isalnum, certificate)):
        raise Refusal("a certificate's force without the certificate's name", "the name or number of the certificate",
                      "write which certificate it stands on")
    return above_zero(certificate_n, "the certificate's breaking force", "N")


def _table_row(size_name: str, built: str) -> Row | None:
    rows = [row for row in table("cable_strength") if row.size == size_name and row.construction == built]
    return rows[0] if rows else None


def _strength_n(row: Row | None, metal: str) -> float | None:
    """Bright cable has no column: only its certificate speaks for it."""
    lbf = getattr(row, f"{metal}_lbf", None) if row else None
    return None if lbf is None else float(exact(lbf) * LBF_N)


def _no_strength(size_name: str, built: str, metal: str) -> Refusal:
    in_table = tuple(row.size for row in table("cable_strength")
                     if row.construction == built and _strength_n(row, metal) is not None)
    names = [f"{name}" for name in either_side(size_name, in_table) if name]
    nearest = f"{metal} {built} {' or '.join(names)}" if names else f"no {metal} {built} in the table"
    return Refusal(f"{metal} {built} cable of size {size_name} without a certificate",
                   f"{nearest}, or a reel with a breaking-force certificate",
                   "take a size that the table holds, or enter the reel's certificate; nothing is read in between")
