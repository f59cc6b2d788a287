"""Live figures of lesson 10 on what hangs: which cable pulls hardest, which angle is meant, a bridle's points."""

from __future__ import annotations

import math
import secrets
from dataclasses import dataclass

from rigcalc.errors import Refusal
from rigcalc.figures import Figure
from rigcalc.figures.bridles import HungLeg, bridle_views, three_meanings
from rigcalc.figures.three_jobs import three_jobs
from rigcalc.legs import Legs, hanging_point, legs
from rigcalc.notebook import lesson
from rigcalc.notebook.board import Board, Said, View, button, choice, pick, slider
from rigcalc.notebook.course.hangings import INCH, degrees, jobs, kayak, kayak_points, in_mm, inches, length, meaning_of, meanings, pull, short
from rigcalc.notebook.teaching import of_the_scene
from rigcalc.units import LBF_N

__all__ = ["LETTERS", "POINTED", "Hung", "angle_step", "angle_view", "bridle_step", "bridle_still", "bridle_view", "combinations_table", "first_step", "first_view", "hang", "move_the_points",
           "one_written_angle", "plain_notes", "sized_words", "which_pulls_hardest", "who_governs"]

POINTED = "pointed"  # what a part pointed at is called in `step`: no control has this name


def _pointed(chosen: str = ""):
    return lambda shape, value, words: pick(shape, POINTED, value, words, value == chosen)


# --- the first question ---------------------------------------------------------------------------

def first_view(state: dict) -> View:
    """Which cable pulls hardest for what it holds; the pulls come when it is found."""
    all_jobs, said = jobs(), state["said"]
    hardest = max(all_jobs, key=lambda job: job.times)
    found = said == hardest.kind
    pulls = [job.greatest_n for job in all_jobs] if found else None
    shown = [f"pulls {short(job.greatest_n)}" for job in all_jobs] if found else ["", "", ""]
    figure = three_jobs([short(job.weight_n) for job in all_jobs], pulls, shown, max(job.greatest_n for job in all_jobs) / 2, _pointed(said), said)
    options = [("I have not said yet", ""), *((job.title, job.kind) for job in all_jobs)]
    return View((figure,), (choice("said", "For its weight, the hardest pull is in", options, said),), (_first_words(all_jobs, hardest, said),))


def _first_words(all_jobs, hardest, said: str) -> Said:
    if not said:
        return Said("Point at a cable, or choose. With keys: Tab comes to one cable, the arrow keys go on to the others. No sums: look and say.")
    mine = next(job for job in all_jobs if job.kind == said)
    pulls = " and ".join(f"{name} pulls {pull(force)}" for name, force in mine.pulls_n)
    told = f"{mine.title[:1].upper()}{mine.title[1:]}: it weighs {pull(mine.weight_n)}, and {pulls}. That is {mine.times:.1f} times the weight."
    return Said(f"{told} Now look at all three.", "ok") if mine is hardest else Said(f"{told} One of the others pulls harder for its weight. Look again.", "no")


def first_step(state: dict, name: str, value) -> dict:
    """A cable pointed at, or chosen."""
    return {"said": value}


def which_pulls_hardest() -> Board:
    """Three jobs, no sums: for its weight, which cable pulls hardest?"""
    return Board(of_the_scene("Which cable pulls hardest for what it holds?"), {"said": ""}, first_view, first_step)


# --- which angle is meant -------------------------------------------------------------------------

TAKEN = {"horizontal": "from the horizontal", "vertical": "from the plumb line", "included": "between the legs"}


def angle_view(state: dict) -> View:
    """One written angle, taken as somebody takes it, and what was meant once the customer is asked."""
    load, read, asked = kayak().load_n, state["read"], state["asked"]
    shown = tuple(TAKEN) if asked else (read,) if read else ()
    figure = three_meanings(f"{state['degrees']}°", meanings(state["degrees"], load, shown, state["meant"] if asked else read), load)
    controls = (slider("degrees", "The letter's figure", 20, 85, 1, state["degrees"], f"{state['degrees']} degrees"),
                choice("read", "You take it as", [("not yet", ""), *((words, key) for key, words in TAKEN.items())], read),
                button("ask", "Ask the customer", not asked), button("fresh", "Another letter", second=True))
    return View((figure,), controls, _angle_words(state, load), _wrong_angles(state, load) if asked else None)


