"""Simulated candidates of known ability: how many does a paper of this plan decide rightly?

Ability is one figure; a family is harder or easier for everybody alike (the Rasch model). How hard is drawn anew, 0.30 to
0.95 right by a candidate of middling ability, whatever the family's level. Abilities lie round the cut, where deciding
is hardest. Every draw is a hash of a word, so that a simulation can be repeated; no paper is drawn from it.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from math import log, sqrt
from typing import TYPE_CHECKING, NamedTuple

from rigcalc.errors import Refusal
from rigcalc.papers import statistics
from rigcalc.papers.balance import ENOUGH, choose_families, fitting_families
from rigcalc.papers.blueprint import Blueprint

if TYPE_CHECKING:
    import numpy as np

__all__ = ["Simulated", "simulate"]

EASIEST, HARDEST = 0.95, 0.30
SPREAD = 1.0  # standard deviation of the abilities, in logits
MOST = 1_000_000


class Simulated(NamedTuple):
    """What became of candidates whose own level was known; shares are of those named."""

    candidates: int
    papers: int
    cut: int
    error: float  # standard error in marks: what scores lie off the candidates' own level
    error_from_alpha: float  # what the page `How good is the quiz?` would have said
    inside: int  # candidates within one standard error of the cut
    right_inside: float
    right_outside: float
    right: float
    worst_outside: float  # of those outside, the share decided wrongly on the worse side
    good_and_missed: float  # of those above the cut, who miss one of the must-be-right questions
    paper_spread: float  # standard deviation over the papers of the expected marks of a candidate at the cut

    def in_words(self) -> list[str]:
        """The outcome in plain sentences."""
        return [
            f"{self.candidates} simulated candidates on {self.papers} papers, abilities round the cut of {self.cut} marks.",
            f"Standard error {self.error:.1f} marks; worked out from the answers alone, as for a class, {self.error_from_alpha:.1f}.",
            f"Decided rightly by marks: {100 * self.right:.1f} in 100. More than one standard error from the cut: {100 * self.right_outside:.1f}; "
            f"within it ({self.inside} candidates): {100 * self.right_inside:.1f}.",
            f"More than one standard error above the cut, or as far below it, whichever goes wrong more often: {100 * self.worst_outside:.1f} in 100 are decided wrongly.",
            f"One and the same candidate at the cut: expected marks differ between papers with a standard deviation of {self.paper_spread:.2f}.",
            f"Of candidates above the cut {100 * self.good_and_missed:.0f} in 100 miss a must-be-right question by a slip, if they are no surer "
            "of those than of others: that is why they are asked to be plain.",
            "This is how a paper of this plan behaves if people are like the model. It says nothing of your people.",
        ]


def simulate(plan: Blueprint, families: Mapping, candidates: int = 10_000, papers: int = 100, word: str = "1") -> Simulated:
    """Let simulated candidates sit parallel papers of a plan and compare each decision with their own level.

    A candidate's own level is the marks expected over all families that fit the places, not over one paper's.

    Raises
    ------
    Refusal
        Fewer than 100 or more than a million candidates, or more papers than candidates.
    """
    import numpy as np

    if not 100 <= candidates <= MOST or not 1 <= papers <= candidates:
        raise Refusal(f"{candidates} candidates on {papers} papers", f"100 to {MOST} candidates, at least one a paper", "change the numbers")
    model = _Model(plan, families, word)
    at_cut = model.ability_of(plan.cut.marks)
    abilities = np.sort(at_cut + SPREAD * _normal(f"{word}|abilities", candidates))
    levels = np.array([model.level(one) for one in abilities.tolist()])
    chosen = model.papers(papers, at_cut)
    easy = np.array([[model.easy[name] for name in paper] for paper in chosen])[np.arange(candidates) % papers]
    right = _even(f"{word}|answers", easy.size).reshape(easy.shape) < _chance(easy + abilities[:, None])
    marks = right * model.weights
    expected = [float(_chance(np.array([model.easy[name] for name in paper]) + at_cut) @ model.weights) for paper in chosen]
    return _outcome(plan, marks, levels, right[:, model.must], expected)


def _outcome(plan: Blueprint, marks, levels, must, expected: list[float]) -> Simulated:
    import numpy as np

    scores, cut = marks.sum(axis=1), plan.cut.marks
    error = sqrt(float(((scores - levels) ** 2).mean()))
    good = (scores >= cut) == (levels >= cut)
    near = np.abs(levels - cut) <= error
    items = statistics.item_statistics(marks)
    sides = [1 - good[~near & side].mean() for side in (levels >= cut, levels < cut) if (~near & side).any()]
    above = levels >= cut
    return Simulated(
        len(scores), len(expected), cut, error, statistics.standard_error(items.deviation, max(items.alpha or 0.0, 0.0)), int(near.sum()),
        float(good[near].mean()), float(good[~near].mean()), float(good.mean()), float(max(sides)),
        float(1 - must.all(axis=1)[above].mean()), float(np.std(expected)))


class _Model:
    """How easy each family is (in logits), and what a candidate of an ability expects on the plan."""

    def __init__(self, plan: Blueprint, families: Mapping, word: str) -> None:
        import numpy as np

        self.plan, self.families, self.word = plan, families, word
        self.fitting = [fitting_families(place, families, index) for index, place in enumerate(plan.question)]
        names = sorted({name for row in self.fitting for name in row})
        shares = HARDEST + (EASIEST - HARDEST) * _even(f"{word}|families", len(names))
        self.easy = {name: log(share / (1 - share)) for name, share in zip(names, shares.tolist(), strict=True)}
        self.weights = np.array([place.marks for place in plan.question], float)
        self.must = np.array([place.must_be_right for place in plan.question])
        self._all = np.array([self.easy[name] for row in self.fitting for name in row])
        self._worth = np.array([place.marks / len(row) for place, row in zip(plan.question, self.fitting, strict=True) for _ in row])

    def level(self, ability: float) -> float:
        """The marks expected over all families."""
        return float(_chance(self._all + ability) @ self._worth)

    def ability_of(self, marks: float) -> float:
        """The ability at which so many marks are expected."""
        low, high = -12.0, 12.0
        for _ in range(60):
            middle = (low + high) / 2
            low, high = (middle, high) if self.level(middle) < marks else (low, middle)
        return (low + high) / 2

    def papers(self, count: int, at_cut: float) -> list[list[str]]:
        """The families of so many papers, chosen as for a class whose families all have results."""
        known = {(name, self.families[name].version): (float(_chance(easy + at_cut)), ENOUGH) for name, easy in self.easy.items()}
        secret = hashlib.sha256(f"simulation|{self.word}".encode()).digest()
        fitting = {name: self.families[name] for name in self.easy}
        return [choose_families(self.plan, fitting, "simulated", f"c{number}", secret, known) for number in range(count)]


def _chance(logits) -> np.ndarray:
    from scipy.special import expit

    return expit(logits)


def _even(word: str, count: int) -> np.ndarray:
    """Evenly spread figures between 0 and 1, from a hash of the word."""
    import numpy as np

    drawn = np.frombuffer(hashlib.shake_256(word.encode()).digest(8 * count), "<u8")
    return ((drawn >> np.uint64(11)).astype(float) + 0.5) / 2**53


def _normal(word: str, count: int) -> np.ndarray:
    from scipy.special import ndtri

    return ndtri(_even(word, count))
