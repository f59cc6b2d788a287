"""Lesson 11, the pull itself: who stands wrong at the bench, and to which load a piece is proved by which rule."""

from __future__ import annotations

import secrets
from functools import lru_cache

from rigcalc.cable import breaking_force
from rigcalc.errors import Refusal
from rigcalc.figures import Figure
from rigcalc.figures.proof_scale import RuleBar, proof_scale
from rigcalc.figures.pull_bench import LETTERS, SPOTS, pull_bench
from rigcalc.notebook import lesson
from rigcalc.notebook.board import Board, Said, View, button, choice, pick, slider
from rigcalc.notebook.course.hangings import kit, system
from rigcalc.notebook.course.limits import shop_factor
from rigcalc.notebook.course.pulled_lots import whole
from rigcalc.notebook.kits import CABLE_METAL
from rigcalc.notebook.teaching import of_the_scene, sample_shop, shop_for_teaching
from rigcalc.proof import PROVES_NOT, ProofRow, cap_n, proof_load, proof_loads, proof_rules, refuse_reading
from rigcalc.pulltest import MODES
from rigcalc.questions.draws import Stream
from rigcalc.questions.registry_proof import limit_as_stated_n
from rigcalc.rating import EFFICIENCY

__all__ = ["FAULTS", "bench_step", "bench_still", "bench_view", "ended_table", "prove_it", "procedure", "proof_still", "proof_step", "proof_view", "proves_not",
           "rules_table", "stands_wrong", "worked_proof"]

FAULTS = (("stands right", "right"), ("in line with the cable", "line"), ("no guard between", "guard"), ("touches it under load", "touch"), ("loads it too fast", "fast"))
BECAUSE = {"line": "A broken cable whips along its own line, both ways. Step out of it.", "guard": "The guard has a gap just there. Close it, then read.",
           "touch": "Nobody touches a piece under load. Let it off first, then look.",
           "fast": "Load goes on slowly, so that the reading can be read and the pull can be stopped.", "right": "Out of the line, behind the guard, hands off."}
FIRST_BENCH = {"A": True, "B": True, "C": True, "D": True, "E": False}
DESIGNERS = ((8.0, "a designer's, people there (INVENTED)"), (3.0, "a designer's, locked yard (INVENTED)"))


# --- at the pull bench ----------------------------------------------------------------------------

def bench_still() -> Figure:
    """The bench with nobody wrong."""
    return pull_bench({letter: False for letter in LETTERS})


def _bench_start(fresh: str = "") -> dict:
    wrong = dict(FIRST_BENCH)
    if fresh:
        stream = Stream(bytes.fromhex(fresh), "who stands wrong")
        bad = stream.some(LETTERS, 2 + stream.below(3))
        wrong = {letter: letter in bad for letter in LETTERS}
    return {"wrong": wrong, "at": "A", "called": {}, "pulled": False, "fresh": fresh}


def _true(state: dict, letter: str) -> str:
    return SPOTS[letter].fault if state["wrong"][letter] else "right"


def bench_view(state: dict) -> View:
    """Five people at the bench: each is judged, then the pull begins and shows what flies."""
    at, called, pulled = state["at"], state["called"], state["pulled"]
    judged = {letter: called[letter] == _true(state, letter) for letter in called} if pulled else None
    figure = pull_bench(state["wrong"], judged, at, pulled, lambda shape, value, words: pick(shape, "at", value, words, value == at))
    controls = (choice("at", "Who", [(f"{letter}", letter) for letter in LETTERS], at),
                choice("call", f"{at} …", (("not said yet", ""), *FAULTS), called.get(at, ""), as_list=True),
                button("go", "Start the pull", len(called) == len(LETTERS) and not pulled), button("fresh", "Another day", second=True))
    return View((figure,), controls, _bench_said(state))


