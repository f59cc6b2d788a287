"""Lesson 03, its worked example and its sheets: order 2's sleeve step by step, recap, abilities, bench practice sheet, sources."""

from __future__ import annotations

from rigcalc.cable import sleeve_construction
from rigcalc.errors import Refusal
from rigcalc.galvanic import voltage_rule
from rigcalc.notebook import lesson
from rigcalc.notebook.bench_units import to_write
from rigcalc.notebook.course.hangings import INVENTED_ORDERS
from rigcalc.notebook.course.silver import kit
from rigcalc.notebook.teaching import of_order, sample_shop, shop_for_teaching
from rigcalc.pairing import pairing
from rigcalc.reference import constant, full_source
from rigcalc.sleeve import chart_in_force, chart_line, fill, times_as_heavy

__all__ = ["abilities", "cautions", "cheaper", "practice_sheet", "recap", "sources", "worked_order"]

LESSON, CAFE, SLEEVE = "03", "02_cafe_wires", "zinc-plated copper"


# --- the worked example ---------------------------------------------------------------------------

def _cafe():
    """Order 2, its reel in the invented sample shop, and that shop."""
    order, shop = of_order(CAFE), sample_shop()
    return order, shop.reel(order.reel), shop


def worked_order() -> lesson.Block:
    """Order 2's sleeve, one step a line."""
    order, reel, shop = _cafe()
    refused, taken = pairing(reel.metal, "aluminium", order.service), pairing(reel.metal, SLEEVE, order.service)
    tool = next(chart.tool for chart in shop.charts if chart.sleeve_metal == SLEEVE and any(row.size == reel.size for row in chart.rows))
    chart, row = chart_in_force(shop.charts, SLEEVE, reel.size, tool)
    rows = (("1. Read the reel", f"{reel.id}: {reel.label}, {reel.certificate}"),
            ("2. Read the order", f"{order.where}; service: {order.service}"),
            ("3. May a sleeve go on it?", f"{sleeve_construction(reel.construction).designation}: yes, the charts list it"),
            ("4. The customer's wish", f"aluminium: {refused.verdict}. {refused.reasons[0]}"),
            ("5. The pair", f"{SLEEVE}: {taken.verdict}. {taken.reasons[0]}"),
            ("6. The size", f"bare cable {reel.size}, so sleeve {reel.size}"),
            ("7. The chart in force", f"{row.count} crimps, tool {chart.tool}, cavity {row.cavity}: {chart_line(chart)}"),
            ("8. On the tag", f"{taken.verdict}: the next look is due after {taken.inspect_months} months"))
    block = lesson.table(("Step", "Order 2"), rows, "Which sleeve for the cafe? " + INVENTED_ORDERS)
    return lesson.answer(block)


def cheaper() -> lesson.Block:
    """What the cheaper sleeve would save on order 2, by the invented shop's prices."""
    order, reel, shop = _cafe()
    prices, sleeves = dict(shop.prices.sleeve), 2 * int(order.quantity)
    light, right = prices[f"{reel.size} aluminium"], prices[f"{reel.size} {SLEEVE}"]
    rows = ((f"{sleeves} sleeves, aluminium", f"{sleeves * light:.2f}"), (f"{sleeves} sleeves, {SLEEVE}", f"{sleeves * right:.2f}"),
            ("the wish would save", f"{sleeves * (right - light):.2f}"))
    return lesson.table(("Order 2", shop.prices.currency), rows, "Aluminium, cheaper? (INVENTED prices)", numbers=(1,))


# --- sheets ---------------------------------------------------------------------------------------

def recap() -> lesson.Block:
    """The lesson on one page."""
    heavy, thin = times_as_heavy(SLEEVE), fill("3/32", "1/8")
    lines = (
        "Silver is a colour, not a metal. Read the bag first; no bag, no sleeve.",
        f"Weigh one against a known one: copper is {heavy:.1f} times as heavy as aluminium, size for size.",
        "A scratch shows white (aluminium) or red (copper). The scratched one is spent.",
        "Bag and scale disagree: it counts as a sleeve without a bag. Light: aluminium, for practice. Heavy: cannot be known, out of use.",
        "Zinc or tin on copper: only the right bag says it.",
        "A sleeve holds by soft metal forced into the valleys of both legs. Coat, thin cable or half a stroke: it lets go.",
        f"Size: bare cable and sleeve bear the same size. Try both legs by hand. 3/32 in a 1/8 sleeve goes on, with {thin:.0%} of the area, and slips out.",
        "Listed: 7x7 and 7x19, in the chart's sizes and metals. 1x19, fibre core, stainless sleeve: refuse unless the tool's own chart lists it.",
        "Pair: aluminium for galvanised, plated copper for stainless. Then ask where it hangs.",
        "Aluminium on stainless: never, in any service. The small sleeve is eaten, inside, and it carries the load.",
        "Under water, pool-hall air: no hand-pressed pair. No interval mends that.",
        "Outdoors and in spray the pair has its interval. Write it on the tag. A dry room: as the shop says.",
        "Volts alone mislead, both ways. The pairing table and the maker's chart decide.",
        "How fast a wrong pair fails is not known. So nobody waits for it.",
    )
    return lesson.recap_sheet("Which sleeve on which cable: recap", lines, f"Chart in force: {chart_line(kit().chart)}")


