"""Who had a hand in a paper, and when two typed names may be the same person's."""

from __future__ import annotations

import unicodedata

from rigcalc.desk.folder import Desk

__all__ = ["hands_on", "markers", "marking_in_words", "maybe_same"]


def _words(name: str) -> list[str]:
    """A name's words, the family name last: small letters, no accents, no dots.

    >>> _words("Tamberlin, O."), _words("Tamberlin O.")
    (['o', 'tamberlin'], ['o', 'tamberlin'])
    """
    plain = "".join(sign for sign in unicodedata.normalize("NFKD", name.casefold()) if not unicodedata.combining(sign))
    family, comma, given = plain.partition(",")
    words = (f"{given} {family}" if comma else plain).replace(".", " ").split()
    turned = len(words) > 1 and len(words[-1]) == 1 and len(words[0]) > 1
    return [*words[1:], words[0]] if turned else words


def maybe_same(one: str, other: str) -> bool:
    """Whether two names may be one person's: the same family name, and given names that do not differ.

    An initial may stand for any name that begins with it, and a name left out for any.

    >>> maybe_same("O. Tamberlin", "Osk Tamberlin"), maybe_same("tamberlin", "Osk Tamberlin")
    (True, True)
    >>> maybe_same("Omar Tamberlin", "Osk Tamberlin"), maybe_same("O. Varrow", "Osk Tamberlin")
    (False, False)
    """
    first, second = _words(one), _words(other)
    if not first or not second:
        return False
    if sorted(first) == sorted(second):
        return True
    if first[-1] != second[-1]:
        return len(first) == 1 and first[0] in second or len(second) == 1 and second[0] in first
    return first[:-1] == [] or second[:-1] == [] or _given(first[0], second[0])


def _given(one: str, other: str) -> bool:
    return one[0] == other[0] if 1 in (len(one), len(other)) else one == other


def markers(desk: Desk, paper_id: str) -> list[tuple[str, bool]]:
    """Who marked a paper, the first first, each with whether it was marked again; who decided on an appeal did not mark it."""
    ways = {entry.body["correction"]: entry.body["way"] for entry in desk.register.entries("answers re-marked")}
    found: list[tuple[str, bool]] = []
    known: set[int] = set()
    for number, entry in enumerate(desk.entries("answers marked", paper_id=paper_id)):
        new = set(entry.body["corrections"]) - known
        known |= new
        if number == 0 or not new or any(ways.get(one) != "appeal allowed" for one in new):
            found.append((entry.body["marked_by"], number > 0))
    return found


def marking_in_words(desk: Desk, paper_id: str) -> str:
    """Who marked a paper first, and who marked it again.

    Example: `Marked by Osk Tamberlin; marked again by Ines Varrow.`
    """
    (first, _), *again = markers(desk, paper_id)
    names = list(dict.fromkeys(name for name, _ in again))
    return f"Marked by {first}{'; marked again by ' + ' and '.join(names) if names else ''}."


def hands_on(desk: Desk, result: dict) -> dict[str, str]:
    """Everybody who had a hand in a result, each with what was done: marked, typed in, settled, sat."""
    hands = {name: "marked the paper again" if again else "marked the paper"
             for name, again in reversed(markers(desk, result["paper_id"]))}
    typed = result["typed_in"] or {}
    names = [typed.get("by"), typed.get("second_reader")]
    if typed:
        names.append(((desk.kept("typed", result["paper_id"]) or {}).get("settled") or {}).get("by"))
    hands |= {name.removesuffix(" (typed a second time)"): "typed the paper in" for name in names if name}
    return hands | {result["candidate"]["name"]: "sat the paper"}
