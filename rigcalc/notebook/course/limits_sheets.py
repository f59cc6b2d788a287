"""The sheets of lesson 09: recap, abilities, bench practice sheet, sources."""

from __future__ import annotations

from rigcalc.notebook import lesson
from rigcalc.notebook.bench_units import to_write
from rigcalc.notebook.course.hangings import kit
from rigcalc.notebook.course.limits import down, factor_words, force_of, pull_words, rated, reels, share_of, shop_factor, stands_in, waved
from rigcalc.notebook.kits import CABLE_METAL
from rigcalc.notebook.teaching import shop_for_teaching
from rigcalc.published import published_factors
from rigcalc.rating import EFFICIENCY_CONDITIONS
from rigcalc.reference import constant, full_source
from rigcalc.sleeve import chart_line
from rigcalc.temperature import HIGHEST_C, LOWEST_C

__all__ = ["abilities", "practice_sheet", "recap", "sources"]

LESSON = "09"


def recap() -> lesson.Block:
    """The lesson on one page."""
    lines = (
        "Class of use first: can anybody be under it, beside it, in its fall or whip? Does it move? What is it for?",
        "Lifting, people, aircraft, lifts, vehicles: refused. No factor makes it allowed.",
        "Nobody there, static: the shop's factor, with owner, day and scope. People there: only the designer named on this order.",
        "A factor from a rule book belongs to that equipment. It is never taken.",
        "Breaking force: the lower of table and certificate. Neither: refuse. Size by the bare core, metal by the label.",
        f"Times the efficiency of the eyes, once, though there are two. {float(constant('eye efficiency').value):.0%} is common practice, with all of these: {', '.join(EFFICIENCY_CONDITIONS)}. For plated copper on stainless it is carried over: the sleeve maker's figure counts.",
        "Divided by the factor, once.",
        "Then rounded down, with its unit. A strength to ask for is rounded up.",
        "Between rated sizes and off the table there is no answer.",
        "The line: compare working limits with working limits. The least governs. A mark is never divided again.",
        "An eyebolt loses under an angle: its own chart's next row, or its maker. No mark, no limit.",
        f"Cold and warm: the least of cable, sleeve and coat. Outside {float(LOWEST_C):g} to +{float(HIGHEST_C):g} °C ask the makers.",
        f"Soft eye: pin at least {float(constant('pin of a soft eye').value):g} cable diameters, eye at least {float(constant('length of a soft eye').value):g} pin diameters. No bend factor on an eye.",
        "Look at the figure once more: is it below the breaking force? Whose name stands by the factor?",
    )
    return lesson.recap_sheet("What it may carry: recap", lines, f"Chart in force: {chart_line(kit().chart)}")


def abilities() -> lesson.Block:
    """What can be shown after the lesson, each line tied to its skill."""
    return lesson.abilities(LESSON)


def practice_sheet() -> lesson.Block:
    """A sheet for the bench: one line laid out, every mark read, its limit worked; the figures for checking stand at its foot."""
    (shop, note), one = shop_for_teaching(), kit()
    reel = next(r for r in reels() if (r.size, r.metal, r.coating_to) == (one.size, CABLE_METAL, None))
    found, unit = rated(reel, shop_factor()), "lbf" if shop.system == "US" else "N or kN"
    pin, eye = constant("pin of a soft eye"), constant("length of a soft eye")
    strip = (
        ("Class of use said aloud: who can be there, does it move",), ("Factor: owner, day and scope read aloud from the shop file",),
        ("STOP: class and factor seen to belong together",), ("Size over the bare cable; metal from the reel's label", "size, metal"),
        ("Table's breaking force", unit), ("Certificate's breaking force", unit), ("The lower, ringed", unit), ("Times the efficiency, once", unit), ("Divided by the factor, once, rounded down", unit))
    line = (
        ("Marks read on shackle, turnbuckle, hook, eyebolt", unit), ("Angle off the eyebolt's shank; its chart's row", "°, " + unit), ("Governing link, touched with a finger",),
        ("STOP: the limit and its name shown to the trainer before anything is written on a tag",))
    ends = ((f"Soft eye: pin ({float(pin.value):g} cables), eye ({float(eye.value):g} pins) measured", to_write(shop), False, 2),)
    steps = lesson.by_place({"At the strip": strip, "At the line": line, "At the eye": ends})
    foot = (f"Fold this line under, and check with it at the end: {reel.label}, {pull_words(force_of(reel).force_n)} x {share_of(reel).value:.2f} ÷ {shop_factor().value:g} = {down(found.stated_n)}. "
            f"Nothing laid out here is loaded or hung. {stands_in()}").strip()
    return lesson.bench_sheet(f"Bench practice sheet: read and rate a line, {one.size} {one.construction} {CABLE_METAL}", steps, ("Line 1", "Line 2", "Line 3"),
                              chart_line(one.chart), shop.invented, note, foot)


def sources() -> lesson.Block:
    """Statement, source and how it is known, for what the lesson says."""
    share, low, pin, eye = constant("eye efficiency"), constant("lowest temperature"), constant("pin of a soft eye"), constant("length of a soft eye")
    scaffold = next(one for one in published_factors() if one.note.startswith("applied after"))
    rows = (
        ("breaking forces", f"{full_source('AC 43.13-1B')}, Table 7-3, p 7-28", "read"),
        ("the lower of table and certificate counts", "this workbook's rule: the cable's own certificate counts", "judgement"),
        (f"an eye is taken to hold {float(share.value):.0%}", share.locator, share.how_known),
        ("the same for zinc-plated copper on stainless", "carried over from aluminium: not read for that pair", "common practice, carried over"),
        ("efficiency first, then the factor", f"a printed rule of other equipment has the same order: {scaffold.equipment}, {scaffold.source}; for comparison", scaffold.how_known),
        ("classes of use, and who owns the factor", "this workbook's judgement", "judgement"),
        ("factors of other equipment", "each from the text beside it", "; ".join(dict.fromkeys(one.how_known for one in waved()))),
        ("the shop's factor", factor_words(shop_factor()), "INVENTED" if shop_for_teaching()[0].invented or stands_in() else "the shop's file"),
        ("weakest link; side push at a soft eye", "statics: links of one line carry the same pull; each leg of an eye carries half", "computed"),
        (f"common temperatures {float(LOWEST_C):g} to +{float(HIGHEST_C):g} °C", low.locator, low.how_known),
        ("the military coat; slings' temperatures", "each from the text beside it; the aluminium ferrule's is from memory", "read; from memory"),
        (f"pin at least {float(pin.value):g} cable diameters", pin.cited, pin.how_known),
        (f"eye at least {float(eye.value):g} pin diameters", eye.locator, eye.how_known),
        ("bend curve", full_source("wire rope users manual"), "from memory: it shows, it rates nothing"),
        ("6 mm cable by metric factors", "EN 12385-4 factors, quoted in a technical note", "read, second-hand"),
        ("orders, fittings, their marks and angle chart, makers' letters", "the course's own orders and the invented sample shop", "INVENTED"),
    )
    return lesson.sources(rows)