def _bench_said(state: dict) -> tuple[Said, ...]:
    called = state["called"]
    if not state["pulled"]:
        left = [letter for letter in LETTERS if letter not in called]
        if not called:
            return (Said("You run the pull. Point at each person: may they stay so? Only then it begins."),)
        names = dict((value, words) for words, value in FAULTS)
        last = f"{state['at']}: {names[called[state['at']]]}. " if state["at"] in called else ""
        return (Said(f"{last}{'Still to say: ' + ', '.join(left) + '.' if left else 'All are judged. Start the pull when you are sure.'}"),)
    missed = [letter for letter in LETTERS if called[letter] == "right" != _true(state, letter)]
    wrongly = [letter for letter in LETTERS if called[letter] != _true(state, letter) and letter not in missed]
    said = [Said(f"You let {' and '.join(missed)} stay. It lets go." if missed else "It lets go, and nobody is where it flies." if not wrongly else "It lets go. Nobody was left where it flies.",
                 "no" if missed else "ok")]
    sound = [letter for letter in wrongly if _true(state, letter) == "right"]
    if sound:
        said.append(Said(f"You sent {' and '.join(sound)} away, who stood right.", "no"))
    if other := [letter for letter in wrongly if letter not in sound]:
        said.append(Said(f"You named another fault than the one drawn for {' and '.join(other)}.", "no"))
    return (*said, *(Said(f"{letter}: {BECAUSE[_true(state, letter)]}") for letter in LETTERS if state["wrong"][letter] or letter in wrongly))


def bench_step(state: dict, name: str, value=None) -> dict:
    """Somebody is pointed at or judged; the pull begins when all are judged; or another day comes."""
    if name == "fresh":
        day = state
        while day["wrong"] == state["wrong"]:  # another day, or the hand that asked for one sees nothing happen
            day = _bench_start(secrets.token_bytes(16).hex())
        return day
    if name == "at":
        return state | {"at": str(value)}
    if state["pulled"]:
        raise Refusal("a verdict after the pull", "a verdict before it", "take another day: what has let go cannot be called back")
    if name == "go":
        if len(state["called"]) < len(LETTERS):
            raise Refusal("a pull before all were judged", "a word on each person", "point at those who are left")
        return state | {"pulled": True}
    called = {letter: call for letter, call in state["called"].items() if letter != state["at"]}
    return state | {"called": called | ({state["at"]: value} if value else {})}


def stands_wrong() -> Board:
    """Who stands wrong at the pull bench?"""
    return Board("Who stands wrong?", _bench_start(), bench_view, bench_step)


def ended_table() -> lesson.Block:
    """How a piece can end; and folded, what each ending says."""
    says = ("the eye held all that the cable has", "the eye held; the sleeve's edge began it", "the press let go before the cable: look for the cause",
            "the pull measured the thimble or fitting", "it held so far; its strength stays unknown")
    asked = lesson.table(("It ended so",), [(one,) for one in MODES], "Write down the greatest force and how it ended")
    told = lesson.when_said(lesson.table(("It ended so", "and that says"), zip(MODES, says, strict=True), "What each ending says"))
    return lesson.Block(asked.html + told.html, f"{asked.text}\n{told.text}")


# --- proof load -----------------------------------------------------------------------------------

@lru_cache(maxsize=8)
def _procedure(digest: str):
    shop = shop_for_teaching()[0]
    return (shop.proof, False) if shop.proof else (sample_shop().proof, True)


def procedure():
    """The shop's pull procedure, and whether the invented sample's had to stand in."""
    return _procedure(shop_for_teaching()[0].digest)


def _stands_in() -> str:
    return "Your shop file has no pull procedure, so the invented sample's stands here." if procedure()[1] else ""


def _reels() -> list:
    shop = shop_for_teaching()[0]
    return [reel for reel in shop.reels if reel.is_inch and _breaking(reel)]


def _breaking(reel) -> float | None:
    try:
        return float(breaking_force(reel.size, reel.construction, reel.metal, reel.certificate_n, reel.certificate).force_n)
    except Refusal:
        return None


def _factors() -> tuple[tuple[float, str], ...]:
    """The factors to choose from: the shop's own and two invented designers'; the first one's limit may be proved by the procedure in force."""
    own, breaking, proof = shop_factor(), _first_breaking(), procedure()[0]
    found = ((own.value, f"the shop's ({own.owner}), nobody there"), *(one for one in DESIGNERS if one[0] != own.value))

    def allowed(one: tuple[float, str]) -> bool:
        try:
            proof_load(proof.rule, _limit(breaking, one[0]), breaking, cap_n(breaking, proof.cap_share), proof.procedure, proof.set_by)
        except Refusal:
            return False
        return True

    return tuple(sorted(found, key=lambda one: not allowed(one)))


def _limit(breaking_n: float, factor: float) -> float:
    return limit_as_stated_n(breaking_n, float(EFFICIENCY), factor, system())


SHORT_RULES = {"60 percent of the breaking force, control cable": "60 % of breaking, control cable", "60 percent of the breaking force, swaged terminal": "60 % of breaking, swaged terminal",
               "50 percent of the breaking force, British aircraft practice": "50 % of breaking, British aircraft"}


