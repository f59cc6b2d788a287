"""Lesson 07, its tables and sheets: press again, rejects, end of life, recap, abilities, bench practice sheet, sources."""

from __future__ import annotations

import re

from rigcalc.figures import Figure, faults
from rigcalc.figures.faults import FAULTS as DRAWN
from rigcalc.notebook import lesson
from rigcalc.notebook.bench_units import by_caliper, to_write
from rigcalc.notebook.course.crimping import Row, lesson_job, page_line
from rigcalc.notebook.course.gauge_boards import READINGS, edges
from rigcalc.notebook.course.inspecting import FAULTS, STEPS, steps_of
from rigcalc.notebook.press_stops import press_stops
from rigcalc.notebook.teaching import shop_for_teaching
from rigcalc.reference import full_source, table
from rigcalc.removal import LOOKS, Inspection, broken_wires_allowed, removal
from rigcalc.shop import Shop
from rigcalc.sleeve import chart_line, order_words

__all__ = ["abilities", "causes", "cautions", "drawn_faults", "faults_told", "findings", "in_service", "practice_sheet", "recap", "rejects", "sources"]

LESSON = "07"
SET = 6  # pieces of the sealed set, as the trainer's day makes them up


def drawn_faults() -> Figure:
    """Six faults, a letter each."""
    return faults(told=())


def faults_told() -> lesson.Block:
    """What each drawing shows, its cause and the gauge's word."""
    rows = [("ABCDEF"[at], name, " ".join(words.split()), seen) for at, (name, (words, seen)) in enumerate(DRAWN.items())]
    return lesson.answer(lesson.table(("", "fault", "cause", "gauge sees it"), rows, "Six faults and their causes (common practice)"))


def causes() -> lesson.Block:
    """From what is seen to where it came from: the step to look at again, each fault under every step that may have made it."""
    rows = [("before the first press: the tool on its paper, the gauge on its pins" if step == STEPS[0][0] else step,
             "; ".join(one.name for one in FAULTS if step in steps_of(one.key))) for step, _ in STEPS]
    return lesson.answer(lesson.table(("Look again at", "when you see"), rows, f"The fault names the step: {len(FAULTS)} faults, of {len(table('gauge_sees'))} kinds (common practice)"))


def rejects() -> lesson.Block:
    """Which faults have a second chance on the bench."""
    rows = [(one.name, one.do) for one in FAULTS if one.key in ("fat", "larger", "missing", "long tail")]
    return lesson.answer(lesson.table(("Fault of a new piece that nothing has loaded", "what may be done"), [*rows, ("all others: a bent sleeve, bunched crimps, crimps on each other too", "scrap: no crimp is added, nothing is pressed again")], "Who gets a second chance (common practice)"))


def _seen(**more) -> Inspection:
    plain = {"construction": "7x19", "broken_at_sleeve": 0, "broken_in_8d": 0, "coat": "none", **dict.fromkeys(LOOKS, False)}
    return Inspection(**(plain | more))


def _findings() -> tuple[tuple[str, dict], ...]:
    most = broken_wires_allowed("7x19")
    return (("one broken wire at the sleeve", {"broken_at_sleeve": 1}), ("the witness mark has moved by a hair", {"moved_mark": True}), ("the tail no longer shows at a sleeve", {"tail_gone": True}),
            ("white bloom at the mouth, no red", {"white_bloom": True}), ("red rust at the mouth", {"red_rust": True}), ("a crack in the sleeve", {"crack": True}), ("the thimble rattles", {"loose_thimble": True}),
            (f"{most} broken wires in 8 diameters, far from any sleeve", {"broken_in_8d": most}), (f"{most + 1} broken wires in 8 diameters, far from any sleeve", {"broken_in_8d": most + 1}),
            ("a kink, far from any sleeve", {"kinked": True}), ("a flat place, far from any sleeve", {"flattened": True}), ("a blue mark of heat", {"heat_or_arc": True}),
            ("nothing to be seen, but it fell with its load", {"overloaded_or_fell": True}), ("all is sound, but its tag is gone", {"tag_unread": True}))


def findings() -> lesson.Block:
    """What is found on a 7x19 piece that has worked, before anything is said of it."""
    rows = [(at, words) for at, (words, _) in enumerate(_findings(), 1)]
    return lesson.table(("", "Found on a 7x19 piece in service"), rows, numbers=(0,))


def in_service() -> lesson.Block:
    """The same findings, judged by the house rule, with what is done where that is not the same for all."""
    rows = []
    for at, (words, found) in enumerate(_findings(), 1):
        told = removal(_seen(**found))
        own = {"white_bloom": next((note for note in told.notes if "bloom" in note), ""), "tag_unread": told.do}
        more = "".join(words for name, words in own.items() if name in found)
        rows.append((at, words, told.verdict, more[:1].upper() + more[1:]))
    return lesson.when_said(lesson.table(("", "Found on a 7x19 piece in service", "house rule", "and then"), rows, "Out or stay", numbers=(0,)))


