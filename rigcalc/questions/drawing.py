"""Drawing a question: values first, then what is right, then what each misstep would give.

A draw in which a misstep falls on the right answer, or two missteps fall together, is thrown away and drawn again.
For one choice the place of the right option among all, from smallest to largest, is drawn before anything else,
so that it tells nothing.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from rigcalc.errors import Refusal
from rigcalc.questions import registry, template
from rigcalc.questions.choosing import choose
from rigcalc.questions.choosing_several import Pattern, choose_several, drawn_pattern
from rigcalc.questions.either_figure import with_either
from rigcalc.questions.family import Call, Drawn, Family, part_of
from rigcalc.questions.instance import Instance
from rigcalc.questions.members import members
from rigcalc.questions.numbering import number_parts
from rigcalc.questions.ordering import match_parts, order_parts, place_parts
from rigcalc.questions.draws import Stream
from rigcalc.questions.template import resolve
from rigcalc.questions.undrawn import Undrawn, no_question, values_refused

__all__ = ["draw", "resolve", "TRIES"]

TRIES = 400
INSTRUCTIONS = {
    "one choice": "Choose one.",
    "several choices": "Choose all that fit: one or more.",
    "number": "Type the figure with its unit.",
    "order": "Put the letters in order, the first at the top.",
    "match": "Give each line the letter that belongs to it. A letter may serve once, more than once or not at all.",
    "place": "Choose the letter of the place.",
    "sheet": "Fill in every box.",
}


def work(call: Call | Any, values: Mapping[str, Any]) -> Any:
    """What an answer or a misstep gives: its calculation on the drawn values, or the value written there."""
    try:
        return registry.call(call.calculation, resolve(call.with_, values)) if call.calculation else resolve(call.value, values)
    except (registry.WrongValues, KeyError) as wrong:
        wrong.part = call
        raise


def _fitting(found: list[Mapping[str, Any]], where: Mapping[str, Any], values: Mapping[str, Any]) -> list[Mapping[str, Any]]:
    """Those of the members that are as `where` wants them."""
    for name, wanted in where.items():
        if found:
            wanted = resolve(wanted, values)
            found = [m for m in found if (m.get(name) in wanted if isinstance(wanted, list) else m.get(name) == wanted)]
    return found


def _several(one: Drawn, stream: Stream, shop: Any, pools: Mapping[str, Any], values: Mapping[str, Any]) -> list[Any]:
    found, seen = [], set()
    for member in stream.shuffled(_fitting(members(one.some_of, shop, pools), one.where, values)):
        key = member.get(one.distinct) if one.distinct else len(found)
        if key not in seen:
            seen.add(key)
            found.append(member)
        if len(found) == one.count:
            return found
    raise Undrawn(f"fewer than {one.count} of '{one.some_of}' fit", part=one)


def _one(one: Drawn, stream: Stream, shop: Any, pools: Mapping[str, Any], values: Mapping[str, Any]) -> Any:
    if one.calculation:
        return registry.call(one.calculation, resolve(one.with_, values))
    if one.member_of:
        found = _fitting(members(one.member_of, shop, pools), one.where, values)
        if not found:
            raise Undrawn(f"no member of '{one.member_of}' that fits", part=one)
        return stream.pick(found)
    if one.one_of is not None:
        return resolve(stream.pick(one.one_of), values)
    if one.range is not None:
        least, most = one.range
        step = one.step if one.step is not None else 1
        number = least + step * stream.below(int((most - least) / step + 1e-9) + 1)
        return int(number) if float(number).is_integer() else round(number, 9)
    if one.some_of:
        return _several(one, stream, shop, pools, values)
    return stream.shuffled(resolve(one.shuffle, values))


def _values(family: Family, stream: Stream, shop: Any) -> dict[str, Any]:
    values: dict[str, Any] = {"system": shop.system, "shop": {"name": shop.name}}
    for name, one in family.draw.items():
        try:
            values[name] = _one(one, stream, shop, family.pools, values)
        except (registry.WrongValues, KeyError) as wrong:
            wrong.part = one
            raise
    return values


def _figure(family: Family, values: Mapping[str, Any]) -> dict[str, str] | None:
    if family.figure is None:
        return None
    from rigcalc.figures import FIGURES

    drawn = FIGURES[family.figure.name](**resolve(family.figure.with_, values))
    spoken = getattr(drawn, "spoken", "")
    return {"svg": drawn.svg, "alt": drawn.alt} | ({"spoken": spoken} if spoken else {})


class _Targets:
    """What is drawn before anything else, so that it tells nothing: the places that right options are to take."""

    def __init__(self, family: Family, stream: Stream) -> None:
        self.rank = stream.below(family.answer.options or 1)
        self.pattern: Pattern = drawn_pattern(family, stream)
        self.boxes = [_Targets(part_of(family, box), stream) for box in family.box]


def _parts(family: Family, values: dict[str, Any], system: str, stream: Stream, targets: _Targets) -> dict[str, Any]:
    if family.kind == "one choice":
        return choose(family, values, system, stream, targets.rank, work)
    if family.kind == "several choices":
        return choose_several(family, values, system, stream, targets.pattern, work)
    if family.kind == "sheet":
        return _sheet(family, values, system, stream, targets)
    makers = {"number": number_parts, "order": order_parts, "match": match_parts, "place": place_parts}
    return makers[family.kind](family, values, system, work)


def _sheet(family: Family, values: dict[str, Any], system: str, stream: Stream, targets: _Targets) -> dict[str, Any]:
    """Each box as an instance of its own; its texts stand with the sheet."""
    boxes, shown = [], []
    for box, own in zip(family.box, targets.boxes, strict=True):
        part = part_of(family, box)
        found = _parts(part, values, system, stream, own)
        right = found.pop("shown_right")
        label = template.fill(box.label if isinstance(box.label, str) else box.label["en"], values, system)
        shown.append(f"{label}: {right}")
        boxes.append((box.id, label, Instance(
            family=part, system=system, values={"right": right}, text=label, chart=None, figure=None,
            instruction=INSTRUCTIONS[box.kind], hint="", working="", **found)))
    return {"right": None, "boxes": tuple(boxes), "shown_right": "; ".join(shown)}


def _once(family: Family, stream: Stream, shop: Any, targets: _Targets) -> Instance:
    values = _values(family, stream, shop)
    system = shop.system
    parts = _parts(family, values, system, stream, targets)
    right = parts.pop("shown_right")

    def said(words: dict[str, str]) -> str:
        try:
            return template.fill(words["en"], values, system)
        except KeyError as missing:
            missing.part = words
            raise

    text, chart = said(family.ask), said(family.chart) if family.chart else None
    parts = with_either(family, values, system, f"{text} {chart or ''}", parts, work)
    values["right"] = right
    return Instance(
        family=family, system=system, values=values, text=text, chart=_headed(chart) if chart is not None else None, figure=_figure(family, values),
        instruction=said(family.instruction) if family.instruction else _instruction(family),
        hint=said(family.hint), working=said(family.working), language=getattr(shop, "language", "en"), **parts)


def _headed(chart: str) -> str:
    """A chart under its head: in force where it is one maker's; several, and tables, only lie on the page."""
    one = len(re.findall(r"\bChart \S+(?: of|, edition)\b", chart)) == 1
    return f"{'Chart in force' if one else 'On the page'}:{chr(10) if chr(10) in chart else ' '}{chart}"


def _instruction(family: Family) -> str:
    if family.kind == "order" and family.answer.items is not None:
        return "Put the lines in order, the first at the top."
    if family.kind == "number" and family.answer.accept == [""]:
        return "Type the figure; it has no unit."
    if family.kind == "number" and family.answer.accept == ["deg"]:
        return "Type the figure in degrees; here the unit may be left out."
    return INSTRUCTIONS[family.kind]


def draw(family: Family, stream: Stream, shop: Any) -> Instance:
    """One instance of a family, from a stream and the shop.

    The stream's own place does not matter: values come from a part of it, so that what was drawn from it before
    makes no difference. Raises Refusal when no draw can be made, such as when the shop has no fitting row.
    """
    own = stream.sub("values")
    targets = _Targets(family, own)
    failed: list[Undrawn | Refusal] = []
    for _ in range(TRIES):
        try:
            return _once(family, own, shop, targets)
        except (Undrawn, Refusal) as undrawn:
            failed.append(undrawn)
        except (registry.WrongValues, KeyError, TypeError, AttributeError) as wrong:
            raise values_refused(family, wrong) from wrong
    raise no_question(family, failed)
