"""Live figures of lesson 02: two systems, from grade to force, load and stretch, mass and force, the table's gaps."""

from __future__ import annotations

from rigcalc.cable import breaking_force, cable_mass, en_breaking_force_n, two_systems, weight_n, wire_grades
from rigcalc.errors import Refusal
from rigcalc.figures import Figure
from rigcalc.figures.load_and_stretch import mass_and_force, stretch_band
from rigcalc.notebook import lesson
from rigcalc.notebook.board import Board, Said, View, button, choice, pick, slider
from rigcalc.notebook.course import strengths as st
from rigcalc.notebook.course.deliveries import GRADE, force_words, least_words, short
from rigcalc.reference import table
from rigcalc.units import GRAVITY_M_S2, LBF_N

__all__ = ["from_grade_to_force", "load_and_stretch", "mass_still", "mass_of_a_length", "pick_a_size", "stretch_still", "two_systems_beside"]

SIZES = ("1/16", "3/32", "1/8", "3/16", "1/4", "5/16", "3/8")


# --- Two systems ----------------------------------------------------------------------------------

def systems_view(state: dict) -> View:
    """Both systems for one cable; figures and reasons after a guess."""
    controls = (choice("size", "Size", SIZES, state["size"], as_list=True), choice("made", "Construction", ("7x19", "7x7"), state["made"]),
                choice("metal", "Metal of the reel", ("galvanised", "stainless"), state["metal"]),
                choice("grade", "Wire grade of the other system, N/mm²", wire_grades(), state["grade"]),
                choice("guess", "Higher will be", [("I have not said yet", ""), ("the inch table", "inch"), ("the EN factor", "en")], state["guess"]))
    try:
        pair = two_systems(state["size"], state["made"], state["metal"], state["grade"])
    except Refusal as refusal:
        return View((st.ladder(state["made"], state["metal"]),), controls, (Said(_no_row(state["size"], state["made"], refusal), "no"),))
    figure, reasons = st.beside(state["size"], state["made"], state["metal"], state["grade"], bool(state["guess"]))
    if not state["guess"]:
        rack = "" if any(reel.size == state["size"] for reel in st.reels()) else f" No reel of {state['size']} in stands on this rack: these are published figures."
        return View((figure,), controls, (Said(f"Say first which one will be higher. Then the figures come, and the reasons.{rack}"),))
    higher = "inch" if pair.ratio > 1 else "en"
    said = (f"The {'inch table' if higher == 'inch' else 'EN factor'} is the higher here: the inch table has {abs(pair.ratio - 1):.0%} "
            f"{'more' if higher == 'inch' else 'less'} than the factor.").replace("%", " %")
    under = lesson.table(("Why they differ", "from", "how known"), [(one.text, one.source, one.how_known) for one in reasons])
    known = Said(f"Grade {state['grade']} is {'from memory: never a figure to sign for' if pair.en.how_known == 'from memory' else 'read in a table'}.")
    return View((figure,), controls, (Said(said, "ok" if state["guess"] == higher else "no"), known), under)


def _no_row(size: str, made: str, refusal: Refusal) -> str:
    """Why the chart says nothing of a size, and where it has a row; a metric cable has no inch neighbour."""
    if "mm" in size:
        return f"Refused: the chart has no row for {size}. {refusal.do[:1].upper()}{refusal.do[1:]}."
    return (f"Refused: the chart has no row for {size} {made}. The nearest: {refusal.accepted.partition(', or a reel')[0]}. "
            "From those nothing is read: only this reel's own certificate could speak.")


def guess_step(state: dict, name: str, value) -> dict:
    """A move; another cable or grade asks for a new guess."""
    return state | ({} if name == "guess" else {"guess": ""}) | {name: value}


def two_systems_beside() -> Board:
    """One cable in two systems, and the reel's certificate."""
    return Board("One cable, two systems", {"size": "3/16", "made": "7x19", "metal": "galvanised", "grade": GRADE, "guess": ""}, systems_view, guess_step)


# --- From grade to force --------------------------------------------------------------------------

ASK = ("Step 1 of 3: lay a square round the cable.", "Step 2 of 3: how much of the square counts?", "Step 3 of 3: what does each square millimetre hold?")


