"""One order, from its facts to the job sheet: asked, refused, or worked out whole."""

from __future__ import annotations

import hashlib
from datetime import date
from typing import TYPE_CHECKING

from rigcalc._job_lot import UnshownLot
from rigcalc._job_papers import customer_lines, inspection_lines, piece_names, record_columns, record_lines, record_pieces, tag_lines
from rigcalc._job_plan import Plan, make_plan, tool_question
from rigcalc._job_sheet import HOLD_POINTS, CrimpPicture, CutKind, Item, JobSheet, Part, Step
from rigcalc._job_steps import crimp_items, crimp_picture, gauge_items, parts_to_draw, strip_lines, work_steps
from rigcalc._job_words import (before_starting, cut_list_lines, decided_items, kind_items, limit_notes, limit_working, link_items,
                                order_items, shape_items)
from rigcalc._order_figures import own_unit_first
from rigcalc._order import MissingFacts, Order, OrderPiece, open_questions, refuse_class
from rigcalc._order_read import read_facts, unreadable
from rigcalc.cautions import CAUTIONS
from rigcalc.errors import BenchMatter, Refusal
from rigcalc.sleeve import chart_line

if TYPE_CHECKING:
    from rigcalc.shop import Shop

__all__ = ["HOLD_POINTS", "CrimpPicture", "CutKind", "Item", "JobSheet", "MissingFacts", "Order", "OrderPiece", "Part", "Plan", "Step", "job_sheet",
           "missing_facts"]


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
    return open_questions(order) + (() if shop is None else tool_question(order, shop))


def job_sheet(order: Order, shop: Shop, on: date | None = None) -> JobSheet:
    """The job sheet for one order in one shop.

    Parameters
    ----------
    order : Order
        Every fact as given.
    shop : Shop
        The shop whose reels, charts, thimbles, fittings and factor are in force.
    on : date, optional
        The day the sheet is made; today without it. Gauges are in or out of date on that day.

    Raises
    ------
    MissingFacts
        When a fact is missing; its `questions` are what to ask.
    Refusal
        When the class of use, the pair, the reel, the chart, the limit or a pulled lot says no.

    Source: strength, efficiency, pairing, statics and layout name theirs on the sheet.
    """
    try:
        return own_unit_first(_job_sheet(order, shop, on or date.today()), shop.system)
    except MissingFacts as missing:
        raise MissingFacts(own_unit_first(missing.questions, shop.system)) from None
    except Refusal as refusal:
        kind = next(kind for kind in (UnshownLot, BenchMatter, Refusal) if isinstance(refusal, kind))
        raise kind(*own_unit_first((refusal.given, refusal.accepted, refusal.do), shop.system)) from None


def _job_sheet(order: Order, shop: Shop, on: date) -> JobSheet:
    """The sheet with US units first wherever a figure is shown in both."""
    use = refuse_class(order)
    for _, refusal in unreadable(order):
        raise refusal
    questions = missing_facts(order, shop)
    if questions:
        raise MissingFacts(questions)
    plan = make_plan(order, read_facts(order, use, on), shop, on)
    kinds = kind_items(plan)
    return JobSheet(
        title=_title(plan), shop=shop.name, shop_digest=shop.digest, invented=plan.invented, practice=plan.practice, system=plan.system,
        made_on=plan.on.isoformat(), number=order.number or "", chart_line=chart_line(plan.chart),
        before_starting=before_starting(plan), order=order_items(plan), decided=decided_items(plan),
        parts=parts_to_draw(plan), quantity=plan.facts.quantity, cut_mm=plan.cut_mm, cut_shown=kinds[0].cut_shown,
        cut_steps=kinds[0].cut_steps, tail_mm=plan.layout.tail_mm, steps=work_steps(plan), crimp_count=plan.row.count,
        crimp_order=plan.row.order or (), crimps=crimp_items(plan), gauge=gauge_items(plan),
        limit_n=plan.limit.force_n if plan.limit else None, limit_shown=plan.limit_shown, limit_working=limit_working(plan),
        limit_notes=limit_notes(plan), inspection=inspection_lines(plan), tag=tag_lines(plan), record=record_lines(plan, _version(plan, shop)),
        cautions=CAUTIONS, version=_version(plan, shop), ends=order.ends, pieces=kinds, shape=shape_items(plan), strip=strip_lines(plan),
        cut_list=cut_list_lines(plan), links=link_items(plan), release=(*(plan.lot.lines if plan.lot else ()), *(plan.proof.lines if plan.proof else ())), customer=customer_lines(plan),
        record_columns=record_columns(plan), record_pieces=record_pieces(plan),
        picture=crimp_picture(plan), piece_names=piece_names(plan), line_limit_shown=plan.line_limit_shown)


def _title(plan: Plan) -> str:
    coat = f" coated to {plan.reel.coating_to}" if plan.reel.coating_to else ""
    return f"{'Practice' if plan.practice else 'Job'} sheet: {plan.reel.size} {plan.reel.metal}{coat}, {plan.order.ends}"


def _version(plan: Plan, shop: Shop) -> str:
    """A short name for this very sheet: another order, shop file or day gives another one."""
    return hashlib.sha256(f"{plan.order!r}{shop.digest}{plan.on}".encode()).hexdigest()[:8]
