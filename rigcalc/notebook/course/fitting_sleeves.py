"""Lesson 03, what goes into a sleeve: crimps cut open, both legs tried for size, the chart asked, six jobs ready to press."""

from __future__ import annotations

import secrets

from rigcalc._section import construction
from rigcalc.cable import sleeve_construction
from rigcalc.errors import Refusal
from rigcalc.figures import Figure, sleeve_stages
from rigcalc.figures.sections import gauge_answer
from rigcalc.figures.sleeve_fit import CUT, Job, cut_open, job_cards, legs_tried, sleeve_fits, without_valleys
from rigcalc.notebook import lesson
from rigcalc.notebook.board import Board, Said, View, button, choice
from rigcalc.notebook.course.plainly import in_plain_words
from rigcalc.notebook.course.silver import kit
from rigcalc.notebook.teaching import of_the_scene, shop_for_teaching
from rigcalc.pairing import pairing
from rigcalc.reference import table
from rigcalc.sleeve import SLEEVE_METALS, chart_in_force, fill, refuse_size_without_sleeve, sleeve_sizes
from rigcalc.units import read_size, size_inches

__all__ = ["JOBS", "ask_the_chart", "chart_step", "chart_view", "cut_still", "cut_step", "cut_view", "fill_table", "fit_step", "fit_view", "jobs_still", "jobs_step",
           "jobs_view", "job_fault", "legs_still", "no_valleys", "saw_through", "six_jobs", "stages", "try_both_legs"]


def _mm(size: str) -> float:
    return float(read_size(size).diameter_mm)


# --- how a sleeve holds: crimps cut open ----------------------------------------------------------

def stages(content: str = "bare") -> Figure:
    """The sleeve before, half closed and closed, round what lies in it."""
    return sleeve_stages(content, kit().construction, kit().growth)


CAUSES = (("good", "Nothing wrong"), ("coat", "Coat left on"), ("small", "Cable too thin"), ("half", "Jaws half closed"))
TOLD = {"good": "The valleys are full. This one holds.", "coat": "Under the metal lies plastic. The legs slide out of their coat.",
        "small": "The metal closed round air. Both legs draw out.", "half": "The metal never got down into the valleys. Closed, it would have held."}


def cut_still() -> Figure:
    """The four eyes as they lie on the bench."""
    return cut_open(("coat", "good", "half", "small"))


def _cut_start(pieces=("coat", "good", "half", "small"), fresh: str = "") -> dict:
    return {"pieces": tuple(pieces), "at": "A", "cut": "", "told": {}, "said": "", "fresh": fresh}


def cut_view(state: dict) -> View:
    """Four eyes that look alike: saw one through, then say what was done to it."""
    at, k = state["at"], kit()
    figure = cut_open(state["pieces"], state["cut"], tuple(state["told"]), at, k.construction, k.growth)
    controls = [button("saw", f"Saw {at} through", at not in state["cut"])]
    controls += [button(f"say {name}", f"{at}: {words}", at in state["cut"] and at not in state["told"], second=True) for name, words in CAUSES]
    controls.append(button("fresh", "Four others", second=True))
    said = [Said(*state["said"])] if state["said"] else [Said("Four eyes for a gate. Which of them would you trust? Point at one, then saw it through and see.")]
    if len(state["told"]) == 4:
        seen = [letter for letter, name in zip("ABCD", state["pieces"], strict=True) if not gauge_answer(CUT[name][0][1])[0]]
        said.append(Said(f"The gauge would have stopped {' and '.join(seen)} alone. The other two bad ones pass it. And a sawn eye is scrap: so the work before pressing is what counts."))
    return View((figure,), tuple(controls), tuple(said))


