"""Which pieces a shop can have made at the bench: each cable, sleeve and tool that its charts, gauges and reels allow, the best first."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

import msgspec

from rigcalc.bench.limits import Facts, facts_of
from rigcalc.bench.tasks import Piece, Task
from rigcalc.errors import Refusal
from rigcalc.pairing import SERVICES, Verdict, pairing, refuse_from_memory, refuse_never
from rigcalc.sleeve import SLEEVE_METALS, built_in_chart
from rigcalc.units import size_inches

__all__ = ["Choice", "bench_choices", "bench_notes", "chosen_piece"]

FROM_MEMORY = "this pair is known from memory only: ask the sleeve maker, and enter the maker's efficiency in the chart's row"


@dataclass(frozen=True)
class Choice:
    """One piece a form can be opened for; `lacks` says what stands in the way of an assessment with it, or is empty."""

    piece: Piece
    tool: str | None
    cavity: str | None
    lacks: str

    @property
    def key(self) -> str:
        """The choice in one word, as a page sends it."""
        one = self.piece
        return "|".join((one.size, one.construction, one.metal, one.sleeve_metal, self.tool or ""))

    @property
    def words(self) -> str:
        """The choice as it is read: cable, sleeve, tool, and what it lacks."""
        one = self.piece
        return (f"{one.size} {one.construction} {one.metal} cable, {one.sleeve_metal} sleeves, tool {self.tool or 'of the bench'}, "
                f"cavity {self.cavity or 'as marked'}" + (f" ({self.lacks})" if self.lacks else ""))


def bench_choices(piece: Piece, shop, today: date | None = None) -> list[Choice]:
    """Every piece that a task can be opened for in a shop, the one to take first at the head.

    Parameters
    ----------
    piece : Piece
        The task's own piece.
    shop : Shop
    today : date, optional
        The day on which tool and gauge must be in use.

    Returns
    -------
    list of Choice
        First what lacks nothing, then nearest to the task's own size, its own sleeve metal, cable metal and construction.
    """
    today = today or date.today()
    found = []
    for tool in [one.id for one in shop.tools] or [None]:
        for sleeve in SLEEVE_METALS:
            for size in _sizes(shop, tool, sleeve):
                found += _of(piece, shop, tool, sleeve, size, today)
    return sorted(found, key=lambda one: (bool(one.lacks), abs(size_inches(one.piece.size) - size_inches(piece.size)),
                                          one.piece.sleeve_metal != piece.sleeve_metal, one.piece.metal != piece.metal,
                                          one.piece.construction != piece.construction))


def chosen_piece(choices: Iterable[Choice], key: str) -> Choice:
    """The choice a page sent; refuses one that the shop does not have, and a pair known from memory only."""
    listed = list(choices)
    found = next((one for one in listed if one.key == key), None)
    if found is None:
        raise Refusal(f"the piece '{key[:80]}'", "; ".join(one.words for one in listed) or "a piece that this shop can make: it has none",
                      "choose one from the list")
    if FROM_MEMORY in found.lacks:
        raise Refusal(found.words, "a pair that was read of, or the sleeve maker's own word on it", "choose another, or ask the maker first")
    return found


def bench_notes(tasks: Mapping[str, Task], shop, today: date | None = None) -> list[str]:
    """One sentence for each bench task that a shop cannot have done, or only with another piece than the task's own; a shop without a maker's
    chart is told so elsewhere."""
    if not shop.has_maker_chart:
        return []
    notes = []
    for task in tasks.values():
        if task.piece is None:
            continue
        choices = bench_choices(task.piece, shop, today)
        if not choices or choices[0].lacks:
            why = f" (the nearest, {choices[0].words})" if choices else ""
            notes.append(f"bench task {task.id} ({task.title}) cannot be assessed in this shop with any size it has{why}: it needs a reel, a tool in use with "
                         "its maker's chart for the size, and a gauge in date that the chart's row names.")
        elif choices[0].piece.size != task.piece.size:
            notes.append(f"bench task {task.id} ({task.title}) is written for {task.piece.size} cable; in this shop it is opened for "
                         f"{choices[0].words}, or for another that is chosen on the Bench page.")
    return notes


def _sizes(shop, tool: str | None, sleeve: str) -> list[str]:
    """The sizes that a chart of the shop, or common practice for a tool without one, has for a sleeve."""
    charts = [one for one in shop.charts if one.sleeve_metal == sleeve and one.tool == tool]
    if charts:
        return list(dict.fromkeys(row.size for one in charts for row in one.rows))
    taught = built_in_chart()
    if taught.sleeve_metal != sleeve:
        return []
    own = next((one.sizes for one in shop.tools if one.id == tool), None)
    return [row.size for row in taught.rows if own is None or row.size in own]


def _of(own: Piece, shop, tool: str | None, sleeve: str, size: str, today: date) -> list[Choice]:
    """The pieces of one size, sleeve and tool, one for each cable of it on the racks."""
    made = []
    for construction, metal, lacks in _cables(own, shop, size):
        try:
            refuse_never(metal, sleeve)
            piece = msgspec.structs.replace(own, size=size, construction=construction, metal=metal, sleeve_metal=sleeve)
            facts = facts_of(piece, shop, tool)
        except Refusal:
            continue
        made.append(Choice(piece, tool, facts.row.cavity, "; ".join(filter(None, (lacks, *_lacks(facts, shop, today))))))
    return made


def _cables(own: Piece, shop, size: str) -> list[tuple[str, str, str]]:
    """Construction and metal of the bare cable of a size; the task's own, said to lack its reel, where the racks hold none."""
    racks = list(dict.fromkeys((one.construction, one.metal, "") for one in shop.reels if one.size == size and not one.coating_to))
    return racks or [(own.construction, own.metal, "no bare reel of it in the shop file")]


def _lacks(facts: Facts, shop, today: date) -> list[str]:
    """What keeps an assessment from being made with a tool and its gauge."""
    tool = next((one for one in shop.tools if one.id == facts.tool), None)
    said = ["PRACTICE: no maker's chart for it"] if facts.practice else []
    if _from_memory(facts):
        said.append(FROM_MEMORY)
    if tool is not None and tool.out_of_use:
        said.append(f"the tool {tool.out_of_use}")
    if facts.gauge is not None and not facts.gauge.in_date(today):
        said.append(f"gauge {facts.gauge.id} {facts.gauge.out_of_date(today)}")
    return said


def _from_memory(facts: Facts) -> bool:
    """Whether a job sheet refuses the pair in every service that allows it: what it refuses is not assessed either."""
    verdicts = (pairing(facts.piece.metal, facts.piece.sleeve_metal, service) for service in SERVICES)
    return all(_refused(one, facts.chart.for_real_work, facts.chart.makers_word(facts.row)) for one in verdicts if one.allowed)


def _refused(verdict: Verdict, real: bool, makers_word: str) -> bool:
    try:
        refuse_from_memory(verdict, real, makers_word)
    except Refusal:
        return True
    return False
