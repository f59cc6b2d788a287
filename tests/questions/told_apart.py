"""Missteps that are told as another: what is typed by somebody who commits one fits another no better than its own."""

from __future__ import annotations

from collections import Counter

from rigcalc.errors import Refusal
from rigcalc.questions import Stream, compose, draw, mark
from rigcalc.questions.drawing import work
from rigcalc.questions.marking import SEVERAL
from rigcalc.questions.numbering import asked_unit, misstep_figure, slip_in
from rigcalc.questions.typed import right_typed


def told_as_another(family, shop, draws: int, secret: bytes) -> Counter:
    """(misstep, what is named instead), counted over so many draws: every misstep of the file, whether the key has it or not."""
    found: Counter = Counter()
    for number in range(draws if family.kind in ("number", "sheet") else 0):
        stream = Stream(secret, f"{family.id}/{number}")
        made = draw(family, stream, shop)
        question, key = compose(made, stream, 1)
        parts = [(None, made)] if family.kind == "number" else [(at, box) for at, (_, _, box) in enumerate(made.boxes) if box.family.kind == "number"]
        for at, part in parts:
            for misstep in part.family.misstep:
                typed = _typed(part.family, misstep, made)
                if typed is None or misstep.yields and misstep.id not in [slip.id for slip in part.slips]:  # it gave way, as its file says
                    continue
                told = mark(key, question, typed if at is None else [typed if place == at else one for place, one in enumerate(right_typed(question, key))])
                said = told if at is None else told["boxes"][at]
                if not said["right"] and misstep.id not in said["missteps"] and SEVERAL not in said["feedback"] and said["missteps"]:
                    found[misstep.id, said["missteps"][0]] += 1
    return found


def _typed(family, misstep, made) -> str | None:
    """A misstep's figure in the unit asked, to all its places."""
    try:
        slip = misstep_figure(misstep, made.values, made.system, work)
    except Refusal:
        return None
    unit = asked_unit(family, made.system)
    return "refuse" if slip.exact == "refuse" else f"{float(slip_in(slip, family, None, unit)):.10g} {unit}".strip()
