"""Lesson 06, its worked example and its sheets: from the bag to the gauge, recap, abilities, bench practice sheet, sources."""

from __future__ import annotations

from rigcalc.figures.drawing import millimetres
from rigcalc.notebook import lesson
from rigcalc.notebook.bench_units import by_rule, to_write
from rigcalc.notebook.course.crimping import disagreeing, finished_plan, lesson_job, marks_mm, page_line
from rigcalc.notebook.press_stops import press_stops
from rigcalc.notebook.teaching import of_the_scene, shop_for_teaching
from rigcalc.reference import full_source
from rigcalc.sleeve import chart_line, copper_counts_from_memory, order_words, other_sleeves_order, oval_in_the_jaws

__all__ = ["abilities", "another_order", "cautions", "practice_sheet", "recap", "sources", "spacing", "worked"]

LESSON = "06"


def spacing() -> lesson.Block:
    """How the bare metal of the finished sleeve is shared out, step by step."""
    job, plan = lesson_job(), finished_plan(lesson_job())
    row, bare = job.row, job.row.sleeve_after_mm - job.row.count * job.row.crimp_width_mm
    rows = (("sleeve after pressing", millimetres(row.sleeve_after_mm, 1)), (f"{row.count} crimps of {millimetres(row.crimp_width_mm, 1)}", millimetres(row.count * row.crimp_width_mm, 1)),
            ("left bare", millimetres(bare, 1)), (f"shared by {len(plan.gaps_mm)} gaps and 2 ends", f"gaps {millimetres(plan.gaps_mm[0], 1)}, ends {millimetres(plan.end_mm, 1)}" if plan.gaps_mm else millimetres(plan.end_mm, 1)),
            ("pen marks on the unpressed sleeve, from the thimble end: what grows up to there taken off", ", ".join(f"{at:.1f}" for at in marks_mm(job)) + " mm"),
            ("the chart asks of a gap", f"at least {millimetres(row.minimum_gap_mm, 1)}" if row.minimum_gap_mm else "nothing"))
    return lesson.table(("Step", f"{row.size} {job.chart.sleeve_metal}, tool {job.chart.tool}"), rows, "Sharing out the bare metal (computed; figures of the chart in force)")


def worked() -> lesson.Block:
    """From the bag to the gauge, one step a line: the lesson's own sleeve."""
    job, plan = lesson_job(), finished_plan(lesson_job())
    row, chart = job.row, job.chart
    rows = (("1. Read the bag", f"{chart.sleeve_metal}, {row.size}"), ("2. Read the tool", f"{chart.tool or 'not named'}"),
            ("3. The chart of that metal and that tool", chart_line(chart)), ("4. Its row for the size", f"cavity {row.cavity}: {row.count} crimps"),
            ("5. The order", order_words(row)), ("6. Even shares", f"gaps {millimetres(plan.gaps_mm[0], 1)}, ends {millimetres(plan.end_mm, 1)}" if plan.gaps_mm else f"ends {millimetres(plan.end_mm, 1)}"),
            ("7. How the sleeve stands", oval_in_the_jaws().says.split(". ")[0]), ("8. The gauge", f"{row.gauge or 'of the tool'}, slot {row.gauge_slot or row.size}, on every crimp"))
    return lesson.answer(lesson.table(("Step", "The gate's sleeve"), rows, "From the bag to the gauge" + (" (INVENTED shop)" if chart.invented else "")))


def another_order() -> lesson.Block:
    """The circular's order and counts of aircraft copper sleeves, each marked as another sleeve's."""
    other = other_sleeves_order()
    rows = [("order", other.sleeve, f"places {', then '.join(map(str, other.order))}", f"{other.source}: read")]
    counts = copper_counts_from_memory()
    rows.append(("counts", "aircraft copper sleeves", "; ".join(f"{one.size}: {one.presses}" for one in counts), counts[0].label))
    return lesson.table(("What", "Whose", "It says", "What it is worth here"), rows, other.says)


def recap() -> lesson.Block:
    """The lesson on one page."""
    job, plan, (one, other) = lesson_job(), finished_plan(lesson_job()), disagreeing()
    row = job.row
    lines = (
        "Four things find a row: sleeve metal, size, tool, cavity. One is missing: no count.",
        "Read the chart's head first: metal, tool, edition, who copied it, who checked it.",
        of_the_scene(f"A count belongs to one tool. {one.row.size} {one.chart.sleeve_metal}: {one.row.count} in {one.chart.tool}, {other.row.count} in {other.chart.tool}. Both stand, each at its own bench", one.shop) + ".",
        "Count and order are taken together, from one chart. Never one from each.",
        "No row between two rows. No size from its neighbour. No chart of that tool: press nothing that will be used. Ask.",
        "More crimps are no stronger. Crimps that lie on each other thin the sleeve: reject.",
        f"Gaps even, within {millimetres(job.shop.bench.gap_tolerance_mm, 1)} of their mean" + (f", none under {millimetres(row.minimum_gap_mm, 1)}." if row.minimum_gap_mm else ".") + " None over the end.",
        (f"On this sleeve: gaps and ends of about {millimetres(plan.end_mm, 1)} on the finished sleeve." if plan.gaps_mm and abs(plan.gaps_mm[0] - plan.end_mm) < 0.05 else f"On this sleeve: ends of {millimetres(plan.end_mm, 1)} on the finished sleeve."),
        "The order is the chart's. Where the chart gives none, ask the maker before the first stroke.",
        "End to end, without the chart's order, curves the sleeve (common practice).",
        "Upright, centred, square. It leans, and no metal has moved: open, stand it up, close again fully.",
        "Metal has moved while it leaned or lay flat: a reject for good. Cut it off; a new eye on fresh cable.",
        "A hole that fits is no chart. A size that no tool here has: none will do. A longer handle is no wider range.",
        "A sleeve begun in one tool is never finished in another.",
        "Count aloud. Then gauge each crimp: the gauge does not count.",
    )
    return lesson.recap_sheet("Crimps: recap", lines, page_line(job))