def abilities() -> lesson.Block:
    """What can be shown after the lesson, each line tied to its skill."""
    return lesson.abilities(LESSON)


def practice_sheet() -> lesson.Block:
    """A sheet for the bench: six silver sleeves of a tray sorted, then one put on each of two cables; limits from the shop's charts."""
    shop, note = shop_for_teaching()
    size = kit().size
    tray = (
        ("Bag: what its label says, or none", "words"),
        (f"Scale: weight over a known aluminium {size} sleeve", "times"),
        ("It is: aluminium, zinc-plated, tin-plated, or cannot be known", "words"),
        ("STOP: what cannot be known is laid aside and shown",),
        ("Scratch one spare: white or red; then into the scrap", "colour", True))
    fit = (
        (f"Reel read; bare cable over crowns, three places ({size})", to_write(shop), True, 3),
        (f"Both legs tried by hand in the {size} sleeve: in, side by side, no force", "", True),
        ("STOP: sleeve, reel and chart row shown side by side", "", True),
        (f"Crimps by the chart: aluminium {_count(shop, 'aluminium', size)}; zinc-plated copper {_count(shop, SLEEVE, size)}", "", True))
    place = (("A place of your own work: its row in the table, what the tag says", "words", True),)
    steps = lesson.by_place({"": (("Eye protection on. Nothing is pressed in this task", "", True),), "At the tray": tray, "At the fit": fit, "At the place": place})
    columns = tuple(f"Sleeve {number}" for number in range(1, 4))
    return lesson.bench_sheet(f"Bench practice sheet: silver sleeves from a mixed tray, {size} in", steps, columns, shop.chart_line(), shop.invented, note,
                              "The trainer fills the tray and keeps the list. Say how you know; a lucky guess is no pass. Pass means: it may be used. Reject means: it is laid aside.")


def _count(shop, metal: str, size: str) -> str:
    """The count of each tool that the shop has for this sleeve, or whom to ask."""
    found = [f"{row.count} (tool {chart.tool})" for chart in shop.charts for row in chart.rows if (chart.sleeve_metal, row.size) == (metal, size)]
    if found:
        return ", ".join(found)
    try:
        return f"{chart_in_force(shop.charts, metal, size)[1].count}, common practice"
    except Refusal:
        return "no chart: ask the maker"


def cautions() -> lesson.Block:
    """The cautions of every lesson."""
    return lesson.cautions()


def sources() -> lesson.Block:
    """Statement, source and how it is known, for what the lesson says."""
    copper, rule = constant("copper density"), voltage_rule("stainless", "aluminium", "outdoor")
    never, zinc, pool = pairing("stainless", "aluminium", "dry"), pairing("galvanised", "plain copper", "outdoor"), pairing("stainless", SLEEVE, "immersed")
    open_air, tin = pairing("galvanised", "aluminium", "outdoor"), pairing("stainless", "tin-plated copper", "dry")
    rows = (
        ("tell sleeves apart by bag, scale and scratch", "the trade", "common practice"),
        (f"copper {times_as_heavy(SLEEVE):.1f} times as heavy as aluminium", f"two densities: {full_source(copper.source)}, {copper.locator}; the ratio computed", copper.how_known),
        ("minutes for reading, weighing and scratching", "made up for this exercise", "INVENTED"),
        ("how a sleeve holds, and three ways it lets go", "the trade; drawn so that the metal keeps its volume, rates nothing", "common practice"),
        ("size by the bare cable; share of the area in a sleeve too large", "the trade; (d / D) squared", "common practice; computed"),
        ("7x7 and 7x19 in the chart's sizes, nothing else", chart_line(kit().chart), "INVENTED" if kit().shop.invented else "the maker's chart"),
        ("aluminium on stainless, never", never.source, never.how_known),
        ("zinc beside plain copper is eaten in the wet", zinc.source, zinc.how_known),
        ("zinc and aluminium in the open air", open_air.source, open_air.how_known),
        ("stainless in pool-hall air cracks with no rust", pool.source, pool.how_known),
        ("tin-plated copper on stainless", tin.source, tin.how_known),
        ("the other verdicts and intervals", "pairing table of this workbook, row by row", "common practice, judgement"),
        ("the simple voltage rule: index and limits", rule.source, rule.how_known),
        ("the higher index is the anode; area counts", full_source("MIL-DTL-14072F") + ", 3.13.1", "read"),
        ("potentials in sea water", full_source("seawater potentials"), "read, second-hand"),
        ("the four stages of the wrong pair", "order of events; their time is not known, and none is given", "common practice"),
        ("order 2, its customer, prices", "the workbook's invented shop", "INVENTED"),
    )
    return lesson.sources(rows)
