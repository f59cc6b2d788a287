"""What a first wrong set or match is told: why letters taken wrongly do not fit, that others are missing or how many lines are right, not which."""

from __future__ import annotations

from typing import Any

from rigcalc.questions.marking import each_letter, lines_right
from rigcalc.questions.reading import read_answer

__all__ = ["first_try"]


def first_try(key: dict[str, Any], question: dict[str, Any], typed: Any, missteps: list[str]) -> str:
    """The sentence for a first wrong answer that does not give the rest away; empty where the whole feedback may stand.

    `key` and `question` as `compose` gives them, `typed` what was handed in, `missteps` those that marking found: one that is told
    for the whole set keeps its own words. Source: judgement.
    """
    if question["kind"] == "match" and all(name.startswith("line ") for name in missteps):
        return _first_match(key["right"]["row"], read_answer(question, typed)["value"])
    if question["kind"] != "several choices" or any(slip["id"] in missteps and "letter" not in slip for slip in key["missteps"]):
        return ""
    chosen, wanted = set(read_answer(question, typed)["value"] or ()), set(key["right"]["letters"])
    if chosen == wanted:
        return ""
    taken = chosen - wanted
    said = [each_letter(key["missteps"], taken, set())]
    missing = len(wanted - chosen)
    if missing:
        said.append(f"{'All that you chose fit, but one' if not taken and missing == 1 else 'All that you chose fit, but some' if not taken else 'Another' if missing == 1 else 'Others'} "
                    f"that {'fits is' if missing == 1 else 'fit are'} not chosen yet.")
    return " ".join([*said, "Try once more; after that each letter is told."])


def _first_match(wanted: list[str], row: list[str] | None) -> str:
    """How many lines of a match are right; empty where the answer cannot be read, or no line is."""
    good = sum(one == other for one, other in zip(row or [], wanted, strict=False))
    if not 0 < good < len(wanted):
        return ""
    return f"Not right. {lines_right(good, len(wanted))}. Try once more; after that you are told which lines are not right."
