"""Lesson 08: core and coat, the strip on both legs, the thimble's groove, the lap splice and where it may not be."""

from __future__ import annotations

from functools import cache

from rigcalc._job_layout import BARE_BAND_MM
from rigcalc.cable import breaking_force
from rigcalc.errors import Refusal
from rigcalc.figures import Figure
from rigcalc.figures.coated import Stripped, grooves, lap, stripped_eye, stripped_straight
from rigcalc.figures.drawing import millimetres
from rigcalc.figures.sleeve_fit import legs_tried
from rigcalc.layout import LapSplice, lap_splice, least_tail_mm, ring_cut_mm, soft_eye, strip_mm, tail_to_set_mm
from rigcalc.notebook import lesson
from rigcalc.notebook.board import Board, Said, View, button, choice, slider
from rigcalc.notebook.course.strip_and_set import BAND_RULE, judge, longer_than_needed, set_wrong, what_came_of_it
from rigcalc.notebook.kits import CABLE_METAL, Kit, kits
from rigcalc.notebook.teaching import of_the_scene, page_chart, sample_shop, shop_for_teaching
from rigcalc.rating import Limit, limit
from rigcalc.sleeve import chart_line
from rigcalc.units import read_size

__all__ = ["LINES", "NOT_YOUR_CHART", "asked_still", "by_core_or_coat", "coat_still", "coated", "eye_still", "groove_still", "kit", "lap_still", "lay_out_a_lap", "mark_and_press", "may_it_be_a_lap", "nicks", "opening",
           "read_the_label", "ring_steps", "sheet_lengths", "straight_still", "strip_steps", "what_lies_in_it", "wrong_ends", "wrong_ends_words"]

PIN_MM = 12.0  # order 4 of the invented shop: hooks of 12 mm
ROUND_MM = 9000.0  # order 7: 9 m round the net
REEL_MM = 1500.0  # of coated cable to spoil
LIKED = "3/32"
NOT_YOUR_CHART = f"the eye worked here is {LIKED} in, and your charts have no row with lengths, or no thimble, for it"
LABELS = (("1/16", "1/8"), ("3/32", "3/16"), ("1/8", "3/16"))  # core, coat: usual pairs of coated cable, common practice
OF_THE_SIZE = {"1/16": "7x7", "3/32": "7x7", "1/8": "7x19", "3/16": "7x19"}


@cache
def _has(size: str) -> tuple[Kit, str]:
    shop, note = shop_for_teaching()
    one = next((k for k in kits(shop) if k.size == size), None)
    if one is None:
        sample = sample_shop()
        one = next(k for k in kits(sample) if k.size == size)
        note = f"{note} Your shop has no chart row with lengths and a thimble for {size} in, so the invented sample shop stands on this page. The practice sheet goes by your own charts.".strip()
    return one, note


def kit() -> tuple[Kit, str]:
    """The lesson's eye, 3/32 in, in the shop that can make it, and what has to be said of that shop."""
    return _has(LIKED)


def coated() -> str:
    """The outside of the coat on the shop's coated 3/32 reel, by name."""
    return next((reel.coating_to for reel in kit()[0].shop.reels if reel.size == LIKED and reel.coating_to), "3/16")


def opening() -> lesson.Block:
    """The chart in force and whether the shop is invented."""
    one, note = kit()
    return lesson.opening_lines(page_chart(chart_line(one.chart), one.shop, NOT_YOUR_CHART), one.shop.invented, note)


def _mm(size: str) -> float:
    return float(read_size(size).diameter_mm)


# --- core and coat ------------------------------------------------------------------------------------

def _limit(size: str) -> Limit:
    one = kit()[0]
    force = breaking_force(size, OF_THE_SIZE[size], CABLE_METAL)
    if not one.shop.factors:
        raise Refusal("no design factor", "a factor with the name of who set it", "ask whoever answers for the shop")
    return limit(force, one.shop.factors[0], "nobody", system=one.shop.system)


def _limit_words(found: Limit) -> str:
    return found.shown_us if kit()[0].shop.system == "US" else found.shown_si


