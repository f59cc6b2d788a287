"""An order as it was given, the questions about what is missing, and the classes that are refused."""

from __future__ import annotations

from rigcalc._order_check import check_question, hung_weight, is_mass
from rigcalc._order_person import is_guess
from rigcalc._order_words import ASK_LIFE, ASK_LIFTING, STATIC_ONLY, beside_plain, is_plain, refuse_against_answers, refuse_beside, refuse_noted, refuse_words, says_nobody, takes_up
from rigcalc._records import record
from rigcalc.errors import Refusal
from rigcalc.rating import class_of_use, uses

__all__ = ["ENDS", "HOLDS_NOBODY", "LAP", "MEASURED", "MOVEMENTS", "SHAPES", "MissingFacts", "Order", "OrderPiece", "WORDS_CHECKED", "counts_as_people",
           "is_no", "is_unknown_work", "needs_designer", "open_questions", "refuse_class"]

MOVEMENTS = ("none", "moves", "shock", "swung on")
LAP = "ring with a lap splice"
ENDS = ("two thimble eyes", "two soft eyes", "thimble eye and soft eye", LAP)
MEASURED = ("pin to pin", "round the ring")
_ONE_OF = {"use", "movement", "held", "lifts", "service", "ends", "measured", "shape", "load_spread", "proof"}  # answers of fixed words, in either case
SHAPES = ("straight", "brace", "span", "legs", "ring")
LONGEST_FACT = 300
LONGEST_PULLS = {"pull_forces": 4000, "pull_endings": 4000}  # a hundred pulled pieces, each with its force and its ending
MOST_KINDS = 12
WORDS_CHECKED = "The words of the order were checked, but the person who asked answers for the use."


def _one_line(name: str, value: object) -> str | None:
    """A fact as one line without needless spaces; None where it is blank."""
    text = " ".join(str(value).split())
    most = LONGEST_PULLS.get(name, LONGEST_FACT)
    if len(text) > most or not text.isprintable():
        raise Refusal(f"the fact {name} with {len(text)} signs", f"one line of at most {most} signs",
                      "write it shorter and in plain letters")
    return text or None


@record
class OrderPiece:
    """One kind of piece in an order that asks for several: its name, its length, how many, and what the fittings in its line
    take up where that differs from the rest of the order; as written."""

    name: str | None = None
    length: str | None = None
    quantity: str | None = None
    take_up: str | None = None

    def __post_init__(self) -> None:
        from dataclasses import fields

        for field in fields(self):
            value = getattr(self, field.name)
            object.__setattr__(self, field.name, None if value is None else _one_line(f"{field.name} of a piece", value))


