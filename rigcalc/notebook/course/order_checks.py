"""Lesson 12: two orders refused in writing, tags to look over, a finished piece before its release, the cut list, the hand-over."""

from __future__ import annotations

import secrets
from dataclasses import replace
from datetime import timedelta
from functools import cache

from rigcalc._job_plan import make_plan
from rigcalc._order import refuse_class
from rigcalc._order_figures import sheet_length
from rigcalc._order_read import read_facts
from rigcalc.assembly import job_sheet
from rigcalc.cable import breaking_force
from rigcalc.errors import Refusal
from rigcalc.figures import Figure
from rigcalc.figures.order_papers import Finished, Recorded, finished_piece, letter, reel_with_cuts, tag
from rigcalc.notebook import lesson
from rigcalc.notebook.board import Board, Said, View, button, choice, pick
from rigcalc.notebook.course.metal_pairs import interval_table
from rigcalc.notebook.course.order_desk import LANTERN, SHEET_DAY, sample_shop, lantern, letter_block, letter_to, of_order, tag_lines
from rigcalc.notebook.teaching import of_the_scene
from rigcalc.pairing import pairing
from rigcalc.questions.draws import Stream
from rigcalc.rating import class_of_use, efficiency, working_load_limit_n
from rigcalc.units import show_force

__all__ = ["REFUSED", "SLIPS", "TAGS", "before_release", "cut_figure", "cut_table", "filled_tag", "finished_still", "gone_out_told", "gone_out_wrong", "hand_over", "looks_again", "on_a_tag", "own_stream", "refuse_in_writing", "refused_still", "right_tag", "sheet_lines", "tags_to_check"]

# --- refused in writing ------------------------------------------------------------------------------------

# order file, who, the letter, the reason and the place to go that belong to it
REFUSED = (
    ("09_engine_hoist", "Boatyard", "order 9", "We have to hoist an engine out of a boat. Once only! Make us a bridle with two legs. The weight is known, your cable holds it, and we shall sign that it is our risk.", "lift", "slings"),
    ("10_zip_line", "Scout camp", "order 10", "A zip line over the brook and a hand-line for the rope bridge. It is for children, so do use your best cable, and we shall look after it well.", "lives", "designer"),
    ("10a_hand_line", "Scout camp", "order 10, again", "No zip line, then. Make us just the hand-line beside a bridge of planks. They only hold on to it. Nobody hangs from it.", "lives", "designer"),
)
REASONS = (
    ("heavy", "The load is too great for the cable that we stock", "Then a thicker cable would make it right. None does: the use is what is refused."),
    ("lift", "It is lifting, and a hand-pressed light assembly is no lifting sling", "Nothing is lifted here. Say what it is: people's lives hang on it."),
    ("paper", "The proof test and the customer's signature are missing", "Then a test and a pen would make it right. Neither does."),
    ("lives", "People's lives hang on it, and the load is not static", "True of other jobs. Here say what it is: a lift. For that there is other gear."),
)
HELP = (
    ("nobody", "nobody; we are sorry", "A refusal without a way on sends them to somebody who presses it after all."),
    ("slings", f"{class_of_use('lifting').ask.partition(':')[0]}, for made, tagged and proof-tested slings", "A rigger may well know whom to ask, but no sling helps here: nothing is lifted, and people's lives hang on it."),
    ("mechanic", class_of_use("lifts").ask, "They have no lift; nobody there can answer them."),
    ("designer", class_of_use("fall arrest").ask, "Nobody is held from a fall here. What they need is made for lifting."),
)


def _letter(at: int) -> Figure:
    """A letter as it came; the remark that it is invented stands on it, so that nothing hangs below it on the wall."""
    _, who, number, words, *_ = REFUSED[at]
    return replace(letter(who, f"{number}, INVENTED", words), caption="")


def refused_still() -> Figure:
    """Order 9 as it came."""
    return _letter(0)


