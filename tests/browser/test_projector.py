"""The projector view: what stands under a question waits, steps come one by one, live figures fit and use the width, and what they repeat is left out."""

from __future__ import annotations

import on_paper
import pytest
from playwright.sync_api import expect

from many import many

from rigcalc.opening.shelf import find_sheet, lessons

LESSON = find_sheet("07")
ANSWERS = ("the next larger slot. It goes on", "has one second try", "It does not count. It does not look inside", "Well inside the limit", "Nothing. The fins said",
           "What was pressed or has carried load", "one broken wire is one too many", "A rim along the whole sleeve", "Loop not drawn up")
FITS = "() => [...document.querySelectorAll('.rc-board')].filter(one => one.offsetHeight - one.querySelector('.rcb-under').offsetHeight > innerHeight - document.querySelector('nav.parts').offsetHeight).map(one => one.innerText.slice(0, 40))"


def too_tall(wall) -> list[str]:
    """The live figures that do not fit once the page has had time to be laid out; a busy machine may take up to five seconds for it."""
    wall.wait_for_timeout(300)
    for _ in range(47):
        if not wall.evaluate(FITS):
            break
        wall.wait_for_timeout(100)
    return wall.evaluate(FITS)


@pytest.fixture(scope="module")
def wall(workbook, visit_all_along):
    """Lesson 07 as a projector shows it, alive."""
    page = visit_all_along()
    page.set_viewport_size({"width": 1920, "height": 1080})
    page.goto(workbook.address)
    page.goto(workbook.base + LESSON.address + "?projector=1")
    page.wait_for_selector("html[data-live=alive]", timeout=40_000)
    return page


@pytest.mark.parametrize("words", ANSWERS)
def test_no_answer_stands_open_under_its_question(wall, words):
    place = wall.locator(".answer", has_text=words).first
    told = place.get_by_text(words).first
    expect(told).to_be_hidden()
    assert place.bounding_box()["height"] < 200, "the cover is no wall of its own"
    place.locator(".cover").press("Enter")
    for _ in range(20):
        if told.is_visible():
            break
        place.locator(".cover").click()
    expect(told).to_be_visible()
    place.get_by_role("button", name="Hide this answer again").click()
    expect(told).to_be_hidden()


def test_a_question_and_a_task_stay_to_be_read_and_so_does_the_story(wall):
    for words in ("What has she mended?", "Try it. Pull, feel, and say.", "When did you last read this label?", "It may not carry people"):
        assert wall.get_by_text(words).first.is_visible(), words
    assert wall.locator(".answer h2, .answer .live-part, .answer .answer").count() == 0


def test_what_is_worked_in_steps_comes_step_by_step(wall):
    worked = wall.locator(".answer", has=wall.get_by_role("columnheader", name="worked", include_hidden=True)).first
    rows = worked.locator("tbody tr")
    for at in (1, 2, 3):
        worked.locator(".cover").click()
        assert rows.locator("visible=true").count() == at
    expect(worked.locator(".cover")).to_have_text(f"Next step: 4 of {rows.count()}")
    worked.get_by_role("button", name="Hide this answer again").click()
    expect(rows.first).to_be_hidden()


def test_live_figures_fit_under_the_strip_on_either_screen(wall, picture):
    expect(wall.locator("figure.repeated")).to_have_count(2)
    for size in ((1920, 1080), (1280, 800)):
        wall.set_viewport_size({"width": size[0], "height": size[1]})
        assert too_tall(wall) == []
    reading = wall.locator(".rc-board", has_text="A reading and its limit")
    reading.get_by_role("radio", name="not proven").check()
    expect(reading.get_by_role("status")).to_contain_text("not proven")
    assert wall.evaluate(FITS) == []
    picture(wall, "projector_07")


def test_the_list_and_the_tray_use_the_width_of_the_wall(wall):
    wall.set_viewport_size({"width": 1920, "height": 1080})
    wall.wait_for_timeout(300)
    for title, share in (("Which go back to the gauge?", 0.5), ("Twenty pieces", 0.55), ("A reading and its limit", 0.45)):
        drawn = wall.locator(".rc-board", has_text=title).locator("figure svg").last
        wide = drawn.evaluate("one => { const box = one.getBoundingClientRect(), own = one.viewBox.baseVal; return own.width * Math.min(box.width / own.width, box.height / own.height); }")
        assert wide > share * 1920, f"{title}: {wide:.0f} px"


