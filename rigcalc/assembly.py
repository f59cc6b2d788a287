"""One assembly with two thimble eyes, from order to job sheet: asked, refused, or worked out whole."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from rigcalc._job_sheet import HOLD_POINTS, Item, JobSheet, Part, Step
from rigcalc._job_steps import (certificate_name, crimp_items, gauge_items, inspection_lines, parts_to_draw, record_lines,
                                sheet_length, tag_lines, work_steps)
from rigcalc._order import WORDS_CHECKED, Facts, MissingFacts, Order, open_questions, read_facts, refuse_class
from rigcalc.cable import BreakingForce, breaking_force, sizes, sleeve_construction
from rigcalc.cautions import CAUTIONS
from rigcalc.errors import Refusal
from rigcalc.layout import EyeParts, cut_length_mm, least_tail_mm
from rigcalc.pairing import Verdict, pairing
from rigcalc.rating import DesignFactor, Efficiency, Limit, efficiency, limit, working_load_limit_n
from rigcalc.sleeve import ChartRow, CrimpChart, chart_in_force, chart_line
from rigcalc.units import read_size, show_force, show_length

if TYPE_CHECKING:
    from rigcalc.shop import Bench, Gauge, Reel, Shop, Thimble, Tool

__all__ = ["HOLD_POINTS", "Item", "JobSheet", "MissingFacts", "Order", "Part", "Plan", "Step", "job_sheet",
           "missing_facts"]

# The sleeve metals that the pairing table is asked about, in the order of preference for each cable.
_PREFERRED = {"galvanised": ("aluminium", "zinc-plated copper", "tin-plated copper", "plain copper"),
              "stainless": ("zinc-plated copper", "tin-plated copper"),
              "bright": ("aluminium", "zinc-plated copper", "tin-plated copper", "plain copper")}
CLEAR_LENGTH_DIAMETERS = 10  # between the terminations: WAC 296-24-29425(2)(a), read


@dataclass(frozen=True)
class Plan:
    """Everything decided for one order, before it is put into words. Lengths in mm, forces in N."""

    order: Order
    facts: Facts
    on: date
    system: str
    invented: bool
    practice: bool
    bench: Bench
    reel: Reel
    sleeve_metal: str
    verdict: Verdict
    chart: CrimpChart
    row: ChartRow
    tool: Tool | None
    gauge: Gauge | None
    thimble: Thimble
    factor: DesignFactor
    strength: BreakingForce
    limit: Limit
    share: Efficiency
    tail_mm: float
    cut_mm: float
    cut_steps: tuple[tuple[str, float], ...]

    @property
    def limit_shown(self) -> str:
        """The limit in the shop's units, rounded down in the unit shown."""
        return self.limit.shown_us if self.system == "US" else self.limit.shown_si

    @property
    def cut_shown(self) -> str:
        """The cut length in the shop's units."""
        return show_length(self.cut_mm, self.system)

    @property
    def load_owner(self) -> str:
        """Who answers for the load."""
        return self.facts.designer.owner if self.facts.designer else self.order.load_from


def missing_facts(order: Order, shop: Shop | None = None) -> tuple[str, ...]:
    """The questions an order leaves open, in the order of asking; an empty tuple when none.

    Parameters
    ----------
    order : Order
        The order as given.
    shop : Shop, optional
        With a shop, which tool is to press is asked too, where several have a chart for the sleeve.

    Example
    -------
    >>> missing_facts(Order())[0][:11]
    'If this let'
    """
    return open_questions(order) + (() if shop is None else _which_tool(order, shop))


def job_sheet(order: Order, shop: Shop, on: date | None = None) -> JobSheet:
    """The job sheet for one order in one shop.

    Parameters
    ----------
    order : Order
        Every fact as given.
    shop : Shop
        The shop whose reels, charts, thimbles and factor are in force.
    on : date, optional
        The day the sheet is made; today without it. Gauges are in or out of date on that day.

    Raises
    ------
    MissingFacts
        When a fact is missing; its `questions` are what to ask.
    Refusal
        When the class of use, the pair, the reel, the chart or the limit says no.

    Source: strength, efficiency, pairing and layout name theirs on the sheet.
    """
    use = refuse_class(order)
    questions = missing_facts(order, shop)
    if questions:
        raise MissingFacts(questions)
    plan = _plan(order, read_facts(order, use), shop, on or date.today())
    return JobSheet(
        title=f"{'Practice' if plan.practice else 'Job'} sheet: {plan.reel.size} {plan.reel.metal}, two thimble eyes",
        shop=shop.name, shop_digest=shop.digest, invented=plan.invented, practice=plan.practice, system=plan.system,
        made_on=plan.on.isoformat(), number=order.number or "", chart_line=chart_line(plan.chart),
        before_starting=_before_starting(plan), order=_order_items(plan), decided=_decided(plan),
        parts=parts_to_draw(plan), quantity=plan.facts.quantity, cut_mm=plan.cut_mm, cut_shown=plan.cut_shown,
        cut_steps=tuple(Item(label, sheet_length(part, plan.system)) for label, part in plan.cut_steps),
        tail_mm=plan.tail_mm, steps=work_steps(plan), crimp_count=plan.row.count, crimp_order=plan.row.order or (),
        crimps=crimp_items(plan), gauge=gauge_items(plan), limit_n=plan.limit.force_n, limit_shown=plan.limit_shown,
        limit_working=_working(plan), limit_notes=_limit_notes(plan), inspection=inspection_lines(plan),
        tag=tag_lines(plan), record=record_lines(plan), cautions=CAUTIONS)


