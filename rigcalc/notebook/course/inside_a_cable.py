"""Lesson 01, what a cable is made of: five offcuts, a look inside any construction, wires counted by pointing, crowns that rub."""

from __future__ import annotations

import secrets

from rigcalc.cable import band_mm, construction, sleeve_construction
from rigcalc.errors import Refusal
from rigcalc.figures import Figure
from rigcalc.figures.cut_ends import cut_end, rubbed, rubbed_crowns
from rigcalc.figures.constructions import look_inside, outline, section_wires, wire_outside
from rigcalc.figures.drawing import millimetres
from rigcalc.notebook import lesson
from rigcalc.notebook.board import Board, Said, View, button, choice, pick, slider
from rigcalc.notebook.course.plainly import NotYet
from rigcalc.reference import table

__all__ = ["NAMES", "count_step", "count_the_end", "count_view", "crowns_still", "inside_still", "look_inside_any", "look_step", "look_view", "names_told",
           "rub_the_crowns", "rub_view", "end_still", "two_names_step_by_step"]

NAMES = tuple(row.designation for row in table("constructions"))
COUNTS = (1, 3, 6, 7, 19)


def _pointed(name: str, on: tuple[str, ...] = ()):
    return lambda shape, value, words: pick(shape, name, value, words, value in on)


# --- a look inside --------------------------------------------------------------------------------

def look_view(state: dict) -> View:
    """Any construction, in section and from the side; what is pointed at is named."""
    made, level, at = state["made"], state["level"], state["at"]
    one = construction(made)
    fibre = at == "fibre"
    strand, wire = (at if level == "strand" and not fibre else None), (at if level == "wire" and not fibre else None)
    figure = look_inside(made, strand, wire, level, _pointed("at", () if at is None else (str(at),)), fibre)
    controls = (choice("made", "Construction", NAMES, made), choice("level", "Point at", [("whole strands", "strand"), ("single wires", "wire")], level))
    return View((figure,), controls, (Said(_named(made, level, at)),), _made_of(one))


def _named(made: str, level: str, at: int | str | None) -> str:
    one = construction(made)
    if at is None:
        return "Point at a part in the section. It is named here, and marked on the side view if it comes to the outside."
    if at == "fibre":
        return f"The core: fibre, not steel. The {one.strands} strands lie round it. It is no strand, and the name does not count it."
    if level == "strand":
        if one.strands == 1:
            return f"This strand is the whole cable: {one.wires} wires wound round one another."
        if at == 0:
            return f"The core: a strand of {one.wires_per_strand} wires, in the middle. The other strands lie round it. From outside you cannot see it."
        return (f"A strand: {one.wires_per_strand} wires wound together, one of {len(outline(made))} outside. "
                "Follow it on the side view: once round the cable is one lay. Its highest line is the crown. Between it and the next strand is a valley.")
    found = section_wires(made)[at]
    layer = one.layers[found.layer]
    where = ("the one in the middle of its strand" if found.layer == 0 else f"one of {layer} in its layer")
    seen = "It comes to the outside of the cable." if _comes_outside(made, at) else "It never comes to the outside of the cable."
    return f"A wire: one single thread of steel, {where}. The cable has {one.wires} of them. {seen}"


def _comes_outside(made: str, at: int) -> bool:
    return wire_outside(made, at) is not None and section_wires(made)[at].layer == len(construction(made).layers) - 1


def _made_of(one) -> lesson.Block:
    try:
        sleeve_construction(one.designation)
        fits = "yes"
    except Refusal:
        fits = "no: refused at the sleeve"
    cores = {"strand": "a strand", "fibre": "fibre", "none": "none", "wire": "a wire"}
    rows = [("strands", one.strands), ("wires in each", " + ".join(map(str, one.layers)) + f" = {one.wires_per_strand}"), ("wires in all", one.wires),
            ("core", cores[one.core]), ("lay", f"{one.least_lay:g} to {one.most_lay:g} diameters ({one.lay_known}); drawn: {one.lay_diameters:g}"),
            ("hand-pressed sleeve", fits)]
    return lesson.table((one.designation, ""), rows)