def by_core_or_coat() -> lesson.Block:
    """What the label's two figures would each let one hang."""
    rows = []
    for core, coat in LABELS:
        try:
            right, wrong = _limit(core), _limit(coat)
            rows.append((f"{core}–{coat}", _limit_words(right), _limit_words(wrong), f"{wrong.stated_n / right.stated_n:.1f} times"))
        except Refusal as refusal:
            rows.append((f"{core}–{coat}", str(refusal), "", ""))
    return lesson.when_said(lesson.table(("Label", "sized by the core", "sized by the coat: wrong", "wrong is so many times the right one"), rows, of_the_scene("Working limit, galvanised, two eyes, by the shop's own factor and the table's forces", kit()[0].shop)))


def coat_still() -> Figure:
    """The coat left on, in a sleeve that fits the coat."""
    return legs_tried(_mm(LIKED), _mm(coated()), OF_THE_SIZE[LIKED], _mm(coated()), (f"{LIKED} in", f"{coated()} in"))


def read_the_label() -> Board:
    """Read a label, pick a sleeve, and see what lies in it."""
    sizes = ("1/16", "3/32", "1/8", "3/16")

    def show(state: dict) -> View:
        core, coat = LABELS[state["label"]]
        controls = (choice("label", "The label says", [(f"{a}–{b}", at) for at, (a, b) in enumerate(LABELS)], state["label"]),
                    choice("sleeve", "Sleeve from the bag", [(f"{one} in", one) for one in sizes], state["sleeve"]),
                    choice("coat", "The coat", (("is on", True), ("is off both legs", False)), state["coat"]))
        figure = legs_tried(_mm(core), _mm(state["sleeve"]), OF_THE_SIZE[core], _mm(coat) if state["coat"] else None, (f"{core} in", f"{state['sleeve']} in"))
        if not state["moved"]:
            said = Said("So it lies before Tomo. May it be pressed? Say what you would change, then change it.")
        elif state["coat"]:
            said = Said("Stop: the coat is on. Metal pressed on plastic holds plastic. Strip both legs first.", "no")
        elif state["sleeve"] == core:
            said = Said(f"Right: bare, and the sleeve for {core} in. The label's first figure is the cable.", "ok")
        elif _mm(state["sleeve"]) > _mm(core):
            said = Said(f"It goes in, and it will pass its gauge. But the core is {core} in: this sleeve is too large, and it will not hold.", "no")
        else:
            said = Said(f"The legs do not go in: the core is {core} in. Never file or spread a sleeve.", "no")
        return View((figure,), controls, (said,))

    return Board(of_the_scene("Which sleeve?", kit()[0].shop), {"label": 1, "sleeve": "3/16", "coat": True, "moved": False}, show, lambda state, name, value: state | {name: value, "moved": True})


# --- strip both legs -----------------------------------------------------------------------------------

@cache
def _eye() -> tuple[float, float, float, float]:
    """Sleeve before, growth, tail and cable round the loop of a soft eye on order 4's hook, in mm."""
    one, _ = kit()
    before, growth, tail = sheet_lengths(one)
    made = soft_eye(PIN_MM, one.diameter_mm, before, tail, growth_mm=growth, outside_mm=_mm(coated()))
    return before, growth, tail, made.loop_mm


def _right() -> Stripped:
    before, growth, tail, loop = _eye()
    return Stripped(*strip_mm(before, growth, tail, loop, BARE_BAND_MM).marks_mm, tail, before, growth, loop)


def strip_steps() -> lesson.Block:
    """What is stripped on each leg, step by step, and the three marks."""
    before, growth, tail, loop = _eye()
    found = strip_mm(before, growth, tail, loop, BARE_BAND_MM)
    rows = [(label, millimetres(part, 1)) for label, part in found.steps]
    rows += [("bare on each leg", millimetres(found.each_leg_mm, 1)), ("cable round the loop", millimetres(loop, 1)), ("marks, from the cut end", ", ".join(millimetres(at, 1) for at in found.marks_mm))]
    return lesson.answer(lesson.table(("Step", "gives"), rows, f"Worked: the strip for order 4, {LIKED} in under {coated()} in, soft eye on a hook of {PIN_MM:g} mm"))


