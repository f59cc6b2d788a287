"""Parallel papers are evenly hard: simulated with families whose difficulty is drawn from 0.3 to 0.95, not set by level."""

from __future__ import annotations

import statistics
from types import SimpleNamespace

import pytest

from many import many
from papers import a_class
from rigcalc.papers.balance import (ENOUGH, Spread, class_spread, choose_families, expected_marks, family_results, fitting_families)
from rigcalc.papers.blueprint import Blueprint, Cut, Place, load_blueprint
from rigcalc.papers.marking import mark_returned
from rigcalc.questions import Stream, load_families

CANDIDATES = [f"c{number}" for number in range(200)]
MOST_SPREAD = 2.0  # percentage points between parallel papers


def forty_places() -> Blueprint:
    return Blueprint(form=1, id="forty", version=1, title="Forty", minutes=90, book="closed", allowed="nothing.",
                     calculator=True, partial_credit="none", cut=Cut(70, "one named person", "A", "2026-01-01", "so"),
                     question=[Place(f"skill-{number // 2}", 1, 2 + number % 2) for number in range(40)])


def families_of(plan: Blueprint, each: int) -> dict:
    skills = {(place.skill, place.level) for place in plan.question}
    return {f"{skill}-{number}": SimpleNamespace(id=f"{skill}-{number}", version=1, skill=skill, level=level)
            for skill, level in sorted(skills) for number in range(each)}


def true_shares(families: dict, world: int) -> dict[str, float]:
    """Each family's difficulty, from 0.3 to 0.95, whatever its level."""
    stream = Stream(b"difficulties of a simulated world", str(world))
    return {name: 0.3 + 0.65 * stream.below(10_001) / 10_000 for name in families}


def seen(shares: dict[str, float], results: int, world: int = 0) -> dict:
    """What so many results would show of each family (each answer drawn)."""
    found = {}
    for name, share in shares.items():
        stream = Stream(b"answers of a simulated world", f"{world}|{name}")
        found[name, 1] = sum(stream.below(1_000_000) < share * 1_000_000 for _ in range(results)) / results, results
    return found


def deviation(plan, families, shares, known, secret=a_class.SECRET) -> float:
    """The standard deviation of what one candidate may expect, over many parallel papers of a class."""
    exactly = {(name, 1): (share, 10**6) for name, share in shares.items()}
    return statistics.pstdev(expected_marks(plan, choose_families(plan, families, "spring", one, secret, known), families, exactly)
                             for one in CANDIDATES)


@pytest.mark.parametrize("each", [2, 3, 5])
@pytest.mark.parametrize("results", [0, 29, 30, 300])
def test_the_spread_between_parallel_papers_stays_small_whatever_is_known(each, results):
    plan = forty_places()
    families = families_of(plan, each)
    found = []
    for world in range(many(3, 6)):
        shares = true_shares(families, world)
        found.append(deviation(plan, families, shares, seen(shares, results, world) if results else {}))
    assert max(found) <= MOST_SPREAD, found


def test_half_of_the_families_known_is_no_harder_for_anybody():
    plan = forty_places()
    families = families_of(plan, 3)
    for world in range(6):
        shares = true_shares(families, world)
        known = dict(list(seen(shares, 60, world).items())[::2])
        assert deviation(plan, families, shares, known) <= MOST_SPREAD


def test_papers_drawn_without_looking_would_spread_too_far():
    """The bar can fail: the same families drawn for each candidate by themselves lie further apart than allowed."""
    plan = forty_places()
    families = families_of(plan, 3)
    shares = true_shares(families, 0)
    exactly = {(name, 1): (share, 10**6) for name, share in shares.items()}
    blind = statistics.pstdev(
        expected_marks(plan, [Stream(a_class.SECRET, f"{one}|{index}").pick(fitting_families(place, families))
                              for index, place in enumerate(plan.question)], families, exactly) for one in CANDIDATES)
    assert blind > MOST_SPREAD


def test_the_full_blueprint_with_the_families_that_ship():
    families = load_families()
    plan = load_blueprint("full", families)
    for world in range(4):
        shares = true_shares(families, world)
        known = {(name, families[name].version): value for (name, _), value in seen(shares, 40, world).items()}
        exactly = {(name, families[name].version): (share, 10**6) for name, share in shares.items()}
        for facts in ({}, known):
            marks = [expected_marks(plan, choose_families(plan, families, "spring", one, a_class.SECRET, facts), families, exactly)
                     for one in CANDIDATES]
            assert statistics.pstdev(marks) <= MOST_SPREAD
        years = [expected_marks(plan, choose_families(plan, families, f"class-{one}", one, a_class.SECRET, known), families, exactly)
                 for one in CANDIDATES]  # each candidate in a class of another year
        assert statistics.pstdev(years) <= MOST_SPREAD


