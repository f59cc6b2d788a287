"""What the invented learners type: right answers and known missteps, written the way people write them."""

from __future__ import annotations

from fractions import Fraction

from rigcalc.demonstration.cast import Learner
from rigcalc.questions import mark, read_answer
from rigcalc.room.sitting import Sitting
from rigcalc.units import in_unit

__all__ = ["sit_paper", "typed_by"]


def typed_by(learner: Learner, paper: dict, keys: list[dict]) -> dict[int, object]:
    """Question number to what the learner types; questions left out are blank."""
    by_slot = {key["slot"]: key for key in keys}
    typed = {}
    for question in paper["questions"]:
        key = by_slot[question["slot"]]
        if key["skill"] not in learner.blank:
            typed[question["slot"]] = (_wrong if key["skill"] in learner.misses else _right)(question, key)
    return {slot: _in_own_hand(learner, paper, slot, one) for slot, one in typed.items()}


def _right(question: dict, key: dict) -> object:
    right = key["right"]
    if question["kind"] == "order":
        return list(right["row"])
    if question["kind"] == "one choice":
        return right["letter"]
    return "refuse" if right["exact"] == "refuse" else right["shown"]


def _wrong(question: dict, key: dict) -> object:
    """The answer of the first misstep that is marked wrong as typed; else an answer that is plainly wrong."""
    typed = [_of_misstep(question, misstep) for misstep in key["missteps"]]
    plain = {"order": [[]], "one choice": [one["letter"] for one in question["options"]], "number": [f"1 {question['unit']}"]}
    return next(one for one in typed + plain[question["kind"]] if not mark(key, question, one)["right"])


def _of_misstep(question: dict, misstep: dict) -> object:
    if question["kind"] == "order":
        return list(misstep["row"])
    if question["kind"] == "one choice":
        return misstep["letter"]
    if misstep["exact"] == "refuse":
        return "refuse"
    value = in_unit(Fraction(misstep["exact"]), question["unit"])
    return f"{value:.0f} {question['unit']}" if value >= 10 else f"{value:.2f} {question['unit']}"


def _in_own_hand(learner: Learner, paper: dict, slot: int, typed: object) -> object:
    """`360lbf` or ` 360  lbf` where the form reads it the same; else as it is."""
    if not isinstance(typed, str) or " " not in typed:
        return typed
    own = {"close": typed.replace(" ", "", 1), "spaced": f" {typed.replace(' ', '  ', 1)} "}.get(learner.types, typed)
    question = next(one for one in paper["questions"] if one["slot"] == slot)
    plain, read = read_answer(question, typed), read_answer(question, own)
    return own if read["ok"] and not read.get("ask") and read.get("shown") == plain.get("shown") else typed


def sit_paper(room, paper_id: str, typed: dict[int, object]) -> str:
    """Answer a paper through the room's own saving and hand it in; the receipt."""
    sitting = Sitting(room, paper_id)
    try:
        sitting.start()
        for slot, answer in typed.items():
            sitting.save(slot, 1, answer, False)
            sitting.save(slot, 2, answer, True)
        return sitting.hand_in({slot: entry["revision"] for slot, entry in sitting.latest.items()})["receipt"]
    finally:
        sitting.close()