@record
class Order:
    """One order, every fact as the customer or the bench wrote it; None where nobody has said.

    A fact that is None is asked for and never assumed. `sleeve_metal` and `tool` may stay None: the pairing
    table and the charts then choose, where they leave one choice. `shape` None is a straight pull. `pieces` is for
    orders with pieces that differ in length; otherwise `length` and `quantity` say it.

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
    held: str | None = None
    lifts: str | None = None
    seen_by: str | None = None
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
    sleeve_after: str | None = None
    correction: str | None = None
    temperature: str | None = None
    shape: str | None = None
    weight: str | None = None
    gravity: str | None = None
    brace_across: str | None = None
    brace_up: str | None = None
    span: str | None = None
    sag: str | None = None
    rise: str | None = None
    load_spread: str | None = None
    load_at: str | None = None
    leg_points: str | None = None
    pin: str | None = None
    eye_length: str | None = None
    fittings: str | None = None
    take_up: str | None = None
    check_weight: str | None = None
    size_reason: str | None = None
    life: str | None = None
    proof: str | None = None
    pull_pieces: str | None = None
    pull_coverage: str | None = None
    pull_confidence: str | None = None
    pull_forces: str | None = None
    pull_endings: str | None = None
    pull_instrument: str | None = None
    pull_instrument_due: str | None = None
    pull_on: str | None = None
    pull_by: str | None = None
    pieces: tuple[OrderPiece, ...] | None = None

    def __post_init__(self) -> None:
        from dataclasses import fields

        for field in fields(self):
            value = getattr(self, field.name)
            if value is not None and field.name != "pieces":
                line = _one_line(field.name, value)
                object.__setattr__(self, field.name, line.casefold() if line and field.name in _ONE_OF else line)
        pieces = self.pieces or None
        if pieces is not None and not (isinstance(pieces, tuple) and len(pieces) <= MOST_KINDS
                                       and all(isinstance(piece, OrderPiece) for piece in pieces)):
            raise Refusal(f"pieces written as {str(pieces)!r:.60}", f"1 to {MOST_KINDS} blocks [[piece]] with name, length and quantity",
                          "write them as blocks in the order file")
        object.__setattr__(self, "pieces", pieces)

    @property
    def named(self) -> str:
        """What the order is for, with the names of its pieces."""
        return "; ".join(filter(None, (self.what, *(piece.name for piece in self.pieces or ()))))

    @property
    def is_ring(self) -> bool:
        """Whether the order asks for a ring closed by a lap splice."""
        return self.shape == "ring" or self.ends == LAP

    @property
    def has_soft_eye(self) -> bool:
        """Whether any eye is made without a thimble."""
        return self.ends in ENDS and "soft" in self.ends


class MissingFacts(Refusal):
    """An order with blanks: `questions` is what to ask, in the order of asking."""

    def __init__(self, questions: tuple[str, ...]) -> None:
        self.questions = questions
        many = "facts are missing" if len(questions) > 1 else "fact is missing"
        super().__init__(f"an order in which {len(questions)} {many}", "an order with every fact answered",
                         "ask what stands below, then give the order again")

    def __str__(self) -> str:
        many = "facts are missing" if len(self.questions) > 1 else "fact is missing"
        return f"Refused: {len(self.questions)} {many}, and nothing is made without. Ask what stands below, then give the order again."


# --- what is missing ------------------------------------------------------------------------------

_ALWAYS = (
    ("use", "If this lets go, can anyone be under it, beside it, in its fall or in the cable's whip? "
            "Answer nobody or people (--use)."),
    ("near", "Who exactly can be under it, beside it or in its fall (--near)?"),
    ("movement", "Does it move, take shocks, or will anyone, children too, swing on it (--movement none, moves, shock or swung on)?"),
    ("held", "Will a person or an animal ever hold it, lean, sit, stand, hang or walk on it, climb or ride on it or on what it holds, "
             "or be held back or kept from a fall by it (--held yes or no)?"),
    ("lifts", "Does it lift, lower, pull along or tow anything, or is it part of a vehicle, boat, aircraft or lift, or of play, sport or gym "
              "equipment (--lifts yes or no)?"),
    ("what", "What hangs from it, or what does it brace (--what)?"),
    ("where", "Where is it fitted (--where)?"),
    ("load", "What is the greatest load, with its unit (--load)?"),
    ("load_from", "Who states the load, or the weight and the measurements (--load-from)?"),
    ("service", "Is the place dry, outdoor, marine or immersed, where a pool hall counts as immersed (--service)?"),
    ("ends", f"Which ends: {', '.join(ENDS[:-1])} or {ENDS[-1]} (--ends)?"),
    ("length", "How long, with the unit (--length)?"),
    ("measured", f"How is that length measured: {' or '.join(MEASURED)} (--measured)?"),
    ("quantity", "How many (--quantity)?"),
    ("tightened", "Is it tightened, by hand or by a turnbuckle: no, or with what (--tightened)?"),
    ("installer", "Who fits it (--installer)?"),
    ("reel", "Which reel is it cut from (--reel)?"),
)
_NOT_KNOWN = "These words name no work that is known here as harmless, such as plants on a wall, a fence, a gate or a cover."
_NAMED_BESIDE = "These words say '{}' beside work that is harmless by itself."
_WHO_SAW = "{} Who of the shop went through it with whoever asked, and says that {}: first name and family name (--seen-by)?"
HOLDS_NOBODY = "nobody hangs, sits or stands on it or is held or caught by it, and nothing is lifted or lowered"
_NOBODY_NEAR = "it holds nobody, moves nothing and has nobody near"
_WHEN_TIGHTENED = (
    ("greatest_tension", "What is the greatest tension, with its unit (--greatest-tension)? "
                         '"Hand tight" is no load.'),
    ("tension_check", "How is that tension checked: by sag, with which weight hung at mid-span, or by which tension gauge (--tension-check)?"),
)
_WHEN_PEOPLE = (
    ("designer", "Which qualified person stands for this design, by name (--designer)?"),
    ("designer_factor", "Which design factor does that person set for this order (--designer-factor)?"),
    ("designer_load", "Which design load does that person give, with its unit (--designer-load)?"),
    ("designer_date", "On which day did that person say so, as 2026-03-02 (--designer-date)?"),
)
_WEIGHT = ("weight", "What does it weigh, with its unit (--weight)?")
_OF_SHAPE = {
    "brace": (_WEIGHT, ("brace_across", "How far does the brace reach across, with the unit (--brace-across)?"),
              ("brace_up", "How far does it reach up, with the unit (--brace-up)?")),
    "span": (_WEIGHT, ("load_spread", "Does the load hang at one point or is it spread evenly (--load-spread point or even)?"),
             ("span", "How far apart are the two ends, measured level (--span)?"),
             ("sag", "How far does the wire hang below its ends under the load (--sag)?")),
    "legs": (_WEIGHT, ("leg_points", 'Where is each leg fixed, seen from the load: along, across and up, as "3 ft, 0 ft, 4 ft; -5 ft, 0 ft, 4 ft" '
                       "(--leg-points)?")),
}
_TAKE_UP = ("take_up", "How much of the line do the fittings take up, from bearing point to bearing point as they will be set (--take-up)?")
_SOFT = (("pin", "How thick is the pin, hook or ring in the soft eye, with its unit (--pin)?"),)
_PULLED = (("pull_coverage", "Which part of such pieces must hold (--pull-coverage, as 90 %)?"),
           ("pull_confidence", "With which confidence must the pulled pieces show it (--pull-confidence, as 95 %)?"))
_WHEN_PULLED = (("pull_endings", "How did each pulled piece end, as 6 x broke in the cable (--pull-endings)?"),
                ("pull_instrument", "Which instrument read the forces, by its name or number (--pull-instrument)?"),
                ("pull_instrument_due", "Until which day did that instrument's check hold, as 2026-09-30 (--pull-instrument-due)?"),
                ("pull_on", "On which day were the pieces pulled, as 2026-03-09 (--pull-on)?"),
                ("pull_by", "Who pulled them: first name and family name (--pull-by)?"))


def open_questions(order: Order) -> tuple[str, ...]:
    """The questions that an order by itself leaves open, in the order of asking."""
    blank = [question for name, question in _wanted(order) if getattr(order, name) is None]
    return (*blank, *_contradicted(order), *_load_from_nobody(order), *check_question(order), *_of_pieces(order))


def _load_from_nobody(order: Order) -> tuple[str, ...]:
    """The question that a load from nobody, or a guessed one, leaves open."""
    if order.is_ring or order.load_from is None or not is_guess(order.load_from):
        return ()
    return (f"'{order.load_from}' states no load: who weighed, measured or worked it out, or which paper says it (--load-from)?",)


def _contradicted(order: Order) -> tuple[str, ...]:
    """The question that a use for people with nobody near it leaves open."""
    if order.near is None or order.use is None or class_of_use(order.use).name != "people" or not says_nobody(order.near):
        return ()
    return (f"The use says that people can be there, and near says '{order.near}': who exactly can be there (--near), "
            "or can nobody, which is the use nobody (--use)?",)


def _wanted(order: Order) -> list[tuple[str, str]]:
    """Every fact that this order has to give, with its question."""
    # A shape works the load out, a lap splice is given none, and blocks of pieces say lengths and counts themselves.
    without = ({"load"} if order.shape in _OF_SHAPE or order.is_ring else set()) | ({"load_from"} if order.is_ring else set())
    without |= {"length", "quantity"} if order.pieces else set()
    wanted = [pair for pair in _ALWAYS if pair[0] not in without] + list(_OF_SHAPE.get(order.shape or "", ()))
    if order.shape in _OF_SHAPE and takes_up(order.fittings) and not (order.pieces and all(piece.take_up for piece in order.pieces)):
        wanted.append(_TAKE_UP)
    if order.load_spread == "point":
        wanted.append(("load_at", "Where does it hang: middle, or how far from the left end (--load-at)?"))
    masses = [said for weight, said in ((order.weight, f"the weight of {order.weight}"),
                                        (hung_weight(order), f"the {hung_weight(order)} hung for the check of the tension")) if is_mass(weight)]
    if masses:
        wanted.append(("gravity", f"What does gravity count as for {' and '.join(masses)}, for a mass pulls nothing until that is said: standard "
                                  "(9.80665 m/s2), or a figure in m/s2 (--gravity)?"))
    if order.tightened is not None and not is_no(order.tightened) and not order.is_ring:
        wanted += _WHEN_TIGHTENED
    if is_unknown_work(order):
        beside = beside_plain(order.named, order.where or "")
        wanted.append(("seen_by", _WHO_SAW.format(_NAMED_BESIDE.format(beside) if beside else _NOT_KNOWN, HOLDS_NOBODY.replace(", and nothing", ", and that nothing") if counts_as_people(order) else _NOBODY_NEAR)))
    wanted += _WHEN_PEOPLE if needs_designer(order) else ()
    wanted += _SOFT if order.has_soft_eye else ()
    wanted += _PULLED if order.pull_pieces or order.pull_forces else ()
    if order.pull_forces:
        wanted += _WHEN_PULLED
    return wanted


def is_unknown_work(order: Order) -> bool:
    """Whether nothing in the order's words is harmless by itself: no list of bad words is ever complete, so a person has to answer for it,
    whoever may be near and whoever designs it."""
    return order.what is not None and order.use is not None and class_of_use(order.use).name in ("nobody", "people") and not is_plain(order.named, order.where or "")


def _of_pieces(order: Order) -> list[str]:
    """A question for each blank in the blocks of pieces."""
    return [f"What is the {name} of piece {n} ({name} in [[piece]])?" for n, piece in enumerate(order.pieces or (), 1)
             for name in ("name", "length", "quantity") if getattr(piece, name) is None]


def needs_designer(order: Order) -> bool:
    """Whether a named person's factor and load rate this order: people near it, movement, or a designer who has been named."""
    return counts_as_people(order) or has_designer(order)


