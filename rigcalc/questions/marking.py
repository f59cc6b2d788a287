"""Marking one answer from its key: right or not, which misstep, what is said, where to read. Nothing is executed."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from math import ceil, floor
from typing import Any, NamedTuple

from rigcalc.questions.family import Answer, Round
from rigcalc.questions.quick_judging import far_apart, judge
from rigcalc.questions.reading import read_answer
from rigcalc.questions.scale import bounds, fineness, in_fraction, right_in, rounded
from rigcalc.questions.worked_from import NO_SLIP, Filled, from_above
from rigcalc.units import exact

__all__ = ["also_windows", "each_letter", "lines_right", "mark", "mark_box", "mark_letters", "mark_number", "told", "told_of_sheet", "windows"]

REFUSE = "refuse"
SEVERAL = "More than two usual slips lead to this answer: go through it step by step."
LIMITS = ("lbf", "N", "kN", "kg", "lb")  # units in which a figure rounded down is a limit
NEAR = Fraction(15, 1000)  # a person who rounds stays within this much of the figure


KEPT = 16384  # rules worked out lately: the papers of a class share many figures
_Rule = tuple[tuple[tuple[str, str], ...], tuple[str, tuple[tuple[str, str], ...]] | None]  # tolerance, rounding


def _turn(turn: dict[str, Any] | None) -> tuple[str, tuple[tuple[str, str], ...]] | None:
    return (turn["direction"], tuple(turn["step"].items())) if turn else None


@lru_cache(KEPT)
def _answer(rule: _Rule) -> Answer:
    """The marking rule as it was kept with the key, whatever the family says today."""
    tolerance, turn = rule
    return Answer(tolerance={name: float(value) for name, value in tolerance},
                  round=Round(direction=turn[0], step={unit: float(step) for unit, step in turn[1]}) if turn else None)


class _Window(NamedTuple):
    """The right figure in a unit, and the least and greatest that count as right."""

    meant: Fraction
    low: Fraction
    high: Fraction


@lru_cache(KEPT)
def _window(exact_text: str, rule: _Rule, unit: str) -> _Window:
    answer, right = _answer(rule), Fraction(exact_text)
    return _Window(right_in(answer, right, unit), *bounds(answer, right, unit))


def windows(key: dict[str, Any], units: list[str]) -> dict[str, tuple[Fraction, Fraction]]:
    """Of a key whose answer is a figure, the least and the greatest figure that count as right, by unit."""
    return {unit: _window(key["right"]["exact"], _rule(key), unit)[1:] for unit in units}


def also_windows(key: dict[str, Any], units: list[str]) -> dict[str, tuple[Fraction, Fraction]]:
    """Of a key with figures as the page prints them, the span by unit outside which none of them makes an answer right."""
    found = {unit: [_window(one, _rule(key), unit) for one in key["right"].get("also", ())] for unit in units}
    return {unit: (min(one.low for one in rows), max(one.high for one in rows)) for unit, rows in found.items() if rows}


def _rule(key: dict[str, Any]) -> _Rule:
    return tuple(key["right"]["tolerance"].items()), _turn(key["right"]["round"])


class _Slip(NamedTuple):
    """A misstep's figure in a unit and how near to it counts; beyond `reach` of `about` nothing does."""

    value: Fraction
    rounded: Fraction | None
    own: tuple[Fraction, ...]
    near: Fraction
    spread: Fraction
    low: Fraction
    high: Fraction
    about: float
    reach: float


@lru_cache(KEPT)
def _slip(exact_text: str, turn: tuple | None, rule: _Rule, unit: str) -> _Slip:
    answer, value = _answer(rule), in_fraction(Fraction(exact_text), unit)
    turned = rounded(value, dict(turn[1]).get(unit, "1"), turn[0]) if turn else None
    own = (exact(answer.round.step[unit]),) if answer.round and answer.round.step.get(unit) else ()
    near = max(abs(value) * NEAR, *own, Fraction(0))
    spread = abs(value) * (Fraction(1, 10**9) + exact(max(float(answer.tolerance.get("relative", 0)), 0.0)))
    low, high = bounds(Answer(tolerance=answer.tolerance), Fraction(exact_text), unit)
    about = value if turned is None else turned
    reach = max(near, spread, high - value, value - low)
    return _Slip(value, turned, own, near, spread, low, high, float(about), 1.000001 * float(reach) + 1e-12)


