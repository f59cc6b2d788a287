"""Lesson 12, one order from first letter to tag: what to ask, what to refuse, then each line of the sheet decided."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache

from rigcalc._order import HOLDS_NOBODY
from rigcalc._order_shapes import read_weight
from rigcalc.assembly import JobSheet, Order, job_sheet, missing_facts
from rigcalc.cable import breaking_force
from rigcalc.errors import Refusal
from rigcalc.figures import Figure
from rigcalc.figures.order_papers import sheet_so_far, tag
from rigcalc.notebook import lesson
from rigcalc.notebook.board import Board, Said, View, button, choice
from rigcalc.notebook.course.metal_pairs import IN_WORDS
from rigcalc.notebook.course.order_letters import FIRST, FIRST_REPLY, LANTERN, SECOND, SHEET_DAY, both_refused, first_letter, letter_block, letter_to, second_letter
from rigcalc.notebook.teaching import of_order, of_the_scene, page_chart, sample_shop, shop_for_teaching
from rigcalc.rating import efficiency, working_load_limit_n
from rigcalc.shop.order_file import OPTIONS
from rigcalc.units import show_force, show_length

__all__ = ["FIRST", "LANTERN", "NOT_YOUR_CHART", "SECOND", "SHEET_DAY", "asked", "first_letter", "from_letter_to_tag", "lantern", "letter_block", "letter_to", "open_of_the_first_letter", "opening",
           "second_letter", "sheet_still", "tag_lines", "whole_sheet", "worked_limit"]

KNOWN = ("number", "what", "where", "weight", "gravity", "shape", "load_spread", "load_at")  # what the first letter says by itself
NOT_YOUR_CHART = "the order is the invented shop's"
BENCH = "reel"  # asked of the bench, never of the customer
SHOPS_OWN = (BENCH, "seen_by")  # what no letter asks
DESIGN = ("designer", "designer_factor", "designer_load", "designer_date")


@cache
def lantern() -> JobSheet:
    """The sheet that order 3 comes to in the end.

    >>> lantern().limit_shown
    '198 lbf [880 N]'
    """
    return job_sheet(of_order(LANTERN), sample_shop(), SHEET_DAY)


def opening() -> lesson.Block:
    """The chart in force for the lantern's sleeves, that the shop is invented, and what has to be said of the reader's own shop."""
    own, note = shop_for_teaching()
    more = () if own.invented else (f"The order on this page is worked with the invented sample shop; your own shop, {own.name}, makes its own sheets.",)
    return lesson.opening_lines(page_chart(lantern().chart_line, sample_shop(), NOT_YOUR_CHART), True, note, more)


# --- what to ask ------------------------------------------------------------------------------------------

def asked(question: str) -> str:
    """A question in a customer's words, without the command's own."""
    plain = re.sub(r"\s*\((?:--[^)]*|[a-z_]+ in \[\[piece\]\])\)", "", question)
    return f"Which place is it: {'; '.join(IN_WORDS.values())}?" if _field(question) == "service" else plain


def _field(question: str) -> str:
    """The order's fact that a question asks for."""
    found = re.search(r"(--[a-z-]+)", question)
    return OPTIONS[found[1]][0] if found and found[1] in OPTIONS else "length"


# What one answer of the council settles: (the facts, its words).
ANSWERS = (
    (("use", "near"), "“Anybody. It is the lane to the harbour: {near}.”"),
    (("movement", "held", "lifts", "seen_by"), "“It hangs still. Nobody can reach it, and it lifts nothing.” No list of harmless work knows a lantern. So {seen_by} goes through it with them, and stands on the sheet for this: {holds_nobody}."),
    (("load_from",), "“We did, {load_from_words}.”"),
    (("service",), "“Outdoors. When it storms the spray comes over the quay wall.” You write: {service}."),
    (("span", "sag"), "“{span} from wall to wall. The lantern may hang {sag} below the ends.”"),
    (("ends", "length", "measured", "quantity", "pieces", "fittings", "take_up"), "“Two wires, wall to ring and ring to wall, {ends} each. The wall anchors are ours.” They send the lengths pin to pin."),
    (("tightened", "installer"), "“No. Our own people hang it, once, and leave it.”"),
)
NEEDLESS = {
    "cable": ("Which cable would you like?", "“You must have something left over. Is there not a 6 mm reel?” That is a wish and no fact. You will hear of it again."),
    "crimps": ("How many crimps do you want on each sleeve?", "“As many as hold best.” They cannot know. The count stands in the chart in force, whatever a customer says."),
    "factor": ("Shall we take a good high design factor?", "“You are the craftsmen.” With people below, it is not yours to choose, and not theirs. Ask who designs it."),
    "colour": ("What colour is the lantern?", "“Green. Why?” Nothing on the sheet changes with it."),
}
FEW_OPEN, FEW_NEEDLESS = 4, 2


