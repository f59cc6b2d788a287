"""Lesson 06, at the wall: two charts that disagree, the chart in force for a sleeve, the tool and cavity for it."""

from __future__ import annotations

import secrets

from rigcalc.errors import Refusal
from rigcalc.figures import Figure
from rigcalc.figures.charts_and_tools import Pinned, pinned_charts, tool_board
from rigcalc.notebook import lesson
from rigcalc.notebook.board import Board, Said, View, button, choice, pick, tick
from rigcalc.notebook.course.crimping import disagreeing, stands_in
from rigcalc.notebook.teaching import of_the_scene, shop_for_teaching
from rigcalc.reference import table
from rigcalc.sleeve import (ASK_THE_MAKER, SLEEVE_METALS, ChartRow, CrimpChart, built_in_chart, chart_in_force, chart_line, copper_counts_from_memory, order_words,
                            other_sleeves_order)
from rigcalc.units import read_size, size_inches

__all__ = ["BORROWED", "chart_still", "disagree_step", "disagree_view", "find_the_row", "find_the_tool", "first_look", "in_force", "may_be_pressed_in", "missing_sizes", "opening", "other_counts",
           "row_step", "row_view", "tool_step", "tool_view", "tools_still", "two_charts", "why_they_differ"]

BORROWED = "a borrowed tool"
PRACTICE_ALONE = "the trainer looks on, it bears PRACTICE tape, and it is cut through the sleeve the same day"


def _shop():
    return shop_for_teaching()[0]


def opening() -> lesson.Block:
    """The charts in force and whether the shop is invented."""
    shop, note = shop_for_teaching()
    return lesson.opening_lines(shop.chart_line(), shop.invented, note, tuple(filter(None, (stands_in(),))))


def _pinned(chart: CrimpChart) -> Pinned:
    who = f"edition {chart.edition}, tool {chart.tool or 'not named'}"
    return Pinned(chart.id, (f"{chart.sleeve_metal} sleeves" + (", INVENTED" if chart.invented else ""), who),
                  tuple((row.size, row.cavity or "-", f"{row.count}", ", ".join(map(str, row.order)) if row.order else "ask") for row in chart.rows))


# --- the scene: two charts that disagree -----------------------------------------------------------

def two_charts() -> Figure:
    """The two charts of the scene."""
    one, other = disagreeing()
    return pinned_charts([_pinned(one.chart), _pinned(other.chart)])


def _looks() -> dict[str, tuple[str, str]]:
    one, other = disagreeing()
    return {
        "first": (f"{one.chart.id} is right, for tool {one.chart.tool}. But does that make the other wrong? Read the second line under each name.", "no"),
        "second": (f"{other.chart.id} is right, for tool {other.chart.tool}. But does that make the other wrong? Read the second line under each name.", "no"),
        "more": ("More is no stronger. Crimps that the chart does not ask for can lie on each other, and then they thin the sleeve.", "no"),
        "both": (f"Right. Each is the chart of its own tool: {one.row.count} in {one.chart.tool}, {other.row.count} in {other.chart.tool}. Neither count goes to the other bench.", "ok")}


def disagree_view(state: dict) -> View:
    """The first question: which of the two?"""
    one, other = disagreeing()
    said = Said(*_looks()[state["took"]]) if state["took"] else Said(f"A {one.row.size} {one.chart.sleeve_metal} sleeve. Whose count stands?")
    names = (("first", f"{one.chart.id}: {one.row.count}"), ("second", f"{other.chart.id}: {other.row.count}"), ("more", "The higher one, to be safe"), ("both", "Both stand"))
    return View((), tuple(button(name, words, second=True) for name, words in names), (said,))


def disagree_step(state: dict, name: str, value=None) -> dict:
    """One of the four answers."""
    return {"took": name}


def first_look() -> Board:
    """Whose count stands?"""
    return Board(of_the_scene("Whose count stands?", disagreeing()[0].shop), {"took": ""}, disagree_view, disagree_step)


