"""Lesson 07, gauge and tool: a gauge out of date, paper in the jaws, a reading against its limit, and the list of pieces that go back."""

from __future__ import annotations

import secrets
from collections.abc import Sequence
from functools import lru_cache
from math import exp
from statistics import stdev

from rigcalc.figures import Figure
from rigcalc.figures.gauging import day_list, gauge_and_label, paper_in_jaws, reading_band
from rigcalc.gauge import caliper_uncertainty, global_risk, global_risk_of, guard_factor, judge_reading, specific_risk
from rigcalc.notebook import lesson
from rigcalc.notebook.board import Board, Said, View, button, choice, pick, slider
from rigcalc.notebook.course.inspecting import START, TODAY, of_the_scene, own_stream, said, scene_gauge, scene_mark, trace, traced
from rigcalc.notebook.teaching import sample_shop, shop_for_teaching
from rigcalc.tools import closure_check
from rigcalc.units import in_unit, show_measured

__all__ = ["READINGS", "any_tool", "bearings", "bearings_worked", "case_step", "case_view", "does_it_close", "first_look", "found_step", "found_view", "gauge_still", "edges", "given", "limit", "list_step", "list_view", "paper_still", "paper_step",
           "paper_view", "published_case", "reading_still", "reading_step", "reading_view", "risks", "the_reading", "uncertainty", "which_go_back", "worked"]


# --- the scene: a gauge out of date -----------------------------------------------------------------

def gauge_still() -> Figure:
    """GC, its label, and the calendar."""
    gauge = scene_gauge()
    return gauge_and_label(gauge.id, gauge.sizes, str(gauge.checked_on), str(gauge.due_on), str(TODAY))


SAY = {"good": ("They passed: they are good", "no", "They passed a gauge that nobody can trust today."),
       "scrap": ("They are scrap", "no", "Nobody has shown that a crimp is bad. The gauge may be as good as ever."),
       "again": ("Nothing is known: gauge them again", "ok", "Right. With another gauge, in date; GC is put aside. Until then they stay on the bench.")}


def found_view(state: dict) -> View:
    """What Dela's three eyes are, once GC's label is read."""
    controls = tuple(button(key, words) for key, (words, _, _) in SAY.items())
    told = [Said(f"Dela gauged three {scene_gauge().sizes[0]} eyes with {scene_gauge().id} this morning. All went on. What are they now?")]
    if state["say"]:
        gauge, (_, tone, words) = scene_gauge(), SAY[state["say"]]
        told = [Said(words, tone), Said(f"{gauge.id} was valid to {gauge.due_on}. Today is {TODAY}. Out of date, it judges nothing."),
                Said(f"So these three stay on the bench. What of all the others that {gauge.id} has gauged? Hold that question until the part on containment.")]
    return View((gauge_still(),), controls, tuple(told))


def found_step(state: dict, name: str, value=None) -> dict:
    """One of the three words."""
    return state | {"say": name}


def first_look() -> Board:
    """What are eyes that were gauged out of date?"""
    return Board(of_the_scene("Three eyes and a label"), {"say": ""}, found_view, found_step)


# --- paper in the jaws ------------------------------------------------------------------------------

HELD, SLIPS, FIRM, EARLY = "held", "slips", "the faces meet first, with a push left", "they stop before the faces meet"


def paper_still() -> Figure:
    """The tool on its paper, not tried yet."""
    return paper_in_jaws()


@lru_cache(maxsize=32)
def any_tool(secret: str) -> tuple[bool, bool, bool]:
    """A tool that may not close: near end holds, far end holds, faces meet before the stop. The first is LA of the scene."""
    if secret == START:
        return True, False, True
    stream = own_stream(secret, "a tool")
    return stream.pick(((True, True, True), (True, True, True), (False, True, True), (True, False, True), (True, True, False), (False, False, False)))


def paper_view(state: dict) -> View:
    """What was tried so far, and the verdict once it is said."""
    near, far, stop = any_tool(state["secret"])
    tried = state["tried"]
    figure = paper_in_jaws((HELD if near else SLIPS) if "near" in tried else "", (HELD if far else SLIPS) if "far" in tried else "", (FIRM if stop else EARLY) if "stop" in tried else "")
    controls = (button("near", "Pull the near end", "near" not in tried), button("far", "Pull the far end", "far" not in tried), button("stop", "Feel the handles", "stop" not in tried),
                button("closes", "It closes", not state["say"]), button("open", "It does not close", not state["say"]), button("fresh", "Another tool", second=True))
    told = [Said("Does this tool close? Try what you need, then say. Your fingers stay outside the jaws.")]
    if state["early"]:
        told = [Said(f"You tried {len(tried)} of 3. " + ("To say that it closes you want all three: both ends, and the handles." if state["early"] == "closes"
                                                         else "Nothing that you tried has shown it. Try on, then say."))]
    if state["say"]:
        found = closure_check(near, far, stop)
        right = found.closes == (state["say"] == "closes")
        do = found.do if found.closes else "Out of use, with a tag. And the pieces that it has made? That is asked further down."
        told = [Said(("Right. " if right else "Not so. ") + ("It closes." if found.closes else "It does not close: " + "; ".join(found.faults) + "."), "ok" if right else "no"), Said(do)]
    return View((figure,), controls, tuple(told))


