"""Lesson 00: the letters on the desk, who can be near a wire, which paper governs, the bench, one force in two units."""

from __future__ import annotations

import re
from datetime import date
from functools import cache
from html import escape

from rigcalc._order import Order, refuse_class
from rigcalc._strength import breaking_force
from rigcalc.assembly import MissingFacts, job_sheet
from rigcalc.errors import Refusal
from rigcalc.figures import Figure
from rigcalc.figures.first_morning import DANGERS, SAFE, SPOTS, bench_scene, letters_on_a_desk, papers_on_a_wall, two_scales, wire_and_people
from rigcalc.notebook import lesson
from rigcalc.notebook.board import Board, Said, View, button, choice, pick, slider, tick
from rigcalc.notebook.course.plainly import in_plain_words
from rigcalc.notebook.teaching import eye_for_teaching, of_order, of_the_scene, sample_shop, shop_for_teaching
from rigcalc.rating import class_of_use
from rigcalc.shop.model import Reel
from rigcalc.sleeve import chart_line
from rigcalc.units import GRAVITY_M_S2, LBF_N, show_force, show_mass

__all__ = ["answer_to", "bench_still", "find_the_dangers", "five_questions", "force_still", "letters", "not_for", "one_force", "opening", "papers_still", "read_the_letters",
           "shop_table", "uses_table", "what_is_wrong_with_it", "what_the_shop_lacks", "which_paper", "who_can_be_there", "whose_factor", "worked"]

SHEET_DAY = date(2026, 4, 1)  # a day on which the invented shop's gauges are in date
CALLS = (("Make it", "make"), ("Ask first", "ask"), ("Refuse it", "refuse"))
CALL_WORDS = {"make": "make it", "ask": "ask first", "refuse": "refuse it"}

# The letters as a customer writes them; each has its order file, which is what decides.
LETTERS = (
    ("09_engine_hoist", "Boatyard", "We must hoist an engine out of a boat, once only. Nobody will be near it, nobody holds it, and it will not swing. Make us a two-leg bridle. Your cable is strong enough."),
    ("01_gate_brace", "Hill farm", "Our field gate sags. We want a brace with a turnbuckle. The pull is stated and will be checked with your gauge. Nobody swings on it, we asked. It is chained shut, and nobody can come near it."),
    ("03a_lantern_no_designer", "Town council", "A lantern is to hang over the lane by the harbour. It is light. People walk below."),
    ("10_zip_line", "Scout camp", "A zip line over the brook, please, and it is for children, so use your best cable."),
    ("02a_cafe_wires_hand_tight", "Courtyard café", "Eight wires for climbing plants on the yard wall. They shall be hand tight."),
    ("07_bird_net_ring", "Allotment", "A ring of cable round our bird net, waist high, in a fenced bed. It only gathers the hem: nothing hangs on it, and we ask for no limit. Nobody is near, nobody holds it."),
    ("11_pool_panels", "Swimming pool", "Sound panels are to hang over the water on stainless cable. A designer stands for it."),
    ("13_new_sleeves_on_old_stays", "Weather club", "Our old stays are still good. Put new sleeves on them."),
    ("05_kayak_bridle", "Boat museum", "An old kayak is to hang over the visitors. A named designer gives the factor and the load; both stand on the order."),
    ("12_gym_cable", "Sports hall", "A new cable for the weight stack of our machine. It runs over pulleys indoors."),
)


def opening() -> lesson.Block:
    """The chart in force and whether the shop is invented."""
    one, note = eye_for_teaching()
    return lesson.opening_lines(chart_line(one.chart), one.shop.invented, note)


# --- the letters ------------------------------------------------------------------------------------

def _asked(question: str) -> str:
    """A question without the command's own words."""
    return re.sub(r"\s*\(--[^)]*\)", "", question)


