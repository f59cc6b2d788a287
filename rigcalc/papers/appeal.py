"""One question of one result, laid out for whoever decides on an appeal: asked, typed, read, right, why, whence."""

from __future__ import annotations

from fractions import Fraction

from rigcalc.errors import Refusal
from rigcalc.pages import escape
from rigcalc.papers.printed import question_html
from rigcalc.papers.records import when
from rigcalc.papers.results import LETTERED, answer_in_words, typed_in_words
from rigcalc.papers.tolerances import rule_of, with_tolerance_of
from rigcalc.questions.scale import bounds
from rigcalc.skills import where_words

__all__ = ["accepted_in_words", "appeal_body", "marked_by", "sources_of"]

REFUSE = "refuse"


def accepted_in_words(question: dict, key: dict) -> list[str]:
    """What counts as right, one line each: the range in every accepted unit, the letters, or box by box."""
    if key["kind"] == "sheet":
        return [f"{box['label']}: {line}" for box, own in zip(question["boxes"], key["boxes"], strict=True)
                for line in accepted_in_words(box, own)]
    right = key["right"]
    if key["kind"] != "number":
        return [f"Right: {right['shown']}", *_option_lines(question, key)]
    if right["exact"] == REFUSE:
        return ["Right: the word refuse, as no figure can be stated."]
    return [f"Right: {right['shown']} ({question['tolerance']})", *(_range(right, unit) for unit in question["accept"])]


def _option_lines(question: dict, key: dict) -> list[str]:
    """The texts behind the right letters, where there are any."""
    right = key["right"]
    wanted = right.get("letters") or ([right["letter"]] if "letter" in right else [])
    return [f"{option['letter']}: {option['text']}" for option in question["options"] if option["letter"] in wanted]


def marked_by(record: dict, question: dict, corrections: list[dict]) -> dict:
    """The question with the tolerance that it is marked by; where a correction changed it, with the printed one beside it."""
    issued, key = _key_of(record, question["slot"]), _key_in_force(record, question["slot"], corrections)
    found = question if key is issued else with_tolerance_of(question, key)
    if found["tolerance"] == question["tolerance"]:
        return question
    return question | {"tolerance": f"{found['tolerance']}, as it was marked again (the paper said: {question['tolerance']})"}


def _range(right: dict, unit: str) -> str:
    rule = rule_of(right)
    name = f" {unit}" if unit else ""
    ranges = [tuple(f"{float(edge):.7g}" for edge in bounds(rule, Fraction(exact), unit)) for exact in (right["exact"], *right.get("also", ()))]
    words = [f"{low}{name} exactly" if low == high else f"from {low} to {high}{name}" for low, high in dict.fromkeys(ranges)]
    others = f"; by the figures as the page, a job sheet or the box above has them, {' or '.join(words[1:])}" if words[1:] else ""
    return f"Accepted: {words[0]}{others}."


def sources_of(key: dict, paper: dict) -> list[str]:
    """Where the figures of a question come from: its tables, charts and documents, then the family's file."""
    found: dict[str, None] = {}
    _collect(key["values"], found)
    return [*found, f"Family {key['family']}, version {key['version']}, file hash {key['family_sha256']}",
            f"{paper['chart_line']} (when the paper was set)"]


def _collect(value: object, found: dict[str, None]) -> None:
    if isinstance(value, dict):
        if value.get("source"):
            found[", ".join(str(value[name]) for name in ("source", "locator") if value.get(name))] = None
        for name, inside in value.items():
            if name == "order_source" and inside:
                found[str(inside)] = None
            _collect(inside, found)
    elif isinstance(value, list):
        for inside in value:
            _collect(inside, found)


def _key_of(record: dict, slot: int) -> dict:
    return next(one for one in record["keys"] if one["slot"] == slot)


def _key_in_force(record: dict, slot: int, corrections: list[dict]) -> dict:
    """The key of a question as it stands after the corrections of this paper."""
    key = _key_of(record, slot)
    for one in corrections:
        key = one["papers"].get(record["paper_id"], {}).get(str(slot), {}).get("key") or key
    return key


def appeal_body(record: dict, result: dict, slot: int, corrections: list[dict] = (), draft: object = None) -> str:
    """The page's body: everything that bears on one marked answer, nothing that bears on another.

    `draft` is what was typed for it and does not count, where nothing that counts was handed in.
    """
    row = next((one for one in result["slots"] if one["slot"] == slot), None)
    if row is None:
        raise Refusal(f"question {slot}", f"questions 1 to {len(result['slots'])}", "choose one of the result's questions")
    question = marked_by(record, next(one for one in record["paper"]["questions"] if one["slot"] == slot), corrections)
    key = _key_in_force(record, slot, corrections)
    state = "struck" if row.get("struck") else "right" if row["right"] else "not right"
    facts = [
        ("Chosen" if question["kind"] in LETTERED else "Typed", _typed(question, row["typed"], draft)), ("Read as", row["read_as"] or "nothing"),
        ("Marked", f"{state}, {row.get('marks', row['weight'] if row['right'] else 0)} of {row['weight']} marks"
         + (", must be right" if row["must_be_right"] else "")),
        ("What counts as right", accepted_in_words(question, key)),
        ("Misstep seen", ", ".join(row["missteps"]) or "none that is known"), ("Told with the result", row["feedback"]),
        ("Working", key["working"]), ("Sources", sources_of(key, record["paper"])),
        ("Lesson section", where_words(row["section"])),
        ("How it was handed in", _handed_in(result)),
    ]
    if row.get("corrected"):
        facts.append(("Put right by", [f"correction {one['number']} of {when(one['at'])}, by {one['by']}: {one['why']}"
                                       for one in result["corrections"] if one["number"] in row["corrected"]]))
    rows = "".join(f"<tr><th scope='row'>{escape(name)}</th><td>{_told(told)}</td></tr>" for name, told in facts)
    return f"{question_html(question)}<table class='facts'><tbody>{rows}</tbody></table>"


def _typed(question: dict, typed: object, draft: object) -> str:
    if typed is None and draft is not None:
        return f"{answer_in_words(question, draft)} (not confirmed in time: it does not count)"
    return typed_in_words(typed, question)


def _handed_in(result: dict) -> str:
    typed = result.get("typed_in")
    by = f", typed in by {typed['by']}, read a second time by {typed['second_reader']}" if typed else ""
    return f"{when(result['handed_in_at'])}, receipt {result['receipt']}{by}; marked {when(result['marked_at'])}"


def _told(told: object) -> str:
    if isinstance(told, list):
        return "".join(f"<p>{escape(str(line))}</p>" for line in told)
    return escape(str(told))
