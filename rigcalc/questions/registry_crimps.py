"""Calculations on charts, counts, orders and tools that families of lesson 06 name."""

from __future__ import annotations

from typing import Any

from rigcalc.errors import Refusal
from rigcalc.questions.registry import _calculation

__all__: list[str] = []

Record = dict[str, Any]


# --- charts ------------------------------------------------------------------------------------------

@_calculation
def row_with(rows: list[Record], field: str, value: Any) -> Record:
    """The one row of a list whose field holds a value; refuses where there is none, or more than one."""
    found = [row for row in rows if row[field] == value]
    if len(found) != 1:
        raise Refusal(f"{field} {value} in {len(found)} rows", "a value that stands in one row", "take another value")
    return found[0]


def row_beside(rows: list[Record], size: str, steps: int) -> Record:
    """The row so many lines further down (or, negative, up) a chart than a size; refuses off its end."""
    place = [row["size"] for row in rows].index(size) + steps
    if not 0 <= place < len(rows):
        raise Refusal(f"{steps} lines from {size}", "a line of the chart", "take another size")
    return rows[place]


@_calculation
def field_beside(rows: list[Record], size: str, steps: int, field: str) -> Any:
    """One field of the row so many lines further down (or up) a chart than a size; refuses off its end."""
    return row_beside(rows, size, steps)[field]


@_calculation
def counts_said(chart: Record) -> str:
    """A chart's head and its counts, as they stand on the page."""
    return f"{_head(chart)} {'; '.join(_count_said(row) for row in chart['rows'])}."


@_calculation
def whole_rows_said(chart: Record) -> str:
    """A chart's head and its rows with cavity, count and gauge slot, as they stand on the page."""
    rows = (f"{row['size']}: cavity {row['cavity']}, {_crimps(row['count'])}, gauge {row['gauge']} slot {row['gauge_slot']}"
            for row in chart["rows"])
    return f"{_head(chart)} {'; '.join(rows)}."


def _head(chart: Record) -> str:
    return (f"{chart['mark']}Chart {chart['chart']} of {chart['maker']}, edition {chart['edition']}, "
            f"{chart['sleeve_metal']} sleeves, tool {chart['tool']}.")


def _count_said(row: Record) -> str:
    return f"{row['size']}: cavity {row['cavity']}, {_crimps(row['count'])}"


def _crimps(count: int) -> str:
    return f"{count} crimp{'' if count == 1 else 's'}"


@_calculation
def fields_but(charts: list[Record], field: str, value: Any) -> list[Any]:
    """One field of every row of some charts, each value once, all but one value."""
    found = [row[field] for chart in charts for row in chart["rows"] if row[field] != value]
    return list(dict.fromkeys(found))


# --- counts ------------------------------------------------------------------------------------------

@_calculation
def crimps_changed(count: int, by: int) -> int:
    """A count of crimps with some more, or (negative) fewer; refuses fewer than one."""
    if count + by < 1:
        raise Refusal(f"{count + by} crimps", "one crimp at least", "take another change")
    return count + by


def circular_count(size: str) -> int:
    """The presses of an aircraft copper sleeve as remembered from a circular: from memory, another sleeve's."""
    from rigcalc.sleeve import copper_counts_from_memory

    found = [row.presses for row in copper_counts_from_memory() if row.size == size]
    if not found:
        raise Refusal(f"the size {size}", "a size of the circular", "take another size")
    return found[0]


@_calculation
def strokes(pieces: int, eyes: int, count: float) -> float:
    """All strokes of the tool: pieces × eyes on each × crimps on a sleeve."""
    return pieces * eyes * count


@_calculation
def strokes_by_the_circular(pieces: int, eyes: int, size: str) -> int:
    """All strokes of somebody who takes an aircraft circular's copper count (from memory, another sleeve's)."""
    return pieces * eyes * circular_count(size)


@_calculation
def strokes_more(pieces: int, eyes: int, count: int, more: int) -> int:
    """All strokes of somebody who presses so many more on each sleeve than the chart says."""
    return pieces * eyes * (count + more)


