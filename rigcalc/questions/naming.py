"""Calculations found by what somebody calls them: by meaning, by a word of what they say of themselves, by likeness."""

from __future__ import annotations

import re
from difflib import get_close_matches

from rigcalc.questions.registry import CALCULATIONS

__all__ = ["calculations_like", "said_of"]

# What people call the plain ones.
_MEANS = {"product": ("times", "multiply", "multiplied", "mul", "scale", "x"), "quotient": ("divide", "divided", "division", "ratio", "per", "over"),
          "sum": ("add", "plus", "total", "added"), "difference": ("minus", "subtract", "less", "subtracted", "sub"), "mean": ("average", "middle"),
          "larger": ("max", "maximum", "greatest", "greater", "most", "largest")}


def said_of(name: str) -> str:
    """The first sentence of what a calculation says of itself."""
    return " ".join((CALCULATIONS[name].__doc__ or "").split("\n\n")[0].split())


def calculations_like(word: str) -> list[str]:
    """The calculations that a word may mean, the likeliest first: those called so, then those whose name or sentence has it, then those that look alike."""
    plain = word.casefold().strip()
    words = [part for part in re.split(r"[^a-z]+", plain) if len(part) > 2 and part not in ("the", "and", "for", "with")]
    called = {plain, *words, *get_close_matches(plain, [one for others in _MEANS.values() for one in others], 1, 0.75)}
    meant = [name for name, others in _MEANS.items() if called & set(others)]
    named = [name for name in sorted(CALCULATIONS) if any(part in name.split("_") for part in words)]
    spoken = [name for name in sorted(CALCULATIONS) if any(re.search(rf"\b{re.escape(part)}", said_of(name).casefold()) for part in words)]
    return list(dict.fromkeys([*meant, *sorted(named, key=lambda name: -sum(part in name.split("_") for part in words)), *get_close_matches(plain, CALCULATIONS, 3), *spoken]))
