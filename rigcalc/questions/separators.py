"""Separators in figures: what parts decimals and thousands in the shop's language, and how that is turned into points.

A figure is turned into the plain form (a point before decimals, nothing between thousands) only where the language
leaves one reading: `2,5 m` where commas part decimals, `12,500.5 N` where points do. What could be read in two ways,
such as one thousands sign and three figures, comes back as choices, and the page asks.
"""

from __future__ import annotations

import re

__all__ = ["LANGUAGES", "plain_figures", "separators", "shown_with"]

# decimal sign, thousands sign; common practice of each language
LANGUAGES = {"en": (".", ","), "de": (",", "."), "es": (",", "."), "fr": (",", " "), "it": (",", "."),
             "nl": (",", "."), "pl": (",", " "), "pt": (",", "."), "sv": (",", " ")}
_FIGURE = re.compile(r"[0-9][0-9.,]*[0-9]|[0-9]")
_GAPPED = re.compile(r"(?<![0-9.,/])([0-9]{1,3}(?:[ \u00a0\u202f][0-9]{3})+)(?![0-9/])(?! ?[0-9]*/)")


def separators(language: str) -> dict[str, str]:
    """The signs of a language; English ones where the language is not listed.

    >>> separators("de")
    {'decimal': ',', 'thousands': '.'}
    """
    decimal, thousands = LANGUAGES.get(language, LANGUAGES["en"])
    return {"decimal": decimal, "thousands": thousands}


def _readings(figure: str, decimal: str) -> list[str]:
    """Each way to read one figure, in the plain form."""
    other = "," if decimal == "." else "."
    if decimal == "." and "," not in figure or decimal == "," and "," not in figure and "." not in figure:
        return [figure]
    grouped = rf"[1-9][0-9]{{0,2}}(?:{re.escape(other)}[0-9]{{3}})+(?:{re.escape(decimal)}[0-9]+)?"
    own = figure.replace(other, "").replace(decimal, ".") if re.fullmatch(grouped, figure) else None
    if re.fullmatch(rf"[0-9]+{re.escape(decimal)}[0-9]+", figure):
        own = figure.replace(decimal, ".")
    foreign = figure.replace(other, ".") if re.fullmatch(rf"[0-9]+{re.escape(other)}[0-9]+", figure) else None
    return [reading for reading in (own, foreign) if reading]


def plain_figures(typed: str, signs: dict[str, str]) -> tuple[str | None, list[str]]:
    """What was typed in the plain form, or None and the choices to ask (none: it cannot be read as figures).

    >>> plain_figures("2,5 m", separators("de")), plain_figures("12,500.5 N", separators("en"))
    (('2.5 m', []), ('12500.5 N', []))
    >>> plain_figures("1,250 lbf", separators("en"))
    (None, ['1250 lbf', '1.250 lbf'])
    >>> plain_figures("1.250 mm", separators("de"))
    (None, ['1250 mm', '1,250 mm'])
    >>> plain_figures("2,5 m", separators("en"))
    (None, ['2.5 m'])
    """
    decimal = signs["decimal"]
    if signs["thousands"] == " ":
        typed = _GAPPED.sub(lambda found: re.sub(r"\D", "", found[1]), typed)
    found = _FIGURE.search(typed)
    if not found or ("," not in found[0] and decimal == "."):
        return typed, []
    readings = _readings(found[0], decimal)
    before, after = typed[:found.start()], typed[found.end():]
    if len(readings) == 1 and not _foreign(found[0], decimal):
        return before + readings[0] + after, []
    return None, [before + shown_with(reading, signs) + after for reading in readings]


def _foreign(figure: str, decimal: str) -> bool:
    """Whether one comma stands where an English shop writes a point; a point for a comma is read, as tools show points."""
    return decimal == "." and figure.count(",") == 1 and "." not in figure


def shown_with(text: str, signs: dict[str, str]) -> str:
    """A reading with the language's decimal sign.

    >>> shown_with("2.5 m [8.2 ft]", separators("de"))
    '2,5 m [8,2 ft]'
    """
    return text if signs["decimal"] == "." else re.sub(r"(?<=[0-9])\.(?=[0-9])", ",", text)
