"""Lesson 01, faults of a cable: lengths off the reel to accept or reject, cause named, false accepts and false rejects apart; and the sheets."""

from __future__ import annotations

import secrets
from dataclasses import dataclass

from rigcalc.cable import construction
from rigcalc.figures import Figure
from rigcalc.figures.cable_faults import FAULTS, HIDDEN, SOUND, faults_below, length_off_the_reel
from rigcalc.notebook import lesson
from rigcalc.notebook.bench_units import to_write
from rigcalc.notebook.board import Board, Said, View, button, choice
from rigcalc.notebook.course.five_offcuts import PLACES, reading
from rigcalc.notebook.course.hangings import kit
from rigcalc.notebook.course.plainly import NotYet
from rigcalc.notebook.teaching import shop_for_teaching
from rigcalc.reference import full_source, table
from rigcalc.sleeve import chart_line

__all__ = ["LENGTHS", "Length", "abilities", "before_you_cut", "cautions", "fault_table", "faults_still", "lengths", "look_over_step", "look_over_view", "practice_sheet", "recap", "sources"]

LESSON = "01"
SOUND_WORD = "sound"


@dataclass(frozen=True)
class Length:
    """One length off the reel: what it is, where the place to look at lies (a share of it), and whether grease lies there."""

    kind: str
    at: float
    greasy: bool

    @property
    def sound(self) -> bool:
        """Whether it may be cut and used."""
        return self.kind in SOUND

    @property
    def cause(self) -> str:
        """What a person answers of it: a fault's name, or that it is sound."""
        return SOUND_WORD if self.sound else self.kind


LENGTHS = (Length("birdcage", 0.4, False), Length("bent by the reel", 0.6, False), Length("broken wire", 0.3, True), Length("flat spot", 0.65, False),
           Length("as made", 0.5, True), Length("rust", 0.55, True), Length("kink", 0.45, False), Length("as made", 0.35, False))


def lengths(secret: str) -> tuple[Length, ...]:
    """Eight lengths: those of the first opening, or others drawn from a secret. Every fault comes, and three are sound."""
    if not secret:
        return LENGTHS
    from rigcalc.questions import Stream

    stream = Stream(bytes.fromhex(secret), "lengths off the reel")
    kinds = [*FAULTS, "as made", "as made", "bent by the reel"]
    for at in range(len(kinds) - 1, 0, -1):
        other = stream.below(at + 1)
        kinds[at], kinds[other] = kinds[other], kinds[at]
    return tuple(Length(kind, 0.25 + 0.05 * stream.below(11), (kind in HIDDEN or kind == "as made") and stream.below(3) > 0) for kind in kinds)


def _start(secret: str = "") -> dict:
    return {"fresh": secret, "at": 0, "wiped": False, "because": "", "done": [], "told": ""}


def look_over_view(state: dict) -> View:
    """One length after the other: wipe it, say what it is, take it or lay it aside; at the end both kinds of slip are counted."""
    all_of_them = lengths(state["fresh"])
    if state["at"] == len(all_of_them):
        return View((), (button("fresh", "Eight other lengths"),), (*_told(state), *_tally(state)), _list(state))
    one, number = all_of_them[state["at"]], state["at"] + 1
    figure = length_off_the_reel(one.kind, one.at, one.greasy and not state["wiped"], f"Length {number} of {len(all_of_them)}")
    controls = (button("wipe", "Wipe it with a cloth", not state["wiped"], second=True),
                choice("because", "I find", [("not said yet", ""), ("nothing: it is sound", SOUND_WORD), *((name, name) for name in FAULTS)], state["because"], as_list=True),
                button("accept", "Accept: cut here"), button("reject", "Reject: lay it aside", second=True))
    return View((figure,), controls, _look_words(state, one))


def _told(state: dict) -> tuple[Said, ...]:
    return (Said(state["told"], "ok" if state["told"].startswith("Right") else "no"),) if state["told"] else ()


def _look_words(state: dict, one: Length) -> tuple[Said, ...]:
    said = [*_told(state)]
    if state["wiped"]:
        cloth = "The cloth catches on something." if one.kind == "broken wire" else "The cloth comes away red-brown." if one.kind == "rust" else "The cloth slides."
        said.append(Said(f"Wiped. {cloth}"))
    else:
        said.append(Said("Look it over. Wipe it if you cannot see all of it. Then say what you find, or that you find nothing. Then decide."))
    if state["because"]:
        said.append(Said(f"You find: {state['because']}. Now accept or reject."))
    return tuple(said)


