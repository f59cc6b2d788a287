"""Cable: constructions, the true section, sizes and their measuring bands, breaking force, area and mass.

The parts stand in `_section`, `_diameter`, `_strength` and `_mass`; everybody takes them from here.
"""

from __future__ import annotations

from rigcalc._diameter import (
    Possibility,
    SizeReading,
    band_mm,
    flats_mistaken_for,
    flats_reading_mm,
    metric_band_mm,
    metric_sizes_agreeing,
    neighbours,
    possible_sizes,
    sizes,
    sizes_agreeing,
)
from rigcalc._mass import (
    AREA_SYSTEMS,
    MASS_SYSTEMS,
    Mass,
    cable_mass,
    fill_factor,
    mass_kg,
    metallic_area_mm2,
    weight_n,
)
from rigcalc._section import (
    Construction,
    LayerLength,
    Wire,
    WireLengths,
    construction,
    section,
    sleeve_construction,
    wire_length_ratio,
)
from rigcalc._strength import (
    METALS,
    BreakingForce,
    Reason,
    SideBySide,
    breaking_force,
    en_breaking_force_n,
    two_systems,
    wire_grades,
)

__all__ = ["AREA_SYSTEMS", "MASS_SYSTEMS", "METALS", "BreakingForce", "Construction", "LayerLength", "Mass", "Possibility",
           "Reason", "SideBySide", "SizeReading", "Wire", "WireLengths", "band_mm", "breaking_force", "cable_mass",
           "construction", "en_breaking_force_n", "fill_factor", "flats_mistaken_for", "flats_reading_mm", "mass_kg",
           "metallic_area_mm2", "metric_band_mm", "metric_sizes_agreeing", "neighbours", "possible_sizes", "section",
           "sizes", "sizes_agreeing", "sleeve_construction", "two_systems", "weight_n", "wire_grades", "wire_length_ratio"]
