"""A question that stands the same on two papers is found, whatever its place and the order of its options."""

import copy

from rigcalc.papers.alike import alike


def _paper(name: str, *texts: str) -> dict:
    return {"paper_id": name, "questions": [
        {"slot": n, "kind": "one choice", "text": text, "chart": None, "figure": None, "left": [], "boxes": [], "unit": None,
         "options": [{"letter": "A", "text": "four"}, {"letter": "B", "text": "three"}]} for n, text in enumerate(texts, 1)]}


def test_the_same_words_are_found_in_another_place_and_order():
    one, other, third = _paper("p-1", "How many?", "Which?"), _paper("p-2", "Where?", "How many?"), _paper("p-3", "Which?", "How many?")
    other["questions"][1]["options"] = [{"letter": "A", "text": "three"}, {"letter": "B", "text": "four"}]
    assert alike([one, other, third]) == [[("p-1", 1), ("p-2", 2), ("p-3", 2)], [("p-1", 2), ("p-3", 1)]]


def test_another_figure_or_option_or_the_same_paper_is_not():
    one = _paper("p-1", "How many?", "How many?")
    for change in ({"figure": {"svg": "<svg/>"}}, {"options": [{"letter": "A", "text": "five"}, {"letter": "B", "text": "three"}]}, {"chart": "another"}):
        other = copy.deepcopy(_paper("p-2", "How many?"))
        other["questions"][0] |= change
        assert alike([one, other]) == []
