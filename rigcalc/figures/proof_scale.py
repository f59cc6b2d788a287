"""One assembly's forces on a bar: limit, proof loads by the published rules, cap, breaking force; and the window of a reading."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rigcalc.figures.drawing import COAT, DEEP, GREEN, INK, PAPER, QUIET, RUST, STEEL, Drawing, Figure

__all__ = ["RuleBar", "proof_scale"]

LEFT, RIGHT = 30.0, 670.0


@dataclass(frozen=True)
class RuleBar:
    """A published rule: its name, load in N, that in words, and whether it is the one looked at."""

    name: str
    load_n: float
    words: str
    chosen: bool = False


def proof_scale(limit_n: float, limit: str, breaking_n: float, breaking: str, cap_n: float, cap: str, rules: Sequence[RuleBar],
                window_n: tuple[float, float] | None = None, window: str = "", peak_n: float | None = None, peak: str = "", caption: str = "") -> Figure:
    """A bar a rule from nothing to the breaking force, limit and cap as lines; once the bench is set, the window and how far it was pulled, all to one scale."""
    step, top = 50, 84.0
    foot = top + step * len(rules)
    sheet = Drawing(700, foot + (126 if window_n else 44))

    def at(force: float) -> float:
        return LEFT + (RIGHT - LEFT) * min(1.0, force / breaking_n)

    sheet.rect(at(cap_n), top - 16, RIGHT - at(cap_n), foot - top + 14, fill="#f8e6dc", stroke=PAPER, width=0)
    for place, one in enumerate(rules):
        y = top + step * place
        sheet.rect(LEFT, y + 6, at(one.load_n) - LEFT, 16, fill=COAT if one.chosen else STEEL, stroke=INK, width=3 if one.chosen else 1.5)
    for force, words, y, colour, dash in ((limit_n, f"limit {limit}", 26, DEEP, ""), (cap_n, f"cap {cap}", 50, RUST, "10 5")):
        x = at(force)
        for begin, end in ((y + 8, top - 14), *((top + step * row + 5, top + step * (row + 1) - 14) for row in range(len(rules)))):  # a gap where each rule's words stand
            sheet.line(x, begin, x, end, stroke=colour, width=3, dash=dash)
        sheet.text(max(x, LEFT + 60), y, words, size=16, anchor="middle", weight=700, colour=colour, halo=True)
    for place, one in enumerate(rules):
        sheet.text(LEFT, top + step * place, f"{one.name}: {one.words}", size=15, weight=700 if one.chosen else 400)
    sheet.line(RIGHT, 40, RIGHT, foot - 2, width=5)
    sheet.text(RIGHT + 5, 26, f"breaks at {breaking}", size=16, anchor="end", weight=700)
    told = "; ".join(f"{one.name} {one.words}" for one in rules)
    more = ""
    if window_n:
        y = foot + 34
        low, high = (at(force) for force in window_n)
        sheet.rect(LEFT, y, RIGHT - LEFT, 28, fill=PAPER, width=2)
        sheet.rect(low, y, high - low, 28, fill="crimp", stroke=GREEN, width=2.5)
        sheet.line(at(cap_n), foot - 2, at(cap_n), y + 28, stroke=RUST, width=3, dash="10 5")
        sheet.text(max((low + high) / 2, LEFT + 120), y + 50, f"counts: {window}", size=16, anchor="middle", weight=700, colour=GREEN)
        more = f" The reading counts from {window}."
        sheet.text(RIGHT, y + 50, "the bench's gauge, same scale", size=15, anchor="end", colour=QUIET)
        if peak_n is not None:
            x = at(peak_n)
            sheet.arrow(x, y - 22, x, y + 14, colour=RUST, width=4, head=14)
            sheet.text(max(x, LEFT + 24), y - 28, peak, size=16, anchor="middle", weight=700, colour=RUST, halo=True)
            more += f" The furthest the needle went: {peak}."
    return sheet.figure(f"Forces of one assembly from nothing to its breaking force, {breaking}: limit {limit}; cap {cap}; {told}.{more}", caption)