def _named(row: ProofRow) -> str:
    return SHORT_RULES.get(row.rule, row.rule) + (" (from memory)" if row.how_known == "from memory" else "")


def _figure(breaking_n: float, limit_n: float, chosen: str = "", window=None, peak_n: float | None = None, told: bool = True) -> Figure:
    cap, proof = cap_n(breaking_n, procedure()[0].cap_share), procedure()[0]
    rules = [RuleBar(_named(row), row.load_n, whole(row.load_n), row.rule == chosen) for row in proof_loads(limit_n, breaking_n) if row.kind == "load"]
    return proof_scale(limit_n, whole(limit_n, "down"), breaking_n, whole(breaking_n), cap, whole(cap, "down"), rules, window,
                       f"{whole(window[0], 'up')} to {whole(window[1], 'down')}" if window else "", peak_n, whole(peak_n) if peak_n is not None else "",
                       f"The procedure: {proof.procedure}, set by {proof.set_by}: {proof.rule}; nothing above {proof.cap_share:.0%} of the breaking force. Limit and cap are rounded down. {_stands_in()}".strip()
                       if told else "One piece. Each bar is what one book says.")


def proof_still() -> Figure:
    """The lesson's cable with the first factor: every published rule, limit and cap."""
    breaking = _first_breaking()
    return _figure(breaking, _limit(breaking, _factors()[0][0]), told=False)


def _first_reel():
    reels = _reels()
    return next((reel for reel in reels if reel.size == kit().size and reel.metal == CABLE_METAL and not reel.coating_to), reels[0])


def _first_breaking() -> float:
    return _breaking(_first_reel())


def rules_table() -> lesson.Block:
    """The published rules and the published cap, each with what it was written for and how it is known."""
    breaking = _first_breaking()
    rows = [(_named(row) if row.kind == "load" else "cap: " + row.rule, whole(row.load_n, "nearest" if row.kind == "load" else "down"), row.equipment, row.source, row.how_known)
            for row in proof_loads(_limit(breaking, _factors()[0][0]), breaking)]
    return lesson.table(("Rule", "gives", "written for", "from", "how known"), rows, f"One piece of {_first_reel().size} cable, {len(rows)} published lines", numbers=(1,))


def worked_proof() -> lesson.Block:
    """The proof load of the lesson's cable, step by step, by the procedure in force."""
    reel, proof = _first_reel(), procedure()[0]
    breaking = _first_breaking()
    limit, cap = _limit(breaking, _factors()[0][0]), cap_n(breaking, proof.cap_share)
    found = proof_load(proof.rule, limit, breaking, cap, proof.procedure, proof.set_by)
    rows = (("1. The breaking force", f"{reel.size} {reel.construction} {reel.metal}: {whole(breaking)}"), ("2. The working limit, as on the tag", f"{float(EFFICIENCY):.0%} of it, over the factor {_factors()[0][0]:g}, {_factors()[0][1]}: {whole(limit, 'down')}"),
            ("3. The procedure in force", f"{found.procedure}: {found.rule}"), ("4. The proof load", whole(found.load_n)),
            ("5. The cap", f"{proof.cap_share:.0%} of the breaking force: {whole(cap, 'down')}. The load lies below it"),
            ("6. The reading that counts", f"{whole(found.lowest_n, 'up')} to {whole(found.highest_n, 'down')}"), ("7. Hold it for", f"{proof.hold_s} s, then let it off, then look"))
    return lesson.answer(lesson.table(("Step", "gives"), rows, f"To what is this piece pulled? {_stands_in()}".strip()))


def proves_not() -> lesson.Block:
    """What a proof load that was held does not show."""
    return lesson.answer(lesson.table(("A pull that was held",), [(line,) for line in PROVES_NOT], "What it does not prove"))


def _proof_start() -> dict:
    return {"reel": _first_reel().id, "factor": _factors()[0][0], "rule": "", "set": False, "now": 0, "peak": 0, "stopped": False, "told": ()}


def _refused_rightly(state: dict) -> tuple[str, str]:
    """Whether the procedure's own rule is refused for this piece: words and tone."""
    try:
        found = _set_load(state | {"rule": procedure()[0].rule})
    except Refusal as refusal:
        return f"Right, nothing is pulled. {refusal}", "ok"
    return f"Not so: {found.procedure} says {found.rule}, that is {whole(found.load_n)}, and the cap is {whole(found.cap_n, 'down')}. It may be pulled.", "no"


