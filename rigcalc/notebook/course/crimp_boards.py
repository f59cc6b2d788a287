"""Lesson 06, at the press: place the crimps and say when you are done, one crimp more, six pieces to judge, a sleeve that tilts."""

from __future__ import annotations

import secrets

from rigcalc.errors import Refusal
from rigcalc.figures import Figure
from rigcalc.figures.crimped_sleeve import crimped_sleeve, lettered_pieces, planned_sleeve
from rigcalc.figures.drawing import millimetres
from rigcalc.figures.sections import ON_FLASH, TOUCHED
from rigcalc.figures.tilted_sleeve import in_the_jaws, what_then
from rigcalc.notebook import lesson
from rigcalc.notebook.board import Board, Said, View, button, choice, pick, slider
from rigcalc.notebook.course.crimping import JAW_STEP, Piece, Row, bend_of, finished_plan, jobs, judge, lesson_job, marks_mm, pressed, start
from rigcalc.notebook.teaching import of_the_scene
from rigcalc.sleeve import chart_line, crimp_plan, order_words, oval_in_the_jaws

__all__ = ["PIECES", "even_places", "more_step", "more_view", "one_more", "order_still", "pieces_still", "pieces_step", "pieces_view", "place_step", "place_the_crimps",
           "place_view", "six_sleeves", "tilt_step", "tilt_still", "tilt_told", "tilt_view", "tilting"]

MOST_STROKES = 7


def _drawn(secret: bytes, what: str, items):
    from rigcalc.questions.draws import Stream

    return Stream(secret, what).shuffled(tuple(items))


# --- one crimp more -------------------------------------------------------------------------------

def even_places() -> Figure:
    """The lesson's row on the finished sleeve: even gaps, no order told yet."""
    job, plan = lesson_job(), finished_plan(lesson_job())
    return planned_sleeve(job.row.sleeve_after_mm, job.row.crimp_width_mm, plan.places_mm, size=job.row.size, caption=f"Even shares, to scale along the cable. {chart_line(job.chart)}.")


def more_view(state: dict) -> View:
    """A number of crimps shared out on the lesson's sleeve, or why they do not go on."""
    job, count = lesson_job(), int(state["many"])
    row = job.row
    plan = crimp_plan(row.sleeve_after_mm, row.crimp_width_mm, count, row.minimum_gap_mm or 0.0, 0.0)
    controls = (slider("many", "Crimps on this sleeve", 1, row.count + 2, 1, count, f"{count}"), button("this", "This many"))
    pushed = [row.crimp_width_mm / 2 + i * (row.sleeve_after_mm - row.crimp_width_mm) / max(1, count - 1) for i in range(count)]
    figure = planned_sleeve(row.sleeve_after_mm, row.crimp_width_mm, plan.places_mm or pushed, size=row.size)
    said = [Said(f"They do not go on: {plan.why}.")] if not plan.fits else [Said("How many would you press on this sleeve? Slide, look at the bare metal, then say: this many.")]
    if state["asked"]:
        even, least = (row.sleeve_after_mm - count * row.crimp_width_mm) / (count + 1), row.minimum_gap_mm or 0.0
        more = f" And {plan.why}." if not plan.fits else "" if even >= least else (
            f" Shared out evenly, {millimetres(even, 2)} would stay at each place, less than the {millimetres(least, 2)} that the chart wants between crimps: only the ends give the rest.")
        said = [Said(f"Right: {row.count}. That is the count the maker tried, with these jaws on this sleeve.", "ok")] if count == row.count else [
            Said(f"Not so: the chart says {row.count}. " + ("Fewer leave sleeve that grips nothing." if count < row.count else f"More is no stronger: nobody has tried {count} on this sleeve with these jaws, and with less room one soon lies on another or over an end.") + more, "no")]
    return View((figure,), controls, tuple(said))


def more_step(state: dict, name: str, value=None) -> dict:
    """Another number, or: this many."""
    return state | ({"asked": True} if name == "this" else {"many": int(value), "asked": False})


def _first_many() -> int:
    """One more than the chart's count where so many go on the sleeve, else one fewer: the figure opens on its question."""
    row = lesson_job().row
    return row.count + 1 if crimp_plan(row.sleeve_after_mm, row.crimp_width_mm, row.count + 1, row.minimum_gap_mm or 0.0, 0.0).fits else max(1, row.count - 1)


