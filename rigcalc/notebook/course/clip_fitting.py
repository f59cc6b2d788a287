"""Lesson 04: one end fitted with clips by the reader. What a wrench has done to clip and cable stays done until the end is made anew."""

from __future__ import annotations

from collections.abc import Iterable

from rigcalc.clips import ClipPlan, published_rules, saddle
from rigcalc.figures import Figure
from rigcalc.figures.clipped import Clip, clipped_end
from rigcalc.notebook.board import Board, Said, View, button, choice, pick, slider
from rigcalc.notebook.course.clip_rows import base_mm, end, end_size, plan, row_mark, shown_mm, shown_nm
from rigcalc.notebook.course.plainly import NotYet
from rigcalc.notebook.teaching import of_the_scene
from rigcalc.units import read_size

__all__ = ["FRESH", "done_still", "drawn_end", "end_still", "even", "fit_the_clips", "judge", "letters", "widest_diameters"]

LETTERS = "ABCDEFGH"
NEAR = 0.1  # how far a torque may lie from the row's, as a share of it: workbook judgement
FRESH = {"clips": (), "at": 60.0, "saddle": "live", "wrench": 0.0, "loaded": False, "hurt": (), "judged": False}
# clips: (place from the dead end in mm, saddle on, torque in N m, torque after the load); hurt: (letter, place, "bitten" or "crushed", torque)


def drawn_end(clips, mark=None, **more) -> Figure:
    """The lesson's end with these clips on it, marked where its row is the invented shop's."""
    return clipped_end(end_size(), float(read_size(end_size()).diameter_mm), plan().turnback_mm, base_mm(), clips, mark, source=row_mark(), shown=shown_mm, **more)


def end_still() -> Figure:
    """The end as it is to be fitted, before the first clip."""
    return drawn_end(())


def done_still() -> Figure:
    """The end fitted well."""
    found = plan()
    return drawn_end([Clip(at) for at in found.places_mm or even(found)], spacing=True, base=True)


def even(found: ClipPlan) -> list[float]:
    """Places from the dead end in mm, evenly from the first clip to the one at the thimble."""
    first, last = base_mm() * 1.5, found.turnback_mm - base_mm() / 2
    return [first + (last - first) * at / (found.number - 1) for at in range(found.number)]


def widest_diameters() -> float:
    """The widest spacing that any published rule allows, in diameters of the cable."""
    return max(rule.value for rule in published_rules("spacing") if rule.bound == "at most")


def _widest_mm() -> float:
    """How far apart two clips may stand: as wide as a published rule allows; where the row's own turnback, spread evenly, asks for more, so far (and a tenth: workbook judgement)."""
    first, *others = even(plan())
    return max(widest_diameters() * float(read_size(end_size()).diameter_mm), (1 + NEAR) * (others[-1] - first) / len(others))


def letters(which: Iterable[str]) -> str:
    """Clips named in a sentence.

    >>> letters("B"), letters("ABC")
    ('B', 'A, B and C')
    """
    *before, last = [*which] or [""]
    return f"{', '.join(before)} and {last}" if before else last


# --- judged ------------------------------------------------------------------------------------

def judge(state: dict) -> list[Said]:
    """What a fitted end comes to: what is bitten or crushed alone, as all is made anew then; else saddles, number, places, torque, and the nuts after the load."""
    nuts = _slipped(state) or _nuts(state) or ["It was never loaded, so nobody knows that it holds."] * (not state["loaded"])
    faults = _hurt(state) or [*_turned(state), *_places(state), *nuts]
    return [Said(fault, "no") for fault in faults] or [Said("Nothing to mend: number, places, saddles, torque, load, torque again. Now the paint mark, and a date to look again.", "ok")]


def _hurt(state: dict) -> list[str]:
    bitten, crushed = ([one for one in state["hurt"] if one[2] == what] for what in ("bitten", "crushed"))
    faults = []
    if bitten:
        faults.append(f"{saddle('dead').says} It was {letters(f'{letter} at {shown_mm(at)}' for letter, at, *_ in bitten)}. Turning it mends nothing: fresh cable.")
    if crushed:
        clips = "That clip" if len(crushed) == 1 else "Those clips"
        faults.append(f"{shown_nm(max(one[3] for one in crushed))} at {letters(one[0] for one in crushed)}; the row says {shown_nm(plan().torque_nm)}. It crushes the cable and stretches the bolts. "
                      f"{clips} and the cable there are out, at any torque now.")
    return faults


