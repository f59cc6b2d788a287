"""Parallel papers that are evenly hard: which family each place of each candidate's paper takes.

What a family's questions are worth to a just good enough candidate is taken from its results where there are 30 or
more, else from the judges, else from its level. A place whose families all have such results is drawn anew for each
candidate, and the mix is kept near the middle. A place with a family that is not yet known that well takes one
family for the whole class, with other values for each candidate: nobody's paper is harder by the luck of the draw.
Every draw comes from the class secret and the candidate's id, so nobody can foresee it.
"""

from __future__ import annotations

import json
import statistics
from collections.abc import Mapping
from pathlib import Path
from typing import NamedTuple

from rigcalc.errors import Refusal
from rigcalc.papers.blueprint import Blueprint, Place
from rigcalc.questions.draws import Stream

__all__ = ["BAND", "ENOUGH", "LEVEL_SHARES", "Spread", "class_spread", "choose_families", "expected_marks",
           "expected_share", "family_results", "fitting_families"]

ENOUGH = 30  # results of a family before they are taken for its difficulty
BAND = 1.0  # marks of 100 that a mix may lie from the middle of all mixes
TRIES = 60  # mixes drawn for one candidate before the nearest is taken
LEVEL_SHARES = {1: 0.85, 2: 0.70, 3: 0.55}  # house assumption where no judge and no result says better


class Spread(NamedTuple):
    """How far the expected marks of a class's papers lie apart, and on what the expectation rests."""

    marks: list[float]  # one a candidate
    from_results: int  # marks of the blueprint whose families all have results
    mixed_places: int  # places whose family is drawn for each candidate
    common_places: int  # places with a choice of families that take one for the whole class

    @property
    def lowest(self) -> float:
        return min(self.marks)

    @property
    def highest(self) -> float:
        return max(self.marks)

    @property
    def deviation(self) -> float:
        """The standard deviation over the papers (the papers are all there are, so it is divided by their number)."""
        return statistics.pstdev(self.marks)

    def in_words(self) -> list[str]:
        """The spread in plain sentences."""
        expected = (f"{self.lowest:.1f} of 100 on this one paper." if len(self.marks) == 1 else
                    f"from {self.lowest:.1f} to {self.highest:.1f} of 100 on these {len(self.marks)} papers, standard deviation {self.deviation:.1f}.")
        return [
            f"Expected marks of one and the same just good enough candidate: {expected}",
            f"{self.from_results} of the 100 marks rest on {ENOUGH} or more results a family; the rest is judged, by the "
            "blueprint's judges or by level.",
            f"Where several families ask the same skill at the same level, {_questions(self.mixed_places)} drawn for each candidate and "
            f"{_questions(self.common_places)} of one family for the whole class: before each family there has {ENOUGH} marked results, nobody knows "
            "whether they are equally hard. Values, options and order are each candidate's own.",
        ]


def _questions(count: int) -> str:
    return "1 question is" if count == 1 else f"{count} questions are"


def fitting_families(place: Place, families: Mapping, index: int = 0) -> list[str]:
    """The ids of the families that ask a place's skill at its level, in order of id; of those that it names, where it names any."""
    found = sorted(name for name, family in families.items()
                   if (family.skill, family.level) == (place.skill, place.level) and (not place.families or name in place.families))
    if not found:
        raise Refusal(f"the skill '{place.skill}' at level {place.level} (question {index + 1} of the blueprint)",
                      "a skill and level that a question family has", "add a family or change the blueprint")
    return found


def family_results(keys_dir, results_dir) -> dict[tuple[str, int], tuple[float, int]]:
    """(share right, how many results) of each (family, version) over all kept results; damaged files are left out."""
    sums: dict[tuple[str, int], tuple[float, int]] = {}
    for path in sorted(Path(results_dir).glob("p-*.json")):
        if ".earlier-" in path.name:
            continue
        try:
            result = json.loads(path.read_bytes())
            keys = json.loads((Path(keys_dir) / path.name).read_bytes())["keys"]
            family = {key["slot"]: (key["family"], key["version"]) for key in keys}
            rows = [(family[slot["slot"]], float(slot["right"])) for slot in result["slots"] if not slot.get("corrected")]
        except (OSError, ValueError, KeyError, TypeError):
            continue
        for name, right in rows:
            total, count = sums.get(name, (0.0, 0))
            sums[name] = total + right, count + 1
    return {name: (total / count, count) for name, (total, count) in sums.items()}


