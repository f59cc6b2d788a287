"""What the invented learners type: right answers and known missteps, written the way people write them."""

from __future__ import annotations

from rigcalc.demonstration.cast import Learner
from rigcalc.questions import mark, read_answer
from rigcalc.questions.typed import misstep_typed, right_typed, slips_of
from rigcalc.room.sitting import Sitting

__all__ = ["sit_paper", "typed_by"]


def typed_by(learner: Learner, paper: dict, keys: list[dict]) -> dict[int, object]:
    """Question number to what the learner types; questions left out are blank."""
    by_slot = {key["slot"]: key for key in keys}
    typed = {}
    for question in paper["questions"]:
        key = by_slot[question["slot"]]
        if key["skill"] not in learner.blank:
            typed[question["slot"]] = (_wrong if key["skill"] in learner.misses else right_typed)(question, key)
    return {slot: _in_own_hand(learner, paper, slot, one) for slot, one in typed.items()}


def _wrong(question: dict, key: dict) -> object:
    """The answer of the first misstep that is marked wrong as typed; else an answer that is plainly wrong."""
    typed = [misstep_typed(question, key, slip, box) for _, box, slip in slips_of(key)]
    letters = [one["letter"] for one in question["options"]]
    plain = {"number": [f"1 {question['unit']}".strip()], "one choice": letters, "place": letters,
             "several choices": [[one] for one in letters]}.get(question["kind"], [[]])
    return next(one for one in typed + plain if not mark(key, question, one)["right"])


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
