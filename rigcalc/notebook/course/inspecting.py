"""Lesson 07, what lies on the bench: finished eyes with one fault or none, a tray of twenty, gauges and their days, a list of pieces to trace."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from functools import lru_cache

from rigcalc.errors import Refusal
from rigcalc.figures.pressed_pieces import Looks
from rigcalc.notebook import lesson
from rigcalc.notebook.course.crimping import finished_plan, lesson_job, page_line
from rigcalc.notebook.teaching import of_the_scene, sample_shop, scene_mark, shop_for_teaching
from rigcalc.questions.draws import Stream
from rigcalc.reference import table
from rigcalc.tools import Bad, Containment, GoodCheck, Piece, containment
from rigcalc.units import read_size

__all__ = ["CAUSES", "FAULTS", "HARMLESS", "START", "STEPS", "TODAY", "DayList", "Fault", "TrayPiece", "fault_of", "gauge_says", "looks_of", "of_the_scene", "opening", "own_stream", "scene_gauge", "scene_mark", "steps_of",
           "trace", "traced", "tray_of"]

START = "07" * 16  # the draw that the live figures begin with
PIECES = 20
SCENE_INVENTED = "The scene, its people, tools, gauges, readings, limit and list of pieces are INVENTED: those of the sample shop. None of them is yours, even where a name is the same."
EYES_INVENTED = ("Your shop file has no chart row of three crimps or more with its lengths, so the eyes that are gauged here, the slot in the recap and the practice sheet are the invented sample shop's. "
                 "Enter the lengths, then reload the page.")


@dataclass(frozen=True)
class Fault:
    """One fault: how it is called, its row of the table of what a gauge sees, its cause, and how the gauge meets this piece.

    Causes: common practice. `gauge`: "goes on", "stops" or "jams" on the piece that is drawn.
    """

    key: str
    name: str
    row: str
    cause: str
    gauge: str = "goes on"
    fat: tuple[int, ...] | None = None
    in_tray: bool = True
    then: str = ""

    @property
    def seen(self) -> str:
        """Whether a gauge sees it: yes, sometimes or no."""
        return next(row.seen for row in table("gauge_sees") if row.fault == self.row)

    @property
    def do(self) -> str:
        """What is done with this piece: `then`, where its row speaks of several."""
        return self.then or next(row.do for row in table("gauge_sees") if row.fault == self.row)


FINS = "the cavity was too small, the sleeve lay off centre or flat, or the jaws are worn or mis-set"  # common practice
FAULTS = (
    Fault("fat", "a crimp not closed", "under-closed jaws: full count, fat crimps", "the stroke was not finished, or the tool is mis-set", "stops", (1,),
          then="press again once, same place; not on then: scrap"),
    Fault("larger", "pressed in a larger cavity", "larger cavity of the tool used", "the mark on the tool was misread", "stops", (0, 1, 2, 3, 4, 5), False,
          then="press again once, same places, in the right cavity, if it bears no other mark; else scrap"),
    Fault("fins", "fins on both sides", "flash or fins at the parting line", FINS, "jams"),
    Fault("flat", "pressed flat", "sleeve lying flat across the jaws", "the sleeve lay flat across the jaws", "jams"),
    Fault("smaller", "pressed in a smaller cavity", "smaller cavity of the tool used: thinned sleeve, cut wires", "the mark on the tool was misread"),
    Fault("small cable", "cable too small for its sleeve", "a sleeve one size too big for the cable", "bags mixed up"),
    Fault("coat", "pressed over the coat", "a coat left inside the sleeve", "the legs were not stripped"),
    Fault("metal", "wrong sleeve metal", "a sleeve of the wrong metal", "the bag was not read: silver looks alike"),
    Fault("missing", "one crimp short", "a missing crimp, one too many, or two that overlap", "the count was lost",
          then="add it if nothing has loaded the piece and there is room; else scrap"),
    Fault("overlap", "crimps on each other", "a missing crimp, one too many, or two that overlap", "no plan, or one more to be safe",
          then="scrap; no crimp is added"),
    Fault("bare end", "bunched, one end bare", "crimps bunched, with a long bare end", "pressed without a plan", then="scrap: its far end is bare"),
    Fault("buried", "tail buried", "a slipped or buried tail", "set too short, or moved while pressing"),
    Fault("long tail", "tail left too long", "a tail left too long", "over-careful", in_tray=False),
    Fault("crossed", "legs crossed", "crossed legs or a wire caught at the mouth", "threaded by force"),
    Fault("caught", "a wire caught at the mouth", "crossed legs or a wire caught at the mouth", "threaded by force"),
    Fault("crack", "a crack in a crimp", "a crack or a split end", "over-pressed, a hard or used sleeve, or the wrong metal"),
    Fault("split", "a crimp over the sleeve's end", "a crack or a split end", "the last crimp was set too far out"),
    Fault("bent", "sleeve bent", "a bent sleeve", "pressed from end to end, or the cable was not straight", then="scrap, where the bend shows as here"),
    Fault("loose", "thimble loose", "a loose, rattling or crushed thimble", "the loop was not drawn up"),
    Fault("twisted", "eye turned, not flat with its sleeve", "eyes out of plane or a twisted cable", "the eye was turned while pressing", in_tray=False),
    Fault("birdcage", "cable opened at the mouth", "a cable opened out at the sleeve's mouth", "pushed back or untwisted when threading"),
    Fault("nicks", "wires nicked", "wires nicked in stripping", "a knife was drawn across the lay",
          then="before pressing: cut back and strip again; once pressed: scrap"),
    Fault("tape", "tape in the sleeve", "tape or grease inside the sleeve", "haste: the tape was left on"),
    Fault("used", "an old sleeve pressed again", "a used sleeve, a sleeve pressed after service, or a new sleeve where one was pressed", "saving"),
    Fault("worn", "a fat crimp and a worn slot", "an under-pressed crimp that a worn slot lets through", "the gauge was not tried on its pins", "goes on", (1,), False),
)
CAUSES = tuple(one for one in FAULTS if one.in_tray)
HARMLESS = ("scratch", "smear", "pen", "rubbed", "paint", "short tail")
STEPS = (("before the first press", ("worn",)), ("reading bag, cable and tool", ("metal", "small cable", "larger", "smaller")), ("cutting and stripping", ("coat", "nicks", "tape")),
         ("threading", ("crossed", "caught", "birdcage", "loose", "buried", "long tail")), ("in the jaws", ("flat", "fins", "twisted", "bent")), ("the stroke", ("fat", "crack")),
         ("count and places", ("missing", "overlap", "bare end", "split")), ("saving", ("used",)))
# Where the cause names a second step, that one is right too.
ALSO = {"fat": ("before the first press",), "fins": ("reading bag, cable and tool", "before the first press"), "crack": ("reading bag, cable and tool", "saving"), "bent": ("count and places", "threading"), "buried": ("the stroke", "in the jaws")}



def fault_of(key: str) -> Fault:
    """The fault of that key; Refusal for another.

    >>> fault_of("buried").seen
    'no'
    """
    found = next((one for one in FAULTS if one.key == key), None)
    if found is None:
        raise Refusal(f"the fault '{key}'", ", ".join(one.key for one in FAULTS), "take one of these")
    return found


def steps_of(key: str) -> tuple[str, ...]:
    """The steps that may have made a fault, the likeliest first (common practice).

    >>> steps_of("tape")
    ('cutting and stripping',)
    """
    return (*(step for step, keys in STEPS if key in keys), *ALSO.get(key, ()))


def _bands(key: str, band: int, turned: bool, amount: float) -> tuple[float, tuple[tuple[float, float], ...]]:
    """Sleeve length and crimps from edge to edge in mm, for the lesson's row."""
    job, plan = lesson_job(), finished_plan(lesson_job())
    row, places = job.row, list(plan.places_mm)
    jaw, length, least = row.crimp_width_mm, row.sleeve_after_mm, row.minimum_gap_mm or 0.0
    if key == "missing":
        gone = band % len(places)
        places, length = [at - (job.growth_mm if i > gone else 0) for i, at in enumerate(places) if i != gone], length - job.growth_mm
    elif key == "bare end":
        places = [jaw / 2 + least + i * (jaw + least) for i in range(row.count)]
        length += jaw / 2
        places = [length - at for at in reversed(places)] if turned else places
    elif key == "split":
        places[0 if turned else -1] = jaw / 4 if turned else length - jaw / 4
    elif key == "overlap":
        first = band % (len(places) - 1)
        places[first + 1] = places[first] + jaw * 0.6 * amount
    return length, tuple((at - jaw / 2, at + jaw / 2) for at in places)