def why_they_differ() -> lesson.Block:
    """The two rows of one sleeve beside each other."""
    pair = disagreeing()

    def mm(value):
        return f"{value:g} mm" if value else "not given"

    def both(words, of):
        return (words, *(of(one) for one in pair))

    rows = (both("tool and cavity", lambda one: f"{one.chart.tool}, {one.row.cavity}"), both("crimps", lambda one: one.row.count), both("order", lambda one: order_words(one.row)),
            both("width of one crimp", lambda one: mm(one.row.crimp_width_mm)),
            both("pressed in all", lambda one: mm(one.row.crimp_width_mm and one.row.count * one.row.crimp_width_mm)), both("sleeve after", lambda one: mm(one.row.sleeve_after_mm)))
    return lesson.table((f"{pair[0].row.size} {pair[0].chart.sleeve_metal}", *(one.chart.id for one in pair)), rows, "One sleeve, two tools" + (" (INVENTED)" if pair[0].chart.invented else ""))


# --- the chart in force ---------------------------------------------------------------------------

def in_force(metal: str, size: str, tool: str | None, cavity: str | None) -> tuple[CrimpChart, ChartRow]:
    """The chart in force for a sleeve of this shop; a cavity that its chart gives to another size is refused by name."""
    charts = _shop().charts
    if cavity is not None:
        row = next((row for chart in charts for row in chart.rows if (chart.sleeve_metal, chart.tool, row.cavity) == (metal, tool, cavity)), None)
        if row is not None and row.size != size:
            raise Refusal(f"a {size} sleeve in cavity {cavity} of tool {tool}", f"the {row.size} sleeve there", "read the mark on the tool again, or the bag")
    return chart_in_force(charts, metal, size, tool, cavity)


def chart_still() -> Figure:
    """The charts for the scene's sleeve metal, as they hang there."""
    return pinned_charts([_pinned(chart) for chart in _shop().charts if chart.sleeve_metal == disagreeing()[0].chart.sleeve_metal][:4])


def _sizes() -> list[str]:
    return sorted({row.size for row in table("cable_strength")} | {row.size for chart in _shop().charts for row in chart.rows}, key=size_inches)


def _cavities(tool: str) -> list[str]:
    return [mark for one in _shop().tools if one.id == tool for _, mark in one.cavities]


def row_view(state: dict) -> View:
    """The charts of a sleeve metal, a row to point at, and the answer once one was."""
    shop, metal, size = _shop(), state["metal"], state["size"]
    tool, cavity = state["tool"] or None, state["cavity"] or None
    charts = [chart for chart in shop.charts if chart.sleeve_metal == metal]
    told, right, lit, under = _row_answer(state, metal, size, tool, cavity)
    figure = pinned_charts([_pinned(chart) for chart in charts], lit, tuple(state["pointed"].split(" ", 1)) if " " in state["pointed"] else None,
                           lambda shape, value, words: pick(shape, "row", value, words))
    controls = [choice("metal", "Bag says", SLEEVE_METALS, metal, as_list=True), choice("size", "Size, in", _sizes(), size, as_list=True),
                choice("tool", "Tool in hand", (("not named", ""), *((f"{one.id}, {one.name}", one.id) for one in shop.tools), (BORROWED, BORROWED)), state["tool"], as_list=True)]
    if _cavities(state["tool"]):
        controls.append(choice("cavity", "Cavity", (("not read yet", ""), *((mark, mark) for mark in _cavities(state["tool"]))), state["cavity"], as_list=True))
    controls += [button("none", "No row is in force: ask"), tick("others", "What else is printed for this size", state["others"])]
    said = [Said(told, "ok" if right else "no")] if state["pointed"] else [Said(
        f"The bag says {metal}, {size} in; tool {tool or 'not named'}{f', cavity {cavity}' if cavity else ''}. Point at the row that you would press by, or say that none is in force.")]
    return View((figure,), tuple(controls), tuple(said), _joined(under, other_counts(size) if state["others"] else None))