# --- deciding -----------------------------------------------------------------------------------------

def _plan(order: Order, facts: Facts, shop: Shop, on: date) -> Plan:
    """Reel, pair, chart, limit and cut length, each refusing in its turn."""
    reel = _usable_reel(shop, order.reel)
    sleeve_metal, verdict = _pair(reel, order.sleeve_metal, facts.service)
    tool = shop.tool(order.tool) if order.tool else None
    chart, row = chart_in_force(shop.charts, sleeve_metal, reel.size, tool.id if tool else None)
    practice = chart.kind != "maker"
    share = _share(reel, sleeve_metal, row, real=not practice and not chart.invented)
    factor = facts.designer or _shop_factor(shop)
    force = breaking_force(reel.size, reel.construction, reel.metal, reel.certificate_n, certificate_name(reel))
    _covers(facts, reel, working_load_limit_n(force.force_n, share.value, factor.value), factor, share)
    rated = limit(force, factor, facts.use, order.designer if facts.designer else None,
                  float(facts.designer_load.value) if facts.designer_load else None, share=share.value,
                  moves=order.movement != "none", tightened=facts.greatest_tension is not None,
                  greatest_tension_n=float(facts.greatest_tension.value) if facts.greatest_tension else None,
                  tension_check=order.tension_check)
    thimble = shop.thimble(reel.size, "stainless" if reel.metal == "stainless" else "galvanised")
    tail_mm, cut = _lay_out(facts, reel, row, thimble)
    return Plan(order, facts, on, shop.system, shop.invented, practice, shop.bench, reel, sleeve_metal, verdict, chart,
                row, shop.tool(chart.tool) if chart.tool else tool, shop.gauge(row.gauge) if row.gauge else None, thimble,
                factor, force, rated, share, tail_mm, cut.total_mm, cut.steps)


def _usable_reel(shop: Shop, reel_id: str) -> Reel:
    """The reel, refused where no sleeve of this trade fits it."""
    reel = shop.reel(reel_id)
    if not reel.is_inch:
        why = ("nothing is known about it: it is scrap for this work" if reel.size == "unknown" else
               f"{reel.size} is a metric size, another cable, and no inch sleeve fits it")
        raise Refusal(f"the reel {reel.id} ({reel.label})", "a labelled reel of an inch size, bare 7x7 or 7x19",
                      f"take an inch reel: {why}")
    sleeve_construction(reel.construction)
    if reel.coating_to:
        raise Refusal(f"the coated reel {reel.id} ({reel.label})", "bare cable",
                      f"take a bare {reel.size} reel: this sheet lays out no stripping")
    return reel


def _pair(reel: Reel, asked: str | None, service: str) -> tuple[str, Verdict]:
    """The sleeve metal that was asked for, or the first one that the pairing table allows."""
    if asked is not None:
        verdict = pairing(reel.metal, asked, service)
        if not verdict.allowed:
            why = verdict.reasons[0]
            better = [m for m in _PREFERRED[reel.metal] if pairing(reel.metal, m, service).allowed]
            raise Refusal(f"{asked} sleeves on {reel.metal} cable, {service} ({verdict.verdict})",
                          " or ".join(better) + " sleeves" if better else "no hand-pressed pair in this service",
                          f"do not press it: {why[:1].lower()}{why[1:]}")
        return asked, verdict
    for metal in _PREFERRED[reel.metal]:
        verdict = pairing(reel.metal, metal, service)
        if verdict.allowed:
            return metal, verdict
    raise Refusal(f"{reel.metal} cable, {service}", "a cable and sleeve pair that the pairing table allows in that service",
                  "take stainless cable" if reel.metal != "stainless" and service == "marine"
                  else "ask for another kind of end, made for that service")


