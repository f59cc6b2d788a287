"""Lesson 03, which metals may touch: the pairing table, a pair in your service, the wrong pair in stages, where the voltage rule misleads."""

from __future__ import annotations

from functools import lru_cache

from rigcalc.cable import METALS
from rigcalc.figures import Figure
from rigcalc.figures.pairs import Bar, pair_in_service, volts, wrong_pair, wrong_pair_stages
from rigcalc.galvanic import pair_reasons, sea_potential, voltage_rule, where_the_rule_misleads
from rigcalc.notebook import lesson
from rigcalc.notebook.board import Board, Said, View, button, choice, tick
from rigcalc.notebook.course.silver import kit
from rigcalc.pairing import SERVICES, Verdict, pairing
from rigcalc.sleeve import SLEEVE_METALS

__all__ = ["IN_WORDS", "call_of", "from_memory", "hang_it_and_look", "interval_table", "look_step", "look_still", "look_view", "misled_table", "months_of", "pair_still", "pair_step", "pair_view", "pairing_table",
           "reasons_table", "rule_step", "rule_still", "rule_view", "sea_table", "stages_still", "the_rule_or_the_craft", "your_pair"]

IN_WORDS = {"dry": "dry, indoors", "outdoor": "outdoors", "marine": "salt spray", "immersed": "under water, pool-hall air"}


# --- the pairing table ----------------------------------------------------------------------------

def pairing_table() -> lesson.Block:
    """Every verdict: cable and sleeve down, service across; what is from memory says so in its cell."""
    rows = [(f"{cable} cable, {sleeve} sleeve", *(_cell(pairing(cable, sleeve, service)) for service in SERVICES)) for cable in METALS for sleeve in SLEEVE_METALS]
    return lesson.answer(lesson.table(("Pair", *IN_WORDS.values()), rows, "May they go together? (common practice and judgement; the maker's chart governs)"))


def _cell(verdict: Verdict) -> str:
    return f"{verdict.verdict}, from memory: ask the maker, for the interval too" if from_memory(verdict) else verdict.verdict


def from_memory(verdict: Verdict) -> bool:
    """Whether a pair is allowed by a verdict that nobody has read: a job sheet refuses it, so nothing is made by it."""
    return verdict.allowed and verdict.how_known == "from memory"


def call_of(verdict: Verdict) -> str:
    """What a verdict comes to at the bench: "use", "look" (use, and look at set times) or "stop"; what is from memory comes to "stop".

    >>> [call_of(pairing("stainless", sleeve, "outdoor")) for sleeve in ("aluminium", "zinc-plated copper", "tin-plated copper")]
    ['stop', 'look', 'stop']
    """
    return "stop" if not verdict.allowed or from_memory(verdict) else "use" if verdict.verdict == "use" else "look"


def months_of(verdict: Verdict) -> tuple[int, ...]:
    """The months of a year in which a piece is looked at; none where the table gives no interval.

    >>> months_of(pairing("stainless", "zinc-plated copper", "marine"))
    (3, 6, 9, 12)
    """
    every = verdict.inspect_months
    return tuple(range(every, 13, every)) if every else ()


def _year_words(cable: str, sleeve: str, service: str) -> str:
    """How often a piece is looked at, in the words that the exercises use too; of a pair that is not made, the verdict."""
    from rigcalc.questions.registry_sleeves import interval_said

    verdict = pairing(cable, sleeve, service)
    if from_memory(verdict):
        return "not used until the sleeve maker's chart lists it"
    return interval_said(cable, sleeve, service) if verdict.allowed else verdict.verdict


ASK = "Nothing is made by it until the sleeve maker's chart lists the pair: ask the maker, and ask how often it is looked at."
CALLS = (("use", "Use it"), ("look", "Use it, and look at set times"), ("stop", "Do not make it"))


def pair_still() -> Figure:
    """Order 2's pair in its place, nothing said yet."""
    return pair_in_service("stainless", "zinc-plated copper", "outdoor")


def _parts(state: dict) -> tuple[str, str, str]:
    return state["cable"], state["sleeve"], state["service"]


def pair_view(state: dict) -> View:
    """A pair in a service: the reader's call, then the verdict, its reasons in order, and the year of looks."""
    verdict = pairing(*_parts(state), coated=state["coated"])
    controls = (choice("cable", "Cable", METALS, state["cable"]), choice("sleeve", "Sleeve", SLEEVE_METALS, state["sleeve"], as_list=True),
                choice("service", "Service", [(words, name) for name, words in IN_WORDS.items()], state["service"]),
                tick("coated", "the cable is coated", state["coated"]), *(button(name, words, second=True) for name, words in CALLS))
    if not state["called"]:
        return View((pair_in_service(*_parts(state)),), controls, (Said(f"What do you do with this pair{' on coated cable' if state['coated'] else ''}? Say it; then the verdict comes."),))
    refused = call_of(verdict) == "stop"
    figure = pair_in_service(*_parts(state), months_of(verdict), _year_words(*_parts(state)), refused)
    right = state["called"] == call_of(verdict)
    memory = f", but only from memory. {ASK}" if from_memory(verdict) else "."
    said = Said(f"{'Right' if right else 'Not so'}. {state['cable'].capitalize()} cable, {state['sleeve']} sleeve, {IN_WORDS[state['service']]}: {verdict.verdict}{memory}",
                "ok" if right else "no")
    return View((figure,), controls, (said,), _why(state, verdict))