def sheet_lengths(one: Kit) -> tuple[float, float, float]:
    """Sleeve before, its growth, and the tail that growth and bare band ask for, to the next whole mm: in mm, for an eye of that size."""
    before, growth = one.row.sleeve_before_mm, one.row.sleeve_after_mm - one.row.sleeve_before_mm
    return before, growth, float(-(-max(least_tail_mm(one.diameter_mm), growth + BARE_BAND_MM) // 1))


def straight_still() -> lesson.Block:
    """The coated end with its marks, stripped as order 4 needs it: what the steps come to, so it waits on the wall as they do."""
    one = _right()
    return lesson.answer(stripped_straight(one, one.third + 40, LIKED, coated()))


def eye_still(pressed: bool, toward_loop: float = 1.0) -> lesson.Block:
    """The stripped end in its sleeve, before or after pressing, with the share of the growth that went towards the loop; it waits too."""
    return lesson.answer(stripped_eye(_right(), LIKED, pressed, toward_loop, kit()[0].row.count))


def mark_and_press() -> Board:
    """Mark the three edges and the tail on a coated cable, strip, press, and cut again from what is left."""
    before, growth, tail, loop = _eye()
    start = {"first": 15.0, "second": 90.0, "third": 105.0, "tail": 3.0, "stage": "mark", "left": REEL_MM, "way": 1.0, "good": 0, "spoiled": 0}

    def piece(state: dict) -> Stripped:
        return Stripped(state["first"], state["second"], state["third"], state["tail"], before, growth, loop)

    def taken(state: dict) -> float:
        return state["third"] + 60

    def show(state: dict) -> View:
        one, count, takes = piece(state), kit()[0].row.count, taken(state)
        left = f"{state['left'] / 1000:.2f} m of this cable left. {what_came_of_it(state['good'], state['spoiled'])}".strip()
        short = takes > state["left"]
        if state["stage"] == "mark":
            controls = (slider("tail", "Tail", 1.0, 15.0, 0.5, state["tail"], millimetres(state["tail"], 1)), slider("first", "Mark 1, dead leg bare up to", 1.0, 40.0, 0.5, state["first"], millimetres(state["first"], 1)),
                        slider("second", "Mark 2, loop coated up to", 41.0, float(round(loop + 25)), 0.5, min(state["second"], float(round(loop + 25))), millimetres(state["second"], 1)),
                        slider("third", "Mark 3, live leg bare up to", 41.0, float(round(loop + 60)), 0.5, state["third"], millimetres(state["third"], 1)), button("strip", "Strip it", enabled=not short),
                        *([button("new", "Take a new length", second=True)] if short else []))
            words = (f"Sleeve {millimetres(before, 1)}, grows {millimetres(growth, 1)}; loop {millimetres(loop, 1)}. The band: {BAND_RULE}. All marks from the cut end. {left} Marks at {millimetres(state['first'], 1)}, "
                     f"{millimetres(state['second'], 1)} and {millimetres(state['third'], 1)}, tail {millimetres(state['tail'], 1)}.")
            too_short = (Said(f"An eye with these marks takes {millimetres(takes, 1)} of cable, and {millimetres(state['left'], 1)} is left. Take a new length."),) if short else ()
            return View((stripped_straight(one, loop + 80, LIKED, coated(), stripped=False),), controls, (*too_short, Said(words)))
        if state["stage"] == "stripped":
            return View((stripped_straight(one, loop + 80, LIKED, coated()), stripped_eye(one, LIKED, False)), (button("press", "Press it"), button("again", "Cut off and start again", second=True)),
                        (Said("Stripped. Look at both legs in the sleeve before you press: what is cut off now is lost, what is pressed now is scrap."),))
        found = judge(one, kit()[0].diameter_mm)
        controls = (choice("way", "The metal went", (("all to the loop", 1.0), ("half and half", 0.5), ("all to the tail", 0.0)), state["way"]), button("again", "Another one" if found[0].tone == "ok" else "Cut again"))
        return View((stripped_eye(one, LIKED, True, state["way"], count),), controls, (*found, Said(left)))

    def step(state: dict, name: str, value) -> dict:
        if name == "strip":
            if not state["first"] < state["second"] < state["third"]:
                raise Refusal(f"marks at {state['first']:g}, {state['second']:g} and {state['third']:g} mm", "marks that follow one another from the cut end", "slide them apart")
            if taken(state) > state["left"]:
                raise Refusal(f"an eye that takes {millimetres(taken(state), 1)} out of {millimetres(state['left'], 1)}", "a length that is long enough", "take a new length")
            return state | {"stage": "stripped"}
        if name == "press":
            came = "good" if judge(piece(state), kit()[0].diameter_mm)[0].tone == "ok" else "spoiled"
            return state | {"stage": "pressed", "left": state["left"] - taken(state), came: state[came] + 1}
        if name == "again":
            cut_off = state["stage"] == "stripped"
            return state | {"stage": "mark", "left": state["left"] - cut_off * (state["third"] + 20), "spoiled": state["spoiled"] + cut_off}
        if name == "new":
            return state | {"left": REEL_MM, "good": 0, "spoiled": 0}
        return state | {name: value}

    return Board(of_the_scene("Mark, strip, press", kit()[0].shop), start, show, step)


def nicks() -> lesson.Block:
    """How a knife is led, and what is done with a nicked wire."""
    return lesson.table(("Do", "Never"), (("score the coat round, lightly, and along, away from the hand", "cut across down to the wires"), ("bend it open, pull the coat off the way the strands run", "pull with the edge against the wires"),
                                          ("wipe with a cloth and feel: one hooked wire is a nick", "feel with a finger"), ("a nick: cut back, and strip again", "twist the wire in and press")), "Stripping (common practice)")


# --- the thimble's groove -------------------------------------------------------------------------------

def _cases() -> tuple[tuple[str, float, float, str], ...]:
    core, coat = kit()[0].diameter_mm, _mm(coated())
    return (("A", core * 1.08, coat, "coat"), ("B", coat * 1.06, coat, "coat"), ("C", coat * 1.06, core, "core"), ("D", core * 1.08, core, "core"))


GROOVE_SAYS = {"A": "The coat rides on the groove's edges. It is cut through, and the loop is never snug. Take the thimble for the coat.", "B": "Right: the coat is in the groove, and it is full.",
               "C": "The bare cable lies loose: it can shift and saw. Take the thimble for the core.", "D": "Right: stripped to the core in the groove, and the thimble is the core's."}
GROOVE_RIGHT = ("B", "D")


def groove_still() -> Figure:
    """Four grooves, none judged."""
    return grooves(_cases())


def what_lies_in_it() -> Board:
    """Say which grooves fit what lies in them."""
    def show(state: dict) -> View:
        controls = tuple(button(f"fits_{letter}", f"{letter} fits", second=True) for letter, *_ in _cases())
        if not state["said"]:
            return View((grooves(_cases()),), controls, (Said("Two of these four fit. Which?"),))
        return View((grooves(_cases()),), controls, (Said(f"{state['said']}: {GROOVE_SAYS[state['said']]}", "ok" if state["said"] in GROOVE_RIGHT else "no"),))

    return Board(of_the_scene("What lies in the groove?", kit()[0].shop), {"said": ""}, show, lambda state, name, value: {"said": name.removeprefix("fits_")})


# --- the lap splice --------------------------------------------------------------------------------------

LINES = (("closed ring", "a ring round a net"), ("static line", "a line at the back of a shelf"), ("stay", "a stay of a mast"), ("sling", "a sling"), ("hoisting", "a hoist line"), ("suspension", "a wire that something hangs from"))
NEAR = (("nobody can be there", "nobody"), ("people can be there", "people"))
NEAR_SAID = tuple((name, words) for words, name in NEAR)


def _lap_sizes() -> list[str]:
    return [one.size for one in kits(kit()[0].shop)]


def _order_7() -> tuple[Kit, float, LapSplice]:
    """The eye's kit, one sleeve's growth in mm, and order 7's lap as a rule sets it: tails up to a whole mm, the gap down to half a mm."""
    one, _ = kit()
    growth = one.row.sleeve_after_mm - one.row.sleeve_before_mm
    tail = float(-(-tail_to_set_mm(one.diameter_mm, growth) // 1))
    parts = (one.diameter_mm, one.row.sleeve_before_mm, growth, tail, (one.row.count,) * 2, "closed ring", "nobody")
    return one, growth, lap_splice(*parts, lap_splice(*parts).gap_mm * 2 // 1 / 2)


def lap_still(pressed: bool = False, inwards: bool = False) -> Figure:
    """Order 7's lap, before or after pressing, all growth outwards or all of it inwards."""
    one, growth, found = _order_7()
    return lap(one.diameter_mm, one.row.sleeve_before_mm, growth, found.gap_mm, (found.tail_mm,) * 2, one.row.count, one.size, pressed, inwards=inwards)


def ring_steps() -> lesson.Block:
    """Order 7's ring: the lap, and the length to cut."""
    one, _, found = _order_7()
    cut = ring_cut_mm(ROUND_MM, found)
    rows = [(label, millimetres(part)) for label, part in found.steps] + [("the lap, added before rounding", millimetres(found.overlap_mm)), ("once round the net", millimetres(ROUND_MM, 0)), ("to cut", millimetres(cut.total_mm)), ("what it may carry", found.limit)]
    return lesson.answer(lesson.table(("Step", "gives"), rows, f"Worked: the ring of order 7, {one.size} in, lengths before pressing; tails up to a whole millimetre, the gap down to half a one"))


def lay_out_a_lap() -> Board:
    """Lay a lap out to scale for your size; both outer tails, the gap, and what line it may be in."""
    def parts(state: dict) -> tuple[Kit, float]:
        one = next(k for k in kits(kit()[0].shop) if k.size == state["size"])
        return one, one.row.sleeve_after_mm - one.row.sleeve_before_mm

    def show(state: dict) -> View:
        one, growth = parts(state)
        controls = (choice("size", "Cable, inches", _lap_sizes(), state["size"], as_list=True), choice("sleeves", "Sleeves", (("one", 1), ("two", 2)), state["sleeves"]),
                    slider("gap", "Gap", 0.0, 30.0, 0.5, state["gap"], millimetres(state["gap"], 1)), slider("left", "Tail, left", 0.0, 25.0, 0.5, state["left"], millimetres(state["left"], 1)),
                    slider("right", "Tail, right", 0.0, 25.0, 0.5, state["right"], millimetres(state["right"], 1)), choice("line", "It is for", [(words, name) for name, words in LINES], state["line"], as_list=True),
                    choice("near", "If it lets go", NEAR, state["near"], as_list=True), choice("pressed", "Show it", (("before pressing", ""), ("after, all growth outwards", "outwards"), ("after, all growth inwards", "inwards")), state["pressed"], as_list=True))
        figure = lap(one.diameter_mm, one.row.sleeve_before_mm, growth, state["gap"], (state["left"], state["right"]), one.row.count, one.size, bool(state["pressed"]), state["sleeves"], state["pressed"] == "inwards")
        facts = f"Sleeve {millimetres(one.row.sleeve_before_mm, 1)}, grows {millimetres(growth, 1)}. Gap {millimetres(state['gap'], 1)}, tails {millimetres(state['left'], 1)} and {millimetres(state['right'], 1)}. It is for {dict(LINES)[state['line']]}; {dict(NEAR_SAID)[state['near']]}."
        if state["sleeves"] == 1:
            return View((figure,), controls, (Said("One sleeve: not made here. Nothing is known of what such a lap holds; take two.", "no") if state["moved"] else Said("May it be pressed so? Change what is wrong."), Said(facts)))
        try:
            found = lap_splice(one.diameter_mm, one.row.sleeve_before_mm, growth, tail_to_set_mm(one.diameter_mm, growth), (one.row.count,) * 2, state["line"], state["near"])
        except Refusal as refusal:
            return View((figure,), controls, (Said(str(refusal), "no"), Said(facts)))
        wrong = set_wrong(one.diameter_mm, state["gap"], {side: state[side] for side in ("left", "right")}, found.gap_band_mm)
        if wrong:
            return View((figure,), controls, (*wrong, Said(facts)))
        if min(state["left"], state["right"]) - growth <= 0:
            return View((figure,), controls, (Said("Two diameters are kept, and still an outer end vanishes when all the growth goes over it. Set the tail longer.", "no"), Said(facts)))
        notes = (Said("If both sleeves grow all the way inwards, they meet. Set the gap at its widest, and look at it before the second one is pressed."),) if state["gap"] <= 2 * growth else ()
        return View((figure,), controls, (Said(f"It can be made: {found.count} crimps on each sleeve, look at both outer ends. Its limit: {found.limit}.", "ok"), *notes, *longer_than_needed(one.diameter_mm, growth, {side: state[side] for side in ("left", "right")}), Said(facts)))

    return Board(of_the_scene("Lay out a lap", kit()[0].shop), {"size": LIKED if LIKED in _lap_sizes() else _lap_sizes()[0], "sleeves": 1, "gap": 2.0, "left": 5.0, "right": 1.0, "line": "closed ring", "near": "nobody", "pressed": "", "moved": False}, show, lambda state, name, value: state | {name: value, "moved": True})


# --- where a lap may not be --------------------------------------------------------------------------------

# (what is asked, line, use, near): decided by the lap's own refusals
ASKED = (
    ("A ring that gathers a bird net at waist height, in a fenced bed where nobody goes.", "closed ring", "nobody"),
    ("Two offcuts joined, to make one stay of a mast.", "stay", "people"),
    ("A loop of cable to lift a trough with, closed by a lap.", "sling", "lifting"),
    ("A line low along the back of a shelf in a locked store, so that boxes do not slip behind it; it carries none.", "static line", "nobody"),
    ("A hanging basket's wire, made from two short ends.", "suspension", "people"),
    ("A ring round a pergola post, with a bench right below.", "closed ring", "people"),
    ("The rope of a hand winch, too short by a metre.", "hoisting", "lifting"),
)


def decide(at: int) -> tuple[bool, str]:
    """Whether the lap that is asked for may be made, and why not.

    >>> decide(0)[0], decide(1)[0]
    (True, False)
    """
    _, line, use = ASKED[at]
    one, _ = kit()
    growth = one.row.sleeve_after_mm - one.row.sleeve_before_mm
    try:
        lap_splice(one.diameter_mm, one.row.sleeve_before_mm, growth, float(tail_to_set_mm(one.diameter_mm, growth)), (one.row.count,) * 2, line, use)
    except Refusal as refusal:
        return False, f"{refusal.do[:1].upper()}{refusal.do[1:]}."
    return True, "Low down, nobody there, and nothing hangs from it. Tag it: no lifting, no limit."


def may_it_be_a_lap() -> Board:
    """Say for each job whether a lap may be in it."""
    def show(state: dict) -> View:
        words = ASKED[state["at"]][0]
        head = Said(f"Job {state['at'] + 1} of {len(ASKED)}. {words}")
        if state["call"] is None:
            return View((), (button("yes", "It may be a lap"), button("no", "No lap", second=True)), (head,))
        right, why = decide(state["at"])
        good = state["call"] == right
        return View((), (button("next", "The next job"),), (Said(f"{'Right' if good else 'Not so'}: {'a lap may be made' if right else 'no lap'}. {why}", "ok" if good else "no"), head))

    def step(state: dict, name: str, value) -> dict:
        return {"at": (state["at"] + 1) % len(ASKED), "call": None} if name == "next" else state | {"call": name == "yes"}

    return Board(of_the_scene("May it be a lap?"), {"at": 0, "call": None}, show, step)


def asked_still() -> lesson.Block:
    """The jobs, without answers."""
    return lesson.table(("", "Asked for"), [(at, words) for at, (words, *_) in enumerate(ASKED, 1)], "May it be a lap?")


# --- what goes wrong ----------------------------------------------------------------------------------------

def wrong_ends(which: int) -> Figure:
    """One of four ends that went wrong, drawn without a word on what is wrong."""
    before, growth, tail, loop = _eye()
    good, one = _right(), kit()[0]
    if which == 0:  # only the dead leg stripped
        return stripped_eye(Stripped(good.first, good.third - 1, good.third - 0.5, tail, before, growth, loop), LIKED, True, count=one.row.count)
    if which == 1:  # stripped for the sleeve as it was before pressing
        edge = tail + before
        return stripped_eye(Stripped(edge, edge + loop, edge + loop + before, tail, before, growth, loop), LIKED, True, 0.5, one.row.count)
    if which == 2:
        return lap(one.diameter_mm, before, growth, growth + 2 * one.diameter_mm, (tail, tail), one.row.count, one.size, True, 1, asked=True)
    return lap(one.diameter_mm, before, growth, growth + 1.5 * one.diameter_mm, (tail, min(1.0, growth / 2)), one.row.count, one.size, True, asked=True)


WRONG = ("Only the dead leg was stripped: the live leg has its coat in the sleeve. Reject: it slides out of its coat.", "Stripped for the sleeve as it was. It grew over the coat on both sides. Reject.",
         "A lap with one sleeve. Nothing is known of what it holds. Reject: cut it out, and make one with two sleeves on fresh cable.", "One outer tail was forgotten: no end shows there. Reject. There are two tails to look at, at both outer ends.")


def wrong_ends_words() -> lesson.Block:
    """What was wrong with the four."""
    return lesson.when_said(lesson.table(("End", "What is wrong"), list(enumerate(WRONG, 1))))