def _turned(state: dict) -> list[str]:
    return [f"{LETTERS[at]} sits the wrong way round: its nuts are on the dead end. Nothing was tightened there, so nothing is bitten: turn it before you tighten."
            for at, (_, side, torque, _) in enumerate(state["clips"]) if side == "dead" and not torque]


def _places(state: dict) -> list[str]:
    found, base, faults = plan(), base_mm(), []
    places = sorted(one[0] for one in state["clips"])
    if len(places) < found.number:
        faults.append(f"{len(places)} clip{'' if len(places) == 1 else 's'}: {found.number} are the least for this cable and these clips.")
    gaps = [other - one for one, other in zip(places, places[1:])]
    if any(gap < found.spacing_mm - 1 for gap in gaps):
        faults.append(f"Two stand {shown_mm(min(gaps))} apart, less than six diameters, {shown_mm(found.spacing_mm, 'up')}.")
    if any(gap > _widest_mm() for gap in gaps) and len(places) >= found.number:
        faults.append(f"Two stand {shown_mm(max(gaps))} apart, far over six diameters, {shown_mm(found.spacing_mm, 'up')}{': even them out' if min(gaps) <= found.spacing_mm else ': bring them closer together'}.")
    if places and abs(places[0] - base * 1.5) > base * 0.4:
        faults.append(f"The edge of the first belongs one base of the clip from the dead end: its middle at {shown_mm(1.5 * base)}.")
    if places and found.turnback_mm - places[-1] > base * 0.9:
        faults.append("No clip sits close to the thimble: the loop can work.")
    return faults


def _slipped(state: dict) -> list[str]:
    """An end that was loaded while nuts were loose: what has slipped is made anew, whatever the nuts say afterwards."""
    if not state["loaded"]:
        return []
    clips, needed = state["clips"], plan().torque_nm
    loose = [(LETTERS[at], one[2]) for at, one in enumerate(clips) if one[2] < (1 - NEAR) * needed]
    if not loose:
        return []
    every, tightest = len(loose) == len(clips), max(torque for _, torque in loose)
    nuts = "the nuts" if every else f"the nuts of {letters(letter for letter, _ in loose)}"
    how = f"stood at {shown_nm(tightest)}" if len({torque for _, torque in loose}) == 1 else f"stood at {shown_nm(tightest)} at most"
    how = how if tightest else "were not tightened"
    slip = "The cable slips out of the clips." if every and not tightest else "The cable slips in the clips." if every else "The cable can slip, and nobody sees how far."
    return [f"It was loaded while {nuts} {how}; the row says {shown_nm(needed)}. {slip} Tightening now does not mend that. Take it apart and make it again: press Anew."]


def _nuts(state: dict) -> list[str]:
    """Nuts that are not at the torque now; what was too tight once stands among what is hurt."""
    clips, needed, faults = state["clips"], plan().torque_nm, []
    name, which = (" after the load", 3) if state["loaded"] else ("", 2)
    for torque in sorted({one[which] for one in clips}):
        those = [LETTERS[at] for at, one in enumerate(clips) if one[which] == torque]
        every = len(those) == len(clips)
        if not torque:
            faults.append(f"The nuts{'' if every else f' of {letters(those)}'} were not tightened{name}.")
        elif torque < (1 - NEAR) * needed:
            faults.append(f"{shown_nm(torque)}{'' if every else f' at {letters(those)}'}{name}: the row says {shown_nm(needed)}. Loose: it slips.")
    return faults


# --- the board ---------------------------------------------------------------------------------

def _stands(state: dict) -> str:
    """What is on, how tight, and what is in the hand."""
    clips, found = state["clips"], plan()
    wrench = f"The wrench is set to {shown_nm(state['wrench'])}."
    if not clips:
        return (f"{end_size()} in, drop-forged clips, turnback {shown_mm(found.turnback_mm)}, base of a clip {shown_mm(base_mm())}. "
                f"The row says {shown_nm(found.torque_nm)}. Fit them. {_hand(state)} {wrench}")
    tight = {one[3 if state["loaded"] else 2] for one in clips}
    nuts = "No nut is tight" if tight == {0.0} else f"All nuts at {shown_nm(max(tight))}" if len(tight) == 1 else \
        "Nuts: " + ", ".join(f"{LETTERS[at]} {shown_nm(one[2])}" if one[2] else f"{LETTERS[at]} not tight" for at, one in enumerate(clips))
    if not state["loaded"]:
        return f"{len(clips)} on. Point at one to turn it round. {nuts}{'' if len(tight) > 1 or tight != {0.0} else ' yet'}. {_hand(state)} {wrench}"
    if slipped := _slipped(state):
        return f"The load is off. {slipped[0]}"
    if state["hurt"]:
        return f"The load was on, and is off. This end was ruined before it, and no load should have come on it: that it held says nothing. I am done says what it is; then press Anew. {wrench}"
    if tight == {0.0}:
        return f"The load was on, and is off. The cable has stretched and got thinner: what about the nuts? {wrench}"
    return f"The load was on, and is off. After it: {nuts[:1].lower()}{nuts[1:]}. {wrench}"