def test_every_family_is_still_drawn_and_both_places_of_a_skill_differ():
    plan = forty_places()
    families = families_of(plan, 3)
    known = seen(true_shares(families, 0), 100)
    papers = [choose_families(plan, families, "spring", one, a_class.SECRET, known) for one in CANDIDATES]
    for index in range(len(plan.question)):
        drawn = [paper[index] for paper in papers]
        assert all(drawn.count(name) >= len(papers) / 3 * 0.5 for name in set(drawn)) and len(set(drawn)) == 3
    assert all(paper[at] != paper[at + 1] for paper in papers for at in range(0, 40, 2))


def test_the_choice_depends_on_secret_class_and_candidate_and_on_nothing_else():
    plan = forty_places()
    families = families_of(plan, 3)
    known = seen(true_shares(families, 0), 100)
    one = choose_families(plan, families, "spring", "c1", a_class.SECRET, known)
    assert choose_families(plan, dict(reversed(families.items())), "spring", "c1", a_class.SECRET, known) == one
    for other in (choose_families(plan, families, "spring", "c2", a_class.SECRET, known),
                  choose_families(plan, families, "autumn", "c1", a_class.SECRET, known),
                  choose_families(plan, families, "spring", "c1", bytes(32), known)):
        assert 2 <= sum(a == b for a, b in zip(one, other)) <= 26  # of 40, one in three by chance


def test_the_spread_says_what_it_rests_on():
    plan = forty_places()
    families = families_of(plan, 3)
    spread = class_spread(plan, families, "spring", CANDIDATES[:12], a_class.SECRET)
    assert (spread.deviation, spread.mixed_places, spread.common_places, spread.from_results) == (0, 0, 40, 0)
    known = seen(true_shares(families, 0), 100)
    spread = class_spread(plan, families, "spring", CANDIDATES[:12], a_class.SECRET, known)
    assert spread.mixed_places == 40 and spread.from_results == 100 and 0 < spread.deviation <= 1
    assert "standard deviation" in spread.in_words()[0] and spread.highest - spread.lowest <= 2


def test_results_are_counted_by_family_and_version(held, tmp_path):
    from papers.test_marking import hand_in

    hand_in(held, a_class.right_answers(held))
    hand_in(held, a_class.wrong_answers(held, 1), 1)
    mark_returned(held.returned, held.keys, tmp_path / "results", a_class.NOW)
    assert ENOUGH == 30
    found = family_results(held.keys, tmp_path / "results")
    assert found and all(value == (0.5, 2) for value in found.values())
    assert {name for name, _ in found} == set(a_class.three_families())
    (tmp_path / "results" / "p-broken.json").write_text("{")
    assert family_results(held.keys, tmp_path / "results") == found


def test_a_paper_issued_again_keeps_its_families_whatever_results_came_in(tmp_path):
    families = {**a_class.three_families()}
    twin = families["limit-of-an-eye"]
    import dataclasses

    import msgspec
    change = msgspec.structs.replace if isinstance(twin, msgspec.Struct) else dataclasses.replace
    families["limit-of-an-eye-twin"] = change(twin, id="limit-of-an-eye-twin")
    first = a_class.set_class(tmp_path, families=families)
    known = {(name, family.version): (0.9 if "twin" in name else 0.3, 100) for name, family in families.items()}
    again = a_class.set_class(tmp_path, families=families, known=known)
    assert [one.key_sha256 for one in first.issued] == [one.key_sha256 for one in again.issued]


def test_the_spread_of_one_paper_and_of_two_is_said_in_plain_words():
    one, two = Spread([70.8], 0, 1, 7).in_words(), Spread([70.0, 71.0], 0, 2, 1).in_words()
    assert one[0].endswith("candidate: 70.8 of 100 on this one paper.") and "from 70.0 to 71.0 of 100 on these 2 papers" in two[0]
    assert "1 question is drawn for each candidate and 7 questions are of one family for the whole class" in one[2]
    assert f"has {ENOUGH} marked results, nobody knows" in one[2]
