"""An order as it was given, the questions about what is missing, and its facts read into numbers."""

from __future__ import annotations

import re
from dataclasses import dataclass, fields
from datetime import date
from fractions import Fraction

from rigcalc.errors import Refusal
from rigcalc.pairing import SERVICES
from rigcalc.rating import DesignFactor, class_of_use, refuse_temperature, uses
from rigcalc.units import Reading, read_force_n, read_length_mm

__all__ = ["Facts", "MissingFacts", "Order", "WORDS_CHECKED", "open_questions", "read_facts", "refuse_class"]

MOVEMENTS = ("none", "moves", "shock", "swung on")
ENDS = "two thimble eyes"
MEASURED = "pin to pin"
LONGEST_FACT = 300
MOST_PIECES = 1000
LONGEST_MM, SHORTEST_MM = 100_000, 50
WORDS_CHECKED = "The words of the order were checked, but the person who asked answers for the use."


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
REFUSED_WORDS = _words(*_CARRIED, *_LIFTED, *_TRAVELS)
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


@dataclass(frozen=True)
class Order:
    """One order, every fact as the customer or the bench wrote it; None where nobody has said.

    A fact that is None is asked for and never assumed. `sleeve_metal` and `tool` may stay None: the pairing
    table and the charts then choose, where they leave one choice.

    Example
    -------
    >>> Order(length="  500   mm ").length
    '500 mm'
    """

    number: str | None = None
    what: str | None = None
    where: str | None = None
    use: str | None = None
    near: str | None = None
    load: str | None = None
    load_from: str | None = None
    movement: str | None = None
    service: str | None = None
    ends: str | None = None
    length: str | None = None
    measured: str | None = None
    quantity: str | None = None
    tightened: str | None = None
    greatest_tension: str | None = None
    tension_check: str | None = None
    installer: str | None = None
    reel: str | None = None
    sleeve_metal: str | None = None
    tool: str | None = None
    designer: str | None = None
    designer_factor: str | None = None
    designer_load: str | None = None
    designer_date: str | None = None
    sleeve_before: str | None = None
    correction: str | None = None
    temperature: str | None = None

    def __post_init__(self) -> None:
        for field in fields(self):
            value = getattr(self, field.name)
            if value is None:
                continue
            text = " ".join(str(value).split())
            if len(text) > LONGEST_FACT or not text.isprintable():
                raise Refusal(f"the fact {field.name} with {len(text)} signs", f"one line of at most {LONGEST_FACT} signs",
                              "write it shorter and in plain letters")
            object.__setattr__(self, field.name, text or None)


class MissingFacts(Refusal):
    """An order with blanks: `questions` is what to ask, in the order of asking."""

    def __init__(self, questions: tuple[str, ...]) -> None:
        self.questions = questions
        many = "facts missing" if len(questions) > 1 else "fact missing"
        super().__init__(f"an order with {len(questions)} {many}", "an order with every fact answered",
                         "ask the customer the questions below, then give the order again")


# --- what is missing ------------------------------------------------------------------------------

_ALWAYS = (
    ("use", "If this lets go, can anyone be under it, beside it, in its fall or in the cable's whip? "
            "Answer nobody or people (--use)."),
    ("near", "Who exactly can be under it, beside it or in its fall (--near)?"),
    ("movement", "Does it move, take shocks, or will anyone swing on it (--movement none, moves, shock or swung on)?"),
    ("what", "What hangs from it, or what does it brace (--what)?"),
    ("where", "Where is it fitted (--where)?"),
    ("load", "What is the greatest load, with its unit (--load)?"),
    ("load_from", "Who says so (--load-from)?"),
    ("service", "Is the place dry, outdoor, marine or immersed, where a pool hall counts as immersed (--service)?"),
    ("ends", f"Which ends: {ENDS} (--ends)?"),
    ("length", "How long, with the unit (--length)?"),
    ("measured", f"How is that length measured: {MEASURED} (--measured)?"),
    ("quantity", "How many (--quantity)?"),
    ("tightened", "Is it tightened, by hand or by a turnbuckle: no, or with what (--tightened)?"),
    ("installer", "Who fits it (--installer)?"),
    ("reel", "Which reel is it cut from (--reel)?"),
)
_WHEN_TIGHTENED = (
    ("greatest_tension", "What is the greatest tension, with its unit (--greatest-tension)? "
                         '"Hand tight" is no load.'),
    ("tension_check", "How is that tension checked, by sag or by a gauge (--tension-check)?"),
)
_WHEN_PEOPLE = (
    ("designer", "Which qualified person stands for this design, by name (--designer)?"),
    ("designer_factor", "Which design factor does that person set for this order (--designer-factor)?"),
    ("designer_load", "Which design load does that person give, with its unit (--designer-load)?"),
    ("designer_date", "On which day did that person say so, as 2026-03-02 (--designer-date)?"),
)


