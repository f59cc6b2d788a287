"""The words of a job sheet: the steps with their hold points, the parts, the tag and the piece record."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import TYPE_CHECKING

from rigcalc._job_sheet import HOLD_POINTS, Item, Part, Step
from rigcalc.cautions import INVENTED, INVENTED_GAUGE
from rigcalc.cable import band_mm, construction
from rigcalc.sleeve import order_words
from rigcalc.units import in_unit, round_to, show_force, show_length

if TYPE_CHECKING:
    from rigcalc.assembly import Plan

__all__ = ["certificate_name", "crimp_items", "gauge_items", "inspection_lines", "parts_to_draw", "record_lines", "sheet_length", "tag_lines", "work_steps"]

BLANK = "____________"
TRIAL = 1  # one trial piece for a new size or sleeve lot


def certificate_name(reel) -> str | None:
    """The reel's certificate without the word, which the sheet writes before it."""
    return re.sub(r"\bcertificate\s+", "", reel.certificate, flags=re.IGNORECASE) if reel.certificate else None


# --- parts ------------------------------------------------------------------------------------------

def parts_to_draw(plan: Plan) -> tuple[Part, ...]:
    """Reel, sleeves, thimbles, tool and gauge, with one trial piece allowed for."""
    pieces, row, reel = plan.facts.quantity, plan.row, plan.reel
    eyes = f"{2 * pieces}, and {2 * TRIAL} for a trial piece"
    parts = [
        Part(f"Cable {reel.size} {reel.construction} {reel.metal}, reel {reel.id}",
             f"{pieces} x {plan.cut_shown}, and {TRIAL} for a trial piece", reel.lot),
        Part(f"Sleeves {reel.size} {plan.sleeve_metal}", eyes),
        Part(f"Thimbles for {reel.size} cable, {plan.thimble.metal}", eyes)]
    if plan.tool is not None:
        cavity = f"cavity {row.cavity}" if row.cavity else "no cavity stands in the chart in force"
        parts.append(Part(f"Tool {plan.tool.id}, {plan.tool.name}, {cavity}", "1", blank="Number"))
    else:
        parts.append(Part("Swaging tool of your own: the chart in force names none", "1", blank="Number"))
    parts.append(Part(f"Gauge {row.gauge}, slot {row.gauge_slot}" if row.gauge
                      else "Gauge of the tool: none stands in the chart in force", "1", blank="Number"))
    return tuple(parts)


# --- crimps and gauge ---------------------------------------------------------------------------------

def crimp_items(plan: Plan) -> tuple[Item, ...]:
    """Count, order and room for the crimps, each from the chart in force."""
    row, system = plan.row, plan.system
    items = [Item("Count on each sleeve", f"{row.count}"), Item("Order", order_words(row))]
    if row.order_source:
        items.append(Item("Order stands in", row.order_source))
    if row.cavity:
        items.append(Item("Tool and cavity", f"{plan.chart.tool}, cavity {row.cavity}"))
    if row.minimum_gap_mm is not None:
        items.append(Item("Gap between crimps", f"at least {sheet_length(row.minimum_gap_mm, system, 'up')}, even to "
                          f"{sheet_length(plan.bench.gap_tolerance_mm, system, 'down')}; none over the sleeve's end"))
    if row.sleeve_before_mm is not None and row.sleeve_after_mm is not None:
        items.append(Item("Sleeve before and after", f"{show_length(row.sleeve_before_mm, system)}, then about "
                          f"{show_length(row.sleeve_after_mm, system)}"))
    return tuple(items)


def gauge_items(plan: Plan) -> tuple[Item, ...]:
    """What is gauged with what; a gauge out of date judges nothing."""
    row, gauge = plan.row, plan.gauge
    if gauge is None:
        return (Item("Gauge", "none stands in the chart in force: ask the tool maker; nothing made here is passed"),)
    dates = f"checked {gauge.checked_on}, due {gauge.due_on}"
    if not gauge.in_date(plan.on):
        dates += ": OUT OF DATE, judge nothing with it"
    items = [Item("Gauge and slot", f"{gauge.id}, slot {row.gauge_slot} ({dates})"),
             Item("What is gauged", f"each of the {row.count} crimps on each sleeve: all the way on, and turned")]
    if row.gauge_max_mm is not None:
        items.append(Item("Greatest size over a crimp", _decimals(row.gauge_max_mm, plan.system, "down")))
    items.append(Item("A pass", "is needed and never enough: look for cracks, fins, a curve, a buried tail, a loose thimble"))
    items.append(Item("No pass", "press again once, same place; still no pass: scrap the piece, take the tool out of use, "
                      "gauge again all pressed since the last good gauging"))
    if plan.invented:
        items.append(Item("Warning", INVENTED_GAUGE))
    return tuple(items)


