"""The one form, in both hosts: by keyboard alone on a plain page, and alive in the practice paper."""

from __future__ import annotations

import json
import re

import pytest

from rigcalc.notebook.form import first_stream, form_script, where_words
from rigcalc.questions import compose, draw, load_families, mark, read_answer
from rigcalc.questions.typed import misstep_typed
from rigcalc.shop import load_shop, sample_shop_path

PAGE = """<!doctype html><html lang="en"><head><meta charset="utf-8"><title>form</title></head><body>
<button id="before">before</button><div id="here"></div><script type="module">
import form from "/form.js";
const fields = %s, heard = {};
const model = { get: (name) => fields[name],
  set(name, value) { if (JSON.stringify(fields[name]) === JSON.stringify(value)) return; fields[name] = value;
    for (const tell of heard["change:" + name] || []) tell(); },
  save_changes() {}, on: (name, tell) => (heard[name] ||= []).push(tell) };
model.on("change:ask_reading", async () => model.set("reading", await window.readIt(fields.typed)));
model.on("change:tries", async () => model.set("feedback", await window.markIt(fields.typed)));
model.on("change:act", async () => { const told = await window.tellIt(fields.act.what);
  for (const name of Object.keys(told)) model.set(name, told[name]); });
window.strayed = 0;
document.addEventListener("keydown", () => { window.strayed += 1; });
window.fields = fields;
window.model = model;
form.render({ model, el: document.getElementById("here") });
</script></body></html>"""


@pytest.fixture
def form_page(visit):
    """Opens a question of a family on a plain page; gives the page, the question and its key. Who is not `heard` gets no answer."""
    def open_one(family_id: str, mode: str = "exercise", text: str | None = None, touch: bool = False, heard: bool = True):
        shop, family = load_shop(sample_shop_path()), load_families()[family_id]
        question, key = compose(draw(family, first_stream(family_id), shop), first_stream(family_id), 1)
        if text:
            question = {**question, "text": text}
        page = visit(touch=touch)
        fields = {"question": question, "mode": mode, "typed": None, "confirmed": False, "saved": "", "title": "Exercise"}
        page.expose_function("readIt", lambda typed: read_answer(question, typed))
        page.expose_function("markIt", lambda typed: {**(told := mark(key, question, typed)),
                                                      "where": where_words(told["section"])})
        page.expose_function("tellIt", lambda what: {"hint": key["hint"]} if what == "hint" else {"working": key["working"]})
        page.route("http://127.0.0.1:9/*", lambda route: route.fulfill(
            content_type="text/javascript" if route.request.url.endswith(".js") else "text/html",
            body=form_script() if route.request.url.endswith(".js") else PAGE % json.dumps(fields).replace("<", "\\u003c")))
        page.goto("http://127.0.0.1:9/")
        page.locator("fieldset").wait_for()
        if not heard:
            page.evaluate("() => { window.answers = [window.readIt, window.markIt]; window.readIt = window.markIt = () => new Promise(() => {}); }")
        return page, question, key

    return open_one