def one_more() -> Board:
    """Is one crimp more a stronger eye?"""
    return Board(of_the_scene("One more, to be safe?", lesson_job().shop), {"many": _first_many(), "asked": False}, more_view, more_step)


# --- place the crimps -----------------------------------------------------------------------------

def order_still() -> lesson.Block:
    """The lesson's row with the chart's order under the places: an answer, which waits."""
    job, plan = lesson_job(), finished_plan(lesson_job())
    return lesson.answer(planned_sleeve(job.row.sleeve_after_mm, job.row.crimp_width_mm, plan.places_mm, job.row.order, size=job.row.size,
                                        caption=f"{order_words(job.row)[0].upper()}{order_words(job.row)[1:]}. {chart_line(job.chart)}."))


def _job(state: dict) -> Row:
    return next((one for one in jobs() if one.key == state["job"]), lesson_job())


def _start(job: Row, fresh: str = "") -> dict:
    return {"job": job.key, "piece": start(job), "jaws": 0.0, "aiming": True, "done": False, "said": "", "fresh": fresh}


def place_view(state: dict) -> View:
    """The sleeve as it is now, the jaws over it, and after 'done' what is found on the piece."""
    job, piece = _job(state), state["piece"]
    row, away = job.row, state["done"] or len(piece.crimps) >= MOST_STROKES
    longest = row.sleeve_after_mm + 2 * job.growth_mm
    step = 0.5 if piece.length_mm <= 25 else 1.0
    spots = [i * step for i in range(int(piece.length_mm / step) + 1)]
    tail = job.tail_mm - (piece.length_mm - row.sleeve_before_mm)
    figure = crimped_sleeve(piece.length_mm, piece.crimps, row.crimp_width_mm, max(longest, piece.length_mm), tail, None if away else state["jaws"], state["aiming"], bend_of(piece, job),
                            () if away else spots, None if away else lambda shape, value, words: pick(shape, "spot", value, words), row.size, piece.marks)
    most = JAW_STEP * int(piece.length_mm / JAW_STEP)
    controls = [choice("job", "Sleeve and tool", [(one.words, one.key) for one in jobs()], job.key, as_list=True)]
    if not away:
        controls += [slider("jaws", "Jaws' middle, from the thimble end", 0, most, JAW_STEP, min(state["jaws"], most), millimetres(state["jaws"], 2)),
                     button("press", "Press here")]
    if not state["done"]:
        controls.append(button("done", "Done: it goes to the gauge"))
    controls.append(button("fresh", "Another sleeve", second=True))
    said = [Said(*state["said"])] if state["said"] else [Said(f"A {row.size} {job.chart.sleeve_metal} sleeve, long axis upright, for tool {job.chart.tool or 'not named'}. Slide the jaws "
                                                              "or point along the sleeve: their middle goes on a pen mark. The marks bear the places, counted from the thimble; "
                                                              "the chart says which comes first. Press. Say 'done' when you are. Nobody stops you before.")]
    if state["done"]:
        said = [*_verdict(piece, job)]
    return View((figure,), tuple(controls), tuple(said), _row_table(job))


def _verdict(piece: Piece, job: Row) -> list[Said]:
    found = judge(piece, job)
    if not found:
        return [Said(f"Count, order, gaps and ends are the chart's: {job.row.count} crimps, {', '.join(map(str, piece.turns))}. Now the gauge, on each one.", "ok")]
    if found[0][0] == "no order":
        return [Said(found[0][1], "no")]
    if [name for name, _ in found] == ["too few"]:
        return [Said(f"Not done: {found[0][1]} Nothing has pulled on it yet: the missing one is added, where the gap allows. The gauge would not tell: it does not count.", "no")]
    why = "" if len(found) == 1 else f", for {len(found)} reasons"
    return [Said(f"Reject{why}. Cut it off; a new eye is made on fresh cable.", "no"), *(Said(words) for _, words in found),
            Said("The gauge need not show it: it takes one crimp at a time, and neither counts nor measures gaps.")]