def look_over_step(state: dict, name: str, value) -> dict:
    """A length is wiped, named, accepted or rejected; eight others are drawn from a secret that is kept."""
    if name == "fresh":
        return _start(secrets.token_bytes(16).hex())
    if name == "wipe":
        return state | {"wiped": True, "told": ""}
    if name == "because":
        return state | {"because": value, "told": ""}
    accepted, one = name == "accept", lengths(state["fresh"])[state["at"]]
    if not state["because"]:
        raise NotYet(f"You {'accept it' if accepted else 'lay it aside'}, and have not said what you find. Say it first: a fault, or nothing.")
    if accepted != (state["because"] == SOUND_WORD):
        raise NotYet("You find it sound, and you lay it aside. Why? Name what you find, or accept it." if not accepted else
                     f"You find: {state['because']}. And you want to cut here? That is a reject, or you found something else: say it anew.")
    done = [*state["done"], {"accepted": accepted, "because": state["because"], "wiped": state["wiped"]}]
    return state | {"at": state["at"] + 1, "wiped": False, "because": "", "done": done, "told": _verdict(one, state["at"] + 1, accepted, state["because"], state["wiped"])}


def _verdict(one: Length, number: int, accepted: bool, because: str, wiped: bool) -> str:
    unseen = one.greasy and not wiped
    if accepted and not one.sound:
        return f"Length {number} is now cut and will be pressed: {one.kind}." + (" It lay under the grease." if unseen else "") + f" {FAULTS[one.kind][1][:1].upper()}{FAULTS[one.kind][1][1:]}."
    if not accepted and one.sound:
        return f"Length {number} was sound: {SOUND[one.kind]}." + (" Grease is no fault: wipe it and look." if one.greasy else "") + " Good cable is laid aside."
    if unseen:
        return f"Length {number}: the decision holds, but nobody saw what lay under the grease. That was luck: wipe first."
    if not accepted and because != one.cause:
        return f"Length {number} is a reject, but for another reason: {one.kind}. The reason says what to look for in the rest of the reel."
    return f"Right: length {number}, {one.cause}."


def _tally(state: dict) -> tuple[Said, ...]:
    judged = list(zip(lengths(state["fresh"]), state["done"]))
    missed = sum(done["accepted"] and not one.sound for one, done in judged)
    wasted = sum(not done["accepted"] and one.sound for one, done in judged)
    named = sum(not done["accepted"] and not one.sound and done["because"] == one.kind for one, done in judged)
    faulty = sum(not one.sound for one, _ in judged)
    lucky = sum(one.greasy and not done["wiped"] for one, done in judged)
    return (Said(f"Faulty lengths that you let through: {missed} of {faulty}.", "no" if missed else "ok"),
            Said(f"Sound lengths that you laid aside: {wasted} of {len(judged) - faulty}.", "no" if wasted else "ok"),
            Said(f"Rejects whose cause you named: {named} of {faulty}. Decided with grease still on: {lucky}."))


def _list(state: dict) -> lesson.Block:
    rows = [(number, one.cause + (", under grease" if one.greasy else ""), "accepted" if done["accepted"] else "rejected", done["because"],
             "yes" if done["wiped"] else "no") for number, (one, done) in enumerate(zip(lengths(state["fresh"]), state["done"]), 1)]
    return lesson.table(("Length", "It was", "You", "You found", "Wiped"), rows)


def before_you_cut() -> Board:
    """Eight lengths off the reel, to accept or reject before cutting."""
    return Board("Before you cut: accept or reject", _start(), look_over_view, look_over_step)


def faults_still() -> Figure:
    """Five faults, a letter each."""
    return faults_below()


def fault_table() -> lesson.Block:
    """What to do about each fault, and how the hand or the eye finds it."""
    finds = {"kink": "by eye, along the cable", "flat spot": "by caliper, two ways", "birdcage": "by eye, against the light", "rust": "by cloth: it comes away red-brown",
             "broken wire": "by cloth: it catches; never by finger"}
    rows = [(letter, name, finds[name], why, does) for letter, (name, (why, does)) in zip("ABCDE", FAULTS.items())]
    return lesson.answer(lesson.table(("", "Fault", "Found", "How it came", "What it does"), rows, "All five are rejects before cutting (common practice)"))


# --- sheets ---------------------------------------------------------------------------------------