def _so_far(settled) -> Order:
    """The order as far as it is known."""
    order = of_order(FIRST)
    known = set(KNOWN).union(*(facts for facts, _ in ANSWERS if facts[0] in settled), ())
    return Order(**{name: getattr(order, name) for name in known if getattr(order, name) is not None})


def _open(settled) -> list[tuple[str, str]]:
    """(what it settles, the question), for what the package still asks of the customer, first things first."""
    found: dict[str, str] = {}
    for question in missing_facts(_so_far(settled)):
        field = _field(question)
        topic = "designer" if field in DESIGN else next((facts[0] for facts, _ in ANSWERS if field in facts), field)
        if topic != BENCH:
            found.setdefault(topic, asked(question))
    return list(found.items())


def _answer(topic: str) -> str:
    order = of_order(FIRST)
    words = next(words for facts, words in ANSWERS if facts[0] == topic)
    return words.format(near=order.near, seen_by=order.seen_by, holds_nobody=HOLDS_NOBODY, service=IN_WORDS[order.service], span=order.span, sag=order.sag, ends=order.ends, load_from_words="on our own scale, and the lane with a tape")


def open_of_the_first_letter() -> lesson.Block:
    """How many questions the first letter leaves open."""
    questions = missing_facts(_so_far(()))
    reel = next(at for at, words in enumerate(questions, 1) if _field(words) == BENCH)
    return lesson.when_said(lesson.table(("", "The first letter does not say"), [(at, asked(words)) for at, words in enumerate(questions, 1)],
                                         f"{len(questions)} facts, asked by the workbook in this order. Number {reel} is asked of the bench. One question of yours can settle several."))


# --- the sheet, line by line --------------------------------------------------------------------------------

LINES = ("What and where", "Who can be near", "Load and shape", "Place", "Designer", "Cable and sleeve", "Pair", "Must cover", "Limit", "Weakest link", "To cut, each", "Tag")


def _item(items, label: str) -> str:
    return next((one.value for one in items if one.label == label), "")


def _filled(state: dict) -> list[tuple[str, str]]:
    """The sheet's lines, blank where nothing is decided."""
    order, done, settled = of_order(LANTERN), state["done"], state["settled"]
    span = f"; span {order.span}, sag {order.sag}" if "span" in settled else ""
    pull = f": pull at an end {_pull()}, with this cable's own weight" if "Cable and sleeve" in done else ""
    values = {"What and where": f"{order.what}, {order.where}", "Who can be near": order.near if "use" in settled else "",
              "Load and shape": f"{order.weight}, {order.load_at}{span}{pull}" if span else "",
              "Place": IN_WORDS[order.service] if "service" in settled else "",
              "Designer": f"{order.designer}, {order.designer_date}: factor {order.designer_factor}, design load {order.designer_load}" if state["stage"] in AFTER else ""}
    sheet = lantern()
    later = {"Cable and sleeve": f"{_item(sheet.decided, 'Cable')}; {_item(sheet.decided, 'Sleeve')}", "Pair": _item(sheet.decided, "Pair").partition(":")[0], "Must cover": _must_cover(),
             "Limit": f"{sheet.limit_shown}, straight pull only", "Weakest link": "the cable at its eyes, of what we deliver; the anchors carry their own marks",
             "To cut, each": f"{sheet.cut_shown}, and one trial piece", "Tag": sheet.tag[2]}
    values |= {name: words if name in done else "" for name, words in later.items()}
    return [(name, values[name]) for name in LINES]


def sheet_still() -> Figure:
    """The sheet as the first letter leaves it: nearly blank."""
    return sheet_so_far("Job sheet, order 3, after the first letter", _filled(_start()))


def _pull() -> str:
    """The pull at an end, with the own weight of the reel that the sheet is made for."""
    return _item(lantern().shape, "Pull with own weight").partition(" at ")[0]


def _one_eye() -> str:
    """What a cut is worked from beside its pin to pin, of one eye."""
    return "; ".join(f"{step.label.removeprefix('first eye: ').removeprefix('less ')} {step.value.replace('-', '')}" for step in lantern().pieces[0].cut_steps if step.label.startswith("first eye"))


def _must_cover() -> str:
    return lantern().limit_notes[0].removeprefix("Covers ").rstrip(".")


