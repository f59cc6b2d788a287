"""Where in a TOML text each field stands, and a plain sentence for a text that is no TOML."""

from __future__ import annotations

import re
import tomllib

__all__ = ["Lines", "accepted_for", "syntax_problem"]

Path = tuple[str | int, ...]

# What the standard parser says, and what a person has to do about it.
_SAID = (
    ("Expected '=' after a key", "a field's name stands without its '='", "write   name = value"),
    ("Unterminated string", "a text is opened with a quote and never closed", "put the closing quote"),
    ("Illegal character '\\n'", "a text is opened with a quote and not closed on its line", "put the closing quote"),
    ("Invalid value", "a value that is no text, number, date or list", 'put text in quotes, as in "long lever"'),
    ("Cannot overwrite", "the same field stands twice in one block", "keep one of the two"),
    ("Cannot declare", "the same block heading stands twice", "keep one, or write it in double brackets: [[reel]]"),
    ("Unclosed array", "a list is opened with [ and never closed", "put the closing ]"),
    ("Expected newline or end of document", "more stands on the line than one value",
     "put text in quotes, and a # before a remark"),
    ("Expected ']'", "a block heading lacks its closing bracket", "write   [bench]   or   [[reel]]"),
    ("Invalid statement", "a line that is no field, no block heading and no remark",
     "write   name = value   or put a # before a remark"),
    ("Invalid initial character for a key", "a field's name starts with a sign that may not stand there",
     "use small letters and _"),
    ("Invalid date", "a date that is no day", "write a day that the calendar has, year first, as 2026-03-02"),
    ("Unescaped", "a backslash in a text", "write it twice, or leave it out"),
)

# A day as it is written elsewhere: day or month first, single figures, points or strokes between.
DAY_OTHERWISE = re.compile(r"=\s*(?![0-9]{4}-[0-9]{2}-[0-9]{2}\b)[0-9]{1,4}([-./])[0-9]{1,2}\1[0-9]{1,4}\b")


class Lines:
    """Finds the line of a block or field by parsing beginnings of a text that is TOML as a whole.

    The standard parser keeps no lines, so the shortest beginning that holds the path is looked for, by halving.
    Used only when something is wrong.
    """

    def __init__(self, text: str) -> None:
        self._lines = text.splitlines()
        self._parsed: dict[int, dict | None] = {}

    def of(self, path: Path) -> int:
        """The line of a path, or of the nearest block that holds it; 1 when nothing of it stands in the text."""
        while path and not _holds(self._beginning(len(self._lines)), path):
            path = path[:-1]
        if not path:
            return 1
        low, high = 1, len(self._lines)
        while low < high:
            middle = (low + high) // 2
            if _holds(self._beginning(self._readable_from(middle)), path):
                high = middle
            else:
                low = self._readable_from(middle) + 1
        return self._statement_start(low)

    def _beginning(self, end: int) -> dict | None:
        """The document made of the first `end` lines, or None when they end inside a statement."""
        if end not in self._parsed:
            try:
                self._parsed[end] = tomllib.loads("\n".join(self._lines[:end]))
            except tomllib.TOMLDecodeError:
                self._parsed[end] = None
        return self._parsed[end]

    def _readable_from(self, end: int) -> int:
        """The first number of lines from `end` on that is a document."""
        while self._beginning(end) is None and end < len(self._lines):
            end += 1
        return end

    def _statement_start(self, line: int) -> int:
        """The first line of the statement that `line` stands in."""
        while line > 1 and self._beginning(line - 1) is None:
            line -= 1
        while line < len(self._lines) and (not self._lines[line - 1].strip() or self._lines[line - 1].lstrip().startswith("#")):
            line += 1
        return line


def _holds(document: object, path: Path) -> bool:
    """Whether a path leads somewhere in a document."""
    for part in path:
        if isinstance(part, int):
            if not isinstance(document, list) or part >= len(document):
                return False
        elif not isinstance(document, dict) or part not in document:
            return False
        document = document[part]
    return document is not None


def syntax_problem(text: str, error: tomllib.TOMLDecodeError) -> tuple[int, str, str]:
    """The line, what stands there and what to do, for a text that is no TOML."""
    message = str(error)
    at = re.search(r"at line (\d+)", message)
    lines = text.splitlines()
    line = int(at.group(1)) if at else _last_written(lines)
    line = max(1, min(line, len(lines) or 1))
    stands = lines[line - 1].strip() if lines else ""
    early = _row_before_chart(lines)
    if early:
        return early, f"[[chart.row]] in line {early} stands before any [[chart]]", f"put the [[chart]] line above line {early}"
    if re.search(r"=\s*[0-9]{4}-[0-9]{2}-[0-9]{2}\s*(#.*)?$", stands):
        return line, f"a date that is no day ({stands[:60]!r})", "write a day that the calendar has, year first, as 2026-03-02"
    if re.fullmatch(r"[a-z_.]+", stands):
        return line, f"a word alone on its line ({stands[:60]!r})", f"a block's heading stands in brackets, as the sample has it: [{stands}] or [[{stands}]]; a field is written   name = value"
    if DAY_OTHERWISE.search(stands):
        return line, f"a date that is not written year, month, day ({stands[:60]!r})", "write the day as 2026-03-02, with two figures each for month and day"
    if re.search(r"=\s*[-+]?[0-9]+,[0-9]", stands):
        return line, f"a comma in a number ({stands[:60]!r})", "write a point before decimals, and nothing between thousands"
    for marker, what, do in _SAID:
        if marker in message:
            break
    else:
        what, do = "something that cannot be read", 'compare with the sample: name = value, text in "quotes"'
    return line, f"{what} ({stands[:60]!r})" if stands else what, do


def accepted_for(what: str) -> str:
    """What is accepted in place of what a syntax problem names."""
    for begin, accepted in (("a date", "a day of the calendar, year first, without quotes"),
                            ("a comma", "a number with a point, as 2.5"), ("[[chart.row]]", "a [[chart]] line, then its rows")):
        if what.startswith(begin):
            return accepted
    return "lines of the form   name = value"


def _row_before_chart(lines: list[str]) -> int | None:
    """The line of a [[chart.row]] that stands before the first [[chart]]; None where there is none."""
    for n, line in enumerate(lines, 1):
        if re.match(r"\s*\[\[\s*chart\s*\]\]", line):
            return None
        if re.match(r"\s*\[\[\s*chart\s*\.\s*row\s*\]\]", line):
            return n
    return None


def _last_written(lines: list[str]) -> int:
    """The number of the last line that is not empty."""
    return max((n for n, line in enumerate(lines, 1) if line.strip()), default=1)
