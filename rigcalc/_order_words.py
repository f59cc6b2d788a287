"""The words of an order that name refused work, moving work, or people in reach, whatever its answers say."""

from __future__ import annotations

import re

from rigcalc.errors import Refusal

__all__ = ["MAST_WORDS", "refuse_words", "refuse_against_answers"]


def _words(*parts: str) -> re.Pattern:
    """Any of these as whole words, in either case."""
    return re.compile(rf"\b(?:{'|'.join(parts)})\b", re.IGNORECASE)


# Work named in plain words that is refused whatever class the order claims (trade rule: no override).
_CARRIED = (
    r"(?<!gate )(?<!gate that )(?<!door )(?:swing|swings|swinging|swung)(?![ -](?:gate|door)s?\b)", r"hammocks?", r"trapezes?",
    r"climb(?:s|ed|ing|ers?)?(?! (?:plant|rose|bean|vine|pea|hydrangea)s?\b)", r"(?:pull|chin)[ -]?ups?", r"playgrounds?", r"play (?:rope|net|frame|tower|equipment)s?", r"harness\w*", r"zip[ -]?lin(?:es?|ing)",
    r"fall[ -](?:arrest|restraint|protection)", r"safety[ -](?:line|rope|wire|cable|net|rail)s?", r"life[ -]?lines?", r"acrobat\w*", r"aerialists?",
    r"aerial (?:silks?|hoops?)", r"circus", r"stunts?", r"bungees?", r"abseil\w*", r"belay\w*", r"tight[ -]?ropes?", r"slack[ -]?lines?",
    r"high[ -]wires?", r"rope (?:bridge|ladder|walk|course)s?", r"monkey bars?", r"gym|gymnas\w*", r"(?:bosun|boatswain)\S* chairs?",
    r"(?:hang|hung|hanging|suspended|floating|egg) (?:\w+ )?(?:bed|cot|cradle|chair|seat|bench|sofa|platform|walkway|bridge)s?",
    r"guard[ -]?(?:rail|wire|cable|line|rope)s?", r"rides?|riders?|riding")
_LIFTED = (
    r"hoist\w*", r"lift(?:s|ed|ing)?", r"slings?|slinging", r"winch\w*", r"raise|raises|raising",
    r"raised(?! (?:\w+ )?(?:bed|bench|planter|border|deck|floor)(?:s|es)?\b)",
    r"(?:pull|haul|heave|winch)(?:s|ed|d|ing)? (?:\S+ ){0,4}?(?:up|out)", r"hauling|heaving", r"lowering|lowered",
    r"(?:hang|hangs|hung|hanging|suspend(?:s|ed|ing)?|holds?) (?:up )?(?:\w+ ){0,2}(?:engine|motor|car|vehicle)s?",
    r"cranes?", r"davits?", r"block and tackle", r"elevators?", r"dumb[ -]?waiters?")
_TRAVELS = (r"air(?:craft|planes?)|aeroplanes?|helicopters?|gliders?", r"microlights?|ultralights?|parachut\w*", r"tow(?:s|ed|ing)?",
            r"brake (?:cable|wire)s?", r"clutch (?:cable|wire)s?", r"throttle (?:cable|wire)s?")
# Old work that a new sleeve would make look new.
_USED_AGAIN = (r"re-?us(?:e|es|ed|ing)", r"second[ -]?hand", r"re-?(?:terminat|sleev|press)\w*", r"press(?:ed)? again",
               r"new (?:sleeve|end|eye)s? (?:on|onto|for|to) (?:\w+ ){0,2}?(?:old|used)", r"(?:old|used) (?:\w+ )?(?:cable|wire|stay|rope|sleeve|eye|assembl)\w*")
REFUSED_WORDS = _words(*_CARRIED, *_LIFTED, *_TRAVELS)
_LIFTED_WORDS, _TRAVEL_WORDS, _USED_WORDS = _words(*_LIFTED), _words(*_TRAVELS), _words(*_USED_AGAIN)
# Work that takes the place of old work is new work.
_INSTEAD = _words(r"(?:replac(?:e|es|ed|ing|ement)|instead of|in place of)(?: (?:for|of))? (?:\w+ ){0,3}?(?:old|used) \w+")
_CRACKING = _words(r"swimming[ -]?(?:pool|bath)s?", r"pool[ -]?(?:hall|house)s?", r"indoor pools?", r"leisure pools?", r"over (?:\w+ )?pools?(?! table)",
                   r"chlorin\w+", r"hot tubs?", r"whirlpools?")
MAST_WORDS = _words(r"masts?", r"antennas?|aerials?", r"flag[ -]?poles?", r"chimneys?")
# Refused in what the cable is for; a place may be named after them.
REFUSED_PURPOSE = _words(r"(?:seat|chair)s?", r"hand[ -]?(?:rail|line)s?", r"balustrades?|banisters?|railings?")
_BESIDE = _words(r"(?:above|over|behind|beside|near|under|past|next to) (?:\w+ ){0,3}?(?:seat|chair|railing|balustrade|handrail|banister)s?")
# A place that is only named after a thing: 'behind the sling store'.
_NAMED_AFTER = _words(r"(?:slings?|winch|tow|harness|aircraft|aeroplane|airplane|glider|crane) (?:store|shed|house|shop|rack|cupboard|hangar|museum)s?")
# What is not static, and what has people in reach, whatever the order says.
MOVING_WORDS = _words(
    r"(?:dog|goat|horse|pony|cow|bull|animal)[ -](?:run|runner|line|lead|leash|tether|tie[ -]?out)s?", r"tether(?:s|ed|ing)?", r"leash(?:es)?",
    r"run for (?:\w+ ){0,2}dogs?", r"pulleys?", r"(?:punch|punching|boxing) ?bags?", r"garage doors?", r"counter[ -]?weights?")
