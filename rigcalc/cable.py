"""Cable: constructions, the true section, sizes and their measuring bands, and the breaking force."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rigcalc.errors import Refusal
from rigcalc.reference import Row, table
from rigcalc.units import INCH_MM, LBF_N, UnitError, either_side, exact, read_size, size_inches

__all__ = ["METALS", "BreakingForce", "Construction", "Wire", "band_mm", "breaking_force", "construction",
           "flats_reading_mm", "neighbours", "section", "sizes", "sizes_agreeing"]

METALS = ("galvanised", "stainless", "bright")


@dataclass(frozen=True)
class Construction:
    """How a cable is built: strands, wires in each strand, all wires, and the layers of one strand."""

    designation: str
    strands: int
    wires_per_strand: int
    wires: int
    layers: tuple[int, ...]
    wires_across: int
    lay_diameters: float


@dataclass(frozen=True)
class Wire:
    """One wire in the section: centre, half-axes of its ellipse, direction of the longer one, strand and layer."""

    x_mm: float
    y_mm: float
    major_mm: float
    minor_mm: float
    angle_rad: float
    strand: int
    layer: int


@dataclass(frozen=True)
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


def construction(designation: str) -> Construction:
    """The construction written on a reel, such as 7x19.

    Range: 7x7 and 7x19. Errors: `Refusal` for any other.
    Source: AC 43.13-1B para 7-142.

    >>> construction("7x19").wires, construction("7x19").layers
    (133, (1, 6, 12))
    """
    for row in table("constructions"):
        if row.designation == designation:
            return Construction(row.designation, row.strands, row.wires_per_strand,
                                row.strands * row.wires_per_strand, _layers(row.wires_per_strand),
                                row.wires_across, row.lay_diameters)
    raise Refusal(f"the construction {designation!r:.40}",
                  " and ".join(row.designation for row in table("constructions")),
                  "take one of these: hand-pressed sleeves fit no other cable")


def _layers(wires: int) -> tuple[int, ...]:
    layers = [1]
    while sum(layers) < wires:
        layers.append(6 * len(layers))
    return tuple(layers)


def section(designation: str, diameter_mm: float) -> tuple[Wire, ...]:
    """Every wire of a cable cut square across, for a drawing to scale; lengths in mm, angles in rad.

    `diameter_mm` is over the crowns, in mm. Wire centres stand where equal wires that touch stand. A wire that
    runs round is cut slantwise, so its section is an ellipse: the longer half-axis points along the lay and
    reaches its neighbours; the shorter is less by the slant. Lay length: the middle of 6 to 8 diameters, of
    the cable for the strands and, for the drawing, of the strand for its wires. In the outer strands the wires
    run against the strand (regular lay).
    Source: AC 43.13-1B para 7-142; geometry. Errors: `Refusal` for a diameter that is not above zero.

    >>> wires = section("7x7", 9.0)
    >>> len(wires), wires[0].major_mm, wires[0].minor_mm
    (49, 0.5, 0.5)
    """
    built = construction(designation)
    if not (isinstance(diameter_mm, (int, float)) and math.isfinite(diameter_mm) and diameter_mm > 0):
        raise Refusal(f"the diameter {diameter_mm!r:.30} mm", "a diameter above 0 mm", "give the diameter over the crowns")
    wire_mm = diameter_mm / built.wires_across
    strand_mm = wire_mm * (2 * len(built.layers) - 1)
    strand_slope = 2 * math.pi * strand_mm / (built.lay_diameters * diameter_mm)
    wires: list[Wire] = []
    for strand in range(built.strands):
        turn = (strand - 1) * math.pi / 3
        reach, slope, hand = (0.0, 0.0, 1) if strand == 0 else (strand_mm, strand_slope, -1)
        centre = (reach * math.cos(turn), reach * math.sin(turn))
        drift = (-slope * math.sin(turn), slope * math.cos(turn))
        wires.extend(_strand(built, strand, centre, drift, hand, wire_mm))
    return tuple(wires)


def _strand(built: Construction, strand: int, centre: tuple[float, float], drift: tuple[float, float],
            hand: int, wire_mm: float) -> list[Wire]:
    lay_mm = built.lay_diameters * wire_mm * (2 * len(built.layers) - 1)
    wires = []
    for layer, count in enumerate(built.layers):
        slope = hand * 2 * math.pi * layer * wire_mm / lay_mm
        for place in range(count):
            turn = 2 * math.pi * place / count
            across = (drift[0] - slope * math.sin(turn), drift[1] + slope * math.cos(turn))
            upright = 1 / math.sqrt(1 + across[0] ** 2 + across[1] ** 2)
            wires.append(Wire(centre[0] + layer * wire_mm * math.cos(turn), centre[1] + layer * wire_mm * math.sin(turn),
                              wire_mm / 2, wire_mm / 2 * upright, math.atan2(across[1], across[0]), strand, layer))
    return wires


# --- sizes and measuring ----------------------------------------------------------------------

def sizes() -> tuple[str, ...]:
    """The inch sizes of the strength table by name, smallest first.

    >>> sizes()[:4]
    ('3/64', '1/16', '3/32', '1/8')
    """
    return tuple(sorted({row.size for row in table("cable_strength")}, key=size_inches))


def neighbours(size_name: str) -> tuple[str | None, str | None]:
    """The next smaller and the next larger size of the table; None where there is none.

    >>> neighbours("7/64"), neighbours("1/8")
    (('3/32', '1/8'), ('3/32', '5/32'))
    """
    return either_side(size_name, sizes())


def band_mm(size_name: str) -> tuple[float, float]:
    """The least and the greatest diameter over the crowns that a size may measure, in mm.

    Aircraft cable is plus-only. Source: AC 43.13-1B Table 7-3, tolerance column.

    >>> [round(edge, 3) for edge in band_mm("1/8")]
    [3.175, 3.531]
    """
    plus = [row.tolerance_plus_in for row in table("cable_strength") if row.size == size_name]
    if not plus:
        raise _off_table(size_name)
    least = size_inches(size_name)
    return float(least * INCH_MM), float((least + exact(max(plus))) * INCH_MM)


def sizes_agreeing(reading_mm: float) -> tuple[str, ...]:
    """The sizes whose band holds a reading over the crowns, in mm; empty when none fits (flats, metric, coated, worn).

    >>> sizes_agreeing(3.30), sizes_agreeing(3.00)
    (('1/8',), ())
    """
    reading = _positive(reading_mm, "the reading", "mm")
    slack = 1e-9
    return tuple(name for name in sizes() if band_mm(name)[0] - slack <= reading <= band_mm(name)[1] + slack)


def flats_reading_mm(diameter_mm: float) -> float:
    """What a caliper reads, in mm, across the flats of a cable with six outer strands: (1 + sqrt 3) / 3 of the crowns.

    `diameter_mm` is over the crowns, in mm. Errors: `Refusal` unless it is above zero.
    Source: geometry, six equal strands round one (0.911 d).

    >>> round(flats_reading_mm(4.7625) / 25.4, 3)
    0.171
    """
    return _positive(diameter_mm, "the diameter", "mm") * (1 + math.sqrt(3)) / 3


# --- strength ---------------------------------------------------------------------------------

def breaking_force(size_name: str, construction_name: str, metal: str, certificate_n: float | None = None,
                   certificate: str | None = None) -> BreakingForce:
    """The breaking force in N: the lower of the table and the reel's certificate.

    Parameters: inch size by name, construction, metal (galvanised, stainless, bright), the certificate's
    breaking force in N and its name. Range: the rows of the table, or any size with a certificate.
    Errors: `Refusal` when neither speaks, or off or between the table's sizes, with the neighbours named.
    Source: AC 43.13-1B Table 7-3, p 7-28 (7x7 only to 3/32); the reel's own certificate.

    >>> breaking_force("1/8", "7x19", "galvanised").force_n / float(LBF_N)
    2000.0
    """
    built = construction(construction_name).designation
    if metal not in METALS:
        raise Refusal(f"the cable metal {metal!r:.40}", ", ".join(METALS), "read the metal from the reel's label")
    _refuse_other_sizes(size_name)
    from_certificate = _certified(certificate_n, certificate)
    row = _table_row(size_name, built)
    from_table = _strength_n(row, metal)
    if from_table is None and from_certificate is None:
        raise _no_strength(size_name, built, metal)
    if from_certificate is not None and (from_table is None or from_certificate < from_table):
        force, system, source = from_certificate, "reel certificate", f"certificate {certificate}"
    else:
        force, system, source = from_table, "inch aircraft pattern", row.cited
    return BreakingForce(force, system, source, from_table, from_certificate, size_name, built, metal)


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
    if not (certificate or "").strip():
        raise Refusal("a certificate's force without the certificate's name", "the name or number of the certificate",
                      "write which certificate it stands on")
    return _positive(certificate_n, "the certificate's breaking force", "N")


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


def _off_table(size_name: str) -> Refusal:
    names = [name for name in neighbours(size_name) if name]
    return Refusal(f"the size {size_name}", " or ".join(names), "take a size that the table holds")


def _positive(value: float, what: str, unit: str) -> float:
    number = exact(value)
    if number <= 0:
        raise Refusal(f"{what} {value} {unit}", f"a figure above 0 {unit}", "measure or read it again")
    return float(number)