def paper_step(state: dict, name: str, value=None) -> dict:
    """Pull an end, feel the handles, say a word, or take another tool."""
    if name == "fresh":
        return {"secret": secrets.token_bytes(16).hex(), "tried": (), "say": "", "early": ""}
    if name in ("near", "far", "stop"):
        return state | {"tried": (*state["tried"], name), "early": ""}
    if state["say"]:
        return state
    shown = any(not good and key in state["tried"] for key, good in zip(("near", "far", "stop"), any_tool(state["secret"]), strict=True))
    ready = len(state["tried"]) == 3 or (name == "open" and shown)
    return state | ({"say": name, "early": ""} if ready else {"early": name})


def does_it_close() -> Board:
    """Paper in the jaws of an empty tool."""
    return Board(of_the_scene("Does it close?"), {"secret": START, "tried": (), "say": "", "early": ""}, paper_view, paper_step)


# --- a reading against its limit --------------------------------------------------------------------

READINGS = (8.31, 8.33, 8.32, 8.32)  # mm, INVENTED: four readings of one crimp
STEP_MM, CERTIFICATE_MM, CERTIFICATE_K = 0.01, 0.06, 2  # the invented caliper
RISK = 0.05
RISKS = (("1 in 20", 0.05), ("1 in 100", 0.01))
SPAN, USUAL_BELOW, SPREAD = 0.4, 0.15, 0.08  # mm; the invented shop's usual work


def limit() -> tuple[float, str]:
    """The invented shop's published size across a 1/8 crimp, in mm, and where it stands."""
    chart, row = next((chart, row) for chart in sample_shop().charts for row in chart.rows if row.gauge_max_mm and (row.size, chart.sleeve_metal) == ("1/8", "aluminium"))
    return float(row.gauge_max_mm), f"chart {chart.id}, edition {chart.edition}, row {row.size}"


def size(mm: float, places: int = 2) -> str:
    """A size in mm to so many places, as the shop of the page works with it.

    >>> size(8.32, 3)
    '0.3276 in [8.320 mm]'
    """
    return show_measured(mm, shop_for_teaching()[0].system, places)


def _in_inches() -> bool:
    return shop_for_teaching()[0].system == "US"


def _in_a_row(sizes: Sequence[float]) -> str:
    metric, inches = ", ".join(f"{one:z.2f}" for one in sizes) + " mm", ", ".join(f"{in_unit(one, 'in'):z.4f}" for one in sizes)
    return f"{inches} in [{metric}]" if _in_inches() else metric


def _root_of(parts_mm: Sequence[float]) -> str:
    metric, inches = (" + ".join(f"{in_unit(one, unit):.{places}f}²" for one in parts_mm) for unit, places in (("mm", 4), ("in", 5)))
    return f"root of ({inches}) in [root of ({metric}) mm]" if _in_inches() else f"root of ({metric}) mm"


def edges(most: float) -> tuple[float, float, float]:
    """Guard band of the worked example's caliper, pass up to, and fail beyond for a greatest size, in mm to the thousandth that lines 8 to 10 print."""
    band = round(guard_factor(RISK) * uncertainty().combined_mm, 3)
    return band, round(most - band, 3), round(most + band, 3)


def uncertainty():
    """The uncertainty of the worked example's mean."""
    return caliper_uncertainty(READINGS, STEP_MM, CERTIFICATE_MM, CERTIFICATE_K)


def given() -> lesson.Block:
    """What is known before anything is worked: limit, readings, step and certificate."""
    most, where = limit()
    rows = ((f"the limit, {where}", f"at most {size(most)} ({scene_mark()})"), ("four readings of one crimp", _in_a_row(READINGS)),
            ("the caliper shows steps of", size(STEP_MM)), ("its certificate says that it may be off by", f"{size(CERTIFICATE_MM)}, with a factor of {CERTIFICATE_K}"))
    return lesson.table(("Given", "(INVENTED readings, caliper and certificate)"), rows)


