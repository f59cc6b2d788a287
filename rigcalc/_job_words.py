"""The words of a job sheet's facts: what stops the work, the order, what was decided, the shape, cut list, limit and links."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rigcalc._job_sheet import CutKind, Item
from rigcalc._order import HOLDS_NOBODY, WORDS_CHECKED, counts_as_people, is_unknown_work
from rigcalc._order_figures import sheet_length, show_pull, show_sag
from rigcalc._order_words import is_mast
from rigcalc._press_stops import press_stops
from rigcalc.rating import EFFICIENCY_CONDITIONS, limit_in_words
from rigcalc.units import show_force, show_length

if TYPE_CHECKING:
    from rigcalc._job_plan import Plan
    from rigcalc._job_sag import PieceSag
    from rigcalc._order_read import PieceFacts

__all__ = ["before_starting", "cut_list_lines", "decided_items", "ends_of", "kind_items", "limit_notes", "limit_working", "link_items", "order_items",
           "shape_items"]


def before_starting(plan: Plan) -> tuple[str, ...]:
    """What stops the work before it begins."""
    stops = [plan.cuts.stop] if plan.cuts.stop else []
    stops += press_stops(plan.gauge, plan.tool, plan.row, plan.on)
    if plan.proof is not None and plan.proof.stop:
        stops.append(plan.proof.stop)
    if is_mast(plan.order.named, plan.order.where):
        stops.append("First the local code: whoever answers for the mast shows that its rules allow these stays.")
    return tuple(stops)


# --- the order ----------------------------------------------------------------------------------------

def order_items(plan: Plan) -> tuple[Item, ...]:
    """The order's facts as given, with each number as it was read."""
    order, facts = plan.order, plan.facts
    items = [Item("What hangs or is braced", order.what), Item("Where", order.where), Item("Class of use", _class_words(plan)),
             Item("Answers for the use", WORDS_CHECKED), Item("Who can be near it", order.near), Item("Movement", order.movement + "; asked apart: held or climbed on, no; lifts or travels, no"),
             Item("Load", _load(plan)), Item("Service", order.service), Item("Ends", _ends(plan)), *_lengths(plan),
             Item("Tightened", "no" if facts.greatest_tension is None else
                  f"{order.tightened}; greatest tension {facts.greatest_tension.shown}; checked: {order.tension_check}"),
             Item("Fittings", _fittings(plan)), Item("Fitted by", order.installer)]
    if facts.designer:
        items.append(Item("Designer", f"{facts.designer.owner}, {facts.designer.set_on}: factor {facts.designer.value:g}, "
                          f"design load {facts.designer_load.shown}"))
    items += [Item(label, text) for label, text in (("Gone through with whoever asked by", _seen_by(plan)), ("Temperature", order.temperature), ("Life wanted", order.life)) if text]
    return tuple(items)


def _seen_by(plan: Plan) -> str | None:
    """Who of the shop went through it with whoever asked; where people can be there, with what that person says of it."""
    order = plan.order
    return f"{order.seen_by}, who says: {HOLDS_NOBODY}" if is_unknown_work(order) and counts_as_people(order) else order.seen_by


def _load(plan: Plan) -> str:
    """The load, and who says so; a shape works it out, and a ring is given none."""
    facts, order = plan.facts, plan.order
    if facts.load:
        return f"{facts.load.shown}, from {order.load_from}"
    if facts.shape:
        return f"{facts.shape.called}, worked out below; weight and measurements from {order.load_from}"
    return "none stated: a lap splice carries none"


def _fittings(plan: Plan) -> str:
    """The fittings, and what they take up of the line where that is stated."""
    stated = dict.fromkeys(f"{piece.take_up.shown}{f' with {piece.name}' if plan.order.take_up is None and piece.name else ''}"
                           for piece in plan.facts.pieces if piece.take_up)
    return (plan.order.fittings or "not stated: by others") + (f"; they take up {' and '.join(stated)} of each line" if stated else "")


def _ends(plan: Plan) -> str:
    return plan.order.ends + (f", on {plan.facts.pin.shown}" if plan.facts.pin else "")


def _lengths(plan: Plan) -> list[Item]:
    """Length and quantity; a line for each kind of piece where there are several."""
    pieces, measured = plan.facts.pieces, plan.order.measured
    if len(pieces) == 1 and not pieces[0].name:
        return [Item("Length", f"{pieces[0].length.shown}, {measured}{_written(pieces)}"), Item("Quantity", str(pieces[0].quantity))]
    return [Item("Lengths", "; ".join(f"{piece.name}: {piece.quantity} x {piece.length.shown}" for piece in pieces) + f", {measured}{_written(pieces)}"),
            Item("Quantity", str(plan.facts.quantity))]


def _written(pieces: tuple[PieceFacts, ...]) -> str:
    """The lengths in the order's own words, where the sheet shows them otherwise."""
    typed = [piece.length.typed for piece in pieces if piece.length.typed not in piece.length.shown]
    return f" (written {', '.join(dict.fromkeys(typed))})" if typed else ""