def _row_answer(state, metal, size, tool, cavity):
    """(words, whether right, row to mark, table): nothing is told before something was pointed at."""
    if not state["pointed"]:
        return "", False, None, None
    try:
        chart, row = in_force(metal, size, tool, cavity)
    except Refusal as refusal:
        asked = state["pointed"] == "none"
        return f"{'Right: ask.' if asked else 'Not so.'} {refusal}", asked, None, None
    if chart.kind != "maker":
        asked = state["pointed"] == "none"
        return (f"{'Right: ask.' if asked else 'Not so.'} No chart for {tool or 'a tool'} lies here, so nothing that will ever be used is pressed in it. Ask its maker for the chart, count and order. "
                f"The trade's {row.count} is for a practice piece alone: {PRACTICE_ALONE}."), asked, None, _row_told(chart, row)
    right = state["pointed"] == f"{chart.id} {size}"
    words = f"{row.count} crimps, {order_words(row)}." if row.order else f"{row.count} crimps, and {ASK_THE_MAKER}."
    return f"{'Right' if right else 'Not so'}: {chart.id}, {size}: {words}", right, (chart.id, size), _row_told(chart, row)


def _row_told(chart: CrimpChart, row: ChartRow) -> lesson.Block:
    rows = (("count", f"{row.count}"), ("order", order_words(row)), ("tool and cavity", f"{chart.tool or 'none named'}, {row.cavity or 'no cavity named'}"), ("edition", chart.edition),
            ("copied by", chart.copied_by or "nobody named"), ("checked by", chart.checked_by or "nobody named"), ("order stands in", row.order_source or "nowhere"))
    return lesson.table(("In force" if chart.kind == "maker" else "For a practice piece alone", f"{row.size} {chart.sleeve_metal}"), rows, chart_line(chart))


def other_counts(size: str) -> lesson.Block:
    """What else is printed for a size, none of it in force where a maker's chart is: common practice, and the circular's aircraft copper sleeves."""
    rows = [("hand swager, aluminium", f"{row.count}", "not given: ask the maker", "common practice: a practice piece alone, cut up the same day") for row in built_in_chart().rows if row.size == size]
    order = other_sleeves_order()
    for one in copper_counts_from_memory():
        if one.size == size:
            said = ", ".join(map(str, order.order)) if one.presses == len(order.order) else "not read for this count"
            rows.append(("aircraft copper sleeve", f"{one.presses}", f"{said} (places; {order.source}, read)" if one.presses == len(order.order) else said, one.label))
    return lesson.table(("Sleeve", "Crimps", "Order", "What it is worth here"), rows or [("none", "-", "-", "nothing is printed for it")], f"What else is printed for {size}. No piece that will be used is pressed by any of it")


def _joined(*blocks) -> lesson.Block | None:
    kept = [one for one in blocks if one]
    return lesson.Block("".join(one.html for one in kept), "\n".join(one.text for one in kept)) if kept else None


def row_step(state: dict, name: str, value=None) -> dict:
    """Another bag, size, tool or cavity; a row is pointed at, or none is in force."""
    if name == "row":
        return state | {"pointed": str(value)}
    if name == "none":
        return state | {"pointed": "none"}
    if name == "others":
        return state | {"others": bool(value)}
    return state | {name: value, "pointed": ""} | ({"cavity": ""} if name == "tool" else {})


def find_the_row() -> Board:
    """Point at the row in force for a bag and a tool."""
    one, _ = disagreeing()
    return Board("Which row is in force?", {"metal": one.chart.sleeve_metal, "size": one.row.size, "tool": "", "cavity": "", "pointed": "", "others": False}, row_view, row_step)


# --- tool and cavity ------------------------------------------------------------------------------

def _tools():
    return [(one.id, one.name, [(mark, size, float(read_size(size).diameter_mm)) for size, mark in one.cavities]) for one in _shop().tools]


def tools_still() -> Figure:
    """The shop's tools on their board."""
    return tool_board(_tools())


def missing_sizes() -> lesson.Block:
    """The sizes of the cable table that no tool on the board has a hole for: an answer, which waits."""
    held = {size for one in _shop().tools for size, _ in one.cavities}
    gone = [size for size in _sizes() if size not in held]
    words = f"No tool on this board has a hole for these sizes, in inches: {', '.join(gone)}." if gone else "This board has a hole for every size of the cable table."
    return lesson.answer(lesson.Block(f"<p>{lesson.escape(words)}</p>", words))


