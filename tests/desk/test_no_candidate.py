"""Who sits a paper of a class does nothing else for it: sets, types in, marks, puts right, agrees, assesses, decides, answers for nothing."""

import pytest

from rigcalc.desk import work
from rigcalc.desk.persons import maybe_same
from rigcalc.errors import Refusal

from .bench_of_two import DECLARED, ROSTER, all_shown
from .test_correcting import plain_row


def test_no_candidate_of_the_class_has_another_hand_in_it(desk):
    class_id = all_shown(desk)
    new = work.set_class(desk, "Winter", ROSTER, "Ines Varrow")
    other = work.paper_of(desk, class_id, "c02")
    slot, key = plain_row(desk, class_id)
    work.decide(desk, class_id, "c01", "competent", "Bettan Roole", "All shown.", DECLARED)
    number = work.certify(desk, class_id, "c01")["statement"]["number"]
    acts = [
        lambda name: work.set_class(desk, "Autumn", ROSTER, name),
        lambda name: work.set_papers(desk, new, name),
        lambda name: work.give_more_time(desk, class_id, other, 5, name, "The lamp failed."),
        lambda name: work.type_sheet(desk, other, {}, name),
        lambda name: work.mark_papers(desk, class_id, name),
        lambda name: work.look_at_correction(desk, class_id, "struck", key["family"], name, "Pale drawing."),
        lambda name: work.look_at_correction(desk, class_id, "struck", key["family"], "Ines Varrow", "Pale drawing.", second=name),
        lambda name: work.decide_appeal(desk, class_id, "c01", slot["slot"], "the mark stands", name, "So.", "I wrote it."),
        lambda name: work.keep_set(desk, class_id, "box", "", name),
        lambda name: work.open_bench(desk, class_id, ["c01"], name, "LB"),
        lambda name: work.decide(desk, class_id, "c01", "not yet", name, "So.", DECLARED),
        lambda name: work.change_standing(desk, number, "withdrawn", name, "So.")]
    before = len(desk.register.entries())
    for act in acts:
        for name in ("Dela Orrin", "orrin, d."):
            with pytest.raises(Refusal, match="Dela Orrin, a candidate of this class|orrin, d., who may be Dela Orrin, a candidate of this class"):
                act(name)
    assert len(desk.register.entries()) == before and not work.typings(desk, other)


def test_no_candidate_settles_a_sheet_that_was_typed_in(desk):
    class_id = all_shown(desk)
    other = work.paper_of(desk, class_id, "c02")
    choice = next(one["slot"] for one in work.question_paper(desk, other)["questions"] if one["kind"] == "one choice")
    for typed, by in (("A", "Osk Tamberlin"), ("B", "Bettan Roole")):
        work.type_sheet(desk, other, {choice: typed}, by)
    with pytest.raises(Refusal, match="Tomo Kessig, a candidate of this class"):
        work.hand_in_typed(desk, other, {choice: "A"}, "Tomo Kessig", alone="nobody else was in")


@pytest.mark.parametrize("candidate, typed", [
    ("Ivo Marsden-Hythe", ("Hythe Ivo Marsden", "Ivo Marsden Hythe", "Ivo Marsden", "Marsden Ivo", "I. Hythe", "Marsden-Hythe, I.")),
    ("Rowan Ashdell", ("Mr Rowan Ashdell", "Rowan Ashdell Jr", "Rowan A.", "R\u043ewan Ashdell", "Row Ashdell", "ASHDELL ROWAN")),
    ("Maria del Carmen Ortiz Vega", ("Maria Ortiz", "M. Ortiz", "Ortiz Vega Maria")),
    ("John O'Neill", ("John O\u2019Neill", "John ONeill", "J. O'Neill")), ("Siân Müller", ("Sian Mueller", "Sian Muller")),
    ("Pål Røstad Vik", ("Pal Rostad Vik", "Paal Roestad Vik", "Pål Rostadvik", "P. R. Vik")),
    ("Jona Brekk", ("Yona Brekk", "Jonna Brekk", "J0na Brekk", "Jóna Brekk"))])
def test_a_candidate_is_known_by_any_spelling_of_the_name(candidate, typed):
    for name in typed:
        assert maybe_same(candidate, name) and maybe_same(name, candidate), name
    for other in ("Osk Tamberlin", "Petra Ashford", "Ana Marsden", "Jo Neal", "Carmen Muir", "Ivo Roole"):
        assert not maybe_same(candidate, other), other
