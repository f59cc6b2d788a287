"""Several choices, rows, match, place, job sheet: drawn, marked, in part too; what a file may not say of them."""

from __future__ import annotations

import pytest
from a_family import SECRET, pairs, shop

from rigcalc.errors import Refusal
from rigcalc.papers.answers import check_typed
from rigcalc.questions import FamilyError, Stream, compose, draw, families_folder, load_families, mark, read_answer
from rigcalc.questions.marking import mark_letters
from rigcalc.questions.typed import right_typed, written

HEAD = """form = 1
id = "mine"
version = 1
kind = "{kind}"
skill = "stops-and-asks"
level = 1
section = "05#the-tail"
minutes = 1
"""
TAIL = """
[hint]
en = "Look."
[working]
en = "{right}"
"""
ROWS = """
[draw]
rows = { shuffle = ["cut", "thread", "press"] }
[ask]
en = "In which order?"
[answer]
items = "$rows"
value = ["cut", "thread", "press"]
[[misstep]]
id = "threads-first"
value = ["thread", "cut", "press"]
feedback = { en = "You threaded first." }
"""
MATCH = """
[draw]
tools = { shuffle = ["caliper", "gauge"] }
[ask]
en = "What for?"
[answer]
left = ["caliper", "gauge"]
right_side = ["the cable", "the crimp", "the customer"]
value = ["the cable", "the crimp"]
[[misstep]]
id = "changed"
value = ["the crimp", "the cable"]
feedback = { en = "You changed the two." }
"""
ITEMS = """
[draw]
rows = { some_of = "rows", count = 4 }
[pools]
rows = [
  { en = "a hoist", use = "lifting", id = "hoists", feedback = "A hoist lifts." }, { en = "a trellis", use = "static", id = "shy", feedback = "A trellis may be made." },
  { en = "a swing", use = "people" }, { en = "a gate", use = "static" },
]
[ask]
en = "Which may be made?"
[answer]
items = "$rows"
true_if = { use = "static" }
[[misstep]]
id = "all"
value = "$rows"
feedback = { en = "You would make them all." }
"""


def _load(tmp_path, kind: str, text: str):
    (tmp_path / "mine.toml").write_text(HEAD.format(kind=kind) + text + TAIL, encoding="utf-8")
    return load_families(tmp_path)["mine"]


def _made(tmp_path, kind: str, text: str, label: str = "x"):
    stream = Stream(SECRET, label)
    return compose(draw(_load(tmp_path, kind, text), stream, shop()), stream, 1)


def test_rows_are_lettered_and_ordered_by_their_letters(tmp_path):
    question, key = _made(tmp_path, "order", ROWS)
    texts = {one["letter"]: one["text"] for one in question["options"]}
    assert [texts[letter] for letter in key["right"]["row"]] == ["cut", "thread", "press"]
    assert mark(key, question, key["right"]["row"])["right"]
    told = mark(key, question, key["missteps"][0]["row"])
    assert told["missteps"] == ["threads-first"] and told["share"] == 0


def test_a_match_gives_a_share_of_its_lines(tmp_path):
    question, key = _made(tmp_path, "match", MATCH)
    row = key["right"]["row"]
    assert question["left"] == ["caliper", "gauge"] and len(question["options"]) == 3
    assert mark(key, question, row)["share"] == 1 and mark(key, question, [row[0], ""])["share"] == 0.5
    assert mark(key, question, row[::-1])["missteps"] == ["changed"]
    assert "1 of the 2 lines" in mark(key, question, [row[0], row[0]])["feedback"]
    assert mark(key, question, ["", ""])["feedback"] == "No answer was given."
    assert not read_answer(question, row[:1])["ok"] and not read_answer(question, [row[0], "Z"])["ok"]