# --- steps --------------------------------------------------------------------------------------------

def work_steps(plan: Plan) -> tuple[Step, ...]:
    """The steps in the order of the work; four of them end at a hold point: stop, and show."""
    texts = [*_before_pressing(plan), *_pressing(plan), *_after_pressing(plan)]
    return tuple(Step(n, text, hold) for n, (text, hold) in enumerate(texts, 1))


def _before_pressing(plan: Plan) -> list[tuple[str, str]]:
    reel, system = plan.reel, plan.system
    low, high = band_mm(reel.size)
    inner = construction(reel.construction).wires_per_strand
    return [
        (f"Read every label against this sheet before touching a tool: reel {reel.id}, bag of {reel.size} "
         f"{plan.sleeve_metal} sleeves, thimbles. Write the lots above. A bag without a label goes back.", ""),
        ("Eye protection on, now and until the last piece is finished. Reel braked, cut end held.", ""),
        ("Write tool and gauge numbers. Tool: jaws clean, closing fully when empty. The first press of the day is gauged.", ""),
        (f"Measure the cable over the crowns at three places: {_decimals(low, system, 'up')} to "
         f"{_decimals(high, system, 'down')}. No kink, rust, flat place, broken wire or birdcage. "
         f"At the cut end count {inner} wires in a strand.", ""),
        (f"Mark {plan.cut_shown}. One turn of tape over the mark; cut through the tape with a cable cutter, never a torch. "
         "The end is square and round, with no hooked wire.", HOLD_POINTS[0]),
        ("Take the tape off. Slide a sleeve on, lead the cable round the thimble and back through the sleeve: "
         "both legs side by side, not crossed, no wire caught.", ""),
        (f"Draw the cable snug: thimble groove full, points at the sleeve. Set the tail to "
         f"{show_length(plan.tail_mm, system, 'up')}, two diameters or more, and mark the cable with a pen at the sleeve's edge.",
         HOLD_POINTS[1])]


def _pressing(plan: Plan) -> list[tuple[str, str]]:
    row = plan.row
    cavity = f"cavity {row.cavity}" if row.cavity else "the cavity that the tool's marking gives"
    first = f"at place {row.order[0]}" if row.order else "where the maker says to begin (ask the maker)"
    return [
        (f"Sleeve upright, square and centred in {cavity}, {first}. Close a little, stop and look: "
         "tail mark still at the edge, sleeve upright.", HOLD_POINTS[2]),
        ("Close fully in one steady stroke. If the sleeve tilts: open, centre again, finish. Gauge this crimp.", HOLD_POINTS[3]),
        (f"Go on by the chart: {order_words(row)}. Count the {row.count} crimps aloud, each to full closure, gaps even, "
         "none over the sleeve's end.", ""),
        (f"Gauge every one of the {row.count} crimps, all the way on and turned. No pass: press again once, same place.", ""),
        ("Look: no crack, no fins, sleeve straight, tail still showing, thimble firm. Reject what is not so, and say why.", "")]


def _after_pressing(plan: Plan) -> list[tuple[str, str]]:
    length = f"{plan.facts.pin_to_pin.shown}, {sheet_length(plan.bench.pin_to_pin_tolerance_mm, plan.system, 'down')} either way"
    end = ("PRACTICE tape on the piece; the same day cut it through the sleeves or lock it away. No tag, no record."
           if plan.practice else
           "Tag it. A second person checks this sheet against the piece (alone: after a break, written down as self-checked); fill in the record; destroy rejects through the sleeve.")
    return [
        ("Second eye: its sleeve goes on before its thimble. Lay it flat with the first eye, no twist in the cable, and "
         "do the threading, pressing, gauging and looking again, with the same hold points.", ""),
        ("Paint a witness mark from each sleeve's mouth on to the live cable.", ""),
        (f"Measure pin to pin: {length}. Trial piece: keep the difference as the correction for the next cuts.", ""),
        (end, ""),
        *([] if plan.practice else [
            ("Hand over: the limit, straight pull only, what to look at, when to look, when to throw it away.", "")])]