def abilities() -> lesson.Block:
    """What can be shown after the lesson, each line tied to its skill."""
    return lesson.abilities(LESSON)


def practice_sheet() -> lesson.Block:
    """A sheet for the bench: two sleeves pressed by the chart in force, one a column."""
    _, note = shop_for_teaching()
    job, plan = lesson_job(), finished_plan(lesson_job())
    row, chart, shop, unit = job.row, job.chart, job.shop, to_write(job.shop)
    least = f", none under {by_rule(row.minimum_gap_mm, shop, 'up')}" if row.minimum_gap_mm else ""
    force = (
        *press_stops(shop, chart, row), ("Bag, tool and cavity read aloud", "words"), (f"STOP: chart {chart.id}, edition {chart.edition}, row {row.size} shown",),
        (f"Tool {chart.tool}, cavity {row.cavity}; jaws clean, close empty on paper",),
        (f"Count and order from the row: {row.count}; {order_words(row)}", "words"),
        (f"Places marked with a pen; a crimp is {by_rule(row.crimp_width_mm, shop)} wide",), ("STOP: tail set and marked; sleeve upright, centred, square",),
        ("STOP: first stroke, jaws meet",), ("It leaned as the jaws touched it: opened, stood up, closed fully (how often)", "times"),
        ("STOP: metal moved as it leaned? Cut it off; a new eye on fresh cable",),
        (f"Crimps counted aloud: {row.count}", "count"), (f"Gaps, each within {by_rule(shop.bench.gap_tolerance_mm, shop, 'down')} of their mean{least}", unit, False, max(1, len(plan.gaps_mm))),
        ("No crimp over the end, no crack, sleeve straight",), (f"STOP: every crimp gauged, {row.gauge or 'gauge of the tool'}, slot {row.gauge_slot or row.size}",),
        (f"Sleeve after pressing; the chart says {by_rule(row.sleeve_after_mm, shop)}", unit))
    second = (("Its chart's head and row read aloud: count, order", "words", True), ("Six sleeves, in the order of their numbers: the fault of each", "words", True, 6))
    steps = lesson.by_place({"At the tool in force": force, "At the second tool": second})
    return lesson.bench_sheet(f"Bench practice sheet: crimps, {row.size} {chart.sleeve_metal}", steps, ("Sleeve 1", "Sleeve 2"), chart_line(chart), chart.invented, note,
                              "Nobody makes the first press alone. Fingers never between jaws. A reject is cut through the same hour, with its cause.")


def cautions() -> lesson.Block:
    """The cautions of every lesson."""
    return lesson.cautions()


def sources() -> lesson.Block:
    """Statement, source and how it is known, for what the lesson says."""
    job, other, oval = lesson_job(), other_sleeves_order(), oval_in_the_jaws()
    circular = full_source("AC 43.13-1B").rstrip(".")
    rows = (
        ("counts, orders, cavities, lengths and gaps", "; ".join(dict.fromkeys(chart_line(one.chart) for one in (job, *disagreeing()))), "INVENTED" if job.chart.invented else "the maker's charts; INVENTED where it says so"),
        ("gaps even to the shop's own limit", "the shop file, bench", "INVENTED" if job.shop.invented else "the shop's own"),
        ("counts for a hand swager, aluminium", "the trade; for practice only, they give no order", "common practice"),
        ("even gaps, none over the end; where crimps come to lie", "the trade; geometry of the finished sleeve", "common practice; computed"),
        ("growth shared evenly over the strokes; half to either side", "a sketch for the drawings of this page", "a sketch, rates nothing"),
        ("rows that can be pressed on this page", "those whose gaps have a step of the jaws to spare; a tighter row wants a stop and a rule", "a choice for the page"),
        ("the order of an aircraft copper sleeve", f"{circular}, {other.source.partition(', ')[2]}", "read; another sleeve's, never pressed by here"),
        ("the circular's copper counts", f"{circular}, Table 7-6", "from memory: accepts nothing"),
        ("upright, centred; when it tilts: open, re-centre, finish", f"{circular}, {oval.source.partition(', ')[2]}", "read"),
        ("a sleeve whose metal moved while it leaned or lay flat is a reject for good", "the trade", "common practice"),
        ("a sleeve pressed from end to end curves", "the trade", "common practice"),
        ("cavity too small: fins, thinned metal, the gauge passes it; too large: a fat crimp", "the trade", "common practice"),
        ("a crimp over the end splits it; an extra or overlapped one is a reject", "the trade", "common practice"),
    )
    return lesson.sources(rows)