@cache
def answer_to(name: str) -> tuple[str, str]:
    """What the order of that name comes to, "make", "ask" or "refuse", and why, from the order desk itself.

    >>> answer_to("09_engine_hoist")[0], answer_to("01_gate_brace")[0], answer_to("03a_lantern_no_designer")[0]
    ('refuse', 'make', 'ask')
    """
    try:
        sheet = job_sheet(of_order(name), sample_shop(), SHEET_DAY)
    except MissingFacts as missing:
        return "ask", f"Not said yet: {_asked(missing.questions[0])}" + (f" And {len(missing.questions) - 1} more." if len(missing.questions) > 1 else "")
    except Refusal as refusal:
        return "refuse", f"{refusal.do[:1].upper()}{refusal.do[1:]}."
    return "make", f"It goes on with a job sheet: {sheet.title.partition(': ')[2]}. The size and the limit come later, and each has its own checks."


def letters(*which: int) -> Figure:
    """Three letters on the desk, by their places in `LETTERS`; without any, order 9 on top."""
    return letters_on_a_desk([LETTERS[at][1:] for at in which or (0, 2, 4)])


def read_the_letters(first: int = 0, only: bool = False) -> Board:
    """Decide letter by letter, before any sum; the order desk answers.

    Parameters
    ----------
    first : int
        The letter on top.
    only : bool
        Whether the board holds that letter alone.
    """
    def show(state: dict) -> View:
        name, who, words = LETTERS[state["at"]]
        call, told = state["call"], []
        controls = [choice("call", "What do you do?", CALLS, call)] if call else [button(value, words, second=True) for words, value in CALLS]
        if call:
            right, why = answer_to(name)
            told = [Said(f"You say: {CALL_WORDS[call]}. {'So does the order desk.' if call == right else f'The order desk says: {CALL_WORDS[right]}.'} {why}", "ok" if call == right else "no")]
            if not only:
                controls = [button("next", "The next letter")]
            else:
                controls = [button("again", "Read it once more", second=True)]
        done = f" You have answered {len(state['done'])} of {len(LETTERS)}." if state["done"] and not only else ""
        wrong = [LETTERS[at][1] for at, said in state["done"].items() if said != answer_to(LETTERS[at][0])[0]]
        under = lesson.table(("The desk says otherwise in",), [(who,) for who in wrong]) if wrong and not only else None
        ask = Said(f"{who}: {'make it, ask first, or refuse it' if not call else 'answered'}.{done}")
        return View((letters_on_a_desk([(who, words)]),), tuple(controls), (*told, ask), under)

    def step(state: dict, name: str, value) -> dict:
        if name in CALL_WORDS and not state["call"]:
            return state | {"call": name, "done": state["done"] | {state["at"]: name}}
        if name == "next" and state["call"]:
            return state | {"at": (state["at"] + 1) % len(LETTERS), "call": ""}
        return state | {"call": ""} if name == "again" else state

    return Board(of_the_scene("Order 9: what do you do?" if only else "Letter by letter"), {"at": first, "call": "", "done": {}}, show, step)


def worked() -> lesson.Block:
    """Order 9, decided by the five questions, as it came."""
    order = of_order("09_engine_hoist")
    rows = (("What is it for?", order.what), ("If it lets go, who can be there?", f"{order.near}, says the boatyard"), ("Does it move, or swing?", f"{'no' if order.movement == 'none' else order.movement}, says the boatyard"),
            ("Does a person hold it, hang on it, or is kept by it?", f"{order.held}, says the boatyard"), ("Does it lift, pull along, or is it part of a vehicle, lift or boat?", f"{order.lifts}: it hoists"), ("So", f"refuse it, before any sum. {answer_to('09_engine_hoist')[1]}"))
    return lesson.answer(lesson.table(("Asked in this order", "Order 9 says"), rows, "Worked: order 9 (INVENTED)"))


def five_questions() -> lesson.Block:
    """The questions of an order that come before any sum."""
    from rigcalc._order import open_questions

    asked = [_asked(one) for one in open_questions(Order())[:5]]
    return lesson.table(("", "Ask, before any sum"), [(at, words) for at, words in enumerate(asked, 1)])