def _set_load(state: dict):
    """The load that the procedure gives; refused where the craft refuses it, or where another rule was taken."""
    breaking = _breaking(shop_for_teaching()[0].reel(state["reel"]))
    proof, limit = procedure()[0], _limit(breaking, state["factor"])
    found = proof_load(state["rule"], limit, breaking, cap_n(breaking, proof.cap_share), proof.procedure, proof.set_by)
    if state["rule"] != proof.rule:
        row = next(row for row in proof_loads(limit, breaking) if row.rule == state["rule"])
        raise Refusal(f"the rule '{_named(row)}', written for {row.equipment}", f"the rule that {proof.procedure} chose", "read the procedure: the published rules conflict, and it has chosen")
    return found


def proof_view(state: dict) -> View:
    """The piece's forces; a rule is taken, the bench set, the load brought up and stopped."""
    breaking = _breaking(shop_for_teaching()[0].reel(state["reel"]))
    limit = _limit(breaking, state["factor"])
    rows = [row for row in proof_loads(limit, breaking) if row.kind == "load"]
    controls = [choice("reel", "Cable", [(f"{reel.label}", reel.id) for reel in _reels()], state["reel"], as_list=True),
                choice("factor", "Design factor", [(f"{factor:g}, {words}", factor) for factor, words in _factors()], state["factor"], as_list=True),
                choice("rule", "Pull it to", (("not said yet", ""), *((_named(row), row.rule) for row in rows)), state["rule"], as_list=True)]
    if not state["set"]:
        controls += [button("set", "Set the bench by this rule", bool(state["rule"])), button("none", "Refuse: it may not be pulled so", second=True)]
        taken = next((f"Taken: {_named(row)}. Set the bench by it, or refuse." for row in rows if row.rule == state["rule"]), "Which rule, and may it be pulled so?")
        words = f"The limit is {whole(limit, 'down')}. Read the procedure under the drawing. {taken}"
        return View((_figure(breaking, limit, state["rule"]),), tuple(controls), (Said(*state["told"]) if state["told"] else Said(words),))
    found = _set_load(state)
    window, peak = (found.lowest_n, found.highest_n), state["peak"] / 100 * found.load_n
    controls += [slider("now", "Bring the load up", 0, 125, 1, state["now"], whole(state["now"] / 100 * found.load_n)), button("stop", "Stop here: that is the pull", not state["stopped"])]
    said = Said(f"The bench is set for {whole(found.load_n)}, by {found.procedure}. Bring the load up slowly, and stop where it counts.", "ok")
    if state["stopped"]:
        try:
            refuse_reading(found.load_n, peak)
            said = Said(f"{whole(peak)}: this counts. Hold it {procedure()[0].hold_s} s, let it off, and look. Write down load, gauge and how it ended.", "ok")
        except Refusal as refusal:
            said = Said(f"{whole(peak)} does not count: from {whole(window[0], 'up')} to {whole(window[1], 'down')} does. {refusal.do[:1].upper()}{refusal.do[1:]}.", "no")
    return View((_figure(breaking, limit, state["rule"], window, peak),), tuple(controls), (said,))


def proof_step(state: dict, name: str, value=None) -> dict:
    """Another piece or rule, the bench is set (or refused), the load goes up, and is stopped; the needle's furthest place is kept."""
    if name in ("reel", "factor", "rule"):
        fresh = ("The piece that was pulled is off the bench, with its reading: a fresh one lies on it. Take the rule, and set the bench anew.", "") if state["peak"] else ()
        return state | {name: value, "set": False, "now": 0, "peak": 0, "stopped": False, "told": fresh}
    if name == "none":
        return state | {"told": _refused_rightly(state)}
    if name == "set":
        if state["rule"] not in proof_rules():
            raise Refusal("no rule", "the rule that the procedure names", "take one")
        _set_load(state)
        return state | {"set": True, "told": ()}
    if name == "now":
        now = int(value)
        return state | {"now": now, "peak": max(now, state["peak"]), "stopped": False}
    return state | {"stopped": True}


def prove_it() -> Board:
    """To which load is it proved, and did the pull count?"""
    return Board(of_the_scene("Set the bench, and pull", sample_shop() if procedure()[1] else shop_for_teaching()[0], "INVENTED procedure, not yours"), _proof_start(), proof_view, proof_step)
