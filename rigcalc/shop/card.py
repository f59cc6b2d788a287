"""The wall card: one page for one tool, drawn from the charts in force and void when they change."""

from __future__ import annotations

import hashlib
import json
import re
import textwrap
from dataclasses import asdict, dataclass
from datetime import date

from rigcalc._order_figures import caliper
from rigcalc.assembly import CrimpPicture
from rigcalc.cautions import INVENTED, INVENTED_GAUGE, WORK_CAUTIONS
from rigcalc.errors import Refusal
from rigcalc.layout import tail_to_set_mm
from rigcalc.shop.model import Shop, Tool
from rigcalc.sleeve import ChartRow, CrimpChart, chart_line, crimp_plan, order_words, oval_in_the_jaws
from rigcalc.units import read_size, show_length

__all__ = ["CardRow", "WallCard", "card_as_html", "card_as_text", "card_code", "card_stands", "chart_digest", "crimp_drawing", "every_wall_card", "wall_card"]

CODE_SIGNS = 8
FEW_ROWS = 3  # a card of so few sizes is printed larger
NO_CHART = "the maker's chart, entered in the shop file as [[chart]]"
EVERY_TIME = (
    "Tail: set before pressing; after pressing it must still be seen, however little.",
    "Coated cable goes by its bare core: both legs are stripped.",
    "Gauge: look at its date first. Every crimp, its own slot, all the way on and turned. A pass is necessary, never sufficient.")


@dataclass(frozen=True)
class CardRow:
    """One size on a wall card: the chart's row as words, the row itself for the drawing, and what is said of a gauge out of date."""

    size: str
    sleeve_metal: str
    count: int
    order: str
    tail: str
    cavity: str
    gauge: str
    row: ChartRow
    overdue: str = ""


@dataclass(frozen=True)
class WallCard:
    """Everything on one tool's wall card."""

    shop: str
    invented: bool
    tool: Tool
    charts: tuple[str, ...]
    rows: tuple[CardRow, ...]
    code: str
    stops: tuple[str, ...] = ()

    @property
    def title(self) -> str:
        """The card's heading."""
        return f"Wall card: tool {self.tool.id}, {self.tool.name}"

    @property
    def command(self) -> str:
        """What is typed to see whether the card still stands."""
        return f"rigcalc shop --card-check {self.code}"

    @property
    def void(self) -> str:
        """When the card stops counting, and how that is found out."""
        return f"Void when the chart changes. To see whether this card still stands: {self.command}"


# --- the card's code --------------------------------------------------------------------------------

def card_code(shop: Shop, tool_id: str) -> str:
    """The code on a tool's wall card: the tool's id and the first signs of a digest of its charts and their rows.

    Errors: `Refusal` for an unknown tool, and for one without a maker's chart.
    """
    tool = shop.tool(tool_id)
    charts = sorted((_said(asdict(chart)) for chart in _charts(shop, tool)), key=lambda chart: chart["id"])
    text = json.dumps([tool.id, charts], sort_keys=True, ensure_ascii=False)
    return f"{tool.id}-{hashlib.sha256(text.encode()).hexdigest()[:CODE_SIGNS]}"


def _said(record: dict) -> dict:
    """A record without what it leaves open, so that a field nobody filled never voids a card."""
    return {name: [_said(row) for row in value] if name == "rows" else value for name, value in record.items()
            if value not in (None, "", False)}


def chart_digest(chart: CrimpChart) -> str:
    """A digest of what a chart says, whoever copied and checked it and whatever edition it is called: two that differ are two charts."""
    named = ("edition", "copied_by", "checked_by", "copied_on")
    text = json.dumps({name: value for name, value in _said(asdict(chart)).items() if name not in named}, sort_keys=True, ensure_ascii=False)
    return hashlib.sha256(text.encode()).hexdigest()


def card_stands(shop: Shop, code: str) -> bool:
    """Whether the card with that code still stands: its tool's charts are those it was drawn from.

    A tool that is no longer in the shop file voids its card. Errors: `Refusal` for what is no card's code.
    """
    match = re.fullmatch(r"(.{1,300})-([0-9a-f]{%d})" % CODE_SIGNS, code.strip(), re.IGNORECASE)
    if not match:
        raise Refusal(f"the code {code!r:.60}", "a wall card's code, such as LB-1f2e3d4c", "read it from the foot of the card")
    tool = next((one for one in shop.tools if one.id.casefold() == match[1].casefold()), None)
    if tool is None or all(chart.tool != tool.id for chart in shop.charts):
        return False
    return card_code(shop, tool.id).rpartition("-")[2] == match[2].lower()