def test_words_said_without_a_pause_are_all_kept(wall):
    tray = wall.locator(".rc-board", has_text="Twenty pieces")
    tray.evaluate("""board => { for (let at = 0; at < 20; at += 1) { const words = board.querySelector("select"); words.value = "1";
        words.dispatchEvent(new Event("change")); [...board.querySelectorAll("button")].find((one) => one.textContent === "Next piece").click(); } }""")
    expect(tray.get_by_role("status")).to_contain_text("0 left")
    tray.get_by_role("button", name="Done").click()
    expect(tray.get_by_role("status")).to_contain_text("bad ones you passed")
    expect(tray.get_by_role("status")).not_to_contain_text("Not counted")


STANDS_OPEN = "() => [...document.querySelectorAll('.answer.asked')].flatMap(one => [...one.children]).filter(one => !one.matches('.cover, .whole') && one.offsetParent).map(one => one.textContent.slice(0, 60))"
READ = "Said it? Read what we say."


def for_a_reader(wall) -> None:
    """The page as a learner has it, whatever view it stood in."""
    if (back := wall.get_by_role("button", name="Smaller again")).is_visible():
        back.click()


@pytest.mark.paper
def test_a_reader_opens_the_answer_under_a_question_too_and_paper_sets_it_apart(wall, picture):
    for_a_reader(wall)
    assert wall.evaluate(STANDS_OPEN) == []
    expect(wall.locator("figure.repeated:visible").first).to_be_visible()
    asked = wall.locator(".answer.asked")
    assert asked.count() >= len(ANSWERS) and wall.locator(".answer > .cover:visible").count() == asked.count(), "only what is asked waits for a reader"
    picture(wall, "reader_07_waits")
    words = wall.get_by_text(ANSWERS[1]).first
    button = asked.filter(has=words).get_by_role("button")
    expect(button).to_have_accessible_name(READ)
    expect(button).to_have_attribute("aria-expanded", "false")
    button.press("Enter")
    expect(words).to_be_visible()
    expect(button).to_have_attribute("aria-expanded", "true")
    expect(button).to_have_accessible_name("Fold it again")
    assert button.evaluate("one => one === document.activeElement")
    button.press("Space")
    expect(words).to_be_hidden()
    before = asked.count()
    questions, _, answers = " ".join(on_paper.words(wall.pdf(format="A4"))).rpartition(" Answers 1. ")
    for told in ANSWERS:
        assert told in answers and told not in questions, told
    folded = wall.locator("details.when-said td").last.text_content()
    assert folded in answers and questions.count("Ours: Answers,") >= len(ANSWERS)
    assert wall.evaluate(STANDS_OPEN) == [] and asked.count() == before and wall.locator(".printed-answers, .on-paper, details.when-said[open]").count() == 0, "all is back in its place"


def test_a_reader_takes_a_worked_answer_step_by_step_or_at_once(wall):
    for_a_reader(wall)
    worked = wall.locator(".answer.asked", has=wall.get_by_role("columnheader", name="worked", include_hidden=True)).first
    rows = worked.locator("tbody tr")
    worked.get_by_role("button", name=READ).click()
    assert rows.locator("visible=true").count() == 1
    worked.get_by_role("button", name="Next step: 2 of").click()
    assert rows.locator("visible=true").count() == 2
    worked.get_by_role("button", name="All steps at once").click()
    assert rows.locator("visible=true").count() == rows.count()
    assert worked.get_by_role("button", name="Fold it again").evaluate("one => one === document.activeElement")


@pytest.mark.parametrize("sheet", lessons()[-many(1, len(lessons())):], ids=lambda sheet: sheet.number)  # RIGCALC_WHOLE=1 takes all
def test_no_lesson_has_an_answer_open_under_its_question(sheet, wall, workbook):
    wall.goto(workbook.base + sheet.address + "?projector=0", wait_until="commit")
    wall.wait_for_selector("nav.parts", state="attached", timeout=60_000)
    assert wall.evaluate(STANDS_OPEN) == []
    assert wall.evaluate("[...document.querySelectorAll('main > .cell')].filter(one => one.nextSibling?.nodeType !== Node.COMMENT_NODE).length") == 0, "a cell that waits for the next one stands open meanwhile"
    if sheet.number != "05":  # its questions are asked by forms
        assert wall.get_by_role("button", name=READ).count() > 0


TALL = {  # lesson -> the live figure with most to say there, and what is done with it: (role, name, choice or figure)
    "01": ("Five offcuts, three places", (("combobox", "On the tag", "3/16 in"), ("slider", "Turn it", "40"))),
    "04": ("Fit the clips", (("button", "Fit a clip here", ""), ("button", "I am done", ""))),
    "06": ("Press this sleeve", (("button", "Press", ""),)),
    "08": ("Lay out a lap", (("radio", "two", ""), ("combobox", "It is for", "a line at the back of a shelf"), ("combobox", "Show it", "after, all growth inwards"))),
    "11": ("Set the bench, and pull", (("combobox", "Pull it to", "twice the limit"), ("button", "Set the bench", ""), ("button", "Stop here", ""))),
    "12": ("Refuse it in writing", (("radio", "It is lifting", ""), ("radio", "an engineer who designs", ""))),
}