def grade_view(state: dict) -> View:
    """d times d, times the factor, times the grade: one step at a time; a change shows against what stood before."""
    controls = (choice("made", "Construction", ("7x7", "7x19"), state["made"]), slider("d", "Diameter", 1, 10, 0.5, state["d"], f"{state['d']:g} mm"),
                choice("grade", "Wire grade, N/mm²", wire_grades(), state["grade"]), button("next", "Next step", state["reached"] < 3),
                button("double", "Twice as thick", state["reached"] == 3 and state["d"] <= 5), button("again", "From the beginning", second=True))
    figure = st.steps_figure(state["made"], state["d"], state["grade"], state["reached"])
    if state["reached"] < 3:
        said = [Said(f"{state['made']}, {state['d']:g} mm, wire of grade {state['grade']} N/mm². {ASK[state['reached']]}")]
    else:
        found = en_breaking_force_n(state["made"], state["d"], state["grade"])
        said = [Said(f"{least_words(found.force_n)} ({found.how_known}). It is the least that the factor lets a maker print, so it is rounded down; and it is no limit.")]
        if state["before"]:
            said.append(Said(f"That is {found.force_n / state['before']:.2f} times what stood there before."))
    return View((figure,), controls, tuple(said), st.steps_table(state["made"], state["d"], state["grade"], state["reached"]) if state["reached"] else None)


def grade_step(state: dict, name: str, value) -> dict:
    """A step, a change, or from the beginning."""
    if name == "next":
        return state | {"reached": min(3, state["reached"] + 1)}
    if name == "again":
        return dict(_GRADE)
    before = en_breaking_force_n(state["made"], state["d"], state["grade"]).force_n if state["reached"] == 3 else 0.0
    if name == "double":
        return state | {"d": min(10.0, state["d"] * 2), "before": before}
    return state | {name: float(value) if name == "d" else value, "before": before}


_GRADE = {"made": "7x19", "d": 3.0, "grade": GRADE, "reached": 0, "before": 0.0}


def from_grade_to_force() -> Board:
    """From wire grade to breaking force, step by step."""
    return Board("From wire grade to breaking force", dict(_GRADE), grade_view, grade_step)


# --- Load and stretch -----------------------------------------------------------------------------

_STRETCH = {"made": "7x19", "size": "1/8", "metal": "galvanised", "length": 10, "load": 400, "bedded": "new"}
MOST_LOAD = 600  # lbf, as the slider has it


def stretch_figure(state: dict) -> Figure:
    """The band of one state; its foot ends at the next round length beyond the greatest stretch."""
    words = f"{state['length']} m of {state['size']} {state['made']} {state['metal']}"
    load = state["load"] * float(LBF_N)
    try:
        band = st.band_of(state["made"], state["size"], state["metal"], state["length"] * 1000.0, load)
    except Refusal:
        return stretch_band(None, False, state["load"] / MOST_LOAD, short(load), 100, words, refused="no curve: the wire has parted" if _parted_at(state) else "no curve: refused")
    greatest = band.settle_mm[1] + band.spring_mm[1]
    most = next(end for end in (20, 40, 80, 120, 200, 280, 400, 600, 800) if end >= greatest * 1.1)
    return stretch_band(band, state["bedded"] == "loaded", state["load"] / MOST_LOAD, short(load), most, words,
                        "A range, from memory in part: allow for it, measure where it matters, rate nothing by it. How it goes over from the one part to the other is not known here.")


def _parted_at(state: dict) -> float | None:
    """The chart's breaking force, N, where the load reaches it; None below it, and where the chart has no row."""
    try:
        least = breaking_force(state["size"], state["made"], state["metal"]).force_n
    except Refusal:
        return None
    return least if state["load"] * float(LBF_N) >= least - 0.5 else None


def _no_stretch(state: dict, refusal: Refusal) -> str:
    name, load = f"{state['size']} {state['made']} {state['metal']}", force_words(state["load"] * float(LBF_N))
    least = _parted_at(state)
    if least is not None:
        return f"The wire is broken. The chart lets {name} part at {force_words(least)}, and {load} pulls on it. A broken wire springs nowhere."
    if state["made"] == "1x19":
        return "Refused: how far a new 1x19 beds in is not known here. It is known for 7x7 and 7x19. Ask the maker, or measure after the first load."
    given, most = (part.replace("mm2", "mm²") for part in (refusal.given, refusal.accepted))
    return f"Refused: {load} on {name} is {given}. Only up to {most.removeprefix('at most ')} is it sure that it springs back. Take a lower load or a thicker cable."


