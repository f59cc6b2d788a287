"""Drawings of the craft: every one carries words made from the same values."""

from __future__ import annotations

from rigcalc.figures.cable_parts import cable_parts
from rigcalc.figures.cables import cable_section, caliper_on_section
from rigcalc.figures.drawing import Drawing, Figure
from rigcalc.figures.eyes import crimp_places, cut_layout, eye_to_scale
from rigcalc.figures.faults import faults
from rigcalc.figures.lettered import lettered_eye
from rigcalc.figures.sections import sleeve_in_jaws, sleeve_stage, sleeve_stages
from rigcalc.figures.shapes import hangings, stays_from_above
from rigcalc.figures.threading import cable_ends, threaded

__all__ = ["Drawing", "Figure", "FIGURES", "cable_parts", "cable_section", "caliper_on_section", "crimp_places",
           "cut_layout", "eye_to_scale", "faults", "hangings", "lettered_eye", "sleeve_in_jaws", "sleeve_stage", "sleeve_stages",
           "stays_from_above", "cable_ends", "threaded"]

# The drawings a question may name.
FIGURES = {function.__name__: function for function in (
    cable_parts, cable_section, caliper_on_section, crimp_places, cut_layout, eye_to_scale, faults, hangings,
    lettered_eye, sleeve_in_jaws, sleeve_stage, sleeve_stages, stays_from_above)}
