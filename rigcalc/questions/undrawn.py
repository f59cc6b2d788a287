"""Why no question came of a family: the draws that failed, and the sentence that says what in the file is at fault."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from rigcalc.errors import Refusal
from rigcalc.questions.family import Family, FamilyError
from rigcalc.questions.toml_slips import Steps, dotted, line_of

__all__ = ["Undrawn", "no_question", "values_refused"]

ALIKE = 60  # signs by which two reasons count as one


class Undrawn(Exception):
    """These values make no fair question; draw again. `part` is the block of the family that is at fault, where it is one.

    `why` may be worked out later, as most draws that fail are followed by one that does not.
    """

    def __init__(self, why: str | Callable[[], Undrawn], accepted: str = "a shop and tables with rows that it can ask about",
                 do: str = "look at the [draw] table and at the shop file", part: Any = None) -> None:
        super().__init__(why)
        self.why, self.accepted, self.do, self.part = why, accepted, do, part

    def told(self) -> Undrawn:
        """The same with its words worked out."""
        return self if isinstance(self.why, str) else self.why()


def _blocks(family: Family) -> Iterator[tuple[Steps, Any]]:
    """Each block of a family with the steps to it."""
    yield ["answer"], family.answer
    for name in ("ask", "chart", "instruction", "hint", "working"):
        yield [name], getattr(family, name)
    for name, one in family.draw.items():
        yield ["draw", name], one
    for kind in ("misstep", "right", "wrong"):
        for number, one in enumerate(getattr(family, kind)):
            yield [kind, number], one
    for number, box in enumerate(family.box):
        yield ["box", number, "answer"], box.answer
        for at, one in enumerate(box.misstep):
            yield ["box", number, "misstep", at], one


def _refused(family: Family, part: Any, given: str, accepted: str, do: str) -> Refusal:
    """The refusal, with file, line and field where one block is at fault; the line is left out where the file has changed since."""
    steps = next((steps for steps, one in _blocks(family) if one is part), None) if part is not None else None
    if steps is None:
        return Refusal(f"{given} ({family.file})" if family.file else given, accepted, do)
    path = Path(family.folder) / family.file
    try:
        line = line_of(path.read_text(encoding="utf-8-sig"), steps)
    except (OSError, ValueError):
        line = None
    return FamilyError(family.file, line, dotted(steps), given, accepted, do)


def no_question(family: Family, failed: list[Undrawn | Refusal]) -> Refusal:
    """What to say when every draw failed: the reason that came most often."""
    told = [one.told() if isinstance(one, Undrawn) else one for one in failed]
    often = Counter(str(one)[:ALIKE] for one in told).most_common(1)[0][0]
    why = next(one for one in told if str(one)[:ALIKE] == often)
    began = f"the question family '{family.id}', which gave no question in {len(failed)} draws"
    if isinstance(why, Refusal):
        return _refused(family, None, f"{began}: {why.given} was refused", why.accepted, "let the [draw] table draw other values")
    return _refused(family, why.part, f"{began}: {why}", why.accepted, why.do)


def values_refused(family: Family, wrong: Exception) -> Refusal:
    """What to say where a calculation or a text was given what it cannot work with."""
    said = f"nothing was drawn under the name {wrong}" if isinstance(wrong, KeyError) else str(wrong)
    if type(wrong) in (TypeError, AttributeError):
        said = "a text, list or figure stands where another kind is needed"
    return _refused(family, getattr(wrong, "part", None), f"the question family '{family.id}', whose values do not fit ({said})",
                    "values of the kinds listed in quizzes/families/README.md", f"look at {family.file}")