def open_questions(order: Order) -> tuple[str, ...]:
    """The questions that an order by itself leaves open, in the order of asking."""
    wanted = list(_ALWAYS)
    if order.tightened is not None and not _is_no(order.tightened):
        wanted += _WHEN_TIGHTENED
    if _needs_designer(order):
        wanted += _WHEN_PEOPLE
    return tuple(question for name, question in wanted if getattr(order, name) is None)


def _needs_designer(order: Order) -> bool:
    """Whether only a named person's factor and load can rate this order: people near it, or movement."""
    known = uses().get((order.use or "").lower())
    return (known is not None and known.name == "people") or order.movement in ("moves", "shock")


def _is_no(answer: str) -> bool:
    """Whether an answer says that nothing of the sort is there."""
    return answer.casefold() in ("no", "none", "not tightened")


# --- what is refused before anything else -----------------------------------------------------------

def refuse_class(order: Order) -> str | None:
    """The class of use, or None while nobody has said; refuses the classes that this workbook never serves."""
    found = _refused_words(order)
    if found:
        raise Refusal(f"an order that speaks of '{found}'",
                      "static work: never lifting, people carried or held, aircraft, lifts, vehicles or towing",
                      "ask a qualified rigger or engineer for that kind of work")
    _refuse_together(order)
    _movement(order.movement)
    if order.movement == "swung on":
        raise Refusal("a cable that people swing on", "static work that carries nobody",
                      "ask a qualified engineer for play or gym equipment")
    if order.use is None:
        return None
    kind = class_of_use(order.use)
    if kind.name == "refused":
        raise Refusal(f"the use '{order.use}'", "static work: nobody can be there, or people with a named designer",
                      f"there is no way round this; {kind.ask}")
    _refuse_contradiction(order, kind.name)
    return kind.name


def _movement(movement: str | None) -> None:
    if movement is not None and movement not in MOVEMENTS:
        raise Refusal(f"the movement '{movement}'", ", ".join(MOVEMENTS), "answer with one of these")


def _refuse_together(order: Order) -> None:
    """Refuses two or more answers that cannot be read in one sentence; a single one is refused in its turn."""
    wrong = []
    for name, read in _READ_ALONE:
        given = getattr(order, name)
        try:
            if given is not None:
                read(given)
        except Refusal as refusal:
            wrong.append(refusal)
    if len(wrong) > 1:
        raise Refusal(f"{len(wrong)} wrong answers at once ({'; '.join(one.given for one in wrong)})",
                      "; ".join(f"for {one.given}: {one.accepted}" for one in wrong), "correct each of them")


def _refused_words(order: Order) -> str:
    """The first words of the order that name refused work; '' when none does."""
    what, where = order.what or "", _NAMED_AFTER.sub("", order.where or "")
    found = REFUSED_WORDS.search(what) or REFUSED_WORDS.search(where) or REFUSED_PURPOSE.search(_BESIDE.sub("", what))
    return found.group() if found else ""


def _refuse_contradiction(order: Order, use: str) -> None:
    """Refuses an order whose own words say that it moves, or that people can be there, against its answers."""
    words = f"{order.what or ''}; {order.where or ''}"
    moving = MOVING_WORDS.search(words)
    if moving and order.movement == "none":
        raise Refusal(f"the movement none together with '{moving.group()}'", "moves or shock, with a named designer's factor and load",
                      "enter --movement moves, or shock, and ask a named designer")
    somebody = (_FOR_PEOPLE.search(words) or _OVER.search(words) and _SOMEBODY.search(words)
                or _UNDER.search(words) and _PERSONS.search(words))
    if use == "nobody" and somebody:
        raise Refusal(f"the use nobody together with '{words.strip('; ')}'", "words and use that agree",
                      "people can be there: enter --use people with the named designer's factor and load")


# --- the facts as numbers -----------------------------------------------------------------------------

@dataclass(frozen=True)
class Facts:
    """An order's facts, read: forces in N and lengths in mm inside the readings."""

    use: str
    load: Reading
    service: str
    pin_to_pin: Reading
    quantity: int
    greatest_tension: Reading | None
    designer: DesignFactor | None
    designer_load: Reading | None
    sleeve_before_mm: float | None
    correction_mm: Fraction

    @property
    def forces(self) -> tuple[tuple[Fraction, str], ...]:
        """Every force the limit has to cover, in N, and what it is called."""
        forces = [(self.load.value, f"the load of {self.load.shown}")]
        if self.greatest_tension:
            forces.append((self.greatest_tension.value, f"the greatest tension of {self.greatest_tension.shown}"))
        if self.designer_load:
            forces.append((self.designer_load.value, f"the design load of {self.designer_load.shown}"))
        return tuple(forces)

    @property
    def required(self) -> tuple[Fraction, str]:
        """The greatest of these forces, in N, and what it is called."""
        return max(self.forces, key=lambda pair: pair[0])


def _says_nobody(near: str) -> bool:
    """Nobody, without a but: "nobody except the audience" is somebody."""
    said = near.casefold()
    but = r"\b(except(ing)?|but|apart|besides|unless|other than|sometimes|usually|mostly|often)\b"
    return bool(re.match(r"(nobody|no one|no-one|none)\b", said)) and not re.search(but, said)


