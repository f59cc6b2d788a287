"""Lesson 07, twenty pieces on a tray: wipe, look, gauge, say; false passes and false rejects are counted apart, fault and step too."""

from __future__ import annotations

import secrets
from dataclasses import dataclass

from rigcalc.figures.pressed_pieces import pressed_piece, tray
from rigcalc.notebook import lesson
from rigcalc.notebook.board import Board, Said, View, button, choice, pick
from rigcalc.notebook.course.inspect_boards import asked
from rigcalc.notebook.course.inspecting import CAUSES, START, STEPS, fault_of, gauge_says, steps_of, tray_of

__all__ = ["Score", "score", "tray_step", "tray_view", "twenty_pieces"]

UNSAID = "not said"
# Why a good piece may bear it (common practice).
HARMLESS_BECAUSE = {
    "scratch": "The scratch is shallow: it means nothing.", "smear": "The grease is wiped: nothing lay under it.", "rubbed": "The two bright lines: there the gauge was turned.",
    "pen": "The blue line is the pen mark of before pressing: still at the sleeve's edge, so no leg has slipped.",
    "paint": "The paint line is the witness mark: it has not moved.", "short tail": "The cut end shows: that is all it must do.",
}


@dataclass(frozen=True)
class Score:
    """What a tray came to; pieces by their numbers from 1.

    `passed`: bad ones passed; `rejected`: good ones rejected; `greasy`, `ungauged`: passed with grease on, or without the gauge;
    `bad`, `good`: how many of those with a word; `named`, `step`: bad ones rejected whose fault, whose step was named right.
    """

    passed: tuple[int, ...]
    rejected: tuple[int, ...]
    greasy: tuple[int, ...]
    ungauged: tuple[int, ...]
    bad: int
    good: int
    named: tuple[int, ...]
    step: tuple[int, ...]


def score(state: dict) -> Score:
    """Count a tray; a piece without a word is not counted."""
    words = state["words"]
    pieces = {i: one for i, one in enumerate(tray_of(state["secret"])) if str(i) in words}

    def those(right) -> tuple[int, ...]:
        return tuple(i + 1 for i, one in pieces.items() if right(str(i), one, words[str(i)]))

    return Score(those(lambda i, one, word: one.fault and word == "pass"), those(lambda i, one, word: not one.fault and word != "pass"),
                 those(lambda i, one, word: word == "pass" and one.mark == "smear" and i not in state["wiped"]), those(lambda i, one, word: word == "pass" and i not in state["gauged"]),
                 sum(bool(one.fault) for one in pieces.values()), sum(not one.fault for one in pieces.values()), those(lambda i, one, word: one.fault and word == one.fault),
                 those(lambda i, one, word: one.fault and word != "pass" and state["steps"].get(i) in steps_of(one.fault)))


def _numbers(which) -> str:
    return f" (no. {', '.join(map(str, which))})" if which else ""


def _count(which) -> str:
    return str(len(which)) if which else "none"