def _angle_words(state: dict, load: float) -> tuple[Said, ...]:
    letter = f"The letter: “a kayak of {pull(load)} on two like legs at {state['degrees']} degrees.”"
    if state["asked"]:
        _, force, words = meaning_of(state["degrees"], state["meant"], load)
        answer = f"The customer: “{TAKEN[state['meant']]}.” " + (words if force is None else f"Each leg pulls {words}.")
        if not state["read"]:
            return (Said(answer + " You asked first. The other answers are in the table: each is wrong for this kayak.", "ok"),)
        if state["read"] == state["meant"]:
            return (Said(answer + " You took it so before you asked: that was luck. Ask first.", "no"),)
        return (Said(f"{answer} You had taken it {TAKEN[state['read']]}. Ask first.", "no"),)
    if state["read"]:
        _, force, words = meaning_of(state["degrees"], state["read"], load)
        told = words if force is None else f"Taken {TAKEN[state['read']]}, you would work with {words} in each leg."
        return (Said(f"{letter} {told} Is this angle what the letter means? It does not say.", "no"),)
    return (Said(f"{letter} What do you do?"),)


def _wrong_angles(state: dict, load: float) -> lesson.Block:
    _, true, _ = meaning_of(state["degrees"], state["meant"], load)
    rows = []
    for key, words in TAKEN.items():
        steep, force, said = meaning_of(state["degrees"], key, load)
        rows.append((words, degrees(steep), said if force is not None else "refused: too flat", _verdict(key == state["meant"], force, true)))
    rows.append(("not looked at: half of the weight each", degrees(math.pi / 2), pull(load / 2), _verdict(False, load / 2, true)))
    return lesson.table(("Somebody takes it", "so the legs stand at", "each leg", "against what hangs there"), rows, "One right answer, three wrong ones")


def _verdict(meant: bool, force: float | None, true: float | None) -> str:
    if meant:
        return "✓ what was meant"
    if true is None:
        return "✗ what hangs there is too flat: refuse it"
    if force is None:
        return "✗ refuses what may be worked"
    share = force / true - 1
    if abs(share) < 0.0005:
        return "✗ the same here, by chance"
    return f"✗ {abs(share) * 100:.0f} % too {'much' if share > 0 else 'little'}"


def angle_step(state: dict, name: str, value) -> dict:
    """A move: another figure or reading takes the customer's answer away; a fresh letter is drawn from a secret that is kept."""
    if name == "ask":
        return state | {"asked": True}
    if name == "fresh":
        from rigcalc.questions import Stream

        secret = secrets.token_bytes(16)
        stream = Stream(secret, "one written angle")
        return {"degrees": 30 + 2 * stream.below(16), "read": "", "asked": False, "meant": tuple(TAKEN)[stream.below(3)], "fresh": secret.hex()}
    return state | {name: int(value) if name == "degrees" else value, "asked": False}


def one_written_angle() -> Board:
    """One written angle: take it, or ask."""
    return Board(of_the_scene("One written angle"), {"degrees": 40, "read": "", "asked": False, "meant": "included", "fresh": ""}, angle_view, angle_step)


# --- a bridle's points ----------------------------------------------------------------------------

ALONG, ACROSS, LOW, HIGH = 84, 36, 18, 72  # inches, as the sliders and the state have them
TRIM = 60  # mm, either way
LETTERS, SEVERAL = "ABCD", "several"
COUNTED = {2: "Two", 3: "Three", 4: "Four"}
CHANGED = "It hangs in another way now. "


def _start(count: int) -> list[list[float]]:
    """Beam points over the kayak, in inches from the ring: two as the order has them; three and four round the ring."""
    (ax, ay, az), (bx, by, bz) = ([inches(part) for part in point] for point in kayak_points())
    if count == 2:
        return [[ax, ay, az], [bx, by, bz]]
    half, wide = 24.0, 48.0
    if count == 3:
        return [[ax, half, az], [ax, -half, az], [bx, 0.0, bz]]
    return [[wide, half, az], [-wide, half, az], [-wide, -half, az], [wide, -half, az]]