def _why(state: dict, verdict: Verdict) -> lesson.Block:
    rows = [(number, reason) for number, reason in enumerate(verdict.reasons, 1)]
    first = lesson.table(("", "Reasons, the deciding one first"), rows, f"Known: {verdict.how_known}. Source: {verdict.source}")
    if state["sleeve"] == "stainless":
        return first
    parts = pair_reasons(*_parts(state))
    second = lesson.table(("Part", "What happens between the two metals"), [(one.about, one.says) for one in parts.reasons])
    return lesson.Block(first.html + second.html, f"{first.text}\n{second.text}")


def pair_step(state: dict, name: str, value=None) -> dict:
    """Another pair or place takes the call away; a call brings the verdict."""
    return state | ({"called": name} if name in dict(CALLS) else {name: value, "called": ""})


def your_pair() -> Board:
    """A cable, a sleeve, a service: your call, then the verdict."""
    return Board("A pair for your service", {"cable": "stainless", "sleeve": "zinc-plated copper", "service": "outdoor", "coated": False, "called": ""}, pair_view, pair_step)


def interval_table() -> lesson.Block:
    """The pairs that may be made, with how often each is looked at, service by service."""
    from rigcalc.questions.registry_sleeves import interval_said

    rows = [(f"{cable}, {sleeve}", *(interval_said(cable, sleeve, service) for service in SERVICES))
            for cable, sleeve in (("galvanised", "aluminium"), ("galvanised", "zinc-plated copper"), ("stainless", "zinc-plated copper"))]
    return lesson.answer(lesson.table(("Pair", *IN_WORDS.values()), rows, "The three pairs of a working shop, and their looks"))


# --- the wrong pair in stages ---------------------------------------------------------------------

def stages_still() -> Figure:
    """Aluminium on stainless in four stages, cut across."""
    return wrong_pair_stages(kit().construction, kit().growth)


def look_still() -> Figure:
    """The wrong pair as it hangs on the first day."""
    k = kit()
    return wrong_pair(0, False, k.construction, k.growth, told=False)


def reasons_table() -> lesson.Block:
    """Why aluminium is never put on stainless: what happens, part by part, and the verdict's own reasons."""
    found = pair_reasons("stainless", "aluminium", "outdoor")
    rows = [(one.about, one.says) for one in found.reasons[:4]] + [("verdict", reason) for reason in found.verdict.reasons[:3]]
    return lesson.answer(lesson.table(("About", "Aluminium sleeve, stainless cable"), rows, "Never, in any service"))


LOOKS = (
    ("It looks new, and nothing inside is lost yet. It comes down all the same: this pair is refused on the day it is pressed.", "Nothing to be seen, and yet it comes down. Right: the pair alone is the reason."),
    ("White bloom at the mouths is eaten aluminium. It comes down.", "Right: white bloom is eaten aluminium."),
    ("From outside it is the same picture as before. Inside, the wall that holds the load is nearly gone. It comes down.", "Right. From outside it is the same picture as before; inside, little wall is left."),
    ("Too late: it has let go. A look that passed it last time was no help.", "It has come down by itself. No look in between would have told you which one was the last."),
)


def look_view(state: dict) -> View:
    """The wrong pair at one of four looks: leave it up or take it down; then it is sawn open."""
    stage, called = state["stage"], state["called"]
    k = kit()
    figure = wrong_pair(stage, bool(called), k.construction, k.growth, told=bool(called))
    controls = (choice("stage", "The look", tuple((f"look {number + 1}", number) for number in range(4)), stage),
                button("leave", "Leave it up"), button("down", "Take it down", second=True))
    if not called:
        return View((figure,), controls, (Said("A piece with aluminium sleeves on stainless cable. You have a ladder and your eyes. What do you do?"),))
    wrong, right = LOOKS[stage]
    said = [Said(right, "ok") if called == "down" else Said(wrong, "no")]
    if stage == 2:
        said.append(Said("Hold this against look 2: your eyes cannot tell them apart. So no interval makes this pair safe."))
    return View((figure,), controls, tuple(said))


def look_step(state: dict, name: str, value=None) -> dict:
    """Another look, or what is done about it."""
    return state | ({"called": name} if name in ("leave", "down") else {"stage": int(value), "called": ""})


def hang_it_and_look() -> Board:
    """Four looks at the wrong pair."""
    return Board("Four looks at the wrong pair", {"stage": 0, "called": ""}, look_view, look_step)


# --- where the voltage rule misleads --------------------------------------------------------------

@lru_cache(maxsize=4)
def _pairs(service: str) -> tuple[tuple[str, str, float], ...]:
    """Every pair but stainless sleeves with its gap in V, the widest first."""
    found = [(cable, sleeve, voltage_rule(cable, sleeve, service).gap_v) for cable in METALS for sleeve in SLEEVE_METALS if sleeve != "stainless"]
    return tuple(sorted(found, key=lambda one: -one[2]))


