"""The facts of a complete order, read into numbers: forces in N, lengths in mm, each with how it was read."""

from __future__ import annotations

import re
from datetime import date
from fractions import Fraction

from rigcalc._order import ENDS, MEASURED, MOVEMENTS, SHAPES, Order, counts_as_people, is_no, needs_designer
from rigcalc._order_check import hung_weight, weights_said
from rigcalc._order_figures import force_reading, length_reading
from rigcalc._order_person import is_person, is_stand_in
from rigcalc._order_shapes import ShapeFacts, read_coordinates, read_gravity, read_shape, read_weight
from rigcalc._order_words import can_tighten, says_nobody, somebody_near, speaks_of_load
from rigcalc._records import record
from rigcalc.errors import Refusal
from rigcalc.pairing import SERVICES
from rigcalc.pulltest import LEAST_SHARE
from rigcalc.rating import DesignFactor, class_of_use, refuse_temperature
from rigcalc.units import Reading, read_force_n, read_length_mm

__all__ = ["LONGEST_TAKE_UP_MM", "Facts", "PieceFacts", "read_facts", "read_share", "unreadable"]

MOST_PIECES = 1000
LONGEST_MM, SHORTEST_MM = 100_000, 50
LONGEST_TAKE_UP_MM = 1000  # turnbuckle, shackles and links of one line
PIN_MM = (2, 100)


@record
class PieceFacts:
    """One kind of piece: its name, its length between bearing points (or round the ring), and how many."""

    name: str
    length: Reading
    quantity: int
    take_up: Reading | None = None


@record
class Facts:
    """An order's facts, read: forces in N and lengths in mm inside the readings."""

    use: str
    load: Reading | None
    service: str
    pieces: tuple[PieceFacts, ...]
    greatest_tension: Reading | None
    designer: DesignFactor | None
    designer_load: Reading | None
    sleeve_before_mm: float | None
    sleeve_after_mm: float | None
    correction_mm: Fraction
    shape: ShapeFacts | None = None
    pin: Reading | None = None
    eye_length: Reading | None = None
    check_weight: tuple[Fraction, str] | None = None

    @property
    def pin_to_pin(self) -> Reading:
        """The length of the first kind of piece."""
        return self.pieces[0].length

    @property
    def quantity(self) -> int:
        """How many pieces in all."""
        return sum(piece.quantity for piece in self.pieces)

    @property
    def forces(self) -> tuple[tuple[Fraction, str], ...]:
        """Every force the limit has to cover, in N, and what it is called."""
        forces = [(self.load.value, f"the load of {self.load.shown}")] if self.load else []
        if self.shape:
            forces.append((self.shape.greatest_n, self.shape.called))
        if self.greatest_tension:
            forces.append((self.greatest_tension.value, f"the greatest tension of {self.greatest_tension.shown}"))
        if self.designer_load:
            forces.append((self.designer_load.value, f"the design load of {self.designer_load.shown}"))
        return tuple(forces)

    @property
    def required(self) -> tuple[Fraction, str] | None:
        """The greatest of these forces, in N, and what it is called; None where no force was stated."""
        return max(self.forces, key=lambda pair: pair[0], default=None)


def read_facts(order: Order, use: str, on: date | None = None) -> Facts:
    """Every fact of a complete order, read on a day, today without one; the first that cannot be read is refused."""
    one_of("service", order.service, SERVICES)
    one_of("ends", order.ends, ENDS)
    one_of("way of measuring", order.measured, MEASURED)
    if use == "nobody" and not says_nobody(order.near):
        word = somebody_near(order.near)
        raise Refusal(f"the class nobody together with '{word or order.near}' near it" + (f" ('{order.near}')" if word and word != order.near else ""),
                      'nobody, or nobody with a colon and a reason that names no person and no time, as "nobody: plants only"',
                      "say who can be there, and take the class people if anyone can, even now and then")
    _refuse_odd_ring(order)
    _refuse_untold_tightening(order)
    _temperature(order.temperature)
    designed = needs_designer(order)
    shape = read_shape(order)
    facts = Facts(
        use="people" if counts_as_people(order) else use, load=_load(order, shape), service=order.service, pieces=_pieces(order),
        greatest_tension=None if is_no(order.tightened) else _force(order.greatest_tension),
        designer=_designer(order, on or date.today()) if designed else None,
        designer_load=_force(order.designer_load) if designed else None,
        sleeve_before_mm=_sleeve(order.sleeve_before), sleeve_after_mm=_sleeve(order.sleeve_after), correction_mm=_correction(order.correction), shape=shape,
        pin=_pin(order.pin) if order.has_soft_eye else None,
        eye_length=read_length_mm(order.eye_length) if order.eye_length else None,
        check_weight=_check_weight(order))
    refuse_uncovered(facts)
    return facts