def test_items_are_right_by_what_they_are_and_each_may_tell_its_own(tmp_path):
    question, key = _made(tmp_path, "several choices", ITEMS)
    letter = {one["text"]: one["letter"] for one in question["options"]}
    right = sorted([letter["a trellis"], letter["a gate"]])
    assert key["right"]["letters"] == right and mark(key, question, right[::-1])["right"]
    assert mark(key, question, list(letter.values()))["missteps"] == ["all"]
    both = mark(key, question, [letter["a gate"], letter["a hoist"]])
    assert both["missteps"] and set(both["missteps"]) == {"hoists", "shy"} and f"{letter['a hoist']} does not belong: " in both["feedback"] and f"You left out {letter['a trellis']}: " in both["feedback"]
    assert both["share"] == 0  # one right, one wrong, of two right
    assert mark(key, question, [letter["a gate"]])["share"] == 0.5
    assert mark(key, question, [letter["a gate"], letter["a trellis"], letter["a swing"]])["share"] == 0.5


def test_a_sheet_is_marked_box_by_box():
    question, key = pairs("complete-the-limit-on-a-sheet")[0]
    right = right_typed(question, key)
    assert mark(key, question, right)["right"]
    for at in range(3):
        told = mark(key, question, [*right[:at], "", *right[at + 1:]])
        assert not told["right"] and told["share"] == pytest.approx(2 / 3)
        assert [box["right"] for box in told["boxes"]] == [place != at for place in range(3)]
        assert question["boxes"][at]["label"] in told["feedback"]
    told = mark(key, question, [right[0], "plenty", right[2]])
    assert told["share"] == pytest.approx(2 / 3) and not read_answer(question, [right[0], "plenty", right[2]])["ok"]
    assert mark(key, question, ["", "", ""])["feedback"] == "No answer was given."


def test_a_place_is_a_letter_of_the_drawing():
    question, key = pairs("mark-why-it-comes-down")[0]
    assert mark(key, question, key["right"]["letter"].lower())["right"]
    for one in question["options"]:
        assert f">{one['letter']}</text>" in question["figure"]["svg"]
    assert not read_answer(question, "Z")["ok"] and not read_answer(question, ["A"])["ok"]


def test_partial_shares_are_beside_right_and_never_in_its_place():
    for family in ("which-pass-the-gauge", "match-fault-and-cause", "complete-the-cut-on-a-sheet"):
        question, key = pairs(family)[1]
        typed = right_typed(question, key)
        typed = typed[:1] if question["kind"] == "several choices" else [typed[0], *[""] * (len(typed) - 1)]
        told = mark(key, question, typed)
        assert told["right"] is False and 0 < told["share"] < 1


def test_the_sleeves_places_are_right_whatever_their_letters():
    seen = set()
    for question, key in pairs("mark-what-no-gauge-finds"):
        values = key["values"]
        place = dict(zip(values["letters"], ["loop", "mouth", "first crimp", "middle crimp", "last crimp", "tail", "far mouth",
                                              "cable"], strict=True))[key["right"]["letter"]]
        expected = {"loose thimble": "loop", "caught wire": "mouth", "crack in the first crimp": "first crimp",
                    "crack in the middle crimp": "middle crimp", "crimp over the end": "last crimp", "buried tail": "tail",
                    "birdcage": "far mouth"}[values["unseen"]["mark"]]
        assert place == expected
        seen.add(place)
    assert len(seen) >= 6


# --- what comes back ----------------------------------------------------------------------------

@pytest.mark.parametrize(("family", "bad"), [
    ("which-pass-the-gauge", ["A", "A"]), ("which-pass-the-gauge", ["Z"]), ("which-pass-the-gauge", "A"),
    ("match-fault-and-cause", ["A"]), ("match-fault-and-cause", ["A"] * 5), ("match-fault-and-cause", ["A", "Z", "", ""]),
    ("complete-the-cut-on-a-sheet", ["1 mm"]), ("complete-the-cut-on-a-sheet", ["1" * 61, "", ""]),
    ("complete-the-cut-on-a-sheet", [1, 2, 3]), ("mark-why-it-comes-down", ["A"]), ("mark-why-it-comes-down", "A" * 201),
])
def test_answers_of_the_wrong_form_are_named(family, bad):
    assert check_typed(pairs(family)[0][0], bad)