def worked() -> lesson.Block:
    """From four readings to one of three answers, step by step."""
    found, (most, where), (band, pass_to, fail_from) = uncertainty(), limit(), edges(limit()[0])
    guard = guard_factor(RISK)
    verdict = judge_reading(found.mean_mm, most, found.combined_mm, guard, where, invented=True)
    away = [one - found.mean_mm for one in READINGS]
    spread = stdev(READINGS)
    rows = (("1. The limit, and who says so", where, f"at most {size(most)} ({scene_mark()})"), ("2. Four readings, lifted off each time", "", _in_a_row(READINGS)),
            ("3. Their mean", "all added, over four", size(found.mean_mm, 3)),
            ("4. How far they scatter", f"how far each is from the mean ({_in_a_row(away)}), squared, added, over {len(READINGS) - 1}, root of it", size(spread, 4)),
            ("The same for their mean", f"line 4 over the root of {len(READINGS)}", size(found.type_a_mm, 4)),
            ("5. The caliper's step", f"it shows steps of {size(STEP_MM)}: that over the root of 12", size(found.resolution_mm, 4)),
            ("6. The caliper's certificate", f"it says {size(CERTIFICATE_MM)}, with a factor of {CERTIFICATE_K}: the first over the second", size(found.calibration_mm, 4)),
            ("7. All together: u, the standard uncertainty", _root_of((found.type_a_mm, found.resolution_mm, found.calibration_mm)), size(found.combined_mm, 4)),
            ("8. Guard band", f"{guard:.3f} × u: at its edge 1 in 20 is bad", size(band, 3)), ("9. Pass up to", "limit less guard band", size(pass_to, 3)),
            ("10. Fail beyond", "limit and guard band", size(fail_from, 3)), ("11. So the reading is", f"{size(found.mean_mm, 3)} against 9 and 10", f"{verdict.outcome}: {verdict.do}"))
    return lesson.answer(lesson.table(("Step", "worked", "gives"), rows, "A caliper on one crimp (INVENTED readings, caliper and certificate; the way: JCGM 100 and 106)"))


BEARINGS = (("no guard band", 2.00, "0.8 %", "1.7 %"), ("with a guard band", 1.67, "0.1 %", "7.5 %"))  # as printed: JCGM 106:2012, 9.5.4, read second-hand
PRINTED_IN = "JCGM 106:2012, 9.5.4, as a worked example quotes it (read, second-hand; the printed 1.67 is rounded)"


def bearings() -> lesson.Block:
    """A published case as it is printed: ball bearings with and without a guard band."""
    rows = [(name, f"{accept:.2f}", bad, good) for name, accept, bad, good in BEARINGS]
    return lesson.table(("Ball bearings, limit 2.00 µm", "passed up to", "bad and passed", "good and rejected"), rows, PRINTED_IN, numbers=(1, 2, 3))


def bearings_worked() -> lesson.Block:
    """The same case worked here: sizes gamma distributed, shape 4, scale a quarter µm, standard uncertainty a quarter µm."""
    rows = []
    for name, accept, bad, good in BEARINGS:
        found = global_risk_of(lambda size: 256 * size ** 3 * exp(-4 * size) / 6 if size > 0 else 0.0, 0.0, 20.0, 2.0, accept, 0.25)
        rows.append((name, bad, f"{found.bad_and_passed:.1%}".replace("%", " %"), good, f"{found.good_and_rejected:.1%}".replace("%", " %")))
    return lesson.table(("Ball bearings", "bad and passed: printed", "worked here", "good and rejected: printed", "worked here"), rows, PRINTED_IN, numbers=(1, 2, 3, 4))


GAIN = (("fewer bad passed, more good rejected", "right"), ("fewer bad passed, fewer good rejected", "both"), ("the same bad passed, fewer good rejected", "none"))


def case_view(state: dict) -> View:
    """What the guard band brings and what it costs, and the case worked here once a word is said."""
    controls = (choice("brings", "The guard band brings", (*GAIN, ("not said yet", "")), state["brings"], as_list=True), button("work", "Work it here", bool(state["brings"]), second=True))
    if not state["brings"]:
        return View((), controls, (Said("Two rows of the published case. What did the guard band bring?"),))
    right = state["brings"] == "right"
    told = Said("Right: fewer bad ones pass, and more good ones are held back." if right else "Not so: look at both columns. Fewer bad ones pass, and more good ones are held back.", "ok" if right else "no")
    return View((), controls, (told, Said("You can't lower both by moving a line. Only by measuring better.")), bearings_worked() if state["worked"] else None)