def _row_table(job: Row) -> lesson.Block:
    """The row in force, as it lies beside the sleeve."""
    row = job.row
    rows = (("count", f"{row.count}"), ("order", order_words(row)), ("tool and cavity", f"{job.chart.tool or 'not named'}, cavity {row.cavity}"),
            ("sleeve before, after", f"{millimetres(row.sleeve_before_mm, 1)}, {millimetres(row.sleeve_after_mm, 1)}"),
            ("width of a crimp", millimetres(row.crimp_width_mm, 1)), ("pen marks, from the thimble end", f"{_marks(job)} on the unpressed sleeve (worked out: even shares)"),
            ("gaps", (f"at least {millimetres(row.minimum_gap_mm, 1)}, " if row.minimum_gap_mm else "") + f"even to {millimetres(job.shop.bench.gap_tolerance_mm, 1)}; none over the end"))
    return lesson.table(("Chart in force", f"{row.size} {job.chart.sleeve_metal}"), rows, chart_line(job.chart))


def _marks(job: Row) -> str:
    return ", ".join(f"{at:.1f}" for at in marks_mm(job)) + " mm"


def place_step(state: dict, name: str, value=None) -> dict:
    """Slide, point, press, say done, or take another sleeve."""
    job, piece = _job(state), state["piece"]
    if name == "job":
        return _start(next(one for one in jobs() if one.key == value))
    if name == "fresh":
        secret = secrets.token_bytes(16)
        others = [one for one in jobs() if one.key != job.key and one.row.count > 1] or [job]
        return _start(_drawn(secret, "another sleeve", others)[0], secret.hex())
    if name == "done":
        judge(piece, job)
        return state | {"done": True}
    if state["done"]:
        raise Refusal("a stroke on a piece that was called done", "a new sleeve", "take another sleeve")
    if name in ("jaws", "spot"):
        at = min(max(float(value), 0.0), piece.length_mm)
        return state | {"jaws": at, "aiming": True, "said": (f"The jaws' middle stands {millimetres(at, 2)} from the thimble end. Press, or move them.", "")}
    if len(piece.crimps) >= MOST_STROKES:
        raise Refusal("one more stroke on a sleeve that has no room", "a piece called done, or another sleeve", "say done and read what is found")
    after = pressed(piece, state["jaws"], job)
    grown = after.length_mm - piece.length_mm
    stands = JAW_STEP * round(after.crimps[-1][0] / JAW_STEP)
    return state | {"piece": after, "jaws": stands, "aiming": False, "said": (f"Stroke {len(after.crimps)}, to full closure. The sleeve grew by {millimetres(grown, 1)}; the rest of it moved.", "")}


def place_the_crimps() -> Board:
    """Press a sleeve on the page, then say done."""
    return Board(of_the_scene("Press this sleeve", lesson_job().shop), _start(lesson_job()), place_view, place_step)


# --- what goes wrong: six pieces ------------------------------------------------------------------

FAULTS = {"too few": "one crimp short", "bare end": "bunched, one end bare", "over the end": "a crimp over the end", "overlap": "two crimps on each other",
          "order": "curved: end to end", "": "nothing: to the gauge"}
PIECES = ("bare end", "too few", "", "over the end", "order", "overlap")


def _made(fault: str) -> tuple[Piece, float]:
    """A finished piece of the lesson's row with one fault, made by shifting the even plan; and its bend."""
    job = lesson_job()
    row, plan = job.row, finished_plan(job)
    places, length, jaw = list(plan.places_mm), row.sleeve_after_mm, row.crimp_width_mm
    least = row.minimum_gap_mm or 0.0
    if fault == "too few":
        places, length = places[:-1], length - job.growth_mm
    elif fault == "bare end":
        places = [jaw / 2 + least + i * (jaw + least) for i in range(row.count)]
    elif fault == "over the end":
        places[-1] = length - jaw / 4
    elif fault == "overlap":
        places[1] = places[0] + jaw * 0.6
    turns = list(range(1, row.count + 1)) if fault == "order" else [list(row.order or range(1, row.count + 1)).index(i + 1) + 1 for i in range(len(places))]
    piece = Piece(length, tuple(zip(places, turns, strict=True)))
    return piece, bend_of(piece, job) if fault == "order" else 0.0


def _pieces(pieces, told=None, at="", pointable=False) -> Figure:
    job = lesson_job()
    made = [(piece.length_mm, piece.spans(job.row.crimp_width_mm), bend) for piece, bend in map(_made, pieces)]
    seen = [f"{len(spans)} crimps, edges at " + "; ".join(f"{a:.1f} to {b:.1f} mm" for a, b in spans) + f" of {length:.1f} mm" + (", curved" if bend else "") for length, spans, bend in made]
    return lettered_pieces(made, job.row.sleeve_after_mm, told, at, (lambda shape, value, words: pick(shape, "piece", value, words)) if pointable else None, seen)