def _class_words(plan: Plan) -> str:
    """The class of use in words."""
    if plan.facts.designer is None:
        return "static, nobody can be there"
    why = ("it moves or takes shocks" if plan.order.movement != "none" else "static, nobody can be there" if plan.facts.use == "nobody"
           else "static, people can be there")
    return f"{why}: the named designer's factor and load, for this order only"


# --- what was decided --------------------------------------------------------------------------------

def decided_items(plan: Plan) -> tuple[Item, ...]:
    """What was decided at the desk, with reasons."""
    verdict, thimble = plan.verdict, plan.layout.thimble
    items = [Item("Cable", f"{plan.reel.label}, reel {plan.reel.id}"), Item("Sleeve", f"{plan.sleeve_metal}, {plan.reel.size}"),
             Item("Pair", f"{verdict.verdict}: {' '.join(_sentence(reason) for reason in verdict.reasons)} ({verdict.how_known})"),
             Item("Strength", _strength(plan))]
    if thimble:
        groove = f", because the coat of {plan.reel.coating_to} lies in its groove" if plan.reel.coating_to else ""
        items.append(Item("Thimble", f"{thimble.metal}, for {thimble.size} cable{groove}"))
    items += [Item("Soft eye", f"{show_length(eye.length_mm, plan.system, 'up')} from the sleeve before pressing to the pin's centre, at least "
                   f"three pins of {show_length(eye.pin_mm, plan.system)} when pressed") for eye in dict.fromkeys(plan.layout.eyes) if eye.kind == "soft eye"]
    if plan.reel.coating_to:
        items.append(Item("Coated", f"sized by its bare core, {plan.reel.size}: the coat of {plan.reel.coating_to} carries nothing; for its warmest and coldest ask its maker"))
    return (*items, *_size_items(plan))


def _size_items(plan: Plan) -> list[Item]:
    """Why this size, where a smaller one would hold it by the table, or where the order says why."""
    chosen = f"{plan.reel.size} chosen for {plan.order.size_reason}" if plan.order.size_reason else ""
    if not plan.smaller:
        return [Item("Why this size", chosen)] if chosen else []
    why = chosen or f"{plan.reel.size} was ordered"
    return [Item("Smaller sizes", f"by the table {', '.join(plan.smaller)} would hold it too; {why}")]


def _strength(plan: Plan) -> str:
    """The table and the certificate side by side, and which of them counts."""
    sides = (("table", plan.strength.from_table_n), (plan.reel.certificate or "certificate", plan.strength.from_certificate_n))
    known = [f"{name} {show_force(force_n, plan.system)}" for name, force_n in sides if force_n is not None]
    return f"{'; '.join(known)}; the lower counts" if len(known) > 1 else f"{known[0]}, the only figure there is"


def _sentence(text: str) -> str:
    """A reason with its full stop."""
    return text if text.endswith(".") else f"{text}."


# --- shape, lengths and cut list -----------------------------------------------------------------------

def shape_items(plan: Plan) -> tuple[Item, ...]:
    """The working of the shape, and of the check of a tightened cable."""
    items = [Item(label, value) for label, value in plan.facts.shape.working] if plan.facts.shape else []
    return (*items, *_fit_items(plan), *(_sag_item(plan, sag) for sag in plan.sags))


def _fit_items(plan: Plan) -> list[Item]:
    """Each piece against its part of the shape, and what a span does that comes out short."""
    fits = plan.fits
    within = sheet_length(fits.tolerance_mm, plan.system, "down")
    items = [Item(f"Length{f', {fit.piece}' if fit.piece else ''}", f"{fit.part}: {show_length(fit.needed_mm)} between its bearing points, before it stretches; "
                  f"the piece {show_length(fit.piece_mm)} pin to pin{f' and fittings {show_length(fit.take_up_mm)}' if fit.take_up_mm else ''}; "
                  f"they agree within {within}") for fit in fits.parts]
    if fits.short:
        sag_mm, pull_n = fits.short
        items.append(Item("Made short", f"each piece {within} too short, which still passes: it sags {show_sag(sag_mm, 'down')} and pulls {show_pull(pull_n)}; the limit covers that"))
    return items


def ends_of(plan: Plan) -> str:
    """Between which points a sag is measured: those of the whole line where its fittings' length is known, else those of the piece."""
    whole = plan.fits.parts or any(piece.take_up for piece in plan.facts.pieces)
    return ("from anchor to anchor, fittings and all" if whole else
            "from the bearing point of one eye to that of the other, fittings left out: hang it at the middle of the cable, and stretch the line from eye to eye")


def _sag_item(plan: Plan, sag: PieceSag) -> Item:
    """The sag that shows the greatest tension: under the weight alone, and with the cable's own weight, which is the one to set."""
    alone = (f"hang {plan.facts.check_weight[1]}, at mid-span: at {plan.facts.greatest_tension.shown} it sags {show_sag(sag.alone.sag_mm)} "
             f"under that weight alone, on {sag.length_shown} {ends_of(plan)}")
    if sag.whole is None:
        said = f"{alone}. {sag.alone.said} {sag.own_from}"
    else:
        said = f"{alone}; with the cable's own weight {show_sag(sag.whole.sag_mm, 'up')}: set it by this. {sag.whole.said} {sag.own_from}"
    return Item("Check of the tension", f"{sag.name}: {said}" if sag.name else said)


