"""From an instance to a question that may be seen and a key that may not."""

from __future__ import annotations

from typing import Any

from rigcalc.questions.draws import Stream
from rigcalc.questions.family import Family, pointed_sections
from rigcalc.questions.instance import Instance
from rigcalc.questions.separators import separators
from rigcalc.questions.scale import tolerance_words, tolerances
from rigcalc.skills import skill

__all__ = ["compose"]

LETTERS = "ABCDEFGH"


def _question(instance: Instance, slot: int) -> dict[str, Any]:
    """What is the same for every kind. Nothing here may depend on the key."""
    return {"slot": slot, "kind": instance.family.kind, "text": instance.text, "chart": instance.chart,
            "figure": instance.figure, "options": [], "unit": None, "accept": [], "tolerance": None,
            "refusal": False, "instruction": instance.instruction, "left": [], "boxes": [],
            "separators": separators(instance.language)}


def _key(instance: Instance, slot: int) -> dict[str, Any]:
    family, hangs = instance.family, skill(instance.family.skill)
    return {"slot": slot, "family": family.id, "version": family.version, "family_sha256": family.sha256,
            "skill": family.skill, "level": family.level, "section": family.section, "kind": family.kind,
            "values": _jsonable(instance.values), "right": {}, "missteps": [],
            "must_be_right": hangs.must_be_right, "weight": hangs.weight,
            "working": instance.working, "hint": instance.hint}


def _jsonable(value: Any) -> Any:
    if isinstance(value, dict):
        return {str(name): _jsonable(one) for name, one in value.items()}
    if isinstance(value, (list, tuple)):
        return [_jsonable(one) for one in value]
    return value if isinstance(value, (str, int, float, bool, type(None))) else str(value)


def _choice(instance: Instance, stream: Stream, question: dict[str, Any], key: dict[str, Any]) -> None:
    # The options stand in the order of their text, then are shuffled by a stream that has never seen the key.
    in_order = sorted(range(len(instance.options)), key=lambda place: instance.options[place].text)
    for letter, place in zip(LETTERS, stream.sub("options").shuffled(in_order), strict=False):
        option = instance.options[place]
        question["options"].append({"letter": letter, "text": option.text})
        if place == instance.right:
            key["right"] = {"letter": letter, "shown": option.text}
        else:
            key["missteps"].append({"id": option.misstep, "feedback": option.feedback, "letter": letter,
                                    "shown": option.text})


def _number(instance: Instance, stream: Stream, question: dict[str, Any], key: dict[str, Any]) -> None:
    answer = instance.family.answer
    question.update(unit=instance.unit, accept=list(answer.accept), tolerance=tolerance_words(answer),
                    refusal=answer.refusal)
    turn = answer.round
    key["right"] = {
        "exact": str(instance.right), "unit": instance.unit, "shown": instance.values.get("right", ""),
        "tolerance": {name: f"{value:.12g}" for name, value in tolerances(answer).items()},
        "round": {"direction": turn.direction, "step": {u: f"{s:.12g}" for u, s in turn.step.items()}} if turn else None}
    if instance.also:
        key["right"]["also"] = [str(one) for one in instance.also]
    if instance.worked_from:
        key["right"]["from"] = {box: [list(line) for line in found] for box, found in instance.worked_from.items()}
    for slip in instance.slips:
        turn = {"direction": slip.direction, "step": slip.step} if slip.direction else None
        key["missteps"].append({"id": slip.id, "feedback": slip.feedback, "exact": str(slip.exact), "round": turn})


def _several(instance: Instance, stream: Stream, question: dict[str, Any], key: dict[str, Any]) -> None:
    lettered = _lettered(stream, "options", [option.text for option in instance.options])
    question["options"] = [{"letter": letter, "text": text} for text, letter in lettered.items()]
    options = {option.text: option for option in instance.options}
    rights = {lettered[instance.options[place].text] for place in instance.right}
    key["right"] = {"letters": sorted(rights), "shown": ", ".join(sorted(rights))}
    for slip in instance.slips:
        letters = sorted(lettered[text] for text in slip.row)
        key["missteps"].append({"id": slip.id, "feedback": slip.feedback, "letters": letters})
    for text, letter in lettered.items():  # one option wrongly taken, or wrongly left out
        if options[text].feedback:
            key["missteps"].append({"id": options[text].misstep or f"option-{letter}", "letter": letter,
                                    "feedback": options[text].feedback, "letters": sorted(rights ^ {letter})})