@pytest.mark.parametrize("family, kind", [("how-a-sleeve-holds", "radio"), ("limit-of-an-eye", "text"), ("line-of-the-job-sheet", "sheet")])
def test_a_page_that_gets_no_answer_says_so_and_lets_one_press_again(form_page, family, kind):
    page, _, key = form_page(family, heard=False)
    confirm, silent = page.get_by_role("button", name="Confirm"), page.get_by_text("No answer from the page's calculator")
    page.clock.install()  # the wait for an answer is the page's own: its clock is put on
    if kind == "radio":
        page.get_by_role("radio").first.check()
        confirm.click()
        page.get_by_text("Marking ...").wait_for()
    else:
        page.get_by_role("textbox").fill("12" if kind == "sheet" else key["right"]["shown"].split(" [")[0])
        page.get_by_role("textbox").press("Enter")
    page.clock.fast_forward(60_000)
    silent.wait_for()
    assert "reload the page" in silent.inner_text() and page.get_by_text("Marking ...").count() == 0 and confirm.is_enabled()
    confirm.click()  # still nobody there
    silent.wait_for(state="detached")
    page.clock.fast_forward(60_000)
    silent.wait_for()
    if kind == "text":  # the workbook itself is closed: to load the page again would only lose it
        page.evaluate("document.documentElement.dataset.live = 'unanswered'")
        page.get_by_text("Look whether it is still open in its window; then press again").wait_for()
        assert page.get_by_text("reload").count() == 0 and confirm.is_enabled()
        page.evaluate("document.documentElement.dataset.live = 'alive'")
        silent.wait_for()
    if kind == "radio":  # and once the page says that nobody will answer any more, nothing can be confirmed
        page.evaluate("document.documentElement.dataset.live = 'stopped'")
        page.get_by_text("Not marked: the controls of this page have stopped. Reload the page").wait_for()
        assert confirm.is_disabled()
        return
    page.evaluate("() => { [window.readIt, window.markIt] = window.answers; }")
    confirm.click()
    if kind == "sheet":  # half of it is empty: confirmed by the second press
        page.get_by_text("Read as").wait_for()
        confirm.click()
    page.locator(".rc-said.rc-ok, .rc-said.rc-no:not(.rc-reading)").wait_for()
    page.get_by_text("Marking ...").wait_for(state="detached")
    assert silent.count() == 0


def test_a_number_by_keyboard_alone_is_read_back_marked_and_explained(form_page, picture):
    page, question, key = form_page("limit-of-an-eye")
    right = key["right"]["shown"].split()[0]
    page.focus("#before")
    assert page.get_by_role("button", name="Hint").count() == 0
    page.keyboard.press("Tab")
    page.keyboard.type(right)
    page.get_by_text("without a unit").wait_for()
    assert page.get_by_role("button", name="Confirm").is_disabled()
    picture(page, "form_number_asked")
    page.keyboard.press("Tab")  # the first reading it may have been: in lbf
    page.keyboard.press("Enter")
    page.get_by_text(f"Read as {right} lbf").wait_for()
    assert page.get_by_label("Your answer, with its unit").input_value() == f"{right} lbf"
    slip = next(one for one in key["missteps"] if one["id"] == "efficiency-left-out")
    wrong = misstep_typed(question, key, slip, None)
    page.keyboard.press("Control+a")
    page.keyboard.type(wrong)
    page.get_by_text(f"Read as {wrong}").wait_for()
    page.keyboard.press("Enter")
    page.get_by_text(slip["feedback"]).wait_for()
    assert "Read again: lesson 09" in page.locator(".rc-said.rc-no").inner_text()
    page.get_by_role("button", name="Hint").press("Enter")
    page.get_by_text(key["hint"]).wait_for()
    page.get_by_role("button", name="Work it through").press("Space")
    page.get_by_text(key["working"]).wait_for()
    picture(page, "form_number_marked")
    assert page.evaluate("window.strayed") <= 1  # only the Tab pressed outside the form


def test_one_choice_by_arrow_keys(form_page, picture):
    page, question, key = form_page("what-the-gauge-misses")
    page.focus("#before")
    page.keyboard.press("Tab")
    page.keyboard.press("Space")
    assert page.evaluate("fields.typed") == "A"
    for _ in range("ABCD".index(key["right"]["letter"])):
        page.keyboard.press("ArrowDown")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    page.get_by_text("Right.").wait_for()
    assert page.evaluate("fields.typed") == key["right"]["letter"]
    picture(page, "form_choice")


def test_an_order_by_buttons_alone(form_page, picture):
    page, question, key = form_page("order-of-crimps")
    wanted, row = key["right"]["row"], [one["letter"] for one in question["options"]]
    for place, letter in enumerate(wanted):
        while row.index(letter) > place:
            at = row.index(letter)
            page.get_by_role("button", name=f"Move crimp {letter} up").press("Enter")
            row[at - 1], row[at] = row[at], row[at - 1]
            page.get_by_text(f"crimp {letter} is now {at} of {len(row)}.").wait_for()
            assert page.evaluate("document.activeElement.tagName") == "BUTTON"
    page.get_by_role("button", name="Confirm").press("Enter")
    page.get_by_text("Right.").wait_for()
    assert page.evaluate("fields.typed") == wanted
    assert page.get_by_role("img").get_attribute("alt") == question["figure"]["alt"]
    picture(page, "form_order")