@_calculation
def strokes_in_chart_beside(eyes: int, rows: list[Record], size: str, steps: int) -> int:
    """All strokes of somebody who reads a chart's line beside the right one; refuses where the chart has no line of the size."""
    if size not in [row["size"] for row in rows]:
        raise Refusal(f"the size {size}", "a size of this chart", "take another size")
    return eyes * row_beside(rows, size, steps)["count"]


@_calculation
def count_or_words(charts: list[Record], metal: str, tool: str, size: str, words: str) -> int | str:
    """The count of the one row that fits metal, tool and size, or the words for none."""
    found = [row["count"] for chart in charts for row in chart["rows"]
             if (chart["sleeve_metal"], chart["tool"], row["size"]) == (metal, tool, size)]
    return found[0] if found else words


@_calculation
def count_by_size(charts: list[Record], size: str) -> int:
    """The count of the first row of this size, whatever stands at its chart's head; refuses where there is none."""
    found = [row["count"] for chart in charts for row in chart["rows"] if row["size"] == size]
    if not found:
        raise Refusal(f"the size {size}", "a size of these charts", "take another size")
    return found[0]


@_calculation
def count_of_nearest(charts: list[Record], size: str, side: str) -> int:
    """The count of the nearest 'larger' or 'smaller' size on these charts; refuses where there is none."""
    from rigcalc.units import size_inches

    sign = 1 if side == "larger" else -1
    found = [(sign * (size_inches(row["size"]) - size_inches(size)), row["count"]) for chart in charts for row in chart["rows"]]
    beyond = [one for one in found if one[0] > 0]
    if not beyond:
        raise Refusal(f"a size {side} than {size}", "a size of these charts", "take another size")
    return min(beyond)[1]


@_calculation
def count_changed_unless(count: int | str, words: str, by: int) -> int:
    """A count with some more or fewer; refuses where there is no count, and fewer than one."""
    if count == words:
        raise Refusal(words, "a count", "leave this out")
    return crimps_changed(int(count), by)


# --- one batch, two tools ----------------------------------------------------------------------------

@_calculation
def strokes_in_two(first_eyes: int, first_count: int, second_eyes: int, second_count: int) -> int:
    """All strokes of a batch pressed in two tools: eyes × crimps in the first, and in the second."""
    return first_eyes * first_count + second_eyes * second_count


@_calculation
def strokes_where_known(known: bool, first_eyes: int, first_count: int, second_eyes: int, second_count: int) -> int | None:
    """All strokes of a batch pressed in two tools; None (refuse) where the second tool has no chart."""
    return strokes_in_two(first_eyes, first_count, second_eyes, second_count) if known else None


@_calculation
def strokes_if_both_known(known: bool, first_eyes: int, first_count: float, second_eyes: int, second_count: float) -> float:
    """All strokes by two counts, wrongly chosen; refuses where the second tool has no chart."""
    return one_way_only(known, first_eyes * first_count + second_eyes * second_count)


def one_way_only(known: bool, value: Any) -> Any:
    """A value, but only where something is known; refuses where it is not."""
    if not known:
        raise Refusal("a chart that is not there", "a chart for the tool", "leave this out")
    return value


@_calculation
def refused_where(known: bool) -> str:
    """'refuse' where something is known, as a misstep; refuses where it is not."""
    return one_way_only(known, "refuse")


@_calculation
def chosen_by(known: bool, yes: Any, no: Any) -> Any:
    """`yes` where something is known, else `no`."""
    return yes if known else no


@_calculation
def second_tool_said(known: bool, tool: str, count: int, eyes: int) -> str:
    """How the eyes of a second tool are counted, in words, or that they cannot be."""
    return (f"In {tool} it gets {count}, and {eyes} eyes are pressed there." if known
            else "For the borrowed press there is no chart, and no count is carried over from another tool.")


# --- orders ------------------------------------------------------------------------------------------

@_calculation
def next_in_order(order: list[int], pressed: int) -> int:
    """The place that comes next in an order when so many have been pressed; refuses where none is left."""
    if pressed >= len(order):
        raise Refusal(f"{pressed} of {len(order)} pressed", "one left", "take fewer")
    return order[pressed]


@_calculation
def letter_at(letters: list[str], place: int) -> str:
    """The letter at a place counted from 1; refuses a place that is not there."""
    if not 1 <= place <= len(letters):
        raise Refusal(f"place {place}", f"1 to {len(letters)}", "take another place")
    return letters[place - 1]


