"""Who had a hand in a paper and in the bench work, and when two typed names may be the same person's."""

from __future__ import annotations

import re
import unicodedata

from rigcalc.desk.folder import Desk, one_person
from rigcalc.errors import Refusal

AGREED = "agreed that it was marked again"
HEARD = "decided on an appeal"

__all__ = ["also_did", "hands_on", "markers", "marking_in_words", "maybe_same", "no_candidate", "paper_in_words", "refuse_hands",
           "roles_in_words", "roles_of", "who_it_is"]


# Letters of other alphabets that look like ours, and signs that stand inside a name.
_ALIKE = str.maketrans("\u0430\u0435\u043e\u0440\u0441\u0443\u0445\u0456\u0458\u0455\u03b1\u03bf\u03c1\u03bd\u03b9", "aeopcyxijsaopvi", "'\u2019\u02bc`\u00b4")
# Letters that no accent is taken off, and what they are written as; letters and figures that one name is spelled with or that stand for each other.
_PLAIN = str.maketrans({"\u00f8": "o", "\u0153": "o", "\u00e6": "a", "\u0142": "l", "\u0111": "d", "\u00f0": "d", "\u00fe": "th", "\u0131": "i", "\u0127": "h",
                        "y": "i", "j": "i", "0": "o", "1": "l"})
_TITLES = {"mr", "mrs", "ms", "miss", "dr", "prof", "sir", "jr", "sr", "ii", "iii"}
_BEGINS = 3  # letters of a name that may stand for the whole


def _words(name: str) -> list[str]:
    """A name's words: small letters, no accents, apostrophes, dots or hyphens, no titles; `ue` and `ü`, `aa` and `å`, `nn` and `n`, `y` and `j` are one.

    >>> _words("Tamberlin, O."), _words("Mr Siân Müller-O’Neill Jr"), _words("Pål Røstad"), _words("Paal Roestad")
    (['tamberlin', 'o'], ['sian', 'muler', 'oneil'], ['pal', 'rostad'], ['pal', 'rostad'])
    """
    plain = "".join(sign for sign in unicodedata.normalize("NFKD", name.casefold()) if not unicodedata.combining(sign)).translate(_ALIKE)
    words = "".join(sign if sign.isalnum() else " " for sign in plain).split()
    return [_single(re.sub("(?<=[aou])e", "", word.translate(_PLAIN))) for word in words if word not in _TITLES]


def maybe_same(one: str, other: str) -> bool:
    """Whether two names may be one person's: each word of the shorter is, or may stand for, a word of the longer of its own.

    An initial may stand for a word that begins with it, and so may the word's first letters; in any order, for the family name may stand first;
    words left out are no difference, nor are two words written as one.

    >>> maybe_same("O. Tamberlin", "Osk Tamberlin"), maybe_same("tamberlin", "Osk Tamberlin"), maybe_same("I. Hythe", "Ivo Marsden-Hythe")
    (True, True, True)
    >>> maybe_same("Omar Tamberlin", "Osk Tamberlin"), maybe_same("O. Varrow", "Osk Tamberlin"), maybe_same("Ana Marsden", "Ivo Marsden-Hythe")
    (False, False, False)
    """
    mine, yours = _words(one), _words(other)
    shorter, longer = sorted((_joined(mine, yours), _joined(yours, mine)), key=len)
    return bool(shorter) and _matched(shorter, longer)


def _joined(words: list[str], other: list[str]) -> list[str]:
    """A name's words, two neighbours as one where the other name writes them so."""
    at = next((at for at in range(len(words) - 1) if _single(words[at] + words[at + 1]) in other), None)
    return words if at is None else [*words[:at], _single(words[at] + words[at + 1]), *words[at + 2:]]


def _single(word: str) -> str:
    """Doubled letters written once."""
    return re.sub(r"(.)\1+", r"\1", word)


def _matched(words: list[str], among: list[str]) -> bool:
    """Whether each word finds one of its own."""
    return not words or any(_stands_for(words[0], one) and _matched(words[1:], [*among[:at], *among[at + 1:]]) for at, one in enumerate(among))


def _stands_for(one: str, other: str) -> bool:
    short, whole = sorted((one, other), key=len)
    return short == whole or whole.startswith(short) and (len(short) == 1 or len(short) >= _BEGINS)


def who_it_is(person: str, other: str) -> str:
    """A person told as another whose name is, or may be, the same.

    >>> who_it_is("Osk Tamberlin", "osk tamberlin"), who_it_is("O. Tamberlin", "Osk Tamberlin")
    ('Osk Tamberlin', 'O. Tamberlin, who may be Osk Tamberlin')
    """
    return person if person.casefold() == other.casefold() else f"{person}, who may be {other}"