def test_several_choices_by_keyboard_alone(form_page, picture):
    page, question, key = form_page("which-pass-the-gauge")
    page.focus("#before")
    for option in question["options"]:
        page.keyboard.press("Tab")
        if option["letter"] in key["right"]["letters"][1:]:
            page.keyboard.press("Space")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    page.get_by_text("Not right.", exact=False).wait_for()
    assert page.evaluate("fields.typed") == key["right"]["letters"][1:]
    page.locator(f"input[value={key['right']['letters'][0]}]").press("Space")
    page.get_by_role("button", name="Confirm").press("Enter")
    page.get_by_text("Right.", exact=True).wait_for()
    assert page.evaluate("fields.typed") == key["right"]["letters"]
    picture(page, "form_several")


def test_a_match_by_keyboard_alone_asks_about_a_line_left_empty(form_page, picture):
    page, question, key = form_page("match-fault-and-cause")
    row = key["right"]["row"]
    page.focus("#before")
    for letter in row[:-1]:
        page.keyboard.press("Tab")
        page.keyboard.press(letter)
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    page.get_by_text("Without a letter: line 4. To leave it so, press Confirm again.").wait_for()
    assert page.evaluate("fields.confirmed") is False
    page.get_by_label(f"4. {question['left'][3]}").press(row[3])
    page.get_by_role("button", name="Confirm").press("Enter")
    page.get_by_text("Right.", exact=True).wait_for()
    assert page.evaluate("fields.typed") == row
    picture(page, "form_match")


def test_a_place_has_a_letter_and_the_drawing_has_words(form_page, picture):
    page, question, key = form_page("mark-what-no-gauge-finds")
    assert page.get_by_role("img").get_attribute("alt") == question["figure"]["alt"]
    page.get_by_text("The drawing in words").press("Enter")
    assert page.get_by_text(question["figure"]["spoken"]).is_visible()
    page.get_by_label(f"place {key['right']['letter']}").press("Space")
    page.get_by_role("button", name="Confirm").press("Enter")
    page.get_by_text("Right.", exact=True).wait_for()
    picture(page, "form_place")


def test_a_job_sheet_reads_each_box_and_marks_each_alone(form_page, picture):
    page, question, key = form_page("complete-the-limit-on-a-sheet")
    rights = [own["right"]["shown"] for own in key["boxes"]]
    labels = [f"{box['box']}. {box['label']}" for box in question["boxes"]]
    page.focus("#before")
    page.keyboard.press("Tab")
    page.keyboard.type(rights[0])
    page.keyboard.press("Tab")
    page.keyboard.type(rights[1].split()[0])
    page.get_by_text("without a unit").wait_for()
    assert page.get_by_role("button", name="Confirm").is_disabled()
    picture(page, "form_sheet_asked")
    page.get_by_role("button", name=f"I mean {rights[1].split()[0]} lbf").press("Enter")
    page.get_by_text(f"Read as {rights[1]}").wait_for()
    page.get_by_role("button", name="Confirm").press("Enter")
    page.get_by_text("Left empty: box 3.").wait_for()
    page.get_by_label(labels[2]).fill("1 lbf")
    page.get_by_text("Read as 1 lbf").wait_for()
    page.get_by_role("button", name="Confirm").press("Enter")
    page.get_by_text(f"Not right. {question['boxes'][2]['label']}:", exact=False).wait_for()
    page.get_by_label(labels[2]).fill(rights[2])
    page.get_by_text(f"Read as {rights[2]}").wait_for()
    page.get_by_label(labels[2]).press("Enter")
    page.get_by_text("Right.", exact=True).wait_for()
    assert page.evaluate("fields.typed") == rights
    picture(page, "form_sheet")


