"""Live figure of lesson 10: a stiff frame on four plumb legs."""

from __future__ import annotations

import math

from rigcalc.errors import Refusal
from rigcalc.figures import Figure
from rigcalc.figures.hung_frames import hung_frame
from rigcalc.legs import Legs, symmetrical_legs, vertical_legs
from rigcalc.notebook.board import Board, Said, View, choice, slider
from rigcalc.notebook.course.hanging_boards import LETTERS, combinations_table, plain_notes, sized_words, who_governs
from rigcalc.notebook.course.hangings import length, pull, short
from rigcalc.notebook.teaching import of_the_scene
from rigcalc.units import LBF_N

__all__ = ["four_legs", "four_still", "four_view"]

FEET = ((0.0, 0.0), (2000.0, 0.0), (2000.0, 1000.0), (0.0, 1000.0))
FRAME_N = 400 * LBF_N
TOO_LONG = 5  # mm
WORKED = 1  # sized for the worst case, not by counting legs


def _centre(state: dict) -> tuple[float, float]:
    return state["along"] * 20.0, state["across"] * 10.0


def _hanging_on(left: tuple[int, ...], state: dict) -> Legs:
    return vertical_legs([FEET[i] for i in left], _centre(state), FRAME_N, names=[LETTERS[i] for i in left])


def _frame(state: dict) -> tuple[Legs, str]:
    """The frame's legs as it hangs, and what a leg that is too long makes of it: loose, or tight once the frame has tipped to its side."""
    if not state["long"]:
        return _hanging_on((0, 1, 2, 3), state), ""
    i = LETTERS.index(state["long"])
    facing, beside = (i + 2) % 4, tuple(sorted(((i + 1) % 4, (i + 3) % 4)))
    two = " and ".join(LETTERS[k] for k in beside)
    try:
        found = _hanging_on(tuple(sorted((*beside, facing))), state)
    except Refusal:  # the weight lies on its side of the line between its neighbours
        return _hanging_on(tuple(sorted((*beside, i))), state), (f"Leg {LETTERS[i]} is too long, but the weight lies on its side. The frame tips a little until {LETTERS[i]} is tight, "
                                                                 f"and hangs crooked. Now leg {LETTERS[facing]} hangs loose, and the other three carry.")
    if found[LETTERS[facing]].slack:
        return found, f"Leg {LETTERS[i]} is too long and hangs loose. Leg {LETTERS[facing]}, across from it, has nothing to hold either. Legs {two} carry all."
    return found, f"Leg {LETTERS[i]} is too long and hangs loose. The other three carry all."


def four_view(state: dict) -> View:
    """A stiff frame on four plumb legs: say first for how much each is sized, then see what each has now, and what it can get at worst."""
    counted = symmetrical_legs(FRAME_N, 4, math.pi / 2, angle_from="horizontal").counted
    options = [("not yet", 0), *((f"{pull(force)}: {on} carry", on) for on, force, _ in reversed(counted)), ("the worst case, worked leg by leg", WORKED)]
    controls = (choice("sized", "Each leg is sized for", options, state["sized"]),
                slider("along", "Centre of mass, along", 10, 90, 5, state["along"], f"{state['along']} % of the length"),
                slider("across", "Centre of mass, across", 10, 90, 5, state["across"], f"{state['across']} % of the width"),
                choice("long", f"Came out {length(TOO_LONG)} too long", [("none, they say", ""), *LETTERS], state["long"]))
    centre, full = _centre(state), 100 * LBF_N
    if not state["sized"]:
        figure = hung_frame(FEET, LETTERS, [None] * 4, [0.0] * 4, [""] * 4, centre, short(FRAME_N), full, short(full), length)
        return View((figure,), controls, (Said(f"A stiff frame of {pull(FRAME_N)} on four plumb legs. "
                                             + (f"Leg {state['long']} came out {length(TOO_LONG)} too long. " if state["long"] else "") + "For how much is each leg sized? Say it, then look."),))
    found, hangs = _frame(state)
    worst = _hanging_on((0, 1, 2, 3), state)
    now = {leg.name: leg for leg in found.legs}
    forces, most = ([getattr(now[name], part) if name in now else 0.0 for name in LETTERS] for part in ("tension_n", "most_n"))
    figure = hung_frame(FEET, LETTERS, forces, most, [sized_words(*both) for both in zip(forces, most)], centre, short(FRAME_N), full, short(full), length)
    said = [_four_words(worst, state["sized"], counted), *([Said(hangs)] if hangs else [])]
    if worst.combinations and (state["along"], state["across"]) != (50, 50):
        said.append(Said("The weight is out of the middle: no count of legs is a rule here. Work out each two and each three that can carry, and size every leg for the worst."))
    return View((figure,), controls, (*said, *plain_notes(worst)), combinations_table(worst) if worst.combinations else None)


def _four_words(worst: Legs, sized: int, counted) -> Said:
    top = max(leg.most_n for leg in worst.legs)
    governs = f"{who_governs(worst.governs)}, with up to {pull(top)}"
    if sized == WORKED:
        return Said(f"You size each for the worst case. {governs}: that is the size for every leg.", "ok")
    force, rests_on = next((force, words) for on, force, words in counted if on == sized)
    told = f"You sized each for {pull(force)} ({rests_on}). At worst: {governs[:1].lower()}{governs[1:]}: "
    return Said(told + "enough.", "ok") if top <= force * (1 + 1e-9) else Said(told + "too little.", "no")


def four_legs() -> Board:
    """Four plumb legs: say what each is sized for, move the centre of mass, let one come out too long."""
    return Board(of_the_scene("Four legs"), {"sized": 0, "along": 50, "across": 50, "long": ""}, four_view)


def four_still() -> Figure:
    """The frame with its weight in the middle: even, and in dark and pale what each can get."""
    return four_view({"sized": 2, "along": 50, "across": 50, "long": ""}).figures[0]
