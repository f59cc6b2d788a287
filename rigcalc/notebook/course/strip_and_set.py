"""Lesson 08, what a strip and the setting of a lap come to, in the words of a teacher."""

from __future__ import annotations

import math

from rigcalc.figures.coated import Stripped
from rigcalc.figures.drawing import millimetres
from rigcalc.layout import least_tail_mm
from rigcalc.notebook.board import Said
from rigcalc.reference import constant

__all__ = ["band_words", "judge", "set_wrong"]

BAND_LEAST_MM, BAND_MOST_MM = (float(constant(f"bare band, {end}").value) for end in ("least", "most"))


def band_words() -> str:
    """How much bare cable stays in sight at a mouth, in words.

    >>> band_words()
    '1 to 5 mm'
    """
    return f"{BAND_LEAST_MM:g} to {millimetres(BAND_MOST_MM, 0)}"


def judge(one: Stripped, diameter_mm: float) -> list[Said]:
    """What the strip of a cable with that bare diameter comes to, when the growth goes all to the loop or all to the tail: coat in the sleeve, a tail that vanishes, too much bare."""
    thin, most = BAND_LEAST_MM, BAND_MOST_MM
    inward, outward = one.bands(1.0), one.bands(0.0)
    faults = []
    for name in ("dead leg, loop side", "live leg, loop side"):
        if outward[name] < 0:
            faults.append(f"{name.capitalize()}: the sleeve sits on the coat before it is pressed.")
        elif inward[name] < 0:
            faults.append(f"{name.capitalize()}: the sleeve grew over the coat, {millimetres(-inward[name], 1)} of it.")
        elif inward[name] < thin:
            faults.append(f"{name.capitalize()}: only {millimetres(inward[name], 1)} stay bare. Too little to see.")
        elif inward[name] > most:
            faults.append(f"{name.capitalize()}: {millimetres(inward[name], 1)} stay bare, more than {millimetres(most, 0)}. Water gets in for nothing.")
    outer = outward["live leg, outer side"]
    if outer < 0:
        faults.append(f"Live leg, outer side: the sleeve grew over the coat, {millimetres(-outer, 1)} of it.")
    elif outer < thin:
        faults.append(f"Live leg, outer side: only {millimetres(outer, 1)} stay bare. Too little to see.")
    elif inward["live leg, outer side"] > one.tail + one.growth + most:
        faults.append("Live leg, outer side: bare far beyond the tail. Water gets in for nothing.")
    if one.tail < float(least_tail_mm(diameter_mm)) - 1e-9:
        faults.append(f"The tail was set at {millimetres(one.tail, 1)}: less than two diameters.")
    if outward["tail"] <= 0:
        faults.append("The sleeve grew over the tail: no end shows.")
    return [Said(words, "no") for words in faults] or [Said("Bare at every mouth, no coat in the sleeve, and the tail shows, whichever way the metal went.", "ok")]


def set_wrong(diameter_mm: float, gap_mm: float, tails_mm: dict[str, float], band_mm: tuple[float, float]) -> list[Said]:
    """What is to be set anew before a lap is pressed: each tail under two diameters by its side, a gap outside its band.

    >>> [one.text for one in set_wrong(2.38125, 7, {"left": 5, "right": 0}, (5.88, 8.26))]
    ['The right tail is 0 mm. Before pressing it is at least two diameters, 4.8 mm here: the sleeve grows over it.']
    """
    least, (low, high) = float(least_tail_mm(diameter_mm)), band_mm
    wrong = [f"The {side} tail is {millimetres(tail, 1)}. Before pressing it is at least two diameters, {_up(least)} here: the sleeve grows over it."
             for side, tail in tails_mm.items() if tail < least - 1e-9]
    if not low - 1e-9 <= gap_mm <= high + 1e-9:
        wrong.append(f"The gap is {millimetres(gap_mm, 1)}. Set it from {_up(low)} to {millimetres(math.floor(high * 10 + 1e-9) / 10, 1)}: what one sleeve grows, and one to two diameters more.")
    return [Said(words, "no") for words in wrong]


def _up(length_mm: float) -> str:
    return millimetres(math.ceil(length_mm * 10 - 1e-9) / 10, 1)