def case_step(state: dict, name: str, value=None) -> dict:
    """A word, or the case worked through."""
    return state | ({"worked": True} if name == "work" else {"brings": value})


def published_case() -> Board:
    """The published case: what does a guard band bring, what does it cost?"""
    return Board("What does the guard band bring?", {"brings": "", "worked": False}, case_view, case_step)


def reading_still() -> lesson.Block:
    """The worked example's reading with its three zones; an answer too, so it waits on the wall."""
    found, (most, where) = uncertainty(), limit()
    drawn = _band(found.mean_mm, most, found.combined_mm, edges(most)[1:], f"The shaded part of the bell lies beyond the limit. {where[0].upper()}{where[1:]} ({scene_mark()}).")
    return lesson.answer(drawn)


ANSWERS = ("pass", "not proven", "fail", ("write it down, judge nothing", "none"))


def _band(read: float, most: float, u: float, zones: tuple[float, float] | None = None, caption: str = "") -> Figure:
    return reading_band(read, most, u, zones, SPAN, caption, float(in_unit(1, "in")) if _in_inches() else None)


def reading_view(state: dict) -> View:
    """A reading, its uncertainty, and the answer once a word is said."""
    (most, where), u, read = limit(), state["u"], state["reading"]
    controls = [choice("published", "The maker publishes a size", (("yes", "yes"), ("no", "no")), state["published"]),
                slider("reading", "Reading", round(most - SPAN + 0.05, 2), round(most + SPAN - 0.05, 2), 0.01, read, size(read)),
                slider("u", "Uncertainty u", 0.01, 0.12, 0.01, u, size(u)),
                choice("risk", "At the band's edge, bad are", RISKS, state["risk"]), choice("say", "You say", (*ANSWERS, ("not said yet", "")), state["say"]),
                button("fresh", "Another reading", second=True), button("ahead", "A thousand of them", bool(state["say"]) and state["published"] == "yes", second=True)]
    if state["published"] == "no":
        return _no_size(state, controls)
    found = judge_reading(read, most, u, guard_factor(state["risk"]), where, invented=True)
    if not state["say"]:
        return View((_band(read, most, u),), tuple(controls), (Said(f"The caliper reads {size(read)}. At the edge of its guard band {dict((b, a) for a, b in RISKS)[state['risk']]} may be bad. What is your answer? (A thousand of them are counted once you have said.)"),))
    right = state["say"] == found.outcome
    told = [Said(f"{'Right' if right else 'Not so'}: {found.outcome}. Guard band {size(most - found.pass_to_mm, 3)}: {found.why.rpartition(': ')[2]}", "ok" if right else "no"),
            Said(f"The chance that this crimp is beyond the limit: {_chance(specific_risk(read, most, u).bad)}. {found.do[0].upper()}{found.do[1:]}.")]
    return View((_band(read, most, u, (found.pass_to_mm, found.fail_from_mm)),), tuple(controls), tuple(told), risks(state["risk"], u) if state["ahead"] else None)


def _no_size(state: dict, controls: list) -> View:
    """The maker publishes no size: the caliper alone decides nothing."""
    if not state["say"]:
        return View((), tuple(controls), (Said(f"The caliper reads {size(state['reading'])}. This maker's sheet gives no size for this crimp. What is your answer?"),))
    right = state["say"] == "none"
    return View((), tuple(controls), (Said("Right: there is nothing to judge it by." if right else "Not so: there is nothing to judge it by.", "ok" if right else "no"),
                                      Said("No maker's size for this crimp, so no limit. Write the reading down and do not judge it. The gauge of the tool still has its say.")))


def _chance(share: float) -> str:
    return "under 1 in 1000" if share < 0.001 else "over 999 in 1000" if share > 0.999 else f"{round(share * 1000)} in 1000"


def risks(risk: float, u: float) -> lesson.Block:
    """With the guard band and without: misjudged pieces in a thousand of the invented shop's usual work."""
    most, _ = limit()
    rows = []
    for name, accept in (("no guard band", most), ("guard band", most - guard_factor(risk) * u)):
        found = global_risk(most, accept, u, most - USUAL_BELOW, SPREAD)
        rows.append((name, size(accept, 3), f"{1000 * found.bad_and_passed:.1f}", f"{1000 * found.good_and_rejected:.1f}"))
    work = f"Of a thousand pieces of this shop's usual work (INVENTED: {size(most - USUAL_BELOW)}, give or take {size(SPREAD)})"
    return lesson.table(("", "passed up to", "bad and passed", "good and not passed"), rows, work, numbers=(1, 2, 3))


