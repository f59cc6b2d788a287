"""Constructions, the true section of a cable, and how much longer its wires are than the cable."""

from __future__ import annotations

import math

from rigcalc._given import among, said
from rigcalc._records import record
from rigcalc.errors import Refusal
from rigcalc.reference import Row, table
from rigcalc.units import exact

__all__ = ["Construction", "LayerLength", "Wire", "WireLengths", "construction", "section", "sleeve_construction",
           "wire_length_ratio"]


@record
class Construction:
    """How a cable is built: strands (a centre strand counts), wires, layers of one strand, core, lay lengths.

    `core` is "strand", "fibre", "none" (three strands lie round nothing) or "wire" (one strand alone).
    Lay lengths count in diameters of the cable; `lay_diameters` is the middle, taken for drawing. What it is made of and
    how long the lay is are known each in its own way.
    """

    designation: str
    strands: int
    wires_per_strand: int
    wires: int
    layers: tuple[int, ...]
    wires_across: float
    lay_diameters: float
    core: str
    least_lay: float
    most_lay: float
    source: str
    how_known: str
    lay_source: str
    lay_known: str


@record
class Wire:
    """One wire in the section: centre, half-axes of its ellipse, direction of the longer one, strand and layer."""

    x_mm: float
    y_mm: float
    major_mm: float
    minor_mm: float
    angle_rad: float
    strand: int
    layer: int


@record
class LayerLength:
    """The wires of one layer, in the core or in the outer strands, and their length for 1 of cable."""

    strand: str
    layer: int
    wires: int
    ratio: float


@record
class WireLengths:
    """Length of wire for 1 of cable, layer by layer, and the mean over all wires."""

    layers: tuple[LayerLength, ...]
    mean: float


def construction(designation: str) -> Construction:
    """The construction written on a reel, such as 7x19.

    Range: the rows of the table (7x7, 7x19, 3x7, 1x7, 1x19, 6x7, 6x19). Which of them a sleeve fits is asked of
    `sleeve_construction`. Errors: `Refusal` for any other.
    Source: AC 43.13-1B para 7-142; the row's own for the others.

    >>> construction("7x19").wires, construction("7x19").layers
    (133, (1, 6, 12))
    >>> construction("6x19").core
    'fibre'
    """
    for row in table("constructions"):
        if among(designation, (row.designation,)):
            return _built(row)
    raise _unknown(designation, [row.designation for row in table("constructions")], "read it from the reel's label")


def sleeve_construction(designation: str) -> Construction:
    """The construction of a cable that a hand-pressed sleeve fits: 7x7 or 7x19.

    Errors: `Refusal` for any other, known or not: one strand, three strands and fibre cores are not held.
    Source: common practice (hand-pressed sleeves are charted for 7x7 and 7x19).

    >>> sleeve_construction("7x7").wires
    49
    """
    fitting = [row for row in table("constructions") if row.sleeves == "yes"]
    for row in fitting:
        if among(designation, (row.designation,)):
            return _built(row)
    raise _unknown(designation, [row.designation for row in fitting],
                   "take one of these: hand-pressed sleeves fit no other cable")


def _built(row: Row) -> Construction:
    layers, lay = _layers(row.wires_per_strand), next(lay for lay in table("lays") if lay.construction == row.designation)
    return Construction(row.designation, row.strands, row.wires_per_strand, row.strands * row.wires_per_strand, layers,
                        _strands_across(row.strands) * (2 * len(layers) - 1), (lay.least_lay + lay.most_lay) / 2,
                        row.core, lay.least_lay, lay.most_lay, row.cited, row.how_known, lay.cited, lay.how_known)


def _unknown(designation: object, names: list[str], do: str) -> Refusal:
    return Refusal("cable of unknown construction" if among(designation, ("unknown",)) else f"the construction {said(designation)}", f"{', '.join(names[:-1])} and {names[-1]}", do)


def _layers(wires: int) -> tuple[int, ...]:
    layers = [1]
    while sum(layers) < wires:
        layers.append(6 * len(layers))
    return tuple(layers)


def _strands_across(strands: int) -> float:
    """Cable diameter in strand diameters: one alone, three that touch, six round one."""
    return {1: 1, 3: 1 + 2 / math.sqrt(3)}.get(strands, 3)