def read_facts(order: Order, use: str) -> Facts:
    """Every fact of a complete order, read; the first that cannot be read is refused."""
    _one_of("service", order.service, SERVICES)
    _one_of("ends", order.ends, (ENDS,))
    _one_of("way of measuring", order.measured, (MEASURED,))
    if use == "nobody" and not _says_nobody(order.near):
        raise Refusal(f"the class nobody together with '{order.near}' near it", "nobody, or nobody with the reason",
                      "say who can be there, and take the class people if anyone can")
    _temperature(order.temperature)
    designed = _needs_designer(order)
    return Facts(
        use="people" if designed else use, load=_force(order.load), service=order.service,
        pin_to_pin=_pin_to_pin(order.length), quantity=_quantity(order.quantity),
        greatest_tension=None if _is_no(order.tightened) else _force(order.greatest_tension),
        designer=_designer(order) if designed else None,
        designer_load=_force(order.designer_load) if designed else None,
        sleeve_before_mm=_sleeve_before(order.sleeve_before), correction_mm=_correction(order.correction))


def _one_of(what: str, given: str, words: tuple[str, ...]) -> None:
    if given not in words:
        raise Refusal(f"the {what} '{given}'", ", ".join(words), "answer with one of these" if len(words) > 1
                      else "ask the customer for this one; a sheet for any other is not made here")


def _force(text: str) -> Reading:
    """A force above nothing."""
    reading = read_force_n(text)
    if not reading.value > 0:
        raise Refusal(f"the force '{text}'", "a force above nothing", "ask who gave the load")
    return reading


def _pin_to_pin(text: str) -> Reading:
    """A length that a bench can make."""
    reading = read_length_mm(text)
    if not SHORTEST_MM <= reading.value <= LONGEST_MM:
        raise Refusal(f"the length '{text}'", f"{SHORTEST_MM} mm to {LONGEST_MM // 1000} m", "check the length and its unit")
    return reading


def _quantity(text: str) -> int:
    """A count of pieces."""
    if not re.fullmatch(r"[0-9]{1,4}", text) or not 1 <= int(text) <= MOST_PIECES:
        raise Refusal(f"the quantity '{text}'", f"a whole number from 1 to {MOST_PIECES}", "write how many pieces")
    return int(text)


def _designer(order: Order) -> DesignFactor:
    """The named person's factor, for this order only."""
    if not re.fullmatch(r"[0-9]{1,3}(\.[0-9]{1,3})?", order.designer_factor) or not 1 < float(order.designer_factor) <= 100:
        raise Refusal(f"the designer's factor '{order.designer_factor}'", "a plain number above 1 and up to 100",
                      f"ask {order.designer}")
    try:
        day = date.fromisoformat(order.designer_date)
    except ValueError:
        raise Refusal(f"the day '{order.designer_date}'", "a day, year first, as 2026-03-02", "write it so") from None
    value = float(order.designer_factor)
    return DesignFactor(value=int(value) if value.is_integer() else value, owner=order.designer, set_on=day.isoformat(),
                        scope="this order only")


def _sleeve_before(text: str | None) -> float | None:
    """The sleeve's length before pressing, measured at the bench."""
    if text is None:
        return None
    reading = read_length_mm(text)
    if not 2 <= reading.value <= 100:
        raise Refusal(f"the sleeve length '{text}'", "2 mm to 100 mm", "measure one unpressed sleeve")
    return float(reading.value)


def _correction(text: str | None) -> Fraction:
    """What a trial piece showed, in mm: plus makes the cut longer."""
    if text is None:
        return Fraction(0)
    sign = -1 if text.startswith(("-", "\u2212")) else 1
    reading = read_length_mm(text.lstrip("+-\u2212 "))
    if reading.value > 50:
        raise Refusal(f"the correction '{text}'", "at most 50 mm either way", "measure the trial piece again")
    return sign * reading.value


def _temperature(text: str | None) -> None:
    """The coldest and the warmest where it hangs, refused outside what the sleeve is known to stand."""
    if text is None:
        return
    found = re.fullmatch(r"([-+\u2212]?[0-9]{1,3}) to ([-+\u2212]?[0-9]{1,3}) ?C", text)
    if not found:
        raise Refusal(f"the temperature '{text}'", 'the coldest and the warmest, as "-10 to 40 C"', "write it so")
    refuse_temperature(*(int(part.replace("\u2212", "-")) for part in found.groups()))


# The answers that can be read one by one, in the order of asking.
_READ_ALONE = (
    ("use", class_of_use), ("movement", _movement), ("load", _force),
    ("service", lambda text: _one_of("service", text, SERVICES)), ("ends", lambda text: _one_of("ends", text, (ENDS,))),
    ("length", _pin_to_pin), ("measured", lambda text: _one_of("way of measuring", text, (MEASURED,))),
    ("quantity", _quantity), ("greatest_tension", _force), ("designer_load", _force), ("sleeve_before", _sleeve_before),
    ("correction", _correction), ("temperature", _temperature))
