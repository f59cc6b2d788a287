"""The papers that go with the pieces: when to look again, the tag, the record, and what the customer is told."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rigcalc._job_plan import certificate_name
from rigcalc._job_words import ends_of
from rigcalc._order_figures import show_sag
from rigcalc.cautions import INVENTED
from rigcalc.units import show_force, show_length

if TYPE_CHECKING:
    from rigcalc._job_plan import Plan
    from rigcalc._job_sag import PieceSag

__all__ = ["customer_lines", "inspection_lines", "piece_names", "record_columns", "record_lines", "record_pieces", "tag_lines"]

BLANK = "____________"
LINE = "__________________________________________________"  # the rest of a line of 80
MOST_LINES = 60  # of the record, one for each piece; a larger order keeps its record by batches of ten
BATCH = 10


# --- looking again ------------------------------------------------------------------------------------

def inspection_lines(plan: Plan) -> tuple[str, ...]:
    """When it is looked at again, and what puts it out of service at once."""
    months = plan.verdict.inspect_months
    later = f"Then every {months} months or sooner" if months else \
        "Then as the shop and the owner set it: the pairing table sets no months for this service"
    coat = ("Coated cable cannot be seen: every bulge, crack or stain of the coat is a reject, and it is thrown away earlier.",) if plan.reel.coating_to else ()
    return ("At fitting; then after the first full load or the first week, whichever comes first.",
            f"{later} ({plan.sleeve_metal} on {plan.reel.metal} cable, {plan.facts.service}).",
            "Out of service at once: a broken wire at a sleeve, movement at the witness mark, a tail that no longer shows, a crack, "
            f"red rust at a sleeve's mouth{', a loose thimble' if plan.layout.thimble else ''}, and after any overload or fall.", *coat)


# --- tag ------------------------------------------------------------------------------------------------

def tag_lines(plan: Plan) -> tuple[str, ...]:
    """The text of the tag on the eye or body; none for practice."""
    if plan.practice:
        return ()
    reel, ring = plan.reel, plan.is_ring
    lengths = "; ".join(f"{piece.name + ' ' if piece.name else ''}{piece.length.shown}" for piece in plan.facts.pieces)
    lines = [f"Piece no. {BLANK}" + (f"   Order {plan.order.number}" if plan.order.number else ""),
             f"{reel.size} {reel.construction} {reel.metal} cable{f', coated to {reel.coating_to}' if reel.coating_to else ''}, {plan.sleeve_metal} sleeves",
             *(("NO LIFTING, NO LOAD: closes a light ring only",) if ring else (_tag_limit(plan),)), "NOT FOR LIFTING / PEOPLE",
             f"Length{', keep one' if len(plan.facts.pieces) > 1 else ''}: {lengths} {'round' if ring else 'pin to pin'}", f"Made by {BLANK} on {BLANK}", f"Inspect by {BLANK}"]
    return (*lines, INVENTED) if plan.invented else tuple(lines)


def _tag_limit(plan: Plan) -> str:
    """The least limit of what is delivered: the cable's, or that of a fitting that goes with it."""
    return f"Working load limit {plan.line_limit_shown or plan.limit_shown}, straight pull only"


def _least(plan: Plan) -> str:
    """The least working limit of what is delivered."""
    return plan.shown_limit(plan.links.limit_n) if plan.line_limit_shown else plan.limit_shown


# --- record ---------------------------------------------------------------------------------------------

