"""A TOML file that a trainer wrote: read into its form, or refused with file, line, field and one plain sentence."""

from __future__ import annotations

import re
import tomllib
from difflib import get_close_matches
from typing import Any

import msgspec

from rigcalc.errors import Refusal
from rigcalc.questions.plainly import wrong_kind
from rigcalc.shop.lines import Lines, accepted_for, syntax_problem

__all__ = ["FileFault", "Steps", "dotted", "line_of", "read_toml"]

Steps = list[str | int]
_HIDDEN = ("sha256", "file", "folder")  # what a loader adds


class FileFault(Refusal):
    """A file says something that cannot be used; the sentence names file, line and field."""

    def __init__(self, file: str, line: int | None, field: str, given: str, accepted: str, do: str) -> None:
        self.file, self.line, self.field = file, line, field
        where = ", ".join([file] + ([f"line {line}"] if line else []) + ([f"field {field}"] if field else []))
        super().__init__(f"{where}: {given}", accepted, do)


def line_of(text: str, steps: Steps) -> int | None:
    """The line of a TOML text at which a field, or the nearest block that would hold it, begins; None for the whole file."""
    if not steps:
        return None
    start, lines = Lines(text).of(tuple(steps)), text.splitlines()
    if any(isinstance(step, int) for step in steps):
        for end in range(start, len(lines)):  # inside a list of several lines: the first line with which it holds the place
            if _beginning(lines, end) is not None:
                break
            if _holds(_beginning(lines, end, "\n]"), steps):
                return end
    return start


def _beginning(lines: list[str], end: int, closed: str = "") -> dict | None:
    """What the first lines hold; None where they end inside a statement."""
    try:
        return tomllib.loads("\n".join(lines[:end]) + closed)
    except tomllib.TOMLDecodeError:
        return None


def _holds(found: Any, steps: Steps) -> bool:
    for step in steps:
        try:
            found = found[step]
        except (KeyError, IndexError, TypeError):
            return False
    return True


def dotted(steps: Steps) -> str:
    """A path in words, blocks counted from 1.

    >>> dotted(["misstep", 0, "with"])
    'misstep.1.with'
    """
    return ".".join(str(step + 1) if isinstance(step, int) else step for step in steps)


def read_toml(name: str, raw: bytes, form: type, fault: type[FileFault] = FileFault) -> tuple[str, Any]:
    """The text of a file and what it holds, as the form says; a fault where it is no UTF-8, no TOML or of another form."""
    try:
        text = raw.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as wrong:
        raise fault(name, raw[:wrong.start].count(b"\n") + 1, "", "a sign that is not UTF-8 text", "a plain text file saved as UTF-8",
                    "save the file again as UTF-8") from None
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as wrong:
        line, given, accepted, do = _syntax(text, wrong, form)
        raise fault(name, line, "", given, accepted, do) from None
    try:
        return text, msgspec.convert(data, form)
    except msgspec.ValidationError as wrong:
        raise _misfit(name, text, str(wrong), form, fault) from None


# -- what is no TOML ---------------------------------------------------------------------------------------------------

def _syntax(text: str, error: tomllib.TOMLDecodeError, form: type) -> tuple[int, str, str, str]:
    """The line of the slip, what stands there, what is accepted, what to do."""
    message, lines = str(error), text.splitlines()
    for number, line in enumerate(lines, 1):
        head = re.match(r"\s*\[\s*([a-z_.]+)\s*\]", line)
        if head and head[1] in _repeated(msgspec.inspect.type_info(form)):
            return (number, *_brackets(head[1], True))
    line, given, do = syntax_problem(text, error)
    stands = lines[line - 1].strip() if lines else ""
    if "Unclosed inline table" in message:
        return (line, f"braces that are not closed, or lack a comma ({stands[:60]!r})", "a comma between all that stands inside { }, and a } at its end on the same line",
                "write   name = { one = 1, other = 2 }")
    if "Invalid value" in message and (word := re.search(r"=\s*(yes|no|on|off|True|False|TRUE|FALSE|Yes|No)\b", stands)):
        return line, f"the word {word[1]} ({stands[:60]!r})", "true or false, in small letters and without quotes", "write true or false"
    start = _statement(lines, line)
    while start < line and not lines[start - 1].strip():
        start += 1
    if start < line and (re.match(r"\s*(\[|[a-z_]+\s*=)", lines[line - 1]) or "Unclosed" in message or "Unterminated" in message):
        return (start, f"a list or text that begins in line {start} and is not closed, or lacks a comma, before line {line}", "a list closed with ], "
                "with commas between what it holds, or a text with its closing quotes", f"look from line {start} to line {line}")
    if "Cannot declare" in message:
        do = "keep one of the two, or give both fields under one"
    elif "Invalid value" in message and "comma" not in given:
        do = "write one value after one =, and text in quotes"
    elif "Expected ']'" in message:
        do = "write   [answer]   or   [[question]]: the name between two or between four brackets"
    return line, given, accepted_for(given), do