def _slot(job: Row) -> str:
    row = job.row
    return f"{row.gauge or 'the gauge of the tool'}, slot {row.gauge_slot or row.size}"


def _rows() -> list[Row]:
    """The rows of the page's shop, the one to begin with first: one that may be pressed today, of more than one crimp, the lesson's own where it is such a one."""
    own = lesson_job()
    found = [Row(own.shop, chart, row) for chart in own.shop.charts for row in chart.rows if chart.kind == "maker"]
    return sorted(found, key=lambda one: (bool(press_stops(one.shop, one.chart, one.row)), one.row.count < 2, one.key != own.key, one.chart.sleeve_metal != own.chart.sleeve_metal))


def recap() -> lesson.Block:
    """The lesson on one page."""
    job = _rows()[0]
    rows = table("gauge_sees")
    unseen = sum(one.seen == "no" for one in rows)
    lines = (
        "Before work: jaws clean, paper held at both ends, faces meet before the handles stop.",
        "First piece of the day: press it, gauge it, keep it on the bench till evening.",
        "Read the gauge's number and its days. Out of date: it judges nothing, and what it gauged since that day is gauged again with another.",
        f"Every crimp, the slot of its own size, all the way on, then turn it. Here: {_slot(job)}.",
        "The next larger slot lets a fat crimp through.",
        "Not on? Press again once, same place, full stroke; gauge again; write it down.",
        "Second failure: piece scrap, tool tagged out, every piece since its last good check back to the gauge. A gauge that fails on its pins: the same.",
        "Tool or gauge not written down: it counts as the one that failed. No time: as after the check. A piece stays only if you are sure even so.",
        f"Of {len(rows)} kinds of fault the gauge misses {unseen}. A pass is needed and never enough.",
        "Grease is wiped off and looked under before a word is said. A tail: its whole cut end shows beyond the sleeve, however little.",
        "A caliper judges only where the maker publishes a size. Else write it down, judge nothing.",
        "Three answers: pass, fail, not proven. Not proven is not released.",
        "Name the fault, then the step it came from.",
        "A reject is cut through the sleeve the same hour, with its cause. Never file, hammer or squeeze it to pass.",
        "No second life: no used sleeve, no used cable under a new sleeve, no press after load.",
        f"In service, out at once: a broken wire at a sleeve, a moved mark, a tail gone in, a crack, red rust at the mouth, a loose thimble, a fall or overload; anywhere a kink, an opened strand, a flat place, a mark of heat. Far from a sleeve 7x7 may have {broken_wires_allowed('7x7')}, 7x19 {broken_wires_allowed('7x19')} in 8 diameters.",
    )
    return lesson.recap_sheet("Gauge and inspect: recap", lines, page_line(job))


def abilities() -> lesson.Block:
    """What can be shown after the lesson, each line tied to its skill."""
    return lesson.abilities(LESSON)


def _mean_lines(most_mm: float | None, shop: Shop) -> tuple[tuple, ...]:
    """The mean of the caliper's readings, and its word where a size is published: both edges where chart and caliper are this page's, else a blank for the caliper's own guard band."""
    unit, most = to_write(shop), by_caliper(most_mm or 0, shop, "down")
    if not most_mm:
        return (("Its mean. No size is published: there is nothing to judge it by", unit, True),)
    words = f"pass to {most} less your caliper's guard band, ____ {unit} (by its certificate: page, line 8); fail beyond limit and band; between them not proven"
    if shop.invented:
        band, pass_to, fail_from = edges(most_mm)
        words = (f"pass to {by_caliper(pass_to, shop, 'down')}, fail beyond {by_caliper(fail_from, shop, 'up')}, between them not proven "
                 f"(chart: at most {most}; INVENTED guard band {by_caliper(band, shop)})")
    return (("Its mean", unit, True), (f"Its word: {words}", "word", True))


def practice_sheet() -> lesson.Block:
    """The sheet for the bench in the size to begin with, and folded under it one for each other row of the shop's charts."""
    return lesson.bench_sheets({one.words: _sheet_of(one) for one in _rows()})


