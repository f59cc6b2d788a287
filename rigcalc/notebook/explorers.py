"""The live figures of lesson 05.

What is shown is worked by plain functions (`tail_view`, `jaws_view`), so it can be tested without a browser.
"""

from __future__ import annotations

from dataclasses import replace

from rigcalc.errors import Refusal
from rigcalc.figures import faults, sleeve_stage
from rigcalc.figures.drawing import millimetres
from rigcalc.figures.faults import FAULTS
from rigcalc.figures.sections import TOUCHED, gauge_answer, verdict
from rigcalc.notebook import forming_an_eye as eye
from rigcalc.notebook.board import Board, Said, View, button, choice, slider
from rigcalc.pairing import pairing
from rigcalc.sleeve import chart_in_force
from rigcalc.units import read_size

__all__ = ["close_the_jaws", "jaws_step", "jaws_view", "press_the_eye", "pieces_step", "pieces_view", "six_pieces", "tail_view"]

TAILS = (0.5, 1.0, 1.5, 2.0, 2.5, 3.0)
CONTENTS = (("bare, right size", "bare"), ("coat left on", "coated"), ("a size too small", "too small"))


def check_reel(reel, charts) -> None:
    """Refuse a reel that cannot be given the lesson's aluminium sleeve: metal, size, coat, chart."""
    if reel.size == "unknown":
        raise Refusal(f"cable from the {reel.label}", "cable whose size, construction, metal and past are known",
                      "scrap it: nobody can know what it holds")
    read_size(reel.size)
    found = pairing(reel.metal, eye.SLEEVE_METAL, "outdoor")
    if not found.allowed:
        raise Refusal(f"an {eye.SLEEVE_METAL} sleeve on {reel.metal} cable", "a sleeve metal that may go with it",
                      f"do not press it. {found.reasons[0]}")
    if reel.coating_to:
        raise Refusal(f"coated cable ({reel.label})", "bare legs", "strip both legs, without a nicked wire, then size by the bare cable")
    chart_in_force([chart for chart in charts if any(row.size == reel.size for row in chart.rows)] or charts,
                   eye.SLEEVE_METAL, reel.size, _first_tool(charts, reel.size))


def _first_tool(charts, size: str):
    return next((chart.tool for chart in charts for row in chart.rows
                 if chart.sleeve_metal == eye.SLEEVE_METAL and row.size == size), None)


def tail_view(reel_id: str, tail: float, pressed: bool):
    """The eye in a reel's cable with a tail of so many diameters, before or after pressing, or the craft's refusal."""
    shop = eye.kit().shop
    reel = shop.reel(reel_id)
    try:
        check_reel(reel, shop.charts)
        one = next((k for k in eye.kits(shop) if k.size == reel.size), None)
        if one is None:
            raise Refusal(f"cable {reel.label}", "a size with sleeve lengths and a thimble in the shop file", "measure and enter them")
    except Refusal as refusal:
        return None, str(refusal), "no"
    before = tail * one.diameter_mm
    left = before - (one.row.sleeve_after_mm - one.row.sleeve_before_mm)
    figure = eye.eye(before, pressed, one)
    if not pressed:
        enough = tail >= 2
        words = f"Tail {millimetres(before, 1)}, that is {tail:g} d. " + (
            "Two diameters or more: mark it with a pen, then press." if enough else "Less than two diameters: stop, set a longer tail.")
        return figure, words, "ok" if enough else "no"
    if left > 0.05:
        return figure, f"{millimetres(left, 1)} of tail still shows" + (
            ": a pass so far, gauge every crimp next." if tail >= 2 else ", but it was set under two diameters. That it shows was luck: reject the piece. Next time look before the first stroke, and set the tail again."), "ok" if tail >= 2 else "no"
    return figure, f"The end is gone: it lies {millimetres(abs(left), 1)} inside the sleeve. Reject the piece.", "no"


def press_the_eye() -> Board:
    """Choose a reel and a tail, press, and look for the end."""
    k = eye.kit()
    reels = [(reel.label, reel.id) for reel in k.shop.reels]
    mine = next(reel.id for reel in k.shop.reels if (reel.size, reel.metal, reel.coating_to) == (k.size, eye.CABLE_METAL, None))

    def show(state: dict) -> View:
        figure, words, tone = tail_view(**state)
        return View((figure,) if figure else (), (
            choice("reel_id", "Cable", reels, state["reel_id"], as_list=True),
            slider("tail", "Tail", TAILS[0], TAILS[-1], TAILS[1] - TAILS[0], state["tail"], f"{state['tail']:g} d"),
            choice("pressed", "Jaws", (("before pressing", False), ("after pressing", True)), state["pressed"])), (Said(words, tone),))

    return Board("Set the tail, then press", {"reel_id": mine, "tail": 1.0, "pressed": False}, show)


