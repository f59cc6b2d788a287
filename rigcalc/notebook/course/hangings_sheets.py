"""The sheets of lesson 10: recap, abilities, bench practice sheet, sources."""

from __future__ import annotations

import math
from html import escape

from rigcalc.cable import breaking_force
from rigcalc.errors import Refusal
from rigcalc.legs import LOWEST_ANGLE_RAD
from rigcalc.notebook import lesson
from rigcalc.notebook.bench_units import to_write
from rigcalc.notebook.course.hangings import kit
from rigcalc.notebook.kits import CABLE_METAL
from rigcalc.notebook.teaching import shop_for_teaching
from rigcalc.rating import limit
from rigcalc.reference import constant, full_source
from rigcalc.sleeve import chart_line
from rigcalc.spans import GREATEST_SAG

__all__ = ["abilities", "last_stop", "practice_sheet", "recap", "sources"]

LESSON = "10"
LEAST = f"{math.degrees(LOWEST_ANGLE_RAD):g}"


def _limit_words() -> str:
    """The limit of the practice cable in the shop's own class of use, with who set its factor; or the refusal."""
    shop, one = shop_for_teaching()[0], kit()
    reel = next(r for r in shop.reels if (r.size, r.metal, r.coating_to) == (one.size, CABLE_METAL, None))
    try:
        if not shop.factors:
            raise Refusal("no design factor", "a factor with the name of who set it", "ask whoever answers for the shop")
        force = breaking_force(one.size, one.construction, CABLE_METAL, certificate_n=reel.certificate_n, certificate=reel.certificate)
        found = limit(force, shop.factors[0], "nobody", system=shop.system)
    except Refusal as refusal:
        return str(refusal)
    return f"{found.shown_us if shop.system == 'US' else found.shown_si}, factor set by {found.owner} for {found.scope}"


def recap() -> lesson.Block:
    """The lesson on one page."""
    lines = (
        "First: if it lets go, who can be under it, beside it, in its fall or in its whip? Does it move? That is asked before any sum.",
        "Legs, brace or span? Say which shape it is. Each has a rule of its own.",
        "An angle without its line is no angle: from the horizontal, from the plumb line, or between the legs. Ask.",
        "Two like legs: half of the load, over the sine of the angle from the horizontal. The sine: up, over the leg's length.",
        "Unlike legs, points level: each one's upright share goes by the other's distance. Then over the sine of its own angle.",
        "Two unlike legs: the steeper one pulls harder. Points level: the short one, near the plumb line. Not level: it may be the long one. Work out both.",
        f"Legs under a load: {LEAST} degrees from the horizontal or more. Flatter is refused.",
        "A cable only pulls. Where it would have to push, it is slack, and another one has its load.",
        "Four legs never share alike. Weight in the middle: count on two. Out of it: work out each two and three, size for the worst. Never count on four.",
        "A brace: moments about the hinge, each force times its distance. It may stand flat; nothing hangs from it. Nobody swings on it. Whoever opens its gate stands beside it: locked and fenced, or a named designer.",
        "A span: no sag, no answer. One load: half of it over the sine. Spread: weight times span over eight times the sag.",
        "Half the sag, twice the pull. Name the pull at both ends: the walls have to hold it.",
        "A pull is no limit. The limit is force, times efficiency, over a named person's factor.",
        "Never for lifting, for people, for aircraft, lifts or vehicles.",
    )
    return lesson.recap_sheet("Legs, braces and spans: recap", lines, f"Chart in force: {chart_line(kit().chart)}")


def abilities() -> lesson.Block:
    """What can be shown after the lesson, each line tied to its skill."""
    return lesson.abilities(LESSON)


def practice_sheet() -> lesson.Block:
    """A sheet for the bench: three small hangings of cord, measured, worked and read on a spring scale."""
    shop, note = shop_for_teaching()
    one, unit = kit(), "lbf" if shop.system == "US" else "N"
    steps = [lesson.Step(*one) for one in (
        ("Class of use said aloud: who can be under it, beside it, in its fall or whip; does it move",), ("Shape said aloud: legs, brace or span",),
        ("STOP: low over the bench, nobody's hand or foot below, a bag of sand on a cord, nothing else",),
        ("The bag on the scale, written as a force (brace: its own bag, hung at the middle of the strip)", unit), ("Hand laid on the line from which the angle is measured",),
        ("Across (span: half of what lies between its ends)", to_write(shop)), ("Up (span: the sag)", to_write(shop)), ("Angle from the horizontal, worked from these two", "°"),
        (f"STOP: legs at {LEAST}° or more (brace and span have no such rule)", "", True), ("Pull, worked before anybody reads the scale", unit),
        ("Pull, read on a spring scale in the cord", unit), ("Governs, or slack: letter written on the cord",),
        ("The same again: legs wider, gate heavier by the small bag, half the sag", unit),
        (f"STOP: what would {one.size} in {one.construction} {CABLE_METAL} be good for, and by whose factor?", f"{unit}, name", True))]
    foot = "Cord and sand only: no cable is loaded here, and no piece made on this sheet is ever hung. Seen by: ______________________"
    return lesson.bench_sheet("Bench practice sheet: three hangings of cord, measured, worked and read", steps, ("Legs, at the hooks", "Brace, at the bench", "Span, at the hooks"),
                              "", shop.invented, note, foot, ("Spring scale no.",))


def last_stop() -> lesson.Block:
    """For the trainer: what the practice cable is good for, which the sheet's last stop asks for."""
    one = kit()
    words = f"{one.size} in {one.construction} {CABLE_METAL}: {_limit_words()}. The cord of this sheet has no limit: it is no cable, and nobody has rated it."
    return lesson.Block(f'<details class="trainer"><summary>Trainer: what the sheet\'s last stop comes to</summary><p>{escape(words)}</p></details>', words)


def sources() -> lesson.Block:
    """Statement, source and how it is known, for what the lesson says."""
    least = constant("lowest leg angle")
    rows = (
        ("two legs, plumb and at 30 degrees: the printed example", f"NAVEDTRA 14080, p 3-23: {full_source('NAVEDTRA 14080')}", "read"),
        (f"load-carrying legs below {LEAST} degrees are refused", least.locator, least.how_known),
        ("tightrope: the printed example", "University Physics 1 (open text), Common Forces; it rounds 3935 N to 3930 N, and to 3.94 thousand later", "read"),
        ("a boom held by a cable: the printed example", "Engineering Statics (open text), chapter 3, Cargo Boom", "read"),
        ("legs, braces, stays, spans: the pulls", "statics, the sums of things at rest: forces at a point and moments about a hinge add up to nothing", "computed"),
        ("where a load comes to rest on legs of given lengths", "geometry: the lowest point that every leg lets it reach", "computed"),
        ("of four legs two are counted on; three is another rule in use", "the trade; with a central load only two opposite legs can be in balance", "common practice; computed"),
        (f"parabola up to a sag of {GREATEST_SAG:g} of the span", constant("greatest parabola sag").locator, constant("greatest parabola sag").how_known),
        ("parabola against catenary", "geometry of the catenary, solved for the same sag", "computed"),
        ("stretch of the lantern's wire", "stiffness of the cable (its modulus) on the metal in it, a range: it rates nothing", "from memory"),
        ("orders 1, 3, 4, 5: customers, designers, factors, loads", "the course's own orders, sheets made with the invented sample shop", "INVENTED"),
        ("limit on the practice sheet", chart_line(kit().chart), "INVENTED" if shop_for_teaching()[0].invented else "the shop's chart"),
    )
    return lesson.sources(rows)