@pytest.mark.parametrize("number", list(TALL)[-many(1, len(TALL)):])  # RIGCALC_WHOLE=1 takes all
def test_the_tallest_live_figure_fits_as_it_begins_and_when_it_has_been_used(wall, workbook, number):
    title, acts = TALL[number]
    wall.goto(workbook.base + find_sheet(number).address + "?projector=1")
    wall.wait_for_selector("html[data-live=alive]", timeout=40_000)
    board = wall.locator(".rc-board", has=wall.get_by_role("heading", name=title))
    board.wait_for()
    for role, name, value in (("", "", ""), *acts):
        if role:
            said = board.get_by_role("status").inner_text()
            control = board.get_by_role(role, name=name).first
            control.select_option(value) if role == "combobox" else control.fill(value) if role == "slider" else control.click()
            expect(board.get_by_role("status")).not_to_have_text(said)
        for size in ((1920, 1080), (1280, 800)):
            wall.set_viewport_size({"width": size[0], "height": size[1]})
            assert too_tall(wall) == [], f"{size[0]} wide, after {name or 'nothing'}"


@pytest.mark.paper
def test_on_paper_a_drawing_and_the_live_figure_that_repeats_it_stand_once_while_they_are_alike(wall, workbook):
    wall.goto(workbook.base + LESSON.address + "?projector=1")
    wall.wait_for_selector("figure.repeated", state="attached", timeout=40_000)
    stills = wall.locator("figure.repeated")
    moved = "document.querySelectorAll('.rc-board svg[aria-label]').forEach(one => one.setAttribute('aria-label', 'moved'))"
    wall.emulate_media(media="print")
    assert not any(still.is_visible() for still in stills.all())
    wall.evaluate(moved)
    wall.evaluate("window.dispatchEvent(new Event('beforeprint'))")
    assert all(still.is_visible() for still in stills.all())
    wall.emulate_media(media="screen")


def test_notes_opened_after_the_projector_are_there_to_be_read(wall, workbook):
    if f"{LESSON.address}?projector=1" not in wall.url:
        wall.goto(workbook.base + LESSON.address + "?projector=1")
    expect(wall.locator("html.projector")).to_have_count(1)
    wall.goto(workbook.base + LESSON.address + "?notes=1")
    expect(wall.locator("html.projector")).to_have_count(0)
    expect(wall.get_by_text("Trainer: before the first press")).to_be_visible()


def test_the_trainers_notes_alone_carry_the_cautions(wall, workbook):
    wall.goto(workbook.base + LESSON.address + "?notes=alone")
    wall.wait_for_selector("html[data-live=alive]", timeout=40_000)
    assert wall.locator(".caution-list").is_visible()
    assert not wall.locator(".one-page").first.is_visible()


def test_for_a_reader_a_still_drawing_right_above_its_living_twin_is_gone_and_one_with_words_between_stays(wall, workbook):
    wall.goto(workbook.base + find_sheet("02").address + "?projector=0")
    wall.wait_for_selector("figure.twin", state="attached", timeout=40_000)
    expect(wall.locator("figure.twin")).to_have_count(2)  # the first delivery; the factor before its first step
    assert wall.locator("figure.twin:visible").count() == 0
    others = wall.locator("figure.repeated:not(.twin)")
    assert others.count() and all(one.is_visible() for one in others.all())


@pytest.mark.paper
def test_the_practice_sheet_of_every_size_prints_on_one_page_by_its_own_button(wall, workbook):
    wall.goto(workbook.base + LESSON.address)
    wall.wait_for_selector("html[data-live=alive]", timeout=40_000)
    wall.evaluate("window.print = () => {}")
    folds = wall.locator("details.other-size")
    most = max(range(folds.count()), key=lambda at: folds.nth(at).locator(".write").count())
    folds.nth(most).locator("summary").click()
    folds.nth(most).get_by_role("button", name="Print this sheet").click()
    wall.emulate_media(media="print")
    assert folds.nth(most).locator(".one-page").is_visible() and not wall.locator(".one-page").first.is_visible()
    assert wall.pdf(format="A4").count(b"/Type /Page\n") == 1
    wall.emulate_media(media="screen")
