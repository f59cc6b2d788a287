"""Lesson 04: an end looked at after a month, a sleeve and clips side by side, and where which of the two belongs; the fitting itself is in `clip_fitting`."""

from __future__ import annotations

import secrets

from rigcalc.cable import breaking_force
from rigcalc.clips import built_in_rows, clip_efficiency, clip_plan, clips_needed, published_rules, rule_of_thumb, saddle, where_forbidden
from rigcalc.comparing import Comparison, sleeve_against_clips
from rigcalc.errors import Refusal
from rigcalc.figures import Figure
from rigcalc.figures.clipped import Clip, two_ends
from rigcalc.layout import least_tail_mm
from rigcalc.notebook import lesson
from rigcalc.notebook.board import Board, Said, View, button, choice, pick
from rigcalc.notebook.course.clip_fitting import done_still, drawn_end, end_still, even, fit_the_clips, letters, widest_diameters
from rigcalc.notebook.course.clip_rows import SIZES, bare_sizes, base_mm, beside_shop, beside_size, end, end_size, kit, opening, plan, row_mark, row_of, shown_mm, shown_nm
from rigcalc.notebook.course.limits import shop_factor, stands_in as factor_stands_in
from rigcalc.notebook.course.plainly import NotYet, in_plain_words
from rigcalc.notebook.kits import CABLE_METAL, SLEEVE_METAL, kits
from rigcalc.notebook.teaching import of_the_scene, scene_mark
from rigcalc.questions import Stream
from rigcalc.rating import show_limit, working_load_limit_n
from rigcalc.shop.supply import measured_for, prices_for
from rigcalc.units import read_size, show_force

__all__ = ["JOBS", "a_month_later", "came_back", "came_back_words", "clips_or_sleeve", "compared", "done_still", "end_still", "fit_the_clips", "forbidden", "jobs_table", "kit", "limit_worked", "month_said", "month_still", "number_table", "opening",
           "plan", "side_by_side", "thumb_table", "turnback_table", "two_still", "widest_diameters", "worked"]


def _diameter(size: str) -> float:
    return float(read_size(size).diameter_mm)


# --- the sums ------------------------------------------------------------------------------------------

def worked() -> lesson.Block:
    """One end, step by step: number, spacing, turnback, torque, from the row in force."""
    found = plan()
    rule = published_rules("number")[0]
    rows = [("least number, drop-forged clips", found.number, rule.source), ("spacing: six diameters of this cable", shown_mm(found.spacing_mm, "up"), published_rules("spacing")[0].source),
            ("turnback, thimble to dead end", shown_mm(found.turnback_mm, "up"), found.source), ("torque on each nut", shown_nm(found.torque_nm), found.source),
            ("the end keeps, of the breaking force", f"{found.efficiency:.0%}", "TM 5-3810-305-10, Table 4, p 4-36"), *(("note", note, "") for note in found.notes)]
    return lesson.answer(lesson.table(("Step", "is", "from"), rows, of_the_scene(f"Worked: one clipped end, {end_size()} in", end()[1])))


def limit_worked() -> lesson.Block:
    """The limit of a clipped end, step by step: breaking force, the clips' share once, the design factor, rounded down."""
    size, system, factor = end_size(), kit()[0].shop.system, shop_factor()
    found, share = breaking_force(size, "7x19", CABLE_METAL), clip_efficiency()
    limit, mark = working_load_limit_n(found.force_n, share, factor.value), f" ({scene_mark()})" if kit()[0].shop.invented or factor_stands_in() else ""
    rows = [(f"breaking force of {size} in 7x19 {CABLE_METAL}", show_force(found.force_n, system), found.source),
            (f"times {share:g}, the share that clipped ends keep, once", show_force(found.force_n * share, system, "down"), published_rules("efficiency")[0].source),
            (f"divided by {factor.value:g}, the design factor, and rounded down: the limit", show_limit(limit, system), f"factor set by {factor.owner} for {factor.scope}{mark}")]
    return lesson.answer(lesson.table(("Step", "is", "from"), rows, "Worked: what a cable with clipped ends may carry"))


