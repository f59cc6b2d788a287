"""Texts of an order in which every word is known to speak of things alone, so that none of the long lists need be read for them.

Whoever adds a word runs `tests/test_order_plain.py`: it reads the same words by the long lists.
"""

from __future__ import annotations

import re

__all__ = ["only_things", "only_told", "says_nothing_refused"]

_BETWEEN_WORDS = re.compile(r"[\s\d,;:.()-]+")
_BETWEEN_TOLD = re.compile(r"(?:['\u2019]s)?[\s\d,;:.()-]+")
_HARMLESS = re.compile(r"\bplant bench(?:es)?\b|\bhall of a boat museum\b")  # any other bench may be sat on, a boat worked
_OVER_PEOPLE = re.compile(r"\b(?:over|above) (?:people|visitors|guests|passers-by)\s*$")
_OTHER_SENSE = re.compile(r"\b(?:cable|wire)s?\W+(?:wire|cable|vine|machine)")  # a machine to train at, a plant to swing on

_SMALL_WORDS = "a an the of on in at to for by with and or between from over above under near beside behind along across without x ft in m mm cm both each one two three four"
_WORK = ("brace braces bridle cable cables wire wires line lines span mid end ends eye eyes pin pins hook hooks leg legs left right upper top long short small large big new plain thin wooden timber brick stone steel oak iron zinc stainless "
         "sagging hung show that keep keeps getting lost")
_THINGS = ("gate gates fence fences post posts trellis trellises espalier espaliers cordon cordons rose roses ivy vine vines grapevine grapevines wisteria clematis honeysuckle jasmine hops beans peas plant plants machine machines plum plums pear pears "
           "apple apples tree trees shrub shrubs curtain curtains shade cloth lamp lamps lantern lanterns sign signs lid lids cover covers tool tools lanyard lanyards row rows door doors window windows kayak")
_PLACES = "field fields lane harbour yard boatyard courtyard hill farm garden gardens orchard vineyard barn shed wall walls glasshouse greenhouse polytunnel workshop sawmill storehouse hall corner side south north east west facing"
# Who is near, fits it or gave its load; with the people of the invented sample.
_TELLING = ("farmer gardener museum fitter council town visitors people nobody ines varrow who which it weighed measured counted lets go off only can drop walk below fenced chained locked sags if gets "
            "a an the of on in at to for by with and gate fence curtain lantern kayak lane harbour plant pin pins")

_ONLY_THINGS = frozenset(f"{_SMALL_WORDS} {_WORK} {_THINGS} {_PLACES}".split()) | {""}
_ONLY_TOLD = frozenset(_TELLING.split()) | {""}


def only_things(*texts: str) -> bool:
    """Whether what is ordered, and where, is told in words of things alone: nobody, nothing that moves and nothing that a body does."""
    return all(_ONLY_THINGS.issuperset(_BETWEEN_WORDS.split(_HARMLESS.sub("plant", text.lower()))) and not _OTHER_SENSE.search(text.lower()) for text in texts)


def says_nothing_refused(what: str, where: str) -> bool:
    """The same, where it may hang over people besides: nobody is on it for that."""
    return only_things(what, _OVER_PEOPLE.sub("", where.lower()))


def only_told(text: str) -> bool:
    """Whether a sentence on who is near it, fits it or gave its load has none of the words by which somebody could hang on it."""
    return _ONLY_TOLD.issuperset(_BETWEEN_TOLD.split(_HARMLESS.sub("plant", text.lower())))