def looks_of(key: str = "", mark: str = "", band: int = 1, mark_band: int = 1, amount: float = 1.0, turned: bool = False, wiped: bool = False) -> Looks:
    """A finished eye of the lesson's sleeve with that fault ("" for none) and an innocent mark; sketch of how far it goes, figures from the chart.

    `band`, `mark_band`: the crimps, from 0, that bear them; `amount`: how far it goes, 1 as a rule; `turned`: on the other side or end;
    `wiped`: the grease is off. Grease over a crack hides it.

    >>> looks_of("buried").tail_mm, len(looks_of("missing").crimps)
    (0.0, 2)
    >>> "crack" in looks_of("crack", "smear").marks, "crack" in looks_of("crack", "smear", wiped=True).marks
    (False, True)
    """
    length, crimps = _bands(key, band, turned, amount)
    d = read_size(lesson_job().row.size).diameter_mm
    own = {"flat": "flat", "fins": "fins", "smaller": "fins", "metal": "copper", "coat": "coat", "crossed": "crossed", "caught": "caught", "crack": "crack", "loose": "loose",
           "twisted": "twisted", "birdcage": "birdcage", "nicks": "nicks", "tape": "tape", "used": "used", "small cable": "small"}
    marks = {own[key]} if key in own else set()
    marks |= {mark} if mark in HARMLESS and mark != "short tail" and not (mark == "smear" and wiped) else set()
    band, mark_band = band % len(crimps), mark_band % len(crimps)
    if "smear" in marks and mark_band == band:
        marks -= {"crack"}
    tail = 0.0 if key == "buried" else min(4.2 * d, 0.45 * length) if key == "long tail" else 0.45 * d * amount if mark == "short tail" else 0.9 * d
    fat = () if not key or fault_of(key).fat is None else (band,) if key == "fat" else fault_of(key).fat
    bend = 16.0 * amount * (-1 if turned else 1) if key == "bent" else 0.0
    return Looks(length, crimps, tail, 0.75 * d if key == "small cable" else d, d, bend, tuple(i for i in fat if i < len(crimps)), key == "smaller", frozenset(marks),
                 band, mark_band, (band,) if key == "fins" and turned else (), amount, turned)


