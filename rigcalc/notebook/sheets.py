"""The sheets of lesson 05: recap, abilities, bench practice sheet, sources."""

from __future__ import annotations

from rigcalc.layout import TAIL_DIAMETERS, cut_length_mm
from rigcalc.notebook import forming_an_eye as eye
from rigcalc.notebook import lesson
from rigcalc.notebook.bench_units import by_rule, to_write
from rigcalc.notebook.press_stops import press_stops
from rigcalc.reference import constant, full_source, table
from rigcalc.rating import efficiency
from rigcalc.sleeve import chart_line, order_words

__all__ = ["abilities", "practice_sheet", "recap", "sources"]

LESSON = "05"
PRACTICE_MM = 600.0  # pin to pin of the practice piece: a length of this workbook's own, nobody's order


def recap() -> lesson.Block:
    """The lesson on one page."""
    k = eye.kit()
    lines = (
        "Read the labels: reel, bag, tool, gauge. No label, no sleeve. Missing fact: stop and ask.",
        "Pair: aluminium on galvanised, plated copper on stainless. Aluminium on stainless: never.",
        "Measure the bare cable over its crowns. The sleeve's size is the bare cable's size.",
        "Cut through tape, with a cable cutter. End square and round. Tape off. Show the end.",
        "Thread: legs side by side, not crossed. Thimble snug, its points at the sleeve.",
        f"Tail: at least {TAIL_DIAMETERS} d before pressing, marked with a pen. Show it.",
        f"Chart out. For {k.size} in here: tool {k.chart.tool}, cavity {k.row.cavity}, {k.row.count} crimps; {order_words(k.row)}.",
        "Sleeve upright, centred, square. One full stroke, until the jaws meet.",
        "Gauge every crimp, fully on, turned. Not on: press again once. Then stop, and check back.",
        "Look: tail still shows, no crack, no flash, thimble firm. A pass at the gauge is never enough.",
        "Cut length: pin to pin, less bearing to sleeve at each end, plus loop, sleeve and tail before pressing at each end.",
        "Never for lifting, for people, for aircraft, lifts or vehicles.",
    )
    return lesson.recap_sheet("Forming an eye: recap", lines, f"Chart in force: {chart_line(k.chart)}")


def abilities() -> lesson.Block:
    """What can be shown after the lesson, each line tied to its skill."""
    return lesson.abilities(LESSON)


def practice_sheet() -> lesson.Block:
    """A sheet to print for the bench: one piece with two eyes, its limits from the chart in force; one eye a column."""
    k = eye.kit()
    cut = cut_length_mm(PRACTICE_MM, k.parts, k.parts, diameter_mm=k.diameter_mm)
    shop, unit = k.shop, to_write(k.shop)
    parts = f"loop {by_rule(k.loop_mm, shop)}, sleeve {by_rule(k.row.sleeve_before_mm, shop)}, tail {by_rule(k.tail_mm, shop, 'up')} at each end"
    gauge = f"{k.row.gauge or 'of the tool'}, slot {k.row.gauge_slot or k.size}: every crimp goes on, turned"
    gap = f", gaps at least {by_rule(k.row.minimum_gap_mm, shop, 'up')}" if k.row.minimum_gap_mm else ""
    bench = (
        ("Labels read: reel, sleeve bag, tool, gauge in date", "", True), ("Cable over crowns, three places", unit, True, 3),
        (f"Cut to {by_rule(cut.total_mm, shop)} for {by_rule(PRACTICE_MM, shop)} pin to pin ({parts})", unit, True),
        ("STOP: cut end shown, square, tape off",), ("Thimble snug, its points at the sleeve, legs not crossed",),
        (f"STOP: tail before pressing, at least {by_rule(k.tail_mm, shop, 'up')}, marked", unit))
    tool = (
        *press_stops(shop, k.chart, k.row), (f"Tool {k.chart.tool}, cavity {k.row.cavity}, sleeve upright",),
        ("STOP: first stroke, jaws meet",), ("STOP: first crimp gauged",),
        (f"Crimps counted aloud: {k.row.count}{gap}; {order_words(k.row)}", "count"), (f"Gauge {gauge}",),
        ("Tail still shows after pressing",), (f"Sleeve after pressing; others here came to {by_rule(k.row.sleeve_after_mm, shop)}", unit),
        ("Thimble firm, no crack, no flash",), ("Eyes in one plane", "", True),
        (f"Pin to pin: {by_rule(PRACTICE_MM, shop)}, within {by_rule(shop.bench.pin_to_pin_tolerance_mm, shop, 'down')}", unit, True))
    steps = lesson.by_place({"At the bench": bench, "At the tool": tool})
    title = f"Bench practice sheet: one piece, two eyes, {k.size} in {k.construction} {eye.CABLE_METAL}, {k.chart.sleeve_metal} sleeves"
    foot = ("STOP means: hands off, call the person beside you, wait for the initials. First press: only with somebody beside you. Name of that person: ______________________ "
            "Every practice piece carries PRACTICE tape and is cut through the sleeve the same day.")
    return lesson.bench_sheet(title, steps, ("Eye 1", "Eye 2"), chart_line(k.chart), shop.invented, k.note, foot)


def sources() -> lesson.Block:
    """Statement, source and how it is known, for what the lesson says."""
    k = eye.kit()
    force = next(row for row in table("cable_strength") if row.size == k.size)
    share = efficiency(eye.SLEEVE_METAL, eye.CABLE_METAL, k.construction)
    tail = constant("tail before pressing")
    book = full_source(force.source)
    rows = (
        ("breaking force of the cable", f"{force.source}, {force.locator}: {book}", force.how_known),
        (f"an eye is taken to hold {share.value:.0%} of it", "only with: " + "; ".join(share.conditions), share.how_known),
        (f"tail of at least {TAIL_DIAMETERS} d before pressing", tail.locator, tail.how_known),
        ("never cut with a torch; look at a sleeve that tilts, open and set it straight", f"{force.source}, 7-147b and 7-148b(2)", "read"),
        ("bind both sides of the cut with wire (seize it), or cut through tape", "TM 5-3810-305-10, p 4-34 (seizing); tape on small cable", "read; tape: common practice"),
        ("which metals may go together", "pairing table of this workbook", "common practice"),
        ("count, order, gauge, lengths of the sleeve", chart_line(k.chart), "INVENTED" if k.shop.invented else "the maker's chart"),
        ("press again once, then stop and check back", "house rule of this workbook", "common practice"),
        ("faults and what the gauge sees", "the trade", "common practice"),
        ("how thick a size may measure: its band", "AC 43.13-1B, Table 7-3, tolerance column: " + book, "read"),
        ("length of the practice piece", "chosen for this workbook", "INVENTED"),
        ("flats reading, fill of the bore, cut length", "worked out by this workbook from the sizes", "computed"),
        ("shape of the pressed sleeve", "drawn so that the metal keeps its volume; it shows the idea and rates nothing", "computed"),
    )
    return lesson.sources(rows)