def sheet_length(length_mm: float, system: str, direction: str = "nearest") -> str:
    """A length on a sheet: below 2 mm in decimals of an inch, where a fraction would be too coarse."""
    if not 0 < abs(length_mm) < 2:
        return show_length(length_mm, system, direction)
    inches = f"{round_to(in_unit(length_mm, 'in'), Decimal('0.001'), direction)} in"
    metric = f"{round_to(in_unit(length_mm, 'mm'), Decimal('0.1'), direction)} mm".replace(".0 mm", " mm")
    return f"{inches} [{metric}]" if system == "US" else f"{metric} [{inches}]"


def _decimals(length_mm: float, system: str, direction: str) -> str:
    """A caliper figure: thousandths of an inch and hundredths of a millimetre, rounded each in its own unit."""
    inches = f"{round_to(in_unit(length_mm, 'in'), Decimal('0.001'), direction)} in"
    metric = f"{round_to(in_unit(length_mm, 'mm'), Decimal('0.01'), direction)} mm"
    return f"{inches} [{metric}]" if system == "US" else f"{metric} [{inches}]"


# --- inspection, tag and record -------------------------------------------------------------------------

def inspection_lines(plan: Plan) -> tuple[str, ...]:
    """When it is looked at again, and what puts it out of service at once."""
    months = plan.verdict.inspect_months
    later = f"Then every {months} months or sooner" if months else \
        "Then as the shop and the owner set it: the pairing table sets no months for this service"
    return ("First after the first full load or the first week, whichever comes first.",
            f"{later} ({plan.sleeve_metal} on {plan.reel.metal} cable, {plan.facts.service}).",
            "Out of service at once: a broken wire at a sleeve, movement at the witness mark, a crack, red rust at a "
            "sleeve's mouth, and after any overload or fall.")


def tag_lines(plan: Plan) -> tuple[str, ...]:
    """The text of the tag on the eye or body; none for practice."""
    if plan.practice:
        return ()
    reel = plan.reel
    lines = [f"Piece no. {BLANK}", f"{reel.size} {reel.construction} {reel.metal} cable, {plan.sleeve_metal} sleeves",
             f"Working load limit {plan.limit_shown}, straight pull only", "NOT FOR LIFTING / PEOPLE",
             f"Length {plan.facts.pin_to_pin.shown} pin to pin", f"Made by {BLANK} on {BLANK}", f"Inspect by {BLANK}"]
    return (*lines, INVENTED) if plan.invented else tuple(lines)


def record_lines(plan: Plan) -> tuple[str, ...]:
    """What is written down for each piece or batch; none for practice."""
    if plan.practice:
        return ()
    reel, row, factor = plan.reel, plan.row, plan.factor
    certificate = f"{certificate_name(reel)} ({show_force(reel.certificate_n, plan.system)})" if reel.certificate else "none; table strength"
    gauge = f"{row.gauge}, due {plan.gauge.due_on}" if plan.gauge else BLANK
    return (f"Date and time {BLANK}   Maker {BLANK}   Checker {BLANK}",
            f"Reel {reel.id}, lot {reel.lot}; certificate {certificate}",
            f"Sleeve {plan.sleeve_metal} {reel.size}, lot {BLANK}   Thimble lot {BLANK}",
            f"Tool {plan.chart.tool}, cavity {row.cavity}; gauge {gauge}; chart {plan.chart.id} edition {plan.chart.edition}",
            f"Crimps on first / second sleeve ____ / ____   each gauged: passed {BLANK}",
            f"Pressed again (place, reason) {BLANK}",
            f"Tail before ____ / ____   after ____ / ____   Pin to pin {BLANK}",
            f"Pull (load, instrument, how it ended) {BLANK}   Tag no. {BLANK}",
            f"{_upper_first(plan.facts.required[1].removeprefix('the '))}, from {plan.load_owner}; factor {factor.value:g}, from {factor.owner}",
            f"Rejects, cause, destroyed by {BLANK}")


def _upper_first(text: str) -> str:
    """The text with its first letter large and all others as they were."""
    return text[:1].upper() + text[1:]
