"""The form's widget host, and the notebooks of quizzes/ as they are stored."""

from __future__ import annotations

import json
import re
from fractions import Fraction

import pytest

from rigcalc.home import installed_folder
from rigcalc.notebook.form import Exercise, form_script, static_html, static_text, where_words
from rigcalc.notebook.practice import MorePractice, PracticeSitting, _named, parts
from rigcalc.notebook.worked_examples import worked
from rigcalc.questions import load_families
from rigcalc.shop import load_shop, sample_shop_path
from rigcalc.skills import load_skills

QUIZZES = installed_folder() / "quizzes"


def exercise(family: str = "cut-length") -> Exercise:
    return Exercise(family, shop=load_shop(sample_shop_path()))


def _answer(one: Exercise, typed) -> dict:
    one.typed = typed
    one.ask_reading += 1
    one.set_trait("confirmed", True)
    one.tries += 1
    return one.feedback


def test_a_page_opens_on_the_same_first_instance_and_holds_no_key():
    one, two = exercise(), exercise()
    assert repr(one) == repr(two) and one.question == two.question
    sent = json.dumps({name: value for name, value in one.get_state().items() if name != "_esm"}, default=str)
    key = one._key
    assert one.feedback is None and one.reading is None and one.hint == one.working == ""
    for private in (key["working"], key["hint"], key["missteps"][0]["feedback"], key["family_sha256"]):
        assert private not in sent


def test_an_answer_is_read_marked_and_explained():
    one = exercise()
    slip = next(s for s in one._key["missteps"] if s["id"] == "one-tail-forgotten")
    told = _answer(one, f"{float(Fraction(slip['exact'])):g} mm")
    assert one.reading["ok"] and told["missteps"] == ["one-tail-forgotten"] and "one tail" in told["feedback"]
    assert told["where"] == "lesson 05, The cut length"
    assert _answer(one, one._key["right"]["shown"])["right"]


def test_a_first_wrong_set_is_told_of_the_letters_taken_and_only_the_second_of_each():
    one = exercise("four-legs-told")
    right = set(one._key["right"]["letters"])
    wrong = next(option["letter"] for option in one.question["options"] if option["letter"] not in right)
    reasons = {slip["letter"]: slip["feedback"] for slip in one._key["missteps"] if "letter" in slip}
    missed = [reasons[letter] for letter in right if letter in reasons]
    assert missed
    first = _answer(one, [wrong])["feedback"]
    assert f"{wrong} does not belong: {reasons[wrong]}" in first and "not chosen yet" in first and not [words for words in missed if words in first]
    second = _answer(one, [wrong])["feedback"]
    assert all(words in second for words in missed)
    assert _answer(one, sorted(right))["right"]


def test_a_first_set_that_lacks_one_says_no_letter():
    one = exercise("four-legs-told")
    right = sorted(one._key["right"]["letters"])
    told = _answer(one, right[1:])
    assert not told["right"] and told["feedback"] == "Not right. All that you chose fit, but one that fits is not chosen yet. Try once more; after that each letter is told."
    one.fresh()
    assert "Try once more" in _answer(one, sorted(one._key["right"]["letters"])[1:])["feedback"]


def test_a_figure_not_rounded_as_asked_and_a_wrong_unit_are_said():
    one = exercise("limit-of-an-eye")
    right = one._key["right"]["shown"].split(" [")[0].split()
    assert right[1] == "lbf"
    told = _answer(one, f"{int(right[0])}.3 lbf")
    assert not told["right"] and "rounded down to 1 lbf" in told["feedback"] and "Your sum may be right" in told["feedback"]
    one = exercise()
    figure = one._key["right"]["shown"].split()[0]
    assert "Look at the unit: this figure would fit in mm, not in m." in _answer(one, f"{figure} m")["feedback"]
    assert "No usual slip leads to this answer" in _answer(one, "17 mm")["feedback"]


