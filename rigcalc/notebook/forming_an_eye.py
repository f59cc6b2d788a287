"""The values, drawings and tables of lesson 05, all worked from the shop and the calculations."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from rigcalc import figures
from rigcalc.cable import breaking_force, flats_reading_mm
from rigcalc.errors import Refusal
from rigcalc.figures.drawing import millimetres
from rigcalc.layout import CutLength, EyeParts, cut_length_mm, least_tail_mm
from rigcalc.notebook import lesson
from rigcalc.pairing import SERVICES, pairing
from rigcalc.rating import limit
from rigcalc.shop import load_shop, sample_shop_path
from rigcalc.sleeve import ChartRow, CrimpChart, chart_line, fill
from rigcalc.units import read_size

if TYPE_CHECKING:
    from rigcalc.shop import Shop

__all__ = ["Kit", "kit", "opening", "tomo_sets_the_tail", "tails", "pairs", "calipers", "count_and_order", "cable",
           "stages", "jaws", "layout", "worked", "faults", "too_small"]

SLEEVE_METAL, CABLE_METAL = "aluminium", "galvanised"
PIN_TO_PIN_MM = 2400.0  # order 2 of the invented shop, the lesson's worked example
TAIL_MM = 7.0  # the same order's tail: at least two diameters, to a whole millimetre
LIKED = "1/8"


@dataclass(frozen=True)
class Kit:
    """What the lesson's eye is made of: shop, chart in force, size and lengths in mm."""

    shop: Shop
    chart: CrimpChart
    row: ChartRow
    size: str
    construction: str
    diameter_mm: float
    loop_mm: float
    bearing_to_sleeve_mm: float
    tail_mm: float
    note: str = ""

    @property
    def parts(self) -> EyeParts:
        """One eye for the cut length."""
        return EyeParts(self.loop_mm, self.bearing_to_sleeve_mm, self.row.sleeve_before_mm, self.tail_mm)

    @property
    def growth(self) -> float:
        """Sleeve after over before, a ratio from the shop's own three pressed sleeves."""
        return self.row.sleeve_after_mm / self.row.sleeve_before_mm


def kits(shop: Shop) -> list[Kit]:
    """Every eye the shop can make in bare galvanised cable with aluminium sleeves: a size a kit, in order."""
    found: dict[str, Kit] = {}
    for reel in shop.reels:
        if reel.metal != CABLE_METAL or reel.coating_to or not reel.is_inch or reel.size in found:
            continue
        for chart in shop.charts:
            made = _kit(shop, chart, reel) if chart.sleeve_metal == SLEEVE_METAL else None
            if made and reel.size not in found:
                found[reel.size] = made
    return sorted(found.values(), key=lambda one: one.diameter_mm)


