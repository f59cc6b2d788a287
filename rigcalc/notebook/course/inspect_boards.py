"""Lesson 07, pieces to judge: twenty on a tray, scored by false passes and false rejects apart, and what the gauge sees of each fault."""

from __future__ import annotations

import secrets

from rigcalc.errors import Refusal
from rigcalc.figures import Figure
from rigcalc.figures.gauging import gauge_on_piece
from rigcalc.figures.pressed_pieces import pressed_piece, tray
from rigcalc.notebook import lesson
from rigcalc.notebook.board import Board, Said, View, button, choice, pick
from rigcalc.notebook.course.crimping import lesson_job
from rigcalc.notebook.course.inspecting import CAUSES, FAULTS, START, fault_of, gauge_says, looks_of, tray_of
from rigcalc.reference import table

__all__ = ["good_piece", "score", "seen_table", "sees_step", "sees_still", "sees_view", "tray_step", "tray_view", "twenty_pieces", "what_it_sees"]

CONTENT = {"small cable": "too small", "coat": "coated"}


# --- twenty pieces ----------------------------------------------------------------------------------

def good_piece() -> Figure:
    """A good eye with what stands on its card."""
    row = lesson_job().row
    looks = looks_of()
    return pressed_piece(looks, "A good piece", (_asked(), gauge_says("", len(looks.crimps))), f"The chart asks for {row.count} crimps. The cable and the sleeve are of size {row.size}.")


def _asked() -> str:
    job = lesson_job()
    return f"Asked for: {job.row.size} bare cable, {job.chart.sleeve_metal} sleeve, {job.row.count} crimps."


def score(secret: str, words: dict[str, str]) -> tuple[list[int], list[int], int, int, int]:
    """False passes, false rejects (numbers from 1), bad ones, good ones, and how many causes were named right."""
    pieces = tray_of(secret)
    passed = [i + 1 for i, one in enumerate(pieces) if one.fault and words.get(str(i)) == "pass"]
    rejected = [i + 1 for i, one in enumerate(pieces) if not one.fault and words.get(str(i), "pass") != "pass"]
    bad = sum(bool(one.fault) for one in pieces)
    named = sum(bool(one.fault) and words.get(str(i)) == one.fault for i, one in enumerate(pieces))
    return passed, rejected, bad, len(pieces) - bad, named


def _numbers(which: list[int]) -> str:
    return f": {', '.join(map(str, which))}" if which else ""


def _count(which: list[int]) -> str:
    return str(len(which)) if which else "none"


def tray_view(state: dict) -> View:
    """The tray, the piece in hand, and after 'done' the two counts."""
    secret, at, words, done = state["secret"], int(state["at"]), state["words"], state["done"]
    piece = tray_of(secret)[at]
    looks, gauged = looks_of(piece.fault, piece.mark), str(at) in state["gauged"]
    lines = [_asked(), gauge_says(piece.fault, len(looks.crimps)) if gauged else "Gauge: not put on yet."]
    passed, rejected, bad, good, named = score(secret, words)
    marks = tuple(("pass" if words[str(i)] == "pass" else "reject") if str(i) in words else "" for i in range(len(tray_of(secret))))
    wrong = frozenset(i - 1 for i in passed + rejected) if done else frozenset()
    if done:
        lines += _told(piece)
    controls = [choice("word", f"Your word on piece {at + 1}", (("choose", "choose"), ("pass", "pass"), *((f"reject: {one.name}", one.key) for one in CAUSES)), words.get(str(at), "choose"), as_list=True),
                button("gauge", "Put the gauge on", not gauged)]
    if done:
        controls = []
    controls += [button("next", "Next piece")] + ([] if done else [button("done", "Done: count them")]) + [button("fresh", "Twenty others", second=True)]
    left = len(marks) - len(words)
    said = [Said(*state["said"])] if state["said"] else [Said(f"Twenty finished eyes. Point at one in the tray, look, put the gauge on, say your word. {left} left.")]
    if done:
        blind = [i + 1 for i in range(len(marks)) if words.get(str(i)) == "pass" and str(i) not in state["gauged"]]
        said = [Said(f"Of {bad} bad ones you passed {_count(passed)}{_numbers(passed)}.", "no" if passed else "ok"),
                Said(f"Of {good} good ones you rejected {_count(rejected)}{_numbers(rejected)}.", "no" if rejected else "ok"),
                Said(f"Of the {bad - len(passed)} bad ones that you rejected, you named the cause of {named}. Point at any piece: its card now says what it is.")]
        if blind:
            said.append(Said(f"You passed {len(blind)} without the gauge{_numbers(blind)}. Every crimp is gauged."))
    return View((tray(marks, at, lambda shape, value, label: pick(shape, "tile", value, label), wrong), pressed_piece(looks, f"Piece {at + 1}", tuple(lines))), tuple(controls), tuple(said))


def _told(piece) -> list[str]:
    if not piece.fault:
        return ["It is good." + (" The mark on it means nothing." if piece.mark in ("scratch", "smear") else " The tail shows: that is all it must do." if piece.mark == "short tail" else "")]
    fault = fault_of(piece.fault)
    return [f"It is bad: {fault.name}.", f"Cause: {fault.cause}.", f"What is done: {fault.do}."]