def _sheet_of(job: Row) -> lesson.Block:
    """A check of tool and gauge, one eye of one's own, and the sealed set that is only looked at and gauged: its lines by the places of the rounds."""
    shop, note = shop_for_teaching()
    row, chart, line = job.row, job.chart, "Chart in force" if job.shop.name == shop.name else "Chart of this sheet, not yours"
    most = row.gauge_max_mm
    stops = press_stops(job.shop, chart, row)
    order = "" if row.order is None else f"; {order_words(row)}"
    tool = (*stops, (f"{chart.tool}: jaws clean; paper held near and far; faces meet",), (f"STOP: gauge number and date read aloud{'' if stops else ': in date'}",),
            ("First-off of the day: another piece; stays till evening",), (f"STOP: OWN EYE pressed, somebody beside you{order}",),
            (f"OWN EYE: wiped, looked over; crimps, of {row.count}", "count"), (f"STOP: first gauge, {_slot(job)}: all the way on, turned",),
            (f"OWN EYE: every crimp gauged, {row.count}", "on / not, each"), ("The fat crimp: pressed again once, gauged", "place"))
    gauge = ((f"SET, no. 1 to {SET}, each: wiped, looked over, every crimp gauged; then pass, or fault and step. Gauge's number, date, slot aloud first", "words", True, SET),
             ("SET back whole; papers compared: bad ones passed, good ones rejected", "counts"))
    caliper = ((f"OWN EYE: across one crimp, {len(READINGS)} times", to_write(job.shop), True, len(READINGS)), *_mean_lines(most, job.shop),
               ("STOP: OWN EYE cut through the sleeve, good or not",))
    table = (("Cards: how many go back. Scale: the copper sleeve", "count; no."), ("Old wire: out or stay, why", "words"))
    steps = lesson.by_place({"At the tool": tool, "At the gauge": gauge, "At the caliper": caliper, "At the table": table})
    sheet = lesson.bench_sheet(f"Bench practice sheet: gauge and inspect, {row.size} {chart.sleeve_metal}", steps, ("Own eye",), f"{line}: {chart_line(chart)}", chart.invented, note,
                               "The sealed set is never pressed, never cut. NOT FOR WORK: counted back. "
                               "Never press a piece that has carried load. Tool before caliper.")
    return lesson.Block(_whole_lines(sheet.html), sheet.text)


def _whole_lines(html: str) -> str:
    """The sheet with room for a hand: a numbered line for each piece of the set, the readings and the word on the old wire across the whole width."""
    write, drawn = '<span class="write"></span>', "display:{};border-bottom:1px dotted #56606a"
    lines = "".join(f'<span style="{drawn.format("block")};line-height:1.45">{at}</span>' for at in range(1, SET + 1))
    short = f' <span style="{drawn.format("inline-block")};width:1.8cm;height:1.25em;margin-left:.2cm"></span>'
    for words, count, room in ((rf"SET, no\. 1 to {SET}[^<]*", SET, lines), ("OWN EYE: across one crimp[^<]*", len(READINGS), short * len(READINGS)), ("Old wire:[^<]*", 1, "")):
        html = re.sub(rf'<td>({words})</td><td class="blank">(?:{write}){{{count}}}</td>', rf'<td colspan="2">\1{room}</td>', html)
    return html


def cautions() -> lesson.Block:
    """The cautions of every lesson."""
    return lesson.cautions()


def sources() -> lesson.Block:
    """Statement, source and how it is known, for what the lesson says."""
    job = lesson_job()
    rows = (
        ("tool, slot, size across a crimp, gauges' dates", f"{chart_line(job.chart)}; invented sample shop for the scene", "INVENTED" if job.chart.invented else "the maker's chart; the scene is INVENTED"),
        ("paper in the jaws, first piece, a gauge in date, all the way on and turned", "the trade", "common practice"),
        ("press again once, then scrap; every piece since the last good check", "the trade", "common practice"),
        ("a tool or gauge not written counts as the failed one, a time not written as after the good check", "this workbook", "judgement"),
        ("what the gauge sees, causes, what is done", "the trade; table of what a gauge sees", "common practice"),
        ("how much of a sleeve a smaller cable fills", "geometry", "computed"),
        ("uncertainty of a mean", full_source("JCGM 100").rstrip("."), "from memory; the sums are checked by hand"),
        ("guard band, chance of a bad piece, the ball bearings", full_source("JCGM 106").rstrip("."), "read, second-hand"),
        ("readings, caliper and usual work of the worked example", "this page", "INVENTED"),
        ("at most 10 % of all wires in 8 diameters; removed rope is marked unfit", full_source("Michigan R 408.15226").rstrip("."), "read; taken over from general wire rope"),
        ("a gauge out of date: pieces since that day; failed on its pins: pieces since its last good check", "the trade; for the first, this workbook", "common practice; judgement"),
        ("grease wiped before a word; what a tail must show", "the trade", "common practice"),
        ("any broken wire at a sleeve; a moved mark; a crack; rust at the mouth; a kink, a flat place, a mark of heat", "house rule of this workbook", "judgement"),
        ("no second life", "the trade", "common practice"),
    )
    return lesson.sources(rows)
