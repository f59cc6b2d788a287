"""How good is the quiz? From kept results and their key records: the paper as a whole, its places, its families.

Papers are parallel: at one place, candidates may have had different families. So two tables are used. The paper's
own figures (alpha, standard error, consistency) come from people x places, which has no gaps. A family's figures come
from those who had it: right or not against the rest of the same person's marks, whichever families the rest was.
Answers that were corrected after marking count for the paper, not for the family; marks of a struck question, which nobody
earned, count for no place either.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterable
from pathlib import Path
from typing import NamedTuple

from rigcalc.errors import Refusal
from rigcalc.papers import statistics
from rigcalc.papers.balance import ENOUGH
from rigcalc.papers.results import not_read
from rigcalc.questions.typed import slips_of

__all__ = ["Answered", "FamilyResult", "PlaceResult", "Quality", "Sitting", "blueprints_of", "kept_sittings", "quality", "sitting_of"]

MISLED = 5  # people who took one misstep before their marks are compared (house assumption)


class Answered(NamedTuple):
    """One marked answer with what its key says of the question."""

    place: int
    skill: str
    family: str
    version: int
    must_be_right: bool
    weight: int
    right: bool
    marks: float
    missteps: tuple[str, ...]
    known: tuple[str, ...]  # the missteps that could be taken
    empty: bool
    corrected: bool
    struck: bool = False
    unread: bool = False  # could not be read, and shows no misstep


class Sitting(NamedTuple):
    """One marked paper, without the person."""

    paper_id: str
    class_id: str
    blueprint: tuple[str, int]
    issued_at: str
    score: float
    out_of: int
    cut: int
    passed: bool
    missed: bool  # a must-be-right question
    answers: tuple[Answered, ...]  # by place


class FamilyResult(NamedTuple):
    """What is known of a family's questions; `item_rest` is None where there is none."""

    family: str
    version: int
    skill: str
    must_be_right: bool
    asked: int
    right: int
    interval: tuple[float, float]
    item_rest: float | None
    item_rest_interval: tuple[float, float] | None
    missteps: Counter
    other_wrong: int
    empty: int
    never: tuple[str, ...]
    misleading: tuple[str, ...]  # missteps whose takers have more marks on the rest than those who were right
    papers: int
    classes: int
    last: str
    not_read: int = 0


class PlaceResult(NamedTuple):
    """What is known of a place of the paper, whichever families stood there."""

    place: int
    skill: str
    share: float | None  # of its marks; None where the question was struck for all
    item_rest: float | None
    families: dict[str, tuple[int, int]]  # family to (right, asked)


class Quality(NamedTuple):
    """How good the quiz is, as far as these papers tell."""

    blueprint: tuple[str, int]
    papers: int
    classes: int
    out_of: int
    cut: int
    scores: tuple[float, ...]
    missed: tuple[bool, ...]
    passed: int
    mean: float
    deviation: float | None
    alpha: statistics.Alpha
    is_kr_20: bool
    error: float | None
    consistency: statistics.Consistency | None
    moves: tuple[tuple[int, int], ...]  # (cut, how many would pass)
    places: tuple[PlaceResult, ...]
    families: tuple[FamilyResult, ...]
    expected: tuple[float, ...]  # marks a middling person of these would expect on each paper


def sitting_of(result: dict, record: dict) -> Sitting:
    """A kept result with its key record, as this page needs it."""
    keys = {key["slot"]: key for key in record["keys"]}
    answers = sorted(_answered(slot, keys[slot["slot"]]) for slot in result["slots"])
    return Sitting(result["paper_id"], result["class"], (result["blueprint"]["id"], result["blueprint"]["version"]),
                   record["issued_at"], float(result["score"]), result["out_of"], result["cut"]["marks"], result["passed"],
                   bool(result["must_be_right_missed"]), tuple(answers))


def _answered(slot: dict, key: dict) -> Answered:
    return Answered(slot["place"], slot["skill"], key["family"], key["version"], slot["must_be_right"], slot["weight"],
                    slot["right"], float(slot.get("marks", slot["weight"] * slot["right"])), tuple(slot["missteps"]),
                    tuple(name for name, _, _ in slips_of(key)), slot["typed"] is None, bool(slot.get("corrected")),
                    bool(slot.get("struck")), not_read(slot))


def kept_sittings(keys_dir, results_dir, papers: Iterable[str] | None = None) -> tuple[list[Sitting], list[str]]:
    """The kept results (of some papers, else all), and the names of files that cannot be read."""
    wanted = None if papers is None else set(papers)
    found, damaged = [], []
    for path in sorted(Path(results_dir).glob("p-*.json")):
        if ".earlier-" in path.name or wanted is not None and path.stem not in wanted:
            continue
        try:
            found.append(sitting_of(json.loads(path.read_bytes()), json.loads((Path(keys_dir) / path.name).read_bytes())))
        except (OSError, ValueError, KeyError, TypeError):
            damaged.append(path.name)
    return found, damaged


def blueprints_of(sittings: Iterable[Sitting]) -> dict[tuple[str, int], int]:
    """How many papers there are of each blueprint and version, most first."""
    return dict(Counter(one.blueprint for one in sittings).most_common())


def quality(sittings: list[Sitting], blueprint: tuple[str, int] | None = None) -> Quality:
    """All figures of the papers of one blueprint and version.

    Raises
    ------
    Refusal
        No papers, or papers of several blueprints and none chosen: their marks are not marks of one paper.
    """
    there = blueprints_of(sittings)
    if blueprint is None and len(there) > 1:
        raise Refusal(f"papers of {len(there)} blueprints together", "papers of one blueprint and version", "choose one")
    chosen = [one for one in sittings if blueprint in (None, one.blueprint)]
    if not chosen:
        raise Refusal("no marked paper", "one or more marked papers of one blueprint and version", "mark what was handed in first")
    if len({(one.cut, tuple((row.place, row.weight) for row in one.answers)) for one in chosen}) > 1:
        raise Refusal("papers whose places, marks or cut differ under one version of the blueprint", "one blueprint under one version",
                      "give a changed blueprint a new version")
    return _quality(chosen)


