"""Which piece a candidate has in hand, what ended the others, and what each crimp did at the gauge."""

from __future__ import annotations

from collections import defaultdict

__all__ = ["crimp_presses", "current_piece", "ended_by_gauge", "gauge_items"]


def gauge_items(form: dict) -> list[dict]:
    """The lines at which every crimp is gauged."""
    return [item for stage in form["stages"] for item in stage["items"] if item["kind"] == "gauge"]


def crimp_presses(live: list[dict], candidate: str, piece: int, key: str) -> dict[int, list[bool]]:
    """For each crimp of one eye the gaugings in order: [True], [False, True], [False, False] ..."""
    presses: dict[int, dict[int, bool]] = defaultdict(dict)
    for event in live:
        if event["kind"] == "gauged" and (event["candidate"], event["piece"], event["item"]) == (candidate, piece, key):
            presses[event["crimp"]][event["press"]] = event["passed"]
    # A first gauging corrected to "passed" leaves no second one: observe refuses that order.
    return {crimp: [made[n] for n in sorted(made)] for crimp, made in sorted(presses.items())}


def ended_by_gauge(form: dict, live: list[dict], candidate: str, piece: int) -> bool:
    """Whether a crimp of this piece did not pass a second time: the piece is scrap and the tool out of use."""
    return any(made[:2] == [False, False] for item in gauge_items(form)
               for made in crimp_presses(live, candidate, piece, item["key"]).values())


def current_piece(form: dict, live: list[dict], candidate: str) -> int:
    """The number of the piece in hand: one more than the pieces rejected by the candidate, within what was issued."""
    rejected = sum(1 for e in live if e["kind"] == "rejected" and e["candidate"] == candidate)
    most = form["issue"]["pieces"] if form["issue"] else 1
    return min(rejected + 1, most)