def _charts(shop: Shop, tool: Tool) -> tuple[CrimpChart, ...]:
    """The maker's charts for a tool, refused where there is none: common-practice counts are not hung on a wall."""
    charts = tuple(chart for chart in shop.charts if chart.tool == tool.id)
    if not charts:
        raise Refusal(f"a wall card for tool {tool.id}, which has no chart", NO_CHART,
                      "enter it or ask the maker: common-practice counts are not hung on a wall")
    return charts


# --- what stands on it ------------------------------------------------------------------------------

def wall_card(shop: Shop, tool_id: str, on: date | None = None) -> WallCard:
    """The wall card of one tool, every size of its charts, smallest first; a gauge that is overdue on a day, today without one, is marked,
    and so is a tool or gauge that was found bad.

    Errors: `Refusal` for an unknown tool, and for one without a maker's chart.
    """
    tool = shop.tool(tool_id)
    charts = _charts(shop, tool)
    day = on or date.today()
    rows = tuple(_row(chart, row, shop, day) for chart in charts
                 for row in sorted(chart.rows, key=lambda row: read_size(row.size).inches))
    return WallCard(shop.name, shop.invented, tool, tuple(chart_line(chart) for chart in charts), rows, card_code(shop, tool.id),
                    _stops(shop, tool, charts, day))


def _stops(shop: Shop, tool: Tool, charts: tuple[CrimpChart, ...], on: date) -> tuple[str, ...]:
    """What stands above the card where its tool was found bad or a gauge of its charts judges nothing on that day, each once."""
    named = {row.gauge for chart in charts for row in chart.rows}
    return (*((f"STOP: tool {tool.id} {tool.out_of_use}. Press nothing with it until it has been set right and checked.",) if tool.found_bad else ()),
            *(f"STOP: gauge {one.id} {one.out_of_date(on)}. Judge nothing with it, and press nothing, until it has been checked."
              for one in shop.gauges if one.id in named and not one.in_date(on)))


def _row(chart: CrimpChart, row: ChartRow, shop: Shop, on: date) -> CardRow:
    """One size in words."""
    measured = shop.growth(chart.sleeve_metal, row.size, chart.tool)
    tail_mm = tail_to_set_mm(read_size(row.size).diameter_mm, measured.most_growth_mm if measured else row.sleeve_after_mm - row.sleeve_before_mm)
    most = f", across a crimp at most {caliper(row.gauge_max_mm, shop.system, 'down')}" if row.gauge_max_mm else ""
    return CardRow(row.size, chart.sleeve_metal, row.count, order_words(row), f"at least {show_length(tail_mm, shop.system, 'up')}",
                   row.cavity, f"{row.gauge}, slot {row.gauge_slot}{most}", row, _overdue(row, shop, on))


def _overdue(row: ChartRow, shop: Shop, on: date) -> str:
    """What stands beside a gauge that judges nothing on that day, whose reason stands above the card; '' where it is in date."""
    gauge = next((one for one in shop.gauges if one.id == row.gauge), None)
    if gauge is None or gauge.in_date(on):
        return ""
    return f"STOP: {gauge.mark(on)}."


def _crimps(count: int) -> str:
    return f"{count} crimp{'' if count == 1 else 's'}"


# --- text -------------------------------------------------------------------------------------------