def test_lines_are_ordered_by_their_text(form_page):
    page, question, key = form_page("documents-by-rank")
    first = next(one for one in question["options"] if one["letter"] == key["right"]["row"][0])
    at = [one["letter"] for one in question["options"]].index(first["letter"])
    for _ in range(at):
        page.get_by_role("button", name=f"Move {first['text']} up").press("Enter")
    page.get_by_role("button", name="Confirm").press("Enter")
    if not at:
        page.get_by_role("button", name="Confirm").press("Enter")
    page.locator(".rc-said.rc-ok, .rc-said.rc-no").first.wait_for()
    assert page.evaluate("(fields.typed || [])[0]") == first["letter"]


def test_a_sitting_gives_no_feedback_and_no_hint(form_page, picture):
    page, question, key = form_page("why-the-tail", mode="sitting", touch=True)
    page.get_by_text(question["options"][0]["text"]).tap()
    page.get_by_role("button", name="Confirm").tap()
    page.get_by_role("button", name="Confirmed").wait_for()
    assert page.get_by_role("button", name="Hint").count() == 0
    assert page.locator(".rc-said:visible").count() == 0
    picture(page, "form_sitting")


def test_text_is_never_taken_as_html(form_page):
    page, _, _ = form_page("why-the-tail", text="<img src=x onerror='window.ran = true'><b>bold</b>")
    assert page.locator(".rc-text").inner_text() == "<img src=x onerror='window.ran = true'><b>bold</b>"
    assert page.evaluate("window.ran") is None and page.locator(".rc-text b").count() == 0


def test_the_practice_paper_marks_at_once_and_draws_fresh_numbers_only_when_asked(workbook, page, picture):
    page.goto(workbook.address)
    page.goto(f"{workbook.base}/quizzes/practice_paper")
    page.get_by_text("PRACTICE", exact=False).first.wait_for()
    forms = page.locator(".rc-form")
    forms.nth(11).wait_for(timeout=60_000)
    assert forms.count() == 12
    assert page.get_by_role("button", name="Hint").count() == 0  # help comes after a first try
    first = page.locator(".rc-form", has=page.locator("input[type=radio]")).first
    asked = first.locator(".rc-text").inner_text()
    first.locator("input[type=radio]").first.check()
    first.get_by_role("button", name="Confirm").click()
    first.locator(".rc-said.rc-ok, .rc-said.rc-no").first.wait_for()
    page.get_by_text(re.compile("1 of 12 answered")).wait_for()
    picture(page, "practice_paper")
    texts = {asked}
    for _ in range(4):
        first.get_by_role("button", name="Another like this").click()
        page.wait_for_function("!document.querySelector('.rc-form input[type=radio]:checked')")
        texts.add(first.inner_text())
        first.locator("input[type=radio]").first.check()
        first.get_by_role("button", name="Confirm").click()
        first.locator(".rc-said.rc-ok, .rc-said.rc-no").first.wait_for()
    assert len(texts) > 1


def test_enter_at_once_after_typing_is_not_lost(form_page):
    page, _, key = form_page("limit-of-an-eye")
    page.get_by_label("Your answer, with its unit").focus()
    page.keyboard.type(key["right"]["shown"].split(" [")[0])
    page.keyboard.press("Enter")  # before the reading has come
    page.get_by_text("Right.").wait_for()


def test_enter_at_once_in_a_sitting_asks_for_a_second_look(form_page):
    page, _, key = form_page("limit-of-an-eye", mode="sitting")
    page.get_by_label("Your answer, with its unit").focus()
    page.keyboard.type(key["right"]["shown"].split(" [")[0])
    page.keyboard.press("Enter")
    page.get_by_text("Press Enter again to confirm.").wait_for()
    assert page.evaluate("fields.confirmed") is False
    page.keyboard.press("Enter")
    page.get_by_role("button", name="Confirmed").wait_for()