def number_table() -> lesson.Block:
    """The number of clips for the shop's sizes, forged or not, and where no row is; on the wall it waits for the answers to how many and how far."""
    rows = []
    for size in SIZES:
        try:
            found = plan(size)
            rows.append((f"{size} in", clips_needed(size, True), clips_needed(size, False), shown_mm(found.spacing_mm, "up")))
        except Refusal:
            rows.append((f"{size} in", "refused", "refused", "no row: ask the clip maker, or take a sleeve"))
    return lesson.answer(lesson.table(("Cable", "drop-forged", "not forged, or not known", "spacing"), rows, "How many clips on one end, at least (29 CFR 1918 App. II; WAC 296-874-30020)"))


def turnback_table() -> lesson.Block:
    """A row's turnback brought to the number of clips that is needed: the row in force, forged or not, and a published row for fewer."""
    rows = []
    for size, row, forged in ((end_size(), end()[0], True), (end_size(), end()[0], False), ("5/16", built_in_rows("5/16")[0], True)):
        found = clip_plan(size, forged, row)
        rows.append((f"{size} in: {row.number} clips, {shown_mm(row.turnback_mm)}", f"{found.number}, {'drop-forged' if forged else 'not forged'}",
                     "as it stands" if found.number == row.number else f"{shown_mm(row.turnback_mm)} ÷ {row.number} × {found.number}", shown_mm(found.turnback_mm, "up")))
    return lesson.answer(lesson.table(("The row says", "you need", "so", "turnback"), rows, f"More clips, longer turnback, in proportion ({published_rules('turnback')[0].source})"))


def thumb_table() -> lesson.Block:
    """The rule of thumb beside what is needed."""
    rows = [(f"{one.size} in", one.gives, one.needed, "enough" if one.enough else "too few") for one in map(rule_of_thumb, ("1/8", "3/16", "1/4", "5/16", "3/8", "1/2"))]
    return lesson.answer(lesson.table(("Cable", "the rule of thumb gives", "needed", "so it is"), rows, f"Three times the diameter in inches, plus one, rounded up ({rule_of_thumb('1/8').source})"))


# --- what came back -----------------------------------------------------------------------------------

BACK = (
    ("The middle clip sits the wrong way round: its nuts are on the dead end, and its bolt bites the live part. Take it apart, cut off what was bitten.", ((0, "live", 0.0), (1, "dead", 0.0), (2, "live", 0.0))),
    ("Two clips, where three are the least. Take it apart and make it again, with the longer turnback.", ((0, "live", 0.0), (2, "live", 0.0))),
    ("Nobody came back after the first load: the nuts stand off their saddles. Load off, every nut to the torque, and a date for the next look.", ((0, "live", 0.9), (1, "live", 0.9), (2, "live", 0.4))),
)


def came_back(which: int) -> Figure:
    """One of three ends that came back, drawn without a word on what is wrong."""
    found = plan()
    places = found.places_mm or even(found)
    return drawn_end([Clip(places[at], side, slack) for at, side, slack in BACK[which][1]])


def came_back_words() -> lesson.Block:
    """What was wrong with the three."""
    return lesson.when_said(lesson.table(("End", "What was wrong, and what is done"), [(at, words) for at, (words, _) in enumerate(BACK, 1)]))


# --- a month later -------------------------------------------------------------------------------------

FINDINGS = {"tight": "Tight: the wrench clicks at the row's torque.", "loose": "Loose: the nut turns before the wrench clicks. The cable has got thinner."}
FINDINGS["turned"] = FINDINGS["tight"]  # a wrench feels no saddle: the eye finds it
ACTS = (("Leave it as it is; note the day", "leave"), ("Load off; all nuts to the torque again; note the day", "tighten"), ("Tighten the loose nut only, as hard as it goes", "hard"),
        ("Take it out of use: undo it, cut off what was bitten", "out"))


def month(seed: str) -> list[str]:
    """What a wrench finds at each of three clips a month later; the first seed is the same for everybody."""
    stream = Stream(bytes.fromhex(seed), "a month later")
    found = [("tight", "loose")[stream.below(2)] for _ in range(3)]
    turned = stream.below(7)  # three times in seven one of them sits the wrong way round
    return ["turned" if at == turned else one for at, one in enumerate(found)]


MONTH = {"seed": f"{8:064x}", "tried": [], "last": None, "act": ""}  # two loose, one tight