def _hand(state: dict) -> str:
    return f"In your hand: a clip with its saddle on the {'live part' if state['saddle'] == 'live' else 'dead end'}."


def _show(state: dict) -> View:
    clips, loaded = state["clips"], state["loaded"]
    hurt = tuple((at, what) for _, at, what, _ in state["hurt"]) if state["judged"] else ()
    figure = drawn_end([Clip(at, side) for at, side, *_ in clips], pick, spacing=state["judged"], ghost_mm=None if loaded else state["at"], hurt=hurt)
    controls = (slider("at", "Dead end to clip's middle", 5.0, float(round(plan().turnback_mm)), 1.0, state["at"], shown_mm(state["at"])),
                choice("saddle", "Saddle and nuts on the", (("live part", "live"), ("dead end", "dead")), state["saddle"]),
                button("fit", "Fit a clip here", enabled=not loaded and len(clips) < len(LETTERS)), button("off", "Take the last one off", enabled=bool(clips) and not loaded, second=True),
                slider("wrench", "Wrench set to", 0.0, 40.0, 0.5 if plan().torque_nm * 2 % 1 == 0 else 0.1, state["wrench"], shown_nm(state["wrench"])), button("tighten", "Tighten all nuts, again" if loaded else "Tighten all nuts", enabled=bool(clips)),
                button("load", "Load it, and let off", enabled=bool(clips) and not loaded, second=True), button("judge", "I am done"),
                button("anew", "Anew: fresh cable, new clips", second=True))
    return View((figure,), controls, tuple(judge(state)) if state["judged"] else (Said(_stands(state)),))


def _tightened(state: dict) -> dict:
    """Every nut to the wrench's torque. A nut that is tighter stays so, and what is bitten or crushed is kept for good."""
    wrench, which = state["wrench"], 3 if state["loaded"] else 2
    if not wrench:
        raise NotYet(f"The wrench stands at {shown_nm(0)}. Set it to the torque first, then tighten.")
    clips = [(*one[:which], max(one[which], wrench), *one[which + 1:]) for one in state["clips"]]
    hurt = {(at, what): (letter, at, what, torque) for letter, at, what, torque in state["hurt"]}
    for letter, (at, side, *_) in zip(LETTERS, clips, strict=False):
        if side == "dead":
            hurt.setdefault((at, "bitten"), (letter, at, "bitten", wrench))
        if wrench > (1 + NEAR) * plan().torque_nm:
            hurt[at, "crushed"] = (letter, at, "crushed", max(wrench, hurt.get((at, "crushed"), (0,))[-1]))
    return state | {"clips": tuple(clips), "hurt": tuple(hurt.values()), "judged": False}


def _step(state: dict, name: str, value) -> dict:
    clips = state["clips"]
    if name == "fit":
        if any(abs(one[0] - state["at"]) < base_mm() for one in clips):
            raise NotYet("Another clip takes this place. Slide along the turnback to a free one.")
        return state | {"clips": (*clips, (state["at"], state["saddle"], 0.0, 0.0)), "judged": False}
    if name == "clip":
        if state["loaded"]:
            raise NotYet("The load was on this end. No clip of it is turned now: begin again with fresh cable, or bring the nuts to the torque.")
        at = LETTERS.index(value)
        turned = (clips[at][0], {"live": "dead", "dead": "live"}[clips[at][1]], 0.0, 0.0)
        return state | {"clips": (*clips[:at], turned, *clips[at + 1:]), "judged": False}
    if name == "off":
        return state | {"clips": clips[:-1], "judged": False}
    if name == "tighten":
        return _tightened(state)
    if name in ("load", "judge"):
        return state | ({"loaded": True, "judged": False} if name == "load" else {"judged": True})
    return dict(FRESH) if name == "anew" else state | {name: value, "judged": False}


def fit_the_clips() -> Board:
    """Fit every clip of one end: where, which way round, how tight, loaded and tightened again."""
    return Board(of_the_scene("Fit the clips", end()[1]), dict(FRESH), _show, _step)
