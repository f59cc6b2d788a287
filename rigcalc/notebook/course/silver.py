"""Lesson 03, two silver sleeves in one bin: the first look, and twelve sleeves to read, weigh, scratch and sort."""

from __future__ import annotations

import secrets
from dataclasses import dataclass
from functools import lru_cache

from rigcalc.errors import Refusal
from rigcalc.figures import Figure
from rigcalc.figures.silver_sleeves import Seen, in_section, on_the_balance, sleeves_on_bench, two_in_a_bin
from rigcalc.notebook import lesson
from rigcalc.notebook.board import Board, Said, View, button, choice
from rigcalc.notebook.kits import Kit
from rigcalc.notebook.teaching import eye_for_teaching, of_the_scene, shop_for_teaching
from rigcalc.pairing import pairing, refuse_from_memory
from rigcalc.sleeve import chart_in_force, chart_line, times_as_heavy

__all__ = ["ORDER_SERVICE", "Sleeve", "balance", "bench_still", "bench_step", "bench_view", "first_look", "kit", "look_step", "look_view", "opening",
           "pick_view", "sort_twelve", "three_ways", "twelve", "two_sleeves"]

ORDER_SERVICE = "outdoor"  # order 2: a courtyard wall, 300 m from the harbour
MINUTES = {"read": 1, "weigh": 1, "scratch": 2}  # INVENTED for this exercise
UNKNOWN = "cannot be known"
SORTS = (("aluminium", "Al", "Aluminium"), ("zinc-plated copper", "Cu+Zn", "Zinc-plated copper"), ("tin-plated copper", "Cu+Sn", "Tin-plated copper"),
         (UNKNOWN, "?", "Cannot be known"))
SHORT = {name: short for name, short, _ in SORTS}


def kit() -> Kit:
    """The lesson's eye in the shop that the lessons are worked with: 1/8 in where that shop has it."""
    return eye_for_teaching()[0]


def opening() -> lesson.Block:
    """The charts in force and whether the shop is invented."""
    shop, note = shop_for_teaching()
    return lesson.opening_lines(shop.chart_line(), shop.invented, note)


# --- the first look -------------------------------------------------------------------------------

def two_sleeves() -> Figure:
    """Parvel's bin."""
    return two_in_a_bin()


LOOKS = {"A": ("You took A. Perhaps that was right. On what ground? Both are silver, and both are the same size.", "no"),
         "B": ("You took B. Perhaps that was right. On what ground? Both are silver, and both are the same size.", "no"),
         "shiny": ("Zinc plating can be dull, and aluminium can shine. How bright it is tells you how old it is, no more.", "no"),
         "none": ("Right: from here nobody can say. So nobody presses. The bin told you its colour, and colour is not a metal.", "ok")}


def look_view(state: dict) -> View:
    """The bin, and what the choice came to."""
    said = Said(*LOOKS[state["took"]]) if state["took"] else Said("Tomo needs the plated copper one for stainless wire. Which one do you hand him?")
    return View((), (button("A", "Sleeve A", second=True), button("B", "Sleeve B", second=True),
                                   button("shiny", "The shinier one", second=True), button("none", "Neither: I cannot tell", second=True)), (said,))


def look_step(state: dict, name: str, value) -> dict:
    """A sleeve is taken, or none."""
    return {"took": name}


def first_look() -> Board:
    """Which of two silver sleeves is the plated copper one?"""
    return Board(of_the_scene("Hand him the right one"), {"took": ""}, look_view, look_step)


# --- three ways to tell ---------------------------------------------------------------------------

def balance() -> Figure:
    """A known aluminium sleeve against an aluminium and a copper one."""
    return on_the_balance(times_as_heavy("zinc-plated copper"))


def three_ways() -> lesson.Block:
    """What reading, weighing and scratching tell, and what each cannot."""
    heavy = f"copper is {times_as_heavy('zinc-plated copper'):.1f} times as heavy as aluminium, size for size"
    rows = (("read the bag", "metal, plating, size, maker, lot", "whether somebody put a wrong one in"),
            ("weigh it against a known one", f"aluminium or copper: {heavy}", "zinc or tin on the copper"),
            ("scratch it", "aluminium is white all through; copper shows red", "zinc or tin; and the scratched one is spent"))
    return lesson.table(("Way", "tells you", "cannot tell you"), rows, "Three ways to tell silver sleeves apart (common practice; weights computed)")


