"""The words of an order read for refused work, moving work, pool air, or people in reach, whatever its answers say."""

from __future__ import annotations

import re

from rigcalc import _order_terms as terms
from rigcalc._order_bodies import borne, leaned_on, somebody_named
from rigcalc._order_clauses import beside_it, by_whom, caught, on_it, without_those_beside
from rigcalc._order_plain import known_sentence, only_things, says_nothing_refused
from rigcalc.errors import Refusal

__all__ = ["ASK_LIFE", "ASK_LIFTING", "STATIC_ONLY", "beside_plain", "can_tighten", "is_mast", "is_plain", "refuse_against_answers", "refuse_beside", "refuse_noted", "refuse_words", "says_nobody", "somebody_near", "speaks_of_load", "takes_up"]

_NOBODY = r"(?:nobody|no[ -]one)(?:\s*:\s*(.*?))?\.?"
# Whoever wished for a size is on nothing by that.
_WISHED = re.compile(r"\b(?:(?:the|our|my|their) )?\w+ (?:wants?|wanted|wish(?:es|ed)?|ask(?:s|ed)|prefers?|preferred|likes?|liked|chose|orders?|ordered)\b|\b(?:our|my|your|their) (?:own )?(?:stock|shop|store|reels?|rules?|orders?|numbers?|bench|usual)\b", re.IGNORECASE)
_IN_LINE = re.compile(r"\b(?:shackles?|links?|carabiners?|snap ?hooks?|swivels?|chains?)\b", re.IGNORECASE)
STATIC_ONLY = "static work: never lifting, people carried, held or kept from a fall, aircraft, lifts, vehicles or towing"
_ASK = "ask a qualified rigger or engineer for that kind of work"
_LIFT_WHY = ("a hand-pressed light assembly is no lifting sling, whatever the sum says: a lift needs made, tagged and proof-tested slings "
             "and somebody qualified for that lift")
_TRAVEL_WHY = "an aircraft or a vehicle has approved data and parts of its own, and its maker or mechanic works to them"
_LIFE_WHY = ("people's lives hang on it and the load is not static, often many times their weight: it takes a designer and the codes "
             "for that equipment")

ASK_LIFE, ASK_LIFTING = f"{_ASK}: {_LIFE_WHY}", f"{_ASK}: {_LIFT_WHY}; {_TRAVEL_WHY}"


def refuse_words(what: str, where: str) -> None:
    """Refuses an order whose own words name lifting, people carried, held or guarded, aircraft, vehicles, or old cable used again."""
    if says_nothing_refused(what, where):
        return
    found = _refused(terms.HONEST.sub("", what), terms.HONEST.sub("", where))
    if found:
        why = _LIFT_WHY if terms.LIFTED.search(found) else _TRAVEL_WHY if terms.TRAVELS.search(found) else _LIFE_WHY
        raise Refusal(f"an order that speaks of '{found}'", STATIC_ONLY, f"{_ASK}: {why}")
    used = terms.USED.search(terms.INSTEAD.sub("", what))
    if used:
        raise Refusal(f"an order that speaks of '{used.group()}'", "new cable with new sleeves",
                      "order new pieces: cable that has worked gets no new sleeve, a sleeve that has carried load is never pressed "
                      "again, and what nobody knows the history of is scrap; for the old piece ask whoever designed what it holds")


def refuse_beside(*told: str) -> None:
    """Refuses an order whose other sentences, on who is near it, fits it or gave its load, say that somebody hangs on it or is lifted by it."""
    for text in told:
        if known_sentence(text):
            continue
        plain = terms.WITHOUT_HARM.sub("", terms.HONEST.sub("", text))
        found = terms.ON_IT.search(plain) or terms.HELD_BACK.search(plain) or terms.WORKED.search(plain)
        said = found.group() if found else caught(text) or borne(text) or by_whom(text)
        if said:
            raise Refusal(f"'{said}' in '{text[:100]}'", STATIC_ONLY, ASK_LIFE)


def refuse_noted(*notes: str) -> None:
    """Refuses an order whose number, reason for a size or wanted life, which stand on the sheet and the tag, speak of what its own words may not."""
    for note in notes:
        if not known_sentence(note) and not only_things(note):
            refuse_words(note, "")
            refuse_beside(note)
            said = somebody_named(_WISHED.sub("", note), "")
            if said:
                raise Refusal(f"a note for the sheet that speaks of '{said}'", "an order number, a reason for a size and a wanted life that speak of things alone",
                              "write it without them; who is near it or on it is told where the order asks that")


def _refused(what: str, where: str) -> str:
    """The first words of an order that name refused work; '' when none does."""
    what, where = without_those_beside(what), without_those_beside(terms.NAMED_AFTER.sub("", where))
    found = (terms.REFUSED.search(what) or terms.REFUSED.search(where) or terms.PURPOSE.search(terms.BESIDE.sub("", what))
             or terms.VEHICLE.search(terms.NAMED_AFTER.sub("", what)) or terms.VEHICLE.search(terms.BY_VEHICLE.sub("", where)))
    return found.group() if found else on_it(what) or caught(what) or caught(where) or _on_a_body(what) or _on_a_body(where)


def _on_a_body(text: str) -> str:
    """The words by which a body's weight, fall, grip or balance comes onto it; '' where there are none."""
    return borne(text) or leaned_on(text)


