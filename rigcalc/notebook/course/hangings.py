"""The values and tables of lesson 10: legs, braces and spans, from three invented orders."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import cache
from html import escape

from rigcalc._order_shapes import read_coordinates, read_weight
from rigcalc.assembly import Order, job_sheet
from rigcalc.braces import Brace, gate_brace
from rigcalc.cable import metallic_area_mm2
from rigcalc.errors import Refusal
from rigcalc.figures import Figure
from rigcalc.figures.bridles import Meaning, three_meanings
from rigcalc.figures.three_jobs import three_jobs, wrong_hangings
from rigcalc.legs import LOWEST_ANGLE_RAD, Legs, legs, symmetrical_legs
from rigcalc.notebook import lesson
from rigcalc.notebook.kits import Kit
from rigcalc.notebook.teaching import eye_for_teaching, of_order, sample_shop, shop_for_teaching
from rigcalc.shop.order_file import by_field
from rigcalc.sleeve import chart_line
from rigcalc.spans import GREATEST_SAG, Span, catenary_span, parabola_against_catenary, point_load_span, uniform_load_span
from rigcalc.stretch import modulus_n_mm2
from rigcalc.stretched_span import sag_with_stretch
from rigcalc.units import INCH_MM, LBF_N, read_length_mm, read_size, show_force, show_length

__all__ = ["GATE_CLASS", "INCH", "INVENTED_ORDERS", "degrees", "gate", "in_mm", "inches", "jobs", "jobs_still", "kayak", "kayak_points", "kit", "lantern", "length", "meaning_of", "meanings",
           "opening", "parabola_table", "pull", "pulls_are_no_limits", "refused_orders", "right_answers", "sag_table", "short", "stretch_table", "system", "three_readings", "three_rules",
           "weight_n", "who_is_under", "wrong_answers"]

INVENTED_ORDERS = "The orders, their customers and designers are INVENTED; their sheets are made with the invented sample shop."
SHEET_DAY = date(2026, 4, 1)  # a day on which the invented shop's gauges are in date
INCH = float(INCH_MM)
LIKED = "1/8"
# A gate swings, and whoever opens it stands beside its brace: order 1 is static with nobody there on these terms only (judgement).
GATE_CLASS = "nobody can be there, as long as it stays shut and locked: why, stands below"
NOT_OURS = "So two of the three are not ours to decide. Somebody by name answers for the factor and for the load. Only the gate takes the shop's own factor, and that needs a second look."
READ_AS = 40  # degrees: a written figure for which three meanings give three hangings, none refused


# --- how figures are shown ------------------------------------------------------------------------

def system() -> str:
    """The unit system of the shop that the lessons are worked with."""
    return shop_for_teaching()[0].system


def pull(force_n: float) -> str:
    """A pull in both systems, to 0.1 lbf where the shop works in lbf."""
    return show_force(force_n, system(), step="0.1" if system() == "US" else None)


def short(force_n: float) -> str:
    """The same in the shop's own system alone, for a drawing."""
    return pull(force_n).partition(" [")[0]


def length(length_mm: float) -> str:
    """A length in both systems."""
    return show_length(length_mm, system()) if length_mm >= 0 else f"− {show_length(-length_mm, system())}"


def inches(length_mm: float) -> float:
    """A length in inches, for the sliders: they step by whole and half inches, which any browser adds up without a rest."""
    return round(length_mm / INCH, 6)


def in_mm(points) -> list[tuple[float, ...]]:
    """Points from inches to mm."""
    return [tuple(part * INCH for part in point) for point in points]


def degrees(angle_rad: float) -> str:
    """An angle to a tenth of a degree."""
    return f"{math.degrees(angle_rad):.1f}°".replace("-", "−")


# --- the three orders -----------------------------------------------------------------------------

def weight_n(order: Order) -> float:
    """What an order's load weighs, N."""
    return float(read_weight(order.weight, order.gravity)[0])


@dataclass(frozen=True)
class Job:
    """One of the three jobs: what it weighs, in N, and the pulls in N of its cable or cables by name."""

    kind: str
    title: str
    weight_n: float
    pulls_n: tuple[tuple[str, float], ...]

    @property
    def greatest_n(self) -> float:
        """The greatest pull, N."""
        return max(force for _, force in self.pulls_n)

    @property
    def times(self) -> float:
        """The greatest pull as a multiple of the weight."""
        return self.greatest_n / self.weight_n