# --- twelve on the bench --------------------------------------------------------------------------

@dataclass(frozen=True)
class Sleeve:
    """One of the twelve: its true metal, how it lies, the label on its bag, what can be known of it, and why."""

    metal: str
    lies: str
    label: str
    known: str
    why: str

    @property
    def heavy(self) -> float:
        """Its weight over that of an aluminium one."""
        return times_as_heavy(self.metal)


AL, ZN, SN = "aluminium", "zinc-plated copper", "tin-plated copper"
HEAVY_LOOSE = "no bag, and it weighs as copper: zinc or tin on it, nobody can say"
HEAVY_TORN = "the label is torn just where the plating stands, and it weighs as copper: zinc or tin, nobody can say"
WRONG_BAG = "the bag says aluminium and the scale says copper: the bag is wrong and counts as none, so nobody can say what is on the copper"


def _plain(metal: str) -> Sleeve:
    return Sleeve(metal, "bag", metal, metal, f"the bag says {metal}, and the scale agrees")


CANNOT = (Sleeve(ZN, "loose", "", UNKNOWN, HEAVY_LOOSE), Sleeve(SN, "loose", "", UNKNOWN, HEAVY_LOOSE), Sleeve(ZN, "torn", "copper", UNKNOWN, HEAVY_TORN),
          Sleeve(SN, "torn", "copper", UNKNOWN, HEAVY_TORN), Sleeve(ZN, "bag", AL, UNKNOWN, WRONG_BAG))
CAN = tuple(_plain(metal) for metal in (AL, AL, AL, ZN, ZN, ZN, SN)) + (
    Sleeve(AL, "loose", "", AL, "no bag, but it weighs as aluminium: the metal is known, its maker is not"),
    Sleeve(AL, "torn", "1/8", AL, "the label is torn, but it weighs as aluminium: the metal is known, its maker is not"))
SWAPPED = Sleeve(AL, "bag", ZN, AL, "the bag says zinc-plated copper and the scale says aluminium: the bag is wrong and counts as none; by weight the metal is aluminium, its maker is not known")
FIRST = "6c6573736f6e2030332c20747765"  # the twelve that lie there at every opening


@lru_cache(maxsize=8)
def twelve(fresh: str = FIRST) -> tuple[Sleeve, ...]:
    """The twelve sleeves of a draw: two that cannot be known, of two sorts, and one in a wrong bag.

    >>> [sleeve.known for sleeve in twelve()].count("cannot be known")
    2
    """
    from rigcalc.questions.draws import Stream

    stream = Stream(bytes.fromhex(fresh), "twelve silver sleeves")
    one = stream.pick(CANNOT)
    other = stream.pick([sleeve for sleeve in CANNOT if sleeve.why != one.why])
    return tuple(stream.shuffled((*CAN, SWAPPED, one, other)))


def _start(fresh: str = FIRST) -> dict:
    return {"fresh": fresh, "at": 1, "read": [], "weighed": [], "scratched": [], "sorts": {}, "told": False, "said": "", "pick": 0, "reel": ""}


def minutes_spent(state: dict) -> int:
    """What reading, weighing and scratching cost so far, in minutes of the exercise."""
    return len(state["read"]) * MINUTES["read"] + len(state["weighed"]) * MINUTES["weigh"] + len(state["scratched"]) * MINUTES["scratch"]


def _seen(state: dict) -> list[Seen]:
    rows = []
    for number, sleeve in enumerate(twelve(state["fresh"]), 1):
        sort = state["sorts"].get(number, "")
        label = (sleeve.label.replace("-plated ", "-\nplated ") if "plated" not in sleeve.label else sleeve.label.replace(" ", "\n")) if number in state["read"] else None
        if number in state["read"] and sleeve.lies == "torn":
            label = f"{sleeve.label}\n(torn)"
        rows.append(Seen(number, sleeve.lies, label, f"{sleeve.heavy:.1f} ×" if number in state["weighed"] else None,
                         ("white" if sleeve.metal == AL else "red") if number in state["scratched"] else None,
                         SHORT.get(sort, ""), sort == sleeve.known if state["told"] and sort else None))
    return rows


def bench_still() -> Figure:
    """The twelve as they lie at first."""
    return sleeves_on_bench(_seen(_start()))