def pieces_still() -> Figure:
    """The six pieces as they lie there."""
    return _pieces(PIECES)


def pieces_view(state: dict) -> View:
    """Six pressed sleeves: what is wrong with each."""
    at, told = state["at"], state["told"]
    cards = {letter: (not fault, FAULTS[fault]) for letter, fault in zip("ABCDEF", state["pieces"], strict=True) if letter in told}
    controls = (choice("fault", f"Piece {at}", (("choose", "choose"), *((words, name) for name, words in FAULTS.items())), state["fault"], as_list=True),
                button("say", "Now tell me", state["fault"] != "choose"), button("fresh", "Lay them out again", second=True))
    job = lesson_job()
    said = [Said(*state["said"])] if state["said"] else [Said(f"Six eyes from tool {job.chart.tool}; the chart says {job.row.count} crimps. Point at one. What do you say of it?")]
    if len(told) == 6:
        said.append(Said(f"{sum(told.values())} of 6 at the first word. The gauge passes every crimp you see here: it takes one crimp at a time."))
    return View((_pieces(state["pieces"], cards, at, True),), controls, tuple(said))


WHY = {"too few": "Add it, at its place, if nothing has pulled on it and the gap allows.", "bare end": "The far end holds nothing. Reject.",
       "over the end": "The end splits. Reject.", "overlap": "The metal there is thinned. Reject.",
       "order": "Pressed from one end to the other. Curved so far that the eye sees it at once: reject.", "": "Count, gaps and ends are right. Only now the gauge."}


def pieces_step(state: dict, name: str, value=None) -> dict:
    """Another piece, a fault, the verdict, or six in another order."""
    if name == "fresh":
        secret = secrets.token_bytes(16)
        return _laid(_drawn(secret, "six sleeves", PIECES), secret.hex())
    if name == "piece":
        return state | {"at": str(value), "fault": "choose", "said": (f"Piece {value}. Count, then look at gaps, ends and the line of the sleeve.", "")}
    if name == "fault":
        return state | {"fault": value, "said": ""}
    if state["fault"] == "choose":
        raise Refusal(f"no word on piece {state['at']}", "one of the list", "choose what you see")
    at, true = state["at"], state["pieces"]["ABCDEF".index(state["at"])]
    right = state["fault"] == true
    words = f"{'Right' if right else 'Not so'}. {at}: {FAULTS[true]}. {WHY[true]}"
    return state | {"told": {at: right} | state["told"], "said": (words, "ok" if right else "no")}


def _laid(pieces=PIECES, fresh: str = "") -> dict:
    return {"pieces": tuple(pieces), "at": "A", "fault": "choose", "told": {}, "said": "", "fresh": fresh}


def six_sleeves() -> Board:
    """Six pressed sleeves to judge."""
    return Board(of_the_scene("Which of these go to the gauge?", lesson_job().shop), _laid(), pieces_view, pieces_step)


# --- a sleeve that tilts --------------------------------------------------------------------------

LEAN = 14  # degrees the sleeve leans by a squeeze (a sketch)
STAGES = (0.0, 0.07, TOUCHED, 0.45, 0.75, 1.0)  # how far the jaws are closed after so many squeezes; up to TOUCHED no metal has moved
FOR_GOOD = "It is a reject for good, however it is turned now: cut it off, and make a new eye on fresh cable."


def tilt_still() -> Figure:
    """Upright, and leaning as the jaws touch it: nothing told yet."""
    return what_then(False)


def tilt_told() -> lesson.Block:
    """The leaning sleeve with what is done now, and what a stroke on it leaves: an answer, which waits."""
    return lesson.answer(what_then(True))


def _tilt_start(tips_at: int = 2, fresh: str = "") -> dict:
    """`pressed`: the furthest squeeze so far; `crooked`: the lean at which metal moved last, 0 where it never leaned then."""
    return {"stage": 0, "lean": 0, "tips_at": tips_at, "tipped": False, "pressed": 0, "crooked": 0, "done": False, "said": "", "fresh": fresh}


