"""Simulated candidates of known ability: decisions near and far from the cut, and papers evenly hard."""

import msgspec
import numpy as np
import pytest

from rigcalc.cli import main
from rigcalc.errors import Refusal
from rigcalc.papers import simulation
from rigcalc.papers.blueprint import load_blueprint
from rigcalc.papers.simulation import simulate
from rigcalc.questions import load_families


@pytest.fixture(scope="module")
def families():
    return load_families()


@pytest.fixture(scope="module")
def full(families):
    return simulate(load_blueprint("full", families), families, 6000, 60, "test")


def test_most_are_decided_rightly_and_doubt_lies_within_one_standard_error(full):
    assert full.right_outside > 0.94 and 0.55 < full.right_inside < 0.80 and full.worst_outside < 0.10
    inside = full.inside / full.candidates
    assert full.right == pytest.approx(inside * full.right_inside + (1 - inside) * full.right_outside, abs=1e-12)


def test_the_worse_side_is_said_plainly(full):
    said = next(line for line in full.in_words() if line.startswith("More than one standard error above the cut"))
    assert said.endswith(f"or as far below it, whichever goes wrong more often: {100 * full.worst_outside:.1f} in 100 are decided wrongly.")


def test_the_standard_error_worked_out_from_answers_is_the_true_one(full):
    assert full.error_from_alpha == pytest.approx(full.error, rel=0.1)


def test_parallel_papers_are_evenly_hard_whatever_the_levels(full):
    assert full.paper_spread <= 2


def test_a_short_paper_decides_worse(full, families):
    narrow = simulate(load_blueprint("narrow", families), families, 4000, 40, "test")
    assert narrow.error > full.error and narrow.right < full.right


def test_the_same_word_gives_the_same_and_another_gives_another(families):
    plan = load_blueprint("narrow", families)
    one, again, other = (simulate(plan, families, 300, 10, word) for word in ("a", "a", "b"))
    assert one == again and one.right != other.right


def test_a_candidates_own_level_is_what_many_papers_give(families):
    # independent path: mean score of 4,000 candidates of one ability on papers drawn at random, against the level; 4 standard errors
    plan = load_blueprint("narrow", families)
    model = simulation._Model(plan, families, "level")
    ability, rng = model.ability_of(70), np.random.default_rng(20310501)
    assert model.level(ability) == pytest.approx(70, abs=1e-6)
    easy = np.array([[model.easy[row[rng.integers(len(row))]] for row in model.fitting] for _ in range(4000)])
    scores = (rng.random(easy.shape) < 1 / (1 + np.exp(-(easy + ability)))) @ model.weights
    assert scores.mean() == pytest.approx(70, abs=4 * scores.std() / 4000**0.5)


def test_the_draws_are_even_and_normal():
    even, normal = simulation._even("word", 40_000), simulation._normal("word", 40_000)
    assert 0 < even.min() and even.max() < 1 and even.mean() == pytest.approx(0.5, abs=0.01)
    assert np.histogram(even, 10, (0, 1))[0].min() > 3700
    assert (normal.mean(), normal.std()) == pytest.approx((0, 1), abs=0.02)


def test_the_command_says_that_it_is_a_model_and_refuses_few(capsys):
    assert main(["simulate", "--blueprint", "narrow", "--candidates", "200", "--papers", "5"]) == 0
    assert "It says nothing of your people" in capsys.readouterr().out
    assert main(["simulate", "--candidates", "99"]) == 2
    with pytest.raises(Refusal):
        simulate(load_blueprint("narrow"), {}, 100, 101)


def test_a_plan_so_short_that_its_marks_do_not_hang_together_still_says_how_it_decides(families):
    plan = load_blueprint("narrow", families)
    short = msgspec.structs.replace(plan, question=[msgspec.structs.replace(plan.question[0], marks=50)] * 2)
    marks = simulate(short, families, 500, 10, "test")
    assert 0.5 < marks.right <= 1 and marks.error_from_alpha > 0 and marks.in_words()