def reading_step(state: dict, name: str, value=None) -> dict:
    """Slide, choose, say a word, or take another reading."""
    if name == "fresh":
        secret = secrets.token_bytes(16).hex()
        stream, most = own_stream(secret, "a reading"), limit()[0]
        return state | {"reading": round(most - 0.3 + 0.01 * stream.below(56), 2), "u": round(0.02 + 0.01 * stream.below(8), 2), "published": "no" if stream.below(5) == 0 else "yes",
                        "say": "", "ahead": False, "secret": secret}
    if name == "ahead":
        return state | {"ahead": True}
    if name == "say":
        return state | {"say": value}
    if name in ("reading", "u"):
        value = round(float(value), 2)
    return state | {name: value, "say": "", "ahead": False}


def the_reading() -> Board:
    """Pass, fail or not proven?"""
    return Board(of_the_scene("A reading and its limit"), {"reading": 8.36, "u": 0.05, "risk": RISK, "published": "yes", "say": "", "ahead": False, "secret": START}, reading_view, reading_step)


# --- which pieces go back ---------------------------------------------------------------------------

def list_view(state: dict) -> View:
    """The list with what was pointed at, and after 'done' what was forgotten."""
    one, marked, done = traced(state["secret"]), state["marked"], state["done"]
    back = {piece.id: piece.why for piece in one.result.back}
    figure = day_list(trace(state["secret"]), one.head, marked, tuple(back) if done else None, None if done else lambda shape, value, label: pick(shape, "piece", value, label))
    controls = ([] if done else [button("done", "That is my list")]) + [button("fresh", "Another list", second=True)]
    if not done:
        first = state["said"] or f"Point at each piece that goes back to the gauge. Pointed at: {len(marked)}."
        return View((figure,), tuple(controls), (Said(first),))
    forgot, extra = [name for name in back if name not in marked], [name for name in marked if name not in back]
    clear = {piece.id: piece.why for piece in one.result.clear}
    told = [Said(f"Forgotten: {_whys(forgot, back, one)}." if forgot else "None is forgotten.", "no" if forgot else "ok"),
            Said(f"Sent back without need: {_whys(extra, clear, one)}." if extra else "None is sent back without need.", "" if extra else "ok"), Said(_then(one))]
    rows = [(piece.id, "goes back" if piece.id in back else "need not", _why(back.get(piece.id) or clear[piece.id], one)) for piece in one.pieces]
    return View((figure,), tuple(controls), tuple(told), lesson.table(("piece", "", "why"), rows, "By the good check before the finding"))


def _then(one) -> str:
    """What an apprentice does then: the shop's file is the trainer's."""
    again = one.result.do.split(". ", 1)[1]
    mine = "" if shop_for_teaching()[0].invented else f" {one.bad.id} is of the invented shop, not of yours."
    return f"Put {one.bad.id} out of use with a tag, and tell your trainer the day, who found it and why: the trainer enters it in the shop's file. {again}{mine}"


def _whys(names: list[str], why: dict[str, str], one) -> str:
    """Pieces by their reason: "W8, W9 (after the last good check, ...); W5 (when it was made is not known)"."""
    reasons = dict.fromkeys(why[name] for name in names)
    return "; ".join(f"{', '.join(name for name in names if why[name] == reason)} ({_why(reason, one)})" for reason in reasons)


def _why(words: str, one) -> str:
    """The reason with its time as the list writes it."""
    for check in one.checks:
        words = words.replace(str(check.at), said(check.at))
    return words


def list_step(state: dict, name: str, value=None) -> dict:
    """Point at a piece, point again to take it off, say that it is the list, or take another."""
    if name == "fresh":
        return {"secret": secrets.token_bytes(16).hex(), "marked": (), "done": False, "said": ""}
    if name == "done" and not state["marked"]:
        return state | {"said": "You have pointed at no piece yet. Read the list by the good check that counts, and point."}
    if name == "done":
        return state | {"done": True, "said": ""}
    if state["done"]:
        return state
    marked = tuple(one for one in state["marked"] if one != value) if value in state["marked"] else (*state["marked"], value)
    return state | {"marked": marked, "said": f"{value} is {'on' if value in marked else 'off'} your list. Pointed at: {len(marked)}."}


def which_go_back() -> Board:
    """Which pieces go back to the gauge?"""
    return Board(of_the_scene("Which go back to the gauge?"), {"secret": START, "marked": (), "done": False, "said": ""}, list_view, list_step)
