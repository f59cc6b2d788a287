"""What is said of a quiz: counted by hand on made-up papers, and on papers that were set and marked."""

import json
import xml.etree.ElementTree as ET

import pytest

from rigcalc.cli import main
from rigcalc.errors import Refusal
from rigcalc.papers import quality_words as words
from rigcalc.papers.marking import mark_returned
from rigcalc.papers.quality import Answered, Sitting, kept_sittings, quality
from rigcalc.papers.quality_figures import cut_figure, families_figure, marks_figure

from papers import a_class
from papers.test_marking import hand_in

WEIGHTS = (30, 30, 20, 20)


def answer(place, right, family=None, misstep="", must=False, corrected=False, empty=False):
    worth = WEIGHTS[place - 1]
    return Answered(place, f"skill-{place}", family or f"family-{place}", 1, must, worth, right, float(worth * right), (misstep,) if misstep else (),
                    ("left-out", "taken-twice"), empty, corrected)


def paper(number, rights, cut=60, **changes):
    """A made-up paper: which of four places are right; `changes` are answers by place, such as at_2."""
    answers = tuple(changes.get(f"at_{place}") or answer(place, right) for place, right in enumerate(rights, 1))
    score = sum(one.marks for one in answers)
    missed = any(one.must_be_right and not one.right for one in answers)
    return Sitting(f"p-{number}", f"class-{number % 3}", ("made", 1), f"2031-04-{1 + number % 28:02d}T09:00:00+00:00", score, 100, cut,
                   score >= cut and not missed, missed, answers)


def strong_and_weak(count=40, strong=(1, 1, 1, 0), weak=(0, 0, 1, 1)):
    """Half of them strong. Place 3 all get right; place 4 the strong miss."""
    return [paper(number, strong if number % 2 else weak) for number in range(count)]


def said(found, family):
    return next(one for one in words.verdicts(found) if one.family.family == family)


def test_verdicts_in_plain_words():
    found = quality(strong_and_weak())
    retire, key, tells = (said(found, f"family-{place}") for place in (3, 4, 1))
    assert retire.look == 2 and "nobody gets this wrong: retire it" in retire.said[0] and "40 of 40" in retire.said[0]
    assert key.look == 2 and "The strong miss it: check the key" in key.said[0]
    assert tells.look == 0 and "The strong get it right more often" in tells.said[0]
    assert retire.family.item_rest is None and key.family.item_rest == pytest.approx(-1)
    nobody = quality(strong_and_weak(strong=(1, 1, 0, 0), weak=(0, 1, 0, 1)))
    assert "nobody gets this right: check the key" in said(nobody, "family-3").said[0]


def test_marks_of_a_struck_question_are_not_counted_as_earned_at_its_place():
    """Two got the free marks, two were asked another question of the place and missed it: nobody earned any."""
    free = answer(3, True, family="struck-one", corrected=True)._replace(struck=True)
    found = quality([paper(1, (1, 0, 1, 1), at_3=free), paper(2, (0, 0, 1, 1), at_3=free), paper(3, (1, 0, 0, 1)), paper(4, (0, 1, 0, 1))])
    place = found.places[2]
    assert place.share == 0 and place.families == {"family-3": (0, 2)} and "0 in 100 of its marks" in words.place_words(place)
    assert found.places[0].share == 0.5 and found.places[0].families == {"family-1": (2, 4)}
    everybody = quality([paper(number, (1, 0, 1, 1), at_3=free) for number in range(3)]).places[2]
    assert everybody.share is None and everybody.families == {} and words.place_words(everybody) == "struck for everybody: nothing is said of it."


def test_nobody_wrong_is_as_it_should_be_where_it_must_be_right():
    found = quality([paper(n, (n % 2, 1, 1, 0), at_3=answer(3, True, must=True)) for n in range(30)])
    assert said(found, "family-3").look == 0 and "as it should be" in said(found, "family-3").said[0]
    assert any("Must-be-right" in line for line in words.cannot_be_concluded(found))


@pytest.mark.parametrize("count, verdict", [(29, False), (30, True)])
def test_below_thirty_results_no_verdict(count, verdict):
    found = quality(strong_and_weak(count))
    assert all((one.look == -1) != verdict for one in words.verdicts(found))
    text = words.quality_text(found)
    assert ("4 families with fewer than 30 results" in text) != verdict and ("retire it" in text) == verdict and ("check the key" in text) == verdict
    assert ("4 of 4 families have fewer than 30 results" in text) != verdict
    assert (families_figure(found) is None) != verdict
    assert ("not shown below 30 papers" in text) != verdict and ("none, as nothing varies" in text) == verdict


def test_what_could_not_be_read_is_no_sign_of_a_missing_misstep():
    rows = [paper(n, (n % 2, 0, 1, 1), at_2=answer(2, False)._replace(unread=n < 9)) for n in range(40)]
    one = said(quality(rows), "family-2")
    assert (one.family.not_read, one.family.other_wrong) == (9, 31)
    assert "Not read, with unit or form missing: 9;" in " ".join(one.said) and "31 were wrong in a way no misstep names" in " ".join(one.said)