def _half_up(steps: Fraction) -> int:
    return floor(steps + Fraction(1, 2))


def _gives(slip: _Slip, figure: Fraction, near_to: float, typed: str, right: Fraction | None) -> bool:
    """Whether a misstep gives this figure, rounded as a person would round it."""
    if abs(near_to - slip.about) > slip.reach:
        return False
    value = slip.value
    if slip.rounded is not None:
        return abs(figure - slip.rounded) <= abs(value) / 10**9
    if abs(figure - value) <= slip.spread or slip.low <= figure <= slip.high:
        return True
    steps = [step for step in (fineness(typed), *slip.own) if step]
    ways = {way(value / step) * step for step in steps for way in (floor, _half_up, ceil)}
    nearer = right is None or abs(figure - value) < abs(figure - right)  # what was typed coarsely may have meant the right one
    return figure in ways and abs(figure - value) <= slip.near and nearer


@lru_cache(KEPT)
def _figure(base: str, unit: str) -> Fraction:
    return in_fraction(Fraction(base), unit)


@lru_cache(KEPT)
def _judged(base: str, typed: str, right: str, rule: _Rule, unit: str) -> tuple[bool, bool, Fraction]:
    """Whether a figure is right, whether it is only too coarse, and the right figure in its unit."""
    figure, (meant, low, high) = _figure(base, unit), _window(right, rule, unit)
    good = low <= figure <= high
    return good, not good and abs(figure - meant) <= fineness(typed) / 2, meant


def _number(key: dict[str, Any], value: dict[str, Any]) -> tuple[bool, list[dict[str, Any]], bool]:
    """Whether it is right, the missteps that give it, and whether it is only too coarse."""
    if value.get("refuse"):
        return key["right"]["exact"] == REFUSE, [slip for slip in key["missteps"] if slip["exact"] == REFUSE], False
    right, fits, coarse = judge(key, value.get("plain", value["typed"]), value["unit"]) or _number_exactly(key, value)
    return (right, _nearest(key, value, fits), coarse) if right or not _as_printed(key, value) else (True, [], False)