def kind_items(plan: Plan) -> tuple[CutKind, ...]:
    """Every kind of piece with the sum of its length to cut."""
    return tuple(CutKind(piece.name, piece.quantity, piece.length_shown, piece.cut_mm, show_length(piece.cut_mm, plan.system),
                         tuple(Item(label, sheet_length(part, plan.system, "up" if "tail" in label and "lap" not in label else "nearest")) for label, part in piece.steps)) for piece in plan.layout.pieces)


def cut_list_lines(plan: Plan) -> tuple[str, ...]:
    """From which reel or offcut each piece is cut, in order, and what becomes of the rest."""
    found = plan.cuts.found
    if found is None:
        return (plan.cuts.why_not,)
    lines = []
    for stock in found.stock:
        what = f"Offcut {stock.stock.id} ({stock.stock.certificate})" if stock.stock.offcut else f"Reel {stock.stock.id}"
        cuts = ", ".join(f"{cut.count} x {show_length(cut.length_mm, plan.system)} {'trial piece' if cut.trial else cut.name}" 
                         for cut in sorted(stock.cuts, key=lambda cut: not cut.trial and cut.name != plan.layout.trial.name))
        taken = "cuts take" if stock.cut_count > 1 else "cut takes"
        lines.append(f"{what}: {cuts}; {stock.cut_count} {taken} {sheet_length(stock.kerf_mm, plan.system)}; "
                     f"{show_length(stock.remainder_mm, plan.system, 'down')} left, {stock.goes}.")
    best = "nothing better exists" if found.best else f"at most {found.gap:.1%} of the length used could be saved"
    lines.append(f"Reels opened: {found.opened}. Scrap: {show_length(found.scrap_mm, plan.system)}; {best}.")
    return tuple(lines)


# --- the limit -------------------------------------------------------------------------------------------

def limit_working(plan: Plan) -> tuple[str, ...]:
    """Strength times efficiency divided by the factor, a line each, in the shop's units: what comes out is rounded down."""
    if plan.limit is None:
        return ("Two sleeves on a lap splice: no published efficiency exists for it, and one sleeve holds about half of an eye "
                "(common practice). Only a lot of such laps, pulled in this shop, could rate it, and then for that make alone.",)
    factor, eyes_n = plan.factor, plan.strength.force_n * plan.share.value
    return (f"breaking force {show_force(plan.strength.force_n, plan.system)}: {plan.strength.source}",
            f"times {plan.share.value:.2f} for the eyes, once: {show_force(eyes_n, plan.system, 'down')} ({plan.share.how_known})",
            f"divided by {factor.value:g}, set by {factor.owner} on {factor.set_on} for {factor.scope}: {limit_in_words(plan.limit.force_n, plan.system)}")


def limit_notes(plan: Plan) -> tuple[str, ...]:
    """What the limit covers, what governs it, and what it depends on."""
    if plan.limit is None:
        return ("No limit is printed on the sheet or on the tag, and no load is hung on it.",
                "It closes a light static ring and joins nothing that pulls, hangs, holds up or stays.")
    force = plan.limit
    covered = " and ".join(called for _, called in plan.facts.forces)
    notes = [f"For practice arithmetic only: the sum reaches {covered}, but nothing made from this sheet is loaded." if plan.practice
             else f"Covers {covered}.",
             f"{_governs(plan)} {force.factor:g} is {force.owner}'s factor for {force.scope}, set on {force.set_on}. For work outside that scope this limit does not hold: ask {force.owner}.",
             "Pins, anchors, turnbuckles and shackles carry their own marked limits: the least of all governs the line.",
             f"Holds only for: {', '.join(_conditions(plan))}."]
    return (*notes, plan.share.note) if plan.share.note else tuple(notes)


def _conditions(plan: Plan) -> tuple[str, ...]:
    """What the eyes' efficiency depends on, said of this cable."""
    bare = EFFICIENCY_CONDITIONS[0]
    return tuple(f"{bare.removeprefix('bare ')}, bare under its sleeves" if text == bare and plan.reel.coating_to else text for text in plan.limit.conditions)


def _governs(plan: Plan) -> str:
    """Which link governs, among those that are known here."""
    if plan.links and plan.links.limit_n < plan.limit.stated_n:
        return f"The {plan.links.governs} governs this line at {plan.shown_limit(plan.links.limit_n)}; the limit above is the cable's. For it"
    return "The cable at its eyes governs this piece:"


def link_items(plan: Plan) -> tuple[Item, ...]:
    """Every link with its own working limit, and which one governs; marked limits are never divided again."""
    if plan.links is None:
        return ()
    items = [Item(name, plan.shown_limit(limit_n) + (", as marked: not divided again" if n else ", worked out above"))
             for n, (name, limit_n) in enumerate(plan.links.links)]
    tied = f", level with {' and '.join(plan.links.ties)}" if plan.links.ties else ""
    return (*items, Item("Weakest link", f"{plan.links.governs}: {plan.shown_limit(plan.links.limit_n)} for the line{tied}"))