def expected_share(plan: Blueprint, index: int, family, known: Mapping) -> float:
    """The share of just good enough candidates expected to answer a family's question right, at a place."""
    share, count = known.get((family.id, family.version), (0.0, 0))
    if count >= ENOUGH:
        return share
    judged = [judge.judged[index] for judge in plan.cut.judge]
    return sum(judged) / len(judged) if judged else LEVEL_SHARES[plan.question[index].level]


def expected_marks(plan: Blueprint, chosen: list[str], families: Mapping, known: Mapping) -> float:
    """The marks expected on a paper with these families, one a place."""
    return sum(place.marks * expected_share(plan, index, families[name], known)
               for index, (place, name) in enumerate(zip(plan.question, chosen, strict=True)))


class _Group(NamedTuple):
    """The places of one skill and level (and named families), and the families to choose from; `marks` is each family's expectation there."""

    places: list[int]
    fitting: list[str]
    mixed: bool
    marks: dict[tuple[int, str], float]


def _groups(plan: Blueprint, families: Mapping, known: Mapping) -> list[_Group]:
    places: dict[tuple, list[int]] = {}
    for index, place in enumerate(plan.question):
        places.setdefault((place.skill, place.level, place.families), []).append(index)
    asking: dict[tuple[str, int], dict] = {asked[:2]: {} for asked in places}
    for name, family in families.items():
        if (family.skill, family.level) in asking:
            asking[family.skill, family.level][name] = family
    return [_group(plan, indexes, asking[asked[:2]], known) for asked, indexes in places.items()]


def _group(plan: Blueprint, indexes: list[int], families: Mapping, known: Mapping) -> _Group:
    fitting = fitting_families(plan.question[indexes[0]], families, indexes[0])
    sure = all(known.get((name, families[name].version), (0, 0))[1] >= ENOUGH for name in fitting)
    marks = {(index, name): plan.question[index].marks * expected_share(plan, index, families[name], known)
             for index in indexes for name in fitting}
    return _Group(indexes, fitting, sure and len(fitting) > 1, marks)


def _rows(groups: list[_Group], stream: Stream) -> dict[int, str]:
    """A family for each place of the groups; places of one group take different families as long as there are any."""
    chosen = {}
    for group in groups:
        row = stream.shuffled(group.fitting) if len(group.fitting) > 1 else group.fitting
        chosen |= {index: row[at % len(row)] for at, index in enumerate(group.places)}
    return chosen


def choose_families(plan: Blueprint, families: Mapping, class_id: str, candidate_id: str, secret: bytes,
                    known: Mapping | None = None) -> list[str]:
    """The family of each place of one candidate's paper.

    Parameters
    ----------
    known : mapping, optional
        (family, version) to (share right, number of results), as `family_results` gives it.
    """
    groups = _groups(plan, families, known or {})
    chosen = _rows([group for group in groups if not group.mixed], Stream(secret, f"families|{class_id}"))
    mixed = [group for group in groups if group.mixed]
    if mixed:
        chosen |= _even_mix(mixed, Stream(secret, f"families|{class_id}|{candidate_id}"))
    return [chosen[index] for index in range(len(plan.question))]


def _even_mix(groups: list[_Group], stream: Stream) -> dict[int, str]:
    """The first drawn mix within the band round the middle of all mixes, or the nearest of many."""
    middle = sum(sum(group.marks[index, name] for name in group.fitting) / len(group.fitting)
                 for group in groups for index in group.places)
    marks = {at: value for group in groups for at, value in group.marks.items()}
    nearest, off = {}, float("inf")
    for _ in range(TRIES):
        mix = _rows(groups, stream)
        away = abs(sum(marks[at] for at in mix.items()) - middle)
        if away < off:
            nearest, off = mix, away
        if off <= BAND:
            break
    return nearest


def class_spread(plan: Blueprint, families: Mapping, class_id: str, candidates: list[str], secret: bytes,
                 known: Mapping | None = None) -> Spread:
    """How evenly hard the papers of a class will be, before they are set."""
    known = known or {}
    groups = _groups(plan, families, known)
    marks = [expected_marks(plan, choose_families(plan, families, class_id, one, secret, known), families, known)
             for one in candidates]
    sure = sum(plan.question[index].marks for group in groups for index in group.places
               if all(known.get((name, families[name].version), (0, 0))[1] >= ENOUGH for name in group.fitting))
    return Spread(marks, sure, sum(len(group.places) for group in groups if group.mixed),
                  sum(len(group.places) for group in groups if not group.mixed and len(group.fitting) > 1))