def refuse_against_answers(what: str, where: str, use: str, movement: str | None, service: str | None, held: str | None = None) -> None:
    """Refuses an order whose words say that it moves, that people can be there, or that pool air gets at it, against its answers."""
    plain = terms.HONEST.sub("", f"{what}; {where}")
    back = terms.HELD_BACK.search(plain)
    if back and held is not None:
        raise Refusal(f"the answer {held} on who is held by it together with '{back.group()}'", STATIC_ONLY, ASK_LIFE)
    moving = terms.SHAKEN.search(plain) or terms.MOVING.search(plain) or terms.AFLOAT.search(terms.NAMED_AFTER.sub("", plain)) or terms.AFLOAT.search(terms.NAMED_AFTER.sub("", where))
    if moving and movement == "none":
        raise Refusal(f"the movement none together with '{moving.group()}'", "moves or shock, with a named designer's factor and load",
                      "enter --movement moves, or shock, and ask a named designer")
    somebody = _somebody(what, where, plain) if use == "nobody" else ""
    if somebody:
        raise Refusal(f"the use nobody together with '{somebody}'", "words and use that agree",
                      "people can be there: enter --use people with the named designer's factor and load")
    pool = terms.CRACKING.search(plain)
    if pool and service not in (None, "immersed"):
        raise Refusal(f"the service {service} together with '{pool.group()}'",
                      "the service immersed, where the air of a pool, bath or spa counts as immersed",
                      "enter --service immersed: in chlorinated air stainless cable can crack under stress with no rust to be seen, and zinc does not last; "
                      "ask an engineer who knows pool buildings")


def _somebody(what: str, where: str, plain: str) -> str:
    """The very words that put people under it, beside it or in its fall; '' where none do."""
    if terms.GARDEN.search(plain) and not terms.FURNISHING.search(what):
        plain = re.sub(r"\bbeds?\b", "", plain)
    found = terms.PERSONS.search(plain) or terms.OVERHEAD.search(plain) or terms.ASKS_PEOPLE.search(plain)
    if found:
        return found.group()
    return (not only_things(plain) and beside_it(plain) or _mast(what, where) or _where_people_are(what, plain) or _together(terms.OVER, terms.SOMEBODY, plain)
            or _together(terms.ACROSS, terms.WAYS, plain) or _together(terms.WAYS, terms.UNDER_IT, plain))


def _together(first: re.Pattern, second: re.Pattern, plain: str) -> str:
    """Two words that say it only together, as 'over' and 'table'; '' where one of them is wanting."""
    one, other = first.search(plain), second.search(plain)
    return f"{one.group()}' and '{other.group()}" if one and other else ""


def _where_people_are(what: str, plain: str) -> str:
    """The word for a place that people use, for more than plants, a fence or a pin; a ceiling without a word on its room is one."""
    if terms.EMPTY.search(plain):
        return ""
    crowded = terms.CROWDED.search(plain)
    if crowded:
        return crowded.group()
    ceiling = terms.CEILING.search(plain)
    used = terms.ROOMS.search(plain) or terms.PLACES.search(plain) or terms.CRACKING.search(plain)
    if used and (terms.HUNG.search(plain) or not terms.MODEST.search(what)):
        return used.group()
    return ceiling.group() if ceiling else ""


def is_plain(what: str, where: str = "") -> bool:
    """Whether it names work that is known here as harmless in itself, plants, fences, gates, covers, small keepers, and no person and nothing that only a body does."""
    return terms.PLAIN.search(what) is not None and not somebody_named(what, where)


def beside_plain(what: str, where: str = "") -> str:
    """The word for a person or a body's act beside work that is harmless in itself; '' where there is none of the two."""
    return somebody_named(what, where) if terms.PLAIN.search(what) else ""


def is_mast(what: str, where: str) -> bool:
    """Whether it stays something tall that can fall: a mast, tower, turbine, flagstaff or chimney."""
    return bool(_mast(what, where))


def _mast(what: str, where: str) -> str:
    """The word for the tall thing that it stays; '' where it stays none."""
    found = terms.MASTS.search(what) or terms.STAYED.search(what) and terms.MASTS.search(where)
    return found.group() if found else ""


def says_nobody(near: str) -> bool:
    """'Nobody' or 'no one', and after a colon a reason that names no person and no time; nothing else."""
    return re.fullmatch(_NOBODY, near.strip(), re.IGNORECASE) is not None and not somebody_near(near)


def somebody_near(near: str) -> str:
    """The word that names a person or a time; '' where there is none."""
    reason = re.fullmatch(_NOBODY, near.strip(), re.IGNORECASE)
    text = (reason[1] or "") if reason else near
    plain = re.sub(r"\b(?:nobody|no[ -]one)\b", "", text, flags=re.IGNORECASE)
    found = terms.NEAR_SOMEBODY.search(plain) or terms.SOMEBODY.search(terms.HONEST.sub("", plain)) or re.fullmatch(r"(?:only |just )?[A-Z]\w+", plain.strip(" .,;:"))
    return found.group() if found else ""


def takes_up(fittings: str | None) -> str:
    """The fitting whose length comes to that of the cable, as the order names it; '' where none does."""
    found = _IN_LINE.search(fittings or "") or terms.TIGHTENERS.search(fittings or "")
    return found.group() if found else ""


def can_tighten(fittings: str | None, what: str | None) -> str:
    """The fitting that can tighten, as the order names it; '' where none does."""
    found = terms.TIGHTENERS.search(terms.HONEST.sub("", f"{fittings or ''}; {what or ''}"))
    return found.group() if found else ""


def speaks_of_load(what: str) -> str:
    """The words by which a ring would carry something; '' where it only closes."""
    found = terms.LOADS.search(what)
    return found.group() if found else ""