def _lettered(stream: Stream, part: str, texts: Any) -> dict[str, str]:
    """The letter of each text: texts in their own order, shuffled by a stream that has never seen the key."""
    return dict(zip(stream.sub(part).shuffled(sorted(texts)), LETTERS, strict=False))


def _rows(instance: Instance, stream: Stream, question: dict[str, Any], key: dict[str, Any]) -> None:
    """General rows and matches: the texts of `items` get letters, the rows of right and wrong are told in them."""
    lettered = _lettered(stream, "options", instance.items)
    question["options"] = [{"letter": letter, "text": text} for text, letter in lettered.items()]
    question["left"] = list(instance.left)
    row = [lettered[text] for text in instance.right]
    pairs = [f"{at} {letter}" for at, letter in enumerate(row, 1)] if instance.left else row
    key["right"] = {"row": row, "shown": ", ".join(pairs)}
    key["missteps"] = [{"id": slip.id, "feedback": slip.feedback, "row": [lettered[text] for text in slip.row]}
                       for slip in instance.slips]


def _order(instance: Instance, stream: Stream, question: dict[str, Any], key: dict[str, Any]) -> None:
    if instance.items:
        return _rows(instance, stream, question, key)
    question["options"] = [{"letter": letter, "text": f"crimp {letter}"} for letter in instance.letters]
    key["right"] = {"row": list(instance.right), "shown": ", ".join(instance.right)}
    key["missteps"] = [{"id": slip.id, "feedback": slip.feedback, "row": list(slip.row)} for slip in instance.slips]


def _place(instance: Instance, stream: Stream, question: dict[str, Any], key: dict[str, Any]) -> None:
    question["options"] = [{"letter": letter, "text": f"place {letter}"} for letter in instance.letters]
    key["right"] = {"letter": instance.right, "shown": instance.right}
    key["missteps"] = [{"id": slip.id, "feedback": slip.feedback, "letter": slip.row[0]} for slip in instance.slips]


def _sheet(instance: Instance, stream: Stream, question: dict[str, Any], key: dict[str, Any]) -> None:
    key["boxes"] = []
    for number, (name, label, part) in enumerate(instance.boxes, 1):
        shown = {"box": number, "label": label, "kind": part.family.kind, "options": [], "unit": None, "accept": [],
                 "tolerance": None, "refusal": False, "separators": question["separators"]}
        kept = {"id": name, "kind": part.family.kind, "right": {}, "missteps": []}
        MAKERS[part.family.kind](part, stream.sub(f"box {number}"), shown, kept)
        question["boxes"].append(shown)
        key["boxes"].append(kept)
    key["right"] = {"shown": "; ".join(f"{one['label']}: {own['right']['shown']}" for one, own in
                                       zip(question["boxes"], key["boxes"], strict=True))}


MAKERS = {"one choice": _choice, "several choices": _several, "number": _number, "order": _order, "match": _rows,
          "place": _place, "sheet": _sheet}


def _point(missteps: list[dict[str, Any]], sections: dict[str, str]) -> None:
    """Write into each misstep of a key the section that is about it, where that is not the family's."""
    for slip in missteps:
        if slip["id"] in sections:
            slip["section"] = sections[slip["id"]]


def _by_line(missteps: list[dict[str, Any]], family: Family) -> None:
    """Mark the missteps of a match that are told for a single line too."""
    named = {one.id for one in family.misstep if one.each_line}
    for slip in missteps:
        if slip["id"] in named:
            slip["each_line"] = True


def compose(instance: Instance, stream: Stream, slot: int) -> tuple[dict[str, Any], dict[str, Any]]:
    """The public question and the private key of an instance, both plain data for JSON.

    The question's bytes do not depend on which option is right or on anything in the key.
    """
    question, key = _question(instance, slot), _key(instance, slot)
    MAKERS[instance.family.kind](instance, stream, question, key)
    _point(key["missteps"], pointed_sections(instance.family))
    _by_line(key["missteps"], instance.family)
    for box, own in zip(instance.family.box, key.get("boxes", ()), strict=True):
        _point(own["missteps"], pointed_sections(instance.family, box))
    return question, key