@pytest.mark.parametrize(("family", "text", "typed"), [
    ("which-pass-the-gauge", "b, a", ["B", "A"]), ("match-fault-and-cause", "A-CB", ["A", "", "C", "B"]),
    ("complete-the-cut-on-a-sheet", "90 mm; -; 3,1 m", ["90 mm", "", "3,1 m"]), ("mark-why-it-comes-down", " c ", "C"),
    ("complete-the-cut-on-a-sheet", "90 mm", ["90 mm", "", ""]), ("order-of-crimps", "b a c", ["B", "A", "C"]),
    ("cut-length", " 2524 mm ", "2524 mm"),
])
def test_an_answer_sheet_is_typed_in_one_line(family, text, typed):
    question = pairs(family)[0][0]
    assert written(question, text) == typed and (family == "order-of-crimps" or check_typed(question, typed) is None)


# --- what a file may not say --------------------------------------------------------------------

@pytest.mark.parametrize(("kind", "text", "field"), [
    ("order", ROWS.replace('items = "$rows"', 'items = "$row"'), "answer.items"),
    ("match", MATCH.replace('left = ["caliper", "gauge"]\n', ""), "answer"),
    ("match", MATCH.replace("right_side", "rightside"), "answer.rightside"),
    ("place", ROWS.replace("items", "letters"), "figure"),
    ("several choices", ITEMS.replace('true_if = { use = "static" }\n', ""), "answer"),
    ("several choices", ITEMS.replace("true_if", "right_options = [3, 2]\ntrue_if"), "answer.right_options"),
    ("sheet", ROWS, "box"),
    ("number", ROWS.replace('items = "$rows"', 'unit = "lbs"\naccept = ["lbs"]'), "answer.accept"),
])
def test_a_field_that_is_missing_or_wrong_is_named(tmp_path, kind, text, field):
    with pytest.raises(FamilyError) as told:
        _load(tmp_path, kind, text)
    assert told.value.field == field and told.value.file == "mine.toml"


def test_a_box_is_named_by_its_number(tmp_path):
    text = (families_folder() / "complete-the-cut-on-a-sheet.toml").read_text(encoding="utf-8")
    for old, new, field in (('kind = "number"', 'kind = "order"', "box.1.kind"), ('value = "$one_eye"', 'value = "$an_eye"', "box.1.answer.value"),
                            ('id = "cut"\n', 'id = "one-eye"\n', "box.2.id"), ('unit = "m"\n', 'unit = "kg"\n', "box.3.answer.unit")):
        (tmp_path / "mine.toml").write_text(text.replace(old, new, 1), encoding="utf-8")
        with pytest.raises(FamilyError) as told:
            load_families(tmp_path)
        assert told.value.field == field, old


@pytest.mark.parametrize(("kind", "text", "why"), [
    ("order", ROWS.replace('["thread", "cut", "press"]', '["cut", "thread", "press"]'), "which is the right answer itself"),
    ("order", ROWS.replace('value = ["thread", "cut", "press"]', 'value = ["thread", "cut", "cut"]'), "stands already"),
    ("match", MATCH.replace('"the crimp", "the customer"', '"the cable", "the customer"'), "same text twice"),
    ("match", MATCH.replace('value = ["the cable", "the crimp"]', 'value = ["the cable", "the wall"]'), "does not fit"),
    ("several choices", ITEMS.replace('true_if = { use = "static" }', 'true_if = { use = "none" }'), "0 of 4"),
    ("several choices", ITEMS.replace('"a swing"', '"a gate"'), "read alike"),
])
def test_what_makes_no_question_is_refused_with_its_reason(tmp_path, kind, text, why):
    with pytest.raises(Refusal, match=why):
        _made(tmp_path, kind, text)


def test_options_that_share_a_sentence_are_named_together_and_it_is_said_once():
    slips = [{"id": one, "letter": one, "letters": sorted({"A", "B"} ^ {one}), "feedback": said}
             for one, said in (("C", "It lifts."), ("D", "It lifts."), ("E", "It moves."))]
    found = mark_letters("several choices", ["A", "B"], slips, ["A", "B", "C", "D", "E"])
    assert found["feedback"] == "Not right. C, D do not belong: It lifts. E does not belong: It moves."


def test_a_row_of_letters_is_never_right_as_it_stands_on_the_page():
    found = pairs("order-of-crimps", 200)
    assert all(key["right"]["row"] != sorted(key["right"]["row"]) for _, key in found)
