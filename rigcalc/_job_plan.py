"""What is decided for one order before it is put into words: reel, pair, chart, limit, layout, cut list, weakest link."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from rigcalc._job_fit import Fits, fit_pieces
from rigcalc._job_cuts import JobCuts, plan_cuts
from rigcalc._job_layout import Layout, lay_out, sleeve_lengths
from rigcalc._job_links import chosen_fittings, held_by_fittings
from rigcalc._job_lot import Lot, pulled_lot, refuse_failed_lot
from rigcalc._job_own import facts_with_own_weight
from rigcalc._job_proof import JobProof, proof_of
from rigcalc._job_sag import PieceSag, piece_sags
from rigcalc._order import Order
from rigcalc._order_figures import lower_first, show_pull
from rigcalc._order_read import Facts
from rigcalc._records import record
from rigcalc.cable import BreakingForce, breaking_force, sizes, sleeve_construction
from rigcalc.errors import BenchMatter, Refusal
from rigcalc.fittings import Weakest
from rigcalc.pairing import Verdict, pairing, refuse_from_memory
from rigcalc.rating import DesignFactor, Efficiency, Limit, efficiency, limit, show_limit, working_load_limit_n
from rigcalc.sleeve import ChartRow, CrimpChart, chart_in_force
from rigcalc.units import read_force_n, show_force

if TYPE_CHECKING:
    from rigcalc.shop import Bench, Gauge, Reel, Shop, Tool

__all__ = ["Plan", "certificate_name", "make_plan", "tool_question"]

# The sleeve metals that the pairing table is asked about, in the order of preference for each cable.
_PREFERRED = {"galvanised": ("aluminium", "zinc-plated copper", "tin-plated copper", "plain copper"),
              "stainless": ("zinc-plated copper", "tin-plated copper"),
              "bright": ("aluminium", "zinc-plated copper", "tin-plated copper", "plain copper")}


@record
class Plan:
    """Everything decided for one order, before it is put into words. Lengths in mm, forces in N.

    A ring with a lap splice has no factor, share or limit: nothing rates it.
    """

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
    strength: BreakingForce
    factor: DesignFactor | None
    limit: Limit | None
    share: Efficiency | None
    layout: Layout
    cuts: JobCuts
    links: Weakest | None
    lot: Lot | None
    proof: JobProof | None
    sags: tuple[PieceSag, ...]
    smaller: tuple[str, ...]
    fits: Fits

    @property
    def limit_shown(self) -> str:
        """The limit in the shop's units, rounded down as it is stated; in words where there is none."""
        if self.limit is None:
            return "none"
        return self.limit.shown_us if self.system == "US" else self.limit.shown_si

    def shown_limit(self, limit_n: float) -> str:
        """A working limit in N, rounded down; the cable's own reads the same everywhere."""
        if self.limit is not None and abs(limit_n - self.limit.stated_n) < 1e-6:
            return self.limit_shown
        return show_force(limit_n, self.system, "down")

    @property
    def line_limit_shown(self) -> str:
        """The limit of the line with the name of its weakest fitting; '' where the cable itself governs."""
        if self.links is None or self.links.limit_n >= self.limit.stated_n:
            return ""
        return f"{self.shown_limit(self.links.limit_n)} ({self.links.governs})"

    @property
    def cut_mm(self) -> float:
        """The length to cut of the first kind of piece."""
        return self.layout.pieces[0].cut_mm

    @property
    def load_owner(self) -> str:
        """Who answers for the load."""
        return self.facts.designer.owner if self.facts.designer else self.order.load_from

    @property
    def is_ring(self) -> bool:
        """Whether a lap splice closes it."""
        return self.layout.lap is not None


def certificate_name(reel: Reel) -> str | None:
    """The reel's certificate as its label says it, with the word before it where it lacks it."""
    return reel.certificate and (reel.certificate if "certificate" in reel.certificate.casefold() else f"certificate {reel.certificate}")


def make_plan(order: Order, facts: Facts, shop: Shop, on: date) -> Plan:
    """Reel, pair, chart, limit and layout, each refusing in its turn."""
    reel = _usable_reel(shop, order.reel)
    sleeve_metal, verdict = _pair(reel, order.sleeve_metal, facts.service, shop)
    facts = facts_with_own_weight(order, facts, reel)
    tool = shop.tool(order.tool) if order.tool else None
    chart, row = chart_in_force(shop.charts, sleeve_metal, reel.size, tool.id if tool else None)
    practice = chart.kind != "maker"
    refuse_from_memory(verdict, chart.for_real_work, chart.makers_word(row))
    force = breaking_force(reel.size, reel.construction, reel.metal, reel.certificate_n, certificate_name(reel))
    factor, share, rated = (None, None, None) if order.is_ring else _rate(order, facts, shop, reel, sleeve_metal, row, chart.tool, force,
                                                                          chart.for_real_work, on)
    sleeve = sleeve_lengths(order, facts, row, shop, sleeve_metal, chart.tool)
    layout = lay_out(order, facts, reel, row, sleeve, shop)
    links = held_by_fittings(chosen_fittings(order, shop), rated, facts) if rated else None
    most_n = min(rated.stated_n, links.limit_n) if links else rated.stated_n if rated else None
    fits = fit_pieces(order, facts, shop.bench.pin_to_pin_tolerance_mm, most_n)
    lot = pulled_lot(order, force, share, shop.system, on)
    return Plan(order, facts, on, shop.system, shop.invented, practice, shop.bench, reel, sleeve_metal, verdict, chart,
                row, shop.tool(chart.tool) if chart.tool else tool, shop.gauge(row.gauge) if row.gauge else None, force, factor,
                rated, share, layout, plan_cuts(layout, reel, force, shop, lot), links, lot,
                proof_of(order, rated, force, shop, on), piece_sags(order, facts, reel, fits),
                _smaller(reel, facts, factor, share, chart, shop.system) if rated else (), fits)