def kayak() -> Legs:
    """Order 5: the bridle, from its points (order: short leg, long leg), the ring at nought."""
    order = of_order("05_kayak_bridle")
    return legs(read_coordinates(order.leg_points), (0.0, 0.0, 0.0), weight_n(order), names=("A", "B"))


def kayak_points() -> tuple[tuple[float, float, float], ...]:
    """Where order 5's legs are fixed, seen from the ring, in mm."""
    return read_coordinates(of_order("05_kayak_bridle").leg_points)


def gate() -> tuple[float, float, float, Brace]:
    """Order 1: the gate's width and height in mm, its weight in N, its brace."""
    order = of_order("01_gate_brace")
    wide, high = (float(read_length_mm(text).value) for text in (order.brace_across, order.brace_up))
    return wide, high, weight_n(order), gate_brace(wide, high, weight_n(order))


def lantern() -> Span:
    """Order 3: the lantern on its span."""
    order = of_order("03_lantern")
    return point_load_span(float(read_length_mm(order.span).value), float(read_length_mm(order.sag).value), weight_n(order))


def jobs() -> tuple[Job, ...]:
    """The three jobs with what each cable pulls."""
    bridle, (_, _, weight, held), wire = kayak(), gate(), lantern()
    return (Job("kayak", "kayak bridle", bridle.load_n, tuple((f"leg {leg.name}", leg.tension_n) for leg in bridle.legs)),
            Job("gate", "gate brace", weight, (("the brace", held.tension_n),)),
            Job("lantern", "lantern span", wire.load_n, (("each side of the wire", wire.left_n),)))


def jobs_still() -> Figure:
    """The three jobs with their weights, no pulls."""
    return three_jobs([short(job.weight_n) for job in jobs()], caption=INVENTED_ORDERS)


def kit() -> Kit:
    """The eye whose chart and limit the sheets speak of: 1/8 in where the shop has it."""
    return eye_for_teaching()[0]


def opening() -> lesson.Block:
    """The chart in force and whether the shop is invented."""
    shop, note = shop_for_teaching()
    return lesson.opening_lines(chart_line(kit().chart), shop.invented, note)


def who_is_under() -> lesson.Block:
    """Each job's class of use, as its order answers it, and whose factor that asks for."""
    asked, rows = [], []
    for name, title in (("05_kayak_bridle", "kayak bridle"), ("01_gate_brace", "gate brace"), ("03_lantern", "lantern span")):
        order = of_order(name)
        who = (f"{order.designer}, factor {order.designer_factor} and design load {order.designer_load}, for this order only" if order.use == "people"
               else "the shop's own factor, with its owner")
        asked.append((title, order.near))
        rows.append((title, "people can be there" if order.use == "people" else GATE_CLASS, who))
    letters = lesson.table(("Job", "If it lets go"), asked, "Asked before any sum (INVENTED orders 5, 1 and 3)")
    told = lesson.table(("Job", "Class of use", "Whose factor"), rows)
    return lesson.asked_then_told(letters, lesson.Block(f"{told.html}<p>{escape(NOT_OURS)}</p>", f"{told.text}\n{NOT_OURS}"))


# --- which angle ----------------------------------------------------------------------------------

def meaning_of(degrees_written: float, measured: str, load_n: float) -> tuple[float, float | None, str]:
    """Two like legs at a written angle measured so: their angle from the horizontal in rad, the pull in N or None, and the words."""
    angle = math.radians(degrees_written)
    steep = {"horizontal": angle, "vertical": math.pi / 2 - angle, "included": (math.pi - angle) / 2}[measured]
    try:
        found = symmetrical_legs(load_n, 2, angle, angle_from=measured)
    except Refusal as refusal:
        return steep, None, str(refusal)
    return found.from_horizontal_rad, found.tension_n, pull(found.tension_n)


def meanings(degrees_written: float, load_n: float, show: Sequence[str] = ("horizontal", "vertical", "included"), meant: str = "") -> tuple[Meaning, ...]:
    """The three ways of taking a written angle, the pulls of those in `show` said and drawn, all others drawn alike."""
    found = []
    for measured in ("horizontal", "vertical", "included"):
        steep, force, _ = meaning_of(degrees_written, measured, load_n)
        words = "?" if measured not in show else "refused: too flat" if force is None else f"each leg\n{short(force)}"
        found.append(Meaning(measured, steep, force if measured in show else load_n / 6, words, measured == meant))
    return tuple(found)