@cache
def _limits() -> tuple[tuple[str, str, str, bool], ...]:
    """(name, figure, what it comes from, whether it is right) for the limit."""
    order, shop = of_order(LANTERN), sample_shop()
    reel = shop.reel(order.reel)
    force = breaking_force(reel.size, reel.construction, reel.metal, reel.certificate_n, reel.certificate).force_n
    share, factor = efficiency("zinc-plated copper", reel.metal, reel.construction).value, float(order.designer_factor)
    ways = (("shop", share, shop.factors[0].value, f"by the shop's factor {shop.factors[0].value:g}. Its scope is {shop.factors[0].scope}; people walk below. The designer's factor stands."),
            ("right", share, factor, ""), ("whole", 1.0, factor, f"without the {share:.2f} for the eyes. An eye never holds all that the cable holds."),
            ("twice", share * share, factor, f"with {share:.2f} taken for each of the two eyes. They lie in one line: it is taken once."))
    shown = [(name, show_force(working_load_limit_n(force, eyes, by), shop.system, "down"), why, name == "right") for name, eyes, by, why in ways]
    return tuple((name, lantern().limit_shown if right else figure, why, right) for name, figure, why, right in shown)


def worked_limit() -> lesson.Block:
    """The lantern's limit, step by step, as its sheet prints it."""
    sheet = lantern()
    rows = [("Must cover", _must_cover()), *((f"Step {at}", words) for at, words in enumerate(sheet.limit_working, 1)), ("On the sheet", f"{sheet.limit_shown}, straight pull only"), ("Mind", sheet.limit_notes[-1])]
    return lesson.answer(lesson.table(("Step", "Order 3 (INVENTED)"), rows, "The limit, worked: breaking force of AC 43.13-1B, Table 7-3"))


FAR_DAYS = ("INVENTED: the sample's due days are put far ahead, so that the sample never runs out. No real gauge is good for so long: read the day on its own label.")


def whole_sheet() -> lesson.Block:
    """The whole job sheet of order 3, folded, as it is printed; with a word on the sample's days where they stand."""
    from html import escape

    from rigcalc.shop.sheet import as_text

    text = as_text(lantern())
    return lesson.Block(f'<details class="answer"><summary>The job sheet of order 3, whole</summary><p class="invented">{escape(FAR_DAYS)}</p><pre tabindex="0" style="white-space:pre-wrap">{escape(text)}</pre></details>', f"{FAR_DAYS}\n{text}")


@cache
def _tests() -> dict[str, tuple[str, str, tuple[tuple[str, str, str], ...]]]:
    """stage: (line of the sheet, question, answers); an answer is (name, words, why it is wrong; empty where it is right)."""
    order, sheet = of_order(LANTERN), lantern()
    pin_to_pin = sheet.pieces[0].length_shown
    weight = show_force(read_weight(order.weight, order.gravity)[0], sample_shop().system)
    pull = _pull()
    load = _must_cover().rpartition("design load of ")[2]
    short = show_length(sheet.cut_mm - 2 * sheet.tail_mm)
    return {
        "load": ("Must cover", "Which load must the limit cover?", (
            ("weight", f"the lantern's weight, {weight}", f"a flat wire pulls far harder than what hangs on it: {pull} at each end."),
            ("pull", f"the pull at an end, {pull}, and no more", f"the pull is there in still air. The designer has the wind in {load}. The limit covers both."),
            ("both", f"the pull at an end and the design load, {load}", ""))),
        "limit": ("Limit", "Which working limit goes on the sheet?", tuple((name, figure, "" if right else f"that is the sum {why}") for name, figure, why, right in _limits())),
        "link": ("Weakest link", "Of the line from wall to wall, what governs?", (
            ("cable", f"our cable, so the whole line carries {sheet.limit_shown}", "the council's anchors are in that line too, and nobody has told us their marks. We can speak for our own pieces only."),
            ("anchors", "the anchors, so we write no limit", "our pieces have their limit, and the tag says it. The anchors need theirs beside it."),
            ("least", "of what we deliver the cable at its eyes; whoever fits it reads the anchors' marks, and the least governs", ""))),
        "cut": ("To cut, each", f"Each wire is {pin_to_pin}, pin to pin, with two eyes alike. One eye: {_one_eye()}. How long do you cut it?", (
            ("pins", pin_to_pin, "that is pin to pin. The loops, sleeves and tails are made of cable too."),
            ("tails", short, "both tails are missing, and a tail must show."),
            ("right", sheet.cut_shown, ""))),
        "tag": ("Tag", "Which line goes on the tag?", (
            ("breaking", f"Breaking force {sheet.limit_working[0].partition(':')[0].removeprefix('breaking force ')}", "whoever reads that hangs it. A tag says what it may carry."),
            ("bare", f"{sheet.limit_shown.partition(' ')[0]}", "of what? Without unit, name and direction it is only a number."),
            ("sling", f"SLING, rated {sheet.limit_shown}", "it is no sling. With that word on it, somebody will lift with it."),
            ("right", sheet.tag[2], ""))),
    }