def cut_step(state: dict, name: str, value=None) -> dict:
    """An eye is pointed at, sawn through or judged; or four others are laid out."""
    at = state["at"]
    if name == "fresh":
        from rigcalc.questions.draws import Stream

        secret = secrets.token_bytes(16)
        return _cut_start(Stream(secret, "four eyes").shuffled(tuple(CUT)), secret.hex())
    if name == "at":
        return state | {"at": str(value), "said": ""}
    if name == "saw":
        return state | {"cut": state["cut"] + at, "said": (f"{at} is open. Look into the valleys: what was done to it?", "")}
    if at not in state["cut"]:
        raise Refusal(f"a verdict on {at} from outside", "an eye that is sawn through", "saw it first: from outside they are alike")
    true, called = state["pieces"]["ABCD".index(at)], name.removeprefix("say ")
    words = f"{'Right' if called == true else 'Not so'}. {at}: {dict(CAUSES)[true][0].lower()}{dict(CAUSES)[true][1:]}. {TOLD[true]}"
    return state | {"told": state["told"] | {at: called == true}, "said": (words, "ok" if called == true else "no")}


def saw_through() -> Board:
    """Saw four eyes through and say why one holds."""
    return Board("Saw them through", _cut_start(), cut_view, cut_step)


# --- which size: both legs tried ------------------------------------------------------------------

def _reels() -> list:
    return [reel for reel in shop_for_teaching()[0].reels if reel.is_inch]


def legs_still() -> Figure:
    """The lesson's cable in its own sleeve."""
    k = kit()
    return legs_tried(k.diameter_mm, k.diameter_mm, k.construction, names=(f"{k.size} {k.construction}", k.size))


def fill_table() -> lesson.Block:
    """How far each size fills the sleeve of the next size up."""
    sizes = sleeve_sizes()
    rows = [(small, large, f"{fill(small, large):.0%}", "goes on" if sleeve_fits(_mm(small), _mm(large)) else "") for small, large in zip(sizes, sizes[1:])]
    return lesson.table(("Cable, in", "Sleeve, in", "of the right cable's area", "by hand it"), rows, "One size too large: it always goes on, and the gauge passes it (computed)")


def fit_view(state: dict) -> View:
    """A reel's cable tried in a sleeve; then the reader says whether this is the one."""
    reel, sleeve = next(one for one in _reels() if one.id == state["reel"]), state["sleeve"]
    on = _mm(reel.coating_to) if reel.coating_to and not state["bare"] else None
    name = f"{reel.size} {reel.construction}" + (f", coat to {reel.coating_to}" if on else ", stripped" if reel.coating_to else "")
    figure = legs_tried(_mm(reel.size), _mm(sleeve), reel.construction, on, (name, f"{sleeve} in"))
    controls = [choice("reel", "Cable", [(one.label, one.id) for one in _reels()], state["reel"], as_list=True),
                choice("sleeve", "Sleeve, in", [(size, size) for size in sleeve_sizes()], sleeve, as_list=True)]
    if reel.coating_to:
        controls.append(choice("bare", "Its coat", (("still on", False), ("stripped, both legs", True)), state["bare"]))
    controls.append(button("this", "This is the one"))
    if not state["asked"]:
        return View((figure,), tuple(controls), (Said("Try both legs. When you have the right sleeve, say so."),))
    return View((figure,), tuple(controls), (Said(*fit_words(reel, sleeve, bool(on))),))


def fit_words(reel, sleeve: str, coat_on: bool) -> tuple[str, str]:
    """What becomes of a choice of sleeve for a reel: (words, tone)."""
    if coat_on:
        more = " That is the size of the coat." if sleeve == reel.coating_to else ""
        return f"Not so: the coat is still on, and no metal can reach a strand.{more} Strip both legs, and size by the bare cable: {reel.size}.", "no"
    if size_inches(sleeve) < size_inches(reel.size):
        return "Not so: the legs do not go in. Never open a sleeve or shave a cable to make it go.", "no"
    if sleeve != reel.size:
        return f"Not so: it goes on with ease, and that is the trap. The cable has {fill(reel.size, sleeve):.0%} of the area that this sleeve is made for. The gauge would pass it, and the legs draw out.", "no"
    try:
        refuse_size_without_sleeve(reel.size)
    except Refusal as refusal:
        return in_plain_words(refusal), "no"
    return f"Right: {reel.size} bare cable, {sleeve} sleeve. Both legs go in side by side, by hand, without force. The two labels agree, and that is what decides.", "ok"


def fit_step(state: dict, name: str, value=None) -> dict:
    """Another cable or sleeve, coat off, or: this is the one."""
    if name == "this":
        return state | {"asked": True}
    return state | {name: value, "asked": False} | ({"bare": False} if name == "reel" else {})