def _to_whom(words: str) -> str:
    """Whom to ask, without what they are needed for."""
    return words.removeprefix("ask ").partition(":")[0]


def refuse_in_writing() -> Board:
    """Choose a reason and whom to ask; then compare with the letter that the workbook writes."""
    def show(state: dict) -> View:
        name, _, _, _, reason, ask = REFUSED[state["at"]]
        figure = _letter(state["at"])
        controls = (choice("reason", "We do not make this, because", [("… not chosen yet", ""), *((words, key) for key, words, _ in REASONS)], state["reason"], as_list=False),
                    choice("ask", "Please ask", [("… not chosen yet", ""), *((_to_whom(words), key) for key, words, _ in HELP)], state["ask"], as_list=False))
        if not state["sent"]:
            why, where = next((words for key, words, _ in REASONS if key == state["reason"]), "…"), next((_to_whom(words) for key, words, _ in HELP if key == state["ask"]), "…")
            return View((figure,), (*controls, button("sign", "Sign it", bool(state["reason"] and state["ask"]))),
                        (Said(f"Your letter: “We do not make this: {why[:1].lower()}{why[1:]}. Please ask {where}.” Then sign."),))
        said = [Said("The reason: the workbook gives the same.", "ok") if state["reason"] == reason else Said(f"The reason: {next(why for key, _, why in REASONS if key == state['reason'])}", "no"),
                Said("Whom to ask: that helps them on.", "ok") if state["ask"] == ask else Said(f"Whom to ask: {next(why for key, _, why in HELP if key == state['ask'])}", "no")]
        right = (state["reason"], state["ask"]) == (reason, ask)
        more = (button("next", "The next letter"),) if right else (button("again", "Write it again", second=True),)
        return View((figure,), more, tuple(said), letter_block(letter_to(of_order(name)), "The letter that the workbook writes"))

    def step(state: dict, name: str, value) -> dict:
        if name == "sign":
            return state | {"sent": bool(state["reason"] and state["ask"])}
        if name == "again":
            return state | {"sent": False}
        if name == "next":
            return {"at": (state["at"] + 1) % len(REFUSED), "reason": "", "ask": "", "sent": False}
        return state | {name: value}

    return Board(of_the_scene("Refuse it in writing"), {"at": 0, "reason": "", "ask": "", "sent": False}, show, step)


# --- tags -------------------------------------------------------------------------------------------------

@cache
def _by_the_shops_factor() -> str:
    """What somebody would write who takes the shop's factor where people walk below."""
    order, shop = of_order(LANTERN), sample_shop()
    reel, share = shop.reel(order.reel), efficiency("zinc-plated copper", "stainless", "7x19").value
    force = breaking_force(reel.size, reel.construction, reel.metal, reel.certificate_n, reel.certificate).force_n
    return show_force(working_load_limit_n(force, share, shop.factors[0].value), shop.system, "down")


BLANK = "_" * 12


