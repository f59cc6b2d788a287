"""The words of an order read for refused work, moving work, pool air, or people in reach, whatever its answers say."""

from __future__ import annotations

import re

from rigcalc import _order_terms as terms
from rigcalc.errors import Refusal

__all__ = ["can_tighten", "is_mast", "refuse_against_answers", "refuse_words", "says_nobody", "speaks_of_load"]

_STATIC = "static work: never lifting, people carried, held or kept from a fall, aircraft, lifts, vehicles or towing"
_ASK = "ask a qualified rigger or engineer for that kind of work"
_LIFT_WHY = ("a hand-pressed light assembly is no lifting sling, whatever the sum says: a lift needs made, tagged and proof-tested slings "
             "and somebody qualified for that lift")
_TRAVEL_WHY = "an aircraft or a vehicle has approved data and parts of its own, and its maker or mechanic works to them"
_LIFE_WHY = ("people's lives hang on it and the load is not static, often many times their weight: it takes a designer and the codes "
             "for that equipment")


def refuse_words(what: str, where: str) -> None:
    """Refuses an order whose own words name lifting, people carried, held or guarded, aircraft, vehicles, or old cable used again."""
    found = _refused(terms.HONEST.sub("", what), terms.HONEST.sub("", where))
    if found:
        why = _LIFT_WHY if terms.LIFTED.search(found) else _TRAVEL_WHY if terms.TRAVELS.search(found) else _LIFE_WHY
        raise Refusal(f"an order that speaks of '{found}'", _STATIC, f"{_ASK}: {why}")
    used = terms.USED.search(terms.INSTEAD.sub("", what))
    if used:
        raise Refusal(f"an order that speaks of '{used.group()}'", "new cable with new sleeves",
                      "order new pieces: cable that has worked gets no new sleeve, a sleeve that has carried load is never pressed "
                      "again, and what nobody knows the history of is scrap; for the old piece ask whoever designed what it holds")


def _refused(what: str, where: str) -> str:
    """The first words of an order that name refused work; '' when none does."""
    where = terms.NAMED_AFTER.sub("", where)
    found = (terms.REFUSED.search(what) or terms.REFUSED.search(where) or terms.PURPOSE.search(terms.BESIDE.sub("", what))
             or terms.VEHICLE.search(terms.NAMED_AFTER.sub("", what)) or terms.VEHICLE.search(terms.BY_VEHICLE.sub("", where)))
    return found.group() if found else ""


def refuse_against_answers(what: str, where: str, use: str, movement: str | None, service: str | None) -> None:
    """Refuses an order whose words say that it moves, that people can be there, or that pool air gets at it, against its answers."""
    plain = terms.HONEST.sub("", f"{what}; {where}")
    moving = terms.MOVING.search(plain) or terms.AFLOAT.search(terms.NAMED_AFTER.sub("", plain)) or terms.AFLOAT.search(terms.NAMED_AFTER.sub("", where))
    if moving and movement == "none":
        raise Refusal(f"the movement none together with '{moving.group()}'", "moves or shock, with a named designer's factor and load",
                      "enter --movement moves, or shock, and ask a named designer")
    if use == "nobody" and _somebody(what, where, plain):
        raise Refusal(f"the use nobody together with '{f'{what}; {where}'.strip('; ')}'", "words and use that agree",
                      "people can be there: enter --use people with the named designer's factor and load")
    pool = terms.CRACKING.search(plain)
    if pool and service not in (None, "immersed"):
        raise Refusal(f"the service {service} together with '{pool.group()}'",
                      "the service immersed, where the air of a pool, bath or spa counts as immersed",
                      "enter --service immersed: in chlorinated air stainless cable can crack under stress with no rust to be seen; "
                      "ask an engineer who knows pool buildings")


def _somebody(what: str, where: str, plain: str) -> bool:
    """Whether the words put people under it, beside it or in its fall."""
    if terms.GARDEN.search(plain):
        plain = re.sub(r"\bbeds?\b", "", plain)
    return bool(terms.PERSONS.search(plain) or terms.ASKS_PEOPLE.search(plain) or is_mast(what, where) or _where_people_are(what, plain)
                or terms.OVER.search(plain) and terms.SOMEBODY.search(plain)
                or terms.ACROSS.search(plain) and terms.WAYS.search(plain))


def _where_people_are(what: str, plain: str) -> bool:
    """Whether it is in a place that people use, and more than plants, a fence or a pin; a ceiling without a word on its room is one."""
    if terms.EMPTY.search(plain):
        return False
    used = terms.ROOMS.search(plain) or terms.PLACES.search(plain) or terms.CRACKING.search(plain)
    return bool(terms.CEILING.search(plain) or used and (terms.HUNG.search(plain) or not terms.MODEST.search(what)))


def is_mast(what: str, where: str) -> bool:
    """Whether it stays something tall that can fall: a mast, tower, turbine, flagstaff or chimney."""
    return bool(terms.MASTS.search(what) or terms.STAYED.search(what) and terms.MASTS.search(where))


def says_nobody(near: str) -> bool:
    """'Nobody' or 'no one', and after a colon a reason that names no person and no time; nothing else."""
    said = re.fullmatch(r"(?:nobody|no[ -]one)(?:\s*:\s*(.*?))?\.?", near.strip(), re.IGNORECASE)
    return said is not None and not terms.NEAR_SOMEBODY.search(re.sub(r"\b(?:nobody|no[ -]one)\b", "", said[1] or "", flags=re.IGNORECASE))


def can_tighten(fittings: str | None, what: str | None) -> str:
    """The fitting that can tighten, as the order names it; '' where none does."""
    found = terms.TIGHTENERS.search(terms.HONEST.sub("", f"{fittings or ''}; {what or ''}"))
    return found.group() if found else ""


def speaks_of_load(what: str) -> str:
    """The words by which a ring would carry something; '' where it only closes."""
    found = terms.LOADS.search(what)
    return found.group() if found else ""
