"""What a first wrong set of letters is told: why those taken wrongly do not fit, and that others are missing, not which."""

from __future__ import annotations

from typing import Any

from rigcalc.questions.marking import _each_option
from rigcalc.questions.reading import read_answer

__all__ = ["first_try"]


def first_try(key: dict[str, Any], question: dict[str, Any], typed: Any, missteps: list[str]) -> str:
    """The sentence for a first wrong answer that does not give the rest away; empty where the whole feedback may stand.

    `key` and `question` as `compose` gives them, `typed` what was handed in, `missteps` those that marking found: one that is told
    for the whole set keeps its own words. Source: judgement.
    """
    if question["kind"] != "several choices" or any(slip["id"] in missteps and "letter" not in slip for slip in key["missteps"]):
        return ""
    chosen, wanted = set(read_answer(question, typed)["value"] or ()), set(key["right"]["letters"])
    if chosen == wanted:
        return ""
    taken = [slip for slip in key["missteps"] if slip.get("letter") in chosen - wanted]
    said = [_each_option(taken)] if taken else ["Not right."]
    missing = len(wanted - chosen)
    if missing:
        said.append(f"{'All that you chose fit, but one' if not taken and missing == 1 else 'All that you chose fit, but some' if not taken else 'Another' if missing == 1 else 'Others'} "
                    f"that {'fits is' if missing == 1 else 'fit are'} not chosen yet.")
    return " ".join([*said, "Try once more; after that each letter is told."])
