"""Lesson 07, pieces to look at: a good one, those that are mixed up, and what the gauge sees of each fault."""

from __future__ import annotations

from dataclasses import replace

from rigcalc.figures import Figure
from rigcalc.figures.gauging import gauge_on_piece
from rigcalc.figures.lookalikes import look_alikes
from rigcalc.figures.pressed_pieces import pressed_piece
from rigcalc.notebook import lesson
from rigcalc.notebook.board import Board, Said, View, button, choice
from rigcalc.notebook.course.crimping import lesson_job
from rigcalc.notebook.course.inspecting import FAULTS, fault_of, gauge_says, looks_of
from rigcalc.reference import table

__all__ = ["asked", "good_piece", "mixed_up", "mixed_up_told", "seen_table", "sees_step", "sees_still", "sees_view", "what_it_sees"]

MIXED_UP = ((looks_of("fins"), "fins on both sides", "Fins, and each band as high as the dashes. The gauge often jams on them, not always."),
            (looks_of("smaller"), "pressed in a smaller cavity", "Small fins, and each band lower than the dashes: the cavity was too small. The gauge goes on loosely."),
            (looks_of("overlap", band=0), "crimps on each other", "A fin only where two bands share metal. The other bands have none."),
            (looks_of("flat"), "pressed flat", "A rim along the whole sleeve, between the bands too: it lay flat. So does the mouth."),
            (looks_of("metal"), "wrong sleeve metal", "A scratch shows red-brown: copper under silver. Aluminium is silver all through."),
            (replace(looks_of(), marks=frozenset({"rust"})), "red rust, for comparison", "A powder, at the mouth and on the wires. It comes off on the cloth."))
CONTENT = {"small cable": "too small", "coat": "coated"}


# --- good and bad, as they look ---------------------------------------------------------------------

def good_piece() -> Figure:
    """A good eye with what stands on its card."""
    row = lesson_job().row
    looks = looks_of()
    return pressed_piece(looks, "A good piece", (asked(), gauge_says("", looks)), f"The chart asks for {row.count} crimps. The cable and the sleeve are of size {row.size}. Count the pressed bands: they lie between the raised collars, where no jaw touched.")


def asked() -> str:
    """What the order asked for, as it stands on every card."""
    job = lesson_job()
    return f"Asked for: {job.row.size} bare cable, {job.chart.sleeve_metal} sleeve, {job.row.count} crimps."


def mixed_up() -> Figure:
    """Four kinds of fins and two of red-brown, side by side, a letter each."""
    return look_alikes([looks for looks, _, _ in MIXED_UP], "Dashes: the height of a closed crimp. Sketches; how they look: common practice.")


def mixed_up_told() -> lesson.Block:
    """What each of them is, and what tells it from its neighbours."""
    rows = [("ABCDEF"[at], name, words) for at, (_, name, words) in enumerate(MIXED_UP)]
    told = lesson.table(("", "it is", "what tells it"), rows, "Those that are mixed up (common practice)")
    metal = ("A sleeve of the wrong metal is first found on its bag, and by its weight: copper is far heavier. A scratch at its end is the last look. "
             "Red-brown that comes off on the cloth is no copper. It is rust.")
    return lesson.answer(lesson.Block(f"{told.html}<p>{metal}</p>", f"{told.text}\n{metal}"))


# --- what the gauge sees of each fault --------------------------------------------------------------

def sees_still() -> Figure:
    """A crimp not closed, with the gauge on it."""
    return gauge_on_piece(looks_of("fat"), "one crimp not closed", answer="stops")


def seen_table() -> lesson.Block:
    """The whole table: of how many faults the gauge sees how many."""
    rows = table("gauge_sees")
    counts = {word: sum(row.seen == word for row in rows) for word in ("yes", "sometimes", "no")}
    seen = [(next(one.name for one in FAULTS if one.row == row.fault), row.seen) for row in rows if row.seen != "no"]
    return lesson.answer(lesson.table(("Kind of fault", "does the gauge see it?"), [*seen, (f"{counts['no']} other kinds: all that you tried that went on", "no")],
                                      f"{len(rows)} kinds of fault ({len(FAULTS)} on the list, some kinds in two ways): the gauge sees {counts['yes']} for sure and {counts['sometimes']} sometimes, and misses {counts['no']} (common practice)"))


def sees_view(state: dict) -> View:
    """A fault, a word on what the gauge will do, then the gauge on it."""
    fault = fault_of(state["fault"])
    on = state["on"]
    figure = gauge_on_piece(looks_of(fault.key), fault.name, CONTENT.get(fault.key, "bare"), fault.gauge if on else "", fault.key == "worn")
    controls = (choice("fault", "On the bench", [(one.name, one.key) for one in FAULTS], fault.key, as_list=True),
                choice("think", "The gauge will", (("go on", "goes on"), ("stop", "stops"), ("jam", "jams"), ("not said yet", "")), state["think"]), button("put", "Put the gauge on", bool(state["think"]) and not on))
    said = [Said("Say first what the gauge will do. Then put it on.")]
    if on:
        right = state["think"] == fault.gauge
        word = {"yes": "The gauge sees this fault.", "sometimes": "The gauge sees this fault sometimes: here it jams.", "no": "The gauge does not see it."}[fault.seen]
        said = [Said(f"{'As you said' if right else 'Not as you said'}: it {fault.gauge}. {word}", "ok" if right else "no"), Said(f"Cause: {fault.cause}. What is done: {fault.do}.")]
    tried = state["tried"]
    if tried:
        kinds, stopped = {fault_of(key).row for key in tried}, {fault_of(key).row for key in tried if fault_of(key).gauge != "goes on"}
        said.append(Said(f"Kinds of fault tried so far: {len(kinds)} of {len(table('gauge_sees'))}. The gauge stopped or jammed at {len(stopped)}."))
    return View((figure,), controls, tuple(said))


def sees_step(state: dict, name: str, value=None) -> dict:
    """Another fault, a word, or the gauge put on."""
    if name == "fault":
        return state | {"fault": fault_of(value).key, "on": False, "think": ""}
    if name == "think":
        return state | {"think": value, "on": False}
    if not state["think"]:
        return state
    return state | {"on": True, "tried": tuple(dict.fromkeys((*state["tried"], state["fault"])))}


def what_it_sees() -> Board:
    """What does the gauge see of this fault?"""
    return Board("Will the gauge see it?", {"fault": "small cable", "think": "", "on": False, "tried": ()}, sees_view, sees_step)
