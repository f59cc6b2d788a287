"""How hard a page is to read: the Flesch-Kincaid grade, with the trade's own words counted as short ones."""

from __future__ import annotations

import re

__all__ = ["reading_grade"]

# What a bench says every day, however long it is.
TRADE = frozenset("""aluminium aluminum assembly assemblies caliper cavity certificate certificates coated construction constructions copper
 crimp diameter diameters efficiency galvanised gauge kilonewtons measured newtons pressing sleeve sleeves stainless thimble thimbles
 tolerance torque turnbuckle turnbuckles uncertainty horizontal vertical factor load limit breaking corrosion inspection interval""".split())


def _syllables(word: str) -> int:
    word = word.lower()
    return 1 if word in TRADE else max(1, len(re.findall(r"[aeiouy]+", re.sub(r"e$", "", word))))


def reading_grade(markdown: str) -> float:
    """The grade of some Markdown (0.39 words a sentence + 11.8 syllables a word - 15.59, Kincaid and others 1975)."""
    prose = re.sub(r"<[^>]+>|[*#_`]", " ", markdown)
    sentences = [one for one in re.split(r"[.!?:]\s|\n\n|\n[-\d]", prose) if len(one.split()) > 1]
    words = re.findall(r"[A-Za-z']+", prose)
    return 0.39 * len(words) / len(sentences) + 11.8 * sum(map(_syllables, words)) / len(words) - 15.59