def recap() -> lesson.Block:
    """The lesson on one page."""
    small, many = construction("7x7"), construction("7x19")
    lines = (
        "Wire: one thread. Strand: wires wound together. Core: what lies in the middle.",
        "Crown: the high line of a strand. Valley: the hollow between two. Lay: once round the cable.",
        f"The name: strands times wires. 7x7 is {small.wires} wires, 7x19 is {many.wires}. The middle strand counts; a fibre core does not.",
        "Count at the cut end: the bundles, then the round pieces of one.",
        "Hand-pressed sleeves fit 7x7 and 7x19. Others are refused at the sleeve.",
        "7x19 bends: thin wires. 7x7 stands rubbing: thicker wires.",
        "Caliper over the crowns: turn until it reads most. Three places, two ways at each.",
        "A right angle from a crown is a flat: turn on to the next crown.",
        "A size measures its name or a little more over the crowns. The bands of the inch sizes never overlap.",
        "Flats read too little, and from 3/16 on that can look like the next smaller size.",
        "No size from: flats, a coat, a squeezed or worn place, a metric cable, places that do not agree.",
        "A reading is not a size: the label or certificate decides. No label: practice only.",
        "Before cutting: wipe, look along it, feel with a cloth. Kink, flat spot, birdcage, rust, broken wire: reject.",
        "Never for lifting, for people, for aircraft, lifts or vehicles.",
    )
    return lesson.recap_sheet("What a cable is: recap", lines, f"Chart in force: {chart_line(kit().chart)}")


def abilities() -> lesson.Block:
    """What can be shown after the lesson, each line tied to its skill."""
    return lesson.abilities(LESSON)


def cautions() -> lesson.Block:
    """The cautions of every lesson."""
    return lesson.cautions()


def practice_sheet() -> lesson.Block:
    """A sheet for the bench: five offcuts without labels, counted, measured at three places, named or not; tolerance from the shop."""
    shop, note = shop_for_teaching()
    within, unit = reading(shop.bench.diameter_tolerance_mm), to_write(shop)
    calipers = (("Caliper closed: zero", "", True), ("STOP: coat? Strip it",), *((f"Place {place}: a crown, the next", unit, False, 2) for place in PLACES),
                (f"STOP: assessor's, within {within}", unit), ("Size, or none", "word"))
    ends = (("Shown on one: wire, strand, core, lay, valley", "", True), ("Wiped: sound, or fault", "word"), ("Strands × wires", "name"), ("Takes a sleeve?", "yes, no"))
    steps = lesson.by_place({"": (("Eye protection; ends taped", "", True),), "At the calipers": calipers, "At the cut ends": ends})
    return lesson.bench_sheet("Bench practice sheet: five offcuts without labels", steps, tuple("ABCDE"), chart_line(kit().chart), shop.invented, note,
                              "Pass: its size is named, for practice. No offcut without a label is ever made up. The trainer picks the five, one metric, one coated.")


def sources() -> lesson.Block:
    """Statement, source and how it is known, for what the lesson says."""
    rows = [(f"{row.designation}: its make-up", row.cited, row.how_known) for row in table("constructions")]
    rows += [(f"{row.construction}: its lay", row.cited, row.how_known) for row in table("lays")]
    strength = next(row for row in table("cable_strength"))
    iso = next(row for row in table("metric_sizes") if row.how_known == "read")
    small = next(row for row in table("metric_sizes") if row.how_known != "read")
    rows += [
        ("what each inch size may measure, and its strength", f"{strength.source}, Table 7-3: {full_source(strength.source)}", strength.how_known),
        ("what a metric size may measure, from 6 mm", f"{iso.cited}: {full_source(iso.source)}", iso.how_known),
        ("what a metric size may measure, below 6 mm", small.cited, small.how_known),
        ("reading on flats, on three strands, on wires: the outline of the section", "geometry: circles round strands or outer wires, closed on by two flat jaws", "computed"),
        ("wires cut through when a crown rubs; strain in a wire at a bend", "geometry of the section: it compares, it rates nothing", "computed"),
        ("which construction for bending, which for rubbing", "the trade", "common practice"),
        ("three places, two ways; the broad part of the jaws; wipe and feel with a cloth", "the trade", "common practice"),
        ("faults of a cable, cause and what to do", "the trade", "common practice"),
        ("hand-pressed sleeves are charted for 7x7 and 7x19", "the trade", "common practice"),
        ("Parvel's offcuts, their readings; the eight lengths", "made up for this lesson", "INVENTED"),
        ("how near a reading has to be", "the shop's file", "INVENTED" if shop_for_teaching()[0].invented else "the shop's own"),
    ]
    return lesson.sources(rows)