def record_lines(plan: Plan, version: str) -> tuple[str, ...]:
    """What is written down for each piece or batch; none for practice."""
    if plan.practice:
        return ()
    reel, row = plan.reel, plan.row
    certificate = f"{certificate_name(reel)} ({show_force(reel.certificate_n, plan.system)})" if reel.certificate else "certificate none; table strength"
    gauge = f"{row.gauge}, checked {plan.gauge.checked_on}, due {plan.gauge.due_on}" if plan.gauge else BLANK
    thimble = f"   Thimble {plan.layout.thimble.size} {plan.layout.thimble.metal}, lot {BLANK}" if plan.layout.thimble else ""
    return (f"Order {plan.order.number or BLANK}   Job sheet {version} of {plan.on}   Pieces {plan.facts.quantity}",
            f"Date and time {BLANK}   Maker {BLANK}   Checker {BLANK}",
            f"Reel {reel.id}, lot {reel.lot}; {certificate}   Offcuts used {BLANK}",
            f"Sleeve {plan.sleeve_metal} {reel.size}, lot {BLANK}{thimble}",
            f"Tool {plan.chart.tool}, cavity {row.cavity}; gauge {gauge}; chart {plan.chart.id} edition {plan.chart.edition}",
            f"Count on each sleeve {row.count}; first-off of the day gauged {BLANK}",
            *_who_set(plan),
            f"Trial {'lap' if plan.is_ring else 'piece'}: measured {'round the ring' if plan.is_ring else 'pin to pin'} {BLANK}   correction for the cut {BLANK}",
            *_pulls(plan),
            f"Pressed again (piece, place, reason) {BLANK}",
            f"Rejects, cause, destroyed by {LINE}")


def _pulls(plan: Plan) -> tuple[str, ...]:
    """Where pulls are written: the instrument once, then a line for each piece that is pulled to its end; a lot that was pulled stands in figures."""
    instrument = f"Instrument {BLANK}   due {BLANK}"
    proof = (f"{instrument}   Proof loads, and how it ended: in each piece's own column",) if plan.proof else ()
    if plan.lot is None:
        return proof or (instrument, f"Pulled to {BLANK}   held for {BLANK}   how it ended {LINE}")
    if plan.lot.verdict:
        return (f"Lot of {plan.lot.pieces} {plan.lot.pulled}. Instrument readings and how it ended, piece by piece: under Proof and release", *proof)
    return (*proof, f"{instrument}   Lot pulled on {BLANK}   by {BLANK}", *(f"Pulled piece {n}: force at the end {BLANK}   how it ended {LINE}" for n in range(1, plan.lot.pieces + 1)))


def _who_set(plan: Plan) -> tuple[str, ...]:
    """The load and the factor, each with whoever set it."""
    if plan.factor is None:
        return ("No load and no factor: nothing rates a lap splice",)
    called = plan.facts.required[1].removeprefix("the ")
    return (f"{called[:1].upper()}{called[1:]}, from {plan.load_owner}; factor {plan.factor.value:g}, from {plan.factor.owner}",)


def record_columns(plan: Plan) -> tuple[str, ...]:
    """What is written for each piece, a column each; none for practice."""
    if plan.practice:
        return ()
    count = " ".join(str(n) for n in range(1, plan.row.count + 1))
    length = "Round the ring" if plan.is_ring else "Pin to pin"
    return ("Piece", f"First sleeve: crimps {count} gauged", f"Second sleeve: crimps {count} gauged", "Tail before, first / second", "Tail after, first / second", length,
            *(("Proof load, held for, how it ended",) if plan.proof else ()), "Tag")


def record_pieces(plan: Plan) -> tuple[str, ...]:
    """The pieces of the record by name; batches of ten where the order is large, but never where each is pulled to proof."""
    if plan.practice:
        return ()
    names = piece_names(plan)
    if len(names) <= MOST_LINES or plan.proof:
        return names
    return tuple(f"{names[n]} to {names[min(n + BATCH, len(names)) - 1]}" for n in range(0, len(names), BATCH))


def piece_names(plan: Plan) -> tuple[str, ...]:
    """Every piece of the order by a name of its own."""
    return tuple(piece.name if piece.name and piece.quantity == 1 else f"{piece.name or 'piece'} {n}"
                 for piece in plan.facts.pieces for n in range(1, piece.quantity + 1))


# --- for the customer -------------------------------------------------------------------------------------

def customer_lines(plan: Plan) -> tuple[str, ...]:
    """What the customer is told, in words that need no trade; none for practice."""
    if plan.practice:
        return ()
    return (*_may(plan), *_fitted(plan), *_look(plan), *_throw(plan))


