"""A wrong kind of value in a TOML file, said in plain words."""

from __future__ import annotations

import re

__all__ = ["kinds_in_words", "wrong_kind"]

KINDS = {"float": "a number", "int": "a whole number", "str": "a text in quotes", "bool": "true or false",
         "array": "a list in square brackets", "object": "a table such as { en = \"...\" }", "null": "nothing",
         "datetime": "a date and time", "date": "a date", "time": "a time of day"}


def kinds_in_words(kinds: str) -> str:
    """`float | null` as words.

    >>> kinds_in_words("array | str | null"), kinds_in_words("float")
    ('a list in square brackets or a text in quotes', 'a number')
    """
    names = [name for name in kinds.split(" | ") if name != "null"] or ["null"]
    return " or ".join(KINDS.get(name, name) for name in names)


def wrong_kind(message: str) -> tuple[str, str] | None:
    """What was given and what is accepted, of a decoder's sentence on a wrong kind; None where it is another sentence.

    >>> wrong_kind("Expected `float`, got `str`")
    ('a text in quotes', 'a number')
    >>> wrong_kind("Expected `int`, got `float`")
    ('a number with a point', 'a whole number')
    """
    found = re.fullmatch(r"Expected `([^`]+)`, got `([^`]+)`", message)
    if found is None:
        return None
    return "a number with a point" if found[2] == "float" else kinds_in_words(found[2]), kinds_in_words(found[1])
