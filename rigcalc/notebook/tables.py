"""The sourced tables printed for a person with the book in hand: each row as it is used, its source beside it.

The tables are found by their schemas, so a new one appears by itself.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from html import escape
from importlib.resources import files
from itertools import groupby

from rigcalc.notebook.lesson import Block, cautions, lesson_style
from rigcalc.notebook.table_words import CHAPTERS, Told, chapter_of_constant, constants_told, heading, told
from rigcalc.reference import Row, bibliography, table, table_names
from rigcalc.reference.schema import SCHEMAS, Schema
from rigcalc.removal import MEASURES

__all__ = ["Sheet", "chapter", "opening", "plain", "sheets", "sources_in_full", "what_may_rate"]

EMPTY = "–"
MARKED = ("from memory", "common practice")
_UNIT_SIGNS = {"degC": "°C", "m/s2": "m/s²", "kg/m3": "kg/m³", "N/mm2": "N/mm²"}
MOST_TOGETHER = 15  # rows under one source before it is written again, so that it is never a page away


@dataclass(frozen=True)
class Sheet:
    """One printed table: the sourced table it is (part of), its title, what it may do, its rows."""

    name: str
    about: Told
    title: str
    rows: tuple[Row, ...]

    @property
    def anchor(self) -> str:
        """Its place on the page."""
        return "table-" + f"{self.name} {self.about.chapter if self.name == 'constants' else ''}".strip().replace(" ", "-")


def sheets() -> tuple[Sheet, ...]:
    """Every sourced table in the order of the chapters; the constants in parts, each in its chapter."""
    found = []
    for place in CHAPTERS:
        names = [name for name in SCHEMAS if name in table_names() and name != "constants" and told(name).chapter == place]
        found += [Sheet(name, told(name), told(name).title, table(name)) for name in names]
        part = tuple(row for row in table("constants") if chapter_of_constant(row.name) == place)
        if part:
            about = constants_told(place)
            found.append(Sheet("constants", about, about.title, part))
    return tuple(found)


def plain(value: object) -> str:
    """A value as a book prints it: plain decimal, a whole number with its fraction, or a dash where there is none.

    >>> plain(2000.0), plain(0.01), plain(Fraction(100, 3)), plain(Fraction(1, 1000000)), plain(None)
    ('2000', '0.01', '33 1/3', '0.000001', '–')
    """
    if value is None:
        return EMPTY
    if isinstance(value, str):
        return value
    exact = Fraction(str(value))
    places = _places(exact)
    if places is None:
        whole, rest = divmod(abs(exact), 1)
        return f"{'−' if exact < 0 else ''}{f'{whole} ' if whole else ''}{rest}"
    digits = f"{abs(exact * 10**places).numerator:0{places + 1}d}"
    shown = f"{digits[:-places]}.{digits[-places:]}" if places else digits
    return f"−{shown}" if exact < 0 else shown


def _places(value: Fraction) -> int | None:
    """How many decimals write it exactly; None where none do."""
    return next((places for places in range(20) if (value * 10**places).denominator == 1), None)


def _column(sheet: Sheet, schema: Schema, column: str) -> list[str]:
    """One column in print: the figures of one source with the same decimals, so that they stand one under the other."""
    values = [getattr(row, column) for row in sheet.rows]
    kind, mixed = schema.columns[column].rstrip("?"), "unit" in schema.columns or "topic" in schema.columns
    if column == "measure":
        return [MEASURES.get(value, value) for value in values]
    if column == "unit":
        return [f"× {value[2:]}" if value.startswith("x ") else _UNIT_SIGNS.get(value, value) for value in values]
    if kind not in ("number", "exact") or mixed:
        return [plain(value) for value in values]
    most: dict[str, int] = {}
    for row, value in zip(sheet.rows, values, strict=True):
        if value is not None:
            most[row.source] = max(most.get(row.source, 0), _places(Fraction(str(value))) or 0)
    return [EMPTY if value is None else _padded(plain(value), most[row.source]) for row, value in zip(sheet.rows, values, strict=True)]


def _padded(shown: str, places: int) -> str:
    if "/" in shown or not places:
        return shown
    whole, _, decimals = shown.partition(".")
    return f"{whole}.{decimals:0<{places}}"


def _source(row: Row) -> tuple[str, str]:
    return row.cited, row.how_known


def chapter(name: str) -> Block:
    """All tables of one chapter, for holding against the books.

    Parameters
    ----------
    name : str
        One of the chapters: cable, sleeves, pairing, clips, rating, statics, gauge and pull tests, removal, units.
    """
    if name not in CHAPTERS:
        raise ValueError(f"{name!r}: take one of {', '.join(CHAPTERS)}")
    blocks = [_printed(sheet) for sheet in sheets() if sheet.about.chapter == name]
    return Block("".join(block.html for block in blocks), "\n\n".join(block.text for block in blocks))


def _printed(sheet: Sheet) -> Block:
    schema = SCHEMAS[sheet.name]
    said = f"{sheet.about.may} {sheet.about.use}"
    columns = [column for column in schema.columns if column not in sheet.about.grouped]
    cells = {column: _column(sheet, schema, column) for column in columns}
    common, cells = _said_once(cells)
    numbers = {column for column in columns if schema.columns[column].rstrip("?") in ("number", "whole", "exact")}
    head = "".join(_cell("th", heading(column), column in numbers, ' scope="col"') for column in columns)
    rows = list(enumerate(sheet.rows))
    parts, lines = [], [sheet.title, said, *common, " | ".join([*map(heading, columns), "source", "how it is known"])]
    for words, members in groupby(rows, key=lambda one: tuple(plain(getattr(one[1], c)) for c in sheet.about.grouped)):
        members, title = list(members), _group_title(sheet, words)
        parts.append(_body(members, columns, cells, numbers, title))
        lines += [f"[{title}]"] if title else []
        lines += [" | ".join([*(cells[c][i].replace("\n", " ") for c in columns), *_source(row)]) for i, row in members]
    once = "".join(f"<p>For every row: {escape(words)}</p>" for words in common)
    kinds = (" wide-table" if len(columns) > 5 else "") + (" short" if len(sheet.rows) <= MOST_TOGETHER else "")
    html = (f'<section class="sourced{kinds}" id="{sheet.anchor}"><h3>{escape(sheet.title)}</h3><p><strong>{escape(sheet.about.may)}</strong> '
            f"{escape(sheet.about.use)}</p>{once}<div class=\"held\"><table><thead><tr>{head}"
            f'<th scope="col">source, and how it is known</th></tr></thead>{"".join(parts)}</table></div></section>')
    return Block(html, "\n".join(lines))


def _said_once(cells: dict[str, list[str]]) -> tuple[tuple[str, ...], dict[str, list[str]]]:
    """Reasons stand one under the other, and a reason that every row gives is said once above the table."""
    if "reasons" not in cells:
        return (), cells
    split = [words.split(" | ") for words in cells["reasons"]]
    common = tuple(words for words in split[0] if all(words in other for other in split))
    left = ["\n".join(words for words in reasons if words not in common) for reasons in split]
    return common, {**cells, "reasons": left}


def _group_title(sheet: Sheet, words: Sequence[str]) -> str:
    if sheet.name == "gauge_sees":
        return f"The gauge sees it: {words[0]}"
    if sheet.name == "pairing":
        return f"{words[0].capitalize()} cable, {words[1]} sleeve"
    return ": ".join(words)


def _body(members: list[tuple[int, Row]], columns: Sequence[str], cells: dict[str, list[str]], numbers: set[str], title: str) -> str:
    """The rows of one group; a source that stands for several rows is written once beside them."""
    first = f'<tr class="group"><th colspan="{len(columns) + 1}" scope="rowgroup">{escape(title)}</th></tr>' if title else ""
    out = []
    for _, alike in groupby(members, key=lambda one: _source(one[1])):
        alike = list(alike)
        for start in range(0, len(alike), MOST_TOGETHER):
            together = alike[start:start + MOST_TOGETHER]
            for place, (i, row) in enumerate(together):
                shown = "".join(_cell("td", cells[c][i], c in numbers) for c in columns)
                out.append(f"<tr>{shown}{_source_cell(row, len(together)) if place == 0 else ''}</tr>")
    return f"<tbody>{first}{''.join(out)}</tbody>"


def _cell(tag: str, words: str, number: bool, more: str = "") -> str:
    long = "words" if len(words) > 60 else "phrase" if len(words) > 16 else ""
    kind = ' class="number"' if number else f' class="{long}"' if tag == "td" and long else ""
    return f"<{tag}{more}{kind}>{'<br>'.join(escape(line) for line in words.split(chr(10)))}</{tag}>"


def _source_cell(row: Row, span: int) -> str:
    where, known = _source(row)
    marked = f"<strong>{escape(known)}</strong>" if row.how_known in MARKED else escape(known)
    return f'<td class="source"{f" rowspan={chr(34)}{span}{chr(34)}" if span > 1 else ""}>{escape(where)}<br>{marked}</td>'


def opening() -> Block:
    """The style of the page and the cautions."""
    said = cautions()
    sheet = files(__package__).joinpath("tables.css").read_text(encoding="utf-8")
    return Block(f"{lesson_style()}<style>{sheet}</style>{said.html}", said.text)


def what_may_rate() -> Block:
    """Every table with what it may do, how many rows it has, and how they are known; each leads to its place."""
    head = ("table", "what it may do", "rows", "how the rows are known")
    rows = [(sheet, sheet.about.may, str(len(sheet.rows)), _known(sheet.rows)) for sheet in sheets()]
    html = "".join(f'<tr><td><a href="#{sheet.anchor}">{escape(sheet.title)}</a></td><td>{escape(may)}</td>'
                   f'<td class="number">{count}</td><td>{escape(known)}</td></tr>' for sheet, may, count, known in rows)
    top = "".join(_cell("th", words, words == "rows", ' scope="col"') for words in head)
    lines = [" | ".join(head), *(" | ".join((sheet.title, *rest)) for sheet, *rest in rows)]
    return Block(f'<section class="sourced"><div class="held"><table class="contents"><thead><tr>{top}</tr></thead><tbody>{html}</tbody></table></div></section>',
                 "\n".join(lines))


def _known(rows: Iterable[Row]) -> str:
    counted = Counter(row.how_known for row in rows)
    return next(iter(counted)) if len(counted) == 1 else "; ".join(f"{count} {known}" for known, count in counted.items())


def sources_in_full() -> Block:
    """The whole bibliography by its short keys, with the tables that stand on each entry."""
    used: dict[str, list[str]] = {}
    for sheet in sheets():
        for key in dict.fromkeys(row.source for row in sheet.rows):
            used.setdefault(key, []).append(sheet.title)
    head = ("short name", "in full, and edition", "what was seen", "how it is known", "tables that stand on it")
    rows = []
    for entry in sorted(bibliography().values(), key=lambda one: one.key.lower()):
        stands = "; ".join(used.get(entry.key, ())) or "named in the workbook's words"
        rows.append((entry.key, f"{entry.title}. {entry.edition[0].upper()}{entry.edition[1:]}.", entry.source, entry.how_known, stands))
    body = "".join("<tr>" + "".join(_cell("td", words, False) for words in row) + "</tr>" for row in rows)
    top = "".join(_cell("th", words, False, ' scope="col"') for words in head)
    html = (f'<section class="sourced wide-table"><div class="held"><table class="bibliography"><thead><tr>{top}</tr></thead>'
            f"<tbody>{body}</tbody></table></div></section>")
    return Block(html, "\n".join(" | ".join(row) for row in (head, *rows)))