def _month_drawn(state: dict, mark=None) -> Figure:
    """The end of a month later: a loose nut shows once the wrench was on it, or all is said."""
    found, places = month(state["seed"]), plan().places_mm or even(plan())
    return drawn_end([Clip(at, "dead" if found[n] == "turned" else "live", 0.9 if found[n] == "loose" and (n in state["tried"] or state["act"]) else 0.0) for n, at in enumerate(places[:3])], mark)


def month_still() -> Figure:
    """The end a month later, before the wrench is on a nut."""
    return _month_drawn(MONTH)


def month_said(found: list[str], tried: list[int], act: str) -> Said:
    """What is said of an act on an end as it hangs: a bitten live part first, then loose nuts, then what was not tried."""
    if "turned" in found:
        if act == "out":
            return Said("Right. A bitten live part has lost strength that nobody can see.", "ok")
        return Said(f"Look for the nuts of {'ABC'[found.index('turned')]}. {saddle('dead').says} No torque mends that, and the end does not hang a day longer.", "no")
    loose, some = letters("ABC"[at] for at, one in enumerate(found) if one == "loose"), f" You tried only {len(tried)} of 3." if len(tried) < 3 else ""
    if act == "tighten":
        return Said(f"The right thing to do, but you tried only {len(tried)} of 3. The others were guessed.", "no") if some else \
            Said("Right. All nuts, in turn, load off, to the row's torque; and every one was tried." if loose else
                 "Nothing is wrong with it, and nothing was needed: every nut clicked at the torque. It could stay, with the day noted.", "ok")
    if act == "leave" and not loose:
        return Said(f"What was tried is tight.{some} The others were guessed.", "no") if some else \
            Said("Right. Every nut was tried and clicks at the torque, and every saddle sits on the live part. Note the day, and the next look.", "ok")
    if not loose:
        said = {"hard": "No nut is loose. Beyond the torque a clip crushes the cable and stretches its bolts.",
                "out": "No nut is loose, and every saddle sits on the live part: nothing was bitten. The end stays, and the day is noted."}[act]
    else:
        said = {"leave": f"The nuts of {loose} are loose, and a loose clip slips. Load off, and every nut to the torque, now.",
                "hard": "Beyond the torque the clip crushes the cable, and the clips no longer share the load. Load off, and every nut in turn to the row's torque, now.",
                "out": f"The nuts of {loose} are loose: that is what a first month does. They are brought to the torque again; nothing here was bitten."}[act]
    return Said(said + some, "no")


def a_month_later() -> Board:
    """Try each nut of an end that has hung for a month, then say what is done."""
    def show(state: dict) -> View:
        found, tried, figure = month(state["seed"]), state["tried"], _month_drawn(state, pick)
        controls = [button("fresh", "Another one", second=True)] if state["act"] else [button(value, words, bool(tried), second=True) for words, value in ACTS]
        last = [Said(f"{'ABC'[state['last']]}: {FINDINGS[found[state['last']]]}", "")] if state["last"] is not None else []
        if not state["act"]:
            return View((figure,), tuple(controls), (*last, Said(f"It has hung for a month. Put the wrench on a nut: point at a clip. {len(tried)} of 3 tried. Then say what is done.")))
        return View((figure,), tuple(controls), (month_said(found, tried, state["act"]), *last))

    def step(state: dict, name: str, value) -> dict:
        if name == "clip":
            at = "ABC".index(value)
            return state | {"tried": sorted({*state["tried"], at}), "last": at}
        if name == "fresh":
            seed = secrets.token_hex(32)
            while month(seed) == month(state["seed"]):  # never the same case twice running
                seed = secrets.token_hex(32)
            return MONTH | {"seed": seed}
        if not state["tried"]:
            raise NotYet("No nut was tried yet. Put the wrench on one first: point at a clip.")
        return state | {"act": name}

    return Board(of_the_scene("A month later", end()[1]), dict(MONTH), show, step)


# --- side by side ---------------------------------------------------------------------------------------