def bench_view(state: dict) -> View:
    """The bench, what may be done with the sleeve pointed at, and at the end what was taken for what."""
    at, sleeves = state["at"], twelve(state["fresh"])
    figure = sleeves_on_bench(_seen(state), state["pick"] if state["told"] else at)
    if state["told"]:
        picked, said, under = pick_view(state)
        return View((*picked, figure), (*_pick_controls(state), button("fresh", "Twelve others", second=True)), (*_told(state), *said), under)
    bagged = [number for number, sleeve in enumerate(sleeves, 1) if sleeve.lies != "loose"]
    unread, unweighed = [n for n in bagged if n not in state["read"]], [n for n in range(1, 13) if n not in state["weighed"]]
    cost = {name: f"{minutes} min" for name, minutes in MINUTES.items()}
    controls = [button("read", f"Read bag {at} ({cost['read']})" if sleeves[at - 1].lies != "loose" else f"Sleeve {at} has no bag", at in unread),
                button("weigh", f"Weigh {at} ({cost['weigh']})", at in unweighed),
                button("scratch", f"Scratch {at} ({cost['scratch']}, spends it)", at not in state["scratched"]),
                button("read_all", f"Read all bags ({len(unread)} min)", bool(unread)), button("weigh_all", f"Weigh all ({len(unweighed)} min)", bool(unweighed))]
    controls += [button(f"sort {name}", f"{at}: {words}", second=True) for name, _, words in SORTS]
    controls += [button("tell", "Now tell me", len(state["sorts"]) == 12), button("fresh", "Twelve others", second=True)]
    left = 12 - len(state["sorts"])
    words = state["said"] or "Point at a sleeve. Read, weigh or scratch it; then say what it is. A scratched sleeve can no longer be used."
    tally = f"Spent: {minutes_spent(state)} min. Still to sort: {left}." if left else f"All sorted, in {minutes_spent(state)} min. Ask to be told."
    return View((figure,), tuple(controls), (Said(words), Said(tally)))


def _told(state: dict) -> tuple[Said, ...]:
    """What was sorted wrongly, by cause."""
    sleeves, causes = twelve(state["fresh"]), {}
    for number, sort in sorted(state["sorts"].items()):
        sleeve = sleeves[number - 1]
        if sort != sleeve.known:
            kind = ("guessed where nobody can know" if sleeve.known == UNKNOWN else "given up though it can be known" if sort == UNKNOWN
                    else "believed a wrong bag" if sleeve.label == sort != sleeve.metal else "taken for another metal")
            causes.setdefault(kind, []).append(f"{number}: {sleeve.why}")
    said = [Said(f"{kind[0].upper()}{kind[1:]}. {'; '.join(which)}.", "no") for kind, which in causes.items()]
    good = 12 - sum(len(which) for which in causes.values())
    unknown = [str(number) for number, sleeve in enumerate(sleeves, 1) if sleeve.known == UNKNOWN]
    said.append(Said(f"{good} of 12 in the right place, in {minutes_spent(state)} min. Nobody can know {' and '.join(unknown)}: out of use, and into no bin.",
                     "" if causes else "ok"))
    return tuple(said)


def bench_step(state: dict, name: str, value=None) -> dict:
    """A sleeve is pointed at, read, weighed, scratched or sorted; all is told; twelve others are drawn; one is picked for the reel."""
    at, sleeves = state["at"], twelve(state["fresh"])
    if name == "fresh":
        return _start(secrets.token_bytes(16).hex())
    if name in ("pick", "reel"):
        return state | {name: value}
    if name == "tell":
        if len(state["sorts"]) < 12:
            raise Refusal(f"{len(state['sorts'])} sorted sleeves", "all twelve", "sort the rest first, or say of one that it cannot be known")
        return state | {"told": True}
    if state["told"]:
        return state | ({"pick": int(value)} if name == "at" else {})
    if name == "at":
        return state | {"at": int(value), "said": ""}
    if name.startswith("sort "):
        sorts = state["sorts"] | {at: name.removeprefix("sort ")}
        after = [number for number in [*range(at + 1, 13), *range(1, at)] if number not in sorts]
        return state | {"sorts": sorts, "at": after[0] if after else at, "said": f"Sleeve {at}: {name.removeprefix('sort ')}."}
    return state | _looked_at(state, name, at, sleeves)