STAGES = ("ask", "nobody", "second", "pair", "load", "limit", "link", "cut", "tag", "done")
AFTER = STAGES[3:]
NOBODY = (
    ("own", "Make it with the shop's own factor", "The shop's factor is for work with nobody in reach. Here people walk below."),
    ("sign", "Let the town clerk sign that the town takes the risk", "A signature is no design. Whoever walks below has signed nothing."),
    ("wait", "Nothing is made until a named designer gives factor and load", ""),
)
WISH = (
    ("make", "Make it: a designer stands for it now", SECOND, {}),
    ("copper", "Take their reel, but with plated copper sleeves", SECOND, {"sleeve_metal": "zinc-plated copper"}),
    ("aluminium", "Take the stainless reel, and their aluminium sleeves", SECOND, {"reel": "R5"}),
    ("refuse", "Refuse both, the reel and the sleeves", "", {}),
)
SLEEVES = ("aluminium", "zinc-plated copper")


def _start() -> dict:
    return {"stage": "ask", "settled": (), "told": (), "said": "", "tone": "", "done": (), "reel": "", "sleeve": "", "count": 0}


def from_letter_to_tag() -> Board:
    """One order from its first letter to its tag: every question asked, every line decided."""
    return Board(of_the_scene("Order 3, from letter to tag"), _start(), _show, _step)


def _show(state: dict) -> View:
    stage, last = state["stage"], Said(state["said"], state["tone"])
    said = (last,) if state["said"] else ()
    sheet = sheet_so_far("Job sheet, order 3 (INVENTED)", _filled(state), state["done"][-1] if state["done"] else "")
    if stage == "ask":
        open_ones = _open(state["settled"])
        needless = [name for name in NEEDLESS if name not in state["told"]]
        asks = [(topic, words) for topic, words in open_ones[:FEW_OPEN]] + [(name, NEEDLESS[name][0]) for name in needless[:FEW_NEEDLESS]]
        asks.sort(key=lambda one: len(one[1]) % 7)  # a fixed order that gives nothing away
        left = Said(("One question is still open. " if len(open_ones) == 1 else f"{len(open_ones)} questions are still open, and one answer can settle several facts. ")
                    + "What do you ask the council next?")
        return View((sheet,), tuple(button(f"ask {name}", words, second=True) for name, words in asks), (*said, left))
    if stage == "nobody":
        if state["tone"] == "ok":
            written = letter_to(replace(_so_far(state["settled"]), **{name: getattr(of_order(FIRST), name) for name in SHOPS_OWN}), FIRST_REPLY)
            return View((sheet,), (button("go on", "Read their second letter"),), said, letter_block(written, "Written to the council"))
        return View((sheet,), tuple(button(name, words, second=True) for name, words, _ in NOBODY), (*said, Said("What do you do?")))
    if stage == "second":
        if state["said"] and state["tone"] == "ok":
            return View((second_letter(),), (button("go on", "Their third letter: “Take what is right.” Go on"),), said, both_refused())
        return View((second_letter(),), tuple(button(name, words, second=True) for name, words, *_ in WISH), (*said, Said("The second letter. What do you answer?")))
    if stage == "pair":
        reels = [("choose a reel", ""), *((f"{reel.id}: {reel.label}", reel.id) for reel in sample_shop().reels)]
        controls = (choice("reel", "Reel", reels, state["reel"], as_list=True), choice("sleeve", "Sleeves", [("choose sleeves", ""), *((one, one) for one in SLEEVES)], state["sleeve"], as_list=True),
                    button("put", "Write this pair on the sheet", bool(state["reel"] and state["sleeve"])))
        chosen = f" In your hand: {state['reel'] or 'no reel yet'}, {state['sleeve'] or 'no'} sleeves{'' if state['sleeve'] else ' yet'}."
        return View((sheet,), controls, (*said, Said(f"Now the rack is yours. Which reel, which sleeves?{chosen}")))
    if stage == "done":
        return View((sheet, _tag()), (button("again", "From the first letter again", second=True),), (*said, Said("Every line has its reason, and somebody's name. So the sheet prints the tag. Its blanks are filled at the bench, and one of the two lengths is struck out. Till then it goes nowhere.", "ok")))
    _, question, answers = _tests()[stage]
    return View((sheet,), tuple(button(name, words, second=True) for name, words, _ in _mixed(answers)), (*said, Said(question)))