def tray_view(state: dict) -> View:
    """The tray, the piece in hand, and after 'done' the counts."""
    at, words, done = str(state["at"]), state["words"], state["done"]
    pieces = tray_of(state["secret"])
    piece = pieces[int(at)]
    looks = piece.looks(at in state["wiped"] or done)
    found = score(state)
    lines = [asked(), gauge_says(piece.fault, looks) if at in state["gauged"] else "Gauge: not put on yet.", *(_told(piece) if done else ())]
    marks = tuple(("pass" if words[str(i)] == "pass" else "reject") if str(i) in words else "" for i in range(len(pieces)))
    wrong, unlooked = (frozenset(i - 1 for i in which) if done else frozenset() for which in ((*found.passed, *found.rejected), (*found.greasy, *found.ungauged)))
    figures = tray(marks, int(at), lambda shape, value, label: pick(shape, "tile", value, label), wrong, unlooked), pressed_piece(looks, f"Piece {int(at) + 1}", tuple(lines))
    if done:
        return View(figures, (button("next", "Next piece"), button("fresh", "Twenty others", second=True)), tuple(_counted(found, len(pieces))), _named(state, found))
    word = words.get(at, "choose")
    controls = [button("wipe", "Wipe it with the cloth", at not in state["wiped"]), button("gauge", "Put the gauge on", at not in state["gauged"]),
                choice("word", f"Your word on piece {int(at) + 1}", (("choose", "choose"), ("pass", "pass"), *((f"reject: {one.name}", one.key) for one in CAUSES)), word, as_list=True)]
    if word not in ("choose", "pass"):
        controls.append(choice("step", f"Piece {int(at) + 1} is rejected: the step it came from", (UNSAID, *(step for step, _ in STEPS)), state["steps"].get(at, UNSAID), as_list=True))
    controls += [button("next", "Next piece"), button("done", "Done: count them", bool(words)), button("fresh", "Twenty others", second=True)]
    told = Said(*state["said"]) if state["said"] else Said(f"Twenty finished eyes. Point at one in the tray, wipe, look, put the gauge on, say your word. Reject means: not as it lies. {len(marks) - len(words)} left.")
    return View(figures, tuple(controls), (told,))


def _ones(count: int, kind: str) -> str:
    return f"{count} {kind} one{'s' if count > 1 else ''}"


def _counted(found: Score, on_tray: int) -> list[Said]:
    """What is said when it is done: first what can hurt somebody."""
    unsaid = on_tray - found.bad - found.good
    every = len(found.rejected) == found.good
    said = []
    if found.bad:
        said.append(Said(f"Of {_ones(found.bad, 'bad')} you passed {_count(found.passed)}{_numbers(found.passed)}." + (" You rejected every piece, so that shows nothing." if every and not found.passed else ""),
                         "no" if found.passed else "" if every else "ok"))
    if found.good:
        said.append(Said(f"Of {_ones(found.good, 'good')} you rejected {_count(found.rejected)}{_numbers(found.rejected)}.", "no" if found.rejected else "ok"))
    if found.greasy:
        said.append(Said(f"You passed {len(found.greasy)} with grease on{_numbers(found.greasy)}. That is not looked: a crack can lie under it. Wipe first.", "no"))
    if found.ungauged:
        said.append(Said(f"You passed {len(found.ungauged)} without the gauge{_numbers(found.ungauged)}. That is not looked either: every crimp is gauged.", "no"))
    rejected = found.bad - len(found.passed)
    named = f"Of {_ones(rejected, 'bad')} that you rejected, you named the fault of {len(found.named)} and the step of {len(found.step)}. " if rejected else ""
    table = "The table has all bad ones with a word; point" if found.bad else "Point"
    said.append(Said(f"{named}{table} at any piece for its card."))
    if unsaid:
        said.append(Said(f"Not counted: {unsaid} piece{'s' if unsaid > 1 else ''} without a word."))
    return said


def _named(state: dict, found: Score) -> lesson.Block:
    """Each bad piece: what was said and what it is, fault and step apart."""
    rows = []
    for i, one in enumerate(tray_of(state["secret"])):
        if one.fault and str(i) in state["words"]:
            word, step = state["words"][str(i)], state["steps"].get(str(i), UNSAID)
            said = "pass" if word == "pass" else fault_of(word).name
            rows.append((str(i + 1), f"{'✓' if i + 1 in found.named else '✗'} {said}", fault_of(one.fault).name,
                         "–" if word == "pass" else f"{'✓' if i + 1 in found.step else '✗'} {step}", " or ".join(steps_of(one.fault))))
    return lesson.table(("Piece", "you said", "it is", "step: you said", "it came from"), rows, "The bad ones, fault and step apart")


