"""Each piece in its part of the shape: its length with what the fittings take up against the length that the shape has."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rigcalc._order import MissingFacts
from rigcalc._order_read import LONGEST_TAKE_UP_MM
from rigcalc._order_figures import sheet_length, show_pull
from rigcalc._records import record
from rigcalc.errors import Refusal
from rigcalc.units import show_force, show_length

if TYPE_CHECKING:
    from rigcalc._order import Order
    from rigcalc._order_read import Facts, PieceFacts
    from rigcalc.spans import Span

__all__ = ["Fit", "Fits", "fit_pieces", "pull_of_line"]

Tied = list[tuple["PieceFacts", str, float]]


@record
class Fit:
    """One kind of piece in its part of the shape: what the shape needs, the piece pin to pin, and what the fittings take up, in mm."""

    piece: str
    part: str
    needed_mm: float
    piece_mm: float
    take_up_mm: float


@record
class Fits:
    """Every piece in its part, within a tolerance in mm; `short` is a span's (sag in mm, pull in N) when each piece of its line
    comes out shorter by that tolerance, None where it is tightened or no span."""

    parts: tuple[Fit, ...] = ()
    tolerance_mm: float = 0.0
    short: tuple[float, float] | None = None


def fit_pieces(order: Order, facts: Facts, tolerance_mm: float, most_n: float | None) -> Fits:
    """Ties each piece to its part of the shape; asks for the take-up, or refuses, where the lengths do not agree.

    `most_n` is the limit that a span must not pass when its pieces come out short by the tolerance.
    """
    shape = facts.shape
    if shape is None or not shape.parts_mm:
        return Fits()
    parts = tuple(_fit(piece, part, needed_mm, order, tolerance_mm) for piece, part, needed_mm in _tied(facts.pieces, shape.kind, shape.parts_mm))
    short = None
    if shape.span is not None and facts.greatest_tension is None:
        short = _short(shape.span, shape.own_weight_n, tolerance_mm, _shortest_line(parts, len(shape.parts_mm), len(facts.pieces), tolerance_mm), most_n)
    return Fits(parts, tolerance_mm, short)


# --- which piece belongs where ------------------------------------------------------------------------

def _tied(pieces: tuple[PieceFacts, ...], kind: str, parts: tuple[tuple[str, float], ...]) -> Tied:
    """Each kind of piece with its part of the shape and the part's length in mm."""
    if len(parts) == 1:
        return [(piece, *parts[0]) for piece in pieces]
    if kind == "span":
        return _tied_span(pieces, parts)
    if len(pieces) == 1 and pieces[0].quantity % len(parts) == 0:
        return [(pieces[0], *part) for part in parts]
    return _one_each(pieces, parts, "leg", {part[0]: part for part in parts})


def _tied_span(pieces: tuple[PieceFacts, ...], parts: tuple[tuple[str, float], ...]) -> Tied:
    """One wire from end to end, or one on either side of the load, by the word left or right in its name, else in the order given."""
    if len(pieces) == 1:
        return [(pieces[0], "the span", sum(length for _, length in parts))]
    by_word = {piece.name: part for piece in pieces for part in parts if part[0].split()[1] in piece.name.casefold().split()}
    return _one_each(pieces, parts, "side of the load", by_word)


def _one_each(pieces: tuple[PieceFacts, ...], parts: tuple[tuple[str, float], ...], what: str, by_name: dict[str, tuple[str, float]]) -> Tied:
    """One kind of piece for each part: by name where every name tells, else in the order given."""
    if len(pieces) != len(parts) or len({piece.quantity for piece in pieces}) > 1:
        given = ", ".join(f"{piece.quantity} x {piece.name or piece.length.shown}" for piece in pieces)
        needed = "; ".join(f"{name} {show_length(length)}" for name, length in parts)
        raise Refusal(f"{given} for {len(parts)} parts of the shape", f"one block [[piece]] for each {what}, as many of the one as of the other: {needed}",
                      "write the blocks so")
    told = [by_name[piece.name] for piece in pieces if piece.name in by_name]
    if len(set(told)) == len(parts):
        return [(piece, *part) for piece, part in zip(pieces, told)]
    return [(piece, *part) for piece, part in zip(pieces, parts)]


# --- whether it fits ------------------------------------------------------------------------------------

