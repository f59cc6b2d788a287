"""Every question family worked once, for reading and for comparing: what is asked, the key, what each answer receives."""

from __future__ import annotations

import re
from html import escape
from typing import TYPE_CHECKING, Any

from rigcalc.notebook.form import first_stream, static_text, where_words
from rigcalc.notebook.lesson import Block, opening_lines
from rigcalc.notebook.teaching import STANDS_IN, draw_for_teaching, shop_for_teaching
from rigcalc.questions import Stream, compose, draw, load_families, mark, read_answer
from rigcalc.questions.typed import misstep_typed, right_typed, slips_of
from rigcalc.skills import skill

if TYPE_CHECKING:
    from rigcalc.questions import Family
    from rigcalc.shop import Shop

__all__ = ["drawn", "standing", "worked"]

_DRAWN = b"the draws that a trainer looks at"


def _answers(question: dict[str, Any], key: dict[str, Any]) -> list[Any]:
    """The right answer first, then one for each misstep, then what else is told apart, and none at all."""
    typed = [right_typed(question, key), *(misstep_typed(question, key, slip, box) for _, box, slip in slips_of(key))]
    if question["kind"] == "number" and question["accept"] not in ([""], ["deg"]):  # a bare angle is read as degrees
        right = typed[0]
        typed.append(right.split()[0] if " " in right else "360")
    if question["kind"] in ("match", "sheet"):  # a line left empty
        typed.append([*typed[0][:-1], ""])
    return [*typed, [] if isinstance(typed[0], list) else ""]


def _received(question: dict[str, Any], key: dict[str, Any], typed: Any) -> tuple[str, str, str, str]:
    told, reading = mark(key, question, typed), read_answer(question, typed)
    shown = ", ".join(one or "(empty)" for one in typed) if isinstance(typed, list) else typed
    read = reading["shown"] if reading["ok"] else "not read"
    return shown or "(nothing)", read, "right" if told["right"] else ", ".join(told["missteps"]) or "wrong", told["feedback"]


def standing() -> Block:
    """The chart that the examples are worked with, and whether the shop is invented or stands in for another."""
    shop, note = shop_for_teaching()
    return opening_lines(shop.chart_line(), shop.invented, note)


def worked(family_id: str) -> Block:
    """One family's fixed first instance with its working, its key, and what each answer receives."""
    family = load_families()[family_id]
    stream = first_stream(family_id)
    instance, _, stood_in = draw_for_teaching(family, stream, shop_for_teaching()[0])
    question, key = compose(instance, stream, 1)
    hangs = skill(family.skill)
    facts = [f"Skill {hangs.number}: {hangs.sentence}",
             f"Kind: {family.kind}. Level {family.level}. About {family.minutes:g} minutes. Read: {where_words(family.section)}."
             + (" Must be right on a paper." if hangs.must_be_right else "")]
    if stood_in:
        facts.insert(0, f"INVENTED: your shop has nothing that this question can ask about, so the {STANDS_IN} stands here.")
    asked, rest, head, rows = _told(question, key)
    lines = [f"{family.id}, version {family.version}", *facts, "", *asked, "", *rest, "", " | ".join(head),
             *(" | ".join(row) for row in rows)]
    return Block(_html(f"{family.id}, version {family.version}", facts, asked, rest, head, rows), "\n".join(lines))


def _told(question: dict[str, Any], key: dict[str, Any]) -> tuple[list[str], list[str], tuple[str, ...], list[tuple[str, ...]]]:
    """What is asked, what stands in the key, and what each answer receives."""
    asked = static_text(question, "The question").splitlines()
    rest = [f"Hint: {key['hint']}", f"Working: {key['working']}", f"Right: {key['right']['shown']}"]
    return asked, rest, ("Typed", "Read as", "Marked", "Said"), [_received(question, key, typed) for typed in _answers(question, key)]


def drawn(family: Family, shop: Shop, count: int = 3) -> str:
    """Some draws of one family as text: question, options, hint, working, right answer, and what each answer receives.

    Raises Refusal where the shop has nothing that the family can ask about.
    """
    parts = []
    for number in range(1, count + 1):
        stream = Stream(_DRAWN, f"{family.id}/{number}")
        question, key = compose(draw(family, stream, shop), stream, 1)
        asked, rest, head, rows = _told(question, key)
        received = [f"  {typed}  ->  {marked}: {told}" for typed, _, marked, told in rows]
        parts.append("\n".join([f"{family.id}, version {family.version}, draw {number} of {count}", "-" * 60, *asked[1:], "", *rest, *_unstated(question, key), "",
                                "What each answer receives:", *received]))
    return "\n\n\n".join(parts) + "\n"


def _unstated(question: dict[str, Any], key: dict[str, Any]) -> list[str]:
    """A remark on a working that does not end in the right answer: nothing else compares the two."""
    figure = re.match(r"[0-9][0-9.]*", key["right"]["shown"] or "")
    if question["kind"] != "number" or figure is None or re.search(rf"(?<![0-9.]){re.escape(figure[0])}(?![0-9]|\.[0-9])", key["working"]):
        return []
    return [f"LOOK: the working does not state the right answer, {key['right']['shown']}: read it again."]


def _html(title: str, facts: list[str], asked: list[str], rest: list[str], head: tuple, rows: list[tuple]) -> str:
    def row(cells: tuple, tag: str) -> str:
        return "<tr>" + "".join(f"<{tag}>{escape(cell)}</{tag}>" for cell in cells) + "</tr>"

    said = "".join(f"<p>{escape(line)}</p>" for line in facts)
    question = "<br>".join(escape(line) for line in asked[1:])
    told = "".join(f"<p>{escape(line)}</p>" for line in rest)
    table = f"<table><thead>{row(head, 'th')}</thead><tbody>{''.join(row(one, 'td') for one in rows)}</tbody></table>"
    return f"<section><h3>{escape(title)}</h3>{said}<blockquote>{question}</blockquote>{told}{table}</section>"