def no_candidate(people: list[dict], text: str, role: str) -> str:
    """The name of one person who does something for a class and sits no paper of it.

    Parameters
    ----------
    people : list of dict
        The candidates of the class.
    text : str
        The name as typed.
    role : str
        What is done, as `person marking`.

    Errors
    ------
    Refusal : no first and family name of one person; a name that is, or may be, that of a candidate.
    """
    name = one_person(text, role)
    for one in people:
        if maybe_same(one["name"], name):
            raise Refusal(f"{who_it_is(name, one['name'])}, a candidate of this class, as the {role}", "somebody who sits no paper of this class",
                          "name another person; if two people share that family name, type the whole given name")
    return name


def refuse_hands(hands: dict[str, str], person: str, doing: str) -> None:
    """Refuse a person whose name is, or may be, that of somebody who had a hand in it."""
    for name, did in hands.items():
        if maybe_same(name, person):
            raise Refusal(f"{who_it_is(person, name)}, who {did}, {doing}", "somebody else",
                          "have another person decide; if two people share that family name, type the whole given name")


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
    """Everybody who had a hand in a result, each with what was done: marked, agreed, typed in, settled."""
    typed = result["typed_in"] or {}
    hands = {name.removesuffix(" (typed a second time)"): "typed the paper in" for name in (typed.get("by"), typed.get("second_reader")) if name}
    if typed and (settled := (desk.kept("typed", result["paper_id"]) or {}).get("settled")):
        hands |= {settled["by"]: "settled what was typed in two ways"}
    hands |= {name: "marked the paper again" if again else "marked the paper"
              for name, again in reversed(markers(desk, result["paper_id"]))}
    agreed = dict.fromkeys(_agreed(desk, result["paper_id"]), AGREED)
    return agreed | hands


def _agreed(desk: Desk, paper_id: str) -> list[str]:
    """Who agreed, as a second person, that a paper was marked again."""
    return [entry.body["second"] for entry in desk.register.entries("answers re-marked")
            if entry.body.get("second") and paper_id in entry.body["papers"]]


def roles_of(desk: Desk, found: dict) -> list[tuple[str, str]]:
    """Everything that was done towards one decision, in order, as (what was done, who did it).

    `found` is what `put_forward` gives; the candidate's own part is left out.
    """
    roles: list[tuple[str, str]] = []
    if found["written"]:
        roles += _written_roles(desk, found["written"]["result"])
    if found["hands"]:
        roles.append(("assessed the bench work", found["hands"]["entry"].body["assessor"]))
    return list(dict.fromkeys(roles))


def _written_roles(desk: Desk, result: dict) -> list[tuple[str, str]]:
    paper_id = result["paper_id"]
    return [*(("set the paper", entry.body["set_by"]) for entry in desk.entries("paper issued", paper_id=paper_id)), *_typists(desk, result),
            *(("marked it again" if again else "marked it", name) for name, again in markers(desk, paper_id)),
            *((AGREED, name) for name in _agreed(desk, paper_id)),
            *((HEARD, entry.body["decider"]) for entry in desk.entries("appeal decided", paper_id=paper_id))]


def _typists(desk: Desk, result: dict) -> list[tuple[str, str]]:
    if not result["typed_in"]:
        return []
    kept = desk.kept("typed", result["paper_id"]) or {}
    if "second" not in kept:
        return [("typed it in", result["typed_in"]["by"]), ("read it a second time", result["typed_in"]["second_reader"])]
    alone = kept["second"].get("alone")
    again = f"typed it in a second time, because nobody else could ({alone})" if alone else "typed it in a second time"
    settled = kept.get("settled") or {}
    why = f", because nobody else could ({settled['alone']})" if settled.get("alone") else ""
    return [("typed it in", kept["first"]["by"]), (again, kept["second"]["by"]),
            *([(f"settled where the typings differ{why}", settled["by"])] if settled.get("differences") else [])]


def roles_in_words(desk: Desk, found: dict) -> str:
    """Who did what towards one decision: `Ines Varrow set the paper; Osk Tamberlin marked it, assessed the bench work`."""
    return _by_name(roles_of(desk, found))


def paper_in_words(desk: Desk, result: dict) -> str:
    """Who did what with one written paper, as `roles_in_words` says it of a decision."""
    return _by_name(_written_roles(desk, result))


def _by_name(roles: list[tuple[str, str]]) -> str:
    by_name: dict[str, list[str]] = {}
    for did, name in dict.fromkeys(roles):
        by_name.setdefault(name, []).append(did)
    return "; ".join(f"{name} {', '.join(did)}" for name, did in by_name.items())


def also_did(desk: Desk, found: dict, decider: str) -> list[str]:
    """What whoever decides has done towards the same decision; empty where the decider is somebody else throughout."""
    return [did for did, name in roles_of(desk, found) if maybe_same(name, decider)]
