"""Live figures of lesson 10 on what is held: a mast's stays, a gate's brace, a wire across a lane."""

from __future__ import annotations

import math
from dataclasses import replace

from rigcalc._order import refuse_class
from rigcalc.braces import Brace, MastStays, brace, mast_stays
from rigcalc.errors import Refusal
from rigcalc.figures import Figure
from rigcalc.figures.gates_and_lanes import gate_square_on, lane_across
from rigcalc.figures.hung_frames import stays_in_the_wind
from rigcalc.notebook import lesson
from rigcalc.notebook.board import Board, Said, View, button, choice, pick, slider
from rigcalc.notebook.course.hanging_boards import POINTED, who_governs
from rigcalc.notebook.course.hangings import INCH, degrees, gate, inches, lantern, length, pull, short, system
from rigcalc.notebook.teaching import of_order, of_the_scene
from rigcalc.spans import Span, parabola_against_catenary, point_load_span, uniform_load_span
from rigcalc.units import LBF_N, read_force_n, read_length_mm

__all__ = ["brace_the_gate", "gate_still", "gate_step", "gate_view", "hang_it_over_the_lane", "lane_step", "lane_still", "lane_view", "stays_step",
           "stays_still", "stays_view", "turn_the_wind"]

# Lengths of a state are in inches, as the sliders have them.

# --- a mast's stays -------------------------------------------------------------------------------

STAY_NAMES, WIND_N = ("A", "B", "C"), 60 * LBF_N
STAY_WAYS = (math.radians(90), math.radians(210), math.radians(330))
MAST_MM = float(read_length_mm("20 ft").value)  # order 6


def _stays(wind_from_deg: float) -> MastStays:
    """Three like stays to the mast's top, their anchors half as far out as the mast is high."""
    anchors = [(MAST_MM / 2 * math.cos(way), MAST_MM / 2 * math.sin(way)) for way in STAY_WAYS]
    return mast_stays(WIND_N, math.radians(wind_from_deg) + math.pi, MAST_MM, MAST_MM, anchors, STAY_NAMES)


def stays_view(state: dict) -> View:
    """The mast from above: point at a stay that goes slack; then each is drawn as it pulls."""
    found, named = _stays(state["wind"]), state["named"]
    pulls = [stay.tension_n if named else None for stay in found.stays]
    words = [("slack" if stay.slack else short(stay.tension_n)) if named else "" for stay in found.stays]
    figure = stays_in_the_wind(STAY_NAMES, STAY_WAYS, pulls, words, math.radians(state["wind"]), 60 * LBF_N, short(60 * LBF_N),
                               lambda shape, value, label: pick(shape, POINTED, value, label, value == named), named)
    controls = (slider("wind", "The wind comes from", 0, 355, 5, state["wind"], f"{WINDS[round(state['wind'] / 45) % 8]}, {state['wind']}°"),
                choice("named", "This stay goes slack", [("not said yet", ""), *STAY_NAMES], named))
    if not named:
        return View((figure,), controls, (Said(f"The wind pushes the mast with {pull(WIND_N)}. Which stay goes slack? Point at it."),))
    slack = " and ".join(found.slack)
    told = f"Slack: {slack}. {who_governs(found.governs, 'stay')}. {found.note}"
    if named in found.slack:
        return View((figure,), controls, (Said(f"Stay {named} would have to push, and a cable cannot. {told}", "ok"),))
    return View((figure,), controls, (Said(f"Stay {named} pulls: it stands nearer to where the wind comes from than any slack one. {told}", "no"),))


WINDS = ("the right", "top right", "the top", "top left", "the left", "bottom left", "the bottom", "bottom right")  # of the drawing, by 45 degrees


def stays_step(state: dict, name: str, value) -> dict:
    """A turn of the wind takes the answer away."""
    return {"wind": int(value), "named": ""} if name == "wind" else state | {"named": value}