@dataclass(frozen=True)
class Hung:
    """How a load hangs: where the ring is (mm), each leg as drawn, the solved legs that carry (None where refused) and the refusal."""

    at_mm: tuple[float, float, float]
    legs: tuple[HungLeg, ...]
    solved: Legs | None
    refusal: str = ""


def hang(points_mm, lengths_mm, load_n: float) -> Hung:
    """The load at rest on legs of these lengths: where it comes to hang, what each leg pulls, which is slack.

    `points_mm`: beam points (along, across, up); `lengths_mm`: each leg's; `load_n`: the weight in N. A leg below the least angle
    gives a drawing without figures and the refusal. Errors: `Refusal` for legs that cannot meet.
    """
    names, points = LETTERS[:len(points_mm)], [tuple(point) for point in points_mm]
    at = hanging_point(points, lengths_mm)
    tight = [i for i, point in enumerate(points) if math.dist(point, at) >= lengths_mm[i] * (1 - 1e-9)]
    worked = tight if len(tight) > 1 else sorted({*tight, (tight[0] + 1) % len(points)})
    try:
        solved = legs([points[i] for i in worked], at, load_n, names=[names[i] for i in worked])
    except Refusal as refusal:
        drawn = [HungLeg(name, point, None, 0.0, "refused" if i in tight else "slack", i in tight) for i, (name, point) in enumerate(zip(names, points))]
        return Hung(at, tuple(drawn), None, str(refusal))
    drawn = []
    for i, (name, point) in enumerate(zip(names, points)):
        force, most = (solved[name].tension_n, solved[name].most_n) if i in worked else (0.0, 0.0)
        drawn.append(HungLeg(name, point, force, most, "pulls nothing" if i in tight and not most else sized_words(force, most), i in tight or most > 0))
    return Hung(at, tuple(drawn), solved)


CUT = {"anew": "Each leg is cut for where its point stands now.", "kept": "Each leg keeps the length it was first cut to; the ring goes where they let it."}


def _lengths(state: dict) -> list[float]:
    """The legs' lengths: cut anew for the points as they are, or as they were cut for the first ones; plus what each is out by."""
    cut_for = in_mm(state["points"] if state["cut"] == "anew" else _start(state["count"]))
    return [math.hypot(*point) + trim for point, trim in zip(cut_for, state["trim"])]


def bridle_view(state: dict) -> View:
    """The kayak on its legs, from the side and above, with what governs, what is slack, and each leg's figures."""
    i, load = LETTERS.index(state["chosen"]), state["load"] * LBF_N
    point, trim = state["points"][i], state["trim"][i]
    letters = list(LETTERS[:state["count"]])
    controls = (
        choice("count", "Legs", [("two", 2), ("three", 3), ("four", 4)], state["count"]),
        choice("said", "This leg governs", [("not said yet", ""), *letters, ("more than one", SEVERAL)], state["said"], as_list=True),
        choice("chosen", "Move the beam point", letters, state["chosen"]),
        choice("cut", "The legs", [("are cut anew for it", "anew"), ("stay as they were cut", "kept")], state["cut"]),
        slider("along", f"{state['chosen']}, along the hall", -ALONG, ALONG, 1, point[0], length(point[0] * INCH)),
        slider("across", f"{state['chosen']}, across the hall", -ACROSS, ACROSS, 1, point[1], length(point[1] * INCH)),
        slider("up", f"{state['chosen']}, over the ring", LOW, HIGH, 1, point[2], length(point[2] * INCH)),
        slider("trim", f"Leg {state['chosen']} came out", -TRIM, TRIM, 5, trim, f"{length(abs(trim))} too {'long' if trim > 0 else 'short'}" if trim else "to length"),
        slider("load", "Weight", 20, 160, 4, state["load"], pull(load)),
        button("back", "Put all back", second=True))
    try:
        hung = hang(in_mm(state["points"]), _lengths(state), load)
    except Refusal as refusal:
        drawn = tuple(HungLeg(name, tuple(one), None, 0.0, "too short") for name, one in zip(letters, in_mm(state["points"])))
        return View((_bridle(Hung((0.0, 0.0, 0.0), drawn, None), load, state["chosen"]),), controls, (Said(str(refusal), "no"),))
    if hung.solved and not state["said"]:
        asked = f"{COUNTED[state['count']]} legs hold {pull(load)}. {state['asked']}Which one governs? Is one of them slack? What does each pull? Say it, then choose."
        return View((_bridle(hung, load, state["chosen"], said="how hard?"),), controls, (Said(asked + state["told"]), *([Said(CUT["kept"])] if state["cut"] == "kept" else [])))
    return View((_bridle(hung, load, state["chosen"]),), controls, (*_bridle_words(hung, state["said"]), Said(CUT[state["cut"]])), _bridle_table(hung, _lengths(state)))