def test_the_focus_stays_where_the_hand_is(form_page):
    page, question, _ = form_page("order-of-crimps")
    second = question["options"][1]["letter"]
    page.get_by_role("button", name=f"Move crimp {second} up").press("Enter")
    assert page.evaluate("document.activeElement.getAttribute('aria-label')") == f"Move crimp {second} up"
    page.keyboard.press("Enter")
    page.get_by_text(f"crimp {second} is first already.").wait_for()
    page.get_by_role("button", name="Confirm").press("Enter")
    page.get_by_role("button", name="Work it through").wait_for()
    assert page.evaluate("document.activeElement.textContent") == "Confirm"


def test_a_drawings_words_grow_with_the_page_and_a_button_draws_it_larger_where_there_is_no_room(form_page, picture):
    page, question, _ = form_page("order-of-crimps", mode="sitting")
    image, larger = page.get_by_role("img"), page.get_by_role("button", name="Larger drawing")
    wide = float(re.search(r' width="([0-9.]+)"', question["figure"]["svg"])[1])
    assert image.bounding_box()["width"] == pytest.approx(wide, abs=1) and larger.is_hidden()
    page.add_style_tag(content="button { display:inline-block; }")  # as the lessons' pages have it
    assert larger.is_hidden()
    page.evaluate("document.documentElement.style.fontSize = '22px'")
    page.wait_for_function(f"Math.abs(document.querySelector('img').clientWidth - {wide * 22 / 16}) < 2")
    assert larger.is_hidden()
    page.set_viewport_size({"width": 700, "height": 900})
    larger.wait_for()
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    larger.press("Enter")
    assert image.bounding_box()["width"] == pytest.approx(wide * 22 / 16, abs=2)
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    frame = page.get_by_label("Drawing: the arrow keys move it sideways")
    frame.focus()
    page.keyboard.press("ArrowRight")
    page.wait_for_function("document.querySelector('figure').scrollLeft > 0")
    picture(page, "form_larger_drawing")
    page.get_by_role("button", name="Whole drawing").press("Enter")
    assert image.bounding_box()["width"] < 700 and page.locator("figure").get_attribute("tabindex") is None


def test_a_confirmation_that_is_not_saved_waits(form_page):
    page, _, _ = form_page("why-the-tail", mode="sitting")
    page.get_by_role("radio").first.check()
    page.get_by_role("button", name="Confirm").click()
    page.get_by_role("button", name="Confirmed").wait_for()
    page.evaluate("model.set('waits', true)")
    assert page.locator(".rc-confirm").inner_text() == "Confirm" and page.locator(".rc-confirm").is_disabled()
    page.evaluate("model.set('unsaved', true)")
    assert page.locator(".rc-confirm").inner_text() == "Waits for the room" and "rc-warn" in page.locator(".rc-saved").get_attribute("class")
    page.evaluate("model.set('unsaved', false); model.set('waits', false)")
    assert page.locator(".rc-confirm").inner_text() == "Confirmed" and "rc-warn" not in page.locator(".rc-saved").get_attribute("class")


@pytest.mark.parametrize("family, typed, told, meant", [
    ("between-the-rows", "none", "or the word refuse; ", None), ("between-the-rows", "REFUSE!", "Read as refuse: no figure can be stated", None),
    ("limit-of-an-eye", "330 pounds", "press 330 lbf if that is meant.", "330 lbf"), ("crimps-in-all", "4 crimps", "Read as 4", None)])
def test_what_is_typed_in_odd_ways_is_read_or_told_what_to_do(form_page, family, typed, told, meant):
    page, _, _ = form_page(family)
    page.get_by_role("textbox").fill(typed)
    page.locator(".rc-reading", has_text=told).wait_for()
    if meant:
        page.get_by_role("button", name=f"I mean {meant}").click()
        page.get_by_text(f"Read as {meant} (pounds-force)").wait_for()
    else:
        assert page.get_by_role("button", name="I mean").count() == 0