def gauge_says(key: str, looks: Looks) -> str:
    """What the gauge said of each band of that piece, as it is written on the card."""
    fault = fault_of(key) if key else None
    if fault is None or fault.gauge == "goes on":
        return f"Gauge: all the way on and turned{', loosely,' if looks.thin else ','} on every band."
    if fault.gauge == "jams":
        return f"Gauge: does not go all the way on, on {'any band' if not looks.spots else 'band ' + ' and '.join(str(i + 1) for i in looks.spots)}."
    return "Gauge: all the way on and turned, but not over band " + ", ".join(str(i + 1) for i in looks.fat) + "."


# --- the tray of twenty -----------------------------------------------------------------------------

@dataclass(frozen=True)
class TrayPiece:
    """One piece of the tray: its fault and its innocent mark ("" for none), the crimps that bear them, how far it goes, and which side."""

    fault: str = ""
    mark: str = ""
    band: int = 1
    mark_band: int = 1
    amount: float = 1.0
    turned: bool = False

    def looks(self, wiped: bool = False) -> Looks:
        """What is to be seen of it, with its grease or wiped."""
        return looks_of(self.fault, self.mark, self.band, self.mark_band, self.amount, self.turned, wiped)


def own_stream(secret: str, what: str) -> Stream:
    """The draws of one live figure, from the secret kept in its state."""
    return Stream(bytes.fromhex(secret), what)


def _any_piece(stream: Stream, fault: str, mark: str) -> TrayPiece:
    """A piece with that fault and mark; where, how much and on which side is drawn. Grease on a cracked crimp lies over the crack; none lies over what is to be seen at an end."""
    band, mark_band = stream.below(3), stream.below(3)
    if fault == "crack":
        mark_band = band if mark == "smear" else (band + 1) % 3
    if fault in ("metal", "split") and mark == "smear":
        mark = "pen"
    return TrayPiece(fault, mark, band, mark_band, stream.pick((0.85, 1.0, 1.15)), stream.below(2) == 1)


@lru_cache(maxsize=32)
def tray_of(secret: str) -> tuple[TrayPiece, ...]:
    """Twenty pieces: nine to twelve bad ones, two to four of which the gauge stops at; no fault twice but a crimp not closed; the rest good.

    Some of both bear a mark that means nothing; one good one at least has grease on.
    """
    stream = own_stream(secret, "twenty pieces")
    bad, stopped = 9 + stream.below(4), 2 + stream.below(3)
    stops, unseen = ([one for one in CAUSES if (one.gauge == "goes on") == on] for on in (False, True))
    drawn = [*stream.some([*stops, fault_of("fat")], stopped), *stream.some(unseen, bad - stopped)]
    faults = [_any_piece(stream, one.key, stream.pick(("smear", "")) if one.key == "crack" else stream.pick((*HARMLESS[:5], "", "", "", "", "")))
              for one in drawn]
    marks = ["smear", *(stream.pick(HARMLESS) for _ in range(3 + stream.below(3)))]
    good = [_any_piece(stream, "", mark) for mark in (*marks, *[""] * (PIECES - bad - len(marks)))]
    return tuple(stream.shuffled(faults + good))


