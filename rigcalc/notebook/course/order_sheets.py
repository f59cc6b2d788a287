"""The sheets of lesson 12: recap, abilities, bench practice sheet, sources."""

from __future__ import annotations

from rigcalc.notebook import lesson
from rigcalc.notebook.bench_units import by_rule, to_write
from rigcalc.notebook.course.order_desk import NOT_YOUR_CHART, lantern, sample_shop
from rigcalc.notebook.kits import kits
from rigcalc.notebook.teaching import page_chart, shop_for_teaching
from rigcalc.reference import full_source
from rigcalc.sleeve import chart_line

__all__ = ["abilities", "practice_sheet", "recap", "sources"]

LESSON = "12"


def recap() -> lesson.Block:
    """The lesson on one page."""
    lines = (
        "First ask who can be there. The answer can end the order.",
        "Ask for every fact that is open, in one letter. What you do not know you do not make up.",
        "Do not ask the customer what the chart, the rack or the designer answers.",
        "People can be there: a named person, that person's factor, load and day. Else: nothing is made.",
        "A wish is no fact. The pairing table and the chart say yes or no to it.",
        "Refuse in writing: no, why, whom to ask. A thicker cable or a signature changes nothing.",
        "On the sheet each line has its reason, and each figure its owner.",
        "The limit covers the pull and the design load. It is one figure, worked once, rounded down.",
        "Of the whole line the least governs. Speak for your own pieces; ask for the other marks.",
        "Cut list: pieces, trial pieces, and one kerf for each cut. Then what is left.",
        "Tag: piece, cable and sleeves, limit with its unit, straight pull only, NOT FOR LIFTING / PEOPLE, length, made by, inspect by.",
        "It is no sling: no word and no form on the tag may look like one.",
        "A second person checks the piece against the sheet in force. What is not written was not done.",
        "Hand over in words: what it may carry, where to look, when first, when again, when to throw it away.",
        "Slack at the first look: the paint line first. Moved: out of use, and ask. Not moved: tighten only at the turnbuckle, to the stated tension.",
    )
    return lesson.recap_sheet("From order to job sheet: recap", lines, page_chart(lantern().chart_line, sample_shop(), NOT_YOUR_CHART))


def abilities() -> lesson.Block:
    """What can be shown after the lesson, each line tied to its skill."""
    return lesson.abilities(LESSON)


def practice_sheet() -> lesson.Block:
    """An order from its letter to its tag, at the bench: one piece of the shop in force, with its sheet, tag and record."""
    shop, note = shop_for_teaching()
    made = kits(shop)
    one = next((kit for kit in made if kit.size == "1/8"), made[0])
    row, tolerance, unit = one.row, shop.bench.pin_to_pin_tolerance_mm, to_write(shop)
    letter = (
        ("Letter read; every open question written down", "how many"),
        ("Questions asked of whoever plays the customer; answers written with the name",),
        ("Class of use said aloud, with who can be there",),
        ("STOP: the answer in writing: make, ask or refuse",))
    paper = (
        (f"Sheet made: {one.size}, {one.chart.sleeve_metal} sleeves, tool {one.chart.tool}, {row.count} crimps each",),
        ("Limit on the sheet, and who set the factor", "lbf or N"),
        ("To cut, and left on the reel", unit, False, 2),
        ("STOP: sheet compared with order and chart, before the first cut",),
        ("Tag written, every line; compared with the sheet",))
    release = (
        (f"The finished piece of an earlier lesson taken: crimps counted ({row.count}), gauge results read",),
        (f"Pin to pin ({by_rule(tolerance, shop, 'down')} either way)", unit),
        ("Tails and witness marks seen at both sleeves",),
        ("Record filled: lots, maker, checker",),
        ("STOP: release, or what stops it, said to the checker",),
        ("Hand-over spoken: what it may carry, where and when to look",))
    steps = lesson.by_place({"At the letter": letter, "At the sheet and the tag": paper, "At the release": release})
    return lesson.bench_sheet(f"Bench practice sheet: one order, {one.size} in, from letter to tag", steps, ("First order", "Second order"), chart_line(one.chart), shop.invented, note,
                              "The trainer writes the letter, and leaves something out. One of the two orders is to be refused: then its column ends at the first stop.")


def sources() -> lesson.Block:
    """Statement, source and how it is known, for what the lesson says."""
    shop = sample_shop()
    rows = (
        ("what must be asked before any sum, and in which order", "rule of this workbook", "common practice"),
        ("people can be there: only a named designer's factor and load", "rule of this workbook: no published factor covers hand-pressed static work", "common practice"),
        ("breaking force of the lantern's cable", f"AC 43.13-1B, Table 7-3, p 7-28: {full_source('AC 43.13-1B')}", "read"),
        ("what an eye holds, taken once", "the trade; carried over to plated copper on stainless", "common practice"),
        ("pairs refused by the sea, and the months between two looks", "the pairing table of lesson 03", "common practice"),
        ("pull of a loaded wire from span and sag", "statics, lesson 10", "computed"),
        ("cut length and cut list", "geometry; kerf, keep length and trial piece from the shop file", "computed"),
        ("lines of the tag and of the record", "the trade", "common practice"),
        ("a tag like a sling's is for slings only", "29 CFR 1926.251(c)(16)", "read"),
        ("rejects are destroyed, and nothing is stamped on a sleeve", "WAC 296-24-29405(9); DOE-STD-1090-96", "read"),
        ("first look after the first full load or the first week, whichever is sooner; then by the place; paint line before tightening", "the trade", "common practice"),
        ("count, order and gauge", lantern().chart_line, "INVENTED"),
        ("the shop, its factor, its reels, customers, designer, letters, orders 3, 9 and 10", f"{shop.name}; sheets of {lantern().made_on}", "INVENTED"),
    )
    return lesson.sources(rows)