def _fitted(plan: Plan) -> tuple[str, ...]:
    """The figures for whoever fits and tightens it: its place, the sag that was ordered, and how the tension is checked."""
    lines, span = [], plan.facts.shape.span if plan.facts.shape else None
    fits = "; ".join(f"{f'{fit.piece}: ' if fit.piece else ''}{show_length(fit.needed_mm)} between the bearing points"
                     + (f", {show_length(fit.take_up_mm)} of it for the fittings" if fit.take_up_mm else "") for fit in plan.fits.parts)
    if fits:
        lines.append(f"Whoever fits it measures first: {fits}. Does the place differ, ask us before it is fitted.")
    if span is not None:
        lines.append(f"The sag that was ordered: {plan.facts.shape.sag_shown}, under the load, below the straight line between the ends. Half the sag would double the pull: "
                     "never draw it tighter to make it look straighter.")
    return (*lines, *(f"Whoever tightens it: {f'{sag.name}: ' if sag.name else ''}{_sag_words(plan, sag)}" for sag in plan.sags))


def _sag_words(plan: Plan, sag: PieceSag) -> str:
    """What is hung where, and the least sag that it must show."""
    mm, direction = (sag.alone.sag_mm, "nearest") if sag.whole is None else (sag.whole.sag_mm, "up")
    return (f"hang {plan.facts.check_weight[1]}, at mid-span, {sag.length_shown} {ends_of(plan)}. Measured down from the straight line between the ends "
            f"it must sag at least {show_sag(mm, direction)}: that is {plan.facts.greatest_tension.shown}. Less sag is too tight: slacken it.")


def _may(plan: Plan) -> tuple[str, ...]:
    """What it may and may not do."""
    if plan.is_ring:
        first = "This ring closes something light. It has no load limit: hang nothing from it, pull nothing with it, tie nothing heavy to it."
    else:
        first = f"It may carry at most {_least(plan)}, in a straight pull along its length, for what was ordered: {plan.order.what}."
    how = "check that as below" if plan.sags else f"check that so: {plan.order.tension_check}"
    tight = f" Never tighten it beyond {plan.facts.greatest_tension.shown}; {how}." if plan.facts.greatest_tension else ""
    return (first + tight, "Never lift with it, never let anyone swing, climb, sit or hang on it, never tow with it. "
            "Do not use it for anything else without asking us.",
            "Keep the tag on it. Paint or cover no sleeve: what is hidden cannot be looked at.")


def _look(plan: Plan) -> tuple[str, ...]:
    """When to look, and at what."""
    months = plan.verdict.inspect_months
    then = f"then at least every {months} months" if months else "then as often as we agree; ask us if nothing was agreed"
    parts = ["the paint line at each sleeve: has the cable moved?", "both ends of each sleeve: red rust, white bloom, a broken wire, a crack",
             "the short tail: does it still show?", "the whole cable: kinks, broken wires, worn places where it touches something"]
    if plan.layout.thimble:
        parts.append("the thimbles in the eyes: loose or worn?")
    if plan.facts.greatest_tension:
        parts.append("the turnbuckle or tightener: is it locked, and pins secured? Has it gone slack, look at the paint lines first. Has one moved, tighten nothing: take it out of service and ask us. "
                     f"Has none moved, the cable has stretched: tighten it there, to no more than {plan.facts.greatest_tension.shown}, and check as above")
    coat = ("The coat hides the wires: a bulge, a crack or a stain means that it is thrown away.",) if plan.reel.coating_to else ()
    return (f"Look at it when it is fitted, again after the first full load or the first week, whichever is sooner, {then}.", *(f"Look at {part}" for part in (*parts, "the tag: can it be read?")), *coat)


def _throw(plan: Plan) -> tuple[str, ...]:
    """When to throw it away."""
    return ("Take it out of service and throw it away when: a wire is broken at a sleeve; the paint line has moved; the short tail no longer shows; "
            f"a sleeve is cracked; red rust shows at a sleeve; {'a thimble is loose; ' if plan.layout.thimble else ''}the cable is kinked or flattened; "
            "it was overloaded or something fell with it; you do not know what happened to it.",
            "Take the load off and ask us when: wires are broken or worn away from the sleeves; the tag is gone or cannot be read.",
            "White bloom alone: wipe it off and look below it. No red rust, no broken wire: it may stay. Look again sooner, and tell us.",
            "A worn piece is not mended: old cable gets no new sleeve, and no sleeve that has carried load is pressed again. Order a new one.",
            f"Ask first if anything about its use or its place changes: {'people can then be under it, ' if plan.facts.designer is None else ''}"
            "it then moves, it hangs nearer the sea or over a pool, or it is to carry more.")