def filled_tag() -> tuple[list[tuple[str, str]], dict[str, str]]:
    """The tag of the first wire, ready to go out: its lines, and what is struck out under one of them."""
    lines, made = dict(tag_lines()), SHEET_DAY + timedelta(days=1)
    months = pairing("stainless", "zinc-plated copper", of_order(LANTERN).service).inspect_months
    again = made.replace(year=made.year + (made.month + months - 1) // 12, month=(made.month + months - 1) % 12 + 1)
    head, _, lengths = lines["length"].partition(": ")
    measured = " pin to pin"
    kept, other = lengths.removesuffix(measured).split("; ")
    for key, words in (("number", ("1",)), ("made", ("Dela Orrin", made.isoformat())), ("inspect", (again.isoformat(),))):
        for one in words:
            lines[key] = lines[key].replace(BLANK, one, 1)
    lines["length"] = f"{head}: {kept}{measured}"
    return list(lines.items()), {"length": f"{other}{measured}"}


# Each tag: its id, the lines that are written otherwise (None: left out), and what is wrong: line -> why.
def _tags() -> tuple[tuple[str, dict, dict], ...]:
    limit = lantern().limit_shown
    breaking = lantern().limit_working[0].partition(":")[0].removeprefix("breaking force ")
    return (
        ("higher", {"limit": f"Working load limit {_by_the_shops_factor()}, straight pull only"}, {"limit": f"The sheet says {limit}. This is the sum with the shop's factor, and people walk below."}),
        ("pull", {"limit": f"Working load limit {limit}"}, {"limit": "“Straight pull only” is missing. Round a bend or over an edge the figure is not true."}),
        ("sling", {"cable": "SLING, 1/8 7x19 stainless", "limit": f"Vertical {limit}, choker and basket on request"},
         {"cable": "It says SLING. A piece that is none must not look like one: somebody will lift with it.", "limit": "Vertical, choker, basket: so a sling's tag speaks. Here stand the limit and “straight pull only”."}),
        ("caution", {"caution": None}, {"caution": "NOT FOR LIFTING / PEOPLE is missing. It is the line that a stranger needs most."}),
        ("breaking", {"limit": f"Breaking force {breaking}", "inspect": None}, {"limit": "A breaking force on a tag is hung in full by the first who reads it.", "inspect": "Nobody can read when to look again: “Inspect by” is missing."}),
        ("blank", {"made": dict(tag_lines())["made"], "length": dict(tag_lines())["length"]},
         {"made": "Nobody has written who made it, and when. A tag with a blank is not ready.", "length": "Two lengths stand here, and none is struck out. Which of the two wires is it?"}),
        ("right", {}, {}),
    )


TAGS = tuple(name for name, *_ in _tags())
KINDS = (("number", "piece and order"), ("cable", "cable and sleeves"), ("limit", "working limit, straight pull only"), ("caution", "not for lifting / people"),
         ("length", "length"), ("made", "made by, on"), ("inspect", "inspect by"))


ON_A_TAG = ("the piece, so that its record can be found", "cable and sleeves", "the working limit, with its unit, and straight pull only", "NOT FOR LIFTING / PEOPLE",
            "its length, and no other", "who made it, and when", "when to look again")


def on_a_tag() -> lesson.Block:
    """What a tag's lines are, folded until they are said."""
    return lesson.when_said(lesson.Block(f"<ul>{''.join(f'<li>{words}</li>' for words in ON_A_TAG)}</ul>", "\n".join(ON_A_TAG)))


def right_tag() -> Figure:
    """The lantern's tag, filled."""
    lines, struck = filled_tag()
    return tag(lines, caption="The tag of order 3, first wire, filled at the bench. INVENTED.", struck=struck)


def tags_to_check() -> Board:
    """Point at what is wrong on a tag, name the line that is missing, or let it go out."""
    def show(state: dict) -> View:
        name, other, wrong = next(one for one in _tags() if one[0] == state["order"][state["at"]])
        lines, struck = filled_tag()
        written = [(key, other.get(key, words)) for key, words in lines if other.get(key, words) is not None]
        figure = tag(written, pick, state["found"], "Order 3, the first of its wires. INVENTED.", {key: words for key, words in struck.items() if key not in other})
        left = len(set(wrong) - set(state["found"]))
        if state["done"]:
            return View((figure,), (button("next", "The next tag" if state["at"] + 1 < len(TAGS) else "All tags again, in another order"),), (Said(state["said"], state["tone"]),))
        controls = (choice("missing", "A line is missing:", [("none chosen", ""), *((words, key) for key, words in KINDS)], state["missing"], as_list=True),
                    button("out", "This tag goes out"))
        told = (Said(state["said"], state["tone"]),) if state["said"] else ()
        more = " There is more on this tag." if state["found"] and left else ""
        return View((figure,), controls, (*told, Said(f"Tag {state['at'] + 1} of {len(TAGS)}. Hold it against the sheet of order 3. Point at what is wrong.{more}")))

    def step(state: dict, name: str, value) -> dict:
        if name == "next":
            if state["at"] + 1 < len(TAGS):
                return state | {"at": state["at"] + 1, "found": (), "missing": "", "said": "", "tone": "", "done": False}
            return _tag_start(secrets.token_bytes(16).hex())
        key, other, wrong = next(one for one in _tags() if one[0] == state["order"][state["at"]])
        left = set(wrong) - set(state["found"])
        if name == "out":
            if wrong:
                return state | {"done": True, "said": "Stop: it has gone out wrong. " + " ".join(wrong[one] for one in wrong if one in left), "tone": "no"} if left else state
            return state | {"done": True, "said": "Right: every line is there, and every line is the sheet's.", "tone": "ok"}
        if not value:
            return state | {"said": "You have named no line.", "tone": "", "missing": ""}
        state = state | {"missing": value if name == "missing" else ""}
        absent = other.get(value, "") is None
        if value in wrong and (name == "missing") == absent:
            found = (*state["found"], *([] if value in state["found"] else [value]))
            return state | {"found": found, "said": wrong[value], "tone": "ok", "done": not set(wrong) - set(found)}
        words = dict(KINDS)[value]
        return state | {"said": f"“{words}”: {'it stands there, look again' if name == 'missing' else 'that line is as the sheet has it'}.", "tone": "no"}

    return Board(of_the_scene("Which tags may go out?"), _tag_start(""), show, step)


def _tag_start(seed: str) -> dict:
    order = TAGS
    if seed:
        order = tuple(Stream(bytes.fromhex(seed), "tags").shuffled(TAGS))
    return {"order": order, "at": 0, "found": (), "missing": "", "said": "", "tone": "", "done": False, "seed": seed}


# --- before the release -------------------------------------------------------------------------------------

def _length() -> str:
    return lantern().pieces[0].length_shown


def sheet_lines() -> lesson.Block:
    """The lines of order 3's sheet that the finished piece is held against."""
    sheet = lantern()
    rows = (("job sheet in force", f"{sheet.version} of {sheet.made_on}"), ("crimps on each sleeve", sheet.crimp_count), ("pin to pin", f"{_length()}, {_either()} either way"), ("tail", "shows at both sleeves"),
            ("witness mark", "painted from each sleeve's mouth on to the cable"), ("gauge", f"every crimp of both sleeves: {_all_gauged()}"),
            ("tag", sheet.tag[2]), ("record", "lots, maker, checker: no line blank"), ("checker", "a second person, or alone after a break"))
    return lesson.table(("The sheet says", ""), rows, "Order 3, what the piece is held against (INVENTED)")


def _either() -> str:
    return _long(sample_shop().bench.pin_to_pin_tolerance_mm, "down")


def _all_gauged() -> str:
    return " ".join(str(n) for n in range(1, lantern().crimp_count + 1))


def _off(steps: float) -> str:
    return _long(steps * sample_shop().bench.pin_to_pin_tolerance_mm)


# slip: (where it is pointed at, why it stops the release)
SLIPS = {
    "count": ("second sleeve", "One crimp is missing on this sleeve. The chart in force gives the count, and the sheet has it."),
    "tail": ("first tail", "No tail shows. Perhaps it ends inside the sleeve: nobody can know, so it is cut off and made again."),
    "paint": ("second paint", "No witness mark. If this eye slips, nobody will see it. It is painted before anything pulls at it."),
    "tag": ("tag", "No tag hangs on it. Nobody could read what it may carry."),
    "length": ("length", "The length, pin to pin, is outside what the sheet allows. It is not what was ordered."),
    "gauge": ("gauge", "One crimp has no result. What is not written was not gauged."),
    "lot": ("lot", "No sleeve lot. If that lot turns out bad, nobody finds this piece again."),
    "checker": ("checker", "Its maker checked it at once. A second person looks; who is alone, after a break, and writes that down."),
    "sheet": ("sheet", "Another sheet's code. Perhaps the order was changed after it: get the sheet that is in force, and begin the check again."),
}
FINE = {
    "first sleeve": "The count of the sheet. Nothing stops it here.", "second sleeve": "The count of the sheet. Nothing stops it here.",
    "first tail": "The tail shows. Nothing stops it here.", "second tail": "The tail shows. Nothing stops it here.", "first paint": "A witness mark, from sleeve to cable. Good.",
    "second paint": "A witness mark, from sleeve to cable. Good.", "tag": "A tag hangs on it. Its words you have checked above.", "length": "Within what the sheet allows. Good.",
    "gauge": "Every crimp has its result. Good.", "lot": "The lot stands there. Good.", "checker": "A second person. Good.", "sheet": "The code of the sheet in force. Good.",
}
AT_FIRST, GONE_OUT, IN_ONE = ("tail", "length", "lot"), ("count", "paint", "gauge", "sheet"), 3


def _lies_there(slips) -> tuple[Finished, tuple[Recorded, ...]]:
    sheet = lantern()
    count = sheet.crimp_count
    piece = Finished((count, count - ("count" in slips)), ("tail" not in slips, True), (True, "paint" not in slips), "tag" not in slips)
    gauged = _all_gauged()
    record = (Recorded("sheet", "Job sheet", f"{_other_sheet() if 'sheet' in slips else sheet.version} of {sheet.made_on}"),
              Recorded("lot", "Sleeve lot", "" if "lot" in slips else "S-118 (INVENTED)"),
              Recorded("gauge", "Crimps gauged", f"first sleeve {gauged}; second sleeve {gauged.rpartition(' ')[0] + ' _' if 'gauge' in slips else gauged}"),
              Recorded("length", "Pin to pin", f"{_off(3)} under the order" if "length" in slips else f"{_off(0.5)} over the order"),
              Recorded("checker", "Maker, checker", "Dela; Dela, at once" if "checker" in slips else "Dela; Parvel Minch"))
    return piece, record


@cache
def _other_sheet() -> str:
    """The code of a sheet of the same order with the designer's statement of a day before."""
    return job_sheet(replace(of_order(LANTERN), designer_date="2026-03-10"), sample_shop(), SHEET_DAY).version


def finished_still() -> Figure:
    """A piece with nothing wrong, beside its record."""
    return finished_piece(*_lies_there(()), caption="As it should be. INVENTED, not to scale.")


def gone_out_wrong() -> Figure:
    """A piece that left the bench with four slips, none named."""
    return finished_piece(*_lies_there(GONE_OUT), caption="As it left the bench. INVENTED, not to scale.")


def gone_out_told() -> lesson.Block:
    """The four slips, each with why it stops a release."""
    return lesson.when_said(lesson.table(("Where", "What stops it"), [SLIPS[name] for name in GONE_OUT]))


def before_release() -> Board:
    """Point at what stops the release of a finished piece; then release it, or keep it."""
    def show(state: dict) -> View:
        figure = finished_piece(*_lies_there(state["slips"]), pick, state["found"], "Order 3, wire to the left wall. INVENTED, not to scale.")
        said = [Said(state["said"], state["tone"])] if state["said"] else []
        if state["done"]:
            return View((figure,), (button("fresh", "Another piece"),), tuple(said))
        controls = (button("release", "Release it"), button("keep", "It stays: I have found all", second=True))
        return View((figure,), controls, (*said, Said(f"Hold it against the sheet. Point at what stops the release. Marked so far: {len(state['found'])}.")))

    def step(state: dict, name: str, value) -> dict:
        if name == "fresh":
            return _release_start(secrets.token_bytes(16).hex())
        wrong = {SLIPS[one][0]: SLIPS[one][1] for one in state["slips"]}
        missed = [place for place in wrong if place not in state["found"]]
        if name == "part":
            if value in wrong:
                found = state["found"] if value in state["found"] else (*state["found"], value)
                return state | {"found": found, "said": wrong[value], "tone": "ok"}
            return state | {"said": FINE[value], "tone": ""}
        if name == "release" and not wrong:
            return state | {"done": True, "said": "Released, and rightly: piece, sheet, tag and record agree.", "tone": "ok"}
        if name == "keep" and wrong and not missed:
            return state | {"done": True, "said": f"Right: it stays. All {len(wrong)} found. A reject (a buried tail, a loose thimble, a crack) is cut off. What can be put right is put right, then the whole check begins again.", "tone": "ok"}
        if name == "keep" and missed:
            more = f"something else is wrong too: {len(missed)} more" if state["found"] else "nothing is marked yet: point at what stops it"
            return state | {"said": f"It stays, but {more}.", "tone": "no"}
        if name == "keep":
            return state | {"done": True, "said": "Nothing was wrong with it. A good piece kept back costs a day; a bad one let go costs more.", "tone": "no"}
        return state | {"done": True, "said": "Stop! It left the bench with this: " + " ".join(wrong[place] for place in missed or wrong), "tone": "no"}

    return Board(of_the_scene("Does it go out?"), _release_start(""), show, step)


def _release_start(seed: str) -> dict:
    slips = AT_FIRST
    if seed:
        stream = Stream(bytes.fromhex(seed), "a finished piece")
        slips = tuple(stream.some(tuple(SLIPS), stream.below(IN_ONE + 1)))  # none is wrong now and then
    return {"slips": slips, "found": (), "said": "", "tone": "", "done": False, "seed": seed}


# --- cut list, hand-over --------------------------------------------------------------------------------------

@cache
def _cuts():
    """The cut list of order 3: its two wires and its trial piece from the order's reel."""
    order, shop = of_order(LANTERN), sample_shop()
    found = make_plan(order, read_facts(order, refuse_class(order), SHEET_DAY), shop, SHEET_DAY).cuts.found
    if found is None:
        raise Refusal("an order without a cut list", "a reel with its length, and the shop's kerf", "enter them in the shop file")
    return found.stock[0]


def _long(mm: float, direction: str = "nearest") -> str:
    """A length as the sheet shows it."""
    return sheet_length(mm, sample_shop().system, direction)


def _in_order() -> list:
    """The kinds of cut as they are made: the trial piece first, since it corrects the rest."""
    return sorted(_cuts().cuts, key=lambda one: not one.name.startswith("trial"))


def cut_figure() -> Figure:
    """What comes off the lantern's reel."""
    stock = _cuts()
    shop = sample_shop()
    pieces = [(cut.name, _long(cut.length_mm)) for cut in _in_order() for _ in range(cut.count)]
    return reel_with_cuts(f"Reel {stock.stock.id}", pieces, _long(shop.cutting.kerf_mm), _long(stock.remainder_mm, "down"))


def cut_table() -> lesson.Block:
    """The same as a sum."""
    stock = _cuts()
    rows = [("on the reel", _long(stock.length_mm)), *((f"{cut.count} × {cut.name}", _long(cut.length_mm)) for cut in _in_order()),
            (f"{stock.cut_count} cuts take", _long(stock.kerf_mm)), (f"left, {stock.goes}", _long(stock.remainder_mm, "down")),
            ("the shop's keep length: what is left shorter is scrap", _long(sample_shop().cutting.keep_mm))]
    return lesson.table(("Cut list, order 3", ""), rows, numbers=(1,))


def looks_again() -> lesson.Block:
    """How often a pair is looked at, place by place, as the pairing table of lesson 03 has it."""
    return interval_table()


def own_stream() -> Stream:
    """Where a question that another lesson asks too takes its first figures from: not those of that page."""
    return Stream(bytes(32), "lesson 12, release")


def hand_over() -> lesson.Block:
    """What the customer is told, as the sheet's own page has it."""
    return lesson.answer(lesson.table(("Told at the hand-over",), [(line,) for line in lantern().customer], "For the town council, order 3 (INVENTED)"))
