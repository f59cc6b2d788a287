"""The tolerance of a kept key, as a rule and in words: the one a figure is marked by, whatever the paper said."""

from __future__ import annotations

from rigcalc.questions.family import Answer, Round
from rigcalc.questions.scale import tolerance_words

__all__ = ["rule_of", "with_tolerance_of"]


def rule_of(right: dict, accept: list[str] = ()) -> Answer:
    """Tolerance and rounding of a key's right figure, as bounds are worked out by."""
    turn = right["round"]
    return Answer(tolerance={name: float(value) for name, value in right["tolerance"].items()}, accept=list(accept),
                  round=Round(direction=turn["direction"], step={u: float(s) for u, s in turn["step"].items()}) if turn else None)


def with_tolerance_of(question: dict, key: dict) -> dict:
    """The question with the tolerance of a key in words; as it is where no figure with a tolerance is asked.

    >>> key = {"right": {"exact": "9", "tolerance": {"relative": "0.02"}, "round": None}}
    >>> with_tolerance_of({"kind": "number", "accept": ["N"], "tolerance": "within 1 %"}, key)["tolerance"]
    'within 2 %'
    """
    if question["kind"] != "number" or key["right"]["exact"] == "refuse":
        return question
    return question | {"tolerance": tolerance_words(rule_of(key["right"], question["accept"]))}