def _mixed(answers):
    """The answers with their places moved, the same at every opening."""
    at = sum(len(words) for _, words, _ in answers) % len(answers)
    return (*answers[at:], *answers[:at])


def _step(state: dict, name: str, value) -> dict:
    stage = state["stage"]
    if name == "again":
        return _start()
    if stage == "ask" and name.startswith("ask "):
        return _ask(state, name.removeprefix("ask "))
    if stage == "nobody" and name != "go on":
        why = next(why for one, _, why in NOBODY if one == name)
        return state | ({"said": why, "tone": "no"} if why else {"said": "So says the workbook. In one letter stands all that is still open.", "tone": "ok"})
    if stage == "nobody":
        return state | {"stage": "second", "said": "", "tone": "", "settled": tuple(facts[0] for facts, _ in ANSWERS)}
    if stage == "second":
        return _wish(state, name)
    if stage == "pair":
        return _pair(state) if name == "put" else state | {name: value, "said": "", "tone": ""}
    return _test(state, stage, name)


def _ask(state: dict, topic: str) -> dict:
    count = state["count"] + 1
    if topic in NEEDLESS:
        return state | {"said": NEEDLESS[topic][1], "tone": "no", "told": (*state["told"], topic), "count": count}
    if topic == "designer":
        order = _so_far(state["settled"])
        open_ones = len(_open(state["settled"])) - 1
        early = f" What else is open goes into the same letter: {open_ones} more." if open_ones else " Everything else is answered."
        said = f"“A designer? For {order.weight}? We know none.” And people walk below.{early}"
        return state | {"stage": "nobody", "said": said, "tone": "", "count": count}
    late = "" if topic == "use" or "use" in state["settled"] else " But you do not know yet who can be below it, and that may end the order."
    settled = (*state["settled"], topic)
    more = " The answer opens a new question: look at the list." if len(_open(settled)) >= len(_open(state["settled"])) else ""
    return state | {"settled": settled, "said": _answer(topic) + late + more, "tone": "" if late else "ok", "count": count}


def _wish(state: dict, name: str) -> dict:
    if name == "go on":
        return state | {"stage": "pair", "said": "Third letter: “Then take what is right. The designer's paper stands.”", "tone": ""}
    _, words, base, other = next(one for one in WISH if one[0] == name)
    if not base:
        return state | {"said": "So does the workbook: the reel stops it first, and the sleeves would stop it next. Below is what goes back.", "tone": "ok"}
    try:
        job_sheet(replace(of_order(base), **other), sample_shop(), SHEET_DAY)
    except Refusal as refusal:
        return state | {"said": f"“{words.partition(':')[0]}”? {refusal}", "tone": "no"}
    return state


def _pair(state: dict) -> dict:
    """The pair that was chosen, if the workbook makes a sheet with it; else its refusal."""
    if not (state["reel"] and state["sleeve"]):
        return state
    sheet = job_sheet(replace(of_order(LANTERN), reel=state["reel"], sleeve_metal=state["sleeve"]), sample_shop(), SHEET_DAY)
    return state | {"stage": "load", "done": ("Cable and sleeve", "Pair"), "said": f"Allowed, {_item(sheet.decided, 'Pair')}", "tone": "ok"}


def _test(state: dict, stage: str, name: str) -> dict:
    line, _, answers = _tests()[stage]
    _, words, why = next(one for one in answers if one[0] == name)
    if why:
        return state | {"said": f"Not so: {why}", "tone": "no"}
    return state | {"stage": STAGES[STAGES.index(stage) + 1], "done": (*state["done"], line), "said": f"Written: {words}.", "tone": "ok"}


# --- the tag ----------------------------------------------------------------------------------------------

TAG_IDS = ("number", "cable", "limit", "caution", "length", "made", "inspect")


def tag_lines() -> list[tuple[str, str]]:
    """The lantern's tag as its sheet prints it, with its blanks: a line with its id each, without the sample shop's mark."""
    return list(zip(TAG_IDS, lantern().tag, strict=False))


def _tag() -> Figure:
    return tag(tag_lines(), caption="INVENTED: shop, people and figures are made up for teaching.")