def test_missteps_taken_never_taken_and_misleading_ones_are_told():
    rows = strong_and_weak(30)
    rows += [paper(100 + n, (1, 1, 1, 0), at_2=answer(2, False, misstep="left-out")) for n in range(6)]
    found = quality(rows)
    one = said(found, "family-2")
    assert one.family.missteps == {"left-out": 6} and one.family.never == ("taken-twice",) and one.family.other_wrong == 15
    assert "left-out 6" in " ".join(one.said) and "Nobody took 'taken-twice'" in " ".join(one.said)
    assert not one.family.misleading  # rest of the right ones 50 of 15 people, of the six 50: not more
    strong = [paper(200 + n, (1, 1, 1, 1), at_2=answer(2, False, misstep="left-out")) for n in range(6)]
    assert said(quality(strong_and_weak(30) + strong), "family-2").family.misleading == ("left-out",)
    empty = [paper(n, (n % 2, 0, 1, 1), at_2=answer(2, False, empty=n < 9)) for n in range(40)]
    assert "9 of 40 left it empty" in " ".join(said(quality(empty), "family-2").said)


def test_families_of_one_place_are_counted_apart_and_the_rest_needs_no_common_families():
    rows = [paper(n, (n % 2, n % 2, 1, 0), at_1=answer(1, bool(n % 2), family=f"a-{n % 4 // 2}")) for n in range(120)]
    found = quality(rows)
    first, second = (next(one for one in found.families if one.family == name) for name in ("a-0", "a-1"))
    assert first.asked == second.asked == 60 and first.item_rest == pytest.approx(1) and len(found.places) == 4
    assert found.places[0].families == {"a-0": (30, 60), "a-1": (30, 60)}
    assert "At 1 of 4 places" in words.between_papers(found)[0]
    assert any("different families at some places" in line for line in words.cannot_be_concluded(found))
    assert "All papers had the same families" in words.between_papers(quality(strong_and_weak()))[0]


def test_expected_marks_follow_the_families_where_there_are_results():
    # by hand: family easy 40 of 40 and hard 10 of 40 right at 30 marks; the other places 30, 20 and 0 marks for all: 80 and 57.5
    rows = [paper(n, (1, 1, 1, 0), at_1=answer(1, True, family="easy")) for n in range(40)]
    rows += [paper(40 + n, (0, 1, 1, 0), at_1=answer(1, n < 10, family="hard")) for n in range(40)]
    assert sorted(set(quality(rows).expected)) == pytest.approx([57.5, 80])


def test_moving_the_cut_counts_who_would_pass():
    rows = [paper(n, rights, cut=60) for n, rights in enumerate([(1, 1, 1, 1)] * 3 + [(1, 0, 1, 0)] * 2 + [(0, 1, 1, 1)] * 4 + [(0, 0, 0, 0)])]
    rows.append(paper(50, (1, 0, 1, 0), at_4=answer(4, False, must=True)))
    found = quality(rows)  # marks 100 x 3, 50 x 2 (and one that missed a must-be-right), 70 x 4, 0
    moves = dict(found.moves)
    assert (min(moves), max(moves)) == (50, 70) and (moves[50], moves[51], moves[60], moves[70]) == (9, 7, 7, 7)
    text = " ".join(words.at_the_cut(found))
    assert "at 50 marks, 2 papers more would pass" in text and "7 of 11 passed at 60 marks" in text
    stair = [paper(n, (1, 0, 1, 0)) for n in range(4)] + [paper(9, (1, 1, 0, 0), cut=60)] * 2
    both = " ".join(words.at_the_cut(quality([one._replace(score=one.score + n) for n, one in enumerate(stair)])))
    assert "at 59 marks" not in both and "at 53 marks, 1 paper more" in both and "at 50 marks, 4 papers more" in both
    assert "at 65 marks, 1 paper fewer" in both and "at 66 marks, 2 papers fewer" in both
    assert "change nobody's result" in " ".join(words.at_the_cut(quality(strong_and_weak())))


def test_corrected_answers_count_for_the_paper_and_not_for_the_family():
    rows = [paper(n, (n % 2, 1, 1, 0), at_4=answer(4, True, corrected=True)) for n in range(40)]
    found = quality(rows)
    four = next(one for one in found.families if one.family == "family-4")
    assert four.asked == 0 and four.papers == 40 and four.item_rest is None and found.mean == 85
    assert said(found, "family-4").look == -1 and "none counts" in said(found, "family-4").said[0]


def test_kr_20_is_named_only_where_it_is():
    assert "Cronbach's alpha" in words.the_paper(quality(strong_and_weak()))[1]
    alike = [one._replace(answers=tuple(row._replace(weight=25, marks=25.0 * row.right) for row in one.answers)) for one in
             strong_and_weak(strong=(1, 1, 1, 1), weak=(0, 1, 0, 0))]
    assert "KR-20" in words.the_paper(quality(alike))[1]


