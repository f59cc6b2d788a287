"""Metallic area, fill, mass and weight of a cable, each in a named system."""

from __future__ import annotations

import math

from rigcalc._given import among, said
from rigcalc._records import record
from rigcalc._section import above_zero, construction, wire_length_ratio
from rigcalc._strength import en_diameter, en_factor
from rigcalc.errors import Refusal
from rigcalc.reference import constant, table
from rigcalc.units import FOOT_MM, INCH_MM, POUND_KG, either_side, exact, size_inches

__all__ = ["AREA_SYSTEMS", "MASS_SYSTEMS", "Mass", "cable_mass", "fill_factor", "mass_kg", "metallic_area_mm2",
           "weight_n"]

AREA_SYSTEMS = ("geometry", "EN")
MASS_SYSTEMS = ("EN", "geometry", "inch table, from memory")


@record
class Mass:
    """A mass in kg, the system it was found in, and how that is known."""

    mass_kg: float
    system: str
    source: str
    how_known: str


def metallic_area_mm2(construction_name: str, diameter_mm: float, system: str = "geometry") -> float:
    """The area of steel in a cable, in mm2, lay left out.

    `diameter_mm`: diameter over the crowns in mm, 1 to 60. `system`: "geometry" (equal wires that touch: an upper
    bound, since real wires stand with clearance) or "EN" (the area factor C times d^2).
    Errors: `Refusal` for another system, and for EN where no area factor stands (3x7, 1x7, 1x19, 6x19).
    Source: geometry; EN 12385-4 factors, quoted in a technical note (read, second-hand).

    >>> round(metallic_area_mm2("7x19", 6.0), 2), round(metallic_area_mm2("7x19", 6.0, "EN"), 2)
    (16.71, 15.05)
    """
    return fill_factor(construction_name, system) * math.pi / 4 * float(en_diameter(diameter_mm)) ** 2


def fill_factor(construction_name: str, system: str = "geometry") -> float:
    """Metallic area over the area of the circle round the crowns; a pure number below 1.

    `system` as for `metallic_area_mm2`. Errors: as there.
    Source: geometry, N wires of d / k each: N / k^2; EN 12385-4, 4 C / pi; definition quoted from EN 12385-2.

    >>> round(fill_factor("7x7"), 4), round(fill_factor("7x7", "EN"), 3)
    (0.6049, 0.55)
    """
    built = construction(construction_name)
    if not among(system, AREA_SYSTEMS):
        raise _other_system(system, AREA_SYSTEMS)
    if system == "geometry":
        return built.wires / built.wires_across ** 2
    return 4 / math.pi * _factor(construction_name, "area_c", "area")


def mass_kg(construction_name: str, size: str | float, length_mm: float, system: str) -> float:
    """The mass of bare cable, in kg; `cable_mass` gives the same with its source.

    `size`: an inch size by name, or a diameter in mm (1 to 60). `length_mm`: length in mm. `system`: "EN" (mass
    factor W), "geometry" (area times wire length times the density of steel) or "inch table, from memory".
    Errors: `Refusal` for another system, or where it has no row. The inch table lies above the EN factor: 5 to 12 %
    from 1/8 up, up to 20 % below.
    Source: EN 12385-4 factors; geometry; MIL-DTL-83420 Table I from memory, which is why its name says so.

    >>> round(mass_kg("7x19", "1/8", 100_000, "EN"), 2)
    3.84
    """
    return cable_mass(construction_name, size, length_mm, system).mass_kg


def cable_mass(construction_name: str, size: str | float, length_mm: float, system: str) -> Mass:
    """The mass of bare cable with its system, source and how that is known; parameters and errors as `mass_kg`.

    `length_mm`: length in mm. Source: EN 12385-4 factors; geometry; MIL-DTL-83420 Table I, from memory.

    >>> cable_mass("7x19", "1/8", 1000, "inch table, from memory").how_known
    'from memory'
    """
    metres = float(exact(above_zero(length_mm, "the length", "mm")) / 1000)
    if not among(system, MASS_SYSTEMS):
        raise _other_system(system, MASS_SYSTEMS)
    if system == "inch table, from memory":
        return _from_table(construction_name, size, metres)
    diameter = float(en_diameter(float(size_inches(size) * INCH_MM) if isinstance(size, str) else size))
    if system == "EN":
        per_100m = _factor(construction_name, "mass_w", "mass") * diameter ** 2
        return Mass(per_100m * metres / 100, system, en_factor(construction_name).cited, en_factor(construction_name).how_known)
    _refuse_fibre(construction_name)
    steel = constant("steel density")
    square_m = metallic_area_mm2(construction_name, diameter) / 1e6
    return Mass(square_m * wire_length_ratio(construction_name).mean * metres * float(steel.value), system,
                f"geometry; {steel.cited}", "computed")


def _from_table(construction_name: str, size: str | float, metres: float) -> Mass:
    built = construction(construction_name).designation
    rows = {row.size: row for row in table("cable_mass") if row.construction == built}
    if not among(size, rows):
        size_inches(size)
        near = " or ".join(f"{built} {name}" for name in either_side(size, tuple(rows)) if name)
        raise Refusal(f"the mass of {built} of size {size}", near or "7x7 and 7x19", "take the mass from the maker's list, or weigh a piece")
    row = rows[size]
    per_metre = float(exact(row.lb_per_100ft) * POUND_KG / (100 * FOOT_MM / 1000))
    return Mass(per_metre * metres, "inch table, from memory", row.cited, row.how_known)


def _refuse_fibre(construction_name: str) -> None:
    if construction(construction_name).core == "fibre":
        raise Refusal(f"the mass of {construction_name} with a fibre core by geometry", "EN, where a mass factor stands",
                      "weigh a piece: the core's fibre and grease are not known")


def weight_n(mass_kg: float, g_m_s2: float) -> float:
    """The weight of a mass, in N: mass times the acceleration of free fall, which must be stated.

    `mass_kg` in kg, above 0. `g_m_s2` in m/s2, 9.7 to 9.9 (anywhere on the ground). Errors: `Refusal` outside.
    Source: statics.

    >>> weight_n(100, 9.80665)
    980.665
    """
    above_zero(mass_kg, "the mass", "kg")
    if not 9.7 <= exact(g_m_s2) <= 9.9:
        raise Refusal(f"free fall of {float(exact(g_m_s2)):g} m/s2", "9.7 to 9.9 m/s2", "state it, such as 9.80665")
    return float(exact(mass_kg) * exact(g_m_s2))


def _factor(construction_name: str, column: str, what: str) -> float:
    value = getattr(en_factor(construction_name), column)
    if value is None:
        held = ", ".join(row.construction for row in table("en_factors") if getattr(row, column) is not None)
        raise Refusal(f"the {what} of {construction_name} by EN factor", held, f"no {what} factor was read for it: ask the maker")
    return value


def _other_system(system: object, names: tuple[str, ...]) -> Refusal:
    return Refusal(f"the system {said(system)}", "; ".join(names), "name one of these: results carry their system")