def section(designation: str, diameter_mm: float) -> tuple[Wire, ...]:
    """Every wire of a cable cut square across, for a drawing to scale; lengths in mm, angles in rad.

    `diameter_mm` is over the crowns, in mm. Wire centres stand where equal wires that touch stand. A wire that
    runs round is cut slantwise, so its section is an ellipse: the longer half-axis points along the lay and
    reaches its neighbours; the shorter, the wire's own half-thickness, is less by the slant: a slanted wire is drawn
    at most 17 % thinner than the middle one, so that nothing overlaps. Lay length: the middle of 6 to 8 diameters (3x7:
    5 to 8), of the cable for the strands and, for the drawing, of the strand for its wires. In the outer strands
    the wires run against the strand (regular lay). A fibre core is left empty: it has no wires. Strand 0 is the
    centre; outer strands count from 1.
    Source: AC 43.13-1B para 7-142; geometry. Errors: `Refusal` for a diameter that is not above zero.

    >>> wires = section("7x7", 9.0)
    >>> len(wires), wires[0].major_mm, wires[0].minor_mm
    (49, 0.5, 0.5)
    """
    built = construction(designation)
    try:
        diameter_mm = above_zero(diameter_mm, "the diameter", "mm")
    except Refusal:
        raise Refusal(f"the diameter {said(diameter_mm)} mm", "a diameter above 0 mm", "give the diameter over the crowns") from None
    wire_mm = diameter_mm / built.wires_across
    strand_mm = wire_mm * (2 * len(built.layers) - 1)
    reach_mm = _reach(built) * strand_mm
    slope = 2 * math.pi * reach_mm / (built.lay_diameters * diameter_mm)
    wires = _strand(built, 0, (0.0, 0.0), (0.0, 0.0), 1, wire_mm) if built.core in ("strand", "wire") else []
    outer = _outer_strands(built)
    for place in range(outer):
        turn = 2 * math.pi * place / outer
        centre = (reach_mm * math.cos(turn), reach_mm * math.sin(turn))
        wires.extend(_strand(built, place + 1, centre, (-slope * math.sin(turn), slope * math.cos(turn)), -1, wire_mm))
    return tuple(wires)


def _outer_strands(built: Construction) -> int:
    return built.strands - 1 if built.core in ("strand", "wire") else built.strands


def _reach(built: Construction) -> float:
    """From the cable's axis to an outer strand's, in strand diameters."""
    return {0: 0.0, 3: 1 / math.sqrt(3)}.get(_outer_strands(built), 1.0)


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


def wire_length_ratio(designation: str) -> WireLengths:
    """How much wire lies in 1 of cable, layer by layer, with the lays that the section is drawn with.

    A helix of radius r and lay L is longer than its axis by sqrt(1 + (2 pi r / L)^2). A wire of an outer strand
    runs round its strand while the strand runs round the cable: there it is the mean over one turn in the strand.
    Range: the constructions of the table; pure numbers. Errors: `Refusal` for any other construction.
    Source: geometry (helices; lay as in `section`).

    >>> lengths = wire_length_ratio("7x7")
    >>> [(row.strand, row.layer, row.wires, round(row.ratio, 3)) for row in lengths.layers]
    [('centre', 0, 1, 1.0), ('centre', 1, 6, 1.044), ('outer', 0, 6, 1.044), ('outer', 1, 36, 1.084)]
    >>> round(lengths.mean, 3)
    1.073
    """
    built = construction(designation)
    strands_slope = 2 * math.pi * _reach(built) / (built.lay_diameters * _strands_across(built.strands))
    rows = []
    for name, strands, drift in (("centre", built.strands - _outer_strands(built), 0.0),
                                 ("outer", _outer_strands(built), strands_slope)):
        for layer, count in enumerate(built.layers):
            slope = 2 * math.pi * layer / (built.lay_diameters * (2 * len(built.layers) - 1))
            if strands:
                rows.append(LayerLength(name, layer, strands * count, _mean_length(drift, slope)))
    return WireLengths(tuple(rows), sum(row.wires * row.ratio for row in rows) / built.wires)


def _mean_length(drift: float, slope: float) -> float:
    if not drift or not slope:
        return math.hypot(1, drift, slope)
    steps = 360  # a smooth closed curve: its mean over so many even steps is exact to the last digits of a float
    return sum(math.sqrt(1 + drift * drift + slope * slope + 2 * drift * slope * math.cos(2 * math.pi * step / steps))
               for step in range(steps)) / steps


def above_zero(value: float, what: str, unit: str, most: float = 1e9) -> float:
    """A number above zero and not absurdly large, or a refusal that names it."""
    number = exact(value)
    if not 0 < number <= most:
        accepted = f"a figure above 0 {unit}" if number <= 0 else f"at most {most:g} {unit}"
        raise Refusal(f"{what} {float(number):g} {unit}", accepted, "measure or read it again")
    return float(number)