def try_both_legs() -> Board:
    """Find the sleeve for a reel by trying both legs."""
    first = next((reel for reel in _reels() if reel.coating_to in sleeve_sizes()), _reels()[0])
    return Board("Try both legs", {"reel": first.id, "sleeve": sleeve_sizes()[2], "bare": False, "asked": False}, fit_view, fit_step)


# --- what no chart lists --------------------------------------------------------------------------

def no_valleys() -> Figure:
    """A listed construction beside two that no chart lists; which is which is asked."""
    return without_valleys(tuple((made, _made_of(made)) for made in ("7x19", "1x19", "6x19")), judged=False)


def _made_of(made: str) -> str:
    """A construction in two short lines."""
    built = construction(made)
    core = {"strand": "one of them the core", "wire": f"of {built.wires_per_strand} wires", "fibre": "round a fibre core"}.get(built.core, "no core")
    return f"{built.strands} strand{'s' if built.strands > 1 else ''},\n{core}"


def _sizes() -> list[str]:
    return sorted({row.size for row in table("cable_strength")}, key=size_inches)


def chart_view(state: dict) -> View:
    """A cable, a size and a sleeve metal: press it or refuse it, then the chart's own answer."""
    made = [row.designation for row in table("constructions")]
    figure = without_valleys(((state["made"], _made_of(state["made"])),), judged=False)
    controls = (choice("made", "Cable", made, state["made"], as_list=True), choice("size", "Size, in", _sizes(), state["size"], as_list=True),
                choice("metal", "Sleeve", SLEEVE_METALS, state["metal"], as_list=True), button("press", "Press it"), button("refuse", "Refuse it", second=True))
    if not state["called"]:
        return View((figure,), controls, (Said(f"{state['made']}, {state['size']} in, {state['metal']} sleeve: does a chart in this shop list it? Say what you do, then the chart answers."),))
    told, listed = chart_says(state["made"], state["size"], state["metal"])
    right = listed == (state["called"] == "press")
    return View((figure,), controls, (Said(("Right. " if right else "Not so. ") + told, "ok" if right else "no"),))


def chart_says(made: str, size: str, metal: str) -> tuple[str, bool]:
    """The chart's row for a construction, a size and a sleeve metal, or the refusal in plain words: (words, whether it is listed)."""
    charts = shop_for_teaching()[0].charts
    try:
        sleeve_construction(made)
        refuse_size_without_sleeve(size)
        tool = next((chart.tool for chart in charts for row in chart.rows if chart.sleeve_metal == metal and row.size == size), None)
        chart, row = chart_in_force(charts, metal, size, tool)
    except Refusal as refusal:
        return in_plain_words(refusal), False
    return (f"Listed: {metal}, {size} in, {row.count} crimps" + (f" in tool {chart.tool}, cavity {row.cavity}" if chart.tool else "")
            + ". Listed is not yet allowed: the pair and the place come next."), True


def chart_step(state: dict, name: str, value=None) -> dict:
    """Another cable, size or sleeve, or the reader's word on it."""
    return state | ({"called": name} if name in ("press", "refuse") else {name: value, "called": ""})


def ask_the_chart() -> Board:
    """Press it or refuse it: what the charts list."""
    return Board("Does a chart list it?", {"made": "1x19", "size": kit().size, "metal": "aluminium", "called": ""}, chart_view, chart_step)


# --- what goes wrong: six jobs ready to press -----------------------------------------------------