def look_step(state: dict, name: str, value) -> dict:
    """Another construction or another kind of part takes the mark away."""
    return state | {"at": value if value == "fibre" else int(value)} if name == "at" else state | {name: value, "at": None}


def look_inside_any() -> Board:
    """Look inside any construction."""
    return Board("Look inside a cable", {"made": "7x19", "level": "strand", "at": None}, look_view, look_step)


def inside_still(made: str = "7x7", strand: int | None = 2) -> Figure:
    """A construction in section and from the side, one strand marked."""
    return look_inside(made, strand)


# --- what the name says ---------------------------------------------------------------------------

def names_told() -> lesson.Block:
    """Every name of the table: strands, wires in each, all wires, core, and whether a hand-pressed sleeve fits."""
    rows = []
    for name in NAMES:
        one = construction(name)
        try:
            fits = "yes" if sleeve_construction(name) else ""
        except Refusal:
            fits = "no"
        rows.append((name, one.strands, one.wires_per_strand, one.wires, {"strand": "a strand", "none": "none", "wire": "a wire", "fibre": "fibre"}[one.core], fits))
    return lesson.answer(lesson.table(("Name", "Strands", "Wires in each", "Wires in all", "In the middle", "Hand-pressed sleeve"), rows, numbers=(1, 2, 3)))


def two_names_step_by_step() -> lesson.Block:
    """Two names read step by step, with where it is printed."""
    rows = []
    for name in ("7x7", "7x19"):
        one = construction(name)
        rows += [(f"{name}: first figure", f"{one.strands} strands, the one in the middle counted with them"),
                 (f"{name}: second figure", f"{one.wires_per_strand} wires in each strand: {' + '.join(map(str, one.layers))}"),
                 (f"{name}: all wires", f"{one.strands} × {one.wires_per_strand} = {one.wires}")]
    cited = construction("7x7").source.partition(":")[0]
    return lesson.table(("Step", "says"), rows, f"Reading two names (printed in {cited})")


# --- counting at the cut end ----------------------------------------------------------------------

def _count_start(made: str = "7x19", fresh: str = "") -> dict:
    return {"made": made, "strands": [], "wires": [], "level": "strand", "said_strands": 0, "said_wires": 0, "told": False, "fresh": fresh}


def _opened(made: str) -> int:
    """The strand that is opened: an outer one where there is one."""
    return 1 if construction(made).strands > 1 else 0


def count_view(state: dict) -> View:
    """A cut end: mark what you count, then say strands times wires."""
    made, wires = state["made"], state["level"] == "wire"
    marked = tuple(map(str, state["wires" if wires else "strands"]))
    figure = cut_end(made, state["strands"], state["wires"], _opened(made) if wires else None, _pointed("mark", marked), state["level"])
    controls = [choice("level", "Count", [("bundles at the end", "strand"), ("round pieces of one bundle", "wire")], state["level"]),
                choice("said_strands", "I say: strands", [("?", 0), *((str(n), n) for n in COUNTS)], state["said_strands"], as_list=True),
                choice("said_wires", "wires in each", [("?", 0), *((str(n), n) for n in COUNTS)], state["said_wires"], as_list=True),
                button("say", "Say it"), button("clear", "Rub out the marks", bool(marked), second=True), button("fresh", "Another end", second=True)]
    return View((figure,), tuple(controls), _count_words(state))


def _count_words(state: dict) -> tuple[Said, ...]:
    counted = f"Marked so far: {_of(len(state['strands']), 'bundle')}; in the opened one {_of(len(state['wires']), 'round piece')}."
    if not state["told"]:
        named = [str(state[key] or "?") for key in ("said_strands", "said_wires")]
        return (Said(counted), Said(f"You would say: {' × '.join(named)}.")) if any(one != "?" for one in named) else (Said(counted),)
    one = construction(state["made"])
    strands, wires = state["said_strands"], state["said_wires"]
    if (strands, wires) == (one.strands, one.wires_per_strand):
        core = " The fibre in the middle is no strand: it is not counted." if one.core == "fibre" else ""
        full = (len(state["strands"]), len(state["wires"])) == (strands, wires)
        pen = "" if full else " Not all of them are marked. At the bench the pen marks each, or one is counted twice."
        return (Said(f"{strands} × {wires} = {strands * wires} wires. Its name is {one.designation}.{core}", "ok"), Said(counted + pen))
    wrong = []
    if strands != one.strands:
        wrong.append("Count the bundles once more." + (" Is there one in the middle?" if one.core == "strand" and strands == one.strands - 1 else
                                                       " Is the thing in the middle of steel?" if one.core == "fibre" and strands == one.strands + 1 else ""))
    if wires != one.wires_per_strand:
        wrong.append("Open one bundle and count its round pieces once more, layer by layer from the middle.")
    return (Said(f"{strands} × {wires}: this end says something else. {' '.join(wrong)}", "no"), Said(counted))