def refuse_uncovered(facts: Facts) -> None:
    """Refuses a greatest tension or a design load below what the cable takes."""
    _refuse_too_low(facts, "greatest tension", facts.greatest_tension, "tightened so far, it cannot carry that: ask again which of the two is right")
    _refuse_too_low(facts, "design load", facts.designer_load, "ask that designer again: the design load has to cover what the order says")


def _check_weight(order: Order) -> tuple[Fraction, str] | None:
    """The weight hung for the check by sag; refused where the check's sentence names another."""
    text = hung_weight(order)
    if text is None:
        return None
    weight = read_weight(text, order.gravity)
    for other in weights_said(order.tension_check):
        if abs(read_weight(other, order.gravity or "standard")[0] - weight[0]) > weight[0] / 100 and order.check_weight:
            raise Refusal(f"the check weight '{order.check_weight}' with a check that says '{order.tension_check}'", "one weight", "ask which of the two is hung")
    return weight


def _refuse_too_low(facts: Facts, what: str, given: Reading | None, do: str) -> None:
    """Refuses a greatest tension or a design load below what the order says the cable takes.

    A pull worked out is shown rounded: half a per cent is left for whoever copied it.
    """
    if given is None:
        return
    needed = [(facts.load.value, f"the load of {facts.load.shown}")] if facts.load else []
    needed += [(facts.shape.greatest_n * Fraction(995, 1000), facts.shape.called)] if facts.shape else []
    if what == "design load" and facts.greatest_tension:
        needed.append((facts.greatest_tension.value, f"the greatest tension of {facts.greatest_tension.shown}"))
    short = [called for least_n, called in needed if given.value < least_n]
    if short:
        raise Refusal(f"the {what} of {given.shown} below {short[0]}", f"a {what} of at least that", do)


def _refuse_untold_tightening(order: Order) -> None:
    """Refuses an order that says it is not tightened, and names a tension, a check or a fitting that tightens."""
    if not is_no(order.tightened):
        return
    against = (f"the greatest tension of {order.greatest_tension}" if order.greatest_tension else "")
    against = against or (f"the tension check '{order.tension_check}'" if order.tension_check else "")
    against = against or (can_tighten(order.fittings, order.named) and f"'{can_tighten(order.fittings, order.named)}'")
    if against:
        raise Refusal(f"tightened no together with {against}", "no, with nothing that tightens; or with what it is tightened",
                      "answer with what it is tightened, the greatest tension and its check; or take that out of the order")


def _refuse_odd_ring(order: Order) -> None:
    """A ring has a lap splice and is measured round; nothing else is."""
    if order.ends == ENDS[-1] and order.shape != "ring":
        raise Refusal("a lap splice in a cable that pulls, hangs, holds up or stays", "eyes at both ends of one single piece",
                      "cut each piece in one length: a lap splice only closes a ring that carries no load, and two short pieces are not joined")
    ring = (order.shape == "ring", order.ends == ENDS[-1], order.measured == MEASURED[1])
    if any(ring) and not all(ring):
        raise Refusal(f"the shape {order.shape or 'straight'} with the ends '{order.ends}', measured {order.measured}",
                      f'for a ring: shape = "ring", ends = "{ENDS[-1]}", measured = "{MEASURED[1]}"; for all others none of the three',
                      "make the three answers agree")
    if order.shape == "ring":
        _refuse_worked_ring(order)
    if order.shape == "ring" and order.load:
        raise Refusal(f"the load {order.load} on a lap splice", "a ring that carries no stated load",
                      "only the shop's own pulled lot can rate a lap splice: order an assembly with two eyes for a load")


def _refuse_worked_ring(order: Order) -> None:
    """Nothing rates a lap splice: a ring is neither tightened nor loaded."""
    tight = "" if is_no(order.tightened) else f"tightened with '{order.tightened}'"
    tight = tight or (f"with a greatest tension of {order.greatest_tension}" if order.greatest_tension else "")
    tight = tight or (can_tighten(order.fittings, order.named) and f"with '{can_tighten(order.fittings, order.named)}'")
    if tight:
        raise Refusal(f"a ring with a lap splice {tight}", "a lap splice that is never tightened",
                      "leave the tightening out, or order one single piece with an eye at each end")
    load = speaks_of_load(order.named)
    if load:
        raise Refusal(f"a ring with a lap splice that is for '{load}'", "a ring that only closes something light and carries no load",
                      "order an assembly with two eyes for a load")