def _looked_at(state: dict, name: str, at: int, sleeves: tuple[Sleeve, ...]) -> dict:
    one = sleeves[at - 1]
    if name == "read" and one.lies != "loose":
        words = f"The label is torn. What is left says: {one.label}." if one.lies == "torn" else f"The label says: {one.label}."
        return {"read": sorted({*state["read"], at}), "said": f"Bag {at}. {words}"}
    if name == "read":
        raise Refusal(f"sleeve {at}, which has no bag", "a sleeve in a bag", "weigh it")
    if name == "weigh":
        return {"weighed": sorted({*state["weighed"], at}), "said": f"Sleeve {at}: {one.heavy:.1f} times a known aluminium one of its size."}
    if name == "scratch":
        shows = "white all through" if one.metal == AL else "red under the silver"
        return {"scratched": sorted({*state["scratched"], at}), "said": f"Sleeve {at} is {shows}. It is spent: into the scrap when you are done."}
    if name == "read_all":
        return {"read": [number for number, sleeve in enumerate(sleeves, 1) if sleeve.lies != "loose"], "said": "All bags are read."}
    return {"weighed": list(range(1, 13)), "said": "All twelve are weighed against a known aluminium one."}


# --- your pick on the reel ------------------------------------------------------------------------

def reels() -> list:
    """The bare reels of the lesson's size, stainless first: order 2's own."""
    found = [reel for reel in shop_for_teaching()[0].reels if reel.size == kit().size and not reel.coating_to]
    return sorted(found, key=lambda reel: reel.metal != "stainless")


def _pick_controls(state: dict) -> tuple:
    numbers = [("choose one", 0), *((f"sleeve {number}", number) for number in range(1, 13))]
    return (choice("reel", "Reel", [(reel.label, reel.id) for reel in reels()], state["reel"] or reels()[0].id),
            choice("pick", "You press", numbers, state["pick"], as_list=True))


def pick_view(state: dict):
    """The picked sleeve pressed on the reel's cable in section, with the verdict on it: (figures, sentences, table)."""
    reel = next((one for one in reels() if one.id == state["reel"]), reels()[0])
    if not state["pick"]:
        return (), (Said(f"Now one for the reel {reel.label}, out in the open. Which of the twelve do you press? Point at it."),), None
    number, sleeve = state["pick"], twelve(state["fresh"])[state["pick"] - 1]
    figure = in_section(sleeve.metal, reel.label, reel.construction, kit().growth)
    verdict, words = pairing(reel.metal, sleeve.metal, ORDER_SERVICE), ""
    if sleeve.known == UNKNOWN:
        words = f"Stop. Of sleeve {number} nobody can know the plating. (It was {sleeve.metal}; you could not have known.)"
    elif number in state["scratched"]:
        words = f"Stop. Sleeve {number} was scratched: it is spent."
    elif not verdict.allowed:
        words = f"Stop. {sleeve.metal.capitalize()} on {reel.metal}: {verdict.verdict}. {verdict.reasons[0]}"
    elif sleeve.lies != "bag" or sleeve.label != sleeve.metal:
        words = f"The metal suits, but sleeve {number} has no bag of its own: no maker, no lot, so no chart. Not for a job."
    if words:
        return (figure,), (Said(f"{words} In section you see nothing of that.", "no"),), None
    try:
        chart, row = chart_in_force(shop_for_teaching()[0].charts, sleeve.metal, reel.size, _tool(sleeve.metal, reel.size))
        refuse_from_memory(verdict, not shop_for_teaching()[0].invented, chart.makers_word(row))
    except Refusal as refusal:
        return (figure,), (Said(f"These two metals may touch ({verdict.verdict}; {verdict.how_known}). And yet: {refusal}", "no"),), None
    return (figure,), (Said(f"Right: sleeve {number}, {sleeve.metal} on {reel.metal}, out in the open: {verdict.verdict}. {row.count} crimps, cavity {row.cavity or 'not named'}, by {chart_line(chart)}.", "ok"),), None


def _tool(metal: str, size: str) -> str | None:
    """The first tool of the shop with a row for this sleeve."""
    return next((chart.tool for chart in shop_for_teaching()[0].charts for row in chart.rows if chart.sleeve_metal == metal and row.size == size), None)


def sort_twelve() -> Board:
    """Sort twelve silver sleeves, then press one."""
    return Board(of_the_scene("Twelve silver sleeves", mark="INVENTED sleeves, your reels"), _start(), bench_view, bench_step)