def _of(count: int, what: str) -> str:
    return f"{count} {what}{'' if count == 1 else 's'}"


def count_step(state: dict, name: str, value) -> dict:
    """A mark is set or taken away; a count is said; another end is drawn from a secret that is kept."""
    if name == "mark":
        kind = "wires" if state["level"] == "wire" else "strands"
        at = int(value)
        now = [one for one in state[kind] if one != at] if at in state[kind] else sorted([*state[kind], at])
        return state | {kind: now, "told": False}
    if name == "say":
        if not (state["said_strands"] and state["said_wires"]):
            raise NotYet("One of the two figures is not chosen yet. Choose the strands and the wires in each, then say it.")
        return state | {"told": True}
    if name == "clear":
        return state | {"wires" if state["level"] == "wire" else "strands": [], "told": False}
    if name == "fresh":
        from rigcalc.questions import Stream

        secret = secrets.token_bytes(16)
        others = [one for one in NAMES if one != state["made"]]
        return _count_start(others[Stream(secret, "a cut end").below(len(others))], secret.hex())
    return state | {name: value if name == "level" else int(value), "told": False}


def count_the_end() -> Board:
    """Count strands and wires at a cut end."""
    return Board("Count at the cut end", _count_start(), count_view, count_step)


def end_still() -> Figure:
    """A cut end, one bundle opened, a few pieces marked as counted."""
    opened = [at for at, wire in enumerate(section_wires("7x7")) if wire.strand == 1]
    return cut_end("7x7", (0, 1, 2), opened[:3], 1)


# --- which construction ---------------------------------------------------------------------------

RUBBED_SIZE = "3/32"  # a size that the strength table has in both constructions


def rub_view(state: dict) -> View:
    """The same flat rubbed into 7x7 and 7x19: wires cut through, and what a bend asks of each wire."""
    diameter, share = band_mm(RUBBED_SIZE)[0], state["depth"] / 100
    figure = rubbed_crowns(("7x7", "7x19"), share, diameter, RUBBED_SIZE)
    few, many = rubbed("7x7", share), rubbed("7x19", share)
    words = (f"Rubbed {millimetres(share * diameter)} deep. At this cut 7x7 has {_of(few.through, 'wire')} cut through, 7x19 has {many.through}."
             if share else "Nothing is rubbed away yet. Which of the two will lose a whole wire first?")
    thick = {name: diameter / construction(name).wires_across for name in ("7x7", "7x19")}
    rows = [(name, millimetres(thick[name]), f"{worn.through} through, {worn.touched} touched", f"{worn.lost:.1%}", f"{thick[name] / thick['7x19']:.2f}")
            for name, worn in (("7x7", few), ("7x19", many))]
    under = lesson.table(("Made", "one wire is", "wires at this cut", "steel gone here", "strain in a wire at the same bend, 7x19 = 1"), rows,
                         "Rubbing and bending, worked from the section (thick wires are strained more: strain goes by the thickness of the wire)", numbers=(4,))
    return View((figure,), (slider("depth", "Rubbed away", 0, 20, 1, state["depth"], millimetres(share * diameter)),), (Said(words),), under)


def rub_the_crowns() -> Board:
    """Rub the crowns of two constructions."""
    return Board("Rub the crowns away", {"depth": 0}, rub_view, lambda state, name, value: {"depth": int(value)})


def crowns_still() -> Figure:
    """Both constructions, a shallow flat rubbed into each."""
    return rub_view({"depth": 7}).figures[0]