def card_as_text(card: WallCard) -> str:
    """The card as plain text, 80 columns wide."""
    lines = [card.title, "=" * len(card.title), card.shop]
    lines += [INVENTED, INVENTED_GAUGE] if card.invented else []
    lines += [part for stop in card.stops for part in textwrap.wrap(stop, 80)]
    for row in card.rows:
        lines += ["", f"{row.size}  {row.sleeve_metal} sleeve", "-" * 40]
        for name, value in (("Crimps", str(row.count)), ("Order", row.order), ("Cavity", row.cavity),
                            ("Tail before pressing", row.tail), ("Gauge", row.gauge), *((("", row.overdue),) if row.overdue else ())):
            lines += textwrap.wrap(value, 80, initial_indent=f"  {name:<22}", subsequent_indent=" " * 24, break_on_hyphens=False)
    foot = [oval_in_the_jaws().says, *EVERY_TIME, *card.charts, f"Card {card.code}. {card.void}", *WORK_CAUTIONS]
    return "\n".join([*lines, "", *(part for text in foot for part in textwrap.wrap(text, 80, initial_indent="- ",
                                                                                 subsequent_indent="  ", break_on_hyphens=False))])


# --- drawing and page -------------------------------------------------------------------------------

def crimp_drawing(row: ChartRow | CrimpPicture, sleeve_metal: str = "aluminium", beside: str = "thimble"):
    """A pressed sleeve with each crimp marked 1st, 2nd ... by the chart's order; unmarked where the chart gives none.

    To scale along the sleeve where the chart gives its length after pressing and the width of a crimp.
    """
    from rigcalc.figures.drawing import DEEP, QUIET, Drawing, number
    from rigcalc.figures.eyes import draw_end, draw_rope, draw_sleeve_side

    length, d, y, mouth = max(196.0, 44.0 * row.count), 19, 50, 62
    sheet, scale = Drawing(mouth + length + 74, 92), length / (row.sleeve_after_mm or 1)
    for side in (-1, 1):
        draw_rope(sheet, f"M6 {number(y + side * 0.47 * d)}H{number(mouth + length + (66 if side < 0 else 24))}", d)
    draw_end(sheet, mouth + length + 24, y + 0.47 * d, d)
    places, wide = _places(row, length, scale)
    draw_sleeve_side(sheet, mouth, y, length, d, [mouth + at for at in places], wide,
                     "copper" if sleeve_metal == "plain copper" else "sleeve")
    for place, at in enumerate(places, 1):
        if row.order:
            sheet.text(mouth + at, y + 6, _nth(row.order.index(place) + 1), size=17, anchor="middle", weight=700, colour=DEEP, halo=True)
    sheet.text(6, 17, beside, colour=QUIET, weight=600)
    sheet.text(sheet.width - 6, 88, "tail", anchor="end", colour=QUIET, weight=600)
    pressed = ("pressed in the order " + ", ".join(f"place {place}" for place in row.order) + f", counted from the {beside}"
               if row.order else "the chart gives no order: ask the tool maker")
    return sheet.figure(f"A pressed {row.size} in sleeve with {_crimps(row.count)}, {pressed}.")


def _places(row: ChartRow | CrimpPicture, length: float, scale: float) -> tuple[list[float], float]:
    """The middles of the crimps on the pressed sleeve and their width, in px."""
    if row.sleeve_after_mm and row.crimp_width_mm:
        plan = crimp_plan(row.sleeve_after_mm, row.crimp_width_mm, row.count, row.minimum_gap_mm or 0.0, 0.0)
        if plan.fits:
            return [at * scale for at in plan.places_mm], row.crimp_width_mm * scale
    return [length * (2 * n + 1) / (2 * row.count) for n in range(row.count)], length / row.count * 0.8


def _nth(place: int) -> str:
    return {1: "1st", 2: "2nd", 3: "3rd"}.get(place, f"{place}th")


_STYLE = """<style>
.wall { margin-bottom:2rem; } .wall table { width:100%; } .wall td { vertical-align:middle; padding:.2rem .6rem; }
.wall .size { font-size:1.7rem; font-weight:700; white-space:nowrap; } .wall figure { margin:0; } .wall figure svg { display:block; }
.wall td.drawn { width:22.5rem; } .wall p { margin:.15rem 0; max-width:none; } .wall strong.count { font-size:1.3rem; }
.wall .stop { font-weight:700; border:2px solid currentColor; padding:.1rem .5rem; display:inline-block; }
.wall .void { border:2px solid currentColor; padding:.3rem .6rem; font-weight:700; } .wall ul,.wall li { max-width:none; }
.wall .typed { white-space:nowrap; } .wall .chart-line { color:inherit; } .wall ul { margin:.3rem 0; } .wall .cautions { margin-top:.5rem; padding-top:.3rem; }
@media print { @page { margin:10mm 11mm; } html,body { font-size:10.6pt; line-height:1.25; } header.page { display:none; }
 main { padding:0; } .wall { break-after:page; margin:0; } .wall:last-child { break-after:auto; } .wall tr { break-inside:avoid; }
 .wall h1 { margin:0 0 .1rem; } .wall td { padding:1pt 5pt; } .wall td.drawn { width:70mm; } .wall figure svg { max-height:18mm; }
 .large { font-size:12.4pt; } .large .size { font-size:2.1rem; } .large td.drawn { width:70mm; } .large figure svg { max-height:24mm; } .wall.large p.stop { font-size:.92em; }
 .wall.stopped { font-size:9.4pt; line-height:1.2; } .wall.stopped figure svg { max-height:12mm; } .wall.stopped td,.wall.stopped th { padding:0 5pt; } }
</style>"""