def compared(size: str, drop_forged: bool = True) -> Comparison:
    """A sleeve against clips on the shop's reel of that size."""
    shop = beside_shop()
    reel = next((one for one in shop.reels if one.size == size and one.metal == "galvanised" and not one.coating_to), None)
    if reel is None:
        raise Refusal(f"{size} in cable, of which the shop has no bare galvanised reel,", f"a size on such a reel here ({', '.join(bare_sizes(shop))} in)", "choose another size")
    one = next((k for k in kits(shop) if k.size == size), None)
    tool = one.chart.tool if one else shop.tools[0].id
    return sleeve_against_clips(size, reel.construction, reel.metal, drop_forged, row_of(size), prices_for(shop, reel.id, SLEEVE_METAL),
                                measured_for(shop, size, SLEEVE_METAL, tool), reel.certificate_n, reel.certificate)


def _shown(value: float, unit: str) -> str:
    if unit == "N":
        return show_force(value, kit()[0].shop.system, "down")
    if unit == "mm":
        return shown_mm(value, "up")  # what is used up at least
    return f"{value:.0f} {unit}" if unit in ("min", "pieces") else f"{value:.3g} {unit}"


def _cell(value: float | None, unit: str, words: str) -> str:
    if not unit or value is None:
        return words
    return f"{_shown(value, unit)}: {words}"


def _rows(found: Comparison) -> list[tuple[str, str, str, str]]:
    """Line by line; where clips are forbidden has a table of its own."""
    rows = [("a case for it", found.case_for_sleeve, found.case_for_clips, "")]
    return rows + [(one.about, _cell(one.sleeve, one.unit, one.sleeve_says), _cell(one.clips, one.unit, one.clips_says), one.better) for one in found.rows if one.about != "where forbidden"]


def _line_said(about: str, sleeve: str, clips: str, better: str) -> str:
    """One line of the table as a sentence, to stand with the question where the table lies further down."""
    return f"{about.capitalize()}. A sleeve: {sleeve.removesuffix('.')}. Clips: {clips.removesuffix('.')}.{f' Better off: {better}.' if better else ''}"


def _drawn(size: str, drop_forged: bool) -> Figure:
    found = plan(size, drop_forged)
    one = next((k for k in kits(beside_shop()) if k.size == size), None)
    base = base_mm(size)
    first, last = base * 1.5, found.turnback_mm - base / 2
    places = found.places_mm or [first + (last - first) * at / (found.number - 1) for at in range(found.number)]
    row = row_mark() if size == end_size() else "The clips' row only teaches." if found.teaching_only else ""
    whose = f"The sleeve: {scene_mark()}. " if beside_shop().invented else ""
    return two_ends(size, _diameter(size), one.row.sleeve_after_mm if one else None, float(least_tail_mm(_diameter(size))), found.turnback_mm, base, places, one.row.count if one else 0, whose + row, shown_mm)


def two_still() -> Figure:
    """Both ends at one scale, in the lesson's size."""
    return _drawn(beside_size(), True)


def _no_comparison(size: str) -> str:
    """Why nothing is laid side by side: no clip goes on it, or this shop has no cable of it."""
    try:
        plan(size)
    except Refusal:
        return "No clip goes on this one. A sleeve may, if the chart has its row."
    return "Clips have a row for it. Only this shop has no such cable to lay beside them."


def _other_table(size: str) -> tuple[Said, ...]:
    """Whose row the turnback is, where it is not that of the lesson's end: turnbacks of two tables do not grow with the size."""
    return () if size == end_size() else (Said(f"The turnback here is from another table than that of {end_size()} ({plan(size).source}), so it need not grow with the size."),)