# --- what they are not for ---------------------------------------------------------------------------

def not_for() -> lesson.Block:
    """Jobs that are refused, and whom the customer is sent to, from the workbook's own list of uses."""
    rows = [(word, class_of_use(word).ask) for word in ("lifting", "fall arrest", "aircraft", "lifts", "vehicles")]
    return lesson.table(("Refused", "Whom the customer is sent to"), [(word, f"{ask[:1].upper()}{ask[1:]}.") for word, ask in rows], "No sum, no size and no promise changes this")


def uses_table() -> lesson.Block:
    """The three classes of use."""
    rows = [(word, class_of_use(name).meaning, who) for word, name, who in (
        ("Nobody can be there", "nobody", "the shop's design factor, with the name of who set it"),
        ("People can be there", "people", "a named designer's factor and load, for that order only"),
        ("Lifting, people, aircraft, lifts, vehicles", "lifting", "nobody's: it is refused"))]
    return lesson.table(("Class", "That is", "Whose factor"), rows)


MOVES = (("hangs still", "none"), ("moves in the wind", "moves"), ("people swing on it", "swung on"))
WHOSE = (("The shop's own factor", "shop"), ("Only with a named designer", "designer"), ("Ask first who keeps people out", "ask"), ("Refuse it", "refuse"))


def whose_factor(spot: str, moves: str) -> tuple[str, str]:
    """Whose factor a lamp on a wire is hung with, a name of `WHOSE`, and why.

    >>> whose_factor("nobody", "none")[0], whose_factor("whip", "none")[0], whose_factor("path", "none")[0]
    ('shop', 'designer', 'ask')
    """
    near = "nobody" if spot == "nobody" else "people"
    try:
        refuse_class(Order(what="lamp on a wire", where="yard", use=near, near="nobody" if near == "nobody" else SPOTS[spot], movement=moves))
    except Refusal as refusal:
        return "refuse", in_plain_words(refusal)
    if moves != "none":
        return "designer", "What moves is not static: nobody rates it without a named designer, whoever is there."
    if spot == "path":
        return "ask", "Past the fall and past the whip. But a hedge stops nobody: ask who keeps people out. Until somebody answers for that, count them as near."
    if near == "people":
        where = {"under": "in the fall", "beside": "beside it, and in the whip", "whip": "in the whip: the far end comes this way when the other lets go"}[spot]
        return "designer", f"Somebody is {where}. People can be there: only with a named designer's factor and load."
    return "shop", "Nobody can be under it, beside it, in its fall or in its whip, and it hangs still: the shop's own factor, with its owner."


def what_is_wrong_with_it() -> lesson.Block:
    """What is wrong with "nobody is under it", of somebody beside the wire, in its whip."""
    words = whose_factor("whip", "none")[1]
    return lesson.when_said(lesson.Block(f"<p>{escape(words)}</p>", words))


def who_can_be_there() -> Board:
    """Put somebody near a wire; the reader says whose factor it needs, and then the class of use follows, or the refusal."""
    def show(state: dict) -> View:
        controls = (choice("spot", "Who can be there?", [(words, name) for name, words in SPOTS.items()], state["spot"], as_list=True),
                    choice("moves", "The lamp", MOVES, state["moves"]), tick("zones", "show fall and whip", state["zones"]), *(button(name, words, second=True) for words, name in WHOSE))
        figure = wire_and_people(state["spot"], state["zones"])
        if not state["call"]:
            moves = "People swing on it" if state["moves"] == "swung on" else f"The lamp {({name: words for words, name in MOVES})[state['moves']]}"
            return View((figure,), controls, (Said(f"{moves}. May it be hung like this, and with whose factor? Say it; then it is told."),))
        right, why = whose_factor(state["spot"], state["moves"])
        good, call = state["call"] == right, {name: words for words, name in WHOSE}[state["call"]]
        return View((figure,), controls, (Said(f"You say: {call[:1].lower()}{call[1:]}. {'Right' if good else 'Not so'}. {why}", "ok" if good else "no"),))

    def step(state: dict, name: str, value) -> dict:
        if name in dict(WHOSE).values():
            return state | {"call": name}
        return state | {name: value} | ({} if name == "zones" else {"call": ""})

    return Board("If it lets go, who can be there?", {"spot": "under", "moves": "none", "zones": False, "call": ""}, show, step)