def _fit(piece: PieceFacts, part: str, needed_mm: float, order: Order, tolerance_mm: float) -> Fit:
    """One piece in its part; asked about or refused where it is too short or too long."""
    length_mm = float(piece.length.value)
    take_up_mm = float(piece.take_up.value) if piece.take_up else 0.0
    gap_mm = needed_mm - length_mm - take_up_mm
    if abs(gap_mm) <= tolerance_mm * (1 + 1e-9):
        return Fit(piece.name, part, needed_mm, length_mm, take_up_mm)
    named = f"the piece '{piece.name}'" if piece.name else "the piece"
    shape = f"{part if part.startswith('the ') else f'the part {chr(39)}{part}{chr(39)}'} is {show_length(needed_mm)} long between its bearing points"
    if gap_mm > 0 and piece.take_up is None and order.fittings and gap_mm <= LONGEST_TAKE_UP_MM:
        raise MissingFacts((f"How much do the fittings in that line take up, from bearing point to bearing point (--take-up)? {_first_up(shape)}, and {named} "
                            f"{piece.length.shown}.",))
    beside = f" and fittings that take up {piece.take_up.shown}" if piece.take_up else ""
    out = f", {abs(gap_mm):.2f} mm too {'short' if gap_mm > 0 else 'long'}"
    raise Refusal(f"{named} of {piece.length.shown}{beside} where {shape}{out}",
                  f"{show_length(needed_mm - take_up_mm)} pin to pin{beside.replace(' and', ' with')}, to {sheet_length(tolerance_mm, direction='down')} either way",
                  "change the length, or measure the shape and the fittings again: another length hangs otherwise and pulls otherwise")


def _first_up(text: str) -> str:
    return text[:1].upper() + text[1:]


# --- a span that comes out short ----------------------------------------------------------------------------

def _shortest_line(parts: tuple[Fit, ...], of_shape: int, kinds: int, tolerance_mm: float) -> float:
    """The shortest line in mm that passes: the pieces as they are ordered, each made short by the tolerance, with their fittings."""
    lines = [part.piece_mm + part.take_up_mm - tolerance_mm for part in parts]
    return min(lines) if of_shape == 1 or kinds == 1 else sum(lines)


def _short(span: Span, own_n: float, tolerance_mm: float, line_mm: float, most_n: float | None) -> tuple[float, float]:
    """The sag and pull of a span whose pieces come out short by the tolerance: refused where that is taut or passes the limit."""
    found = pull_of_line(span, line_mm, own_n)
    less = f"with each piece made {sheet_length(tolerance_mm, direction='down')} short, which is still within tolerance, the line"
    sag = f"a sag of {show_length(span.sag_mm)}"
    accepted = "a greater sag, or a line that is tightened and whose tension is checked"
    if found is None:
        raise Refusal(f"{sag} on a span of {show_length(span.span_mm)}", accepted, f"ask for more sag: {less} would be taut")
    if most_n is not None and found[1] > most_n * (1 + 1e-9):
        raise Refusal(f"{sag} on a span of {show_length(span.span_mm)}", accepted,
                      f"ask for more sag: {less} would pull {show_pull(found[1])}, and the limit is {show_force(most_n, direction='down')}")
    return found


def pull_of_line(span: Span, line_mm: float, own_n: float = 0.0) -> tuple[float, float] | None:
    """The sag in mm and the greatest pull in N, own weight in N added, of a span whose line is `line_mm` long; None where it would be taut."""
    from rigcalc.spans import LEAST_SAG, point_load_span, uniform_load_span, with_own_weight

    def pull_n(hung: Span) -> float:
        return (with_own_weight(hung, own_n) if own_n else hung).greatest_n

    def hung(sag_mm: float) -> Span:
        if span.at_mm is None:
            return uniform_load_span(span.span_mm, sag_mm, span.load_n, span.rise_mm)
        return point_load_span(span.span_mm, sag_mm, span.load_n, span.at_mm, span.rise_mm)

    low, high = LEAST_SAG * span.span_mm, span.sag_mm
    if high <= low or hung(low).length_mm > line_mm:
        return None
    if hung(high).length_mm <= line_mm:
        return high, pull_n(span)
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if hung(middle).length_mm < line_mm else (low, middle)
    return high, pull_n(hung(low))
