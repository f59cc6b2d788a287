"""The values, drawings and tables of lesson 05, all worked from the shop and the calculations."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

from rigcalc import figures
from rigcalc.cable import band_mm, breaking_force, flats_mistaken_for, flats_reading_mm
from rigcalc.errors import Refusal
from rigcalc.figures.drawing import millimetres
from rigcalc.layout import CutLength, cut_length_mm
from rigcalc.notebook import lesson
from rigcalc.notebook.course.metal_pairs import IN_WORDS
from rigcalc.notebook.kits import CABLE_METAL, SLEEVE_METAL, Kit, kits
from rigcalc.notebook.teaching import eye_for_teaching
from rigcalc.pairing import SERVICES, pairing
from rigcalc.rating import limit
from rigcalc.sleeve import chart_line, fill
from rigcalc.units import read_size

__all__ = ["CABLE_METAL", "SLEEVE_METAL", "Kit", "kit", "kits", "opening", "tomo_sets_the_tail", "tails", "pairs", "calipers", "count_and_order", "cable",
           "stages", "jaws", "layout", "worked", "ends", "threaded", "too_small"]

PIN_TO_PIN_MM = 2400.0  # order 2 of the invented shop, the lesson's worked example
LIKED = "1/8"


@lru_cache(maxsize=1)
def kit() -> Kit:
    """The lesson's eye in the shop that the lessons are worked with: 1/8 in where that shop has it."""
    one, note = eye_for_teaching()
    return replace(one, note=note)


def opening() -> lesson.Block:
    """The chart in force and whether the shop is invented."""
    k = kit()
    return lesson.opening_lines(chart_line(k.chart), k.shop.invented, k.note)


def _source() -> str:
    k = kit()
    return ("INVENTED lengths, " if k.shop.invented else "Lengths: ") + f"chart {k.chart.id}, edition {k.chart.edition}."


def eye(tail_mm: float, pressed: bool | None = None, one: Kit | None = None, asked: bool = False) -> figures.Figure:
    """The eye to scale with a tail, before or after pressing, or both."""
    k = one or kit()
    return figures.eye_to_scale(k.diameter_mm, k.bearing_to_sleeve_mm, k.row.sleeve_before_mm, k.row.sleeve_after_mm,
                                tail_mm, k.row.count, k.size, pressed, _source(), asked)


def tomo_sets_the_tail() -> figures.Figure:
    """Tomo's eye before pressing: a tail of one diameter."""
    return eye(kit().diameter_mm, pressed=False, asked=True)


def tails(diameters: float) -> figures.Figure:
    """The eye before and after pressing with a tail of so many diameters."""
    return eye(diameters * kit().diameter_mm)


def good() -> figures.Figure:
    """A good eye after pressing."""
    return eye(kit().tail_mm, pressed=True)


def tail_table() -> lesson.Block:
    """Tail before, growth and what can be left, for one and two diameters."""
    k = kit()
    grown = k.row.sleeve_after_mm - k.row.sleeve_before_mm
    rows = []
    for count in (1, 2):
        before = count * k.diameter_mm
        left = before - grown
        rows.append((f"{count} d", millimetres(before, 1), millimetres(grown, 1),
                     f"{millimetres(left, 1)} shows" if left > 0 else f"none: the end is {millimetres(-left, 1)} inside"))
    return lesson.answer(lesson.table(("Tail before", "is", "sleeve grows", "tail left at worst"), rows,
                                      f"{k.size} in cable, worst case"))


def pairs() -> lesson.Block:
    """The verdicts that this lesson needs, service by service."""
    rows = []
    for cable_metal, sleeve in (("galvanised", "aluminium"), ("stainless", "aluminium"),
                                ("stainless", "zinc-plated copper")):
        rows.append((f"{cable_metal} cable, {sleeve} sleeve",
                     *(_verdict(cable_metal, sleeve, service) for service in SERVICES)))
    return lesson.table(("Pair", *IN_WORDS.values()), rows, "May they go together? (common practice; the maker's chart governs)")


def _verdict(cable_metal: str, sleeve: str, service: str) -> str:
    return pairing(cable_metal, sleeve, service).verdict


def why_never() -> lesson.Block:
    """Why aluminium is never put on stainless cable."""
    reasons = (*pairing("stainless", "aluminium", "dry").reasons, "Anode and cathode: where two metals touch in the wet, the anode is eaten and the cathode is kept.")
    items = "".join(f"<li>{lesson.escape(reason)}</li>" for reason in reasons)
    return lesson.Block(f"<p><strong>Aluminium on stainless, never:</strong></p><ul>{items}</ul>", "\n".join(("Aluminium on stainless, never:", *reasons)))


def calipers() -> figures.Figure:
    """A 3/16 cable measured over crowns and over flats."""
    return figures.caliper_on_section(float(read_size("3/16").diameter_mm), "7x19", "both")