def side_by_side() -> Board:
    """Both ends to scale and line by line, for a size of your choice."""
    def show(state: dict) -> View:
        controls = (choice("size", "Cable, inches", SIZES, state["size"], as_list=True), choice("forged", "Clips", (("drop-forged", True), ("not forged, or not known", False)), state["forged"]))
        try:
            found = compared(state["size"], state["forged"])
        except Refusal as refusal:
            return View((), controls, (Said(in_plain_words(refusal), "no"), Said(_no_comparison(state["size"]))))
        rows = _rows(found)
        line = choice("line", "Say it of a line, then read it out", [("none yet", ""), *((row[0], row[0]) for row in rows)], state["line"], as_list=True)
        every = button("all", "I have said them all: show the column", any(row[3] and row[0] not in state["told"] for row in rows), second=True)
        told = next((_line_said(*row) for row in rows if row[0] == state["line"]), "Who is better off, and at what? Read line by line.")
        shown = [(*row[:3], row[3] if row[0] in state["told"] or not row[3] else "say it first") for row in rows]
        return View((_drawn(state["size"], state["forged"]),), (*controls, line, every), (Said(told), *_other_table(state["size"])), lesson.table(("", "a sleeve", "clips", "better off"), shown))

    def step(state: dict, name: str, value) -> dict:
        if name == "all":
            return state | {"told": tuple(row[0] for row in _rows(compared(state["size"], state["forged"])))}
        if name == "line":
            return state | {"line": value, "told": (*state["told"], value)}
        return state | {name: value, "line": "", "told": ()}

    return Board(of_the_scene("A sleeve and clips, one size", beside_shop()), {"size": beside_size(), "forged": True, "line": "", "told": ()}, show, step)


# --- which end for which job ------------------------------------------------------------------------------

CHOICES = (("A sleeve", "sleeve"), ("Clips", "clips"), ("Neither of them", "neither"))
# (job, right, why): judgement of this workbook, common practice
JOBS = (
    ("Brace of a field gate, two eyes with thimbles, made at the bench; a turnbuckle takes up the slack.", "sleeve", "Made at a bench, gauged, smooth; the turnbuckle adjusts it. Nobody has to come back with a torque wrench."),
    ("A fence wire along a slope, its length found only when it is pulled tight on the spot.", "clips", "The length is set on site, and clips can be taken apart and moved. Write down when the nuts are looked at again."),
    ("Forty lanyards for machine pins, all alike.", "sleeve", "Many equal pieces at a bench: quicker, smaller, smooth near hands."),
    ("Hoisting a pump out of a well.", "neither", "Lifting. Clips are forbidden there by the rules, and a hand-pressed eye is refused. Ask a qualified rigger."),
    ("A shade-cloth wire that comes down every autumn and goes up again at another height.", "clips", "It is undone and set anew every year: a pressed sleeve would be cut off each time."),
    ("Curtain wire in a glasshouse that is locked meanwhile; the cloth slides along it, close past its end.", "sleeve", "Nuts and a dead end catch the cloth. A sleeve is short and smooth."),
    ("A stay of 3/32 in cable for a signpost by a footpath, to be clipped on the spot; people walk by.", "neither", "No clip has a row for this size. A sleeve would have one, but people can be in the stay's fall: a named designer first."),
    ("A 1/4 in brace behind a locked fence; the shop's tool for 1/4 in is out of use.", "clips", "No tool, no eye. Clips need a torque wrench only, and hold a little less: the limit is worked with their own share."),
)


def jobs_table() -> lesson.Block:
    """The jobs, without answers."""
    return lesson.table(("", "Job"), [(at, words) for at, (words, _, _) in enumerate(JOBS, 1)], "Which end for which job?")


def clips_or_sleeve() -> Board:
    """Say for each job which end it gets."""
    def show(state: dict) -> View:
        words, right, why = JOBS[state["at"]]
        head = Said(f"Job {state['at'] + 1} of {len(JOBS)}. {words}")
        if not state["call"]:
            return View((), tuple(button(value, text, second=True) for text, value in CHOICES), (head,))
        names = {value: text.lower() for text, value in CHOICES}
        said = Said(f"You say {names[state['call']]}. {'So do we.' if state['call'] == right else f'We say {names[right]}.'} {why}", "ok" if state["call"] == right else "no")
        if state["at"] + 1 == len(JOBS):
            return View((), (button("next", "From job 1 again"),), (said, head, Said("That was the last of them.")))
        return View((), (button("next", "The next job"),), (said, head))

    def step(state: dict, name: str, value) -> dict:
        return {"at": (state["at"] + 1) % len(JOBS), "call": ""} if name == "next" else state | {"call": name}

    return Board(of_the_scene("Which end?"), {"at": 0, "call": ""}, show, step)


def forbidden() -> lesson.Block:
    """Where the rules forbid clips, each with its source."""
    return lesson.table(("Forbidden", "By"), [(rule.says, rule.source) for rule in where_forbidden()], "Permission is one question; how much an end keeps is another")