def may_be_pressed_in(metal: str, size: str) -> tuple[tuple[str, str], ...]:
    """Every (tool, cavity) of the shop that has a cavity for the size and a maker's row for that metal."""
    found = []
    for tool in _shop().tools:
        mark = tool.cavity(size)
        try:
            chart, _ = chart_in_force(_shop().charts, metal, size, tool.id, mark)
        except Refusal:
            continue
        if mark and chart.kind == "maker":
            found.append((tool.id, mark))
    return tuple(found)


def tool_view(state: dict) -> View:
    """The board of tools, a bag in hand, and what pointing at a cavity came to."""
    metal, size, pointed = state["metal"], state["size"], state["pointed"]
    found = may_be_pressed_in(metal, size)
    mark = tuple(pointed.split(" ", 1)) if " " in pointed else None
    figure = tool_board(_tools(), found if pointed else (), mark, lambda shape, value, words: pick(shape, "hole", value, words))
    controls = (choice("metal", "Bag says", SLEEVE_METALS, metal, as_list=True), choice("size", "Size, in", _sizes(), size, as_list=True),
                button("none", "None of them will do"), button("fresh", "Another bag", second=True))
    said = [Said(*_tool_answer(state, found, mark))] if pointed else [Said(f"The bag says {metal}, {size}. Point at the cavity you would press it in.")]
    return View((figure,), controls, tuple(said))


def _tool_answer(state: dict, found, mark) -> tuple[str, str]:
    metal, size = state["metal"], state["size"]
    these = " or ".join(f"tool {tool}, cavity {one}" for tool, one in found)
    if mark is None:
        if found:
            return f"Not so: {these} takes it, and its chart has the row.", "no"
        return f"Right: none. {_why_none(metal, size)}", "ok"
    if mark in found:
        more = f" So would {' or '.join(f'{a}, cavity {b}' for a, b in found if (a, b) != mark)}: the chart goes with the tool you take." if len(found) > 1 else ""
        return f"Right: tool {mark[0]}, cavity {mark[1]}. Its chart has a row for {metal}.{more}", "ok"
    fits = {one: of for tool in _shop().tools if tool.id == mark[0] for of, one in tool.cavities}[mark[1]]
    if fits == size:
        return f"Not so: the cavity fits, but no chart for tool {mark[0]} lists {metal} in {size}. {_why_none(metal, size)}".strip(), "no"
    smaller = size_inches(fits) < size_inches(size)
    what = ("is for a smaller sleeve: fins, thinned metal, cut wires, and the gauge passes it" if smaller else "is for a larger sleeve: it does not close far enough, and the crimp stays fat")
    return f"Not so: cavity {mark[1]} of {mark[0]} {what}.", "no"


def _why_none(metal: str, size: str) -> str:
    """Why no tool of this shop presses that sleeve."""
    holding = [tool.id for tool in _shop().tools if tool.cavity(size)]
    if not holding:
        return f"No tool here has a cavity for {size}: the ranges skip sizes, and a longer handle is no wider range. Ask for a tool and its chart."
    if may_be_pressed_in(metal, size):
        return ""
    return f"{' and '.join(holding)} {'have' if len(holding) > 1 else 'has'} a hole for {size}, but no chart here gives {metal} a count in it. A hole is no chart: ask the maker."


def tool_step(state: dict, name: str, value=None) -> dict:
    """A cavity is pointed at, none will do, or another bag is taken."""
    if name == "hole":
        return state | {"pointed": str(value)}
    if name == "none":
        return state | {"pointed": "none"}
    if name == "fresh":
        from rigcalc.questions.draws import Stream

        secret = secrets.token_bytes(16)
        bags = [(metal, size) for metal in SLEEVE_METALS[:3] for size in _sizes() if (metal, size) != (state["metal"], state["size"])]
        metal, size = Stream(secret, "another bag").shuffled(tuple(bags))[0]
        return {"metal": metal, "size": size, "pointed": "", "fresh": secret.hex()}
    return state | {name: value, "pointed": ""}


def find_the_tool() -> Board:
    """Point at the cavity for a bag of sleeves, or say that none will do."""
    pressed = [size for size in ("3/16", *reversed(_sizes())) if may_be_pressed_in("aluminium", size)]
    return Board("Which tool, which cavity?", {"metal": "aluminium", "size": pressed[0] if pressed else "3/16", "pointed": "", "fresh": ""}, tool_view, tool_step)