def tilt_view(state: dict) -> View:
    """The sleeve between the jaws, from its end."""
    figure = in_the_jaws(STAGES[state["stage"]], state["lean"], state["crooked"], STAGES[state["pressed"]])
    over = state["done"]
    controls = (button("squeeze", "Close a little", not over), button("open", "Open the jaws", not over, second=True), button("upright", "Stand it upright", not over, second=True),
                button("done", "Done: next crimp", not over), button("off", "Reject: cut it off", not over), button("fresh", "A fresh sleeve", second=True))
    said = [Said(*state["said"])] if state["said"] else [Said("One stroke. The sleeve stands upright in the open jaws. Close a little at a time, and watch it.")]
    return View((figure,), controls, tuple(said))


def tilt_step(state: dict, name: str, value=None) -> dict:
    """Close a little, open, stand upright, call the stroke done or the sleeve a reject, or take a fresh one."""
    if name == "fresh":
        secret = secrets.token_bytes(16)
        return _tilt_start(_drawn(secret, "one stroke", (1, 2, 3, 0))[0], secret.hex())
    if name == "squeeze":
        return _squeezed(state)
    if name == "open":
        stays = " The metal stays as it was pressed." if _moved(state) else ""
        return state | {"stage": 0, "said": (f"The jaws are open. Fingers stay out until the handle is at rest.{stays}", "")}
    if name == "upright":
        if state["stage"]:
            raise Refusal("a hand on a sleeve between closing jaws", "a sleeve in open jaws", "open the jaws first")
        told = "Its metal has moved already. Does that make it right?" if _moved(state) else f"{oval_in_the_jaws().says.split('. ')[0]}."
        return state | {"lean": 0, "said": (told, "")}
    return state | {"done": True, "said": _cut_off(state) if name == "off" else _tilt_verdict(state)}


def _moved(state: dict) -> bool:
    return STAGES[state["pressed"]] > TOUCHED


def _squeezed(state: dict) -> dict:
    if state["stage"] >= len(STAGES) - 1:
        raise Refusal("a squeeze on closed jaws", "one stroke to full closure", "open them, or say what becomes of the sleeve")
    stage = state["stage"] + 1
    tips = stage == state["tips_at"] and not state["tipped"]
    lean = min(state["lean"] + LEAN, 3 * LEAN) if tips or state["lean"] else 0
    crooked = lean if lean and STAGES[stage] > TOUCHED else state["crooked"]
    end = "The handles are at their stop." if crooked else "The jaws have met."
    words = (end if stage == len(STAGES) - 1 else "The jaws lie on the sleeve. No metal has moved yet." if STAGES[stage] == TOUCHED
             else "The jaws come closer." if STAGES[stage] < TOUCHED else "Metal moves.")
    return state | {"stage": stage, "lean": lean, "tipped": state["tipped"] or tips, "pressed": max(stage, state["pressed"]), "crooked": crooked,
                    "said": (f"{words} Look at the sleeve's long axis.", "")}


def _tilt_verdict(state: dict) -> tuple[str, str]:
    if state["crooked"]:
        turned = "" if state["lean"] else " You stood it up afterwards: that mends nothing."
        return f"Not so: metal moved while it leaned. It lies skew in the cavity, with flash between the faces. At the gauge: {ON_FLASH}.{turned} {FOR_GOOD}", "no"
    if state["lean"]:
        return "Not so: it leans, and no metal has moved. Open, stand it upright, close again fully.", "no"
    if state["stage"] < len(STAGES) - 1 and state["pressed"] < len(STAGES) - 1:
        return "Not so: the jaws have not met. The crimp is fat, and the gauge will stop it. Press it again at the same place, once, to full closure.", "no"
    if state["tipped"]:
        return "Right: it leaned before metal had moved. You opened, stood it upright and closed again fully.", "ok"
    return "Right: it stood upright all the way, and the jaws have met.", "ok"


def _cut_off(state: dict) -> tuple[str, str]:
    if state["crooked"]:
        return f"Right: metal moved while it leaned. {FOR_GOOD}", "ok"
    if state["lean"]:
        return "Not needed: it leans, but no metal has moved. Open, stand it upright, close again fully.", "no"
    return "Not needed: it stands upright, and nothing has gone wrong so far.", "no"


def tilting() -> Board:
    """One stroke on a sleeve that may tilt."""
    return Board("One stroke, closely watched", _tilt_start(), tilt_view, tilt_step)