def three_readings(said: bool = True) -> Figure:
    """One written figure, drawn as each of its three meanings; not `said`: the pulls are asked for."""
    load = kayak().load_n
    found = meanings(READ_AS, load) if said else [replace(one, shown="how hard?") for one in meanings(READ_AS, load, ())]
    return three_meanings(f"{READ_AS}°", found, load, f"One figure, {READ_AS} degrees, and a kayak of {short(load)}. {'Computed.' if said else 'No pull is drawn yet.'}")


# --- three shapes ---------------------------------------------------------------------------------

def three_rules() -> lesson.Block:
    """The three shapes, side by side: what each is, its rule, its least angle, and what is asked for."""
    least = f"{math.degrees(LOWEST_ANGLE_RAD):g} degrees from the horizontal: flatter is refused"
    rows = [("legs", "something hangs from them", "upright share over the sine of the leg's own angle", least, "which angle; where the weight lies; how many legs can be counted on"),
            ("brace", "it keeps something from turning on its hinge", "moments about the hinge", "none", "does anyone swing on it; who stands beside it; how tight, and how that is checked"),
            ("span", "it is drawn across a gap and loaded", "load and sag", "none", "the sag; one place or all along; who walks below")]
    return lesson.answer(lesson.table(("Shape", "What it is", "Rule", "Least angle", "Ask"), rows, "Three shapes, three rules"))


# --- sag ------------------------------------------------------------------------------------------

def sag_table() -> lesson.Block:
    """The lantern's wire pulled tighter and tighter: half the sag, twice the pull."""
    wire = lantern()
    rows = [(length(found.sag_mm), degrees(found.left_angle_rad), pull(found.greatest_n), f"{found.greatest_n / wire.greatest_n:.2f}")
            for found in (point_load_span(wire.span_mm, wire.sag_mm / part, wire.load_n) for part in (1, 2, 4, 8))]
    return lesson.answer(lesson.table(("Sag", "the wire stands at", "pull", "times the first"), rows, f"One lantern of {pull(wire.load_n)}, tighter and tighter"))


def parabola_table() -> lesson.Block:
    """The curtain of order 4 as parabola and as catenary, at three sags, with the difference; one deeper is refused."""
    order = of_order("04_glasshouse_curtain")
    span, load = float(read_length_mm(order.span).value), weight_n(order)
    rows = []
    for share in (0.025, 0.05, 0.1):
        both = parabola_against_catenary(span, span * share, load)
        rows.append((f"{share * 100:g} % of the span", pull(both.parabola.greatest_n), pull(both.catenary.greatest_n), f"+ {both.greatest_share * 100:.2f} %"))
    deep = 1.5 * GREATEST_SAG
    rows.append((f"{deep * 100:g} % of the span", _parabola_words(span, span * deep, load), pull(catenary_span(span, span * deep, load).greatest_n), "not given"))
    return lesson.answer(lesson.table(("Sag", "parabola, greatest pull", "catenary", "parabola is"), rows, f"{pull(load)} spread along {length(span)} (the curtain of INVENTED order 4)"))


def _parabola_words(span_mm: float, sag_mm: float, load_n: float) -> str:
    try:
        return pull(uniform_load_span(span_mm, sag_mm, load_n).greatest_n)
    except Refusal as refusal:
        return f"refused: {refusal.accepted}"


def stretch_table() -> lesson.Block:
    """The lantern's wire cut long, cut just so, cut short: its sag and pull once it has stretched, from the stiffest to the softest cable."""
    wire, size = lantern(), "1/8"
    area = metallic_area_mm2("7x19", float(read_size(size).diameter_mm), "EN")
    found = modulus_n_mm2("7x19", "stainless")
    rows = []
    for words, cable in (("for the sag on the order", wire.length_mm), ("as long as the span", wire.span_mm), ("shorter than the span by a two-thousandth", wire.span_mm * 0.9995)):
        both = sag_with_stretch(wire.span_mm, cable, wire.load_n, area * found.low, area * found.high)
        rows.append((words, f"{length(both.stiffest.sag_mm)} to {length(both.softest.sag_mm)}", f"{short(both.softest.greatest_n)} to {short(both.stiffest.greatest_n)}"))
    return lesson.table(("The cable is cut", "it sags under the lantern", "and pulls"), rows,
                        f"{size} in 7x19 stainless, only the stretch that goes back (how stiff cable is, its modulus, is a range, {'partly from memory' if found.from_memory else 'read'}: it rates nothing)")