# --- reel, pair and tool ---------------------------------------------------------------------------------

def _usable_reel(shop: Shop, reel_id: str) -> Reel:
    """The reel, refused where no sleeve of this trade fits it."""
    _refuse_offcut(shop, reel_id)
    reel = shop.reel(reel_id)
    if not reel.is_inch:
        why = (f"{reel.size} is a metric size, another cable, and no inch sleeve fits it" if reel.size != "unknown" else
               f"the size of this one is not known, and no sleeve is chosen without it. Ask its supplier which size {certificate_name(reel)} is for" if reel.certificate else
               "nothing is known about it: it is scrap for this work")
        none = "" if reel.certificate or reel.size == "unknown" else "; it has no certificate either"
        raise Refusal(f"the reel {reel.id} ({reel.label})", "a labelled reel of an inch size, 7x7 or 7x19",
                      f"take an inch reel: {why}{none}")
    sleeve_construction(reel.construction)
    return reel


def _refuse_offcut(shop: Shop, reel_id: str) -> None:
    """An offcut is never the reel of an order; one that nobody knows is scrap."""
    offcut = next((one for one in shop.offcuts if one.id.casefold() == reel_id.casefold()), None)
    if offcut is None:
        return
    if not offcut.certified:
        raise BenchMatter(f"the offcut {offcut.id}, whose reel nobody wrote down", "a reel, or an offcut with its reel's certificate",
                      "cut the pieces from a reel: an unknown offcut is scrap for this work")
    raise BenchMatter(f"the offcut {offcut.id} as the reel", f"a reel of the shop file, such as {offcut.reel}",
                  "name its reel: the cut list takes the offcut by itself where it fits")


def _pair(reel: Reel, asked: str | None, service: str, shop: Shop) -> tuple[str, Verdict]:
    """The sleeve metal that was asked for, or the first one that the pairing table allows; a refusal names those that a chart of the shop lists."""
    coated = reel.coating_to is not None
    if asked is not None:
        verdict = pairing(reel.metal, asked, service, coated)
        if not verdict.allowed:
            better = [m for m in _PREFERRED[reel.metal] if pairing(reel.metal, m, service, coated).allowed]
            better = [metal for metal in better if any(chart.sleeve_metal == metal for chart in shop.charts)] or better
            raise Refusal(f"{asked} sleeves on {reel.metal} cable, {service} ({verdict.verdict})",
                          " or ".join(better) + " sleeves" if better else f"no hand-pressed sleeve at all on {reel.metal} cable there",
                          f"leave that pair: {lower_first(verdict.reasons[0])}")
        return asked, verdict
    verdicts = [(metal, pairing(reel.metal, metal, service, coated)) for metal in _PREFERRED[reel.metal]]
    for metal, verdict in verdicts:
        if verdict.allowed:
            return metal, verdict
    do = ("take stainless cable" if reel.metal != "stainless" and service == "marine"
          else "ask the designer, or an engineer who knows such buildings, for another kind of end made for that service")
    raise Refusal(f"{reel.metal} cable, {service}", "a cable and sleeve pair that the pairing table allows in that service",
                  f"{do}: {lower_first(verdicts[0][1].reasons[0])}")


def tool_question(order: Order, shop: Shop) -> tuple[str, ...]:
    """The question which tool presses, where the reel and service leave several charts that differ."""
    if order.tool or not order.reel or not order.service:
        return ()
    try:
        reel = _usable_reel(shop, order.reel)
        metal, _ = _pair(reel, order.sleeve_metal, order.service, shop)
    except Refusal:
        return ()  # refused in its turn, once nothing is missing
    tools = [chart.tool for chart in shop.charts
             if chart.sleeve_metal == metal and any(row.size == reel.size for row in chart.rows)]
    if len(tools) < 2:
        return ()
    return (f"Which tool presses it: {' or '.join(tools)}? Their charts differ and must not be mixed (--tool).",)


# --- the limit -------------------------------------------------------------------------------------------