# (job, cable metal, sleeve metal or "" where no bag says it, service): invented jobs, judged by job_fault
JOBS = (
    (Job("1/8 7x19 stainless", "bag: aluminium, 1/8", "wire in a dry hall", _mm("1/8"), _mm("1/8"), "7x19"), "stainless", "aluminium", "dry"),
    (Job("3/32-3/16 coated, galv.", "bag: aluminium, 3/16", "shade wire, outdoors", _mm("3/32"), _mm("3/16"), "7x7", _mm("3/16")), "galvanised", "aluminium", "outdoor"),
    (Job("1/8 7x19 galvanised", "a silver sleeve, no bag", "gate, outdoors", _mm("1/8"), _mm("1/8"), "7x19"), "galvanised", "", "outdoor"),
    (Job("1/8 7x19 galvanised", "bag: aluminium, 1/8", "gate, outdoors", _mm("1/8"), _mm("1/8"), "7x19"), "galvanised", "aluminium", "outdoor"),
    (Job("1/8 7x19 stainless", "bag: zinc-plated, 1/8", "panel over a pool", _mm("1/8"), _mm("1/8"), "7x19"), "stainless", "zinc-plated copper", "immersed"),
    (Job("1/8 1x19 stainless", "bag: zinc-plated, 1/8", "wire on a quay", _mm("1/8"), _mm("1/8"), "1x19"), "stainless", "zinc-plated copper", "marine"),
)
FAULTS = {"bag": "the sleeve's metal is not known", "made": "no chart lists this cable", "size": "sized by its coat", "place": "no pair is right in this place",
          "pair": "the wrong metal for this cable", "none": "nothing: press it"}
ON_CARD = {"bag": "metal not known", "made": "not on any chart", "size": "sized by its coat", "place": "no pair fits here", "pair": "wrong pair", "none": "may be pressed"}


def job_fault(letter: str) -> str:
    """What is wrong with a job, a name of `FAULTS`: the label, the construction, the size, the place, then the pair.

    >>> "".join(job_fault(letter)[0] for letter in "ABCDEF")
    'psbnpm'
    """
    job, cable, metal, service = JOBS["ABCDEF".index(letter)]
    if not metal:
        return "bag"
    try:
        sleeve_construction(job.designation)
    except Refusal:
        return "made"
    if job.outside_mm or job.cable_mm != job.sleeve_mm:
        return "size"
    if not any(pairing(cable, one, service).allowed for one in SLEEVE_METALS):
        return "place"
    return "none" if pairing(cable, metal, service).allowed else "pair"


def jobs_still() -> Figure:
    """The six jobs as they lie ready."""
    return job_cards([job for job, *_ in JOBS])


def jobs_view(state: dict) -> View:
    """Six jobs: which is stopped, and why."""
    at, told = state["at"], state["told"]
    cards = {letter: (job_fault(letter) == "none", ON_CARD[job_fault(letter)]) for letter in told}
    figure = job_cards([job for job, *_ in JOBS], cards, at)
    names = (("choose", ""), *((words, name) for name, words in FAULTS.items()))
    controls = (choice("fault", f"What stops job {at}?", names, state["fault"], as_list=True),
                button("say", "Now tell me", bool(state["fault"])))
    said = [Said(*state["said"])] if state["said"] else [Said("Six jobs, ready to press. Tomo's hand is on the lever. Point at one: what do you say?")]
    if len(told) == 6:
        said.append(Said(f"{sum(told.values())} of 6 at the first word. One may be pressed. Pressed, all six would look well made from outside, and the gauge would pass them."))
    return View((figure,), controls, tuple(said))


def jobs_step(state: dict, name: str, value=None) -> dict:
    """Another job, a cause, or the verdict."""
    if name == "at":
        return state | {"at": str(value), "fault": "", "said": ""}
    if name != "say":
        return state | {name: value, "said": ""}
    at, true = state["at"], job_fault(state["at"])
    right = state["fault"] == true
    why = pairing(*JOBS["ABCDEF".index(at)][1:]).reasons[0] if true in ("place", "pair") else {
        "bag": "No bag, no metal, no chart: it is asked for, or it goes out of use.", "made": "A hand-pressed sleeve holds 7x7 and 7x19.",
        "size": "Strip both legs and take the sleeve of the bare cable.", "none": "The labels agree, the chart lists it, the place allows it."}[true]
    return state | {"told": {at: right} | state["told"], "said": (f"{'Right' if right else 'Not so'}. Job {at}: {FAULTS[true]}. {why}", "ok" if right else "no")}


def six_jobs() -> Board:
    """Six jobs to stop or to press."""
    return Board(of_the_scene("Press it, or stop it"), {"at": "A", "fault": "", "told": {}, "said": ""}, jobs_view, jobs_step)