def _bridle(hung: Hung, load: float, chosen: str = "", live: bool = True, said: str = "") -> Figure:
    """The bridle drawn; where `said`, these words stand in the place of every pull, and all legs are drawn alike."""
    full, drawn = 50 * LBF_N, [HungLeg(leg.name, leg.anchor_mm, load / 6, load / 6, said) for leg in hung.legs] if said else hung.legs
    return bridle_views(drawn, hung.at_mm, short(load), full, "" if said else short(full), length, chosen, _pointed(chosen) if live else None)


def _bridle_words(hung: Hung, named: str) -> tuple[Said, ...]:
    moved = math.hypot(*hung.at_mm)
    said = [Said(f"The ring does not stay where it was measured: it comes to hang {length(moved)} away.")] if moved > 1 else []
    if hung.solved is None:
        return (Said(hung.refusal, "no"), *said)
    slack, idle = ([leg.name for leg in hung.legs if not leg.most_n and leg.straight == straight] for straight in (False, True))
    words = (f"{who_governs(hung.solved.governs)}: {pull(max(leg.most_n for leg in hung.legs))}." + (f" Slack: {', '.join(slack)}." if slack else "")
             + (f" Straight, and pulling nothing: {', '.join(idle)}." if idle else ""))
    right = named == (hung.solved.governs[0] if len(hung.solved.governs) == 1 else SEVERAL)
    return (Said(f"You said {'more than one' if named == SEVERAL else named}. {words}", "ok" if right else "no"), *plain_notes(hung.solved), *said)


def plain_notes(found: Legs) -> tuple[Said, ...]:
    """What the calculation notes, without what is slack (the board says that itself) and without its word on elastic cables."""
    return tuple(Said(note.partition("; the elastic")[0].rstrip(".") + ".") for note in found.notes if not note.startswith("Slack"))


def who_governs(names: tuple[str, ...], what: str = "leg") -> str:
    """Who has most to carry, as the beginning of a sentence.

    >>> who_governs(("A",)), who_governs(("A", "B", "D"))
    ('Leg A governs', 'Legs A, B and D govern')
    """
    if len(names) == 1:
        return f"{what.capitalize()} {names[0]} governs"
    return f"{what.capitalize()}s {', '.join(names[:-1])} and {names[-1]} govern"


def sized_words(force: float, most: float) -> str:
    """A leg's pull now, and the most that it can get where that is more; "slack" where it is nothing."""
    if not most:
        return "slack"
    return short(force) if most <= force * (1 + 1e-9) else f"{short(force)}\nup to {short(most)}"


def _once_tight(hung: Hung) -> dict[str, float]:
    """The most that each leg can get where the load hangs, in N, every leg counted on: a slack one's slack may go. None where a leg is refused."""
    try:
        found = legs([one.anchor_mm for one in hung.legs], hung.at_mm, hung.solved.load_n, names=[one.name for one in hung.legs]) if hung.solved else None
    except Refusal:
        found = None
    return {leg.name: leg.most_n for leg in found.legs} if found else {}


def _most_words(leg: HungLeg, tight_n: float) -> str:
    if leg.pull_n is None:
        return "none given"
    return f"{pull(tight_n)}, once the slack is out" if tight_n > leg.most_n * (1 + 1e-9) else pull(leg.most_n) if leg.most_n else f"nothing to size it by: it {'pulls nothing' if leg.straight else 'is slack'}"