def _rate(order: Order, facts: Facts, shop: Shop, reel: Reel, sleeve_metal: str, row: ChartRow, tool: str | None, force: BreakingForce,
          real: bool, on: date) -> tuple[DesignFactor, Efficiency, Limit]:
    """Factor, efficiency and limit; refused where the limit does not cover the order."""
    share = _share(reel, sleeve_metal, row, real)
    refuse_failed_lot(shop, (reel.size, reel.construction, reel.metal, sleeve_metal), tool, force.force_n)
    factor = _designers(facts.designer, shop) if facts.designer else _shop_factor(shop)
    _covers(facts, reel, working_load_limit_n(force.force_n, share.value, factor.value), factor, share, shop.system)
    rated = limit(force, factor, facts.use, order.designer if facts.designer else None,
                  float(facts.designer_load.value) if facts.designer_load else None, share=share,
                  moves=order.movement != "none", tightened=facts.greatest_tension is not None,
                  greatest_tension_n=float(facts.greatest_tension.value) if facts.greatest_tension else None,
                  tension_check=order.tension_check, system=shop.system, on=on)
    return factor, share, rated


def _share(reel: Reel, sleeve_metal: str, row: ChartRow, real: bool) -> Efficiency:
    """What an eye holds: 0.90 under its conditions, or less where the maker's chart gives less."""
    share = efficiency(sleeve_metal, reel.metal, reel.construction)
    if row.efficiency is not None:
        value = min(share.value, row.efficiency)
        return Efficiency(value, share.conditions, "", "chart in force, common practice",
                          "the lower of the chart in force and common practice")
    if real and share.note:
        raise BenchMatter(f"{sleeve_metal} sleeves on {reel.metal} cable with no efficiency in the chart in force",
                      "the sleeve maker's figure or the shop's own pulled lot, as efficiency in the chart's row",
                      "ask the sleeve maker and enter it in the shop file")
    return share


def _designers(factor: DesignFactor, shop: Shop) -> DesignFactor:
    """The designer's factor; refused where the shop signs for a person, or where it is lower than the shop's own with nobody there."""
    if factor.owner.casefold() in shop.name.casefold():
        raise Refusal(f"the designer '{factor.owner}', which is the shop", "the first name and family name of the qualified person who stands for this design",
                      "ask the customer for that person")
    own = max((kept.value for kept in shop.factors), default=0)
    if factor.value < own:
        raise Refusal(f"the designer's factor {factor.value:g}, lower than the shop's own {own:g} for work with nobody there",
                      f"{own:g} or more, which this shop takes even with nobody there", "ask that designer again")
    return factor


def _shop_factor(shop: Shop) -> DesignFactor:
    """The shop's own factor for static work with nobody there."""
    if not shop.factors:
        raise BenchMatter("a shop file without a design factor", "a [[factor]] block with owner, day and scope",
                      "have the person who answers for it set one in the shop file")
    return shop.factors[0]


def _covers(facts: Facts, reel: Reel, limit_n: float, factor: DesignFactor, share: Efficiency, system: str) -> None:
    """Refuses a limit that does not reach the greatest force stated, naming the next size that does."""
    needed, called = facts.required
    if needed <= limit_n * (1 + 1e-9):
        return
    stated = show_limit(limit_n, system)
    raise Refusal(f"{called} on {reel.size} {reel.metal} cable",
                  f"at most {stated}, which is {show_pull(float(needed) - float(read_force_n(stated.split(' [')[0]).value))} less (factor {factor.value:g}, set by {factor.owner})",
                  _bigger(reel, float(needed), factor, share, system))


def _limits(construction: str, metal: str, factor: DesignFactor, share: Efficiency, among: tuple[str, ...]) -> list[tuple[str, float]]:
    """The table limits in N of other sizes of a construction and metal."""
    found = []
    for size in among:
        try:
            force = breaking_force(size, construction, metal)
        except Refusal:
            continue
        found.append((size, working_load_limit_n(force.force_n, share.value, factor.value)))
    return found


def _bigger(reel: Reel, needed_n: float, factor: DesignFactor, share: Efficiency, system: str) -> str:
    """What to do instead: the nearest bigger size of the strength table whose limit reaches, 7x19 where 7x7 has none."""
    for construction in dict.fromkeys((reel.construction, "7x19")):
        for size, limit_n in _limits(construction, reel.metal, factor, share, sizes()[sizes().index(reel.size) + 1:]):
            if limit_n >= needed_n:
                return (f"the nearest bigger size that holds it is {size} {construction} {reel.metal}, "
                        f"{show_limit(limit_n, system)}: it needs its own reel and chart; or ask for less load")
    return "no size of the strength table holds it: ask for less load, or ask an engineer"


def _smaller(reel: Reel, facts: Facts, factor: DesignFactor, share: Efficiency, chart: CrimpChart, system: str) -> tuple[str, ...]:
    """The smaller sizes of the chart in force that would hold it by the table, smallest first."""
    charted = {row.size for row in chart.rows}
    needed_n = float(facts.required[0])
    return tuple(f"{size} ({show_limit(limit_n, system)})"
                 for size, limit_n in _limits(reel.construction, reel.metal, factor, share, sizes()[:sizes().index(reel.size)]) if limit_n >= needed_n and size in charted)