# --- which paper governs ------------------------------------------------------------------------------

def _papers() -> dict[str, tuple[str, str]]:
    one, _ = eye_for_teaching()
    row, tool = one.row, one.chart.tool
    other = next((chart for chart in one.shop.charts if chart.tool != tool), None)
    papers = {"heard": ("On a scrap of paper", "“One crimp more holds better.”\nno name"),
              "book": ("A published circular", "AC 43.13-1B, 7-148c: centre first\ncopper sleeves of aircraft"),
              "shop": ("The shop's written rule", "crimps are counted aloud;\nit gives no count"),
              "maker": (f"Chart of tool {tool}", f"{one.size} in {one.chart.sleeve_metal}: {row.count} crimps\nedition {one.chart.edition}, copied and checked")}
    if other is not None:
        same = next((r.count for r in other.rows if r.size == one.size), None)
        says = f"{one.size} in: {same} crimps" if same else f"has no row for {one.size} in"
        papers["other"] = (f"Chart of tool {other.tool}", f"{other.sleeve_metal}: {says}\nedition {other.edition}")
    return papers


PAPER_SAYS = {
    "heard": "Somebody's word, without a name. It counts for nothing, and one crimp more can thin the sleeve.",
    "book": "Published practice, for another sleeve: aircraft copper. It is shown, never used here.",
    "shop": "The shop's rule stands second. It fills in what the maker leaves open. It gives no count, so it cannot answer this.",
    "other": "A good chart for another tool. Cavities differ, so its count is nothing to this tool.",
    "maker": "The chart of the maker of this tool and sleeve: it governs. You read the count from it and from nothing else.",
}


def papers_still() -> Figure:
    """The papers on the wall, none chosen."""
    return papers_on_a_wall([(name, *words) for name, words in _papers().items()], lambda shape, *_: shape)


def which_paper() -> Board:
    """Take papers off the wall, and say which of those that hang gives the count."""
    one, _ = eye_for_teaching()

    def show(state: dict) -> View:
        papers = _papers()
        hung = [name for name in papers if name not in state["gone"]]
        figure = papers_on_a_wall([(name, *papers[name]) for name in hung], pick, state["picked"])
        controls = (*(tick(f"hangs_{name}", papers[name][0], name not in state["gone"]) for name in papers),
                    button("none", "None of these: stop and ask", second=True))
        ask = Said(f"How many crimps for a {one.size} in {one.chart.sleeve_metal} sleeve in tool {one.chart.tool}? Point at the paper that answers, or say that none does.")
        if state["picked"] == "none":
            right = "maker" not in hung
            said = Said("Right: no chart for this tool hangs here. Nothing is pressed until it is found, or the maker has answered." if right
                        else "One of these does answer: it names this tool and this sleeve.", "ok" if right else "no")
        elif state["picked"]:
            right = state["picked"] == "maker"
            said = Said(PAPER_SAYS[state["picked"]] + ("" if right or "maker" in hung else " And the right chart does not hang here: what do you do?"), "ok" if right else "no")
        else:
            return View((figure,), controls, (ask,))
        return View((figure,), controls, (said, ask))

    def step(state: dict, name: str, value) -> dict:
        if name == "paper":
            return state | {"picked": value}
        if name == "none":
            return state | {"picked": "none"}
        paper = name.removeprefix("hangs_")
        gone = [one for one in state["gone"] if one != paper] + ([] if value else [paper])
        return state | {"gone": gone, "picked": ""}

    return Board("Which paper gives the count?", {"gone": [], "picked": ""}, show, step)