def counts_as_people(order: Order) -> bool:
    """Whether the order falls in the class of work where people can be: by its use, or because it moves."""
    known = uses().get((order.use or "").lower())
    return (known is not None and known.name == "people") or order.movement in ("moves", "shock")


def has_designer(order: Order) -> bool:
    """Whether the order brings a named person's factor or load, which then counts, whoever may be near."""
    return any((order.designer, order.designer_factor, order.designer_load, order.designer_date))


def is_no(answer: str) -> bool:
    """Whether an answer says that nothing of the sort is there."""
    return answer.casefold().rstrip(". ") in ("no", "none", "not tightened")


# --- what is refused before anything else -----------------------------------------------------------

def refuse_class(order: Order) -> str | None:
    """The class of use, or None while nobody has said; refuses the classes that this workbook never serves."""
    refuse_words(order.named, order.where or "")
    refuse_beside(*filter(None, (order.near, order.installer, order.load_from, order.seen_by, order.measured)))
    refuse_noted(*filter(None, (order.number, order.size_reason, order.life)))
    _refuse_together(order)
    if order.movement is not None and order.movement not in MOVEMENTS:
        raise Refusal(f"the movement '{order.movement}'", ", ".join(MOVEMENTS), "answer with one of these")
    if order.movement == "swung on":
        raise Refusal("a cable that people swing on", "static work that carries nobody",
                      "ask a qualified engineer for play or gym equipment")
    _refuse_said(order)
    if order.use is None:
        return None
    kind = class_of_use(order.use)
    if kind.name == "refused":
        raise Refusal(f"the use '{order.use}'", "static work: nobody can be there, or people with a named designer",
                      f"there is no way round this; {kind.ask}")
    refuse_against_answers(order.named, order.where or "", kind.name, order.movement, order.service, order.held)
    return kind.name


def _refuse_said(order: Order) -> None:
    """Refuses work of which the order itself says that it holds a body, or that it lifts or travels: no words need give it away."""
    for name, given, do in (("held", "a cable that a person or an animal holds, leans or climbs on, or is held by", ASK_LIFE),
                            ("lifts", "a cable that lifts, lowers or pulls, or is part of a vehicle, boat, aircraft, lift or of play, sport or gym equipment",
                             ASK_LIFTING)):
        if getattr(order, name) == "yes":
            raise Refusal(given, STATIC_ONLY, do)


def _refuse_together(order: Order) -> None:
    """Refuses two or more answers that cannot be read in one sentence; a single one is refused in its turn."""
    from rigcalc._order_read import unreadable

    wrong = [refusal for _, refusal in unreadable(order)]
    if len(wrong) > 1:
        raise Refusal(f"{len(wrong)} wrong answers at once ({'; '.join(one.given for one in wrong)})",
                      "; ".join(f"for {one.given}: {one.accepted}" for one in wrong), "correct each of them")
