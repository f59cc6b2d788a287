"""The sheets of lesson 00: recap, abilities, bench practice sheet, sources."""

from __future__ import annotations

from rigcalc.notebook import lesson
from rigcalc.notebook.teaching import eye_for_teaching
from rigcalc.reference import constant, full_source
from rigcalc.sleeve import chart_line

__all__ = ["abilities", "practice_sheet", "recap", "sources"]

LESSON = "00"


def recap() -> lesson.Block:
    """The lesson on one page."""
    lines = (
        "Before any sum: what is it for?",
        "Lifting, people, fall arrest, aircraft, lifts, vehicles: refused. Once is no exception. No sum changes it.",
        "Refuse in one sentence, and say whom to ask instead.",
        "If it lets go, who can be under it, beside it, in its fall or in its whip? Does it move?",
        "Nobody can be there: the shop's own factor, with the name of who set it.",
        "People can be there: only with a named designer's factor and load.",
        "The chart of the maker of this tool and sleeve governs. Then the shop's rule. Then published practice.",
        "A chart holds for the tool and sleeve at its head, in its edition, and for nothing else.",
        "What somebody says counts for nothing, however often it is said.",
        "No label, no chart, no load, no factor: stop and ask. Nobody guesses.",
        "“It will be all right” is no load. “Hand tight” is no load.",
        "Eye protection from the first cut to the last pull. Cut ends held, then taped. Reel braked.",
        "Fingers out of the jaws. No pipe on the handles. Sweep up cut wires.",
        "Whoever sees a danger stops the work. That is not rude.",
    )
    return lesson.recap_sheet("Start here: recap", lines, f"Chart in force: {chart_line(eye_for_teaching()[0].chart)}")


def abilities() -> lesson.Block:
    """What can be shown after the lesson, each line tied to its skill."""
    return lesson.abilities(LESSON)


def practice_sheet() -> lesson.Block:
    """A walk round the shop with nothing pressed: find, read, point."""
    one, note = eye_for_teaching()
    gauge = one.row.gauge or "of the tool"
    wall = ((f"Chart of tool {one.chart.tool} found; its edition read aloud", "edition"),
            (f"Count read from it for {one.size} in {one.chart.sleeve_metal}", "count"), (f"Gauge {gauge} found, its date read aloud", "date"),
            ("STOP: sleeve bag held up. Without a label: what now?",), ("The shop's factor, its owner and scope said aloud",), ("Two orders read: which is refused, and who is told whom to ask",))
    walk = (("Reel label read: size, construction, metal, certificate",), ("STOP: a cut with a cable cutter: end held, aimed down, then taped",), ("STOP: tool closed empty, fingers shown clear of the jaws",),
            ("Floor looked over, cut wires swept up",), ("One thing here that I would stop the work for",))
    steps = lesson.by_place({"": (("Eye protection on; show where the spare pairs hang",),), "At the wall": wall, "On the walk": walk})
    foot = "Nothing is pressed on this walk. The cut is made only with somebody beside you. Seen by: ______________________"
    return lesson.bench_sheet("Bench practice sheet: the first walk round the shop", steps, ("First walk", "A week later"), chart_line(one.chart),
                              one.shop.invented, note, foot)


def sources() -> lesson.Block:
    """Statement, source and how it is known, for what the lesson says."""
    one, _ = eye_for_teaching()
    gravity = constant("standard gravity")
    rows = (
        ("three classes of use; refused without exception", "rule of this workbook: no published factor covers hand-pressed static work", "common practice"),
        ("which paper governs: maker, shop, published practice", "the trade", "common practice"),
        ("centre, thimble side, far end: the order printed for copper sleeves of aircraft", f"AC 43.13-1B, 7-148c: {full_source('AC 43.13-1B')}", "read"),
        ("broken wires are looked for with a cloth; guard and eyes at the pull bench", "AC 43.13-1B, 7-146, 7-147 and 7-149d", "read"),
        ("the other rules of the bench", "the trade", "common practice"),
        ("cut wires go through boots and tyres; fall and whip as drawn", "the trade; drawn to show the idea, no reach is stated", "common practice"),
        ("standard gravity; pounds-force and newtons", f"{gravity.locator}; yard and pound agreement of 1959", "defined"),
        ("count, gauge, edition", chart_line(one.chart), "INVENTED" if one.shop.invented else "the shop's chart"),
        ("letters, customers, people", "the course's own orders; each letter has its order file, which decides", "INVENTED"),
    )
    return lesson.sources(rows)