def _quality(chosen: list[Sitting]) -> Quality:
    table = [[row.marks for row in one.answers] for one in chosen]
    items, whole = statistics.item_statistics(table), statistics.alpha(table)
    first, scores = chosen[0], tuple(one.score for one in chosen)
    sound = whole.value is not None and 0 <= whole.value < 1
    families = _families(chosen)
    return Quality(
        first.blueprint, len(chosen), len({one.class_id for one in chosen}), first.out_of, first.cut, scores,
        tuple(one.missed for one in chosen), sum(one.passed for one in chosen), sum(scores) / len(scores), items.deviation, whole,
        len({row.weight for row in first.answers}) == 1 and all(mark in (0, first.answers[0].weight) for row in table for mark in row),
        statistics.standard_error(items.deviation, whole.value) if sound else None,
        _consistency(scores, first, whole.value) if sound else None, _moves(chosen),
        _places(chosen, items), families, _expected(chosen, families))


def _consistency(scores: tuple, first: Sitting, reliability: float) -> statistics.Consistency | None:
    try:
        return statistics.consistency(scores, first.cut, first.out_of, reliability)
    except Refusal:  # so few differences that no length fits
        return None


def _moves(chosen: list[Sitting]) -> tuple[tuple[int, int], ...]:
    """How many would pass at each cut within ten marks of the one in force; a must-be-right question missed still fails."""
    cut, standing = chosen[0].cut, [one.score for one in chosen if not one.missed]
    return tuple((at, sum(score >= at for score in standing))
                 for at in range(max(0, cut - 10), min(chosen[0].out_of, cut + 10) + 1))


def _places(chosen: list[Sitting], items: statistics.Items) -> tuple[PlaceResult, ...]:
    found = []
    for at, row in enumerate(chosen[0].answers):
        families: dict[str, list[int]] = {}
        earned = [(one.answers[at], one.score - one.answers[at].marks) for one in chosen if not one.answers[at].struck]
        for answer, _ in earned:
            kept = families.setdefault(answer.family, [0, 0])
            kept[0] += answer.right
            kept[1] += 1
        share = sum(answer.marks for answer, _ in earned) / len(earned) / row.weight if earned else None
        rest = float(items.item_rest[at]) if len(earned) == len(chosen) else _item_rest([answer.marks for answer, _ in earned], [rest for _, rest in earned])
        found.append(PlaceResult(row.place, row.skill, share, None if rest is None or rest != rest else rest,
                                 {name: (right, asked) for name, (right, asked) in sorted(families.items())}))
    return tuple(found)


def _families(chosen: list[Sitting]) -> tuple[FamilyResult, ...]:
    rows: dict[tuple[str, int], list[tuple[Sitting, Answered]]] = {}
    for one in chosen:
        for row in one.answers:
            rows.setdefault((row.family, row.version), []).append((one, row))
    return tuple(_family(*name, had) for name, had in sorted(rows.items()))


def _family(family: str, version: int, had: list[tuple[Sitting, Answered]]) -> FamilyResult:
    counted = [(row, one.score - row.marks) for one, row in had if not row.corrected]
    right, asked = sum(row.right for row, _ in counted), len(counted)
    taken = Counter(name for row, _ in counted for name in row.missteps)
    known = {name for row, _ in counted for name in row.known}
    rest = _item_rest([float(row.right) for row, _ in counted], [rest for _, rest in counted])
    return FamilyResult(
        family, version, had[0][1].skill, any(row.must_be_right for _, row in had), asked, right,
        statistics.share_interval(right, asked) if asked else (0.0, 1.0), rest,
        None if rest is None else statistics.correlation_interval(rest, asked), taken,
        sum(not (row.right or row.empty or row.missteps or row.unread) for row, _ in counted), sum(row.empty for row, _ in counted),
        tuple(sorted(known - set(taken))), _misleading(counted, taken), len({one.paper_id for one, _ in had}),
        len({one.class_id for one, _ in had}), max(one.issued_at for one, _ in had)[:10], sum(row.unread for row, _ in counted))


def _item_rest(item: list[float], rest: list[float]) -> float | None:
    if len(item) < 3:
        return None
    both = statistics.item_statistics([list(pair) for pair in zip(item, rest, strict=True)])
    found = float(both.item_rest[0])  # of two columns, each is the other's rest
    return None if found != found else found


def _misleading(counted: list[tuple[Answered, float]], taken: Counter) -> tuple[str, ...]:
    of_right = [rest for row, rest in counted if row.right]
    if len(of_right) < MISLED:
        return ()
    usual = sum(of_right) / len(of_right)
    return tuple(name for name, count in sorted(taken.items()) if count >= MISLED
                 and sum(rest for row, rest in counted if name in row.missteps) / count > usual)


def _expected(chosen: list[Sitting], families: tuple[FamilyResult, ...]) -> tuple[float, ...]:
    """The marks expected on each paper of somebody like all of these, by its families' shares where there are enough results."""
    share = {(one.family, one.version): one.right / one.asked for one in families if one.asked >= ENOUGH}
    places = [sum(one.answers[at].right for one in chosen) / len(chosen) for at in range(len(chosen[0].answers))]
    return tuple(sum(row.weight * share.get((row.family, row.version), place) for row, place in zip(one.answers, places, strict=True))
                 for one in chosen)