def every_wall_card(shop: Shop) -> tuple[WallCard, ...]:
    """The wall card of every tool with a maker's chart.

    Errors: `Refusal` for a shop without such a chart.
    """
    tools = [tool.id for tool in shop.tools if any(chart.tool == tool.id for chart in shop.charts)]
    if not tools:
        raise Refusal("wall cards of a shop without a maker's chart", "a shop file with a [[chart]]",
                      "enter the chart of a tool's maker: common-practice counts are not hung on a wall")
    return tuple(wall_card(shop, one) for one in tools)


def card_as_html(cards: tuple[WallCard, ...]) -> str:
    """Wall cards as one page of HTML that prints each tool on a sheet of its own, A4 or Letter."""
    from rigcalc.pages import page

    title = cards[0].title if len(cards) == 1 else "Wall cards"
    return page(title, "".join(_section(card) for card in cards), head=_STYLE, cautions=False, heading=False)


def _section(card: WallCard) -> str:
    """One tool's sheet."""
    from rigcalc.pages import escape

    marks = f'<p class="invented">{escape(INVENTED)} {escape(INVENTED_GAUGE)}.</p>' if card.invented else ""
    marks += "".join(f'<p class="stop">{escape(stop)}</p>' for stop in card.stops)
    rows = "".join(_html_row(row) for row in card.rows)
    every = "".join(f"<li>{escape(text)}</li>" for text in (oval_in_the_jaws().says, *EVERY_TIME))
    charts = "".join(f'<p class="chart-line">{escape(line[0].upper() + line[1:])}</p>' for line in card.charts)
    large = " stopped" if card.stops else " large" if len(card.rows) <= FEW_ROWS else ""
    typed = escape(card.command)
    void = escape(card.void).replace(typed, f'<span class="typed">{typed}</span>')
    return (f'<section class="wall{large}"><h1>{escape(card.title)}</h1><p>{escape(card.shop)}</p>{marks}'
            '<table><tr><th scope="col">Sleeve</th><th scope="col">Crimps, in the order of pressing</th>'
            f'<th scope="col">Cavity, tail, gauge</th></tr>{rows}</table><ul>{every}</ul>{charts}'
            f'<p class="void">Card {escape(card.code)}. {void}</p>{_cautions()}</section>')


def _cautions() -> str:
    """The cautions that belong above a press."""
    from rigcalc.pages import escape

    items = "".join(f"<li>{escape(text)}</li>" for text in WORK_CAUTIONS)
    return f'<section class="cautions" aria-label="Cautions"><strong>Cautions</strong><ul>{items}</ul></section>'


def _html_row(row: CardRow) -> str:
    from rigcalc.pages import escape

    return (f'<tr><th scope="row"><span class="size">{escape(row.size)}</span><br>{escape(row.sleeve_metal)}</th>'
            f'<td class="drawn">{crimp_drawing(row.row, row.sleeve_metal).inline()}</td>'
            f'<td><p><strong class="count">{_crimps(row.count)}</strong>, cavity <strong>{escape(row.cavity)}</strong></p>'
            + ("" if row.row.order else f'<p class="stop">{escape(row.order)}</p>')
            + f"<p>Tail before pressing {escape(row.tail)}</p><p>Gauge {escape(row.gauge)}"
            + (f' <span class="stop">{escape(row.overdue)}</span>' if row.overdue else "") + "</p></td></tr>")