def _which_tool(order: Order, shop: Shop) -> tuple[str, ...]:
    """The question which tool presses, where the reel and service leave several charts that differ."""
    if order.tool or not order.reel or not order.service:
        return ()
    try:
        reel = _usable_reel(shop, order.reel)
        metal, _ = _pair(reel, order.sleeve_metal, order.service)
    except Refusal:
        return ()  # refused in its turn, once nothing is missing
    tools = [chart.tool for chart in shop.charts
             if chart.sleeve_metal == metal and any(row.size == reel.size for row in chart.rows)]
    if len(tools) < 2:
        return ()
    return (f"Which tool presses it: {' or '.join(tools)}? Their charts differ and must not be mixed (--tool).",)


def _share(reel: Reel, sleeve_metal: str, row: ChartRow, real: bool) -> Efficiency:
    """What an eye holds: 0.90 under its conditions, or less where the maker's chart gives less."""
    share = efficiency(sleeve_metal, reel.metal, reel.construction)
    if row.efficiency is not None:
        value = min(share.value, row.efficiency)
        return Efficiency(value, share.conditions, "", "chart in force, common practice",
                          "the lower of the chart in force and common practice")
    if real and share.note:
        raise Refusal(f"{sleeve_metal} sleeves on {reel.metal} cable with no efficiency in the chart in force",
                      "the sleeve maker's figure or the shop's own pulled lot, as efficiency in the chart's row",
                      "ask the sleeve maker and enter it in the shop file")
    return share


def _shop_factor(shop: Shop) -> DesignFactor:
    """The shop's own factor for static work with nobody there."""
    if not shop.factors:
        raise Refusal("a shop file without a design factor", "a [[factor]] block with owner, day and scope",
                      "have the person who answers for it set one in the shop file")
    return shop.factors[0]


def _covers(facts: Facts, reel: Reel, limit_n: float, factor: DesignFactor, share: Efficiency) -> None:
    """Refuses a limit that does not reach the greatest force stated, naming the next size that does."""
    needed, called = facts.required
    if needed <= limit_n * (1 + 1e-9):
        return
    raise Refusal(f"{called} on {reel.size} {reel.metal} cable",
                  f"at most {show_force(limit_n, direction='down')} (factor {factor.value:g}, set by {factor.owner})",
                  _bigger(reel, float(needed), factor, share))


def _bigger(reel: Reel, needed_n: float, factor: DesignFactor, share: Efficiency) -> str:
    """What to do instead: the nearest bigger size of the strength table whose limit reaches."""
    for size in sizes()[sizes().index(reel.size) + 1:]:
        try:
            force = breaking_force(size, reel.construction, reel.metal)
        except Refusal:
            continue
        limit_n = working_load_limit_n(force.force_n, share.value, factor.value)
        if limit_n >= needed_n:
            return (f"the nearest bigger size that holds it is {size} {reel.construction} {reel.metal}, "
                    f"{show_force(limit_n, direction='down')}: take it if the shop has its reel and chart, or ask for less load")
    return "no size of the strength table holds it: ask for less load, or ask an engineer"


# --- laying out -----------------------------------------------------------------------------------------

def _lay_out(facts: Facts, reel: Reel, row: ChartRow, thimble: Thimble):
    """The tail in whole millimetres, rounded up, and the cut length."""
    before = row.sleeve_before_mm if row.sleeve_before_mm is not None else facts.sleeve_before_mm
    if before is None:
        raise MissingFacts(("How long is one sleeve before pressing? The chart in force does not say: measure one "
                            "(--sleeve-before).",))
    diameter_mm = read_size(reel.size).diameter_mm
    tail_mm = float(math.ceil(round(least_tail_mm(diameter_mm), 6)))
    eye = EyeParts(thimble.loop_mm, thimble.bearing_to_sleeve_mm, before, tail_mm)
    cut = cut_length_mm(facts.pin_to_pin.value, eye, eye, facts.correction_mm, diameter_mm)
    after = row.sleeve_after_mm if row.sleeve_after_mm is not None else before
    clear_mm = float(facts.pin_to_pin.value) - 2 * (thimble.bearing_to_sleeve_mm + after)
    if clear_mm < CLEAR_LENGTH_DIAMETERS * diameter_mm:
        least = 2 * (thimble.bearing_to_sleeve_mm + after) + CLEAR_LENGTH_DIAMETERS * diameter_mm
        raise Refusal(f"a length of {facts.pin_to_pin.shown}",
                      f"at least {show_length(least, 'SI', 'up')}, which leaves {CLEAR_LENGTH_DIAMETERS} diameters of cable "
                      "between the sleeves (WAC 296-24-29425(2)(a))", "ask for a longer assembly")
    return tail_mm, cut


# --- in words -------------------------------------------------------------------------------------------