def flats_table() -> lesson.Block:
    """What 3/16 reads over flats, the size it is then taken for, and the band of each size."""
    d, thinner = float(read_size("3/16").diameter_mm), flats_mistaken_for("3/16")
    rows = [(where, millimetres(reads), f"{size} in: {millimetres(band_mm(size)[0])} to {millimetres(band_mm(size)[1])}", verdict)
            for where, reads, size, verdict in (("over the crowns", d, "3/16", "3/16 in: right"),
                                                ("over the flats", flats_reading_mm(d), thinner, f"{thinner} in: wrong"))]
    return lesson.table(("3/16 in cable", "caliper reads", "lies in the band of", "somebody calls it"), rows,
                        "One cable, two readings. A cable may be thicker than its name, never thinner: that is its band (AC 43.13-1B Table 7-3)")


def chart_row() -> lesson.Block:
    """The chart's row for the lesson's size."""
    k = kit()
    order = "place " + ", then ".join(map(str, k.row.order)) if k.row.order else "ask the maker"
    rows = (("cable and sleeve", f"{k.size} in, {k.chart.sleeve_metal}"), ("tool and cavity", f"{k.chart.tool}, {k.row.cavity}"),
            ("crimps", k.row.count), ("order; place 1 is next to the thimble", order),
            ("gauge and slot", f"{k.row.gauge or 'none named'}, {k.row.gauge_slot or 'none named'}"))
    return lesson.table(("The chart says", ""), rows)


def count_and_order() -> figures.Figure:
    """The crimps in their order, from the chart in force."""
    k = kit()
    return figures.crimp_places(k.row.count, "123456"[:k.row.count], k.size, k.row.order,
                                f"Place 1 is next to the thimble. Order: {k.row.order_source}." if k.row.order else "No order in this chart: ask the maker.")


def cable() -> figures.Figure:
    """The cable's true section."""
    return figures.cable_section(kit().construction, kit().diameter_mm, kit().size)


def stages(content: str = "bare") -> figures.Figure:
    """The sleeve before, half closed and closed."""
    return figures.sleeve_stages(content, kit().construction, kit().growth)


def too_small() -> lesson.Block:
    """How far the next thinner cable fills the lesson's sleeve."""
    return lesson.table(("Cable", "Sleeve", "fills"), (("1/8 in", "1/8 in", "100%"),
                        ("3/32 in", "1/8 in", f"{fill('3/32', '1/8'):.0%}")), "How much of the bore is cable (computed)")


def jaws() -> figures.Figure:
    """Upright and flat in the jaws."""
    return figures.sleeve_in_jaws(None, kit().construction, kit().growth)


def _example() -> tuple[Kit, CutLength]:
    k = kit()
    return k, cut_length_mm(PIN_TO_PIN_MM, k.parts, k.parts, diameter_mm=k.diameter_mm)


def layout() -> figures.Figure:
    """The finished piece on its pins, above the straight cable with its pen marks."""
    k, cut = _example()
    return figures.cut_layout(PIN_TO_PIN_MM, k.bearing_to_sleeve_mm, k.loop_mm, k.row.sleeve_before_mm, k.tail_mm,
                              cut.total_mm, k.size, finished=True)


def worked() -> lesson.Block:
    """The cut length of the worked example, step by step, and its total."""
    _, cut = _example()
    rows = [(label, f"{part:+g}".replace("-", "− ").replace("+", "+ ") if index else f"{part:g}") for index, (label, part) in enumerate(cut.steps)]
    rows.append(("cut length", f"{cut.total_mm:g}"))
    block = lesson.table(("Step", "mm"), rows, "Cut length, two thimble eyes", numbers=(1,))
    return lesson.answer(lesson.Block(block.html.replace("<tr><td>cut length", '<tr class="total"><td>cut length'), block.text))


def ends() -> figures.Figure:
    """The cut through the tape, a good end and bad ones."""
    return figures.cable_ends()


def threaded() -> figures.Figure:
    """The legs in the sleeve, the thimble at it: right and wrong."""
    return figures.threaded()


def limit_lines() -> lesson.Block:
    """The limit of the lesson's eye in the shop's own class of use, in one sum, with who answers for the factor."""
    k = kit()
    reel = next(r for r in k.shop.reels if (r.size, r.metal, r.coating_to) == (k.size, CABLE_METAL, None))
    try:
        if not k.shop.factors:
            raise Refusal("no design factor", "a factor with the name of who set it", "ask whoever answers for the shop")
        force = breaking_force(k.size, k.construction, CABLE_METAL, certificate_n=reel.certificate_n, certificate=reel.certificate)
        found = limit(force, k.shop.factors[0], "nobody", system=k.shop.system)
    except Refusal as refusal:
        return lesson.Block(f'<p class="said-refused">{lesson.escape(str(refusal))}</p>', str(refusal))
    shown = found.shown_us if k.shop.system == "US" else found.shown_si
    rows = [("working limit", shown), ("worked as", "; ".join(found.working)),
            ("factor set by", f"{found.owner}, {found.set_on}"), ("only for", found.scope)]
    return lesson.table((f"{k.size} in {k.construction} {CABLE_METAL}, two eyes", "straight pull only"), rows)


def cautions() -> lesson.Block:
    """The cautions of every lesson."""
    return lesson.cautions()