@_calculation
def letter_from_the_end(letters: list[str], place: int) -> str:
    """The letter at a place, wrongly counted from the tail."""
    return letters[len(letters) - place]


@_calculation
def first_left(letters: list[str], order: list[int], pressed: int) -> str:
    """The letter of the first place from the thimble that is not pressed yet."""
    return letters[min(order[pressed:]) - 1]


@_calculation
def last_left(letters: list[str], order: list[int], pressed: int) -> str:
    """The letter of the last place, the one nearest the tail, that is not pressed yet."""
    return letters[max(order[pressed:]) - 1]


@_calculation
def row_said(items: list[Any], none: str) -> str:
    """Items in a row, as they stand in a sentence, or the words for none."""
    return ", ".join(str(item) for item in items) or none


# --- tools -------------------------------------------------------------------------------------------

@_calculation
def board_said(tools: list[Record]) -> str:
    """The tools on the board with the marks of their cavities, as they stand on the page."""
    def one(tool: Record) -> str:
        return f"{tool['tool']} ({tool['name']}): " + ", ".join(f"{c['size']} in {c['cavity']}" for c in tool["cavities"])

    return "; ".join(one(tool) for tool in sorted(tools, key=lambda tool: tool["tool"]))


@_calculation
def place_for(size: str, tools: list[Record], none: str) -> str:
    """The one tool and cavity for a sleeve size, or the words for none; refuses where two tools take it."""
    found = [_place(tool, cavity) for tool in tools for cavity in tool["cavities"] if cavity["size"] == size]
    if len(found) > 1:
        raise Refusal(f"size {size} in {len(found)} tools", "a size that one of these tools takes", "take another size")
    return found[0] if found else none


def _place(tool: Record, cavity: Record) -> str:
    return f"tool {tool['tool']}, cavity {cavity['cavity']}"


@_calculation
def places_for(sizes: list[str], tools: list[Record], none: str) -> list[str]:
    """For each size its tool and cavity among these tools, or the words for none."""
    return [place_for(size, tools, none) for size in sizes]


@_calculation
def nearest_places_for(sizes: list[str], tools: list[Record], none: str, side: str) -> list[str]:
    """As `places_for`, of somebody who takes the next 'larger' or 'smaller' cavity where no tool has the size."""
    return [nearest_place(size, tools, side) if place_for(size, tools, none) == none else place_for(size, tools, none)
            for size in sizes]


@_calculation
def nearest_place(size: str, tools: list[Record], side: str) -> str:
    """The tool and cavity of the nearest 'larger' or 'smaller' size on the board; refuses where there is none."""
    from rigcalc.units import size_inches

    wanted, sign = size_inches(size), 1 if side == "larger" else -1
    found = [(sign * (size_inches(c["size"]) - wanted), _place(tool, c)) for tool in tools for c in tool["cavities"]]
    beyond = [one for one in found if one[0] > 0]
    if not beyond or sum(one[0] == min(beyond)[0] for one in beyond) > 1:
        raise Refusal(f"a cavity {side} than {size}", "one cavity on that side", "take another size")
    return min(beyond)[1]


@_calculation
def all_places(tools: list[Record]) -> list[str]:
    """Every tool and cavity on the board."""
    return [_place(tool, cavity) for tool in tools for cavity in tool["cavities"]]


@_calculation
def joined(items: list[Any], more: list[Any]) -> list[Any]:
    """Two lists as one, nothing twice."""
    return list(items) + [one for one in more if one not in items]


# --- what a draw must be -----------------------------------------------------------------------------

@_calculation
def different(a: Any, b: Any) -> bool:
    """Yes where two values differ; refuses where they are the same."""
    return all_apart([a, b])


@_calculation
def all_apart(items: list[Any]) -> bool:
    """Yes where no value stands twice; refuses where one does."""
    if len(set(items)) != len(items):
        raise Refusal(f"{items}", "values that all differ", "draw again")
    return True


@_calculation
def holds_some(items: list[Any], one: Any, least: int, most: int) -> int:
    """How often a value stands in a list; refuses fewer than `least` or more than `most` times."""
    found = items.count(one)
    if not least <= found <= most:
        raise Refusal(f"{one} {found} times", f"{least} to {most} times", "draw again")
    return found