def _bridle_table(hung: Hung, lengths: list[float]) -> lesson.Block:
    rows, tight = [], _once_tight(hung)
    for leg, cut in zip(hung.legs, lengths):
        steep = math.asin((leg.anchor_mm[2] - hung.at_mm[2]) / math.dist(leg.anchor_mm, hung.at_mm))
        rows.append((leg.name, length(cut), degrees(steep), degrees(math.pi / 2 - steep), pull(leg.pull_n) if leg.pull_n is not None else leg.shown, _most_words(leg, tight.get(leg.name, 0.0))))
    block = lesson.table(("Leg", "cut", "from the horizontal", "from the plumb line", "pulls", "the most it can get"), rows)
    if hung.solved is None or not hung.solved.combinations:
        return block
    more = combinations_table(hung.solved)
    return lesson.Block(block.html + more.html, f"{block.text}\n{more.text}")


def combinations_table(found: Legs) -> lesson.Block:
    """Every two or three legs that can carry all, with their pulls; how many others were tried and cannot."""
    rows = [(" and ".join(one.carrying), ", ".join(f"{leg.name} {short(force)}" for leg, force in zip(found.legs, one.tensions_n) if force))
            for one in found.combinations if one.tensions_n is not None]
    rest = len(found.combinations) - len(rows)
    rows.append((f"the other {rest} twos and threes", "not in balance, or no case of their own: fewer of them carry all"))
    return lesson.table(("If only these carry", "then"), rows, "The worst cases, all of them")


def _kind(state: dict) -> tuple:
    """How it hangs: who governs, who is slack; nothing where it is refused."""
    try:
        found = hang(in_mm(state["points"]), _lengths(state), state["load"] * LBF_N)
    except Refusal:
        return ()
    return (found.solved.governs, [leg.name for leg in found.legs if not leg.most_n]) if found.solved else ()


def bridle_step(state: dict, name: str, value) -> dict:
    """A move of the bridle's controls or a beam point pointed at; where it hangs in another way then, who governs is asked anew."""
    now = _moved(state, name, value)
    anew = name in ("count", "back") or state["said"] and name != "said" and _kind(now) != _kind(state)
    return now | {"said": "", "asked": CHANGED if state["said"] else ""} if anew else now


def _moved(state: dict, name: str, value) -> dict:
    state = state | {"told": ""}
    if name in ("count", "back"):
        count = value if name == "count" else state["count"]
        return state | {"count": count, "told": " All points and lengths are back as measured." if name == "back" else "", "points": _start(count), "trim": [0] * count, "chosen": state["chosen"] if state["chosen"] in LETTERS[:count] else "A"}
    if name == POINTED:
        return state | {"chosen": value}
    i = LETTERS.index(state["chosen"])
    if name in ("along", "across", "up"):
        points = [list(point) for point in state["points"]]
        points[i][("along", "across", "up").index(name)] = float(value)
        return state | {"points": points}
    if name == "trim":
        return state | {"trim": [int(value) if k == i else old for k, old in enumerate(state["trim"])]}
    return state | {name: int(value) if name == "load" else value}


def move_the_points() -> Board:
    """Move the beam points over the kayak, and say which leg governs; then the pulls, what is slack, what is refused."""
    load = round(kayak().load_n / LBF_N)
    return Board(of_the_scene("Move the beam points"), {"count": 2, "chosen": "A", "cut": "anew", "points": _start(2), "trim": [0, 0], "load": load, "said": "", "asked": "", "told": ""}, bridle_view, bridle_step)


def bridle_still(count: int = 2, trim: tuple[int, ...] = (), said: bool = True) -> Figure:
    """The kayak on two, three or four legs as measured, each leg out by so many mm, without controls; not `said`: no pull is told or drawn."""
    points, load = in_mm(_start(count)), kayak().load_n
    return _bridle(hang(points, [math.hypot(*point) + out for point, out in zip(points, trim or (0,) * count)], load), load, live=False, said="" if said else "?")