# --- orders ---------------------------------------------------------------------------------------

@cache
def _sheet(name: str):
    return job_sheet(of_order(name), sample_shop(), SHEET_DAY)


def pulls_are_no_limits() -> lesson.Block:
    """What each cable pulls, what must be covered, and the limit with the name of who set its factor."""
    rows = []
    for name, title in (("05_kayak_bridle", "kayak, leg A"), ("01_gate_brace", "gate brace"), ("03_lantern", "lantern wire")):
        sheet = _sheet(name)
        rows.append((title, sheet.limit_notes[0], sheet.limit_shown, sheet.limit_working[-1].rpartition(":")[0]))
    return lesson.table(("Cable", "the job sheet says", "working limit", "because"), rows, "A pull, a design load, a limit: three figures (INVENTED orders)")


def refused_orders() -> lesson.Block:
    """Two of the letters as they first came, and what the bench answers."""
    rows = []
    for name, words in (("05a_kayak_forty_two_each", "kayak: half the weight in each leg"), ("03a_lantern_no_designer", "lantern over the lane: no designer named")):
        try:
            _sheet(name)
        except Refusal as refusal:
            asked = getattr(refusal, "questions", ())
            rows.append((words, by_field(re.sub(r" \(--[a-z-]+\)", "", " ".join([str(refusal), *asked])))))
    return _said_one_by_one("As they first came (INVENTED)", rows)


def _said_one_by_one(title: str, asked_and_told: Sequence[tuple[str, str]]) -> lesson.Block:
    """A title, and each thing that is asked about with its answer under a cover of its own."""
    def line(words: str, strong: bool = False) -> lesson.Block:
        return lesson.Block(f"<p><strong>{escape(words)}</strong></p>" if strong else f"<p>{escape(words)}</p>", words)

    blocks = [line(title, True), *(lesson.asked_then_told(line(f"{place}. {asked}"), line(told)) for place, (asked, told) in enumerate(asked_and_told, 1))]
    return lesson.Block("".join(one.html for one in blocks), "\n".join(one.text for one in blocks))


def wrong_answers() -> Figure:
    """Six wrong answers, drawn as somebody gave them."""
    return wrong_hangings([(kind, said) for kind, said, _ in _wrong_and_right()], f"The frame weighs {short(400 * LBF_N)}.")


def right_answers() -> lesson.Block:
    """What is right in the place of each of the six, under a cover of its own."""
    return _said_one_by_one("What is right (computed)", [(said, right) for _, said, right in _wrong_and_right()])


def _wrong_and_right() -> tuple[tuple[str, str, str], ...]:
    """What is drawn, what somebody said, and what is right."""
    bridle, (_, _, _, held), wire = kayak(), gate(), lantern()
    four = symmetrical_legs(400 * LBF_N, 4, math.pi / 2, angle_from="horizontal")
    tight = point_load_span(wire.span_mm, wire.sag_mm / 2, wire.load_n)
    share = {on: force for on, force, _ in four.counted}
    return (
        ("kayak", f"“{short(bridle.load_n / 2)} each: half”", f"leg {bridle.governs[0]} {short(bridle.legs[0].tension_n)}, leg B {short(bridle.legs[1].tension_n)}"),
        ("gate", f"“{degrees(held.angle_rad)}: refused, too flat”", f"a brace: {short(held.tension_n)}, no least angle"),
        ("gate wrong way", "“Down to the post's foot will do”", "as the gate sags it goes slack: a cable cannot push"),
        ("lantern", f"“{short(wire.load_n / 2)} each side”", f"{short(wire.left_n)} each side"),
        ("flat wire", "“Tighter looks neater”", f"half the sag: {short(tight.left_n)}"),
        ("frame", f"“{short(share[4])} each: a quarter”", f"count on two: {short(four.tension_n)} each"),
    )