def jaws_view(stage: int, content: str, upright: bool, pressed: int = 0, construction: str = "7x19", growth: float = 4 / 3):
    """The sleeve in section at a stage in percent, with what holds and what the gauge says; `pressed`, the furthest that the jaws were closed on it, stays."""
    part, opened = max(stage, pressed) / 100, stage / 100 if stage < pressed else None
    good, words = verdict(part, content, upright)
    if part > TOUCHED:
        words += " At the gauge: " + gauge_answer(part, upright)[1] + "."
    if part > 0.95 and upright and not good:
        words += " The gauge cannot see this fault."
    if opened is not None:
        words += " The jaws are opened again: the metal stays as it was pressed."
    figure = sleeve_stage(part, content, upright, construction, growth, gauge=part > TOUCHED, opened=opened)
    return replace(figure, caption=""), words, "ok" if good else "" if stage == 0 and upright and content == "bare" else "no"


def close_the_jaws() -> Board:
    """Close the jaws on right and wrong contents, upright and flat."""
    k = eye.kit()

    def show(state: dict) -> View:
        figure, words, tone = jaws_view(**state, construction=k.construction, growth=k.growth)
        return View((figure,), (
            slider("stage", "Jaws closed", 0, 100, 10, state["stage"], f"{state['stage']} %"),
            choice("content", "In the sleeve", CONTENTS, state["content"]),
            choice("upright", "The sleeve lies", (("upright", True), ("flat", False)), state["upright"]),
            button("fresh", "Take a fresh sleeve", bool(state["pressed"]), second=True)), (Said(words, tone),))

    return Board("Close the jaws", {"stage": 0, "content": "bare", "upright": True, "pressed": 0}, show, jaws_step)


def jaws_step(state: dict, name: str, value=None) -> dict:
    """Close or open the jaws, change what lies in them, or take a fresh sleeve. Metal that has moved stays moved."""
    if name == "fresh":
        return state | {"stage": 0, "pressed": 0}
    if name == "stage":
        return state | {"stage": value, "pressed": max(state["pressed"], value if value / 100 > TOUCHED else 0)}
    if state["pressed"] and value != state[name]:
        raise Refusal(f"{'a turn of' if name == 'upright' else 'other legs in'} a sleeve whose metal has moved", "a fresh sleeve", "take one: nothing makes this one new")
    return state | {name: value}


PIECES = ("crimp missing", "loose thimble", "buried tail", "pressed flat", "not closed", "crimp over the end")
ANSWERS = {"buried tail": "the tail is buried", "crimp missing": "a crimp is missing", "crimp over the end": "a crimp lies over the sleeve's end",
           "pressed flat": "it was pressed flat", "not closed": "a stroke was not finished", "loose thimble": "the thimble is loose", "nothing": "nothing: it is good"}
GAUGE = (("no", "no"), ("yes", "yes"), ("sometimes", "sometimes"))


def _so_far(state: dict) -> str:
    fault, gauge = state["fault"], state["gauge"]
    if not fault and not gauge:
        return f"Piece {state['piece']}; the chart says three crimps. What is wrong with it?"
    said = f"You say of piece {state['piece']}: {ANSWERS.get(fault, 'something')}" + (f"; the gauge sees it: {gauge}. " if gauge else ". ")
    return said + ("Press Now tell me." if fault and gauge else "What is wrong with it?" if gauge else "Would the gauge see it?")


def pieces_view(state: dict) -> View:
    """The six pieces, those told named; the controls ask of one what is wrong and whether the gauge would see it."""
    left = len(PIECES) - len(state["told"])
    words = state["said"] or ((_so_far(state), ""),)
    return View((faults(PIECES, tuple(state["told"]), state["piece"]),), (
        choice("piece", "Piece", tuple("ABCDEF"), state["piece"], as_list=True),
        choice("fault", "What is wrong with it?", tuple((text, name) for name, text in (("", "choose"), *ANSWERS.items())), state["fault"]),
        choice("gauge", "Would the gauge see it?", (("choose", ""), *GAUGE), state["gauge"]),
        button("say", "Now tell me", bool(state["fault"] and state["gauge"]))),
        tuple(Said(*one) for one in words) + ((Said("All six are told. Which of them did you have to look for twice?"),) if not left else ()))


def pieces_step(state: dict, name: str, value) -> dict:
    """Another piece, an answer, or the verdict on what was answered."""
    if name in ("piece", "point"):  # from the list, or on the drawing
        return state | {"piece": value, "fault": "", "gauge": "", "said": ()}
    if name != "say":
        return state | {name: value, "said": ()}
    true = PIECES["ABCDEF".index(state["piece"])]
    words, seen = FAULTS[true]
    seen_in_short = seen.partition(":")[0]
    found, gauged = state["fault"] == true, state["gauge"] == seen_in_short
    said = ((f"{'Right' if found else 'Not so'}: piece {state['piece']}, {true}. {' '.join(words.split())}.", "ok" if found else "no"),
            (f"{'Right' if gauged else 'Not so'} about the gauge. Does it see this? {seen.capitalize()}.", "ok" if gauged else "no"))
    return state | {"told": [*state["told"], *((true,) if true not in state["told"] else ())], "said": said}


def six_pieces() -> Board:
    """Six pieces to judge, each told when asked."""
    return Board("Six pieces on the bench", {"piece": "A", "fault": "", "gauge": "", "told": [], "said": ()}, pieces_view, pieces_step)
