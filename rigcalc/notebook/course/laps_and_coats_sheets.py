"""The sheets of lesson 08: recap, abilities, bench practice sheet, sources."""

from __future__ import annotations

from rigcalc._job_layout import BARE_BAND_MM
from rigcalc.layout import lap_splice, strip_mm, tail_to_set_mm
from rigcalc.notebook import lesson
from rigcalc.notebook.bench_units import by_rule, to_write
from rigcalc.notebook.course.laps_and_coats import LIKED, NOT_YOUR_CHART, coated, kit, sheet_lengths
from rigcalc.notebook.course.strip_and_set import BAND_RULE
from rigcalc.notebook.kits import Kit, kits
from rigcalc.notebook.press_stops import press_stops
from rigcalc.notebook.teaching import page_chart, shop_for_teaching
from rigcalc.reference import constant, full_source
from rigcalc.sleeve import chart_line, order_words

__all__ = ["abilities", "practice_sheet", "recap", "sources"]

LESSON = "08"


def recap() -> lesson.Block:
    """The lesson on one page."""
    one = kit()[0]
    lines = (
        f"“{LIKED}–{coated()}”: the first figure is the cable, the second is the coat.",
        "Everything goes by the core: sleeve, count, gauge, limit.",
        f"Strip both legs: tail, sleeve, what the sleeve grows, and a bare band: {BAND_RULE}. Tail: growth and band at least, and two diameters.",
        "Score, bend, pull the way the strands run. Cloth, then lens. One nicked wire: cut back.",
        "No coat in the sleeve, before pressing and after.",
        "The thimble goes by what lies in its groove: coat or core.",
        "A tail is covered only when it has been gauged and written down, and its end still shows.",
        "A lap: two sleeves, the same count on each, never one.",
        "Gap: what one sleeve grows, and one to two diameters more. Look at it before the second sleeve is pressed.",
        "Two outer tails. Look at both ends before you press, and at both ends after.",
        "A lap has no limit, unless the shop has pulled a lot of its own. Tag: no lifting.",
        "No lap in lifting, slings, stays, in anything that hangs, or where people can be.",
        "Coated cable can't be looked at: a bulge, a crack, a stain is a reject.",
    )
    return lesson.recap_sheet("Lap splice and coated cable: recap", lines, page_chart(chart_line(one.chart), one.shop, NOT_YOUR_CHART))


def abilities() -> lesson.Block:
    """What can be shown after the lesson, each line tied to its skill."""
    return lesson.abilities(LESSON)


def practice_sheet() -> lesson.Block:
    """The sheet for the bench in the page's size where the shop makes it, and folded under it one for each other size of the shop."""
    made = sorted(kits(shop_for_teaching()[0]), key=lambda one: one.size != LIKED)
    return lesson.bench_sheets({f"{one.size} in, tool {one.chart.tool}": _sheet_of(one) for one in made})


def _sheet_of(one: Kit) -> lesson.Block:
    """A coated eye and a lap of one size, limits from the chart in force."""
    (shop, note), (before, growth, tail) = shop_for_teaching(), sheet_lengths(one)
    strip = strip_mm(before, growth, tail, one.loop_mm, BARE_BAND_MM)
    outer = tail_to_set_mm(one.diameter_mm, growth)
    made = lap_splice(one.diameter_mm, before, growth, outer, (one.row.count,) * 2, "closed ring", "nobody")
    least, unit = by_rule(tail, shop, "up"), to_write(shop)
    knife = (
        (f"Label read: core and coat; sleeve for {one.size} in from a labelled bag",), ("Bare core over crowns, three places", unit), (f"Bare on each leg: {by_rule(strip.each_leg_mm, shop)}", unit),
        ("STOP: both legs shown, cloth and lens, no nick",))
    lap = ((f"Lap: both outer tails at least {by_rule(outer, shop, 'up')}, marked", unit), (f"Lap: gap {by_rule(made.gap_band_mm[0], shop, 'up')} to {by_rule(made.gap_band_mm[1], shop, 'down')}", unit))
    tool = (
        *press_stops(shop, one.chart, one.row), (f"Eye: tail at least {least} (growth and bare band), marked", unit), ("Eye: thimble or pin by what lies in it",), ("STOP: sleeve's place shown, no coat in it, gap and tails",),
        (f"Tool {one.chart.tool}, cavity {one.row.cavity}: {one.row.count} crimps on each sleeve; {order_words(one.row)}; at a lap the chart says from which end, or ask", "count"),
        ("STOP: first stroke, jaws meet",), ("STOP: first crimp gauged",), ("STOP: the lap's gap looked at before its second sleeve is pressed",), ("Every crimp gauged, on and turned",), ("Bare band still seen; lap: gap still open", unit),
        ("STOP: tails after pressing; lap: both outer ends",), ("Said aloud: where this may not be used",))
    steps = lesson.by_place({"At the knife": knife, "At the lap": lap, "At the tool": tool})
    foot = "First press: only with somebody beside you. Name: ______________________ PRACTICE tape from the first cut; cut through the sleeve the same day."
    return lesson.bench_sheet(f"Bench practice sheet: a coated eye and a lap, {one.size} in", steps, ("Eye", "Lap"), chart_line(one.chart), shop.invented, note, foot)


def sources() -> lesson.Block:
    """Statement, source and how it is known, for what the lesson says."""
    one = kit()[0]
    gap, band = constant("gap of a lap splice, least"), constant("bare band, least")
    rows = (
        ("two sleeves in a lap", f"AC 43.13-1B, 7-148d: {full_source('AC 43.13-1B')}", "read"), ("gap: growth and one to two diameters", gap.locator, gap.how_known),
        ("no lap on suspension ropes: eye splices with thimbles and shackles only", "WAC 296-874-30018(1)", "read"), ("no limit for a lap without the shop's own pulled lot", "rule of this workbook: none was ever read", "common practice"),
        (f"strip both legs; a bare band, {BAND_RULE}", band.locator, band.how_known), ("broken wires are felt with a cloth", "AC 43.13-1B, 7-149d", "read"),
        ("pin of a soft eye at least two diameters", constant("pin of a soft eye").locator, constant("pin of a soft eye").how_known), ("soft eye of three pin diameters", constant("length of a soft eye").locator, constant("length of a soft eye").how_known),
        ("breaking forces by size", "AC 43.13-1B, Tables 7-3 and 7-4", "read"), ("strip, loop, lap, ring: the lengths", "worked out by this workbook from the chart's lengths", "computed"),
        ("how a knife is led; thimble by what lies in its groove; where the growth goes", "the trade", "common practice"), ("usual pairs of core and coat on labels", "the trade", "common practice"),
        ("sleeve lengths, count, cavity", chart_line(one.chart), "INVENTED" if one.shop.invented else "the shop's chart"), ("orders 4, 6 and 7", "the course's own orders", "INVENTED"))
    return lesson.sources(rows)