_PERSON = (r"audiences?", r"spectators?", r"people", r"persons?", r"visitors?", r"children|child", r"kids?", r"bab(?:y|ies)", r"guests?",
           r"diners?", r"customers?", r"pupils?", r"students?", r"crowds?", r"the public", r"pedestrians?", r"passers-by", r"workers?",
           r"actors?", r"dancers?", r"performers?", r"congregation", r"passengers?")
_PLACE = (r"seats?|seating", r"chairs?", r"(?:\w+ )?tables?", r"walkways?", r"streets?", r"roads?", r"lanes?", r"stages?", r"(?:foot)?paths?",
          r"pavements?|sidewalks?", r"doorways?|entrances?", r"desks?", r"counters?", r"cots?|cribs?|prams?", r"dance ?floors?", r"aisles?",
          r"corridors?", r"stairs?|staircases?|stairwells?", r"foyers?|lobb(?:y|ies)", r"classrooms?", r"markets?", r"terraces?|patios?",
          r"courtyards?", r"doors?", r"shop ?fronts?", r"bars?", r"pews?", r"halls?", r"arenas?", r"bleachers", r"car parks?|parking", r"pools?", r"workbench(?:es)?")
_OVER = _words("above", "over", "overhead")
_UNDER = _words("below", "beneath", "under", "underneath")
_SOMEBODY = _words(*_PERSON, *_PLACE)
_PERSONS = _words(*_PERSON)
_FOR_PEOPLE = re.compile(rf"\b(?:audience|spectators?|crowds?|congregation|people|persons?|chandeliers?|(?:disco|mirror) balls?|(?:for|holds?|holding|carry|carries|carrying) (?:\w+ ){{0,2}}?"
                         rf"(?:{'|'.join(_PERSON)}))\b", re.IGNORECASE)


_STATIC = "static work: never lifting, people carried or held, aircraft, lifts, vehicles or towing"
_ASK = "ask a qualified rigger or engineer for that kind of work"
_LIFT_WHY = ("a hand-pressed light assembly is no lifting sling, whatever the sum says: a lift needs made, tagged and proof-tested slings "
             "and somebody qualified for that lift")
_TRAVEL_WHY = "an aircraft or a vehicle has approved data and parts of its own, and its maker or mechanic works to them"
_LIFE_WHY = ("people's lives hang on it and the load is not static, often many times their weight: it takes a designer and the codes "
             "for that equipment")


def refuse_words(what: str, where: str) -> None:
    """Refuses an order whose own words name lifting, people carried or held, aircraft, vehicles, or old cable used again."""
    found = _refused(what, where)
    if found:
        why = _LIFT_WHY if _LIFTED_WORDS.search(found) else _TRAVEL_WHY if _TRAVEL_WORDS.search(found) else _LIFE_WHY
        raise Refusal(f"an order that speaks of '{found}'", _STATIC, f"{_ASK}: {why}")
    used = _USED_WORDS.search(_INSTEAD.sub("", what))
    if used:
        raise Refusal(f"an order that speaks of '{used.group()}'", "new cable with new sleeves",
                      "order new pieces: cable that has worked gets no new sleeve, a sleeve that has carried load is never pressed "
                      "again, and what nobody knows the history of is scrap; for the old piece ask whoever designed what it holds")


def _refused(what: str, where: str) -> str:
    """The first words of an order that name refused work; '' when none does."""
    where = _NAMED_AFTER.sub("", where)
    found = REFUSED_WORDS.search(what) or REFUSED_WORDS.search(where) or REFUSED_PURPOSE.search(_BESIDE.sub("", what))
    return found.group() if found else ""


def refuse_against_answers(what: str, where: str, use: str, movement: str | None, service: str | None) -> None:
    """Refuses an order whose words say that it moves, that people can be there, or that pool air gets at it, against its answers."""
    words = f"{what}; {where}"
    moving = MOVING_WORDS.search(words)
    if moving and movement == "none":
        raise Refusal(f"the movement none together with '{moving.group()}'", "moves or shock, with a named designer's factor and load",
                      "enter --movement moves, or shock, and ask a named designer")
    _refuse_alone(what, words, use)
    pool = _CRACKING.search(words)
    if pool and service not in (None, "immersed"):
        raise Refusal(f"the service {service} together with '{pool.group()}'", "the service immersed, where a pool hall's air counts as immersed",
                      "enter --service immersed: in chlorinated air stainless cable can crack under stress with no rust to be seen; "
                      "ask an engineer who knows pool buildings")


def _refuse_alone(what: str, words: str, use: str) -> None:
    """Refuses the class nobody where the order's own words put people there."""
    somebody = (_FOR_PEOPLE.search(words) or MAST_WORDS.search(what) or _OVER.search(words) and _SOMEBODY.search(words)
                or _UNDER.search(words) and _PERSONS.search(words))
    if use == "nobody" and somebody:
        raise Refusal(f"the use nobody together with '{words.strip('; ')}'", "words and use that agree",
                      "people can be there: enter --use people with the named designer's factor and load")