def _told(piece) -> list[str]:
    if not piece.fault:
        return [" ".join(("It is good.", *filter(None, (HARMLESS_BECAUSE.get(piece.mark),))))]
    fault = fault_of(piece.fault)
    grease = "" if piece.mark != "smear" else " It lay under the grease." if piece.fault == "crack" else " The grease hid nothing more."
    return [f"It is bad: {fault.name}.{grease}", f"Cause: {fault.cause}.", f"What is done: {fault.do}."]


def tray_step(state: dict, name: str, value=None) -> dict:
    """Take another piece, wipe it, gauge it, say a word or a step, count, or take twenty others."""
    count, at = len(tray_of(state["secret"])), str(state["at"])
    sure, state = state["sure"], state | {"sure": ""}
    if name == "fresh":
        said = len(state["words"])
        if said and not state["done"] and sure != "fresh":
            words = "1 word that you said is" if said == 1 else f"{said} words that you said are"
            return state | {"sure": "fresh", "said": (f"This tray is not counted yet. With twenty others the {words} gone. Go on, or press Twenty others once more.", "")}
        return _tray_start(secrets.token_bytes(16).hex())
    if name == "tile":
        return state | {"at": int(value), "said": _stepless(state, at)}
    if name == "next":
        order = [(int(at) + i) % count for i in range(1, count + 1)]
        return state | {"at": next((i for i in order if state["done"] or str(i) not in state["words"]), order[0]), "said": _stepless(state, at)}
    if state["done"]:
        return state
    if name == "wipe":
        return state | {"wiped": (*state["wiped"], at), "said": ("Wiped, all round. Now look again.", "")}
    if name == "gauge":
        return state | {"gauged": (*state["gauged"], at), "said": ("The gauge's word stands on the card. Now yours: all that you saw, and the gauge.", "")}
    if name == "step":
        return state | {"steps": state["steps"] | {at: value}, "said": (f"Piece {int(at) + 1}: step written down.", "")}
    if name == "word":
        words, steps = ({k: v for k, v in one.items() if k != at} for one in (state["words"], state["steps"]))
        if value == "choose":
            return state | {"words": words, "steps": steps, "said": ("Taken back.", "")}
        more = "" if value == "pass" else " Now say the step it came from, in the list beside your word."
        return state | {"words": words | {at: value}, "steps": steps, "said": (f"Piece {int(at) + 1}: written down.{more} {count - len(words) - 1} left.", "")}
    left = [i + 1 for i in range(count) if str(i) not in state["words"]]
    if len(left) == count:
        return state | {"said": ("No piece has a word yet. Say one at least.", "")}
    open_ = [i + 1 for i in range(count) if _without_step(state, str(i))]
    if open_ and not left and sure != "done":
        return state | {"sure": "done", "said": (f"You rejected {len(open_)} without the step it came from{_numbers(open_)}. Point at one to say it, or press Done once more: then they are counted so.", "")}
    if left and sure != "done":
        return state | {"sure": "done", "said": (f"{len(left)} piece{'s have' if len(left) > 1 else ' has'} no word yet{_numbers(left)}. Go on, or press Done once more: then those with a word are counted, and the tray is closed.", "")}
    return state | {"done": True, "said": ""}


def _without_step(state: dict, at: str) -> bool:
    """Whether that piece is rejected and no step was named."""
    return state["words"].get(at, "pass") != "pass" and state["steps"].get(at, UNSAID) == UNSAID


def _stepless(state: dict, at: str) -> tuple[str, str] | str:
    """What is said where a rejected piece is laid down without its step."""
    return (f"Piece {int(at) + 1}: rejected, and you named no step. Point at it again to say it.", "") if not state["done"] and _without_step(state, at) else ""


def _tray_start(secret: str = START) -> dict:
    return {"secret": secret, "at": 0, "words": {}, "steps": {}, "wiped": (), "gauged": (), "sure": "", "done": False, "said": ""}


def twenty_pieces() -> Board:
    """Twenty pieces to pass or reject."""
    return Board("Twenty pieces: pass or reject", _tray_start(), tray_view, tray_step)