def _nearest(key: dict[str, Any], value: dict[str, Any], fits: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Of missteps that all give a figure, the nearest, and any that what was typed does not tell from it."""
    if len(fits) < 2 or all(slip["exact"] == fits[0]["exact"] and slip["round"] == fits[0]["round"] for slip in fits):
        return fits
    rule, unit = _rule(key), value["unit"]
    figure, away = _figure(value["base"], unit), []
    for slip in fits:
        kept = _slip(slip["exact"], _turn(slip["round"]), rule, unit)
        given = [kept.rounded] if kept.rounded is not None else [kept.value, right_in(_answer(rule), Fraction(slip["exact"]), unit)]
        away.append(min(abs(one - figure) for one in given))
    low, high = bounds(Answer(tolerance=_answer(rule).tolerance), Fraction(value["base"]), unit)
    step = exact(_answer(rule).round.step[unit]) if _answer(rule).round and unit in _answer(rule).round.step else Fraction(0)
    apart = min(fineness(value.get("plain", value["typed"])), max((high - low) / 2, step))
    return [slip for slip, one in zip(fits, away, strict=True) if one == min(away) or one - min(away) < apart]


def _as_printed(key: dict[str, Any], value: dict[str, Any]) -> bool:
    """Whether a figure is right by a figure as the page prints it, which is rounded in each of its two units."""
    rule = _rule(key)
    return any(_judged(value["base"], value.get("plain", value["typed"]), one, rule, value["unit"])[0]
               for one in key["right"].get("also", ()))


def _number_exactly(key: dict[str, Any], value: dict[str, Any]) -> tuple[bool, list[dict[str, Any]], bool]:
    right = key["right"]["exact"]
    rule = _rule(key)
    unit, typed = value["unit"], value.get("plain", value["typed"])
    meant = None
    if right != REFUSE:
        good, coarse, meant = _judged(value["base"], typed, right, rule, unit)
        if good or coarse:
            return good, [], coarse
    figure = _figure(value["base"], unit)
    near_to = float(figure)
    found = [(kept, slip) for slip in key["missteps"] if slip["exact"] != REFUSE
             for kept in [_slip(slip["exact"], _turn(slip["round"]), rule, unit)] if _gives(kept, figure, near_to, typed, meant)]
    return False, [slip for _, slip in sorted(found, key=lambda one: abs(one[0].value - figure))], False


def _feedback(right: bool, fits: list[dict[str, Any]]) -> str:
    if right:
        return "Right."
    if not fits:
        return f"Not right. {NO_SLIP}"
    if len(fits) == 1 or len({slip["feedback"] for slip in fits}) == 1:
        return f"Not right. {fits[0]['feedback']}"
    return f"Not right. Two things fit. Either: {fits[0]['feedback']} Or: {fits[1]['feedback']}"


def told(right: bool, fits: list[dict[str, Any]], share: float | None = None, said: str | None = None) -> dict[str, Any]:
    """What a marked answer is told: right or not, the missteps that fit (two at most), the feedback, the share.

    And the section that is about the first misstep, where the misstep names one.
    """
    if right:
        return {"right": True, "missteps": [], "feedback": said or "Right.", "share": 1.0 if share is None else share}
    fits = fits[:2]
    found = {"right": False, "missteps": [slip["id"] for slip in fits], "feedback": said or _feedback(False, fits),
             "share": 0.0 if share is None else share}
    return found | ({"section": fits[0]["section"]} if fits and "section" in fits[0] else {})


def _rounded_up(key: dict[str, Any], value: dict[str, Any]) -> bool:
    """Whether a figure is a limit rounded up: above the right one, which is rounded down, by no more than its step."""
    turn, right, unit = key["right"]["round"], key["right"]["exact"], value.get("unit")
    if not turn or turn["direction"] != "down" or right == REFUSE or unit not in LIMITS or unit not in turn["step"] or far_apart(value["base"], right, turn["step"][unit], unit):
        return False
    figure, (meant, _, high) = _figure(value["base"], unit), _window(right, _rule(key), unit)
    return high < figure <= meant + Fraction(turn["step"][unit])


def mark_number(key: dict[str, Any], question: dict[str, Any], value: Any) -> dict[str, Any]:
    """What a figure is told, as it was read; of the question no more is asked than its tolerance in words."""
    right, fits, coarse = _number(key, value)
    said = f"Not right. Your sum may be right, but that is too coarse: give it {question['tolerance']}." if coarse else None
    if coarse and (fits := [one for one in key["missteps"] if one["exact"] not in (REFUSE, key["right"]["exact"]) and _figure(one["exact"], value["unit"]) == _figure(value["base"], value["unit"])]):
        said = f"{_feedback(False, fits)} Or it is only too coarse: give it {question['tolerance']}."
    if len(fits) > 2:
        said, fits = f"Not right. {SEVERAL}", []
    return told(right, fits, said=said)


def _mark_letter(key: dict[str, Any], question: dict[str, Any], value: Any) -> dict[str, Any]:
    right = value == key["right"]["letter"]
    return told(right, [] if right else [slip for slip in key["missteps"] if slip["letter"] == value])


def _mark_several(key: dict[str, Any], question: dict[str, Any], value: list[str]) -> dict[str, Any]:
    """Right only when the set is right. The share is of the right ones, less the wrong ones, never below 0."""
    chosen, wanted = set(value), set(key["right"]["letters"])
    slips = key["missteps"]
    fits = [slip for slip in slips if "letter" not in slip and set(slip["letters"]) == chosen]
    single = [slip for slip in slips if "letter" in slip and slip["letter"] in chosen ^ wanted]
    share = max(0, len(chosen & wanted) - len(chosen - wanted)) / len(wanted)
    found = told(chosen == wanted, fits or single, share)
    return found if fits or found["right"] else found | {"feedback": each_letter(single, chosen - wanted, wanted - chosen)}


def each_letter(slips: list[dict[str, Any]], taken: set[str], left_out: set[str]) -> str:
    """Every option wrongly taken or left out with its letter; one sentence for those that share it.

    >>> each_letter([{"letter": "D", "feedback": "It slips."}], {"D"}, {"E", "F"})
    'Not right. D does not belong: It slips. You left out E, F.'
    """
    said = {slip["letter"]: slip["feedback"] for slip in slips if "letter" in slip}
    parts = ["Not right."]
    parts += [f"{', '.join(row)} {'does' if len(row) == 1 else 'do'} not belong{f': {why}' if why else '.'}" for why, row in _by_sentence(taken, said)]
    parts += [f"You left out {', '.join(row)}{f': {why}' if why else '.'}" for why, row in _by_sentence(left_out, said)]
    return " ".join(parts)


def _by_sentence(letters: set[Any], said: dict[Any, str]) -> list[tuple[str, list[Any]]]:
    rows: dict[str, list[Any]] = {}
    for letter in sorted(letters):
        rows.setdefault(said.get(letter, ""), []).append(letter)
    return list(rows.items())


def _mark_row(key: dict[str, Any], question: dict[str, Any], value: list[str]) -> dict[str, Any]:
    wanted = key["right"]["row"]
    fits = [] if value == wanted else [slip for slip in key["missteps"] if slip["row"] == value]
    if key["kind"] == "order":
        found = told(value == wanted, fits)
        return found if fits or value == wanted else found | {"feedback": f"Not right. {_order_words(value, wanted)}"}
    wrong = [at for at, (one, other) in enumerate(zip(value, wanted, strict=True), 1) if one != other]
    good = len(wanted) - len(wrong)
    found = told(not wrong, fits, good / len(wanted))
    if fits or not wrong:
        return found
    by_line = _each_line(key["missteps"], value, wrong)
    if by_line:
        return found | _told_by_line(by_line, [at for at in wrong if at not in by_line], lines_right(good, len(wanted)))
    which = f"; line {wrong[0]} has not" if len(wrong) == 1 else f"; lines {', '.join(map(str, wrong))} have not" if good else ""
    return found | {"feedback": f"Not right. {lines_right(good, len(wanted))}{which}."}


def _each_line(slips: list[dict[str, Any]], value: list[str], wrong: list[int]) -> dict[int, dict[str, Any]]:
    """For wrong lines of a match, the misstep that gives that line, where it is one that is told for a single line."""
    found = {at: next((slip for slip in slips if slip.get("each_line") and slip["row"][at - 1] == value[at - 1]), None) for at in wrong}
    return {at: slip for at, slip in found.items() if slip}


def _told_by_line(by_line: dict[int, dict[str, Any]], others: list[int], score: str) -> dict[str, Any]:
    """What a match is told whose wrong lines come from missteps; a misstep of a line is named with it, as one of a sheet with its box."""
    parts = ["Not right.", f"{score}."]
    parts += [f"{_lines(row)}: {why}" for why, row in _by_sentence(set(by_line), {at: slip["feedback"] for at, slip in by_line.items()})]
    parts += [f"{_lines(others)} {'has' if len(others) == 1 else 'have'} another letter."] if others else []
    sections = [slip["section"] for slip in by_line.values() if "section" in slip]
    return {"missteps": [f"line {at}: {slip['id']}" for at, slip in by_line.items()][:2], "feedback": " ".join(parts)} | (
        {"section": sections[0]} if sections else {})


def _lines(numbers: list[int]) -> str:
    return f"Line{'s' * (len(numbers) > 1)} {', '.join(map(str, numbers))}"


def _order_words(row: list[str], wanted: list[str]) -> str:
    """What is amiss with an order that no misstep gives: no place of any step is told."""
    if row == wanted[::-1]:
        return "This is the right order read backwards."
    if row == sorted(row):
        return "They stand as the page gave them: nothing was put in order."
    apart = [at for at, (one, other) in enumerate(zip(row, wanted)) if one != other]
    if len(apart) == 2 and apart[1] - apart[0] == 1:
        return "Two steps that stand next to each other are changed round; all else is in its place."
    return f"The first {apart[0]} stand right: look at what has to come next." if apart and apart[0] > 1 else NO_SLIP


def lines_right(good: int, of: int) -> str:
    """How many lines of a match have their letter, in words without an end.

    >>> lines_right(1, 4), lines_right(0, 2)
    ('1 of the 4 lines has the letter that belongs to it', 'None of the 2 lines has the letter that belongs to it')
    """
    return f"{good or 'None'} of the {of} lines " + ("has the letter that belongs to it" if good < 2 else "have the letters that belong to them")


def _mark_sheet(key: dict[str, Any], question: dict[str, Any], value: list[Any]) -> dict[str, Any]:
    """Each box marked alone; right when all are. The share is of the boxes that are right."""
    return told_of_sheet([(own["id"], box["label"], *mark_box(own, box, given))
                          for box, own, given in zip(question["boxes"], key["boxes"], value, strict=True)])


def mark_box(own: dict[str, Any], box: dict[str, Any], given: Any) -> tuple[dict[str, Any], Filled | None]:
    """What one box is told, and the figure in it where it is wrong: a later box could be worked from it."""
    if given is None:
        return told(False, [], said="Nothing was filled in."), None
    if "unread" in given:
        return told(False, [], said=given["unread"]), None
    found = MARKERS[own["kind"]](own, box, given)
    if own["kind"] != "number" or found["right"]:
        return found, None
    return found | ({"rounded_up": True} if _rounded_up(own, given) else {}), (own, given)


def told_of_sheet(found: list[tuple[str, str, dict[str, Any], Filled | None]]) -> dict[str, Any]:
    """What a sheet is told, from each box's id and label, what that box alone is told, and the wrong figure in it.

    A later box that no slip explains, and that follows from an earlier wrong one, says so. A limit rounded up leaves no share.
    """
    above: list[tuple[str, dict[str, Any]]] = []
    boxes, lines = [], []
    for name, label, one, filled in found:
        if not one["right"]:
            if filled:
                one = from_above(one, filled, above)
                above.insert(0, (name, filled[1]))
            lines.append(f"{label}: {one['feedback'].removeprefix('Not right. ')}")
        boxes.append({"id": name} | one)
    up = any(one.get("rounded_up") for one in boxes)
    section = next((one["section"] for one in boxes if "section" in one), None)
    return ({"section": section} if section else {}) | {"right": not lines, "missteps": [f"{one['id']}: {slip}" for one in boxes for slip in one["missteps"]],
            "feedback": f"Not right. {' '.join(lines)}" if lines else "Right.", "boxes": boxes, "rounded_up": up,
            "share": 0.0 if up else sum(one["share"] for one in boxes) / len(boxes)}


def mark_letters(kind: str, row: list[str], slips: list[dict[str, Any]], value: list[str]) -> dict[str, Any]:
    """What a row or a set of letters is told, as it was read."""
    key = {"kind": kind, "right": {"letters" if kind == "several choices" else "row": row}, "missteps": slips}
    return MARKERS[kind](key, {}, value)


MARKERS = {"one choice": _mark_letter, "several choices": _mark_several, "number": mark_number, "order": _mark_row,
           "match": _mark_row, "place": _mark_letter, "sheet": _mark_sheet}


def mark(key: dict[str, Any], question: dict[str, Any], typed: Any, reading: dict[str, Any] | None = None) -> dict[str, Any]:
    """One answer marked: {"right", "missteps" (ids, at most two; of a sheet at most two a box), "feedback", "section",
    "share"}, and of a sheet "boxes" and "rounded_up".

    `share` is how much of it is right, 0 to 1; whether a part counts is for the blueprint to say.
    `typed` is what was handed in, as untrusted data: a letter, the raw text of a number, a list of letters, or for
    a sheet a list with the raw text of each box. `reading` is what `read_answer` gave for it, where that is at hand.
    """
    reading = reading or read_answer(question, typed)
    if not reading["ok"] and not _some_boxes(reading):
        said = "No answer was given." if _nothing(typed) else f"{reading['shown']}"
        return {"right": False, "missteps": [], "feedback": said, "section": key["section"], "share": 0.0}
    value = reading["value"]
    if value is None:  # a sheet with a box that cannot be read: the other boxes still count
        value = [one and (one["value"] if one["ok"] else {"unread": one["shown"]}) for one in reading["boxes"]]
    found = MARKERS[key["kind"]](key, question, value)
    found.setdefault("section", key["section"])
    return found


def _some_boxes(reading: dict[str, Any]) -> bool:
    return any(one and one["ok"] for one in reading.get("boxes") or [])


def _nothing(typed: Any) -> bool:
    return typed in (None, "", []) or (isinstance(typed, list) and all(one == "" for one in typed))