def stretch_still() -> Figure:
    """Ten metres of 1/8 under a load, as a band."""
    return stretch_figure(_STRETCH)


def stretch_view(state: dict) -> View:
    """Load against stretch: what beds in first and stays, what springs; as a range, or refused."""
    load = state["load"] * float(LBF_N)
    controls = (choice("made", "Construction", ("7x19", "7x7", "1x19"), state["made"]), choice("size", "Size", ("1/16", "3/32", "1/8", "3/16", "1/4"), state["size"]),
                choice("metal", "Metal", ("galvanised", "stainless"), state["metal"]), slider("length", "Length", 1, 30, 1, state["length"], st.length_words(state["length"] * 1000)),
                slider("load", "Load", 20, MOST_LOAD, 20, state["load"], force_words(load)),
                choice("bedded", "The cable is", [("new", "new"), ("loaded before", "loaded")], state["bedded"]))
    figure = stretch_figure(state)
    try:
        band = st.band_of(state["made"], state["size"], state["metal"], state["length"] * 1000.0, load)
    except Refusal as refusal:
        return View((figure,), controls, (Said(_no_stretch(state, refusal), "no"),))
    (s1, s2), (e1, e2) = band.settle_mm, band.spring_mm
    if state["bedded"] == "new":
        said = f"The first load brings {s1 + e1:.0f} to {s2 + e2:.0f} mm. Take it off: {e1:.0f} to {e2:.0f} mm spring back, {s1:.0f} to {s2:.0f} mm stay."
    else:
        said = f"It has bedded in. The same load now brings only {e1:.0f} to {e2:.0f} mm more, and they spring back."
    if state["bedded"] == "loaded":
        return View((figure,), controls, (Said(said), Said("For bedding in it need not be tightened again. If it grows longer still, later on, that is a reason to look.")))
    bigger = "more than the load does" if s1 > e2 else "less than the load does" if s2 < e1 else "about as much as the load does"
    return View((figure,), controls, (Said(said), Said(f"Bedding in alone gives {bigger}. So a new wire goes slack. After the first full load or the first week, whichever is sooner, look at its paint lines first: only where none has moved is it tightened again.")))


def load_and_stretch() -> Board:
    """Load against stretch of a new or a bedded cable."""
    return Board("Load against stretch", dict(_STRETCH), stretch_view)


# --- Mass and force -------------------------------------------------------------------------------

SYSTEMS = (("the EN factor", "EN"), ("geometry", "geometry"), ("the inch table, from memory", "inch table, from memory"))
_MASS = {"made": "7x19", "size": "1/8", "length": 100, "by": "EN", "g": ""}
G = [("not stated", ""), (f"{float(GRAVITY_M_S2):g} m/s²", "standard"), ("9.81 m/s²", "9.81")]


def _g(state: dict) -> float | None:
    return {"": None, "standard": float(GRAVITY_M_S2), "9.81": 9.81}[state["g"]]


def _by(state: dict) -> str:
    return next(words for words, name in SYSTEMS if name == state["by"])


def _mass(state: dict):
    return cable_mass(state["made"], state["size"], state["length"] * 1000.0, state["by"])


def mass_figure(state: dict) -> Figure:
    """A coil on a balance and on a hook."""
    g, name = _g(state), f"{state['length']} m of {state['size']} {state['made']}"
    try:
        mass = _mass(state).mass_kg
    except Refusal:
        return mass_and_force(name, "refused", "refused")
    return mass_and_force(name, st.mass_words(mass), "no g, no force" if g is None else _pull(weight_n(mass, g)), f"By {_by(state)}.")


def _pull(force_n: float) -> str:
    return f"{force_n:.1f} N [{force_n / float(LBF_N):.1f} lbf]"


def mass_still() -> Figure:
    """100 m of 1/8: its mass, and no force while no g is stated."""
    return mass_figure(_MASS)


