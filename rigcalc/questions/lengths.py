"""Whether statements have the lengths that a fair choice needs: the right one, or each of several, at every drawn place."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from itertools import combinations
from typing import Any

__all__ = ["Fault", "one_fault", "patterns", "rank", "several_fault"]

Fault = tuple[int, str, str, str]  # which right statement; what is given, what is accepted, what to do
UNFAIR = "statements whose lengths make no fair choice"


def rank(value: Any, shown: str) -> Any:
    """Where an option stands among the others: figures and sizes by size, 'none' last, sentences by length."""
    if isinstance(value, (int, float, Fraction)):
        return (0, Fraction(value), shown)
    try:
        return (0, Fraction(str(value)), shown)
    except (ValueError, ZeroDivisionError):
        return (1, Fraction(len(shown)), shown)


def _said(place: int, count: int) -> str:
    return {0: "the shortest", count - 1: "the longest"}.get(place, f"number {place + 1}, counted from the shortest,")


def one_fault(rights: list[str], wrongs: list[str], place: int, count: int) -> Fault | None:
    """Why no right statement can stand at a place (0 the shortest) of so many options; None where one can.

    >>> one_fault(["Stop"], ["No", "Go on with it"], 2, 3)[1][-64:]
    "'Stop' (4 signs) has 1 shorter and 1 longer wrong ones beside it"
    """
    nearest: tuple[int, Fault] | None = None
    below, above = place, count - 1 - place
    for index, right in enumerate(rights):
        shorter = sum(rank(one, one) < rank(right, right) for one in wrongs)
        longer = sum(rank(one, one) > rank(right, right) for one in wrongs)
        lack = [(max(0, below - shorter), "fewer"), (max(0, above - longer), "more")]
        missing = sum(number for number, _ in lack)
        if not missing:
            return None
        if nearest is None or missing < nearest[0]:
            write = " and ".join(f"{number} more [[wrong]] of {than} than {len(right)} signs" for number, than in lack if number)
            nearest = missing, (index, f"{UNFAIR}: of {count} options the right one is to be {_said(place, count)} in turn, and '{right}' ({len(right)} signs) "
                                f"has {shorter} shorter and {longer} longer wrong ones beside it",
                                "for each place from the shortest to the longest a [[right]] that can stand there; "
                                f"here one with {below} shorter and {above} longer [[wrong]]",
                                f"write {write}, or a [[right]] of another length, or take fewer options")
    return nearest[1] if nearest else None


def patterns(least: int, most: int, count: int) -> Iterable[tuple[bool, ...]]:
    """Every way in which `least` to `most` right ones may stand among so many options, from the shortest to the longest."""
    for right in range(least, most + 1):
        for places in combinations(range(count), right):
            yield tuple(place in places for place in range(count))


def several_fault(rights: list[str], wrongs: list[str], pattern: tuple[bool, ...]) -> Fault | None:
    """Why right and wrong statements cannot stand in this pattern, from the shortest to the longest; None where they can."""
    rows = {right: sorted(texts, key=lambda one: (len(one), one)) for right, texts in ((True, rights), (False, wrongs))}
    last = ""
    for place, right in enumerate(pattern):
        next_one = next((one for one in rows[right] if (len(one), one) > (len(last), last)), None)
        if next_one is None:
            kind, at = "[[right]]" if right else "[[wrong]]", " and ".join(str(number) for number, one in enumerate(pattern, 1) if one)
            after = f"after '{last}' ({len(last)} signs) no longer {kind} is left for number {place + 1}" if last else f"there is no {kind}"
            index = rights.index(last) if last in rights else 0
            return (index, f"{UNFAIR}: of {len(pattern)} options, counted from the shortest, the right ones are to be {at} in turn, and {after}",
                    "short and long ones of both, so that right and wrong ones can stand at every place",
                    f"write one more {kind} of more than {len(last)} signs, or take fewer options")
        last = next_one
    return None
