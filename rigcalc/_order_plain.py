"""Texts of an order in which every word is known to speak of things alone, so that none of the long lists need be read for them.

Whoever adds a word runs `tests/test_order_plain.py`: it reads the same words by the long lists.
"""

from __future__ import annotations

import re

__all__ = ["known_sentence", "only_things", "says_nothing_refused"]

_BETWEEN_WORDS = re.compile(r"(?:[\s,;:.()-]|(?<![a-z])[0-9]+(?![a-z]))+")  # a figure stands alone: a 4x4 is a vehicle
# Words that say something else by themselves: any other bench may be sat on, a boat worked, whoever gets over it carried.
_HARMLESS = re.compile(r"\bplant bench(?:es)?\b|\bhall of a boat museum\b|\bhung mid-span\b|\bfrom getting lost\b")
_OVER_PEOPLE = re.compile(r"\b(?:over|above) (?:people|visitors|guests|passers-by)\s*$")
_OTHER_SENSE = re.compile(r"\b(?:cable|wire)s?\W+(?:wire|cable|vine|machine)|4\W*x\W*4")  # a machine to train at, a plant to swing on, a vehicle

_SMALL_WORDS = "a an the of on in at to for by with and or between from over above under near beside behind along across without x ft in m mm cm both each one two three four"
_WORK = ("brace braces bridle cable cables wire wires line lines span mid end ends eye eyes pin pins hook hooks leg legs left right upper top long short small large big new plain thin wooden timber brick stone steel oak iron zinc stainless "
         "sagging show that keep keeps")
_THINGS = ("gate gates fence fences post posts trellis trellises espalier espaliers cordon cordons rose roses ivy vine vines grapevine grapevines wisteria clematis honeysuckle jasmine hops beans peas plant plants machine machines plum plums pear pears "
           "apple apples tree trees shrub shrubs curtain curtains shade cloth lamp lamps lantern lanterns sign signs lid lids cover covers tool tools lanyard lanyards row rows door doors window windows kayak")
_PLACES = "field fields lane harbour yard boatyard courtyard hill farm garden gardens orchard vineyard barn shed wall walls glasshouse greenhouse polytunnel workshop sawmill storehouse hall corner side south north east west facing"
# Whole sentences on who is near it, fits it, gave its load, or why a size was chosen, as the invented sample has them: in others the same words may put somebody on it.
_TOLD = frozenset((
    "nobody: fenced off, chained and locked; if it lets go, the gate only sags", "nobody: it can only drop on the plant benches", "wear and livestock", "want of a reel of 5/32 in the shop", "visitors walk below", "people walk below", "pin to pin", "ines varrow",
    "the farmer", "the farmer, who weighed and measured the gate", "the gardener", "the gardener, who weighed the curtain", "the museum's fitter", "the museum, which weighed the kayak", "the town council",
    "the town council, which weighed the lantern and measured the lane"))

_ONLY_THINGS = frozenset(f"{_SMALL_WORDS} {_WORK} {_THINGS} {_PLACES}".split()) | {""}


def only_things(*texts: str) -> bool:
    """Whether what is ordered, and where, is told in words of things alone: nobody, nothing that moves and nothing that a body does."""
    return all(_ONLY_THINGS.issuperset(_BETWEEN_WORDS.split(_HARMLESS.sub("plant", text.lower()))) and not _OTHER_SENSE.search(text.lower()) for text in texts)


def says_nothing_refused(what: str, where: str) -> bool:
    """The same, where it may hang over people besides: nobody is on it for that."""
    return only_things(what, _OVER_PEOPLE.sub("", where.lower()))


def known_sentence(text: str) -> bool:
    """Whether a sentence on who is near it, fits it or gave its load is one of those that say nothing of anybody on it."""
    return text.strip().lower() in _TOLD