def mass_view(state: dict) -> View:
    """The mass of a length in a named system; its pull once g is stated."""
    controls = (choice("size", "Size", SIZES, state["size"], as_list=True), choice("made", "Construction", ("7x7", "7x19", "1x19"), state["made"]),
                slider("length", "Length", 5, 300, 5, state["length"], st.length_words(state["length"] * 1000)),
                choice("by", "By", SYSTEMS, state["by"]), choice("g", "g", G, state["g"]))
    figure = mass_figure(state)
    try:
        found = _mass(state)
    except Refusal:
        return View((figure,), controls, (Said(_no_mass(state), "no"),))
    said = [Said(f"{st.mass_words(found.mass_kg)}, by {_by(state)}" + ("." if "memory" in found.system else f" ({found.how_known})."))]
    g = _g(state)
    if g is None:
        said.append(Said("How hard does it pull on a hook? Nobody can say yet: a mass is no force without g. State it.", "no"))
    else:
        force = weight_n(found.mass_kg, g)
        said.append(Said(f"Times {g:g} m/s²: it pulls with {_pull(force)}. Written as {found.mass_kg:.1f} N it would be about a tenth of that.", "ok"))
    return View((figure,), controls, tuple(said))


def _no_mass(state: dict) -> str:
    """What cannot be worked, and by which of the other ways it can."""
    able = []
    for words, name in SYSTEMS:
        try:
            _mass(state | {"by": name})
        except Refusal:
            continue
        able.append(words)
    instead = f"By {' or by '.join(able)} it can be worked" if able else "No way here works it: weigh a piece, or look in the maker's list"
    return f"Refused: {_by(state)} says nothing of {state['size']} {state['made']}. {instead}."


def mass_of_a_length() -> Board:
    """The mass of a length, and when it becomes a force."""
    return Board("A mass, and a force", dict(_MASS), mass_view)


# --- Between sizes --------------------------------------------------------------------------------

def gap_view(state: dict) -> View:
    """A size pointed at: its row, or the refusal; and what somebody would have read in between."""
    on, metric = state["on"], "mm" in state["on"]
    figure = st.ladder(state["made"], "galvanised", lambda shape, value, words: pick(shape, "place", value, words, value == on), on)
    names = [one.name for one in st.ladder_places()]
    controls = (choice("size", "A reel comes in. Its label says", [("point at one", ""), *((name, name) for name in names)], on, as_list=True),
                choice("made", "Construction", ("7x19", "7x7"), state["made"]), button("read", "Read it in between", bool(on) and not metric, second=True))
    if not on:
        return View((figure,), controls, (Said("Point at a size. Has it a row, or is it refused?"),))
    try:
        found = breaking_force(on, state["made"], "galvanised")
    except Refusal as refusal:
        said = [Said(_no_row(on, state["made"], refusal), "no")]
        if state["read"]:
            said.append(Said(_in_between(on, state["made"]), "no"))
        return View((figure,), controls, tuple(said))
    said = [Said(f"{on} {state['made']} has a row: {force_words(found.force_n)}, {found.source}.", "ok")]
    if state["read"]:
        said.append(Said("There is nothing to read in between: it has a row of its own."))
    return View((figure,), controls, tuple(said))


def _in_between(size: str, construction: str) -> str:
    rows = [(st.diameter_mm(row.size), row) for row in table("cable_strength") if row.construction == construction]
    thick = st.diameter_mm(size)
    below, above = [row for d, row in rows if d < thick], [row for d, row in rows if d > thick]
    if not below or not above:
        return f"There is no row of {construction} on the far side of {size}: nothing to read between, and nobody draws a table out beyond its end."
    low, high = (float(row.galvanised_lbf * LBF_N) for row in (below[-1], above[0]))
    return (f"Somebody took the middle of {below[-1].size} and {above[0].size}: {short((low + high) / 2)}. Nobody pulled such a cable, and nobody stands for that figure. "
            f"The reel may also be a worn {above[0].size}, or wrongly labelled.")


def gap_step(state: dict, name: str, value=None) -> dict:
    """A place pointed at or chosen, another construction, or somebody who reads in between."""
    if name == "read":
        return state | {"read": True}
    return state | ({"made": value} if name == "made" else {"on": value}) | {"read": False}


def pick_a_size() -> Board:
    """The table's rows and the open places between them."""
    return Board("A row, or no row", {"on": "", "made": "7x19", "read": False}, gap_view, gap_step)