def test_a_figure_on_the_safe_side_that_was_rounded_on_the_way_is_no_unknown_slip():
    one = exercise("limit-of-an-eye")
    right = Fraction(one._key["right"]["exact"])  # N; asked for rounded down to 1 N
    whole = int(right)
    for near in (whole - 1, whole - whole % 5 if whole % 5 > 1 else whole - whole % 5 - 5):
        told = _answer(one, f"{near} N")
        assert not told["right"] and "It is near, and on the safe side" in told["feedback"] and "rounded down" in told["feedback"], near
    assert "safe side" not in _answer(one, f"{whole + 2} N")["feedback"] and "safe side" not in _answer(one, f"{int(right * Fraction(98, 100))} N")["feedback"]


def test_a_box_of_a_sheet_is_told_the_rounding_it_lacks():
    one = exercise("complete-the-limit-on-a-sheet")
    right = [key["right"]["shown"] for key in one._key["boxes"]]
    told = _answer(one, [right[0], right[1], right[2].replace(" lbf", ".96 lbf")])
    assert told["feedback"].startswith("Not right. Working load limit of the piece: Your sum may be right, but it is asked for rounded down to 1 lbf")
    one = exercise("sheet-of-a-coated-wire")
    eye = float(one._key["boxes"][2]["right"]["exact"])
    told = _answer(one, [*(key["right"]["shown"] for key in one._key["boxes"][:2]), f"{int(eye / 25.4 * 100) / 100} in", "3"])
    assert "Your sum may be right, but you rounded it down: it is asked for rounded up" in told["boxes"][2]["feedback"] and told["boxes"][2]["feedback"][11:] in told["feedback"]


def test_what_is_told_after_a_right_answer_does_not_count_as_asked_for(monkeypatch):
    kept = []
    monkeypatch.setattr("rigcalc.notebook.form.keep_answer", lambda *given, **more: kept.append(more) or "")
    one = exercise()
    assert _answer(one, one._key["right"]["shown"])["right"] and one.working
    assert kept == [{"hint": False, "working": False}]


def test_who_is_right_is_told_why_and_who_is_wrong_where_to_read():
    one = exercise("where-the-end-went")
    told = _answer(one, one._key["missteps"][0]["letter"])
    assert told["page"] == "/lessons/05_forming_an_eye#the-tail" and not one.working
    assert _answer(one, one._key["right"]["letter"])["right"] and one.working == one._key["working"]


def test_hint_and_working_come_when_asked_and_fresh_numbers_take_them_away():
    one = exercise()
    one.act = {"what": "hint", "turn": 1}
    one.act = {"what": "work", "turn": 2}
    assert one.hint and one.working
    before = {repr(one)}
    for turn in range(3, 8):
        one.act = {"what": "fresh", "turn": turn}
        before.add(repr(one))
    assert len(before) > 1 and one.hint == one.working == "" and one.typed is None and not one.confirmed


def test_the_static_form_escapes_and_says_everything():
    question = {**exercise("order-of-crimps").question, "text": "<script>x</script>"}
    html, text = static_html(question, "T<b>"), static_text(question, "T")
    assert "<script>" not in html and "&lt;script&gt;" in html and "T&lt;b&gt;" in html
    for part in (question["chart"], question["figure"]["alt"], question["instruction"]):
        assert part in text
    assert "data:image/svg+xml" in html
    bundle, _ = exercise("why-the-tail")._repr_mimebundle_()
    assert set(bundle) == {"text/plain", "text/html", "application/vnd.jupyter.widget-view+json"}
    assert len(bundle["text/plain"]) > 150


def test_where_words_read_like_a_place():
    assert where_words("05#the-tail") == "lesson 05, The tail" and where_words("05") == "lesson 05"