def one_of(what: str, given: str, words: tuple[str, ...]) -> None:
    """Refuses an answer that is none of the words."""
    if given not in words:
        raise Refusal(f"the {what} '{given}'", ", ".join(words), "answer with one of these" if len(words) > 1
                      else "ask the customer for this one; a sheet for any other is not made here")


def _force(text: str) -> Reading:
    """A force above nothing."""
    reading = read_force_n(text)
    if not reading.value > 0:
        raise Refusal(f"the force '{text}'", "a force above nothing", "ask who gave the load")
    return force_reading(reading)


def _load(order: Order, shape: ShapeFacts | None) -> Reading | None:
    """The stated load, held against what the shape makes of the weight."""
    if order.load is None:
        return None
    load = _force(order.load)
    if shape and load.value < shape.greatest_n * Fraction(995, 1000):
        raise Refusal(f"the load of {load.shown} in one cable", f"at least {shape.greatest_shown}, {shape.called_as}",
                      "state that one, or leave the load out: the shape works it out")
    return load


def _pieces(order: Order) -> tuple[PieceFacts, ...]:
    """Each kind of piece; an order without blocks has one kind."""
    if not order.pieces:
        return (PieceFacts("", _length(order.length), _quantity(order.quantity), _take_up(order.take_up)),)
    if order.length or order.quantity:
        raise Refusal("a length or quantity beside blocks of pieces", "length and quantity in each [[piece]] alone", "take one of the two out")
    pieces = tuple(PieceFacts(piece.name, _length(piece.length), _quantity(piece.quantity), _take_up(piece.take_up or order.take_up))
                   for piece in order.pieces)
    if sum(piece.quantity for piece in pieces) > MOST_PIECES:
        raise Refusal(f"{sum(piece.quantity for piece in pieces)} pieces", f"at most {MOST_PIECES}", "make several orders of it")
    if len({piece.name for piece in pieces}) < len(pieces):
        raise Refusal("two kinds of piece with one name", "a name of its own for each kind", "name them apart")
    return pieces


def _length(text: str) -> Reading:
    """A length that a bench can make."""
    reading = read_length_mm(text)
    if not SHORTEST_MM <= reading.value <= LONGEST_MM:
        raise Refusal(f"the length '{text}'", f"{SHORTEST_MM} mm to {LONGEST_MM // 1000} m", "check the length and its unit")
    return length_reading(reading)


def _take_up(text: str | None) -> Reading | None:
    """What the fittings in one line take up, from bearing point to bearing point."""
    if text is None:
        return None
    reading = read_length_mm(text)
    if reading.value > LONGEST_TAKE_UP_MM:
        raise Refusal(f"the take-up '{text}'", f"0 mm to {LONGEST_TAKE_UP_MM} mm", "measure the fittings as they will be set, from bearing point to bearing point")
    return length_reading(reading)


def _quantity(text: str) -> int:
    """A count of pieces."""
    if not re.fullmatch(r"[0-9]{1,4}", text) or not 1 <= int(text) <= MOST_PIECES:
        raise Refusal(f"the quantity '{text}'", f"a whole number from 1 to {MOST_PIECES}", "write how many pieces")
    return int(text)


def _pin(text: str) -> Reading:
    """The pin, hook or ring that bears in a soft eye."""
    reading = read_length_mm(text)
    if not PIN_MM[0] <= reading.value <= PIN_MM[1]:
        raise Refusal(f"the pin '{text}'", f"{PIN_MM[0]} mm to {PIN_MM[1]} mm", "measure the pin, hook or ring in the eye")
    return length_reading(reading)


def _name(text: str) -> str:
    """The designer's name."""
    if not is_person(text):
        raise Refusal(f"the designer '{text}'", "the first name and family name of the qualified person who stands for this design",
                      "ask the customer for that person; without one nothing is made where people can be")
    return text


def _witness(text: str) -> str:
    """The name of whoever went through the order with the customer."""
    if not is_person(text):
        raise Refusal(f"seen by '{text}'", "the first name and family name of the person who went through this order with whoever asked",
                      "let a person of the shop go through it, and write that name")
    return text


def _puller(text: str) -> str:
    """The name of whoever pulled a lot."""
    if not is_person(text):
        raise Refusal(f"pulled by '{text}'", "the first name and family name of the person who pulled the pieces", "write that name: a lot that nobody pulled shows nothing")
    return text


def _instrument(text: str) -> str:
    """The instrument that read the forces of a lot."""
    if is_stand_in(text) and not text.isdigit():
        raise Refusal(f"the instrument '{text}'", "the name or number of the instrument that read the forces", "read it off the instrument")
    return text


