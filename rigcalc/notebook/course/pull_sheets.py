"""Lesson 11, its sheets: opening, recap, abilities, bench practice sheet, sources."""

from __future__ import annotations

from rigcalc.cable import breaking_force
from rigcalc.notebook import lesson
from rigcalc.notebook.course.hangings import kit
from rigcalc.notebook.course.proof_pulls import procedure
from rigcalc.notebook.course.pulled_lots import CONFIDENCE, COVERAGE, needed_said, whole
from rigcalc.notebook.kits import CABLE_METAL
from rigcalc.notebook.teaching import NOT_YOURS, shop_for_teaching
from rigcalc.proof import proof_loads
from rigcalc.pulltest import zero_failure_size
from rigcalc.rating import EFFICIENCY
from rigcalc.reference import constant, full_source
from rigcalc.sleeve import chart_line

__all__ = ["abilities", "cautions", "opening", "practice_sheet", "recap", "sources"]

LESSON = "11"


def opening() -> lesson.Block:
    """The chart in force and whether the shop is invented."""
    shop, note = shop_for_teaching()
    return lesson.opening_lines(chart_line(kit().chart), shop.invented, note)


def recap() -> lesson.Block:
    """The lesson on one page."""
    (proof, not_own), count = procedure(), zero_failure_size(reliability=COVERAGE, confidence=CONFIDENCE).pieces
    lines = (
        "Guard shut, nobody in line, hands off under load. Only then begin.",
        "Bring the load up slowly. Read aloud. Let it off before anyone looks close.",
        "Write down: piece, greatest force, gauge, how it ended.",
        f"Proof load: the published rules conflict. The shop's procedure chooses; here: {proof.rule}{f' ({NOT_YOURS})' if not_own else ''}.",
        "Never above the cap, whatever a book says. A load above it is refused.",
        f"A reading counts from {float(constant('proof load, instrument below').value):g} % under the load up to the load. Below: pull again. Above: set the piece aside.",
        "A pull that was held shows this piece, this load, this day. Gauge, count and look stay.",
        "A lot: first how each ended. One slip below the force needed rejects it; any slip shows nothing.",
        "Then the bound: mean less k times the standard deviation, the figure for the spread. k goes by pieces, share and confidence (how sure), each by its name.",
        "Bound at or above what is needed, one ending, none below: shown. Else: not shown. Not shown is not proven bad.",
        "Mean and lowest sign nothing. No pull is left out.",
        "Anybody may hold a lot, at any time. One that slipped, or lies below, is reason enough.",
        f"Without the bound: {count} pieces that all hold, for {COVERAGE:.0%} with {CONFIDENCE:.0%} confidence.",
        "Six say nothing of another size, metal, tool, hand, day or bag, nor of wear.",
        "A lot's test pieces, broken or stopped short of breaking, are cut up and thrown away. Never delivered.",
        "A proof pull is no test of a lot: held at the proof load, below what the procedure allows, its piece goes out.",
    )
    return lesson.recap_sheet("Proof and pull tests: recap", lines, f"Chart in force: {chart_line(kit().chart)}")


def abilities() -> lesson.Block:
    """What can be shown after the lesson, each line tied to its skill."""
    return lesson.abilities(LESSON)


def practice_sheet() -> lesson.Block:
    """A sheet for the bench: six pieces of one lot pulled to break, as in the scene, limits from the shop's chart."""
    k, (shop, note) = kit(), shop_for_teaching()
    reel = next(one for one in shop.reels if one.size == k.size and one.metal == CABLE_METAL and not one.coating_to)
    breaking = breaking_force(reel.size, reel.construction, reel.metal, reel.certificate_n, reel.certificate).force_n
    needed = whole(float(breaking * EFFICIENCY), "up")
    bench = (("Labels: reel, bag, tool, gauge in date", "", True), (f"Each eye: {k.row.count} crimps gauged; tail shows",), ("Proof: its load, time held", "figures", True, 2))
    frame = (
        ("Pull gauge in date; taken blind", "", True), ("STOP: guard shut, nobody in line, hands off; shown", "", True),
        ("Load up slowly, read aloud; load off before anyone looks",), ("Greatest force", "figure and unit"), ("Ended: C cable, M mouth, S slipped, T thimble, L let off", "letter"),
        ("All pulled are cut up, by", "name", True))
    sums = (
        (f"Needed: {needed} (90 % of the breaking force). Mean, standard deviation", "figures", True, 2),
        (f"k for {COVERAGE:.0%} with {CONFIDENCE:.0%} confidence; bound", "figures", True, 2), ("STOP: the lot: shown, not shown, rejected; shown to the trainer", "", True))
    steps = lesson.by_place({"At the table": bench, "At the frame": frame, "At the sums": sums})
    sheet = lesson.bench_sheet(f"Bench practice sheet: pull a lot, {k.size} in {k.construction} {CABLE_METAL}", steps, tuple(f"Piece {number}" for number in range(1, 7)), chart_line(k.chart),
                              shop.invented, note, "One slipped, or below what is needed: hold the lot at once. Never pull alone. Name of the person beside you: ______________________")
    # six columns are too many for the width that a blank has on other sheets: the page would not hold them
    return lesson.Block(sheet.html.replace('<td class="blank">', '<td class="blank" style="min-width:1.2cm">'), sheet.text)


def cautions() -> lesson.Block:
    """The cautions of every lesson."""
    return lesson.cautions()


def sources() -> lesson.Block:
    """Statement, source and how it is known, for what the lesson says."""
    below, share, least = constant("proof load, instrument below"), constant("eye efficiency"), constant("least coverage and confidence of a pulled lot")
    proof, stands_in = procedure()
    rules = {row.rule: row for row in proof_loads(100.0, 1000.0)}
    rows = (
        ("pull behind a guard", full_source("AC 43.13-1B") + ", 7-146 and 7-147", "read"),
        ("nobody in line, load raised slowly, never touched under load; what to write down", "the trade", "common practice"),
        *((f"proof: {row.rule}" if row.kind == "load" else f"proof, cap: {row.rule}", f"{row.source}; written for {row.equipment}", row.how_known) for row in rules.values()),
        ("rule, cap and hold in force here", f"{proof.procedure}, set by {proof.set_by}", "INVENTED" if shop_for_teaching()[0].invented or stands_in else "the shop's procedure"),
        (f"a reading counts from -{float(below.value):g} % to the load", f"{full_source('DOE-STD-1090-96')}, {below.locator}", below.how_known),
        (f"an eye is taken to hold {float(share.value):.0%} of the cable", share.locator, share.how_known),
        ("the one-sided bound: mean less k standard deviations", full_source("NIST e-Handbook"), "read, second-hand"),
        ("printed factors for 90 % with 95 % confidence", "composite materials handbook CMH-17, B-basis, as public tests transcribe it", "read, second-hand"),
        (f"least share and confidence of a lot: {float(least.value):.0%}", least.locator, least.how_known),
        ("pieces without a failure", "binomial with no failure; the n + 1 convention from a printed success-run table", "computed; read"),
        ("verdicts of lots that ended in several ways, or were stopped", "this workbook's judgement", "judgement"),
        (f"order 8, its lots, the next forty, {needed_said()} needed", "the course's own order, made with the invented sample shop; other lots drawn by chance", "INVENTED"),
        ("the dent in the guard", "a story of the invented bench", "INVENTED"),
    )
    return lesson.sources(rows)