# --- the gauge of the scene -------------------------------------------------------------------------

def scene_gauge():
    """Gauge GC of the invented shop."""
    return sample_shop().gauge("GC")


TODAY = scene_gauge().due_on + timedelta(days=8)  # the scene's day: GC is over a week out of date


def opening() -> lesson.Block:
    """Style, the shop's standing and the chart in force."""
    shop, note = shop_for_teaching()
    job = lesson_job()
    own = "" if job.shop.name == shop.name else EYES_INVENTED
    return lesson.opening_lines(page_line(job), job.shop.invented, note, tuple(words for words in (own, "" if shop.invented else SCENE_INVENTED) if words))


# --- which pieces go back ---------------------------------------------------------------------------

@dataclass(frozen=True)
class DayList:
    """A list of pieces, what was found bad and when, its good checks, and which go back."""

    pieces: tuple[Piece, ...]
    bad: Bad
    found: datetime
    checks: tuple[GoodCheck, ...]
    how: str

    @property
    def result(self) -> Containment:
        """What `rigcalc.tools.containment` says."""
        return containment(self.pieces, self.bad, self.found, self.checks)

    @property
    def head(self) -> str:
        """What stands over the list: what was found, and the good checks that are written down."""
        checks = ";\n".join("; ".join(f"{one.kind} {one.id} {said(one.at)}" for one in self.checks if one.id == name) for name in dict.fromkeys(one.id for one in self.checks))
        return f"{said(self.found)}: {self.how}\nGood checks: {checks}."


def said(at: datetime | date | None) -> str:
    """A time as the list writes it: "Mon 9 Mar, 10:15"; a day alone; "" for none."""
    if at is None:
        return ""
    days, months = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"), ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
    day = f"{days[at.weekday()]} {at.day} {months[at.month - 1]}"
    return f"{day}, {at:%H:%M}" if isinstance(at, datetime) else day


def _at(days: int, clock: str) -> datetime:
    hour, minute = map(int, clock.split(":"))
    return datetime.combine(TODAY + timedelta(days=days), datetime.min.time()).replace(hour=hour, minute=minute)


@lru_cache(maxsize=32)
def traced(secret: str) -> DayList:
    """A list to trace; the first is the scene's: LA does not close, yesterday's lanyards."""
    stream = own_stream(secret, "a list")
    tool = secret == START or stream.below(2) == 0
    bad, other = (("LA", "BB") if tool else ("GA", "GB"))
    good_at = "10:15" if secret == START else stream.pick(("09:40", "10:15", "11:05", "13:20"))
    clocks = ("07:50", "08:35", "09:20", "09:55", "10:40", "11:30", "13:45", "14:30", "15:10", "16:00")
    pieces = []
    odd = stream.shuffled(range(len(clocks)))
    for i, clock in enumerate(clocks):
        used = other if i in odd[:3] else bad
        mine, gauge = (used, "GA") if tool else (stream.pick(("LA", "BB") if used == "GA" else ("LB", "BB")), used)
        pieces.append(Piece(f"W{i + 1}", mine, gauge, _at(-1, clock)))
    pieces[odd[3]] = replace(pieces[odd[3]], at=None)
    pieces[odd[4]] = replace(pieces[odd[4]], **({"tool": None} if tool else {"gauge": None}))
    pieces.append(Piece("W11", bad if tool else "LA", "GA" if tool else bad, (TODAY - timedelta(days=1)) if stream.below(2) else _at(-1, good_at)))
    pieces.append(Piece("W12", bad if tool else "LA", "GA" if tool else bad, _at(0, "07:35")))
    how = f"tool {bad} does not close: the paper slips out at its tip." if tool else f"gauge {bad} fails on its pins: a slot is worn."
    kind = "tool" if tool else "gauge"
    checks = (GoodCheck(kind, bad, _at(-5, "07:30")), GoodCheck(kind, bad, _at(-1, good_at)), GoodCheck(kind, other, _at(0, "07:30")))
    return DayList(tuple(pieces), Bad(kind, bad), _at(0, "08:10"), checks, how)


def trace(secret: str) -> tuple[tuple[str, str, str, str], ...]:
    """The rows of that list as they are written."""
    return tuple((one.id, one.tool or "", one.gauge or "", said(one.at)) for one in traced(secret).pieces)