def turn_the_wind() -> Board:
    """Turn the wind, and name the stay that goes slack."""
    return Board(of_the_scene("Turn the wind"), {"wind": 60, "named": ""}, stays_view, stays_step)


def stays_still() -> Figure:
    """The mast in one wind, its stays as they pull."""
    return stays_view({"wind": 20, "named": "B"}).figures[0]


# --- a gate's brace -------------------------------------------------------------------------------

def _gate_start() -> dict:
    wide, high, weight, _ = gate()
    return {"along": inches(wide), "up": 0, "post": inches(high), "at": 50, "weight": round(weight / LBF_N), "swung": "none", "shown": False, "told": ""}


def _brace(state: dict) -> Brace:
    """The brace as it stands; refused for a gate that people swing on, and where a cable would have to push."""
    refuse_class(replace(of_order("01_gate_brace"), movement=state["swung"]))
    wide, high, _, _ = gate()
    return brace((0.0, 0.0), *_ends(state), state["weight"] * LBF_N, (wide * state["at"] / 100, high / 2))


def _ends(state: dict) -> tuple[tuple[float, float], tuple[float, float]]:
    """Where the brace holds the gate and where it is anchored, in mm from the lower hinge."""
    return (state["along"] * INCH, state["up"] * INCH), (0.0, state["post"] * INCH)


def _gate_figure(state: dict, found: Brace | None, asked: str = "") -> Figure:
    """The gate drawn; where `asked`, these words stand in the place of the pull, and the brace's line does not tell it."""
    wide, high, _, _ = gate()
    shown = "no figure" if found is None else f"brace, {degrees(found.angle_rad)} from the horizontal: {asked or short(found.tension_n)}"
    drawn_n = 150 * LBF_N if asked else found and found.tension_n
    return gate_square_on(wide, high, *_ends(state), (wide * state["at"] / 100, high / 2),
                          short(state["weight"] * LBF_N), drawn_n, shown, 300 * LBF_N, "" if asked else short(300 * LBF_N), length)


def gate_view(state: dict) -> View:
    """The gate seen square on: its pull is asked for first; then where the brace holds and is anchored, what the weight makes of it, and what is refused."""
    wide, high, _, _ = gate()
    controls = (slider("along", "It holds the gate, along", 24, inches(wide), 6, state["along"], length(state["along"] * INCH)),
                slider("up", "It holds the gate, up", 0, inches(high), 3, state["up"], length(state["up"] * INCH)),
                slider("post", "Its anchor on the post", -6, 90, 3, state["post"], length(state["post"] * INCH)),
                slider("at", "Weight lies", 10, 90, 5, state["at"], f"{state['at']} % of the way from the hinge"),
                slider("weight", "Gate weighs", 40, 300, 10, state["weight"], pull(state["weight"] * LBF_N)),
                choice("swung", "Does anyone swing on it?", [("nobody", "none"), ("the children do", "swung on")], state["swung"]),
                button("show", "Show the pull", not state["shown"]), button("back", "As ordered", second=True))
    try:
        found = _brace(state)
    except Refusal as refusal:
        return View((_gate_figure(state, None),), controls, (Said(str(refusal), "no"),))
    if not state["shown"]:
        return View((_gate_figure(state, found, "how hard?"),), controls, (Said("How hard does the brace pull? More than the gate weighs, or less? Say it. Then show the pull, or move an end of the brace."),))
    weight, greatest = state["weight"] * LBF_N, read_force_n(of_order("01_gate_brace").greatest_tension)
    over = found.tension_n > greatest.value
    flat = found.angle_rad < math.radians(30)
    words = (f"The brace pulls {pull(found.tension_n)}, {found.tension_n / weight:.2f} times the gate's weight, at {degrees(found.angle_rad)} from the horizontal."
             + (" Flat, and not refused: nothing hangs from it. The shorter its lever arm about the hinge, the more an error of its ends changes the pull: measure them." if flat else "")
             + (f" The order says {greatest.shown} at most: this brace is not made." if over else ""))
    rows = [("lever arm of the brace about the lower hinge", length(found.lever_mm)), ("length between its bearing points", length(found.length_mm)),
            ("the post pushes the gate away with", pull(found.hinge_right_n)), ("the hinge holds the gate up with" if found.hinge_up_n >= 0 else "the hinge has to hold the gate down with", pull(abs(found.hinge_up_n)))]
    return View((_gate_figure(state, found),), controls, (Said(words, "no" if over else "ok"), *([Said(state["told"])] if state["told"] else [])), lesson.table(("Of the brace and the lower hinge", ""), rows))


