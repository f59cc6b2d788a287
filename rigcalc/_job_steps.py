"""The words of a job sheet's work: the parts, the coating to strip, the crimps, the gauging and the steps with their hold points."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rigcalc._job_sheet import HOLD_POINTS, CrimpPicture, Item, Part, Step
from rigcalc._order_figures import caliper, sheet_length
from rigcalc.cable import band_mm, construction
from rigcalc.cautions import INVENTED_GAUGE
from rigcalc.sleeve import order_words
from rigcalc.units import show_length

if TYPE_CHECKING:
    from rigcalc._job_plan import Plan

__all__ = ["crimp_items", "crimp_picture", "gauge_items", "parts_to_draw", "strip_lines", "work_steps"]


# --- parts and stripping ------------------------------------------------------------------------------

def parts_to_draw(plan: Plan) -> tuple[Part, ...]:
    """Reel, sleeves, thimbles, tool and gauge, with trial pieces and those to be pulled allowed for."""
    row, reel = plan.row, plan.reel
    coat = f" coated to {reel.coating_to}" if reel.coating_to else ""
    parts = [Part(f"Cable {reel.size} {reel.construction} {reel.metal}{coat}, reel {reel.id}", _cable_count(plan), reel.lot),
             Part(f"Sleeves {reel.size} {plan.sleeve_metal}", _ends_count(plan, 2))]
    if plan.layout.thimble:
        thimble = plan.layout.thimble
        parts.append(Part(f"Thimbles for {thimble.size} cable, {thimble.metal}", _ends_count(plan, sum(eye.kind == "eye" for eye in plan.layout.eyes))))
    if plan.layout.strips:
        parts.append(Part("Stripper set to the coat, and a lens", "1", blank="Number"))
    if plan.tool is not None:
        cavity = f"cavity {row.cavity}" if row.cavity else "no cavity stands in the chart in force"
        parts.append(Part(f"Tool {plan.tool.id}, {plan.tool.name}, {cavity}", "1", blank="Number"))
    else:
        parts.append(Part("Swaging tool of your own: the chart in force names none", "1", blank="Number"))
    parts.append(Part(f"Gauge {row.gauge}, slot {row.gauge_slot}" if row.gauge
                      else "Gauge of the tool: none stands in the chart in force", "1", blank="Number"))
    if plan.links:
        parts += [Part(f"Fitting: {name}", f"one for each line, {plan.facts.quantity} where a line is one piece", blank="Mark") for name, _ in plan.links.links[1:]]
    return tuple(parts)


def _cable_count(plan: Plan) -> str:
    """Every length to cut with its count."""
    cuts = "; ".join(f"{piece.quantity} x {show_length(piece.cut_mm, plan.system)}" for piece in plan.layout.pieces)
    beside = [f"{plan.cuts.pulled} for pieces to be pulled"] if plan.cuts.pulled else []
    trial = plan.layout.trial
    beside += [f"{trial.quantity * plan.cuts.trial} x {show_length(trial.cut_mm, plan.system)} for a trial {'lap' if plan.is_ring else 'piece'}"] if plan.cuts.trial else []
    return cuts + (f", and {' and '.join(beside)}" if beside else "")


def _ends_count(plan: Plan, each: int) -> str:
    """A part of which each piece takes so many."""
    return f"{each * plan.facts.quantity}{_beside(plan, each)}"


def _beside(plan: Plan, each: int) -> str:
    """What trial pieces and pulled pieces take beside the order."""
    words = []
    if plan.cuts.pulled:
        words.append(f"{each * plan.cuts.pulled} for pieces to be pulled")
    if plan.cuts.trial:
        words.append(f"{each * plan.cuts.trial} for {'a trial piece' if plan.cuts.trial == 1 else 'trial pieces'}")
    return f", and {' and '.join(words)}" if words else ""


def strip_lines(plan: Plan) -> tuple[str, ...]:
    """The coating to strip, measured from the cut end, for each end of the cable."""
    lines = []
    for name, strip in zip(("First end", "Second end"), plan.layout.strips):
        # Outward: a mark on the wrong side would leave coat in the sleeve.
        dead, coat, live = (show_length(mark, plan.system, way) for mark, way in zip(strip.marks_mm, ("up", "down", "up")))
        lines.append(f"{name}, from the cut end: bare to {dead}; the coat stays to {coat}, in the loop; bare to {live}, on the live leg.")
    if lines:
        lines.append("Both legs are bare for the sleeve, its growth and the tail. No wire nicked: cloth and lens. The bare band stays to be seen.")
    return tuple(lines)


def _order(plan: Plan) -> str:
    """The order of the chart in force; a soft eye and a lap have no thimble to count from."""
    return order_words(plan.row).replace("the thimble", _beside_first(plan))


def _beside_first(plan: Plan) -> str:
    """What the crimps are counted from."""
    return "the gap between the sleeves" if plan.is_ring else "the thimble" if plan.layout.thimble else "the eye"


def crimp_picture(plan: Plan) -> CrimpPicture:
    """What the pressed sleeve is drawn from."""
    row = plan.row
    return CrimpPicture(row.size, plan.sleeve_metal, row.count, row.order, row.sleeve_after_mm, row.crimp_width_mm, row.minimum_gap_mm,
                        _beside_first(plan).removeprefix("the "))


# --- crimps and gauge ---------------------------------------------------------------------------------

def crimp_items(plan: Plan) -> tuple[Item, ...]:
    """Count, order and room for the crimps, each from the chart in force."""
    row, system = plan.row, plan.system
    items = [Item("Count on each sleeve", f"{row.count}"), Item("Order", _order(plan))]
    if row.order_source:
        items.append(Item("Order stands in", row.order_source))
    if row.cavity:
        items.append(Item("Tool and cavity", f"{plan.chart.tool}, cavity {row.cavity}"))
    if row.minimum_gap_mm is not None:
        items.append(Item("Gap between crimps", f"at least {sheet_length(row.minimum_gap_mm, system, 'up')}, even to "
                          f"{sheet_length(plan.bench.gap_tolerance_mm, system, 'down')}; none over the sleeve's end"))
    sleeve = plan.layout.sleeve
    if sleeve.growth_mm:
        items.append(Item("Sleeve before and after", f"{show_length(sleeve.before_mm, system)}, then about "
                          f"{show_length(sleeve.after_mm, system)} ({sleeve.growth_from})"))
    if plan.is_ring:
        low, high = plan.layout.lap.gap_after_mm
        items.append(Item("For a lap", "the chart draws an eye: ask the tool maker whether its order holds for a lap splice too"))
        items.append(Item("Gap between the sleeves", f"{sheet_length(plan.layout.lap.gap_mm, system)} before pressing; "
                          f"{sheet_length(low, system, 'down')} to {sheet_length(high, system, 'up')} after, and to be seen"))
    return tuple(items)


def gauge_items(plan: Plan) -> tuple[Item, ...]:
    """What is gauged with what; a gauge out of date judges nothing."""
    row, gauge = plan.row, plan.gauge
    if gauge is None:
        return (Item("Gauge", "none stands in the chart in force: ask the tool maker; nothing made here is passed"),)
    dates = f"checked {gauge.checked_on}, due {gauge.due_on}{', both days invented' if plan.invented else ''}"
    if not gauge.in_date(plan.on):
        dates += f": {gauge.mark(plan.on)}, judge nothing with it"
    items = [Item("Gauge and slot", f"{gauge.id}, slot {row.gauge_slot} ({dates})"),
             Item("What is gauged", f"each of the {row.count} crimps on each sleeve: all the way on, and turned")]
    if row.gauge_max_mm is not None:
        items.append(Item("Greatest size over a crimp", caliper(row.gauge_max_mm, plan.system, "down")))
    items.append(Item("A pass", "is needed and never enough: look for cracks, fins, a curve, a buried tail" + (", a loose thimble" if plan.layout.thimble else "")))
    items.append(Item("No pass", "press again once, same place; still no pass: scrap the piece, take the tool out of use, "
                      "gauge again all pressed since the last good gauging"))
    if plan.invented:
        items.append(Item("Warning", INVENTED_GAUGE))
    return tuple(items)


# --- steps --------------------------------------------------------------------------------------------

def work_steps(plan: Plan) -> tuple[Step, ...]:
    """The steps in the order of the work; four of them end at a hold point: stop, and show."""
    texts = [*_before_pressing(plan), *_threading(plan), *_pressing(plan), *_after_pressing(plan)]
    return tuple(Step(n, text, hold) for n, (text, hold) in enumerate(texts, 1))


def _before_pressing(plan: Plan) -> list[tuple[str, str]]:
    reel, system = plan.reel, plan.system
    low, high = band_mm(reel.size)
    inner = construction(reel.construction).wires_per_strand
    thimbles = ", thimbles" if plan.layout.thimble else ""
    bare = "Strip a short end first. " if reel.coating_to else ""
    steps = [
        (f"Read every label against this sheet before touching a tool: reel {reel.id}, bag of {reel.size} "
         f"{plan.sleeve_metal} sleeves{thimbles}. Write the lots above. A bag without a label goes back.", ""),
        ("Eye protection on, now and until the last piece is finished. Reel braked, cut end held.", ""),
        ("Write tool and gauge numbers. Tool: jaws clean, closing fully when empty. The first press of the day is gauged.", ""),
        (f"{bare}Measure the {'bare core' if reel.coating_to else 'cable'} over the crowns at three places: {caliper(low, system, 'down')} to "
         f"{caliper(high, system, 'up')}. No kink, rust, flat place, broken wire or birdcage. "
         f"At the cut end count {inner} wires in a strand.", ""),
        (f"Mark {_marks(plan)}. One turn of tape over the mark; cut through the tape with a cable cutter, never a torch. "
         "The end is square and round, with no hooked wire.", HOLD_POINTS[0])]
    if plan.cuts.trial:
        steps.insert(-1, (_trial(plan), ""))
    if plan.layout.strips:
        steps.append(("Strip both ends as the sheet says, along the lay and never across it. Run a cloth over the wires and look through the lens: "
                      "a nicked wire is cut back.", ""))
    return steps


def _trial(plan: Plan) -> str:
    """What is made first, for a new size or sleeve lot."""
    if plan.is_ring:
        return "First a trial lap of two short pieces, for a new size or sleeve lot: make it by all the steps below, look at it and cut it open."
    trial = plan.layout.trial
    return (f"First a trial piece, {trial.length_shown} pin to pin, for a new size or sleeve lot: cut it to {show_length(trial.cut_mm, plan.system)}, make it by all the steps below and "
            f"measure it. What it came out longer than {trial.length_shown} is taken off every cut, what shorter is added: give it as the order's correction, and print this sheet again.")


def _marks(plan: Plan) -> str:
    """What is marked for cutting: each kind of piece by its name."""
    kinds = [f"{show_length(piece.cut_mm, plan.system)}{f' for {piece.name}' if piece.name else ''}" for piece in plan.layout.pieces]
    return "; ".join(kinds)


def _threading(plan: Plan) -> list[tuple[str, str]]:
    layout, system = plan.layout, plan.system
    tail, why = show_length(layout.tail_mm, system, "up"), "two diameters or more" + _outgrown(plan)
    if layout.lap:
        return [("Take the tape off. Slide both sleeves on; lead the two ends past each other through both, side by side, not crossed, no wire caught.", ""),
                (f"Set both outer tails to {tail}, {why}, and the gap between the sleeves to {sheet_length(layout.lap.gap_mm, system)}. "
                 "Mark the cable with a pen at both sleeves' edges.", HOLD_POINTS[1])]
    if layout.eyes[0].kind == "eye":
        return [("Take the tape off. Slide a sleeve on, lead the cable round the thimble and back through the sleeve: "
                 "both legs side by side, not crossed, no wire caught.", ""),
                (f"Draw the cable snug: thimble groove full, points at the sleeve. Set the tail to {tail}, {why}, "
                 "and mark the cable with a pen at the sleeve's edge.", HOLD_POINTS[1])]
    return [("Take the tape off. Slide a sleeve on, lead the cable back through it: both legs side by side, not crossed, no wire caught.", ""),
            (f"{_soft_words(plan)} Set the tail to {tail}, {why}, and mark the cable with a pen at the sleeve's edge.", HOLD_POINTS[1])]


def _outgrown(plan: Plan) -> str:
    """That the tail outlasts the growth, where the growth is known."""
    return " and longer than the sleeve grows, so that it still shows" if plan.layout.sleeve.most_growth_mm else ""


def _soft_words(plan: Plan) -> str:
    """How a soft eye is set on its pin."""
    eye = next(eye for eye in plan.layout.eyes if eye.kind == "soft eye")
    return (f"Set the eye on a pin of {show_length(eye.pin_mm, plan.system)}: {show_length(eye.length_mm, plan.system, 'up')} from the sleeve to the "
            "pin's centre, the wires not opened at the crown.")


def _pressing(plan: Plan) -> list[tuple[str, str]]:
    row = plan.row
    cavity = f"cavity {row.cavity}" if row.cavity else "the cavity that the tool's marking gives"
    first = f"at place {row.order[0]}" if row.order else "where the maker says to begin (ask the maker)"
    firm = ", thimble firm" if plan.layout.thimble else ""
    tails = "both outer tails" if plan.is_ring else "tail"
    return [
        (f"Sleeve upright, square and centred in {cavity}, {first}. Close a little, stop and look: "
         "tail mark still at the edge, sleeve upright.", HOLD_POINTS[2]),
        ("Close fully in one steady stroke. If the sleeve tilts: open, centre again, finish. Gauge this crimp.", HOLD_POINTS[3]),
        (f"Go on by the chart: {_order(plan)}. Count the {row.count} crimps aloud, each to full closure, gaps even, "
         "none over the sleeve's end.", ""),
        (f"Gauge every one of the {row.count} crimps, all the way on and turned. No pass: press again once, same place.", ""),
        (f"Look: no crack, no fins, sleeve straight, {tails} still showing{firm}. Reject what is not so, and say why.", "")]


def _after_pressing(plan: Plan) -> list[tuple[str, str]]:
    return [_second_end(plan), ("Paint a witness mark from each sleeve's mouth on to the live cable.", ""), _measuring(plan),
            *([("Pull each piece to its proof load, as under Proof and release, behind the guard, nobody in line; look at it again and write the load down.", "")]
              if plan.proof and not plan.practice else []),
            *([(_lot_pull(plan), "")] if plan.lot and not plan.practice else []),
            (_ending(plan), ""),
            *([] if plan.practice else [
                ("Hand over, with the sheet for the customer: " + ("what it may not do" if plan.is_ring else "the limit, straight pull only") +
                 ", what to look at, when to look, when to throw it away.", "")])]


def _lot_pull(plan: Plan) -> str:
    """The pull of the lot, or that it has been shown."""
    if plan.lot.verdict:
        return "The lot has shown its strength, as under Proof and release: see that its pulled pieces were thrown away, and deliver none of them."
    return ("Pull the pieces that were made for it, behind the guard, nobody in line: write each force and how it ended. "
            "Release nothing before the lot has shown its strength.")


def _second_end(plan: Plan) -> tuple[str, str]:
    """The second eye of a piece, or the second sleeve of a lap."""
    if plan.is_ring:
        return (f"Second sleeve: the same {plan.row.count} crimps in the same order, gauging and looking again, with the same hold points. "
                "A gap can still be seen between the sleeves.", "")
    before = "its sleeve goes on before its thimble" if plan.layout.eyes[1].kind == "eye" else f"a soft eye. {_soft_words(plan)} Its sleeve goes on first"
    return (f"Second eye: {before}. Lay it flat with the first eye, no twist in the cable, and "
            "do the threading, pressing, gauging and looking again, with the same hold points.", "")


def _measuring(plan: Plan) -> tuple[str, str]:
    """What is measured on the finished piece."""
    either = f"{sheet_length(plan.bench.pin_to_pin_tolerance_mm, plan.system, 'down')} either way"
    lengths = "; ".join(f"{piece.name + ' ' if piece.name else ''}{piece.length_shown}" for piece in plan.layout.pieces)
    if plan.is_ring:
        return (f"Measure round the ring: {lengths}, {either}.", "")
    return (f"Measure pin to pin: {lengths}, {either}.", "")


def _ending(plan: Plan) -> str:
    if plan.practice:
        return "PRACTICE tape on the piece; the same day cut it through the sleeves or lock it away. No tag, no record."
    return ("Tag it. A second person checks this sheet against the piece (alone: after a break, written down as self-checked); fill in the record; "
            "destroy rejects through the sleeve.")