def _factor(text: str) -> float:
    """A designer's factor."""
    if not re.fullmatch(r"[0-9]{1,3}(\.[0-9]{1,3})?", text) or not 1 < float(text) <= 100:
        raise Refusal(f"the designer's factor '{text}'", "a plain number above 1 and up to 100", "ask that designer")
    return int(float(text)) if float(text).is_integer() else float(text)


def _day(text: str) -> str:
    """A day of the calendar."""
    try:
        return date.fromisoformat(text).isoformat()
    except ValueError:
        raise Refusal(f"the day '{text}'", "a day, year first, as 2026-03-02", "write it so") from None


def _designer(order: Order, on: date) -> DesignFactor:
    """The named person's factor, for this order only; refused where its day has not come."""
    if date.fromisoformat(_day(order.designer_date)) > on:
        raise Refusal(f"the designer's day {order.designer_date}, after {on.isoformat()}", "the day on which that person said so, no later than this sheet", "ask that designer again")
    return DesignFactor(value=_factor(order.designer_factor), owner=_name(order.designer), set_on=_day(order.designer_date),
                        scope="this order only")


def _sleeve(text: str | None) -> float | None:
    """A sleeve's length before or after pressing, measured at the bench."""
    if text is None:
        return None
    reading = read_length_mm(text)
    if not 2 <= reading.value <= 100:
        raise Refusal(f"the sleeve length '{text}'", "2 mm to 100 mm", "measure one sleeve")
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


def read_share(text: str) -> float:
    """A share in per cent that a lot can be asked for, as "90 %"."""
    found = re.fullmatch(r"([0-9]{2}(?:\.[0-9]{1,2})?) ?%", text)
    if not found or not float(LEAST_SHARE) * 100 <= float(found[1]) < 100:
        raise Refusal(f"the share '{text}'", f"{float(LEAST_SHARE):.0%} or more and below 100 %, as 95 %", "write it so")
    return round(float(found[1]) / 100, 6)


# The answers that can be read one by one, in the order of asking.
_READ_ALONE = (
    ("use", class_of_use), ("movement", lambda text: one_of("movement", text, MOVEMENTS)),
    ("held", lambda text: one_of("answer on who holds or climbs on it", text, ("yes", "no"))),
    ("lifts", lambda text: one_of("answer on lifting, vehicles and equipment", text, ("yes", "no"))), ("load", _force),
    ("service", lambda text: one_of("service", text, SERVICES)), ("ends", lambda text: one_of("ends", text, ENDS)),
    ("length", _length), ("measured", lambda text: one_of("way of measuring", text, MEASURED)),
    ("quantity", _quantity), ("greatest_tension", _force), ("designer", _name), ("seen_by", _witness), ("designer_factor", _factor),
    ("designer_load", _force), ("designer_date", _day), ("sleeve_before", _sleeve), ("sleeve_after", _sleeve),
    ("correction", _correction), ("temperature", _temperature), ("shape", lambda text: one_of("shape", text, SHAPES)),
    ("brace_across", read_length_mm), ("brace_up", read_length_mm), ("span", read_length_mm), ("sag", read_length_mm),
    ("load_spread", lambda text: one_of("spread of the load", text, ("point", "even"))), ("leg_points", read_coordinates),
    ("weight", lambda text: read_weight(text, "standard")), ("check_weight", lambda text: read_weight(text, "standard")),
    ("proof", lambda text: one_of("answer on a proof load", text, ("yes", "no"))), ("gravity", read_gravity), ("pin", _pin), ("take_up", _take_up), ("eye_length", read_length_mm), ("pull_coverage", read_share), ("pull_confidence", read_share),
    ("pull_instrument", _instrument), ("pull_instrument_due", _day), ("pull_on", _day), ("pull_by", _puller))


def unreadable(order: Order) -> list[tuple[str, Refusal]]:
    """Each answer that cannot be read by itself, with its refusal; those of blocks of pieces as "piece 2 length".

    Where no designer is needed, what stands in the designer's lines is not read.
    """
    designed = needs_designer(order)
    given = [(name, getattr(order, name), read) for name, read in _READ_ALONE if designed or not name.startswith("designer")]
    for n, piece in enumerate(order.pieces or (), 1):
        given += [(f"piece {n} length", piece.length, _length), (f"piece {n} quantity", piece.quantity, _quantity), (f"piece {n} take_up", piece.take_up, _take_up)]
    wrong = []
    for name, text, read in given:
        try:
            if text is not None:
                read(text)
        except Refusal as refusal:
            wrong.append((name, refusal))
    return wrong