AS_ORDERED = "All is back as the order has it."


def gate_step(state: dict, name: str, value) -> dict:
    """A move of the gate's controls."""
    if name == "back":
        return _gate_start() | {"shown": True, "told": AS_ORDERED}
    return state | ({} if name == "show" else {name: value}) | {"shown": True, "told": ""}


def brace_the_gate() -> Board:
    """Move the brace on gate and post."""
    return Board(of_the_scene("Brace the gate"), _gate_start(), gate_view, gate_step)


def gate_still(said: bool = True) -> Figure:
    """The gate and its brace as ordered; not `said`: no pull is told or drawn."""
    state = _gate_start()
    return _gate_figure(state, _brace(state), "" if said else "?")


# --- a wire across the lane -----------------------------------------------------------------------

LEAST_SAG, MOST_SAG = 0.75, 60  # inches: what the slider offers


def _lane_start(stated: bool = False) -> dict:
    wire = lantern()
    return {"kind": "point", "stated": stated, "sag": inches(wire.sag_mm), "span": inches(wire.span_mm), "rise": 0, "at": 50,
            "load": round(wire.load_n / LBF_N), "before": None, "told": "", "moved": False}


def _span(state: dict) -> Span:
    """The span as it stands; refused without its sag, and where the parabola may not be used."""
    sag, load = state["sag"] * INCH if state["stated"] else None, state["load"] * LBF_N
    span, rise = state["span"] * INCH, state["rise"] * INCH
    if state["kind"] == "point":
        return point_load_span(span, sag, load, span * state["at"] / 100, rise)
    return uniform_load_span(span, sag, load, rise)


def _lane_figure(state: dict, found: Span | None, asked: str = "") -> Figure:
    """The lane drawn; where `asked`, these words stand in the place of the pulls, and the wire's line does not tell them."""
    span = state["span"] * INCH
    at = span * state["at"] / 100 if state["kind"] == "point" else None
    thing = "lantern" if state["kind"] == "point" else "all along"
    shown = (asked or "?",) * 2 if found is None or asked else (short(found.left_n), short(found.right_n))
    return lane_across(span, state["sag"] * INCH if state["stated"] else None, state["rise"] * INCH, f"{thing}, {short(state['load'] * LBF_N)}", at,
                       (30 * LBF_N,) * 2 if asked else found and (found.left_n, found.right_n), shown, 100 * LBF_N, "" if asked else short(100 * LBF_N), length)


