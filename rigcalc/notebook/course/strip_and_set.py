"""Lesson 08, what a strip and the setting of a lap come to, in the words of a teacher."""

from __future__ import annotations

import math

from rigcalc._job_layout import BARE_BAND_MM
from rigcalc.figures.coated import Stripped
from rigcalc.figures.drawing import millimetres
from rigcalc.layout import least_tail_mm, tail_to_set_mm
from rigcalc.notebook.board import Said
from rigcalc.reference import constant

__all__ = ["BAND_RULE", "band_words", "judge", "longer_than_needed", "set_wrong", "what_came_of_it"]

BAND_LEAST_MM, BAND_MOST_MM = (float(constant(f"bare band, {end}").value) for end in ("least", "most"))


def band_words() -> str:
    """How much bare cable stays in sight at a mouth, in words.

    >>> band_words()
    '1 to 5 mm'
    """
    return f"{BAND_LEAST_MM:g} to {millimetres(BAND_MOST_MM, 0)}"


BAND_RULE = f"{band_words()} still bare at each mouth when all the metal has gone that way; where the tail is long, the live leg beside it may be stripped as far as the tail"


def judge(one: Stripped, diameter_mm: float) -> list[Said]:
    """What the strip of a cable with that bare diameter comes to: at each mouth by the growth that goes all towards it, and by the tail.

    Source: common practice (the band, `constants.csv`). Beside the tail the live leg may be bare as far as the tail is long: `strip_mm` strips both legs alike.
    """
    thin, most = BAND_LEAST_MM, BAND_MOST_MM
    inward, outward = one.bands(1.0), one.bands(0.0)
    faults = []
    for name in ("dead leg, loop side", "live leg, loop side"):
        if outward[name] < 0:
            faults.append(f"{name.capitalize()}: the sleeve sits on the coat before it is pressed.")
        elif inward[name] < 0:
            faults.append(f"{name.capitalize()}: the sleeve grew over the coat, {millimetres(-inward[name], 1)} of it.")
        elif inward[name] < thin:
            faults.append(f"{name.capitalize()}: only {millimetres(inward[name], 1)} stay bare when all the metal goes that way. Too little to see.")
        elif inward[name] > most:
            faults.append(f"{name.capitalize()}: {millimetres(inward[name], 1)} stay bare even when all the metal goes that way, more than {millimetres(most, 0)}. Water gets in for nothing.")
    before, outer = inward["live leg, outer side"], outward["live leg, outer side"]
    if before < 0:
        faults.append("Live leg, outer side: the sleeve sits on the coat before it is pressed.")
    elif outer < 0:
        faults.append(f"Live leg, outer side: the sleeve grew over the coat, {millimetres(-outer, 1)} of it.")
    elif outer < thin:
        faults.append(f"Live leg, outer side: only {millimetres(outer, 1)} stay bare when all the metal goes that way. Too little to see.")
    elif outer > most and before > one.tail + 1e-9:
        faults.append(f"Live leg, outer side: {millimetres(outer, 1)} stay bare even when all the metal goes that way, more than {millimetres(most, 0)}, and it is bare farther than the tail is long. Water gets in for nothing.")
    least = float(least_tail_mm(diameter_mm))
    if one.tail < least - 1e-9:
        faults.append(f"The tail was set at {millimetres(one.tail, 1)}: less than two diameters, {_up(least)} here, as on every eye.")
    if outward["tail"] <= 0:
        faults.append("The sleeve grew over the tail: no end shows.")
    asked = max(least, one.growth + BARE_BAND_MM)
    short = [Said(f"The tail is long enough to show. The job sheet asks for {_up(asked)} at least: growth and a band of {BARE_BAND_MM:g} mm, so that one length does for both legs.")]
    return [Said(words, "no") for words in faults] or [Said(
        f"Right. With all the metal to the loop, {millimetres(inward['dead leg, loop side'], 1)} of the dead leg and {millimetres(inward['live leg, loop side'], 1)} of the live leg stay bare there. "
        f"With all of it to the tail, {millimetres(outer, 1)} stay bare beside the tail{', and no farther than it was long' if outer > most else ''}, and {millimetres(outward['tail'], 1)} of the tail shows. Where the metal goes the other way more is bare: that is no fault.", "ok"), *(short if one.tail < asked - 1e-9 else [])]


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


def longer_than_needed(diameter_mm: float, growth_mm: float, tails_mm: dict[str, float]) -> list[Said]:
    """Each tail that is set more than a diameter longer than it has to be, with what would do: no fault.

    Source: common practice; no text read gives a tail a most.

    >>> [one.text for one in longer_than_needed(2.38125, 3.5, {"left": 5, "right": 25})]
    ['The right tail is 25 mm: longer than needed, 4.8 mm will do. No rule here gives a most, but the rest catches, and costs cable.']
    """
    least = tail_to_set_mm(diameter_mm, growth_mm)
    return [Said(f"The {side} tail is {millimetres(tail, 1)}: longer than needed, {_up(least)} will do. No rule here gives a most, but the rest catches, and costs cable.")
            for side, tail in tails_mm.items() if tail > least + diameter_mm]


def what_came_of_it(good: int, spoiled: int) -> str:
    """What a length of coated cable has come to so far, in words; an empty text before the first cut.

    >>> what_came_of_it(8, 0), what_came_of_it(1, 2)
    ('From this length: 8 good eyes, none spoiled.', 'From this length: 1 good eye, 2 spoiled.')
    """
    if not good + spoiled:
        return ""
    return f"From this length: {good or 'no'} good eye{'' if good == 1 else 's'}, {spoiled or 'none'} spoiled."


def _up(length_mm: float) -> str:
    return millimetres(math.ceil(length_mm * 10 - 1e-9) / 10, 1)