def _before_starting(plan: Plan) -> tuple[str, ...]:
    """What stops the work before it begins."""
    stops = []
    if plan.gauge is not None and not plan.gauge.in_date(plan.on):
        stops.append(f"STOP: gauge {plan.gauge.id} was due on {plan.gauge.due_on}. Press nothing until it has been checked.")
    if plan.row.order is None:
        stops.append("STOP: the chart in force gives no order of pressing. Ask the tool maker before the first press.")
    if plan.row.gauge is None:
        stops.append("STOP: the chart in force names no gauge. Nothing made here can be passed.")
    return tuple(stops)


def _order_items(plan: Plan) -> tuple[Item, ...]:
    """The order's facts as given, with each number as it was read."""
    order, facts = plan.order, plan.facts
    items = [Item("What hangs or is braced", order.what), Item("Where", order.where),
             Item("Class of use", _class_words(order, facts)),
             Item("Answers for the use", WORDS_CHECKED), Item("Who can be near it", order.near), Item("Movement", order.movement),
             Item("Load", f"{facts.load.shown}, from {order.load_from}"),
             Item("Service", order.service), Item("Ends", order.ends),
             Item("Length", f"{facts.pin_to_pin.shown}, {order.measured}"), Item("Quantity", str(facts.quantity)),
             Item("Tightened", "no" if facts.greatest_tension is None else
                  f"{order.tightened}; greatest tension {facts.greatest_tension.shown}; checked: {order.tension_check}"),
             Item("Fitted by", order.installer)]
    if facts.designer:
        items.append(Item("Designer", f"{facts.designer.owner}, {facts.designer.set_on}: factor {facts.designer.value:g}, "
                          f"design load {facts.designer_load.shown}"))
    if order.temperature:
        items.append(Item("Temperature", order.temperature))
    return tuple(items)


def _class_words(order: Order, facts: Facts) -> str:
    """The class of use in words."""
    if facts.designer is None:
        return "static, nobody can be there"
    why = "static, people can be there" if order.movement == "none" else "it moves or takes shocks"
    return f"{why}: the named designer's factor and load, for this order only"


def _decided(plan: Plan) -> tuple[Item, ...]:
    """What was decided at the desk, with reasons."""
    verdict = plan.verdict
    return (Item("Cable", f"{plan.reel.label}, reel {plan.reel.id}"),
            Item("Sleeve", f"{plan.sleeve_metal}, {plan.reel.size}"),
            Item("Pair", f"{verdict.verdict}: {' '.join(_sentence(reason) for reason in verdict.reasons)} "
                         f"({verdict.how_known})"),
            Item("Strength", _strength(plan)),
            Item("Thimble", f"{plan.thimble.metal}, for {plan.thimble.size} cable"))


def _strength(plan: Plan) -> str:
    """The table and the certificate side by side, and which of them counts."""
    sides = (("table", plan.strength.from_table_n), (plan.reel.certificate or "certificate", plan.strength.from_certificate_n))
    known = [f"{name} {show_force(force_n, plan.system, 'down')}" for name, force_n in sides if force_n is not None]
    return f"{'; '.join(known)}; the lower counts" if len(known) > 1 else f"{known[0]}, the only figure there is"


def _sentence(text: str) -> str:
    """A reason with its full stop."""
    return text if text.endswith(".") else f"{text}."


def _working(plan: Plan) -> tuple[str, ...]:
    """Strength times efficiency divided by the factor, a line each, in the shop's units and rounded down."""
    factor, eyes_n = plan.factor, plan.strength.force_n * plan.share.value
    return (f"breaking force {show_force(plan.strength.force_n, plan.system, 'down')}: {plan.strength.source}",
            f"times {plan.share.value:.2f} for the eyes, once: {show_force(eyes_n, plan.system, 'down')} ({plan.share.how_known})",
            f"divided by {factor.value:g}, set by {factor.owner} on {factor.set_on} for {factor.scope}: {plan.limit_shown}")


def _limit_notes(plan: Plan) -> tuple[str, ...]:
    """What the limit covers, what governs it, and what it depends on."""
    force = plan.limit
    covered = " and ".join(called for _, called in plan.facts.forces)
    notes = [f"For practice arithmetic only: the sum reaches {covered}, but nothing made from this sheet is loaded." if plan.practice
             else f"Covers {covered}.",
             f"The cable at its eyes governs this piece: {force.factor:g} is {force.owner}'s factor for {force.scope}, set on "
             f"{force.set_on}.",
             "Pins, anchors, turnbuckles and shackles carry their own marked limits: the least of all governs the line.",
             f"Holds only for: {', '.join(force.conditions)}."]
    if plan.share.note:
        notes.append(plan.share.note)
    return tuple(notes)