def test_the_practice_paper_keeps_a_tally_and_names_what_must_be_right():
    paper = PracticeSitting("narrow")
    assert "PRACTICE" in repr(paper.heading()) and len(paper.exercises) == 12
    assert "Nothing answered" in paper.so_far().value
    must = next(one for slot, one in enumerate(paper.exercises, 1) if slot in paper._must)
    _answer(must, must._key["missteps"][0]["letter"])
    assert "1 of 12 answered: 0 right at the first answer. A paper counts" in paper.so_far().value and "must be right" in paper.so_far().value
    assert "The assessment paper does not say which." in paper.so_far().value
    _answer(must, must._key["right"]["letter"])
    assert "1 of 12 answered: 0 right at the first answer, 1 after another try. A paper counts the first" in paper.so_far().value
    assert "Not right at the first answer: question" in paper.so_far().value and "must be right, whatever the rest" in paper.so_far().value
    other = next(one for one in paper.exercises if one is not must and one.question["kind"] == "one choice")
    _answer(other, other._key["right"]["letter"])
    assert "2 of 12 answered: 1 right at the first answer, 1 after another try." in paper.so_far().value
    assert f"are worth {other._key['weight']} of 100 marks" in paper.so_far().value


def test_more_practice_offers_the_full_paper_and_every_lesson_that_is_asked_in_writing():
    skills, offered = load_skills(), parts()
    assert set(offered.values()) == {"full"} | {one.lesson for one in skills.values() if one.written}
    more = MorePractice()
    assert more.sitting is None
    for words, part in offered.items():
        more.choose(part)
        made = more.sitting.exercises
        assert words.endswith(f": {len(made)} questions") and f"of {len(made)}" in repr(made[0])
        if part != "full":
            asked = [one._family.skill for one in made]
            assert set(asked) == {one.id for one in skills.values() if one.written and one.lesson == part}
            assert all(asked.count(name) == 2 for name in asked) and len({one._family.id for one in made}) == len(made)
    _answer(made[0], "nothing that can be read")
    assert "1 of" in more.sitting.so_far().value
    more.choose("")
    assert more.sitting is None


def test_the_tally_names_several_questions_in_plain_words():
    assert _named([2]) == "question 2" and _named([2, 4]) == "questions 2 and 4"
    assert _named([2, 4, 7]) == "questions 2, 4 and 7"


def test_the_form_has_no_way_to_put_in_html():
    script = form_script()
    assert not re.search(r"innerHTML|outerHTML|insertAdjacentHTML|document\.write|\beval\(", script)
    assert "http" not in script.replace("data:image/svg+xml", "")


def _notebook(name: str) -> dict:
    return json.loads((QUIZZES / f"{name}.ipynb").read_text(encoding="utf-8"))


def test_the_reference_notebook_works_every_family():
    shown = set(re.findall(r'worked\("([a-z-]+)"\)', json.dumps(_notebook("reference_worked_examples")).replace('\\"', '"')))
    assert shown == set(load_families())


@pytest.mark.parametrize("name", ["practice_paper", "reference_worked_examples"])
def test_cells_are_counted_and_outputs_stand(name):
    code = [cell for cell in _notebook(name)["cells"] if cell["cell_type"] == "code"]
    assert [cell["execution_count"] for cell in code] == list(range(1, len(code) + 1))
    assert all(cell["outputs"] and cell["source"][0].startswith("# ") for cell in code)


@pytest.mark.parametrize("family", sorted(load_families()))
def test_a_worked_example_shows_right_and_each_misstep(family):
    text = repr(worked(family))
    rows = text.partition("Typed | Read as | Marked | Said")[2].strip().splitlines()
    assert rows[0].split(" | ")[2] == "right" and rows[-1].startswith("(nothing)")
    middle = [row for row in rows[1:-1] if " | wrong | " not in row]
    assert middle and all(" | right | " not in row for row in middle)


def test_another_like_this_asks_for_another_number():
    one = Exercise("wires-in-all")
    for _ in range(40):  # five names, drawn alike: without the tries one in five would come again
        before = one._key["right"]["exact"]
        one.fresh()
        assert one._key["right"]["exact"] != before
