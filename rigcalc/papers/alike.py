"""Which questions stand the same on two or more papers of a class: a family with few texts runs out of them."""

from __future__ import annotations

import json
from collections.abc import Iterable

__all__ = ["alike"]

_ASKED = ("kind", "text", "chart", "figure", "left", "boxes", "unit")


def alike(papers: Iterable[dict]) -> list[list[tuple[str, int]]]:
    """Each question that is asked on two or more papers with the same words, figures and options, in whatever order these stand.

    Parameters
    ----------
    papers : iterable of dict
        Question papers with `paper_id` and `questions`, as a candidate is given them.

    Returns
    -------
    list of list of (str, int)
        For each such question its papers and the number it has there; the ones on most papers first.
    """
    found: dict[str, list[tuple[str, int]]] = {}
    for paper in papers:
        for question in paper["questions"]:
            found.setdefault(_as_asked(question), []).append((paper["paper_id"], question["slot"]))
    return sorted((where for where in found.values() if len({paper for paper, _ in where}) > 1), key=len, reverse=True)


def _as_asked(question: dict) -> str:
    options = sorted(json.dumps(one.get("text", one) if isinstance(one, dict) else one, sort_keys=True) for one in question["options"])
    return json.dumps([[question[name] for name in _ASKED], options], sort_keys=True)
