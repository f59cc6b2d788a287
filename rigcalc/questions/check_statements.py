"""Checking what a family's statements say together: none right and wrong at once, each shown at some time, lengths fair."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

from rigcalc.questions import template
from rigcalc.questions.family import Family, Statement
from rigcalc.questions.lengths import one_fault, patterns, several_fault
from rigcalc.questions.toml_slips import Steps

__all__ = ["check_together", "drawn_rows", "fitting"]

No = Callable[[Steps, str, str, str], None]


def check_together(family: Family, no: No) -> None:
    """Refuse, by `no(steps, given, accepted, do)`, statements that contradict each other, are never shown or tell by their length."""
    _both(family, no)
    if family.answer.topic:
        _topics(family, no)
    else:
        _fits_without_topic(family, no)
    texts = [*family.right, *family.wrong]
    if family.right and not any(template.gaps(one.en) for one in texts):
        _lengths(family, no)


def _plain(text: str) -> str:
    return re.sub(r"\W+", " ", text).strip().casefold()


def _both(family: Family, no: No) -> None:
    for number, wrong in enumerate(family.wrong):
        for at, right in enumerate(family.right, 1):
            together = not wrong.fits or not right.fits or set(wrong.fits) & set(right.fits)
            if together and _plain(wrong.en) == _plain(right.en):
                no(["wrong", number, "en"], f"'{wrong.en}', which stands under [[right]] {at} too", "a statement that is right or wrong, not both",
                   "take it out of one of the two, or tie them to different topics with fits")


def drawn_rows(family: Family, name: str) -> list[dict[str, Any]] | None:
    """The rows of a pool that a value may be drawn from, by what stands in the file; None where it is no row of a pool."""
    one = family.draw.get(name)
    rows = family.pools.get(one.member_of) if one and one.member_of else None
    return None if rows is None else fitting(rows, one.where)


def fitting(rows: list[dict[str, Any]], where: dict[str, Any]) -> list[dict[str, Any]]:
    """The rows that fit what is written in `where`; what is drawn is left out of account."""
    fixed = {field: wanted for field, wanted in where.items() if "$" not in str(wanted)}
    return [row for row in rows if all(row.get(field) in (wanted if isinstance(wanted, list) else [wanted]) for field, wanted in fixed.items())]


def _known_topics(family: Family) -> dict[str, Steps] | None:
    """Each topic that may be drawn and where it stands in the file; None where the file alone does not tell."""
    name, _, field = family.answer.topic[1:].partition(".")
    rows, one = drawn_rows(family, name), family.draw.get(name)
    if rows is not None and field:
        pool = family.pools[one.member_of]
        return {row[field]: ["pools", one.member_of, pool.index(row)] for row in rows if isinstance(row.get(field), str)}
    if one and one.one_of and not field and all(isinstance(value, str) and not value.startswith("$") for value in one.one_of):
        return {value: ["draw", name] for value in one.one_of}
    return None


def _topics(family: Family, no: No) -> None:
    topics = _known_topics(family)
    served = {word for one in family.right for word in one.fits}
    anywhere = any(not one.fits for one in family.right)
    for kind, statements in (("right", family.right), ("wrong", family.wrong)):
        for number, one in enumerate(statements):
            for word in one.fits:
                lost = word not in topics if topics is not None else kind == "wrong" and not anywhere and word not in served
                if lost:
                    no([kind, number, "fits"], f"'{word}', which no {'draw has as its topic' if topics is not None else '[[right]] fits'}",
                       ", ".join(sorted(topics if topics is not None else served)), "mend the word: this statement would never be shown")
    if family.kind == "one choice" and not anywhere:
        for topic, steps in (topics or {}).items():
            if topic not in served:
                no(steps, f"the topic '{topic}', which no [[right]] fits", ", ".join(sorted(served)),
                   f"write a [[right]] with fits = [\"{topic}\"], or mend the word: this would never be asked")


def _fits_without_topic(family: Family, no: No) -> None:
    for kind, statements in (("right", family.right), ("wrong", family.wrong)):
        for number, one in enumerate(statements):
            if one.fits:
                no([kind, number, "fits"], f"'{one.fits[0]}' in a family without a topic", 'fits only where [answer] has a topic = "$..."',
                   "write the topic, or take fits out: this statement would never be shown")


def _lengths(family: Family, no: No) -> None:
    """Statements without gaps always have the same lengths: what no topic allows can never be drawn."""
    topics = _known_topics(family) if family.answer.topic else None
    worlds = list(topics or {word for one in [*family.right, *family.wrong] for word in one.fits}) or [None]

    def there(pool: list[Statement], topic: str | None) -> list[str]:
        return [one.en for one in pool if not one.fits or topic in one.fits]

    pairs = [(there(family.right, topic), there(family.wrong, topic)) for topic in worlds]
    count = family.answer.options
    if family.kind == "one choice":
        wanted = [(one_fault, (place, count)) for place in range(count)]
    else:
        wanted = [(several_fault, (pattern,)) for pattern in patterns(*family.answer.right_options, count)]
    for fault, where in wanted:
        found = [fault(rights, wrongs, *where) for rights, wrongs in pairs if rights]
        if found and None not in found:
            text = next(rights for rights, _ in pairs if rights)[found[0][0]]
            no(["right", [one.en for one in family.right].index(text)], *found[0][1:])
