"""The only place that reads or shows a quantity: sizes, lengths, forces and masses.

Inside the workbook a length is in mm, a force in N, a mass in kg. A unit is never implied, and what
could be read in two ways is asked, not guessed. Reading stands in `_typed`, rounding and showing in
`_quantities`; everybody takes them from here.
"""

from __future__ import annotations

from rigcalc._quantities import (
    FOOT_MM,
    GRAVITY_M_S2,
    INCH_MM,
    LBF_N,
    POUND_KG,
    AmbiguousInput,
    Reading,
    Size,
    UnitError,
    either_side,
    exact,
    in_unit,
    round_to,
    show_force,
    show_length,
    show_mass,
    show_measured,
    show_set_in_inches,
    size_inches,
)
from rigcalc._typed import read_force_n, read_length_mm, read_mass_kg, read_size

__all__ = ["AmbiguousInput", "FOOT_MM", "GRAVITY_M_S2", "INCH_MM", "LBF_N", "POUND_KG", "Reading", "Size",
           "UnitError", "either_side", "exact", "in_unit", "read_force_n", "read_length_mm", "read_mass_kg", "read_size",
           "round_to", "show_force", "show_length", "show_mass", "show_measured", "show_set_in_inches",
           "size_inches"]