def rule_still() -> Figure:
    """The bars for the open air, the craft silent."""
    return _bars("outdoor", {}, -1)


def _bars(service: str, told: dict, at: int) -> Figure:
    rows = []
    for place, (cable, sleeve, gap) in enumerate(_pairs(service)):
        verdict = pairing(cable, sleeve, service)
        says = ("from memory: ask the maker", None) if from_memory(verdict) else (verdict.verdict, verdict.allowed)
        rows.append(Bar(f"{cable} + {sleeve}", gap, *(says if place in told else ())))
    return volts(rows, voltage_rule("galvanised", "aluminium", service).most_v, at)


def rule_view(state: dict) -> View:
    """The rule's bars: point at a pair, say what the craft does with it, and see where the two part."""
    service, at, told = state["service"], state["at"], state["told"]
    cable, sleeve, gap = _pairs(service)[at]
    controls = (choice("service", "Service", [(words, name) for name, words in IN_WORDS.items()], service),
                button("may", "The craft makes it", at not in told, second=True), button("not", "The craft refuses it", at not in told, second=True),
                button("all", "Show all", len(told) < len(_pairs(service)), second=True))
    figure = _bars(service, told, at)
    if at not in told:
        word = "passes" if voltage_rule(cable, sleeve, service).passes else "fails"
        return View((figure,), controls, (Said(f"{cable.capitalize()} cable, {sleeve} sleeve: {gap:g} V. The simple rule {word} it. And the craft?"),))
    said = [Said(*_rule_words(cable, sleeve, service, told[at]))]
    if len(told) == len(_pairs(service)):
        misled = sum(one.service == service for one in where_the_rule_misleads())
        said.append(Said(f"In this service the rule misleads for {misled} of {len(told)} pairs. It sees two metals. It does not see which part carries the load, what lies under a plating, or the water."))
    return View((figure,), controls, tuple(said))


def _rule_words(cable: str, sleeve: str, service: str, called: str) -> tuple[str, str]:
    """What is said of one pair after the reader's word on it ("" for one that was only shown)."""
    found = pair_reasons(cable, sleeve, service)
    if from_memory(found.verdict):
        words = f"“{found.verdict.verdict.capitalize()}” is from memory. {ASK} The rule cannot stand in for that."
    elif found.rule_agrees:
        words = f"{found.verdict.verdict.capitalize()}. The rule agrees, {'and rightly' if found.verdict.allowed else 'but the craft has a better reason'}: {found.verdict.reasons[0]}"
    else:
        why = next(one.why for one in where_the_rule_misleads() if (one.cable, one.sleeve, one.service) == (cable, sleeve, service))
        words = f"{found.verdict.verdict.capitalize()}. The rule misleads. {why}"
    if not called:
        return words, ""
    right = (called == "may") == (call_of(found.verdict) != "stop")
    return f"{'Right' if right else 'Not so'}. {words}", "ok" if right else "no"


def rule_step(state: dict, name: str, value=None) -> dict:
    """Another service, a pair pointed at, the reader's word, or all of them."""
    if name == "service":
        return {"service": value, "at": 0, "told": {}}
    if name == "at":
        return state | {"at": int(value)}
    if name == "all":
        return state | {"told": {place: "" for place in range(len(_pairs(state["service"])))} | state["told"]}
    return state | {"told": state["told"] | {state["at"]: name}}


def the_rule_or_the_craft() -> Board:
    """The voltage rule beside the craft's verdict."""
    return Board("The rule or the craft?", {"service": "outdoor", "at": 0, "told": {}}, rule_view, rule_step)


def misled_table() -> lesson.Block:
    """Where the rule says fine and the craft refuses, and the other way: a pair a line, the craft's refusals last."""
    places: dict[tuple[bool, str], list[str]] = {}
    for one in where_the_rule_misleads():
        places.setdefault((one.rule_passes, f"{one.cable} + {one.sleeve}, {one.gap_v:g} V"), []).append(IN_WORDS[one.service])
    rows = [(pair, "fine" if passes else "too far apart", "refuses it" if passes else "makes it", "; ".join(where)) for (passes, pair), where in sorted(places.items())]
    return lesson.answer(lesson.table(("Pair", "the simple rule", "the craft", "where"), rows, "Every place where the two part (computed from the index and the verdicts)"))


def sea_table() -> lesson.Block:
    """Stainless stands in the sea's row twice: one figure cannot say that."""
    names = ("zinc", "aluminium alloys", "stainless 304, active", "copper", "stainless 304, passive")
    rows = []
    for name in names:
        row = sea_potential(name)
        rows.append((name, f"{row.low_v:g} to {row.high_v:g} V".replace("-", "−"), row.how_known))
    return lesson.table(("Surface, in flowing sea water", "volts, all against one fixed reference", "known"), rows, "The lower one of two is eaten. Active: its skin is gone. Passive: its skin is whole")