def test_what_cannot_be_worked_out_is_said_and_never_nought():
    one = quality([paper(1, (1, 0, 1, 0))])
    assert one.alpha.value is None and one.error is None and one.consistency is None
    assert "no reliability" in words.the_paper(one)[1]
    same = quality([paper(n, (1, 0, 1, 0)) for n in range(30)])
    assert same.alpha.value is None and "do not differ" in words.the_paper(same)[1]
    negative = quality([paper(n, (1, 0, 0, 0) if n % 2 else (0, 1, 1, 0)) for n in range(30)])
    assert negative.error is None and "no standard error" in " ".join(words.the_paper(negative))


@pytest.mark.parametrize("count, shown", [(3, False), (29, False), (30, True)])
def test_below_thirty_papers_no_figure_of_the_paper_is_shown(count, shown):
    found = quality(strong_and_weak(count, strong=(1, 1, 1, 1), weak=(0, 1, 0, 0)))
    text = words.quality_text(found)
    assert found.error is not None and found.consistency is not None  # they could be worked out
    for figure in ("Reliability (", "Standard error of measurement:", "lie within one standard error", "Decided alike"):
        assert (figure in text) == shown, figure
    assert ("Grey" in marks_figure(found).caption) == shown and ("standard error" in marks_figure(found).alt) == shown
    assert (text.count("it cannot be concluded whether the paper tells people apart") > 0) != shown


def test_papers_of_different_plans_are_not_put_together():
    other = strong_and_weak(3)
    with pytest.raises(Refusal, match="2 blueprints together"):
        quality([*other, other[0]._replace(blueprint=("made", 2))])
    assert quality([*other, other[0]._replace(blueprint=("made", 2))], ("made", 1)).papers == 3
    with pytest.raises(Refusal, match="differ under one version"):
        quality([*other, paper(9, (1, 1, 1, 1), cut=70)])
    with pytest.raises(Refusal, match="no marked paper"):
        quality([])


def test_drawings_say_in_words_what_they_show():
    found = quality(strong_and_weak())
    for figure in (marks_figure(found), cut_figure(found), families_figure(found)):
        assert ET.fromstring(figure.svg).tag.endswith("svg") and len(figure.alt) > 60
    assert "from 40 to 80" in marks_figure(found).alt and "20 papers reach it" in marks_figure(found).alt
    assert "family-3, 40 of 40" in families_figure(found).alt
    assert "&lt;" in families_figure(quality([one._replace(answers=(one.answers[0]._replace(family="<b>"), *one.answers[1:]))
                                              for one in strong_and_weak()])).svg


def test_exposure_is_counted_by_papers_and_classes():
    one = said(quality(strong_and_weak()), "family-1").family
    assert words.exposure(one) == "on 40 papers of 3 classes, last issued 2031-04-28"


@pytest.fixture
def marked(held):
    hand_in(held, a_class.right_answers(held))
    hand_in(held, a_class.wrong_answers(held, 1), 1)
    mark_returned(held.returned, held.keys, held.desk / "results")
    return held


def test_kept_results_are_read_with_their_keys_and_damaged_ones_named(marked):
    found, damaged = kept_sittings(marked.keys, marked.desk / "results")
    assert not damaged and sorted(one.score for one in found) == [0, 100]
    told = quality(found)
    assert {one.family for one in told.families} == set(a_class.three_families()) and all(one.asked == 2 for one in told.families)
    (marked.desk / "results" / f"{marked.issued[0].paper_id}.json").write_bytes(b"{")
    (marked.keys / f"{marked.issued[1].paper_id}.json").unlink()
    assert kept_sittings(marked.keys, marked.desk / "results") == ([], sorted(f"{one.paper_id}.json" for one in marked.issued))


def test_earlier_results_kept_beside_are_not_counted_again(marked):
    path = marked.desk / "results" / f"{marked.issued[0].paper_id}.json"
    old = json.loads(path.read_bytes())
    path.with_name(f"{marked.issued[0].paper_id}.earlier-0123456789ab.json").write_text(json.dumps(old))
    assert len(kept_sittings(marked.keys, marked.desk / "results")[0]) == 2


def test_the_command_prints_it_and_refuses_what_is_not_there(marked, capsys):
    folders = ["--results", str(marked.desk / "results"), "--keys", str(marked.keys)]
    assert main(["quiz", *folders]) == 0
    told = capsys.readouterr().out
    assert "2 papers of 1 class" in told and "What cannot be concluded" in told and "Tomo" not in told
    assert main(["quiz", *folders, "--blueprint", "none-1"]) == 2 and "short-1" in capsys.readouterr().err
    assert main(["quiz", *folders, "--class", "autumn"]) == 2
