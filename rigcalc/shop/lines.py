"""Where in a TOML text each field stands, and a plain sentence for a text that is no TOML."""

from __future__ import annotations

import re
import tomllib

__all__ = ["line_of", "lines_of_paths", "syntax_problem"]

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
    ("Invalid date", "a date that is no day", "write it year first: 2026-03-02"),
    ("Unescaped", "a backslash in a text", "write it twice, or leave it out"),
)


def line_of(index: dict[Path, int], path: Path) -> int:
    """The line of a path, or of the nearest block that holds it (1 when nothing of it stands in the text)."""
    while path and path not in index:
        path = path[:-1]
    return index.get(path, 1)


def lines_of_paths(text: str) -> dict[Path, int]:
    """The first line of every block and field, found by parsing ever longer beginnings of the text.

    Slow (a parse a line), so used only when something is wrong.
    """
    lines = text.splitlines()
    found: dict[Path, int] = {}
    begins = 1
    for end in range(1, len(lines) + 1):
        if not lines[end - 1].strip() or lines[end - 1].lstrip().startswith("#"):
            begins = end + 1 if begins == end else begins
            continue
        try:
            document = tomllib.loads("\n".join(lines[:end]))
        except tomllib.TOMLDecodeError:
            continue
        for path in _paths(document):
            found.setdefault(path, begins)
        begins = end + 1
    return found


def _paths(value: object, here: Path = ()) -> list[Path]:
    """Every path in a document."""
    if isinstance(value, dict):
        inner = value.items()
    elif isinstance(value, list):
        inner = enumerate(value)
    else:
        return []
    found = []
    for key, below in inner:
        found.append((*here, key))
        found += _paths(below, (*here, key))
    return found


def syntax_problem(text: str, error: tomllib.TOMLDecodeError) -> tuple[int, str, str]:
    """The line, what stands there and what to do, for a text that is no TOML."""
    message = str(error)
    at = re.search(r"at line (\d+)", message)
    lines = text.splitlines()
    line = int(at.group(1)) if at else _last_written(lines)
    line = max(1, min(line, len(lines) or 1))
    stands = lines[line - 1].strip() if lines else ""
    for marker, what, do in _SAID:
        if marker in message:
            break
    else:
        what, do = "something that cannot be read", 'compare with the sample: name = value, text in "quotes"'
    return line, f"{what} ({stands[:60]!r})" if stands else what, do


def _last_written(lines: list[str]) -> int:
    """The number of the last line that is not empty."""
    return max((n for n, line in enumerate(lines, 1) if line.strip()), default=1)