def _statement(lines: list[str], line: int) -> int:
    """The first line of the statement that a line stands in."""
    return next((end + 1 for end in range(line - 1, 0, -1) if _beginning(lines, end) is not None), 1)


def _brackets(name: str, single: bool) -> tuple[str, str, str]:
    one, two = f"[{name}] in single brackets", f"[[{name}]] in double brackets"
    return (one, f"{two}, once for each of them", f"write [[{name}]]") if single else (two, f"{one}, once in the file", f"write [{name}]")


# -- what is TOML of another form -----------------------------------------------------------------------------------------

def _misfit(name: str, text: str, said: str, form: type, fault: type[FileFault]) -> FileFault:
    """The decoder's complaint as one plain sentence with its line."""
    message, _, path = said.partition(" - at `")
    steps, info = _steps(path.rstrip("`")), msgspec.inspect.type_info(form)
    unknown, missing = (re.search(rf"{word} field `([^`]+)`", message) for word in ("unknown", "missing required"))
    if unknown:
        own = _fields(_at(info, steps))
        near = get_close_matches(unknown[1], own, 1)
        steps = [*steps, unknown[1]]
        return fault(name, line_of(text, steps), dotted(steps), "a field that is not known here", ", ".join(own),
                     f"rename it to {near[0]}, or remove it" if near else "rename or remove it")
    if missing:
        return fault(name, line_of(text, steps) or 1, dotted([*steps, missing[1]]), "nothing", "a value for this field", f"add {missing[1]}")
    line = line_of(text, steps)
    head = re.match(r"\s*(\[\[?)\s*([a-z_.]+)", text.splitlines()[line - 1]) if line else None
    if head and message in ("Expected `array`, got `object`", "Expected `object`, got `array`"):
        return fault(name, line, dotted(steps), *_brackets(head[2], head[1] == "["))
    given, accepted = wrong_kind(message) or (message, "the kinds of values that its README lists")
    choices = _choices(_at(info, steps))
    if choices:
        given, accepted = _given(text, steps), " or ".join(choices)
    return fault(name, line, dotted(steps), given, accepted, "mend that field")


def _given(text: str, steps: Steps) -> str:
    found: Any = tomllib.loads(text)
    for step in steps:
        found = found[step]
    return f"'{found}'"


def _steps(path: str) -> Steps:
    """msgspec's path `$.misstep[0].with` as ['misstep', 0, 'with']; `[...]` (a dict's value) ends it."""
    steps: Steps = []
    for word, index in re.findall(r"\.(\w+)|\[(\d+|\.\.\.)\]", path):
        if index == "...":
            break
        steps.append(word or int(index))
    return steps


def _plain(info: Any) -> Any:
    """A type without its `or nothing`."""
    if isinstance(info, msgspec.inspect.UnionType):
        return next((one for one in info.types if not isinstance(one, msgspec.inspect.NoneType)), info)
    return info


def _at(info: Any, steps: Steps) -> Any:
    """The type that a path leads to; None where it leads nowhere."""
    for step in steps:
        info = _plain(info)
        if isinstance(step, int):
            info = getattr(info, "item_type", None)
        elif isinstance(info, msgspec.inspect.DictType):
            info = info.value_type
        else:
            info = next((one.type for one in getattr(info, "fields", ()) if one.encode_name == step), None)
    return _plain(info)


def _fields(info: Any) -> list[str]:
    return [one.encode_name for one in getattr(info, "fields", ()) if one.encode_name not in _HIDDEN]


def _choices(info: Any) -> list[str]:
    """The values that a field takes, where it takes only some, as they are written."""
    return [f'"{one}"' if isinstance(one, str) else str(one) for one in info.values] if isinstance(info, msgspec.inspect.LiteralType) else []


def _repeated(info: Any, before: str = "") -> set[str]:
    """The dotted names of all blocks that stand in double brackets."""
    found = set()
    for one in getattr(_plain(info), "fields", ()):
        name, inner = f"{before}{one.encode_name}", _plain(one.type)
        item = getattr(inner, "item_type", None)
        if isinstance(item, msgspec.inspect.StructType):
            found.add(name)
        found |= _repeated(item or inner, f"{name}.")
    return found