def _kit(shop, chart, reel) -> Kit | None:
    row = next((r for r in chart.rows if r.size == reel.size), None)
    if row is None or not row.sleeve_before_mm or not row.sleeve_after_mm:
        return None
    try:
        thimble = shop.thimble(reel.size, CABLE_METAL)
    except Refusal:
        return None
    diameter = read_size(reel.size).diameter_mm
    least = least_tail_mm(diameter)
    return Kit(shop, chart, row, reel.size, reel.construction, float(diameter), thimble.loop_mm,
               thimble.bearing_to_sleeve_mm, float(-(-least // 1)))


@lru_cache(maxsize=1)
def kit() -> Kit:
    """The lesson's eye: 1/8 in where the shop has it; the invented sample where the shop's chart has no lengths."""
    shop, note = load_shop(), ""
    made = kits(shop)
    if not made:
        shop = load_shop(sample_shop_path())
        made = kits(shop)
        note = ("Your shop file has no aluminium chart row with sleeve lengths and a thimble for it, "
                "so the invented sample shop stands here. Enter them, then reload the page.")
    one = next((k for k in made if k.size == LIKED), made[0])
    return Kit(**{**one.__dict__, "note": note})


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


def tail_table() -> lesson.Block:
    """Tail before, growth and what can be left, for one and two diameters."""
    k = kit()
    grown = k.row.sleeve_after_mm - k.row.sleeve_before_mm
    rows = []
    for count in (1, 2):
        before = count * k.diameter_mm
        left = before - grown
        rows.append((f"{count} d", millimetres(before), millimetres(grown, 1),
                     f"{millimetres(left)} shows" if left > 0 else f"none: the end is {millimetres(-left)} inside"))
    return lesson.answer(lesson.table(("Tail before", "is", "sleeve grows", "tail left at worst"), rows,
                                      f"{k.size} in cable, worst case"))


def pairs() -> lesson.Block:
    """The verdicts that this lesson needs, service by service."""
    rows = []
    for cable_metal, sleeve in (("galvanised", "aluminium"), ("stainless", "aluminium"),
                                ("stainless", "zinc-plated copper")):
        rows.append((f"{cable_metal} cable, {sleeve} sleeve",
                     *(_verdict(cable_metal, sleeve, service) for service in SERVICES)))
    names = ("dry, indoors", "outdoors", "sea spray", "under water, pool hall")
    return lesson.table(("Pair", *names), rows, "May they go together? (common practice; the maker's chart governs)")


def _verdict(cable_metal: str, sleeve: str, service: str) -> str:
    return pairing(cable_metal, sleeve, service).verdict


def why_never() -> lesson.Block:
    """Why aluminium is never put on stainless cable."""
    reasons = pairing("stainless", "aluminium", "dry").reasons
    items = "".join(f"<li>{lesson.escape(reason)}</li>" for reason in reasons)
    return lesson.Block(f"<ul>{items}</ul>", "\n".join(reasons))


def calipers() -> figures.Figure:
    """A 3/16 cable measured over crowns and over flats."""
    return figures.caliper_on_section(float(read_size("3/16").diameter_mm), "7x19", "both")


def flats_table() -> lesson.Block:
    """What 3/16 reads over flats, and the size it is then taken for."""
    d = float(read_size("3/16").diameter_mm)
    return lesson.table(("3/16 in cable", "caliper reads", "somebody calls it"),
                        (("over the crowns", millimetres(d), "3/16 in: right"),
                         ("over the flats", millimetres(flats_reading_mm(d)), "5/32 in: wrong")),
                        "One cable, two readings (computed: six equal strands round one)")


def chart_row() -> lesson.Block:
    """The chart's row for the lesson's size."""
    k = kit()
    order = ", then ".join(map(str, k.row.order)) if k.row.order else "ask the maker"
    rows = (("cable and sleeve", f"{k.size} in, {k.chart.sleeve_metal}"), ("tool and cavity", f"{k.chart.tool}, {k.row.cavity}"),
            ("crimps", k.row.count), ("order, counted from the thimble", order),
            ("gauge and slot", f"{k.row.gauge or 'none named'}, {k.row.gauge_slot or 'none named'}"))
    return lesson.table(("The chart says", ""), rows, chart_line(k.chart))


def count_and_order() -> figures.Figure:
    """The crimps in their order, from the chart in force."""
    k = kit()
    return figures.crimp_places(k.row.count, "ABCDEF"[:k.row.count], k.size, k.row.order,
                                f"Order: {k.row.order_source}." if k.row.order else "No order in this chart: ask the maker.")


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
    """The straight cable with its pen marks."""
    k, cut = _example()
    return figures.cut_layout(PIN_TO_PIN_MM, k.bearing_to_sleeve_mm, k.loop_mm, k.row.sleeve_before_mm, k.tail_mm,
                              cut.total_mm, k.size)


def worked() -> lesson.Block:
    """The cut length of the worked example, step by step, and its total."""
    _, cut = _example()
    rows = [(label, f"{part:+g} mm".replace("-", "− ").replace("+", "+ ") if index else millimetres(part, 1))
            for index, (label, part) in enumerate(cut.steps)]
    rows.append(("cut length", millimetres(cut.total_mm, 1)))
    block = lesson.table(("Step", "mm"), rows, "Cut length, two thimble eyes", numbers=(1,))
    return lesson.answer(lesson.Block(block.html.replace("<tr><td>cut length", '<tr class="total"><td>cut length'), block.text))


def faults() -> figures.Figure:
    """Six faults and what the gauge says of them."""
    return figures.faults()


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