def lane_view(state: dict) -> View:
    """The lane with its wire: the sag is asked for; then the pull at both ends, who governs, and for a load all along parabola and catenary."""
    one = state["kind"] == "point"
    controls = [choice("kind", "The load", [("hangs at one place", "point"), ("is spread all along", "even")], state["kind"]),
                choice("stated", "The sag", [("the letter does not say", False), ("is stated", True)], state["stated"])]
    if state["stated"]:
        controls += [slider("sag", "Sag", LEAST_SAG, MOST_SAG, 0.25, state["sag"], length(state["sag"] * INCH)),
                     button("half", "Half the sag", state["sag"] / 2 >= LEAST_SAG), button("twice", "Twice the sag", state["sag"] * 2 <= MOST_SAG, second=True)]
    controls += [slider("span", "Span", 144, 480, 12, state["span"], length(state["span"] * INCH)),
                 slider("rise", "The right end is higher by", -72, 72, 6, state["rise"], length(state["rise"] * INCH))]
    if one:
        controls.append(slider("at", "It hangs", 10, 90, 5, state["at"], f"{state['at']} % of the way from the left"))
    controls += [slider("load", "Load", 1, 60, 1, state["load"], pull(state["load"] * LBF_N)), button("back", "As ordered", second=True)]
    try:
        found = _span(state)
    except Refusal as refusal:
        said = Said(_in_the_sliders_unit(refusal), "no") if state["moved"] else Said("The letter gives span and load. It does not say how far the wire may sag. How hard does it pull? Try to find out, then ask for what is missing.")
        return View((_lane_figure(state, None),), tuple(controls), (said,))
    return View((_lane_figure(state, found),), tuple(controls), _lane_words(state, found), _lane_table(state, found))


def _in_the_sliders_unit(refusal: Refusal) -> str:
    return str(refusal).replace("in mm", "in inches") if system() == "US" else str(refusal)


def _lane_words(state: dict, found: Span) -> tuple[Said, ...]:
    times = found.greatest_n / found.load_n
    said = [Said(f"{_end_words(found)}: {pull(found.greatest_n)}, {times:.1f} times the load.")]
    if state["before"]:
        said.insert(0, Said(f"The pull was {pull(state['before'])}; now it is {found.greatest_n / state['before']:.2f} times that."))
    if state["told"]:
        said.append(Said(state["told"]))
    if state["kind"] == "even":
        said.append(Said(parabola_against_catenary(found.span_mm, found.sag_mm, found.load_n, found.rise_mm).said))
    return tuple(said)


def _end_words(found: Span) -> str:
    return "Both ends pull alike" if len(found.governs) == 2 else f"The {found.governs[0]} end governs"


def _lane_table(state: dict, found: Span) -> lesson.Block:
    def upright(force: float) -> str:
        return f"{pull(abs(force))} {'down on the wall' if force >= 0 else 'up on the wall'}"

    rows = [("left", pull(found.left_n), degrees(found.left_angle_rad), pull(found.horizontal_n), upright(found.left_vertical_n)),
            ("right", pull(found.right_n), degrees(found.right_angle_rad), pull(found.horizontal_n), upright(found.right_vertical_n))]
    block = lesson.table(("End", "wire pulls", "at", "level, on the wall", "upright"), rows)
    if state["kind"] == "point":
        return block
    both = parabola_against_catenary(found.span_mm, found.sag_mm, found.load_n, found.rise_mm)
    more = lesson.table(("Shape", "level pull", "greatest pull", "length of the wire"),
                        [(span.shape, pull(span.horizontal_n), pull(span.greatest_n), length(span.length_mm)) for span in (both.parabola, both.catenary)],
                        "The same load as a cable's own weight: the catenary is exact")
    return lesson.Block(block.html + more.html, f"{block.text}\n{more.text}")


def lane_step(state: dict, name: str, value) -> dict:
    """A move of the lane's controls; what the wire pulled before is kept, so that the page can say how it changed."""
    if name == "back":
        return _lane_start(True) | {"told": AS_ORDERED}
    try:
        before = _span(state).greatest_n
    except Refusal:
        before = None
    if name in ("half", "twice"):
        return state | {"sag": state["sag"] * (0.5 if name == "half" else 2), "told": "", "before": before}
    return state | {name: value, "told": "", "moved": True, "before": before if name in ("sag", "load") and before else None}


def hang_it_over_the_lane() -> Board:
    """The wire across the lane; the sag is not stated at first."""
    return Board(of_the_scene("A wire across the lane"), _lane_start(), lane_view, lane_step)


def lane_still() -> Figure:
    """The lantern's wire as ordered; no pull is told or drawn."""
    state = _lane_start(True)
    return _lane_figure(state, _span(state), "?")