# --- the bench ----------------------------------------------------------------------------------------

def bench_still() -> Figure:
    """The bench with its dangers, none named."""
    return bench_scene(lambda shape, *_: shape)


def find_the_dangers() -> Board:
    """Point at what is dangerous on a drawn bench."""
    def show(state: dict) -> View:
        found = [name for name in state["seen"] if name in DANGERS]
        figure = bench_scene(pick, found)
        left = len(DANGERS) - len(found)
        told = Said(f"{len(found)} found. {left} to go." if left else "All found. Who stops the work on seeing one of these? Everybody.", "" if left else "ok")
        if not state["last"]:
            return View((figure,), (), (Said(f"{len(DANGERS)} things here can hurt somebody. Point at them."),))
        dangerous = state["last"] in DANGERS
        return View((figure,), (button("again", "From the start", second=True),), (Said((DANGERS | SAFE)[state["last"]][1], "ok" if dangerous else "no"), told))

    def step(state: dict, name: str, value) -> dict:
        if name == "again":
            return {"seen": [], "last": ""}
        return {"seen": [*state["seen"], *([value] if value not in state["seen"] else [])], "last": value}

    return Board("What is wrong on this bench?", {"seen": [], "last": ""}, show, step)


# --- your shop, your units ------------------------------------------------------------------------------

def shop_table() -> lesson.Block:
    """What the shop in force has, and who answers for what."""
    shop, _ = shop_for_teaching()
    sizes = ", ".join(dict.fromkeys(reel.label for reel in shop.reels))
    factor = "; ".join(f"{one.value:g}, set by {one.owner} on {one.set_on}, for {one.scope}" for one in shop.factors) or "none entered: nothing is rated until somebody sets one by name"
    charts = "; ".join(chart_line(chart) for chart in shop.charts) or "none"
    return lesson.table(("In this shop", ""), (("name", shop.name), ("cable on the racks", sizes), ("charts in force", charts), ("design factor", factor),
                                               ("figures shown first in", "pounds-force and inches" if shop.system == "US" else "newtons and millimetres")))


def what_the_shop_lacks() -> lesson.Block:
    """What has no certificate or is past its date here: the places to stop and ask."""
    shop, _ = shop_for_teaching()
    rows = [(reel.label, _without_certificate(reel)) for reel in shop.reels if not reel.certificate]
    return lesson.table(("On the rack", "Stop and ask"), rows or [("every reel", "has its certificate")])


def _without_certificate(reel: Reel) -> str:
    if reel.size == "unknown":
        return "no certificate, and nobody can say what it is: no figure may be worked from it"
    try:
        breaking_force(reel.size, reel.construction, reel.metal)
    except Refusal:
        return "no certificate, and no table of this workbook has a row for it: no figure may be worked from it"
    return "no certificate: the table's row alone says what it holds; ask for the certificate"


def one_force() -> Board:
    """Slide a weight; see it in both units, and as a force."""
    most = 200

    def show(state: dict) -> View:
        newtons = state["pounds"] * LBF_N
        kilograms = newtons / GRAVITY_M_S2
        figure = two_scales(float(newtons), float(most * LBF_N), ("lbf", 25, f"{state['pounds']} lbf"), ("N", 100, f"{float(newtons):.0f} N"), float(LBF_N), 1.0)
        said = (Said(f"What weighs {show_mass(kilograms)} pulls down with {show_force(newtons, 'US')}, where gravity is standard."),
                Said("A mass is no force. Somebody who writes “kilograms” on a limit has written something else.", ""))
        return View((figure,), (slider("pounds", "Pull", 0, most, 5, state["pounds"], f"{state['pounds']} lbf"),), said)

    return Board("One pull, two units", {"pounds": 45}, show)


def force_still() -> Figure:
    """One force on both scales."""
    return one_force().seen.figures[0]