def tray_step(state: dict, name: str, value=None) -> dict:
    """Take another piece, gauge it, say a word, count, or take twenty others."""
    if name == "fresh":
        return _tray_start(secrets.token_bytes(16).hex())
    count = len(tray_of(state["secret"]))
    if name == "tile":
        return state | {"at": int(value), "said": ""}
    if name == "next":
        order = [(int(state["at"]) + i) % count for i in range(1, count + 1)]
        return state | {"at": next((i for i in order if state["done"] or str(i) not in state["words"]), order[0]), "said": ""}
    if state["done"]:
        raise Refusal("a word on a tray that is counted", "another tray", "take twenty others")
    if name == "gauge":
        return state | {"gauged": (*state["gauged"], str(state["at"])), "said": ("The gauge's word stands on the card. Now the rest of the look.", "")}
    if name == "word":
        words = {k: v for k, v in state["words"].items() if k != str(state["at"])} | ({} if value == "choose" else {str(state["at"]): value})
        return state | {"words": words, "said": (f"Piece {int(state['at']) + 1}: written down. {count - len(words)} left." if value != "choose" else "Taken back.", "")}
    left = [i + 1 for i in range(count) if str(i) not in state["words"]]
    if left:
        raise Refusal(f"a tray with {len(left)} pieces that have no word{_numbers(left)}", "a word on each of the twenty", "point at them and say pass or reject")
    return state | {"done": True, "said": ""}


def _tray_start(secret: str = START) -> dict:
    return {"secret": secret, "at": 0, "words": {}, "gauged": (), "done": False, "said": ""}


def twenty_pieces() -> Board:
    """Twenty pieces to pass or reject."""
    return Board("Twenty pieces: pass or reject", _tray_start(), tray_view, tray_step)


# --- what the gauge sees of each fault --------------------------------------------------------------

def sees_still() -> Figure:
    """A crimp not closed, with the gauge on it."""
    return gauge_on_piece(looks_of("fat"), "one crimp not closed", answer="stops")


def seen_table() -> lesson.Block:
    """The whole table: of how many faults the gauge sees how many."""
    rows = table("gauge_sees")
    counts = {word: sum(row.seen == word for row in rows) for word in ("yes", "sometimes", "no")}
    seen = [(next(one.name for one in FAULTS if one.row == row.fault), row.seen) for row in rows if row.seen != "no"]
    return lesson.answer(lesson.table(("Kind of fault", "does the gauge see it?"), [*seen, (f"{counts['no']} other kinds: all that you tried that went on", "no")],
                                      f"{len(rows)} kinds of fault: the gauge sees {counts['yes']}, {counts['sometimes']} sometimes, and misses {counts['no']} (common practice)"))


def sees_view(state: dict) -> View:
    """A fault, a word on what the gauge will do, then the gauge on it."""
    fault = fault_of(state["fault"])
    on = state["on"]
    figure = gauge_on_piece(looks_of(fault.key), fault.name, CONTENT.get(fault.key, "bare"), fault.gauge if on else "", fault.key == "worn")
    controls = (choice("fault", "On the bench", [(one.name, one.key) for one in FAULTS], fault.key, as_list=True),
                choice("think", "The gauge will", (("go on", "goes on"), ("stop", "stops"), ("jam", "jams"), ("not said yet", "")), state["think"]), button("put", "Put the gauge on", bool(state["think"]) and not on))
    said = [Said("Say first what the gauge will do. Then put it on.")]
    if on:
        right = state["think"] == fault.gauge
        word = {"yes": "The gauge sees this fault.", "sometimes": "The gauge sees this fault sometimes: here it jams.", "no": "The gauge does not see it."}[fault.seen]
        said = [Said(f"{'As you said' if right else 'Not as you said'}: it {fault.gauge}. {word}", "ok" if right else "no"), Said(f"Cause: {fault.cause}. What is done: {fault.do}.")]
    tried = state["tried"]
    if tried:
        kinds, stopped = {fault_of(key).row for key in tried}, {fault_of(key).row for key in tried if fault_of(key).gauge != "goes on"}
        said.append(Said(f"Kinds of fault tried so far: {len(kinds)} of {len(table('gauge_sees'))}. The gauge stopped or jammed at {len(stopped)}."))
    return View((figure,), controls, tuple(said))


def sees_step(state: dict, name: str, value=None) -> dict:
    """Another fault, a word, or the gauge put on."""
    if name == "fault":
        return state | {"fault": fault_of(value).key, "on": False, "think": ""}
    if name == "think":
        return state | {"think": value, "on": False}
    if not state["think"]:
        return state
    return state | {"on": True, "tried": tuple(dict.fromkeys((*state["tried"], state["fault"])))}


def what_it_sees() -> Board:
    """What does the gauge see of this fault?"""
    return Board("Will the gauge see it?", {"fault": "small cable", "think": "", "on": False, "tried": ()}, sees_view, sees_step)
